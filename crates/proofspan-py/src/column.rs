//! Many quantities of one measure.

use proofspan::error::{Issue, slug};
use proofspan::source::{Node, Read, Value, read_named};
use proofspan::units::{Kind, Length, Measure, NOISE, Quantified, digits, parse_quantity};
use pyo3::IntoPyObjectExt;
use pyo3::exceptions::{PyImportError, PyIndexError};
use pyo3::prelude::*;
use pyo3::types::{PyBytes, PyList, PySlice};

use crate::errors::raise;
use crate::numbers::{number, numbers};
use crate::quantity::{
    PANDAS_PRIORITY, Quantity, Remade, kind_of, possible, scalable, summed, unit_of,
};
use crate::refuse::{Text, at, refuse, refused};
use crate::tree::from_python;

/// Many quantities of one measure: `array * ft`, `series * ft`. `to("m")` gives a NumPy array,
/// `values("m")` a list. Temperatures on a scale: `Column([20, 25], "°C", "Temperature")`. What is not
/// one row of finite numbers is refused.
#[pyclass(frozen, from_py_object, sequence, module = "proofspan")]
#[derive(Clone)]
pub(crate) struct Column {
    pub(crate) measure: Measure,
    pub(crate) si: Vec<f64>,
}

#[pymethods]
impl Column {
    /// What does not change is its own copy.
    fn __copy__(slf: Bound<'_, Self>) -> Bound<'_, Self> {
        slf
    }

    fn __deepcopy__<'py>(slf: Bound<'py, Self>, _memo: &Bound<'_, PyAny>) -> Bound<'py, Self> {
        slf
    }

    /// Values in one unit; of the named kind where one is named.
    #[new]
    #[pyo3(signature = (values, unit, kind = None))]
    fn new(values: &Bound<'_, PyAny>, unit: Text, kind: Option<Text>) -> PyResult<Self> {
        let unit = unit.of("unit")?;
        let kind = kind.as_ref().map(|k| k.of("kind").and_then(kind_of)).transpose()?;
        let one = format!("1 {unit}");
        let measure = match kind {
            Some(kind) => parse_quantity(&one, kind).map(|_| Measure::of(kind)),
            None => Measure::parse(&one).map(|found| found.0),
        };
        let measure = measure.map_err(|e| refused(Issue::unit("unit", &e)))?;
        let row = unit_of(measure, unit)?;
        match numbers(values).map_err(|issue| refused(at("values", issue)))? {
            Some(values) => {
                Self { measure, si: values.into_iter().map(|v| row.to_si(v)).collect() }.finite()
            }
            None => {
                Err(refuse(slug::SOURCE_TYPE, "values", "a list or array of numbers is wanted"))
            }
        }
    }

    /// The kind, for example "Force"; None where more than one fits.
    #[getter]
    fn kind(&self) -> Option<&'static str> {
        self.measure.kind.map(Kind::name)
    }

    /// The values in a unit, as a list.
    fn values(&self, unit: Text) -> PyResult<Vec<f64>> {
        let row = unit_of(self.measure, unit.of("unit")?)?;
        Ok(self.si.iter().map(|v| row.from_si(*v)).collect())
    }

    /// The values in a unit, as a NumPy array.
    fn to<'py>(&self, py: Python<'py>, unit: Text) -> PyResult<Bound<'py, PyAny>> {
        array(py, self.values(unit)?.into_iter())
    }

    /// The largest.
    fn max(&self) -> PyResult<Quantity> {
        self.extreme(f64::max)
    }

    /// The smallest.
    fn min(&self) -> PyResult<Quantity> {
        self.extreme(f64::min)
    }

    fn __len__(&self) -> usize {
        self.si.len()
    }

    /// The quantities one by one; a table so takes them as its entries.
    fn __iter__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let of = |si: &f64| Quantity { measure: self.measure, si: *si };
        let all = PyList::new(py, self.si.iter().map(of).collect::<Vec<_>>())?;
        all.call_method0("__iter__")
    }

    fn __getitem__(&self, index: &Bound<'_, PyAny>) -> PyResult<Py<PyAny>> {
        let py = index.py();
        if let Ok(slice) = index.cast::<PySlice>() {
            let list = PyList::new(py, &self.si)?;
            let si: Vec<f64> = list.get_item_slice(slice)?;
            return Self { si, measure: self.measure }.into_py_any(py);
        }
        let mut i: isize = index.extract()?;
        if i < 0 {
            i += isize::try_from(self.si.len())?;
        }
        let si = usize::try_from(i).ok().and_then(|i| self.si.get(i));
        let si = si.ok_or_else(|| PyIndexError::new_err("there is no such entry"))?;
        Quantity { measure: self.measure, si: *si }.into_py_any(py)
    }

    fn __eq__(&self, other: &Bound<'_, PyAny>) -> bool {
        other
            .extract::<Self>()
            .is_ok_and(|o| self.measure.with(o.measure).is_some() && self.si == o.si)
    }

    fn __repr__(&self) -> String {
        let largest = self.si.iter().fold(0.0_f64, |m, v| m.max(v.abs()));
        let quiet = |v: f64| if v.abs() <= NOISE * largest { 0.0 } else { v };
        let one = |v: &f64| digits(quiet(*v), 9);
        let shown = self.si.iter().take(4).map(one).collect::<Vec<_>>().join(", ");
        let more = if self.si.len() > 4 { ", …" } else { "" };
        let unit = match self.measure.kind {
            Some(kind) => format!("{} ({})", kind.si_symbol(), kind.name()),
            None => self.measure.dimension.to_string(),
        };
        format!("[{shown}{more}] {unit}, {} values", self.si.len())
    }

    fn __reduce__(&self, py: Python<'_>) -> PyResult<Remade<(Vec<f64>, Quantity)>> {
        let make = py.import("proofspan._core")?.getattr("_column")?.unbind();
        Ok((make, (self.si.clone(), Quantity { measure: self.measure, si: 1.0 })))
    }

    fn __add__(&self, other: &Bound<'_, PyAny>) -> PyResult<Py<PyAny>> {
        self.sum(other, 1.0, |a, b| a + b)
    }

    fn __radd__(&self, other: &Bound<'_, PyAny>) -> PyResult<Py<PyAny>> {
        self.sum(other, 1.0, |a, b| b + a)
    }

    fn __sub__(&self, other: &Bound<'_, PyAny>) -> PyResult<Py<PyAny>> {
        self.sum(other, -1.0, |a, b| a - b)
    }

    fn __rsub__(&self, other: &Bound<'_, PyAny>) -> PyResult<Py<PyAny>> {
        let py = other.py();
        let Some(other) = self.other(other)? else { return Ok(py.NotImplemented()) };
        let measure = summed(other.measure, self.measure, -1.0)?;
        Self { measure, si: self.pairs(&other, |a, b| b - a) }.finite()?.into_py_any(py)
    }

    fn __mul__(&self, other: &Bound<'_, PyAny>) -> PyResult<Py<PyAny>> {
        self.product(other, |a, b| a * b, Measure::times)
    }

    fn __rmul__(&self, other: &Bound<'_, PyAny>) -> PyResult<Py<PyAny>> {
        self.product(other, |a, b| a * b, Measure::times)
    }

    fn __truediv__(&self, other: &Bound<'_, PyAny>) -> PyResult<Py<PyAny>> {
        self.product(other, |a, b| a / b, Measure::over)
    }

    fn __rtruediv__(&self, other: &Bound<'_, PyAny>) -> PyResult<Py<PyAny>> {
        self.product(other, |a, b| b / a, |a, b| b.over(a))
    }

    fn __neg__(&self) -> PyResult<Self> {
        scalable(&[self.measure])?;
        Ok(Self { si: self.si.iter().map(|v| -v).collect(), measure: self.measure })
    }

    /// Keeps NumPy from taking `array * column` apart itself.
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

/// The other side of an operator: one value or as many as here.
struct Other {
    measure: Measure,
    si: Vec<f64>,
}

trait Slice {
    fn get_item_slice(&self, slice: &Bound<'_, PySlice>) -> PyResult<Vec<f64>>;
}
impl Slice for Bound<'_, PyList> {
    fn get_item_slice(&self, slice: &Bound<'_, PySlice>) -> PyResult<Vec<f64>> {
        self.as_any().get_item(slice)?.extract()
    }
}

impl Column {
    /// A quantity times numbers.
    pub(crate) fn scaled(unit: &Quantity, values: Vec<f64>) -> PyResult<Self> {
        scalable(&[unit.measure])?;
        Self { measure: unit.measure, si: values.into_iter().map(|v| unit.si * v).collect() }
            .finite()
    }

    /// A quantity over numbers.
    pub(crate) fn divided(above: &Quantity, values: Vec<f64>) -> PyResult<Self> {
        scalable(&[above.measure])?;
        Self { measure: above.measure, si: values.into_iter().map(|v| above.si / v).collect() }
            .finite()
    }

    fn finite(self) -> PyResult<Self> {
        possible(self.measure)?;
        let Some((i, si)) = self.si.iter().enumerate().find(|v| !v.1.is_finite()) else {
            return Ok(self);
        };
        let message = format!("entry {i} of the result is not a finite number");
        Err(refused(Issue::new(slug::UNITS_NONFINITE, "", message).value(si)))
    }

    fn extreme(&self, choose: fn(f64, f64) -> f64) -> PyResult<Quantity> {
        let si = self.si.iter().copied().reduce(choose);
        let si = si.ok_or_else(|| refuse(slug::UNITS_ARRAY, "", "an empty column"))?;
        Ok(Quantity { measure: self.measure, si })
    }

    fn other(&self, other: &Bound<'_, PyAny>) -> PyResult<Option<Other>> {
        let found = if let Ok(one) = other.extract::<Quantity>() {
            Other { measure: one.measure, si: vec![one.si] }
        } else if let Ok(many) = other.extract::<Self>() {
            Other { measure: many.measure, si: many.si }
        } else if let Some(one) = number(other).map_err(refused)? {
            Other { measure: Measure::NUMBER, si: vec![one] }
        } else if let Some(many) = numbers(other).map_err(refused)? {
            Other { measure: Measure::NUMBER, si: many }
        } else {
            return Ok(None);
        };
        if found.si.len() != 1 && found.si.len() != self.si.len() {
            let (own, other) = (self.si.len(), found.si.len());
            let message = format!("{own} values and {other} values do not pair");
            return Err(refuse(slug::UNITS_ARRAY, "", message));
        }
        Ok(Some(found))
    }

    fn pairs(&self, other: &Other, op: fn(f64, f64) -> f64) -> Vec<f64> {
        match other.si.as_slice() {
            [one] => self.si.iter().map(|v| op(*v, *one)).collect(),
            many => self.si.iter().zip(many).map(|(a, b)| op(*a, *b)).collect(),
        }
    }

    fn sum(
        &self,
        other: &Bound<'_, PyAny>,
        sign: f64,
        op: fn(f64, f64) -> f64,
    ) -> PyResult<Py<PyAny>> {
        let py = other.py();
        let Some(other) = self.other(other)? else { return Ok(py.NotImplemented()) };
        let measure = summed(self.measure, other.measure, sign)?;
        Self { measure, si: self.pairs(&other, op) }.finite()?.into_py_any(py)
    }

    fn product(
        &self,
        other: &Bound<'_, PyAny>,
        op: fn(f64, f64) -> f64,
        measure: fn(Measure, Measure) -> Measure,
    ) -> PyResult<Py<PyAny>> {
        let py = other.py();
        let Some(other) = self.other(other)? else { return Ok(py.NotImplemented()) };
        scalable(&[self.measure, other.measure])?;
        let measure = measure(self.measure, other.measure);
        Self { measure, si: self.pairs(&other, op) }.finite()?.into_py_any(py)
    }
}

/// Numbers as a NumPy array.
pub(crate) fn array(
    py: Python<'_>,
    values: impl Iterator<Item = f64>,
) -> PyResult<Bound<'_, PyAny>> {
    let bytes: Vec<u8> = values.flat_map(f64::to_ne_bytes).collect();
    let array = numpy(py)?.call_method1("frombuffer", (PyBytes::new(py, &bytes), "f8"))?;
    array.call_method0("copy")
}

/// NumPy, or the command that installs it.
pub(crate) fn numpy(py: Python<'_>) -> PyResult<Bound<'_, PyModule>> {
    py.import("numpy").map_err(|missing| {
        let message = "arrays need NumPy, which is not installed: pip install 'proofspan[frames]'";
        let refused = PyImportError::new_err(message);
        refused.set_cause(py, Some(missing));
        refused
    })
}

/// A column from its parts; pickles are made of it.
#[pyfunction]
pub(crate) fn _column(si: Vec<f64>, unit: &Quantity) -> Column {
    Column { measure: unit.measure, si }
}

/// Places along a member, one or many; text, quantities, columns, or lists of these. All problems at
/// once, under the name of the argument.
pub(crate) fn places(object: &Bound<'_, PyAny>, argument: &str) -> PyResult<Column> {
    let si = many::<Length>(object, argument)?.into_iter().map(Length::si).collect();
    Ok(Column { measure: Measure::of(Kind::Length), si })
}

/// Quantities of one kind, one or many: a column, or what is read as one quantity or a list of them.
pub(crate) fn many<Q: Quantified + Read>(
    object: &Bound<'_, PyAny>,
    argument: &str,
) -> PyResult<Vec<Q>> {
    if let Ok(column) = object.cast::<Column>()
        && column.get().measure.fits(Q::KIND)
    {
        return Ok(column.get().si.iter().map(|si| Q::from_si(*si)).collect());
    }
    let found = match from_python(object, argument)? {
        many @ Node { value: Value::List(_), .. } => read_named(argument, &many),
        one => read_named(argument, &one).map(|one: Q| vec![one]),
    };
    found.map_err(|e| raise(object.py(), &e))
}

/// One place along a member.
pub(crate) fn place(object: &Bound<'_, PyAny>, argument: &str) -> PyResult<Length> {
    one(object, argument)
}

/// One value of a type that is read.
pub(crate) fn one<T: Read>(object: &Bound<'_, PyAny>, argument: &str) -> PyResult<T> {
    read_named(argument, &from_python(object, argument)?).map_err(|e| raise(object.py(), &e))
}
