//! What the jacks pull against, of every kind, against hand calculations. Expected values: statics
//! of simple spans and cantilevers, the closed forms of two equal spans (own derivation by the
//! three-moment equation), written beside each.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::rig::{Press, Rig, RigSpec, Tested, check};
use proofspan::source::{Write, read_json};
use proofspan::units::*;
use proofspan::verdict::{MemberUnit, State};
use proofspan::{Error, TestDesign, TestSpec, design};

const JACKS: &str = r#""jacks": { "number": 1, "piston": { "area": "8000 mm^2" }, "rated_pressure": "70 MPa", "stroke": "150 mm",
    "pump": { "stroke": "1 ml", "dead_man": true, "remote_release": true }, "fittings": { "hose_burst": "300 MPa", "relief": "60 MPa", "held_at_jack": true } },
    "train": { "plate": "200 mm", "lateral": "100 kN", "moment": "100 kN·m", "braced": true, "retained": true }"#;
const STRONG: &str = r#""rigidity": { "modulus": "30 GPa", "second_moment": "2e9 mm^4" },
    "shear_capacity": "900 kN", "sagging_capacity": "900 kN·m", "hogging_capacity": "900 kN·m""#;

fn spec(reaction: &str, more: &str) -> RigSpec {
    read_json(&format!(r#"{{ "reaction": {reaction}, {more} {JACKS} }}"#)).unwrap()
}

fn tried(spec: &RigSpec, presses: &[(f64, f64)]) -> Result<Rig, Error> {
    let presses: Vec<Press> =
        presses.iter().map(|(x, p)| Press::jack(*x * M, Net(*p * KN))).collect();
    check(spec, "T", MemberUnit::Strip, &presses, 1.0 * MM)
}

fn rig(reaction: &str, more: &str, presses: &[(f64, f64)]) -> Rig {
    tried(&spec(reaction, more), presses).unwrap()
}

fn refused(reaction: &str, more: &str, presses: &[(f64, f64)]) -> Vec<&'static str> {
    tried(&spec(reaction, more), presses).unwrap_err().codes()
}

fn stops(rig: &Rig) -> Vec<&'static str> {
    rig.stops.iter().map(|s| s.slug.code()).collect()
}

#[track_caller]
fn near(value: f64, exact: f64) {
    assert!((value - exact).abs() <= 1e-9 * exact.abs().max(1.0), "{value} for {exact}");
}

fn stage<'a>(rig: &'a Rig, name: &str) -> &'a proofspan::rig::Stage {
    rig.stages.iter().find(|s| s.name.contains(name)).unwrap()
}

fn forces(rig: &Rig, name: &str) -> Vec<f64> {
    stage(rig, name).reactions.iter().map(|r| r.force.to(KN)).collect()
}

/// Span 8 m under 10 kN/m, its first bearing 2 m from the left end of the member under test. A jack
/// of 60 kN at 5 m stands 3 m from that bearing, a counterweight of 20 kN at 4 m stands 2 m from it.
/// Own weight 40 kN a bearing; counterweight 20 · 6/8 = 15 and 5; uplift 60 · 5/8 = 37.5 and 22.5.
#[test]
fn a_reaction_member_with_a_shift() {
    let member = format!(
        r#"{{ "id": "R", "at": "2 m", "span": "8 m", "self_weight": "10 kN/m", "seat": "seated", {STRONG} }}"#
    );
    let weights = r#""counterweights": [ { "force": "20 kN", "at": "4 m" } ],"#;
    let rig = rig(&member, weights, &[(5.0, 60.0)]);
    let [left, right] = &rig.bearings[..] else { panic!() };
    near(left.at.to(M), 2.0);
    near(right.at.to(M), 10.0);
    near(left.stabilising.to(KN), 55.0);
    near(right.stabilising.to(KN), 45.0);
    near(left.factor.unwrap(), 55.0 / 37.5);
    near(right.factor.unwrap(), 45.0 / 22.5);
    near(left.factor_on_unbalanced_uplift.unwrap_or(0.0), 0.0);
    near(rig.lift_off_without_counterweight.unwrap().to(KN), 60.0 * 40.0 / 37.5);
    for (name, exact) in [
        ("placed", [55.0, 45.0]),
        ("25 %", [55.0 - 37.5 / 4.0, 45.0 - 22.5 / 4.0]),
        ("full", [17.5, 22.5]),
        ("unloaded", [55.0, 45.0]),
        ("lost", [92.5, 67.5]),
    ] {
        let found = forces(&rig, name);
        near(found[0], exact[0]);
        near(found[1], exact[1]);
    }
    // 3 m from the bearing: own 10 · 3 · 5/2 = 75, weight 20 · 2 · 5/8 = 25, jack 60 · 3 · 5/8 = 112.5
    let full = stage(&rig, "full");
    near(full.least_moment.to(KN_M), 75.0 + 25.0 - 112.5);
    near(full.least_moment_at.to(M), 5.0);
    let lost = stage(&rig, "lost");
    near(lost.sagging.to(KN_M), 75.0 + 25.0 + 112.5);
    near(lost.sagging_at.to(M), 5.0);
    near(lost.shear.to(KN), 92.5);
    near(lost.shear_at.to(M), 2.0);
    // the least counterweight is told in the same places
    let advice = rig.reactions[0].advice.as_ref().unwrap().placed().unwrap();
    assert!(advice.at.to(M) >= 2.0 && advice.at.to(M) <= 10.0);
    // left of 2 m there is nothing to pull on, and nothing for a weight to stand on
    assert_eq!(refused(&member, "", &[(1.9, 60.0)]), ["rig.reaction-short"]);
    let outside = weights.replace("4 m", "1.5 m");
    assert_eq!(refused(&member, &outside, &[(5.0, 60.0)]), ["rig.counterweight-outside"]);
}

/// A reaction member without a place stands under the first bearing of the member, and says so.
#[test]
fn a_place_left_out_is_told() {
    let member = format!(
        r#"{{ "id": "R", "span": "8 m", "self_weight": "10 kN/m", "seat": "seated", {STRONG} }}"#
    );
    let steps = [Ratio::from(0.5), Ratio::from(1.0)];
    let tested = Tested {
        member: "T",
        first_bearing: 1.5 * M,
        steps: &steps,
        stiffer: 1.0,
        ways: &[],
        tilts: &[],
    };
    let presses = [Press::jack(5.0 * M, Net(20.0 * KN))];
    let rig = check(&spec(&member, ""), tested, MemberUnit::Strip, &presses, 1.0 * MM).unwrap();
    near(rig.bearings[0].at.to(M), 1.5);
    near(rig.bearings[0].uplift.to(KN), 20.0 * 4.5 / 8.0);
    let note = rig.notes.iter().find(|n| n.slug.code() == "rig.reaction-place").unwrap();
    assert_eq!(note.path, "rig.reaction.at");
    assert_eq!(
        rig.stages.iter().map(|s| s.fraction).collect::<Vec<_>>(),
        [0.0, 0.5, 1.0, 0.0, -1.0]
    );
}

/// A cantilever of 3 m, held at 0.5 m, 4 kN/m: root 12 kN and −4 · 9/2 = −18 kN·m. A jack of 30 kN
/// at 2.5 m, 2 m from the root: full 12 − 30 = −18 kN and −18 + 60 = +42 kN·m, lost +42 kN and
/// −78 kN·m.
#[test]
fn a_reaction_on_a_cantilever() {
    let member = |more: &str| {
        format!(
            r#"{{ "id": "R", "kind": "cantilever", "at": "0.5 m", "span": "3 m", "self_weight": "4 kN/m", {more} {STRONG} }}"#
        )
    };
    let unknown = rig(&member(""), "", &[(2.5, 30.0)]);
    assert_eq!(stops(&unknown), ["rig.uplift-unknown"]);
    assert!(!unknown.stops[0].liftable());
    let held = rig(&member(r#""uplift_capacity": "20 kN","#), "", &[(2.5, 30.0)]);
    assert!(held.stops.is_empty(), "{:?}", held.stops);
    assert_eq!(held.bearings.len(), 1);
    near(held.bearings[0].at.to(M), 0.5);
    near(held.bearings[0].verdict.utilisation.unwrap(), 18.0 / 20.0);
    near(forces(&held, "full")[0], -18.0);
    near(stage(&held, "full").sagging.to(KN_M), 42.0);
    near(forces(&held, "lost")[0], 42.0);
    near(stage(&held, "lost").least_moment.to(KN_M), -78.0);
    near(stage(&held, "lost").least_moment_at.to(M), 0.5);
    let weak = rig(&member(r#""uplift_capacity": "15 kN","#), "", &[(2.5, 30.0)]);
    assert_eq!(stops(&weak), ["rig.uplift-over-capacity"]);
    near(weak.stops[0].verdict.unwrap().demand.si, 18e3);
    // the same held at its right end: its support stands 3 m from its own left end
    let mirrored = format!(
        r#"{{ "id": "R", "at": "3.5 m", "supports": [ {{ "at": "3 m", "kind": "fixed" }} ], "self_weight": "4 kN/m",
            "seat": "seated", "uplift_capacity": "20 kN", {STRONG} }}"#
    );
    let mirrored = rig(&mirrored, "", &[(1.5, 30.0)]);
    near(forces(&mirrored, "full")[0], -18.0);
    near(stage(&mirrored, "lost").least_moment.to(KN_M), -78.0);
    near(stage(&mirrored, "lost").least_moment_at.to(M), 3.5);
}

/// Two spans of 4 m under 12 kN/m, bearings at −1, 3 and 7 m; a jack of P at 1 m, the middle of the
/// first span. Two equal spans: own weight 3/8, 10/8, 3/8 of w L = 18, 60, 18 kN and −w L²/8 =
/// −24 kN·m at the middle bearing; P in the middle of a span 13/32, 22/32, −3/32 of P and −3/32 P L.
#[test]
fn two_spans_whose_bearings_lie_elsewhere() {
    let member = format!(
        r#"{{ "id": "R", "at": "-1 m", "span": ["4 m", "4 m"], "self_weight": "12 kN/m", "seat": "seated", {STRONG} }}"#
    );
    let rig = self::rig(&member, "", &[(1.0, 20.0)]);
    let places: Vec<f64> = rig.bearings.iter().map(|b| b.at.to(M)).collect();
    assert_eq!(places, [-1.0, 3.0, 7.0]);
    near(rig.bearings[0].factor.unwrap(), 18.0 / (20.0 * 13.0 / 32.0));
    near(rig.bearings[1].factor.unwrap(), 60.0 / (20.0 * 22.0 / 32.0));
    // the far bearing is pressed down: nothing lifts there
    assert_eq!(rig.bearings[2].factor, None);
    assert_eq!(rig.bearings[2].verdict.state, State::NotApplicable);
    for (name, part) in [("50 %", 0.5), ("full", 1.0), ("lost", -1.0)] {
        let found = forces(&rig, name);
        near(found[0], 18.0 - part * 20.0 * 13.0 / 32.0);
        near(found[1], 60.0 - part * 20.0 * 22.0 / 32.0);
        near(found[2], 18.0 + part * 20.0 * 3.0 / 32.0);
    }
    near(stage(&rig, "lost").least_moment.to(KN_M), -24.0 - 20.0 * 4.0 * 3.0 / 32.0);
    near(stage(&rig, "lost").least_moment_at.to(M), 3.0);
    assert!(rig.stops.is_empty(), "{:?}", rig.stops);
    let advice = rig.reactions[0].advice.as_ref().unwrap();
    assert!(proofspan::source::write_json(&advice.write()).contains("no single span"));
    // 200 kN: let go, the far bearing swings up by 18.75 kN, 0.75 more than holds it
    let heavy = self::rig(&member, "", &[(1.0, 200.0)]);
    let rebound = heavy.stops.iter().find(|s| s.message.contains("lost at once")).unwrap();
    assert_eq!(rebound.slug.code(), "rig.liftoff-below-floor");
    near(forces(&heavy, "lost")[2], -0.75);
}

/// A weight on an overhang lifts the far bearing: it counts as uplift there, not as less weight. 10 m
/// under 2 kN/m on bearings at 0 and 8 m: 7.5 and 12.5 kN; 10 kN at the tip −2.5 and 12.5 kN; a jack
/// of 4 kN at 4 m lifts 2 kN at each.
#[test]
fn a_weight_on_an_overhang() {
    let member = format!(
        r#"{{ "id": "R", "at": "0 m", "span": "8 m", "right_overhang": "2 m", "self_weight": "2 kN/m", "seat": "seated", {STRONG} }}"#
    );
    let weights = r#""counterweights": [ { "force": "10 kN", "at": "10 m" } ],"#;
    let found = rig(&member, weights, &[(4.0, 4.0)]);
    near(found.bearings[0].stabilising.to(KN), 7.5);
    near(found.bearings[0].factor.unwrap(), 7.5 / (2.0 + 2.5));
    near(found.bearings[0].factor_without_counterweight.unwrap(), 7.5 / 2.0);
    near(found.bearings[1].factor.unwrap(), 25.0 / 2.0);
    near(found.lift_off_without_counterweight.unwrap().to(KN), 4.0 * 7.5 / 2.0);
}

/// Monolithic ends pass the uplift on: each bearing is asked for its strength. Span 8 m, 10 kN/m, a
/// jack of 100 kN at 2 m: 75 − 40 = 35 kN at the left, 25 − 40 < 0 at the right.
#[test]
fn monolithic_ends_ask_for_the_uplift_strength() {
    let member = |more: &str| {
        format!(
            r#"{{ "id": "R", "at": "0 m", "span": "8 m", "self_weight": "10 kN/m", "seat": "monolithic", {more} {STRONG} }}"#
        )
    };
    assert_eq!(stops(&rig(&member(""), "", &[(2.0, 100.0)])), ["rig.uplift-unknown"]);
    let each = member(r#""uplift_capacity": ["40 kN", "0 kN"],"#);
    let found = rig(&each, "", &[(2.0, 100.0)]);
    assert!(found.stops.is_empty(), "{:?}", found.stops);
    near(found.bearings[0].verdict.demand.si, 35e3);
    near(found.bearings[1].verdict.demand.si, 0.0);
    let weak = member(r#""uplift_capacity": ["30 kN", "0 kN"],"#);
    assert_eq!(stops(&rig(&weak, "", &[(2.0, 100.0)])), ["rig.uplift-over-capacity"]);
}

/// A platform of 4 m at 3 m with two weights of 20 kN a metre from its bearings: 20 kN on each; a
/// jack of 20 kN in its middle lifts 10 kN.
#[test]
fn dead_weight_on_a_platform() {
    let platform =
        format!(r#"{{ "id": "frame", "kind": "platform", "at": "3 m", "span": "4 m", {STRONG} }}"#);
    let weights = r#""counterweights": [ { "force": "20 kN", "at": "4 m" }, { "force": "20 kN", "at": "6 m" } ],"#;
    let rig = rig(&platform, weights, &[(5.0, 20.0)]);
    for bearing in &rig.bearings {
        near(bearing.stabilising.to(KN), 20.0);
        near(bearing.factor.unwrap(), 2.0);
    }
    near(stage(&rig, "lost").sagging.to(KN_M), 20.0 + 20.0);
    assert!(rig.stops.is_empty(), "{:?}", rig.stops);
}

/// Anchors at 4 and 8 m hold the crosshead of a jack at 5 m: 80 · 3/4 = 60 and 20 kN.
#[test]
fn ground_anchors() {
    let anchors = r#"{ "id": "anchors", "kind": "anchors", "anchors": [ { "at": "4 m", "capacity": "60 kN" }, { "at": "8 m", "capacity": "60 kN" } ] }"#;
    let found = rig(anchors, "", &[(5.0, 80.0)]);
    near(found.reactions[0].anchors[0].force.to(KN), 60.0);
    near(found.reactions[0].anchors[1].force.to(KN), 20.0);
    assert!(found.stops.is_empty() && found.bearings.is_empty() && found.stages.is_empty());
    assert!(found.notes.iter().any(|n| n.slug.code() == "rig.anchor-movement"));
    // 0.1 m nearer the first: 80 · 3.1/4 = 62 kN
    let over = rig(anchors, "", &[(4.9, 80.0)]);
    assert_eq!(stops(&over), ["rig.anchor-over-capacity"]);
    near(over.stops[0].verdict.unwrap().demand.si, 62e3);
    assert_eq!(refused(anchors, "", &[(8.5, 80.0)]), ["rig.reaction-short"]);
    let weak = anchors.replacen(r#", "capacity": "60 kN""#, "", 1);
    let text = format!(r#"{{ "reaction": {weak}, {JACKS} }}"#);
    assert_eq!(read_json::<RigSpec>(&text).unwrap_err().codes(), ["rig.anchor-capacity-missing"]);
    let on = r#""counterweights": [ { "force": "20 kN", "at": "5 m" } ],"#;
    assert_eq!(refused(anchors, on, &[(5.0, 80.0)]), ["rig.counterweight-outside"]);
}

/// A frame that holds on the member itself: nothing lifts, and what it does to the member is said.
#[test]
fn a_frame_closes_the_force_path() {
    let bars = r#""bars": { "number": 4, "area": "500 mm^2", "length": "1 m", "modulus": "200 GPa", "working_load": "200 kN", "places": ["2 m", "6 m"] },
        "beams": { "id": "yoke beam", "carries": "jack", "span": "4 m", "rigidity": "5000 kN·m^2", "moment": "90 kN·m",
            "shear": "90 kN", "web": "90 kN", "held_sideways": true },"#;
    let found = rig(r#"{ "id": "yoke", "kind": "frame" }"#, bars, &[(4.0, 50.0)]);
    assert!(found.stops.is_empty() && found.bearings.is_empty(), "{:?}", found.stops);
    assert!(found.notes.iter().any(|n| n.slug.code() == "rig.frame"));
    let pulls: Vec<f64> = found.pulls.iter().map(|p| p.force.to(KN)).collect();
    near(pulls[0], 25.0);
    near(pulls[1], 25.0);
    let text =
        format!(r#"{{ "reaction": {{ "id": "yoke", "kind": "frame", "span": "4 m" }}, {JACKS} }}"#);
    assert_eq!(read_json::<RigSpec>(&text).unwrap_err().codes(), ["rig.reaction-kind"]);
}

/// Bars at 3 and 6 m astride a jack at 4 m: 90 · 2/3 = 60 kN and 30 kN, two bars each. Three places
/// 2, 4, 6 m under a stiff crosshead, jack of 120 kN at 3 m: 1/3 + (x − 4)(3 − 4)/8 of it.
#[test]
fn bars_astride() {
    let member = format!(
        r#"{{ "id": "R", "at": "0 m", "span": "10 m", "self_weight": "20 kN/m", "seat": "seated", {STRONG} }}"#
    );
    let bars = |places: &str, number: u32| {
        format!(
            r#""bars": {{ "number": {number}, "area": "500 mm^2", "length": "3 m", "modulus": "200 GPa", "working_load": "40 kN", "places": {places} }},"#
        )
    };
    let two = rig(&member, &bars(r#"["3 m", "6 m"]"#, 4), &[(4.0, 90.0)]);
    let pulls: Vec<(f64, f64)> = two.pulls.iter().map(|p| (p.at.to(M), p.force.to(KN))).collect();
    near(pulls[0].1, 60.0);
    near(pulls[1].1, 30.0);
    let each: Vec<f64> = two
        .verdicts
        .iter()
        .filter(|v| v.slug.code() == "rig.bar-over-load")
        .map(|v| v.demand.si / 1e3)
        .collect();
    near(each[0], 30.0);
    near(each[1], 15.0);
    // own weight 100 kN; 60 · 7/10 + 30 · 4/10 = 54 kN of uplift at the left
    near(two.bearings[0].uplift.to(KN), 54.0);
    // 60 kN at 3 m: 60 · 3 · 7/10, and of 30 kN at 6 m: 30 · 3 · 4/10
    let own = 20.0 * 3.0 * 7.0 / 2.0;
    let jack = 60.0 * 3.0 * 7.0 / 10.0 + 30.0 * 3.0 * 4.0 / 10.0;
    let full = &two.reactions[0].response.as_ref().unwrap();
    near(full.moment(3.0 * M, proofspan::beam::Side::Left).unwrap().to(KN_M), -jack);
    assert!(own > 0.0);
    // stretch at the jack: (60 · 2/3 + 30 · 1/3) kN on two bars of 500 mm², 3 m, 200 GPa
    near(two.hydraulics[0].bar_stretch.to(MM), 50e3 / 2.0 * 3.0 / (200e9 * 500e-6) * 1e3);
    let three = rig(&member, &bars(r#"["2 m", "4 m", "6 m"]"#, 6), &[(3.0, 120.0)]);
    for (pull, exact) in three.pulls.iter().zip([70.0, 40.0, 10.0]) {
        near(pull.force.to(KN), exact);
    }
    // at 2 m the bars at 6 m would have to push: 1/3 − 1/2 of the force
    for (places, number, jack) in
        [(r#"["2 m", "4 m", "6 m"]"#, 6, 2.0), (r#"["5 m", "6 m"]"#, 4, 4.0), (r#""5 m""#, 4, 4.0)]
    {
        let found = refused(&member, &bars(places, number), &[(jack, 90.0)]);
        assert_eq!(found, ["rig.bars-unstable"], "{places}");
    }
    let uneven = format!(r#"{{ "reaction": {member}, {} {JACKS} }}"#, bars(r#"["3 m", "6 m"]"#, 5));
    assert_eq!(read_json::<RigSpec>(&uneven).unwrap_err().codes(), ["rig.bars-unstable"]);
}

/// Two members below, end to end, each under one of two jacks; two that lie side by side are told
/// apart by name.
#[test]
fn each_press_pulls_on_the_member_under_it() {
    let one = |id: &str, at: f64| {
        format!(
            r#"{{ "id": "{id}", "at": "{at} m", "span": "4 m", "self_weight": "10 kN/m", "seat": "seated", {STRONG} }}"#
        )
    };
    let both = format!("[{}, {}]", one("A", 0.0), one("B", 5.0));
    let found = rig(&both, "", &[(7.0, 8.0), (1.0, 8.0)]);
    let uplift: Vec<f64> = found.bearings.iter().map(|b| b.uplift.to(KN)).collect();
    for (value, exact) in uplift.iter().zip([6.0, 2.0, 4.0, 4.0]) {
        near(*value, exact);
    }
    assert_eq!(found.bearings[3].reaction, "B");
    assert_eq!(found.stages.len(), 2 * 7);
    assert_eq!(refused(&both, "", &[(4.5, 8.0)]), ["rig.reaction-short"]);
    let beside = format!("[{}, {}]", one("A", 0.0), one("B", 0.0));
    assert_eq!(refused(&beside, "", &[(1.0, 8.0)]), ["rig.reaction-ambiguous"]);
    let bars = r#""bars": { "number": 2, "area": "500 mm^2", "length": "3 m", "modulus": "200 GPa", "reaction": "B" },"#;
    let named = rig(&beside, bars, &[(1.0, 8.0)]);
    near(named.bearings[0].uplift.to(KN), 0.0);
    near(named.bearings[2].uplift.to(KN), 6.0);
    let same = format!(r#"{{ "reaction": [{0}, {0}], {JACKS} }}"#, one("A", 0.0));
    assert_eq!(read_json::<RigSpec>(&same).unwrap_err().codes(), ["rig.reaction-ambiguous"]);
}

/// One pump gives one pressure: 40 and 60 kN on equal jacks of one circuit cannot be. On pistons of
/// 8000 and 12000 mm² they ask for the same 5 MPa, and on two circuits each has its own.
#[test]
fn circuits() {
    let member = format!(
        r#""reaction": {{ "id": "R", "at": "0 m", "span": "10 m", "self_weight": "40 kN/m", "seat": "seated", {STRONG} }}"#
    );
    let jacks = |circuit: &str, area: u32| {
        format!(
            r#"{{ {circuit} "number": 1, "piston": {{ "area": "{area} mm^2" }}, "rated_pressure": "70 MPa", "stroke": "150 mm" }}"#
        )
    };
    let on = |circuit: &str, x: f64, p: f64| Press::jack(x * M, Net(p * KN)).on(circuit);
    let run = |jacks: &str, presses: &[Press]| {
        let spec: RigSpec = read_json(&format!(r#"{{ {member}, "jacks": {jacks} }}"#))?;
        check(&spec, "T", MemberUnit::Strip, presses, 1.0 * MM)
    };
    let presses = [on("a", 3.0, 40.0), on("a", 6.0, 60.0)];
    let error = run(&jacks("", 8000), &presses).unwrap_err();
    assert_eq!(error.codes(), ["rig.circuit"]);
    let told = error.to_string();
    assert!(told.contains("3 m") && told.contains("6 m"), "both are named: {told}");
    let (small, large) = (jacks(r#""circuit": "a","#, 8000), jacks(r#""circuit": "a","#, 12000));
    let fits = run(&format!("[{small}, {large}]"), &presses).unwrap();
    for h in &fits.hydraulics {
        near(h.pressure.si() / 1e6, 5.0);
    }
    assert_eq!(run(&format!("[{large}, {small}]"), &presses).unwrap_err().codes(), ["rig.circuit"]);
    let other = jacks(r#""circuit": "b","#, 8000);
    let apart = [on("a", 3.0, 40.0), on("b", 6.0, 60.0)];
    let found = run(&format!("[{small}, {other}]"), &apart).unwrap();
    let pressures: Vec<f64> = found.hydraulics.iter().map(|h| h.pressure.si() / 1e6).collect();
    near(pressures[0], 5.0);
    near(pressures[1], 7.5);
    assert_eq!(found.hydraulics[1].circuit.as_deref(), Some("b"));
    // a circuit without jacks, jacks without a circuit
    let lone = [on("c", 3.0, 40.0)];
    assert_eq!(run(&format!("[{small}, {other}]"), &lone).unwrap_err().codes(), ["rig.circuit"]);
    let unnamed = format!("[{small}, {}]", jacks("", 8000));
    assert_eq!(run(&unnamed, &apart).unwrap_err().codes(), ["rig.circuit"]);
}

/// Weights react on nothing: no reaction, no jacks and no bars are asked for. A jack asks for both.
#[test]
fn weights_ask_for_nothing() {
    let empty: RigSpec = read_json("{}").unwrap();
    let weight = [Press::weight(3.0 * M, Net(40.0 * KN))];
    let rig = check(&empty, "T", MemberUnit::Strip, &weight, 1.0 * MM).unwrap();
    assert!(rig.stops.is_empty() && rig.verdicts.is_empty() && rig.hydraulics.is_empty());
    let jack = [Press::jack(3.0 * M, Net(40.0 * KN))];
    let error = check(&empty, "T", MemberUnit::Strip, &jack, 1.0 * MM).unwrap_err();
    assert_eq!(error.codes(), ["rig.jacks-missing"]);
}

/// What a description of a reaction member may not be, all at once.
#[test]
fn a_reaction_that_cannot_be() {
    let read = |reaction: &str| {
        let text = format!(r#"{{ "reaction": {{ "id": "R", {reaction} }}, {JACKS} }}"#);
        read_json::<RigSpec>(&text).unwrap_err().codes()
    };
    let rest = format!(r#""self_weight": "4 kN/m", "seat": "seated", {STRONG}"#);
    let supports = r#""supports": [ { "at": "4 m" }, { "at": "0 m" } ]"#;
    assert_eq!(read(&format!("{supports}, {rest}")), ["beam.order"]);
    let two = r#""kind": "cantilever", "span": ["3 m", "4 m"], "left_overhang": "1 m""#;
    assert_eq!(read(&format!("{two}, {rest}")), ["beam.spans", "rig.reaction-kind"]);
    assert_eq!(read(r#""kind": "member""#), vec!["source.field-missing"; 4]);
    assert_eq!(read(r#""kind": "anchors""#), ["source.field-missing"]);
    let each = r#""span": ["3 m", "4 m"], "uplift_capacity": ["9 kN", "9 kN"]"#;
    assert_eq!(read(&format!("{each}, {rest}")), ["rig.reaction-kind"]);
    // a support beyond the member, a member that falls, the member under test
    let falls = format!(
        r#"{{ "id": "R", "supports": [ {{ "at": "1 m" }} ], "right_overhang": "4 m", {rest} }}"#
    );
    assert_eq!(refused(&falls, "", &[(2.0, 60.0)]), ["beam.mechanism"]);
    let itself = format!(r#"{{ "id": "T", "span": "8 m", {rest} }}"#);
    assert_eq!(refused(&itself, "", &[(2.0, 60.0)]), ["rig.reaction-is-test"]);
}

/// The numbers of a rig that depend on places: forces in kN, moments in kN·m, places in m.
fn numbers(rig: &Rig) -> (Vec<f64>, Vec<f64>) {
    let mut forces = Vec::new();
    let mut places = Vec::new();
    for b in &rig.bearings {
        forces.extend([b.stabilising.to(KN), b.uplift.to(KN), b.factor.unwrap_or(0.0)]);
        places.push(b.at.to(M));
    }
    for s in &rig.stages {
        forces.extend(s.reactions.iter().map(|r| r.force.to(KN)));
        forces.extend([s.shear.to(KN), s.sagging.to(KN_M), s.least_moment.to(KN_M)]);
        places.extend([s.sagging_at.to(M), s.least_moment_at.to(M)]);
    }
    (forces, places)
}

/// Two uneven spans with overhangs and two weights under two presses with bars astride, its left end
/// moved by `shift`; seen from the right of a member of `mirror` metres where that is given.
fn law(shift: f64, mirror: Option<f64>) -> Rig {
    let x = |at: f64| mirror.map_or(at + shift, |l| l - at);
    let list = |places: [f64; 2]| {
        let mut places = places.map(x);
        places.sort_by(f64::total_cmp);
        format!(r#"["{} m", "{} m"]"#, places[0], places[1])
    };
    let (spans, over, first) = match mirror {
        None => (r#"["4 m", "5.5 m"]"#, ("0.5 m", "1.2 m"), x(0.7)),
        Some(_) => (r#"["5.5 m", "4 m"]"#, ("1.2 m", "0.5 m"), x(0.7 + 9.5)),
    };
    let member = format!(
        r#"{{ "id": "R", "at": "{first} m", "span": {spans}, "left_overhang": "{}", "right_overhang": "{}",
            "self_weight": "9 kN/m", "seat": "seated", {STRONG} }}"#,
        over.0, over.1
    );
    let bars = |places: [f64; 2]| {
        format!(
            r#"{{ "number": 2, "area": "500 mm^2", "length": "3 m", "modulus": "200 GPa", "places": {} }}"#,
            list(places)
        )
    };
    let mut both = [bars([1.5, 3.1]), bars([6.0, 8.0])];
    if mirror.is_some() {
        both.reverse();
    }
    let more = format!(
        r#""counterweights": [ {{ "force": "12 kN", "at": "{} m" }}, {{ "force": "7 kN", "at": "{} m" }} ],
            "bars": [{}, {}],"#,
        x(2.2),
        x(10.9),
        both[0],
        both[1]
    );
    let mut presses = vec![(x(2.0), 25.0), (x(7.3), 25.0)];
    presses.sort_by(|a, b| a.0.total_cmp(&b.0));
    rig(&member, &more, &presses)
}

#[test]
fn a_shift_of_the_origin_moves_places_alone() {
    let (forces, places) = numbers(&law(0.0, None));
    for shift in [-3.7, 0.31, 12.5] {
        let (f, p) = numbers(&law(shift, None));
        assert_eq!((f.len(), p.len()), (forces.len(), places.len()));
        f.iter().zip(&forces).for_each(|(a, b)| near(*a, *b));
        p.iter().zip(&places).for_each(|(a, b)| near(*a, *b + shift));
    }
}

#[test]
fn seen_from_the_right_it_is_the_same() {
    let (there, back) = (law(0.0, None), law(0.0, Some(12.0)));
    for (a, b) in there.bearings.iter().zip(back.bearings.iter().rev()) {
        near(a.at.to(M), 12.0 - b.at.to(M));
        near(a.stabilising.to(KN), b.stabilising.to(KN));
        near(a.uplift.to(KN), b.uplift.to(KN));
    }
    for (a, b) in there.stages.iter().zip(&back.stages) {
        for (r, s) in a.reactions.iter().zip(b.reactions.iter().rev()) {
            near(r.force.to(KN), s.force.to(KN));
        }
        near(a.shear.to(KN), b.shear.to(KN));
        near(a.sagging.to(KN_M), b.sagging.to(KN_M));
        near(a.sagging_at.to(M), 12.0 - b.sagging_at.to(M));
        near(a.least_moment.to(KN_M), b.least_moment.to(KN_M));
    }
    near(there.hydraulics[0].travel.to(MM), back.hydraulics[0].travel.to(MM));
}

fn scenario(name: &str, change: impl Fn(&mut serde_json::Value)) -> TestDesign {
    let path = format!("{}/examples/scenarios/{name}.test.json", env!("CARGO_MANIFEST_DIR"));
    let mut document = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    change(&mut document);
    design(TestSpec::from_json(&document.to_string()).unwrap()).unwrap()
}

/// The rigs of the shipped scenarios, as they were: SI, to 1e-9. Changed on purpose: of the gallery
/// whatever depends on where the reaction is pulled (below), of both the stages between, and
/// `P lost at once`.
#[test]
fn the_shipped_rigs_keep_their_numbers() {
    let terrace = scenario("terrace_strip", |_| {});
    let rig = &terrace.rig;
    assert!(rig.stops.is_empty() && rig.notes.is_empty(), "{:?} {:?}", rig.stops, rig.notes);
    let b = &rig.bearings;
    near(b[0].stabilising.si(), 102_368.406_772_528_3);
    near(b[0].uplift.si(), 69_153.700_720_326_89);
    near(b[0].factor.unwrap(), 1.480_302_654_900_988_6);
    near(b[0].factor_on_unbalanced_uplift.unwrap(), 5.000_793_776_789_949);
    near(b[1].factor.unwrap(), 5.998_399_054_679_9);
    near(rig.lift_off_without_counterweight.unwrap().si(), 70_213.467_342_419_58);
    let advice = rig.reactions[0].advice.as_ref().unwrap().placed().unwrap();
    near(advice.at.si(), 0.094_564_163_365_531_63);
    near(advice.force.si(), 35_439.470_223_183_88);
    let h = &rig.hydraulics[0];
    near(h.pressure.si(), 14_022_560.242_465_684);
    near(h.travel.si(), 0.017_358_313_436_677_084);
    near(h.stiffness.unwrap().si(), 7_248_406.584_656_9);
    near(h.oil_travel.unwrap().si(), 0.001_265_633_998_100_665_4);
    for (name, left, right, shear, sagging) in [
        (
            "placed",
            102_368.406_772_528_31,
            63_817.152_773_603_96,
            102_368.406_772_528_31,
            229_493.198_968_908_84,
        ),
        (
            "full",
            33_214.706_052_201_42,
            53_178.121_893_553_67,
            53_178.121_893_553_63,
            159_353.263_436_123_5,
        ),
    ] {
        let s = stage(rig, name);
        near(s.reactions[0].force.si(), left);
        near(s.reactions[1].force.si(), right);
        near(s.shear.si(), shear);
        near(s.sagging.si(), sagging);
    }
    let gallery = scenario("gallery_beam", |_| {});
    let rig = &gallery.rig;
    assert!(rig.stops.is_empty() && rig.notes.is_empty(), "{:?} {:?}", rig.stops, rig.notes);
    for b in &rig.bearings {
        near(b.stabilising.si(), 97_500.0);
        near(b.uplift.si(), 56_584.285_714_285_72);
        near(b.factor.unwrap(), 1.723_093_236_385_67);
    }
    near(rig.hydraulics[0].pressure.si(), 12_151_349.330_750_804);
    near(rig.hydraulics[0].bar_stretch.si(), 0.000_900_068_171_489_168_4);
    near(stage(rig, "placed").sagging.si(), 256_875.0);
}

/// Changed on purpose: the load lost at once. Terrace, near bearing: own weight 608 · 45/2 = 13680,
/// 10 kip at 3 ft 10000 · 42/45 and the jack reversed P · 39/45, P = 2098760/117 lbf. Gallery,
/// mid-span: own weight 15 · 9²/8, two weights 30 · 3.5, the jack reversed P · 9/4; its strength in
/// sagging was raised from 420 to 560 kN·m, for 511.5 kN·m act.
#[test]
fn the_shipped_rigs_when_the_load_is_lost() {
    let terrace = scenario("terrace_strip", |_| {});
    let p = 2_098_760.0 / 117.0;
    near(terrace.force().0.to(LBF), p);
    let lost = stage(&terrace.rig, "lost");
    near(lost.reactions[0].force.to(LBF), 13_680.0 + 28_000.0 / 3.0 + p * 39.0 / 45.0);
    near(lost.shear.to(LBF), 13_680.0 + 28_000.0 / 3.0 + p * 39.0 / 45.0);
    let gallery = scenario("gallery_beam", |_| {});
    let p = gallery.force().0.to(KN);
    let lost = stage(&gallery.rig, "lost");
    near(lost.sagging.to(KN_M), 15.0 * 81.0 / 8.0 + 30.0 * 3.5 + p * 9.0 / 4.0);
    near(lost.sagging_at.to(M), 4.5);
    assert!((lost.sagging.to(KN_M) - 511.5).abs() < 0.1);
}

/// A spreader presses the member at its two contacts and pulls on the reaction under its one jack:
/// its middle. The reaction rises there by P L³/48EI, which is what the stroke must take up.
#[test]
fn a_spreader_pulls_under_its_one_jack() {
    let gallery = scenario("gallery_beam", |_| {});
    let p = gallery.force().0.to(KN);
    let [press] = &gallery.rig.presses[..] else { panic!() };
    near(press.at.to(M), 4.5);
    near(press.force.0.to(KN), p);
    let [pull] = &gallery.rig.pulls[..] else { panic!() };
    near(pull.at.to(M), 4.5);
    let rise = p * 1e3 * 9.0_f64.powi(3) / (48.0 * 27e9 * 0.0045);
    near(gallery.rig.rise(4.5 * M).unwrap().si(), rise);
    let test = gallery.layout.response.deflection(3.5 * M).unwrap().si();
    let h = &gallery.rig.hydraulics[0];
    near(h.travel.si(), test + rise + h.bar_stretch.si() + 0.010);
    // mid-span, full: 15 · 9²/8 + 30 · 3.5 − P · 9/4
    let full = gallery.rig.reactions[0].response.as_ref().unwrap();
    near(full.moment(4.5 * M, proofspan::beam::Side::Left).unwrap().to(KN_M), -p * 9.0 / 4.0);
    // with bars at 3.5 and 5.5 m each takes half, as the contacts do
    let astride = scenario("gallery_beam", |d| {
        d["rig"]["bars"]["places"] = serde_json::json!(["3.5 m", "5.5 m"]);
    });
    near(astride.rig.hydraulics[0].travel.si(), 0.035_621_734_838_155_845);
    near(stage(&astride.rig, "full").sagging.si(), 58_829.999_999_999_96);
}

/// The sketch is drawn from the objects that are computed: places read from it are theirs.
#[test]
fn the_sketch_shows_what_was_computed() {
    let moved = scenario("gallery_beam", |d| {
        d["rig"]["reaction"]["at"] = serde_json::json!("-1.5 m");
        d["rig"]["reaction"]["span"] = serde_json::json!(["5 m", "6 m"]);
        d["rig"]["bars"]["places"] = serde_json::json!(["4 m", "5.5 m"]);
    });
    let html = proofspan::report::html(&moved, None).unwrap();
    let x_of = |before: &str, after: &str| -> Vec<f64> {
        html.split(before)
            .skip(1)
            .filter_map(|rest| rest.split_once(after).map(|(x, _)| x))
            .filter_map(|x| x.parse().ok())
            .collect()
    };
    // supports of the member under test come first and stand at 0 and 9 m: the scale of the drawing
    let supports = x_of("<path class=\"support\" d=\"M", " ");
    let (test, below) = supports.split_at(2);
    let metres = |px: f64| (px - test[0]) / (test[1] - test[0]) * 9.0;
    let same = |drawn: Vec<f64>, computed: Vec<f64>| {
        assert_eq!(drawn.len(), computed.len(), "{drawn:?} {computed:?}");
        for (a, b) in drawn.iter().zip(&computed) {
            assert!((metres(*a) - b).abs() < 0.01, "{} drawn for {b}", metres(*a));
        }
    };
    let rig = &moved.rig;
    same(below.to_vec(), rig.bearings.iter().map(|b| b.at.to(M)).collect());
    same(x_of("<line class=\"bar\" x1=\"", "\""), rig.pulls.iter().map(|p| p.at.to(M)).collect());
    // one jack on a spreader, whose contacts have an arrow each, 5 beside the middle
    same(x_of("<path class=\"jack\" d=\"M", " "), vec![4.5]);
    let arrow = |mark: &str| x_of(&format!("data-mark=\"{mark}\" x1=\""), "\"");
    let contacts = [arrow("S1.1"), arrow("S1.2")].concat().iter().map(|x| x - 5.0).collect();
    same(contacts, moved.layout.lines.iter().map(|l| l.at.to(M)).collect());
    let catches = moved.shoring.catches.iter().map(|c| c.at.to(M)).collect();
    same(x_of("<line class=\"catch\" x1=\"", "\""), catches);
    same(vec![test[0]], vec![0.0]);
}
