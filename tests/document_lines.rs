//! Laws of whole documents with lines of spans: shift of the origin, mirror, unit system, a stiffer and
//! stiffer spring, a hinge over an inner support, one stage twice.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::units::*;
use proofspan::{TestDesign, TestSpec, design};
use serde_json::{Value, json};

const FEET: f64 = 0.3048;

/// How a document is told: how far its first bearing stands from its left end, from which side it is
/// looked at, in which units.
#[derive(Clone, Copy)]
struct Told {
    shift: f64,
    mirrored: bool,
    feet: bool,
}

const PLAIN: Told = Told { shift: 0.0, mirrored: false, feet: false };

impl Told {
    fn length(self, x: f64) -> Value {
        if self.feet { format!("{:?} ft", x / FEET) } else { format!("{x:?} m") }.into()
    }
    /// A place on the line, which is 11 m long and has the shift before it.
    fn place(self, x: f64) -> f64 {
        if self.mirrored { 11.0 + self.shift - x } else { x + self.shift }
    }
    fn at(self, x: f64) -> Value {
        self.length(self.place(x))
    }
    fn stretch(self, a: f64, b: f64) -> (Value, Value) {
        if self.mirrored { (self.at(b), self.at(a)) } else { (self.at(a), self.at(b)) }
    }
    fn in_order(self, mut all: Vec<Value>) -> Vec<Value> {
        if self.mirrored {
            all.reverse();
        }
        all
    }
}

/// Two spans of 6 and 5 m, hogging over the inner support in doubt, two jack lines, two stages the second
/// of which is the sagging beside it; the reaction on two spans, three catches. `inner` is what the inner
/// support is beside a bearing.
fn document(t: Told, inner: &Value) -> Value {
    let (from, to) = t.stretch(5.6, 6.5);
    let (left, right) = t.stretch(0.0, 11.0);
    let mut middle = json!({ "at": t.at(6.0) });
    for (k, v) in inner.as_object().unwrap() {
        middle[k] = v.clone();
    }
    let supports =
        t.in_order(vec![json!({ "at": t.at(0.0) }), middle, json!({ "at": t.at(11.0) })]);
    let line = |x: f64| json!({ "kind": "jack_line", "at": t.at(x), "circuit": format!("c{x}") });
    let jacks = |x: f64| json!({ "circuit": format!("c{x}"), "number": 1, "piston": { "area": "3000 mm^2" }, "rated_pressure": "90 MPa", "stroke": "100 mm" });
    let catch = |x: f64| json!({ "at": t.at(x), "stiffness": "20 kN/mm", "gap": "15 mm", "resistance": { "posts": 6, "rated": "90 kN" } });
    let spans = t.in_order(vec![t.length(5.5), t.length(6.5)]);
    // the reaction reaches from half a metre left of the line to half a metre right of it
    let first = if t.mirrored { t.place(11.5) } else { t.place(-0.5) };
    json!({
        "schema_version": 1, "title": "Law",
        "scope": { "member": { "id": "R7", "kind": "beam", "unit": "beam" }, "doubt": { "mode": "hogging", "from": from, "to": to } },
        "beam": {
            "kind": "continuous", "supports": supports, "depth": "400 mm",
            "soft": { "modulus": "26 GPa", "second_moment": "0.0009 m^4" },
            "stiff": { "modulus": "30 GPa", "second_moment": "0.0020 m^4" },
        },
        "loads": { "width": t.length(1.2), "actions": [
            { "action": "self_weight", "area": "4.5 kPa", "in_place": 1, "from": left, "to": right },
            { "action": "live", "area": "5 kPa", "occupancy": "other", "from": left, "to": right },
        ] },
        "edition": { "id": "ACI 437.2-13" },
        "layout": { "carrier": t.in_order(vec![line(3.0), line(8.5)]), "ends": "seated" },
        "rig": {
            "reaction": {
                "id": "below", "at": t.length(first), "span": spans, "self_weight": "40 kN/m", "seat": "seated",
                "rigidity": { "modulus": "27 GPa", "second_moment": "0.0015 m^4" },
                "shear_capacity": "900 kN", "sagging_capacity": "900 kN·m", "hogging_capacity": "900 kN·m",
            },
            "jacks": [jacks(3.0), jacks(8.5)],
        },
        "shoring": { "drive": "locked_off_jacks", "to_ground": true, "catch": t.in_order(vec![catch(1.5), catch(4.5), catch(7.5)]) },
        "protocol": { "gauges": [ { "id": "g", "at": t.at(3.0), "range": "50 mm" } ] },
    })
}

fn designed(mut document: Value) -> TestDesign {
    let beam = document["beam"].as_object_mut().unwrap();
    beam.retain(|_, v| !v.is_null());
    design(TestSpec::from_json(&document.to_string()).unwrap()).unwrap()
}

/// Forces, overshoots, reactions below, catches and the reading at 3 m, seen from the left of the line.
fn numbers(d: &TestDesign, t: Told) -> Vec<f64> {
    let turned = |mut all: Vec<f64>| {
        if t.mirrored {
            all.reverse();
        }
        all
    };
    let mut all = turned(d.layout.carriers.iter().map(|c| c.force.0.si()).collect());
    all.extend(d.layout.overshoots.iter().map(|o| o.ratio.value()));
    all.extend(turned(d.rig.bearings.iter().filter_map(|b| b.factor).collect()));
    for stage in &d.rig.stages {
        all.extend(turned(stage.reactions.iter().map(|r| r.force.si()).collect()));
    }
    all.extend(turned(d.shoring.catches.iter().map(|c| c.own.si() + c.test.si()).collect()));
    all.extend(turned(d.shoring.catches.iter().map(|c| c.force.si()).collect()));
    all.push(d.layout.response.deflection(t.place(3.0) * M).unwrap().si());
    all
}

fn close(a: &[f64], b: &[f64], tolerance: f64) {
    assert_eq!(a.len(), b.len());
    for (i, (a, b)) in a.iter().zip(b).enumerate() {
        assert!((a - b).abs() <= tolerance * a.abs().max(b.abs()).max(1e-3), "{i}: {a} {b}");
    }
}

fn bearing() -> Value {
    json!({})
}

#[test]
fn a_shift_of_the_origin_changes_no_number() {
    let plain = numbers(&designed(document(PLAIN, &bearing())), PLAIN);
    for shift in [0.4, 1.7] {
        let t = Told { shift, ..PLAIN };
        close(&plain, &numbers(&designed(document(t, &bearing())), t), 1e-8);
    }
}

#[test]
fn seen_from_the_right_it_is_the_same() {
    let plain = numbers(&designed(document(PLAIN, &bearing())), PLAIN);
    let t = Told { mirrored: true, ..PLAIN };
    close(&plain, &numbers(&designed(document(t, &bearing())), t), 1e-8);
    let spring = json!({ "stiffness": "80 kN/mm" });
    let plain = numbers(&designed(document(PLAIN, &spring)), PLAIN);
    close(&plain, &numbers(&designed(document(t, &spring)), t), 1e-8);
}

#[test]
fn in_feet_it_is_the_same() {
    let plain = numbers(&designed(document(PLAIN, &bearing())), PLAIN);
    let t = Told { feet: true, ..PLAIN };
    close(&plain, &numbers(&designed(document(t, &bearing())), t), 1e-8);
}

/// The difference from a bearing falls as the stiffness rises, tenfold by tenfold.
#[test]
fn a_stiffer_and_stiffer_spring_tends_to_a_bearing() {
    let force = |inner: &Value| designed(document(PLAIN, inner)).force().0.si();
    let held = force(&bearing());
    let apart = |k: f64| (force(&json!({ "stiffness": format!("{k:?} kN/mm") })) - held).abs();
    let far: Vec<f64> = [1e2, 1e3, 1e4, 1e5].into_iter().map(apart).collect();
    assert!(far[0] > 1e-4 * held, "{far:?}");
    for pair in far.windows(2) {
        assert!((pair[0] / pair[1] - 10.0).abs() < 1.0, "{far:?}");
    }
    let (stiff, rigid) = (json!({ "stiffness": "1000000000 kN/mm" }), bearing());
    let of = |inner: &Value| numbers(&designed(document(PLAIN, inner)), PLAIN);
    close(&of(&stiff), &of(&rigid), 1e-5);
}

/// The left span in sagging under one jack: with a hinge over the inner support it is a span of its own.
#[test]
fn a_hinge_over_the_inner_support_makes_two_spans() {
    let one = |line: bool| {
        let mut d = document(PLAIN, &bearing());
        d["scope"]["doubt"] = json!({ "mode": "flexure", "from": "2.5 m", "to": "3.5 m" });
        d["layout"]["carrier"] = json!({ "kind": "jack_line", "at": "3 m" });
        d["rig"]["jacks"] = json!({ "number": 1, "piston": { "area": "3000 mm^2" }, "rated_pressure": "90 MPa", "stroke": "100 mm" });
        d["shoring"]["catch"].as_array_mut().unwrap().pop();
        let end = if line { "11 m" } else { "6 m" };
        for action in d["loads"]["actions"].as_array_mut().unwrap() {
            action["to"] = end.into();
        }
        if line {
            d["beam"]["hinges"] = json!(["6 m"]);
        } else {
            d["beam"]["kind"] = "simple".into();
            d["beam"]["span"] = "6 m".into();
            d["beam"]["supports"] = Value::Null;
        }
        numbers(&designed(d), PLAIN)
    };
    close(&one(true), &one(false), 1e-8);
}

#[test]
fn one_stage_twice_is_the_same_as_once() {
    let once = document(PLAIN, &bearing());
    let mut twice = once.clone();
    twice["stages"] = json!([{ "name": "again", "doubt": once["scope"]["doubt"], "layout": once["layout"], "rig": once["rig"], "shoring": once["shoring"] }]);
    let (once, twice) = (designed(once), designed(twice));
    assert_eq!(twice.later().len(), 1);
    for stage in [&twice, &twice.later()[0].1] {
        assert_eq!(numbers(stage, PLAIN), numbers(&once, PLAIN));
    }
}
