//! Why no forces are better, or why none will do: numbers that anybody can add up.
//!
//! Every row says `a·p ≥ b`. With the multipliers `y` of the rows, none below zero, forces that are
//! not negative cost at least `Σ y b`, because `Σ y a ≤ c` entry by entry. Where the costs are all
//! zero and `Σ y b` is above zero, the rows contradict each other. Weak duality of linear
//! programming; Farkas' lemma.

use crate::beam::Side;
use crate::formula::{Recorder as _, Working};
use crate::units::{Length, Message, Said};

crate::laws! {
    /// What a row counts.
    pub fn row_counts(multiplier: f64 as "y", b: f64 as "b") -> f64 as "y b" = multiplier * b;
    source "weak duality: rows a p >= b, each times its multiplier; SI";
    /// The bound with one row more.
    pub fn bound_more(sum: f64 as "sum", one: f64 as "y b") -> f64 as "sum" = sum + one;
    source "no forces cost less, since the multipliers pay no unknown more than it costs";
    /// What an unknown costs.
    pub fn unknown_costs(cost: f64 as "c", value: f64 as "p") -> f64 as "c p" = cost * value;
    source "cost of the objective; SI";
    /// The cost with one unknown more.
    pub fn cost_more(sum: f64 as "cost", one: f64 as "c p") -> f64 as "cost" = sum + one;
    source "cost of the objective";
}

crate::answer! {
    /// A row of a certificate: `a·p ≥ b`.
    pub struct CertificateRow {
        /// Whose row it is, in words.
        what: String,
        /// The place; nothing for a capacity or a reaction.
        at: Option<Length>,
        /// The side of the place.
        side: Option<Side>,
        /// The term that asks.
        term: Option<String>,
        /// The unit of the right side.
        unit: String,
        /// The coefficients, one an unknown: forces in N, then the helper of an objective.
        a: Vec<f64>,
        /// The right side, in the SI unit of the row.
        b: f64,
        /// The multiplier, above zero.
        multiplier: f64,
    }
}

crate::answer! {
    /// Rows with multipliers.
    ///
    /// Anybody can check one in exact arithmetic. This script takes the certificate as Python or as
    /// JSON, and a force that nobody would apply, in newton; the least cost of all smaller forces is at
    /// least what it returns, and in a contradiction anything above zero is the proof:
    ///
    /// ```python
    /// from fractions import Fraction as F
    ///
    /// def bound(certificate, most):
    ///     rows = certificate["rows"]
    ///     assert all(row["multiplier"] >= 0 for row in rows)
    ///     total = sum((F(row["multiplier"]) * F(row["b"]) for row in rows), F(0))
    ///     for j, cost in enumerate(certificate["cost"]):
    ///         pays = sum(F(row["multiplier"]) * F(row["a"][j]) for row in rows)
    ///         total -= max(pays - F(cost), F(0)) * F(most)
    ///     return total
    /// ```
    pub struct Certificate {
        /// What it proves, in words.
        about: String,
        /// The unknowns: forces in N, then the helper of an objective.
        unknowns: Vec<String>,
        /// Their values; empty where there are none.
        values: Vec<f64>,
        /// Their costs; zeros in a contradiction.
        cost: Vec<f64>,
        /// The rows with a multiplier that counts.
        rows: Vec<CertificateRow>,
        /// The cost of the values; nothing in a contradiction.
        objective: Option<f64>,
        /// `Σ y b`: no forces cost less; above zero in a contradiction.
        bound: f64,
        /// Objective less bound, relative to the larger.
        gap: Option<f64>,
    }
}

impl Certificate {
    /// The bound and the cost added up with a pencil, row by row and force by force.
    pub(in crate::equivalent) fn work(&self, working: &mut Working, path: &str) {
        working.about(|| self.about.clone());
        let since = working.items.len();
        let mut bound: Option<f64> = None;
        for row in &self.rows {
            working.about(|| {
                let at = row.at.map_or_else(|| "everywhere".into(), Said::from);
                Message::new("{}, at {}, in {}", [(&row.what).into(), at, (&row.unit).into()])
            });
            let one = row_counts(working, row.multiplier, row.b);
            bound = Some(bound.map_or(one, |sum| bound_more(working, sum, one)));
        }
        let mut cost: Option<f64> = None;
        for ((name, c), p) in self.unknowns.iter().zip(&self.cost).zip(&self.values) {
            if c.abs() <= 0.0 {
                continue;
            }
            working.about(|| name.clone());
            let one = unknown_costs(working, *c, *p);
            cost = Some(cost.map_or(one, |sum| cost_more(working, sum, one)));
        }
        let found = [("bound", bound, Some(self.bound)), ("objective", cost, self.objective)];
        for (name, computed, answer) in found {
            if let (Some(computed), Some(answer)) = (computed, answer) {
                let size = computed.abs().max(answer.abs());
                let what = format!("{path}.{name}");
                working.claim(
                    what,
                    since,
                    crate::units::Ratio::from(computed).into(),
                    answer,
                    size,
                );
            }
        }
    }
}

/// A row that adds less than this part of the heaviest is rounding of the solver.
const NOISE: f64 = 1e-10;

impl Certificate {
    /// The certificate of these rows; rows that add nothing but rounding are left out.
    pub(in crate::equivalent) fn of(
        about: String,
        unknowns: Vec<String>,
        values: Vec<f64>,
        cost: Vec<f64>,
        mut rows: Vec<CertificateRow>,
    ) -> Self {
        let largest = values.iter().fold(0.0_f64, |m, p| m.max(p.abs()));
        let weight = |r: &CertificateRow| {
            let size = r.a.iter().fold(0.0_f64, |m, a| m.max(a.abs()));
            r.multiplier * r.b.abs().max(size * largest)
        };
        let heaviest = rows.iter().map(weight).fold(0.0, f64::max);
        // a row that lowers what an unknown without cost is paid cannot go
        let needed = |r: &CertificateRow| r.a.iter().zip(&cost).any(|(a, c)| *a < 0.0 && *c <= 0.0);
        let rounding = |r: &CertificateRow| if needed(r) { 1e-15 } else { NOISE };
        let before = rows.len();
        // in a contradiction every row counts
        rows.retain(|r| values.is_empty() || weight(r) > rounding(r) * heaviest);
        // all multipliers together a hair smaller where the helper alone, or an unknown whose rows went,
        // would be paid more than it costs: the bound stays one
        let helper = cost.len().saturating_sub(1);
        for (j, cost) in cost.iter().enumerate().filter(|(_, c)| **c > 0.0) {
            let pays: f64 = rows.iter().map(|r| r.multiplier * r.a.get(j).unwrap_or(&0.0)).sum();
            let over = pays > *cost && pays < *cost * (1.0 + 1e-8);
            if over && ((j == helper && j > 0) || rows.len() < before) {
                let k = cost / pays * (1.0 - 1e-15);
                rows.iter_mut().for_each(|r| r.multiplier *= k);
            }
        }
        let bound: f64 = rows.iter().map(|r| r.multiplier * r.b).sum();
        let objective =
            (!values.is_empty()).then(|| cost.iter().zip(&values).map(|(c, p)| c * p).sum::<f64>());
        let gap = objective.map(|o| (o - bound) / o.abs().max(bound.abs()).max(f64::MIN_POSITIVE));
        Self { about, unknowns, values, cost, rows, objective, bound, gap }
    }

    /// How far `Σ y a` passes a cost, relative to the terms of that sum: rounding, nothing else.
    #[must_use]
    pub fn excess(&self) -> f64 {
        (0..self.cost.len()).map(|j| -self.margin(j)).fold(f64::NEG_INFINITY, f64::max)
    }

    /// By how much a cost is above its part of `Σ y a`, relative to the terms of that sum.
    fn margin(&self, j: usize) -> f64 {
        let cost = self.cost.get(j).copied().unwrap_or(0.0);
        let (mut sum, mut size) = (cost, cost.abs());
        for row in &self.rows {
            let entry = row.multiplier * row.a.get(j).copied().unwrap_or(0.0);
            sum -= entry;
            size = size.max(entry.abs());
        }
        sum / size.max(f64::MIN_POSITIVE)
    }

    /// Whether an unknown is zero wherever the objective is as small (complementary slackness).
    pub(in crate::equivalent) fn idle(&self, j: usize) -> bool {
        self.margin(j) > 1e-7
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// min p + q with p ≥ 2, q ≥ 1 and a row −p + q ≥ −8 that does not bind: its multiplier 7e-12 is rounding.
    /// Without it p would be paid 1 + 7e-12, so the others come down by as much and 3 stays a bound.
    #[test]
    fn a_multiplier_of_rounding_is_left_out_and_the_bound_stays_one() {
        let row = |a: [f64; 2], b: f64, multiplier: f64| CertificateRow {
            what: String::new(),
            at: None,
            side: None,
            term: None,
            unit: "N".to_owned(),
            a: a.to_vec(),
            b,
            multiplier,
        };
        let rows = vec![
            row([1.0, 0.0], 2.0, 1.0 + 7e-12),
            row([0.0, 1.0], 1.0, 1.0 - 7e-12),
            row([-1.0, 1.0], -8.0, 7e-12),
        ];
        let (names, cost) = (vec!["p".to_owned(), "q".to_owned()], vec![1.0, 1.0]);
        let found = Certificate::of(String::new(), names, vec![2.0, 1.0], cost, rows);
        assert_eq!(found.rows.len(), 2);
        assert!(found.excess() <= 0.0, "{}", found.excess());
        assert!(found.bound <= 3.0 && found.bound > 3.0 - 1e-9, "{}", found.bound);
    }
}
