//! A ratio of two readings from one zero, and a budget of several terms.

use super::COVERAGE;
use crate::error::{Error, Issue, slug};

crate::answer! {
    /// A ratio with its uncertainty.
    pub struct SharedRatio {
        /// The ratio.
        value: f64,
        /// Its standard uncertainty, to first order.
        u: f64,
        /// Its expanded uncertainty, twice that.
        expanded: f64,
        /// The interval of all ratios that the two values allow with that coverage (Fieller); nothing
        /// where the lower one cannot be told from zero, so that any ratio is allowed.
        interval: Option<(f64, f64)>,
    }
}

/// The ratio of two deflections that count from one zero: three readings, each with the standard
/// uncertainty `u` in the unit of the deflections. The zero is one input: its error moves both.
///
/// # Errors
/// `uncertainty.zero`, `uncertainty.number` for what is no number or a deflection of zero below.
pub fn ratio_from_one_zero(above: f64, below: f64, u: f64) -> Result<SharedRatio, Error> {
    let u = super::conformity::uncertain("u", u)?;
    if !(u * u).is_normal() || !(2.0 * u * u).is_finite() {
        let message = "a standard uncertainty whose square cannot be counted with";
        return Err(Issue::new(slug::UNCERTAINTY_NUMBER, "u", message).value(u).into());
    }
    ratio_of(above, below, (2.0 * u * u, 2.0 * u * u, u * u), COVERAGE)
}

/// The ratio of two values with variances of both and their covariance, and its Fieller interval with
/// coverage `k`.
///
/// # Errors
/// As of [`ratio_from_one_zero`].
pub fn ratio_of(
    above: f64,
    below: f64,
    (v_above, v_below, covariance): (f64, f64, f64),
    k: f64,
) -> Result<SharedRatio, Error> {
    let mut issues = Vec::new();
    for (path, x) in [("above", above), ("below", below), ("covariance", covariance), ("k", k)] {
        if !x.is_finite() || (path == "below" && x.abs() <= 0.0) || (path == "k" && x <= 0.0) {
            let message = "not a number that a ratio has here";
            issues.push(Issue::new(slug::UNCERTAINTY_NUMBER, path, message).value(x));
        }
    }
    for (path, v) in [("v_above", v_above), ("v_below", v_below)] {
        if v.abs() <= 0.0 {
            let message = "a variance is above zero";
            issues.push(Issue::new(slug::UNCERTAINTY_ZERO, path, message).value(v));
        } else if !(v > 0.0 && v.is_finite()) {
            let message = "a variance is above zero";
            issues.push(Issue::new(slug::UNCERTAINTY_NUMBER, path, message).value(v));
        }
    }
    let spare = v_above * v_below - covariance * covariance;
    if issues.is_empty() && spare < -1e-12 * v_above * v_below {
        let message = "a covariance larger than the variances allow";
        issues.push(Issue::new(slug::UNCERTAINTY_NUMBER, "covariance", message).value(covariance));
    }
    Error::check(issues)?;
    let r = above / below;
    let about = v_above - 2.0 * r * covariance + r * r * v_below;
    let u = about.max(0.0).sqrt() / below.abs();
    let q = k * k / (below * below);
    let scale = 1.0 - q * v_below;
    let root = (about - q * spare).max(0.0).sqrt() * k / below.abs();
    let end = |sign: f64| (r - q * covariance + sign * root) / scale;
    let interval = (scale > 0.0).then(|| (end(-1.0), end(1.0)));
    let (low, high) = interval.unwrap_or((0.0, 0.0));
    if ![r, u, COVERAGE * u, low, high].iter().all(|x| x.is_finite()) {
        let message = "numbers too far apart for a ratio";
        return Err(Issue::new(slug::UNCERTAINTY_NUMBER, "below", message).value(below).into());
    }
    Ok(SharedRatio { value: r, u, expanded: COVERAGE * u, interval })
}

/// A combined standard uncertainty and its effective degrees of freedom.
#[derive(Clone, Copy, PartialEq, Debug)]
#[non_exhaustive]
pub struct Effective {
    /// The combined standard uncertainty.
    pub u: f64,
    /// The degrees of freedom by Welch and Satterthwaite, not rounded; infinite where every term's are.
    pub freedom: f64,
}

/// Combines independent contributions in square: of each a standard uncertainty times its sensitivity,
/// and its degrees of freedom, infinite for one that is known (JCGM 100, G.4).
///
/// # Errors
/// `uncertainty.number` for two lists of different length, a contribution that is no number, degrees
/// of freedom of zero or below; `uncertainty.zero` where nothing contributes.
pub fn effective(u: &[f64], freedom: &[f64]) -> Result<Effective, Error> {
    let mut issues = Vec::new();
    let mut refuse = |path: String, message: &'static str, value: f64| {
        issues.push(Issue::new(slug::UNCERTAINTY_NUMBER, path, message).value(value));
    };
    for (i, u) in u.iter().enumerate().filter(|(_, u)| !u.is_finite()) {
        refuse(format!("u[{i}]"), "a contribution is a number", *u);
    }
    for (i, own) in freedom.iter().enumerate().filter(|(_, f)| f.is_nan() || **f <= 0.0) {
        refuse(format!("freedom[{i}]"), "degrees of freedom are above zero", *own);
    }
    if u.len() != freedom.len() {
        let message = format!("{} contributions and {} degrees of freedom", u.len(), freedom.len());
        issues.push(Issue::new(slug::UNCERTAINTY_NUMBER, "freedom", message));
    }
    Error::check(issues)?;
    let sum = u.iter().map(|u| u * u).sum::<f64>().sqrt();
    if sum <= 0.0 {
        let message = "nothing contributes to the uncertainty";
        return Err(Issue::new(slug::UNCERTAINTY_ZERO, "u", message).into());
    }
    // relative, so that no fourth power leaves the range of a number
    let over: f64 = u.iter().zip(freedom).map(|(u, f)| (u / sum).powi(4) / f).sum();
    if !sum.is_finite() {
        let message = "contributions too large to be combined";
        return Err(Issue::new(slug::UNCERTAINTY_NUMBER, "u", message).value(sum).into());
    }
    Ok(Effective { u: sum, freedom: over.recip() })
}
