//! What would a further jack buy, or a carrier at another place?

use super::optimise::Answer;
use super::problem::Problem;
use crate::beam::on_member_at;
use crate::equivalent::asked::candidate::Candidate;
use crate::equivalent::asked::objective::Objective;
use crate::error::Error;
use crate::units::Length;

/// A further jack, and what it would change.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct Further {
    /// Where it would stand.
    pub at: Length,
    /// The answer with it.
    pub answer: Answer,
}

/// A carrier at another place, and what that would change.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct Elsewhere {
    /// Which candidate moves.
    pub candidate: usize,
    /// Where it would stand: its first contact, or the left edge of a patch.
    pub at: Length,
    /// The answer with it there.
    pub answer: Answer,
}

impl Problem<'_> {
    /// What one further jack would buy at each of these places, the best first: places that make a
    /// contradiction vanish, then the smallest first objective.
    ///
    /// # Errors
    /// Every problem of the objectives; `equivalent.solver`.
    pub fn further(
        &self,
        places: &[Length],
        objectives: &[Objective],
    ) -> Result<Vec<Further>, Error> {
        self.on_beam(places)?;
        let near = self.beam.length() * 1e-9;
        let taken = |at: &Length| {
            let mut all = self.candidates.iter().flat_map(|c| &c.contacts);
            all.any(|x| (*x - *at).abs() <= near)
        };
        let mut found = Vec::new();
        for at in places.iter().copied().filter(|at| !taken(at)) {
            let mut candidates = self.candidates.to_vec();
            candidates.push(Candidate::jack(at));
            let answer = self.among(&candidates)?.optimum(objectives)?;
            found.push(Further { at, answer });
        }
        found.sort_by(|a, b| first(&a.answer).total_cmp(&first(&b.answer)));
        Ok(found)
    }

    /// What any one carrier would buy at each of these places in the place of its own, the best first.
    /// What is there in any case stays; a place that is taken, or too near, is left out.
    ///
    /// # Errors
    /// Every problem of the objectives; `equivalent.solver`.
    pub fn elsewhere(
        &self,
        places: &[Length],
        objectives: &[Objective],
    ) -> Result<Vec<Elsewhere>, Error> {
        self.on_beam(places)?;
        let mut found = Vec::new();
        for (i, own) in self.candidates.iter().enumerate().filter(|(_, c)| !c.always) {
            for at in places.iter().copied() {
                let mut candidates = self.candidates.to_vec();
                candidates.iter_mut().skip(i).take(1).for_each(|c| *c = own.standing(at));
                let Ok(problem) = self.among(&candidates) else { continue };
                found.push(Elsewhere { candidate: i, at, answer: problem.optimum(objectives)? });
            }
        }
        found.sort_by(|a, b| first(&a.answer).total_cmp(&first(&b.answer)));
        Ok(found)
    }

    /// The same with other carriers.
    fn among<'c>(&'c self, candidates: &'c [Candidate]) -> Result<Problem<'c>, Error> {
        Problem::new(self.beam, self.reference, candidates, self.requirements)
    }

    /// Refuses places beyond the member, all at once.
    fn on_beam(&self, places: &[Length]) -> Result<(), Error> {
        let length = self.beam.length();
        let beyond = places.iter().enumerate();
        let beyond =
            beyond.filter_map(|(i, x)| on_member_at(&format!("places[{i}]"), length, *x).err());
        Error::check(beyond.flat_map(|error| error.issues).collect())
    }
}

/// The first objective; without end where there is none.
fn first(answer: &Answer) -> f64 {
    let own = answer.optimum().and_then(|o| o.objectives.first().copied());
    own.unwrap_or(f64::INFINITY)
}
