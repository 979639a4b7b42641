//! Which effects are to be reproduced, in which sign, where?

use super::effect::Effect;
use super::requirement::Sense;
use super::spec::LayoutSpec;
use crate::scope::Mode;
use crate::target::{Region, Target};
use crate::units::Length;

/// One effect that is to be reproduced over one region.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(in crate::equivalent) struct Ask {
    pub(in crate::equivalent) effect: Effect,
    /// One sign only; both where nothing is said.
    pub(in crate::equivalent) sense: Option<Sense>,
    pub(in crate::equivalent) from: Length,
    pub(in crate::equivalent) to: Length,
}

/// What is asked: the effects named, else those of the failure mode of each region. On a member of
/// several spans, where patterns bring both signs, flexure asks for sagging and hogging for hogging.
pub(in crate::equivalent) fn asks(target: &Target, spec: &LayoutSpec) -> Vec<Ask> {
    let mut all = Vec::with_capacity(2 * target.regions.len());
    for region in &target.regions {
        let default: &[Effect] = if region.mode == Mode::Shear {
            &[Effect::Shear, Effect::Moment]
        } else {
            &[Effect::Moment]
        };
        for effect in spec.reproduce.as_deref().unwrap_or(default) {
            let sense = sense(target, region, *effect);
            all.push(Ask { effect: *effect, sense, from: region.from, to: region.to });
        }
    }
    all
}

fn sense(target: &Target, region: &Region, effect: Effect) -> Option<Sense> {
    match (effect, region.mode) {
        _ if !two_signs(target) => None,
        (Effect::Moment, Mode::Flexure) => Some(Sense::Sagging),
        (Effect::Moment, Mode::Hogging) => Some(Sense::Hogging),
        _ => None,
    }
}

/// Whether loads on other spans may turn the sign of an effect.
pub(in crate::equivalent) fn two_signs(target: &Target) -> bool {
    target.beam.supports().len() > 1 && target.beam.has_several_spans()
}
