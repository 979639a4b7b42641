//! Parts of answers: what a result holds by name, with attributes, as a dict, in units, and as text.

use pyo3::IntoPyObjectExt;
use pyo3::exceptions::{PyAttributeError, PyKeyError, PyValueError};
use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;
use pyo3::types::{PyBool, PyDict, PyFloat, PyInt, PyList, PyString, PyTuple, PyType};

use proofspan::error::{Issue, Slug, slug};
use proofspan::source::{MAX_DEPTH, MAX_VALUES, Node, Value, Write, html};

use crate::by_name;
use crate::errors::raise;
use crate::numbers::kind_name;
use crate::refuse::Text;
use crate::tree::{from_python, plain_python, to_python};

/// A part of an answer: its values as attributes, or by name as of a dict; a value that is not there is
/// None as an attribute and missing by name. A name that is a word of Python ends in an underscore.
#[pyclass(frozen, subclass, mapping, module = "proofspan")]
pub(crate) struct Part {
    values: Py<PyDict>,
}

impl Part {
    /// The values by name.
    pub(crate) fn values<'py>(&self, py: Python<'py>) -> &Bound<'py, PyDict> {
        self.values.bind(py)
    }
}

fn names<'py>(of: &Bound<'py, Part>) -> PyResult<Bound<'py, PyTuple>> {
    Ok(of.get_type().getattr("_fields")?.cast_into::<PyTuple>()?)
}

/// Why a value is none that an answer holds: nested deeper, or more, than a document may be, or an object
/// of somebody else; nothing where it is one.
fn unlike(value: &Bound<'_, PyAny>, depth: usize, seen: &mut usize) -> Option<(Slug, String)> {
    *seen += 1;
    if depth > MAX_DEPTH {
        return Some((slug::SOURCE_DEPTH, format!("nested deeper than {MAX_DEPTH}")));
    }
    if *seen > MAX_VALUES {
        return Some((slug::SOURCE_SIZE, format!("more than {MAX_VALUES} values")));
    }
    let inside: Vec<Bound<'_, PyAny>> = if let Ok(part) = value.cast::<Part>() {
        return unlike(part.get().values(value.py()).as_any(), depth, seen);
    } else if let Ok(dict) = value.cast_exact::<PyDict>() {
        dict.values().iter().collect()
    } else if let Ok(list) = value.cast_exact::<PyList>() {
        list.iter().collect()
    } else if let Ok(tuple) = value.cast_exact::<PyTuple>() {
        tuple.iter().collect()
    } else {
        let plain = value.is_none()
            || value.is_exact_instance_of::<PyBool>()
            || value.is_exact_instance_of::<PyInt>()
            || value.is_exact_instance_of::<PyFloat>()
            || value.is_exact_instance_of::<PyString>();
        let class = value.get_type();
        let own = |module: Bound<'_, PyString>| {
            module.to_cow().is_ok_and(|m| m.split('.').next() == Some("proofspan"))
        };
        if plain || class.module().is_ok_and(own) {
            return None;
        }
        let message = format!("no answer holds a value of the class `{}`", kind_name(value));
        return Some((slug::SOURCE_TYPE, message));
    };
    inside.iter().find_map(|value| unlike(value, depth + 1, seen))
}

/// A part and everything in it as dicts and lists.
fn plain<'py>(value: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
    let py = value.py();
    if let Ok(part) = value.cast::<Part>() {
        let dict = PyDict::new(py);
        for (key, value) in part.get().values(py) {
            dict.set_item(key, plain(&value)?)?;
        }
        return Ok(dict.into_any());
    }
    if let Ok(list) = value.cast::<PyList>() {
        let plain: Vec<_> = list.iter().map(|v| plain(&v)).collect::<PyResult<_>>()?;
        return Ok(PyList::new(py, plain)?.into_any());
    }
    Ok(value.clone())
}

#[pymethods]
impl Part {
    #[new]
    fn new(#[pyo3(from_py_with = by_name::values)] values: &Bound<'_, PyDict>) -> PyResult<Self> {
        let values = values.copy()?;
        if let Some((slug, message)) = unlike(values.as_any(), 0, &mut 0) {
            return Err(raise(values.py(), &Issue::new(slug, "values", message).into()));
        }
        Ok(Self { values: values.unbind() })
    }

    fn __getattr__(slf: &Bound<'_, Self>, name: &str) -> PyResult<Py<PyAny>> {
        let py = slf.py();
        let key = name.strip_suffix('_').unwrap_or(name);
        if let Some(value) = slf.get().values(py).get_item(key)? {
            return Ok(value.unbind());
        }
        let fields = if name.starts_with('_') { PyTuple::empty(py) } else { names(slf)? };
        if fields.contains(key)? {
            return Ok(py.None());
        }
        let all: Vec<String> = fields.extract()?;
        let of = slf.get_type().name()?;
        let message = format!("{of} has no `{name}`: {}", all.join(", "));
        Err(PyAttributeError::new_err(message))
    }

    fn __dir__<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyList>> {
        let py = slf.py();
        let list = PyList::new(py, ["keys", "items", "get", "to_dict"])?;
        for name in names(slf)? {
            list.append(attribute(&name.extract::<String>()?))?;
        }
        Ok(list)
    }

    fn __getitem__(slf: &Bound<'_, Self>, key: &Bound<'_, PyAny>) -> PyResult<Py<PyAny>> {
        let found = slf.get().values(slf.py()).get_item(key)?;
        found.map(Bound::unbind).ok_or_else(|| PyKeyError::new_err(key.clone().unbind()))
    }

    fn __len__(&self, py: Python<'_>) -> usize {
        self.values(py).len()
    }

    fn __contains__(&self, key: &Bound<'_, PyAny>) -> PyResult<bool> {
        self.values(key.py()).contains(key)
    }

    fn __iter__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        Ok(self.values(py).try_iter()?.into_any())
    }

    /// The names of the values that are there.
    fn keys<'py>(&self, py: Python<'py>) -> Bound<'py, PyList> {
        self.values(py).keys()
    }

    /// Names and values that are there.
    fn items<'py>(&self, py: Python<'py>) -> Bound<'py, PyList> {
        self.values(py).items()
    }

    /// The value of a name, or something else where it is not there.
    #[pyo3(signature = (key, default = None))]
    fn get(&self, py: Python<'_>, key: Text, default: Option<Py<PyAny>>) -> PyResult<Py<PyAny>> {
        let found = self.values(py).get_item(key.of("key")?)?;
        Ok(found.map(Bound::unbind).or(default).unwrap_or_else(|| py.None()))
    }

    /// Every value, by name, as dicts and lists; with `units`, "SI" or "US", as JSON can hold it.
    #[pyo3(signature = (units = None))]
    fn to_dict(
        slf: &Bound<'_, Self>,
        #[pyo3(from_py_with = by_name::own_units)] units: Option<&str>,
    ) -> PyResult<Py<PyAny>> {
        let plain = plain(slf.as_any())?;
        match units {
            None => Ok(plain.unbind()),
            Some(_) => {
                let node = from_python(&plain, "self")?;
                plain_python(slf.py(), units, || node)
            }
        }
    }

    fn __eq__(slf: &Bound<'_, Self>, other: &Bound<'_, PyAny>) -> PyResult<Py<PyAny>> {
        let py = slf.py();
        let own = slf.get().values(py);
        let equal = match other.cast::<Self>() {
            Ok(other) => own.eq(other.get().values(py))?,
            Err(_) if other.is_instance_of::<PyDict>() => own.eq(other)?,
            Err(_) => return Ok(py.NotImplemented()),
        };
        equal.into_py_any(py)
    }

    #[classattr]
    const __hash__: Option<Py<PyAny>> = None;

    fn __repr__(slf: &Bound<'_, Self>) -> PyResult<String> {
        let mut parts = Vec::new();
        for (key, value) in slf.get().values(slf.py()) {
            parts.push(format!("{}={}", attribute(&key.extract::<String>()?), value.repr()?));
        }
        Ok(format!("{}({})", slf.get_type().name()?, parts.join(", ")))
    }

    /// As text; "SI" or "US" in those units.
    fn __format__(slf: &Bound<'_, Self>, spec: &str) -> PyResult<String> {
        let units = match spec {
            "" => return Ok(slf.str()?.to_string()),
            "SI" | "US" => spec,
            _ => {
                let message = format!("`{spec}` is not a format of a part: SI, US, or none");
                return Err(PyValueError::new_err(message));
            }
        };
        let mut parts = Vec::new();
        let dict = Self::to_dict(slf, Some(units))?;
        for (key, value) in dict.bind(slf.py()).cast::<PyDict>()? {
            let key = attribute(&key.extract::<String>()?);
            let value = match value.cast::<PyString>() {
                Ok(text) => text.to_string(),
                Err(_) => value.repr()?.to_string(),
            };
            parts.push(format!("{key}={value}"));
        }
        Ok(format!("{}({})", slf.get_type().name()?, parts.join(", ")))
    }

    fn _repr_html_(slf: &Bound<'_, Self>) -> PyResult<String> {
        let mut rows = String::new();
        for (key, value) in slf.get().values(slf.py()) {
            let (key, value) = (key.extract::<String>()?, value.repr()?.to_string());
            rows.push_str(&format!("<tr><td>{}</td><td>{}</td></tr>", html(&key), html(&value)));
        }
        Ok(format!("<p>{}</p><table>{rows}</table>", slf.get_type().name()?))
    }

    fn __copy__(slf: Bound<'_, Self>) -> Bound<'_, Self> {
        slf
    }

    fn __deepcopy__<'py>(slf: Bound<'py, Self>, _memo: &Bound<'_, PyAny>) -> Bound<'py, Self> {
        slf
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> (Bound<'py, PyType>, (Bound<'py, PyDict>,)) {
        (slf.get_type(), (slf.get().values(slf.py()).clone(),))
    }
}

/// The name of a value as an attribute.
fn attribute(name: &str) -> String {
    let word = matches!(name, "from" | "with" | "raise" | "in" | "is" | "as");
    if word { format!("{name}_") } else { name.to_owned() }
}

/// A class of parts: its name, what it is, its values and the classes of those that are parts.
struct Class {
    name: &'static str,
    doc: &'static str,
    fields: &'static [(&'static str, Option<&'static str>)],
}

macro_rules! parts {
    ($( $(#[doc = $doc:literal])* $name:ident { $($field:ident $(: $part:ident)?),* $(,)? } )*) => {
        const CLASSES: &[Class] = &[$(Class {
            name: stringify!($name),
            doc: concat!($($doc),*),
            fields: &[$((stringify!($field), parts!(@ $($part)?))),*],
        }),*];
    };
    (@) => { None };
    (@ $part:ident) => { Some(stringify!($part)) };
}

parts! {
    /// A check inside a part of an answer.
    Check { state, code, of, demand, limit, limit_side, utilisation, expanded_uncertainty, basis, clause }
    /// What the reader must know.
    Note { code, path, message }
    /// Who lifted a stop, and why.
    Lifted { code, role, name, reason, measure, date, second_signature, design }
    /// A state that endangers people.
    Stop { code, path, message, liftable, holds, verdict: Check, lifted_by: Lifted }
    /// A largest or smallest value along a beam.
    Extreme { value, at, side }
    /// The largest and the smallest value along a beam.
    Extremes { max: Extreme, min: Extreme }
    /// What a support gives: force up positive, moment on the beam clockwise positive.
    SupportForce { at, force, moment }
    /// The largest and the smallest response, and the parts that are loaded for each.
    WorstLoad { max, max_on, min, min_on }
    /// Shear and moment that act together.
    EnvelopePair { shear, moment, case }
    /// What acts together at the largest and at the smallest value.
    EnvelopePairs { max: EnvelopePair, min: EnvelopePair }
    /// A largest or smallest value over all cases.
    EnvelopeExtreme { value, at, case }
    /// The largest and the smallest value over all cases.
    EnvelopeExtremes { max: EnvelopeExtreme, min: EnvelopeExtreme }
    /// One row a·p >= b of a certificate, with its multiplier, in SI.
    CertificateRow { what, at, side, term, unit, a, b, multiplier }
    /// A certificate that ten lines of exact arithmetic check: unknowns, values, cost, rows, in SI.
    Certificate { about, unknowns, values, cost, rows: CertificateRow, objective, bound, gap }
    /// One requirement as the separate verifier found it.
    Confirmed { requirement, what, violation, amount, at }
    /// What the separate verifier found.
    Confirmation { each: Confirmed, violation }
    /// One action that a failure mode goes by, and whether the test reaches it.
    ReachedAction { what, effect, reference, test, net, total, state }
    /// What a layout does not test, and how near a load is to a bearing.
    LayoutWarnings { notes: Note, distance: Check }
    /// One way in which what is built may be otherwise.
    Deviation { what, fidelity, effect, at, exceeded, excess }
    /// A layout as it may be built.
    AsBuilt { each: Deviation, state, fidelity: Check, limits: Check, raise, raise_exceeds }
    /// What one requirement would have to give.
    Relaxation { what, by, becomes }
    /// One choice of carriers; `stages` holds one Certified a stage.
    Choice { number, candidates, exact, objectives, stages }
    /// One press and what drives it.
    RigPress { at, force, circuit, by }
    /// What pulls on a reaction.
    RigPull { press, at, force, reaction }
    /// The least single counterweight.
    RigCounterweight { factor, at, force, for_lift_off, for_reversal, at_bearing }
    /// One anchor.
    RigAnchor { at, force, verdict: Check }
    /// One thing that the jacks pull against.
    RigReaction { id, kind, reach, supports, least_counterweight: RigCounterweight, anchors: RigAnchor }
    /// One bearing of a reaction member.
    RigBearing { reaction, at, stabilising, uplift, factor, factor_on_unbalanced_uplift, factor_without_counterweight, verdict: Check }
    /// A reaction member at one stage.
    RigStage { reaction, name, fraction, reactions: SupportForce, shear, shear_at, sagging, sagging_at, least_moment, least_moment_at, verdicts: Check }
    /// What a circuit does when it is locked off.
    LockedCircuit { force, stiffness, oil_known, per_stroke, cooling, warming, bars, creep, leak, leak_over, band, top_up_after, gauge_class, gauge_division }
    /// One jack of a press whose jacks differ.
    RigRam { force, share, least, most, way, stroke, at_end, held }
    /// Pressure and movement of one circuit.
    RigHydraulics { circuit, force_per_jack, pressure, pressure_without_friction, bar_stretch, travel, stiffness, oil_travel, stroke_used, jack_most, jack_least, rams: RigRam, off_middle, uneven, springs_back, energy, falls_by, locked: LockedCircuit }
    /// A group of blocks of one kind.
    PlacedBlocks { kind, number, columns, layers, from, to, force, at }
    /// One way to place the blocks.
    BlockLayout { groups: PlacedBlocks }
    /// The blocks that were chosen.
    BlockPlacement { lifts, weight, ties, layouts: BlockLayout }
    /// A spreader or reaction beam.
    RigBeam { id, force, moment, shear, deflection, sideways, tilt }
    /// The jack train.
    JackTrain { force, sideways, eccentricity, moment }
    /// What the jacks push against.
    Rig { presses: RigPress, pulls: RigPull, reactions: RigReaction, bearings: RigBearing, floor, lift_off_without_counterweight, placement: BlockPlacement, stages: RigStage, hydraulics: RigHydraulics, beams: RigBeam, train: JackTrain, verdicts: Check, stops: Stop, notes: Note }
    /// The gap of a catch at one step.
    GapStep { fraction, low, recommended }
    /// One catch.
    Caught { at, crack, own, test, contact_force, force, bound, dynamic, dynamic_bound, crushed, slack, resistance, sideways, gap_low, gap_recommended, gap_high, gap_steps: GapStep }
    /// The share of one level.
    SharedLevel { share, posts_below }
    /// What one level does when the catch comes.
    LevelLoad { id, force, left, moves, posts, posts_carry, sideways }
    /// The floor under the catches.
    FloorCheck { id, shear, sagging, hogging }
    /// What catches the member.
    Shoring { catches: Caught, force, levels: SharedLevel, stack: LevelLoad, levels_needed, floors: FloorCheck, verdicts: Check, stops: Stop, notes: Note }
    /// What one carrier brings at one step.
    CarrierStep { name, force, force_per_jack, pressure, layers, depth }
    /// What one gauge should show at one step.
    GaugeReading { gauge, stiff, soft, readers_apart }
    /// What a hold does to a circuit that is locked off.
    HeldForce { circuit, least, most, band, leaves_band, top_up_after, then_every }
    /// One step of the schedule.
    ScheduleStep { fraction, force, carriers: CarrierStep, force_per_jack, pressure, hold, reading_times, readings: GaugeReading, held: HeldForce }
    /// One load cycle of the schedule.
    ScheduleCycle { name, pair, steps: ScheduleStep, down_to, least }
    /// The steps with predicted readings.
    Schedule { steps: ScheduleStep, cycles: ScheduleCycle, unloading, zero_before, residual_after, notes: Note }
    /// A section predicted under the test.
    PredictedSection { at, face, in_place, total, cracking, uncertainty, cracks_at, expected, design, fails_at, mode, ductile, anchored }
    /// What comes first.
    PredictedMode { mode, at, share, uncertainty, used, brittle, stays_away }
    /// Shear predicted at a place.
    PredictedShear { at, in_place, total, expected, uncertainty, design, fails_at, governs, stirrups, strengthening, cracks, strut }
    /// What is added to the deflection in place, down positive.
    DeflectionStep { share, stiff, soft }
    /// Where a member fails as it cracks: nothing is predicted beyond that load.
    FailsByCracking { state, at, face, share, moment }
    /// The deflection that the test adds, by the sections and by the beam of the document.
    PredictedStiffness { at, used, beam_stiff, beam_soft, steps: DeflectionStep, breaks: FailsByCracking }
    /// Whether a test exercises wraps and stirrups: before the web cracks they are nearly unstrained.
    ExercisedBy { likely, test, cracking, ratio, scatter }
    /// Whether the planned test exercises what strengthens in shear, where it is most likely to.
    StrengtheningExercised { at, exercised: ExercisedBy }
    /// One rule checked without the strengthening.
    LostRule { rule, case, verdict: Check }
    /// One rule that the member must keep without its strengthening, where it is nearest to breaking it.
    LostCheck { effect, at, predicted, check: LostRule }
    /// A local strength under one action.
    LocalAction { action, verdict: Check }
    /// A local strength with its checks.
    LocalAnswer { clause, mode, expected, design, checks: LocalAction, notes: Note, left_out }
    /// A local check of a document with its answer.
    LocalPlaced { name, under, at, fails_at, found: LocalAnswer }
    /// What is predicted of the member, never an approval.
    Predicted { code, rule, cracks_first: PredictedSection, fails_first: PredictedSection, stays_uncracked, shear_code, exercised: StrengtheningExercised, shear_first: PredictedShear, first: PredictedMode, first_failure: PredictedMode, sections: PredictedSection, shear: PredictedShear, stiffness: PredictedStiffness, without: LostCheck, local: LocalPlaced, left_out }
    /// A shape of the elevation of a rig.
    RigShape { kind, mark, says, force, left, right, top, bottom }
    /// What of one window was used.
    WindowUsed { window, from, to, used, left_out }
    /// What of one gauge was used.
    GaugeUsed { gauge, samples, left_out, windows: WindowUsed, with }
    /// One correction of a gauge.
    Correction { what, value, u, at_peak, at_residual, u_at_peak, u_at_residual, formula, source }
    /// What one gauge read at one moment.
    ReadMoment { reading, samples, temperatures, level, settlement, turn, force }
    /// The corrected deflection of one gauge.
    GaugeDeflection { gauge, at, d_max, d_r, raw_d_max, raw_d_r, u_reading, as_read_d_max, as_read_d_r, corrections: Correction, moments: ReadMoment }
    /// Measured against predicted, one gauge.
    Comparison { gauge, measured, stiff, soft, over_stiff }
    /// Where a stop rule was first broken.
    Exceeded { at, force, measured, limit, carried_on }
    /// A rule that stops or pauses a test, along the log.
    StopRuleSeen { rule, gauge, largest, at, exceeded: Exceeded, unknown }
    /// A fault of a log.
    LogFault { kind, channel, from, to, count, note, effect, with, factor, offset }
    /// A drift of snow.
    SnowDrift { gamma, balanced_depth, clear_height, side, drift_height, height, width, surcharge, peak, level }
    /// Water on a beam that gives way under it.
    Ponding { loads, response, static_weight, weight, amplification, growth, error }
    /// What one edition asks of a member, or why it does not say.
    ComparedEdition { edition, name, status, set, shear, net_shear, shear_term, moment, net_moment, moment_term, hogging, refused }
}

/// The classes in the order of the table, made once.
static MADE: PyOnceLock<Vec<Py<PyType>>> = PyOnceLock::new();

fn made(py: Python<'_>) -> PyResult<&Vec<Py<PyType>>> {
    MADE.get_or_try_init(py, || {
        let base = py.get_type::<Part>();
        let make = py.get_type::<PyType>();
        CLASSES
            .iter()
            .map(|class| {
                let fields = class.fields.iter().map(|(name, _)| *name);
                let body = PyDict::new(py);
                body.set_item("__doc__", class.doc.trim())?;
                body.set_item("__module__", "proofspan")?;
                body.set_item("__slots__", PyTuple::empty(py))?;
                body.set_item("_fields", PyTuple::new(py, fields.collect::<Vec<_>>())?)?;
                let made = make.call1((class.name, (base.clone(),), body))?;
                Ok(made.cast_into::<PyType>()?.unbind())
            })
            .collect()
    })
}

/// Puts the classes into the module, and says of them that they are mappings.
pub(crate) fn add(module: &Bound<'_, PyModule>) -> PyResult<()> {
    let py = module.py();
    let base = py.get_type::<Part>();
    base.setattr("_fields", PyTuple::empty(py))?;
    py.import("_collections_abc")?.getattr("Mapping")?.call_method1("register", (base,))?;
    for (class, made) in CLASSES.iter().zip(made(py)?) {
        module.add(class.name, made.bind(py))?;
    }
    Ok(())
}

/// A part of the class of this name with these values.
pub(crate) fn part<'py>(name: &str, values: Bound<'py, PyDict>) -> PyResult<Bound<'py, PyAny>> {
    let py = values.py();
    let place = CLASSES.iter().position(|c| c.name == name);
    match place.and_then(|place| made(py).ok()?.get(place)) {
        Some(class) => class.bind(py).call1((values,)),
        None => Ok(values.into_any()),
    }
}

/// A tree as parts of the class of this name: a map is one, a list is several.
pub(crate) fn parts<'py>(py: Python<'py>, name: &str, node: &Node) -> PyResult<Bound<'py, PyAny>> {
    match &node.value {
        Value::List(items) => {
            let list = PyList::empty(py);
            for item in items {
                list.append(parts(py, name, item)?)?;
            }
            Ok(list.into_any())
        }
        Value::Map(entries) => {
            let class = CLASSES.iter().find(|c| c.name == name);
            let dict = PyDict::new(py);
            for entry in entries {
                let field = class.and_then(|c| c.fields.iter().find(|f| f.0 == entry.key));
                let value = match field.and_then(|f| f.1) {
                    Some(inner) => parts(py, inner, &entry.node)?,
                    None => to_python(py, &entry.node)?.into_bound(py),
                };
                dict.set_item(&entry.key, value)?;
            }
            part(name, dict)
        }
        _ => Ok(to_python(py, node)?.into_bound(py)),
    }
}

/// What can be written, as parts of the class of this name, every digit of it.
pub(crate) fn exactly(py: Python<'_>, name: &str, of: &impl Write) -> PyResult<Py<PyAny>> {
    Ok(parts(py, name, &of.write())?.unbind())
}

/// The same as people read it: what is rounding noise beside the largest of its kind is 0.
pub(crate) fn settled(py: Python<'_>, name: &str, of: &impl Write) -> PyResult<Py<PyAny>> {
    Ok(parts(py, name, &of.write().settled())?.unbind())
}
