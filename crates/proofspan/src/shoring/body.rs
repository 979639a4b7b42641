//! A piece of the member as a rigid body: what loads it and what holds it. SI throughout.

use crate::beam::{Beam, Load, Restraint};

/// What a load is, for the law of its fall.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Part {
    /// In place, and the rig that rests on it: falls.
    Own,
    /// Test load that follows the drop: weights, water.
    Weights,
    /// Jacks.
    Jacks,
}

/// A load in SI: a force and a turning moment at a place, or a line load between two.
#[derive(Clone, Copy, Debug)]
pub(super) struct Acting {
    pub(super) part: Part,
    pub(super) from: f64,
    pub(super) to: f64,
    w_from: f64,
    w_to: f64,
    force: f64,
    turn: f64,
}

impl Acting {
    pub(super) fn point(part: Part, at: f64, force: f64) -> Self {
        Self { part, from: at, to: at, w_from: 0.0, w_to: 0.0, force, turn: 0.0 }
    }

    /// What of a load falls; curvatures and imposed jumps do not.
    pub(super) fn of(part: Part, load: &Load) -> Option<Self> {
        match *load {
            Load::Point { at, force } => Some(Self::point(part, at.si(), force.si())),
            Load::Moment { at, moment } => {
                Some(Self { turn: moment.si(), ..Self::point(part, at.si(), 0.0) })
            }
            Load::Line { from, to, w_from, w_to } if to > from => Some(Self {
                part,
                from: from.si(),
                to: to.si(),
                w_from: w_from.si(),
                w_to: w_to.si(),
                force: 0.0,
                turn: 0.0,
            }),
            _ => None,
        }
    }

    /// Force of what stands on `[from, to]` and its moment about `pivot`, clockwise positive.
    fn on(&self, from: f64, to: f64, pivot: f64) -> (f64, f64) {
        if self.to > self.from {
            let (a, b) = (self.from.max(from), self.to.min(to));
            if a >= b {
                return (0.0, 0.0);
            }
            let at = |x: f64| {
                self.w_from + (self.w_to - self.w_from) * ((x - self.from) / (self.to - self.from))
            };
            let (wa, wb, c) = (at(a), at(b), b - a);
            let force = (wa + wb) * c / 2.0;
            return (force, (wa + wb * 2.0) * c * c / 6.0 + force * (a - pivot));
        }
        (self.force, self.force * (self.from - pivot) + self.turn)
    }
}

/// Water or a loose stack: all of it runs to where the piece drops.
#[derive(Clone, Copy, Debug)]
pub(super) struct Loose {
    pub(super) from: f64,
    pub(super) to: f64,
    pub(super) force: f64,
}

/// A support of the member.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct Held {
    pub(super) at: f64,
    /// Whether it holds rotation.
    pub(super) turn: bool,
    /// Whether it only pushes.
    pub(super) lifts: bool,
}

/// A catch: place, stiffness, clear gap.
#[derive(Clone, Copy, Debug)]
pub(super) struct Post {
    pub(super) at: f64,
    pub(super) stiffness: f64,
    pub(super) gap: f64,
}

/// What one catch carries of a piece at rest, by what loads it.
#[derive(Clone, Copy, PartialEq, Default, Debug)]
pub(super) struct Share {
    pub(super) own: f64,
    pub(super) weights: f64,
    pub(super) jacks: f64,
}

impl Share {
    pub(super) fn total(&self) -> f64 {
        self.own + self.weights + self.jacks
    }
    pub(super) fn and(&self, other: &Self) -> Self {
        Self {
            own: self.own + other.own,
            weights: self.weights + other.weights,
            jacks: self.jacks + other.jacks,
        }
    }
}

/// A piece between two cuts or ends.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Piece {
    pub(super) from: f64,
    pub(super) to: f64,
    pub(super) supports: Vec<Held>,
    /// The catches under it, by their number.
    pub(super) catches: Vec<usize>,
    /// A place whose point loads stand on the other piece.
    pub(super) bare: Option<f64>,
}

/// How a piece comes to rest.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Rest {
    /// Its supports hold it; no catch is needed.
    Supports,
    /// About one support on one catch: the lever.
    Lever { pivot: f64, catch: usize, share: Share },
    /// On the springs of several catches.
    Springs(Vec<(usize, Share)>),
    /// Nothing holds it.
    Falls,
}

/// The member, what is on it and the catches below it.
#[derive(Clone, Debug)]
pub(super) struct Scene {
    pub(super) length: f64,
    pub(super) supports: Vec<Held>,
    pub(super) hinges: Vec<f64>,
    pub(super) posts: Vec<Post>,
    pub(super) acting: Vec<Acting>,
    pub(super) loose: Vec<Loose>,
}

impl Scene {
    pub(super) fn held(beam: &Beam) -> Vec<Held> {
        beam.supports()
            .iter()
            .filter(|s| s.vertical != Restraint::Free)
            .map(|s| Held { at: s.at.si(), turn: s.rotation != Restraint::Free, lifts: s.lifts })
            .collect()
    }

    /// Two places nearer than this are one.
    pub(super) fn same(&self) -> f64 {
        self.length * 1e-9
    }

    /// The loads on a piece.
    pub(super) fn on<'a>(&'a self, piece: &'a Piece) -> impl Iterator<Item = &'a Acting> {
        let same = self.same();
        self.acting.iter().filter(move |l| {
            let bare = piece.bare.is_some_and(|b| (l.from - b).abs() <= same) && l.to <= l.from;
            l.to >= piece.from - same && l.from <= piece.to + same && !bare
        })
    }

    /// Water and loose stacks that can reach a piece.
    pub(super) fn reach<'a>(&'a self, piece: &'a Piece) -> impl Iterator<Item = &'a Loose> {
        let same = self.same();
        self.loose.iter().filter(move |l| l.to >= piece.from - same && l.from <= piece.to + same)
    }

    /// Force and moment of one load of a piece about a place, clockwise positive.
    pub(super) fn about(load: &Acting, piece: &Piece, pivot: f64) -> (f64, f64) {
        load.on(piece.from, piece.to, pivot)
    }

    /// Force and moment about a place by the part of the load: own, weights that stay, jacks.
    pub(super) fn sums(&self, piece: &Piece, pivot: f64) -> [(f64, f64); 3] {
        let mut sums = [(0.0, 0.0); 3];
        let [own, weights, jacks] = &mut sums;
        for load in self.on(piece) {
            let (force, moment) = Self::about(load, piece, pivot);
            let sum = match load.part {
                Part::Own => &mut *own,
                Part::Weights => &mut *weights,
                Part::Jacks => &mut *jacks,
            };
            sum.0 += force;
            sum.1 += moment;
        }
        sums
    }

    /// The largest lever of a loose load on a piece about a pivot, on one side of it.
    pub(super) fn farthest(piece: &Piece, pivot: f64, side: f64) -> f64 {
        (side * (piece.from - pivot)).max(side * (piece.to - pivot)).max(0.0)
    }

    /// How a piece comes to rest.
    pub(super) fn rest(&self, piece: &Piece) -> Rest {
        let same = self.same();
        let hinged = self.hinges.iter().any(|h| *h > piece.from + same && *h < piece.to - same);
        let firm = piece.supports.iter().filter(|s| !s.lifts).count();
        let turned = piece.supports.iter().any(|s| s.turn && !s.lifts);
        match (piece.supports.as_slice(), piece.catches.as_slice()) {
            _ if !hinged && (turned || firm >= 2) => Rest::Supports,
            ([], []) => Rest::Falls,
            ([_], []) if !hinged => Rest::Falls,
            ([pivot], [catch]) if !hinged && !pivot.turn => self.lever(piece, *pivot, *catch),
            _ => self.contact(piece),
        }
    }

    fn lever(&self, piece: &Piece, pivot: Held, catch: usize) -> Rest {
        let Some(post) = self.posts.get(catch) else { return Rest::Falls };
        let lever = (post.at - pivot.at).abs();
        if lever <= self.same() {
            return Rest::Falls;
        }
        let side = (post.at - pivot.at).signum();
        let [own, weights, jacks] = self.sums(piece, pivot.at);
        let test = side * (weights.1 + jacks.1);
        let turns = side * own.1;
        let size = own.1.abs() + weights.1.abs() + jacks.1.abs();
        // it tips away from the catch, with the test load or without
        if turns.min(turns + test) < -1e-9 * size {
            return Rest::Falls;
        }
        let arm = Self::farthest(piece, pivot.at, side);
        let loose: f64 = self.reach(piece).map(|l| l.force * arm).sum();
        let share = Share {
            own: (turns / lever).max(0.0),
            weights: (side * weights.1).max(0.0) / lever + loose / lever,
            jacks: (side * jacks.1).max(0.0) / lever,
        };
        // a bearing that only pushes does not hold down the other end of a seesaw over the catch
        let force = own.0 + weights.0 + jacks.0;
        let held_down = (turns + test.max(0.0)) / lever - force;
        if pivot.lifts && held_down.max(turns / lever - own.0) > 1e-9 * force.abs() {
            return Rest::Falls;
        }
        Rest::Lever { pivot: pivot.at, catch, share }
    }

    /// Rest on several catches: a rigid chain on springs that only push. For every catch the
    /// largest of: gaps closed evenly or as given, with the test load or without, loose load at
    /// any end or hinge of the piece.
    fn contact(&self, piece: &Piece) -> Rest {
        let same = self.same();
        let mut nodes = vec![piece.from];
        nodes.extend(
            self.hinges.iter().filter(|h| **h > piece.from + same && **h < piece.to - same),
        );
        nodes.push(piece.to);
        let chain = Chain { scene: self, piece, nodes: &nodes };
        let loose: f64 = self.reach(piece).map(|l| l.force).sum();
        let mut best: Vec<(usize, Share)> =
            piece.catches.iter().map(|c| (*c, Share::default())).collect();
        let places = if loose > 0.0 { nodes.len() } else { 1 };
        for place in 0..places {
            for gaps in [false, true] {
                for test in [true, false] {
                    let at = (loose > 0.0 && test).then_some((place, loose));
                    let Some(found) = chain.settle(gaps, test, at) else { return Rest::Falls };
                    for (slot, share) in best.iter_mut().zip(found) {
                        if share.total() > slot.1.total() {
                            slot.1 = share;
                        }
                    }
                }
            }
        }
        let scale: f64 = self.acting.iter().map(|l| l.on(piece.from, piece.to, 0.0).0.abs()).sum();
        if best.iter().all(|b| b.1.total() <= 1e-12 * (scale + loose)) {
            return Rest::Supports;
        }
        Rest::Springs(best)
    }
}

/// Rigid bodies joined by the hinges of a piece: their movement is that of the nodes.
struct Chain<'a> {
    scene: &'a Scene,
    piece: &'a Piece,
    nodes: &'a [f64],
}

/// Columns on the right of the equations: own, weights, jacks, gaps.
const COLUMNS: usize = 4;

impl Chain<'_> {
    /// The influence of every node on the movement at a place.
    fn shape(&self, x: f64) -> Vec<f64> {
        let n = self.nodes.len();
        let last = n.saturating_sub(2);
        let body = (self.nodes.iter().skip(1).take(last).filter(|h| **h < x).count()).min(last);
        let ends = (self.nodes.get(body), self.nodes.get(body + 1));
        let (a, b) = (ends.0.copied().unwrap_or(0.0), ends.1.copied().unwrap_or(1.0));
        let t = (x - a) / (b - a);
        (0..n)
            .map(|i| {
                if i == body {
                    1.0 - t
                } else if i == body + 1 {
                    t
                } else {
                    0.0
                }
            })
            .collect()
    }

    /// Node forces of the loads, by part.
    fn forces(&self, loose: Option<(usize, f64)>) -> Vec<[f64; 3]> {
        let mut out = vec![[0.0; 3]; self.nodes.len()];
        let bodies = self.nodes.iter().zip(self.nodes.iter().skip(1)).enumerate();
        for (i, (a, b)) in bodies {
            for load in self.scene.on(self.piece) {
                // a point load on a hinge stands on the body left of it
                let point = load.to <= load.from;
                let before = i > 0 && load.from <= *a;
                let beyond = load.from > *b && i + 2 < self.nodes.len();
                if point && (before || beyond) {
                    continue;
                }
                let (force, moment) = load.on(*a, *b, *a);
                let right = moment / (b - a);
                let part = match load.part {
                    Part::Own => 0,
                    Part::Weights => 1,
                    Part::Jacks => 2,
                };
                for (node, share) in [(i, force - right), (i + 1, right)] {
                    if let Some(v) = out.get_mut(node).and_then(|n| n.get_mut(part)) {
                        *v += share;
                    }
                }
            }
        }
        if let Some((node, force)) = loose
            && let Some(v) = out.get_mut(node).and_then(|n| n.get_mut(1))
        {
            *v += force;
        }
        out
    }

    /// The forces of the catches in their order; nothing where there is no rest.
    fn settle(&self, gaps: bool, test: bool, loose: Option<(usize, f64)>) -> Option<Vec<Share>> {
        let posts: Vec<Post> = self
            .piece
            .catches
            .iter()
            .filter_map(|c| self.scene.posts.get(*c))
            .map(|p| Post { gap: if gaps { p.gap } else { 0.0 }, ..*p })
            .collect();
        let unit = posts.iter().map(|p| p.stiffness).fold(0.0, f64::max);
        let unit = if unit > 0.0 { unit } else { 1.0 };
        let mut loads = self.forces(loose);
        if !test {
            loads.iter_mut().for_each(|[_, w, j]| (*w, *j) = (0.0, 0.0));
        }
        let scale: f64 = loads.iter().flatten().map(|f| f.abs()).sum();
        let seats = &self.piece.supports;
        let mut touching = vec![true; posts.len()];
        let mut seated = vec![true; seats.len()];
        for _ in 0..64 {
            let (moved, reactions) = self.solve(&posts, unit, &loads, &touching, &seated)?;
            let way = |x: f64, column: usize| -> f64 {
                self.shape(x)
                    .iter()
                    .zip(&moved)
                    .map(|(n, u)| n * u.get(column).copied().unwrap_or(0.0))
                    .sum()
            };
            let whole = |x: f64| (0..COLUMNS).map(|c| way(x, c)).sum::<f64>();
            // forces over the unit stiffness: way of the catch less its gap
            let push: Vec<f64> =
                posts.iter().map(|p| (whole(p.at) - p.gap * unit) * (p.stiffness / unit)).collect();
            let tolerance =
                1e-10 * (scale + unit * posts.iter().map(|p| p.gap).fold(0.0, f64::max));
            // the worst that pulls goes, then the worst that is passed comes
            let pulled = push
                .iter()
                .zip(&touching)
                .enumerate()
                .filter(|(_, (f, on))| **on && **f < -tolerance)
                .map(|(i, (f, _))| (*f, true, i));
            let mut held = reactions.iter();
            let lifted: Vec<(f64, bool, usize)> = seats
                .iter()
                .zip(&seated)
                .enumerate()
                .filter_map(|(i, (s, on))| {
                    let force = if *on { *held.next()? } else { return None };
                    (s.lifts && force < -tolerance).then_some((force, false, i))
                })
                .collect();
            let worst = pulled.chain(lifted).min_by(|a, b| a.0.total_cmp(&b.0));
            if let Some((_, post, i)) = worst {
                let list = if post { &mut touching } else { &mut seated };
                *list.get_mut(i)? = false;
                continue;
            }
            let passed = push
                .iter()
                .zip(&touching)
                .position(|(f, on)| !*on && *f > tolerance)
                .map(|i| (true, i));
            let passed = passed.or_else(|| {
                seats
                    .iter()
                    .zip(&seated)
                    .position(|(s, on)| !*on && whole(s.at) > tolerance)
                    .map(|i| (false, i))
            });
            if let Some((post, i)) = passed {
                let list = if post { &mut touching } else { &mut seated };
                *list.get_mut(i)? = true;
                continue;
            }
            let shares = posts.iter().zip(&touching).map(|(p, on)| {
                if !on {
                    return Share::default();
                }
                let k = p.stiffness / unit;
                let of = |column: usize| way(p.at, column) * k;
                // what the gaps move goes with the weight that is always there
                let own = of(0) + of(3) - p.gap * p.stiffness;
                let (weights, jacks) = (of(1).max(0.0), of(2).max(0.0));
                let total = own + of(1) + of(2);
                Share { own: (total - weights - jacks).max(0.0), weights, jacks }
            });
            return Some(shares.collect());
        }
        None
    }

    /// Movements of the nodes times the unit stiffness, a column each, and the sum of the
    /// reactions of every support that holds.
    #[expect(clippy::type_complexity, reason = "one answer, used once")]
    fn solve(
        &self,
        posts: &[Post],
        unit: f64,
        loads: &[[f64; 3]],
        touching: &[bool],
        seated: &[bool],
    ) -> Option<(Vec<Vec<f64>>, Vec<f64>)> {
        let n = self.nodes.len();
        let mut ties: Vec<Vec<f64>> = Vec::new();
        let mut vertical: Vec<usize> = Vec::new();
        for (support, _) in self.piece.supports.iter().zip(seated).filter(|(_, on)| **on) {
            vertical.push(ties.len());
            ties.push(self.shape(support.at));
            if support.turn {
                let lean = self.nodes.iter().skip(1).filter(|b| **b < support.at).count();
                let lean = lean.min(n.saturating_sub(2));
                let slope = |i: usize| {
                    if i == lean {
                        -1.0
                    } else if i == lean + 1 {
                        1.0
                    } else {
                        0.0
                    }
                };
                ties.push((0..n).map(slope).collect());
            }
        }
        let size = n + ties.len();
        let mut rows = vec![vec![0.0; size + COLUMNS]; size];
        let mut add = |i: usize, j: usize, v: f64| {
            if let Some(cell) = rows.get_mut(i).and_then(|r| r.get_mut(j)) {
                *cell += v;
            }
        };
        for (post, _) in posts.iter().zip(touching).filter(|(_, on)| **on) {
            let shape = self.shape(post.at);
            let k = post.stiffness / unit;
            for (i, a) in shape.iter().enumerate() {
                for (j, b) in shape.iter().enumerate() {
                    add(i, j, k * a * b);
                }
                add(i, size + 3, post.stiffness * post.gap * a);
            }
        }
        for (i, load) in loads.iter().enumerate() {
            for (c, force) in load.iter().enumerate() {
                add(i, size + c, *force);
            }
        }
        for (t, tie) in ties.iter().enumerate() {
            for (i, v) in tie.iter().enumerate() {
                add(i, n + t, *v);
                add(n + t, i, *v);
            }
        }
        let mut found = eliminate(rows, size)?;
        let forces = found.split_off(n);
        let reactions = vertical.iter().map(|v| forces.get(*v).map_or(0.0, |c| c.iter().sum()));
        Some((found, reactions.collect()))
    }
}

/// Unknowns of linear equations with several right sides; nothing where they leave one free.
fn eliminate(mut rows: Vec<Vec<f64>>, unknowns: usize) -> Option<Vec<Vec<f64>>> {
    let lead = |row: &Vec<f64>| row.first().map_or(0.0, |v| v.abs());
    let mut done: Vec<Vec<f64>> = Vec::with_capacity(unknowns);
    for _ in 0..unknowns {
        let largest = rows.iter().enumerate().max_by(|a, b| lead(a.1).total_cmp(&lead(b.1)))?.0;
        let pivot = rows.swap_remove(largest);
        let (first, tail) = pivot.split_first()?;
        // the coefficients are of the order of one
        if first.abs() <= 1e-11 {
            return None;
        }
        for row in &mut rows {
            let factor = row.first().map_or(0.0, |v| v / first);
            *row = row.iter().skip(1).zip(tail).map(|(a, b)| a - factor * b).collect();
        }
        done.push(pivot);
    }
    let mut found: Vec<Vec<f64>> = Vec::with_capacity(unknowns);
    for pivot in done.iter().rev() {
        let (first, rest) = pivot.split_first()?;
        let (known, right) = rest.split_at_checked(found.len())?;
        let value = right.iter().enumerate().map(|(c, r)| {
            let others: f64 = known
                .iter()
                .zip(found.iter().rev())
                .map(|(k, u)| k * u.get(c).copied().unwrap_or(0.0))
                .sum();
            (r - others) / first
        });
        found.push(value.collect());
    }
    found.reverse();
    Some(found)
}
