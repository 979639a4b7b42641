//! The member without its strengthening, and in fire: its strength along it against the loads of the
//! document.

use super::along::{CapacitySpec, SectionStretch};
use super::material::StrengthSet;
use super::section::Face;
use super::shear::Acting;
use super::strengthening::{Effects, Held, LostCheck, LostEffect, LostSpec};
use crate::beam::{Beam, Response, Side};
use crate::error::{Error, Issue, go_on, slug};
use crate::formula::{NoRecord, Working};
use crate::loads::Nominal;
use crate::units::{Length, Moment};
use crate::verdict::MemberUnit;

impl CapacitySpec {
    /// Every rule that the member must keep without its strengthening, where it is nearest to breaking it,
    /// by the loads of the document. The issues name the paths of the record.
    ///
    /// # Errors
    /// `source.field-missing` for a strength that neither is given nor can be predicted;
    /// `capacity.place` for a stretch without a place.
    pub(crate) fn lost(
        &self,
        working: &mut Working,
        beam: &Beam,
        nominal: &[Nominal],
        unit: MemberUnit,
    ) -> Result<Vec<LostCheck>, Error> {
        let (mut found, mut issues) = (Vec::new(), Vec::new());
        if self.without_strengthening.is_empty() {
            return Ok(found);
        }
        let effects = Effects::of(beam, nominal, &self.without_strengthening)?;
        let added: Vec<(f64, &Response)> =
            effects.live.iter().chain([&effects.snow]).map(|r| (1.0, r)).collect();
        let added = Response::sum(&added);
        let places = self.places(&effects.dead, &added);
        for (i, asked) in self.without_strengthening.iter().enumerate() {
            let (from, to) = asked.stretch(effects.dead.length());
            let mut places = places.clone();
            places.extend([from, to].into_iter().filter(|x| *x <= effects.dead.length()));
            places.sort_by(|a, b| a.si().total_cmp(&b.si()));
            let one = self.one_lost(working, asked, (&effects, &added), &places, unit);
            match one {
                Ok(checks) => found.extend(checks),
                Err(error) => issues.extend(error.issues.into_iter().map(|mut issue| {
                    if !issue.path.starts_with("sections") {
                        issue.path = format!("without_strengthening[{i}].{}", issue.path);
                    }
                    issue
                })),
            }
        }
        Error::check(issues)?;
        Ok(found)
    }

    fn one_lost(
        &self,
        working: &mut Working,
        asked: &LostSpec,
        (effects, added): (&Effects, &Response),
        places: &[Length],
        unit: MemberUnit,
    ) -> Result<Vec<LostCheck>, Error> {
        let mut held: [Vec<Held>; 2] = [Vec::new(), Vec::new()];
        if asked.asks_strength() {
            held = match asked.effect() {
                LostEffect::Shear => self.shear_without(effects, added, places)?,
                LostEffect::Moment => self.moment_without(effects.dead.length(), places)?,
            };
            if held.iter().all(Vec::is_empty) {
                let message = "the design strength without the strengthening is not given, and without the factors of the edition it is not predicted";
                return Err(Issue::new(slug::SOURCE_FIELD_MISSING, "strength", message).into());
            }
        }
        let [sagging, hogging] = &held;
        asked.along(working, effects, places, [sagging, hogging], unit)
    }

    /// The design strength in shear without what was added, under dead and live load.
    fn shear_without(
        &self,
        effects: &Effects,
        added: &Response,
        places: &[Length],
    ) -> Result<[Vec<Held>; 2], Error> {
        let bare = |s: &SectionStretch| SectionStretch { wraps: None, added: None, ..s.clone() };
        let own = Self { sections: self.sections.iter().map(bare).collect(), ..self.clone() };
        let Some(code) = own.shear_code() else { return Ok([Vec::new(), Vec::new()]) };
        let none = Response::sum(&[(0.0, &effects.dead)]);
        let carries = |r: &Response| {
            let shear = |x: &Length| r.inside().shear(*x, Side::Right).si();
            places.iter().any(|x| shear(x).abs() > 0.0)
        };
        // without a live load the dead load alone says where the section is asked
        let acting = if carries(added) {
            Acting { in_place: &effects.dead, test: added }
        } else {
            Acting { in_place: &none, test: &effects.dead }
        };
        let found = own.shear(code, acting, places, &mut Vec::new())?;
        let all = || {
            let each = found.iter().filter_map(|s| Some((s.at, s.design?.si())));
            each.map(|(at, strength)| Held { at, strength }).collect::<Vec<_>>()
        };
        Ok([all(), all()])
    }

    /// The design strength in flexure in both signs.
    fn moment_without(&self, length: Length, places: &[Length]) -> Result<[Vec<Held>; 2], Error> {
        let (mut sagging, mut hogging) = (Vec::new(), Vec::new());
        if self.reductions.is_none() {
            return Ok([sagging, hogging]);
        }
        let question = self.asks_flexure();
        for at in places.iter().copied() {
            go_on()?;
            let before = |s: &&SectionStretch| s.from.value <= at;
            let Some(stretch) = self.sections.iter().rfind(before) else { continue };
            let cut = stretch.section.at(at, length).without_strips();
            for (face, list) in [(Face::Bottom, &mut sagging), (Face::Top, &mut hogging)] {
                let strength = if cut.holds_crack(face) {
                    cut.flexure(&mut NoRecord, face, StrengthSet::Design, &question)?.moment.abs()
                } else {
                    Moment::ZERO
                };
                list.push(Held { at, strength: strength.si() });
            }
        }
        Ok([sagging, hogging])
    }
}
