//! The best forces of given carriers, with a certificate.

use super::certificate::Certificate;
use super::conflict::Conflict;
use super::problem::Problem;
use crate::beam::{Beam, Load, Poly, Response};
use crate::equivalent::asked::candidate::{self, Candidate};
use crate::equivalent::asked::objective::{self, Objective};
use crate::equivalent::asked::reference::Reference;
use crate::equivalent::asked::requirement::Requirement;
use crate::equivalent::checked::verify::{Confirmation, confirm_response};
use crate::equivalent::solved::exchange::{Best, Ended, Program, Seed, exchange, ranges};
use crate::equivalent::solved::rows::{Field, Source, Stretch};
use crate::equivalent::solved::simplex::Trouble;
use crate::error::Error;
use crate::formula::Working;
use crate::units::{Force, Net};

crate::answer! {
    /// How far a force may move at equal objectives.
    pub struct Freedom {
        /// The least.
        least: Net<Force>,
        /// The largest; nothing where it has no end.
        most: Option<Net<Force>>,
    }
}

/// How much less tightly an objective is held where rounding denies what was just met, in parts of the size
/// of its rows, one after the other.
const LOOSER: [f64; 3] = [1e-9, 1e-8, 1e-7];
/// What is missed by less may be asked for once more.
const LITTLE: f64 = 1e-6;
/// Forces nearer than this part of their scale are the same: where an optimum is flat, objectives that
/// are equal to [`EQUAL`] leave them about its square root.
const UNIQUE: f64 = 2e-4;
/// With more unknowns than this, only those in use are looked at for their freedom.
const LOOKED_AT: usize = 12;

/// The best forces, proved.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct Optimum {
    /// The forces in the order of the candidates, on one member unit, down positive.
    pub forces: Vec<Net<Force>>,
    /// What each objective reached, in its order: N, or a ratio for an overshoot.
    pub objectives: Vec<f64>,
    /// Whether no other forces are as good.
    pub unique: bool,
    /// The least and the largest force of each candidate at equal objectives; nothing where it is not
    /// known: candidates that are not used, where there are more than twelve, or ranges that rounding
    /// hides.
    pub freedom: Vec<Option<Freedom>>,
    /// One certificate an objective.
    pub certificates: Vec<Certificate>,
    /// What the separate verifier found.
    pub confirmation: Confirmation,
    /// The actions of the forces alone.
    pub response: Response,
    /// The loads as they stand on the beam.
    pub loads: Vec<Load>,
}

impl Optimum {
    /// Why no forces are better, redone with a pencil: of every objective the bound and the cost.
    #[must_use]
    pub fn working(&self) -> Working {
        let mut working = Working::default();
        for (i, certificate) in self.certificates.iter().enumerate() {
            certificate.work(&mut working, &format!("certificates[{i}]"));
        }
        working
    }
}

/// The answer of a search for forces. Closed: one of the two holds (lemma of Farkas).
#[derive(Clone, PartialEq, Debug)]
pub enum Answer {
    /// Forces that meet everything.
    Found(Box<Optimum>),
    /// None do.
    Conflict(Box<Conflict>),
}

impl Answer {
    /// The best forces, where there are any.
    #[must_use]
    pub fn optimum(&self) -> Option<&Optimum> {
        match self {
            Self::Found(found) => Some(found),
            Self::Conflict(_) => None,
        }
    }
}

/// Finds forces of given candidates, down and not negative, that meet every requirement and make
/// the objectives small, the first before the second. Every candidate is used, so a least force holds
/// for each that has one; [`crate::equivalent::search`] leaves candidates out.
///
/// # Errors
/// Every problem of candidates, requirements and objectives at once; `equivalent.solver` with the
/// scaled problem where the search does not end; what the beam refuses.
pub fn optimise(
    beam: &Beam,
    reference: &Reference,
    candidates: &[Candidate],
    requirements: &[Requirement],
    objectives: &[Objective],
) -> Result<Answer, Error> {
    let mut issues = Vec::new();
    objective::refused(objectives, reference, beam, false, &mut issues);
    candidate::crowded(candidates, beam, &mut issues);
    Problem::checked(beam, reference, candidates, requirements, issues)?.optimum(objectives)
}

/// One objective that is settled.
struct Level {
    best: Best,
    value: f64,
    certificate: Certificate,
}

impl Problem<'_> {
    /// The best forces.
    ///
    /// # Errors
    /// Every problem of the objectives; `equivalent.solver`.
    pub fn optimum(&self, objectives: &[Objective]) -> Result<Answer, Error> {
        let mut issues = Vec::new();
        objective::refused(objectives, self.reference, self.beam, false, &mut issues);
        Error::check(issues)?;
        let answer = self.attempt(objectives, &[])?;
        let Answer::Found(found) = &answer else { return Ok(answer) };
        // a basis that is nearly singular may miss by a little: asked for a little more, it does not
        let missed: Vec<(Source, f64)> = found
            .confirmation
            .each
            .iter()
            .filter(|c| c.violation > 0.0 && c.violation < LITTLE)
            .map(|c| (Source::Requirement(c.requirement), 3.0 * c.violation))
            .collect();
        let answer = if missed.is_empty() { answer } else { self.attempt(objectives, &missed)? };
        if let Answer::Found(found) = &answer {
            self.agreed(&found.confirmation)?;
        }
        Ok(answer)
    }

    /// The best forces, some requirements raised by a part of their size; not yet agreed with the verifier.
    fn attempt(&self, objectives: &[Objective], raised: &[(Source, f64)]) -> Result<Answer, Error> {
        let mut field = self.field.clone();
        for (source, part) in raised {
            for stretch in field.stretches.iter_mut().filter(|s| s.source == *source) {
                stretch.b = stretch.b.plus(part * stretch.size, &Poly::ONE);
            }
        }
        let mut seeds: Vec<Seed> = Vec::new();
        let mut levels: Vec<Level> = Vec::new();
        let mut words: Vec<String> = Vec::with_capacity(objectives.len());
        for objective in objectives {
            if let (Some(word), Some(last), Some(held)) =
                (words.last_mut(), levels.last(), objectives.get(levels.len().saturating_sub(1)))
            {
                *word = format!("held: {}", held.reached(last.value, self.reference));
            }
            let (rows, held) = (field.stretches.len(), !levels.is_empty());
            let mut found = self.level(&mut field, &mut seeds, &mut words, objective);
            // what was just met can be met: where rounding denies it, it is held a little less tightly
            for slack in if held { &LOOSER[..] } else { &[] } {
                if matches!(found, Ok(Ok(_))) {
                    break;
                }
                field.stretches.truncate(rows);
                seeds.retain(|(i, _)| *i < rows);
                let objective_rows = |s: &&mut Stretch| matches!(s.source, Source::Objective(_));
                for stretch in field.stretches.iter_mut().filter(objective_rows) {
                    stretch.b = stretch.b.plus(-slack * stretch.size, &Poly::ONE);
                }
                found = self.level(&mut field, &mut seeds, &mut words, objective);
            }
            match found? {
                Ok(level) => levels.push(level),
                Err(()) if !held => return Ok(Answer::Conflict(Box::new(self.conflict()?))),
                Err(()) => return Err(self.trouble(Trouble::Singular)),
            }
        }
        let Some(last) = levels.last() else {
            return Err(self.trouble(Trouble::Steps));
        };
        let p = last.best.p.clone();
        // a basic multiplier of zero at the last level: others may be as good
        let unique = !last.best.degenerate;
        let mut freedom: Vec<Option<(f64, Option<f64>)>> =
            p.iter().map(|p| Some((*p, Some(*p)))).collect();
        if !unique {
            // a force whose use costs more than it gives is zero in every best layout
            let idle = |j: usize| levels.iter().any(|l| l.certificate.idle(j));
            let open: Vec<usize> = (0..p.len()).filter(|j| !idle(*j)).collect();
            let used = |j: &usize| p.len() <= LOOKED_AT || p.get(*j).is_some_and(|p| *p > 0.0);
            let (looked, not): (Vec<usize>, Vec<usize>) = open.into_iter().partition(used);
            let cost: Vec<f64> = self.unknowns.iter().map(|u| u.cost).collect();
            let now = |j: &usize| (*j, p.get(*j).copied().unwrap_or(0.0));
            let looked: Vec<(usize, f64)> = looked.iter().map(now).collect();
            let found = ranges(&field, &cost, self.scale, &mut seeds, &looked);
            for ((j, now), range) in looked.iter().zip(found) {
                if let Some(place) = freedom.get_mut(*j) {
                    *place = range.map(|(low, high)| (low.min(*now), high.map(|h| h.max(*now))));
                }
            }
            for j in not {
                if let Some(place) = freedom.get_mut(j) {
                    *place = None;
                }
            }
        }
        let wide = |range: &Option<(f64, Option<f64>)>| {
            range.is_none_or(|(low, high)| high.is_none_or(|h| h - low > UNIQUE * self.scale))
        };
        let unique = !freedom.iter().any(wide);
        let (objectives, certificates) =
            levels.into_iter().map(|l| (l.value, l.certificate)).unzip();
        let forces = self.forces(&p);
        let loads = candidate::loads(self.candidates, &forces);
        let response = candidate::held(self.beam).response(&loads)?;
        let confirmation = confirm_response(
            &response,
            self.reference,
            self.requirements,
            self.candidates,
            &forces,
        );
        let mut ranges = vec![None; self.candidates.len()];
        for (unknown, range) in self.unknowns.iter().zip(&freedom) {
            for (i, part) in &unknown.members {
                let force = |p: f64| Net(Force::from_si(p * part));
                if let (Some(place), Some((low, high))) = (ranges.get_mut(*i), range) {
                    *place = Some(Freedom { least: force(*low), most: high.map(force) });
                }
            }
        }
        Ok(Answer::Found(Box::new(Optimum {
            forces,
            objectives,
            unique,
            freedom: ranges,
            certificates,
            confirmation,
            response,
            loads,
        })))
    }

    fn level(
        &self,
        field: &mut Field,
        seeds: &mut Vec<Seed>,
        words: &mut Vec<String>,
        objective: &Objective,
    ) -> Result<Result<Level, ()>, Error> {
        let k = words.len();
        let program = self.aim(field, k, objective);
        let ended =
            exchange(field, &program, self.scale, seeds, |_| true).map_err(|t| self.trouble(t))?;
        let Ended::Optimal(best) = ended else { return Ok(Err(())) };
        let value = best.value(&program);
        words.push(objective.words());
        let certificate = self.certificate(field, &program, &best, words);
        self.hold(field, k, &program, value);
        Ok(Ok(Level { best, value, certificate }))
    }

    fn certificate(
        &self,
        field: &Field,
        program: &Program,
        best: &Best,
        words: &[String],
    ) -> Certificate {
        let rows = self.proof(field, program.helper, &best.multipliers, words);
        let objective = words.last().cloned().unwrap_or_default();
        let mut unknowns: Vec<String> = self.unknowns.iter().map(|u| self.unknown(u)).collect();
        let mut values = best.p.clone();
        let mut cost = program.cost.clone();
        if program.helper {
            cost.iter_mut().for_each(|c| *c = 0.0);
            cost.push(1.0);
            values.push(best.helper);
            unknowns.push(objective.clone());
        }
        let about = format!("least {objective}, every given carrier used");
        Certificate::of(about, unknowns, values, cost, rows)
    }
}
