//! Laws of certified layouts on members of any kind (invented): overhangs, hinges, springs, held ends,
//! steps of stiffness, patches, spreaders, sources, every kind of limit. What is found is evaluated here
//! from the actions alone, place by place; proofs are added up; nothing ends in solver trouble.

use proofspan::beam::{Beam, Load, Response, Restraint, Side, Support};
use proofspan::equivalent::*;
use proofspan::error::Cause;
use proofspan::units::*;
use proptest::prelude::*;

#[derive(Debug, Clone)]
struct Member {
    left: f64,
    spans: Vec<f64>,
    right: f64,
    held: (bool, bool),
    spring: Option<f64>,
    hinge: Option<f64>,
    step: f64,
}

#[derive(Debug, Clone)]
struct Case {
    member: Member,
    loads: Vec<Vec<f64>>,
    there: f64,
    carriers: Vec<(f64, u8)>,
    region: (f64, f64),
    effect: Effect,
    sense: Option<Sense>,
    limit: (u8, f64),
    goals: (u8, u8),
}

/// A quarter of a metre: rounding shows best where places are round.
fn quarter(x: f64) -> f64 {
    (x * 4.0).round() / 4.0
}

fn member() -> impl Strategy<Value = Member> {
    let spans = prop::collection::vec(3.0..9.0f64, 1..4);
    let overhang = || prop_oneof![Just(0.0), 1.0..3.0f64];
    let (spring, hinge) = (prop::option::of(1e4..1e6f64), prop::option::of(0.15..0.4f64));
    (overhang(), spans, overhang(), any::<(bool, bool)>(), spring, hinge, 0.5..2.0f64).prop_map(
        |(left, spans, right, held, spring, hinge, step)| {
            let spans: Vec<f64> = spans.into_iter().map(quarter).collect();
            // a hinge in a single span between bearings is a mechanism
            let hinge = hinge.filter(|_| spans.len() > 1);
            Member { left: quarter(left), spans, right: quarter(right), held, spring, hinge, step }
        },
    )
}

fn case() -> impl Strategy<Value = Case> {
    let loads = prop::collection::vec(prop::collection::vec(0.0..30.0f64, 5), 1..4);
    let carriers = prop::collection::vec((0.02..0.98f64, 0..4u8), 1..5);
    let effect = prop_oneof![Just(Effect::Moment), Just(Effect::Shear)];
    let sense = prop_oneof![Just(None), Just(Some(Sense::Positive)), Just(Some(Sense::Negative)),];
    let region = (0.0..0.8f64, 0.05..0.4f64);
    let picks = ((0..8u8, 0.5..3.0f64), (0..4u8, 0..4u8));
    (member(), loads, 0.0..8.0f64, carriers, region, effect, sense, picks).prop_map(
        |(member, loads, there, carriers, region, effect, sense, (limit, goals))| Case {
            member,
            loads,
            there,
            carriers,
            region,
            effect,
            sense,
            limit,
            goals,
        },
    )
}

impl Member {
    fn length(&self) -> f64 {
        self.left + self.spans.iter().sum::<f64>() + self.right
    }

    /// Ends of the spans and overhangs.
    fn marks(&self) -> Vec<f64> {
        let mut marks = vec![0.0];
        if self.left > 0.0 {
            marks.push(self.left);
        }
        for span in &self.spans {
            marks.push(marks.last().unwrap() + span);
        }
        if self.right > 0.0 {
            marks.push(self.length());
        }
        marks
    }

    fn beam(&self) -> Option<Beam> {
        let mut x = self.left;
        let mut supports = vec![Support::bearing(x * M)];
        for span in &self.spans {
            x += span;
            supports.push(Support::bearing(x * M));
        }
        let last = supports.len() - 1;
        for (held, i) in [(self.held.0, 0), (self.held.1, last)] {
            if held {
                supports[i].rotation = Restraint::Rigid;
            }
        }
        if let Some(k) = self.spring {
            supports[last].vertical = Restraint::Spring(SpringStiffness::from_si(k * 1e3));
        }
        let ei = |k: f64| FlexuralRigidity::from_si(3e7 * k);
        let middle = quarter(self.length() / 2.0);
        let rigidity = vec![(0.0 * M, ei(1.0)), (middle * M, ei(self.step))];
        let beam = Beam::new(self.length() * M, supports, rigidity).ok()?;
        match self.hinge {
            // in the last span, near its left support
            Some(part) => {
                let span = self.spans.last()?;
                let at = self.length() - self.right - span + quarter(part * span);
                beam.with_hinges(vec![at * M]).ok()
            }
            None => Some(beam),
        }
    }
}

impl Case {
    fn reference(&self, beam: &Beam) -> Option<Reference> {
        let marks = self.member.marks();
        let on = |own: &[f64]| -> Vec<Load> {
            let parts = marks.windows(2).zip(own.iter().cycle());
            parts
                .filter(|(_, w)| **w > 10.0)
                .map(|(m, w)| Load::uniform(m[0] * M, m[1] * M, *w * KN_PER_M))
                .collect()
        };
        let terms: Vec<(String, Vec<Load>)> =
            self.loads.iter().enumerate().map(|(i, w)| (format!("t{i}"), on(w))).collect();
        let end = self.member.length();
        let there = vec![Load::uniform(0.0 * M, end * M, self.there * KN_PER_M)];
        let from = quarter(self.region.0 * end);
        let to = quarter((self.region.0 + self.region.1) * end).min(end);
        (to > from).then_some(())?;
        Reference::of_loads(beam, terms, there, Some((from * M, to * M))).ok()
    }

    fn candidates(&self) -> Vec<Candidate> {
        let end = self.member.length();
        let one = |(x, kind): &(f64, u8)| {
            let at = quarter(x * end).clamp(0.5, end - 0.5) * M;
            match kind {
                0 => Candidate::patch(at - 0.5 * M, at + 0.5 * M),
                1 => Candidate::jack(at).on_plate(0.2 * M),
                2 => Candidate::at(vec![at - 0.25 * M, at + 0.25 * M]),
                _ => Candidate::jack(at),
            }
        };
        let mut all: Vec<Candidate> = Vec::new();
        for candidate in self.carriers.iter().map(one) {
            if !all.contains(&candidate) {
                all.push(candidate);
            }
        }
        all
    }

    fn asked(&self, reference: &Reference) -> Vec<Requirement> {
        let (from, to) = reference.region();
        let mut reach = Requirement::reach(self.effect, from, to);
        if let Some(sense) = self.sense {
            reach = reach.in_sense(sense);
        }
        let (kind, k) = self.limit;
        let end = self.member.length() * M;
        let limit = match kind {
            0 => Some(Requirement::within(self.effect, BasisWord::Net, 1.0 + k, from, to)),
            1 => Some(Requirement::within(self.effect, BasisWord::Total, 1.0 + k, 0.0 * M, end)),
            2 => Some(Requirement::MomentLimit(MomentLimit {
                of: "cracking".to_owned(),
                sagging: Some(150.0 * k * KN_M),
                hogging: Some(150.0 * k * KN_M),
                share: 1.0,
                from: None,
                to: None,
            })),
            3 => Some(Requirement::DeflectionLimit(DeflectionLimit {
                down: Some(20.0 * k * MM),
                up: None,
                from: None,
                to: None,
            })),
            4 => Some(Requirement::ReactionLimit(ReactionLimit {
                support: 0,
                at_least: Some(0.0 * KN),
                at_most: None,
            })),
            _ => None,
        };
        core::iter::once(reach).chain(limit).collect()
    }

    fn goals(&self) -> Vec<Objective> {
        let goal = |k: u8| match k {
            0 => Objective::total(),
            1 => Objective::peak(),
            2 => Objective::uplift(),
            _ => Objective::overshoot(Effect::Moment, BasisWord::Total),
        };
        let mut all = vec![goal(self.goals.0)];
        if self.goals.1 != self.goals.0 {
            all.push(goal(self.goals.1));
        }
        all
    }
}

/// The largest shortfall of a reach over a fine grid, in parts of the largest reference of its stretch.
fn short(case: &Case, reference: &Reference, test: &Response) -> f64 {
    let (from, to) = reference.region();
    let mut worst = 0.0_f64;
    let value = |a: &Response, x: Length, side| match case.effect {
        Effect::Moment => a.moment(x, side).unwrap().si(),
        _ => a.shear(x, side).unwrap().si(),
    };
    let places: Vec<(Length, Side)> = (0..=400)
        .flat_map(|i| {
            let x = from + (to - from) * (f64::from(i) / 400.0);
            let left = (i > 0).then_some((x, Side::Left));
            let right = (i < 400).then_some((x, Side::Right));
            left.into_iter().chain(right)
        })
        .collect();
    let sizes = |a: &Response| -> (f64, f64) {
        let all = places.iter().map(|(x, side)| value(a, *x, *side));
        all.fold((0.0, 0.0), |m: (f64, f64), v| (m.0.min(v), m.1.max(v)))
    };
    let bounds: Vec<(f64, f64)> = reference.terms().iter().map(|t| sizes(&t.1)).collect();
    let scale = bounds.iter().fold(0.0_f64, |m, b| m.max(b.1).max(-b.0));
    for ((_, term), (low, high)) in reference.terms().iter().zip(&bounds) {
        let both = case.sense.is_none() && *low < 0.0 && *high > 0.0;
        // a little above the two percent, since the grid does not see every extreme
        let floor = if both { 0.021 * scale } else { 1e-6 * scale };
        for (x, side) in &places {
            let asked = value(term, *x, *side);
            let sign = asked.signum();
            let wanted = match case.sense {
                Some(Sense::Positive) => sign > 0.0,
                Some(Sense::Negative) => sign < 0.0,
                _ => true,
            };
            if wanted && asked.abs() > floor {
                worst = worst.max(sign * (asked - value(test, *x, *side)) / scale);
            }
        }
    }
    worst
}

/// Plain arithmetic on a certificate: the bound, less what rounding of its columns could buy.
fn bound(certificate: &Certificate, most: f64) -> f64 {
    let rows = &certificate.rows;
    let mut total: f64 = rows.iter().map(|r| r.multiplier * r.b).sum();
    for (j, cost) in certificate.cost.iter().enumerate() {
        let pays: f64 = rows.iter().map(|r| r.multiplier * r.a[j]).sum();
        total -= (pays - cost).max(0.0) * most;
    }
    total
}

proptest! {
    #![proptest_config(ProptestConfig { max_global_rejects: 10_000_000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn found_is_reached_and_a_conflict_is_one(case in case()) {
        let beam = case.member.beam();
        prop_assume!(beam.is_some());
        let beam = beam.unwrap();
        let reference = case.reference(&beam);
        prop_assume!(reference.is_some());
        let reference = reference.unwrap();
        let (candidates, asked, goals) = (case.candidates(), case.asked(&reference), case.goals());
        let answer = match optimise(&beam, &reference, &candidates, &asked, &goals) {
            Ok(answer) => answer,
            Err(error) => {
                prop_assert!(error.cause != Cause::Solver, "{error}");
                return Ok(());
            }
        };
        let shears = reference.terms().iter().map(|t| {
            let e = t.1.shear_extremes(0.0 * M, beam.length()).unwrap();
            e.max.value.si().max(-e.min.value.si())
        });
        let scale = shears.fold(0.0, f64::max);
        match answer {
            Answer::Found(found) => {
                prop_assert!(found.confirmation.violation <= 0.0);
                let worst = short(&case, &reference, &found.response);
                prop_assert!(worst <= 1e-8, "short by {worst}");
                // forces that nearly cancel each other cost digits: those of the worst are left to the check above
                let largest = found.forces.iter().map(|f| f.0.si()).fold(0.0, f64::max);
                for certificate in &found.certificates {
                    prop_assert!(certificate.rows.iter().all(|r| r.multiplier >= 0.0));
                    let most = certificate.values.iter().fold(0.0_f64, |m, v| m.max(v.abs()));
                    let value = certificate.objective.unwrap();
                    let weight = |r: &CertificateRow| (r.multiplier * r.b).abs();
                    let size = certificate.rows.iter().map(weight).fold(value.abs(), f64::max);
                    let least = value - 1e-6 * size.max(1e-6);
                    prop_assert!(
                        largest > 30.0 * scale || bound(certificate, most) >= least,
                        "{} {value}",
                        bound(certificate, most)
                    );
                }
            }
            Answer::Conflict(conflict) => {
                prop_assert!(!conflict.requirements.is_empty());
                prop_assert!(bound(&conflict.certificate, scale) > 0.0, "{}", conflict.words());
            }
        }
    }
}

/// The cases above hold something: some are found, some contradict each other, few are refused.
#[test]
fn every_kind_of_answer_occurs() {
    use proptest::strategy::ValueTree;
    use proptest::test_runner::TestRunner;
    let mut runner = TestRunner::deterministic();
    let (mut found, mut conflicts, mut refused) = (0, 0, 0);
    for _ in 0..400 {
        let case = case().new_tree(&mut runner).unwrap().current();
        let Some(beam) = case.member.beam() else { continue };
        let Some(reference) = case.reference(&beam) else { continue };
        let (asked, goals) = (case.asked(&reference), case.goals());
        match optimise(&beam, &reference, &case.candidates(), &asked, &goals) {
            Ok(Answer::Found(_)) => found += 1,
            Ok(Answer::Conflict(_)) => conflicts += 1,
            Err(_) => refused += 1,
        }
    }
    assert!(found > 60 && conflicts > 60 && refused < 200, "{found} {conflicts} {refused}");
}
