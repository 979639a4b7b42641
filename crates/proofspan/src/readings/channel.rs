//! One column of a log.

use core::ops::Range;

use super::column::Column;
use super::median::median_of;
use super::spec::Role;

/// A channel in SI; not-a-number stands for a sample that is missing or left out.
#[derive(Clone, PartialEq, Debug)]
pub struct Channel {
    /// Its name.
    pub id: String,
    /// What it measures.
    pub role: Role,
    values: Column,
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
    pub(super) const fn new(id: String, role: Role, values: Column) -> Self {
        Self { id, role, values, thin: Thin(Vec::new()) }
    }

    pub(super) const fn values(&self) -> &Column {
        &self.values
    }

    pub(super) fn values_mut(&mut self) -> &mut Column {
        self.thin = Thin::default();
        &mut self.values
    }

    /// Changes the samples of some rows, one by one.
    pub(super) fn change(&mut self, rows: Range<usize>, change: impl Fn(f64) -> f64) {
        self.values_mut().change(rows, |_, values| {
            values.iter_mut().for_each(|v| *v = change(*v));
        });
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
            return self.values.iter().collect();
        }
        let mut scratch = Vec::with_capacity(stretch);
        let (mut medians, mut seen) = (Vec::with_capacity(POINTS), 0);
        for (_, values) in self.values.pieces(0..self.values.len()) {
            let mut rest = values.as_ref();
            while !rest.is_empty() {
                let (now, more) = rest.split_at((stretch - seen).min(rest.len()));
                scratch.extend(now.iter().copied().filter(|v| !v.is_nan()));
                seen += now.len();
                if seen == stretch {
                    medians.push(median_of(&mut scratch).unwrap_or(f64::NAN));
                    scratch.clear();
                    seen = 0;
                }
                rest = more;
            }
        }
        if seen > 0 {
            medians.push(median_of(&mut scratch).unwrap_or(f64::NAN));
        }
        medians
    }
}
