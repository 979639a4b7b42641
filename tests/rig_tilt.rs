//! Reaction beams and crosshead whose bars stretch unequally. Expected values: levers and Hooke, written
//! beside each.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::rig::{Press, Rig, RigSpec, check};
use proofspan::source::read_json;
use proofspan::units::*;
use proofspan::verdict::{MemberUnit, State};

#[track_caller]
fn near(value: f64, exact: f64) {
    assert!((value - exact).abs() <= 1e-9 * exact.abs().max(1e-6), "{value} for {exact}");
}

/// A jack of 100 kN at 5 m against anchors at 4 and 8 m, bars of 500 mm², 2 m and 200 GPa: E A = 100 MN.
fn rig(stiffness: &str, bars: &str, more: &str) -> Result<Rig, proofspan::Error> {
    let spec: RigSpec = read_json(&format!(
        r#"{{ "reaction": {{ "id": "A", "kind": "anchors", "stiffness": "{stiffness}",
            "anchors": [{{ "at": "4 m", "capacity": "200 kN" }}, {{ "at": "8 m", "capacity": "200 kN" }}] }},
        "bars": {{ "area": "500 mm^2", "length": "2 m", "modulus": "200 GPa", "working_load": "200 kN", {bars} }},
        "jacks": {{ "number": 1, "piston": {{ "area": "8000 mm^2" }}, "rated_pressure": "70 MPa", "stroke": "250 mm",
            "pump": {{ "stroke": "1 ml", "dead_man": true, "remote_release": true }}, "fittings": {{ "hose_burst": "300 MPa", "relief": "13 MPa", "held_at_jack": true }} }},
        "train": {{ "plate": "200 mm", "seats_top": 1, "lateral": "2.51 kN", "moment": "1.2 kN·m", "braced": true, "retained": true }} {more} }}"#
    ))?;
    check(&spec, "T", MemberUnit::Strip, &[Press::jack(5.0 * M, Net(100.0 * KN))], 1.0 * MM)
}

fn codes(rig: &Rig) -> Vec<&'static str> {
    let notes = rig.notes.iter().map(|n| n.slug.code());
    let all = rig.stops.iter().map(|s| s.slug.code()).chain(notes);
    all.filter(|c| *c != "rig.no-relief").collect()
}

fn beam(off: &str, more: &str) -> String {
    format!(
        r#", "beams": {{ "id": "cross-beam", "carries": "bars", "span": "2 m", "off": "{off}", "rigidity": "2000 kN·m^2",
        "moment": "80 kN·m", "shear": "100 kN", "web": "200 kN", "held_sideways": true {more} }}"#
    )
}

/// Three bars under a cross-beam are two at one end and one at the other, which takes half: 50 kN, not a
/// third. The ends stretch by 50 and 25 kN: a tilt of 25/100000 over 2 m of bar and 2 m of beam.
#[test]
fn three_bars_under_a_cross_beam() {
    let found = rig("20 kN/mm", r#""number": 3"#, &beam("0 m", "")).unwrap();
    let bar = found.verdicts.iter().find(|v| v.slug.code() == "rig.bar-over-load").unwrap();
    near(bar.demand.si, 50e3);
    near(found.beams[0].tilt.unwrap().value(), 25.0 / 100e3);
    assert_eq!(codes(&found), ["rig.beam-tilt-unsaid"]);
    let weak = r#""number": 3, "strength": "160 MPa""#;
    // 50 kN on 500 mm² is 100 MPa, over 0.6 · 160
    assert!(codes(&rig("20 kN/mm", weak, &beam("0 m", "")).unwrap()).contains(&"rig.bar-stress"));
    // four are two at either end
    let four = rig("20 kN/mm", r#""number": 4"#, &beam("0 m", "")).unwrap();
    near(four.beams[0].tilt.unwrap().value(), 0.0);
    assert!(codes(&four).is_empty(), "{:?}", four.stops);
}

/// 0.2 m off the middle of 2 m: the nearer end takes 0.6, 60 kN on its bar, and 1.5 · 60 kN of shear.
#[test]
fn a_force_off_the_middle() {
    let found = rig("20 kN/mm", r#""number": 2"#, &beam("0.2 m", r#", "tilts": 0.00021"#)).unwrap();
    let one = |part: &str| {
        let mut of = found.verdicts.iter().filter(|v| v.slug.code() == part);
        (of.next().unwrap().demand.si, of.count())
    };
    near(one("rig.bar-over-load").0, 60e3);
    near(found.beams[0].shear.to(KN), 60.0);
    let shear: Vec<f64> = found
        .verdicts
        .iter()
        .filter(|v| v.slug.code() == "rig.beam-over-load" && v.of.part == "shear")
        .map(|v| v.demand.si)
        .collect();
    near(shear[0], 90e3);
    near(found.beams[0].tilt.unwrap().value(), 20.0 / 100e3);
    assert!(codes(&found).is_empty());
    let stiff = rig("20 kN/mm", r#""number": 2"#, &beam("0.2 m", r#", "tilts": 0.00019"#)).unwrap();
    assert_eq!(codes(&stiff), ["rig.beam-tilt"]);
    let beyond = rig("20 kN/mm", r#""number": 2"#, &beam("1 m", "")).unwrap_err();
    assert_eq!(beyond.codes(), ["rig.bars-unstable"]);
}

/// Bars at 4 and 8 m of a jack at 5 m take 75 and 25 kN, one each: they stretch 1.5 and 0.5 mm, anchors of
/// 20 kN/mm give 3.75 and 1.25 mm: (5.25 − 1.75)/4000.
#[test]
fn a_crosshead_on_unequal_bars() {
    let at = |k: &str, more: &str| {
        rig(k, &format!(r#""number": 2, "places": ["4 m", "8 m"] {more}"#), "").unwrap()
    };
    let tilt = 3.5 / 4000.0;
    assert_eq!(codes(&at("20 kN/mm", "")), ["rig.beam-tilt-unsaid"]);
    let fine = at("20 kN/mm", r#", "tilts": 0.001"#);
    let verdict = fine.verdicts.iter().find(|v| v.slug.code() == "rig.beam-tilt").unwrap();
    near(verdict.demand.si, tilt);
    assert_eq!(verdict.state, State::Pass);
    assert!(codes(&fine).is_empty());
    near(fine.train.as_ref().unwrap().sideways.to(KN), 2.5);
    assert_eq!(codes(&at("20 kN/mm", r#", "tilts": 0.0008"#)), ["rig.beam-tilt"]);
    // soft anchors: (150 − 50 + 1)/4000 is more than 2.5 %, and goes sideways into the jack train
    let soft = at("0.5 kN/mm", r#", "tilts": 0.1"#);
    near(soft.train.as_ref().unwrap().sideways.to(KN), 100.0 * 101.0 / 4000.0);
    assert_eq!(codes(&soft), ["rig.train-over-load"]);
}
