//! Does a layout hold at every x? Nothing of the search is used here: the loads are solved once more on
//! the beam. Each requirement is bounded by subdivision, without roots and without derivatives; which
//! part of a reference is reached is found exactly, at the ends and where the ratio turns.

use smallvec::SmallVec;

use super::bound::{Cases, Violation, Worst, band, capped, finished, windowed};
use super::reached::{Reached, Shortfall};
use crate::beam::{Beam, Load, Response, Segment};
use crate::equivalent::asked::ask::{Ask, two_signs};
use crate::equivalent::asked::candidate::{self, Candidate, held, loads};
use crate::equivalent::asked::effect::{BasisWord, Effect};
use crate::equivalent::asked::reference::{CROSSING, Reference};
use crate::equivalent::asked::requirement::{self, Reach, Requirement};
use crate::equivalent::asked::words::index;
use crate::error::{Error, Issue, slug};
use crate::target::Target;
use crate::units::{Force, Kind, Length, Net, Quantity};

crate::answer! {
    /// What the verifier found against a target.
    pub struct Verification {
        /// For each effect, the least ratio of test to reference over the region and all terms.
        least: Vec<Shortfall>,
        /// How far the least is below one, relative; zero or less means every x is reached.
        violation: f64,
    }
}

crate::answer! {
    /// What the verifier found for one requirement.
    pub struct Confirmed {
        /// The requirement, by its place in the list; capacities come after the last.
        requirement: usize,
        /// What it is, in words.
        what: String,
        /// No violation anywhere is larger than this part of the largest reference or of the limit:
        /// a bound, not a sample. Zero where it holds everywhere.
        violation: f64,
        /// The same as an amount, N, N·m or m; zero where it holds everywhere.
        amount: Quantity,
        /// Where the violation was found.
        at: Option<Length>,
    }
}

crate::answer! {
    /// What the verifier found.
    pub struct Confirmation {
        /// Each requirement.
        each: Vec<Confirmed>,
        /// The largest violation.
        violation: f64,
    }
}

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
    Ok(verify_asks(&beam.response(&loads)?, target, &asks))
}

/// The effects asked against the terms of a target. Where loads on other spans turn signs, a term that
/// changes its sign is not compared near its zero.
pub(in crate::equivalent) fn verify_asks(
    jacks: &Response,
    target: &Target,
    asks: &[Ask],
) -> Verification {
    let terms: SmallVec<[&Response; 8]> = target.terms.iter().map(|t| &t.net).collect();
    let crossing = if two_signs(target) { CROSSING } else { 0.0 };
    let of = |a: &Ask| {
        let (effect, sense, stretch) = (a.effect, a.sense, (a.from, a.to));
        Reached { test: jacks, terms: &terms, effect, sense, stretch, noise: 0.0, crossing }.least()
    };
    let least: Vec<Shortfall> = asks.iter().filter_map(of).collect();
    let violation =
        least.iter().map(|w| 1.0 - w.fidelity.value()).fold(f64::NEG_INFINITY, f64::max);
    Verification { least, violation: if violation.is_finite() { violation } else { 0.0 } }
}

/// Where what is to be reached is nearest to falling short, over all requirements.
pub(in crate::equivalent) fn least_reached(
    test: &Response,
    reference: &Reference,
    requirements: &[Requirement],
) -> Option<Shortfall> {
    let mut worst: Option<Shortfall> = None;
    for requirement in requirements {
        let Requirement::Reach(reach) = requirement else { continue };
        let terms = named(reference, reach.case.as_deref());
        let stretches = requirement.regions(reference);
        let all = reaches(test, &terms, reference, reach, &stretches);
        for found in all.filter_map(|reached| reached.least()) {
            if worst.as_ref().is_none_or(|w| found.fidelity.value() < w.fidelity.value()) {
                worst = Some(found);
            }
        }
    }
    worst
}

/// Does a layout of given forces, from wherever it comes, meet the requirements at every x?
///
/// # Errors
/// Every problem of candidates and requirements; `equivalent.force-negative` for forces that are not
/// one a candidate, or below zero; what the beam refuses.
pub fn confirm(
    beam: &Beam,
    reference: &Reference,
    requirements: &[Requirement],
    candidates: &[Candidate],
    forces: &[Net<Force>],
) -> Result<Confirmation, Error> {
    let mut issues = Vec::new();
    candidate::refused(candidates, beam, &mut issues);
    requirement::refused(requirements, reference, beam, &mut issues);
    candidate::forces_refused(candidates, forces, &mut issues);
    Error::check(issues)?;
    let test = held(beam).response(&loads(candidates, forces))?;
    Ok(confirm_response(&test, reference, requirements, candidates, forces))
}

/// Checks the actions of forces against requirements and capacities.
pub(in crate::equivalent) fn confirm_response(
    test: &Response,
    reference: &Reference,
    requirements: &[Requirement],
    candidates: &[Candidate],
    forces: &[Net<Force>],
) -> Confirmation {
    let mut each: Vec<Confirmed> = requirements
        .iter()
        .enumerate()
        .map(|(i, requirement)| {
            let found = one(test, reference, requirement);
            Confirmed {
                requirement: i,
                what: requirement.words(reference),
                violation: found.relative,
                amount: Quantity::new(requirement.kind(), found.amount),
                at: found.at.map(Length::from_si),
            }
        })
        .collect();
    for (i, (candidate, force)) in candidates.iter().zip(forces).enumerate() {
        let over = candidate.capacity.map(|c| (force.0 - c, c, "capacity"));
        let under = candidate.at_least.map(|c| (c - force.0, c, "least force"));
        for (amount, limit, what) in [over, under].into_iter().flatten() {
            let found = finished(amount.si().max(0.0), limit.si(), None);
            each.push(Confirmed {
                requirement: requirements.len() + i,
                what: format!("{what} of {}", candidate.label_in(reference.system)),
                violation: found.relative,
                amount: Quantity::new(Kind::Force, found.amount),
                at: None,
            });
        }
    }
    let slack = test.length() * 1e-9;
    let used = || candidates.iter().zip(forces).enumerate().filter(|(_, (_, f))| f.0 > Force::ZERO);
    for (i, (a, _)) in used() {
        for (_, (b, _)) in used().take_while(|(j, _)| *j < i) {
            let Some((lacks, asked)) = a.crowds(b, slack) else { continue };
            each.push(Confirmed {
                requirement: requirements.len() + i,
                what: format!(
                    "clear distance of {} to {}",
                    a.label_in(reference.system),
                    b.label_in(reference.system)
                ),
                violation: lacks / asked,
                amount: Quantity::new(Kind::Length, lacks.si()),
                at: None,
            });
        }
    }
    let violation = each.iter().map(|c| c.violation).fold(0.0, f64::max);
    Confirmation { each, violation }
}

/// The largest violation of one requirement.
fn one(test: &Response, reference: &Reference, requirement: &Requirement) -> Violation {
    let stretches = requirement.regions(reference);
    let in_place = |b: BasisWord| (b == BasisWord::Total).then_some(&reference.in_place);
    match requirement {
        Requirement::Reach(r) => {
            let terms = named(reference, r.case.as_deref());
            let mut worst = Worst::default();
            let all = reaches(test, &terms, reference, r, &stretches);
            let scale = all.map(|reached| reached.bound(&mut worst)).fold(0.0, f64::max);
            finished(worst.size, scale, worst.at)
        }
        Requirement::Within(r) => {
            let terms = named(reference, r.case.as_deref());
            let cases = Cases::of(test, in_place(r.basis), &terms);
            capped(&cases, &stretches, r.effect, (r.at_most, r.floor))
        }
        Requirement::MomentLimit(r) => {
            let high = r.sagging.map(|m| m.si() * r.share);
            let low = r.hogging.map(|m| -m.si() * r.share);
            let cases = Cases::of(test, Some(&reference.in_place), &[]);
            band(&cases, &stretches, Segment::moment, (low, high))
        }
        Requirement::ShearLimit(r) => {
            let most = r.strength.si() * r.share;
            let cases = Cases::of(test, Some(&reference.in_place), &[]);
            band(&cases, &stretches, Segment::shear, (Some(-most), Some(most)))
        }
        Requirement::DeflectionLimit(r) => {
            let (low, high) = (r.up.map(|u| -u.si()), r.down.map(Length::si));
            band(&Cases::of(test, None, &[]), &stretches, Segment::deflection, (low, high))
        }
        Requirement::ReactionLimit(r) => {
            let of =
                |a: &Response| a.reactions().get(index(r.support)).map_or(0.0, |r| r.force.si());
            let total = of(test) + of(&reference.in_place);
            let low = r.at_least.map_or(f64::NEG_INFINITY, |f| f.si() - total);
            let high = r.at_most.map_or(f64::NEG_INFINITY, |f| total - f.si());
            let limits = [r.at_least, r.at_most].into_iter().flatten();
            let limit = limits.map(|f| f.si().abs()).fold(0.0, f64::max);
            let size = of(&reference.in_place).abs().max(limit).max(reference.pressed());
            finished(low.max(high).max(0.0), size, None)
        }
        Requirement::ShearSpan(r) => {
            let cases = Cases::of(test, in_place(r.basis), &named(reference, None));
            let noise = (reference.noise(Effect::Moment), reference.noise(Effect::Shear));
            let window = (r.at_least.map(Length::si), r.at_most.map(Length::si));
            windowed(&cases, &stretches, noise, window)
        }
    }
}

fn named<'a>(reference: &'a Reference, case: Option<&str>) -> Vec<&'a Response> {
    let fits = |t: &&(String, Response)| case.is_none_or(|c| t.0 == c);
    reference.terms.iter().filter(fits).map(|t| &t.1).collect()
}

/// What is to be reached, stretch by stretch.
fn reaches<'a>(
    test: &'a Response,
    terms: &'a [&'a Response],
    reference: &Reference,
    reach: &Reach,
    stretches: &'a [(Length, Length)],
) -> impl Iterator<Item = Reached<'a>> {
    let (effect, sense, noise) = (reach.effect, reach.sense, reference.noise(reach.effect));
    stretches.iter().map(move |stretch| {
        let stretch = *stretch;
        Reached { test, terms, effect, sense, stretch, noise, crossing: CROSSING }
    })
}
