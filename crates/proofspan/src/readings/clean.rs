//! Sentinels, blocked beams and lost channels are named; their samples are left out.

use super::channel::Channel;
use super::fault::{Fault, FaultKind};
use super::median::sorted_median;
use super::spec::{ChannelSpec, LogSpec, Role};
use crate::units::Row;

/// Leaves out bad samples of a channel (they become not-a-number) and names them.
pub(super) fn clean(
    channel: &mut Channel,
    own: &ChannelSpec,
    spec: &LogSpec,
    time: &[f64],
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
    }
    let looked_at = if clear { &[] } else { time };
    for (i, (value, t)) in channel.values_mut().iter_mut().zip(looked_at).enumerate() {
        if value.is_nan() {
            continue;
        }
        if is_sentinel(*value) {
            named.add(*t);
            *value = f64::NAN;
        } else if implausible(*value) {
            odd.add(*t);
            *value = f64::NAN;
        } else {
            last_good = Some(i);
        }
    }
    named.finish(&own.id, faults);
    odd.finish(&own.id, faults);
    lost(channel, own, time, last_good, faults);
    if let Some(rule) = spec.cleaning.as_ref().filter(|_| channel.role.is_movement()) {
        let (gate, half, bin) =
            (rule.gate.value.si(), rule.half_window.value.si(), rule.bin.value.si());
        let votes = binned(time, channel.values(), bin);
        let medians = running_median(&votes, half);
        let mut blocked = Runs::new(
            FaultKind::Blocked,
            "farther than the gate from the running median: left out",
        );
        let mut at = 0;
        for (value, t) in channel.values_mut().iter_mut().zip(time) {
            while medians.get(at + 1).is_some_and(|m| m.0 <= *t) {
                at += 1;
            }
            // near both medians is near what lies between them
            let near =
                |m: Option<&(f64, f64)>| m.is_none_or(|m| (*value - m.1).abs() < 0.99 * gate);
            if near(medians.get(at)) && near(medians.get(at + 1)) {
                continue;
            }
            let Some(median) = between(&medians, at, *t) else { continue };
            if (*value - median).abs() > gate {
                blocked.add(*t);
                *value = f64::NAN;
            }
        }
        blocked.finish(&own.id, faults);
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
    for v in channel.values().iter().copied().filter(|v| !v.is_nan()) {
        if declared(v) {
            listed = true;
            continue;
        }
        usable += 1;
        largest = largest.max(v.abs());
        out += usize::from(beyond(v));
        if v.abs() > most && !stands_for_none(v) {
            most = v.abs();
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
fn between(medians: &[(f64, f64)], at: usize, t: f64) -> Option<f64> {
    let (t0, m0) = *medians.get(at)?;
    match medians.get(at + 1) {
        Some((t1, m1)) if t > t0 && *t1 > t0 => Some(m0 + (m1 - m0) * (t - t0) / (t1 - t0)),
        _ => Some(m0),
    }
}

fn lost(
    channel: &Channel,
    own: &ChannelSpec,
    time: &[f64],
    last_good: Option<usize>,
    faults: &mut Vec<Fault>,
) {
    let first_lost = last_good.map_or(0, |i| i + 1);
    let count = channel.values().len().saturating_sub(first_lost);
    if count < 5 {
        return;
    }
    let at = |i: usize| time.get(i).copied().unwrap_or(0.0);
    let times = (at(first_lost), at(time.len().saturating_sub(1)));
    let note = "no usable sample up to the end of the log";
    faults.push(Fault::new(FaultKind::Lost, &own.id, times, count, note));
}

/// The first usable sample of every bin.
pub(super) fn binned(time: &[f64], values: &[f64], bin: f64) -> Vec<(f64, f64)> {
    let mut votes: Vec<(f64, f64)> = Vec::new();
    let mut last = f64::NEG_INFINITY;
    for (t, v) in time.iter().zip(values) {
        let index = (t / bin + 1e-9).floor();
        // bins too many to count: every sample votes
        if (index > last || index.is_infinite()) && !v.is_nan() {
            votes.push((*t, *v));
            last = index;
        }
    }
    votes
}

/// The median of the votes within plus or minus `half` of each, in order of time. Near the
/// ends of the log the window stays symmetric and shrinks: a one-sided median is biased on a ramp.
/// Work grows with the votes, times the logarithm of their number where windows are long.
pub(super) fn running_median(votes: &[(f64, f64)], half: f64) -> Vec<(f64, f64)> {
    let (mut count, mut widest) = (0_usize, 0);
    along(votes, half, |step| match step {
        Step::In(_) => count += 1,
        Step::Out(_) => count -= 1,
        Step::Here(_) => widest = widest.max(count),
    });
    let mut out = Vec::with_capacity(votes.len());
    let value = |i: usize| votes.get(i).map_or(0.0, |v| v.1);
    if widest <= SORTED {
        let mut window: Vec<f64> = Vec::with_capacity(widest);
        along(votes, half, |step| match step {
            Step::In(i) => {
                let place = window.partition_point(|w| *w < value(i));
                window.insert(place, value(i));
            }
            Step::Out(i) => {
                let place = window.partition_point(|w| *w < value(i));
                if place < window.len() {
                    window.remove(place);
                }
            }
            Step::Here(t) => out.extend(sorted_median(&window).map(|m| (t, m))),
        });
        return out;
    }
    let mut order: Vec<usize> = (0..votes.len()).collect();
    order.sort_unstable_by(|a, b| value(*a).total_cmp(&value(*b)));
    let mut rank = vec![0; votes.len()];
    for (r, i) in order.iter().enumerate() {
        if let Some(place) = rank.get_mut(*i) {
            *place = r;
        }
    }
    let of = |i: usize| rank.get(i).copied().unwrap_or(0);
    let mut counts = Counts::new(votes.len());
    let mut inside = 0_usize;
    along(votes, half, |step| match step {
        Step::In(i) => {
            counts.add(of(i), 1);
            inside += 1;
        }
        Step::Out(i) => {
            counts.add(of(i), -1);
            inside -= 1;
        }
        Step::Here(t) => {
            let nth = |n: usize| order.get(counts.nth(n)).map(|i| value(*i));
            let upper = nth(inside / 2);
            let median = match (upper, inside % 2 == 1) {
                (Some(upper), true) => Some(upper),
                (Some(upper), false) => {
                    nth((inside / 2).saturating_sub(1)).map(|lower| f64::midpoint(lower, upper))
                }
                (None, _) => None,
            };
            out.extend(median.map(|m| (t, m)));
        }
    });
    out
}

/// Windows of up to so many votes are kept as a sorted list, longer ones as counts by rank.
const SORTED: usize = 1024;

/// What happens to the window as it moves along the votes.
enum Step {
    /// This vote comes in.
    In(usize),
    /// This vote goes out.
    Out(usize),
    /// The window stands at this time.
    Here(f64),
}

/// Moves the window along the votes, each of which comes in once and goes out at most once.
fn along(votes: &[(f64, f64)], half: f64, mut visit: impl FnMut(Step)) {
    let (mut low, mut high) = (0, 0);
    let (first, last) = (votes.first().map_or(0.0, |v| v.0), votes.last().map_or(0.0, |v| v.0));
    for (t, _) in votes {
        let half = half.min(t - first).min(last - t);
        while votes.get(high).is_some_and(|(x, _)| *x <= t + half + 1e-9) {
            visit(Step::In(high));
            high += 1;
        }
        while low < high && votes.get(low).is_some_and(|(x, _)| *x < t - half - 1e-9) {
            visit(Step::Out(low));
            low += 1;
        }
        visit(Step::Here(*t));
    }
}

/// How many votes of each rank the window holds, in sums over blocks of a binary tree, so that a
/// change and the n-th of them cost the logarithm of their number.
struct Counts(Vec<i64>);

impl Counts {
    fn new(ranks: usize) -> Self {
        Self(vec![0; ranks + 1])
    }

    fn add(&mut self, rank: usize, by: i64) {
        let mut i = rank + 1;
        while let Some(sum) = self.0.get_mut(i) {
            *sum += by;
            i += i & i.wrapping_neg();
        }
    }

    /// The rank of the n-th vote of the window, counted from zero.
    fn nth(&self, n: usize) -> usize {
        let mut left = i64::try_from(n).unwrap_or(i64::MAX);
        let mut at = 0;
        let mut step = self.0.len().next_power_of_two();
        while step > 0 {
            if let Some(sum) = self.0.get(at + step)
                && *sum <= left
            {
                left -= sum;
                at += step;
            }
            step /= 2;
        }
        at
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

        /// Short windows as a sorted list, long ones by counts: both are the median by definition.
        #[test]
        fn the_running_median_is_the_median(
            values in proptest::collection::vec(-9..9i32, 2..1700), half in 0.0..2000.0f64,
        ) {
            let votes: Vec<(f64, f64)> =
                values.iter().enumerate().map(|(i, v)| (f64::from(i as u32 / 2), f64::from(*v))).collect();
            for half in [half, 1e30] {
                prop_assert_eq!(running_median(&votes, half), plainly(&votes, half));
            }
        }
    }
}
