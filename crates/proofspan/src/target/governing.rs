//! Which term governs, where, and where that changes.

use super::terms::{Target, Term};
use crate::beam::{Extreme, Inside, Poly, Response, Segment, Side, on_member, on_stretch};
use crate::error::{Error, Issue, slug};
use crate::scope::Mode;
use crate::units::{AreaLoad, Force, Length, LineLoad, LoadBasis, Moment, Net, Total};

/// The quantity that is asked.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
#[non_exhaustive]
pub enum Asked {
    /// The line load.
    Intensity,
    /// The shear; the largest in size governs.
    Shear,
    /// The moment in the sense of the doubt: where hogging is in doubt the largest hogging governs, where
    /// flexure is the largest sagging, and where shear is the largest in size.
    Moment,
    /// The sagging moment whatever is in doubt; the largest by sign governs.
    Sagging,
    /// The hogging moment; the smallest by sign governs.
    Hogging,
    /// The deflection; the largest downward governs.
    Deflection,
}

impl Asked {
    pub(crate) fn poly(self, segment: &Segment) -> Poly {
        match self {
            Self::Intensity => segment.load(),
            Self::Shear => segment.shear(),
            Self::Moment | Self::Sagging | Self::Hogging => segment.moment(),
            Self::Deflection => segment.deflection(),
        }
    }

    fn at(self, response: &Response, x: Length, side: Side) -> f64 {
        match self {
            Self::Intensity => response.inside().line_load(x, side).si(),
            Self::Shear => response.inside().shear(x, side).si(),
            Self::Moment | Self::Sagging | Self::Hogging => response.inside().moment(x, side).si(),
            Self::Deflection => response.inside().deflection(x).si(),
        }
    }

    /// The same with the sense of the doubt put in.
    fn in_doubt(self, mode: Mode) -> Self {
        match (self, mode) {
            (Self::Moment, Mode::Hogging) => Self::Hogging,
            (Self::Moment, Mode::Flexure) => Self::Sagging,
            (own, _) => own,
        }
    }

    /// The size by which terms are compared.
    fn rank(self, value: f64) -> f64 {
        match self {
            Self::Shear | Self::Moment => value.abs(),
            Self::Hogging => -value,
            _ => value,
        }
    }
}

/// The governing value of a quantity.
#[derive(Clone, Copy, PartialEq, Debug)]
#[non_exhaustive]
pub struct Governing<Q> {
    /// The value.
    pub value: Q,
    /// The governing term, by its place in the list of terms.
    pub term: usize,
    /// Whether another term comes within 1e-9 of it.
    pub tied: bool,
    /// Another term that comes within 1 % of it: a small change of an input may change which
    /// one governs (library rule).
    pub near: Option<usize>,
}

impl<Q> Governing<Q> {
    fn map<P>(self, turn: impl FnOnce(Q) -> P) -> Governing<P> {
        Governing { value: turn(self.value), term: self.term, tied: self.tied, near: self.near }
    }
}

/// Terms nearer than this part of the largest are a near tie.
const NEAR: f64 = 0.01;

crate::answer! {
    /// A place where the governing term changes.
    pub struct Crossing {
        /// Whether the terms are compared by what the rig adds, or by everything that acts.
        basis: LoadBasis,
        /// The place.
        at: Length,
        /// The term that governs left of it, by its place in the list of terms.
        left: usize,
        /// The term that governs right of it.
        right: usize,
    }
}

fn response(term: &Term, basis: LoadBasis) -> &Response {
    if basis == LoadBasis::Total { &term.total } else { &term.net }
}

impl Target {
    /// The values at places that are known to be on the member, without asking again.
    pub(crate) const fn inside(&self) -> Inside<'_, Self> {
        Inside(self)
    }

    /// Refuses a target without terms.
    fn some(&self) -> Result<Inside<'_, Self>, Error> {
        if self.terms.is_empty() {
            return Err(Issue::new(slug::BEAM_CASES, "terms", "no term").into());
        }
        Ok(self.inside())
    }

    fn on_member(&self, x: Length) -> Result<Inside<'_, Self>, Error> {
        on_member(self.beam.length(), x)?;
        self.some()
    }

    /// What governs a quantity at `x`: its value in SI, its term.
    ///
    /// # Errors
    /// `beam.place-outside` beyond the member.
    pub fn governing(
        &self,
        asked: Asked,
        basis: LoadBasis,
        x: Length,
        side: Side,
    ) -> Result<Governing<f64>, Error> {
        Ok(self.on_member(x)?.governing(asked, basis, x, side))
    }
    /// Net shear that governs at `x`, the largest in size.
    ///
    /// # Errors
    /// `beam.place-outside` beyond the member.
    pub fn shear(&self, x: Length, side: Side) -> Result<Governing<Net<Force>>, Error> {
        Ok(self.on_member(x)?.shear(x, side))
    }
    /// Total shear that governs at `x`.
    ///
    /// # Errors
    /// `beam.place-outside` beyond the member.
    pub fn total_shear(&self, x: Length, side: Side) -> Result<Governing<Total<Force>>, Error> {
        Ok(self.on_member(x)?.total_shear(x, side))
    }
    /// Net moment that governs at `x` in the sense of the doubt ([`Asked::Moment`]).
    ///
    /// # Errors
    /// `beam.place-outside` beyond the member.
    pub fn moment(&self, x: Length) -> Result<Governing<Net<Moment>>, Error> {
        Ok(self.on_member(x)?.moment(x))
    }
    /// Total moment that governs at `x` in the sense of the doubt.
    ///
    /// # Errors
    /// `beam.place-outside` beyond the member.
    pub fn total_moment(&self, x: Length) -> Result<Governing<Total<Moment>>, Error> {
        Ok(self.on_member(x)?.total_moment(x))
    }
    /// Net hogging moment that governs at `x`, whatever is in doubt.
    ///
    /// # Errors
    /// `beam.place-outside` beyond the member.
    pub fn hogging(&self, x: Length) -> Result<Governing<Net<Moment>>, Error> {
        Ok(self.on_member(x)?.hogging(x))
    }
    /// Net line load that governs at `x`.
    ///
    /// # Errors
    /// `beam.place-outside` beyond the member.
    pub fn intensity(&self, x: Length, side: Side) -> Result<Governing<Net<LineLoad>>, Error> {
        Ok(self.on_member(x)?.intensity(x, side))
    }
    /// Total line load that governs at `x`.
    ///
    /// # Errors
    /// `beam.place-outside` beyond the member.
    pub fn total_intensity(
        &self,
        x: Length,
        side: Side,
    ) -> Result<Governing<Total<LineLoad>>, Error> {
        Ok(self.on_member(x)?.total_intensity(x, side))
    }
    /// Total intensity over the tributary width that governs at `x`.
    ///
    /// # Errors
    /// `beam.place-outside` beyond the member.
    pub fn total_pressure(
        &self,
        x: Length,
        side: Side,
        width: Length,
    ) -> Result<Governing<Total<AreaLoad>>, Error> {
        Ok(self.on_member(x)?.total_pressure(x, side, width))
    }
    /// Net deflection that governs at `x`, soft prediction.
    ///
    /// # Errors
    /// `beam.place-outside` beyond the member.
    pub fn deflection(&self, x: Length) -> Result<Governing<Net<Length>>, Error> {
        Ok(self.on_member(x)?.deflection(x))
    }

    /// The resultant of the line load between two places that governs: each term's own.
    ///
    /// # Errors
    /// `beam.place-outside` for bounds beyond the member or reversed.
    pub fn resultant(
        &self,
        basis: LoadBasis,
        from: Length,
        to: Length,
    ) -> Result<Governing<Force>, Error> {
        on_stretch(self.beam.length(), from, to)?;
        Ok(self.some()?.resultant(basis, from, to))
    }

    /// The largest value of the envelope on `[from, to]`, and its term. For shear the
    /// largest in size, with its sign.
    ///
    /// # Errors
    /// `beam.place-outside` for bounds beyond the member or reversed.
    pub fn largest(
        &self,
        asked: Asked,
        basis: LoadBasis,
        from: Length,
        to: Length,
    ) -> Result<(Extreme<f64>, usize), Error> {
        on_stretch(self.beam.length(), from, to)?;
        let found = self.some()?.largest(asked, basis, from, to);
        found.ok_or_else(|| Issue::new(slug::BEAM_CASES, "terms", "no term").into())
    }

    /// Where the governing term of a quantity changes, from left to right, net or total. The difference
    /// of two terms is the same on both, but shears of opposite sign are compared by their size, and
    /// what is in place shifts both: net and total then change at different places. Exact: roots per
    /// polynomial piece.
    #[must_use]
    pub fn crossings(&self, asked: Asked, basis: LoadBasis) -> Vec<Crossing> {
        let asked = asked.in_doubt(self.mode);
        let terms: Vec<&[Segment]> =
            self.terms.iter().map(|t| response(t, basis).segments()).collect();
        let (mut polys, mut found) = (Vec::with_capacity(terms.len()), Vec::new());
        let mut noise = 0.0_f64;
        for segment in terms.iter().flat_map(|s| s.iter()) {
            noise = noise.max(NOISE * asked.poly(segment).at(segment.length / 2.0).abs());
        }
        let mut last: Option<usize> = None;
        for (k, segment) in self.in_place.segments().iter().enumerate() {
            polys.clear();
            polys.extend(terms.iter().filter_map(|s| s.get(k)).map(|s| asked.poly(s)));
            let race = Race { asked, polys: &polys, length: segment.length, noise };
            let mut s = 0.0;
            let mut now = last.unwrap_or_else(|| race.first());
            // so many changes at the most, should rounding let two terms overtake each other in turn
            for _ in 0..=5 * polys.len() {
                let Some((place, next)) = race.overtaken(now, s) else { break };
                let at = Length::from_si(segment.start + place);
                if last.is_some() || place > 0.0 {
                    found.push(Crossing { basis, at, left: now, right: next });
                }
                (s, now) = (place, next);
            }
            last = Some(now);
        }
        found
    }

    /// The name of a term.
    #[must_use]
    pub fn term_name(&self, term: usize) -> &str {
        self.terms.get(term).map_or("", |t| t.id.as_str())
    }
}

/// A value below this part of the largest is rounding.
const NOISE: f64 = 1e-12;

/// A change nearer to the end of a piece than this part of it stands at that end.
const BESIDE: f64 = 1e-9;

/// The terms on one segment, where each is one polynomial: which one governs, and up to where.
struct Race<'a> {
    asked: Asked,
    polys: &'a [Poly],
    length: f64,
    noise: f64,
}

impl Race<'_> {
    fn rank(&self, term: usize, s: f64) -> f64 {
        self.polys.get(term).map_or(f64::NEG_INFINITY, |p| self.asked.rank(p.at(s)))
    }

    /// Whether a term is above another by more than rounding.
    fn beats(&self, a: usize, b: usize, s: f64) -> bool {
        let (a, b) = (self.rank(a, s), self.rank(b, s));
        a - b > self.noise + 1e-9 * a.abs().max(b.abs())
    }

    /// Where two terms are of one size, beyond `from`; what counts by size also where they are opposite.
    /// At the ends of a piece only rounding tells them apart.
    fn meetings(&self, a: usize, b: usize, from: f64, places: &mut Vec<f64>) {
        let (Some(a), Some(b)) = (self.polys.get(a), self.polys.get(b)) else { return };
        let by_size = matches!(self.asked, Asked::Shear | Asked::Moment);
        let signs: &[f64] = if by_size { &[-1.0, 1.0] } else { &[-1.0] };
        let end = BESIDE * self.length;
        for sign in signs {
            let roots = a.plus(*sign, b).roots(self.length);
            let within = |s: &&f64| **s > from.max(end) && **s < self.length - end;
            places.extend(roots.as_slice().iter().filter(within));
        }
    }

    /// The one of these terms that is above the others just right of `from`.
    fn leader(&self, terms: &[usize], from: f64, to: f64) -> usize {
        let mut places = Vec::new();
        for (i, a) in terms.iter().enumerate() {
            for b in terms.iter().skip(i + 1) {
                self.meetings(*a, *b, from, &mut places);
            }
        }
        let middle = f64::midpoint(from, places.into_iter().fold(to, f64::min));
        let mut best = terms.first().copied().unwrap_or(0);
        for term in terms {
            if self.beats(*term, best, middle) {
                best = *term;
            }
        }
        best
    }

    /// The term that governs at the left end.
    fn first(&self) -> usize {
        let all: Vec<usize> = (0..self.polys.len()).collect();
        self.leader(&all, 0.0, self.length)
    }

    /// Where a term that governs at `from` ceases to, and the one that does from there.
    fn overtaken(&self, now: usize, from: f64) -> Option<(f64, usize)> {
        let mut places = vec![from, self.length];
        for other in (0..self.polys.len()).filter(|i| *i != now) {
            self.meetings(now, other, from, &mut places);
        }
        places.sort_unstable_by(f64::total_cmp);
        for (a, b) in places.iter().zip(places.iter().skip(1)) {
            if b - a <= NOISE * self.length {
                continue;
            }
            let middle = f64::midpoint(*a, *b);
            let above: Vec<usize> =
                (0..self.polys.len()).filter(|i| self.beats(*i, now, middle)).collect();
            if !above.is_empty() {
                return Some((*a, self.leader(&above, *a, *b)));
            }
        }
        None
    }
}

impl Inside<'_, Target> {
    pub(crate) fn governing(
        self,
        asked: Asked,
        basis: LoadBasis,
        x: Length,
        side: Side,
    ) -> Governing<f64> {
        let asked = asked.in_doubt(self.0.mode);
        let mut best = Governing { value: f64::NAN, term: 0, tied: false, near: None };
        let within = |a: f64, b: f64, part: f64| (a - b).abs() <= part * a.abs().max(b.abs());
        for (term, t) in self.0.terms.iter().enumerate() {
            let value = asked.at(response(t, basis), x, side);
            let (rank, highest) = (asked.rank(value), asked.rank(best.value));
            let tied = within(rank, highest, 1e-9);
            if best.value.is_nan() || rank > highest {
                let known = !best.value.is_nan();
                let near = (known && within(rank, highest, NEAR)).then_some(best.term);
                best = Governing { value, term, tied: tied && known, near };
            } else if within(rank, highest, NEAR) {
                best.tied |= tied;
                best.near = best.near.or(Some(term));
            }
        }
        best
    }

    pub(crate) fn shear(self, x: Length, side: Side) -> Governing<Net<Force>> {
        self.governing(Asked::Shear, LoadBasis::Net, x, side).map(|v| Net(Force::from_si(v)))
    }
    pub(crate) fn total_shear(self, x: Length, side: Side) -> Governing<Total<Force>> {
        self.governing(Asked::Shear, LoadBasis::Total, x, side).map(|v| Total(Force::from_si(v)))
    }
    pub(crate) fn moment(self, x: Length) -> Governing<Net<Moment>> {
        self.governing(Asked::Moment, LoadBasis::Net, x, Side::Left)
            .map(|v| Net(Moment::from_si(v)))
    }
    pub(crate) fn total_moment(self, x: Length) -> Governing<Total<Moment>> {
        self.governing(Asked::Moment, LoadBasis::Total, x, Side::Left)
            .map(|v| Total(Moment::from_si(v)))
    }
    pub(crate) fn hogging(self, x: Length) -> Governing<Net<Moment>> {
        self.governing(Asked::Hogging, LoadBasis::Net, x, Side::Left)
            .map(|v| Net(Moment::from_si(v)))
    }
    pub(crate) fn intensity(self, x: Length, side: Side) -> Governing<Net<LineLoad>> {
        self.governing(Asked::Intensity, LoadBasis::Net, x, side).map(|v| Net(LineLoad::from_si(v)))
    }
    pub(crate) fn total_intensity(self, x: Length, side: Side) -> Governing<Total<LineLoad>> {
        self.governing(Asked::Intensity, LoadBasis::Total, x, side)
            .map(|v| Total(LineLoad::from_si(v)))
    }
    pub(crate) fn total_pressure(
        self,
        x: Length,
        side: Side,
        width: Length,
    ) -> Governing<Total<AreaLoad>> {
        self.total_intensity(x, side).map(|v| Total(v.0 / width))
    }
    pub(crate) fn deflection(self, x: Length) -> Governing<Net<Length>> {
        self.governing(Asked::Deflection, LoadBasis::Net, x, Side::Left)
            .map(|v| Net(Length::from_si(v)))
    }

    pub(crate) fn resultant(self, basis: LoadBasis, from: Length, to: Length) -> Governing<Force> {
        let of = |term: &Term| {
            // what the shear falls by, less the jumps of reactions and point loads on the way
            let parts = response(term, basis).segments().iter().filter_map(|s| {
                let (a, b) = (from.si().max(s.start), to.si().min(s.end()));
                let (p, q) = (a - s.start, b - s.start);
                (b > a).then(|| s.shear().at(p) - s.shear().at(q))
            });
            parts.sum::<f64>()
        };
        let mut best = Governing { value: f64::NEG_INFINITY, term: 0, tied: false, near: None };
        let within = |a: f64, b: f64, part: f64| (a - b).abs() <= part * a.abs().max(b.abs());
        for (term, t) in self.0.terms.iter().enumerate() {
            let value = of(t);
            let near = within(value, best.value, NEAR);
            if value > best.value {
                let tied = within(value, best.value, 1e-9);
                best = Governing { value, term, tied, near: near.then_some(best.term) };
            } else if near {
                best.tied |= within(value, best.value, 1e-9);
                best.near = best.near.or(Some(term));
            }
        }
        best.map(Force::from_si)
    }

    pub(crate) fn largest(
        self,
        asked: Asked,
        basis: LoadBasis,
        from: Length,
        to: Length,
    ) -> Option<(Extreme<f64>, usize)> {
        let asked = asked.in_doubt(self.0.mode);
        let mut best: Option<(Extreme<f64>, usize)> = None;
        for (i, term) in self.0.terms.iter().enumerate() {
            let found = response(term, basis).inside().extremes_of(from, to, |s| asked.poly(s));
            for extreme in [found.max, found.min] {
                if best.is_none_or(|(b, _)| asked.rank(extreme.value) > asked.rank(b.value)) {
                    best = Some((extreme, i));
                }
            }
        }
        best
    }
}
