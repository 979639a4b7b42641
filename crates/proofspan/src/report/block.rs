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
    /// Printed, a new sheet begins here.
    Sheet,
    /// A picture with its title.
    Picture(String, String),
    /// What is signed: name and 64 hexadecimal digits of each.
    Fingerprints(Vec<(String, String)>),
    /// Lines on which the people of these roles sign.
    Signatures(Vec<&'static str>),
    /// The working.
    Working(Vec<Line>),
}

/// A heading that says to which later stage it belongs.
pub(super) fn heading(text: &str, stage: Option<&str>) -> Block {
    let of = stage.map_or_else(String::new, |name| format!(" (stage {name})"));
    Block::Heading(2, format!("{text}{of}"))
}
