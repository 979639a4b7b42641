//! Certified layouts from Python: the best forces and their proof, or why there are none.

use proofspan::beam;
use proofspan::equivalent::{
    self, Answer, BasisWord, BuiltStage, Candidate, Confirmation, Deviations, Goal, Objective,
    Optimum, Problem, Requirement, Stage,
};
use proofspan::error::slug;
use proofspan::source::{Node, Value, Write, read_named, write_json};
use proofspan::units::{Force, Length, LoadBasis, Net};
use pyo3::IntoPyObjectExt;
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyString};

use crate::beam::{Response, record};
use crate::by_name;
use crate::documents;
use crate::errors::{long, raise};
use crate::parts::exactly;
use crate::quantity::Quantity;
use crate::reference::{Reference, candidates, objectives, referred, required};
use crate::refuse::{drawn, refuse, system};
use crate::search::fields;
use crate::steps::{basis, effect};
use crate::tree::{Walk, plain_python, to_python};
use crate::working::{Working, working};

/// Forces of a layout with what they reach and, where they were searched, the proof that none are
/// better. Every force is per member unit and net.
#[pyclass(frozen, eq, module = "proofspan")]
#[derive(Clone, PartialEq)]
pub(crate) struct Certified {
    asked: Asked,
    found: Found,
}

/// Forces that were searched, or rounded ones.
#[derive(Clone, PartialEq)]
enum Found {
    Optimum(Box<Optimum>),
    Built(Box<BuiltStage>),
}

/// The question behind an answer.
#[derive(Clone, PartialEq)]
pub(crate) struct Asked {
    pub(crate) reference: Reference,
    pub(crate) candidates: Vec<Candidate>,
    pub(crate) requirements: Vec<Requirement>,
    pub(crate) goals: Vec<Objective>,
}

impl Certified {
    pub(crate) const fn of(asked: Asked, found: Box<Optimum>) -> Self {
        Self { asked, found: Found::Optimum(found) }
    }

    /// The rounded forces of one stage on the candidates of all.
    pub(crate) fn built(asked: Asked, found: BuiltStage) -> Self {
        Self { asked, found: Found::Built(Box::new(found)) }
    }

    fn optimum(&self) -> Option<&Optimum> {
        match &self.found {
            Found::Optimum(found) => Some(found),
            Found::Built(_) => None,
        }
    }

    fn parts(&self) -> (&[Net<Force>], &beam::Response, &Confirmation) {
        match &self.found {
            Found::Optimum(found) => (&found.forces, &found.response, &found.confirmation),
            Found::Built(found) => (&found.forces, &found.response, &found.confirmation),
        }
    }

    /// Every result with the question it answers.
    fn tree(&self) -> Node {
        let (forces, _, confirmation) = self.parts();
        let named = self.asked.candidates.iter().zip(forces).map(|(c, f)| {
            Node::map(vec![
                ("name", self.asked.reference.reference.label_of(c).write()),
                ("force", f.write()),
                ("candidate", c.write()),
            ])
        });
        let goals = self.asked.goals.iter().zip(self.attained());
        let goals = goals.map(|(goal, value)| {
            Node::map(vec![("what", goal.words().write()), ("value", worth(goal, *value))])
        });
        let reference = &self.asked.reference.reference;
        let words = self.asked.requirements.iter().map(|r| r.words(reference).write());
        let mut entries = vec![
            ("unit", reference.unit().word().to_owned().write()),
            ("forces", Node::new(Value::List(named.collect()))),
            ("objectives", Node::new(Value::List(goals.collect()))),
            ("requirements", Node::new(Value::List(words.collect()))),
            ("confirmation", confirmation.write()),
        ];
        if let Some(found) = self.optimum() {
            entries.push(("unique", found.unique.write()));
            entries.push(("freedom", found.freedom.write()));
            entries.push(("certificates", found.certificates.write()));
        }
        Node::map(entries)
    }

    /// What the objectives reached; empty for a rounded layout.
    fn attained(&self) -> &[f64] {
        self.optimum().map_or(&[][..], |o| o.objectives.as_slice())
    }

    /// Objectives as words with units.
    fn reached_words(&self) -> Vec<String> {
        let pairs = self.asked.goals.iter().zip(self.attained());
        pairs.map(|(g, v)| g.reached(*v, &self.asked.reference.reference)).collect()
    }
}

#[pymethods]
impl Certified {
    /// What does not change is its own copy.
    fn __copy__(slf: Bound<'_, Self>) -> Bound<'_, Self> {
        slf
    }

    fn __deepcopy__<'py>(slf: Bound<'py, Self>, _memo: &Bound<'_, PyAny>) -> Bound<'py, Self> {
        slf
    }

    /// The name of each candidate and its force on one member unit.
    #[getter]
    fn forces(&self) -> Vec<(String, Quantity)> {
        self.asked.named(self.parts().0)
    }

    /// The candidates.
    #[getter]
    fn candidates(&self) -> Vec<documents::Candidate> {
        self.asked.candidates.iter().cloned().map(documents::Candidate).collect()
    }

    /// Each objective in words with what it reached: a force per member unit, or a plain ratio for an
    /// overshoot; empty for a rounded layout.
    #[getter]
    fn objectives(&self, py: Python<'_>) -> PyResult<Vec<(String, Py<PyAny>)>> {
        let pairs = self.asked.goals.iter().zip(self.attained());
        pairs.map(|(goal, v)| Ok((goal.words(), to_python(py, &worth(goal, *v))?))).collect()
    }

    /// For a rounded layout the sum of its forces over the sum before; None for one that was searched.
    #[getter]
    fn growth(&self) -> Option<f64> {
        match &self.found {
            Found::Optimum(_) => None,
            Found::Built(found) => Some(found.growth),
        }
    }

    /// Whether no other forces are as good; None for a rounded layout.
    #[getter]
    fn unique(&self) -> Option<bool> {
        self.optimum().map(|o| o.unique)
    }

    /// The least and the largest force of each candidate at equal objectives; None where not looked for.
    #[getter]
    fn freedom(&self) -> Vec<Option<(Quantity, Option<Quantity>)>> {
        let of = |f: &equivalent::Freedom| {
            (Quantity::of(f.least.0.into()), f.most.map(|m| Quantity::of(m.0.into())))
        };
        let all = self.optimum().map_or(&[][..], |o| o.freedom.as_slice());
        all.iter().map(|f| f.as_ref().map(of)).collect()
    }

    /// One certificate an objective: unknowns, values, cost, rows "a·p >= b" with multipliers, in SI. The
    /// sum of multiplier times b is the bound: no forces cost less, since multiplier times a adds up to
    /// no more than the cost, entry by entry.
    #[getter]
    fn certificates(&self, py: Python<'_>) -> PyResult<Py<PyAny>> {
        let none = Vec::new();
        exactly(py, "Certificate", self.optimum().map_or(&none, |o| &o.certificates))
    }

    /// What the separate verifier found for each requirement.
    #[getter]
    fn confirmation(&self, py: Python<'_>) -> PyResult<Py<PyAny>> {
        exactly(py, "Confirmation", self.parts().2)
    }

    /// The actions of the forces alone.
    #[getter]
    fn response(&self) -> Response {
        Response(self.parts().1.clone())
    }

    /// What was to be reproduced.
    #[getter]
    fn reference(&self) -> Reference {
        self.asked.reference.clone()
    }

    /// The largest test over reference of "shear" or "moment" in the region in doubt, "net" or
    /// "total"; None where the test is nowhere in the sign of the reference.
    #[pyo3(signature = (effect = "moment", basis = "net"))]
    fn overshoot(
        &self,
        py: Python<'_>,
        #[pyo3(from_py_with = by_name::effect)] effect: &str,
        #[pyo3(from_py_with = by_name::basis)] basis: &str,
    ) -> PyResult<Option<f64>> {
        let effect = self::effect(effect)?;
        let basis = match self::basis(basis)? {
            LoadBasis::Total => BasisWord::Total,
            _ => BasisWord::Net,
        };
        let reference = &self.asked.reference.reference;
        let region = reference.region();
        let found = equivalent::largest_ratio(reference, self.parts().1, effect, basis, region);
        Ok(found.map_err(|e| raise(py, &e))?.map(|o| o.ratio.value()))
    }

    /// The actions that the usual failure modes go by, and whether the test reaches them.
    fn reached(&self, py: Python<'_>) -> PyResult<Py<PyAny>> {
        let reference = &self.asked.reference;
        let all = equivalent::reached(&reference.beam, &reference.reference, self.parts().1);
        exactly(py, "ReachedAction", &all)
    }

    /// Notes on the layout: what it does not test, where nearly nothing is asked, struts into the
    /// bearing. Refuses a shear test with a load nearer to the bearing than half the effective depth.
    #[pyo3(signature = (effective_depth = None, bearing_length = None))]
    fn warnings(
        &self,
        py: Python<'_>,
        effective_depth: Option<&Bound<'_, PyAny>>,
        bearing_length: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Py<PyAny>> {
        let depths = [("effective_depth", effective_depth), ("bearing_length", bearing_length)];
        let depth: Depths = record(py, fields(&[], &depths)?)?;
        let depth = depth.effective_depth.map(|d| (d, depth.bearing_length));
        let asked = &self.asked;
        let found = equivalent::warnings(
            &asked.reference.beam,
            &asked.reference.reference,
            &asked.requirements,
            (&asked.candidates, self.parts().0),
            self.parts().1,
            depth,
        );
        exactly(py, "LayoutWarnings", &found.map_err(|e| raise(py, &e))?)
    }

    /// The layout with places and forces on steps, verified again; None where no rounding meets
    /// everything. `growth` of the answer tells what rounding adds. With several stages see
    /// `Searched.buildable`.
    fn buildable(
        &self,
        py: Python<'_>,
        place: &Bound<'_, PyAny>,
        force: &Bound<'_, PyAny>,
    ) -> PyResult<Option<Self>> {
        let steps: Steps = record(py, fields(&[("place", place), ("force", force)], &[])?)?;
        let asked = &self.asked;
        let stage = Stage {
            name: "test",
            reference: &asked.reference.reference,
            requirements: &asked.requirements,
        };
        let found = equivalent::buildable(
            &asked.reference.beam,
            &[stage],
            &asked.candidates,
            &[self.parts().0.to_vec()],
            &asked.goals,
            (steps.place, steps.force),
        );
        let Some(built) = found.map_err(|e| raise(py, &e))? else { return Ok(None) };
        let asked = Asked { candidates: built.candidates, ..asked.clone() };
        Ok(built.stages.into_iter().next().map(|stage| Self::built(asked, stage)))
    }

    /// The layout where supports, stiffness, places and forces are not quite as drawn. Takes
    /// Deviations, or its fields by name.
    #[pyo3(signature = (deviations = None, **fields))]
    fn as_built(
        &self,
        py: Python<'_>,
        deviations: Option<&Bound<'_, PyAny>>,
        fields: Option<&Bound<'_, PyDict>>,
    ) -> PyResult<Py<PyAny>> {
        let deviations: Deviations = match (deviations, fields) {
            (Some(deviations), None) => documents::named(py, deviations, "deviations")?,
            (None, Some(fields)) => documents::named(py, fields.as_any(), "")?,
            _ => {
                let message =
                    "deviations come as Deviations or as fields by name, not as both or neither";
                return Err(refuse(slug::SOURCE_CONTRADICTION, "deviations", message));
            }
        };
        let asked = &self.asked;
        let found = long(py, || {
            equivalent::as_built(
                &asked.reference.beam,
                &asked.reference.reference,
                &asked.requirements,
                &asked.candidates,
                self.parts().0,
                &deviations,
            )
        });
        exactly(py, "AsBuilt", &found?)
    }

    /// What one further jack would buy at each of these places, the best first.
    fn further(
        &self,
        py: Python<'_>,
        places: &Bound<'_, PyAny>,
    ) -> PyResult<Vec<(Quantity, Py<PyAny>)>> {
        self.asked.further(py, places)
    }

    /// What any one carrier would buy at each of these places in the place of its own, the best first:
    /// its index, the place, the answer.
    fn elsewhere(
        &self,
        py: Python<'_>,
        places: &Bound<'_, PyAny>,
    ) -> PyResult<Vec<(usize, Quantity, Py<PyAny>)>> {
        self.asked.elsewhere(py, places)
    }

    /// Every result, by name; with `units`, "SI" or "US", as JSON can hold it.
    #[pyo3(signature = (units = None))]
    fn to_dict(
        &self,
        py: Python<'_>,
        #[pyo3(from_py_with = by_name::own_units)] units: Option<&str>,
    ) -> PyResult<Py<PyAny>> {
        plain_python(py, units, || self.tree())
    }

    /// Every result as JSON text in SI.
    fn to_json(&self) -> String {
        write_json(&self.tree())
    }

    /// Why no forces are better, in "SI" or "US" units: of every objective the bound and the cost, row by
    /// row; empty for a rounded layout.
    #[pyo3(signature = (units = "SI"))]
    fn working(&self, #[pyo3(from_py_with = by_name::units)] units: &str) -> PyResult<Working> {
        let of = self.optimum().map(Optimum::working);
        working(of.unwrap_or_default(), units)
    }

    /// Draws reference and test "shear" or "moment", net, the region shaded, the overshoot on both
    /// bases; in the units of the reference unless others are said. Returns the Axes.
    #[pyo3(signature = (effect = "moment", units = None, ax = None))]
    fn plot(
        slf: &Bound<'_, Self>,
        #[pyo3(from_py_with = by_name::effect)] effect: &str,
        #[pyo3(from_py_with = by_name::own_units)] units: Option<&str>,
        ax: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Py<PyAny>> {
        self::effect(effect)?;
        let units = units.unwrap_or_else(|| slf.get().asked.reference.units());
        system(units)?;
        drawn(slf.py(), "certified", (slf, effect, units, ax))
    }

    fn __repr__(&self) -> String {
        let used =
            self.asked.candidates.iter().zip(self.parts().0).filter(|(_, f)| f.0 > Force::ZERO);
        let shown: Vec<String> =
            used.map(|(c, f)| self.asked.reference.reference.force_of(c, *f)).collect();
        let goals = match self.reached_words() {
            none if none.is_empty() => {
                format!("rounded, {:.6} times the sum before", self.growth().unwrap_or(1.0))
            }
            goals => goals.join(", "),
        };
        format!(
            "Certified(net {}: {}; {goals}; confirmed; see warnings() and as_built() before building)",
            self.asked.reference.reference.unit(),
            shown.join(", "),
        )
    }
}

proofspan::record! {
    /// Depths.
    pub struct Depths {
        /// Distance of the tension steel from the compressed face.
        effective_depth: Option<Length>,
        /// Length of the bearing along the member.
        bearing_length: Length = Length::ZERO,
    }
}

proofspan::record! {
    /// Rounding steps.
    pub struct Steps {
        /// Of places.
        place: Length,
        /// Of forces.
        force: Force,
    }
}

/// Requirements that no forces of these candidates meet together.
#[pyclass(frozen, eq, module = "proofspan")]
#[derive(Clone, PartialEq)]
pub(crate) struct Conflict {
    asked: Asked,
    conflict: equivalent::Conflict,
}

#[pymethods]
impl Conflict {
    /// What does not change is its own copy.
    fn __copy__(slf: Bound<'_, Self>) -> Bound<'_, Self> {
        slf
    }

    fn __deepcopy__<'py>(slf: Bound<'py, Self>, _memo: &Bound<'_, PyAny>) -> Bound<'py, Self> {
        slf
    }

    /// Why no forces will do, in "SI" or "US" units: what the rows of the contradiction add up to.
    #[pyo3(signature = (units = "SI"))]
    fn working(&self, #[pyo3(from_py_with = by_name::units)] units: &str) -> PyResult<Working> {
        working(self.conflict.working(), units)
    }

    /// Every result, by name; with `units`, "SI" or "US", as JSON can hold it.
    #[pyo3(signature = (units = None))]
    fn to_dict(
        &self,
        py: Python<'_>,
        #[pyo3(from_py_with = by_name::own_units)] units: Option<&str>,
    ) -> PyResult<Py<PyAny>> {
        plain_python(py, units, || self.conflict.write())
    }

    /// Every result as JSON text in SI.
    fn to_json(&self) -> String {
        write_json(&self.conflict.write())
    }

    /// The conflict in prose, with numbers.
    #[getter]
    fn words(&self) -> String {
        self.conflict.words()
    }

    /// The smallest set found: leave out any one, and the rest can be met.
    #[getter]
    fn requirements(&self) -> Vec<String> {
        self.conflict.requirements.clone()
    }

    /// The library's own bounds on forces that take part: whose force, and the largest that was looked
    /// at. Empty where no forces of any size will do.
    #[getter]
    fn bounds(&self) -> Vec<(String, Quantity)> {
        let of = |b: &equivalent::OwnBound| (b.of.clone(), Quantity::of(b.most.0.into()));
        self.conflict.bounds.iter().map(of).collect()
    }

    /// The contradiction: rows with multipliers, in SI.
    #[getter]
    fn certificate(&self, py: Python<'_>) -> PyResult<Py<PyAny>> {
        exactly(py, "Certificate", &self.conflict.certificate)
    }

    /// What each requirement would have to give.
    #[getter]
    fn relaxations(&self, py: Python<'_>) -> PyResult<Py<PyAny>> {
        exactly(py, "Relaxation", &self.conflict.relaxations)
    }

    /// What one further jack would buy at each of these places, the best first.
    fn further(
        &self,
        py: Python<'_>,
        places: &Bound<'_, PyAny>,
    ) -> PyResult<Vec<(Quantity, Py<PyAny>)>> {
        self.asked.further(py, places)
    }

    /// What any one carrier would buy at each of these places in the place of its own, the best first:
    /// its index, the place, the answer.
    fn elsewhere(
        &self,
        py: Python<'_>,
        places: &Bound<'_, PyAny>,
    ) -> PyResult<Vec<(usize, Quantity, Py<PyAny>)>> {
        self.asked.elsewhere(py, places)
    }

    fn __repr__(&self) -> String {
        format!("Conflict({})", self.conflict.requirements.join("; "))
    }

    fn __str__(&self) -> String {
        self.conflict.words()
    }
}

/// What an objective reached: a plain ratio for an overshoot, else a force.
fn worth(goal: &Objective, value: f64) -> Node {
    match goal.of {
        Goal::Overshoot => value.write(),
        _ => goal.amount(value).write(),
    }
}

impl Asked {
    fn named(&self, forces: &[Net<Force>]) -> Vec<(String, Quantity)> {
        let pairs = self.candidates.iter().zip(forces);
        let label = |c: &Candidate| self.reference.reference.label_of(c);
        pairs.map(|(c, f)| (label(c), Quantity::of(f.0.into()))).collect()
    }

    /// The answer as a Certified or a Conflict.
    pub(crate) fn answered(self, py: Python<'_>, answer: Answer) -> PyResult<Py<PyAny>> {
        match answer {
            Answer::Found(found) => Certified::of(self, found).into_py_any(py),
            Answer::Conflict(conflict) => {
                Conflict { asked: self, conflict: *conflict }.into_py_any(py)
            }
        }
    }

    fn problem(&self) -> Result<Problem<'_>, proofspan::error::Error> {
        let reference = &self.reference;
        Problem::new(&reference.beam, &reference.reference, &self.candidates, &self.requirements)
    }

    fn further(
        &self,
        py: Python<'_>,
        places: &Bound<'_, PyAny>,
    ) -> PyResult<Vec<(Quantity, Py<PyAny>)>> {
        let places = lengths(places)?;
        let found = long(py, || self.problem().and_then(|p| p.further(&places, &self.goals)))?;
        let mut all = Vec::new();
        for one in found {
            let mut more = self.clone();
            more.candidates.push(Candidate::jack(one.at));
            all.push((Quantity::of(one.at.into()), more.answered(py, one.answer)?));
        }
        Ok(all)
    }

    fn elsewhere(
        &self,
        py: Python<'_>,
        places: &Bound<'_, PyAny>,
    ) -> PyResult<Vec<(usize, Quantity, Py<PyAny>)>> {
        let places = lengths(places)?;
        let found = long(py, || self.problem().and_then(|p| p.elsewhere(&places, &self.goals)))?;
        let mut all = Vec::new();
        for one in found {
            let mut other = self.clone();
            if let Some(place) = other.candidates.get_mut(one.candidate) {
                *place = place.standing(one.at);
            }
            let at = Quantity::of(one.at.into());
            all.push((one.candidate, at, other.answered(py, one.answer)?));
        }
        Ok(all)
    }
}

fn lengths(places: &Bound<'_, PyAny>) -> PyResult<Vec<Length>> {
    Ok(crate::column::places(places, "places")?.si.into_iter().map(Length::from_si).collect())
}

/// Finds forces of given candidates that meet every requirement and make the objectives small, the
/// first before the second: "peak", "total", "uplift", or `Objective("overshoot", "moment", "net")`.
/// Every candidate is used, so a least force holds for each that has one; `search` leaves candidates
/// out. The answer is Certified, or Conflict where no forces meet all. Without requirements a Target's
/// failure mode says what is to be reached.
///
/// >>> import proofspan as ps
/// >>> beam = ps.Beam.simple("8 m", "30000 kN·m²")
/// >>> loads = {"live": ps.Load.line("0 m", "8 m", "5 kN/m")}
/// >>> reference = ps.Reference(beam, loads, region=("3 m", "5 m"))     # 40 kN·m in the middle
/// >>> found = ps.optimise(reference, [ps.jack("3 m"), ps.jack("5 m")], "total", [ps.Reach("moment")])
/// >>> [(name, f"{force:.2f kN}") for name, force in found.forces]      # 40 kN·m / 3 m each
/// [('jack at 3 m', '13.33 kN'), ('jack at 5 m', '13.33 kN')]
/// >>> proof = found.certificates[0]
/// >>> abs(proof.objective - proof.bound) < 1e-9 * proof.objective
/// True
#[pyfunction]
#[pyo3(signature = (reference, candidates, objectives, requirements = None))]
pub(crate) fn optimise(
    py: Python<'_>,
    reference: &Bound<'_, PyAny>,
    candidates: &Bound<'_, PyAny>,
    objectives: &Bound<'_, PyAny>,
    requirements: Option<&Bound<'_, PyAny>>,
) -> PyResult<Py<PyAny>> {
    let asked = asked(py, reference, candidates, ("objectives", objectives), requirements)?;
    let answer = long(py, || {
        equivalent::optimise(
            &asked.reference.beam,
            &asked.reference.reference,
            &asked.candidates,
            &asked.requirements,
            &asked.goals,
        )
    })?;
    asked.answered(py, answer)
}

/// Does a layout of given forces, from wherever it comes, meet the requirements at every x? The answer
/// is what the verifier found for each of them, with the largest violation as a part and as an amount.
///
/// >>> import proofspan as ps
/// >>> beam = ps.Beam.simple("8 m", "30000 kN·m²")
/// >>> loads = {"live": ps.Load.line("0 m", "8 m", "5 kN/m")}
/// >>> reference = ps.Reference(beam, loads, region=("3 m", "5 m"))     # 40 kN·m in the middle
/// >>> jacks, reach = [ps.jack("3 m"), ps.jack("5 m")], [ps.Reach("moment")]
/// >>> round(ps.confirm(reference, jacks, ["12 kN", "12 kN"], reach).violation, 4)    # 36 of 40 kN·m
/// 0.1
#[pyfunction]
#[pyo3(signature = (reference, candidates, forces, requirements = None))]
pub(crate) fn confirm(
    py: Python<'_>,
    reference: &Bound<'_, PyAny>,
    candidates: &Bound<'_, PyAny>,
    #[pyo3(from_py_with = by_name::forces)] forces: Vec<Bound<'_, PyAny>>,
    requirements: Option<&Bound<'_, PyAny>>,
) -> PyResult<Py<PyAny>> {
    let reference = referred(reference)?;
    let requirements = required(py, &reference, requirements)?;
    let candidates = self::candidates(py, candidates)?;
    let mut walk = Walk::default();
    let all = forces.iter().enumerate();
    let all = all.map(|(i, force)| walk.node(force, &format!("forces[{i}]"))).collect();
    walk.done()?;
    let forces: Vec<Force> =
        read_named("forces", &Node::new(Value::List(all))).map_err(|e| raise(py, &e))?;
    let given: Vec<Net<Force>> = forces.into_iter().map(Net).collect();
    let found = equivalent::confirm(
        &reference.beam,
        &reference.reference,
        &requirements,
        &candidates,
        &given,
    );
    exactly(py, "Confirmation", &found.map_err(|e| raise(py, &e))?)
}

fn asked(
    py: Python<'_>,
    reference: &Bound<'_, PyAny>,
    candidates: &Bound<'_, PyAny>,
    (argument, goals): (&str, &Bound<'_, PyAny>),
    requirements: Option<&Bound<'_, PyAny>>,
) -> PyResult<Asked> {
    let reference = referred(reference)?;
    let requirements = required(py, &reference, requirements)?;
    let candidates = self::candidates(py, candidates)?;
    let goals = objectives(py, argument, goals)?;
    Ok(Asked { reference, candidates, requirements, goals })
}

/// Forces that meet every requirement by `k` standard uncertainties, with the least "total" or
/// "peak"; `u` holds the relative standard uncertainty of each candidate's force. None where none do.
///
/// >>> import proofspan as ps
/// >>> beam = ps.Beam.simple("8 m", "30000 kN·m²")
/// >>> loads = {"live": ps.Load.line("0 m", "8 m", "5 kN/m")}
/// >>> reference = ps.Reference(beam, loads, region=("3 m", "5 m"))     # 40 kN·m in the middle
/// >>> found = ps.assured(reference, [ps.jack("3 m"), ps.jack("5 m")], [0.02, 0.02], requirements=[ps.Reach("moment")])
/// >>> all(force.to("kN") > 40 / 3 for _, force in found)       # what is sure is less than what is pumped
/// True
#[pyfunction]
#[pyo3(signature = (reference, candidates, u, objective = "total", k = 2.0, requirements = None))]
pub(crate) fn assured(
    py: Python<'_>,
    reference: &Bound<'_, PyAny>,
    candidates: &Bound<'_, PyAny>,
    #[pyo3(from_py_with = by_name::u)] u: Vec<f64>,
    #[pyo3(from_py_with = by_name::objective)] objective: &str,
    #[pyo3(from_py_with = by_name::k)] k: f64,
    requirements: Option<&Bound<'_, PyAny>>,
) -> PyResult<Option<Vec<(String, Quantity)>>> {
    let objective = PyString::new(py, objective);
    let asked = asked(py, reference, candidates, ("objective", objective.as_any()), requirements)?;
    let Some(goal) = asked.goals.first() else { return Ok(None) };
    let found = long(py, || {
        equivalent::assured(
            &asked.reference.beam,
            &asked.reference.reference,
            &asked.candidates,
            &asked.requirements,
            goal,
            (&u, k),
        )
    })?;
    Ok(found.map(|f| asked.named(&f.forces)))
}
