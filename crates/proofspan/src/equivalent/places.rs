//! Where in a range is the best place? A heuristic: candidates are moved by ever smaller steps as
//! long as that helps. Each place is solved exactly, but that no other place is better is not
//! proved.

use super::candidate::Candidate;
use super::objective::{Goal, Objective};
use super::optimise::{Answer, Problem};
use super::search::Stage;
use crate::beam::Beam;
use crate::error::{Error, Issue, slug};
use crate::units::Length;

/// Candidates at the best places found.
#[derive(Clone, PartialEq, Debug)]
pub struct Placed {
    /// The candidates where they stand now.
    pub candidates: Vec<Candidate>,
    /// One answer a stage.
    pub stages: Vec<Answer>,
    /// How many layouts were solved.
    pub tried: usize,
}

/// Candidates of one kind at places a step apart, the last at the end of the range.
///
/// # Errors
/// `equivalent.stretch` for a range that runs backwards or a step that is not above zero.
pub fn grid(
    of: &Candidate,
    from: Length,
    to: Length,
    step: Length,
) -> Result<Vec<Candidate>, Error> {
    let count = ((to - from) / step).floor();
    if !(step > Length::ZERO && from <= to && count.is_finite() && count < 1e5) {
        return Err(Issue::new(
            slug::EQUIVALENT_STRETCH,
            "places",
            "a range that runs backwards, or no step",
        )
        .value(format!("{from} to {to} by {step}"))
        .limit("from up to to, a step above zero, up to 100000 places")
        .into());
    }
    let first = of.contacts.iter().copied().fold(Length::from_si(f64::INFINITY), Length::min);
    let mut found = Vec::new();
    let mut x = from;
    let mut i = 0_u32;
    while x <= to {
        found.push(of.moved(x - first));
        i += 1;
        x = from + step * f64::from(i);
    }
    let end = found.last().and_then(|c| c.contacts.iter().copied().reduce(Length::min));
    if end.is_some_and(|e| to - e > step * 1e-6) {
        found.push(of.moved(to - first));
    }
    Ok(found)
}

/// Moves each candidate's first contact within its range until no step helps.
///
/// # Errors
/// What [`super::search`] refuses; `equivalent.stretch` for a range that runs backwards.
pub fn refine(
    beam: &Beam,
    stages: &[Stage<'_>],
    candidates: &[Candidate],
    ranges: &[(Length, Length)],
    objectives: &[Objective],
) -> Result<Placed, Error> {
    let rest: Vec<Objective> =
        objectives.iter().filter(|o| o.of != Goal::Carriers).cloned().collect();
    let backwards = |r: &(Length, Length)| r.0 > r.1;
    if ranges.len() != candidates.len() || ranges.iter().any(backwards) {
        let message = format!("{} ranges for {} candidates", ranges.len(), candidates.len());
        return Err(Issue::new(slug::EQUIVALENT_STRETCH, "ranges", message)
            .limit("one range a candidate, from up to to")
            .into());
    }
    let mut tried = 0;
    let mut value = |candidates: &[Candidate]| -> Result<f64, Error> {
        tried += 1;
        let mut worst = f64::NEG_INFINITY;
        for stage in stages {
            let problem = Problem::new(beam, stage.reference, candidates, stage.requirements)?;
            worst = worst.max(problem.first(&rest)?.unwrap_or(f64::INFINITY));
        }
        Ok(worst)
    };
    let mut now = candidates.to_vec();
    let mut best = value(&now)?;
    let widest = ranges.iter().map(|(a, b)| (*b - *a).si()).fold(0.0, f64::max);
    let mut step = widest / 8.0;
    while step > 1e-7 * beam.length().si() {
        let mut moved = false;
        for (i, (from, to)) in ranges.iter().enumerate() {
            for by in [step, -step] {
                let Some(own) = now.get(i) else { continue };
                let first =
                    own.contacts.iter().copied().fold(Length::from_si(f64::INFINITY), Length::min);
                let target = (first + Length::from_si(by)).max(*from).min(*to);
                let other = own.moved(target - first);
                let mut trial = now.clone();
                if let Some(place) = trial.get_mut(i) {
                    *place = other;
                }
                // two at one place, or one beyond the member, is no layout
                let Ok(other) = value(&trial) else { continue };
                if other < best - 1e-13 * best.abs() {
                    (best, now, moved) = (other, trial, true);
                    break;
                }
            }
        }
        if !moved {
            step /= 2.0;
        }
    }
    let mut answers = Vec::with_capacity(stages.len());
    for stage in stages {
        let problem = Problem::new(beam, stage.reference, &now, stage.requirements)?;
        answers.push(problem.optimum(&rest)?);
    }
    Ok(Placed { candidates: now, stages: answers, tried })
}
