//! Logs as Python holds them: text, a path, arrays by name, tables of pandas, polars and pyarrow.
//! What is in columns goes straight to columns.

use std::borrow::Cow;
use std::path::PathBuf;

use proofspan::error::{Error, Issue, slug};
use proofspan::readings::{
    Entries, Log, LogSpec, Table, TimeEntries, read_csv, read_csv_file, read_csv_text, read_table,
};
use pyo3::buffer::{Element, PyBuffer};
use pyo3::exceptions::PyException;
use pyo3::prelude::*;
use pyo3::types::{
    PyBool, PyByteArray, PyBytes, PyDict, PyFloat, PyInt, PyList, PyMapping, PyString, PyTuple,
};

use crate::errors::{ProofspanError, long, raise};
use crate::numbers::kind_name;
use crate::refuse::{at, refused, text};

/// Reads a log of any kind.
pub(crate) fn read(py: Python<'_>, log: &Bound<'_, PyAny>, layout: &LogSpec) -> PyResult<Log> {
    if log.is_instance_of::<PyString>() {
        let text = text(log).map_err(|issue| refused(at("log", issue)))?;
        long(py, || read_csv_text(&text, layout))
    } else if log.is_instance_of::<PyBytes>() || log.is_instance_of::<PyByteArray>() {
        let bytes: Vec<u8> = log.extract()?;
        long(py, || read_csv(bytes.as_slice(), layout))
    } else if let Ok(path) = log.extract::<PathBuf>() {
        long(py, || read_csv_file(&path, layout))
    } else if let Some(table) = table(log, layout).map_err(|error| unreadable(log, error))? {
        long(py, || read_table(&table, layout))
    } else {
        let message = "a log is text (CSV or JSON lines), a path, a dict of arrays by name, or a table of pandas, polars or pyarrow";
        let issue = Issue::new(slug::READINGS_FILE, "log", message).value(kind_name(log));
        Err(raise(
            py,
            &Error::data(vec![if has(log, "collect") && has(log, "collect_schema") {
                issue.remedy("collect the lazy frame first: frame.collect()")
            } else {
                issue
            }]),
        ))
    }
}

/// What a foreign object answered instead of its columns.
fn unreadable(log: &Bound<'_, PyAny>, error: PyErr) -> PyErr {
    let py = log.py();
    if !error.is_instance_of::<PyException>(py) || error.is_instance_of::<ProofspanError>(py) {
        return error;
    }
    let message = format!("`{}` does not give its columns: {error}", kind_name(log));
    let remedy = "give a dict of NumPy arrays by name";
    raise(py, &Error::data(vec![Issue::new(slug::READINGS_FILE, "log", message).remedy(remedy)]))
}

fn table(log: &Bound<'_, PyAny>, layout: &LogSpec) -> PyResult<Option<Table<'static>>> {
    columns(log)?.map(|columns| taken(&columns, layout)).transpose()
}

fn has(object: &Bound<'_, PyAny>, name: &str) -> bool {
    object.hasattr(name).unwrap_or(false)
}

/// Columns by name, in order; nothing where the object is no table.
type Columns<'py> = Vec<(String, Bound<'py, PyAny>)>;

fn columns<'py>(log: &Bound<'py, PyAny>) -> PyResult<Option<Columns<'py>>> {
    let py = log.py();
    let named = |names: Bound<'py, PyAny>,
                 column: &dyn Fn(usize) -> PyResult<Bound<'py, PyAny>>| {
        let mut all = Vec::new();
        for (i, name) in names.try_iter()?.enumerate() {
            all.push((name?.str()?.to_string_lossy().into_owned(), column(i)?));
        }
        Ok(Some(all))
    };
    if let Ok(dict) = log.cast::<PyDict>() {
        let one = |(name, column): (Bound<'py, PyAny>, Bound<'py, PyAny>)| {
            Ok((name.str()?.to_string_lossy().into_owned(), column))
        };
        return dict.iter().map(one).collect::<PyResult<Columns<'py>>>().map(Some);
    }
    if has(log, "iloc") && has(log, "columns") {
        // pandas; the index is a column where it has a name
        let all = log.getattr("iloc")?;
        let every = || pyo3::types::PySlice::full(py);
        let mut found =
            named(log.getattr("columns")?, &|i| all.get_item((every(), i)))?.unwrap_or_default();
        let index = log.getattr("index")?;
        if let Ok(name) = index.getattr("name")?.extract::<String>() {
            found.push((name, index.call_method0("to_series")?));
        }
        return Ok(Some(found));
    }
    if has(log, "get_columns") && has(log, "columns") {
        let all = log.call_method0("get_columns")?;
        return named(log.getattr("columns")?, &|i| all.get_item(i));
    }
    if has(log, "column_names") && has(log, "column") {
        return named(log.getattr("column_names")?, &|i| log.call_method1("column", (i,)));
    }
    if has(log, "collect_schema") {
        return Ok(None);
    }
    if has(log, "__arrow_c_stream__") {
        let table = py.import("pyarrow")?.call_method1("table", (log,))?;
        return columns(&table);
    }
    // a structured array of NumPy
    if let Ok(names) = log.getattr("dtype").and_then(|d| d.getattr("names"))
        && !names.is_none()
    {
        let list: Vec<String> = names.extract()?;
        return named(names, &|i| log.get_item(list.get(i).map_or("", String::as_str)));
    }
    if let Ok(mapping) = log.cast::<PyMapping>() {
        let values = mapping.values()?;
        return named(mapping.keys()?.into_any(), &|i| values.get_item(i));
    }
    Ok(None)
}

/// The table; columns that the layout does not map keep their name only.
fn taken(columns: &Columns<'_>, layout: &LogSpec) -> PyResult<Table<'static>> {
    let mapped = |name: &str| {
        name.trim() == layout.time.column || layout.channels.iter().any(|c| c.column == name.trim())
    };
    let mut table = Table::new();
    for (name, column) in columns {
        let entries = if mapped(name) { entries(column)? } else { other("not looked at") };
        table = table.with(name.clone(), entries);
    }
    Ok(table)
}

fn other(what: &str) -> Entries<'static> {
    Entries::Other(0, what.to_owned())
}

/// The entries of one column.
fn entries(column: &Bound<'_, PyAny>) -> PyResult<Entries<'static>> {
    let py = column.py();
    if column.is_instance_of::<PyList>() || column.is_instance_of::<PyTuple>() {
        return one_by_one(column);
    }
    // pandas holding columns of Arrow
    if has(column, "dtype") && has(&column.getattr("dtype")?, "pyarrow_dtype") {
        return entries(&column.getattr("array")?.call_method0("__arrow_array__")?);
    }
    let numpy = crate::column::numpy(py)?;
    let (zone, kind) = declared(column)?;
    if ["decimal", "bool", "dictionary", "list", "struct"].iter().any(|k| kind.starts_with(k)) {
        return match kind.as_str() {
            // words by number
            k if k.starts_with("dictionary") => one_by_one(column),
            k => Ok(other(k)),
        };
    }
    let array = if has(column, "dt") && has(column, "iloc") && zone.is_some() {
        // pandas gives objects else
        let utc = column.getattr("dt")?.call_method1("tz_convert", ("UTC",))?;
        utc.getattr("dt")?.call_method1("tz_localize", (py.None(),))?.call_method0("to_numpy")?
    } else if has(column, "iloc") && ["int", "uint", "float"].iter().any(|k| kind.starts_with(k)) {
        // of pandas, those that can be missing included
        let how = PyDict::new(py);
        how.set_item("dtype", "float64")?;
        how.set_item("na_value", f64::NAN)?;
        column.call_method("to_numpy", (), Some(&how))?
    } else if has(column, "to_pylist") {
        // Arrow copies only where it may
        let how = PyDict::new(py);
        how.set_item("zero_copy_only", false)?;
        column.call_method("to_numpy", (), Some(&how))?
    } else if has(column, "to_numpy") {
        column.call_method0("to_numpy")?
    } else {
        numpy.call_method1("asanyarray", (column,))?
    };
    let shape: Vec<usize> = array.getattr("shape")?.extract()?;
    if shape.len() != 1 {
        return Ok(other("an array of more than one row"));
    }
    let letter: String = array.getattr("dtype")?.getattr("kind")?.extract()?;
    match letter.as_str() {
        "f" | "i" | "u" => {
            let double = array.call_method1("astype", ("f8",))?;
            let double = if has(&double, "filled") {
                double.call_method1("filled", (f64::NAN,))?
            } else {
                double
            };
            Ok(Entries::Numbers(buffer::<f64>(&double)?.into()))
        }
        "M" | "m" => {
            let nanoseconds = format!("{letter}8[ns]");
            let exact = array.call_method1("astype", (nanoseconds,))?;
            let times = buffer::<i64>(&exact.call_method1("view", ("i8",))?)?;
            let of = match (letter.as_str(), zone) {
                ("m", _) => TimeEntries::Elapsed,
                (_, Some(zone)) => TimeEntries::Zoned(zone),
                _ => TimeEntries::Wall,
            };
            Ok(Entries::Times(times.into(), of))
        }
        "b" => Ok(other("bool")),
        "c" => Ok(other("complex")),
        _ => one_by_one(&array.call_method0("tolist")?),
    }
}

/// What a column says of itself: the zone of its times, and the kind of its entries in lower case.
fn declared(column: &Bound<'_, PyAny>) -> PyResult<(Option<String>, String)> {
    let py = column.py();
    let kind = ["dtype", "type"].iter().find_map(|name| column.getattr(*name).ok());
    let Some(kind) = kind else { return Ok((None, String::new())) };
    let zone = ["tz", "time_zone"].iter().find_map(|name| kind.getattr(*name).ok());
    let zone = zone.filter(|z| !z.is_none()).unwrap_or_else(|| py.None().into_bound(py));
    let zone = if zone.is_none() { None } else { Some(zone.str()?.to_string_lossy().into_owned()) };
    let kind = kind.str()?.to_string_lossy().to_lowercase();
    Ok((zone, kind))
}

fn buffer<T: Element>(array: &Bound<'_, PyAny>) -> PyResult<Vec<T>> {
    PyBuffer::<T>::get(array)?.to_vec(array.py())
}

/// Numbers, texts, dates and nothing, entry by entry.
fn one_by_one(column: &Bound<'_, PyAny>) -> PyResult<Entries<'static>> {
    let mut numbers: Vec<f64> = Vec::new();
    let mut texts: Vec<Option<Cow<'static, str>>> = Vec::new();
    let mut is_text = false;
    for (i, entry) in column.try_iter()?.enumerate() {
        let entry = entry?;
        let kind = kind_name(&entry);
        let plain = (entry.is_instance_of::<PyFloat>() || entry.is_instance_of::<PyInt>())
            && !entry.is_instance_of::<PyBool>();
        let text = if entry.is_none() || ["NAType", "NaTType"].contains(&kind.as_str()) {
            numbers.push(f64::NAN);
            None
        } else if plain {
            let number: f64 = entry.extract()?;
            numbers.push(number);
            (!number.is_nan()).then(|| number.to_string())
        } else if entry.is_instance_of::<PyString>() {
            is_text = true;
            Some(entry.extract()?)
        } else if has(&entry, "isoformat") && has(&entry, "tzinfo") {
            is_text = true;
            Some(entry.call_method0("isoformat")?.extract()?)
        } else if has(&entry, "as_py") {
            // an entry of Arrow
            return one_by_one(&column.call_method0("to_pylist")?);
        } else {
            return Ok(Entries::Other(i, kind));
        };
        texts.push(text.map(Cow::Owned));
    }
    Ok(if is_text { Entries::Texts(texts) } else { Entries::Numbers(numbers.into()) })
}
