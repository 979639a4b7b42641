//! Corrections of readings: what is taken off, from what, and how it can be redone.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::readings::read_csv_text;
use proofspan::source::read_json;
use proofspan::{Judgement, TestSpec, design, judge};
use serde_json::Value;

fn shipped(scenario: &str, name: &str) -> String {
    let path = format!("{}/examples/scenarios/{scenario}.{name}", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).unwrap()
}

fn judged(scenario: &str, map: &Value, log: &str) -> Judgement {
    let design = design(TestSpec::from_json(&shipped(scenario, "test.json")).unwrap()).unwrap();
    let layout = read_json(&map.to_string()).unwrap();
    let record = read_json(&shipped(scenario, "record.json")).unwrap();
    judge(&design, &read_csv_text(log, &layout).unwrap(), &layout, &record).unwrap()
}

/// The median of a column of a log between two times (hours), by its definition.
fn median(log: &str, column: &str, (from, to): (f64, f64)) -> f64 {
    let place = log.lines().next().unwrap().split(',').position(|c| c == column).unwrap();
    let mut inside: Vec<f64> = log
        .lines()
        .skip(1)
        .map(|l| l.split(',').collect::<Vec<_>>())
        .filter(|c| (from..=to).contains(&c[0].parse::<f64>().unwrap()))
        .map(|c| c[place].parse().unwrap())
        .collect();
    inside.sort_unstable_by(f64::total_cmp);
    let n = inside.len();
    f64::midpoint(inside[(n - 1) / 2], inside[n / 2])
}

/// A member over two columns at 0 and 7 m: at x the line through them moves by
/// a + (b − a) x/7, beyond the last one too.
#[test]
fn a_tip_beyond_two_bearings_is_corrected_for_both() {
    let log = shipped("station_canopy", "log.csv");
    let map: Value = serde_json::from_str(&shipped("station_canopy", "log.json")).unwrap();
    let j = judged("station_canopy", &map, &log);
    let (zero, peak, rest) = ((0.10, 0.45), (25.60, 25.80), (50.35, 50.75));
    for (column, id, x) in [("tip_mm", "tip", 9.9), ("halfway_mm", "halfway", 8.5)] {
        let moved = |c: &str, w| median(&log, c, w) - median(&log, c, zero);
        let expected = |w| {
            let (a, b) = (moved("first_mm", w), moved("last_mm", w));
            moved(column, w) - (a + (b - a) * x / 7.0)
        };
        let d = j.deflections.iter().find(|d| d.gauge == id).unwrap();
        assert!((d.d_max.si() * 1e3 - expected(peak)).abs() < 1e-9, "{id}: {:?}", d.d_max);
        assert!((d.d_r.unwrap().si() * 1e3 - expected(rest)).abs() < 1e-9, "{id}: {:?}", d.d_r);
        assert!((d.d_max - d.raw.0).si().abs() > 1e-5, "the columns of this log do settle");
    }
}

use proofspan::criteria::{Facts, RunRecord};
use proofspan::editions::Edition;
use proofspan::readings::{
    Correction, CorrectionKind, Deflection, FaultKind, LogSpec, deflections, deflections_of,
    read_csv,
};
use proofspan::units::*;
use proofspan::verdict::MemberUnit;
use proofspan::{Error, judge_record};

/// `zero` at 30 h, `peak` at 54 h, `residual` at 78 h; more of the layout in front.
fn layout(channels: &str, more: &str, moments: &str) -> Result<LogSpec, Error> {
    read_json(&format!(
        r#"{{"time":{{"column":"t","unit":"h"}},{more}"channels":[{channels}],"moments":{{
            "zero":{{"from":"30 h","to":"30 h"}},"peak":{{"from":"54 h","to":"54 h"}},
            "residual":{{"from":"78 h","to":"78 h"}}{moments}}}}}"#
    ))
}

fn read(log: &str, layout: &LogSpec) -> Result<Vec<Deflection>, Error> {
    deflections(&read_csv_text(log, layout)?, layout)
}

fn record() -> RunRecord {
    read_json(
        r#"{"observation":{"distress":"none","by":"engineer","date":"2026-01-01"},"expiry":"2030-01-01","reached":"100 %","held":"24 h","stated_by":"engineer"}"#,
    )
    .unwrap()
}

/// A member designed elsewhere: a cantilever of 3 m, or a span of 10 m.
fn alone(log: &str, layout: &LogSpec, cantilever: bool) -> Result<Judgement, Error> {
    let l = if cantilever { 3.0 * M } else { 50.0 * FT };
    let lt = if cantilever { l * 2.0 } else { l };
    let facts = Facts { lt, l, h: 400.0 * MM, unit: MemberUnit::Beam };
    let edition = Edition::shipped("ACI 318-19").unwrap();
    let log = read_csv_text(log, layout)?;
    judge_record(&edition, "monotonic", facts, &log, layout, &record(), None)
}

fn note<'a>(j: &'a Judgement, code: &str, about: &str) -> Option<&'a str> {
    let mut all = j.judging.notes.iter();
    let found = all.find(|n| n.slug.code() == code && n.message.as_str().contains(about));
    found.map(|n| n.message.as_str())
}

fn of(d: &Deflection, kind: CorrectionKind) -> &Correction {
    d.chain.corrections.iter().find(|c| c.what == kind).unwrap_or_else(|| panic!("{kind}: {d:?}"))
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-12 * a.abs().max(b.abs()).max(1.0)
}

const MID: &str =
    r#"{"id":"mid","column":"mid","unit":"in","role":"deflection","at":"25 ft","u":0.001}"#;

/// An invented gauge in inches: −0.0040 in/°F, bearings 0.0160/0.0040 and 0.0060/0.0020. By hand:
/// raw 0.6480 − 0.1120, drift +0.0240 and −0.0360, settlement −0.0100 and −0.0040, so 0.55 and 0.134.
#[test]
fn the_chain_by_hand() {
    let bearing = |id: &str, at: &str| {
        format!(
            r#"{{"id":"{id}","column":"{id}","unit":"in","role":"settlement","at":"{at}","u":0.0005}}"#
        )
    };
    let channels = format!(
        r#"{MID},{},{},{{"id":"T","column":"T","unit":"°F","role":"temperature"}}"#,
        bearing("l", "0 ft"),
        bearing("r", "50 ft")
    );
    let drift = r#""drift":{"channel":"T","moves":"-0.004 in","per":"1 Δ°F","u":"0.001 in"},"#;
    let layout = layout(&channels, drift, "").unwrap();
    let log = "t,mid,l,r,T\n0,0.1120,0,0,68\n30,0.1120,0,0,68\n54,0.6480,0.0160,0.0040,74\n78,0.2860,0.0060,0.0020,59\n";
    let all = read(log, &layout).unwrap();
    let d = &all[0];
    let expected = [
        (CorrectionKind::Zero, -0.1120, -0.1120, 0.001, 0.001),
        (CorrectionKind::Drift, 0.0240, -0.0360, 0.006, 0.009),
        // u of (s_l + s_r)/2 since zero: sqrt(2 (0.0005² + 0.0005²)/4) = 0.0005
        (CorrectionKind::Settlement, -0.0100, -0.0040, 0.0005, 0.0005),
    ];
    assert_eq!(d.chain.corrections.len(), expected.len());
    for (c, (what, peak, residual, u_peak, u_residual)) in d.chain.corrections.iter().zip(expected)
    {
        assert_eq!(c.what, what);
        let inch = |l: Option<Length>| l.unwrap().to(IN);
        assert!(near(c.at_peak.to(IN), peak) && near(inch(c.at_residual), residual), "{c:?}");
        assert!(near(inch(c.u_at_peak), u_peak), "{c:?}");
        assert!(near(inch(c.u_at_residual), u_residual), "{c:?}");
    }
    assert!(near(d.chain.as_read.0.to(IN), 0.6480) && near(d.d_max.to(IN), 0.55), "{d:?}");
    assert!(near(d.d_r.unwrap().to(IN), 0.134));
    // back again: what is judged less every effect is what was read
    let effects = || d.chain.corrections.iter();
    let back = effects().fold(d.d_max, |v, c| v - c.at_peak);
    assert!(near(back.to(IN), 0.6480));
    let back = effects().fold(d.d_r.unwrap(), |v, c| v - c.at_residual.unwrap());
    assert!(near(back.to(IN), 0.2860));
    // and with a pencil
    let working = alone(log, &layout, false).unwrap().working();
    assert!(working.recheck().is_empty(), "{:?}", working.recheck());
    // three corrections each at peak and residual; u of the reading with drift and settlement, of the
    // difference, of both with what they share; limit, u and U of the margin
    assert_eq!(working.steps().count(), 2 * 3 + 5 + 3);
    assert!(working.text(System::Us).contains("Gauge mid, residual deflection"));
}

/// A cantilever from 0 to 3 m whose root settles 0.4 mm and turns 0.2 mrad at the peak; half of
/// both stays. Read at 2.5 m: v + 0.4 mm + 2.5 m × 0.2 mrad = v + 0.9 mm, residual v + 0.45 mm.
/// The inclinometer counts the other way, in degrees.
#[test]
fn a_root_settles_and_turns() {
    let channels = |turn: &str| {
        format!(
            r#"{{"id":"tip","column":"tip","unit":"mm","role":"deflection","at":{{"value":"2.5 m","u":"10 mm"}},"u":0.02}},
               {{"id":"s","column":"s","unit":"mm","role":"settlement","at":"0 m","u":0.01}}{turn}"#
        )
    };
    let turn =
        r#",{"id":"r","column":"r","unit":"deg","role":"rotation","at":"0 m","u":0.001,"sign":-1}"#;
    let degrees = |mrad: f64| -(mrad * 1e-3).to_degrees();
    let log = format!(
        "t,tip,s,r\n0,1,0,0.3\n30,1,0,0.3\n54,7.9,0.4,{:?}\n78,1.95,0.2,{:?}\n",
        0.3 + degrees(0.2),
        0.3 + degrees(0.1)
    );
    let with = layout(&channels(turn), "", "").unwrap();
    let j = alone(&log, &with, true).unwrap();
    let d = &j.deflections[0];
    assert!((d.d_max.to(MM) - 6.0).abs() < 1e-9, "{d:?}");
    assert!((d.d_r.unwrap().to(MM) - 0.5).abs() < 1e-9, "{d:?}");
    assert!((of(d, CorrectionKind::Rotation).at_peak.to(MM) + 0.5).abs() < 1e-9);
    // the same without a judgement, of the member: one rule
    let member: proofspan::beam::BeamSpec = read_json(
        r#"{"kind":"cantilever","span":"3 m","depth":"400 mm",
            "soft":{"modulus":"27 GPa","second_moment":"0.002 m^4"},
            "stiff":{"modulus":"31 GPa","second_moment":"0.004 m^4"}}"#,
    )
    .unwrap();
    let read_of = |log: &str| deflections_of(&read_csv_text(log, &with)?, &with, &member);
    assert_eq!(read_of(&log).unwrap(), j.deflections);
    assert!((of(d, CorrectionKind::Settlement).at_peak.to(MM) + 0.4).abs() < 1e-9);
    // u: reading 0.02, root 0.01 mm, 2.5 m × 0.001°; the arm's 10 mm × 0.2 mrad is shared
    let turned = 2500.0 * 0.001_f64.to_radians();
    let u = (0.02_f64.powi(2) + 0.01_f64.powi(2) + turned.powi(2)).sqrt();
    assert!((d.u_reading.unwrap().to(MM) - u).abs() < 1e-12);
    let u = (2.0 * turned.powi(2) + 0.002_f64.powi(2)).sqrt();
    assert!((of(d, CorrectionKind::Rotation).u_at_peak.unwrap().to(MM) - u).abs() < 1e-9);
    assert_eq!(note(&j, "criteria.settlement-unknown", ""), None);
    assert_eq!(note(&j, "criteria.channel-unused", ""), None);

    // no turn logged: the settlement is taken off, and it is said how much a turn does
    let without = layout(&channels(""), "", "").unwrap();
    let j = alone(&log, &without, true).unwrap();
    assert!((j.deflections[0].d_max.to(MM) - 6.5).abs() < 1e-9);
    // 1 mrad over 3 m
    assert!(note(&j, "criteria.settlement-unknown", "3 mm").is_some(), "{:?}", j.judging.notes);

    // of a span the same two correct nothing, and say so
    let j = alone(&log, &with, false).unwrap();
    assert!((j.deflections[0].d_max.to(MM) - 6.9).abs() < 1e-9);
    assert!(note(&j, "criteria.channel-unused", "`s`").unwrap().contains("0.4 mm"));
    assert!(note(&j, "criteria.channel-unused", "`r`").is_some());
}

/// A turn without its place is refused.
#[test]
fn a_rotation_needs_its_place() {
    let turn = r#"{"id":"r","column":"r","unit":"mrad","role":"rotation"}"#;
    let refused = layout(&format!("{MID},{turn}"), "", "").unwrap_err();
    assert_eq!(refused.codes(), ["source.field-missing"]);
    let turn = r#"{"id":"r","column":"r","unit":"mm","role":"rotation","at":"0 m"}"#;
    assert_eq!(layout(&format!("{MID},{turn}"), "", "").unwrap_err().codes(), ["units.unknown"]);
}

/// A cantilever of which the root turns with the load, times `turn`, and jumps by `jump` mrad.
fn turning(turn: f64, jump: f64) -> (String, LogSpec) {
    let channels = r#"{"id":"P","column":"P","unit":"kN","role":"force","u":0.1},
        {"id":"tip","column":"tip","unit":"mm","role":"deflection","at":"2.5 m","u":0.02},
        {"id":"r","column":"r","unit":"mrad","role":"rotation","at":"0 m","u":0.01}"#;
    let mut log = "t,P,tip,r\n".to_owned();
    for k in 0..=320 {
        let t = f64::from(k) * 0.25;
        let share = ((t - 30.25) / 2.0).clamp(0.0, 1.0) * f64::from(u8::from(t <= 55.0));
        let grain = f64::from(k * 7 % 5) * 1e-3;
        let jumped = if t > 45.0 { jump } else { 0.0 };
        log += &format!(
            "{t},{:.3},{:.4},{:.4}\n",
            100.0 * share + grain,
            8.0 * share + grain,
            0.4 * share * turn + jumped + grain / 5.0
        );
    }
    (log, layout(channels, "", "").unwrap())
}

/// A root that jumps by itself in the middle of the hold is as open as any other channel; where the
/// turn is taken off nothing, it is a remark.
#[test]
fn a_turn_has_its_faults() {
    let (log, layout) = turning(1.0, 0.3);
    let fault = |j: &Judgement| {
        let found = j.faults.iter().find(|f| f.channel == "r" && f.kind == FaultKind::Step);
        found.map(|f| (f.kind.word(), f.is_open())).unwrap()
    };
    assert_eq!(fault(&alone(&log, &layout, true).unwrap()), ("step", true));
    assert_eq!(fault(&alone(&log, &layout, false).unwrap()), ("step", false));
}

/// An inclinometer of the wrong sign would add 2.5 m × 0.4 mrad where it must be taken off.
#[test]
fn a_turn_of_the_wrong_sign_is_seen() {
    let flipped = |turn: f64, cantilever: bool| {
        let (log, layout) = turning(turn, 0.0);
        let j = alone(&log, &layout, cantilever).unwrap();
        let open = j.faults.iter().filter(|f| f.is_open());
        let all: Vec<_> = open.map(|f| (f.channel.clone(), f.kind)).collect();
        (all, j.deflections[0].d_max.to(MM))
    };
    assert_eq!(flipped(1.0, true).0, []);
    assert!((flipped(1.0, true).1 - 7.0).abs() < 0.01);
    assert_eq!(flipped(-1.0, true).0, [("r".to_owned(), FaultKind::SignFlip)]);
    assert_eq!(flipped(-1.0, false).0, []);
}

/// Two gauges at one bearing count as their mean; a gauge at the bearing loses it in full.
#[test]
fn bearings_of_two_gauges() {
    let channels = r#"{"id":"mid","column":"mid","unit":"mm","role":"deflection","at":"5 m","u":0.02},
        {"id":"end","column":"end","unit":"mm","role":"deflection","at":"10 m","u":0.02},
        {"id":"l","column":"l","unit":"mm","role":"settlement","at":"0 m","u":0.01},
        {"id":"r1","column":"r1","unit":"mm","role":"settlement","at":"10 m","u":0.01},
        {"id":"r2","column":"r2","unit":"mm","role":"settlement","at":"10 m","u":0.01}"#;
    let log = "t,mid,end,l,r1,r2\n0,0,0,0,0,0\n30,0,0,0,0,0\n54,9,1,0.2,0.4,0.8\n78,1,0,0,0,0\n";
    let all = read(log, &layout(channels, "", "").unwrap()).unwrap();
    // (0.2 + 0.6)/2 and 0.6
    assert!(near(all[0].d_max.to(MM), 8.6) && near(all[1].d_max.to(MM), 0.4), "{all:?}");
}

/// Calibration: true = 1.02 × reading + 0.5 mm, u(factor) 0.004. Read 1, 11, 3 counting upwards.
#[test]
fn calibration_and_sign() {
    let channels = r#"{"id":"g","column":"g","unit":"mm","role":"deflection","at":"5 m","u":0.02,"sign":-1,
        "calibration":{"factor":1.02,"u":0.004,"offset":0.5,"source":"certificate 7"}}"#;
    let log = "t,g\n0,-1\n30,-1\n54,-11\n78,-3\n";
    let d = &read(log, &layout(channels, "", "").unwrap()).unwrap()[0];
    assert!(near(d.chain.as_read.0.to(MM), -11.0), "{d:?}");
    assert!(near(of(d, CorrectionKind::Sign).at_peak.to(MM), 20.0));
    let c = of(d, CorrectionKind::Calibration);
    assert!(near(c.at_peak.to(MM), 0.2) && near(c.at_residual.unwrap().to(MM), 0.04), "{c:?}");
    assert!(near(c.u_at_peak.unwrap().to(MM), 0.04) && c.source.as_str() == "certificate 7");
    assert!(near(d.d_max.to(MM), 10.2) && near(d.d_r.unwrap().to(MM), 2.04));
    let wrong = channels.replace("1.02", "25.4");
    assert_eq!(layout(&wrong, "", "").unwrap_err().codes(), ["source.magnitude"]);
    let exact = channels.replace(r#""u":0.004"#, r#""u":0"#);
    assert_eq!(layout(&exact, "", "").unwrap_err().codes(), ["uncertainty.zero"]);
}

/// The force fell from 100 to 99 kN: 9.9 mm at 99 kN are 10 mm at 100 kN by the secant, with
/// u = 10 mm × 0.5 kN/99 kN for the cell. At 90 kN nothing is corrected.
#[test]
fn the_load_that_changed_while_it_was_held() {
    let channels = r#"{"id":"P","column":"P","unit":"kN","role":"force","u":0.5},
        {"id":"g","column":"g","unit":"mm","role":"deflection","at":"5 m","u":0.02}"#;
    let layout = layout(channels, "", r#","nominal":"100 kN""#).unwrap();
    let log = |p: f64| format!("t,P,g\n0,0,0\n30,0,0\n54,{p},9.9\n78,0,0.5\n");
    let d = &read(&log(99.0), &layout).unwrap()[0];
    assert!((d.d_max.to(MM) - 10.0).abs() < 1e-12 && near(d.d_r.unwrap().to(MM), 0.5), "{d:?}");
    let c = of(d, CorrectionKind::Load);
    assert!((c.at_peak.to(MM) - 0.1).abs() < 1e-12, "{c:?}");
    assert!((c.u_at_peak.unwrap().to(MM) - 10.0 * 0.5 / 99.0).abs() < 1e-12, "{c:?}");
    let j = alone(&log(90.0), &layout, false).unwrap();
    assert!(near(j.deflections[0].d_max.to(MM), 9.9));
    assert!(note(&j, "readings.load-not-corrected", "90 kN").is_some());
}

/// Control readings r = −0.05 mm/K × T over a day, from 10 to 20 °C; at zero 15, at the peak 18, at
/// the residual 25 °C: +0.15 and +0.5 mm, the last 5 K beyond the day.
#[test]
fn a_drift_from_control_periods() {
    let channels = r#"{"id":"g","column":"g","unit":"mm","role":"deflection","at":"5 m","u":0.02},
        {"id":"T","column":"T","unit":"°C","role":"temperature","u":0.1}"#;
    let fit = |channels: &str, from: &str, to: &str| {
        format!(r#""thermal":{{"channels":{channels},"periods":{{"from":"{from}","to":"{to}"}}}},"#)
    };
    let mut log = "t,g,T\n".to_owned();
    for hour in 0..=24 {
        let t = 15.0 + 5.0 * (f64::from(hour) * core::f64::consts::TAU / 24.0).sin();
        log += &format!("{hour},{:?},{t:?}\n", 3.0 - 0.05 * t);
    }
    for (hour, v, t) in [(30, 0.0, 15.0), (54, 8.0, 18.0), (78, 1.0, 25.0)] {
        for k in -2..=2 {
            log += &format!("{},{:?},{t}\n", hour + k, 3.0 + v - 0.05 * t);
        }
    }
    let day = layout(channels, &fit(r#""T""#, "0 h", "24 h"), "").unwrap();
    let j = alone(&log, &day, false).unwrap();
    let d = &j.deflections[0];
    assert!((d.d_max.to(MM) - 8.0).abs() < 1e-9 && (d.d_r.unwrap().to(MM) - 1.0).abs() < 1e-9);
    let c = of(d, CorrectionKind::Drift);
    assert!((c.value.si * 1e3 + 0.05).abs() < 1e-12 && (c.at_peak.to(MM) - 0.15).abs() < 1e-9);
    let beyond = note(&j, "readings.correction-extrapolated", "residual").unwrap();
    assert!(beyond.contains("5 Δ°C"), "{beyond}");
    assert_eq!(note(&j, "readings.correction-extrapolated", "peak"), None);
    // 0.05 mm/K × 0.1 K of the thermometer beside the reading
    let u = (0.02_f64.powi(2) + 0.005_f64.powi(2)).sqrt();
    assert!((d.u_reading.unwrap().to(MM) - u).abs() < 1e-9);

    // readings that have nothing to do with the temperature
    let noisy: String = log
        .lines()
        .enumerate()
        .map(|(i, l)| match l.split(',').collect::<Vec<_>>()[..] {
            [t, _, warm] if (1..=25).contains(&i) => format!("{t},{},{warm}\n", i * 7 % 4),
            _ => format!("{l}\n"),
        })
        .collect();
    let j = alone(&noisy, &day, false).unwrap();
    assert!(note(&j, "readings.thermal-fit-weak", "hardly").is_some(), "{:?}", j.judging.notes);

    let codes = |layout: Result<LogSpec, Error>| match layout {
        Ok(layout) => read(&log, &layout).unwrap_err().codes(),
        Err(error) => error.codes(),
    };
    let few = layout(channels, &fit(r#""T""#, "0 h", "2 h"), "");
    assert_eq!(codes(few), ["readings.thermal-fit"]);
    let loaded = layout(channels, &fit(r#""T""#, "0 h", "60 h"), "");
    assert_eq!(codes(loaded), ["readings.control-loaded"]);
    let unknown = layout(channels, &fit(r#"["T","g"]"#, "0 h", "24 h"), "");
    assert_eq!(codes(unknown), ["readings.column-missing"]);
    let twice = r#""drift":{"channel":"T","moves":"-0.05 mm","per":"1 Δ°C"},"#;
    let twice = layout(channels, &(twice.to_owned() + &fit(r#""T""#, "0 h", "24 h")), "");
    assert_eq!(codes(twice), ["readings.drift-twice"]);
}

/// With 20 kN on in the control period the gauges did not only feel the temperature.
#[test]
fn a_control_period_under_load() {
    let channels = r#"{"id":"P","column":"P","unit":"kN","role":"force","u":0.5},
        {"id":"g","column":"g","unit":"mm","role":"deflection","at":"5 m","u":0.02},
        {"id":"T","column":"T","unit":"°C","role":"temperature"}"#;
    let fit = r#""thermal":{"channels":"T","periods":[{"from":"0 h","to":"12 h"},{"from":"13 h","to":"24 h"}]},"#;
    let layout = layout(channels, fit, "").unwrap();
    let log = |p: f64| {
        let mut log = "t,P,g,T\n".to_owned();
        for hour in 0..=24 {
            let on = if (14..18).contains(&hour) { p } else { 0.0 };
            log += &format!("{hour},{on},{},{}\n", 0.1 * f64::from(hour % 7), 10 + hour % 7);
        }
        for (hour, p, v) in [(30, 0, 0), (54, 100, 9), (78, 0, 1)] {
            for k in -2..=2 {
                log += &format!("{},{p},{v},15\n", hour + k);
            }
        }
        log
    };
    assert!(read(&log(0.0), &layout).is_ok());
    let refused = read(&log(20.0), &layout).unwrap_err();
    assert_eq!(refused.codes(), ["readings.control-loaded"]);
    assert_eq!(refused.issues[0].path, "thermal.periods[1]");
}

/// Every stage has its own zero and its own control readings: those of the first serve both.
#[test]
fn the_drift_of_a_later_stage_is_that_of_the_control_periods() {
    let scenario = "gallery_beam";
    let mut document: Value = serde_json::from_str(&shipped(scenario, "test.json")).unwrap();
    document["stages"] =
        serde_json::json!([{ "name": "again", "doubt": document["scope"]["doubt"] }]);
    let design = design(TestSpec::from_json(&document.to_string()).unwrap()).unwrap();
    let mut map: Value = serde_json::from_str(&shipped(scenario, "log.json")).unwrap();
    map.as_object_mut().unwrap().remove("drift");
    map["thermal"] =
        serde_json::json!({ "channels": "T", "periods": { "from": "0 h", "to": "24 h" } });
    let shift = 30.0;
    let moments = |at: f64| {
        let w = |a: f64, b: f64| serde_json::json!({ "from": format!("{} h", at + a), "to": format!("{} h", at + b) });
        serde_json::json!({ "zero": w(0.0, 0.3), "peak": w(25.8, 26.0), "residual": w(50.2, 50.5),
            "unloaded": format!("{} h", at + 26.4) })
    };
    map["moments"] = moments(shift);
    map["stages"] =
        serde_json::json!([{ "name": "again", "from": "90 h", "moments": moments(90.0) }]);
    // a day without load, then the shipped log twice, with a drift of −0.2 mm/K written in
    let text = shipped(scenario, "log.csv");
    let heading = text.lines().next().unwrap();
    let columns: Vec<&str> = heading.split(',').collect();
    let mut log = heading.to_owned() + "\n";
    let mut row = |t: f64, cells: &[f64]| {
        let mut line = format!("{t}");
        for (column, v) in columns.iter().zip(cells).skip(1) {
            let drift = if matches!(*column, "mid_mm" | "quarter_mm") {
                -0.2 * cells[columns.iter().position(|c| *c == "T_C").unwrap()]
            } else {
                0.0
            };
            line += &format!(",{:.6}", v + drift);
        }
        log += &(line + "\n");
    };
    let rows: Vec<Vec<f64>> = text
        .lines()
        .skip(1)
        .map(|l| l.split(',').map(|c| c.parse().unwrap_or(f64::NAN)).collect::<Vec<f64>>())
        .filter(|r: &Vec<f64>| r.iter().all(|v| !v.is_nan()))
        .collect();
    for k in 0..=96 {
        let mut cells = rows[0].clone();
        let warm = columns.iter().position(|c| *c == "T_C").unwrap();
        cells[warm] += 6.0 * (f64::from(k) * core::f64::consts::TAU / 96.0).sin();
        row(f64::from(k) / 4.0, &cells);
    }
    for at in [shift, 90.0] {
        for cells in &rows {
            row(at + cells[0], cells);
        }
    }
    let layout: LogSpec = read_json(&map.to_string()).unwrap();
    let record = read_json(&shipped(scenario, "record.json")).unwrap();
    let j = judge(&design, &read_csv_text(&log, &layout).unwrap(), &layout, &record).unwrap();
    let later = j.later[0].1.as_ref().unwrap();
    for (a, b) in j.deflections.iter().zip(&later.deflections) {
        let slope = |d: &Deflection| of(d, CorrectionKind::Drift).value.si * 1e3;
        assert!((slope(a) + 0.2).abs() < 1e-6 && slope(a) == slope(b), "{} {}", slope(a), slope(b));
        assert!((a.d_max - b.d_max).si().abs() < 1e-9);
    }
}

/// A reader that gives a few bytes at a time.
struct Drops<'a>(&'a [u8], usize);

impl std::io::Read for Drops<'_> {
    fn read(&mut self, to: &mut [u8]) -> std::io::Result<usize> {
        let n = self.1.min(self.0.len()).min(to.len());
        to[..n].copy_from_slice(&self.0[..n]);
        self.0 = &self.0[n..];
        Ok(n)
    }
}

/// Blocks of the stream, an offset of a gauge of deflection, other units: no bit, nothing beyond
/// 1e-12, and no verdict.
#[test]
fn what_must_not_matter() {
    let scenario = "gallery_beam";
    let text = shipped(scenario, "log.csv");
    let map: Value = serde_json::from_str(&shipped(scenario, "log.json")).unwrap();
    let layout: LogSpec = read_json(&map.to_string()).unwrap();
    let whole = deflections(&read_csv_text(&text, &layout).unwrap(), &layout).unwrap();
    for block in [1, 7, 4099] {
        let log = read_csv(Drops(text.as_bytes(), block), &layout).unwrap();
        assert_eq!(deflections(&log, &layout).unwrap(), whole, "{block}");
    }
    let states = |j: &Judgement| -> Vec<_> {
        let state =
            |c: &proofspan::criteria::Judged| (c.outcome.code.state, c.outcome.guarded.state);
        j.judging.criteria.iter().map(state).collect()
    };
    let plain = judged(scenario, &map, &text);
    let columns: Vec<&str> = text.lines().next().unwrap().split(',').collect();
    let changed = |change: &dyn Fn(&str, f64) -> f64| {
        let mut out = text.lines().next().unwrap().to_owned() + "\n";
        for line in text.lines().skip(1) {
            let cells = line.split(',').zip(&columns).map(|(cell, column)| match cell.parse() {
                Ok(v) => format!("{:?}", change(column, v)),
                Err(_) => cell.to_owned(),
            });
            out += &(cells.collect::<Vec<_>>().join(",") + "\n");
        }
        out
    };
    let shifted = changed(&|c, v| if c == "mid_mm" { v + 3.25 } else { v });
    let inches = changed(&|c, v| match c {
        "mid_mm" | "quarter_mm" => v / 25.4,
        "T_C" => v * 1.8 + 32.0,
        _ => v,
    });
    let mut in_inches = map.clone();
    for channel in in_inches["channels"].as_array_mut().unwrap() {
        match channel["id"].as_str().unwrap() {
            "mid" | "quarter" => {
                channel["unit"] = "in".into();
                channel["u"] = serde_json::json!(0.02 / 25.4);
            }
            "T" => channel["unit"] = "°F".into(),
            _ => {}
        }
    }
    for (name, j) in [
        ("offset", judged(scenario, &map, &shifted)),
        ("units", judged(scenario, &in_inches, &inches)),
    ] {
        for (a, b) in j.deflections.iter().zip(&plain.deflections) {
            assert!((a.d_max - b.d_max).si().abs() <= 1e-12, "{name}: {a:?} {b:?}");
            assert!((a.d_r.unwrap() - b.d_r.unwrap()).si().abs() <= 1e-12, "{name}");
        }
        assert_eq!(states(&j), states(&plain), "{name}");
    }
}

/// A tare that a decision takes back stands in the chain, so that what was read and the effects still
/// come to what is judged.
#[test]
fn a_decision_stands_in_the_chain() {
    let channels = r#"{"id":"P","column":"P","unit":"kN","role":"force","u":0.1},
        {"id":"a","column":"a","unit":"mm","role":"deflection","at":"4 m","u":0.02},
        {"id":"b","column":"b","unit":"mm","role":"deflection","at":"5 m","u":0.02}"#;
    let layout = layout(channels, "", "").unwrap();
    let mut log = "t,P,a,b\n".to_owned();
    for k in 0..=320 {
        let t = f64::from(k) * 0.25;
        let share = ((t - 30.25) / 2.0).clamp(0.0, 1.0) * f64::from(u8::from(t <= 55.0));
        let grain = f64::from(k * 7 % 5) * 1e-3;
        let tare = if t > 45.0 { 2.0 } else { 0.0 };
        log += &format!(
            "{t},{:.3},{:.4},{:.4}\n",
            100.0 * share + grain,
            8.0 * share + grain,
            9.0 * share + grain + tare
        );
    }
    let decide = r#"{"observation":{"distress":"none","by":"engineer","date":"2026-01-01"},"expiry":"2030-01-01",
        "reached":"100 %","held":"24 h","stated_by":"engineer","decisions":[{"fault":"step","channel":"b","treatment":"correct",
        "reason":"rod knocked at 45 h","by":"engineer"}]}"#;
    let record: RunRecord = read_json(decide).unwrap();
    let facts = Facts { lt: 10.0 * M, l: 10.0 * M, h: 400.0 * MM, unit: MemberUnit::Beam };
    let edition = Edition::shipped("ACI 318-19").unwrap();
    let read = read_csv_text(&log, &layout).unwrap();
    let j = judge_record(&edition, "monotonic", facts, &read, &layout, &record, None).unwrap();
    let b = j.deflections.iter().find(|d| d.gauge == "b").unwrap();
    assert!((of(b, CorrectionKind::Decision).at_peak.to(MM) + 2.0).abs() < 0.01, "{b:?}");
    let sum = b.chain.corrections.iter().fold(b.chain.as_read.0, |v, c| v + c.at_peak);
    assert!((sum - b.d_max).si().abs() < 1e-15);
    assert!((b.chain.as_read.0.to(MM) - 11.0).abs() < 0.01);
}

/// The GUM by hand: m − (a + b)/2 with u = 0.05, 0.04, 0.04 mm has 0.05744562646538029 mm; two cells
/// of 0.8 kN each on one calibration have 1.6 kN together.
#[test]
fn uncertainties_add_as_they_must() {
    let channels = r#"{"id":"P","column":"P","unit":"kN","role":"force","u":0.8},
        {"id":"Q","column":"Q","unit":"kN","role":"force","u":0.8},
        {"id":"m","column":"m","unit":"mm","role":"deflection","at":"5 m","u":0.05},
        {"id":"a","column":"a","unit":"mm","role":"settlement","at":"0 m","u":0.04},
        {"id":"b","column":"b","unit":"mm","role":"settlement","at":"10 m","u":0.04}"#;
    let layout = layout(channels, "", r#","nominal":"100 kN""#).unwrap();
    let log = "t,P,Q,m,a,b\n0,0,0,0,0,0\n30,0,0,0,0,0\n54,49,50,9,0.2,0.4\n78,0,0,1,0,0\n";
    let d = &read(log, &layout).unwrap()[0];
    assert!((d.u_reading.unwrap().to(MM) - 0.057_445_626_465_380_29).abs() < 1e-12, "{d:?}");
    let u = of(d, CorrectionKind::Load).u.unwrap();
    assert!((u.si - 1600.0).abs() < 1e-9, "{u:?}");
}

/// Three supports at 0, 6 and 11 m, of which the middle one was not logged: the line through the
/// others is taken off, and it is said that the middle one is not in it. With all three: nothing.
#[test]
fn a_support_between_two_that_were_logged() {
    let log = shipped("archive_floor", "log.csv");
    let mut map: Value = serde_json::from_str(&shipped("archive_floor", "log.json")).unwrap();
    let said = |j: &Judgement| note(j, "criteria.settlement-unknown", "between them").is_some();
    assert!(!said(&judged("archive_floor", &map, &log)));
    map["channels"].as_array_mut().unwrap().retain(|c| c["id"] != "B");
    let j = judged("archive_floor", &map, &log);
    assert!(note(&j, "criteria.settlement-unknown", "6 m between them").is_some());
}

/// A drift without an uncertainty takes off 0.036 in and adds nothing to U: said.
#[test]
fn a_drift_without_uncertainty_is_said() {
    let channels = format!(r#"{MID},{{"id":"T","column":"T","unit":"°F","role":"temperature"}}"#);
    let drift =
        |u: &str| format!(r#""drift":{{"channel":"T","moves":"-0.004 in","per":"1 Δ°F"{u}}},"#);
    let log = "t,mid,T\n0,0.1120,68\n30,0.1120,68\n54,0.6480,74\n78,0.2860,59\n";
    let with = layout(&channels, &drift(r#","u":"0.001 in""#), "").unwrap();
    let without = layout(&channels, &drift(""), "").unwrap();
    let said = |layout| {
        let j = alone(log, layout, false).unwrap();
        note(&j, "criteria.temperature-unknown", "adds nothing to U").map(str::to_owned)
    };
    assert_eq!(said(&with), None);
    // 0.036 in of 0.56 in
    let text = said(&without).unwrap();
    assert!(text.contains("0.9144 mm") && text.contains("0.0642857"), "{text}");
}

/// A level that no gauge names and a second thermometer correct nothing: said, with how far they went.
#[test]
fn no_channel_is_dropped_without_a_word() {
    let channels = format!(
        r#"{MID},{{"id":"T","column":"T","unit":"°F","role":"temperature"}},
           {{"id":"U","column":"U","unit":"°C","role":"temperature"}},
           {{"id":"B","column":"B","unit":"mm","role":"level"}}"#
    );
    let drift = r#""drift":{"channel":"T","moves":"-0.004 in","per":"1 Δ°F","u":"0.001 in"},"#;
    let log = "t,mid,T,U,B\n0,0.1,68,20,0\n30,0.1,68,20,0\n54,0.6,74,23,-0.25\n78,0.2,59,20,0\n";
    let j = alone(log, &layout(&channels, drift, "").unwrap(), false).unwrap();
    assert!(note(&j, "criteria.channel-unused", "`U`").unwrap().contains("3 Δ°C"));
    assert!(note(&j, "criteria.channel-unused", "`B`").unwrap().contains("0.25 mm"));
    assert_eq!(note(&j, "criteria.channel-unused", "`T`"), None);
}

/// A gauge that was not read in the control periods is dead and open; the others are corrected.
#[test]
fn a_gauge_without_control_readings_is_open() {
    let gauge = |id: &str, at: &str| {
        format!(
            r#"{{"id":"{id}","column":"{id}","unit":"mm","role":"deflection","at":"{at}","u":0.02}}"#
        )
    };
    let channels = format!(
        r#"{},{},{{"id":"T","column":"T","unit":"°C","role":"temperature"}}"#,
        gauge("g", "5 m"),
        gauge("h", "4 m")
    );
    let fit = r#""thermal":{"channels":"T","periods":{"from":"0 h","to":"24 h"}},"#;
    let mut log = "t,g,h,T\n".to_owned();
    for hour in 0..=24 {
        log += &format!("{hour},{},,{}\n", -0.05 * f64::from(hour % 7), 10 + hour % 7);
    }
    for (hour, v) in [(30, 0), (54, 9), (78, 1)] {
        for k in -2..=2 {
            log += &format!("{},{v},{v},10\n", hour + k);
        }
    }
    let j = alone(&log, &layout(&channels, fit, "").unwrap(), false).unwrap();
    assert_eq!(j.deflections.len(), 1);
    assert!(note(&j, "criteria.gauge-dead", "control periods").is_some(), "{:?}", j.judging.notes);
    let residual = j.judging.criteria.iter().find(|c| c.id == "residual").unwrap();
    assert_eq!(residual.outcome.code.state, proofspan::verdict::State::Inconclusive);
}
