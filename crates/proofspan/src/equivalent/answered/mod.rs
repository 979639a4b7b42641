//! What is answered: forces with their proof, conflicts, searches, layouts.

mod answers;
pub(super) mod buildable;
pub(super) mod certificate;
#[cfg(feature = "cone")]
pub(super) mod cone;
pub(super) mod conflict;
pub(super) mod further;
mod hunt;
pub(super) mod layout;
pub(super) mod optimise;
pub(super) mod pencil;
pub(super) mod places;
mod pool;
pub(super) mod problem;
pub(super) mod ratio;
pub(super) mod search;
pub(super) mod solve;
mod verdicts;
