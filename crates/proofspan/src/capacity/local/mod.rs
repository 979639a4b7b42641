//! What gives way under a jack, post, wheel or weight, and at a bearing, before the member does?
//!
//! Bearing pressure, punching and the bending of a plate, each under the action of the *test* and of the
//! *catch*. Ledges, corbels, dapped ends, pads and anchorages at bearings have no formula here: their
//! strength is the engineer's, and without it they are refused by name. Missing data are never assumed.

mod acts;
mod bearing;
mod detail;
mod placed;
mod plate;
mod punching;
mod strength;

pub use acts::{LocalCheck, LocalFound};
pub use bearing::Bearing;
pub use detail::{Detail, DetailKind};
pub use placed::{LocalPlaced, LocalSpec, PressedBy};
pub(crate) use placed::{Presses, Pressing};
pub use plate::Plate;
pub use punching::{Place, Punching};
pub use strength::LocalStrength;

pub(crate) use acts::LAWS as REDUCED_LAWS;
pub(crate) use bearing::LAWS as BEARING_LAWS;
pub(crate) use plate::LAWS as PLATE_LAWS;
pub(crate) use punching::LAWS as PUNCHING_LAWS;
