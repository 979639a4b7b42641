//! A working as data: every line with formula, numbers, result, source, and where it went next.

use proofspan::formula::{self, Item, Step};
use proofspan::source::Write;
use proofspan::units::{self, System};
use pyo3::exceptions::PyIndexError;
use pyo3::prelude::*;

use crate::by_name;
use crate::quantity::Quantity;
use crate::refuse::system;
use crate::tree::plain_python;

/// The working of a result in "SI" or "US" units: `print` it, or take it line by line.
#[pyclass(frozen, eq, module = "proofspan")]
#[derive(Clone, PartialEq)]
pub(crate) struct Working {
    working: formula::Working,
    units: System,
}

/// One line of a working.
#[pyclass(frozen, eq, module = "proofspan")]
#[derive(Clone, PartialEq)]
pub(crate) struct WorkingStep {
    about: Option<String>,
    what: String,
    line: String,
    source: String,
    step: Option<Step>,
    result: units::Quantity,
    residual: Option<f64>,
    next: Vec<usize>,
    answers: Vec<String>,
}

/// The working in units by their name.
pub(crate) fn working(of: formula::Working, units: &str) -> PyResult<Working> {
    Ok(Working { working: of, units: system(units)? })
}

#[pymethods]
impl Working {
    /// What does not change is its own copy.
    fn __copy__(slf: Bound<'_, Self>) -> Bound<'_, Self> {
        slf
    }

    fn __deepcopy__<'py>(slf: Bound<'py, Self>, _memo: &Bound<'_, PyAny>) -> Bound<'py, Self> {
        slf
    }

    /// "SI" or "US".
    #[getter]
    fn units(&self) -> &'static str {
        self.units.word()
    }

    /// Every line: what is computed, formula, numbers, result, source, where it went next.
    #[getter]
    fn steps(&self) -> Vec<WorkingStep> {
        let mut about = None;
        let mut steps = Vec::new();
        let went = self.working.went();
        let items = self.working.items.iter();
        for (item, line) in items.zip(self.working.texts(self.units)) {
            let [what, line, source] = line;
            let (step, result, residual) = match item {
                Item::About(_) => {
                    about = Some(what);
                    continue;
                }
                Item::Step(step) => (Some(step.clone()), step.result.1, None),
                Item::Residual { value, residual, .. } | Item::Solved { value, residual, .. } => {
                    (None, *value, Some(*residual))
                }
                _ => continue,
            };
            let went = went.get(steps.len()).cloned().unwrap_or_default();
            steps.push(WorkingStep {
                about: about.clone(),
                what,
                line,
                source,
                step,
                result,
                residual,
                next: went.next,
                answers: went.answers,
            });
        }
        steps
    }

    /// Plain text; `str` gives the same.
    fn text(&self) -> String {
        self.working.text(self.units)
    }

    /// Markdown.
    fn markdown(&self) -> String {
        self.working.markdown(self.units)
    }

    /// HTML.
    fn html(&self) -> String {
        self.working.html(self.units)
    }

    /// LaTeX, for the body of a document with the package amsmath.
    fn latex(&self) -> String {
        self.working.latex(self.units)
    }

    /// The lines whose recorded result is not what their formula gives, and the numbers of the answer
    /// that are not what the working comes to: none.
    fn recheck(&self) -> Vec<String> {
        self.working.recheck().into_iter().map(|m| m.what).collect()
    }

    /// Every line as a dict; with `units` as JSON can hold it.
    #[pyo3(signature = (units = None))]
    fn to_dict(
        &self,
        py: Python<'_>,
        #[pyo3(from_py_with = by_name::own_units)] units: Option<&str>,
    ) -> PyResult<Py<PyAny>> {
        plain_python(py, units, || self.working.write().settled())
    }

    fn __str__(&self) -> String {
        self.text()
    }

    fn __repr__(&self) -> String {
        format!("Working({} lines, {})", self.__len__(), self.units())
    }

    fn _repr_html_(&self) -> String {
        self.html()
    }

    fn __len__(&self) -> usize {
        self.working.went().len()
    }

    fn __getitem__(&self, index: isize) -> PyResult<WorkingStep> {
        let mut steps = self.steps();
        let len = steps.len();
        let place =
            if index < 0 { len.checked_add_signed(index) } else { usize::try_from(index).ok() };
        match place.filter(|i| *i < len) {
            Some(place) => Ok(steps.swap_remove(place)),
            None => Err(PyIndexError::new_err(format!("line {index} of {len}"))),
        }
    }

    /// Whether a text stands in it.
    fn __contains__(&self, text: &str) -> bool {
        self.text().contains(text)
    }
}

#[pymethods]
impl WorkingStep {
    /// What does not change is its own copy.
    fn __copy__(slf: Bound<'_, Self>) -> Bound<'_, Self> {
        slf
    }

    fn __deepcopy__<'py>(slf: Bound<'py, Self>, _memo: &Bound<'_, PyAny>) -> Bound<'py, Self> {
        slf
    }

    /// The heading it stands under.
    #[getter]
    fn about(&self) -> Option<&str> {
        self.about.as_deref()
    }

    /// What is computed.
    #[getter]
    fn what(&self) -> &str {
        &self.what
    }

    /// Symbols, numbers and result on one line, in the units of the working.
    #[getter]
    fn line(&self) -> &str {
        &self.line
    }

    /// The formula in its names; None for a value found by search.
    #[getter]
    fn formula(&self) -> Option<&str> {
        self.step.as_ref().map(|s| s.formula.as_ref())
    }

    /// The numbers: name in the formula, printed symbol, value.
    #[getter]
    fn inputs(&self) -> Vec<(String, String, Quantity)> {
        let inputs = self.step.iter().flat_map(|s| &s.inputs);
        inputs.map(|(n, s, q)| (n.to_string(), s.to_string(), Quantity::of(*q))).collect()
    }

    /// The symbol of the result; empty for a value found by search.
    #[getter]
    fn symbol(&self) -> &str {
        self.step.as_ref().map_or("", |s| s.result.0.as_ref())
    }

    /// The result.
    #[getter]
    fn result(&self) -> Quantity {
        Quantity::of(self.result)
    }

    /// What a value found by search leaves unmet, relative.
    #[getter]
    fn residual(&self) -> Option<f64> {
        self.residual
    }

    /// Clause, book or rule.
    #[getter]
    fn source(&self) -> &str {
        &self.source
    }

    /// The later lines that have its result among their numbers, from 0.
    #[getter]
    fn next(&self) -> Vec<usize> {
        self.next.clone()
    }

    /// The numbers of the answer that it is.
    #[getter]
    fn answers(&self) -> Vec<String> {
        self.answers.clone()
    }

    fn __repr__(&self) -> String {
        format!("WorkingStep({})", self.line)
    }
}
