//! One segment: between two breakpoints the solution is six numbers.

use super::poly::Poly;

/// A stretch without a jump. All in SI, at its left edge; `s` runs from 0 to `length`.
///
/// `q = q₀ + q₁ s`, `V = V₀ − q₀ s − q₁ s²/2`, `M = M₀ + V₀ s − q₀ s²/2 − q₁ s³/6`,
/// `ψ′ = −M/EI − κ` with `κ = κ₀ + κ₁ s`, `w′ = ψ + c V` with `c = 1/(G A_s)`.
#[derive(Clone, Copy, PartialEq, Debug)]
#[non_exhaustive]
pub struct Segment {
    /// Place of the left edge from the left end of the beam, m.
    pub start: f64,
    /// Length, m.
    pub length: f64,
    /// Flexural rigidity, N·m².
    pub ei: f64,
    /// Shear flexibility 1/(G A_s), 1/N; zero where shear does not deform.
    pub c: f64,
    /// Imposed curvature, 1/m, positive where it sags.
    pub k0: f64,
    /// Change of the imposed curvature, 1/m².
    pub k1: f64,
    /// Line load, N/m.
    pub q0: f64,
    /// Change of the line load, N/m².
    pub q1: f64,
    /// Shear, N.
    pub v0: f64,
    /// Moment, N·m.
    pub m0: f64,
    /// Rotation of the section; dw/dx where shear does not deform.
    pub r0: f64,
    /// Deflection, m.
    pub w0: f64,
}

impl Segment {
    /// Place of the right edge, m.
    #[must_use]
    pub fn end(&self) -> f64 {
        self.start + self.length
    }
    /// The line load.
    #[must_use]
    pub const fn load(&self) -> Poly {
        Poly::new([self.q0, self.q1, 0.0, 0.0, 0.0, 0.0])
    }
    /// The shear.
    #[must_use]
    pub fn shear(&self) -> Poly {
        Poly::new([self.v0, -self.q0, -self.q1 / 2.0, 0.0, 0.0, 0.0])
    }
    /// The moment.
    #[must_use]
    pub fn moment(&self) -> Poly {
        Poly::new([self.m0, self.v0, -self.q0 / 2.0, -self.q1 / 6.0, 0.0, 0.0])
    }
    /// The rotation of the section.
    #[must_use]
    pub fn rotation(&self) -> Poly {
        let f = 1.0 / self.ei;
        Poly::new([
            self.r0,
            -self.m0 * f - self.k0,
            -0.5 * (self.v0 * f + self.k1),
            self.q0 * f * (1.0 / 6.0),
            self.q1 * f * (1.0 / 24.0),
            0.0,
        ])
    }
    /// The deflection.
    #[must_use]
    pub fn deflection(&self) -> Poly {
        let (f, c) = (1.0 / self.ei, self.c);
        Poly::new([
            self.w0,
            self.r0 + c * self.v0,
            -0.5 * (self.m0 * f + self.k0 + c * self.q0),
            -(self.v0 * f + self.k1 + c * self.q1) * (1.0 / 6.0),
            self.q0 * f * (1.0 / 24.0),
            self.q1 * f * (1.0 / 120.0),
        ])
    }

    /// The part of the segment that begins at `s` and has this length.
    #[must_use]
    pub(crate) fn part(&self, s: f64, length: f64) -> Self {
        if s <= 0.0 {
            return Self { length, ..*self };
        }
        Self {
            start: self.start + s,
            length,
            ei: self.ei,
            c: self.c,
            k0: self.k0 + self.k1 * s,
            k1: self.k1,
            q0: self.load().at(s),
            q1: self.q1,
            v0: self.shear().at(s),
            m0: self.moment().at(s),
            r0: self.rotation().at(s),
            w0: self.deflection().at(s),
        }
    }

    /// Multiplies loads, actions and movements by `k`.
    pub(super) fn scale(&mut self, k: f64) {
        for value in [
            &mut self.k0,
            &mut self.k1,
            &mut self.q0,
            &mut self.q1,
            &mut self.v0,
            &mut self.m0,
            &mut self.r0,
            &mut self.w0,
        ] {
            *value *= k;
        }
    }

    /// Adds `k` times another segment of the same stretch.
    pub(super) fn add(&mut self, k: f64, other: &Self) {
        self.k0 += k * other.k0;
        self.k1 += k * other.k1;
        self.q0 += k * other.q0;
        self.q1 += k * other.q1;
        self.v0 += k * other.v0;
        self.m0 += k * other.m0;
        self.r0 += k * other.r0;
        self.w0 += k * other.w0;
    }
}
