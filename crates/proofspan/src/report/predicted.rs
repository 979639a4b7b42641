//! What is predicted of the member, as a part of the report.

use super::block::Block;
use crate::capacity::shear::PredictedShear;
use crate::capacity::strengthening::LostCheck;
use crate::capacity::{DeflectionStep, Face, Predicted, PredictedMode, PredictedSection};
use crate::design::TestDesign;
use crate::units::{Length, Page, Quantity};
use crate::verdict::{State, Verdict};

/// Significant digits: a strength is not known better.
const DIGITS: usize = 4;

/// Cracking, flexure and shear along the member; without a part of the document, that nothing is predicted.
pub(super) fn predicted(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
    let Some(found) = &design.predicted else {
        let text =
            "Nothing was predicted: the document does not describe the sections of the member.";
        out.push(Block::Text(text.to_owned()));
        return;
    };
    let shear = found.shear_code.map_or("not predicted".to_owned(), |c| format!("by {c}"));
    out.push(Block::Text(format!(
        "Predictions to plan the test by, no approval. Flexure by {}, cracking by {}, shear {shear}; expected strengths unless said; total moments, sagging positive.",
        found.code, found.rule
    )));
    let firsts = [("mode", &found.first), ("failure", &found.first_failure)];
    for (what, first) in firsts {
        if let Some(first) = first {
            out.push(Block::Text(mode(what, first, page)));
        }
    }
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
    sheared(out, found, page);
    exercises(out, found, page);
    bends(out, found, page);
    apart(out, found, page);
    locally(out, found, page);
    cures(out, design, page);
    out.push(Block::Text(format!("Not predicted: {}.", found.left_out.join("; "))));
}

/// One sentence on a mode that comes first.
fn mode(what: &str, first: &PredictedMode, page: &Page) -> String {
    let band = first.uncertainty.map_or_else(
        || "its scatter is not given".to_owned(),
        |u| format!("u {}", page.number(u, 2)),
    );
    let stays = match first.stays_away {
        State::Pass => "predicted not to be reached by the test",
        State::Fail => "predicted to be reached by the test",
        _ => {
            "Inconclusive whether the test reaches it: the margin is within the scatter, or the scatter is not given"
        }
    };
    format!(
        "The first {what}: {} at {}, at {} of the test load ({band}){}, {}; {stays}.",
        first.mode,
        page.value(first.at, DIGITS),
        page.number(first.share, 3),
        first.used.map_or_else(String::new, |u| format!(
            ", {} of the expected strength at full test load",
            page.number(u, 3)
        )),
        if first.brittle { "brittle, without warning" } else { "with warning" },
    )
}

/// Shear, place by place.
fn sheared(out: &mut Vec<Block>, found: &Predicted, page: &Page) {
    if found.shear.is_empty() {
        return;
    }
    let row = |s: &PredictedShear| {
        vec![
            page.value(s.at, DIGITS),
            page.value(s.total, DIGITS),
            s.uncertainty.map_or_else(
                || page.value(s.expected, DIGITS),
                |u| format!("{}, u {}", page.value(s.expected, DIGITS), page.value(u, 2)),
            ),
            s.design.map_or_else(|| "not predicted".to_owned(), |d| page.value(d, DIGITS)),
            page.number(s.fails_at, 3),
            format!("{}{}", s.governs, if s.stirrups { "" } else { ", no stirrups counted" }),
        ]
    };
    let larger = |a: &&PredictedShear, b: &&PredictedShear| {
        a.total.abs().si().total_cmp(&b.total.abs().si())
    };
    if let Some(most) = found.shear.iter().max_by(larger) {
        out.push(Block::Text(format!(
            "Nearer to a bearing than the effective depth (half the depth of a prestressed member by ACI 318) the edition asks about no section unless a force of the test stands there; the section of largest shear that it asks about is at {}, with {} at full test load.",
            page.value(most.at, DIGITS),
            page.value(most.total, DIGITS),
        )));
    }
    let first: Option<Length> = found.shear_first.as_ref().map(|f| f.at);
    let rows = found.shear.iter().enumerate();
    let rows =
        rows.filter(|(i, s)| i % 4 == 0 || first == Some(s.at)).map(|(_, s)| row(s)).collect();
    out.push(Block::Table(
        vec![
            "place",
            "shear at full test load",
            "expected strength",
            "design strength",
            "share of the load",
            "what decides",
        ],
        rows,
    ));
}

/// Whether the test strains what strengthens at all.
fn exercises(out: &mut Vec<Block>, found: &Predicted, page: &Page) {
    let Some(most) = &found.exercised else { return };
    let e = &most.exercised;
    out.push(Block::Text(format!(
        "Whether the test exercises what strengthens in shear: {}. It brings at most {} at {}, the web is expected to crack there at {}; before that wraps and added stirrups are nearly idle.",
        e.likely,
        page.value(e.test, DIGITS),
        page.value(most.at, DIGITS),
        page.value(e.cracking, DIGITS),
    )));
}

/// Deflection over load by the sections, beside the beam of the document.
fn bends(out: &mut Vec<Block>, found: &Predicted, page: &Page) {
    let Some(s) = &found.stiffness else { return };
    out.push(Block::Text(format!(
        "Deflection that the test adds at {}: by the beam of the document {} stiff, {} soft at full test load; by the sections, as cracked as the test makes them, as below. Stop limits count with the stiff one, gap, stroke and ranges with the soft one of the {}.",
        page.value(s.at, DIGITS),
        page.small(s.beam_stiff),
        page.small(s.beam_soft),
        s.used,
    )));
    if let Some(b) = &s.breaks {
        out.push(Block::Text(format!(
            "By its sections the member {} at {}, at {} of the test load: at {} in all the {} face opens, and no steel there carries that. Nothing is predicted beyond; gap, stroke and ranges of the sections count with the member as it is up to there.",
            b.state,
            page.value(b.at, DIGITS),
            page.number(b.share, 3),
            page.value(b.moment, DIGITS),
            b.face,
        )));
    }
    if s.steps.is_empty() {
        return;
    }
    let row = |step: &DeflectionStep| {
        vec![page.number(step.share, 3), page.small(step.stiff), page.small(step.soft)]
    };
    out.push(Block::Table(
        vec!["share of the test load", "stiff, by the sections", "soft, by the sections"],
        s.steps.iter().map(row).collect(),
    ));
}

/// A check as cells: state, demand, limit, utilisation.
fn cells(v: &Verdict, page: &Page) -> [String; 4] {
    let kind = v.demand.kind;
    let of = |si: f64| page.value(Quantity::new(kind, si), DIGITS);
    [
        v.state.word().to_owned(),
        of(v.demand.si),
        v.limit.value().map_or_else(|| "none".to_owned(), of),
        v.utilisation.map_or_else(|| "none".to_owned(), |u| page.number(u, 3)),
    ]
}

/// The member without its strengthening, and in fire.
fn apart(out: &mut Vec<Block>, found: &Predicted, page: &Page) {
    if found.without.is_empty() {
        return;
    }
    out.push(Block::Text("Checks of the member without its strengthening, and in fire, by the loads of the document: each stands for itself, and a test that was passed never makes one good that fails.".to_owned()));
    let row = |c: &LostCheck| {
        let whose = if c.predicted { "predicted" } else { "as given" };
        let [state, demand, limit, used] = cells(&c.check.verdict, page);
        let rule = format!("{}, {}, {}", c.check.case.word(), c.effect, c.check.rule);
        vec![rule, page.value(c.at, DIGITS), state, demand, format!("{limit}, {whose}"), used]
    };
    out.push(Block::Table(
        vec![
            "check",
            "nearest to breaking at",
            "state",
            "must carry",
            "design strength",
            "utilisation",
        ],
        found.without.iter().map(row).collect(),
    ));
}

/// What gives way under what presses, and at the bearings.
fn locally(out: &mut Vec<Block>, found: &Predicted, page: &Page) {
    let rows = found.local.iter().flat_map(|l| {
        l.found.checks.iter().map(|c| {
            let [state, demand, limit, used] = cells(&c.verdict, page);
            let at = l.at.map_or_else(String::new, |x| format!(" at {}", page.value(x, DIGITS)));
            let what = format!("{}: {}, {}", l.name, l.found.mode, l.found.clause);
            vec![what, format!("{}{at}, {}", l.under, c.action), state, demand, limit, used]
        })
    });
    let rows: Vec<_> = rows.collect();
    if !rows.is_empty() {
        let head =
            vec!["local check", "under", "state", "action", "design strength", "utilisation"];
        out.push(Block::Table(head, rows));
    }
    if let Some((part, share)) = found.local_first() {
        let member = found.first_failure.as_ref().map(|m| m.share);
        let order = match member {
            Some(member) if share < member => "before the member itself fails",
            Some(_) => "after the member itself fails",
            None => "no failure of the member itself is predicted",
        };
        let known = if part.found.expected.is_some() { "expected" } else { "design" };
        out.push(Block::Text(format!(
            "Of these {} comes first as the load of the test grows: its {known} strength is reached at {} of the test load, {order}.",
            part.name,
            page.number(share, 3),
        )));
    }
}

/// What must be at strength before the test.
fn cures(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
    let Some(capacity) = design.spec.capacity.as_ref().filter(|c| !c.curing.is_empty()) else {
        return;
    };
    let day = design.spec.records.test_day.as_deref().unwrap_or("not given");
    out.push(Block::Text(format!(
        "What must be at strength before the test, which is planned for {day}:"
    )));
    let rows = capacity.curing.iter().map(|c| {
        let place = c.place.as_ref().map_or_else(String::new, |p| format!(", {p}"));
        let bond = c.bond_test.as_ref().map_or_else(
            || "no test of the bond".to_owned(),
            |b| {
                format!(
                    "{} on {}, at least {} asked",
                    page.value(b.least.value, DIGITS),
                    b.date,
                    page.value(b.asked.value, DIGITS)
                )
            },
        );
        vec![format!("{}{place}", c.work), c.placed.clone(), c.ready.clone(), bond]
    });
    out.push(Block::Table(vec!["work", "placed", "at strength from", "bond"], rows.collect()));
}

/// The first failure in a few words, for the headline of a plan.
pub(super) fn foreseen(design: &TestDesign, page: &Page) -> Option<String> {
    let found = design.predicted.as_ref()?;
    let first = found.first_failure.as_ref()?;
    let broken = found.without.iter().any(|c| c.check.verdict.state == State::Fail);
    let sooner = found.local_first().filter(|(_, share)| *share < first.share);
    let sooner = sooner.map_or_else(String::new, |(part, share)| {
        format!("; {} before it, at {}", part.name, page.number(share, 3))
    });
    let stripped = design.spec.capacity.as_ref().is_some_and(|c| c.stripped());
    Some(format!(
        "predicted, not approved: first {} at {}, at {} of the test load, {}{sooner}{}{}",
        first.mode,
        page.value(first.at, DIGITS),
        page.number(first.share, 3),
        if first.brittle { "brittle" } else { "with warning" },
        if stripped {
            "; peeling of the ends of strips is not predicted and may come before it"
        } else {
            ""
        },
        if broken {
            "; it fails a check without its strengthening or in fire, which no test cures"
        } else {
            ""
        },
    ))
}
