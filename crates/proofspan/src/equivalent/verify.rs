//! Does the finished layout reach the reference for every x? Nothing of the search is used here.

use super::overshoot::Effect;
use crate::beam::{Actions, Beam, Load, Side};
use crate::error::Error;
use crate::target::Target;
use crate::units::{Force, Length, Net, Ratio};

crate::answer! {
    /// The place where an effect is nearest to falling short, or falls short most.
    pub struct Shortfall {
        /// Shear or moment.
        effect: Effect,
        /// Test over reference there.
        fidelity: Ratio,
        /// Where.
        at: Length,
        /// On which side.
        side: Side,
        /// The term, by its place in the list of terms.
        term: usize,
    }
}

crate::answer! {
    /// What the verifier found.
    pub struct Verification {
        /// For each effect, the least ratio of test to reference over the region and all terms.
        least: Vec<Shortfall>,
        /// How far the least is below one, relative; zero or less means every x is reached.
        violation: f64,
    }
}

/// Below this part of its largest value in the region a reference is not compared.
const NOTHING: f64 = 1e-9;
/// Below this part of their largest values both vanish, and their quotient would be noise.
const VANISHING: f64 = 1e-5;

/// Checks jack lines against the target for every x of the region in doubt.
///
/// The difference of test and reference is a polynomial on each piece between the loads; its
/// smallest value there is found exactly. Where the reference changes sign the piece is split.
///
/// # Errors
/// A jack outside the beam.
pub fn verify(
    beam: &Beam,
    target: &Target,
    lines: &[(Length, Net<Force>)],
    effects: &[Effect],
) -> Result<Verification, Error> {
    let loads: Vec<Load> = lines.iter().map(|(at, force)| Load::point(*at, force.0)).collect();
    Ok(verify_actions(&beam.actions(&loads)?, target, effects))
}

pub(super) fn verify_actions(jacks: &Actions, target: &Target, effects: &[Effect]) -> Verification {
    let (from, to) = (target.from, target.to);
    let mut least = Vec::with_capacity(effects.len());
    for &effect in effects {
        let mut worst: Option<Shortfall> = None;
        for (term, t) in target.terms.iter().enumerate() {
            let reference = t.net.extremes_of(from, to, |s| effect.poly(s));
            let largest_reference = reference.max.value.abs().max(reference.min.value.abs());
            let floor = NOTHING * largest_reference;
            let tests = jacks.extremes_of(from, to, |s| effect.poly(s));
            let largest_test = tests.max.value.abs().max(tests.min.value.abs());
            // one grid for both, then split where the reference or the derivative of the ratio vanishes
            let both = Actions::combined(&[(1.0, jacks), (0.0, &t.net)]);
            let asked = Actions::combined(&[(0.0, jacks), (1.0, &t.net)]);
            for (j, r) in both.segments().iter().zip(asked.segments()) {
                let (p, q) = (effect.poly(j), effect.poly(r));
                let turning = p.derivative().times(&q).plus(-1.0, &p.times(&q.derivative()));
                let low = (from.si() - j.start).max(0.0);
                let high = (to.si() - j.start).min(j.length);
                if low >= high {
                    continue;
                }
                let inner = turning.roots(j.length);
                let places = [low, high]
                    .into_iter()
                    .chain(inner.as_slice().iter().copied().filter(|s| *s > low && *s < high));
                for s in places {
                    let (mut test, mut reference) = (p.at(s), q.at(s));
                    if reference.abs() <= VANISHING * largest_reference
                        && test.abs() <= VANISHING * largest_test
                    {
                        // both vanish here, as at a bearing: compare the slopes
                        (test, reference) = (p.derivative().at(s), q.derivative().at(s));
                        if reference.abs() <= floor / (to - from).si() {
                            continue;
                        }
                    } else if reference.abs() <= floor {
                        continue;
                    }
                    let fidelity = test / reference;
                    if worst.as_ref().is_none_or(|w| fidelity < w.fidelity.value()) {
                        let side = if s >= j.length { Side::Left } else { Side::Right };
                        worst = Some(Shortfall {
                            effect,
                            fidelity: Ratio::from(fidelity),
                            at: Length::from_si(j.start + s),
                            side,
                            term,
                        });
                    }
                }
            }
        }
        least.extend(worst);
    }
    let violation =
        least.iter().map(|w| 1.0 - w.fidelity.value()).fold(f64::NEG_INFINITY, f64::max);
    Verification { least, violation: if violation.is_finite() { violation } else { 0.0 } }
}
