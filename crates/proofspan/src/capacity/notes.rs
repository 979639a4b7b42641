//! What the reader of a design must know of what is predicted.

use super::along::{CapacitySpec, SectionStretch, UNSTATED_SCATTER};
use super::elastic::BEYOND_CORE;
use super::face::Face;
use super::flexure::FlexureCode;
use super::local::{LocalPlaced, PressedBy};
use super::predicted::{Predicted, PredictedSection};
use super::shear::ShearEdition;
use super::strengthening::Likely;
use crate::error::slug;
use crate::units::{Force, Length, Message, Ratio};
use crate::verdict::Note;

/// What is said of the ends of strips wherever they are predicted.
const PEELING: &str = "peeling of the ends of strips in flexure, and of the cover there, is not predicted: no formula is known here; it may come before every mode that is, without warning";

impl CapacitySpec {
    /// Whether strips in flexure are bonded anywhere.
    pub(crate) fn stripped(&self) -> bool {
        self.sections.iter().any(|s| !s.section.strips.is_empty())
    }

    /// The volume of the sections on a member of this length, m³.
    fn volume(&self, length: Length) -> f64 {
        let ends = self.sections.iter().skip(1).map(|s| s.from.value).chain([length]);
        let one = |(s, end): (&SectionStretch, Length)| {
            let area = s.section.at(s.from.value, length).outline.properties().area.si();
            area * (end - s.from.value).si()
        };
        self.sections.iter().zip(ends).map(one).sum()
    }

    /// Says that the test hardly strains strips in flexure, where it comes nearest to cracking the section
    /// under them.
    fn strips_idle(&self, found: &Predicted, length: Length, notes: &mut Vec<Note>) {
        let under = |s: &&PredictedSection| {
            let stretch = self.sections.iter().rfind(|own| own.from.value <= s.at);
            let strips = stretch.map(|own| own.section.at(s.at, length).strips);
            strips.is_some_and(|all| all.iter().any(|b| b.face == s.face))
        };
        // what is cracked before the test strains them from its first step on
        let ratio = |s: &PredictedSection| {
            let over = s.total / s.cracking;
            if s.cracks_at <= 0.0 || over < 0.0 { f64::INFINITY } else { over }
        };
        let each = found.sections.iter().filter(under);
        let Some(most) = each.max_by(|a, b| ratio(a).total_cmp(&ratio(b))) else { return };
        let scatter = self.scatter.as_ref().map_or(UNSTATED_SCATTER, |s| s.tension.value);
        let likely = Likely::of(ratio(most), scatter);
        if likely != Likely::Likely {
            let message = Message::new(
                "at {} the test brings a moment of {}, the section under the strips is expected to crack at {}: before that strips in flexure are nearly idle; exercised: {}",
                [most.at.into(), most.total.into(), most.cracking.into(), likely.into()],
            );
            notes.push(Note::new(slug::CAPACITY_WRAPS_IDLE, "capacity.sections", message));
        }
    }

    /// Says where an edition counts a value up to a cap only.
    fn caps(&self, found: &Predicted, length: Length, notes: &mut Vec<Note>) {
        let Some(code) = found.shear_code else { return };
        let ends = self.sections.iter().skip(1).map(|s| s.from.value).chain([length]);
        for (i, (stretch, end)) in self.sections.iter().zip(ends).enumerate() {
            let path = format!("capacity.{}", self.sections.path("sections", i));
            let asked = self.asks_shear(code, stretch);
            let mut told: Vec<Message> = Vec::new();
            for s in found.shear.iter().filter(|s| s.at >= stretch.from.value && s.at <= end) {
                let apart = |p: &&PredictedSection| (p.at - s.at).abs().si();
                let bent = found.sections.iter().min_by(|a, b| apart(a).total_cmp(&apart(b)));
                let face = bent.map_or(Face::Bottom, |p| p.face);
                for message in asked.capped(&stretch.section.at(s.at, length), face) {
                    if !told.contains(&message) {
                        let note = Note::new(slug::CAPACITY_CAPPED, path.clone(), message.clone());
                        notes.push(note);
                        told.push(message);
                    }
                }
            }
        }
    }

    /// What the reader of the design must know; `tributary` is the width that loads one member unit,
    /// `own_weight` its self-weight by the loads.
    pub(crate) fn notes(
        &self,
        found: &Predicted,
        (tributary, length): (Length, Length),
        own_weight: Force,
    ) -> Vec<Note> {
        let mut notes = vec![Note::new(
            slug::CAPACITY_ASSUMED,
            "capacity",
            "cracking, flexure and shear are predicted to plan the test by: no approval, and no other mode",
        )];
        for (i, stretch) in self.sections.iter().enumerate() {
            let width = stretch.section.shape.outline().widest();
            if width > tributary * (1.0 + 1e-3) {
                let path = format!("capacity.{}.section.shape", self.sections.path("sections", i));
                let message = Message::new(
                    "the section is {} wide, the width that loads one member unit {}: look whether both are per the same unit",
                    [width.into(), tributary.into()],
                );
                notes.push(Note::new(slug::CAPACITY_MEMBER_UNIT, path, message));
            }
        }
        let ends = self.sections.iter().skip(1).map(|s| s.from.value).chain([length]);
        for (i, (stretch, end)) in self.sections.iter().zip(ends).enumerate() {
            let places = [stretch.from.value, (stretch.from.value + end) / 2.0, end];
            if places.iter().any(|x| stretch.section.at(*x, length).beyond_core()) {
                let path =
                    format!("capacity.{}.section.tendons", self.sections.path("sections", i));
                notes.push(Note::new(slug::CAPACITY_BEYOND_CORE, path, BEYOND_CORE));
            }
        }
        // reinforced concrete weighs 20 to 27 kN/m³, light concrete down to 14 (library rule)
        let volume = self.volume(length);
        let density = own_weight.si() / volume;
        if own_weight > Force::ZERO && !(1.4e4..=2.8e4).contains(&density) {
            let message = Message::new(
                "the self-weight of the loads, {} in all, is {} of what the sections weigh at 24 kN/m³: look whether both are per the same unit",
                [own_weight.into(), Ratio::from(density / 2.4e4).into()],
            );
            notes.push(Note::new(slug::CAPACITY_MEMBER_UNIT, "capacity.sections", message));
        }
        let mean = |s: &SectionStretch| s.section.concrete.strength.expected.is_none();
        if self.sections.iter().any(mean) {
            let message = "a mean strength is not given: the expected set takes the specified one";
            notes.push(Note::new(slug::CAPACITY_MEAN_UNSTATED, "capacity.sections", message));
        }
        if self.reductions.is_none() {
            let message = "no reductions are given: there is no design set of flexure";
            notes.push(Note::new(slug::CAPACITY_DESIGN_MISSING, "capacity.reductions", message));
        }
        if found.shear.iter().any(|s| s.design.is_none()) {
            let message = "the factors of shear are not given: there is no design set of shear";
            notes.push(Note::new(slug::CAPACITY_FACTORS, "capacity", message));
        }
        if found.shear.iter().any(|s| !s.stirrups) {
            let message = "no stirrups are described: shear is predicted without any there";
            notes.push(Note::new(slug::CAPACITY_ASSUMED, "capacity.sections", message));
        }
        match &found.stiffness {
            Some(stiffness) => self.differ(stiffness, &mut notes),
            None => {
                let message = "a modulus of the concrete is not given: stop limits, gap and ranges hang on the beam of the document alone";
                notes.push(Note::new(slug::CAPACITY_STIFFNESS, "capacity.sections", message));
            }
        }
        let caught = |l: &&LocalPlaced| {
            l.under == PressedBy::Bearing && l.found.checks.iter().all(|c| c.action != "catch")
        };
        if let Some(local) = found.local.iter().find(caught) {
            let path = format!("capacity.local.{}", local.name);
            let message = "what the bearing takes when the member falls on its catch is not computed (no catch, nothing that holds a piece that falls, or one with hinges of which a part hangs on more than two bearings): give `catch` with the strength";
            notes.push(Note::new(slug::CAPACITY_ASSUMED, path, message));
        }
        if let Some(likely) = &found.exercised {
            likely.exercised.noted(&mut notes, "capacity.sections");
        }
        self.strips_idle(found, length, &mut notes);
        if self.stripped() {
            notes.push(Note::new(slug::CAPACITY_ASSUMED, "capacity.sections", PEELING));
        }
        let stressed = self.sections.iter().any(|s| !s.section.tendons.is_empty());
        if found.shear_code == Some(ShearEdition::En2004) && stressed && !found.shear.is_empty() {
            let message = "EN 1992-1-1: the relief of the shear by tendons that slope is left out, one that adds to it is counted; the factor of the compressed chord is taken as 1";
            notes.push(Note::new(slug::CAPACITY_ASSUMED, "capacity.shear", message));
        }
        if found.shear.iter().any(|s| s.strut) {
            let message = "a force of the test stands near a bearing: part of it goes there by a strut, and the strength in shear beside it is a lower bound";
            notes.push(Note::new(slug::CAPACITY_STRUT, "capacity", message));
        }
        if let Some(first) = found.shear_first.as_ref().filter(|f| f.fails_at < 1.0) {
            let message = Message::new(
                "at {} the expected strength in shear is reached at {} of the test load: brittle",
                [first.at.into(), Ratio::from(first.fails_at).into()],
            );
            notes.push(Note::new(slug::CAPACITY_BEFORE_FULL_LOAD, "capacity.shear", message));
        }
        self.caps(found, length, &mut notes);
        if found.sections.iter().any(|s| s.anchored < 1.0) {
            let message =
                "steel that is not fully anchored everywhere: it carries less near its ends";
            notes.push(Note::new(slug::CAPACITY_ANCHORED_IN_PART, "capacity.sections", message));
        }
        if self.code != FlexureCode::Own {
            let message = self.code.unconfirmed();
            notes.push(Note::new(slug::EDITIONS_VALUE_UNCONFIRMED, "capacity.code", message));
        }
        if let Some(first) = found.fails_first.as_ref().filter(|f| f.fails_at < 1.0) {
            let message = Message::new(
                "at {} the expected strength in flexure is reached at {} of the test load",
                [first.at.into(), Ratio::from(first.fails_at).into()],
            );
            notes.push(Note::new(slug::CAPACITY_BEFORE_FULL_LOAD, "capacity", message));
        }
        notes
    }
}
