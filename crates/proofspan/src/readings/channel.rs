//! One column of a log.

use super::median::median_of;
use super::spec::Role;

/// A channel in SI; not-a-number stands for a sample that is missing or left out.
#[derive(Clone, PartialEq, Debug)]
pub struct Channel {
    /// Its name.
    pub id: String,
    /// What it measures.
    pub role: Role,
    values: Vec<f64>,
    /// Medians of stretches of rows, where they have been taken since the values last changed.
    thin: Thin,
}

/// At most so many points are kept of a channel: work and memory of what looks at them do not grow
/// with the log.
const POINTS: usize = 4096;

/// Medians of stretches of so many rows; they follow from the values and say nothing of their own.
#[derive(Clone, Default, Debug)]
struct Thin(Vec<f64>);

impl PartialEq for Thin {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

impl Channel {
    pub(super) const fn new(id: String, role: Role, values: Vec<f64>) -> Self {
        Self { id, role, values, thin: Thin(Vec::new()) }
    }

    pub(super) fn values(&self) -> &[f64] {
        &self.values
    }

    pub(super) fn values_mut(&mut self) -> &mut Vec<f64> {
        self.thin = Thin::default();
        &mut self.values
    }

    /// So many rows stand for one point.
    pub(super) fn stretch(rows: usize) -> usize {
        rows.div_ceil(POINTS).max(1)
    }

    /// The medians of its stretches, not-a-number where one has no usable sample; the values
    /// themselves where there are few.
    pub(super) fn thinned(&self) -> Vec<f64> {
        if self.thin.0.is_empty() { self.medians() } else { self.thin.0.clone() }
    }

    /// Keeps them until the values change.
    pub(super) fn thin(&mut self) {
        if self.thin.0.is_empty() && Self::stretch(self.values.len()) > 1 {
            self.thin = Thin(self.medians());
        }
    }

    fn medians(&self) -> Vec<f64> {
        let stretch = Self::stretch(self.values.len());
        if stretch == 1 {
            return self.values.clone();
        }
        let mut scratch = Vec::with_capacity(stretch);
        let mut median = |rows: &[f64]| {
            scratch.clear();
            scratch.extend(rows.iter().copied().filter(|v| !v.is_nan()));
            median_of(&mut scratch).unwrap_or(f64::NAN)
        };
        self.values.chunks(stretch).map(&mut median).collect()
    }
}
