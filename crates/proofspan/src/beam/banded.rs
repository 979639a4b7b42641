//! A symmetric banded system: `L D Lᵀ`, pivots watched, one step of refinement.

use smallvec::{SmallVec, smallvec};

/// Entries a row keeps left of its diagonal.
pub(super) const BAND: usize = 4;

/// A pivot below this part of its diagonal means that nothing holds that movement.
const HELD: f64 = 1e-11;

/// Row `i` holds `A[i][i], A[i][i−1], …, A[i][i−BAND]`.
type Row = [f64; BAND + 1];

/// A symmetric matrix with its factors.
pub(super) struct Banded {
    rows: Rows,
    factors: Rows,
}

type Rows = SmallVec<[Row; 4]>;
/// One number for each row; most lines of spans have a few.
pub(super) type Unknowns = SmallVec<[f64; 8]>;

fn entry(rows: &[Row], i: usize, d: usize) -> f64 {
    rows.get(i).and_then(|r| r.get(d)).copied().unwrap_or(0.0)
}

impl Banded {
    pub(super) fn new(n: usize) -> Self {
        Self { rows: smallvec![[0.0; BAND + 1]; n], factors: Rows::new() }
    }

    pub(super) fn size(&self) -> usize {
        self.rows.len()
    }

    /// Adds to the entry of a row and a column at most `BAND` apart.
    pub(super) fn add(&mut self, i: usize, j: usize, value: f64) {
        let (low, high) = (i.min(j), i.max(j));
        if let Some(place) = self.rows.get_mut(high).and_then(|r| r.get_mut(high - low)) {
            *place += value;
        }
    }

    /// Factors the matrix.
    ///
    /// # Errors
    /// The first movement that nothing holds.
    pub(super) fn factor(&mut self) -> Result<(), usize> {
        self.factors = self.rows.clone();
        for i in 0..self.factors.len() {
            let reach = BAND.min(i);
            // c[d] = L[i][i−d] · D[i−d]
            let mut c = [0.0; BAND + 1];
            for d in (1..=reach).rev() {
                let j = i - d;
                let mut sum = entry(&self.factors, i, d);
                for (k, ck) in c.iter().enumerate().take(reach + 1).skip(d + 1) {
                    sum -= ck * entry(&self.factors, j, k - d);
                }
                if let Some(place) = c.get_mut(d) {
                    *place = sum;
                }
            }
            let diagonal = entry(&self.rows, i, 0);
            let mut pivot = diagonal;
            let mut row = [0.0; BAND + 1];
            for (d, (place, ck)) in row.iter_mut().zip(c).enumerate().skip(1).take(reach) {
                *place = ck / entry(&self.factors, i - d, 0);
                pivot -= *place * ck;
            }
            if pivot.is_nan() || pivot <= HELD * diagonal.abs() {
                return Err(i);
            }
            row[0] = pivot;
            if let Some(place) = self.factors.get_mut(i) {
                *place = row;
            }
        }
        Ok(())
    }

    /// The movement that nothing holds, found where the factors of row `i` broke off: that row
    /// moves by one, those after it not at all.
    pub(super) fn mechanism(&self, i: usize) -> Vec<f64> {
        let mut x = vec![0.0; self.rows.len()];
        if let Some(place) = x.get_mut(i) {
            *place = 1.0;
        }
        for j in (0..i).rev() {
            let above: f64 = (1..=BAND.min(i - j))
                .map(|d| {
                    // row i itself was not stored: its factors follow from its entries
                    let l = if j + d == i {
                        self.row_factor(i, d)
                    } else {
                        entry(&self.factors, j + d, d)
                    };
                    l * x.get(j + d).copied().unwrap_or(0.0)
                })
                .sum();
            if let Some(place) = x.get_mut(j) {
                *place = -above;
            }
        }
        x
    }

    /// `L[i][i−d]` of the row whose pivot vanished.
    fn row_factor(&self, i: usize, d: usize) -> f64 {
        let mut c = [0.0; BAND + 1];
        for e in (d..=BAND.min(i)).rev() {
            let mut sum = entry(&self.rows, i, e);
            for (k, ck) in c.iter().enumerate().take(BAND.min(i) + 1).skip(e + 1) {
                sum -= ck * entry(&self.factors, i - e, k - e);
            }
            if let Some(place) = c.get_mut(e) {
                *place = sum;
            }
        }
        c.get(d).copied().unwrap_or(0.0) / entry(&self.factors, i - d, 0)
    }

    fn substitute(&self, x: &mut [f64]) {
        let n = x.len();
        for i in 0..n {
            let below: f64 = (1..=BAND.min(i))
                .map(|d| entry(&self.factors, i, d) * x.get(i - d).copied().unwrap_or(0.0))
                .sum();
            if let Some(place) = x.get_mut(i) {
                *place -= below;
            }
        }
        for (i, place) in x.iter_mut().enumerate() {
            *place /= entry(&self.factors, i, 0);
        }
        for i in (0..n).rev() {
            let above: f64 = (1..=BAND.min(n - 1 - i))
                .map(|d| entry(&self.factors, i + d, d) * x.get(i + d).copied().unwrap_or(0.0))
                .sum();
            if let Some(place) = x.get_mut(i) {
                *place -= above;
            }
        }
    }

    /// What `x` leaves of `b`.
    fn residual(&self, x: &[f64], b: &[f64]) -> Unknowns {
        let at = |i: usize| x.get(i).copied().unwrap_or(0.0);
        b.iter()
            .enumerate()
            .map(|(i, b)| {
                let left: f64 =
                    (0..=BAND.min(i)).map(|d| entry(&self.rows, i, d) * at(i - d)).sum();
                let right: f64 = (1..=BAND).map(|d| entry(&self.rows, i + d, d) * at(i + d)).sum();
                b - left - right
            })
            .collect()
    }

    /// Solves for one right-hand side, refined once.
    pub(super) fn solve(&self, b: &[f64]) -> Unknowns {
        let mut x = Unknowns::from_slice(b);
        self.substitute(&mut x);
        let mut correction = self.residual(&x, b);
        self.substitute(&mut correction);
        x.iter_mut().zip(correction).for_each(|(x, c)| *x += c);
        x
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]
mod tests {
    use super::*;
    use nalgebra::{DMatrix, DVector};
    use proptest::prelude::*;

    proptest! {
        /// A general dense solver gives the same.
        #[test]
        fn agrees_with_a_dense_solver(n in 1usize..30, seed in prop::collection::vec(-1.0..1.0f64, 180)) {
            let mut banded = Banded::new(n);
            let mut dense = DMatrix::zeros(n, n);
            for i in 0..n {
                for d in 0..=BAND.min(i) {
                    let value = if d == 0 { 12.0 } else { seed[(5 * i + d) % 180] };
                    banded.add(i, i - d, value);
                    dense[(i, i - d)] = value;
                    dense[(i - d, i)] = value;
                }
            }
            let b: Vec<f64> = (0..n).map(|i| seed[i] * 10.0).collect();
            banded.factor().unwrap();
            let x = banded.solve(&b);
            let exact = dense.lu().solve(&DVector::from_vec(b)).unwrap();
            for (a, b) in x.iter().zip(exact.iter()) {
                prop_assert!((a - b).abs() < 1e-12);
            }
        }
    }

    #[test]
    fn a_movement_that_nothing_holds_is_named() {
        let mut banded = Banded::new(2);
        banded.add(0, 0, 1.0);
        banded.add(1, 0, -1.0);
        banded.add(1, 1, 1.0);
        assert_eq!(banded.factor(), Err(1));
    }
}
