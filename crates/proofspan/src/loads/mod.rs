//! What acts here, and what of it is already there?
//!
//! Actions are nominal (unfactored), downward positive. A load over an area becomes a line
//! load per member unit through the tributary width: `w = q b`. What is already in place is
//! deducted at its actual value, factor 1.0.

mod action;
mod nominal;

pub use action::{Action, Loads, Occupancy, PointAction, Symbol, Taper};
pub(crate) use nominal::LAWS;
pub use nominal::{Nominal, line_of_area};
