//! One column of a log.

use super::spec::Role;

/// A channel in SI; not-a-number stands for a sample that is missing or left out.
#[derive(Clone, PartialEq, Debug)]
pub struct Channel {
    /// Its name.
    pub id: String,
    /// What it measures.
    pub role: Role,
    pub(super) values: Vec<f64>,
}
