//! How stiff the sections of a document make the member, beside what its beam says, and where it must not
//! crack.

use super::along::CapacitySpec;
use super::cracking::CrackingQuestion;
use super::deflection::{Course, Sliced, Standing};
use super::material::StrengthSet;
use super::predicted::PredictedStiffness;
use super::section::Face;
use crate::beam::{Beam, Load, Response, Side};
use crate::error::{Error, Issue, go_on, slug};
use crate::formula::NoRecord;
use crate::units::{Length, Message, Moment, Ratio, Said};
use crate::verdict::Note;

/// A stretch with the total moments at which it is kept uncracked, as sizes.
pub(crate) struct Uncracked {
    pub(crate) from: Length,
    pub(crate) to: Length,
    pub(crate) sagging: Option<Moment>,
    pub(crate) hogging: Option<Moment>,
}

impl CapacitySpec {
    fn standing(&self) -> Vec<Standing<'_>> {
        let one = |s: &'_ super::along::SectionStretch| s.from.value;
        self.sections.iter().map(|s| (one(s), &s.section, s.cracked.as_deref())).collect()
    }

    fn sliced(&self, length: Length) -> Result<Sliced, Error> {
        let stretches = self.standing();
        let asked = Course {
            rule: self.cracking,
            stretches: &stretches,
            load_factor: None,
            strength: self.asks_flexure(),
        };
        Sliced::new(length, asked)
    }

    /// Whether every concrete has its modulus: without it nothing is said of stiffness.
    fn has_moduli(&self) -> bool {
        self.sections.iter().all(|s| {
            let topping = s.section.topping.as_ref();
            s.section.concrete.modulus.is_some()
                && topping.is_none_or(|t| t.concrete.modulus.is_some())
        })
    }

    /// The soft and the stiff beam of the sections, for what the test adds.
    ///
    /// # Errors
    /// `capacity.modulus`; what cracking refuses.
    pub(crate) fn beams(
        &self,
        beam: &Beam,
        in_place: &[Load],
        test: &[Load],
    ) -> Result<(Beam, Beam), Error> {
        let sliced = self.sliced(beam.length())?;
        let of = |soft| sliced.adding(beam, in_place, test, soft);
        Ok((of(true)?, of(false)?))
    }

    /// The deflection of the test by the sections beside that by the beam of the document, where it is
    /// largest; nothing where a modulus is not given.
    ///
    /// # Errors
    /// What cracking refuses.
    pub(crate) fn stiffness(
        &self,
        beam: &Beam,
        (in_place, test): (&[Load], &[Load]),
        (stiff, soft): (&Response, &Response),
        shares: &[f64],
    ) -> Result<Option<PredictedStiffness>, Error> {
        if !self.has_moduli() {
            return Ok(None);
        }
        let sliced = self.sliced(beam.length())?;
        let ends = soft.inside().deflection_extremes(Length::ZERO, beam.length());
        let at =
            if ends.max.value.abs() >= ends.min.value.abs() { ends.max.at } else { ends.min.at };
        let (steps, breaks) = sliced.course(beam, in_place, test, shares, at)?;
        Ok(Some(PredictedStiffness {
            at,
            used: self.stiffness,
            beam_stiff: stiff.inside().deflection(at),
            beam_soft: soft.inside().deflection(at),
            steps,
            breaks,
        }))
    }

    /// Says where the beam of the document and its sections differ by more than stated.
    pub(super) fn differ(&self, found: &PredictedStiffness, notes: &mut Vec<Note>) {
        if let Some(breaks) = &found.breaks {
            notes.push(breaks.note("capacity.sections"));
            return;
        }
        let Some(full) = found.steps.last() else { return };
        let apart =
            |a: Length, b: Length| (a / b - 1.0).abs() > self.stiffness_differs.value.value();
        let both = [
            ("stiff", "beam.stiff", found.beam_stiff, full.stiff),
            ("soft", "beam.soft", found.beam_soft, full.soft),
        ];
        for (which, path, beam, sections) in both {
            if apart(beam, sections) {
                let text = "at {} the test adds {} by the {} beam of the document and {} by its sections, {} of it: the design counts with the {}";
                let message = Message::new(
                    text,
                    [
                        found.at.into(),
                        Said::small(beam),
                        which.into(),
                        Said::small(sections),
                        Ratio::from(sections / beam).into(),
                        found.used.into(),
                    ],
                );
                notes.push(Note::new(slug::CAPACITY_STIFFNESS, path, message));
            }
        }
    }

    /// Stretches with the total moments that keep them uncracked: cracking less twice its uncertainty, the
    /// least of both ends; one whose other face prestress alone opens has no limit there.
    ///
    /// # Errors
    /// `capacity.cracked` for a place that is cracked already; what cracking refuses.
    pub(crate) fn uncracked(&self, in_place: &Response) -> Result<Vec<Uncracked>, Error> {
        let length = in_place.length();
        let places = self.places(in_place, in_place);
        let share = self.before_topping.as_ref().map_or(0.0, |s| s.value.value());
        let ends = self.sections.iter().skip(1).map(|s| s.from.value).chain([length]);
        let mut found: Vec<Uncracked> = Vec::new();
        for (stretch, end) in self.sections.iter().zip(ends) {
            let from = stretch.from.value;
            let inside = places.iter().copied().filter(|x| *x > from && *x < end);
            let mut before: Option<(Length, Moment, Moment)> = None;
            for x in core::iter::once(from).chain(inside).chain([end]) {
                go_on()?;
                let cut = stretch.section.at(x, length);
                let question = CrackingQuestion {
                    cracked: stretch.cracked.as_deref(),
                    scatter: self.scatter.as_ref(),
                    before: in_place.inside().moment(x, Side::Right) * share,
                    ..CrackingQuestion::of(self.cracking, StrengthSet::Expected)
                };
                let of = |face, towards: f64| {
                    let found = cut.cracking(&mut NoRecord, face, question)?;
                    let u = found.uncertainty.unwrap_or(Moment::ZERO);
                    Ok::<Moment, Error>(found.moment * towards - u * 2.0)
                };
                let (sagging, hogging) = (of(Face::Bottom, 1.0)?, of(Face::Top, -1.0)?);
                let there = in_place.inside().moment(x, Side::Right);
                if sagging <= there.max(Moment::ZERO) {
                    let message = "kept uncracked, and it is cracked by what is in place, as predicted with its scatter";
                    let issue =
                        Issue::new(slug::CAPACITY_CRACKED, "layout.stay_uncracked", message);
                    let limit = Message::new("more than {}, at {}", [there.into(), x.into()]);
                    return Err(issue.value(sagging).limit(limit).into());
                }
                if let Some((last, s, h)) = before.replace((x, sagging, hogging))
                    && x > last
                {
                    let above = |m: Moment| Some(m).filter(|m| *m > Moment::ZERO);
                    let (s, h) = (above(s.min(sagging)), above(h.min(hogging)));
                    match found.last_mut().filter(|f| (f.sagging, f.hogging) == (s, h)) {
                        Some(same) => same.to = x,
                        None => found.push(Uncracked { from: last, to: x, sagging: s, hogging: h }),
                    }
                }
            }
        }
        Ok(found)
    }
}
