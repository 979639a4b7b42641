//! What is predicted of the member, as a part of the report.

use super::block::Block;
use crate::capacity::{Face, PredictedSection};
use crate::design::TestDesign;
use crate::units::Page;

/// Significant digits: a strength is not known better.
const DIGITS: usize = 4;

/// Cracking and flexure along the member; without a part of the document, that nothing is predicted.
pub(super) fn predicted(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
    let Some(found) = &design.predicted else {
        let text =
            "Nothing was predicted: the document does not describe the sections of the member.";
        out.push(Block::Text(text.to_owned()));
        return;
    };
    out.push(Block::Text(format!(
        "Predictions to plan the test by, no approval. Flexure by {}, cracking by {}; expected strengths unless said; total moments, sagging positive.",
        found.code, found.rule
    )));
    let share = |s: f64| page.number(s, 3);
    if let Some(first) = &found.cracks_first {
        let text = format!(
            "It cracks first at {}, on its {} face, at {} of the test load.",
            page.value(first.at, DIGITS),
            first.face,
            share(first.cracks_at)
        );
        out.push(Block::Text(text));
    }
    out.push(Block::State(
        found.stays_uncracked,
        "the member stays uncracked at full test load, as predicted".to_owned(),
    ));
    if let Some(first) = &found.fails_first {
        let how = first.mode.map_or("breaks as it cracks", |m| m.word());
        let text = format!(
            "The first mode in flexure: at {}, {how}, at {} of the test load ({}).",
            page.value(first.at, DIGITS),
            share(first.fails_at),
            if first.ductile { "with warning" } else { "brittle, without warning" }
        );
        out.push(Block::Text(text));
    }
    let shown = |m: Option<crate::units::Moment>| {
        m.map_or_else(|| "not predicted".to_owned(), |m| page.value(m, DIGITS))
    };
    let row = |s: &PredictedSection| {
        vec![
            page.value(s.at, DIGITS),
            if s.face == Face::Bottom { "bottom" } else { "top" }.to_owned(),
            page.value(s.total, DIGITS),
            s.uncertainty.map_or_else(
                || page.value(s.cracking, DIGITS),
                |u| format!("{}, u {}", page.value(s.cracking, DIGITS), page.value(u, 2)),
            ),
            share(s.cracks_at),
            shown(s.expected),
            shown(s.design),
            share(s.fails_at),
        ]
    };
    // every fourth place, and those that come first
    let first = |s: &&PredictedSection| {
        [&found.cracks_first, &found.fails_first].into_iter().flatten().any(|f| f.at == s.at)
    };
    let rows = found.sections.iter().enumerate();
    let rows = rows.filter(|(i, s)| i % 4 == 0 || first(s)).map(|(_, s)| row(s)).collect();
    out.push(Block::Table(
        vec![
            "place",
            "face",
            "full test load",
            "cracks at",
            "share of the load",
            "expected strength",
            "design strength",
            "share of the load",
        ],
        rows,
    ));
    out.push(Block::Text(format!("Not predicted: {}.", found.left_out.join("; "))));
}
