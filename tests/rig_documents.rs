//! A rig of every kind from the document to the report. Expected values: levers, written beside each.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::report::{ShapeKind, html, shapes};
use proofspan::units::*;
use proofspan::{TestDesign, TestSpec, design};
use serde_json::{Value, json};

fn scenario(name: &str, change: impl Fn(&mut Value)) -> Result<TestDesign, proofspan::Error> {
    let path = format!("{}/examples/scenarios/{name}.test.json", env!("CARGO_MANIFEST_DIR"));
    let mut document = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    change(&mut document);
    design(TestSpec::from_json(&document.to_string())?)
}

/// The terrace strip, 17.938 kip at 6 ft, on another reaction; the catches stand on the levels alone.
fn terrace(reaction: &Value, weights: &Value) -> TestDesign {
    scenario("terrace_strip", |d| {
        d["rig"]["reaction"] = reaction.clone();
        d["rig"]["counterweights"] = weights.clone();
        for i in 0..2 {
            d["shoring"]["catch"][i].as_object_mut().unwrap().remove("on");
        }
        // the spring-back of anchors and lorries asks more of the catches
        d["shoring"]["catch"][0]["resistance"]["posts"] = json!(6);
        d["shoring"]["levels"][0]["spare"] = json!("90 kip");
        d["shoring"]["levels"][1]["spare"] = json!("90 kip");
        d["shoring"]["ground"]["carries"] = json!("200 kip");
    })
    .unwrap()
}

/// Goes to the report, and nothing of the rig stops it.
fn through(d: &TestDesign) -> String {
    let rig: Vec<String> = d.rig.stops.iter().map(|s| s.message.to_string()).collect();
    assert!(rig.is_empty(), "{rig:?}");
    html(d, None).unwrap()
}

#[track_caller]
fn near(value: f64, exact: f64) {
    assert!((value - exact).abs() <= 1e-9 * exact.abs().max(1e-3), "{value} for {exact}");
}

/// Anchors at 5 and 8 ft: two thirds and one third.
#[test]
fn anchors() {
    let d = terrace(
        &json!({ "id": "rock", "kind": "anchors", "stiffness": "500 kip/in", "anchors": [
            { "at": "5 ft", "capacity": "20 kip" }, { "at": "8 ft", "capacity": "20 kip" } ] }),
        &json!([]),
    );
    let p = d.force().0.to(KIP);
    let found = &d.rig.reactions[0].anchors;
    near(found[0].force.to(KIP), p * 2.0 / 3.0);
    near(found[1].force.to(KIP), p / 3.0);
    let all = shapes(&d, &d.page());
    assert_eq!(all.iter().filter(|s| s.kind == ShapeKind::Anchor).count(), 2);
    assert!(through(&d).contains("rock"));
}

/// A lorry with axles at 2 and 12 ft: 0.6 and 0.4 of it.
#[test]
fn a_vehicle() {
    let d = terrace(
        &json!({ "id": "lorry", "kind": "vehicle", "stiffness": "50 kip/in", "hold": "40 kip", "axles": [
            { "at": "2 ft", "load": "19 kip", "carries": "60 kip" }, { "at": "12 ft", "load": "13 kip", "carries": "60 kip" } ] }),
        &json!([]),
    );
    let p = d.force().0.to(KIP);
    near(d.rig.bearings[0].factor.unwrap(), 19.0 / (0.6 * p));
    near(d.rig.bearings[1].factor.unwrap(), 13.0 / (0.4 * p));
    // what it gives is part of the stroke
    near(d.rig.largest_rise().to(IN), p / 50.0);
    let page = through(&d);
    assert!(page.contains("lorry"));
    let body = shapes(&d, &d.page()).into_iter().find(|s| s.kind == ShapeKind::Reaction).unwrap();
    near(body.left.to(FT), 2.0);
    near(body.right.to(FT), 12.0);
}

/// Dead weight of 25 and 20 kip on a platform of 10 ft from 1 ft: over its bearings at 2 and 10 ft, the jack at 6.
#[test]
fn a_platform() {
    let d = terrace(
        &json!({ "id": "platform", "kind": "platform", "at": "1 ft", "span": "10 ft",
            "rigidity": { "modulus": "4000 ksi", "second_moment": "6000 in^4" },
            "shear_capacity": "60 kip", "sagging_capacity": "200 kip·ft", "hogging_capacity": "200 kip·ft" }),
        &json!([ { "force": { "value": "25 kip", "origin": "measured" }, "at": "2 ft" },
            { "force": { "value": "20 kip", "origin": "measured" }, "at": "10 ft" } ]),
    );
    let p = d.force().0.to(KIP);
    // by levers: bearings at 1 and 11 ft, weights 1 ft inside of them, the jack in the middle
    near(d.rig.bearings[0].stabilising.to(KIP), 25.0 * 0.9 + 20.0 * 0.1);
    near(d.rig.bearings[1].stabilising.to(KIP), 25.0 * 0.1 + 20.0 * 0.9);
    near(d.rig.bearings[0].uplift.to(KIP), p / 2.0);
    assert!(through(&d).contains("platform"));
}

/// Two presses on two things: a floor of one span below the first, a lorry below the second.
#[test]
fn two_reactions_at_once() {
    let d = scenario("archive_floor", |d| {
        let mut floor = d["rig"]["reaction"].clone();
        floor["span"] = json!("5.5 m");
        let lorry = json!({ "id": "lorry", "kind": "vehicle", "stiffness": "5 kN/mm", "hold": "200 kN", "axles": [
            { "at": "6.5 m", "load": "120 kN", "carries": "400 kN" }, { "at": "11 m", "load": "120 kN", "carries": "400 kN" } ] });
        d["rig"]["reaction"] = json!([floor, lorry]);
        d.as_object_mut().unwrap().remove("stages");
        for i in 1..3 {
            d["shoring"]["catch"][i].as_object_mut().unwrap().remove("on");
        }
    })
    .unwrap();
    assert_eq!(d.rig.reactions.len(), 2);
    for pull in &d.rig.pulls {
        assert_eq!(pull.reaction, usize::from(pull.at > 5.5 * M));
    }
    let right = d.rig.presses.iter().find(|p| p.at > 5.5 * M).unwrap();
    let share = (11.0 - right.at.to(M)) / 4.5;
    let lorry: Vec<_> = d.rig.bearings.iter().filter(|b| &*b.reaction == "lorry").collect();
    near(lorry[0].uplift.to(KN), right.force.0.to(KN) * share);
    assert!(html(&d, None).unwrap().contains("lorry"));
}
