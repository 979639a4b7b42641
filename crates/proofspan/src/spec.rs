//! The whole test in one document.

use crate::beam::BeamSpec;
use crate::editions::EditionChoice;
use crate::equivalent::LayoutSpec;
use crate::error::{Error, Issue, Slug, slug};
use crate::loads::Loads;
use crate::protocol::{ProtocolSpec, SiteRecords};
use crate::rig::RigSpec;
use crate::scope::Scope;
use crate::shoring::ShoringSpec;
use crate::source::{Node, Read, Reader, Value, Write, fingerprint, read_json, write_json};
use crate::units::System;
use crate::verdict::Override;

/// The version of documents this library reads and writes.
pub const SCHEMA_VERSION: u32 = 1;

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
    for (field, _) in fields.iter().filter(|(_, text)| text.trim().is_empty()) {
        let path = reader.path_of(field);
        let message = format!("an override without {field}");
        reader.push(Issue::new(slug::VERDICT_OVERRIDE_INCOMPLETE, path, message));
    }
    let folded = |text: &str| text.trim().to_lowercase();
    if !name.trim().is_empty() && folded(name) == folded(second) {
        let path = reader.path_of("second_signature");
        let message = "the second signature is that of the same person";
        let issue = Issue::new(slug::VERDICT_OVERRIDE_INCOMPLETE, path, message);
        reader.push(issue.remedy("let another person sign"));
    }
    if !date.trim().is_empty() && crate::protocol::date(date).is_none() {
        crate::protocol::unread(reader, "date", date);
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
    /// A proof load test as it is asked for. Forces and loads are per member unit.
    pub struct TestSpec {
        /// The version of the document.
        schema_version: u32,
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
        /// The layout asked for.
        layout: LayoutSpec,
        /// The rig.
        rig: RigSpec,
        /// The shoring.
        shoring: ShoringSpec,
        /// The steps.
        protocol: ProtocolSpec,
        /// What is on record before the test.
        records: SiteRecords = SiteRecords::none(),
        /// Stops that named people lift.
        overrides: Vec<OverrideSpec> = Vec::new(),
    }
    rules { version_known[schema_version]; }
}

fn version_known(reader: &mut Reader, version: &u32) {
    if *version != SCHEMA_VERSION {
        let path = reader.path_of("schema_version");
        reader.push(
            Issue::new(slug::SOURCE_VERSION, path, format!("version {version} is not read here"))
                .value(version)
                .limit(SCHEMA_VERSION),
        );
    }
}

impl TestSpec {
    /// Reads a document.
    ///
    /// # Errors
    /// Every problem with its path, all at once.
    pub fn from_json(text: &str) -> Result<Self, Error> {
        read_json(text)
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
