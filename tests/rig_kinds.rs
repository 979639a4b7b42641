//! A vehicle that reacts and water that weighs. Expected values: levers and weights, written beside each.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::rig::{Press, Rig, RigSpec, check};
use proofspan::source::read_json;
use proofspan::units::*;
use proofspan::verdict::MemberUnit;

const JACKS: &str = r#""jacks": { "number": 1, "piston": { "area": "8000 mm^2" }, "rated_pressure": "70 MPa", "stroke": "150 mm",
    "pump": { "stroke": "1 ml", "dead_man": true, "remote_release": true }, "fittings": { "hose_burst": "300 MPa", "relief": "60 MPa", "held_at_jack": true } },
    "bars": { "number": 2, "area": "500 mm^2", "length": "2 m", "modulus": "200 GPa", "working_load": "200 kN" },
    "train": { "plate": "200 mm", "lateral": "100 kN", "moment": "100 kN·m", "braced": true, "retained": true }"#;

fn spec(reaction: &str) -> Result<RigSpec, proofspan::Error> {
    read_json(&format!(r#"{{ "reaction": {reaction}, {JACKS} }}"#))
}

fn tried(reaction: &str, at: f64, force: f64) -> Result<Rig, proofspan::Error> {
    let press = [Press::jack(at * M, Net(force * KN))];
    check(&spec(reaction)?, "T", MemberUnit::Strip, &press, 1.0 * MM)
}

fn stops(rig: &Rig) -> Vec<&'static str> {
    rig.stops.iter().map(|s| s.slug.code()).collect()
}

#[track_caller]
fn near(value: f64, exact: f64) {
    assert!((value - exact).abs() <= 1e-6 * exact.abs().max(1.0), "{value} for {exact}");
}

fn axle(at: f64, load: f64, carries: f64) -> String {
    format!(r#"{{ "at": "{at} m", "load": "{load} kN", "carries": "{carries} kN" }}"#)
}

fn vehicle(axles: &[String], more: &str) -> String {
    let axles = axles.join(", ");
    format!(
        r#"{{ "id": "lorry", "kind": "vehicle", "stiffness": "2 kN/mm", "axles": [{axles}] {more} }}"#
    )
}

/// Axles at 1 and 5 m under 60 and 42 kN, a jack of 50 kN between them: each loses 25. When the load is lost
/// at once they come down with 25 more than they weigh: 85 and 67 kN.
#[test]
fn a_vehicle_of_two_axles() {
    let two = |second: f64, ground: f64| vec![axle(1.0, 60.0, ground), axle(5.0, second, 90.0)];
    let fine = tried(&vehicle(&two(42.0, 85.1), r#", "hold": "51 kN""#), 3.0, 50.0).unwrap();
    assert!(stops(&fine).is_empty(), "{:?}", fine.stops);
    near(fine.bearings[0].factor.unwrap(), 60.0 / 25.0);
    near(fine.bearings[1].factor.unwrap(), 42.0 / 25.0);
    let lost = fine.stages.last().unwrap();
    near(lost.reactions[0].force.to(KN), 85.0);
    near(lost.reactions[1].force.to(KN), 67.0);
    // 25 kN/mm of springs, 50 kN
    near(fine.rise(3.0 * M).unwrap().si(), 0.0);
    near(fine.largest_rise().to(MM), 25.0);
    // 40/25 = 1.6 is below 1.667
    let light = tried(&vehicle(&two(40.0, 90.0), r#", "hold": "51 kN""#), 3.0, 50.0).unwrap();
    assert_eq!(stops(&light), ["rig.liftoff-below-floor"]);
    let soft = tried(&vehicle(&two(42.0, 84.9), r#", "hold": "51 kN""#), 3.0, 50.0).unwrap();
    assert_eq!(stops(&soft), ["rig.axle-over-ground"]);
    let weak = tried(&vehicle(&two(42.0, 90.0), r#", "hold": "49 kN""#), 3.0, 50.0).unwrap();
    assert_eq!(stops(&weak), ["rig.hold-over-load"]);
    let unknown = tried(&vehicle(&two(42.0, 90.0), ""), 3.0, 50.0).unwrap();
    assert_eq!(stops(&unknown), ["rig.reaction-missing"]);
}

/// Behind the second axle the first is pressed down: of 20 kN at 6 m it takes −20/4, the second 20 · 5/4.
#[test]
fn held_behind_its_axles() {
    let two = [axle(1.0, 60.0, 200.0), axle(5.0, 60.0, 200.0)];
    let beyond = tried(&vehicle(&two, r#", "hold": "50 kN""#), 6.0, 20.0).unwrap_err();
    assert_eq!(beyond.codes(), ["rig.reaction-short"]);
    let hook = vehicle(&two, r#", "hold": "50 kN", "right_overhang": "1.5 m""#);
    let found = tried(&hook, 6.0, 20.0).unwrap();
    assert_eq!(found.bearings[0].factor, None);
    near(found.bearings[1].factor.unwrap(), 60.0 / 25.0);
    let full = found.stages.iter().find(|s| s.name.contains("full")).unwrap();
    near(full.reactions[0].force.to(KN), 65.0);
}

/// Three axles of 40, 40 and 80 kN at 0, 2 and 4 m, held in their centre of weight at 2.5 m: all lift at
/// once, at 160 kN.
#[test]
fn three_axles_lift_together_where_they_are_held_in_their_centre() {
    let three = [axle(0.0, 40.0, 200.0), axle(2.0, 40.0, 200.0), axle(4.0, 80.0, 200.0)];
    let found = tried(&vehicle(&three, r#", "hold": "90 kN""#), 2.5, 80.0).unwrap();
    for bearing in &found.bearings {
        near(bearing.factor.unwrap(), 2.0);
    }
    let placed = found.stages.iter().find(|s| s.name.contains("P = 0")).unwrap();
    for (r, load) in placed.reactions.iter().zip([40.0, 40.0, 80.0]) {
        near(r.force.to(KN), load);
    }
}

#[test]
fn a_vehicle_that_cannot_be() {
    let codes = |text: String| spec(&text).unwrap_err().codes();
    assert_eq!(codes(vehicle(&[axle(1.0, 60.0, 90.0)], "")), ["rig.reaction-kind"]);
    let back = [axle(5.0, 60.0, 90.0), axle(1.0, 60.0, 90.0)];
    assert_eq!(codes(vehicle(&back, "")), ["beam.order"]);
    let air = [axle(1.0, 60.0, 90.0), axle(5.0, 60.0, 90.0).replace(r#", "carries": "90 kN""#, "")];
    assert_eq!(codes(vehicle(&air, "")), ["rig.axle-ground-missing"]);
    let frame = vehicle(&back, "").replace("vehicle", "frame");
    assert!(codes(frame).contains(&"rig.reaction-kind"));
}

const MEMBER: &str = r#"{ "id": "R", "at": "0 m", "span": "10 m", "self_weight": "4 kN/m", "seat": "seated",
    "rigidity": { "modulus": "30 GPa", "second_moment": "2e9 mm^4" }, "shear_capacity": "900 kN", "sagging_capacity": "101 kN·m", "hogging_capacity": "900 kN·m" }"#;

/// 2 m² of water 1 m deep that may fall by 250 mm, in a tank of 1 kN: 14.715 + 1 kN hold the member down in
/// its middle, 19.62 + 1 kN bend it: 4 · 10²/8 + 20.62 · 10/4 = 101.55 kN·m of 101.
#[test]
fn water_that_may_run_out_holds_less_than_it_bends() {
    let text = |weight: &str| {
        format!(
            r#"{{ "reaction": {MEMBER}, "counterweights": [ {{ "at": "5 m", {weight} }} ], {JACKS} }}"#
        )
    };
    let water =
        r#""water": { "area": "2 m^2", "depth": "1 m", "falls": "250 mm", "empty": "1 kN" }"#;
    let press = [Press::jack(5.0 * M, Net(20.0 * KN))];
    let of = |t: &str| {
        let spec: RigSpec = read_json(&text(t)).unwrap();
        check(&spec, "T", MemberUnit::Strip, &press, 1.0 * MM).unwrap()
    };
    let found = of(water);
    near(found.bearings[0].stabilising.to(KN), 20.0 + 15.715 / 2.0);
    let full = found.stages.iter().find(|s| s.name == "tanks full, P = 0").unwrap();
    near(full.sagging.to(KN_M), 101.55);
    assert!(stops(&found).contains(&"rig.staging-over-capacity"));
    let lost = found.stages.iter().find(|s| s.name == "tanks full, P lost at once").unwrap();
    near(lost.sagging.to(KN_M), 101.55 + 50.0);
    // the same as a weight that is sure
    let sure = of(r#""force": "15.715 kN""#);
    near(sure.bearings[0].stabilising.to(KN), found.bearings[0].stabilising.to(KN));
    assert!(sure.stages.iter().all(|s| !s.name.contains("tanks")));
    let codes = |t: &str| read_json::<RigSpec>(&text(t)).unwrap_err().codes();
    assert_eq!(codes(r#""reaction": "R""#), ["rig.weight-unsettled"]);
    assert_eq!(codes(&format!(r#"{water}, "force": "1 kN""#)), ["rig.weight-unsettled"]);
    assert_eq!(codes(&water.replace("250 mm", "1.1 m")), ["rig.weight-unsettled"]);
}
