//! A log after cleaning, and medians of it.

use super::clean::{binned, clean, running_median, sorted_median};
use super::fault::{Fault, FaultKind};
use super::faults::{of_log, weighed};
use super::spec::{LogSpec, Role, Window};
use crate::source::Digested;
use crate::units::{Duration, Force, Length, Message, SpringStiffness};

crate::laws! {
    /// Secant stiffness from a zero point.
    pub fn secant(p: Force as "P", v: Length as "v") -> SpringStiffness as "S" = SpringStiffness::per(p, v);
    source "secant of the load-deflection line (ACI 437 family, from memory)";
    /// Deviation from linearity: how far the secant has fallen from that of the first load set.
    pub fn linearity_deviation(s: SpringStiffness as "S", first: SpringStiffness as "S_ref") -> f64 as "I_DL" = 1.0 - s / first;
    source "deviation from linearity (ACI 437 family, from memory; limit 0.25 seen in a trade article)";
}

/// A channel in SI; not-a-number stands for a sample that is missing or left out.
#[derive(Clone, PartialEq, Debug)]
pub struct Channel {
    /// Its name.
    pub id: String,
    /// What it measures.
    pub role: Role,
    pub(super) values: Vec<f64>,
}

/// A log: time since its start, channels, faults by name.
#[derive(Clone, PartialEq, Debug)]
pub struct Log {
    pub(super) time: Vec<f64>,
    pub(super) channels: Vec<Channel>,
    /// The faults that were found.
    pub faults: Vec<Fault>,
    last_day: Option<String>,
}

impl Log {
    pub(super) fn new(
        time: Vec<f64>,
        channels: Vec<Channel>,
        faults: Vec<Fault>,
        last_day: Option<String>,
        spec: &LogSpec,
    ) -> Self {
        let mut log = Self { time, channels, faults, last_day };
        for (channel, own) in log.channels.iter_mut().zip(&spec.channels) {
            clean(channel, own, spec, &log.time, &mut log.faults);
        }
        for i in 0..log.faults.len() {
            let found = log.faults.get(i).cloned();
            let channel = found.as_ref().and_then(|f| log.channel(&f.channel));
            let (Some(found), Some(channel)) = (found, channel) else { continue };
            let weighed = weighed(&log, channel, found, spec);
            if let Some(fault) = log.faults.get_mut(i) {
                *fault = weighed;
            }
        }
        log.name_zeros(spec);
        // of several stages each is looked at by itself
        if spec.stages.is_empty() {
            let found = of_log(&mut log, spec);
            log.faults.extend(found);
        }
        log
    }

    /// The part of a log of several stages that belongs to one, with its own faults: from a time, up
    /// to and without another. Times stay those of the whole log.
    pub(crate) fn part(
        &self,
        from: Option<Duration>,
        to: Option<Duration>,
        spec: &LogSpec,
    ) -> Self {
        let at = |t: Option<Duration>, none: usize| {
            t.map_or(none, |t| self.time.partition_point(|own| *own < t.si() - 1e-9))
        };
        let (first, last) = (at(from, 0), at(to, self.time.len()));
        let cut = |values: &[f64]| values.get(first..last.max(first)).unwrap_or(&[]).to_vec();
        let one = |c: &Channel| Channel { values: cut(&c.values), ..c.clone() };
        let time = cut(&self.time);
        let ends = time.first().copied().zip(time.last().copied());
        let inside = |f: &&Fault| ends.is_some_and(|(a, b)| f.to.si() >= a && f.from.si() <= b);
        let mut part = Self {
            channels: self.channels.iter().map(one).collect(),
            faults: self.faults.iter().filter(inside).cloned().collect(),
            last_day: self.last_day.clone(),
            time,
        };
        let found = of_log(&mut part, spec);
        part.faults.extend(found);
        part
    }

    /// SHA-256 of the times and of every channel, by name: 64 hexadecimal digits. The values are those
    /// in SI after reading and cleaning, so that the same readings in another order of columns, in
    /// other units that read to equal bits or from an array have the same fingerprint.
    #[must_use]
    pub fn fingerprint(&self) -> String {
        let mut channels: Vec<&Channel> = self.channels.iter().collect();
        channels.sort_by(|a, b| a.id.cmp(&b.id));
        let mut digest = Digested::default();
        digest.numbers(&self.time);
        for channel in channels {
            digest.text(&channel.id);
            digest.text(channel.role.word());
            digest.numbers(&channel.values);
        }
        digest.hex()
    }

    /// How many rows the log has.
    #[must_use]
    pub fn rows(&self) -> usize {
        self.time.len()
    }

    /// The time of the last row since the first.
    #[must_use]
    pub fn span(&self) -> Duration {
        Duration::from_si(self.time.last().copied().unwrap_or(0.0))
    }

    /// The day of the last row as year-month-day, where the log writes date and time.
    #[must_use]
    pub fn last_day(&self) -> Option<&str> {
        self.last_day.as_deref()
    }

    /// The channel of this name.
    #[must_use]
    pub fn channel(&self, id: &str) -> Option<&Channel> {
        self.channels.iter().find(|c| c.id == id)
    }

    /// The channels in order.
    #[must_use]
    pub fn channels(&self) -> &[Channel] {
        &self.channels
    }

    /// The usable samples of a channel with their times: seconds, SI.
    pub fn samples<'a>(&'a self, channel: &'a Channel) -> impl Iterator<Item = (f64, f64)> + 'a {
        self.time.iter().copied().zip(channel.values.iter().copied()).filter(|(_, v)| !v.is_nan())
    }

    /// The median of a channel between two times, and how many samples it holds. SI.
    #[must_use]
    pub fn median(&self, channel: &Channel, from: Duration, to: Duration) -> Option<(f64, usize)> {
        let (from, to) = (from.si() - 1e-9, to.si() + 1e-9);
        let first = self.time.partition_point(|t| *t < from);
        let last = self.time.partition_point(|t| *t <= to);
        let mut inside: Vec<f64> =
            channel.values.get(first..last)?.iter().copied().filter(|v| !v.is_nan()).collect();
        inside.sort_unstable_by(f64::total_cmp);
        sorted_median(&inside).map(|m| (m, inside.len()))
    }

    /// How many rows a window holds.
    pub(super) fn rows_of(&self, window: &Window) -> usize {
        let first = self.time.partition_point(|t| *t < window.from.value.si() - 1e-9);
        let last = self.time.partition_point(|t| *t <= window.to.value.si() + 1e-9);
        last.saturating_sub(first)
    }

    /// The median in a window.
    #[must_use]
    pub fn in_window(&self, channel: &Channel, window: &Window) -> Option<(f64, usize)> {
        self.median(channel, window.from.value, window.to.value)
    }

    /// The largest running median (plus or minus `half`, one vote a second) and its time. SI.
    #[must_use]
    pub fn largest(&self, channel: &Channel, half: Duration) -> Option<(f64, Duration)> {
        let votes = binned(&self.time, &channel.values, 1.0);
        running_median(&votes, half.si())
            .into_iter()
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .map(|(t, v)| (v, Duration::from_si(t)))
    }

    /// The sum of all force channels at every row where all of them are usable: seconds, newtons.
    #[must_use]
    pub fn force(&self) -> Vec<(f64, f64)> {
        let forces: Vec<&Channel> =
            self.channels.iter().filter(|c| c.role == Role::Force).collect();
        if forces.is_empty() {
            return Vec::new();
        }
        let sum = |i: usize| {
            forces.iter().map(|c| c.values.get(i).copied().unwrap_or(f64::NAN)).sum::<f64>()
        };
        self.time
            .iter()
            .enumerate()
            .map(|(i, t)| (*t, sum(i)))
            .filter(|(_, f)| !f.is_nan())
            .collect()
    }

    /// The largest sum of the force channels, and its time.
    #[must_use]
    pub fn largest_force(&self) -> Option<(Force, Duration)> {
        self.force()
            .into_iter()
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .map(|(t, f)| (Force::from_si(f), Duration::from_si(t)))
    }

    /// The difference of a channel and the line through two others at their places: for the
    /// movement of a section between two bearings. Rows where one is missing are left out.
    #[must_use]
    pub fn between_bearings(
        &self,
        channel: &Channel,
        left: (&Channel, Length),
        right: (&Channel, Length),
        at: Length,
    ) -> Channel {
        let part = (at - left.1) / (right.1 - left.1);
        let chord = |i: usize| {
            let get = |c: &Channel| c.values.get(i).copied().unwrap_or(f64::NAN);
            get(channel) - (get(left.0) * (1.0 - part) + get(right.0) * part)
        };
        Channel {
            id: format!("{} net", channel.id),
            role: channel.role,
            values: (0..self.time.len()).map(chord).collect(),
        }
    }

    fn name_zeros(&mut self, spec: &LogSpec) {
        let zero = &spec.moments.zero;
        let mut named = Vec::new();
        for (channel, own) in self.channels.iter().zip(&spec.channels) {
            let (Some(tolerance), Some(row)) =
                (own.zero_tolerance, channel.role.kind().unit(&own.unit))
            else {
                continue;
            };
            let Some((median, count)) = self.in_window(channel, zero) else { continue };
            if median.abs() > row.factor * tolerance {
                let note = Message::new(
                    "the first readings stand at {} {}; every value is counted from there",
                    [row.from_si(median).into(), (&own.unit).into()],
                );
                let times = (zero.from.value.si(), zero.to.value.si());
                named.push(Fault::new(FaultKind::UnequalZero, &own.id, times, count, note));
            }
        }
        self.faults.extend(named);
    }
}
