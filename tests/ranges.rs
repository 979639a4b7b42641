//! Ranges of inputs reach the verdicts, and so do neighbours that are not loaded.

use proofspan::criteria::RunRecord;
use proofspan::readings::{LogSpec, read_csv_text};
use proofspan::source::read_json;
use proofspan::verdict::State;
use proofspan::{TestDesign, TestSpec, design, judge};

fn scenario(name: &str) -> String {
    let path = format!("{}/examples/scenarios/{name}", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).unwrap()
}

fn with(name: &str, changes: &[(&str, serde_json::Value)]) -> TestDesign {
    let mut spec: serde_json::Value = serde_json::from_str(&scenario(name)).unwrap();
    for (pointer, value) in changes {
        let (parent, field) = pointer.rsplit_once('/').unwrap();
        spec.pointer_mut(parent).unwrap()[field] = value.clone();
    }
    design(TestSpec::from_json(&spec.to_string()).unwrap()).unwrap()
}

fn states(design: &TestDesign, code: &str) -> Vec<State> {
    design.verdicts().filter(|(_, v)| v.slug.code() == code).map(|(_, v)| v.state).collect()
}

/// 10 kip keeps the left bearing down, 7 kip does not (closed form: factor 1.5385 and 1.3302, floor 1.6667 or 1.3889).
#[test]
fn a_counterweight_between_enough_and_too_little_is_inconclusive_and_stops() {
    let force = |value: serde_json::Value| {
        with("terrace_strip.test.json", &[("/rig/counterweights/0/force", value)])
    };
    let plain = force("10 kip".into());
    assert_eq!(states(&plain, "rig.liftoff-below-floor"), [State::Pass, State::Pass]);
    assert_eq!(plain.holding().count(), 0);
    let ranged = force(serde_json::json!({ "value": "10 kip", "low": "7 kip" }));
    assert_eq!(states(&ranged, "rig.liftoff-below-floor")[0], State::Inconclusive);
    assert!(ranged.holding().any(|s| s.slug.code() == "rig.liftoff-below-floor"));
    let note = ranged.notes.iter().find(|n| n.slug.code() == "verdict.range-decides").unwrap();
    assert_eq!(note.path, "rig.counterweights[0].force");
    // the worse end is shown: 1.3302 (closed form, terrace example)
    let worst = ranged.rig.bearings[0].verdict.demand.si;
    let light = force("7 kip".into()).rig.bearings[0].verdict.demand.si;
    assert!((worst - light).abs() < 1e-12, "{worst} {light}");
    // the layout is the one of the values given
    assert_eq!(ranged.layout.force, plain.layout.force);
    // a standard uncertainty counts twice to either side
    let uncertain = force(serde_json::json!({ "value": "10 kip", "u": "1.5 kip" }));
    assert_eq!(
        uncertain.rig.bearings[0].verdict.demand.si.to_bits(),
        light.to_bits(),
        "10 - 2 × 1.5 = 7"
    );
}

/// 7 kip is too little (above), 6 kip still less: what fails at the value and at every end fails.
#[test]
fn what_fails_at_every_end_fails() {
    let short = serde_json::json!({ "value": "7 kip", "low": "6 kip", "high": "7.1 kip" });
    let ranged = with("terrace_strip.test.json", &[("/rig/counterweights/0/force", short)]);
    assert_eq!(states(&ranged, "rig.liftoff-below-floor")[0], State::Fail);
    assert!(
        !ranged.notes.iter().any(|n| n.slug.code() == "verdict.range-decides"
            && n.message.contains("liftoff-below-floor"))
    );
}

#[test]
fn more_live_load_than_the_layout_was_made_for_is_inconclusive() {
    let live = |value: serde_json::Value| {
        let mut spec: serde_json::Value =
            serde_json::from_str(&scenario("terrace_strip.test.json")).unwrap();
        for action in spec["loads"]["actions"].as_array_mut().unwrap() {
            if action["action"] == "live" {
                action["area"] = value.clone();
            }
        }
        design(TestSpec::from_json(&spec.to_string()).unwrap()).unwrap()
    };
    let exact = live("40 psf".into());
    assert_eq!(states(&exact, "equivalent.short"), [State::Pass]);
    let ranged = live(serde_json::json!({ "value": "40 psf", "low": "38 psf", "high": "44 psf" }));
    assert_eq!(states(&ranged, "equivalent.short"), [State::Inconclusive]);
    let safe_side = live(serde_json::json!({ "value": "40 psf", "low": "38 psf" }));
    assert_eq!(states(&safe_side, "equivalent.short"), [State::Pass]);
}

#[test]
fn an_end_at_which_nothing_can_be_designed_is_named() {
    let spec = scenario("terrace_strip.test.json").replace(
        r#""span": { "value": "45 ft", "origin": "measured" }"#,
        r#""span": { "value": "45 ft", "low": "5 ft" }"#,
    );
    let error = design(TestSpec::from_json(&spec).unwrap()).unwrap_err();
    assert!(
        error.issues.iter().all(|i| i.message.contains("at an end of the range of beam.span")),
        "{error}"
    );
}

/// Nine ranges: their ends one by one and together, and a note that says so.
#[test]
fn many_ranges_are_not_tried_in_every_combination() {
    let mut spec: serde_json::Value =
        serde_json::from_str(&scenario("terrace_strip.test.json")).unwrap();
    let range = |value: &str, low: &str| serde_json::json!({ "value": value, "low": low });
    spec["beam"]["depth"] = range("22 in", "21.9 in");
    spec["beam"]["effective_depth"] = range("17.6 in", "17.5 in");
    spec["beam"]["clear_span"] = range("44 ft", "43.9 ft");
    for part in ["soft", "stiff"] {
        spec["beam"][part]["modulus"] = range("4000 ksi", "3990 ksi");
    }
    spec["loads"]["width"] = range("8 ft", "7.99 ft");
    for (i, action) in spec["loads"]["actions"].as_array_mut().unwrap().iter_mut().enumerate() {
        if i < 3 && action.get("area").is_some() {
            let value = action["area"].as_str().unwrap().to_owned();
            action["area"] = serde_json::json!({ "value": value, "high": value });
        }
    }
    let ranged = design(TestSpec::from_json(&spec.to_string()).unwrap()).unwrap();
    assert!(ranged.notes.iter().any(|n| n.slug.code() == "verdict.range-corners"));
}

/// ACI 437.2 asks for `d_max <= lt/180` with lt the lesser of span and clear span plus depth: a
/// clear span that may be far shorter (invented) leaves that open.
#[test]
fn a_range_of_the_clear_span_reaches_the_criteria() {
    let judged = |clear: serde_json::Value| {
        let edition = serde_json::json!({ "id": "ACI 437.2-13" });
        let changes = [("/beam/clear_span", clear), ("/edition", edition)];
        let design = with("gallery_beam.test.json", &changes);
        let layout: LogSpec = read_json(&scenario("gallery_beam.log.json")).unwrap();
        let mut record: serde_json::Value =
            serde_json::from_str(&scenario("gallery_beam.record.json")).unwrap();
        // so large a deflection looks like a wrong unit: the engineer has looked at that
        let accepted = |channel: &str| {
            serde_json::json!({ "channel": channel, "fault": "unit", "treatment": "accept",
                "by": "engineer of record", "reason": "the gauge was checked with a feeler" })
        };
        record["decisions"] = serde_json::json!([accepted("mid"), accepted("quarter")]);
        let record: RunRecord = read_json(&record.to_string()).unwrap();
        // five times the deflection, so that the limit of lt/180 lies near: 50 mm and 32 mm
        let csv: String = scenario("gallery_beam.log.csv")
            .lines()
            .map(|line| {
                let cells =
                    line.split(',').enumerate().map(|(i, cell)| match cell.parse::<f64>() {
                        Ok(v) if (2..4).contains(&i) => (v * 5.0).to_string(),
                        _ => cell.to_owned(),
                    });
                cells.collect::<Vec<_>>().join(",") + "\n"
            })
            .collect();
        judge(&design, &read_csv_text(&csv, &layout).unwrap(), &layout, &record).unwrap()
    };
    let deflection = |j: &proofspan::Judgement| {
        let found = j.judging.criteria.iter().find(|c| c.formula.contains("lt/180")).unwrap();
        (found.outcome, found.reason.clone())
    };
    let plain = deflection(&judged("8.6 m".into())).0;
    assert_eq!(plain.guarded.state, State::Pass, "{}", deflection(&judged("8.6 m".into())).1);
    let ranged = judged(serde_json::json!({ "value": "8.6 m", "low": "5 m" }));
    let (outcome, reason) = deflection(&ranged);
    assert_eq!(outcome.guarded.state, State::Inconclusive);
    assert_eq!(outcome.code, plain.code, "the code's own comparison stays at the values given");
    assert!(reason.contains("ranges"), "{reason}");
    assert_eq!(ranged.judging.guarded.state, State::Inconclusive);
}

/// Loaded alone in a whole slab, a strip of 8 ft on 45 ft carries little of what stands on it:
/// Σ (−1)^k (1 − (1 + nx/2) e^(−nx)) / n³ over π³/32, n = 2k + 1, x = πb/2a, b/a = 8/45 (plate
/// theory). The terms alternate and fall: what is left out is less than the next.
#[test]
fn neighbours_that_are_not_loaded_make_the_layout_inconclusive() {
    let sharing =
        |value: serde_json::Value| with("terrace_strip.test.json", &[("/scope/sharing", value)]);
    let whole = sharing(serde_json::json!({ "rule": "plate", "loaded_width": "8 ft" }));
    assert_eq!(states(&whole, "scope.neighbours"), [State::Inconclusive]);
    let x = std::f64::consts::FRAC_PI_2 * 8.0 / 45.0;
    let term = |k: i32| {
        let n = f64::from(2 * k + 1);
        (1.0 - (1.0 + n * x / 2.0) * (-n * x).exp()) / n.powi(3) * (-1.0_f64).powi(k)
    };
    let share = (0..10_000).map(term).sum::<f64>() * 32.0 / std::f64::consts::PI.powi(3);
    let shares = whole.shares.clone().unwrap();
    assert!((shares.own_low.value() - share).abs() < 2e-12 && share < 0.2);
    let wide = sharing(serde_json::json!({ "rule": "plate", "loaded_width": "1000 ft" }));
    assert_eq!(states(&wide, "scope.neighbours"), [State::Pass]);
    assert!(
        states(&sharing(serde_json::json!({ "rule": "isolated" })), "scope.neighbours").is_empty()
    );
    let unstated = sharing(serde_json::Value::Null);
    assert!(unstated.notes.iter().any(|n| n.slug.code() == "scope.sharing-unstated"));
    let page = proofspan::report::markdown(&whole, None).unwrap();
    assert!(page.contains("carries 0.1") && page.contains("raise the force by up to"), "{page}");
}

#[test]
fn a_list_of_joists_has_one_number_for_each() {
    let text = scenario("terrace_strip.test.json").replace(
        r#"{ "rule": "isolated" }"#,
        r#"{ "rule": "stiff_across", "stiffness": [1, 1.2] }"#,
    );
    let error = TestSpec::from_json(&text).unwrap_err();
    assert_eq!(error.codes(), ["scope.sharing"]);
    assert_eq!(error.issues[0].path, "scope.sharing.stiffness");
    let text = scenario("terrace_strip.test.json").replace(
        r#"{ "rule": "isolated" }"#,
        r#"{ "rule": "stiff_across", "stiffness": [1, 1.2, 1] }"#,
    );
    let design = design(TestSpec::from_json(&text).unwrap()).unwrap();
    let page = proofspan::report::markdown(&design, None).unwrap();
    // 5/16, 3/8, 5/16 (closed form)
    assert!(page.contains("0.312500") && page.contains("0.375000"), "{page}");
}
