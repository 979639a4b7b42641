//! A long column of one kind: `{ "unit": "kN", "values": [ … ] }`.

use super::kind::Kind;
use super::parse::{UnitError, parse_quantity};
use super::quantity::Quantified;

/// Values of one kind, held in SI.
#[derive(Clone, PartialEq, Debug)]
pub struct Column<Q> {
    /// The values in order.
    pub values: Vec<Q>,
}

impl<Q: Quantified> Column<Q> {
    /// Numbers in `unit` (a symbol of the kind).
    ///
    /// # Errors
    /// An unknown unit, a unit of another kind, or the first number that is not finite.
    pub fn new(unit: &str, numbers: &[f64]) -> Result<Self, UnitError> {
        let kind: Kind = Q::KIND;
        let values = numbers
            .iter()
            .map(|n| parse_quantity(&format!("{n:?} {unit}"), kind).map(Q::from_si))
            .collect::<Result<Vec<_>, _>>()?;
        Ok(Self { values })
    }

    /// The magnitudes in SI.
    pub fn magnitudes(&self) -> impl Iterator<Item = f64> + '_ {
        self.values.iter().map(|q| q.magnitude())
    }
}
