//! Errors to exceptions, every one with its list of issues.

use proofspan::error::{Cause, Error};
use proofspan::source::Write;
use pyo3::create_exception;
use pyo3::exceptions::PyValueError;
use pyo3::prelude::*;

use crate::tree::to_python;

create_exception!(
    proofspan,
    ProofspanError,
    PyValueError,
    "Any refusal of proofspan; `issues` lists every problem."
);
create_exception!(
    proofspan,
    InputError,
    ProofspanError,
    "The description of the test cannot be used; `issues` lists every problem."
);
create_exception!(
    proofspan,
    DataError,
    ProofspanError,
    "A log of readings cannot be used; `issues` lists every problem."
);
create_exception!(
    proofspan,
    SolverError,
    ProofspanError,
    "A solver could not finish; `issues` holds the problem."
);
create_exception!(proofspan, StopError, ProofspanError, "A stop holds; `issues` lists every stop.");

/// The exception of an error.
pub(crate) fn raise(py: Python<'_>, error: &Error) -> PyErr {
    let text = error.to_string();
    let exception = match error.cause {
        Cause::Input => InputError::new_err(text),
        Cause::Data => DataError::new_err(text),
        Cause::Solver => SolverError::new_err(text),
        Cause::Stop => StopError::new_err(text),
    };
    let issues = to_python(py, &error.issues.write());
    if let Err(failed) = issues.and_then(|issues| exception.value(py).setattr("issues", issues)) {
        return failed;
    }
    exception
}
