//! What the catches of a design stand among.

use crate::beam::Load;
use crate::equivalent::{CarrierKind, Layout};
use crate::error::Error;
use crate::rig::Rig;
use crate::scope::Mode;
use crate::shoring::{Resting, Surroundings};
use crate::spec::TestSpec;
use crate::target::Target;
use crate::units::{Force, Length};

/// What is in place, load by load.
pub(super) fn in_place(target: &Target) -> Vec<Load> {
    let there = target.nominal.iter().filter(|n| n.in_place > 0.0);
    there.map(|n| n.load.scaled(n.in_place)).collect()
}

/// Asks something of what the catches of a design stand among.
pub(super) fn surrounded<T>(
    (spec, target): (&TestSpec, &Target),
    (layout, rig): (&Layout, &Rig),
    ask: impl FnOnce(&Surroundings<'_>) -> Result<T, Error>,
) -> Result<T, Error> {
    let in_place = in_place(target);
    let on_it = resting(layout);
    let regions: Vec<(Mode, Length, Length)> =
        target.regions.iter().map(|r| (r.mode, r.from, r.to)).collect();
    ask(&Surroundings {
        unit: target.unit,
        beam: &target.beam,
        regions: &regions,
        depth: spec.beam.depth_at((target.from + target.to) / 2.0),
        in_place: &in_place,
        on_it: &on_it,
        rig_weight: &[],
        spring_back: rig.spring_back(),
        fractions: &spec.protocol.steps,
        reading: &|x| layout.response.inside().deflection(x),
    })
}

/// What the test brings on, as it may follow the piece that drops: jacks at their contacts, water and
/// loose stacks over what they cover.
fn resting(layout: &Layout) -> Vec<Resting> {
    let jacks = layout.contacts().map(|l| Resting::jack(l.at, l.force.0));
    let mut all: Vec<Resting> = jacks.collect();
    let others = layout.carriers.iter().filter(|c| c.kind != CarrierKind::Jack);
    all.extend(others.filter(|c| c.force.0 > Force::ZERO).map(|c| Resting {
        from: c.from,
        to: c.to,
        force: c.force.0,
        loose: true,
        jack: false,
    }));
    all
}
