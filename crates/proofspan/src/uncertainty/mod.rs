//! How sure is a measured margin?
//!
//! GUM (JCGM 100:2008): independent inputs add in square, weighted by their sensitivities.
//! A zero reading that several deflections share is one input, not several. Decisions follow
//! JCGM 106:2012 with a guard band w = U = 2 u (default policy): met only if the margin is
//! larger than the guard.
//!
//! ```
//! use proofspan::uncertainty::*;
//! let near = |a: f64, b: f64| (a - b).abs() < 1e-4;
//! // a product: (4 · 0.1)² + (3 · 0.2)²
//! let u = combined(&[3.0, 4.0], &[0.1, 0.2], |x| Some(x[0] * x[1])).ok_or("no value")?;
//! assert!(near(u, 0.52_f64.sqrt()));
//! assert_eq!((decide(0.5, 0.2), decide(0.1, 0.2), decide(-0.5, 0.2)), (Some(true), None, Some(false)));
//! // one normal tail of 2.5 % lies beyond 1.96 u
//! assert!(near(normal(1.959_964), 0.975) && near(quantile(0.975).unwrap_or(0.0), 1.959_964));
//! assert!(near(guard_for_risk(1.0, 0.025)?, 1.959_964));
//! // a residual over a largest deflection, both from one zero: 0.1/8 √(1 + 0.25² + 0.75²)
//! let shared = ratio_from_one_zero(2.0, 8.0, 0.1)?;
//! assert!(near(shared.u, 0.1 / 8.0 * 1.625_f64.sqrt()));
//! assert_eq!(ratio_of(2.0, 8.0, (0.02, 0.02, 0.01), COVERAGE)?.value, shared.value);
//! // Welch and Satterthwaite: 5⁴/(3⁴/8)
//! assert!(near(effective(&[3.0, 4.0], &[8.0, f64::INFINITY])?.freedom, 625.0 / 81.0 * 8.0));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod conformity;
mod normal;
mod shared;

pub use conformity::{Risks, Tolerance, guard_for_risk};
pub use normal::{normal, quantile};
pub use shared::{Effective, SharedRatio, effective, ratio_from_one_zero, ratio_of};

/// The default coverage factor.
pub const COVERAGE: f64 = 2.0;

/// Combined standard uncertainty of `value(inputs)` for independent inputs with these standard
/// uncertainties. Sensitivities are central differences, one uncertainty wide to each side.
/// Nothing where the value does not exist near the inputs.
pub fn combined(inputs: &[f64], u: &[f64], value: impl Fn(&[f64]) -> Option<f64>) -> Option<f64> {
    let mut at = inputs.to_vec();
    let mut sum = 0.0;
    for (i, &step) in u.iter().enumerate() {
        if step.abs() <= 0.0 {
            continue;
        }
        let centre = inputs.get(i).copied()?;
        let mut shifted = |x: f64| {
            if let Some(place) = at.get_mut(i) {
                *place = x;
            }
            value(&at)
        };
        let (up, down) = (shifted(centre + step)?, shifted(centre - step)?);
        shifted(centre);
        let effect = (up - down) / 2.0;
        sum += effect * effect;
    }
    let u = sum.sqrt();
    u.is_finite().then_some(u)
}

/// The decision of JCGM 106 on a margin (limit − demand, positive inside) with guard band `guard`:
/// met, broken, or undecided.
#[must_use]
pub fn decide(margin: f64, guard: f64) -> Option<bool> {
    if !margin.is_finite() || !guard.is_finite() {
        None
    } else if margin >= guard {
        Some(true)
    } else if margin < -guard {
        Some(false)
    } else {
        None
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;

    /// d = m − (s1 + s2)/2 with 6.4 ± 0.03, 0.3 ± 0.03, 0.5 ± 0.03: u = 0.0367423461 (GUM by hand).
    #[test]
    fn a_net_deflection() {
        let d = |x: &[f64]| match x {
            [m, a, b] => Some(m - (a + b) / 2.0),
            _ => None,
        };
        let u = combined(&[6.4, 0.3, 0.5], &[0.03, 0.03, 0.03], d).unwrap();
        assert!((u - 0.036_742_346_1).abs() < 1e-10);
    }

    /// T = 10, u = 0.5, w = 1: 8.9 and 9.0 pass, 9.5 and 10.2 undecided, 11.1 fails (JCGM 106 rule).
    #[test]
    fn decisions_with_a_guard() {
        let at = |y: f64| decide(10.0 - y, 1.0);
        assert_eq!(
            [at(8.9), at(9.0), at(9.5), at(10.2), at(11.1)],
            [Some(true), Some(true), None, None, Some(false)]
        );
        assert_eq!(decide(f64::NAN, 1.0), None);
    }

    /// Three single readings with a shared zero: a perfectly elastic member passes guarded from
    /// d_max = 10.198 u_R on (rho = 0.25, k = 2; closed form).
    #[test]
    fn a_shared_zero_is_one_input() {
        let g = |x: &[f64]| match x {
            [m0, m1, m2] => Some((m2 - m0) - 0.25 * (m1 - m0)),
            _ => None,
        };
        let u = combined(&[0.0, 1.0, 0.0], &[0.1, 0.1, 0.1], g).unwrap();
        assert!((COVERAGE * u / 0.25 / 0.1 - 10.198_039).abs() < 1e-6);
    }
}
