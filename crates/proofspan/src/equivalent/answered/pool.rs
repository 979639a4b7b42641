//! The rows found so far for one stage: what one choice taught serves the next.

use super::problem::{EQUAL, Problem};
use crate::equivalent::asked::objective::Objective;
use crate::equivalent::asked::requirement::Requirement;
use crate::equivalent::solved::exchange::{Ended, MET, Program, exchange};
use crate::equivalent::solved::rows::{Field, Source, Stretch};
use crate::equivalent::solved::simplex::{Outcome, Simplex, Trouble};
use crate::error::Error;

/// Rows found so far for one stage and the first objective.
pub(super) struct Pool<'p> {
    pub(super) problem: &'p Problem<'p>,
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
    pub(super) fn new(problem: &'p Problem<'p>, objective: &Objective) -> Self {
        let mut field = problem.field.clone();
        let program = problem.aim(&mut field, 0, objective);
        let (a, b, e, source) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
        Self { problem, field, program, a, b, e, source, row: Vec::new() }
    }

    /// What lacks of the reference is made small.
    pub(super) fn reaching(problem: &'p Problem<'p>) -> Self {
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
    pub(super) fn all(&mut self, problem: &Problem<'_>) -> Result<Option<f64>, Error> {
        let mut seeds = Vec::new();
        let counts = |s: &Stretch| !matches!(s.source, Source::Least(_));
        let ended = exchange(&self.field, &self.program, problem.scale, &mut seeds, counts);
        for (index, s) in seeds {
            self.add(index, s);
        }
        Ok(match ended.map_err(|t| problem.trouble(t))? {
            Ended::Optimal(best) => Some(best.value(&self.program)),
            Ended::Infeasible(_) => None,
        })
    }

    pub(super) fn add(&mut self, index: usize, s: f64) {
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
    pub(super) fn value(&mut self, set: &[usize], under: f64) -> Result<Option<f64>, Trouble> {
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
