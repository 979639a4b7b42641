//! What the force history says: what was on at zero, the load, the hold, when the load was off.
//!
//! Times are those of samples. A stretch is as long as from its first sample to its last, the
//! shortest reading of it; the samples before and after it say how long it can have been at most.

use super::channel::Channel;
use super::deflection::{Deflection, series};
use super::log::{Log, Reader, Samples};
use super::median::{median_again, median_of};
use super::spec::{LOAD_BAND, LogSpec, Role, Window};
use crate::units::{Duration, Force, Length};

crate::answer! {
    /// What one cell showed: means with the load at zero on, and after unloading; the median under
    /// full load. What differs between the first and the last is its return to zero.
    pub struct CellSeen {
        /// The channel.
        channel: String,
        /// How many usable samples it has in all.
        samples: usize,
        /// In the zero window.
        zero: Option<Force>,
        /// In the peak window.
        peak: Option<Force>,
        /// In the residual window.
        residual: Option<Force>,
    }
}

crate::answer! {
    /// A gauge that no longer stood where it was read: at its zero when the first increment came, at its
    /// peak when the load went.
    pub struct Touched {
        /// The gauge.
        gauge: String,
        /// How far it had moved since, corrected.
        moved: Length,
    }
}

crate::answer! {
    /// The zero.
    pub struct ZeroSeen {
        /// The window.
        from: Duration,
        /// Its end.
        to: Duration,
        /// Mean force of the cells of record in it.
        force: Option<Force>,
        /// What the layout states to have been on.
        stated: Force,
        /// How far from that is still taken for it.
        band: Force,
        /// The first sample of the log with more on than that.
        first_step: Option<Duration>,
        /// The force at that sample.
        first_force: Option<Force>,
        /// How old the oldest reading of the window was then.
        age: Option<Duration>,
        /// Gauges that moved in between.
        touched: Vec<Touched>,
    }
}

crate::answer! {
    /// The load under which the largest deflection was read.
    pub struct LoadSeen {
        /// Median of the force of record in the peak window.
        force: Option<Force>,
        /// Its standard uncertainty, where every cell states one.
        u: Option<Force>,
        /// The target.
        target: Option<Force>,
        /// How far from the target is still taken for it.
        band: Force,
        /// The largest force of the log.
        largest: Option<Force>,
        /// When it was on.
        largest_at: Option<Duration>,
        /// Gauges that went on after the peak window while the load stayed on.
        later: Vec<Touched>,
        /// Gauges that showed more at another time of the load stage.
        larger: Vec<Larger>,
        /// More than the target, while two samples in turn show it.
        over: Option<Over>,
    }
}

crate::answer! {
    /// A gauge that showed more at another time between its zero and the unloading than in the peak window.
    pub struct Larger {
        /// The gauge.
        gauge: String,
        /// When.
        at: Duration,
        /// The force then, where cells tell it.
        force: Option<Force>,
        /// What it showed, corrected.
        deflection: Length,
        /// How much more that is than in the window.
        more: Length,
    }
}

impl Larger {
    /// Whether a member does not do that: it comes back by so much under a load that stays.
    pub(crate) fn came_back(&self) -> bool {
        self.more.abs() > (self.deflection - self.more).abs() * FELL
    }
}

crate::answer! {
    /// A load above the band of the target.
    pub struct Over {
        /// The first sample of it.
        from: Duration,
        /// The last sample of it.
        to: Duration,
        /// The largest force of it that two samples in turn show.
        force: Force,
    }
}

crate::answer! {
    /// A rest of the force while the load came on for the first time: an increment ends in it.
    pub struct StepSeen {
        /// Its first sample.
        from: Duration,
        /// Its last sample.
        to: Duration,
        /// From the sample before to the sample after: it was not longer.
        at_most: Duration,
        /// The force at its beginning.
        force: Force,
        /// By how much it came up to there from the rest before, or from zero.
        increment: Force,
        /// The longest time in that increment between two samples.
        unseen: Duration,
    }
}

crate::answer! {
    /// A time in the hold in which the force was below its band.
    pub struct Interruption {
        /// Its first sample.
        from: Duration,
        /// Its last sample.
        to: Duration,
        /// The lowest force in it.
        force: Force,
    }
}

crate::answer! {
    /// A time between two samples in which nobody saw the force.
    pub struct Gap {
        /// The sample before it.
        from: Duration,
        /// The sample after it.
        to: Duration,
    }
}

crate::answer! {
    /// The hold of the full load: the longest stretch without a sample below the band.
    pub struct HoldSeen {
        /// Its first sample.
        from: Duration,
        /// Its last sample.
        to: Duration,
        /// From the first to the last sample: the shortest reading of it, which decides.
        length: Duration,
        /// From the sample before to the sample after; nothing where the force ends with it.
        at_most: Option<Duration>,
        /// From the first sample within the band to the last, interruptions included.
        whole: Duration,
        /// What interrupted it, the first twenty.
        interruptions: Vec<Interruption>,
        /// How many interruptions there are in all.
        interruptions_in_all: usize,
        /// The longest time in it between two samples.
        unseen: Duration,
        /// Times in it in which nobody saw the force: longer than five minutes and than two and a half
        /// times what is usual between two samples, before and after them (library rule). The first twenty.
        gaps: Vec<Gap>,
        /// How many such times there are in all.
        gaps_in_all: usize,
        /// The lowest force in it.
        lowest: Force,
    }
}

crate::answer! {
    /// A gauge that still moved while the residual was read.
    pub struct Moving {
        /// The gauge.
        gauge: String,
        /// How fast, corrected, per hour.
        per_hour: Length,
    }
}

crate::answer! {
    /// Unloading and residual.
    pub struct UnloadingSeen {
        /// The last sample with more on than at zero.
        loaded: Option<Duration>,
        /// The sample after it: the load is off.
        off: Option<Duration>,
        /// When the load was off as the layout states it.
        stated: Option<Duration>,
        /// The middle of the residual window.
        read: Duration,
        /// Mean force in it.
        force: Option<Force>,
        /// Gauges that still moved in it.
        moving: Vec<Moving>,
    }
}

crate::answer! {
    /// What the force of record says of a test.
    pub struct LogFacts {
        /// Cell by cell.
        cells: Vec<CellSeen>,
        /// The first number of the column of time, from which all these times count; nought of date and
        /// time.
        begins: Duration,
        /// The zero.
        zero: ZeroSeen,
        /// The load.
        load: LoadSeen,
        /// How it came on: the rests up to and with that at the full load.
        steps: Vec<StepSeen>,
        /// The hold; nothing where the full load was never on.
        hold: Option<HoldSeen>,
        /// How long the record states that the full load was held.
        held_stated: Option<Duration>,
        /// Unloading and residual, where there is a residual window.
        unloading: Option<UnloadingSeen>,
    }
}

impl LogFacts {
    /// Whether the load came on up to the target; of a load that ended before it no one asks in which steps.
    pub(crate) fn came_on(&self) -> bool {
        let target = self.load.target.unwrap_or(Force::ZERO) - self.load.band;
        self.steps.last().is_some_and(|last| last.force >= target)
    }
}

/// A gauge moved if its median moved by more than so many standard deviations of its noise
/// (library rule)
const NOISES: f64 = 6.0;
/// and by more than this part of its largest deflection (library rule).
const MOVED: f64 = 0.02;
/// A gauge still moves if the slope of its readings is so many times its own uncertainty (library
/// rule) and an hour of it is more than half of [`MOVED`].
const SLOPE: f64 = 3.0;

/// Between two samples of a hold more than this
const GAP: Duration = Duration::from_si(300.0);
/// and more than so many times what is usual before or after it, so that two readings that are missing are
/// none, is a time in which nobody saw the force:
const USUAL: f64 = 3.5;
/// usual is the median of so many times between samples.
const AROUND: usize = 3;

/// What the force history says; nothing where no channel is a force.
#[must_use]
pub fn witness(
    log: &Log,
    spec: &LogSpec,
    deflections: &[Deflection],
    target: Option<Force>,
) -> Option<LogFacts> {
    let own: Vec<_> = spec.channels.iter().filter(|c| c.role == Role::Force).collect();
    if own.is_empty() {
        return None;
    }
    let history = log.history();
    let moments = &spec.moments;
    let peak = force_in_peak(log, spec);
    let level = target.or(peak.map(|p| p.0)).unwrap_or(Force::ZERO);
    let force = History {
        samples: &history,
        peak: &moments.peak,
        zero: moments.at_zero.value.si(),
        band: (level * spec.zero_band.value()).si(),
    };
    let cell = |id: &str| log.channel(id);
    let cells = own
        .iter()
        .map(|c| CellSeen {
            channel: c.id.clone(),
            samples: cell(&c.id).map_or(0, |c| log.samples(c).count()),
            zero: cell(&c.id).and_then(|c| mean(log, c, &moments.zero)),
            peak: cell(&c.id)
                .and_then(|c| log.in_window(c, &moments.peak))
                .map(|m| Force::from_si(m.0)),
            residual: moments.residual.as_ref().and_then(|w| mean(log, cell(&c.id)?, w)),
        })
        .collect();
    let first = force.first_loaded();
    let off = force.off(&moments.peak);
    let largest = history.iter().max_by(|a, b| a.1.total_cmp(&b.1));
    Some(LogFacts {
        cells,
        begins: log.begins(),
        zero: ZeroSeen {
            from: moments.zero.from.value,
            to: moments.zero.to.value,
            force: mean_of(log.force_in_rows(log.rows_in(&moments.zero))),
            stated: moments.at_zero.value,
            band: Force::from_si(force.band),
            first_step: first.map(|f| Duration::from_si(f.0)),
            first_force: first.map(|f| Force::from_si(f.1)),
            age: first.map(|f| Duration::from_si(f.0) - moments.zero.from.value),
            touched: touched(log, spec, deflections, first.map_or(f64::INFINITY, |f| f.0)),
        },
        load: LoadSeen {
            force: peak.map(|p| p.0),
            u: peak.and_then(|p| p.1),
            target,
            band: level * spec.load_band.value(),
            largest: largest.map(|l| Force::from_si(l.1)),
            largest_at: largest.map(|l| Duration::from_si(l.0)),
            later: later(
                log,
                spec,
                deflections,
                &history,
                (level * (1.0 - spec.load_band.value())).si(),
            ),
            larger: larger(log, spec, deflections, off),
            over: target.and_then(|t| over(&history, (t * (1.0 + spec.load_band.value())).si())),
        },
        steps: force
            .steps((level * LOAD_BAND.value()).si(), (level * (1.0 - spec.load_band.value())).si()),
        hold: hold(&history, (level * (1.0 - spec.load_band.value())).si()),
        held_stated: None,
        unloading: moments.residual.as_ref().map(|residual| {
            let (loaded, off) = force.unloaded(residual.from.value.si());
            UnloadingSeen {
                loaded,
                off,
                stated: moments.unloaded.as_ref().map(|off| off.value),
                read: (residual.from.value + residual.to.value) / 2.0,
                force: mean_of(log.force_in_rows(log.rows_in(residual))),
                moving: moving(log, deflections, residual),
            }
        }),
    })
}

/// The sum of the force channels in the peak window, and its standard uncertainty where every
/// channel states one.
fn force_in_peak(log: &Log, spec: &LogSpec) -> Option<(Force, Option<Force>)> {
    Some((log.force_in(&spec.moments.peak)?, spec.u_force().map(Force::from_si)))
}

fn inside(t: f64, window: &Window) -> bool {
    window.holds(t)
}

fn mean(log: &Log, cell: &Channel, window: &Window) -> Option<Force> {
    let samples = cell.values().range(log.rows_in(window));
    mean_of(samples.filter(|v| !v.is_nan()).map(|v| (0.0, v)))
}

fn mean_of(samples: impl Iterator<Item = (f64, f64)>) -> Option<Force> {
    let (mut sum, mut count) = (0.0, 0.0);
    for (_, f) in samples {
        sum += f;
        count += 1.0;
    }
    (count > 0.0).then(|| Force::from_si(sum / count))
}

/// The force of record with the load that is on at zero.
struct History<'a> {
    samples: &'a Samples,
    peak: &'a Window,
    zero: f64,
    band: f64,
}

impl History<'_> {
    /// Whether more is on at a sample than at zero. One sample alone between two that show nothing
    /// is noise, unless it is the peak.
    fn loaded(&self, samples: &mut Reader<'_>, i: usize) -> bool {
        let mut above = |i: usize| samples.get(i).map(|s| s.1 - self.zero > self.band);
        if above(i) != Some(true) {
            return false;
        }
        let alone = above(i.wrapping_sub(1)) == Some(false) && above(i + 1) == Some(false);
        !alone || samples.get(i).is_some_and(|s| inside(s.0, self.peak))
    }

    fn first_loaded(&self) -> Option<(f64, f64)> {
        let mut samples = self.samples.reader();
        let first = (0..self.samples.len()).find(|i| self.loaded(&mut samples, *i))?;
        samples.get(first)
    }

    /// The first sample after the peak window without load.
    fn off(&self, peak: &Window) -> Option<Duration> {
        let after = self.samples.before(|t| t <= peak.to.value.si() + 1e-9);
        let mut rest = self.samples.range(after..self.samples.len());
        rest.find(|s| s.1 - self.zero <= self.band).map(|s| Duration::from_si(s.0))
    }

    /// The last loaded sample before a time, and the sample after it.
    fn unloaded(&self, before: f64) -> (Option<Duration>, Option<Duration>) {
        let end = self.samples.before(|t| t < before - 1e-9);
        let mut samples = self.samples.reader();
        let last = (0..end).rev().find(|i| self.loaded(&mut samples, *i));
        let mut at = |i: usize| samples.get(i).map(|s| Duration::from_si(s.0));
        (last.and_then(&mut at), last.and_then(|i| at(i + 1)))
    }
}

/// A rest of the force is at least so long where the samples stand more densely: a pump that goes on slowly
/// rests for less (library rule).
const REST: f64 = 120.0;
/// One sample alone may be a rest where those before and after it are so far apart (library rule).
const SPARSE: f64 = 600.0;

impl History<'_> {
    /// The rests of the force on its way up to at least `full` for the first time, each farther up by more than two
    /// bands than the one before.
    fn steps(&self, band: f64, full: f64) -> Vec<StepSeen> {
        // the rest that is on: its first and last sample, the one before it, its force
        struct Rest {
            from: f64,
            to: f64,
            before: f64,
            force: f64,
        }
        let mut steps: Vec<StepSeen> = Vec::new();
        let (mut now, mut last): (Option<Rest>, Option<f64>) = (None, None);
        let (mut top, mut unseen) = (self.zero, 0.0_f64);
        // a log that ends under the full load ends its last rest
        let end = self.samples.iter().next_back().map(|s| (s.0, f64::INFINITY));
        for (t, f) in self.samples.iter().chain(end) {
            let before = last.replace(t).unwrap_or(t);
            if f - self.zero <= self.band {
                (now, unseen) = (None, 0.0);
                continue;
            }
            unseen = unseen.max(t - before);
            if let Some(rest) = now.as_mut().filter(|r| (f - r.force).abs() <= band) {
                rest.to = t;
                continue;
            }
            let done = now.replace(Rest { from: t, to: t, before, force: f });
            let Some(rest) = done else { continue };
            let reached = rest.force >= full;
            let long = rest.to - rest.from >= REST || t - rest.before >= SPARSE;
            if (long || reached) && rest.force > top + 2.0 * band {
                steps.push(StepSeen {
                    from: Duration::from_si(rest.from),
                    to: Duration::from_si(rest.to),
                    at_most: Duration::from_si(t - rest.before),
                    force: Force::from_si(rest.force),
                    increment: Force::from_si(rest.force - top),
                    unseen: Duration::from_si(unseen),
                });
                (top, unseen) = (rest.force, t - before);
            }
            if reached {
                break;
            }
        }
        steps
    }
}

/// The time in which two samples in turn show more than `most`.
fn over(samples: &Samples, most: f64) -> Option<Over> {
    let mut seen: Option<Over> = None;
    for ((a, f), (b, g)) in samples.iter().zip(samples.iter().skip(1)) {
        let least = f.min(g);
        if least > most * (1.0 + 1e-12) {
            let (from, to, force) =
                (Duration::from_si(a), Duration::from_si(b), Force::from_si(least));
            let now = seen.get_or_insert(Over { from, to, force });
            now.to = to;
            now.force = now.force.max(force);
        }
    }
    seen
}

/// So many samples in turn say how much a gauge showed; one alone where it stands farther than [`SPARSE`] from
/// the one before.
const FEW: usize = 5;
/// A gauge showed more from this part of what it shows in the peak window on, or its noise did (library rule).
const SHOWED: f64 = 0.005;
/// It came back where it showed more by this part (library rule): a day moves a member by less.
const FELL: f64 = 0.08;

/// Gauges that showed more than in the peak window at another time between zero and the unloading, which the
/// cells tell, or the map.
pub(crate) fn larger(
    log: &Log,
    spec: &LogSpec,
    deflections: &[Deflection],
    off: Option<Duration>,
) -> Vec<Larger> {
    let moments = &spec.moments;
    let stated = moments.unloaded.as_ref().map(|off| off.value);
    let off = off.or(stated).unwrap_or(moments.peak.to.value).max(moments.peak.to.value);
    let window = log.rows_in(&moments.peak);
    let begin = log.rows_in(&moments.zero).end;
    let end = log.rows_between(0.0, off.si() - 1e-9).end.max(window.end);
    let showed = |d: &Deflection| {
        let at_peak = || series(log, d, window.clone()).map(|s| s.1);
        let noise = scatter(at_peak);
        let then = median_again(at_peak)?.0;
        let size = d.d_max.si().abs();
        let sign = d.d_max.si().signum();
        let least = then * sign + (NOISES * noise).max(SHOWED * size);
        let mut most: Option<(f64, f64)> = None;
        for rows in [begin..window.start.max(begin), window.end..end] {
            // the last few, and how many of them are above: only most of them above make their median so
            let mut few = [f64::NEG_INFINITY; FEW];
            let (mut above, mut last) = (0, f64::NEG_INFINITY);
            for (i, (t, v)) in series(log, d, rows).enumerate() {
                let now = v * sign;
                let oldest = core::mem::replace(few.get_mut(i % FEW)?, now);
                above = above + usize::from(now > least) - usize::from(oldest > least);
                let alone = t - core::mem::replace(&mut last, t) >= SPARSE;
                let shown = match () {
                    () if alone => now,
                    () if above > FEW / 2 => median(few.to_vec())?,
                    () => continue,
                };
                if shown > least && most.is_none_or(|m| shown > m.1) {
                    most = Some((t, shown));
                }
            }
        }
        let (at, most) = most?;
        let more = Length::from_si((most - then * sign) * sign);
        let there = log.rows_between(at - 1e-9, at + 1e-9);
        Some(Larger {
            gauge: d.gauge.clone(),
            at: Duration::from_si(at),
            force: log.force_in_rows(there).next().map(|f| Force::from_si(f.1)),
            deflection: d.d_max + more,
            more,
        })
    };
    deflections.iter().filter_map(showed).collect()
}

/// So many gaps and interruptions are listed; the rest is counted.
const LISTED: usize = 20;

/// The longest stretch of samples at or above `least`.
fn hold(samples: &Samples, least: f64) -> Option<HoldSeen> {
    let within = |f: f64| f >= least - 1e-12 * least.abs();
    let first = samples.iter().position(|s| within(s.1))?;
    let last = samples.iter().rposition(|s| within(s.1))?;
    let mut reader = samples.reader();
    let mut time = |i: usize| reader.get(i).map(|s| s.0);
    // its first and its last sample, and how long it is
    let mut longest: Option<((usize, usize), f64)> = None;
    let mut interruptions: Vec<Interruption> = Vec::new();
    let mut interrupted = 0;
    let mut start: Option<(usize, f64)> = None;
    let mut broken = false;
    for (i, (t, f)) in (first..).zip(samples.range(first..last + 1)) {
        if within(f) {
            let (begun, since) = *start.get_or_insert((i, t));
            if longest.is_none_or(|l| t - since > l.1) {
                longest = Some(((begun, i), t - since));
            }
        } else {
            start = None;
            let at = Duration::from_si(t);
            interrupted += usize::from(!broken);
            if !broken && interrupted <= LISTED {
                interruptions.push(Interruption { from: at, to: at, force: Force::from_si(f) });
            } else if let Some(now) = interruptions.last_mut().filter(|_| interrupted <= LISTED) {
                now.to = at;
                now.force = now.force.min(Force::from_si(f));
            }
        }
        broken = !within(f);
    }
    let ((a, b), _) = longest?;
    let (from, to) = (time(a)?, time(b)?);
    let before = a.checked_sub(1).and_then(&mut time);
    let pairs = || {
        let stretch = || samples.range(a..b + 1).map(|s| s.0);
        stretch().zip(stretch().skip(1))
    };
    let between = || pairs().map(|(x, y)| y - x);
    let unseen = between().fold(0.0, f64::max);
    let (gaps, gaps_in_all) = gaps(pairs());
    let lowest = samples.range(a..b + 1).map(|s| s.1).fold(f64::INFINITY, f64::min);
    let (first, last) = (time(first)?, time(last)?);
    Some(HoldSeen {
        from: Duration::from_si(from),
        to: Duration::from_si(to),
        length: Duration::from_si(to - from),
        at_most: before.zip(time(b + 1)).map(|(x, y)| Duration::from_si(y - x)),
        whole: Duration::from_si(last - first),
        interruptions,
        interruptions_in_all: interrupted,
        unseen: Duration::from_si(unseen),
        gaps,
        gaps_in_all,
        lowest: Force::from_si(lowest),
    })
}

/// The times between samples that are out of line with those around them: rows every minute while somebody
/// works and one an hour at night are none.
fn gaps(pairs: impl Iterator<Item = (f64, f64)>) -> (Vec<Gap>, usize) {
    let (mut found, mut in_all) = (Vec::new(), 0);
    let mut around: std::collections::VecDeque<(f64, f64)> = std::collections::VecDeque::new();
    let long = |(x, y): (f64, f64)| y - x;
    let mut look = |around: &std::collections::VecDeque<(f64, f64)>, i: usize| {
        let Some(own) = around.get(i).copied().filter(|own| long(*own) > GAP.si()) else { return };
        let side = |from: usize, to: usize| {
            let all = around.range(from..to.min(around.len()).max(from));
            median(all.map(|p| long(*p)).collect()).unwrap_or(0.0)
        };
        let usual = side(i.saturating_sub(AROUND), i).max(side(i + 1, i + 1 + AROUND));
        // one alone is out of no line
        if usual > 0.0 && long(own) > USUAL * usual {
            in_all += 1;
            if in_all > LISTED {
                return;
            }
            found.push(Gap { from: Duration::from_si(own.0), to: Duration::from_si(own.1) });
        }
    };
    for pair in pairs {
        around.push_back(pair);
        if around.len() > 2 * AROUND + 1 {
            around.pop_front();
        }
        if around.len() > AROUND {
            look(&around, around.len() - 1 - AROUND);
        }
    }
    for i in around.len().saturating_sub(AROUND)..around.len() {
        look(&around, i);
    }
    (found, in_all)
}

fn median(mut values: Vec<f64>) -> Option<f64> {
    median_of(&mut values)
}

/// Gauges that moved on after the peak window, while the load stayed at or above `least`.
fn later(
    log: &Log,
    spec: &LogSpec,
    deflections: &[Deflection],
    history: &Samples,
    least: f64,
) -> Vec<Touched> {
    let peak = &spec.moments.peak;
    let ends = peak.to.value.si();
    let after = history.before(|t| t <= ends + 1e-9);
    let rest = history.range(after..history.len());
    let Some(until) = rest.take_while(|s| s.1 >= least).last().map(|s| s.0) else {
        return Vec::new();
    };
    let on = log.rows_in(peak).end..log.rows_between(0.0, until).end;
    let moved = |d: &Deflection| {
        let at_peak = || series(log, d, log.rows_in(peak)).map(|s| s.1);
        let noise = scatter(at_peak);
        let then = median_again(at_peak)?.0;
        let last: Vec<f64> = series(log, d, on.clone()).rev().take(5).map(|s| s.1).collect();
        let moved = median(last)? - then;
        let size = d.d_max.si();
        (moved * size.signum() > (NOISES * noise).max(MOVED * size.abs()))
            .then(|| Touched { gauge: d.gauge.clone(), moved: Length::from_si(moved) })
    };
    deflections.iter().filter_map(moved).collect()
}

/// The standard deviation of the noise of readings, as they show it: what is stated as u may be larger,
/// and a larger one must hide nothing.
fn scatter<I: Iterator<Item = f64>>(readings: impl Fn() -> I) -> f64 {
    of_steps(|| readings().zip(readings().skip(1)).map(|(a, b)| (b - a).abs()))
}

/// The same from the size of the steps from each reading to the next.
fn of_steps<I: Iterator<Item = f64>>(steps: impl Fn() -> I) -> f64 {
    // the median step of white noise is 0.954 of its standard deviation
    median_again(steps).map_or(0.0, |m| m.0) / 0.954
}

/// Fewer steps say nothing on scatter.
const ENOUGH: usize = 10;

impl Log {
    /// The scatter of one reading of a channel in some windows together, in SI; nothing where they hold few.
    pub(crate) fn scatter_in(&self, channel: &Channel, windows: &[&Window]) -> Option<f64> {
        let steps = || {
            windows.iter().flat_map(|window| {
                let rows = self.rows_in(window);
                let usable = move || channel.values().range(rows.clone()).filter(|v| !v.is_nan());
                usable().zip(usable().skip(1)).map(|(a, b)| (b - a).abs())
            })
        };
        (steps().count() >= ENOUGH).then(|| of_steps(steps))
    }
}

/// Gauges whose last readings before the first step are no longer those of their zero.
fn touched(log: &Log, spec: &LogSpec, deflections: &[Deflection], first_step: f64) -> Vec<Touched> {
    let zero = &spec.moments.zero;
    let mut out = Vec::new();
    for d in deflections {
        let at_zero = || series(log, d, log.rows_in(zero)).map(|s| s.1);
        let noise = scatter(at_zero);
        let then = median_again(at_zero).map(|m| m.0);
        let since = log.rows_in(zero).end..log.rows_between(0.0, first_step).end;
        let after: Vec<f64> = series(log, d, since)
            .rev()
            .filter(|s| s.0 < first_step - 1e-9)
            .take(5)
            .map(|s| s.1)
            .collect();
        let least = (NOISES * noise).max(MOVED * d.d_max.si().abs());
        if let Some((now, then)) = median(after).zip(then)
            && (now - then).abs() > least
        {
            out.push(Touched { gauge: d.gauge.clone(), moved: Length::from_si(now - then) });
        }
    }
    out
}

/// Gauges whose readings still have a slope in a window that their scatter does not explain.
fn moving(log: &Log, deflections: &[Deflection], window: &Window) -> Vec<Moving> {
    let mut out = Vec::new();
    for d in deflections {
        let samples = || series(log, d, log.rows_in(window));
        let n = samples().map(|_| 1.0).sum::<f64>();
        if n < 4.0 {
            continue;
        }
        let of = |pick: &dyn Fn((f64, f64)) -> f64| samples().map(pick).sum::<f64>() / n;
        let (t, v) = (of(&|s| s.0), of(&|s| s.1));
        let spread = of(&|s| (s.0 - t).powi(2));
        if spread <= 0.0 {
            continue;
        }
        let slope = of(&|s| (s.0 - t) * (s.1 - v)) / spread;
        let left = of(&|s| (s.1 - v - slope * (s.0 - t)).powi(2)) * n / (n - 2.0);
        let u = (left / (n * spread)).sqrt();
        let hour = slope * 3600.0;
        if slope.abs() > SLOPE * u && hour.abs() > MOVED / 2.0 * d.d_max.si().abs() {
            out.push(Moving { gauge: d.gauge.clone(), per_hour: Length::from_si(hour) });
        }
    }
    out
}
