//! Rules between the parts of a test and the member: gauges, reaction member, catch, log, dates.
//! Expected values: the rule beside each, closed forms of a simple span.

use proofspan::criteria::RunRecord;
use proofspan::readings::{LogSpec, read_csv_text};
use proofspan::source::{Given, read_json};
use proofspan::units::*;
use proofspan::{TestDesign, TestSpec, design, judge};
use serde_json::{Value, json};

fn scenario(name: &str) -> String {
    std::fs::read_to_string(format!("examples/scenarios/{name}")).unwrap()
}

/// The gallery beam with other values at some places of its document.
fn with(changes: &[(&str, Value)]) -> TestSpec {
    let mut json: Value = serde_json::from_str(&scenario("gallery_beam.test.json")).unwrap();
    for (path, value) in changes {
        let (parent, field) = path.rsplit_once('/').unwrap();
        json.pointer_mut(parent).unwrap()[field] = value.clone();
    }
    TestSpec::from_json(&json.to_string()).unwrap()
}

/// The same beam with 1 m of overhang at its left: every place counts from its left end and moves by
/// 1 m; the reaction member has no place of its own and stands under the first bearing.
fn overhung(more: &[(&str, Value)]) -> TestSpec {
    let mut changes = vec![
        ("/beam/kind", json!("overhanging")),
        ("/beam/left_overhang", json!("1 m")),
        ("/loads/patterns", json!(false)),
        ("/scope/doubt/from", json!("4.6 m")),
        ("/scope/doubt/to", json!("6.4 m")),
        ("/layout/carrier/contacts", json!(["4.5 m", "6.5 m"])),
        ("/shoring/catch/0/at", json!("4.2 m")),
        ("/shoring/catch/1/at", json!("6.8 m")),
        ("/rig/reaction/at", json!(null)),
        ("/rig/counterweights/0/at", json!("4.5 m")),
        ("/rig/counterweights/1/at", json!("6.5 m")),
        (
            "/protocol/gauges",
            json!([
                { "id": "bearing", "at": "1 m", "reference": "reaction_member" },
                { "id": "mid", "at": "5.5 m", "reference": "reaction_member" },
                { "id": "mid absolute", "at": "5.5 m" }
            ]),
        ),
    ];
    changes.extend(more.iter().cloned());
    with(&changes)
}

fn codes(spec: TestSpec) -> Vec<&'static str> {
    design(spec).map_or_else(|e| e.codes(), |_| Vec::new())
}

/// Two equal forces P/2 at 3.5 m from each bearing of 9 m: the middle moves by
/// (P/2) a (3 L² − 4 a²) / (24 EI) down; the reaction member of the same EI, pulled up by the one jack
/// in its middle, by P L³ / (48 EI) up.
/// Stiff over soft EI is 31 · 0.0100 / (27 · 0.0045), and one stiffness is used throughout.
#[test]
fn a_gauge_counts_from_the_left_end_and_has_one_stiffness() {
    let design = design(overhung(&[])).unwrap();
    let full = design.schedule().unwrap().steps.last().unwrap();
    let reading = |i: usize| (full.readings[i].soft.si(), full.readings[i].stiff.si());
    let (l, a, p) = (9.0, 3.5, design.force().0.si());
    let middle = p / 2.0 * a * (3.0 * l * l - 4.0 * a * a) / (24.0 * 27e9 * 0.0045);
    // the one jack of the spreader lifts the reaction member in its middle
    let rise = p * l * l * l / (48.0 * 27e9 * 0.0045);
    let ratio = 31.0 * 0.01 / (27.0 * 0.0045);
    let near = |a: f64, b: f64| (a - b).abs() < 1e-9 * middle;
    assert!(near(reading(0).0, 0.0) && near(reading(0).1, 0.0), "the bearing: {:?}", reading(0));
    assert!(near(reading(1).0, middle + rise), "{:?} {middle}", reading(1));
    assert!(near(reading(1).1, (middle + rise) / ratio), "{:?} {}", reading(1), middle / ratio);
    assert!(near(reading(2).0, middle) && near(reading(2).1, middle / ratio));
}

/// Under the first bearing stands that of the reaction member: the jack at 5.5 m of the member stands
/// in the middle of the reaction member, and both bearings of it lift alike.
#[test]
fn the_reaction_member_lies_under_the_bearings() {
    let design = design(overhung(&[])).unwrap();
    let [left, right] = &design.rig.bearings[..] else { panic!() };
    assert!((left.uplift / right.uplift - 1.0).abs() < 1e-9);
    assert!((left.uplift.si() - design.force().0.si() / 2.0).abs() < 1e-6 * left.uplift.si());
    // the jack of a spreader at 0.5 and 5.5 m stands at 3 m: left of 3.5 m it has nothing under it
    let spreader = json!(["0.5 m", "5.5 m"]);
    let found = codes(overhung(&[
        ("/layout/carrier/contacts", spreader),
        ("/rig/reaction/at", json!("3.5 m")),
    ]));
    assert_eq!(found, ["rig.reaction-short"]);
}

#[test]
fn gauges_and_catch_stand_on_the_member() {
    let gauge = |at: &str, reference: &str| {
        let list = json!([{ "id": "g", "at": at, "reference": reference }]);
        codes(overhung(&[("/protocol/gauges", list)]))
    };
    assert!(gauge("0 m", "absolute").is_empty() && gauge("10 m", "absolute").is_empty());
    assert_eq!(gauge("10.01 m", "absolute"), ["protocol.gauge-outside"]);
    let left = read_json::<proofspan::protocol::Gauge>(r#"{ "id": "g", "at": "-0.01 m" }"#);
    assert_eq!(left.unwrap_err().codes(), ["protocol.gauge-outside"]);
    // the reaction member is 9 m long and begins at 1 m
    assert!(gauge("1 m", "reaction_member").is_empty());
    assert_eq!(gauge("0.5 m", "reaction_member"), ["protocol.gauge-outside"]);
    assert_eq!(
        codes(overhung(&[("/shoring/catch/0/at", json!("10.01 m"))])),
        ["shoring.catch-outside"]
    );
}

/// What a document refuses cannot be held in a description built in code either.
#[test]
fn holds_and_gaps_below_zero_cannot_be_held() {
    let mut spec = with(&[]);
    let hold = Given::new(Duration::from_si(-3600.0));
    assert_eq!(hold.map(|h| spec.protocol.step_hold = h).unwrap_err().codes(), ["source.negative"]);
    let catch = &mut spec.shoring.catch[0];
    let gap = Given::new(-1.0 * MM).map(|g| catch.gap = g);
    assert_eq!(gap.unwrap_err().codes(), ["shoring.gap-missing"]);
    let unsure = Given::new(-1.0 * MM).map(|u| spec.shoring.reading_uncertainty = u);
    assert_eq!(unsure.unwrap_err().codes(), ["source.negative"]);
    spec.shoring.dragged_along = Ratio::from(0.5);
    spec.rig.jacks[0].number = 0;
    assert_eq!(codes(spec), ["source.sign", "source.below-one"], "all at once");
}

struct Run {
    design: TestDesign,
    layout: Value,
    csv: String,
    record: Value,
}

impl Run {
    fn new() -> Self {
        Self {
            design: design(with(&[])).unwrap(),
            layout: serde_json::from_str(&scenario("gallery_beam.log.json")).unwrap(),
            csv: scenario("gallery_beam.log.csv"),
            record: serde_json::from_str(&scenario("gallery_beam.record.json")).unwrap(),
        }
    }

    fn codes(&self) -> Vec<&'static str> {
        let judged = || {
            let layout: LogSpec = read_json(&self.layout.to_string())?;
            let record: RunRecord = read_json(&self.record.to_string())?;
            judge(&self.design, &read_csv_text(&self.csv, &layout)?, &layout, &record)
        };
        judged().map_or_else(|e| e.codes(), |_| Vec::new())
    }
}

#[test]
fn channels_stand_on_the_member() {
    let mut run = Run::new();
    assert!(run.codes().is_empty());
    run.layout["channels"][1]["at"] = json!("9.1 m");
    assert_eq!(run.codes(), ["readings.place"]);
    run.layout["channels"][3]["at"] = json!("-1 mm");
    assert_eq!(run.codes(), ["readings.place"]);
}

#[test]
fn dates_are_read_and_an_expiry_lies_after_the_test() {
    let mut run = Run::new();
    run.record["expiry"] = json!("2026-06-11");
    assert!(run.codes().is_empty(), "the day of the test itself");
    run.record["expiry"] = json!("2026-06-10");
    assert_eq!(run.codes(), ["criteria.expiry-past"]);
    for (field, text) in [("/expiry", "June 2036"), ("/observation/date", "11.06.2026")] {
        let mut run = Run::new();
        *run.record.pointer_mut(field).unwrap() = json!(text);
        assert_eq!(run.codes(), ["criteria.date"], "{text}");
    }
    let mut run = Run::new();
    run.record["held"] = json!("-1 h");
    assert!(!run.codes().is_empty());
}

/// A log that says its days: the last row counts, as written.
#[test]
fn an_expiry_before_the_last_day_of_the_log_is_refused() {
    let mut run = Run::new();
    run.layout = json!({
        "time": { "column": "t" },
        "channels": [{ "id": "mid", "column": "v", "unit": "mm", "role": "deflection", "at": "4.5 m", "u": 0.02 }],
        "moments": { "zero": { "from": "0 h", "to": "0 h" }, "peak": { "from": "1 h", "to": "1 h" } }
    });
    run.csv = "t,v\n2026-06-11T23:00:00-05:00,0\n2026-06-12T00:00:00-05:00,6\n".to_owned();
    run.record["observation"]["date"] = json!("2026-06-12");
    run.record["expiry"] = json!("2026-06-11");
    assert_eq!(run.codes(), ["criteria.expiry-past"]);
    run.record["expiry"] = json!("2026-06-12");
    // no cell tells what was on: somebody states it
    run.record["stated_by"] = json!("site engineer");
    assert!(run.codes().is_empty(), "{:?}", run.codes());
}

/// A gauge at the far bearing of a span that is a range stands on the member as it is described; the
/// shorter end of the range does not take it away.
#[test]
fn a_range_of_the_span_does_not_take_a_gauge_away() {
    let spec = with(&[
        ("/beam/span", json!({ "value": "9.0 m", "low": "8.99 m", "high": "9.01 m" })),
        ("/rig/reaction/span", json!({ "value": "9.0 m", "low": "8.99 m", "high": "9.01 m" })),
        (
            "/protocol/gauges",
            json!([{ "id": "r", "at": "9 m" }, { "id": "r2", "at": "9 m", "reference": "reaction_member" }]),
        ),
    ]);
    assert!(design(spec).is_ok());
}
