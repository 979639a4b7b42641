//! Rows of criteria that can be redone, and the guard of a waiver. Expected values by hand.

use proofspan::criteria::{Facts, Judged, Judging, Predicted, RunRecord, judge_criteria};
use proofspan::editions::Edition;
use proofspan::readings::{Deflection, LogSpec, deflections, read_csv_text};
use proofspan::source::{Write, read_json};
use proofspan::units::*;
use proofspan::verdict::{MemberUnit, State, Verdict};

/// One gauge with the largest and residual deflection in mm, u of a single reading in mm.
fn gauge(d_max: f64, d_r: Option<f64>, u: f64) -> Vec<Deflection> {
    let residual = if d_r.is_some() { r#","residual":{"from":"2 h","to":"2 h"}"# } else { "" };
    let layout: LogSpec = read_json(&format!(
        r#"{{"time":{{"column":"t","unit":"h"}},"channels":[{{"id":"g","column":"v","unit":"mm","role":"deflection","at":"3 m","u":{u:?}}}],
            "moments":{{"zero":{{"from":"0 h","to":"0 h"}},"peak":{{"from":"1 h","to":"1 h"}}{residual}}}}}"#
    ))
    .unwrap();
    let csv = format!("t,v\n0,0\n1,{d_max:?}\n2,{:?}\n", d_r.unwrap_or(0.0));
    deflections(&read_csv_text(&csv, &layout).unwrap(), &layout).unwrap()
}

/// Span 6 m, depth 400 mm.
fn judged(gauge: &[Deflection], predicted: Predicted) -> Judging {
    let record: RunRecord = read_json(
        r#"{"observation":{"distress":"none","by":"engineer","date":"2026-01-01"},"held":"24 h","expiry":"2030-01-01"}"#,
    )
    .unwrap();
    let facts = Facts { lt: 6.0 * M, l: 6.0 * M, h: 400.0 * MM, unit: MemberUnit::Beam };
    let edition = Edition::shipped("ACI 437.2-13").unwrap();
    judge_criteria(&edition, "monotonic", facts, gauge, predicted, &record, Some(true)).unwrap()
}

fn one<'a>(judging: &'a Judging, id: &str) -> &'a Judged {
    judging.criteria.iter().find(|c| c.id == id).unwrap()
}

/// Value, limit and U of a row in mm.
fn row(v: &Verdict) -> (f64, f64, f64) {
    (v.demand.si * 1e3, v.limit.value().unwrap() * 1e3, v.uncertainty.unwrap() * 1e3)
}

/// d_max <= lt/180 = 33.333 mm. Jacks bend the member 2 mm, the distributed load 10 mm: the guarded
/// row holds 5 times the measured 6.6 mm with 5 times U = 2 u sqrt(2), the code's row the measured
/// one. The state follows from the row: limit less value against U.
#[test]
fn a_scaled_criterion_can_be_redone_from_its_row() {
    let predicted = Predicted { jacks: Some(2.0 * MM), reference: Some(10.0 * MM) };
    let near = |a: (f64, f64, f64), b: (f64, f64, f64)| {
        [a.0 - b.0, a.1 - b.1, a.2 - b.2].iter().all(|d| d.abs() < 1e-9)
    };
    for (d, u, state) in
        [(6.6, 0.01, State::Pass), (6.6, 0.05, State::Inconclusive), (7.0, 0.01, State::Fail)]
    {
        let judging = judged(&gauge(d, Some(0.1), u), predicted);
        let outcome = one(&judging, "deflection").outcome;
        let guard = 2.0 * u * 2.0_f64.sqrt();
        assert!(near(row(&outcome.code), (d, 6000.0 / 180.0, guard)), "{:?}", row(&outcome.code));
        assert!(near(row(&outcome.guarded), (5.0 * d, 6000.0 / 180.0, 5.0 * guard)));
        let (value, limit, big_u) = row(&outcome.guarded);
        let redone = if limit - value >= big_u {
            State::Pass
        } else if limit - value < -big_u {
            State::Fail
        } else {
            State::Inconclusive
        };
        assert_eq!((outcome.code.state, outcome.guarded.state), (State::Pass, state));
        assert_eq!(redone, state);
        assert!((outcome.guarded.utilisation.unwrap() - value / limit).abs() < 1e-12);
        assert!(one(&judging, "deflection").reason.contains("5.0000 times"));
    }
}

/// A waiver holds guarded where the measured value is inside it by more than 2 u sqrt(2), the guard
/// of a difference of two readings, and is open where it is inside by less.
#[test]
fn a_waiver_holds_by_more_than_the_guard_or_is_open() {
    // the place of the waiver, by halving: waived below it, not above
    let waived = |d: f64, u: f64| {
        let judging = judged(&gauge(d, Some(0.9 * d), u), Predicted::default());
        let outcome = one(&judging, "residual").outcome;
        (outcome.code.state, outcome.guarded.state)
    };
    let (mut low, mut high) = (0.1, 10.0);
    assert_eq!(waived(low, 1e-9).0, State::Waived);
    assert_ne!(waived(high, 1e-9).0, State::Waived);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if waived(middle, 1e-9).0 == State::Waived { low = middle } else { high = middle }
    }
    let place = high;
    // the larger of 0.05 in and lt/2000 (edition file, from memory)
    assert!((place - 6000.0 / 2000.0).abs() < 1e-6, "{place}");
    let u = 0.1;
    let guard = 2.0 * u * 2.0_f64.sqrt();
    assert_eq!(waived(place - guard - 1e-3, u), (State::Waived, State::Waived));
    assert_eq!(waived(place - guard + 1e-3, u), (State::Waived, State::Inconclusive));
    assert_eq!(waived(0.5 * place, u), (State::Waived, State::Waived));
}

/// A criterion whose residual was not read has no value: nothing is written where a number would be.
#[test]
fn a_row_without_a_value_writes_none() {
    let judging = judged(&gauge(6.0, None, 0.01), Predicted::default());
    let written = one(&judging, "residual").write();
    assert!(written.get("guarded").unwrap().get("demand").is_none(), "null counts as absent");
}
