//! Sections in the document: predictions along the member, in design and report.

use approx::assert_relative_eq;
use proofspan::capacity::{Face, FlexureMode};
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

fn section(fc: &str) -> String {
    // three even ribs under a slab; the tendon 2 in to 10 in below the centroid at 7.0793 in; 230 kip
    format!(
        r#"{{"shape": {{"kind": "ribbed", "height": "22 in", "width": "96 in", "slab": "3 in", "ribs": 3, "rib_top": "5.2 in"}},
            "concrete": {{"strength": "{fc}", "modulus": "4000 ksi"}},
            "tendons": {{"area": "1.36 in^2", "bond": "grouted", "breaks": "270 ksi", "yields": "243 ksi", "modulus": "28500 ksi",
                "effective": "169.1176470588235 ksi", "profile": {{"kind": "parabolic", "left": "9.0793 in", "middle": "17.0793 in"}}}}}}"#
    )
}

fn capacity(more: &str) -> String {
    format!(
        r#"{{"sections": [{{"section": {}}}, {{"from": "6 ft", "section": {}}}],
            "code": "ACI 318-19", "cracking": "ACI 318-19, psi"{more}}}"#,
        section("3000 psi"),
        section("5000 psi")
    )
}

fn designed(capacity: &str) -> TestDesign {
    design(TestSpec::from_json(&document(capacity)).unwrap()).unwrap()
}

const LBF_FT: f64 = 4.448_221_615_260_5 * 0.3048;

#[test]
fn the_strip_cracks_first_where_its_concrete_is_weak() {
    let d = designed(&capacity(r#", "scatter": {"tension": 0.15, "prestress": 0.05}"#));
    let found = d.predicted.as_ref().unwrap();
    // the largest moment lies beyond 19 ft, the largest ratio at 6 ft, in the weaker concrete
    let first = found.cracks_first.as_ref().unwrap();
    assert_relative_eq!(first.at.to(FT), 6.0, max_relative = 1e-9);
    assert_relative_eq!(first.total.si() / LBF_FT, 175_646.222, max_relative = 1e-6);
    assert_relative_eq!(
        first.in_place.si() / LBF_FT,
        704.0 * 6.0 * 39.0 / 2.0,
        max_relative = 1e-9
    );
    // A 584.4, c and I of slab and ribs; S (f_r + P/A) + P e, e 1282/225 in
    let (a, c): (f64, f64) = (584.4, (288.0 * 1.5 + 296.4 * 12.5) / 584.4);
    let i = 216.0
        + 288.0 * (c - 1.5).powi(2)
        + 15.6 * 19.0_f64.powi(3) / 12.0
        + 296.4 * (12.5 - c).powi(2);
    let (s, p, e) = (i / (22.0 - c), 230.0, 9.0793 + 8.0 * 4.0 * 6.0 * 39.0 / 2025.0 - c);
    let fr = 7.5 * 3000.0_f64.sqrt() / 1000.0;
    let mcr = (s * (fr + p / a) + p * e) / 12.0 * 1000.0;
    assert_relative_eq!(first.cracking.si() / LBF_FT, mcr, max_relative = 1e-6);
    // 229 kip·ft with the rounded properties of that strip, and a ratio of 0.767
    assert!((mcr / 229_008.0 - 1.0).abs() < 0.01, "{mcr}");
    assert!((first.total / first.cracking - 0.766_989).abs() < 0.008);
    let share = (mcr - 82_368.0) / (175_646.222 - 82_368.0);
    assert_relative_eq!(first.cracks_at, share, max_relative = 1e-5);
    let u = (0.15 * s * fr).hypot(0.05 * (s * p / a + p * e)) / 12.0 * 1000.0;
    assert_relative_eq!(first.uncertainty.unwrap().si() / LBF_FT, u, max_relative = 1e-6);
    assert_eq!(found.stays_uncracked, State::Pass);
    let fails = found.fails_first.as_ref().unwrap();
    assert_eq!((fails.face, fails.mode), (Face::Bottom, Some(FlexureMode::Yielding)));
    assert!(fails.fails_at > first.cracks_at && fails.ductile);
    assert!(found.sections.iter().all(|s| s.design.is_none()));
    // near the bearings the tendon lies above mid-depth, and is the steel in tension all the same
    assert!(found.sections.iter().all(|s| s.expected.is_some()));
    // without the scatter nobody can say that it stays uncracked
    let open = designed(&capacity(""));
    assert_eq!(open.predicted.unwrap().stays_uncracked, State::Inconclusive);
}

#[test]
fn the_report_says_what_is_predicted_or_that_nothing_is() {
    let with = designed(&capacity(r#", "reductions": {"flexure": 0.9}"#));
    let text = report::markdown(&with, None).unwrap();
    assert!(text.contains("no approval") && text.contains("It cracks first at 6.000 ft"), "{text}");
    assert!(text.contains("steel yields, then concrete crushes"));
    let codes: Vec<&str> = with.notes.iter().map(|n| n.slug.code()).collect();
    assert!(codes.contains(&"capacity.mean-unstated"), "{codes:?}");
    let first = with.predicted.as_ref().unwrap().fails_first.clone().unwrap();
    assert!((first.design.unwrap() / first.expected.unwrap() - 0.9).abs() < 1e-9);
    let without = designed("null");
    assert!(without.predicted.is_none());
    let text = report::markdown(&without, None).unwrap();
    assert!(text.contains("Nothing was predicted"));
    // the document comes back as it was
    let spec = TestSpec::from_json(&document(&capacity(""))).unwrap();
    assert_eq!(TestSpec::from_json(&spec.to_json()).unwrap(), spec);
}

#[test]
fn a_weak_member_says_so_and_a_wrong_one_is_refused_at_its_place() {
    let weak = format!(
        r#"{{"sections": {{"section": {{"shape": {{"kind": "rectangle", "width": "12 in", "height": "22 in"}},
            "concrete": "3000 psi", "bars": {{"area": "1 in^2", "depth": "20 in", "yields": "60 ksi"}}}}{}}},
            "code": "ACI 318-19", "cracking": "ACI 318-19, psi"}}"#,
        r#", "cracked": "cracks mapped along the soffit""#
    );
    let d = designed(&weak);
    let codes: Vec<&str> = d.notes.iter().map(|n| n.slug.code()).collect();
    assert!(codes.contains(&"capacity.before-full-load"), "{codes:?}");
    let found = d.predicted.unwrap();
    assert_eq!(found.stays_uncracked, State::Fail);
    // 60 kip (20 − a/2) in, a = 60/(0.85 × 3 × 12)
    let strength = 60.0 * (20.0 - 60.0 / (0.85 * 3.0 * 12.0) / 2.0) / 12.0 * 1000.0;
    let first = found.fails_first.unwrap();
    assert_relative_eq!(first.expected.unwrap().si() / LBF_FT, strength, max_relative = 1e-9);
    let late = capacity("").replace(r#""from": "6 ft""#, r#""from": "60 ft""#);
    let error = TestSpec::from_json(&document(&late)).unwrap_err();
    assert_eq!(error.codes(), ["capacity.place"]);
    assert_eq!(error.issues[0].path, "capacity.sections[1].from");
    let back = capacity("").replace(r#"{"section""#, r#"{"from": "7 ft", "section""#);
    let error = TestSpec::from_json(&document(&back)).unwrap_err();
    assert_eq!(error.codes(), ["capacity.place", "capacity.place"]);
    let topped = capacity("").replacen(
        r#""tendons""#,
        r#""topping": {"width": "96 in", "depth": "2 in", "concrete": "4000 psi"}, "tendons""#,
        1,
    );
    let error = TestSpec::from_json(&document(&topped)).unwrap_err();
    assert_eq!(error.codes(), ["source.field-missing"]);
    let no_modulus = topped.replace(r#""code":"#, r#""before_topping": 1, "code":"#);
    let error = design(TestSpec::from_json(&document(&no_modulus)).unwrap()).unwrap_err();
    assert_eq!(error.codes(), ["capacity.modulus"]);
    assert_eq!(error.issues[0].path, "capacity.sections[0].section.topping.concrete.modulus");
}
