//! What is solved: rows, unknowns and objectives, set up and checked, with their words.

use super::certificate::CertificateRow;
use crate::beam::{Beam, Load, Response};
use crate::equivalent::asked::candidate::{self, Candidate, Unknown, unknowns};
use crate::equivalent::asked::objective::{Goal, Objective};
use crate::equivalent::asked::reference::Reference;
use crate::equivalent::asked::requirement::{self, Requirement};
use crate::equivalent::asked::words::index;
use crate::equivalent::checked::verify::{Confirmation, Confirmed};
use crate::equivalent::solved::exchange::{Ended, Program, Seed, exchange};
use crate::equivalent::solved::rows::{Field, Ground, Source, Stretch};
use crate::equivalent::solved::simplex::{LARGEST, Trouble};
use crate::error::{Error, Issue, slug};
use crate::units::{Force, Net};

/// What is to be solved: beam, reference, candidates and requirements, checked, with the actions of
/// every candidate under one newton.
#[derive(Clone, Debug)]
pub struct Problem<'a> {
    pub(in crate::equivalent) beam: &'a Beam,
    pub(in crate::equivalent) reference: &'a Reference,
    pub(in crate::equivalent) candidates: &'a [Candidate],
    pub(in crate::equivalent) requirements: &'a [Requirement],
    pub(in crate::equivalent) unknowns: Vec<Unknown>,
    pub(in crate::equivalent) units: Vec<Response>,
    pub(in crate::equivalent) field: Field,
    /// N: about the size of the forces.
    pub(in crate::equivalent) scale: f64,
}

/// Objectives nearer than this, relative, are equal.
pub(in crate::equivalent) const EQUAL: f64 = 1e-9;

impl<'a> Problem<'a> {
    /// Checks and sets up.
    ///
    /// # Errors
    /// Every problem of candidates and requirements at once; what the beam refuses.
    pub fn new(
        beam: &'a Beam,
        reference: &'a Reference,
        candidates: &'a [Candidate],
        requirements: &'a [Requirement],
    ) -> Result<Self, Error> {
        let mut issues = Vec::new();
        candidate::crowded(candidates, beam, &mut issues);
        Self::checked(beam, reference, candidates, requirements, issues)
    }

    pub(in crate::equivalent) fn checked(
        beam: &'a Beam,
        reference: &'a Reference,
        candidates: &'a [Candidate],
        requirements: &'a [Requirement],
        mut issues: Vec<Issue>,
    ) -> Result<Self, Error> {
        candidate::refused(candidates, beam, &mut issues);
        requirement::refused(requirements, reference, beam, &mut issues);
        for (i, support) in beam.supports().iter().enumerate() {
            let pressed = |r: &Requirement| matches!(r, Requirement::ReactionLimit(r) if index(r.support) == i && r.at_least.is_some_and(|f| f >= Force::ZERO));
            if support.lifts && !requirements.iter().any(pressed) {
                issues.push(
                    Issue::new(
                        slug::EQUIVALENT_REQUIREMENT,
                        "requirements",
                        format!("support {i} only pushes: effects add up only while it is pressed"),
                    )
                    .limit("a reaction limit with at_least of zero or more for it"),
                );
            }
        }
        Error::check(core::mem::take(&mut issues))?;
        let unknowns = unknowns(candidates);
        let cases: Vec<&[Load]> = unknowns.iter().map(|u| u.loads.as_slice()).collect();
        // a settled support is part of what is in place, not of what a carrier does
        let units: Vec<Response> =
            candidate::held(beam).cases(&cases)?.into_iter().map(Response::cleaned).collect();
        let (from, to) = (reference.in_place.length() * 0.0, reference.in_place.length());
        let mut scale = 0.0_f64;
        for (_, term) in &reference.terms {
            let v = term.inside().shear_extremes(from, to);
            let m = term.inside().moment_extremes(from, to);
            let m = m.max.value.si().abs().max(m.min.value.si().abs());
            scale = scale.max(v.max.value.si().abs()).max(v.min.value.si().abs()).max(m / to.si());
        }
        let ground = Ground { units: &units, reference };
        let field = Field::new(ground, &unknowns, requirements, LARGEST * scale);
        let sound = |a: &Response| {
            a.segments()
                .iter()
                .all(|s| [s.v0, s.m0, s.q0, s.w0, s.r0].iter().all(|v| v.is_finite()))
        };
        let problem =
            Self { beam, reference, candidates, requirements, unknowns, units, field, scale };
        if let Some(name) = problem.unsound(sound) {
            return Err(Error::solver(
                Issue::new(
                    slug::EQUIVALENT_SOLVER,
                    "reference",
                    "an action is beyond what numbers can hold",
                )
                .value(name),
            ));
        }
        if !scale.is_finite() {
            return Err(problem.trouble(Trouble::NotFinite));
        }
        for (i, requirement) in requirements.iter().enumerate() {
            let asks = problem.field.stretches.iter().any(|s| s.source == Source::Requirement(i));
            if matches!(requirement, Requirement::Reach(_)) && !asks {
                issues.push(
                    Issue::new(
                        slug::EQUIVALENT_NOTHING_ASKED,
                        format!("requirements[{i}]"),
                        "the reference has nothing of that effect and sign there",
                    )
                    .value(requirement.words(reference)),
                );
            }
        }
        Error::check(issues)?;
        if scale <= 0.0 {
            return Err(Issue::new(
                slug::TARGET_NET_NONPOSITIVE,
                "reference",
                "every reference is zero: nothing to apply",
            )
            .into());
        }
        Ok(problem)
    }

    /// The name of actions that are not sound.
    fn unsound(&self, sound: impl Fn(&Response) -> bool) -> Option<String> {
        if let Some((name, _)) = self.reference.terms.iter().find(|t| !sound(&t.1)) {
            return Some(format!("term {name}"));
        }
        if !sound(&self.reference.in_place) {
            return Some("what is in place".to_owned());
        }
        let mut units = self.units.iter().zip(&self.unknowns);
        units.find(|(a, _)| !sound(a)).map(|(_, u)| self.unknown(u))
    }

    /// What the objectives reach, without certificates; nothing where there are no forces.
    pub(in crate::equivalent) fn values(
        &self,
        objectives: &[Objective],
    ) -> Result<Option<Vec<f64>>, Error> {
        let mut field = self.field.clone();
        let mut seeds = Vec::new();
        let mut values = Vec::with_capacity(objectives.len());
        for (k, objective) in objectives.iter().enumerate() {
            let program = self.aim(&mut field, k, objective);
            let ended = exchange(&field, &program, self.scale, &mut seeds, |_| true);
            let Ended::Optimal(best) = ended.map_err(|t| self.trouble(t))? else {
                return Ok(None);
            };
            let value = best.value(&program);
            values.push(value);
            if k + 1 < objectives.len() {
                self.hold(&mut field, k, &program, value);
            }
        }
        Ok(Some(values))
    }

    /// Forces of the candidates from the unknowns.
    pub(in crate::equivalent) fn forces(&self, p: &[f64]) -> Vec<Net<Force>> {
        let mut forces = vec![Net(Force::ZERO); self.candidates.len()];
        for (unknown, p) in self.unknowns.iter().zip(p) {
            for (i, part) in &unknown.members {
                if let Some(force) = forces.get_mut(*i) {
                    *force = Net(Force::from_si(p * part));
                }
            }
        }
        forces
    }

    pub(in crate::equivalent) fn ground(&self) -> Ground<'_> {
        Ground { units: &self.units, reference: self.reference }
    }

    /// Adds the rows of an objective to the field and says what is made small.
    pub(in crate::equivalent) fn aim(
        &self,
        field: &mut Field,
        k: usize,
        objective: &Objective,
    ) -> Program {
        let source = Source::Objective(k);
        let first = field.stretches.len();
        let cost: Vec<f64> = self.unknowns.iter().map(|u| u.cost).collect();
        let helper = !matches!(objective.of, Goal::Total | Goal::Carriers);
        match objective.of {
            Goal::Total | Goal::Carriers => {}
            Goal::Peak => {
                for (j, unknown) in self.unknowns.iter().enumerate() {
                    for (_, part) in &unknown.members {
                        field.single(source, &[(j, -part)], 0.0, 1.0, self.scale);
                    }
                }
            }
            Goal::Overshoot => {
                for cap in objective.caps(self.reference) {
                    field.require(self.ground(), source, &cap);
                }
            }
            Goal::Uplift => {
                for (i, there) in self.reference.in_place.reactions().iter().enumerate() {
                    let of = |a: &Response| a.reactions().get(i).map_or(0.0, |r| r.force.si());
                    let row: Vec<(usize, f64)> = self.units.iter().map(of).enumerate().collect();
                    field.single(source, &row, -there.force.si(), 1.0, self.scale);
                }
            }
        }
        field.stretches.iter_mut().skip(first).for_each(|s| s.relaxed = true);
        let unit = match objective.of {
            Goal::Peak | Goal::Uplift => self.scale,
            _ => 1.0,
        };
        Program { cost, helper, unit }
    }

    /// Holds what an objective reached, but for rounding.
    pub(in crate::equivalent) fn hold(
        &self,
        field: &mut Field,
        k: usize,
        program: &Program,
        value: f64,
    ) {
        let source = Source::Objective(k);
        if program.helper {
            let kept = value + EQUAL * value.abs().max(1e-3 * program.unit);
            for stretch in field.stretches.iter_mut().filter(|s| s.source == source) {
                stretch.b = stretch.b.plus(-kept, &stretch.e);
                stretch.relaxed = false;
            }
        } else {
            let row: Vec<(usize, f64)> = program.cost.iter().map(|c| -c).enumerate().collect();
            let kept = value * (1.0 + EQUAL);
            field.single(source, &row, -kept, 1.0, kept.abs().max(self.scale));
        }
    }

    /// The rows of a proof in real units and words.
    pub(in crate::equivalent) fn proof(
        &self,
        field: &Field,
        helper: bool,
        multipliers: &[(Seed, f64)],
        objectives: &[String],
    ) -> Vec<CertificateRow> {
        let mut rows: Vec<CertificateRow> = Vec::with_capacity(multipliers.len());
        let mut last: Option<Source> = None;
        for ((index, s), multiplier) in multipliers {
            let Some(stretch) = field.stretches.get(*index) else { continue };
            let mut a = Vec::with_capacity(field.n + 1);
            let (b, e) = field.row(stretch, *s, &mut a);
            if helper {
                a.push(e);
            }
            let place = stretch.place(*s);
            let same = rows.last().filter(|_| last == Some(stretch.source));
            let what = same.map_or_else(|| self.what(stretch, objectives), |r| r.what.clone());
            last = Some(stretch.source);
            rows.push(CertificateRow {
                what,
                at: place.map(|p| p.0),
                side: place.map(|p| p.1),
                term: stretch.term.and_then(|t| self.reference.terms.get(t)).map(|t| t.0.clone()),
                unit: stretch.unit().to_owned(),
                a,
                b,
                multiplier: *multiplier,
            });
        }
        rows
    }

    pub(in crate::equivalent) fn unknown(&self, unknown: &Unknown) -> String {
        let names: Vec<String> = unknown
            .members
            .iter()
            .filter_map(|(i, _)| self.candidates.get(*i))
            .map(|c| c.label_in(self.reference.system))
            .collect();
        names.join(" + ")
    }

    /// A force that nobody would apply, N.
    pub(in crate::equivalent) fn beyond(&self) -> f64 {
        LARGEST * self.scale
    }

    /// Whose row it is, in words.
    pub(in crate::equivalent) fn what(&self, stretch: &Stretch, objectives: &[String]) -> String {
        let name = |j: usize| self.unknowns.get(j).map_or_else(String::new, |u| self.unknown(u));
        match stretch.source {
            Source::Requirement(i) => {
                self.requirements.get(i).map_or_else(String::new, |r| r.words(self.reference))
            }
            Source::Capacity(j) if self.unknowns.get(j).is_some_and(|u| u.capacity.is_none()) => {
                let most = self.reference.show(Force::from_si(self.beyond()));
                format!("no more than {most}, a thousand times the reference, from {}", name(j))
            }
            Source::Capacity(j) => format!("capacity of {}", name(j)),
            Source::Least(j) => format!("least force of {}", name(j)),
            Source::Objective(k) => objectives.get(k).cloned().unwrap_or_default(),
        }
    }

    /// Forces that the verifier does not accept are no answer.
    pub(in crate::equivalent) fn agreed(&self, confirmation: &Confirmation) -> Result<(), Error> {
        let failed = |c: &&Confirmed| c.violation > 0.0;
        let Some(worst) = confirmation.each.iter().find(failed) else { return Ok(()) };
        Err(self.unsolved(&format!(
            "forces were found that the verifier does not accept: {} is missed by {}",
            worst.what,
            self.reference.show(worst.amount)
        )))
    }

    /// An error that carries the scaled problem.
    pub(in crate::equivalent) fn trouble(&self, trouble: Trouble) -> Error {
        self.unsolved(match trouble {
            Trouble::Steps => "the search for forces does not end",
            Trouble::Singular => "the rows that hold the forces cannot be told apart",
            Trouble::Interrupted => "interrupted before it came to an end",
            Trouble::NotFinite => "an action is beyond what numbers can hold",
        })
    }

    fn unsolved(&self, why: &str) -> Error {
        let rows = self.field.stretches.iter().take(40).map(|s| {
            let mut a = Vec::new();
            let (b, _) = self.field.row(s, s.length / 2.0, &mut a);
            let size = a.iter().fold(b.abs(), |m, a| m.max((a * self.scale).abs()));
            let shown: Vec<String> =
                a.iter().map(|a| format!("{:.6e}", a * self.scale / size)).collect();
            format!("[{}] >= {:.6e}", shown.join(", "), b / size)
        });
        let rows: Vec<String> = rows.collect();
        let whole = format!(
            "unknowns in {} N, middle row of each stretch: {}",
            self.scale,
            rows.join("; ")
        );
        // the whole problem, to be reported: not only its head
        let issue = Issue::new(slug::EQUIVALENT_SOLVER, "candidates", why.to_owned());
        Error::solver(Issue { value: Some(whole.into()), ..issue })
    }
}
