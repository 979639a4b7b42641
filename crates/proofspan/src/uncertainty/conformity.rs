//! Does a value keep its limits, and with what risk is that said?
//!
//! JCGM 106:2012, normal model. Every number is in one unit, which the caller chooses; limits are a
//! lower one, an upper one, or both.

use super::normal::{density, normal, quantile};
use crate::error::{Error, Issue, Slug, slug};

/// What a value may be.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
pub struct Tolerance {
    /// The least it may be.
    pub lower: Option<f64>,
    /// The most it may be.
    pub upper: Option<f64>,
}

/// What a decision risks.
#[derive(Clone, Copy, PartialEq, Debug)]
#[non_exhaustive]
pub struct Risks {
    /// The probability that an item is accepted and does not conform.
    pub false_acceptance: f64,
    /// The probability that an item is rejected and conforms.
    pub false_rejection: f64,
}

fn refuse(slug: Slug, path: &str, message: &'static str, value: f64) -> Error {
    Issue::new(slug, path, message).value(value).into()
}

/// A standard uncertainty is above zero.
pub(super) fn uncertain(path: &str, u: f64) -> Result<f64, Error> {
    if u > 0.0 && u.is_finite() {
        return Ok(u);
    }
    let slug = if u.abs() <= 0.0 { slug::UNCERTAINTY_ZERO } else { slug::UNCERTAINTY_NUMBER };
    Err(refuse(slug, path, "a standard uncertainty is above zero", u))
}

fn finite(path: &str, x: f64) -> Result<f64, Error> {
    if x.is_finite() {
        return Ok(x);
    }
    Err(refuse(slug::UNCERTAINTY_NUMBER, path, "a number that is none", x))
}

impl Tolerance {
    /// At most this.
    #[must_use]
    pub const fn at_most(upper: f64) -> Self {
        Self { lower: None, upper: Some(upper) }
    }

    /// At least this.
    #[must_use]
    pub const fn at_least(lower: f64) -> Self {
        Self { lower: Some(lower), upper: None }
    }

    /// From one to the other.
    #[must_use]
    pub const fn between(lower: f64, upper: f64) -> Self {
        Self { lower: Some(lower), upper: Some(upper) }
    }

    /// The limits of acceptance: this far inside; outside for a guard below zero.
    #[must_use]
    pub fn guarded(self, guard: f64) -> Self {
        Self { lower: self.lower.map(|l| l + guard), upper: self.upper.map(|u| u - guard) }
    }

    /// Whether a value keeps the limits; equality counts.
    #[must_use]
    pub fn accepts(self, value: f64) -> bool {
        self.lower.is_none_or(|l| value >= l) && self.upper.is_none_or(|u| value <= u)
    }

    /// The three-valued decision with a guard band: met inside the limits by the guard, broken outside
    /// one of them by more than it, else undecided.
    #[must_use]
    pub fn decides(self, value: f64, guard: f64) -> Option<bool> {
        if !value.is_finite() || !guard.is_finite() {
            return None;
        }
        if self.guarded(guard).accepts(value) {
            return Some(true);
        }
        (!self.guarded(-guard).accepts(value)).then_some(false)
    }

    /// The probability that the true value keeps the limits, of a normal one with this standard
    /// uncertainty.
    ///
    /// # Errors
    /// `uncertainty.zero`, `uncertainty.number`; `uncertainty.limits` for no limit, or two that leave
    /// nothing between them.
    pub fn conformity(self, value: f64, u: f64) -> Result<f64, Error> {
        self.stands()?;
        finite("value", value)?;
        Ok(self.probability(value, uncertain("u", u)?))
    }

    /// What is risked by a decision about this one value: that it is wrong, of the two it could be.
    ///
    /// # Errors
    /// As of [`Tolerance::conformity`].
    pub fn risks(self, value: f64, u: f64) -> Result<Risks, Error> {
        let conforms = self.conformity(value, u)?;
        Ok(Risks { false_acceptance: 1.0 - conforms, false_rejection: conforms })
    }

    /// What is risked over all items, before one is measured: items are normal about `mean` with
    /// `spread`, each is measured with standard uncertainty `u` and accepted within `acceptance`. By
    /// quadrature; a relative 1e-7 holds.
    ///
    /// # Errors
    /// As of [`Tolerance::conformity`].
    pub fn global_risks(
        self,
        (mean, spread): (f64, f64),
        u: f64,
        acceptance: Self,
    ) -> Result<Risks, Error> {
        self.stands()?;
        acceptance.stands()?;
        finite("mean", mean)?;
        let (spread, u) = (uncertain("spread", spread)?, uncertain("u", u)?);
        let own = |x: f64| density((x - mean) / spread) / spread;
        let accepted = |x: f64| acceptance.probability(x, u);
        let edges = [self.lower, self.upper, acceptance.lower, acceptance.upper];
        let mut marks: Vec<f64> = (-12..=12).map(|k| mean + f64::from(k) * spread).collect();
        for edge in edges.into_iter().flatten() {
            marks.extend((-8..=8).map(|k| edge + f64::from(k) * u));
        }
        let (first, last) = (mean - 12.0 * spread, mean + 12.0 * spread);
        marks.retain(|x| *x >= first && *x <= last);
        marks.sort_unstable_by(f64::total_cmp);
        let mut risks = Risks { false_acceptance: 0.0, false_rejection: 0.0 };
        for (a, b) in marks.iter().zip(marks.iter().skip(1)).filter(|(a, b)| b > a) {
            if self.accepts(f64::midpoint(*a, *b)) {
                risks.false_rejection += simpson(*a, *b, |x| own(x) * (1.0 - accepted(x)));
            } else {
                risks.false_acceptance += simpson(*a, *b, |x| own(x) * accepted(x));
            }
        }
        if risks.false_acceptance.is_finite() && risks.false_rejection.is_finite() {
            return Ok(risks);
        }
        Err(refuse(slug::UNCERTAINTY_NUMBER, "spread", "numbers too far apart for a risk", spread))
    }

    fn probability(self, value: f64, u: f64) -> f64 {
        match (self.lower, self.upper) {
            (None, Some(upper)) => normal((upper - value) / u),
            (Some(lower), None) => normal((value - lower) / u),
            // of the smaller tail, so that nothing cancels
            (Some(lower), Some(upper)) => {
                let (a, b) = ((lower - value) / u, (upper - value) / u);
                if a > 0.0 { normal(-a) - normal(-b) } else { normal(b) - normal(a) }
            }
            (None, None) => 1.0,
        }
    }

    fn stands(self) -> Result<(), Error> {
        for (path, limit) in [("lower", self.lower), ("upper", self.upper)] {
            finite(path, limit.unwrap_or(0.0))?;
        }
        match (self.lower, self.upper) {
            (None, None) => {
                let message = "no limit is given";
                Err(Issue::new(slug::UNCERTAINTY_LIMITS, "upper", message).into())
            }
            (Some(l), Some(u)) if l > u => {
                let message = "the lower limit is above the upper one";
                Err(refuse(slug::UNCERTAINTY_LIMITS, "lower", message, l))
            }
            _ => Ok(()),
        }
    }
}

/// The guard band of one limit, with which a normal value of this standard uncertainty on the limit of
/// acceptance is outside the limit with probability `risk`.
///
/// # Errors
/// `uncertainty.zero`, `uncertainty.number` for what is no risk between 0 and 1.
pub fn guard_for_risk(u: f64, risk: f64) -> Result<f64, Error> {
    let u = uncertain("u", u)?;
    let guard = quantile(risk).map(|z| -z * u).ok_or_else(|| {
        refuse(slug::UNCERTAINTY_NUMBER, "risk", "a risk is above 0 and below 1", risk)
    })?;
    finite("u", guard)
}

/// Panels of Simpson's rule.
fn simpson(a: f64, b: f64, f: impl Fn(f64) -> f64) -> f64 {
    const PANELS: u32 = 64;
    let h = (b - a) / f64::from(PANELS);
    let inner = (1..PANELS).map(|k| {
        let weight = if k % 2 == 1 { 4.0 } else { 2.0 };
        weight * f(a + f64::from(k) * h)
    });
    (f(a) + f(b) + inner.sum::<f64>()) * h / 3.0
}
