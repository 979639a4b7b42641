//! No number that nobody should see: documents of every kind, drawn at random from the shipped ones,
//! and every text that is made of their answers read word by word.
//!
//! `PROOFSPAN_SOAK=1` draws many times as many.

use std::collections::BTreeMap;

use proofspan::criteria::RunRecord;
use proofspan::error::Error;
use proofspan::readings::{LogSpec, read_csv_text};
use proofspan::source::{Write, read_json, write_json};
use proofspan::units::System;
use proofspan::{Judgement, TestDesign, TestSpec, design, judge, report};
use serde_json::{Value, json};

fn text(name: &str) -> String {
    std::fs::read_to_string(format!("{}/examples/scenarios/{name}", env!("CARGO_MANIFEST_DIR")))
        .unwrap()
}

/// Whole numbers from a seed (xorshift).
struct Draw(u64);

impl Draw {
    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }
    fn below(&mut self, n: usize) -> usize {
        (self.next() % n as u64) as usize
    }
    fn one<'a, T>(&mut self, list: &'a [T]) -> &'a T {
        &list[self.below(list.len())]
    }
    fn chance(&mut self, percent: usize) -> bool {
        self.below(100) < percent
    }
}

/// Every text of the document that is a number with a unit.
fn quantities<'a>(node: &'a mut Value, out: &mut Vec<&'a mut Value>) {
    match node {
        Value::Object(map) => map.values_mut().for_each(|v| quantities(v, out)),
        Value::Array(list) => list.iter_mut().for_each(|v| quantities(v, out)),
        Value::String(s) if s.split_once(' ').is_some_and(|(n, _)| n.parse::<f64>().is_ok()) => {
            out.push(node);
        }
        _ => {}
    }
}

fn scaled(text: &str, by: f64) -> String {
    let (number, unit) = text.split_once(' ').unwrap();
    let rounded: f64 = format!("{:.3e}", number.parse::<f64>().unwrap() * by).parse().unwrap();
    format!("{rounded} {unit}")
}

const FACTORS: [f64; 9] = [0.0, 0.001, 0.5, 0.9, 0.97, 1.03, 1.1, 2.0, 30.0];

/// The document with up to six changes.
fn changed(draw: &mut Draw, base: &Value) -> Value {
    let mut doc = base.clone();
    for _ in 0..=draw.below(6) {
        let us = doc["display"] == "US";
        let length = |draw: &mut Draw| {
            let at: f64 = *draw.one(&[0.0, 0.5, 1.0, 1.8288, 2.5, 4.5, 6.9, 9.0, 13.716]);
            if us { format!("{} ft", (at / 0.3048 * 1e3).round() / 1e3) } else { format!("{at} m") }
        };
        let weight =
            |draw: &mut Draw| format!("{} kN", draw.one(&[0.0, 1.0, 12.5, 30.0, 80.0, 2000.0]));
        match draw.below(18) {
            0..=4 => {
                let mut list = Vec::new();
                quantities(&mut doc, &mut list);
                let at = draw.below(list.len());
                let by = *draw.one(&FACTORS);
                let new = scaled(list[at].as_str().unwrap(), by);
                *list[at] = if draw.chance(15) {
                    let (low, high) = (scaled(&new, 0.9), scaled(&new, 1.07));
                    json!({ "value": new, "low": low, "high": high })
                } else {
                    json!(new)
                };
            }
            5 => {
                let (a, b) = (length(draw), length(draw));
                doc["scope"]["doubt"]["from"] = json!(a);
                doc["scope"]["doubt"]["to"] = json!(b);
            }
            6 => doc["scope"]["doubt"]["mode"] = json!(draw.one(&["shear", "flexure", "hogging"])),
            7 => {
                // a dead load of nothing
                for a in doc["loads"]["actions"].as_array_mut().unwrap() {
                    if a["action"] != "live" {
                        a["area"] = json!("0 kPa");
                    }
                }
            }
            8 => {
                let word = *draw.one(&["snow", "rain", "roof_live", "imposed", "fluid", "soil"]);
                let area = *draw.one(&["0 kPa", "1.3 kPa", "25 psf"]);
                doc["loads"]["actions"]
                    .as_array_mut()
                    .unwrap()
                    .push(json!({ "action": word, "area": area }));
            }
            9 => {
                let id = *draw.one(&[
                    "ACI 318-19",
                    "ACI 437.2-13",
                    "ACI 318-14",
                    "ACI 318-05",
                    "ACI 318-25",
                    "IBC 1708",
                    "ACI CODE-437.2-22",
                    "NTC 2018",
                    "NYC BC 1708",
                ]);
                doc["edition"]["id"] = json!(id);
            }
            10 => {
                let kind = *draw.one(&["simple", "cantilever", "overhanging"]);
                doc["beam"]["kind"] = json!(kind);
                if kind == "overhanging" {
                    doc["beam"]["right_overhang"] = json!(length(draw));
                    if draw.chance(50) {
                        doc["beam"]["left_overhang"] = json!(length(draw));
                    }
                    doc["beam"].as_object_mut().unwrap().remove("clear_span");
                    doc["rig"]["reaction"]["span"] = json!("40 m");
                }
            }
            11 => {
                doc["layout"]["carrier"] = match draw.below(4) {
                    0 => json!({ "kind": "jack_line" }),
                    1 => json!({ "kind": "jack_line", "at": length(draw) }),
                    2 => json!({ "kind": "spreader", "spacing": length(draw) }),
                    _ => json!({ "kind": "spreader", "contacts": [length(draw), length(draw)] }),
                };
            }
            12 => {
                let mut list = Vec::new();
                for _ in 0..draw.below(3) {
                    list.push(json!({ "force": weight(draw), "at": length(draw) }));
                }
                doc["rig"]["counterweights"] = json!(list);
            }
            13 => doc["shoring"]["catch"][0]["at"] = json!(length(draw)),
            14 => {
                doc["shoring"]["drive"] = json!(draw.one(&["locked_off_jacks", "weights"]));
                doc["shoring"]["catch"][0]["gap"] =
                    json!(draw.one(&["0 mm", "4 mm", "0.5 in", "80 mm"]));
            }
            15 => {
                let display = *draw.one(&["SI", "US"]);
                doc["display"] = json!(display);
            }
            16 => {
                let at_most = *draw.one(&[0.9, 1.0, 1.2, 3.0]);
                let effect = *draw.one(&["shear", "moment"]);
                let basis = *draw.one(&["net", "total"]);
                doc["layout"]["limits"] =
                    json!([{ "effect": effect, "basis": basis, "at_most": at_most }]);
                doc["layout"]["ends"] = json!(draw.one(&["seated", "cast_in_place"]));
            }
            _ => {
                let part = *draw.one(&["bars", "reaction"]);
                if draw.chance(50) {
                    doc["rig"].as_object_mut().unwrap().remove(part);
                } else {
                    doc["rig"]["reaction"]["seat"] = json!(draw.one(&["seated", "monolithic"]));
                }
            }
        }
    }
    doc
}

/// What is wrong with a word that stands in a text.
fn wrong(word: &str) -> Option<&'static str> {
    let lower = word.trim_start_matches(['-', '+']).to_lowercase();
    if ["inf", "nan", "infinity"].contains(&lower.as_str()) {
        return Some("not finite");
    }
    let (mantissa, exponent) = match lower.split_once('e') {
        Some((m, e)) => (m, e.parse::<i32>().ok()?),
        None => (lower.as_str(), 0),
    };
    let digits = |s: &str| !s.is_empty() && s.bytes().all(|b| b.is_ascii_digit());
    let (whole, part) = mantissa.split_once('.').unwrap_or((mantissa, "0"));
    if !digits(whole) || !digits(part) {
        return None;
    }
    let all: String = mantissa.chars().filter(char::is_ascii_digit).collect();
    let strict = all.trim_start_matches('0');
    let significant = if mantissa.contains('.') { strict } else { strict.trim_end_matches('0') };
    let zero = strict.is_empty();
    if zero && word.starts_with('-') {
        Some("a negative zero")
    } else if exponent < -9 {
        Some("rounding noise")
    } else if significant.len() > 9 {
        Some("more than nine digits")
    } else {
        None
    }
}

/// The words of a text that nobody should see.
fn forbidden(text: &str) -> Vec<String> {
    let inside = |c: char| c.is_alphanumeric() || "._+-".contains(c);
    let mut found = Vec::new();
    let mut before = "";
    let text = text.replace("At the bearing no number", "");
    if let Some((start, _)) = text.split_once("no number") {
        let start: Vec<&str> = start.split_whitespace().collect();
        found.push(format!(
            "no number behind {}",
            start[start.len().saturating_sub(12)..].join(" ")
        ));
    }
    // the footer names the design by the head of its fingerprint, which may be digits alone
    let text = match text.split_once("content:\"design ") {
        Some((head, tail)) => {
            format!("{head}{}", tail.trim_start_matches(|c: char| c.is_ascii_hexdigit()))
        }
        None => text,
    };
    let mut words = text.split(|c| !inside(c)).filter(|w| !w.is_empty()).peekable();
    while let Some(word) = words.next() {
        let word = word.trim_end_matches(['.', '-', '+', '_']);
        let counts = ["term", "level", "step", "support", "bearing", "span", "needed", "joist"];
        // with a unit it is a quantity, no count
        let quantity =
            words.peek().is_some_and(|w| ["lbf", "kip", "N", "kN", "ft", "m"].contains(w));
        if counts.contains(&before) && word.ends_with(".0") && !quantity {
            found.push(format!("a count with a decimal: {before} {word}"));
        }
        before = word;
        if let Some(why) = wrong(word) {
            let at = text.find(word).unwrap_or(0);
            let around: String =
                text[..at].chars().rev().take(60).collect::<String>().chars().rev().collect();
            found.push(format!("{why}: {word} (…{around}{word})"));
        }
    }
    found
}

/// Values in units of the other system.
fn foreign(text: &str, system: System) -> Vec<String> {
    let units: &[&str] = match system {
        System::Us => &["m", "mm", "kN", "kN·m", "kN/m", "kPa", "MPa", "N", "Pa"],
        _ => &["ft", "in", "lbf", "kip", "psf", "plf", "psi", "lbf·ft"],
    };
    let words: Vec<&str> = text.split_whitespace().collect();
    let number = |w: &str| w.trim_start_matches(['(', '[']).parse::<f64>().is_ok();
    words
        .windows(2)
        .filter(|w| {
            number(w[0]) && units.contains(&w[1].trim_end_matches(['.', ',', ';', ')', ':']))
        })
        .map(|w| format!("a foreign unit: {} {}", w[0], w[1]))
        .collect()
}

/// The text a browser shows.
fn visible(html: &str) -> String {
    let mut out = String::new();
    let mut tag = false;
    let html = html.replace("<wbr>", "").replace("<span class=\"q\">", "").replace("</span>", "");
    for c in html.chars() {
        match c {
            '<' => tag = true,
            '>' => {
                tag = false;
                out.push('\n');
            }
            _ if !tag => out.push(c),
            _ => {}
        }
    }
    out.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&")
}

/// Without what the document itself says.
fn without_inputs(text: &str) -> String {
    let (before, rest) = text.split_once("Inputs as given").unwrap();
    let (_, after) = rest.split_once("\nWorking").or_else(|| rest.split_once("# Working")).unwrap();
    format!("{before}{after}")
}

fn walk(node: &Value, out: &mut Vec<String>) {
    match node {
        Value::String(s) => out.push(s.clone()),
        Value::Array(list) => list.iter().for_each(|v| walk(v, out)),
        Value::Object(map) => map.values().for_each(|v| walk(v, out)),
        _ => {}
    }
}

/// What stands in the texts of an answer and should not.
fn faults(design: &TestDesign, judgement: Option<&Judgement>) -> Vec<String> {
    let mut found = Vec::new();
    let system = design.spec.display.system();
    let html = report::html(design, judgement).unwrap();
    for mark in ["NaN", "\"inf", " inf ", "infinity"] {
        if html.contains(mark) {
            found.push(format!("html: {mark}"));
        }
    }
    // the question is the document's own
    let question = design.spec.scope.question.clone().unwrap_or_default();
    let html = without_inputs(&visible(&html)).replace(&question, "");
    let markdown = without_inputs(&report::markdown(design, judgement).unwrap().replace('\\', ""))
        .replace(&question, "");
    let texts = [("html", &html), ("markdown", &markdown)];
    for (name, text) in texts {
        found.extend(forbidden(text).into_iter().map(|f| format!("{name}: {f}")));
        found.extend(foreign(text, system).into_iter().map(|f| format!("{name}: {f}")));
    }
    let working = design.working().unwrap();
    for system in [System::Si, System::Us] {
        let text = working.text(system);
        found.extend(forbidden(&text).into_iter().map(|f| format!("working: {f}")));
        found.extend(foreign(&text, system).into_iter().map(|f| format!("working: {f}")));
    }
    // machine JSON keeps its digits; every other word of it is for people
    let mut trees = vec![design.write(), working.write()];
    trees.extend(judgement.map(Write::write));
    for tree in trees {
        let json: Value = serde_json::from_str(&write_json(&tree)).unwrap();
        let mut strings = Vec::new();
        walk(&json, &mut strings);
        for s in strings {
            let word = s.split_once(' ').map_or(s.as_str(), |(n, _)| n);
            if word.parse::<f64>().is_ok_and(|n| !n.is_finite()) {
                found.push(format!("json: {s}"));
            }
        }
    }
    found
}

/// What an error of a document should not say: its text without what the user typed.
fn refused(error: &Error, doc: &str) -> Vec<String> {
    let document: Value = serde_json::from_str(doc).unwrap();
    let mut typed = Vec::new();
    walk(&document, &mut typed);
    typed.sort_by_key(|t| core::cmp::Reverse(t.len()));
    let mut own = error.to_string();
    for text in typed.iter().filter(|t| t.contains(' ')) {
        own = own.replace(text.as_str(), "");
    }
    let system = if document["display"] == "US" { System::Us } else { System::Si };
    let mut found = forbidden(&error.to_string());
    found.extend(foreign(&own, system));
    found
}

/// Every random document of the shipped kinds: nothing forbidden in report, working, JSON.
#[test]
fn no_text_of_a_random_answer_shows_a_number_nobody_should_see() {
    let many = if std::env::var_os("PROOFSPAN_SOAK").is_some() { 20_000 } else { 130 };
    let mut draw = Draw(0x5DEE_CE66_D001);
    let names = ["terrace_strip", "gallery_beam"];
    let bases =
        names.map(|n| serde_json::from_str::<Value>(&text(&format!("{n}.test.json"))).unwrap());
    let logs = names.map(|n| {
        let layout: LogSpec = read_json(&text(&format!("{n}.log.json"))).unwrap();
        let log = read_csv_text(&text(&format!("{n}.log.csv")), &layout).unwrap();
        let record: RunRecord = read_json(&text(&format!("{n}.record.json"))).unwrap();
        (log, layout, record)
    });
    let (mut accepted, mut judged) = (0, 0);
    let mut found: BTreeMap<String, (usize, String)> = BTreeMap::new();
    for round in 0..many {
        let which = draw.below(2);
        let doc = changed(&mut draw, &bases[which]).to_string();
        let answer = TestSpec::from_json(&doc).and_then(design);
        let faults = match &answer {
            Err(error) => refused(error, &doc),
            Ok(design) => {
                accepted += 1;
                let (log, layout, record) = &logs[which];
                let judgement = (round % 8 == 0).then(|| judge(design, log, layout, record).ok());
                let judgement = judgement.flatten();
                judged += usize::from(judgement.is_some());
                faults(design, judgement.as_ref())
            }
        };
        for fault in faults {
            let kind: String = fault.chars().filter(|c| !c.is_ascii_digit()).take(110).collect();
            found.entry(kind).or_insert((0, format!("{fault} in {doc}"))).0 += 1;
        }
    }
    let list: Vec<String> = found
        .values()
        .map(|(n, f)| format!("{n} × {}", f.chars().take(4000).collect::<String>()))
        .collect();
    assert!(list.is_empty(), "{} kinds:\n{}", list.len(), list.join("\n\n"));
    assert!(accepted * 4 > many && judged >= 2, "{accepted} of {many} accepted, {judged} judged");
}
