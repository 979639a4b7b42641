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
//!
//! ```
//! use proofspan::editions::Rule;
//! use proofspan::protocol::{Prediction, ProtocolSpec, schedule};
//! use proofspan::source::read_json;
//! use proofspan::units::*;
//! let spec: ProtocolSpec = read_json(r#"{"steps": [0.25, 0.5, 0.75, 1], "full_hold": "24 h"}"#)?;
//! let force = Net(100.0 * KN);
//! let prediction = Prediction {
//!     carriers: &[], force, force_per_jack: force, pressure: None, length: 6.0 * M, soft: &|_| 8.0 * MM,
//!     stiff: &|_| 5.0 * MM, stiffness_ratio: 1.6, rise: None, circuits: &[],
//! };
//! let plan = schedule(&spec, &Rule::default(), &prediction)?;
//! assert_eq!(plan.steps[2].force, Net(75.0 * KN));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod records;
mod schedule;
mod steps;

pub use records::{Confirmation, Confirmed, SiteRecords};
pub use schedule::{
    CarrierStep, Carrying, GaugeReading, PlannedCycle, Prediction, Rise, Schedule, Step, schedule,
};
pub(crate) use schedule::{LAWS, planned};
pub use steps::{Gauge, GaugePlace, GaugeReference, Method, ProtocolSpec};
