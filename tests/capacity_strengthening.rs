//! Wraps, added bars and strips, and the member without them, against hand calculations.
#![allow(clippy::unwrap_used, clippy::float_cmp, reason = "tests")]

use proofspan::capacity::strengthening::{
    AddedStirrups, BondedStrip, Case, Form, Likely, ReducedMoment, ReducedRule, ReducedShear,
    WrapScheme, WrapShear, after_test, exercised,
};
use proofspan::source::Write;
use proofspan::source::{Given, read_json, rule::Rule, write_json};
use proofspan::units::*;
use proofspan::verdict::State;

fn given<Q: Quantified, R: Rule>(value: Q) -> Given<Q, R> {
    Given::new(value).unwrap()
}

/// Digits that agree are printed.
fn agrees(what: &str, found: f64, wanted: f64, tolerance: f64) {
    let off = (found / wanted - 1.0).abs();
    println!("{what}: {found} against {wanted}, {:.1} digits", -off.max(1e-16).log10());
    assert!(off <= tolerance, "{what}: {found} against {wanted}");
}

fn us() -> WrapShear {
    WrapShear::of(WrapScheme::U, 3000.0 * PSI, 16.0 * IN, (0.0065 * IN, 33e6 * PSI, 0.015865))
        .strips(10.0 * IN, 12.0 * IN)
}

fn codes(wraps: &WrapShear) -> Vec<&'static str> {
    wraps.check().map_or_else(|e| e.codes(), |_| Vec::new())
}

/// The published example of the guide rounds to L_e 2.0 in, κ_v 0.193, V_f 17.7 kip.
#[test]
fn strips_in_pounds_and_inches() {
    let found = us().check().unwrap();
    agrees("L_e", found.bond_length.unwrap().to(IN), 2.021_679, 1e-6);
    agrees("κ_v", found.bond_reduction.unwrap(), 0.196_367, 1e-5);
    agrees("ε_fe", found.strain.si(), 0.003_115_36, 1e-5);
    agrees("V_f", found.expected.to(KIP), 17.819_88, 1e-6);
    agrees("V_f as published", found.expected.to(KIP), 17.7, 0.01);
    // a second way: everything in one line
    let le = 2500.0 / (0.0065_f64 * 33e6).powf(0.58);
    let kv = (0.75_f64).powf(2.0 / 3.0) * (1.0 - le / 16.0) * le / (468.0 * 0.015865);
    let vf = 2.0 * 0.0065 * 10.0 * 33e6 * kv * 0.015865 * 16.0 / 12.0;
    agrees("V_f in one line", found.expected.to(LBF), vf, 1e-12);
    assert_eq!((found.factor, found.design), (0.85, None));
    assert_eq!(found.working().recheck(), []);
}

#[test]
fn the_same_in_newtons_and_a_sheet() {
    let metric = WrapShear {
        form: Form::Si,
        ..WrapShear::of(
            WrapScheme::U,
            20.7 * MPA,
            406.0 * MM,
            (0.165 * MM, 227_600.0 * MPA, 0.015865),
        )
        .strips(254.0 * MM, 305.0 * MM)
    };
    let found = metric.check().unwrap();
    agrees("L_e", found.bond_length.unwrap().to(MM), 51.767_28, 1e-6);
    agrees("V_f", found.expected.to(KN), 80.739_89, 1e-6);
    // 1.9 % above the other form
    agrees("two forms", found.expected.to(KN), 79.266 * 1.019, 1e-3);
    let sheet = WrapShear {
        form: Form::Si,
        ..WrapShear::of(
            WrapScheme::U,
            30.0 * MPA,
            450.0 * MM,
            (0.30 * MM, 230_000.0 * MPA, 0.012825),
        )
    };
    agrees("sheet", sheet.check().unwrap().expected.to(KN), 187.182_63, 1e-7);
}

/// f'c 6000 psi, 0.04 in, 33e6 psi, 20 in deep, 4 in every 8 in, 0.95 · 0.0151: per web and on two webs.
#[test]
fn legs_are_counted_by_webs() {
    let one = WrapShear::of(
        WrapScheme::U,
        6000.0 * PSI,
        20.0 * IN,
        (0.04 * IN, 33e6 * PSI, 0.95 * 0.0151),
    )
    .strips(4.0 * IN, 8.0 * IN);
    let found = one.check().unwrap();
    agrees("κ_v", found.bond_reduction.unwrap(), 0.132_702, 1e-5);
    agrees("one web", found.expected.to(LBF), 50_255.18, 1e-6);
    let two = WrapShear { webs: 2, ..one }.check().unwrap();
    agrees("two webs", two.expected.to(LBF), 100_510.35, 1e-6);
}

/// Two sides lose the bond at both ends; a complete wrap reaches 0.75 of its strain, up to 0.004.
#[test]
fn the_other_schemes() {
    let two = WrapShear { scheme: WrapScheme::TwoSided, ..us() }.check().unwrap();
    let u = us().check().unwrap();
    let le = 2500.0 / (0.0065_f64 * 33e6).powf(0.58);
    agrees("two sides", two.expected / u.expected, (16.0 - 2.0 * le) / (16.0 - le), 1e-12);
    let complete = WrapShear { scheme: WrapScheme::Complete, ..us() }.check().unwrap();
    agrees("complete", complete.strain.si(), 0.004, 1e-12);
    assert_eq!((complete.factor, complete.bond_reduction), (0.95, None));
    let brittle = WrapShear {
        ultimate_strain: given(Strain::from_si(0.004)),
        ..WrapShear { scheme: WrapScheme::Complete, ..us() }
    };
    agrees("0.75", brittle.check().unwrap().strain.si(), 0.003, 1e-12);
    // an anchored U whose tests showed more than 0.004 counts with that
    let anchored = WrapShear { anchored_strain: Some(given(Strain::from_si(0.006))), ..us() };
    agrees("anchored", anchored.check().unwrap().strain.si(), 0.004, 1e-12);
    // fibres at 45° across the cracks: √2
    let slanted = WrapShear { angle: given(45.0 * DEG), ..us() }.check().unwrap();
    agrees("45°", slanted.expected / u.expected, 2_f64.sqrt(), 1e-12);
}

#[test]
fn wraps_that_cannot_work_are_refused_together() {
    let bad = WrapShear {
        depth: given(2.0 * IN),
        angle: given(135.0 * DEG),
        spacing: given(9.0 * IN),
        test: Some(given(10.0 * KIP)),
        stirrups: given(10.0 * KIP),
        ..us()
    };
    assert_eq!(
        codes(&bad),
        [
            "capacity.wrap-overlap",
            "capacity.wrap-angle",
            "capacity.wrap-depth",
            "source.field-missing",
            "source.field-missing"
        ]
    );
    assert_eq!(codes(&WrapShear { angle: given(121.0 * DEG), ..us() }), ["capacity.wrap-angle"]);
    assert!(codes(&WrapShear { angle: given(119.0 * DEG), ..us() }).is_empty());
    // 4 in hold the bond of a U, not of two sides: 2 · 2.02 in
    assert!(codes(&WrapShear { depth: given(4.0 * IN), ..us() }).is_empty());
    let two = WrapShear { scheme: WrapScheme::TwoSided, depth: given(4.0 * IN), ..us() };
    assert_eq!(codes(&two), ["capacity.wrap-depth"]);
    let psi =
        WrapShear::of(WrapScheme::U, 6.0 * PSI, 16.0 * IN, (0.0065 * IN, 33e6 * PSI, 0.015865));
    assert_eq!(codes(&psi), ["capacity.magnitude-fc"]);
}

/// φ(V_c + V_s + ψ_f V_f), with V_s + V_f up to 8 √f'c b d.
#[test]
fn the_strength_with_wraps() {
    let whole = WrapShear {
        concrete: Some(given(20.0 * KIP)),
        stirrups: given(30.0 * KIP),
        web_width: Some(given(12.0 * IN)),
        member_depth: Some(given(18.0 * IN)),
        phi: Some(given(Ratio::from_si(0.75))),
        ..us()
    };
    let found = whole.check().unwrap();
    agrees("design", found.design.unwrap().to(KIP), 0.75 * (50.0 + 0.85 * 17.819_88), 1e-6);
    agrees("expected", found.strength.unwrap().to(KIP), 50.0 + 17.819_88, 1e-6);
    // 8 √3000 · 216 lbf = 94.65 kip, less 90 kip of stirrups
    let full = WrapShear { stirrups: given(90.0 * KIP), ..whole.clone() }.check().unwrap();
    agrees("cap", full.specified.to(KIP), 8.0 * 3000_f64.sqrt() * 0.216 - 90.0, 1e-9);
    assert!(full.notes.iter().any(|n| n.slug.code() == "capacity.capped"));
    // no wraps left: nothing is added, never less than nothing
    let over = WrapShear { stirrups: given(100.0 * KIP), ..whole }.check().unwrap();
    assert_eq!(over.specified, Force::ZERO);
}

/// The terrace: 27 162 lbf at 6 ft against V_ci 42 693 and V_cw 91 796: 0.636, unlikely.
#[test]
fn a_test_below_cracking_hardly_strains_the_wraps() {
    let cracks = [42_693.10 * LBF, 91_796.0 * LBF];
    let at = |test: f64| exercised(test * LBF, cracks, Ratio::from_si(0.15)).unwrap();
    let found = at(27_162.37);
    assert_eq!(found.likely, Likely::Unlikely);
    agrees("ratio", found.ratio, 0.636_224, 1e-6);
    assert_eq!(at(42_693.10).likely, Likely::Open);
    assert_eq!(at(36_000.0).likely, Likely::Unlikely);
    assert_eq!(at(50_000.0).likely, Likely::Likely);
    assert_eq!(exercised(1.0 * KIP, [], Ratio::from_si(0.15)), None);
    assert!(Likely::WORDS.iter().all(|w| *w != "yes"), "never a bare yes");
    let asked = WrapShear {
        test: Some(given(27_162.37 * LBF)),
        flexure_shear: Some(given(cracks[0])),
        web_shear: Some(given(cracks[1])),
        ..us()
    };
    let answer = asked.check().unwrap();
    assert_eq!(answer.exercised.unwrap().likely.word(), "unlikely, not excluded");
    assert!(answer.notes.iter().any(|n| n.slug.code() == "capacity.wraps-idle"));
}

/// 0.4 in² every 10 in at 50 ksi over 20 in: 0.4 · 50 · 2.
#[test]
fn added_stirrups_by_equilibrium() {
    let found = AddedStirrups::of(0.4 * IN2, 10.0 * IN, 50.0 * KSI, 20.0 * IN).check().unwrap();
    agrees("V", found.shear.to(KIP), 40.0, 1e-12);
    assert_eq!(found.working().recheck(), []);
}

/// ε_cu 0.003, d_f 500 mm, c 100 mm: 0.012, less 0.0005 installed; debonding at 0.007 governs; 100 mm² of
/// 150 GPa: 105 kN on 460 mm.
#[test]
fn a_strip_by_plane_sections() {
    let strip = BondedStrip {
        area: given(100.0 * MM2),
        modulus: given(150_000.0 * MPA),
        depth: given(500.0 * MM),
        debonding_strain: given(Strain::from_si(0.007)),
        installed_strain: given(Strain::from_si(0.0005)),
        crushing_strain: given(Strain::from_si(0.003)),
        neutral_axis: given(100.0 * MM),
        compression: given(40.0 * MM),
    };
    let found = strip.check().unwrap();
    assert!(found.debonds);
    agrees("T", found.force.to(KN), 105.0, 1e-12);
    agrees("M", found.moment.to(KN_M), 105.0 * 0.46, 1e-12);
    let early = BondedStrip { debonding_strain: given(Strain::from_si(0.02)), ..strip.clone() };
    agrees("crushing first", early.check().unwrap().strain.si(), 0.012 - 0.0005, 1e-12);
    // bonded under so much strain that nothing is left
    let late = BondedStrip { installed_strain: given(Strain::from_si(0.02)), ..strip.clone() };
    assert_eq!(late.check().unwrap().force, Force::ZERO);
    let crossed = BondedStrip { neutral_axis: given(600.0 * MM), ..strip };
    assert_eq!(crossed.check().unwrap_err().codes(), ["capacity.shape"]);
}

fn all() -> Vec<ReducedRule> {
    ReducedRule::ALL.to_vec()
}

/// D = 100, L = 150, S = 20: 1.1 D + 0.75 L = 222.5, 1.2 D + 0.5 L + 0.2 S = 199, 1.1 D + 0.5 L + 0.2 S =
/// 189, D + L = 250, D + 0.5 L = 175.
#[test]
fn every_rule_has_its_own_demand_and_clause() {
    let asked = ReducedShear {
        snow: given(20.0 * KN),
        accidental: Some(given(Force::ZERO)),
        psi: Some(given(Ratio::from_si(0.5))),
        ..ReducedShear::of(&all(), 100.0 * KN, 150.0 * KN).strengths(210.0 * KN, 200.0 * KN)
    };
    let found = asked.check().unwrap();
    let said: Vec<_> = found
        .checks
        .iter()
        .map(|c| ((c.verdict.demand.si / 1e3 * 1e6).round() / 1e6, c.verdict.state, c.case))
        .collect();
    assert_eq!(
        said,
        [
            (222.5, State::Fail, Case::Lost),
            (199.0, State::Pass, Case::Lost),
            (222.5, State::Fail, Case::Lost),
            (250.0, State::Fail, Case::Fire),
            (199.0, State::Pass, Case::Fire),
            (175.0, State::Pass, Case::Fire),
        ]
    );
    let codes: Vec<_> = found.checks.iter().map(|c| c.verdict.slug.code()).collect();
    assert_eq!(codes[0], "capacity.without-strengthening");
    assert_eq!(codes[3], "capacity.in-fire");
    assert_eq!(found.state, State::Fail);
    assert_eq!(found.working().recheck(), []);
    assert_eq!(found.notes.iter().filter(|n| n.slug.code() == "capacity.unconfirmed").count(), 2);
    let sustained = ReducedShear { sustained: true, ..asked };
    agrees("sustained", sustained.check().unwrap().checks[0].verdict.demand.si, 260e3, 1e-12);
}

/// The terrace at x = 0: 704 plf on 45 ft, live and rain 12 281.481 lbf: 26 635.111 and in fire 28 121.481 lbf.
#[test]
fn the_terrace_without_its_wraps() {
    let rules = [ReducedRule::Aci440, ReducedRule::Fire440];
    let asked = ReducedShear::of(&rules, 15_840.0 * LBF, 331_600.0 / 27.0 * LBF)
        .strengths(27.0 * KIP, 27.0 * KIP);
    let found = asked.check().unwrap();
    agrees("lost", found.checks[0].verdict.demand.si, 239_716.0 / 9.0 * LBF.to_si(1.0), 1e-12);
    agrees("fire", found.checks[1].verdict.demand.si, 759_280.0 / 27.0 * LBF.to_si(1.0), 1e-12);
    assert_eq!(found.checks[0].verdict.state, State::Pass);
    assert_eq!(found.checks[1].verdict.state, State::Fail);
}

/// A test that was passed makes nothing good that fails without the strengthening.
#[test]
fn a_passed_test_never_overwrites_a_failed_check() {
    let check = |strength: f64| {
        let one = ReducedMoment::of(&[ReducedRule::Aci440], 100.0 * KN_M, 100.0 * KN_M);
        one.strengths(strength * KN_M, 1.0 * KN_M).check().unwrap()
    };
    let (fails, holds) = (check(184.9), check(185.1));
    assert_eq!(fails.after_test(State::Pass), State::Fail);
    assert_eq!(holds.after_test(State::Pass), State::Pass);
    assert_eq!(holds.after_test(State::Inconclusive), State::Inconclusive);
    assert_eq!(holds.after_test(State::Fail), State::Fail);
    assert_eq!(after_test(State::Waived, &holds.checks), State::Waived);
    assert_eq!(after_test(State::Inconclusive, &fails.checks), State::Fail);
}

#[test]
fn what_a_rule_needs_is_asked_for_by_name() {
    let refused = ReducedShear::of(&all(), 1.0 * KN, 1.0 * KN).check().unwrap_err();
    let paths: Vec<_> = refused.issues.iter().map(|i| i.path.as_str()).collect();
    assert_eq!(paths, ["strength", "hot_strength", "accidental", "psi"]);
    assert!(refused.issues.iter().all(|i| i.slug.code() == "source.field-missing"));
}

/// What is asked is written and read again.
#[test]
fn a_question_survives_its_text() {
    let asked = us();
    assert_eq!(read_json::<WrapShear>(&write_json(&asked.write())).unwrap(), asked);
}
