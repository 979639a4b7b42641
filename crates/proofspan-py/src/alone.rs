//! Each step on its own: quantities in, a typed answer out. The rules are those of the core.

use proofspan::error::Error;
use proofspan::source::{Entry, Node, Read, Value, read_node};
use proofspan::{criteria, rig, shoring, target};
use pyo3::prelude::*;
use pyo3::types::PyString;

use crate::answers::{Acceptance, CatchCheck, Hydraulics, Reaction, TestLoad};
use crate::by_name;
use crate::errors::raise;
use crate::refuse::{at, refused, text};
use crate::tree::Walk;

type Given<'a, 'py> = Option<&'a Bound<'py, PyAny>>;

/// The arguments that are given, under their own names.
pub(crate) fn arguments(given: &[(&str, Given<'_, '_>)]) -> PyResult<Vec<Entry>> {
    let mut walk = Walk::default();
    let mut entries = Vec::with_capacity(given.len());
    for (name, object) in given {
        let Some(object) = object.filter(|o| !o.is_none()) else { continue };
        entries.push(Entry { key: (*name).to_owned(), node: walk.node(object, name) });
    }
    walk.done()?;
    Ok(entries)
}

/// A record of the core from the arguments.
pub(crate) fn record<T: Read>(py: Python<'_>, entries: Vec<Entry>) -> PyResult<T> {
    read_node(&Node::new(Value::Map(entries))).map_err(|e| raise(py, &e))
}

/// An edition by its name, or as an `EditionChoice`, with the facts that are given beside it.
fn edition_entry(edition: &Bound<'_, PyAny>, facts: Given<'_, '_>) -> PyResult<Entry> {
    let mut node = if edition.is_instance_of::<PyString>() {
        let id = text(edition).map_err(|issue| refused(at("edition", issue)))?;
        Node::map(vec![("id", Node::text(id))])
    } else {
        let mut walk = Walk::default();
        let node = walk.node(edition, "edition");
        walk.done()?;
        node
    };
    let facts = arguments(&[("facts", facts)])?;
    if let (Value::Map(entries), false) = (&mut node.value, facts.is_empty()) {
        entries.retain(|e| e.key != "facts");
        entries.extend(facts);
    }
    Ok(Entry { key: "edition".to_owned(), node })
}

/// The criteria of an edition on a largest deflection and its residual: `span` centre to centre, `u`
/// the standard uncertainty of one corrected reading, without which the guarded outcome is open.
#[pyfunction]
#[pyo3(signature = (edition, deflection, *, span, residual = None, u = None, depth = None, clear_span = None, cantilever = None, method = None, stated = None, unit = None))]
#[expect(clippy::too_many_arguments, reason = "arguments by name")]
pub(crate) fn acceptance(
    py: Python<'_>,
    edition: &Bound<'_, PyAny>,
    deflection: &Bound<'_, PyAny>,
    span: &Bound<'_, PyAny>,
    residual: Given<'_, '_>,
    u: Given<'_, '_>,
    depth: Given<'_, '_>,
    clear_span: Given<'_, '_>,
    cantilever: Given<'_, '_>,
    method: Given<'_, '_>,
    stated: Given<'_, '_>,
    unit: Given<'_, '_>,
) -> PyResult<Acceptance> {
    let mut entries = arguments(&[
        ("deflection", Some(deflection)),
        ("span", Some(span)),
        ("residual", residual),
        ("u", u),
        ("depth", depth),
        ("clear_span", clear_span),
        ("cantilever", cantilever),
        ("method", method),
        ("stated", stated),
        ("unit", unit),
    ])?;
    entries.push(edition_entry(edition, None)?);
    let asked: criteria::Acceptance = record(py, entries)?;
    asked.judge().map(Acceptance).map_err(|e| raise(py, &e))
}

/// The combinations of an edition on uniform nominal actions by their names ("self_weight",
/// "superimposed_dead", "live", "roof_live", "snow", "rain", "imposed", …), all area loads; with
/// `width` the answer is a line load per member unit, and actions may be line loads too. `in_place`
/// names those already there: a name, names, or a dict of names with their shares.
#[pyfunction]
#[pyo3(signature = (edition, nominal, *, in_place, facts = None, width = None, determinate = None))]
pub(crate) fn test_load(
    py: Python<'_>,
    edition: &Bound<'_, PyAny>,
    nominal: &Bound<'_, PyAny>,
    in_place: &Bound<'_, PyAny>,
    facts: Given<'_, '_>,
    width: Given<'_, '_>,
    determinate: Given<'_, '_>,
) -> PyResult<TestLoad> {
    let mut entries = arguments(&[("nominal", Some(nominal)), ("determinate", determinate)])?;
    let beside = arguments(&[("in_place", Some(in_place)), ("width", width)])?;
    if let Some(Value::Map(loads)) = entries.first_mut().map(|e| &mut e.node.value) {
        loads.extend(beside);
        if width.is_none() {
            loads.push(Entry { key: "width".to_owned(), node: Node::text("1 m") });
        }
    }
    let per_area = Node::new(Value::Bool(width.is_none()));
    entries.push(Entry { key: "per_area".to_owned(), node: per_area });
    entries.push(edition_entry(edition, facts)?);
    let own = |mut e: Error| {
        for issue in &mut e.issues {
            for name in ["in_place", "width"] {
                if let Some(rest) = issue.path.strip_prefix(&format!("nominal.{name}")) {
                    issue.path = format!("{name}{rest}");
                }
            }
        }
        raise(py, &e)
    };
    let asked: target::TestLoad = read_node(&Node::new(Value::Map(entries))).map_err(own)?;
    asked.combine().map(TestLoad).map_err(own)
}

/// An empty list of weights or forces says that there are none.
fn none_listed(entry: &Entry) -> bool {
    let empty = entry.node.value == Value::List(Vec::new());
    !(empty && ["weights", "forces"].contains(&entry.key.as_str()))
}

/// Pairs of place and force as the records of the core.
fn at_force(entries: &mut [Entry]) {
    for entry in
        entries.iter_mut().filter(|e| ["pulls", "weights", "forces"].contains(&e.key.as_str()))
    {
        let Value::List(items) = &mut entry.node.value else { continue };
        for item in items {
            if let Value::List(pair) = &mut item.value
                && let [at, force] = pair.as_slice()
            {
                *item = Node::map(vec![("at", at.clone()), ("force", force.clone())]);
            }
        }
    }
}

/// A reaction member on bearings: what pulls it up and what stands on it as pairs of place and force,
/// places from its first bearing. Answers lift-off at each bearing, every stage, and the least
/// counterweight with its place.
#[pyfunction]
#[pyo3(signature = (span, self_weight, pulls, *, weights = None, seat = None, rigidity = None, left_overhang = None, right_overhang = None, shear_capacity = None, sagging_capacity = None, hogging_capacity = None, uplift_capacity = None, conditions = None, factor = None, unit = None))]
#[expect(clippy::too_many_arguments, reason = "arguments by name")]
pub(crate) fn reaction(
    py: Python<'_>,
    span: &Bound<'_, PyAny>,
    self_weight: &Bound<'_, PyAny>,
    pulls: &Bound<'_, PyAny>,
    weights: Given<'_, '_>,
    seat: Given<'_, '_>,
    rigidity: Given<'_, '_>,
    left_overhang: Given<'_, '_>,
    right_overhang: Given<'_, '_>,
    shear_capacity: Given<'_, '_>,
    sagging_capacity: Given<'_, '_>,
    hogging_capacity: Given<'_, '_>,
    uplift_capacity: Given<'_, '_>,
    conditions: Given<'_, '_>,
    factor: Given<'_, '_>,
    unit: Given<'_, '_>,
) -> PyResult<Reaction> {
    let mut entries = arguments(&[
        ("span", Some(span)),
        ("self_weight", Some(self_weight)),
        ("pulls", Some(pulls)),
        ("weights", weights),
        ("seat", seat),
        ("rigidity", rigidity),
        ("left_overhang", left_overhang),
        ("right_overhang", right_overhang),
        ("shear_capacity", shear_capacity),
        ("sagging_capacity", sagging_capacity),
        ("hogging_capacity", hogging_capacity),
        ("uplift_capacity", uplift_capacity),
        ("conditions", conditions),
        ("factor", factor),
        ("unit", unit),
    ])?;
    entries.retain(none_listed);
    at_force(&mut entries);
    let asked: rig::Reaction = record(py, entries)?;
    asked.check().map(Reaction).map_err(|e| raise(py, &e))
}

/// One press of equal jacks: pressure with friction, stroke that is needed, against their ratings. The
/// acting area of one is given, or follows from its bore and rod; `deflection` of the member under
/// test, `rise` of what the jacks pull on, `bars` and `slack` make up the travel.
#[pyfunction]
#[pyo3(signature = (force, *, rated_pressure, stroke, number = None, area = None, bore = None, rod = None, friction = None, deflection = None, rise = None, bars = None, slack = None, oil_volume = None, oil_bulk_modulus = None))]
#[expect(clippy::too_many_arguments, reason = "arguments by name")]
pub(crate) fn hydraulics(
    py: Python<'_>,
    force: &Bound<'_, PyAny>,
    rated_pressure: &Bound<'_, PyAny>,
    stroke: &Bound<'_, PyAny>,
    number: Given<'_, '_>,
    area: Given<'_, '_>,
    bore: Given<'_, '_>,
    rod: Given<'_, '_>,
    friction: Given<'_, '_>,
    deflection: Given<'_, '_>,
    rise: Given<'_, '_>,
    bars: Given<'_, '_>,
    slack: Given<'_, '_>,
    oil_volume: Given<'_, '_>,
    oil_bulk_modulus: Given<'_, '_>,
) -> PyResult<Hydraulics> {
    let entries = arguments(&[
        ("force", Some(force)),
        ("rated_pressure", Some(rated_pressure)),
        ("stroke", Some(stroke)),
        ("number", number),
        ("area", area),
        ("bore", bore),
        ("rod", rod),
        ("friction", friction),
        ("deflection", deflection),
        ("rise", rise),
        ("bars", bars),
        ("slack", slack),
        ("oil_volume", oil_volume),
        ("oil_bulk_modulus", oil_bulk_modulus),
    ])?;
    let asked: rig::Hydraulic = record(py, entries)?;
    asked.check().map(Hydraulics).map_err(|e| raise(py, &e))
}

/// One `Catch` or several under a simple span: what is in place on it, the `forces` of the test as
/// pairs of place and force, the failure mode in doubt and its `region` as a pair of places. Answers
/// the static parts, the dynamic force and the window of the gap of every catch, and the levels.
#[pyfunction]
#[pyo3(signature = (span, in_place, catches, *, mode, region, forces = None, drive = None, spring_back = None, depth = None, reading = None, reading_uncertainty = None, clearance = None, levels = None, post_stiffness = None, to_ground = None, stub = None, dragged_along = None, unit = None))]
#[expect(clippy::too_many_arguments, reason = "arguments by name")]
pub(crate) fn catch(
    py: Python<'_>,
    span: &Bound<'_, PyAny>,
    in_place: &Bound<'_, PyAny>,
    catches: &Bound<'_, PyAny>,
    mode: &Bound<'_, PyAny>,
    #[pyo3(from_py_with = by_name::region)] region: Option<(Bound<'_, PyAny>, Bound<'_, PyAny>)>,
    forces: Given<'_, '_>,
    drive: Given<'_, '_>,
    spring_back: Given<'_, '_>,
    depth: Given<'_, '_>,
    reading: Given<'_, '_>,
    reading_uncertainty: Given<'_, '_>,
    clearance: Given<'_, '_>,
    levels: Given<'_, '_>,
    post_stiffness: Given<'_, '_>,
    to_ground: Given<'_, '_>,
    stub: Given<'_, '_>,
    dragged_along: Given<'_, '_>,
    unit: Given<'_, '_>,
) -> PyResult<CatchCheck> {
    let (from, to) = region.as_ref().map(|(from, to)| (from, to)).unzip();
    let mut entries = arguments(&[
        ("span", Some(span)),
        ("in_place", Some(in_place)),
        ("mode", Some(mode)),
        ("from", from),
        ("to", to),
        ("catches", Some(catches)),
        ("forces", forces),
        ("drive", drive),
        ("spring_back", spring_back),
        ("depth", depth),
        ("reading", reading),
        ("reading_uncertainty", reading_uncertainty),
        ("clearance", clearance),
        ("levels", levels),
        ("post_stiffness", post_stiffness),
        ("to_ground", to_ground),
        ("stub", stub),
        ("dragged_along", dragged_along),
        ("unit", unit),
    ])?;
    entries.retain(none_listed);
    at_force(&mut entries);
    let own = |mut e: Error| {
        for issue in &mut e.issues {
            for (name, own) in [("from", "region[0]"), ("to", "region[1]")] {
                let rest =
                    issue.path.strip_prefix(name).filter(|r| r.is_empty() || r.starts_with('.'));
                if let Some(path) = rest.map(|r| format!("{own}{r}")) {
                    issue.path = path;
                }
            }
        }
        raise(py, &e)
    };
    let asked: shoring::Catching = read_node(&Node::new(Value::Map(entries))).map_err(own)?;
    asked.check().map(CatchCheck).map_err(own)
}
