//! Readings that no instrument gives: the same digit for digit in two channels or at two times, or straight
//! lines in all of them.

use std::collections::HashMap;

use super::steps::nearest_ratio;
use crate::readings::channel::Channel;
use crate::readings::column::{Column, Cursor};
use crate::readings::fault::{Fault, FaultKind};
use crate::readings::log::Log;
use crate::readings::spec::Role;
use crate::units::{Duration, Message, Ratio};

/// Two columns that are equal and change fewer times than this may be so by chance.
const CHANGES: usize = 20;

/// One step of a digest (FNV-1a by words, mixed so that every bit counts).
pub(super) const fn mixed(digest: u64, word: u64) -> u64 {
    let once = (digest ^ word).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    once ^ (once >> 29)
}

/// The bits of a value: one for nought and one for what is no number.
pub(super) fn bits(value: f64) -> u64 {
    if value.is_nan() { u64::MAX } else { (value + 0.0).to_bits() }
}

/// Digests of some values of a column, and of those with the other sign.
fn digests(values: &Column) -> (u64, u64) {
    let every = values.len().div_ceil(SAMPLES).max(1);
    let some = values.iter().step_by(every);
    some.fold((0, 0), |(own, turned), v| (mixed(own, bits(v)), mixed(turned, bits(-v))))
}

/// How often a value is not the one before.
fn changes(values: &Column) -> usize {
    let (mut count, mut last) = (0, f64::NAN);
    for v in values.iter().filter(|v| !v.is_nan()) {
        count += usize::from(bits(v) != bits(last) && !last.is_nan());
        last = v;
    }
    count
}

fn equal(a: &Column, b: &Column, sign: f64) -> bool {
    a.iter().zip(b.iter()).all(|(a, b)| bits(a) == bits(b * sign))
}

/// Channels that are copies of one before them while they move: to the last digit, with its sign or the
/// other, or as well as their digits allow times a number, as in another unit. What people count may well be
/// equal.
pub(super) fn copies(log: &Log) -> Vec<Fault> {
    let all: Vec<(&Channel, (u64, u64), Grain)> =
        log.channels.iter().map(|c| (c, digests(c.values()), Grain::of(c))).collect();
    let end = log.time.last().unwrap_or(0.0);
    let copied = |(i, (own, digest, grain)): (usize, &(&Channel, (u64, u64), Grain))| {
        if own.role == Role::Count {
            return None;
        }
        let alike = |other: &&(&Channel, (u64, u64), Grain)| own.role.kind() == other.0.role.kind();
        let before = || all.get(..i).unwrap_or_default().iter().filter(alike);
        let same = |(other, of, _): &&(&Channel, (u64, u64), Grain)| {
            let same =
                |of: u64, sign: f64| digest.0 == of && equal(own.values(), other.values(), sign);
            same(of.0, 1.0) || same(of.1, -1.0)
        };
        let to_the_digit = before().find(same).map(|o| (o.0, changes(own.values())));
        let (other, note) = match to_the_digit {
            Some((_, changes)) if changes < CHANGES => return None,
            Some((other, changes)) => {
                let values = [(&other.id).into(), (changes as f64).into()];
                let note = "the same as `{}` to the last digit, through {} changes: one column under two headings; kept";
                (other, Message::new(note, values))
            }
            None => {
                let times = before().map(|o| (o.0, grain.times(own, &o.2, o.0)));
                let (other, factor) = times.into_iter().find_map(|t| Some((t.0, t.1?)))?;
                // what only follows the force, all of it follows: numbers that were worked out for a trial
                let works = |o: &(&Channel, _, Grain)| {
                    o.0.role != own.role
                        && o.0.role == Role::Force
                        && grain.times(own, &o.2, o.0).is_some()
                };
                if all.iter().any(works) {
                    return None;
                }
                let values = [Ratio::from(factor).into(), (&other.id).into()];
                let note = "{} times `{}` and a constant to the last digit, noise and all: one column under two headings, in another unit or worked out; kept";
                (other, Message::new(note, values))
            }
        };
        let rows = own.values().len();
        let mut fault = Fault::new(FaultKind::Copied, &own.id, (0.0, end), rows, note);
        fault.with = Some(other.id.clone());
        Some(fault)
    };
    all.iter().enumerate().filter_map(copied).collect()
}

/// The digits of a channel and the noise between neighbouring rows, SI; nought of one without.
#[derive(Clone, Copy)]
struct Grain {
    digit: f64,
    bend: f64,
}

/// A copy has so many times the noise of what rounding leaves.
const OVER_ROUNDING: f64 = 3.0;
/// No two instruments go along with one another to one part in so many; where one is the other in another
/// unit, to one part in so many.
const ALIKE: f64 = 1000.0;
const ALIKE_IN_UNITS: f64 = 200.0;

impl Grain {
    fn of(channel: &Channel) -> Self {
        let (digit, bend) = grain(channel).unwrap_or((0.0, 0.0));
        Self { digit, bend }
    }

    /// What the other channel has to be multiplied by to be this one, but for a constant, in every row that is
    /// looked at and as well as the digits of both allow; nothing where it is not, or where the noise of
    /// the rows is no larger than the digits and tells nothing.
    fn times(&self, own: &Channel, other: &Self, of: &Channel) -> Option<f64> {
        if self.digit <= 0.0 || other.digit <= 0.0 {
            return None;
        }
        let every = own.values().len().div_ceil(SAMPLES).max(1);
        let pairs = || {
            let of = of.values().iter().step_by(every);
            let rows = own.values().iter().step_by(every).zip(of);
            rows.filter(|(a, b)| !a.is_nan() && !b.is_nan())
        };
        let n = pairs().count() as f64;
        let mean = pairs().fold((0.0, 0.0), |m, (a, b)| (m.0 + a / n, m.1 + b / n));
        let (ab, bb) = pairs().fold((0.0, 0.0), |s, (a, b)| {
            let (a, b) = (a - mean.0, b - mean.1);
            (s.0 + a * b, s.1 + b * b)
        });
        let factor = ab / bb;
        let rounding = self.digit + factor.abs() * other.digit;
        let tells = n >= CHANGES as f64 && factor.is_finite();
        if !tells || self.bend <= OVER_ROUNDING * rounding {
            return None;
        }
        let wide = |all: &mut dyn Iterator<Item = f64>| {
            let ends =
                all.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), d| (l.min(d), h.max(d)));
            ends.1 - ends.0
        };
        let parts = wide(&mut pairs().map(|p| p.0)) / rounding;
        let kind = own.role.kind();
        let unit = nearest_ratio(kind, factor.abs()).is_some_and(|r| r.1 <= 2.0 / parts)
            || (factor.abs() - 1.0).abs() <= 2.0 / parts;
        if parts < (if unit { ALIKE_IN_UNITS } else { ALIKE }) {
            return None;
        }
        // half a digit of each either way, and a little for the fit
        let off = wide(&mut pairs().map(|(a, b)| a - mean.0 - factor * (b - mean.1)));
        (off <= 1.05 * rounding).then_some(factor)
    }
}

/// So many rows in turn that stand somewhere else too are copied, where so many of them differ.
const ROWS: usize = 20;
const DIFFER: usize = 18;
/// At most about so many places of a log are kept to find their copies by.
const PLACES: usize = 1 << 16;
/// The channels of a fault of all of them.
const ALL: &str = "every channel";

/// The rows of a log one by one, as digests of all channels together.
struct Digests<'a>(Vec<Cursor<'a>>);

impl<'a> Digests<'a> {
    fn of(log: &'a Log) -> Self {
        Self(log.channels.iter().map(|c| c.values().cursor()).collect())
    }

    fn at(&mut self, row: usize) -> u64 {
        let values = self.0.iter_mut().map(|c| bits(c.get(row).unwrap_or(f64::NAN)));
        values.fold(1, mixed)
    }
}

/// The same of rows one after the other, block by block.
struct Running<'a> {
    log: &'a Log,
    base: usize,
    block: Vec<u64>,
}

impl<'a> Running<'a> {
    const fn of(log: &'a Log) -> Self {
        Self { log, base: 0, block: Vec::new() }
    }

    fn at(&mut self, row: usize) -> u64 {
        if let Some(digest) = self.block.get(row.wrapping_sub(self.base)) {
            return *digest;
        }
        self.base = row;
        self.block.clear();
        self.block.resize(SAMPLES.min(self.log.time.len().saturating_sub(row)), 1);
        for channel in &self.log.channels {
            for (first, values) in channel.values().pieces(row..row + self.block.len()) {
                let block = self.block.get_mut(first - row..).unwrap_or_default();
                for (digest, value) in block.iter_mut().zip(values.iter()) {
                    *digest = mixed(*digest, bits(*value));
                }
            }
        }
        self.block.first().copied().unwrap_or(1)
    }
}

/// The longest stretch of rows that stands a second time in the log, digit for digit in every channel. Places
/// are told by the digest of the rows that end there; of a long log only some are kept, so that
/// a stretch of a few dozen rows more is still found.
pub(super) fn stretches(log: &Log) -> Option<Fault> {
    const BASE: u64 = 0x0000_0100_0000_01b3;
    let rows = log.time.len();
    if rows < 2 * ROWS {
        return None;
    }
    let every = (rows / PLACES) as u64 + 1;
    let gone = (0..ROWS).fold(1_u64, |power, _| power.wrapping_mul(BASE));
    let (mut running, mut now, mut earlier) =
        (Running::of(log), Digests::of(log), Digests::of(log));
    let mut ring = [0_u64; ROWS];
    let mut places: HashMap<u64, usize> = HashMap::new();
    let mut longest: Option<(usize, usize, usize)> = None;
    let (mut rolled, mut row) = (0_u64, 0);
    while row < rows {
        let digest = running.at(row);
        let Some(oldest) = ring.get_mut(row % ROWS) else { break };
        let old = core::mem::replace(oldest, digest);
        rolled = rolled.wrapping_mul(BASE).wrapping_add(digest);
        if row >= ROWS {
            rolled = rolled.wrapping_sub(old.wrapping_mul(gone));
        }
        let place = mixed(rolled, 7);
        row += 1;
        if row < ROWS || !place.is_multiple_of(every) || !differ(&ring) {
            continue;
        }
        let Some(first) = places.get(&place).copied().filter(|first| row - first >= ROWS) else {
            places.entry(place).or_insert(row);
            continue;
        };
        // from where to where it goes on
        let mut before = 0;
        while before < first && earlier.at(first - 1 - before) == now.at(row - 1 - before) {
            before += 1;
        }
        let mut after = 0;
        while row + after < rows && earlier.at(first + after) == now.at(row + after) {
            after += 1;
        }
        let length = before + after;
        let first_row = row - before;
        if length >= ROWS && longest.is_none_or(|l| length > l.2) && jitters(log, first_row, length)
        {
            longest = Some((first - before, row - before, length));
        }
        // what was gone over here is not gone over again
        for next in row..row + after {
            let digest = running.at(next);
            let Some(oldest) = ring.get_mut(next % ROWS) else { break };
            let old = core::mem::replace(oldest, digest);
            rolled =
                rolled.wrapping_mul(BASE).wrapping_add(digest).wrapping_sub(old.wrapping_mul(gone));
        }
        row += after;
    }
    let (first, second, length) = longest?;
    let at = |row: usize| log.time.get(row).unwrap_or(0.0);
    let said = |row: usize| Duration::from_si(at(row)).into();
    let note = Message::new(
        "the same to the last digit as from {} to {}: copied; kept",
        [said(first), said(first + length - 1)],
    );
    let times = (at(second), at(second + length - 1));
    Some(Fault::new(FaultKind::Copied, ALL, times, length, note))
}

/// Whether a channel goes up and down in some rows as noise does: what has none, as numbers that were
/// worked out, may come again.
fn jitters(log: &Log, first: usize, length: usize) -> bool {
    log.channels.iter().any(|channel| {
        let rows = channel.values().range(first..first + length).filter(|v| !v.is_nan());
        let (mut turns, mut last, mut way) = (0, f64::NAN, 0.0_f64);
        for v in rows {
            let step = v - last;
            if step * way < 0.0 {
                turns += 1;
            }
            if step.abs() > 0.0 {
                way = step;
            }
            last = v;
        }
        turns * TURNS >= length
    })
}

/// Noise turns in two of three rows; of so many rows one has to.
const TURNS: usize = 5;

/// Whether the rows of a place are not a few that come again and again.
fn differ(ring: &[u64; ROWS]) -> bool {
    let mut all = *ring;
    all.sort_unstable();
    let same = all.iter().zip(all.iter().skip(1)).filter(|(a, b)| a == b).count();
    ROWS - same >= DIFFER
}

/// So many rows in turn without any noise are drawn.
const STRAIGHT: usize = 40;
/// Bends up to so many digits are those of a line that was rounded.
const ROUNDED: f64 = 2.1;
/// A channel has noise where its middle bend is more digits than this.
const NOISY: f64 = 3.0;
/// So many places say how much noise a channel has.
const SAMPLES: usize = 4096;

/// The bend at a row: how far it is from the line through those before and after it, twice.
fn bend(values: &mut Cursor<'_>, row: usize) -> f64 {
    let mut at = |i: usize| values.get(i).unwrap_or(f64::NAN);
    let (before, now, after) = (at(row.wrapping_sub(1)), at(row), at(row + 1));
    (before - 2.0 * now + after).abs()
}

/// The bend that rounding makes of a channel with noise; nothing of one without.
fn rounding(channel: &Channel) -> Option<f64> {
    let (digit, bend) = grain(channel)?;
    (bend > NOISY * digit).then_some(ROUNDED * digit)
}

/// The digit of a channel, which is its least step, and its middle bend.
fn grain(channel: &Channel) -> Option<(f64, f64)> {
    let values = channel.values();
    let every = values.len().div_ceil(SAMPLES).max(1);
    let mut cursor = values.cursor();
    let (mut bends, mut digit, mut size) = (Vec::new(), f64::INFINITY, 0.0_f64);
    for row in (1..values.len().saturating_sub(1)).step_by(every) {
        let bent = bend(&mut cursor, row);
        let (now, next) =
            (cursor.get(row).unwrap_or(f64::NAN), cursor.get(row + 1).unwrap_or(f64::NAN));
        let step = (next - now).abs();
        size = size.max(now.abs());
        if step > 1e-9 * size {
            digit = digit.min(step);
        }
        if !bent.is_nan() {
            bends.push(bent);
        }
    }
    Some((digit, super::series::median(&bends)?)).filter(|g| g.0.is_finite())
}

/// The longest time in which every channel that else has noise runs along straight lines. One channel alone
/// may have gone quiet.
pub(super) fn drawn(log: &Log) -> Option<Fault> {
    let mut noisy: Vec<(Cursor<'_>, f64)> =
        log.channels.iter().filter_map(|c| Some((c.values().cursor(), rounding(c)?))).collect();
    if noisy.len() < 2 {
        return None;
    }
    let mut longest: Option<(usize, usize)> = None;
    let mut first = 1;
    for row in 1..log.time.len().saturating_sub(1) {
        let straight = noisy.iter_mut().all(|(values, most)| bend(values, row) <= *most);
        if !straight {
            first = row + 1;
        } else if row + 1 - first >= longest.map_or(STRAIGHT, |l| l.1 - l.0 + 1) {
            longest = Some((first, row + 1));
        }
    }
    let (first, end) = longest?;
    let at = |row: usize| log.time.get(row).unwrap_or(0.0);
    let note = "every channel runs along a straight line, without the noise of the other hours: drawn, not read; kept";
    Some(Fault::new(
        FaultKind::Drawn,
        ALL,
        (at(first), at(end - 1)),
        end - first,
        Message::from(note),
    ))
}
