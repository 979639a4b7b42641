//! What do the jacks push against, and does it stay down?
//!
//! A jack that pulls the test member down pulls the reaction up with the same force: its net load is
//! own weight + counterweights − P. What pulls are the bars where they hold it, by the statics of
//! their crosshead. The reaction is one or several members of any line of spans, dead weight on a
//! platform, ground anchors or a frame; weights react on nothing. Every place counts from the left
//! end of the member under test, everything is per member unit. Every stage is checked:
//! counterweights placed with P = 0, each step, full test load, unloaded, and P lost at once as the
//! undamped bound: a member that is let go swings as far beyond the state without P as it stood
//! before it, so what is placed acts with the jack force reversed.
//!
//! Floor of lift-off (library rule after the static equilibrium of EN 1990, from memory):
//! 0.9 × stabilising ≥ 1.5 × destabilising, a ratio of 1.667; 0.9 and 1.25, a ratio of 1.389,
//! only with all five conditions of [`Conditions`]. Below the floor is a stop nobody can lift.
//! Bearings that cannot lift pass the uplift on: the strength of what holds them is asked.
//!
//! ```
//! use proofspan::rig::*;
//! use proofspan::source::read_json;
//! use proofspan::units::*;
//! use proofspan::verdict::MemberUnit;
//! // 60 kN in the middle of 8 m, own weight 5 kN/m: each bearing lacks 5/3 · 30 − 20 = 30 kN
//! let lines = [(4.0 * M, 60.0 * KN)];
//! let advice = least_counterweight(8.0 * M, 5.0 * KN_PER_M, &lines, 1e3 * KN_M, 5.0 / 3.0);
//! assert!((advice.placed().ok_or("a weight")?.force.to(KN) - 60.0).abs() < 1e-9);
//! let blocks: Blocks = read_json(r#"{
//!     "kinds": [{"id": "A", "weight": "20 kN", "length": "1 m", "width": "1 m", "layers": 3, "number": 6}],
//!     "places": [{"from": "3 m", "to": "5 m", "carries": "100 kPa"}]}"#)?;
//! let chosen = place_blocks(&blocks, (8.0 * M, 5.0 * KN_PER_M), &lines, 1e3 * KN_M, 5.0 / 3.0)?;
//! assert!(chosen.ok_or("enough")?.weight >= 60.0 * KN);
//! let text = std::fs::read_to_string("../../examples/scenarios/gallery_beam.test.json")?;
//! let spec = proofspan::TestSpec::from_json(&text)?;
//! let press = [Press::jack(4.5 * M, Net(50.0 * KN))];
//! let rig = check(&spec.rig, "the beam under test", MemberUnit::Beam, &press, 10.0 * MM)?;
//! assert!(rig.bearings.iter().all(|b| b.factor.is_some()));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod alone;
mod blocks;
mod carried;
mod check;
mod conditions;
mod counterweight;
mod equipment;
mod fittings;
mod gear;
mod geared;
mod holding;
mod hydraulics;
mod lift_off;
mod locked;
mod manifold;
mod oil;
mod press;
mod reaction;
mod sideways;
mod spec;
mod stages;
mod transport;
mod uneven;

pub use alone::{Hydraulic, Pressed, Pulling, Reacted, Reaction};
pub use blocks::{
    AtHand, BlockKind, BlockLayout, BlockPlace, BlockSide, Blocks, Layers, Placed, Placement,
    place_blocks,
};
pub use check::{AnchorCheck, Reacting, Rig, check};
pub use counterweight::{Advice, LeastCounterweight, WeightAsked, least_counterweight};
pub use gear::{
    BeamCheck, BeamUse, Hole, Opening, OpeningIn, RigBeam, Seats, Tilt, Train, TrainCheck,
};
pub use holding::{Holding, HoldingBeam, HoldingColumn, Offset};
pub use hydraulics::{Hydraulics, force_at, pressure_for};
pub use lift_off::BearingCheck;
pub use locked::{HeldForce, Locked};
pub use manifold::RamForce;
pub use oil::{
    Band, ChangeSize, Expands, Fittings, GaugeClass, Leak, LeakTime, LockedOff, PressureGauge, Pump,
};
pub use press::{Means, Press, Pull, Tested};
pub use reaction::{Anchor, Axle, GearLength, ReactionKind, ReactionMember, RigPlace, Seat};
pub use sideways::{LateralCurve, LateralFormula, MomentShape, Sideways, SteelYields};
pub use spec::{
    Acts, Asked, AskedFactor, Bars, Conditions, Counterweight, FactorBasis, Friction, Jacks,
    Number, Piston, Ram, RigSpec, RodSize, Tank,
};
pub use stages::{Stage, SupportForce};
pub use transport::Transport;

pub(crate) use uneven::Joists;

pub(crate) use check::check_recorded;
pub(crate) use counterweight::LAWS as COUNTERWEIGHT_LAWS;
pub(crate) use equipment::LAWS as EQUIPMENT_LAWS;
pub(crate) use gear::LAWS as GEAR_LAWS;
pub(crate) use holding::LAWS as HOLDING_LAWS;
pub(crate) use hydraulics::LAWS as HYDRAULIC_LAWS;
pub(crate) use lift_off::LAWS as LIFT_OFF_LAWS;
pub(crate) use locked::LAWS as OIL_LAWS;
pub(crate) use manifold::LAWS as MANIFOLD_LAWS;
pub(crate) use press::LAWS as PRESS_LAWS;
pub(crate) use sideways::LAWS as SIDEWAYS_LAWS;
pub(crate) use stages::LAWS as STAGE_LAWS;
