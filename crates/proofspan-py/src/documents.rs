//! The parts of a test document as Python objects. Field names, checks and defaults are those of
//! the Rust records: here is only the door.

use std::any::{Any, TypeId};
use std::sync::OnceLock;

use proofspan::source::{
    Entry, Node, Read, Shapes, Value, Write, parse_json, read_named, read_node, write_json,
};
use pyo3::exceptions::{PyAttributeError, PyTypeError};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyString, PyTuple, PyType};

use crate::by_name;
use crate::errors::raise;
use crate::quantity::Quantity;
use crate::record;
use crate::refuse::{Text, at, refused, text};
use crate::tree::{Walk, from_python, plain_python, to_python};

/// A document, or a part of one, from JSON text, Python objects or a document object; the record of an
/// object is taken as it is. Paths of problems begin with the name of the argument, unless the
/// document is all that was given.
pub(crate) fn named<T: Read + Clone + 'static>(
    py: Python<'_>,
    object: &Bound<'_, PyAny>,
    argument: &str,
) -> PyResult<T> {
    if let Some(record) = record_of(object) {
        return Ok(record);
    }
    let node: Node = if object.is_instance_of::<PyString>() {
        let text = text(object).map_err(|issue| refused(at(argument, issue)))?;
        parse_json(&text).map_err(|e| raise(py, &e))?
    } else {
        from_python(object, argument)?
    };
    read_named(argument, &node).map_err(|e| raise(py, &e))
}

/// The fields as they are given: by place in the order of the record, or by name. A name that is
/// a word of Python may end in an underscore: `from_`.
fn entries(
    names: &[&str],
    values: &Bound<'_, PyTuple>,
    fields: Option<&Bound<'_, PyDict>>,
) -> PyResult<Vec<Entry>> {
    if values.len() > names.len() {
        return Err(PyTypeError::new_err(format!(
            "{} values for {} fields: {}",
            values.len(),
            names.len(),
            names.join(", ")
        )));
    }
    let mut walk = Walk::default();
    let mut entries = Vec::new();
    for (name, value) in names.iter().zip(values) {
        entries.push(Entry { key: (*name).to_owned(), node: walk.node(&value, name) });
    }
    for (key, value) in fields.into_iter().flatten() {
        let key = text(&key).map_err(refused)?;
        let key = key.strip_suffix('_').unwrap_or(&key).to_owned();
        let node = walk.node(&value, &key);
        entries.push(Entry { key, node });
    }
    walk.done()?;
    Ok(entries)
}

/// A field of a document object of this class, as it is written.
fn field(
    py: Python<'_>,
    (class, fields): (&str, &[&str]),
    of: &dyn Write,
    name: &str,
) -> PyResult<Py<PyAny>> {
    let key = name.strip_suffix('_').unwrap_or(name);
    if !fields.contains(&key) {
        let message = format!("{class} has no field `{name}`: {}", fields.join(", "));
        return Err(PyAttributeError::new_err(message));
    }
    match of.write().get(key) {
        Some(node) => to_python(py, node),
        None => Ok(py.None()),
    }
}

/// The tree of a document object with other values at these paths and in these fields.
fn replaced(
    py: Python<'_>,
    of: &dyn Write,
    paths: Option<&Bound<'_, PyDict>>,
    changes: Option<&Bound<'_, PyDict>>,
) -> PyResult<Node> {
    let mut all = entries(&[], &PyTuple::empty(py), paths)?;
    let named = entries(&[], &PyTuple::empty(py), changes)?;
    all.extend(named.into_iter().map(|e| Entry { key: e.key.replace("__", "."), ..e }));
    record::changed(of.write(), all).map_err(|e| raise(py, &e))
}

/// `Name(field=value, …)`, as it could be written.
pub(crate) fn shown(py: Python<'_>, name: &str, node: &Node) -> PyResult<String> {
    let mut parts = Vec::new();
    if let Value::Map(entries) = &node.value {
        for entry in entries {
            let value = to_python(py, &entry.node)?;
            let from = if entry.key == "from" { "_" } else { "" };
            parts.push(format!("{}{from}={}", entry.key, value.bind(py).repr()?));
        }
    }
    Ok(format!("{name}({})", parts.join(", ")))
}

macro_rules! documents {
    ($($(#[doc = $doc:literal])* $name:ident = $ty:ty $(, kind $kind:literal)? $(, after $after:path)?;)*) => {
        $(
            $(#[doc = $doc])*
            /// Fields by name or in order; `fields()` tells them. Refuses with InputError, all problems at once.
            #[pyclass(frozen, eq, module = "proofspan")]
            #[derive(Clone, PartialEq)]
            pub(crate) struct $name(pub(crate) $ty);

            #[pymethods]
            impl $name {
                #[new]
                #[pyo3(signature = (*values, **fields))]
                fn new(py: Python<'_>, values: &Bound<'_, PyTuple>, fields: Option<&Bound<'_, PyDict>>) -> PyResult<Self> {
                    let entries = entries(<$ty>::FIELDS, values, fields)?;
                    $(let entries = $after(entries, values.len());)?
                    read_node(&Node::new(Value::Map(entries))).map(Self).map_err(|e| raise(py, &e))
                }

                /// Reads JSON text.
                #[classmethod]
                fn from_json(_cls: &Bound<'_, PyType>, py: Python<'_>, text: Text) -> PyResult<Self> {
                    parse_json(text.of("text")?).and_then(|node| read_node(&node)).map(Self).map_err(|e| raise(py, &e))
                }

                /// The name of every field with what it means.
                #[staticmethod]
                fn fields(py: Python<'_>) -> PyResult<Py<PyDict>> {
                    static SAID: OnceLock<Vec<(&str, String)>> = OnceLock::new();
                    let said = SAID.get_or_init(|| described(&Shapes::outermost(<$ty as Read>::shape), <$ty>::FIELDS));
                    let dict = PyDict::new(py);
                    for (name, about) in said {
                        dict.set_item(name, about)?;
                    }
                    Ok(dict.unbind())
                }

                /// A field as it is written: a quantity, number, text, list or dict; None where it is left out.
                fn __getattr__(&self, py: Python<'_>, name: &str) -> PyResult<Py<PyAny>> {
                    field(py, (stringify!($name), <$ty>::FIELDS), &self.0, name)
                }

                /// JSON text that reads back to an equal object.
                fn to_json(&self) -> String {
                    write_json(&self.0.write())
                }

                /// The fields as dicts, lists, numbers and text as written.
                #[pyo3(signature = (units = None))]
                fn to_dict(
                    &self,
                    py: Python<'_>,
                    #[pyo3(from_py_with = by_name::own_units)] units: Option<&str>,
                ) -> PyResult<Py<PyAny>> {
                    plain_python(py, units, || self.0.write())
                }

                /// The same with other values of some fields; those of nested parts by their paths, in a dict
                /// or with double underscores: `replace({"beam.span": "6 m"})`, `replace(beam__span="6 m")`,
                /// `replace({"loads.actions[1].load": "3 kPa"})`.
                #[pyo3(signature = (paths = None, /, **changes))]
                fn replace(
                    &self,
                    py: Python<'_>,
                    paths: Option<&Bound<'_, PyDict>>,
                    changes: Option<&Bound<'_, PyDict>>,
                ) -> PyResult<Self> {
                    let node = replaced(py, &self.0, paths, changes)?;
                    read_node(&node).map(Self).map_err(|e| raise(py, &e))
                }

                fn __copy__(&self) -> Self {
                    self.clone()
                }

                fn __deepcopy__(&self, _memo: &Bound<'_, PyAny>) -> Self {
                    self.clone()
                }

                fn __repr__(&self, py: Python<'_>) -> PyResult<String> {
                    shown(py, stringify!($name), &self.0.write())
                }

                fn __reduce__(&self, py: Python<'_>) -> PyResult<(Py<PyAny>, (String,))> {
                    Ok((py.get_type::<Self>().getattr("from_json")?.unbind(), (self.to_json(),)))
                }
            }
        )*

        /// Gives every class its signature and its fields.
        pub(crate) fn describe(py: Python<'_>) -> PyResult<()> {
            $( record::describe(&py.get_type::<$name>(), <$ty>::FIELDS, <$ty as Read>::shape)?; )*
            Ok(())
        }

        /// The record of a document object of just this kind.
        fn record_of<T: Clone + 'static>(object: &Bound<'_, PyAny>) -> Option<T> {
            $(
                if TypeId::of::<T>() == TypeId::of::<$ty>() {
                    let record: &dyn Any = &object.cast::<$name>().ok()?.get().0;
                    return record.downcast_ref().cloned();
                }
            )*
            None
        }

        /// The tree of a document object; nothing where the object is none.
        pub(crate) fn node_of(object: &Bound<'_, PyAny>) -> Option<Node> {
            $(
                if let Ok(found) = object.cast::<$name>() {
                    let node = found.get().0.write();
                    $(let node = with_kind($kind, node);)?
                    return Some(node);
                }
            )*
            // an edition stands where it is chosen
            let edition = object.cast::<crate::answers::Edition>().ok()?;
            Some(proofspan::editions::EditionChoice::whole(&edition.get().0).write())
        }
    };
}

documents! {
    /// The whole test in one document.
    TestSpec = proofspan::TestSpec, after versioned;
    /// The question: which member, region and failure mode.
    Scope = proofspan::scope::Scope;
    /// The member under test.
    Member = proofspan::scope::Member;
    /// The region in doubt and the failure mode: `Doubt("shear", "0 ft", "6 ft")`.
    Doubt = proofspan::scope::Doubt;
    /// How the joists of one unit and the neighbours share.
    Sharing = proofspan::scope::Sharing;
    /// What the survey found.
    Finding = proofspan::scope::Finding;
    /// The member as a line of spans.
    BeamSpec = proofspan::beam::BeamSpec;
    /// One support of a line of spans: `SupportSpec("6 m", kind="fixed")`.
    SupportSpec = proofspan::beam::SupportSpec;
    /// A stretch of the member with a section of its own.
    StretchSpec = proofspan::beam::StretchSpec;
    /// A stage after the first: another region in doubt with its own layout.
    StageSpec = proofspan::StageSpec;
    /// A search for places on a grid: `SearchSpec(2, "0.5 m")`.
    SearchSpec = proofspan::equivalent::SearchSpec;
    /// Modulus of elasticity and second moment of area.
    Rigidity = proofspan::beam::Rigidity;
    /// The nominal actions. Besides the list `actions`, actions may be given by their names,
    /// with `in_place` naming those already there:
    /// `Loads(width=8 * ft, self_weight=76 * psf, live="40 psf", in_place=["self_weight"])`.
    Loads = proofspan::loads::Loads;
    /// One action.
    Action = proofspan::loads::Action;
    /// A load that falls linearly from a peak to zero: `Taper("40 psf", "0 ft", "10 ft")`.
    Taper = proofspan::loads::Taper;
    /// A concentrated action.
    PointAction = proofspan::loads::PointAction;
    /// Which edition, and which of its sets.
    EditionChoice = proofspan::editions::EditionChoice;
    /// Facts that decide which load set applies.
    Facts = proofspan::editions::Facts;
    /// The layout asked for.
    LayoutSpec = proofspan::equivalent::LayoutSpec;
    /// One line of jacks across the member unit; its place is searched where it is left out.
    JackLine = proofspan::equivalent::JackLineSpec, kind "jack_line";
    /// One jack on a spreader with two or more contact points.
    Spreader = proofspan::equivalent::SpreaderSpec, kind "spreader";
    /// A pad or patch under one jack: `Pad("2 m", "3 m")`.
    Pad = proofspan::equivalent::PadSpec, kind "pad";
    /// Bags or blocks in piles with gaps.
    Bags = proofspan::equivalent::BagsSpec, kind "bags";
    /// A basin of water; what stands in it follows the deflection.
    Water = proofspan::equivalent::WaterSpec, kind "water";
    /// Wheels: axles that roll on together.
    Wheels = proofspan::equivalent::WheelsSpec, kind "wheels";
    /// A limit on how far the test may exceed the reference inside the region in doubt.
    OvershootLimit = proofspan::equivalent::OvershootLimit;
    /// Something that may bring load on: `Candidate(["3 m", "5 m"], plate="200 mm")`; see also
    /// `jack`, `patch` and `grid`.
    Candidate = proofspan::equivalent::Candidate, after contacts_first;
    /// The reference is reached for every x of a stretch: `Reach("moment", "2 m", "6 m")`.
    Reach = proofspan::equivalent::Reach, kind "reach";
    /// The reference is not exceeded by more than a ratio.
    Within = proofspan::equivalent::Within, kind "within";
    /// The total moment stays below a share of cracking or strength.
    MomentLimit = proofspan::equivalent::MomentLimit, kind "moment_limit";
    /// The total shear stays below a share of the shear strength.
    ShearLimit = proofspan::equivalent::ShearLimit, kind "shear_limit";
    /// The deflection under the test stays within limits.
    DeflectionLimit = proofspan::equivalent::DeflectionLimit, kind "deflection_limit";
    /// The total reaction of a support stays within limits.
    ReactionLimit = proofspan::equivalent::ReactionLimit, kind "reaction_limit";
    /// Moment over shear stays in a window.
    ShearSpan = proofspan::equivalent::ShearSpan, kind "shear_span";
    /// What is made small: `Objective("overshoot", "moment", "net")`.
    Objective = proofspan::equivalent::Objective;
    /// Where a candidate may stand, and how far apart its contacts.
    Room = proofspan::equivalent::Room;
    /// How far what is built may be from what is drawn.
    Deviations = proofspan::equivalent::Deviations;
    /// What the jacks push against, and how.
    RigSpec = proofspan::rig::RigSpec;
    /// What the jacks pull up: a member, a platform, anchors, a vehicle or a frame.
    ReactionMember = proofspan::rig::ReactionMember;
    /// An anchor in the ground or in a mass below.
    Anchor = proofspan::rig::Anchor;
    /// A weight on the reaction member.
    Counterweight = proofspan::rig::Counterweight;
    /// The jacks of one circuit, on one member unit.
    Jacks = proofspan::rig::Jacks;
    /// The bars between jack and reaction member.
    Bars = proofspan::rig::Bars;
    /// Sections along the member, where its strength is to be predicted.
    CapacitySpec = proofspan::capacity::CapacitySpec;
    /// The catches, their posts and the levels below.
    ShoringSpec = proofspan::shoring::ShoringSpec;
    /// A catch under a piece that falls.
    Catch = proofspan::shoring::Catch;
    /// What holds the stubs at the bearings where no catch does.
    Stub = proofspan::shoring::Stub;
    /// A level that carries the catch.
    Level = proofspan::shoring::Level;
    /// The steps, holds and gauges.
    ProtocolSpec = proofspan::protocol::ProtocolSpec;
    /// A gauge.
    Gauge = proofspan::protocol::Gauge;
    /// What is on record before the test.
    SiteRecords = proofspan::protocol::SiteRecords;
    /// How a log of readings is laid out.
    LogSpec = proofspan::readings::LogSpec;
    /// What was seen and noted during the test.
    RunRecord = proofspan::criteria::RunRecord;
}

/// The version of the document is that of this library, unless another is given.
fn versioned(mut entries: Vec<Entry>, _: usize) -> Vec<Entry> {
    if entries.iter().all(|e| e.key != "schema_version") {
        let node = Node::new(Value::Count(u64::from(proofspan::SCHEMA_VERSION)));
        entries.push(Entry { key: "schema_version".to_owned(), node });
    }
    entries
}

/// The contacts may come first, without the name.
fn contacts_first(mut entries: Vec<Entry>, by_place: usize) -> Vec<Entry> {
    if let Some(first) = entries.first_mut().filter(|_| by_place > 0)
        && matches!(first.node.value, Value::List(_))
    {
        "contacts".clone_into(&mut first.key);
    }
    entries
}

fn described(schema: &serde_json::Value, names: &[&'static str]) -> Vec<(&'static str, String)> {
    let about = |name: &str| {
        let about = schema.get("properties")?.get(name)?.get("description")?;
        about.as_str().map(str::to_owned)
    };
    names.iter().map(|name| (*name, about(name).unwrap_or_default())).collect()
}

fn with_kind(word: &str, node: Node) -> Node {
    proofspan::source::join_kind(word, node)
}

/// A quantity as a node; its kind may be open.
pub(crate) fn quantity_node(quantity: &Quantity) -> Node {
    Node::new(Value::Quantity {
        kind: quantity.measure.kind,
        dimension: quantity.measure.dimension,
        si: quantity.si,
    })
}
