//! From loads to exact actions.
//!
//! Where equilibrium alone settles the reactions (two bearings, or one fixed support, and no
//! hinge) they follow from it and the deflection from integration. Every other line of spans goes
//! through the displacements of its nodes (`stiffness.rs`). Bearings that only push are released
//! and engaged until none pulls and none is passed through.

use smallvec::SmallVec;

use super::load::Load;
use super::model::{Beam, Restraint, Support};
use super::response::{Grid, Reaction, Reactions, Response, tidy};
use super::segment::Segment;
use super::state::{Jump, Loaded, State};
use super::stiffness::System;
use crate::error::{Error, Issue, slug};
use crate::units::{Force, Length, Message, Moment, Said};

/// Up to so many bearings that only push every state is tried, where the quick way fails.
const TRIED: usize = 12;

/// Whether a load acts along a stretch.
const fn stretches(load: &Load) -> bool {
    matches!(load, Load::Line { .. } | Load::Curvature { .. })
}

/// The restraints that make the beam determinate.
#[derive(Clone, Copy)]
enum Base {
    /// Two bearings.
    Bearings(usize, usize),
    /// One support that holds rotation too.
    Fixed(usize),
}

/// So many stretches of all cases together are solved at once: each case has the breakpoints of all.
pub const MOST_SEGMENTS: usize = 2_000_000;

impl Beam {
    /// The exact actions under `loads`.
    ///
    /// # Errors
    /// `beam.load-outside`, `units.nonfinite`, all at once; `beam.mechanism` with the movement
    /// that nothing holds; `beam.ill-conditioned` with an error bound; `beam.contact` where
    /// bearings that only push find no state.
    pub fn response(&self, loads: &[Load]) -> Result<Response, Error> {
        let grid = self.ready(&[loads])?;
        self.alone(&grid, loads)
    }

    /// The exact actions of several cases, all with the breakpoints of all, so that they
    /// combine without splitting.
    ///
    /// # Errors
    /// As [`Beam::response`]; `beam.too-many` for more than [`MOST_SEGMENTS`] stretches in all cases.
    pub fn cases(&self, cases: &[&[Load]]) -> Result<Vec<Response>, Error> {
        let grid = self.ready(cases)?;
        if self.lifts() {
            return cases.iter().map(|loads| self.in_contact(&grid, loads)).collect();
        }
        if let Some(base) = self.base(&[]) {
            let bare = self.bare(&grid);
            let of = |loads: &&[Load]| self.determinate(base, bare.clone(), loads);
            return Ok(cases.iter().map(of).collect());
        }
        let system = System::new(self, &grid, &[])?;
        cases.iter().map(|loads| system.response(loads)).collect()
    }

    fn lifts(&self) -> bool {
        self.supports().iter().any(|s| s.lifts)
    }

    /// One case on a grid that holds its breakpoints.
    fn alone(&self, grid: &[f64], loads: &[Load]) -> Result<Response, Error> {
        if self.lifts() { self.in_contact(grid, loads) } else { self.solved(grid, loads, &[]) }
    }

    /// The breakpoints of cases that the beam can carry.
    fn ready(&self, cases: &[&[Load]]) -> Result<Grid, Error> {
        self.check(cases)?;
        let grid = self.grid(cases);
        let segments = cases.len().saturating_mul(grid.len());
        if segments > MOST_SEGMENTS {
            let message = format!("{} cases on {} stretches", cases.len(), grid.len());
            return Err(Issue::new(slug::BEAM_TOO_MANY, "loads", message)
                .value(segments)
                .limit(format!("up to {MOST_SEGMENTS} stretches in all"))
                .into());
        }
        Ok(grid)
    }

    /// One case with some bearings released.
    fn solved(&self, grid: &[f64], loads: &[Load], released: &[bool]) -> Result<Response, Error> {
        match self.base(released) {
            Some(base) => Ok(self.determinate(base, self.bare(grid), loads)),
            None => System::new(self, grid, released)?.response(loads),
        }
    }

    /// Releases bearings that would pull and engages released ones that the member would pass
    /// through, all at once. Where that ends in a state that nothing holds, or does not end,
    /// every state is tried (up to [`TRIED`] such bearings): the one that holds is unique where
    /// the member is held at all.
    fn in_contact(&self, grid: &[f64], loads: &[Load]) -> Result<Response, Error> {
        let mut released = vec![false; self.supports().len()];
        for _ in 0..20 {
            let Ok(response) = self.solved(grid, loads, &released) else { break };
            let wrongs = self.wrongs(&response, loads, &released);
            if wrongs.is_empty() {
                return Ok(response);
            }
            for i in wrongs {
                if let Some(state) = released.get_mut(i) {
                    *state = !*state;
                }
            }
        }
        let seats: Vec<usize> =
            self.supports().iter().enumerate().filter(|(_, s)| s.lifts).map(|(i, _)| i).collect();
        if seats.len() <= TRIED {
            for mask in 0..1_u32 << seats.len() {
                released.iter_mut().for_each(|r| *r = false);
                for (k, i) in seats.iter().enumerate() {
                    if let Some(state) = released.get_mut(*i) {
                        *state = mask >> k & 1 == 1;
                    }
                }
                if let Ok(response) = self.solved(grid, loads, &released)
                    && self.wrongs(&response, loads, &released).is_empty()
                {
                    return Ok(response);
                }
            }
        }
        let message = "bearings that only push find no state in which none pulls and none is passed through: does the member lift off as a whole?";
        Err(Error::solver(Issue::new(slug::BEAM_CONTACT, "beam", message)))
    }

    /// The bearings that would pull though they only push, and the released ones that the
    /// member lies below.
    fn wrongs(&self, response: &Response, loads: &[Load], released: &[bool]) -> Vec<usize> {
        let size: f64 = loads.iter().map(|l| l.resultant().abs().si()).sum();
        let depth = 1e-12 * self.length().si();
        let wrong = |i: usize, support: &Support| {
            if released.get(i) == Some(&true) {
                (response.inside().deflection(support.at) - support.settlement).si() > depth
            } else {
                response.reactions().get(i).is_some_and(|r| r.force.si() < -1e-12 * size)
            }
        };
        let all = self.supports().iter().enumerate();
        all.filter(|(i, s)| s.lifts && wrong(*i, s)).map(|(i, _)| i).collect()
    }

    pub(super) fn check(&self, cases: &[&[Load]]) -> Result<(), Error> {
        Error::check(refused(self.length(), cases))
    }
    fn grid(&self, cases: &[&[Load]]) -> Grid {
        let mut grid = Grid::new();
        grid.extend([0.0, self.length().si()]);
        grid.extend(self.supports().iter().map(|s| s.at.si()));
        grid.extend(self.rigidity().iter().map(|r| r.0.si()));
        grid.extend(self.hinges().iter().map(|h| h.si()));
        grid.extend(self.shear_rigidity().iter().map(|r| r.0.si()));
        for load in cases.iter().flat_map(|c| c.iter()) {
            let [from, to, ..] = load.numbers();
            grid.extend([from, to.min(self.length().si())]);
        }
        tidy(&mut grid);
        grid
    }

    /// The restraints, where they are just enough; `released` bearings do not count.
    fn base(&self, released: &[bool]) -> Option<Base> {
        if !self.hinges().is_empty() {
            return None;
        }
        let mut held = self
            .supports()
            .iter()
            .enumerate()
            .filter(|(i, s)| s.vertical != Restraint::Free && released.get(*i) != Some(&true));
        let turned = self.supports().iter().filter(|s| s.rotation != Restraint::Free).count();
        match (held.next(), held.next(), held.next(), turned) {
            (Some((a, _)), Some((b, _)), None, 0) => Some(Base::Bearings(a, b)),
            (Some((a, s)), None, None, 1) if s.rotation != Restraint::Free => Some(Base::Fixed(a)),
            _ => None,
        }
    }

    fn at(&self, i: usize) -> (f64, Support) {
        let support = self.supports().get(i).copied().unwrap_or(Support::bearing(Length::ZERO));
        (support.at.si(), support)
    }

    /// The segments of a grid without loads.
    pub(super) fn bare(&self, grid: &[f64]) -> Vec<Segment> {
        let tolerance = 1e-12 * self.length().si();
        let (rigidity, shear) = (self.rigidity(), self.shear_rigidity());
        let (mut i, mut j) = (0, 0);
        grid.iter()
            .zip(grid.iter().skip(1))
            .map(|(start, end)| {
                while rigidity.get(i + 1).is_some_and(|r| r.0.si() <= start + tolerance) {
                    i += 1;
                }
                while shear.get(j + 1).is_some_and(|r| r.0.si() <= start + tolerance) {
                    j += 1;
                }
                Segment {
                    start: *start,
                    length: end - start,
                    ei: rigidity.get(i).map_or(f64::NAN, |r| r.1.si()),
                    c: shear.get(j).map_or(0.0, |r| 1.0 / r.1.si()),
                    k0: 0.0,
                    k1: 0.0,
                    q0: 0.0,
                    q1: 0.0,
                    v0: 0.0,
                    m0: 0.0,
                    r0: 0.0,
                    w0: 0.0,
                }
            })
            .collect()
    }

    /// The segments with the loads along them, and what jumps at left edges.
    pub(super) fn loaded(&self, mut segments: Vec<Segment>, loads: &[Load]) -> Loaded {
        let tolerance = 1e-12 * self.length().si();
        let mut jumps: SmallVec<[(usize, Jump); 4]> = SmallVec::new();
        let first =
            |segments: &[Segment], x: f64| segments.partition_point(|s| s.start < x - tolerance);
        for load in loads {
            let none = Jump::default();
            let (at, jump) = match *load {
                Load::Point { at, force } => (at, Jump { force: force.si(), ..none }),
                Load::Moment { at, moment } => (at, Jump { moment: moment.si(), ..none }),
                Load::Kink { at, rotation } => (at, Jump { rotation: rotation.si(), ..none }),
                Load::Step { at, by } => (at, Jump { step: by.si(), ..none }),
                Load::Line { from, to, .. } | Load::Curvature { from, to, .. } => {
                    let [a, b, ya, yb] = load.numbers();
                    if to <= from {
                        continue;
                    }
                    let slope = (yb - ya) / (b - a);
                    let from = first(&segments, a);
                    let part = segments.get_mut(from..).unwrap_or(&mut []);
                    for segment in part.iter_mut().take_while(|s| s.end() <= b + tolerance) {
                        let here = slope * (segment.start - a) + ya;
                        if matches!(load, Load::Line { .. }) {
                            segment.q0 += here;
                            segment.q1 += slope;
                        } else {
                            segment.k0 += here;
                            segment.k1 += slope;
                        }
                    }
                    continue;
                }
            };
            jumps.push((first(&segments, at.si()), jump));
        }
        jumps.sort_by_key(|j| j.0);
        Loaded { segments, jumps }
    }

    /// Equilibrium on the base, then integration.
    fn determinate(&self, base: Base, bare: Vec<Segment>, loads: &[Load]) -> Response {
        // resultant and its moment about the left end
        let (mut sum, mut about) = (0.0, 0.0);
        for load in loads {
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
                _ => {}
            }
        }
        let mut reactions: Reactions = self
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
                give(a, (sum * xb - about) / (xb - xa), 0.0);
                give(b, (about - sum * xa) / (xb - xa), 0.0);
            }
            Base::Fixed(a) => {
                let xa = self.at(a).0;
                // clockwise moment that the support puts on the beam
                give(a, sum, sum * xa - about);
            }
        }
        let Loaded { mut segments, jumps } = self.loaded(bare, loads);
        self.sweep(&mut segments, &jumps, &reactions);
        let mut response = Response { segments, reactions, residual: 0.0 };
        self.hold(base, &mut response);
        response
    }

    /// Integrates from the left with zero rotation and deflection there.
    fn sweep(&self, segments: &mut [Segment], jumps: &[(usize, Jump)], reactions: &[Reaction]) {
        let tolerance = 1e-12 * self.length().si();
        let mut state = State::default();
        let (mut rest, mut ahead) = (reactions, jumps);
        for (i, segment) in segments.iter_mut().enumerate() {
            while let [first, tail @ ..] = rest {
                if first.at.si() > segment.start + tolerance {
                    break;
                }
                state.v += first.force.si();
                state.m += first.moment.si();
                rest = tail;
            }
            while let [(at, jump), tail @ ..] = ahead {
                if *at > i {
                    break;
                }
                state = jump.on(state);
                ahead = tail;
            }
            *segment = state.segment(segment);
            state = segment.after();
        }
    }

    /// Turns and lowers the beam as a rigid body until the base is where it belongs.
    fn hold(&self, base: Base, response: &mut Response) {
        let wanted = |i: usize, force: f64| {
            let (_, support) = self.at(i);
            let spring = match support.vertical {
                Restraint::Spring(k) => force / k.si(),
                _ => 0.0,
            };
            spring + support.settlement.si()
        };
        let force = |i: usize| response.reactions.get(i).map_or(0.0, |r| r.force.si());
        let moment = |i: usize| response.reactions.get(i).map_or(0.0, |r| r.moment.si());
        let deflection = |x: f64| response.inside().deflection(Length::from_si(x)).si();
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
                let turn = own - response.inside().rotation(Length::from_si(xa)).si();
                (wanted(a, force(a)) - deflection(xa) - turn * xa, turn)
            }
        };
        for segment in &mut response.segments {
            segment.w0 += turn * segment.start + lift;
            segment.r0 += turn;
        }
    }
}

/// The loads that a member of this length cannot carry.
pub(super) fn refused(length: Length, cases: &[&[Load]]) -> Vec<Issue> {
    let mut issues = Vec::new();
    let end = length.si() * (1.0 + 1e-12);
    for (i, load) in cases.iter().flat_map(|c| c.iter()).enumerate() {
        let [from, to, a, b] = load.numbers();
        let path = || format!("loads[{i}]");
        let m = |at: f64| Said::from(Length::from_si(at));
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
                    Message::new("a load from {} to {}", [m(from), m(to)]),
                )
                .limit(Message::new("0 to {}", [length.into()])),
            );
        } else if to < from || (to <= from && stretches(load)) {
            issues.push(Issue::new(
                slug::BEAM_LOAD_OUTSIDE,
                path(),
                if to < from {
                    Message::new("a load from {} back to {}", [m(from), m(to)])
                } else {
                    Message::new("a load along no length, at {}", [m(from)])
                },
            ));
        }
    }
    issues
}
