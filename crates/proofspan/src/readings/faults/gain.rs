//! Every gauge at once in another scale: a logger whose gain or unit is changed, or a reference that moved.

use super::series::{Series, Track, median, said};
use crate::readings::fault::{Fault, FaultKind};
use crate::readings::spec::LogSpec;
use crate::units::{Kind, Message, Ratio};

/// The part of their deflection by which the gauges come back at once without a load that goes (library rule);
/// while it goes, by which they come back more than it does.
const LEAST: f64 = 0.04;
const GOING: f64 = 0.08;
/// What goes of a deflection is at most so many times what goes of the load: a member unloads no softer than it
/// was loaded, from zero to peak.
const SOFTEST: f64 = 1.1;
/// The load stays where it moves by less than this part of its span.
const STAYS: f64 = 0.015;
/// At the end of the peak at least this part of the load is on.
const ON: f64 = 0.5;
/// The noise it stands out of.
const NOISE: f64 = 8.0;
/// So many times the movement between the two points before.
const SUDDEN: f64 = 3.0;
/// A scan of all channels takes at most so long (seconds).
const SCAN: f64 = 60.0;
/// Between points farther apart (seconds) a movement is not at once.
const AT_ONCE: f64 = 3600.0;
/// So many points on either side carry it.
const SIDE: usize = 3;

/// What all gauges that are clear (none of them `known`) do at once and no load explains: each of them a change of
/// its unit. One gauge alone is looked at elsewhere.
pub(super) fn gains(series: &Series, spec: &LogSpec, known: &[Fault]) -> Vec<Fault> {
    let largest = series.largest_gauge();
    let free =
        |t: &&Track| !known.iter().any(|f| f.channel == t.id || f.with.as_ref() == Some(&t.id));
    let clear = |t: &&Track| {
        t.is_gauge() && t.span() > 0.2 * largest && t.span() > 10.0 * t.noise && t.zero.is_some()
    };
    let gauges: Vec<&Track> = series.tracks.iter().filter(clear).filter(free).collect();
    if gauges.len() < 2 || series.load.is_empty() {
        return Vec::new();
    }
    let peak = series.between(0.0, spec.moments.peak.to.value.si()).end;
    let last = spec.moments.residual.as_ref().map_or(&spec.moments.peak, |r| r);
    let end = series.between(0.0, last.to.value.si()).end;
    let time = |i: usize| series.time.get(i).copied().unwrap_or(f64::NAN);
    let at = |i: usize| {
        let parts = gauges.iter().map(|t| Some((t.values.get(i)? - t.zero?) / t.way()));
        let load = series.load.get(i)?;
        let parts: Vec<f64> = parts.collect::<Option<_>>()?;
        (!load.is_nan() && parts.iter().all(|p| !p.is_nan())).then_some((i, *load, parts))
    };
    // the load counts up as the gauges do; a peak without it tells nothing
    let on = series.load.get(..peak).and_then(median_of_last).filter(|on| on.abs() > ON);
    let Some(up) = on.map(f64::signum) else { return Vec::new() };
    let points: Vec<(usize, f64, Vec<f64>)> = (0..end).filter_map(at).collect();
    let side = |from: usize, to: usize, gauge: usize| {
        let all = points.get(from..to.min(points.len()))?;
        median(&all.iter().filter_map(|p| p.2.get(gauge).copied()).collect::<Vec<_>>())
    };
    let moves = |from: usize, to: usize| {
        let ((_, was, before), (_, is, now)) = (points.get(from)?, points.get(to)?);
        let parts = now.iter().zip(before).map(|(now, was)| now - was);
        Some(((is - was) * up, parts.collect::<Vec<f64>>()))
    };
    for k in SIDE..points.len().saturating_sub(SIDE - 1) {
        let Some(((i, ..), (j, ..))) = points.get(k - 1).zip(points.get(k)) else { continue };
        // of rows that stand densely some on either side too: a scan takes its time
        let near = |p: &&(usize, f64, Vec<f64>)| (time(p.0) - time(*i)).abs() <= SCAN;
        let wide = |some: Option<&[(usize, f64, Vec<f64>)]>| {
            some.unwrap_or_default().iter().filter(near).count()
        };
        let (before, after) =
            (wide(points.get(k - SIDE..k - 1)), wide(points.get(k + 1..k + SIDE)));
        let Some((load, parts)) = moves(k - 1 - before, k + after) else { continue };
        let now = time(*j);
        let jumped = |f: &Fault| {
            f.kind == FaultKind::Jump && f.from.si() <= now && now <= f.to.si() + AT_ONCE
        };
        if now - time(*i) > AT_ONCE || known.iter().any(jumped) {
            continue;
        }
        let earlier = moves(k - 2, k - 1).map_or(Vec::new(), |m| m.1);
        // what no load explains of what each gauge does; less than nothing where it comes back
        let unexplained = |gauge: usize, part: f64| {
            let noise = gauges.get(gauge).map_or(f64::INFINITY, |t| NOISE * t.noise / t.span());
            let before = earlier.get(gauge).map_or(0.0, |e| e.abs());
            let stays = load > -STAYS;
            let off = if stays { part } else { part - SOFTEST * load };
            let least = if stays { LEAST.max(SUDDEN * before) } else { GOING }.max(noise);
            let falls = off < -least;
            // more without more load may be a crack while the load is on
            let rises = part > least && *i >= peak && load <= STAYS;
            (falls || rises).then_some(off)
        };
        let off: Option<Vec<f64>> =
            parts.iter().enumerate().map(|(gauge, part)| unexplained(gauge, *part)).collect();
        let Some(off) = off.filter(|o| o.iter().all(|x| *x < 0.0) || o.iter().all(|x| *x > 0.0))
        else {
            continue;
        };
        // it stays there
        let stays = |gauge: usize| {
            let (was, is) = (side(k - SIDE, k, gauge)?, side(k, k + SIDE, gauge)?);
            Some((is - was) * off.get(gauge)? > 0.0)
        };
        if !(0..gauges.len()).all(|gauge| stays(gauge) == Some(true)) {
            continue;
        }
        let common = median(&off).unwrap_or(0.0);
        let named = |t: &&Track| {
            let read = |i: usize| t.as_read().get(i).copied();
            let (was, is) = (read(*i)?, read(*j)?);
            let values =
                [said(Kind::Length, was), said(Kind::Length, is), Ratio::from(common.abs()).into()];
            let note = Message::new(
                "with every other gauge from {} to {} at once, {} of their deflection more than the load explains: another gain or unit of all of them, or a reference that moved; kept",
                values,
            );
            let times = (time(*j), series.time.last().copied()?);
            let rows = series.time.len() - j;
            let mut fault = Fault::new(FaultKind::UnitChange, &t.id, times, rows, note);
            // under a load that stays the readings tell the factor
            fault.factor = (load.abs() <= STAYS && is.abs() > NOISE * t.noise).then(|| was / is);
            Some(fault)
        };
        return gauges.iter().filter_map(named).collect();
    }
    Vec::new()
}

/// The median of the last few that are there.
fn median_of_last(values: &[f64]) -> Option<f64> {
    let last: Vec<f64> = values.iter().rev().copied().filter(|v| !v.is_nan()).take(SIDE).collect();
    median(&last)
}
