//! The shoring as a document describes it, per member unit.

use super::catch::Drive;
use crate::beam::Spring;
use crate::error::{Issue, slug};
use crate::source::rule::{AtLeastOne, Movement, Positive};
use crate::source::{Given, Reader, Several};
use crate::units::{Force, Length, Moment, Ratio, SpringStiffness};

crate::laws! {
    /// Design resistance of posts for an accidental action.
    pub fn accidental_resistance(n: f64 as "n", rk: Force as "R_k", gamma: f64 as "gamma_M") -> Force as "R_d" = n * rk / gamma;
    source "accidental action, gamma_F = 1.0, the product's own material factor (EN 1065: 1.1)";
    /// Resistance of posts by the rated load of their supplier.
    pub fn rated_resistance(n: f64 as "n", rated: Force as "R_rated") -> Force as "R" = n * rated;
    source "supplier's rated load";
}

crate::rule! {
    /// How many posts stand under one member unit: one to a thousand (library rule).
    pub Posts { least 1.0 SHORING_RESISTANCE, most 1000.0 SHORING_RESISTANCE }
    /// A resistance of one post.
    pub PostResistance { above 0.0 SHORING_RESISTANCE }
    /// A material factor: one to ten (library rule).
    pub MaterialFactor { least 1.0 SHORING_RESISTANCE, most 10.0 SHORING_RESISTANCE }
    /// A place of a catch, from the left end of the member.
    pub CatchPlace { least 0.0 SHORING_CATCH_OUTSIDE }
    /// A length of a bearing under a stub: up to two metres (library rule).
    pub StubBearing { above 0.0 SOURCE_SIGN, most 2.0 SOURCE_MAGNITUDE }
    /// A clear gap: up to ten metres (library rule).
    pub Gap { least 0.0 SHORING_GAP_MISSING, most 10.0 SOURCE_MAGNITUDE }
}

crate::record! {
    /// What the posts of the catch carry. At least one of the two; the stricter counts.
    pub struct Resistance {
        /// How many posts stand under one member unit.
        posts: u32 where Posts,
        /// Characteristic resistance of one post at its height.
        characteristic: Option<Given<Force, PostResistance>>,
        /// Material factor of the product for an accidental action.
        material_factor: f64 where MaterialFactor = 1.1,
        /// Rated load of one post, from its supplier.
        rated: Option<Given<Force, PostResistance>>,
    }
    rules { known[characteristic, rated]; }
}

fn known(
    reader: &mut Reader,
    characteristic: &Option<Given<Force, PostResistance>>,
    rated: &Option<Given<Force, PostResistance>>,
) {
    if characteristic.is_none() && rated.is_none() {
        let path = reader.path().to_owned();
        reader.push(
            Issue::new(
                slug::SHORING_RESISTANCE,
                path,
                "the resistance of the posts is not settled",
            )
            .limit("characteristic or rated"),
        );
    }
}

crate::record! {
    /// A catch under a piece that falls.
    pub struct Catch {
        /// Its place from the left end of the member.
        at: Given<Length, CatchPlace>,
        /// Stiffness of posts, packs and what they stand on.
        stiffness: Given<SpringStiffness, Spring>,
        /// Clear gap at the last step, before the load is raised; a blank is not zero.
        gap: Given<Length, Gap> => SHORING_GAP_MISSING "a blank is not zero",
        /// What the posts carry.
        resistance: Resistance,
        /// Whether every post stands on a joist line, where the floor below is thin between joists.
        posts_on_joist_lines: bool = true,
        /// The reaction member it stands on, by its id; the check of that floor then counts it. Where
        /// `levels` are given that floor is the first of them and takes the share of the first.
        on: Option<String>,
        /// Width that its foot takes along the member: no counterweight stands there.
        width: Given<Length, Movement> = Given::known(Length::ZERO),
    }
}

crate::choice! {
    /// How a stub that a crack leaves at a bearing is shown to be held.
    pub enum StubHold ("hold of a stub", source::SOURCE_CHOICE) {
        /// Cast in with its support, which carries it as a cantilever.
        CastIn = "cast_in",
        /// The resultant of what stands on it lies within its bearing.
        ResultantOnBearing = "resultant_on_bearing",
    }
}

crate::record! {
    /// What holds the stubs at the bearings where no catch does.
    pub struct Stub {
        /// How.
        held: StubHold,
        /// Design strength at the face of the support, where it is cast in, per member unit.
        moment: Option<Given<Moment, Positive>>,
        /// Length of the bearing along the member, about its centre, where the stub lies on it.
        bearing: Option<Given<Length, StubBearing>>,
    }
    rules { shown[held, moment, bearing]; }
}

fn shown(
    reader: &mut Reader,
    held: &StubHold,
    moment: &Option<Given<Moment, Positive>>,
    bearing: &Option<Given<Length, StubBearing>>,
) {
    let (wanted, fits) = match held {
        StubHold::CastIn => ("moment alone", moment.is_some() && bearing.is_none()),
        StubHold::ResultantOnBearing => ("bearing alone", bearing.is_some() && moment.is_none()),
    };
    if !fits {
        let path = reader.path().to_owned();
        let message = "it is not shown that the stub is held";
        reader.push(Issue::new(slug::SHORING_STUB, path, message).limit(wanted));
    }
}

crate::record! {
    /// A level that carries the catch, the top first.
    pub struct Level {
        /// How the drawings call it.
        id: String,
        /// Its stiffness under the posts, per member unit.
        stiffness: Given<SpringStiffness, Spring>,
        /// Its spare strength for a force under the posts, per member unit.
        spare: Given<Force, Positive>,
        /// After which loads that strength is spare: own weight, counterweights, rig.
        spare_after: Option<String>,
    }
}

crate::record! {
    /// The shoring.
    pub struct ShoringSpec {
        /// The catches, one under every piece that can fall. Left out is a stop.
        catch: Several<Catch> = Several::none(),
        /// How a stub at a bearing is held without a catch; not shown is not held.
        stub: Option<Stub>,
        /// What applies the test load.
        drive: Drive = Drive::Weights,
        /// Standard uncertainty times two of the reading that the gap must clear, settlement and temperature included.
        reading_uncertainty: Given<Length, Movement> = Given::known(Length::ZERO),
        /// The levels that carry it, the top first: the floor that the catches stand on, then those below.
        levels: Vec<Level> = Vec::new(),
        /// Stiffness of the posts between levels, per member unit.
        post_stiffness: Option<Given<SpringStiffness, Spring>>,
        /// Whether the posts go on to the ground below the last level.
        to_ground: bool = false,
        /// Clearance to keep above the reading expected, 5 to 10 mm (library rule).
        clearance: Given<Length, Movement> = Given::known(Length::from_si(0.005)),
        /// Part of the dead load in place that hangs on beyond what is listed, as a factor of at least 1.
        dragged_along: Ratio where AtLeastOne = Ratio::from_si(1.0),
    }
}
