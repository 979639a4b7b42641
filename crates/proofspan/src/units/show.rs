//! Quantity to text: all digits for machines, few for people.

use core::fmt;

use super::kind::Kind;
use super::parse::{UnitError, parse_quantity};
use super::quantity::Quantified;
use super::unit::{Row, Unit};

/// The unit system a reader prefers. It never touches a calculation.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
#[non_exhaustive]
pub enum System {
    /// Metre, kilonewton, millimetre.
    #[default]
    Si,
    /// Foot, pound-force, inch.
    Us,
}

impl System {
    /// The word used in JSON and Python.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Si => "SI",
            Self::Us => "US",
        }
    }
}

impl Kind {
    /// The unit in which a reader of `system` expects this kind in a report.
    #[must_use]
    pub fn usual(self, system: System) -> Row {
        let symbol = match (system, self) {
            (System::Si, Self::Moment) => "kN·m",
            (System::Si, Self::Force | Self::AxialRigidity) => "kN",
            (System::Si, Self::LineLoad | Self::SpringStiffness) => "kN/m",
            (System::Si, Self::AreaLoad) => "kPa",
            (System::Si, Self::UnitWeight) => "kN/m^3",
            (System::Si, Self::Stress | Self::Pressure) => "MPa",
            (System::Si, Self::RotationalStiffness) => "kN·m/rad",
            (System::Si, Self::FlexuralRigidity) => "kN·m^2",
            (System::Si, Self::Energy) => "kJ",
            (System::Si, Self::SecondMoment) => "mm^4",
            (System::Si, Self::SectionModulus | Self::Area) => {
                if matches!(self, Self::Area) {
                    "mm^2"
                } else {
                    "mm^3"
                }
            }
            (System::Si, Self::Temperature) => "°C",
            (System::Si, Self::TemperatureChange) => "Δ°C",
            (System::Us, Self::Length) => "ft",
            (System::Us, Self::Area) => "in^2",
            (System::Us, Self::SectionModulus | Self::Volume) => "in^3",
            (System::Us, Self::SecondMoment) => "in^4",
            (System::Us, Self::Force | Self::AxialRigidity) => {
                if matches!(self, Self::Force) {
                    "lbf"
                } else {
                    "kip"
                }
            }
            (System::Us, Self::Moment) => "lbf·ft",
            (System::Us, Self::Energy) => "in·kip",
            (System::Us, Self::LineLoad) => "plf",
            (System::Us, Self::AreaLoad) => "psf",
            (System::Us, Self::UnitWeight) => "pcf",
            (System::Us, Self::Stress | Self::Pressure) => "psi",
            (System::Us, Self::SpringStiffness) => "kip/in",
            (System::Us, Self::RotationalStiffness) => "kip·ft/rad",
            (System::Us, Self::FlexuralRigidity) => "lbf·ft^2",
            (System::Us, Self::Temperature) => "°F",
            (System::Us, Self::TemperatureChange) => "Δ°F",
            (System::Us, Self::Mass) => "lb",
            (System::Us, Self::Density) => "lb/ft^3",
            (_, Self::Strain) => "um/m",
            (_, Self::Duration) => "h",
            (_, other) => other.si_symbol(),
        };
        self.unit(symbol).unwrap_or(Row {
            kind: self,
            symbol: self.si_symbol(),
            aliases: &[],
            factor: 1.0,
            offset: 0.0,
        })
    }

    /// The unit of this kind with exactly this symbol.
    #[must_use]
    pub fn unit(self, symbol: &str) -> Option<Row> {
        self.units().iter().find(|r| r.symbol == symbol).copied()
    }

    /// Small lengths (deflections, gaps, strokes) read better in mm or inches.
    #[must_use]
    pub fn small(self, system: System) -> Row {
        match (self, system) {
            (Self::Length, System::Si) => self.unit("mm").unwrap_or_else(|| self.usual(system)),
            (Self::Length, System::Us) => self.unit("in").unwrap_or_else(|| self.usual(system)),
            _ => self.usual(system),
        }
    }
}

/// A quantity in an asked unit, with as few digits as read back to the same bits:
/// 15, 16 or 17; where none does, 17 (then the text is within one unit in the last place).
#[derive(Clone, Copy, Debug)]
pub struct Shown {
    si: f64,
    row: Row,
}

impl Shown {
    /// A value of the kind of `row`, held in SI, shown in that unit.
    #[must_use]
    pub const fn new(si: f64, row: Row) -> Self {
        Self { si, row }
    }
}

impl fmt::Display for Shown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let number = self.row.from_si(self.si);
        let mut text = String::new();
        for digits in 15..=17_usize {
            text = format!("{} {}", significant(number, digits), self.row.symbol);
            let back = parse_quantity(&text, self.row.kind);
            if back.is_ok_and(|si| si.to_bits() == self.si.to_bits()) {
                break;
            }
        }
        f.write_str(&text)
    }
}

/// The SI text of a value: shortest digits that read back to the same bits.
pub(crate) fn si_text(kind: Kind, si: f64) -> String {
    // a plain ratio is a number; the unit 1 would only be noise
    if kind == Kind::Ratio { format!("{si:?}") } else { format!("{si:?} {}", kind.si_symbol()) }
}

/// The SI value of a kind for people, without idle zeros; a plain ratio is a number.
fn plain(si: f64, kind: Kind, digits: usize) -> String {
    let number = grouped(si, digits);
    let number = trimmed(&number);
    if kind == Kind::Ratio { number.to_owned() } else { format!("{number} {}", kind.si_symbol()) }
}

/// `number` with so many significant digits, without trailing zeros.
fn significant(number: f64, digits: usize) -> String {
    if number.abs() < f64::MIN_POSITIVE {
        return "0".to_owned();
    }
    let text = format!("{number:.*e}", digits.saturating_sub(1));
    let rounded: f64 = text.parse().unwrap_or(number);
    if (1e-5..1e15).contains(&rounded.abs()) {
        format!("{rounded}")
    } else {
        let (mantissa, exponent) = text.split_once('e').unwrap_or((&text, "0"));
        let mantissa = if mantissa.contains('.') {
            mantissa.trim_end_matches('0').trim_end_matches('.')
        } else {
            mantissa
        };
        format!("{mantissa}e{exponent}")
    }
}

/// `si` in `row`, rounded for people to `digits` significant digits; a value that is
/// not zero never prints as zero.
pub(crate) fn rounded(si: f64, row: Row, digits: usize) -> String {
    let mut text = grouped(row.from_si(si), digits);
    text.push(' ');
    text.push_str(row.symbol);
    text
}

/// A number text without idle zeros behind the point.
pub(crate) fn trimmed(text: &str) -> &str {
    if text.contains('.') && !text.contains('e') {
        text.trim_end_matches('0').trim_end_matches('.')
    } else {
        text
    }
}

/// `number` with at most so many significant digits, without idle zeros.
#[must_use]
pub fn digits(number: f64, most: usize) -> String {
    trimmed(&grouped(number, most)).to_owned()
}

/// What stands in a text where there is no finite number.
pub(crate) const NO_NUMBER: &str = "no number";

/// `number` with `digits` significant digits as plain decimals; a value that is not finite in words.
pub(crate) fn grouped(number: f64, digits: usize) -> String {
    if !number.is_finite() {
        return NO_NUMBER.to_owned();
    }
    if number.abs() < f64::MIN_POSITIVE {
        return "0".to_owned();
    }
    if let Some(text) = quick(number, digits) {
        return text;
    }
    let rounded: f64 = format!("{number:.*e}", digits.saturating_sub(1)).parse().unwrap_or(number);
    if !(1e-6..1e12).contains(&rounded.abs()) {
        return format!("{rounded:e}");
    }
    let magnitude = rounded.abs().log10().floor();
    let decimals = (digits as f64 - 1.0 - magnitude).max(0.0);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 0 and 24")]
    let decimals = decimals as usize;
    format!("{rounded:.decimals$}")
}

/// The same by whole numbers, where that surely rounds as exact decimals do: not near a tie, not at a
/// change of magnitude.
fn quick(number: f64, digits: usize) -> Option<String> {
    let digits = u32::try_from(digits).ok().filter(|d| (1..=9).contains(d))?;
    let size = number.abs();
    if !(1e-6..1e9).contains(&size) {
        return None;
    }
    let decimals = f64::from(digits) - 1.0 - size.log10().floor();
    if !(0.0..=14.0).contains(&decimals) {
        return None;
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 14")]
    let decimals = decimals as u32;
    let ten = 10_u64.pow(decimals);
    #[expect(clippy::cast_precision_loss, reason = "a power of ten below 2^53")]
    let scaled = size * ten as f64;
    let whole = scaled.round();
    if (scaled - whole).abs() > 0.49 {
        return None;
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "up to 10^9")]
    let whole = whole as u32;
    let mut unit = 10_u32.pow(digits - 1);
    if whole < unit || whole / 10 >= unit {
        return None;
    }
    let mut text = String::with_capacity(32);
    if number < 0.0 {
        text.push('-');
    }
    if decimals >= digits {
        text.push_str("0.");
        (digits..decimals).for_each(|_| text.push('0'));
    }
    for place in (0..digits).rev() {
        text.extend(char::from_digit(whole / unit % 10, 10));
        if place == decimals && place > 0 {
            text.push('.');
        }
        unit /= 10;
    }
    Some(text)
}

macro_rules! display {
    ($($name:ident),* $(,)?) => {$(
        impl fmt::Display for super::quantity::$name {
            /// SI, nine digits; [`Shown`] and JSON have all of them.
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(&plain(self.magnitude(), Self::KIND, 9))
            }
        }
        impl super::quantity::$name {
            /// The value in `unit` with all the digits needed to read it back.
            #[must_use]
            pub fn show(self, unit: Unit<Self>) -> Shown {
                Shown::new(self.magnitude(), unit.row)
            }

            /// Reads text such as `"12.5 kN/m"`.
            ///
            /// # Errors
            /// A bare number, an unknown unit (the nearest is named), a unit of
            /// another kind, a number that is not finite.
            pub fn parse(text: &str) -> Result<Self, UnitError> {
                parse_quantity(text, Self::KIND).map(Self::from_si)
            }
        }
        impl serde::Serialize for super::quantity::$name {
            fn serialize<S: serde::Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
                s.serialize_str(&si_text(Self::KIND, self.magnitude()))
            }
        }
        impl<'de> serde::Deserialize<'de> for super::quantity::$name {
            fn deserialize<D: serde::Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
                let text = <std::borrow::Cow<'de, str> as serde::Deserialize>::deserialize(d)?;
                Self::parse(&text).map_err(serde::de::Error::custom)
            }
        }
    )*};
}

display! {
    Length, Area, SectionModulus, SecondMoment, Volume, Force, Moment, Energy, LineLoad, AreaLoad,
    UnitWeight, Stress, Pressure, SpringStiffness, RotationalStiffness, AxialRigidity,
    FlexuralRigidity, Rotation, Curvature, Strain, Temperature, TemperatureChange,
    ThermalExpansion, Mass, Density, Duration, Ratio,
}

impl super::kind::Quantity {
    /// Rounded for people, in the usual unit of `system`; small lengths in mm or inches.
    #[must_use]
    pub fn rounded(self, system: System, digits: usize) -> String {
        let row = match self.kind {
            Kind::Length if self.si.abs() < 0.25 => self.kind.small(system),
            kind => kind.usual(system),
        };
        if self.kind == Kind::Ratio {
            return grouped(self.si, digits);
        }
        rounded(self.si, row, digits)
    }
}

impl super::quantity::Length {
    /// Feet, inches and a fraction of an inch with this power of two below (at most 64),
    /// for example `9'-6 1/2"`; the length is rounded to that fraction.
    #[must_use]
    pub fn feet_inches(self, below: u32) -> String {
        let below = f64::from(below.clamp(1, 64).next_power_of_two());
        let parts = (self.si().abs() / 0.0254 * below).round();
        let inches = (parts / below).floor();
        let (mut above, mut under) = (parts - inches * below, below);
        while above > 0.0 && above % 2.0 < 0.5 {
            above /= 2.0;
            under /= 2.0;
        }
        let feet = (inches / 12.0).floor();
        let sign = if self.si() < 0.0 && parts > 0.0 { "-" } else { "" };
        let rest = inches - 12.0 * feet;
        if above > 0.0 {
            format!("{sign}{feet}'-{rest} {above}/{under}\"")
        } else {
            format!("{sign}{feet}'-{rest}\"")
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::float_cmp, reason = "tests")]
mod tests {
    use super::super::*;

    /// Whole numbers and exact decimals say the same, digit by digit.
    #[test]
    fn quick_digits_are_the_digits() {
        let plain = |number: f64, digits: usize| {
            let rounded: f64 = format!("{number:.*e}", digits - 1).parse().unwrap();
            let decimals = (digits as f64 - 1.0 - rounded.abs().log10().floor()).max(0.0);
            format!("{rounded:.*}", decimals as usize)
        };
        let mut bits = 0x9E37_79B9_7F4A_7C15_u64;
        let mut quick = 0;
        for i in 0..200_000_u32 {
            bits = bits
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            let mantissa = (bits >> 11) as f64 / (1_u64 << 53) as f64;
            let power = f64::from(i % 14) - 5.0;
            // round numbers too, and halves
            let number = match i % 3 {
                0 => mantissa * 10f64.powf(power),
                1 => (mantissa * 1e4).round() / 8.0,
                _ => -(mantissa * 1e3).round() / 100.0,
            };
            for digits in [3, 6] {
                if let Some(text) = super::quick(number, digits) {
                    quick += 1;
                    assert_eq!(text, plain(number, digits), "{number:e} {digits}");
                }
            }
        }
        assert!(quick > 300_000, "{quick}");
    }

    #[test]
    fn shown_text_reads_back_to_the_same_bits() {
        for (text, shown) in [("45 ft", "45 ft"), ("0.1 ft", "0.1 ft"), ("30.1 in", "30.1 in")] {
            let length = Length::parse(text).unwrap();
            let unit = if text.ends_with("in") { IN } else { FT };
            assert_eq!(length.show(unit).to_string(), shown);
        }
    }

    #[test]
    fn si_text_reads_back_to_the_same_bits() {
        let force = 17938.12 * LBF / 3.0;
        assert_eq!(force.to_string(), "26597.5777 N");
        let json = serde_json::to_string(&force).unwrap();
        assert_eq!(serde_json::from_str::<Force>(&json).unwrap(), force);
    }

    #[test]
    fn feet_and_inches_print_as_drawings_do() {
        assert_eq!(Length::parse("30'-6 1/2\"").unwrap().feet_inches(16), "30'-6 1/2\"");
        assert_eq!((6.0 * FT).feet_inches(16), "6'-0\"");
        assert_eq!((-1.5 * FT).feet_inches(16), "-1'-6\"");
        assert_eq!((11.999 * IN).feet_inches(16), "1'-0\"");
    }

    #[test]
    fn rounding_never_prints_zero_for_something() {
        assert_eq!(
            Length::parse("0.0000004 m").unwrap().quantity().rounded(System::Si, 4),
            "0.0004000 mm"
        );
        assert_eq!((17938.1196 * LBF).quantity().rounded(System::Us, 7), "17938.12 lbf");
    }
}
