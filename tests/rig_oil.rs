//! What a locked-off circuit does: pump strokes, drift, leak, energy, hoses and valves. Expected values:
//! springs in series, compressibility and expansion of the oil, written beside each.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::rig::{Fittings, Hydraulic, Locked, Pressed};
use proofspan::source::{Read, read_json};
use proofspan::units::*;
use proofspan::verdict::State;
use proofspan::{TestDesign, TestSpec, design};

fn near(value: f64, exact: f64) {
    assert!((value - exact).abs() <= 1e-9 * exact.abs().max(1e-3), "{value} for {exact}");
}

fn part<T: Read>(text: &str) -> T {
    read_json(text).unwrap()
}

const HOLD: &str = r#"{ "band": 0.10, "expansion": "4e-4 1/°F", "cooling": "20 Δ°F", "warming": "10 Δ°F",
    "leak": { "volume": "0.1 in^3", "over": "1 h" } }"#;

/// Three rams of 3 in² under P = 2098760/117 lbf; test member and reaction give 682097/3515625 in each,
/// six bars of 0.30 in², 132 in, 29000 ksi stretch 577159/12723750 in.
fn terrace() -> Hydraulic {
    let p = 2_098_760.0 / 117.0 * LBF;
    let v = 682_097.0 / 3_515_625.0 * IN;
    let mut asked = Hydraulic::of(p, 3, 3.0 * IN2, 10_000.0 * PSI_FLUID, 2.0 * IN).moves(v, v);
    asked.bars = Some(part(
        r#"{ "number": 6, "area": "0.30 in^2", "length": "132 in", "modulus": "29000 ksi", "working_load": "15 kip" }"#,
    ));
    asked.oil_volume = Some(part(r#""45 in^3""#));
    asked.oil_bulk_modulus = Some(part(r#""200 ksi""#));
    asked.pump =
        Some(part(r#"{ "stroke": "0.05 in^3", "dead_man": true, "remote_release": true }"#));
    asked.hold = Some(part(HOLD));
    let fine = r#"{ "hose_burst": "10000 psi", "relief": "2100 psi", "held_at_jack": true }"#;
    asked.fittings = Some(part(fine));
    asked
}

fn locked(pressed: &Pressed) -> &Locked {
    pressed.hydraulics.locked.as_ref().unwrap()
}

/// dF = k V0 α dT/(A + k V0/(K A)): 1305000/878869 kip for 20 °F, half of it for 10. A leak of 0.1 in³ is
/// 0.1/(45 · 4e-4 · 20) of it, a stroke of 0.05 in³ half of that. The band of 10 % of P leaves P/10 less
/// the cold, which a leak in one hour uses up in proportion.
#[test]
fn drift_leak_and_stroke_by_hand() {
    let found = terrace().check().unwrap();
    let l = locked(&found);
    let cold = 1_305_000.0 / 878_869.0;
    near(l.cooling.unwrap().to(KIP), cold);
    near(l.warming.unwrap().to(KIP), cold / 2.0);
    let leak = cold * 0.1 / (45.0 * 4e-4 * 20.0);
    near(l.leak.unwrap().to(KIP), leak);
    near(l.per_stroke.unwrap().to(KIP), leak / 2.0);
    let p = 2_098.760 / 117.0;
    near(l.band.unwrap().to(KIP), p / 10.0);
    near(l.top_up_after.unwrap().si() / 3600.0, (p / 10.0 - cold) / leak);
    assert!(found.verdicts.iter().all(|v| v.state == State::Pass), "{:?}", found.verdicts);
    let codes: Vec<&str> = found.notes.iter().map(|n| n.slug.code()).collect();
    assert_eq!(codes, ["rig.bars-warm"]);
    assert!(found.working().recheck().is_empty());
    // a band of 5 % is left by the cold, and no time is left to top up
    let mut narrow = terrace();
    narrow.hold = Some(part(&HOLD.replace("0.10", "0.05")));
    let found = narrow.check().unwrap();
    let failed: Vec<&str> =
        found.verdicts.iter().filter(|v| v.state == State::Fail).map(|v| v.slug.code()).collect();
    assert_eq!(failed, ["rig.hold-drift"]);
    assert_eq!(locked(&found).top_up_after, None);
}

/// Oil that is not described counts as stiff: k e, with k = P over the travel and e = 0.05/9 in. A hold
/// cannot be told without it. Bars of 132 in that are 20 °F off make 132 · 6.5e-6 · 20 in.
#[test]
fn oil_that_is_not_described() {
    let mut asked = terrace();
    let k = 2_098.760 / 117.0 / (2.0 * 682_097.0 / 3_515_625.0 + 577_159.0 / 12_723_750.0);
    let give = 1.0 + k * 45.0 / (200.0 * 81.0);
    asked.hold = Some(part(&HOLD.replace(
        r#""leak""#,
        r#""bars_expansion": "6.5e-6 1/°F", "bars_change": "20 Δ°F", "leak""#,
    )));
    let bars = locked(&asked.check().unwrap()).bars.unwrap().to(KIP);
    near(bars, k * 132.0 * 6.5e-6 * 20.0 / give);
    asked.oil_bulk_modulus = None;
    let refused = asked.check().unwrap_err();
    assert_eq!(refused.codes(), ["source.field-missing"]);
    assert_eq!(refused.issues[0].path, "oil_bulk_modulus");
    asked.hold = None;
    let found = asked.check().unwrap();
    near(locked(&found).per_stroke.unwrap().to(KIP), k * 0.05 / 9.0);
    assert!(!locked(&found).oil_known);
    assert_eq!(found.hydraulics.springs_back, None);
}

/// What is stored: uplift 0.194019, bars 0.045361, oil p V0/(K A) = 52469/1053000 in, half of it times P:
/// 2.593920 kip·in. An accumulator, air, or bars that are not described leave it open.
#[test]
fn energy_and_fall_of_the_load() {
    let h = terrace().check().unwrap().hydraulics;
    let s = 682_097.0 / 3_515_625.0 + 577_159.0 / 12_723_750.0 + 52_469.0 / 1_053_000.0;
    near(h.springs_back.unwrap().to(IN), s);
    let p = 2_098.760 / 117.0;
    near(h.energy.unwrap().si(), p * s / 2.0 * (1.0 * KIP).si() * (1.0 * IN).si());
    near(h.falls_by.unwrap().to(KIP_PER_IN), p / s);
    let open = |change: fn(&mut Hydraulic)| {
        let mut asked = terrace();
        change(&mut asked);
        asked.check().unwrap().hydraulics.springs_back
    };
    assert_eq!(open(|a| a.accumulator = true), None);
    assert_eq!(open(|a| a.bars = None), None);
    assert!(open(|_| {}).is_some());
}

/// Three jacks on one pressure with 2 % friction: the one without gives P/(3 − 2 · 0.02), the one with
/// all of it 0.98 P/(3 − 0.02).
#[test]
fn jacks_differ_by_their_friction() {
    let h = terrace().friction(Ratio::from_si(0.02)).check().unwrap().hydraulics;
    let p = h.force_per_jack * 3.0;
    near(h.jack_most / p, 1.0 / 2.96);
    near(h.jack_least / p, 0.98 / 2.98);
}

/// p = 2098760/1053 psi = 1993.1: hoses that burst at 8000 psi hold four times that, at 7900 they do not.
/// A relief valve belongs between it and 1.1 of it. A gauge of 10000 psi, 1 %, is 900 lbf on 9 in².
#[test]
fn hoses_valves_and_gauge() {
    let tried = |text: &str| {
        let mut asked = terrace();
        asked.fittings = Some(part::<Fittings>(text));
        asked.check().unwrap()
    };
    let codes = |found: &Pressed| {
        let failed = found.verdicts.iter().filter(|v| v.state == State::Fail);
        let mut all: Vec<&str> = failed.map(|v| v.slug.code()).collect();
        all.extend(found.stops.iter().map(|s| s.slug.code()));
        all
    };
    let fine = r#"{ "hose_burst": "8000 psi", "relief": "2100 psi", "held_at_jack": true }"#;
    assert!(codes(&tried(fine)).is_empty());
    assert_eq!(
        codes(&tried(&fine.replace("8000", "7900"))),
        ["rig.hose-margin", "rig.hose-margin"]
    );
    assert_eq!(codes(&tried(&fine.replace("2100", "1900"))), ["rig.relief"]);
    assert_eq!(codes(&tried(&fine.replace("2100", "2200"))), ["rig.relief"]);
    let over = codes(&tried(&fine.replace("2100", "11000")));
    assert_eq!(over, ["rig.relief", "rig.pressure-over-rating"]);
    assert_eq!(codes(&tried(&fine.replace("true", "false"))), ["rig.hose-holds"]);
    let mut asked = terrace();
    asked.gauge =
        Some(part(r#"{ "full_scale": "10000 psi", "class": 0.01, "division": "50 psi" }"#));
    let found = asked.check().unwrap();
    near(locked(&found).gauge_class.unwrap().to(LBF), 900.0);
    near(locked(&found).gauge_division.unwrap().to(LBF), 450.0);
    assert!(found.notes.iter().any(|n| n.slug.code() == "rig.gauge-coarse"));
    asked.pump.as_mut().unwrap().dead_man = false;
    let found = asked.check().unwrap();
    assert_eq!(found.stops[0].slug.code(), "rig.release");
    assert!(found.stops[0].liftable());
    // a stress in place of a pressure, and a stroke used to nine tenths
    let mut odd = terrace();
    odd.rated_pressure = part(r#""29000 ksi""#);
    odd.stroke = part(r#""0.48 in""#);
    let notes: Vec<&str> = odd.check().unwrap().notes.iter().map(|n| n.slug.code()).collect();
    assert_eq!(notes, ["rig.margin-small", "rig.pressure-magnitude", "rig.bars-warm"]);
}

fn scenario(change: impl Fn(&mut serde_json::Value)) -> TestDesign {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/scenarios/gallery_beam.test.json");
    let mut document = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    change(&mut document);
    design(TestSpec::from_json(&document.to_string()).unwrap()).unwrap()
}

/// A locked-off circuit whose oil is not described follows without a bound: the test load falls like a
/// weight, W (1 + √(1 + 2 k h/W)), and it is said.
#[test]
fn oil_unknown_counts_as_weights() {
    let open = [
        scenario(|d| drop(d["rig"]["jacks"].as_object_mut().unwrap().remove("oil_volume"))),
        scenario(|d| drop(d["rig"].as_object_mut().unwrap().remove("bars"))),
        scenario(|d| d["rig"]["jacks"]["accumulator"] = true.into()),
    ];
    for design in open {
        assert!(design.notes.iter().any(|n| n.slug.code() == "shoring.drive-unbounded"));
        let c = &design.shoring.catches[0];
        let (w, k, h) = ((c.own + c.test).to(KN), 30.0, 18.0);
        near(c.force.to(KN), w * (1.0 + (1.0 + 2.0 * k * h / w).sqrt()));
    }
    let known = scenario(|_| {});
    assert!(known.notes.iter().all(|n| n.slug.code() != "shoring.drive-unbounded"));
    assert!(
        known.shoring.catches[0].force
            < scenario(|d| {
                d["shoring"]["drive"] = "weights".into();
            })
            .shoring
            .catches[0]
                .force
    );
}

/// Anchors that give 2 mm under 100 kN: the jack of 100 kN needs 2 mm more, and springs back with them.
#[test]
fn anchors_that_give() {
    let rig = |more: &str| {
        let spec = part(&format!(
            r#"{{ "reaction": {{ "id": "A", "kind": "anchors", "anchors": [ {{ "at": "4 m", "capacity": "90 kN" }},
                {{ "at": "6 m", "capacity": "90 kN" }} ] {more} }},
            "bars": {{ "number": 1, "area": "500 mm^2", "length": "2 m", "modulus": "200 GPa" }},
            "jacks": {{ "number": 1, "piston": {{ "area": "8000 mm^2" }}, "rated_pressure": "70 MPa",
                "stroke": "150 mm", "oil_volume": "1 l", "oil_bulk_modulus": "1000 MPa" }} }}"#
        ));
        let press = [proofspan::rig::Press::jack(5.0 * M, Net(100.0 * KN))];
        let unit = proofspan::verdict::MemberUnit::Beam;
        proofspan::rig::check(&spec, "T", unit, &press, 1.0 * MM).unwrap()
    };
    let unknown = rig("");
    assert!(!unknown.spring_back().si().is_finite());
    assert_eq!(unknown.notes[0].slug.code(), "rig.anchor-movement");
    let known = rig(r#", "stiffness": "50 kN/mm""#);
    assert!(known.notes.iter().all(|n| n.slug.code() != "rig.anchor-movement"));
    // bars 100 kN · 2 m/(200 GPa · 500 mm²) = 2 mm, oil 12.5/1000 · 1e6/8000 = 1.5625 mm
    near(known.hydraulics[0].travel.to(MM), 1.0 + 2.0 + 2.0);
    near(known.spring_back().to(MM), 2.0 + 2.0 + 1.5625);
}
