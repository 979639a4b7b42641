//! Lines of spans that equilibrium alone does not settle: displacements of the nodes.
//!
//! Nodes are supports, hinges and ends. Between two nodes the member is one exact element,
//! whatever loads and stiffness steps lie on it: the state at its left end (w, ψ, M, V) is carried
//! to its right end segment by segment, so `M₀, V₀` follow from the movements of both ends. The
//! system is symmetric, banded and linear in the number of spans.

use smallvec::{SmallVec, smallvec};

use super::banded::{Banded, Unknowns};
use super::load::Load;
use super::model::{Beam, Restraint};
use super::response::{Reaction, Reactions, Response};
use super::segment::Segment;
use super::state::State;
use crate::error::{Error, Issue, slug};
use crate::units::{Force, Length, Message, Moment};

/// One for each node or element; most lines have a few.
type Few<T> = SmallVec<[T; 4]>;

/// A node: its movements that are unknown, by their places in the system.
#[derive(Clone, Copy, Debug)]
struct Node {
    /// Place in the grid.
    grid: usize,
    at: f64,
    support: Option<usize>,
    w: Option<usize>,
    left: Option<usize>,
    right: Option<usize>,
}

/// Movements of the right end per unit of M₀ and V₀, inverted.
#[derive(Clone, Copy, Debug)]
struct Element {
    length: f64,
    /// M₀ = m·(Δψ, Δw), V₀ = v·(Δψ, Δw).
    m: [f64; 2],
    v: [f64; 2],
}

/// The system of a beam with some of its one-way bearings released.
pub(super) struct System<'a> {
    beam: &'a Beam,
    released: &'a [bool],
    nodes: Few<Node>,
    elements: Few<Element>,
    matrix: Banded,
    /// The segments without loads.
    bare: Vec<Segment>,
}

impl<'a> System<'a> {
    /// Sets up and factors the system.
    ///
    /// # Errors
    /// `beam.mechanism` with the movement that nothing holds.
    pub(super) fn new(beam: &'a Beam, grid: &[f64], released: &'a [bool]) -> Result<Self, Error> {
        let bare = beam.bare(grid);
        let nodes = nodes(beam, grid, released);
        let count =
            nodes.iter().flat_map(|n| [n.w, n.left, n.right]).flatten().max().map_or(0, |i| i + 1);
        let (elements, matrix) = (Few::new(), Banded::new(count));
        let mut system = Self { beam, released, nodes, elements, matrix, bare };
        system.assemble();
        if let Err(row) = system.matrix.factor() {
            return Err(system.mechanism(row));
        }
        Ok(system)
    }

    fn assemble(&mut self) {
        for (a, b) in self.nodes.iter().zip(self.nodes.iter().skip(1)) {
            let (mut unit_m, mut unit_v) =
                (State { m: 1.0, ..State::default() }, State { v: 1.0, ..State::default() });
            for bare in self.bare.get(a.grid..b.grid).unwrap_or(&[]) {
                unit_m = unit_m.segment(bare).after();
                unit_v = unit_v.segment(bare).after();
            }
            let determinant = unit_m.r * unit_v.w - unit_v.r * unit_m.w;
            self.elements.push(Element {
                length: b.at - a.at,
                m: [unit_v.w / determinant, -unit_v.r / determinant],
                v: [-unit_m.w / determinant, unit_m.r / determinant],
            });
        }
        let pairs = self.nodes.iter().zip(self.nodes.iter().skip(1));
        for ((a, b), e) in pairs.zip(&self.elements) {
            let places = [a.w, a.right, b.w, b.left];
            // how M₀ and V₀ answer to w₀, ψ₀, w₁, ψ₁
            let answer = |k: [f64; 2]| [-k[1], -k[0] - e.length * k[1], k[1], k[0]];
            let (m, v) = (answer(e.m), answer(e.v));
            for (i, row) in places.iter().enumerate() {
                for (j, column) in places.iter().enumerate() {
                    let (Some(row), Some(column)) = (row, column) else { continue };
                    if column > row {
                        continue;
                    }
                    let (mj, vj) =
                        (m.get(j).copied().unwrap_or(0.0), v.get(j).copied().unwrap_or(0.0));
                    let force = match i {
                        0 => -vj,
                        1 => mj,
                        2 => vj,
                        _ => -(mj + e.length * vj),
                    };
                    self.matrix.add(*row, *column, force);
                }
            }
        }
        for node in &self.nodes {
            let Some(support) = node.support.and_then(|i| self.beam.supports().get(i)) else {
                continue;
            };
            if let (Restraint::Spring(k), Some(w)) = (support.vertical, node.w)
                && !self.free(node)
            {
                self.matrix.add(w, w, k.si());
            }
            if let (Restraint::Spring(k), Some(r)) = (support.rotation, node.right) {
                self.matrix.add(r, r, k.si());
            }
        }
    }

    fn free(&self, node: &Node) -> bool {
        node.support.is_some_and(|i| self.released.get(i) == Some(&true))
    }

    /// The refusal that names the movement: which hinges and ends go down, in which spans.
    fn mechanism(&self, row: usize) -> Error {
        let shape = self.matrix.mechanism(row);
        let of = |place: Option<usize>| place.and_then(|i| shape.get(i)).map_or(0.0, |v| v.abs());
        let deepest = self.nodes.iter().map(|n| of(n.w)).fold(0.0, f64::max);
        let moving: Vec<Message> = self
            .nodes
            .iter()
            .enumerate()
            .filter(|(_, n)| deepest > 0.0 && of(n.w) > 1e-6 * deepest)
            .map(|(i, n)| {
                let what = if n.left == n.right { "the beam" } else { "the hinge" };
                let before = self.nodes.iter().take(i).filter(|n| n.support.is_some()).count();
                let at = Length::from_si(n.at).into();
                Message::new("{} at x = {} (span {})", [what.into(), at, before.max(1).into()])
            })
            .collect();
        let message = if moving.is_empty() {
            let turns = self.nodes.iter().find(|n| [n.left, n.right].contains(&Some(row)));
            let at = Length::from_si(turns.map_or(0.0, |n| n.at));
            Message::new("the beam turns at x = {} and nothing holds it", [at.into()])
        } else {
            Message::joined(moving, ", ").after("nothing holds ")
        };
        Error::solver(Issue::new(slug::BEAM_MECHANISM, "beam", message))
    }

    /// The exact actions of one case.
    pub(super) fn response(&self, loads: &[Load]) -> Result<Response, Error> {
        let mut loaded = self.beam.loaded(self.bare.clone(), loads);
        let at_nodes = self.at_nodes(loads);
        let settled = |node: &Node| {
            let support = node.support.and_then(|i| self.beam.supports().get(i));
            support.map_or(0.0, |s| s.settlement.si())
        };
        // what each element does with both ends held
        let mut right: Unknowns = smallvec![0.0; self.matrix.size()];
        let mut put = |place: Option<usize>, value: f64| {
            if let Some(slot) = place.and_then(|i| right.get_mut(i)) {
                *slot += value;
            }
        };
        let mut ends: Few<(f64, f64)> = SmallVec::new();
        for ((a, b), e) in self.nodes.iter().zip(self.nodes.iter().skip(1)).zip(&self.elements) {
            // the ends that do not move are part of the particular state: settled supports
            let start =
                State { w: if a.w.is_none() { settled(a) } else { 0.0 }, ..State::default() };
            let mut state = start;
            for (segment, jump) in loaded.between(a.grid, b.grid) {
                state = jump.on(state).segment(segment).after();
            }
            let end = if b.w.is_none() { settled(b) } else { 0.0 };
            let (turn, drop) = (-state.r, end - state.w);
            let (m0, v0) = (e.m[0] * turn + e.m[1] * drop, e.v[0] * turn + e.v[1] * drop);
            let (m1, v1) = (m0 + v0 * e.length + state.m, v0 + state.v);
            put(a.w, v0);
            put(a.right, -m0);
            put(b.w, -v1);
            put(b.left, m1);
            ends.push((m0, v0));
        }
        for (node, (force, moment)) in self.nodes.iter().zip(&at_nodes) {
            put(node.w, *force);
            put(node.right, *moment);
            let support = node.support.and_then(|i| self.beam.supports().get(i));
            if let Some(Restraint::Spring(k)) = support.map(|s| s.vertical)
                && !self.free(node)
            {
                put(node.w, k.si() * settled(node));
            }
        }
        let x = self.matrix.solve(&right);
        let moved = |place: Option<usize>, held: f64| {
            place.map_or(held, |i| x.get(i).copied().unwrap_or(f64::NAN))
        };
        let mut cuts: Few<(State, State)> = smallvec![Default::default(); self.nodes.len()];
        let pairs = self.nodes.iter().zip(self.nodes.iter().skip(1)).enumerate();
        for (((i, (a, b)), e), (m0, v0)) in pairs.zip(&self.elements).zip(&ends) {
            let (w0, r0) = (moved(a.w, 0.0), moved(a.right, 0.0));
            let (w1, r1) = (moved(b.w, 0.0), moved(b.left, 0.0));
            let (turn, drop) = (r1 - r0, w1 - w0 - e.length * r0);
            let mut state = State {
                w: moved(a.w, settled(a)),
                r: r0,
                m: m0 + e.m[0] * turn + e.m[1] * drop,
                v: v0 + e.v[0] * turn + e.v[1] * drop,
            };
            if let Some(cut) = cuts.get_mut(i) {
                cut.1 = state;
            }
            for (segment, jump) in loaded.between_mut(a.grid, b.grid) {
                *segment = jump.on(state).segment(segment);
                state = segment.after();
            }
            if let Some(cut) = cuts.get_mut(i + 1) {
                cut.0 = state;
            }
        }
        let segments = loaded.segments;
        let mut reactions: Reactions = self
            .beam
            .supports()
            .iter()
            .map(|s| Reaction { at: s.at, force: Force::ZERO, moment: Moment::ZERO })
            .collect();
        let size = segments
            .iter()
            .map(|s: &Segment| s.m0.abs().max((s.v0 * s.length).abs()))
            .fold(0.0, f64::max);
        let mut open = 0.0_f64;
        for ((node, cut), (force, moment)) in self.nodes.iter().zip(&cuts).zip(&at_nodes) {
            let (up, turning) = (cut.1.v - cut.0.v + force, cut.1.m - cut.0.m - moment);
            match node.support.and_then(|i| reactions.get_mut(i)) {
                Some(reaction) => {
                    let support = self.beam.supports().get(node.support.unwrap_or(0));
                    reaction.force = Force::from_si(up);
                    if support.is_some_and(|s| s.rotation != Restraint::Free) {
                        reaction.moment = Moment::from_si(turning);
                    } else {
                        open = open.max(turning.abs());
                    }
                }
                None => open = open.max(turning.abs()),
            }
        }
        if open > 1e-8 * size {
            // what cancels in moments where the member moves and hardly bends: a settled support
            let moved = segments
                .iter()
                .map(|s: &Segment| s.ei * (s.r0.abs() / s.length + s.w0.abs() / s.length.powi(2)))
                .fold(0.0, f64::max);
            open = if open > 1e-12 * moved { open } else { 0.0 };
        }
        // nodes that nothing turns must balance: what is left tells how many digits are lost
        if open > 1e-8 * size && size > 0.0 {
            let message = format!(
                "moments at free nodes balance only to {:.1e} of the largest: neighbouring stiffnesses differ too much",
                open / size
            );
            return Err(Error::solver(Issue::new(slug::BEAM_ILL_CONDITIONED, "beam", message)));
        }
        let residual = if size > 0.0 { open / size } else { 0.0 };
        Ok(Response { segments, reactions, residual })
    }

    /// Force (down) and moment (clockwise) that stand right at each node.
    fn at_nodes(&self, loads: &[Load]) -> Few<(f64, f64)> {
        let tolerance = 1e-12 * self.beam.length().si();
        let mut out: Few<(f64, f64)> = smallvec![(0.0, 0.0); self.nodes.len()];
        for load in loads {
            let (x, force, moment) = match *load {
                Load::Point { at, force } => (at.si(), force.si(), 0.0),
                Load::Moment { at, moment } => (at.si(), 0.0, moment.si()),
                _ => continue,
            };
            let i = self.nodes.partition_point(|n| n.at < x - tolerance);
            let here = self.nodes.get(i).is_some_and(|n| n.at <= x + tolerance);
            if let (true, Some(slot)) = (here, out.get_mut(i)) {
                *slot = (slot.0 + force, slot.1 + moment);
            }
        }
        out
    }
}

fn nodes(beam: &Beam, grid: &[f64], released: &[bool]) -> Few<Node> {
    let tolerance = 1e-12 * beam.length().si();
    let near = |a: f64, b: f64| (a - b).abs() <= tolerance;
    let mut next = 0;
    let mut take = || {
        next += 1;
        Some(next - 1)
    };
    let mut nodes = Few::new();
    let last = grid.len().saturating_sub(1);
    // supports and hinges stand in order, and each is a place of the grid
    let (mut passed, mut hinges) = (0, beam.hinges().iter().peekable());
    for (i, at) in grid.iter().enumerate() {
        let support = beam.supports().get(passed).filter(|s| near(s.at.si(), *at)).map(|_| passed);
        passed += usize::from(support.is_some());
        let hinge = hinges.next_if(|h| near(h.si(), *at)).is_some();
        if support.is_none() && !hinge && i != 0 && i != last {
            continue;
        }
        let held = support.and_then(|s| beam.supports().get(s));
        let rigid = held.is_some_and(|s| s.vertical == Restraint::Rigid)
            && support.is_none_or(|s| released.get(s) != Some(&true));
        let w = if rigid { None } else { take() };
        let turned = held.is_some_and(|s| s.rotation == Restraint::Rigid);
        let left = if turned { None } else { take() };
        let right = if hinge { take() } else { left };
        nodes.push(Node { grid: i, at: *at, support, w, left, right });
    }
    nodes
}
