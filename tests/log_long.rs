//! A log too long for the memory it is given: columns stand in blocks, most of them on the disk. Not one
//! number, fault or word of a judgement may depend on that: each log here is read and judged with all
//! its columns in memory and with none.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::criteria::RunRecord;
use proofspan::readings::{
    Log, LogSpec, Table, load_cycles, read_csv_text, read_table, with_memory,
};
use proofspan::source::read_json;
use proofspan::units::*;
use proofspan::{Error, Judgement, TestDesign, TestSpec, design, judge};
use serde_json::{Value, json};

fn shipped(name: &str) -> String {
    std::fs::read_to_string(format!("{}/examples/scenarios/{name}", env!("CARGO_MANIFEST_DIR")))
        .unwrap()
}

/// What a log is and comes to, every number of it to the last digit.
fn told(log: &Result<Log, Error>, judge: &dyn Fn(&Log) -> Result<Judgement, Error>) -> String {
    let Ok(log) = log else { return format!("{:?}", log.as_ref().unwrap_err()) };
    let samples: Vec<Vec<(f64, f64)>> =
        log.channels().iter().map(|c| log.samples(c).collect()).collect();
    let largest: Vec<_> =
        log.channels().iter().map(|c| log.largest(c, Duration::from_si(600.0))).collect();
    let force = (log.force(), log.largest_force());
    let faults = &log.faults;
    format!("{} {faults:?} {samples:?} {largest:?} {force:?} {:?}", log.fingerprint(), judge(log))
}

/// The same in memory and on the disk; what both come to.
fn both(text: &str, layout: &LogSpec, judge: &dyn Fn(&Log) -> Result<Judgement, Error>) -> String {
    let inside = told(&read_csv_text(text, layout), judge);
    let outside = told(&with_memory(0, || read_csv_text(text, layout)), judge);
    let differ = inside.bytes().zip(outside.bytes()).position(|(a, b)| a != b);
    assert!(inside == outside, "{differ:?}: {} bytes, {} bytes", inside.len(), outside.len());
    // some blocks in memory, some on the disk
    let mixed = told(&with_memory(8 * 16 * 40, || read_csv_text(text, layout)), judge);
    assert!(inside == mixed);
    inside
}

#[test]
fn shipped_logs_do_not_depend_on_memory() {
    for name in
        ["archive_floor", "classroom_strip", "gallery_beam", "station_canopy", "terrace_strip"]
    {
        let of = |end: &str| shipped(&format!("{name}.{end}"));
        let design = design(TestSpec::from_json(&of("test.json")).unwrap()).unwrap();
        let layout: LogSpec = read_json(&of("log.json")).unwrap();
        let record: RunRecord = read_json(&of("record.json")).unwrap();
        let all = both(&of("log.csv"), &layout, &|log| {
            judge(&design, &log.clone().with_series(), &layout, &record)
        });
        assert!(all.contains("Judgement"), "{name}: {all}");
    }
}

/// Numbers that look random and are the same on every machine.
struct Dice(u64);

impl Dice {
    fn roll(&mut self) -> f64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn of<T: Copy>(&mut self, all: &[T]) -> T {
        all[(self.roll() * all.len() as f64) as usize]
    }
}

/// The shipped log of the gallery beam with a third gauge, noise of its own and some faults.
fn random(dice: &mut Dice) -> String {
    let text = shipped("gallery_beam.log.csv");
    let mut lines = text.lines();
    let heading = format!("{},far_mm", lines.next().unwrap());
    let mut rows: Vec<Vec<String>> =
        lines.map(|l| l.split(',').map(str::to_owned).collect()).collect();
    for row in &mut rows {
        row.push(row[3].clone());
    }
    let number = |cell: &str| cell.parse::<f64>().unwrap_or(0.0);
    for row in &mut rows {
        for cell in row.iter_mut().skip(2) {
            *cell = format!("{:.3}", number(cell) + 0.01 * (dice.roll() - 0.5));
        }
    }
    for _ in 0..(dice.roll() * 4.0) as usize {
        let column = 1 + (dice.roll() * 7.0) as usize;
        let from = (dice.roll() * rows.len() as f64) as usize;
        let to = (from + 1 + (dice.roll() * dice.roll() * 300.0) as usize).min(rows.len());
        let size = (dice.roll() - 0.5) * 8.0;
        let kind = (dice.roll() * 12.0) as usize;
        let held = rows[from][column].clone();
        let other = 1 + (dice.roll() * 7.0) as usize;
        match kind {
            // away and back, at once and to the end, slowly
            0 => {
                for row in rows.iter_mut().skip(from).take(2) {
                    row[column] = format!("{:.3}", number(&row[column]) + size);
                }
            }
            1 => {
                for row in rows.iter_mut().skip(from) {
                    row[column] = format!("{:.3}", number(&row[column]) + size);
                }
            }
            2 => {
                for (i, row) in rows.iter_mut().enumerate().take(to).skip(from) {
                    let part = (i - from) as f64 / (to - from) as f64;
                    row[column] = format!("{:.3}", number(&row[column]) + size * part);
                }
            }
            // the same, nothing, a sentinel, a text
            3 => rows[from..to].iter_mut().for_each(|r| r[column].clone_from(&held)),
            4 => rows[from..to].iter_mut().for_each(|r| r[column] = String::new()),
            5 => rows[from..to].iter_mut().for_each(|r| r[column] = "9999".to_owned()),
            6 => rows[from][column] = "?".to_owned(),
            // reversed, another unit, exchanged
            7 => rows.iter_mut().for_each(|r| r[column] = format!("{:.3}", -number(&r[column]))),
            8 => rows[from..].iter_mut().for_each(|r| {
                r[column] = format!("{:.5}", number(&r[column]) / 25.4);
            }),
            9 => rows[from..to].iter_mut().for_each(|r| r.swap(column, other)),
            // cut off, twice
            10 => rows.iter_mut().for_each(|r| {
                if number(&r[column]) > number(&held) {
                    r[column].clone_from(&held);
                }
            }),
            _ => {
                let again = rows[from..to].to_vec();
                let at = rows[from][0].clone();
                rows.splice(
                    from..from,
                    again.into_iter().map(|mut r| {
                        r[0].clone_from(&at);
                        r
                    }),
                );
            }
        }
    }
    let mut text = heading + "\n";
    rows.iter().for_each(|r| text += &(r.join(",") + "\n"));
    text
}

fn layout(dice: &mut Dice) -> LogSpec {
    let mut layout: Value = serde_json::from_str(&shipped("gallery_beam.log.json")).unwrap();
    layout["channels"].as_array_mut().unwrap().push(json!({ "id": "far", "column": "far_mm",
        "unit": "mm", "role": "deflection", "at": "6.75 m", "u": 0.02 }));
    if dice.roll() < 0.6 {
        let rules = [("5 min", "1 s"), ("1 h", "1 min"), ("1 h", "30 min"), ("40 h", "1 s")];
        let (half, bin) = dice.of(&rules);
        layout["cleaning"] = json!({ "gate": "0.5 mm", "half_window": half, "bin": bin });
    }
    if dice.roll() < 0.4 {
        layout.as_object_mut().unwrap().remove("drift");
        layout["thermal"] = json!({ "channels": ["T"], "periods": [
            { "from": "27 h", "to": "50.5 h" }, { "from": "0 h", "to": "0.3 h" }] });
    }
    if dice.roll() < 0.3 {
        layout["channels"][1]["calibration"] =
            json!({ "factor": 1.002, "offset": 0.01, "u": 0.001 });
    }
    if dice.roll() < 0.3 {
        layout["moments"]["nominal"] = json!("113.5 kN");
    }
    read_json(&layout.to_string()).unwrap()
}

fn record(decisions: Value) -> RunRecord {
    let mut record: Value = serde_json::from_str(&shipped("gallery_beam.record.json")).unwrap();
    record["decisions"] = decisions;
    read_json(&record.to_string()).unwrap()
}

fn gallery() -> TestDesign {
    design(TestSpec::from_json(&shipped("gallery_beam.test.json")).unwrap()).unwrap()
}

/// 120 logs with up to three faults each, judged as they are and with a decision about every open fault.
#[test]
fn random_logs_do_not_depend_on_memory() {
    let design = gallery();
    let mut dice = Dice(20_261);
    let (mut judged, mut decided, mut refused) = (0, 0, 0);
    let mut kinds = std::collections::BTreeSet::new();
    for _ in 0..120 {
        let (text, layout) = (random(&mut dice), layout(&mut dice));
        let plain = record(json!([]));
        let all = both(&text, &layout, &|log| judge(&design, log, &layout, &plain));
        let Ok(log) = read_csv_text(&text, &layout) else {
            refused += 1;
            continue;
        };
        judged += usize::from(all.contains("Judgement"));
        let Ok(first) = judge(&design, &log, &layout, &plain) else { continue };
        kinds.extend(first.faults.iter().map(|f| f.kind.word()));
        let treatments = ["accept", "leave_out", "correct"];
        let decisions: Vec<Value> = first
            .faults
            .iter()
            .filter(|f| f.is_open())
            .map(|f| {
                json!({ "channel": f.channel, "fault": f.kind.word(), "treatment": dice.of(&treatments),
                    "by": "engineer of record", "reason": "looked at on site" })
            })
            .collect();
        if decisions.is_empty() {
            continue;
        }
        let treated = record(Value::Array(decisions));
        let all = both(&text, &layout, &|log| judge(&design, log, &layout, &treated));
        decided += usize::from(all.contains("Judgement"));
    }
    println!("judged {judged}, decided {decided}, refused {refused}, {kinds:?}");
    assert!(judged >= 60 && decided >= 20 && refused >= 5 && kinds.len() >= 10);
}

/// A table of arrays takes the same road; and load cycles, which only this log has.
#[test]
fn tables_and_cycles_do_not_depend_on_memory() {
    let rows = 4000_u32;
    let time: Vec<f64> = (0..rows).map(|i| f64::from(i) * 0.01).collect();
    let cycle = |t: f64| match t % 10.0 {
        t if t < 2.0 => 0.1,
        t if t < 4.0 => 0.1 + 0.45 * (t - 2.0),
        t if t < 7.0 => 1.0,
        t if t < 9.0 => 1.0 - 0.45 * (t - 7.0),
        _ => 0.1,
    };
    let mut dice = Dice(7);
    let force: Vec<f64> = time.iter().map(|t| 100.0 * cycle(*t) + dice.roll() * 0.2).collect();
    let mid: Vec<f64> = time.iter().map(|t| 8.0 * cycle(*t) + dice.roll() * 0.01).collect();
    let table = Table::new().numbers("t", time).numbers("P", force).numbers("mid", mid);
    let layout: LogSpec = read_json(
        r#"{"time":{"column":"t","unit":"h"},"channels":[
            {"id":"P","column":"P","unit":"kN","role":"force","u":0.1},
            {"id":"mid","column":"mid","unit":"mm","role":"deflection","at":"3 m","u":0.01}],
            "moments":{"zero":{"from":"0 h","to":"1.9 h"},"peak":{"from":"36 h","to":"37 h"},
            "residual":{"from":"39.2 h","to":"39.9 h"}}}"#,
    )
    .unwrap();
    let told = |log: Log| {
        let gauges = proofspan::readings::deflections(&log, &layout).unwrap();
        let rule = proofspan::editions::Rule::default();
        let cycles = load_cycles(&log, &layout, &gauges, &rule, None).unwrap();
        let facts = proofspan::readings::witness(&log, &layout, &gauges, Some(100.0 * KN));
        format!("{} {:?} {gauges:?} {cycles:?} {facts:?}", log.fingerprint(), log.faults)
    };
    let inside = told(read_table(&table, &layout).unwrap());
    let outside = told(with_memory(0, || read_table(&table, &layout)).unwrap());
    assert!(inside.contains("repeatability") && inside == outside);
}
