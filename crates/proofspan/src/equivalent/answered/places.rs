//! Where in a range is the best place? A heuristic: candidates are moved by ever smaller steps as
//! long as that helps. Each place is solved exactly, but that no other place is better is not
//! proved.

use super::optimise::Answer;
use super::problem::Problem;
use super::search::{Stage, less};
use crate::beam::Beam;
use crate::equivalent::asked::candidate::Candidate;
use crate::equivalent::asked::objective::{Goal, Objective};
use crate::error::{Error, Issue, slug};
use crate::units::{Length, Message};

crate::record! {
    /// Where a candidate may stand.
    pub struct Room {
        /// Left end of the places allowed to its first contact, or to the left edge of a patch.
        from: Length,
        /// Right end of the places allowed to its first contact, or to the left edge of a patch.
        to: Length,
        /// Least spacing of its contacts, where that is free.
        spacing_from: Option<Length>,
        /// Largest spacing of its contacts, where that is free.
        spacing_to: Option<Length>,
    }
}

impl Room {
    /// Places between two ends, the spacing as it is.
    #[must_use]
    pub const fn between(from: Length, to: Length) -> Self {
        Self { from, to, spacing_from: None, spacing_to: None }
    }

    fn backwards(&self) -> bool {
        let spacing = match (self.spacing_from, self.spacing_to) {
            (Some(a), Some(b)) => a > b || a <= Length::ZERO,
            (None, None) => false,
            _ => true,
        };
        self.from > self.to || spacing
    }

    fn widest(&self) -> f64 {
        let spacing = self.spacing_from.zip(self.spacing_to).map_or(0.0, |(a, b)| (b - a).si());
        (self.to - self.from).si().max(spacing)
    }
}

/// Rounds of steps at the most.
const ROUNDS: usize = 2000;

/// Whether one list of objectives gains on another: one is smaller and none before it is larger, not even
/// by a little, or steps could go round in a circle.
fn gains(a: &[f64], b: &[f64]) -> bool {
    for (a, b) in a.iter().zip(b) {
        if a.is_infinite() || b.is_infinite() {
            return a < b;
        }
        let size = a.abs().max(b.abs());
        if b - a > 1e-9 * size {
            return true;
        }
        if a - b > 1e-13 * size {
            return false;
        }
    }
    false
}

/// So many candidates are moved at once; each round tries every one of them both ways.
pub const MOST_MOVED: usize = 24;

/// Starts that are looked at where the given one reaches nothing.
const SOUGHT: usize = 200;

/// Candidates at the best places found.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct Placed {
    /// The candidates where they stand now.
    pub candidates: Vec<Candidate>,
    /// One answer a stage.
    pub stages: Vec<Answer>,
    /// How many layouts were solved.
    pub tried: usize,
}

/// So many places are made; a search takes fewer still ([`crate::equivalent::MOST_CANDIDATES`]).
pub const MOST_PLACES: u32 = 10_000;

/// Candidates of one kind at places a step apart, the last at the end of the range: places of the first
/// contact, or of the left edge of a patch.
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
    let (path, message) = match (from <= to, step > Length::ZERO) {
        (false, _) => ("to", "a range that runs backwards"),
        (_, false) => ("step", "no step"),
        _ if count >= f64::from(MOST_PLACES) || count.is_nan() => ("step", "too many places"),
        _ => ("", ""),
    };
    if !path.is_empty() {
        return Err(Issue::new(slug::EQUIVALENT_STRETCH, path, message)
            .value(Message::new("{} to {} by {}", [from.into(), to.into(), step.into()]))
            .limit(format!("from up to to, a step above zero, up to {MOST_PLACES} places"))
            .into());
    }
    let first = of.set_out();
    let mut found = Vec::new();
    let mut x = from;
    let mut i = 0_u32;
    while x <= to {
        found.push(of.moved(x - first));
        i += 1;
        x = from + step * f64::from(i);
    }
    let end = found.last().map(Candidate::set_out);
    if end.is_some_and(|e| to - e > step * 1e-6) {
        found.push(of.moved(to - first));
    }
    Ok(found)
}

/// Moves each candidate's first contact within its room, and its contacts apart where their spacing is
/// free, until no step helps.
///
/// # Errors
/// What [`crate::equivalent::search`] refuses; `equivalent.stretch` for a room that runs backwards.
pub fn refine(
    beam: &Beam,
    stages: &[Stage<'_>],
    candidates: &[Candidate],
    rooms: &[Room],
    objectives: &[Objective],
) -> Result<Placed, Error> {
    let rest: Vec<Objective> =
        objectives.iter().filter(|o| o.of != Goal::Carriers).cloned().collect();
    if rooms.len() != candidates.len() || rooms.iter().any(Room::backwards) {
        let message = match rooms.iter().position(Room::backwards) {
            Some(i) => format!("room {i} runs backwards, or has one bound of the spacing only"),
            None => format!("{} rooms for {} candidates", rooms.len(), candidates.len()),
        };
        return Err(Issue::new(slug::EQUIVALENT_STRETCH, "rooms", message)
            .limit("one room a candidate, from up to to, both spacings or none")
            .into());
    }
    if candidates.len() > MOST_MOVED {
        return Err(Issue::new(slug::EQUIVALENT_CANDIDATE, "candidates", "too many to be moved")
            .value(candidates.len())
            .limit(format!("up to {MOST_MOVED}"))
            .into());
    }
    let mut tried = 0;
    let mut value = |candidates: &[Candidate]| -> Result<Vec<f64>, Error> {
        tried += 1;
        let mut worst = vec![f64::NEG_INFINITY; rest.len()];
        for stage in stages {
            let problem = Problem::new(beam, stage.reference, candidates, stage.requirements)?;
            let none = || vec![f64::INFINITY; rest.len()];
            let own = problem.values(&rest)?.unwrap_or_else(none);
            worst.iter_mut().zip(own).for_each(|(w, v)| *w = w.max(v));
        }
        Ok(worst)
    };
    let mut at: Vec<f64> = candidates.iter().zip(rooms).flat_map(|(c, r)| r.read(c)).collect();
    let mut now = placed(candidates, rooms, &at);
    let mut best = value(&now)?;
    let widest = rooms.iter().map(Room::widest).fold(0.0, f64::max);
    // a start that reaches nothing says nothing on the way: another one is looked for
    if best.first().is_some_and(|b| b.is_infinite()) {
        let mut spread = Spread(7);
        for _ in 0..SOUGHT {
            crate::error::go_on()?;
            let other: Vec<f64> = rooms
                .iter()
                .zip(candidates)
                .flat_map(|(r, c)| r.anywhere(c, &mut spread))
                .collect();
            let trial = placed(candidates, rooms, &other);
            if let Ok(found) = value(&trial)
                && less(&found, &best)
            {
                at = trial.iter().zip(rooms).flat_map(|(c, r)| r.read(c)).collect();
                (best, now) = (found, trial);
            }
        }
    }
    let mut step = widest / 4.0;
    let mut spread = Spread(1);
    let mut rounds = 0;
    while step > 1e-8 * beam.length().si() && rounds < ROUNDS {
        rounds += 1;
        let mut moved = false;
        for direction in spread.directions(at.len()) {
            crate::error::go_on()?;
            let other: Vec<f64> = at.iter().zip(&direction).map(|(x, d)| x + step * d).collect();
            let trial = placed(candidates, rooms, &other);
            // two at one place, or one beyond the member, is no layout
            let Ok(found) = value(&trial) else { continue };
            if gains(&found, &best) {
                at = trial.iter().zip(rooms).flat_map(|(c, r)| r.read(c)).collect();
                (best, now, moved) = (found, trial, true);
                break;
            }
        }
        step = if moved { (2.0 * step).min(widest / 4.0) } else { step / 2.0 };
    }
    let mut answers = Vec::with_capacity(stages.len());
    for stage in stages {
        let problem = Problem::new(beam, stage.reference, &now, stage.requirements)?;
        answers.push(problem.optimum(&rest)?);
    }
    Ok(Placed { candidates: now, stages: answers, tried })
}

/// Candidates at places and spacings, held in their rooms.
fn placed(candidates: &[Candidate], rooms: &[Room], at: &[f64]) -> Vec<Candidate> {
    let mut rest = at.iter().copied();
    let mut all = Vec::with_capacity(candidates.len());
    for (candidate, room) in candidates.iter().zip(rooms) {
        let first = Length::from_si(rest.next().unwrap_or(0.0)).max(room.from).min(room.to);
        let spaced = match (room.free(candidate), room.spacing_from, room.spacing_to) {
            (true, Some(from), Some(to)) => {
                let spacing = Length::from_si(rest.next().unwrap_or(0.0));
                candidate.spaced(spacing.max(from).min(to))
            }
            _ => candidate.clone(),
        };
        all.push(spaced.moved(first - spaced.set_out()));
    }
    all
}

impl Room {
    fn free(&self, candidate: &Candidate) -> bool {
        self.spacing_from.is_some() && candidate.contacts.len() > 1
    }

    /// A place in the room, and a spacing where it is free.
    fn anywhere(&self, candidate: &Candidate, spread: &mut Spread) -> Vec<f64> {
        let mut between =
            |a: Length, b: Length| a.si() + (b - a).si() * 0.5 * (spread.next() + 1.0);
        let mut own = vec![between(self.from, self.to)];
        if let (true, Some(a), Some(b)) = (self.free(candidate), self.spacing_from, self.spacing_to)
        {
            own.push(between(a, b));
        }
        own
    }

    /// What may be moved: the first contact, and the spacing where it is free.
    fn read(&self, candidate: &Candidate) -> Vec<f64> {
        let mut own = vec![candidate.set_out().si()];
        if let (true, [a, b, ..]) = (self.free(candidate), candidate.contacts.as_slice()) {
            own.push((*b - *a).si());
        }
        own
    }
}

/// Directions to try: each coordinate both ways, then others that differ from call to call, so that a
/// narrow valley is followed too. A linear congruential sequence: the same answer every time.
struct Spread(u64);

impl Spread {
    fn next(&mut self) -> f64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let high = u32::try_from(self.0 >> 33).unwrap_or(0);
        2.0 * f64::from(high) / f64::from(u32::MAX >> 1) - 1.0
    }

    fn directions(&mut self, n: usize) -> Vec<Vec<f64>> {
        let mut all = Vec::with_capacity(2 * n + 24);
        for i in 0..n {
            for sign in [1.0, -1.0] {
                all.push((0..n).map(|j| if i == j { sign } else { 0.0 }).collect());
            }
        }
        if n > 1 {
            for _ in 0..12 {
                let one: Vec<f64> = (0..n).map(|_| self.next()).collect();
                all.push(one.iter().map(|d| -d).collect());
                all.push(one);
            }
        }
        all
    }
}
