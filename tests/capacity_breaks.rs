//! Members whose steel does not carry what the concrete did: they fail as they crack, and nothing of them
//! bends by metres.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use approx::assert_relative_eq;
use proofspan::capacity::{Deflecting, Face, FailsByCracking};
use proofspan::source::read_json;
use proofspan::{TestDesign, TestSpec, design};

/// 0.62 √30 b h²/6 of 300 × 600 mm.
fn cracking() -> f64 {
    0.62 * 30.0_f64.sqrt() * 1e6 * 0.3 * 0.36 / 6.0
}

/// 6 m of 300 × 600 mm, 5 kN/m in place, 80 kN in the middle.
fn deflecting(bars: &str, in_place: &str) -> Deflecting {
    read_json(&format!(
        r#"{{"span": "6 m", "section": {{"shape": {{"kind": "rectangle", "width": "300 mm", "height": "600 mm"}},
            "concrete": {{"strength": "30 MPa", "modulus": "25 GPa"}}{bars}}},
            "cracking": "ACI 318-19, MPa", "in_place": "{in_place}", "forces": {{"at": "3 m", "force": "80 kN"}}}}"#
    ))
    .unwrap()
}

const NONE: &str = "";
const UPPER: &str = r#", "bars": {"area": "500 mm^2", "depth": "50 mm", "yields": "420 MPa"}"#;
/// At most 100 mm² · 420 MPa · 0.55 m = 23 kN·m against 61.
const FEW: &str = r#", "bars": {"area": "100 mm^2", "depth": "550 mm", "yields": "420 MPa"}"#;
const ENOUGH: &str = r#", "bars": {"area": "1500 mm^2", "depth": "550 mm", "yields": "420 MPa"}"#;

/// In place 5 · 36/8 = 22.5 kN·m, the test 80 · 6/4 = 120: it cracks, and with that fails, at
/// (61.126 − 22.5)/120 of the load. Up to there E I is that of the gross section.
#[test]
fn a_span_that_no_steel_holds_fails_by_cracking() {
    let (before, test) = (22.5e3, 120e3);
    let share = (cracking() - before) / test;
    let quarter = 0.25 * 80e3 * 216.0 / (48.0 * 25e9 * 5.4e-3);
    for bars in [NONE, UPPER, FEW] {
        let found = deflecting(bars, "5 kN/m").predict().unwrap();
        let broken: &FailsByCracking = found.breaks.as_ref().unwrap();
        assert_eq!(broken.state.word(), "fails by cracking");
        assert_eq!(broken.face, Face::Bottom);
        assert_relative_eq!(broken.at.si(), 3.0, max_relative = 1e-9);
        assert_relative_eq!(broken.share, share, max_relative = 1e-8);
        assert_relative_eq!(broken.moment.si(), cracking(), max_relative = 1e-8);
        // nothing is predicted beyond it
        let shares: Vec<f64> = found.steps.iter().map(|s| s.share).collect();
        assert_eq!(shares, [0.25]);
        assert_relative_eq!(found.steps[0].soft.si(), quarter, max_relative = 1e-9);
        assert!(found.notes.iter().any(|n| n.slug.code() == "capacity.fails-by-cracking"));
    }
    let found = deflecting(ENOUGH, "5 kN/m").predict().unwrap();
    assert_eq!((found.breaks, found.steps.len()), (None, 4));
}

/// 30 kN/m · 36/8 = 135 kN·m in place are more than 61: it cannot stand as described.
#[test]
fn one_that_what_is_in_place_breaks_has_no_course() {
    let found = deflecting(UPPER, "30 kN/m").predict().unwrap();
    let broken = found.breaks.unwrap();
    assert_eq!(broken.state.word(), "fails by cracking under what is in place");
    assert!((broken.share, found.steps.len()) == (0.0, 0), "{}", broken.share);
}

/// Moments of the in-place load and the test on the gallery beam: 9 m, D 18.6 kN/m; two forces at 3.5 m
/// that bring 19.56 · 81/8 kN·m over the middle.
fn gallery(bars: &str, stiffness: &str) -> TestDesign {
    let capacity = format!(
        r#"{{"sections": {{"section": {{"shape": {{"kind": "rectangle", "width": "600 mm", "height": "1000 mm"}},
            "concrete": {{"strength": "30 MPa", "modulus": "27 GPa"}}{bars}}}}},
            "code": "ACI 318-19", "cracking": "ACI 318-19, MPa", "stiffness": "{stiffness}"}}"#
    );
    let path = format!("{}/examples/scenarios/gallery_beam.test.json", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    let text = text.replacen('{', &format!("{{ \"capacity\": {capacity}, "), 1);
    design(TestSpec::from_json(&text).unwrap()).unwrap()
}

/// 339.6 kN·m of cracking are reached at (339.6 − 188.3)/198.0 of the test load. Gap, stroke and schedule
/// count with the member as it is up to there: uncracked.
#[test]
fn a_design_never_counts_with_a_broken_section() {
    let cracking = 0.62 * 30.0_f64.sqrt() * 1e6 * 0.1;
    let (l, a) = (9.0_f64, 3.5_f64);
    let test = 19.56e3 * 81.0 / 8.0;
    let share = (cracking - 18.6e3 * 81.0 / 8.0) / test;
    let way = test / a * a * (3.0 * l * l - 4.0 * a * a) / (24.0 * 27e9 * 0.05);
    for bars in [NONE, UPPER] {
        for stiffness in ["sections", "document"] {
            let d = gallery(bars, stiffness);
            let found = d.predicted.as_ref().unwrap().stiffness.as_ref().unwrap();
            let broken = found.breaks.as_ref().unwrap();
            assert_relative_eq!(broken.share, share, max_relative = 1e-6);
            assert_relative_eq!(broken.at.si(), 4.5, max_relative = 1e-6);
            assert!(found.steps.iter().all(|s| s.share < share && s.soft.si() < way));
            let told = d.notes.iter().filter(|n| n.slug.code() == "capacity.fails-by-cracking");
            assert_eq!(told.count(), 1);
            let page = proofspan::report::html(&d, None).unwrap();
            assert!(page.contains("fails by cracking"));
        }
        let d = gallery(bars, "sections");
        let (soft, _) = d.largest_deflections();
        assert_relative_eq!(soft.si(), way, max_relative = 1e-6);
        assert_relative_eq!(d.stiffness_ratio, 1.0, max_relative = 1e-6);
    }
}
