//! What a reader who was not there asks of a report before signing it.

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

fn changed(name: &str, change: impl Fn(&mut Value)) -> Value {
    let mut value = serde_json::from_str(&shipped(name)).unwrap();
    change(&mut value);
    value
}

const SCENARIOS: [&str; 5] =
    ["terrace_strip", "gallery_beam", "archive_floor", "classroom_strip", "station_canopy"];

fn kept(_: &mut Value) {}

fn tested(name: &str, change: impl Fn(&mut Value)) -> TestDesign {
    let document = changed(&format!("{name}.test.json"), change);
    design(TestSpec::from_json(&document.to_string()).unwrap()).unwrap()
}

fn read(design: &TestDesign, name: &str, columns: impl Fn(&mut Value), log: &str) -> Judgement {
    let columns = changed(&format!("{name}.log.json"), columns);
    let columns: LogSpec = read_json(&columns.to_string()).unwrap();
    let record: RunRecord = read_json(&shipped(&format!("{name}.record.json"))).unwrap();
    judge(design, &read_csv_text(log, &columns).unwrap(), &columns, &record).unwrap()
}

fn between<'a>(text: &'a str, from: &str, to: &str) -> &'a str {
    text.split_once(from).unwrap().1.split_once(to).unwrap().0
}

/// Without what Markdown needs.
fn plain(text: &str) -> String {
    text.replace('\\', "")
}

/// Every number of a column times `factor`.
fn scaled(text: &str, column: &str, factor: f64) -> String {
    let heading: Vec<&str> = text.lines().next().unwrap().split(',').collect();
    let place = heading.iter().position(|h| *h == column).unwrap();
    let line = |line: &str| {
        let mut cells: Vec<String> = line.split(',').map(str::to_owned).collect();
        if let Ok(v) = cells[place].parse::<f64>() {
            cells[place] = format!("{:.4}", v * factor);
        }
        cells.join(",") + "\n"
    };
    let rows: String = text.lines().skip(1).map(line).collect();
    heading.join(",") + "\n" + &rows
}

/// A cell that shows nine tenths: the sentence has what was on beside what was asked, not what was asked
/// alone, and no line says that the test reproduced what only the plan does.
#[test]
fn the_load_that_was_on_stands_beside_the_load_asked() {
    let design = tested("gallery_beam", kept);
    let text = shipped("gallery_beam.log.csv");
    let whole = read(&design, "gallery_beam", kept, &text);
    let column = changed("gallery_beam.log.json", kept);
    let column = column["channels"]
        .as_array()
        .unwrap()
        .iter()
        .find(|c| c["role"] == "force")
        .unwrap()["column"]
        .as_str()
        .unwrap()
        .to_owned();
    let less = read(&design, "gallery_beam", kept, &scaled(&text, &column, 0.9));
    let page = report::html(&design, Some(&less)).unwrap();
    let said = between(&page, "<p class=\"state\">", "</p>");
    let (on, asked) = less.force.unwrap();
    assert!((on.si() / whole.force.unwrap().0.si() - 0.9).abs() < 1e-6);
    let show = |f| design.page().value(f, 6);
    let words = format!("{} read at the end of the hold, {} net asked", show(on), show(asked.0));
    assert!(said.contains(&words), "{words} in {said}");
    assert!(page.contains("whether the layout as planned reproduces"), "of the plan");
}

/// Where a spreader stands is where it touches; what covers a stretch is said by its ends.
#[test]
fn carriers_are_named_as_they_stand() {
    for (name, kind) in [("classroom_strip", "bags from "), ("station_canopy", "water from ")] {
        let design = tested(name, kept);
        let said = report::markdown(&design, None).unwrap();
        let plan = between(&said, "this is the plan of a test", "\n");
        for c in design.layout.carriers.iter().filter(|c| c.force.0.si() > 0.0) {
            let page = design.page();
            let words = format!("{kind}{} to {}", page.place(c.from), page.place(c.to));
            assert!(plan.contains(&words), "{words} in {plan}");
        }
    }
    let design = tested("terrace_strip", |d| {
        d["layout"]["carrier"] = json!({ "kind": "spreader", "contacts": ["11 ft", "15 ft"] });
    });
    let plan = report::markdown(&design, None).unwrap();
    let plan = between(&plan, "this is the plan of a test", "\n");
    let words = "jack on a spreader with contacts at 11.000 ft and 15.000 ft";
    assert!(plan.contains(words), "{plan}");
}

/// A wider band moves the verdict: the table of the columns has it, and that of the
/// record has who saw what.
#[test]
fn columns_and_record_stand_in_the_report_as_given() {
    let design = tested("terrace_strip", kept);
    let text = shipped("terrace_strip.log.csv");
    let factor = |c: &mut Value| c["load_band"] = json!(0.0125);
    let judgement = read(&design, "terrace_strip", factor, &text);
    let page = report::markdown(&design, Some(&judgement)).unwrap();
    let page = plain(&page);
    let columns = between(&page, "## Columns of the log as given", "## Run record as given");
    assert!(columns.contains("| load_band | 0.0125 |"), "{columns}");
    for channel in &judgement.evidence.layout.channels {
        assert!(columns.contains(&format!("column | {} |", channel.column)), "{columns}");
    }
    let record = between(&page, "## Run record as given", "## Working");
    assert!(record.contains(&judgement.evidence.record.observation.date), "{record}");
}

/// The deflection that is judged, its residual and their uncertainty are redone in the working.
#[test]
fn the_deciding_numbers_are_worked_out() {
    let design = tested("gallery_beam", kept);
    let judgement = read(&design, "gallery_beam", kept, &shipped("gallery_beam.log.csv"));
    let page = report::markdown(&design, Some(&judgement)).unwrap();
    let working = page.split_once("## Working").unwrap().1;
    let own = working.split_once("What was read").unwrap().1;
    let lines = judgement.working();
    assert!(lines.steps().count() > 5);
    // one line in code for each step, and each gauge at its largest and its residual
    let shown = own.lines().filter(|l| l.trim_start().starts_with('`')).count();
    assert!(shown >= lines.steps().count(), "{shown}");
    for d in &judgement.deflections {
        for when in ["largest deflection", "residual"] {
            let of = |l: &str| l.contains(&d.gauge) && l.contains(when);
            assert!(own.lines().any(of), "{} {when}", d.gauge);
        }
    }
}

/// A relief valve that opens at twice the planned pressure fails its check: the first page says so, and
/// the pressure that nobody passes is that of the full load, not what the jack stands.
#[test]
fn a_failed_check_is_on_the_first_page() {
    let with = |relief: &'static str| {
        tested("gallery_beam", move |d| d["rig"]["jacks"]["fittings"]["relief"] = json!(relief))
    };
    let fails = |d: &TestDesign| {
        let page = report::markdown(d, None).unwrap();
        let first = page.split_once("## What the test must reproduce").unwrap().0.to_owned();
        first.contains("Checks of the plan that fail")
            && first.contains("a relief valve that opens too soon or too late")
    };
    assert!(!fails(&with("12.8 MPa")));
    assert!(fails(&with("60 MPa")));
    for name in SCENARIOS {
        let design = tested(name, kept);
        assert!(!report::markdown(&design, None).unwrap().contains("Checks of the plan that fail"));
    }
    let design = with("12.8 MPa");
    let page = report::markdown(&design, None).unwrap();
    let planned = design.page().value(design.rig.pressure().unwrap(), 6);
    assert!(page.contains(&format!("pressure never above | {planned} (full load; ")), "{planned}");
}

/// A record that says how long the load was on names nobody for it: nobody is named.
#[test]
fn nobody_is_named_for_what_the_record_does_not_sign() {
    let name = "gallery_beam";
    let design = tested(name, kept);
    let judgement = read(&design, name, kept, &shipped("gallery_beam.log.csv"));
    let page = report::markdown(&design, Some(&judgement)).unwrap();
    let stated = page.lines().filter(|l| l.starts_with("| stated: full load held"));
    let by = &judgement.evidence.record.observation.by;
    let rows: Vec<&str> = stated.collect();
    assert_eq!(rows.len(), usize::from(judgement.evidence.record.held.is_some()));
    assert!(rows.iter().all(|row| !row.contains(by.as_str())), "{rows:?}");
}
