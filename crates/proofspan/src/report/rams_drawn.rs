//! Jacks that differ, each at its place across the member unit, and what holds a bearing that cannot lift.

use super::cell::{DIGITS, counted};
use crate::design::TestDesign;
use crate::equivalent::{Carried, CarrierKind};
use crate::error::slug;
use crate::rig::{Jacks, RamForce};
use crate::units::{Force, Length, Page};
use crate::verdict::{Subject, Verdict};

/// One jack of a press whose jacks differ.
pub(super) struct RamDrawn {
    /// The mark of its press with its number behind.
    pub(super) mark: String,
    /// Which press, from the left.
    pub(super) press: usize,
    /// From the middle of the member unit to the right.
    pub(super) across: Length,
    pub(super) force: Force,
    /// Its numbers.
    pub(super) says: String,
}

impl RamDrawn {
    /// Where it stands, in words.
    pub(super) fn place(&self, page: &Page) -> String {
        let off = page.small(self.across.abs());
        match self.across {
            y if y > Length::ZERO => format!("{off} right of the middle, across"),
            y if y < Length::ZERO => format!("{off} left of the middle, across"),
            _ => format!("{off} from the middle, across"),
        }
    }
}

/// The jacks of every press whose jacks differ. `wide` is the width of the member unit, over which jacks
/// without a place are spread in their order.
pub(super) fn rams(design: &TestDesign, wide: Length, page: &Page) -> Vec<RamDrawn> {
    let mut pressing: Vec<&Carried> = design.layout.carriers.iter().collect();
    pressing.retain(|c| c.kind == CarrierKind::Jack && c.force.0 > Force::ZERO);
    pressing.sort_by(|a, b| a.at.si().total_cmp(&b.at.si()));
    let mut all = Vec::new();
    for (press, carried) in pressing.into_iter().enumerate() {
        let Some((jacks, found)) = described(design, carried) else { continue };
        let n = f64::from(jacks.number);
        for (i, (ram, own)) in jacks.rams.iter().zip(found).enumerate() {
            let row = (i as f64 + 0.5) / n - 0.5;
            let across = ram.across.as_ref().map_or(wide * row, |y| y.value);
            let force = carried.force.0 * own.share;
            let piston = ram.piston.as_ref().unwrap_or(&jacks.piston);
            let part = |f: Force| page.value(f, DIGITS);
            // of several presses on one circuit the one that asks most is described
            let band = carried.force.0 / together(found);
            let says = format!(
                "{}, friction lets it give {} to {}; acting area {}, {} of {} of stroke",
                part(force),
                part(own.least * band),
                part(own.most * band),
                page.value(piston.acting(), DIGITS),
                page.small(own.way),
                page.small(own.stroke)
            );
            let mark = format!("J{}.{}", press + 1, i + 1);
            all.push(RamDrawn { mark, press, across, force, says });
        }
    }
    all
}

fn together(found: &[RamForce]) -> Force {
    found.iter().map(|r| r.force).sum()
}

/// The record of the jacks of a carrier and what each gives, where they are described one by one.
fn described<'a>(design: &'a TestDesign, carried: &Carried) -> Option<(&'a Jacks, &'a [RamForce])> {
    let all = &design.spec.rig.jacks;
    let own = |circuit: &Option<String>, alone: bool| alone || *circuit == carried.circuit;
    let hydraulics = &design.rig.hydraulics;
    let found = hydraulics.iter().find(|h| own(&h.circuit, hydraulics.len() == 1))?;
    let fits = |j: &&Jacks| !j.rams.is_empty() && j.rams.len() == found.rams.len();
    let jacks = all.iter().find(|j| fits(j) && own(&j.circuit, all.len() == 1))?;
    Some((jacks, &found.rams))
}

/// Of how many jacks a press is, where they differ.
pub(super) fn counted_jacks(design: &TestDesign, carried: &Carried, page: &Page) -> Option<String> {
    let (jacks, _) = described(design, carried)?;
    Some(format!("on {} that differ", counted(f64::from(jacks.number), "jack", page)))
}

/// What holds one bearing of a reaction member that cannot lift.
pub(super) struct HeldDown {
    /// Its place from the left end of the member under test.
    pub(super) at: Length,
    /// The beam it is cast into, in words.
    pub(super) beam: Option<String>,
    /// What pulls the column.
    pub(super) tension: Force,
}

/// What holds every bearing of a reaction member, by the number of the member.
pub(super) fn held_down(design: &TestDesign, reaction: usize, page: &Page) -> Vec<HeldDown> {
    let rig = &design.rig;
    let (Some(spec), Some(found)) =
        (design.spec.rig.reaction.get(reaction), rig.reactions.get(reaction))
    else {
        return Vec::new();
    };
    let demand = |bearing: usize, part: &'static str| {
        let of = Subject { part, ..Subject::of("bearing", bearing) };
        let own = |v: &&Verdict| v.slug == slug::RIG_UPLIFT_OVER_CAPACITY && v.of == of;
        rig.verdicts.iter().find(own).map(|v| v.demand)
    };
    let first = rig.bearings.iter().position(|b| b.reaction == found.id).unwrap_or(0);
    let one = |(i, at): (usize, &Length)| {
        let holding = spec.holding_at(i)?;
        let tension = demand(first + i, "column in tension")?;
        let beam = holding.beam.as_ref().map(|b| {
            let said =
                |part| demand(first + i, part).map_or_else(String::new, |d| page.value(d, DIGITS));
            format!(
                "{} between its columns, the bearing {} from one of them: hogs by {}, shear {}",
                page.place(b.span.value),
                page.place(b.at.value),
                said("top steel of the beam that holds it"),
                said("beam that holds it in shear")
            )
        });
        Some(HeldDown { at: *at, beam, tension: Force::from_si(tension.si) })
    };
    found.supports.iter().enumerate().filter_map(one).collect()
}
