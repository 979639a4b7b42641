//! Does the finished layout reach the reference for every x? Nothing of the search is used here.

use crate::beam::pieces;
use crate::beam::{Actions, Beam, Load, Poly, Side};
use crate::equivalent::asked::ask::{Ask, two_signs};
use crate::equivalent::asked::effect::Effect;
use crate::equivalent::asked::requirement::Sense;
use crate::error::{Error, Issue, slug};
use crate::target::Target;
use crate::units::{Force, Length, Net, Ratio};

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

crate::answer! {
    /// What the verifier found.
    pub struct Verification {
        /// For each effect, the least ratio of test to reference over the region and all terms.
        least: Vec<Shortfall>,
        /// How far the least is below one, relative; zero or less means every x is reached.
        violation: f64,
    }
}

/// Below this part of its largest value in the region a reference is not compared.
const NOTHING: f64 = 1e-9;
/// Below this part of their largest values both vanish, and their quotient would be noise.
const VANISHING: f64 = 1e-5;

/// Checks jack lines against the target for every x of the region in doubt.
///
/// The difference of test and reference is a polynomial on each piece between the loads; its
/// smallest value there is found exactly. Where the reference changes sign the piece is split.
///
/// # Errors
/// A jack outside the beam; `equivalent.force-negative`; `equivalent.effects-none`.
pub fn verify(
    beam: &Beam,
    target: &Target,
    lines: &[(Length, Net<Force>)],
    effects: &[Effect],
) -> Result<Verification, Error> {
    let mut issues = Vec::new();
    for (i, (_, force)) in lines.iter().enumerate() {
        if force.0 < Force::ZERO {
            issues.push(
                Issue::new(
                    slug::EQUIVALENT_FORCE_NEGATIVE,
                    format!("lines[{i}]"),
                    "a jack cannot pull upward",
                )
                .value(force.0)
                .limit(">= 0, down positive"),
            );
        }
    }
    if effects.is_empty() {
        issues.push(Issue::new(
            slug::EQUIVALENT_EFFECTS_NONE,
            "effects",
            "no effect is asked, so nothing would be verified",
        ));
    }
    Error::check(issues)?;
    let loads: Vec<Load> = lines.iter().map(|(at, force)| Load::point(*at, force.0)).collect();
    let (from, to) = (target.from, target.to);
    let whole = |e: &Effect| Ask { effect: *e, sense: None, from, to };
    let asks: Vec<Ask> = effects.iter().map(whole).collect();
    Ok(verify_asks(&beam.actions(&loads)?, target, &asks))
}

/// Part of the largest reference below which a term that changes its sign asks for nothing, where loads
/// on other spans turn signs.
const CROSSING: f64 = 0.02;

pub(in crate::equivalent) fn verify_asks(
    jacks: &Actions,
    target: &Target,
    asks: &[Ask],
) -> Verification {
    let terms: Vec<&Actions> = target.terms.iter().map(|t| &t.net).collect();
    let crossing = if two_signs(target) { CROSSING } else { 0.0 };
    let of = |a: &Ask| least_fidelity(jacks, &terms, a.effect, (a.sense, crossing), (a.from, a.to));
    let least: Vec<Shortfall> = asks.iter().filter_map(of).collect();
    let violation =
        least.iter().map(|w| 1.0 - w.fidelity.value()).fold(f64::NEG_INFINITY, f64::max);
    Verification { least, violation: if violation.is_finite() { violation } else { 0.0 } }
}

/// The least ratio of test to reference over a stretch and all terms, in one sign where one is asked.
/// Where both are and a term changes its sign, its part below `crossing` of the largest of all is not
/// compared.
pub(in crate::equivalent) fn least_fidelity(
    test: &Actions,
    terms: &[&Actions],
    effect: Effect,
    (sense, crossing): (Option<Sense>, f64),
    (from, to): (Length, Length),
) -> Option<Shortfall> {
    let (up, down) = Sense::signs(sense);
    let size = |actions: &Actions| effect.largest(actions, (from, to));
    let mut worst: Option<Shortfall> = None;
    let largest_test = size(test);
    let largest_of_all = terms.iter().map(|t| size(t)).fold(0.0, f64::max);
    for (term, reference) in terms.iter().enumerate() {
        let largest_reference = size(reference);
        let nothing = NOTHING * largest_reference;
        let e = reference.inside().extremes_of(from, to, |s| effect.poly(s));
        let both = up && down && e.min.value < -nothing && e.max.value > nothing;
        let floor = if both { nothing.max(crossing * largest_of_all) } else { nothing };
        pieces(test, reference, from.si(), to.si(), |piece| {
            let (p, q) = (effect.poly(&piece.a), effect.poly(&piece.b));
            let turning = p.derivative().times(&q).plus(-1.0, &p.times(&q.derivative()));
            let mut places = vec![0.0, piece.length];
            places.extend_from_slice(turning.roots(piece.length).as_slice());
            if both && crossing > 0.0 {
                // where it begins to be compared, and no farther by rounding
                for sign in [1.0, -1.0] {
                    let edge = q.plus(sign * floor * (1.0 + 1e-9), &Poly::ONE);
                    places.extend_from_slice(edge.roots(piece.length).as_slice());
                }
            }
            for s in places {
                let (mut test, mut reference) = (p.at(s), q.at(s));
                if reference.abs() <= VANISHING * largest_reference
                    && test.abs() <= VANISHING * largest_test
                {
                    // both vanish here, as at a bearing: compare the slopes
                    (test, reference) = (p.derivative().at(s), q.derivative().at(s));
                    // the sign that the reference has inside
                    let inside = if s < piece.length / 2.0 { reference } else { -reference };
                    if reference.abs() <= floor / (to - from).si() || !Sense::takes(sense, inside) {
                        continue;
                    }
                } else if reference.abs() <= floor || !Sense::takes(sense, reference) {
                    continue;
                }
                let fidelity = test / reference;
                if worst.as_ref().is_none_or(|w| fidelity < w.fidelity.value()) {
                    let side = if s >= piece.length { Side::Left } else { Side::Right };
                    worst = Some(Shortfall {
                        effect,
                        fidelity: Ratio::from(fidelity),
                        at: Length::from_si(piece.start + s),
                        side,
                        term,
                    });
                }
            }
        });
    }
    worst
}
