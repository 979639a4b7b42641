//! A log is cleaned and its faults are named when it is made, whole or the part of one stage.

use super::channel::Channel;
use super::clean::clean;
use super::column::Column;
use super::fault::{Fault, FaultKind};
use super::faults::{of_log, weighed};
use super::log::Log;
use super::spec::{ChannelSpec, LogSpec, ThermalFit};
use super::threads::each;
use crate::error::Error;
use crate::units::{Duration, Message};

/// The true values of a channel that was read well.
fn calibrate(channel: &mut Channel, own: &ChannelSpec) {
    let Some((found, row)) = own.calibration.as_ref().zip(own.row()) else { return };
    channel.change(0..channel.values().len(), |value| {
        let read = row.from_si(value * own.sign);
        row.to_si(found.factor * read + found.offset) * own.sign
    });
}

impl Log {
    /// # Errors
    /// Where somebody wants an end of it.
    pub(super) fn new(
        time: Column,
        channels: Vec<Channel>,
        faults: Vec<Fault>,
        last_day: Option<String>,
        spec: &LogSpec,
    ) -> Result<Self, Error> {
        let mut log =
            Self { time, channels, faults, last_day, begins: 0.0, control: None, series: false };
        let (time, samples) = (&log.time, log.time.len() * log.channels.len());
        let found =
            each(samples, log.channels.iter_mut().zip(&spec.channels), |(channel, own)| {
                let mut found = Vec::new();
                clean(channel, own, spec, time, &mut found);
                calibrate(channel, own);
                channel.thin();
                found
            })?;
        log.faults.extend(found.into_iter().flatten());
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
            let found = of_log(&mut log, spec)?;
            log.faults.extend(found);
        }
        log.sound()?;
        Ok(log)
    }

    /// The part of a log of several stages that belongs to one, with its own faults: from a time, up
    /// to and without another. Times stay those of the whole log.
    ///
    /// # Errors
    /// Where somebody wants an end of it.
    pub(crate) fn part(
        &self,
        from: Option<Duration>,
        to: Option<Duration>,
        spec: &LogSpec,
    ) -> Result<Self, Error> {
        let at = |t: Option<Duration>, none: usize| {
            t.map_or(none, |t| self.time.partition_point(|own| own < t.si() - 1e-9))
        };
        let (first, last) = (at(from, 0), at(to, self.time.len()));
        let cut = |values: &Column| {
            let mut own = Column::new(values.store());
            values.pieces(first..last.max(first)).for_each(|(_, piece)| own.extend(&piece));
            own
        };
        let one = |c: &Channel| Channel::new(c.id.clone(), c.role, cut(c.values()));
        let time = cut(&self.time);
        let ends = time.first().zip(time.last());
        let inside = |f: &&Fault| ends.is_some_and(|(a, b)| f.to.si() >= a && f.from.si() <= b);
        let mut part = Self {
            channels: self.channels.iter().map(one).collect(),
            faults: self.faults.iter().filter(inside).cloned().collect(),
            last_day: self.last_day.clone(),
            begins: self.begins,
            series: self.series,
            time,
            control: spec.thermal.as_ref().map(|thermal| self.control_rows(thermal)),
        };
        let found = of_log(&mut part, spec)?;
        part.faults.extend(found);
        Ok(part)
    }

    /// The rows of the control periods alone.
    fn control_rows(&self, thermal: &ThermalFit) -> (Column, Vec<Channel>) {
        let inside = |t: f64| thermal.periods.iter().any(|p| p.holds(t));
        let cut = |values: &Column| {
            let rows = self.time.iter().zip(values.iter()).filter(|(t, _)| inside(*t));
            Column::of(values.store(), rows.map(|(_, v)| v))
        };
        let one = |c: &Channel| Channel::new(c.id.clone(), c.role, cut(c.values()));
        (cut(&self.time), self.channels.iter().map(one).collect())
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
