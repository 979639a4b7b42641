//! Do the checks hold all over the ranges of the inputs?
//!
//! The layout that was found is kept, places and forces. Then every ranged input is set to its
//! low and its high end, alone and (up to [`ALL_CORNERS`] inputs) in every combination, and the
//! checks are made again. A check that passes at one end and fails at another is Inconclusive;
//! a stop that appears anywhere holds. Checks are taken to be monotone inside the ranges
//! (library rule, not a proof).

use std::sync::Arc;

use super::{TestDesign, designed};
use crate::error::{Error, Slug, slug};
use crate::rig::Counterweight;
use crate::source::{End, Given, Write};
use crate::spec::TestSpec;
use crate::units::{Message, Said};
use crate::verdict::{Note, State, Verdict};

/// Up to so many ranged inputs every combination of their ends is tried.
const ALL_CORNERS: usize = 8;

/// A check by its part, its code, and its place among those of the same code.
type Key = (&'static str, Slug, usize);

fn keyed(design: &TestDesign) -> Vec<(Key, Verdict)> {
    let mut list: Vec<(Key, Verdict)> = Vec::new();
    for (part, verdict) in design.verdicts() {
        let before = list.iter().filter(|(k, _)| k.0 == part && k.1 == verdict.slug).count();
        list.push(((part, verdict.slug, before), *verdict));
    }
    list
}

/// Widens the verdicts of a design by the ranges of its inputs.
///
/// # Errors
/// An end of a range at which no design is possible, named.
pub(super) fn widen(design: &mut TestDesign) -> Result<(), Error> {
    let mut names: Vec<String> = Vec::new();
    let mut copy = (*design.spec).clone();
    let mut cut: Vec<String> = Vec::new();
    copy.ranges("", &mut |path, ends| {
        names.push(path.to_owned());
        if ends {
            cut.push(path.to_owned());
        }
        End::Given
    });
    let base = keyed(design);
    let mut found: Vec<Vec<Verdict>> = vec![Vec::new(); base.len()];
    let mut decides: Vec<Vec<&str>> = vec![Vec::new(); base.len()];
    // what is predicted is no verdict: the ends where it comes first are kept
    let mut predicted = design.predicted.clone();
    let mut changes = false;
    let mut along = |corner: &TestDesign| {
        if let (Some(own), Some(other)) = (&mut predicted, &corner.predicted) {
            changes |= own.across(other);
        }
    };
    for (i, name) in names.iter().enumerate() {
        for end in [End::Low, End::High] {
            let corner = at(design, &|k| if k == i { end } else { End::Given })
                .map_err(|e| named(e, name))?;
            along(&corner);
            for (slot, verdict) in take(&corner, &base, &mut found) {
                let flips = base.get(slot).is_some_and(|b| b.1.state != verdict.state);
                if let Some(list) = decides.get_mut(slot).filter(|l| flips && !l.contains(&&**name))
                {
                    list.push(name);
                }
            }
            stops(design, &corner);
        }
    }
    let all = names.join(", ");
    let combinations = if names.len() <= ALL_CORNERS { 1_usize << names.len() } else { 2 };
    for mask in 0..combinations {
        let high =
            |k: usize| if names.len() <= ALL_CORNERS { mask >> k & 1 == 1 } else { mask == 1 };
        let corner = at(design, &|k| if high(k) { End::High } else { End::Low })
            .map_err(|e| named(e, &all))?;
        along(&corner);
        take(&corner, &base, &mut found);
        stops(design, &corner);
    }
    let mut notes = Vec::new();
    design.predicted = predicted;
    if let (Some(capacity), Some(found)) = (&design.spec.capacity, &design.predicted) {
        let known = |n: &Note| design.notes.iter().any(|k| k.slug == n.slug && k.path == n.path);
        notes.extend(
            capacity.notes(found, design.spec.loads.width.value).into_iter().filter(|n| !known(n)),
        );
    }
    if changes {
        let message = "what is predicted of the member changes within the ranges: the end where it comes first is told";
        notes.push(Note::new(slug::VERDICT_RANGE_DECIDES, "capacity", message));
    }
    for (((verdict, others), names), (key, before)) in
        design.verdicts_mut().into_iter().zip(&found).zip(&decides).zip(&base)
    {
        *verdict = verdict.across(others);
        if verdict.state == State::Inconclusive && before.state != State::Inconclusive {
            let names = if names.is_empty() { all.clone() } else { names.join(", ") };
            let most = verdict.utilisation.map_or_else(|| "no share of a limit".into(), Said::from);
            let message = Message::new(
                "{}: {} at the values given, another answer within the ranges; utilisation up to {}",
                [key.1.code().into(), before.state.word().into(), most],
            );
            notes.push(Note::new(slug::VERDICT_RANGE_DECIDES, names, message));
        }
    }
    for path in cut {
        let message = "the value less or plus twice its uncertainty lies beyond what it can be: the range ends there";
        notes.push(Note::new(slug::VERDICT_RANGE_CUT, path, message));
    }
    if names.len() > ALL_CORNERS {
        let message = format!(
            "{} inputs are ranges: their ends were tried one by one, all low and all high, not in every combination",
            names.len()
        );
        notes.push(Note::new(slug::VERDICT_RANGE_CORNERS, "", message));
    }
    design.notes.extend(notes);
    Ok(())
}

/// The design with the same layout at chosen ends.
fn at(design: &TestDesign, end: &dyn Fn(usize) -> End) -> Result<TestDesign, Error> {
    let mut spec = (*design.spec).clone();
    let mut count = 0;
    spec.ranges("", &mut |_, _| {
        count += 1;
        end(count - 1)
    });
    keep_blocks(design, &mut spec);
    designed(Arc::new(spec), Some(&design.layout), None)
}

/// The blocks that were chosen stay where they stand, as heavy as they are at this end: nothing is
/// chosen anew.
fn keep_blocks(design: &TestDesign, spec: &mut TestSpec) {
    let standing = design.rig.standing(&spec.rig);
    let (Some(a), Some(b)) = (standing.first(), standing.last()) else { return };
    let on = design.rig.reactions.iter().find(|r| {
        r.response.is_some() && r.reach.is_some_and(|(from, to)| a.0 >= from && b.0 <= to)
    });
    let reaction = on.map(|r| r.id.clone());
    spec.rig.blocks = None;
    spec.rig.counterweights.extend(standing.into_iter().map(|(at, force)| Counterweight {
        force: Given::known(force),
        at: Given::known(at),
        reaction: reaction.clone(),
    }));
}

/// Keeps the verdicts of a corner beside those of the base, and tells their places.
fn take(
    corner: &TestDesign,
    base: &[(Key, Verdict)],
    found: &mut [Vec<Verdict>],
) -> Vec<(usize, Verdict)> {
    let mut taken = Vec::new();
    for (key, verdict) in keyed(corner) {
        let Some(slot) = base.iter().position(|b| b.0 == key) else { continue };
        if let Some(list) = found.get_mut(slot) {
            list.push(verdict);
        }
        taken.push((slot, verdict));
    }
    taken
}

/// Adds the stops of a corner that the design does not have yet.
fn stops(design: &mut TestDesign, corner: &TestDesign) {
    for stop in &corner.stops {
        if design.stops.iter().all(|s| s.slug != stop.slug || s.path != stop.path) {
            let mut stop = stop.clone();
            stop.message = stop.message.after("within the ranges of the inputs: ");
            design.stops.push(stop);
        }
    }
}

fn named(mut error: Error, name: &str) -> Error {
    for issue in &mut error.issues {
        issue.message = issue.message.clone().after(format!("at an end of the range of {name}: "));
    }
    error
}
