//! Two cases side by side, piece by piece, inside an interval.

use crate::beam::{Actions, Poly, Segment};

/// A stretch on which both cases are polynomials in the same local coordinate.
#[derive(Clone, Copy, Debug)]
pub(super) struct Piece {
    pub(super) start: f64,
    pub(super) length: f64,
    pub(super) a: Segment,
    pub(super) b: Segment,
}

/// The pieces of `[from, to]`.
pub(super) fn pieces(a: &Actions, b: &Actions, from: f64, to: f64) -> Vec<Piece> {
    let mut out = Vec::with_capacity(a.segments().len() + b.segments().len());
    let tolerance = 1e-12 * to.abs().max(from.abs());
    let (mut i, mut j) = (0, 0);
    let mut x = from;
    while x < to - tolerance {
        let next = |list: &[Segment], k: &mut usize| -> Option<Segment> {
            while list.get(*k)?.end() <= x + tolerance {
                *k += 1;
            }
            list.get(*k).copied()
        };
        let (Some(sa), Some(sb)) = (next(a.segments(), &mut i), next(b.segments(), &mut j)) else {
            break;
        };
        let end = sa.end().min(sb.end()).min(to);
        let length = end - x;
        out.push(Piece {
            start: x,
            length,
            a: sa.part((x - sa.start).max(0.0), length),
            b: sb.part((x - sb.start).max(0.0), length),
        });
        x = end;
    }
    out
}

/// Where the ratio `p / q` may be extreme inside `[0, length]`: ends, and roots of `p′q − pq′`.
pub(super) fn ratio_candidates(p: &Poly, q: &Poly, length: f64, mut take: impl FnMut(f64)) {
    take(0.0);
    let derivative = p.derivative().times(q).plus(-1.0, &p.times(&q.derivative()));
    derivative.roots(length).as_slice().iter().for_each(|s| take(*s));
    take(length);
}
