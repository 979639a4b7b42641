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
        /// The rule: its name in the edition, `measured over stiff` (or `over soft`, where the survey
        /// found the member cracked), or `measured over first steps`.
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

/// Force beyond what is on at zero, up to which a sample belongs to the first steps, as a part of
/// the target (library rule).
const FIRST: f64 = 0.35;

/// One sample while the load rises or is held.
#[derive(Clone, Copy)]
struct Sample {
    t: f64,
    /// As the cells show it.
    force: f64,
    /// Beyond what is on at zero.
    more: f64,
    /// Deflection since zero, corrected, in the way the gauge moves.
    v: f64,
}

/// The samples of one gauge while the load rises and is held, up to the end of the peak window.
/// What falls is not looked at.
pub(crate) struct Rising {
    samples: Vec<Sample>,
    target: f64,
    band: f64,
}

impl Rising {
    /// `sign` is the way the gauge moves.
    pub(crate) fn of(
        log: &Log,
        spec: &LogSpec,
        deflection: &Deflection,
        target: Force,
        sign: f64,
    ) -> Self {
        let zero = deflection.zero();
        let end = spec.moments.peak.to.value.si() + 1e-9;
        let start = spec.moments.zero.to.value.si();
        let on = spec.moments.at_zero.value.si();
        let band = (target * spec.load_band.value()).si();
        let target = target.si();
        let rows = log.rows_between(start, end);
        let mut readings = series(log, deflection, rows.clone()).peekable();
        let mut samples = Vec::new();
        let mut most = f64::NEG_INFINITY;
        for (t, force) in log.force_in_rows(rows).filter(|s| s.0 > start) {
            while readings.next_if(|r| r.0 < t).is_some() {}
            most = most.max(force);
            let more = force - on;
            let rising = force >= most - band && more >= LEAST * target;
            if let Some((_, r)) = readings.next_if(|r| r.0 <= t).filter(|_| rising) {
                samples.push(Sample { t, force, more, v: (r - zero) * sign });
            }
        }
        Self { samples, target, band }
    }

    /// Deflection per force of the first steps: the median. Nothing where there is no such sample.
    pub(crate) fn first_steps(&self) -> Option<f64> {
        let first = self.samples.iter().filter(|s| s.more <= FIRST * self.target);
        let mut all: Vec<f64> = first.map(|s| s.v / s.more).collect();
        super::median::median_of(&mut all).filter(|c| *c > 0.0)
    }

    /// The rule that the deflection keeps within `limit`, which is given the force beyond what is
    /// on at zero: broken where two samples one after the other break it.
    pub(crate) fn against(
        &self,
        rule: &str,
        gauge: &str,
        limit: &dyn Fn(Force) -> Option<Length>,
    ) -> StopSeen {
        let allowed = |s: &Sample| limit(Force::from_si(s.more)).map_or(f64::NAN, Length::si);
        let breaks = |s: &Sample| s.v > allowed(s) * (1.0 + 1e-12);
        let pairs = self.samples.iter().zip(self.samples.iter().skip(1));
        let first = pairs.clone().find(|(a, b)| breaks(a) && breaks(b));
        let share = |s: &Sample| s.v / allowed(s);
        let largest = self
            .samples
            .iter()
            .filter(|s| allowed(s) > 0.0)
            .max_by(|a, b| share(a).total_cmp(&share(b)));
        let exceeded = first.map(|(a, b)| {
            let later = self.samples.iter().filter(|s| s.t > b.t);
            let after = later.map(|s| s.force).fold(b.force, f64::max);
            Exceeded {
                at: Duration::from_si(a.t),
                force: Force::from_si(a.force),
                measured: Length::from_si(a.v),
                limit: Length::from_si(allowed(a)),
                carried_on: (after > b.force + self.band).then(|| Force::from_si(after)),
            }
        });
        StopSeen {
            rule: rule.to_owned(),
            gauge: Some(gauge.to_owned()),
            largest: largest.map(|s| Ratio::from(share(s))),
            at: largest.map(|s| Duration::from_si(s.t)),
            exceeded,
            unknown: Vec::new(),
        }
    }
}
