//! Sentinels, blocked beams and lost channels are named; their samples are left out.

use std::collections::VecDeque;

use super::channel::Channel;
use super::column::{Column, Values};
use super::fault::{Fault, FaultKind};
use super::median::sorted_median;
use super::spec::{ChannelSpec, LogSpec, Role};
use crate::units::Row;

/// Leaves out bad samples of a channel (they become not-a-number) and names them.
pub(super) fn clean(
    channel: &mut Channel,
    own: &ChannelSpec,
    spec: &LogSpec,
    time: &Column,
    faults: &mut Vec<Fault>,
) {
    let Some(row) = channel.role.kind().unit(&own.unit) else { return };
    let sentinels: Vec<f64> = spec.sentinels.iter().map(|s| row.to_si(*s) * own.sign).collect();
    let range = own.range.map_or(f64::INFINITY, |r| row.factor * r);
    let is_sentinel =
        |v: f64| v.abs() > range || sentinels.iter().any(|s| (v - s).abs() <= 1e-9 * s.abs());
    let mut named = Runs::new(FaultKind::Sentinel, DECLARED);
    let mut odd = Runs::new(
        FaultKind::Sentinel,
        "not a size a site can have, or a number that stands for none: left out; list it under `sentinels`, or give `range`",
    );
    let (clear, implausible) = implausible(channel, row, own.sign, &is_sentinel);
    let mut last_good = None;
    if clear {
        last_good = channel.values().iter().rposition(|v| !v.is_nan());
    } else {
        let mut times = time.cursor();
        channel.values_mut().change(0..time.len(), |first, values| {
            for (i, value) in values.iter_mut().enumerate().filter(|v| !v.1.is_nan()) {
                let mut t = || times.get(first + i).unwrap_or(0.0);
                if is_sentinel(*value) {
                    named.add(t());
                    *value = f64::NAN;
                } else if implausible(*value) {
                    odd.add(t());
                    *value = f64::NAN;
                } else {
                    last_good = Some(first + i);
                }
            }
        });
    }
    named.finish(&own.id, faults);
    odd.finish(&own.id, faults);
    lost(channel, own, time, last_good, faults);
    if let Some(rule) = spec.cleaning.as_ref().filter(|_| channel.role.is_movement()) {
        let (gate, half, bin) =
            (rule.gate.value.si(), rule.half_window.value.si(), rule.bin.value.si());
        let votes = Votes::of(time, channel.values(), bin);
        let mut medians = running_median(&votes, half);
        let (mut at, mut after) = (medians.next(), medians.next());
        let mut blocked = Runs::new(
            FaultKind::Blocked,
            "farther than the gate from the running median: left out",
        );
        let mut out = Column::new(time.store());
        for (i, (value, t)) in channel.values().iter().zip(time.iter()).enumerate() {
            while after.is_some_and(|m| m.0 <= t) {
                (at, after) = (after, medians.next());
            }
            // near both medians is near what lies between them
            let near = |m: Option<(f64, f64)>| m.is_none_or(|m| (value - m.1).abs() < 0.99 * gate);
            if near(at) && near(after) {
                continue;
            }
            let Some(median) = between(at, after, t) else { continue };
            if (value - median).abs() > gate {
                blocked.add(t);
                out.push(i as f64);
            }
        }
        blocked.finish(&own.id, faults);
        drop(medians);
        if out.len() > 0 {
            channel.values_mut().blank(&out);
        }
    }
}

/// What is said of samples that the layout itself leaves out: that is a decision of its author.
pub(super) const DECLARED: &str = "left out";

/// The largest deflection or movement of a member, in metres; the temperatures of a site, in kelvin.
const MOVES: f64 = 2.0;
const SITE: (f64, f64) = (213.15, 353.15);
/// A number that stands for none is so many times larger than everything else.
const BEYOND: f64 = 3.0;

/// What no declared rule leaves out and still cannot be a reading: metres of deflection, a
/// temperature no site has, and the numbers by which loggers say that they have none, where they
/// are far beyond all others. A channel of which most is like that is in another unit instead.
/// First, whether no sample at all is like that, or `declared`.
fn implausible<F: Fn(f64) -> bool>(
    channel: &Channel,
    row: Row,
    sign: f64,
    declared: &F,
) -> (bool, impl Fn(f64) -> bool + use<F>) {
    let (mut usable, mut out, mut most, mut largest) = (0_usize, 0_usize, 0.0_f64, 0.0_f64);
    let mut listed = false;
    let role = channel.role;
    let beyond = move |v: f64| match role {
        Role::Temperature => !(SITE.0..=SITE.1).contains(&(v * sign)),
        _ => role.is_movement() && v.abs() > MOVES,
    };
    let stands_for_none = move |v: f64| no_number(row.from_si(v * sign));
    for (_, values) in channel.values().pieces(0..channel.values().len()) {
        for v in values.iter().copied().filter(|v| !v.is_nan()) {
            if declared(v) {
                listed = true;
                continue;
            }
            usable += 1;
            let size = v.abs();
            if size > largest {
                largest = size;
            }
            out += usize::from(beyond(v));
            if size > most && !stands_for_none(v) {
                most = size;
            }
        }
    }
    let by_size = out * 2 < usable;
    let clear = !listed && (out == 0 || !by_size) && largest <= BEYOND * most;
    (clear, move |v| (by_size && beyond(v)) || (v.abs() > BEYOND * most && stands_for_none(v)))
}

/// Nines, the ends of whole numbers of a computer, and powers of ten from a hundred thousand on.
fn no_number(raw: f64) -> bool {
    const ENDS: [f64; 6] =
        [32_767.0, 32_768.0, 65_535.0, 2_147_483_647.0, 2_147_483_648.0, 4_294_967_295.0];
    let size = raw.abs();
    if size < 99.0 {
        return false;
    }
    let digits = size.log10().round();
    let power = 10.0_f64.powf(digits);
    let near = |x: f64| (size - x).abs() <= 1e-9 * x;
    // 999, 999.9, 9999, 9999.99
    let nines = [1.0, 0.1, 0.01, 0.001].iter().any(|last| digits >= 3.0 && near(power - last));
    nines || ENDS.iter().any(|e| near(*e)) || (digits >= 5.0 && near(power)) || size >= 1e30
}

/// Time and running median, linear between two bins.
fn between(at: Option<(f64, f64)>, after: Option<(f64, f64)>, t: f64) -> Option<f64> {
    let (t0, m0) = at?;
    match after {
        Some((t1, m1)) if t > t0 && t1 > t0 => Some(m0 + (m1 - m0) * (t - t0) / (t1 - t0)),
        _ => Some(m0),
    }
}

fn lost(
    channel: &Channel,
    own: &ChannelSpec,
    time: &Column,
    last_good: Option<usize>,
    faults: &mut Vec<Fault>,
) {
    let first_lost = last_good.map_or(0, |i| i + 1);
    let count = channel.values().len().saturating_sub(first_lost);
    if count < 5 {
        return;
    }
    let at = |i: usize| time.get(i).unwrap_or(0.0);
    let times = (at(first_lost), at(time.len().saturating_sub(1)));
    let note = "no usable sample up to the end of the log";
    faults.push(Fault::new(FaultKind::Lost, &own.id, times, count, note));
}

/// The first usable sample of every bin.
pub(super) struct Votes<'a> {
    time: &'a Column,
    values: &'a Column,
    bin: f64,
    /// The times of the first and of the last of them.
    ends: (f64, f64),
}

impl<'a> Votes<'a> {
    pub(super) fn of(time: &'a Column, values: &'a Column, bin: f64) -> Self {
        let mut own = Self { time, values, bin, ends: (0.0, 0.0) };
        let first = own.each().next().map_or(0.0, |v| v.0);
        // the last bin, and the first usable sample in it
        let mut last: Option<(f64, f64)> = None;
        for (t, v) in time.iter().zip(values.iter()).rev() {
            let index = own.index(t);
            let before = last.is_some_and(|l| index < l.1 || index.is_infinite());
            if before {
                break;
            }
            if !v.is_nan() {
                last = Some((t, index));
            }
        }
        own.ends = (first, last.map_or(0.0, |l| l.0));
        own
    }

    fn index(&self, t: f64) -> f64 {
        (t / self.bin + 1e-9).floor()
    }

    /// Time and value, in order.
    fn each(&self) -> EachVote<'_> {
        let rows = self.time.iter().zip(self.values.iter());
        EachVote { votes: self, rows, last: f64::NEG_INFINITY, until: f64::NEG_INFINITY }
    }
}

struct EachVote<'a> {
    votes: &'a Votes<'a>,
    rows: core::iter::Zip<Values<'a>, Values<'a>>,
    last: f64,
    /// Before this time no other bin begins.
    until: f64,
}

/// Bins up to this number are told apart to a millionth.
const COUNTED: f64 = 1e8;

impl Iterator for EachVote<'_> {
    type Item = (f64, f64);

    fn next(&mut self) -> Option<(f64, f64)> {
        loop {
            let (t, v) = self.rows.next()?;
            if t < self.until || v.is_nan() {
                continue;
            }
            let index = self.votes.index(t);
            // bins too many to count: every sample votes
            if index > self.last || index.is_infinite() {
                self.last = index;
                if index.abs() < COUNTED {
                    self.until = (index + 1.0 - 1e-6) * self.votes.bin;
                }
                return Some((t, v));
            }
        }
    }
}

/// The median of the votes within plus or minus `half` of each, in order of time. Near the
/// ends of the log the window stays symmetric and shrinks: a one-sided median is biased on a ramp.
/// Memory grows with the votes of a window, work with all of them.
pub(super) fn running_median<'a>(
    votes: &'a Votes<'_>,
    half: f64,
) -> impl Iterator<Item = (f64, f64)> + use<'a> {
    let (first, last) = votes.ends;
    let mut coming = votes.each();
    let mut next = coming.next();
    let mut window: VecDeque<(f64, f64)> = VecDeque::new();
    let mut sorted = Sorted::default();
    // the place in the window of the vote at which it stands
    let mut here = 0;
    core::iter::from_fn(move || {
        if here == window.len() {
            let vote = next?;
            sorted.add(vote.1);
            window.push_back(vote);
            next = coming.next();
        }
        let t = window.get(here)?.0;
        let half = half.min(t - first).min(last - t);
        while let Some(vote) = next.filter(|v| v.0 <= t + half + 1e-9) {
            sorted.add(vote.1);
            window.push_back(vote);
            next = coming.next();
        }
        while let Some(vote) = window.front().copied().filter(|v| v.0 < t - half - 1e-9) {
            sorted.remove(vote.1);
            window.pop_front();
            here = here.saturating_sub(1);
        }
        here += 1;
        sorted.median().map(|m| (t, m))
    })
}

/// Numbers in order, in parts of some hundred: one comes and goes by moving a part.
#[derive(Default)]
struct Sorted(Vec<Vec<f64>>);

/// A part with more than this is two.
const PART: usize = 1024;

impl Sorted {
    /// The part in which a number stands, or would.
    fn part(&self, value: f64) -> usize {
        let place = self.0.partition_point(|p| p.last().is_some_and(|last| *last < value));
        place.min(self.0.len().saturating_sub(1))
    }

    fn add(&mut self, value: f64) {
        let place = self.part(value);
        let Some(part) = self.0.get_mut(place) else { return self.0.push(vec![value]) };
        part.insert(part.partition_point(|v| *v < value), value);
        if part.len() > PART {
            let upper = part.split_off(PART / 2);
            self.0.insert(place + 1, upper);
        }
    }

    fn remove(&mut self, value: f64) {
        let place = self.part(value);
        let Some(part) = self.0.get_mut(place) else { return };
        let at = part.partition_point(|v| *v < value);
        if at < part.len() {
            part.remove(at);
        }
        if part.is_empty() {
            self.0.remove(place);
        }
    }

    fn nth(&self, mut n: usize) -> Option<f64> {
        for part in &self.0 {
            match part.get(n) {
                Some(value) => return Some(*value),
                None => n -= part.len(),
            }
        }
        None
    }

    fn median(&self) -> Option<f64> {
        if let [part] = self.0.as_slice() {
            return sorted_median(part);
        }
        let count: usize = self.0.iter().map(Vec::len).sum();
        let upper = self.nth(count / 2)?;
        if count % 2 == 1 {
            return Some(upper);
        }
        self.nth(count / 2 - 1).map(|lower| f64::midpoint(lower, upper))
    }
}

/// Gathers samples of one fault: one entry for the whole channel.
struct Runs {
    kind: FaultKind,
    note: &'static str,
    count: usize,
    from: f64,
    to: f64,
}

impl Runs {
    const fn new(kind: FaultKind, note: &'static str) -> Self {
        Self { kind, note, count: 0, from: 0.0, to: 0.0 }
    }
    fn add(&mut self, t: f64) {
        if self.count == 0 {
            self.from = t;
        }
        self.to = t;
        self.count += 1;
    }
    fn finish(self, channel: &str, faults: &mut Vec<Fault>) {
        if self.count > 0 {
            let times = (self.from, self.to);
            faults.push(Fault::new(self.kind, channel, times, self.count, self.note));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The median by its definition: every vote of the window sorted anew.
    fn plainly(votes: &[(f64, f64)], half: f64) -> Vec<(f64, f64)> {
        let (first, last) = (votes.first().map_or(0.0, |v| v.0), votes.last().map_or(0.0, |v| v.0));
        let at = |t: f64| {
            let half = half.min(t - first).min(last - t);
            let inside = |x: f64| x <= t + half + 1e-9 && x >= t - half - 1e-9;
            let mut window: Vec<f64> = votes.iter().filter(|v| inside(v.0)).map(|v| v.1).collect();
            window.sort_unstable_by(f64::total_cmp);
            sorted_median(&window).map(|m| (t, m))
        };
        votes.iter().filter_map(|v| at(v.0)).collect()
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

        /// Short windows and long ones, in one part and in several: the median by its definition.
        #[test]
        fn the_running_median_is_the_median(
            values in proptest::collection::vec(-9..9i32, 2..1700), half in 0.0..2000.0f64,
        ) {
            let votes: Vec<(f64, f64)> =
                values.iter().enumerate().map(|(i, v)| (f64::from(1 + i as u32 / 2), f64::from(*v))).collect();
            let store = super::super::column::room();
            let time = Column::of(&store, votes.iter().map(|v| v.0));
            let values = Column::of(&store, votes.iter().map(|v| v.1));
            // bins too many to count: every sample votes
            let all = Votes::of(&time, &values, 1e-320);
            for half in [half, 1e30] {
                let found: Vec<(f64, f64)> = running_median(&all, half).collect();
                prop_assert_eq!(found, plainly(&votes, half));
            }
        }
    }
}
