//! Influence lines, patterns, envelopes.

use proofspan::beam::{self, By};
use proofspan::error::slug;
use proofspan::units::{Kind, Length, LineLoad, Measure};
use pyo3::prelude::*;
use pyo3::types::PyDict;

use crate::beam::{Actions, Load, along, arguments};
use crate::column::{place, places};
use crate::quantity::Quantity;
use crate::refuse::{one_of, refuse, side};

/// An influence line: its ordinate at a place is the response under a unit force there, down.
#[pyclass(frozen, eq, module = "proofspan")]
#[derive(Clone, PartialEq)]
pub(crate) struct Influence {
    pub(crate) line: beam::InfluenceLine,
    pub(crate) length: Length,
}

proofspan::record! {
    /// A uniform load.
    pub struct Uniform {
        /// Its intensity.
        q: LineLoad,
    }
}

#[pymethods]
impl Influence {
    /// The ordinate at one place or many, as response per force.
    #[pyo3(signature = (x, side = "left"))]
    fn ordinate(&self, x: &Bound<'_, PyAny>, side: &str) -> PyResult<Vec<f64>> {
        let side = self::side(side)?;
        Ok(places(x, "x")?.si.into_iter().map(|x| self.line.at(Length::from_si(x), side)).collect())
    }

    /// The response to loads.
    fn response(&self, loads: Vec<Bound<'_, Load>>) -> Quantity {
        let loads: Vec<beam::Load> = loads.iter().map(|l| l.get().0).collect();
        Quantity::of(self.line.response(&loads))
    }

    /// The largest and the smallest response to a uniform load that may stand on any parts: "max",
    /// "min", and the parts that are loaded for each.
    fn worst(&self, py: Python<'_>, q: &Bound<'_, PyAny>) -> PyResult<Py<PyDict>> {
        let load: Uniform = arguments(py, &[("q", q)])?;
        let worst = self.line.worst(load.q);
        let parts = |on: &[(Length, Length)]| -> Vec<(Quantity, Quantity)> {
            on.iter().map(|(a, b)| (Quantity::of((*a).into()), Quantity::of((*b).into()))).collect()
        };
        let dict = PyDict::new(py);
        dict.set_item("max", Quantity::of(worst.max))?;
        dict.set_item("max_on", parts(&worst.max_on))?;
        dict.set_item("min", Quantity::of(worst.min))?;
        dict.set_item("min_on", parts(&worst.min_on))?;
        Ok(dict.unbind())
    }

    /// The length of the beam.
    #[getter]
    fn length(&self) -> Quantity {
        Quantity::of(self.length.into())
    }
}

/// The usual patterns of so many spans, each as marks and in words.
#[pyfunction]
pub(crate) fn usual_patterns(spans: usize) -> Vec<(Vec<bool>, String)> {
    let of = |p: beam::Pattern| (p.loaded.clone(), p.words());
    beam::usual_patterns(spans).into_iter().map(of).collect()
}

/// The largest and the smallest effect over several cases of one beam.
#[pyclass(frozen, eq, module = "proofspan")]
#[derive(Clone, PartialEq)]
pub(crate) struct Envelope(beam::Envelope);

fn by(what: &str) -> PyResult<(By, Kind)> {
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
    #[new]
    fn new(cases: Vec<Bound<'_, Actions>>) -> PyResult<Self> {
        if cases.is_empty() {
            return Err(refuse(slug::EQUIVALENT_REFERENCE, "cases", "an envelope of no case"));
        }
        let cases: Vec<beam::Actions> = cases.iter().map(|c| c.get().0.clone()).collect();
        let length = cases.first().map_or(0.0, |c| c.length().si());
        if cases.iter().any(|c| (c.length().si() - length).abs() > 1e-9 * length) {
            let message = "the cases are of beams of different length";
            return Err(refuse(slug::EQUIVALENT_REFERENCE, "cases", message));
        }
        Ok(Self(beam::Envelope::of(cases)))
    }

    /// The largest value at one place or many.
    #[pyo3(signature = (what, x, side = "left"))]
    fn max(&self, what: &str, x: &Bound<'_, PyAny>, side: &str) -> PyResult<Py<PyAny>> {
        let ((by, kind), side) = (by(what)?, self::side(side)?);
        let value = |x| self.0.at(by, x, side).map_or(f64::NAN, |e| e.max.value);
        along(x, self.length_of(), kind, value)
    }

    /// The smallest value at one place or many.
    #[pyo3(signature = (what, x, side = "left"))]
    fn min(&self, what: &str, x: &Bound<'_, PyAny>, side: &str) -> PyResult<Py<PyAny>> {
        let ((by, kind), side) = (by(what)?, self::side(side)?);
        let value = |x| self.0.at(by, x, side).map_or(f64::NAN, |e| e.min.value);
        along(x, self.length_of(), kind, value)
    }

    /// Shear and moment that act together where `what` is largest and where it is smallest: a dict
    /// of "shear", "moment" and "case" for "max" and "min".
    #[pyo3(signature = (what, x, side = "left"))]
    fn pairs(
        &self,
        py: Python<'_>,
        what: &str,
        x: &Bound<'_, PyAny>,
        side: &str,
    ) -> PyResult<Py<PyDict>> {
        let ((by, _), side) = (by(what)?, self::side(side)?);
        let at = place(x, "x")?;
        let dict = PyDict::new(py);
        if let Some((max, min)) = self.0.pairs(by, at, side) {
            for (name, pair) in [("max", max), ("min", min)] {
                let entry = PyDict::new(py);
                entry.set_item("shear", Quantity::of(pair.shear.into()))?;
                entry.set_item("moment", Quantity::of(pair.moment.into()))?;
                entry.set_item("case", pair.case)?;
                dict.set_item(name, entry)?;
            }
        }
        Ok(dict.unbind())
    }

    /// The exact largest and smallest value on the beam, each with place and case.
    fn extremes(&self, py: Python<'_>, what: &str) -> PyResult<Py<PyDict>> {
        let (by, kind) = by(what)?;
        let dict = PyDict::new(py);
        if let Some(ends) = self.0.extremes(by, Length::ZERO, self.length_of()) {
            for (name, of) in [("max", ends.max), ("min", ends.min)] {
                let entry = PyDict::new(py);
                let measure = Measure::of(kind);
                entry.set_item("value", Quantity { measure, si: of.value.value })?;
                entry.set_item("at", Quantity::of(of.value.at.into()))?;
                entry.set_item("case", of.case)?;
                dict.set_item(name, entry)?;
            }
        }
        Ok(dict.unbind())
    }

    /// The cases.
    #[getter]
    fn cases(&self) -> Vec<Actions> {
        self.0.cases().iter().cloned().map(Actions).collect()
    }

    /// The length of the beam.
    #[getter]
    fn length(&self) -> Quantity {
        Quantity::of(self.length_of().into())
    }

    /// Draws the envelope of "shear", "moment" or "deflection"; returns the Axes.
    #[pyo3(signature = (what = "moment", units = "SI", ax = None))]
    fn plot(
        slf: &Bound<'_, Self>,
        what: &str,
        units: &str,
        ax: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Py<PyAny>> {
        let plots = slf.py().import("proofspan.plots")?;
        Ok(plots.call_method1("envelope", (slf, what, units, ax))?.unbind())
    }
}

impl Envelope {
    fn length_of(&self) -> Length {
        self.0.cases().first().map_or(Length::ZERO, beam::Actions::length)
    }
}
