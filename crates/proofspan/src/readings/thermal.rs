//! The drift of a gauge with temperature, by least squares over control periods.
//!
//! `r = a_p + Σ β_k T_k` with an own `a_p` in each period, so that what was on or stood elsewhere in
//! another period does not matter: readings and temperatures are taken from the mean of their
//! period. Solved by QR of columns of length one. Readings that follow each other are not
//! independent: the variance is raised by (1 + ρ)/(1 − ρ), ρ the correlation of what is left with
//! the sample before it.

use nalgebra::{DMatrix, DVector};

/// Readings and temperatures of the control periods, row by row.
#[derive(Clone, Debug, Default)]
pub(super) struct Controls {
    /// The period of each row.
    pub(super) period: Vec<usize>,
    /// The reading: metres.
    pub(super) reading: Vec<f64>,
    /// Channel by channel: kelvin.
    pub(super) temperatures: Vec<Vec<f64>>,
}

/// What the readings say of the drift.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Fit {
    /// Movement per kelvin of each channel: m/K.
    pub(super) slopes: Vec<f64>,
    /// Independent standard errors: each of them moves all slopes together.
    pub(super) errors: Vec<Vec<f64>>,
    /// The coldest and warmest temperature of each channel: kelvin.
    pub(super) ranges: Vec<(f64, f64)>,
    /// How many rows it rests on.
    pub(super) rows: usize,
    /// The part of the movement that it explains.
    pub(super) explained: f64,
}

/// Why there is no fit.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) enum NoFit {
    /// So few rows in which everything was read.
    Few(usize),
    /// This temperature did not change.
    Still(usize),
    /// The temperatures went up and down together.
    Alike,
}

/// A temperature whose standard deviation in the control periods is below this did not change: K
/// (library rule).
const STILL: f64 = 0.05;
/// Columns of length one of which less than this is left beside the others are alike.
const ALIKE: f64 = 1e-6;
/// More correlation than this is not told from a line that was never reached.
const CORRELATED: f64 = 0.98;

/// Takes the mean of its period from every value, and says how many periods there are.
fn about_means(period: &[usize], values: &[f64]) -> (Vec<f64>, usize) {
    let first = values.first().copied().unwrap_or(0.0);
    let periods = period.iter().max().map_or(0, |p| p + 1);
    let mut sums = vec![(0.0, 0.0); periods];
    for (p, v) in period.iter().zip(values) {
        if let Some((sum, count)) = sums.get_mut(*p) {
            *sum += v - first;
            *count += 1.0;
        }
    }
    let mean = |p: &usize| sums.get(*p).map_or(0.0, |(sum, count): &(f64, f64)| sum / count);
    let about = period.iter().zip(values).map(|(p, v)| v - first - mean(p)).collect();
    (about, sums.iter().filter(|s| s.1 > 0.0).count())
}

/// Fits the drift.
pub(super) fn fit(rows: &Controls) -> Result<Fit, NoFit> {
    let (n, k) = (rows.reading.len(), rows.temperatures.len());
    let (reading, periods) = about_means(&rows.period, &rows.reading);
    if n < k + periods + 2 {
        return Err(NoFit::Few(n));
    }
    let count = n as f64;
    let mut columns: Vec<Vec<f64>> = Vec::with_capacity(k);
    let mut sizes = Vec::with_capacity(k);
    for (i, temperature) in rows.temperatures.iter().enumerate() {
        let (mut column, _) = about_means(&rows.period, temperature);
        let size = column.iter().map(|t| t * t).sum::<f64>().sqrt();
        if size < STILL * count.sqrt() {
            return Err(NoFit::Still(i));
        }
        column.iter_mut().for_each(|t| *t /= size);
        columns.push(column);
        sizes.push(size);
    }
    let x = DMatrix::from_iterator(n, k, columns.into_iter().flatten());
    let y = DVector::from_vec(reading);
    let qr = x.clone().qr();
    let (q, r) = (qr.q(), qr.r());
    if r.diagonal().iter().any(|d| d.abs() < ALIKE) {
        return Err(NoFit::Alike);
    }
    let solved = r.solve_upper_triangular(&(q.transpose() * &y)).ok_or(NoFit::Alike)?;
    let inverse = r.solve_upper_triangular(&DMatrix::identity(k, k)).ok_or(NoFit::Alike)?;
    let rest = &y - &x * &solved;
    let (all, unexplained) = (y.norm_squared(), rest.norm_squared());
    let free = (n - k - periods) as f64;
    let spread =
        (unexplained / free * (1.0 + correlation(rows, &rest, unexplained)).max(1.0)).sqrt();
    let scaled = |v: &f64, size: &f64| v / size;
    Ok(Fit {
        slopes: solved.iter().zip(&sizes).map(|(b, s)| scaled(b, s)).collect(),
        errors: inverse
            .column_iter()
            .map(|c| c.iter().zip(&sizes).map(|(v, s)| spread * scaled(v, s)).collect())
            .collect(),
        ranges: rows
            .temperatures
            .iter()
            .map(|t| {
                let low = t.iter().copied().fold(f64::INFINITY, f64::min);
                (low, t.iter().copied().fold(f64::NEG_INFINITY, f64::max))
            })
            .collect(),
        rows: n,
        explained: if all > 0.0 { 1.0 - unexplained / all } else { 0.0 },
    })
}

/// What (1 + ρ)/(1 − ρ) has beyond 1, of what is left from one row to the next of a period.
fn correlation(rows: &Controls, rest: &DVector<f64>, all: f64) -> f64 {
    let pairs = rest.iter().zip(rest.iter().skip(1));
    let same = rows.period.iter().zip(rows.period.iter().skip(1)).map(|(a, b)| a == b);
    let sum: f64 = pairs.zip(same).filter(|(_, same)| *same).map(|((a, b), _)| a * b).sum();
    let rho = if all > 0.0 { (sum / all).clamp(0.0, CORRELATED) } else { 0.0 };
    2.0 * rho / (1.0 - rho)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]
mod tests {
    use super::*;

    fn rows(readings: &[f64], temperatures: &[&[f64]], period: &[usize]) -> Controls {
        Controls {
            period: period.to_vec(),
            reading: readings.to_vec(),
            temperatures: temperatures.iter().map(|t| t.to_vec()).collect(),
        }
    }

    /// Points on a line: slope −0.004, nothing left, whatever each period starts from.
    #[test]
    fn a_line_is_found_whatever_the_periods_start_from() {
        let t = [290.0, 292.0, 295.0, 291.0, 296.0, 294.0];
        let r: Vec<f64> = t
            .iter()
            .enumerate()
            .map(|(i, t)| -0.004 * t + if i < 3 { 7.0 } else { -2.0 })
            .collect();
        let found = fit(&rows(&r, &[&t], &[0, 0, 0, 1, 1, 1])).unwrap();
        assert!((found.slopes[0] + 0.004).abs() < 1e-15, "{found:?}");
        assert!(found.errors[0][0].abs() < 1e-14 && found.explained > 1.0 - 1e-12);
        assert_eq!((found.ranges[0], found.rows), ((290.0, 296.0), 6));
    }

    /// By hand: T −1, 0, 0, 1 about its mean, r −1, 1, −1, 1: β = 2/2 = 1, left 0, 1, −1, 0, so
    /// s² = 2/(4 − 2) = 1 and u(β)² = 1/2; the products of neighbours left sum to −1: no correlation.
    #[test]
    fn the_standard_error_by_hand() {
        let found = fit(&rows(&[4.0, 6.0, 4.0, 6.0], &[&[1.0, 2.0, 2.0, 3.0]], &[0; 4]));
        // one row fewer than asked for would do: three unknown of four
        let found = found.unwrap();
        assert!((found.slopes[0] - 1.0).abs() < 1e-15);
        assert!((found.errors[0][0] - 0.5_f64.sqrt()).abs() < 1e-15, "{found:?}");
        assert!((found.explained - 0.5).abs() < 1e-15);
    }

    #[test]
    fn two_temperatures_are_told_apart_or_refused() {
        let (top, soffit) = ([1.0, 2.0, 4.0, 3.0, 0.0, 1.0], [0.0, 1.0, 1.0, 2.0, 1.0, 0.0]);
        let r: Vec<f64> = top.iter().zip(&soffit).map(|(a, b)| 0.3 * a - 0.2 * b).collect();
        let found = fit(&rows(&r, &[&top, &soffit], &[0; 6])).unwrap();
        assert!((found.slopes[0] - 0.3).abs() < 1e-14 && (found.slopes[1] + 0.2).abs() < 1e-14);
        let twice: Vec<f64> = top.iter().map(|t| 2.0 * t + 1.0).collect();
        assert_eq!(fit(&rows(&r, &[&top, &twice], &[0; 6])), Err(NoFit::Alike));
        assert_eq!(fit(&rows(&r, &[&top, &[5.0; 6]], &[0; 6])), Err(NoFit::Still(1)));
        assert_eq!(fit(&rows(&r[..3], &[&top[..3]], &[0; 3])), Err(NoFit::Few(3)));
    }

    /// By hand: T is 1, -1 in turn, what is left 1, 1, -1, -1 and again: straight to T, its squares 8, its
    /// products of neighbours 1 in sum, so that rho = 1/8 and the variance 8/6 · (7/8 + 2/8)/(7/8) = 8/6 · 9/7
    /// about 8 squares of T.
    #[test]
    fn the_correlation_by_hand() {
        let t: Vec<f64> = (0..8).map(|i| if i % 2 == 0 { 1.0 } else { -1.0 }).collect();
        let r: Vec<f64> = (0..8).map(|i| if i / 2 % 2 == 0 { 1.0 } else { -1.0 }).collect();
        let found = fit(&rows(&r, &[&t], &[0; 8])).unwrap();
        assert!(found.slopes[0].abs() < 1e-15);
        assert!((found.errors[0][0] - (3.0_f64 / 14.0).sqrt()).abs() < 1e-15, "{found:?}");
    }

    /// What stays on one side for a while says less than as many independent readings.
    #[test]
    fn readings_that_follow_each_other_say_less() {
        let t: Vec<f64> = (0..200).map(|i| f64::from(i % 20)).collect();
        let of = |f: &dyn Fn(usize) -> f64| -> Vec<f64> { (0..200).map(f).collect() };
        let slow = fit(&rows(&of(&|i| if i / 50 % 2 == 0 { 1.0 } else { -1.0 }), &[&t], &[0; 200]));
        let quick = fit(&rows(&of(&|i| if i % 2 == 0 { 1.0 } else { -1.0 }), &[&t], &[0; 200]));
        assert!(slow.unwrap().errors[0][0] > 5.0 * quick.unwrap().errors[0][0]);
    }
}
