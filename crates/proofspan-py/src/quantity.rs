//! A quantity: its measure and its value in SI.

use std::sync::atomic::{AtomicBool, Ordering};

use proofspan::error::{Issue, slug};
use proofspan::units::{self, Kind, Measure, Row, parse_quantity};
use pyo3::IntoPyObjectExt;
use pyo3::basic::CompareOp;
use pyo3::prelude::*;

use crate::column::Column;
use crate::numbers::{number, numbers};
use crate::refuse::{Text, refuse, refused};

/// SI value, exponents of the dimension, name of the kind.
type Parts = (f64, [i8; 4], Option<&'static str>);

/// What a pickle calls, and with which arguments.
pub(crate) type Remade<T> = (Py<PyAny>, T);

/// A quantity: what it measures and its value in SI. `Quantity("45 ft").to("m")`, or `45 * ft`
/// with `ft` of `proofspan.units`. Where more than one kind fits ("5 kN" is a force or an axial
/// rigidity), the kind is open unless it is named; a typed argument checks the dimension always and
/// the kind where it is known.
#[pyclass(frozen, from_py_object, module = "proofspan")]
#[derive(Clone, Copy)]
pub(crate) struct Quantity {
    pub(crate) measure: Measure,
    pub(crate) si: f64,
}

pub(crate) fn kind_of(name: &str) -> PyResult<Kind> {
    let found = Kind::ALL.iter().copied().find(|k| k.name() == name);
    found.ok_or_else(|| {
        let near = units::nearest(name, Kind::ALL.iter().map(|k| k.name()));
        let short: String = name.chars().take(60).collect();
        let message = format!("`{short}` is not a kind of quantity");
        let issue = Issue::new(slug::SOURCE_CHOICE, "kind", message).value(short);
        refused(issue.meant(near))
    })
}

/// The row of a unit that can show values of this measure; refused where the kind is open and kinds
/// that fit mean different things by the unit (20 °C is a temperature or a change of one).
pub(crate) fn unit_of(measure: Measure, unit: &str) -> PyResult<Row> {
    unit_at(measure, unit, "unit")
}

/// The same under the name of another argument.
pub(crate) fn unit_at(measure: Measure, unit: &str, argument: &str) -> PyResult<Row> {
    let rows = || Kind::ALL.iter().filter(|k| measure.fits(**k)).flat_map(|k| k.units());
    let mut found = rows().filter(|u| u.symbol == unit || u.aliases.contains(&unit)).copied();
    let Some(row) = found.next() else {
        let mut symbols: Vec<&str> = rows().map(|u| u.symbol).collect();
        symbols.dedup();
        let short: String = unit.chars().take(60).collect();
        let message = format!("`{short}` is not a unit of {}", measure.words());
        let issue = Issue::new(slug::UNITS_UNKNOWN, argument, message).value(short);
        return Err(refused(issue.limit(symbols.join(", "))));
    };
    if let Some(other) = found.find(|r| r.offset.total_cmp(&row.offset).is_ne()) {
        let message = format!("`{unit}` of {} or of {}?", row.kind.words(), other.kind.words());
        let issue = Issue::new(slug::UNITS_TEMPERATURE, argument, message).value(unit);
        let names = format!("{}, {}", row.kind.name(), other.kind.name());
        return Err(refused(issue.limit(names).remedy("name the kind with as_kind(…)")));
    }
    Ok(row)
}

pub(crate) fn unmixed(a: Measure, b: Measure) -> PyErr {
    let message = format!("{} and {} do not mix", a.words(), b.words());
    refuse(slug::UNITS_DIMENSION, "", message)
}

/// The measure of a sum or a difference.
pub(crate) fn summed(a: Measure, b: Measure, sign: f64) -> PyResult<Measure> {
    let measure = if sign < 0.0 { a.minus(b) } else { a.plus(b) };
    measure.ok_or_else(|| match a.dimension == b.dimension && !(a.scales() && b.scales()) {
        true => {
            let verb = if sign < 0.0 { "less" } else { "plus" };
            let message = format!("{} {verb} {} means nothing", a.words(), b.words());
            refuse(slug::UNITS_TEMPERATURE, "", message)
        }
        false => unmixed(a, b),
    })
}

/// Refuses what a temperature on a scale has not: multiples, powers, a sign.
pub(crate) fn scalable(measures: &[Measure]) -> PyResult<()> {
    if measures.iter().all(|m| m.scales()) {
        return Ok(());
    }
    let message = "a temperature on a scale has no multiple: twice 20 °C is not 40 °C";
    let remedy =
        "write Column(values, \"°C\", \"Temperature\") for many temperatures; compute with changes";
    Err(refused(Issue::new(slug::UNITS_TEMPERATURE, "", message).remedy(remedy)))
}

/// A plain number on the other side of an operator.
fn plain(object: &Bound<'_, PyAny>) -> PyResult<Option<f64>> {
    number(object).map_err(refused)
}

#[pymethods]
impl Quantity {
    /// Reads text such as "45 ft" as a quantity, of the named kind where one is named.
    #[new]
    #[pyo3(signature = (text, kind = None))]
    fn new(text: Text, kind: Option<Text>) -> PyResult<Self> {
        let text = text.of("text")?;
        let refuse = |e: units::UnitError| refused(Issue::unit("text", &e));
        let Some(kind) = kind else {
            let (measure, si) = Measure::parse(text).map_err(refuse)?;
            return Ok(Self { measure, si });
        };
        let kind = kind_of(kind.of("kind")?)?;
        let si = parse_quantity(text, kind).map_err(refuse)?;
        Ok(Self { measure: Measure::of(kind), si })
    }

    /// The value in SI.
    #[getter]
    fn si(&self) -> f64 {
        self.si
    }

    /// The kind, for example "Force"; None where more than one fits.
    #[getter]
    fn kind(&self) -> Option<&'static str> {
        self.measure.kind.map(Kind::name)
    }

    /// The SI dimension, for example "m·kg·s^-2".
    #[getter]
    fn dimension(&self) -> String {
        self.measure.dimension.to_string()
    }

    /// The value in a unit of its kind.
    fn to(&self, unit: Text) -> PyResult<f64> {
        unit_of(self.measure, unit.of("unit")?).map(|row| row.from_si(self.si))
    }

    /// The same quantity with its kind named; refused where the dimension does not fit.
    fn as_kind(&self, kind: Text) -> PyResult<Self> {
        let kind = kind_of(kind.of("kind")?)?;
        if self.measure.dimension != kind.dimension() {
            return Err(unmixed(self.measure, Measure::of(kind)));
        }
        Ok(Self { measure: Measure::of(kind), ..*self })
    }

    fn __repr__(&self) -> String {
        match self.measure.kind {
            Some(kind) => format!("{} ({})", self.text(shown_in()), kind.name()),
            None => self.text(shown_in()),
        }
    }

    fn _repr_html_(&self) -> String {
        self.text(shown_in())
    }

    /// The number format of Python, then a unit, "SI" or "US", or either alone: `f"{q:.1f kN}"`,
    /// `f"{q:kip}"`, `f"{q:US}"`.
    fn __format__(&self, py: Python<'_>, spec: &str) -> PyResult<String> {
        let spec = spec.trim();
        let (number, unit) = match spec.split_once(' ') {
            Some((number, unit)) => (number, unit.trim()),
            None if spec.is_empty() => return Ok(self.text(shown_in())),
            None if is_number_format(spec) => (spec, ""),
            None => ("", spec),
        };
        let system = match unit {
            "" => shown_in(),
            "SI" => units::System::Si,
            "US" => units::System::Us,
            unit => {
                let value = unit_of(self.measure, unit)?.from_si(self.si);
                let digits = if number.is_empty() {
                    units::digits(value, 8)
                } else {
                    format_number(py, value, number)?
                };
                return Ok(format!("{digits} {unit}"));
            }
        };
        let Some(kind) = self.measure.kind.filter(|_| !number.is_empty()) else {
            return match number {
                "" => Ok(self.text(system)),
                number => {
                    let digits = format_number(py, self.si, number)?;
                    Ok(format!("{digits} {}", self.measure.dimension))
                }
            };
        };
        if kind == Kind::Ratio {
            return format_number(py, self.si, number);
        }
        let row = kind.usual(system);
        Ok(format!("{} {}", format_number(py, row.from_si(self.si), number)?, row.symbol))
    }

    /// The number of a ratio, or of whatever has no dimension.
    fn __float__(&self) -> PyResult<f64> {
        if self.measure.plain() {
            return Ok(self.si);
        }
        let message = format!("{} is no plain number", self.measure.words());
        let issue = Issue::new(slug::UNITS_DIMENSION, "", message);
        Err(refused(issue.remedy("name the unit: `.to(\"kN\")`")))
    }

    fn __copy__(&self) -> Self {
        *self
    }

    fn __deepcopy__(&self, _memo: &Bound<'_, PyAny>) -> Self {
        *self
    }

    fn __richcmp__(&self, other: &Bound<'_, PyAny>, op: CompareOp) -> PyResult<Py<PyAny>> {
        let py = other.py();
        let Ok(other) = other.extract::<Self>() else {
            return Ok(py.NotImplemented());
        };
        let mixes = self.measure.with(other.measure).is_some();
        let answer = match op {
            CompareOp::Eq => mixes && self.si.total_cmp(&other.si).is_eq(),
            CompareOp::Ne => !(mixes && self.si.total_cmp(&other.si).is_eq()),
            _ if !mixes => return Err(unmixed(self.measure, other.measure)),
            _ => op.matches(self.si.total_cmp(&other.si)),
        };
        answer.into_py_any(py)
    }

    fn __hash__(&self) -> u64 {
        self.si.to_bits()
    }

    fn __reduce__(&self, py: Python<'_>) -> PyResult<Remade<Parts>> {
        let make = py.import("proofspan._core")?.getattr("_quantity")?.unbind();
        let d = self.measure.dimension;
        Ok((make, (self.si, [d.length, d.mass, d.time, d.temperature], self.kind())))
    }

    fn __add__(&self, other: &Bound<'_, PyAny>) -> PyResult<Py<PyAny>> {
        self.sum(other, 1.0)
    }

    fn __sub__(&self, other: &Bound<'_, PyAny>) -> PyResult<Py<PyAny>> {
        self.sum(other, -1.0)
    }

    fn __mul__(&self, other: &Bound<'_, PyAny>) -> PyResult<Py<PyAny>> {
        let py = other.py();
        if let Ok(other) = other.extract::<Self>() {
            scalable(&[self.measure, other.measure])?;
            let product =
                Self { measure: self.measure.times(other.measure), si: self.si * other.si };
            return product.finite()?.into_py_any(py);
        }
        if let Some(factor) = plain(other)? {
            scalable(&[self.measure])?;
            return Self { si: self.si * factor, ..*self }.finite()?.into_py_any(py);
        }
        match numbers(other).map_err(refused)? {
            Some(values) => Column::scaled(self, values)?.into_py_any(py),
            None => Ok(py.NotImplemented()),
        }
    }

    fn __rmul__(&self, other: &Bound<'_, PyAny>) -> PyResult<Py<PyAny>> {
        self.__mul__(other)
    }

    fn __truediv__(&self, other: &Bound<'_, PyAny>) -> PyResult<Py<PyAny>> {
        let py = other.py();
        if let Ok(other) = other.extract::<Self>() {
            scalable(&[self.measure, other.measure])?;
            let si = self.si / other.si;
            let measure = self.measure.over(other.measure);
            if measure.plain() || measure.kind == Some(Kind::Ratio) {
                return finite(si)?.into_py_any(py);
            }
            return Self { measure, si }.finite()?.into_py_any(py);
        }
        if let Some(divisor) = plain(other)? {
            scalable(&[self.measure])?;
            return Self { si: self.si / divisor, ..*self }.finite()?.into_py_any(py);
        }
        match numbers(other).map_err(refused)? {
            Some(below) => Column::divided(self, below)?.into_py_any(py),
            None => Ok(py.NotImplemented()),
        }
    }

    fn __rtruediv__(&self, other: &Bound<'_, PyAny>) -> PyResult<Py<PyAny>> {
        match plain(other)? {
            Some(above) => {
                scalable(&[self.measure])?;
                let measure = Measure::NUMBER.over(self.measure);
                Self { measure, si: above / self.si }.finite()?.into_py_any(other.py())
            }
            None => Ok(other.py().NotImplemented()),
        }
    }

    fn __pow__(
        &self,
        n: &Bound<'_, PyAny>,
        modulo: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Py<PyAny>> {
        let py = n.py();
        if modulo.is_some() {
            return Ok(py.NotImplemented());
        }
        let Some(power) = plain(n)? else { return Ok(py.NotImplemented()) };
        let whole = (i8::MIN..=i8::MAX).find(|i| f64::from(*i).total_cmp(&power).is_eq());
        let Some(whole) = whole else {
            let issue = Issue::new(slug::FORMULA_POWER, "", "a power that no quantity has");
            return Err(refused(issue.value(power).limit("a whole number from -128 to 127")));
        };
        scalable(&[self.measure])?;
        Self { measure: self.measure.power(whole), si: self.si.powi(i32::from(whole)) }
            .finite()?
            .into_py_any(py)
    }

    fn __neg__(&self) -> PyResult<Self> {
        scalable(&[self.measure])?;
        Ok(Self { si: -self.si, ..*self })
    }

    fn __abs__(&self) -> PyResult<Self> {
        scalable(&[self.measure])?;
        Ok(Self { si: self.si.abs(), ..*self })
    }

    /// Keeps NumPy from taking `array * quantity` apart itself.
    #[classattr]
    fn __array_ufunc__() -> Option<bool> {
        None
    }

    /// Keeps pandas from multiplying entry by entry.
    #[classattr]
    fn __pandas_priority__() -> u32 {
        PANDAS_PRIORITY
    }
}

/// Above every class of pandas, whose operators then leave the answer to these classes.
pub(crate) const PANDAS_PRIORITY: u32 = 10_000;

fn finite(si: f64) -> PyResult<f64> {
    if si.is_finite() {
        return Ok(si);
    }
    let issue = Issue::new(slug::UNITS_NONFINITE, "", "the result is not a finite number");
    Err(refused(issue.value(si)))
}

/// Refuses a power of a dimension that no quantity has.
pub(crate) fn possible(measure: Measure) -> PyResult<()> {
    if measure.dimension.within() {
        return Ok(());
    }
    let message = format!("the result would be in {}", measure.dimension);
    let limit = format!("exponents of -{0} to {0}", units::Dimension::MOST);
    let issue = Issue::new(slug::FORMULA_POWER, "", message).limit(limit);
    Err(refused(issue))
}

/// The units in which quantities show themselves: a matter of the reader, never of a calculation.
static SHOWN_IN_US: AtomicBool = AtomicBool::new(false);

/// The units of the reader.
pub(crate) fn shown_in() -> units::System {
    match SHOWN_IN_US.load(Ordering::Relaxed) {
        true => units::System::Us,
        false => units::System::Si,
    }
}

/// Sets the units of the reader, "SI" or "US": quantities, documents and results show themselves in
/// them from now on. No number changes.
///
/// >>> import proofspan as ps
/// >>> ps.show_in("US"); ps.Quantity("3048 mm")
/// 10 ft (Length)
/// >>> ps.show_in("SI"); ps.Quantity("10 ft")
/// 3.048 m (Length)
#[pyfunction]
pub(crate) fn show_in(#[pyo3(from_py_with = crate::by_name::units)] units: &str) -> PyResult<()> {
    let us = crate::refuse::system(units)? == units::System::Us;
    SHOWN_IN_US.store(us, Ordering::Relaxed);
    Ok(())
}

/// Whether a format is one of numbers: `.2f`, `10.3g`, `,.0f`.
fn is_number_format(spec: &str) -> bool {
    let body = spec.trim_end_matches(['e', 'E', 'f', 'F', 'g', 'G', 'n', '%']);
    spec.len() - body.len() <= 1
        && body.chars().any(|c| c.is_ascii_digit() || c == '.')
        && body.chars().all(|c| c.is_ascii_digit() || "<>^=+-,._ z#".contains(c))
}

fn format_number(py: Python<'_>, value: f64, spec: &str) -> PyResult<String> {
    let number = pyo3::types::PyFloat::new(py, value);
    number.call_method1("__format__", (spec,))?.extract()
}

impl Quantity {
    /// The value in the usual unit of a system; in SI where the kind is open.
    pub(crate) fn text(&self, system: units::System) -> String {
        match self.measure.kind {
            Some(kind) => {
                let text = units::Quantity::new(kind, self.si).rounded(system, 8);
                let (number, unit) = text.split_once(' ').unwrap_or((&text, ""));
                let idle = number.contains('.') && !number.contains('e');
                let number =
                    if idle { number.trim_end_matches('0').trim_end_matches('.') } else { number };
                if unit.is_empty() { number.to_owned() } else { format!("{number} {unit}") }
            }
            None => format!("{} {}", units::digits(self.si, 9), self.measure.dimension),
        }
    }

    pub(crate) fn of(quantity: units::Quantity) -> Self {
        Self { measure: Measure::of(quantity.kind), si: quantity.si }
    }

    fn finite(self) -> PyResult<Self> {
        finite(self.si)?;
        possible(self.measure)?;
        Ok(self)
    }

    fn sum(&self, other: &Bound<'_, PyAny>, sign: f64) -> PyResult<Py<PyAny>> {
        let py = other.py();
        let Ok(other) = other.extract::<Self>() else {
            return Ok(py.NotImplemented());
        };
        let measure = summed(self.measure, other.measure, sign)?;
        Self { measure, si: self.si + sign * other.si }.finite()?.into_py_any(py)
    }
}

/// A quantity from its parts; pickles are made of it.
#[pyfunction]
pub(crate) fn _quantity(si: f64, dimension: [i8; 4], kind: Option<&str>) -> PyResult<Quantity> {
    let [m, kg, s, k] = dimension;
    let dimension = units::Dimension::new(m, kg, s, k);
    Ok(Quantity { measure: Measure { dimension, kind: kind.map(kind_of).transpose()? }, si })
}
