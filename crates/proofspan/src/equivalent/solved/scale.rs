//! The least force: the supremum of reference over unit effect.

use crate::beam::{Response, turning, walk};
use crate::equivalent::asked::effect::Effect;
use crate::equivalent::asked::reference::{NOTHING, VANISHING};
use crate::target::Target;
use crate::units::Length;

/// What the scale came from, or what cannot be reached.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(in crate::equivalent) enum Scale {
    /// The least factor on the unit pattern.
    Found { factor: f64, effect: Effect, at: f64, term: usize },
    /// The unit pattern has no effect, or one of the wrong sign, where the reference has one.
    Uncovered { effect: Effect, at: f64, term: usize },
    /// There is nothing to reproduce.
    Nothing,
}

/// The least factor on `unit` so that every effect of every term is reached for every x.
pub(in crate::equivalent) fn least(
    target: &Target,
    unit: &Response,
    effects: &[Effect],
    (from, to): (Length, Length),
) -> Scale {
    let (a, b) = (from.si(), to.si());
    let mut found = Scale::Nothing;
    let mut highest = 0.0;
    let mut uncovered: Option<Scale> = None;
    for &effect in effects {
        let largest_of_one = effect.largest(unit, (from, to));
        for (term, t) in target.terms.iter().enumerate() {
            let largest_reference = effect.largest(&t.net, (from, to));
            let floor = NOTHING * largest_reference;
            walk(&[&t.net, unit], a, b, |piece| {
                let mut polys = piece.parts().map(|s| effect.poly(&s));
                let (Some(p), Some(q)) = (polys.next(), polys.next()) else { return };
                let turns = turning(&p, &q).roots(piece.length);
                let inner = turns.as_slice().iter().copied();
                for s in [0.0].into_iter().chain(inner).chain([piece.length]) {
                    let (mut reference, mut effect_of_one) = (p.at(s), q.at(s));
                    if reference.abs() <= VANISHING * largest_reference
                        && effect_of_one.abs() <= VANISHING * largest_of_one
                    {
                        // both vanish, as at a bearing: there the ratio tends to that of the slopes
                        (reference, effect_of_one) = (p.derivative().at(s), q.derivative().at(s));
                        if reference.abs() <= floor / (to - from).si() {
                            continue;
                        }
                    } else if reference.abs() <= floor {
                        continue;
                    }
                    let ratio = reference / effect_of_one;
                    let at = piece.start + s;
                    // one of the wrong sign, or none (a pole inside the piece has an end on its wrong side)
                    if !ratio.is_finite() || ratio <= 0.0 {
                        uncovered.get_or_insert(Scale::Uncovered { effect, at, term });
                    } else if ratio > highest {
                        highest = ratio;
                        found = Scale::Found { factor: ratio, effect, at, term };
                    }
                }
            });
        }
    }
    uncovered.unwrap_or(found)
}
