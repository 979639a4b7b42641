//! From readings to deflections: zero, sign, calibration, drift, level, supports, load.
//!
//! `v(t) = Σ w_i [c_i(t) − c_i(0)]`, all down positive, over the channels that speak for a gauge:
//! its own, the temperatures times their drift, the level below, the supports. The chain of
//! corrections says the same one after the other.

use core::ops::Range;
use std::borrow::Cow;

use super::chain::{
    Chain, Correction, CorrectionKind, Plan, Windows, formula_of, plain, since_a_zero, with_common,
    with_error,
};
use super::channel::Channel;
use super::column::Values;
use super::log::Log;
use super::rigid::{How, Rigid, rigid};
use super::spec::{ChannelSpec, Drift, LogSpec, Role, ThermalFit, Window};
use super::thermal::{Fit, NoFit, fit};
use crate::beam::BeamSpec;
use crate::error::{Error, Issue, slug};
use crate::formula::{NoRecord, Recorder as _, Working};
use crate::source::validate;
use crate::units::{
    Force, Length, Message, Quantified as _, Quantity, Ratio, Rotation, Said, Temperature,
    TemperatureChange,
};
use crate::verdict::Note;

/// Independent errors together, the largest first; nothing where there is none.
fn squared(
    working: &mut Working,
    errors: impl Iterator<Item = Length>,
    law: fn(&mut Working, Length, Length) -> Length,
) -> Option<Length> {
    let mut all: Vec<Length> = errors.map(Length::abs).filter(|u| *u > Length::ZERO).collect();
    all.sort_by(|a, b| b.si().total_cmp(&a.si()));
    let (first, rest) = all.split_first()?;
    Some(match rest.split_first() {
        Some((second, more)) => {
            let two = law(working, *first, *second);
            more.iter().fold(two, |u, one| law(working, u, *one))
        }
        // one alone is a line too, so that it can be followed
        None => law(working, *first, Length::ZERO),
    })
}

/// The deflection of one gauge since zero, corrected, at the end of the full hold and after unloading.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
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
    /// The same two without any correction but the zero, the sign and the calibration.
    pub raw: (Length, Option<Length>),
    /// Standard uncertainty of the corrected reading at one moment (gauge, level, supports,
    /// temperature where stated); nothing where one of them does not say it.
    pub u_reading: Option<Length>,
    /// What the channel gave and every correction of it.
    pub chain: Chain,
}

impl Deflection {
    /// The corrected reading at zero, from which a series counts: metres.
    pub(super) fn zero(&self) -> f64 {
        let plan = &self.chain.plan;
        self.moments.first().map_or(0.0, |m| {
            let drifts = plan.drift.iter().zip(&m.temperatures);
            let drift: f64 = drifts.map(|((v, per), t)| v.si() / per.si() * t.si()).sum();
            let turned = m.turn.zip(plan.lever).map_or(0.0, |(turn, a)| (turn * a).si());
            m.reading.si() - drift + m.level.si() - m.settlement.si() - turned
        })
    }

    /// Lists what the decisions of the record did to the readings of this gauge: `read` is the log as
    /// it was before them.
    pub(crate) fn decided(&mut self, read: &Log, spec: &LogSpec) {
        let Some(channel) = read.channel(&self.gauge) else { return };
        let windows = [Some(&spec.moments.peak), spec.moments.residual.as_ref()];
        let mut was = windows.into_iter().flatten().map(|w| {
            let reading = Length::from_si(read.in_window(channel, w)?.0);
            let first = self.moments.first()?;
            Some(self.chain.plan.as_read(&Windows { reading, ..first.clone() }))
        });
        let (peak, residual) = (was.next().flatten(), was.next().flatten());
        drop(was);
        let (now, rest) = self.chain.as_read;
        let at_peak = peak.map_or(Length::ZERO, |p| now - p);
        let at_residual = rest.map(|now| residual.map_or(Length::ZERO, |r| now - r));
        let moved = |l: Length| l.si().abs() > 0.0;
        if !(moved(at_peak) || at_residual.is_some_and(moved)) {
            return;
        }
        self.chain.as_read = (now - at_peak, rest.zip(at_residual).map(|(r, d)| r - d));
        let decision = Correction {
            what: CorrectionKind::Decision,
            value: at_peak.into(),
            u: None,
            at_peak,
            at_residual,
            u_at_peak: None,
            u_at_residual: None,
            formula: String::new(),
            source: "decisions of the record about faults".into(),
        };
        self.chain.corrections.insert(0, decision);
    }

    /// The chain redone with a pencil, at peak and residual.
    pub(crate) fn work(&self, working: &mut Working, path: &str) {
        let Some((zero, rest)) = self.moments.split_first() else { return };
        for (i, now) in rest.iter().enumerate() {
            let when = if i == 0 { "largest" } else { "residual" };
            let gauge = &self.gauge;
            working.about(|| Message::new("Gauge {}, {} deflection", [gauge.into(), when.into()]));
            let since = working.items.len();
            let run = self.chain.plan.run(working, zero, now, i == 0);
            let (name, answer) =
                if i == 0 { ("d_max", Some(self.d_max)) } else { ("d_r", self.d_r) };
            if let (Some((_, found)), Some(answer)) = (run.last(), answer) {
                let size = zero.reading.abs().max(now.reading.abs()).max(answer.abs());
                let what = format!("{path}.{name}");
                working.claim(what, since, found.quantity(), answer.si(), size.si());
            }
        }
        self.work_errors(working, path);
    }

    /// u of one reading and of both deflections, where every channel states its own.
    fn work_errors(&self, working: &mut Working, path: &str) {
        let Some(stated) = self.u_reading else { return };
        let channels: Vec<&str> = self.chain.errors.iter().map(|(id, _)| id.as_str()).collect();
        let (gauge, names) = (&self.gauge, channels.join(", "));
        working.about(|| {
            let said = [gauge.into(), names.as_str().into()];
            Message::new("Gauge {}, standard uncertainty; channels: {}", said)
        });
        let since = working.items.len();
        let own = self.chain.errors.iter().map(|(_, u)| *u);
        let Some(u) = squared(working, own, with_error) else { return };
        working.claim(format!("{path}.u_reading"), since, u.quantity(), stated.si(), u.si());
        let straight = since_a_zero(working, u);
        let peak = self.chain.common.iter().map(|c| c.0);
        squared(working, core::iter::once(straight).chain(peak), with_common);
        if self.d_r.is_some() {
            let residual = self.chain.common.iter().map(|c| c.1);
            squared(working, core::iter::once(straight).chain(residual), with_common);
        }
    }

    /// The standard errors of the two deflections: zero, peak and residual reading, then those that
    /// peak and residual share. Nothing where the uncertainty of a reading is not stated.
    pub(crate) fn errors(&self) -> Option<Vec<f64>> {
        let u = self.u_reading?.si();
        let shared = self.chain.common.iter().map(|_| 1.0);
        Some([u, u, u].into_iter().chain(shared).collect())
    }

    /// What such errors do to the largest and to the residual deflection: metres.
    pub(crate) fn moved(&self, errors: &[f64]) -> Option<(f64, f64)> {
        let [zero, peak, residual, shared @ ..] = errors else { return None };
        let common = shared.iter().zip(&self.chain.common);
        let (max, rest) = common
            .fold((0.0, 0.0), |(max, rest), (e, (a, b))| (max + e * a.si(), rest + e * b.si()));
        Some((peak - zero - max, residual - zero - rest))
    }
}

/// The corrected deflections of every gauge of the log. The member is taken for one without a free
/// end: a gauge is corrected for the supports where it stands between two that are logged. For one
/// with a free end see [`deflections_of`].
///
/// # Errors
/// What the rules of [`LogSpec`] refuse; `readings.window-empty` for a gauge without a usable sample
/// at zero or peak; `readings.thermal-fit` and `readings.control-loaded` of control periods.
pub fn deflections(log: &Log, spec: &LogSpec) -> Result<Vec<Deflection>, Error> {
    all_of(log, spec, &|_| false)
}

/// The same of a member that is known, as a judgement of it corrects them: what stands on a cantilever
/// or an overhang is counted from its root, which settles and turns, or from the line through two
/// bearings drawn on to it.
///
/// # Errors
/// As [`deflections`].
pub fn deflections_of(
    log: &Log,
    spec: &LogSpec,
    member: &BeamSpec,
) -> Result<Vec<Deflection>, Error> {
    all_of(log, spec, &|x| member.is_free(x))
}

fn all_of(
    log: &Log,
    spec: &LogSpec,
    free: &dyn Fn(Length) -> bool,
) -> Result<Vec<Deflection>, Error> {
    let (read, dead) = read_gauges(log, spec, free)?;
    let issues: Vec<Issue> = dead.into_iter().map(|d| d.issue).collect();
    if issues.is_empty() { Ok(read) } else { Err(Error::data(issues)) }
}

/// A gauge without a usable sample at a moment that every criterion needs.
pub(crate) struct DeadGauge {
    pub(crate) gauge: String,
    /// Zero, peak or control periods.
    pub(crate) at: &'static str,
    pub(crate) issue: Issue,
}

/// The gauges that were read, and those that were not. `free` says whether a place is on a
/// cantilever or an overhang.
pub(crate) fn read_gauges(
    log: &Log,
    spec: &LogSpec,
    free: &dyn Fn(Length) -> bool,
) -> Result<(Vec<Deflection>, Vec<DeadGauge>), Error> {
    validate(spec)?;
    let mut issues = spec.thermal.as_ref().map_or_else(Vec::new, |t| loaded(log, spec, t));
    let mut out = Vec::new();
    let mut dead = Vec::new();
    for own in &spec.channels {
        if own.role != Role::Deflection {
            continue;
        }
        let Some(channel) = log.channel(&own.id) else { continue };
        let at = own.at.as_ref().map_or(Length::ZERO, |a| a.value);
        let mut gauge = Gauge {
            log,
            spec,
            own,
            channel,
            at,
            rigid: rigid(spec, at, free(at)),
            drifts: Vec::new(),
        };
        match gauge.drifts() {
            Ok(drifts) => gauge.drifts = drifts,
            // a gauge that was not read there shows nothing, and takes nothing from the others
            Err((NoFit::Few(_), issue)) => {
                dead.push(DeadGauge { gauge: own.id.clone(), at: "the control periods", issue });
                continue;
            }
            Err((_, issue)) => {
                issues.push(issue);
                continue;
            }
        }
        match gauge.read() {
            Ok(deflection) => out.push(deflection),
            Err((at, issue)) => dead.push(DeadGauge { gauge: own.id.clone(), at, issue }),
        }
    }
    log.sound()?;
    if issues.is_empty() { Ok((out, dead)) } else { Err(Error::data(issues)) }
}

/// Control periods in which the load was another than at zero, or changed.
fn loaded(log: &Log, spec: &LogSpec, thermal: &ThermalFit) -> Vec<Issue> {
    let peak = log.force_in(&spec.moments.peak).unwrap_or(Force::ZERO);
    let band = (peak.abs() * spec.zero_band.value()).si();
    let on = spec.moments.at_zero.value.si();
    let mut issues = Vec::new();
    for (i, period) in thermal.periods.iter().enumerate() {
        let rows = log.rows_in(period);
        let inside = || log.force_in_rows(rows.clone()).map(|s| s.1);
        let mean = inside().sum::<f64>() / inside().count().max(1) as f64;
        // one sample alone is noise
        let pairs = inside().zip(inside().skip(1)).map(|(a, b)| f64::midpoint(a, b));
        let far = pairs
            .chain(inside().next().map(|_| mean))
            .max_by(|a, b| (a - on).abs().total_cmp(&(b - on).abs()))
            .filter(|f| (f - on).abs() > band);
        if let Some(far) = far {
            let path = thermal.periods.path("thermal.periods", i);
            let message = Message::new(
                "{} was on in a control period where {} should be: what the gauges did then is not the temperature alone",
                [Force::from_si(far).into(), Force::from_si(on).into()],
            );
            issues.push(Issue::new(slug::READINGS_CONTROL_LOADED, path, message.to_string()));
        }
    }
    issues
}

/// A drift as it is used for one gauge.
struct DriftUsed {
    channel: String,
    moves: Length,
    per: TemperatureChange,
    /// Stated, for `per`.
    u: Option<Length>,
    source: Message,
    /// Where it was fitted: the fit and the number of its channel.
    fit: Option<(Fit, usize)>,
}

impl DriftUsed {
    fn slope(&self) -> f64 {
        self.moves.si() / self.per.si()
    }
}

/// One gauge with all that speaks for it.
struct Gauge<'a> {
    log: &'a Log,
    spec: &'a LogSpec,
    own: &'a ChannelSpec,
    channel: &'a Channel,
    at: Length,
    rigid: Rigid,
    drifts: Vec<DriftUsed>,
}

impl Gauge<'_> {
    fn path(&self) -> String {
        format!("readings.{}", self.own.id)
    }

    fn spec_of(&self, id: &str) -> Option<&ChannelSpec> {
        self.spec.channels.iter().find(|c| c.id == id)
    }

    /// Channels without the drift, each times its number.
    fn still(&self) -> Vec<(String, f64)> {
        let mut weights = vec![(self.own.id.clone(), 1.0)];
        weights.extend(self.own.level.clone().map(|level| (level, 1.0)));
        weights.extend(self.rigid.settles.iter().map(|(id, part)| (id.clone(), -part)));
        if let Some(lever) = self.rigid.lever() {
            let turns = self.rigid.turns.iter();
            weights.extend(turns.map(|(id, part)| (id.clone(), -part * lever.si())));
        }
        weights
    }

    fn weights(&self) -> Vec<(String, f64)> {
        let mut weights = self.still();
        weights.extend(self.drifts.iter().map(|d| (d.channel.clone(), -d.slope())));
        weights
    }

    /// The drifts that are stated, or those of a fit.
    fn drifts(&self) -> Result<Vec<DriftUsed>, (NoFit, Issue)> {
        if let Some(stated) = &self.spec.drift {
            return Ok(vec![stated_drift(stated)]);
        }
        let Some(thermal) = &self.spec.thermal else { return Ok(Vec::new()) };
        let fitted = fit(&self.log.controls(thermal, &self.still()));
        let fitted = fitted.map_err(|why| (why, self.no_fit(thermal, why)))?;
        let per = TemperatureChange::from_si(1.0);
        let used = thermal.channels.iter().zip(&fitted.slopes).enumerate();
        let used = used.map(|(k, (channel, slope))| {
            let (low, high) = fitted.ranges.get(k).copied().unwrap_or_default();
            let u = fitted.errors.iter().filter_map(|e| e.get(k)).map(|e| e * e).sum::<f64>();
            DriftUsed {
                channel: channel.clone(),
                moves: Length::from_si(*slope),
                per,
                u: Some(Length::from_si(u.sqrt())),
                source: Message::new(
                    "least squares over {} rows of the control periods, {} from {} to {}, {} of the movement explained; per kelvin",
                    [
                        (fitted.rows as f64).into(),
                        channel.into(),
                        Temperature::from_si(low).into(),
                        Temperature::from_si(high).into(),
                        Ratio::from((fitted.explained * 1e4).round() / 1e4).into(),
                    ],
                ),
                fit: Some((fitted.clone(), k)),
            }
        });
        Ok(used.collect())
    }

    fn no_fit(&self, thermal: &ThermalFit, why: NoFit) -> Issue {
        let gauge = &self.own.id;
        let (path, message): (Cow<'_, str>, String) = match why {
            NoFit::Few(rows) => (
                "thermal.periods".into(),
                format!("`{gauge}` and its temperatures were read together in {rows} rows of the control periods: too few"),
            ),
            NoFit::Still(channel) => (
                thermal.channels.path("thermal.channels", channel),
                "the temperature does not change in the control periods".to_owned(),
            ),
            NoFit::Alike => (
                "thermal.channels".into(),
                "the temperatures go up and down together in the control periods: which of them moves the gauges cannot be told".to_owned(),
            ),
        };
        Issue::new(slug::READINGS_THERMAL_FIT, path, message)
    }

    /// Readings and terms in a window.
    fn moment(&self, window: &Window) -> Option<Windows> {
        let (reading, samples) = self.log.in_window(self.channel, window)?;
        let of = |id: &str| {
            self.log.channel(id).and_then(|c| self.log.in_window(c, window)).map(|m| m.0)
        };
        let sum = |parts: &[(String, f64)]| {
            parts.iter().try_fold(0.0, |sum, (id, part)| Some(sum + part * of(id)?))
        };
        let temperatures: Option<Vec<Temperature>> =
            self.drifts.iter().map(|d| of(&d.channel).map(Temperature::from_si)).collect();
        let level = match &self.own.level {
            Some(level) => of(level)?,
            None => 0.0,
        };
        let turn = match self.rigid.lever() {
            Some(_) => Some(Rotation::from_si(sum(&self.rigid.turns)?)),
            None => None,
        };
        let nominal = self.spec.moments.nominal.as_ref();
        Some(Windows {
            reading: Length::from_si(reading),
            samples,
            temperatures: temperatures?,
            level: Length::from_si(level),
            settlement: Length::from_si(sum(&self.rigid.settles)?),
            turn,
            force: nominal.and_then(|_| self.log.force_in(window)),
        })
    }

    fn plan(&self) -> Plan {
        let calibration = self.own.calibration.as_ref().zip(self.own.row());
        Plan {
            sign: (self.own.sign < 0.0).then_some(self.own.sign),
            calibration: calibration
                .map(|(c, row)| (c.factor, Length::from_si(row.factor * c.offset * self.own.sign))),
            drift: self.drifts.iter().map(|d| (d.moves, d.per)).collect(),
            level: self.own.level.is_some(),
            line: match self.rigid.how {
                How::Between(a, b) | How::Beyond(a, b) => Some((a, b)),
                How::At(a) => Some((a, a)),
                How::Root(..) | How::Unknown => None,
            },
            settles: !self.rigid.settles.is_empty(),
            lever: self.rigid.lever(),
            nominal: None,
        }
    }

    /// The deflections; or the moment without a usable sample, with the issue that says so.
    fn read(&self) -> Result<Deflection, (&'static str, Issue)> {
        let empty = |what: &str| {
            Issue::new(
                slug::READINGS_WINDOW_EMPTY,
                format!("moments.{what}"),
                format!("gauge `{}` has no usable sample in this window", self.own.id),
            )
        };
        let take =
            |window, what: &'static str| self.moment(window).ok_or_else(|| (what, empty(what)));
        let moments = &self.spec.moments;
        let start = take(&moments.zero, "zero")?;
        let peak = take(&moments.peak, "peak")?;
        let residual = moments.residual.as_ref().and_then(|w| self.moment(w));
        let mut plan = self.plan();
        let mut notes = Vec::new();
        plan.nominal = self.nominal(&start, &peak, &mut notes);
        let since = |m: &Windows| m.reading - start.reading;
        let mut chain = Chain {
            as_read: (plan.as_read(&peak), residual.as_ref().map(|m| plan.as_read(m))),
            weights: self.weights(),
            errors: self.errors(),
            notes,
            ..Chain::default()
        };
        let d_max = plan.corrected(&start, &peak, true);
        let d_r = residual.as_ref().map(|m| plan.corrected(&start, m, false));
        chain.plan = plan;
        let at = Moments { start: &start, peak: &peak, residual: residual.as_ref() };
        self.list(&mut chain, &at);
        self.look_at_fits(&mut chain, &at);
        // what is corrected by nobody knows how much leaves nothing to guard with
        let unknown = chain.corrections.iter().any(|c| match c.what {
            CorrectionKind::Load => c.u.is_none(),
            CorrectionKind::Drift => {
                let effects = [Some(c.at_peak), c.at_residual].into_iter().flatten();
                c.u.is_none()
                    && effects.fold(Length::ZERO, |m, e| m.max(e.abs())) > d_max.abs() * FELT
            }
            _ => false,
        });
        Ok(Deflection {
            gauge: self.own.id.clone(),
            at: self.at,
            d_max,
            d_r,
            raw: (since(&peak), residual.as_ref().map(since)),
            u_reading: self.u_reading().filter(|_| !unknown),
            chain,
            moments: [Some(start), Some(peak), residual].into_iter().flatten().collect(),
        })
    }

    /// The force to which the largest deflection is brought, where that is asked for and near.
    fn nominal(&self, start: &Windows, peak: &Windows, notes: &mut Vec<Note>) -> Option<Force> {
        let nominal = self.spec.moments.nominal.as_ref()?.value;
        let band = nominal * self.spec.load_band.value();
        let refused = match (peak.force, start.force) {
            (Some(force), Some(before)) if (force - nominal).abs() <= band && force > before => {
                return Some(nominal);
            }
            (Some(force), _) => Message::new(
                "{} was on at the peak, farther than {} from the nominal force {}: nothing is corrected to it",
                [force.into(), band.into(), nominal.into()],
            ),
            _ => Message::from(
                "no cell was read at zero and peak: nothing is corrected to the nominal force",
            ),
        };
        notes.push(Note::new(slug::READINGS_LOAD_NOT_CORRECTED, self.path(), refused));
        None
    }

    /// What the error of every channel that states one does to one corrected reading.
    fn errors(&self) -> Vec<(String, Length)> {
        let of = |(id, weight): (String, f64)| {
            let u = self.spec_of(&id)?.u_si()? * weight.abs();
            (u > 0.0).then(|| (id, Length::from_si(u)))
        };
        self.weights().into_iter().filter_map(of).collect()
    }

    /// The standard uncertainty of the corrected reading at one moment. That of a temperature is
    /// not asked for.
    fn u_reading(&self) -> Option<Length> {
        let mut sum = 0.0;
        for (id, weight) in self.weights() {
            let channel = self.spec_of(&id)?;
            match channel.u_si() {
                Some(u) => sum += (weight * u).powi(2),
                None if channel.role == Role::Temperature => {}
                None => return None,
            }
        }
        Some(Length::from_si(sum.sqrt()))
    }

    /// The standard uncertainty of a change of such a sum since zero.
    fn u_change(&self, parts: &[(String, f64)]) -> Option<f64> {
        let u = |(id, part): &(String, f64)| self.spec_of(id)?.u_si().map(|u| (u * part).powi(2));
        parts.iter().map(u).sum::<Option<f64>>().map(|sum| (2.0 * sum).sqrt())
    }

    /// Lists the corrections with their effects and uncertainties.
    fn list(&self, chain: &mut Chain, m: &Moments<'_>) {
        let plan = chain.plan.clone();
        let steps = |now: &Windows, at_peak: bool| {
            let mut before = plan.as_read(now);
            let run = plan.run(&mut NoRecord, m.start, now, at_peak);
            let effects = run.into_iter().map(move |(kind, v)| {
                let effect = v - before;
                before = v;
                (kind, effect)
            });
            effects.collect::<Vec<_>>()
        };
        let at_peak = steps(m.peak, true);
        let at_rest = m.residual.map(|now| steps(now, false));
        let mut drifts = self.drifts.iter().enumerate();
        for (i, (what, effect)) in at_peak.iter().enumerate() {
            let rest = at_rest.as_ref();
            let rest =
                rest.map(|r| r.get(i).filter(|s| s.0 == *what).map_or(Length::ZERO, |s| s.1));
            let drift = (*what == CorrectionKind::Drift).then(|| drifts.next()).flatten();
            let told = self.told(*what, drift, chain, m);
            chain.corrections.push(Correction {
                what: *what,
                value: told.value,
                u: told.u.map(|u| Quantity::new(told.value.kind, u)),
                at_peak: *effect,
                at_residual: rest,
                u_at_peak: told.u_at_peak.map(Length::from_si),
                u_at_residual: told.u_at_residual.filter(|_| rest.is_some()).map(Length::from_si),
                formula: formula_of(*what).to_owned(),
                source: told.source,
            });
        }
    }

    /// The numbers of a correction, and what its uncertainty does to both deflections alike.
    fn told(
        &self,
        what: CorrectionKind,
        drift: Option<(usize, &DriftUsed)>,
        chain: &mut Chain,
        m: &Moments<'_>,
    ) -> Told {
        let both = |value: Quantity, u: Option<f64>, source: Message| Told {
            value,
            u,
            u_at_peak: u,
            u_at_residual: u,
            source,
        };
        match what {
            CorrectionKind::Decision => both(plain(0.0), None, "".into()),
            CorrectionKind::Zero => {
                let source =
                    Message::new("median of {} readings", [(m.start.samples as f64).into()]);
                both(chain.plan.as_read(m.start).into(), self.own.u_si(), source)
            }
            CorrectionKind::Sign => both(plain(self.own.sign), Some(0.0), "columns".into()),
            CorrectionKind::Calibration => self.of_calibration(chain, m),
            CorrectionKind::Drift => match drift {
                Some((k, drift)) => self.of_drift(k, drift, chain, m),
                None => both(plain(0.0), None, "".into()),
            },
            CorrectionKind::Level => {
                let level = self.own.level.clone().unwrap_or_default();
                let source = Message::new("channel {}", [(&level).into()]);
                let u = self.u_change(&[(level, 1.0)]);
                both((m.peak.level - m.start.level).into(), u, source)
            }
            CorrectionKind::Settlement => {
                let moved = m.peak.settlement - m.start.settlement;
                both(moved.into(), self.u_change(&self.rigid.settles), self.of_supports())
            }
            CorrectionKind::Rotation => self.of_turn(chain, m),
            CorrectionKind::Load => self.of_load(chain, m),
        }
    }

    fn of_load(&self, chain: &mut Chain, m: &Moments<'_>) -> Told {
        let or_none = |f: Option<Force>| f.unwrap_or(Force::ZERO);
        let (at, before) = (or_none(m.peak.force), or_none(m.start.force));
        let nominal = or_none(chain.plan.nominal);
        let u = self.spec.u_force();
        // v (P − P_0)/(F − P_0) falls by its (F − P_0)th part per force that F is larger
        let v = chain.plan.corrected(m.start, m.peak, true);
        let u_at_peak = u.map(|u| (v * (Force::from_si(u) / (at - before))).si().abs());
        if let Some(u) = u_at_peak {
            chain.common.push((Length::from_si(u), Length::ZERO));
        }
        Told {
            value: (nominal - at).into(),
            u,
            u_at_peak,
            u_at_residual: Some(0.0),
            source: Message::new(
                "from {} to the nominal force {}, by the secant of this gauge",
                [at.into(), nominal.into()],
            ),
        }
    }

    fn of_calibration(&self, chain: &mut Chain, m: &Moments<'_>) -> Told {
        let (factor, u, source) = self
            .own
            .calibration
            .as_ref()
            .map_or((1.0, 0.0, None), |c| (c.factor, c.u, c.source.clone()));
        let change = |now: &Windows| chain.plan.as_read(now) - chain.plan.as_read(m.start);
        let shares = (change(m.peak) * u, m.residual.map_or(Length::ZERO, |r| change(r) * u));
        chain.common.push(shares);
        Told {
            value: plain(factor),
            u: Some(u),
            u_at_peak: Some(shares.0.si().abs()),
            u_at_residual: Some(shares.1.si().abs()),
            source: source.map_or_else(|| "columns".into(), Message::from),
        }
    }

    fn of_drift(&self, k: usize, drift: &DriftUsed, chain: &mut Chain, m: &Moments<'_>) -> Told {
        let change = |now: &Windows, k: usize| {
            let of = |w: &Windows| w.temperatures.get(k).copied();
            of(now).zip(of(m.start)).map_or(0.0, |(now, then)| (now - then).si())
        };
        // the errors of a fit of several temperatures belong together: they are told of with the first
        let errors: Vec<Vec<f64>> = match &drift.fit {
            Some((fit, _)) if k == 0 => fit.errors.clone(),
            Some(_) => Vec::new(),
            None => drift.u.iter().map(|u| vec![u.si() / drift.per.si()]).collect(),
        };
        for error in errors {
            let moved = |now: &Windows| {
                let of = |(k, e): (usize, &f64)| e * change(now, k);
                Length::from_si(error.iter().enumerate().map(of).sum())
            };
            chain.common.push((moved(m.peak), m.residual.map_or(Length::ZERO, moved)));
        }
        let warm =
            self.spec_of(&drift.channel).and_then(ChannelSpec::u_si).unwrap_or(0.0) * drift.slope();
        let effect = |now: &Windows| {
            let u = drift.u?.si() / drift.per.si();
            Some(((u * change(now, k)).powi(2) + 2.0 * warm * warm).sqrt())
        };
        Told {
            value: drift.moves.into(),
            u: drift.u.map(Length::si),
            u_at_peak: effect(m.peak),
            u_at_residual: m.residual.and_then(effect),
            source: drift.source.clone(),
        }
    }

    fn of_turn(&self, chain: &mut Chain, m: &Moments<'_>) -> Told {
        let turn = |now: &Windows| {
            let both = now.turn.zip(m.start.turn);
            both.map_or(Rotation::ZERO, |(now, then)| now - then)
        };
        let lever = chain.plan.lever.unwrap_or(Length::ZERO);
        let u = self.u_change(&self.rigid.turns);
        let u_place = self.own.at.as_ref().and_then(|at| at.u).unwrap_or(Length::ZERO);
        let of_place = |now: &Windows| turn(now) * u_place;
        if u_place > Length::ZERO {
            chain.common.push((of_place(m.peak), m.residual.map_or(Length::ZERO, of_place)));
        }
        let effect = |now: &Windows| u.map(|u| (u * lever.si()).hypot(of_place(now).si()));
        Told {
            value: turn(m.peak).into(),
            u,
            u_at_peak: effect(m.peak),
            u_at_residual: m.residual.and_then(effect),
            source: Message::new(
                "turn of the root times {}, to the right positive",
                [Said::from(lever)],
            ),
        }
    }

    fn of_supports(&self) -> Message {
        match &self.rigid.how {
            How::Between(a, b) => {
                Message::new("line through the bearings at {} and {}", [(*a).into(), (*b).into()])
            }
            How::Beyond(a, b) => Message::new(
                "line through the bearings at {} and {}, drawn on to the gauge beyond them",
                [(*a).into(), (*b).into()],
            ),
            How::At(a) => Message::new("the bearing at {}", [(*a).into()]),
            How::Root(a, _) => Message::new("the root at {}", [(*a).into()]),
            How::Unknown => "".into(),
        }
    }

    /// Says where a fit is weak, and where a temperature lies outside those it was fitted to.
    fn look_at_fits(&self, chain: &mut Chain, m: &Moments<'_>) {
        for (k, drift) in self.drifts.iter().enumerate() {
            let Some((fit, own)) = &drift.fit else { continue };
            let u = drift.u.map_or(0.0, Length::si);
            if fit.explained < WEAK || 2.0 * u >= drift.slope().abs() {
                let message = Message::new(
                    "the drift of `{}` with {} hardly shows in the control periods: {} per kelvin with a standard uncertainty of {}, {} of the movement explained; control readings over a whole day, or at the temperature of the zero, would help",
                    [
                        (&self.own.id).into(),
                        (&drift.channel).into(),
                        Said::small(drift.moves),
                        Said::small(Length::from_si(u)),
                        Ratio::from((fit.explained * 1e4).round() / 1e4).into(),
                    ],
                );
                chain.notes.push(Note::new(slug::READINGS_THERMAL_FIT_WEAK, self.path(), message));
            }
            let (low, high) = fit.ranges.get(*own).copied().unwrap_or_default();
            let moments =
                [(Some(m.start), "zero"), (Some(m.peak), "peak"), (m.residual, "residual")];
            for (at, name) in moments {
                let Some(t) = at.and_then(|w| w.temperatures.get(k)).map(|t| t.si()) else {
                    continue;
                };
                let beyond = (low - t).max(t - high);
                if beyond > 1e-9 * high.abs() {
                    let message = Message::new(
                        "{} was {} at the {}, {} beyond the control periods ({} to {}): the drift of `{}` is drawn on that far",
                        [
                            (&drift.channel).into(),
                            Temperature::from_si(t).into(),
                            name.into(),
                            TemperatureChange::from_si(beyond).into(),
                            Temperature::from_si(low).into(),
                            Temperature::from_si(high).into(),
                            (&self.own.id).into(),
                        ],
                    );
                    chain.notes.push(Note::new(
                        slug::READINGS_CORRECTION_EXTRAPOLATED,
                        self.path(),
                        message,
                    ));
                }
            }
        }
    }
}

/// A fit that explains less of the movement in the control periods is weak (library rule).
const WEAK: f64 = 0.5;
/// A drift of unknown uncertainty that moves less than this part of the largest deflection is not felt
/// (library rule).
const FELT: f64 = 0.01;

/// The moments of one gauge.
struct Moments<'a> {
    start: &'a Windows,
    peak: &'a Windows,
    residual: Option<&'a Windows>,
}

/// The numbers of a correction; uncertainties in SI.
struct Told {
    value: Quantity,
    u: Option<f64>,
    u_at_peak: Option<f64>,
    u_at_residual: Option<f64>,
    source: Message,
}

fn stated_drift(stated: &Drift) -> DriftUsed {
    DriftUsed {
        channel: stated.channel.clone(),
        moves: stated.moves.value,
        per: stated.per.value,
        u: stated.u.as_ref().map(|u| u.value),
        source: Message::new(
            "stated, for {} of {}",
            [stated.per.value.into(), (&stated.channel).into()],
        ),
        fit: None,
    }
}

/// The corrected readings of a gauge in some rows, not counted from zero: seconds, metres. A row in
/// which a term is missing is left out.
pub(super) fn series<'a>(
    log: &'a Log,
    gauge: &Deflection,
    rows: Range<usize>,
) -> impl DoubleEndedIterator<Item = (f64, f64)> + use<'a> {
    log.time.range(rows.clone()).zip(Sums::of(log, gauge, rows)).filter(|r| !r.1.is_nan())
}

/// The corrected reading of every row, not counted from zero: metres, not-a-number where a term is
/// missing.
pub(super) fn corrected(log: &Log, gauge: &Deflection) -> Vec<f64> {
    Sums::of(log, gauge, 0..log.time.len()).collect()
}

/// Sums of the channels that speak for a gauge, each times its number.
struct Sums<'a> {
    terms: Vec<(f64, Option<Values<'a>>)>,
    rows: Range<usize>,
}

impl<'a> Sums<'a> {
    fn of(log: &'a Log, gauge: &Deflection, rows: Range<usize>) -> Self {
        let end = rows.end.min(log.rows());
        let rows = rows.start.min(end)..end;
        let of = |id: &str| log.channel(id).map(|c| c.values().range(rows.clone()));
        let terms = gauge.chain.weights.iter().map(|(id, weight)| (*weight, of(id))).collect();
        Self { terms, rows }
    }

    fn sum(&mut self, value: impl Fn(&mut Values<'a>) -> Option<f64>) -> f64 {
        let of = |v: &mut Option<Values<'a>>| v.as_mut().and_then(&value).unwrap_or(f64::NAN);
        self.terms.iter_mut().map(|(k, v)| *k * of(v)).sum()
    }
}

impl Iterator for Sums<'_> {
    type Item = f64;

    fn next(&mut self) -> Option<f64> {
        self.rows.next()?;
        Some(self.sum(Iterator::next))
    }

    fn size_hint(&self) -> (usize, Option<usize>) {
        self.rows.size_hint()
    }
}

impl DoubleEndedIterator for Sums<'_> {
    fn next_back(&mut self) -> Option<f64> {
        self.rows.next_back()?;
        Some(self.sum(DoubleEndedIterator::next_back))
    }
}

impl ExactSizeIterator for Sums<'_> {}

impl crate::source::Write for Deflection {
    fn write(&self) -> crate::source::Node {
        let mut fields = vec![
            ("gauge", crate::source::Node::text(self.gauge.clone())),
            ("at", self.at.write()),
            ("d_max", self.d_max.write()),
            ("d_r", self.d_r.write()),
            ("raw_d_max", self.raw.0.write()),
            ("raw_d_r", self.raw.1.write()),
            ("u_reading", self.u_reading.write()),
        ];
        fields.extend(self.chain.write());
        fields.push(("moments", self.moments.write()));
        crate::source::Node::map(fields)
    }
}
