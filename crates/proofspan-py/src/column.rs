//! Many quantities of one measure.

use proofspan::units::{Kind, Measure, NOISE, digits};
use pyo3::IntoPyObjectExt;
use pyo3::buffer::PyBuffer;
use pyo3::exceptions::{PyIndexError, PyTypeError, PyValueError};
use pyo3::prelude::*;
use pyo3::types::{PyBytes, PyList, PySlice, PyString, PyTuple};

use crate::quantity::{Quantity, Remade, number, unit_of, unmixed};

/// Many quantities of one measure: `array * ft`. `to("m")` gives a NumPy array, `values("m")` a list.
#[pyclass(frozen, from_py_object, module = "proofspan")]
#[derive(Clone)]
pub(crate) struct Column {
    pub(crate) measure: Measure,
    pub(crate) si: Vec<f64>,
}

/// The numbers of a list, tuple or array; nothing where the object holds none.
pub(crate) fn numbers(object: &Bound<'_, PyAny>) -> PyResult<Option<Vec<f64>>> {
    let values = if let Ok(buffer) = PyBuffer::<f64>::get(object) {
        buffer.to_vec(object.py())?
    } else {
        let sequence = !object.is_instance_of::<PyString>() && object.hasattr("__len__")?;
        if !sequence {
            return Ok(None);
        }
        let mut values = Vec::new();
        for item in object.try_iter()? {
            match number(&item?)? {
                Some(value) => values.push(value),
                None => return Ok(None),
            }
        }
        values
    };
    match values.iter().position(|v| !v.is_finite()) {
        None => Ok(Some(values)),
        Some(i) => Err(PyValueError::new_err(format!(
            "[units.nonfinite] entry {i} is not a finite number"
        ))),
    }
}

#[pymethods]
impl Column {
    /// Values in one unit; of the named kind where one is named.
    #[new]
    #[pyo3(signature = (values, unit, kind = None))]
    fn new(values: &Bound<'_, PyAny>, unit: &str, kind: Option<&str>) -> PyResult<Self> {
        let unit: Quantity = values
            .py()
            .get_type::<Quantity>()
            .call1((format!("1 {unit}"), kind))?
            .extract()
            .map_err(PyErr::from)?;
        match numbers(values)? {
            Some(values) => Self::scaled(&unit, values),
            None => Err(PyTypeError::new_err("a list or array of numbers is wanted")),
        }
    }

    /// The kind, for example "Force"; None where more than one fits.
    #[getter]
    fn kind(&self) -> Option<&'static str> {
        self.measure.kind.map(Kind::name)
    }

    /// The values in a unit, as a list.
    fn values(&self, unit: &str) -> PyResult<Vec<f64>> {
        let row = unit_of(self.measure, unit)?;
        Ok(self.si.iter().map(|v| row.from_si(*v)).collect())
    }

    /// The values in a unit, as a NumPy array.
    fn to<'py>(&self, py: Python<'py>, unit: &str) -> PyResult<Bound<'py, PyAny>> {
        let bytes: Vec<u8> = self.values(unit)?.iter().flat_map(|v| v.to_ne_bytes()).collect();
        let numpy = py.import("numpy")?;
        let array = numpy.call_method1("frombuffer", (PyBytes::new(py, &bytes), "f8"))?;
        array.call_method0("copy")
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
        self.sum(other, |a, b| a + b)
    }

    fn __radd__(&self, other: &Bound<'_, PyAny>) -> PyResult<Py<PyAny>> {
        self.sum(other, |a, b| b + a)
    }

    fn __sub__(&self, other: &Bound<'_, PyAny>) -> PyResult<Py<PyAny>> {
        self.sum(other, |a, b| a - b)
    }

    fn __rsub__(&self, other: &Bound<'_, PyAny>) -> PyResult<Py<PyAny>> {
        self.sum(other, |a, b| b - a)
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

    fn __neg__(&self) -> Self {
        Self { si: self.si.iter().map(|v| -v).collect(), measure: self.measure }
    }

    /// Keeps NumPy from taking `array * column` apart itself.
    #[classattr]
    fn __array_ufunc__() -> Option<bool> {
        None
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
        Self { measure: unit.measure, si: values.into_iter().map(|v| unit.si * v).collect() }
            .finite()
    }

    fn finite(self) -> PyResult<Self> {
        match self.si.iter().position(|v| !v.is_finite()) {
            None => Ok(self),
            Some(i) => Err(PyValueError::new_err(format!(
                "[units.nonfinite] entry {i} of the result is not a finite number"
            ))),
        }
    }

    fn extreme(&self, choose: fn(f64, f64) -> f64) -> PyResult<Quantity> {
        let si = self.si.iter().copied().reduce(choose);
        let si = si.ok_or_else(|| PyValueError::new_err("[readings.empty] an empty column"))?;
        Ok(Quantity { measure: self.measure, si })
    }

    fn other(&self, other: &Bound<'_, PyAny>) -> PyResult<Option<Other>> {
        let found = if let Ok(one) = other.extract::<Quantity>() {
            Other { measure: one.measure, si: vec![one.si] }
        } else if let Ok(many) = other.extract::<Self>() {
            Other { measure: many.measure, si: many.si }
        } else if let Some(one) = number(other)? {
            Other { measure: Measure::NUMBER, si: vec![one] }
        } else if let Some(many) = numbers(other)? {
            Other { measure: Measure::NUMBER, si: many }
        } else {
            return Ok(None);
        };
        if found.si.len() != 1 && found.si.len() != self.si.len() {
            return Err(PyValueError::new_err(format!(
                "{} values and {} values do not pair",
                self.si.len(),
                found.si.len()
            )));
        }
        Ok(Some(found))
    }

    fn pairs(&self, other: &Other, op: fn(f64, f64) -> f64) -> Vec<f64> {
        match other.si.as_slice() {
            [one] => self.si.iter().map(|v| op(*v, *one)).collect(),
            many => self.si.iter().zip(many).map(|(a, b)| op(*a, *b)).collect(),
        }
    }

    fn sum(&self, other: &Bound<'_, PyAny>, op: fn(f64, f64) -> f64) -> PyResult<Py<PyAny>> {
        let py = other.py();
        let Some(other) = self.other(other)? else { return Ok(py.NotImplemented()) };
        let measure = self.measure.with(other.measure);
        let measure = measure.ok_or_else(|| unmixed(self.measure, other.measure))?;
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
        let measure = measure(self.measure, other.measure);
        Self { measure, si: self.pairs(&other, op) }.finite()?.into_py_any(py)
    }
}

/// A column from its parts; pickles are made of it.
#[pyfunction]
pub(crate) fn _column(si: Vec<f64>, unit: &Quantity) -> Column {
    Column { measure: unit.measure, si }
}

/// Places along a member, one or many; text, quantities, columns, or lists of these.
pub(crate) fn places(object: &Bound<'_, PyAny>) -> PyResult<Column> {
    if let Ok(column) = object.extract::<Column>() {
        return Ok(column);
    }
    let items: Vec<Bound<'_, PyAny>> =
        if object.is_instance_of::<PyList>() || object.is_instance_of::<PyTuple>() {
            object.try_iter()?.collect::<PyResult<_>>()?
        } else {
            vec![object.clone()]
        };
    let make = object.py().get_type::<Quantity>();
    let mut si = Vec::with_capacity(items.len());
    for item in items {
        let quantity: Quantity = match item.extract() {
            Ok(quantity) => quantity,
            Err(_) if item.is_instance_of::<PyString>() => {
                make.call1((item, "Length"))?.extract().map_err(PyErr::from)?
            }
            Err(_) => {
                return Err(PyTypeError::new_err(format!(
                    "[units.missing] a place is a length with its unit, such as 6 * ft or \"6 ft\"; here is {}",
                    item.repr()?
                )));
            }
        };
        if !quantity.measure.fits(Kind::Length) {
            return Err(unmixed(quantity.measure, Measure::of(Kind::Length)));
        }
        si.push(quantity.si);
    }
    Ok(Column { measure: Measure::of(Kind::Length), si })
}
