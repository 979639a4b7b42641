//! One beam, six rigs, each from the document to the report: a member below with whole blocks, a member
//! below with water, dead weight on a platform, anchors, a lorry, a frame. Every number is redone by hand.
//!
//! 8 m, 10 kN/m in place, live 4 kPa on 2 m: the net test load is 1.6 · 8 = 12.8 kN/m (ACI 437.2-13, from
//! memory), 96 kN·m at 3 m, the edge of the region in doubt, where a jack at 4 m gives 1.5 P: P = 64 kN.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::report::{ShapeKind, html, shapes};
use proofspan::units::*;
use proofspan::{TestDesign, TestSpec, design};
use serde_json::{Value, json};

const P: f64 = 64.0;
/// E I = 25 GPa · 0.004 m⁴, in kN·m².
const EI: f64 = 1e5;

#[track_caller]
fn near(value: f64, exact: f64) {
    assert!((value - exact).abs() <= 1e-6 * exact.abs().max(1e-3), "{value} for {exact}");
}

fn tried(rig: &Value) -> TestDesign {
    let mut all = json!({
        "bars": { "number": 2, "area": "900 mm^2", "length": "3 m", "modulus": "200 GPa", "working_load": "60 kN" },
        "jacks": { "number": 1, "piston": { "area": "8000 mm^2" }, "rated_pressure": "70 MPa", "stroke": "100 mm",
            "pump": { "stroke": "1 ml", "dead_man": true, "remote_release": true },
            "fittings": { "hose_burst": "60 MPa", "relief": "8.5 MPa", "held_at_jack": true } },
        "slack": "5 mm",
        "train": { "plate": "200 mm", "lateral": "3 kN", "moment": "2 kN·m", "braced": true, "retained": true },
    });
    for (name, part) in rig.as_object().unwrap() {
        all[name] = part.clone();
    }
    let document = json!({
        "schema_version": 1, "title": "Beam B3",
        "scope": { "member": { "id": "B3", "kind": "beam", "unit": "beam" }, "doubt": { "mode": "flexure", "from": "3 m", "to": "5 m" } },
        "beam": { "kind": "simple", "span": "8 m", "depth": "500 mm", "soft": { "modulus": "25 GPa", "second_moment": "0.004 m^4" }, "stiff": { "modulus": "30 GPa", "second_moment": "0.008 m^4" } },
        "loads": { "width": "2 m", "actions": [
            { "action": "self_weight", "area": "5 kPa", "in_place": 1 },
            { "action": "live", "area": "4 kPa", "occupancy": "other" },
        ] },
        "edition": { "id": "ACI 437.2-13" },
        "layout": { "carrier": { "kind": "jack_line", "at": "4 m" }, "ends": "seated" },
        "rig": all,
        "shoring": { "drive": "locked_off_jacks", "to_ground": true,
            "ground": { "stiffness": "20 kN/mm", "carries": "700 kN" },
            "levels": [ { "id": "floor below", "stiffness": "5 kN/mm", "spare": "400 kN", "spare_after": "own weight and rig",
                "posts": { "stiffness": "10 kN/mm", "resistance": { "posts": 2, "rated": "400 kN" } } } ],
            "catch": [
                { "at": "2 m", "stiffness": "10 kN/mm", "gap": "10 mm", "resistance": { "posts": 4, "rated": "150 kN" } },
                { "at": "6 m", "stiffness": "10 kN/mm", "gap": "10 mm", "resistance": { "posts": 4, "rated": "150 kN" } },
            ] },
        "protocol": { "gauges": [ { "id": "mid", "at": "4 m", "range": "50 mm", "u": "0.02 mm" } ] },
    });
    design(TestSpec::from_json(&document.to_string()).unwrap()).unwrap()
}

/// Nothing of the rig stops it, the report and the sketch hold what is pulled on.
#[track_caller]
fn through(d: &TestDesign, name: &str) -> String {
    let rig: Vec<String> =
        d.rig.stops.iter().map(|s| format!("{} {}", s.slug.code(), s.message)).collect();
    assert!(rig.is_empty(), "{rig:?}");
    let page = html(d, None).unwrap();
    assert!(page.contains(name), "{name}");
    assert!(shapes(d, &d.page()).iter().any(|s| s.kind == ShapeKind::Jack));
    page
}

fn below(more: &Value) -> Value {
    let mut rig = json!({ "reaction": { "id": "B2", "at": "0 m", "span": "8 m", "self_weight": "10 kN/m", "seat": "seated",
        "rigidity": { "modulus": "25 GPa", "second_moment": "0.004 m^4" },
        "shear_capacity": "150 kN", "sagging_capacity": "300 kN·m", "hogging_capacity": "60 kN·m" } });
    for (name, part) in more.as_object().unwrap() {
        rig[name] = part.clone();
    }
    rig
}

/// Each bearing is lifted by 32 kN and held by 40: 53.3 are asked. One block of 20 kN brings at most
/// 20 · 5/8 = 12.5 to either and less to the other, two bring 20 together wherever they stand: two lifts.
/// The catch: a crack at 5 m leaves 10 · 5²/2/2 = 62.5 kN of own weight on the catch at 2 m and the jack by
/// 4/2, which falls as a weight, for nothing is known of the oil.
#[test]
fn a_member_below_with_whole_blocks() {
    let d = tried(&below(&json!({ "blocks": {
        "kinds": [{ "id": "block", "weight": "20 kN", "length": "1 m", "width": "1 m", "layers": 2, "number": 6 }],
        "places": [{ "from": "2.5 m", "to": "5.5 m", "carries": "100 kPa" }] } })));
    near(d.force().0.to(KN), P);
    let placed = d.rig.placement.as_ref().unwrap();
    assert_eq!(placed.lifts, 2);
    let standing = d.rig.standing(&d.spec.rig);
    let lever = |far: f64| {
        standing.iter().map(|(x, c)| c.to(KN) * (far - x.to(M)).abs() / 8.0).sum::<f64>()
    };
    for (bearing, far) in d.rig.bearings.iter().zip([8.0, 0.0]) {
        near(bearing.factor.unwrap(), (40.0 + lever(far)) / 32.0);
        assert!(bearing.factor.unwrap() >= 1.5 / 0.9);
    }
    let h = &d.rig.hydraulics[0];
    near(h.pressure.to(MPA_FLUID), P * 1e3 / 8000.0);
    let v = P * 512.0 / 48.0 / EI * 1e3;
    let bars = 32.0e3 * 3.0 / (200e9 * 900e-6) * 1e3;
    near(h.bar_stretch.to(MM), bars);
    near(h.travel.to(MM), 2.0 * v + bars + 5.0);
    let catch = &d.shoring.catches[0];
    near(catch.own.to(KN), 62.5);
    near(catch.test.to(KN), 128.0);
    let w = 190.5;
    near(catch.force.to(KN), w * (1.0 + (1.0_f64 + 2.0 * 10.0 * 10.0 / w).sqrt()));
    // P x (3 L² − 4 x²)/48 E I at 2 m is the least gap
    near(catch.gap_low.to(MM), P * 2.0 * (192.0 - 16.0) / 48.0 / EI * 1e3);
    // posts of 2 · 10 on ground of 20: 10 kN/mm beside the floor of 5
    near(d.shoring.levels[0].share.value(), 1.0 / 3.0);
    let load = d.shoring.force.to(KN);
    near(d.shoring.stack[0].force.to(KN), load / 3.0);
    near(d.shoring.stack[1].force.to(KN), load * 2.0 / 3.0);
    let page = through(&d, "B2");
    assert!(page.contains("2 x block"));
}

/// Water 1 m deep on 6 m² may fall by 0.3 m: 0.7 · 6 · 9.81 kN hold, 58.86 bend.
#[test]
fn a_member_below_with_water() {
    let mut rig = below(&json!({ "counterweights": [
        { "at": "4 m", "water": { "area": "6 m^2", "depth": "1 m", "falls": "0.3 m" } } ] }));
    rig["reaction"]["sagging_capacity"] = json!("326 kN·m");
    let d = tried(&rig);
    let left = 0.7 * 6.0 * 9.81;
    for bearing in &d.rig.bearings {
        near(bearing.factor.unwrap(), (40.0 + left / 2.0) / 32.0);
    }
    let full = d.rig.stages.iter().find(|s| s.name.starts_with("tanks full, P = 0")).unwrap();
    near(full.sagging.to(KN_M), 80.0 + 58.86 * 2.0);
    // lost at once: what is placed and the jack force down
    let lost = d.rig.stages.iter().find(|s| s.name.starts_with("tanks full, P lost")).unwrap();
    near(lost.sagging.to(KN_M), 80.0 + (58.86 + P) * 2.0);
    through(&d, "B2");
}

/// 60 kN at 3 and at 5 m of a platform of steel on bearings at 2 and 6 m: 60 against 32.
#[test]
fn dead_weight_on_a_platform() {
    let d = tried(&json!({
        "reaction": { "id": "platform", "kind": "platform", "at": "2 m", "span": "4 m", "rigidity": { "modulus": "200 GPa", "second_moment": "0.0002 m^4" },
            "shear_capacity": "200 kN", "sagging_capacity": "200 kN·m", "hogging_capacity": "60 kN·m" },
        "counterweights": [ { "at": "3 m", "force": "60 kN" }, { "at": "5 m", "force": "60 kN" } ] }));
    for bearing in &d.rig.bearings {
        near(bearing.factor.unwrap(), 60.0 / 32.0);
    }
    // it rises by P L³/48 E I
    near(d.rig.largest_rise().to(MM), P * 64.0 / 48.0 / 40e3 * 1e3);
    through(&d, "platform");
}

/// Anchors at 3 and 6 m: two thirds and one third of 64, giving 20 kN/mm in all.
#[test]
fn anchors_in_the_ground() {
    let d = tried(
        &json!({ "reaction": { "id": "rock", "kind": "anchors", "stiffness": "20 kN/mm", "anchors": [
        { "at": "3 m", "capacity": "45 kN" }, { "at": "6 m", "capacity": "22 kN" } ] } }),
    );
    let found = &d.rig.reactions[0].anchors;
    near(found[0].force.to(KN), P * 2.0 / 3.0);
    near(found[1].force.to(KN), P / 3.0);
    near(d.rig.largest_rise().to(MM), P / 20.0);
    let all = shapes(&d, &d.page());
    assert_eq!(all.iter().filter(|s| s.kind == ShapeKind::Anchor).count(), 2);
    through(&d, "rock");
}

/// Axles at 2 and 6 m under 54 and 60 kN lose 32 each; lost at once they bring 32 more.
#[test]
fn a_lorry() {
    let d = tried(
        &json!({ "reaction": { "id": "lorry", "kind": "vehicle", "stiffness": "4 kN/mm", "hold": "65 kN", "axles": [
        { "at": "2 m", "load": "54 kN", "carries": "87 kN" }, { "at": "6 m", "load": "60 kN", "carries": "93 kN" } ] } }),
    );
    near(d.rig.bearings[0].factor.unwrap(), 54.0 / 32.0);
    near(d.rig.bearings[1].factor.unwrap(), 60.0 / 32.0);
    near(d.rig.largest_rise().to(MM), P / 4.0);
    through(&d, "lorry");
}

/// A frame that holds the member at 1 and 7 m: at 3 m it gives P/2 · 2 for 96 kN·m, so P = 96, and nothing
/// is left at the bearings. Its beam of 6 m carries 1.5 · 96 · 6/4 kN·m.
#[test]
fn a_frame_on_the_member_itself() {
    let frame = |moment: &str| {
        tried(&json!({
        "reaction": { "id": "yoke", "kind": "frame", "stiffness": "10 kN/mm" },
        "bars": { "number": 4, "places": ["1 m", "7 m"], "area": "900 mm^2", "length": "1 m", "modulus": "200 GPa", "working_load": "60 kN", "tilts": "1 %" },
        "jacks": { "number": 1, "piston": { "area": "8000 mm^2" }, "rated_pressure": "70 MPa", "stroke": "100 mm",
            "pump": { "stroke": "1 ml", "dead_man": true, "remote_release": true },
            "fittings": { "hose_burst": "60 MPa", "relief": "12.5 MPa", "held_at_jack": true } },
        "beams": { "id": "yoke beam", "carries": "jack", "span": "6 m", "rigidity": "20000 kN·m^2", "moment": moment,
            "shear": "73 kN", "web": "145 kN", "held_sideways": true } }))
    };
    let d = frame("217 kN·m");
    near(d.force().0.to(KN), 96.0);
    assert!(d.layout.response.reactions().iter().all(|r| r.force.abs() < 1e-6 * KN));
    near(d.layout.response.moment(3.0 * M, proofspan::beam::Side::Left).unwrap().to(KN_M), 96.0);
    near(d.rig.beams[0].moment.to(KN_M), 96.0 * 6.0 / 4.0);
    near(d.rig.hydraulics[0].pressure.to(MPA_FLUID), 12.0);
    let pulls: Vec<f64> = d.rig.pulls.iter().map(|p| p.force.to(KN)).collect();
    near(pulls[0], 48.0);
    near(pulls[1], 48.0);
    // no reaction member, so no factor; what it does to the member is said
    assert!(d.rig.bearings.is_empty());
    assert!(d.rig.notes.iter().any(|n| n.slug.code() == "rig.frame"));
    let all = shapes(&d, &d.page());
    assert_eq!(all.iter().filter(|s| s.kind == ShapeKind::Bar).count(), 2);
    through(&d, "yoke");
    let weak = frame("215 kN·m");
    assert_eq!(weak.rig.stops[0].slug.code(), "rig.beam-over-load");
}
