//! Forces that are uncertain: every row holds by so many standard uncertainties.
//!
//! The force of unknown j has the relative standard uncertainty `u_j`; unknowns are independent, and
//! candidates on one pressure source are one unknown, so their common gauge error adds linearly. A row
//! `a·p ≥ b` becomes `a·p − k ‖(a_j u_j p_j)‖ ≥ b`, a second-order cone. Law of propagation of
//! uncertainty, JCGM 100:2008 5.1.2.

use clarabel::algebra::CscMatrix;
use clarabel::solver::{
    DefaultSettings, DefaultSolver, IPSolver, NonnegativeConeT, SecondOrderConeT, SolverStatus,
    SupportedConeT,
};

use super::problem::Problem;
use crate::beam::Beam;
use crate::beam::Shape;
use crate::equivalent::asked::candidate::{Candidate, held, loads};
use crate::equivalent::asked::objective::{Goal, Objective};
use crate::equivalent::asked::reference::Reference;
use crate::equivalent::asked::requirement::Requirement;
use crate::equivalent::checked::verify::confirm_response;
use crate::equivalent::solved::rows::Stretch;
use crate::equivalent::solved::simplex::Trouble;
use crate::error::{Error, Issue, slug};
use crate::units::{Force, Net};

/// Forces that meet every requirement in spite of their uncertainty.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct Assured {
    /// The forces to be set, in the order of the candidates, on one member unit.
    pub forces: Vec<Net<Force>>,
    /// The objective: the sum of the forces each times its cost, or the largest force, N.
    pub objective: f64,
    /// The largest violation of a row with its uncertainty, over the largest reference: a bound by
    /// subdivision.
    pub violation: f64,
}

/// So many standard uncertainties are kept clear of at the most (library rule).
const MOST_SPREADS: f64 = 10.0;
const ROUNDS: usize = 60;
/// A row violated by less than this part of its size is met; the cone solver ends at about 1e-9.
const MET: f64 = 1e-7;

/// Finds forces that meet every requirement by `k` standard uncertainties, with the least sum or the
/// least largest force. `u` holds the relative standard uncertainty of each candidate; the first of a
/// pressure source counts for it. Nothing where none do.
///
/// # Errors
/// Every problem of candidates and requirements; uncertainties below zero or not one a candidate;
/// another objective than total or peak; `equivalent.solver`.
pub fn assured(
    beam: &Beam,
    reference: &Reference,
    candidates: &[Candidate],
    requirements: &[Requirement],
    objective: &Objective,
    (u, k): (&[f64], f64),
) -> Result<Option<Assured>, Error> {
    let mut issues = Vec::new();
    // a force is known to itself at the worst
    let fits = |u: &f64| (0.0..=1.0).contains(u);
    if u.len() != candidates.len() || !u.iter().all(fits) {
        let message = match u.iter().find(|u| !fits(u)) {
            Some(wrong) => format!("an uncertainty of {wrong}"),
            None => format!("{} uncertainties for {} candidates", u.len(), candidates.len()),
        };
        let issue = Issue::new(slug::EQUIVALENT_DEVIATION, "u", message);
        issues.push(issue.limit("one of 0 to 1 a candidate"));
    }
    if !(0.0..=MOST_SPREADS).contains(&k) {
        let message = "so many uncertainties cannot be";
        let issue = Issue::new(slug::EQUIVALENT_DEVIATION, "k", message).value(k);
        issues.push(issue.limit(format!("0 to {MOST_SPREADS}")));
    }
    if !matches!(objective.of, Goal::Total | Goal::Peak) {
        let issue = Issue::new(slug::EQUIVALENT_OBJECTIVE, "objective", objective.words());
        issues.push(issue.limit("total, peak"));
    }
    let problem = Problem::checked(beam, reference, candidates, requirements, issues)?;
    let of = |j: &crate::equivalent::asked::candidate::Unknown| {
        j.members.first().and_then(|m| u.get(m.0)).copied().unwrap_or(0.0)
    };
    let spread: Vec<f64> = problem.unknowns.iter().map(|j| k * of(j)).collect();
    let peak = objective.of == Goal::Peak;
    let mut rows: Vec<(Vec<f64>, f64)> = Vec::new();
    let mut p = vec![0.0; problem.field.n];
    for _ in 0..ROUNDS {
        let mut violation = 0.0_f64;
        let before = rows.len();
        for stretch in &problem.field.stretches {
            let (s, slack) = least(&problem, stretch, &p, &spread);
            let relative = -slack / stretch.size;
            violation = violation.max(relative);
            if relative > MET {
                let mut a = Vec::new();
                let (b, _) = problem.field.row(stretch, s, &mut a);
                rows.push((a, b));
            }
        }
        if rows.len() == before {
            let forces = problem.forces(&p);
            let response = held(beam).response(&loads(candidates, &forces))?;
            problem.agreed(&confirm_response(
                &response,
                reference,
                requirements,
                candidates,
                &forces,
            ))?;
            let costs = problem.unknowns.iter().map(|u| u.cost);
            let total = costs.zip(&p).map(|(c, p)| c * p).sum();
            let largest = forces.iter().map(|f| f.0.si()).fold(0.0, f64::max);
            let objective = if peak { largest } else { total };
            return Ok(Some(Assured { forces, objective, violation: violation.max(0.0) }));
        }
        match solve(&problem, &rows, &spread, peak)? {
            Some(found) => p = found,
            None => return Ok(None),
        }
    }
    Err(problem.trouble(Trouble::Steps))
}

/// The least slack of a row with its uncertainty over its stretch, by subdivision, and where.
fn least(problem: &Problem<'_>, stretch: &Stretch, p: &[f64], spread: &[f64]) -> (f64, f64) {
    let (slack, parts) = problem.field.shapes(stretch, p);
    let spread: Vec<f64> = spread.iter().zip(p).map(|(k, p)| k * p).collect();
    let mut best = (0.0, f64::INFINITY);
    bound(&slack, &parts, &spread, (0.0, stretch.length), 1e-9 * stretch.size, 60, &mut best);
    best
}

fn bound(
    slack: &Shape,
    parts: &[Shape],
    spread: &[f64],
    (from, to): (f64, f64),
    tolerance: f64,
    depth: u32,
    best: &mut (f64, f64),
) {
    let norm = |size: &dyn Fn(&Shape) -> f64| {
        parts.iter().zip(spread).map(|(a, k)| (size(a) * k).powi(2)).sum::<f64>().sqrt()
    };
    let possible = slack.least() - norm(&|a| a.most().abs().max(a.least().abs()));
    if possible >= best.1 - tolerance {
        return;
    }
    let ends = [
        (from, slack.first() - norm(&|a| a.first())),
        (f64::midpoint(from, to), slack.middle() - norm(&|a| a.middle())),
        (to, slack.last() - norm(&|a| a.last())),
    ];
    for end in ends {
        if end.1 < best.1 {
            *best = end;
        }
    }
    if depth == 0 || to - from <= 0.0 || possible >= best.1 - tolerance {
        return;
    }
    let (a, b) = slack.halves();
    let halves: Vec<(Shape, Shape)> = parts.iter().map(Shape::halves).collect();
    let middle = f64::midpoint(from, to);
    let left: Vec<Shape> = halves.iter().map(|h| h.0).collect();
    let right: Vec<Shape> = halves.iter().map(|h| h.1).collect();
    bound(&a, &left, spread, (from, middle), tolerance, depth - 1, best);
    bound(&b, &right, spread, (middle, to), tolerance, depth - 1, best);
}

/// One cone program over the rows so far.
fn solve(
    problem: &Problem<'_>,
    rows: &[(Vec<f64>, f64)],
    spread: &[f64],
    peak: bool,
) -> Result<Option<Vec<f64>>, Error> {
    let n = problem.field.n;
    let width = n + usize::from(peak);
    let mut q: Vec<f64> =
        problem.unknowns.iter().map(|u| if peak { 0.0 } else { u.cost }).collect();
    let largest = q.iter().fold(f64::MIN_POSITIVE, |m, c| m.max(*c));
    q.iter_mut().for_each(|c| *c /= largest);
    q.extend(peak.then_some(1.0));
    // A x + s = b with s in the cones
    let mut columns: Vec<Vec<(usize, f64)>> = vec![Vec::new(); width];
    let mut right: Vec<f64> = Vec::new();
    let mut cones: Vec<SupportedConeT<f64>> = Vec::new();
    let put = |columns: &mut Vec<Vec<(usize, f64)>>, j: usize, i: usize, value: f64| {
        if let Some(column) = columns.get_mut(j)
            && value.abs() > 0.0
        {
            column.push((i, value));
        }
    };
    for j in 0..n {
        put(&mut columns, j, right.len(), -1.0);
        right.push(0.0);
    }
    let mut plain = n;
    if peak {
        for (j, unknown) in problem.unknowns.iter().enumerate() {
            for (_, part) in &unknown.members {
                put(&mut columns, j, right.len(), *part);
                put(&mut columns, n, right.len(), -1.0);
                right.push(0.0);
                plain += 1;
            }
        }
    }
    cones.push(NonnegativeConeT(plain));
    for (a, b) in rows {
        let size =
            a.iter().fold(b.abs(), |m, a| m.max(a.abs() * problem.scale)).max(f64::MIN_POSITIVE);
        let k = problem.scale / size;
        for (j, a) in a.iter().enumerate() {
            put(&mut columns, j, right.len(), -a * k);
        }
        right.push(-b / size);
        for (j, (a, u)) in a.iter().zip(spread).enumerate() {
            put(&mut columns, j, right.len(), -a * u * k);
            right.push(0.0);
        }
        cones.push(SecondOrderConeT(n + 1));
    }
    let mut starts = vec![0];
    let (mut indices, mut values) = (Vec::new(), Vec::new());
    for column in &columns {
        for (i, value) in column {
            indices.push(*i);
            values.push(*value);
        }
        starts.push(indices.len());
    }
    let a = CscMatrix::new(right.len(), width, starts, indices, values);
    let none = CscMatrix::zeros((width, width));
    let settings = DefaultSettings {
        verbose: false,
        tol_gap_abs: 1e-10,
        tol_gap_rel: 1e-10,
        tol_feas: 1e-10,
        ..DefaultSettings::default()
    };
    let solver = DefaultSolver::new(&none, &q, &a, &right, &cones, settings);
    let mut solver = solver.map_err(|_| problem.trouble(Trouble::Singular))?;
    solver.solve();
    match solver.solution.status {
        SolverStatus::Solved | SolverStatus::AlmostSolved => {
            let x = solver.solution.x.iter().take(n);
            Ok(Some(x.map(|x| (x * problem.scale).max(0.0)).collect()))
        }
        SolverStatus::PrimalInfeasible | SolverStatus::AlmostPrimalInfeasible => Ok(None),
        _ => Err(problem.trouble(Trouble::Steps)),
    }
}
