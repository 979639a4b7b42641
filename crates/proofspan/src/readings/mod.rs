//! What did it really do?
//!
//! A log is read once, row by row, and only the columns that are mapped are kept. Faults are
//! named, never repaired in silence: what is left out of a median is listed with channel,
//! time and count. Then, for each gauge: sign, zero, drift with temperature, difference of two
//! levels, settlement of the bearings, each as a term of its own.
//!
//! The cleaning rule: a sample equal to a listed sentinel or beyond the range of its channel is
//! left out; then a sample farther than the gate from the running median over plus or minus
//! the half window is left out. The median is taken over one sample a bin (the first), so
//! that rows that stand densely around a fault do not vote many times.
//!
//! What no cell betrays is in `faults`: a channel against itself, the load, its neighbours and,
//! where there is a design, the predicted shape. A fault that can move a verdict is open until the
//! record lists a decision about it.

mod clean;
mod csv;
mod cycles;
mod deflection;
mod fault;
mod faults;
mod log;
mod pace;
mod spec;
mod suspect;
mod witness;

pub use csv::{read_csv, read_csv_file, read_csv_text};
pub use cycles::{
    CycleRead, CycleSeen, Cycles, GaugeCycles, Index, load_cycles, permanency, permanency_ratio,
    repeatability,
};
pub use deflection::{Deflection, Windows, deflections};
pub use fault::{Fault, FaultEffect, FaultKind};
pub use log::{Channel, Log, linearity_deviation, secant};
pub use pace::{Exceeded, StopSeen};
pub use spec::{
    ChannelPlace, ChannelSpec, Cleaning, Decimal, Drift, LoadBand, LogSpec, Moments, Role,
    StageMoments, StandsFor, TimeSpec, Window,
};
pub use witness::{
    CellSeen, Gap, HoldSeen, Interruption, LoadSeen, LogFacts, Moving, Touched, UnloadingSeen, ZeroSeen,
    witness,
};

pub(crate) use cycles::LAWS as CYCLE_LAWS;
pub(crate) use deflection::{bearings_of, read_gauges};
pub(crate) use faults::{Expected, of_shape};
pub(crate) use log::LAWS;
pub(crate) use pace::Rising;
