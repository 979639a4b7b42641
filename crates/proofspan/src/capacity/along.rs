//! What is predicted along the member: when it cracks, how it fails in flexure and in shear, place by
//! place, as shares of the test load.

use jiff::civil::Date;

use super::cracking::{CrackingQuestion, CrackingRule, Scatter};
use super::flexure::{Block, FlexureCode, FlexureQuestion, Reductions, held};
use super::local::LocalSpec;
use super::material::StrengthSet;
use super::predicted::{
    Predicted, PredictedSection, StiffnessFrom, StrengtheningExercised, first_modes, uncracked,
};
use super::ready::{self, Curing};
use super::section::{Face, Section};
use super::shear::{Acting, PredictedShear, Reduction, ShearEdition, ShearQuestion, Stirrups};
use super::steel::AlongMember;
use super::strengthening::{AddedStirrups, LostSpec, WRAPS_LEFT_OUT, Wraps, exercised};
use super::strips::STRIPS_LEFT_OUT;
use crate::beam::{Response, Side};
use crate::error::{Error, Issue, go_on, slug};
use crate::formula::{NoRecord, Recorder};
use crate::scope::Member;
use crate::source::rule::{Positive, Share};
use crate::source::{Given, Reader, Several};
use crate::units::{Force, Length, Message, Moment, Ratio, Stress};
use crate::verdict::{MemberUnit, Stop};

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
        /// Wraps on its webs, by ACI 440.2R.
        wraps: Option<Wraps>,
        /// Stirrups that were added outside or drilled in.
        added: Option<AddedStirrups>,
    }
    rules { webs_fit[section, wraps]; because[cracked]; }
}

/// What is taken as cracked is so for a reason.
fn because(reader: &mut Reader, cracked: &Option<String>) {
    if cracked.as_ref().is_some_and(|reason| reason.trim().is_empty()) {
        let path = reader.path_of("cracked");
        let message = "a section is taken as cracked for a reason";
        reader.push(Issue::new(slug::CAPACITY_CRACKED_REASON, path, message));
    }
}

/// Every web of a section is wrapped alike.
fn webs_fit(reader: &mut Reader, section: &Section, wraps: &Option<Wraps>) {
    let Some((wraps, webs)) = wraps.as_ref().zip(section.shape.webs()) else { return };
    if wraps.webs != webs {
        let path = reader.path_of("wraps.webs");
        let message = "another number of wrapped webs than the section has: its strength is that of all of them";
        reader.push(Issue::new(slug::CAPACITY_SHAPE, path, message).value(wraps.webs).limit(webs));
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
        /// What the sections, their steel and what strengthens them are counted for; it may be left out where the member unit is one section.
        unit: Option<MemberUnit>,
        /// Strength reduction factor of shear, ACI 318; by EN 1992-1-1 the partial factors of the reductions count.
        shear_reduction: Option<Given<Ratio, Reduction>>,
        /// Whose stiffness the design counts with.
        stiffness: StiffnessFrom = StiffnessFrom::Document,
        /// By how much of it the deflection of the beam of the document may differ from that of its sections without a word.
        stiffness_differs: Given<Ratio, Positive> = Given::known(Ratio::from_si(0.25)),
        /// What the member must carry without its strengthening, and in fire: checks of their own.
        without_strengthening: Vec<LostSpec> = Vec::new(),
        /// What gives way under what presses, and at the bearings.
        local: Vec<LocalSpec> = Vec::new(),
        /// Repairs, adhesive, grout and wraps that must be at strength before the test.
        curing: Vec<Curing> = Vec::new(),
    }
    rules {
        from_left_to_right[sections];
        topping_staged[sections, before_topping];
        called_apart[local];
        in_range[sections, code, cracking];
        strengthening_known[sections, code, cracking, shear];
    }
}

/// The edition of shear: as named, or that of flexure in the units of the formula of cracking.
fn shear_edition(
    named: Option<ShearEdition>,
    code: FlexureCode,
    cracking: CrackingRule,
) -> Option<ShearEdition> {
    named.or(match (code, cracking) {
        (FlexureCode::Aci, CrackingRule::AciMpa) => Some(ShearEdition::AciMetric),
        (FlexureCode::Aci, _) => Some(ShearEdition::Aci),
        (FlexureCode::En, _) => Some(ShearEdition::En2004),
        (FlexureCode::Own, _) => None,
    })
}

/// The figures of an edition hold for the concretes: where one is both compressed and cracked.
fn in_range(
    reader: &mut Reader,
    sections: &Several<SectionStretch>,
    code: &FlexureCode,
    cracking: &CrackingRule,
) {
    for (i, stretch) in sections.iter().enumerate() {
        let section = &stretch.section;
        if section.topping.is_some() {
            continue;
        }
        let cracks = stretch.cracked.is_none() && section.concrete.tension.is_none();
        let most = [code.most(), cracking.most().filter(|_| cracks)];
        let most = most.into_iter().flatten().reduce(Stress::min);
        let strength = &section.concrete.strength.specified;
        if let Some(most) = most.filter(|most| strength.value > *most) {
            let here = sections.path("sections", i);
            let path = reader.path_of(&format!("{here}.section.concrete.strength"));
            let message = "these figures of EN 1992-1-1 end at C50/60";
            let issue = Issue::new(slug::CAPACITY_OUT_OF_RANGE, path, message);
            reader
                .push(issue.value(strength.said()).limit(Message::new("up to {}", [most.into()])));
        }
    }
}

/// What strengthens in shear counts beside an edition that knows it.
fn strengthening_known(
    reader: &mut Reader,
    sections: &Several<SectionStretch>,
    code: &FlexureCode,
    cracking: &CrackingRule,
    shear: &Option<ShearEdition>,
) {
    let Some(edition) = shear_edition(*shear, *code, *cracking) else { return };
    for (i, stretch) in sections.iter().enumerate() {
        let fields = [("wraps", stretch.wraps.is_some()), ("added", stretch.added.is_some())];
        for (field, _) in fields.into_iter().filter(|(_, given)| *given) {
            if let Err(issue) = edition.strengthened(field) {
                let here = format!("{}.{field}", sections.path("sections", i));
                reader.push(Issue { path: reader.path_of(&here), ..issue });
            }
        }
    }
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

/// Local checks are called by their names.
fn called_apart(reader: &mut Reader, local: &Vec<LocalSpec>) {
    for (i, one) in local.iter().enumerate() {
        let name = one.name.trim();
        if name.is_empty() || local.iter().take(i).any(|other| other.name.trim() == name) {
            let path = reader.path_of(&format!("local[{i}].name"));
            let message = "a local check without a name of its own";
            reader.push(Issue::new(slug::CAPACITY_LOCAL_NAME, path, message).value(&one.name));
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

/// Evenly spread places that are looked at, beside those where something changes.
const PLACES: u32 = 40;

/// Places that are looked at along the bond at the end of a strip.
const BOND_PLACES: u32 = 16;

/// Scatter of the shear at which a web cracks, where none is given (library rule).
pub(super) const UNSTATED_SCATTER: Ratio = Ratio::from_si(0.15);

/// What no prediction here says.
const LEFT_OUT: [&str; 3] = [
    "bond, bearing, punching and torsion: another mode may come first",
    "damage that is not described, axial force from restraint",
    "redistribution after the first yield",
];

impl CapacitySpec {
    /// The stops of what is not ready on the day of the test.
    pub(crate) fn stops(&self, test_day: Option<Date>) -> Vec<Stop> {
        let wraps = self.sections.iter().any(|s| s.wraps.is_some());
        ready::stops(&self.curing, (wraps, self.stripped()), test_day)
    }

    /// The same with the local checks of one stage.
    pub(crate) fn of_stage(mut self, stage: &str) -> Self {
        self.local.retain(|l| l.stage.as_ref().is_none_or(|s| s.trim() == stage));
        self
    }

    /// What was not ready on the last day of a test that was made.
    pub(crate) fn too_early(&self, day: Date) -> Vec<Issue> {
        ready::too_early(&self.curing, day)
    }

    /// Refuses sections that are per another member unit than loads and answers, or of which nobody says so
    /// where a unit holds several joists.
    ///
    /// # Errors
    /// `capacity.unit`.
    pub(crate) fn per(&self, member: &Member) -> Result<(), Error> {
        let (unit, joists) = (member.unit(), member.joists.unwrap_or(1));
        let issue = match self.unit {
            Some(own) if own != unit => {
                let message = format!("sections {own}, loads and answers {unit}");
                Issue::new(slug::CAPACITY_UNIT, "capacity.unit", message).value(own.word())
            }
            None if joists > 1 => {
                let message = format!(
                    "a unit of {joists} joists: it is not said whether the sections are {unit} or per joist"
                );
                Issue::new(slug::CAPACITY_UNIT, "capacity.unit", message)
            }
            _ => return Ok(()),
        };
        Err(issue.limit(unit.word()).into())
    }

    /// What of the sections does not lie on a member of this length.
    pub(crate) fn beyond(&self, length: Length) -> Vec<Issue> {
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
        issues
    }

    /// Predictions along a member, with what is in place and the test load on it. The issues name the
    /// paths of the record.
    ///
    /// # Errors
    /// `capacity.place` for a section beyond the member; what [`Cut::flexure`](super::Cut::flexure) and
    /// [`Cut::cracking`](super::Cut::cracking) refuse.
    pub fn along(&self, in_place: &Response, test: &Response) -> Result<Predicted, Error> {
        let length = test.length();
        Error::check(self.beyond(length))?;
        let places = self.places(in_place, test);
        let ends = self.sections.iter().skip(1).map(|s| s.from.value).chain([length]);
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
                let found = self.section(&mut NoRecord, stretch, x, length, moments).map_err(
                    |mut error| {
                        let here = self.sections.path("sections", i);
                        error.issues.iter_mut().for_each(|issue| {
                            if !matches!(issue.path.as_str(), "block" | "cracked") {
                                issue.path = format!("{here}.section.{}", issue.path);
                            } else if issue.path == "cracked" {
                                issue.path = format!("{here}.cracked");
                            }
                        });
                        error
                    },
                )?;
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
        if self.stripped() {
            left_out.push(STRIPS_LEFT_OUT.to_owned());
        }
        Ok(Predicted {
            code: self.code,
            rule: self.cracking,
            cracks_first: least(|s| s.cracks_at),
            fails_first: least(|s| s.fails_at),
            stays_uncracked: uncracked(&sections),
            shear_code,
            exercised: self.exercised(&shear),
            stiffness: None,
            without: Vec::new(),
            local: Vec::new(),
            shear_first: shear.iter().min_by(|a, b| a.fails_at.total_cmp(&b.fails_at)).cloned(),
            first,
            first_failure,
            sections,
            shear,
            left_out,
        })
    }

    /// The places that are looked at: even ones, those where an action changes, and beside the ends of bars,
    /// where the strength jumps.
    pub(super) fn places(&self, in_place: &Response, test: &Response) -> Vec<Length> {
        let length = test.length();
        let even = (0..=PLACES).map(|i| length * (f64::from(i) / f64::from(PLACES)));
        let bars = self.sections.iter().flat_map(|s| s.section.bars.iter()).flat_map(|b| {
            let (from, to) = (b.from.as_ref(), b.to.as_ref());
            let beside = length * 1e-6;
            [from.map(|f| f.value - beside), to.map(|t| t.value + beside)]
        });
        let strips = self.sections.iter().flat_map(|s| s.section.strips.iter()).flat_map(|s| {
            let (from, to) = (s.from.as_ref(), s.to.as_ref());
            let (from, to) =
                (from.map_or(Length::ZERO, |f| f.value), to.map_or(length, |t| t.value));
            // where the bond takes up their force the strength turns
            let bond = |i: u32| s.development.value * (f64::from(i) / f64::from(BOND_PLACES));
            (0..=BOND_PLACES).flat_map(move |i| [from + bond(i), to - bond(i)])
        });
        let anchored = self.sections.iter().flat_map(|s| s.section.anchored_from(length));
        let inside = |x: &Length| *x > Length::ZERO && *x < length;
        let mut places: Vec<Length> = even
            .chain(test.breakpoints())
            .chain(in_place.breakpoints())
            .chain(bars.flatten().chain(strips).chain(anchored).filter(inside))
            .collect();
        places.sort_by(|a, b| a.si().total_cmp(&b.si()));
        places
    }

    /// Whether the test exercises what strengthens in shear, where it brings most against what cracks the
    /// web; the scatter as given, else a seventh or so.
    fn exercised(&self, shear: &[PredictedShear]) -> Option<StrengtheningExercised> {
        let scatter = self.scatter.as_ref().map_or(UNSTATED_SCATTER, |s| s.tension.value);
        let of = |s: &PredictedShear| {
            s.strengthening?;
            let exercised = exercised(s.total.abs(), s.cracks, scatter)?;
            Some(StrengtheningExercised { at: s.at, exercised })
        };
        let each = shear.iter().filter_map(of);
        each.max_by(|a, b| a.exercised.ratio.total_cmp(&b.exercised.ratio))
    }

    /// The edition of shear: as named, or that of flexure.
    pub(super) fn shear_code(&self) -> Option<ShearEdition> {
        shear_edition(self.shear, self.code, self.cracking)
    }

    pub(super) fn asks_shear<'a>(
        &'a self,
        code: ShearEdition,
        stretch: &'a SectionStretch,
    ) -> ShearQuestion<'a> {
        ShearQuestion {
            code,
            stirrups: stretch.stirrups.as_ref(),
            reduction: self.shear_reduction.as_ref(),
            partial: self.reductions.as_ref(),
            scatter: self.scatter.as_ref(),
            wraps: stretch.wraps.as_ref(),
            added: stretch.added.as_ref(),
        }
    }

    pub(super) fn shear(
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
            let asked = self.asks_shear(code, stretch);
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
                let one = asked.at(&mut NoRecord, &cut, acting, largest).map_err(|mut error| {
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
        if self.sections.iter().any(|s| s.wraps.is_some()) {
            left_out.extend(WRAPS_LEFT_OUT.iter().map(|s| (*s).to_owned()));
        }
        if found.is_empty() {
            left_out.push("shear: no place is one that the edition asks about".to_owned());
        }
        Ok(found)
    }

    /// By what the strength in flexure is asked.
    pub(super) fn asks_flexure(&self) -> FlexureQuestion<'_> {
        FlexureQuestion {
            block: self.block.as_ref(),
            reductions: self.reductions.as_ref(),
            ..FlexureQuestion::of(self.code)
        }
    }

    pub(super) fn section<R: Recorder>(
        &self,
        rec: &mut R,
        stretch: &SectionStretch,
        x: Length,
        length: Length,
        (in_place, test): (Moment, Moment),
    ) -> Result<PredictedSection, Error> {
        let cut = stretch.section.at(x, length);
        let face = if test >= Moment::ZERO { Face::Bottom } else { Face::Top };
        let share = self.before_topping.as_ref().map_or(0.0, |s| s.value.value());
        let question = CrackingQuestion {
            cracked: stretch.cracked.as_deref(),
            scatter: self.scatter.as_ref(),
            before: in_place * share,
            ..CrackingQuestion::of(self.cracking, StrengthSet::Expected)
        };
        let cracking = cut.cracking(rec, face, question)?;
        let asked = self.asks_flexure();
        let steel = cut.holds_crack(face);
        let mut strength = |set: StrengthSet| {
            if steel { cut.flexure(rec, face, set, &asked).map(Some) } else { Ok(None) }
        };
        let expected = strength(StrengthSet::Expected)?;
        let design = if self.reductions.is_some() { strength(StrengthSet::Design)? } else { None };
        let reached = |moment: Moment| (moment - in_place).si() / test.si();
        let cracks_at = reached(cracking.moment);
        // steel that does not carry what the concrete did breaks with it
        let held = expected.as_ref().filter(|f| held(f.moment, cracking.moment, face));
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
}
