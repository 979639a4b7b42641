//! What of every gauge was used, and its series as columns.

use super::deflection::{Deflection, corrected};
use super::log::Log;
use super::spec::{LogSpec, Window};
use crate::units::Duration;

crate::answer! {
    /// What of one gauge was used in one window.
    pub struct WindowUsed {
        /// `zero`, `peak` or `residual`.
        window: String,
        /// Its beginning.
        from: Duration,
        /// Its end.
        to: Duration,
        /// How many samples the median was taken of.
        used: usize,
        /// How many rows have none: missing, or left out.
        left_out: usize,
    }
}

crate::answer! {
    /// What of one gauge was used.
    pub struct Used {
        /// The gauge.
        gauge: String,
        /// How many samples of the whole log are usable.
        samples: usize,
        /// How many rows have none.
        left_out: usize,
        /// Window by window.
        windows: Vec<WindowUsed>,
        /// The channels whose readings correct it.
        with: Vec<String>,
    }
}

/// The channels whose readings correct a gauge, by their names.
fn corrects(d: &Deflection) -> Vec<String> {
    let all = d.chain.weights.iter().map(|w| &w.0);
    let mut all: Vec<String> = all.filter(|id| **id != d.gauge).cloned().collect();
    all.sort();
    all
}

/// What of every gauge that was read was used.
pub(crate) fn used(log: &Log, spec: &LogSpec, deflections: &[Deflection]) -> Vec<Used> {
    let moments = &spec.moments;
    let windows = [
        ("zero", Some(&moments.zero)),
        ("peak", Some(&moments.peak)),
        ("residual", moments.residual.as_ref()),
    ];
    let of = |d: &Deflection| {
        let channel = log.channel(&d.gauge)?;
        let samples = log.samples(channel).count();
        let one = |(name, window): (&str, Option<&Window>)| {
            let window = window?;
            let used = log.in_window(channel, window).map_or(0, |m| m.1);
            Some(WindowUsed {
                window: name.to_owned(),
                from: window.from.value,
                to: window.to.value,
                used,
                left_out: log.rows_of(window).saturating_sub(used),
            })
        };
        Some(Used {
            gauge: d.gauge.clone(),
            samples,
            left_out: log.rows().saturating_sub(samples),
            windows: windows.iter().copied().filter_map(one).collect(),
            with: corrects(d),
        })
    };
    deflections.iter().filter_map(of).collect()
}

/// The series of one gauge, row by row, in SI; not-a-number where a row has no usable sample.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct Corrected {
    /// The gauge.
    pub gauge: String,
    /// Since the start of the log, seconds.
    pub time: Vec<f64>,
    /// The sum of the cells of record, newtons; empty where no channel is a force.
    pub force: Vec<f64>,
    /// Its readings with their sign, metres, as decisions of the record left them.
    pub raw: Vec<f64>,
    /// Deflection since zero, every correction made, metres.
    pub corrected: Vec<f64>,
}

/// The series of every gauge that was read, where the log asks for them.
pub(crate) fn series_back(log: &Log, deflections: &[Deflection]) -> Vec<Corrected> {
    if log.series { Corrected::of(log, deflections) } else { Vec::new() }
}

impl Corrected {
    fn of(log: &Log, deflections: &[Deflection]) -> Vec<Self> {
        let force = log.forces();
        let one = |d: &Deflection| {
            let channel = log.channel(&d.gauge)?;
            let zero = d.zero();
            let values = corrected(log, d);
            Some(Self {
                gauge: d.gauge.clone(),
                time: log.time.iter().collect(),
                force: force.clone(),
                raw: channel.values().iter().collect(),
                corrected: values.into_iter().map(|v| v - zero).collect(),
            })
        };
        deflections.iter().filter_map(one).collect()
    }
}
