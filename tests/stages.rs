//! A test in stages: each a design of its own, one after the other.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::error::Error;
use proofspan::report;
use proofspan::source::{Write, write_json};
use proofspan::{TestDesign, TestSpec, design};
use serde_json::{Value, json};

fn gallery() -> Value {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/scenarios/gallery_beam.test.json");
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

fn tested(document: &Value) -> Result<TestDesign, Error> {
    design(TestSpec::from_json(&document.to_string())?)
}

/// The same beam once more, for another stretch.
fn beside() -> Value {
    json!({ "name": "left third", "doubt": { "mode": "flexure", "from": "2.5 m", "to": "3.6 m" } })
}

/// One stage twice is the same as once, stage by stage.
#[test]
fn one_stage_twice_is_the_same_as_once() {
    let mut document = gallery();
    let once = tested(&document).unwrap();
    document["stages"] = json!([{ "name": "again", "doubt": document["scope"]["doubt"] }]);
    let twice = tested(&document).unwrap();
    assert_eq!(twice.later().len(), 1);
    let (name, again) = &twice.later()[0];
    assert_eq!(name, "again");
    assert_eq!((&again.layout, &again.rig), (&twice.layout, &twice.rig));
    assert_eq!(once.layout.force, twice.layout.force);
    // what both say is said once
    assert_eq!(twice.stops().len(), once.stops().len());
    assert_eq!(twice.notes.len(), once.notes.len());
}

/// A stage is the document with its own parts in their place.
#[test]
fn a_stage_is_the_document_with_its_parts() {
    let mut document = gallery();
    document["stages"] = json!([beside()]);
    let both = tested(&document).unwrap();
    let mut alone = gallery();
    alone["scope"]["doubt"] = beside()["doubt"].clone();
    let alone = tested(&alone).unwrap();
    let stage = &both.later()[0].1;
    assert_eq!(stage.layout, alone.layout);
    assert_eq!(stage.target, alone.target);
    let json = write_json(&both.write());
    assert!(json.contains("left third"));
    let page = report::html(&both, None).unwrap();
    assert!(page.contains("Stage left third") && page.contains("zero is read anew"));
}

/// A stop in a later stage holds the whole test, and says which stage.
#[test]
fn a_stop_in_a_stage_holds_all() {
    let mut document = gallery();
    let mut stage = beside();
    stage["shoring"] = document["shoring"].clone();
    stage["shoring"].as_object_mut().unwrap().remove("catch");
    document["stages"] = json!([stage]);
    let held = tested(&document).unwrap();
    let stop = held.holding().find(|s| s.slug.code() == "shoring.catch-missing").unwrap();
    assert_eq!(stop.path, "stages[0].shoring.catch");
    assert!(stop.message.to_string().contains("left third"), "{}", stop.message);
    assert!(held.schedule().is_err() && held.later()[0].1.schedule().is_err());
    // and one in the first stage holds the later one
    let mut document = gallery();
    document["shoring"].as_object_mut().unwrap().remove("catch");
    let mut stage = beside();
    stage["shoring"] = gallery()["shoring"].clone();
    document["stages"] = json!([stage]);
    let held = tested(&document).unwrap();
    assert!(held.later()[0].1.schedule().is_err());
}

#[test]
fn stages_that_cannot_be() {
    let with = |stages: Value| {
        let mut document = gallery();
        document["stages"] = stages;
        let error = tested(&document).unwrap_err();
        error.issues.into_iter().map(|i| (i.slug.code(), i.path)).collect::<Vec<_>>()
    };
    let of = |code: &'static str, path: &str| vec![(code, path.to_owned())];
    assert_eq!(with(json!([{ "name": "a" }])), of("scope.stage-region", "stages[0].doubt"));
    assert_eq!(with(json!([beside(), beside()])), of("scope.stage-name", "stages[1].name"));
    let mut first = beside();
    first["name"] = "first".into();
    assert_eq!(with(json!([first])), of("scope.stage-name", "stages[0].name"));
    let mut beyond = beside();
    beyond["doubt"]["to"] = "9.5 m".into();
    assert_eq!(with(json!([beyond])), of("scope.region-outside", "stages[0].doubt"));
}
