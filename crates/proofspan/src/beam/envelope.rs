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

    fn value(by: By, case: &Actions, x: Length, side: Side) -> f64 {
        match by {
            By::Shear => case.shear(x, side).si(),
            By::Moment => case.moment(x, side).si(),
            By::Deflection => case.deflection(x).si(),
        }
    }

    /// Largest and smallest value at a place, by sign, in SI, each with its case; nothing where
    /// there is no case.
    #[must_use]
    pub fn at(&self, by: By, x: Length, side: Side) -> Option<((f64, usize), (f64, usize))> {
        let mut found: Option<((f64, usize), (f64, usize))> = None;
        for (i, case) in self.cases.iter().enumerate() {
            let here = (Self::value(by, case, x, side), i);
            found = Some(found.map_or((here, here), |(high, low)| {
                (if here.0 > high.0 { here } else { high }, if here.0 < low.0 { here } else { low })
            }));
        }
        found
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
        let ((_, high), (_, low)) = self.at(by, x, side)?;
        Some((pair(high)?, pair(low)?))
    }

    /// The exact largest and smallest value on an interval, by sign, in SI, each with its case.
    #[must_use]
    pub fn extremes(
        &self,
        by: By,
        from: Length,
        to: Length,
    ) -> Option<((Extreme<f64>, usize), (Extreme<f64>, usize))> {
        let mut found: Option<((Extreme<f64>, usize), (Extreme<f64>, usize))> = None;
        for (i, case) in self.cases.iter().enumerate() {
            let here = case.extremes_of(from, to, |s| match by {
                By::Shear => s.shear(),
                By::Moment => s.moment(),
                By::Deflection => s.deflection(),
            });
            found = Some(found.map_or(((here.max, i), (here.min, i)), |(high, low)| {
                (
                    if here.max.value > high.0.value { (here.max, i) } else { high },
                    if here.min.value < low.0.value { (here.min, i) } else { low },
                )
            }));
        }
        found
    }
}
