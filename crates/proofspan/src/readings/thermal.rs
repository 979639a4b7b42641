//! The drift of a gauge with temperature, by least squares over control periods.
//!
//! `r = a_p + Σ β_k T_k` with an own `a_p` in each period, so that what was on or stood elsewhere in
//! another period does not matter: readings and temperatures are taken from the mean of their
//! period. Solved by QR of columns of length one, some thousand rows after the other. Readings that follow each other are not
//! independent: the variance is raised by (1 + ρ)/(1 − ρ), ρ the correlation of what is left with
//! the sample before it.

use nalgebra::DMatrix;

use super::column::Column;

/// Readings and temperatures of the control periods, row by row.
#[derive(Clone, Debug)]
pub(super) struct Controls {
    /// The number of the period of each row, from nought.
    pub(super) period: Column,
    /// The reading: metres.
    pub(super) reading: Column,
    /// Channel by channel: kelvin.
    pub(super) temperatures: Vec<Column>,
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

/// Values less the mean of their period.
struct About<'a> {
    period: &'a Column,
    values: &'a Column,
    /// What each period starts from.
    from: Vec<f64>,
    /// How many periods have a row.
    periods: usize,
}

impl<'a> About<'a> {
    fn means(period: &'a Column, values: &'a Column) -> Self {
        let first = values.first().unwrap_or(0.0);
        let mut sums: Vec<(f64, f64)> = Vec::new();
        for (p, v) in period.iter().zip(values.iter()) {
            let place = p as usize;
            if place >= sums.len() {
                sums.resize(place + 1, (0.0, 0.0));
            }
            if let Some((sum, count)) = sums.get_mut(place) {
                *sum += v - first;
                *count += 1.0;
            }
        }
        let from = sums.iter().map(|(sum, count)| first + sum / count).collect();
        Self { period, values, from, periods: sums.iter().filter(|s| s.1 > 0.0).count() }
    }

    fn iter(&self) -> impl Iterator<Item = f64> {
        let from = |p: f64| self.from.get(p as usize).copied().unwrap_or(0.0);
        self.period.iter().zip(self.values.iter()).map(move |(p, v)| v - from(p))
    }

    fn squares(&self) -> f64 {
        self.iter().map(|v| v * v).sum()
    }
}

/// So many rows are brought to a triangle at once.
const ROWS: usize = 4096;

/// The triangle of the QR of some columns, rows after rows: each lot together with the triangle of those
/// before it, which says all that they say.
fn triangle(columns: &[(About<'_>, f64)]) -> DMatrix<f64> {
    let width = columns.len();
    let mut all: Vec<_> = columns.iter().map(|(column, size)| (column.iter(), *size)).collect();
    let mut found = DMatrix::zeros(0, width);
    let mut lot: Vec<f64> = Vec::with_capacity(ROWS * width);
    loop {
        lot.clear();
        while lot.len() < ROWS * width {
            let row = all.iter_mut().map_while(|(column, size)| Some(column.next()? / *size));
            let before = lot.len();
            lot.extend(row);
            if lot.len() == before {
                break;
            }
        }
        if lot.is_empty() {
            return found;
        }
        let above = found.nrows();
        let mut rows = found.resize_vertically(above + lot.len() / width, 0.0);
        for (i, value) in lot.iter().enumerate() {
            if let Some(place) = rows.get_mut((above + i / width, i % width)) {
                *place = *value;
            }
        }
        found = rows.qr().r();
    }
}

/// Fits the drift.
pub(super) fn fit(rows: &Controls) -> Result<Fit, NoFit> {
    let (n, k) = (rows.reading.len(), rows.temperatures.len());
    let reading = About::means(&rows.period, &rows.reading);
    let periods = reading.periods;
    if n < k + periods + 2 {
        return Err(NoFit::Few(n));
    }
    let count = n as f64;
    let mut columns: Vec<(About<'_>, f64)> = Vec::with_capacity(k + 1);
    for (i, temperature) in rows.temperatures.iter().enumerate() {
        let column = About::means(&rows.period, temperature);
        let size = column.squares().sqrt();
        if size < STILL * count.sqrt() {
            return Err(NoFit::Still(i));
        }
        columns.push((column, size));
    }
    let sizes: Vec<f64> = columns.iter().map(|c| c.1).collect();
    columns.push((reading, 1.0));
    let all_of = triangle(&columns);
    let r = all_of.view((0, 0), (k, k)).into_owned();
    if r.diagonal().iter().any(|d| d.abs() < ALIKE) {
        return Err(NoFit::Alike);
    }
    let seen = all_of.view((0, k), (k, 1)).into_owned();
    let solved = r.solve_upper_triangular(&seen).ok_or(NoFit::Alike)?;
    let inverse = r.solve_upper_triangular(&DMatrix::identity(k, k)).ok_or(NoFit::Alike)?;
    // what is left of every reading, and from one to the next of a period
    let (mut all, mut unexplained, mut neighbours) = (0.0, 0.0, 0.0);
    let mut parts: Vec<_> =
        columns.iter().zip(&solved).map(|((c, size), b)| (c.iter(), b / size)).collect();
    let mut before: Option<(f64, f64)> = None;
    let readings = columns.last().map(|c| c.0.iter()).into_iter().flatten();
    for (period, y) in rows.period.iter().zip(readings) {
        let mut explained = 0.0;
        for (column, b) in &mut parts {
            explained += column.next().unwrap_or(0.0) * *b;
        }
        let rest = y - explained;
        all += y * y;
        unexplained += rest * rest;
        if let Some((_, last)) = before.filter(|b| b.0.to_bits() == period.to_bits()) {
            neighbours += last * rest;
        }
        before = Some((period, rest));
    }
    let free = (n - k - periods) as f64;
    let spread =
        (unexplained / free * (1.0 + correlation(neighbours, unexplained)).max(1.0)).sqrt();
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
                let ends = (f64::INFINITY, f64::NEG_INFINITY);
                t.iter().fold(ends, |(low, high), t| (low.min(t), high.max(t)))
            })
            .collect(),
        rows: n,
        explained: if all > 0.0 { 1.0 - unexplained / all } else { 0.0 },
    })
}

/// What (1 + ρ)/(1 − ρ) has beyond 1: of the sum of the products of neighbours in what is left, and that
/// of its squares.
fn correlation(neighbours: f64, squares: f64) -> f64 {
    let rho = if squares > 0.0 { (neighbours / squares).clamp(0.0, CORRELATED) } else { 0.0 };
    2.0 * rho / (1.0 - rho)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]
mod tests {
    use super::*;

    fn rows(readings: &[f64], temperatures: &[&[f64]], period: &[usize]) -> Controls {
        let store = crate::readings::column::room();
        let column = |all: &[f64]| Column::of(&store, all.iter().copied());
        let period: Vec<f64> = period.iter().map(|p| *p as f64).collect();
        Controls {
            period: column(&period),
            reading: column(readings),
            temperatures: temperatures.iter().map(|t| column(t)).collect(),
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

    /// Twenty thousand rows, more than are brought to a triangle at once, moved by -0.004 and 0.0015 m/K
    /// of two temperatures about whatever each of three periods starts from: both are found, and nothing
    /// is left.
    #[test]
    fn rows_after_rows_say_what_all_of_them_say() {
        let n = 20_000;
        let period: Vec<usize> = (0..n).map(|i| i * 3 / n).collect();
        let of = |f: &dyn Fn(f64) -> f64| -> Vec<f64> { (0..n).map(|i| f(i as f64)).collect() };
        let (a, b) = (of(&|i| 290.0 + (i * 0.01).sin()), of(&|i| 280.0 + 3.0 * (i * 0.0007).cos()));
        let read = |i: usize| -0.004 * a[i] + 0.0015 * b[i] + period[i] as f64;
        let readings: Vec<f64> = (0..n).map(read).collect();
        let found = fit(&rows(&readings, &[&a, &b], &period)).unwrap();
        assert!((found.slopes[0] + 0.004).abs() < 1e-13, "{found:?}");
        assert!((found.slopes[1] - 0.0015).abs() < 1e-13, "{found:?}");
        assert!(found.explained > 1.0 - 1e-12 && found.rows == n);
    }
}
