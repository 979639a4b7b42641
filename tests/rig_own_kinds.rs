//! More rigs of one beam, each from the document to the report: three anchors under three bars, a frame on the
//! member. Every number is redone by hand.
//!
//! 6 m, 7.5 kN/m in place, live 5 kPa on 2.5 m: the net test load is 1.6 · 12.5 = 20 kN/m (ACI 437.2-13, from
//! memory), 80 kN·m at 2 m, the edge of the region in doubt, where a jack at 3 m gives P: P = 80 kN.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::report::html;
use proofspan::rig::{Press, RigSpec, check};
use proofspan::source::read_json;
use proofspan::units::*;
use proofspan::verdict::MemberUnit;
use proofspan::{TestDesign, TestSpec, design};
use serde_json::{Value, json};

const P: f64 = 80.0;
/// E I = 26 GPa · 0.002 m⁴, in kN·m².
const EI: f64 = 52_000.0;

#[track_caller]
fn near(value: f64, exact: f64) {
    assert!((value - exact).abs() <= 1e-6 * exact.abs().max(1e-3), "{value} for {exact}");
}

fn tried(rig: &Value) -> TestDesign {
    let mut all = json!({
        "bars": { "number": 2, "area": "1000 mm^2", "length": "3.2 m", "modulus": "205 GPa", "working_load": "60 kN" },
        "jacks": { "number": 1, "piston": { "bore": "100 mm" }, "friction": "3 %", "rated_pressure": "70 MPa", "stroke": "120 mm",
            "oil_volume": "1.5 l", "oil_bulk_modulus": "1500 MPa",
            "pump": { "stroke": "1.2 ml", "dead_man": true, "remote_release": true },
            "fittings": { "hose_burst": "280 MPa", "relief": "11 MPa", "held_at_jack": true } },
        "slack": "6 mm",
        "train": { "plate": "180 mm", "lateral": "4 kN", "moment": "1.5 kN·m", "braced": true, "retained": true },
    });
    for (name, part) in rig.as_object().unwrap() {
        all[name] = part.clone();
    }
    let document = json!({
        "schema_version": 1, "title": "Beam M1",
        "scope": { "member": { "id": "M1", "kind": "beam", "unit": "beam" }, "doubt": { "mode": "flexure", "from": "2 m", "to": "4 m" } },
        "beam": { "kind": "simple", "span": "6 m", "depth": "450 mm", "soft": { "modulus": "26 GPa", "second_moment": "0.002 m^4" }, "stiff": { "modulus": "32 GPa", "second_moment": "0.004 m^4" } },
        "loads": { "width": "2.5 m", "actions": [
            { "action": "self_weight", "area": "3 kPa", "in_place": 1 },
            { "action": "live", "area": "5 kPa", "occupancy": "other" } ] },
        "edition": { "id": "ACI 437.2-13" },
        "layout": { "carrier": { "kind": "jack_line", "at": "3 m" }, "ends": "seated" },
        "rig": all,
        "shoring": { "drive": "locked_off_jacks", "to_ground": true },
        "protocol": { "gauges": [ { "id": "mid", "at": "3 m", "range": "50 mm", "u": "0.02 mm" } ] },
    });
    design(TestSpec::from_json(&document.to_string()).unwrap()).unwrap()
}

fn rig_stops(d: &TestDesign) -> Vec<String> {
    d.rig.stops.iter().map(|s| format!("{} {}", s.slug.code(), s.message)).collect()
}

/// Bars at 1, 3 and 5 m under a stiff crosshead, each to an anchor of its own: a third each. Two bars at
/// 2 m and 4 m between anchors at 1, 3 and 5 m: each pull of 40 kN alone would have to push an outer anchor
/// (1/3 − 1 · 2/8 > 0 holds at 2 m: 0.083), together a third each.
#[test]
fn three_anchors() {
    let bars = |places: &[&str], number: u32| json!({ "number": number, "places": places, "area": "1000 mm^2", "length": "3.2 m", "modulus": "205 GPa", "working_load": "60 kN" });
    let anchors = |at: [&str; 3]| -> Vec<Value> {
        at.iter().map(|x| json!({ "at": x, "capacity": "40 kN" })).collect()
    };
    for (places, number) in [(&["1 m", "3 m", "5 m"][..], 6), (&["2 m", "4 m"][..], 4)] {
        let d = tried(&json!({
            "reaction": { "id": "rock", "kind": "anchors", "stiffness": "35 kN/mm", "anchors": anchors(["1 m", "3 m", "5 m"]) },
            "bars": bars(places, number) }));
        near(d.force().0.to(KN), P);
        for anchor in &d.rig.reactions[0].anchors {
            near(anchor.force.to(KN), P / 3.0);
        }
        assert!(rig_stops(&d).is_empty(), "{:?}", rig_stops(&d));
        assert!(html(&d, None).unwrap().contains("rock"));
    }
    // bars at 1 and 5 m over anchors there and at 2 m: nothing is left for that one
    let d = tried(&json!({
        "reaction": { "id": "rock", "kind": "anchors", "stiffness": "35 kN/mm", "anchors": [
            { "at": "1 m", "capacity": "41 kN" }, { "at": "2 m", "capacity": "40 kN" }, { "at": "5 m", "capacity": "41 kN" }] },
        "bars": bars(&["1 m", "5 m"], 4) }));
    let forces: Vec<f64> = d.rig.reactions[0].anchors.iter().map(|a| a.force.to(KN)).collect();
    for (force, exact) in forces.iter().zip([40.0, 0.0, 40.0]) {
        near(*force, exact);
    }
}

/// A bar at 3 m and anchors at 2.9, 4 and 5 m: the last would have to push, 1/3 − 1.033 · 0.967/2.207 < 0.
#[test]
fn an_anchor_does_not_push() {
    let spec: RigSpec = read_json(
        r#"{ "reaction": { "id": "rock", "kind": "anchors", "stiffness": "35 kN/mm", "anchors": [
            { "at": "2.9 m", "capacity": "400 kN" }, { "at": "4 m", "capacity": "400 kN" }, { "at": "5 m", "capacity": "400 kN" }] },
        "bars": { "number": 2, "area": "1000 mm^2", "length": "3.2 m", "modulus": "205 GPa", "working_load": "60 kN" },
        "jacks": { "number": 1, "piston": { "area": "8000 mm^2" }, "rated_pressure": "70 MPa", "stroke": "120 mm" } }"#,
    )
    .unwrap();
    let press = [Press::jack(3.0 * M, Net(80.0 * KN))];
    let refused = check(&spec, "T", MemberUnit::Beam, &press, 1.0 * MM).unwrap_err();
    assert_eq!(refused.codes(), ["rig.bars-unstable"]);
}

/// A frame holds the member at 0.5 and 5.5 m: P/2 · 1.5 m = 80 kN·m, so P = 106.67 kN. The jack moves
/// against the frame, which goes down with the member where it holds it: P 5³/48 E I, not the deflection
/// from the bearings, P/2/12 at either place, bars, its beam and the slack.
#[test]
fn a_frame_goes_with_the_member() {
    let d = tried(&json!({
        "reaction": { "id": "yoke", "kind": "frame", "stiffness": "12 kN/mm" },
        "bars": { "number": 4, "places": ["0.5 m", "5.5 m"], "area": "1000 mm^2", "length": "1.4 m", "modulus": "205 GPa", "working_load": "60 kN", "tilts": "1 %" },
        "beams": { "id": "yoke beam", "carries": "jack", "span": "5 m", "contact": "0.2 m", "rigidity": "30000 kN·m^2", "moment": "330 kN·m", "shear": "150 kN", "web": "200 kN",
            "sideways": { "formula": "EN 1993-1-1:2005", "curve": "b", "ends_held": true, "modulus": "210 GPa", "yields": "355 MPa", "weak": "2142 cm^4", "torsion": "89.3 cm^4",
                "elastic": "1930 cm^3", "plastic": "2194 cm^3", "depth": "500 mm", "flanges": "484 mm" } } }));
    let p = 80.0 / 0.75;
    near(d.force().0.to(KN), p);
    let bars = p / 4.0 * 1e3 * 1.4 / (205e9 * 1e-3) * 1e3;
    let beam = p * 125.0 / 48.0 / 30e3 * 1e3;
    let member = p * 125.0 / 48.0 / EI * 1e3;
    let h = &d.rig.hydraulics[0];
    near(h.travel.to(MM), member + p / 2.0 / 12.0 + bars + beam + 6.0);
    // the circuit by the stiff prediction, 128/52 as stiff
    let stiff = h.locked.as_ref().unwrap().stiffness.unwrap().to(KN_PER_MM);
    near(stiff, p / ((member + p / 2.0 / 12.0) / (128.0 / 52.0) + bars + beam));
    near(d.rig.beams[0].moment.to(KN_M), p * (5.0 / 4.0 - 0.2 / 8.0));
    let buckles = d.rig.verdicts.iter().find(|v| v.slug.code() == "rig.beam-buckles").unwrap();
    near(buckles.demand.si, 1.5 * p * 1e3 * 5.0 / 4.0);
    assert!(rig_stops(&d).is_empty(), "{:?}", rig_stops(&d));
    let page = html(&d, None).unwrap();
    assert!(page.contains("buckles sideways at") && page.contains("yoke beam"));
    assert!(d.working().unwrap().recheck().is_empty());
}
