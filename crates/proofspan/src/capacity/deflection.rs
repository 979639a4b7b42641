//! Deflection over load, stiff and soft: sections along the member, each as cracked as its moment
//! makes it.

use super::cracking::{CrackingQuestion, CrackingRule};
use super::flexure::{FlexureQuestion, carries_on};
use super::material::StrengthSet;
use super::section::{Cut, Face, Section};
use super::shape::Size;
use super::stiffness::Interaction;
use crate::beam::{Beam, Load, Response, Side};
use crate::error::{Error, Issue, go_on, slug};
use crate::formula::NoRecord;
use crate::source::Given;
use crate::source::rule::Positive;
use crate::units::{FlexuralRigidity, Force, Length, Message, Moment, Ratio, SecondMoment, Stress};
use crate::verdict::Note;

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

crate::choice! {
    /// A member that no steel holds where it cracks.
    pub enum Fails ("state", source::SOURCE_CHOICE) {
        /// At a share of the test load.
        Cracking = "fails by cracking",
        /// As it is described it does not stand.
        InPlace = "fails by cracking under what is in place",
    }
}

crate::answer! {
    /// Where a member fails as it cracks, because its steel does not carry there what the concrete did: nothing
    /// is predicted beyond that load.
    pub struct FailsByCracking {
        /// How.
        state: Fails,
        /// Its place from the left end of the member.
        at: Length,
        /// The face that opens.
        face: Face,
        /// Share of the test load; zero where what is in place does it.
        share: f64,
        /// The total moment there, sagging positive.
        moment: Moment,
    }
}

impl FailsByCracking {
    /// What the reader must know.
    pub(super) fn note(&self, path: &'static str) -> Note {
        let message = Message::new(
            "the member {} at {}, at {} of the test load: its steel does not carry there the {} that crack it. Nothing is predicted beyond; what must count with a deflection counts with the member as it is up to there",
            [self.state.into(), self.at.into(), Ratio::from(self.share).into(), self.moment.into()],
        );
        Note::new(slug::CAPACITY_FAILS_BY_CRACKING, path, message)
    }
}

/// How many slices the member is cut into.
const SLICES: u32 = 64;
/// How often the load is found again at which a section breaks.
const TRIES: usize = 60;
/// How often the moments of an indeterminate member are found again with the stiffness they make.
const ROUNDS: usize = 40;

/// One slice of the member with what its stiffness depends on.
struct Slice {
    cracked: bool,
    from: Length,
    middle: Length,
    to: Length,
    modulus: Stress,
    gross: SecondMoment,
    sagging: Opens,
    hogging: Opens,
}

/// What becomes of a face that opens.
#[derive(Clone, Copy)]
struct Opens {
    /// The moment at which it cracks, as a size in its own sign.
    moment: Moment,
    /// Second moment once cracked; nothing where no bonded steel gives it one.
    cracked: Option<SecondMoment>,
    /// Whether its steel carries what the concrete did.
    holds: bool,
}

/// A course step by step, and where it ends before the full load.
pub(crate) type CourseFound = (Vec<DeflectionStep>, Option<FailsByCracking>);

/// A place that is over what cracks it, and breaks with that.
struct Broken {
    at: Length,
    face: Face,
    cracks: Moment,
    moment: Moment,
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
    pub(crate) strength: FlexureQuestion<'a>,
}

impl Sliced {
    /// A member of sections from left to right.
    pub(crate) fn new(length: Length, asked: Course<'_>) -> Result<Self, Error> {
        let step = length / f64::from(SLICES);
        // sections that go on alike open alike
        let mut before: Option<(Length, Cut, [Opens; 2])> = None;
        let slice = |i: u32| {
            let from = step * f64::from(i);
            let middle = from + step / 2.0;
            let here = asked.stretches.iter().rfind(|s| s.0 <= middle).or(asked.stretches.first());
            let Some((begins, section, cracked)) = here else {
                let message = "no section is described";
                return Err(Issue::new(slug::SOURCE_FIELD_MISSING, "section", message).into());
            };
            let question = CrackingQuestion {
                cracked: *cracked,
                ..CrackingQuestion::of(asked.rule, StrengthSet::Expected)
            };
            let cut = section.at(middle, length);
            let known = before
                .as_ref()
                .filter(|b| b.0 == *begins && b.1.steel == cut.steel && b.1.strips == cut.strips)
                .map(|b| b.2);
            let [sagging, hogging] = match known {
                Some(known) => known,
                None => {
                    let of = |face| Self::face(&cut, face, question, &asked.strength);
                    [of(Face::Bottom)?, of(Face::Top)?]
                }
            };
            before = Some((*begins, cut.clone(), [sagging, hogging]));
            Ok(Slice {
                cracked: cracked.is_some(),
                from,
                middle,
                to: from + step,
                modulus: cut.modulus()?,
                gross: cut.gross()?.second_moment,
                sagging,
                hogging,
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
        strength: &FlexureQuestion<'_>,
    ) -> Result<Opens, Error> {
        let moment = cut.cracking(&mut NoRecord, face, question)?.moment;
        Ok(Opens {
            moment: if face == Face::Bottom { moment } else { -moment },
            cracked: cut.cracked(face).ok().map(|(_, i)| i),
            holds: carries_on(cut, face, moment, strength)?,
        })
    }

    /// Stiffness of a slice under a total moment.
    fn rigidity(
        &self,
        slice: &Slice,
        moment: Moment,
        soft: bool,
    ) -> Result<FlexuralRigidity, Error> {
        let face = if moment >= Moment::ZERO { slice.sagging } else { slice.hogging };
        let mut found = slice.gross;
        // one that breaks as it cracks has the stiffness that it has up to there
        let opens = (soft || slice.cracked) && face.holds;
        if let Some(cracked) = face.cracked.filter(|_| opens) {
            // where prestress alone opens the face, it is open
            let moments = (face.moment.max(Moment::ZERO), moment.abs());
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

    /// The places that break under these actions.
    fn broken(&self, actions: &Response) -> Vec<Broken> {
        let inside = actions.inside();
        let points: Vec<Length> = actions.breakpoints().collect();
        let mut all = Vec::new();
        for slice in &self.slices {
            let within = points.iter().copied().filter(|x| *x > slice.from && *x < slice.to);
            for at in [slice.from, slice.middle, slice.to].into_iter().chain(within) {
                for side in [Side::Left, Side::Right] {
                    let moment = inside.moment(at, side);
                    let (face, opens) = if moment >= Moment::ZERO {
                        (Face::Bottom, slice.sagging)
                    } else {
                        (Face::Top, slice.hogging)
                    };
                    if !opens.holds && moment.abs() > opens.moment.max(Moment::ZERO) {
                        let cracks = opens.moment.max(Moment::ZERO);
                        all.push(Broken { at, face, cracks, moment });
                    }
                }
            }
        }
        // next to nothing opens nothing, at a bearing of a member that is cracked already
        let largest = all.iter().map(|b| b.moment.abs()).fold(Moment::ZERO, Moment::max);
        all.retain(|b| b.moment.abs() > largest * 1e-9);
        all
    }

    /// Where and at which share of the test load, up to the one given, the member fails by cracking.
    fn fails(
        &self,
        of: &impl Fn(f64) -> Result<Response, Error>,
        most: f64,
    ) -> Result<Option<FailsByCracking>, Error> {
        let mut high = (most, of(most)?);
        let mut broken = self.broken(&high.1);
        if broken.is_empty() {
            return Ok(None);
        }
        let mut low = (0.0, of(0.0)?);
        let over = |b: &Broken| (b.moment.abs() - b.cracks).si();
        let worst = |all: &[Broken]| {
            let most = all.iter().max_by(|a, b| over(a).total_cmp(&over(b)));
            most.map(|b| (b.at, b.face, b.moment))
        };
        if let Some((at, face, moment)) = worst(&self.broken(&low.1)) {
            let state = Fails::InPlace;
            return Ok(Some(FailsByCracking { state, at, face, share: 0.0, moment }));
        }
        for i in 0..TRIES {
            go_on()?;
            let span = high.0 - low.0;
            if span <= 1e-12 * most {
                break;
            }
            // the line between both ends ends where the stiffness does not change: for the place that breaks first
            let part = |b: &Broken| {
                let before = low.1.inside().moment(b.at, Side::Right).abs();
                let before =
                    if (before - b.moment.abs()).abs().si() > 0.0 { before } else { b.cracks };
                ((b.cracks - before).si() / (b.moment.abs() - before).si()).clamp(0.0, 1.0)
            };
            let first = broken.iter().map(part).fold(1.0, f64::min);
            let share = low.0 + span * if i % 3 == 2 { 0.5 } else { first };
            let share = if i % 3 == 0 { share * (1.0 + 1e-12) } else { share };
            if share >= high.0 {
                break;
            }
            let there = of(share)?;
            let now = self.broken(&there);
            if now.is_empty() {
                low = (share, there);
            } else {
                (high, broken) = ((share, there), now);
            }
        }
        let found = worst(&broken);
        Ok(found.map(|(at, face, moment)| FailsByCracking {
            state: Fails::Cracking,
            at,
            face,
            share: high.0,
            moment,
        }))
    }

    /// Deflection at a place beyond what is in place, at each share of the test load up to where the member
    /// fails by cracking.
    pub(crate) fn course(
        &self,
        beam: &Beam,
        in_place: &[Load],
        test: &[Load],
        shares: &[f64],
        at: Length,
    ) -> Result<CourseFound, Error> {
        let of = |share: f64, soft: bool| {
            let test = test.iter().map(|load| load.scaled(share));
            let all: Vec<Load> = in_place.iter().copied().chain(test).collect();
            self.response(beam, &all, soft)
        };
        let most = shares.iter().copied().fold(0.0, f64::max);
        let fails = self.fails(&|share| of(share, true), most)?;
        let moved = |share, soft| Ok::<_, Error>(of(share, soft)?.inside().deflection(at));
        let zero = (moved(0.0, false)?, moved(0.0, true)?);
        let step = |share: &f64| {
            Ok(DeflectionStep {
                share: *share,
                stiff: moved(*share, false)? - zero.0,
                soft: moved(*share, true)? - zero.1,
            })
        };
        let held = shares.iter().filter(|s| fails.as_ref().is_none_or(|f| **s < f.share));
        let steps: Result<Vec<DeflectionStep>, Error> = held.map(step).collect();
        Ok((steps?, fails))
    }
}
