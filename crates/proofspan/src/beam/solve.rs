//! Statics first, then the redundants.
//!
//! The beam is put on a determinate base: its first and last bearing, or one
//! fixed support. Its actions follow from equilibrium alone. Every other
//! restraint is a redundant force; their sizes follow from the movements they
//! must prevent (force method), solved as a small dense system.

use nalgebra::{DMatrix, DVector};

use super::actions::{Actions, Reaction, tidy};
use super::load::Load;
use super::model::{Beam, Restraint, Support};
use super::segment::Segment;
use crate::error::{Error, Issue, slug};
use crate::units::{Force, Length, Moment};

/// The restraints that make the base determinate.
#[derive(Clone, Copy)]
enum Base {
    /// Two bearings.
    Bearings(usize, usize),
    /// One support that holds rotation too.
    Fixed(usize),
}

/// A restraint beyond the base.
#[derive(Clone, Copy)]
enum Redundant {
    Vertical(usize),
    Rotation(usize),
}

impl Beam {
    /// The exact actions under `loads`.
    ///
    /// # Errors
    /// `beam.load-outside`, `units.nonfinite`, all at once; `beam.mechanism` where the
    /// redundant system has no solution.
    pub fn actions(&self, loads: &[Load]) -> Result<Actions, Error> {
        let mut cases = self.cases(&[loads])?;
        cases.pop().ok_or_else(|| Issue::new(slug::BEAM_MECHANISM, "beam", "no case").into())
    }

    /// The exact actions of several cases, all with the breakpoints of all, so that they
    /// combine without splitting.
    ///
    /// # Errors
    /// As [`Beam::actions`].
    pub fn cases(&self, cases: &[&[Load]]) -> Result<Vec<Actions>, Error> {
        self.check(cases)?;
        let grid = self.grid(cases);
        let (base, redundants) = self.base();
        let mut solved: Vec<Actions> =
            cases.iter().map(|loads| self.determinate(base, &grid, loads, &[], true)).collect();
        if !redundants.is_empty() {
            self.add_redundants(base, &grid, &redundants, &mut solved)?;
        }
        Ok(solved)
    }

    fn check(&self, cases: &[&[Load]]) -> Result<(), Error> {
        let mut issues = Vec::new();
        let end = self.length().si() * (1.0 + 1e-12);
        for (i, load) in cases.iter().flat_map(|c| c.iter()).enumerate() {
            let [from, to, a, b] = load.numbers();
            let path = || format!("loads[{i}]");
            if ![from, to, a, b].iter().all(|n| n.is_finite()) {
                issues.push(Issue::new(
                    slug::UNITS_NONFINITE,
                    path(),
                    "a load with a number that is not finite",
                ));
            } else if from < 0.0 || to > end {
                issues.push(
                    Issue::new(
                        slug::BEAM_LOAD_OUTSIDE,
                        path(),
                        format!("a load from {from} m to {to} m"),
                    )
                    .limit(format!("0 m to {} m", self.length().si())),
                );
            } else if to < from {
                issues.push(Issue::new(
                    slug::BEAM_LOAD_OUTSIDE,
                    path(),
                    format!("a load from {from} m back to {to} m"),
                ));
            }
        }
        Error::check(issues)
    }

    fn grid(&self, cases: &[&[Load]]) -> Vec<f64> {
        let loads = cases.iter().map(|c| c.len()).sum::<usize>();
        let mut grid =
            Vec::with_capacity(2 + self.supports().len() + self.rigidity().len() + 2 * loads);
        grid.extend([0.0, self.length().si()]);
        grid.extend(self.supports().iter().map(|s| s.at.si()));
        grid.extend(self.rigidity().iter().map(|r| r.0.si()));
        for load in cases.iter().flat_map(|c| c.iter()) {
            let [from, to, ..] = load.numbers();
            grid.extend([from, to.min(self.length().si())]);
        }
        tidy(&mut grid);
        grid
    }

    fn base(&self) -> (Base, Vec<Redundant>) {
        let held = |s: &Support| s.vertical != Restraint::Free;
        let first = self.supports().iter().position(held).unwrap_or(0);
        let last = self.supports().iter().rposition(held).unwrap_or(0);
        let base = if first < last { Base::Bearings(first, last) } else { Base::Fixed(first) };
        let mut redundants = Vec::new();
        for (i, support) in self.supports().iter().enumerate() {
            let in_base = match base {
                Base::Bearings(a, b) => i == a || i == b,
                Base::Fixed(a) => i == a,
            };
            if held(support) && !in_base {
                redundants.push(Redundant::Vertical(i));
            }
            let turns = matches!(base, Base::Fixed(_)) && in_base;
            if support.rotation != Restraint::Free && !turns {
                redundants.push(Redundant::Rotation(i));
            }
        }
        (base, redundants)
    }

    fn at(&self, i: usize) -> (f64, Support) {
        let support = self.supports().get(i).copied().unwrap_or(Support::bearing(Length::ZERO));
        (support.at.si(), support)
    }

    /// Equilibrium on the base; `extra` are redundant forces. `settle` says whether the
    /// settlements of the base belong to this case.
    fn determinate(
        &self,
        base: Base,
        grid: &[f64],
        loads: &[Load],
        extra: &[Load],
        settle: bool,
    ) -> Actions {
        let all = || loads.iter().chain(extra);
        // resultant and its moment about the left end
        let (mut sum, mut about) = (0.0, 0.0);
        for load in all() {
            match *load {
                Load::Point { at, force } => {
                    sum += force.si();
                    about += force.si() * at.si();
                }
                Load::Moment { moment, .. } => about += moment.si(),
                Load::Line { from, to, w_from, w_to } => {
                    let (a, h) = (from.si(), to.si() - from.si());
                    let total = (w_from.si() + w_to.si()) * h / 2.0;
                    sum += total;
                    about += total * a + (w_from.si() + 2.0 * w_to.si()) * h * h / 6.0;
                }
            }
        }
        let mut reactions: Vec<Reaction> = self
            .supports()
            .iter()
            .map(|s| Reaction { at: s.at, force: Force::ZERO, moment: Moment::ZERO })
            .collect();
        let mut give = |i: usize, force: f64, moment: f64| {
            if let Some(reaction) = reactions.get_mut(i) {
                reaction.force = Force::from_si(force);
                reaction.moment = Moment::from_si(moment);
            }
        };
        match base {
            Base::Bearings(a, b) => {
                let (xa, xb) = (self.at(a).0, self.at(b).0);
                let right = (about - sum * xa) / (xb - xa);
                give(a, (sum * xb - about) / (xb - xa), 0.0);
                give(b, right, 0.0);
            }
            Base::Fixed(a) => {
                let xa = self.at(a).0;
                // clockwise moment that the support puts on the beam
                give(a, sum, sum * xa - about);
            }
        }
        let segments = self.sweep(grid, loads, extra, &reactions);
        let mut actions = Actions { segments, reactions };
        self.hold(base, &mut actions, settle);
        actions
    }

    /// Integrates from the left with zero rotation and deflection there.
    fn sweep(
        &self,
        grid: &[f64],
        loads: &[Load],
        extra: &[Load],
        reactions: &[Reaction],
    ) -> Vec<Segment> {
        let tolerance = 1e-12 * self.length().si();
        let near = |a: f64, b: f64| (a - b).abs() <= tolerance;
        let mut segments: Vec<Segment> = Vec::with_capacity(grid.len());
        let (mut v, mut m, mut r, mut w) = (0.0, 0.0, 0.0, 0.0);
        for pair in grid.windows(2) {
            let [start, end] = pair else { continue };
            let (start, length) = (*start, end - start);
            for reaction in reactions.iter().filter(|x| near(x.at.si(), start)) {
                v += reaction.force.si();
                m += reaction.moment.si();
            }
            let (mut q0, mut q1) = (0.0, 0.0);
            for load in loads.iter().chain(extra) {
                match *load {
                    Load::Point { at, force } => {
                        if near(at.si(), start) {
                            v -= force.si();
                        }
                    }
                    Load::Moment { at, moment } => {
                        if near(at.si(), start) {
                            m += moment.si();
                        }
                    }
                    Load::Line { from, to, w_from, w_to } => {
                        let (a, b) = (from.si(), to.si());
                        if b > a && a <= start + tolerance && b >= end - tolerance {
                            let slope = (w_to.si() - w_from.si()) / (b - a);
                            q0 += slope * (start - a) + w_from.si();
                            q1 += slope;
                        }
                    }
                }
            }
            let ei = self
                .rigidity()
                .iter()
                .rev()
                .find(|x| x.0.si() <= start + tolerance)
                .map_or(f64::NAN, |x| x.1.si());
            let segment = Segment { start, length, ei, q0, q1, v0: v, m0: m, r0: r, w0: w };
            v = segment.shear().at(length);
            m = segment.moment().at(length);
            r = segment.rotation().at(length);
            w = segment.deflection().at(length);
            segments.push(segment);
        }
        segments
    }

    /// Turns and lowers the beam as a rigid body until the base is where it belongs.
    fn hold(&self, base: Base, actions: &mut Actions, settle: bool) {
        let wanted = |i: usize, force: f64| {
            let (_, support) = self.at(i);
            let spring = match support.vertical {
                Restraint::Spring(k) => force / k.si(),
                _ => 0.0,
            };
            spring + if settle { support.settlement.si() } else { 0.0 }
        };
        let force = |i: usize| actions.reactions.get(i).map_or(0.0, |r| r.force.si());
        let moment = |i: usize| actions.reactions.get(i).map_or(0.0, |r| r.moment.si());
        let deflection = |x: f64| actions.deflection(Length::from_si(x)).si();
        // w += lift + turn x
        let (lift, turn) = match base {
            Base::Bearings(a, b) => {
                let (xa, xb) = (self.at(a).0, self.at(b).0);
                let (da, db) =
                    (wanted(a, force(a)) - deflection(xa), wanted(b, force(b)) - deflection(xb));
                let turn = (db - da) / (xb - xa);
                (da - turn * xa, turn)
            }
            Base::Fixed(a) => {
                let (xa, support) = self.at(a);
                // the moment the support gives is clockwise on the beam: the end turns the other way
                let own = match support.rotation {
                    Restraint::Spring(k) => -moment(a) / k.si(),
                    _ => 0.0,
                };
                let turn = own - actions.rotation(Length::from_si(xa)).si();
                (wanted(a, force(a)) - deflection(xa) - turn * xa, turn)
            }
        };
        for segment in &mut actions.segments {
            segment.w0 += turn * segment.start + lift;
            segment.r0 += turn;
        }
    }

    fn unit(&self, redundant: Redundant) -> Load {
        match redundant {
            // an upward force
            Redundant::Vertical(i) => Load::point(self.at(i).1.at, Force::from_si(-1.0)),
            Redundant::Rotation(i) => Load::moment(self.at(i).1.at, Moment::from_si(1.0)),
        }
    }

    /// The movement that works with a redundant: upward, or clockwise rotation (dw/dx).
    fn movement(&self, redundant: Redundant, actions: &Actions) -> f64 {
        match redundant {
            Redundant::Vertical(i) => -actions.deflection(self.at(i).1.at).si(),
            Redundant::Rotation(i) => actions.rotation(self.at(i).1.at).si(),
        }
    }

    fn add_redundants(
        &self,
        base: Base,
        grid: &[f64],
        redundants: &[Redundant],
        solved: &mut [Actions],
    ) -> Result<(), Error> {
        let units: Vec<Actions> = redundants
            .iter()
            .map(|r| self.determinate(base, grid, &[], &[self.unit(*r)], false))
            .collect();
        let n = redundants.len();
        let matrix = DMatrix::from_fn(n, n, |i, j| {
            let (Some(row), Some(column)) = (redundants.get(i), units.get(j)) else {
                return f64::NAN;
            };
            let own = if i == j { self.give_way(*row) } else { 0.0 };
            self.movement(*row, column) + own
        });
        // rows and columns to unit diagonal, so that springs and rigid supports mix
        let scale =
            DVector::from_fn(n, |i, _| matrix.get((i, i)).map_or(1.0, |d| 1.0 / d.abs().sqrt()));
        let scaled = DMatrix::from_fn(n, n, |i, j| {
            let get = |k: usize| scale.get(k).copied().unwrap_or(1.0);
            matrix.get((i, j)).copied().unwrap_or(f64::NAN) * get(i) * get(j)
        });
        let lu = scaled.clone().lu();
        for case in solved.iter_mut() {
            let right = DVector::from_fn(n, |i, _| {
                let s = scale.get(i).copied().unwrap_or(1.0);
                redundants
                    .get(i)
                    .map_or(f64::NAN, |r| (self.wanted(*r) - self.movement(*r, case)) * s)
            });
            let solution = lu.solve(&right).filter(|x| {
                let left = (&scaled * x - &right).norm();
                left.is_finite() && left <= 1e-9 * (right.norm() + x.norm())
            });
            let Some(solution) = solution else {
                let message = "the redundant reactions have no solution: the supports nearly form a mechanism";
                return Err(Error::solver(Issue::new(slug::BEAM_MECHANISM, "beam", message)));
            };
            let factors = solution.component_mul(&scale);
            let mut parts: Vec<(f64, &Actions)> = vec![(1.0, &*case)];
            parts.extend(factors.iter().copied().zip(&units));
            let mut sum = Actions::combined(&parts);
            for (redundant, x) in redundants.iter().zip(factors.iter()) {
                let (i, force, moment) = match redundant {
                    Redundant::Vertical(i) => (*i, *x, 0.0),
                    Redundant::Rotation(i) => (*i, 0.0, *x),
                };
                if let Some(reaction) = sum.reactions.get_mut(i) {
                    reaction.force += Force::from_si(force);
                    reaction.moment += Moment::from_si(moment);
                }
            }
            *case = sum;
        }
        Ok(())
    }

    /// How far a restraint itself gives way per unit of its force.
    fn give_way(&self, redundant: Redundant) -> f64 {
        match redundant {
            Redundant::Vertical(i) => match self.at(i).1.vertical {
                Restraint::Spring(k) => 1.0 / k.si(),
                _ => 0.0,
            },
            Redundant::Rotation(i) => match self.at(i).1.rotation {
                Restraint::Spring(k) => 1.0 / k.si(),
                _ => 0.0,
            },
        }
    }

    /// The movement a restraint allows: its settlement, against the upward redundant.
    fn wanted(&self, redundant: Redundant) -> f64 {
        match redundant {
            Redundant::Vertical(i) => -self.at(i).1.settlement.si(),
            Redundant::Rotation(_) => 0.0,
        }
    }
}
