//! The shoring as a document describes it, per member unit.

use super::catch::Drive;
use crate::error::{Issue, slug};
use crate::source::{Given, Reader};
use crate::units::{Force, Length, Ratio, SpringStiffness};

crate::laws! {
    /// Design resistance of posts for an accidental action.
    pub fn accidental_resistance(n: f64 as "n", rk: Force as "R_k", gamma: f64 as "gamma_M") -> Force as "R_d" = n * rk / gamma;
    source "accidental action, gamma_F = 1.0, the product's own material factor (EN 1065: 1.1)";
    /// Resistance of posts by the rated load of their supplier.
    pub fn rated_resistance(n: f64 as "n", rated: Force as "R_rated") -> Force as "R" = n * rated;
    source "supplier's rated load";
}

crate::record! {
    /// What the posts of the catch carry. At least one of the two; the stricter counts.
    pub struct Resistance {
        /// How many posts stand under one member unit.
        posts: u32,
        /// Characteristic resistance of one post at its height.
        characteristic: Option<Given<Force>>,
        /// Material factor of the product for an accidental action.
        material_factor: f64 = 1.1,
        /// Rated load of one post, from its supplier.
        rated: Option<Given<Force>>,
    }
    rules { known[posts, characteristic, rated, material_factor]; }
}

fn known(
    reader: &mut Reader,
    posts: &u32,
    characteristic: &Option<Given<Force>>,
    rated: &Option<Given<Force>>,
    factor: &f64,
) {
    let positive = |f: &Option<Given<Force>>| f.as_ref().is_none_or(|f| f.value > Force::ZERO);
    if *posts == 0
        || (characteristic.is_none() && rated.is_none())
        || !positive(characteristic)
        || !positive(rated)
        || *factor < 1.0
    {
        let path = reader.path().to_owned();
        reader.push(
            Issue::new(
                slug::SHORING_RESISTANCE,
                path,
                "the resistance of the posts is not settled",
            )
            .limit("posts >= 1; characteristic or rated above zero; material_factor >= 1"),
        );
    }
}

crate::record! {
    /// The catch under the piece that falls.
    pub struct Catch {
        /// Its place from the left end of the member.
        at: Given<Length>,
        /// Stiffness of posts, packs and what they stand on.
        stiffness: Given<SpringStiffness>,
        /// Clear gap at the last step, before the load is raised; a blank is not zero.
        gap: Option<Given<Length>>,
        /// What the posts carry.
        resistance: Resistance,
        /// Whether every post stands on a joist line, where the floor below is thin between joists.
        posts_on_joist_lines: bool = true,
    }
    rules { usable[stiffness, gap]; }
}

fn usable(reader: &mut Reader, stiffness: &Given<SpringStiffness>, gap: &Option<Given<Length>>) {
    reader.positive("stiffness", stiffness.value.into(), slug::BEAM_SPRING_NONPOSITIVE);
    match gap {
        None => {
            let path = reader.path_of("gap");
            reader.push(Issue::new(
                slug::SHORING_GAP_MISSING,
                path,
                "the gap is not given; a blank is not zero",
            ));
        }
        Some(gap) if gap.value < Length::ZERO => {
            let path = reader.path_of("gap");
            reader.push(
                Issue::new(slug::SHORING_GAP_MISSING, path, "a gap below zero")
                    .value(gap.shown())
                    .limit(">= 0"),
            );
        }
        Some(_) => {}
    }
}

crate::record! {
    /// A level that carries the catch, the top first.
    pub struct Level {
        /// How the drawings call it.
        id: String,
        /// Its stiffness under the posts, per member unit.
        stiffness: Given<SpringStiffness>,
        /// Its spare strength for a force under the posts, per member unit.
        spare: Given<Force>,
    }
    rules { stands[stiffness, spare]; }
}

fn stands(reader: &mut Reader, stiffness: &Given<SpringStiffness>, spare: &Given<Force>) {
    reader.positive("stiffness", stiffness.value.into(), slug::BEAM_SPRING_NONPOSITIVE);
    reader.positive("spare", spare.value.into(), slug::SOURCE_SIGN);
}

crate::record! {
    /// The shoring.
    pub struct ShoringSpec {
        /// The catch. Left out is a stop.
        catch: Option<Catch>,
        /// What applies the test load.
        drive: Drive = Drive::Weights,
        /// Standard uncertainty times two of the reading that the gap must clear, settlement and temperature included.
        reading_uncertainty: Given<Length> = Given::new(Length::ZERO),
        /// The levels that carry it, the top first.
        levels: Vec<Level> = Vec::new(),
        /// Stiffness of the posts between levels, per member unit.
        post_stiffness: Option<Given<SpringStiffness>>,
        /// Whether the posts go on to the ground below the last level.
        to_ground: bool = false,
        /// Clearance to keep above the reading expected, 5 to 10 mm (library rule).
        clearance: Given<Length> = Given::new(Length::from_si(0.005)),
        /// Part of the dead load in place that hangs on beyond what is listed, as a factor of at least 1.
        dragged_along: Ratio = Ratio::from_si(1.0),
    }
}
