//! What is predicted along the member: when it cracks and how it fails in flexure, place by place,
//! as shares of the test load.

use super::cracking::{CrackingQuestion, CrackingRule, Scatter};
use super::fibres::FlexureMode;
use super::flexure::{Block, FlexureCode, FlexureQuestion, Reductions};
use super::material::StrengthSet;
use super::section::{Face, Section};
use super::steel::AlongMember;
use crate::beam::{Response, Side};
use crate::error::{Error, Issue, go_on, slug};
use crate::formula::NoRecord;
use crate::source::rule::Share;
use crate::source::{Given, Reader, Several};
use crate::units::{Length, Message, Moment, Ratio};
use crate::verdict::{Note, State};

crate::record! {
    /// The section of a stretch of the member, up to where the next begins.
    pub struct SectionStretch {
        /// Where it begins, from the left end of the member; there where it is left out.
        from: Given<Length, AlongMember> = Given::known(Length::ZERO),
        /// The section.
        section: Section,
        /// Why it is taken as cracked already: direct evidence goes before the formula.
        cracked: Option<String>,
    }
}

crate::record! {
    /// Sections along the member, and by which rules their strength is predicted. Predictions plan a
    /// test; they approve nothing.
    pub struct CapacitySpec {
        /// The sections, from left to right.
        sections: Several<SectionStretch>,
        /// Edition of the law of compressed concrete in flexure.
        code: FlexureCode,
        /// The law, where the code is one's own.
        block: Option<Block>,
        /// Formula of the flexural tensile strength.
        cracking: CrackingRule,
        /// The reductions of the design set.
        reductions: Option<Reductions>,
        /// How sure tensile strength and prestress are.
        scatter: Option<Scatter>,
        /// Part of the moment in place that acted before a topping did.
        before_topping: Option<Given<Ratio, Share>>,
    }
    rules { from_left_to_right[sections]; topping_staged[sections, before_topping]; }
}

fn from_left_to_right(reader: &mut Reader, sections: &Several<SectionStretch>) {
    let mut wrong = |i: usize, message: &'static str, value: Length, limit: Message| {
        let path = reader.path_of(&format!("{}.from", sections.path("sections", i)));
        reader.push(Issue::new(slug::CAPACITY_PLACE, path, message).value(value).limit(limit));
    };
    if let Some(first) = sections.first().filter(|s| s.from.value > Length::ZERO) {
        let message = "the first section begins at the left end of the member";
        wrong(0, message, first.from.value, "zero".into());
    }
    for (i, (a, b)) in sections.iter().zip(sections.iter().skip(1)).enumerate() {
        if a.from.value >= b.from.value {
            let limit = Message::new("beyond {}", [a.from.said()]);
            wrong(i + 1, "sections do not rise from left to right", b.from.value, limit);
        }
    }
}

fn topping_staged(
    reader: &mut Reader,
    sections: &Several<SectionStretch>,
    before: &Option<Given<Ratio, Share>>,
) {
    if before.is_none() && sections.iter().any(|s| s.section.topping.is_some()) {
        let path = reader.path_of("before_topping");
        let message = "a topping, and it is not said what acted before it did";
        reader.push(Issue::new(slug::SOURCE_FIELD_MISSING, path, message));
    }
}

crate::answer! {
    /// One place: total moments, sagging positive, on the face that the test pulls on.
    pub struct PredictedSection {
        /// Its place from the left end of the member.
        at: Length,
        /// The face that the test pulls on.
        face: Face,
        /// Moment in place before the test.
        in_place: Moment,
        /// Moment at full test load, with what is in place.
        total: Moment,
        /// Moment at which it cracks, expected set.
        cracking: Moment,
        /// Standard uncertainty of that, where the scatter is given.
        uncertainty: Option<Moment>,
        /// Share of the test load at which it cracks; zero or less where it has before the test.
        cracks_at: f64,
        /// Expected strength in flexure; nothing where no steel is in tension.
        expected: Option<Moment>,
        /// Design strength, where its reductions are given.
        design: Option<Moment>,
        /// Share of the test load at which the expected strength is reached; of a section whose steel does not carry its cracking moment, at which it cracks.
        fails_at: f64,
        /// How it fails; nothing where it breaks as it cracks.
        mode: Option<FlexureMode>,
        /// Whether that gives warning.
        ductile: bool,
        /// The part to which the steel that is anchored least is anchored; one where all is.
        anchored: f64,
    }
}

crate::answer! {
    /// What is predicted of the member: to plan the test by, never an approval.
    pub struct Predicted {
        /// Edition of the strength in flexure.
        code: FlexureCode,
        /// Formula of the tensile strength.
        rule: CrackingRule,
        /// The place that cracks first as the load of the test grows.
        cracks_first: Option<PredictedSection>,
        /// The place whose expected strength in flexure is reached first.
        fails_first: Option<PredictedSection>,
        /// Whether it stays uncracked at full test load: Inconclusive where the margin is smaller than twice the scatter, or the scatter is not given.
        stays_uncracked: State,
        /// Place by place.
        sections: Vec<PredictedSection>,
        /// Failures that are not predicted here.
        left_out: Vec<String>,
    }
}

/// Evenly spread places that are looked at, beside those where something changes.
const PLACES: u32 = 40;

/// What flexure alone does not say.
const LEFT_OUT: [&str; 3] = [
    "shear, bond, bearing and punching: another mode may come first",
    "damage that is not described, axial force from restraint",
    "redistribution after the first yield",
];

impl CapacitySpec {
    /// Predictions along a member, with what is in place and the test load on it. The issues name the
    /// paths of the record.
    ///
    /// # Errors
    /// `capacity.place` for a section beyond the member; what [`Cut::flexure`](super::Cut::flexure) and
    /// [`Cut::cracking`](super::Cut::cracking) refuse.
    pub fn along(&self, in_place: &Response, test: &Response) -> Result<Predicted, Error> {
        let length = test.length();
        let mut issues = Vec::new();
        for (i, stretch) in self.sections.iter().enumerate() {
            if stretch.from.value >= length {
                let path = format!("{}.from", self.sections.path("sections", i));
                let issue = Issue::new(slug::CAPACITY_PLACE, path, "a section beyond the member");
                let limit = Message::new("below {}", [length.into()]);
                issues.push(issue.value(stretch.from.said()).limit(limit));
            }
            let path = format!("{}.section", self.sections.path("sections", i));
            issues.extend(stretch.section.beyond(length, &path));
        }
        Error::check(issues)?;
        let ends = self.sections.iter().skip(1).map(|s| s.from.value).chain([length]);
        let even = (0..=PLACES).map(|i| length * (f64::from(i) / f64::from(PLACES)));
        let mut places: Vec<Length> = even.chain(test.breakpoints()).collect();
        places.sort_by(|a, b| a.si().total_cmp(&b.si()));
        let largest = places
            .iter()
            .map(|x| test.inside().moment(*x, Side::Right).abs().si())
            .fold(0.0, f64::max);
        let mut sections = Vec::new();
        for (i, (stretch, end)) in self.sections.iter().zip(ends).enumerate() {
            let from = stretch.from.value;
            let inside = places.iter().copied().filter(|x| *x > from && *x < end);
            let mut before = None;
            for x in core::iter::once(from).chain(inside).chain([end]) {
                go_on()?;
                let moments = (
                    in_place.inside().moment(x, Side::Right),
                    test.inside().moment(x, Side::Right),
                );
                // where the test does nothing there is nothing to say
                let same = before.is_some_and(|b: Length| (x - b).abs() <= length * 1e-9);
                if same || moments.1.abs().si() <= 1e-9 * largest {
                    continue;
                }
                before = Some(x);
                let found = self.section(stretch, x, length, moments).map_err(|mut error| {
                    let here = self.sections.path("sections", i);
                    error.issues.iter_mut().for_each(|issue| {
                        if !matches!(issue.path.as_str(), "block" | "cracked") {
                            issue.path = format!("{here}.section.{}", issue.path);
                        } else if issue.path == "cracked" {
                            issue.path = format!("{here}.cracked");
                        }
                    });
                    error
                })?;
                sections.push(found);
            }
        }
        let least = |by: fn(&PredictedSection) -> f64| {
            sections.iter().min_by(|a, b| by(a).total_cmp(&by(b))).cloned()
        };
        Ok(Predicted {
            code: self.code,
            rule: self.cracking,
            cracks_first: least(|s| s.cracks_at),
            fails_first: least(|s| s.fails_at),
            stays_uncracked: uncracked(&sections),
            sections,
            left_out: LEFT_OUT.iter().map(|s| (*s).to_owned()).collect(),
        })
    }

    fn section(
        &self,
        stretch: &SectionStretch,
        x: Length,
        length: Length,
        (in_place, test): (Moment, Moment),
    ) -> Result<PredictedSection, Error> {
        let cut = stretch.section.at(x, length);
        let (face, towards) =
            if test >= Moment::ZERO { (Face::Bottom, 1.0) } else { (Face::Top, -1.0) };
        let none = &mut NoRecord;
        let share = self.before_topping.as_ref().map_or(0.0, |s| s.value.value());
        let question = CrackingQuestion {
            cracked: stretch.cracked.as_deref(),
            scatter: self.scatter.as_ref(),
            before: in_place * share,
            ..CrackingQuestion::of(self.cracking, StrengthSet::Expected)
        };
        let cracking = cut.cracking(none, face, question)?;
        let asked = FlexureQuestion {
            block: self.block.as_ref(),
            reductions: self.reductions.as_ref(),
            ..FlexureQuestion::of(self.code)
        };
        let steel = cut.holds_crack(face);
        let mut strength = |set: StrengthSet| {
            if steel { cut.flexure(none, face, set, &asked).map(Some) } else { Ok(None) }
        };
        let expected = strength(StrengthSet::Expected)?;
        let design = if self.reductions.is_some() { strength(StrengthSet::Design)? } else { None };
        let reached = |moment: Moment| (moment - in_place).si() / test.si();
        let cracks_at = reached(cracking.moment);
        // steel that does not carry what the concrete did breaks with it
        let held =
            expected.as_ref().filter(|f| (f.moment - cracking.moment) * towards > Moment::ZERO);
        Ok(PredictedSection {
            at: x,
            face,
            in_place,
            total: in_place + test,
            cracking: cracking.moment,
            uncertainty: cracking.uncertainty,
            cracks_at,
            expected: expected.as_ref().map(|f| f.moment),
            design: design.map(|f| f.moment),
            fails_at: held.map_or(cracks_at, |f| reached(f.moment)),
            mode: held.map(|f| f.mode),
            ductile: held.is_some_and(|f| f.ductile),
            anchored: cut.steel.iter().map(|s| s.anchored).fold(1.0, f64::min),
        })
    }

    /// What the reader of the design must know.
    pub(crate) fn notes(&self, found: &Predicted) -> Vec<Note> {
        let mut notes = vec![Note::new(
            slug::CAPACITY_ASSUMED,
            "capacity",
            "strengths in flexure are predicted to plan the test by: no approval, and no other mode",
        )];
        let mean = |s: &SectionStretch| s.section.concrete.strength.expected.is_none();
        if self.sections.iter().any(mean) {
            let message = "a mean strength is not given: the expected set takes the specified one";
            notes.push(Note::new(slug::CAPACITY_MEAN_UNSTATED, "capacity.sections", message));
        }
        if self.reductions.is_none() {
            let message = "no reductions are given: there is no design set of flexure";
            notes.push(Note::new(slug::CAPACITY_DESIGN_MISSING, "capacity.reductions", message));
        }
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

fn uncracked(sections: &[PredictedSection]) -> State {
    let one = |s: &PredictedSection| {
        let towards = if s.face == Face::Bottom { 1.0 } else { -1.0 };
        let margin = (s.cracking - s.total) * towards;
        match s.uncertainty {
            Some(u) if margin >= u * 2.0 => State::Pass,
            _ if margin < s.uncertainty.unwrap_or(Moment::ZERO) * -2.0 => State::Fail,
            _ => State::Inconclusive,
        }
    };
    let all = || sections.iter().map(one);
    if all().any(|s| s == State::Fail) {
        State::Fail
    } else if sections.is_empty() || all().any(|s| s == State::Inconclusive) {
        State::Inconclusive
    } else {
        State::Pass
    }
}
