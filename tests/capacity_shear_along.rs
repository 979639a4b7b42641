//! Shear in the document: along the member, beside cracking and flexure, each number by hand.
#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use approx::assert_relative_eq;
use proofspan::capacity::PredictedKind;
use proofspan::capacity::shear::{Governs, ShearEdition};
use proofspan::units::*;
use proofspan::verdict::State;
use proofspan::{TestDesign, TestSpec, design, report};

fn document(capacity: &str) -> String {
    let path = format!("{}/examples/scenarios/terrace_strip.test.json", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    // sections, steel and loads are those of one strip
    let capacity = capacity.replacen(r#""code":"#, r#""unit": "strip", "code":"#, 1);
    text.replacen('{', &format!("{{ \"capacity\": {capacity}, "), 1)
}

/// 12 in by 22 in, bars 6 in² at 20 in, f'c 3000 psi.
fn rectangle(code: &str, cracking: &str, stretch: &str, more: &str) -> String {
    format!(
        r#"{{"sections": {{"section": {{"shape": {{"kind": "rectangle", "width": "12 in", "height": "22 in"}},
            "concrete": "3000 psi", "bars": {{"area": "6 in^2", "depth": "20 in", "yields": "60 ksi"}}}}{stretch}}},
            "code": "{code}", "cracking": "{cracking}"{more}}}"#
    )
}

fn designed(capacity: &str) -> TestDesign {
    design(TestSpec::from_json(&document(capacity)).unwrap()).unwrap()
}

const STIRRUPS: &str = r#", "stirrups": {"area": "0.22 in^2", "spacing": "10 in", "yields": "60 ksi", "minimum": true}"#;

/// Shear at d from the left bearing in place, 704 plf on 45 ft, and that of the jack at 6 ft, whose
/// moment there is 175 646.222 − 704 · 6 · 39/2 lb·ft.
fn hand() -> (f64, f64) {
    let in_place = 704.0 * (22.5 - 20.0 / 12.0);
    (in_place, (175_646.222 - 704.0 * 6.0 * 39.0 / 2.0) / 6.0)
}

#[test]
fn a_us_member_with_and_without_stirrups() {
    let (root, bd, rho) = (3000_f64.sqrt(), 240.0, 6.0 / 240.0_f64);
    let (v0, vt) = hand();
    // at least minimum stirrups: (b) 8 ρ^(1/3) √f'c b d over (a), and A_v f_yt d/s
    let more = r#", "scatter": {"tension": 0.15}, "shear_reduction": 0.75"#;
    let d = designed(&rectangle("ACI 318-19", "ACI 318-19, psi", STIRRUPS, more));
    let found = d.predicted.as_ref().unwrap();
    assert_eq!(found.shear_code, Some(ShearEdition::Aci));
    let first = found.shear_first.as_ref().unwrap();
    let vc = 8.0 * rho.cbrt() * root * bd;
    let vn = vc + 0.22 * 60_000.0 * 20.0 / 10.0;
    assert_eq!((first.governs, first.stirrups, first.strut), (Governs::ExpressionB, true, false));
    assert_relative_eq!(first.at.to(IN), 20.0, max_relative = 1e-6);
    assert_relative_eq!(first.in_place.to(LBF), v0, max_relative = 1e-6);
    assert_relative_eq!(first.total.to(LBF), v0 + vt, max_relative = 1e-6);
    assert_relative_eq!(first.expected.to(LBF), vn, max_relative = 1e-9);
    assert_relative_eq!(first.design.unwrap().to(LBF), 0.75 * vn, max_relative = 1e-9);
    assert_relative_eq!(first.uncertainty.unwrap().to(LBF), 0.15 * vc, max_relative = 1e-9);
    assert_relative_eq!(first.fails_at, (vn - v0) / vt, max_relative = 1e-5);
    // in flexure 360 kip at less than 20 in carry more than the share of shear; the margin is over 2 u
    let failure = found.first_failure.as_ref().unwrap();
    assert!(found.fails_first.as_ref().unwrap().fails_at > first.fails_at);
    assert_eq!((failure.mode, failure.brittle), (PredictedKind::Shear, true));
    assert_relative_eq!(failure.uncertainty.unwrap(), 0.15 * vc / vt, max_relative = 1e-5);
    assert_eq!(failure.stays_away, State::Pass);
    // without: (c) with λ_s = √(2/3), less than what is in place
    let d = designed(&rectangle("ACI 318-19", "ACI 318-19, psi", "", more));
    let found = d.predicted.as_ref().unwrap();
    let first = found.shear_first.as_ref().unwrap();
    let vc = vc * (2.0_f64 / 3.0).sqrt();
    assert_relative_eq!(first.expected.to(LBF), vc, max_relative = 1e-9);
    assert_relative_eq!(first.fails_at, (vc - v0) / vt, max_relative = 1e-5);
    let failure = found.first_failure.as_ref().unwrap();
    assert_eq!((failure.mode, failure.brittle), (PredictedKind::Shear, true));
    assert_relative_eq!(failure.used.unwrap(), (v0 + vt) / vc, max_relative = 1e-6);
    assert_relative_eq!(failure.uncertainty.unwrap(), 0.15 * vc / vt, max_relative = 1e-5);
    // the margin in the test load against twice the scatter
    let margin = (vc - v0) / vt - 1.0;
    let state = if margin < -2.0 * 0.15 * vc / vt { State::Fail } else { State::Inconclusive };
    assert_eq!(failure.stays_away, state);
    let text = report::markdown(&d, None).unwrap();
    assert!(text.contains("The first failure: shear") && text.contains("brittle"), "{text}");
    assert!(text.contains("no stirrups are described"), "{text}");
}

#[test]
fn a_member_by_the_european_edition() {
    let (v0, vt) = hand();
    let more = r#", "reductions": {"concrete": 1.5, "steel": 1.15}"#;
    let d = designed(&rectangle("EN 1992-1-1:2004", "EN 1992-1-1:2004", "", more));
    let found = d.predicted.as_ref().unwrap();
    assert_eq!(found.shear_code, Some(ShearEdition::En2004));
    let first = found.shear_first.as_ref().unwrap();
    // 0.18 k (100 ρ f_ck)^(1/3) b d in MPa and mm, ρ up to 0.02
    let (b, depth, fck) = (304.8, 508.0_f64, 3000.0 * 0.006_894_757_293_168);
    let k = 1.0 + (200.0 / depth).sqrt();
    let v = 0.18 * k * f64::cbrt(2.0 * fck) * b * depth;
    assert_relative_eq!(first.expected.to(N), v, max_relative = 1e-6);
    assert_relative_eq!(first.design.unwrap().to(N), v / 1.5, max_relative = 1e-6);
    let lbf = 4.448_221_615_260_5;
    assert_relative_eq!(first.fails_at, (v / lbf - v0) / vt, max_relative = 1e-5);
    // the scatter is not given: nobody can say that it stays away
    assert_ne!(found.first.as_ref().unwrap().stays_away, State::Pass);
}

/// 100 psi caps the root of f'c above 10 000 psi, 8 √f'c b d the stirrups, 0.02 the ratio of EN 1992-1-1: each is
/// said where it is reached, and not below.
#[test]
fn what_an_edition_caps_is_said_in_a_document() {
    let told = |capacity: &str| {
        let d = designed(capacity);
        let all = d.notes.iter().filter(|n| n.slug.code() == "capacity.capped");
        all.map(|n| {
            assert_eq!(n.path, "capacity.sections");
            n.message.to_string()
        })
        .collect::<Vec<_>>()
    };
    let us = |fc: &str, stirrups: &str| {
        told(&rectangle("ACI 318-19", "ACI 318-19, psi", stirrups, "").replacen("3000 psi", fc, 1))
    };
    assert_eq!(us("9900 psi", STIRRUPS), [""; 0]);
    let root = us("10100 psi", STIRRUPS);
    assert!(root.len() == 1 && root[0].contains("root of the concrete"), "{root:?}");
    // 8 √3000 · 240 = 105.2 kip against A_v 60 ksi · 20/4 in: 0.35 in² at the cap, 0.34 below
    let dense = |area: &str| STIRRUPS.replace("0.22 in^2", area).replace("10 in", "4 in");
    assert_eq!(us("3000 psi", &dense("0.34 in^2")), [""; 0]);
    let steel = us("3000 psi", &dense("0.36 in^2"));
    assert!(steel.len() == 1 && steel[0].contains("stirrups"), "{steel:?}");
    // 6 in² on 240 in²: 0.025
    let en = rectangle("EN 1992-1-1:2004", "EN 1992-1-1:2004", "", "");
    let ratio = told(&en);
    assert!(ratio.len() == 1 && ratio[0].contains("0.02"), "{ratio:?}");
    assert_eq!(told(&en.replacen("6 in^2", "4.7 in^2", 1)), [""; 0]);
}

#[test]
fn stirrups_without_a_word_on_the_minimum_are_refused_at_their_place() {
    let stirrups = STIRRUPS.replace(r#", "minimum": true"#, "");
    let text = document(&rectangle("ACI 318-19", "ACI 318-19, psi", &stirrups, ""));
    let error = design(TestSpec::from_json(&text).unwrap()).unwrap_err();
    assert_eq!(error.codes(), ["capacity.minimum-stirrups"]);
    assert_eq!(error.issues[0].path, "capacity.sections.stirrups.minimum");
}

/// The low end of a range on the concrete decides what comes first, and a state that changes inside the
/// range is Inconclusive.
#[test]
fn a_range_on_a_strength_is_looked_at_on_its_ends() {
    let more = r#", "scatter": {"tension": 0.01}"#;
    let text = rectangle("ACI 318-19", "ACI 318-19, psi", STIRRUPS, more);
    let given = designed(&text).predicted.unwrap();
    let low = designed(&text.replace(r#""3000 psi""#, r#""2500 psi""#)).predicted.unwrap();
    let range = r#"{"specified": {"value": "3000 psi", "low": "2500 psi", "high": "3500 psi"}}"#;
    let ranged =
        designed(&text.replace(
            r#""concrete": "3000 psi""#,
            &format!(r#""concrete": {{"strength": {range}}}"#),
        ));
    let found = ranged.predicted.unwrap();
    let share = |p: &proofspan::capacity::Predicted| p.shear_first.as_ref().unwrap().fails_at;
    assert!(share(&low) < share(&given));
    assert_relative_eq!(share(&found), share(&low), max_relative = 1e-12);
    let bar = text.replace(r#""6 in^2""#, r#"{"value": "6 in^2", "low": "1 in^2"}"#);
    let ranged = designed(&bar);
    let found = ranged.predicted.as_ref().unwrap();
    let few = designed(&text.replace(r#""6 in^2""#, r#""1 in^2""#)).predicted.unwrap();
    let (first, least) = (found.first_failure.as_ref().unwrap(), few.first_failure.unwrap());
    assert_relative_eq!(first.share, least.share, max_relative = 1e-12);
    // 1 in² yields below the test load, 6 in² do not
    assert_eq!(least.stays_away, State::Fail);
    assert_ne!(given.first_failure.unwrap().stays_away, State::Fail);
    assert_eq!(first.stays_away, State::Inconclusive);
    assert!(
        ranged
            .notes
            .iter()
            .any(|n| n.slug.code() == "verdict.range-decides" && n.path.starts_with("capacity"))
    );
}

/// Where bars begin the section beside them is the weak one: 5.9 ft lies between the even places.
#[test]
fn the_place_beside_the_end_of_bars_is_looked_at() {
    let text = rectangle("ACI 318-19", "ACI 318-19, psi", STIRRUPS, "").replace(
        r#""bars": {"area": "6 in^2", "depth": "20 in", "yields": "60 ksi"}"#,
        r#""bars": [{"area": "2 in^2", "depth": "20 in", "yields": "60 ksi"},
            {"area": "5 in^2", "depth": "20 in", "yields": "60 ksi", "from": "5.9 ft"}]"#,
    );
    let found = designed(&text).predicted.unwrap();
    let first = found.fails_first.unwrap();
    assert!((first.at.to(FT) - 5.9).abs() < 1e-3, "{}", first.at.to(FT));
    let a = 120.0 / (0.85 * 3.0 * 12.0);
    let strength = 120.0 * (20.0 - a / 2.0) / 12.0;
    assert_relative_eq!(first.expected.unwrap().to(KIP_FT), strength, max_relative = 1e-9);
}

/// A section of three joists under the load of one.
#[test]
fn a_section_wider_than_what_loads_it_is_told() {
    let text = rectangle("ACI 318-19", "ACI 318-19, psi", "", "");
    let told = |d: &TestDesign| {
        let of = |n: &&proofspan::verdict::Note| n.slug.code() == "capacity.member-unit";
        d.notes.iter().filter(of).any(|n| n.path.ends_with("shape"))
    };
    assert!(!told(&designed(&text)));
    let wide = designed(&text.replace(r#""12 in""#, r#""24 ft""#));
    assert!(told(&wide));
}
