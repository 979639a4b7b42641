//! Arguments that are no parts of a document: words, counts, true or false, objects and lists of
//! them. What does not fit is refused under the name of the argument, like everything else.

use proofspan::error::{Error, Issue, slug};
use proofspan::source::{MAX_VALUES, Read, read_named};
use pyo3::prelude::*;
use pyo3::pyclass::boolean_struct::True;
use pyo3::types::{PyDict, PySequence, PyString};
use pyo3::{PyClass, PyTypeInfo};

use crate::errors::raise;
use crate::numbers::kind_name;
use crate::refuse::{at, refused, text};
use crate::tree::from_python;

type Given<'a, 'py> = &'a Bound<'py, PyAny>;

/// What else than a `wanted` was given.
fn wanted(path: &str, wanted: &str, object: Given<'_, '_>) -> Issue {
    let message = format!("{wanted} is wanted; here is `{}`", kind_name(object));
    Issue::new(slug::SOURCE_TYPE, path, message)
}

fn word<'a>(object: Given<'a, '_>, name: &str) -> PyResult<&'a str> {
    let text = text(object).map_err(|issue| refused(at(name, issue)));
    text.and_then(|_| object.cast::<PyString>()?.to_str())
}

/// A number, a count, true or false, or a list of them, as a document holds it.
fn plain<T: Read>(object: Given<'_, '_>, name: &str) -> PyResult<T> {
    read_named(name, &from_python(object, name)?).map_err(|e| raise(object.py(), &e))
}

fn class<T: PyTypeInfo>(py: Python<'_>) -> String {
    T::type_object(py).name().map_or_else(|_| "object".to_owned(), |name| name.to_string())
}

fn count(object: Given<'_, '_>, name: &str) -> PyResult<usize> {
    let number: f64 = plain(object, name)?;
    if number > f64::from(u32::MAX) && number.fract() <= 0.0 {
        return Ok(usize::MAX); // more than any limit
    }
    Ok(usize::try_from(plain::<u32>(object, name)?).unwrap_or(usize::MAX))
}

fn object<'a, T: PyClass<Frozen = True> + Sync>(
    object: Given<'a, '_>,
    name: &str,
) -> PyResult<&'a T> {
    let found = object.cast::<T>();
    found.map(Bound::get).map_err(|_| refused(wanted(name, &class::<T>(object.py()), object)))
}

/// The entries of a list or tuple.
pub(crate) fn items<'py>(
    object: &Bound<'py, PyAny>,
    name: &str,
) -> PyResult<Vec<Bound<'py, PyAny>>> {
    let row = object.cast::<PySequence>().is_ok() && !object.is_instance_of::<PyString>();
    let found = row.then(|| object.try_iter()?.take(MAX_VALUES).collect());
    match found {
        Some(Ok(items)) => Ok(items),
        _ => Err(refused(wanted(name, "a list", object))),
    }
}

/// A list of objects of one class; every other entry is told.
pub(crate) fn objects<'py, T: PyTypeInfo>(
    object: &Bound<'py, PyAny>,
    name: &str,
) -> PyResult<Vec<Bound<'py, T>>> {
    let mut issues = Vec::new();
    let mut found = Vec::new();
    for (i, item) in items(object, name)?.into_iter().enumerate() {
        match item.cast_into::<T>() {
            Ok(item) => found.push(item),
            Err(other) => {
                let class = class::<T>(object.py());
                issues.push(wanted(&format!("{name}[{i}]"), &class, &other.into_inner()));
            }
        }
    }
    Error::check(issues).map_err(|e| raise(object.py(), &e))?;
    Ok(found)
}

/// A left and a right end.
fn pair<'py>(
    object: &Bound<'py, PyAny>,
    name: &str,
) -> PyResult<(Bound<'py, PyAny>, Bound<'py, PyAny>)> {
    let all = items(object, name)?;
    <[_; 2]>::try_from(all).map(Into::into).map_err(|all| {
        let message = format!("two places are wanted; here are {}", all.len());
        refused(Issue::new(slug::SOURCE_TYPE, name, message))
    })
}

fn dict<'a, 'py>(object: Given<'a, 'py>, name: &str) -> PyResult<&'a Bound<'py, PyDict>> {
    object.cast().map_err(|_| refused(wanted(name, "a dict", object)))
}

/// A dict whose names are text.
fn named<'a, 'py>(object: Given<'a, 'py>, name: &str) -> PyResult<&'a Bound<'py, PyDict>> {
    let all = dict(object, name)?;
    let text = |key: &Bound<'py, PyAny>| text(key).is_ok();
    match all.keys().iter().all(|key| text(&key)) {
        true => Ok(all),
        false => Err(refused(wanted(name, "a dict by name", object))),
    }
}

fn maybe<'a, 'py, T>(
    object: Given<'a, 'py>,
    name: &str,
    read: fn(Given<'a, 'py>, &str) -> PyResult<T>,
) -> PyResult<Option<T>> {
    (!object.is_none()).then(|| read(object, name)).transpose()
}

/// A reader for each argument, which knows its name.
macro_rules! readers {
    ($($name:ident: $ty:ty = $read:expr;)*) => {$(
        pub(crate) fn $name<'a, 'py>(object: Given<'a, 'py>) -> PyResult<$ty> {
            let read: fn(Given<'a, 'py>, &str) -> PyResult<$ty> = $read;
            read(object, stringify!($name))
        }
    )*};
}

readers! {
    basis: &'a str = word;
    effect: &'a str = word;
    name: &'a str = word;
    objective: &'a str = word;
    response: &'a str = word;
    side: &'a str = word;
    standard: &'a str = word;
    unit: &'a str = word;
    units: &'a str = word;
    what: &'a str = word;
    fixed: bool = plain;
    lifts: bool = plain;
    series: bool = plain;
    side_by_side: bool = plain;
    k: f64 = plain;
    above: f64 = plain;
    below: f64 = plain;
    freedom: f64 = plain;
    guard: f64 = plain;
    mean: f64 = plain;
    risk: f64 = plain;
    spread: f64 = plain;
    value: f64 = plain;
    lower: Option<f64> = |o, name| maybe(o, name, plain);
    upper: Option<f64> = |o, name| maybe(o, name, plain);
    at_most: usize = count;
    pieces: usize = count;
    spans: usize = count;
    pattern: Vec<bool> = plain;
    u: Vec<f64> = plain;
    determinate: Option<bool> = |o, name| maybe(o, name, plain);
    support: Option<usize> = |o, name| maybe(o, name, count);
    beam: &'a crate::beam::Beam = object;
    design: &'a crate::results::Design = object;
    target: &'a crate::steps::Target = object;
    judgement: Option<&'a crate::results::Judgement> = |o, name| maybe(o, name, object);
    cases: Vec<Bound<'py, crate::beam::Response>> = objects;
    in_place: Vec<Bound<'py, crate::beam::Load>> = objects;
    loads: Vec<Bound<'py, crate::beam::Load>> = objects;
    supports: Vec<Bound<'py, crate::beam::Support>> = objects;
    forces: Vec<Bound<'py, PyAny>> = items;
    rooms: Vec<Bound<'py, PyAny>> = items;
    region: Option<(Bound<'py, PyAny>, Bound<'py, PyAny>)> = |o, name| maybe(o, name, pair);
    terms: &'a Bound<'py, PyDict> = dict;
    values: &'a Bound<'py, PyDict> = named;
}

/// One standard uncertainty.
pub(crate) fn one_u(object: &Bound<'_, PyAny>) -> PyResult<f64> {
    plain(object, "u")
}

/// Units of a picture; those of its own where none are said.
pub(crate) fn own_units<'a>(object: &'a Bound<'_, PyAny>) -> PyResult<Option<&'a str>> {
    maybe(object, "units", word)
}
