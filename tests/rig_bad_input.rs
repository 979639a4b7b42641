//! What a rig and its catch cannot be: refused, or said, each by its code.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, clippy::panic, reason = "tests")]

use proofspan::{TestDesign, TestSpec, design};
use serde_json::{Value, json};

fn document(change: impl Fn(&mut Value)) -> Result<TestDesign, proofspan::Error> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/scenarios/terrace_strip.test.json");
    let mut document = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    change(&mut document);
    design(TestSpec::from_json(&document.to_string())?)
}

fn refused(change: impl Fn(&mut Value)) -> Vec<String> {
    let issues = document(change).err().map_or_else(Vec::new, |e| e.issues);
    issues.iter().map(|i| format!("{} {}", i.slug.code(), i.path)).collect()
}

/// Codes of stops, notes and failed checks.
fn said(change: impl Fn(&mut Value)) -> Vec<&'static str> {
    let d = document(change).unwrap();
    let failed = d.verdicts().filter(|v| v.1.state == proofspan::verdict::State::Fail);
    let mut all: Vec<&str> = failed.map(|v| v.1.slug.code()).collect();
    all.extend(d.stops().iter().map(|s| s.slug.code()));
    all.extend(d.notes.iter().map(|n| n.slug.code()));
    all
}

#[test]
fn what_cannot_be_is_refused() {
    // bars on one side of the jack: the other would have to push
    let compressed = refused(|d| d["rig"]["bars"]["places"] = json!(["7 ft", "9 ft"]));
    assert_eq!(compressed, ["rig.bars-unstable rig.bars.places"]);
    let outside = refused(|d| d["rig"]["counterweights"][0]["at"] = json!("46 ft"));
    assert_eq!(outside, ["rig.counterweight-outside rig.counterweights[0].at"]);
    let gap = refused(|d| d["shoring"]["catch"][0]["gap"] = json!("-0.4 in"));
    assert_eq!(gap, ["shoring.gap-missing shoring.catch[0].gap"]);
    let nothing = refused(|d| {
        d["shoring"]["levels"] = json!([]);
        d["shoring"]["to_ground"] = json!(false);
        d["shoring"].as_object_mut().unwrap().remove("ground");
    });
    assert_eq!(nothing, ["shoring.levels-zero shoring.levels"]);
    let closed = refused(|d| d["rig"]["reaction"]["id"] = json!("T4"));
    assert!(closed.contains(&"rig.reaction-is-test rig.reaction.id".to_owned()), "{closed:?}");
    let carries_itself = refused(|d| d["shoring"]["levels"][0]["id"] = json!(" t4 "));
    let (code, path) = carries_itself[0].split_once(' ').unwrap();
    assert_eq!((code, path), ("shoring.level-is-test", "shoring.levels[0].id"));
    let twice = refused(|d| d["shoring"]["levels"][1]["id"] = json!("level 2"));
    assert_eq!(twice, ["shoring.level-twice shoring.levels[1].id"]);
    let unknown = refused(|d| {
        d["shoring"]["levels"][0].as_object_mut().unwrap().remove("spare");
    });
    assert_eq!(unknown, ["shoring.level-strength shoring.levels[0]"]);
    let resistance = refused(|d| d["shoring"]["catch"][0]["resistance"] = json!({ "posts": 3 }));
    assert_eq!(resistance, ["shoring.resistance shoring.catch[0].resistance"]);
    let area = refused(|d| d["rig"]["jacks"]["piston"] = json!({ "area": "0 in^2" }));
    assert_eq!(area, ["rig.piston rig.jacks.piston.area"]);
    let table = refused(|d| {
        d["shoring"]["catch"][0]["resistance"] = json!({ "posts": 3, "height": "9 ft", "table": [
            { "height": "8 ft", "carries": "12 kip" }, { "height": "10 ft", "carries": "14 kip" } ] });
    });
    assert_eq!(table, ["shoring.post-table shoring.catch[0].resistance.table[1]"]);
    let floor = refused(|d| {
        d["rig"]["blocks"] = json!({
            "kinds": [ { "id": "a", "weight": "2 kip", "length": "2 ft", "width": "2 ft", "number": 4 } ],
            "places": [ { "from": "0 ft", "to": "6 ft" } ] });
    });
    assert_eq!(floor, ["rig.blocks rig.blocks.places[0].carries"]);
    let leak = refused(|d| {
        d["rig"]["jacks"]["hold"] = json!({ "band": 0.05, "expansion": "4e-4 1/°F", "cooling": "20 Δ°F", "warming": "0 Δ°F",
            "leak": { "volume": "0.1 in^3", "over": "0 h" } });
    });
    assert_eq!(leak, ["source.sign rig.jacks.hold.leak.over"]);
}

/// What the reader finds is told at once, and what only the geometry shows is told at once, of rig and of
/// catch.
#[test]
fn all_that_cannot_be_is_told_at_once() {
    let codes = |found: Vec<String>| -> Vec<String> {
        let mut all: Vec<String> =
            found.iter().map(|f| f.split(' ').next().unwrap().to_owned()).collect();
        all.sort();
        all
    };
    let read = refused(|d| {
        d["shoring"]["catch"][0]["gap"] = json!("-0.4 in");
        d["shoring"]["levels"][1]["id"] = json!("level 2");
        d["shoring"]["levels"][0].as_object_mut().unwrap().remove("spare");
        d["rig"]["jacks"]["piston"] = json!({ "area": "0 in^2" });
        d["shoring"]["catch"][1]["resistance"] = json!({ "posts": 3, "height": "9 ft", "table": [
            { "height": "8 ft", "carries": "12 kip" }, { "height": "10 ft", "carries": "14 kip" } ] });
    });
    assert_eq!(
        codes(read),
        [
            "rig.piston",
            "shoring.gap-missing",
            "shoring.level-strength",
            "shoring.level-twice",
            "shoring.post-table"
        ]
    );
    let placed = refused(|d| {
        d["rig"]["bars"]["places"] = json!(["7 ft", "9 ft"]);
        d["rig"]["counterweights"][0]["at"] = json!("46 ft");
        d["rig"]["reaction"]["id"] = json!("T4");
        d["shoring"]["levels"][0]["id"] = json!("t4");
        d["shoring"]["catch"][0]["at"] = json!("46 ft");
    });
    assert_eq!(
        codes(placed),
        [
            "rig.bars-unstable",
            "rig.counterweight-outside",
            "rig.reaction-is-test",
            "shoring.catch-outside",
            "shoring.level-is-test"
        ]
    );
}

/// What is there and endangers people is said; a stress in place of a pressure is asked about.
#[test]
fn what_is_dangerous_is_said() {
    let stress = said(|d| d["rig"]["jacks"]["rated_pressure"] = json!("29000 ksi"));
    assert!(stress.contains(&"rig.pressure-magnitude"), "{stress:?}");
    let coarse = said(|d| {
        d["rig"]["jacks"]["pump"] =
            json!({ "stroke": "1 in^3", "dead_man": true, "remote_release": true });
        d["rig"]["jacks"]["hold"] = json!({ "band": 0.05, "expansion": "4e-4 1/°F", "cooling": "20 Δ°F", "warming": "0 Δ°F" });
    });
    for code in ["rig.pump-coarse", "rig.hold-drift", "rig.leak-unknown", "rig.bars-warm"] {
        assert!(coarse.contains(&code), "{code}: {coarse:?}");
    }
    let unpumped = said(|d| d["rig"]["jacks"]["pump"] = json!({ "stroke": "0.01 in^3" }));
    assert!(unpumped.contains(&"rig.release"));
    let none = said(|_| {});
    assert!(none.iter().all(|c| !c.starts_with("rig.")), "{none:?}");
}

/// The sheet for the crew: every mark of the sketch is a row, heights are to one scale with places, and the
/// checklist has the numbers; names are not markup.
#[test]
fn the_sheet_for_the_crew() {
    use proofspan::report::{ShapeKind, html, shapes};
    let d = document(|d| {
        d["rig"]["reaction"]["id"] = json!("T4 <below>");
        d["shoring"]["catch"][0]["on"] = json!("T4 <below>");
        d["shoring"]["catch"][1]["on"] = json!("T4 <below>");
    })
    .unwrap();
    let all = shapes(&d, &d.page());
    let page = html(&d, None).unwrap();
    for mark in all.iter().map(|s| &s.mark).filter(|m| !m.is_empty()) {
        assert!(page.contains(&format!("<td>{mark}</td>")), "{mark}");
    }
    assert!(!page.contains("T4 <below>") && page.contains("T4 &lt;below&gt;"));
    // the catch stands its gap below the soffit, 22 in deep, and on the reaction
    let catch = all.iter().find(|s| s.kind == ShapeKind::Catch).unwrap();
    assert!((catch.top.to(proofspan::units::IN) - 22.4).abs() < 1e-9);
    let reaction = all.iter().find(|s| s.kind == ShapeKind::Reaction).unwrap();
    assert!((catch.bottom - reaction.top).abs().si() < 1e-12);
    // bars reach from the crosshead to the underside of the reaction: 132 in
    let bar = all.iter().find(|s| s.kind == ShapeKind::Bar).unwrap();
    assert!(((bar.bottom - bar.top).to(proofspan::units::IN) - 132.0).abs() < 1e-9);
    // 45 ft of member over 132 in of bars, read from the picture
    let member = page.split_once("<rect class=\"test\"").unwrap().1;
    let wide = member.split_once("width=\"").unwrap().1.split_once('"').unwrap().0;
    let wide: f64 = wide.parse().unwrap();
    let bars = page.split_once("<line class=\"bar\"").unwrap().1;
    let y = |name: &str| -> f64 {
        bars.split_once(&format!("{name}=\""))
            .unwrap()
            .1
            .split_once('"')
            .unwrap()
            .0
            .parse()
            .unwrap()
    };
    assert!(((y("y2") - y("y1")) / wide - 132.0 / 540.0).abs() < 1e-3);
    for words in
        ["checklist for people", "the one named person", "10000", "Section across the joists"]
    {
        assert!(page.contains(words), "{words}");
    }
}

/// Blocks are chosen for the values given; at the ends of a range they stay, and what they do not hold is
/// not held by others that nobody built.
#[test]
fn blocks_are_not_chosen_anew_at_the_end_of_a_range() {
    let with = |weight: Value| {
        document(|d| {
            d["rig"]["counterweights"] = json!([]);
            d["rig"]["blocks"] = json!({
                "kinds": [ { "id": "block", "weight": weight, "length": "2 ft", "width": "6 ft", "layers": 3, "number": 40 } ],
                "places": [ { "from": "1 ft", "to": "5 ft", "carries": "4000 psf" } ] });
            d["shoring"]["catch"][0]["at"] = json!("6.5 ft");
        })
        .unwrap()
    };
    let held =
        |d: &TestDesign| d.stops().iter().all(|s| s.slug.code() != "rig.liftoff-below-floor");
    let sure = with(json!("2 kip"));
    assert!(held(&sure), "{:?}", sure.stops());
    let number = sure.rig.placement.as_ref().unwrap().lifts;
    // blocks that may be a third lighter: as many as before hold too little
    let unsure = with(json!({ "value": "2 kip", "low": "1.3 kip", "high": "2 kip" }));
    assert_eq!(unsure.rig.placement.as_ref().unwrap().lifts, number);
    assert!(!held(&unsure));
}
