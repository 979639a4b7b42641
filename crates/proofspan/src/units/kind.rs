//! The kinds of quantity, each with its SI dimension and its name in messages.

use core::fmt;

/// Exponents of metre, kilogram, second and kelvin.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
#[non_exhaustive]
pub struct Dimension {
    /// Exponent of the metre.
    pub length: i8,
    /// Exponent of the kilogram.
    pub mass: i8,
    /// Exponent of the second.
    pub time: i8,
    /// Exponent of the kelvin.
    pub temperature: i8,
}

impl Dimension {
    /// The dimension of a plain number.
    pub const NONE: Self = Self::new(0, 0, 0, 0);

    /// The largest exponent that a quantity of this library can come to mean.
    pub const MOST: i8 = 32;

    /// Whether every exponent is one that a quantity can have. Exponents beyond what eight bits
    /// hold are kept at the end of those, so that they are beyond this limit as well.
    #[must_use]
    pub const fn within(self) -> bool {
        let most = Self::MOST.unsigned_abs();
        self.length.unsigned_abs() <= most
            && self.mass.unsigned_abs() <= most
            && self.time.unsigned_abs() <= most
            && self.temperature.unsigned_abs() <= most
    }

    /// Exponents in the order metre, kilogram, second, kelvin.
    #[must_use]
    pub const fn new(length: i8, mass: i8, time: i8, temperature: i8) -> Self {
        Self { length, mass, time, temperature }
    }

    /// The dimension of a product.
    #[must_use]
    pub const fn times(self, other: Self) -> Self {
        Self::new(
            self.length.saturating_add(other.length),
            self.mass.saturating_add(other.mass),
            self.time.saturating_add(other.time),
            self.temperature.saturating_add(other.temperature),
        )
    }

    /// The dimension of a quotient.
    #[must_use]
    pub const fn over(self, other: Self) -> Self {
        self.times(other.power(-1))
    }

    /// The dimension of an integer power.
    #[must_use]
    pub const fn power(self, n: i8) -> Self {
        Self::new(
            self.length.saturating_mul(n),
            self.mass.saturating_mul(n),
            self.time.saturating_mul(n),
            self.temperature.saturating_mul(n),
        )
    }

    /// The dimension of a square root, where every exponent is even.
    #[must_use]
    pub const fn root(self) -> Option<Self> {
        if self.length % 2 == 0
            && self.mass % 2 == 0
            && self.time % 2 == 0
            && self.temperature % 2 == 0
        {
            Some(Self::new(self.length / 2, self.mass / 2, self.time / 2, self.temperature / 2))
        } else {
            None
        }
    }
}

impl fmt::Display for Dimension {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let parts =
            [("m", self.length), ("kg", self.mass), ("s", self.time), ("K", self.temperature)];
        let mut first = true;
        for (symbol, power) in parts {
            if power == 0 {
                continue;
            }
            if !first {
                f.write_str("·")?;
            }
            first = false;
            if power == 1 {
                f.write_str(symbol)?;
            } else {
                write!(f, "{symbol}^{power}")?;
            }
        }
        if first { f.write_str("1") } else { Ok(()) }
    }
}

macro_rules! kinds {
    ($($(#[$doc:meta])* $name:ident, $words:literal, $si:literal, [$m:literal, $kg:literal, $s:literal, $k:literal];)*) => {
        /// What a number measures. Two kinds may share a dimension (moment and
        /// energy, line load and spring stiffness) and still not be mixed.
        #[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, PartialOrd, Ord)]
        #[non_exhaustive]
        pub enum Kind { $($(#[$doc])* $name,)* }

        impl Kind {
            /// Every kind, in the order of the table.
            pub const ALL: &'static [Self] = &[$(Self::$name,)*];

            /// The name of the kind in messages, for example `line load`.
            #[must_use]
            pub const fn words(self) -> &'static str {
                match self { $(Self::$name => $words,)* }
            }

            /// The name of the kind in schemas and in Python, for example `LineLoad`.
            #[must_use]
            pub const fn name(self) -> &'static str {
                match self { $(Self::$name => stringify!($name),)* }
            }

            /// The symbol of the SI unit in which values of this kind are held.
            #[must_use]
            pub const fn si_symbol(self) -> &'static str {
                match self { $(Self::$name => $si,)* }
            }

            /// The SI dimension.
            #[must_use]
            pub const fn dimension(self) -> Dimension {
                match self { $(Self::$name => Dimension::new($m, $kg, $s, $k),)* }
            }
        }
    };
}
kinds! {
    /// A length, a place along the member or a deflection.
    Length, "length", "m", [1, 0, 0, 0];
    /// An area.
    Area, "area", "m^2", [2, 0, 0, 0];
    /// An elastic section modulus.
    SectionModulus, "section modulus", "m^3", [3, 0, 0, 0];
    /// A second moment of area.
    SecondMoment, "second moment of area", "m^4", [4, 0, 0, 0];
    /// A volume.
    Volume, "volume", "m^3", [3, 0, 0, 0];
    /// A force.
    Force, "force", "N", [1, 1, -2, 0];
    /// A bending moment.
    Moment, "moment", "N·m", [2, 1, -2, 0];
    /// An energy.
    Energy, "energy", "J", [2, 1, -2, 0];
    /// A force along a length.
    LineLoad, "line load", "N/m", [0, 1, -2, 0];
    /// A force on an area.
    AreaLoad, "area load", "Pa", [-1, 1, -2, 0];
    /// A weight per volume.
    UnitWeight, "unit weight", "N/m^3", [-2, 1, -2, 0];
    /// A stress or a modulus of elasticity.
    Stress, "stress", "Pa", [-1, 1, -2, 0];
    /// A pressure of a fluid.
    Pressure, "pressure", "Pa", [-1, 1, -2, 0];
    /// A force per displacement.
    SpringStiffness, "spring stiffness", "N/m", [0, 1, -2, 0];
    /// A moment per rotation.
    RotationalStiffness, "rotational stiffness", "N·m/rad", [2, 1, -2, 0];
    /// Axial rigidity EA.
    AxialRigidity, "axial rigidity", "N", [1, 1, -2, 0];
    /// Flexural rigidity EI.
    FlexuralRigidity, "flexural rigidity", "N·m^2", [3, 1, -2, 0];
    /// A rotation in radians.
    Rotation, "rotation", "rad", [0, 0, 0, 0];
    /// A curvature.
    Curvature, "curvature", "1/m", [-1, 0, 0, 0];
    /// A strain.
    Strain, "strain", "m/m", [0, 0, 0, 0];
    /// A temperature on the absolute scale.
    Temperature, "temperature", "K", [0, 0, 0, 1];
    /// A difference of two temperatures.
    TemperatureChange, "temperature change", "ΔK", [0, 0, 0, 1];
    /// A coefficient of thermal expansion.
    ThermalExpansion, "thermal expansion", "1/K", [0, 0, 0, -1];
    /// A mass.
    Mass, "mass", "kg", [0, 1, 0, 0];
    /// A mass per volume.
    Density, "density", "kg/m^3", [-3, 1, 0, 0];
    /// A length of time.
    Duration, "duration", "s", [0, 0, 1, 0];
    /// A plain ratio.
    Ratio, "ratio", "1", [0, 0, 0, 0];
}

impl Kind {
    /// The largest size, in SI units, that an input of this kind can have: far above what any
    /// member, rig or log holds, far below what overflows a calculation (library rule).
    #[must_use]
    pub const fn largest(self) -> f64 {
        match self {
            Self::Strain | Self::ThermalExpansion | Self::Rotation => 10.0,
            Self::TemperatureChange | Self::Temperature | Self::Curvature => 1e4,
            Self::Length => 1e5,
            Self::Area | Self::SectionModulus | Self::SecondMoment | Self::Density => 1e6,
            Self::Volume | Self::UnitWeight => 1e7,
            Self::AreaLoad | Self::Mass | Self::Ratio => 1e9,
            Self::LineLoad | Self::Duration => 1e10,
            Self::Force => 1e12,
            Self::Moment | Self::Energy | Self::Stress | Self::Pressure => 1e13,
            Self::SpringStiffness | Self::AxialRigidity => 1e15,
            Self::RotationalStiffness => 1e16,
            Self::FlexuralRigidity => 1e18,
        }
    }

    /// The smallest size, in SI units, of an input that must be above zero (library rule).
    #[must_use]
    pub const fn smallest(self) -> f64 {
        match self {
            Self::SecondMoment => 1e-15,
            Self::Volume | Self::SectionModulus | Self::ThermalExpansion | Self::Strain => 1e-12,
            Self::Area | Self::Ratio | Self::Curvature | Self::Rotation => 1e-9,
            Self::Length => 1e-7,
            _ => 1e-6,
        }
    }
}

/// A value with its kind, for places where the kind is known only at run time
/// (verdicts, formulas, Python).
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Quantity {
    /// What the value measures.
    pub kind: Kind,
    /// The value in the SI unit of the kind.
    pub si: f64,
}

impl Quantity {
    /// A value of the given kind in its SI unit.
    #[must_use]
    pub const fn new(kind: Kind, si: f64) -> Self {
        Self { kind, si }
    }
}
