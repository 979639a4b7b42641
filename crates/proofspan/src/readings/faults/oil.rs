//! The pressure of the oil beside the cells: two witnesses of one force.

use super::series::{Series, Track};
use crate::error::Error;
use crate::readings::fault::{Fault, FaultEffect, FaultKind};
use crate::readings::log::Log;
use crate::readings::spec::{ChannelSpec, LogSpec, Role};
use crate::units::{Area, Force, Message};

/// So far from the cells the force of the oil may be, as a part of what came on: jacks have friction.
const APART: f64 = 0.05;
/// So many points in turn that are farther.
const POINTS: usize = 3;
/// A pressure that rises by fewer noises than this while the load comes on does not rise.
const RISES: f64 = 10.0;

/// Where, up to the end of the full load, the pressures of a log and its cells say something else. Each
/// pressure acts on its area; without areas each is only in proportion to the force at the peak.
///
/// # Errors
/// Where somebody wants an end of it.
pub(crate) fn of_oil(
    log: &Log,
    spec: &LogSpec,
    areas: Option<&[Area]>,
) -> Result<Vec<Fault>, Error> {
    let series = Series::of(log, spec)?;
    let of = |role| series.tracks.iter().filter(move |t| t.role == role).collect::<Vec<_>>();
    let (oil, cells) = (of(Role::Pressure), of(Role::Force));
    if oil.is_empty() || cells.is_empty() {
        return Ok(Vec::new());
    }
    let beside = Beside {
        force: Rise::of(cells.iter().map(|c| (*c, 1.0)).collect()),
        end: series.between(0.0, spec.moments.peak.to.value.si()).end,
        with: cells.first().filter(|_| cells.len() == 1).map(|c| c.id.clone()),
        series: &series,
        spec,
    };
    Ok(match areas {
        Some(areas) => {
            let parts = oil.iter().zip(areas).map(|(t, a)| (*t, a.si())).collect();
            beside.look(&Rise::of(parts)).into_iter().collect()
        }
        None => {
            let alone = |t: &&Track| beside.look(&Rise::of(vec![(*t, beside.share(t)?)]));
            oil.iter().filter_map(alone).collect()
        }
    })
}

/// A sum of channels since zero, each times its factor.
struct Rise<'a> {
    parts: Vec<(&'a Track, f64)>,
}

impl<'a> Rise<'a> {
    const fn of(parts: Vec<(&'a Track, f64)>) -> Self {
        Self { parts }
    }

    fn at(&self, i: usize) -> f64 {
        let one = |(t, factor): &(&Track, f64)| {
            let now = t.values.get(i).copied().unwrap_or(f64::NAN);
            factor * (now - t.zero.unwrap_or(f64::NAN))
        };
        self.parts.iter().map(one).sum()
    }

    fn at_peak(&self) -> Option<f64> {
        self.parts.iter().map(|(t, factor)| Some(factor * t.rise()?)).sum()
    }

    fn noise(&self) -> f64 {
        self.parts.iter().map(|(t, factor)| (t.noise * factor).powi(2)).sum::<f64>().sqrt()
    }

    /// Two standard uncertainties of a change, of those channels that state one.
    fn u(&self, spec: &LogSpec) -> f64 {
        let own = |id: &str| spec.channels.iter().find(|c| c.id == id).and_then(ChannelSpec::u_si);
        let one = |(t, factor): &(&Track, f64)| (own(&t.id).unwrap_or(0.0) * factor).powi(2);
        2.0 * (2.0 * self.parts.iter().map(one).sum::<f64>()).sqrt()
    }
}

/// The cells up to the end of the peak.
struct Beside<'a> {
    force: Rise<'a>,
    end: usize,
    /// The cell, where there is one.
    with: Option<String>,
    series: &'a Series,
    spec: &'a LogSpec,
}

impl Beside<'_> {
    /// The force for each unit of a pressure that is in proportion at the peak; of one that does not
    /// rise with the load a number with which it never keeps up.
    fn share(&self, oil: &Track) -> Option<f64> {
        let (pressure, force) = (oil.rise()?, self.force.at_peak()?);
        let rises = pressure > RISES * oil.noise && pressure > 0.0;
        Some(if rises { force / pressure } else { 0.0 })
    }

    fn look(&self, oil: &Rise<'_>) -> Option<Fault> {
        let whole = self.force.at_peak().filter(|f| f.abs() > RISES * self.force.noise())?;
        let u = self.force.u(self.spec).hypot(oil.u(self.spec));
        let least = (APART * whole.abs()).max(u).max(RISES * oil.noise().hypot(self.force.noise()));
        // the first and the last point of what is apart, how many there are, and the farthest
        let mut apart: Option<(usize, usize, usize, usize)> = None;
        let mut run = 0;
        let off = |i: usize| oil.at(i) - self.force.at(i);
        for i in 0..self.end {
            let by = off(i).abs();
            if by.is_nan() {
                continue;
            }
            run = if by > least { run + 1 } else { 0 };
            if run >= POINTS {
                let (first, _, count, far) = apart.unwrap_or((i + 1 - run, i, 0, i));
                apart = Some((first, i, count + 1, if by > off(far).abs() { i } else { far }));
            }
        }
        let (first, last, count, far) = apart?;
        let at = |i: usize| self.series.time.get(i).copied().unwrap_or(0.0);
        let note = Message::new(
            "the oil says {} since zero where the cells say {}; kept",
            [Force::from_si(oil.at(far)).into(), Force::from_si(self.force.at(far)).into()],
        );
        let id = oil.parts.first().map(|p| p.0.id.as_str())?;
        let mut fault = Fault::new(
            FaultKind::Contradicted,
            id,
            (at(first), at(last)),
            count + POINTS - 1,
            note,
        );
        fault.with.clone_from(&self.with);
        Some(fault.with_effect(FaultEffect::Open))
    }
}
