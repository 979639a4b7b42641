//! Which plain numbers does a Python object hold? Right, or refused: never a guess.

use proofspan::error::{Issue, slug};
use pyo3::buffer::PyBuffer;
use pyo3::exceptions::PyOverflowError;
use pyo3::prelude::*;
use pyo3::types::{
    PyBool, PyByteArray, PyBytes, PyComplex, PyDict, PyFloat, PyFrozenSet, PyInt, PyMapping,
    PyMemoryView, PySequence, PySet, PyString,
};

/// A number, or why there is none; nothing where the object is no number at all.
type Found<T> = Result<Option<T>, Issue>;

fn problem(slug: proofspan::error::Slug, message: impl Into<proofspan::units::Message>) -> Issue {
    Issue::new(slug, "", message)
}

/// What kind of object this is.
pub(crate) fn kind_name(object: &Bound<'_, PyAny>) -> String {
    object.get_type().name().map_or_else(|_| "object".to_owned(), |n| n.to_string())
}

/// An attribute; nothing where there is none, or reading it fails.
fn attribute<'py>(object: &Bound<'py, PyAny>, name: &str) -> Option<Bound<'py, PyAny>> {
    object.getattr(name).ok()
}

/// The shape of an array, a table, or a scalar of an array library.
fn shape(object: &Bound<'_, PyAny>) -> Option<Vec<usize>> {
    attribute(object, "dtype").or_else(|| attribute(object, "dtypes"))?;
    attribute(object, "shape")?.extract().ok()
}

/// The letter by which NumPy and pandas call a kind of entries: f, i, u, b, c, O and others.
fn letter(object: &Bound<'_, PyAny>) -> Option<String> {
    attribute(object, "dtype")?.getattr("kind").ok()?.extract().ok()
}

/// A quantity of another library has a unit that would be lost.
fn not_foreign(object: &Bound<'_, PyAny>) -> Result<(), Issue> {
    let has = |name: &str| attribute(object, name).is_some_and(|a| !a.is_callable());
    if attribute(object, "iloc").is_none()
        && (has("magnitude") || has("value"))
        && (has("units") || has("unit"))
    {
        let message = format!("`{}` is a quantity of another library", kind_name(object));
        return Err(problem(slug::UNITS_FOREIGN, message));
    }
    Ok(())
}

/// Kinds of entries that are no real numbers.
fn real(letter: Option<&str>) -> Result<(), Issue> {
    match letter {
        Some("b") => Err(bool_as_number()),
        Some("c") => Err(complex()),
        Some("f" | "i" | "u" | "O") | None => Ok(()),
        Some(other) => {
            let message = format!("entries of the kind `{other}` are no numbers");
            Err(problem(slug::UNITS_ARRAY, message))
        }
    }
}

fn bool_as_number() -> Issue {
    problem(slug::UNITS_BOOL_AS_NUMBER, "True and False are not numbers")
}

fn complex() -> Issue {
    problem(slug::UNITS_ARRAY, "a complex number measures nothing here").remedy("give real numbers")
}

/// The first entry that a mask hides.
fn unmasked(object: &Bound<'_, PyAny>) -> Result<(), Issue> {
    let Some(mask) = attribute(object, "mask").filter(|m| !m.is_callable()) else { return Ok(()) };
    let hidden = |mask: &Bound<'_, PyAny>| mask.call_method0("any")?.is_truthy();
    if hidden(&mask).unwrap_or(true) {
        let first = mask.call_method0("argmax").and_then(|i| i.extract::<usize>()).unwrap_or(0);
        let issue = problem(slug::UNITS_ARRAY, format!("entry {first} is masked"));
        return Err(issue.remedy("leave masked entries out: array.compressed()"));
    }
    Ok(())
}

/// True or false of another library.
pub(crate) fn truth(object: &Bound<'_, PyAny>) -> Option<bool> {
    let scalar = shape(object)?.is_empty() && letter(object).as_deref() == Some("b");
    (scalar && unmasked(object).is_ok()).then(|| object.is_truthy().ok()).flatten()
}

/// A finite number that is not `True` or `False`; nothing where the object is no number at all.
pub(crate) fn number(object: &Bound<'_, PyAny>) -> Found<f64> {
    if object.is_instance_of::<PyBool>() {
        return Err(bool_as_number());
    }
    if object.is_instance_of::<PyComplex>() {
        return Err(complex());
    }
    if object.is_instance_of::<PyString>() {
        return Ok(None);
    }
    let plain = object.is_instance_of::<PyFloat>() || object.is_instance_of::<PyInt>();
    if !plain {
        not_foreign(object)?;
        let shape = shape(object);
        match &shape {
            Some(shape) if !shape.is_empty() => return Ok(None),
            Some(_) => {
                unmasked(object)?;
                real(letter(object).as_deref())?;
            }
            None => {}
        }
        // numbers of other libraries say so by __float__; what has a length is a row of them
        let has = |name| attribute(object, name).is_some();
        if !has("__float__") || (shape.is_none() && has("__len__")) {
            return Ok(None);
        }
    }
    let number: f64 = object.extract().map_err(|error: PyErr| {
        if error.is_instance_of::<PyOverflowError>(object.py()) {
            return problem(
                slug::UNITS_NONFINITE,
                "a whole number beyond every number that counts",
            );
        }
        problem(slug::SOURCE_TYPE, format!("`{}` is no number", kind_name(object)))
    })?;
    if number.is_finite() {
        return Ok(Some(number));
    }
    let message = format!("`{number}` is not a finite number");
    Err(problem(slug::UNITS_NONFINITE, message).value(number))
}

/// The finite numbers of a list, tuple, array or column of a table; nothing where the object is no
/// row at all.
pub(crate) fn numbers(object: &Bound<'_, PyAny>) -> Found<Vec<f64>> {
    if object.is_instance_of::<PyString>() {
        return Ok(None);
    }
    not_foreign(object)?;
    if let Some(shape) = shape(object) {
        if shape.len() != 1 {
            let shape = shape.iter().map(ToString::to_string).collect::<Vec<_>>().join(" × ");
            return Err(problem(slug::UNITS_ARRAY, "an array of more than one row")
                .value(shape)
                .limit("one dimension"));
        }
        unmasked(object)?;
        real(letter(object).as_deref())?;
        // tables give their column as an array, in the order of its entries
        let array = object.call_method0("to_numpy").unwrap_or_else(|_| object.clone());
        real(letter(&array).as_deref())?;
        return entries(&array).map(Some);
    }
    let bytes = object.is_instance_of::<PyBytes>()
        || object.is_instance_of::<PyByteArray>()
        || (object.is_instance_of::<PyMemoryView>() && doubles(object).is_none());
    let unordered = object.is_instance_of::<PyDict>()
        || object.is_instance_of::<PySet>()
        || object.is_instance_of::<PyFrozenSet>()
        || object.cast::<PyMapping>().is_ok();
    if bytes || unordered {
        let message = format!("`{}` is no row of numbers", kind_name(object));
        return Err(problem(slug::UNITS_ARRAY, message));
    }
    if doubles(object).is_none() && object.cast::<PySequence>().is_err() {
        return Ok(None);
    }
    entries(object).map(Some)
}

/// Doubles in the order of bytes of this machine, read without a detour over Python numbers.
fn doubles(row: &Bound<'_, PyAny>) -> Option<Vec<f64>> {
    let buffer = PyBuffer::<f64>::get(row).ok()?;
    let own: &[u8] = if cfg!(target_endian = "little") { b"<d" } else { b">d" };
    let format = buffer.format().to_bytes();
    if !([b"d" as &[u8], b"@d", b"=d", own].contains(&format)) {
        return None;
    }
    buffer.to_vec(row.py()).ok()
}

/// The entries of a row.
fn entries(row: &Bound<'_, PyAny>) -> Result<Vec<f64>, Issue> {
    let entry = |i: usize, issue: Issue| {
        let message = issue.message.clone().after(format!("entry {i}: "));
        Issue { message, ..issue }
    };
    if let Some(values) = doubles(row) {
        return match values.iter().position(|v| !v.is_finite()) {
            None => Ok(values),
            Some(i) => Err(entry(i, problem(slug::UNITS_NONFINITE, "not a finite number"))),
        };
    }
    let broken = |_| problem(slug::UNITS_ARRAY, format!("`{}` cannot be read", kind_name(row)));
    let mut values = Vec::new();
    for (i, item) in row.try_iter().map_err(broken)?.enumerate() {
        let item = item.map_err(broken)?;
        let found = number(&item).map_err(|issue| entry(i, issue))?;
        values.push(found.ok_or_else(|| {
            let message = format!("a number is wanted; here is `{}`", kind_name(&item));
            entry(i, problem(slug::UNITS_ARRAY, message))
        })?);
    }
    Ok(values)
}
