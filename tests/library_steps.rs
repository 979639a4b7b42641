//! The library as one builds on it: a record judged without a document, an edition as data, a working
//! line by line, an end of what takes long.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, clippy::float_cmp, reason = "tests")]

use std::cell::Cell;
use std::rc::Rc;
use std::time::{Duration, Instant};

use proofspan::beam::{Beam, Load};
use proofspan::criteria::{Acceptance, RunRecord};
use proofspan::editions::{Confidence, Edition};
use proofspan::equivalent::{Candidate, Objective, Reference, Requirement, Stage, search};
use proofspan::error::watched;
use proofspan::formula::Item;
use proofspan::readings::{LogSpec, read_csv_text};
use proofspan::rig::Reaction;
use proofspan::source::{Node, Write};
use proofspan::source::{read_json, write_json};
use proofspan::units::*;
use proofspan::{RecordedTest, TestSpec, design, judge};

fn file(name: &str, end: &str) -> String {
    std::fs::read_to_string(format!("examples/scenarios/{name}.{end}")).unwrap()
}

/// Without the design the criteria of a log are those of the designed test but for what follows from the
/// layout; deflections, residual and their limits are the same bits.
#[test]
fn a_record_alone_is_judged_as_inside_a_design() {
    for name in ["terrace_strip", "gallery_beam"] {
        let layout: LogSpec = read_json(&file(name, "log.json")).unwrap();
        let log = read_csv_text(&file(name, "log.csv"), &layout).unwrap();
        let record: RunRecord = read_json(&file(name, "record.json")).unwrap();
        let designed = design(TestSpec::from_json(&file(name, "test.json")).unwrap()).unwrap();
        let inside = judge(&designed, &log, &layout, &record).unwrap();
        let beam = &designed.spec.beam;
        let mut test = RecordedTest::of(&designed.spec.edition.id, beam.span[0].value)
            .clear_span(beam.clear_span.as_ref().unwrap().value)
            .depth(beam.depth.value)
            .force(designed.force().0);
        test.unit = designed.target.unit;
        let alone = test.judge(&log, &layout, &record).unwrap();
        // but for the units of the words: the document of the terrace asks for feet
        let told = |j: &proofspan::Judgement| {
            let of = |d: &proofspan::readings::Deflection| {
                (d.gauge.clone(), d.moments.clone(), d.d_max, d.d_r, d.raw, d.u_reading)
            };
            j.deflections.iter().map(of).collect::<Vec<_>>()
        };
        assert_eq!(told(&alone), told(&inside), "{name}");
        for own in &alone.judging.criteria {
            let same = inside.judging.criteria.iter().find(|c| c.id == own.id).unwrap();
            assert_eq!(own.outcome.code.state, same.outcome.code.state, "{name} {}", own.id);
            let bits = |d: f64| d.to_bits();
            let (a, b) = (own.outcome.code.demand, same.outcome.code.demand);
            assert_eq!((a.kind, bits(a.si)), (b.kind, bits(b.si)), "{name} {}", own.id);
            assert_eq!(own.outcome.code.limit, same.outcome.code.limit, "{name} {}", own.id);
        }
        assert!(!alone.not_judged.is_empty() && inside.not_judged.is_empty());
    }
}

#[test]
fn a_record_alone_refuses_all_at_once() {
    let layout: LogSpec = read_json(&file("terrace_strip", "log.json")).unwrap();
    let log = read_csv_text(&file("terrace_strip", "log.csv"), &layout).unwrap();
    let record: RunRecord = read_json(&file("terrace_strip", "record.json")).unwrap();
    let mut test = RecordedTest::of("ACI 437.2-13", 13.0 * M).clear_span(12.0 * M);
    test.method = "guessed".to_owned();
    let refused = test.judge(&log, &layout, &record).unwrap_err();
    assert_eq!(refused.codes(), ["source.choice", "source.field-missing"]);
    let paths: Vec<&str> = refused.issues.iter().map(|i| i.path.as_str()).collect();
    assert_eq!(paths, ["method", "depth"]);
}

/// The file of ACI 437.2-13 in this repository: set a holds three rows, row a2 is 1.0 Dw + 1.1 Ds +
/// 1.6 L + 0.5 of roof live, snow or rain.
#[test]
fn an_edition_is_data() {
    let edition = Edition::shipped("ACI 437.2-13").unwrap();
    let set = &edition.file().sets[0];
    assert_eq!((set.id.as_str(), set.confidence), ("a", Confidence::Memory));
    let factors: Vec<(&str, f64)> =
        set.rows[1].factors.0.iter().map(|(c, f)| (c.word(), *f)).collect();
    assert_eq!(factors, [("Dw", 1.0), ("Ds", 1.1), ("L", 1.6), ("Lr|S|R", 0.5)]);
    let hold = edition.file().protocols[0].full_hold.unwrap();
    assert_eq!(hold, 24.0 * H);
    // an edition of one's own is called by its printed name
    let text = std::fs::read_to_string("crates/proofspan/editions/is-456-2000.toml").unwrap();
    let text = text.replace("IS 456:2000", "office rule").replace("is-456-2000", "office-rule");
    let own = Edition::from_toml(&text).unwrap();
    assert_eq!(own.write().get("name"), Some(&Node::text(own.name())));
    assert!(own.name().contains("own edition"));
}

/// 40 kN of own weight a bearing; 60 kN at 3 m of 8 m lift 37.5 and 22.5 kN: what the first lines give goes
/// into the factors, and the factors into the answer.
#[test]
fn a_line_says_where_its_result_went() {
    let found = Reaction::of(8.0 * M, 10.0 * KN_PER_M)
        .pull(3.0 * M, 60.0 * KN)
        .weight(2.0 * M, 20.0 * KN)
        .check()
        .unwrap();
    let working = found.working();
    let went = working.went();
    let lines: Vec<&Item> = working.items.iter().filter(|i| !matches!(i, Item::About(_))).collect();
    assert_eq!(went.len(), lines.len());
    let mut linked = 0;
    for (i, (line, went)) in lines.iter().zip(&went).enumerate() {
        let Item::Step(step) = line else { continue };
        for next in &went.next {
            assert!(*next > i, "a result goes on, not back");
            let Item::Step(later) = lines[*next] else { continue };
            linked += 1;
            assert!(later.inputs.iter().any(|(_, _, q)| *q == step.result.1), "{}", later.what);
        }
    }
    assert!(linked > 4, "{linked}");
    // 55 / 37.5 is the factor of the first bearing
    let of = |si: f64| {
        lines
            .iter()
            .position(|l| matches!(l, Item::Step(s) if (s.result.1.si - si).abs() < 1e-12))
            .unwrap()
    };
    assert!(
        went[of(55.0 / 37.5)].answers.iter().any(|a| a.contains("bearings[0].factor")),
        "{:?}",
        went[of(55.0 / 37.5)]
    );
    let tree = write_json(&working.write());
    assert!(
        tree.contains("\"next\"") && tree.contains("\"answers\"") && tree.contains("\"source\"")
    );
}

/// One working in four forms: the same lines in each.
#[test]
fn a_working_is_text_markdown_html_and_latex() {
    let found = Acceptance::of("ACI 318-19", 6.0 * MM, 6.0 * M)
        .residual(1.4 * MM)
        .u(0.1 * MM)
        .judge()
        .unwrap();
    let working = found.working();
    let (text, markdown) = (working.text(System::Si), working.markdown(System::Si));
    let (html, latex) = (working.html(System::Si), working.latex(System::Si));
    assert!(
        text.contains("d_max / 4") && markdown.contains("d_max / 4") && html.contains("d_max / 4")
    );
    // d_r ≤ d_max/4 is a fraction with words below the letter
    assert!(latex.contains(r"\frac{d_{\mathrm{max}}}{4}"), "{latex}");
    assert!(latex.contains(r"\frac{6\,\mathrm{mm}}{4}"), "{latex}");
    assert_eq!(latex.matches(r"\begin{align*}").count(), latex.matches(r"\end{align*}").count());
    let braces = |c: char| latex.chars().filter(|x| *x == c).count();
    assert_eq!(braces('{'), braces('}'));
    assert_eq!(html.matches("<p>").count(), working.steps().count());
}

fn long_search() -> Result<(), proofspan::Error> {
    let beam = Beam::simple(12.0 * M, 3e4 * KN_M2).unwrap();
    let load = Load::uniform(0.0 * M, 12.0 * M, 10.0 * KN_PER_M);
    let terms = vec![("live".to_owned(), vec![load])];
    let reference = Reference::of_loads(&beam, terms, vec![], None).unwrap();
    let jacks: Vec<Candidate> = (1..60).map(|i| Candidate::jack(f64::from(i) * 0.2 * M)).collect();
    let requirements = [read_json::<Requirement>(r#"{"kind":"reach","effect":"moment"}"#).unwrap()];
    let stage = Stage { name: "test", reference: &reference, requirements: &requirements };
    let objectives = [Objective::total()];
    search(&beam, &[stage], &jacks, 6, None, &objectives).map(|_| ())
}

/// A search that takes seconds ends within a tenth of one of being asked to.
#[test]
fn what_takes_long_can_be_ended() {
    let begun = Instant::now();
    let ended = Rc::new(Cell::new(None));
    let at = Rc::clone(&ended);
    let go_on = move || {
        let go_on = begun.elapsed() < Duration::from_millis(50);
        if !go_on && at.get().is_none() {
            at.set(Some(Instant::now()));
        }
        go_on
    };
    let refused = watched(go_on, long_search).unwrap_err();
    assert_eq!(refused.codes(), ["source.interrupted"]);
    let late = ended.get().unwrap().elapsed();
    assert!(late < Duration::from_millis(100), "{late:?}");
    // inside another one, the outer question is still put afterwards
    let asked = Rc::new(Cell::new(0));
    let count = Rc::clone(&asked);
    let outer = watched(
        move || {
            count.set(count.get() + 1);
            true
        },
        || watched(|| true, || Ok(())),
    );
    assert!(outer.is_ok());
}

/// The reading of a log ends too.
#[test]
fn the_reading_of_a_log_can_be_ended() {
    let layout: LogSpec = read_json(&file("terrace_strip", "log.json")).unwrap();
    let text = file("terrace_strip", "log.csv");
    let (heading, _) = text.split_once('\n').unwrap();
    let mut long = format!("{heading}\n");
    for i in 0..400_000_u32 {
        long.push_str(&format!("{},0,0,0,0.1,0.1,0.05,0.03\n", f64::from(i) * 1e-4));
    }
    let refused = watched(|| false, || read_csv_text(&long, &layout)).unwrap_err();
    assert_eq!(refused.codes(), ["source.interrupted"]);
}
