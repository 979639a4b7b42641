//! Does the load reach the beam, or go straight into the bearing?
//!
//! A jack near a bearing tests the strut, not the beam in shear (library rule, after the distances
//! of EN 1992-1-1 6.2.2 and the deep-beam limit of ACI 318, from memory).

use crate::beam::{Beam, Restraint, Support};
use crate::capacity::shear::{STRAIGHT_INTO_BEARING, STRUT_CARRIES, STRUT_NOTED};
use crate::error::{Error, Issue, slug};
use crate::units::{Kind, Length, Message, Quantity};
use crate::verdict::{Basis, Clause, Limit, MemberUnit, Note, State, Verdict};

/// Where a load stands, and how it is called.
pub(in crate::equivalent) struct Stands {
    pub(in crate::equivalent) from: Length,
    pub(in crate::equivalent) to: Length,
    /// A patch counts from its middle: what stands nearer to the bearing is balanced by what stands
    /// farther away (library rule).
    pub(in crate::equivalent) spread: bool,
    pub(in crate::equivalent) what: Message,
}

impl Stands {
    /// The clear distance to a bearing on the side where shear is in doubt; nothing for a load on the
    /// other side.
    fn clear(&self, at: Length, right: bool) -> Option<Length> {
        let middle = (self.from + self.to) / 2.0;
        let (near, far) = match (self.spread, right) {
            (true, _) => (middle, middle),
            (false, true) => (self.from, self.to),
            (false, false) => (self.to, self.from),
        };
        let (near, far) = if right { (near - at, far - at) } else { (at - near, at - far) };
        (far > Length::ZERO).then(|| near.max(Length::ZERO))
    }
}

/// The bearings that shear in doubt goes to: the nearest to each end of its region, and those inside.
fn bearings(beam: &Beam, (from, to): (Length, Length)) -> impl Iterator<Item = (usize, &Support)> {
    let held = || beam.supports().iter().filter(|s| s.vertical != Restraint::Free);
    let nearest = |x: Length| {
        let away = |s: &&Support| (s.at - x).abs().si();
        held().min_by(|a, b| away(a).total_cmp(&away(b))).map(|s| s.at)
    };
    let ends = [nearest(from), nearest(to)];
    let all = beam.supports().iter().enumerate();
    all.filter(move |(_, s)| {
        s.vertical != Restraint::Free
            && (ends.contains(&Some(s.at)) || (s.at >= from && s.at <= to))
    })
}

/// The nearest clear distance from the edge of a bearing to the edge of a plate, over the bearings
/// that the shear of a region goes to: below 0.5 d refused, below 2 d NotMeaningful, below 2.5 d a
/// note. Nothing where no load stands on that side of a bearing.
pub(in crate::equivalent) fn near_bearing(
    beam: &Beam,
    region: (Length, Length),
    stands: &[Stands],
    (bearing, depth): (Length, Length),
    unit: MemberUnit,
) -> Result<Option<(Verdict, Option<Note>)>, Error> {
    let (from, to) = region;
    let slack = beam.length() * 1e-9;
    let mut nearest: Option<(f64, &Message, usize)> = None;
    for (i, support) in bearings(beam, region) {
        // a single place at the bearing is about both sides
        let here = to - from <= slack && (from - support.at).abs() <= slack;
        let sides =
            [(false, here || from < support.at - slack), (true, here || to > support.at + slack)];
        for (right, _) in sides.into_iter().filter(|(_, concerned)| *concerned) {
            for load in stands {
                let Some(clear) = load.clear(support.at, right) else { continue };
                let over = (clear - bearing / 2.0) / depth;
                if nearest.is_none_or(|(least, _, _)| over < least) {
                    nearest = Some((over, &load.what, i));
                }
            }
        }
    }
    let Some((over, what, i)) = nearest else { return Ok(None) };
    let support = || crate::equivalent::asked::words::name(i);
    if over < STRAIGHT_INTO_BEARING {
        return Err(Issue::new(
            slug::EQUIVALENT_JACK_NEAR_SUPPORT,
            "layout.carrier",
            format!(
                "{what} goes straight into bearing {}: not a test of the beam in shear",
                support()
            ),
        )
        .value(format!("clear distance {over:.3} d"))
        .limit("at least 0.5 d; 2 d for a test of the beam in shear")
        .into());
    }
    let note = (over < STRUT_NOTED).then(|| {
        Note::new(
            slug::EQUIVALENT_NEAR_BEARING,
            "layout.carrier",
            Message::new("the clear distance from bearing {} to {} is {} d; a strut carries about {} % of the load", [support().into(), what.clone().into(), over.into(), ((1.0 - over / STRUT_CARRIES) * 100.0).max(0.0).round().into()]),
        )
    });
    let mut verdict = Verdict::design(
        slug::EQUIVALENT_NEAR_BEARING,
        Quantity::new(Kind::Ratio, over),
        Limit::AtLeast(STRUT_CARRIES),
        Basis::absolute(unit),
        Clause::Named("clear distance to the bearing (library rule)"),
    );
    if verdict.state == State::Fail {
        verdict.state = State::NotMeaningful;
    }
    Ok(Some((verdict, note)))
}
