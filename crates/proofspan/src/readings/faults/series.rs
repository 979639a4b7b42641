//! A log thinned to a few thousand points: what is slower than its samples is looked for there.

use crate::error::{Error, go_on};
use crate::readings::channel::Channel;
use crate::readings::log::Log;
use crate::readings::median::median_of;
use crate::readings::spec::{LogSpec, Role, Window};
use crate::readings::thermal::fit;
use crate::units::{Kind, Length, Quantity, Said};

/// One channel of the thinned log.
pub(super) struct Track {
    pub(super) id: String,
    pub(super) role: Role,
    /// Medians of blocks of rows; not-a-number where a block has no usable sample.
    pub(super) values: Vec<f64>,
    /// The same before the stated drift with temperature is taken off; empty where there is none.
    pub(super) raw: Vec<f64>,
    /// The standard deviation of a sample about its neighbours.
    pub(super) noise: f64,
    /// Smallest and largest value, single points apart.
    pub(super) low: f64,
    pub(super) high: f64,
    /// Medians at zero and peak.
    pub(super) zero: Option<f64>,
    pub(super) peak: Option<f64>,
}

impl Track {
    /// The readings as the channel gave them.
    pub(super) fn as_read(&self) -> &[f64] {
        if self.raw.is_empty() { &self.values } else { &self.raw }
    }

    pub(super) fn span(&self) -> f64 {
        (self.high - self.low).max(0.0)
    }

    /// The change from zero to peak.
    pub(super) fn rise(&self) -> Option<f64> {
        Some(self.peak? - self.zero?)
    }

    /// What its movements are parts of over a long time: its rise, below zero where it rises under the
    /// load; its span where it ends the peak about where it began.
    pub(super) fn way(&self) -> f64 {
        self.rise().filter(|r| r.abs() > 0.2 * self.span()).unwrap_or(self.span())
    }

    /// What its movements at once are parts of: its span, below zero where it rises under the load.
    pub(super) fn signed_span(&self) -> f64 {
        if self.way() < 0.0 { -self.span() } else { self.span() }
    }

    pub(super) fn is_gauge(&self) -> bool {
        self.role == Role::Deflection
    }

    pub(super) fn is_force(&self) -> bool {
        self.role == Role::Force
    }
}

/// The thinned log.
pub(super) struct Series {
    pub(super) time: Vec<f64>,
    pub(super) tracks: Vec<Track>,
    /// The sum of the forces from zero, as a part of its largest span; empty without a force.
    pub(super) load: Vec<f64>,
}

impl Series {
    /// # Errors
    /// Where somebody wants an end of it.
    pub(super) fn of(log: &Log, spec: &LogSpec) -> Result<Self, Error> {
        let stretch = Channel::stretch(log.time.len());
        let time: Vec<f64> = log.time.iter().step_by(stretch).collect();
        let mut tracks: Vec<Track> = log
            .channels
            .iter()
            .map(|channel| {
                go_on()?;
                let window = |w: &Window| log.in_window(channel, w).map(|m| m.0);
                Ok(Track {
                    id: channel.id.clone(),
                    role: channel.role,
                    values: channel.thinned(),
                    raw: Vec::new(),
                    noise: 0.0,
                    low: 0.0,
                    high: 0.0,
                    zero: window(&spec.moments.zero),
                    peak: window(&spec.moments.peak),
                })
            })
            .collect::<Result<_, Error>>()?;
        without_drift(log, spec, &mut tracks);
        for track in &mut tracks {
            track.noise = noise(&track.values);
            (track.low, track.high) = extremes(&track.values);
        }
        let load = load(&tracks, time.len());
        Ok(Self { time, tracks, load })
    }

    /// The points between two times.
    pub(super) fn between(&self, from: f64, to: f64) -> core::ops::Range<usize> {
        let first = self.time.partition_point(|t| *t < from - 1e-9);
        let last = self.time.partition_point(|t| *t <= to + 1e-9);
        first..last.max(first)
    }

    /// The largest span of a gauge of deflection.
    pub(super) fn largest_gauge(&self) -> f64 {
        self.tracks.iter().filter(|t| t.is_gauge()).map(Track::span).fold(0.0, f64::max)
    }

    /// The least movement of a channel that is more than noise: a part of its own span, for a
    /// bearing or a level a part of that of the largest gauge.
    pub(super) fn least(&self, track: &Track, own: f64, bearing: f64, noise: f64) -> f64 {
        let part = match track.role {
            Role::Settlement | Role::Level => bearing * self.largest_gauge(),
            _ => own * track.span(),
        };
        part.max(noise * track.noise)
    }

    /// How far a part of the load moves over some points, as a part of its span; nothing without
    /// a force there.
    pub(super) fn load_moves(&self, points: core::ops::Range<usize>) -> Option<f64> {
        let (low, high) = range(self.load.get(points)?);
        (high >= low).then_some(high - low)
    }

    /// The gauges beside this one that move enough under the load to speak for it.
    pub(super) fn beside(&self, own: usize) -> impl Iterator<Item = &Track> {
        let largest = self.largest_gauge();
        self.tracks
            .iter()
            .enumerate()
            .filter(move |(i, t)| {
                *i != own && t.is_gauge() && t.span() > 0.1 * largest && t.span() > 10.0 * t.noise
            })
            .map(|(_, t)| t)
    }
}

/// Movement per kelvin of a gauge with each channel of temperature, as stated or fitted; nothing
/// where control periods do not show it.
fn drifts(log: &Log, spec: &LogSpec, gauge: &str) -> Vec<(String, f64)> {
    if let Some(drift) = &spec.drift {
        return vec![(drift.channel.clone(), drift.moves.value.si() / drift.per.value.si())];
    }
    let Some(thermal) = &spec.thermal else { return Vec::new() };
    let found = fit(&log.controls(thermal, &[(gauge.to_owned(), 1.0)]));
    found.map_or_else(|_| Vec::new(), |f| thermal.channels.iter().cloned().zip(f.slopes).collect())
}

/// Takes the drift with temperature from the gauges.
fn without_drift(log: &Log, spec: &LogSpec, tracks: &mut [Track]) {
    if spec.drift.is_none() && spec.thermal.is_none() {
        return;
    }
    for own in 0..tracks.len() {
        let Some(gauge) = tracks.get(own).filter(|t| t.is_gauge()).map(|t| t.id.clone()) else {
            continue;
        };
        for (channel, slope) in drifts(log, spec, &gauge) {
            let warm = tracks.iter().find(|t| t.id == channel);
            let Some((then, temperature)) = warm.and_then(|t| Some((t.zero?, t.values.clone())))
            else {
                continue;
            };
            let peak = log.channel(&channel).and_then(|c| log.in_window(c, &spec.moments.peak));
            let Some(track) = tracks.get_mut(own) else { continue };
            let mut last = then;
            if track.raw.is_empty() {
                track.raw.clone_from(&track.values);
            }
            for (value, warm) in track.values.iter_mut().zip(&temperature) {
                if !warm.is_nan() {
                    last = *warm;
                }
                *value -= slope * (last - then);
            }
            if let (Some(at_peak), Some(warm)) = (&mut track.peak, &peak) {
                *at_peak -= slope * (warm.0 - then);
            }
        }
    }
}

/// The standard deviation of a sample by the median of its second differences: a line has none.
fn noise(values: &[f64]) -> f64 {
    let usable: Vec<f64> = values.iter().copied().filter(|v| !v.is_nan()).collect();
    let mut second: Vec<f64> = usable
        .windows(3)
        .map(|w| match w {
            [a, b, c] => (a - 2.0 * b + c).abs(),
            _ => 0.0,
        })
        .collect();
    median_of(&mut second).unwrap_or(0.0) / (0.6745 * 6.0_f64.sqrt())
}

/// Smallest and largest median of three neighbours.
fn extremes(values: &[f64]) -> (f64, f64) {
    let usable: Vec<f64> = values.iter().copied().filter(|v| !v.is_nan()).collect();
    if usable.len() < 3 {
        return range(&usable);
    }
    usable.windows(3).fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), w| {
        let middle = median3(w);
        (low.min(middle), high.max(middle))
    })
}

fn median3(w: &[f64]) -> f64 {
    match w {
        [a, b, c] => a.max(*b).min(a.min(*b).max(*c)),
        _ => f64::NAN,
    }
}

/// Smallest and largest usable value.
pub(super) fn range(values: &[f64]) -> (f64, f64) {
    values
        .iter()
        .filter(|v| !v.is_nan())
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(*v), h.max(*v)))
}

/// The median of a few usable values.
pub(super) fn median(values: &[f64]) -> Option<f64> {
    let mut usable: Vec<f64> = values.iter().copied().filter(|v| !v.is_nan()).collect();
    median_of(&mut usable)
}

fn load(tracks: &[Track], points: usize) -> Vec<f64> {
    let forces: Vec<&Track> = tracks.iter().filter(|t| t.is_force()).collect();
    if forces.is_empty() {
        return Vec::new();
    }
    let sum: Vec<f64> = (0..points)
        .map(|i| {
            forces
                .iter()
                .map(|f| f.values.get(i).copied().unwrap_or(f64::NAN) - f.zero.unwrap_or(0.0))
                .sum()
        })
        .collect();
    let (low, high) = extremes(&sum);
    let span = high - low;
    if span > 0.0 { sum.into_iter().map(|f| f / span).collect() } else { Vec::new() }
}

/// A size as people say it: a length in mm or inches.
pub(super) fn said(kind: Kind, si: f64) -> Said {
    match kind {
        Kind::Length => Said::small(Length::from_si(si)),
        _ => Quantity::new(kind, si).into(),
    }
}
