//! What the holds do to a locked-off circuit, and the sketch that a crew builds from. Expected values:
//! proportions of time, volume and force, written beside each.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::report::{ShapeKind, html, shapes};
use proofspan::rig::{Hydraulic, Locked};
use proofspan::source::{Read, read_json};
use proofspan::units::*;
use proofspan::{TestDesign, TestSpec, design};
use serde_json::{Value, json};

#[track_caller]
fn near(value: f64, exact: f64) {
    assert!((value - exact).abs() <= 1e-9 * exact.abs().max(1e-3), "{value} for {exact}");
}

fn part<T: Read>(text: &str) -> T {
    read_json(text).unwrap()
}

const HOLD: &str = r#"{ "band": 0.10, "expansion": "4e-4 1/°F", "cooling": "20 Δ°F", "warming": "10 Δ°F",
    "leak": { "volume": "0.1 in^3", "over": "1 h" }, "creep": "0.005 in" }"#;

/// Three rams of 3 in² under P = 2098760/117 lbf, 45 in³ of oil of 200 ksi; members of 682097/3515625 in
/// each, six bars of 0.30 in² and 132 in.
fn locked() -> Locked {
    let p = 2_098_760.0 / 117.0 * LBF;
    let v = 682_097.0 / 3_515_625.0 * IN;
    let mut asked = Hydraulic::of(p, 3, 3.0 * IN2, 10_000.0 * PSI_FLUID, 2.0 * IN).moves(v, v);
    let bars = r#"{ "number": 6, "area": "0.30 in^2", "length": "132 in", "modulus": "29000 ksi", "working_load": "15 kip" }"#;
    asked.bars = Some(part(bars));
    asked.oil_volume = Some(part(r#""45 in^3""#));
    asked.oil_bulk_modulus = Some(part(r#""200 ksi""#));
    asked.hold = Some(part(HOLD));
    asked.check().unwrap().hydraulics.locked.unwrap()
}

/// 20 °F less take 1305000/878869 kip; 0.1 in³ that leak 0.1/(45 · 4e-4 · 20) of it; 0.005 in that the member
/// creeps are 0.045 in³ of it. In a day of 24 h all of it goes, and the leak 24 times.
#[test]
fn a_day_and_ten_minutes() {
    let l = locked();
    let (p, cold) = (2_098.760 / 117.0, 1_305_000.0 / 878_869.0);
    let leak = cold * 0.1 / (45.0 * 4e-4 * 20.0);
    let creep = leak * 0.45;
    near(l.creep.unwrap().to(KIP), creep);
    let (day, ten) = (Duration::from_si(86_400.0), Duration::from_si(600.0));
    let full = l.during(None, 1.0, (day, day)).unwrap();
    near(full.least.to(KIP), p - cold - creep - 24.0 * leak);
    near(full.most.to(KIP), p + cold / 2.0);
    near(full.band.to(KIP), p / 10.0);
    assert!(!full.leaves_band);
    near(full.top_up_after.unwrap().si() / 3600.0, (p / 10.0 - cold - creep) / leak);
    near(full.then_every.unwrap().si() / 3600.0, p / 10.0 / leak);
    // half the load for ten minutes: 1/144 of the night, of the creep half of that; a sixth of the leak
    let half = l.during(None, 0.5, (ten, day)).unwrap();
    let falls = cold / 144.0 + creep / 288.0;
    near(half.least.to(KIP), p / 2.0 - falls - leak / 6.0);
    near(half.band.to(KIP), p / 20.0);
    assert_eq!((half.top_up_after, half.then_every), (None, None));
}

fn terrace(change: impl Fn(&mut Value)) -> TestDesign {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/scenarios/terrace_strip.test.json");
    let mut document = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    change(&mut document);
    design(TestSpec::from_json(&document.to_string()).unwrap()).unwrap()
}

/// Every step of the schedule says it, and how far two readings of one gauge may be apart: 2 √2 · 0.002 in.
#[test]
fn the_schedule_tells_the_night_and_the_two_readers() {
    let d = terrace(|d| d["rig"]["jacks"]["hold"] = serde_json::from_str(HOLD).unwrap());
    let schedule = d.schedule().unwrap();
    let locked = d.rig.hydraulics[0].locked.as_ref().unwrap();
    let last = schedule.steps.last().unwrap();
    for step in &schedule.steps {
        let [held] = &step.held[..] else { unreachable!() };
        let expected = locked.during(None, step.fraction.value(), (step.hold, last.hold)).unwrap();
        assert_eq!(*held, expected);
        for reading in &step.readings {
            near(reading.readers_apart.unwrap().to(IN), 2.0 * 2.0_f64.sqrt() * 0.002);
        }
    }
    let page = html(&d, None).unwrap();
    for words in ["cold night", "hot night", "read by two people"] {
        assert!(page.contains(words), "{words}");
    }
    let bare = terrace(|_| {});
    assert!(bare.notes.iter().any(|n| n.slug.code() == "protocol.hold-unpredicted"));
    assert!(d.notes.iter().all(|n| n.slug.code() != "protocol.hold-unpredicted"));
}

/// Places and forces read from the picture are those that were computed.
#[test]
fn the_picture_holds_places_and_forces() {
    let d = terrace(|d| d["shoring"]["levels"][0]["posts"]["gap"] = json!("0.25 in"));
    let all = shapes(&d, &d.page());
    let page = html(&d, None).unwrap();
    let number = |text: &str, name: &str| -> f64 {
        let after = text.split_once(&format!(" {name}=\"")).unwrap().1;
        after.split_once('"').unwrap().0.parse().unwrap()
    };
    let member = page.split_once("<rect class=\"test\"").unwrap().1;
    let (left, wide) = (number(member, "x"), number(member, "width"));
    let arrow = |mark: &str| {
        let after =
            page.split_once(&format!("<line class=\"force\" data-mark=\"{mark}\"")).unwrap().1;
        (number(after, "x1") - 5.0, number(after, "y1"), number(after, "y2"))
    };
    let scale = arrow("scale");
    let scale = scale.2 - scale.1;
    let most = all.iter().filter_map(|s| s.force).map(Force::abs).fold(Force::ZERO, Force::max);
    let mut seen = 0;
    for shape in &all {
        let Some(force) = shape.force else { continue };
        let (x, from, to) = arrow(&shape.mark);
        let place = (x - left) / wide * 45.0;
        assert!((place - ((shape.left + shape.right) / 2.0).to(FT)).abs() < 0.02, "{}", shape.mark);
        assert!(((to - from) / scale - force / most).abs() < 0.002, "{}", shape.mark);
        seen += 1;
    }
    // jack, bar, weight, two catches
    assert_eq!(seen, 5);
    let force_of = |mark: &str| all.iter().find(|s| s.mark == mark).unwrap().force.unwrap();
    assert_eq!(force_of("J1"), d.force().0);
    assert_eq!(force_of("B1"), -d.rig.pulls[0].force);
    assert_eq!(force_of("W1"), 10.0 * KIP);
    assert_eq!(force_of("C2"), d.shoring.catches[1].force);
    // every mark once; posts below both levels at both catches, a quarter inch below the first
    let mut marks: Vec<&str> = all.iter().map(|s| &*s.mark).filter(|m| !m.is_empty()).collect();
    let every = marks.len();
    marks.sort_unstable();
    marks.dedup();
    assert_eq!(marks.len(), every);
    let posts: Vec<_> = all.iter().filter(|s| s.kind == ShapeKind::Post).collect();
    assert_eq!(posts.len(), 4);
    let reaction = all.iter().find(|s| s.kind == ShapeKind::Reaction).unwrap();
    near((posts[0].top - reaction.bottom).to(IN), 0.25);
    assert!(posts[0].says.starts_with("4 posts, gap 0.25"), "{}", posts[0].says);
    // the section has all posts of the first catch, one under each joist, and four below both levels
    let section = page.split_once("section across the joists").unwrap().0;
    assert_eq!(section.matches("<rect class=\"post\"").count(), 3 + 4 + 4);
    assert_eq!(section.matches("<rect class=\"ground\"").count(), 1);
}

/// A spreader on 3 and 6 m of a beam of 9 m tilts by the difference of the deflections there over 3 m; contacts
/// at 3.5 and 5.5 m settle alike.
#[test]
fn a_spreader_tilts_where_its_contacts_settle_unequally() {
    let gallery = |contacts: [&str; 2], tilts: Option<f64>| {
        let path =
            concat!(env!("CARGO_MANIFEST_DIR"), "/examples/scenarios/gallery_beam.test.json");
        let mut d: Value = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
        d["layout"]["carrier"]["contacts"] = json!(contacts);
        d["rig"]["beams"] = json!({ "id": "spreader", "carries": "jack", "span": "3 m", "rigidity": "50000 kN·m^2",
            "moment": "2000 kN·m", "shear": "2000 kN", "web": "2000 kN", "held_sideways": true });
        if let Some(tilts) = tilts {
            d["rig"]["beams"]["tilts"] = json!(tilts);
        }
        design(TestSpec::from_json(&d.to_string()).unwrap()).unwrap()
    };
    let said = |d: &TestDesign| {
        let notes = d.rig.notes.iter().map(|n| n.slug.code());
        let all: Vec<&str> = notes.chain(d.rig.stops.iter().map(|s| s.slug.code())).collect();
        all.into_iter().filter(|c| c.contains("tilt")).collect::<Vec<_>>()
    };
    let even = gallery(["3.5 m", "5.5 m"], None);
    assert!(said(&even).is_empty());
    let odd = gallery(["2 m", "5 m"], None);
    let v = |x: f64| odd.layout.response.deflection(x * M).unwrap();
    let tilt = (v(5.0) - v(2.0)) / (3.0 * M);
    assert!(tilt > 1e-4);
    near(odd.rig.beams[0].tilt.unwrap().value(), tilt);
    assert_eq!(said(&odd), ["rig.beam-tilt-unsaid"]);
    assert!(said(&gallery(["2 m", "5 m"], Some(tilt * 1.01))).is_empty());
    assert_eq!(said(&gallery(["2 m", "5 m"], Some(tilt * 0.99))), ["rig.beam-tilt"]);
}
