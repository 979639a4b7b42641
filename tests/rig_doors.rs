//! What a rig may be compared with, and what its answers may hold. Expected values: statics of a
//! simple span, written beside each.

use proofspan::rig::{Press, Rig, RigSpec, check};
use proofspan::source::{Write, read_json, write_json};
use proofspan::units::*;
use proofspan::verdict::{MemberUnit, State, Verdict};

/// A reaction member of 7.3 m and 3.7 kN/m with three jacks' worth of force on one line.
fn rig(hogging: &str, weights: &str, more: &str, lines: &[(f64, f64)]) -> Rig {
    let spec: RigSpec = read_json(&format!(
        r#"{{ "reaction": {{ "id": "R", "span": "7.3 m", "self_weight": "3.7 kN/m", "seat": "seated",
                "rigidity": {{ "modulus": "30 GPa", "second_moment": "2e9 mm^4" }},
                "shear_capacity": "1000 kN", "sagging_capacity": "2000 kN·m", "hogging_capacity": "{hogging}" }},
            "counterweights": {weights}, {more}
            "jacks": {{ "number": 1, "piston": {{ "area": "8000 mm^2" }}, "rated_pressure": "70 MPa", "stroke": "150 mm",
                "pump": {{ "stroke": "1 ml", "dead_man": true, "remote_release": true }}, "fittings": {{ "hose_burst": "300 MPa", "relief": "60 MPa", "held_at_jack": true }} }},
            "train": {{ "plate": "200 mm", "lateral": "100 kN", "moment": "100 kN·m", "braced": true, "retained": true }} }}"#
    ))
    .unwrap();
    let presses: Vec<Press> =
        lines.iter().map(|(x, p)| Press::jack(*x * M, Net(*p * KN))).collect();
    check(&spec, "T", MemberUnit::Strip, &presses, 1.0 * MM).unwrap()
}

fn codes(rig: &Rig) -> Vec<&'static str> {
    rig.stops.iter().map(|s| s.slug.code()).collect()
}

fn asked(rig: &Rig) -> Vec<Verdict> {
    rig.verdicts.iter().filter(|v| v.slug.code() == "rig.factor-asked").copied().collect()
}

/// The weights of the counterweights stand on the jacks and balance them: only own weight is left,
/// which never hogs. Whatever the places, the difference of the two moments is rounding.
#[test]
fn no_hogging_strength_and_no_hogging_pass() {
    let mut rounded = 0;
    for i in 1..200 {
        let (x, p) = (7.3 * f64::from(i) / 200.0, 333.3 + 0.7 * f64::from(i));
        let weights = format!(r#"[{{"force":"{p} kN","at":"{x} m"}}]"#);
        let balanced = rig("0 kN·m", &weights, "", &[(x, p)]);
        assert!(!codes(&balanced).contains(&"rig.reaction-over-capacity"), "{x} {p}");
        let full = balanced.stages.iter().find(|s| s.name == "full test load").unwrap();
        let least = full.least_moment.si();
        rounded += usize::from(least < 0.0);
        assert!(least.abs() < 1e-6 * p * 1e3);
    }
    assert!(rounded > 0, "the loads must bring rounding, or nothing is tested");
}

/// One per mille of the jack's moment is left unbalanced and own weight is nothing: it hogs.
#[test]
fn a_hogging_of_one_per_mille_fails_without_hogging_strength() {
    let (x, p): (f64, f64) = (3.0, 400.0);
    let own = 3.7 * x * (7.3 - x) / 2.0;
    let jack = p * x * (7.3 - x) / 7.3;
    // the counterweight leaves own weight and one per mille of the moment of the jack
    let c = p * (jack * 0.999 - own) / jack;
    let weights = format!(r#"[{{"force":"{c} kN","at":"{x} m"}}]"#);
    let hogs = rig("0 kN·m", &weights, "", &[(x, p)]);
    let stop = hogs.stops.iter().find(|s| s.slug.code() == "rig.reaction-over-capacity").unwrap();
    let verdict = stop.verdict.unwrap();
    assert!((verdict.demand.si / 1e3 - 1e-3 * jack).abs() < 1e-6 * jack, "{:?}", verdict.demand);
    assert!(!stop.message.contains("NaN"), "{}", stop.message);
    assert!(
        !codes(&rig("1 kN·m", &weights, "", &[(x, p)])).contains(&"rig.reaction-over-capacity")
    );
}

#[test]
fn a_bar_is_checked_per_bar() {
    let bars = r#""bars": { "number": 2, "area": "500 mm^2", "length": "3 m", "modulus": "200 GPa", "working_load": "100 kN" },"#;
    let rig = rig("100 kN·m", "[]", bars, &[(3.0, 150.0)]);
    let bar = rig.verdicts.iter().find(|v| v.slug.code() == "rig.bar-over-load").unwrap();
    assert!((bar.demand.si - 75e3).abs() < 1e-6);
    assert_eq!(bar.basis.to_string(), "per bar, net");
}

/// Own weight holds 13.505 kN at each bearing. A jack of 20 kN near the left end lifts 18.63 kN
/// there and 1.37 kN at the right: at the right nothing is unbalanced, so no factor can be asked.
#[test]
fn a_factor_on_unbalanced_uplift_is_asked_only_where_uplift_is_unbalanced() {
    let factor = r#""factor": { "at_least": 1.5, "basis": "unbalanced_uplift" },"#;
    let weight = r#"[{"force":"20 kN","at":"0.5 m"}]"#;
    let held = rig("100 kN·m", weight, factor, &[(0.5, 20.0)]);
    let states: Vec<State> = asked(&held).iter().map(|v| v.state).collect();
    assert_eq!(states, [State::Pass, State::NotApplicable]);
    let up = 20.0 * 6.8 / 7.3;
    let own = 3.7 * 7.3 / 2.0;
    assert!((asked(&held)[0].demand.si - up / (up - own)).abs() < 1e-9);
    // without a counterweight the factor is zero where it is asked
    let bare = rig("100 kN·m", "[]", factor, &[(0.5, 20.0)]);
    let states: Vec<State> = asked(&bare).iter().map(|v| v.state).collect();
    assert_eq!(states, [State::Fail, State::NotApplicable]);
    assert_eq!(asked(&bare)[0].demand.si, 0.0);
    let total = factor.replace("unbalanced_uplift", "total_weight");
    let states: Vec<State> =
        asked(&rig("100 kN·m", weight, &total, &[(0.5, 20.0)])).iter().map(|v| v.state).collect();
    assert_eq!(states, [State::Pass, State::Pass]);
}

/// A jack line at a quarter lifts both bearings: a weight at one of them does nothing for the other.
#[test]
fn a_weight_that_cannot_be_is_said_in_words() {
    let heavy = rig("100 kN·m", "[]", "", &[(0.25 * 7.3, 400.0)]);
    let json = write_json(&heavy.write());
    assert!(json.contains("no such weight"), "{json}");
    let light = rig("100 kN·m", "[]", "", &[(0.25 * 7.3, 1.0)]);
    let json = write_json(&light.write());
    assert!(json.contains("nothing lifts"), "{json}");
    let none = rig("100 kN·m", "[]", "", &[]);
    let json = write_json(&none.write());
    assert!(json.contains("nothing lifts"), "{json}");
    for rig in [heavy, light, none] {
        finite(&rig.write());
    }
}

/// No number of the answer is infinite or not a number.
fn finite(node: &proofspan::source::Node) {
    use proofspan::source::Value;
    match &node.value {
        Value::Number(n) => assert!(n.is_finite()),
        Value::Quantity { si, .. } => assert!(si.is_finite()),
        Value::List(list) => list.iter().for_each(finite),
        Value::Map(map) => map.iter().for_each(|e| finite(&e.node)),
        _ => {}
    }
}
