//! A layout as it can be built: places to the inch or to 25 mm, forces to a step of the gauge,
//! checked again by the verifier.

use super::candidate::Candidate;
use super::confirm::{Confirmation, confirm_actions};
use super::objective::Objective;
use super::optimise::{Answer, Problem};
use super::require::{Reference, Requirement};
use crate::beam::{Actions, Beam, Load};
use crate::error::{Error, Issue, slug};
use crate::units::{Force, Length, Net};

/// A layout of rounded places and forces.
#[derive(Clone, PartialEq, Debug)]
pub struct Buildable {
    /// The candidates in use, at rounded places.
    pub candidates: Vec<Candidate>,
    /// Their forces, rounded, on one member unit.
    pub forces: Vec<Net<Force>>,
    /// What the verifier found.
    pub confirmation: Confirmation,
    /// The actions of the forces alone.
    pub actions: Actions,
    /// The loads as they stand on the beam.
    pub loads: Vec<Load>,
}

/// Roundings that are tried.
const TRIED: usize = 8;

/// Rounds a layout: each place to a neighbouring multiple of `place` (the first contact, the left edge
/// of a patch), the forces solved again there, each force to a neighbouring multiple of `force`. What
/// is there in any case stays. The answer is that with the smallest first objective before its forces
/// are rounded, and of its roundings that with the least sum that meets everything; nothing where none
/// does: then a finer step or a wider limit is needed.
///
/// # Errors
/// Steps that are not above zero; as [`super::optimise`].
pub fn buildable(
    beam: &Beam,
    reference: &Reference,
    requirements: &[Requirement],
    layout: (&[Candidate], &[Net<Force>]),
    objectives: &[Objective],
    (place, force): (Length, Force),
) -> Result<Option<Buildable>, Error> {
    let mut issues = Vec::new();
    if !(place.is_finite() && place > Length::ZERO) {
        issues.push(
            Issue::new(slug::EQUIVALENT_STEP, "place", "a step of places that is none")
                .value(place)
                .limit("above zero"),
        );
    }
    if !(force.is_finite() && force > Force::ZERO) {
        issues.push(
            Issue::new(slug::EQUIVALENT_STEP, "force", "a step of forces that is none")
                .value(force)
                .limit("above zero"),
        );
    }
    Error::check(issues)?;
    let used: Vec<&Candidate> = layout
        .0
        .iter()
        .zip(layout.1)
        .filter(|(c, f)| f.0 > Force::ZERO || c.always)
        .map(|(c, _)| c)
        .collect();
    let mut found: Vec<(f64, Vec<Candidate>, Vec<f64>)> = Vec::new();
    for ups in choices(used.len()) {
        let moved = |(c, up): (&&Candidate, &bool)| {
            if c.always {
                return (*c).clone();
            }
            let now = c.set_out();
            c.moved(place * on_step(now / place, *up) - now)
        };
        let candidates: Vec<Candidate> = used.iter().zip(&ups).map(moved).collect();
        // a place beyond the member, or two at one place, is no layout
        let Ok(problem) = Problem::new(beam, reference, &candidates, requirements) else {
            continue;
        };
        if found.iter().any(|(_, c, _)| *c == candidates) {
            continue;
        }
        if let Answer::Found(optimum) = problem.optimum(objectives)? {
            let p = problem.unknowns.iter().map(|u| {
                let (i, part) = u.members.first().copied().unwrap_or((0, 1.0));
                optimum.forces.get(i).map_or(0.0, |f| f.0.si() / part)
            });
            let p = p.collect();
            let first = optimum.objectives.first().copied().unwrap_or(f64::INFINITY);
            found.push((first, candidates, p));
        }
    }
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    for (_, candidates, p) in &found {
        let problem = Problem::new(beam, reference, candidates, requirements)?;
        let mut best: Option<(f64, Buildable)> = None;
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
            let loads = problem.loads(&forces);
            let actions = beam.anchored().actions(&loads)?;
            let confirmation =
                confirm_actions(&actions, reference, requirements, candidates, &forces);
            if confirmation.violation <= 0.0 {
                let candidates = candidates.clone();
                best =
                    Some((total, Buildable { candidates, forces, confirmation, actions, loads }));
            }
        }
        if let Some((_, best)) = best {
            return Ok(Some(best));
        }
    }
    Ok(None)
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
