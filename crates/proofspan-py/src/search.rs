//! How many carriers, and where? Candidates, grids, and the search over them, from Python.

use proofspan::equivalent::{self, Candidate, Goal, Objective, Requirement, Room, Stage};
use proofspan::error::slug;
use proofspan::loads::Width;
use proofspan::source::{Entry, Node, Value, Write, read_node, write_json};
use proofspan::units::{AreaLoad, Length, LineLoad, UnitWeight};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyList, PyTuple};

use crate::beam::record;
use crate::by_name;
use crate::certified::{Asked, Certified, Steps};
use crate::documents::{self, named};
use crate::errors::{long, raise};
use crate::parts::part;
use crate::reference::{Reference, candidates, ends, objectives, referred, required};
use crate::refuse::{at, refuse, refused, text};
use crate::tree::{Walk, from_python, plain_python};

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
    /// The candidates of a choice.
    fn chosen(&self, choice: &equivalent::Choice) -> Vec<Candidate> {
        choice.candidates.iter().filter_map(|i| self.candidates.get(*i)).cloned().collect()
    }

    /// The question of one stage about these candidates.
    fn asked(&self, (_, reference, requirements): &Part, candidates: &[Candidate]) -> Asked {
        Asked {
            reference: reference.clone(),
            candidates: candidates.to_vec(),
            requirements: requirements.clone(),
            goals: self.goals.clone(),
        }
    }

    fn choice(&self, py: Python<'_>, choice: &equivalent::Choice) -> PyResult<Py<PyAny>> {
        let set = self.chosen(choice);
        let dict = PyDict::new(py);
        dict.set_item("number", choice.number)?;
        dict.set_item("candidates", choice.candidates.clone())?;
        dict.set_item("exact", choice.exact)?;
        dict.set_item("objectives", choice.objectives.clone())?;
        let stages = PyDict::new(py);
        for (part, found) in self.stages.iter().zip(&choice.stages) {
            let asked = self.asked(part, &set);
            stages.set_item(&part.0, Certified::of(asked, Box::new(found.clone())))?;
        }
        dict.set_item("stages", stages)?;
        Ok(part("Choice", dict)?.unbind())
    }
}

#[pymethods]
impl Searched {
    /// What does not change is its own copy.
    fn __copy__(slf: Bound<'_, Self>) -> Bound<'_, Self> {
        slf
    }

    fn __deepcopy__<'py>(slf: Bound<'py, Self>, _memo: &Bound<'_, PyAny>) -> Bound<'py, Self> {
        slf
    }

    /// The best choice: "number", "candidates", "objectives", "exact", and in "stages" one Certified a
    /// stage; None where none will do.
    #[getter]
    fn best(&self, py: Python<'_>) -> PyResult<Option<Py<PyAny>>> {
        self.found.best.as_ref().map(|c| self.choice(py, c)).transpose()
    }

    /// The best choice of each number of carriers.
    #[getter]
    fn by_number(&self, py: Python<'_>) -> PyResult<Vec<Py<PyAny>>> {
        self.found.by_number.iter().map(|c| self.choice(py, c)).collect()
    }

    /// No choice of any number has a smaller first objective.
    #[getter]
    fn bound(&self) -> Option<f64> {
        self.found.bound
    }

    /// Why all candidates together will not do, or the choice that comes nearest to the reference, in prose.
    #[getter]
    fn conflict(&self) -> Option<String> {
        self.found.conflict.as_ref().map(|c| c.words())
    }

    /// What was tried.
    #[getter]
    fn about(&self) -> String {
        self.found.about.clone()
    }

    /// The best choice with places and forces on steps, the places the same for every stage, verified
    /// again: one Certified a stage by its name; None where no rounding meets everything.
    fn buildable(
        &self,
        py: Python<'_>,
        place: &Bound<'_, PyAny>,
        force: &Bound<'_, PyAny>,
    ) -> PyResult<Option<Py<PyDict>>> {
        let steps: Steps = record(py, fields(&[("place", place), ("force", force)], &[])?)?;
        let (Some(best), Some(first)) = (&self.found.best, self.stages.first()) else {
            return Ok(None);
        };
        let set = self.chosen(best);
        let forces: Vec<_> = best.stages.iter().map(|s| s.forces.clone()).collect();
        let steps = (steps.place, steps.force);
        let stages = stages(&self.stages);
        let found =
            equivalent::buildable(&first.1.beam, &stages, &set, &forces, &self.goals, steps);
        let Some(built) = found.map_err(|e| raise(py, &e))? else { return Ok(None) };
        let dict = PyDict::new(py);
        for (part, stage) in self.stages.iter().zip(built.stages) {
            let asked = self.asked(part, &built.candidates);
            dict.set_item(&part.0, Certified::built(asked, stage))?;
        }
        Ok(Some(dict.unbind()))
    }

    /// Every result, by name; with `units`, "SI" or "US", as JSON can hold it.
    #[pyo3(signature = (units = None))]
    fn to_dict(
        &self,
        py: Python<'_>,
        #[pyo3(from_py_with = by_name::own_units)] units: Option<&str>,
    ) -> PyResult<Py<PyAny>> {
        plain_python(py, units, || self.found.write())
    }

    /// Every result as JSON text in SI.
    fn to_json(&self) -> String {
        write_json(&self.found.write())
    }

    fn __repr__(&self) -> String {
        let reached = |c: &equivalent::Choice| {
            let (goal, (_, reference, _)) = self.goals.first().zip(self.stages.first())?;
            Some(goal.reached(*c.objectives.first()?, &reference.reference))
        };
        let one =
            |c: &equivalent::Choice| format!("{}: {}", c.number, reached(c).unwrap_or_default());
        let shown: Vec<String> = self.found.by_number.iter().map(one).collect();
        let none = || self.found.about.clone();
        let shown = if shown.is_empty() { none() } else { shown.join(", ") };
        format!("Searched({shown})")
    }
}

/// Stages: a Reference or Target alone, or a list of name, reference and requirements.
fn staged(
    py: Python<'_>,
    reference: &Bound<'_, PyAny>,
    requirements: Option<&Bound<'_, PyAny>>,
) -> PyResult<Vec<Part>> {
    if !reference.is_instance_of::<PyList>() && !reference.is_instance_of::<PyTuple>() {
        let reference = referred(reference)?;
        let requirements = required(py, &reference, requirements)?;
        return Ok(vec![("test".to_owned(), reference, requirements)]);
    }
    let given = by_name::items(reference, "reference")?;
    let mut parts = Vec::with_capacity(given.len());
    for (i, stage) in given.iter().enumerate() {
        let path = format!("reference[{i}]");
        let stage = by_name::items(stage, &path)?;
        let [name, reference, requirements] = stage.as_slice() else {
            let message = "a stage is a name, a reference and its requirements";
            return Err(refuse(slug::SOURCE_TYPE, &path, message));
        };
        let name = text(name).map_err(|issue| refused(at(&path, issue)))?;
        let reference = referred(reference)?;
        let requirements =
            required(py, &reference, (!requirements.is_none()).then_some(requirements))?;
        parts.push((name, reference, requirements));
    }
    if parts.is_empty() {
        return Err(refuse(slug::EQUIVALENT_REFERENCE, "reference", "no stage"));
    }
    Ok(parts)
}

fn stages(parts: &[Part]) -> Vec<Stage<'_>> {
    parts
        .iter()
        .map(|(name, r, q)| Stage { name, reference: &r.reference, requirements: q })
        .collect()
}

/// Chooses at most `at_most` of the candidates, with `spacing` clear between them: every choice is tried
/// where there are few enough, and the answer says so. `reference` is a Reference, a Target, or a
/// list of (name, reference, requirements) for stages that share the places.
///
/// >>> import proofspan as ps
/// >>> beam = ps.Beam.simple("8 m", "30000 kN·m²")
/// >>> loads = {"live": ps.Load.line("0 m", "8 m", "5 kN/m")}
/// >>> reference = ps.Reference(beam, loads, region=("3 m", "5 m"))     # 40 kN·m in the middle
/// >>> found = ps.search(reference, ps.grid(ps.jack("1 m"), "1 m", "7 m", "1 m"), "total", at_most=2, requirements=[ps.Reach("moment")])
/// >>> found.best.number, found.best.exact
/// (1, True)
#[pyfunction]
#[pyo3(signature = (reference, candidates, objectives, at_most = 3, spacing = None, requirements = None))]
pub(crate) fn search(
    py: Python<'_>,
    reference: &Bound<'_, PyAny>,
    candidates: &Bound<'_, PyAny>,
    objectives: &Bound<'_, PyAny>,
    #[pyo3(from_py_with = by_name::at_most)] at_most: usize,
    spacing: Option<&Bound<'_, PyAny>>,
    requirements: Option<&Bound<'_, PyAny>>,
) -> PyResult<Searched> {
    let parts = staged(py, reference, requirements)?;
    let candidates = self::candidates(py, candidates)?;
    let goals = self::objectives(py, "objectives", objectives)?;
    let spacing = match spacing {
        Some(spacing) => Some(crate::column::place(spacing, "spacing")?),
        None => None,
    };
    let Some(beam) = parts.first().map(|p| p.1.beam.clone()) else {
        return Err(refuse(slug::EQUIVALENT_REFERENCE, "reference", "no stage"));
    };
    let found = long(py, || {
        equivalent::search(&beam, &stages(&parts), &candidates, at_most, spacing, &goals)
    })?;
    let goals = goals.into_iter().filter(|g| g.of != Goal::Carriers).collect();
    Ok(Searched { found, stages: parts, candidates, goals })
}

/// Moves candidates within their rooms until no step helps: a heuristic. A room is a pair of places for
/// the first contact, or `Room` with bounds of the spacing too. The answer is the candidates, and one
/// Certified or Conflict a stage.
///
/// >>> import proofspan as ps
/// >>> beam = ps.Beam.simple("8 m", "30000 kN·m²")
/// >>> loads = {"live": ps.Load.line("0 m", "8 m", "5 kN/m")}
/// >>> reference = ps.Reference(beam, loads, region=("3 m", "5 m"))     # 40 kN·m in the middle
/// >>> placed, (answer,) = ps.refine(reference, [ps.jack("2 m"), ps.jack("6 m")], [ps.Room("1 m", "3.5 m"), ps.Room("4.5 m", "7 m")], "total", requirements=[ps.Reach("moment")])
/// >>> answer.confirmation.violation < 1e-6
/// True
#[pyfunction]
#[pyo3(signature = (reference, candidates, rooms, objectives, requirements = None))]
pub(crate) fn refine(
    py: Python<'_>,
    reference: &Bound<'_, PyAny>,
    candidates: &Bound<'_, PyAny>,
    #[pyo3(from_py_with = by_name::rooms)] rooms: Vec<Bound<'_, PyAny>>,
    objectives: &Bound<'_, PyAny>,
    requirements: Option<&Bound<'_, PyAny>>,
) -> PyResult<(Vec<documents::Candidate>, Vec<Py<PyAny>>)> {
    let parts = staged(py, reference, requirements)?;
    let candidates = self::candidates(py, candidates)?;
    let goals = self::objectives(py, "objectives", objectives)?;
    let mut within: Vec<Room> = Vec::with_capacity(rooms.len());
    for (i, room) in rooms.iter().enumerate() {
        let name = format!("rooms[{i}]");
        within.push(match room.extract::<(Bound<'_, PyAny>, Bound<'_, PyAny>)>() {
            Ok((from, to)) => {
                let (from, to) = ends(&name, &from, &to)?;
                Room::between(from, to)
            }
            Err(_) => named(py, room, &name)?,
        });
    }
    let Some(beam) = parts.first().map(|p| p.1.beam.clone()) else {
        return Err(refuse(slug::EQUIVALENT_REFERENCE, "reference", "no stage"));
    };
    let placed =
        long(py, || equivalent::refine(&beam, &stages(&parts), &candidates, &within, &goals))?;
    let mut answers = Vec::with_capacity(parts.len());
    for ((_, reference, requirements), answer) in parts.into_iter().zip(placed.stages) {
        let candidates = placed.candidates.clone();
        let asked = Asked { reference, candidates, requirements, goals: goals.clone() };
        answers.push(asked.answered(py, answer)?);
    }
    Ok((placed.candidates.into_iter().map(documents::Candidate).collect(), answers))
}

/// One jack at a place, a point on the member; other fields of Candidate by name: plate, capacity, least,
/// cost, source, piston, name, clear (the least clear distance to every other carrier in use).
///
/// >>> import proofspan as ps
/// >>> ps.jack("3 m", capacity="200 kN", plate="200 mm").contacts
/// [3 m (Length)]
#[pyfunction]
#[pyo3(signature = (at, **fields))]
pub(crate) fn jack(
    py: Python<'_>,
    at: &Bound<'_, PyAny>,
    fields: Option<&Bound<'_, PyDict>>,
) -> PyResult<documents::Candidate> {
    let mut walk = Walk::default();
    let contacts = Node::new(Value::List(vec![walk.node(at, "at")]));
    let mut all = vec![Entry { key: "contacts".to_owned(), node: contacts }];
    for (key, value) in fields.into_iter().flatten() {
        let key = text(&key).map_err(refused)?;
        let node = walk.node(&value, &key);
        all.push(Entry { key, node });
    }
    walk.done()?;
    read_node(&Node::new(Value::Map(all))).map(documents::Candidate).map_err(|e| raise(py, &e))
}

/// A candidate with some fields exchanged.
fn with(
    py: Python<'_>,
    candidate: &Candidate,
    changes: &[(&str, Option<&Bound<'_, PyAny>>)],
) -> PyResult<documents::Candidate> {
    let Value::Map(mut fields) = candidate.write().value else {
        return Err(refuse(slug::EQUIVALENT_CANDIDATE, "", "no patch"));
    };
    for (field, value) in changes {
        if let Some(value) = value {
            fields.retain(|e| e.key != *field);
            fields.push(Entry { key: (*field).to_owned(), node: from_python(value, field)? });
        }
    }
    read_node(&Node::new(Value::Map(fields))).map(documents::Candidate).map_err(|e| raise(py, &e))
}

/// A patch of bags or blocks between two places, uniform; `at_least` and `capacity` are its least and
/// largest force on one member unit. See `stack` for area loads and `basin` for water.
///
/// >>> import proofspan as ps
/// >>> f"{ps.patch('2 m', '4 m', capacity='30 kN').capacity:.0f kN}"
/// '30 kN'
#[pyfunction]
#[pyo3(signature = (from_, to, at_least = None, capacity = None, name = None))]
pub(crate) fn patch(
    py: Python<'_>,
    from_: &Bound<'_, PyAny>,
    to: &Bound<'_, PyAny>,
    at_least: Option<&Bound<'_, PyAny>>,
    capacity: Option<&Bound<'_, PyAny>>,
    name: Option<&Bound<'_, PyAny>>,
) -> PyResult<documents::Candidate> {
    let (a, b) = ends("", from_, to)?;
    with(
        py,
        &Candidate::patch(a, b),
        &[("at_least", at_least), ("capacity", capacity), ("name", name)],
    )
}

/// Named fields, those that may be left out after the others.
pub(crate) fn fields(
    given: &[(&'static str, &Bound<'_, PyAny>)],
    may_be: &[(&'static str, Option<&Bound<'_, PyAny>>)],
) -> PyResult<Vec<(&'static str, Node)>> {
    let there = given.iter().map(|(name, value)| (*name, Some(*value)));
    let all = there.chain(may_be.iter().copied());
    let mut walk = Walk::default();
    let nodes = all.filter_map(|(name, value)| Some((name, walk.node(value?, name)))).collect();
    walk.done()?;
    Ok(nodes)
}

proofspan::record! {
    /// A stack by its area load.
    pub struct StackFields {
        /// Left edge.
        from: Length,
        /// Right edge.
        to: Length,
        /// Width of the member unit.
        width: Length where Width,
        /// Least area load where it is used.
        at_least: AreaLoad = AreaLoad::from_si(0.0),
        /// Largest area load.
        at_most: AreaLoad,
    }
}

/// A stack of bags or blocks on a width of the member unit, by its area load: `at_least` where it is used
/// at all (one layer), `at_most` with all its layers.
///
/// >>> import proofspan as ps
/// >>> f"{ps.stack('2 m', '4 m', '1.5 m', '10 kPa').capacity:.0f kN}"      # 10 kPa * 1.5 m * 2 m
/// '30 kN'
#[pyfunction]
#[pyo3(signature = (from_, to, width, at_most, at_least = None, name = None))]
pub(crate) fn stack(
    py: Python<'_>,
    from_: &Bound<'_, PyAny>,
    to: &Bound<'_, PyAny>,
    width: &Bound<'_, PyAny>,
    at_most: &Bound<'_, PyAny>,
    at_least: Option<&Bound<'_, PyAny>>,
    name: Option<&Bound<'_, PyAny>>,
) -> PyResult<documents::Candidate> {
    let given = [("from", from_), ("to", to), ("width", width), ("at_most", at_most)];
    let f: StackFields = record(py, fields(&given, &[("at_least", at_least)])?)?;
    let stack = Candidate::stacked(f.from, f.to, f.width, f.at_most, f.at_least);
    with(py, &stack.map_err(|e| raise(py, &e))?, &[("name", name)])
}

proofspan::record! {
    /// A basin by its depth.
    pub struct BasinFields {
        /// Left edge.
        from: Length,
        /// Right edge.
        to: Length,
        /// Width of the member unit.
        width: Length where Width,
        /// Least depth where it is used.
        at_least: Length = Length::ZERO,
        /// Largest depth.
        at_most: Length,
        /// Unit weight of the fluid.
        weight: UnitWeight = UnitWeight::from_si(9810.0),
    }
}

/// A basin on a width of the member unit, by the depth of its fluid, water (9.81 kN/m³) unless `weight` is
/// given. On a member that gives way the depth differs along it: see `ponding`.
///
/// >>> import proofspan as ps
/// >>> f"{ps.basin('2 m', '4 m', '1.5 m', '1 m').capacity:.2f kN}"          # 9.81 kN/m³ * 1 m * 1.5 m * 2 m
/// '29.43 kN'
#[pyfunction]
#[pyo3(signature = (from_, to, width, at_most, at_least = None, weight = None, name = None))]
#[expect(clippy::too_many_arguments, reason = "arguments by name")]
pub(crate) fn basin(
    py: Python<'_>,
    from_: &Bound<'_, PyAny>,
    to: &Bound<'_, PyAny>,
    width: &Bound<'_, PyAny>,
    at_most: &Bound<'_, PyAny>,
    at_least: Option<&Bound<'_, PyAny>>,
    weight: Option<&Bound<'_, PyAny>>,
    name: Option<&Bound<'_, PyAny>>,
) -> PyResult<documents::Candidate> {
    let given = [("from", from_), ("to", to), ("width", width), ("at_most", at_most)];
    let f: BasinFields =
        record(py, fields(&given, &[("at_least", at_least), ("weight", weight)])?)?;
    let basin = Candidate::filled(f.from, f.to, f.width, (f.at_most, f.at_least), f.weight);
    with(py, &basin.map_err(|e| raise(py, &e))?, &[("name", name)])
}

proofspan::record! {
    /// A line load that is there.
    pub struct GivenFields {
        /// Left edge.
        from: Length,
        /// Right edge.
        to: Length,
        /// Its intensity.
        q: LineLoad,
    }
}

/// A uniform line load that is there in any case, `q` down positive: its force is not searched.
///
/// >>> import proofspan as ps
/// >>> ps.given("2 m", "4 m", "5 kN/m").source
#[pyfunction]
#[pyo3(signature = (from_, to, q, name = None))]
pub(crate) fn given(
    py: Python<'_>,
    from_: &Bound<'_, PyAny>,
    to: &Bound<'_, PyAny>,
    q: &Bound<'_, PyAny>,
    name: Option<&Bound<'_, PyAny>>,
) -> PyResult<documents::Candidate> {
    let f: GivenFields = record(py, fields(&[("from", from_), ("to", to), ("q", q)], &[])?)?;
    with(py, &Candidate::given(f.from, f.to, f.q), &[("name", name)])
}

/// Candidates of one kind at places a step apart, the last at the end of the range: places of the
/// first contact, or of the left edge of a patch.
///
/// >>> import proofspan as ps
/// >>> [f"{jack.contacts[0]:.1f m}" for jack in ps.grid(ps.jack("1 m"), "1 m", "3 m", "1 m")]
/// ['1.0 m', '2.0 m', '3.0 m']
#[pyfunction]
pub(crate) fn grid(
    py: Python<'_>,
    of: &Bound<'_, PyAny>,
    from_: &Bound<'_, PyAny>,
    to: &Bound<'_, PyAny>,
    step: &Bound<'_, PyAny>,
) -> PyResult<Vec<documents::Candidate>> {
    let of: Candidate = named(py, of, "of")?;
    let ((from, to), step) = (ends("", from_, to)?, crate::column::place(step, "step")?);
    let found = equivalent::grid(&of, from, to, step).map_err(|e| raise(py, &e))?;
    Ok(found.into_iter().map(documents::Candidate).collect())
}
