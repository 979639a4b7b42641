//! Bounds by subdivision, without roots and without derivatives: a limit holds for every x of a stretch.

use crate::beam::{Piece, Poly, Response, Segment, Shape, peak, walk};
use crate::equivalent::asked::effect::Effect;
use crate::equivalent::asked::reference::NOTHING;
use crate::units::Length;

/// A violation below this part of the largest action is rounding.
const MET: f64 = 1e-9;
/// Bounds this close to each other are one; well below [`MET`], or the bound itself would be the alarm.
const CLOSED: f64 = 1e-11;
pub(super) const DEEP: u32 = 48;

/// The worst violation so far.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Worst {
    pub(super) size: f64,
    pub(super) at: Option<f64>,
}

impl Worst {
    /// Bounds the violation of a claim about several polynomials. `judge` says, for their shapes
    /// on a part, the largest violation that is possible there and one that is surely there.
    pub(super) fn bound(
        &mut self,
        shapes: &[Shape],
        start: f64,
        h: f64,
        scale: f64,
        judge: &impl Fn(&[Shape]) -> (f64, f64),
        depth: u32,
    ) {
        let (possible, sure) = judge(shapes);
        if possible <= self.size.max(MET * scale) {
            return;
        }
        if sure > self.size {
            self.size = sure;
            self.at = Some(start + h / 2.0);
        }
        if depth == 0 {
            if possible.is_finite() {
                self.size = self.size.max(possible);
                self.at = Some(start + h / 2.0);
            }
            return;
        }
        if possible - self.size <= CLOSED * scale {
            self.size = possible;
            return;
        }
        let (mut left, mut right) =
            (Vec::with_capacity(shapes.len()), Vec::with_capacity(shapes.len()));
        for shape in shapes {
            let (a, b) = shape.halves();
            left.push(a);
            right.push(b);
        }
        self.bound(&left, start, h / 2.0, scale, judge, depth - 1);
        self.bound(&right, start + h / 2.0, h / 2.0, scale, judge, depth - 1);
    }
}

/// A violation, relative and as an amount in SI, and where.
#[derive(Clone, Copy, Debug)]
pub(super) struct Violation {
    pub(super) relative: f64,
    pub(super) amount: f64,
    pub(super) at: Option<f64>,
}

/// Below rounding there is none.
pub(super) fn finished(amount: f64, scale: f64, at: Option<f64>) -> Violation {
    let relative = if scale > 0.0 { amount / scale } else { 0.0 };
    if relative <= MET {
        return Violation { relative: 0.0, amount: 0.0, at: None };
    }
    Violation { relative, amount, at }
}

/// The test with terms beside it, with or without what is in place.
pub(super) struct Cases<'a> {
    /// The test, what is in place, the terms.
    all: Vec<&'a Response>,
    total: bool,
}

impl<'a> Cases<'a> {
    pub(super) fn of(
        test: &'a Response,
        there: Option<&'a Response>,
        terms: &[&'a Response],
    ) -> Self {
        let all = [test].into_iter().chain(there).chain(terms.iter().copied()).collect();
        Self { all, total: there.is_some() }
    }

    fn walk(&self, (from, to): (Length, Length), visit: impl FnMut(&Piece<'_>)) {
        walk(&self.all, from.si(), to.si(), visit);
    }

    /// The test first, then each term.
    fn shapes(&self, piece: &Piece<'_>, poly: impl Fn(&Segment) -> Poly) -> Vec<Shape> {
        let mut shapes: Vec<Shape> =
            piece.parts().map(|s| Shape::on(&poly(&s), piece.length)).collect();
        if self.total && shapes.len() > 1 {
            let there = shapes.remove(1);
            shapes.iter_mut().for_each(|s| *s = s.plus(1.0, &there));
        }
        shapes
    }

    /// The largest size of a term, by subdivision: bounds close in on it.
    fn largest(&self, stretch: (Length, Length), poly: impl Fn(&Segment) -> Poly) -> f64 {
        let mut scale = 0.0_f64;
        self.walk(stretch, |piece| {
            for shape in self.shapes(piece, &poly).iter().skip(1) {
                scale = scale.max(peak(shape, scale, DEEP));
            }
        });
        scale
    }
}

/// In each sign not more than a ratio times the largest reference.
pub(super) fn capped(
    cases: &Cases<'_>,
    stretches: &[(Length, Length)],
    effect: Effect,
    (at_most, floor): (f64, f64),
) -> Violation {
    let mut worst = Worst::default();
    let mut scale_of_all = 0.0_f64;
    let poly = |s: &Segment| effect.poly(s);
    for stretch in stretches {
        let scale = cases.largest(*stretch, poly);
        scale_of_all = scale_of_all.max(scale);
        cases.walk(*stretch, |piece| {
            let judge = |shapes: &[Shape]| {
                let Some((test, terms)) = shapes.split_first() else { return (0.0, 0.0) };
                let mut possible = 0.0_f64;
                let mut sure = f64::NEG_INFINITY;
                for sign in [1.0, -1.0] {
                    let plain = if sign > 0.0 { test.most() } else { -test.least() }
                        - at_most * floor * scale;
                    let mut least = plain;
                    let mut most = floor * scale;
                    for term in terms {
                        let over = test.plus(-at_most, term);
                        least = least.min(if sign > 0.0 { over.most() } else { -over.least() });
                        most = most.max(sign * term.middle());
                    }
                    possible = possible.max(least);
                    sure = sure.max(sign * test.middle() - at_most * most);
                }
                (possible, sure)
            };
            let shapes = cases.shapes(piece, poly);
            worst.bound(&shapes, piece.start, piece.length, scale, &judge, DEEP);
        });
    }
    finished(worst.size, scale_of_all, worst.at)
}

/// Between two limits.
pub(super) fn band(
    cases: &Cases<'_>,
    stretches: &[(Length, Length)],
    poly: fn(&Segment) -> Poly,
    (low, high): (Option<f64>, Option<f64>),
) -> Violation {
    let mut worst = Worst::default();
    let scale = low.map_or(0.0, f64::abs).max(high.map_or(0.0, f64::abs));
    for stretch in stretches {
        cases.walk(*stretch, |piece| {
            let judge = |shapes: &[Shape]| {
                let Some(shape) = shapes.first() else { return (0.0, 0.0) };
                let over = |value: f64| high.map_or(0.0, |h| value - h);
                let under = |value: f64| low.map_or(0.0, |l| l - value);
                let middle = shape.middle();
                (over(shape.most()).max(under(shape.least())), over(middle).max(under(middle)))
            };
            let shapes = cases.shapes(piece, poly);
            worst.bound(&shapes, piece.start, piece.length, scale, &judge, DEEP);
        });
    }
    finished(worst.size, scale, worst.at)
}

/// `least ≤ |M|/|V| ≤ most` where every term agrees in both signs.
pub(super) fn windowed(
    cases: &Cases<'_>,
    stretches: &[(Length, Length)],
    noise: (f64, f64),
    (least, most): (Option<f64>, Option<f64>),
) -> Violation {
    let mut worst = Worst::default();
    let (mut scale, mut shear) = (0.0_f64, 0.0_f64);
    for stretch in stretches {
        scale = scale.max(cases.largest(*stretch, Segment::moment));
        shear = shear.max(cases.largest(*stretch, Segment::shear));
        let nothing = ((NOTHING * scale).max(noise.0), (NOTHING * shear).max(noise.1));
        cases.walk(*stretch, |piece| {
            let moments = cases.shapes(piece, Segment::moment);
            let count = moments.len();
            let shears = cases.shapes(piece, Segment::shear);
            // a term that is about zero on the whole piece has no sign
            let live = |all: &[Shape], nothing: f64| -> Vec<bool> {
                all.iter().skip(1).map(|s| peak(s, 0.0, DEEP) > nothing).collect()
            };
            let live = (live(&moments, nothing.0), live(&shears, nothing.1));
            let all: Vec<Shape> = moments.into_iter().chain(shears).collect();
            let judge = |shapes: &[Shape]| {
                let (moments, shears) = shapes.split_at(count.min(shapes.len()));
                let (Some((m, ms)), Some((v, vs))) = (moments.split_first(), shears.split_first())
                else {
                    return (0.0, 0.0);
                };
                // the sign that all terms have on the whole part: settled, mixed for certain, or open
                let sign = |terms: &[Shape], live: &[bool]| -> Option<Option<f64>> {
                    let live = || terms.iter().zip(live).filter(|l| *l.1).map(|l| l.0);
                    if live().next().is_none() {
                        Some(None)
                    } else if live().all(|t| t.least() >= 0.0) {
                        Some(Some(1.0))
                    } else if live().all(|t| t.most() <= 0.0) {
                        Some(Some(-1.0))
                    } else if live().any(|t| t.least() > 0.0) && live().any(|t| t.most() < 0.0) {
                        Some(None)
                    } else {
                        None
                    }
                };
                match (sign(ms, &live.0), sign(vs, &live.1)) {
                    (Some(None), _) | (_, Some(None)) => (0.0, 0.0),
                    (Some(Some(km)), Some(Some(kv))) => {
                        let size = |k: f64, s: &Shape| Shape([0.0; 6]).plus(k, s);
                        let (m, v) = (size(km, m), size(kv, v));
                        let mut bounds = (0.0_f64, f64::NEG_INFINITY);
                        for (limit, k) in [(least, 1.0), (most, -1.0)] {
                            let Some(limit) = limit else { continue };
                            let slack = Shape([0.0; 6]).plus(k, &m).plus(-k * limit, &v);
                            bounds = (bounds.0.max(-slack.least()), bounds.1.max(-slack.middle()));
                        }
                        bounds
                    }
                    // a sign is not settled on this part
                    _ => (f64::INFINITY, 0.0),
                }
            };
            worst.bound(&all, piece.start, piece.length, scale, &judge, DEEP);
        });
    }
    finished(worst.size, scale, worst.at)
}
