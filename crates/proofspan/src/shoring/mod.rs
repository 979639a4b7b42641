//! What if it falls?
//!
//! Full catch always, whatever mode is predicted: the prediction is what is in doubt. The
//! catch stands under the piece that falls: beyond the far edge of the region in doubt plus
//! the run of a flat crack, two depths (library rule). Weights follow the drop; a locked-off
//! jack does not, but the energy of the rest of the rig does. All formulas are energy
//! balances without losses: upper bounds for a catch that stays elastic.

mod catch;
mod check;
mod levels;
mod spec;

pub use catch::{Drive, catch_force_rig, catch_force_weights, following_share, static_catch};
pub use check::{Shoring, Surroundings, check};
pub use levels::{LevelShare, shares};
pub use spec::{
    Catch, CatchPlace, Gap, Level, MaterialFactor, PostResistance, Posts, Resistance, ShoringSpec,
};

pub(crate) use catch::LAWS as CATCH_LAWS;
pub(crate) use check::check_recorded;
pub(crate) use spec::LAWS as RESISTANCE_LAWS;
