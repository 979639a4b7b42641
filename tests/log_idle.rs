//! A circuit that is not used in a stage has a cell that shows nothing but noise; a hold that is stated wrongly.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::criteria::RunRecord;
use proofspan::readings::{FaultKind, LogSpec, read_csv_text};
use proofspan::source::read_json;
use proofspan::verdict::State;
use proofspan::{Judgement, TestSpec, design, judge};
use serde_json::{Value, json};

fn shipped(name: &str) -> String {
    let path = format!("{}/examples/scenarios/{name}", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).unwrap()
}

/// The gallery beam with one more column, the cell of a circuit that stays shut.
fn with_idle(idle: impl Fn(usize) -> f64, record: impl Fn(&mut Value)) -> Judgement {
    let design = design(TestSpec::from_json(&shipped("gallery_beam.test.json")).unwrap()).unwrap();
    let mut columns: Value = serde_json::from_str(&shipped("gallery_beam.log.json")).unwrap();
    let cell =
        json!({ "id": "idle", "column": "idle_kN", "unit": "kN", "role": "force", "u": 0.2 });
    columns["channels"].as_array_mut().unwrap().push(cell);
    let columns: LogSpec = read_json(&columns.to_string()).unwrap();
    let text = shipped("gallery_beam.log.csv");
    let mut lines = text.lines();
    let mut out = format!("{},idle_kN\n", lines.next().unwrap());
    for (i, line) in lines.enumerate() {
        out += &format!("{line},{:.4}\n", idle(i));
    }
    let mut own: Value = serde_json::from_str(&shipped("gallery_beam.record.json")).unwrap();
    record(&mut own);
    let record: RunRecord = read_json(&own.to_string()).unwrap();
    judge(&design, &read_csv_text(&out, &columns).unwrap(), &columns, &record).unwrap()
}

/// Noise of a few newton: a chaotic sequence, so that the test needs no generator.
fn noise(i: usize) -> f64 {
    let mut x = 0.37;
    for _ in 0..(i % 97 + 3) {
        x = 3.99 * x * (1.0 - x);
    }
    0.01 * (x - 0.5)
}

#[test]
fn the_noise_of_an_idle_cell_is_no_step() {
    let judgement = with_idle(noise, |_| {});
    let steps = |j: &Judgement| {
        j.faults.iter().filter(|f| f.channel == "idle" && f.kind == FaultKind::Step).count()
    };
    assert_eq!(steps(&judgement), 0, "{:?}", judgement.faults);
    assert_eq!(judgement.state(), State::Pass);
    // a tenth of the load that comes on at once where no gauge moves is one
    let jumped = with_idle(|i| noise(i) + if i > 60 { 12.0 } else { 0.0 }, |_| {});
    assert!(jumped.faults.iter().any(|f| f.channel == "idle"), "{:?}", jumped.faults);
}

/// An hour is stated where the log shows a day: said, as a day stated where the log shows an hour is.
#[test]
fn a_hold_that_is_stated_too_short_is_contradicted() {
    let notes = |held: &str| {
        let judgement = with_idle(|_| 0.0, |r| r["held"] = json!(held));
        judgement.judging.notes.iter().filter(|n| n.path == "record.held").count()
    };
    assert_eq!(notes("1 h"), 1);
    assert_eq!(notes("24 h"), 0);
    assert_eq!(notes("60 h"), 1);
}
