//! Rules that stop a test, on the log, time by time.

use core::ops::Range;

use super::channel::Channel;
use super::column::Column;
use super::deflection::{Deflection, series};
use super::log::Log;
use super::spec::LogSpec;
use crate::units::{Duration, Force, Kind, Length, Quantity, Ratio, Said};

crate::answer! {
    /// When a stop rule was broken, and by how much.
    pub struct Exceeded {
        /// The first of two samples one after the other that break it.
        at: Duration,
        /// The force then.
        force: Force,
        /// What was read then: a deflection, corrected, a strain or a crack width.
        measured: Quantity,
        /// What it may have been.
        limit: Quantity,
        /// The largest force after it, where the load went on rising.
        carried_on: Option<Force>,
    }
}

crate::answer! {
    /// What a stop rule came to.
    pub struct StopSeen {
        /// The rule: its name in the edition, `measured over stiff` (or `over soft`, where the survey
        /// found the member cracked), `measured over first steps`, or `first steps between stiff and
        /// soft`.
        rule: String,
        /// The gauge, or the channel.
        gauge: Option<String>,
        /// The largest share of the limit, and when.
        largest: Option<Ratio>,
        /// When that was.
        at: Option<Duration>,
        /// When it was first broken; nothing where it was kept throughout.
        exceeded: Option<Exceeded>,
        /// What neither a channel nor the record gives, so that the rule could not be looked at.
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
    /// What was read since zero, corrected, in the way it moves.
    v: f64,
}

impl Exceeded {
    /// A value of a rule as a sentence says it.
    pub(crate) fn said(value: Quantity) -> Said {
        match value.kind {
            Kind::Length => Said::small(Length::from_si(value.si)),
            _ => value.into(),
        }
    }
}

/// The samples of one gauge while the load rises and is held, up to the end of the peak window.
/// What falls is not looked at.
pub(crate) struct Rising {
    time: Column,
    force: Column,
    v: Column,
    /// What is on at zero.
    on: f64,
    sign: f64,
    /// Which way `v` counts beside it.
    way: f64,
    kind: Kind,
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
        let rows = Self::rows(log, spec);
        let since = series(log, deflection, rows).map(|(t, r)| (t, (r - zero) * sign));
        Self { sign, ..Self::along(log, spec, Kind::Length, since, target) }
    }

    /// The same with deflections counted in this way.
    pub(crate) fn facing(mut self, sign: f64) -> Self {
        if sign * self.sign < 0.0 {
            self.way = -self.way;
            self.sign = sign;
        }
        self
    }

    /// Of a channel that nothing corrects: since its zero, in the way it moves. Nothing where it was
    /// not read at zero and under the full load.
    pub(crate) fn of_channel(
        log: &Log,
        spec: &LogSpec,
        channel: &Channel,
        target: Force,
    ) -> Option<Self> {
        let zero = log.in_window(channel, &spec.moments.zero)?.0;
        let sign = (log.in_window(channel, &spec.moments.peak)?.0 - zero).signum();
        let since = log.samples(channel).map(|(t, r)| (t, (r - zero) * sign));
        Some(Self::along(log, spec, channel.role.kind(), since, target))
    }

    /// The rows after zero, up to the end of the peak window.
    fn rows(log: &Log, spec: &LogSpec) -> Range<usize> {
        let end = spec.moments.peak.to.value.si() + 1e-9;
        log.rows_between(spec.moments.zero.to.value.si(), end)
    }

    fn along(
        log: &Log,
        spec: &LogSpec,
        kind: Kind,
        readings: impl Iterator<Item = (f64, f64)>,
        target: Force,
    ) -> Self {
        let start = spec.moments.zero.to.value.si();
        let on = spec.moments.at_zero.value.si();
        let band = (target * spec.load_band.value()).si();
        let target = target.si();
        let mut readings = readings.peekable();
        let column = || Column::new(log.time.store());
        let (mut at, mut forces, mut read) = (column(), column(), column());
        let mut most = f64::NEG_INFINITY;
        for (t, force) in log.force_in_rows(Self::rows(log, spec)).filter(|s| s.0 > start) {
            while readings.next_if(|r| r.0 < t).is_some() {}
            most = most.max(force);
            let more = force - on;
            let rising = force >= most - band && more >= LEAST * target;
            if let Some((_, v)) = readings.next_if(|r| r.0 <= t).filter(|_| rising) {
                at.push(t);
                forces.push(force);
                read.push(v);
            }
        }
        Self { time: at, force: forces, v: read, on, sign: 1.0, way: 1.0, kind, target, band }
    }

    /// The samples, from both ends.
    fn samples(&self) -> impl DoubleEndedIterator<Item = Sample> {
        let all = self.time.iter().zip(self.force.iter()).zip(self.v.iter());
        all.map(|((t, force), v)| Sample { t, force, more: force - self.on, v: v * self.way })
    }

    /// The largest force after a time, not below `least`.
    fn largest_after(&self, time: f64, least: f64) -> f64 {
        let after = self.time.partition_point(|t| t <= time);
        self.force.range(after..self.force.len()).fold(least, f64::max)
    }

    /// Deflection per force of the first steps: the median. Nothing where there is no such sample.
    pub(crate) fn first_steps(&self) -> Option<f64> {
        let first = || self.samples().filter(|s| s.more <= FIRST * self.target);
        let median = super::median::median_again(|| first().map(|s| s.v / s.more));
        median.map(|m| m.0).filter(|c| *c > 0.0)
    }

    /// Whether the first steps show what lies between two predictions under the full load, give or
    /// take the load band and the uncertainty of a deflection. Nothing where there is no first step.
    pub(crate) fn first_between(
        &self,
        gauge: &str,
        (one, other): (Length, Length),
        guard: Length,
    ) -> Option<StopSeen> {
        let first = self.first_steps()?;
        let last = self.samples().rfind(|s| s.more <= FIRST * self.target)?;
        let part = last.more / self.target;
        let band = self.band / self.target;
        let of = |v: Length, band: f64| v.abs().si() * part * (1.0 + band);
        let (least, most) = (
            of(one, -band).min(of(other, -band)) - guard.si(),
            of(one, band).max(of(other, band)) + guard.si(),
        );
        let shown = first * last.more;
        let broken = if shown > most {
            Some(most)
        } else if shown < least {
            Some(least)
        } else {
            None
        };
        let after = self.largest_after(last.t, last.force);
        Some(StopSeen {
            rule: "first steps between stiff and soft".to_owned(),
            gauge: Some(gauge.to_owned()),
            largest: (most > 0.0).then(|| Ratio::from(shown / most)),
            at: Some(Duration::from_si(last.t)),
            exceeded: broken.map(|limit| Exceeded {
                at: Duration::from_si(last.t),
                force: Force::from_si(last.force),
                measured: Quantity::new(self.kind, shown),
                limit: Quantity::new(self.kind, limit),
                carried_on: (after > last.force + self.band).then(|| Force::from_si(after)),
            }),
            unknown: Vec::new(),
        })
    }

    /// The rule that what is read keeps within `limit` (SI), which is given the force beyond what is
    /// on at zero: broken where two samples one after the other break it.
    pub(crate) fn against(
        &self,
        rule: &str,
        gauge: &str,
        limit: &dyn Fn(Force) -> Option<f64>,
    ) -> StopSeen {
        let allowed = |s: &Sample| limit(Force::from_si(s.more)).unwrap_or(f64::NAN);
        let mut first: Option<(Sample, Sample)> = None;
        // with its share
        let mut largest: Option<(Sample, f64)> = None;
        // the one before, and whether it breaks the rule
        let mut before: Option<(Sample, bool)> = None;
        for now in self.samples() {
            let most = allowed(&now);
            let breaks = now.v > most * (1.0 + 1e-12);
            if first.is_none() {
                first = before.filter(|b| b.1 && breaks).map(|b| (b.0, now));
                before = Some((now, breaks));
            }
            // of equal ones the last
            let share = now.v / most;
            if most > 0.0 && largest.is_none_or(|l| share.total_cmp(&l.1).is_ge()) {
                largest = Some((now, share));
            }
        }
        let exceeded = first.map(|(a, b)| {
            let after = self.largest_after(b.t, b.force);
            Exceeded {
                at: Duration::from_si(a.t),
                force: Force::from_si(a.force),
                measured: Quantity::new(self.kind, a.v),
                limit: Quantity::new(self.kind, allowed(&a)),
                carried_on: (after > b.force + self.band).then(|| Force::from_si(after)),
            }
        });
        StopSeen {
            rule: rule.to_owned(),
            gauge: Some(gauge.to_owned()),
            largest: largest.map(|l| Ratio::from(l.1)),
            at: largest.map(|l| Duration::from_si(l.0.t)),
            exceeded,
            unknown: Vec::new(),
        }
    }
}
