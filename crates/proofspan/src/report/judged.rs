//! What the member did, and what that comes to.

use super::block::{Block, heading};
use super::cell::{DIGITS, NONE, checked};
use super::corrections::corrections;
use super::diagram::curve;
use super::history::Along;
use super::label;
use super::signing::windows;
use super::witness::{along, cycles, every_gauge, measured};
use crate::judge::Judgement;
use crate::units::{Page, Quantity};
use crate::verdict::State;

pub(super) fn judged(out: &mut Vec<Block>, j: &Judgement, stage: Option<&str>, page: &Page) {
    out.push(heading("What it did", stage));
    windows(out, &j.evidence.layout, page);
    if let Some(seen) = &j.facts {
        measured(out, j, seen, page);
    }
    let rows = j
        .deflections
        .iter()
        .map(|d| {
            vec![
                d.gauge.clone(),
                page.place(d.at),
                page.small(d.raw.0),
                page.small(d.d_max),
                d.raw.1.map_or_else(|| NONE.to_owned(), |r| page.small(r)),
                d.d_r.map_or_else(|| "not read".to_owned(), |r| page.small(r)),
                d.u_reading.map_or_else(|| "not stated".to_owned(), |u| page.small(u)),
            ]
        })
        .collect();
    out.push(Block::Table(
        vec![
            "gauge",
            "at",
            "largest, raw",
            "largest, corrected",
            "residual, raw",
            "residual, corrected",
            "u of one corrected reading",
        ],
        rows,
    ));
    corrections(out, j, page);
    let rows = j
        .comparisons
        .iter()
        .map(|c| {
            vec![
                c.gauge.clone(),
                page.small(c.measured),
                page.small(c.stiff),
                page.small(c.soft),
                c.over_stiff.map_or_else(|| "–".to_owned(), |r| page.number(r.value(), 3)),
            ]
        })
        .collect();
    out.push(Block::Table(
        vec!["gauge", "measured", "stiff prediction", "soft prediction", "measured over stiff"],
        rows,
    ));
    if !j.curve.is_empty() {
        out.push(Block::Picture(
            "Force and deflection of the leading gauge (as read, from its first reading)"
                .to_owned(),
            curve(&j.curve, page.system()),
        ));
    }
    along(out, j, page);
    cycles(out, j, page);
    faults(out, j, page);
    out.push(heading("Criteria", stage));
    out.push(Block::Text("Two outcomes of each: the edition's own comparison without a guard (code), and with a guard band of twice the standard uncertainty (guarded, JCGM 106); the headline is guarded.".to_owned()));
    let name = |c: &crate::criteria::Judged| label::criterion(&c.about, &c.id);
    let rows = j
        .judging
        .criteria
        .iter()
        .map(|c| {
            let v = c.outcome.guarded;
            let of = |si, digits| checked(page, Quantity::new(v.demand.kind, si), digits);
            let or_none = |si: Option<f64>, digits| si.map_or(NONE.to_owned(), |si| of(si, digits));
            let limit = or_none(v.limit.value(), DIGITS);
            let demand = or_none(v.limit.value().map(|_| v.demand.si), DIGITS);
            let u = or_none(v.uncertainty, 3);
            vec![
                name(c),
                c.gauge.clone().unwrap_or_else(|| NONE.to_owned()),
                demand,
                limit,
                u,
                c.outcome.code.state.word().to_owned(),
                v.state.word().to_owned(),
            ]
        })
        .collect();
    let head = vec!["criterion", "gauge", "value", "limit", "U of the margin", "code", "guarded"];
    out.push(Block::Table(head, rows));
    let rows = j.judging.criteria.iter();
    let rows =
        rows.map(|c| vec![name(c), c.formula.clone(), c.reason.to_string(), c.clause.clone()]);
    out.push(Block::Table(vec!["criterion", "comparison", "why", "clause"], rows.collect()));
    every_gauge(out, j, page);
    for text in &j.not_judged {
        out.push(Block::Text(format!("Not judged: {text}.")));
    }
    if j.state() != State::Pass {
        out.push(Block::Caution("Nothing is shown beyond what each line above says. Leave the shores until the verdict is signed.".to_owned()));
    }
}

/// Every fault with its number in the pictures, and what was done about it.
fn faults(out: &mut Vec<Block>, j: &Judgement, page: &Page) {
    for (title, svg) in Along::one(j).pictures(page) {
        out.push(Block::Picture(title, svg));
    }
    let rows: Vec<Vec<String>> = j
        .faults
        .iter()
        .enumerate()
        .map(|(i, f)| {
            let with = f.with.as_ref().map_or_else(String::new, |w| format!(" and {w}"));
            vec![
                (i + 1).to_string(),
                label::words(f.kind.word()),
                format!("{}{with}", f.channel),
                page.value(f.from, DIGITS),
                page.value(f.to, DIGITS),
                f.count.to_string(),
                f.note.to_string(),
                label::words(f.effect.word()),
            ]
        })
        .collect();
    if rows.is_empty() {
        out.push(Block::Text("No fault was found in the log.".to_owned()));
    } else {
        let head = vec!["no.", "fault", "channel", "from", "to", "samples", "evidence", "effect"];
        out.push(Block::Table(head, rows));
    }
}

/// What every edition says of the same record, where that was asked for.
pub(super) fn by_edition(out: &mut Vec<Block>, j: &Judgement) {
    let Some(all) = &j.by_edition else { return };
    out.push(Block::Heading(2, "The same record by every edition".to_owned()));
    let stage = if j.later.is_empty() { "" } else { " It is the first stage." };
    out.push(Block::Text(format!("The load was chosen by one edition at most: each outcome speaks of the criteria of its edition at the load that was on, and none of them is the headline.{stage}")));
    let head = vec!["edition", "criterion", "comparison", "code", "guarded"];
    let or_none = |cell: String| if cell.is_empty() { NONE.to_owned() } else { cell };
    let rows = all.rows().into_iter().map(|row| row.into_iter().map(or_none).collect());
    out.push(Block::Table(head, rows.collect()));
}
