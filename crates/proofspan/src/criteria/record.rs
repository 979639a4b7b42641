//! What people saw and signed.

use crate::error::{Issue, slug};
use crate::source::{Given, Reader};
use crate::units::{Duration, Ratio};

crate::choice! {
    /// Visible distress: cracks, crushing, spalling, slip, loose wraps, sounds.
    pub enum Distress ("distress", source::SOURCE_CHOICE) {
        /// Looked for and not seen.
        None = "none",
        /// Seen.
        Seen = "seen",
        /// Not looked for.
        NotInspected = "not_inspected",
    }
}

crate::record! {
    /// A signed observation.
    pub struct Observation {
        /// What was seen.
        distress: Distress,
        /// The role of the person who looked.
        by: String,
        /// When.
        date: String,
        /// Where and what.
        note: Option<String>,
    }
}

crate::record! {
    /// The record of the test as it was run.
    pub struct RunRecord {
        /// Visible distress.
        observation: Observation,
        /// Part of the target load that was reached, where no force of record is in the log.
        reached: Option<Given<Ratio>>,
        /// How long the full load was held.
        held: Option<Given<Duration>>,
        /// The date until which the verdict may be relied on.
        expiry: Option<String>,
        /// After how long the member is to be looked at again.
        reinspection: Option<Given<Duration>>,
    }
    rules { expires[expiry]; }
}

fn expires(reader: &mut Reader, expiry: &Option<String>) {
    if expiry.as_ref().is_none_or(|e| e.trim().is_empty()) {
        let path = reader.path_of("expiry");
        reader.push(Issue::new(
            slug::CRITERIA_EXPIRY_MISSING,
            path,
            "a verdict without a date until which it holds is refused",
        ));
    }
}
