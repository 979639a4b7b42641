//! The whole job: design, judge, and what they give.

use proofspan::criteria::RunRecord;
use proofspan::error::Slug;
use proofspan::readings::{Log, LogSpec};
use proofspan::source::{Write, html, write_json};
use proofspan::units::{Kind, Measure, Page};
use proofspan::{TestDesign, TestSpec, report};
use pyo3::prelude::*;
use pyo3::types::PyDict;

use crate::answers::SideBySide;
use crate::by_name;
use crate::column::{Column, array};
use crate::documents::{self, named};
use crate::errors::{long, raise};
use crate::frames::read;
use crate::parts::{exactly, settled};
use crate::quantity::unit_at;
use crate::refuse::{Text, drawn};
use crate::steps::{Layout, Target, system};
use crate::tree::plain_python;
use crate::working::{Working, working};

/// A designed test.
#[pyclass(frozen, eq, module = "proofspan")]
#[derive(PartialEq)]
pub(crate) struct Design {
    design: TestDesign,
}

#[pymethods]
impl Design {
    /// Every result, by name; with `units`, "SI" or "US", as JSON can hold it.
    #[pyo3(signature = (units = None))]
    fn to_dict(
        &self,
        py: Python<'_>,
        #[pyo3(from_py_with = by_name::own_units)] units: Option<&str>,
    ) -> PyResult<Py<PyAny>> {
        plain_python(py, units, || self.design.write().settled())
    }

    /// Every result as JSON text in SI.
    fn to_json(&self) -> String {
        write_json(&self.design.write())
    }

    /// The working, in "SI" or "US" units: `print` it, or take it line by line.
    #[pyo3(signature = (units = "SI"))]
    fn working(
        &self,
        py: Python<'_>,
        #[pyo3(from_py_with = by_name::units)] units: &str,
    ) -> PyResult<Working> {
        working(long(py, || self.design.working())?, units)
    }

    /// The steps of the working whose recorded result is not what their formula gives, and the
    /// numbers of this design that are not what the working comes to: none.
    fn recheck(&self, py: Python<'_>) -> PyResult<Vec<String>> {
        let working = self.design.working().map_err(|e| raise(py, &e))?;
        Ok(working.recheck().into_iter().map(|m| m.what).collect())
    }

    /// Refuses with StopError while a stop holds.
    fn cleared(&self, py: Python<'_>) -> PyResult<()> {
        self.design.cleared().map_err(|e| raise(py, &e))
    }

    /// The document it was designed from.
    #[getter]
    fn spec(&self) -> documents::TestSpec {
        documents::TestSpec((*self.design.spec).clone())
    }

    /// What the test must reproduce.
    #[getter]
    fn target(&self) -> Target {
        Target { target: self.design.target.clone(), set: self.design.set.clone() }
    }

    /// The jacks that reproduce it.
    #[getter]
    fn layout(&self) -> Layout {
        Layout { layout: self.design.layout.clone(), target: self.target() }
    }

    /// What is predicted of the member: cracking and flexure along it, never an approval; None where the
    /// document does not describe its sections.
    #[getter]
    fn predicted(&self, py: Python<'_>) -> PyResult<Py<PyAny>> {
        settled(py, "Predicted", &self.design.predicted)
    }

    /// What the jacks push against: pulls, reactions, lift-off, stages, hydraulics.
    #[getter]
    fn rig(&self, py: Python<'_>) -> PyResult<Py<PyAny>> {
        settled(py, "Rig", &self.design.rig)
    }

    /// What catches the member: every catch with its forces and gap window, levels, floor.
    #[getter]
    fn shoring(&self, py: Python<'_>) -> PyResult<Py<PyAny>> {
        settled(py, "Shoring", &self.design.shoring)
    }

    /// The steps with predicted readings; refuses with StopError while a stop holds.
    #[getter]
    fn schedule(&self, py: Python<'_>) -> PyResult<Py<PyAny>> {
        let schedule = self.design.schedule().map_err(|e| raise(py, &e))?;
        settled(py, "Schedule", schedule)
    }

    /// The elevation of the rig as shapes: kind, mark, what it says, left, right, top, bottom; places
    /// from the left end of the member under test, heights down from its top.
    #[pyo3(signature = (units = "SI"))]
    fn sketch(
        &self,
        py: Python<'_>,
        #[pyo3(from_py_with = by_name::units)] units: &str,
    ) -> PyResult<Py<PyAny>> {
        let page = Page::new(system(units)?);
        settled(py, "RigShape", &report::shapes(&self.design, &page))
    }

    /// Draws the elevation of the rig to scale; returns the Axes.
    #[pyo3(signature = (units = "SI", ax = None))]
    fn plot_rig(
        slf: &Bound<'_, Self>,
        #[pyo3(from_py_with = by_name::units)] units: &str,
        ax: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Py<PyAny>> {
        system(units)?;
        drawn(slf.py(), "rig", (slf, units, ax))
    }

    /// Draws demand against predicted strength along the member, "moment" or "shear", or "deflection": the
    /// deflection of the test over its load, stiff and soft; returns the Axes.
    #[pyo3(signature = (what = "moment", units = "SI", ax = None))]
    fn plot_predicted(
        slf: &Bound<'_, Self>,
        #[pyo3(from_py_with = by_name::what)] what: &str,
        #[pyo3(from_py_with = by_name::units)] units: &str,
        ax: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Py<PyAny>> {
        crate::lines::by(what)?;
        system(units)?;
        let plots = slf.py().import("proofspan.plots")?;
        Ok(plots.call_method1("predicted", (slf, what, units, ax))?.unbind())
    }

    /// The stages after the first, each with its name; every one has the stops of all.
    #[getter]
    fn stages(&self) -> Vec<(String, Design)> {
        let of =
            |(name, stage): &(String, TestDesign)| (name.clone(), Design { design: stage.clone() });
        self.design.later().iter().map(of).collect()
    }

    /// A log and the record of its run by the criteria of every shipped edition that has some for the
    /// method of this test.
    fn side_by_side(
        &self,
        py: Python<'_>,
        log: &Bound<'_, PyAny>,
        columns: &Bound<'_, PyAny>,
        record: &Bound<'_, PyAny>,
    ) -> PyResult<SideBySide> {
        let (log, columns, record) = told(py, log, columns, record)?;
        by_editions(py, &self.design, (&log, &columns), &record).map(SideBySide)
    }

    /// States that endanger people, those that are lifted included.
    #[getter]
    fn stops(&self, py: Python<'_>) -> PyResult<Py<PyAny>> {
        exactly(py, "Stop", &self.design.stops().to_vec())
    }

    /// What the reader must know.
    #[getter]
    fn notes(&self, py: Python<'_>) -> PyResult<Py<PyAny>> {
        exactly(py, "Note", &self.design.notes)
    }

    /// Every check: what it belongs to, code, state, utilisation.
    #[getter]
    fn checks(&self) -> Vec<(&'static str, &'static str, &'static str, Option<f64>)> {
        let row = |(part, v): (&'static str, &proofspan::verdict::Verdict)| {
            (part, v.slug.code(), v.state.word(), v.utilisation)
        };
        self.design.verdicts().map(row).collect()
    }

    /// The report as one HTML file, with the judgement where one is given.
    #[pyo3(signature = (judgement = None))]
    fn html(
        &self,
        py: Python<'_>,
        #[pyo3(from_py_with = by_name::judgement)] judgement: Option<&Judgement>,
    ) -> PyResult<String> {
        long(py, || report::html(&self.design, judgement.map(|j| &j.judgement)))
    }

    /// The report as Markdown.
    #[pyo3(signature = (judgement = None))]
    fn markdown(
        &self,
        py: Python<'_>,
        #[pyo3(from_py_with = by_name::judgement)] judgement: Option<&Judgement>,
    ) -> PyResult<String> {
        long(py, || report::markdown(&self.design, judgement.map(|j| &j.judgement)))
    }

    fn __repr__(&self) -> String {
        let stops = self.design.holding().count();
        format!(
            "Design({:?}: {} net per {}, {stops} stops hold)",
            self.design.spec.title,
            self.design.page().value(self.design.force().0, 7),
            self.design.target.unit.word()
        )
    }

    fn _repr_html_(&self) -> String {
        let row = |(part, v): (&'static str, &proofspan::verdict::Verdict)| {
            let used = v.utilisation.map_or_else(String::new, |u| Page::default().number(u, 4));
            format!(
                "<tr><td>{part}</td><td>{}</td><td>{}</td><td>{used}</td></tr>",
                v.slug.code(),
                v.state
            )
        };
        let rows: String = self.design.verdicts().map(row).collect();
        format!(
            "<p>{}</p><table><tr><th>part</th><th>check</th><th>state</th><th>utilisation</th></tr>{rows}</table>",
            html(&self.__repr__())
        )
    }

    fn __reduce__(&self, py: Python<'_>) -> PyResult<(Py<PyAny>, (String,))> {
        let make = py.import("proofspan._core")?.getattr("design")?.unbind();
        Ok((make, (self.design.spec.to_json(),)))
    }
}

/// A judged test.
#[pyclass(frozen, eq, module = "proofspan")]
#[derive(PartialEq)]
pub(crate) struct Judgement {
    pub(crate) judgement: proofspan::Judgement,
}

#[pymethods]
impl Judgement {
    /// The stages after the first, each with its name; None for one that the log does not hold.
    #[getter]
    fn stages(&self) -> Vec<(String, Option<Judgement>)> {
        let of = |(name, judged): &(String, Option<proofspan::Judgement>)| {
            (name.clone(), judged.clone().map(|judgement| Judgement { judgement }))
        };
        self.judgement.later.iter().map(of).collect()
    }

    /// The headline: the guarded outcome.
    #[getter]
    fn state(&self) -> &'static str {
        self.judgement.state().word()
    }

    /// Every result, by name; with `units`, "SI" or "US", as JSON can hold it.
    #[pyo3(signature = (units = None))]
    fn to_dict(
        &self,
        py: Python<'_>,
        #[pyo3(from_py_with = by_name::own_units)] units: Option<&str>,
    ) -> PyResult<Py<PyAny>> {
        plain_python(py, units, || self.judgement.write().settled())
    }

    /// Every result as JSON text in SI.
    fn to_json(&self) -> String {
        write_json(&self.judgement.write())
    }

    /// The corrections of every gauge as text, every line redone with a pencil, in "SI" or "US" units.
    #[pyo3(signature = (units = "SI"))]
    fn working(&self, #[pyo3(from_py_with = by_name::units)] units: &str) -> PyResult<Working> {
        working(self.judgement.working(), units)
    }

    /// Each criterion with its "code" and its "guarded" outcome.
    #[getter]
    fn criteria(&self) -> Vec<(String, &'static str, &'static str)> {
        let row = |c: &proofspan::criteria::Judged| {
            (c.id.clone(), c.outcome.code.state.word(), c.outcome.guarded.state.word())
        };
        self.judgement.judging.criteria.iter().map(row).collect()
    }

    /// What nobody can tell of a test that was designed elsewhere; empty for a designed test.
    #[getter]
    fn not_judged(&self) -> Vec<&'static str> {
        self.judgement.not_judged.clone()
    }

    /// Force and deflection of the leading gauge along the test, thinned.
    #[getter]
    fn curve(&self) -> (Column, Column) {
        let (force, deflection) = self.judgement.curve.iter().copied().unzip();
        let of = |kind, si| Column { measure: Measure::of(kind), si };
        (of(Kind::Force, force), of(Kind::Length, deflection))
    }

    /// What of every gauge was used: samples in all and in each window, what was left out, the channels
    /// that correct it.
    #[getter]
    fn used(&self, py: Python<'_>) -> PyResult<Py<PyAny>> {
        exactly(py, "GaugeUsed", &self.judgement.used)
    }

    /// The corrected deflection of every gauge, with its corrections and u.
    #[getter]
    fn deflections(&self, py: Python<'_>) -> PyResult<Py<PyAny>> {
        settled(py, "GaugeDeflection", &self.judgement.deflections)
    }

    /// Measured against predicted, every gauge; empty for a test designed elsewhere.
    #[getter]
    fn comparisons(&self, py: Python<'_>) -> PyResult<Py<PyAny>> {
        settled(py, "Comparison", &self.judgement.comparisons)
    }

    /// Faults of the log, by name.
    #[getter]
    fn faults(&self, py: Python<'_>) -> PyResult<Py<PyAny>> {
        exactly(py, "LogFault", &self.judgement.faults)
    }

    /// Rules that stop or pause a test, along the log.
    #[getter]
    fn stops(&self, py: Python<'_>) -> PyResult<Py<PyAny>> {
        settled(py, "StopRuleSeen", &self.judgement.stops)
    }

    /// What the reader must know.
    #[getter]
    fn notes(&self, py: Python<'_>) -> PyResult<Py<PyAny>> {
        exactly(py, "Note", &self.judgement.judging.notes)
    }

    /// The series of one gauge as NumPy arrays by name: "time", "force" of record, "raw" reading with its
    /// sign, "corrected" deflection since zero; not-a-number where a row has none. Kept by
    /// `judge(…, series=True)`.
    #[pyo3(signature = (gauge, *, time = None, force = None, length = None))]
    fn series<'py>(
        &self,
        py: Python<'py>,
        gauge: Text,
        time: Option<Text>,
        force: Option<Text>,
        length: Option<Text>,
    ) -> PyResult<Bound<'py, PyDict>> {
        let gauge = gauge.of("gauge")?;
        let own = self.judgement.series_of(gauge).map_err(|e| raise(py, &e))?;
        let columns = PyDict::new(py);
        for (name, kind, unit, argument, si) in [
            ("time", Kind::Duration, time.as_ref(), "time", &own.time),
            ("force", Kind::Force, force.as_ref(), "force", &own.force),
            ("raw", Kind::Length, length.as_ref(), "length", &own.raw),
            ("corrected", Kind::Length, length.as_ref(), "length", &own.corrected),
        ] {
            let default = match kind {
                Kind::Duration => "h",
                Kind::Force => "kN",
                _ => "mm",
            };
            let unit = unit.map_or(Ok(default), |u| u.of(argument))?;
            let row = unit_at(Measure::of(kind), unit, argument)?;
            let values = si.iter().map(|v| row.from_si(*v));
            columns.set_item(name, array(py, values)?)?;
        }
        Ok(columns)
    }

    /// Draws force against deflection of the leading gauge; returns the Axes.
    #[pyo3(signature = (units = "SI", ax = None))]
    fn plot(
        slf: &Bound<'_, Self>,
        #[pyo3(from_py_with = by_name::units)] units: &str,
        ax: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Py<PyAny>> {
        system(units)?;
        drawn(slf.py(), "curve", (slf, units, ax))
    }

    fn _repr_html_(&self) -> String {
        let rows: String = self
            .criteria()
            .iter()
            .map(|(id, code, guarded)| {
                format!("<tr><td>{}</td><td>{code}</td><td>{guarded}</td></tr>", html(id))
            })
            .collect();
        format!(
            "<p>{}</p><table><tr><th>criterion</th><th>code</th><th>guarded</th></tr>{rows}</table>",
            html(&self.__repr__())
        )
    }

    fn __copy__(&self) -> Self {
        Self { judgement: self.judgement.clone() }
    }

    fn __deepcopy__(&self, _memo: &Bound<'_, PyAny>) -> Self {
        self.__copy__()
    }

    fn __repr__(&self) -> String {
        let (guarded, _) = self.judgement.overall();
        format!("Judgement({}: {})", guarded.state, guarded.because)
    }
}

/// Designs a test from a document: JSON text or dicts and lists.
///
/// >>> import proofspan as ps
/// >>> from pathlib import Path
/// >>> design = ps.design(Path("examples/scenarios/terrace_strip.test.json").read_text(encoding="utf-8"))
/// >>> f"{design.layout.force:.1f lbf}", design.stops
/// ('17938.1 lbf', [])
#[pyfunction]
pub(crate) fn design(py: Python<'_>, spec: &Bound<'_, PyAny>) -> PyResult<Design> {
    let spec: TestSpec = named(py, spec, "")?;
    long(py, || proofspan::design(spec)).map(|design| Design { design })
}

/// Judges a designed test: the log, what its columns are, the record of the run. A log is text (CSV or JSON
/// lines), a path, a dict of arrays by name, or a table of pandas, polars or pyarrow. `series=True` keeps
/// the corrected series of every gauge, `side_by_side=True` what every edition says of the same record.
///
/// >>> import proofspan as ps
/// >>> from pathlib import Path
/// >>> read = lambda end: Path(f"examples/scenarios/terrace_strip.{end}").read_text(encoding="utf-8")
/// >>> judged = ps.judge(ps.design(read("test.json")), read("log.csv"), read("log.json"), read("record.json"))
/// >>> judged.state == judged.to_dict()["state"], judged.deflections[0].gauge
/// (True, 'mid')
#[pyfunction]
#[pyo3(signature = (design, log, columns, record, series = false, side_by_side = false))]
pub(crate) fn judge(
    py: Python<'_>,
    #[pyo3(from_py_with = by_name::design)] design: &Design,
    log: &Bound<'_, PyAny>,
    columns: &Bound<'_, PyAny>,
    record: &Bound<'_, PyAny>,
    #[pyo3(from_py_with = by_name::series)] series: bool,
    #[pyo3(from_py_with = by_name::side_by_side)] side_by_side: bool,
) -> PyResult<Judgement> {
    let (log, columns, record) = told(py, log, columns, record)?;
    let log = if series { log.with_series() } else { log };
    let judgement = long(py, || proofspan::judge(&design.design, &log, &columns, &record))?;
    let judgement = if side_by_side {
        judgement.beside(by_editions(py, &design.design, (&log, &columns), &record)?)
    } else {
        judgement
    };
    Ok(Judgement { judgement })
}

/// A log as its columns say, and the record of its run.
pub(crate) fn told(
    py: Python<'_>,
    log: &Bound<'_, PyAny>,
    columns: &Bound<'_, PyAny>,
    record: &Bound<'_, PyAny>,
) -> PyResult<(Log, LogSpec, RunRecord)> {
    let columns: LogSpec = named(py, columns, "columns")?;
    let record: RunRecord = named(py, record, "record")?;
    let log = read(py, log, &columns)?;
    Ok((log, columns, record))
}

/// What every shipped edition says of the record of a designed test.
fn by_editions(
    py: Python<'_>,
    design: &TestDesign,
    log: (&Log, &LogSpec),
    record: &RunRecord,
) -> PyResult<proofspan::SideBySide> {
    let editions = proofspan::editions::Edition::list().map_err(|e| raise(py, &e))?;
    let editions: Vec<_> = editions.iter().map(AsRef::as_ref).collect();
    long(py, || proofspan::side_by_side_of(&editions, design, log, record))
}

/// The faults of a log, by name.
///
/// >>> import proofspan as ps
/// >>> from pathlib import Path
/// >>> read = lambda end: Path(f"examples/scenarios/terrace_strip.{end}").read_text(encoding="utf-8")
/// >>> all(fault.count >= 1 for fault in ps.read_log_faults(read("log.csv"), read("log.json")))
/// True
#[pyfunction]
pub(crate) fn read_log_faults(
    py: Python<'_>,
    log: &Bound<'_, PyAny>,
    columns: &Bound<'_, PyAny>,
) -> PyResult<Py<PyAny>> {
    let columns: LogSpec = named(py, columns, "columns")?;
    let log = read(py, log, &columns)?;
    exactly(py, "LogFault", &log.faults)
}

/// The JSON schema of the test document, as text.
///
/// >>> import proofspan as ps
/// >>> import json
/// >>> json.loads(ps.schema())["title"]
/// 'proofspan test specification, version 1'
#[pyfunction]
pub(crate) fn schema() -> String {
    serde_json::to_string_pretty(&TestSpec::schema()).unwrap_or_default()
}

/// Name, title and status of every shipped edition.
///
/// >>> import proofspan as ps
/// >>> [status for name, title, status in ps.editions() if name == "ACI 437.2-13"]
/// ['superseded']
#[pyfunction]
pub(crate) fn editions(py: Python<'_>) -> PyResult<Vec<(String, String, &'static str)>> {
    let list = proofspan::editions::Edition::list().map_err(|e| raise(py, &e))?;
    Ok(list
        .iter()
        .map(|e| (e.name().to_owned(), e.title().to_owned(), e.status().word()))
        .collect())
}

/// The table of stable codes: code, class, gist, remedy.
///
/// >>> import proofspan as ps
/// >>> [gist for code, what, gist, remedy in ps.codes() if code == "shoring.catch-missing"]
/// ['no catch']
#[pyfunction]
pub(crate) fn codes() -> Vec<(&'static str, &'static str, &'static str, &'static str)> {
    Slug::all().iter().map(|s| (s.code(), s.class().word(), s.gist(), s.remedy())).collect()
}
