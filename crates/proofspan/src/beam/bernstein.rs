//! A polynomial held between its Bernstein coefficients: bounds without roots.

use super::poly::Poly;

/// Bernstein coefficients of degree five on an interval.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Shape(pub(crate) [f64; 6]);

impl Shape {
    pub(crate) fn on(p: &Poly, h: f64) -> Self {
        const BINOMIAL: [f64; 6] = [1.0, 5.0, 10.0, 10.0, 5.0, 1.0];
        let mut scaled = [0.0; 6];
        let mut power = 1.0;
        for ((place, c), below) in scaled.iter_mut().zip(p.c).zip(BINOMIAL) {
            *place = c * power / below;
            power *= h;
        }
        // b_i = Σ_j C(i, j) scaled_j, by repeated sums
        let mut b = scaled;
        for k in 1..6 {
            for i in (k..6).rev() {
                let before = b.get(i - 1).copied().unwrap_or(0.0);
                if let Some(place) = b.get_mut(i) {
                    *place += before;
                }
            }
        }
        Self(b)
    }
    pub(crate) fn least(&self) -> f64 {
        self.0.iter().copied().fold(f64::INFINITY, f64::min)
    }
    pub(crate) fn most(&self) -> f64 {
        self.0.iter().copied().fold(f64::NEG_INFINITY, f64::max)
    }
    /// De Casteljau in the middle.
    pub(crate) fn halves(&self) -> (Self, Self) {
        let mut work = self.0;
        let (mut left, mut right) = ([0.0; 6], [0.0; 6]);
        for k in 0..6 {
            let (first, last) = (work.first().copied(), work.get(5 - k).copied());
            if let (Some(l), Some(first)) = (left.get_mut(k), first) {
                *l = first;
            }
            if let (Some(r), Some(last)) = (right.get_mut(5 - k), last) {
                *r = last;
            }
            for i in 0..5_usize.saturating_sub(k) {
                let next = work.get(i + 1).copied().unwrap_or(0.0);
                if let Some(w) = work.get_mut(i) {
                    *w = f64::midpoint(*w, next);
                }
            }
        }
        (Self(left), Self(right))
    }
    /// The value at the left end.
    #[cfg_attr(not(feature = "cone"), allow(dead_code, reason = "only cones ask"))]
    pub(crate) fn first(&self) -> f64 {
        self.0.first().copied().unwrap_or(0.0)
    }
    /// The value at the right end.
    #[cfg_attr(not(feature = "cone"), allow(dead_code, reason = "only cones ask"))]
    pub(crate) fn last(&self) -> f64 {
        self.0.last().copied().unwrap_or(0.0)
    }
    pub(crate) fn middle(&self) -> f64 {
        self.halves().1.0.first().copied().unwrap_or(0.0)
    }
    pub(crate) fn plus(&self, k: f64, other: &Self) -> Self {
        let mut sum = self.0;
        sum.iter_mut().zip(other.0).for_each(|(a, b)| *a += k * b);
        Self(sum)
    }
}

fn largest(shapes: &[Shape]) -> f64 {
    shapes.iter().fold(0.0, |m, s| {
        m.max(s.0.first().map_or(0.0, |v| v.abs()))
            .max(s.0.last().map_or(0.0, |v| v.abs()))
            .max(s.middle().abs())
    })
}

/// The largest size of a shape above what is known already.
pub(crate) fn peak(shape: &Shape, known: f64, depth: u32) -> f64 {
    let possible = shape.most().max(-shape.least());
    let here = largest(core::slice::from_ref(shape)).max(known);
    if possible <= here * (1.0 + 1e-12) || depth == 0 {
        return here;
    }
    let (a, b) = shape.halves();
    let here = here.max(peak(&a, here, depth - 1));
    here.max(peak(&b, here, depth - 1))
}

/// A value that the polynomial does not pass below on `[0, h]`: the least Bernstein coefficient.
pub(crate) fn bernstein_least(p: &Poly, h: f64) -> f64 {
    let [a, b, c, d, e, f] = p.c;
    if e.abs() <= 0.0 && f.abs() <= 0.0 {
        // degree three: a, a + b/3, …
        let (b, c, d) = (b * h / 3.0, c * h * h / 3.0, d * h * h * h);
        let one = a + b;
        let two = one + b + c;
        let three = a + 3.0 * b + 3.0 * c + d;
        return a.min(one).min(two).min(three);
    }
    Shape::on(p, h).least()
}
