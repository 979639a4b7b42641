//! The whole test in one document.

use jiff::civil::Date;

use crate::beam::{BeamKind, BeamSpec};
use crate::capacity::CapacitySpec;
use crate::editions::EditionChoice;
use crate::equivalent::{Carrier, LayoutSpec};
use crate::error::{Error, Issue, Slug, slug};
use crate::loads::Loads;
use crate::protocol::{ProtocolSpec, SiteRecords};
use crate::rig::{OpeningIn, ReactionMember, RigSpec};
use crate::scope::{Doubt, MemberKind, Scope};
use crate::shoring::ShoringSpec;
use crate::source::rule::Version;
use crate::source::{
    Node, Read, Reader, Several, Unfolded, Value, Write, date, fingerprint, letters, read_json,
    write_json,
};
use crate::units::{Length, Message, Said, System};
use crate::verdict::{DESIGN_SLACK, Override};

pub use crate::source::rule::SCHEMA_VERSION;

crate::choice! {
    /// The unit system in which a report is read.
    pub enum Display ("unit system", source::SOURCE_CHOICE) {
        /// Metre, kilonewton, millimetre.
        Si = "SI",
        /// Foot, pound-force, inch.
        Us = "US",
    }
}

impl Display {
    /// The unit system.
    #[must_use]
    pub const fn system(self) -> System {
        match self {
            Self::Si => System::Si,
            Self::Us => System::Us,
        }
    }
}

crate::record! {
    /// The decision of named people to lift a stop that may be lifted.
    pub struct OverrideSpec {
        /// The code of the stop.
        code: String,
        /// The role of the person who decides.
        role: String => VERDICT_OVERRIDE_INCOMPLETE "an override is signed in full",
        /// The name of that person.
        name: String => VERDICT_OVERRIDE_INCOMPLETE "an override is signed in full",
        /// Why the work may go on.
        reason: String => VERDICT_OVERRIDE_INCOMPLETE "an override is signed in full",
        /// What is done instead to protect people.
        measure: String => VERDICT_OVERRIDE_INCOMPLETE "an override is signed in full",
        /// The date of the decision.
        date: String => VERDICT_OVERRIDE_INCOMPLETE "an override is signed in full",
        /// The second person who signs.
        second_signature: String => VERDICT_OVERRIDE_INCOMPLETE "an override is signed in full",
        /// The fingerprint of the design the decision was made on.
        design: String => VERDICT_OVERRIDE_INCOMPLETE "an override is signed in full",
    }
    rules { complete[role, name, reason, measure, date, second_signature, design]; }
}

#[expect(clippy::too_many_arguments, reason = "every field of the signature is looked at")]
fn complete(
    reader: &mut Reader,
    role: &String,
    name: &String,
    reason: &String,
    measure: &String,
    date: &String,
    second: &String,
    design: &String,
) {
    let fields = [
        ("role", role),
        ("name", name),
        ("reason", reason),
        ("measure", measure),
        ("date", date),
        ("second_signature", second),
        ("design", design),
    ];
    // what has no letter is no name
    for (field, _) in fields.iter().filter(|(_, text)| letters(text).is_empty()) {
        let path = reader.path_of(field);
        let message = format!("an override without {field}");
        reader.push(Issue::new(slug::VERDICT_OVERRIDE_INCOMPLETE, path, message));
    }
    if !letters(name).is_empty() && letters(name) == letters(second) {
        let path = reader.path_of("second_signature");
        let message = "the second signature is that of the same person";
        let issue = Issue::new(slug::VERDICT_OVERRIDE_INCOMPLETE, path, message);
        reader.push(issue.remedy("let another person sign"));
    }
    if !date.trim().is_empty() && crate::source::date(date).is_none() {
        crate::source::unread(reader, "date", date);
    }
}

impl OverrideSpec {
    /// The override, where its code is one of the table.
    pub(crate) fn signed(&self) -> Option<Override> {
        Some(Override {
            slug: Slug::of(&self.code)?,
            role: self.role.clone(),
            name: self.name.clone(),
            reason: self.reason.clone(),
            measure: self.measure.clone(),
            date: self.date.clone(),
            second_signature: self.second_signature.clone(),
            design: self.design.clone(),
        })
    }
}

crate::record! {
    /// A stage after the first: another region in doubt with its own layout. What it does not say it takes
    /// from the document. Between two stages the member is unloaded and zero is read anew.
    pub struct StageSpec {
        /// What the stage is called.
        name: String,
        /// The region and mode in doubt in this stage.
        doubt: Several<Doubt> => SCOPE_STAGE_REGION "a stage answers for a region in doubt",
        /// The layout of this stage.
        layout: Option<LayoutSpec>,
        /// The rig of this stage.
        rig: Option<RigSpec>,
        /// The shoring of this stage.
        shoring: Option<ShoringSpec>,
        /// The steps of this stage.
        protocol: Option<ProtocolSpec>,
    }
    rules { named[name]; }
}

fn named(reader: &mut Reader, name: &String) {
    if name.trim().is_empty() {
        let path = reader.path_of("name");
        reader.push(Issue::new(slug::SCOPE_STAGE_NAME, path, "a stage without a name"));
    }
}

fn stages_differ(reader: &mut Reader, stages: &[StageSpec]) {
    for (i, stage) in stages.iter().enumerate() {
        let same = |s: &StageSpec| s.name.trim() == stage.name.trim();
        if stages.iter().take(i).any(same) || stage.name.trim() == FIRST_STAGE {
            let path = format!("{}[{i}].name", reader.path_of("stages"));
            let message = "two stages of one name";
            reader.push(Issue::new(slug::SCOPE_STAGE_NAME, path, message).value(&stage.name));
        }
    }
    if stages.len() >= MOST_STAGES {
        let path = reader.path_of("stages");
        let issue = Issue::new(slug::SOURCE_SIZE, path, "too many stages");
        reader.push(issue.value(stages.len()).limit(MOST_STAGES - 1));
    }
}

/// The name of the first stage, which the document itself describes.
pub const FIRST_STAGE: &str = "first";
/// So many stages has one test, the first included (library rule).
pub const MOST_STAGES: usize = 20;

crate::record! {
    /// A proof load test as it is asked for. Forces and loads are per member unit.
    pub struct TestSpec {
        /// The version of the document.
        schema_version: u32 where Version,
        /// What the test is called.
        title: String,
        /// What the reader should know, for example that the scenario is invented.
        about: Option<String>,
        /// The unit system of the report.
        display: Display = Display::Si,
        /// Which member, region and failure mode.
        scope: Scope,
        /// The member as a line of spans.
        beam: BeamSpec,
        /// The nominal actions.
        loads: Loads,
        /// The code edition.
        edition: EditionChoice,
        /// Sections along the member, where its strength is to be predicted.
        capacity: Option<CapacitySpec>,
        /// The layout asked for.
        layout: LayoutSpec,
        /// The rig; weights and water react on nothing, so that it may be left out.
        rig: RigSpec = RigSpec::none(),
        /// The shoring.
        shoring: ShoringSpec,
        /// The steps.
        protocol: ProtocolSpec,
        /// The stages after the first, in the order in which they are tested.
        stages: Vec<StageSpec> = Vec::new(),
        /// What is on record before the test.
        records: SiteRecords = SiteRecords::none(),
        /// Stops that named people lift.
        overrides: Vec<OverrideSpec> = Vec::new(),
    }
    rules {
        stages_differ[stages];
        rig_there[layout, rig, stages];
        stages_known[capacity, stages];
        sections_on_beam[beam, capacity];
        carriers_on_unit[loads, layout, stages];
        holes_on_members[beam, rig, stages];
        shaped_like_a_beam[scope, beam, layout];
    }
    unfold { Unfolded::nothing, rig_by_carrier }
}

/// The rig may be left out where no carrier is a press.
fn rig_by_carrier(mut schema: serde_json::Value) -> serde_json::Value {
    let kind = serde_json::json!({ "kind": { "enum": Carrier::UNPRESSED } });
    let one = serde_json::json!({ "type": "object", "properties": kind });
    let all = serde_json::json!([one, { "type": "array", "items": one }]);
    let bare = serde_json::json!({ "layout": { "properties": { "carrier": { "anyOf": all } } } });
    if let Some(object) = schema.as_object_mut() {
        let asked = serde_json::json!([{ "required": ["rig"] }, { "properties": bare }]);
        object.insert("anyOf".to_owned(), asked);
    }
    schema
}

/// A jack presses against something: the rig of its stage may not be left out.
fn rig_there(reader: &mut Reader, layout: &LayoutSpec, rig: &RigSpec, stages: &Vec<StageSpec>) {
    let mut missing = |layout: &LayoutSpec, rig: &RigSpec, path: String| {
        if layout.presses() && *rig == RigSpec::none() {
            let message = "a jack presses, and the field `rig` is missing or says nothing";
            reader.push(Issue::new(slug::RIG_JACKS_MISSING, path, message));
        }
    };
    missing(layout, rig, "rig".to_owned());
    for (i, stage) in stages.iter().enumerate() {
        let (own, theirs) = (stage.layout.as_ref(), stage.rig.as_ref());
        if own.is_some() || theirs.is_some() {
            missing(own.unwrap_or(layout), theirs.unwrap_or(rig), format!("stages[{i}].rig"));
        }
    }
}

/// The member is called what it is, longer than it is deep, and its bearings are short beside its spans.
fn shaped_like_a_beam(reader: &mut Reader, scope: &Scope, beam: &BeamSpec, layout: &LayoutSpec) {
    if scope.member.kind == MemberKind::Cantilever && beam.kind == BeamKind::Simple {
        let path = reader.path_of("scope.member.kind");
        let message = "a cantilever, and its beam lies on two bearings at its ends";
        reader.push(Issue::new(slug::SCOPE_MEMBER_KIND, path, message).value("cantilever"));
    }
    let length = beam.length();
    let mut refuse = |path: &str, said: Said, message: &'static str, limit: Message| {
        let issue = Issue::new(slug::SOURCE_MAGNITUDE, reader.path_of(path), message);
        reader.push(issue.value(said).limit(limit));
    };
    if beam.depth.value >= length {
        let limit = Message::new("below {}", [length.into()]);
        refuse("beam.depth", beam.depth.said(), "deeper than the member is long", limit);
    }
    if layout.bearing_length.value >= length / 2.0 {
        let limit = Message::new("below {}", [(length / 2.0).into()]);
        let message = "a bearing as long as half the member";
        refuse("layout.bearing_length", layout.bearing_length.said(), message, limit);
    }
}

/// Holes and cuts lie on the member that they are said to be of.
fn holes_on_members(reader: &mut Reader, beam: &BeamSpec, rig: &RigSpec, stages: &Vec<StageSpec>) {
    let own = stages
        .iter()
        .enumerate()
        .filter_map(|(i, s)| s.rig.as_ref().map(|rig| (rig, format!("stages[{i}].rig"))));
    let all = [(rig, "rig".to_owned())].into_iter().chain(own);
    for (rig, path) in all {
        for (i, hole) in rig.holes.iter().enumerate() {
            let on = |(from, to): (Length, Length)| hole.at.low() >= from && hole.at.high() <= to;
            let reach = |r: &ReactionMember| r.reach(beam.first_bearing()).is_none_or(on);
            let there = match hole.of {
                OpeningIn::Test => on((Length::ZERO, beam.length())),
                OpeningIn::Reaction => rig.reaction.is_empty() || rig.reaction.iter().any(reach),
            };
            if !there {
                let path = format!("{path}.holes[{i}].at");
                let message = "a hole or cut beyond the member that it is said to be of";
                reader
                    .push(Issue::new(slug::RIG_HOLE_OUTSIDE, path, message).value(hole.at.said()));
            }
        }
    }
}

/// What is stacked on a member unit is no wider than it.
fn carriers_on_unit(
    reader: &mut Reader,
    loads: &Loads,
    layout: &LayoutSpec,
    stages: &Vec<StageSpec>,
) {
    let unit = loads.width.value;
    let mut wide = |layout: &LayoutSpec, path: &str| {
        for (i, carrier) in layout.carrier.iter().enumerate() {
            let width = match carrier {
                Carrier::Bags(bags) => &bags.width,
                Carrier::Water(water) => &water.width,
                _ => continue,
            };
            if width.high() > unit * (1.0 + DESIGN_SLACK) {
                let path = format!("{}.width", layout.carrier.path(path, i));
                let message = "wider than the member unit";
                let issue = Issue::new(slug::EQUIVALENT_CARRIER_WIDE, path, message);
                reader
                    .push(issue.value(width.said()).limit(Message::new("up to {}", [unit.into()])));
            }
        }
    };
    wide(layout, "layout.carrier");
    for (i, stage) in stages.iter().enumerate() {
        if let Some(own) = &stage.layout {
            wide(own, &format!("stages[{i}].layout.carrier"));
        }
    }
}

/// Sections, and what is in them, lie on the beam.
fn sections_on_beam(reader: &mut Reader, beam: &BeamSpec, capacity: &Option<CapacitySpec>) {
    for issue in capacity.iter().flat_map(|c| c.beyond(beam.length())) {
        let path = reader.path_of(&format!("capacity.{}", issue.path));
        reader.push(Issue { path, ..issue });
    }
}

/// A local check of one stage names a stage of the test.
fn stages_known(reader: &mut Reader, capacity: &Option<CapacitySpec>, stages: &Vec<StageSpec>) {
    let known = |name: &str| name == FIRST_STAGE || stages.iter().any(|s| s.name.trim() == name);
    for (i, local) in capacity.iter().flat_map(|c| c.local.iter().enumerate()) {
        if let Some(stage) = local.stage.as_ref().filter(|s| !known(s.trim())) {
            let path = reader.path_of(&format!("capacity.local[{i}].stage"));
            let message = "a stage that the test does not have";
            reader.push(Issue::new(slug::CAPACITY_LOCAL_NAME, path, message).value(stage));
        }
    }
}

/// So many years a decision may lie from the survey or the test (library rule).
const MOST_YEARS: i16 = 10;

impl TestSpec {
    /// What is wrong with the day of a decision, for a test whose last day is known or not: it lies after the
    /// survey, not after the test, and not ten years from either.
    fn late_or_early(&self, given: &OverrideSpec, last: Option<Date>) -> Option<String> {
        let day = date(&given.date)?;
        let survey = self.records.survey.as_ref().and_then(|s| date(&s.date));
        let last = last.or_else(|| self.records.test_day());
        let years = |from: Date, to: Date| {
            to.year() - from.year() - i16::from((to.month(), to.day()) < (from.month(), from.day()))
        };
        if let Some(survey) = survey.filter(|survey| day < *survey) {
            return Some(format!("{survey}, the day of the survey, or later"));
        }
        if let Some(last) = last.filter(|last| day > *last) {
            return Some(format!("{last}, the day of the test, or before"));
        }
        let far = survey.is_some_and(|s| years(s, day) >= MOST_YEARS)
            || last.is_some_and(|l| years(day, l) >= MOST_YEARS);
        far.then(|| format!("less than {MOST_YEARS} years from survey and test"))
    }

    /// Overrides of a day on which they cannot have been made.
    pub(crate) fn decided(&self, last: Option<Date>) -> Vec<Issue> {
        let all = self.overrides.iter().enumerate();
        let wrong = all.filter_map(|(i, given)| {
            let limit = self.late_or_early(given, last)?;
            let path = format!("overrides[{i}].date");
            let message = "a decision of a day on which it cannot have been made";
            let issue = Issue::new(slug::VERDICT_OVERRIDE_DATE, path, message);
            Some(issue.value(&given.date).limit(limit))
        });
        wrong.collect()
    }

    /// Reads a document.
    ///
    /// # Errors
    /// Every problem with its path, all at once.
    pub fn from_json(text: &str) -> Result<Self, Error> {
        read_json(text)
    }

    /// The document of one stage alone: 0 is the first, which the document itself describes; nothing
    /// beyond the last.
    #[must_use]
    pub fn stage(&self, index: usize) -> Option<Self> {
        let stage = match index.checked_sub(1) {
            Some(later) => Some(self.stages.get(later)?),
            None => None,
        };
        let name = stage.map(|s| s.name.trim());
        let doubt = stage.map_or(&self.scope.doubt, |s| &s.doubt).clone();
        Some(Self {
            schema_version: self.schema_version,
            title: self.title.clone(),
            about: self.about.clone(),
            display: self.display,
            scope: Scope { doubt, ..self.scope.clone() },
            beam: self.beam.clone(),
            loads: self.loads.clone(),
            edition: self.edition.clone(),
            capacity: self.capacity.clone().map(|c| c.of_stage(name.unwrap_or(FIRST_STAGE))),
            layout: stage.and_then(|s| s.layout.as_ref()).unwrap_or(&self.layout).clone(),
            rig: stage.and_then(|s| s.rig.as_ref()).unwrap_or(&self.rig).clone(),
            shoring: stage.and_then(|s| s.shoring.as_ref()).unwrap_or(&self.shoring).clone(),
            protocol: stage.and_then(|s| s.protocol.as_ref()).unwrap_or(&self.protocol).clone(),
            stages: Vec::new(),
            records: self.records.clone(),
            overrides: Vec::new(),
        })
    }

    /// Writes the document; it reads back to equal values, bit for bit.
    #[must_use]
    pub fn to_json(&self) -> String {
        write_json(&self.write())
    }

    /// The JSON schema of the document.
    #[must_use]
    pub fn schema() -> serde_json::Value {
        let mut schema = <Self as Read>::schema();
        if let Some(object) = schema.as_object_mut() {
            object.insert(
                "$schema".to_owned(),
                "https://json-schema.org/draft/2020-12/schema".into(),
            );
            object.insert("title".to_owned(), "proofspan test specification, version 1".into());
        }
        schema
    }

    /// The fingerprint: SHA-256 of the document without its overrides. An override holds the
    /// fingerprint it was made on and lapses when it changes.
    #[must_use]
    pub fn fingerprint(&self) -> String {
        let mut node = self.write();
        if let Value::Map(entries) = &mut node.value {
            entries.retain(|e| e.key != "overrides");
        }
        fingerprint(&node)
    }
}

impl From<&TestSpec> for Node {
    fn from(spec: &TestSpec) -> Self {
        spec.write()
    }
}
