//! The largest and the smallest effect over several cases, with what acts beside it.

use super::poly::Poly;
use super::response::{Extreme, Response, Side, of_one_length, on_member, on_stretch};
use super::segment::Segment;
use crate::error::{Error, Issue, slug};
use crate::units::{Force, Length, Moment};

/// The effect that governs.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
#[non_exhaustive]
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
#[non_exhaustive]
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
#[non_exhaustive]
pub struct Of<T> {
    /// The value.
    pub value: T,
    /// The case, by its place in the list.
    pub case: usize,
}

/// The largest and the smallest, by sign.
#[derive(Clone, Copy, PartialEq, Debug)]
#[non_exhaustive]
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

/// Several cases of members of one length.
#[derive(Clone, PartialEq, Debug)]
pub struct Envelope {
    cases: Vec<Response>,
}

impl By {
    fn poly(self, segment: &Segment) -> Poly {
        match self {
            Self::Shear => segment.shear(),
            Self::Moment => segment.moment(),
            Self::Deflection => segment.deflection(),
        }
    }
}

impl Envelope {
    /// Of these cases; the members may be held in different ways.
    ///
    /// # Errors
    /// `beam.cases` for no case, or cases of beams of different length.
    pub fn of(cases: Vec<Response>) -> Result<Self, Error> {
        Error::check(of_one_length(cases.iter()))?;
        Ok(Self { cases })
    }

    /// The cases; at least one.
    #[must_use]
    pub fn cases(&self) -> &[Response] {
        &self.cases
    }

    /// The length of the beam.
    #[must_use]
    pub fn length(&self) -> Length {
        self.cases.first().map_or(Length::ZERO, Response::length)
    }

    /// The ends over all cases; there is at least one.
    fn over<T: Copy>(
        &self,
        of: impl Fn(&Response) -> (T, T),
        size: impl Fn(T) -> f64,
    ) -> Result<Ends<T>, Error> {
        let found = self.cases.iter().enumerate().fold(None, |found, (case, response)| {
            let (max, min) = of(response);
            let of = |value| Of { value, case };
            Some(Ends::widen(found, of(max), of(min), &size))
        });
        found.ok_or_else(|| Issue::new(slug::BEAM_CASES, "cases", "no case").into())
    }

    /// Largest and smallest value at a place in SI.
    ///
    /// # Errors
    /// `beam.place-outside` beyond the member.
    pub fn at(&self, by: By, x: Length, side: Side) -> Result<Ends<f64>, Error> {
        on_member(self.length(), x)?;
        let value = |response: &Response| match by {
            By::Shear => response.inside().shear(x, side).si(),
            By::Moment => response.inside().moment(x, side).si(),
            By::Deflection => response.inside().deflection(x).si(),
        };
        self.over(|a| (value(a), value(a)), |v| v)
    }

    /// Shear and moment that act together where `by` is largest and where it is smallest.
    ///
    /// # Errors
    /// `beam.place-outside` beyond the member.
    pub fn pairs(&self, by: By, x: Length, side: Side) -> Result<(Pair, Pair), Error> {
        let ends = self.at(by, x, side)?;
        let pair = |case: usize| {
            let found = self.cases.get(case).map(|c| Pair {
                shear: c.inside().shear(x, side),
                moment: c.inside().moment(x, side),
                case,
            });
            found.ok_or_else(|| Issue::new(slug::BEAM_CASES, "cases", "no case"))
        };
        Ok((pair(ends.max.case)?, pair(ends.min.case)?))
    }

    /// The exact largest and smallest value on an interval in SI, each with its place.
    ///
    /// # Errors
    /// `beam.place-outside` for bounds beyond the member or reversed.
    pub fn extremes(&self, by: By, from: Length, to: Length) -> Result<Ends<Extreme<f64>>, Error> {
        on_stretch(self.length(), from, to)?;
        let of = |response: &Response| {
            let found = response.inside().extremes_of(from, to, |s| by.poly(s));
            (found.max, found.min)
        };
        self.over(of, |e| e.value)
    }
}
