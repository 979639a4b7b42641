//! A log after cleaning, and medians of it.

use core::ops::Range;
use std::sync::Arc;

use super::channel::Channel;
use super::clean::{Votes, running_median};
use super::clock::day_before;
use super::column::{Column, Cursor, Values};
use super::fault::Fault;
use super::median::median_again;
use super::spec::{Role, ThermalFit, Window};
use super::store::Store;
use super::thermal::Controls;
use super::threads::each;
use crate::error::Error;
use crate::source::Digested;
use crate::units::{Duration, Force, Length, SpringStiffness};

crate::laws! {
    /// Secant stiffness from a zero point.
    pub fn secant(p: Force as "P", v: Length as "v") -> SpringStiffness as "S" = SpringStiffness::per(p, v);
    source "secant of the load-deflection line (ACI 437 family, from memory)";
    /// Deviation from linearity: how far the secant has fallen from that of the first load set.
    pub fn linearity_deviation(s: SpringStiffness as "S", first: SpringStiffness as "S_ref") -> f64 as "I_DL" = 1.0 - s / first;
    source "deviation from linearity (ACI 437 family, from memory; limit 0.25 seen in a trade article)";
}

/// A log: time since its start, channels, faults by name.
#[derive(Clone, PartialEq, Debug)]
pub struct Log {
    pub(super) time: Column,
    pub(super) channels: Vec<Channel>,
    /// The faults that were found.
    pub faults: Vec<Fault>,
    /// Date and time of the last row as it was written.
    pub(super) last_day: Option<String>,
    /// The first number of a column of time, in seconds; nought of date and time.
    pub(super) begins: f64,
    /// Rows of control periods that are not in this part of a log.
    pub(super) control: Option<(Column, Vec<Channel>)>,
    /// Whether a judgement gives the corrected series back.
    pub(super) series: bool,
}

impl Log {
    /// The same log; a judgement of it gives back the corrected series of every gauge, as columns.
    /// Without it none is kept.
    #[must_use]
    pub const fn with_series(mut self) -> Self {
        self.series = true;
        self
    }

    /// A sum of channels and the temperatures, in the rows of the control periods in which all of
    /// them were read. A row of two periods counts to the first.
    pub(super) fn controls(&self, thermal: &ThermalFit, parts: &[(String, f64)]) -> Controls {
        let own = (&self.time, &self.channels);
        let (time, channels) = self.control.as_ref().map_or(own, |c| (&c.0, &c.1));
        let of = |id: &String| channels.iter().find(|c| c.id == *id).map(|c| c.values().cursor());
        let reading: Option<Vec<(f64, Cursor<'_>)>> =
            parts.iter().map(|(id, part)| Some((*part, of(id)?))).collect();
        let warm: Option<Vec<Cursor<'_>>> = thermal.channels.iter().map(of).collect();
        let column = || Column::new(self.time.store());
        let mut rows = Controls {
            period: column(),
            reading: column(),
            temperatures: thermal.channels.iter().map(|_| column()).collect(),
        };
        let (Some(mut reading), Some(mut warm)) = (reading, warm) else { return rows };
        let at = |values: &mut Cursor<'_>, i: usize| values.get(i).unwrap_or(f64::NAN);
        let mut now = Vec::with_capacity(warm.len());
        for (i, t) in time.iter().enumerate() {
            let Some(period) = thermal.periods.iter().position(|p| p.holds(t)) else { continue };
            let sum: f64 = reading.iter_mut().map(|(part, values)| *part * at(values, i)).sum();
            now.clear();
            now.extend(warm.iter_mut().map(|values| at(values, i)));
            if sum.is_nan() || now.iter().any(|t| t.is_nan()) {
                continue;
            }
            rows.period.push(period as f64);
            rows.reading.push(sum);
            for (to, value) in rows.temperatures.iter_mut().zip(&now) {
                to.push(*value);
            }
        }
        rows
    }

    /// The force channels in the order of their names: their sum does not follow that of the columns.
    fn cells(&self) -> Vec<&Channel> {
        let mut all: Vec<&Channel> =
            self.channels.iter().filter(|c| c.role == Role::Force).collect();
        all.sort_by(|a, b| a.id.cmp(&b.id));
        all
    }

    /// The sum of all force channels at every row (newtons), not-a-number where one is not usable;
    /// empty where no channel is a force.
    pub(super) fn forces(&self) -> Vec<f64> {
        if self.cells().is_empty() { Vec::new() } else { self.sums(0..self.time.len()).collect() }
    }

    pub(super) fn sums(&self, rows: Range<usize>) -> impl Iterator<Item = f64> {
        let mut cells: Vec<Cursor<'_>> =
            self.cells().into_iter().map(|c| c.values().cursor()).collect();
        rows.map(move |i| cells.iter_mut().map(|c| c.get(i).unwrap_or(f64::NAN)).sum::<f64>())
    }

    /// Time and sum of the forces in some rows, where all cells are usable: seconds, newtons.
    pub(crate) fn force_in_rows(&self, rows: Range<usize>) -> impl Iterator<Item = (f64, f64)> {
        let own = if self.cells().is_empty() { 0..0 } else { rows };
        self.time.range(own.clone()).zip(self.sums(own)).filter(|(_, f)| !f.is_nan())
    }

    /// The force of record, where all cells are usable.
    pub(super) fn history(&self) -> Samples {
        Samples::of(self.time.store(), self.force_in_rows(0..self.time.len()))
    }

    /// The rows from a time to another, both included (seconds).
    pub(super) fn rows_between(&self, from: f64, to: f64) -> Range<usize> {
        let first = self.time.partition_point(|t| t < from);
        let last = self.time.partition_point(|t| t <= to);
        first..last.max(first)
    }

    /// The rows of a window.
    pub(super) fn rows_in(&self, window: &Window) -> Range<usize> {
        self.rows_between(window.from.value.si() - 1e-9, window.to.value.si() + 1e-9)
    }

    /// The sum of the medians of all force channels in a window; nothing where one was not read.
    pub(super) fn force_in(&self, window: &Window) -> Option<Force> {
        let all = self.cells();
        let sum = all.iter().map(|c| self.in_window(c, window).map(|m| m.0)).sum::<Option<f64>>();
        sum.filter(|_| !all.is_empty()).map(Force::from_si)
    }

    /// SHA-256 of the times and of every channel, by name: 64 hexadecimal digits. The values are those
    /// in SI after reading and cleaning, so that the same readings in another order of columns, in
    /// other units that read to equal bits or from an array have the same fingerprint.
    #[must_use]
    pub fn fingerprint(&self) -> String {
        let mut channels: Vec<&Channel> = self.channels.iter().collect();
        channels.sort_by(|a, b| a.id.cmp(&b.id));
        let mut digest = Digested::default();
        let numbers = |digest: &mut Digested, column: &Column| {
            let all = column.pieces(0..column.len());
            digest.numbers(column.len(), all.map(|p| p.1));
        };
        numbers(&mut digest, &self.time);
        for channel in channels {
            digest.text(&channel.id);
            digest.text(channel.role.word());
            numbers(&mut digest, channel.values());
        }
        digest.hex()
    }

    /// How many samples all channels have together.
    pub(super) fn samples_in_all(&self) -> usize {
        self.time.len() * self.channels.len()
    }

    /// Takes the medians of stretches of every channel that has none.
    ///
    /// # Errors
    /// Where somebody wants an end of it.
    pub(super) fn thin(&mut self) -> Result<(), Error> {
        each(self.samples_in_all(), self.channels.iter_mut(), Channel::thin).map(drop)
    }

    /// How many rows the log has.
    #[must_use]
    pub fn rows(&self) -> usize {
        self.time.len()
    }

    /// The time of the last row since the first.
    #[must_use]
    pub fn span(&self) -> Duration {
        Duration::from_si(self.time.last().unwrap_or(0.0))
    }

    /// The day of the last row as year-month-day, where the log writes date and time.
    #[must_use]
    pub fn last_day(&self) -> Option<&str> {
        self.last_day.as_deref()?.get(..10)
    }

    /// The day at a time since the first row, on the clock that wrote the log.
    pub(crate) fn day_at(&self, time: Duration) -> Option<jiff::civil::Date> {
        day_before(self.last_day.as_deref()?, (self.span() - time).si())
    }

    /// The time of the first row in the numbers of its column: nought for date and time.
    #[must_use]
    pub const fn begins(&self) -> Duration {
        Duration::from_si(self.begins)
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
        self.time.iter().zip(channel.values().iter()).filter(|(_, v)| !v.is_nan())
    }

    /// The median of a channel between two times, and how many samples it holds. SI.
    #[must_use]
    pub fn median(&self, channel: &Channel, from: Duration, to: Duration) -> Option<(f64, usize)> {
        let rows = self.rows_between(from.si() - 1e-9, to.si() + 1e-9);
        median_again(|| channel.values().range(rows.clone()).filter(|v| !v.is_nan()))
    }

    /// How many rows a window holds.
    pub(super) fn rows_of(&self, window: &Window) -> usize {
        self.rows_in(window).len()
    }

    /// The median in a window.
    #[must_use]
    pub fn in_window(&self, channel: &Channel, window: &Window) -> Option<(f64, usize)> {
        self.median(channel, window.from.value, window.to.value)
    }

    /// The largest running median (plus or minus `half`, one vote a second) and its time. SI.
    #[must_use]
    pub fn largest(&self, channel: &Channel, half: Duration) -> Option<(f64, Duration)> {
        let votes = Votes::of(&self.time, channel.values(), 1.0);
        running_median(&votes, half.si())
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .map(|(t, v)| (v, Duration::from_si(t)))
    }

    /// The sum of all force channels at every row where all of them are usable: seconds, newtons.
    #[must_use]
    pub fn force(&self) -> Vec<(f64, f64)> {
        self.force_in_rows(0..self.time.len()).collect()
    }

    /// The largest sum of the force channels, and its time.
    #[must_use]
    pub fn largest_force(&self) -> Option<(Force, Duration)> {
        self.force_in_rows(0..self.time.len())
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
        let mut own = [channel, left.0, right.0].map(|c| c.values().cursor());
        let chord = |i: usize| {
            let [own, left, right] = own.each_mut().map(|c| c.get(i).unwrap_or(f64::NAN));
            own - (left * (1.0 - part) + right * part)
        };
        let values = Column::of(self.time.store(), (0..self.time.len()).map(chord));
        Channel::new(format!("{} net", channel.id), channel.role, values)
    }

    /// # Errors
    /// `readings.file` where a part of it that was put aside on the disk could not be read back.
    pub(crate) fn sound(&self) -> Result<(), Error> {
        self.time.store().sound()
    }
}

/// Times and values, none of them missing.
pub(super) struct Samples {
    time: Column,
    value: Column,
}

impl Samples {
    fn of(store: &Arc<Store>, all: impl Iterator<Item = (f64, f64)>) -> Self {
        let mut own = Self { time: Column::new(store), value: Column::new(store) };
        for (t, v) in all {
            own.time.push(t);
            own.value.push(v);
        }
        own
    }

    pub(super) fn len(&self) -> usize {
        self.time.len()
    }

    /// Some of them, from both ends.
    pub(super) fn range(&self, rows: Range<usize>) -> core::iter::Zip<Values<'_>, Values<'_>> {
        self.time.range(rows.clone()).zip(self.value.range(rows))
    }

    pub(super) fn iter(&self) -> core::iter::Zip<Values<'_>, Values<'_>> {
        self.range(0..self.len())
    }

    /// How many stand before the first whose time does not.
    pub(super) fn before(&self, time: impl Fn(f64) -> bool) -> usize {
        self.time.partition_point(time)
    }

    pub(super) fn reader(&self) -> Reader<'_> {
        Reader { time: self.time.cursor(), value: self.value.cursor() }
    }
}

/// A place among samples, near which looking is quick.
pub(super) struct Reader<'a> {
    time: Cursor<'a>,
    value: Cursor<'a>,
}

impl Reader<'_> {
    pub(super) fn get(&mut self, i: usize) -> Option<(f64, f64)> {
        self.time.get(i).zip(self.value.get(i))
    }
}
