//! Cases side by side, piece by piece, inside an interval.

use smallvec::{SmallVec, smallvec};

use super::poly::Poly;
use super::response::{Response, Side};
use super::segment::Segment;

/// A stretch on which every case is a polynomial in the same local coordinate.
pub(crate) struct Piece<'a> {
    pub(crate) start: f64,
    pub(crate) length: f64,
    /// The side from which a place alone is seen.
    pub(crate) side: Side,
    /// The segment of each case, by its place in the case.
    at: &'a [usize],
    cases: &'a [&'a Response],
}

impl Piece<'_> {
    /// The part of a segment on this piece.
    pub(crate) fn part(&self, segment: &Segment) -> Segment {
        segment.part((self.start - segment.start).max(0.0), self.length)
    }

    /// The segment of a case that has the grid of the case with this number.
    pub(crate) fn segment<'b>(&self, number: usize, case: &'b Response) -> Option<&'b Segment> {
        case.segments().get(*self.at.get(number)?)
    }

    /// The part of each case on this piece.
    pub(crate) fn parts(&self) -> impl Iterator<Item = Segment> {
        let own = self.cases.iter().zip(self.at).filter_map(|(c, i)| c.segments().get(*i));
        own.map(|s| self.part(s))
    }
}

/// Visits the pieces of `[from, to]` from left to right, without slivers shorter than the rounding of
/// a place; a place alone is a piece of no length from each side.
pub(crate) fn walk(cases: &[&Response], from: f64, to: f64, mut visit: impl FnMut(&Piece<'_>)) {
    let sliver = 1e-12 * cases.first().map_or(0.0, |c| c.length().si());
    let mut at: SmallVec<[usize; 4]> = smallvec![0; cases.len()];
    // goes on to the segments beyond `x`: where they have begun, and where the first ends
    let ahead = |at: &mut [usize], x: f64| -> Option<(f64, f64)> {
        let mut both = (f64::NEG_INFINITY, f64::INFINITY);
        for (i, case) in at.iter_mut().zip(cases) {
            let rest = case.segments().get(*i..)?;
            let skip = rest.iter().position(|s| s.end() > x)?;
            let segment = rest.get(skip)?;
            *i += skip;
            both = (both.0.max(segment.start), both.1.min(segment.end()));
        }
        Some(both)
    };
    if to - from <= sliver {
        for (side, x) in [(Side::Left, from - sliver), (Side::Right, from + sliver)] {
            if ahead(&mut at, x).is_some_and(|both| both.0 <= x) {
                visit(&Piece { start: from, length: 0.0, side, at: &at, cases });
            }
        }
    }
    let mut x = from;
    while x < to - sliver {
        let Some((_, end)) = ahead(&mut at, x + sliver) else { break };
        let end = end.min(to);
        visit(&Piece { start: x, length: end - x, side: Side::Right, at: &at, cases });
        x = end;
    }
}

/// `p′q − pq′`: its roots are where the ratio `p / q` turns.
pub(crate) fn turning(p: &Poly, q: &Poly) -> Poly {
    p.derivative().times(q).plus(-1.0, &p.times(&q.derivative()))
}

/// Whether a polynomial up to degree three surely rises or falls all over `[0, length]`: its slope
/// has one sign at both ends and a curvature of one sign between. `false` settles nothing.
pub(crate) fn monotone(p: &Poly, length: f64) -> bool {
    let slope = p.derivative();
    let bend = slope.derivative();
    p.degree() <= 3
        && slope.at(0.0) * slope.at(length) > 0.0
        && bend.at(0.0) * bend.at(length) >= 0.0
}
