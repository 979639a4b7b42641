//! Readings that are all there and still cannot be right.

use super::channel::Channel;
use super::column::{Column, Cursor};
use super::fault::{Fault, FaultKind};
use super::log::Log;
use super::spec::Role;
use crate::units::{Length, Message, Said};

/// Between two rows the force may change by this part of its largest value and still count as
/// unchanged (library rule).
const STEADY: f64 = 0.01;
/// A common movement below this part of the largest span of a gauge is noise (library rule).
const SMALL: f64 = 0.05;
/// Movements whose largest is at most so many times the smallest are one movement (library rule).
const ALIKE: f64 = 1.5;

/// Rows at which all gauges of deflection move at once by about the same amount while the force
/// stays: the reference was touched. Nothing is said without a force and two gauges.
pub(super) fn jumps(log: &Log) -> Option<Fault> {
    let of = |role| log.channels.iter().filter(move |c| c.role == role).map(Channel::values);
    let gauges: Vec<&Column> = of(Role::Deflection).collect();
    let forces: Vec<&Column> = of(Role::Force).collect();
    if gauges.len() < 2 || forces.is_empty() {
        return None;
    }
    let span = |values: &Column| {
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for (_, piece) in values.pieces(0..values.len()) {
            for v in piece.iter().filter(|v| !v.is_nan()) {
                if *v < low {
                    low = *v;
                }
                if *v > high {
                    high = *v;
                }
            }
        }
        high - low
    };
    let largest_force: f64 = forces.iter().map(|f| span(f)).sum();
    let least = SMALL * gauges.iter().map(|g| span(g)).fold(0.0, f64::max);
    let leading = gauges.first()?.iter();
    let mut gauges: Vec<Cursor<'_>> = gauges.iter().map(|c| c.cursor()).collect();
    let mut forces: Vec<Cursor<'_>> = forces.iter().map(|c| c.cursor()).collect();
    let step = |values: &mut Cursor<'_>, i: usize| {
        let before = values.get(i - 1);
        values.get(i).zip(before).map_or(f64::NAN, |(now, before)| now - before)
    };
    let mut found: Option<(f64, f64, usize, f64)> = None;
    let mut last = f64::NAN;
    for (i, now) in leading.enumerate() {
        let first = now - last;
        last = now;
        if first.is_nan() || first.abs() < least {
            continue;
        }
        let force: f64 = forces.iter_mut().map(|f| step(f, i)).sum();
        let (low, high) = gauges.iter_mut().map(|g| step(g, i) * first.signum()).fold(
            (f64::INFINITY, f64::NEG_INFINITY),
            |(l, h), v| {
                if v.is_nan() { (f64::NEG_INFINITY, h) } else { (l.min(v), h.max(v)) }
            },
        );
        if force.abs() <= STEADY * largest_force && low >= least && high <= ALIKE * low {
            let t = log.time.get(i).unwrap_or(0.0);
            let (from, _, count, size) = found.unwrap_or((t, t, 0, 0.0));
            let moved = if first.abs() > size.abs() { first } else { size };
            found = Some((from, t, count + 1, moved));
        }
    }
    found.map(|(from, to, count, size)| {
        let note = Message::new(
            "all moved at once by up to {} while the force stayed: was the reference touched? kept",
            [Said::small(Length::from_si(size))],
        );
        Fault::new(FaultKind::Jump, "all gauges of deflection", (from, to), count, note)
    })
}

/// How many decimals a cell may have before its last digit is finer than a hundredth of the
/// standard uncertainty of the instrument (library rule).
pub(super) fn decimals(u: f64) -> usize {
    let mut finest = 1.0;
    let mut count = 0;
    while finest > u / 100.0 * (1.0 + 1e-9) && count < 15 {
        finest /= 10.0;
        count += 1;
    }
    count
}
