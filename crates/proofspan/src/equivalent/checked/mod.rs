//! Who checks: one verifier that uses nothing of `solved`, deviations, what is not tested.

pub(super) mod as_built;
mod bound;
pub(super) mod bounds;
pub(super) mod distance;
pub(super) mod filling;
pub(super) mod moved;
pub(super) mod overshoot;
pub(super) mod reached;
pub(super) mod untested;
pub(super) mod verify;
pub(super) mod warnings;
