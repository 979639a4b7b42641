//! Documents that lie at the joints of the chain, by the public API of the layout. Expected values:
//! statics of a simple span, written beside each.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::source::Write;
use proofspan::units::*;
use proofspan::verdict::State;
use proofspan::{Error, TestDesign, TestSpec, design};
use serde_json::{Value, json};

fn gallery(carrier: &Value) -> Value {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/scenarios/gallery_beam.test.json");
    let mut document: Value =
        serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    document["layout"] = json!({ "carrier": carrier, "ends": "seated" });
    document
}

fn tested(document: &Value) -> Result<TestDesign, Error> {
    design(TestSpec::from_json(&document.to_string())?)
}

fn short(design: &TestDesign) -> (State, f64) {
    let verdict =
        design.layout.verdicts.iter().find(|v| v.slug.code() == "equivalent.short").unwrap();
    (verdict.state, verdict.demand.si)
}

/// The force found at mid-span of 9 m brings P 4.5/2 there. From 3 m the same force brings
/// P 3/9 · 4.5 = 1.5 P at mid-span, and P 3/9 · 3.6 = 1.2 P at 5.4 m, where a jack at mid-span brings
/// P/2 · 3.6 = 1.8 P. The jack at mid-span is governed by one place of the region; there, or at another,
/// the one at 3 m reaches at most 2/3 of it.
#[test]
fn the_range_of_a_place_moves_the_jack() {
    let known = tested(&gallery(&json!({ "kind": "jack_line", "at": "4.5 m" }))).unwrap();
    assert_eq!(short(&known).0, State::Pass);
    let at = json!({ "value": "4.5 m", "low": "3 m", "high": "4.5 m" });
    let ranged = tested(&gallery(&json!({ "kind": "jack_line", "at": at }))).unwrap();
    assert_eq!(known.layout.force, ranged.layout.force);
    let (state, fidelity) = short(&ranged);
    assert_eq!(state, State::Inconclusive);
    assert!(fidelity <= 2.0 / 3.0 + 1e-9, "{fidelity}");
    assert!(ranged.notes.iter().any(|n| n.path == "layout.carrier.at"));
}

/// Layers that were found stay; at half the unit weight they bring half of it.
#[test]
fn the_range_of_a_unit_weight_moves_the_force_not_the_layers() {
    let bags = |weight: Value| {
        json!({ "kind": "bags", "from": "0.5 m", "to": "8.5 m", "pile": "1 m", "gap": "0.2 m", "width": "3 m",
            "unit_weight": weight, "layer": "0.1 m", "most_layers": 20 })
    };
    let of = |weight: Value| {
        let mut document = gallery(&bags(weight));
        document["shoring"]["drive"] = "weights".into();
        tested(&document).unwrap()
    };
    let known = of("15 kN/m^3".into());
    let (_, full) = short(&known);
    let ranged = of(json!({ "value": "15 kN/m^3", "low": "7.5 kN/m^3", "high": "15 kN/m^3" }));
    let (state, least) = short(&ranged);
    assert_eq!(state, State::Inconclusive);
    // fidelity is at most told as 1 where it is more; six layers bring at most one seventh above it
    assert!(least >= full / 2.0 - 1e-9 && least < 0.7, "{least} of {full}");
}

/// Two lines on one pump share its pressure: one force each, though the places differ. With equal
/// forces at 3.5 m and 5.7 m the left reaction is P (5.5 + 3.3)/9.
#[test]
fn lines_of_one_circuit_push_with_one_force() {
    let two = json!([{ "kind": "jack_line", "at": "3.5 m", "circuit": "A" },
        { "kind": "jack_line", "at": "5.7 m", "circuit": "A" }]);
    let design = tested(&gallery(&two)).unwrap();
    let [a, b] = &design.layout.carriers[..] else { panic!() };
    assert!((a.force.0 / b.force.0 - 1.0).abs() < 1e-12);
    let shear = design.layout.response.shear(0.0 * M, proofspan::beam::Side::Right).unwrap().si();
    assert!((shear / (a.force.0.si() * 8.8 / 9.0) - 1.0).abs() < 1e-9);
}

/// Water found with a depth of which a lower rim leaves no room.
#[test]
fn a_rim_that_may_be_lower() {
    let rim = json!({ "value": "2 m", "low": "0.3 m", "high": "2 m" });
    let water = json!({ "kind": "water", "from": "0 m", "to": "9 m", "width": "3 m", "rim": rim, "freeboard": "0.1 m" });
    let mut document = gallery(&water);
    document["shoring"]["drive"] = "weights".into();
    let error = tested(&document).unwrap_err();
    assert_eq!(error.codes(), ["equivalent.freeboard"]);
    assert_eq!(error.issues[0].path, "layout.carrier.rim");
}

/// A check that fails within a range of a carrier holds as a stop.
#[test]
fn the_range_of_a_force_reaches_the_stops() {
    let force = json!({ "value": "106 kN", "low": "106 kN", "high": "900 kN" });
    let design =
        tested(&gallery(&json!({ "kind": "jack_line", "at": "4.5 m", "force": force }))).unwrap();
    let held: Vec<&str> = design.stops().iter().map(|s| s.slug.code()).collect();
    assert!(held.contains(&"rig.liftoff-below-floor"), "{held:?}");
    assert!(design.cleared().is_err());
    assert!(proofspan::source::write_json(&design.write()).contains("rig.liftoff-below-floor"));
}
