//! Errors to exceptions, every one with its list of issues.

use std::cell::RefCell;
use std::rc::Rc;

use proofspan::error::{Cause, Error, watched};
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
        _ => ProofspanError::new_err(text),
    };
    let issues = to_python(py, &error.issues.write());
    if let Err(failed) = issues.and_then(|issues| exception.value(py).setattr("issues", issues)) {
        return failed;
    }
    exception
}

/// Runs what may take long without the lock of the interpreter, so that other threads go on; a signal such
/// as Ctrl-C ends it with the exception of its handler.
pub(crate) fn long<T: Send>(
    py: Python<'_>,
    work: impl FnOnce() -> Result<T, Error> + Send,
) -> PyResult<T> {
    let (result, signal) = py.detach(|| {
        let signal = Rc::new(RefCell::new(None));
        let caught = Rc::clone(&signal);
        let go_on = move || match Python::attach(|py| py.check_signals()) {
            Ok(()) => true,
            Err(raised) => {
                *caught.borrow_mut() = Some(raised);
                false
            }
        };
        let result = watched(go_on, work);
        (result, signal.take())
    });
    match signal {
        Some(raised) => Err(raised),
        None => result.map_err(|e| raise(py, &e)),
    }
}
