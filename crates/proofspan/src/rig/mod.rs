//! What do the jacks push against, and does it stay down?
//!
//! A jack that pulls the test member down pulls the reaction member up with the same force:
//! its net load is own weight + counterweights − P. Every stage is checked: counterweights
//! placed with P = 0, full test load, and P lost at once. Everything is per member unit.
//!
//! Floor of lift-off (library rule after the static equilibrium of EN 1990, from memory):
//! 0.9 × stabilising ≥ 1.5 × destabilising, a ratio of 1.667; 0.9 and 1.25, a ratio of 1.389,
//! only with all five conditions of [`Conditions`]. Below the floor is a stop nobody can lift.

mod check;
mod counterweight;
mod hydraulics;
mod spec;

pub use check::{BearingCheck, Rig, Stage, check};
pub use counterweight::{Advice, LeastCounterweight, WeightAsked, least_counterweight};
pub use hydraulics::{Hydraulics, force_at, pressure_for};
pub use spec::{
    Acts, Asked, AskedFactor, Bars, Conditions, Counterweight, FactorBasis, Friction, Jacks,
    Number, Piston, ReactionMember, RigSpec, RodSize, Seat, WeightPlace,
};

pub(crate) use check::{LAWS as CHECK_LAWS, check_recorded};
pub(crate) use counterweight::LAWS as COUNTERWEIGHT_LAWS;
pub(crate) use hydraulics::LAWS as HYDRAULIC_LAWS;
