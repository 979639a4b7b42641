//! What the report says, in order.

use super::block::{Block, heading};
use super::cell::DIGITS;
use super::headline::{headline, planned, stages};
use super::held::{rig, shoring};
use super::history::Along;
use super::judged::{by_edition, judged};
use super::predicted::predicted;
use super::reproduced::{layout, target};
use super::signing::{people, signed};
use super::steps::schedule;
use super::subject::called;
use crate::design::TestDesign;
use crate::error::{Error, Issue, slug};
use crate::formula::Working;
use crate::judge::Judgement;
use crate::source::{Node, Value, Write};
use crate::units::{Page, Quantity, trimmed};
use crate::verdict::State;

/// The page of the report: every value of the answer, and of its working, counts.
fn page(design: &TestDesign, judgement: Option<&Judgement>, working: &Working) -> Page {
    let mut page = design.page();
    design.write().seen(&mut page);
    if let Some(j) = judgement {
        j.write().seen(&mut page);
    }
    for step in working.steps() {
        page.see(step.result.1);
    }
    page
}

/// Refuses what was judged of another test.
fn same(design: &TestDesign, judgement: Option<&Judgement>) -> Result<(), Error> {
    let Some(j) = judgement else { return Ok(()) };
    let own = design.spec.fingerprint();
    if j.evidence.design.as_ref() == Some(&own) {
        return Ok(());
    }
    let message = match &j.evidence.design {
        Some(_) => "the judgement is that of another test",
        None => "the judgement is that of a test that was designed elsewhere",
    };
    let issue = Issue::new(slug::REPORT_OTHER_TEST, "judgement", message);
    let of = j.evidence.design.as_deref().unwrap_or("no design");
    Err(issue.value(of).limit(own).into())
}

/// Every block of the report.
pub(super) fn content(
    design: &TestDesign,
    judgement: Option<&Judgement>,
) -> Result<Vec<Block>, Error> {
    same(design, judgement)?;
    let working = design.working()?;
    let page = page(design, judgement, &working);
    let mut out = vec![Block::Heading(1, design.spec.title.clone())];
    out.extend(design.spec.about.iter().map(|t| Block::Text(t.clone())));
    out.extend(design.spec.scope.question.iter().map(|q| Block::Text(format!("Question: {q}"))));
    if let Some(j) = judgement {
        let (state, sentence) = headline(design, j, &page);
        out.push(Block::State(state, sentence));
        for finding in &j.findings {
            out.push(Block::Caution(format!("Carried on: {finding}.")));
        }
    } else {
        out.push(Block::Text(planned(design, &page)));
    }
    out.push(Block::Caution("A failed test can hurt people. Clear the zone and keep it clear; nobody under, on, or in line with bars or hoses while the load rises; catch the member; load in steps; brittle modes give no warning. The code adopted at the place and licensed practice come first. This report never calls a member safe.".to_owned()));
    for stop in design.stops() {
        let state = match &stop.lifted {
            None => "holds".to_owned(),
            Some(o) => format!(
                "lifted by {} ({}), {}: {}; measure: {}; second signature: {}",
                o.name, o.role, o.date, o.reason, o.measure, o.second_signature
            ),
        };
        out.push(Block::Stop(format!(
            "Stop, {} ({state}): {} [{}; code {}]",
            stop.slug.gist(),
            stop.message,
            stop.path,
            stop.slug
        )));
    }
    failed(&mut out, design, &page);
    parts(&mut out, design, None, &page);
    let mut workings = vec![(None, working)];
    for (name, stage) in design.later() {
        let own = stage.working()?;
        let page = self::page(stage, None, &own);
        out.push(Block::Heading(1, format!("Stage {name}")));
        failed(&mut out, stage, &page);
        out.push(Block::Text(
            "The member is unloaded and zero is read anew before this stage.".to_owned(),
        ));
        parts(&mut out, stage, Some(name), &page);
        workings.push((Some(name), own));
    }
    if let Some(j) = judgement {
        if let Some(whole) = Along::whole(j) {
            out.push(Block::Heading(2, "All stages".to_owned()));
            let pictures = whole.pictures(&page).into_iter();
            out.extend(pictures.map(|(title, svg)| Block::Picture(title, svg)));
        }
        judged(&mut out, j, None, &page);
        for (name, later) in &j.later {
            out.push(Block::Heading(1, format!("Stage {name}: what it did")));
            match later {
                Some(later) => {
                    out.push(Block::State(
                        later.judging.guarded.state,
                        format!("{} (guarded), stage {name}.", later.judging.guarded.because),
                    ));
                    judged(&mut out, later, Some(name), &page);
                }
                None => out.push(Block::Text(
                    "The log does not hold this stage: nothing is said of it.".to_owned(),
                )),
            }
        }
    }
    if let Some(j) = judgement {
        by_edition(&mut out, j);
        people(&mut out, design, j, &page);
    }
    notes(&mut out, design, judgement);
    signed(&mut out, design, judgement, &page);
    inputs(&mut out, design, judgement, &page);
    out.push(Block::Heading(2, "Working".to_owned()));
    out.push(Block::Text("Every line can be redone with a pencil: what is computed, the formula, the numbers put in, the result, the source.".to_owned()));
    for (stage, working) in workings {
        out.extend(stage.map(|name| Block::Heading(3, format!("Stage {name}"))));
        out.push(Block::Working(working.lines(page.system())));
    }
    if let Some(j) = judgement {
        out.push(Block::Heading(3, "What was read".to_owned()));
        out.push(Block::Working(j.working().lines(page.system())));
    }
    Ok(out)
}

/// What is tested, by what, and how: the parts of one stage.
fn parts(out: &mut Vec<Block>, design: &TestDesign, stage: Option<&str>, page: &Page) {
    let titles = [
        "What the test must reproduce",
        "What reproduces it",
        "What is predicted of the member",
        "What they push against",
        "What catches it",
        "Steps",
    ];
    let each: [fn(&mut Vec<Block>, &TestDesign, &Page); 6] =
        [target, layout, predicted, rig, shoring, schedule];
    for (title, part) in titles.into_iter().zip(each) {
        out.push(heading(title, stage));
        part(out, design, page);
    }
}

fn notes(out: &mut Vec<Block>, design: &TestDesign, judgement: Option<&Judgement>) {
    out.push(Block::Heading(2, "Notes and limits".to_owned()));
    let mut rows: Vec<Vec<String>> = Vec::new();
    let mut add = |n: &crate::verdict::Note, stage: Option<&str>| {
        let of = stage.map_or_else(String::new, |name| format!("stage {name}: "));
        rows.push(vec![n.slug.gist().to_owned(), n.path.to_string(), format!("{of}{}", n.message)]);
    };
    design.notes.iter().for_each(|n| add(n, None));
    for (stage, _, j) in judgement.map(|j| stages(design, j)).unwrap_or_default() {
        j.judging.notes.iter().for_each(|n| add(n, stage));
    }
    out.push(Block::Table(vec!["note", "on", "says"], rows));
    out.push(Block::Text("Not covered by any load test: durability, fire, fatigue, accidental loads, other regions, modes and members, and later changes.".to_owned()));
}

/// The checks of the plan that fail, where nobody can miss them.
fn failed(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
    let failed: Vec<String> = design
        .verdicts()
        .filter(|(_, v)| v.state == State::Fail)
        .map(|(_, v)| called(design, v, page))
        .collect();
    if !failed.is_empty() {
        out.push(Block::Caution(format!(
            "Checks of the plan that fail: {}. See their tables, and mend the plan before anybody loads the member.",
            failed.join("; ")
        )));
    }
}

fn inputs(out: &mut Vec<Block>, design: &TestDesign, judgement: Option<&Judgement>, page: &Page) {
    out.push(Block::Sheet);
    let mut parts = vec![("Inputs as given", design.spec.write(), design.spec.fingerprint())];
    if let Some(j) = judgement {
        let e = &j.evidence;
        parts.push(("Columns of the log as given", e.layout.write(), e.of_layout()));
        parts.push(("Run record as given", e.record.write(), e.of_record()));
    }
    for (title, node, print) in parts {
        let mut rows = Vec::new();
        flatten("", &node, page, &mut rows);
        out.push(Block::Heading(2, title.to_owned()));
        out.push(Block::Table(vec!["field", "value"], rows));
        out.push(Block::Text(format!("Fingerprint of these inputs (SHA-256): {print}")));
    }
}

/// Every field that has a value: as it was given, a default in the units of the page.
fn flatten(path: &str, node: &Node, page: &Page, rows: &mut Vec<Vec<String>>) {
    match &node.value {
        Value::Map(entries) => {
            for e in entries {
                let inner =
                    if path.is_empty() { e.key.clone() } else { format!("{path}.{}", e.key) };
                flatten(&inner, &e.node, page, rows);
            }
        }
        Value::List(items) => {
            for (i, item) in items.iter().enumerate() {
                flatten(&format!("{path}[{i}]"), item, page, rows);
            }
        }
        Value::Text(text) => rows.push(vec![path.to_owned(), text.clone()]),
        Value::Quantity { kind: Some(kind), si, .. } => {
            let text = page.value(Quantity::new(*kind, *si), DIGITS);
            let (number, unit) = text.split_once(' ').unwrap_or((text.as_str(), ""));
            rows.push(vec![
                path.to_owned(),
                format!("{} {unit}", trimmed(number)).trim().to_owned(),
            ]);
        }
        _ => rows.push(vec![path.to_owned(), node.brief()]),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Kind, System};

    /// A right angle that nobody wrote has the digits of a page; what somebody wrote stands as it was written.
    #[test]
    fn defaults_have_the_digits_of_a_page() {
        let angle = Quantity::new(Kind::Rotation, core::f64::consts::FRAC_PI_2);
        let gap = Quantity::new(Kind::Length, 0.0);
        let node = Node::map(vec![
            ("angle", Node::quantity(angle)),
            ("gap", Node::quantity(gap)),
            ("share", Node::quantity(Quantity::new(Kind::Ratio, 0.25))),
            ("given", Node::text("1.570796326794 rad")),
        ]);
        let mut rows = Vec::new();
        flatten("", &node, &Page::new(System::Si), &mut rows);
        let values: Vec<&str> = rows.iter().filter_map(|r| r.get(1)).map(String::as_str).collect();
        assert_eq!(values, ["1.5708 rad", "0 m", "0.25", "1.570796326794 rad"]);
    }
}
