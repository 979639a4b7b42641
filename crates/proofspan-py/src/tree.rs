//! Python objects to the tree every document becomes, and back.

use proofspan::source::{Entry, MAX_DEPTH, Node, Value};
use proofspan::units::Measure;
use pyo3::IntoPyObjectExt;
use pyo3::exceptions::{PyTypeError, PyValueError};
use pyo3::prelude::*;
use pyo3::types::{PyBool, PyDict, PyFloat, PyInt, PyList, PyString, PyTuple};

use crate::documents::{node_of, quantity_node};
use crate::quantity::Quantity;

/// A Python object as a tree.
pub(crate) fn from_python(object: &Bound<'_, PyAny>, depth: usize) -> PyResult<Node> {
    if depth > MAX_DEPTH {
        return Err(PyValueError::new_err(format!(
            "[source.depth] nested deeper than {MAX_DEPTH}; write a flatter document"
        )));
    }
    let value = if object.is_none() {
        Value::Null
    } else if object.is_instance_of::<PyBool>() {
        Value::Bool(object.extract()?)
    } else if object.is_instance_of::<PyInt>() || object.is_instance_of::<PyFloat>() {
        Value::Number(object.extract()?)
    } else if object.is_instance_of::<PyString>() {
        Value::Text(object.extract()?)
    } else if let Ok(quantity) = object.extract::<Quantity>() {
        return Ok(quantity_node(&quantity));
    } else if let Some(node) = node_of(object) {
        return Ok(node);
    } else if let Ok(dict) = object.cast::<PyDict>() {
        let mut entries = Vec::with_capacity(dict.len());
        for (key, value) in dict {
            let key: String =
                key.extract().map_err(|_| PyTypeError::new_err("a name in a document is text"))?;
            entries.push(Entry { key, node: from_python(&value, depth + 1)? });
        }
        Value::Map(entries)
    } else if object.is_instance_of::<PyList>() || object.is_instance_of::<PyTuple>() {
        let mut items = Vec::new();
        for item in object.try_iter()? {
            items.push(from_python(&item?, depth + 1)?);
        }
        Value::List(items)
    } else {
        let kind = object.get_type().name()?.to_string();
        return Err(PyTypeError::new_err(format!(
            "a document holds text, numbers, quantities, lists and dicts; here is `{kind}`"
        )));
    };
    Ok(Node::new(value))
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
