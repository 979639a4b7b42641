//! By how much does the test exceed what was asked, and against what?
//!
//! Against the envelope (what was asked) and against each term (what is over-tested). A term that
//! acts in the other sense asks nothing of the one in which the test acts, so the envelope is the
//! largest term in the sense of the test at each x; where no term acts in it, what is asked is
//! nothing and counts as the floor. Net and total differ: a limit must say which it means.

use smallvec::{SmallVec, smallvec};

use crate::beam::{Poly, Response, Segment, Side, monotone, turning, walk};
use crate::equivalent::asked::effect::Effect;
use crate::target::Target;
use crate::units::{Length, LoadBasis, Ratio};

crate::answer! {
    /// The largest ratio of test to reference on an interval.
    pub struct Overshoot {
        /// Shear or moment.
        effect: Effect,
        /// Net or total.
        basis: LoadBasis,
        /// Test over the envelope of the terms.
        ratio: Ratio,
        /// Where.
        at: Length,
        /// On which side.
        side: Side,
        /// The term that makes the envelope there, by its place in the list of terms.
        term: usize,
        /// Whether the reference there is so small that it was counted as 2 % of its largest value.
        floored: bool,
    }
}

/// A reference below this part of its largest value in the region is counted as that part
/// (library rule): near a zero of the reference every ratio is large and means nothing.
const FLOOR: f64 = 0.02;

/// Test and reference of one term on the wanted basis.
fn sides(
    target: &Target,
    jacks: &Response,
    term: usize,
    basis: LoadBasis,
    effect: Effect,
    x: Length,
    side: Side,
) -> Option<(f64, f64)> {
    let term = target.terms.get(term)?;
    let jack = effect.at(jacks, x, side);
    Some(match basis {
        LoadBasis::Total => {
            (jack + effect.at(&target.in_place, x, side), effect.at(&term.total, x, side))
        }
        _ => (jack, effect.at(&term.net, x, side)),
    })
}

/// Test over each term, nothing where its reference is zero; test over the envelope, and its term.
pub type PlaceRatios = (Vec<Option<f64>>, Option<(f64, usize)>);

/// Test over each term at a place, and over the envelope with its term; nothing where no reference is
/// in the sense of the test.
#[must_use]
pub(in crate::equivalent) fn at(
    target: &Target,
    jacks: &Response,
    effect: Effect,
    basis: LoadBasis,
    x: Length,
    side: Side,
) -> PlaceRatios {
    let mut ratios = Vec::with_capacity(target.terms.len());
    let mut envelope: Option<(f64, usize)> = None;
    for i in 0..target.terms.len() {
        let ratio =
            sides(target, jacks, i, basis, effect, x, side).and_then(|(test, reference)| {
                let usable = reference.abs() > 0.0;
                usable.then(|| test / reference)
            });
        if let Some(r) = ratio.filter(|r| *r >= 0.0)
            && envelope.is_none_or(|(e, _)| r < e)
        {
            envelope = Some((r, i));
        }
        ratios.push(ratio);
    }
    (ratios, envelope)
}

/// What is compared on one piece: the polynomials of test and terms in one local coordinate.
struct Compared<'a> {
    length: f64,
    test: Poly,
    terms: &'a [Poly],
    floor: f64,
}

impl Compared<'_> {
    /// The sign of a polynomial that surely has one all over the piece, but for a zero at an end.
    fn sign(&self, p: &Poly) -> Option<f64> {
        let (first, last) = (p.at(0.0), p.at(self.length));
        let one = first * last >= 0.0 && first + last != 0.0;
        (one && (p.degree() <= 1 || monotone(p, self.length))).then(|| (first + last).signum())
    }

    /// Visits the roots of a polynomial inside the piece.
    fn roots(&self, p: &Poly, visit: &mut impl FnMut(f64)) {
        if self.sign(p).is_none() {
            p.roots(self.length).as_slice().iter().for_each(|s| visit(*s));
        }
    }

    /// The terms that another one is above all over the piece, in the sense of the test: they are
    /// nowhere the envelope.
    fn beaten(&self) -> SmallVec<[bool; 8]> {
        let mut beaten: SmallVec<[bool; 8]> = smallvec![false; self.terms.len()];
        let Some(sense) = self.sign(&self.test) else { return beaten };
        for (i, q) in self.terms.iter().enumerate() {
            for (j, other) in self.terms.iter().enumerate().skip(i + 1) {
                if beaten.get(i) == Some(&true) || beaten.get(j) == Some(&true) {
                    continue;
                }
                let Some(sign) = self.sign(&q.plus(-1.0, other)) else { continue };
                if let Some(slot) = beaten.get_mut(if sign * sense > 0.0 { j } else { i }) {
                    *slot = true;
                }
            }
        }
        beaten
    }

    /// Visits every place of the piece where the largest smallest ratio can stand: the ends,
    /// critical points of each ratio, crossings of terms, places where a reference meets the floor.
    fn places(&self, mut visit: impl FnMut(f64)) {
        visit(0.0);
        visit(self.length);
        let mut low = false;
        let beaten = self.beaten();
        let left = || self.terms.iter().zip(&beaten).filter(|(_, beaten)| !**beaten).map(|t| t.0);
        for (i, q) in left().enumerate() {
            self.roots(&turning(&self.test, q), &mut visit);
            let [above, below] = [-1.0, 1.0].map(|k| q.plus(k * self.floor, &Poly::ONE));
            if self.sign(&above) != Some(1.0) && self.sign(&below) != Some(-1.0) {
                low = true;
                self.roots(&above, &mut visit);
                self.roots(&below, &mut visit);
            }
            left().skip(i + 1).for_each(|other| self.roots(&q.plus(-1.0, other), &mut visit));
        }
        if low {
            self.roots(&self.test.derivative(), &mut visit);
        }
    }

    /// Test over the largest term in its sense at `s`, that term, and whether it was floored.
    fn envelope(&self, s: f64) -> Option<(f64, usize, bool)> {
        let test = self.test.at(s);
        let asked = |q: &Poly| q.at(s) * test.signum();
        let terms = self.terms.iter().map(asked).enumerate();
        let (term, most) = terms.reduce(|a, b| if b.1 > a.1 { b } else { a })?;
        let ratio = test.abs() / most.max(self.floor);
        ratio.is_finite().then_some((ratio, term, most < self.floor))
    }
}

/// The largest overshoot against the envelope inside the region, net and total. Exact: each
/// term's ratio is monotone between its own critical points, so the largest of the smallest
/// stands at one of the places of [`Compared`]. The terms share one grid.
pub(in crate::equivalent) fn worst(
    target: &Target,
    jacks: &Response,
    effect: Effect,
) -> [Option<Overshoot>; 2] {
    let floor = |total: bool| {
        let size = |response: &Response| effect.largest(response, (target.from, target.to));
        FLOOR
            * target
                .terms
                .iter()
                .map(|t| size(if total { &t.total } else { &t.net }))
                .fold(0.0, f64::max)
    };
    let floors = [floor(false), floor(true)];
    let mut best: [Option<Overshoot>; 2] = [None, None];
    let mut polys: SmallVec<[Poly; 8]> = SmallVec::new();
    walk(&[jacks, &target.in_place], target.from.si(), target.to.si(), |piece| {
        let part = |s: &Segment| effect.poly(&piece.part(s));
        let of = |number, case| piece.segment(number, case).map(part);
        let (Some(own), Some(there)) = (of(0, jacks), of(1, &target.in_place)) else { return };
        for ((slot, basis), floor) in
            best.iter_mut().zip([LoadBasis::Net, LoadBasis::Total]).zip(floors)
        {
            let total = basis == LoadBasis::Total;
            polys.clear();
            let terms = target.terms.iter().map(|t| if total { &t.total } else { &t.net });
            polys.extend(terms.filter_map(|t| of(1, t)));
            let test = if total { own.plus(1.0, &there) } else { own };
            let (start, length) = (piece.start, piece.length);
            let compared = Compared { length, test, terms: &polys, floor };
            compared.places(|s| {
                let Some((ratio, term, floored)) = compared.envelope(s) else { return };
                if slot.as_ref().is_none_or(|o| ratio > o.ratio.value()) {
                    let side = if s >= length { Side::Left } else { Side::Right };
                    let at = Length::from_si(start + s);
                    let ratio = Ratio::from(ratio);
                    *slot = Some(Overshoot { effect, basis, ratio, at, side, term, floored });
                }
            });
        }
    });
    best
}
