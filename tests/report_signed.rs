//! A report that somebody who was not there can read and sign.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::criteria::RunRecord;
use proofspan::error::Slug;
use proofspan::readings::{Log, LogSpec, read_csv_text};
use proofspan::source::read_json;
use proofspan::verdict::State;
use proofspan::{Judgement, TestDesign, TestSpec, design, judge, report};
use serde_json::{Value, json};

fn shipped(name: &str) -> String {
    let path = format!("{}/examples/scenarios/{name}", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).unwrap()
}

fn document(name: &str) -> Value {
    serde_json::from_str(&shipped(&format!("{name}.test.json"))).unwrap()
}

fn tested(document: &Value) -> TestDesign {
    design(TestSpec::from_json(&document.to_string()).unwrap()).unwrap()
}

fn log(name: &str, text: &str) -> (Log, LogSpec) {
    let layout: LogSpec = read_json(&shipped(&format!("{name}.log.json"))).unwrap();
    (read_csv_text(text, &layout).unwrap(), layout)
}

fn record(name: &str) -> RunRecord {
    read_json(&shipped(&format!("{name}.record.json"))).unwrap()
}

fn judged(name: &str) -> (TestDesign, Judgement) {
    let design = tested(&document(name));
    let (log, layout) = log(name, &shipped(&format!("{name}.log.csv")));
    let judgement = judge(&design, &log, &layout, &record(name)).unwrap();
    (design, judgement)
}

const SCENARIOS: [&str; 5] =
    ["terrace_strip", "gallery_beam", "archive_floor", "classroom_strip", "station_canopy"];

fn between<'a>(text: &'a str, from: &str, to: &str) -> &'a str {
    text.split_once(from).unwrap().1.split_once(to).unwrap().0
}

/// What stands between `<td>` and `</td>`.
fn cells(page: &str) -> Vec<String> {
    page.split("<td>")
        .skip(1)
        .map(|c| c.split_once("</td>").unwrap().0.replace("<wbr>", ""))
        .collect()
}

/// Member, region, mode, load and edition are those of the document; the force is the answer's.
#[test]
fn one_sentence_says_what_was_decided() {
    for name in SCENARIOS {
        let (design, judgement) = judged(name);
        let page = report::html(&design, Some(&judgement)).unwrap();
        let said = between(&page, "<p class=\"state\">", "</p>");
        assert!(said.starts_with(&format!("<b>{}</b>", judgement.state())), "{said}");
        assert!(said.ends_with('.') && !said.contains(". "), "one sentence: {said}");
        let scope = &design.spec.scope;
        for word in
            [scope.member.id.as_str(), design.set.edition.name(), "what decides", "not shown"]
        {
            assert!(said.contains(word), "{name}: {word} in {said}");
        }
        let force = design.page().value(design.force().0, 6);
        assert!(said.contains(&format!("{force} net")), "{name}: {force} in {said}");
        for doubt in scope.doubt.iter() {
            assert!(said.contains(doubt.mode.word()), "{name}: {said}");
        }
        for (stage, own) in design.later() {
            let force = own.page().value(own.force().0, 6);
            assert!(said.contains(&format!("stage {stage}")) && said.contains(&force), "{said}");
        }
        // the deciding number beside its limit
        if judgement.state() == State::Pass {
            assert!(said.contains("beside at most") || said.contains("beside at least"), "{said}");
        }
    }
}

/// The gallery beam under three times its readings: the largest deflection is over its limit, and
/// the sentence has that number and that limit.
#[test]
fn the_number_that_fails_is_beside_its_limit() {
    let name = "gallery_beam";
    let text = shipped("gallery_beam.log.csv");
    let heading: Vec<&str> = text.lines().next().unwrap().split(',').collect();
    let mut out = heading.join(",") + "\n";
    for line in text.lines().skip(1) {
        let cells = line.split(',').zip(&heading).map(|(cell, column)| match cell.parse::<f64>() {
            Ok(v) if *column == "mid_mm" || *column == "quarter_mm" => format!("{:.3}", v * 9.0),
            _ => cell.to_owned(),
        });
        out += &(cells.collect::<Vec<_>>().join(",") + "\n");
    }
    let design = tested(&document(name));
    // what moves nine times as much drifts nine times as much
    let layout = shipped("gallery_beam.log.json").replace("-0.10 mm", "-0.90 mm");
    let layout: LogSpec = read_json(&layout).unwrap();
    let log = read_csv_text(&out, &layout).unwrap();
    let judgement = judge(&design, &log, &layout, &record(name)).unwrap();
    let page = report::html(&design, Some(&judgement)).unwrap();
    let said = between(&page, "<p class=\"state\">", "</p>");
    let worst = judgement
        .judging
        .criteria
        .iter()
        .filter(|c| c.outcome.guarded.state == judgement.state() && c.gauge.is_some())
        .max_by(|a, b| {
            let used =
                |c: &proofspan::criteria::Judged| c.outcome.guarded.utilisation.unwrap_or(0.0);
            used(a).total_cmp(&used(b))
        })
        .unwrap();
    let millimetres = |si: f64| si * 1e3;
    let number = said.split_once(&*worst.about).unwrap().1;
    let read = |text: &str| text.split_whitespace().next().unwrap().parse::<f64>().unwrap();
    let value = read(number.trim_start_matches([',', ' ']));
    let limit = read(number.split_once("beside at most ").unwrap().1);
    let v = worst.outcome.guarded;
    assert!((value / millimetres(v.demand.si) - 1.0).abs() < 1e-5, "{said}");
    assert!((limit / millimetres(v.limit.value().unwrap()) - 1.0).abs() < 1e-5, "{said}");
}

/// No cell is a code, a word with an underscore or a kind as the document spells it; the inputs, which
/// are the document, are left out.
#[test]
fn checks_have_names() {
    for name in SCENARIOS {
        let (design, judgement) = judged(name);
        let page = report::html(&design, Some(&judgement)).unwrap();
        let page = page.split_once("Inputs as given").unwrap().0;
        for cell in cells(page) {
            assert!(Slug::of(&cell).is_none(), "{name}: {cell}");
            assert!(!["sign_flip", "not_done", "leave_out"].contains(&cell.as_str()), "{cell}");
        }
    }
}

/// Who saw what, until when, and the fingerprints that `sha256` of the same things gives.
#[test]
fn people_dates_fingerprints_and_lines() {
    let (design, judgement) = judged("terrace_strip");
    for page in [
        report::html(&design, Some(&judgement)).unwrap(),
        report::markdown(&design, Some(&judgement)).unwrap().replace('\\', ""),
    ] {
        for text in [
            "engineer of record",
            "2026-05-06",
            "2031-05-06",
            "730 days",
            "wraps tapped, region mapped before and after",
            "pull-off results of the wraps",
            "signature",
            "Made by proofspan",
            &design.spec.fingerprint(),
            &judgement.evidence.log,
            &judgement.evidence.of_record(),
            "25.8000",
            "50.2000",
        ] {
            assert!(page.contains(text), "{text}");
        }
    }
}

/// A decision stands with its reason, and the fault is marked in the picture of its channel.
#[test]
fn decisions_and_faults_are_shown() {
    let name = "gallery_beam";
    let text = shipped("gallery_beam.log.csv");
    // one gauge hangs at its value of the full load until 14 h after the unloading
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    let columns: Vec<String> = lines[0].split(',').map(str::to_owned).collect();
    let of = |name: &str| columns.iter().position(|c| c == name).unwrap();
    let (time, gauge) = (of("time_h"), of("quarter_mm"));
    let mut value = None;
    for line in lines.iter_mut().skip(1) {
        let mut cells: Vec<String> = line.split(',').map(str::to_owned).collect();
        let t: f64 = cells[time].parse().unwrap();
        if t > 26.0 && t < 40.0 {
            cells[gauge] = value.get_or_insert_with(|| cells[gauge].clone()).clone();
        }
        *line = cells.join(",");
    }
    let design = tested(&document(name));
    let (log, layout) = log(name, &(lines.join("\n") + "\n"));
    let judgement = judge(&design, &log, &layout, &record(name)).unwrap();
    let fault = judgement.faults.iter().position(|f| f.kind.word() == "stuck").unwrap();
    let page = report::html(&design, Some(&judgement)).unwrap();
    let marks: Vec<&str> = page.split("class=\"fault\"").skip(1).collect();
    assert!(
        marks.iter().any(|m| between(m, "<text", "</text>").ends_with(&format!(">{}", fault + 1)))
    );
    let mut spec: Value = serde_json::from_str(&shipped(&format!("{name}.record.json"))).unwrap();
    let channel = judgement.faults[fault].channel.clone();
    spec["decisions"] = json!([{ "channel": channel, "fault": "stuck", "treatment": "leave_out",
        "by": "metrologist", "reason": "the plunger was found jammed" }]);
    let record: RunRecord = read_json(&spec.to_string()).unwrap();
    let judgement = judge(&design, &log, &layout, &record).unwrap();
    let page = report::html(&design, Some(&judgement)).unwrap();
    let cells = cells(&page);
    for text in ["metrologist", "the plunger was found jammed", "leave out", "decided"] {
        assert!(cells.iter().any(|c| c == text), "{text}");
    }
}

/// Print: a heading above every table on every page, no row in two, page numbers; what a title says
/// stays inside its string.
#[test]
fn set_for_print_whatever_the_title_says() {
    let mut document = document("terrace_strip");
    document["title"] = json!("a\"}</style><script>alert(1)</script>\\");
    let page = report::html(&tested(&document), None).unwrap();
    let style = between(&page, "<style>", "</style>");
    assert_eq!(page.matches("</style>").count(), 1);
    assert!(!page.contains("<script"));
    for rule in [
        "thead{display:table-header-group}",
        "break-inside:avoid",
        "counter(page)",
        "counter(pages)",
    ] {
        assert!(style.contains(rule), "{rule}");
    }
    assert!(!style.contains("anywhere") && !style.contains("break-all"));
    // every quote of the foot is one of the style's own: an even number in each rule
    assert!(style.split('}').all(|rule| rule.matches('"').count() % 2 == 0), "{style}");
    let heads = page.matches("<thead>").count();
    assert_eq!(heads + page.matches("class=\"prints\"").count(), page.matches("<table").count());
}

/// Every heading of a later stage says which stage it belongs to.
#[test]
fn headings_of_later_stages_name_them() {
    let (design, judgement) = judged("archive_floor");
    let page = report::html(&design, Some(&judgement)).unwrap();
    let (_, later) = page.split_once("<h1>Stage left span</h1>").unwrap();
    let (planned, rest) = later.split_once("<h2>All stages</h2>").unwrap();
    let (_, read) = rest.split_once("<h1>Stage left span: what it did</h1>").unwrap();
    let read = read.split_once("<h2>Who saw").unwrap().0;
    let headings = |text: &str| -> Vec<String> {
        text.split("<h2>").skip(1).map(|h| h.split_once("</h2>").unwrap().0.to_owned()).collect()
    };
    let all = [headings(planned), headings(read)].concat();
    assert!(all.len() >= 7 && all.iter().all(|h| h.contains("(stage left span)")), "{all:?}");
}

/// A catch under a part that rises needs no gap: none of it is below zero.
#[test]
fn a_gap_is_never_below_zero() {
    let (design, judgement) = judged("archive_floor");
    let all = [&design].into_iter().chain(design.later().iter().map(|l| &l.1));
    let mut rising = 0;
    for stage in all {
        for catch in &stage.shoring.catches {
            assert!(catch.gap_low.si() >= 0.0 && catch.gap_steps.iter().all(|s| s.low.si() >= 0.0));
            rising += usize::from(catch.gap_low.si() == 0.0);
        }
    }
    assert!(rising > 0, "the catch of the right span is under a part that rises");
    let page = report::html(&design, Some(&judgement)).unwrap();
    assert!(!page.contains("at least -"));
}

/// The same readings in another order of columns have the same fingerprint, one other sample another.
#[test]
fn the_fingerprint_is_of_the_readings() {
    let text = shipped("gallery_beam.log.csv");
    let swapped: String = text
        .lines()
        .map(|line| {
            let mut cells: Vec<&str> = line.split(',').collect();
            cells.reverse();
            cells.join(",") + "\n"
        })
        .collect();
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    let end = lines.len() - 5;
    let (start, last) = lines[end].rsplit_once(',').unwrap();
    let moved = format!("{:.3}", last.parse::<f64>().unwrap() + 0.01);
    lines[end] = format!("{start},{moved}");
    let other = lines.join("\n") + "\n";
    let of = |text: &str| log("gallery_beam", text).0.fingerprint();
    assert_eq!(of(&text), of(&swapped));
    assert_ne!(of(&text), of(&other));
    assert_eq!(of(&text).len(), 64);
}
