//! What a rig or a catch leaves out counts as what is not so, and is said. Expected values: proportions
//! and springs in series, written beside each.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::scope::Mode;
use proofspan::shoring::{CatchCheck, Catching, Ground, Shoring, ShoringSpec};
use proofspan::source::read_json;
use proofspan::units::*;
use proofspan::{TestDesign, TestSpec, design};
use serde_json::{Value, json};

fn terrace(change: impl Fn(&mut Value)) -> TestDesign {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/scenarios/terrace_strip.test.json");
    let mut document = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    change(&mut document);
    design(TestSpec::from_json(&document.to_string()).unwrap()).unwrap()
}

fn stops(d: &TestDesign) -> Vec<&'static str> {
    d.stops().iter().map(|s| s.slug.code()).collect()
}

fn notes(d: &TestDesign) -> Vec<String> {
    d.notes.iter().map(|n| format!("{} {}", n.slug.code(), n.path)).collect()
}

fn without(part: &'static str, field: &'static str) -> TestDesign {
    terrace(|d| drop(d["rig"][part].as_object_mut().unwrap().remove(field)))
}

/// The scenario with 10 kip at 3 ft has 1.480: enough for 0.9 · s ≥ 1.25 · d (1.389), not for 1.5 (1.667).
#[test]
fn the_lower_floor_needs_a_relief_valve_that_caps() {
    let fine = terrace(|_| {});
    assert!((fine.rig.floor - 1.25 / 0.9).abs() < 1e-12 && stops(&fine).is_empty());
    // p = 2033.8 psi; 1.1 of it is 2237.2
    let relief = |p: &str| terrace(|d| d["rig"]["jacks"]["fittings"]["relief"] = json!(p));
    assert!((relief("2230 psi").rig.floor - 1.25 / 0.9).abs() < 1e-12);
    let unshown = "rig.condition-unshown rig.jacks.fittings.relief".to_owned();
    let none =
        terrace(|d| drop(d["rig"]["jacks"]["fittings"].as_object_mut().unwrap().remove("relief")));
    for high in [relief("2245 psi"), none, without("jacks", "fittings")] {
        assert!((high.rig.floor - 1.5 / 0.9).abs() < 1e-12);
        assert!(stops(&high).contains(&"rig.liftoff-below-floor"), "{:?}", stops(&high));
        assert!(notes(&high).contains(&unshown), "{:?}", notes(&high));
    }
}

/// Weights that were calculated were not weighed.
#[test]
fn the_lower_floor_needs_weights_that_were_weighed() {
    let of = |origin: &str| {
        terrace(|d| d["rig"]["counterweights"][0]["force"]["origin"] = json!(origin))
    };
    for origin in ["calculated", "drawing", "assumed"] {
        let d = of(origin);
        assert!((d.rig.floor - 1.5 / 0.9).abs() < 1e-12, "{origin}");
        let said = "rig.condition-unshown rig.counterweights[0].force".to_owned();
        assert!(notes(&d).contains(&said));
    }
    assert!((of("measured").rig.floor - 1.25 / 0.9).abs() < 1e-12);
}

/// A record that is left out is worth no more than one that says no.
#[test]
fn what_is_not_described_is_not_so() {
    assert_eq!(stops(&without("jacks", "pump")), ["rig.release"]);
    let bare = stops(&without("jacks", "fittings"));
    assert!(bare.contains(&"rig.hose-holds"), "{bare:?}");
    let loose = terrace(|d| drop(d["rig"].as_object_mut().unwrap().remove("train")));
    assert_eq!(stops(&loose), ["rig.train-loose"]);
    let hose = terrace(|d| {
        drop(d["rig"]["jacks"]["fittings"].as_object_mut().unwrap().remove("hose_burst"));
    });
    assert_eq!(stops(&hose), ["rig.hose-margin"]);
    let bent = without("train", "moment");
    assert_eq!(stops(&bent), ["rig.train-bent"]);
    assert_eq!(stops(&without("bars", "working_load")), ["rig.bar-unchecked"]);
    let by_strength = terrace(|d| {
        let bars = d["rig"]["bars"].as_object_mut().unwrap();
        bars.remove("working_load");
        bars.insert("strength".to_owned(), json!("150 ksi"));
    });
    assert!(stops(&by_strength).is_empty(), "{:?}", stops(&by_strength));
    let held = terrace(|d| drop(d["rig"].as_object_mut().unwrap().remove("bars")));
    assert!(notes(&held).contains(&"rig.bars-unsaid rig.bars".to_owned()));
    let open = terrace(|d| {
        let fittings = d["rig"]["jacks"]["fittings"].as_object_mut().unwrap();
        fittings.remove("relief");
    });
    assert!(notes(&open).contains(&"rig.no-relief rig.jacks.fittings.relief".to_owned()));
    let posts = terrace(|d| {
        d["shoring"]["post_stiffness"] = json!("400 kip/in");
        for i in 0..2 {
            d["shoring"]["levels"][i].as_object_mut().unwrap().remove("posts");
        }
    });
    assert_eq!(stops(&posts), ["shoring.posts-unchecked"; 2]);
    let ground = terrace(|d| drop(d["shoring"].as_object_mut().unwrap().remove("ground")));
    assert!(stops(&ground).contains(&"shoring.ground-unchecked"), "{:?}", stops(&ground));
}

/// 10 m with 10 kN/m on a catch at mid-span, 10 mm of drop on 10 kN/mm: 100 (1 + √3) kN.
fn caught(text: &str, ground: Option<&str>) -> CatchCheck {
    let spec: ShoringSpec = read_json(text).unwrap();
    let mut asked = Catching::of(10.0 * M, 10.0 * KN_PER_M, Mode::Shear, 0.0 * M, 1.0 * M);
    asked.catches = spec.catch;
    asked.levels = spec.levels;
    asked.to_ground = true;
    asked.ground = ground.map(|g| read_json::<Ground>(g).unwrap());
    asked.check().unwrap()
}

/// Stops beside that of the stub, which is not looked at here.
fn of_the_posts(s: &Shoring) -> Vec<&'static str> {
    let all = s.stops.iter().map(|s| s.slug.code());
    all.filter(|c| *c != "shoring.piece-uncaught").collect()
}

const CATCH: &str = r#""catch": { "at": "5 m", "stiffness": "10 kN/mm", "gap": "10 mm", "resistance": { "posts": 4, "rated": "200 kN" LEAN } }"#;
const LEVEL: &str = r#""levels": [ { "id": "one", "stiffness": "10 kN/mm", "spare": "SPARE", "spare_after": "own weight",
    "posts": { "stiffness": "10 kN/mm", "resistance": { "posts": 2, "rated": "200 kN" } } } ]"#;

/// One level of 10 kN/mm on posts of 20 kN/mm: on rigid ground it takes a third, were the ground to give
/// way all of it. What is not known counts against each: the level takes all, posts and ground two thirds.
/// Ground of 20 kN/mm makes posts and ground a spring of 10: half and half.
#[test]
fn ground_of_unknown_stiffness_helps_nobody() {
    let f = 100.0 * (1.0 + 3.0_f64.sqrt());
    let text = |spare: &str| {
        format!("{{ {}, {} }}", CATCH.replace("LEAN", ""), LEVEL.replace("SPARE", spare))
    };
    let check = caught(&text("260 kN"), Some(r#"{ "carries": "300 kN" }"#));
    let s = check.shoring;
    let forces: Vec<f64> = s.stack.iter().map(|l| l.force.to(KN)).collect();
    assert!((forces[0] - f).abs() < 1e-9 && (forces[1] - f * 2.0 / 3.0).abs() < 1e-9, "{forces:?}");
    assert!((s.stack[0].posts.to(KN) - f * 2.0 / 3.0).abs() < 1e-9);
    assert_eq!(of_the_posts(&s), ["shoring.level-over-capacity"]);
    assert!(s.notes.iter().any(|n| n.slug.code() == "shoring.ground-stiffness"));
    let known = r#"{ "stiffness": "20 kN/mm", "carries": "300 kN" }"#;
    let s = caught(&text("260 kN"), Some(known)).shoring;
    assert!(
        of_the_posts(&s).is_empty()
            && s.notes.iter().all(|n| n.slug.code() != "shoring.ground-stiffness")
    );
    assert!((s.stack[0].force.to(KN) - f / 2.0).abs() < 1e-9);
}

/// Posts that stand on the ground itself bring all of it there: 273.2 kN, with or without levels.
#[test]
fn the_ground_under_the_catch_itself_is_checked() {
    let f = 100.0 * (1.0 + 3.0_f64.sqrt());
    let text = format!("{{ {} }}", CATCH.replace("LEAN", ""));
    let codes = |ground: Option<&str>| -> Vec<&'static str> {
        of_the_posts(&caught(&text, ground).shoring)
    };
    assert_eq!(codes(None), ["shoring.ground-unchecked"]);
    assert_eq!(codes(Some(r#"{ "carries": "273 kN" }"#)), ["shoring.ground-over-capacity"]);
    assert!(codes(Some(r#"{ "carries": "274 kN" }"#)).is_empty());
    let s = caught(&text, Some(r#"{ "carries": "274 kN" }"#)).shoring;
    assert!((s.stack[0].force.to(KN) - f).abs() < 1e-9);
}

/// Catch posts hold 2.5 % of their force sideways, or what their lean brings; a rated load is that of
/// plumb posts, and it is said.
#[test]
fn catch_posts_lean() {
    let f = 100.0 * (1.0 + 3.0_f64.sqrt());
    let of = |lean: &str| {
        let text = format!("{{ {} }}", CATCH.replace("LEAN", lean));
        caught(&text, Some(r#"{ "carries": "300 kN" }"#)).shoring
    };
    let plumb = of("");
    assert!((plumb.catches[0].sideways.to(KN) - 0.025 * f).abs() < 1e-9);
    assert!(plumb.notes.iter().all(|n| n.slug.code() != "shoring.post-lean"));
    let leans = of(r#", "lean": 0.04"#);
    assert!((leans.catches[0].sideways.to(KN) - 0.04 * f).abs() < 1e-9);
    assert!(
        leans
            .notes
            .iter()
            .any(|n| n.slug.code() == "shoring.post-lean" && n.path.ends_with("resistance.lean"))
    );
}

/// Telescopic props of EN 1065, accidental action, n R_k/1.1: class B, 4.0 m drawn out to 3.0: 68 · 4/9 =
/// 30.222 kN, 27.4747 of one; A of 3.0 m at 2.5: 24.48; at 1.6 m the cap of 44; D: 34 at every length.
#[test]
fn props_by_their_class() {
    let carries = |class: &str, longest: f64, length: f64| {
        let text = format!(
            r#"{{ "catch": {{ "at": "5 m", "stiffness": "10 kN/mm", "gap": "10 mm", "resistance": {{ "posts": 4, "height": "{length} m",
                "prop": {{ "class": "{class}", "longest": "{longest} m" }} }} }} }}"#
        );
        read_json::<ShoringSpec>(&text)?;
        Ok::<f64, proofspan::Error>(
            caught(&text, Some(r#"{ "carries": "300 kN" }"#)).shoring.catches[0].resistance.to(KN),
        )
    };
    for (class, longest, length, one) in [
        ("B", 4.0, 3.0, 68.0 * 4.0 / 9.0),
        ("A", 3.0, 2.5, 24.48),
        ("A", 3.0, 1.6, 44.0),
        ("D", 5.0, 4.9, 34.0),
    ] {
        let found = carries(class, longest, length).unwrap();
        assert!((found - 4.0 * one / 1.1).abs() < 1e-9, "{class}: {found}");
    }
    assert_eq!(carries("B", 3.0, 3.1).unwrap_err().codes(), ["shoring.post-table"]);
    assert_eq!(carries("F", 3.0, 3.0).unwrap_err().codes(), ["source.choice"]);
}

/// 15 kip on 0.30 in² are 50 ksi; 90 kip, those of all six, 300 ksi: no steel works at that.
#[test]
fn the_load_of_all_bars_in_place_of_one() {
    let of = |load: &str| notes(&terrace(|d| d["rig"]["bars"]["working_load"] = json!(load)));
    let code = format!("{} rig.bars.working_load", "rig.bar-magnitude");
    assert!(!of("15 kip").contains(&code));
    assert!(of("90 kip").contains(&code));
}
