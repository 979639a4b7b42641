//! Beams and loads as numbers in SI and back: what their pickles are made of.

use proofspan::beam::{self, Restraint};
use proofspan::units::{
    Curvature, FlexuralRigidity, Force, Length, LineLoad, Moment, Quantified, RotationalStiffness,
    SpringStiffness,
};
use pyo3::prelude::*;

use crate::beam::{Beam, Load, Support};
use crate::errors::raise;
use crate::refuse::one_of;

/// Stretches: where each begins and its value.
type Stretches = Vec<(f64, f64)>;
/// Length, supports, EI, hinges, G A_s.
pub(crate) type BeamNumbers = (f64, Vec<SupportNumbers>, Stretches, Vec<f64>, Stretches);
/// Place, vertical, rotation, settlement, whether it lifts. Nothing holds not at all, infinity rigidly.
pub(crate) type SupportNumbers = (f64, Option<f64>, Option<f64>, f64, bool);
/// The kind of a load and its numbers.
pub(crate) type LoadNumbers = (&'static str, [f64; 4]);

fn stiffness<K: Quantified>(how: Restraint<K>) -> Option<f64> {
    match how {
        Restraint::Rigid => Some(f64::INFINITY),
        Restraint::Spring(k) => Some(k.magnitude()),
        _ => None,
    }
}

fn restraint<K: Quantified>(stiffness: Option<f64>) -> Restraint<K> {
    match stiffness {
        None => Restraint::Free,
        Some(k) if k.is_infinite() => Restraint::Rigid,
        Some(k) => Restraint::Spring(K::from_si(k)),
    }
}

fn stretches<Q: Quantified>(all: &[(Length, Q)]) -> Stretches {
    all.iter().map(|(at, value)| (at.si(), value.magnitude())).collect()
}

fn again<Q: Quantified>(all: &[(f64, f64)]) -> Vec<(Length, Q)> {
    all.iter().map(|(at, value)| (Length::from_si(*at), Q::from_si(*value))).collect()
}

/// A support as numbers.
pub(crate) fn of_support(s: &beam::Support) -> SupportNumbers {
    (s.at.si(), stiffness(s.vertical), stiffness(s.rotation), s.settlement.si(), s.lifts)
}

/// A support from its numbers.
#[pyfunction]
pub(crate) fn _support(
    at: f64,
    vertical: Option<f64>,
    rotation: Option<f64>,
    settlement: f64,
    lifts: bool,
) -> Support {
    Support(beam::Support {
        at: Length::from_si(at),
        vertical: restraint::<SpringStiffness>(vertical),
        rotation: restraint::<RotationalStiffness>(rotation),
        settlement: Length::from_si(settlement),
        lifts,
    })
}

/// A beam as numbers.
pub(crate) fn of_beam(b: &beam::Beam) -> BeamNumbers {
    (
        b.length().si(),
        b.supports().iter().map(of_support).collect(),
        stretches(b.rigidity()),
        b.hinges().iter().map(|h| h.si()).collect(),
        stretches(b.shear_rigidity()),
    )
}

/// A beam from its numbers.
#[pyfunction]
#[expect(clippy::needless_pass_by_value, reason = "what Python hands over")]
pub(crate) fn _beam(
    py: Python<'_>,
    length: f64,
    supports: Vec<SupportNumbers>,
    rigidity: Stretches,
    hinges: Vec<f64>,
    shear: Stretches,
) -> PyResult<Beam> {
    let supports = supports.into_iter().map(|(a, v, r, s, l)| _support(a, v, r, s, l).0).collect();
    let hinges: Vec<Length> = hinges.into_iter().map(Length::from_si).collect();
    beam::Beam::new(Length::from_si(length), supports, again::<FlexuralRigidity>(&rigidity))
        .and_then(|b| if hinges.is_empty() { Ok(b) } else { b.with_hinges(hinges) })
        .and_then(|b| if shear.is_empty() { Ok(b) } else { b.with_shear(again::<Force>(&shear)) })
        .map(Beam)
        .map_err(|e| raise(py, &e))
}

/// A load as numbers; nothing for one that no constructor of Python makes.
pub(crate) fn of_load(load: &beam::Load) -> Option<LoadNumbers> {
    Some(match load {
        beam::Load::Point { at, force } => ("point", [at.si(), force.si(), 0.0, 0.0]),
        beam::Load::Moment { at, moment } => ("moment", [at.si(), moment.si(), 0.0, 0.0]),
        beam::Load::Line { from, to, w_from, w_to } => {
            ("line", [from.si(), to.si(), w_from.si(), w_to.si()])
        }
        beam::Load::Curvature { from, to, kappa_from, kappa_to } => {
            ("curvature", [from.si(), to.si(), kappa_from.si(), kappa_to.si()])
        }
        _ => return None,
    })
}

/// A load from its numbers.
#[pyfunction]
pub(crate) fn _load(kind: &str, numbers: [f64; 4]) -> PyResult<Load> {
    let [a, b, c, d] = numbers;
    let (from, to) = (Length::from_si(a), Length::from_si(b));
    let kinds = [
        ("point", beam::Load::point(from, Force::from_si(b))),
        ("moment", beam::Load::moment(from, Moment::from_si(b))),
        ("line", beam::Load::line(from, to, LineLoad::from_si(c), LineLoad::from_si(d))),
        (
            "curvature",
            beam::Load::Curvature {
                from,
                to,
                kappa_from: Curvature::from_si(c),
                kappa_to: Curvature::from_si(d),
            },
        ),
    ];
    one_of("kind", "a kind of load", kind, &kinds).map(Load)
}
