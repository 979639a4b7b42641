//! Does the load reach the beam, or go straight into the bearing?
//!
//! A jack near a bearing tests the strut, not the beam in shear (library rule, after the distances
//! of EN 1992-1-1 6.2.2 and the deep-beam limit of ACI 318, from memory).

use crate::beam::{Beam, Support};
use crate::error::{Error, Issue, slug};
use crate::units::{Kind, Length, Quantity};
use crate::verdict::{Basis, Clause, Limit, MemberUnit, Note, State, Verdict};

/// The nearest clear distance from the edge of a bearing to the edge of a plate, for loads that
/// cover these stretches: below 0.5 d refused, below 2 d NotMeaningful, below 2.5 d a note.
pub(super) fn near_bearing(
    beam: &Beam,
    (from, to): (Length, Length),
    covers: impl Iterator<Item = (Length, Length)>,
    (bearing, depth): (Length, Length),
    unit: MemberUnit,
) -> Result<(Verdict, Option<Note>), Error> {
    // the bearing that the shear in doubt goes to; one at the far end takes another strut
    let middle = (from + to) / 2.0;
    let away = |s: &&Support| (s.at - middle).abs().si();
    let support = beam.supports().iter().min_by(|a, b| away(a).total_cmp(&away(b)));
    let at = support.map_or(Length::ZERO, |s| s.at);
    let clear =
        |(a, b): (Length, Length)| if a >= at { a - at } else { (at - b).max(Length::ZERO) };
    let nearest =
        covers.map(clear).fold(Length::from_si(f64::INFINITY), Length::min) - bearing / 2.0;
    let over = nearest / depth;
    if over < 0.5 {
        return Err(Issue::new(
            slug::EQUIVALENT_JACK_NEAR_SUPPORT,
            "layout.carrier",
            "the load goes straight into the bearing: not a test of the beam in shear",
        )
        .value(format!("clear distance {over:.3} d"))
        .limit("at least 0.5 d; 2 d for a test of the beam in shear")
        .into());
    }
    let note = (over < 2.5).then(|| {
        Note::new(
            slug::EQUIVALENT_NEAR_BEARING,
            "layout.carrier",
            format!("the clear distance from bearing to plate is {over:.3} d; a strut carries about {:.0} % of the load", ((1.0 - over / 2.0) * 100.0).max(0.0)),
        )
    });
    let mut verdict = Verdict::design(
        slug::EQUIVALENT_NEAR_BEARING,
        Quantity::new(Kind::Ratio, over),
        Limit::AtLeast(2.0),
        Basis::absolute(unit),
        Clause::Named("clear distance to the bearing (library rule)"),
    );
    if verdict.state == State::Fail {
        verdict.state = State::NotMeaningful;
    }
    Ok((verdict, note))
}
