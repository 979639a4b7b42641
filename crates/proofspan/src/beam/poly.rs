//! Polynomials up to degree five, and their roots on an interval.

/// `c[0] + c[1] s + … + c[5] s⁵`
#[derive(Clone, Copy, PartialEq, Debug, Default)]
#[non_exhaustive]
pub struct Poly {
    /// Coefficients, constant first.
    pub c: [f64; 6],
}

/// Roots in rising order; at most five.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
pub struct Roots {
    values: [f64; 5],
    count: usize,
}

impl Roots {
    /// The roots in rising order.
    #[must_use]
    pub fn as_slice(&self) -> &[f64] {
        self.values.get(..self.count).unwrap_or(&[])
    }
    fn push(&mut self, x: f64) {
        let repeated = self.as_slice().last().is_some_and(|last| x - last <= 0.0);
        if !repeated && let Some(place) = self.values.get_mut(self.count) {
            *place = x;
            self.count += 1;
        }
    }
}

impl Poly {
    /// One, everywhere.
    pub(crate) const ONE: Self = Self::new([1.0, 0.0, 0.0, 0.0, 0.0, 0.0]);

    /// The polynomial of these coefficients, constant first.
    #[must_use]
    pub const fn new(c: [f64; 6]) -> Self {
        Self { c }
    }

    /// The value at `s`.
    #[must_use]
    pub fn at(&self, s: f64) -> f64 {
        let [a, b, c, d, e, f] = self.c;
        // no fused step: without the instruction it is a call, six times dearer than the sum
        ((((f * s + e) * s + d) * s + c) * s + b) * s + a
    }

    /// The derivative.
    #[must_use]
    pub fn derivative(&self) -> Self {
        let [_, a, b, c, d, e] = self.c;
        Self::new([a, 2.0 * b, 3.0 * c, 4.0 * d, 5.0 * e, 0.0])
    }

    /// `self + k other`
    #[must_use]
    pub fn plus(&self, k: f64, other: &Self) -> Self {
        let mut c = self.c;
        c.iter_mut().zip(other.c).for_each(|(a, b)| *a += k * b);
        Self::new(c)
    }

    /// The product; terms above degree five must vanish.
    #[must_use]
    pub fn times(&self, other: &Self) -> Self {
        let mut c = [0.0; 6];
        for (i, a) in self.c.iter().enumerate().filter(|(_, a)| a.abs() > 0.0) {
            for (j, b) in other.c.iter().enumerate() {
                if let Some(place) = c.get_mut(i + j) {
                    *place += a * b;
                }
            }
        }
        Self::new(c)
    }

    /// The degree, counting no coefficient that is exactly zero.
    #[must_use]
    pub fn degree(&self) -> usize {
        self.c.iter().rposition(|c| c.abs() > 0.0).unwrap_or(0)
    }

    /// Where the polynomial is zero on `[0, h]`. Between two neighbouring zeros of the
    /// derivative it is monotone, so a change of sign brackets exactly one root; a double
    /// root is a zero of the derivative at which the value vanishes within rounding.
    #[must_use]
    #[inline]
    pub fn roots(&self, h: f64) -> Roots {
        let [a, b, rest @ ..] = self.c;
        if rest.iter().any(|c| c.abs() > 0.0) {
            return self.curved(h);
        }
        let mut roots = Roots::default();
        let s = -a / b;
        if b.abs() > 0.0 && (0.0..=h).contains(&s) {
            roots.push(s);
        }
        roots
    }

    /// The same from degree two on.
    fn curved(&self, h: f64) -> Roots {
        let mut roots = Roots::default();
        match self.degree() {
            2 => quadratic(self.c, h, &mut roots),
            _ if self.c.first().is_some_and(|c| c.abs() <= 0.0) => {
                // zero is a root, exactly; the rest has one degree less
                roots.push(0.0);
                let [_, a, b, c, d, e] = self.c;
                let rest = Self::new([a, b, c, d, e, 0.0]).roots(h);
                rest.as_slice().iter().for_each(|s| roots.push(*s));
            }
            n => match self.changes(n, h) {
                Some(0) => {}
                Some(1) => roots.push(self.bracketed(0.0, h)),
                _ => self.between_turns(h, &mut roots),
            },
        }
        roots
    }

    /// How often the Bernstein coefficients on `[0, h]` change their sign: no change, no root; one
    /// change, one root (Descartes' rule). Nothing where rounding could hide a change.
    fn changes(&self, n: usize, h: f64) -> Option<usize> {
        const BINOMIAL: [[f64; 6]; 6] = [
            [1.0, 0.0, 0.0, 0.0, 0.0, 0.0],
            [1.0, 1.0, 0.0, 0.0, 0.0, 0.0],
            [1.0, 2.0, 1.0, 0.0, 0.0, 0.0],
            [1.0, 3.0, 3.0, 1.0, 0.0, 0.0],
            [1.0, 4.0, 6.0, 4.0, 1.0, 0.0],
            [1.0, 5.0, 10.0, 10.0, 5.0, 1.0],
        ];
        let row = BINOMIAL.get(n)?;
        let mut scaled = [0.0; 6];
        let (mut power, mut size) = (1.0, 0.0_f64);
        for ((place, c), below) in scaled.iter_mut().zip(self.c).zip(row) {
            if *below > 0.0 {
                *place = c * power / below;
            }
            size = size.max(place.abs());
            power *= h;
        }
        let mut last = 0.0_f64;
        let mut changes = 0;
        for above in BINOMIAL.iter().take(n + 1) {
            let value: f64 = above.iter().zip(scaled).map(|(a, b)| a * b).sum();
            if value.abs() <= 64.0 * f64::EPSILON * size {
                return None;
            }
            changes += usize::from(last * value < 0.0);
            last = value;
        }
        Some(changes)
    }

    /// Roots between the zeros of the derivative.
    fn between_turns(&self, h: f64, roots: &mut Roots) {
        let turns = self.derivative().roots(h);
        let size = Self::new(self.c.map(f64::abs)).at(h);
        let tiny = 4.0 * f64::EPSILON * size;
        let mut left = 0.0;
        for right in turns.as_slice().iter().copied().chain([h]) {
            let (a, b) = (self.at(left), self.at(right));
            if a.abs() <= tiny {
                roots.push(left);
            }
            if a.abs() > tiny && b.abs() > tiny && (a > 0.0) != (b > 0.0) {
                roots.push(self.bracketed(left, right));
            }
            left = right;
        }
        if self.at(h).abs() <= tiny {
            roots.push(h);
        }
    }

    /// The root between `a` and `b`, where the signs differ: Newton, kept inside by bisection.
    fn bracketed(&self, mut a: f64, mut b: f64) -> f64 {
        let rising = self.at(a) < 0.0;
        let slope = self.derivative();
        let mut x = f64::midpoint(a, b);
        for _ in 0..200 {
            let value = self.at(x);
            if value.abs() <= 0.0 {
                return x;
            }
            if (value < 0.0) == rising {
                a = x;
            } else {
                b = x;
            }
            let newton = x - value / slope.at(x);
            let next = if newton > a && newton < b { newton } else { f64::midpoint(a, b) };
            if (next - x).abs() <= f64::EPSILON * x.abs() || b - a <= 0.0 {
                return next;
            }
            x = next;
        }
        x
    }
}

/// Roots of a quadratic without cancellation.
fn quadratic(c: [f64; 6], h: f64, roots: &mut Roots) {
    let [c0, c1, c2, ..] = c;
    let disc = c1 * c1 - 4.0 * c2 * c0;
    let scale = f64::EPSILON * (c1 * c1 + (4.0 * c2 * c0).abs());
    if disc < -scale {
        return;
    }
    let root = disc.max(0.0).sqrt();
    let q = -0.5 * (c1 + if c1 < 0.0 { -root } else { root });
    let mut found = [q / c2, if q.abs() > 0.0 { c0 / q } else { q / c2 }];
    found.sort_by(f64::total_cmp);
    for s in found {
        if (0.0..=h).contains(&s) {
            roots.push(s);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn known_roots() {
        // (s-1)(s-2)(s-3)(s-4)(s-5): exact integers
        let p = Poly::new([-120.0, 274.0, -225.0, 85.0, -15.0, 1.0]);
        let roots = p.roots(10.0);
        for (root, exact) in roots.as_slice().iter().zip([1.0, 2.0, 3.0, 4.0, 5.0]) {
            assert!((root - exact).abs() < 1e-12, "{root}");
        }
        assert_eq!(roots.as_slice().len(), 5);
        // (s-1)^2 (s-3): a double root
        let p = Poly::new([-3.0, 7.0, -5.0, 1.0, 0.0, 0.0]);
        assert_eq!(p.roots(5.0).as_slice().len(), 2);
        assert_eq!(Poly::new([1.0, 0.0, 1.0, 0.0, 0.0, 0.0]).roots(5.0).as_slice().len(), 0);
        assert_eq!(Poly::default().roots(1.0).as_slice().len(), 0);
    }

    proptest! {
        /// Every change of sign on a fine grid has a root beside it.
        #[test]
        fn no_change_of_sign_is_missed(c in prop::array::uniform6(-10.0..10.0f64)) {
            let p = Poly::new(c);
            let roots = p.roots(2.0);
            let mut last = p.at(0.0);
            for i in 1..=500 {
                let s = 2.0 * f64::from(i) / 500.0;
                let value = p.at(s);
                if last.abs() > 1e-9 && value.abs() > 1e-9 && (last > 0.0) != (value > 0.0) {
                    let near = roots.as_slice().iter().any(|r| *r > s - 0.0041 && *r < s + 1e-4);
                    prop_assert!(near, "sign change before {} not found in {:?}", s, roots);
                }
                last = value;
            }
            for r in roots.as_slice() {
                prop_assert!(p.at(*r).abs() < 1e-9, "{} at {}", p.at(*r), r);
            }
        }
    }
}
