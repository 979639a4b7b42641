//! Rows come where they are violated most, until none is.

use super::rows::{Field, Stretch};
use super::simplex::{LARGEST, Outcome, Simplex, Trouble};

/// What is made small over a field: costs of the unknowns, or a helper that relaxes some rows.
#[derive(Clone, Debug)]
pub(in crate::equivalent) struct Program {
    /// Costs of the unknowns.
    pub(in crate::equivalent) cost: Vec<f64>,
    /// Whether the helper is the objective.
    pub(in crate::equivalent) helper: bool,
    /// A value of the helper of usual size: the scale of forces where it is a force, else one.
    pub(in crate::equivalent) unit: f64,
}

impl Program {
    /// Only whether the rows can be met.
    pub(in crate::equivalent) fn feasible(n: usize) -> Self {
        Self { cost: vec![0.0; n], helper: false, unit: 1.0 }
    }
}

/// A row that came: its stretch and the place in it.
pub(in crate::equivalent) type Seed = (usize, f64);

/// The end of an exchange. Multipliers are in real units and name rows by their seeds.
#[derive(Clone, Debug)]
pub(in crate::equivalent) enum Ended {
    /// The best unknowns.
    Optimal(Best),
    /// A contradiction.
    Infeasible(Vec<(Seed, f64)>),
}

/// The best unknowns.
#[derive(Clone, Debug)]
pub(in crate::equivalent) struct Best {
    /// N.
    pub(in crate::equivalent) p: Vec<f64>,
    pub(in crate::equivalent) helper: f64,
    pub(in crate::equivalent) multipliers: Vec<(Seed, f64)>,
    /// Whether other unknowns may be as good.
    pub(in crate::equivalent) degenerate: bool,
}

impl Best {
    /// The objective: the helper, or the costs.
    pub(in crate::equivalent) fn value(&self, program: &Program) -> f64 {
        if program.helper {
            return self.helper;
        }
        self.p.iter().zip(&program.cost).map(|(p, c)| p * c).sum()
    }
}

/// A row violated by less than this part of its size is met.
pub(in crate::equivalent) const MET: f64 = 1e-11;
const ROUNDS: usize = 300;

/// Scales rows and unknowns, and keeps what each row stands for.
struct Table<'f> {
    field: &'f Field,
    program: &'f Program,
    /// N an unknown.
    scale: f64,
    simplex: Simplex,
    seeds: Vec<Seed>,
    /// What each row was divided by.
    divided: Vec<f64>,
    a: Vec<f64>,
}

impl<'f> Table<'f> {
    fn new(field: &'f Field, program: &'f Program, scale: f64, seeds: usize) -> Self {
        let mut cost = program.cost.clone();
        if program.helper {
            cost.iter_mut().for_each(|c| *c = 0.0);
            cost.push(1.0);
        }
        Self {
            field,
            program,
            scale,
            simplex: Simplex::new(cost),
            seeds: Vec::with_capacity(seeds + 16),
            divided: Vec::with_capacity(seeds + 16),
            a: Vec::with_capacity(field.n + 1),
        }
    }

    fn add(&mut self, (index, s): Seed) {
        let row = self.field.scaled_row((index, s), self.scale, &mut self.a);
        let Some((b, e, size)) = row else { return };
        if self.program.helper {
            self.a.push(e * self.program.unit);
        }
        self.simplex.add(&self.a, b);
        self.seeds.push((index, s));
        self.divided.push(size);
    }

    fn unknowns(&self, p: &mut Vec<f64>) -> f64 {
        p.clear();
        p.extend(self.simplex.unknowns().iter().take(self.field.n).map(|x| x * self.scale));
        if self.program.helper {
            self.simplex.unknowns().last().map_or(0.0, |x| x * self.program.unit)
        } else {
            0.0
        }
    }

    fn real(&self, multipliers: &[(usize, f64)], k: f64) -> Vec<(Seed, f64)> {
        let real =
            |(i, y): &(usize, f64)| Some((*self.seeds.get(*i)?, y * k / self.divided.get(*i)?));
        multipliers.iter().filter_map(real).collect()
    }

    /// Goes on until no row of the field is violated; `p` holds the unknowns then. The answer is the
    /// proof where there are none.
    fn settle(
        &mut self,
        p: &mut Vec<f64>,
        seeds: &mut Vec<Seed>,
        counts: &impl Fn(&Stretch) -> bool,
        refined: bool,
    ) -> Result<Option<Vec<(Seed, f64)>>, Trouble> {
        let mut found: Vec<(Seed, f64)> = Vec::new();
        let mut fresh = refined;
        for _ in 0..ROUNDS {
            if let Outcome::Infeasible(ray) = self.simplex.solve()? {
                return Ok(Some(self.real(&ray, 1.0)));
            }
            let helper = self.unknowns(p);
            found.clear();
            let mut worst = 0.0_f64;
            let largest = p.iter().fold(0.0_f64, |m, p| m.max(*p));
            for (i, stretch) in self.field.stretches.iter().enumerate() {
                if counts(stretch)
                    && !stretch.sleeps(largest)
                    && let Some((s, slack)) = self.field.least(stretch, p, helper, MET)
                {
                    let violation = -slack / stretch.size;
                    worst = worst.max(violation);
                    found.push(((i, s), violation));
                }
            }
            let last = self.simplex.rows();
            for (seed, violation) in &found {
                let known = |(i, s): &Seed| {
                    let length = self.field.stretches.get(*i).map_or(0.0, |s| s.length);
                    *i == seed.0 && (s - seed.1).abs() <= 1e-13 * length
                };
                if *violation >= 0.05 * worst && !self.seeds.iter().any(known) {
                    self.add(*seed);
                    seeds.push(*seed);
                }
            }
            if self.simplex.rows() > last {
                fresh = refined;
                continue;
            }
            if !fresh {
                // what is left is rounding: the verifier has the last word
                return Ok(None);
            }
            self.simplex.settle()?;
            fresh = false;
        }
        Err(Trouble::Steps)
    }
}

/// Solves a program over the stretches that count; `seeds` are rows to begin with, and take up
/// those that come.
pub(in crate::equivalent) fn exchange(
    field: &Field,
    program: &Program,
    scale: f64,
    seeds: &mut Vec<Seed>,
    counts: impl Fn(&Stretch) -> bool,
) -> Result<Ended, Trouble> {
    let mut table = Table::new(field, program, scale, seeds.len());
    for seed in seeds.iter() {
        if field.stretches.get(seed.0).is_some_and(&counts) {
            table.add(*seed);
        }
    }
    let mut p = Vec::with_capacity(field.n);
    if let Some(ray) = table.settle(&mut p, seeds, &counts, true)? {
        return Ok(Ended::Infeasible(ray));
    }
    let helper = table.unknowns(&mut p);
    let k = if program.helper { program.unit } else { scale };
    Ok(Ended::Optimal(Best {
        multipliers: table.real(&table.simplex.multipliers(), k),
        degenerate: table.simplex.degenerate(),
        helper,
        p: p.iter().map(|p| if *p <= 1e-13 * scale { 0.0 } else { *p }).collect(),
    }))
}

/// The least and the largest value of some unknowns, with what they are now, while every row holds; a
/// largest without an end is left out.
pub(in crate::equivalent) fn ranges(
    field: &Field,
    cost: &[f64],
    scale: f64,
    seeds: &mut Vec<Seed>,
    which: &[(usize, f64)],
) -> Vec<Option<(f64, Option<f64>)>> {
    let program = Program { cost: cost.to_vec(), helper: false, unit: 1.0 };
    let all = |_: &Stretch| true;
    let mut p = Vec::with_capacity(field.n);
    // what cannot be settled is not said
    let begun = |p: &mut Vec<f64>, seeds: &mut Vec<Seed>| {
        let mut table = Table::new(field, &program, scale, seeds.len());
        seeds.iter().for_each(|seed| table.add(*seed));
        matches!(table.settle(p, seeds, &all, false), Ok(None)).then_some(table)
    };
    let mut table = begun(&mut p, seeds);
    let mut found = Vec::with_capacity(which.len());
    for (j, now) in which {
        let unit = |value: f64| -> Vec<f64> {
            (0..field.n).map(|i| if i == *j { value } else { 0.0 }).collect()
        };
        let mut ends = |table: &mut Table<'_>, seeds: &mut Vec<Seed>| {
            let mut end = |table: &mut Table<'_>, value: f64| -> Option<f64> {
                table.simplex.turn(unit(value)).ok()?;
                let settled = table.settle(&mut p, seeds, &all, false);
                matches!(settled, Ok(None)).then(|| p.get(*j).map_or(0.0, |p| p.max(0.0)))
            };
            // none is below zero
            let low = if *now > 0.0 { end(table, 1.0)? } else { 0.0 };
            // a bound of its own, so that there is an end
            table.simplex.add(&unit(-1.0), -LARGEST);
            table.seeds.push((usize::MAX, 0.0));
            table.divided.push(1.0);
            let high = end(table, -1.0)?;
            Some((low, (high < 0.99 * LARGEST * scale).then_some(high.max(low))))
        };
        let range = table.as_mut().and_then(|table| ends(table, seeds));
        if range.is_none() {
            table = begun(&mut p, seeds);
        }
        found.push(range);
    }
    found
}
