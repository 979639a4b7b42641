//! A piece on several catches, with hinges in it: rigid bodies on springs that only push. SI.

use smallvec::{SmallVec, smallvec};

use super::body::{Acting, Part, Piece, Post, Rest, Scene, Share};

/// Rigid bodies joined by the hinges of a piece: their movement is that of the nodes.
pub(super) struct Chain<'a> {
    pub(super) scene: &'a Scene,
    pub(super) piece: &'a Piece,
    nodes: SmallVec<[f64; 4]>,
    /// The catches under the piece.
    posts: SmallVec<[Post; 4]>,
    /// Node forces of the loads, by part, without what is loose.
    loads: SmallVec<[[f64; 3]; 4]>,
    /// What moves where every catch touches and every support holds; nothing where that moves freely.
    whole: Option<Moved>,
}

/// Columns on the right of the equations: own, weights, jacks, gaps.
const COLUMNS: usize = 4;

impl Scene {
    /// Rest on several catches: a rigid chain on springs that only push. For every catch the
    /// largest of: gaps closed evenly or as given, with the test load or without, loose load
    /// wherever on the piece it can slide to. Where it slides too far the piece tips; just before
    /// that the catches carry most.
    pub(super) fn contact(&self, piece: &Piece) -> Rest {
        let chain = Chain::new(self, piece);
        let loose: f64 = self.reach(piece).map(|l| l.force).sum();
        let mut best: SmallVec<[(usize, Share); 4]> =
            piece.catches.iter().map(|c| (*c, Share::default())).collect();
        let mut raise = |found: SmallVec<[Share; 4]>| {
            for (slot, share) in best.iter_mut().zip(found) {
                if share.total() > slot.1.total() {
                    slot.1 = share;
                }
            }
        };
        let mut tips = false;
        let level = chain.posts.iter().all(|p| p.gap <= 0.0);
        for gaps in [false, true] {
            if gaps && level {
                continue;
            }
            for test in [true, false] {
                let Some(found) = chain.settle(gaps, test, None) else { return Rest::Falls };
                raise(found);
            }
            if loose <= 0.0 {
                continue;
            }
            let mut before: Option<(f64, bool)> = None;
            for x in chain.slides() {
                let found = chain.settle(gaps, true, Some((x, loose)));
                let rests = found.is_some();
                tips |= !rests;
                found.into_iter().for_each(&mut raise);
                if let Some((y, rested)) = before.filter(|b| b.1 != rests) {
                    let (rest, off) = if rested { (y, x) } else { (x, y) };
                    chain.limit(gaps, loose, (rest, off)).into_iter().for_each(&mut raise);
                }
                before = Some((x, rests));
            }
        }
        if tips {
            return Rest::Tips(best);
        }
        let scale: f64 = self.acting.iter().map(|l| l.on(piece.from, piece.to, 0.0).0.abs()).sum();
        if best.iter().all(|b| b.1.total() <= 1e-12 * (scale + loose)) {
            return Rest::Supports;
        }
        Rest::Springs(best)
    }
}

impl<'a> Chain<'a> {
    pub(super) fn new(scene: &'a Scene, piece: &'a Piece) -> Self {
        let same = scene.same();
        let mut nodes = smallvec![piece.from];
        nodes.extend(
            scene.hinges.iter().copied().filter(|h| *h > piece.from + same && *h < piece.to - same),
        );
        nodes.push(piece.to);
        let posts = piece.catches.iter().filter_map(|c| scene.posts.get(*c)).copied().collect();
        let mut chain = Self { scene, piece, nodes, posts, loads: SmallVec::new(), whole: None };
        chain.loads = chain.forces();
        let touching: SmallVec<[bool; 4]> = smallvec![true; chain.posts.len()];
        let seated: SmallVec<[bool; 4]> = smallvec![true; piece.supports.len()];
        chain.whole = chain.solve(&chain.posts, &chain.loads, &touching, &seated);
        chain
    }

    /// The places of loose load among which are the worst: ends and hinges of the piece, its catches
    /// and supports. On a piece with one support it slides to the side that drops.
    fn slides(&self) -> Vec<f64> {
        let same = self.scene.same();
        let mut places: Vec<f64> = self.nodes.to_vec();
        places.extend(self.posts.iter().map(|p| p.at));
        places.extend(self.piece.supports.iter().map(|s| s.at));
        if let [pivot] = self.piece.supports.as_slice()
            && !pivot.turn
            && self.nodes.len() == 2
        {
            let [left, right] =
                [-1.0, 1.0].map(|side| self.scene.drops(self.piece, pivot.at, side));
            places.retain(|x| (right || *x <= pivot.at + same) && (left || *x >= pivot.at - same));
        }
        places.sort_by(f64::total_cmp);
        places.dedup_by(|b, a| *b - *a <= same);
        places
    }

    /// The catches with the loose load as far as the piece still rests, between a place where it
    /// does and one where it tips. While the same catches and supports push, each by a part that goes
    /// linearly with the place: the next one to let go is known, and the piece tips where none that is
    /// left can take over.
    fn limit(
        &self,
        gaps: bool,
        loose: f64,
        (rest, off): (f64, f64),
    ) -> Option<SmallVec<[Share; 4]>> {
        let step = (off - rest).signum() * self.scene.same();
        let mut x = rest;
        let mut here = self.rest(gaps, true, Some((x, loose)))?;
        // each round one lets go or takes over
        for _ in 0..=2 * (self.posts.len() + self.piece.supports.len()) {
            let beyond = self.with(&here, gaps, (off, loose))?;
            let ends = here.pushes.iter().zip(&beyond.pushes).filter(|(now, then)| now > then);
            let part = ends.map(|(now, then)| now.max(0.0) / (now - then)).fold(1.0, f64::min);
            let edge = x + (off - x) * part;
            let Some(at_edge) = self.rest(gaps, true, Some((edge, loose))) else { break };
            let same = here.touching == at_edge.touching && here.seated == at_edge.seated;
            (x, here) = (edge, at_edge);
            if same {
                let Some(next) = self.rest(gaps, true, Some((edge + step, loose))) else { break };
                (x, here) = (edge + step, next);
            }
        }
        Some(here.shares)
    }

    /// The body on which a place stands, and how far along it, in parts of its length: the nodes
    /// at its ends move the place by what is left of one and by this part.
    fn shape(&self, x: f64) -> (usize, f64) {
        let last = self.nodes.len().saturating_sub(2);
        let body = (self.nodes.iter().skip(1).take(last).filter(|h| **h < x).count()).min(last);
        let ends = (self.nodes.get(body), self.nodes.get(body + 1));
        let (a, b) = (ends.0.copied().unwrap_or(0.0), ends.1.copied().unwrap_or(1.0));
        (body, (x - a) / (b - a))
    }

    /// Every body with its left node, from where to where it goes.
    fn bodies(&self) -> impl Iterator<Item = (usize, f64, f64)> + '_ {
        let each = self.nodes.iter().zip(self.nodes.iter().skip(1)).enumerate();
        each.map(|(i, (a, b))| (i, *a, *b))
    }

    /// Whether a load counts on a body: a point load on a hinge stands on the body left of it.
    fn bears(&self, load: &Acting, (i, a, b): (usize, f64, f64)) -> bool {
        let point = load.to <= load.from;
        let before = i > 0 && load.from <= a;
        let beyond = load.from > b && i + 2 < self.nodes.len();
        !(point && (before || beyond))
    }

    fn forces(&self) -> SmallVec<[[f64; 3]; 4]> {
        let mut out: SmallVec<[[f64; 3]; 4]> = smallvec![[0.0; 3]; self.nodes.len()];
        for (i, a, b) in self.bodies() {
            for load in self.scene.on(self.piece).filter(|l| self.bears(l, (i, a, b))) {
                let (force, moment) = load.on(a, b, a);
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
        out
    }

    /// What each support carries in its order while the chain moves, with these parts of weights and jacks
    /// and these forces of catches at their places: Newton on its bodies, supports that can lift push only.
    /// Nothing where the supports are more than rigid bodies can be told apart by, or a body has no mass.
    pub(super) fn moving(
        &self,
        (weights, jacks): (f64, f64),
        pushes: &[(f64, f64)],
    ) -> Option<SmallVec<[f64; 4]>> {
        let n = self.nodes.len();
        let loose: SmallVec<[Acting; 2]> =
            self.scene.reach(self.piece).map(|l| l.standing(self.piece)).collect();
        let part = |p: Part| match p {
            Part::Own => 1.0,
            Part::Weights => weights,
            Part::Jacks => jacks,
        };
        // [at both nodes], [own to own, own to the other, other to other]
        let (mut right, mut masses): (SmallVec<[f64; 4]>, SmallVec<[[f64; 3]; 4]>) =
            (smallvec![0.0; n], SmallVec::new());
        for (i, a, b) in self.bodies() {
            let mut mass = [0.0; 3];
            let loads = self.scene.on(self.piece).chain(&loose);
            for load in loads.filter(|l| self.bears(l, (i, a, b))) {
                let (share, l) = (part(load.part), b - a);
                let (force, moment) = load.on(a, b, a);
                let [m, first, second] = load.mass(a, b, a);
                let (t, tt) = (first / l, second / (l * l));
                let here = [m - 2.0 * t + tt, t - tt, tt];
                mass.iter_mut().zip(here).for_each(|(sum, one)| *sum += share * one);
                for (node, f) in [(i, force - moment / l), (i + 1, moment / l)] {
                    if let Some(v) = right.get_mut(node) {
                        *v += share * f;
                    }
                }
            }
            masses.push(mass);
        }
        for (at, force) in pushes {
            let (body, t) = self.shape(*at);
            for (node, f) in [(body, force * (1.0 - t)), (body + 1, force * t)] {
                if let Some(v) = right.get_mut(node) {
                    *v -= f;
                }
            }
        }
        let all: f64 = masses.iter().map(|[a, b, c]| a + 2.0 * b + c).sum();
        let mut seated: SmallVec<[bool; 4]> = smallvec![true; self.piece.supports.len()];
        for _ in 0..=self.piece.supports.len() {
            let ties = self.ties(&seated);
            let mut equations = Equations::new(n + ties.len());
            for (i, [own, both, other]) in masses.iter().enumerate() {
                let cells =
                    [(i, i, own), (i, i + 1, both), (i + 1, i, both), (i + 1, i + 1, other)];
                cells.iter().for_each(|(r, c, v)| equations.add(*r, *c, *v / all));
            }
            right.iter().enumerate().for_each(|(i, f)| equations.load(i, 0, *f));
            equations.tie(n, &ties);
            let found = equations.solved()?;
            let mut row = n;
            let mut carried: SmallVec<[f64; 4]> = SmallVec::new();
            for (seat, on) in self.piece.supports.iter().zip(&seated) {
                carried.push(if *on { found.at(row, 0) } else { 0.0 });
                row += if *on { if seat.turn { 2 } else { 1 } } else { 0 };
            }
            let pulls = self.piece.supports.iter().zip(&carried).enumerate();
            let pulls = pulls.filter(|(_, (s, f))| s.lifts && **f < 0.0);
            let Some((i, _)) = pulls.min_by(|a, b| a.1.1.total_cmp(b.1.1)) else {
                return Some(carried);
            };
            *seated.get_mut(i)? = false;
        }
        None
    }

    /// What every support that holds ties, in their order: parts of two nodes that do not move together.
    fn ties(&self, seated: &[bool]) -> SmallVec<[[(usize, f64); 2]; 4]> {
        let mut ties = SmallVec::new();
        for support in self.piece.supports.iter().zip(seated).filter(|(_, on)| **on).map(|s| s.0) {
            let (body, t) = self.shape(support.at);
            ties.push([(body, 1.0 - t), (body + 1, t)]);
            if support.turn {
                ties.push([(body, -1.0), (body + 1, 1.0)]);
            }
        }
        ties
    }

    /// The forces of the catches in their order; nothing where there is no rest.
    pub(super) fn settle(
        &self,
        gaps: bool,
        test: bool,
        loose: Option<(f64, f64)>,
    ) -> Option<SmallVec<[Share; 4]>> {
        self.rest(gaps, test, loose).map(|rest| rest.shares)
    }

    /// The catches with their gaps, and the loads with what is loose at a place.
    fn case(&self, gaps: bool, test: bool, loose: Option<(f64, f64)>) -> Case {
        let mut posts = self.posts.clone();
        if !gaps {
            posts.iter_mut().for_each(|p| p.gap = 0.0);
        }
        let mut loads = self.loads.clone();
        if !test {
            loads.iter_mut().for_each(|[_, w, j]| (*w, *j) = (0.0, 0.0));
        }
        if let Some((x, force)) = loose {
            let (body, t) = self.shape(x);
            for ([_, weights, _], part) in loads.iter_mut().skip(body).zip([1.0 - t, t]) {
                *weights += force * part;
            }
        }
        (posts, loads)
    }

    /// How far a place moves, times the unit stiffness, by one column.
    fn way(&self, moved: &Moved, x: f64, column: usize) -> f64 {
        let (body, t) = self.shape(x);
        moved.at(body, column) * (1.0 - t) + moved.at(body + 1, column) * t
    }

    /// How far a place moves in all.
    fn whole(&self, moved: &Moved, x: f64) -> f64 {
        (0..COLUMNS).map(|c| self.way(moved, x, c)).sum()
    }

    /// Force of a catch: way less gap, over its stiffness.
    fn push(&self, moved: &Moved, p: &Post) -> f64 {
        let unit = self.unit();
        (self.whole(moved, p.at) - p.gap * unit) * (p.stiffness / unit)
    }

    /// What every catch that touches and every support that can lift and holds pushes.
    fn pushes(
        &self,
        moved: &Moved,
        posts: &[Post],
        (touching, seated): (&[bool], &[bool]),
    ) -> SmallVec<[f64; 6]> {
        let on = posts.iter().zip(touching).filter(|(_, on)| **on);
        let mut all: SmallVec<[f64; 6]> = on.map(|(p, _)| self.push(moved, p)).collect();
        let mut row = self.nodes.len();
        for (seat, _) in self.piece.supports.iter().zip(seated).filter(|(_, on)| **on) {
            if seat.lifts {
                all.push((0..COLUMNS).map(|c| moved.at(row, c)).sum());
            }
            row += if seat.turn { 2 } else { 1 };
        }
        all
    }

    /// The forces with the loose load elsewhere, were the same catches and supports to push.
    fn with(&self, like: &Resting, gaps: bool, loose: (f64, f64)) -> Option<Resting> {
        let (posts, loads) = self.case(gaps, true, Some(loose));
        let moved = self.solve(&posts, &loads, &like.touching, &like.seated)?;
        let pushes = self.pushes(&moved, &posts, (&like.touching, &like.seated));
        Some(Resting { pushes, ..like.clone() })
    }

    /// How the piece comes to rest; nothing where it does not.
    fn rest(&self, gaps: bool, test: bool, loose: Option<(f64, f64)>) -> Option<Resting> {
        let (posts, loads) = self.case(gaps, test, loose);
        let unit = self.unit();
        let scale: f64 = loads.iter().flatten().map(|f| f.abs()).sum();
        let seats = &self.piece.supports;
        let mut touching: SmallVec<[bool; 4]> = smallvec![true; posts.len()];
        let mut seated: SmallVec<[bool; 4]> = smallvec![true; seats.len()];
        for round in 0..64 {
            // where all touch, what is left out of the loads is left out of the answer
            let moved = if round == 0 && loose.is_none() {
                self.whole.as_ref()?.without(gaps, test)
            } else {
                self.solve(&posts, &loads, &touching, &seated)?
            };
            let push = |p: &Post| self.push(&moved, p);
            let tolerance =
                1e-10 * (scale + unit * posts.iter().map(|p| p.gap).fold(0.0, f64::max));
            // the worst that pulls goes, then the worst that is passed comes
            let pulled = posts
                .iter()
                .zip(&touching)
                .enumerate()
                .filter(|(_, (_, on))| **on)
                .map(|(i, (p, _))| (push(p), true, i))
                .filter(|(force, ..)| *force < -tolerance);
            // the ties stand below the nodes, in the order of the supports that hold
            let mut row = self.nodes.len();
            let mut worst = pulled.min_by(|a, b| a.0.total_cmp(&b.0));
            for (i, (seat, _)) in seats.iter().zip(&seated).enumerate().filter(|s| *s.1.1) {
                let force: f64 = (0..COLUMNS).map(|c| moved.at(row, c)).sum();
                row += if seat.turn { 2 } else { 1 };
                if seat.lifts && force < -tolerance && worst.is_none_or(|w| force < w.0) {
                    worst = Some((force, false, i));
                }
            }
            if let Some((_, post, i)) = worst {
                let list = if post { &mut touching } else { &mut seated };
                *list.get_mut(i)? = false;
                continue;
            }
            let passed = posts
                .iter()
                .zip(&touching)
                .position(|(p, on)| !*on && push(p) > tolerance)
                .map(|i| (true, i));
            let passed = passed.or_else(|| {
                seats
                    .iter()
                    .zip(&seated)
                    .position(|(s, on)| !*on && self.whole(&moved, s.at) > tolerance)
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
                let of = |column: usize| self.way(&moved, p.at, column) * k;
                // what the gaps move goes with the weight that is always there
                let own = of(0) + of(3) - p.gap * p.stiffness;
                let (weights, jacks) = (of(1).max(0.0), of(2).max(0.0));
                let total = own + of(1) + of(2);
                Share { own: (total - weights - jacks).max(0.0), weights, jacks }
            });
            let shares = shares.collect();
            let pushes = self.pushes(&moved, &posts, (&touching, &seated));
            return Some(Resting { shares, pushes, touching, seated });
        }
        None
    }

    /// The stiffest catch: all stiffnesses are counted in it.
    fn unit(&self) -> f64 {
        let unit = self.posts.iter().map(|p| p.stiffness).fold(0.0, f64::max);
        if unit > 0.0 { unit } else { 1.0 }
    }

    /// Movements of the nodes times the unit stiffness, below them the forces of the supports that
    /// hold (of one that holds rotation also its moment), a column each; nothing where a movement
    /// is free.
    fn solve(
        &self,
        posts: &[Post],
        loads: &[[f64; 3]],
        touching: &[bool],
        seated: &[bool],
    ) -> Option<Moved> {
        let (n, unit) = (self.nodes.len(), self.unit());
        let ties = self.ties(seated);
        let mut equations = Equations::new(n + ties.len());
        for (post, _) in posts.iter().zip(touching).filter(|(_, on)| **on) {
            let (body, t) = self.shape(post.at);
            let k = post.stiffness / unit;
            let ends = [(body, 1.0 - t), (body + 1, t)];
            for (i, a) in ends {
                for (j, b) in ends {
                    equations.add(i, j, k * a * b);
                }
                equations.load(i, 3, post.stiffness * post.gap * a);
            }
        }
        for (i, load) in loads.iter().enumerate() {
            for (c, force) in load.iter().enumerate() {
                equations.load(i, c, *force);
            }
        }
        equations.tie(n, &ties);
        equations.solved()
    }
}

/// Catches and loads of one case.
type Case = (SmallVec<[Post; 4]>, SmallVec<[[f64; 3]; 4]>);

/// A piece at rest.
#[derive(Clone)]
struct Resting {
    /// What every catch carries.
    shares: SmallVec<[Share; 4]>,
    /// The forces that only push: catches that touch, then supports that can lift.
    pushes: SmallVec<[f64; 6]>,
    touching: SmallVec<[bool; 4]>,
    seated: SmallVec<[bool; 4]>,
}

/// What moves, a row each, a column for own weight, weights, jacks and gaps.
struct Moved(SmallVec<[[f64; COLUMNS]; 6]>);

impl Moved {
    fn at(&self, row: usize, column: usize) -> f64 {
        self.0.get(row).and_then(|r| r.get(column)).copied().unwrap_or(0.0)
    }

    /// The same without what gaps or test load bring.
    fn without(&self, gaps: bool, test: bool) -> Self {
        let part = |on: bool| if on { 1.0 } else { 0.0 };
        let (gaps, test) = (part(gaps), part(test));
        let all = self
            .0
            .iter()
            .map(|[own, weights, jacks, gap]| [*own, weights * test, jacks * test, gap * gaps]);
        Self(all.collect())
    }
}

/// A few equations: coefficients of the order of one, row by row, and what stands on the right.
struct Equations {
    rows: SmallVec<[SmallVec<[f64; 6]>; 6]>,
    right: SmallVec<[[f64; COLUMNS]; 6]>,
}

impl Equations {
    fn new(size: usize) -> Self {
        let row: SmallVec<[f64; 6]> = smallvec![0.0; size];
        Self { rows: smallvec![row; size], right: smallvec![[0.0; COLUMNS]; size] }
    }

    fn add(&mut self, row: usize, column: usize, value: f64) {
        if let Some(cell) = self.rows.get_mut(row).and_then(|r| r.get_mut(column)) {
            *cell += value;
        }
    }

    fn load(&mut self, row: usize, column: usize, value: f64) {
        if let Some(cell) = self.right.get_mut(row).and_then(|r| r.get_mut(column)) {
            *cell += value;
        }
    }

    /// Ties below the rows of the nodes, from this row on.
    fn tie(&mut self, from: usize, ties: &[[(usize, f64); 2]]) {
        for (tie, ends) in ties.iter().enumerate() {
            for (i, v) in ends {
                self.add(*i, from + tie, *v);
                self.add(from + tie, *i, *v);
            }
        }
    }

    /// Elimination with the largest pivot of each column; nothing where a movement is free.
    fn solved(mut self) -> Option<Moved> {
        let size = self.rows.len();
        let cell = |rows: &[SmallVec<[f64; 6]>], i: usize, j: usize| {
            rows.get(i).and_then(|r| r.get(j)).copied().unwrap_or(0.0)
        };
        for k in 0..size {
            let sized = |i: &usize| cell(&self.rows, *i, k).abs();
            let best = (k..size).max_by(|a, b| sized(a).total_cmp(&sized(b)).then(b.cmp(a)))?;
            if sized(&best) <= 1e-11 {
                return None;
            }
            self.rows.swap(k, best);
            self.right.swap(k, best);
            let (top, below) = self.rows.split_at_mut(k + 1);
            let (known, rest) = self.right.split_at_mut(k + 1);
            let (Some(row), Some(known)) = (top.last(), known.last()) else { return None };
            let pivot = row.get(k)?;
            for (other, right) in below.iter_mut().zip(rest) {
                let part = other.get(k)? / pivot;
                if part.abs() <= 0.0 {
                    continue;
                }
                other.iter_mut().zip(row).skip(k).for_each(|(a, b)| *a -= part * b);
                right.iter_mut().zip(known).for_each(|(a, b)| *a -= part * b);
            }
        }
        for k in (0..size).rev() {
            let (above, known) = self.right.split_at_mut(k);
            let known = known.first_mut()?;
            let pivot = cell(&self.rows, k, k);
            known.iter_mut().for_each(|v| *v /= pivot);
            for (row, right) in self.rows.iter().zip(above) {
                let part = row.get(k)?;
                right.iter_mut().zip(&*known).for_each(|(a, b)| *a -= part * b);
            }
        }
        Some(Moved(self.right))
    }
}
