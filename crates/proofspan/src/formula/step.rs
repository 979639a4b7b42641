//! One line of a working.

use std::borrow::Cow;

use crate::units::Quantity;

/// One evaluated formula.
#[derive(Clone, PartialEq, Debug)]
pub struct Step {
    /// What is computed.
    pub what: Cow<'static, str>,
    /// The formula in the grammar of this module.
    pub formula: Cow<'static, str>,
    /// Name in the formula, printed symbol, value.
    pub inputs: Vec<(Cow<'static, str>, Cow<'static, str>, Quantity)>,
    /// Printed symbol and value of the result.
    pub result: (Cow<'static, str>, Quantity),
    /// Clause, book or rule.
    pub source: Cow<'static, str>,
}
