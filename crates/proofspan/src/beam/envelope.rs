//! The largest and the smallest effect over several cases, with what acts beside it.

use super::actions::{Actions, Extreme, Side};
use crate::units::{Force, Length, Moment};

/// The effect that governs.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum By {
    /// Shear.
    Shear,
    /// Moment.
    Moment,
    /// Deflection.
    Deflection,
}

/// Shear and moment of one case at one place: shear strength depends on the moment beside it, so
/// separate largest values are not a pair that acts.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Pair {
    /// The shear.
    pub shear: Force,
    /// The moment at the same time.
    pub moment: Moment,
    /// The case, by its place in the list.
    pub case: usize,
}

/// A value and the case it comes from.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Of<T> {
    /// The value.
    pub value: T,
    /// The case, by its place in the list.
    pub case: usize,
}

/// The largest and the smallest, by sign.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Ends<T> {
    /// The largest.
    pub max: Of<T>,
    /// The smallest.
    pub min: Of<T>,
}

impl<T: Copy> Ends<T> {
    fn widen(found: Option<Self>, max: Of<T>, min: Of<T>, size: impl Fn(T) -> f64) -> Self {
        let Some(ends) = found else { return Self { max, min } };
        let larger = size(max.value) > size(ends.max.value);
        let smaller = size(min.value) < size(ends.min.value);
        Self { max: if larger { max } else { ends.max }, min: if smaller { min } else { ends.min } }
    }
}

/// Several cases of one beam.
#[derive(Clone, PartialEq, Debug)]
pub struct Envelope {
    cases: Vec<Actions>,
}

impl Envelope {
    /// Of these cases.
    #[must_use]
    pub const fn of(cases: Vec<Actions>) -> Self {
        Self { cases }
    }

    /// The cases.
    #[must_use]
    pub fn cases(&self) -> &[Actions] {
        &self.cases
    }

    /// Largest and smallest value at a place in SI; nothing where there is no case.
    #[must_use]
    pub fn at(&self, by: By, x: Length, side: Side) -> Option<Ends<f64>> {
        self.cases.iter().enumerate().fold(None, |found, (case, actions)| {
            let value = match by {
                By::Shear => actions.shear(x, side).si(),
                By::Moment => actions.moment(x, side).si(),
                By::Deflection => actions.deflection(x).si(),
            };
            let here = Of { value, case };
            Some(Ends::widen(found, here, here, |v| v))
        })
    }

    /// Shear and moment that act together where `by` is largest and where it is smallest.
    #[must_use]
    pub fn pairs(&self, by: By, x: Length, side: Side) -> Option<(Pair, Pair)> {
        let pair = |case: usize| {
            self.cases.get(case).map(|c| Pair {
                shear: c.shear(x, side),
                moment: c.moment(x, side),
                case,
            })
        };
        let ends = self.at(by, x, side)?;
        Some((pair(ends.max.case)?, pair(ends.min.case)?))
    }

    /// The exact largest and smallest value on an interval in SI, each with its place.
    #[must_use]
    pub fn extremes(&self, by: By, from: Length, to: Length) -> Option<Ends<Extreme<f64>>> {
        self.cases.iter().enumerate().fold(None, |found, (case, actions)| {
            let here = actions.extremes_of(from, to, |s| match by {
                By::Shear => s.shear(),
                By::Moment => s.moment(),
                By::Deflection => s.deflection(),
            });
            let of = |value| Of { value, case };
            Some(Ends::widen(found, of(here.max), of(here.min), |e| e.value))
        })
    }
}
