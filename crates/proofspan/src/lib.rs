#![doc = "proofspan"]

pub mod units;
