//! A gauge that wanders during the hold or the recovery where its neighbours do not.

use super::series::{Series, Track, median};
use crate::readings::fault::{Fault, FaultKind};
use crate::readings::spec::LogSpec;
use crate::units::{Length, Message, Quantity, Said};

/// The part of its own deflection by which a gauge may depart from its neighbours.
const LEAST: f64 = 0.05;
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
        found.extend(departures(series, known, first, peak.end));
    }
    if let (Some(off), Some(rest)) = (&moments.unloaded, &moments.residual) {
        let after = series.between(off.value.si(), rest.to.value.si());
        let early: Vec<Fault> = departures(series, known, after.start, after.end);
        found.extend(
            early
                .into_iter()
                .filter(|f| !found.iter().any(|g: &Fault| g.channel == f.channel))
                .collect::<Vec<_>>(),
        );
    }
    found
}

fn departures(series: &Series, known: &[Fault], first: usize, end: usize) -> Vec<Fault> {
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
            let least = (LEAST * rise.abs()).max(NOISE * track.noise);
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
