//! The shoring as a document describes it, per member unit.

use super::catch::Drive;
use super::posts::{Column, Lean, PostHeight, PostResistance, PostRow, Prop, propped, tabled};
use crate::beam::Spring;
use crate::error::{Issue, slug};
use crate::source::rule::{AtLeastOne, Movement, NotNegative, Positive};
use crate::source::{Given, Reader, Several};
use crate::units::{Force, Length, Message, Moment, Ratio, SpringStiffness};

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
    /// A material factor: one to ten (library rule).
    pub MaterialFactor { least 1.0 SHORING_RESISTANCE, most 10.0 SHORING_RESISTANCE }
    /// A place of a catch, from the left end of the member.
    pub CatchPlace { least 0.0 SHORING_CATCH_OUTSIDE }
    /// A length of a bearing under a stub: up to two metres (library rule).
    pub StubBearing { above 0.0 SOURCE_SIGN, most 2.0 SOURCE_MAGNITUDE }
    /// How far a pad can be crushed: up to a metre (library rule).
    pub PadTravel { above 0.0 SOURCE_SIGN, most 1.0 SOURCE_MAGNITUDE }
    /// A clear gap: up to ten metres (library rule).
    pub Gap { least 0.0 SHORING_GAP_MISSING, most 10.0 SOURCE_MAGNITUDE }
}

crate::record! {
    /// What the posts carry. At least one of the five; the strictest counts.
    pub struct Resistance {
        /// How many posts stand under one member unit.
        posts: u32 where Posts,
        /// Characteristic resistance of one post at its height.
        characteristic: Option<Given<Force, PostResistance>>,
        /// Material factor of the product for an accidental action.
        material_factor: f64 where MaterialFactor = 1.1,
        /// Rated load of one post, from its supplier.
        rated: Option<Given<Force, PostResistance>>,
        /// The height of the posts, plates and heads included.
        height: Option<Given<Length, PostHeight>>,
        /// The supplier's table of rated loads, heights rising; between two rows the higher one counts.
        table: Vec<PostRow> = Vec::new(),
        /// The post as a column.
        column: Option<Column>,
        /// The post as a telescopic prop of a class, `height` its length.
        prop: Option<Prop>,
        /// How far the posts may stand out of plumb, sideways over height.
        lean: Ratio where Lean = Ratio::ZERO,
    }
    rules {
        known[characteristic, rated, table, column, prop];
        tabled[height, table, column];
        propped[height, prop];
    }
}

fn known(
    reader: &mut Reader,
    characteristic: &Option<Given<Force, PostResistance>>,
    rated: &Option<Given<Force, PostResistance>>,
    table: &Vec<PostRow>,
    column: &Option<Column>,
    prop: &Option<Prop>,
) {
    let said = !table.is_empty() || column.is_some() || prop.is_some();
    if characteristic.is_none() && rated.is_none() && !said {
        let path = reader.path().to_owned();
        reader.push(
            Issue::new(
                slug::SHORING_RESISTANCE,
                path,
                "the resistance of the posts is not settled",
            )
            .limit("characteristic, rated, table, column or prop"),
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
        /// A pad on its head that is crushed; what it gives elastically belongs to the stiffness.
        pad: Option<Pad>,
    }
}

crate::record! {
    /// A pad that pushes back with one force while it is crushed, all pads of a catch together.
    pub struct Pad {
        /// That force, as a trial has shown it.
        crush: Given<Force, Positive>,
        /// How far it can be crushed.
        travel: Given<Length, PadTravel>,
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
        spare: Option<Given<Force, Positive>>,
        /// After which loads that strength is spare: own weight, counterweights, rig.
        spare_after: Option<String>,
        /// In place of the spare strength: all of its strength for a force under the posts,
        strength: Option<Given<Force, Positive>>,
        /// and what it carries there before the catch comes, as a force under the posts.
        own_load: Option<Given<Force, NotNegative>>,
        /// The posts below it, where they are not those of `post_stiffness`.
        posts: Option<LevelPosts>,
    }
    rules { strength_known[spare, strength, own_load]; }
}

crate::record! {
    /// The posts below one level, per member unit.
    pub struct LevelPosts {
        /// Stiffness of one post with its plates and packs.
        stiffness: Given<SpringStiffness, Spring>,
        /// Clear gap above or below them before the catch comes.
        gap: Given<Length, Gap> = Given::known(Length::ZERO),
        /// What they carry, and how many they are.
        resistance: Resistance => SHORING_RESISTANCE "posts of unknown strength carry nothing",
    }
}

crate::record! {
    /// What the posts stand on below the last level.
    pub struct Ground {
        /// Its stiffness under the posts, per member unit; left out, the levels above count as if it gave
        /// way, and it and the posts as if it did not give.
        stiffness: Option<Given<SpringStiffness, Spring>>,
        /// What it carries under the plates of the posts, per member unit.
        carries: Given<Force, Positive>,
    }
}

/// The spare strength is given, or follows from the whole and what is there already.
fn strength_known(
    reader: &mut Reader,
    spare: &Option<Given<Force, Positive>>,
    strength: &Option<Given<Force, Positive>>,
    own_load: &Option<Given<Force, NotNegative>>,
) {
    let fits = match (spare, strength, own_load) {
        (Some(_), None, None) => true,
        (None, Some(all), Some(own)) => own.value < all.value,
        _ => false,
    };
    if !fits {
        let path = reader.path().to_owned();
        let message = "what the level can carry of the catch is not settled";
        let mut issue = Issue::new(slug::SHORING_LEVEL_STRENGTH, path, message)
            .limit("spare, or strength with a smaller own_load");
        if let (Some(all), Some(own)) = (strength, own_load) {
            issue = issue.value(Message::new("{} of {}", [own.said(), all.said()]));
        }
        reader.push(issue);
    }
}

impl Level {
    /// What it can carry of the catch.
    #[must_use]
    pub fn spare(&self) -> Force {
        let of = |f: &Option<Given<Force, Positive>>| f.as_ref().map(|f| f.value);
        let own = self.own_load.as_ref().map_or(Force::ZERO, |f| f.value);
        of(&self.spare).or_else(|| of(&self.strength).map(|all| all - own)).unwrap_or(Force::ZERO)
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
        /// The ground that the posts stand on below the last level.
        ground: Option<Ground>,
    }
    rules { levels_differ[levels]; grounded[to_ground, ground]; few_catches[catch]; }
}

/// So many catches stand under one member unit at the most (library rule): every way in which what falls may
/// lie on them is looked at.
const MOST_CATCHES: usize = 20;

fn few_catches(reader: &mut Reader, catch: &Several<Catch>) {
    if catch.len() > MOST_CATCHES {
        let path = reader.path_of("catch");
        let message = format!("{} catches under one member unit", catch.len());
        let issue = Issue::new(slug::SOURCE_SIZE, path, message);
        reader.push(issue.limit(format!("at most {MOST_CATCHES}")));
    }
}

fn levels_differ(reader: &mut Reader, levels: &[Level]) {
    let folded = |id: &str| id.trim().to_lowercase();
    for (i, level) in levels.iter().enumerate() {
        if levels.iter().take(i).any(|l| folded(&l.id) == folded(&level.id)) {
            let path = format!("{}[{i}].id", reader.path_of("levels"));
            let message = "a level is listed twice: it carries its share once";
            reader.push(Issue::new(slug::SHORING_LEVEL_TWICE, path, message).value(&level.id));
        }
    }
}

fn grounded(reader: &mut Reader, to_ground: &bool, ground: &Option<Ground>) {
    if ground.is_some() && !to_ground {
        let path = reader.path_of("ground");
        let message = "the ground is described, and the posts do not go on to it";
        reader.push(Issue::new(slug::SHORING_LEVELS_ZERO, path, message));
    }
}
