//! Which effect is compared, and on which basis?

use crate::beam::{Extremes, Poly, Response, Segment, Side};
use crate::units::{Length, LoadBasis};

crate::choice! {
    /// The effect that is compared.
    pub enum Effect ("effect", source::SOURCE_CHOICE) {
        /// Shear, with its sign.
        Shear = "shear",
        /// Moment, with its sign.
        Moment = "moment",
    }
}

impl Effect {
    /// Its largest size on a stretch, in SI.
    pub(in crate::equivalent) fn largest(
        self,
        response: &Response,
        (from, to): (Length, Length),
    ) -> f64 {
        let e = self.extremes(response, (from, to));
        e.max.value.abs().max(e.min.value.abs())
    }

    /// Its extremes on a stretch, in SI.
    pub(in crate::equivalent) fn extremes(
        self,
        response: &Response,
        (from, to): (Length, Length),
    ) -> Extremes<f64> {
        match self {
            Self::Shear => response.inside().extremes_of(from, to, Segment::shear),
            Self::Moment => response.inside().extremes_of(from, to, Segment::moment),
        }
    }

    pub(in crate::equivalent) fn poly(self, segment: &Segment) -> Poly {
        match self {
            Self::Shear => segment.shear(),
            Self::Moment => segment.moment(),
        }
    }
    pub(in crate::equivalent) fn at(self, response: &Response, x: Length, side: Side) -> f64 {
        match self {
            Self::Shear => response.inside().shear(x, side).si(),
            Self::Moment => response.inside().moment(x, side).si(),
        }
    }
}

crate::choice! {
    /// Net or total.
    pub enum BasisWord ("load basis", source::SOURCE_CHOICE) {
        /// What the rig adds.
        Net = "net",
        /// With what is in place.
        Total = "total",
    }
}

impl BasisWord {
    /// The basis.
    #[must_use]
    pub const fn basis(self) -> LoadBasis {
        match self {
            Self::Net => LoadBasis::Net,
            Self::Total => LoadBasis::Total,
        }
    }
}
