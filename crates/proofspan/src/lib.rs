#![doc = "proofspan"]

pub mod error;
pub mod protocol;
pub mod source;
pub mod units;
pub mod verdict;
