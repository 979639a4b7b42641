//! Load cycles in a log: found by the force, read by every gauge, told by the indices of a cyclic
//! test.
//!
//! A cycle begins where the force rises beyond the middle between the least load and the lowest peak,
//! and ends where it is back near the least load: below it plus an eighth of the way to the lowest
//! peak. Least load and lowest peak are those of the edition's protocol, else a tenth and a half of
//! the full load (library rule), so that a load which goes down to more than 15 % of it ends no cycle;
//! where it goes down and rises again above that, the cycle says so. Its peak is the time within the band below its
//! largest force, what it leaves the longest time within the band about the least load after it; of
//! both the second half is read, when the readings have settled (library rule).

use core::ops::Range;

use super::channel::Channel;
use super::deflection::{Deflection, series};
use super::log::{Log, Samples, linearity_deviation, secant};
use super::median::median_again;
use super::spec::LogSpec;
use crate::editions::Rule;
use crate::error::{Error, Issue, slug};
use crate::formula::NoRecord;
use crate::uncertainty::{COVERAGE, combined};
use crate::units::{Duration, Force, Length, Message, Ratio, Said};

crate::laws! {
    /// Permanency index of a load cycle: what is left of what it brought.
    pub fn permanency(left: Length as "d_r", peak: Length as "d_max") -> f64 as "I_P" = left / peak;
    source "permanency index (ACI 437 family, from memory); what both count from is not settled and is stated";
    /// Ratio of the permanency indices of a pair of twin cycles.
    pub fn permanency_ratio(second: f64 as "I_P2", first: f64 as "I_P1") -> f64 as "I_PR" = second / first;
    source "ratio of the permanency indices of a pair (ACI 437.2-13, from memory; limit 0.50 seen in a trade article)";
    /// Repeatability of a pair of twin cycles: what the second recovers of what the first recovered.
    pub fn repeatability(peak: Length as "d_max2", left: Length as "d_r2", first_peak: Length as "d_max1", first_left: Length as "d_r1") -> f64 as "I_R" = (peak - left) / (first_peak - first_left);
    source "repeatability index (ACI 437R-03, from memory)";
}

crate::answer! {
    /// A load cycle as the cells showed it.
    pub struct CycleSeen {
        /// Its name in the edition, or its number.
        name: String,
        /// The pair it belongs to.
        pair: usize,
        /// Its first sample.
        from: Duration,
        /// Its last sample.
        to: Duration,
        /// The force it began from.
        start: Force,
        /// The force at its peak.
        peak: Force,
        /// The peak that the edition asks for.
        asked: Option<Force>,
        /// How long the peak was on without falling below its band.
        held: Duration,
        /// The force that was left on after it.
        left: Force,
        /// The lowest force before the next cycle, or at the end of what was left on.
        lowest: Force,
        /// The lowest force between two peaks inside it, where it went down by more than the load band
        /// and rose again without ending the cycle.
        dip: Option<Force>,
        /// The force below which a cycle ends.
        ends_below: Force,
    }
}

crate::answer! {
    /// An index of a cyclic test.
    pub struct Index {
        /// Its value.
        value: Ratio,
        /// Its standard uncertainty; nothing where a gauge or cell that counts does not state one.
        u: Option<Ratio>,
        /// Whether what it divides by is more than nothing, and than its own expanded uncertainty.
        resolved: bool,
    }
}

crate::answer! {
    /// What one gauge read in one cycle. Deflections count from the zero of the log, corrected, in the
    /// way the gauge moves.
    pub struct CycleRead {
        /// The cycle.
        cycle: String,
        /// The pair it belongs to.
        pair: usize,
        /// The first cycle of its pair, where it is the second.
        twin: Option<String>,
        /// At its start.
        start: Length,
        /// At its peak.
        peak: Length,
        /// After it.
        left: Length,
        /// Whether the load after it was the one it began from, within the load band: else what is left
        /// is not told from what the load bends, and no permanency counts from its start.
        back: bool,
        /// Deviation of its secant from that of the first cycle, both from the start of the first.
        linearity: Option<Index>,
        /// Permanency counted from the start of the cycle.
        rezeroed: Option<Index>,
        /// Permanency counted from the start of the first cycle.
        absolute: Option<Index>,
        /// Ratio to the permanency of its twin, each counted from the start of its cycle.
        ratio_rezeroed: Option<Index>,
        /// The same counted from the start of the first cycle.
        ratio_absolute: Option<Index>,
        /// What it recovered over what its twin recovered.
        repeatability: Option<Index>,
    }
}

crate::answer! {
    /// The cycles of one gauge.
    pub struct GaugeCycles {
        /// The gauge.
        gauge: String,
        /// Cycle by cycle; nothing where it has no usable sample at a start, peak or end.
        cycles: Vec<CycleRead>,
    }
}

crate::answer! {
    /// The load cycles of a log.
    pub struct Cycles {
        /// As the cells showed them.
        seen: Vec<CycleSeen>,
        /// As the gauges read them.
        gauges: Vec<GaugeCycles>,
    }
}

/// Least load and lowest peak as parts of the full load where the edition names none (library rule).
const LEAST: f64 = 0.1;
const LOWEST: f64 = 0.5;

/// Seconds from, to.
type Stretch = (f64, f64);

/// A cycle with the windows that are read.
struct Found {
    seen: CycleSeen,
    start: Stretch,
    peak: Stretch,
    left: Option<Stretch>,
}

/// The load cycles of a log, in the order of the edition's, with the indices of every gauge. Nothing
/// where no channel is a force.
///
/// # Errors
/// `readings.cycles` where the log does not hold a pair of cycles, or more than the edition has;
/// `readings.not-twins` for the cycles of a pair that differ in peak or start by more than the load
/// band.
pub fn load_cycles(
    log: &Log,
    spec: &LogSpec,
    deflections: &[Deflection],
    rule: &Rule,
    target: Option<Force>,
) -> Result<Option<Cycles>, Error> {
    let history = log.history();
    if history.len() == 0 {
        return Ok(None);
    }
    let search = Search::of(&history, spec, rule, target);
    let (found, band) = (search.found(spec, rule)?, search.band);
    let gauges = deflections
        .iter()
        .map(|d| GaugeCycles { gauge: d.gauge.clone(), cycles: read(log, spec, d, &found, band) })
        .collect();
    Ok(Some(Cycles { seen: found.into_iter().map(|f| f.seen).collect(), gauges }))
}

/// The force between zero and residual, and what is a load in it.
struct Search<'a> {
    all: &'a Samples,
    /// Between zero and residual.
    own: Range<usize>,
    full: f64,
    least: f64,
    lowest: f64,
    band: f64,
}

impl<'a> Search<'a> {
    fn of(history: &'a Samples, spec: &LogSpec, rule: &Rule, target: Option<Force>) -> Self {
        let moments = &spec.moments;
        let begin = moments.zero.to.value.si() + 1e-9;
        let end = moments.residual.as_ref().map_or(f64::INFINITY, |r| r.from.value.si() - 1e-9);
        let first = history.before(|t| t <= begin);
        let own = first..history.before(|t| t < end).max(first);
        let largest = history.range(own.clone()).map(|s| s.1).fold(0.0, f64::max);
        let full = target.map_or(largest, Force::si);
        let lowest = rule.cycles.iter().map(|c| c.level).fold(f64::INFINITY, f64::min);
        Self {
            all: history,
            own,
            full,
            least: full * rule.least.unwrap_or(LEAST),
            lowest: full * if lowest.is_finite() { lowest } else { LOWEST },
            band: full * spec.load_band.value(),
        }
    }

    fn len(&self) -> usize {
        self.own.len()
    }

    /// Some of its samples.
    fn samples(&self, from: usize, to: usize) -> impl DoubleEndedIterator<Item = (f64, f64)> {
        let at = |i: usize| (self.own.start + i).min(self.own.end);
        self.all.range(at(from)..at(to.max(from)))
    }

    /// The force below which a cycle ends.
    fn leave(&self) -> f64 {
        self.least + (self.lowest - self.least) / 8.0
    }

    /// The lowest load between two peaks among the samples of one cycle: it went down and rose again,
    /// both by more than a quarter of the way from the end of a cycle to the lowest peak.
    fn dip(&self, (from, to): (usize, usize)) -> Option<f64> {
        let apart = ((self.lowest - self.leave()) / 4.0).max(self.band);
        let mut most = f64::NEG_INFINITY;
        let (mut least, mut dip) = (f64::INFINITY, f64::INFINITY);
        for (_, f) in self.samples(from, to) {
            if f > most {
                most = f;
                least = f;
            }
            least = least.min(f);
            if most - least > apart && f - least > apart {
                dip = dip.min(least);
                (most, least) = (f, f);
            }
        }
        dip.is_finite().then_some(dip)
    }

    /// First and last sample of every time beyond the least load.
    fn runs(&self) -> Vec<(usize, usize)> {
        let enter = f64::midpoint(self.least, self.lowest);
        let leave = self.leave();
        let mut runs = Vec::new();
        let mut open = None;
        for (i, (_, f)) in self.samples(0, self.len()).enumerate() {
            match open {
                None if f > enter => open = Some(i),
                Some(a) if f < leave => {
                    runs.push((a, i - 1));
                    open = None;
                }
                _ => {}
            }
        }
        runs.extend(open.map(|a| (a, self.len() - 1)));
        runs
    }

    /// The longest time within the band about a load among some samples; a log by hand may have one
    /// sample of it.
    fn longest(&self, from: usize, to: usize, load: f64) -> Option<Stretch> {
        let mut best: Option<Stretch> = None;
        let mut now: Option<Stretch> = None;
        for (t, f) in self.samples(from, to) {
            now = ((f - load).abs() <= self.band).then(|| (now.map_or(t, |n| n.0), t));
            let span = |s: Option<Stretch>| s.map_or(-1.0, |s| s.1 - s.0);
            if span(now) > span(best) {
                best = now;
            }
        }
        best
    }

    fn found(&self, spec: &LogSpec, rule: &Rule) -> Result<Vec<Found>, Error> {
        let runs = self.runs();
        let most = if rule.cycles.is_empty() { usize::MAX } else { rule.cycles.len() };
        if runs.len() < 2 || runs.len() > most {
            let limit = match rule.cycles.len() {
                0 => "at least one pair".to_owned(),
                n => format!("2 to {n}"),
            };
            let message = "the log does not hold the load cycles of the test";
            let issue = Issue::new(slug::READINGS_CYCLES, "log", message);
            return Err(issue.value(runs.len()).limit(limit).into());
        }
        let median = |s: Stretch| {
            let (first, last) =
                (self.all.before(|t| t < s.0 - 1e-9), self.all.before(|t| t <= s.1 + 1e-9));
            let rows = first.max(self.own.start)..last.min(self.own.end);
            let found = median_again(|| self.all.range(rows.clone()).map(|x| x.1));
            Force::from_si(found.map_or(f64::NAN, |m| m.0))
        };
        let ends = |i: usize| runs.get(i + 1).map_or(self.len(), |r| r.0);
        let mut longest = 0.0_f64;
        let mut all: Vec<Found> = Vec::new();
        for (i, (a, b)) in runs.iter().copied().enumerate() {
            let own = || self.samples(a, b + 1);
            let most = own().map(|s| s.1).fold(0.0, f64::max);
            let (t0, t1) = self.longest(a, b + 1, most).unwrap_or_default();
            let after = (b + 1, ends(i));
            let low = self.samples(after.0, after.1);
            let lowest = low.map(|s| s.1).fold(f64::INFINITY, f64::min);
            let mut left = self.longest(after.0, after.1, self.least);
            if rule.least.is_none() || left.is_none() {
                left = self.longest(after.0, after.1, lowest).or(left);
            }
            // a load that stays on between the cycles may go after the last one
            if rule.least.is_none()
                && i + 1 == runs.len()
                && let Some(before) = all.last()
            {
                left = self.longest(after.0, after.1, before.seen.left.si()).or(left);
            }
            // what is left after the last one is read as soon as after the others
            if i + 1 == runs.len()
                && longest > 0.0
                && let Some(left) = &mut left
            {
                left.1 = left.1.min(left.0 + longest);
            }
            longest = left.map_or(longest, |l| longest.max(l.1 - l.0));
            let left = left.map(settled);
            let left_force = left.map_or(Force::from_si(f64::NAN), median);
            let start = match all.last() {
                Some(before) => before.left,
                None => Some(self.first_start(spec, a, left_force)),
            };
            let Some(start) = start else { continue };
            let start_force = match all.last() {
                Some(before) => before.seen.left,
                None if start.1 <= spec.moments.zero.to.value.si() + 1e-9 => {
                    spec.moments.at_zero.value
                }
                None => median(start),
            };
            let planned = rule.cycles.get(i);
            let last = i + 1 == runs.len();
            all.push(Found {
                seen: CycleSeen {
                    name: planned.map_or_else(|| (i + 1).to_string(), |p| p.name.clone()),
                    pair: planned.map_or(i / 2 + 1, |p| p.pair as usize),
                    from: Duration::from_si(own().next().map_or(0.0, |s| s.0)),
                    to: Duration::from_si(own().next_back().map_or(0.0, |s| s.0)),
                    start: start_force,
                    peak: median(settled((t0, t1))),
                    asked: planned.map(|p| Force::from_si(p.level * self.full)),
                    held: Duration::from_si(t1 - t0),
                    left: left_force,
                    lowest: if last { left_force } else { Force::from_si(lowest) },
                    dip: self.dip((a, b + 1)).map(Force::from_si),
                    ends_below: Force::from_si(self.leave()),
                },
                start,
                peak: settled((t0, t1)),
                left,
            });
        }
        Error::check(self.not_twins(&all))?;
        Ok(all)
    }

    /// Where the first cycle begins: at the load that it also leaves, after the zero or in it.
    fn first_start(&self, spec: &LogSpec, first: usize, left: Force) -> Stretch {
        let zero = &spec.moments.zero;
        let window = (zero.from.value.si(), zero.to.value.si());
        if (spec.moments.at_zero.value - left).abs().si() <= self.band || !left.si().is_finite() {
            return window;
        }
        self.longest(0, first, left.si()).map_or(window, settled)
    }

    fn not_twins(&self, all: &[Found]) -> Vec<Issue> {
        let mut issues = Vec::new();
        for (a, b) in pairs(all) {
            let (a, b) = (&a.seen, &b.seen);
            for (what, one, other) in
                [("peaks", a.peak, b.peak), ("loads at their start", a.start, b.start)]
            {
                if (one - other).abs().si() > self.band {
                    let message = format!(
                        "cycles {} and {} are not twins: their {what} differ",
                        a.name, b.name
                    );
                    let both = Message::new("{} and {}", [one.into(), other.into()]);
                    let band = Message::new("within {}", [Force::from_si(self.band).into()]);
                    let path = format!("log.cycles.{}", b.name);
                    let issue = Issue::new(slug::READINGS_NOT_TWINS, path, message);
                    issues.push(issue.value(both).limit(band.to_string()));
                }
            }
        }
        issues
    }
}

/// The cycles that belong together, first and second.
fn pairs(all: &[Found]) -> impl Iterator<Item = (&Found, &Found)> {
    all.iter().zip(all.iter().skip(1)).filter(|(a, b)| a.seen.pair == b.seen.pair)
}

/// The second half of a time, when the readings have settled.
fn settled((from, to): Stretch) -> Stretch {
    (f64::midpoint(from, to), to)
}

/// The readings of one gauge: start of the first cycle, then peak and end of each; the forces of the
/// start and of every peak; the drift per kelvin.
struct Table {
    values: Vec<f64>,
    u: Vec<Option<f64>>,
    /// Change of temperature of every reading since the first.
    warmed: Vec<f64>,
}

/// Where the zero of a permanency index is.
#[derive(Clone, Copy)]
enum Zero {
    Cycle,
    First,
}

impl Table {
    fn of(log: &Log, spec: &LogSpec, d: &Deflection, found: &[Found]) -> Option<Self> {
        let sign = if d.d_max < Length::ZERO { -1.0 } else { 1.0 };
        let rows = |(from, to): Stretch| log.rows_between(from - 1e-9, to + 1e-9);
        let median = |s: Stretch| {
            let rows = rows(s);
            median_again(|| series(log, d, rows.clone()).map(|s| s.1)).map(|m| m.0)
        };
        let zero = &spec.moments.zero;
        let zero = median((zero.from.value.si(), zero.to.value.si()))?;
        let mut windows = vec![found.first()?.start];
        for f in found {
            windows.push(f.peak);
            windows.push(f.left?);
        }
        let read = windows.iter().map(|w| Some((median(*w)? - zero) * sign));
        let mut values: Vec<f64> = read.collect::<Option<_>>()?;
        let count = values.len();
        let drift = spec.drift.as_ref();
        let u_slope = drift.map_or(Some(0.0), |d| {
            Some(d.u.as_ref().map_or(0.0, |u| u.value.si() / d.per.value.si()))
        });
        let warm = drift.and_then(|d| log.channel(&d.channel));
        let at = |w: &Stretch| {
            let rows = rows(*w);
            let usable = |c: &'_ Channel| {
                median_again(|| c.values().range(rows.clone()).filter(|v| !v.is_nan()))
            };
            warm.and_then(usable).map_or(0.0, |m| m.0)
        };
        let cold = windows.first().map_or(0.0, at);
        let warmed = windows.iter().map(|w| (at(w) - cold) * sign).collect();
        let forces = found.first().map(|f| f.seen.start).into_iter();
        let forces = forces.chain(found.iter().map(|f| f.seen.peak));
        values.extend(forces.map(Force::si));
        let mut u = vec![d.u_reading.map(Length::si); count];
        u.resize(values.len(), spec.u_force());
        values.push(0.0);
        u.push(u_slope);
        Some(Self { values, u, warmed })
    }

    fn d(&self, x: &[f64], k: usize) -> Option<Length> {
        Some(Length::from_si(x.get(k)? - x.last()? * self.warmed.get(k)?))
    }

    fn linearity(&self, x: &[f64], cycle: usize) -> Option<f64> {
        let force = |k: usize| x.get(self.warmed.len() + k).copied().map(Force::from_si);
        let of = |i: usize| {
            let more = self.d(x, 2 * i + 1)? - self.d(x, 0)?;
            Some(secant(&mut NoRecord, force(i + 1)? - force(0)?, more))
        };
        finite(linearity_deviation(&mut NoRecord, of(cycle)?, of(0)?))
    }

    /// What a cycle left and brought, both from a zero.
    fn brought(&self, x: &[f64], cycle: usize, from: Zero) -> Option<(Length, Length)> {
        let zero = match from {
            Zero::Cycle => self.d(x, 2 * cycle)?,
            Zero::First => self.d(x, 0)?,
        };
        Some((self.d(x, 2 * cycle + 2)? - zero, self.d(x, 2 * cycle + 1)? - zero))
    }

    fn permanency(&self, x: &[f64], cycle: usize, from: Zero) -> Option<f64> {
        let (left, peak) = self.brought(x, cycle, from)?;
        finite(permanency(&mut NoRecord, left, peak))
    }

    fn ratio(&self, x: &[f64], (first, second): (usize, usize), from: Zero) -> Option<f64> {
        let (one, two) = (self.permanency(x, first, from)?, self.permanency(x, second, from)?);
        finite(permanency_ratio(&mut NoRecord, two, one))
    }

    fn repeatability(&self, x: &[f64], (first, second): (usize, usize)) -> Option<f64> {
        let of = |i: usize| Some((self.d(x, 2 * i + 1)?, self.d(x, 2 * i + 2)?));
        let ((peak, left), (first_peak, first_left)) = (of(second)?, of(first)?);
        finite(repeatability(&mut NoRecord, peak, left, first_peak, first_left))
    }

    /// An index with its uncertainty; `over` is what it divides by.
    fn index(
        &self,
        by_force: bool,
        value: impl Fn(&[f64]) -> Option<f64>,
        over: impl Fn(&[f64]) -> Option<f64>,
    ) -> Option<Index> {
        let forces = self.warmed.len()..self.values.len() - 1;
        let counts = |i: usize| by_force || !forces.contains(&i);
        let u: Option<Vec<f64>> = self
            .u
            .iter()
            .enumerate()
            .map(|(i, u)| if counts(i) { *u } else { Some(0.0) })
            .collect();
        let of = |f: &dyn Fn(&[f64]) -> Option<f64>| combined(&self.values, u.as_ref()?, f);
        let divisor = over(&self.values)?;
        Some(Index {
            value: Ratio::from(value(&self.values)?),
            u: of(&value).map(Ratio::from),
            resolved: divisor > of(&over).map_or(0.0, |u| COVERAGE * u),
        })
    }
}

fn finite(x: f64) -> Option<f64> {
    x.is_finite().then_some(x)
}

/// Every cycle of one gauge; nothing where one of them cannot be read.
fn read(log: &Log, spec: &LogSpec, d: &Deflection, found: &[Found], band: f64) -> Vec<CycleRead> {
    let Some(table) = Table::of(log, spec, d, found) else { return Vec::new() };
    let now = |k: usize| table.d(&table.values, k).unwrap_or(Length::ZERO);
    let alike = |a: Force, b: Force| (a - b).abs().si() <= band;
    let begun = |i: usize, from: Zero| {
        let at = match from {
            Zero::Cycle => found.get(i),
            Zero::First => found.first(),
        };
        found.get(i).zip(at).is_some_and(|(f, at)| alike(f.seen.left, at.seen.start))
    };
    found
        .iter()
        .enumerate()
        .map(|(i, f)| {
            let before = i.checked_sub(1).and_then(|b| found.get(b).map(|f| (b, f)));
            let twin = before.filter(|b| b.1.seen.pair == f.seen.pair);
            let index = |from: Zero| {
                if !begun(i, from) {
                    return None;
                }
                let over = |x: &[f64]| table.brought(x, i, from).map(|b| b.1.si());
                table.index(false, |x| table.permanency(x, i, from), over)
            };
            let ratio = |from: Zero| {
                let (b, _) = twin.filter(|t| begun(t.0, from) && begun(i, from))?;
                let over = |x: &[f64]| table.brought(x, b, from).map(|b| b.0.si());
                table.index(false, |x| table.ratio(x, (b, i), from), over)
            };
            let secant = |x: &[f64]| Some((table.d(x, 2 * i + 1)? - table.d(x, 0)?).si());
            CycleRead {
                cycle: f.seen.name.clone(),
                pair: f.seen.pair,
                twin: twin.map(|t| t.1.seen.name.clone()),
                start: now(2 * i),
                peak: now(2 * i + 1),
                left: now(2 * i + 2),
                back: begun(i, Zero::Cycle),
                linearity: before
                    .and_then(|_| table.index(true, |x| table.linearity(x, i), secant)),
                rezeroed: index(Zero::Cycle),
                absolute: index(Zero::First),
                ratio_rezeroed: ratio(Zero::Cycle),
                ratio_absolute: ratio(Zero::First),
                repeatability: twin.filter(|t| alike(t.1.seen.left, f.seen.left)).and_then(
                    |(b, _)| {
                        let over = |x: &[f64]| {
                            Some((table.d(x, 2 * b + 1)? - table.d(x, 2 * b + 2)?).si())
                        };
                        table.index(false, |x| table.repeatability(x, (b, i)), over)
                    },
                ),
            }
        })
        .collect()
}

impl CycleSeen {
    /// Peak, hold and what was left on, where they are not those of the edition.
    pub(crate) fn beside(
        &self,
        rule: &Rule,
        full: Force,
        band: Force,
        last: bool,
    ) -> Option<Message> {
        let name = || Said::from(&self.name);
        if let Some(asked) = self.asked.filter(|a| (self.peak - *a).abs() > band) {
            let values = [name(), self.peak.into(), asked.into()];
            return Some(Message::new("cycle {} came to {} where {} is asked", values));
        }
        if let Some(hold) = rule.step_hold.filter(|h| self.held < *h) {
            let values = [name(), self.held.into(), hold.into()];
            return Some(Message::new(
                "the peak of cycle {} was on for {} where {} is asked",
                values,
            ));
        }
        let least = rule.least.map(|l| full * l);
        let low = least.filter(|l| !last && self.lowest < *l - band)?;
        let values = [name(), self.lowest.into(), low.into()];
        Some(Message::new("after cycle {} the load fell to {} where at least {} stays on", values))
    }
}
