//! How many carriers, and at which of the candidate places?
//!
//! Every choice is tried where there are few enough, and each is solved exactly: rows that were
//! found for one choice serve the next, and a choice whose rows so far cost more than the best is
//! left at once, since further rows only cost more. Beyond that the search is a heuristic that adds
//! and exchanges candidates; then the answer says so, with the bound of all candidates at once.

use super::conflict::Conflict;
use super::optimise::{Answer, Optimum};
use super::problem::{EQUAL, Problem};
use crate::beam::Beam;
use crate::equivalent::asked::candidate::{Candidate, MOST_CANDIDATES};
use crate::equivalent::asked::objective::{self, Goal, Objective};
use crate::equivalent::asked::reference::Reference;
use crate::equivalent::asked::requirement::Requirement;
use crate::equivalent::solved::exchange::{Ended, MET, Program, exchange};
use crate::equivalent::solved::rows::{Field, Source};
use crate::equivalent::solved::simplex::{Outcome, Simplex, Trouble};
use crate::error::{Error, Issue, slug};
use crate::units::Length;

/// A region in doubt with what must hold while it is tested. Several stages share the places and
/// have their own forces.
#[derive(Clone, Copy, Debug)]
pub struct Stage<'a> {
    /// What it is called.
    pub name: &'a str,
    /// What must be reproduced.
    pub reference: &'a Reference,
    /// What must hold.
    pub requirements: &'a [Requirement],
}

/// The best choice of so many carriers.
#[derive(Clone, PartialEq, Debug)]
pub struct Choice {
    /// How many carriers, those that are there in any case not counted; zero where those alone will do.
    pub number: usize,
    /// The candidates in use, by their places in the list, those of any case included.
    pub candidates: Vec<usize>,
    /// The objectives; with several stages each is that of the stage that asks most.
    pub objectives: Vec<f64>,
    /// One answer a stage, forces in the order of `candidates`.
    pub stages: Vec<Optimum>,
    /// Whether every choice of this number was tried.
    pub exact: bool,
}

/// What a search found.
#[derive(Clone, PartialEq, Debug)]
pub struct Searched {
    /// The best by the order of the objectives; nothing where no choice will do.
    pub best: Option<Choice>,
    /// The best of each number of carriers, where there is any: what a further one buys.
    pub by_number: Vec<Choice>,
    /// No choice of these candidates, of any number, has a smaller first objective (that after the
    /// number of carriers); nothing where even all of them together will not do.
    pub bound: Option<f64>,
    /// Why all candidates together will not do; or, where they would and no choice does, why that choice
    /// will not which comes nearest to the reference.
    pub conflict: Option<Box<Conflict>>,
    /// What was tried, in words.
    pub about: String,
}

/// So many carriers are chosen at the most; each number is a search of its own.
pub const MOST_CARRIERS: usize = 12;
/// So many choices of each number are tried one by one: four of forty, and more of fewer.
const TRIED: u64 = 125_000;
/// So many choices that tie in the first objective are kept.
const TIES: usize = 5_000;
/// So many exchanges of two for two are tried in one round.
const PAIRS: usize = 100_000;

/// Chooses at most `at_most` of the candidates with `spacing` clear between what they cover. Of each number
/// up to [`MOST_CARRIERS`] every choice is tried where there are no more than 125 000, else choices are
/// exchanged.
///
/// # Errors
/// Every problem of candidates, requirements and objectives at once; `equivalent.solver`.
pub fn search(
    beam: &Beam,
    stages: &[Stage<'_>],
    candidates: &[Candidate],
    at_most: usize,
    spacing: Option<Length>,
    objectives: &[Objective],
) -> Result<Searched, Error> {
    let mut issues = Vec::new();
    if stages.is_empty() {
        let issue = Issue::new(slug::EQUIVALENT_REQUIREMENT, "stages", "no stage");
        issues.push(issue.remedy("give at least one stage"));
    }
    if at_most == 0 {
        let issue = Issue::new(slug::EQUIVALENT_CANDIDATE, "at_most", "no carrier is allowed");
        issues.push(issue.limit("1 or more").remedy("allow at least one carrier"));
    }
    // those that could be used at once; a larger number than there are candidates asks no more
    if at_most.min(candidates.len()) > MOST_CARRIERS && candidates.len() <= MOST_CANDIDATES {
        let issue = Issue::new(slug::EQUIVALENT_CANDIDATE, "at_most", "too many carriers at once");
        let issue = issue.value(at_most).limit(format!("up to {MOST_CARRIERS}"));
        issues.push(issue.remedy("allow fewer, or give every carrier to `optimise`"));
    }
    if let Some(spacing) = spacing.filter(|s| !(s.is_finite() && *s >= Length::ZERO)) {
        let issue = Issue::new(slug::EQUIVALENT_CANDIDATE, "spacing", "a clear spacing below zero");
        issues.push(issue.value(spacing).limit("zero or more"));
    }
    if objectives.iter().all(|o| o.of == Goal::Carriers) {
        let issue = Issue::new(
            slug::EQUIVALENT_OBJECTIVE,
            "objectives",
            "fewest carriers leaves the forces open",
        );
        issues.push(issue.limit("a further objective: overshoot, peak, total, uplift"));
    }
    if let Some(stage) = stages.first() {
        objective::refused(objectives, stage.reference, beam, true, &mut issues);
    }
    let mut problems = Vec::with_capacity(stages.len());
    for (i, stage) in stages.iter().enumerate() {
        match Problem::checked(beam, stage.reference, candidates, stage.requirements, Vec::new()) {
            Ok(problem) => problems.push(problem),
            Err(error) if i == 0 || stages.len() == 1 => issues.extend(error.issues),
            Err(error) => {
                let named = error.issues.into_iter().map(|issue| {
                    let path = format!("stages[{i}].{}", issue.path);
                    Issue { path, ..issue }
                });
                issues.extend(named);
            }
        }
    }
    Error::check(issues)?;
    let rest: Vec<Objective> =
        objectives.iter().filter(|o| o.of != Goal::Carriers).cloned().collect();
    let Some(first) = rest.first() else { return Ok(nothing()) };
    let mut pools: Vec<Pool<'_>> = problems.iter().map(|p| Pool::new(p, first)).collect();
    let hunt = Hunt::new(beam, &problems, spacing);
    // all candidates at once: a bound, and the conflict where even they will not do
    let mut bound = 0.0_f64;
    for (problem, pool) in problems.iter().zip(&mut pools) {
        match pool.all(problem)? {
            Some(value) => bound = bound.max(value),
            None => {
                let conflict = Some(Box::new(problem.conflict()?));
                return Ok(Searched { conflict, ..nothing() });
            }
        }
    }
    let fewest_first = objectives.first().is_some_and(|o| o.of == Goal::Carriers);
    let mut by_number: Vec<Choice> = Vec::new();
    let mut last: Vec<usize> = Vec::new();
    let mut about = Vec::new();
    let first_number = usize::from(hunt.always.is_empty());
    for number in first_number..=at_most.min(hunt.carriers()) {
        let every = hunt.choices(number) <= TRIED;
        let (value, tied) = if every {
            hunt.every(number, &mut pools)?
        } else {
            hunt.exchanged(number, &last, &mut pools)?
        };
        let Some(ties) = value.map(|_| tied) else {
            about.push(tried_words(number, every));
            continue;
        };
        // where choices tie, the further objectives decide; too many ties are not all looked at
        let exact = every && (rest.len() < 2 || ties.len() < TIES);
        about.push(tried_words(number, exact));
        let ties = if rest.len() < 2 || ties.len() < 2 {
            ties
        } else {
            decided(beam, stages, candidates, &hunt, &problems, (ties, &rest))?
        };
        let mut best: Option<Choice> = None;
        for set in ties {
            let choice = settle(
                beam,
                stages,
                candidates,
                &hunt.members(&set, &problems),
                number,
                exact,
                &rest,
            )?;
            let Some(choice) = choice else { continue };
            if best.as_ref().is_none_or(|b| less(&choice.objectives, &b.objectives)) {
                last = set;
                best = Some(choice);
            }
        }
        by_number.extend(best);
        if fewest_first && !by_number.is_empty() {
            break;
        }
    }
    let mut best: Option<&Choice> = None;
    for choice in &by_number {
        if best.is_none_or(|b| less(&choice.objectives, &b.objectives)) {
            best = Some(choice);
        }
    }
    let best = best.cloned();
    let mut conflict = None;
    if best.is_none() {
        about.push("none of these will do; all candidates together would".to_owned());
        if let Some((chosen, reaches)) = nearest(&hunt, &problems, at_most)? {
            let chosen: Vec<Candidate> =
                chosen.iter().filter_map(|i| candidates.get(*i)).cloned().collect();
            let reference = problems.first().map(|p| p.reference);
            let names = chosen.iter().zip(reference.into_iter().cycle());
            let names: Vec<String> = names.map(|(c, r)| c.label_in(r.system)).collect();
            about.push(format!(
                "the nearest, {}, reaches {reaches:.6} of the reference",
                names.join(" and ")
            ));
            for stage in stages {
                let problem = Problem::new(beam, stage.reference, &chosen, stage.requirements)?;
                if let Answer::Conflict(found) = problem.optimum(&rest)? {
                    conflict = Some(found);
                    break;
                }
            }
        }
    }
    Ok(Searched { best, by_number, bound: Some(bound), conflict, about: about.join("; ") })
}

/// What was tried of a number, in words.
fn tried_words(number: usize, exact: bool) -> String {
    let how = if exact { "every choice tried" } else { "choices exchanged, not all tried" };
    format!("{number}: {how}")
}

/// Of sets that tie in the first objective the one with the best further ones.
fn decided(
    beam: &Beam,
    stages: &[Stage<'_>],
    candidates: &[Candidate],
    hunt: &Hunt,
    problems: &[Problem<'_>],
    (ties, objectives): (Vec<Vec<usize>>, &[Objective]),
) -> Result<Vec<Vec<usize>>, Error> {
    let mut best: Option<(Vec<f64>, Vec<usize>)> = None;
    'sets: for set in ties {
        let members = hunt.members(&set, problems);
        let chosen: Vec<Candidate> =
            members.iter().filter_map(|i| candidates.get(*i)).cloned().collect();
        let mut worst = vec![f64::NEG_INFINITY; objectives.len()];
        for stage in stages {
            let problem = Problem::new(beam, stage.reference, &chosen, stage.requirements)?;
            let Some(values) = problem.values(objectives)? else { continue 'sets };
            worst.iter_mut().zip(values).for_each(|(w, v)| *w = w.max(v));
        }
        if best.as_ref().is_none_or(|(b, _)| less(&worst, b)) {
            best = Some((worst, set));
        }
    }
    Ok(best.into_iter().map(|b| b.1).collect())
}

/// The choice that reaches most of the reference with all limits kept, and how much.
fn nearest(
    hunt: &Hunt,
    problems: &[Problem<'_>],
    at_most: usize,
) -> Result<Option<(Vec<usize>, f64)>, Error> {
    let mut pools: Vec<Pool<'_>> = problems.iter().map(Pool::reaching).collect();
    for number in (usize::from(hunt.always.is_empty())..=at_most.min(hunt.carriers())).rev() {
        let (value, tied) = if hunt.choices(number) <= TRIED {
            hunt.every(number, &mut pools)?
        } else {
            hunt.exchanged(number, &[], &mut pools)?
        };
        if let (Some(short), Some(set)) = (value, tied.first()) {
            return Ok(Some((hunt.members(set, problems), 1.0 - short)));
        }
    }
    Ok(None)
}

const fn nothing() -> Searched {
    Searched {
        best: None,
        by_number: Vec::new(),
        bound: None,
        conflict: None,
        about: String::new(),
    }
}

/// Whether one list of objectives is smaller than another, the first before the second.
pub(in crate::equivalent) fn less(a: &[f64], b: &[f64]) -> bool {
    for (a, b) in a.iter().zip(b) {
        if a.is_infinite() != b.is_infinite() {
            return a < b;
        }
        if (a - b).abs() > EQUAL * a.abs().max(b.abs()) {
            return a < b;
        }
    }
    false
}

/// Solves a choice with every objective.
fn settle(
    beam: &Beam,
    stages: &[Stage<'_>],
    candidates: &[Candidate],
    set: &[usize],
    number: usize,
    exact: bool,
    objectives: &[Objective],
) -> Result<Option<Choice>, Error> {
    let chosen: Vec<Candidate> = set.iter().filter_map(|i| candidates.get(*i)).cloned().collect();
    let mut answers = Vec::with_capacity(stages.len());
    let mut worst = vec![f64::NEG_INFINITY; objectives.len()];
    for stage in stages {
        let problem = Problem::new(beam, stage.reference, &chosen, stage.requirements)?;
        let Answer::Found(found) = problem.optimum(objectives)? else { return Ok(None) };
        worst.iter_mut().zip(&found.objectives).for_each(|(w, o)| *w = w.max(*o));
        answers.push(*found);
    }
    Ok(Some(Choice { number, candidates: set.to_vec(), objectives: worst, stages: answers, exact }))
}

/// Rows found so far for one stage and the first objective.
struct Pool<'p> {
    problem: &'p Problem<'p>,
    field: Field,
    program: Program,
    /// Coefficients of every unknown, row after row, scaled.
    a: Vec<f64>,
    b: Vec<f64>,
    e: Vec<f64>,
    source: Vec<Source>,
    row: Vec<f64>,
}

impl<'p> Pool<'p> {
    fn new(problem: &'p Problem<'p>, objective: &Objective) -> Self {
        let mut field = problem.field.clone();
        let program = problem.aim(&mut field, 0, objective);
        let (a, b, e, source) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
        Self { problem, field, program, a, b, e, source, row: Vec::new() }
    }

    /// What lacks of the reference is made small.
    fn reaching(problem: &'p Problem<'p>) -> Self {
        let mut own = Self::new(problem, &Objective::total());
        for stretch in &mut own.field.stretches {
            if let Source::Requirement(i) = stretch.source {
                let reach = problem.requirements.get(i);
                stretch.relaxed = matches!(reach, Some(Requirement::Reach(_)));
            }
        }
        own.program = Program { helper: true, ..Program::feasible(own.field.n) };
        own
    }

    /// All unknowns at once; least forces are left out, since not all need be used.
    fn all(&mut self, problem: &Problem<'_>) -> Result<Option<f64>, Error> {
        let mut seeds = Vec::new();
        let counts =
            |s: &crate::equivalent::solved::rows::Stretch| !matches!(s.source, Source::Least(_));
        let ended = exchange(&self.field, &self.program, problem.scale, &mut seeds, counts);
        for (index, s) in seeds {
            self.add(index, s);
        }
        Ok(match ended.map_err(|t| problem.trouble(t))? {
            Ended::Optimal(best) => Some(best.value(&self.program)),
            Ended::Infeasible(_) => None,
        })
    }

    fn add(&mut self, index: usize, s: f64) {
        let row = self.field.scaled_row((index, s), self.problem.scale, &mut self.row);
        let (Some((b, e, _)), Some(stretch)) = (row, self.field.stretches.get(index)) else {
            return;
        };
        self.a.extend(&self.row);
        self.b.push(b);
        self.e.push(e);
        self.source.push(stretch.source);
    }

    /// The first objective of a choice of unknowns, where it is below `under`.
    fn value(&mut self, set: &[usize], under: f64) -> Result<Option<f64>, Trouble> {
        let helper = self.program.helper;
        let scale = self.problem.scale;
        let of = |i: &usize| {
            if helper { 0.0 } else { self.program.cost.get(*i).copied().unwrap_or(1.0) }
        };
        let mut cost: Vec<f64> = set.iter().map(of).collect();
        cost.extend(helper.then_some(1.0));
        let mut simplex = Simplex::new(cost);
        let unit = if helper { self.program.unit } else { scale };
        let n = self.field.n;
        let counted = |source: &Source| !matches!(source, Source::Least(j) if !set.contains(j));
        let mut short: Vec<f64> = Vec::with_capacity(set.len() + 1);
        for _ in 0..400 {
            if let Outcome::Infeasible(_) = simplex.solve()? {
                return Ok(None);
            }
            let x = simplex.unknowns();
            let value = unit
                * if helper {
                    x.last().copied().unwrap_or(0.0)
                } else {
                    let costs =
                        set.iter().map(|i| self.program.cost.get(*i).copied().unwrap_or(1.0));
                    costs.zip(x).map(|(c, x)| c * x).sum()
                };
            if value > under * (1.0 + EQUAL) {
                return Ok(None);
            }
            let h = if helper { x.last().map_or(0.0, |x| x * unit) } else { 0.0 };
            // rows that are known come first: they cost a few products each
            let mut worst = (1e-10, None);
            let rows = self.a.chunks_exact(n).zip(&self.b).zip(&self.e).zip(&self.source);
            for (i, (((a, b), e), source)) in rows.enumerate() {
                let own = set.iter().zip(x).map(|(j, x)| a.get(*j).copied().unwrap_or(0.0) * x);
                let violation = b - own.sum::<f64>() - e * h;
                if violation > worst.0 && counted(source) {
                    worst = (violation, Some(i));
                }
            }
            if worst.1.is_none() {
                let mut p = vec![0.0; n];
                for (j, x) in set.iter().zip(x) {
                    if let Some(p) = p.get_mut(*j) {
                        *p = x.max(0.0) * scale;
                    }
                }
                let first = self.b.len();
                let mut found: Vec<(usize, f64)> = Vec::new();
                let largest = p.iter().fold(0.0_f64, |m, p| m.max(*p));
                for (i, stretch) in self.field.stretches.iter().enumerate() {
                    if counted(&stretch.source)
                        && !stretch.sleeps(largest)
                        && let Some((s, _)) = self.field.least(stretch, &p, h, 10.0 * MET)
                    {
                        found.push((i, s));
                    }
                }
                if found.is_empty() {
                    return Ok(Some(value));
                }
                for (i, s) in found {
                    self.add(i, s);
                }
                worst.1 = Some(first);
                // a row as good as known: rounding
                let a = self.a.get(first * n..(first + 1) * n).unwrap_or_default();
                let own: f64 =
                    set.iter().zip(x).map(|(j, x)| a.get(*j).copied().unwrap_or(0.0) * x).sum();
                let e = self.e.get(first).copied().unwrap_or(0.0);
                if self.b.get(first).copied().unwrap_or(0.0) - own - e * h <= 1e-11 {
                    return Ok(Some(value));
                }
            }
            let Some(i) = worst.1 else { return Ok(Some(value)) };
            let a = self.a.get(i * n..(i + 1) * n).unwrap_or_default();
            short.clear();
            short.extend(set.iter().map(|j| a.get(*j).copied().unwrap_or(0.0)));
            short.extend(helper.then(|| self.e.get(i).map_or(0.0, |e| e * unit)));
            simplex.add(&short, self.b.get(i).copied().unwrap_or(0.0));
        }
        Err(Trouble::Steps)
    }
}

/// The unknowns that may be chosen.
struct Hunt {
    /// Unknowns to choose from.
    free: Vec<usize>,
    /// Unknowns of any case.
    always: Vec<usize>,
    /// Whether two unknowns stand too close.
    close: Vec<Vec<bool>>,
    /// Carriers of each unknown.
    weight: Vec<usize>,
}

type Tied = (Option<f64>, Vec<Vec<usize>>);

impl Hunt {
    fn new(beam: &Beam, problems: &[Problem<'_>], spacing: Option<Length>) -> Self {
        let unknowns = problems.first().map_or(&[][..], |p| p.unknowns.as_slice());
        let candidates = problems.first().map_or(&[][..], |p| p.candidates);
        let slack = beam.length() * 1e-9;
        let spacing = spacing.unwrap_or(Length::ZERO);
        let members = |j: usize| {
            let members = unknowns.get(j).map_or(&[][..], |u| u.members.as_slice());
            members.iter().filter_map(|(i, _)| candidates.get(*i))
        };
        let always = |j: usize| unknowns.get(j).is_some_and(|u| u.always);
        let near = |a: usize, b: usize| {
            let stays = always(a) || always(b);
            members(a).any(|a| {
                members(b).any(|b| {
                    // what is there in any case stands where it was put
                    let spacing = (!stays).then_some(spacing);
                    let own = a.clear.max(b.clear);
                    let own = (own > Length::ZERO).then_some(own);
                    let clear = a.clear_to(b);
                    if a.one_of.is_some() && a.one_of == b.one_of {
                        return true;
                    }
                    [spacing, own].into_iter().flatten().any(|asked| clear < asked - slack)
                })
            })
        };
        let all = 0..unknowns.len();
        let (always, free): (Vec<usize>, Vec<usize>) = all.clone().partition(|j| always(*j));
        let close =
            all.clone().map(|a| all.clone().map(|b| a != b && near(a, b)).collect()).collect();
        let weight = unknowns.iter().map(|u| u.members.len()).collect();
        Self { free, always, close, weight }
    }

    /// How many carriers there are to choose from.
    fn carriers(&self) -> usize {
        self.size(&self.free)
    }

    /// How many choices of so many there are.
    fn choices(&self, number: usize) -> u64 {
        let n = u64::try_from(self.free.len()).unwrap_or(u64::MAX);
        let k = u64::try_from(number).unwrap_or(u64::MAX);
        let mut count = 1_u64;
        for i in 0..k {
            count = count.saturating_mul(n.saturating_sub(i)) / (i + 1);
        }
        count
    }

    fn fits(&self, set: &[usize], next: usize) -> bool {
        let close = self.close.get(next);
        let apart = |j: &usize| close.and_then(|c| c.get(*j)).is_none_or(|c| !c);
        set.iter().chain(&self.always).all(apart)
    }

    /// The set with those of any case, in order.
    fn whole(&self, set: &[usize]) -> Vec<usize> {
        let mut all: Vec<usize> = set.iter().chain(&self.always).copied().collect();
        all.sort_unstable();
        all
    }

    /// The candidates of a set of unknowns.
    fn members(&self, set: &[usize], problems: &[Problem<'_>]) -> Vec<usize> {
        let unknowns = problems.first().map_or(&[][..], |p| p.unknowns.as_slice());
        let mut all: Vec<usize> = self
            .whole(set)
            .iter()
            .filter_map(|j| unknowns.get(*j))
            .flat_map(|u| u.members.iter().map(|m| m.0))
            .collect();
        all.sort_unstable();
        all
    }

    /// The value of a set over all stages: that of the stage that asks most.
    fn value(
        &self,
        set: &[usize],
        under: f64,
        pools: &mut [Pool<'_>],
    ) -> Result<Option<f64>, Error> {
        let whole = self.whole(set);
        let mut worst = f64::NEG_INFINITY;
        for pool in pools {
            let value = pool.value(&whole, under).map_err(|t| pool.problem.trouble(t))?;
            let Some(value) = value else { return Ok(None) };
            worst = worst.max(value);
        }
        Ok(Some(worst))
    }

    /// Tries every choice of so many carriers; the answer is the best value and every choice that has it.
    fn every(&self, number: usize, pools: &mut [Pool<'_>]) -> Result<Tied, Error> {
        let mut best = f64::INFINITY;
        let mut tied: Vec<Vec<usize>> = Vec::new();
        let mut set: Vec<usize> = Vec::new();
        self.deeper(number, 0, &mut set, &mut |set| {
            if let Some(value) = self.value(set, best, pools)? {
                if best.is_infinite() || best - value > EQUAL * best.abs().max(value.abs()) {
                    tied.clear();
                    best = value;
                }
                best = best.min(value);
                if tied.len() < TIES {
                    tied.push(set.to_vec());
                }
            }
            Ok(())
        })?;
        Ok((best.is_finite().then_some(best), tied))
    }

    fn deeper(
        &self,
        left: usize,
        from: usize,
        set: &mut Vec<usize>,
        visit: &mut impl FnMut(&[usize]) -> Result<(), Error>,
    ) -> Result<(), Error> {
        if left == 0 {
            return visit(set);
        }
        for (i, j) in self.free.iter().enumerate().skip(from) {
            let weight = self.weight.get(*j).copied().unwrap_or(1);
            if weight <= left && self.fits(set, *j) {
                set.push(*j);
                self.deeper(left - weight, i + 1, set, visit)?;
                set.pop();
            }
        }
        Ok(())
    }

    /// The best exchange of two for two, where that is better and there are not too many.
    fn paired(
        &self,
        set: &[usize],
        best: &mut f64,
        pools: &mut [Pool<'_>],
    ) -> Result<Option<Vec<usize>>, Error> {
        let others: Vec<usize> = self.free.iter().copied().filter(|j| !set.contains(j)).collect();
        let pairs = |n: usize| n * n.saturating_sub(1) / 2;
        let weight = |j: &usize| self.weight.get(*j).copied().unwrap_or(1);
        if pairs(set.len()).saturating_mul(pairs(others.len())) > PAIRS {
            return Ok(None);
        }
        let mut better = None;
        for (i, a) in set.iter().enumerate() {
            for b in set.iter().skip(i + 1) {
                let kept: Vec<usize> = set.iter().copied().filter(|j| j != a && j != b).collect();
                for (k, c) in others.iter().enumerate() {
                    if !self.fits(&kept, *c) {
                        continue;
                    }
                    let mut one = kept.clone();
                    one.push(*c);
                    for d in others.iter().skip(k + 1) {
                        if weight(c) + weight(d) > weight(a) + weight(b) || !self.fits(&one, *d) {
                            continue;
                        }
                        let mut other = one.clone();
                        other.push(*d);
                        if let Some(value) = self.value(&other, *best, pools)?
                            && value < *best * (1.0 - EQUAL)
                        {
                            *best = value;
                            better = Some(other);
                        }
                    }
                }
            }
        }
        Ok(better)
    }

    /// From several starts: exchanges one or two as long as that helps; the best of all.
    fn exchanged(
        &self,
        number: usize,
        last: &[usize],
        pools: &mut [Pool<'_>],
    ) -> Result<Tied, Error> {
        let mut best = f64::INFINITY;
        let mut found: Vec<Vec<usize>> = Vec::new();
        // the best of one fewer and the best to add; then sets spread over all, or over the middle
        let mut starts = vec![last.to_vec()];
        let n = self.free.len();
        for (from, to) in [(0, n), (n / 6, n - n / 6), (n / 3, n), (0, n - n / 3)] {
            let mut set: Vec<usize> = Vec::new();
            for i in 0..number {
                let place = from + ((2 * i + 1) * (to - from)) / (2 * number);
                let own = self.free.get(place).copied();
                let fits = |j: &usize| !set.contains(j) && self.fits(&set, *j);
                if let Some(j) = own.filter(fits)
                    && self.size(&set) + self.weight.get(j).copied().unwrap_or(1) <= number
                {
                    set.push(j);
                }
            }
            starts.push(set);
        }
        for start in starts {
            let Some((value, mut set)) = self.improved(number, start, pools)? else { continue };
            set.sort_unstable();
            if found.is_empty() || best - value > EQUAL * best.abs().max(value.abs()) {
                best = value;
                found = vec![set];
            } else if (value - best).abs() <= EQUAL * best.abs().max(value.abs())
                && !found.contains(&set)
            {
                found.push(set);
            }
        }
        Ok((best.is_finite().then_some(best), found))
    }

    /// The carriers of a set.
    fn size(&self, set: &[usize]) -> usize {
        set.iter().map(|j| self.weight.get(*j).copied().unwrap_or(1)).sum()
    }

    /// Fills a set up with the best to add, then exchanges one or two as long as that helps.
    fn improved(
        &self,
        number: usize,
        mut set: Vec<usize>,
        pools: &mut [Pool<'_>],
    ) -> Result<Option<(f64, Vec<usize>)>, Error> {
        let mut best = self.value(&set, f64::INFINITY, pools)?.unwrap_or(f64::MAX);
        while self.size(&set) < number {
            let mut found: Option<(f64, usize)> = None;
            for j in &self.free {
                let weight = self.weight.get(*j).copied().unwrap_or(1);
                if set.contains(j) || self.size(&set) + weight > number || !self.fits(&set, *j) {
                    continue;
                }
                let mut more = set.clone();
                more.push(*j);
                let value = self.value(&more, f64::INFINITY, pools)?.unwrap_or(f64::MAX);
                if found.is_none_or(|(v, _)| value < v) {
                    found = Some((value, *j));
                }
            }
            let Some((value, j)) = found else { break };
            set.push(j);
            best = value;
        }
        loop {
            let mut better: Option<Vec<usize>> = None;
            for i in 0..set.len() {
                for j in &self.free {
                    let mut other = set.clone();
                    other.remove(i);
                    if other.contains(j) || !self.fits(&other, *j) {
                        continue;
                    }
                    other.push(*j);
                    if self.size(&other) <= number
                        && let Some(value) = self.value(&other, best, pools)?
                        && value < best * (1.0 - EQUAL)
                    {
                        best = value;
                        better = Some(other);
                    }
                }
            }
            if better.is_none() {
                better = self.paired(&set, &mut best, pools)?;
            }
            match better {
                Some(other) => set = other,
                None => break,
            }
        }
        Ok((best < f64::MAX).then_some((best, set)))
    }
}
