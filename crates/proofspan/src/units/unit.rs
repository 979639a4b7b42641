//! The units by kind: symbol, other spellings, factor to SI.

use core::marker::PhantomData;
use core::ops::Mul;

use super::kind::Kind;
use super::quantity::*;

/// Standard gravity in m/s², exact (3rd CGPM, 1901).
pub(crate) const STANDARD_GRAVITY: f64 = 9.806_65;

/// One unit of the kind `Q`: SI value = (number + offset) × factor.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Unit<Q> {
    pub(crate) row: Row,
    kind: PhantomData<Q>,
}

impl<Q> Unit<Q> {
    const fn new(row: Row) -> Self {
        Self { row, kind: PhantomData }
    }

    /// The symbol, for example `kN/m`.
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        self.row.symbol
    }

    /// The SI value of `number` of these.
    #[must_use]
    pub fn to_si(self, number: f64) -> f64 {
        self.row.to_si(number)
    }

    /// How many of these an SI value is.
    #[must_use]
    pub fn from_si(self, si: f64) -> f64 {
        self.row.from_si(si)
    }
}

/// A row of the unit table.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Row {
    /// The kind this unit measures.
    pub kind: Kind,
    /// The symbol that is printed.
    pub symbol: &'static str,
    /// Other spellings that are read.
    pub aliases: &'static [&'static str],
    /// SI units per unit.
    pub factor: f64,
    /// Added to the number before the factor; only for temperatures.
    pub offset: f64,
}

impl Row {
    /// The SI value of `number` of these units.
    #[must_use]
    pub fn to_si(self, number: f64) -> f64 {
        (number + self.offset) * self.factor
    }

    /// How many of these units an SI value is.
    #[must_use]
    pub fn from_si(self, si: f64) -> f64 {
        si / self.factor - self.offset
    }
}

macro_rules! units {
    ($($kind:ident { $($name:ident $symbol:literal $factor:expr, $offset:expr, [$($alias:literal),*];)* })*) => {
        $($(
            #[doc = concat!("The unit `", $symbol, "`; factor to SI `", stringify!($factor), "`.")]
            pub const $name: Unit<$kind> = Unit::new(Row {
                kind: Kind::$kind, symbol: $symbol, aliases: &[$($alias),*], factor: $factor, offset: $offset,
            });
        )*)*

        $(
            impl $kind {
                /// The magnitude in `unit`.
                #[must_use]
                pub fn to(self, unit: Unit<Self>) -> f64 { unit.from_si(self.si()) }
            }
            impl Mul<Unit<$kind>> for f64 {
                type Output = $kind;
                fn mul(self, unit: Unit<$kind>) -> $kind { $kind::from_si(unit.to_si(self)) }
            }
        )*

        /// Every unit, grouped by kind; the first of a kind is its SI unit.
        pub(crate) const TABLE: &[Row] = &[$($($name.row,)*)*];

        impl Kind {
            /// The units of this kind, the SI unit first.
            #[must_use]
            pub fn units(self) -> &'static [Row] {
                match self { $(Self::$kind => const { &[$($name.row,)*] },)* }
            }
        }
    };
}

units! {
    Length {
        M "m" 1.0, 0.0, ["metre", "meter", "metres", "meters"];
        MM "mm" 0.001, 0.0, ["millimetre", "millimeter"];
        CM "cm" 0.01, 0.0, [];
        KM "km" 1000.0, 0.0, [];
        UM "um" 1e-6, 0.0, ["µm", "μm"];
        FT "ft" 0.3048, 0.0, ["foot", "feet", "'"];
        IN "in" 0.0254, 0.0, ["inch", "inches", "\"", "″"];
        MIL "mil" 2.54e-5, 0.0, [];
        YD "yd" 0.9144, 0.0, [];
    }
    Area {
        M2 "m^2" 1.0, 0.0, ["sqm"];
        MM2 "mm^2" 1e-6, 0.0, [];
        CM2 "cm^2" 1e-4, 0.0, [];
        FT2 "ft^2" 0.09290304, 0.0, ["sqft", "sq.ft"];
        IN2 "in^2" 0.00064516, 0.0, ["sqin", "sq.in"];
    }
    SectionModulus {
        M3_MODULUS "m^3" 1.0, 0.0, [];
        MM3_MODULUS "mm^3" 1e-9, 0.0, [];
        CM3_MODULUS "cm^3" 1e-6, 0.0, [];
        IN3_MODULUS "in^3" 1.6387064e-5, 0.0, [];
    }
    SecondMoment {
        M4 "m^4" 1.0, 0.0, [];
        MM4 "mm^4" 1e-12, 0.0, [];
        CM4 "cm^4" 1e-8, 0.0, [];
        IN4 "in^4" 4.162314256e-7, 0.0, [];
        FT4 "ft^4" 0.0086309748412416, 0.0, [];
    }
    Volume {
        M3 "m^3" 1.0, 0.0, [];
        L "l" 0.001, 0.0, ["L", "litre", "liter"];
        CM3 "cm^3" 1e-6, 0.0, ["ml", "mL"];
        IN3 "in^3" 1.6387064e-5, 0.0, [];
        FT3 "ft^3" 0.028316846592, 0.0, [];
    }
    Force {
        N "N" 1.0, 0.0, [];
        KN "kN" 1000.0, 0.0, [];
        MN "MN" 1e6, 0.0, [];
        LBF "lbf" 4.4482216152605, 0.0, [];
        KIP "kip" 4448.2216152605, 0.0, ["kips"];
        KGF "kgf" 9.80665, 0.0, [];
        TF "tf" 9806.65, 0.0, [];
    }
    Moment {
        N_M "N·m" 1.0, 0.0, ["Nm"];
        KN_M "kN·m" 1000.0, 0.0, ["kNm"];
        N_MM "N·mm" 0.001, 0.0, ["Nmm"];
        LBF_FT "lbf·ft" 1.3558179483314004, 0.0, ["ft.lbf", "lb.ft"];
        KIP_FT "kip·ft" 1355.8179483314004, 0.0, ["ft.kip"];
        LBF_IN "lbf·in" 0.1129848290276167, 0.0, ["in.lbf"];
        KIP_IN "kip·in" 112.9848290276167, 0.0, ["in.kip"];
    }
    Energy {
        J "J" 1.0, 0.0, [];
        KJ "kJ" 1000.0, 0.0, [];
        LBF_IN_ENERGY "in·lbf" 0.1129848290276167, 0.0, ["lbf.in"];
        KIP_IN_ENERGY "in·kip" 112.9848290276167, 0.0, ["kip.in"];
    }
    LineLoad {
        N_PER_M "N/m" 1.0, 0.0, [];
        KN_PER_M "kN/m" 1000.0, 0.0, ["N/mm"];
        PLF "plf" 4.4482216152605 / 0.3048, 0.0, ["lbf/ft"];
        KLF "klf" 4448.2216152605 / 0.3048, 0.0, ["kip/ft"];
    }
    AreaLoad {
        PA_LOAD "Pa" 1.0, 0.0, ["N/m2"];
        KPA_LOAD "kPa" 1000.0, 0.0, ["kN/m2"];
        PSF "psf" 4.4482216152605 / 0.09290304, 0.0, ["lbf/ft2"];
        KSF "ksf" 4448.2216152605 / 0.09290304, 0.0, ["kip/ft2"];
    }
    UnitWeight {
        N_PER_M3 "N/m^3" 1.0, 0.0, [];
        KN_PER_M3 "kN/m^3" 1000.0, 0.0, [];
        PCF "pcf" 4.4482216152605 / 0.028316846592, 0.0, ["lbf/ft3"];
    }
    Stress {
        PA "Pa" 1.0, 0.0, ["N/m2"];
        KPA "kPa" 1000.0, 0.0, ["kN/m2"];
        MPA "MPa" 1e6, 0.0, ["N/mm2"];
        GPA "GPa" 1e9, 0.0, ["kN/mm2"];
        PSI "psi" 4.4482216152605 / 0.00064516, 0.0, ["lbf/in2"];
        KSI "ksi" 4448.2216152605 / 0.00064516, 0.0, ["kip/in2"];
    }
    Pressure {
        PA_FLUID "Pa" 1.0, 0.0, ["N/m2"];
        KPA_FLUID "kPa" 1000.0, 0.0, [];
        MPA_FLUID "MPa" 1e6, 0.0, ["N/mm2"];
        BAR "bar" 1e5, 0.0, [];
        PSI_FLUID "psi" 4.4482216152605 / 0.00064516, 0.0, ["lbf/in2"];
        KSI_FLUID "ksi" 4448.2216152605 / 0.00064516, 0.0, [];
    }
    SpringStiffness {
        N_PER_M_SPRING "N/m" 1.0, 0.0, [];
        KN_PER_M_SPRING "kN/m" 1000.0, 0.0, ["N/mm"];
        KN_PER_MM "kN/mm" 1e6, 0.0, ["MN/m"];
        KIP_PER_IN "kip/in" 4448.2216152605 / 0.0254, 0.0, [];
        LBF_PER_IN "lbf/in" 4.4482216152605 / 0.0254, 0.0, [];
    }
    RotationalStiffness {
        N_M_PER_RAD "N·m/rad" 1.0, 0.0, ["Nm/rad"];
        KN_M_PER_RAD "kN·m/rad" 1000.0, 0.0, ["kNm/rad"];
        KIP_FT_PER_RAD "kip·ft/rad" 1355.8179483314004, 0.0, [];
    }
    AxialRigidity {
        N_AXIAL "N" 1.0, 0.0, [];
        KN_AXIAL "kN" 1000.0, 0.0, [];
        KIP_AXIAL "kip" 4448.2216152605, 0.0, [];
    }
    FlexuralRigidity {
        N_M2 "N·m^2" 1.0, 0.0, ["Nm2"];
        KN_M2 "kN·m^2" 1000.0, 0.0, ["kNm2"];
        LBF_FT2 "lbf·ft^2" 4.4482216152605 * 0.09290304, 0.0, [];
        KIP_IN2 "kip·in^2" 4448.2216152605 * 0.00064516, 0.0, [];
        KIP_FT2 "kip·ft^2" 4448.2216152605 * 0.09290304, 0.0, [];
    }
    Rotation {
        RAD "rad" 1.0, 0.0, [];
        MRAD "mrad" 0.001, 0.0, [];
        DEG "deg" core::f64::consts::PI / 180.0, 0.0, ["°"];
    }
    Curvature {
        PER_M "1/m" 1.0, 0.0, ["rad/m"];
        PER_IN "1/in" 1.0 / 0.0254, 0.0, [];
    }
    Strain {
        M_PER_M "m/m" 1.0, 0.0, [];
        MM_PER_M "mm/m" 0.001, 0.0, [];
        UM_PER_M "um/m" 1e-6, 0.0, ["µm/m", "μm/m", "microstrain"];
    }
    Temperature {
        KELVIN "K" 1.0, 0.0, [];
        CELSIUS "°C" 1.0, 273.15, ["degC", "C", "degc"];
        FAHRENHEIT "°F" 5.0 / 9.0, 459.67, ["degF", "F", "degf"];
    }
    TemperatureChange {
        DK "ΔK" 1.0, 0.0, ["K", "dK"];
        DC "Δ°C" 1.0, 0.0, ["Δdegc", "degc", "°C", "dC"];
        DF "Δ°F" 5.0 / 9.0, 0.0, ["Δdegf", "degf", "degF", "°F", "dF"];
    }
    ThermalExpansion {
        PER_K "1/K" 1.0, 0.0, ["1/degc", "1/°C", "m/m/K"];
        PER_F "1/°F" 1.8, 0.0, ["1/degf", "1/degF"];
    }
    Mass {
        KG "kg" 1.0, 0.0, [];
        TONNE "t" 1000.0, 0.0, ["tonne"];
        LB "lb" 0.45359237, 0.0, ["lbm"];
        SHORT_TON "ton_us" 907.18474, 0.0, [];
    }
    Density {
        KG_PER_M3 "kg/m^3" 1.0, 0.0, [];
        LB_PER_FT3 "lb/ft^3" 0.45359237 / 0.028316846592, 0.0, [];
    }
    Duration {
        S "s" 1.0, 0.0, ["sec", "second", "seconds"];
        MIN "min" 60.0, 0.0, ["minute", "minutes"];
        H "h" 3600.0, 0.0, ["hr", "hour", "hours"];
        D "d" 86400.0, 0.0, ["day", "days"];
    }
    Ratio {
        ONE "1" 1.0, 0.0, [];
        PERCENT "%" 0.01, 0.0, ["percent"];
    }
}
