//! The result: exact shear, moment, rotation and deflection along the beam.

use smallvec::SmallVec;

use super::poly::Poly;
use super::segment::Segment;
use crate::error::{Error, Issue, slug};
use crate::units::{Force, Length, LineLoad, Message, Moment, Rotation};

/// Which side of a place is meant, where a value jumps. Closed: a place has two.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Side {
    /// Just left of it.
    Left,
    /// Just right of it.
    Right,
}

impl Side {
    /// `-` or `+`, as in V(6 ft-).
    #[must_use]
    pub const fn sign(self) -> &'static str {
        match self {
            Self::Left => "-",
            Self::Right => "+",
        }
    }
}

impl crate::source::Write for Side {
    fn write(&self) -> crate::source::Node {
        crate::source::Node::text(match self {
            Self::Left => "left",
            Self::Right => "right",
        })
    }
}

/// What a support gives the beam.
#[derive(Clone, Copy, PartialEq, Debug)]
#[non_exhaustive]
pub struct Reaction {
    /// Place of the support.
    pub at: Length,
    /// Up positive.
    pub force: Force,
    /// Clockwise on the beam positive.
    pub moment: Moment,
}

/// A largest or smallest value, where and on which side.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Extreme<Q> {
    /// The value.
    pub value: Q,
    /// The place.
    pub at: Length,
    /// The side of the place.
    pub side: Side,
}

/// The largest and the smallest value on an interval.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Extremes<Q> {
    /// The largest, by sign.
    pub max: Extreme<Q>,
    /// The smallest, by sign.
    pub min: Extreme<Q>,
}

/// What every support gives; most members have two.
pub(super) type Reactions = SmallVec<[Reaction; 3]>;
/// Breakpoints from left to right.
pub(super) type Grid = SmallVec<[f64; 16]>;

/// Exact actions of one load case.
#[derive(Clone, PartialEq, Debug)]
pub struct Response {
    pub(super) segments: Vec<Segment>,
    pub(super) reactions: Reactions,
    pub(super) residual: f64,
}

/// Places closer than this part of the length are one place.
const SAME_PLACE: f64 = 1e-12;

impl Response {
    /// The segments from left to right.
    #[must_use]
    pub fn segments(&self) -> &[Segment] {
        &self.segments
    }

    /// The reactions from left to right.
    #[must_use]
    pub fn reactions(&self) -> &[Reaction] {
        &self.reactions
    }

    /// How far moments at joints are from balance, as a part of the largest moment: the error bound
    /// of a solution by displacements. Zero where equilibrium alone gave the reactions.
    #[must_use]
    pub const fn residual(&self) -> f64 {
        self.residual
    }

    /// The length of the beam.
    #[must_use]
    pub fn length(&self) -> Length {
        Length::from_si(self.segments.last().map_or(0.0, Segment::end))
    }

    /// The breakpoints, both ends included.
    pub fn breakpoints(&self) -> impl Iterator<Item = Length> + '_ {
        let end = self.segments.last().map(|s| Length::from_si(s.end()));
        self.segments.iter().map(|s| Length::from_si(s.start)).chain(end)
    }

    /// The segment on the wanted side of `x` and the local coordinate in it. Outside the
    /// beam the nearest end is taken.
    fn locate(&self, x: f64, side: Side) -> Option<(&Segment, f64)> {
        let tolerance = SAME_PLACE * self.length().si();
        let i = match side {
            Side::Right => {
                self.segments.partition_point(|s| s.start <= x + tolerance).saturating_sub(1)
            }
            Side::Left => self
                .segments
                .partition_point(|s| s.end() < x - tolerance)
                .min(self.segments.len().saturating_sub(1)),
        };
        let segment = self.segments.get(i)?;
        Some((segment, (x - segment.start).clamp(0.0, segment.length)))
    }

    fn value(&self, x: Length, side: Side, poly: fn(&Segment) -> Poly) -> f64 {
        self.locate(x.si(), side).map_or(f64::NAN, |(segment, s)| poly(segment).at(s))
    }

    /// The values at places that are known to be on the member, without asking again.
    pub(crate) const fn inside(&self) -> Inside<'_, Self> {
        Inside(self)
    }

    fn on(&self, x: Length) -> Result<Inside<'_, Self>, Error> {
        on_member(self.length(), x)?;
        Ok(self.inside())
    }

    fn between(&self, from: Length, to: Length) -> Result<Inside<'_, Self>, Error> {
        on_stretch(self.length(), from, to)?;
        Ok(self.inside())
    }

    /// Values in SI at many places, on one side of each: `poly` says which, for example
    /// [`Segment::moment`]. Places in rising order are the quickest.
    ///
    /// # Errors
    /// `beam.place-outside` for the first place beyond the member.
    pub fn sample(
        &self,
        places: &[Length],
        side: Side,
        poly: fn(&Segment) -> Poly,
    ) -> Result<Vec<f64>, Error> {
        let of = |x: &Length| on_member(self.length(), *x).map(|()| self.value(*x, side, poly));
        places.iter().map(of).collect()
    }

    /// Line load at `x`, down positive.
    ///
    /// # Errors
    /// `beam.place-outside` beyond the member.
    pub fn line_load(&self, x: Length, side: Side) -> Result<LineLoad, Error> {
        Ok(self.on(x)?.line_load(x, side))
    }
    /// Shear at `x`.
    ///
    /// # Errors
    /// `beam.place-outside` beyond the member.
    pub fn shear(&self, x: Length, side: Side) -> Result<Force, Error> {
        Ok(self.on(x)?.shear(x, side))
    }
    /// Moment at `x`, sagging positive.
    ///
    /// # Errors
    /// `beam.place-outside` beyond the member.
    pub fn moment(&self, x: Length, side: Side) -> Result<Moment, Error> {
        Ok(self.on(x)?.moment(x, side))
    }
    /// Rotation at `x`.
    ///
    /// # Errors
    /// `beam.place-outside` beyond the member.
    pub fn rotation(&self, x: Length) -> Result<Rotation, Error> {
        Ok(self.on(x)?.rotation(x))
    }
    /// Deflection at `x`, down positive.
    ///
    /// # Errors
    /// `beam.place-outside` beyond the member.
    pub fn deflection(&self, x: Length) -> Result<Length, Error> {
        Ok(self.on(x)?.deflection(x))
    }

    /// The exact extremes of a polynomial of each segment on `[from, to]`.
    ///
    /// # Errors
    /// `beam.place-outside` for bounds beyond the member or reversed.
    pub fn extremes_of(
        &self,
        from: Length,
        to: Length,
        poly: impl Fn(&Segment) -> Poly,
    ) -> Result<Extremes<f64>, Error> {
        Ok(self.between(from, to)?.extremes_of(from, to, poly))
    }

    /// The size of what a polynomial of each segment is on the whole member: below
    /// [`NOISE`](crate::units::NOISE) times it a value is rounding noise.
    ///
    /// ```
    /// use proofspan::beam::{Beam, Load, Segment};
    /// use proofspan::units::*;
    /// let beam = Beam::simple(6.0 * M, 1e4 * KN_M2)?;
    /// let response = beam.response(&[Load::point(2.0 * M, 30.0 * KN)])?;
    /// assert!((response.size_of(Segment::moment) - 40e3).abs() < 1e-6); // P a b / L
    /// # Ok::<(), proofspan::error::Error>(())
    /// ```
    #[must_use]
    pub fn size_of(&self, poly: impl Fn(&Segment) -> Poly) -> f64 {
        let found = self.inside().extremes_of(Length::ZERO, self.length(), poly);
        found.max.value.abs().max(found.min.value.abs())
    }

    /// Extremes of the shear on `[from, to]`.
    ///
    /// # Errors
    /// `beam.place-outside` for bounds beyond the member or reversed.
    pub fn shear_extremes(&self, from: Length, to: Length) -> Result<Extremes<Force>, Error> {
        Ok(self.between(from, to)?.shear_extremes(from, to))
    }
    /// Extremes of the moment on `[from, to]`.
    ///
    /// # Errors
    /// `beam.place-outside` for bounds beyond the member or reversed.
    pub fn moment_extremes(&self, from: Length, to: Length) -> Result<Extremes<Moment>, Error> {
        Ok(self.between(from, to)?.moment_extremes(from, to))
    }
    /// Extremes of the deflection on `[from, to]`.
    ///
    /// # Errors
    /// `beam.place-outside` for bounds beyond the member or reversed.
    pub fn deflection_extremes(&self, from: Length, to: Length) -> Result<Extremes<Length>, Error> {
        Ok(self.between(from, to)?.deflection_extremes(from, to))
    }

    /// The sum of cases of one beam, each with its factor.
    ///
    /// # Errors
    /// `beam.cases` for no case, or cases of different beams; `units.nonfinite` for a factor that is
    /// not finite.
    pub fn combined(cases: &[(f64, &Self)]) -> Result<Self, Error> {
        let mut issues = of_one_beam(cases.iter().map(|c| c.1));
        for (i, (k, _)) in cases.iter().enumerate().filter(|(_, c)| !c.0.is_finite()) {
            let issue = Issue::new(slug::UNITS_NONFINITE, format!("cases[{i}]"), "a factor");
            issues.push(issue.value(k));
        }
        Error::check(issues)?;
        Ok(Self::sum(cases))
    }

    /// The sum of cases that are known to be of one beam.
    pub(crate) fn sum(cases: &[(f64, &Self)]) -> Self {
        let Some(((k, first), rest)) = cases.split_first() else {
            return Self { segments: Vec::new(), reactions: Reactions::new(), residual: 0.0 };
        };
        let aligned = rest.iter().all(|(_, c)| same_grid(&first.segments, &c.segments));
        if !aligned {
            let grid = merged(cases);
            let parts: Vec<Self> = cases.iter().map(|(_, c)| c.split(&grid)).collect();
            let cases: Vec<(f64, &Self)> =
                cases.iter().zip(&parts).map(|((k, _), p)| (*k, p)).collect();
            return Self::sum(&cases);
        }
        let mut sum = (*first).clone();
        for segment in &mut sum.segments {
            segment.scale(*k);
        }
        for reaction in &mut sum.reactions {
            reaction.force = reaction.force * *k;
            reaction.moment = reaction.moment * *k;
        }
        rest.iter().for_each(|(k, case)| sum.add(*k, case));
        sum
    }

    /// Adds a part of a case with the same breakpoints.
    fn add(&mut self, k: f64, case: &Self) {
        // a factor of zero adds nothing, and most combinations have one
        if k.abs() <= 0.0 {
            return;
        }
        self.segments.iter_mut().zip(&case.segments).for_each(|(a, b)| a.add(k, b));
        self.residual = self.residual.max(case.residual);
        for (a, b) in self.reactions.iter_mut().zip(&case.reactions) {
            a.force += b.force * k;
            a.moment += b.moment * k;
        }
    }

    /// The same without rounding: what is below 1e-12 of the largest of its kind on the member is zero.
    /// A load on one side of a hinge or of an overhang has no effect on the other, not a tiny one.
    pub(crate) fn cleaned(mut self) -> Self {
        const ROUNDING: f64 = 1e-12;
        let mut limits = [0.0_f64; 4];
        for s in &self.segments {
            let end = s.moment().at(s.length).abs();
            let own = [s.v0.abs(), s.m0.abs().max(end), s.r0.abs(), s.w0.abs()];
            limits.iter_mut().zip(own).for_each(|(limit, size)| *limit = limit.max(size));
        }
        for s in &mut self.segments {
            let own = [&mut s.v0, &mut s.m0, &mut s.r0, &mut s.w0];
            for (value, limit) in own.into_iter().zip(limits) {
                if value.abs() <= ROUNDING * limit {
                    *value = 0.0;
                }
            }
        }
        self
    }

    /// The same case times `k`.
    #[must_use]
    pub fn scaled(&self, k: f64) -> Self {
        Self::sum(&[(k, self)])
    }

    /// Becomes the sum of a case and a part of another, all three with the same breakpoints: nothing new
    /// is made.
    pub(crate) fn set_sum(&mut self, one: &Self, part: f64, other: &Self) {
        self.segments.clone_from(&one.segments);
        self.reactions.clone_from(&one.reactions);
        self.residual = one.residual;
        self.add(part, other);
    }

    /// The same case with these breakpoints and no others.
    fn split(&self, grid: &[f64]) -> Self {
        let segments = grid
            .windows(2)
            .filter_map(|pair| match pair {
                // the start is the grid's own number: a sum could differ in its last digit
                [a, b] => self
                    .locate(*a, Side::Right)
                    .map(|(segment, s)| Segment { start: *a, ..segment.part(s, b - a) }),
                _ => None,
            })
            .collect();
        Self { segments, reactions: self.reactions.clone(), residual: self.residual }
    }
}

/// Values where the place is known to be on the member; nothing is asked again.
#[derive(Debug)]
pub(crate) struct Inside<'a, T>(pub(crate) &'a T);

impl<T> Clone for Inside<'_, T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T> Copy for Inside<'_, T> {}

impl Inside<'_, Response> {
    pub(crate) fn line_load(self, x: Length, side: Side) -> LineLoad {
        LineLoad::from_si(self.0.value(x, side, Segment::load))
    }
    pub(crate) fn shear(self, x: Length, side: Side) -> Force {
        Force::from_si(self.0.value(x, side, Segment::shear))
    }
    pub(crate) fn moment(self, x: Length, side: Side) -> Moment {
        Moment::from_si(self.0.value(x, side, Segment::moment))
    }
    pub(crate) fn rotation(self, x: Length) -> Rotation {
        Rotation::from_si(self.0.value(x, Side::Left, Segment::rotation))
    }
    pub(crate) fn deflection(self, x: Length) -> Length {
        self.deflection_beside(x, Side::Left)
    }
    /// On one side of the place: an imposed step makes it jump.
    pub(crate) fn deflection_beside(self, x: Length, side: Side) -> Length {
        Length::from_si(self.0.value(x, side, Segment::deflection))
    }
    pub(crate) fn shear_extremes(self, from: Length, to: Length) -> Extremes<Force> {
        typed(self.extremes_of(from, to, Segment::shear), Force::from_si)
    }
    pub(crate) fn moment_extremes(self, from: Length, to: Length) -> Extremes<Moment> {
        typed(self.extremes_of(from, to, Segment::moment), Moment::from_si)
    }
    pub(crate) fn deflection_extremes(self, from: Length, to: Length) -> Extremes<Length> {
        typed(self.extremes_of(from, to, Segment::deflection), Length::from_si)
    }

    pub(crate) fn extremes_of(
        self,
        from: Length,
        to: Length,
        poly: impl Fn(&Segment) -> Poly,
    ) -> Extremes<f64> {
        let (a, b) = (from.si(), to.si());
        let start = Extreme { value: f64::NEG_INFINITY, at: from, side: Side::Right };
        let mut found = Extremes { max: start, min: Extreme { value: f64::INFINITY, ..start } };
        let mut take = |value: f64, x: f64, side: Side| {
            let here = Extreme { value, at: Length::from_si(x), side };
            if value > found.max.value {
                found.max = here;
            }
            if value < found.min.value {
                found.min = here;
            }
        };
        for segment in &self.0.segments {
            let (low, high) =
                ((a - segment.start).max(0.0), (b - segment.start).min(segment.length));
            if low > high || (high - low <= 0.0 && b - a > 0.0) {
                continue;
            }
            let p = poly(segment);
            take(p.at(low), segment.start + low, Side::Right);
            for s in p.derivative().roots(segment.length).as_slice() {
                if *s > low && *s < high {
                    take(p.at(*s), segment.start + s, Side::Left);
                }
            }
            take(p.at(high), segment.start + high, Side::Left);
        }
        found
    }
}

/// How far beyond an end a place may be by rounding, as a part of the length.
const ROUNDED: f64 = 1e-9;

/// Refuses a place beyond a member of this length.
pub(crate) fn on_member(length: Length, x: Length) -> Result<(), Error> {
    on_member_at("x", length, x)
}

/// Refuses a place beyond a member of this length, under the name of the argument.
pub(crate) fn on_member_at(path: &str, length: Length, x: Length) -> Result<(), Error> {
    let slack = ROUNDED * length.si();
    if (-slack..=length.si() + slack).contains(&x.si()) {
        return Ok(());
    }
    Err(Issue::new(slug::BEAM_PLACE_OUTSIDE, path, "a place beyond the member")
        .value(x)
        .limit(Message::new("0 to {}", [length.into()]))
        .into())
}

/// Refuses a stretch that reaches beyond a member of this length, or runs backwards.
pub(crate) fn on_stretch(length: Length, from: Length, to: Length) -> Result<(), Error> {
    let mut issues = Vec::new();
    for (path, x) in [("from", from), ("to", to)] {
        if let Err(error) = on_member_at(path, length, x) {
            issues.extend(error.issues);
        }
    }
    if issues.is_empty() && from > to {
        issues.push(
            Issue::new(slug::BEAM_PLACE_OUTSIDE, "from", "a stretch that ends before it begins")
                .value(Message::new("{} to {}", [from.into(), to.into()]))
                .limit("from up to to"),
        );
    }
    Error::check(issues)
}

/// Refuses no case, and cases of members of different length.
pub(super) fn of_one_length<'a>(cases: impl Iterator<Item = &'a Response>) -> Vec<Issue> {
    let mut cases = cases.enumerate();
    let Some((_, first)) = cases.next() else {
        return vec![Issue::new(slug::BEAM_CASES, "cases", "no case")];
    };
    let length = first.length();
    let other = |(_, c): &(usize, &Response)| (c.length() - length).abs() > length * ROUNDED;
    let refuse = |(i, c): (usize, &Response)| {
        let message = "a case of a beam of another length";
        Issue::new(slug::BEAM_CASES, format!("cases[{i}]"), message).value(c.length()).limit(length)
    };
    cases.filter(other).map(refuse).collect()
}

/// Refuses what cannot be added up: the same, and cases of members on other supports.
fn of_one_beam<'a>(cases: impl Iterator<Item = &'a Response> + Clone) -> Vec<Issue> {
    let mut issues = of_one_length(cases.clone());
    let mut cases = cases.enumerate();
    let Some((_, first)) = cases.next() else { return issues };
    let slack = first.length() * ROUNDED;
    let other = |(_, c): &(usize, &Response)| {
        let mut pairs = first.reactions.iter().zip(&c.reactions);
        first.reactions.len() != c.reactions.len()
            || pairs.any(|(a, b)| (a.at - b.at).abs() > slack)
    };
    let refuse = |(i, _): (usize, &Response)| {
        Issue::new(slug::BEAM_CASES, format!("cases[{i}]"), "a case of a beam on other supports")
    };
    if issues.is_empty() {
        issues.extend(cases.filter(other).map(refuse));
    }
    issues
}

fn typed<Q>(found: Extremes<f64>, make: fn(f64) -> Q) -> Extremes<Q> {
    let turn = |e: Extreme<f64>| Extreme { value: make(e.value), at: e.at, side: e.side };
    Extremes { max: turn(found.max), min: turn(found.min) }
}

fn same_grid(a: &[Segment], b: &[Segment]) -> bool {
    a.len() == b.len() && a.iter().zip(b).all(|(x, y)| (x.start - y.start).abs() <= 0.0)
}

/// All breakpoints of all cases.
fn merged(cases: &[(f64, &Response)]) -> Grid {
    let mut grid: Grid = cases.iter().flat_map(|(_, c)| c.breakpoints()).map(Length::si).collect();
    tidy(&mut grid);
    grid
}

/// Sorts places and keeps one of those that are the same.
pub(super) fn tidy(grid: &mut Grid) {
    grid.sort_unstable_by(f64::total_cmp);
    let tolerance = SAME_PLACE * grid.last().copied().unwrap_or(0.0);
    grid.dedup_by(|b, a| *b - *a <= tolerance);
}
