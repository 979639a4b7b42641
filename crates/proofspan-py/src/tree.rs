//! Python objects to the tree every document becomes, and back.

use proofspan::error::{Error, Issue, slug};
use proofspan::source::{Entry, MAX_DEPTH, MAX_VALUES, Node, Value};
use proofspan::units::{Measure, written_in};
use pyo3::IntoPyObjectExt;
use pyo3::prelude::*;
use pyo3::types::{PyBool, PyDict, PyFloat, PyInt, PyList, PyString, PyTuple};

use crate::column::Column;
use crate::documents::{node_of, quantity_node};
use crate::errors::raise;
use crate::numbers::{number, numbers};
use crate::parts::Part;
use crate::quantity::Quantity;
use crate::refuse::{at, system, text};

/// Turns Python objects into trees and goes on after a problem, so that all are told.
#[derive(Default)]
pub(crate) struct Walk {
    issues: Vec<Issue>,
    values: usize,
    ended: bool,
}

/// Where a value stands within an argument.
enum Place<'a> {
    Argument(&'a str),
    Field(&'a Self, &'a str),
    Item(&'a Self, usize),
}

impl Place<'_> {
    fn path(&self) -> String {
        match self {
            Self::Argument(name) => (*name).to_owned(),
            Self::Item(list, i) => format!("{}[{i}]", list.path()),
            Self::Field(map, name) => match map.path() {
                path if path.is_empty() => (*name).to_owned(),
                path => format!("{path}.{name}"),
            },
        }
    }

    fn argument(&self) -> &str {
        match self {
            Self::Argument(name) => name,
            Self::Field(outer, _) | Self::Item(outer, _) => outer.argument(),
        }
    }
}

impl Walk {
    /// The tree of an argument.
    pub(crate) fn node(&mut self, object: &Bound<'_, PyAny>, argument: &str) -> Node {
        self.value(object, &Place::Argument(argument), 0)
    }

    /// Refuses with every problem that was found.
    pub(crate) fn done(self) -> PyResult<()> {
        Error::check(self.issues).map_err(|e| Python::attach(|py| raise(py, &e)))
    }

    fn refuse<T>(&mut self, place: &Place<'_>, found: Result<T, Issue>) -> Option<T> {
        found.map_err(|issue| self.issues.push(at(&place.path(), issue))).ok()
    }

    /// Whether so deep and so many may still be read; told once.
    fn ends(&mut self, place: &Place<'_>, depth: usize) -> bool {
        self.values += 1;
        let (slug, message) = match (depth > MAX_DEPTH, self.values > MAX_VALUES) {
            _ if self.ended => return true,
            (true, _) => (slug::SOURCE_DEPTH, format!("nested deeper than {MAX_DEPTH}")),
            (_, true) => (slug::SOURCE_SIZE, format!("more than {MAX_VALUES} values")),
            _ => return false,
        };
        self.ended = true;
        self.issues.push(Issue::new(slug, place.argument(), message));
        true
    }

    fn value(&mut self, object: &Bound<'_, PyAny>, place: &Place<'_>, depth: usize) -> Node {
        if self.ends(place, depth) {
            return Node::new(Value::Null);
        }
        let value = if object.is_none() {
            Some(Value::Null)
        } else if let Ok(word) = object.cast::<PyBool>() {
            Some(Value::Bool(word.is_true()))
        } else if let Ok(float) = object.cast::<PyFloat>() {
            Some(Value::Number(float.value()))
        } else if object.is_instance_of::<PyString>() {
            self.refuse(place, text(object)).map(Value::Text)
        } else if let Ok(quantity) = object.extract::<Quantity>() {
            return quantity_node(&quantity);
        } else if let Ok(column) = object.cast::<Column>() {
            let Column { measure, si } = column.get();
            let of = |si: &f64| quantity_node(&Quantity { measure: *measure, si: *si });
            Some(Value::List(si.iter().map(of).collect()))
        } else if let Some(node) = node_of(object) {
            return node;
        } else if let Ok(part) = object.cast::<Part>() {
            return self.value(part.get().values(object.py()), place, depth);
        } else if let Ok(dict) = object.cast::<PyDict>() {
            let mut entries = Vec::with_capacity(dict.len());
            for (key, value) in dict {
                if let Some(key) = self.refuse(place, name(&key)) {
                    let node = self.value(&value, &Place::Field(place, &key), depth + 1);
                    entries.push(Entry { key, node });
                }
            }
            Some(Value::Map(entries))
        } else if object.is_instance_of::<PyList>() || object.is_instance_of::<PyTuple>() {
            let mut items = Vec::new();
            for (i, item) in object.try_iter().into_iter().flatten().enumerate() {
                match item {
                    Ok(item) if !self.ended => {
                        items.push(self.value(&item, &Place::Item(place, i), depth + 1));
                    }
                    _ => break,
                }
            }
            Some(Value::List(items))
        } else {
            self.refuse(place, other(object))
        };
        Node::new(value.unwrap_or(Value::Null))
    }
}

/// The name of a field.
fn name(key: &Bound<'_, PyAny>) -> Result<String, Issue> {
    let shown = || key.repr().map_or_else(|_| "a name".to_owned(), |r| r.to_string_lossy().into());
    text(key).map_err(|issue| {
        let message = issue.message.clone().after("the name of a field is text: ");
        Issue { message, ..issue }.value(shown().chars().take(60).collect::<String>())
    })
}

/// Numbers, true or false, and rows of numbers of other libraries.
fn other(object: &Bound<'_, PyAny>) -> Result<Value, Issue> {
    if let Some(truth) = crate::numbers::truth(object) {
        return Ok(Value::Bool(truth));
    }
    if let Some(number) = number(object)? {
        return Ok(Value::Number(number));
    }
    if !object.is_instance_of::<PyInt>()
        && let Some(numbers) = numbers(object)?
    {
        return Ok(Value::List(numbers.into_iter().map(|n| Node::new(Value::Number(n))).collect()));
    }
    let kind = object.get_type().name().map_or_else(|_| "object".to_owned(), |n| n.to_string());
    let message =
        format!("a document holds text, numbers, quantities, lists and dicts; here is `{kind}`");
    Err(Issue::new(slug::SOURCE_TYPE, "", message))
}

/// The tree of one argument, by its name; of a whole document without one.
pub(crate) fn from_python(object: &Bound<'_, PyAny>, argument: &str) -> PyResult<Node> {
    let mut walk = Walk::default();
    let node = walk.node(object, argument);
    walk.done()?;
    Ok(node)
}

/// The tree of what is written, as Python objects; in the units of a system where one is named, as JSON can hold it.
pub(crate) fn plain_python(
    py: Python<'_>,
    units: Option<&str>,
    write: impl FnOnce() -> Node,
) -> PyResult<Py<PyAny>> {
    let Some(word) = units else { return to_python(py, &write()) };
    let system = system(word)?;
    to_python(py, &written_in(system, write).in_units(system))
}

/// A tree as Python objects.
pub(crate) fn to_python(py: Python<'_>, node: &Node) -> PyResult<Py<PyAny>> {
    Ok(match &node.value {
        Value::Null => py.None(),
        Value::Bool(b) => PyBool::new(py, *b).to_owned().into_any().unbind(),
        Value::Number(n) => PyFloat::new(py, *n).into_any().unbind(),
        Value::Count(n) => n.into_py_any(py)?,
        Value::Text(text) => PyString::new(py, text).into_any().unbind(),
        Value::Quantity { kind, dimension, si } => {
            let measure = Measure { dimension: *dimension, kind: *kind };
            Bound::new(py, Quantity { measure, si: *si })?.into_any().unbind()
        }
        Value::List(items) => {
            let list = PyList::empty(py);
            for item in items {
                list.append(to_python(py, item)?)?;
            }
            list.into_any().unbind()
        }
        Value::Map(entries) => {
            let dict = PyDict::new(py);
            for entry in entries {
                dict.set_item(&entry.key, to_python(py, &entry.node)?)?;
            }
            dict.into_any().unbind()
        }
    })
}
