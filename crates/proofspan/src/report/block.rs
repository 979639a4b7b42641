//! The pieces a report is made of.

use crate::formula::Line;
use crate::verdict::State;

/// A piece of a report.
pub(super) enum Block {
    /// A heading of the first or second order.
    Heading(u8, String),
    /// A paragraph.
    Text(String),
    /// A caution, shown with weight.
    Caution(String),
    /// A stop or an override, in red.
    Stop(String),
    /// A state with its sentence.
    State(State, String),
    /// A table: heading row, rows.
    Table(Vec<&'static str>, Vec<Vec<String>>),
    /// A picture with its title.
    Picture(String, String),
    /// The working.
    Working(Vec<Line>),
}
