//! What Python knows of a record: its signature and its fields, from the table of the core; and a record
//! with some of its values exchanged.

use proofspan::error::{Error, Issue, slug};
use proofspan::source::{Entry, Node, Shapes, Value};
use pyo3::exceptions::PyAttributeError;
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyString, PyType};

type Names = &'static [&'static str];
type Shape = fn(&mut Shapes) -> serde_json::Value;

/// A field of a document class: its value of an object, itself of the class.
#[pyclass(frozen, module = "proofspan")]
pub(crate) struct Field {
    name: &'static str,
    shape: Shape,
}

#[pymethods]
impl Field {
    fn __get__(
        slf: &Bound<'_, Self>,
        object: &Bound<'_, PyAny>,
        _class: &Bound<'_, PyAny>,
    ) -> PyResult<Py<PyAny>> {
        if object.is_none() {
            return Ok(slf.clone().into_any().unbind());
        }
        object.call_method1("__getattr__", (slf.get().name,)).map(Bound::unbind)
    }

    /// No document changes: `replace` makes another.
    fn __set__(&self, _object: &Bound<'_, PyAny>, _value: &Bound<'_, PyAny>) -> PyResult<()> {
        let message = format!("a document does not change: replace({}=…) makes another", self.name);
        Err(PyAttributeError::new_err(message))
    }

    /// What the field means.
    #[getter]
    fn __doc__(&self) -> String {
        let shape = Shapes::outermost(self.shape);
        let about = shape.get("properties").and_then(|p| p.get(self.name)?.get("description"));
        about.and_then(|d| d.as_str()).unwrap_or_default().to_owned()
    }

    /// What the field accepts, as JSON schema.
    #[getter]
    fn schema(&self) -> String {
        Shapes::field(self.shape, self.name).map(|own| own.to_string()).unwrap_or_default()
    }

    fn __repr__(&self) -> String {
        format!("<field {}: {}>", self.name, self.__doc__())
    }
}

/// The signature of a document class, made when somebody asks.
#[pyclass(frozen, module = "proofspan")]
pub(crate) struct Signature {
    names: Names,
    shape: Shape,
}

#[pymethods]
impl Signature {
    fn __get__(
        &self,
        py: Python<'_>,
        _object: &Bound<'_, PyAny>,
        _class: &Bound<'_, PyAny>,
    ) -> PyResult<Py<PyAny>> {
        let shape = Shapes::outermost(self.shape);
        let required = |name: &str| {
            // the version of a document is filled in; contacts may come first without their name
            let first = self.names.first() == Some(&name);
            if name == "schema_version" || (name == "contacts" && !first) {
                return false;
            }
            let list = shape.get("required").and_then(|r| r.as_array());
            list.is_some_and(|l| l.iter().any(|n| n.as_str() == Some(name)))
        };
        let inspect = py.import("inspect")?;
        let parameter = inspect.getattr("Parameter")?;
        let (any, named) =
            (parameter.getattr("POSITIONAL_OR_KEYWORD")?, parameter.getattr("KEYWORD_ONLY")?);
        let mut list: Vec<Bound<'_, PyAny>> = Vec::new();
        let mut by_name = false;
        let mut optional = false;
        let make = |name: &str, must: bool, by_name: bool| -> PyResult<Bound<'_, PyAny>> {
            let given = PyDict::new(py);
            if !must {
                given.set_item("default", py.None())?;
            }
            let kind = if by_name { &named } else { &any };
            parameter.call((spelled(name), kind), Some(&given))
        };
        for name in self.names {
            let must = required(name);
            // a value that must be given cannot follow by place one that need not be
            by_name |= must && optional;
            optional |= !must;
            list.push(make(name, must, by_name)?);
        }
        // the names of a short form
        let properties = shape.get("properties").and_then(|p| p.as_object());
        for name in properties.into_iter().flat_map(|p| p.keys()) {
            if !self.names.contains(&name.as_str()) {
                list.push(make(name, required(name), true)?);
            }
        }
        inspect.getattr("Signature")?.call1((list,)).map(Bound::unbind)
    }
}

/// A field as Python writes it: a word of the language ends in an underscore.
fn spelled(name: &str) -> String {
    if name == "from" { "from_".to_owned() } else { name.to_owned() }
}

/// Gives a class its signature and its fields.
pub(crate) fn describe(class: &Bound<'_, PyType>, names: Names, shape: Shape) -> PyResult<()> {
    let py = class.py();
    class.setattr("__signature__", Signature { names, shape })?;
    for name in names {
        class.setattr(PyString::intern(py, &spelled(name)), Field { name, shape })?;
    }
    Ok(())
}

/// A step of a path into a document.
enum Step<'a> {
    Field(&'a str),
    Item(usize),
}

/// `loads.actions[1].load` as its steps; nothing where it is none.
fn steps(path: &str) -> Option<Vec<Step<'_>>> {
    let mut steps = Vec::new();
    for part in path.split('.') {
        let (name, mut rest) = part.find('[').map_or((part, ""), |at| part.split_at(at));
        match name.parse::<usize>() {
            Ok(item) => steps.push(Step::Item(item)),
            Err(_) => steps.push(Step::Field(name.strip_suffix('_').unwrap_or(name))),
        }
        while let Some(inside) = rest.strip_prefix('[') {
            let (item, after) = inside.split_once(']')?;
            steps.push(Step::Item(item.parse().ok()?));
            rest = after;
        }
        if !rest.is_empty() {
            return None;
        }
    }
    Some(steps)
}

/// Puts a value at a path; the paths that lead nowhere are told.
fn put(node: &mut Node, steps: &[Step<'_>], value: Node) -> bool {
    let Some((first, rest)) = steps.split_first() else {
        *node = value;
        return true;
    };
    match (first, &mut node.value) {
        (Step::Field(name), Value::Map(entries)) => {
            if let Some(entry) = entries.iter_mut().find(|e| e.key == *name) {
                return put(&mut entry.node, rest, value);
            }
            // a field that is not there yet: the reader knows whether there is such a one
            rest.is_empty() && {
                entries.push(Entry { key: (*name).to_owned(), node: value });
                true
            }
        }
        (Step::Item(i), Value::List(items)) => {
            items.get_mut(*i).is_some_and(|item| put(item, rest, value))
        }
        // one thing, or a list without brackets
        (Step::Item(0), _) => put(node, rest, value),
        _ => false,
    }
}

/// A map with some of its values exchanged, those of nested parts by their paths.
pub(crate) fn changed(mut node: Node, changes: Vec<Entry>) -> Result<Node, Error> {
    let mut issues = Vec::new();
    for change in changes {
        let there = steps(&change.key).is_some_and(|s| put(&mut node, &s, change.node));
        if !there {
            let message = format!("`{}` leads nowhere in this document", change.key);
            let issue = Issue::new(slug::SOURCE_FIELD_UNKNOWN, &change.key, message);
            issues.push(issue.remedy("name a field that is there, such as `beam.span`"));
        }
    }
    Error::check(issues)?;
    Ok(node)
}
