//! What a verdict rests on, kept so that somebody who was not there can look at it and sign.

use super::record::RunRecord;
use crate::error::Error;
use crate::readings::{Log, LogSpec, Role, each};
use crate::source::{Write, fingerprint};

/// The record, the layout of the log and the log itself, thinned for pictures.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct Evidence {
    /// The record of the test as it was run.
    pub record: RunRecord,
    /// The layout of the log: channels and windows.
    pub layout: LogSpec,
    /// SHA-256 of the log: see [`Log::fingerprint`].
    pub log: String,
    /// SHA-256 of the test that was judged; nothing for one that was designed elsewhere.
    pub design: Option<String>,
    /// The day of the last row, where the log writes date and time: see [`Log::last_day`].
    pub last_day: Option<String>,
    /// Every channel as it was read, before decisions and corrections.
    pub histories: Vec<History>,
}

/// A channel along the test.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct History {
    /// The channel.
    pub channel: String,
    /// What it measures.
    pub role: Role,
    /// Seconds since the start of the log and SI values; of many samples the least and the largest of
    /// every stretch of time. A movement counts from its median in the zero window.
    pub points: Vec<(f64, f64)>,
}

/// So many stretches of time has a thinned channel (library rule).
const STRETCHES: usize = 300;

impl Evidence {
    /// What a judgement of this log rests on; the fingerprint of the log is left to whoever has the
    /// whole of it.
    ///
    /// # Errors
    /// Where somebody wants an end of it.
    pub(crate) fn of(log: &Log, layout: &LogSpec, record: &RunRecord) -> Result<Self, Error> {
        let samples = log.rows() * log.channels().len();
        let histories = each(samples, log.channels().iter(), |channel| {
            let zero = match channel.role {
                Role::Deflection | Role::Settlement | Role::Level => {
                    log.in_window(channel, &layout.moments.zero).map_or(0.0, |m| m.0)
                }
                _ => 0.0,
            };
            let points = thinned(log.samples(channel), log.rows());
            let points = points.into_iter().map(|(t, v)| (t, v - zero)).collect();
            History { channel: channel.id.clone(), role: channel.role, points }
        })?;
        let (record, layout) = (record.clone(), layout.clone());
        let last_day = log.last_day().map(str::to_owned);
        Ok(Self { record, layout, log: String::new(), design: None, last_day, histories })
    }

    /// SHA-256 of the record as JSON.
    #[must_use]
    pub fn of_record(&self) -> String {
        fingerprint(&self.record.write())
    }

    /// SHA-256 of the layout of the log as JSON.
    #[must_use]
    pub fn of_layout(&self) -> String {
        fingerprint(&self.layout.write())
    }
}

/// Of every stretch of rows the samples with the least and the largest value, in order of time.
fn thinned(samples: impl Iterator<Item = (f64, f64)>, rows: usize) -> Vec<(f64, f64)> {
    let each = rows.div_ceil(STRETCHES).max(1);
    let mut out = Vec::with_capacity(2 * STRETCHES);
    let mut open: Option<[(f64, f64); 2]> = None;
    let mut close = |open: &mut Option<[(f64, f64); 2]>| {
        if let Some([low, high]) = open.take() {
            let (first, second) = if low.0 <= high.0 { (low, high) } else { (high, low) };
            out.push(first);
            if second.0 > first.0 {
                out.push(second);
            }
        }
    };
    let mut left = 0;
    for sample in samples {
        if left == 0 {
            close(&mut open);
            left = each;
        }
        left -= 1;
        let [low, high] = open.get_or_insert([sample, sample]);
        if sample.1 < low.1 {
            *low = sample;
        }
        if sample.1 > high.1 {
            *high = sample;
        }
    }
    close(&mut open);
    out
}

#[cfg(test)]
mod tests {
    use super::thinned;

    /// Two rows stand for one stretch of 600: of both the least and the largest in order of time, of equal
    /// ones the first.
    #[test]
    fn the_least_and_the_largest_of_a_stretch() {
        let four = [[1.0, 1.0], [3.0, 2.0], [2.0, 3.0], [4.0, 4.0]];
        let at = |i: usize| (i as f64, four.get(i / 2 % 4).and_then(|p| p.get(i % 2)).copied());
        let samples = (0..600).filter_map(|i| at(i).1.map(|v| (at(i).0, v)));
        let kept = [(0.0, 1.0), (2.0, 3.0), (3.0, 2.0), (4.0, 2.0), (5.0, 3.0), (6.0, 4.0)];
        let all: Vec<(f64, f64)> =
            (0..75).flat_map(|n| kept.map(|(t, v)| (t + 8.0 * f64::from(n), v))).collect();
        assert_eq!(thinned(samples, 600), all);
    }

    /// One sample that leaves is kept however many there are, and few samples are all kept.
    #[test]
    fn a_spike_is_not_thinned_away() {
        let rows = 100_000_u32;
        let at = |i: u32| (f64::from(i), if i == 70_003 { 9.0 } else { 1.0 });
        let thin = thinned((0..rows).map(at), 100_000);
        assert!(thin.len() <= 602 && thin.contains(&(70_003.0, 9.0)), "{}", thin.len());
        assert!(thin.iter().zip(thin.iter().skip(1)).all(|(a, b)| a.0 < b.0));
        let all: Vec<(f64, f64)> = (0..250).map(|i| (f64::from(i), f64::from(i * i))).collect();
        assert_eq!(thinned(all.iter().copied(), 250), all);
    }
}
