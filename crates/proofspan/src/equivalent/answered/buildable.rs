//! A layout as it can be built: places to the inch or to 25 mm, forces to a step of the gauge,
//! checked again by the verifier.

use super::optimise::Answer;
use super::problem::Problem;
use super::search::Stage;
use crate::beam::{Beam, Load, Response};
use crate::equivalent::asked::candidate::{Candidate, forces_refused, held, loads};
use crate::equivalent::asked::objective::Objective;
use crate::equivalent::checked::verify::{Confirmation, confirm_response};
use crate::error::{Error, Issue, slug};
use crate::units::{Force, Length, Message, Net};

/// A layout of rounded places and forces.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct Buildable {
    /// The candidates in use in any stage, at rounded places.
    pub candidates: Vec<Candidate>,
    /// What stands on them in each stage, in the order of the stages.
    pub stages: Vec<BuiltStage>,
}

/// Rounded forces of one stage.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct BuiltStage {
    /// Forces, rounded, on one member unit, in the order of the candidates.
    pub forces: Vec<Net<Force>>,
    /// Their sum over the sum of the forces that were given: what rounding adds.
    pub growth: f64,
    /// What the verifier found.
    pub confirmation: Confirmation,
    /// The actions of the forces alone.
    pub response: Response,
    /// The loads as they stand on the beam.
    pub loads: Vec<Load>,
}

/// Roundings that are tried.
const TRIED: usize = 8;

/// Rounds a layout: each place to a neighbouring multiple of `place` (the first contact, the left edge
/// of a patch), the same for every stage; the forces solved again there, each force to a neighbouring
/// multiple of `force`. What is there in any case stays. `forces` holds one list a stage. The answer is
/// that with the smallest first objective before its forces are rounded, and of its roundings that with
/// the least sum that meets everything; nothing where none does: then a finer step or a wider limit is
/// needed.
///
/// # Errors
/// Steps that are not above zero, or larger than every force; forces that are not one list a stage; as
/// [`crate::equivalent::optimise`].
pub fn buildable(
    beam: &Beam,
    stages: &[Stage<'_>],
    candidates: &[Candidate],
    forces: &[Vec<Net<Force>>],
    objectives: &[Objective],
    (place, force): (Length, Force),
) -> Result<Option<Buildable>, Error> {
    refused(stages, candidates, forces, (place, force))?;
    let in_use = |i: usize| forces.iter().any(|own| own.get(i).is_some_and(|f| f.0 > Force::ZERO));
    let used: Vec<&Candidate> = candidates
        .iter()
        .enumerate()
        .filter(|(i, c)| in_use(*i) || c.always)
        .map(|(_, c)| c)
        .collect();
    let mut found: Vec<(f64, Vec<Candidate>, Vec<Vec<f64>>)> = Vec::new();
    'rounded: for ups in choices(used.len()) {
        let moved = |(c, up): (&&Candidate, &bool)| {
            if c.always {
                return (*c).clone();
            }
            let now = c.set_out();
            c.moved(place * on_step(now / place, *up) - now)
        };
        let candidates: Vec<Candidate> = used.iter().zip(&ups).map(moved).collect();
        if found.iter().any(|(_, c, _)| *c == candidates) {
            continue;
        }
        let (mut first, mut solved) = (f64::NEG_INFINITY, Vec::with_capacity(stages.len()));
        for stage in stages {
            // a place beyond the member, or two at one place, is no layout
            let problem = Problem::new(beam, stage.reference, &candidates, stage.requirements);
            let Ok(problem) = problem else { continue 'rounded };
            let Answer::Found(optimum) = problem.optimum(objectives)? else { continue 'rounded };
            first = first.max(optimum.objectives.first().copied().unwrap_or(f64::INFINITY));
            let p = problem.unknowns.iter().map(|u| {
                let (i, part) = u.members.first().copied().unwrap_or((0, 1.0));
                optimum.forces.get(i).map_or(0.0, |f| f.0.si() / part)
            });
            solved.push(p.collect());
        }
        found.push((first, candidates, solved));
    }
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    let sum = |forces: &[Net<Force>]| forces.iter().map(|f| f.0.si()).sum::<f64>();
    for (_, candidates, solved) in found {
        let mut built = Vec::with_capacity(stages.len());
        for ((stage, p), given) in stages.iter().zip(&solved).zip(forces) {
            let problem = Problem::new(beam, stage.reference, &candidates, stage.requirements)?;
            let Some(rounded) = rounded(&problem, p, force)? else { break };
            let growth = sum(&rounded.forces) / sum(given);
            built.push(BuiltStage { growth, ..rounded });
        }
        if built.len() == stages.len() {
            return Ok(Some(Buildable { candidates, stages: built }));
        }
    }
    Ok(None)
}

/// The rounding of forces with the least sum that meets everything.
fn rounded(problem: &Problem<'_>, p: &[f64], force: Force) -> Result<Option<BuiltStage>, Error> {
    let mut best: Option<(f64, BuiltStage)> = None;
    for ups in choices(p.len()) {
        // the step holds for the first carrier of each pressure source
        let rounded = p.iter().zip(&ups).zip(&problem.unknowns).map(|((p, up), unknown)| {
            let part = unknown.members.first().map_or(1.0, |m| m.1);
            if unknown.always {
                *p
            } else {
                on_step(p * part / force.si(), *up) * force.si() / part
            }
        });
        let p: Vec<f64> = rounded.collect();
        let total: f64 = p.iter().zip(&problem.unknowns).map(|(p, u)| p * u.cost).sum();
        if best.as_ref().is_some_and(|(t, _)| total >= *t) {
            continue;
        }
        let forces = problem.forces(&p);
        let loads = loads(problem.candidates, &forces);
        let response = held(problem.beam).response(&loads)?;
        let confirmation = confirm_response(
            &response,
            problem.reference,
            problem.requirements,
            problem.candidates,
            &forces,
        );
        if confirmation.violation <= 0.0 {
            best = Some((total, BuiltStage { forces, growth: 1.0, confirmation, response, loads }));
        }
    }
    Ok(best.map(|b| b.1))
}

fn refused(
    stages: &[Stage<'_>],
    candidates: &[Candidate],
    forces: &[Vec<Net<Force>>],
    (place, force): (Length, Force),
) -> Result<(), Error> {
    let mut issues = Vec::new();
    if stages.is_empty() || forces.len() != stages.len() {
        let message = format!("{} lists of forces for {} stages", forces.len(), stages.len());
        let issue = Issue::new(slug::EQUIVALENT_CANDIDATE, "forces", message);
        issues.push(issue.limit("one list a stage, one stage at least"));
    }
    for own in forces {
        forces_refused(candidates, own, &mut issues);
    }
    if !(place.is_finite() && place > Length::ZERO) {
        issues.push(
            Issue::new(slug::EQUIVALENT_STEP, "place", "a step of places that is none")
                .value(place)
                .limit("above zero"),
        );
    }
    let largest = forces.iter().flatten().fold(Force::ZERO, |m, f| m.max(f.0));
    if !(force.is_finite() && force > Force::ZERO) {
        issues.push(
            Issue::new(slug::EQUIVALENT_STEP, "force", "a step of forces that is none")
                .value(force)
                .limit("above zero"),
        );
    } else if force > largest && largest > Force::ZERO {
        issues.push(
            Issue::new(slug::EQUIVALENT_STEP, "force", "a step larger than every force")
                .value(force)
                .limit(Message::new("up to {}", [largest.into()])),
        );
    }
    Error::check(issues)
}

/// A number of steps that is whole; one that is whole already stays.
fn on_step(steps: f64, up: bool) -> f64 {
    if (steps - steps.round()).abs() <= 1e-7 {
        steps.round()
    } else if up {
        steps.ceil()
    } else {
        steps.floor()
    }
}

/// Up or down for each, all up first; all together beyond [`TRIED`].
fn choices(n: usize) -> Vec<Vec<bool>> {
    if n > TRIED {
        return vec![vec![true; n], vec![false; n]];
    }
    let mut all: Vec<Vec<bool>> =
        (0_u32..1 << n).map(|mask| (0..n).map(|i| mask & (1 << i) == 0).collect()).collect();
    all.sort_by_key(|ups| ups.iter().filter(|up| !**up).count());
    all
}
