//! What did it really do?
//!
//! A log is read once, row by row, and only the columns that are mapped are kept. Faults are
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

mod blocks;
mod cell;
mod chain;
mod channel;
mod clean;
mod clock;
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
mod suspect;
mod table;
mod thermal;
mod threads;
mod used;
mod witness;
mod zone;

pub use chain::{Chain, Correction, CorrectionKind, Windows};
pub use channel::Channel;
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
    CellSeen, Gap, HoldSeen, Interruption, LoadSeen, LogFacts, Moving, Touched, UnloadingSeen,
    ZeroSeen, witness,
};

pub(crate) use chain::LAWS as CORRECTION_LAWS;
pub(crate) use cycles::LAWS as CYCLE_LAWS;
pub(crate) use deflection::read_gauges;
pub(crate) use faults::{Expected, of_shape};
pub(crate) use log::LAWS;
pub(crate) use pace::Rising;
pub(crate) use rigid::enters;
pub(crate) use threads::{beside, each};
pub(crate) use used::{series_back, used};
