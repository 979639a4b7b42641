//! What do the catches stand among?

use crate::beam::{Beam, Load};
use crate::scope::Mode;
use crate::units::{Force, Length, Ratio};
use crate::verdict::MemberUnit;

/// What the catches stand among. All places count from the left end of the member.
#[derive(Clone, Copy)]
pub struct Surroundings<'a> {
    /// What one value is counted for.
    pub unit: MemberUnit,
    /// The member: its supports, hinges and length.
    pub beam: &'a Beam,
    /// The regions in doubt, each with its mode, left and right end.
    pub regions: &'a [(Mode, Length, Length)],
    /// Overall depth at the region, for the run of a flat crack.
    pub depth: Length,
    /// What is in place on the member, per member unit.
    pub in_place: &'a [Load],
    /// What the test brings on.
    pub on_it: &'a [Resting],
    /// Parts of the rig that rest on the member.
    pub rig_weight: &'a [Load],
    /// What the rig springs back if the member falls: uplift of the reaction member, bars, oil;
    /// infinite where it is not known, and locked-off jacks then count like weights.
    pub spring_back: Length,
    /// The fractions of the full load at which the heads are lowered.
    pub fractions: &'a [Ratio],
    /// Reading expected at a place at full load, soft prediction.
    pub reading: &'a dyn Fn(Length) -> Length,
}

impl core::fmt::Debug for Surroundings<'_> {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.debug_struct("Surroundings")
            .field("unit", &self.unit)
            .field("regions", &self.regions)
            .field("in_place", &self.in_place)
            .field("on_it", &self.on_it)
            .finish_non_exhaustive()
    }
}

/// What the test brings on, down positive, per member unit.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Resting {
    /// Left edge.
    pub from: Length,
    /// Right edge; the left one again for a force at a place.
    pub to: Length,
    /// All of it.
    pub force: Force,
    /// Whether it runs or slides: water, loose stacks. All that can reach the piece then counts
    /// where it loads the catch most.
    pub loose: bool,
    /// Whether a jack presses it: how it follows the drop is the drive of the shoring.
    pub jack: bool,
}

impl Resting {
    /// A jack line.
    #[must_use]
    pub const fn jack(at: Length, force: Force) -> Self {
        Self { from: at, to: at, force, loose: false, jack: true }
    }
}
