//! The Python extension: Python objects to trees, results to Python objects. No engineering here.

mod errors;
mod quantity;
mod results;
mod tree;

/// The extension module.
#[pyo3::pymodule]
mod _core {
    #[pymodule_export]
    use super::errors::{DataError, InputError, ProofspanError, SolverError, StopError};
    #[pymodule_export]
    use super::quantity::Quantity;
    #[pymodule_export]
    use super::results::{
        Design, Judgement, beam_actions, codes, design, editions, judge, read_log_faults, schema,
    };

    #[pymodule_export]
    #[allow(non_upper_case_globals, reason = "the name Python expects")]
    const __version__: &str = env!("CARGO_PKG_VERSION");
}
