//! What a test must reproduce, and what is asked of it, from Python.

use std::ops::Deref;
use std::sync::Arc;

use proofspan::beam;
use proofspan::equivalent::{self, Candidate, Objective, Requirement};
use proofspan::error::slug;
use proofspan::source::rule::Any;
use proofspan::source::{Entry, Node, Read, Value, read_named};
use proofspan::units::{Length, System};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyList};

use crate::beam::{Beam, Load, Response};
use crate::by_name;
use crate::documents;
use crate::errors::raise;
use crate::quantity::Quantity;
use crate::refuse::{at, refuse, refused, system, text};
use crate::steps::Target;
use crate::tree::{Walk, from_python};

/// What the test must reproduce on a beam: net loads of every term or pattern, the loads in place,
/// the region in doubt, per one member unit. `Reference.of(target)` takes them from a target.
#[pyclass(frozen, eq, module = "proofspan")]
#[derive(Clone, PartialEq)]
pub(crate) struct Reference(Arc<Referred>);

/// A reference with its beam and what its failure mode asks; shared by all answers about it.
#[derive(PartialEq)]
pub(crate) struct Referred {
    pub(crate) beam: beam::Beam,
    pub(crate) reference: equivalent::Reference,
    pub(crate) requirements: Vec<Requirement>,
}

impl Deref for Reference {
    type Target = Referred;
    fn deref(&self) -> &Referred {
        &self.0
    }
}

proofspan::record! {
    /// A stretch.
    pub struct Ends {
        /// Left end.
        from: Length where Any,
        /// Right end.
        to: Length where Any,
    }
}

/// Two places, under the name of an argument that holds both, or each under its own.
pub(crate) fn ends(
    argument: &str,
    from: &Bound<'_, PyAny>,
    to: &Bound<'_, PyAny>,
) -> PyResult<(Length, Length)> {
    let mut walk = Walk::default();
    let under = if argument.is_empty() { String::new() } else { format!("{argument}.") };
    let mut node = |name, value| (name, walk.node(value, &format!("{under}{name}")));
    let both = vec![node("from", from), node("to", to)];
    walk.done()?;
    let ends: Ends = read_named(argument, &Node::map(both)).map_err(|e| raise(from.py(), &e))?;
    Ok((ends.from, ends.to))
}

#[pymethods]
impl Reference {
    /// What does not change is its own copy.
    fn __copy__(slf: Bound<'_, Self>) -> Bound<'_, Self> {
        slf
    }

    fn __deepcopy__<'py>(slf: Bound<'py, Self>, _memo: &Bound<'_, PyAny>) -> Bound<'py, Self> {
        slf
    }

    #[new]
    #[pyo3(signature = (beam, terms, in_place = Vec::new(), region = None, unit = "beam", units = "SI"))]
    fn new(
        py: Python<'_>,
        #[pyo3(from_py_with = by_name::beam)] beam: &Beam,
        #[pyo3(from_py_with = by_name::terms)] terms: &Bound<'_, PyDict>,
        #[pyo3(from_py_with = by_name::in_place)] in_place: Vec<Bound<'_, Load>>,
        #[pyo3(from_py_with = by_name::region)] region: Option<(
            Bound<'_, PyAny>,
            Bound<'_, PyAny>,
        )>,
        #[pyo3(from_py_with = by_name::unit)] unit: &str,
        #[pyo3(from_py_with = by_name::units)] units: &str,
    ) -> PyResult<Self> {
        let mut named: Vec<(String, Vec<beam::Load>)> = Vec::new();
        for (name, loads) in terms {
            // one load stands for a list of one
            let name = text(&name).map_err(|issue| refused(at("terms", issue)))?;
            let loads = match loads.cast::<Load>() {
                Ok(one) => vec![one.clone()],
                Err(_) => by_name::objects(&loads, &format!("terms.{name}"))?,
            };
            named.push((name, loads.iter().map(|l| l.get().0).collect()));
        }
        let there = in_place.iter().map(|l| l.get().0).collect();
        let region = region.map(|(from, to)| ends("region", &from, &to)).transpose()?;
        let unit = read_named("unit", &Node::text(unit)).map_err(|e| raise(py, &e))?;
        let reference = equivalent::Reference::of_loads(&beam.0, named, there, region)
            .map_err(|e| raise(py, &e))?
            .per(unit)
            .shown_in(system(units)?);
        Ok(Self(Arc::new(Referred { beam: beam.0.clone(), reference, requirements: Vec::new() })))
    }

    /// The reference of a target; the failure mode in doubt says what is to be reached.
    #[staticmethod]
    #[pyo3(signature = (target, units = "SI"))]
    fn of(
        #[pyo3(from_py_with = by_name::target)] target: &Target,
        #[pyo3(from_py_with = by_name::units)] units: &str,
    ) -> PyResult<Self> {
        let units = system(units)?;
        Ok(Self(Arc::new(Referred {
            beam: target.target.beam.clone(),
            reference: equivalent::Reference::from(&target.target).shown_in(units),
            requirements: Requirement::of_mode(target.target.mode),
        })))
    }

    /// The net actions of every term.
    #[getter]
    fn terms(&self, py: Python<'_>) -> PyResult<Py<PyDict>> {
        let dict = PyDict::new(py);
        for (name, actions) in self.reference.terms() {
            dict.set_item(name, Response(actions.clone()))?;
        }
        Ok(dict.unbind())
    }

    /// What acts before the test.
    #[getter]
    fn in_place(&self) -> Response {
        Response(self.reference.in_place().clone())
    }

    /// The region in doubt.
    #[getter]
    fn region(&self) -> (Quantity, Quantity) {
        let (from, to) = self.reference.region();
        (Quantity::of(from.into()), Quantity::of(to.into()))
    }

    /// The beam.
    #[getter]
    fn beam(&self) -> Beam {
        Beam(self.beam.clone())
    }

    /// What every value is counted for.
    #[getter]
    fn unit(&self) -> &'static str {
        self.reference.unit().word()
    }

    /// The units of words and pictures: "SI" or "US".
    #[getter]
    pub(crate) fn units(&self) -> &'static str {
        match self.reference.system() {
            System::Us => "US",
            _ => "SI",
        }
    }

    fn __repr__(&self) -> String {
        let names: Vec<&str> = self.reference.terms().iter().map(|t| t.0.as_str()).collect();
        let (from, to) = self.reference.region();
        let show =
            |x: Length| proofspan::units::Quantity::from(x).rounded(self.reference.system(), 6);
        format!(
            "Reference({}; region {} to {}, per {})",
            names.join(", "),
            show(from),
            show(to),
            self.unit()
        )
    }
}

/// A reference from a Reference or a Target.
pub(crate) fn referred(object: &Bound<'_, PyAny>) -> PyResult<Reference> {
    if let Ok(target) = object.cast::<Target>() {
        return Reference::of(target.get(), "SI");
    }
    object.cast::<Reference>().map(|r| r.get().clone()).map_err(|_| {
        let message = "a Reference or a Target says what is to be reached";
        refuse(slug::SOURCE_TYPE, "reference", message)
    })
}

/// A list of parts of a document, or one of them; all problems at once, under the name of the argument.
fn listed<T: Read>(py: Python<'_>, name: &str, objects: &Bound<'_, PyAny>) -> PyResult<Vec<T>> {
    let items = match from_python(objects, name)? {
        node @ Node { value: Value::List(_), .. } => node,
        one => Node::new(Value::List(vec![one])),
    };
    read_named(name, &items).map_err(|e| raise(py, &e))
}

/// A list of candidates.
pub(crate) fn candidates(py: Python<'_>, objects: &Bound<'_, PyAny>) -> PyResult<Vec<Candidate>> {
    if let Ok(list) = objects.cast::<PyList>() {
        let own = list.iter().map(|o| Some(o.cast::<documents::Candidate>().ok()?.get().0.clone()));
        if let Some(found) = own.collect::<Option<Vec<Candidate>>>() {
            return Ok(found);
        }
    }
    listed(py, "candidates", objects)
}

/// Objectives by their words alone, or as Objective; one or a list.
pub(crate) fn objectives(
    py: Python<'_>,
    argument: &str,
    objects: &Bound<'_, PyAny>,
) -> PyResult<Vec<Objective>> {
    let items = match from_python(objects, argument)?.value {
        Value::List(items) => items,
        value => vec![Node::new(value)],
    };
    let whole = |item: Node| match item.value {
        Value::Text(_) => Node::new(Value::Map(vec![Entry { key: "of".to_owned(), node: item }])),
        value => Node::new(value),
    };
    let items = items.into_iter().map(whole).collect();
    read_named(argument, &Node::new(Value::List(items))).map_err(|e| raise(py, &e))
}

/// A requirement that is an object already; reading it through a tree would say the same.
fn requirement(object: &Bound<'_, PyAny>) -> Option<Requirement> {
    macro_rules! of {
        ($($name:ident),* $(,)?) => {$(
            if let Ok(found) = object.cast::<documents::$name>() {
                return Some(Requirement::$name(found.get().0.clone()));
            }
        )*};
    }
    of!(Reach, Within, MomentLimit, ShearLimit, DeflectionLimit, ReactionLimit, ShearSpan);
    None
}

/// The requirements that are given, else those of the failure mode.
pub(crate) fn required(
    py: Python<'_>,
    reference: &Reference,
    requirements: Option<&Bound<'_, PyAny>>,
) -> PyResult<Vec<Requirement>> {
    if let Some(list) = requirements.and_then(|r| r.cast::<PyList>().ok())
        && let Some(found) = list.iter().map(|o| requirement(&o)).collect()
    {
        return Ok(found);
    }
    match requirements {
        Some(given) => listed(py, "requirements", given),
        None => Ok(reference.requirements.clone()),
    }
}
