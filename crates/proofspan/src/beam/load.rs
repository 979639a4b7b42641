//! The loads a beam can carry.

use crate::error::Error;
use crate::source::rule::broken;
use crate::units::{
    Curvature, Force, Kind, Length, LineLoad, Moment, Rotation, TemperatureChange, ThermalExpansion,
};

crate::rule! {
    /// A depth of a section: one centimetre to a hundred metres (library rule).
    pub Depth { above 0.0 BEAM_LENGTH_NONPOSITIVE, least 0.01 SOURCE_MAGNITUDE, most 100.0 SOURCE_MAGNITUDE }
    /// A coefficient of thermal expansion, per kelvin: up to a thousandth (library rule).
    pub Expansion { above 0.0 SOURCE_SIGN, most 0.001 SOURCE_MAGNITUDE }
}

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
    /// A curvature that the member would take if it were free: temperature, prestress, camber.
    Curvature {
        /// Left edge.
        from: Length,
        /// Right edge.
        to: Length,
        /// At the left edge, positive where it bends as a sagging moment does.
        kappa_from: Curvature,
        /// At the right edge.
        kappa_to: Curvature,
    },
    /// A jump of rotation imposed on the member: dw/dx is larger right of it by this much.
    Kink {
        /// Place from the left end.
        at: Length,
        /// Clockwise positive.
        rotation: Rotation,
    },
    /// A jump of deflection imposed on the member: it lies deeper right of it by this much.
    Step {
        /// Place from the left end.
        at: Length,
        /// Down positive.
        by: Length,
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

    /// A free curvature over a part, positive where it bends as a sagging moment does.
    #[must_use]
    pub const fn curvature(from: Length, to: Length, kappa: Curvature) -> Self {
        Self::Curvature { from, to, kappa_from: kappa, kappa_to: kappa }
    }
    /// The free curvature of a linear temperature gradient over the depth: `bottom_less_top` is
    /// how much warmer the bottom is. κ = α ΔT / h.
    ///
    /// # Errors
    /// What a depth of a section or a coefficient of expansion cannot be.
    pub fn temperature(
        from: Length,
        to: Length,
        bottom_less_top: TemperatureChange,
        expansion: ThermalExpansion,
        depth: Length,
    ) -> Result<Self, Error> {
        let mut issues = Vec::new();
        if let Some(broken) = broken::<Depth>(Kind::Length, depth.si()) {
            issues.push(broken.issue("depth", depth));
        }
        if let Some(broken) = broken::<Expansion>(Kind::ThermalExpansion, expansion.si()) {
            issues.push(broken.issue("expansion", expansion));
        }
        Error::check(issues)?;
        Ok(Self::curvature(from, to, expansion * bottom_less_top / depth))
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
            Self::Curvature { from, to, kappa_from, kappa_to } => {
                Self::Curvature { from, to, kappa_from: kappa_from * k, kappa_to: kappa_to * k }
            }
            Self::Kink { at, rotation } => Self::Kink { at, rotation: rotation * k },
            Self::Step { at, by } => Self::Step { at, by: by * k },
        }
    }

    /// The same load at other places.
    pub(crate) fn mapped(self, place: impl Fn(Length) -> Length) -> Self {
        let mut own = self;
        match &mut own {
            Self::Point { at, .. }
            | Self::Moment { at, .. }
            | Self::Kink { at, .. }
            | Self::Step { at, .. } => *at = place(*at),
            Self::Line { from, to, .. } | Self::Curvature { from, to, .. } => {
                (*from, *to) = (place(*from), place(*to));
            }
        }
        own
    }

    /// The resultant force, down positive.
    #[must_use]
    pub fn resultant(self) -> Force {
        match self {
            Self::Point { force, .. } => force,
            Self::Line { from, to, w_from, w_to } => (w_from + w_to) * (to - from) / 2.0,
            _ => Force::ZERO,
        }
    }

    /// The numbers of the load; all must be finite.
    pub(super) fn numbers(self) -> [f64; 4] {
        match self {
            Self::Point { at, force } => [at.si(), at.si(), force.si(), 0.0],
            Self::Moment { at, moment } => [at.si(), at.si(), moment.si(), 0.0],
            Self::Line { from, to, w_from, w_to } => [from.si(), to.si(), w_from.si(), w_to.si()],
            Self::Curvature { from, to, kappa_from, kappa_to } => {
                [from.si(), to.si(), kappa_from.si(), kappa_to.si()]
            }
            Self::Kink { at, rotation } => [at.si(), at.si(), rotation.si(), 0.0],
            Self::Step { at, by } => [at.si(), at.si(), by.si(), 0.0],
        }
    }
}
