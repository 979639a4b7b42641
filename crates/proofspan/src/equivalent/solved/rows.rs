//! A requirement as a row `a(s)·p ≥ b(s)` for every s of a stretch.
//!
//! Between load edges, steps of the reference and crossings of terms every entry is a
//! polynomial, so where a row is violated most is found exactly: at an end of its stretch, taken
//! from its own side, or where the slope vanishes.

#[cfg(feature = "cone")]
use crate::beam::Shape;
use crate::beam::{Piece, Poly, Response, Segment, Side, bernstein_least, walk};
use crate::equivalent::asked::candidate::Unknown;
use crate::equivalent::asked::effect::BasisWord;
use crate::equivalent::asked::effect::Effect;
use crate::equivalent::asked::reference::{CROSSING, NOTHING, Reference};
use crate::equivalent::asked::requirement::{Requirement, Sense};
use crate::equivalent::asked::words::index;
use crate::units::{Force, Length};

/// Whose row it is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(in crate::equivalent) enum Source {
    /// A requirement, by its place in the list.
    Requirement(usize),
    /// The capacity of an unknown.
    Capacity(usize),
    /// The least force of an unknown.
    Least(usize),
    /// An objective, by its place in the list.
    Objective(usize),
}

/// A stretch on which one row holds for every s.
#[derive(Clone, Debug)]
pub(in crate::equivalent) struct Stretch {
    pub(in crate::equivalent) source: Source,
    /// The term that asks.
    pub(in crate::equivalent) term: Option<usize>,
    /// Its left end on the member; nothing for a row without a place.
    pub(in crate::equivalent) start: Option<f64>,
    pub(in crate::equivalent) length: f64,
    offset: usize,
    width: usize,
    pub(in crate::equivalent) b: Poly,
    /// What one unit of relaxation adds.
    pub(in crate::equivalent) e: Poly,
    /// What a violation is compared with.
    pub(in crate::equivalent) size: f64,
    /// Whether it only says that a force is not beyond what anybody would apply.
    pub(in crate::equivalent) implicit: bool,
    /// Whether the helper variable relaxes it.
    pub(in crate::equivalent) relaxed: bool,
    what: What,
}

/// What a row is made of.
#[derive(Clone, Copy, PartialEq, Debug)]
enum What {
    Shear,
    Moment,
    Deflection,
    Force,
}

impl What {
    fn poly(self, segment: &Segment) -> Poly {
        match self {
            Self::Shear => segment.shear(),
            Self::Moment => segment.moment(),
            Self::Deflection => segment.deflection(),
            Self::Force => Poly::default(),
        }
    }

    /// Coefficients that a carrier's uniform loads need.
    const fn width(self) -> usize {
        match self {
            Self::Shear | Self::Force => 2,
            Self::Moment => 3,
            Self::Deflection => 6,
        }
    }

    /// The first coefficients of a carrier from `s` on.
    fn shifted(self, segment: &Segment, s: f64) -> [f64; 6] {
        let (v, q) = (segment.v0 - segment.q0 * s, segment.q0);
        match self {
            Self::Shear => [v, -q, 0.0, 0.0, 0.0, 0.0],
            Self::Moment => {
                let m = segment.m0 + (segment.v0 - 0.5 * q * s) * s;
                [m, v, -0.5 * q, 0.0, 0.0, 0.0]
            }
            Self::Deflection => segment.part(s, segment.length - s).deflection().c,
            Self::Force => [0.0; 6],
        }
    }
}

impl From<Effect> for What {
    fn from(effect: Effect) -> Self {
        match effect {
            Effect::Shear => Self::Shear,
            Effect::Moment => Self::Moment,
        }
    }
}

/// What a piece is cut by: the grid of the carriers, and that of the reference.
const UNITS: usize = 0;
const OWN: usize = 1;

/// Rows of every requirement over the same unknowns.
#[derive(Clone, Debug, Default)]
pub(in crate::equivalent) struct Field {
    pub(in crate::equivalent) n: usize,
    coefficients: Vec<f64>,
    pub(in crate::equivalent) stretches: Vec<Stretch>,
}

/// What rows are made from: the unknowns under one newton each, the reference.
#[derive(Clone, Copy, Debug)]
pub(in crate::equivalent) struct Ground<'a> {
    pub(in crate::equivalent) units: &'a [Response],
    pub(in crate::equivalent) reference: &'a Reference,
}

fn constant(value: f64) -> Poly {
    Poly::new([value, 0.0, 0.0, 0.0, 0.0, 0.0])
}

fn times(k: f64, p: &Poly) -> Poly {
    Poly::default().plus(k, p)
}

impl Field {
    /// No row yet.
    pub(in crate::equivalent) fn empty(n: usize) -> Self {
        Self { n, ..Self::default() }
    }

    /// The rows of requirements, capacities and least forces; no force is above `beyond`.
    pub(in crate::equivalent) fn new(
        ground: Ground<'_>,
        unknowns: &[Unknown],
        requirements: &[Requirement],
        beyond: f64,
    ) -> Self {
        let mut field = Self::empty(ground.units.len());
        for (i, requirement) in requirements.iter().enumerate() {
            field.require(ground, Source::Requirement(i), requirement);
        }
        for (j, unknown) in unknowns.iter().enumerate() {
            let most = unknown.capacity.unwrap_or(beyond);
            field.single(Source::Capacity(j), &[(j, -1.0)], -most, 1.0, most);
            if let Some(last) = field.stretches.last_mut() {
                last.implicit = unknown.capacity.is_none();
            }
            if let Some(least) = unknown.least {
                field.single(Source::Least(j), &[(j, 1.0)], least, 1.0, least);
            }
        }
        field
    }

    /// A row without a place.
    pub(in crate::equivalent) fn single(
        &mut self,
        source: Source,
        a: &[(usize, f64)],
        b: f64,
        e: f64,
        size: f64,
    ) {
        let offset = self.coefficients.len();
        self.coefficients.extend(core::iter::repeat_n(0.0, self.n));
        for (j, value) in a {
            if let Some(place) = self.coefficients.get_mut(offset + j) {
                *place += value;
            }
        }
        self.stretches.push(Stretch {
            source,
            term: None,
            start: None,
            length: 0.0,
            offset,
            width: 1,
            b: constant(b),
            e: constant(e),
            size,
            implicit: false,
            relaxed: false,
            what: What::Force,
        });
    }

    pub(in crate::equivalent) fn require(
        &mut self,
        ground: Ground<'_>,
        source: Source,
        requirement: &Requirement,
    ) {
        for (from, to) in requirement.regions(ground.reference) {
            self.require_on(ground, source, requirement, (from.si(), to.si()));
        }
    }

    fn require_on(
        &mut self,
        ground: Ground<'_>,
        source: Source,
        requirement: &Requirement,
        (a, b): (f64, f64),
    ) {
        match requirement {
            Requirement::Reach(r) => {
                let terms = terms(ground.reference, r.case.as_deref());
                self.reach(ground, source, (r.effect, r.sense), &terms, (a, b));
            }
            Requirement::Within(r) => {
                let terms = terms(ground.reference, r.case.as_deref());
                let total = r.basis == BasisWord::Total;
                let cap = Cap { effect: r.effect, total, at_most: r.at_most, floor: r.floor };
                self.within(ground, source, cap, &terms, (a, b));
            }
            Requirement::MomentLimit(r) => {
                let high = r.sagging.map(|m| m.si() * r.share);
                let low = r.hogging.map(|m| -m.si() * r.share);
                self.band(ground, source, What::Moment, (low, high), (a, b));
            }
            Requirement::ShearLimit(r) => {
                let most = r.strength.si() * r.share;
                self.band(ground, source, What::Shear, (Some(-most), Some(most)), (a, b));
            }
            Requirement::DeflectionLimit(r) => {
                let (low, high) = (r.up.map(|u| -u.si()), r.down.map(Length::si));
                self.band(ground, source, What::Deflection, (low, high), (a, b));
            }
            Requirement::ReactionLimit(r) => {
                let of = |a: &Response| {
                    a.reactions().get(index(r.support)).map_or(0.0, |r| r.force.si())
                };
                let there = of(&ground.reference.in_place);
                let row = |sign: f64| -> Vec<(usize, f64)> {
                    ground.units.iter().map(|u| sign * of(u)).enumerate().collect()
                };
                for (limit, sign) in [(r.at_least, 1.0), (r.at_most, -1.0)] {
                    let Some(limit) = limit.map(Force::si) else { continue };
                    let size = there.abs().max(limit.abs()).max(ground.reference.pressed());
                    self.single(source, &row(sign), sign * (limit - there), 1.0, size);
                }
            }
            Requirement::ShearSpan(r) => {
                let total = r.basis == BasisWord::Total;
                let window = (r.at_least.map(Length::si), r.at_most.map(Length::si));
                self.window(ground, source, window, total, (a, b));
            }
        }
    }

    #[expect(clippy::too_many_arguments, reason = "a row is what it is")]
    fn push(
        &mut self,
        ground: Ground<'_>,
        source: Source,
        term: Option<usize>,
        piece: &Piece<'_>,
        (from, length): (f64, f64),
        combination: &[(f64, What)],
        (b, e, size): (Poly, Poly, f64),
    ) {
        let width = if length > 0.0 {
            combination.iter().map(|(_, w)| w.width()).max().unwrap_or(1)
        } else {
            1
        };
        let offset = self.coefficients.len();
        self.coefficients.resize(offset + width * self.n, 0.0);
        let place = self.coefficients.get_mut(offset..).unwrap_or_default();
        for (j, unit) in ground.units.iter().enumerate() {
            let Some(segment) = piece.segment(UNITS, unit) else { continue };
            let s = (piece.start + from - segment.start).max(0.0);
            for (k, what) in combination {
                let own = what.shifted(segment, s);
                for (row, c) in place.chunks_exact_mut(self.n).zip(own) {
                    if let Some(entry) = row.get_mut(j) {
                        *entry += k * c;
                    }
                }
            }
        }
        let start = Some(piece.start + from);
        let what = combination.first().map_or(What::Force, |c| c.1);
        self.stretches.push(Stretch {
            source,
            term,
            start,
            length,
            offset,
            width,
            b,
            e,
            size,
            implicit: false,
            relaxed: false,
            what,
        });
    }

    fn reach(
        &mut self,
        ground: Ground<'_>,
        source: Source,
        (effect, sense): (Effect, Option<Sense>),
        terms: &[usize],
        (from, to): (f64, f64),
    ) {
        let what = What::from(effect);
        let bounds: Vec<(f64, f64)> =
            terms.iter().map(|i| ends(ground.reference, *i, effect, from, to)).collect();
        let scale = bounds.iter().fold(0.0_f64, |m, (low, high)| m.max(high.abs()).max(low.abs()));
        let nothing = (NOTHING * scale).max(ground.reference.noise(effect));
        pieces(ground, from, to, |piece| {
            for (term, (low, high)) in terms.iter().zip(&bounds) {
                let Some(q) = own(ground.reference, *term, what, piece) else { continue };
                // at a place each side has its own sign
                let crosses = to > from && *low < -nothing && *high > nothing;
                let both = crosses && sense.is_none();
                let floor = if both { CROSSING * scale } else { nothing };
                let mut cuts = Cuts::new(piece.length);
                if crosses && !both {
                    cuts.at_roots(&q);
                }
                if both {
                    cuts.at_roots(&q.plus(-floor, &Poly::ONE));
                    cuts.at_roots(&q.plus(floor, &Poly::ONE));
                }
                cuts.parts(|s, t| {
                    let middle = [s, t, f64::midpoint(s, t)].map(|s| q.at(s));
                    let value =
                        middle.iter().fold(0.0, |m: f64, v| if v.abs() > m.abs() { *v } else { m });
                    let inside =
                        if crosses { middle.last().copied().unwrap_or(value) } else { value };
                    // a part between a carrier and a zero of the reference may be short
                    let size = if both { inside } else { value };
                    if size.abs() <= floor || !Sense::takes(sense, inside) {
                        return;
                    }
                    let sign = inside.signum();
                    if what == What::Moment {
                        self.slopes(ground, source, *term, piece, (s, t), (sign, &q, nothing));
                    }
                    let b = times(sign, &shifted(&q, s));
                    let row = (b, b, scale);
                    self.push(ground, source, Some(*term), piece, (s, t - s), &[(sign, what)], row);
                });
            }
        });
    }

    /// Where moment and reference vanish together, as at a bearing, their slopes count: without this a
    /// test could fall short there by a ratio that the moment itself does not show.
    fn slopes(
        &mut self,
        ground: Ground<'_>,
        source: Source,
        term: usize,
        piece: &Piece<'_>,
        (from, to): (f64, f64),
        (sign, q, nothing): (f64, &Poly, f64),
    ) {
        for (s, side) in [(from, 1.0), (to, -1.0)] {
            let end = (s <= 0.0 && side > 0.0) || (s >= piece.length && side < 0.0);
            let idle = |u: &Response| {
                let Some(segment) = piece.segment(UNITS, u) else { return true };
                let [m, v, ..] = What::Moment.shifted(segment, piece.start + s - segment.start);
                m.abs() <= 1e-9 * v.abs() * ground.reference.in_place.length().si()
            };
            let slope = side * sign * q.derivative().at(s);
            if !end || q.at(s).abs() > nothing || slope <= 0.0 || !ground.units.iter().all(idle) {
                continue;
            }
            let row = (constant(slope), constant(slope), slope);
            let combination = [(side * sign, What::Shear)];
            self.push(ground, source, Some(term), piece, (s, 0.0), &combination, row);
        }
    }

    fn within(
        &mut self,
        ground: Ground<'_>,
        source: Source,
        cap: Cap,
        terms: &[usize],
        (from, to): (f64, f64),
    ) {
        let what = What::from(cap.effect);
        let mut scale = 0.0_f64;
        let mut polys: Vec<Poly> = Vec::with_capacity(terms.len());
        pieces(ground, from, to, |piece| {
            references(ground.reference, terms, what, cap.total, piece, &mut polys);
            polys.iter().for_each(|q| scale = scale.max(largest(q, piece.length)));
        });
        let floor = cap.floor * scale;
        pieces(ground, from, to, |piece| {
            let there = references(ground.reference, terms, what, cap.total, piece, &mut polys);
            for sign in [1.0, -1.0] {
                let signed: Vec<Poly> =
                    polys.iter().map(|q| times(sign, q)).chain([constant(floor)]).collect();
                upper(&signed, piece.length, |s, t, i, most| {
                    let e = shifted(most, s);
                    let b = times(sign, &shifted(&there, s)).plus(-cap.at_most, &e);
                    let term = terms.get(i).copied();
                    self.push(
                        ground,
                        source,
                        term,
                        piece,
                        (s, t - s),
                        &[(-sign, what)],
                        (b, e, scale),
                    );
                });
            }
        });
    }

    /// A value between two limits, with what is in place but for a deflection.
    fn band(
        &mut self,
        ground: Ground<'_>,
        source: Source,
        what: What,
        (low, high): (Option<f64>, Option<f64>),
        (from, to): (f64, f64),
    ) {
        let net = what == What::Deflection;
        pieces(ground, from, to, |piece| {
            let there = piece.segment(OWN, &ground.reference.in_place).filter(|_| !net);
            let there = there.map(|s| what.poly(&piece.part(s))).unwrap_or_default();
            for (limit, sign) in [(high, 1.0), (low, -1.0)] {
                let Some(limit) = limit else { continue };
                let b = times(sign, &there).plus(-sign * limit, &Poly::ONE);
                let row = (b, constant(limit.abs()), limit.abs());
                self.push(ground, source, None, piece, (0.0, piece.length), &[(-sign, what)], row);
            }
        });
    }

    /// `least ≤ |M|/|V| ≤ most` where every term agrees in both signs.
    fn window(
        &mut self,
        ground: Ground<'_>,
        source: Source,
        (least, most): (Option<f64>, Option<f64>),
        total: bool,
        (from, to): (f64, f64),
    ) {
        let reference = ground.reference;
        let terms: Vec<usize> = (0..reference.terms.len()).collect();
        let (mut shears, mut moments) = (Vec::new(), Vec::new());
        let (mut size, mut shear) = (0.0_f64, 0.0_f64);
        pieces(ground, from, to, |piece| {
            references(reference, &terms, What::Moment, total, piece, &mut moments);
            moments.iter().for_each(|m| size = size.max(largest(m, piece.length)));
            references(reference, &terms, What::Shear, total, piece, &mut shears);
            shears.iter().for_each(|v| shear = shear.max(largest(v, piece.length)));
        });
        let nothing = (
            (NOTHING * shear).max(reference.noise(Effect::Shear)),
            (NOTHING * size).max(reference.noise(Effect::Moment)),
        );
        pieces(ground, from, to, |piece| {
            let v0 = references(reference, &terms, What::Shear, total, piece, &mut shears);
            let m0 = references(reference, &terms, What::Moment, total, piece, &mut moments);
            let mut cuts = Cuts::new(piece.length);
            shears.iter().chain(&moments).for_each(|p| cuts.at_roots(p));
            cuts.parts(|s, t| {
                let middle = f64::midpoint(s, t);
                // a term that is about zero on the whole piece has no sign to disagree with
                let agreed = |polys: &[Poly], nothing: f64| -> Option<f64> {
                    let live = polys.iter().filter(|p| largest(p, piece.length) > nothing);
                    let mut values = live.map(|p| p.at(middle));
                    let first = values.next()?.signum();
                    values.all(|v| v * first > 0.0).then_some(first)
                };
                let (v, m) = (agreed(&shears, nothing.0), agreed(&moments, nothing.1));
                let (Some(v), Some(m)) = (v, m) else { return };
                for (limit, sign) in [(least, 1.0), (most, -1.0)] {
                    let Some(limit) = limit else { continue };
                    let (km, kv) = (sign * m, -sign * limit * v);
                    let there = times(km, &shifted(&m0, s)).plus(kv, &shifted(&v0, s));
                    let row = (times(-1.0, &there), constant(size), size);
                    let combination = [(km, What::Moment), (kv, What::Shear)];
                    self.push(ground, source, None, piece, (s, t - s), &combination, row);
                }
            });
        });
    }

    /// The polynomial of a row less its right side.
    fn slack(&self, stretch: &Stretch, p: &[f64], helper: f64) -> Poly {
        let mut slack = times(-1.0, &stretch.b);
        if stretch.relaxed {
            slack = slack.plus(helper, &stretch.e);
        }
        let rows = self.coefficients.get(stretch.offset..).unwrap_or_default().chunks_exact(self.n);
        for (c, row) in slack.c.iter_mut().zip(rows).take(stretch.width) {
            *c += row.iter().zip(p).map(|(a, p)| a * p).sum::<f64>();
        }
        slack
    }

    /// The slack of a row on its stretch, and each coefficient.
    #[cfg(feature = "cone")]
    pub(in crate::equivalent) fn shapes(
        &self,
        stretch: &Stretch,
        p: &[f64],
    ) -> (Shape, Vec<Shape>) {
        let h = stretch.length;
        let slack = Shape::on(&self.slack(stretch, p, 0.0), h);
        let rows = self.coefficients.get(stretch.offset..).unwrap_or_default();
        let part = |j: usize| {
            let mut own = Poly::default();
            for (c, row) in own.c.iter_mut().zip(rows.chunks_exact(self.n)).take(stretch.width) {
                *c = row.get(j).copied().unwrap_or(0.0);
            }
            Shape::on(&own, h)
        };
        (slack, (0..self.n).map(part).collect())
    }

    /// Where a row holds least: the place in the stretch and the slack there. Nothing where it
    /// surely holds.
    pub(in crate::equivalent) fn least(
        &self,
        stretch: &Stretch,
        p: &[f64],
        helper: f64,
        met: f64,
    ) -> Option<(f64, f64)> {
        let slack = self.slack(stretch, p, helper);
        let h = stretch.length;
        if h <= 0.0 {
            let [value, ..] = slack.c;
            return (value < -met * stretch.size).then_some((0.0, value));
        }
        if bernstein_least(&slack, h) >= -met * stretch.size {
            return None;
        }
        let mut least = (0.0, slack.at(0.0));
        let mut offer = |s: f64| {
            let value = slack.at(s);
            if value < least.1 {
                least = (s, value);
            }
        };
        slack.derivative().roots(h).as_slice().iter().for_each(|s| offer(*s));
        offer(h);
        (least.1 < -met * stretch.size).then_some(least)
    }

    /// The row at a place of its stretch: coefficients, right side, coefficient of the helper.
    pub(in crate::equivalent) fn row(
        &self,
        stretch: &Stretch,
        s: f64,
        a: &mut Vec<f64>,
    ) -> (f64, f64) {
        a.clear();
        a.resize(self.n, 0.0);
        let rows = self.coefficients.get(stretch.offset..).unwrap_or_default().chunks_exact(self.n);
        let mut power = 1.0;
        for row in rows.take(stretch.width) {
            a.iter_mut().zip(row).for_each(|(a, c)| *a += power * c);
            power *= s;
        }
        (stretch.b.at(s), if stretch.relaxed { stretch.e.at(s) } else { 0.0 })
    }

    /// The same for forces in parts of `scale` and divided by its size: right side, coefficient of the
    /// helper, size. Nothing for a row of zeros.
    pub(in crate::equivalent) fn scaled_row(
        &self,
        (index, s): (usize, f64),
        scale: f64,
        a: &mut Vec<f64>,
    ) -> Option<(f64, f64, f64)> {
        let (b, e) = self.row(self.stretches.get(index)?, s, a);
        let largest = a.iter().fold(0.0_f64, |m, a| m.max(a.abs()));
        let size = b.abs().max(largest * scale);
        a.iter_mut().for_each(|a| *a *= scale / size);
        (size > 0.0).then(|| (b / size, e / size, size))
    }
}

impl Stretch {
    /// Whether forces of this size leave it alone.
    pub(in crate::equivalent) fn sleeps(&self, largest: f64) -> bool {
        self.implicit && largest <= self.size
    }

    /// The SI unit of its right side.
    pub(in crate::equivalent) const fn unit(&self) -> &'static str {
        match self.what {
            What::Shear | What::Force => "N",
            What::Moment => "N m",
            What::Deflection => "m",
        }
    }

    /// The place on the member and its side.
    pub(in crate::equivalent) fn place(&self, s: f64) -> Option<(Length, Side)> {
        let side = if s > 0.0 && s >= self.length { Side::Left } else { Side::Right };
        Some((Length::from_si(self.start? + s), side))
    }
}

/// A cap on test over reference.
#[derive(Clone, Copy, Debug)]
struct Cap {
    effect: Effect,
    total: bool,
    at_most: f64,
    floor: f64,
}

fn terms(reference: &Reference, case: Option<&str>) -> Vec<usize> {
    match case {
        Some(name) => reference.case(name).into_iter().collect(),
        None => (0..reference.terms.len()).collect(),
    }
}

fn own(reference: &Reference, term: usize, what: What, piece: &Piece<'_>) -> Option<Poly> {
    let segment = piece.segment(OWN, &reference.terms.get(term)?.1)?;
    Some(what.poly(&piece.part(segment)))
}

/// The terms on a piece, net or total; the answer is what is in place on that basis.
fn references(
    reference: &Reference,
    terms: &[usize],
    what: What,
    total: bool,
    piece: &Piece<'_>,
    polys: &mut Vec<Poly>,
) -> Poly {
    let there = piece.segment(OWN, &reference.in_place).filter(|_| total);
    let there = there.map(|s| what.poly(&piece.part(s))).unwrap_or_default();
    polys.clear();
    let all = terms.iter().filter_map(|i| own(reference, *i, what, piece));
    polys.extend(all.map(|q| q.plus(1.0, &there)));
    there
}

/// The smallest and the largest value of a term on a stretch.
fn ends(reference: &Reference, term: usize, effect: Effect, from: f64, to: f64) -> (f64, f64) {
    let Some((_, term)) = reference.terms.get(term) else { return (0.0, 0.0) };
    let (from, to) = (Length::from_si(from), Length::from_si(to));
    let found = effect.extremes(term, (from, to));
    (found.min.value, found.max.value)
}

/// The largest size of a polynomial on `[0, h]`.
fn largest(p: &Poly, h: f64) -> f64 {
    let turns = p.derivative().roots(h);
    let inner = turns.as_slice().iter().map(|s| p.at(*s).abs());
    inner.fold(p.at(0.0).abs().max(p.at(h).abs()), f64::max)
}

/// The polynomial from `s` on.
fn shifted(p: &Poly, s: f64) -> Poly {
    if s <= 0.0 {
        return *p;
    }
    let mut c = p.c;
    // Taylor shift by repeated synthetic division
    for i in 0..c.len() {
        for j in (i..c.len().saturating_sub(1)).rev() {
            let above = c.get(j + 1).copied().unwrap_or(0.0);
            if let Some(place) = c.get_mut(j) {
                *place += s * above;
            }
        }
    }
    Poly::new(c)
}

/// Places where a piece is cut.
struct Cuts {
    places: Vec<f64>,
    length: f64,
}

impl Cuts {
    const fn new(length: f64) -> Self {
        Self { places: Vec::new(), length }
    }
    fn at_roots(&mut self, p: &Poly) {
        let sliver = 1e-12 * self.length;
        let inner = |s: &f64| *s > sliver && *s < self.length - sliver;
        self.places.extend(p.roots(self.length).as_slice().iter().copied().filter(inner));
    }
    fn parts(mut self, mut visit: impl FnMut(f64, f64)) {
        self.places.sort_by(f64::total_cmp);
        let mut last = 0.0;
        let place = self.length <= 0.0;
        for s in self.places.into_iter().chain([self.length]) {
            if place || s - last > 1e-12 * self.length {
                visit(last, s);
                last = s;
            }
        }
    }
}

/// The largest of several polynomials on `[0, h]`, part by part: from, to, which, polynomial.
fn upper(polys: &[Poly], h: f64, mut visit: impl FnMut(f64, f64, usize, &Poly)) {
    let highest = |s: f64| {
        let mut best: Option<(usize, &Poly, f64)> = None;
        for (i, p) in polys.iter().enumerate() {
            let value = p.at(s);
            if best.is_none_or(|(_, _, v)| value > v) {
                best = Some((i, p, value));
            }
        }
        best.map(|(i, p, _)| (i, p))
    };
    let sliver = 1e-9 * h;
    let mut from = 0.0;
    // a place alone is one part
    let mut place = h <= 0.0;
    while from < h - sliver || core::mem::take(&mut place) {
        let Some((i, most)) = highest(from + 1e-6 * (h - from)) else { return };
        let mut to = h;
        for (j, other) in polys.iter().enumerate() {
            if j == i {
                continue;
            }
            let difference = most.plus(-1.0, other);
            if bernstein_least(&difference, h) >= 0.0 {
                continue;
            }
            let next = difference.roots(h).as_slice().iter().copied().find(|s| *s > from + sliver);
            to = next.map_or(to, |s| to.min(s));
        }
        visit(from, to, i, most);
        from = to;
    }
}

/// Visits the pieces of a stretch.
fn pieces(ground: Ground<'_>, from: f64, to: f64, visit: impl FnMut(&Piece<'_>)) {
    if let Some(units) = ground.units.first() {
        walk(&[units, &ground.reference.in_place], from, to, visit);
    }
}
