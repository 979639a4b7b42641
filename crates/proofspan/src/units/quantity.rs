//! One newtype per kind, all from one macro.

use core::iter::Sum;
use core::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

use super::kind::{Kind, Quantity};

/// A type whose values are of one kind. Values are held in SI.
pub trait Quantified:
    Copy + PartialEq + PartialOrd + core::fmt::Debug + Send + Sync + 'static
{
    /// The kind of every value of this type.
    const KIND: Kind;
    /// The value from its SI magnitude; finiteness is the caller's duty.
    fn from_si(si: f64) -> Self;
    /// The magnitude in the SI unit of the kind.
    fn magnitude(self) -> f64;
    /// The value with its kind beside it.
    fn quantity(self) -> Quantity {
        Quantity::new(Self::KIND, self.magnitude())
    }
}

macro_rules! newtype {
    ($($(#[$doc:meta])* $name:ident),* $(,)?) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, PartialEq, PartialOrd, Debug, Default)]
        pub struct $name(f64);

        impl Quantified for $name {
            const KIND: Kind = Kind::$name;
            fn from_si(si: f64) -> Self { Self(si) }
            fn magnitude(self) -> f64 { self.0 }
        }

        impl $name {
            /// Zero.
            pub const ZERO: Self = Self(0.0);

            /// The value from its magnitude in the SI unit of this kind.
            #[must_use]
            pub const fn from_si(si: f64) -> Self { Self(si) }

            /// The magnitude in the SI unit of this kind.
            #[must_use]
            pub const fn si(self) -> f64 { self.0 }

            /// The magnitude without its sign.
            #[must_use]
            pub const fn abs(self) -> Self { Self(self.0.abs()) }

            /// The larger of two values.
            #[must_use]
            pub const fn max(self, other: Self) -> Self { Self(self.0.max(other.0)) }

            /// The smaller of two values.
            #[must_use]
            pub const fn min(self, other: Self) -> Self { Self(self.0.min(other.0)) }

            /// Whether the value is neither infinite nor not-a-number.
            #[must_use]
            pub const fn is_finite(self) -> bool { self.0.is_finite() }
        }

        impl From<$name> for Quantity {
            fn from(value: $name) -> Self { value.quantity() }
        }
        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, k: f64) -> Self { Self(self.0 * k) }
        }
        impl Mul<$name> for f64 {
            type Output = $name;
            fn mul(self, q: $name) -> $name { $name(self * q.0) }
        }
        impl Div<f64> for $name {
            type Output = Self;
            fn div(self, k: f64) -> Self { Self(self.0 / k) }
        }
        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self { Self(-self.0) }
        }
        impl Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 { self.0 / other.0 }
        }
    )*};
}

macro_rules! additive {
    ($($name:ident),* $(,)?) => {$(
        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self { Self(self.0 + other.0) }
        }
        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self { Self(self.0 - other.0) }
        }
        impl AddAssign for $name {
            fn add_assign(&mut self, other: Self) { self.0 += other.0; }
        }
        impl SubAssign for $name {
            fn sub_assign(&mut self, other: Self) { self.0 -= other.0; }
        }
        impl Sum for $name {
            fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
                iter.fold(Self(0.0), |a, b| a + b)
            }
        }
    )*};
}

newtype! {
    /// A length, a place along the member or a deflection, in metres.
    Length,
    /// An area in m².
    Area,
    /// An elastic section modulus in m³.
    SectionModulus,
    /// A second moment of area in m⁴.
    SecondMoment,
    /// A volume in m³.
    Volume,
    /// A force in newtons.
    Force,
    /// A bending moment in N·m, sagging positive.
    Moment,
    /// An energy in joules.
    Energy,
    /// A force along a length in N/m, downward positive.
    LineLoad,
    /// A force on an area in Pa, downward positive.
    AreaLoad,
    /// A weight per volume in N/m³.
    UnitWeight,
    /// A stress or a modulus of elasticity in Pa.
    Stress,
    /// A fluid pressure in Pa.
    Pressure,
    /// A force per displacement in N/m.
    SpringStiffness,
    /// A moment per rotation in N·m/rad.
    RotationalStiffness,
    /// Axial rigidity EA in N.
    AxialRigidity,
    /// Flexural rigidity EI in N·m².
    FlexuralRigidity,
    /// A rotation in radians.
    Rotation,
    /// A curvature in 1/m.
    Curvature,
    /// A strain.
    Strain,
    /// A temperature in kelvin above absolute zero.
    Temperature,
    /// A difference of temperatures in kelvin.
    TemperatureChange,
    /// A coefficient of thermal expansion in 1/K.
    ThermalExpansion,
    /// A mass in kilograms.
    Mass,
    /// A mass per volume in kg/m³.
    Density,
    /// A length of time in seconds.
    Duration,
    /// A plain ratio.
    Ratio,
}

additive! {
    Length, Area, SectionModulus, SecondMoment, Volume, Force, Moment, Energy, LineLoad, AreaLoad,
    UnitWeight, Stress, Pressure, SpringStiffness, RotationalStiffness, AxialRigidity,
    FlexuralRigidity, Rotation, Curvature, Strain, TemperatureChange, ThermalExpansion, Mass,
    Density, Duration, Ratio,
}

impl Sub for Temperature {
    type Output = TemperatureChange;
    fn sub(self, other: Self) -> TemperatureChange {
        TemperatureChange(self.0 - other.0)
    }
}
impl Add<TemperatureChange> for Temperature {
    type Output = Self;
    fn add(self, change: TemperatureChange) -> Self {
        Self(self.0 + change.0)
    }
}

impl Ratio {
    /// The plain number.
    #[must_use]
    pub const fn value(self) -> f64 {
        self.0
    }
}
impl From<f64> for Ratio {
    fn from(value: f64) -> Self {
        Self(value)
    }
}
