//! What acts here, and what of it is already there?
//!
//! Actions are nominal (unfactored), downward positive. A load over an area becomes a line
//! load per member unit through the tributary width: `w = q b`. What is already in place is
//! deducted at its actual value, factor 1.0. Snow drift and water that ponds have helpers of
//! their own; impact is in the live load of a code that puts it there, and nowhere twice.

mod action;
mod by_name;
mod nominal;
mod ponding;
mod snow;

pub use action::{
    Acting, Action, InPlaceShare, LoadPlace, Occupancy, PointAction, Symbol, Taper, Width,
};
pub use by_name::Loads;
pub(crate) use nominal::LAWS;
pub use nominal::{Nominal, line_of_area};
pub(crate) use ponding::LAWS as PONDING_LAWS;
pub use ponding::{
    MOST_PIECES, PONDING_LIMIT, Ponding, amplified, ponding, ponding_amplification,
    ponding_parameter,
};
pub use snow::{Drift, DriftSide, SnowLevel, drift_asce_7_16, drift_asce_7_22, snow_weight};
