//! A piece of the member as a rigid body: what loads it and what holds it. SI throughout.

use smallvec::{SmallVec, smallvec};

use crate::beam::{Beam, Load, Restraint};
use crate::units::{Force, Length, LineLoad, Moment};

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
    pub(super) fn on(&self, from: f64, to: f64, pivot: f64) -> (f64, f64) {
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

impl Acting {
    /// Weight that is a mass, its first and its second moment about `pivot`: what pulls up has none.
    pub(super) fn mass(&self, from: f64, to: f64, pivot: f64) -> [f64; 3] {
        if self.part == Part::Jacks {
            return [0.0; 3];
        }
        let lever = self.from - pivot;
        if self.to <= self.from {
            let force = self.force.max(0.0);
            return [force, force * lever, force * lever * lever];
        }
        let (a, b) = (self.from.max(from), self.to.min(to));
        if a >= b {
            return [0.0; 3];
        }
        let at = |x: f64| {
            let t = (x - self.from) / (self.to - self.from);
            (self.w_from + (self.w_to - self.w_from) * t).max(0.0)
        };
        let (wa, wb, c, r) = (at(a), at(b), b - a, a - pivot);
        let force = (wa + wb) * c / 2.0;
        let first = (wa + wb * 2.0) * c * c / 6.0;
        let second = (wa + wb * 3.0) * c * c * c / 12.0;
        [force, first + force * r, second + first * r * 2.0 + force * r * r]
    }

    /// What of it lies on a piece, as a load on a beam that begins where the piece does.
    pub(super) fn load(&self, from: f64, to: f64) -> Option<Load> {
        let si = Length::from_si;
        if self.to <= self.from {
            let at = si((self.from - from).clamp(0.0, to - from));
            return Some(if self.turn == 0.0 {
                Load::Point { at, force: Force::from_si(self.force) }
            } else {
                Load::Moment { at, moment: Moment::from_si(self.turn) }
            });
        }
        let (a, b) = (self.from.max(from), self.to.min(to));
        let at = |x: f64| {
            let t = (x - self.from) / (self.to - self.from);
            LineLoad::from_si(self.w_from + (self.w_to - self.w_from) * t)
        };
        let line = Load::Line { from: si(a - from), to: si(b - from), w_from: at(a), w_to: at(b) };
        (b > a).then_some(line)
    }
}

/// Water or a loose stack: all of it runs to where the piece drops.
#[derive(Clone, Copy, Debug)]
pub(super) struct Loose {
    pub(super) from: f64,
    pub(super) to: f64,
    pub(super) force: f64,
}

impl Loose {
    /// What of it stands on a piece before it slides.
    pub(super) fn standing(&self, piece: &Piece) -> Acting {
        let (a, b) = (self.from.max(piece.from), self.to.min(piece.to));
        if self.to <= self.from || b <= a {
            return Acting::point(Part::Weights, self.from, self.force);
        }
        let w = self.force / (self.to - self.from);
        Acting { from: a, to: b, w_from: w, w_to: w, ..Acting::point(Part::Weights, a, 0.0) }
    }
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
    pub(super) supports: SmallVec<[Held; 3]>,
    /// The catches under it, by their number.
    pub(super) catches: SmallVec<[usize; 4]>,
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
    Springs(SmallVec<[(usize, Share); 4]>),
    /// On its catches until loose load slides to its end and tips it off: the most they carry.
    Tips(SmallVec<[(usize, Share); 4]>),
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

    /// Whether a piece can turn about its only support so that this side of it drops: by its own
    /// weight, with or without what stands there before anything slides.
    pub(super) fn drops(&self, piece: &Piece, pivot: f64, side: f64) -> bool {
        let [own, weights, jacks] = self.sums(piece, pivot);
        let [own, weights, jacks] = [own.1 * side, weights.1 * side, jacks.1 * side];
        let slid = self.standing(piece, pivot, side);
        own + weights.max(0.0) + jacks.max(0.0) + slid > 1e-9 * (own.abs() + slid)
    }

    /// What of the loose load stands on this side of a place of a piece before it slides, as a moment.
    fn standing(&self, piece: &Piece, pivot: f64, side: f64) -> f64 {
        let each = self.reach(piece).map(|l| {
            let (a, b) = (l.from.max(piece.from), l.to.min(piece.to));
            let (a, b) = if side > 0.0 { (a.max(pivot), b) } else { (a, b.min(pivot)) };
            let part = if l.to > l.from { ((b - a) / (l.to - l.from)).max(0.0) } else { 1.0 };
            l.force * part * (side * (f64::midpoint(a, b) - pivot)).max(0.0)
        });
        each.sum()
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
        let loose: f64 = self.reach(piece).map(|l| l.force).sum();
        let mut share = Share {
            own: (turns / lever).max(0.0),
            weights: (side * weights.1).max(0.0) / lever + loose * (arm / lever),
            jacks: (side * jacks.1).max(0.0) / lever,
        };
        // a bearing that only pushes does not hold down the other end of a seesaw over the catch
        let force = own.0 + weights.0 + jacks.0;
        let held_down = (turns + test.max(0.0)) / lever - force;
        let slight = 1e-9 * (force.abs() + loose);
        if pivot.lifts && held_down.max(turns / lever - own.0) > slight {
            return Rest::Falls;
        }
        let over = held_down + loose * (arm / lever - 1.0);
        if pivot.lifts && over > slight {
            share.weights = (share.weights - over).max(0.0);
            return Rest::Tips(smallvec![(catch, share)]);
        }
        // what stands beyond the pivot tips it away from the catch before it slides
        if loose > 0.0
            && turns + test.min(0.0) < self.standing(piece, pivot.at, -side) - 1e-9 * size
        {
            return Rest::Tips(smallvec![(catch, share)]);
        }
        Rest::Lever { pivot: pivot.at, catch, share }
    }
}
