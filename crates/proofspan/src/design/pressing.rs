//! What presses on the member, and on what carries it.

use super::around::surrounded;
use crate::capacity::local::{PressedBy, Presses, Pressing};
use crate::equivalent::{Carried, CarrierKind, Layout};
use crate::error::Error;
use crate::formula::Working;
use crate::rig::{self, Means, Press, Rig};
use crate::shoring::{Shoring, caught_bearings};
use crate::spec::TestSpec;
use crate::target::Target;
use crate::units::{Force, Net, Pressure};

/// One press for each carrier in use: a jack line where it stands, a spreader where its jack stands.
pub(super) fn presses(layout: &Layout) -> Vec<Press> {
    let one = |c: &Carried| Press {
        at: c.at,
        force: c.force,
        circuit: c.circuit.clone(),
        by: if c.kind == CarrierKind::Jack { Means::Jack } else { Means::Weight },
    };
    layout.carriers.iter().filter(|c| c.force.0 > Force::ZERO).map(one).collect()
}

/// The force of one jack of a carrier and the pressure of its circuit, where it is driven by jacks of one
/// kind.
pub(super) fn driven(
    spec: &TestSpec,
    rig: &Rig,
    c: &Carried,
) -> (Option<Net<Force>>, Option<Pressure>) {
    if c.kind != CarrierKind::Jack || c.force.0 <= Force::ZERO {
        return (None, None);
    }
    let all = &spec.rig.jacks;
    let of = |j: &&rig::Jacks| all.len() == 1 || j.circuit == c.circuit;
    let mut numbers = all.iter().filter(of).map(|j| j.number);
    let number = numbers.next().filter(|n| numbers.all(|m| m == *n));
    let circuit =
        rig.hydraulics.iter().find(|h| rig.hydraulics.len() == 1 || h.circuit == c.circuit);
    (number.map(|n| c.force * f64::from(n.max(1)).recip()), circuit.map(|h| h.pressure))
}

/// What presses on the member and on what carries it: carriers and bearings in the test, posts and bearings
/// when it falls.
///
/// # Errors
/// What the shoring refuses.
pub(super) fn pressing(
    working: &mut Working,
    spec: &TestSpec,
    (target, layout): (&Target, &Layout),
    (rig, shoring): (&Rig, &Shoring),
) -> Result<Pressing, Error> {
    let local = spec.capacity.iter().flat_map(|c| &c.local);
    let caught = if local.into_iter().any(|l| l.under == PressedBy::Bearing) {
        surrounded((spec, target), (layout, rig), |around| {
            caught_bearings(working, &spec.shoring, around)
        })?
    } else {
        Vec::new()
    };
    let carriers = layout.carriers.iter().filter(|c| c.force.0 > Force::ZERO).map(|c| {
        let jack = driven(spec, rig, c).0;
        Presses {
            name: c.name.to_string(),
            at: c.at,
            force: c.force.0,
            before: Force::ZERO,
            part: jack.map_or(1.0, |jack| jack.0 / c.force.0),
            caught: None,
        }
    });
    let reactions = target.in_place.reactions().iter().zip(layout.response.reactions());
    let catches = shoring.catches.iter().map(|c| {
        let posts = spec.shoring.catch.iter().find(|own| own.at.value == c.at);
        let posts = posts.map_or(1, |own| own.resistance.posts.max(1));
        Presses {
            name: "catch".to_owned(),
            at: c.at,
            force: c.force,
            before: Force::ZERO,
            part: f64::from(posts).recip(),
            caught: None,
        }
    });
    Ok(Pressing {
        carriers: carriers.collect(),
        catches: catches.collect(),
        bearings: reactions
            .map(|(before, test)| Presses {
                name: "bearing".to_owned(),
                at: test.at,
                force: before.force + test.force,
                before: before.force,
                part: 1.0,
                caught: caught.iter().find(|c| c.at == test.at).and_then(|c| c.force),
            })
            .collect(),
    })
}
