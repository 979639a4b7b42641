//! From readings to deflections: sign, zero, drift, level, settlement.
//!
//! `v(t) = [r(t) − r(0)] − β [T(t) − T(0)] + [level(t) − level(0)] − s(x, t)`, all down
//! positive; `s` is the line through the movements of the two bearings on either side.

use super::log::{Channel, Log};
use super::spec::{ChannelSpec, LogSpec, Role, Window};
use crate::error::{Error, Issue, slug};
use crate::source::validate;
use crate::units::{Length, Temperature};

crate::answer! {
    /// What one gauge read at one moment, and the terms that correct it. Lengths down positive.
    pub struct Windows {
        /// Median of the readings, sign applied.
        reading: Length,
        /// How many samples it holds.
        samples: usize,
        /// Temperature, where a drift is corrected.
        temperature: Option<Temperature>,
        /// Movement of the level the gauge stands on.
        level: Length,
        /// Settlement at the gauge, by the line through the bearings.
        settlement: Length,
    }
}

/// The deflection of one gauge since zero, corrected, at the end of the full hold and after unloading.
#[derive(Clone, PartialEq, Debug)]
pub struct Deflection {
    /// The channel.
    pub gauge: String,
    /// Its place.
    pub at: Length,
    /// Readings and terms at zero, peak and, where it was read, residual.
    pub moments: Vec<Windows>,
    /// Largest deflection: end of the hold at full load.
    pub d_max: Length,
    /// Residual deflection, where it was read.
    pub d_r: Option<Length>,
    /// The same two without any correction but the zero.
    pub raw: (Length, Option<Length>),
    /// Standard uncertainty of the corrected reading at one moment (gauge, level, bearings);
    /// nothing where one of them does not say it.
    pub u_reading: Option<Length>,
    /// Change of temperature from zero to peak and to residual, times the uncertainty of the
    /// drift per kelvin: what the drift adds, common to both.
    pub u_drift: (f64, f64),
}

/// The corrected deflections of every gauge of the log.
///
/// # Errors
/// What the rules of [`LogSpec`] refuse; `readings.window-empty` for a gauge without a usable sample at zero or peak.
pub fn deflections(log: &Log, spec: &LogSpec) -> Result<Vec<Deflection>, Error> {
    let (read, dead) = read_gauges(log, spec)?;
    let issues: Vec<Issue> = dead.into_iter().map(|d| d.issue).collect();
    if issues.is_empty() { Ok(read) } else { Err(Error::data(issues)) }
}

/// A gauge without a usable sample at a moment that every criterion needs.
pub(crate) struct DeadGauge {
    pub(crate) gauge: String,
    /// Zero or peak.
    pub(crate) at: &'static str,
    pub(crate) issue: Issue,
}

/// The gauges that were read, and those that were not.
pub(crate) fn read_gauges(
    log: &Log,
    spec: &LogSpec,
) -> Result<(Vec<Deflection>, Vec<DeadGauge>), Error> {
    validate(spec)?;
    let zero = &spec.moments.zero;
    let (mut read, mut dead) = (Vec::new(), Vec::new());
    for (own, channel) in spec.channels.iter().zip(log.channels()) {
        if own.role != Role::Deflection {
            continue;
        }
        match deflection(log, spec, own, channel, zero) {
            Ok(deflection) => read.push(deflection),
            Err((at, issue)) => dead.push(DeadGauge { gauge: own.id.clone(), at, issue }),
        }
    }
    Ok((read, dead))
}

fn deflection(
    log: &Log,
    spec: &LogSpec,
    own: &ChannelSpec,
    channel: &Channel,
    zero: &Window,
) -> Result<Deflection, (&'static str, Issue)> {
    let at = own.at.as_ref().map_or(Length::ZERO, |a| a.value);
    let empty = |what: &str| {
        Issue::new(
            slug::READINGS_WINDOW_EMPTY,
            format!("moments.{what}"),
            format!("gauge `{}` has no usable sample in this window", own.id),
        )
    };
    let take = |window: &Window, what: &'static str| {
        moment(log, spec, own, channel, at, window).ok_or_else(|| (what, empty(what)))
    };
    let start = take(zero, "zero")?;
    let peak = take(&spec.moments.peak, "peak")?;
    let residual =
        spec.moments.residual.as_ref().and_then(|w| moment(log, spec, own, channel, at, w));
    let slope = spec.drift.as_ref().map_or(0.0, |d| d.moves.value.si() / d.per.value.si());
    let u_slope = spec
        .drift
        .as_ref()
        .map_or(0.0, |d| d.u.as_ref().map_or(0.0, |u| u.value.si() / d.per.value.si()));
    let change = |m: &Windows| match (m.temperature, start.temperature) {
        (Some(now), Some(then)) => (now - then).si(),
        _ => 0.0,
    };
    let corrected = |m: &Windows| {
        let drift = Length::from_si(slope * change(m));
        m.reading - start.reading - drift + (m.level - start.level)
            - (m.settlement - start.settlement)
    };
    let u_drift = (u_slope * change(&peak), residual.as_ref().map_or(0.0, |m| u_slope * change(m)));
    Ok(Deflection {
        gauge: own.id.clone(),
        at,
        d_max: corrected(&peak),
        d_r: residual.as_ref().map(corrected),
        raw: (peak.reading - start.reading, residual.as_ref().map(|m| m.reading - start.reading)),
        u_reading: u_reading(spec, own, at),
        u_drift,
        moments: [Some(start), Some(peak), residual].into_iter().flatten().collect(),
    })
}

fn moment(
    log: &Log,
    spec: &LogSpec,
    own: &ChannelSpec,
    channel: &Channel,
    at: Length,
    window: &Window,
) -> Option<Windows> {
    let (reading, samples) = log.in_window(channel, window)?;
    let of = |id: &str| log.channel(id).and_then(|c| log.in_window(c, window)).map(|m| m.0);
    let temperature = match &spec.drift {
        Some(drift) => Some(Temperature::from_si(of(&drift.channel)?)),
        None => None,
    };
    let level = match &own.level {
        Some(level) => Length::from_si(of(level)?),
        None => Length::ZERO,
    };
    let settlement = match bearings(spec, at) {
        Some((left, right)) => {
            let (a, b) = (of(&left.0.id)?, of(&right.0.id)?);
            Length::from_si((b - a) * ((at - left.1) / (right.1 - left.1)) + a)
        }
        None => Length::ZERO,
    };
    Some(Windows { reading: Length::from_si(reading), samples, temperature, level, settlement })
}

/// A settlement channel and its place.
type Bearing<'a> = (&'a ChannelSpec, Length);

/// The settlement channels on either side of a place.
fn bearings(spec: &LogSpec, at: Length) -> Option<(Bearing<'_>, Bearing<'_>)> {
    let settled = || {
        spec.channels
            .iter()
            .filter(|c| c.role == Role::Settlement)
            .filter_map(|c| c.at.as_ref().map(|a| (c, a.value)))
    };
    let left = settled().filter(|(_, x)| *x <= at).max_by(|a, b| a.1.si().total_cmp(&b.1.si()))?;
    let right = settled().filter(|(_, x)| *x >= at).min_by(|a, b| a.1.si().total_cmp(&b.1.si()))?;
    (left.1 < right.1).then_some((left, right))
}

/// The channels whose readings correct a gauge.
pub(super) fn corrects(spec: &LogSpec, gauge: &str) -> Vec<String> {
    let Some(own) = spec.channels.iter().find(|c| c.id == gauge) else { return Vec::new() };
    let ends = own.at.as_ref().and_then(|at| bearings(spec, at.value));
    let ends = ends.into_iter().flat_map(|(left, right)| [&left.0.id, &right.0.id]);
    spec.drift.iter().map(|d| &d.channel).chain(&own.level).chain(ends).cloned().collect()
}

impl Deflection {
    /// What the corrected readings stand at in the zero window, in metres.
    pub(super) fn at_zero(&self, spec: &LogSpec) -> f64 {
        self.moments.first().map_or(0.0, |m| {
            let drift = spec.drift.as_ref().map_or(0.0, |d| d.moves.value.si() / d.per.value.si());
            let level = m.level.si() - m.settlement.si();
            m.reading.si() - drift * m.temperature.map_or(0.0, |t| t.si()) + level
        })
    }
}

/// Every corrected reading of a gauge, not counted from zero: seconds, metres. A row in which a term
/// is missing is left out.
pub(super) fn series(log: &Log, spec: &LogSpec, gauge: &str) -> Vec<(f64, f64)> {
    let rows = log.time.iter().copied().zip(corrected(log, spec, gauge));
    rows.filter(|r| !r.1.is_nan()).collect()
}

/// The corrected reading of every row, not counted from zero: metres, not-a-number where a term is
/// missing.
pub(super) fn corrected(log: &Log, spec: &LogSpec, gauge: &str) -> Vec<f64> {
    let Some((own, channel)) = spec.channels.iter().find(|c| c.id == gauge).zip(log.channel(gauge))
    else {
        return Vec::new();
    };
    let at = own.at.as_ref().map_or(Length::ZERO, |a| a.value);
    let of = |id: &str| log.channel(id).map(|c| c.values.as_slice()).unwrap_or_default();
    let mut terms: Vec<(f64, &[f64])> = vec![(1.0, &channel.values)];
    if let Some(drift) = &spec.drift {
        terms.push((-drift.moves.value.si() / drift.per.value.si(), of(&drift.channel)));
    }
    if let Some(level) = &own.level {
        terms.push((1.0, of(level)));
    }
    if let Some((left, right)) = bearings(spec, at) {
        let part = (at - left.1) / (right.1 - left.1);
        terms.push((part - 1.0, of(&left.0.id)));
        terms.push((-part, of(&right.0.id)));
    }
    let sum = |i: usize| {
        terms.iter().map(|(k, v)| k * v.get(i).copied().unwrap_or(f64::NAN)).sum::<f64>()
    };
    (0..log.time.len()).map(sum).collect()
}

/// Whether the settlement at a place is taken off: between two bearings that are logged.
pub(crate) fn bearings_of(spec: &LogSpec, at: Length) -> bool {
    bearings(spec, at).is_some()
}

fn u_reading(spec: &LogSpec, own: &ChannelSpec, at: Length) -> Option<Length> {
    let of = |c: &ChannelSpec| c.role.kind().unit(&c.unit).zip(c.u).map(|(row, u)| row.factor * u);
    let mut sum = of(own)?.powi(2);
    if let Some(level) = &own.level {
        let level = spec.channels.iter().find(|c| c.id == *level)?;
        sum += of(level)?.powi(2);
    }
    if let Some((left, right)) = bearings(spec, at) {
        let part = (at - left.1) / (right.1 - left.1);
        sum += (of(left.0)? * (1.0 - part)).powi(2) + (of(right.0)? * part).powi(2);
    }
    Some(Length::from_si(sum.sqrt()))
}

impl crate::source::Write for Deflection {
    fn write(&self) -> crate::source::Node {
        crate::source::Node::map(vec![
            ("gauge", crate::source::Node::text(self.gauge.clone())),
            ("at", self.at.write()),
            ("d_max", self.d_max.write()),
            ("d_r", self.d_r.write()),
            ("raw_d_max", self.raw.0.write()),
            ("raw_d_r", self.raw.1.write()),
            ("u_reading", self.u_reading.write()),
            ("moments", self.moments.write()),
        ])
    }
}
