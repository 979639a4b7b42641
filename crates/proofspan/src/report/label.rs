//! What people call a check and a document field.

use crate::error::{Slug, slug};

/// The name of a check; where it has none of its own, what its code means.
pub(super) fn check(code: Slug) -> &'static str {
    NAMES.iter().find(|(own, _)| *own == code).map_or_else(|| code.gist(), |(_, name)| name)
}

const NAMES: &[(Slug, &str)] = &[
    (slug::EQUIVALENT_AS_BUILT, "effect of what may deviate on site"),
    (slug::EQUIVALENT_LIMIT_CONFLICT, "limit of overshoot"),
    (slug::EQUIVALENT_NEAR_BEARING, "distance of a load from the bearing"),
    (slug::EQUIVALENT_OVER_CAPACITY, "capacity of a carrier"),
    (slug::EQUIVALENT_REQUIREMENT_BROKEN, "requirement on the layout"),
    (slug::EQUIVALENT_UNEVEN_JACKS, "reference reached with what jacks that differ give"),
    (slug::EQUIVALENT_UNEVEN_OVER, "limits of the layout with what jacks that differ give"),
    (slug::EQUIVALENT_SHORT, "reference reached everywhere in the region"),
    (slug::EQUIVALENT_SUPPORT_BOUNDS, "reference reached with ends free or held"),
    (slug::RIG_ANCHOR_OVER_CAPACITY, "strength of an anchor"),
    (slug::RIG_AXLE_OVER_GROUND, "strength of what carries the wheels of a vehicle"),
    (slug::RIG_BAR_OVER_LOAD, "working load of a bar"),
    (slug::RIG_BAR_FIXINGS, "coupler, nut or plate of a bar"),
    (slug::RIG_BAR_STRESS, "stress of a bar"),
    (slug::RIG_BEAM_OVER_LOAD, "strength of a beam of the rig"),
    (slug::RIG_BEAM_BUCKLES, "a beam of the rig against buckling sideways"),
    (slug::RIG_BEAM_TILT, "tilt of a spreader against what its seats allow"),
    (slug::RIG_FACTOR_ASKED, "factor asked for against lift-off"),
    (slug::RIG_HOLD_DRIFT, "locked-off force within its band as it warms and cools"),
    (slug::RIG_HOLD_OVER_LOAD, "strength of a vehicle where it is held"),
    (slug::RIG_HOSE_MARGIN, "burst pressure of the hoses"),
    (slug::RIG_LIFTOFF_BELOW_FLOOR, "factor against lift-off at a bearing"),
    (slug::RIG_MONOLITHIC, "uplift at a bearing that is cast in place"),
    (slug::RIG_PRESSURE_OVER_RATING, "pressure against its rating"),
    (slug::RIG_PUMP_COARSE, "force of one stroke of the pump"),
    (slug::RIG_REACTION_OVER_CAPACITY, "strength of the reaction member under test"),
    (slug::RIG_STAGING_OVER_CAPACITY, "strength under the counterweights alone"),
    (slug::RIG_STROKE_SHORT, "stroke of the jacks"),
    (slug::RIG_TOP_CRACKS, "top face of the reaction member uncracked"),
    (slug::RIG_TRAIN_OVER_LOAD, "jack train sideways and in bending"),
    (slug::RIG_UPLIFT_OVER_CAPACITY, "uplift strength of a bearing"),
    (slug::SCOPE_NEIGHBOURS, "share that neighbours take"),
    (slug::SHORING_CATCH_OVER_CAPACITY, "strength of the catch when the member falls"),
    (slug::SHORING_FLOOR_OVER_CAPACITY, "strength of the floor under the catch"),
    (slug::SHORING_GAP_NOT_ABOVE_READING, "gap above the reading expected"),
    (slug::SHORING_GROUND_OVER_CAPACITY, "strength of the ground under the posts"),
    (slug::SHORING_LEVEL_OVER_CAPACITY, "spare strength of a level below"),
    (slug::SHORING_POSTS_OVER_CAPACITY, "strength of the posts between levels"),
    (slug::SHORING_STUB_OVER_CAPACITY, "strength of the stub that stays"),
];

/// The name of a criterion: what it is about, else its word in the edition.
pub(super) fn criterion(about: &str, id: &str) -> String {
    if about.is_empty() { words(id) } else { about.to_owned() }
}

/// A word of a document as people write it.
pub(super) fn words(word: &str) -> String {
    word.replace('_', " ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::error::Class;

    /// Every check that can stop a test because a strength or limit is exceeded has its name.
    #[test]
    fn checks_of_strength_have_names() {
        for code in Slug::all() {
            let checked = code.code().ends_with("over-capacity")
                || code.code().ends_with("over-rating")
                || code.code().ends_with("over-load");
            if checked && matches!(code.class(), Class::Stop { .. } | Class::Fail) {
                assert_ne!(check(*code), code.gist(), "{}", code.code());
            }
        }
    }
}
