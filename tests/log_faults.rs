//! Faults of a log that no cell betrays: a touched reference, swapped wires, digits nobody measured.

use proofspan::readings::{Fault, FaultKind, Log, LogSpec, read_csv_text};
use proofspan::source::read_json;

const LAYOUT: &str = r#"{
  "time": { "column": "t", "unit": "min" },
  "channels": [
    { "id": "P", "column": "P", "role": "force", "unit": "kN" },
    { "id": "a", "column": "a", "role": "deflection", "unit": "mm", "at": "1 m", "u": 0.02 },
    { "id": "b", "column": "b", "role": "deflection", "unit": "mm", "at": "2 m", "u": 0.02 }
  ],
  "moments": { "zero": { "from": "0 min", "to": "1 min" }, "peak": { "from": "8 min", "to": "9 min" } }
}"#;

/// Rises to 100 kN and 8 mm in five steps, then holds; invented.
fn log(change: impl Fn(usize, &mut [f64; 3])) -> Log {
    let mut text = String::from("t,P,a,b\n");
    for i in 0..10 {
        let load = i.min(5) as f64 / 5.0;
        let mut row = [100.0 * load, 4.0 * load, 8.0 * load];
        change(i, &mut row);
        text.push_str(&format!("{i},{:.1},{:.2},{:.2}\n", row[0], row[1], row[2]));
    }
    read(&text)
}

fn read(text: &str) -> Log {
    let layout: LogSpec = read_json(LAYOUT).unwrap();
    read_csv_text(text, &layout).unwrap()
}

fn of(log: &Log, kind: FaultKind) -> Option<Fault> {
    log.faults.iter().find(|f| f.kind == kind).cloned()
}

#[test]
fn a_clean_log_names_nothing() {
    assert_eq!(log(|_, _| ()).faults, []);
}

#[test]
fn all_gauges_at_once_without_force_is_a_jump() {
    let touched = log(|i, row| {
        if i >= 7 {
            row[1] += 5.0;
            row[2] += 5.0;
        }
    });
    let jump = of(&touched, FaultKind::Jump).unwrap();
    assert_eq!((jump.count, jump.from.si()), (1, 420.0));
    assert!(jump.note.contains("5 mm"), "{}", jump.note);
    // one gauge alone, or movement with the force, is none
    let one = log(|i, row| row[1] += if i >= 7 { 5.0 } else { 0.0 });
    assert!(of(&one, FaultKind::Jump).is_none());
    let loaded = log(|i, row| {
        if i >= 7 {
            row[0] += 30.0;
            row[1] += 5.0;
            row[2] += 5.0;
        }
    });
    assert!(of(&loaded, FaultKind::Jump).is_none());
}

#[test]
fn digits_nobody_measured() {
    let text = "t,P,a,b\n0,0,0.00,0.00\n1,0,0.01,0.0193\n2,9,0.19401870,0.01\n9,9,0.2,0.3\n";
    let found = of(&read(text), FaultKind::OverPrecision).unwrap();
    assert_eq!((found.channel.as_str(), found.count), ("a", 1));
}

#[test]
fn a_gauge_that_rises_is_named_in_the_judgement() {
    let scenario = |name: &str| {
        std::fs::read_to_string(format!("{}/examples/scenarios/{name}", env!("CARGO_MANIFEST_DIR")))
            .unwrap()
    };
    let judged = |layout: &str| {
        let design = proofspan::design(
            proofspan::TestSpec::from_json(&scenario("gallery_beam.test.json")).unwrap(),
        )
        .unwrap();
        let layout: LogSpec = read_json(layout).unwrap();
        let log = read_csv_text(&scenario("gallery_beam.log.csv"), &layout).unwrap();
        let record = read_json(&scenario("gallery_beam.record.json")).unwrap();
        proofspan::judge(&design, &log, &layout, &record).unwrap()
    };
    let plain = scenario("gallery_beam.log.json");
    assert!(judged(&plain).faults.iter().all(|f| f.kind != FaultKind::SignFlip));
    let mut swapped: serde_json::Value = serde_json::from_str(&plain).unwrap();
    let quarter = swapped["channels"]
        .as_array_mut()
        .unwrap()
        .iter_mut()
        .find(|c| c["id"] == "quarter")
        .unwrap();
    quarter["sign"] = if quarter["sign"] == -1 { 1 } else { -1 }.into();
    let faults = judged(&swapped.to_string()).faults;
    let flip = faults.iter().find(|f| f.kind == FaultKind::SignFlip).unwrap();
    assert_eq!(flip.channel, "quarter");
}

#[test]
fn a_log_that_cannot_be_opened() {
    let layout: LogSpec = read_json(
        &std::fs::read_to_string(concat!(
            env!("CARGO_MANIFEST_DIR"),
            "/examples/scenarios/terrace_strip.log.json"
        ))
        .unwrap(),
    )
    .unwrap();
    let path = std::path::Path::new("no/such/log.csv");
    let error = proofspan::readings::read_csv_file(path, &layout).unwrap_err();
    assert_eq!(error.codes(), ["readings.file"]);
    assert_eq!(error.issues[0].value.as_deref(), Some("no/such/log.csv"));
}
