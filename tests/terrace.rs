//! The terrace strip, number by number. An invented member: 45 ft simple span, 8 ft wide, three
//! joists; expected values are exact fractions from closed forms of statics (own derivation,
//! checked with finite elements and quadrature when they were written down).

mod terrace_parts;

use proofspan::beam::{Beam, Side};
use proofspan::target::{Asked, Target};
use proofspan::units::*;
use terrace_parts::strip;

fn set_a() -> Target {
    strip("a")
}

fn near(value: f64, exact: f64) -> bool {
    (value - exact).abs() <= 1e-11 * exact.abs()
}

#[test]
fn the_governing_term_differs_by_quantity() {
    let t = set_a();
    let (zero, six, ten, mid) = (0.0 * FT, 6.0 * FT, 10.0 * FT, 22.5 * FT);
    let width = 8.0 * FT;
    let peak = t.total_pressure(zero, Side::Right, width).unwrap();
    assert!(near(peak.value.0.to(PSF), 1126.0 / 5.0) && t.term_name(peak.term) == "a3");
    let beyond = t.total_pressure(ten, Side::Right, width).unwrap();
    assert!(near(beyond.value.0.to(PSF), 163.2) && t.term_name(beyond.term) == "a2");
    let shear = |x, side, exact: f64, term: &str| {
        let v = t.total_shear(x, side).unwrap();
        assert!(
            near(v.value.0.to(LBF), exact) && t.term_name(v.term) == term,
            "{:?} {exact} {term}",
            v.value.0.to(LBF)
        );
    };
    shear(zero, Side::Right, 847_432.0 / 27.0, "a3");
    shear(six, Side::Left, 2_917_504.0 / 135.0, "a2");
    let moment = |x, exact: f64, term: &str| {
        let m = t.total_moment(x).unwrap();
        assert!(
            near(m.value.0.to(LBF_FT), exact) && t.term_name(m.term) == term,
            "{:?} {exact} {term}",
            m.value.0.to(LBF_FT)
        );
    };
    moment(six, 7_097_968.0 / 45.0, "a3");
    moment(mid, 995_440.0 / 3.0, "a2");
}

#[test]
fn net_values_and_what_is_in_place() {
    let t = set_a();
    let (zero, six, mid) = (0.0 * FT, 6.0 * FT, 22.5 * FT);
    assert!(near(t.in_place.line_load(mid, Side::Left).unwrap().to(PLF), 704.0));
    let v0 = t.shear(zero, Side::Right).unwrap();
    assert!(near(v0.value.0.to(LBF), 419_752.0 / 27.0) && v0.term == 2);
    let v6 = t.shear(six, Side::Left).unwrap();
    assert!(near(v6.value.0.to(LBF), 1_349_344.0 / 135.0) && v6.term == 1);
    assert!(near(t.terms[2].net.shear(six, Side::Left).unwrap().to(LBF), 266_824.0 / 27.0));
    let m6 = t.moment(six).unwrap();
    assert!(near(m6.value.0.to(LBF_FT), 3_391_408.0 / 45.0) && m6.term == 2);
    assert!(near(t.terms[1].net.moment(six, Side::Left).unwrap().to(LBF_FT), 3_263_744.0 / 45.0));
    let m_mid = t.moment(mid).unwrap();
    assert!(near(m_mid.value.0.to(LBF_FT), 460_840.0 / 3.0) && m_mid.term == 1);
    // what governs nothing
    assert!(near(t.terms[0].net.line_load(mid, Side::Left).unwrap().to(PLF), 1056.0 / 5.0));
    // net + in place = total, by type
    let there = InPlace(t.in_place.shear(zero, Side::Right).unwrap());
    let total: Total<Force> = v0.value + there;
    assert!(near(total.0.to(LBF), 847_432.0 / 27.0));
    // the right bearing is governed by the live-led term
    let right = t.terms[1].net.reactions()[1].force;
    assert!(near(right.to(LBF), 367_072.0 / 27.0));
}

#[test]
fn crossings_are_exact_roots() {
    let t = set_a();
    let one = |asked, exact: f64| {
        let crossings = t.crossings(asked, LoadBasis::Total);
        let here: Vec<f64> = crossings.iter().map(|c| c.at.to(FT)).collect();
        assert!(
            here.iter().any(|x| (x - exact).abs() < 1e-9),
            "{asked:?}: {here:?}, {exact} is missing"
        );
        let c = crossings.iter().find(|c| (c.at.to(FT) - exact).abs() < 1e-9).unwrap();
        assert_eq!((t.term_name(c.left), t.term_name(c.right)), ("a3", "a2"));
    };
    one(Asked::Intensity, 105.0 / 11.0);
    one(Asked::Shear, (945.0 - 20.0 * 465.0_f64.sqrt()) / 99.0);
    one(Asked::Moment, 440.0 / 27.0);
}

#[test]
fn the_largest_moment_is_not_at_midspan() {
    let t = set_a();
    let (largest, term) = t.largest(Asked::Moment, LoadBasis::Net, 0.0 * FT, 45.0 * FT).unwrap();
    assert!((largest.at.to(FT) - 56_855.0 / 2538.0).abs() < 1e-9 && term == 1);
    assert!((largest.value / (1.0 * LBF_FT).si() - 153_616.252).abs() < 5e-4);
}

#[test]
fn the_lighter_set_changes_the_pattern_of_terms() {
    let t = strip("b");
    let v0 = t.shear(0.0 * FT, Side::Right).unwrap();
    assert!(near(v0.value.0.to(LBF), 372_872.0 / 27.0) && t.term_name(v0.term) == "b3");
    assert!(near(
        t.total_pressure(0.0 * FT, Side::Right, 8.0 * FT).unwrap().value.0.to(PSF),
        209.2
    ));
    let shear: Vec<f64> =
        t.crossings(Asked::Shear, LoadBasis::Total).iter().map(|c| c.at.to(FT)).collect();
    let exact = 10.0 * (1.0 - (2.0_f64 / 27.0).sqrt());
    assert!(
        shear.iter().any(|x| (x - exact).abs() < 1e-9),
        "{shear:?}: it leaves the region, {exact}"
    );
}

/// The working redoes shear and moment from resultants and reactions, apart from the polynomials.
#[test]
fn the_working_is_a_second_way() {
    let t = set_a();
    let working = t.working();
    assert!(working.recheck().is_empty(), "{:?}", working.recheck());
    let text = working.text(System::Us);
    assert!(
        text.contains("V(x) = R_left - W_left = 15546.37 lbf - 0 lbf = 15546.37 lbf"),
        "{text}"
    );
    assert!(text.contains("= 153613.33 lbf·ft"), "{text}");
    let by_hand: Vec<f64> =
        working.steps().filter(|s| s.result.0 == "M(x)").map(|s| s.result.1.si).collect();
    let at_six = t.moment(6.0 * FT).unwrap().value.0.si();
    assert!(by_hand.iter().any(|m| near(*m, at_six)), "{by_hand:?} {at_six}");
}

/// 45 ft and 13.716 m may differ by one unit in the last place; the results agree to 1e-12.
#[test]
fn the_unit_system_of_the_input_does_not_matter() {
    let us = set_a();
    let beam = Beam::simple(13.716 * M, 4.5e8 * LBF_FT2).unwrap();
    let si = us.on(&beam).unwrap();
    let (a, b) = (
        us.shear(0.0 * FT, Side::Right).unwrap().value.0.si(),
        si.shear(0.0 * M, Side::Right).unwrap().value.0.si(),
    );
    assert!((a - b).abs() <= 1e-12 * a, "{a} {b}");
}
