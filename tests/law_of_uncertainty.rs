//! More uncertainty shows less: whatever was open or failed is never passed because a gauge got worse.

use proofspan::criteria::{Facts, Judging, Predicted, RunRecord, judge_criteria};
use proofspan::editions::Edition;
use proofspan::readings::{LogSpec, deflections, read_csv_text};
use proofspan::source::read_json;
use proofspan::units::*;
use proofspan::verdict::{MemberUnit, State};
use proptest::prelude::*;

/// A gauge: largest and residual deflection, u of one reading, in mm.
type Gauge = (f64, f64, f64);

/// Span 6 m, depth 400 mm. Nothing where the readings are refused.
fn judged(edition: &str, gauges: &[Gauge]) -> Option<Judging> {
    let channels: Vec<String> = gauges
        .iter()
        .enumerate()
        .map(|(i, g)| {
            format!(
                r#"{{"id":"g{i}","column":"g{i}","unit":"mm","role":"deflection","at":"3 m","u":{:?}}}"#,
                g.2
            )
        })
        .collect();
    let layout: LogSpec = read_json(&format!(
        r#"{{"time":{{"column":"t","unit":"h"}},"channels":[{}],"moments":{{"zero":{{"from":"0 h","to":"0 h"}},
            "peak":{{"from":"1 h","to":"1 h"}},"residual":{{"from":"2 h","to":"2 h"}}}}}}"#,
        channels.join(",")
    ))
    .unwrap();
    let line = |t: u32, pick: &dyn Fn(&Gauge) -> f64| {
        let values: Vec<String> = gauges.iter().map(|g| format!("{:?}", pick(g))).collect();
        format!("{t},{}\n", values.join(","))
    };
    let names: Vec<String> = (0..gauges.len()).map(|i| format!("g{i}")).collect();
    let csv = format!("t,{}\n", names.join(","))
        + &line(0, &|_| 0.0)
        + &line(1, &|g| g.0)
        + &line(2, &|g| g.1);
    let read = deflections(&read_csv_text(&csv, &layout).unwrap(), &layout).unwrap();
    let facts = Facts { lt: 6.0 * M, l: 6.0 * M, h: 400.0 * MM, unit: MemberUnit::Beam };
    let record: RunRecord = read_json(
        r#"{"observation":{"distress":"none","by":"engineer","date":"2026-01-01"},"expiry":"2030-01-01","held":"24 h"}"#,
    )
    .unwrap();
    let edition = Edition::shipped(edition).unwrap();
    let predicted = Predicted::default();
    judge_criteria(&edition, "monotonic", facts, &read, predicted, &record, Some(true)).ok()
}

fn passes(found: Option<&Judging>) -> bool {
    found.is_some_and(|j| j.guarded.state.counts_as_met())
}

fn residual(gauges: &[Gauge]) -> (State, String) {
    let j = judged("ACI 318-19", gauges).unwrap();
    let c = j.criteria.iter().find(|c| c.id == "residual").unwrap();
    (c.outcome.guarded.state, c.reason.to_string())
}

/// 0.9 of 4 mm stays: the margin to a quarter is 0.1 mm, and U = 2 u √(1 + 1/16 + 9/16) = 2.55 u passes it from
/// u = 0.04 mm on. From u = 4/10.198 = 0.39 mm on not even an elastic member could pass.
#[test]
fn a_gauge_that_is_blunt_because_its_u_is_large_leaves_it_open() {
    let with = |u: f64| residual(&[(10.0, 1.0, 0.01), (4.0, 0.9, u)]);
    assert_eq!(with(0.01).0, State::Pass);
    assert_eq!(with(0.1).0, State::Inconclusive);
    for u in [0.4, 1.0, 100.0] {
        let (state, reason) = with(u);
        assert_eq!(state, State::Inconclusive, "u {u}: {reason}");
        assert!(reason.contains("discriminate"), "{reason}");
    }
}

/// A residual of -1 of 10 mm is drift, or a wrong sign, however coarse the gauge.
#[test]
fn a_residual_far_below_zero_is_open_at_any_u() {
    for u in [0.001, 0.1, 0.3, 0.6, 0.9] {
        assert_eq!(residual(&[(10.0, -1.0, u)]).0, State::Inconclusive, "u {u}");
    }
}

/// Less than a hundredth of the largest shows nothing of the member, however fine the gauge.
#[test]
fn what_hardly_moves_counts_at_no_u() {
    for u in [1e-5, 0.001, 0.02, 1.0] {
        assert_eq!(residual(&[(10.0, 1.0, 0.01), (0.05, 0.03, u)]).0, State::Pass, "u {u}");
    }
    assert_eq!(residual(&[(10.0, 1.0, 0.01), (0.2, 0.19, 0.001)]).0, State::Fail);
}

fn gauge() -> impl Strategy<Value = Gauge> {
    let largest = prop_oneof![0.01..0.5, 0.5..40.0];
    (largest, -0.2..1.2, 0.0001..1.0).prop_map(|(d, part, u)| (d, d * part, u * u))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// The u of one gauge grows, readings and all else stay. A log that is refused is no verdict: a residual above
    /// a largest deflection that a fine gauge resolved is a lost reference, below the noise it is noise.
    #[test]
    fn more_uncertainty_passes_nothing(
        gauges in proptest::collection::vec(gauge(), 1..4),
        which in 0_usize..4,
        edition in prop_oneof![Just("ACI 318-19"), Just("ACI 437.2-13"), Just("IS 456:2000")],
    ) {
        let which = which % gauges.len();
        let mut open: Option<f64> = None;
        for k in -12_i32..=10 {
            let u = 0.02 * 1.6_f64.powi(k);
            let mut own = gauges.clone();
            own[which].2 = u;
            let found = judged(edition, &own);
            if passes(found.as_ref()) {
                prop_assert_eq!(open, None, "{} open before, passed at u = {} mm: {:?}", edition, u, own);
            } else if found.is_some() {
                open = Some(u);
            }
        }
    }

    /// One gauge more never passes what failed or was open without it.
    #[test]
    fn a_second_gauge_hides_nothing(
        gauges in proptest::collection::vec(gauge(), 1..3),
        better in 1.0..3.0,
    ) {
        let before = judged("ACI 437.2-13", &gauges);
        let largest = gauges.iter().map(|g| g.0).fold(0.0, f64::max);
        let mut more = gauges.clone();
        more.push((largest * better, 0.05 * largest, 0.001));
        let after = judged("ACI 437.2-13", &more);
        let fails = |j: &Judging| j.guarded.state == State::Fail;
        // what is less than a hundredth of the new one was more of the old
        let still = gauges.iter().all(|g| g.0 > 0.01 * largest * better);
        let waived = after.as_ref().is_some_and(|j| {
            j.criteria.iter().any(|c| c.outcome.guarded.state == State::Waived)
        });
        if before.as_ref().is_some_and(fails) && still && !waived {
            prop_assert!(after.as_ref().is_none_or(fails), "{:?}", more);
        }
    }
}
