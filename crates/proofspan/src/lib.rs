#![doc = "proofspan"]

#[macro_use]
pub mod source;
pub mod error;
pub mod units;
pub mod verdict;
