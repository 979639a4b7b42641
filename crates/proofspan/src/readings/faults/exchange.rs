//! Two channels that change places in the middle of a test: each goes on where the other was.

use super::series::{Series, Track, median, said};
use crate::readings::fault::{Fault, FaultKind};
use crate::readings::spec::Role;
use crate::units::{Kind, Message};

/// So many points on either side carry what the two read.
const SIDE: usize = 3;
/// How far apart they are before, as a part of the larger span, and in noise.
const APART: f64 = 0.04;
const NOISE: f64 = 8.0;
/// How near each comes to where the other was, as a part of their distance.
const NEAR: f64 = 0.2;

/// Channels of movement that are exchanged from a time on, or between two times. No member moves one
/// place to where another was and that one back.
pub(super) fn exchanges(series: &Series) -> Vec<Fault> {
    let moves = |t: &&Track| {
        matches!(t.role, Role::Deflection | Role::Settlement | Role::Level) && t.span() > 0.0
    };
    let tracks: Vec<&Track> = series.tracks.iter().filter(moves).collect();
    let mut found = Vec::new();
    for (i, a) in tracks.iter().enumerate() {
        for b in tracks.iter().skip(i + 1) {
            found.extend(between(series, a, b));
        }
    }
    found
}

/// The times at which two channels change places: from each to the next they are exchanged.
fn between(series: &Series, a: &Track, b: &Track) -> Vec<Fault> {
    let both = |i: usize| {
        let (x, y) = (*a.as_read().get(i)?, *b.as_read().get(i)?);
        (!(x.is_nan() || y.is_nan())).then_some((i, x, y))
    };
    let points: Vec<(usize, f64, f64)> = (0..series.time.len()).filter_map(both).collect();
    let least = (APART * a.span().max(b.span())).max(NOISE * a.noise.max(b.noise));
    let near = |was: f64, other: f64, now: f64, apart: f64| {
        (now - other).abs() <= NEAR * apart && (now - was).abs() > apart / 2.0
    };
    let mut times: Vec<(usize, f64, f64)> = Vec::new();
    for (k, pair) in points.windows(2).enumerate() {
        let [(_, x, y), (j, now_x, now_y)] = pair else { continue };
        let apart = (x - y).abs();
        if apart < least || !near(*x, *y, *now_x, apart) || !near(*y, *x, *now_y, apart) {
            continue;
        }
        let side = |from: usize, to: usize, second: bool| {
            let all = points.get(from..to.min(points.len()))?;
            let values: Vec<f64> = all.iter().map(|p| if second { p.2 } else { p.1 }).collect();
            median(&values)
        };
        let (before, after) = ((k + 1).saturating_sub(SIDE), k + 1 + SIDE);
        let (Some(was_a), Some(was_b), Some(is_a), Some(is_b)) = (
            side(before, k + 1, false),
            side(before, k + 1, true),
            side(k + 1, after, false),
            side(k + 1, after, true),
        ) else {
            continue;
        };
        let apart = (was_a - was_b).abs();
        if apart >= least && near(was_a, was_b, is_a, apart) && near(was_b, was_a, is_b, apart) {
            times.push((*j, was_a, was_b));
        }
    }
    let end = series.time.len();
    let at = |i: usize| series.time.get(i).or(series.time.last()).copied().unwrap_or(0.0);
    times
        .chunks(2)
        .filter_map(|pair| {
            let (first, read, other) = *pair.first()?;
            let to = pair.get(1).map_or(end, |t| t.0);
            let note = Message::new(
                "here it goes on from {}, where `{}` was, and that from {}: exchanged from then on; kept",
                [said(Kind::Length, other), (&b.id).into(), said(Kind::Length, read)],
            );
            let mut fault =
                Fault::new(FaultKind::Swapped, &a.id, (at(first), at(to - 1)), to - first, note);
            fault.with = Some(b.id.clone());
            Some(fault)
        })
        .collect()
}
