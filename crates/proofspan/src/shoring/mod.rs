//! What if it falls?
//!
//! Full catch always, whatever mode is predicted: the prediction is what is in doubt. A crack or
//! a hinge that has opened, anywhere in a region in doubt, passes no shear and no moment: both
//! pieces are bodies of their own, and each needs what holds it, a catch or supports that do.
//! Where hogging is in doubt over an inner support the spans beside it hang on nothing there.
//! A catch stands beyond the region plus the run of a flat crack, two depths (library rule).
//! Weights follow the drop; water and loose stacks run to where the piece drops; a locked-off
//! jack does not follow, but the energy of the rest of the rig does. All formulas are energy
//! balances without losses: upper bounds for a catch that stays elastic.

mod alone;
mod around;
mod body;
mod catch;
mod chain;
mod check;
mod drive;
mod falls;
mod floor;
mod levels;
mod posts;
mod spec;

pub use alone::{CatchCheck, Catching, TestForce};
pub use around::{Resting, Surroundings};
pub use catch::{Drive, catch_force_rig, catch_force_weights, following_share, static_catch};
pub use check::{Caught, FloorCheck, GapStep, LevelLoad, Shoring, check};
pub use floor::{Floor, floor_check};
pub use levels::{Carried, LevelShare, Stacked, shares, stack};
pub use posts::{
    Column, EffectiveLength, Lean, PostHeight, PostResistance, PostRow, Prop, PropClass, euler,
};
pub use spec::{
    Catch, CatchPlace, Gap, Ground, Level, LevelPosts, MaterialFactor, Pad, PadTravel, Posts,
    Resistance, ShoringSpec, Stub, StubHold,
};

pub(crate) use catch::LAWS as CATCH_LAWS;
pub(crate) use check::check_recorded;
pub(crate) use drive::Landing;
pub(crate) use levels::LAWS as LEVEL_LAWS;
pub(crate) use posts::LAWS as POST_LAWS;
pub(crate) use spec::LAWS as RESISTANCE_LAWS;
