//! Does the layout hold where supports, stiffness, places and forces are not quite as drawn?
//!
//! The layout stays; beam, reference and loads deviate. Deviations are tried at their ends: places
//! and forces in every combination up to six carriers, beyond that one by one and all together
//! (library rule); then places with forces, and the worst of both on each other beam. Effects are linear
//! in the forces, so there the ends are the worst; a place inside its tolerance between the ends is not
//! looked at.

use super::moved::{Other, beams};
use super::verify::{confirm_response, least_reached};
use crate::beam::{Beam, Restraint};
use crate::equivalent::asked::candidate::{Candidate, held, loads};
use crate::equivalent::asked::deviations::Deviations;
use crate::equivalent::asked::deviations::Moved;
use crate::equivalent::asked::effect::Effect;
use crate::equivalent::asked::reference::Reference;
use crate::equivalent::asked::requirement::Requirement;
use crate::equivalent::asked::words::name;
use crate::error::{Error, Issue, slug};
use crate::units::{Force, Kind, Length, Net, Quantity, Ratio};
use crate::verdict::{Basis, Clause, Limit, State, Verdict};

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
        /// The limit that is exceeded most, in words.
        exceeded: Option<String>,
        /// By how much it is exceeded, relative; zero where all hold.
        excess: f64,
    }
}

/// The layout under every deviation.
#[derive(Clone, PartialEq, Debug)]
pub struct AsBuilt {
    /// As drawn first, then each deviation alone, then the worst of places and forces together, alone
    /// and on each other beam.
    pub each: Vec<Deviation>,
    /// The worse of both verdicts below.
    pub state: State,
    /// The least fidelity against 1: below it Inconclusive.
    pub fidelity: Verdict,
    /// The largest of one and an excess over a limit, against 1: above it Inconclusive; NotApplicable
    /// where no limit is asked.
    pub limits: Verdict,
    /// Times what all forces would have to be so that the worst is reached; nothing where that does
    /// not help.
    pub raise: Option<f64>,
    /// A limit that forces raised so exceed, in words.
    pub raise_exceeds: Option<String>,
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

/// Tries the deviations. What is there in any case keeps its place and force; a carrier at an end of the
/// member moves as far as it can.
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
    let each_of = |forces: &[Net<Force>]| {
        deviating(beam, reference, requirements, (candidates, forces), deviations)
    };
    let raised = |k: f64| -> Vec<Net<Force>> {
        let one = |(f, c): (&Net<Force>, &Candidate)| if c.always { *f } else { Net(f.0 * k) };
        forces.iter().zip(candidates).map(one).collect()
    };
    let each = each_of(forces)?;
    let least = least_of(&each);
    let excess = each.iter().map(|d| d.excess).fold(0.0, f64::max);
    let judged = |value: f64, limit: Limit| {
        let verdict = Verdict::design(
            slug::EQUIVALENT_AS_BUILT,
            Quantity::new(Kind::Ratio, value),
            limit,
            Basis::net(reference.unit),
            Clause::Named("deviations of what is built (library rule)"),
        );
        let state = if verdict.state == State::Fail { State::Inconclusive } else { verdict.state };
        verdict.with_state(state)
    };
    // the ratio is settled to the tolerance of an optimum, not better
    let settled = if (least - 1.0).abs() <= 1e-8 { 1.0 } else { least };
    let fidelity = judged(settled, Limit::AtLeast(1.0));
    let limits = judged(1.0 + excess, Limit::AtMost(1.0));
    let limited = requirements.iter().any(|r| !matches!(r, Requirement::Reach(_)))
        || candidates.iter().any(|c| c.capacity.is_some() || c.at_least.is_some());
    let limits = if limited { limits } else { limits.with_state(State::NotApplicable) };
    let held = matches!(limits.state, State::Pass | State::NotApplicable);
    let state = if held { fidelity.state } else { limits.state };
    let raise = match (least > 0.0 && least.is_finite()).then(|| (1.0 / settled).max(1.0)) {
        Some(k) if k > 1.0 && stays(candidates, forces) => {
            raised_to(least, k, |k| Ok(least_of(&each_of(&raised(k))?)))?
        }
        plain => plain,
    };
    let raise_exceeds = match raise.filter(|k| *k > 1.0) {
        Some(k) => {
            let (what, forces) = (String::new(), &raised(k)[..]);
            let built = Built { what, beam, reference, candidates, forces };
            tried(&built, requirements)?.exceeded
        }
        None => None,
    };
    Ok(AsBuilt { each, state, fidelity, limits, raise, raise_exceeds })
}

/// The layout where its forces are others than it counts, each case with its words.
pub(in crate::equivalent) fn under_forces(
    (beam, reference): (&Beam, &Reference),
    requirements: &[Requirement],
    candidates: &[Candidate],
    cases: Vec<(String, Vec<Net<Force>>)>,
) -> Result<Vec<Deviation>, Error> {
    let one = |(what, forces): (String, Vec<Net<Force>>)| {
        tried(&Built { what, beam, reference, candidates, forces: &forces }, requirements)
    };
    cases.into_iter().map(one).collect()
}

/// Whether something is there in any case that is not raised with the rest.
fn stays(candidates: &[Candidate], forces: &[Net<Force>]) -> bool {
    candidates.iter().zip(forces).any(|(c, f)| c.always && f.0 > Force::ZERO)
}

fn least_of(each: &[Deviation]) -> f64 {
    each.iter().map(|d| d.fidelity.value()).fold(f64::INFINITY, f64::min)
}

/// Times what the forces reach a fidelity of one, where it is `first` at one: the fidelity is the least of
/// linear functions, so secants close in on it from below.
fn raised_to(
    first: f64,
    guess: f64,
    fidelity: impl Fn(f64) -> Result<f64, Error>,
) -> Result<Option<f64>, Error> {
    let (mut last, mut k) = ((1.0, first), guess);
    for _ in 0..40 {
        let now = fidelity(k)?;
        if (now - 1.0).abs() <= 1e-10 {
            return Ok(Some(k));
        }
        let slope = (now - last.1) / (k - last.0);
        if !(slope > 0.0 && slope.is_finite()) {
            return Ok(None);
        }
        last = (k, now);
        k += (1.0 - now) / slope;
    }
    Ok(None)
}

/// The layout under every deviation.
fn deviating(
    beam: &Beam,
    reference: &Reference,
    requirements: &[Requirement],
    (candidates, forces): (&[Candidate], &[Net<Force>]),
    deviations: &Deviations,
) -> Result<Vec<Deviation>, Error> {
    let used: Vec<usize> = (0..candidates.len())
        .filter(|i| forces.get(*i).is_some_and(|f| f.0 > Force::ZERO))
        .filter(|i| candidates.get(*i).is_some_and(|c| !c.always))
        .collect();
    let signs = corners(used.len());
    let moved = |signs: &[f64]| -> Vec<Candidate> {
        let mut moved = candidates.to_vec();
        for (i, sign) in used.iter().zip(signs) {
            if let Some(c) = moved.get_mut(*i) {
                *c = shifted(c, deviations.place * *sign, beam.length());
            }
        }
        moved
    };
    let other = |signs: &[f64]| -> Vec<Net<Force>> {
        let mut other = forces.to_vec();
        for (i, sign) in used.iter().zip(signs) {
            if let Some(f) = other.get_mut(*i) {
                *f = Net(f.0 * (1.0 + sign * deviations.force));
            }
        }
        other
    };
    let places = |signs: &[f64]| {
        format!("carriers off by {}", shown(signs, |s| reference.show(deviations.place * s)))
    };
    let gauges = |signs: &[f64]| {
        format!(
            "forces off by {}",
            shown(signs, |s| format!("{} %", (1e8 * s * deviations.force).round() / 1e6))
        )
    };
    let plain = |what: String| Built { what, beam, reference, candidates, forces };
    let mut each = vec![tried(&plain("as drawn".to_owned()), requirements)?];
    // each kind alone
    if deviations.place > Length::ZERO {
        for s in &signs {
            let candidates = moved(s);
            each.push(tried(&Built { candidates: &candidates, ..plain(places(s)) }, requirements)?);
        }
    }
    if deviations.force > 0.0 {
        for s in &signs {
            let forces = other(s);
            each.push(tried(&Built { forces: &forces, ..plain(gauges(s)) }, requirements)?);
        }
    }
    let mut grounds: Vec<(String, Beam, Reference, Moved)> = Vec::new();
    for Other { what, beam: other, moved } in beams(beam, deviations, reference)? {
        let made = reference.on_moved(&other, moved)?.ok_or_else(|| {
            Issue::new(
                slug::EQUIVALENT_REFERENCE,
                "reference",
                "supports or stiffness deviate, and the reference is known as actions only",
            )
            .remedy("make it of loads or of a target, or say that the ends are seated")
        })?;
        grounds.push((what, other, made, moved));
    }
    if deviations.settlement > Length::ZERO {
        for (i, support) in beam.supports().iter().enumerate() {
            if support.vertical == Restraint::Free {
                continue;
            }
            let alone = beam.move_support(i, deviations.settlement).response(&[])?;
            let made = reference.with_in_place(&alone);
            let what = format!(
                "support {} gone down by {}",
                name(i),
                reference.show(deviations.settlement)
            );
            grounds.push((what, beam.clone(), made, Moved::none()));
        }
    }
    let on = |(what, beam, reference, moved): &(String, Beam, Reference, Moved),
              candidates: &[Candidate],
              forces: &[Net<Force>]| {
        let requirements: Vec<Requirement> =
            requirements.iter().map(|r| r.mapped(|x| moved.region(x))).collect();
        let there = |c: &Candidate| match c.covers().next() {
            // a patch to the end of the member ends there still
            Some((from, to)) if c.edges => {
                let (from, to) = (moved.load(from), moved.load(to));
                Candidate { contacts: vec![(from + to) / 2.0], plate: to - from, ..c.clone() }
            }
            _ => shifted(c, moved.by(), beam.length()),
        };
        let candidates: Vec<Candidate> = candidates.iter().map(there).collect();
        let what = what.clone();
        let built = Built { what, beam, reference, candidates: &candidates, forces };
        let found = tried(&built, &requirements)?;
        Ok::<_, Error>(Deviation { at: found.at.map(|x| moved.drawn(x)), ..found })
    };
    for ground in &grounds {
        each.push(on(ground, candidates, forces)?);
    }
    // together: places with forces, then the worst of them on each other beam
    if deviations.place > Length::ZERO && deviations.force > 0.0 {
        let lean = used.len() <= CROSSED;
        let worst_place = worst_of(&signs, |s| {
            tried(&Built { candidates: &moved(s), ..plain(String::new()) }, requirements)
        })?;
        let rows: Vec<&Vec<f64>> =
            if lean { signs.iter().collect() } else { worst_place.into_iter().collect() };
        for a in rows {
            for b in &signs {
                let (candidates, forces) = (moved(a), other(b));
                let what = format!("{}, {}", places(a), gauges(b));
                each.push(tried(
                    &Built { candidates: &candidates, forces: &forces, ..plain(what) },
                    requirements,
                )?);
            }
        }
    }
    if !grounds.is_empty() && (deviations.place > Length::ZERO || deviations.force > 0.0) {
        let worst_place = worst_of(&signs, |s| {
            tried(&Built { candidates: &moved(s), ..plain(String::new()) }, requirements)
        })?;
        let worst_force = worst_of(&signs, |s| {
            tried(&Built { forces: &other(s), ..plain(String::new()) }, requirements)
        })?;
        if let (Some(a), Some(b)) = (worst_place, worst_force) {
            let (candidates, forces) = (moved(a), other(b));
            for ground in &grounds {
                let found = on(ground, &candidates, &forces)?;
                let what = format!("{}, {}, {}", found.what, places(a), gauges(b));
                each.push(Deviation { what, ..found });
            }
        }
    }
    Ok(each)
}

/// With up to so many carriers every place is tried with every force.
const CROSSED: usize = 3;

/// The corner with the least fidelity.
fn worst_of(
    signs: &[Vec<f64>],
    tried: impl Fn(&[f64]) -> Result<Deviation, Error>,
) -> Result<Option<&Vec<f64>>, Error> {
    let mut worst: Option<(f64, &Vec<f64>)> = None;
    for s in signs {
        let fidelity = tried(s)?.fidelity.value();
        if worst.is_none_or(|(w, _)| fidelity < w) {
            worst = Some((fidelity, s));
        }
    }
    Ok(worst.map(|w| w.1))
}

/// A carrier moved as far as the member allows.
fn shifted(candidate: &Candidate, by: Length, end: Length) -> Candidate {
    let low = candidate.covers().map(|c| c.0).fold(Length::from_si(f64::INFINITY), Length::min);
    let high =
        candidate.covers().map(|c| c.1).fold(Length::from_si(f64::NEG_INFINITY), Length::max);
    candidate.moved(by.max(-low).min(end - high))
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
    crate::equivalent::asked::candidate::refused(candidates, beam, &mut issues);
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
    crate::equivalent::asked::candidate::forces_refused(candidates, forces, &mut issues);
    Error::check(issues)
}

fn tried(state: &Built<'_>, requirements: &[Requirement]) -> Result<Deviation, Error> {
    let test = held(state.beam).response(&loads(state.candidates, state.forces))?;
    let worst = least_reached(&test, state.reference, requirements);
    let found =
        confirm_response(&test, state.reference, requirements, state.candidates, state.forces);
    let others = found.each.iter().filter(|c| {
        requirements.get(c.requirement).is_none_or(|r| !matches!(r, Requirement::Reach(_)))
    });
    let exceeded =
        others.max_by(|a, b| a.violation.total_cmp(&b.violation)).filter(|c| c.violation > 0.0);
    Ok(Deviation {
        what: state.what.clone(),
        fidelity: Ratio::from(worst.as_ref().map_or(f64::INFINITY, |w| w.fidelity.value())),
        effect: worst.as_ref().map(|w| w.effect),
        at: worst.as_ref().map(|w| w.at),
        exceeded: exceeded.map(|c| c.what.clone()),
        excess: exceeded.map_or(0.0, |c| c.violation),
    })
}
