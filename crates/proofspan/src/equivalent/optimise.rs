//! The best forces of given carriers, with a certificate.

use super::candidate::{self, Candidate, Unknown, unknowns};
use super::certificate::{Certificate, CertificateRow};
use super::confirm::{Confirmation, Confirmed, confirm_actions};
use super::conflict::Conflict;
use super::exchange::{Best, Ended, Program, Seed, exchange, ranges};
use super::objective::{self, Goal, Objective};
use super::require::{self, Reference, Requirement};
use super::rows::{Field, Ground, Source, Stretch};
use super::simplex::{LARGEST, Trouble};
use crate::beam::{Actions, Beam, Load, Poly};
use crate::error::{Error, Issue, slug};
use crate::units::{Force, Net};

/// What is to be solved: beam, reference, candidates and requirements, checked, with the actions of
/// every candidate under one newton.
#[derive(Clone, Debug)]
pub struct Problem<'a> {
    pub(super) beam: &'a Beam,
    pub(super) reference: &'a Reference,
    pub(super) candidates: &'a [Candidate],
    pub(super) requirements: &'a [Requirement],
    pub(super) unknowns: Vec<Unknown>,
    pub(super) units: Vec<Actions>,
    pub(super) field: Field,
    /// N: about the size of the forces.
    pub(super) scale: f64,
}

crate::answer! {
    /// How far a force may move at equal objectives.
    pub struct Freedom {
        /// The least.
        least: Net<Force>,
        /// The largest; nothing where it has no end.
        most: Option<Net<Force>>,
    }
}

/// Objectives nearer than this, relative, are equal.
pub(super) const EQUAL: f64 = 1e-9;
/// How much less tightly an objective is held where rounding denies what was just met, in parts of the size
/// of its rows, one after the other.
const LOOSER: [f64; 3] = [1e-9, 1e-8, 1e-7];
/// What is missed by less may be asked for once more.
const LITTLE: f64 = 1e-6;
/// Forces nearer than this part of their scale are the same: where an optimum is flat, objectives that
/// are equal to [`EQUAL`] leave them about its square root.
const UNIQUE: f64 = 2e-4;
/// With more unknowns than this, only those in use are looked at for their freedom.
const LOOKED_AT: usize = 12;

/// The best forces, proved.
#[derive(Clone, PartialEq, Debug)]
pub struct Optimum {
    /// The forces in the order of the candidates, on one member unit, down positive.
    pub forces: Vec<Net<Force>>,
    /// What each objective reached, in its order: N, or a ratio for an overshoot.
    pub objectives: Vec<f64>,
    /// Whether no other forces are as good.
    pub unique: bool,
    /// The least and the largest force of each candidate at equal objectives; nothing where it is not
    /// known: candidates that are not used, where there are more than twelve, or ranges that rounding
    /// hides.
    pub freedom: Vec<Option<Freedom>>,
    /// One certificate an objective.
    pub certificates: Vec<Certificate>,
    /// What the separate verifier found.
    pub confirmation: Confirmation,
    /// The actions of the forces alone.
    pub actions: Actions,
    /// The loads as they stand on the beam.
    pub loads: Vec<Load>,
}

/// The answer of a search for forces.
#[derive(Clone, PartialEq, Debug)]
pub enum Answer {
    /// Forces that meet everything.
    Found(Box<Optimum>),
    /// None do.
    Conflict(Box<Conflict>),
}

impl Answer {
    /// The best forces, where there are any.
    #[must_use]
    pub fn optimum(&self) -> Option<&Optimum> {
        match self {
            Self::Found(found) => Some(found),
            Self::Conflict(_) => None,
        }
    }
}

/// Finds forces of given candidates, down and not negative, that meet every requirement and make
/// the objectives small, the first before the second. Every candidate is used, so a least force holds
/// for each that has one; [`super::search`] leaves candidates out.
///
/// # Errors
/// Every problem of candidates, requirements and objectives at once; `equivalent.solver` with the
/// scaled problem where the search does not end; what the beam refuses.
pub fn optimise(
    beam: &Beam,
    reference: &Reference,
    candidates: &[Candidate],
    requirements: &[Requirement],
    objectives: &[Objective],
) -> Result<Answer, Error> {
    let mut issues = Vec::new();
    objective::refused(objectives, reference, beam, false, &mut issues);
    candidate::crowded(candidates, beam, &mut issues);
    Problem::checked(beam, reference, candidates, requirements, issues)?.optimum(objectives)
}

/// One objective that is settled.
struct Level {
    best: Best,
    value: f64,
    certificate: Certificate,
}

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

    pub(super) fn checked(
        beam: &'a Beam,
        reference: &'a Reference,
        candidates: &'a [Candidate],
        requirements: &'a [Requirement],
        mut issues: Vec<Issue>,
    ) -> Result<Self, Error> {
        candidate::refused(candidates, beam, &mut issues);
        require::refused(requirements, reference, beam, &mut issues);
        for (i, support) in beam.supports().iter().enumerate() {
            let pressed = |r: &Requirement| matches!(r, Requirement::ReactionLimit(r) if require::index(r.support) == i && r.at_least.is_some_and(|f| f >= Force::ZERO));
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
        let units: Vec<Actions> =
            candidate::held(beam).cases(&cases)?.into_iter().map(Actions::cleaned).collect();
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
        let sound = |a: &Actions| {
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
    fn unsound(&self, sound: impl Fn(&Actions) -> bool) -> Option<String> {
        if let Some((name, _)) = self.reference.terms.iter().find(|t| !sound(&t.1)) {
            return Some(format!("term {name}"));
        }
        if !sound(&self.reference.in_place) {
            return Some("what is in place".to_owned());
        }
        let mut units = self.units.iter().zip(&self.unknowns);
        units.find(|(a, _)| !sound(a)).map(|(_, u)| self.unknown(u))
    }

    /// The best forces.
    ///
    /// # Errors
    /// Every problem of the objectives; `equivalent.solver`.
    pub fn optimum(&self, objectives: &[Objective]) -> Result<Answer, Error> {
        let mut issues = Vec::new();
        objective::refused(objectives, self.reference, self.beam, false, &mut issues);
        Error::check(issues)?;
        let answer = self.attempt(objectives, &[])?;
        let Answer::Found(found) = &answer else { return Ok(answer) };
        // a basis that is nearly singular may miss by a little: asked for a little more, it does not
        let missed: Vec<(Source, f64)> = found
            .confirmation
            .each
            .iter()
            .filter(|c| c.violation > 0.0 && c.violation < LITTLE)
            .map(|c| (Source::Requirement(c.requirement), 3.0 * c.violation))
            .collect();
        let answer = if missed.is_empty() { answer } else { self.attempt(objectives, &missed)? };
        if let Answer::Found(found) = &answer {
            self.agreed(&found.confirmation)?;
        }
        Ok(answer)
    }

    /// The best forces, some requirements raised by a part of their size; not yet agreed with the verifier.
    fn attempt(&self, objectives: &[Objective], raised: &[(Source, f64)]) -> Result<Answer, Error> {
        let mut field = self.field.clone();
        for (source, part) in raised {
            for stretch in field.stretches.iter_mut().filter(|s| s.source == *source) {
                stretch.b = stretch.b.plus(part * stretch.size, &Poly::ONE);
            }
        }
        let mut seeds: Vec<Seed> = Vec::new();
        let mut levels: Vec<Level> = Vec::new();
        let mut words: Vec<String> = Vec::with_capacity(objectives.len());
        for objective in objectives {
            if let (Some(word), Some(last), Some(held)) =
                (words.last_mut(), levels.last(), objectives.get(levels.len().saturating_sub(1)))
            {
                *word = format!("held: {}", held.reached(last.value, self.reference));
            }
            let (rows, held) = (field.stretches.len(), !levels.is_empty());
            let mut found = self.level(&mut field, &mut seeds, &mut words, objective);
            // what was just met can be met: where rounding denies it, it is held a little less tightly
            for slack in if held { &LOOSER[..] } else { &[] } {
                if matches!(found, Ok(Ok(_))) {
                    break;
                }
                field.stretches.truncate(rows);
                seeds.retain(|(i, _)| *i < rows);
                let objective_rows = |s: &&mut Stretch| matches!(s.source, Source::Objective(_));
                for stretch in field.stretches.iter_mut().filter(objective_rows) {
                    stretch.b = stretch.b.plus(-slack * stretch.size, &Poly::ONE);
                }
                found = self.level(&mut field, &mut seeds, &mut words, objective);
            }
            match found? {
                Ok(level) => levels.push(level),
                Err(()) if !held => return Ok(Answer::Conflict(Box::new(self.conflict()?))),
                Err(()) => return Err(self.trouble(Trouble::Singular)),
            }
        }
        let Some(last) = levels.last() else {
            return Err(self.trouble(Trouble::Steps));
        };
        let p = last.best.p.clone();
        // a basic multiplier of zero at the last level: others may be as good
        let unique = !last.best.degenerate;
        let mut freedom: Vec<Option<(f64, Option<f64>)>> =
            p.iter().map(|p| Some((*p, Some(*p)))).collect();
        if !unique {
            // a force whose use costs more than it gives is zero in every best layout
            let idle = |j: usize| levels.iter().any(|l| l.certificate.idle(j));
            let open: Vec<usize> = (0..p.len()).filter(|j| !idle(*j)).collect();
            let used = |j: &usize| p.len() <= LOOKED_AT || p.get(*j).is_some_and(|p| *p > 0.0);
            let (looked, not): (Vec<usize>, Vec<usize>) = open.into_iter().partition(used);
            let cost: Vec<f64> = self.unknowns.iter().map(|u| u.cost).collect();
            let now = |j: &usize| (*j, p.get(*j).copied().unwrap_or(0.0));
            let looked: Vec<(usize, f64)> = looked.iter().map(now).collect();
            let found = ranges(&field, &cost, self.scale, &mut seeds, &looked);
            for ((j, now), range) in looked.iter().zip(found) {
                if let Some(place) = freedom.get_mut(*j) {
                    *place = range.map(|(low, high)| (low.min(*now), high.map(|h| h.max(*now))));
                }
            }
            for j in not {
                if let Some(place) = freedom.get_mut(j) {
                    *place = None;
                }
            }
        }
        let wide = |range: &Option<(f64, Option<f64>)>| {
            range.is_none_or(|(low, high)| high.is_none_or(|h| h - low > UNIQUE * self.scale))
        };
        let unique = !freedom.iter().any(wide);
        let (objectives, certificates) =
            levels.into_iter().map(|l| (l.value, l.certificate)).unzip();
        let forces = self.forces(&p);
        let loads = candidate::loads(self.candidates, &forces);
        let actions = candidate::held(self.beam).actions(&loads)?;
        let confirmation =
            confirm_actions(&actions, self.reference, self.requirements, self.candidates, &forces);
        let mut ranges = vec![None; self.candidates.len()];
        for (unknown, range) in self.unknowns.iter().zip(&freedom) {
            for (i, part) in &unknown.members {
                let force = |p: f64| Net(Force::from_si(p * part));
                if let (Some(place), Some((low, high))) = (ranges.get_mut(*i), range) {
                    *place = Some(Freedom { least: force(*low), most: high.map(force) });
                }
            }
        }
        Ok(Answer::Found(Box::new(Optimum {
            forces,
            objectives,
            unique,
            freedom: ranges,
            certificates,
            confirmation,
            actions,
            loads,
        })))
    }

    /// What the objectives reach, without certificates; nothing where there are no forces.
    pub(super) fn values(&self, objectives: &[Objective]) -> Result<Option<Vec<f64>>, Error> {
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
    pub(super) fn forces(&self, p: &[f64]) -> Vec<Net<Force>> {
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

    pub(super) fn ground(&self) -> Ground<'_> {
        Ground { units: &self.units, reference: self.reference }
    }

    /// Adds the rows of an objective to the field and says what is made small.
    pub(super) fn aim(&self, field: &mut Field, k: usize, objective: &Objective) -> Program {
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
                    let of = |a: &Actions| a.reactions().get(i).map_or(0.0, |r| r.force.si());
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
    pub(super) fn hold(&self, field: &mut Field, k: usize, program: &Program, value: f64) {
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

    fn level(
        &self,
        field: &mut Field,
        seeds: &mut Vec<Seed>,
        words: &mut Vec<String>,
        objective: &Objective,
    ) -> Result<Result<Level, ()>, Error> {
        let k = words.len();
        let program = self.aim(field, k, objective);
        let ended =
            exchange(field, &program, self.scale, seeds, |_| true).map_err(|t| self.trouble(t))?;
        let Ended::Optimal(best) = ended else { return Ok(Err(())) };
        let value = best.value(&program);
        words.push(objective.words());
        let certificate = self.certificate(field, &program, &best, words);
        self.hold(field, k, &program, value);
        Ok(Ok(Level { best, value, certificate }))
    }

    /// The rows of a proof in real units and words.
    pub(super) fn proof(
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

    fn certificate(
        &self,
        field: &Field,
        program: &Program,
        best: &Best,
        words: &[String],
    ) -> Certificate {
        let rows = self.proof(field, program.helper, &best.multipliers, words);
        let objective = words.last().cloned().unwrap_or_default();
        let mut unknowns: Vec<String> = self.unknowns.iter().map(|u| self.unknown(u)).collect();
        let mut values = best.p.clone();
        let mut cost = program.cost.clone();
        if program.helper {
            cost.iter_mut().for_each(|c| *c = 0.0);
            cost.push(1.0);
            values.push(best.helper);
            unknowns.push(objective.clone());
        }
        let about = format!("least {objective}, every given carrier used");
        Certificate::of(about, unknowns, values, cost, rows)
    }

    pub(super) fn unknown(&self, unknown: &Unknown) -> String {
        let names: Vec<String> = unknown
            .members
            .iter()
            .filter_map(|(i, _)| self.candidates.get(*i))
            .map(|c| c.label_in(self.reference.system))
            .collect();
        names.join(" + ")
    }

    /// A force that nobody would apply, N.
    pub(super) fn beyond(&self) -> f64 {
        LARGEST * self.scale
    }

    /// Whose row it is, in words.
    pub(super) fn what(&self, stretch: &Stretch, objectives: &[String]) -> String {
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
    pub(super) fn agreed(&self, confirmation: &Confirmation) -> Result<(), Error> {
        let failed = |c: &&Confirmed| c.violation > 0.0;
        let Some(worst) = confirmation.each.iter().find(failed) else { return Ok(()) };
        Err(self.unsolved(&format!(
            "forces were found that the verifier does not accept: {} is missed by {}",
            worst.what,
            self.reference.show(worst.amount)
        )))
    }

    /// An error that carries the scaled problem.
    pub(super) fn trouble(&self, trouble: Trouble) -> Error {
        self.unsolved(match trouble {
            Trouble::Steps => "the search for forces does not end",
            Trouble::Singular => "the rows that hold the forces cannot be told apart",
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
        let issue = Issue::new(slug::EQUIVALENT_SOLVER, "candidates", why);
        Error::solver(Issue { value: Some(whole), ..issue })
    }
}
