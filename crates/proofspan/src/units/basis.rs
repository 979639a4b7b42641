//! Total, net and in-place loads as types, so that they cannot be mixed.
//!
//! ```
//! use proofspan::units::*;
//! let net = Net(15.0 * KN);
//! let there = InPlace(7.0 * KN);
//! let total: Total<Force> = net + there;
//! assert_eq!(total - there, net);
//! ```
//!
//! ```compile_fail,E0308
//! use proofspan::units::*;
//! let wrong = Net(15.0 * KN) + Total(7.0 * KN);
//! ```

use core::fmt;
use core::ops::{Add, Div, Mul, Sub};

/// Which part of the load an effect belongs to. Closed: the total is the sum of the other two.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum LoadBasis {
    /// What the rig adds.
    Net,
    /// What the rig adds together with what is in place.
    Total,
    /// What acted before the first increment of the test.
    InPlace,
}

impl LoadBasis {
    /// The word used in reports, JSON and Python.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Net => "net",
            Self::Total => "total",
            Self::InPlace => "in_place",
        }
    }
}

impl fmt::Display for LoadBasis {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

macro_rules! bases {
    ($($(#[$doc:meta])* $name:ident),*) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, PartialEq, PartialOrd, Debug)]
        pub struct $name<Q>(pub Q);

        impl<Q: Add<Output = Q>> Add for $name<Q> {
            type Output = Self;
            fn add(self, other: Self) -> Self { Self(self.0 + other.0) }
        }
        impl<Q: Mul<f64, Output = Q>> Mul<f64> for $name<Q> {
            type Output = Self;
            fn mul(self, k: f64) -> Self { Self(self.0 * k) }
        }
        impl<Q: Div<Output = f64>> Div for $name<Q> {
            type Output = f64;
            fn div(self, other: Self) -> f64 { self.0 / other.0 }
        }
    )*};
}

bases! {
    /// An effect of what the rig adds.
    Net,
    /// An effect of everything that acts.
    Total,
    /// An effect of what acted before the test.
    InPlace
}

impl<Q: Add<Output = Q>> Add<InPlace<Q>> for Net<Q> {
    type Output = Total<Q>;
    fn add(self, other: InPlace<Q>) -> Total<Q> {
        Total(self.0 + other.0)
    }
}
impl<Q: Sub<Output = Q>> Sub<InPlace<Q>> for Total<Q> {
    type Output = Net<Q>;
    fn sub(self, other: InPlace<Q>) -> Net<Q> {
        Net(self.0 - other.0)
    }
}
impl<Q: Sub<Output = Q>> Sub<Net<Q>> for Total<Q> {
    type Output = InPlace<Q>;
    fn sub(self, other: Net<Q>) -> InPlace<Q> {
        InPlace(self.0 - other.0)
    }
}
