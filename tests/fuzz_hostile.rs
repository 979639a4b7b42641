//! Hostile documents, logs and editions: mutations of the shipped ones that know their structure.
//!
//! Whatever comes in, the answer is a result or a sentence: no panic, no hang, every refusal with
//! code, place and remedy. An accepted document says the same in other units.
//!
//! `PROOFSPAN_SOAK=1` runs each for half an hour (`PROOFSPAN_FUZZ_SECONDS` for another time) and
//! `PROOFSPAN_SEED` chooses where it begins; each prints how many it tried and the slowest case. `PROOFSPAN_CASE` runs
//! one case again.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::indexing_slicing, reason = "tests")]

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::time::{Duration, Instant};

use proofspan::criteria::RunRecord;
use proofspan::editions::{Edition, EditionChoice, Facts};
use proofspan::error::Slug;
use proofspan::loads::Symbol;
use proofspan::readings::{LogSpec, read_csv};
use proofspan::source::{Entry, Node, Value, Write, parse_json, read_node, write_json};
use proofspan::units::{Kind, Measure};
use proofspan::{Error, TestDesign, TestSpec, design, judge, report};

/// Whole numbers from a seed (splitmix).
struct Draw(u64);

impl Draw {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }
    fn below(&mut self, n: usize) -> usize {
        usize::try_from(self.next() % n.max(1) as u64).unwrap()
    }
    fn of<'a, T>(&mut self, list: &'a [T]) -> &'a T {
        &list[self.below(list.len())]
    }
}

fn shipped(name: &str) -> String {
    let root = env!("CARGO_MANIFEST_DIR");
    std::fs::read_to_string(format!("{root}/examples/scenarios/{name}")).unwrap()
}

/// What stands where something else is wanted.
const TEXTS: [&str; 44] = [
    "",
    " ",
    "0 m",
    "-1 m",
    "1e300 m",
    "1e-300 m",
    "1e999 m",
    "NaN m",
    "inf kN",
    "-0 kN",
    "45",
    "45 furlongs",
    "3 kN/m",
    "12 psf",
    "5 ft",
    "30'-6 1/2\"",
    "1,5 m",
    "1.5.2 m",
    "٣ m",
    "2 %",
    "200 %",
    "-5 %",
    "yes",
    "true",
    "null",
    "shear",
    "hogging",
    "cantilever",
    "monotonic",
    "project",
    "ACI 318-19",
    "IS 456:2000",
    "done",
    "not_needed",
    "2026-02-30",
    "x\u{0}y",
    "<script>alert(1)</script>",
    "| a | b |",
    "0.5",
    "1",
    "self_weight",
    "1e-12 m",
    "600 s",
    "-3 h",
];

fn scalar(draw: &mut Draw) -> Node {
    match draw.below(9) {
        0 => Node::new(Value::Null),
        1 => Node::new(Value::Bool(draw.below(2) == 0)),
        2 => Node::number(*draw.of(&[
            0.0,
            -0.0,
            1.0,
            -1.0,
            0.5,
            2.0,
            1e9,
            1e300,
            -1e300,
            4_294_967_296.0,
            1e-300,
            17.0,
        ])),
        3 => Node::new(Value::List(vec![])),
        4 => Node::new(Value::Map(vec![])),
        5 if draw.below(20) == 0 => Node::text("long ".repeat(20_000)),
        6 if draw.below(20) == 0 => {
            let depth = 20 + draw.below(300);
            (0..depth).fold(Node::number(1.0), |n, _| Node::new(Value::List(vec![n])))
        }
        _ => Node::text(*draw.of(&TEXTS)),
    }
}

fn count(node: &Node) -> usize {
    1 + match &node.value {
        Value::List(items) => items.iter().map(count).sum(),
        Value::Map(entries) => entries.iter().map(|e| count(&e.node)).sum(),
        _ => 0,
    }
}

/// The node of this number, counted depth first.
fn nth<'a>(node: &'a mut Node, left: &mut usize) -> Option<&'a mut Node> {
    if *left == 0 {
        return Some(node);
    }
    *left -= 1;
    match &mut node.value {
        Value::List(items) => items.iter_mut().find_map(|n| nth(n, left)),
        Value::Map(entries) => entries.iter_mut().find_map(|e| nth(&mut e.node, left)),
        _ => None,
    }
}

fn mutate(draw: &mut Draw, root: &mut Node) {
    let size = count(root);
    let donor = nth(root, &mut draw.below(size)).unwrap().clone();
    let fields = ["value", "low", "high", "u", "kind", "at", "in_place", "origin", "note", "spam"];
    let target = nth(root, &mut draw.below(size)).unwrap();
    match (&mut target.value, draw.below(12)) {
        // numbers move by what a slip moves them
        (Value::Text(text), 0..=5)
            if text.split_once(' ').is_some_and(|(n, _)| n.parse::<f64>().is_ok()) =>
        {
            let (number, unit) = text.split_once(' ').unwrap();
            let by = *draw.of(&[0.0, -1.0, 0.1, 0.5, 0.9, 1.0, 1.1, 2.0, 10.0, 1000.0, 25.4, 1e-3]);
            let moved = format!("{} {unit}", number.parse::<f64>().unwrap() * by);
            *target = match draw.below(5) {
                0 => Node::map(vec![
                    ("value", Node::text(text.clone())),
                    (*draw.of(&["low", "high", "u"]), Node::text(moved)),
                ]),
                _ => Node::text(moved),
            };
        }
        (Value::Map(entries), 0..=2) if !entries.is_empty() => {
            let at = draw.below(entries.len());
            match draw.below(4) {
                0 => drop(entries.remove(at)),
                1 => entries.push(entries[at].clone()),
                2 => entries[at].key.push('s'),
                _ => {
                    entries.push(Entry { key: (*draw.of(&fields)).to_owned(), node: scalar(draw) })
                }
            }
        }
        (Value::List(items), 0..=4) => match draw.below(3) {
            0 if !items.is_empty() => drop(items.remove(draw.below(items.len()))),
            1 => items.push(donor),
            _ => {
                if let Some(first) = items.first().cloned() {
                    items.extend((0..draw.below(40)).map(|_| first.clone()));
                }
            }
        },
        (Value::Bool(b), _) => *b = !*b,
        (_, 6) => *target = donor,
        (_, 7..=8) => *target = scalar(draw),
        _ => {}
    }
}

/// What every refusal must be.
fn well_formed(error: &Error, told: &dyn Fn() -> String) {
    assert!(!error.issues.is_empty(), "a refusal without a reason: {}", told());
    for issue in &error.issues {
        let text = issue.to_string();
        let whole = Slug::of(issue.slug.code()).is_some()
            && !issue.message.trim().is_empty()
            && !issue.remedy.trim().is_empty()
            && text.chars().count() < 4000;
        assert!(whole, "{text:.500}\n{}", told());
    }
}

/// Runs cases for a time or a count and says how many there were and which was the slowest.
fn run(name: &str, cases: u64, mut one: impl FnMut(u64) -> &'static str) {
    let soak = std::env::var_os("PROOFSPAN_SOAK").is_some();
    let seconds = std::env::var("PROOFSPAN_FUZZ_SECONDS").ok().and_then(|s| s.parse().ok());
    let limit = seconds.or(soak.then_some(1800)).map(Duration::from_secs);
    let seed = std::env::var("PROOFSPAN_SEED").ok().and_then(|s| s.parse().ok()).unwrap_or(7);
    if let Some(own) = std::env::var("PROOFSPAN_CASE").ok().and_then(|s| s.parse().ok()) {
        println!("{name}: case {own}: {}", one(own));
        return;
    }
    let (start, mut slowest) = (Instant::now(), (Duration::ZERO, 0));
    let mut ends: std::collections::BTreeMap<&str, u64> = std::collections::BTreeMap::new();
    let mut done = 0;
    while limit.map_or(done < cases, |l| start.elapsed() < l) {
        let own: u64 = Draw(seed ^ done.wrapping_mul(0x1000_0000_01B3)).next();
        let begun = Instant::now();
        match catch_unwind(AssertUnwindSafe(|| one(own))) {
            Ok(end) => *ends.entry(end).or_default() += 1,
            Err(cause) => {
                eprintln!("{name}: case {own} of seed {seed}");
                std::panic::resume_unwind(cause);
            }
        }
        if begun.elapsed() > slowest.0 {
            slowest = (begun.elapsed(), own);
        }
        done += 1;
    }
    println!("{name}: {done} cases {ends:?}, the slowest {:?} (case {})", slowest.0, slowest.1);
}

/// Every text and tree of an answer, made and thrown away.
fn shown(design: &TestDesign, told: &str) {
    let pages = [report::html(design, None), report::markdown(design, None)];
    for page in pages {
        assert!(page.unwrap().len() > 100);
    }
    let json = write_json(&design.write());
    assert!(parse_json(&json).is_ok());
    for word in ["NaN", " inf", "\"inf"] {
        // a text of the document may say so itself
        if let Some(at) = json.find(word).filter(|_| !told.contains(word)) {
            let around = json.get(at.saturating_sub(200)..at + 20).unwrap_or(&json);
            panic!("{word} in the tree of an answer: {around}");
        }
    }
    let working = design.working().unwrap();
    assert!(!format!("{working:?}").is_empty());
}

/// Every quantity that is text, in its SI unit: all digits, the same bits.
fn in_si(node: &mut Node) {
    match &mut node.value {
        Value::List(items) => items.iter_mut().for_each(in_si),
        Value::Map(entries) => entries.iter_mut().for_each(|e| in_si(&mut e.node)),
        Value::Text(text) => {
            let Ok((measure, si)) = Measure::parse(text) else { return };
            // a plain number is no quantity, and a title is no number
            let Some(kind) = measure.kind.filter(|k| *k != Kind::Ratio) else { return };
            *text = format!("{si:?} {}", kind.si_symbol());
        }
        _ => {}
    }
}

#[test]
fn documents() {
    let bases: Vec<Node> = ["terrace_strip", "gallery_beam"]
        .iter()
        .map(|n| parse_json(&shipped(&format!("{n}.test.json"))).unwrap())
        .collect();
    run("documents", 1200, |seed| {
        let mut draw = Draw(seed);
        let mut node = draw.of(&bases).clone();
        for _ in 0..=draw.below(4) {
            mutate(&mut draw, &mut node);
        }
        let told = || write_json(&node);
        let spec: TestSpec = match read_node(&node) {
            Ok(spec) => spec,
            Err(error) => {
                well_formed(&error, &told);
                return "not read";
            }
        };
        let again: TestSpec = proofspan::source::read_json(&spec.to_json()).unwrap();
        assert_eq!(again, spec, "{}", told());
        match design(spec) {
            Ok(found) => {
                shown(&found, &told());
                let mut other = node.clone();
                in_si(&mut other);
                let other = design(read_node::<TestSpec>(&other).unwrap()).unwrap();
                assert_eq!(other.force(), found.force(), "other units: {}", told());
                let states = |d: &TestDesign| d.verdicts().map(|v| v.1.state).collect::<Vec<_>>();
                assert_eq!(states(&other), states(&found), "other units: {}", told());
                if found.cleared().is_ok() { "cleared" } else { "stopped" }
            }
            Err(error) => {
                well_formed(&error, &told);
                "refused"
            }
        }
    });
}

#[test]
fn logs() {
    let cases: Vec<(TestDesign, String, Node, Node)> = ["terrace_strip", "gallery_beam"]
        .iter()
        .map(|n| {
            let spec = TestSpec::from_json(&shipped(&format!("{n}.test.json"))).unwrap();
            (
                design(spec).unwrap(),
                shipped(&format!("{n}.log.csv")),
                parse_json(&shipped(&format!("{n}.log.json"))).unwrap(),
                parse_json(&shipped(&format!("{n}.record.json"))).unwrap(),
            )
        })
        .collect();
    let cells: [&[u8]; 24] = [
        b"",
        b"-",
        b"NaN",
        b"inf",
        b"1e999",
        b"1e300",
        b"-9999",
        b"1,5",
        b"1.234,5",
        b"abc",
        b"\"",
        b"\"a\nb\"",
        b"\xff\xfe",
        b"\0\0\0",
        b"0",
        b"-0",
        b"1e-320",
        b"12.5 mm",
        b"2026-01-01",
        b"TRUE",
        b"999999999999",
        b" 1 ",
        b"+1",
        b"0x10",
    ];
    run("logs", 500, |seed| {
        let mut draw = Draw(seed);
        let (test, csv, layout, record) = draw.of(&cases);
        let (mut layout, mut record) = (layout.clone(), record.clone());
        let mut bytes = csv.clone().into_bytes();
        for _ in 0..=draw.below(3) {
            match draw.below(8) {
                0..=2 => mutate(&mut draw, &mut layout),
                3 => mutate(&mut draw, &mut record),
                4 => {
                    // a cell somewhere
                    let at = draw.below(bytes.len());
                    let end = bytes[at..]
                        .iter()
                        .position(|b| *b == b',' || *b == b'\n')
                        .map_or(bytes.len(), |e| at + e);
                    bytes.splice(at..end, draw.of(&cells).iter().copied());
                }
                5 => {
                    let at = draw.below(bytes.len());
                    bytes.truncate(at);
                }
                6 => {
                    // rows told twice, or in another order
                    let lines: Vec<&[u8]> = bytes.split_inclusive(|b| *b == b'\n').collect();
                    let (a, b) = (draw.below(lines.len()), draw.below(lines.len()));
                    let (a, b) = (a.min(b), a.max(b));
                    let mut moved = lines[..a].concat();
                    moved.extend(lines[b..].concat());
                    moved.extend(lines[a..b].concat());
                    bytes = moved;
                }
                _ => {
                    let at = draw.below(bytes.len());
                    let many = draw.below(3000);
                    let byte = *draw.of(&[0, b'\n', b',', b'"', b'9', 0xff]);
                    bytes.splice(at..at, std::iter::repeat_n(byte, many));
                }
            }
            if bytes.is_empty() {
                bytes.push(b'\n');
            }
        }
        let told = || {
            format!(
                "{}\n{}\n{}",
                write_json(&layout),
                write_json(&record),
                String::from_utf8_lossy(&bytes[..bytes.len().min(3000)])
            )
        };
        let read = || -> Result<&'static str, Error> {
            let spec: LogSpec = read_node(&layout)?;
            let record: RunRecord = read_node(&record)?;
            let log = read_csv(bytes.as_slice(), &spec)?;
            let judged = judge(test, &log, &spec, &record)?;
            for page in [report::html(test, Some(&judged)), report::markdown(test, Some(&judged))] {
                assert!(page.unwrap().len() > 100);
            }
            let json = write_json(&judged.write());
            let said = told().contains("NaN");
            assert!(parse_json(&json).is_ok() && (said || !json.contains("NaN")), "{json}");
            Ok("judged")
        };
        read().unwrap_or_else(|error| {
            well_formed(&error, &told);
            "refused"
        })
    });
}

#[test]
fn editions() {
    let folder = format!("{}/crates/proofspan/editions", env!("CARGO_MANIFEST_DIR"));
    let mut bases: Vec<String> = std::fs::read_dir(folder)
        .unwrap()
        .map(|e| std::fs::read_to_string(e.unwrap().path()).unwrap())
        .collect();
    bases.sort();
    let pieces = [
        "0",
        "-1",
        "1e300",
        "1e-300",
        "nan",
        "inf",
        "\"\"",
        "\"L > 1 kPa\"",
        "\"d_max <= l/20000\"",
        "\"span^200\"",
        "\"l[m]^9\"",
        "\"((((((((((1))))))))))\"",
        "\"1+1+1+1+1+1+1\"",
        "\"if(a,b,c)\"",
        "\"d_r <= d_max/0\"",
        "\"not\"",
        "\"parking and not parking\"",
        "true",
        "[]",
        "{}",
        "[[",
        "]]",
        "\"unknown\"",
        "\"project\"",
        "1.2",
        "2026-01-01",
        "\"24 h\"",
        "\"-24 h\"",
        "\"Lr|S|R\"",
    ];
    run("editions", 900, |seed| {
        let mut draw = Draw(seed);
        let mut text = draw.of(&bases).clone();
        for _ in 0..=draw.below(3) {
            let lines: Vec<&str> = text.lines().collect();
            let at = draw.below(lines.len());
            let line = lines[at].to_owned();
            let mut lines: Vec<String> = lines.iter().map(|l| (*l).to_owned()).collect();
            match draw.below(6) {
                0 => drop(lines.remove(at)),
                1 => lines.insert(at, line),
                2..=4 => {
                    if let Some((key, _)) = line.split_once('=') {
                        lines[at] = format!("{key}= {}", draw.of(&pieces));
                    }
                }
                _ => {
                    let other = draw.below(lines.len());
                    lines.swap(at, other);
                }
            }
            text = lines.join("\n");
            if text.is_empty() {
                text.push('\n');
            }
        }
        let told = || text.clone();
        match Edition::from_toml(&text) {
            Ok(edition) => {
                let edition = Arc::new(edition);
                let choice = EditionChoice::of(edition.id());
                let present = [Symbol::SelfWeight, Symbol::Live];
                if let Err(error) = edition.load_set(&choice, &present, &Facts::default()) {
                    well_formed(&error, &told);
                }
                for method in edition.methods() {
                    let _ = (edition.protocol(method), edition.criteria(method).count());
                }
                "read"
            }
            Err(error) => {
                well_formed(&error, &told);
                "refused"
            }
        }
    });
}
