//! Bearings that cannot lift: beam, top steel and column that hold them. Expected values: statics of simple
//! spans, 0.9 of what presses down, written beside each.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::rig::{Press, Rig, RigSpec, check};
use proofspan::source::read_json;
use proofspan::units::*;
use proofspan::verdict::{MemberUnit, State};

#[track_caller]
fn near(value: f64, exact: f64) {
    assert!((value - exact).abs() <= 1e-9 * exact.abs().max(1e-6), "{value} for {exact}");
}

/// 8 m under 10 kN/m, cast in place, a jack of 100 kN at 2 m: 75 − 40 = 35 kN up at the left end, nothing at
/// the right one.
fn rig(holds: &str) -> Result<Rig, proofspan::Error> {
    let spec: RigSpec = read_json(&format!(
        r#"{{ "reaction": {{ "id": "R", "at": "0 m", "span": "8 m", "self_weight": "10 kN/m", "seat": "monolithic",
            "rigidity": {{ "modulus": "30 GPa", "second_moment": "2e9 mm^4" }},
            "shear_capacity": "900 kN", "sagging_capacity": "900 kN·m", "hogging_capacity": "900 kN·m" {holds} }},
        "bars": {{ "number": 2, "area": "500 mm^2", "length": "2 m", "modulus": "200 GPa", "working_load": "200 kN" }},
        "jacks": {{ "number": 1, "piston": {{ "area": "8000 mm^2" }}, "rated_pressure": "70 MPa", "stroke": "150 mm",
            "pump": {{ "stroke": "1 ml", "dead_man": true, "remote_release": true }}, "fittings": {{ "hose_burst": "300 MPa", "relief": "13 MPa", "held_at_jack": true }} }},
        "train": {{ "plate": "200 mm", "lateral": "3 kN", "moment": "1.2 kN·m", "braced": true, "retained": true }} }}"#
    ))?;
    check(&spec, "T", MemberUnit::Strip, &[Press::jack(2.0 * M, Net(100.0 * KN))], 1.0 * MM)
}

fn holds(top: &str, shear: &str, tension: &str, load: &str) -> String {
    format!(
        r#", "holds": {{ "beam": {{ "span": "6 m", "at": "2 m", "load": "5 kN/m", "shear": "{shear}", "top": "{top}" }},
        "column": {{ "tension": "{tension}", "load": "{load}" }} }}"#
    )
}

fn stops(rig: &Rig) -> Vec<(&'static str, String)> {
    rig.stops.iter().map(|s| (s.slug.code(), s.path.to_string())).collect()
}

/// Lifted by 35 kN at 2 m of 6 m under 5 kN/m: hogging (35 · 4/6 − 0.9 · 5 · 4/2) 2 = 28.67 kN·m, shear
/// 35 · 4/6 − 0.9 · 5 (3 − 2), the column is pulled by 35 · 4/6 − 0.9 · 5 · 3 less 0.9 of its own 5 kN.
#[test]
fn beam_top_steel_and_column() {
    let found = rig(&holds("29 kN·m", "19 kN", "5.4 kN", "5 kN")).unwrap();
    assert!(found.stops.is_empty(), "{:?}", found.stops);
    let all: Vec<f64> = found
        .verdicts
        .iter()
        .filter(|v| v.slug.code() == "rig.uplift-over-capacity")
        .map(|v| v.demand.si / 1e3)
        .collect();
    // the right end: 25 − 40 presses down, every demand is none
    assert_eq!(all.len(), 6);
    for (got, exact) in
        all.iter().zip([86.0 / 3.0, 35.0 * 4.0 / 6.0 - 4.5, 16.0 / 3.0, 0.0, 0.0, 0.0])
    {
        near(*got, exact);
    }
    let path = |p: &str| vec![("rig.uplift-over-capacity", format!("rig.reaction.holds.{p}"))];
    assert_eq!(
        stops(&rig(&holds("28 kN·m", "19 kN", "5.4 kN", "5 kN")).unwrap()),
        path("beam.top")
    );
    assert_eq!(
        stops(&rig(&holds("29 kN·m", "18 kN", "5.4 kN", "5 kN")).unwrap()),
        path("beam.shear")
    );
    // without the load from above the tension is 9.83 kN
    let pulled = rig(&holds("29 kN·m", "19 kN", "9.8 kN", "0 kN")).unwrap();
    assert_eq!(stops(&pulled), path("column.tension"));
    assert!(stops(&rig(&holds("29 kN·m", "19 kN", "9.84 kN", "0 kN")).unwrap()).is_empty());
}

/// On the column itself all 35 kN go into it.
#[test]
fn on_the_column_itself() {
    let column = |t: &str| format!(r#", "holds": {{ "column": {{ "tension": "{t}" }} }}"#);
    let fine = rig(&column("35.1 kN")).unwrap();
    assert!(fine.stops.is_empty(), "{:?}", fine.stops);
    let tension = fine.verdicts.iter().find(|v| v.of.part == "column in tension").unwrap();
    near(tension.demand.si, 35e3);
    assert_eq!(tension.state, State::Pass);
    assert_eq!(stops(&rig(&column("34.9 kN")).unwrap()).len(), 1);
}

/// Nothing said is a stop, no column is refused, a bearing beyond its beam too, and so is another number of
/// holdings than bearings.
#[test]
fn what_holds_is_asked_for() {
    assert_eq!(stops(&rig("").unwrap())[0].0, "rig.uplift-unknown");
    let refused = |text: &str| rig(text).unwrap_err().codes();
    let beam = r#", "holds": { "beam": { "span": "6 m", "at": "2 m", "shear": "1 kN", "top": "0 kN·m" } }"#;
    assert_eq!(refused(beam), ["rig.uplift-column"]);
    let beyond =
        holds("1 kN·m", "1 kN", "1 kN", "0 kN").replace(r#""at": "2 m""#, r#""at": "7 m""#);
    assert_eq!(refused(&beyond), ["rig.reaction-kind"]);
    let three = r#", "holds": [{ "column": { "tension": "1 kN" } }, { "column": { "tension": "1 kN" } }, { "column": { "tension": "1 kN" } }]"#;
    assert_eq!(refused(three), ["rig.reaction-kind"]);
}
