//! While a stop holds, no door gives the steps: each says which stops hold instead.

use proofspan::criteria::RunRecord;
use proofspan::error::Cause;
use proofspan::readings::{LogSpec, read_csv_text};
use proofspan::source::{Node, Value, Write, read_json, write_json};
use proofspan::{TestDesign, TestSpec, design, judge, report};

fn text(name: &str) -> String {
    std::fs::read_to_string(format!("{}/examples/scenarios/{name}", env!("CARGO_MANIFEST_DIR")))
        .unwrap()
}

/// A document of the terrace strip, changed at one place.
fn changed(pointer: &str, value: serde_json::Value) -> serde_json::Value {
    let mut document: serde_json::Value =
        serde_json::from_str(&text("terrace_strip.test.json")).unwrap();
    *document.pointer_mut(pointer).unwrap() = value;
    document
}

fn designed(document: &serde_json::Value) -> TestDesign {
    design(TestSpec::from_json(&document.to_string()).unwrap()).unwrap()
}

/// Nobody confirmed that the zone is clear, and nothing weighs the reaction member down.
fn stopped() -> TestDesign {
    let mut document = changed("/records/zone_clear/state", "not_done".into());
    document["rig"]["counterweights"] = serde_json::json!([]);
    designed(&document)
}

/// Every number of a tree, whatever it is written as.
fn numbers(node: &Node, all: &mut Vec<f64>) {
    match &node.value {
        Value::Number(n) => all.push(*n),
        Value::Quantity { si, .. } => all.push(*si),
        Value::List(items) => items.iter().for_each(|i| numbers(i, all)),
        Value::Map(entries) => entries.iter().for_each(|e| numbers(&e.node, all)),
        _ => {}
    }
}

/// The forces of the steps below the top: the shares asked for of the net force. None of them is
/// a number of the design itself.
fn step_forces(d: &TestDesign) -> Vec<f64> {
    let shares = d.spec.protocol.steps.iter().map(|s| s.value()).filter(|s| *s < 1.0);
    shares.map(|s| s * d.force().0.si()).collect()
}

fn holds_a_step(node: &Node, d: &TestDesign) -> bool {
    let mut all = Vec::new();
    numbers(node, &mut all);
    step_forces(d).iter().any(|f| all.iter().any(|n| (n - f).abs() < 1e-9 * f))
}

#[test]
fn a_cleared_design_shows_its_steps_everywhere() {
    let d = designed(&changed("/display", "US".into()));
    assert!(holds_a_step(&d.write(), &d), "the search for steps finds them where they are");
    assert!(d.write().get("schedule").unwrap().get("steps").is_some());
    assert_eq!(d.schedule().unwrap().steps.len(), d.spec.protocol.steps.len());
    // 25 % of 2 098 760/117 lbf
    assert!(report::html(&d, None).unwrap().contains("4484.53 lbf"));
}

#[test]
fn the_tree_and_json_name_the_stops_in_place_of_the_steps() {
    let d = stopped();
    let schedule = d.write().get("schedule").cloned().unwrap();
    assert!(schedule.get("steps").is_none() && schedule.get("unloading").is_none());
    let Some(Node { value: Value::List(codes), .. }) = schedule.get("stopped") else {
        panic!("{schedule:?}");
    };
    let named: Vec<Node> =
        ["rig.liftoff-below-floor", "protocol.people-in-zone"].map(Node::text).to_vec();
    assert!(named.iter().all(|code| codes.contains(code)), "{codes:?}");
    assert!(!holds_a_step(&d.write(), &d));
    let json = write_json(&d.write());
    assert!(json.contains("\"stopped\"") && !json.contains("reading_times"));
}

#[test]
fn rust_gets_the_stops_in_place_of_the_schedule() {
    let d = stopped();
    let error = d.schedule().unwrap_err();
    assert_eq!(error.cause, Cause::Stop);
    let holding: Vec<&str> = d.holding().map(|s| s.slug.code()).collect();
    assert!(holding.len() >= 2, "{holding:?}");
    assert_eq!(error.codes(), holding);
}

#[test]
fn both_reports_and_the_working_hold_no_step() {
    let d = stopped();
    for page in [report::html(&d, None).unwrap(), report::markdown(&d, None).unwrap()] {
        assert!(!page.contains("4484.53 lbf") && !page.contains("8969.06 lbf"));
        let steps = page.split("Steps").last().unwrap();
        let said = steps.split("Notes and limits").next().unwrap();
        for stop in d.holding() {
            assert!(said.contains(stop.slug.code()), "{} is not said: {said}", stop.slug);
        }
    }
    let working = d.working().unwrap().text(proofspan::units::System::Us);
    assert!(!working.contains("4484.5") && !working.contains("8969.0"), "no step in the working");
}

#[test]
fn no_reading_is_judged_while_a_stop_holds() {
    let d = stopped();
    let layout: LogSpec = read_json(&text("terrace_strip.log.json")).unwrap();
    let log = read_csv_text(&text("terrace_strip.log.csv"), &layout).unwrap();
    let record: RunRecord = read_json(&text("terrace_strip.record.json")).unwrap();
    let error = judge(&d, &log, &layout, &record).unwrap_err();
    assert_eq!(error.cause, Cause::Stop);
    assert!(error.codes().contains(&"protocol.people-in-zone"));
}

/// A stop that shows only at an end of a range holds the steps back like any other.
#[test]
fn a_stop_within_a_range_holds_too() {
    let base = changed("/display", "US".into());
    assert!(designed(&base).schedule().is_ok());
    let mut document = base;
    document["rig"]["counterweights"][0]["force"] =
        serde_json::json!({ "value": "10 kip", "low": "0.1 kip", "high": "10 kip" });
    let d = designed(&document);
    let held = d.schedule().unwrap_err();
    assert!(held.issues.iter().all(|i| i.message.contains("within the ranges")), "{held}");
    assert!(!holds_a_step(&d.write(), &d));
}
