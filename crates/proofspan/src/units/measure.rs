//! What does a product measure, when the kinds are known only at run time?

use super::kind::{Dimension, Kind};
use super::nearest;
use super::parse::{Fault, SHOWN, UnitError, head, number_and_rows, parse_quantity};
use super::products::{PRODUCTS, QUOTIENTS};
use super::unit::{Row, TABLE};

/// A dimension, and the kind where it is known. Formulas and Python compute with it.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Measure {
    /// The SI dimension.
    pub dimension: Dimension,
    /// The kind, where only one fits.
    pub kind: Option<Kind>,
}

impl Measure {
    /// A plain number.
    pub const NUMBER: Self = Self { dimension: Dimension::NONE, kind: None };

    /// That of a kind.
    #[must_use]
    pub const fn of(kind: Kind) -> Self {
        Self { dimension: kind.dimension(), kind: Some(kind) }
    }

    /// That of a dimension; the kind is known where only one kind has it.
    #[must_use]
    pub fn only(dimension: Dimension) -> Self {
        let mut kinds = Kind::ALL.iter().filter(|k| k.dimension() == dimension);
        let first = kinds.next().copied();
        Self { dimension, kind: if kinds.next().is_none() { first } else { None } }
    }

    /// Whether it is a plain number or a ratio.
    #[must_use]
    pub fn plain(self) -> bool {
        matches!(self.kind, None | Some(Kind::Ratio)) && self.dimension == Dimension::NONE
    }

    /// That of a product: the kind of the operator where there is one, else of the dimension.
    #[must_use]
    pub fn times(self, other: Self) -> Self {
        let dimension = self.dimension.times(other.dimension);
        match (self.plain(), other.plain()) {
            (true, _) => Self { dimension, kind: other.kind },
            (_, true) => Self { dimension, kind: self.kind },
            _ => Self::looked_up(PRODUCTS, self, other, dimension),
        }
    }

    /// That of a quotient.
    #[must_use]
    pub fn over(self, other: Self) -> Self {
        let dimension = self.dimension.over(other.dimension);
        if other.plain() {
            return Self { dimension, kind: self.kind };
        }
        Self::looked_up(QUOTIENTS, self, other, dimension)
    }

    fn looked_up(table: &[(Kind, Kind, Kind)], a: Self, b: Self, dimension: Dimension) -> Self {
        let row = table.iter().find(|(x, y, _)| (Some(*x), Some(*y)) == (a.kind, b.kind));
        row.map_or_else(|| Self::only(dimension), |r| Self { dimension, kind: Some(r.2) })
    }

    /// That of an integer power.
    #[must_use]
    pub fn power(self, n: i8) -> Self {
        if n == 1 { self } else { Self::only(self.dimension.power(n)) }
    }

    /// That of a square root, where every exponent is even.
    #[must_use]
    pub fn root(self) -> Option<Self> {
        self.dimension.root().map(Self::only)
    }

    /// That of a sum, a difference or a comparison; nothing where the two do not mix.
    #[must_use]
    pub fn with(self, other: Self) -> Option<Self> {
        let clash = matches!((self.kind, other.kind), (Some(a), Some(b)) if a != b && a.dimension() != Dimension::NONE);
        (self.dimension == other.dimension && !clash)
            .then_some(Self { dimension: self.dimension, kind: self.kind.or(other.kind) })
    }

    /// That of a sum; nothing where the two do not mix. A change moves a temperature; two temperatures
    /// have no sum.
    #[must_use]
    pub fn plus(self, other: Self) -> Option<Self> {
        match self.temperatures(other) {
            Some((Some(Kind::Temperature), Some(Kind::Temperature))) => None,
            Some((Some(Kind::Temperature), _) | (_, Some(Kind::Temperature))) => {
                Some(Self::of(Kind::Temperature))
            }
            Some((Some(_), None) | (None, Some(_))) => Some(Self { kind: None, ..self }),
            _ => self.with(other),
        }
    }

    /// That of a difference; nothing where the two do not mix. Two temperatures differ by a change.
    #[must_use]
    pub fn minus(self, other: Self) -> Option<Self> {
        match self.temperatures(other) {
            Some((Some(Kind::TemperatureChange), Some(Kind::Temperature))) => None,
            Some((_, Some(Kind::Temperature)) | (Some(Kind::TemperatureChange), _)) => {
                Some(Self::of(Kind::TemperatureChange))
            }
            Some((Some(_), Some(_))) => Some(Self::of(Kind::Temperature)),
            Some(_) => Some(Self { kind: None, ..self }),
            None => self.with(other),
        }
    }

    /// The kinds of two that are temperatures or changes of one; nothing where they are not.
    fn temperatures(self, other: Self) -> Option<(Option<Kind>, Option<Kind>)> {
        let kelvin = Kind::Temperature.dimension();
        (self.dimension == kelvin && other.dimension == kelvin).then_some((self.kind, other.kind))
    }

    /// Whether a multiple of it means anything: twice a length does, twice 20 °C does not.
    #[must_use]
    pub fn scales(self) -> bool {
        self.kind != Some(Kind::Temperature)
    }

    /// Whether a value of it can stand where `kind` is wanted.
    #[must_use]
    pub fn fits(self, kind: Kind) -> bool {
        self.dimension == kind.dimension() && self.kind.is_none_or(|k| k == kind)
    }

    /// The kind in words, or the dimension.
    #[must_use]
    pub fn words(self) -> String {
        self.kind.map_or_else(|| self.dimension.to_string(), |k| k.words().to_owned())
    }

    /// Reads text whose kind nobody names: `"5 kN"` is a force or an axial rigidity, so its
    /// kind stays open; its dimension and its SI value do not.
    ///
    /// # Errors
    /// A text that no kind reads, or that kinds read with different values (`"20 °C"`).
    pub fn parse(text: &str) -> Result<(Self, f64), UnitError> {
        if let Some(read) = Self::spelled(text) {
            return Ok(read);
        }
        let mut found: Option<(Self, f64)> = None;
        let mut refused: Option<UnitError> = None;
        for kind in Kind::ALL {
            match (parse_quantity(text, *kind), found) {
                (Ok(si), None) => found = Some((Self::of(*kind), si)),
                (Ok(si), Some((measure, before)))
                    if measure.dimension == kind.dimension()
                        && si.to_bits() == before.to_bits() =>
                {
                    found = Some((Self { kind: None, ..measure }, si));
                }
                (Ok(_), Some((measure, _))) => {
                    let kinds = vec![measure.kind.unwrap_or(*kind), *kind];
                    let fault = Fault::Kind { found: kinds };
                    return Err(UnitError { text: head(text, SHOWN), wanted: *kind, fault });
                }
                // what is no temperature is no change of one either
                (Err(error), _) if error.fault == Fault::Cold => return Err(error),
                (Err(error), _) => {
                    let plain = matches!(error.fault, Fault::Unknown { .. } | Fault::Kind { .. });
                    if refused.is_none() || !plain {
                        refused = Some(error);
                    }
                }
            }
        }
        found.ok_or_else(|| Self::unknown(text, refused))
    }

    /// A number with a unit that all kinds which have it read alike: the usual case, looked up at once.
    fn spelled(text: &str) -> Option<(Self, f64)> {
        let (number, rows) = number_and_rows(text)?;
        let (first, others) = rows.split_first()?;
        let si = first.to_si(number);
        let dimension = first.kind.dimension();
        let alike =
            |r: &Row| r.kind.dimension() == dimension && r.to_si(number).to_bits() == si.to_bits();
        let kind = others.iter().all(|r| r.kind == first.kind).then_some(first.kind);
        let cold = first.kind == Kind::Temperature && si < 0.0;
        (si.is_finite() && !cold && others.iter().all(alike))
            .then_some((Self { dimension, kind }, si))
    }

    /// The refusal that names the nearest unit of all kinds.
    fn unknown(text: &str, refused: Option<UnitError>) -> UnitError {
        let text = head(text, SHOWN);
        let number = UnitError { text, wanted: Kind::Ratio, fault: Fault::Number };
        let mut error = refused.unwrap_or(number);
        if let Fault::Unknown { symbol, nearest: near } = &mut error.fault
            && let Some(symbol) = nearest(symbol, TABLE.iter().map(|r| r.symbol))
            && let Some(row) = TABLE.iter().find(|r| r.symbol == symbol)
        {
            *near = row.symbol;
            error.wanted = row.kind;
        }
        error
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;

    #[test]
    fn products_keep_the_kind_where_only_one_fits() {
        let (load, length) = (Measure::of(Kind::AreaLoad), Measure::of(Kind::Length));
        assert_eq!(load.times(length), Measure::of(Kind::LineLoad));
        assert_eq!(Measure::of(Kind::Force).over(length).kind, None);
        assert_eq!(length.power(4), Measure::of(Kind::SecondMoment));
        assert_eq!(length.power(3).kind, None);
        assert!(Measure::of(Kind::Force).with(Measure::of(Kind::AxialRigidity)).is_none());
    }

    #[test]
    fn temperatures_differ_by_a_change_and_have_no_sum() {
        let t = Measure::of(Kind::Temperature);
        let change = Measure::of(Kind::TemperatureChange);
        let open = Measure { kind: None, ..t };
        assert_eq!((t.minus(t), t.plus(t)), (Some(change), None));
        assert_eq!((t.plus(change), change.plus(t), t.minus(change)), (Some(t), Some(t), Some(t)));
        assert_eq!((change.minus(t), change.minus(change)), (None, Some(change)));
        assert_eq!(change.plus(change), Some(change));
        // "5 K" is either: a temperature may gain it; less it, either may be meant
        assert_eq!((t.plus(open), open.plus(t), open.minus(t)), (Some(t), Some(t), Some(change)));
        assert_eq!(
            (t.minus(open), change.plus(open), open.plus(open)),
            (Some(open), Some(open), Some(open))
        );
        assert_eq!((change.minus(open), open.minus(change)), (Some(change), Some(open)));
        assert!(!t.scales() && change.scales() && open.scales());
        let length = Measure::of(Kind::Length);
        assert_eq!((length.plus(length), length.minus(t)), (Some(length), None));
    }

    #[test]
    fn text_of_an_open_kind() {
        let (measure, si) = Measure::parse("5 kN").unwrap();
        assert!(measure.kind.is_none() && measure.fits(Kind::Force) && (si - 5e3).abs() < 1e-9);
        assert_eq!(Measure::parse("45 ft").unwrap().0, Measure::of(Kind::Length));
        // a temperature or a difference of two: other values, so the kind must be named
        assert!(matches!(Measure::parse("20 °C").unwrap_err().fault, Fault::Kind { .. }));
        let error = Measure::parse("45 ftt").unwrap_err();
        assert!(error.remedy().contains("did you mean ft?"), "{}", error.remedy());
        assert_eq!(Measure::parse("4,5 m").unwrap_err().code(), "units.text-number");
        assert_eq!(Measure::parse("-300 °C").unwrap_err().code(), "units.absolute-zero");
        assert_eq!(Measure::parse("4.5").unwrap().0.kind, Some(Kind::Ratio));
    }
}
