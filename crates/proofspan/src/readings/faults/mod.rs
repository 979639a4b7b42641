//! What no single cell betrays: each channel against itself, the load, its neighbours, the prediction.
//!
//! The limits below are rules of the library: parts of the largest movement of a channel, and
//! multiples of its noise in quiet periods, chosen so that clean logs raise no alarm.

mod copies;
mod effect;
mod exchange;
mod gain;
mod hours;
mod mend;
mod oil;
mod runs;
mod series;
mod shape;
mod slow;
mod steps;

pub(super) use effect::weighed;
pub(crate) use oil::of_oil;
pub(crate) use shape::{Expected, of_shape};
pub(crate) use steps::as_units;

use super::fault::{Fault, FaultKind};
use super::log::Log;
use super::spec::LogSpec;
use super::suspect::jumps;
use super::threads::beside;
use crate::error::{Error, go_on};
use crate::units::Duration;
use series::Series;

/// Every fault that the log betrays without a prediction. Spikes are left out of the log.
///
/// # Errors
/// Where somebody wants an end of it.
pub(super) fn of_log(log: &mut Log, spec: &LogSpec) -> Result<Vec<Fault>, Error> {
    if log.time.len() < 3 {
        return Ok(Vec::new());
    }
    log.thin()?;
    let mut series = Series::of(log, spec)?;
    go_on()?;
    let spikes = runs::spikes(log, &series, spec)?;
    if !spikes.is_empty() {
        log.thin()?;
        series = Series::of(log, spec)?;
    }
    go_on()?;
    // what goes along all rows of all channels goes beside the rest
    let whole = || (copies::stretches(log), copies::drawn(log));
    let ((stretch, drawn), found) =
        beside(log.samples_in_all(), whole, || of_channels(log, &series, spec));
    let mut found = found?;
    found.extend(stretch);
    found.extend(drawn);
    found.extend(hours::few(log, &series, spec));
    found.extend(hours::bearings(&series, spec));
    for fault in &mut found {
        effect::weigh(fault, spec);
    }
    found.extend(spikes);
    Ok(found)
}

/// What channel after channel betrays, and one beside another.
fn of_channels(log: &Log, series: &Series, spec: &LogSpec) -> Result<Vec<Fault>, Error> {
    let jump = jumps(log);
    go_on()?;
    let mut found = runs::stuck(log, series)?;
    go_on()?;
    let exchanged = exchange::exchanges(series);
    let steps = steps::steps(series, jump.as_ref());
    found.extend(
        steps
            .into_iter()
            .filter(|s| {
                // the end of a stretch that is stuck or cut off is no step of its own, nor is an exchange
                !found.iter().any(|f| f.channel == s.channel && near(f, s))
                    && !exchanged.iter().any(|f| changes(f, s))
            })
            .collect::<Vec<_>>(),
    );
    go_on()?;
    found.extend(exchanged);
    let slow = slow::shifts(series, spec, &found);
    found.extend(slow);
    found.extend(jump);
    found.extend(gain::gains(series, spec, &found));
    go_on()?;
    found.extend(copies::copies(log));
    Ok(found)
}

/// Whether a step is the beginning or the end of an exchange.
fn changes(exchanged: &Fault, step: &Fault) -> bool {
    let own = exchanged.channel == step.channel || exchanged.with.as_ref() == Some(&step.channel);
    let slack = (exchanged.to - exchanged.from) * 0.02;
    let at = |t: Duration| (step.from - t).abs() <= slack;
    own && (at(exchanged.from) || at(exchanged.to))
}

/// Whether a step stands at the beginning or the end of a stretch.
fn near(stretch: &Fault, step: &Fault) -> bool {
    matches!(stretch.kind, FaultKind::Stuck | FaultKind::Saturated)
        && step.from >= stretch.from * 0.98
        && step.from <= stretch.to * 1.02
}
