//! What the engineer asks of the layout.

use super::carrier::{Carrier, CarrierKind};
use super::deviations::Deviations;
use super::deviations::Ends;
use super::effect::BasisWord;
use super::effect::Effect;
use super::jack::Plate;
use super::objective::Objective;
use super::requirement::Requirement;
use crate::error::{Issue, slug};
use crate::source::rule::Positive;
use crate::source::{Given, Reader, Several};
use crate::units::Length;

crate::rule! {
    /// How many carriers are chosen: one to twelve (library rule).
    pub Count12 { least 1.0 SOURCE_SIGN, most 12.0 SOURCE_MAGNITUDE }
    /// A limit of overshoot, test over reference.
    pub Cap { least 1.0 EQUIVALENT_CAP_BELOW_ONE, most 1e6 SOURCE_MAGNITUDE }
}

crate::record! {
    /// A limit on how far the test may exceed the reference inside the region in doubt.
    pub struct OvershootLimit {
        /// Shear or moment.
        effect: Effect,
        /// Net or total; a limit without it means nothing.
        basis: BasisWord => LOADS_BASIS_MISSING "does the limit hold for the net or for the total load?",
        /// Test over reference, at least 1.
        at_most: f64 where Cap,
    }
}

crate::record! {
    /// A search for places: copies of the carrier on a grid of places, the best few of them in use.
    pub struct SearchSpec {
        /// How many may be used on one member unit, the copies of all carriers counted together.
        at_most: u32 where Count12,
        /// Distance of the places that are tried.
        step: Given<Length, Positive>,
        /// Clear distance between two of them.
        clear: Option<Given<Length, Plate>>,
        /// Whether each carrier is used at one place at the most.
        once: bool = false,
    }
}

crate::record! {
    /// The layout asked for.
    pub struct LayoutSpec {
        /// What brings the load on: one carrier or several.
        carrier: Several<Carrier>,
        /// Where places are searched for several carriers, or their number is open.
        search: Option<SearchSpec>,
        /// What else must hold, besides what is to be reproduced.
        requirements: Vec<Requirement> = Vec::new(),
        /// What is made small, the first before the second; the total force where it is left out.
        objectives: Vec<Objective> = Vec::new(),
        /// What may be built otherwise than drawn; nothing is tried where it is left out.
        deviations: Option<Deviations>,
        /// Effects to be reproduced for every x of the region; by default moment, and shear where shear is in doubt.
        reproduce: Option<Vec<Effect>>,
        /// Limits of overshoot inside the region in doubt.
        limits: Vec<OvershootLimit> = Vec::new(),
        /// Length of the plate under a contact, along the member: shear falls at its edge.
        plate_length: Given<Length, Plate> = Given::known(Length::ZERO),
        /// Length of the bearing along the member.
        bearing_length: Given<Length, Plate> = Given::known(Length::ZERO),
        /// How the ends are held.
        ends: Ends = Ends::CastInPlace,
        /// Whether the member is to stay uncracked, by the sections of the part `capacity`.
        stay_uncracked: bool = false,
    }
    rules { something_asked[reproduce]; }
}

impl LayoutSpec {
    /// Whether a carrier is a jack, which presses against something.
    #[must_use]
    pub fn presses(&self) -> bool {
        self.carrier.iter().any(|c| c.kind() == CarrierKind::Jack)
    }
}

fn something_asked(reader: &mut Reader, reproduce: &Option<Vec<Effect>>) {
    if reproduce.as_ref().is_some_and(Vec::is_empty) {
        let path = reader.path_of("reproduce");
        reader.push(
            Issue::new(slug::EQUIVALENT_EFFECTS_NONE, path, "no effect is asked to be reproduced")
                .limit(Effect::WORDS.join(", ")),
        );
    }
}
