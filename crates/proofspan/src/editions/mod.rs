//! What does the code edition ask?
//!
//! An edition is data: one TOML file with its status, load sets, protocols and criteria,
//! each figure with the confidence in which it is known. No edition is named in the
//! sources. A user's own file in the same format is read by [`Edition::from_toml`].
//!
//! ```
//! use proofspan::editions::{Edition, EditionChoice, Facts};
//! use proofspan::loads::Symbol;
//! let edition = Edition::shipped("ACI 437.2-13")?;
//! let choice = EditionChoice::of("ACI 437.2-13");
//! let set = edition.load_set(&choice, &[Symbol::SelfWeight, Symbol::Snow], &Facts::default())?;
//! assert_eq!(set.rows.len(), 3);
//! assert_eq!(set.rows[2].factor(Symbol::Snow), 1.6);
//! # Ok::<(), proofspan::error::Error>(())
//! ```

mod bridge;
mod choose;
mod criteria;
mod edition;
mod factors;
mod file;
mod shipped;
mod stops;
mod valid;

pub use bridge::{BridgeProof, operating_capacity, operating_rating, proof_target};
pub use choose::{
    Companion, Confirmation, EditionChoice, Facts, Impact, LoadSet, PROJECT, Project, Row,
};
pub use criteria::{Asks, CRITERION_FACTS, CRITERION_NAMES, CRITERION_SLOTS, Criterion, Retest};
pub use edition::{Edition, Rule};
pub use factors::{Column, Factors};
pub use file::{
    Adjustment, BridgeProofFile, Confidence, Counts, CriterionFile, CycleFile, CycleLevel,
    EditionFile, Factor, LiveReduction, Percent, ProtocolFile, ReducedTo, ResidualTime, RetestFile,
    RowFile, SetFile, SnowBasis, SpanRule, Status, StopRuleFile, Year,
};
pub use stops::{STOP_FACTS, STOP_NAMES, STOP_STATED, StopRule};

pub(crate) use bridge::LAWS;
