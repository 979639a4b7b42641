//! What is asked: the reference, what must hold, what brings load on, what may deviate.

pub(super) mod ask;
pub(super) mod candidate;
pub(super) mod carrier;
pub(super) mod deviations;
pub(super) mod effect;
pub(super) mod jack;
pub(super) mod objective;
pub(super) mod reference;
pub(super) mod requirement;
pub(super) mod spec;
pub(super) mod words;
