//! Unequal jacks on one pressure. Expected values: equilibrium on one pressure, Hooke, and the balance of
//! volumes of a locked-off circuit, written beside each.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::rig::{Hydraulic, Press, Pressed, Rig, RigSpec, check};
use proofspan::source::read_json;
use proofspan::units::*;
use proofspan::verdict::{MemberUnit, State};

#[track_caller]
fn near(value: f64, exact: f64) {
    assert!((value - exact).abs() <= 1e-9 * exact.abs().max(1e-6), "{value} for {exact}");
}

/// 100 kN on jacks of 5000 mm², described one by one.
fn asked(rams: &str, more: &str) -> Result<Pressed, proofspan::Error> {
    let all: serde_json::Value = serde_json::from_str(&format!("[{rams}]")).unwrap();
    let number = all.as_array().unwrap().len();
    let text = format!(
        r#"{{ "force": "100 kN", "number": {number}, "area": "5000 mm^2", "rated_pressure": "70 MPa", "stroke": "150 mm",
        "pump": {{ "stroke": "1 ml", "dead_man": true, "remote_release": true }},
        "fittings": {{ "hose_burst": "300 MPa", "relief": "13.2 MPa", "held_at_jack": true }},
        "rams": [{rams}] {more} }}"#
    );
    read_json::<Hydraulic>(&text)?.check()
}

fn stops(found: &Pressed) -> Vec<&'static str> {
    found.stops.iter().map(|s| s.slug.code()).collect()
}

/// Frictions of 1, 2 and 5 % on equal areas: shares 99/292, 98/292 and 95/292; at 32 in either side the
/// resultant moves by 32 (95 − 99)/292 in. The friction of each lies between none and its own: the third
/// gives 0.95/2.95 where the others have none, 1/(1 + 0.99 + 0.98) where it has none.
#[test]
fn friction_moves_the_shares_and_the_resultant() {
    let rams = r#"{ "friction": 0.01, "across": "-32 in" }, { "friction": 0.02, "across": "0 in" },
        { "friction": 0.05, "across": "32 in" }"#;
    let found = asked(rams, "").unwrap();
    let h = &found.hydraulics;
    for (ram, share) in h.rams.iter().zip([99.0, 98.0, 95.0]) {
        near(ram.share, share / 292.0);
        near(ram.force.to(KN), 100.0 * share / 292.0);
    }
    near(h.pressure.to(MPA_FLUID), 100e3 / (5000.0 * 2.92));
    near(h.off_middle.unwrap().to(IN), -32.0 * 4.0 / 292.0);
    near(h.rams[2].least.to(KN), 95.0 / 2.95);
    near(h.rams[2].most.to(KN), 100.0 / 2.97);
    near(h.jack_most.to(KN), 100.0 / (1.0 + 0.98 + 0.95));
    near(h.jack_least.to(KN), 95.0 / 2.95);
    // 3 · 0.95/2.95 is 3.39 % less than one, 3/2.93 is 2.39 % more
    let uneven = 1.0 - 3.0 * 0.95 / 2.95;
    near(h.uneven.unwrap(), uneven);
    let codes: Vec<&str> = found.notes.iter().map(|n| n.slug.code()).collect();
    assert!(codes.contains(&"rig.jacks-uneven-unsaid"), "{codes:?}");
    let tight = asked(rams, r#", "uneven": "3.3 %""#).unwrap();
    let verdict =
        |p: &Pressed| *p.verdicts.iter().find(|v| v.slug.code() == "rig.jacks-uneven").unwrap();
    assert_eq!(verdict(&tight).state, State::Fail);
    assert_eq!(verdict(&asked(rams, r#", "uneven": "3.4 %""#).unwrap()).state, State::Pass);
}

/// Areas of 5000 and 4000 mm² share as 5 to 4, and so does friction-free oil whatever the path is.
#[test]
fn areas_differ() {
    let rams = r#"{ "stiffness": "5 kN/mm" }, { "piston": { "area": "4000 mm^2" }, "stiffness": "50 kN/mm" }"#;
    let h = asked(rams, "").unwrap().hydraulics;
    near(h.rams[0].force.to(KN), 500.0 / 9.0);
    near(h.rams[1].force.to(KN), 400.0 / 9.0);
    near(h.pressure.to(MPA_FLUID), 100e3 / 9000.0);
    // the stiff path goes less: F/k
    near(h.rams[0].way.to(MM), 500.0 / 45.0);
    near(h.rams[1].way.to(MM), 400.0 / 450.0);
    near(h.travel.to(MM), 500.0 / 45.0);
}

/// 50 kN would take the first 10 mm, and it has 8: it stays at 40 kN, the other gives 60 at 12 MPa. The
/// first would need 60/5 mm. Where both come to their end, 40 + 40 kN is all there is.
#[test]
fn a_ram_at_the_end_of_its_stroke() {
    let rams = |second: &str| {
        format!(
            r#"{{ "stiffness": "5 kN/mm", "stroke": "8 mm" }}, {{ "stiffness": "10 kN/mm", "stroke": "{second}" }}"#
        )
    };
    let found = asked(&rams("7 mm"), r#", "uneven": "10 %""#).unwrap();
    let h = &found.hydraulics;
    near(h.rams[0].force.to(KN), 40.0);
    near(h.rams[1].force.to(KN), 60.0);
    assert!(h.rams[0].at_end && !h.rams[1].at_end);
    near(h.pressure.to(MPA_FLUID), 12.0);
    near(h.rams[0].way.to(MM), 12.0);
    near(h.rams[1].way.to(MM), 6.0);
    assert_eq!(stops(&found), ["rig.stroke-short", "rig.jacks-uneven"]);
    near(h.uneven.unwrap(), 0.2);
    let both = asked(&rams("4 mm"), "").unwrap();
    near(both.hydraulics.rams[0].force.to(KN), 40.0);
    near(both.hydraulics.rams[1].force.to(KN), 40.0);
    assert!(stops(&both).contains(&"rig.stroke-short"));
    // 5 mm are enough on the stiff path, and 10 on the soft one
    let fine = rams("5 mm").replace("8 mm", "10 mm");
    assert!(stops(&asked(&fine, "").unwrap()).is_empty());
}

/// Two jacks of 5000 mm² on paths of 5 and 10 kN/mm, 1 l of oil of 1000 MPa, the member creeps 1 mm and
/// 1 ml leaks. One open manifold: dp (Σ A²/k + V/K) = Σ A e + V_l. Shut valves: k e/(1 + k V_i/(K A²))
/// for each, half of the oil, and all of the leak at its own valve.
#[test]
fn a_hold_with_open_and_with_shut_valves() {
    let rams = r#"{ "stiffness": "5 kN/mm" }, { "stiffness": "10 kN/mm" }"#;
    let hold = |isolated: bool, leak: &str| {
        format!(
            r#", "oil_volume": "1 l", "oil_bulk_modulus": "1000 MPa", "hold": {{ "band": 0.2, "expansion": "7e-4 1/K",
            "cooling": "0 K", "warming": "0 K", "creep": "1 mm", "leak": {{ "volume": "{leak}", "over": "1 h" }}, "isolated": {isolated} }}"#
        )
    };
    let held = |isolated: bool, leak: &str| -> Vec<f64> {
        let found = asked(rams, &hold(isolated, leak)).unwrap();
        found.hydraulics.rams.iter().map(|r| r.held.unwrap().to(KN)).collect()
    };
    let gives = 25e-12 / 5.0 + 25e-12 / 10.0 + 1e-3 / 1e9;
    for (leak, volume) in [("0 ml", 0.0), ("1 ml", 1e-6)] {
        let open = held(false, leak);
        let lost = (2.0 * 5e-3 * 1e-3 + volume) / gives * 5e-3 / 1e3;
        near(open[0], 50.0 - lost);
        near(open[1], 50.0 - lost);
        let shut = held(true, leak);
        for (got, k) in shut.iter().zip([5e6, 10e6]) {
            let e = 1e-3 + volume / 5e-3;
            near(*got, 50.0 - k * e / (1.0 + k * 0.5e-3 / (1e9 * 25e-6)) / 1e3);
        }
    }
}

/// Jacks that differ, and not each is described.
#[test]
fn each_jack_is_described() {
    let text = r#"{ "force": "100 kN", "number": 3, "area": "5000 mm^2", "rated_pressure": "70 MPa",
        "stroke": "150 mm", "rams": [{}, {}] }"#;
    let refused = read_json::<Hydraulic>(text).and_then(|h| h.check()).unwrap_err();
    assert_eq!(refused.codes(), ["rig.rams"]);
}

/// Two presses of 50 kN on one circuit, each may lose 4 %: one without gives 100/(1 + 0.96), one with all
/// 96/1.96, which the layout is told of.
#[test]
fn two_presses_on_one_circuit() {
    let rig = |friction: f64, more: &str| -> Rig {
        let spec: RigSpec = read_json(&format!(
            r#"{{ "reaction": {{ "id": "R", "kind": "anchors", "stiffness": "20 kN/mm",
                "anchors": [{{ "at": "1 m", "capacity": "200 kN" }}, {{ "at": "7 m", "capacity": "200 kN" }}] }},
            "jacks": {{ "number": 1, "piston": {{ "area": "8000 mm^2" }}, "friction": {friction}, "rated_pressure": "70 MPa", "stroke": "150 mm" {more} }},
            "bars": {{ "number": 2, "area": "500 mm^2", "length": "2 m", "modulus": "200 GPa", "working_load": "200 kN" }} }}"#
        ))
        .unwrap();
        let press = |x: f64| Press::jack(x * M, Net(50.0 * KN));
        check(&spec, "T", MemberUnit::Strip, &[press(2.0), press(6.0)], 1.0 * MM).unwrap()
    };
    let said =
        |r: &Rig| r.notes.iter().filter(|n| n.slug.code() == "rig.jacks-uneven-unsaid").count();
    assert_eq!(said(&rig(0.0, "")), 0);
    assert_eq!(said(&rig(0.04, "")), 2);
    let off = 2.0 / 1.96 - 1.0;
    let found = rig(0.04, r#", "uneven": "2 %""#);
    let all: Vec<_> =
        found.verdicts.iter().filter(|v| v.slug.code() == "rig.jacks-uneven").collect();
    assert_eq!(all.len(), 2);
    near(all[0].demand.si, off);
    assert!(all.iter().all(|v| v.state == State::Fail));
    assert_eq!(said(&found), 0);
}

/// In a document: the terrace strip with frictions of 1, 2 and 5 % at 32 in; the report tells each jack.
#[test]
fn in_a_document() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/scenarios/terrace_strip.test.json");
    let mut document: serde_json::Value =
        serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    document["rig"]["jacks"]["rams"] = serde_json::json!([
        { "friction": 0.01, "across": "-32 in" },
        { "friction": 0.02, "across": "0 in" },
        { "friction": 0.05, "across": "32 in" }
    ]);
    let d =
        proofspan::design(proofspan::TestSpec::from_json(&document.to_string()).unwrap()).unwrap();
    let p = 2_098_760.0 / 117.0;
    let h = &d.rig.hydraulics[0];
    near(h.rams[0].force.to(LBF), p * 99.0 / 292.0);
    near(h.pressure.to(PSI_FLUID), p / (3.0 * 2.92));
    near(h.off_middle.unwrap().to(IN), -32.0 / 73.0);
    // the train carries the most that one of them gives
    near(d.rig.train.as_ref().unwrap().force.to(LBF), p / (1.0 + 0.98 + 0.95));
    let page = proofspan::report::html(&d, None).unwrap();
    assert!(page.contains("friction lets it give") && page.contains("-0.438"), "the report");
}
