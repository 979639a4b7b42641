//! What acts: snow that drifts, water that ponds; what every edition asks of one member.

use proofspan::editions::EditionChoice;
use proofspan::error::{Issue, slug};
use proofspan::loads;
use proofspan::loads::Width;
use proofspan::scope::Doubt;
use proofspan::source::{Node, read_named, read_node};
use proofspan::target;
use proofspan::units::{AreaLoad, Length, UnitWeight};
use proofspan::verdict::MemberUnit;
use pyo3::prelude::*;
use pyo3::types::PyDict;

use crate::beam::{Beam, Load, Response, arguments};
use crate::by_name;
use crate::column::places;
use crate::documents::named;
use crate::errors::raise;
use crate::parts::{exactly, part};
use crate::quantity::Quantity;
use crate::refuse::{refuse, refused};
use crate::tree::from_python;

proofspan::record! {
    /// Snow at a step.
    pub struct DriftFields {
        /// Ground snow load.
        ground: AreaLoad,
        /// Balanced snow on the lower roof.
        balanced: AreaLoad,
        /// Length of the upper roof.
        upper: Length,
        /// Length of the lower roof, for 7-16.
        lower: Option<Length>,
        /// Height of the step.
        step: Length,
        /// Importance factor, for 7-16.
        importance: f64 = 1.0,
        /// Wind parameter W2, for 7-22.
        winter: Option<f64>,
    }
}

/// Snow that drifts against a step: by "ASCE 7-16" (ground snow nominal; `lower` and `importance`)
/// or "ASCE 7-22" (ground snow at strength level; `winter`). Formulas from memory: check them.
///
/// >>> import proofspan as ps
/// >>> drift = ps.snow_drift("ASCE 7-16", ground="30 psf", balanced="21 psf", upper="100 ft", lower="50 ft", step="10 ft", importance=1.0)
/// >>> f"{drift.gamma:.1f pcf}"                         # 0.13 * 30 + 14
/// '17.9 pcf'
#[pyfunction]
#[pyo3(signature = (standard, **fields))]
pub(crate) fn snow_drift(
    py: Python<'_>,
    #[pyo3(from_py_with = by_name::standard)] standard: &str,
    fields: Option<&Bound<'_, PyDict>>,
) -> PyResult<Py<PyAny>> {
    let node = fields.map_or(Ok(Node::map(Vec::new())), |f| from_python(f.as_any(), ""))?;
    let f: DriftFields = read_node(&node).map_err(|e| raise(py, &e))?;
    let drift = match (standard, f.lower, f.winter) {
        ("ASCE 7-16", Some(lower), None) => {
            loads::drift_asce_7_16(f.ground, f.balanced, f.upper, lower, f.step, f.importance)
        }
        ("ASCE 7-22", None, Some(winter)) => {
            loads::drift_asce_7_22(f.ground, f.balanced, f.upper, f.step, winter)
        }
        _ => {
            let message =
                "ASCE 7-16 takes `lower`, ASCE 7-22 takes `winter`; the two are not mixed";
            let short: String = standard.chars().take(60).collect();
            let issue = Issue::new(slug::SOURCE_CONTRADICTION, "standard", message).value(short);
            return Err(refused(issue.limit("ASCE 7-16, ASCE 7-22")));
        }
    };
    exactly(py, "SnowDrift", &drift.map_err(|e| raise(py, &e))?)
}

proofspan::record! {
    /// Water on a member.
    pub struct WaterFields {
        /// Tributary width.
        width: Length where Width,
        /// Unit weight of the water.
        gamma: UnitWeight = UnitWeight::from_si(9810.0),
    }
}

/// Water on a beam that gives way under it: static depths at places (linear between them), tributary
/// width, unit weight. Gives the loads, the actions, weights and the amplification.
///
/// >>> import proofspan as ps
/// >>> beam = ps.Beam.simple("8 m", "30000 kN·m²")
/// >>> found = ps.ponding(beam, ["0 m", "8 m"], ["50 mm", "50 mm"], "2 m")
/// >>> f"{found.static_weight:.3f kN}", found.weight > found.static_weight      # 9.81 * 0.05 * 2 * 8
/// ('7.848 kN', True)
#[pyfunction]
#[pyo3(signature = (beam, at, depth, width, gamma = None, pieces = 32))]
pub(crate) fn ponding(
    py: Python<'_>,
    #[pyo3(from_py_with = by_name::beam)] beam: &Beam,
    at: &Bound<'_, PyAny>,
    depth: &Bound<'_, PyAny>,
    width: &Bound<'_, PyAny>,
    gamma: Option<&Bound<'_, PyAny>>,
    #[pyo3(from_py_with = by_name::pieces)] pieces: usize,
) -> PyResult<Py<PyAny>> {
    let mut given = vec![("width", width)];
    given.extend(gamma.map(|gamma| ("gamma", gamma)));
    let f: WaterFields = arguments(py, &given)?;
    let (x, d) = (places(at, "at")?.si, places(depth, "depth")?.si);
    if x.len() != d.len() {
        let message = format!("{} places and {} depths", x.len(), d.len());
        return Err(refuse(slug::UNITS_ARRAY, "depth", message));
    }
    let bed: Vec<(Length, Length)> =
        x.iter().zip(&d).map(|(x, d)| (Length::from_si(*x), Length::from_si(*d))).collect();
    let found =
        loads::ponding(&beam.0, &bed, f.width, f.gamma, pieces).map_err(|e| raise(py, &e))?;
    let dict = PyDict::new(py);
    let loads: Vec<Load> = found.loads.into_iter().map(Load).collect();
    dict.set_item("loads", loads)?;
    dict.set_item("response", Response(found.response))?;
    dict.set_item("static_weight", Quantity::of(found.static_weight.into()))?;
    dict.set_item("weight", Quantity::of(found.weight.into()))?;
    dict.set_item("amplification", found.amplification)?;
    dict.set_item("growth", found.growth)?;
    dict.set_item("error", found.error)?;
    Ok(part("Ponding", dict)?.unbind())
}

/// What every shipped edition asks of one member in the region in doubt, or why it does not say.
///
/// >>> import proofspan as ps
/// >>> beam = ps.Beam.simple("8 m", "30000 kN·m²")
/// >>> loads = ps.Loads(width="2 m", self_weight="4 kPa", live="3 kPa", in_place="self_weight")
/// >>> table = ps.compare(beam, loads, ps.Doubt("flexure", "2 m", "6 m"), "strip")
/// >>> [f"{row.net_moment:.1f kN·m}" for row in table if row.name == "ACI 437.2-13"]     # 1.6 * 6 * 8²/8
/// ['76.8 kN·m']
#[pyfunction]
#[pyo3(signature = (beam, loads, doubt, unit, choice = None, determinate = None))]
pub(crate) fn compare(
    py: Python<'_>,
    #[pyo3(from_py_with = by_name::beam)] beam: &Beam,
    loads: &Bound<'_, PyAny>,
    doubt: &Bound<'_, PyAny>,
    #[pyo3(from_py_with = by_name::unit)] unit: &str,
    choice: Option<&Bound<'_, PyAny>>,
    #[pyo3(from_py_with = by_name::determinate)] determinate: Option<bool>,
) -> PyResult<Py<PyAny>> {
    let choice = match choice {
        Some(choice) => named(py, choice, "choice")?,
        None => EditionChoice::of("any"),
    };
    let unit: MemberUnit = read_named("unit", &Node::text(unit)).map_err(|e| raise(py, &e))?;
    let doubt: Doubt = named(py, doubt, "doubt")?;
    let table =
        target::compare(&beam.0, &named(py, loads, "loads")?, &choice, &doubt, unit, determinate)
            .map_err(|e| raise(py, &e))?;
    exactly(py, "ComparedEdition", &table)
}
