//! A piece on several catches, with hinges in it: rigid bodies on springs that only push. SI.

use super::body::{Part, Piece, Post, Rest, Scene, Share};

/// Rigid bodies joined by the hinges of a piece: their movement is that of the nodes.
pub(super) struct Chain<'a> {
    pub(super) scene: &'a Scene,
    pub(super) piece: &'a Piece,
    pub(super) nodes: &'a [f64],
}

/// Columns on the right of the equations: own, weights, jacks, gaps.
const COLUMNS: usize = 4;

impl Scene {
    /// Rest on several catches: a rigid chain on springs that only push. For every catch the
    /// largest of: gaps closed evenly or as given, with the test load or without, loose load
    /// wherever on the piece it can slide to. Where it slides too far the piece tips; just before
    /// that the catches carry most.
    pub(super) fn contact(&self, piece: &Piece) -> Rest {
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
        let mut raise = |found: Vec<Share>| {
            for (slot, share) in best.iter_mut().zip(found) {
                if share.total() > slot.1.total() {
                    slot.1 = share;
                }
            }
        };
        let mut tips = false;
        for gaps in [false, true] {
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

/// Halvings between a place of loose load where a piece rests and one where it tips.
const HALVED: usize = 44;

impl Chain<'_> {
    /// The places of loose load among which are the worst: ends and hinges of the piece, its catches
    /// and supports. On a piece with one support it slides to the side that drops.
    fn slides(&self) -> Vec<f64> {
        let same = self.scene.same();
        let posts = self.piece.catches.iter().filter_map(|c| self.scene.posts.get(*c));
        let mut places: Vec<f64> = self.nodes.to_vec();
        places.extend(posts.map(|p| p.at));
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
    /// does and one where it tips.
    fn limit(&self, gaps: bool, loose: f64, (rest, off): (f64, f64)) -> Option<Vec<Share>> {
        let (mut rest, mut off) = (rest, off);
        let mut found = None;
        for _ in 0..HALVED {
            let x = f64::midpoint(rest, off);
            match self.settle(gaps, true, Some((x, loose))) {
                Some(shares) => (rest, found) = (x, Some(shares)),
                None => off = x,
            }
        }
        found
    }

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
    fn forces(&self, loose: Option<(f64, f64)>) -> Vec<[f64; 3]> {
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
        if let Some((x, force)) = loose {
            for (node, part) in out.iter_mut().zip(self.shape(x)) {
                let [_, weights, _] = node;
                *weights += force * part;
            }
        }
        out
    }

    /// The forces of the catches in their order; nothing where there is no rest.
    pub(super) fn settle(
        &self,
        gaps: bool,
        test: bool,
        loose: Option<(f64, f64)>,
    ) -> Option<Vec<Share>> {
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
