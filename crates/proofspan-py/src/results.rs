//! The functions and results of the package.

use proofspan::beam::{Beam, Load, Restraint, Side, Support};
use proofspan::criteria::RunRecord;
use proofspan::error::{Error, Slug};
use proofspan::readings::{Log, LogSpec, read_csv, read_csv_text};
use proofspan::source::{Node, Read, Write, parse_json, read_node, write_json};
use proofspan::units::{FlexuralRigidity, Force, Length, LineLoad, Moment, System};
use proofspan::{TestDesign, TestSpec, report};
use pyo3::exceptions::PyValueError;
use pyo3::prelude::*;
use pyo3::types::PyString;

use crate::errors::raise;
use crate::tree::{from_python, to_python};

/// A document from JSON text or Python objects.
fn document<T: Read>(py: Python<'_>, object: &Bound<'_, PyAny>) -> PyResult<T> {
    let node: Node = if object.is_instance_of::<PyString>() {
        parse_json(&object.extract::<String>()?).map_err(|e| raise(py, &e))?
    } else {
        from_python(object, 0)?
    };
    read_node(&node).map_err(|e| raise(py, &e))
}

fn system(name: &str) -> PyResult<System> {
    match name {
        "SI" => Ok(System::Si),
        "US" => Ok(System::Us),
        _ => Err(PyValueError::new_err(format!("`{name}` is not a unit system: SI, US"))),
    }
}

/// A designed test.
#[pyclass(frozen, eq, module = "proofspan")]
#[derive(PartialEq)]
pub(crate) struct Design {
    design: TestDesign,
}

#[pymethods]
impl Design {
    /// Every result, by name.
    fn to_dict(&self, py: Python<'_>) -> PyResult<Py<PyAny>> {
        to_python(py, &self.design.write())
    }

    /// The test as JSON text; it reads back to an equal design.
    fn spec_json(&self) -> String {
        self.design.spec.to_json()
    }

    /// Every result as JSON text in SI.
    fn to_json(&self) -> String {
        write_json(&self.design.write())
    }

    /// The working as text, in "SI" or "US" units.
    #[pyo3(signature = (units = "SI"))]
    fn working(&self, py: Python<'_>, units: &str) -> PyResult<String> {
        let units = system(units)?;
        self.design.working().map(|w| w.text(units)).map_err(|e| raise(py, &e))
    }

    /// The steps of the working whose recorded result is not what their formula gives: none.
    fn recheck(&self, py: Python<'_>) -> PyResult<Vec<String>> {
        let working = self.design.working().map_err(|e| raise(py, &e))?;
        Ok(working.recheck().into_iter().map(|m| m.what).collect())
    }

    /// Refuses with StopError while a stop holds.
    fn cleared(&self, py: Python<'_>) -> PyResult<()> {
        self.design.cleared().map_err(|e| raise(py, &e))
    }

    /// Values along the member in SI: "test_shear", "reference_shear", "test_moment",
    /// "reference_moment" (net, governing term) or "test_deflection" (soft) at places in metres.
    fn along(&self, what: &str, x: Vec<f64>) -> PyResult<Vec<f64>> {
        let (jacks, target) = (&self.design.layout.actions, &self.design.target);
        let value: Box<dyn Fn(Length) -> f64> = match what {
            "test_shear" => Box::new(|x| jacks.shear(x, Side::Left).si()),
            "reference_shear" => Box::new(|x| target.shear(x, Side::Left).value.0.si()),
            "test_moment" => Box::new(|x| jacks.moment(x, Side::Left).si()),
            "reference_moment" => Box::new(|x| target.moment(x).value.0.si()),
            "test_deflection" => Box::new(|x| jacks.deflection(x).si()),
            _ => {
                return Err(PyValueError::new_err(format!(
                    "`{what}` is not one of test_shear, reference_shear, test_moment, reference_moment, test_deflection"
                )));
            }
        };
        Ok(x.into_iter().map(|x| value(Length::from_si(x))).collect())
    }

    /// The report as one HTML file, with the judgement where one is given.
    #[pyo3(signature = (judgement = None))]
    fn html(&self, py: Python<'_>, judgement: Option<&Judgement>) -> PyResult<String> {
        report::html(&self.design, judgement.map(|j| &j.judgement)).map_err(|e| raise(py, &e))
    }

    /// The report as Markdown.
    #[pyo3(signature = (judgement = None))]
    fn markdown(&self, py: Python<'_>, judgement: Option<&Judgement>) -> PyResult<String> {
        report::markdown(&self.design, judgement.map(|j| &j.judgement)).map_err(|e| raise(py, &e))
    }

    fn __repr__(&self) -> String {
        let stops = self.design.holding().count();
        format!(
            "Design({:?}: {} net per {}, {stops} stops hold)",
            self.design.spec.title,
            self.design.force().0,
            self.design.target.unit.word()
        )
    }

    fn __reduce__(&self, py: Python<'_>) -> PyResult<(Py<PyAny>, (String,))> {
        let make = py.import("proofspan._core")?.getattr("design")?.unbind();
        Ok((make, (self.spec_json(),)))
    }
}

/// A judged test.
#[pyclass(frozen, module = "proofspan")]
pub(crate) struct Judgement {
    judgement: proofspan::Judgement,
}

#[pymethods]
impl Judgement {
    /// The headline: the guarded outcome.
    #[getter]
    fn state(&self) -> &'static str {
        self.judgement.state().word()
    }

    /// Every result, by name.
    fn to_dict(&self, py: Python<'_>) -> PyResult<Py<PyAny>> {
        to_python(py, &self.judgement.write())
    }

    /// Force in newtons and deflection in metres of the leading gauge along the test, thinned.
    fn curve(&self) -> Vec<(f64, f64)> {
        self.judgement.curve.clone()
    }

    fn __repr__(&self) -> String {
        format!("Judgement({}: {})", self.judgement.state(), self.judgement.judging.guarded.because)
    }
}

/// Designs a test from a document: JSON text or dicts and lists.
#[pyfunction]
pub(crate) fn design(py: Python<'_>, spec: &Bound<'_, PyAny>) -> PyResult<Design> {
    let spec: TestSpec = document(py, spec)?;
    proofspan::design(spec).map(|design| Design { design }).map_err(|e| raise(py, &e))
}

fn read(py: Python<'_>, log: &Bound<'_, PyAny>, layout: &LogSpec) -> PyResult<Log> {
    let text = log.extract::<String>();
    let result: Result<Log, Error> = match text {
        Ok(text) => read_csv_text(&text, layout),
        Err(_) => {
            let path: std::path::PathBuf = log.extract()?;
            let file = std::fs::File::open(&path).map_err(|e| {
                PyValueError::new_err(format!("the log {} cannot be opened: {e}", path.display()))
            })?;
            read_csv(std::io::BufReader::new(file), layout)
        }
    };
    result.map_err(|e| raise(py, &e))
}

/// Judges a designed test: CSV text or a path, the layout of the log, the record of the run.
#[pyfunction]
pub(crate) fn judge(
    py: Python<'_>,
    design: &Design,
    log: &Bound<'_, PyAny>,
    layout: &Bound<'_, PyAny>,
    record: &Bound<'_, PyAny>,
) -> PyResult<Judgement> {
    let layout: LogSpec = document(py, layout)?;
    let record: RunRecord = document(py, record)?;
    let log = read(py, log, &layout)?;
    let judgement =
        proofspan::judge(&design.design, &log, &layout, &record).map_err(|e| raise(py, &e))?;
    Ok(Judgement { judgement })
}

/// The faults of a log, by name.
#[pyfunction]
pub(crate) fn read_log_faults(
    py: Python<'_>,
    log: &Bound<'_, PyAny>,
    layout: &Bound<'_, PyAny>,
) -> PyResult<Py<PyAny>> {
    let layout: LogSpec = document(py, layout)?;
    let log = read(py, log, &layout)?;
    to_python(py, &log.faults.write())
}

/// The JSON schema of the test document, as text.
#[pyfunction]
pub(crate) fn schema() -> String {
    serde_json::to_string_pretty(&TestSpec::schema()).unwrap_or_default()
}

/// Name, title and status of every shipped edition.
#[pyfunction]
pub(crate) fn editions(py: Python<'_>) -> PyResult<Vec<(String, String, &'static str)>> {
    let list = proofspan::editions::Edition::list().map_err(|e| raise(py, &e))?;
    Ok(list
        .iter()
        .map(|e| (e.name().to_owned(), e.title().to_owned(), e.status().word()))
        .collect())
}

/// The table of stable codes: code, class, gist, remedy.
#[pyfunction]
pub(crate) fn codes() -> Vec<(&'static str, &'static str, &'static str, &'static str)> {
    Slug::all().iter().map(|s| (s.code(), s.class().word(), s.gist(), s.remedy())).collect()
}

/// Shear, moment and deflection of a beam at places, all numbers in SI: length, EI, supports as
/// (place, held against rotation), point loads (place, force), line loads (from, to, w, w), places.
#[pyfunction]
#[pyo3(signature = (length, rigidity, supports, points, lines, x))]
pub(crate) fn beam_actions(
    py: Python<'_>,
    length: f64,
    rigidity: f64,
    supports: Vec<(f64, bool)>,
    points: Vec<(f64, f64)>,
    lines: Vec<(f64, f64, f64, f64)>,
    x: Vec<f64>,
) -> PyResult<(Vec<f64>, Vec<f64>, Vec<f64>)> {
    let held = |(at, fixed): &(f64, bool)| Support {
        rotation: if *fixed { Restraint::Rigid } else { Restraint::Free },
        ..Support::bearing(Length::from_si(*at))
    };
    let beam = Beam::new(
        Length::from_si(length),
        supports.iter().map(held).collect(),
        vec![(Length::ZERO, FlexuralRigidity::from_si(rigidity))],
    );
    let m = Length::from_si;
    let mut loads: Vec<Load> =
        points.iter().map(|(at, p)| Load::point(m(*at), Force::from_si(*p))).collect();
    loads.extend(lines.iter().map(|(a, b, wa, wb)| {
        Load::line(m(*a), m(*b), LineLoad::from_si(*wa), LineLoad::from_si(*wb))
    }));
    let actions = beam.and_then(|b| b.actions(&loads)).map_err(|e| raise(py, &e))?;
    let all = |value: &dyn Fn(Length) -> f64| x.iter().map(|x| value(m(*x))).collect();
    Ok((
        all(&|x| actions.shear(x, Side::Left).si()),
        all(&|x| Moment::si(actions.moment(x, Side::Left))),
        all(&|x| actions.deflection(x).si()),
    ))
}
