//! One channel moves at once and stays there: a knock, a tare, another unit, a dead cell.

use super::series::{Series, Track, median, range, said};
use crate::readings::fault::{Fault, FaultKind};
use crate::readings::spec::Role;
use crate::units::{Kind, Message, Quantity, Ratio};

/// So many points on either side carry a step.
const SIDE: usize = 5;
/// The least step of a gauge as a part of its span; of a bearing as a part of the largest gauge;
/// of a force as a part of its span: pumps and relaxation move a force at once.
const LEAST: f64 = 0.04;
const LEAST_BEARING: f64 = 0.05;
const LEAST_FORCE: f64 = 0.15;
/// Less than this part of what all cells together show is no step of one of them: of the cell of a circuit
/// that is not used only noise is left.
const IDLE: f64 = 0.02;
/// The noise a step stands out of.
const NOISE: f64 = 8.0;
/// The load is quiet where it moves by less than this part of its span.
const QUIET: f64 = 0.015;
/// Other channels may move by this part of their range while a unit changes.
const STILL: f64 = 0.15;
/// A channel that moves by up to so many times the part of its range that the others move by moves with
/// them: the first increment after a small reading, or the last load that goes.
const LIKE_OTHERS: f64 = 2.0;
/// How near a ratio of readings must be to that of two units.
const NEAR: f64 = 0.05;

/// Ratios of units that are mistaken for one another.
pub(super) const fn ratios(kind: Kind) -> &'static [f64] {
    match kind {
        // inch and mm, foot and inch, foot and mm, powers of ten, inch and cm
        Kind::Length => &[25.4, 12.0, 304.8, 10.0, 100.0, 1000.0, 2.54],
        // lbf and N or kip and kN, powers of ten, N and kgf or kN and tf, kgf and lbf
        Kind::Force => &[4.448_221_615_260_5, 1000.0, 9.806_65, 10.0, 100.0, 2.204_622_621_848_8],
        _ => &[],
    }
}

/// The ratio (or its inverse) that is nearest, with its distance as a logarithm.
pub(super) fn nearest_ratio(kind: Kind, ratio: f64) -> Option<(f64, f64)> {
    if !(ratio > 0.0 && ratio.is_finite()) {
        return None;
    }
    ratios(kind)
        .iter()
        .flat_map(|r| [*r, r.recip()])
        .map(|r| (r, (ratio / r).ln().abs()))
        .min_by(|a, b| a.1.total_cmp(&b.1))
}

/// Whether a ratio is that of two units that are mistaken for one another, within two hundredths.
pub(crate) fn as_units(kind: Kind, ratio: f64) -> bool {
    nearest_ratio(kind, ratio).is_some_and(|r| r.1 <= 0.02)
}

/// The steps of every channel. Where all gauges jumped at once, that is named instead.
pub(super) fn steps(series: &Series, jump: Option<&Fault>) -> Vec<Fault> {
    let mut found = Vec::new();
    for (own, track) in series.tracks.iter().enumerate() {
        // a strain or a crack may well move at once: the member cracked
        let read = track.role.is_movement() || track.role == Role::Rotation || track.is_force();
        if !read || track.span() <= 0.0 {
            continue;
        }
        let points: Vec<usize> = (0..track.values.len())
            .filter(|i| track.values.get(*i).is_some_and(|v| !v.is_nan()))
            .collect();
        let before_this = found.len();
        let mut k = SIDE;
        while k + SIDE <= points.len() {
            let here = step(series, own, track, &points, k);
            let Some(fault) = here else {
                k += 1;
                continue;
            };
            k += SIDE;
            let jumped = jump.is_some_and(|j| fault.from >= j.from && fault.from <= j.to);
            if !jumped {
                found.push(fault);
            }
        }
        let own = found.get(before_this..).unwrap_or_default();
        let sizes = own.iter().filter_map(|f| f.offset.map(|o| o.si));
        if own.iter().all(|f| f.kind == FaultKind::Step) && graininess(sizes) {
            found.truncate(before_this);
        }
    }
    found
}

/// Whether movements are the grain of the instrument: at least three of one size, back and forth.
pub(super) fn graininess(sizes: impl Iterator<Item = f64>) -> bool {
    let (mut count, mut up, mut down) = (0, 0, 0);
    let (mut low, mut high) = (f64::INFINITY, 0.0_f64);
    for size in sizes {
        count += 1;
        up += i32::from(size > 0.0);
        down += i32::from(size < 0.0);
        low = low.min(size.abs());
        high = high.max(size.abs());
    }
    count >= 3 && up > 0 && down > 0 && high <= 1.5 * low
}

fn step(series: &Series, own: usize, track: &Track, points: &[usize], k: usize) -> Option<Fault> {
    let value = |n: usize| points.get(n).and_then(|i| track.values.get(*i)).copied();
    let (last, first) = (value(k - 1)?, value(k)?);
    let least = match track.role {
        Role::Force => {
            let forces = series.tracks.iter().filter(|t| t.role == Role::Force);
            let all: f64 = forces.map(Track::span).sum();
            (LEAST_FORCE * track.span()).max(NOISE * track.noise).max(IDLE * all)
        }
        _ => series.least(track, LEAST, LEAST_BEARING, NOISE),
    };
    let kind = track.role.kind();
    let at_once = first - last;
    if at_once.abs() < 0.6 * least.min(track.span()) {
        return None;
    }
    let side = |from: usize, to: usize| {
        let values: Vec<f64> = (from..to).filter_map(value).collect();
        median(&values)
    };
    let (before, after) = (side(k - SIDE, k)?, side(k, k + SIDE)?);
    let moved = after - before;
    let (i, j) = (*points.get(k - 1)?, *points.get(k)?);
    let (from, to) = (*points.get(k - SIDE)?, *points.get(k + SIDE - 1)?);
    let here = series.time.get(j).copied()?;
    let end = series.time.last().copied()?;
    let rows = series.time.len() - j;
    let make = |kind, note: Message| Fault::new(kind, &track.id, (here, end), rows, note);
    // another unit: of the readings as the channel gave them, its zero included
    let read = |n: usize| points.get(n).and_then(|i| track.as_read().get(*i)).copied();
    let read_side = |from: usize, to: usize| {
        let values: Vec<f64> = (from..to).filter_map(read).collect();
        median(&values)
    };
    let (read_last, read_first) = (read(k - 1)?, read(k)?);
    let (read_before, read_after) = (read_side(k - SIDE, k)?, read_side(k, k + SIDE)?);
    let zeroed = read_first.abs() <= 6.0 * track.noise;
    if !zeroed
        && let Some((ratio, off)) = nearest_ratio(kind, read_first / read_last)
        && off <= NEAR
        && nearest_ratio(kind, read_after / read_before)
            .is_some_and(|r| r.0.to_bits() == ratio.to_bits() && r.1 <= 2.0 * NEAR)
        && read_last.abs() > 6.0 * track.noise
        && others_move(series, own, i, j).is_some_and(|others| {
            others <= STILL && at_once.abs() > LIKE_OTHERS * others * track.span()
        })
    {
        let mut fault = make(
            FaultKind::UnitChange,
            Message::new(
                "from one row to the next {} times what it was, as one unit of {} is of another, while nothing else moved like that; kept",
                [Ratio::from(read_first / read_last).into(), kind.words().into()],
            ),
        );
        fault.factor = Some(ratio.recip());
        return Some(fault);
    }
    // between two rows far apart a movement is not at once
    let when = |i: usize| series.time.get(i).copied().unwrap_or(0.0);
    if when(j) - when(i) > 0.34 * (when(to) - when(from)) {
        return None;
    }
    if moved.abs() < least || at_once.abs() < 0.6 * moved.abs() || at_once * moved < 0.0 {
        return None;
    }
    if track.is_force() {
        let gauges = gauges_move(series, own, from, to)?;
        if gauges > 0.25 * (moved / track.span()).abs() {
            return None;
        }
        let dead = |v: f64| (v - track.zero.unwrap_or(0.0)).abs() <= LEAST * track.span();
        let rest = track.values.get(j..).unwrap_or_default();
        if dead(after) && rest.iter().all(|v| v.is_nan() || dead(*v)) {
            return Some(make(
                FaultKind::Lost,
                Message::new(
                    "fell from {} to nothing and stays there while the gauges did not move; kept",
                    [said(kind, before)],
                ),
            ));
        }
        return Some(with_offset(
            make(
                FaultKind::Step,
                Message::new(
                    "moved at once by {} while the gauges did not; kept",
                    [said(kind, moved)],
                ),
            ),
            kind,
            moved,
        ));
    }
    // what the others say it should have moved
    let expected = expected(series, own, i, j, from, to);
    let quiet = series.load_moves(i..j + 1).is_some_and(|m| m <= QUIET);
    let alone = match expected {
        Some(expected) => (moved - expected).abs() >= least && expected.abs() <= 0.5 * moved.abs(),
        None => quiet,
    };
    if !alone
        || (expected.is_some() && !quiet && !series.load.is_empty() && moved.abs() < 2.0 * least)
    {
        return None;
    }
    // what only the correction for the temperature moves is no movement of the channel
    let as_read = read_after - read_before;
    if as_read.abs() < least || as_read * moved < 0.0 {
        return None;
    }
    let moved = moved - expected.unwrap_or(0.0);
    let tared = track.is_gauge()
        && (zeroed || read_after.abs() <= 0.02 * track.span())
        && read_before.abs() >= 4.0 * read_after.abs();
    let note = if tared {
        "set to zero at once, by {}, while load and neighbours stayed; kept"
    } else {
        "moved at once by {} and stayed there, while load and neighbours did not; kept"
    };
    let fault = make(
        if tared { FaultKind::Tare } else { FaultKind::Step },
        Message::new(note, [said(kind, moved)]),
    );
    Some(with_offset(fault, kind, moved))
}

fn with_offset(mut fault: Fault, kind: Kind, moved: f64) -> Fault {
    fault.offset = Some(Quantity::new(kind, -moved));
    fault
}

/// How far the load and the other gauges move from one point to the next, as a part of their range:
/// the middle one of them.
fn others_move(series: &Series, own: usize, i: usize, j: usize) -> Option<f64> {
    let of = |t: &Track| {
        let moved = t.values.get(j)? - t.values.get(i)?;
        (!moved.is_nan()).then(|| moved.abs() / t.span())
    };
    let mut parts: Vec<f64> = series.beside(own).filter_map(of).collect();
    if !series.tracks.get(own).is_some_and(Track::is_force) {
        parts.extend(series.load_moves(i..j + 1));
    }
    median(&parts)
}

/// How far the gauges move between two points, as a part of their range.
fn gauges_move(series: &Series, own: usize, from: usize, to: usize) -> Option<f64> {
    let parts: Vec<f64> = series.beside(own).filter_map(|t| part(t, from, to)).collect();
    median(&parts)
}

/// The movement of a track between the two sides of a step, as a part of its range.
fn part(track: &Track, from: usize, to: usize) -> Option<f64> {
    let middle = usize::midpoint(from, to);
    let side = |range: core::ops::Range<usize>| median(track.values.get(range)?);
    let moved = side(middle + 1..to + 1)? - side(from..middle + 1)?;
    (track.span() > 0.0).then(|| moved.abs() / track.span())
}

/// What a gauge should have moved by its neighbours, in proportion of the rises to the peak; between two the
/// load decides, so that one that rests does not speak for both. A bearing should not move where the
/// gauges and the load do not. Nothing where no gauge stands beside it.
fn expected(
    series: &Series,
    own: usize,
    i: usize,
    j: usize,
    from: usize,
    to: usize,
) -> Option<f64> {
    let track = series.tracks.get(own)?;
    let moved = |values: &[f64]| {
        let side = |range: core::ops::Range<usize>| median(values.get(range)?);
        Some(side(j..to + 1)? - side(from..i + 1)?)
    };
    let mut parts: Vec<f64> = series
        .beside(own)
        .filter_map(|t| moved(&t.values).map(|moved| moved / t.signed_span()))
        .collect();
    if parts.len() == 2 {
        let (low, high) = range(&series.load);
        parts.extend(moved(&series.load).map(|part| if -low > high { -part } else { part }));
    }
    median(&parts).map(|part| part * track.signed_span())
}
