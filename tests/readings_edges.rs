//! Reading and cleaning a log at its edges: what a small change of the sources once left unnoticed.
//! Each log is worked by hand beside its test.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, clippy::float_cmp, reason = "tests")]

mod log_truth;

use log_truth::{Map, noted, overall, reason, record, rows, states, text};
use proofspan::criteria::{Facts, RunRecord};
use proofspan::editions::Edition;
use proofspan::readings::{
    CorrectionKind, Entries, Fault, FaultEffect, FaultKind, Log, LogSpec, Table, TimeEntries,
    read_csv_text, read_table,
};
use proofspan::source::read_json;
use proofspan::units::*;
use proofspan::verdict::{MemberUnit, State};
use proofspan::{Error, Judgement, judge_record};

/// A layout in seconds: these channels, zero and peak, and more of its fields.
fn layout(channels: &str, zero: (u32, u32), peak: (u32, u32), more: &str) -> LogSpec {
    read_json(&format!(
        r#"{{"time":{{"column":"t","unit":"s"}},{more}"channels":[{channels}],"moments":{{
            "zero":{{"from":"{} s","to":"{} s"}},"peak":{{"from":"{} s","to":"{} s"}}}}}}"#,
        zero.0, zero.1, peak.0, peak.1
    ))
    .unwrap()
}

fn gauge(id: &str, more: &str) -> String {
    format!(r#"{{"id":"{id}","column":"{id}","unit":"mm","role":"deflection","at":"3 m"{more}}}"#)
}

fn of(log: &Log, kind: FaultKind) -> Vec<Fault> {
    log.faults.iter().filter(|f| f.kind == kind).cloned().collect()
}

/// u = 0.1 mm: a hundredth of it is 0.001 mm, so that three decimals mean something and four do not,
/// also in the shortest cell that has them.
#[test]
fn one_decimal_too_many_is_one_however_short_the_cell() {
    let spec = layout(&gauge("g", r#","u":0.1"#), (0, 0), (2, 2), "");
    let read = |cell: &str| {
        let log = read_csv_text(&format!("t,g\n0,0\n1,{cell}\n2,2\n"), &spec).unwrap();
        of(&log, FaultKind::OverPrecision).iter().map(|f| f.count).sum::<usize>()
    };
    assert_eq!([read("1.234"), read("1.2345"), read("-1.2345"), read("12.345")], [0, 1, 1, 0]);
    let quoted = ["1.234", "1.2345", "-1.2345", "12.345"].map(|c| read(&format!("\"{c}\"")));
    assert_eq!(quoted, [0, 1, 1, 0]);
}

/// A ramp of 0.1 mm/s, a sample a second, a vote every 20 s, so that the running median lies on the
/// ramp, 2 mm from vote to vote: between two of them the line counts. A sample 1.5 mm beside it is
/// farther than the gate of 1 mm, one 0.9 mm beside it is not.
#[test]
fn between_two_votes_the_median_is_a_line() {
    let spec = layout(
        &gauge("g", ""),
        (0, 5),
        (180, 200),
        r#""cleaning":{"gate":"1 mm","half_window":"20 s","bin":"20 s"},"#,
    );
    let blocked = |beside: f64| {
        let mut text = "t,g\n".to_owned();
        for t in 0..=200_u32 {
            let v = 0.1 * f64::from(t) + if t == 90 { beside } else { 0.0 };
            text += &format!("{t},{v:.3}\n");
        }
        let log = read_csv_text(&text, &spec).unwrap();
        of(&log, FaultKind::Blocked).iter().map(|f| (f.count, f.from.si())).collect::<Vec<_>>()
    };
    assert_eq!(blocked(0.0), []);
    assert_eq!(blocked(0.9), []);
    assert_eq!(blocked(1.5), [(1, 90.0)]);
    assert_eq!(blocked(-1.5), [(1, 90.0)]);
}

/// A simple span of 6 m by ACI 318-19.
fn judged(text: &str, spec: &LogSpec, record: &RunRecord) -> Result<Judgement, Error> {
    let facts = Facts { lt: 6.0 * M, l: 6.0 * M, h: 400.0 * MM, unit: MemberUnit::Beam };
    let edition = Edition::shipped("ACI 318-19").unwrap();
    let log = read_csv_text(text, spec)?;
    judge_record(&edition, "monotonic", facts, &log, spec, record, None)
}

/// The part of the load that is on at a time in hours.
fn on(t: f64) -> f64 {
    match t {
        t if t > 26.25 => 0.0,
        t if t > 26.15 => 0.5,
        t => [1.05, 1.35, 1.65, 1.95].iter().filter(|at| t > **at).count() as f64 / 4.0,
    }
}

/// Three gauges under a force, a sample every 0.1 h: the load rises to 100 kN by 25 kN at 1.1, 1.4, 1.7
/// and 2.0 h, stays until 26 h and is gone at 26.3 h, and the gauges show 4, 7 and 5 mm with a
/// creep of 4 % and a noise of a few thousandths. `change` may alter what they show.
fn three(change: impl Fn(f64, &mut [f64; 3])) -> String {
    let mut dice = 12_345_u64;
    let mut noise = || {
        dice = dice.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((dice >> 11) as f64 / (1_u64 << 53) as f64 - 0.5) * 0.01
    };
    let mut text = "t,P,a,b,c\n".to_owned();
    for k in 0..=510 {
        let t = f64::from(k) / 10.0;
        let on = on(t);
        let creep = 0.04 * (1.0 - (-(t - 2.0).max(0.0) / 5.0).exp());
        let left = if t > 2.0 { 0.05 } else { 0.0 };
        let mut v = [4.0, 7.0, 5.0].map(|v| v * (on * (1.0 + creep - left) + left));
        v.iter_mut().for_each(|v| *v += noise());
        change(t, &mut v);
        let force = 100.0 * on + noise();
        text += &format!("{t:.1},{force:.3},{:.4},{:.4},{:.4}\n", v[0], v[1], v[2]);
    }
    text
}

fn of_three() -> LogSpec {
    let gauge = |id: &str, at: f64| {
        format!(
            r#"{{"id":"{id}","column":"{id}","unit":"mm","role":"deflection","at":"{at} m","u":0.01}}"#
        )
    };
    read_json(&format!(
        r#"{{"time":{{"column":"t","unit":"h"}},"channels":[
            {{"id":"P","column":"P","unit":"kN","role":"force","u":0.1}},{},{},{}],"moments":{{
            "zero":{{"from":"0.5 h","to":"1 h"}},"peak":{{"from":"25.8 h","to":"26.1 h"}},
            "residual":{{"from":"50.1 h","to":"50.5 h"}},"unloaded":"26.3 h"}}}}"#,
        gauge("a", 1.5),
        gauge("b", 3.0),
        gauge("c", 4.5)
    ))
    .unwrap()
}

fn faults(change: impl Fn(f64, &mut [f64; 3])) -> Vec<Fault> {
    read_csv_text(&three(change), &of_three()).unwrap().faults
}

fn named(faults: &[Fault]) -> Vec<(FaultKind, &str)> {
    faults.iter().map(|f| (f.kind, f.channel.as_str())).collect()
}

#[test]
fn nothing_is_named_of_three_good_gauges() {
    assert_eq!(faults(|_, _| ()), []);
}

/// A gauge jumps by 1 mm at 2.5 h and shows that number to the end: it is stuck, and the jump with
/// which that begins is no fault of its own.
#[test]
fn where_a_stuck_stretch_begins_is_no_step() {
    let found = faults(|t, v| {
        if t > 2.45 {
            v[0] = 5.1;
        }
    });
    assert_eq!(named(&found), [(FaultKind::Stuck, "a")]);
    assert!((found[0].from.si() / 3600.0 - 2.5).abs() < 1e-9, "{found:?}");
}

/// A gauge that rises under the load (an uplift in the next span) creeps with the others, by the same
/// part of what it shows: no shift. One that wanders by 0.8 mm on its own between 5 h and 20 h is one,
/// with as many samples as lie between its times.
#[test]
fn a_slow_shift_is_against_its_own_way_of_moving() {
    assert_eq!(faults(|_, v| v[2] = -v[2]), []);
    let found = faults(|t, v| v[0] += 0.8 * ((t - 5.0) / 15.0).clamp(0.0, 1.0));
    assert_eq!(named(&found), [(FaultKind::Shift, "a")]);
    let rows = ((found[0].to.si() - found[0].from.si()) / 360.0).round() as usize + 1;
    assert_eq!(found[0].count, rows, "{found:?}");
    let offset = found[0].offset.unwrap().si * 1e3;
    assert!((offset + 0.8).abs() < 0.03, "{offset}");
}

/// No force, and a slow ramp on which two gauges of three show one number for eight samples while the
/// third moves on by seven hundredths of its range: both are stuck, though most gauges rest.
#[test]
fn two_gauges_that_stick_at_once_do_not_excuse_each_other() {
    let channels = ["a", "b", "c"].map(|id| gauge(id, r#","u":0.01"#)).join(",");
    let spec = layout(&channels, (0, 30), (1100, 1200), "");
    let mut text = "t,a,b,c\n".to_owned();
    for k in 0..=120_u32 {
        let part = (f64::from(k) - 5.0).clamp(0.0, 100.0) / 100.0;
        let rests = if (40..48).contains(&k) { 0.35 } else { part };
        let grain = f64::from(k * 7 % 5) * 1e-4;
        let own = |scale: f64| scale * rests + if rests == part { grain } else { 0.0 };
        text += &format!("{},{:.4},{:.4},{:.4}\n", 10 * k, own(4.0), own(7.0), 5.0 * part + grain);
    }
    let log = read_csv_text(&text, &spec).unwrap();
    assert_eq!(
        named(&of(&log, FaultKind::Stuck)),
        [(FaultKind::Stuck, "a"), (FaultKind::Stuck, "b")]
    );
}

/// A channel that nothing uses decides nothing where its peak is missing, one that a drift rests on
/// does.
#[test]
fn what_is_lost_of_a_thermometer_counts_where_it_is_used() {
    let thermometer =
        |id: &str| format!(r#"{{"id":"{id}","column":"{id}","unit":"°C","role":"temperature"}}"#);
    let channels = [gauge("g", r#","u":0.01"#), thermometer("T"), thermometer("U")].join(",");
    let drift = r#""drift":{"channel":"T","moves":"-0.05 mm","per":"1 Δ°C","u":"0.01 mm"},"#;
    let spec = layout(&channels, (0, 1), (4, 6), drift);
    let text =
        "t,g,T,U\n0,0,18,18\n1,0,18,18\n2,2,18,18\n3,4,19,19\n4,6,,\n5,6,,\n6,6,19,19\n7,6,19,19\n";
    let log = read_csv_text(text, &spec).unwrap();
    let effect = |id: &str| {
        let missing = of(&log, FaultKind::Missing);
        missing.iter().find(|f| f.channel == id).map(|f| f.effect)
    };
    assert_eq!(effect("T"), Some(FaultEffect::Open));
    assert_eq!(effect("U"), Some(FaultEffect::LeftOut));
}

/// Readings in the residual window, five of them: 1 mm + 0.043 mm a sample and a scatter of 0.02 mm times
/// 2, -1, -2, -1, 2, which is straight to neither. Its sum of squares is 14 · 0.02², with three degrees of
/// freedom u of the slope is √(14/3/10) · 0.02 = 0.01366 mm: 0.043 is 3.15 of it, 0.039 is 2.85. Three
/// are asked for.
#[test]
fn a_slope_is_told_from_its_scatter_with_the_degrees_of_freedom_it_has() {
    let moving = |slope: f64| {
        let mut all = rows(1.0);
        for (k, scatter) in [2.0, -1.0, -2.0, -1.0, 2.0].into_iter().enumerate() {
            let row =
                all.iter_mut().find(|r| (r.t - (50.1 + 0.1 * k as f64)).abs() < 1e-6).unwrap();
            row.v += slope * (k as f64 - 2.0) + 0.02 * scatter;
        }
        let j = Map::default().judge(&all);
        noted(&j, "criteria.still-moving")
    };
    assert!(moving(0.043) && moving(-0.043));
    assert!(!moving(0.039) && !moving(-0.039));
}

/// Control readings of a day: -0.05 mm/K on 15 °C ± 5 K, with a scatter of ± a from hour to hour. The drift
/// explains 0.03125/(0.03125 + a²) of the movement (variances): 0.44 for 0.2 mm, which is weak, 0.58 for
/// 0.15 mm, which is not; its own u is far below half of it in both.
#[test]
fn a_drift_that_explains_less_than_half_is_weak() {
    let channels = [
        gauge("g", r#","u":0.02"#),
        r#"{"id":"T","column":"T","unit":"°C","role":"temperature","u":0.1}"#.to_owned(),
    ];
    let spec: LogSpec = read_json(&format!(
        r#"{{"time":{{"column":"t","unit":"h"}},"thermal":{{"channels":"T","periods":{{"from":"0 h","to":"24 h"}}}},
            "channels":[{}],"moments":{{"zero":{{"from":"28 h","to":"32 h"}},"peak":{{"from":"52 h","to":"56 h"}},
            "residual":{{"from":"76 h","to":"80 h"}}}}}}"#,
        channels.join(",")
    ))
    .unwrap();
    let weak = |a: f64| {
        let mut text = "t,g,T\n".to_owned();
        for hour in 0..=24_i32 {
            let t = 15.0 + 5.0 * (f64::from(hour) * core::f64::consts::TAU / 24.0).sin();
            let scatter = if hour % 2 == 0 { a } else { -a };
            text += &format!("{hour},{:.4},{t:.3}\n", 3.0 - 0.05 * t + scatter);
        }
        for (hour, v) in [(30, 0.0), (54, 8.0), (78, 1.0)] {
            for k in -2..=2 {
                text += &format!("{},{:.4},15\n", hour + k, 2.25 + v);
            }
        }
        noted(&judged(&text, &spec, &record("")).unwrap(), "readings.thermal-fit-weak")
    };
    assert!(weak(0.2));
    assert!(!weak(0.15));
}

/// The level below a gauge sinks by 0.5 mm: the gauge shows so much less than the member moved. A level
/// whose peak is lost, and which the record leaves out, corrects nothing; that of another gauge stays.
#[test]
fn a_level_that_is_left_out_takes_no_other_with_it() {
    let on = |id: &str, level: &str| {
        gauge(id, &format!(r#","u":0.01,"on_moving_level":true,"level":"{level}""#))
    };
    let level = |id: &str| {
        format!(r#"{{"id":"{id}","column":"{id}","unit":"mm","role":"level","u":0.01}}"#)
    };
    let channels = [on("a", "A"), on("b", "B"), level("A"), level("B")].join(",");
    let spec = layout(&channels, (0, 1), (4, 6), "");
    let text = "t,a,b,A,B\n0,0,0,0,0\n1,0,0,0,0\n2,2,2,0.1,0.1\n3,4,4,0.3,0.3\n4,6,6,0.5,\n5,6,6,0.5,\n6,6,6,0.5,\n7,6,6,0.5,0.5\n";
    let whole = "t,a,b,A,B\n0,0,0,0,0\n1,0,0,0,0\n2,2,2,0.1,0.1\n3,4,4,0.3,0.3\n4,6,6,0.5,0.5\n5,6,6,0.5,0.5\n6,6,6,0.5,0.5\n7,6,6,0.5,0.5\n";
    let both = judged(whole, &spec, &record("")).unwrap();
    for d in &both.deflections {
        assert!((d.d_max.to(MM) - 6.5).abs() < 1e-9, "{d:?}");
    }
    let left_out = record(
        r#","decisions":[{"channel":"B","fault":"missing","treatment":"leave_out","by":"engineer","reason":"its cable was cut"}]"#,
    );
    let j = judged(text, &spec, &left_out).unwrap();
    let found: Vec<(&str, f64, bool)> = j
        .deflections
        .iter()
        .map(|d| {
            let corrected = d.chain.corrections.iter().any(|c| c.what == CorrectionKind::Level);
            (d.gauge.as_str(), (d.d_max.to(MM) * 1e6).round() / 1e6, corrected)
        })
        .collect();
    assert_eq!(found, [("a", 6.5, true), ("b", 6.0, false)]);
}

/// Force against the leading gauge, from its first reading, every other of 511 samples: 0.07 mm per kN and
/// 1 mm that stays from the full load on, whatever the gauge starts from.
#[test]
fn the_curve_counts_from_the_first_reading() {
    let mut all = rows(1.0);
    all.iter_mut().for_each(|r| r.v += 5.0);
    let j = Map::default().judge(&all);
    assert_eq!(j.curve.len(), 256);
    for (n, (force, v)) in j.curve.iter().enumerate() {
        let row = all[2 * n];
        let expected = 0.07 * row.force + if row.t > 1.85 { 1.0 } else { 0.0 };
        assert!((force / 1e3 - row.force).abs() < 1e-9 && (v * 1e3 - expected).abs() < 1e-9, "{n}");
    }
    assert!(text(&all).lines().count() == 512);
}

/// All gauges jump by 1 mm at 10 h while the force, which is never quite still, stays.
#[test]
fn a_reference_that_was_touched_under_a_force_with_noise() {
    let found = faults(|t, v| v.iter_mut().for_each(|v| *v += if t > 9.95 { 1.0 } else { 0.0 }));
    assert_eq!(named(&found), [(FaultKind::Jump, "all gauges of deflection")]);
}

/// Stuck while the load came on, and moved at once by 0.6 mm at 40 h: two faults of one gauge, the second
/// from its row to the end of the log.
#[test]
fn a_step_far_from_a_stuck_stretch_is_named_beside_it() {
    let found = faults(|t, v| {
        if (1.25..1.85).contains(&t) {
            v[0] = 1.2;
        }
        if t > 39.95 {
            v[0] += 0.6;
        }
    });
    assert_eq!(named(&found), [(FaultKind::Stuck, "a"), (FaultKind::Step, "a")]);
    assert_eq!(found[1].count, 511 - 400);
    assert!((found[1].from.si() / 3600.0 - 40.0).abs() < 1e-9);
}

/// One sample of a gauge is 3 mm away, three quarters of its range, at which another moves by a tenth of
/// its own: the first is a spike, the second went with it.
#[test]
fn a_spike_is_one_though_a_neighbour_trembles() {
    let found = faults(|t, v| {
        if (t - 10.0).abs() < 0.01 {
            v[0] += 3.0;
            v[1] += 0.7;
        }
    });
    assert_eq!(named(&found), [(FaultKind::Spike, "a")]);
    // both by half of their range is something else
    let both = faults(|t, v| {
        if (t - 10.0).abs() < 0.01 {
            v[0] += 2.0;
            v[1] += 3.5;
        }
    });
    assert!(both.iter().all(|f| f.kind != FaultKind::Spike), "{both:?}");
}

/// During the hold it grows warmer by 20 K, which moves every gauge by 1 mm, a quarter, a seventh and a fifth
/// of what they show: with the drift stated that is no shift, without it it is.
#[test]
fn a_drift_that_is_stated_is_no_shift() {
    let warm = |t: f64| 18.0 + 20.0 * ((t - 4.0) / 18.0).clamp(0.0, 1.0);
    let text = three(|t, v| v.iter_mut().for_each(|v| *v -= 0.05 * (warm(t) - 18.0)));
    let text: String = text
        .lines()
        .map(|line| match line.split(',').next().map(str::parse::<f64>) {
            Some(Ok(t)) => format!("{line},{:.2}\n", warm(t)),
            _ => format!("{line},T\n"),
        })
        .collect();
    let mut map: serde_json::Value = serde_json::from_str(&proofspan::source::write_json(
        &proofspan::source::Write::write(&of_three()),
    ))
    .unwrap();
    let shifts = |map: &serde_json::Value| {
        let log = read_csv_text(&text, &read_json(&map.to_string()).unwrap()).unwrap();
        of(&log, FaultKind::Shift).len()
    };
    map["channels"].as_array_mut().unwrap().push(serde_json::json!(
        { "id": "T", "column": "T", "unit": "°C", "role": "temperature" }
    ));
    assert!(shifts(&map) > 0);
    map["drift"] = serde_json::json!(
        { "channel": "T", "moves": "-0.05 mm", "per": "1 Δ°C", "u": "0.005 mm" }
    );
    assert_eq!(shifts(&map), 0);
}

/// A gauge whose peak is lost is left out by the record: the drift of the others stays what it was, 3 K
/// times 0.05 mm. The thermometer left out instead: nothing is taken off.
#[test]
fn a_gauge_that_is_left_out_takes_no_drift_with_it() {
    let thermometer = r#"{"id":"T","column":"T","unit":"°C","role":"temperature"}"#.to_owned();
    let channels = [gauge("a", r#","u":0.01"#), gauge("b", r#","u":0.01"#), thermometer].join(",");
    let drift = r#""drift":{"channel":"T","moves":"-0.05 mm","per":"1 Δ°C","u":"0.01 mm"},"#;
    let spec = layout(&channels, (0, 1), (4, 6), drift);
    let record = |channel: &str| {
        record(&format!(
            r#","decisions":[{{"channel":"{channel}","fault":"missing","treatment":"leave_out","by":"engineer","reason":"its cable was cut"}}]"#
        ))
    };
    let found = |b: &str, t: &str, channel: &str| -> Vec<(String, f64)> {
        let text = format!(
            "t,a,b,T\n0,0,0,18\n1,0,0,18\n2,2,2,18\n3,4,4,19\n4,6,{b},{t}\n5,6,{b},{t}\n6,6,{b},{t}\n7,6,6,21\n"
        );
        let j = judged(&text, &spec, &record(channel)).unwrap();
        let all = j.deflections.iter();
        all.map(|d| (d.gauge.clone(), (d.d_max.to(MM) * 1e6).round() / 1e6)).collect()
    };
    assert_eq!(found("", "21", "b"), [("a".to_owned(), 6.15)]);
    assert_eq!(found("6", "", "T"), [("a".to_owned(), 6.0), ("b".to_owned(), 6.0)]);
}

/// What a clock on the wall shows, an hour apart, in Vienna in winter.
#[test]
fn the_wall_of_a_zone_counts_its_hours() {
    let hour = 3_600_000_000_000_i64;
    let first = 20_613 * 24 * hour;
    let layout = |zone: &str| -> Result<LogSpec, Error> {
        read_json(&format!(
            r#"{{"time":{{"column":"t","zone":"{zone}"}},"channels":[{}],
                "moments":{{"zero":{{"from":"0 h","to":"0 h"}},"peak":{{"from":"2 h","to":"2 h"}}}}}}"#,
            gauge("g", "")
        ))
    };
    let times =
        Entries::Times(vec![first, first + hour, first + 2 * hour].into(), TimeEntries::Wall);
    let table = Table::new().with("t", times).numbers("g", vec![0.0, 1.0, 2.0]);
    let log = read_table(&table, &layout("Europe/Vienna").unwrap()).unwrap();
    assert_eq!(log.span().si(), 7200.0);
    // names of a fixed offset, as Python writes them too; 01:30 there and 00:45 UTC
    let csv = "t,g\n2026-01-10 01:30,0\n2026-01-10T00:45Z,1\n";
    for zone in ["Z", "UTC", "UTC+01:00", "+01:00", "Europe/Vienna"] {
        let plain = csv.replace("T00:45Z", " 03:30");
        let log = read_csv_text(&plain, &layout(zone).unwrap()).unwrap();
        assert_eq!(log.span().si(), 7200.0, "{zone}");
    }
    for zone in ["UTC+", "Vienna", ""] {
        assert_eq!(layout(zone).unwrap_err().codes(), ["readings.zone"], "{zone}");
    }
    // 08:00 in UTC+01:00 is 07:00 UTC, which an offset of its own must not contradict
    let mixed = "t,g\n2026-01-10T08:00:00+01:00,0\n2026-01-10T09:00:00+01:00,1\n";
    assert!(read_csv_text(mixed, &layout("UTC+01:00").unwrap()).is_ok());
    assert_eq!(
        read_csv_text(mixed, &layout("UTC").unwrap()).unwrap_err().codes(),
        ["readings.zone"]
    );
}

/// Cells: one of 4096 characters is as long as one may be; a unit behind a number is that of the column by
/// its symbol or another name of it, or refused; control characters are no text, tabs are.
#[test]
fn cells_that_are_odd() {
    let spec = layout(&gauge("g", ""), (0, 0), (2, 2), "");
    let codes = |cell: &str| {
        let read = read_csv_text(&format!("t,g\n0,0\n1,{cell}\n2,2\n"), &spec);
        read.map_or_else(|e| e.codes(), |_| Vec::new())
    };
    assert_eq!(codes(&"x".repeat(4096)), ["units.text-number"]);
    assert_eq!(codes(&"x".repeat(4097)), ["readings.too-long"]);
    assert_eq!(codes("1.5 mm"), [""; 0]);
    assert_eq!(codes("1.5 in"), ["units.mixed-column"]);
    let tabs = layout(&gauge("g", ""), (0, 0), (2, 2), r#""delimiter":"\t","#);
    assert!(read_csv_text("t\tg\n0\t0\n1\t1\n2\t2\n", &tabs).is_ok());
    for control in ['\u{1}', '\u{8}', '\u{e}', '\u{1a}'] {
        let text = format!("t,g\n0,0\n1,{}\n2,2\n", control.to_string().repeat(4));
        assert_eq!(read_csv_text(&text, &spec).unwrap_err().codes(), ["readings.encoding"]);
    }
    // neither a number nor date and time
    let time = |cell: &str| {
        read_csv_text(&format!("t,g\n0,0\n{cell},1\n2,2\n"), &spec).unwrap_err().codes()
    };
    assert_eq!(time("2026-06-11 08:30"), ["readings.time-unit"]);
    assert_ne!(time("noon"), ["readings.time-unit"]);
}

/// A remark of two lines with one comma in a log of four columns is a remark.
#[test]
fn a_remark_of_two_lines_swallows_nothing() {
    let spec = layout(&gauge("g", ""), (0, 0), (2, 2), "");
    let text = "t,g,by,remark\n0,0,a,\n1,1,b,\"dial tapped,\nfree, dry\"\n2,2,c,\n";
    assert_eq!(read_csv_text(text, &spec).unwrap().rows(), 3);
    let swallowed = "t,g,by,remark\n0,0,a,\n1,1,b,\"dial tapped\n2,2,c,\n3,2,c,\"\n";
    assert_eq!(read_csv_text(swallowed, &spec).unwrap_err().codes(), ["readings.quote"]);
}

/// More than a megabyte of lines that end with carriage returns alone.
#[test]
fn a_long_log_of_carriage_returns() {
    let spec = layout(&gauge("g", ""), (0, 1), (90_000, 99_999), "");
    let mut text = "t,g,remark\n".to_owned();
    for k in 0..100_000_u32 {
        text += &format!("{k},{}.{},ok\n", k / 20_000, k % 10);
    }
    assert!(text.len() > 1 << 20);
    let log = read_csv_text(&text, &spec).unwrap();
    assert_eq!(log.rows(), 100_000);
    assert_eq!(read_csv_text(&text.replace('\n', "\r"), &spec).unwrap(), log);
}

/// What of a gauge was used: every row but the three that have no cell.
#[test]
fn how_many_samples_a_gauge_has() {
    let all = text(&rows(1.0));
    let gone = all.replace("\n10.0,100.000,8.0000", "\n10.0,100.000,");
    let gone = gone.replace("\n10.1,100.000,8.0000", "\n10.1,100.000,");
    let gone = gone.replace("\n10.2,100.000,8.0000", "\n10.2,100.000,");
    let j =
        log_truth::judged(&gone, &Map::default().layout().unwrap(), &record(r#","held":"24 h""#));
    let used = &j.unwrap().used[0];
    assert_eq!((used.samples, used.left_out), (508, 3));
    let peak = used.windows.iter().find(|w| w.window == "peak").unwrap();
    assert_eq!((peak.used, peak.left_out), (4, 0), "25.8 to 26.1 h");
}

/// A good hold is said with its length and nothing else.
#[test]
fn nothing_is_said_of_a_hold_that_was_seen_throughout() {
    let j = Map::default().judge(&rows(1.0));
    assert_eq!(overall(&j), (State::Pass, State::Pass));
    assert!(!reason(&j, "hold").contains("nobody saw"), "{}", reason(&j, "hold"));
    assert!(!reason(&j, "hold").contains("not known"), "{}", reason(&j, "hold"));
}

/// The cell is lost from 30 h, after the peak: what was read under the full load stands, the residual does
/// not, of which nobody knows whether the load was off.
#[test]
fn a_cell_that_is_lost_after_the_peak_leaves_the_residual_open() {
    let mut lost = String::new();
    for line in text(&rows(1.0)).lines() {
        let mut cells: Vec<&str> = line.split(',').collect();
        if cells[0].parse::<f64>().is_ok_and(|t| t > 29.95) {
            cells[1] = "";
        }
        lost += &(cells.join(",") + "\n");
    }
    let layout = Map::default().layout().unwrap();
    let j = log_truth::judged(&lost, &layout, &record(r#","held":"24 h""#)).unwrap();
    assert_eq!(states(&j, "residual"), (State::Inconclusive, State::Inconclusive));
    assert_eq!(states(&j, "deflection"), (State::Pass, State::Pass));
}

/// The peak window ends at 4 h of a hold to 26.1 h in which the member sags on by 1 mm: read too early.
#[test]
fn a_peak_that_is_read_too_early() {
    let creeping = |more: f64| {
        let mut all = rows(1.0);
        for r in all.iter_mut().filter(|r| r.t > 1.85) {
            r.v += more * ((r.t - 4.0) / 20.0).clamp(0.0, 1.0);
        }
        Map { peak: (3.5, 4.0), ..Map::default() }.judge(&all)
    };
    assert_eq!(states(&creeping(1.0), "load"), (State::Inconclusive, State::Inconclusive));
    let why = reason(&creeping(1.0), "load");
    assert!(why.contains("too early") && why.contains("`mid` moved on by 1 mm"), "{why}");
    assert_eq!(states(&creeping(0.0), "load").0, State::Pass);
}

/// Two gauges that were not read at the peak, and one without a residual: what governs is named, all of it.
#[test]
fn gauges_that_are_open_alike_govern_together() {
    let channels = ["a", "b", "c"].map(|id| gauge(id, r#","u":0.01"#)).join(",");
    let spec = layout(&channels, (0, 1), (4, 6), "");
    let text = "t,a,b,c\n0,0,0,0\n1,0,0,0\n2,2,2,2\n3,4,4,4\n4,6,,\n5,6,,\n6,6,,\n7,6,6,6\n";
    let j = judged(text, &spec, &record("")).unwrap();
    let c = j.judging.criteria.iter().find(|c| c.id == "residual").unwrap();
    assert!(c.reason.contains("so does b, c"), "{}", c.reason);
}

/// What is written of a deflection redoes it: what was read, each correction and what comes out.
#[test]
fn a_deflection_is_written_with_its_chain() {
    let j = Map::default().judge(&rows(1.0));
    let node = proofspan::source::Write::write(&j.deflections[0]);
    let text = proofspan::source::write_json(&node);
    let written: serde_json::Value = serde_json::from_str(&text).unwrap();
    assert!(written["corrections"].as_array().is_some_and(|c| !c.is_empty()), "{text}");
}

/// A text with one more column.
fn with_column(text: &str, name: &str, value: impl Fn(f64) -> f64) -> String {
    text.lines()
        .map(|line| match line.split(',').next().map(str::parse::<f64>) {
            Some(Ok(t)) => format!("{line},{:.4}\n", value(t)),
            _ => format!("{line},{name}\n"),
        })
        .collect()
}

/// The layout of three gauges with more channels.
fn of_three_and(more: &[serde_json::Value]) -> LogSpec {
    let node = proofspan::source::Write::write(&of_three());
    let mut map: serde_json::Value =
        serde_json::from_str(&proofspan::source::write_json(&node)).unwrap();
    map["channels"].as_array_mut().unwrap().extend(more.iter().cloned());
    read_json(&map.to_string()).unwrap()
}

/// A bearing that rises by 0.2 mm with the load has its sign reversed; one that rises as much in the
/// days of the test, loaded or not, has not.
#[test]
fn a_bearing_is_reversed_where_it_rises_in_step_with_the_load() {
    let bearing = serde_json::json!(
        { "id": "l", "column": "l", "unit": "mm", "role": "settlement", "at": "0 m", "u": 0.005 }
    );
    let spec = of_three_and(&[bearing]);
    let reversed = |way: &dyn Fn(f64) -> f64| {
        let j = judged(&with_column(&three(|_, _| ()), "l", way), &spec, &record("")).unwrap();
        j.faults.iter().any(|f| f.kind == FaultKind::SignFlip && f.channel == "l")
    };
    assert!(reversed(&|t| -0.2 * on(t)));
    assert!(!reversed(&|t| 0.2 * on(t)));
    assert!(!reversed(&|t| -0.2 * (t / 26.0)));
    // more of it while the load is on, and still not with it
    assert!(!reversed(&|t| -0.2 * (t / 26.0).min((28.0 - t) / 2.0).max(0.0)));
}

/// One gauge wanders in the hold, another after unloading: both are named, each once; one that wanders in
/// both is named once.
#[test]
fn shifts_of_the_hold_and_of_the_recovery() {
    let hold = |t: f64| ((t - 5.0) / 15.0).clamp(0.0, 1.0);
    let rest = |t: f64| ((t - 28.0) / 15.0).clamp(0.0, 1.0);
    let found = faults(|t, v| {
        v[0] += 0.8 * hold(t);
        v[1] += 1.2 * rest(t);
    });
    assert_eq!(named(&found), [(FaultKind::Shift, "a"), (FaultKind::Shift, "b")]);
    let found = faults(|t, v| v[0] += 0.8 * (hold(t) + rest(t)));
    assert_eq!(named(&found), [(FaultKind::Shift, "a")]);
}

/// A gauge that shows one number from beginning to end is stuck, though it has no range to miss a part of.
#[test]
fn a_gauge_that_never_moves_is_stuck() {
    let found = faults(|_, v| v[0] = 1.234);
    assert_eq!(named(&found), [(FaultKind::Stuck, "a")]);
}

/// Half of the load is on at zero and goes with the rest at 26.3 h: a gauge that rests from 20 h on has
/// missed the unloading, of which the force alone can tell.
#[test]
fn a_force_that_falls_below_its_zero_speaks_too() {
    let spec = layout(
        &[
            r#"{"id":"P","column":"P","unit":"kN","role":"force","u":0.1}"#.to_owned(),
            gauge("g", r#","u":0.01"#),
        ]
        .join(","),
        (0, 9),
        (90, 99),
        "",
    );
    let mut text = "t,P,g\n".to_owned();
    for k in 0..200_u32 {
        let force = if k < 10 {
            50.0
        } else if k < 100 {
            100.0
        } else {
            0.0
        };
        let v = if k < 10 { 0.0 } else { 4.0 };
        // in pairs, so that equal readings alone say nothing
        let grain = if k < 80 { f64::from(k / 2 * 7 % 5) * 1e-3 } else { 0.0 };
        text += &format!("{k},{force},{:.4}\n", v + grain);
    }
    let log = read_csv_text(&text, &spec).unwrap();
    assert_eq!(named(&of(&log, FaultKind::Stuck)), [(FaultKind::Stuck, "g")]);
}

/// 3, 1, 0.5, 0.4, 0.3, … mm away, sample by sample: what comes back little by little is no spike.
#[test]
fn what_fades_is_no_spike() {
    let found = faults(|t, v| {
        let away = [3.0, 1.0, 0.5, 0.4, 0.35, 0.3, 0.25, 0.22, 0.2, 0.18, 0.16, 0.15];
        let k = ((t - 10.0) * 10.0).round();
        if (0.0..12.0).contains(&k) {
            v[0] += away[k as usize];
        }
    });
    assert!(found.iter().all(|f| f.kind != FaultKind::Spike), "{found:?}");
}

/// Three rows are a log: between the second and the third both gauges jump while the force stays.
#[test]
fn a_log_of_three_rows_is_looked_at() {
    let channels = [
        r#"{"id":"P","column":"P","unit":"kN","role":"force","u":0.1}"#.to_owned(),
        gauge("a", r#","u":0.01"#),
        gauge("b", r#","u":0.01"#),
    ];
    let spec = layout(&channels.join(","), (0, 0), (1, 1), "");
    let log = read_csv_text("t,P,a,b\n0,0,0,0\n1,100,4,5\n2,100,7,8.2\n", &spec).unwrap();
    assert_eq!(of(&log, FaultKind::Jump).len(), 1, "{:?}", log.faults);
}

/// A level whose peak is missing is open where a gauge stands on it, and else decides nothing.
#[test]
fn what_is_lost_of_a_level_counts_where_a_gauge_stands_on_it() {
    let level = |id: &str| {
        format!(r#"{{"id":"{id}","column":"{id}","unit":"mm","role":"level","u":0.01}}"#)
    };
    let g = gauge("g", r#","u":0.01,"on_moving_level":true,"level":"A""#);
    let spec = layout(&[g, level("A"), level("B")].join(","), (0, 1), (4, 6), "");
    let text = "t,g,A,B\n0,0,0,0\n1,0,0,0\n2,2,0,0\n3,4,0,0\n4,6,,\n5,6,,\n6,6,0,0\n7,6,0,0\n";
    let log = read_csv_text(text, &spec).unwrap();
    let missing = of(&log, FaultKind::Missing);
    let effects: Vec<_> = missing.iter().map(|f| (f.channel.as_str(), f.effect)).collect();
    assert_eq!(effects, [("A", FaultEffect::Open), ("B", FaultEffect::LeftOut)]);
}

/// Two faults of which one is decided: the log is looked at again after it, and the other is still one.
#[test]
fn a_fault_that_nobody_decided_about_is_not_named_twice() {
    let text = three(|t, v| {
        if (1.25..1.85).contains(&t) {
            v[0] = 1.2;
        }
        if t > 39.95 {
            v[1] += 0.9;
        }
    });
    let accepted = record(
        r#","decisions":[{"channel":"a","fault":"stuck","treatment":"accept","by":"engineer","reason":"the dial stuck and was freed"}]"#,
    );
    let j = judged(&text, &of_three(), &accepted).unwrap();
    let found: Vec<_> = j.faults.iter().map(|f| (f.kind, f.channel.as_str(), f.effect)).collect();
    assert_eq!(
        found,
        [(FaultKind::Stuck, "a", FaultEffect::Decided), (FaultKind::Step, "b", FaultEffect::Open)]
    );
}

/// One gauge of three sticks while two increments come on: the others and the load say that it did, not that the
/// others moved on their own, whichever it is.
#[test]
fn a_gauge_that_stuck_makes_no_step_of_its_neighbours() {
    for stuck in 0..3 {
        for at in [0.2, 0.24, 0.28, 0.32] {
            let found = faults(|t, v| {
                if (1.25..1.85).contains(&t) {
                    v[stuck] = at * [4.0, 7.0, 5.0][stuck];
                }
            });
            assert_eq!(named(&found), [(FaultKind::Stuck, ["a", "b", "c"][stuck])], "{at}");
        }
    }
}

/// A gauge whose wires are swapped and which stuck for a while has both faults; a bearing that stuck has
/// the one, as nothing is known of its sign.
#[test]
fn a_reversed_gauge_that_stuck_is_reversed() {
    let text = three(|t, v| {
        v[2] = -v[2];
        if (1.25..1.85).contains(&t) {
            v[2] = -1.2;
        }
    });
    let j = judged(&text, &of_three(), &record("")).unwrap();
    let mut found = named(&j.faults);
    found.sort_by_key(|f| f.0.word());
    assert_eq!(found, [(FaultKind::SignFlip, "c"), (FaultKind::Stuck, "c")]);
}

/// Of a gauge that was not read, and of one whose series were not asked for.
#[test]
fn series_that_are_not_there() {
    let layout = Map::default().layout().unwrap();
    let log = read_csv_text(&text(&rows(1.0)), &layout).unwrap();
    let facts = Facts { lt: 6.0 * M, l: 6.0 * M, h: 400.0 * MM, unit: MemberUnit::Beam };
    let edition = Edition::shipped("ACI 318-19").unwrap();
    let run = |log: &Log| {
        judge_record(&edition, "monotonic", facts, log, &layout, &record(""), None).unwrap()
    };
    let said = |j: &Judgement, gauge: &str| {
        let error = j.series_of(gauge).unwrap_err();
        (error.issues[0].message.to_string(), error.issues[0].remedy.to_string())
    };
    let without = run(&log);
    assert_eq!(said(&without, "mid").0, "the series were not kept");
    assert!(said(&without, "mid").1.contains("with_series"));
    assert!(said(&without, "nobody").0.contains("no gauge `nobody`"));
    let with = run(&log.with_series());
    assert_eq!(with.series_of("mid").unwrap().corrected.len(), 511);
    assert!(said(&with, "nobody").0.contains("no gauge `nobody`"));
    assert_eq!(said(&with, "nobody").1, "name a gauge that was read");
}

/// Down to 90 kN for half an hour, four times: three are said one by one, and how many there were.
#[test]
fn more_interruptions_than_three_are_counted() {
    let hold = |times: &[f64]| {
        let mut all = rows(1.0);
        for r in all.iter_mut().filter(|r| times.iter().any(|t| (r.t - t).abs() < 0.25)) {
            r.force = 90.0;
        }
        reason(&Map::default().judge(&all), "hold")
    };
    let four = hold(&[5.0, 10.0, 15.0, 20.0]);
    assert_eq!(four.matches("down to 90 kN").count(), 3, "{four}");
    assert!(four.contains("; 4 interruptions in all"), "{four}");
    let one = hold(&[5.0]);
    assert!(one.contains("down to 90 kN") && !one.contains("in all"), "{one}");
}

/// A fault of the first stage is none of the second, and a decision with a time is about the stage in which
/// that is. The gallery beam twice, 60 h apart; in each run `quarter` moves at once by 1 mm, at 10 h and
/// at 75 h.
#[test]
fn faults_and_decisions_stay_in_their_stage() {
    let file = |name: &str| {
        let path = format!("{}/examples/scenarios/gallery_beam.{name}", env!("CARGO_MANIFEST_DIR"));
        std::fs::read_to_string(path).unwrap()
    };
    let mut document: serde_json::Value = serde_json::from_str(&file("test.json")).unwrap();
    document["stages"] =
        serde_json::json!([{ "name": "again", "doubt": document["scope"]["doubt"] }]);
    let design = proofspan::TestSpec::from_json(&document.to_string()).unwrap();
    let design = proofspan::design(design).unwrap();
    let csv = file("log.csv");
    let mut text = format!("{}\n", csv.lines().next().unwrap());
    for (later, at) in [(0.0, 10.0), (60.0, 75.0)] {
        for line in csv.lines().skip(1) {
            let mut cells: Vec<String> = line.split(',').map(str::to_owned).collect();
            let t = cells[0].parse::<f64>().unwrap() + later;
            cells[0] = format!("{t:.4}");
            if let Ok(v) = cells[3].parse::<f64>() {
                cells[3] = format!("{:.3}", v + if t > at { 1.0 } else { 0.0 });
            }
            text += &(cells.join(",") + "\n");
        }
    }
    let mut map: serde_json::Value = serde_json::from_str(&file("log.json")).unwrap();
    let window =
        |a: f64, b: f64| serde_json::json!({ "from": format!("{a} h"), "to": format!("{b} h") });
    map["stages"] = serde_json::json!([{ "name": "again", "from": "60 h", "moments": {
        "zero": window(60.0, 60.3), "peak": window(85.8, 86.0), "residual": window(110.2, 110.5),
        "unloaded": "86.4 h" } }]);
    let layout: LogSpec = read_json(&map.to_string()).unwrap();
    let log = read_csv_text(&text, &layout).unwrap();
    let run = |decided: Option<f64>| {
        let mut record: serde_json::Value = serde_json::from_str(&file("record.json")).unwrap();
        if let Some(at) = decided {
            record["decisions"] = serde_json::json!([{ "channel": "quarter", "fault": "step",
                "from": format!("{at} h"), "treatment": "correct", "by": "engineer",
                "reason": "somebody leaned on the bench" }]);
        }
        let record: RunRecord = read_json(&record.to_string()).unwrap();
        let j = proofspan::judge(&design, &log, &layout, &record).unwrap();
        let of = |faults: &[Fault]| -> Vec<(String, FaultEffect)> {
            faults.iter().map(|f| (f.kind.word().to_owned(), f.effect)).collect()
        };
        let times = |faults: &[Fault]| faults.iter().map(|f| f.from.si() / 3600.0).collect();
        let later = &j.later[0].1.as_ref().unwrap().faults;
        let times: [Vec<f64>; 2] = [times(&j.faults), times(later)];
        ([of(&j.faults), of(later)], times)
    };
    let step = |effect| vec![("step".to_owned(), effect)];
    let (open, times) = run(None);
    assert_eq!(open, [step(FaultEffect::Open), step(FaultEffect::Open)]);
    assert!(
        (10.0..11.0).contains(&times[0][0]) && (75.0..76.0).contains(&times[1][0]),
        "{times:?}"
    );
    let first = run(Some(times[0][0])).0;
    assert_eq!(first, [step(FaultEffect::Decided), step(FaultEffect::Open)]);
    let second = run(Some(times[1][0])).0;
    assert_eq!(second, [step(FaultEffect::Open), step(FaultEffect::Decided)]);
}

/// A sentinel that the layout lists in the first stage is no fault of the second.
#[test]
fn what_was_left_out_of_one_stage_is_not_told_of_another() {
    let three = three(|_, _| ());
    let mut text = String::new();
    for (later, k) in [(0.0, 12), (60.0, usize::MAX)] {
        for (i, line) in three.lines().enumerate().skip(usize::from(later > 0.0)) {
            let mut cells: Vec<String> = line.split(',').map(str::to_owned).collect();
            if let Ok(t) = cells[0].parse::<f64>() {
                cells[0] = format!("{:.1}", t + later);
            }
            if i == k {
                cells[1] = "-999".to_owned();
            }
            text += &(cells.join(",") + "\n");
        }
    }
    let node = proofspan::source::Write::write(&of_three());
    let mut map: serde_json::Value =
        serde_json::from_str(&proofspan::source::write_json(&node)).unwrap();
    map["sentinels"] = serde_json::json!([-999.0]);
    let window =
        |a: f64, b: f64| serde_json::json!({ "from": format!("{a} h"), "to": format!("{b} h") });
    map["stages"] = serde_json::json!([{ "name": "again", "from": "60 h", "moments": {
        "zero": window(60.5, 61.0), "peak": window(85.8, 86.1), "residual": window(110.1, 110.5),
        "unloaded": "86.3 h" } }]);
    let spec: LogSpec = read_json(&map.to_string()).unwrap();
    let log = read_csv_text(&text, &spec).unwrap();
    assert_eq!(named(&log.faults), [(FaultKind::Sentinel, "P")]);
    let path = format!("{}/examples/scenarios/gallery_beam.test.json", env!("CARGO_MANIFEST_DIR"));
    let mut document: serde_json::Value =
        serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    document["stages"] =
        serde_json::json!([{ "name": "again", "doubt": document["scope"]["doubt"] }]);
    let design = proofspan::TestSpec::from_json(&document.to_string()).unwrap();
    let design = proofspan::design(design).unwrap();
    let run: RunRecord = read_json(
        r#"{"observation":{"distress":"none","by":"engineer","date":"2026-06-12"},"expiry":"2030-01-01"}"#,
    )
    .unwrap();
    let j = proofspan::judge(&design, &log, &spec, &run).unwrap();
    let sentinels =
        |j: &Judgement| j.faults.iter().filter(|f| f.kind == FaultKind::Sentinel).count();
    assert_eq!((sentinels(&j), sentinels(j.later[0].1.as_ref().unwrap())), (1, 0));
}

/// One gauge alone, in inches where mm are declared: the two predictions alone tell it.
#[test]
fn one_gauge_in_another_unit_is_told_by_its_prediction() {
    let file = |name: &str| {
        let path = format!("{}/examples/scenarios/gallery_beam.{name}", env!("CARGO_MANIFEST_DIR"));
        std::fs::read_to_string(path).unwrap()
    };
    let design = proofspan::TestSpec::from_json(&file("test.json")).unwrap();
    let design = proofspan::design(design).unwrap();
    let record: RunRecord = read_json(&file("record.json")).unwrap();
    let mut map: serde_json::Value = serde_json::from_str(&file("log.json")).unwrap();
    map.as_object_mut().unwrap().remove("drift");
    map["channels"].as_array_mut().unwrap().retain(|c| c["id"] == "P" || c["id"] == "mid");
    let layout: LogSpec = read_json(&map.to_string()).unwrap();
    let named = |factor: f64| {
        let mut text = String::new();
        for line in file("log.csv").lines() {
            let mut cells: Vec<String> = line.split(',').map(str::to_owned).collect();
            if let Ok(v) = cells[2].parse::<f64>() {
                cells[2] = format!("{:.5}", v * factor);
            }
            text += &(cells.join(",") + "\n");
        }
        let log = read_csv_text(&text, &layout).unwrap();
        let j = proofspan::judge(&design, &log, &layout, &record).unwrap();
        let unit = j.faults.iter().find(|f| f.kind == FaultKind::Unit);
        unit.map(|f| (f.channel.clone(), f.factor.map(|f| (f * 1e6).round() / 1e6)))
    };
    assert_eq!(named(1.0), None);
    assert_eq!(named(1.0 / 25.4), Some(("mid".to_owned(), Some(25.4))));
}

/// What a fit explains of the movement stands in the source of the correction: all of it on a line.
#[test]
fn a_fit_says_how_much_it_explains() {
    let channels = [
        gauge("g", r#","u":0.02"#),
        r#"{"id":"T","column":"T","unit":"°C","role":"temperature","u":0.1}"#.to_owned(),
    ];
    let more = r#""thermal":{"channels":"T","periods":{"from":"0 s","to":"24 s"}},"#;
    let spec = layout(&channels.join(","), (28, 32), (52, 56), more);
    let mut text = "t,g,T\n".to_owned();
    for k in 0..=24_u32 {
        let t = 15.0 + f64::from(k % 7);
        text += &format!("{k},{:.4},{t}\n", 3.0 - 0.05 * t);
    }
    for (k, v) in [(30, 0.0), (54, 8.0)] {
        for i in 0..=4 {
            text += &format!("{},{:.4},15\n", k - 2 + i, 2.25 + v);
        }
    }
    let j = judged(&text, &spec, &record("")).unwrap();
    let all = &j.deflections[0].chain.corrections;
    let drift = all.iter().find(|c| c.what == CorrectionKind::Drift).unwrap();
    assert!(drift.source.contains("25 rows"), "{}", drift.source);
    assert!(drift.source.contains("1 of the movement explained"), "{}", drift.source);
}
