//! Lines of rig, shoring and circuit that somebody can be hurt by, each held by a number from statics: what a
//! change of the line would let pass is named beside it.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::beam::{Beam, Load, Support};
use proofspan::rig::{Hydraulic, Press, Pressed, Rig, RigSpec, check};
use proofspan::scope::Mode;
use proofspan::shoring::{self, Catching, Floor, Resting, ShoringSpec, Surroundings, floor_check};
use proofspan::source::read_json;
use proofspan::units::*;
use proofspan::verdict::{MemberUnit, State};
use proofspan::{TestSpec, design};
use serde_json::json;

#[track_caller]
fn near(value: f64, exact: f64) {
    assert!((value - exact).abs() <= 1e-9 * exact.abs().max(1e-3), "{value} for {exact}");
}

/// 100 kN on 2 × 5000 mm², 10 mm of way and 1 mm of bars (50 kN · 2 m/(200 GPa · 500 mm²)): k = 100/11 kN/mm;
/// 1 l of oil of 1000 MPa takes k V/(K A²) = 1/11 beside it.
fn press(rated: &str) -> Pressed {
    let text = format!(
        r#"{{ "force": "100 kN", "number": 2, "area": "5000 mm^2", "rated_pressure": "{rated}", "stroke": "150 mm", "deflection": "10 mm",
        "bars": {{ "number": 2, "area": "500 mm^2", "length": "2 m", "modulus": "200 GPa", "working_load": "60 kN" }},
        "oil_volume": "1 l", "oil_bulk_modulus": "1000 MPa",
        "pump": {{ "stroke": "1 ml", "dead_man": true, "remote_release": true }},
        "fittings": {{ "hose_burst": "60 MPa", "relief": "10.05 MPa", "held_at_jack": true }},
        "hold": {{ "band": 0.05, "expansion": "7e-4 1/K", "cooling": "2 K", "warming": "1 K", "bars_expansion": "12e-6 1/K", "bars_change": "3 K" }} }}"#
    );
    read_json::<Hydraulic>(&text).unwrap().check().unwrap()
}

/// Oil of 2 K is 0.14 mm, 1167 N; bars of 3 K are 0.072 mm, 600 N: both go one way in a cold night, and
/// both count in a warm one.
#[test]
fn bars_and_oil_in_one_night() {
    let locked = press("70 MPa").hydraulics.locked.unwrap();
    let k = 100.0 / 11.0 / (1.0 + 1.0 / 11.0);
    let (cold, bars) = (k * 0.14, k * 0.072);
    near(locked.cooling.unwrap().to(KN), cold);
    near(locked.bars.unwrap().to(KN), bars);
    let day = Duration::from_si(86_400.0);
    let held = locked.during(None, 1.0, (day, day)).unwrap();
    near(held.least.to(KN), 100.0 - cold - bars);
    near(held.most.to(KN), 100.0 + cold / 2.0 + bars);
}

/// Warm, 10 MPa become 10 (1 + (583 + 600)/1e5) = 10.118 MPa: the oil alone would stay below 10.1.
#[test]
fn a_warm_circuit_over_its_rating() {
    let stops = |rated: &str| -> Vec<String> {
        press(rated).stops.iter().map(|s| format!("{} {}", s.slug.code(), s.path)).collect()
    };
    assert_eq!(stops("10.1 MPa"), ["rig.pressure-over-rating hold.warming"]);
    assert!(stops("10.12 MPa").is_empty());
}

/// A day of sun of 20 K on the oil brings 11.67 kN where 5 may be missing or too much; a pump that cannot be
/// unloaded from outside the zone is a stop, whatever hand is on it.
#[test]
fn a_warm_circuit_leaves_its_band() {
    let text = r#"{ "force": "100 kN", "number": 2, "area": "5000 mm^2", "rated_pressure": "70 MPa", "stroke": "150 mm", "deflection": "11 mm",
        "oil_volume": "1 l", "oil_bulk_modulus": "1000 MPa",
        "pump": { "stroke": "1 ml", "dead_man": true, "remote_release": false },
        "fittings": { "hose_burst": "60 MPa", "relief": "10.05 MPa", "held_at_jack": true },
        "hold": { "band": 0.05, "expansion": "7e-4 1/K", "cooling": "0 K", "warming": "20 K" } }"#;
    let found = read_json::<Hydraulic>(text).unwrap().check().unwrap();
    let day = Duration::from_si(86_400.0);
    let held = found.hydraulics.locked.as_ref().unwrap().during(None, 1.0, (day, day)).unwrap();
    near(held.most.to(KN), 100.0 + 100.0 / 12.0 * 1.4);
    assert!(held.leaves_band);
    assert!(found.stops.iter().any(|s| s.slug.code() == "rig.release"));
}

/// Dead load that hangs on beyond what is listed falls with it: 1.25 · 100 kN.
#[test]
fn what_is_dragged_along_falls_too() {
    let text = r#"{ "span": "10 m", "in_place": "10 kN/m", "mode": "shear", "from": "0 m", "to": "2 m", "to_ground": true, "dragged_along": 1.25,
        "catches": { "at": "5 m", "stiffness": "10 kN/mm", "gap": "5 mm", "resistance": { "posts": 1, "rated": "900 kN" } } }"#;
    let found = read_json::<Catching>(text).unwrap().check().unwrap();
    near(found.shoring.catches[0].own.to(KN), 125.0);
}

/// A catch at the end of an overhang of 2 m: 30 kN hog the floor by 60 kN·m over its bearing.
#[test]
fn a_floor_hogs_under_a_catch() {
    let bearings = [0.0, 8.0].map(|x| Support::bearing(x * M)).to_vec();
    let ei = vec![(0.0 * M, FlexuralRigidity::from_si(1e8))];
    let beam = Beam::new(10.0 * M, bearings, ei).unwrap();
    let floor = |hogging: f64| Floor {
        id: "F",
        unit: MemberUnit::Beam,
        beam: &beam,
        from: 0.0 * M,
        placed: &[],
        weights: &[],
        shear: None,
        sagging: None,
        hogging: Some(hogging * KN_M),
    };
    let landing = [vec![(10.0 * M, 30.0 * KN)]];
    let state = |hogging: f64| floor_check(&floor(hogging), &landing).unwrap().1[0].state;
    near(floor_check(&floor(60.0), &landing).unwrap().0.hogging.to(KN_M), 60.0);
    assert_eq!((state(60.1), state(59.9)), (State::Pass, State::Fail));
}

/// 200 kN (twice 100 without a gap) on a floor of 10 kN/mm and a post of 10 on ground of 10: a third goes on.
/// One level is enough where post and ground carry 66.7 kN; where either does not, none is.
#[test]
fn levels_are_enough_where_posts_and_ground_are() {
    let needed = |post: &str, ground: &str| {
        let text = format!(
            r#"{{ "span": "10 m", "in_place": "10 kN/m", "mode": "shear", "from": "0 m", "to": "2 m", "to_ground": true,
            "catches": {{ "at": "5 m", "stiffness": "10 kN/mm", "gap": "0 mm", "resistance": {{ "posts": 1, "rated": "900 kN" }} }},
            "ground": {{ "stiffness": "10 kN/mm", "carries": "{ground}" }},
            "levels": [{{ "id": "floor", "stiffness": "10 kN/mm", "spare": "150 kN", "spare_after": "own weight",
                "posts": {{ "stiffness": "10 kN/mm", "resistance": {{ "posts": 1, "rated": "{post}" }} }} }}] }}"#
        );
        read_json::<Catching>(&text).unwrap().check().unwrap().shoring.levels_needed
    };
    assert_eq!(needed("67 kN", "67 kN"), Some(1));
    assert_eq!(needed("66 kN", "67 kN"), None);
    assert_eq!(needed("67 kN", "66 kN"), None);
}

/// Supports at 0, 6 and 12 m, a crack at 8.5 m at the most: the left piece hangs 2.5 m over the middle one,
/// 20 · 2.5²/2 = 62.5 kN·m, and 30 kN of a loose pile there slide to its end, 75 more.
#[test]
fn a_loose_pile_on_a_piece_that_hangs() {
    let spec: ShoringSpec = read_json(
        r#"{ "drive": "weights", "to_ground": true, "catch": { "at": "9 m", "stiffness": "10 kN/mm", "gap": "10 mm", "resistance": { "posts": 10, "rated": "900 kN" } } }"#,
    )
    .unwrap();
    let bearings = [0.0, 6.0, 12.0].map(|x| Support::bearing(x * M)).to_vec();
    let ei = vec![(0.0 * M, FlexuralRigidity::from_si(1e8))];
    let beam = Beam::new(12.0 * M, bearings, ei).unwrap();
    let in_place = [Load::uniform(0.0 * M, 12.0 * M, 20.0 * KN_PER_M)];
    let pile = Resting { from: 6.5 * M, to: 7.5 * M, force: 30.0 * KN, loose: true, jack: false };
    let found = shoring::check(
        &spec,
        &Surroundings {
            unit: MemberUnit::Beam,
            beam: &beam,
            regions: &[(Mode::Shear, 8.0 * M, 8.5 * M)],
            depth: 0.0 * M,
            in_place: &in_place,
            on_it: &[pile],
            rig_weight: &[],
            spring_back: 0.0 * M,
            fractions: &[],
            reading: &|_| 0.0 * M,
        },
    )
    .unwrap();
    let said = found.notes.iter().find(|n| n.slug.code() == "shoring.piece-hangs").unwrap();
    assert!(said.message.to_string().contains("137.5"), "{}", said.message);
}

/// 10 m of 10 kN/m about its right bearing: 100 kN on a catch at 5 m.
fn caught(gap: &str, rated: &str, reading: &str) -> Vec<&'static str> {
    let text = format!(
        r#"{{ "span": "10 m", "in_place": "10 kN/m", "mode": "shear", "from": "0 m", "to": "2 m", "to_ground": true,
        "reading": "{reading}", "reading_uncertainty": "0.2 mm",
        "catches": {{ "at": "5 m", "stiffness": "10 kN/mm", "gap": "{gap}", "resistance": {{ "posts": 1, "rated": "{rated}" }} }} }}"#
    );
    let found = read_json::<Catching>(&text).unwrap().check().unwrap();
    found.shoring.stops.iter().map(|s| s.slug.code()).collect()
}

/// Posts of 230 kN stop ((2.3 − 1)² − 1) 100/20 = 3.45 mm and no more, while 4.5 + 0.2 mm are read: no gap is
/// right, and one above the reading is no way out. Posts of 240 kN stop 4.8 mm.
#[test]
fn an_empty_window_is_a_stop() {
    assert!(caught("5 mm", "230 kN", "4.5 mm").contains(&"shoring.gap-not-above-reading"));
    assert!(!caught("4.75 mm", "240 kN", "4.5 mm").contains(&"shoring.gap-not-above-reading"));
    assert!(caught("4.69 mm", "240 kN", "4.5 mm").contains(&"shoring.gap-not-above-reading"));
}

/// Of a rated load and a resistance over its factor the smaller one counts, whichever it is.
#[test]
fn the_strictest_of_what_posts_carry() {
    let carries = |rated: &str| {
        let text = format!(
            r#"{{ "span": "10 m", "in_place": "10 kN/m", "mode": "shear", "from": "0 m", "to": "2 m", "to_ground": true,
            "catches": {{ "at": "5 m", "stiffness": "10 kN/mm", "gap": "5 mm", "resistance": {{ "posts": 4, "rated": "{rated}", "characteristic": "100 kN", "material_factor": 1.1 }} }} }}"#
        );
        read_json::<Catching>(&text).unwrap().check().unwrap().shoring.catches[0].resistance.to(KN)
    };
    near(carries("95 kN"), 400.0 / 1.1);
    near(carries("80 kN"), 320.0);
}

/// A crack at 2 m leaves a stub of 2 m, 20 · 2²/2 = 40 kN·m at its support. A pile of 30 kN that stands from 0
/// to 4 m and is loose slides to its end: 60 kN·m more.
#[test]
fn a_loose_pile_slides_to_the_end_of_the_stub() {
    let stops = |moment: &str| -> Vec<&'static str> {
        let spec: ShoringSpec = read_json(&format!(
            r#"{{ "stub": {{ "held": "cast_in", "moment": "{moment}" }}, "drive": "weights", "to_ground": true,
            "catch": {{ "at": "4 m", "stiffness": "10 kN/mm", "gap": "10 mm", "resistance": {{ "posts": 10, "rated": "900 kN" }} }} }}"#
        ))
        .unwrap();
        let beam = Beam::simple(10.0 * M, FlexuralRigidity::from_si(1e8)).unwrap();
        let in_place = [Load::uniform(0.0 * M, 10.0 * M, 20.0 * KN_PER_M)];
        let pile =
            Resting { from: 0.0 * M, to: 4.0 * M, force: 30.0 * KN, loose: true, jack: false };
        let found = shoring::check(
            &spec,
            &Surroundings {
                unit: MemberUnit::Beam,
                beam: &beam,
                regions: &[(Mode::Shear, 0.0 * M, 2.0 * M)],
                depth: 0.0 * M,
                in_place: &in_place,
                on_it: &[pile],
                rig_weight: &[],
                spring_back: 0.0 * M,
                fractions: &[],
                reading: &|_| 0.0 * M,
            },
        );
        let all = found.unwrap().stops.into_iter().map(|s| s.slug.code());
        all.filter(|code| *code != "shoring.ground-unchecked").collect()
    };
    assert!(stops("100 kN·m").is_empty(), "{:?}", stops("100 kN·m"));
    assert_eq!(stops("99 kN·m"), ["shoring.piece-uncaught", "shoring.stub-over-capacity"]);
}

/// A hinge anywhere from 4 to 6 m of 10: its left piece brings 10 · 6²/2/3 = 60 kN to the catch at 3 m where it
/// is longest, its right one as much to that at 7 m where that is; at 5 m, which is looked at too, either
/// brings 41.67. Between 4 and 5 m both are bounded by the larger of the ends.
#[test]
fn all_catches_together_between_two_cracks() {
    let text = r#"{ "span": "10 m", "in_place": "10 kN/m", "mode": "flexure", "from": "4 m", "to": "6 m", "to_ground": true,
        "catches": [{ "at": "3 m", "stiffness": "10 kN/mm", "gap": "10 mm", "resistance": { "posts": 1, "rated": "400 kN" } },
                    { "at": "7 m", "stiffness": "10 kN/mm", "gap": "10 mm", "resistance": { "posts": 1, "rated": "400 kN" } }] }"#;
    let found = read_json::<Catching>(text).unwrap().check().unwrap().shoring;
    let drop = |w: f64| w * (1.0 + (1.0 + 2.0 * 10.0 * 10.0 / w).sqrt());
    near(found.catches[0].force.to(KN), drop(60.0));
    near(found.force.to(KN), drop(60.0) + drop(125.0 / 3.0));
}

fn rig(reaction: &str, more: &str, presses: &[Press]) -> Rig {
    let spec: RigSpec = read_json(&format!(
        r#"{{ "reaction": {{ "id": "R", "seat": "seated", "rigidity": {{ "modulus": "30 GPa", "second_moment": "2e9 mm^4" }},
            "shear_capacity": "900 kN", "hogging_capacity": "900 kN·m", {reaction} }}, {more} }}"#
    ))
    .unwrap();
    check(&spec, "T", MemberUnit::Strip, presses, 1.0 * MM).unwrap()
}

fn stops(rig: &Rig, path: &str) -> Vec<&'static str> {
    rig.stops.iter().filter(|s| s.path == path).map(|s| s.slug.code()).collect()
}

/// 10 m of 1 kN/m with 60 kN at 6 m, and 20 kN still to come; the piece of 30 kN on its way stands beside the
/// 60 kN: 1 · 6 · 4/2 + (60 + 30) · 6 · 4/10 = 228 kN·m.
#[test]
fn a_piece_on_its_way_beside_what_stands() {
    let way = |sagging: &str| {
        rig(
            &format!(
                r#""at": "0 m", "span": "10 m", "self_weight": "1 kN/m", "sagging_capacity": "{sagging}""#
            ),
            r#""counterweights": [{ "force": "20 kN", "at": "4 m" }, { "force": "60 kN", "at": "6 m" }],
            "transport": { "force": "30 kN", "from": "0 m", "to": "10 m" }"#,
            &[],
        )
    };
    let fine = way("229 kN·m");
    let stage = fine.stages.iter().find(|s| s.name.ends_with("the others placed")).unwrap();
    near(stage.sagging.to(KN_M), 228.0);
    near(stage.sagging_at.to(M), 6.0);
    assert!(!stops(&fine, "rig.reaction").contains(&"rig.staging-over-capacity"));
    assert!(stops(&way("227 kN·m"), "rig.reaction").contains(&"rig.staging-over-capacity"));
}

/// On an overhang of 3 m beside 10 m of 1 kN/m, 30 kN lift the far bearing: 13 · 3.5/10 − 30 · 3/10 = −4.45 kN.
/// 15 kN do not: 4.55 − 4.5.
#[test]
fn a_piece_on_an_overhang_lifts_the_far_bearing() {
    let way = |force: &str| {
        rig(
            r#""at": "0 m", "span": "10 m", "right_overhang": "3 m", "self_weight": "1 kN/m", "sagging_capacity": "900 kN·m""#,
            &format!(r#""transport": {{ "force": "{force}", "from": "10 m", "to": "13 m" }}"#),
            &[],
        )
    };
    assert_eq!(stops(&way("30 kN"), "rig.transport"), ["rig.liftoff-below-floor"]);
    assert!(stops(&way("15 kN"), "rig.transport").is_empty());
}

/// Two pumps: one pulls 50 kN up at an overhang of 2 m and presses the far bearing down by 10 kN, the other
/// lifts that by 50 · 8/10 = 40 kN. Where the first one fails the second still lifts: 240 · 4/10 = 96 kN
/// against 40, not against 30.
#[test]
fn one_pump_does_not_hold_down_what_another_lifts() {
    let jacks = |name: &str| {
        format!(
            r#"{{ "circuit": "{name}", "number": 1, "piston": {{ "area": "8000 mm^2" }}, "rated_pressure": "70 MPa", "stroke": "150 mm" }}"#
        )
    };
    let found = rig(
        r#""at": "2 m", "span": "10 m", "left_overhang": "2 m", "self_weight": "20 kN/m", "sagging_capacity": "900 kN·m""#,
        &format!(r#""jacks": [{}, {}]"#, jacks("A"), jacks("B")),
        &[
            Press::jack(0.0 * M, Net(50.0 * KN)).on("A"),
            Press::jack(10.0 * M, Net(50.0 * KN)).on("B"),
        ],
    );
    near(found.bearings[1].stabilising.to(KN), 96.0);
    near(found.bearings[1].factor.unwrap(), 96.0 / 40.0);
}

/// The force of a locked-off circuit changes most on a stiff member: 80 kN on 6 m of 52 MN·m² go 6.92 mm and
/// anchors 80/35 mm, both over 128/52 by the stiff prediction, and 0.62 mm of bars.
#[test]
fn a_circuit_is_as_stiff_as_the_stiff_prediction() {
    let document = json!({
        "schema_version": 1, "title": "Beam",
        "scope": { "member": { "id": "M1", "kind": "beam", "unit": "beam" }, "doubt": { "mode": "flexure", "from": "2 m", "to": "4 m" } },
        "beam": { "kind": "simple", "span": "6 m", "depth": "450 mm", "soft": { "modulus": "26 GPa", "second_moment": "0.002 m^4" }, "stiff": { "modulus": "32 GPa", "second_moment": "0.004 m^4" } },
        "loads": { "width": "2.5 m", "actions": [
            { "action": "self_weight", "area": "3 kPa", "in_place": 1 },
            { "action": "live", "area": "5 kPa", "occupancy": "other" } ] },
        "edition": { "id": "ACI 437.2-13" },
        "layout": { "carrier": { "kind": "jack_line", "at": "3 m" }, "ends": "seated" },
        "rig": { "reaction": { "id": "rock", "kind": "anchors", "stiffness": "35 kN/mm", "anchors": [{ "at": "3 m", "capacity": "100 kN" }] },
            "bars": { "number": 2, "area": "1000 mm^2", "length": "3.2 m", "modulus": "205 GPa", "working_load": "60 kN" },
            "jacks": { "number": 1, "piston": { "area": "8000 mm^2" }, "rated_pressure": "70 MPa", "stroke": "120 mm",
                "pump": { "stroke": "1.2 ml", "dead_man": true, "remote_release": true } } },
        "shoring": { "drive": "locked_off_jacks", "to_ground": true },
        "protocol": { "gauges": [ { "id": "mid", "at": "3 m", "range": "50 mm", "u": "0.02 mm" } ] },
    });
    let d = design(TestSpec::from_json(&document.to_string()).unwrap()).unwrap();
    let locked = d.rig.hydraulics[0].locked.clone().unwrap();
    let way = (80.0 * 216.0 / 48.0 / 52.0 + 80.0 / 35.0) / (128.0 / 52.0) + 40.0 * 3.2 / 205.0;
    let stiff = locked.stiffness.unwrap().to(KN_PER_MM);
    assert!((stiff / (80.0 / way) - 1.0).abs() < 1e-6, "{stiff}");
}
