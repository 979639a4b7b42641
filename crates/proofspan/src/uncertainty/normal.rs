//! The normal distribution.

use core::f64::consts::{PI, SQRT_2};

/// The density of the standard normal distribution.
pub(super) fn density(z: f64) -> f64 {
    (-0.5 * z * z).exp() / (2.0 * PI).sqrt()
}

/// The probability that a standard normal value is at most `z`.
#[must_use]
pub fn normal(z: f64) -> f64 {
    if z.is_nan() {
        return f64::NAN;
    }
    let upper = complement(z.abs() / SQRT_2) / 2.0;
    if z > 0.0 { 1.0 - upper } else { upper }
}

/// erfc of a number that is not negative: by the series of erf near zero, by the continued fraction
/// beyond.
fn complement(x: f64) -> f64 {
    if x < 1.5 {
        let (mut term, mut sum) = (x, x);
        for n in 1..200 {
            let n = f64::from(n);
            term *= -x * x / n;
            let more = term / (2.0 * n + 1.0);
            sum += more;
            if more.abs() <= 1e-17 * sum.abs() {
                break;
            }
        }
        return 1.0 - 2.0 / PI.sqrt() * sum;
    }
    // x + (1/2)/(x + 1/(x + (3/2)/(x + …)))
    let fraction = (1..120).rev().fold(x, |tail, k| x + f64::from(k) / 2.0 / tail);
    (-x * x).exp() / (PI.sqrt() * fraction)
}

/// The value that a standard normal one exceeds with probability 1 - `p`. Nothing outside 0 to 1.
#[must_use]
pub fn quantile(p: f64) -> Option<f64> {
    if !(p > 0.0 && p < 1.0) {
        return None;
    }
    let (mut low, mut high) = (-40.0_f64, 40.0_f64);
    // bisection, then Newton: the tail of the smaller side keeps its digits
    let (side, sign) = if p < 0.5 { (p, 1.0) } else { (1.0 - p, -1.0) };
    while high - low > 1e-4 {
        let middle = f64::midpoint(low, high);
        if normal(middle) < side { low = middle } else { high = middle }
    }
    let mut z = f64::midpoint(low, high);
    for _ in 0..4 {
        let step = (normal(z) - side) / density(z);
        if step.is_finite() {
            z -= step;
        }
    }
    Some(sign * z)
}
