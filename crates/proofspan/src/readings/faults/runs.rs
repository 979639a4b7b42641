//! Runs of samples: the same to the last digit, cut off, or away and back.

use super::effect::left_out;
use super::series::{Series, Track, said};
use crate::error::Error;
use crate::readings::channel::Channel;
use crate::readings::column::{Column, Cursor};
use crate::readings::fault::{Fault, FaultKind};
use crate::readings::log::Log;
use crate::readings::spec::{LogSpec, Role};
use crate::readings::threads::each;
use crate::units::{Message, Ratio};

/// Fewer equal readings than this are chance.
const LEAST: usize = 5;
/// In a quiet period so many equal readings of a noisy channel are needed.
const QUIET: usize = 20;
/// A channel is noisy where fewer of its readings than this repeat the one before.
const REPEATS: f64 = 0.25;
/// The movement that a reading which stays the same must have missed, as a part of its span.
const MISSED: f64 = 0.04;
/// The least size of a spike, as a part of the span of its channel, and in noise.
const SPIKE: (f64, f64) = (0.04, 12.0);
/// A spike is at most so many samples long.
const SHORT: usize = 3;
/// How near to where it was a spike comes back, and how little else may move with it.
const BACK: f64 = 0.25;

#[derive(Clone, Copy)]
struct Run {
    first: usize,
    last: usize,
    count: usize,
    value: f64,
}

/// Sees the runs of at least [`LEAST`] equal usable samples in their order.
fn each_run(values: &Column, mut visit: impl FnMut(&Run)) {
    let mut now: Option<Run> = None;
    for (base, piece) in values.pieces(0..values.len()) {
        for (i, v) in piece.iter().enumerate().filter(|(_, v)| !v.is_nan()) {
            let row = base + i;
            match &mut now {
                Some(run) if run.value.to_bits() == v.to_bits() => {
                    run.last = row;
                    run.count += 1;
                }
                _ => {
                    let next = Run { first: row, last: row, count: 1, value: *v };
                    if let Some(run) = now.replace(next).filter(|r| r.count >= LEAST) {
                        visit(&run);
                    }
                }
            }
        }
    }
    if let Some(run) = now.filter(|r| r.count >= LEAST) {
        visit(&run);
    }
}

/// The runs at the largest or at the least value of a channel.
struct AtEnd {
    value: f64,
    /// The longest of them, of two of one length the later one.
    longest: Option<Run>,
    first: usize,
    last: usize,
    count: usize,
}

impl AtEnd {
    const fn of(value: f64) -> Self {
        Self { value, longest: None, first: usize::MAX, last: 0, count: 0 }
    }

    fn see(&mut self, run: &Run) {
        if run.value.to_bits() == self.value.to_bits() {
            self.longest = self.longest.filter(|l| l.count > run.count).or(Some(*run));
            self.first = self.first.min(run.first);
            self.last = self.last.max(run.last);
            self.count += run.count;
        }
    }
}

/// What a channel shows in all.
struct Shown {
    low: f64,
    high: f64,
    /// The share of the samples outside the longest run that repeat the one before them.
    repeats: f64,
}

impl Shown {
    fn of(values: &Column) -> Self {
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        let (mut usable, mut repeats, mut longest, mut run) = (0_usize, 0_usize, 0_usize, 0);
        let mut last = f64::NAN;
        for (_, piece) in values.pieces(0..values.len()) {
            for v in piece.iter().filter(|v| !v.is_nan()) {
                // a comparison that hardly ever holds is quicker than the least of two
                if *v < low {
                    low = *v;
                }
                if *v > high {
                    high = *v;
                }
                usable += 1;
                if v.to_bits() == last.to_bits() {
                    repeats += 1;
                    run += 1;
                } else {
                    run = 1;
                    last = *v;
                }
                if run >= LEAST && run > longest {
                    longest = run;
                }
            }
        }
        let others = usable.saturating_sub(longest).max(1);
        let repeats = repeats.saturating_sub(longest.saturating_sub(1)) as f64 / others as f64;
        Self { low, high, repeats }
    }
}

/// Readings that stay the same to the last digit while the load or the neighbours move, or where
/// the channel else never rests; and readings cut off at the end of what it can show.
pub(super) fn stuck(log: &Log, series: &Series) -> Result<Vec<Fault>, Error> {
    let channels = log.channels.iter().zip(&series.tracks).enumerate();
    let found = each(log.samples_in_all(), channels, |(own, (channel, track))| {
        stuck_of(log, series, (own, channel, track))
    })?;
    Ok(found.into_iter().flatten().collect())
}

fn stuck_of(
    log: &Log,
    series: &Series,
    (own, channel, track): (usize, &Channel, &Track),
) -> Option<Fault> {
    // a temperature may rest, and what people count does between two increments
    if matches!(channel.role, Role::Temperature | Role::Count) {
        return None;
    }
    let shown = Shown::of(channel.values());
    let repeats = shown.repeats;
    let mut times = log.time.cursor();
    let mut ends = [shown.high, shown.low].map(AtEnd::of);
    let mut worst: Option<(Run, f64)> = None;
    each_run(channel.values(), |run| {
        ends.iter_mut().for_each(|end| end.see(run));
        // of two of one length the later one
        if worst.as_ref().is_some_and(|w| run.count < w.0.count) {
            return;
        }
        let mut at = |i: usize| times.get(i).unwrap_or(0.0);
        let missed = missed(series, own, at(run.first), at(run.last));
        let moved = missed.is_some_and(|m| {
            m >= MISSED && m * track.span() >= 10.0 * track.noise && track.span() > 0.0
        }) || (track.is_gauge() && dead(run, channel.values().len(), series));
        let quiet = !track.is_force()
            && run.count >= QUIET
            && repeats < REPEATS
            && (repeats.max(0.01)).powf(run.count as f64) < 1e-12;
        if moved || quiet {
            worst = Some((*run, missed.unwrap_or(0.0)));
        }
    });
    if let Some(cut) = ends.iter().find_map(|end| cut_off(channel, end, series, own, log)) {
        return Some(cut.named(&channel.id));
    }
    let (run, missed) = worst?;
    let at = |i: usize| log.time.get(i).unwrap_or(0.0);
    let note = Message::new(
        "the same to the last digit {} times, while load or neighbours moved by {} of their range; kept",
        [(run.count as f64).into(), Ratio::from(missed).into()],
    );
    let times = (at(run.first), at(run.last));
    Some(Fault::new(FaultKind::Stuck, &channel.id, times, run.count, note))
}

/// A gauge that shows one value all the time while the load is on and off.
fn dead(run: &Run, rows: usize, series: &Series) -> bool {
    run.count * 10 >= rows * 9
        && rows >= QUIET
        && series.load_moves(0..series.time.len()).is_some_and(|m| m > 0.5)
}

/// How far this channel should have moved between two times, as a part of its own span: by its
/// neighbours, else by the load.
fn missed(series: &Series, own: usize, from: f64, to: f64) -> Option<f64> {
    let points = series.between(from, to);
    let of = |t: &Track| {
        let (low, high) = super::series::range(t.values.get(points.clone())?);
        (high > low && t.span() > 0.0).then(|| (high - low - 4.0 * t.noise).max(0.0) / t.span())
    };
    let neighbours: Vec<f64> = series.beside(own).filter_map(of).collect();
    let load = if series.tracks.get(own).is_some_and(Track::is_force) {
        None
    } else {
        series.load_moves(points.clone())
    };
    match super::series::median(&neighbours) {
        Some(moved) => Some(load.map_or(moved, |l| l.max(moved))),
        None => load,
    }
}

struct Cut {
    times: (f64, f64),
    count: usize,
    note: Message,
}

impl Cut {
    fn named(self, id: &str) -> Fault {
        Fault::new(FaultKind::Saturated, id, self.times, self.count, self.note)
    }
}

/// Equal readings at the extreme of the channel, reached and left without a jump while the others
/// go on.
fn cut_off(channel: &Channel, end: &AtEnd, series: &Series, own: usize, log: &Log) -> Option<Cut> {
    let track = series.tracks.get(own).filter(|t| t.span() > 0.0)?;
    let (values, run) = (channel.values(), end.longest?);
    let before = values.range(0..run.first).rev().find(|v| !v.is_nan())?;
    let after = values.range(run.last + 1..values.len()).find(|v| !v.is_nan())?;
    let near = |v: f64| (v - end.value).abs() <= 0.1 * track.span();
    let at = |i: usize| log.time.get(i).unwrap_or(0.0);
    let missed = missed(series, own, at(run.first), at(run.last)).unwrap_or(0.0);
    let cut = near(before)
        && near(after)
        && missed >= MISSED
        && missed * track.span() >= 10.0 * track.noise;
    cut.then(|| Cut {
        times: (at(end.first), at(end.last)),
        count: end.count,
        note: Message::new(
            "cut off at {}, while load or neighbours moved on by {} of their range; kept",
            [said(channel.role.kind(), end.value), Ratio::from(missed).into()],
        ),
    })
}

/// The spikes of a channel in order: where each begins and is back, and how far it was away.
struct Away {
    first: Column,
    back: Column,
    size: Column,
}

impl Away {
    fn none(log: &Log) -> Self {
        let column = || Column::new(log.time.store());
        Self { first: column(), back: column(), size: column() }
    }

    fn push(&mut self, first: usize, back: usize, size: f64) {
        self.first.push(first as f64);
        self.back.push(back as f64);
        self.size.push(size);
    }

    /// First row and the row after the last of each.
    fn rows(&self) -> impl Iterator<Item = (usize, usize)> {
        self.first.iter().zip(self.back.iter()).map(|(first, back)| (first as usize, back as usize))
    }
}

/// A few samples that leave and come back while load and neighbours stay where they are: left out.
pub(super) fn spikes(log: &mut Log, series: &Series, spec: &LogSpec) -> Result<Vec<Fault>, Error> {
    let mut found = Vec::new();
    if log.time.len() < QUIET {
        return Ok(found);
    }
    let all = each(log.samples_in_all(), 0..log.channels.len(), |own| away(log, series, own))?;
    for (own, bad) in all.iter().enumerate().filter(|b| b.1.size.len() > 0) {
        let at = |i: Option<f64>| i.and_then(|i| log.time.get(i as usize)).unwrap_or(0.0);
        let times = (at(bad.first.first()), at(bad.back.last().map(|back| back - 1.0)));
        let rows = bad.rows().flat_map(|(first, back)| first..back).map(|i| i as f64);
        let rows = Column::of(log.time.store(), rows);
        let Some(channel) = log.channels.get_mut(own) else { continue };
        channel.values_mut().blank(&rows);
        let largest = bad.size.iter().map(f64::abs).fold(0.0, f64::max);
        let count = rows.len();
        let note = Message::new(
            "away by up to {} and back within {} samples, while nothing else moved: left out",
            [said(channel.role.kind(), largest), (SHORT as f64).into()],
        );
        let fault = Fault::new(FaultKind::Spike, &channel.id, times, count, note);
        if let Some(channel) = log.channels.get(own) {
            found.push(left_out(log, channel, fault, spec, true));
        }
    }
    Ok(found)
}

/// The spikes of one channel.
fn away(log: &Log, series: &Series, own: usize) -> Away {
    let mut bad = Away::none(log);
    let Some((track, channel)) = series.tracks.get(own).zip(log.channels.get(own)) else {
        return bad;
    };
    let least = series.least(track, SPIKE.0, SPIKE.0, SPIKE.1);
    let moves = channel.role.is_movement() || channel.role == Role::Rotation;
    if least <= 0.0 || !(moves || track.is_force()) {
        return bad;
    }
    let mut before: Option<(usize, f64)> = None;
    let mut values = channel.values().cursor();
    let mut others: Vec<Cursor<'_>> = log.channels.iter().map(|c| c.values().cursor()).collect();
    let mut i = 0;
    while let Some(v) = values.get(i) {
        if let Some((last, quiet)) = before
            && (v - quiet).abs() >= least
            && let Some((back, size)) = returns(&mut values, i, quiet)
            && alone(&mut others, series, own, (last, i, back), size)
        {
            bad.push(i, back, size);
            i = back;
            continue;
        }
        if !v.is_nan() {
            before = Some((i, v));
        }
        i += 1;
    }
    if super::steps::graininess(bad.size.iter()) {
        return Away::none(log);
    }
    bad
}

/// Where a reading that left `quiet` at `i` is back, and how far it was away.
fn returns(values: &mut Cursor<'_>, i: usize, quiet: f64) -> Option<(usize, f64)> {
    let away = values.get(i)? - quiet;
    let mut size = away;
    for back in i + 1..=i + SHORT {
        let v = values.get(back)?;
        if (v - quiet).abs() <= BACK * size.abs() {
            return Some((back, size));
        }
        if (v - quiet) * away <= 0.0 {
            return None;
        }
        if (v - quiet).abs() < size.abs() {
            size = v - quiet;
        }
    }
    None
}

/// Whether nothing else went away and came back with it.
fn alone(
    channels: &mut [Cursor<'_>],
    series: &Series,
    own: usize,
    (before, first, back): (usize, usize, usize),
    size: f64,
) -> bool {
    let span = series.tracks.get(own).map_or(1.0, Track::span).max(f64::MIN_POSITIVE);
    let part = (size.abs() / span).min(1.0);
    channels.iter_mut().zip(&series.tracks).enumerate().all(|(i, (other, track))| {
        if i == own || !(track.is_gauge() || track.is_force()) || track.span() <= 10.0 * track.noise
        {
            return true;
        }
        let mut of = |i: usize| other.get(i).unwrap_or(f64::NAN);
        let rest = f64::midpoint(of(before), of(back));
        let away = (of(first) - rest).abs() / track.span();
        away.is_nan() || away <= BACK * part + 6.0 * track.noise / track.span()
    })
}
