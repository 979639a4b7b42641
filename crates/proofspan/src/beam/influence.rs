//! Which places of a load make an effect large, and which relieve it?
//!
//! Müller-Breslau: the influence line of an effect is the deflection of the member under the unit
//! movement that works with the effect: a kink for a moment, a step for a shear, a settlement for a
//! reaction; for a deflection it is the deflection under a unit force there (Maxwell). Exact
//! cubics between supports, hinges and steps of stiffness; sign changes are their roots.

use super::load::Load;
use super::model::Beam;
use super::poly::Poly;
use super::response::{Response, Side, on_member, on_member_at};
use super::solve::refused;
use crate::error::{Error, Issue, slug};
use crate::units::{Force, Kind, Length, LineLoad, Quantity, Rotation};

/// What an influence line is for.
#[derive(Clone, Copy, PartialEq, Debug)]
#[non_exhaustive]
pub enum InfluenceOf {
    /// The shear at a place.
    Shear(Length),
    /// The moment at a place, sagging positive.
    Moment(Length),
    /// The reaction of a support, by its place in the list, up positive.
    Reaction(usize),
    /// The deflection at a place, down positive.
    Deflection(Length),
}

impl InfluenceOf {
    const fn kind(self) -> Kind {
        match self {
            Self::Shear(_) | Self::Reaction(_) => Kind::Force,
            Self::Moment(_) => Kind::Moment,
            Self::Deflection(_) => Kind::Length,
        }
    }
}

/// An influence line: its ordinate at a place is the response under a unit force there, down.
#[derive(Clone, PartialEq, Debug)]
pub struct InfluenceLine {
    shape: Response,
    kind: Kind,
}

/// The largest and the smallest response to a load that may stand on any parts.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct Worst {
    /// The largest, zero or more.
    pub max: Quantity,
    /// The parts that are loaded for it.
    pub max_on: Vec<(Length, Length)>,
    /// The smallest, zero or less.
    pub min: Quantity,
    /// The parts that are loaded for it.
    pub min_on: Vec<(Length, Length)>,
}

impl Beam {
    /// The influence line of a response. Bearings that only push are taken as holding both ways:
    /// superposition has no meaning where they lift.
    ///
    /// # Errors
    /// `beam.load-outside` for a place beyond the beam, `beam.support-outside` for a support that
    /// is not there, and what [`Beam::response`] refuses.
    pub fn influence(&self, response: InfluenceOf) -> Result<InfluenceLine, Error> {
        if let InfluenceOf::Shear(at) | InfluenceOf::Moment(at) | InfluenceOf::Deflection(at) =
            response
        {
            on_member_at("at", self.length(), at)?;
        }
        let held = self.anchored();
        let shape = match response {
            // a unit movement against the effect: 1 rad, 1 m
            InfluenceOf::Moment(at) => {
                held.shape(&Load::Kink { at, rotation: Rotation::from_si(-1.0) })?
            }
            InfluenceOf::Shear(at) => held.shape(&Load::Step { at, by: Length::from_si(1.0) })?,
            InfluenceOf::Deflection(at) => held.shape(&Load::point(at, Force::from_si(1.0)))?,
            InfluenceOf::Reaction(index) if index < self.supports().len() => {
                held.move_support(index, Length::from_si(1.0)).response(&[])?
            }
            InfluenceOf::Reaction(index) => {
                return Err(Issue::new(
                    slug::BEAM_SUPPORT_OUTSIDE,
                    "support",
                    format!("there is no support {index}"),
                )
                .limit(format!("0 to {}", self.supports().len().saturating_sub(1)))
                .into());
            }
        };
        Ok(InfluenceLine { shape, kind: response.kind() })
    }

    fn shape(&self, movement: &Load) -> Result<Response, Error> {
        self.level().response(&[*movement])
    }
}

impl InfluenceLine {
    /// The ordinate for a unit force at a place, SI per newton; a shear's own line jumps at its place.
    ///
    /// # Errors
    /// `beam.place-outside` beyond the member.
    pub fn at(&self, x: Length, side: Side) -> Result<f64, Error> {
        on_member(self.shape.length(), x)?;
        Ok(self.shape.inside().deflection_beside(x, side).si())
    }

    /// The length of the beam.
    #[must_use]
    pub fn length(&self) -> Length {
        self.shape.length()
    }

    /// The response to forces, moments and line loads, exact: `Σ P η + Σ M η′ + ∫ q η dx`.
    ///
    /// # Errors
    /// `beam.load-outside` and `units.nonfinite` as [`Beam::response`]; `beam.influence-load` for an
    /// imposed curvature, kink or step.
    pub fn response(&self, loads: &[Load]) -> Result<Quantity, Error> {
        let mut issues = refused(self.shape.length(), &[loads]);
        let imposed =
            |l: &Load| !matches!(l, Load::Point { .. } | Load::Moment { .. } | Load::Line { .. });
        for (i, _) in loads.iter().enumerate().filter(|(_, l)| imposed(l)) {
            let message = "an influence line answers forces, not imposed movements";
            issues.push(Issue::new(slug::BEAM_INFLUENCE_LOAD, format!("loads[{i}]"), message));
        }
        Error::check(issues)?;
        let shape = self.shape.inside();
        let sum = loads.iter().map(|load| match *load {
            Load::Point { at, force } => force.si() * shape.deflection_beside(at, Side::Left).si(),
            Load::Moment { at, moment } => moment.si() * shape.rotation(at).si(),
            Load::Line { from, to, w_from, w_to } if to > from => {
                let slope = (w_to.si() - w_from.si()) / (to.si() - from.si());
                self.integral(from, to, |x| slope * (x - from.si()) + w_from.si(), slope)
            }
            _ => 0.0,
        });
        Ok(Quantity::new(self.kind, sum.sum()))
    }

    /// `∫ q η dx`, q linear with this slope.
    fn integral(&self, from: Length, to: Length, q: impl Fn(f64) -> f64, slope: f64) -> f64 {
        let parts = self.shape.segments().iter().filter_map(|segment| {
            let (a, b) = (from.si().max(segment.start), to.si().min(segment.end()));
            let load = Poly::new([q(segment.start), slope, 0.0, 0.0, 0.0, 0.0]);
            (b > a).then(|| {
                area(&segment.deflection().times(&load), a - segment.start, b - segment.start)
            })
        });
        parts.sum()
    }

    /// The worst standing places of a uniform load that may be broken into any parts.
    #[must_use]
    pub fn worst(&self, q: LineLoad) -> Worst {
        let (mut max, mut min) = (0.0, 0.0);
        let (mut max_on, mut min_on) = (Vec::new(), Vec::new());
        for segment in self.shape.segments() {
            let eta = segment.deflection();
            let mut cuts = vec![0.0];
            cuts.extend_from_slice(eta.roots(segment.length).as_slice());
            cuts.push(segment.length);
            for (a, b) in cuts.iter().zip(cuts.iter().skip(1)) {
                let part = q.si() * area(&eta, *a, *b);
                let on: &mut Vec<(Length, Length)>;
                let sum: &mut f64;
                (sum, on) =
                    if part > 0.0 { (&mut max, &mut max_on) } else { (&mut min, &mut min_on) };
                if b <= a || part.abs() <= 0.0 {
                    continue;
                }
                *sum += part;
                let place = |s: f64| Length::from_si(segment.start + s);
                match on.last_mut() {
                    // the same part goes on over a breakpoint
                    Some(last) if last.1 >= place(*a) => last.1 = place(*b),
                    _ => on.push((place(*a), place(*b))),
                }
            }
        }
        let of = |si| Quantity::new(self.kind, si);
        Worst { max: of(max), max_on, min: of(min), min_on }
    }
}

/// The area under a polynomial of degree four or less.
fn area(p: &Poly, a: f64, b: f64) -> f64 {
    let [c0, c1, c2, c3, c4, _] = p.c;
    let whole = Poly::new([0.0, c0, c1 / 2.0, c2 / 3.0, c3 / 4.0, c4 / 5.0]);
    whole.at(b) - whole.at(a)
}
