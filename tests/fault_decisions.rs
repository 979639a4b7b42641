//! A fault that can move a verdict leaves it open until somebody decides; rows that cannot be read.
//! Expected values: the shipped scenario of the gallery beam, which passes with a clean log.

use proofspan::criteria::RunRecord;
use proofspan::readings::{FaultEffect, FaultKind, LogSpec, Windows, read_csv_text};
use proofspan::source::read_json;
use proofspan::units::*;
use proofspan::verdict::State;
use proofspan::{Error, Judgement, TestSpec, design, judge};
use serde_json::{Value, json};

fn text(name: &str) -> String {
    std::fs::read_to_string(format!("{}/examples/scenarios/{name}", env!("CARGO_MANIFEST_DIR")))
        .unwrap()
}

/// The scenario with another log, another layout and decisions.
fn judged(log: &str, layout: impl Fn(&mut Value), decisions: Value) -> Result<Judgement, Error> {
    let design = design(TestSpec::from_json(&text("gallery_beam.test.json")).unwrap()).unwrap();
    let mut spec: Value = serde_json::from_str(&text("gallery_beam.log.json")).unwrap();
    layout(&mut spec);
    let spec: LogSpec = read_json(&spec.to_string()).unwrap();
    let mut record: Value = serde_json::from_str(&text("gallery_beam.record.json")).unwrap();
    record["decisions"] = decisions;
    let record: RunRecord = read_json(&record.to_string())?;
    judge(&design, &read_csv_text(log, &spec)?, &spec, &record)
}

/// The log with one column changed: time in hours and value to value.
fn changed(column: &str, change: impl Fn(f64, f64) -> f64) -> String {
    let log = text("gallery_beam.log.csv");
    let mut lines = log.lines();
    let head = lines.next().unwrap();
    let index = head.split(',').position(|h| h == column).unwrap();
    let mut out = format!("{head}\n");
    for line in lines {
        let mut cells: Vec<String> = line.split(',').map(str::to_owned).collect();
        let time: f64 = cells[0].parse().unwrap();
        if let Ok(value) = cells[index].parse::<f64>() {
            cells[index] = format!("{:.3}", change(time, value));
        }
        out.push_str(&(cells.join(",") + "\n"));
    }
    out
}

fn decision(channel: &str, fault: &str, action: &str) -> Value {
    json!([{ "channel": channel, "fault": fault, "treatment": action, "by": "engineer of record",
             "reason": "wiring looked at on site" }])
}

fn states(judgement: &Judgement) -> (State, State) {
    (judgement.judging.code.state, judgement.judging.guarded.state)
}

/// What is judged of every gauge. What was read, and the decision, stand in the chain besides.
fn corrected(j: &Judgement) -> Vec<(Length, Option<Length>, &[Windows])> {
    j.deflections.iter().map(|d| (d.d_max, d.d_r, d.moments.as_slice())).collect()
}

#[test]
fn a_clean_log_passes_without_a_fault() {
    let judgement = judged(&text("gallery_beam.log.csv"), |_| (), json!([])).unwrap();
    assert_eq!(judgement.faults, []);
    assert_eq!(states(&judgement), (State::Pass, State::Pass));
}

/// The leading gauge reversed: open in both outcomes; corrected, it is the clean log again.
#[test]
fn a_reversed_gauge_is_open_until_it_is_decided() {
    let log = changed("mid_mm", |_, v| -v);
    let open = judged(&log, |_| (), json!([])).unwrap();
    assert_eq!(states(&open), (State::Inconclusive, State::Inconclusive));
    let fault = open.faults.iter().find(|f| f.kind == FaultKind::SignFlip).unwrap();
    assert_eq!((fault.channel.as_str(), fault.effect), ("mid", FaultEffect::Open));
    assert!(open.judging.notes.iter().any(|n| n.slug.code() == "criteria.fault-open"));
    let clean = judged(&text("gallery_beam.log.csv"), |_| (), json!([])).unwrap();
    let mended = judged(&log, |_| (), decision("mid", "sign_flip", "correct")).unwrap();
    assert_eq!(states(&mended), (State::Pass, State::Pass), "{:?}", mended.faults);
    assert_eq!(corrected(&mended), corrected(&clean));
    assert!(mended.faults.iter().all(|f| f.effect == FaultEffect::Decided));
    assert!(
        mended.judging.notes.iter().any(|n| n.slug.code() == "criteria.fault-decided"
            && n.message.contains("engineer of record"))
    );
}

/// Exchanged columns and a unit of the whole channel: corrected as the fault says.
#[test]
fn corrections_give_the_clean_log_back() {
    let clean = judged(&text("gallery_beam.log.csv"), |_| (), json!([])).unwrap();
    let log = text("gallery_beam.log.csv").replacen("mid_mm,quarter_mm", "quarter_mm,mid_mm", 1);
    let open = judged(&log, |_| (), json!([])).unwrap();
    assert_eq!(open.judging.guarded.state, State::Inconclusive);
    let mended = judged(&log, |_| (), decision("quarter", "swapped", "correct")).unwrap();
    assert_eq!(corrected(&mended), corrected(&clean));
    assert_eq!(mended.judging.guarded.state, State::Pass, "{:?}", mended.faults);

    // declared as mm, written in units of 25.4 mm
    let log = changed("mid_mm", |_, v| v * 25.4);
    let open = judged(&log, |_| (), json!([])).unwrap();
    assert_eq!(open.judging.guarded.state, State::Inconclusive, "{:?}", open.faults);
    let mended = judged(&log, |_| (), decision("mid", "unit", "correct")).unwrap();
    let mid = |j: &Judgement| j.deflections.iter().find(|d| d.gauge == "mid").unwrap().d_max;
    assert!((mid(&mended) - mid(&clean)).abs() < 0.001 * MM);
    assert_eq!(mended.judging.guarded.state, State::Pass, "{:?}", mended.faults);
}

/// A gauge set to zero again in the middle is left out: the other one is judged.
#[test]
fn a_gauge_that_is_left_out_leads_no_more() {
    let log = changed("quarter_mm", |t, v| if t > 12.0 { v + 1.5 } else { v });
    let open = judged(&log, |_| (), json!([])).unwrap();
    let step = open.faults.iter().find(|f| f.kind == FaultKind::Step).unwrap();
    assert_eq!((step.channel.as_str(), step.effect), ("quarter", FaultEffect::Open));
    assert!((step.from.to(H) - 12.0).abs() < 0.3);
    assert_eq!(open.judging.guarded.state, State::Inconclusive);
    let left = judged(&log, |_| (), decision("quarter", "step", "leave_out")).unwrap();
    assert!(left.deflections.iter().all(|d| d.gauge != "quarter"));
    assert_eq!(left.judging.guarded.state, State::Pass, "{:?}", left.faults);
    let accepted = judged(&log, |_| (), decision("quarter", "step", "accept")).unwrap();
    assert_eq!(accepted.deflections.len(), 2);
}

#[test]
fn decisions_that_cannot_be_used() {
    let log = changed("mid_mm", |_, v| -v);
    let codes = |decisions: Value| judged(&log, |_| (), decisions).unwrap_err();
    let error = codes(decision("quarter", "stuck", "accept"));
    assert_eq!(error.codes(), ["criteria.decision"]);
    assert!(error.issues[0].limit.as_deref().unwrap().contains("sign_flip of mid"), "{error}");
    let mut unsigned = decision("mid", "sign_flip", "correct");
    unsigned[0]["reason"] = json!(" ");
    assert_eq!(codes(unsigned).codes(), ["criteria.decision"]);
    let stuck = changed("mid_mm", |t, v| if t > 26.1 { 9.0 } else { v });
    let error = judged(&stuck, |_| (), decision("mid", "stuck", "correct")).unwrap_err();
    assert!(error.codes().contains(&"criteria.decision"), "{error}");
}

/// An undeclared number for none in a window is open; declared, it is a decision of the layout.
#[test]
fn declared_sentinels_are_decisions() {
    let log = changed("mid_mm", |t, v| if (25.82..25.84).contains(&t) { -9999.0 } else { v });
    let open = judged(&log, |_| (), json!([])).unwrap();
    assert_eq!(open.judging.guarded.state, State::Inconclusive, "{:?}", open.faults);
    let declared = judged(&log, |s| s["sentinels"] = json!([-9999]), json!([])).unwrap();
    assert_eq!(declared.judging.guarded.state, State::Pass, "{:?}", declared.faults);
    let accepted = judged(&log, |_| (), decision("mid", "sentinel", "accept")).unwrap();
    assert_eq!(accepted.judging.guarded.state, State::Pass, "{:?}", accepted.faults);
}

/// One sample of metres in the window of the peak: neither leads nor hides the other gauge.
#[test]
fn metres_of_deflection_are_left_out() {
    let log = changed("quarter_mm", |t, v| if (25.82..25.84).contains(&t) { 5_400.0 } else { v });
    let judgement = judged(&log, |_| (), json!([])).unwrap();
    let clean = judged(&text("gallery_beam.log.csv"), |_| (), json!([])).unwrap();
    let d = |j: &Judgement, i: usize| j.deflections[i].d_max;
    assert_eq!(d(&judgement, 0), d(&clean, 0));
    assert!((d(&judgement, 1) - d(&clean, 1)).abs() < 0.02 * MM);
}

/// All refusals and all faults in one answer.
#[test]
fn a_refusal_names_the_faults_beside_it() {
    let log = changed("mid_mm", |t, v| if t > 26.1 { 9.0 } else { v });
    let log = log.replacen("\n0.4,", "\n0.4,x", 1);
    let error = judged(&log, |_| (), json!([])).unwrap_err();
    assert_eq!(error.codes(), ["units.text-number", "readings.fault"], "{error}");
    assert_eq!(error.issues[1].value.as_deref(), Some("stuck"));
}

#[test]
fn rows_that_cannot_be_read() {
    let log = text("gallery_beam.log.csv");
    let codes = |log: &str| judged(log, |_| (), json!([])).unwrap_err();
    // a row short of a cell, one with a decimal comma, one swallowed by a quotation mark
    let error = codes(&log.replacen("\n0.4,28.41,", "\n0.4,28,41,", 1));
    assert_eq!(error.codes(), ["readings.ragged"], "{error}");
    assert_eq!(error.issues[0].path, "log row 26");
    assert!(error.issues[0].remedy.contains("decimal comma"));
    assert_eq!(codes(&log.replacen(",19.39\n", "\n", 1)).codes()[0], "readings.ragged");
    let error = codes(&log.replacen("\n0.4,28.41,", "\n0.4,\"28.41,", 1));
    assert_eq!(error.codes()[0], "readings.quote", "{error}");
    let error = codes(&log.replacen("left_mm", "mid_mm", 1));
    assert!(error.codes().contains(&"readings.heading-twice"), "{error}");
    // empty cells at the end are no cells
    let wide = log.replace('\n', ",\n");
    assert!(judged(&wide, |_| (), json!([])).is_ok());
    // a point beside decimal commas groups thousands, or is a slip
    let comma = log.replace(',', ";").replace('.', ",").replacen("28,41", "1.284,1", 1);
    let with = |s: &mut Value| {
        s["delimiter"] = json!(";");
        s["decimal"] = json!("comma");
    };
    let error = judged(&comma, with, json!([])).unwrap_err();
    assert_eq!(error.codes(), ["units.text-number"], "{error}");
    let plain = log.replace(',', ";").replace('.', ",");
    assert_eq!(judged(&plain, with, json!([])).unwrap().judging.guarded.state, State::Pass);
    let lone = log.replace(',', ";").replace('.', ",").replacen("28,41", "28.410", 1);
    assert_eq!(judged(&lone, with, json!([])).unwrap_err().codes(), ["units.text-number"]);
}
