#![doc = "proofspan"]

pub mod beam;
pub mod editions;
pub mod equivalent;
pub mod error;
pub mod formula;
pub mod loads;
pub mod protocol;
pub mod readings;
pub mod rig;
pub mod scope;
pub mod shoring;
pub mod source;
pub mod target;
pub mod uncertainty;
pub mod units;
pub mod verdict;
