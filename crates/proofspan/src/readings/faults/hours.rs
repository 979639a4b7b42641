//! What a channel says in a window, against the hours around it.

use super::series::{Series, Track, median, said};
use crate::readings::fault::{Fault, FaultKind};
use crate::readings::log::Log;
use crate::readings::median::median_again;
use crate::readings::spec::{LogSpec, Role, Window};
use crate::units::{Kind, Message};

/// Fewer samples than this in a window are few.
const FEW: usize = 4;
/// So long before and after a window its neighbours reach, in seconds.
const HOUR: f64 = 3600.0;
/// How far a window of few samples may be from them, as a part of the span of the gauge, and in noise.
const PART: f64 = 0.02;
const NOISES: f64 = 6.0;
/// A load within this part of the full one is the same.
const SAME: f64 = 0.01;
/// Points from which a bearing is read.
const SIDE: usize = 5;
/// A bearing that sinks by less than this part of the largest gauge sinks by nothing.
const LEAST: f64 = 0.05;

/// Gauges whose few samples in the peak or the residual window say something else than the hour around it.
pub(super) fn few(log: &Log, series: &Series, spec: &LogSpec) -> Vec<Fault> {
    let moments = &spec.moments;
    let mut found = Vec::new();
    let Some(whole) = log.force_in(&moments.peak).map(|f| f.si().abs()) else { return found };
    for (own, track) in log.channels.iter().zip(&series.tracks).filter(|t| t.1.is_gauge()) {
        let least = (PART * track.span()).max(NOISES * track.noise);
        // where the same load was on
        let median_in = |from: f64, to: f64, on: &dyn Fn(f64) -> bool| {
            let rows = log.rows_between(from, to);
            let both = || own.values().range(rows.clone()).zip(log.sums(rows.clone()));
            median_again(|| both().filter(|(v, f)| !v.is_nan() && on(*f)).map(|s| s.0))
        };
        let look = |window: &Window, after: bool| {
            let (from, to) = (window.from.value.si(), window.to.value.si());
            let (value, count) = median_in(from - 1e-9, to + 1e-9, &|_| true)?;
            if count >= FEW {
                return None;
            }
            let force = log.force_in(window)?.si();
            let on = |f: f64| (f - force).abs() <= SAME * whole;
            let before = median_in(from - HOUR, from - 1e-6, &on);
            let after = after.then(|| median_in(to + 1e-6, to + HOUR, &on)).flatten();
            let sides: Vec<f64> = [before, after]
                .into_iter()
                .flatten()
                .filter(|m| m.1 >= FEW)
                .map(|m| m.0 - value)
                .collect();
            let (low, high) = super::series::range(&sides);
            // both say that it is too low, or both that it is too high
            let off = if low > least { low } else { high };
            if sides.is_empty() || !(low > least || high < -least) {
                return None;
            }
            let note = Message::new(
                "{} samples say {}, the hour around them {}; kept",
                [(count as f64).into(), said(Kind::Length, value), said(Kind::Length, value + off)],
            );
            Some(Fault::new(FaultKind::Contradicted, &own.id, (from, to), count, note))
        };
        let residual = moments.residual.as_ref().and_then(|w| look(w, true));
        found.extend(look(&moments.peak, false).into_iter().chain(residual));
    }
    found
}

/// Bearings that sink by more after the load is off than they did under all of it.
pub(super) fn bearings(series: &Series, spec: &LogSpec) -> Vec<Fault> {
    let moments = &spec.moments;
    let Some((off, residual)) = moments.unloaded.as_ref().zip(moments.residual.as_ref()) else {
        return Vec::new();
    };
    let after = series.between(off.value.si(), residual.to.value.si());
    if after.len() < 2 * SIDE {
        return Vec::new();
    }
    let at = |i: usize| series.time.get(i).copied().unwrap_or(0.0);
    let sinks = |t: &Track| {
        if t.role != Role::Settlement {
            return None;
        }
        let side = |from: usize| median(t.values.get(from..from + SIDE)?);
        let sunk = side(after.end - SIDE)? - side(after.start)?;
        let under = t.rise()?;
        let least = under.abs().max(NOISES * t.noise).max(LEAST * series.largest_gauge());
        (sunk > least).then(|| {
            let note = Message::new(
                "the bearing sinks by {} after the load is off, under all of it {}; kept",
                [said(Kind::Length, sunk), said(Kind::Length, under)],
            );
            let times = (at(after.start), at(after.end - 1));
            Fault::new(FaultKind::Contradicted, &t.id, times, after.len(), note)
        })
    };
    series.tracks.iter().filter_map(sinks).collect()
}
