//! A gauge that wanders during the hold or the recovery where its neighbours do not.

use super::series::{Series, Track, median};
use crate::readings::fault::{Fault, FaultKind};
use crate::readings::spec::LogSpec;
use crate::units::{Length, Message, Quantity, Ratio, Said};

/// The part of its own deflection by which a gauge may depart from its neighbours.
const LEAST: f64 = 0.05;
/// The same while the load goes: what stays of it is not the same part at every place.
const GOING: f64 = 0.08;
/// The load is off below this part of its span.
const OFF: f64 = 0.03;
/// A part of its deflection by which the gauges come back, or go on, under a force that stays (library rule):
/// a day and creep do less.
const BACK: f64 = 0.1;
const ON: f64 = 0.3;
/// A force stays within this part of its span.
const STAYS: f64 = 0.015;
/// The noise it must stand out of.
const NOISE: f64 = 8.0;
/// Points from which its value at the beginning and the end is taken.
const SIDE: usize = 5;
/// The load is full from this part of its value at the peak.
const FULL: f64 = 0.97;

/// The gauges that move, in the hold or after unloading, by another part of their deflection than
/// their neighbours do; one with another fault (`known`) is no neighbour. With two gauges it is the one that moves more.
pub(super) fn shifts(series: &Series, spec: &LogSpec, known: &[Fault]) -> Vec<Fault> {
    let moments = &spec.moments;
    let peak = series.between(moments.peak.from.value.si(), moments.peak.to.value.si());
    let mut found = Vec::new();
    let at_peak = median(series.load.get(peak.clone()).unwrap_or_default());
    let full = at_peak.and_then(|p| {
        series.load.iter().take(peak.start).rposition(|l| *l < FULL * p).map(|i| i + 1)
    });
    if let Some(first) = full {
        found.extend(departures(series, known, (first, peak.end), LEAST));
        found.extend(under_a_force_that_stays(series, known, (first, peak.end)));
        let off = series.load.iter().skip(peak.end).position(|l| *l <= OFF).map(|i| i + peak.end);
        if let Some(off) = off {
            let going = (peak.end.saturating_sub(SIDE), (off + SIDE).min(series.time.len()));
            let going = departures(series, known, going, GOING);
            found.extend(apart_from(&found, going));
        }
    }
    if let (Some(off), Some(rest)) = (&moments.unloaded, &moments.residual) {
        let after = series.between(off.value.si(), rest.to.value.si());
        let late = departures(series, known, (after.start, after.end), LEAST);
        found.extend(apart_from(&found, late));
    }
    found
}

/// Those of a channel that has none yet.
fn apart_from(found: &[Fault], more: Vec<Fault>) -> Vec<Fault> {
    more.into_iter().filter(|f| !found.iter().any(|g| g.channel == f.channel)).collect()
}

/// A hold in which the force stays and the gauges together come back, or go on by more than a member creeps:
/// the load bled off or rose behind a cell that drifts.
fn under_a_force_that_stays(
    series: &Series,
    known: &[Fault],
    (first, end): (usize, usize),
) -> Option<Fault> {
    if end < first + 2 * SIDE {
        return None;
    }
    let free =
        |t: &&Track| !known.iter().any(|f| f.channel == t.id || f.with.as_ref() == Some(&t.id));
    let mut cells = series.tracks.iter().filter(|t| t.is_force());
    if !cells.clone().all(|t| free(&t)) {
        return None;
    }
    let cell = cells.next()?;
    let side = |values: &[f64], from: usize| median(values.get(from..from + SIDE)?);
    let load = (side(&series.load, first)?, side(&series.load, end - SIDE)?);
    let whole = series.load.get(first..end)?;
    let unread = whole.iter().filter(|l| l.is_nan()).count();
    let (low, high) = super::series::range(whole);
    if (load.1 - load.0).abs() > STAYS || high - low > 4.0 * STAYS || unread * 5 > whole.len() {
        return None;
    }
    let largest = series.largest_gauge();
    let moved = |t: &Track| {
        let (start, now) = (side(&t.values, first)?, side(&t.values, end - SIDE)?);
        let from_zero = start - t.zero?;
        let clear = from_zero.abs() > 0.2 * largest && t.span() > 10.0 * t.noise;
        clear.then(|| (now - start) / from_zero)
    };
    let gauges = series.tracks.iter().filter(|t| t.is_gauge()).filter(free);
    let parts: Vec<f64> = gauges.filter_map(moved).collect();
    let part = median(&parts).filter(|p| *p < -BACK || *p > ON)?;
    let at = |i: usize| series.time.get(i).copied().unwrap_or(0.0);
    let note = if part < 0.0 {
        "the gauges come back by {} of their deflection while it shows the same force: does it drift, and the load bleed off?; kept"
    } else {
        "the gauges go on by {} of their deflection while it shows the same force: does it drift, and the load rise?; kept"
    };
    let note = Message::new(note, [Ratio::from(part.abs()).into()]);
    Some(Fault::new(FaultKind::Contradicted, &cell.id, (at(first), at(end - 1)), end - first, note))
}

fn departures(
    series: &Series,
    known: &[Fault],
    (first, end): (usize, usize),
    part: f64,
) -> Vec<Fault> {
    if end < first + 2 * SIDE {
        return Vec::new();
    }
    let largest = series.largest_gauge();
    let gauges = |values: fn(&Track) -> &[f64]| -> Vec<(&Track, f64, f64)> {
        series
            .tracks
            .iter()
            .filter(|t| !known.iter().any(|f| f.channel == t.id || f.with.as_ref() == Some(&t.id)))
            .filter(|t| t.is_gauge() && t.span() > 0.2 * largest && t.span() > 10.0 * t.noise)
            .filter_map(|t| {
                let start = median(values(t).get(first..first + SIDE)?)?;
                let now = median(values(t).get(end - SIDE..end)?)?;
                Some((t, now - start, t.way()))
            })
            .collect()
    };
    // what only the correction for the temperature moves is no movement of the gauge
    let (moves, as_read) = (gauges(|t| &t.values), gauges(Track::as_read));
    let (Some(common), Some(common_as_read)) = (common(&moves), common(&as_read)) else {
        return Vec::new();
    };
    let at = |i: usize| series.time.get(i).copied().unwrap_or(0.0);
    moves
        .iter()
        .zip(&as_read)
        .filter_map(|((track, moved, rise), (_, read, _))| {
            let off = moved - common * rise;
            let off_as_read = read - common_as_read * rise;
            let least = (part * rise.abs()).max(NOISE * track.noise);
            let both = off.abs() >= least && off_as_read.abs() >= least && off * off_as_read > 0.0;
            both.then(|| {
                let note = Message::new(
                    "moved by {} where its neighbours say {}; kept",
                    [
                        Said::small(Length::from_si(*moved)),
                        Said::small(Length::from_si(common * rise)),
                    ],
                );
                let mut fault = Fault::new(
                    FaultKind::Shift,
                    &track.id,
                    (at(first), at(end - 1)),
                    end - first,
                    note,
                );
                fault.offset = Some(Quantity::new(track.role.kind(), -off));
                fault
            })
        })
        .collect()
}

/// The part of their deflection by which the gauges move together; of two the smaller.
fn common(moves: &[(&Track, f64, f64)]) -> Option<f64> {
    let parts: Vec<f64> = moves.iter().map(|(_, moved, rise)| moved / rise).collect();
    match parts.len() {
        0 | 1 => None,
        2 => parts.iter().copied().min_by(|a, b| a.abs().total_cmp(&b.abs())),
        _ => median(&parts),
    }
}
