//! The state at a cut, what jumps there, and how a segment carries it on.

use smallvec::SmallVec;

use super::segment::Segment;

/// w, ψ, M, V at one place.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct State {
    pub(super) w: f64,
    pub(super) r: f64,
    pub(super) m: f64,
    pub(super) v: f64,
}

impl State {
    /// The segment that begins with this state, its loads as they are.
    pub(super) const fn segment(self, bare: &Segment) -> Segment {
        Segment { v0: self.v, m0: self.m, r0: self.r, w0: self.w, ..*bare }
    }
}

impl Segment {
    /// The state at its right end.
    pub(super) fn after(&self) -> State {
        let h = self.length;
        State {
            w: self.deflection().at(h),
            r: self.rotation().at(h),
            m: self.moment().at(h),
            v: self.shear().at(h),
        }
    }
}

/// What jumps at the left edge of a segment.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Jump {
    pub(super) force: f64,
    pub(super) moment: f64,
    pub(super) rotation: f64,
    pub(super) step: f64,
}

impl Jump {
    pub(super) fn on(&self, s: State) -> State {
        State {
            w: s.w + self.step,
            r: s.r + self.rotation,
            m: s.m + self.moment,
            v: s.v - self.force,
        }
    }
}

/// Segments with the loads along them, and the jumps by the segment at whose left edge they stand.
pub(super) struct Loaded {
    pub(super) segments: Vec<Segment>,
    pub(super) jumps: SmallVec<[(usize, Jump); 4]>,
}

impl Loaded {
    /// The segments between two nodes, each with its jump. Force and moment that stand at the first
    /// node itself belong to the node.
    pub(super) fn between(&self, a: usize, b: usize) -> impl Iterator<Item = (&Segment, Jump)> {
        let part = self.segments.get(a..b).unwrap_or(&[]);
        part.iter().zip(jumps(&self.jumps, a))
    }

    /// The same, to be written.
    pub(super) fn between_mut(
        &mut self,
        a: usize,
        b: usize,
    ) -> impl Iterator<Item = (&mut Segment, Jump)> {
        let part = self.segments.get_mut(a..b).unwrap_or(&mut []);
        part.iter_mut().zip(jumps(&self.jumps, a))
    }
}

/// The jump at each segment from `a` on.
fn jumps(all: &[(usize, Jump)], a: usize) -> impl Iterator<Item = Jump> {
    let from = all.partition_point(|j| j.0 < a);
    let mut ahead = all.get(from..).unwrap_or(&[]);
    (a..).map(move |here| {
        let mut sum = Jump::default();
        while let [(at, jump), tail @ ..] = ahead {
            if *at > here {
                break;
            }
            if here > a {
                sum.force += jump.force;
                sum.moment += jump.moment;
            }
            sum.rotation += jump.rotation;
            sum.step += jump.step;
            ahead = tail;
        }
        sum
    })
}
