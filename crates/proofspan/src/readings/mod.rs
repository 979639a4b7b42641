//! What did it really do?
//!
//! A log is read once, row by row, and only the columns that are mapped are kept, of a long log on the
//! disk ([`with_memory`]): what looks at them goes along them. Faults are
//! named, never repaired in silence: what is left out of a median is listed with channel,
//! time and count. Then, for each gauge, a chain of corrections: zero, sign, calibration, drift with
//! temperature, difference of two levels, settlement and turn of the supports, load, each with its
//! effect and its uncertainty.
//!
//! The cleaning rule: a sample equal to a listed sentinel or beyond the range of its channel is
//! left out; then a sample farther than the gate from the running median over plus or minus
//! the half window is left out. The median is taken over one sample a bin (the first), so
//! that rows that stand densely around a fault do not vote many times.
//!
//! What no cell betrays is in `faults`: a channel against itself, the load, its neighbours and,
//! where there is a design, the predicted shape. A fault that can move a verdict is open until the
//! record lists a decision about it.
//!
//! ```
//! use proofspan::beam::BeamSpec;
//! use proofspan::editions::Rule;
//! use proofspan::readings::*;
//! use proofspan::source::read_json;
//! use proofspan::units::*;
//! let layout: LogSpec = read_json(r#"{
//!     "time": {"column": "t", "unit": "h"},
//!     "channels": [{"id": "middle", "column": "d", "unit": "mm", "role": "deflection", "at": "3 m", "u": 0.1}],
//!     "moments": {"zero": {"from": "0 h", "to": "0.5 h"}, "peak": {"from": "24 h", "to": "25 h"},
//!                 "unloaded": "26 h", "residual": {"from": "50 h", "to": "51 h"}}}"#)?;
//! let text = "t,d\n0,0.0\n0.5,0.0\n24,12.0\n25,12.0\n50,1.0\n51,1.0\n";
//! let log = read_csv_text(text, &layout)?;
//! assert_eq!(read_csv(text.as_bytes(), &layout)?.rows(), log.rows());
//! let table = Table::new()
//!     .numbers("t", vec![0.0, 0.5, 24.0, 25.0, 50.0, 51.0])
//!     .numbers("d", vec![0.0, 0.0, 12.0, 12.0, 1.0, 1.0]);
//! assert_eq!(read_table(&table, &layout)?.rows(), 6);
//! assert!(read_csv_file("no such file".as_ref(), &layout).is_err());
//! let gauges = deflections(&log, &layout)?;
//! assert!((gauges[0].d_max.to(MM) - 12.0).abs() < 1e-12);
//! // of a member that is known, one with a free end is counted from its root
//! let member: BeamSpec = read_json(r#"{"kind": "simple", "span": "6 m", "depth": "400 mm",
//!     "soft": {"modulus": "20 GPa", "second_moment": "0.001 m^4"}, "stiff": {"modulus": "30 GPa", "second_moment": "0.002 m^4"}}"#)?;
//! assert_eq!(deflections_of(&log, &layout, &member)?[0].d_max, gauges[0].d_max);
//! // without a cell nobody can tell load, hold or cycles
//! assert!(witness(&log, &layout, &gauges, Some(100.0 * KN)).is_none());
//! assert!(load_cycles(&log, &layout, &gauges, &Rule::default(), None)?.is_none());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod blocks;
mod cell;
mod chain;
mod channel;
mod clean;
mod clock;
mod column;
mod csv;
mod cycles;
mod deflection;
mod fault;
mod faults;
mod gather;
mod json_lines;
mod log;
mod made;
mod median;
mod pace;
mod rigid;
mod spec;
mod store;
mod suspect;
mod table;
mod thermal;
mod threads;
mod used;
mod witness;
mod zone;

pub use chain::{Chain, Correction, CorrectionKind, Windows};
pub use channel::Channel;
pub use column::with_memory;
pub use csv::{read_csv, read_csv_file, read_csv_text};
pub use cycles::{
    CycleRead, CycleSeen, Cycles, GaugeCycles, Index, load_cycles, permanency, permanency_ratio,
    repeatability,
};
pub use deflection::{Deflection, deflections, deflections_of};
pub use fault::{Fault, FaultEffect, FaultKind};
pub use log::{Log, linearity_deviation, secant};
pub use pace::{Exceeded, StopSeen};
pub use spec::{
    Calibration, CalibrationFactor, ChannelPlace, ChannelSpec, Cleaning, Decimal, Drift, LoadBand,
    LogSpec, Moments, Role, StageMoments, StandsFor, ThermalFit, TimeSpec, Window,
};
pub use table::{Entries, Table, TimeEntries, read_table};
pub use used::{Corrected, Used, WindowUsed};
pub use witness::{
    CellSeen, Gap, HoldSeen, Interruption, Larger, LoadSeen, LogFacts, Moving, Over, StepSeen,
    Touched, UnloadingSeen, ZeroSeen, witness,
};

pub(crate) use chain::LAWS as CORRECTION_LAWS;
pub(crate) use cycles::LAWS as CYCLE_LAWS;
pub(crate) use deflection::read_gauges;
pub(crate) use faults::{Expected, as_units, of_oil, of_shape};
pub(crate) use log::LAWS;
pub(crate) use pace::Rising;
pub(crate) use rigid::enters;
pub(crate) use spec::{LOAD_BAND, ZERO_BAND};
pub(crate) use threads::{beside, each};
pub(crate) use used::{series_back, used};
pub(crate) use witness::larger;
