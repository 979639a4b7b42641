//! Did it meet the criteria?
//!
//! Every measured criterion gives two outcomes: `code`, the edition's own comparison without a
//! guard, and `guarded` (JCGM 106, w = U = 2 u). The headline is guarded. Uncertainty that
//! nobody stated makes the guarded outcome Inconclusive; the code outcome is still given.
//! Visible distress is a required, signed observation for every edition.

mod acceptance;
mod by_edition;
mod carried;
mod cycled;
mod cyclic;
mod decide;
mod evidence;
mod facts;
mod gauge;
mod judge;
mod judging;
mod record;
mod stops;
mod witness;
mod worst;

pub(crate) use acceptance::Asked;
pub use acceptance::{Acceptance, Accepted};
pub use by_edition::{ByEdition, NotAsked, SideBySide};
pub(crate) use carried::Filled;
pub(crate) use cyclic::speaks_of_cycles;
pub(crate) use decide::Witness;
pub use evidence::{Evidence, History};
pub use facts::{Facts, Predicted};
pub(crate) use gauge::Calculated;
pub(crate) use judge::{Seen, judge_seen, looks_late};
pub use judge::{held, judge_criteria, reached};
pub use judging::Judging;
pub use record::{
    Answer, Decision, Distress, Observation, Permanency, Reached, Reply, RunRecord, Stated,
    Treatment,
};
pub(crate) use stops::stop_rules;
pub use worst::{Judged, OfGauge};
