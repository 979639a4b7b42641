//! A quantity with its kind.

use proofspan::units::{self, Kind, parse_quantity};
use pyo3::exceptions::{PyTypeError, PyValueError};
use pyo3::prelude::*;

/// A quantity: its kind and its value in SI. `Quantity("45 ft", "Length").to("m")`.
#[pyclass(frozen, from_py_object, module = "proofspan")]
#[derive(Clone, Copy)]
pub(crate) struct Quantity(pub(crate) units::Quantity);

fn kind_of(name: &str) -> PyResult<Kind> {
    let found = Kind::ALL.iter().copied().find(|k| k.name() == name);
    found.ok_or_else(|| {
        let near = units::nearest(name, Kind::ALL.iter().map(|k| k.name())).unwrap_or_default();
        PyValueError::new_err(format!("`{name}` is not a kind of quantity; did you mean `{near}`?"))
    })
}

#[pymethods]
impl Quantity {
    /// Reads text such as "45 ft" as a quantity of the named kind.
    #[new]
    fn new(text: &str, kind: &str) -> PyResult<Self> {
        let kind = kind_of(kind)?;
        let si = parse_quantity(text, kind)
            .map_err(|e| PyValueError::new_err(format!("[{}] {e}; {}", e.code(), e.remedy())))?;
        Ok(Self(units::Quantity::new(kind, si)))
    }

    /// The value in SI.
    #[getter]
    fn si(&self) -> f64 {
        self.0.si
    }

    /// The kind, for example "Force".
    #[getter]
    fn kind(&self) -> &'static str {
        self.0.kind.name()
    }

    /// The value in a unit of its kind.
    fn to(&self, unit: &str) -> PyResult<f64> {
        match self.0.kind.units().iter().find(|u| u.symbol == unit || u.aliases.contains(&unit)) {
            Some(row) => Ok(row.from_si(self.0.si)),
            None => {
                let symbols: Vec<&str> = self.0.kind.units().iter().map(|u| u.symbol).collect();
                Err(PyValueError::new_err(format!(
                    "`{unit}` is not a unit of {}: {}",
                    self.0.kind.words(),
                    symbols.join(", ")
                )))
            }
        }
    }

    fn __repr__(&self) -> String {
        format!("{} ({})", self.0.rounded(units::System::Si, 8), self.0.kind.name())
    }

    fn __eq__(&self, other: &Bound<'_, PyAny>) -> bool {
        other.extract::<Self>().is_ok_and(|o| o.0 == self.0)
    }

    fn __hash__(&self) -> u64 {
        self.0.si.to_bits() ^ (self.0.kind as u64)
    }

    fn __getnewargs__(&self) -> (String, &'static str) {
        (format!("{:?} {}", self.0.si, self.0.kind.si_symbol()), self.0.kind.name())
    }

    fn __add__(&self, other: &Self) -> PyResult<Self> {
        self.same(other).map(|()| self.with(self.0.si + other.0.si))
    }

    fn __sub__(&self, other: &Self) -> PyResult<Self> {
        self.same(other).map(|()| self.with(self.0.si - other.0.si))
    }

    fn __mul__(&self, factor: f64) -> Self {
        self.with(self.0.si * factor)
    }

    fn __rmul__(&self, factor: f64) -> Self {
        self.with(self.0.si * factor)
    }

    fn __lt__(&self, other: &Self) -> PyResult<bool> {
        self.same(other).map(|()| self.0.si < other.0.si)
    }
}

impl Quantity {
    fn with(&self, si: f64) -> Self {
        Self(units::Quantity::new(self.0.kind, si))
    }
    fn same(&self, other: &Self) -> PyResult<()> {
        if self.0.kind == other.0.kind {
            return Ok(());
        }
        Err(PyTypeError::new_err(format!(
            "{} and {} do not mix",
            self.0.kind.words(),
            other.0.kind.words()
        )))
    }
}
