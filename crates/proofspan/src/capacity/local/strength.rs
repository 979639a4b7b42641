//! One local check of any kind.

use super::acts::LocalFound;
use super::bearing::Bearing;
use super::detail::Detail;
use super::plate::Plate;
use super::punching::Punching;
use crate::error::Error;
use crate::source::Given;
use crate::units::Force;

crate::variant! {
    /// A local check, told apart by what gives way.
    pub enum LocalStrength ("local check") {
        /// Concrete under a plate.
        Bearing(Bearing) = "bearing",
        /// A slab by a column, post, jack or wheel.
        Punching(Punching) = "punching",
        /// A plate between what presses and what bears.
        Plate(Plate) = "plate",
        /// A ledge, corbel, dapped end, pad or anchorage, by a strength that is given.
        Detail(Detail) = "detail",
    }
}

impl LocalStrength {
    /// The same under the actions of the test and of the catch, where none is given with it.
    #[must_use]
    pub fn under(mut self, (test, catch): (Option<Force>, Option<Force>)) -> Self {
        let (own, own_catch) = match &mut self {
            Self::Bearing(s) => (&mut s.test, &mut s.catch),
            Self::Punching(s) => (&mut s.test, &mut s.catch),
            Self::Plate(s) => (&mut s.test, &mut s.catch),
            Self::Detail(s) => (&mut s.test, &mut s.catch),
        };
        if own.is_none() {
            *own = test.map(Given::known);
        }
        if own_catch.is_none() {
            *own_catch = catch.map(Given::known);
        }
        self
    }

    /// The action of the test, where there is one.
    #[must_use]
    pub fn test(&self) -> Option<Force> {
        let test = match self {
            Self::Bearing(s) => &s.test,
            Self::Punching(s) => &s.test,
            Self::Plate(s) => &s.test,
            Self::Detail(s) => &s.test,
        };
        test.as_ref().map(|f| f.value)
    }

    /// The strength, and each action against it.
    ///
    /// # Errors
    /// Those of the check that is asked for.
    pub fn check(&self) -> Result<LocalFound, Error> {
        match self {
            Self::Bearing(asked) => asked.check(),
            Self::Punching(asked) => asked.check(),
            Self::Plate(asked) => asked.check(),
            Self::Detail(asked) => asked.check(),
        }
    }
}
