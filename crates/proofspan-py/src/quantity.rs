//! A quantity: its measure and its value in SI.

use proofspan::units::{self, Kind, Measure, Row, parse_quantity};
use pyo3::IntoPyObjectExt;
use pyo3::basic::CompareOp;
use pyo3::exceptions::{PyTypeError, PyValueError};
use pyo3::prelude::*;
use pyo3::types::{PyBool, PyFloat, PyInt};

use crate::column::{Column, numbers};

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
        let near = units::nearest(name, Kind::ALL.iter().map(|k| k.name())).unwrap_or_default();
        PyValueError::new_err(format!("`{name}` is not a kind of quantity; did you mean `{near}`?"))
    })
}

/// The row of a unit that can show values of this measure.
pub(crate) fn unit_of(measure: Measure, unit: &str) -> PyResult<Row> {
    let rows = || Kind::ALL.iter().filter(|k| measure.fits(**k)).flat_map(|k| k.units());
    rows().find(|u| u.symbol == unit || u.aliases.contains(&unit)).copied().ok_or_else(|| {
        let mut symbols: Vec<&str> = rows().map(|u| u.symbol).collect();
        symbols.dedup();
        let words = measure.words();
        PyValueError::new_err(format!("`{unit}` is not a unit of {words}: {}", symbols.join(", ")))
    })
}

pub(crate) fn unmixed(a: Measure, b: Measure) -> PyErr {
    PyTypeError::new_err(format!("{} and {} do not mix", a.words(), b.words()))
}

/// A finite number that is not `True` or `False`; nothing where the object is no number at all.
pub(crate) fn number(object: &Bound<'_, PyAny>) -> PyResult<Option<f64>> {
    if object.is_instance_of::<PyBool>() {
        return Err(PyTypeError::new_err("[units.bool-as-number] True and False are not numbers"));
    }
    let plain = object.is_instance_of::<PyFloat>() || object.is_instance_of::<PyInt>();
    // scalars of NumPy say that they are numbers by __float__ and have no length
    if !plain && (!object.hasattr("__float__")? || object.hasattr("__len__")?) {
        return Ok(None);
    }
    let number: f64 = object.extract()?;
    if number.is_finite() {
        return Ok(Some(number));
    }
    Err(PyValueError::new_err(format!("[units.nonfinite] `{number}` is not a finite number")))
}

#[pymethods]
impl Quantity {
    /// Reads text such as "45 ft" as a quantity, of the named kind where one is named.
    #[new]
    #[pyo3(signature = (text, kind = None))]
    fn new(text: &str, kind: Option<&str>) -> PyResult<Self> {
        let refuse = |e: units::UnitError| {
            PyValueError::new_err(format!("[{}] {e}; {}", e.code(), e.remedy()))
        };
        let Some(kind) = kind else {
            let (measure, si) = Measure::parse(text).map_err(refuse)?;
            return Ok(Self { measure, si });
        };
        let kind = kind_of(kind)?;
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
    fn to(&self, unit: &str) -> PyResult<f64> {
        unit_of(self.measure, unit).map(|row| row.from_si(self.si))
    }

    /// The same quantity with its kind named; refused where the dimension does not fit.
    fn as_kind(&self, kind: &str) -> PyResult<Self> {
        let kind = kind_of(kind)?;
        if self.measure.dimension != kind.dimension() {
            return Err(unmixed(self.measure, Measure::of(kind)));
        }
        Ok(Self { measure: Measure::of(kind), ..*self })
    }

    fn __repr__(&self) -> String {
        match self.measure.kind {
            Some(kind) => {
                let text = units::Quantity::new(kind, self.si).rounded(units::System::Si, 8);
                format!("{text} ({})", kind.name())
            }
            None => format!("{} {}", units::digits(self.si, 9), self.measure.dimension),
        }
    }

    fn _repr_html_(&self) -> String {
        match self.measure.kind {
            Some(kind) => units::Quantity::new(kind, self.si).rounded(units::System::Si, 8),
            None => format!("{} {}", units::digits(self.si, 9), self.measure.dimension),
        }
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
            let product =
                Self { measure: self.measure.times(other.measure), si: self.si * other.si };
            return product.finite()?.into_py_any(py);
        }
        if let Some(factor) = number(other)? {
            return Self { si: self.si * factor, ..*self }.finite()?.into_py_any(py);
        }
        match numbers(other)? {
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
            let si = self.si / other.si;
            let measure = self.measure.over(other.measure);
            if measure.plain() || measure.kind == Some(Kind::Ratio) {
                return finite(si)?.into_py_any(py);
            }
            return Self { measure, si }.finite()?.into_py_any(py);
        }
        match number(other)? {
            Some(divisor) => Self { si: self.si / divisor, ..*self }.finite()?.into_py_any(py),
            None => Ok(py.NotImplemented()),
        }
    }

    fn __rtruediv__(&self, other: &Bound<'_, PyAny>) -> PyResult<Py<PyAny>> {
        match number(other)? {
            Some(above) => {
                let measure = Measure::NUMBER.over(self.measure);
                Self { measure, si: above / self.si }.finite()?.into_py_any(other.py())
            }
            None => Ok(other.py().NotImplemented()),
        }
    }

    fn __pow__(&self, n: i8, modulo: Option<i8>) -> PyResult<Self> {
        if modulo.is_some() {
            return Err(PyTypeError::new_err("a quantity has no power modulo a number"));
        }
        Self { measure: self.measure.power(n), si: self.si.powi(i32::from(n)) }.finite()
    }

    fn __neg__(&self) -> Self {
        Self { si: -self.si, ..*self }
    }

    fn __abs__(&self) -> Self {
        Self { si: self.si.abs(), ..*self }
    }

    /// Keeps NumPy from taking `array * quantity` apart itself.
    #[classattr]
    fn __array_ufunc__() -> Option<bool> {
        None
    }
}

fn finite(si: f64) -> PyResult<f64> {
    if si.is_finite() {
        return Ok(si);
    }
    Err(PyValueError::new_err(format!(
        "[units.nonfinite] the result is `{si}`, not a finite number"
    )))
}

impl Quantity {
    pub(crate) fn of(quantity: units::Quantity) -> Self {
        Self { measure: Measure::of(quantity.kind), si: quantity.si }
    }

    fn finite(self) -> PyResult<Self> {
        finite(self.si).map(|_| self)
    }

    fn sum(&self, other: &Bound<'_, PyAny>, sign: f64) -> PyResult<Py<PyAny>> {
        let py = other.py();
        let Ok(other) = other.extract::<Self>() else {
            return Ok(py.NotImplemented());
        };
        let measure = self.measure.with(other.measure);
        let measure = measure.ok_or_else(|| unmixed(self.measure, other.measure))?;
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
