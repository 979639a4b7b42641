//! One local check of any kind.

use super::acts::LocalFound;
use super::bearing::Bearing;
use super::detail::Detail;
use super::plate::Plate;
use super::punching::Punching;
use crate::error::Error;

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
