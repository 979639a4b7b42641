//! Details of the chain by hand: loose weights on a piece that falls, a frame that holds on the member
//! itself, overshoot where terms act both ways, what may be left out of a document.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::beam::{Beam, Load, Side, Support};
use proofspan::criteria::RunRecord;
use proofspan::equivalent::{BasisWord, Effect, LayoutSpec, Reference, largest_ratio, layout};
use proofspan::readings::LogSpec;
use proofspan::scope::Mode;
use proofspan::shoring::{Resting, Shoring, ShoringSpec, Surroundings, check};
use proofspan::source::{read_json, validate, write_json};
use proofspan::target::Asked;
use proofspan::units::*;
use proofspan::verdict::MemberUnit;
use proofspan::{Error, TestDesign, TestSpec, design};
use serde_json::{Value, json};

fn near(a: f64, b: f64) {
    assert!((a - b).abs() <= 1e-8 * b.abs().max(1.0), "{a} is not {b}");
}

/// Catches without a gap under a beam with 10 kN/m in place and loose weights between two places.
fn caught(
    beam: &Beam,
    (mode, from, to): (Mode, f64, f64),
    loose: &[(f64, f64, f64)],
    catches: &[f64],
) -> Shoring {
    let all: Vec<String> = catches
        .iter()
        .map(|x| format!(r#"{{"at":"{x} m","stiffness":"10 kN/mm","gap":"0 mm","resistance":{{"posts":9,"rated":"900 kN"}}}}"#))
        .collect();
    let text = format!(
        r#"{{"to_ground":true,"ground":{{"carries":"100000 kN"}},"catch":[{}]}}"#,
        all.join(",")
    );
    let spec: ShoringSpec = read_json(&text).unwrap();
    let on_it: Vec<Resting> = loose
        .iter()
        .map(|(a, b, f)| Resting {
            from: *a * M,
            to: *b * M,
            force: *f * KN,
            loose: true,
            jack: false,
        })
        .collect();
    let around = Surroundings {
        unit: MemberUnit::Beam,
        beam,
        regions: &[(mode, from * M, to * M)],
        depth: 0.5 * M,
        in_place: &[Load::uniform(0.0 * M, beam.length(), 10.0 * KN_PER_M)],
        on_it: &on_it,
        rig_weight: &[],
        spring_back: 0.0 * M,
        fractions: &[Ratio::from(1.0)],
        reading: &|_| -0.001 * M,
    };
    check(&spec, &around).unwrap()
}

fn codes(s: &Shoring) -> Vec<&'static str> {
    s.stops.iter().map(|x| x.slug.code()).collect()
}

fn both(s: &Shoring, i: usize) -> f64 {
    (s.catches[i].own + s.catches[i].test).to(KN)
}

fn ei() -> FlexuralRigidity {
    FlexuralRigidity::from_si(1e8)
}

fn line(length: f64, supports: Vec<Support>) -> Beam {
    Beam::new(length * M, supports, vec![(0.0 * M, ei())]).unwrap()
}

/// A cantilever of 4 m, a crack between 0 and 1 m, 60 kN of loose weights from 2 to 3 m, catches at 1.2 and
/// 3.6 m. Catches only push, so none carries more than the piece and what is on it. Weights that slide
/// towards the crack load the inner catch until the outer one is free: with the crack at 0 m that is where
/// 40 (2 − 1.2) = 60 (1.2 − x), x = 2/3 m; all 40 + 60 kN then stand on the inner catch, and a hand further
/// the piece tips. Weights at the tip load the outer catch: moments about the inner one with the crack at
/// 1 m, (10·3·1.3 + 60·2.8)/2.4 = 86.25 kN.
#[test]
fn loose_weights_slide_until_the_piece_tips() {
    let beam = line(4.0, vec![Support::fixed(0.0 * M)]);
    let region = (Mode::Hogging, 0.0, 1.0);
    let s = caught(&beam, region, &[(2.0, 3.0, 60.0)], &[1.2, 3.6]);
    near(both(&s, 0), 100.0);
    near(s.catches[0].own.to(KN), 10.0 * 4.0 * 1.6 / 2.4);
    near(both(&s, 1), 86.25);
    assert!(codes(&s).contains(&"shoring.piece-uncaught"), "{:?}", s.stops);
    let said = s.stops.iter().map(|x| x.message.to_string()).collect::<Vec<_>>().join("\n");
    assert!(said.contains("tip it off its catches"), "{said}");
    // 20 kN do not tip it: 40·0.8 > 20·1.2, and the lever holds, (40·1.6 + 20·3.6)/2.4
    let s = caught(&beam, region, &[(2.0, 3.0, 20.0)], &[1.2, 3.6]);
    near(both(&s, 0), (64.0 + 72.0) / 2.4);
    assert!(!codes(&s).contains(&"shoring.piece-uncaught"), "{:?}", s.stops);
}

/// Weights at the tip can tip the piece over its outer catch: catches at 1.2 and 2.5 m, 60 kN. The inner one
/// is free where 10 (4 − c)(2.5 − (4 + c)/2) = 60·1.5 at the tip; 10 (4 − c)(1 − c)/2 is 20 at the most, so
/// at every crack it tips, and the outer catch carries most, 40 + 60 kN, with the crack at 0 m.
#[test]
fn loose_weights_tip_a_piece_over_its_outer_catch() {
    let beam = line(4.0, vec![Support::fixed(0.0 * M)]);
    let s = caught(&beam, (Mode::Hogging, 0.0, 0.9), &[(2.0, 3.0, 60.0)], &[1.2, 2.5]);
    near(both(&s, 1), 100.0);
    assert!(codes(&s).contains(&"shoring.piece-uncaught"));
}

/// The largest force may stand at a crack in between. Catches at 1.2 and 3.6 m, 90 kN at the tip: the outer
/// catch carries (w (16 − c²)/2 − 1.2 w (4 − c) + 90·2.8)/2.4 until the inner one is free, where
/// 10 (4 − c)(3.6 − (4 + c)/2) = 90·0.4, (4 − c)(3.2 − c)/2 = 3.6: c² − 7.2 c + 5.6 = 0,
/// c = 3.6 − √7.36 = 0.887 m. There it carries all, 10 (4 − c) + 90 kN.
#[test]
fn the_worst_crack_may_be_that_where_tipping_begins() {
    let beam = line(4.0, vec![Support::fixed(0.0 * M)]);
    let s = caught(&beam, (Mode::Hogging, 0.0, 1.0), &[(2.0, 3.0, 90.0)], &[1.2, 3.6]);
    let c = 3.6 - 7.36_f64.sqrt();
    assert!((both(&s, 1) / (10.0 * (4.0 - c) + 90.0) - 1.0).abs() < 1e-4, "{}", both(&s, 1));
}

/// Span 6 m, overhang 3 m, a crack between 2 and 3 m: the right piece turns about the bearing at 6 m onto the
/// catch at 4 m. 200 kN of weights on the overhang, 2 m beyond the bearing, tip it the other way:
/// 10·4²/2 < 10·3²/2 + 400. Weights left of the bearing do not, and slide to the crack at 2 m:
/// (10·(4² − 3²)/2 + 60·4)/2.
#[test]
fn weights_beyond_the_bearing_tip_a_piece_the_other_way() {
    let beam = line(9.0, vec![Support::bearing(0.0 * M), Support::bearing(6.0 * M)]);
    let region = (Mode::Flexure, 2.0, 2.5);
    let s = caught(&beam, region, &[(7.0, 9.0, 200.0)], &[1.5, 4.0]);
    assert_eq!(codes(&s), ["shoring.piece-uncaught"]);
    let s = caught(&beam, region, &[(4.5, 5.5, 60.0)], &[1.5, 4.0]);
    assert_eq!(codes(&s), Vec::<&str>::new());
    near(both(&s, 1), (35.0 + 240.0) / 2.0);
}

/// An overhang of 3 m drops about its bearing: weights on it run to its tip and never back over the bearing.
/// A hinge over the bearing, catches at 7 and 8.5 m: (10·3²/2 + 150·3) kN·m on equal springs at arms of 1 and
/// 2.5 m. The crack half a metre left of it leaves 1.25 kN·m the other way.
#[test]
fn weights_do_not_climb_out_of_an_overhang_that_drops() {
    let beam = line(9.0, vec![Support::bearing(0.0 * M), Support::bearing(6.0 * M)]);
    let s = caught(&beam, (Mode::Hogging, 5.5, 6.0), &[(7.0, 8.0, 150.0)], &[5.0, 7.0, 8.5]);
    assert_eq!(codes(&s), Vec::<&str>::new());
    near(both(&s, 1), (45.0 + 450.0) / 7.25);
    near(both(&s, 2), (45.0 + 450.0) * 2.5 / 7.25);
}

/// A piece that hangs: the message names where a catch would settle it.
#[test]
fn a_piece_that_hangs_says_what_would_settle_it() {
    let beam = line(12.0, [0.0, 6.0, 12.0].iter().map(|x| Support::bearing(*x * M)).collect());
    let s = caught(&beam, (Mode::Flexure, 2.0, 3.0), &[], &[1.5]);
    let said = s.notes.iter().find(|n| n.slug.code() == "shoring.piece-hangs").unwrap();
    let said = said.message.to_string();
    assert!(said.contains("`shoring.catch`") && said.contains("between 2 m and 6 m"), "{said}");
}

fn scenario(name: &str) -> Value {
    let path = format!("{}/examples/scenarios/{name}.json", env!("CARGO_MANIFEST_DIR"));
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

fn tried(document: &Value) -> Result<TestDesign, Error> {
    design(TestSpec::from_json(&document.to_string())?)
}

/// 10 m, sagging in doubt from 4 to 6 m, one jack at mid-span held down to the member itself by bars.
fn framed(places: Option<Value>) -> Value {
    let mut bars = json!({ "number": 2, "area": "900 mm^2", "length": "1 m", "modulus": "200 GPa", "working_load": "9 MN" });
    if let Some(places) = places {
        bars["places"] = places;
    }
    json!({
        "schema_version": 1, "title": "Frame",
        "scope": { "member": { "id": "B", "kind": "beam", "unit": "beam" }, "doubt": { "mode": "flexure", "from": "4 m", "to": "6 m" } },
        "beam": { "kind": "simple", "span": "10 m", "depth": "600 mm", "soft": { "modulus": "25 GPa", "second_moment": "0.004 m^4" }, "stiff": { "modulus": "30 GPa", "second_moment": "0.008 m^4" } },
        "loads": { "width": "2 m", "actions": [
            { "action": "self_weight", "area": "5 kPa", "in_place": 1 },
            { "action": "live", "area": "4 kPa", "occupancy": "other" },
        ] },
        "edition": { "id": "ACI 437.2-13" },
        "layout": { "carrier": { "kind": "jack_line", "at": "5 m" }, "ends": "seated" },
        "rig": {
            "reaction": { "id": "yoke", "kind": "frame" }, "bars": bars,
            "jacks": { "number": 1, "piston": { "area": "90000 mm^2" }, "rated_pressure": "90 MPa", "stroke": "100 mm", "pump": { "stroke": "1 ml", "dead_man": true, "remote_release": true }, "fittings": { "hose_burst": "300 MPa", "relief": "60 MPa", "held_at_jack": true } }, "train": { "plate": "200 mm", "lateral": "100 kN", "moment": "100 kN·m", "braced": true, "retained": true },
        },
        "shoring": { "drive": "locked_off_jacks", "to_ground": true, "ground": { "carries": "100000 kN" }, "catch": [
            { "at": "3 m", "stiffness": "10 kN/mm", "gap": "20 mm", "resistance": { "posts": 9, "rated": "900 kN" } },
            { "at": "7 m", "stiffness": "10 kN/mm", "gap": "20 mm", "resistance": { "posts": 9, "rated": "900 kN" } },
        ] },
        "protocol": { "gauges": [ { "id": "g", "at": "5 m", "range": "90 mm" } ] },
    })
}

/// Bars at 3 and 7 m pull up P/2 each, so the member is a span of 4 m between them and bears nothing: its
/// moment is P/2 (x − 3), at 4 m P/2 for the 12 q that are asked there, at 5 m P for 12.5 q: P = 24 q. Pushed
/// against something else it would be 6 q.
#[test]
fn what_a_frame_pulls_is_in_the_actions() {
    let d = tried(&framed(Some(json!(["3 m", "7 m"])))).unwrap();
    let q = d.target.intensity(5.0 * M, Side::Left).unwrap().value.0;
    near(d.force().0 / (q * (1.0 * M)), 24.0);
    let actions = &d.layout.response;
    for r in actions.reactions() {
        assert!(r.force.abs() < d.force().0 * 1e-9, "{}", r.force);
    }
    near(actions.moment(5.0 * M, Side::Left).unwrap() / (d.force().0 * (1.0 * M)), 1.0);
    near(actions.moment(3.0 * M, Side::Left).unwrap().si() / d.force().0.si(), 0.0);
    assert!(d.layout.verification.violation.abs() < 1e-9);
    assert!(d.rig.notes.iter().any(|n| n.slug.code() == "rig.frame"));
    // a place further out moves the lever: bars at 2 and 7 m pull 2/5 and 3/5, and at 4 m 2·0.4 P are
    // there for 12 q, at 6 m 0.6 P for 12 q
    let d = tried(&framed(Some(json!(["2 m", "7 m"])))).unwrap();
    near(d.force().0 / (q * (1.0 * M)), 20.0);
}

#[test]
fn a_frame_says_where_it_holds() {
    let error = tried(&framed(None)).unwrap_err();
    assert_eq!(error.codes(), ["source.field-missing"]);
    assert_eq!(error.issues[0].path, "rig.bars.places");
    let error = tried(&framed(Some(json!(["3 m", "11 m"])))).unwrap_err();
    assert_eq!(error.codes(), ["rig.reaction-short"]);
}

/// The overshoot by its definition on a fine grid, test over the largest term in the sense of the test or over
/// 2 % of the largest of the region, and by the solver that keeps limits of it.
#[test]
fn overshoot_is_against_what_acts_in_the_sense_of_the_test() {
    let archive = tried(&scenario("archive_floor.test")).unwrap();
    for d in [&archive, &archive.later()[0].1] {
        let (from, to) = (d.target.from, d.target.to);
        let reference = Reference::from(&d.target);
        for o in &d.layout.overshoots {
            let basis = if o.basis == LoadBasis::Net { BasisWord::Net } else { BasisWord::Total };
            let test = &d.layout.response;
            let solved = largest_ratio(&reference, test, o.effect, basis, (from, to)).unwrap();
            near(o.ratio.value(), solved.map_or(0.0, |s| s.ratio.value()));
            let at = |a: &proofspan::beam::Response, x: Length, side: Side| match o.effect {
                Effect::Shear => a.shear(x, side).unwrap().si(),
                _ => a.moment(x, side).unwrap().si(),
            };
            let net = o.basis == LoadBasis::Net;
            let mut rows = Vec::new();
            for i in 0..=2000 {
                let x = from + (to - from) * (f64::from(i) / 2000.0);
                let side = if i == 0 { Side::Right } else { Side::Left };
                let there = if net { 0.0 } else { at(&d.target.in_place, x, side) };
                let of =
                    |t: &proofspan::target::Term| at(if net { &t.net } else { &t.total }, x, side);
                rows.push((
                    at(test, x, side) + there,
                    d.target.terms.iter().map(of).collect::<Vec<_>>(),
                ));
            }
            let largest = rows.iter().flat_map(|r| &r.1).fold(0.0_f64, |m, v| m.max(v.abs()));
            let ratio = |(test, terms): &(f64, Vec<f64>)| {
                let most = terms.iter().map(|t| t * test.signum()).fold(0.02 * largest, f64::max);
                test.abs() / most
            };
            let grid = rows.iter().map(ratio).fold(0.0, f64::max);
            let found = o.ratio.value();
            assert!(found >= grid * (1.0 - 1e-9) && found <= grid * 1.01 + 0.05, "{o:?}: {grid}");
        }
    }
}

/// A cantilever of 3 m with its shear in doubt: the moment that governs at its root is that of the heaviest
/// term, q l²/2 in hogging.
#[test]
fn the_moment_of_a_cantilever_in_shear_is_the_largest() {
    let mut d = scenario("gallery_beam.test");
    d["beam"] = json!({ "kind": "cantilever", "span": "3 m", "depth": "600 mm", "effective_depth": "550 mm", "soft": d["beam"]["soft"], "stiff": d["beam"]["stiff"] });
    d["scope"]["doubt"] = json!({ "mode": "shear", "from": "0 m", "to": "0.5 m" });
    d["loads"] = json!({ "width": "2 m", "actions": [
        { "action": "self_weight", "area": "5 kPa", "in_place": 1 },
        { "action": "live", "area": "4 kPa", "occupancy": "other" },
        { "action": "snow", "area": "1 kPa" },
    ] });
    d["layout"] = json!({ "carrier": { "kind": "bags", "from": "0.6 m", "to": "2.9 m", "pile": "0.4 m", "gap": "0.1 m", "width": "2 m", "unit_weight": "15 kN/m^3", "layer": "0.1 m", "most_layers": 900 }, "ends": "seated" });
    d["rig"] = json!({});
    for part in ["stages", "overrides"] {
        d.as_object_mut().unwrap().remove(part);
    }
    d["shoring"] = json!({});
    d["protocol"]["gauges"] = json!([]);
    let d = tried(&d).unwrap();
    let q = d.target.intensity(1.0 * M, Side::Left).unwrap().value.0.si();
    assert!(d.target.terms.len() > 1);
    let root = d.target.governing(Asked::Moment, LoadBasis::Net, 0.0 * M, Side::Right).unwrap();
    near(root.value, -q * 9.0 / 2.0);
    let (extreme, _) = d.target.largest(Asked::Moment, LoadBasis::Net, 0.0 * M, 3.0 * M).unwrap();
    near(extreme.value, -q * 9.0 / 2.0);
}

/// At a bearing every moment is zero: which term governs does not change there.
#[test]
fn no_term_changes_at_a_bearing() {
    let d = tried(&scenario("archive_floor.test")).unwrap();
    for basis in [LoadBasis::Net, LoadBasis::Total] {
        let found = d.target.crossings(Asked::Moment, basis);
        assert_eq!(found.len(), 2, "{found:?}");
        assert!(found.iter().all(|c| c.at > 1.0 * MM), "{found:?}");
    }
}

/// Bags react on nothing: the rig may be left out. A jack asks for it by name.
#[test]
fn a_rig_may_be_left_out_where_nothing_reacts() {
    let mut bags = scenario("classroom_strip.test");
    let with = tried(&bags).unwrap();
    bags.as_object_mut().unwrap().remove("rig");
    let without = tried(&bags).unwrap();
    assert_eq!((&with.layout, &with.rig), (&without.layout, &without.rig));
    let mut jack = scenario("gallery_beam.test");
    jack.as_object_mut().unwrap().remove("rig");
    let error = tried(&jack).unwrap_err();
    assert_eq!(error.codes(), ["rig.jacks-missing"]);
    assert_eq!(error.issues[0].path, "rig");
    // a stage that changes to jacks asks for its own
    bags["stages"] = json!([{ "name": "jack", "doubt": bags["scope"]["doubt"], "layout": { "carrier": { "kind": "jack_line", "at": "2 m" }, "ends": "seated" } }]);
    let error = tried(&bags).unwrap_err();
    assert_eq!(error.issues[0].path, "stages[0].rig");
}

/// 10 m, sagging in doubt from 4 to 6 m, q = 12.8 kN/m: one jack at mid-span needs 6 q = 76.8 kN and takes
/// 70 kN. Two copies of it bring that; used once, it needs the second carrier, which brings less there.
#[test]
fn a_carrier_may_be_used_once_only() {
    let target = tried(&framed(Some(json!(["3 m", "7 m"])))).unwrap().target;
    let line = |from: &str, to: &str| json!({ "kind": "jack_line", "search_from": from, "search_to": to, "capacity": "70 kN" });
    let laid = |once: bool| {
        let spec = json!({
            "carrier": [line("3.5 m", "6.5 m"), line("1 m", "1.5 m")],
            "search": { "at_most": 2, "step": "0.5 m", "once": once }, "ends": "seated",
        });
        let spec: LayoutSpec = read_json(&spec.to_string()).unwrap();
        let plan = layout(&target, &spec, None).unwrap();
        let mut used: Vec<usize> = plan.carriers.iter().map(|c| c.carrier).collect();
        used.sort_unstable();
        (used, plan.force.0.to(KN))
    };
    let (twice, least) = laid(false);
    assert_eq!(twice, [0, 0]);
    near(least, 76.8);
    let (once, more) = laid(true);
    assert_eq!(once, [0, 1]);
    assert!(more > least);
}

/// What brings the load on is called by its kind and place.
#[test]
fn carriers_are_called_by_their_kind() {
    let d = tried(&scenario("classroom_strip.test")).unwrap();
    assert!(
        d.layout.carriers.iter().all(|c| c.name.starts_with("bags, set out at ")),
        "{:?}",
        d.layout.carriers
    );
    let d = tried(&scenario("station_canopy.test")).unwrap();
    let basins = |n: &str| n.starts_with("basin of water, set out at ");
    assert!(d.layout.carriers.iter().all(|c| basins(&c.name)), "{:?}", d.layout.carriers);
}

/// The column map of a log and the record of a run have a version, as the document has.
#[test]
fn every_document_has_a_version() {
    let (log, record) = (scenario("gallery_beam.log"), scenario("gallery_beam.record"));
    let (a, b): (LogSpec, RunRecord) =
        (read_json(&log.to_string()).unwrap(), read_json(&record.to_string()).unwrap());
    assert_eq!((a.schema_version, b.schema_version), (1, 1));
    use proofspan::source::Write;
    for text in [write_json(&a.write()), write_json(&b.write())] {
        assert_eq!(serde_json::from_str::<Value>(&text).unwrap()["schema_version"], 1);
    }
    for version in [0, 2] {
        let other = |mut v: Value| {
            v["schema_version"] = version.into();
            v.to_string()
        };
        let error = read_json::<LogSpec>(&other(log.clone())).unwrap_err();
        assert_eq!(
            (error.codes(), error.issues[0].path.as_str()),
            (vec!["source.version"], "schema_version")
        );
        let error = read_json::<RunRecord>(&other(record.clone())).unwrap_err();
        assert_eq!(error.codes(), ["source.version"]);
        let error = TestSpec::from_json(&other(scenario("gallery_beam.test"))).unwrap_err();
        assert_eq!(error.codes(), ["source.version"]);
    }
    let typed = LogSpec { schema_version: 2, ..a };
    assert_eq!(validate(&typed).unwrap_err().codes(), ["source.version"]);
}
