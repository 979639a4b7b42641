//! Refusals of the glue: exceptions with issues, like those of the library.

use proofspan::beam::Side;
use proofspan::error::{Error, Issue, Slug, slug};
use proofspan::units::{Message, System, nearest};
use pyo3::prelude::*;
use pyo3::types::PyString;

use crate::errors::raise;
use crate::numbers::kind_name;

/// The exception of one problem.
pub(crate) fn refused(issue: Issue) -> PyErr {
    Python::attach(|py| raise(py, &Error::from(issue)))
}

/// The exception of a problem at an argument; an empty path where an operator has no names.
pub(crate) fn refuse(slug: Slug, path: &str, message: impl Into<Message>) -> PyErr {
    refused(Issue::new(slug, path, message))
}

/// The exception of a problem of a picture, by its code.
#[pyfunction]
pub(crate) fn _refusal(py: Python<'_>, code: &str, path: &str, message: &str) -> Py<PyAny> {
    let slug = Slug::all().iter().find(|s| s.code() == code).copied();
    refuse(slug.unwrap_or(slug::SOURCE_CHOICE), path, message.to_owned()).into_value(py).into_any()
}

/// A picture of `proofspan.plots` with these arguments; the Axes it was drawn on.
pub(crate) fn drawn<'py>(
    py: Python<'py>,
    picture: &str,
    arguments: impl pyo3::call::PyCallArgs<'py>,
) -> PyResult<Py<PyAny>> {
    Ok(py.import("proofspan.plots")?.call_method1(picture, arguments)?.unbind())
}

/// One of some words.
pub(crate) fn one_of<T: Copy>(
    path: &str,
    what: &str,
    word: &str,
    table: &[(&str, T)],
) -> PyResult<T> {
    let words: Vec<&str> = table.iter().map(|row| row.0).collect();
    table.iter().find(|row| row.0 == word).map(|row| row.1).ok_or_else(|| {
        let short: String = word.chars().take(60).collect();
        let issue = Issue::new(slug::SOURCE_CHOICE, path, format!("`{short}` is not {what}"));
        let issue = issue.value(&short).limit(words.join(", "));
        refused(issue.meant(nearest(word, words.iter().copied())))
    })
}

/// "left" or "right".
pub(crate) fn side(word: &str) -> PyResult<Side> {
    one_of("side", "a side", word, &[("left", Side::Left), ("right", Side::Right)])
}

/// "SI" or "US".
pub(crate) fn system(word: &str) -> PyResult<System> {
    one_of("units", "a unit system", word, &[("SI", System::Si), ("US", System::Us)])
}

/// Text of Python; half a pair of characters, which no text of a document can hold, is refused.
pub(crate) fn text(object: &Bound<'_, PyAny>) -> Result<String, Issue> {
    let Ok(text) = object.cast::<PyString>() else {
        let message = format!("text is wanted; here is `{}`", kind_name(object));
        return Err(Issue::new(slug::SOURCE_TYPE, "", message));
    };
    text.to_str().map(str::to_owned).map_err(|_| {
        let lossy: String = text.to_string_lossy().chars().take(60).collect();
        Issue::new(slug::SOURCE_TYPE, "", "text that holds half a character (a lone surrogate)")
            .value(lossy)
            .remedy("write the whole character")
    })
}

/// The same problem at a place.
pub(crate) fn at(path: &str, issue: Issue) -> Issue {
    Issue { path: path.to_owned(), ..issue }
}

/// An argument that is text. What is none is refused under the name of the argument.
pub(crate) struct Text(Result<String, Issue>);

impl<'a, 'py> FromPyObject<'a, 'py> for Text {
    type Error = std::convert::Infallible;
    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Result<Self, Self::Error> {
        Ok(Self(text(&object)))
    }
}

impl Text {
    /// The text of the argument with this name.
    pub(crate) fn of(&self, name: &str) -> PyResult<&str> {
        self.0.as_deref().map_err(|issue| refused(at(name, issue.clone())))
    }
}
