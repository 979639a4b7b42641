//! Each step on its own: quantities in, a typed answer out. The rules are those of the core; one table
//! says what each step asks and answers.

use proofspan::editions::EditionChoice;
use proofspan::error::{Error, Issue, slug};
use proofspan::source::{Entry, Node, Read, Value, read_json, read_node};
use proofspan::{RecordedTest, criteria, rig, shoring, target};
use pyo3::IntoPyObjectExt;
use pyo3::prelude::*;
use pyo3::types::PyString;

use crate::answers::{Acceptance, Again, CatchCheck, Edition, Hydraulics, Reaction, TestLoad};
use crate::by_name;
use crate::documents::named;
use crate::errors::{long, raise};
use crate::frames::read;
use crate::refuse::{at, refused, text};
use crate::results::Judgement;
use crate::tree::Walk;

type Given<'a, 'py> = Option<&'a Bound<'py, PyAny>>;

/// Arguments that stand elsewhere in the record of the core: where there, and as the caller calls them.
const ELSEWHERE: &[(&str, &str)] = &[
    ("from", "region[0]"),
    ("to", "region[1]"),
    ("nominal.in_place", "in_place"),
    ("nominal.width", "width"),
];

/// The same problems at the arguments of the caller.
fn own(mut error: Error, facts: bool) -> Error {
    let facts = facts.then_some(("edition.facts", "facts"));
    for issue in &mut error.issues {
        for (there, here) in ELSEWHERE.iter().copied().chain(facts) {
            let rest = issue.path.strip_prefix(there);
            if let Some(rest) = rest.filter(|r| r.is_empty() || r.starts_with(['.', '['])) {
                issue.path = format!("{here}{rest}");
                break;
            }
        }
    }
    error
}

/// An edition by its name or as an `EditionChoice`.
fn edition_node(walk: &mut Walk, edition: &Bound<'_, PyAny>) -> PyResult<Node> {
    if edition.is_instance_of::<PyString>() {
        let id = text(edition).map_err(|issue| refused(at("edition", issue)))?;
        return Ok(Node::map(vec![("id", Node::text(id))]));
    }
    Ok(walk.node(edition, "edition"))
}

/// Pairs of place and force as the records of the core.
fn at_force(node: &mut Node) {
    let Value::List(items) = &mut node.value else { return };
    for item in items {
        if let Value::List(pair) = &mut item.value
            && let [at, force] = pair.as_slice()
        {
            *item = Node::map(vec![("at", at.clone()), ("force", force.clone())]);
        }
    }
}

/// The arguments that are given, under the names of the core: `region` is its two ends, `facts` belong to
/// the edition, pairs are places with forces, and an empty list of weights or forces says that there are
/// none.
fn entries(given: &[(&str, Given<'_, '_>)]) -> PyResult<Vec<Entry>> {
    let mut walk = Walk::default();
    let mut entries: Vec<Entry> = Vec::with_capacity(given.len());
    let mut put = |key: &str, node| entries.push(Entry { key: key.to_owned(), node });
    let mut facts = None;
    let mut edition = None;
    for (name, object) in given {
        let Some(object) = object.filter(|o| !o.is_none()) else { continue };
        match *name {
            "edition" => edition = Some(edition_node(&mut walk, object)?),
            "facts" => facts = Some(walk.node(object, name)),
            "region" => {
                let Some((from, to)) = by_name::region(object)? else { continue };
                put("from", walk.node(&from, "region[0]"));
                put("to", walk.node(&to, "region[1]"));
            }
            "pulls" | "weights" | "forces" => {
                let mut node = walk.node(object, name);
                at_force(&mut node);
                if *name == "pulls" || node.value != Value::List(Vec::new()) {
                    put(name, node);
                }
            }
            _ => put(name, walk.node(object, name)),
        }
    }
    if let Some(mut edition) = edition {
        if let (Value::Map(fields), Some(node)) = (&mut edition.value, facts) {
            fields.retain(|e| e.key != "facts");
            fields.push(Entry { key: "facts".to_owned(), node });
        }
        put("edition", edition);
    }
    walk.done()?;
    Ok(entries)
}

/// Actions by their names, beside them what is in place and the width; without one, area loads.
fn nominal(entries: &mut Vec<Entry>) {
    let mut take = |key: &str| {
        let at = entries.iter().position(|e| e.key == key)?;
        Some(entries.remove(at))
    };
    let (in_place, width) = (take("in_place"), take("width"));
    let per_area = width.is_none();
    let metre = || Entry { key: "width".to_owned(), node: Node::text("1 m") };
    if let Some(Value::Map(loads)) =
        entries.iter_mut().find(|e| e.key == "nominal").map(|e| &mut e.node.value)
    {
        loads.extend(in_place);
        loads.push(width.unwrap_or_else(metre));
    }
    let node = Node::new(Value::Bool(per_area));
    entries.push(Entry { key: "per_area".to_owned(), node });
}

/// The record of a step from its arguments.
fn asked<T: Read>(py: Python<'_>, given: &[(&str, Given<'_, '_>)]) -> PyResult<T> {
    let mut entries = entries(given)?;
    if entries.iter().any(|e| e.key == "nominal") {
        nominal(&mut entries);
    }
    let facts = given.iter().any(|(name, object)| *name == "facts" && object.is_some());
    read_node(&Node::new(Value::Map(entries))).map_err(|e| raise(py, &own(e, facts)))
}

macro_rules! steps {
    ($(
        $(#[doc = $doc:literal])*
        $name:ident($($first:ident),+; $($must:ident),*; $($may:ident),*) -> $answer:ident = $ask:ty, $run:ident;
    )*) => {$(
        $(#[doc = $doc])*
        #[pyfunction]
        #[pyo3(signature = ($($first,)+ *, $($must,)* $($may = None),*))]
        #[allow(clippy::too_many_arguments, reason = "arguments by name")]
        pub(crate) fn $name(
            py: Python<'_>,
            $($first: &Bound<'_, PyAny>,)+
            $($must: &Bound<'_, PyAny>,)*
            $($may: Given<'_, '_>),*
        ) -> PyResult<$answer> {
            let asked: $ask = asked(py, &[
                $((stringify!($first), Some($first)),)+
                $((stringify!($must), Some($must)),)*
                $((stringify!($may), $may)),*
            ])?;
            match asked.$run() {
                Ok(found) => Ok($answer(Again::new(found, asked))),
                Err(e) => Err(raise(py, &own(e, false))),
            }
        }
    )*

    /// An answer again from its question; pickles are made of it.
    #[pyfunction]
    pub(crate) fn _again(py: Python<'_>, step: &str, asked: &str) -> PyResult<Py<PyAny>> {
        match step {
            $(
                stringify!($name) => {
                    let asked: $ask = read_json(asked).map_err(|e| raise(py, &e))?;
                    let found = asked.$run().map_err(|e| raise(py, &e))?;
                    $answer(Again::new(found, asked)).into_py_any(py)
                }
            )*
            _ => {
                let own = asked.starts_with('{');
                let found = if own {
                    read_json(asked).and_then(proofspan::editions::Edition::of)
                } else {
                    proofspan::editions::Edition::shipped(asked).map(|found| (*found).clone())
                };
                Edition(found.map_err(|e| raise(py, &e))?).into_py_any(py)
            }
        }
    }
    };
}

steps! {
    /// The criteria of an edition on a largest deflection and its residual: `span` centre to centre, `u`
    /// the standard uncertainty of one corrected reading, without which the guarded outcome is open.
    ///
    /// >>> import proofspan as ps
    /// >>> found = ps.acceptance("ACI 437.2-13", "12 mm", residual="2 mm", span="6 m", u="0.1 mm")
    /// >>> [(row.id, row.code.state, row.guarded.state) for row in found.criteria]
    /// [('deflection', 'pass', 'pass'), ('residual', 'pass', 'pass')]
    acceptance(edition, deflection; span; residual, u, depth, clear_span, cantilever, method, stated, unit)
        -> Acceptance = criteria::Acceptance, judge;

    /// The combinations of an edition on uniform nominal actions by their names ("self_weight",
    /// "superimposed_dead", "live", "roof_live", "snow", "rain", "imposed", …), all area loads; with
    /// `width` the answer is a line load per member unit, and actions may be line loads too. `in_place`
    /// names those already there: a name, names, or a dict of names with their shares.
    ///
    /// >>> import proofspan as ps
    /// >>> found = ps.test_load("IS 456:2000", {"self_weight": "3 kPa", "imposed": "4 kPa"}, in_place="self_weight")
    /// >>> f"{found.net:.1f kPa}"                       # 3 + 1.25 * 4, less the 3 in place
    /// '5.0 kPa'
    test_load(edition, nominal; in_place; facts, width, determinate) -> TestLoad = target::TestLoad, combine;

    /// A reaction member on bearings: what pulls it up and what stands on it as pairs of place and force,
    /// places from its first bearing. Answers lift-off at each bearing, every stage, and the least
    /// counterweight with its place.
    ///
    /// >>> import proofspan as ps
    /// >>> found = ps.reaction("8 m", "10 kN/m", [("3 m", "60 kN")], weights=[("2 m", "20 kN")])
    /// >>> [round(b.factor, 4) for b in found.bearings]       # (40 + 15)/37.5 and (40 + 5)/22.5
    /// [1.4667, 2.0]
    reaction(span, self_weight, pulls;;
        weights, seat, rigidity, left_overhang, right_overhang, shear_capacity, sagging_capacity,
        hogging_capacity, uplift_capacity, cracks_at, conditions, factor, unit) -> Reaction = rig::Reaction, check;

    /// One press of equal jacks: pressure with friction, stroke that is needed, against their ratings. The
    /// acting area of one is given, or follows from its bore and rod; `deflection` of the member under
    /// test, `rise` of what the jacks pull on, `bars` and `slack` make up the travel.
    ///
    /// >>> import proofspan as ps
    /// >>> found = ps.hydraulics("100 kN", number=2, area="5000 mm^2", rated_pressure="70 MPa", stroke="150 mm")
    /// >>> f"{found.pressure:.2f MPa}"
    /// '10.00 MPa'
    hydraulics(force; rated_pressure, stroke;
        number, area, bore, rod, friction, deflection, rise, bars, slack, oil_volume, oil_bulk_modulus,
        accumulator, pump, hold, gauge, fittings)
        -> Hydraulics = rig::Hydraulic, check;

    /// One `Catch` or several under a simple span: what is in place on it, the `forces` of the test as
    /// pairs of place and force, the failure mode in doubt and its `region` as a pair of places. Answers
    /// the static parts, the dynamic force and the window of the gap of every catch, and the levels.
    ///
    /// >>> import proofspan as ps
    /// >>> post = ps.Catch(at="5 m", stiffness="10 kN/mm", gap="10 mm", resistance={"posts": 4, "rated": "100 kN"})
    /// >>> found = ps.catch("10 m", "10 kN/m", post, mode="shear", region=("0 m", "1 m"), to_ground=True)
    /// >>> f"{found.catches[0].own:.0f kN} falls: {found.catches[0].force:.1f kN}"    # 100 (1 + sqrt 3)
    /// '100 kN falls: 273.2 kN'
    catch(span, in_place, catches; mode, region;
        forces, drive, spring_back, depth, reading, reading_uncertainty, clearance, levels,
        post_stiffness, to_ground, ground, stub, dragged_along, unit) -> CatchCheck = shoring::Catching, check;
}

/// An edition as data: its load sets, criteria with waivers, protocols, clauses, each with the confidence
/// in which it is known. By its name, as an `EditionChoice`, or the path of a file of one's own.
///
/// >>> import proofspan as ps
/// >>> edition = ps.edition("ACI 437.2-13")
/// >>> edition.sets[0].rows[1].factors
/// {'Ds': 1.1, 'Dw': 1.0, 'L': 1.6, 'Lr|S|R': 0.5}
/// >>> [(c.id, c.limit, c.confidence) for c in edition.criteria if c.method == "monotonic"]
/// [('deflection', 'd_max <= lt/180', 'M'), ('residual', 'd_r <= d_max/4', 'M')]
#[pyfunction]
pub(crate) fn edition(py: Python<'_>, edition: &Bound<'_, PyAny>) -> PyResult<Edition> {
    let path =
        (!edition.is_instance_of::<PyString>()).then(|| edition.extract::<std::path::PathBuf>());
    let found = if let Some(Ok(path)) = path {
        std::fs::read_to_string(&path)
            .map_err(|e| {
                let message = format!("the file cannot be read: {e}");
                Issue::new(slug::EDITIONS_FILE, "edition", message)
                    .value(path.display().to_string())
                    .into()
            })
            .and_then(|text| proofspan::editions::Edition::from_toml(&text))
    } else {
        let mut walk = Walk::default();
        let node = edition_node(&mut walk, edition)?;
        walk.done()?;
        let choice = proofspan::source::read_named::<EditionChoice>("edition", &node);
        choice.and_then(|choice| choice.edition()).map(|found| (*found).clone())
    };
    found.map(Edition).map_err(|e| raise(py, &e))
}

/// Judges a test that was designed elsewhere: its log and its record against an edition, without a
/// document. `span` centre to centre, `force` the full test load net of what was in place; what nobody
/// can tell without the design stands in `not_judged`.
///
/// >>> import proofspan as ps
/// >>> columns = {"time": {"column": "t", "unit": "h"},
/// ...     "channels": [{"id": "middle", "column": "d", "unit": "mm", "role": "deflection", "at": "3 m", "u": 0.1}],
/// ...     "moments": {"zero": {"from": "0 h", "to": "0.5 h"}, "peak": {"from": "24 h", "to": "25 h"},
/// ...                 "unloaded": "26 h", "residual": {"from": "50 h", "to": "51 h"}}}
/// >>> seen = {"distress": "none", "by": "inspector", "date": "2026-10-05"}
/// >>> record = {"reached": "100 %", "held": "24 h", "expiry": "2031-10-05", "observation": seen}
/// >>> log = "t,d\n0,0.0\n0.5,0.0\n24,12.0\n25,12.0\n50,1.0\n51,1.0\n"
/// >>> judged = ps.judge_record("ACI 437.2-13", log, columns, record, span="6 m", depth="400 mm")
/// >>> [row for row in judged.criteria if row[0] == "residual"]     # 1 mm against 12/4 mm
/// [('residual', 'pass', 'pass')]
#[pyfunction]
#[pyo3(signature = (edition, log, layout, record, *, span, depth = None, clear_span = None, cantilever = None, method = None, force = None, unit = None))]
#[expect(clippy::too_many_arguments, reason = "arguments by name")]
pub(crate) fn judge_record(
    py: Python<'_>,
    edition: &Bound<'_, PyAny>,
    log: &Bound<'_, PyAny>,
    layout: &Bound<'_, PyAny>,
    record: &Bound<'_, PyAny>,
    span: &Bound<'_, PyAny>,
    depth: Given<'_, '_>,
    clear_span: Given<'_, '_>,
    cantilever: Given<'_, '_>,
    method: Given<'_, '_>,
    force: Given<'_, '_>,
    unit: Given<'_, '_>,
) -> PyResult<Judgement> {
    let asked: RecordedTest = asked(
        py,
        &[
            ("edition", Some(edition)),
            ("span", Some(span)),
            ("depth", depth),
            ("clear_span", clear_span),
            ("cantilever", cantilever),
            ("method", method),
            ("force", force),
            ("unit", unit),
        ],
    )?;
    let layout = named(py, layout, "layout")?;
    let record = named(py, record, "record")?;
    let log = read(py, log, &layout)?;
    long(py, || asked.judge(&log, &layout, &record)).map(|judgement| Judgement { judgement })
}
