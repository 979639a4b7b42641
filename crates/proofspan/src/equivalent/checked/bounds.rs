//! Supports are never exactly as drawn: the layout under other end conditions.

use super::reached::Shortfall;
use super::verify::verify_asks;
use crate::beam::{Load, Side};
use crate::equivalent::asked::ask::Ask;
use crate::equivalent::asked::deviations::EndFixity;
use crate::error::Error;
use crate::target::Target;
use crate::units::{Length, Ratio};

crate::answer! {
    /// The layout's worst fidelity under one bound.
    pub struct Bound {
        /// The bound.
        ends: EndFixity,
        /// Least net fidelity of each effect in the region. Below zero the reference has the other sign there.
        least: Vec<Shortfall>,
        /// Shear fidelity on the total load, the lower of those at both ends of the region.
        total_shear: Ratio,
    }
}

pub(in crate::equivalent) fn bounds(
    target: &Target,
    loads: &[Load],
    asks: &[Ask],
) -> Result<Vec<Bound>, Error> {
    let all = [EndFixity::LeftFixed, EndFixity::RightFixed, EndFixity::BothFixed];
    let mut found = Vec::with_capacity(all.len());
    for ends in all {
        let left = matches!(ends, EndFixity::LeftFixed | EndFixity::BothFixed);
        let right = matches!(ends, EndFixity::RightFixed | EndFixity::BothFixed);
        let beam = target.beam.ends_held(left, right)?;
        let target = target.on(&beam)?;
        let jacks = beam.response(loads)?;
        let least = verify_asks(&jacks, &target, asks).least;
        let at = |x: Length, side: Side| {
            let reached = jacks.inside().shear(x, side) + target.in_place.inside().shear(x, side);
            reached / target.inside().total_shear(x, side).value.0
        };
        let ratio = at(target.from, Side::Right).min(at(target.to, Side::Left));
        found.push(Bound { ends, least, total_shear: Ratio::from(ratio) });
    }
    Ok(found)
}
