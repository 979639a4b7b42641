//! One effect over one stretch against the terms of a reference: which part is reached, and by how much
//! does it fall short?

use smallvec::SmallVec;

use super::bound::{DEEP, Worst};
use crate::beam::{Poly, Response, Shape, Side, turning, walk};
use crate::equivalent::asked::effect::Effect;
use crate::equivalent::asked::reference::{NOTHING, VANISHING};
use crate::equivalent::asked::requirement::Sense;
use crate::units::{Length, Ratio};

crate::answer! {
    /// The place where an effect is nearest to falling short, or falls short most.
    pub struct Shortfall {
        /// Shear or moment.
        effect: Effect,
        /// Test over reference there.
        fidelity: Ratio,
        /// Where.
        at: Length,
        /// On which side.
        side: Side,
        /// The term, by its place in the list of terms.
        term: usize,
    }
}

/// One effect that each term asks for in its sign over a stretch, or at a place from either side.
#[derive(Clone, Copy)]
pub(super) struct Reached<'a> {
    pub(super) test: &'a Response,
    pub(super) terms: &'a [&'a Response],
    pub(super) effect: Effect,
    /// One sign only; both where nothing is said.
    pub(super) sense: Option<Sense>,
    pub(super) stretch: (Length, Length),
    /// Below this an effect is rounding.
    pub(super) noise: f64,
    /// Below this part of the largest a term that changes its sign asks for nothing.
    pub(super) crossing: f64,
}

/// What one term asks for.
struct Asked<'a> {
    term: &'a Response,
    /// Its largest size.
    largest: f64,
    /// Below this it asks for nothing.
    floor: f64,
    /// Whether both its signs are asked.
    both: bool,
}

impl<'a> Reached<'a> {
    /// The largest size of all terms, below what part of it they are about zero, and each.
    fn asked(&self) -> (f64, f64, SmallVec<[Asked<'a>; 4]>) {
        let (up, down) = Sense::signs(self.sense);
        let (from, to) = self.stretch;
        let mut all: SmallVec<[Asked<'a>; 4]> = SmallVec::new();
        let mut ends: SmallVec<[(f64, f64); 4]> = SmallVec::new();
        for term in self.terms {
            let e = self.effect.extremes(term, (from, to));
            let (low, high) = (e.min.value, e.max.value);
            ends.push((low, high));
            let largest = low.abs().max(high.abs());
            all.push(Asked { term, largest, floor: 0.0, both: false });
        }
        let scale = all.iter().map(|a| a.largest).fold(0.0, f64::max);
        let nothing = (NOTHING * scale).max(self.noise);
        for (asked, (low, high)) in all.iter_mut().zip(ends) {
            asked.both = up && down && to > from && low < -nothing && high > nothing;
            asked.floor = if asked.both { nothing.max(self.crossing * scale) } else { nothing };
        }
        (scale, nothing, all)
    }

    /// The least ratio of test to reference over all terms.
    pub(super) fn least(&self) -> Option<Shortfall> {
        let (from, to) = self.stretch;
        let largest_test = self.effect.largest(self.test, self.stretch);
        let mut worst: Option<Shortfall> = None;
        for (term, asked) in self.asked().2.into_iter().enumerate() {
            walk(&[self.test, asked.term], from.si(), to.si(), |piece| {
                let mut polys = piece.parts().map(|s| self.effect.poly(&s));
                let (Some(p), Some(q)) = (polys.next(), polys.next()) else { return };
                let mut offer = |s: f64| {
                    let (mut test, mut reference) = (p.at(s), q.at(s));
                    if piece.length > 0.0
                        && reference.abs() <= VANISHING * asked.largest
                        && test.abs() <= VANISHING * largest_test
                    {
                        // both vanish here, as at a bearing: compare the slopes
                        (test, reference) = (p.derivative().at(s), q.derivative().at(s));
                        // the sign that the reference has inside
                        let inside = if s < piece.length / 2.0 { reference } else { -reference };
                        if reference.abs() <= asked.floor / (to - from).si()
                            || !Sense::takes(self.sense, inside)
                        {
                            return;
                        }
                    } else if reference.abs() <= asked.floor || !Sense::takes(self.sense, reference)
                    {
                        return;
                    }
                    let fidelity = test / reference;
                    if worst.as_ref().is_none_or(|w| fidelity < w.fidelity.value()) {
                        let last = piece.length > 0.0 && s >= piece.length;
                        worst = Some(Shortfall {
                            effect: self.effect,
                            fidelity: Ratio::from(fidelity),
                            at: Length::from_si(piece.start + s),
                            side: if last { Side::Left } else { piece.side },
                            term,
                        });
                    }
                };
                offer(0.0);
                offer(piece.length);
                let mut at_roots =
                    |p: &Poly| p.roots(piece.length).as_slice().iter().for_each(|s| offer(*s));
                at_roots(&turning(&p, &q));
                if asked.both && self.crossing > 0.0 {
                    // where it begins to be compared, and no farther by rounding
                    for sign in [1.0, -1.0] {
                        at_roots(&q.plus(sign * asked.floor * (1.0 + 1e-9), &Poly::ONE));
                    }
                }
            });
        }
        worst
    }

    /// Bounds by how much a term is missed; the answer is the largest size of all.
    pub(super) fn bound(&self, worst: &mut Worst) -> f64 {
        let (up, down) = Sense::signs(self.sense);
        let (from, to) = self.stretch;
        let (scale, nothing, all) = self.asked();
        for Asked { term, floor, .. } in all {
            walk(&[self.test, term], from.si(), to.si(), |piece| {
                let of = |s| Shape::on(&self.effect.poly(&s), piece.length);
                let shapes: SmallVec<[Shape; 2]> = piece.parts().map(of).collect();
                let judge = |shapes: &[Shape]| {
                    let [test, term] = shapes else { return (0.0, 0.0) };
                    let missing = term.plus(-1.0, test);
                    let q = term.middle();
                    let asked = q.abs() > floor && if q > 0.0 { up } else { down };
                    let here = if asked { q.signum() * (q - test.middle()) } else { 0.0 };
                    let above = up && term.most() > floor;
                    let below = down && term.least() < -floor;
                    let possible = if !above && !below {
                        0.0
                    } else if above && !below && !down {
                        missing.most()
                    } else if below && !above && !up {
                        -missing.least()
                    } else if term.least() >= -nothing {
                        missing.most()
                    } else if term.most() <= nothing {
                        -missing.least()
                    } else {
                        // the sign is not settled on this part
                        missing.most().max(-missing.least()).max(f64::MIN_POSITIVE)
                    };
                    (possible, here)
                };
                worst.bound(&shapes, piece.start, piece.length, scale, &judge, DEEP);
            });
        }
        scale
    }
}
