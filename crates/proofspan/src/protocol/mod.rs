//! How do we step, hold, read and stop?
//!
//! A [`Schedule`] gives every step as force, pressure, hold, reading times and
//! two predicted readings of each gauge: *stiff* (gross section, expected
//! modulus: for stop limits and linearity) and *soft* (cracked section, low
//! modulus: for gap, stroke and gauge range).
//!
//! It is only a schedule: the test director authorises every step, anyone may
//! stop it, and nobody is under or on the member, or in line with bars or hoses,
//! while the load rises. [`SiteRecords`] says what must be on record before the
//! field sheet is printed; what is missing is a stop.

mod records;
mod schedule;
mod steps;

pub use records::{Confirmation, Confirmed, SiteRecords};
pub(crate) use records::{date, unread};
pub use schedule::{
    CarrierStep, Carrying, GaugeReading, PlannedCycle, Prediction, Rise, Schedule, Step, schedule,
};
pub(crate) use schedule::{LAWS, planned};
pub use steps::{Gauge, GaugePlace, GaugeReference, Method, ProtocolSpec};
