//! What does a strengthening add, does the planned test exercise it, and what is left without it?
//!
//! Wraps in shear by ACI 440.2R; external stirrups, bars drilled in and strips in flexure by statics from
//! stresses and strains that the engineer gives. Without the strengthening, and in fire, the member is
//! checked apart: each check has its own clause, and a test that was passed never makes a failed one good.
//! Predictions to plan a test by, never an approval.

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
