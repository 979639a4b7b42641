//! How long is each step on its own? `benches/peers/steps.py` asks the same of Python and prints both.

use std::time::Instant;

use proofspan::criteria::{Acceptance, RunRecord};
use proofspan::editions::Edition;
use proofspan::equivalent::{LayoutSpec, layout};
use proofspan::readings::{LogSpec, read_csv_text};
use proofspan::rig::{Hydraulic, Reaction};
use proofspan::shoring::Catching;
use proofspan::source::read_json;
use proofspan::target::TestLoad;
use proofspan::units::*;
use proofspan::{RecordedTest, TestSpec, design};

/// Prints the name and the shortest of many runs in nanoseconds.
fn timed<T>(name: &str, mut step: impl FnMut() -> Result<T, proofspan::Error>) {
    let mut best = u128::MAX;
    let begun = Instant::now();
    while begun.elapsed().as_millis() < 700 {
        let start = Instant::now();
        divan::black_box(step()).unwrap();
        best = best.min(start.elapsed().as_nanos());
    }
    println!("{name} {best}");
}

fn file(end: &str) -> String {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/scenarios");
    std::fs::read_to_string(format!("{folder}/terrace_strip.{end}")).unwrap()
}

fn main() {
    timed("edition", || Edition::shipped("ACI 437.2-13"));
    let nominal: TestLoad = read_json(
        r#"{"edition": {"id": "ACI 437.2-13"}, "per_area": true, "nominal": {"width": "1 m",
            "self_weight": "4.8 kPa", "live": "4 kPa", "in_place": "self_weight"}}"#,
    )
    .unwrap();
    timed("test_load", || nominal.clone().combine());
    let designed = design(TestSpec::from_json(&file("test.json")).unwrap()).unwrap();
    let asked: LayoutSpec =
        read_json(r#"{"carrier": {"kind": "jack_line", "at": "6 ft"}}"#).unwrap();
    timed("equivalent", || layout(&designed.target, &asked, Some(34.0 * IN)));
    timed("reaction", || {
        Reaction::of(8.0 * M, 10.0 * KN_PER_M)
            .pull(3.0 * M, 60.0 * KN)
            .weight(2.0 * M, 20.0 * KN)
            .check()
    });
    timed("hydraulics", || {
        Hydraulic::of(100.0 * KN, 2, 5000.0 * MM2, 70.0 * MPA_FLUID, 150.0 * MM).check()
    });
    let held: Catching = read_json(
        r#"{"span": "10 m", "in_place": "10 kN/m", "mode": "shear", "from": "0 m", "to": "1 m",
            "to_ground": true, "ground": {"carries": "300 kN"}, "catches": {"at": "5 m",
            "stiffness": "10 kN/mm", "gap": "10 mm", "resistance": {"posts": 4, "rated": "100 kN"}}}"#,
    )
    .unwrap();
    timed("catch", || held.clone().check());
    timed("acceptance", || {
        Acceptance::of("ACI 437.2-13", 12.0 * MM, 6.0 * M)
            .depth(400.0 * MM)
            .residual(2.0 * MM)
            .u(0.1 * MM)
            .judge()
    });
    let columns: LogSpec = read_json(&file("log.json")).unwrap();
    let record: RunRecord = read_json(&file("record.json")).unwrap();
    let text = file("log.csv");
    timed("judge a record", || {
        let log = read_csv_text(&text, &columns)?;
        RecordedTest::of("ACI 437.2-13", 45.0 * FT).depth(34.0 * IN).judge(&log, &columns, &record)
    });
}
