//! By how much does the test exceed what was asked, and against what?
//!
//! Against the envelope (what was asked) and against each term (what is over-tested). The
//! envelope's ratio is the smallest of the terms' ratios at each x. Net and total differ: a
//! limit must say which it means.

use super::pieces::{monotone, pieces, ratio_candidates};
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
        if let Some(r) = ratio
            && envelope.is_none_or(|(e, _)| r < e)
        {
            envelope = Some((r, i));
        }
        ratios.push(ratio);
    }
    (ratios, envelope)
}

/// Where two terms are equal inside the region; the same net and total.
pub(super) fn crossings(target: &Target, effect: Effect) -> Vec<f64> {
    let mut places = Vec::new();
    for (i, term) in target.terms.iter().enumerate() {
        for other in target.terms.iter().skip(i + 1) {
            pieces(&term.net, &other.net, target.from.si(), target.to.si(), |piece| {
                let difference = effect.poly(&piece.a).plus(-1.0, &effect.poly(&piece.b));
                if monotone(&difference, piece.length)
                    && difference.at(0.0) * difference.at(piece.length) > 0.0
                {
                    return;
                }
                places.extend(
                    difference.roots(piece.length).as_slice().iter().map(|s| piece.start + s),
                );
            });
        }
    }
    places
}

/// The largest overshoot against the envelope inside the region. Exact: each term's ratio is
/// monotone between its own critical points, so the largest smallest ratio stands at one of
/// them, at a crossing of terms, where a reference meets the floor, or at an end.
pub(super) fn worst(
    target: &Target,
    jacks: &Actions,
    effect: Effect,
    basis: LoadBasis,
    crossings: &[f64],
    places: &mut Vec<f64>,
) -> Option<Overshoot> {
    let (from, to) = (target.from, target.to);
    let whole;
    let test = if basis == LoadBasis::Total {
        whole = Actions::combined(&[(1.0, jacks), (1.0, &target.in_place)]);
        &whole
    } else {
        jacks
    };
    let reference = |i: usize| {
        target.terms.get(i).map(|t| if basis == LoadBasis::Total { &t.total } else { &t.net })
    };
    let mut largest = 0.0_f64;
    for i in 0..target.terms.len() {
        let Some(actions) = reference(i) else { continue };
        let e = actions.extremes_of(from, to, |s| effect.poly(s));
        largest = largest.max(e.max.value.abs()).max(e.min.value.abs());
    }
    let floor = FLOOR * largest;
    places.clear();
    places.extend([from.si(), to.si()]);
    for i in 0..target.terms.len() {
        let Some(actions) = reference(i) else { continue };
        pieces(test, actions, from.si(), to.si(), |piece| {
            let (p, q) = (effect.poly(&piece.a), effect.poly(&piece.b));
            ratio_candidates(&p, &q, piece.length, |s| places.push(piece.start + s));
            p.derivative()
                .roots(piece.length)
                .as_slice()
                .iter()
                .for_each(|s| places.push(piece.start + s));
            // where the reference meets the floor, if it does in this piece
            let (first, last) = (q.at(0.0), q.at(piece.length));
            if monotone(&q, piece.length)
                && first * last > 0.0
                && first.abs().min(last.abs()) >= floor
            {
                return;
            }
            p.derivative()
                .roots(piece.length)
                .as_slice()
                .iter()
                .for_each(|s| places.push(piece.start + s));
            for level in [floor, -floor] {
                let shifted = q.plus(-level, &Poly::new([1.0, 0.0, 0.0, 0.0, 0.0, 0.0]));
                shifted
                    .roots(piece.length)
                    .as_slice()
                    .iter()
                    .for_each(|s| places.push(piece.start + s));
            }
        });
    }
    places.extend_from_slice(crossings);
    places.sort_unstable_by(f64::total_cmp);
    let same = 1e-12 * target.beam.length().si();
    places.dedup_by(|b, a| *b - *a <= same);
    let mut best: Option<Overshoot> = None;
    for x in places.iter() {
        let x = Length::from_si(*x);
        for side in [Side::Right, Side::Left] {
            if (side == Side::Left && x <= from) || (side == Side::Right && x >= to) {
                continue;
            }
            let test = effect.at(test, x, side);
            let mut envelope: Option<(f64, usize, bool)> = None;
            for i in 0..target.terms.len() {
                let Some(actions) = reference(i) else { continue };
                let asked = effect.at(actions, x, side);
                let floored = asked.abs() < floor;
                let ratio = test * asked.signum() / asked.abs().max(floor);
                if envelope.is_none_or(|(e, _, _)| ratio < e) {
                    envelope = Some((ratio, i, floored));
                }
            }
            if let Some((ratio, term, floored)) = envelope
                && best.as_ref().is_none_or(|o| ratio > o.ratio.value())
                && ratio.is_finite()
            {
                best = Some(Overshoot {
                    effect,
                    basis,
                    ratio: Ratio::from(ratio),
                    at: x,
                    side,
                    term,
                    floored,
                });
            }
        }
    }
    best
}
