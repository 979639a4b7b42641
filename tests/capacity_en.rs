//! Predictions by EN 1992-1-1:2004: tendons that slope, and what the reader is told of it.
#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use approx::assert_relative_eq;
use proofspan::beam::{Beam, Load};
use proofspan::capacity::CapacitySpec;
use proofspan::source::read_json;
use proofspan::units::*;
use proofspan::{TestDesign, TestSpec, design};

/// 300 × 600 mm, f_ck 30.
fn capacity(steel: &str) -> String {
    format!(
        r#"{{"sections": {{"section": {{"shape": {{"kind": "rectangle", "width": "300 mm", "height": "600 mm"}},
            "concrete": {{"strength": "30 MPa", "modulus": "30 GPa"}}, {steel}}}}},
            "code": "EN 1992-1-1:2004", "cracking": "EN 1992-1-1:2004"}}"#
    )
}

/// 800 mm² at 1000 MPa, in straight lines to the middle of 6 m.
fn tendon(left: &str, low: &str) -> String {
    format!(
        r#""tendons": {{"area": "800 mm^2", "profile": {{"kind": "draped", "left": "{left}", "low": "{low}", "at": "3 m"}},
            "bond": "grouted", "breaks": "1860 MPa", "yields": "1600 MPa", "modulus": "195 GPa",
            "effective": "1000 MPa"}}"#
    )
}

const BARS: &str = r#""bars": {"area": "800 mm^2", "depth": "400 mm", "yields": "420 MPa"}"#;

/// Expected shear strength 1.5 m from the left end, where every steel lies 400 mm deep.
fn shear(steel: &str) -> f64 {
    let spec: CapacitySpec = read_json(&capacity(steel)).unwrap();
    let beam = Beam::simple(6.0 * M, 1e5 * KN_M2).unwrap();
    let of = |w: f64| beam.response(&[Load::uniform(0.0 * M, 6.0 * M, w * KN_PER_M)]).unwrap();
    let found = spec.along(&of(5.0), &of(20.0)).unwrap();
    let here = found.shear.iter().find(|s| (s.at.to(M) - 1.5).abs() < 1e-6).unwrap();
    here.expected.to(N)
}

/// 6.2.2(1) with k = 1 + √(200/400), ρ = 800/(300 · 400), σ_cp = P/A up to 0.2 f_ck, no partial factor.
#[test]
fn a_tendon_that_relieves_is_left_out_and_one_that_adds_is_counted() {
    let (b, d, fck) = (300.0, 400.0_f64, 30.0_f64);
    let k = 1.0 + (200.0 / d).sqrt();
    let plain = 0.18 * k * f64::cbrt(100.0 * 800.0 / (b * d) * fck) * b * d;
    assert_relative_eq!(shear(BARS), plain, max_relative = 1e-6);
    let sigma = (800e3_f64 / (300.0 * 600.0)).min(0.2 * fck);
    let pressed = plain + 0.15 * sigma * b * d;
    // 300 to 500 mm in 3 m, down to the right under a positive shear: 800 kN / 15 would relieve
    assert_relative_eq!(shear(&tendon("300 mm", "500 mm")), pressed, max_relative = 1e-6);
    let adds = pressed - 800e3 / 15.0;
    assert_relative_eq!(shear(&tendon("500 mm", "300 mm")), adds, max_relative = 1e-6);
}

/// 1200 kN at 500 mm: along the member by 6.2.2(2), (6.4) with f_ctm while bending has not opened the face, the
/// shear at which it does, and (6.2) beyond; both sets.
#[test]
fn an_end_region_that_bending_has_not_cracked() {
    let steel = r#""tendons": {"area": "1200 mm^2", "profile": {"kind": "straight", "depth": "500 mm"}, "bond": "grouted",
        "breaks": "1860 MPa", "yields": "1600 MPa", "modulus": "195 GPa", "effective": "1000 MPa"}"#;
    let text = capacity(steel).replacen(
        r#""code":"#,
        r#""reductions": {"concrete": 1.5, "steel": 1.15}, "code":"#,
        1,
    );
    let spec: CapacitySpec = read_json(&text).unwrap();
    let beam = Beam::simple(6.0 * M, 1e5 * KN_M2).unwrap();
    let of = |w: f64| beam.response(&[Load::uniform(0.0 * M, 6.0 * M, w * KN_PER_M)]).unwrap();
    let found = spec.along(&of(5.0), &of(20.0)).unwrap();
    let (fck, b, h, d, p, w) =
        (30.0_f64, 300.0_f64, 600.0_f64, 500.0_f64, 1200e3_f64, 300.0 * 600.0 * 100.0);
    let fctm = 0.30 * fck.powf(2.0 / 3.0);
    let hand = |x: f64, tension: f64, gamma: f64| {
        // I b/S of a rectangle is 2 b h/3
        let sigma = p / (b * h);
        let whole = 2.0 / 3.0 * b * h * (tension * (tension + sigma)).sqrt();
        let k = 1.0 + f64::sqrt(200.0 / d);
        let rho = 1200.0 / (b * d);
        let cracked = (0.18 / gamma * k * f64::cbrt(100.0 * rho * fck)
            + 0.15 * sigma.min(0.2 * fck / gamma))
            * b
            * d;
        let least =
            (0.035 * k.powf(1.5) * fck.sqrt() + 0.15 * sigma.min(0.2 * fck / gamma)) * b * d;
        let cracked = cracked.max(least);
        let opens = w * (tension + sigma) + p * 200.0;
        let (m, v) = (x * (6000.0 - x) / 2.0, (3000.0 - x).abs());
        let share = (opens - 5.0 * m) / (20.0 * m);
        let at_opening = 5.0 * v + share * 20.0 * v;
        if whole <= at_opening {
            (whole, 0)
        } else if at_opening > cracked {
            (at_opening, 1)
        } else {
            (cracked, 2)
        }
    };
    let mut seen = [0; 3];
    for one in &found.shear {
        let x = one.at.to(MM);
        if (x - 3000.0).abs() < 1.0 {
            continue;
        }
        let (want, which) = hand(x, fctm, 1.0);
        assert_relative_eq!(one.expected.to(N), want, max_relative = 1e-6);
        let (want, _) = hand(x, 0.7 * fctm / 1.5, 1.5);
        assert_relative_eq!(one.design.unwrap().to(N), want, max_relative = 1e-6);
        seen[which] += 1;
    }
    assert!(seen.iter().all(|n| *n > 0), "{seen:?}");
}

fn designed(steel: &str) -> TestDesign {
    let path = format!("{}/examples/scenarios/gallery_beam.test.json", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    let text = text.replacen('{', &format!("{{ \"capacity\": {}, ", capacity(steel)), 1);
    design(TestSpec::from_json(&text).unwrap()).unwrap()
}

/// What is left out is said where it is, and not where there is no tendon.
#[test]
fn the_reader_is_told_of_it() {
    let told = |d: &TestDesign| {
        let all = d.notes.iter().filter(|n| n.slug.code() == "capacity.assumed");
        all.filter(|n| n.path == "capacity.shear")
            .map(|n| n.message.to_string())
            .collect::<Vec<_>>()
    };
    let sloped = told(&designed(&tendon("300 mm", "500 mm")));
    assert_eq!(sloped.len(), 1);
    assert!(sloped[0].contains("tendons that slope is left out"), "{sloped:?}");
    assert!(told(&designed(BARS)).is_empty());
    let confirm = designed(BARS);
    let unsure = |path: &str| {
        confirm
            .notes
            .iter()
            .any(|n| n.slug.code() == "editions.value-unconfirmed" && n.path == path)
    };
    assert!(unsure("capacity.code"));
}

/// The core of 600 mm reaches 100 mm from the middle: 120 mm below it lies beyond, 90 mm does not.
#[test]
fn a_prestress_beyond_the_core_is_said_in_a_document() {
    let told = |depth: &str| {
        let d = designed(&tendon(depth, depth));
        let all = d.notes.iter().filter(|n| n.slug.code() == "capacity.beyond-core");
        all.map(|n| n.path.to_string()).collect::<Vec<_>>()
    };
    assert_eq!(told("420 mm"), ["capacity.sections.section.tendons"]);
    assert!(told("390 mm").is_empty());
}

/// The strain that a tendon brings is in the working: f_pe/E_p and what the prestress squeezes the concrete
/// beside it, (P/A + P e²/I)/E_c.
#[test]
fn the_strain_of_a_tendon_is_redone_in_the_working() {
    use proofspan::capacity::{Face, FlexureCode, FlexureQuestion, Section, StrengthSet};
    let text = capacity(&tendon("400 mm", "400 mm"));
    let spec: serde_json::Value = serde_json::from_str(&text).unwrap();
    let section: Section = read_json(&spec["sections"]["section"].to_string()).unwrap();
    let cut = section.cut(3.0 * M, 6.0 * M).unwrap();
    let mut working = proofspan::formula::Working::default();
    let question = FlexureQuestion::of(FlexureCode::En);
    let found = cut.flexure(&mut working, Face::Bottom, StrengthSet::Expected, &question).unwrap();
    let (p, area, inertia) = (800e3, 180_000.0, 300.0 * 600.0_f64.powi(3) / 12.0);
    let begins = 1000.0 / 195e3 + (p / area + p * 100.0 * 100.0 / inertia) / 30e3;
    let step = working.steps().find(|s| s.result.0 == "eps_0").unwrap();
    assert_relative_eq!(step.result.1.si, begins, max_relative = 1e-9);
    // plane sections from there
    let tendon = &found.steel[0];
    let c = found.neutral_axis.to(MM);
    let want = begins + found.compressed_strain.si() * (400.0 - c) / c;
    assert_relative_eq!(tendon.strain.si(), want, max_relative = 1e-9);
    assert!(working.recheck().is_empty());
}
