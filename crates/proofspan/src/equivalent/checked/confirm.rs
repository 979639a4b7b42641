//! Do these loads meet every requirement at every x? Nothing of the search is used here: the loads
//! are solved once more on the beam, and each requirement is bounded by subdivision with Bernstein
//! coefficients, without roots and without derivatives.

use crate::beam::{Actions, Beam, Poly, Segment};
use crate::beam::{Shape, peak};
use crate::equivalent::asked::candidate::{Candidate, held, loads};
use crate::equivalent::asked::effect::BasisWord;
use crate::equivalent::asked::effect::Effect;
use crate::equivalent::asked::reference::{CROSSING, NOTHING, Reference};
use crate::equivalent::asked::requirement::{Requirement, Sense};
use crate::equivalent::asked::words::index;
use crate::error::Error;
use crate::units::{Force, Kind, Length, Net, Quantity};

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

/// A violation below this part of the largest action is rounding.
const MET: f64 = 1e-9;
/// Bounds this close to each other are one; well below [`MET`], or the bound itself would be the alarm.
const CLOSED: f64 = 1e-11;
const DEEP: u32 = 48;

/// The worst violation so far.
struct Worst {
    size: f64,
    at: Option<f64>,
}

impl Worst {
    /// Bounds the violation of a claim about several polynomials. `judge` says, for their shapes
    /// on a part, the largest violation that is possible there and one that is surely there.
    fn bound(
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

/// Visits the pieces of a stretch with the segments of each case; a place alone is a piece of no
/// length from each side.
fn walk(cases: &[&Actions], from: f64, to: f64, mut visit: impl FnMut(f64, f64, &[Segment])) {
    let end = cases.first().map_or(0.0, |c| c.length().si());
    let sliver = 1e-12 * end;
    let mut places: Vec<f64> = cases.iter().flat_map(|c| c.breakpoints()).map(Length::si).collect();
    places.retain(|x| *x > from + sliver && *x < to - sliver);
    places.push(from);
    places.push(to);
    places.sort_by(f64::total_cmp);
    places.dedup_by(|b, a| *b - *a <= sliver);
    let mut parts: Vec<(f64, f64)> =
        places.iter().zip(places.iter().skip(1)).map(|(a, b)| (*a, *b)).collect();
    if parts.is_empty() {
        parts = vec![(from, from)];
    }
    for (a, b) in parts {
        let middle = f64::midpoint(a, b);
        let sides: &[bool] = if b > a { &[true] } else { &[true, false] };
        for right in sides {
            let holds = |s: &&Segment| {
                if b > a {
                    s.start <= middle && s.end() >= middle
                } else if *right {
                    s.start <= a + sliver && s.end() > a + sliver
                } else {
                    s.start < a - sliver && s.end() >= a - sliver
                }
            };
            let found: Option<Vec<Segment>> = cases
                .iter()
                .map(|c| {
                    let s = c.segments().iter().find(holds)?;
                    Some(s.part((a - s.start).max(0.0), b - a))
                })
                .collect();
            if let Some(segments) = found {
                visit(a, b - a, &segments);
            }
        }
    }
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
    crate::equivalent::asked::candidate::refused(candidates, beam, &mut issues);
    crate::equivalent::asked::requirement::refused(requirements, reference, beam, &mut issues);
    crate::equivalent::asked::candidate::forces_refused(candidates, forces, &mut issues);
    Error::check(issues)?;
    let test = held(beam).actions(&loads(candidates, forces))?;
    Ok(confirm_actions(&test, reference, requirements, candidates, forces))
}

/// Checks the actions of forces against requirements and capacities.
pub(in crate::equivalent) fn confirm_actions(
    test: &Actions,
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
        let under = candidate.least.map(|c| (c - force.0, c, "least force"));
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
fn one(test: &Actions, reference: &Reference, requirement: &Requirement) -> Violation {
    let (from, to) = requirement.stretch(reference);
    let stretches: Vec<(f64, f64)> = if requirement.places().is_empty() {
        vec![(from.si(), to.si())]
    } else {
        requirement.places().iter().map(|x| (x.si(), x.si())).collect()
    };
    let effect = |e: Effect| move |s: &Segment| e.poly(s);
    match requirement {
        Requirement::Reach(r) => {
            let cases = named(reference, r.case.as_deref());
            let noise = reference.noise(r.effect);
            reached(test, &cases, &stretches, effect(r.effect), (r.sense, noise))
        }
        Requirement::Within(r) => {
            let cases = named(reference, r.case.as_deref());
            let there = (r.basis == BasisWord::Total).then_some(&reference.in_place);
            capped(test, &cases, there, &stretches, effect(r.effect), (r.at_most, r.floor))
        }
        Requirement::MomentLimit(r) => {
            let high = r.sagging.map(|m| m.si() * r.share);
            let low = r.hogging.map(|m| -m.si() * r.share);
            let there = Some(&reference.in_place);
            band(test, there, &stretches, Segment::moment, (low, high))
        }
        Requirement::ShearLimit(r) => {
            let most = r.strength.si() * r.share;
            let there = Some(&reference.in_place);
            band(test, there, &stretches, Segment::shear, (Some(-most), Some(most)))
        }
        Requirement::DeflectionLimit(r) => {
            let (low, high) = (r.up.map(|u| -u.si()), r.down.map(Length::si));
            band(test, None, &stretches, Segment::deflection, (low, high))
        }
        Requirement::ReactionLimit(r) => {
            let of =
                |a: &Actions| a.reactions().get(index(r.support)).map_or(0.0, |r| r.force.si());
            let total = of(test) + of(&reference.in_place);
            let low = r.at_least.map_or(f64::NEG_INFINITY, |f| f.si() - total);
            let high = r.at_most.map_or(f64::NEG_INFINITY, |f| total - f.si());
            let limits = [r.at_least, r.at_most].into_iter().flatten();
            let limit = limits.map(|f| f.si().abs()).fold(0.0, f64::max);
            let size = of(&reference.in_place).abs().max(limit).max(reference.pressed());
            finished(low.max(high).max(0.0), size, None)
        }
        Requirement::ShearSpan(r) => {
            let there = (r.basis == BasisWord::Total).then_some(&reference.in_place);
            let window = (r.least.map(Length::si), r.most.map(Length::si));
            windowed(test, reference, there, &stretches, window)
        }
    }
}

fn named<'a>(reference: &'a Reference, case: Option<&str>) -> Vec<&'a Actions> {
    let fits = |t: &&(String, Actions)| case.is_none_or(|c| t.0 == c);
    reference.terms.iter().filter(fits).map(|t| &t.1).collect()
}

/// A violation, relative and as an amount in SI, and where.
#[derive(Clone, Copy, Debug)]
struct Violation {
    relative: f64,
    amount: f64,
    at: Option<f64>,
}

/// Below rounding there is none.
fn finished(amount: f64, scale: f64, at: Option<f64>) -> Violation {
    let relative = if scale > 0.0 { amount / scale } else { 0.0 };
    if relative <= MET {
        return Violation { relative: 0.0, amount: 0.0, at: None };
    }
    Violation { relative, amount, at }
}

/// Every term in its sign.
fn reached(
    test: &Actions,
    terms: &[&Actions],
    stretches: &[(f64, f64)],
    poly: impl Fn(&Segment) -> Poly,
    (sense, noise): (Option<Sense>, f64),
) -> Violation {
    let (up, down) = Sense::signs(sense);
    let mut worst = Worst { size: 0.0, at: None };
    let mut largest_of_all = 0.0_f64;
    for (from, to) in stretches {
        let ends: Vec<(f64, f64)> = terms
            .iter()
            .map(|t| {
                let (a, b) = (Length::from_si(*from), Length::from_si(*to));
                let e = t.inside().extremes_of(a, b, &poly);
                (e.min.value, e.max.value)
            })
            .collect();
        let scale = ends.iter().fold(0.0_f64, |m, (a, b)| m.max(a.abs()).max(b.abs()));
        largest_of_all = largest_of_all.max(scale);
        for (term, (low, high)) in terms.iter().zip(&ends) {
            let nothing = (NOTHING * scale).max(noise);
            let crosses = up && down && to > from && *low < -nothing && *high > nothing;
            let floor = if crosses { CROSSING * scale } else { nothing };
            walk(&[test, term], *from, *to, |start, h, segments| {
                let shapes: Vec<Shape> = segments.iter().map(|s| Shape::on(&poly(s), h)).collect();
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
                worst.bound(&shapes, start, h, scale, &judge, DEEP);
            });
        }
    }
    finished(worst.size, largest_of_all, worst.at)
}

/// In each sign not more than a ratio times the largest reference.
fn capped(
    test: &Actions,
    terms: &[&Actions],
    there: Option<&Actions>,
    stretches: &[(f64, f64)],
    poly: impl Fn(&Segment) -> Poly,
    (at_most, floor): (f64, f64),
) -> Violation {
    let mut cases: Vec<&Actions> = vec![test];
    cases.extend(there);
    cases.extend(terms);
    let mut worst = Worst { size: 0.0, at: None };
    let mut scale_of_all = 0.0_f64;
    let shapes = |h: f64, segments: &[Segment]| -> Vec<Shape> {
        let mut all = segments.iter().map(|s| Shape::on(&poly(s), h));
        let (Some(test), there) = (all.next(), there.and_then(|_| all.next())) else {
            return Vec::new();
        };
        let on = |s: Shape| there.as_ref().map_or(s, |t| s.plus(1.0, t));
        let rest: Vec<Shape> = all.map(on).collect();
        let mut found = vec![on(test)];
        found.extend(rest);
        found
    };
    for (from, to) in stretches {
        let mut scale = 0.0_f64;
        // the largest by subdivision: bounds close in on it
        walk(&cases, *from, *to, |_, h, segments| {
            for shape in shapes(h, segments).iter().skip(1) {
                scale = scale.max(peak(shape, scale, DEEP));
            }
        });
        scale_of_all = scale_of_all.max(scale);
        walk(&cases, *from, *to, |start, h, segments| {
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
            worst.bound(&shapes(h, segments), start, h, scale, &judge, DEEP);
        });
    }
    finished(worst.size, scale_of_all, worst.at)
}

fn band(
    test: &Actions,
    there: Option<&Actions>,
    stretches: &[(f64, f64)],
    poly: fn(&Segment) -> Poly,
    (low, high): (Option<f64>, Option<f64>),
) -> Violation {
    let mut cases: Vec<&Actions> = vec![test];
    cases.extend(there);
    let mut worst = Worst { size: 0.0, at: None };
    let scale = low.map_or(0.0, f64::abs).max(high.map_or(0.0, f64::abs));
    for (from, to) in stretches {
        walk(&cases, *from, *to, |start, h, segments| {
            let mut all = segments.iter().map(|s| Shape::on(&poly(s), h));
            let Some(first) = all.next() else { return };
            let total = all.fold(first, |sum, s| sum.plus(1.0, &s));
            let judge = |shapes: &[Shape]| {
                let Some(shape) = shapes.first() else { return (0.0, 0.0) };
                let over = |value: f64| high.map_or(0.0, |h| value - h);
                let under = |value: f64| low.map_or(0.0, |l| l - value);
                let middle = shape.middle();
                (over(shape.most()).max(under(shape.least())), over(middle).max(under(middle)))
            };
            worst.bound(&[total], start, h, scale, &judge, DEEP);
        });
    }
    finished(worst.size, scale, worst.at)
}

fn windowed(
    test: &Actions,
    reference: &Reference,
    there: Option<&Actions>,
    stretches: &[(f64, f64)],
    (least, most): (Option<f64>, Option<f64>),
) -> Violation {
    let mut cases: Vec<&Actions> = vec![test];
    cases.extend(there);
    cases.extend(reference.terms.iter().map(|t| &t.1));
    let mut worst = Worst { size: 0.0, at: None };
    let (mut scale, mut shear) = (0.0_f64, 0.0_f64);
    let shapes = |h: f64, segments: &[Segment], poly: fn(&Segment) -> Poly| -> Vec<Shape> {
        let mut all = segments.iter().map(|s| Shape::on(&poly(s), h));
        let (Some(test), there) = (all.next(), there.and_then(|_| all.next())) else {
            return Vec::new();
        };
        let on = |s: Shape| there.as_ref().map_or(s, |t| s.plus(1.0, t));
        let rest: Vec<Shape> = all.map(on).collect();
        core::iter::once(on(test)).chain(rest).collect()
    };
    for (from, to) in stretches {
        walk(&cases, *from, *to, |_, h, segments| {
            for shape in shapes(h, segments, Segment::moment).iter().skip(1) {
                scale = scale.max(peak(shape, scale, DEEP));
            }
            for shape in shapes(h, segments, Segment::shear).iter().skip(1) {
                shear = shear.max(peak(shape, shear, DEEP));
            }
        });
        let nothing = (
            (NOTHING * scale).max(reference.noise(Effect::Moment)),
            (NOTHING * shear).max(reference.noise(Effect::Shear)),
        );
        walk(&cases, *from, *to, |start, h, segments| {
            let moments = shapes(h, segments, Segment::moment);
            let count = moments.len();
            let shears = shapes(h, segments, Segment::shear);
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
            worst.bound(&all, start, h, scale, &judge, DEEP);
        });
    }
    finished(worst.size, scale, worst.at)
}
