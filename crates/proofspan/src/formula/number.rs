//! The numbers a formula can be evaluated with: doubles that know their noise,
//! intervals, and exact rationals.

use num_rational::BigRational;
use num_traits::{FromPrimitive, Signed, ToPrimitive, Zero};

/// A number type of the grammar.
pub trait Number: Clone {
    /// The number nearest to a double; exact for rationals.
    fn from_f64(x: f64) -> Self;
    /// The double nearest to the number (the middle of an interval).
    fn to_f64(&self) -> f64;
    /// The sum.
    fn add(&self, other: &Self) -> Self;
    /// The difference.
    fn sub(&self, other: &Self) -> Self;
    /// The product.
    fn mul(&self, other: &Self) -> Self;
    /// The quotient, where it exists.
    fn div(&self, other: &Self) -> Option<Self>;
    /// The square root, where it exists in this type.
    fn sqrt(&self) -> Option<Self>;
    /// The power, where it exists in this type.
    fn pow(&self, power: &Self) -> Option<Self>;
    /// Whether the number is below the other; `None` where that is not settled.
    fn below(&self, other: &Self) -> Option<bool>;
    /// Whether two numbers are equal; `None` where that is not settled.
    fn equal(&self, other: &Self) -> Option<bool>;
    /// The magnitude.
    fn abs(&self) -> Self;
    /// The smaller of two.
    fn min(&self, other: &Self) -> Self;
    /// The larger of two.
    fn max(&self, other: &Self) -> Self;
}

/// Binary noise kept from deciding: this part of the largest operand of a comparison.
const NOISE: f64 = 1e-12;

/// A double with the largest operand that went into it, so that a comparison on the
/// decimals as given is not decided by binary noise: 0.4 − 0.1 is not above a quarter of 1.2.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Noisy {
    /// The value.
    pub value: f64,
    scale: f64,
}

impl Noisy {
    fn new(value: f64, scale: f64) -> Self {
        Self { value, scale: scale.max(value.abs()) }
    }
    fn noise(&self, other: &Self) -> f64 {
        NOISE * self.scale.max(other.scale)
    }
}

impl Number for Noisy {
    fn from_f64(x: f64) -> Self {
        Self::new(x, 0.0)
    }
    fn to_f64(&self) -> f64 {
        self.value
    }
    fn add(&self, o: &Self) -> Self {
        Self::new(self.value + o.value, self.scale.max(o.scale))
    }
    fn sub(&self, o: &Self) -> Self {
        Self::new(self.value - o.value, self.scale.max(o.scale))
    }
    fn mul(&self, o: &Self) -> Self {
        Self::new(
            self.value * o.value,
            (self.scale * o.value.abs()).max(o.scale * self.value.abs()),
        )
    }
    fn div(&self, o: &Self) -> Option<Self> {
        if o.value.abs() < f64::MIN_POSITIVE {
            return None;
        }
        let value = self.value / o.value;
        Some(Self::new(
            value,
            (self.scale / o.value.abs()).max(value.abs() * o.scale / o.value.abs()),
        ))
    }
    fn sqrt(&self) -> Option<Self> {
        (self.value >= 0.0).then(|| Self::new(self.value.sqrt(), self.scale.sqrt()))
    }
    fn pow(&self, o: &Self) -> Option<Self> {
        let value = self.value.powf(o.value);
        (self.value >= 0.0 && value.is_finite()).then(|| Self::new(value, 0.0))
    }
    fn below(&self, o: &Self) -> Option<bool> {
        let settled = self.value.is_finite() && o.value.is_finite();
        settled.then(|| self.value < o.value - self.noise(o))
    }
    fn equal(&self, o: &Self) -> Option<bool> {
        let settled = self.value.is_finite() && o.value.is_finite();
        settled.then(|| (self.value - o.value).abs() <= self.noise(o))
    }
    fn abs(&self) -> Self {
        Self::new(self.value.abs(), self.scale)
    }
    fn min(&self, o: &Self) -> Self {
        if o.value < self.value { *o } else { *self }
    }
    fn max(&self, o: &Self) -> Self {
        if o.value > self.value { *o } else { *self }
    }
}

/// A closed interval. Bounds are computed in doubles without outward rounding.
#[derive(Clone, Copy, PartialEq, Debug)]
#[non_exhaustive]
pub struct Interval {
    /// The lower end.
    pub low: f64,
    /// The upper end.
    pub high: f64,
}

impl Interval {
    /// The interval between two ends, in order.
    #[must_use]
    pub const fn new(a: f64, b: f64) -> Self {
        Self { low: a.min(b), high: a.max(b) }
    }
    fn hull(values: [f64; 4]) -> Self {
        Self {
            low: values.into_iter().fold(f64::INFINITY, f64::min),
            high: values.into_iter().fold(f64::NEG_INFINITY, f64::max),
        }
    }
}

impl Number for Interval {
    fn from_f64(x: f64) -> Self {
        Self::new(x, x)
    }
    fn to_f64(&self) -> f64 {
        f64::midpoint(self.low, self.high)
    }
    fn add(&self, o: &Self) -> Self {
        Self::new(self.low + o.low, self.high + o.high)
    }
    fn sub(&self, o: &Self) -> Self {
        Self::new(self.low - o.high, self.high - o.low)
    }
    fn mul(&self, o: &Self) -> Self {
        Self::hull([self.low * o.low, self.low * o.high, self.high * o.low, self.high * o.high])
    }
    fn div(&self, o: &Self) -> Option<Self> {
        let holds_zero = o.low <= 0.0 && o.high >= 0.0;
        (!holds_zero).then(|| {
            Self::hull([self.low / o.low, self.low / o.high, self.high / o.low, self.high / o.high])
        })
    }
    fn sqrt(&self) -> Option<Self> {
        (self.low >= 0.0).then(|| Self::new(self.low.sqrt(), self.high.sqrt()))
    }
    fn pow(&self, o: &Self) -> Option<Self> {
        let all = |p: f64| [self.low.powf(p), self.high.powf(p)];
        let [a, b] = all(o.low);
        let [c, d] = all(o.high);
        (self.low > 0.0).then(|| Self::hull([a, b, c, d]))
    }
    fn below(&self, o: &Self) -> Option<bool> {
        if self.high < o.low {
            Some(true)
        } else if self.low >= o.high {
            Some(false)
        } else {
            None
        }
    }
    fn equal(&self, o: &Self) -> Option<bool> {
        if self.high < o.low || o.high < self.low {
            Some(false)
        } else if self.high - self.low <= 0.0 && o.high - o.low <= 0.0 {
            Some(true)
        } else {
            None
        }
    }
    fn abs(&self) -> Self {
        if self.low >= 0.0 {
            *self
        } else if self.high <= 0.0 {
            Self::new(-self.high, -self.low)
        } else {
            Self::new(0.0, self.high.max(-self.low))
        }
    }
    fn min(&self, o: &Self) -> Self {
        Self::new(self.low.min(o.low), self.high.min(o.high))
    }
    fn max(&self, o: &Self) -> Self {
        Self::new(self.low.max(o.low), self.high.max(o.high))
    }
}

/// An exact rational; every finite double is one. It has no roots and no broken powers.
#[derive(Clone, PartialEq, Debug)]
pub struct Exact(pub BigRational);

impl Number for Exact {
    fn from_f64(x: f64) -> Self {
        Self(BigRational::from_f64(x).unwrap_or_else(BigRational::zero))
    }
    fn to_f64(&self) -> f64 {
        self.0.to_f64().unwrap_or(f64::NAN)
    }
    fn add(&self, o: &Self) -> Self {
        Self(&self.0 + &o.0)
    }
    fn sub(&self, o: &Self) -> Self {
        Self(&self.0 - &o.0)
    }
    fn mul(&self, o: &Self) -> Self {
        Self(&self.0 * &o.0)
    }
    fn div(&self, o: &Self) -> Option<Self> {
        (!o.0.is_zero()).then(|| Self(&self.0 / &o.0))
    }
    fn sqrt(&self) -> Option<Self> {
        None
    }
    fn pow(&self, _: &Self) -> Option<Self> {
        None
    }
    fn below(&self, o: &Self) -> Option<bool> {
        Some(self.0 < o.0)
    }
    fn equal(&self, o: &Self) -> Option<bool> {
        Some(self.0 == o.0)
    }
    fn abs(&self) -> Self {
        Self(self.0.abs())
    }
    fn min(&self, o: &Self) -> Self {
        if o.0 < self.0 { o.clone() } else { self.clone() }
    }
    fn max(&self, o: &Self) -> Self {
        if o.0 > self.0 { o.clone() } else { self.clone() }
    }
}
