//! Each step on its own: quantities in, a typed answer out. The rules are those of the core; one table
//! says what each step asks and answers.

use std::sync::Arc;

use proofspan::capacity::{local, shear, strengthening};
use proofspan::editions::EditionChoice;
use proofspan::error::{Error, Issue, slug};
use proofspan::source::{
    Entry, Node, Read, Value, Write, parse_json, read_json, read_named, read_node,
};
use proofspan::units::{Force, Kind, Measure};
use proofspan::{RecordedTest, capacity, criteria, rig, shoring, target};
use pyo3::IntoPyObjectExt;
use pyo3::prelude::*;
use pyo3::types::PyString;

use crate::answers::{
    Acceptance, AddedStirrups, Again, BondedStrip, CatchCheck, Deflections, Edition, Hydraulics,
    LocalStrength, Reaction, SectionStrength, ShearStrength, TestLoad, WithoutStrengthening,
    WrapShear,
};
use crate::by_name;
use crate::column::{Column, many, one};
use crate::errors::{long, raise};
use crate::refuse::{at, refused, text};
use crate::results::{Judgement, told};
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

/// An edition: its name, an `Edition` or `EditionChoice`, or the path of a file of one's own.
pub(crate) fn edition_node(walk: &mut Walk, edition: &Bound<'_, PyAny>) -> PyResult<Node> {
    if edition.is_instance_of::<PyString>() {
        let id = text(edition).map_err(|issue| refused(at("edition", issue)))?;
        if id.trim_start().starts_with('{') {
            return parse_json(&id).map_err(|e| raise(edition.py(), &e));
        }
        return Ok(Node::map(vec![("id", Node::text(id))]));
    }
    let Ok(path) = edition.extract::<std::path::PathBuf>() else {
        return Ok(walk.node(edition, "edition"));
    };
    let own = proofspan::editions::Edition::from_file(&path);
    own.map(|own| EditionChoice::whole(&own).write()).map_err(|e| raise(edition.py(), &e))
}

/// The choice of an edition that an argument names.
pub(crate) fn edition_choice(edition: &Bound<'_, PyAny>) -> PyResult<EditionChoice> {
    let mut walk = Walk::default();
    let node = edition_node(&mut walk, edition)?;
    walk.done()?;
    read_named("edition", &node).map_err(|e| raise(edition.py(), &e))
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
pub(crate) fn asked<T: Read>(py: Python<'_>, given: &[(&str, Given<'_, '_>)]) -> PyResult<T> {
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
                Err(e) => {
                    let facts = [$((stringify!($may), $may.is_some())),*].contains(&("facts", true));
                    Err(raise(py, &own(e, facts)))
                }
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
                let found = if asked.starts_with('{') {
                    proofspan::editions::Edition::from_toml(asked).map(Arc::new)
                } else {
                    proofspan::editions::Edition::shipped(asked)
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
        hogging_capacity, uplift_capacity, holds, cracks_at, conditions, factor, unit) -> Reaction = rig::Reaction, check;

    /// What a section does, predicted: when each face cracks, its strength in flexure by strain
    /// compatibility, its stiffness. `code` names the law of compressed concrete ("own" with a `block`),
    /// `cracking` the formula of the tensile strength; the expected set always, the design set with
    /// `reductions`. Where the section changes along the member, `at` and `length` say where.
    ///
    /// >>> import proofspan as ps
    /// >>> section = {"shape": {"kind": "rectangle", "width": "300 mm", "height": "600 mm"}, "concrete": "30 MPa",
    /// ...            "bars": {"area": "1500 mm^2", "depth": "540 mm", "yields": "420 MPa"}}
    /// >>> found = ps.section_strength(section, code="ACI 318-19", cracking="ACI 318-19, MPa")
    /// >>> f"{found.flexure[0].moment:.1f kN·m}"          # 630 kN (540 mm - 630 kN/(0.85 * 30 * 300)/2)
    /// '314.3 kN·m'
    /// >>> f"{found.cracking[0].moment:.2f kN·m}", found.flexure[0].mode
    /// ('61.13 kN·m', 'steel yields, then concrete crushes')
    section_strength(section; code, cracking;
        block, at, length, axial, reductions, cracked, scatter, before, moment, load_factor)
        -> SectionStrength = capacity::SectionStrength, predict;

    /// Deflection of a simple span over load, stiff and soft: `forces` of the test as pairs of place and
    /// force, `in_place` the line load already there, `steps` shares of the full load.
    ///
    /// >>> import proofspan as ps
    /// >>> section = {"shape": {"kind": "rectangle", "width": "300 mm", "height": "600 mm"},
    /// ...            "concrete": {"strength": "30 MPa", "modulus": "25 GPa"},
    /// ...            "bars": {"area": "1500 mm^2", "depth": "540 mm", "yields": "420 MPa"}}
    /// >>> found = ps.deflections("6 m", section, "0 kN/m", [("3 m", "120 kN")], cracking="ACI 318-19, MPa")
    /// >>> [(share, f"{stiff:.2f mm}", f"{soft:.2f mm}") for share, stiff, soft in found.steps[::3]]
    /// [(0.25, '1.00 mm', '1.04 mm'), (1.0, '4.00 mm', '9.32 mm')]
    deflections(span, section, in_place, forces; cracking; steps, at, cracked, load_factor)
        -> Deflections = capacity::Deflecting, predict;

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
        accumulator, pump, hold, gauge, fittings, rams, uneven)
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

    /// One-way shear of a section by "ACI 318-19", "ACI 318M-19", "EN 1992-1-1:2004" or
    /// "EN 1992-1-1:2023": what is expected with mean strengths, and with `phi` or `gamma_c` (and `gamma_s`)
    /// the design strength. A prediction to plan a test by, never an approval. `stirrups` are a dict of area,
    /// spacing, yields and minimum; `prestress` one of kind "approximate", "detailed" or "uncracked".
    ///
    /// >>> import proofspan as ps
    /// >>> found = ps.shear_strength("ACI 318-19", "4000 psi", "12 in", "20 in", "2.4 in^2", phi=0.75)
    /// >>> f"{found.expected.strength:.0f lbf}", found.expected.governs    # 8 λ_s ρ^(1/3) √f'c b d
    /// ('21361 lbf', 'expression (c)')
    /// >>> f"{found.design.strength:.0f lbf}"
    /// '16021 lbf'
    shear_strength(code, strength, width, depth, tension_steel;;
        mean_strength, lightweight, axial, gross_area, stirrups, prestress, phi, gamma_c, gamma_s,
        design_strength, lever_arm, strut_slope, chord_factor, aggregate, steel_yield, test, clear, height,
        unit) -> ShearStrength = shear::ShearStrength, check;

    /// Wraps on a web in shear by ACI 440.2R: `scheme` is "u_wrap", "two_sided" or "complete", `form` the
    /// constants of "US" or "SI". With `test` and the shear at which cracks are expected it says how likely
    /// the test exercises them: before the web cracks they are nearly idle.
    ///
    /// >>> import proofspan as ps
    /// >>> found = ps.wrap_shear("u_wrap", "3000 psi", "16 in", thickness="0.0065 in", modulus="33000 ksi",
    /// ...     ultimate_strain="0.015865 m/m", width="10 in", spacing="12 in", test="27 kip", flexure_shear="43 kip")
    /// >>> f"{found.expected:.2f kip}", found.exercised.likely
    /// ('17.82 kip', 'unlikely, not excluded')
    wrap_shear(scheme, strength, depth; thickness, modulus, ultimate_strain, width, spacing;
        form, mean_strength, plies, angle, webs, anchored_strain, concrete, stirrups, web_width, member_depth,
        phi, test, flexure_shear, web_shear, scatter) -> WrapShear = strengthening::WrapShear, check;

    /// What the member must carry without its strengthening, at normal temperature and in fire, in "shear" or
    /// "moment": each rule with its own clause. A test that was passed never makes a failed one good.
    ///
    /// >>> import proofspan as ps
    /// >>> found = ps.without_strengthening("shear", ["ACI 440.2R (9.2)", "ACI 440.2R-17 9.2.1, fire"],
    /// ...     "100 kN", "150 kN", strength="230 kN", hot_strength="240 kN")
    /// >>> [(c.case, f"{c.verdict.demand:.1f kN}", c.verdict.state) for c in found.checks]
    /// [('strengthening lost', '222.5 kN', 'pass'), ('fire', '250.0 kN', 'fail')]
    without_strengthening(kind, rules, dead, live;;
        snow, accidental, sustained, psi, strength, hot_strength, unit)
        -> WithoutStrengthening = strengthening::WithoutStrengthening, check;

    /// Stirrups outside or bars that were drilled in, over a crack at 45°; the stress that their anchorage lets
    /// them reach is the engineer's.
    ///
    /// >>> import proofspan as ps
    /// >>> f"{ps.added_stirrups('0.4 in^2', '8 in', reached='40 ksi', depth='18 in').shear:.1f kip}"   # 0.4 · 40 · 18/8
    /// '36.0 kip'
    added_stirrups(area, spacing; reached, depth;) -> AddedStirrups = strengthening::AddedStirrups, check;

    /// A bonded strip in flexure at a neutral axis that is known, up to the strain at which it comes off, which
    /// is the engineer's.
    ///
    /// >>> import proofspan as ps
    /// >>> found = ps.bonded_strip("100 mm^2", "160 GPa", "600 mm", debonding_strain="0.006 m/m",
    /// ...     installed_strain="0.0005 m/m", crushing_strain="0.003 m/m", neutral_axis="120 mm", compression="50 mm")
    /// >>> f"{found.force:.0f kN}", f"{found.moment:.1f kN·m}", found.debonds       # 100 · 160 · 0.006; 96 · 0.55
    /// ('96 kN', '52.8 kN·m', True)
    bonded_strip(area, modulus, depth; debonding_strain, installed_strain, crushing_strain, neutral_axis,
        compression;) -> BondedStrip = strengthening::BondedStrip, check;

    /// A local check of kind "bearing", "punching", "plate" or "detail", under the force of the `test` and of
    /// the `catch`. A ledge, corbel, dapped end, pad or anchorage is refused without its strength.
    ///
    /// >>> import proofspan as ps
    /// >>> found = ps.local_strength("bearing", strength="3000 psi", area="36 in^2", spread="144 in^2",
    /// ...     phi=0.65, test="100 kip", catch="120 kip")
    /// >>> [(c.action, c.verdict.state) for c in found.checks]       # 0.65 · 0.85 · 3 ksi · 36 in² · 2 = 119.3 kip
    /// [('test', 'pass'), ('catch', 'fail')]
    local_strength(kind;;
        code, strength, mean_strength, lightweight, area, spread, depth, along, across, place, perimeter,
        moment, steel_ratio, eccentricity, thickness, yields, mean_yield, side, width, pressed, detail, source,
        phi, gamma_c, test, catch) -> LocalStrength = local::LocalStrength, check;
}

/// The expected shear strengths of many reinforced sections at once, as a column of forces: each argument
/// is a column or one value for all. Strengths are used as they are given, nothing is reduced.
///
/// >>> import proofspan as ps
/// >>> many = ps.shear_strengths("ACI 318-19", ps.Column([3000, 4000], "psi"), "12 in", "20 in", "2.4 in^2")
/// >>> [round(v) for v in many.values("lbf")]
/// [18499, 21361]
#[pyfunction]
#[pyo3(signature = (code, strength, width, depth, tension_steel, *, stirrup_area = None, stirrup_spacing = None, stirrup_yield = None, minimum = None))]
#[expect(clippy::too_many_arguments, reason = "arguments by name")]
pub(crate) fn shear_strengths(
    py: Python<'_>,
    code: &Bound<'_, PyAny>,
    strength: &Bound<'_, PyAny>,
    width: &Bound<'_, PyAny>,
    depth: &Bound<'_, PyAny>,
    tension_steel: &Bound<'_, PyAny>,
    stirrup_area: Given<'_, '_>,
    stirrup_spacing: Given<'_, '_>,
    stirrup_yield: Given<'_, '_>,
    minimum: Given<'_, '_>,
) -> PyResult<Column> {
    let given = |g: Given<'_, '_>| g.is_some_and(|o| !o.is_none());
    let asked = [
        ("stirrup_area", given(stirrup_area)),
        ("stirrup_spacing", given(stirrup_spacing)),
        ("stirrup_yield", given(stirrup_yield)),
        ("minimum", given(minimum)),
    ];
    let missing: Vec<Issue> = asked
        .iter()
        .filter(|(_, there)| !there)
        .map(|(name, _)| {
            let message =
                "stirrups are area, spacing, yield strength and whether they are the minimum";
            Issue::new(slug::SOURCE_FIELD_MISSING, *name, message)
        })
        .collect();
    if missing.len() < asked.len() {
        Error::check(missing).map_err(|e| raise(py, &e))?;
    }
    let stirrups = match (stirrup_area, stirrup_spacing, stirrup_yield, minimum) {
        (Some(area), Some(spacing), Some(yields), Some(minimum)) if given(Some(area)) => {
            Some(shear::StirrupColumns {
                area: many(area, "stirrup_area")?,
                spacing: many(spacing, "stirrup_spacing")?,
                yields: many(yields, "stirrup_yield")?,
                minimum: one(minimum, "minimum")?,
            })
        }
        _ => None,
    };
    let columns = shear::ShearColumns {
        code: one(code, "code")?,
        strength: many(strength, "strength")?,
        width: many(width, "width")?,
        depth: many(depth, "depth")?,
        tension_steel: many(tension_steel, "tension_steel")?,
        stirrups,
    };
    let found = long(py, || columns.strengths())?;
    let si = found.into_iter().map(Force::si).collect();
    Ok(Column { measure: Measure::of(Kind::Force), si })
}

/// An edition as data: its load sets, criteria with waivers, protocols, clauses, each with the confidence
/// in which it is known. By its name, as an `EditionChoice`, or the path of a file of one's own (TOML or
/// JSON). Wherever an edition is asked for, it stands for itself.
///
/// >>> import proofspan as ps
/// >>> edition = ps.edition("ACI 437.2-13")
/// >>> edition.sets[0].rows[1].factors
/// {'Ds': 1.1, 'Dw': 1.0, 'L': 1.6, 'Lr|S|R': 0.5}
/// >>> [(c.id, c.limit, c.confidence) for c in edition.criteria if c.method == "monotonic"]
/// [('deflection', 'd_max <= lt/180', 'M'), ('residual', 'd_r <= d_max/4', 'M')]
#[pyfunction]
pub(crate) fn edition(py: Python<'_>, edition: &Bound<'_, PyAny>) -> PyResult<Edition> {
    edition_choice(edition)?.edition().map(Edition).map_err(|e| raise(py, &e))
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
/// >>> record = {"reached": "100 %", "held": "24 h", "stated_by": "site engineer", "expiry": "2031-10-05", "observation": seen}
/// >>> log = "t,d\n0,0.0\n0.5,0.0\n24,12.0\n25,12.0\n50,1.0\n51,1.0\n"
/// >>> judged = ps.judge_record("ACI 437.2-13", log, columns, record, span="6 m", depth="400 mm")
/// >>> [row for row in judged.criteria if row[0] == "residual"]     # 1 mm against 12/4 mm
/// [('residual', 'pass', 'pass')]
#[pyfunction]
#[pyo3(signature = (edition, log, columns, record, *, span, depth = None, clear_span = None, cantilever = None, method = None, force = None, unit = None))]
#[expect(clippy::too_many_arguments, reason = "arguments by name")]
pub(crate) fn judge_record(
    py: Python<'_>,
    edition: &Bound<'_, PyAny>,
    log: &Bound<'_, PyAny>,
    columns: &Bound<'_, PyAny>,
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
    let (log, columns, record) = told(py, log, columns, record)?;
    long(py, || asked.judge(&log, &columns, &record)).map(|judgement| Judgement { judgement })
}
