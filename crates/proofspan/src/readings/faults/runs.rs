//! Runs of samples: the same to the last digit, cut off, or away and back.

use super::effect::left_out;
use super::series::{Series, Track, said};
use crate::error::Error;
use crate::readings::channel::Channel;
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

struct Run {
    first: usize,
    last: usize,
    count: usize,
    value: f64,
}

/// The runs of at least [`LEAST`] equal usable samples, and the share of the other samples that
/// repeat the one before them.
fn runs(values: &[f64]) -> (Vec<Run>, f64) {
    let mut found: Vec<Run> = Vec::new();
    let (mut usable, mut inside) = (0_usize, 0_usize);
    let mut repeats = 0_usize;
    let mut now: Option<Run> = None;
    for (i, v) in values.iter().enumerate().filter(|(_, v)| !v.is_nan()) {
        usable += 1;
        match &mut now {
            Some(run) if run.value.to_bits() == v.to_bits() => {
                run.last = i;
                run.count += 1;
                repeats += 1;
            }
            _ => {
                let before = now.replace(Run { first: i, last: i, count: 1, value: *v });
                found.extend(before.filter(|r| r.count >= LEAST));
            }
        }
    }
    found.extend(now.filter(|r| r.count >= LEAST));
    let longest = found.iter().map(|r| r.count).max().unwrap_or(0);
    inside += longest;
    let others = usable.saturating_sub(inside).max(1);
    let share = repeats.saturating_sub(longest.saturating_sub(1)) as f64 / others as f64;
    (found, share)
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
    let (runs, repeats) = runs(channel.values());
    if let Some(cut) = cut_off(channel.role, channel.values(), &runs, series, own, log) {
        return Some(cut.named(&channel.id));
    }
    let at = |i: usize| log.time.get(i).copied().unwrap_or(0.0);
    let worst = runs
        .iter()
        .filter_map(|run| {
            let missed = missed(series, own, at(run.first), at(run.last));
            let moved = missed.is_some_and(|m| {
                m >= MISSED && m * track.span() >= 10.0 * track.noise && track.span() > 0.0
            }) || (track.is_gauge() && dead(run, channel.values().len(), series));
            let quiet = !track.is_force()
                && run.count >= QUIET
                && repeats < REPEATS
                && (repeats.max(0.01)).powf(run.count as f64) < 1e-12;
            (moved || quiet).then_some((run, missed.unwrap_or(0.0)))
        })
        .max_by_key(|(run, _)| run.count);
    let (run, missed) = worst?;
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
fn cut_off(
    role: Role,
    values: &[f64],
    runs: &[Run],
    series: &Series,
    own: usize,
    log: &Log,
) -> Option<Cut> {
    let track = series.tracks.get(own)?;
    if track.span() <= 0.0 {
        return None;
    }
    let (low, high) = super::series::range(values);
    for extreme in [high, low] {
        let at_end = || runs.iter().filter(|r| r.value.to_bits() == extreme.to_bits());
        let Some(run) = at_end().max_by_key(|r| r.count) else { continue };
        let usable = |range: &mut dyn Iterator<Item = usize>| {
            range.filter_map(|i| values.get(i).copied()).find(|v| !v.is_nan())
        };
        let before = usable(&mut (0..run.first).rev());
        let after = usable(&mut (run.last + 1..values.len()));
        let (Some(before), Some(after)) = (before, after) else { continue };
        let near = |v: f64| (v - extreme).abs() <= 0.1 * track.span();
        let at = |i: usize| log.time.get(i).copied().unwrap_or(0.0);
        let missed = missed(series, own, at(run.first), at(run.last)).unwrap_or(0.0);
        if near(before)
            && near(after)
            && missed >= MISSED
            && missed * track.span() >= 10.0 * track.noise
        {
            let count = at_end().map(|r| r.count).sum();
            let first = at_end().map(|r| r.first).min().unwrap_or(run.first);
            let last = at_end().map(|r| r.last).max().unwrap_or(run.last);
            return Some(Cut {
                times: (at(first), at(last)),
                count,
                note: Message::new(
                    "cut off at {}, while load or neighbours moved on by {} of their range; kept",
                    [said(role.kind(), extreme), Ratio::from(missed).into()],
                ),
            });
        }
    }
    None
}

/// Where a spike begins and is back, and how far it was away.
type Away = (usize, usize, f64);

/// A few samples that leave and come back while load and neighbours stay where they are: left out.
pub(super) fn spikes(log: &mut Log, series: &Series, spec: &LogSpec) -> Result<Vec<Fault>, Error> {
    let mut found = Vec::new();
    if log.time.len() < QUIET {
        return Ok(found);
    }
    let all = each(log.samples_in_all(), 0..log.channels.len(), |own| away(log, series, own))?;
    for (own, bad) in all.iter().enumerate().filter(|b| !b.1.is_empty()) {
        let at = |i: Option<usize>| i.and_then(|i| log.time.get(i).copied()).unwrap_or(0.0);
        let times = (at(bad.first().map(|b| b.0)), at(bad.last().map(|b| b.1 - 1)));
        let Some(channel) = log.channels.get_mut(own) else { continue };
        for (first, back, _) in bad {
            if let Some(samples) = channel.values_mut().get_mut(*first..*back) {
                samples.fill(f64::NAN);
            }
        }
        let largest = bad.iter().map(|b| b.2.abs()).fold(0.0, f64::max);
        let count = bad.iter().map(|(first, back, _)| back - first).sum();
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
fn away(log: &Log, series: &Series, own: usize) -> Vec<Away> {
    let mut bad: Vec<Away> = Vec::new();
    let Some((track, channel)) = series.tracks.get(own).zip(log.channels.get(own)) else {
        return bad;
    };
    let least = series.least(track, SPIKE.0, SPIKE.0, SPIKE.1);
    let moves = channel.role.is_movement() || channel.role == Role::Rotation;
    if least <= 0.0 || !(moves || track.is_force()) {
        return bad;
    }
    let mut before: Option<(usize, f64)> = None;
    let values = channel.values();
    let mut i = 0;
    while let Some(v) = values.get(i).copied() {
        if let Some((last, quiet)) = before
            && (v - quiet).abs() >= least
            && let Some((back, size)) = returns(values, i, quiet)
            && alone(log, series, own, (last, i, back), size)
        {
            bad.push((i, back, size));
            i = back;
            continue;
        }
        if !v.is_nan() {
            before = Some((i, v));
        }
        i += 1;
    }
    if super::steps::graininess(bad.iter().map(|b| b.2)) {
        bad.clear();
    }
    bad
}

/// Where a reading that left `quiet` at `i` is back, and how far it was away.
fn returns(values: &[f64], i: usize, quiet: f64) -> Option<(usize, f64)> {
    let away = values.get(i)? - quiet;
    let mut size = away;
    for back in i + 1..=i + SHORT {
        let v = values.get(back).copied()?;
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
    log: &Log,
    series: &Series,
    own: usize,
    (before, first, back): (usize, usize, usize),
    size: f64,
) -> bool {
    let span = series.tracks.get(own).map_or(1.0, Track::span).max(f64::MIN_POSITIVE);
    let part = (size.abs() / span).min(1.0);
    log.channels.iter().zip(&series.tracks).enumerate().all(|(i, (other, track))| {
        if i == own || !(track.is_gauge() || track.is_force()) || track.span() <= 10.0 * track.noise
        {
            return true;
        }
        let of = |i: usize| other.values().get(i).copied().unwrap_or(f64::NAN);
        let rest = f64::midpoint(of(before), of(back));
        let away = (of(first) - rest).abs() / track.span();
        away.is_nan() || away <= BACK * part + 6.0 * track.noise / track.span()
    })
}
