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
//!
//! ```
//! use proofspan::beam::{Beam, Load};
//! use proofspan::formula::NoRecord;
//! use proofspan::scope::Mode;
//! use proofspan::shoring::*;
//! use proofspan::source::read_json;
//! use proofspan::units::*;
//! use proofspan::verdict::MemberUnit;
//! // two levels of 8 kN/mm joined by posts of 40 kN/mm that go on to the ground
//! let levels = [8.0 * KN_PER_MM; 2];
//! let top = shares(&levels, 40.0 * KN_PER_MM, true)[0].share.value();
//! assert!((top - 88.0 / 328.0).abs() < 1e-12);
//! let single = [Stacked { level: levels[0], posts: None }];
//! assert!((stack(&single, 80.0 * KN)[0].moves.to(MM) - 10.0).abs() < 1e-12);
//! // π² EI/L²
//! assert!((euler(1e3 * KN_M2, 10.0 * M).to(KN) - std::f64::consts::PI.powi(2) * 10.0).abs() < 1e-9);
//! // where nothing falls the rig alone is caught: √(25 kN/mm · 100 kN · 10 mm)
//! let rig = (100.0 * KN, 10.0 * MM, 1.0);
//! let (force, slack) = catch_force_rig(&mut NoRecord, 0.0 * KN, 25.0 * KN_PER_MM, 20.0 * MM, rig);
//! assert!(slack && (force.to(KN) - 25_000_f64.sqrt()).abs() < 1e-9);
//! let beam = Beam::simple(10.0 * M, 1e5 * KN_M2)?;
//! let placed = [Load::uniform(0.0 * M, 10.0 * M, 10.0 * KN_PER_M)];
//! let floor = Floor {
//!     id: "below", unit: MemberUnit::Beam, beam: &beam, from: 0.0 * M, placed: &placed, weights: &[],
//!     shear: None, sagging: None, hogging: None,
//! };
//! // 10 · 100/8 + 40 · 10/4
//! let (found, _) = floor_check(&floor, &[vec![(5.0 * M, 40.0 * KN)]])?;
//! assert!((found.sagging.to(KN_M) - 225.0).abs() < 1e-9);
//! let spec: ShoringSpec = read_json(r#"{"to_ground": true, "catch": [{"at": "5 m", "stiffness": "10 kN/mm",
//!     "gap": "10 mm", "resistance": {"posts": 4, "rated": "100 kN"}}]}"#)?;
//! let around = Surroundings {
//!     unit: MemberUnit::Beam, beam: &beam, regions: &[(Mode::Shear, 0.0 * M, 1.0 * M)], depth: 0.6 * M,
//!     in_place: &placed, on_it: &[], rig_weight: &[], spring_back: 0.0 * MM,
//!     fractions: &[Ratio::from_si(1.0)], reading: &|_| 4.0 * MM,
//! };
//! // a crack at the bearing: the far bearing and the catch in the middle carry 10 m of it
//! assert!((check(&spec, &around)?.catches[0].own.to(KN) - 100.0).abs() < 1e-6);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod alone;
mod around;
mod bearings;
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
pub use bearings::{BearingCaught, caught_bearings};
pub use catch::{Drive, catch_force_rig, catch_force_weights, following_share, static_catch};
pub use check::{Caught, FloorCheck, GapStep, LevelLoad, Shoring, check};
pub use floor::{Floor, floor_check};
pub use levels::{Carried, LevelShare, Stacked, shares, stack};
pub use posts::{
    BucklingCurve, Column, ColumnFormula, EffectiveLength, Lean, PostHeight, PostResistance,
    PostRow, Prop, PropClass, euler,
};
pub use spec::{
    Catch, CatchPlace, Gap, Ground, Level, LevelPosts, MaterialFactor, Pad, PadTravel, Posts,
    Resistance, ShoringSpec, Stub, StubHold,
};

pub(crate) use bearings::LAWS as BEARING_LAWS;
pub(crate) use catch::LAWS as CATCH_LAWS;
pub(crate) use check::{check_recorded, refuse};
pub(crate) use drive::Landing;
pub(crate) use levels::LAWS as LEVEL_LAWS;
pub(crate) use posts::LAWS as POST_LAWS;
pub(crate) use spec::LAWS as RESISTANCE_LAWS;
