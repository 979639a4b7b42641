//! Two cases side by side, piece by piece, inside an interval.

use super::actions::Actions;
use super::poly::Poly;
use super::segment::Segment;

/// A stretch on which both cases are polynomials in the same local coordinate.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Piece {
    pub(crate) start: f64,
    pub(crate) length: f64,
    pub(crate) a: Segment,
    pub(crate) b: Segment,
}

/// Visits the pieces of `[from, to]`, without slivers shorter than the rounding of a place.
pub(crate) fn pieces(a: &Actions, b: &Actions, from: f64, to: f64, mut visit: impl FnMut(&Piece)) {
    let tolerance = 1e-12 * a.length().si();
    let (mut rest_a, mut rest_b) = (a.segments(), b.segments());
    let mut x = from;
    while x < to - tolerance {
        let skip = |rest: &mut &[Segment]| {
            while let [first, tail @ ..] = *rest {
                if first.end() > x + tolerance {
                    break;
                }
                *rest = tail;
            }
        };
        skip(&mut rest_a);
        skip(&mut rest_b);
        let ([sa, ..], [sb, ..]) = (rest_a, rest_b) else { break };
        let end = sa.end().min(sb.end()).min(to);
        let length = end - x;
        let part = |s: &Segment| s.part((x - s.start).max(0.0), length);
        visit(&Piece { start: x, length, a: part(sa), b: part(sb) });
        x = end;
    }
}

/// Where the ratio `p / q` may be extreme inside `[0, length]`: ends, and roots of `p′q − pq′`.
pub(crate) fn ratio_candidates(p: &Poly, q: &Poly, length: f64, mut take: impl FnMut(f64)) {
    take(0.0);
    let derivative = p.derivative().times(q).plus(-1.0, &p.times(&q.derivative()));
    derivative.roots(length).as_slice().iter().for_each(|s| take(*s));
    take(length);
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
