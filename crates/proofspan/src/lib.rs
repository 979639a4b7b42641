#![doc = include_str!("lib.md")]

pub mod beam;
pub mod capacity;
pub mod criteria;
mod design;
pub mod editions;
pub mod equivalent;
pub mod error;
pub mod formula;
mod judge;
mod laws;
pub mod loads;
pub mod protocol;
pub mod readings;
mod recorded;
pub mod report;
pub mod rig;
pub mod scope;
pub mod shoring;
mod side_by_side;
pub mod source;
mod spec;
pub mod target;
pub mod uncertainty;
pub mod units;
pub mod verdict;

pub(crate) use source::{answer, variant};

pub use criteria::{ByEdition, NotAsked, SideBySide};
pub use design::{TestDesign, design};
pub use error::Error;
pub use judge::{Comparison, Judgement, judge, judge_record};
pub use laws::every_law;
pub use recorded::RecordedTest;
pub use side_by_side::{MemberOfLimits, side_by_side, side_by_side_of};
pub use spec::{
    Display, FIRST_STAGE, MOST_STAGES, OverrideSpec, SCHEMA_VERSION, StageSpec, TestSpec,
};
