//! What each carrier brings at each step, and what clears no step at all.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::units::KN;
use proofspan::{TestDesign, TestSpec, design};
use serde_json::{Value, json};

fn gallery(changes: &[(&str, Value)]) -> TestDesign {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/scenarios/gallery_beam.test.json");
    let mut document: Value =
        serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    for (place, value) in changes {
        let (parent, field) = place.rsplit_once('/').unwrap();
        document.pointer_mut(parent).unwrap()[field] = value.clone();
    }
    design(TestSpec::from_json(&document.to_string()).unwrap()).unwrap()
}

/// Two jack lines on circuits of their own: at half of the load each has half of its force, the pressure
/// is force over piston area and 0.98 for friction.
#[test]
fn each_line_on_its_circuit() {
    let jacks = |circuit: &str, bore: &str| {
        json!({ "circuit": circuit, "number": 1, "piston": { "bore": bore }, "friction": "2 %",
            "rated_pressure": "70 MPa", "stroke": "150 mm",
            "pump": { "stroke": "1 ml", "dead_man": true, "remote_release": true },
            "fittings": { "hose_burst": "280 MPa", "held_at_jack": true } })
    };
    let line = |at: &str, circuit: &str, force: &str| json!({ "kind": "jack_line", "at": at, "circuit": circuit, "force": force });
    let bars = json!({ "number": 4, "area": "552 mm^2", "length": "3.6 m", "modulus": "205 GPa", "working_load": "340 kN" });
    let design = gallery(&[
        ("/layout/carrier", json!([line("3.5 m", "a", "40 kN"), line("5.5 m", "b", "56 kN")])),
        ("/rig/jacks", json!([jacks("a", "110 mm"), jacks("b", "140 mm")])),
        ("/rig/bars", json!([bars, bars])),
        // oil that is not described: all of the test load comes down on the level
        ("/shoring/levels/0/spare", json!("140 kN")),
        ("/shoring/levels/0/posts/resistance/rated", json!("260 kN")),
        ("/shoring/ground/carries", json!("1000 kN")),
    ]);
    let steps = &design.schedule().unwrap().steps;
    let half = steps.iter().find(|s| (s.fraction.value() - 0.5).abs() < 1e-12).unwrap();
    for (carrier, (force, bore)) in half.carriers.iter().zip([(20.0, 110.0), (28.0, 140.0)]) {
        assert!((carrier.force.0.to(KN) - force).abs() < 1e-9);
        assert!((carrier.force_per_jack.unwrap().0.to(KN) - force).abs() < 1e-9);
        let area = std::f64::consts::PI * bore * bore / 4.0 * 1e-6;
        let by_hand = force * 1e3 / (area * 0.98);
        assert!((carrier.pressure.unwrap().si() / by_hand - 1.0).abs() < 1e-9);
    }
}

/// Eight layers at a quarter are two; seven leave a part of a layer, which is said.
#[test]
fn layers_of_a_stack() {
    let stack = |layers: u32| {
        json!({ "kind": "bags", "from": "1.5 m", "to": "7.5 m", "pile": "0.9 m", "gap": "0.1 m", "width": "2 m",
            "unit_weight": "12 kN/m^3", "layer": "0.1 m", "most_layers": 12, "layers": layers })
    };
    let notes = |d: &TestDesign| d.notes.iter().any(|n| n.slug.code() == "protocol.part-layer");
    let with = |layers: u32| {
        gallery(&[
            ("/layout/carrier", stack(layers)),
            ("/shoring/drive", json!("weights")),
            ("/protocol/steps", json!([0.25, 0.5, 0.75, 1])),
        ])
    };
    let eight = with(8);
    assert_eq!(eight.layout.carriers[0].layers, Some(8.0));
    assert!(!notes(&eight) && notes(&with(7)));
}

/// Without a gauge, or with the load in one step, nothing is cleared.
#[test]
fn what_clears_no_step() {
    let held = |d: &TestDesign| d.holding().map(|s| s.slug.code()).collect::<Vec<_>>();
    assert!(held(&gallery(&[])).is_empty());
    let unwatched = gallery(&[("/protocol/gauges", json!([]))]);
    assert_eq!(held(&unwatched), ["protocol.unwatched"]);
    assert!(unwatched.schedule().is_err());
    let one = proofspan::source::read_json::<proofspan::protocol::ProtocolSpec>(
        r#"{"steps":[1],"gauges":[{"id":"g","at":"1 m"}]}"#,
    );
    let stops = one.unwrap().stops();
    assert_eq!(stops.iter().map(|s| s.slug.code()).collect::<Vec<_>>(), ["protocol.one-step"]);
    assert!(stops.iter().all(|s| !s.liftable()));
}
