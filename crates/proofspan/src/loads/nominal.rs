//! Actions as loads on the beam, per member unit, factor 1.

use super::action::{Action, Symbol};
use super::by_name::Loads;
use crate::beam::Load;
use crate::error::{Issue, slug};
use crate::formula::{NoRecord, Recorder};
use crate::units::{AreaLoad, Length, LineLoad, Message};

crate::laws! {
    /// Line load per member unit of an action over the tributary width.
    pub fn line_of_area(q: AreaLoad as "q", b: Length as "b") -> LineLoad as "w" = q * b;
    source "statics";
}

/// One action on the beam.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Nominal {
    /// Which action.
    pub symbol: Symbol,
    /// The load, unfactored, per member unit.
    pub load: Load,
    /// The part already in place, 0 to 1.
    pub in_place: f64,
    /// Whether it may stand on some spans only.
    pub varies: bool,
}

impl Loads {
    /// The actions on a member of this length.
    ///
    /// # Errors
    /// The problems of extents, in `issues`; what has a problem is left out.
    #[must_use]
    pub fn nominal(&self, length: Length, issues: &mut Vec<Issue>) -> Vec<Nominal> {
        self.nominal_recorded(length, issues, &mut NoRecord)
    }

    pub(crate) fn nominal_recorded<R: Recorder>(
        &self,
        length: Length,
        issues: &mut Vec<Issue>,
        recorder: &mut R,
    ) -> Vec<Nominal> {
        let mut all = Vec::with_capacity(self.actions.len());
        for (i, action) in self.actions.iter().enumerate() {
            let width = action.width.as_ref().map_or(self.width.value, |w| w.value);
            recorder.about(|| format!("Nominal {} per member unit", action.action));
            if let Some(load) = action.load(i, length, width, issues, recorder) {
                all.push(Nominal {
                    symbol: action.action,
                    load,
                    in_place: action.share_in_place(),
                    varies: self.patterns && action.action.varies(),
                });
            }
        }
        all
    }
}

impl Action {
    fn load<R: Recorder>(
        &self,
        i: usize,
        length: Length,
        width: Length,
        issues: &mut Vec<Issue>,
        recorder: &mut R,
    ) -> Option<Load> {
        let from = self.from.as_ref().map_or(Length::ZERO, |x| x.value);
        let to = self.to.as_ref().map_or(length, |x| x.value);
        let end = length * (1.0 + 1e-12);
        let mut outside = |field: &str, slug, message: Message| {
            issues.push(
                Issue::new(slug, format!("loads.actions[{i}]{field}"), message)
                    .limit(Message::new("0 to {}", [length.into()])),
            );
        };
        if from < Length::ZERO || to > end || from >= to {
            outside(
                "",
                slug::LOADS_EXTENT,
                Message::new("the action reaches from {} to {}", [from.into(), to.into()]),
            );
            return None;
        }
        if let Some(q) = &self.area {
            return Some(Load::uniform(from, to, line_of_area(recorder, q.value, width)));
        }
        if let Some(w) = &self.line {
            return Some(Load::uniform(from, to, w.value));
        }
        if let Some(taper) = &self.taper {
            let (at, zero_at) = (taper.at.value, taper.zero_at.value);
            if at.min(zero_at) < Length::ZERO || at.max(zero_at) > end {
                outside(
                    ".taper",
                    slug::LOADS_TAPER_TOO_LONG,
                    Message::new("the taper reaches from {} to {}", [at.into(), zero_at.into()]),
                );
                return None;
            }
            let peak = line_of_area(recorder, taper.peak.value, width);
            return Some(if at < zero_at {
                Load::line(at, zero_at, peak, LineLoad::ZERO)
            } else {
                Load::line(zero_at, at, LineLoad::ZERO, peak)
            });
        }
        let point = self.point.as_ref()?;
        if point.at.value < Length::ZERO || point.at.value > end {
            outside(
                ".point",
                slug::LOADS_EXTENT,
                Message::new("the force stands at {}", [point.at.value.into()]),
            );
            return None;
        }
        Some(Load::point(point.at.value, point.force.value))
    }
}
