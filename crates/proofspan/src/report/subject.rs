//! Of which bar, floor or level a check is, as the document calls it.

use super::block::Block;
use super::cell::{DIGITS, NONE, checked, share};
use super::label;
use crate::design::TestDesign;
use crate::rig::Means;
use crate::units::{Length, Page, Quantity};
use crate::verdict::{Limit, Verdict};

/// The name of a check, with what it is of.
pub(super) fn called(design: &TestDesign, verdict: &Verdict, page: &Page) -> String {
    let mut name = label::check(verdict.slug).to_owned();
    let of = verdict.of;
    let thing = if of.thing.is_empty() { String::new() } else { thing(design, verdict, page) };
    for more in [thing.as_str(), of.part] {
        if !more.is_empty() {
            name = format!("{name}, {more}");
        }
    }
    name
}

/// The thing by its name or its place; empty where there is but one and it has none.
fn thing(design: &TestDesign, verdict: &Verdict, page: &Page) -> String {
    let of = verdict.of;
    let i = usize::from(of.number);
    let (rig, spec) = (&design.rig, &design.spec);
    let place = |word: &str, at: Length| format!("{word} at {}", page.place(at));
    let named = match of.thing {
        "catch" => design.shoring.catches.get(i).map(|c| place("catch", c.at)),
        "level" => spec.shoring.levels.get(i).map(|l| l.id.clone()),
        "floor" => design.shoring.floors.get(i).map(|f| f.id.clone()),
        "beam" => spec.rig.beams.get(i).map(|b| b.id.clone()),
        "bars" => rig.pulls.get(i).map(|p| place("bars", p.at)),
        "bars of jack" => jack(design, i).map(|at| place("bars of the jack", at)),
        "circuit" => rig.hydraulics.get(i).map(|h| match (&h.circuit, jack(design, i)) {
            (Some(circuit), _) => format!("circuit {circuit}"),
            (None, Some(at)) if rig.hydraulics.len() == rig.presses.len() => place("jack", at),
            _ => String::new(),
        }),
        "anchor" => {
            rig.reactions.iter().flat_map(|r| &r.anchors).nth(i).map(|a| place("anchor", a.at))
        }
        "bearing" => rig.bearings.get(i).map(|b| place(&format!("{}, bearing", b.reaction), b.at)),
        "carrier" => {
            design.layout.carriers.iter().find(|c| c.carrier == i).map(|c| c.name.to_string())
        }
        "limit" => spec.layout.limits.get(i).map(|l| {
            let basis = l.basis.basis().word();
            format!("{}, {basis}", l.effect.word())
        }),
        "region" => {
            let region = design.target.regions.get(i);
            region.map(|r| format!("region {} to {}", page.place(r.from), page.place(r.to)))
        }
        _ => None,
    };
    named.unwrap_or_else(|| format!("{} {}", of.thing, i + 1))
}

/// Where a jack presses, in the order of their places.
fn jack(design: &TestDesign, i: usize) -> Option<Length> {
    let jacks = design.rig.presses.iter().filter(|p| p.by == Means::Jack);
    let mut places: Vec<Length> = jacks.map(|p| p.at).collect();
    places.sort_by(|a, b| a.si().total_cmp(&b.si()));
    places.get(i).copied()
}

/// A table of checks.
pub(super) fn verdicts(out: &mut Vec<Block>, list: &[Verdict], design: &TestDesign, page: &Page) {
    let rows = list
        .iter()
        .map(|v| {
            let of = |si| checked(page, Quantity::new(v.demand.kind, si), DIGITS);
            let limit = match v.limit {
                Limit::AtMost(l) => format!("at most {}", of(l)),
                Limit::AtLeast(l) => format!("at least {}", of(l)),
                Limit::None => NONE.to_owned(),
            };
            vec![
                called(design, v, page),
                v.state.word().to_owned(),
                of(v.demand.si),
                limit,
                share(page, v.utilisation),
                v.basis.to_string(),
            ]
        })
        .collect::<Vec<_>>();
    if !rows.is_empty() {
        out.push(Block::Table(
            vec!["check", "state", "demand", "limit", "utilisation", "basis"],
            rows,
        ));
    }
}
