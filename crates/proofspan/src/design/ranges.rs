//! Do the checks hold all over the ranges of the inputs?
//!
//! The layout that was found is kept, places and forces. Then every ranged input is set to its
//! low and its high end, alone and (up to [`ALL_CORNERS`] inputs) in every combination, and the
//! checks are made again. A check that passes at one end and fails at another is Inconclusive; one
//! that is asked for at an end only is added and said; a stop that appears anywhere holds. Checks are taken to be monotone inside the ranges
//! (library rule, not a proof).

use std::sync::Arc;

use super::{TestDesign, designed};
use crate::error::{Error, Slug, slug};
use crate::rig::Counterweight;
use crate::source::{End, Given, Write};
use crate::spec::TestSpec;
use crate::units::{Message, Said};
use crate::verdict::{Note, State, Subject, Verdict};

/// Up to so many ranged inputs every combination of their ends is tried.
const ALL_CORNERS: usize = 8;

/// What makes a check the same at another end: its part, what it is of, its code, and its place among
/// those that are alike in all that. The check of a bearing is one whatever its code: what is seated may
/// lift, what is cast in may pull.
#[derive(Clone, PartialEq)]
struct Key {
    part: &'static str,
    of: Subject,
    code: Option<Slug>,
    /// The stage of a reaction member.
    stage: String,
    among: usize,
}

fn keyed(design: &TestDesign) -> Vec<(Key, Verdict)> {
    let mut list: Vec<(Key, Verdict)> = Vec::new();
    let mut stages = design
        .rig
        .stages
        .iter()
        .flat_map(|s| s.verdicts.iter().map(move |_| (&s.reaction, &s.name)));
    for (part, verdict) in design.verdicts() {
        let code = (part != "lift-off").then_some(verdict.slug);
        let stage = if part == "reaction member" { stages.next() } else { None };
        let stage = stage.map_or_else(String::new, |(member, name)| format!("{member}, {name}"));
        let mut key = Key { part, of: verdict.of, code, stage, among: 0 };
        while list.iter().any(|(k, _)| *k == key) {
            key.among += 1;
        }
        list.push((key, *verdict));
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
    let mut only: Vec<(Key, Vec<Verdict>)> = Vec::new();
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
            for (slot, verdict) in take(&corner, &base, &mut found, &mut only) {
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
        take(&corner, &base, &mut found, &mut only);
        stops(design, &corner);
    }
    let mut notes = Vec::new();
    design.predicted = predicted;
    let known = |n: &Note| design.notes.iter().any(|k| k.slug == n.slug && k.path == n.path);
    notes.extend(design.notes_predicted().into_iter().filter(|n| !known(n)));
    if changes {
        let message = "what is predicted of the member changes within the ranges: the end where it comes first is told";
        notes.push(Note::new(slug::VERDICT_RANGE_DECIDES, "capacity", message));
    }
    for (((verdict, others), names), (_, before)) in
        design.verdicts_mut().zip(&found).zip(&decides).zip(&base)
    {
        *verdict = verdict.across(others);
        if verdict.state == State::Inconclusive && before.state != State::Inconclusive {
            let names = if names.is_empty() { all.clone() } else { names.join(", ") };
            let most = verdict.utilisation.map_or_else(|| "no share of a limit".into(), Said::from);
            let message = Message::new(
                "{}: {} at the values given, another answer within the ranges; utilisation up to {}",
                [named_check(verdict), before.state.word().into(), most],
            );
            notes.push(Note::new(slug::VERDICT_RANGE_DECIDES, names, message));
        }
    }
    for (key, list) in only {
        notes.extend(design.appears(key.part, &list, &all));
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
        force: Some(Given::known(force)),
        water: None,
        at: Given::known(at),
        reaction: reaction.clone(),
    }));
}

/// A check by its code, and of what it is.
fn named_check(verdict: &Verdict) -> Said {
    let code = verdict.slug.code();
    if verdict.of.is_empty() { code.into() } else { format!("{code}, {}", verdict.of).into() }
}

impl TestDesign {
    /// Adds a check that is not asked for at the values given and is at an end of a range: where it is not
    /// met there it is open here. Nothing where it does not apply there either.
    fn appears(&mut self, part: &str, list: &[Verdict], names: &str) -> Option<Note> {
        let (first, rest) = list.split_first()?;
        let mut verdict = first.across(rest);
        if verdict.state == State::NotApplicable {
            return None;
        }
        if !verdict.state.counts_as_met() {
            verdict.state = State::Inconclusive;
        }
        match part {
            "layout" => self.layout.verdicts.push(verdict),
            "rig" | "reaction member" => self.rig.verdicts.push(verdict),
            "shoring" => self.shoring.verdicts.push(verdict),
            // of a bearing there is always a check
            _ => {}
        }
        let most = verdict.utilisation.map_or_else(|| "no share of a limit".into(), Said::from);
        let message = Message::new(
            "{}: not asked for at the values given, {} within the ranges; utilisation up to {}",
            [named_check(&verdict), verdict.state.word().into(), most],
        );
        Some(Note::new(slug::VERDICT_RANGE_DECIDES, names.to_owned(), message))
    }
}

/// Keeps the verdicts of a corner beside those of the base, and tells their places. What is not among
/// them is kept by itself.
fn take(
    corner: &TestDesign,
    base: &[(Key, Verdict)],
    found: &mut [Vec<Verdict>],
    only: &mut Vec<(Key, Vec<Verdict>)>,
) -> Vec<(usize, Verdict)> {
    let mut taken = Vec::new();
    for (key, verdict) in keyed(corner) {
        let Some(slot) = base.iter().position(|b| b.0 == key) else {
            match only.iter_mut().find(|o| o.0 == key) {
                Some((_, list)) => list.push(verdict),
                None => only.push((key, vec![verdict])),
            }
            continue;
        };
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

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;
    use crate::units::{Kind, Quantity};
    use crate::verdict::{Basis, Clause, Limit, MemberUnit};

    /// A design whose checks of the layout are these: region in doubt and clear distance over depth,
    /// of which 2 is asked.
    fn with(base: &TestDesign, checks: &[(usize, f64)]) -> TestDesign {
        let one = |(region, over): &(usize, f64)| {
            let demand = Quantity::new(Kind::Ratio, *over);
            let (basis, clause) =
                (Basis::absolute(MemberUnit::Beam), Clause::Named("library rule"));
            let code = slug::EQUIVALENT_NEAR_BEARING;
            Verdict::design(code, demand, Limit::AtLeast(2.0), basis, clause)
                .of(Subject::of("region", *region))
        };
        let mut own = base.clone();
        own.layout.verdicts = checks.iter().map(one).collect();
        own
    }

    fn design() -> TestDesign {
        let path =
            concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/scenarios/gallery_beam.test.json");
        let spec = TestSpec::from_json(&std::fs::read_to_string(path).unwrap()).unwrap();
        designed(Arc::new(spec), None, None).unwrap()
    }

    /// The first region fails where it is asked about; at one end no load stands beside its bearing and
    /// only the second has a check. What passes there is not taken for the first.
    #[test]
    fn a_check_is_compared_with_itself() {
        let any = design();
        let base = with(&any, &[(0, 1.5), (1, 3.0)]);
        let (keys, mut only) = (keyed(&base), Vec::new());
        let mut found = vec![Vec::new(); keys.len()];
        take(&with(&any, &[(1, 3.5)]), &keys, &mut found, &mut only);
        take(&with(&any, &[(0, 1.6), (1, 3.5)]), &keys, &mut found, &mut only);
        let across: Vec<State> =
            keys.iter().zip(&found).take(2).map(|(k, f)| k.1.across(f).state).collect();
        assert_eq!(across, [State::Fail, State::Pass]);
        assert!(only.is_empty());
    }

    /// A check that only an end asks for is in the answer and said; not met there it is open here.
    #[test]
    fn a_check_of_one_end_is_said() {
        let any = design();
        let base = with(&any, &[(1, 3.0)]);
        let (keys, mut only) = (keyed(&base), Vec::new());
        let mut found = vec![Vec::new(); keys.len()];
        take(&with(&any, &[(0, 1.5), (1, 3.0)]), &keys, &mut found, &mut only);
        let [(key, list)] = &only[..] else { unreachable!("one check more") };
        let mut own = base.clone();
        let note = own.appears(key.part, list, "beam.span").unwrap();
        assert_eq!((note.slug, &*note.path), (slug::VERDICT_RANGE_DECIDES, "beam.span"));
        assert!(note.message.to_string().contains("region 1"), "{}", note.message);
        let added = own.layout.verdicts.last().unwrap();
        assert_eq!((added.state, added.demand.si), (State::Inconclusive, 1.5));
    }
}
