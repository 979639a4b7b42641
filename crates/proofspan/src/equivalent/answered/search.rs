//! How many carriers, and at which of the candidate places?
//!
//! Every choice is tried where there are few enough, and each is solved exactly: rows that were
//! found for one choice serve the next, and a choice whose rows so far cost more than the best is
//! left at once, since further rows only cost more. Beyond that the search is a heuristic that adds
//! and exchanges candidates; then the answer says so, with the bound of all candidates at once.

use super::conflict::Conflict;
use super::hunt::{Hunt, TIES};
use super::optimise::{Answer, Optimum};
use super::pool::Pool;
use super::problem::{EQUAL, Problem};
use crate::beam::Beam;
use crate::equivalent::asked::candidate::{Candidate, MOST_CANDIDATES};
use crate::equivalent::asked::objective::{self, Goal, Objective};
use crate::equivalent::asked::reference::Reference;
use crate::equivalent::asked::requirement::Requirement;
use crate::error::{Error, Issue, slug};
use crate::units::Length;

/// A region in doubt with what must hold while it is tested. Several stages share the places and
/// have their own forces.
#[derive(Clone, Copy, Debug)]
pub struct Stage<'a> {
    /// What it is called.
    pub name: &'a str,
    /// What must be reproduced.
    pub reference: &'a Reference,
    /// What must hold.
    pub requirements: &'a [Requirement],
}

/// The best choice of so many carriers.
#[derive(Clone, PartialEq, Debug)]
pub struct Choice {
    /// How many carriers, those that are there in any case not counted; zero where those alone will do.
    pub number: usize,
    /// The candidates in use, by their places in the list, those of any case included.
    pub candidates: Vec<usize>,
    /// The objectives; with several stages each is that of the stage that asks most.
    pub objectives: Vec<f64>,
    /// One answer a stage, forces in the order of `candidates`.
    pub stages: Vec<Optimum>,
    /// Whether every choice of this number was tried.
    pub exact: bool,
}

/// What a search found.
#[derive(Clone, PartialEq, Debug)]
pub struct Searched {
    /// The best by the order of the objectives; nothing where no choice will do.
    pub best: Option<Choice>,
    /// The best of each number of carriers, where there is any: what a further one buys.
    pub by_number: Vec<Choice>,
    /// No choice of these candidates, of any number, has a smaller first objective (that after the
    /// number of carriers); nothing where even all of them together will not do.
    pub bound: Option<f64>,
    /// Why all candidates together will not do; or, where they would and no choice does, why that choice
    /// will not which comes nearest to the reference.
    pub conflict: Option<Box<Conflict>>,
    /// What was tried, in words.
    pub about: String,
}

/// So many carriers are chosen at the most; each number is a search of its own.
pub const MOST_CARRIERS: usize = 12;
/// So many choices of each number are tried one by one: four of forty, and more of fewer.
const TRIED: u64 = 125_000;

/// Chooses at most `at_most` of the candidates with `spacing` clear between what they cover. Of each number
/// up to [`MOST_CARRIERS`] every choice is tried where there are no more than 125 000, else choices are
/// exchanged.
///
/// # Errors
/// Every problem of candidates, requirements and objectives at once; `equivalent.solver`.
pub fn search(
    beam: &Beam,
    stages: &[Stage<'_>],
    candidates: &[Candidate],
    at_most: usize,
    spacing: Option<Length>,
    objectives: &[Objective],
) -> Result<Searched, Error> {
    let mut issues = Vec::new();
    if stages.is_empty() {
        let issue = Issue::new(slug::EQUIVALENT_REQUIREMENT, "stages", "no stage");
        issues.push(issue.remedy("give at least one stage"));
    }
    if at_most == 0 {
        let issue = Issue::new(slug::EQUIVALENT_CANDIDATE, "at_most", "no carrier is allowed");
        issues.push(issue.limit("1 or more").remedy("allow at least one carrier"));
    }
    // those that could be used at once; a larger number than there are candidates asks no more
    if at_most.min(candidates.len()) > MOST_CARRIERS && candidates.len() <= MOST_CANDIDATES {
        let issue = Issue::new(slug::EQUIVALENT_CANDIDATE, "at_most", "too many carriers at once");
        let issue = issue.value(at_most).limit(format!("up to {MOST_CARRIERS}"));
        issues.push(issue.remedy("allow fewer, or give every carrier to `optimise`"));
    }
    if let Some(spacing) = spacing.filter(|s| !(s.is_finite() && *s >= Length::ZERO)) {
        let issue = Issue::new(slug::EQUIVALENT_CANDIDATE, "spacing", "a clear spacing below zero");
        issues.push(issue.value(spacing).limit("zero or more"));
    }
    if objectives.iter().all(|o| o.of == Goal::Carriers) {
        let issue = Issue::new(
            slug::EQUIVALENT_OBJECTIVE,
            "objectives",
            "fewest carriers leaves the forces open",
        );
        issues.push(issue.limit("a further objective: overshoot, peak, total, uplift"));
    }
    if let Some(stage) = stages.first() {
        objective::refused(objectives, stage.reference, beam, true, &mut issues);
    }
    let mut problems = Vec::with_capacity(stages.len());
    for (i, stage) in stages.iter().enumerate() {
        match Problem::checked(beam, stage.reference, candidates, stage.requirements, Vec::new()) {
            Ok(problem) => problems.push(problem),
            Err(error) if i == 0 || stages.len() == 1 => issues.extend(error.issues),
            Err(error) => {
                let named = error.issues.into_iter().map(|issue| {
                    let path = format!("stages[{i}].{}", issue.path);
                    Issue { path, ..issue }
                });
                issues.extend(named);
            }
        }
    }
    Error::check(issues)?;
    let rest: Vec<Objective> =
        objectives.iter().filter(|o| o.of != Goal::Carriers).cloned().collect();
    let Some(first) = rest.first() else { return Ok(nothing()) };
    let mut pools: Vec<Pool<'_>> = problems.iter().map(|p| Pool::new(p, first)).collect();
    let hunt = Hunt::new(beam, &problems, spacing);
    // all candidates at once: a bound, and the conflict where even they will not do
    let mut bound = 0.0_f64;
    for (problem, pool) in problems.iter().zip(&mut pools) {
        match pool.all(problem)? {
            Some(value) => bound = bound.max(value),
            None => {
                let conflict = Some(Box::new(problem.conflict()?));
                return Ok(Searched { conflict, ..nothing() });
            }
        }
    }
    let fewest_first = objectives.first().is_some_and(|o| o.of == Goal::Carriers);
    let mut by_number: Vec<Choice> = Vec::new();
    let mut last: Vec<usize> = Vec::new();
    let mut about = Vec::new();
    let first_number = usize::from(hunt.always.is_empty());
    for number in first_number..=at_most.min(hunt.carriers()) {
        let every = hunt.choices(number) <= TRIED;
        let (value, tied) = if every {
            hunt.every(number, &mut pools)?
        } else {
            hunt.exchanged(number, &last, &mut pools)?
        };
        let Some(ties) = value.map(|_| tied) else {
            about.push(tried_words(number, every));
            continue;
        };
        // where choices tie, the further objectives decide; too many ties are not all looked at
        let exact = every && (rest.len() < 2 || ties.len() < TIES);
        about.push(tried_words(number, exact));
        let ties = if rest.len() < 2 || ties.len() < 2 {
            ties
        } else {
            decided(beam, stages, candidates, &hunt, &problems, (ties, &rest))?
        };
        let mut best: Option<Choice> = None;
        for set in ties {
            let choice = settle(
                beam,
                stages,
                candidates,
                &hunt.members(&set, &problems),
                number,
                exact,
                &rest,
            )?;
            let Some(choice) = choice else { continue };
            if best.as_ref().is_none_or(|b| less(&choice.objectives, &b.objectives)) {
                last = set;
                best = Some(choice);
            }
        }
        by_number.extend(best);
        if fewest_first && !by_number.is_empty() {
            break;
        }
    }
    let mut best: Option<&Choice> = None;
    for choice in &by_number {
        if best.is_none_or(|b| less(&choice.objectives, &b.objectives)) {
            best = Some(choice);
        }
    }
    let best = best.cloned();
    let mut conflict = None;
    if best.is_none() {
        about.push("none of these will do; all candidates together would".to_owned());
        if let Some((chosen, reaches)) = nearest(&hunt, &problems, at_most)? {
            let chosen: Vec<Candidate> =
                chosen.iter().filter_map(|i| candidates.get(*i)).cloned().collect();
            let reference = problems.first().map(|p| p.reference);
            let names = chosen.iter().zip(reference.into_iter().cycle());
            let names: Vec<String> = names.map(|(c, r)| c.label_in(r.system)).collect();
            about.push(format!(
                "the nearest, {}, reaches {reaches:.6} of the reference",
                names.join(" and ")
            ));
            for stage in stages {
                let problem = Problem::new(beam, stage.reference, &chosen, stage.requirements)?;
                if let Answer::Conflict(found) = problem.optimum(&rest)? {
                    conflict = Some(found);
                    break;
                }
            }
        }
    }
    Ok(Searched { best, by_number, bound: Some(bound), conflict, about: about.join("; ") })
}

/// What was tried of a number, in words.
fn tried_words(number: usize, exact: bool) -> String {
    let how = if exact { "every choice tried" } else { "choices exchanged, not all tried" };
    format!("{number}: {how}")
}

/// Of sets that tie in the first objective the one with the best further ones.
fn decided(
    beam: &Beam,
    stages: &[Stage<'_>],
    candidates: &[Candidate],
    hunt: &Hunt,
    problems: &[Problem<'_>],
    (ties, objectives): (Vec<Vec<usize>>, &[Objective]),
) -> Result<Vec<Vec<usize>>, Error> {
    let mut best: Option<(Vec<f64>, Vec<usize>)> = None;
    'sets: for set in ties {
        let members = hunt.members(&set, problems);
        let chosen: Vec<Candidate> =
            members.iter().filter_map(|i| candidates.get(*i)).cloned().collect();
        let mut worst = vec![f64::NEG_INFINITY; objectives.len()];
        for stage in stages {
            let problem = Problem::new(beam, stage.reference, &chosen, stage.requirements)?;
            let Some(values) = problem.values(objectives)? else { continue 'sets };
            worst.iter_mut().zip(values).for_each(|(w, v)| *w = w.max(v));
        }
        if best.as_ref().is_none_or(|(b, _)| less(&worst, b)) {
            best = Some((worst, set));
        }
    }
    Ok(best.into_iter().map(|b| b.1).collect())
}

/// The choice that reaches most of the reference with all limits kept, and how much.
fn nearest(
    hunt: &Hunt,
    problems: &[Problem<'_>],
    at_most: usize,
) -> Result<Option<(Vec<usize>, f64)>, Error> {
    let mut pools: Vec<Pool<'_>> = problems.iter().map(Pool::reaching).collect();
    for number in (usize::from(hunt.always.is_empty())..=at_most.min(hunt.carriers())).rev() {
        let (value, tied) = if hunt.choices(number) <= TRIED {
            hunt.every(number, &mut pools)?
        } else {
            hunt.exchanged(number, &[], &mut pools)?
        };
        if let (Some(short), Some(set)) = (value, tied.first()) {
            return Ok(Some((hunt.members(set, problems), 1.0 - short)));
        }
    }
    Ok(None)
}

const fn nothing() -> Searched {
    Searched {
        best: None,
        by_number: Vec::new(),
        bound: None,
        conflict: None,
        about: String::new(),
    }
}

/// Whether one list of objectives is smaller than another, the first before the second.
pub(in crate::equivalent) fn less(a: &[f64], b: &[f64]) -> bool {
    for (a, b) in a.iter().zip(b) {
        if a.is_infinite() != b.is_infinite() {
            return a < b;
        }
        if (a - b).abs() > EQUAL * a.abs().max(b.abs()) {
            return a < b;
        }
    }
    false
}

/// Solves a choice with every objective.
fn settle(
    beam: &Beam,
    stages: &[Stage<'_>],
    candidates: &[Candidate],
    set: &[usize],
    number: usize,
    exact: bool,
    objectives: &[Objective],
) -> Result<Option<Choice>, Error> {
    let chosen: Vec<Candidate> = set.iter().filter_map(|i| candidates.get(*i)).cloned().collect();
    let mut answers = Vec::with_capacity(stages.len());
    let mut worst = vec![f64::NEG_INFINITY; objectives.len()];
    for stage in stages {
        let problem = Problem::new(beam, stage.reference, &chosen, stage.requirements)?;
        let Answer::Found(found) = problem.optimum(objectives)? else { return Ok(None) };
        worst.iter_mut().zip(&found.objectives).for_each(|(w, o)| *w = w.max(*o));
        answers.push(*found);
    }
    Ok(Some(Choice { number, candidates: set.to_vec(), objectives: worst, stages: answers, exact }))
}
