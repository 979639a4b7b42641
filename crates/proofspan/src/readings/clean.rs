//! Sentinels, blocked beams and lost channels are named; their samples are left out.

use super::fault::{Fault, FaultKind};
use super::log::Channel;
use super::spec::{ChannelSpec, LogSpec, Role};
use crate::units::Duration;

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
    let mut named = Runs::new(FaultKind::Sentinel, "left out");
    let mut last_good = None;
    for (i, (value, t)) in channel.values.iter_mut().zip(time).enumerate() {
        if value.is_nan() {
            continue;
        }
        if is_sentinel(*value) {
            named.add(*t);
            *value = f64::NAN;
        } else {
            last_good = Some(i);
        }
    }
    named.finish(&own.id, faults);
    lost(channel, own, time, last_good, faults);
    if let (Some(rule), Role::Deflection | Role::Settlement | Role::Level) =
        (&spec.cleaning, channel.role)
    {
        let (gate, half, bin) =
            (rule.gate.value.si(), rule.half_window.value.si(), rule.bin.value.si());
        let votes = binned(time, &channel.values, bin);
        let medians = running_median(&votes, half);
        let mut blocked = Runs::new(
            FaultKind::Blocked,
            "farther than the gate from the running median: left out",
        );
        let mut at = 0;
        for (value, t) in channel.values.iter_mut().zip(time) {
            while medians.get(at + 1).is_some_and(|m| m.0 <= *t) {
                at += 1;
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
    let count = channel.values.len().saturating_sub(first_lost);
    if count < 5 {
        return;
    }
    let at = |i: usize| Duration::from_si(time.get(i).copied().unwrap_or(0.0));
    faults.push(Fault {
        kind: FaultKind::Lost,
        channel: own.id.clone(),
        from: at(first_lost),
        to: at(time.len().saturating_sub(1)),
        count,
        note: "no usable sample up to the end of the log".to_owned(),
    });
}

/// The first usable sample of every bin.
pub(super) fn binned(time: &[f64], values: &[f64], bin: f64) -> Vec<(f64, f64)> {
    let mut votes: Vec<(f64, f64)> = Vec::new();
    let mut last = f64::NEG_INFINITY;
    for (t, v) in time.iter().zip(values) {
        let index = (t / bin + 1e-9).floor();
        if index > last && !v.is_nan() {
            votes.push((*t, *v));
            last = index;
        }
    }
    votes
}

/// The median of the votes within plus or minus `half` of each, in order of time. Near the
/// ends of the log the window stays symmetric and shrinks: a one-sided median is biased on a ramp.
pub(super) fn running_median(votes: &[(f64, f64)], half: f64) -> Vec<(f64, f64)> {
    let mut window: Vec<f64> = Vec::new();
    let (mut low, mut high) = (0, 0);
    let mut out = Vec::with_capacity(votes.len());
    let (first, last) = (votes.first().map_or(0.0, |v| v.0), votes.last().map_or(0.0, |v| v.0));
    for (t, _) in votes {
        let half = half.min(t - first).min(last - t);
        while let Some((_, v)) = votes.get(high).filter(|(x, _)| *x <= t + half + 1e-9) {
            let place = window.partition_point(|w| w < v);
            window.insert(place, *v);
            high += 1;
        }
        while let Some((_, v)) = votes.get(low).filter(|(x, _)| *x < t - half - 1e-9) {
            let place = window.partition_point(|w| w < v);
            if place < window.len() {
                window.remove(place);
            }
            low += 1;
        }
        if let Some(m) = sorted_median(&window) {
            out.push((*t, m));
        }
    }
    out
}

/// The median of sorted values.
pub(super) fn sorted_median(sorted: &[f64]) -> Option<f64> {
    let n = sorted.len();
    let upper = sorted.get(n / 2).copied()?;
    if n % 2 == 1 {
        Some(upper)
    } else {
        sorted.get(n / 2 - 1).map(|lower| f64::midpoint(*lower, upper))
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
            faults.push(Fault {
                kind: self.kind,
                channel: channel.to_owned(),
                from: Duration::from_si(self.from),
                to: Duration::from_si(self.to),
                count: self.count,
                note: self.note.to_owned(),
            });
        }
    }
}
