//! Does the layout hold where supports, stiffness, places and forces are not quite as drawn?
//!
//! The layout stays; beam, reference and loads deviate. Deviations are tried at their ends: places
//! and forces in every combination up to six carriers, beyond that one by one and all together
//! (library rule). Effects are linear in the forces, so there the ends are the worst; a place inside
//! its tolerance between the ends is not looked at.

use super::bounds::EndFixity;
use super::candidate::Candidate;
use super::confirm::confirm_actions;
use super::overshoot::Effect;
use super::require::{Reference, Requirement};
use super::spec::Ends;
use super::verify::least_fidelity;
use crate::beam::{Actions, Beam, Load, Restraint, Support};
use crate::error::{Error, Issue, slug};
use crate::units::{FlexuralRigidity, Force, Kind, Length, Net, Quantity, Ratio};
use crate::verdict::{Basis, Clause, Limit, State, Verdict};

crate::record! {
    /// How far what is built may be from what is drawn.
    pub struct Deviations {
        /// Each carrier off its place by up to this, either way.
        place: Length = Length::ZERO,
        /// Each force off by up to this part, either way.
        force: f64 = 0.0,
        /// Each support off its place by up to this, either way.
        support: Length = Length::ZERO,
        /// How the ends are held; cast in place counts as unknown between pinned and fixed.
        ends: Ends = Ends::CastInPlace,
        /// The EI of a span against the others, up to this times larger or smaller; at least 1.
        stiffness: f64 = 1.0,
        /// Each support gone down by up to this before the test.
        settlement: Length = Length::ZERO,
    }
}

crate::answer! {
    /// The layout under one deviation.
    pub struct Deviation {
        /// The deviation, in words.
        what: String,
        /// The least net ratio of test to what is to be reached, over every x; below zero the
        /// reference has the other sign there.
        fidelity: Ratio,
        /// The effect that is nearest to falling short.
        effect: Option<Effect>,
        /// Where.
        at: Option<Length>,
        /// The requirement other than reaching that is violated most, in words.
        passed: Option<String>,
        /// By how much it is violated, relative; zero where all hold.
        violation: f64,
    }
}

/// The layout under every deviation.
#[derive(Clone, PartialEq, Debug)]
pub struct AsBuilt {
    /// As drawn first, then each deviation.
    pub each: Vec<Deviation>,
    /// The least fidelity against 1: below it Inconclusive.
    pub verdict: Verdict,
    /// By what all forces would have to be raised so that the worst is reached; nothing where that
    /// does not help.
    pub raise: Option<f64>,
}

impl Deviations {
    /// No deviation, ends free to turn as drawn.
    #[must_use]
    pub const fn none() -> Self {
        Self {
            place: Length::ZERO,
            force: 0.0,
            support: Length::ZERO,
            ends: Ends::Seated,
            stiffness: 1.0,
            settlement: Length::ZERO,
        }
    }
}

impl AsBuilt {
    /// The deviation with the least fidelity.
    #[must_use]
    pub fn worst(&self) -> Option<&Deviation> {
        self.each.iter().min_by(|a, b| a.fidelity.value().total_cmp(&b.fidelity.value()))
    }
}

const COMBINED: usize = 6;

/// What is built.
struct Built<'a> {
    what: String,
    beam: &'a Beam,
    reference: &'a Reference,
    candidates: &'a [Candidate],
    forces: &'a [Net<Force>],
}

/// Tries the deviations.
///
/// # Errors
/// Deviations below zero, a stiffness ratio below 1; `equivalent.reference` where supports or
/// stiffness deviate and the reference is not made of loads; what the beam refuses.
pub fn as_built(
    beam: &Beam,
    reference: &Reference,
    requirements: &[Requirement],
    candidates: &[Candidate],
    forces: &[Net<Force>],
    deviations: &Deviations,
) -> Result<AsBuilt, Error> {
    refused(beam, candidates, forces, deviations)?;
    let mut each = Vec::new();
    let mut take = |state: &Built<'_>| -> Result<(), Error> {
        each.push(tried(state, requirements)?);
        Ok(())
    };
    let plain = |what: &str| Built { what: what.to_owned(), beam, reference, candidates, forces };
    take(&plain("as drawn"))?;
    let used: Vec<usize> = (0..candidates.len())
        .filter(|i| forces.get(*i).is_some_and(|f| f.0 > Force::ZERO))
        .collect();
    if deviations.place > Length::ZERO {
        for signs in corners(used.len()) {
            let mut moved = candidates.to_vec();
            for (i, sign) in used.iter().zip(&signs) {
                if let Some(c) = moved.get_mut(*i) {
                    *c = c.moved(deviations.place * *sign);
                }
            }
            let inside =
                |c: &Candidate| c.covers().all(|(a, b)| a >= Length::ZERO && b <= beam.length());
            if moved.iter().all(inside) {
                let what = format!(
                    "carriers off by {}",
                    shown(&signs, |s| format!("{}", deviations.place * s))
                );
                take(&Built { candidates: &moved, ..plain(&what) })?;
            }
        }
    }
    if deviations.force > 0.0 {
        for signs in corners(used.len()) {
            let mut other = forces.to_vec();
            for (i, sign) in used.iter().zip(&signs) {
                if let Some(f) = other.get_mut(*i) {
                    *f = Net(f.0 * (1.0 + sign * deviations.force));
                }
            }
            let what = format!(
                "forces off by {}",
                shown(&signs, |s| format!("{} %", 100.0 * s * deviations.force))
            );
            take(&Built { forces: &other, ..plain(&what) })?;
        }
    }
    for (what, other) in beams(beam, deviations)? {
        let made = reference.on(&other)?.ok_or_else(|| {
            Issue::new(
                slug::EQUIVALENT_REFERENCE,
                "reference",
                "supports or stiffness deviate, and the reference is known as actions only",
            )
            .remedy("make it of loads or of a target")
        })?;
        take(&Built { beam: &other, reference: &made, ..plain(&what) })?;
    }
    if deviations.settlement > Length::ZERO {
        for (i, support) in beam.supports().iter().enumerate() {
            if support.vertical == Restraint::Free {
                continue;
            }
            let alone = beam.move_support(i, deviations.settlement).actions(&[])?;
            let made = reference.with_in_place(&alone);
            let what = format!("support {} gone down by {}", name(i), deviations.settlement);
            take(&Built { reference: &made, ..plain(&what) })?;
        }
    }
    let least = each.iter().map(|d| d.fidelity.value()).fold(f64::INFINITY, f64::min);
    let verdict = Verdict::design(
        slug::EQUIVALENT_AS_BUILT,
        Quantity::new(Kind::Ratio, least),
        Limit::AtLeast(1.0),
        Basis::net(reference.unit),
        Clause::Named("deviations of what is built (library rule)"),
    );
    let state = if verdict.state == State::Fail { State::Inconclusive } else { verdict.state };
    let raise = (least > 0.0 && least.is_finite()).then(|| (1.0 / least).max(1.0));
    Ok(AsBuilt { each, verdict: verdict.with_state(state), raise })
}

/// A support by its letter.
pub(super) fn name(i: usize) -> String {
    let letter =
        u32::try_from(i).ok().filter(|i| *i < 26).and_then(|i| char::from_u32(u32::from(b'A') + i));
    letter.map_or_else(|| format!("{}", i + 1), String::from)
}

fn shown(signs: &[f64], one: impl Fn(f64) -> String) -> String {
    let all: Vec<String> = signs.iter().map(|s| one(*s)).collect();
    all.join(", ")
}

/// Signs of the ends to try.
fn corners(n: usize) -> Vec<Vec<f64>> {
    let sign = |up: bool| if up { 1.0 } else { -1.0 };
    if n <= COMBINED {
        return (0_u32..1 << n)
            .map(|mask| (0..n).map(|i| sign(mask & (1 << i) != 0)).collect())
            .collect();
    }
    let mut all = vec![vec![1.0; n], vec![-1.0; n]];
    for i in 0..n {
        for up in [true, false] {
            all.push((0..n).map(|j| if i == j { sign(up) } else { 0.0 }).collect());
        }
    }
    all
}

fn refused(
    beam: &Beam,
    candidates: &[Candidate],
    forces: &[Net<Force>],
    deviations: &Deviations,
) -> Result<(), Error> {
    let mut issues = Vec::new();
    super::candidate::refused(candidates, beam, &mut issues);
    let mut bad = |field: &str, limit: &str| {
        issues.push(
            Issue::new(
                slug::EQUIVALENT_DEVIATION,
                format!("deviations.{field}"),
                "a deviation that cannot be",
            )
            .limit(limit),
        );
    };
    let zero_or_more = |l: Length| l.is_finite() && l >= Length::ZERO;
    for (field, value) in [
        ("place", deviations.place),
        ("support", deviations.support),
        ("settlement", deviations.settlement),
    ] {
        if !zero_or_more(value) {
            bad(field, "zero or more");
        }
    }
    if !(deviations.force >= 0.0 && deviations.force < 1.0) {
        bad("force", "from 0 to below 1, for example 0.02");
    }
    if !(deviations.stiffness >= 1.0 && deviations.stiffness.is_finite()) {
        bad("stiffness", "at least 1");
    }
    super::candidate::forces_refused(candidates, forces, &mut issues);
    Error::check(issues)
}

fn tried(state: &Built<'_>, requirements: &[Requirement]) -> Result<Deviation, Error> {
    let used = state.candidates.iter().zip(state.forces).filter(|(_, f)| f.0 > Force::ZERO);
    let loads: Vec<Load> = used.flat_map(|(c, f)| c.loads(f.0)).collect();
    let test = state.beam.anchored().level().actions(&loads)?;
    let mut worst: Option<super::verify::Shortfall> = None;
    for requirement in requirements {
        let Requirement::Reach(reach) = requirement else { continue };
        let terms: Vec<&Actions> = state
            .reference
            .terms
            .iter()
            .filter(|t| reach.case.as_ref().is_none_or(|c| *c == t.0))
            .map(|t| &t.1)
            .collect();
        let (from, to) = requirement.stretch(state.reference);
        let stretches: Vec<(Length, Length)> = if reach.at.is_empty() {
            vec![(from, to)]
        } else {
            reach.at.iter().map(|x| (*x, *x)).collect()
        };
        for stretch in stretches {
            let found = if stretch.1 > stretch.0 {
                least_fidelity(&test, &terms, reach.effect, reach.sense, stretch)
            } else {
                at_place(&test, &terms, reach, stretch.0)
            };
            if let Some(found) = found
                && worst.as_ref().is_none_or(|w| found.fidelity.value() < w.fidelity.value())
            {
                worst = Some(found);
            }
        }
    }
    let found =
        confirm_actions(&test, state.reference, requirements, state.candidates, state.forces);
    let others = found.each.iter().filter(|c| {
        requirements.get(c.requirement).is_none_or(|r| !matches!(r, Requirement::Reach(_)))
    });
    let passed =
        others.max_by(|a, b| a.violation.total_cmp(&b.violation)).filter(|c| c.violation > 0.0);
    Ok(Deviation {
        what: state.what.clone(),
        fidelity: Ratio::from(worst.as_ref().map_or(f64::INFINITY, |w| w.fidelity.value())),
        effect: worst.as_ref().map(|w| w.effect),
        at: worst.as_ref().map(|w| w.at),
        passed: passed.map(|c| c.what.clone()),
        violation: passed.map_or(0.0, |c| c.violation),
    })
}

fn at_place(
    test: &Actions,
    terms: &[&Actions],
    reach: &super::require::Reach,
    x: Length,
) -> Option<super::verify::Shortfall> {
    let mut worst: Option<super::verify::Shortfall> = None;
    for side in [crate::beam::Side::Left, crate::beam::Side::Right] {
        for (term, reference) in terms.iter().enumerate() {
            let (got, asked) =
                (reach.effect.at(test, x, side), reach.effect.at(reference, x, side));
            if asked.abs() <= 0.0 || !super::require::Sense::takes(reach.sense, asked) {
                continue;
            }
            if worst.as_ref().is_none_or(|w| got / asked < w.fidelity.value()) {
                let fidelity = Ratio::from(got / asked);
                worst = Some(super::verify::Shortfall {
                    effect: reach.effect,
                    fidelity,
                    at: x,
                    side,
                    term,
                });
            }
        }
    }
    worst
}

/// The other beams, with words.
fn beams(beam: &Beam, deviations: &Deviations) -> Result<Vec<(String, Beam)>, Error> {
    let mut found = Vec::new();
    let held = match deviations.ends {
        Ends::CastInPlace if beam.supports().len() > 1 => EndFixity::ALL,
        _ => &[],
    };
    for ends in held {
        let left = matches!(ends, EndFixity::LeftFixed | EndFixity::BothFixed);
        let right = matches!(ends, EndFixity::RightFixed | EndFixity::BothFixed);
        found.push((format!("ends: {ends}"), beam.with_ends(left, right)?));
    }
    if deviations.support > Length::ZERO {
        for i in 0..beam.supports().len() {
            for sign in [1.0, -1.0] {
                let by = deviations.support * sign;
                let mut supports: Vec<Support> = beam.supports().to_vec();
                let Some(support) = supports.get_mut(i) else { continue };
                support.at = (support.at + by).max(Length::ZERO).min(beam.length());
                if support.at == beam.supports().get(i).map_or(support.at, |s| s.at) {
                    continue;
                }
                let other = remade(beam, supports, beam.rigidity().to_vec())?;
                found.push((format!("support {} off by {by}", name(i)), other));
            }
        }
    }
    if deviations.stiffness > 1.0 {
        for (i, (from, to)) in beam.spans().into_iter().enumerate() {
            for factor in [deviations.stiffness, 1.0 / deviations.stiffness] {
                let other =
                    remade(beam, beam.supports().to_vec(), stiffer(beam, from, to, factor))?;
                found.push((
                    format!("EI of stretch {} from {from} to {to} times {factor}", i + 1),
                    other,
                ));
            }
        }
    }
    Ok(found)
}

fn remade(
    beam: &Beam,
    supports: Vec<Support>,
    rigidity: Vec<(Length, FlexuralRigidity)>,
) -> Result<Beam, Error> {
    Beam::new(beam.length(), supports, rigidity)?
        .with_shear(beam.shear_rigidity().to_vec())?
        .with_hinges(beam.hinges().to_vec())
}

/// The stretches of EI with a factor on one part.
fn stiffer(beam: &Beam, from: Length, to: Length, factor: f64) -> Vec<(Length, FlexuralRigidity)> {
    let at = |x: Length| {
        let own = beam.rigidity().iter().rev().find(|(start, _)| *start <= x);
        own.or_else(|| beam.rigidity().first()).map(|r| r.1)
    };
    let mut starts: Vec<Length> = beam.rigidity().iter().map(|r| r.0).chain([from, to]).collect();
    starts.retain(|x| *x < beam.length());
    starts.sort_by(|a, b| a.si().total_cmp(&b.si()));
    starts.dedup_by(|b, a| (*b - *a).abs() <= beam.length() * 1e-12);
    let one = |x: Length| {
        let k = if x >= from && x < to { factor } else { 1.0 };
        at(x).map(|ei| (x, ei * k))
    };
    starts.into_iter().filter_map(one).collect()
}
