//! Influence lines, patterns, envelopes.

use proofspan::beam::{self, By};
use proofspan::units::{Kind, Length, LineLoad, Measure};
use pyo3::prelude::*;
use pyo3::types::PyDict;

use crate::beam::{Load, Response, along, arguments};
use crate::by_name;
use crate::column::{place, places};
use crate::errors::raise;
use crate::parts::part;
use crate::quantity::Quantity;
use crate::refuse::{drawn, one_of, side, system};

/// An influence line: its ordinate at a place is the response under a unit force there, down.
#[pyclass(frozen, eq, module = "proofspan")]
#[derive(Clone, PartialEq)]
pub(crate) struct Influence(pub(crate) beam::InfluenceLine);

proofspan::record! {
    /// A uniform load.
    pub struct Uniform {
        /// Its intensity.
        q: LineLoad,
    }
}

#[pymethods]
impl Influence {
    /// What does not change is its own copy.
    fn __copy__(slf: Bound<'_, Self>) -> Bound<'_, Self> {
        slf
    }

    fn __deepcopy__<'py>(slf: Bound<'py, Self>, _memo: &Bound<'_, PyAny>) -> Bound<'py, Self> {
        slf
    }

    /// The ordinate at one place or many, as response per force.
    #[pyo3(signature = (x, side = "left"))]
    fn ordinate(
        &self,
        x: &Bound<'_, PyAny>,
        #[pyo3(from_py_with = by_name::side)] side: &str,
    ) -> PyResult<Vec<f64>> {
        let side = self::side(side)?;
        let at = places(x, "x")?.si.into_iter().map(|x| self.0.at(Length::from_si(x), side));
        at.collect::<Result<_, _>>().map_err(|e| raise(x.py(), &e))
    }

    /// The response to loads.
    fn response(
        &self,
        py: Python<'_>,
        #[pyo3(from_py_with = by_name::loads)] loads: Vec<Bound<'_, Load>>,
    ) -> PyResult<Quantity> {
        let loads: Vec<beam::Load> = loads.iter().map(|l| l.get().0).collect();
        self.0.response(&loads).map(Quantity::of).map_err(|e| raise(py, &e))
    }

    /// The largest and the smallest response to a uniform load that may stand on any parts: "max",
    /// "min", and the parts that are loaded for each.
    fn worst(&self, py: Python<'_>, q: &Bound<'_, PyAny>) -> PyResult<Py<PyAny>> {
        let load: Uniform = arguments(py, &[("q", q)])?;
        let worst = self.0.worst(load.q);
        let parts = |on: &[(Length, Length)]| -> Vec<(Quantity, Quantity)> {
            on.iter().map(|(a, b)| (Quantity::of((*a).into()), Quantity::of((*b).into()))).collect()
        };
        let dict = PyDict::new(py);
        dict.set_item("max", Quantity::of(worst.max))?;
        dict.set_item("max_on", parts(&worst.max_on))?;
        dict.set_item("min", Quantity::of(worst.min))?;
        dict.set_item("min_on", parts(&worst.min_on))?;
        Ok(part("WorstLoad", dict)?.unbind())
    }

    /// The length of the beam.
    #[getter]
    fn length(&self) -> Quantity {
        Quantity::of(self.0.length().into())
    }
}

/// The usual patterns of so many spans, each as marks and in words.
///
/// >>> import proofspan as ps
/// >>> [marks for marks, words in ps.usual_patterns(2)]
/// [[True, True], [True, False], [False, True], [False, False]]
#[pyfunction]
pub(crate) fn usual_patterns(
    py: Python<'_>,
    #[pyo3(from_py_with = by_name::spans)] spans: usize,
) -> PyResult<Vec<Marked>> {
    let found = beam::usual_patterns(spans).map_err(|e| raise(py, &e))?;
    Ok(found.into_iter().map(marked).collect())
}

/// Marks, one a span, and the same in words.
pub(crate) type Marked = (Vec<bool>, String);

/// A pattern as marks and in words.
pub(crate) fn marked(pattern: beam::Pattern) -> Marked {
    let words = pattern.words();
    (pattern.loaded, words)
}

/// The largest and the smallest effect over several cases of one beam.
#[pyclass(frozen, eq, module = "proofspan")]
#[derive(Clone, PartialEq)]
pub(crate) struct Envelope(beam::Envelope);

pub(crate) fn by(what: &str) -> PyResult<(By, Kind)> {
    one_of(
        "what",
        "an effect",
        what,
        &[
            ("shear", (By::Shear, Kind::Force)),
            ("moment", (By::Moment, Kind::Moment)),
            ("deflection", (By::Deflection, Kind::Length)),
        ],
    )
}

#[pymethods]
impl Envelope {
    /// What does not change is its own copy.
    fn __copy__(slf: Bound<'_, Self>) -> Bound<'_, Self> {
        slf
    }

    fn __deepcopy__<'py>(slf: Bound<'py, Self>, _memo: &Bound<'_, PyAny>) -> Bound<'py, Self> {
        slf
    }

    #[new]
    fn new(
        py: Python<'_>,
        #[pyo3(from_py_with = by_name::cases)] cases: Vec<Bound<'_, Response>>,
    ) -> PyResult<Self> {
        let cases: Vec<beam::Response> = cases.iter().map(|c| c.get().0.clone()).collect();
        beam::Envelope::of(cases).map(Self).map_err(|e| raise(py, &e))
    }

    /// The largest value at one place or many.
    #[pyo3(signature = (what, x, side = "left"))]
    fn max(
        &self,
        #[pyo3(from_py_with = by_name::what)] what: &str,
        x: &Bound<'_, PyAny>,
        #[pyo3(from_py_with = by_name::side)] side: &str,
    ) -> PyResult<Py<PyAny>> {
        let ((by, kind), side) = (by(what)?, self::side(side)?);
        along(x, kind, |x| Ok(self.0.at(by, x, side)?.max.value))
    }

    /// The smallest value at one place or many.
    #[pyo3(signature = (what, x, side = "left"))]
    fn min(
        &self,
        #[pyo3(from_py_with = by_name::what)] what: &str,
        x: &Bound<'_, PyAny>,
        #[pyo3(from_py_with = by_name::side)] side: &str,
    ) -> PyResult<Py<PyAny>> {
        let ((by, kind), side) = (by(what)?, self::side(side)?);
        along(x, kind, |x| Ok(self.0.at(by, x, side)?.min.value))
    }

    /// Shear and moment that act together where `what` is largest and where it is smallest: "shear",
    /// "moment" and "case" for "max" and "min".
    #[pyo3(signature = (what, x, side = "left"))]
    fn pairs(
        &self,
        py: Python<'_>,
        #[pyo3(from_py_with = by_name::what)] what: &str,
        x: &Bound<'_, PyAny>,
        #[pyo3(from_py_with = by_name::side)] side: &str,
    ) -> PyResult<Py<PyAny>> {
        let ((by, _), side) = (by(what)?, self::side(side)?);
        let at = place(x, "x")?;
        let dict = PyDict::new(py);
        let (max, min) = self.0.pairs(by, at, side).map_err(|e| raise(py, &e))?;
        for (name, pair) in [("max", max), ("min", min)] {
            let entry = PyDict::new(py);
            entry.set_item("shear", Quantity::of(pair.shear.into()))?;
            entry.set_item("moment", Quantity::of(pair.moment.into()))?;
            entry.set_item("case", pair.case)?;
            dict.set_item(name, part("EnvelopePair", entry)?)?;
        }
        Ok(part("EnvelopePairs", dict)?.unbind())
    }

    /// The exact largest and smallest value on the beam, each with place and case.
    fn extremes(
        &self,
        py: Python<'_>,
        #[pyo3(from_py_with = by_name::what)] what: &str,
    ) -> PyResult<Py<PyAny>> {
        let (by, kind) = by(what)?;
        let dict = PyDict::new(py);
        let ends = self.0.extremes(by, Length::ZERO, self.0.length());
        let ends = ends.map_err(|e| raise(py, &e))?;
        for (name, of) in [("max", ends.max), ("min", ends.min)] {
            let entry = PyDict::new(py);
            let measure = Measure::of(kind);
            entry.set_item("value", Quantity { measure, si: of.value.value })?;
            entry.set_item("at", Quantity::of(of.value.at.into()))?;
            entry.set_item("case", of.case)?;
            dict.set_item(name, part("EnvelopeExtreme", entry)?)?;
        }
        Ok(part("EnvelopeExtremes", dict)?.unbind())
    }

    /// The cases.
    #[getter]
    fn cases(&self) -> Vec<Response> {
        self.0.cases().iter().cloned().map(Response).collect()
    }

    /// The length of the beam.
    #[getter]
    fn length(&self) -> Quantity {
        Quantity::of(self.0.length().into())
    }

    /// Draws the envelope of "shear", "moment" or "deflection"; returns the Axes.
    #[pyo3(signature = (what = "moment", units = "SI", ax = None))]
    fn plot(
        slf: &Bound<'_, Self>,
        #[pyo3(from_py_with = by_name::what)] what: &str,
        #[pyo3(from_py_with = by_name::units)] units: &str,
        ax: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Py<PyAny>> {
        by(what)?;
        system(units)?;
        drawn(slf.py(), "envelope", (slf, what, units, ax))
    }
}
