//! Deflection over load, stiff and soft: sections along the member, each as cracked as its moment
//! makes it.

use super::cracking::{CrackingQuestion, CrackingRule};
use super::material::StrengthSet;
use super::section::{Cut, Face, Section};
use super::shape::Size;
use super::stiffness::Interaction;
use crate::beam::{Beam, Load, Response, Side};
use crate::error::{Error, Issue, go_on, slug};
use crate::formula::NoRecord;
use crate::source::Given;
use crate::source::rule::Positive;
use crate::units::{FlexuralRigidity, Force, Length, Moment, SecondMoment, Stress};

crate::record! {
    /// A force at a place, down positive.
    pub struct PointForce {
        /// Its place from the left end of the member.
        at: Given<Length, Size>,
        /// How much, on one member unit.
        force: Given<Force, Positive>,
    }
}

crate::answer! {
    /// What is added to the deflection in place, down positive.
    pub struct DeflectionStep {
        /// Share of the full test load.
        share: f64,
        /// Stiff prediction: no crack; of a member that is cracked already, the stiffest formula.
        stiff: Length,
        /// Soft prediction: the softest formula everywhere.
        soft: Length,
    }
}

/// How many slices the member is cut into.
const SLICES: u32 = 64;
/// How often the moments of an indeterminate member are found again with the stiffness they make.
const ROUNDS: usize = 40;

/// One slice of the member with what its stiffness depends on.
struct Slice {
    cracked: bool,
    from: Length,
    middle: Length,
    modulus: Stress,
    gross: SecondMoment,
    /// Cracked second moment and cracking moment, sagging and hogging; nothing where no steel is in tension.
    sagging: Option<(SecondMoment, Moment)>,
    hogging: Option<(SecondMoment, Moment)>,
}

/// A member cut into slices.
pub(crate) struct Sliced {
    slices: Vec<Slice>,
    formulas: Vec<Interaction>,
    load_factor: Option<f64>,
}

/// A section from a place on, and why it is taken as cracked already.
pub(crate) type Standing<'a> = (Length, &'a Section, Option<&'a str>);

/// How the deflection is asked for.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Course<'a> {
    pub(crate) rule: CrackingRule,
    pub(crate) stretches: &'a [Standing<'a>],
    pub(crate) load_factor: Option<f64>,
}

impl Sliced {
    /// A member of sections from left to right.
    pub(crate) fn new(length: Length, asked: Course<'_>) -> Result<Self, Error> {
        let step = length / f64::from(SLICES);
        let slice = |i: u32| {
            let from = step * f64::from(i);
            let middle = from + step / 2.0;
            let here = asked.stretches.iter().rfind(|s| s.0 <= middle).or(asked.stretches.first());
            let Some((_, section, cracked)) = here else {
                let message = "no section is described";
                return Err(Issue::new(slug::SOURCE_FIELD_MISSING, "section", message).into());
            };
            let question = CrackingQuestion {
                cracked: *cracked,
                ..CrackingQuestion::of(asked.rule, StrengthSet::Expected)
            };
            let cut = section.at(middle, length);
            let of = |face| Self::face(&cut, face, question);
            Ok(Slice {
                cracked: cracked.is_some(),
                from,
                middle,
                modulus: cut.modulus()?,
                gross: cut.gross()?.second_moment,
                sagging: of(Face::Bottom)?,
                hogging: of(Face::Top)?,
            })
        };
        let slices: Result<Vec<Slice>, Error> = (0..SLICES).map(slice).collect();
        let mut formulas = vec![Interaction::TwoThirds, Interaction::Cube];
        if asked.load_factor.is_some() {
            formulas.push(Interaction::Stiffening);
        }
        Ok(Self { slices: slices?, formulas, load_factor: asked.load_factor })
    }

    fn face(
        cut: &Cut,
        face: Face,
        question: CrackingQuestion<'_>,
    ) -> Result<Option<(SecondMoment, Moment)>, Error> {
        let moment = cut.cracking(&mut NoRecord, face, question)?.moment;
        // a face without steel has no cracked state
        let cracked = cut.cracked(face).ok().map(|(_, i)| i);
        Ok(cracked.map(|i| (i, moment)))
    }

    /// Stiffness of a slice under a total moment.
    fn rigidity(
        &self,
        slice: &Slice,
        moment: Moment,
        soft: bool,
    ) -> Result<FlexuralRigidity, Error> {
        let (towards, face) =
            if moment >= Moment::ZERO { (1.0, &slice.sagging) } else { (-1.0, &slice.hogging) };
        let mut found = slice.gross;
        if let Some((cracked, at)) = face.as_ref().filter(|_| soft || slice.cracked) {
            // where prestress alone opens the face, it is open
            let moments = ((*at * towards).max(Moment::ZERO), moment * towards);
            let both = (slice.gross, cracked.min(slice.gross));
            let all = self
                .formulas
                .iter()
                .map(|formula| formula.effective(&mut NoRecord, moments, both, self.load_factor));
            let all: Vec<SecondMoment> = all.collect::<Result<_, _>>()?;
            let pick = if soft { SecondMoment::min } else { SecondMoment::max };
            found = all.into_iter().reduce(pick).unwrap_or(found);
        }
        Ok(slice.modulus * found)
    }

    /// The actions under loads, with the stiffness that their moments make.
    pub(crate) fn response(
        &self,
        beam: &Beam,
        loads: &[Load],
        soft: bool,
    ) -> Result<Response, Error> {
        let mut actions =
            self.with(beam, &vec![Moment::ZERO; self.slices.len()], false)?.response(loads)?;
        let moments = |response: &Response| -> Vec<Moment> {
            self.slices.iter().map(|s| response.inside().moment(s.middle, Side::Right)).collect()
        };
        let mut before = moments(&actions);
        for _ in 0..ROUNDS {
            go_on()?;
            actions = self.with(beam, &before, soft)?.response(loads)?;
            let now = moments(&actions);
            let largest = now.iter().fold(0.0, |a: f64, m| a.max(m.abs().si()));
            let moved = now.iter().zip(&before).any(|(a, b)| (*a - *b).abs().si() > 1e-9 * largest);
            before = now;
            if !moved {
                break;
            }
        }
        Ok(actions)
    }

    /// The same beam with the stiffness of its slices under moments.
    fn with(&self, beam: &Beam, moments: &[Moment], soft: bool) -> Result<Beam, Error> {
        let each = self.slices.iter().zip(moments);
        let rigidity: Result<Vec<(Length, FlexuralRigidity)>, Error> =
            each.map(|(s, m)| Ok((s.from, self.rigidity(s, *m, soft)?))).collect();
        Beam::new(beam.length(), beam.supports().to_vec(), rigidity?)?
            .with_hinges(beam.hinges().to_vec())
    }

    /// The beam whose deflection under the test alone is what the test adds to the deflection in place: every
    /// slice with the curvature that the test adds there.
    pub(crate) fn adding(
        &self,
        beam: &Beam,
        in_place: &[Load],
        test: &[Load],
        soft: bool,
    ) -> Result<Beam, Error> {
        let all: Vec<Load> = in_place.iter().chain(test).copied().collect();
        let (before, after) =
            (self.response(beam, in_place, soft)?, self.response(beam, &all, soft)?);
        let moment = |r: &Response, s: &Slice| r.inside().moment(s.middle, Side::Right);
        let rigidity = self.slices.iter().map(|s| {
            let (m0, m1) = (moment(&before, s), moment(&after, s));
            let (first, last) = (self.rigidity(s, m0, soft)?, self.rigidity(s, m1, soft)?);
            let curvature = m1.si() / last.si() - m0.si() / first.si();
            let added = (m1 - m0).si();
            let own = added / curvature;
            // where the test adds next to nothing the section stays as it is
            let kept = own.is_finite() && own > 0.0 && own <= first.si();
            Ok((s.from, if kept { FlexuralRigidity::from_si(own) } else { last }))
        });
        let rigidity: Vec<_> = rigidity.collect::<Result<_, Error>>()?;
        Beam::new(beam.length(), beam.supports().to_vec(), rigidity)?
            .with_hinges(beam.hinges().to_vec())
    }

    /// Deflection at a place beyond what is in place, at each share of the test load.
    pub(crate) fn course(
        &self,
        beam: &Beam,
        in_place: &[Load],
        test: &[Load],
        shares: &[f64],
        at: Length,
    ) -> Result<Vec<DeflectionStep>, Error> {
        let of = |share: f64, soft: bool| {
            let test = test.iter().map(|load| load.scaled(share));
            let all: Vec<Load> = in_place.iter().copied().chain(test).collect();
            Ok::<Length, Error>(self.response(beam, &all, soft)?.inside().deflection(at))
        };
        let zero = (of(0.0, false)?, of(0.0, true)?);
        let step = |share: &f64| {
            Ok(DeflectionStep {
                share: *share,
                stiff: of(*share, false)? - zero.0,
                soft: of(*share, true)? - zero.1,
            })
        };
        shares.iter().map(step).collect()
    }
}
