//! Logs with seeded faults: what is found, what is missed, what is alarmed for nothing.
//!
//! Every log is made by rules from a clean one: a simple span of 9 m under two equal loads at 3.5 m
//! and 5.5 m (the closed form of a single load, superposed), four steps, a hold with creep, a drift
//! with temperature, a residual of six hundredths, noise. The list was written before the detectors;
//! every third log was set aside and opened once, when they were done.

use std::collections::BTreeMap;

use proofspan::criteria::{Facts, RunRecord};
use proofspan::readings::{LogSpec, read_csv_text, with_memory};
use proofspan::source::read_json;
use proofspan::units::*;
use proofspan::verdict::MemberUnit;
use proofspan::{TestDesign, TestSpec, design, judge, judge_record};

/// Deflection of a simple span at x under a single load P at p; E I of the soft prediction.
fn single(x: f64, p: f64, load: f64) -> f64 {
    const L: f64 = 9.0;
    const EI: f64 = 27e9 * 0.0045;
    let (x, p) = if x > p { (L - x, L - p) } else { (x, p) };
    let b = L - p;
    load * b * x * (L * L - b * b - x * x) / (6.0 * L * EI)
}

/// Deflection in mm under a load in kN, half of it at 3.5 m and half at 5.5 m.
fn shape(x: f64, kn: f64) -> f64 {
    (single(x, 3.5, kn * 500.0) + single(x, 5.5, kn * 500.0)) * 1e3
}

/// Numbers that look random and are the same on every machine.
struct Dice(u64);

impl Dice {
    fn roll(&mut self) -> f64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }
    /// About a standard normal deviate.
    fn noise(&mut self) -> f64 {
        (0..12).map(|_| self.roll()).sum::<f64>() - 6.0
    }
}

/// A time in hours from which a fault acts, and to which.
type Span = (f64, f64);

/// One seeded fault.
#[derive(Clone, Copy, Debug)]
enum Seed {
    Missing(&'static str, Span),
    Sentinel(&'static str, f64, Span),
    Text(&'static str, &'static str, f64),
    Stuck(&'static str, Span),
    Spike(&'static str, f64, f64),
    Step(&'static str, f64, f64),
    Tare(&'static str, f64),
    Shift(&'static str, f64, Span),
    Saturated(&'static str, f64),
    ClockBack(f64),
    Twice(f64),
    Swapped(&'static str, &'static str),
    Reversed(&'static str),
    UnitMid(&'static str, f64, f64),
    Unit(&'static str, f64),
    /// A cell whose signal is zero, or a sentinel, to the end.
    Lost(&'static str, f64, Option<f64>),
}
use Seed::*;

impl Seed {
    /// The names it may be given, and the channels it may be named on.
    fn expected(self) -> (&'static [&'static str], Vec<&'static str>) {
        match self {
            Missing(c, _) => (&["missing"], vec![c]),
            Sentinel(c, ..) => (&["sentinel"], vec![c]),
            Text(c, text, _) => {
                (if text == "OL" { &["units.nonfinite"] } else { &["units.text-number"] }, vec![c])
            }
            Stuck(c, _) => (&["stuck"], vec![c]),
            Spike(c, ..) => (&["spike"], vec![c]),
            Step(c, ..) => (&["step"], vec![c]),
            Tare(c, _) => (&["tare"], vec![c]),
            Shift(c, ..) => (&["shift"], vec![c]),
            Saturated(c, _) => (&["saturated"], vec![c]),
            ClockBack(_) => (&["readings.time-backwards"], vec!["time_h"]),
            Twice(_) => (&["duplicate_time"], vec!["time_h"]),
            Swapped(a, b) => (&["swapped"], vec![a, b]),
            Reversed(c) => (&["sign_flip"], vec![c]),
            UnitMid(c, ..) => (&["unit_change"], vec![c]),
            Unit(c, _) => (&["unit"], vec![c]),
            // a number that stands for none, to the end, is both
            Lost(c, _, Some(_)) => (&["lost", "sentinel"], vec![c]),
            Lost(c, ..) => (&["lost"], vec![c]),
        }
    }
}

/// How a log is set up besides its faults.
#[derive(Clone, Copy, Debug)]
struct Setup {
    seed: u64,
    /// Whether channels of settlement stand at both bearings.
    supports: bool,
    /// Whether it is judged against its design.
    designed: bool,
    cells: usize,
}

const GAUGES: [(&str, f64); 3] = [("quarter", 2.25), ("mid", 4.5), ("far", 6.3)];

fn names(setup: Setup) -> Vec<&'static str> {
    let mut names = vec!["P1"];
    if setup.cells == 2 {
        names.push("P2");
    }
    names.extend(GAUGES.iter().map(|g| g.0));
    if setup.supports {
        names.extend(["left", "right"]);
    }
    names.push("T");
    names
}

fn layout(setup: Setup) -> String {
    let channels: Vec<String> = names(setup)
        .iter()
        .map(|n| match *n {
            "P1" | "P2" => format!(r#"{{"id":"{n}","column":"{n}","unit":"kN","role":"force","u":0.2}}"#),
            "T" => r#"{"id":"T","column":"T","unit":"°C","role":"temperature"}"#.to_owned(),
            "left" => r#"{"id":"left","column":"left","unit":"mm","role":"settlement","at":"0 m","u":0.01}"#.to_owned(),
            "right" => r#"{"id":"right","column":"right","unit":"mm","role":"settlement","at":"9 m","u":0.01}"#.to_owned(),
            gauge => {
                let at = GAUGES.iter().find(|g| g.0 == gauge).unwrap().1;
                format!(r#"{{"id":"{gauge}","column":"{gauge}","unit":"mm","role":"deflection","at":"{at} m","u":0.02}}"#)
            }
        })
        .collect();
    format!(
        r#"{{"time":{{"column":"time_h","unit":"h"}},"channels":[{}],
        "drift":{{"channel":"T","moves":"-0.05 mm","per":"1 Δ°C","u":"0.01 mm"}},
        "moments":{{"zero":{{"from":"0 h","to":"0.3 h"}},"peak":{{"from":"25.8 h","to":"26 h"}},
        "residual":{{"from":"50.2 h","to":"50.5 h"}},"unloaded":"26.4 h"}}}}"#,
        channels.join(",")
    )
}

/// The times of a test in hours: dense where the load moves and where readings are taken.
fn times() -> Vec<f64> {
    let mut minutes: Vec<u32> = (0..180).collect();
    minutes.extend((180..1545).step_by(15));
    minutes.extend(1545..1620);
    minutes.extend((1620..3010).step_by(15));
    minutes.extend(3010..=3030);
    minutes.into_iter().map(|m| f64::from(m) / 60.0).collect()
}

/// The part of the load that is on.
fn load(t: f64) -> f64 {
    let step = |from: f64| ((t - from) / 0.25).clamp(0.0, 1.0) * 0.25;
    let up = step(0.4) + step(0.85) + step(1.3) + step(1.75);
    (up - (t - 26.02).clamp(0.0, 0.3) / 0.3).clamp(0.0, 1.0)
}

/// The clean log: time and columns.
fn clean(setup: Setup) -> (Vec<f64>, BTreeMap<&'static str, Vec<f64>>) {
    let mut dice = Dice(setup.seed.wrapping_mul(77_777) + 5);
    let softness = 0.55 + 0.4 * dice.roll();
    let time = times();
    let mut columns: BTreeMap<&'static str, Vec<f64>> = BTreeMap::new();
    let zeros: Vec<f64> = (0..8).map(|_| 0.5 + 2.0 * dice.roll()).collect();
    for t in &time {
        let p = load(*t);
        let held = (*t - 2.0).max(0.0);
        let creep = 0.04 * (1.0 - (-held / 5.0).exp());
        let after = (*t - 26.3).max(0.0);
        let residual =
            if *t > 26.02 { 0.06 * (1.0 - p) * (0.5 + 0.5 * (-after / 6.0).exp()) } else { 0.0 };
        let part = p * (1.0 + creep) + residual;
        let warm = 19.0 + 4.0 * ((*t - 6.0) * core::f64::consts::TAU / 24.0).sin();
        for (i, name) in names(setup).iter().enumerate() {
            let value = match *name {
                "P1" | "P2" => {
                    let share = if setup.cells == 2 {
                        [0.507, 0.493][usize::from(*name == "P2")]
                    } else {
                        1.0
                    };
                    113.4 * share * p + 0.05 * dice.noise()
                }
                "T" => warm + 0.03 * dice.noise(),
                "left" => zeros[i] + 0.16 * p + 0.004 * dice.noise(),
                "right" => zeros[i] + 0.12 * p + 0.004 * dice.noise(),
                gauge => {
                    let x = GAUGES.iter().find(|g| g.0 == gauge).unwrap().1;
                    let settled = (0.16 * (1.0 - x / 9.0) + 0.12 * x / 9.0) * p;
                    zeros[i] + shape(x, 113.4) * softness * part + settled - 0.05 * (warm - 19.0)
                        + 0.008 * dice.noise()
                }
            };
            columns.entry(name).or_default().push(value);
        }
    }
    (time, columns)
}

/// The log as text, with its faults.
fn log(setup: Setup, seeds: &[Seed]) -> String {
    let (mut time, mut columns) = clean(setup);
    let rows = time.len();
    let mut odd: BTreeMap<(usize, &str), String> = BTreeMap::new();
    let row = |time: &[f64], at: f64| time.iter().position(|t| *t >= at - 1e-9).unwrap();
    let mut order: Vec<usize> = (0..rows).collect();
    for seed in seeds {
        let within = |(from, to): Span| {
            let time = time.clone();
            (0..rows).filter(move |i| time[*i] >= from - 1e-9 && time[*i] <= to + 1e-9)
        };
        match *seed {
            Missing(c, span) => within(span).for_each(|i| {
                odd.insert((i, c), String::new());
            }),
            Sentinel(c, value, span) => {
                within(span).for_each(|i| columns.get_mut(c).unwrap()[i] = value)
            }
            Text(c, text, at) => {
                odd.insert((row(&time, at), c), text.to_owned());
            }
            Stuck(c, span) => {
                let value = columns[c][row(&time, span.0)];
                within(span).for_each(|i| columns.get_mut(c).unwrap()[i] = value);
            }
            Spike(c, size, at) => columns.get_mut(c).unwrap()[row(&time, at)] += size,
            Step(c, size, at) => {
                within((at, 99.0)).for_each(|i| columns.get_mut(c).unwrap()[i] += size)
            }
            Tare(c, at) => {
                let value = columns[c][row(&time, at)];
                within((at, 99.0)).for_each(|i| columns.get_mut(c).unwrap()[i] -= value);
            }
            Shift(c, size, (from, to)) => within((from, 99.0)).for_each(|i| {
                columns.get_mut(c).unwrap()[i] +=
                    size * ((time[i] - from) / (to - from)).clamp(0.0, 1.0);
            }),
            Saturated(c, part) => {
                let column = columns.get_mut(c).unwrap();
                let (zero, most) = (column[0], column.iter().copied().fold(f64::MIN, f64::max));
                let end = zero + (most - zero) * part;
                column.iter_mut().for_each(|v| *v = v.min(end));
            }
            ClockBack(at) => {
                let i = row(&time, at);
                time.iter_mut().skip(i).for_each(|t| *t -= 1.0);
            }
            Twice(at) => {
                let i = row(&time, at);
                order.insert(order.iter().position(|r| *r == i).unwrap(), i);
            }
            Swapped(a, b) => {
                let first = columns[a].clone();
                let second = columns.insert(b, first).unwrap();
                columns.insert(a, second);
            }
            Reversed(c) => columns.get_mut(c).unwrap().iter_mut().for_each(|v| *v = -*v),
            UnitMid(c, factor, at) => {
                within((at, 99.0)).for_each(|i| columns.get_mut(c).unwrap()[i] *= factor)
            }
            Unit(c, factor) => columns.get_mut(c).unwrap().iter_mut().for_each(|v| *v *= factor),
            Lost(c, at, value) => {
                let mut dice = Dice(setup.seed + 3);
                within((at, 99.0)).for_each(|i| {
                    columns.get_mut(c).unwrap()[i] = value.unwrap_or_else(|| 0.01 * dice.noise());
                });
            }
        }
    }
    let names = names(setup);
    let mut text = format!("time_h,{}\n", names.join(","));
    for i in order {
        text.push_str(&format!("{:.4}", time[i]));
        for name in &names {
            let digits = if name.starts_with(['P', 'T']) { 2 } else { 3 };
            match odd.get(&(i, *name)) {
                Some(cell) => text.push_str(&format!(",{cell}")),
                None => text.push_str(&format!(",{:.digits$}", columns[name][i])),
            }
        }
        text.push('\n');
    }
    text
}

const fn with(seed: u64, supports: bool, designed: bool, cells: usize) -> Setup {
    Setup { seed, supports, designed, cells }
}

/// The logs. `mid` leads; `quarter` and `far` do not.
fn cases() -> Vec<(Setup, Vec<Seed>)> {
    const PEAK: Span = (25.8, 26.0);
    const REST: Span = (50.2, 50.5);
    vec![
        (with(1, true, true, 1), vec![Missing("mid", PEAK)]),
        (with(2, true, true, 2), vec![Sentinel("mid", -999.0, (25.9, 25.95))]),
        (with(3, true, true, 1), vec![Sentinel("quarter", 1e6, (10.0, 12.0))]),
        (with(4, true, true, 1), vec![Text("mid", "see note", 1.0)]),
        (with(5, false, true, 1), vec![Text("quarter", "OL", 2.5)]),
        (with(6, true, true, 1), vec![Stuck("mid", (1.4, 26.0))]),
        (with(7, false, true, 2), vec![Stuck("mid", (25.0, 50.5))]),
        (with(8, true, true, 1), vec![Stuck("quarter", (26.1, 50.5))]),
        (with(9, true, true, 1), vec![Spike("mid", 6.0, 25.9)]),
        (with(10, true, true, 1), vec![Spike("quarter", -3.0, 1.2)]),
        (with(11, true, true, 1), vec![Step("mid", 0.6, 8.0)]),
        (with(12, false, true, 1), vec![Step("quarter", -0.8, 25.9)]),
        (with(13, true, true, 2), vec![Step("far", 1.2, 40.0)]),
        (with(14, true, true, 1), vec![Tare("mid", 2.2)]),
        (with(15, true, false, 1), vec![Tare("far", 10.0)]),
        (with(16, true, true, 1), vec![Shift("mid", 0.9, (3.0, 25.0))]),
        (with(17, true, true, 1), vec![Shift("quarter", -0.7, (4.0, 20.0))]),
        (with(18, false, false, 1), vec![Shift("far", 1.0, (3.0, 25.0))]),
        (with(19, true, true, 1), vec![Saturated("mid", 0.8)]),
        (with(20, true, false, 2), vec![Saturated("far", 0.7)]),
        (with(21, true, true, 1), vec![ClockBack(13.0)]),
        (with(22, true, true, 1), vec![Twice(5.0)]),
        (with(23, true, true, 1), vec![Swapped("mid", "quarter")]),
        (with(24, false, true, 1), vec![Swapped("mid", "far")]),
        (with(25, true, true, 1), vec![Swapped("left", "quarter")]),
        (with(26, true, true, 1), vec![Reversed("mid")]),
        (with(27, true, true, 2), vec![Reversed("quarter")]),
        (with(28, true, true, 1), vec![Reversed("left")]),
        (with(29, false, true, 1), vec![Reversed("P1")]),
        (with(30, true, true, 1), vec![UnitMid("mid", 1.0 / 25.4, 1.8)]),
        (with(31, true, true, 1), vec![UnitMid("quarter", 25.4, 12.0)]),
        (with(32, true, true, 1), vec![UnitMid("P1", 1.0 / 4.448_222, 1.2)]),
        (with(33, true, true, 1), vec![Unit("mid", 1.0 / 25.4)]),
        (with(34, false, true, 1), vec![Unit("far", 10.0)]),
        (with(35, true, true, 1), vec![Unit("P1", 1.0 / 4.448_222)]),
        (with(36, true, true, 1), vec![Unit("quarter", 1.0 / 12.0)]),
        (with(37, true, true, 2), vec![Lost("P1", 25.0, None)]),
        (with(38, true, true, 2), vec![Lost("P2", 30.0, Some(-1e6))]),
        (with(39, true, false, 1), vec![Unit("mid", 25.4)]),
        (with(40, true, true, 1), vec![Reversed("mid"), Reversed("quarter"), Reversed("far")]),
        // in pairs
        (with(41, true, true, 1), vec![Reversed("quarter"), Stuck("mid", (26.1, 50.5))]),
        (with(42, true, true, 2), vec![Lost("P1", 20.0, None), Step("mid", 0.7, 5.0)]),
        (with(43, true, true, 1), vec![Unit("quarter", 1.0 / 25.4), Spike("mid", 5.0, 25.9)]),
        (with(44, true, true, 1), vec![Swapped("mid", "quarter"), Reversed("right")]),
        (
            with(45, false, true, 1),
            vec![Sentinel("mid", 9999.0, (25.85, 25.9)), Missing("quarter", REST)],
        ),
        (
            with(46, true, true, 1),
            vec![UnitMid("quarter", 1.0 / 25.4, 2.5), Step("far", 0.9, 15.0)],
        ),
        (with(47, true, true, 2), vec![Twice(12.0), Shift("mid", 0.9, (4.0, 24.0))]),
        (with(48, true, false, 1), vec![Stuck("far", (10.0, 50.5)), Tare("quarter", 2.3)]),
        (with(49, true, true, 1), vec![Reversed("left"), Reversed("right")]),
        (with(50, false, true, 1), vec![Step("mid", 0.8, 12.0), Step("quarter", -0.6, 18.0)]),
        (
            with(51, true, true, 1),
            vec![Sentinel("T", -999.0, (25.8, 25.9)), Spike("far", 4.0, 50.3)],
        ),
    ]
}

fn scenario(name: &str) -> String {
    std::fs::read_to_string(format!("{}/examples/scenarios/{name}", env!("CARGO_MANIFEST_DIR")))
        .unwrap()
}

fn gallery() -> TestDesign {
    design(TestSpec::from_json(&scenario("gallery_beam.test.json")).unwrap()).unwrap()
}

/// What is named of a log: kind and channel.
fn found(design: &TestDesign, setup: Setup, seeds: &[Seed]) -> Vec<(String, String)> {
    let layout: LogSpec = read_json(&layout(setup)).unwrap();
    let record: RunRecord = read_json(&scenario("gallery_beam.record.json")).unwrap();
    let text = log(setup, seeds);
    let judged = || {
        let log = read_csv_text(&text, &layout)?;
        if setup.designed {
            return judge(design, &log, &layout, &record);
        }
        let facts = Facts { lt: 9.0 * M, l: 9.0 * M, h: 0.7 * M, unit: MemberUnit::Beam };
        let edition = &design.set.edition;
        judge_record(edition, "monotonic", facts, &log, &layout, &record, Some(design.force()))
    };
    // where its columns stand changes nothing of a log
    let (outside, judged) = (with_memory(0, judged), judged());
    assert_eq!(format!("{judged:?}"), format!("{outside:?}"));
    match judged {
        Ok(judged) => judged
            .faults
            .iter()
            .filter(|f| f.kind.word() != "over_precision")
            .map(|f| (f.kind.word().to_owned(), f.channel.clone()))
            .collect(),
        Err(error) => error
            .issues
            .iter()
            // what follows from a fault is refused beside it
            .filter(|i| {
                !["readings.window-empty", "criteria.residual-above-max"].contains(&i.slug.code())
            })
            .map(|i| {
                let channel = i.path.rsplit(", ").next().unwrap_or_default().to_owned();
                let kind = match i.slug.code() {
                    "readings.fault" => i.value.as_ref().unwrap().to_string(),
                    code => code.to_owned(),
                };
                (kind, channel)
            })
            .collect(),
    }
}

/// Found, seeded and named of every kind.
fn tally(aside: bool) -> BTreeMap<&'static str, [usize; 3]> {
    let design = gallery();
    let mut kinds: BTreeMap<&'static str, [usize; 3]> = BTreeMap::new();
    for (i, (setup, seeds)) in cases().into_iter().enumerate() {
        if (i % 3 == 2) != aside {
            continue;
        }
        let mut named = found(&design, setup, &seeds);
        for seed in &seeds {
            let (words, channels) = seed.expected();
            let counts = kinds.entry(words[0]).or_default();
            counts[1] += 1;
            let before = named.len();
            named.retain(|(kind, channel)| {
                !(words.contains(&kind.as_str()) && channels.contains(&channel.as_str()))
            });
            if named.len() < before {
                counts[0] += 1;
            } else {
                println!("missed: {seed:?} in log {} {setup:?}", i + 1);
            }
        }
        for (kind, channel) in named {
            println!("for nothing: {kind} on {channel} in log {} {seeds:?}", i + 1);
            let word = ALL.iter().find(|k| **k == kind).copied().unwrap_or("another");
            kinds.entry(word).or_default()[2] += 1;
        }
    }
    let mut all = [0; 3];
    for (kind, [hit, seeded, nothing]) in &kinds {
        let precision = *hit as f64 / (hit + nothing).max(1) as f64;
        println!("{kind:24} recall {hit}/{seeded}  precision {precision:.2}");
        (0..3).for_each(|i| all[i] += [hit, seeded, nothing][i]);
    }
    println!("all: found {} of {}, {} for nothing", all[0], all[1], all[2]);
    kinds
}

const ALL: [&str; 16] = [
    "missing",
    "sentinel",
    "units.text-number",
    "units.nonfinite",
    "stuck",
    "spike",
    "step",
    "tare",
    "shift",
    "saturated",
    "readings.time-backwards",
    "duplicate_time",
    "swapped",
    "sign_flip",
    "unit_change",
    "unit",
];

fn sums(kinds: &BTreeMap<&'static str, [usize; 3]>) -> [usize; 3] {
    kinds.values().fold([0; 3], |[a, b, c], [x, y, z]| [a + x, b + y, c + z])
}

#[test]
fn the_open_logs() {
    assert_eq!(sums(&tally(false)), [43, 43, 0]);
}

#[test]
fn the_logs_set_aside() {
    // for nothing: cells that stay empty to the end of the log are missing and lost
    assert_eq!(sums(&tally(true)), [21, 21, 1]);
}

#[test]
fn nothing_is_named_of_clean_logs() {
    let design = gallery();
    for seed in 100..140 {
        for (supports, designed, cells) in
            [(true, true, 1), (false, true, 2), (true, false, 1), (false, false, 1)]
        {
            let setup = with(seed, supports, designed, cells);
            assert_eq!(found(&design, setup, &[]), [], "{setup:?}");
        }
    }
}
