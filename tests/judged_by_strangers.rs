//! Doors that a hostile reader found open: a report of another judgement, a step without a number, a false
//! alarm of the recheck.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::criteria::RunRecord;
use proofspan::readings::{LogSpec, read_csv_text};
use proofspan::source::read_json;
use proofspan::{Judgement, TestDesign, TestSpec, design, judge, report};
use serde_json::{Value, json};

fn shipped(name: &str) -> String {
    let path = format!("{}/examples/scenarios/{name}", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).unwrap()
}

fn tested(name: &str, change: impl Fn(&mut Value)) -> TestDesign {
    let mut document: Value = serde_json::from_str(&shipped(&format!("{name}.test.json"))).unwrap();
    change(&mut document);
    design(TestSpec::from_json(&document.to_string()).unwrap()).unwrap()
}

fn judged(design: &TestDesign, name: &str) -> Judgement {
    let columns: LogSpec = read_json(&shipped(&format!("{name}.log.json"))).unwrap();
    let record: RunRecord = read_json(&shipped(&format!("{name}.record.json"))).unwrap();
    let log = read_csv_text(&shipped(&format!("{name}.log.csv")), &columns).unwrap();
    judge(design, &log, &columns, &record).unwrap()
}

/// What was judged of one test is not signed under another: not of another document, not of the same one
/// with another span, not where the test was designed elsewhere.
#[test]
fn a_report_takes_its_own_judgement_only() {
    let gallery = tested("gallery_beam", |_| {});
    let own = judged(&gallery, "gallery_beam");
    assert!(report::html(&gallery, Some(&own)).is_ok());
    let other = judged(&tested("classroom_strip", |_| {}), "classroom_strip");
    let changed = tested("gallery_beam", |d| d["scope"]["question"] = json!("another question"));
    let mut elsewhere = own.clone();
    elsewhere.evidence.design = None;
    for (design, judgement) in [(&gallery, &other), (&changed, &own), (&gallery, &elsewhere)] {
        for error in [
            report::html(design, Some(judgement)).unwrap_err(),
            report::markdown(design, Some(judgement)).unwrap_err(),
        ] {
            assert_eq!(error.codes(), ["report.other-test"]);
        }
    }
}

/// The best place of a counterweight is a bearing: no line divides by the lever of nothing that the far
/// bearing has there.
#[test]
fn no_line_of_the_working_is_without_a_number() {
    for rain in ["18 psf", "20 psf", "12 psf"] {
        let design = tested("terrace_strip", |d| d["loads"]["actions"][3]["area"] = json!(rain));
        assert!(!report::markdown(&design, None).unwrap().contains("no number"), "{rain}");
        assert!(design.working().unwrap().recheck().is_empty(), "{rain}");
    }
}

/// Between two equal contacts the shear is zero but for rounding, of either sign: that is the answer.
#[test]
fn a_zero_shear_is_not_a_false_alarm() {
    for to in ["4.158 m", "4.2 m", "4.21 m", "4.17 m", "4.3 m"] {
        let design = tested("gallery_beam", |d| d["scope"]["doubt"]["to"] = json!(to));
        let found: Vec<String> =
            design.working().unwrap().recheck().iter().map(|m| m.what.clone()).collect();
        assert!(found.is_empty(), "{to}: {found:?}");
    }
}
