//! Conformity, risks and budgets of uncertainty; one record under every edition.

use proofspan::MemberOfLimits;
use proofspan::editions::Edition;
use proofspan::uncertainty::{self, Tolerance};
use pyo3::prelude::*;

use crate::alone::asked;
use crate::answers::{SharedRatio, SideBySide};
use crate::by_name;
use crate::errors::{long, raise};
use crate::results::told;

type Given<'a, 'py> = Option<&'a Bound<'py, PyAny>>;

/// The probability that a normal value of standard uncertainty `u` keeps a lower limit, an upper one,
/// or both. All numbers in one unit.
///
/// >>> import proofspan as ps
/// >>> round(ps.conformity(10.0, 1.0, upper=11.96), 3)          # one normal tail of 1.96 u
/// 0.975
#[pyfunction]
#[pyo3(signature = (value, u, lower = None, upper = None))]
pub(crate) fn conformity(
    py: Python<'_>,
    #[pyo3(from_py_with = by_name::value)] value: f64,
    #[pyo3(from_py_with = by_name::one_u)] u: f64,
    #[pyo3(from_py_with = by_name::lower)] lower: Option<f64>,
    #[pyo3(from_py_with = by_name::upper)] upper: Option<f64>,
) -> PyResult<f64> {
    Tolerance { lower, upper }.conformity(value, u).map_err(|e| raise(py, &e))
}

/// What is risked over all items before one is measured: (false acceptance, false rejection). Items are
/// normal about `mean` with `spread`, measured with standard uncertainty `u`, accepted inside the limits
/// by `guard`. All numbers in one unit.
///
/// >>> import proofspan as ps
/// >>> accepted, rejected = ps.decision_risks(10.0, 1.0, 0.1, upper=12.0)
/// >>> accepted < 0.01 and rejected < 0.02
/// True
#[pyfunction]
#[pyo3(signature = (mean, spread, u, lower = None, upper = None, guard = 0.0))]
pub(crate) fn decision_risks(
    py: Python<'_>,
    #[pyo3(from_py_with = by_name::mean)] mean: f64,
    #[pyo3(from_py_with = by_name::spread)] spread: f64,
    #[pyo3(from_py_with = by_name::one_u)] u: f64,
    #[pyo3(from_py_with = by_name::lower)] lower: Option<f64>,
    #[pyo3(from_py_with = by_name::upper)] upper: Option<f64>,
    #[pyo3(from_py_with = by_name::guard)] guard: f64,
) -> PyResult<(f64, f64)> {
    let limits = Tolerance { lower, upper };
    let risks = limits.global_risks((mean, spread), u, limits.guarded(guard));
    let risks = risks.map_err(|e| raise(py, &e))?;
    Ok((risks.false_acceptance, risks.false_rejection))
}

/// The guard band of one limit with which a value of standard uncertainty `u` on the limit of acceptance
/// is outside the limit with probability `risk`.
///
/// >>> import proofspan as ps
/// >>> round(ps.guard_for_risk(1.0, 0.025), 2)                  # a tail of 2.5 % lies beyond 1.96 u
/// 1.96
#[pyfunction]
pub(crate) fn guard_for_risk(
    py: Python<'_>,
    #[pyo3(from_py_with = by_name::one_u)] u: f64,
    #[pyo3(from_py_with = by_name::risk)] risk: f64,
) -> PyResult<f64> {
    uncertainty::guard_for_risk(u, risk).map_err(|e| raise(py, &e))
}

/// The ratio of two deflections from one zero, each of three readings with standard uncertainty `u`; all
/// numbers in one unit.
///
/// >>> import proofspan as ps
/// >>> found = ps.shared_ratio(2.0, 8.0, 0.1)                   # residual over largest deflection
/// >>> found.value, round(found.u, 5)                           # 0.1/8 sqrt(1 + 0.25² + 0.75²)
/// (0.25, 0.01593)
#[pyfunction]
pub(crate) fn shared_ratio(
    py: Python<'_>,
    #[pyo3(from_py_with = by_name::above)] above: f64,
    #[pyo3(from_py_with = by_name::below)] below: f64,
    #[pyo3(from_py_with = by_name::one_u)] u: f64,
) -> PyResult<SharedRatio> {
    let found = uncertainty::ratio_from_one_zero(above, below, u);
    found.map(SharedRatio).map_err(|e| raise(py, &e))
}

/// The combined standard uncertainty of independent contributions and its effective degrees of freedom
/// (Welch and Satterthwaite), None where all are known. `freedom` is None for a contribution that is
/// known, and left out where all are.
///
/// >>> import proofspan as ps
/// >>> u, freedom = ps.effective([3.0, 4.0], [8.0, None])       # Welch-Satterthwaite: 5⁴/(3⁴/8)
/// >>> u, round(freedom, 2)
/// (5.0, 61.73)
#[pyfunction]
#[pyo3(signature = (u, freedom = None))]
pub(crate) fn effective(
    py: Python<'_>,
    #[pyo3(from_py_with = by_name::u)] u: Vec<f64>,
    freedom: Given<'_, '_>,
) -> PyResult<(f64, Option<f64>)> {
    let known = |item: &Bound<'_, PyAny>| {
        if item.is_none() { Ok(f64::INFINITY) } else { by_name::freedom(item) }
    };
    let freedom = match freedom.filter(|f| !f.is_none()) {
        Some(list) => {
            by_name::items(list, "freedom")?.iter().map(known).collect::<PyResult<_>>()?
        }
        None => vec![f64::INFINITY; u.len()],
    };
    let found = uncertainty::effective(&u, &freedom).map_err(|e| raise(py, &e))?;
    Ok((found.u, Some(found.freedom).filter(|f| f.is_finite())))
}

/// A log and the record of its run by the criteria of every shipped edition that has some for the
/// method: CSV text or a path, what its columns are, the record; of the member its span centre to
/// centre, its depth and what else limits speak of. For a designed test see `Design.side_by_side`.
///
/// >>> import proofspan as ps
/// >>> from pathlib import Path
/// >>> files = [Path(f"examples/scenarios/terrace_strip.{end}").read_text(encoding="utf-8") for end in ("log.csv", "log.json", "record.json")]
/// >>> found = ps.side_by_side(*files, span="45 ft", depth="34 in")
/// >>> len(found.editions) > 3, found.table.startswith("|")
/// (True, True)
#[pyfunction]
#[pyo3(signature = (log, columns, record, *, span, depth = None, clear_span = None, cantilever = None, unit = None, method = None, target = None))]
#[expect(clippy::too_many_arguments, reason = "arguments by name")]
pub(crate) fn side_by_side(
    py: Python<'_>,
    log: &Bound<'_, PyAny>,
    columns: &Bound<'_, PyAny>,
    record: &Bound<'_, PyAny>,
    span: &Bound<'_, PyAny>,
    depth: Given<'_, '_>,
    clear_span: Given<'_, '_>,
    cantilever: Given<'_, '_>,
    unit: Given<'_, '_>,
    method: Given<'_, '_>,
    target: Given<'_, '_>,
) -> PyResult<SideBySide> {
    let limits = [
        ("span", Some(span)),
        ("depth", depth),
        ("clear_span", clear_span),
        ("cantilever", cantilever),
        ("unit", unit),
        ("method", method),
        ("target", target),
    ];
    let member: MemberOfLimits = asked(py, &limits)?;
    let (log, columns, record) = told(py, log, columns, record)?;
    let editions = Edition::list().map_err(|e| raise(py, &e))?;
    let editions: Vec<&Edition> = editions.iter().map(AsRef::as_ref).collect();
    long(py, || proofspan::side_by_side(&editions, &member, (&log, &columns), &record))
        .map(SideBySide)
}
