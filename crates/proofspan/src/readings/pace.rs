//! Rules that stop a test, on the log, time by time.

use super::deflection::{Deflection, series};
use super::log::Log;
use super::spec::LogSpec;
use crate::units::{Duration, Force, Length, Ratio};

crate::answer! {
    /// When a stop rule was broken, and by how much.
    pub struct Exceeded {
        /// The first of two samples one after the other that break it.
        at: Duration,
        /// The force then.
        force: Force,
        /// The deflection then, corrected.
        measured: Length,
        /// What it may have been.
        limit: Length,
        /// The largest force after it, where the load went on rising.
        carried_on: Option<Force>,
    }
}

crate::answer! {
    /// What a stop rule came to.
    pub struct StopSeen {
        /// The rule: its name in the edition, or `measured over stiff`.
        rule: String,
        /// The gauge.
        gauge: Option<String>,
        /// The largest share of the limit, and when.
        largest: Option<Ratio>,
        /// When that was.
        at: Option<Duration>,
        /// When it was first broken; nothing where it was kept throughout.
        exceeded: Option<Exceeded>,
        /// What no channel measures, so that the rule could not be looked at.
        unknown: Vec<String>,
    }
}

/// Force, below which nothing is compared, as a part of the target (library rule).
const LEAST: f64 = 0.1;

/// A rule on the deflection of one gauge while the load rises and is held: `limit` gives what is
/// allowed at a force. `sign` is the way the gauge moves. What falls is not looked at.
pub(crate) fn paced(
    log: &Log,
    spec: &LogSpec,
    deflection: &Deflection,
    target: Force,
    sign: f64,
    limit: &dyn Fn(Force) -> Option<Length>,
) -> (Option<(Ratio, Duration)>, Option<Exceeded>) {
    let zero = deflection.moments.first().map_or(0.0, |m| {
        let drift = spec.drift.as_ref().map_or(0.0, |d| d.moves.value.si() / d.per.value.si());
        m.reading.si() - drift * m.temperature.map_or(0.0, |t| t.si()) + m.level.si()
            - m.settlement.si()
    });
    let end = spec.moments.peak.to.value.si() + 1e-9;
    let start = spec.moments.zero.to.value.si();
    let on = spec.moments.at_zero.value.si();
    let band = (target * spec.load_band.value()).si();
    let mut readings = series(log, spec, &deflection.gauge).into_iter().peekable();
    let mut samples = Vec::new();
    let mut most = f64::NEG_INFINITY;
    for (t, f) in log.force().into_iter().filter(|s| s.0 > start && s.0 <= end) {
        while readings.next_if(|r| r.0 < t).is_some() {}
        most = most.max(f);
        let rising = f >= most - band && f - on >= LEAST * target.si();
        let Some((_, v)) = readings.next_if(|r| r.0 <= t).filter(|_| rising) else { continue };
        let Some(allowed) = limit(Force::from_si(f - on)) else { continue };
        samples.push((t, f, (v - zero) * sign, allowed.si()));
    }
    let breaks = |s: &(f64, f64, f64, f64)| s.2 > s.3 * (1.0 + 1e-12);
    let first = samples.iter().zip(samples.iter().skip(1)).find(|(a, b)| breaks(a) && breaks(b));
    let share = |s: &(f64, f64, f64, f64)| s.2 / s.3;
    let largest = samples
        .iter()
        .filter(|s| s.3 > 0.0)
        .max_by(|a, b| share(a).total_cmp(&share(b)))
        .map(|s| (Ratio::from(share(s)), Duration::from_si(s.0)));
    let exceeded = first.map(|(a, b)| {
        let after = samples.iter().filter(|s| s.0 > b.0).map(|s| s.1).fold(b.1, f64::max);
        Exceeded {
            at: Duration::from_si(a.0),
            force: Force::from_si(a.1),
            measured: Length::from_si(a.2),
            limit: Length::from_si(a.3),
            carried_on: (after > b.1 + band).then(|| Force::from_si(after)),
        }
    });
    (largest, exceeded)
}
