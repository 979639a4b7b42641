#![doc = "proofspan"]

pub mod error;
pub mod units;
pub mod verdict;
