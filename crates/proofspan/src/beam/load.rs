//! The loads a beam can carry.

use crate::units::{Force, Length, LineLoad, Moment};

/// A load on a beam, down positive, per member unit.
#[derive(Clone, Copy, PartialEq, Debug)]
#[non_exhaustive]
pub enum Load {
    /// A concentrated force.
    Point {
        /// Place from the left end.
        at: Length,
        /// Down positive.
        force: Force,
    },
    /// A concentrated moment.
    Moment {
        /// Place from the left end.
        at: Length,
        /// Clockwise positive.
        moment: Moment,
    },
    /// A uniform or trapezoidal load over a part.
    Line {
        /// Left edge.
        from: Length,
        /// Right edge.
        to: Length,
        /// Intensity at the left edge, down positive.
        w_from: LineLoad,
        /// Intensity at the right edge, down positive.
        w_to: LineLoad,
    },
}

impl Load {
    /// A force, down positive.
    #[must_use]
    pub const fn point(at: Length, force: Force) -> Self {
        Self::Point { at, force }
    }
    /// A moment, clockwise positive.
    #[must_use]
    pub const fn moment(at: Length, moment: Moment) -> Self {
        Self::Moment { at, moment }
    }
    /// A uniform load over a part.
    #[must_use]
    pub const fn uniform(from: Length, to: Length, w: LineLoad) -> Self {
        Self::Line { from, to, w_from: w, w_to: w }
    }
    /// A load that changes linearly over a part.
    #[must_use]
    pub const fn line(from: Length, to: Length, w_from: LineLoad, w_to: LineLoad) -> Self {
        Self::Line { from, to, w_from, w_to }
    }

    /// The same load times `k`.
    #[must_use]
    pub fn scaled(self, k: f64) -> Self {
        match self {
            Self::Point { at, force } => Self::Point { at, force: force * k },
            Self::Moment { at, moment } => Self::Moment { at, moment: moment * k },
            Self::Line { from, to, w_from, w_to } => {
                Self::Line { from, to, w_from: w_from * k, w_to: w_to * k }
            }
        }
    }

    /// The resultant force, down positive.
    #[must_use]
    pub fn resultant(self) -> Force {
        match self {
            Self::Point { force, .. } => force,
            Self::Moment { .. } => Force::ZERO,
            Self::Line { from, to, w_from, w_to } => (w_from + w_to) * (to - from) / 2.0,
        }
    }

    /// The numbers of the load; all must be finite.
    pub(super) fn numbers(self) -> [f64; 4] {
        match self {
            Self::Point { at, force } => [at.si(), at.si(), force.si(), 0.0],
            Self::Moment { at, moment } => [at.si(), at.si(), moment.si(), 0.0],
            Self::Line { from, to, w_from, w_to } => [from.si(), to.si(), w_from.si(), w_to.si()],
        }
    }
}
