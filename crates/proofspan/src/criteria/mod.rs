//! Did it meet the criteria?
//!
//! Every measured criterion gives two outcomes: `code`, the edition's own comparison without a
//! guard, and `guarded` (JCGM 106, w = U = 2 u). The headline is guarded. Uncertainty that
//! nobody stated makes the guarded outcome Inconclusive; the code outcome is still given.
//! Visible distress is a required, signed observation for every edition.
//!
//! ```
//! use proofspan::criteria::*;
//! use proofspan::editions::{Edition, Rule};
//! use proofspan::readings::{LogSpec, deflections, read_csv_text};
//! use proofspan::source::read_json;
//! use proofspan::units::*;
//! use proofspan::verdict::{MemberUnit, State};
//! let layout: LogSpec = read_json(r#"{
//!     "time": {"column": "t", "unit": "h"},
//!     "channels": [{"id": "middle", "column": "d", "unit": "mm", "role": "deflection", "at": "3 m", "u": 0.1}],
//!     "moments": {"zero": {"from": "0 h", "to": "0.5 h"}, "peak": {"from": "24 h", "to": "25 h"},
//!                 "unloaded": "26 h", "residual": {"from": "50 h", "to": "51 h"}}}"#)?;
//! let text = "t,d\n0,0.0\n0.5,0.0\n24,12.0\n25,12.0\n50,1.0\n51,1.0\n";
//! let log = read_csv_text(text, &layout)?;
//! let record: RunRecord = read_json(r#"{"reached": "100 %", "held": "24 h", "expiry": "2031-10-05",
//!     "observation": {"distress": "none", "by": "inspector", "date": "2026-10-05"}}"#)?;
//! assert_eq!((reached(&record), held(&record, &Rule::default())), (Some(true), Some(true)));
//! let facts = Facts { lt: 6.0 * M, l: 6.0 * M, h: 400.0 * MM, unit: MemberUnit::Beam };
//! let edition = Edition::shipped("ACI 437.2-13")?;
//! let gauges = deflections(&log, &layout)?;
//! let judging = judge_criteria(&edition, "monotonic", facts, &gauges, Predicted::default(), &record, Some(true))?;
//! // 1 mm is less than a quarter of 12 mm
//! let residual = judging.criteria.iter().find(|c| c.id == "residual").ok_or("it is there")?;
//! assert_eq!(residual.outcome.code.state, State::Pass);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod acceptance;
mod by_edition;
mod carried;
mod circuits;
mod cycled;
mod cyclic;
mod decide;
mod evidence;
mod facts;
mod gauge;
mod judge;
mod judging;
mod pencil;
mod read_twice;
mod record;
mod stops;
mod witness;
mod worst;

pub use acceptance::{Acceptance, Accepted};
pub(crate) use acceptance::{Asked, clear_inside, under_limits};
pub use by_edition::{ByEdition, NotAsked, SideBySide};
pub(crate) use carried::Filled;
pub(crate) use circuits::OfCircuit;
pub(crate) use cyclic::speaks_of_cycles;
pub(crate) use decide::Witness;
pub use evidence::{Evidence, History};
pub use facts::{Facts, Predicted};
pub(crate) use gauge::{Calculated, INSIDE, OUTSIDE};
pub(crate) use judge::{Seen, judge_seen, looks_late};
pub use judge::{held, judge_criteria, reached};
pub use judging::Judging;
pub use record::{
    Answer, Decision, Distress, Observation, Permanency, Reached, ReadTwice, Reply, RunRecord,
    Stated, Treatment,
};
pub(crate) use stops::stop_rules;
pub(crate) use witness::UNTOLD;
pub use worst::{Judged, OfGauge};
