//! Channels against the predicted shape of the member: sign, place, unit.

use super::series::{Series, Track, median, said};
use super::steps::nearest_ratio;
use crate::error::Error;
use crate::readings::fault::{Fault, FaultEffect, FaultKind};
use crate::readings::log::Log;
use crate::readings::rigid::rigid;
use crate::readings::spec::{LogSpec, Role};
use crate::units::{Area, Force, Kind, Length, Message, Ratio};

/// What was predicted of the test; nothing of it for a test designed elsewhere.
#[derive(Default)]
pub(crate) struct Expected<'a> {
    /// Soft and stiff deflection at a place under the test load.
    pub(crate) deflection: Option<&'a dyn Fn(Length) -> (Length, Length)>,
    /// The test load.
    pub(crate) target: Option<Force>,
    /// Whether a place is on a cantilever or an overhang.
    pub(crate) free: Option<&'a dyn Fn(Length) -> bool>,
    /// The area on which one pressure makes the whole test load, friction taken off.
    pub(crate) area: Option<Area>,
}

/// A gauge that ends so far on the other side, as a part of what it should read.
const OTHER_SIDE: f64 = 0.25;
/// A bearing that rises by this part of the largest deflection, in step with the load.
const RISES: f64 = 0.008;
const IN_STEP: f64 = -0.95;
/// A bearing that moves by more than this part of the largest deflection moves like a gauge.
const LIKE_GAUGE: f64 = 0.5;
/// Measured over predicted outside these (below the stiff one, above the soft one) is no member.
const BAND: (f64, f64) = (0.4, 2.2);
/// How near a ratio must be to that of two units, as a logarithm, against gauges or load.
const NEAR: f64 = 0.25;
/// Spread of measured over predicted before and after two channels are exchanged, as logarithms.
const APART: f64 = 0.25;
const TOGETHER: f64 = 0.1;

/// One gauge with what it read and what was predicted there, down positive, in metres.
#[derive(Clone, Copy)]
struct Seen<'a> {
    track: &'a Track,
    read: f64,
    soft: f64,
    stiff: f64,
}

/// Reversed signs, swapped channels and wrong units, by the predicted shape, the neighbours and
/// the load at the peak. What is named here is open.
pub(crate) fn of_shape(
    log: &Log,
    spec: &LogSpec,
    expected: &Expected<'_>,
    known: &[Fault],
) -> Result<Vec<Fault>, Error> {
    let series = Series::of(log, spec)?;
    let end = series.time.last().copied().unwrap_or(0.0);
    let all = Whole { end, rows: log.rows() };
    let seen: Vec<Seen<'_>> = series
        .tracks
        .iter()
        .zip(&spec.channels)
        .filter(|(t, _)| t.is_gauge())
        .filter_map(|(track, own)| {
            let (soft, stiff) = match expected.deflection {
                Some(predicted) => {
                    let (soft, stiff) = predicted(own.at.as_ref()?.value);
                    (soft.si(), stiff.si())
                }
                None => (f64::NAN, f64::NAN),
            };
            Some(Seen { track, read: track.rise()?, soft, stiff })
        })
        .collect();
    // what a step, a stuck reading or a dead cell makes of the peak says nothing on unit and sign
    let of = |f: &Fault, id: &str| f.channel == id || f.with.as_deref() == Some(id);
    let spoiled = |id: &str| known.iter().any(|f| of(f, id) && spoils(f.kind));
    let mut found = signs(&series, &seen, &all);
    found.extend(turns(&series, spec, expected, &seen, &all));
    found.extend(bearings(&series, &seen, &all));
    let gauge = |id: &str| seen.iter().any(|s| s.track.id == id);
    let turned_by = |f: &Fault| {
        use FaultKind::{Lost, Swapped, Tare, UnitChange};
        matches!(f.kind, Tare | UnitChange | Lost | Swapped)
            || (spoils(f.kind) && !gauge(&f.channel))
    };
    found.retain(|f| !known.iter().any(|k| of(k, &f.channel) && turned_by(k)));
    if expected.deflection.is_some() {
        let seen: Vec<Seen<'_>> = seen.iter().filter(|s| !spoiled(&s.track.id)).copied().collect();
        let placed = places(&series, &seen, &all);
        let exchanged = |id: &str| placed.iter().any(|f| f.with.as_deref() == Some(id));
        found.retain(|f| !(f.kind == FaultKind::Swapped && exchanged(&f.channel)));
        let free =
            |id: &str| !placed.iter().any(|f| f.channel == id || f.with.as_deref() == Some(id));
        found.extend(units(&seen, &all).into_iter().filter(|f| free(&f.channel)));
        found.extend(placed);
    } else {
        let upright: Vec<String> = found.iter().map(|f| f.channel.clone()).collect();
        let other = units_by_neighbours(&series, spec, &seen, &all);
        found.extend(
            other.into_iter().filter(|f| !upright.contains(&f.channel) && !spoiled(&f.channel)),
        );
    }
    let forces = || series.tracks.iter().filter(|t| t.is_force());
    if !forces().any(|t| spoiled(&t.id)) {
        found.extend(force_units(&series, &seen, expected.target, &all));
    }
    Ok(found)
}

/// Whether a fault leaves nothing to say on the size of the channel at the peak.
const fn spoils(kind: FaultKind) -> bool {
    matches!(
        kind,
        FaultKind::Stuck
            | FaultKind::Saturated
            | FaultKind::Step
            | FaultKind::Tare
            | FaultKind::UnitChange
            | FaultKind::Lost
            | FaultKind::Swapped
    )
}

/// The whole of a channel.
struct Whole {
    end: f64,
    rows: usize,
}

impl Whole {
    fn fault(&self, kind: FaultKind, id: &str, note: Message) -> Fault {
        Fault::new(kind, id, (0.0, self.end), self.rows, note).with_effect(FaultEffect::Open)
    }
}

fn signs(series: &Series, seen: &[Seen<'_>], all: &Whole) -> Vec<Fault> {
    let mut found = Vec::new();
    let largest = seen.iter().map(|s| s.read.abs()).fold(0.0, f64::max);
    for s in seen {
        let should = if s.soft.is_nan() {
            largest
        } else {
            s.soft.signum() * s.soft.abs().min(s.stiff.abs())
        };
        let enough = s.read.abs() > 8.0 * s.track.noise && should.abs() > 0.05 * largest;
        if enough && s.read * should.signum() < -OTHER_SIDE * should.abs() {
            let note = if s.soft.is_nan() {
                Message::new(
                    "moved by {} under the load, down positive: wires swapped, sign wrong, or an unloaded span; kept",
                    [said(Kind::Length, s.read)],
                )
            } else {
                Message::new(
                    "moved by {} where {} is predicted: wires swapped or sign wrong; kept",
                    [said(Kind::Length, s.read), said(Kind::Length, s.soft)],
                )
            };
            found.push(turned(all, s.track, note));
        }
    }
    let cells: Vec<(&Track, f64)> = series
        .tracks
        .iter()
        .filter(|t| t.is_force())
        .filter_map(|t| Some((t, t.rise()?)))
        .collect();
    let most = cells.iter().map(|c| c.1.abs()).fold(0.0, f64::max);
    for (track, read) in cells {
        if read < -0.2 * most {
            let note = Message::new(
                "went by {} from zero to the full load; kept",
                [said(Kind::Force, read)],
            );
            found.push(turned(all, track, note));
        }
    }
    for track in series.tracks.iter().filter(|t| t.role == Role::Settlement) {
        let Some(read) = track.rise() else { continue };
        if read < -(RISES * largest).max(10.0 * track.noise) && in_step(series, track) <= IN_STEP {
            let note = Message::new(
                "the bearing rises by {} in step with the load; kept",
                [said(Kind::Length, -read)],
            );
            found.push(turned(all, track, note));
        }
    }
    found
}

/// A bearing that goes down with the load by more than half of what the largest gauge shows: a gauge of
/// the member under the name of a bearing takes its deflection away from the others.
fn bearings(series: &Series, seen: &[Seen<'_>], all: &Whole) -> Vec<Fault> {
    let largest = seen.iter().map(|s| s.read.abs()).fold(0.0, f64::max);
    let tracks = series.tracks.iter().filter(|t| t.role == Role::Settlement);
    let moves = |t: &&Track| {
        let read = t.rise().unwrap_or(0.0);
        read > LIKE_GAUGE * largest && read > 10.0 * t.noise && in_step(series, t) >= -IN_STEP
    };
    let fault = |t: &Track| {
        let values = [said(Kind::Length, t.rise().unwrap_or(0.0)), said(Kind::Length, largest)];
        let note = Message::new(
            "a bearing that goes down by {} in step with the load, where the largest gauge shows {}: is it a gauge of the member?; kept",
            values,
        );
        all.fault(FaultKind::Swapped, &t.id, note)
    };
    tracks.filter(moves).map(fault).collect()
}

/// Roots that turn against the gauges they carry, in step with the load.
fn turns(
    series: &Series,
    spec: &LogSpec,
    expected: &Expected<'_>,
    seen: &[Seen<'_>],
    all: &Whole,
) -> Vec<Fault> {
    let Some(free) = expected.free else { return Vec::new() };
    let largest = seen.iter().map(|s| s.read.abs()).fold(0.0, f64::max);
    let arm = |s: &Seen<'_>, turn: &str| {
        let own = spec.channels.iter().find(|c| c.id == s.track.id)?;
        let at = own.at.as_ref()?.value;
        let carried = rigid(spec, at, free(at));
        let lever = carried.lever()?;
        let way = lever.si() * s.read.signum();
        carried.turns.iter().any(|(id, _)| id == turn).then_some(way)
    };
    let mut found = Vec::new();
    for track in series.tracks.iter().filter(|t| t.role == Role::Rotation) {
        let arms = seen.iter().filter_map(|s| arm(s, &track.id));
        let longest = arms.max_by(|a, b| a.abs().total_cmp(&b.abs()));
        let Some((read, way)) = track.rise().zip(longest) else { continue };
        let against = read * way;
        let noise = 10.0 * track.noise * way.abs();
        let in_step = in_step(series, track) * way.signum();
        if against < -(RISES * largest).max(noise) && in_step <= IN_STEP {
            let note = Message::new(
                "the root turns by {} in step with the load, against what it carries: that would lift the gauge by {}; kept",
                [said(Kind::Rotation, read), said(Kind::Length, -against)],
            );
            found.push(turned(all, track, note));
        }
    }
    found
}

fn turned(all: &Whole, track: &Track, note: Message) -> Fault {
    let mut fault = all.fault(FaultKind::SignFlip, &track.id, note);
    fault.factor = Some(-1.0);
    fault
}

/// The correlation of a channel with the load, up to its sign: with the size of the load, so that
/// a cell of the wrong sign does not turn a bearing.
fn in_step(series: &Series, track: &Track) -> f64 {
    let pairs = || {
        series
            .load
            .iter()
            .zip(&track.values)
            .map(|(l, v)| (l.abs(), *v))
            .filter(|(l, v)| !l.is_nan() && !v.is_nan())
    };
    let n = pairs().count() as f64;
    let (sl, sv) = pairs().fold((0.0, 0.0), |(a, b), (l, v)| (a + l, b + v));
    let (ml, mv) = (sl / n, sv / n);
    let (ll, vv, lv) = pairs().fold((0.0, 0.0, 0.0), |(a, b, c), (l, v)| {
        (a + (l - ml).powi(2), b + (v - mv).powi(2), c + (l - ml) * (v - mv))
    });
    let correlation = lv / (ll * vv).sqrt();
    if correlation.is_nan() { 0.0 } else { correlation }
}

/// Two channels that read what the other should, by the predicted shape.
fn places(series: &Series, seen: &[Seen<'_>], all: &Whole) -> Vec<Fault> {
    let most = seen.iter().map(|s| s.soft.abs()).fold(0.0, f64::max);
    let usable: Vec<&Seen<'_>> =
        seen.iter().filter(|s| s.soft > 0.1 * most && s.read > 8.0 * s.track.noise).collect();
    let spread = |swap: Option<(usize, usize)>| {
        let logs = usable.iter().enumerate().map(|(i, s)| {
            let from = match swap {
                Some((a, b)) if i == a => b,
                Some((a, b)) if i == b => a,
                _ => i,
            };
            (usable.get(from).map_or(s.read, |o| o.read) / s.soft).ln()
        });
        let (low, high) =
            logs.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(v), h.max(v)));
        high - low
    };
    if usable.len() >= 2 && spread(None) > APART {
        let pairs = (0..usable.len()).flat_map(|a| (a + 1..usable.len()).map(move |b| (a, b)));
        let best = pairs.map(|p| (p, spread(Some(p)))).min_by(|a, b| a.1.total_cmp(&b.1));
        if let Some(((a, b), left)) = best
            && left < TOGETHER
            && let (Some(a), Some(b)) = (usable.get(a), usable.get(b))
        {
            return vec![exchanged(all, a.track, b.track, a.read, b.read)];
        }
    }
    // a bearing that deflects like a gauge that does not
    for s in seen.iter().filter(|s| s.soft > 0.2 * most) {
        let others: Vec<f64> = seen
            .iter()
            .filter(|o| o.track.id != s.track.id && o.soft > 0.1 * most)
            .map(|o| o.read / o.soft)
            .collect();
        let scale = median(&others).unwrap_or(s.stiff / s.soft);
        let near = if others.is_empty() { 0.5 } else { 0.85 };
        let bearing = series.tracks.iter().filter(|t| t.role == Role::Settlement).find(|t| {
            t.rise().is_some_and(|r| {
                let part = r / (s.soft * scale);
                part > near && part < near.recip() && s.read.abs() < 0.35 * r
            })
        });
        if let Some(bearing) = bearing {
            return vec![exchanged(all, s.track, bearing, s.read, bearing.rise().unwrap_or(0.0))];
        }
    }
    Vec::new()
}

fn exchanged(all: &Whole, a: &Track, b: &Track, read: f64, other: f64) -> Fault {
    let note = Message::new(
        "it read {} and `{}` {}: exchanged, both fit the predicted shape; kept",
        [said(Kind::Length, read), (&b.id).into(), said(Kind::Length, other)],
    );
    let mut fault = all.fault(FaultKind::Swapped, &a.id, note);
    fault.with = Some(b.id.clone());
    fault
}

/// Whether measured over soft prediction is what some member could do.
fn possible(ratio: f64, s: &Seen<'_>) -> bool {
    ratio >= BAND.0 * (s.stiff / s.soft).abs() && ratio <= BAND.1
}

/// A gauge in another unit, by its prediction and by its neighbours where there are some.
fn units(seen: &[Seen<'_>], all: &Whole) -> Vec<Fault> {
    let most = seen.iter().map(|s| s.soft.abs()).fold(0.0, f64::max);
    let clear = |s: &&Seen<'_>| s.soft.abs() > 0.05 * most && s.read.abs() > 0.0;
    seen.iter()
        .filter(clear)
        .filter_map(|s| {
            let ratio = (s.read / s.soft).abs();
            if possible(ratio, s) {
                return None;
            }
            let beside: Vec<f64> = seen
                .iter()
                .filter(clear)
                .filter(|o| o.track.id != s.track.id)
                .map(|o| ((o.read / o.soft).abs(), o))
                .filter(|(r, o)| possible(*r, o))
                .map(|(r, _)| r)
                .collect();
            let (unit, off) = match median(&beside) {
                Some(scale) => nearest_ratio(Kind::Length, ratio / scale)?,
                // no neighbour: the middle of the two predictions, and half of their distance more
                None => {
                    let between = (s.stiff / s.soft).abs();
                    let (unit, off) = nearest_ratio(Kind::Length, ratio / between.sqrt())?;
                    (unit, (off - 0.5 * between.ln().abs()).max(0.0))
                }
            };
            (off <= NEAR).then(|| in_unit(all, s.track, ratio, unit))
        })
        .collect()
}

fn in_unit(all: &Whole, track: &Track, ratio: f64, unit: f64) -> Fault {
    let note = Message::new(
        "{} times what prediction and neighbours say, as one unit of {} is {} of another; kept",
        [Ratio::from(ratio).into(), track.role.kind().words().into(), unit.into()],
    );
    let mut fault = all.fault(FaultKind::Unit, &track.id, note);
    fault.factor = Some(unit.recip());
    fault
}

/// Without a prediction: half a sine between the bearings, which no beam is far from, says which
/// gauge is in another unit than the others. A third gauge is needed to say which.
fn units_by_neighbours(
    series: &Series,
    spec: &LogSpec,
    seen: &[Seen<'_>],
    all: &Whole,
) -> Vec<Fault> {
    let place = |id: &str| {
        spec.channels.iter().find(|c| c.id == id).and_then(|c| c.at.as_ref()).map(|a| a.value.si())
    };
    let bearings: Vec<f64> = series
        .tracks
        .iter()
        .filter(|t| t.role == Role::Settlement)
        .filter_map(|t| place(&t.id))
        .collect();
    let (low, high) = super::series::range(&bearings);
    if high <= low || seen.len() < 3 {
        return Vec::new();
    }
    let parts: Vec<(&Seen<'_>, f64)> = seen
        .iter()
        .filter_map(|s| {
            let part = (core::f64::consts::PI * (place(&s.track.id)? - low) / (high - low)).sin();
            (part > 0.3 && s.read.abs() > 0.0).then(|| (s, s.read.abs() / part))
        })
        .collect();
    let scales: Vec<f64> = parts.iter().map(|p| p.1).collect();
    let Some(middle) = median(&scales).filter(|_| scales.len() >= 3) else { return Vec::new() };
    parts
        .iter()
        .filter_map(|(s, scale)| {
            let ratio = scale / middle;
            let (unit, off) = nearest_ratio(Kind::Length, ratio)?;
            (!(0.2..=5.0).contains(&unit) && off <= 2.0 * NEAR)
                .then(|| in_unit(all, s.track, ratio, unit))
        })
        .collect()
}

/// Cells in another unit: by the target where the gauges say that the load was on, and by the
/// other cells.
fn force_units(
    series: &Series,
    seen: &[Seen<'_>],
    target: Option<Force>,
    all: &Whole,
) -> Vec<Fault> {
    let cells: Vec<(&Track, f64)> = series
        .tracks
        .iter()
        .filter(|t| t.is_force())
        .filter_map(|t| Some((t, t.rise()?.abs())))
        .collect();
    let sum: f64 = cells.iter().map(|c| c.1).sum();
    let Some(target) = target.map(Force::si).filter(|t| *t > 0.0 && sum > 0.0) else {
        return Vec::new();
    };
    let parts: Vec<f64> = seen
        .iter()
        .filter(|s| !s.soft.is_nan() && s.soft.abs() > 0.0)
        .map(|s| (s.read / s.soft, s))
        .filter(|(r, s)| possible(*r, s))
        .map(|(r, _)| r)
        .collect();
    if parts.is_empty() {
        return Vec::new();
    }
    let (ratio, off) = nearest_ratio(Kind::Force, sum / target).unwrap_or((1.0, f64::INFINITY));
    if off <= NEAR / 2.0 {
        return cells.iter().map(|(t, _)| in_unit(all, t, sum / target, ratio)).collect();
    }
    Vec::new()
}
