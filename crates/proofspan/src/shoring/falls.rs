//! What can fall: every place of a crack or hinge in a region in doubt, both pieces each.
//!
//! A crack passes no shear and no moment, and neither does a hinge that has opened. The piece
//! on either side hangs on the supports and catches under it. Between two places where a
//! support, catch, hinge or edge of a load stands, the force about one support on one catch
//! has its extremes at the ends: its slope is the load at the crack times a lever, and neither
//! changes sign. So these places decide, from both sides. Where three catches or a hinge of
//! the member share, the places between are scanned and the largest is refined.

use smallvec::{SmallVec, smallvec};

use super::body::{Held, Piece, Rest, Scene, Share};
use crate::scope::Mode;

/// The moment that a stub at a bearing must carry, or how far its resultant lies off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum StubHeld {
    /// Cast in, with this strength.
    CastIn(f64),
    /// On a bearing of this length, the resultant within it.
    OnBearing(f64),
}

/// A piece that nothing holds, at the crack where it is largest.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Uncaught {
    pub(super) region: usize,
    pub(super) left: bool,
    pub(super) crack: f64,
    pub(super) from: f64,
    pub(super) to: f64,
    /// What all pieces that fall on this side have in common: there a catch would have to stand.
    pub(super) common: (f64, f64),
    /// How many supports the largest has.
    pub(super) supports: usize,
    /// Whether its catches hold it but for loose load that slides to its end.
    pub(super) tips: bool,
}

/// A piece that hangs on its supports alone, over the nearest of which it reaches to the crack.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Hangs {
    pub(super) support: f64,
    pub(super) crack: f64,
    pub(super) moment: f64,
}

/// One failure: where the crack is and what every catch carries.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Fall {
    /// The region and whether the line is released elsewhere: falls of one group vary with the crack.
    pub(super) group: usize,
    pub(super) crack: f64,
    pub(super) shares: SmallVec<[Share; 4]>,
    /// Pieces that rest on one lever, for the working: the piece, its pivot, the catch.
    pub(super) levers: SmallVec<[(Piece, f64, usize); 2]>,
}

/// Everything that was found.
#[derive(Clone, Debug, Default)]
pub(super) struct Falls {
    /// The failures among which are the worst of every catch, from left to right in every group.
    pub(super) all: Vec<Fall>,
    pub(super) uncaught: Vec<Uncaught>,
    pub(super) hangs: Vec<Hangs>,
    /// The largest moment of a stub at its support, where one is cast in.
    pub(super) stub: Option<f64>,
}

/// Which side of a crack holds what stands right under it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Under {
    Left,
    Right,
    Both,
}

/// A region in doubt, SI.
#[derive(Clone, Copy, Debug)]
pub(super) struct Region {
    pub(super) mode: Mode,
    pub(super) from: f64,
    pub(super) to: f64,
}

/// How many places between two others are looked at where catches share.
pub(super) const SCANNED: u32 = 32;
/// Steps of the refinement about the largest.
const REFINED: usize = 60;

/// The place between two others where a value that has one top there is largest, by golden section.
pub(super) fn largest((mut low, mut high): (f64, f64), of: impl Fn(f64) -> f64) -> f64 {
    let golden = f64::midpoint(5.0_f64.sqrt(), -1.0);
    let at = |x: f64| (x, of(x));
    let (mut p, mut q) = (at(high - (high - low) * golden), at(low + (high - low) * golden));
    // one of the two places inside stays where the other end comes nearer
    for _ in 0..REFINED {
        if p.1 > q.1 {
            (high, q) = (q.0, p);
            p = at(high - (high - low) * golden);
        } else {
            (low, p) = (p.0, q);
            q = at(low + (high - low) * golden);
        }
    }
    f64::midpoint(low, high)
}

pub(super) struct Search<'a> {
    pub(super) scene: &'a Scene,
    pub(super) regions: &'a [Region],
    pub(super) stub: Option<StubHeld>,
    found: Falls,
    group: usize,
}

impl<'a> Search<'a> {
    pub(super) fn new(scene: &'a Scene, regions: &'a [Region], stub: Option<StubHeld>) -> Self {
        Self { scene, regions, stub, found: Falls::default(), group: 0 }
    }

    /// Every failure of every region.
    pub(super) fn run(mut self) -> Falls {
        for (i, region) in self.regions.iter().enumerate() {
            let released = self.released(i);
            self.region(i, region, &[]);
            if !released.is_empty() {
                self.region(i, region, &released);
            }
        }
        self.found.all.sort_by(|a, b| a.group.cmp(&b.group).then(a.crack.total_cmp(&b.crack)));
        self.found
    }

    /// Inner supports where hogging is in doubt in another region: the line becomes spans of their
    /// own there.
    pub(super) fn released(&self, own: usize) -> Vec<f64> {
        let same = self.scene.same();
        let inner = |x: f64| x > same && x < self.scene.length - same;
        let doubted = |x: f64| {
            let over = |r: &&Region| x >= r.from - same && x <= r.to + same;
            let others = self.regions.iter().enumerate().filter(|(i, _)| *i != own).map(|r| r.1);
            others.filter(|r| r.mode == Mode::Hogging).any(|r| over(&r))
        };
        self.scene.supports.iter().map(|s| s.at).filter(|x| inner(*x) && doubted(*x)).collect()
    }

    pub(super) fn places(&self, region: &Region) -> Vec<f64> {
        let same = self.scene.same();
        let scene = self.scene;
        let mut places = vec![region.from, region.to];
        let inside = |x: &f64| *x > region.from + same && *x < region.to - same;
        places.extend(scene.supports.iter().map(|s| s.at).filter(inside));
        places.extend(scene.posts.iter().map(|p| p.at).filter(inside));
        places.extend(scene.hinges.iter().copied().filter(inside));
        places.extend(scene.acting.iter().flat_map(|l| [l.from, l.to]).filter(inside));
        places.extend(scene.loose.iter().flat_map(|l| [l.from, l.to]).filter(inside));
        places.sort_by(f64::total_cmp);
        places.dedup_by(|b, a| *b - *a <= same);
        places
    }

    fn region(&mut self, index: usize, region: &Region, cuts: &[f64]) {
        self.group += 1;
        let same = self.scene.same();
        let at = |x: f64, y: f64| (x - y).abs() <= same;
        let places = self.places(region);
        for x in &places {
            let support = self.scene.supports.iter().any(|s| at(s.at, *x));
            let post = self.scene.posts.iter().any(|p| at(p.at, *x));
            if *x > region.from + same {
                self.crack(index, *x, Under::Right, cuts);
            }
            if support {
                self.crack(index, *x, Under::Both, cuts);
            }
            if post {
                self.over(*x, cuts);
            }
            // last: the next failure to the right goes on from this one
            if *x < region.to - same && (support || post || at(*x, region.from)) {
                self.crack(index, *x, Under::Left, cuts);
            }
        }
        // where a piece begins to tip, its catches carry most: between two places
        let tips = self.found.uncaught.iter().any(|u| u.region == index && u.tips);
        let shared = self.scene.posts.len() >= 3 || !self.scene.hinges.is_empty() || tips;
        for (a, b) in places.iter().zip(places.iter().skip(1)) {
            if !shared {
                self.crack(index, f64::midpoint(*a, *b), Under::Both, cuts);
                continue;
            }
            let before = self.found.all.len();
            for i in 1..SCANNED {
                let t = f64::from(i) / f64::from(SCANNED);
                self.crack(index, a + (b - a) * t, Under::Both, cuts);
            }
            self.refine(index, (*a, *b), before, cuts);
        }
    }

    /// The largest share of every catch between two places, by golden section about the largest scanned.
    fn refine(&mut self, index: usize, (a, b): (f64, f64), before: usize, cuts: &[f64]) {
        let step = (b - a) / f64::from(SCANNED);
        for catch in 0..self.scene.posts.len() {
            let total = |f: &Fall| f.shares.get(catch).map_or(0.0, Share::total);
            let scanned = self.found.all.iter().skip(before).take(SCANNED as usize - 1);
            let Some(best) = scanned.max_by(|p, q| total(p).total_cmp(&total(q))) else { continue };
            let ends = ((best.crack - step).max(a), (best.crack + step).min(b));
            let top = largest(ends, |x| total(&self.fall(x, Under::Both, cuts)));
            self.crack(index, top, Under::Both, cuts);
        }
    }

    /// The two pieces of a crack, each up to the next cut.
    pub(super) fn pieces(&self, x: f64, under: Under, cuts: &[f64]) -> [Piece; 2] {
        let same = self.scene.same();
        let apart = |c: &&f64| (**c - x).abs() > same;
        let from = cuts.iter().filter(apart).filter(|c| **c < x).copied().fold(0.0, f64::max);
        let to = cuts
            .iter()
            .filter(apart)
            .filter(|c| **c > x)
            .copied()
            .fold(self.scene.length, f64::min);
        let piece = |from: f64, to: f64, side: Under| {
            let holds = |at: f64| {
                let within = at >= from - same && at <= to + same;
                within && ((at - x).abs() > same || under == Under::Both || under == side)
            };
            Piece {
                from,
                to,
                supports: self.scene.supports.iter().filter(|s| holds(s.at)).copied().collect(),
                catches: self
                    .scene
                    .posts
                    .iter()
                    .enumerate()
                    .filter(|(_, p)| holds(p.at))
                    .map(|(i, _)| i)
                    .collect(),
                bare: None,
            }
        };
        [piece(from, x, Under::Left), piece(x, to, Under::Right)]
    }

    /// A failure in which no catch carries anything yet.
    fn none(&self, crack: f64) -> Fall {
        let shares = smallvec![Share::default(); self.scene.posts.len()];
        Fall { group: self.group, crack, shares, levers: SmallVec::new() }
    }

    /// What every catch carries at one crack, without a record of what falls.
    fn fall(&self, x: f64, under: Under, cuts: &[f64]) -> Fall {
        let mut fall = self.none(x);
        for piece in self.pieces(x, under, cuts) {
            if piece.to - piece.from > self.scene.same() {
                self.load(&mut fall, &piece, &self.scene.rest(&piece), x);
            }
        }
        fall
    }

    /// Puts a piece at rest on its catches. One that its supports hold counts as if it were hinged
    /// over the support nearest to the crack: its strength to hang on is not credited.
    fn load(&self, fall: &mut Fall, piece: &Piece, rest: &Rest, crack: f64) {
        match rest {
            Rest::Lever { pivot, catch, share } => {
                if let Some(slot) = fall.shares.get_mut(*catch) {
                    *slot = slot.and(share);
                }
                fall.levers.push((piece.clone(), *pivot, *catch));
            }
            Rest::Springs(list) | Rest::Tips(list) => {
                for (catch, share) in list {
                    if let Some(slot) = fall.shares.get_mut(*catch) {
                        *slot = slot.and(share);
                    }
                }
            }
            Rest::Supports => {
                if let Some(hinged) = self.hinged(piece, crack) {
                    let rest = self.scene.rest(&hinged);
                    if rest != Rest::Supports {
                        self.load(fall, &hinged, &rest, crack);
                    }
                }
            }
            Rest::Falls => {}
        }
    }

    /// The part of a piece between the crack and the support nearest to it, hinged there, where a
    /// catch stands under it.
    pub(super) fn hinged(&self, piece: &Piece, crack: f64) -> Option<Piece> {
        let nearest = self.nearest(piece, crack)?;
        let (from, to) = if nearest.at > crack { (crack, nearest.at) } else { (nearest.at, crack) };
        let same = self.scene.same();
        let under = |c: &&usize| {
            self.scene.posts.get(**c).is_some_and(|p| p.at >= from - same && p.at <= to + same)
        };
        let catches: SmallVec<[usize; 4]> = piece.catches.iter().filter(under).copied().collect();
        (!catches.is_empty() && to - from > same).then(|| Piece {
            from,
            to,
            supports: smallvec![Held { turn: false, lifts: false, ..nearest }],
            catches,
            bare: piece.bare,
        })
    }

    fn nearest(&self, piece: &Piece, crack: f64) -> Option<Held> {
        let far = |s: &Held| (s.at - crack).abs();
        piece.supports.iter().min_by(|a, b| far(a).total_cmp(&far(b))).copied()
    }

    fn crack(&mut self, region: usize, x: f64, under: Under, cuts: &[f64]) {
        let mut fall = self.none(x);
        for (left, piece) in [true, false].into_iter().zip(self.pieces(x, under, cuts)) {
            if piece.to - piece.from <= self.scene.same() {
                continue;
            }
            let rest = self.scene.rest(&piece);
            self.load(&mut fall, &piece, &rest, x);
            match rest {
                Rest::Falls => self.falls(region, x, left, &piece, false),
                Rest::Tips(_) => self.falls(region, x, left, &piece, true),
                Rest::Supports => self.hangs(x, &piece),
                _ => {}
            }
        }
        self.found.all.push(fall);
    }

    /// A crack right over a catch: both pieces come down on it; a force that stands there does so once.
    fn over(&mut self, x: f64, cuts: &[f64]) {
        let same = self.scene.same();
        let [left, _] = self.pieces(x, Under::Left, cuts);
        let [_, mut right] = self.pieces(x, Under::Right, cuts);
        right.bare = Some(x);
        let mut fall = self.none(x);
        for piece in [left, right] {
            if piece.to - piece.from > same {
                self.load(&mut fall, &piece, &self.scene.rest(&piece), x);
            }
        }
        self.found.all.push(fall);
    }

    fn hangs(&mut self, crack: f64, piece: &Piece) {
        let Some(support) = self.nearest(piece, crack) else { return };
        if (support.at - crack).abs() <= self.scene.same() || self.hinged(piece, crack).is_some() {
            return;
        }
        let (from, to) = (support.at.min(crack), support.at.max(crack));
        let arm =
            Piece { from, to, supports: SmallVec::new(), catches: SmallVec::new(), bare: None };
        let sums = self.scene.sums(&arm, support.at);
        let loose: f64 =
            self.scene.reach(piece).map(|l| l.force * (crack - support.at).abs()).sum();
        let moment = sums.iter().map(|s| s.1).sum::<f64>().abs() + loose;
        let here = |h: &&mut Hangs| (h.support - support.at).abs() <= 0.0;
        match self.found.hangs.iter_mut().find(here) {
            Some(known) if known.moment >= moment => {}
            Some(known) => (known.crack, known.moment) = (crack, moment),
            None => self.found.hangs.push(Hangs { support: support.at, crack, moment }),
        }
    }

    fn falls(&mut self, region: usize, crack: f64, left: bool, piece: &Piece, tips: bool) {
        if self.stub_held(piece) {
            return;
        }
        let same = |u: &&mut Uncaught| u.region == region && u.left == left && u.tips == tips;
        match self.found.uncaught.iter_mut().find(same) {
            Some(known) => {
                known.common = (known.common.0.max(piece.from), known.common.1.min(piece.to));
                if piece.to - piece.from > known.to - known.from {
                    (known.crack, known.from, known.to) = (crack, piece.from, piece.to);
                    known.supports = piece.supports.len();
                }
            }
            None => self.found.uncaught.push(Uncaught {
                region,
                left,
                crack,
                from: piece.from,
                to: piece.to,
                common: (piece.from, piece.to),
                supports: piece.supports.len(),
                tips,
            }),
        }
    }

    /// Whether a piece on one support and no catch is shown to be held.
    fn stub_held(&mut self, piece: &Piece) -> bool {
        let ([support], []) = (piece.supports.as_slice(), piece.catches.as_slice()) else {
            return false;
        };
        let Some(stub) = self.stub else { return false };
        let [own, weights, jacks] = self.scene.sums(piece, support.at);
        let all = (own.0 + weights.0 + jacks.0, own.1 + weights.1 + jacks.1);
        let arm = |side: f64| Scene::farthest(piece, support.at, side);
        let loose: f64 = self.scene.reach(piece).map(|l| l.force).sum();
        let moments = [own.1, all.1, all.1 + loose * arm(1.0), all.1 - loose * arm(-1.0)];
        match stub {
            StubHeld::CastIn(strength) => {
                let moment = moments.iter().map(|m| m.abs()).fold(0.0, f64::max);
                self.found.stub = Some(self.found.stub.map_or(moment, |m| m.max(moment)));
                moment <= strength * (1.0 + crate::verdict::DESIGN_SLACK)
            }
            StubHeld::OnBearing(length) => {
                let forces = [own.0, all.0, all.0 + loose, all.0 + loose];
                let inside = |(m, f): (&f64, &f64)| m.abs() <= length / 2.0 * f.max(0.0);
                moments.iter().zip(&forces).all(inside)
            }
        }
    }
}
