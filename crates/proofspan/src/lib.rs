#![doc = "proofspan"]

pub mod beam;
pub mod error;
pub mod formula;
pub mod protocol;
pub mod source;
pub mod units;
pub mod verdict;
