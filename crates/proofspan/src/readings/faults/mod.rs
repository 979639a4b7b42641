//! What no single cell betrays: each channel against itself, the load, its neighbours, the prediction.
//!
//! The limits below are rules of the library: parts of the largest movement of a channel, and
//! multiples of its noise in quiet periods, chosen so that clean logs raise no alarm.

mod effect;
mod mend;
mod runs;
mod series;
mod shape;
mod slow;
mod steps;

pub(super) use effect::weighed;
pub(crate) use shape::{Expected, of_shape};

use super::fault::{Fault, FaultKind};
use super::log::Log;
use super::spec::LogSpec;
use super::suspect::jumps;
use series::Series;

/// Every fault that the log betrays without a prediction. Spikes are left out of the log.
pub(super) fn of_log(log: &mut Log, spec: &LogSpec) -> Vec<Fault> {
    if log.time.len() < 3 {
        return Vec::new();
    }
    let mut series = Series::of(log, spec);
    let spikes = runs::spikes(log, &series, spec);
    if !spikes.is_empty() {
        series = Series::of(log, spec);
    }
    let jump = jumps(log);
    let mut found = runs::stuck(log, &series);
    let steps = steps::steps(&series, jump.as_ref());
    found.extend(
        steps
            .into_iter()
            .filter(|s| {
                // the end of a stretch that is stuck or cut off is no step of its own
                !found.iter().any(|f| f.channel == s.channel && near(f, s))
            })
            .collect::<Vec<_>>(),
    );
    let slow = slow::shifts(&series, spec, &found);
    found.extend(slow);
    found.extend(jump);
    for fault in &mut found {
        effect::weigh(fault, spec);
    }
    found.extend(spikes);
    found
}

/// Whether a step stands at the beginning or the end of a stretch.
fn near(stretch: &Fault, step: &Fault) -> bool {
    matches!(stretch.kind, FaultKind::Stuck | FaultKind::Saturated)
        && step.from >= stretch.from * 0.98
        && step.from <= stretch.to * 1.02
}
