//! What is predicted along the member: when it cracks, how it fails in flexure and in shear, place by
//! place, as shares of the test load.

use super::cracking::{CrackingQuestion, CrackingRule, Scatter};
use super::fibres::FlexureMode;
use super::flexure::{Block, FlexureCode, FlexureQuestion, Reductions};
use super::material::StrengthSet;
use super::section::{Face, Section};
use super::shear::{Acting, PredictedShear, Reduction, ShearEdition, ShearQuestion, Stirrups};
use super::steel::AlongMember;
use crate::beam::{Response, Side};
use crate::error::{Error, Issue, go_on, slug};
use crate::formula::NoRecord;
use crate::source::rule::Share;
use crate::source::{Given, Reader, Several};
use crate::units::{Force, Length, Message, Moment, Ratio};
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
        /// Its stirrups, on one member unit; shear is predicted without any where they are left out, and a note says so.
        stirrups: Option<Stirrups>,
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
        /// Edition of the strength in shear; that of flexure where it is left out, in the units of the formula of cracking.
        shear: Option<ShearEdition>,
        /// Strength reduction factor of shear, ACI 318; by EN 1992-1-1 the partial factors of the reductions count.
        shear_reduction: Option<Given<Ratio, Reduction>>,
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

crate::choice! {
    /// A mode that is predicted along the member.
    pub enum PredictedKind ("mode", source::SOURCE_CHOICE) {
        /// A face cracks.
        Cracking = "cracking",
        /// Strength in flexure.
        Flexure = "flexure",
        /// Strength in one-way shear.
        Shear = "shear",
    }
}

crate::answer! {
    /// A mode that comes first, where, and how sure that is.
    pub struct PredictedMode {
        /// Which one.
        mode: PredictedKind,
        /// Its place from the left end of the member.
        at: Length,
        /// Share of the test load at which it is reached.
        share: f64,
        /// Standard uncertainty of that share, by the scatter of the tension of the concrete (and of the prestress, of a section in bending) there; nothing where it is not given.
        uncertainty: Option<f64>,
        /// What is total at full test load over the expected strength there; nothing where there is none.
        used: Option<f64>,
        /// Whether it comes without warning.
        brittle: bool,
        /// Whether it stays away at full test load: Inconclusive where the margin is smaller than twice the uncertainty, or none is given.
        stays_away: State,
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
        /// Edition of the strength in shear; nothing where the law of flexure is one's own and none is named.
        shear_code: Option<ShearEdition>,
        /// The place whose expected strength in shear is reached first; nothing where none is predicted.
        shear_first: Option<PredictedShear>,
        /// The first mode as the load of the test grows, as every first here over the ranges of the inputs: cracking of what is not cracked before, flexure or shear.
        first: Option<PredictedMode>,
        /// The first of flexure and shear, and of what breaks as it cracks.
        first_failure: Option<PredictedMode>,
        /// Place by place.
        sections: Vec<PredictedSection>,
        /// Shear, place by place, where the edition asks for it.
        shear: Vec<PredictedShear>,
        /// Failures that are not predicted here.
        left_out: Vec<String>,
    }
}

/// Evenly spread places that are looked at, beside those where something changes.
const PLACES: u32 = 40;

/// What no prediction here says.
const LEFT_OUT: [&str; 3] = [
    "bond, bearing, punching and torsion: another mode may come first",
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
        // beside the ends of bars the strength jumps
        let bars = self.sections.iter().flat_map(|s| s.section.bars.iter()).flat_map(|b| {
            let (from, to) = (b.from.as_ref(), b.to.as_ref());
            let beside = length * 1e-6;
            [from.map(|f| f.value - beside), to.map(|t| t.value + beside)]
        });
        let inside = |x: &Length| *x > Length::ZERO && *x < length;
        let mut places: Vec<Length> = even
            .chain(test.breakpoints())
            .chain(in_place.breakpoints())
            .chain(bars.flatten().filter(inside))
            .collect();
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
        let mut left_out: Vec<String> = LEFT_OUT.iter().map(|s| (*s).to_owned()).collect();
        let shear_code = self.shear_code();
        let shear = match shear_code {
            Some(code) => self.shear(code, Acting { in_place, test }, &places, &mut left_out)?,
            None => {
                left_out
                    .push("shear: the code is one's own, and none of shear is named".to_owned());
                Vec::new()
            }
        };
        let (first, first_failure) = first_modes(&sections, &shear);
        Ok(Predicted {
            code: self.code,
            rule: self.cracking,
            cracks_first: least(|s| s.cracks_at),
            fails_first: least(|s| s.fails_at),
            stays_uncracked: uncracked(&sections),
            shear_code,
            shear_first: shear.iter().min_by(|a, b| a.fails_at.total_cmp(&b.fails_at)).cloned(),
            first,
            first_failure,
            sections,
            shear,
            left_out,
        })
    }

    /// The edition of shear: as named, or that of flexure.
    fn shear_code(&self) -> Option<ShearEdition> {
        self.shear.or(match (self.code, self.cracking) {
            (FlexureCode::Aci, CrackingRule::AciMpa) => Some(ShearEdition::AciMetric),
            (FlexureCode::Aci, _) => Some(ShearEdition::Aci),
            (FlexureCode::En, _) => Some(ShearEdition::En2004),
            (FlexureCode::Own, _) => None,
        })
    }

    fn shear(
        &self,
        code: ShearEdition,
        acting: Acting<'_>,
        places: &[Length],
        left_out: &mut Vec<String>,
    ) -> Result<Vec<PredictedShear>, Error> {
        let length = acting.test.length();
        let largest = places
            .iter()
            .flat_map(|x| [Side::Left, Side::Right].map(|side| (*x, side)))
            .map(|(x, side)| acting.test.inside().shear(x, side).abs())
            .fold(Force::ZERO, Force::max);
        let ends = self.sections.iter().skip(1).map(|s| s.from.value).chain([length]);
        let mut found = Vec::new();
        for (i, (stretch, end)) in self.sections.iter().zip(ends).enumerate() {
            let asked = ShearQuestion {
                code,
                stirrups: stretch.stirrups.as_ref(),
                reduction: self.shear_reduction.as_ref(),
                partial: self.reductions.as_ref(),
                scatter: self.scatter.as_ref(),
            };
            let from = stretch.from.value;
            let mut here: Vec<Length> = places.to_vec();
            for bearing in acting.test.reactions().iter().map(|r| r.at) {
                let height = stretch.section.at(from, length).height();
                for towards in [-1.0, 1.0] {
                    let beside = bearing + height * towards;
                    if beside >= Length::ZERO && beside <= length {
                        let near = asked.off_bearing(&stretch.section.at(beside, length), acting);
                        here.push(bearing + near * towards);
                    }
                }
            }
            here.retain(|x| *x > from && *x < end);
            here.extend([from, end]);
            here.sort_by(|a, b| a.si().total_cmp(&b.si()));
            here.dedup_by(|a, b| (*a - *b).abs() <= length * 1e-9);
            let mut missing: Option<&'static str> = None;
            for x in here {
                go_on()?;
                let cut = stretch.section.at(x, length);
                let one = asked.at(&cut, acting, largest).map_err(|mut error| {
                    let here = self.sections.path("sections", i);
                    error.issues.iter_mut().for_each(|issue| {
                        issue.path = match issue.path.as_str() {
                            "aggregate" => format!("{here}.section.concrete.aggregate"),
                            path => format!("{here}.{path}"),
                        };
                    });
                    error
                })?;
                match one {
                    Ok(one) => found.extend(one),
                    Err(why) => missing = Some(why),
                }
            }
            if let Some(why) = missing {
                left_out.push(format!(
                    "shear in a part of {}: {why}",
                    self.sections.path("capacity.sections", i)
                ));
            }
        }
        if found.is_empty() {
            left_out.push("shear: no place is one that the edition asks about".to_owned());
        }
        Ok(found)
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

    /// What the reader of the design must know; `tributary` is the width that loads one member unit.
    pub(crate) fn notes(&self, found: &Predicted, tributary: Length) -> Vec<Note> {
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

/// The one that is reached sooner, kept.
fn sooner<T: Clone>(own: &mut Option<T>, other: Option<&T>, share: fn(&T) -> f64) {
    if let Some(other) = other
        && own.as_ref().is_none_or(|o| share(other) < share(o))
    {
        *own = Some(other.clone());
    }
}

impl Predicted {
    /// What comes first anywhere in the ranges of the inputs, with the prediction at another end of them;
    /// whether an answer changes. Place by place the values given stand.
    pub(crate) fn across(&mut self, other: &Self) -> bool {
        sooner(&mut self.cracks_first, other.cracks_first.as_ref(), |s| s.cracks_at);
        sooner(&mut self.fails_first, other.fails_first.as_ref(), |s| s.fails_at);
        sooner(&mut self.shear_first, other.shear_first.as_ref(), |s| s.fails_at);
        let either = |a: State, b: State| if a == b { a } else { State::Inconclusive };
        let mut changes = false;
        for (own, other) in
            [(&mut self.first, &other.first), (&mut self.first_failure, &other.first_failure)]
        {
            let both = own.as_ref().zip(other.as_ref());
            let state = both.map(|(a, b)| either(a.stays_away, b.stays_away));
            changes |= own.as_ref().map(|o| o.stays_away) != other.as_ref().map(|o| o.stays_away);
            sooner(own, other.as_ref(), |m| m.share);
            if let (Some(own), Some(state)) = (own.as_mut(), state) {
                own.stays_away = state;
            }
        }
        changes |= self.stays_uncracked != other.stays_uncracked;
        self.stays_uncracked = either(self.stays_uncracked, other.stays_uncracked);
        changes
    }
}

/// Whether a margin holds against its uncertainty: Inconclusive where that is not known.
fn holds(margin: f64, uncertainty: Option<f64>) -> State {
    match uncertainty {
        Some(u) if margin >= u * 2.0 => State::Pass,
        _ if margin < uncertainty.unwrap_or(0.0) * -2.0 => State::Fail,
        _ => State::Inconclusive,
    }
}

/// The first mode of all, and the first failure.
fn first_modes(
    sections: &[PredictedSection],
    shear: &[PredictedShear],
) -> (Option<PredictedMode>, Option<PredictedMode>) {
    let of = |mode, at, (share, uncertainty): (f64, Option<f64>), used: f64, brittle| {
        let stays_away = holds(share - 1.0, uncertainty);
        let used = Some(used).filter(|u: &f64| u.is_finite());
        PredictedMode { mode, at, share, uncertainty, used, brittle, stays_away }
    };
    let bent = |s: &PredictedSection, mode, share, strength: Moment, brittle| {
        let u = s.uncertainty.map(|u| (u / (s.total - s.in_place)).abs());
        of(mode, s.at, (share, u), s.total / strength, brittle)
    };
    let cracking = sections
        .iter()
        .filter(|s| s.cracks_at > 0.0)
        .map(|s| bent(s, PredictedKind::Cracking, s.cracks_at, s.cracking, s.mode.is_none()));
    let failing = sections.iter().map(|s| {
        let strength = s.expected.filter(|_| s.mode.is_some()).unwrap_or(s.cracking);
        bent(s, PredictedKind::Flexure, s.fails_at, strength, !s.ductile)
    });
    let sheared = shear.iter().map(|s| {
        let test = (s.total - s.in_place).abs();
        let share = (s.fails_at, s.uncertainty.map(|u| u / test));
        of(PredictedKind::Shear, s.at, share, s.total.abs() / s.expected, true)
    });
    let failures: Vec<PredictedMode> = failing.chain(sheared).collect();
    let least = |a: &&PredictedMode, b: &&PredictedMode| a.share.total_cmp(&b.share);
    let failure = failures.iter().min_by(least).cloned();
    let cracks: Vec<PredictedMode> = cracking.collect();
    (cracks.iter().chain(&failures).min_by(least).cloned(), failure)
}

fn uncracked(sections: &[PredictedSection]) -> State {
    let one = |s: &PredictedSection| {
        let towards = if s.face == Face::Bottom { 1.0 } else { -1.0 };
        let margin = (s.cracking - s.total) * towards;
        holds(margin.si(), s.uncertainty.map(Moment::si))
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
