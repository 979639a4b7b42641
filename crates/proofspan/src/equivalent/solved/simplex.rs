//! Least cost of unknowns under rows that come one by one.
//!
//! `min c·x` with `a·x ≥ b` for every row and `x ≥ 0`, solved on its dual
//! `max b·y`, `Σ aᵢⱼ yᵢ + sⱼ = cⱼ`, `y, s ≥ 0`: a row of the one is a column of the other, so a row
//! that is found violated enters a basis that stays feasible, and the multipliers are the basic
//! variables themselves. The basis has as many columns as there are unknowns. Degenerate steps
//! follow Bland's rule, which ends; the last basis is solved again by elimination with pivoting
//! and refined.

use nalgebra::{DMatrix, DVector};

/// A column of the basis.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Basic {
    /// The multiplier of a row.
    Row(usize),
    /// The slack of an unknown: where it is basic the unknown is zero.
    Slack(usize),
}

/// How the search ended.
#[derive(Clone, PartialEq, Debug)]
pub(in crate::equivalent) enum Outcome {
    /// Every row holds.
    Optimal,
    /// These multipliers on rows make `0 ≥ positive`: no unknowns meet them all.
    Infeasible(Vec<(usize, f64)>),
}

/// How a step ended.
enum Entered {
    /// Another basis.
    Done,
    /// Every basic variable grows without end.
    Endless(Vec<(usize, f64)>),
    /// The step hangs on a number that may be rounding.
    Blurred,
}

/// What stands in the way of an answer.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(in crate::equivalent) enum Trouble {
    /// More steps than a sound problem needs.
    Steps,
    /// A basis that cannot be solved.
    Singular,
    /// An entry that is no finite number.
    NotFinite,
    /// Somebody wants an end of it.
    Interrupted,
}

/// The state of the search: rows so far, the basis, its inverse.
#[derive(Clone, Debug)]
pub(in crate::equivalent) struct Simplex {
    n: usize,
    cost: Vec<f64>,
    /// Rows one after the other.
    a: Vec<f64>,
    b: Vec<f64>,
    entered: Vec<bool>,
    basis: Vec<Basic>,
    /// Rows one after the other.
    inverse: Vec<f64>,
    /// The basic variables.
    values: Vec<f64>,
    /// The unknowns.
    x: Vec<f64>,
    direction: Vec<f64>,
    degenerate: usize,
    steps: usize,
}

/// A row of about unit size violated by less than this holds: first, and after every stall.
const STALLED: [f64; 3] = [1e-12, 1e-11, 3e-11];
const STEPS: usize = 20_000;
/// Unknowns beyond this, in their unit, are nobody's answer.
pub(in crate::equivalent) const LARGEST: f64 = 1e3;
/// A row violated by less than this may be within what an ill-conditioned basis can tell.
const BLURRED: f64 = 1e-8;
/// A multiplier below zero by less than this part of the largest one is rounding.
const PAYS: f64 = 1e-11;
/// A pivot below this part of what adds up to it is taken for zero.
const NOISE: f64 = 1e-10;
/// A pivot below this part of what adds up to it asks for a basis solved anew.
const SHAKY: f64 = 1e-6;

/// What is left of `right` less `m x`, as if added up in twice the precision: only so does solving once
/// more gain digits where rows stand close together (Ogita, Rump and Oishi, Dot2, from memory; products
/// split after Dekker).
fn left_over(m: &DMatrix<f64>, x: &DVector<f64>, right: &DVector<f64>) -> DVector<f64> {
    let split = |a: f64| {
        let c = 134_217_729.0 * a;
        let high = c - (c - a);
        (high, a - high)
    };
    let parts: Vec<(f64, f64)> = x.iter().map(|x| split(*x)).collect();
    let rows = right.iter().zip(m.row_iter()).map(|(b, row)| {
        let (mut sum, mut rest) = (*b, 0.0);
        for ((a, x), (high, low)) in row.iter().zip(x.iter()).zip(&parts) {
            let product = -a * x;
            let (upper, lower) = split(-a);
            let error = lower * low - (((product - upper * high) - lower * high) - upper * low);
            let next = sum + product;
            let virtual_part = next - sum;
            rest += (sum - (next - virtual_part)) + (product - virtual_part) + error;
            sum = next;
        }
        // splitting numbers near the end of their range overflows: there plain sums must do
        let found = sum + rest;
        if found.is_finite() {
            found
        } else {
            b - row.iter().zip(x.iter()).map(|(a, x)| a * x).sum::<f64>()
        }
    });
    DVector::from_iterator(right.len(), rows)
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

impl Simplex {
    /// No row yet: every unknown is zero. Costs are not below zero.
    pub(in crate::equivalent) fn new(cost: Vec<f64>) -> Self {
        let n = cost.len();
        let mut inverse = vec![0.0; n * n];
        inverse.iter_mut().step_by(n + 1).for_each(|d| *d = 1.0);
        Self {
            n,
            a: Vec::with_capacity(16 * n),
            b: Vec::with_capacity(16),
            entered: Vec::with_capacity(16),
            basis: (0..n).map(Basic::Slack).collect(),
            inverse,
            values: cost.clone(),
            cost,
            x: vec![0.0; n],
            direction: vec![0.0; n],
            degenerate: 0,
            steps: 0,
        }
    }

    /// The unknowns; they may be below zero by rounding.
    pub(in crate::equivalent) fn unknowns(&self) -> &[f64] {
        &self.x
    }

    /// The multipliers of rows that are not zero.
    pub(in crate::equivalent) fn multipliers(&self) -> Vec<(usize, f64)> {
        let pairs = self.basis.iter().zip(&self.values);
        pairs
            .filter_map(|(b, y)| match b {
                Basic::Row(i) if *y > 0.0 => Some((*i, *y)),
                _ => None,
            })
            .collect()
    }

    /// Whether other unknowns may cost the same: a basic variable that is zero.
    pub(in crate::equivalent) fn degenerate(&self) -> bool {
        let size = self.cost.iter().fold(0.0_f64, |m, c| m.max(c.abs()));
        self.values.iter().any(|v| v.abs() <= 1e-9 * size)
    }

    /// Adds a row of about unit size.
    pub(in crate::equivalent) fn add(&mut self, a: &[f64], b: f64) {
        self.a.extend_from_slice(a);
        self.b.push(b);
        self.entered.push(false);
    }

    /// How many rows there are.
    pub(in crate::equivalent) fn rows(&self) -> usize {
        self.b.len()
    }

    /// Goes on until every row and every sign holds.
    pub(in crate::equivalent) fn solve(&mut self) -> Result<Outcome, Trouble> {
        let mut fresh = false;
        let begun = self.steps;
        loop {
            // rows that are alike but for rounding can take turns without end: what is violated by less
            // and less of note is let go, up to a tenth of what the verifier lets pass
            let stalled = (self.steps - begun) / (50 + 10 * self.n);
            let tolerance = STALLED.get(stalled).copied().unwrap_or(1e-10);
            let Some((violation, entering)) = self.entering(tolerance) else {
                return Ok(Outcome::Optimal);
            };
            self.steps += 1;
            if self.steps > STEPS {
                return Err(Trouble::Steps);
            }
            if crate::error::ended() {
                return Err(Trouble::Interrupted);
            }
            match self.enter(entering, fresh) {
                Entered::Done => {
                    fresh = false;
                    continue;
                }
                Entered::Endless(ray) if self.proves(&ray) => return Ok(Outcome::Infeasible(ray)),
                Entered::Endless(_) | Entered::Blurred => {}
            }
            // rows that stand close together blur the basis: solve it again, then look once more
            if !fresh {
                self.refine()?;
                self.values.iter_mut().for_each(|v| *v = v.max(0.0));
                fresh = true;
            } else if violation < BLURRED {
                // the row holds within what the basis can tell; the verifier has the last word
                match entering {
                    Basic::Row(i) => self.entered.get_mut(i).map(|e| *e = true),
                    Basic::Slack(j) => self.x.get_mut(j).map(|x| *x = x.max(0.0)),
                };
                fresh = false;
            } else {
                return Err(Trouble::Singular);
            }
        }
    }

    /// Whether multipliers contradict every set of unknowns up to [`LARGEST`]: what their columns may
    /// pass zero by rounding buys less than they ask.
    fn proves(&self, ray: &[(usize, f64)]) -> bool {
        let n = self.n;
        let mut columns = vec![0.0; n];
        let mut right = 0.0;
        for (i, y) in ray {
            let a = self.a.get(i * n..(i + 1) * n).unwrap_or_default();
            columns.iter_mut().zip(a).for_each(|(c, a)| *c += y * a);
            right += y * self.b.get(*i).copied().unwrap_or(0.0);
        }
        let excess: f64 = columns.iter().map(|c| c.max(0.0)).sum();
        right - LARGEST * excess > 0.0
    }

    fn bland(&self) -> bool {
        self.degenerate > 2 * self.n + 8
    }

    /// The most violated row or sign; after many degenerate steps the first one (Bland).
    fn entering(&self, tolerance: f64) -> Option<(f64, Basic)> {
        let bland = self.bland();
        let mut worst: Option<(f64, Basic)> = None;
        let rows = self.a.chunks_exact(self.n.max(1)).zip(&self.b).zip(&self.entered);
        for (i, ((a, b), entered)) in rows.enumerate() {
            let violation = b - dot(a, &self.x);
            if violation > tolerance && !entered && worst.is_none_or(|(v, _)| violation > v) {
                worst = Some((violation, Basic::Row(i)));
                if bland {
                    return worst;
                }
            }
        }
        for (j, x) in self.x.iter().enumerate() {
            if -x > tolerance
                && worst.is_none_or(|(v, _)| -x > v)
                && !self.basis.contains(&Basic::Slack(j))
            {
                worst = Some((-x, Basic::Slack(j)));
                if bland {
                    break;
                }
            }
        }
        worst
    }

    fn direct(&mut self, entering: Basic) {
        let n = self.n;
        let rows = self.inverse.chunks_exact(n.max(1));
        match entering {
            Basic::Row(i) => {
                let a = self.a.get(i * n..(i + 1) * n).unwrap_or_default();
                self.direction.iter_mut().zip(rows).for_each(|(d, row)| *d = dot(row, a));
            }
            Basic::Slack(j) => {
                let column = rows.map(|row| row.get(j).copied().unwrap_or(0.0));
                self.direction.iter_mut().zip(column).for_each(|(d, c)| *d = c);
            }
        }
    }

    /// The size of what a part of the direction is added up from: far below it, the part is rounding.
    fn parts(&self, k: usize, entering: Basic) -> f64 {
        let n = self.n;
        let largest = |v: &[f64]| v.iter().fold(0.0_f64, |m, v| m.max(v.abs()));
        let row = largest(self.inverse.get(k * n..(k + 1) * n).unwrap_or_default());
        match entering {
            Basic::Row(i) => row * largest(self.a.get(i * n..(i + 1) * n).unwrap_or_default()),
            Basic::Slack(_) => row,
        }
    }

    /// One step, on a basis that was solved just now or not.
    fn enter(&mut self, entering: Basic, fresh: bool) -> Entered {
        self.direct(entering);

        let size = self.direction.iter().fold(f64::MIN_POSITIVE, |m, d| m.max(d.abs()));
        let bland = self.bland();
        let rows = self.b.len();
        let rank = |b: Basic| match b {
            Basic::Row(i) => i,
            Basic::Slack(j) => rows + j,
        };
        let mut leaving: Option<(usize, f64, f64, Basic)> = None;
        let all = self.direction.iter().zip(&self.values).zip(&self.basis);
        for (k, ((d, v), basic)) in all.enumerate() {
            if *d <= 1e-11 * size {
                continue;
            }
            let ratio = v.max(0.0) / d;
            let better = leaving.is_none_or(|(_, r, pivot, other)| {
                let tied = (ratio - r).abs() <= 1e-14 + 1e-12 * r.abs();
                match (tied, bland) {
                    (false, _) => ratio < r,
                    (true, true) => rank(*basic) < rank(other),
                    (true, false) => *d > pivot,
                }
            });
            if better && *d > NOISE * self.parts(k, entering) {
                leaving = Some((k, ratio, *d, *basic));
            }
        }
        let Some((k, ratio, pivot, left)) = leaving else {
            // every basic variable grows without end: the ray is the proof
            let pairs = self.basis.iter().zip(&self.direction);
            let mut ray: Vec<(usize, f64)> = pairs
                .filter_map(|(b, d)| match b {
                    Basic::Row(i) if -d > 1e-11 * size => Some((*i, -d)),
                    _ => None,
                })
                .collect();
            if let Basic::Row(i) = entering {
                ray.push((i, 1.0));
            }
            return Entered::Endless(ray);
        };
        if !fresh && pivot < SHAKY * self.parts(k, entering) {
            return Entered::Blurred;
        }
        self.degenerate = if ratio <= 1e-13 { self.degenerate + 1 } else { 0 };
        self.pivot(k, entering, left, pivot);
        Entered::Done
    }

    /// Exchanges a basic column; the direction of the entering one is known.
    fn pivot(&mut self, k: usize, entering: Basic, left: Basic, pivot: f64) {
        let n = self.n;
        let gain = match entering {
            Basic::Row(i) => {
                let a = self.a.get(i * n..(i + 1) * n).unwrap_or_default();
                self.b.get(i).copied().unwrap_or(0.0) - dot(a, &self.x)
            }
            Basic::Slack(j) => -self.x.get(j).copied().unwrap_or(0.0),
        };
        let ratio = self.values.get(k).copied().unwrap_or(0.0) / pivot;
        let pivot_row: Vec<f64> = self
            .inverse
            .get(k * n..(k + 1) * n)
            .unwrap_or_default()
            .iter()
            .map(|v| v / pivot)
            .collect();
        for (i, (row, d)) in self.inverse.chunks_exact_mut(n).zip(&self.direction).enumerate() {
            if i == k {
                row.copy_from_slice(&pivot_row);
            } else if d.abs() > 0.0 {
                row.iter_mut().zip(&pivot_row).for_each(|(v, p)| *v -= d * p);
            }
        }
        self.x.iter_mut().zip(&pivot_row).for_each(|(x, p)| *x += gain * p);
        self.values.iter_mut().zip(&self.direction).for_each(|(v, d)| *v -= ratio * d);
        if let (Some(value), Some(place)) = (self.values.get_mut(k), self.basis.get_mut(k)) {
            *value = ratio;
            *place = entering;
        }
        let mut mark = |basic: Basic, state: bool| {
            if let Basic::Row(i) = basic
                && let Some(entered) = self.entered.get_mut(i)
            {
                *entered = state;
            }
        };
        mark(left, false);
        mark(entering, true);
    }

    /// Goes on with other costs, of any sign, from unknowns that meet every row: along edges as long
    /// as that costs less. The answer is whether there is an end.
    pub(in crate::equivalent) fn turn(&mut self, cost: Vec<f64>) -> Result<bool, Trouble> {
        let n = self.n;
        self.cost = cost;
        self.degenerate = 0;
        let rows = self.inverse.chunks_exact(n.max(1));
        self.values.iter_mut().zip(rows).for_each(|(v, row)| *v = dot(row, &self.cost));
        let size = self.values.iter().fold(f64::MIN_POSITIVE, |m, v| m.max(v.abs()));
        for step in 0..STEPS {
            let bland = step > 4 * n + 20;
            let mut worst: Option<(usize, f64, Basic)> = None;
            for (k, (v, basic)) in self.values.iter().zip(&self.basis).enumerate() {
                if *v < -PAYS * size && worst.is_none_or(|(_, w, _)| !bland && *v < w) {
                    worst = Some((k, *v, *basic));
                }
            }
            let Some((k, _, left)) = worst else {
                self.values.iter_mut().for_each(|v| *v = v.max(0.0));
                return Ok(true);
            };
            let along: Vec<f64> = self.inverse.get(k * n..(k + 1) * n).unwrap_or_default().to_vec();
            let reach = along.iter().fold(f64::MIN_POSITIVE, |m, d| m.max(d.abs()));
            let mut first: Option<(f64, Basic, f64)> = None;
            let mut offer = |slack: f64, rate: f64, basic: Basic| {
                if rate < -1e-10 * reach {
                    let t = slack.max(0.0) / -rate;
                    // of equal ones the steeper
                    let better = first.is_none_or(|(best, _, r)| {
                        t < best - 1e-13 || (t <= best + 1e-13 && rate < r)
                    });
                    if better {
                        first = Some((t, basic, rate));
                    }
                }
            };
            let all = self.a.chunks_exact(n.max(1)).zip(&self.b).zip(&self.entered);
            for (i, ((a, b), entered)) in all.enumerate() {
                if !entered {
                    offer(dot(a, &self.x) - b, dot(a, &along), Basic::Row(i));
                }
            }
            for (j, (x, d)) in self.x.iter().zip(&along).enumerate() {
                if !self.basis.contains(&Basic::Slack(j)) {
                    offer(*x, *d, Basic::Slack(j));
                }
            }
            let Some((_, entering, pivot)) = first else { return Ok(false) };
            self.direct(entering);
            self.pivot(k, entering, left, pivot);
        }
        Err(Trouble::Steps)
    }

    /// Solves the basis again from its columns, and once more on what is left.
    pub(in crate::equivalent) fn refine(&mut self) -> Result<(), Trouble> {
        let n = self.n;
        let mut basis = DMatrix::<f64>::zeros(n, n);
        let mut prices = DVector::<f64>::zeros(n);
        for ((mut column, basic), price) in
            basis.column_iter_mut().zip(&self.basis).zip(prices.iter_mut())
        {
            match basic {
                Basic::Row(i) => {
                    let a = self.a.get(i * n..(i + 1) * n).unwrap_or_default();
                    column.iter_mut().zip(a).for_each(|(c, a)| *c = *a);
                    *price = self.b.get(*i).copied().unwrap_or(0.0);
                }
                Basic::Slack(j) => {
                    if let Some(c) = column.get_mut(*j) {
                        *c = 1.0;
                    }
                }
            }
        }
        let transposed = basis.transpose();
        let cost = DVector::from_column_slice(&self.cost);
        let (lu, ut) = (basis.clone().lu(), transposed.clone().lu());
        let solved = |lu: &nalgebra::LU<f64, nalgebra::Dyn, nalgebra::Dyn>,
                      m: &DMatrix<f64>,
                      right: &DVector<f64>| {
            let mut found = lu.solve(right)?;
            for _ in 0..2 {
                let more = lu.solve(&left_over(m, &found, right))?;
                let done = more.amax() <= 1e-14 * found.amax();
                found += more;
                if done {
                    break;
                }
            }
            Some(found)
        };
        let values = solved(&lu, &basis, &cost).ok_or(Trouble::Singular)?;
        let x = solved(&ut, &transposed, &prices).ok_or(Trouble::Singular)?;
        let inverse = lu.try_inverse().ok_or(Trouble::Singular)?;
        if !x.iter().chain(values.iter()).all(|v| v.is_finite()) {
            return Err(Trouble::Singular);
        }
        // nalgebra stores by columns
        self.inverse.copy_from_slice(inverse.transpose().as_slice());
        self.values.copy_from_slice(values.as_slice());
        self.x.iter_mut().zip(x.iter()).for_each(|(x, new)| *x = *new);
        Ok(())
    }

    /// Solves the basis again; a multiplier that comes out below zero leaves it. Every row must hold.
    pub(in crate::equivalent) fn settle(&mut self) -> Result<(), Trouble> {
        self.refine()?;
        let size = self.values.iter().fold(f64::MIN_POSITIVE, |m, v| m.max(v.abs()));
        if self.values.iter().any(|v| *v < -PAYS * size) {
            let before = self.clone();
            match self.turn(self.cost.clone()) {
                Ok(true) => self.refine()?,
                _ => *self = before,
            }
        }
        self.values.iter_mut().for_each(|v| *v = v.max(0.0));
        Ok(())
    }
}
