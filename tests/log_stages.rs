//! A log of several stages: each is judged by its own part.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::error::Error;
use proofspan::readings::{read_csv_text, with_memory};
use proofspan::source::read_json;
use proofspan::verdict::State;
use proofspan::{Judgement, TestDesign, TestSpec, design, judge, report};
use serde_json::{Value, json};

fn shipped(name: &str) -> String {
    let path = format!("{}/examples/scenarios/gallery_beam.{name}", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).unwrap()
}

/// The gallery beam tested twice in the same way.
fn twice() -> TestDesign {
    let mut document: Value = serde_json::from_str(&shipped("test.json")).unwrap();
    document["stages"] = json!([{ "name": "again", "doubt": document["scope"]["doubt"] }]);
    design(TestSpec::from_json(&document.to_string()).unwrap()).unwrap()
}

/// Its log once more, 60 h later, with the gauges of the second run times `k`.
fn log(k: f64) -> String {
    let text = shipped("log.csv");
    let mut lines = text.lines();
    let heading = lines.next().unwrap();
    let columns: Vec<&str> = heading.split(',').collect();
    let mut second = String::new();
    for line in text.lines().skip(1) {
        let cells = line.split(',').zip(&columns).map(|(cell, column)| match cell.parse::<f64>() {
            Ok(t) if *column == "time_h" => format!("{:.4}", t + 60.0),
            Ok(v) if *column == "mid_mm" || *column == "quarter_mm" => format!("{:.3}", v * k),
            _ => cell.to_owned(),
        });
        second += &(cells.collect::<Vec<_>>().join(",") + "\n");
    }
    format!("{text}{second}")
}

fn map() -> Value {
    serde_json::from_str(&shipped("log.json")).unwrap()
}

fn with_stage(mut map: Value) -> Value {
    let h = |t: f64| format!("{t} h");
    map["stages"] = json!([{ "name": "again", "from": "60 h", "moments": {
        "zero": { "from": h(60.0), "to": h(60.3) }, "peak": { "from": h(85.8), "to": h(86.0) },
        "residual": { "from": h(110.2), "to": h(110.5) }, "unloaded": h(86.4) } }]);
    map
}

fn judged(text: &str, map: &Value) -> Result<Judgement, Error> {
    let layout = read_json(&map.to_string())?;
    let record = read_json(&shipped("record.json"))?;
    let inside = judge(&twice(), &read_csv_text(text, &layout)?, &layout, &record);
    // the parts of a log stand where the log does
    let log = with_memory(0, || read_csv_text(text, &layout))?;
    let outside = judge(&twice(), &log, &layout, &record);
    assert_eq!(format!("{inside:?}"), format!("{outside:?}"));
    inside
}

/// Both stages alike come to what one alone comes to.
#[test]
fn each_stage_by_its_own_part() {
    let single: TestSpec = TestSpec::from_json(&shipped("test.json")).unwrap();
    let layout = read_json(&map().to_string()).unwrap();
    let record = read_json(&shipped("record.json")).unwrap();
    let text = shipped("log.csv");
    let once =
        judge(&design(single).unwrap(), &read_csv_text(&text, &layout).unwrap(), &layout, &record)
            .unwrap();
    let both = judged(&log(1.0), &with_stage(map())).unwrap();
    assert_eq!(both.deflections, once.deflections);
    let later = both.later[0].1.as_ref().unwrap();
    for (a, b) in later.deflections.iter().zip(&once.deflections) {
        assert!((a.d_max.si() - b.d_max.si()).abs() < 1e-6, "{a:?} {b:?}");
    }
    assert_eq!((both.state(), later.judging.guarded.state), (once.state(), once.state()));
    let page = report::html(&twice(), Some(&both)).unwrap();
    assert!(page.contains("Stage again: what it did"));
}

/// A later stage that does not recover fails the test, though the first one passed.
#[test]
fn the_worst_stage_is_the_headline() {
    let text = log(1.0);
    // the residual of the second run stays at half of its largest deflection
    let stuck: String = text
        .lines()
        .map(|line| {
            let mut cells: Vec<String> = line.split(',').map(str::to_owned).collect();
            if cells[0].parse::<f64>().is_ok_and(|t| t > 86.3) {
                for i in [2, 3] {
                    if let Ok(v) = cells[i].parse::<f64>() {
                        cells[i] = format!("{:.3}", v + if i == 2 { 4.0 } else { 2.8 });
                    }
                }
            }
            cells.join(",") + "\n"
        })
        .collect();
    let both = judged(&stuck, &with_stage(map())).unwrap();
    let later = both.later[0].1.as_ref().unwrap();
    assert_ne!(later.judging.guarded.state, State::Pass);
    assert_ne!(both.state(), State::Pass, "{:?}", both.overall());
    let alone = judged(&log(1.0), &with_stage(map())).unwrap();
    assert_eq!(both.judging.guarded, alone.judging.guarded, "the first stage is what it was");
}

/// A stage that nobody reads leaves the whole open; one that the test does not have is refused.
#[test]
fn stages_of_test_and_log_agree() {
    let unread = judged(&shipped("log.csv"), &map()).unwrap();
    assert_eq!(unread.state(), State::Inconclusive);
    assert!(unread.judging.notes.iter().any(|n| n.slug.code() == "criteria.stage-unread"));
    let mut other = with_stage(map());
    other["stages"][0]["name"] = "elsewhere".into();
    let error = judged(&log(1.0), &other).unwrap_err();
    assert_eq!(
        (error.codes(), error.issues[0].path.as_str()),
        (vec!["readings.stage"], "stages[0].name")
    );
    let mut early = with_stage(map());
    early["stages"][0]["from"] = "40 h".into();
    assert_eq!(judged(&log(1.0), &early).unwrap_err().codes(), ["readings.stage"]);
    let mut zero = with_stage(map());
    zero["stages"][0]["from"] = "60.1 h".into();
    assert_eq!(judged(&log(1.0), &zero).unwrap_err().issues[0].path, "stages[0].moments.zero.from");
}
