//! By how much does the test exceed what was asked, and against what?
//!
//! Against the envelope (what was asked) and against each term (what is over-tested). The
//! envelope's ratio is the smallest of the terms' ratios at each x. Net and total differ: a
//! limit must say which it means.

use super::pieces::{Piece, pieces, ratio_candidates};
use crate::beam::{Actions, Poly, Segment, Side};
use crate::target::Target;
use crate::units::{Length, LoadBasis, Ratio};

crate::choice! {
    /// The effect that is compared.
    pub enum Effect ("effect", source::SOURCE_CHOICE) {
        /// Shear, with its sign.
        Shear = "shear",
        /// Moment, with its sign.
        Moment = "moment",
    }
}

impl Effect {
    pub(super) fn poly(self, segment: &Segment) -> Poly {
        match self {
            Self::Shear => segment.shear(),
            Self::Moment => segment.moment(),
        }
    }
    pub(super) fn at(self, actions: &Actions, x: Length, side: Side) -> f64 {
        match self {
            Self::Shear => actions.shear(x, side).si(),
            Self::Moment => actions.moment(x, side).si(),
        }
    }
}

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
    }
}

/// The part of the largest reference below which a ratio says nothing (library rule): near a
/// zero of the reference every ratio is large.
const FLOOR: f64 = 0.02;

/// Test and reference of one term on the wanted basis.
fn sides(
    target: &Target,
    jacks: &Actions,
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

/// Test over each term at a place, and over the envelope with its term; nothing where every
/// reference is zero.
#[must_use]
pub(super) fn at(
    target: &Target,
    jacks: &Actions,
    effect: Effect,
    basis: LoadBasis,
    x: Length,
    side: Side,
) -> (Vec<Option<f64>>, Option<(f64, usize)>) {
    let mut ratios = Vec::with_capacity(target.terms.len());
    let mut envelope: Option<(f64, usize)> = None;
    for i in 0..target.terms.len() {
        let ratio =
            sides(target, jacks, i, basis, effect, x, side).and_then(|(test, reference)| {
                let usable = reference.abs() > 0.0;
                usable.then(|| test / reference)
            });
        if let Some(r) = ratio {
            if envelope.is_none_or(|(e, _)| r < e) {
                envelope = Some((r, i));
            }
        }
        ratios.push(ratio);
    }
    (ratios, envelope)
}

/// The largest overshoot against the envelope on `[from, to]`. Exact: each term's ratio is
/// monotone between its own critical points, so the largest smallest ratio stands at one of
/// them, at a crossing of terms, or at an end.
pub(super) fn worst(
    target: &Target,
    jacks: &Actions,
    effect: Effect,
    basis: LoadBasis,
    from: Length,
    to: Length,
) -> Option<Overshoot> {
    let (a, b) = (from.si(), to.si());
    let test = match basis {
        LoadBasis::Total => Actions::combined(&[(1.0, jacks), (1.0, &target.in_place)]),
        _ => jacks.clone(),
    };
    let reference = |i: usize| {
        target.terms.get(i).map(|t| if basis == LoadBasis::Total { &t.total } else { &t.net })
    };
    let mut places: Vec<f64> = vec![a, b];
    let mut largest = 0.0_f64;
    for i in 0..target.terms.len() {
        let Some(actions) = reference(i) else { continue };
        for piece in pieces(&test, actions, a, b) {
            let (p, q) = (effect.poly(&piece.a), effect.poly(&piece.b));
            ratio_candidates(&p, &q, piece.length, |s| places.push(piece.start + s));
            largest = largest.max(q.at(0.0).abs()).max(q.at(piece.length).abs());
        }
        for j in i + 1..target.terms.len() {
            let Some(other) = reference(j) else { continue };
            for Piece { start, length, a, b } in pieces(actions, other, a, b) {
                let difference = effect.poly(&a).plus(-1.0, &effect.poly(&b));
                places.extend(difference.roots(length).as_slice().iter().map(|s| start + s));
            }
        }
    }
    let mut best: Option<Overshoot> = None;
    for x in places {
        let x = Length::from_si(x);
        for side in [Side::Right, Side::Left] {
            if (side == Side::Left && x <= from) || (side == Side::Right && x >= to) {
                continue;
            }
            let mut envelope: Option<(f64, usize)> = None;
            for i in 0..target.terms.len() {
                let Some((test, reference)) = sides(target, jacks, i, basis, effect, x, side)
                else {
                    continue;
                };
                if reference.abs() >= FLOOR * largest
                    && envelope.is_none_or(|(e, _)| test / reference < e)
                {
                    envelope = Some((test / reference, i));
                }
            }
            if let Some((ratio, term)) = envelope {
                if best.as_ref().is_none_or(|o| ratio > o.ratio.value()) {
                    best = Some(Overshoot {
                        effect,
                        basis,
                        ratio: Ratio::from(ratio),
                        at: x,
                        side,
                        term,
                    });
                }
            }
        }
    }
    best
}
