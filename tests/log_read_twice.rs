//! Two people read one gauge. Expected values: twice the root of two squares of its uncertainty.

mod log_truth;

use log_truth::*;
use proofspan::criteria::RunRecord;
use proofspan::source::read_json;
use proofspan::verdict::State;

fn twice(first: f64, second: f64, gauge: &str) -> String {
    format!(
        r#","read_twice": [{{ "gauge": "{gauge}", "at": "26 h", "first": "{first} mm", "second": "{second} mm",
        "first_by": "test director", "second_by": "inspector" }}]"#
    )
}

fn tried(more: &str) -> proofspan::Judgement {
    let layout = Map::default().layout().unwrap();
    judged(&text(&rows(1.0)), &layout, &record(&format!(r#","held":"24 h"{more}"#))).unwrap()
}

/// u = 0.01 mm: two readings may be 2 √2 · 0.01 = 0.0283 mm apart. Further apart it is not known which is
/// right, and nothing passes; a gauge that the log does not have decides nothing either.
#[test]
fn two_readers_agree_or_nothing_passes() {
    let u = 0.01;
    let may = 2.0 * 2.0_f64.sqrt() * u;
    let fine = tried(&twice(9.9, 9.9 + 0.999 * may, "mid"));
    assert_eq!(states(&fine, "read twice"), (State::Pass, State::Pass));
    assert_eq!(overall(&fine), (State::Pass, State::Pass));
    for apart in [1.001 * may, -1.001 * may] {
        let off = tried(&twice(9.9, 9.9 + apart, "mid"));
        assert_eq!(states(&off, "read twice"), (State::Inconclusive, State::Inconclusive));
        assert_eq!(overall(&off), (State::Inconclusive, State::Inconclusive));
        assert!(noted(&off, "criteria.read-twice"));
        assert!(reason(&off, "read twice").contains("inspector"));
    }
    let unknown = tried(&twice(9.9, 9.9, "another"));
    assert_eq!(overall(&unknown), (State::Inconclusive, State::Inconclusive));
}

/// One person reading twice is one reader.
#[test]
fn one_person_is_not_two() {
    let text = format!(
        r#"{{ "observation": {{ "distress": "none", "by": "inspector", "date": "2026-10-05" }}, "expiry": "2031-10-05"{} }}"#,
        twice(1.0, 1.0, "mid").replace("test director", " Inspector")
    );
    let refused = read_json::<RunRecord>(&text).unwrap_err();
    assert_eq!(refused.codes(), ["criteria.readers"]);
}
