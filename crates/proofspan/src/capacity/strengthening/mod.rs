//! What does a strengthening add, does the planned test exercise it, and what is left without it?
//!
//! Wraps in shear by ACI 440.2R; external stirrups, bars drilled in and strips in flexure by statics from
//! stresses and strains that the engineer gives. Without the strengthening, and in fire, the member is
//! checked apart: each check has its own clause, and a test that was passed never makes a failed one good.
//! Predictions to plan a test by, never an approval.
//!
//! ```
//! use proofspan::capacity::strengthening::*;
//! use proofspan::formula::NoRecord;
//! use proofspan::units::*;
//! use proofspan::verdict::State;
//! // 27 kip where the web cracks at 43 kip: the wrap stays idle
//! let idle = exercised(27.0 * KIP, [43.0 * KIP], Ratio::from_si(0.2)).ok_or("a crack")?;
//! assert_eq!(idle.likely, Likely::Unlikely);
//! assert_eq!(after_test(State::Pass, &[]), State::Pass);
//! let wrap = Wrap {
//!     ends: 0, fc: 20.0 * MPA, plies: 1.0, thickness: 0.2 * MM, modulus: 230.0 * GPA,
//!     ultimate: Strain::from_si(0.015), depth: 400.0 * MM, width: 250.0 * MM, spacing: 250.0 * MM, across: 1.0,
//!     shown: None,
//! };
//! // a complete wrap of 0.004: 2 · 0.2 mm · 400 mm · 230 GPa · 0.004
//! let found = wrapped(&mut NoRecord, &FrpForm::METRIC, &wrap);
//! assert!((found.shear.to(KN) - 2.0 * 0.2 * 400.0 * 230.0 * 0.004).abs() < 1e-6);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod added;
mod exercised;
mod frp;
mod laid;
mod lost;
mod reduced;
mod wraps;

pub use added::{AddedShear, AddedStirrups, BondedStrip, StripFound};
pub use exercised::{Exercised, Likely, exercised};
pub use frp::{FrpForm, MOST_STRAIN, Wrap, Wrapped, wrapped};
pub use laid::Wraps;
pub use lost::{LostCheck, LostEffect, LostMoment, LostShear, LostSpec};
pub use reduced::{
    Case, ReducedCheck, ReducedFound, ReducedMoment, ReducedRule, ReducedShear,
    WithoutStrengthening, after_test,
};
pub use wraps::{Angle, FibreModulus, FibreStrain, Form, Ply, WrapFound, WrapScheme, WrapShear};

pub(crate) use added::LAWS as ADDED_LAWS;
pub(crate) use frp::LAWS as FRP_LAWS;
pub(in crate::capacity) use laid::Strengthening;
pub(in crate::capacity) use lost::{Effects, Held};
pub(crate) use reduced::{MOMENT_LAWS as REDUCED_MOMENT_LAWS, SHEAR_LAWS as REDUCED_SHEAR_LAWS};
pub(in crate::capacity) use wraps::LEFT_OUT as WRAPS_LEFT_OUT;
