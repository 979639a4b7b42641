//! How many carriers, and where? Candidates, grids, and the search over them, from Python.

use proofspan::equivalent::{self, Candidate, Goal, Objective, Requirement, Room, Stage};
use proofspan::source::{Entry, Node, Value, Write, read_node};
use pyo3::exceptions::PyValueError;
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyList};

use crate::beam::record;
use crate::certified::{Asked, Certified};
use crate::documents::{self, document};
use crate::errors::raise;
use crate::reference::{Ends, Reference, candidates, ends, objectives, referred, required};
use crate::tree::from_python;

/// What a search over numbers and places found.
#[pyclass(frozen, module = "proofspan")]
pub(crate) struct Searched {
    found: equivalent::Searched,
    stages: Vec<Part>,
    candidates: Vec<Candidate>,
    goals: Vec<Objective>,
}

/// Name, reference and requirements of a stage.
type Part = (String, Reference, Vec<Requirement>);

impl Searched {
    fn choice(&self, py: Python<'_>, choice: &equivalent::Choice) -> PyResult<Py<PyDict>> {
        let set: Vec<Candidate> =
            choice.candidates.iter().filter_map(|i| self.candidates.get(*i)).cloned().collect();
        let dict = PyDict::new(py);
        dict.set_item("number", choice.number)?;
        dict.set_item("candidates", choice.candidates.clone())?;
        dict.set_item("exact", choice.exact)?;
        dict.set_item("objectives", choice.objectives.clone())?;
        let stages = PyDict::new(py);
        for ((name, reference, requirements), found) in self.stages.iter().zip(&choice.stages) {
            let asked = Asked {
                reference: reference.clone(),
                candidates: set.clone(),
                requirements: requirements.clone(),
                goals: self.goals.clone(),
            };
            stages.set_item(name, Certified::of(asked, Box::new(found.clone())))?;
        }
        dict.set_item("stages", stages)?;
        Ok(dict.unbind())
    }
}

#[pymethods]
impl Searched {
    /// The best choice: "number", "candidates", "objectives", "exact", and in "stages" one Certified a
    /// stage; None where none will do.
    #[getter]
    fn best(&self, py: Python<'_>) -> PyResult<Option<Py<PyDict>>> {
        self.found.best.as_ref().map(|c| self.choice(py, c)).transpose()
    }

    /// The best choice of each number of carriers.
    #[getter]
    fn by_number(&self, py: Python<'_>) -> PyResult<Vec<Py<PyDict>>> {
        self.found.by_number.iter().map(|c| self.choice(py, c)).collect()
    }

    /// No choice of any number has a smaller first objective.
    #[getter]
    fn bound(&self) -> Option<f64> {
        self.found.bound
    }

    /// Why all candidates together will not do, in prose.
    #[getter]
    fn conflict(&self) -> Option<String> {
        self.found.conflict.as_ref().map(|c| c.words())
    }

    /// What was tried.
    #[getter]
    fn about(&self) -> String {
        self.found.about.clone()
    }

    fn __repr__(&self) -> String {
        let first = |c: &equivalent::Choice| c.objectives.first().copied().unwrap_or(f64::NAN);
        let shown: Vec<String> =
            self.found.by_number.iter().map(|c| format!("{}: {:.6}", c.number, first(c))).collect();
        format!("Searched({})", shown.join(", "))
    }
}

/// Stages: a Reference or Target alone, or a list of name, reference and requirements.
fn staged(
    py: Python<'_>,
    reference: &Bound<'_, PyAny>,
    requirements: Option<&Bound<'_, PyAny>>,
) -> PyResult<Vec<Part>> {
    if !reference.is_instance_of::<PyList>() {
        let reference = referred(reference)?;
        let requirements = required(py, &reference, requirements)?;
        return Ok(vec![("test".to_owned(), reference, requirements)]);
    }
    let given: Vec<(String, Bound<'_, PyAny>, Bound<'_, PyAny>)> = reference.extract()?;
    let mut parts = Vec::with_capacity(given.len());
    for (name, reference, requirements) in given {
        let reference = referred(&reference)?;
        let requirements =
            required(py, &reference, (!requirements.is_none()).then_some(&requirements))?;
        parts.push((name, reference, requirements));
    }
    if parts.is_empty() {
        return Err(PyValueError::new_err("no stage"));
    }
    Ok(parts)
}

fn stages(parts: &[Part]) -> Vec<Stage<'_>> {
    parts
        .iter()
        .map(|(name, r, q)| Stage { name, reference: &r.reference, requirements: q })
        .collect()
}

/// Chooses at most `most` of the candidates, with `spacing` clear between them: every choice is tried
/// where there are few enough, and the answer says so. `reference` is a Reference, a Target, or a
/// list of (name, reference, requirements) for stages that share the places.
#[pyfunction]
#[pyo3(signature = (reference, candidates, objectives, most = 3, spacing = None, requirements = None))]
pub(crate) fn search(
    py: Python<'_>,
    reference: &Bound<'_, PyAny>,
    candidates: &Bound<'_, PyAny>,
    objectives: &Bound<'_, PyAny>,
    most: usize,
    spacing: Option<&Bound<'_, PyAny>>,
    requirements: Option<&Bound<'_, PyAny>>,
) -> PyResult<Searched> {
    let parts = staged(py, reference, requirements)?;
    let candidates = self::candidates(py, candidates)?;
    let goals = self::objectives(py, objectives)?;
    let spacing = match spacing {
        Some(spacing) => {
            let fields = vec![("from", Node::text("0 m")), ("to", from_python(spacing, 1)?)];
            Some(record::<Ends>(py, fields)?.to)
        }
        None => None,
    };
    let Some(beam) = parts.first().map(|p| p.1.beam.clone()) else {
        return Err(PyValueError::new_err("no stage"));
    };
    let found = equivalent::search(&beam, &stages(&parts), &candidates, most, spacing, &goals)
        .map_err(|e| raise(py, &e))?;
    let goals = goals.into_iter().filter(|g| g.of != Goal::Carriers).collect();
    Ok(Searched { found, stages: parts, candidates, goals })
}

/// Moves candidates within their rooms until no step helps: a heuristic. A room is a pair of places for
/// the first contact, or `Room` with bounds of the spacing too. The answer is the candidates, and one
/// Certified or Conflict a stage.
#[pyfunction]
#[pyo3(signature = (reference, candidates, rooms, objectives, requirements = None))]
pub(crate) fn refine(
    py: Python<'_>,
    reference: &Bound<'_, PyAny>,
    candidates: &Bound<'_, PyAny>,
    rooms: Vec<Bound<'_, PyAny>>,
    objectives: &Bound<'_, PyAny>,
    requirements: Option<&Bound<'_, PyAny>>,
) -> PyResult<(Vec<documents::Candidate>, Vec<Py<PyAny>>)> {
    let parts = staged(py, reference, requirements)?;
    let candidates = self::candidates(py, candidates)?;
    let goals = self::objectives(py, objectives)?;
    let mut within: Vec<Room> = Vec::with_capacity(rooms.len());
    for room in &rooms {
        within.push(match room.extract::<(Bound<'_, PyAny>, Bound<'_, PyAny>)>() {
            Ok((from, to)) => {
                let (from, to) = ends(py, &from, &to)?;
                Room::between(from, to)
            }
            Err(_) => document(py, room)?,
        });
    }
    let Some(beam) = parts.first().map(|p| p.1.beam.clone()) else {
        return Err(PyValueError::new_err("no stage"));
    };
    let placed = equivalent::refine(&beam, &stages(&parts), &candidates, &within, &goals)
        .map_err(|e| raise(py, &e))?;
    let mut answers = Vec::with_capacity(parts.len());
    for ((_, reference, requirements), answer) in parts.into_iter().zip(placed.stages) {
        let candidates = placed.candidates.clone();
        let asked = Asked { reference, candidates, requirements, goals: goals.clone() };
        answers.push(asked.answered(py, answer)?);
    }
    Ok((placed.candidates.into_iter().map(documents::Candidate).collect(), answers))
}

/// One jack at a place, a point on the member.
#[pyfunction]
#[pyo3(signature = (at, plate = None, capacity = None, name = None))]
pub(crate) fn jack(
    py: Python<'_>,
    at: &Bound<'_, PyAny>,
    plate: Option<&Bound<'_, PyAny>>,
    capacity: Option<&Bound<'_, PyAny>>,
    name: Option<&Bound<'_, PyAny>>,
) -> PyResult<documents::Candidate> {
    let contact = Node::new(Value::List(vec![from_python(at, 1)?]));
    let mut fields = vec![("contacts", contact)];
    for (field, value) in [("plate", plate), ("capacity", capacity), ("name", name)] {
        if let Some(value) = value {
            fields.push((field, from_python(value, 1)?));
        }
    }
    record(py, fields).map(documents::Candidate)
}

/// A patch of bags, blocks or water between two places, uniform; `least` and `capacity` are its least
/// and largest force on one member unit.
#[pyfunction]
#[pyo3(signature = (from_, to, least = None, capacity = None, name = None))]
pub(crate) fn patch(
    py: Python<'_>,
    from_: &Bound<'_, PyAny>,
    to: &Bound<'_, PyAny>,
    least: Option<&Bound<'_, PyAny>>,
    capacity: Option<&Bound<'_, PyAny>>,
    name: Option<&Bound<'_, PyAny>>,
) -> PyResult<documents::Candidate> {
    let (a, b) = ends(py, from_, to)?;
    let Value::Map(mut fields) = Candidate::patch(a, b).write().value else {
        return Err(PyValueError::new_err("no patch"));
    };
    for (field, value) in [("least", least), ("capacity", capacity), ("name", name)] {
        if let Some(value) = value {
            fields.retain(|e| e.key != field);
            fields.push(Entry { key: field.to_owned(), node: from_python(value, 1)? });
        }
    }
    read_node(&Node::new(Value::Map(fields))).map(documents::Candidate).map_err(|e| raise(py, &e))
}

/// Candidates of one kind at places a step apart, the last at the end of the range.
#[pyfunction]
pub(crate) fn grid(
    py: Python<'_>,
    of: &Bound<'_, PyAny>,
    from_: &Bound<'_, PyAny>,
    to: &Bound<'_, PyAny>,
    step: &Bound<'_, PyAny>,
) -> PyResult<Vec<documents::Candidate>> {
    let of: Candidate = document(py, of)?;
    let ((from, to), (_, step)) = (ends(py, from_, to)?, ends(py, from_, step)?);
    let found = equivalent::grid(&of, from, to, step).map_err(|e| raise(py, &e))?;
    Ok(found.into_iter().map(documents::Candidate).collect())
}
