//! What is decided about the faults of a log, before anything is judged from it.

use std::borrow::Cow;

use super::judging::Judging;
use super::record::{Decision, Treatment};
use super::worst::{Judged, OfGauge};
use crate::error::{Error, Issue, slug};
use crate::readings::{
    Expected, Fault, FaultEffect, FaultKind, Log, LogSpec, Role, Window, enters, of_shape,
};
use crate::units::{Duration, Length, Message, nearest};
use crate::verdict::{Note, State};

/// A log and its layout with the decisions of the record carried out, and every fault with what
/// was decided about it.
#[derive(Clone, Debug)]
pub(crate) struct Witness<'a> {
    /// The log and its layout as they were given.
    pub(crate) given: (&'a Log, &'a LogSpec),
    /// The log.
    pub(crate) log: Cow<'a, Log>,
    /// Its layout.
    pub(crate) layout: Cow<'a, LogSpec>,
    /// Its faults.
    pub(crate) faults: Vec<Fault>,
    /// What was decided, in words.
    pub(crate) notes: Vec<Note>,
    /// Places of gauges on a cantilever or an overhang.
    pub(crate) free: Vec<Length>,
}

/// A channel whose readings scatter by more than so many times the uncertainty it states (library rule).
const FAR_BELOW: f64 = 2.0;

/// A fault begins where a decision says, give or take this (seconds).
const SAME_TIME: f64 = 60.0;

impl Decision {
    fn is_about(&self, fault: &Fault) -> bool {
        let when = self.from.as_ref().is_none_or(|from| {
            let from = from.value.si();
            from >= fault.from.si() - SAME_TIME && from <= fault.to.si() + SAME_TIME
        });
        let swapped = fault.with.as_deref() == Some(self.channel.as_str());
        self.fault == fault.kind && when && (self.channel == fault.channel || swapped)
    }
}

impl<'a> Witness<'a> {
    /// Finds every fault and carries out the decisions about them.
    ///
    /// # Errors
    /// `criteria.decision` for a decision about a fault that is not there, or that cannot be
    /// corrected; every such decision at once.
    pub(crate) fn of(
        log: &'a Log,
        layout: &'a LogSpec,
        decisions: &[Decision],
        expected: &Expected<'_>,
    ) -> Result<Self, Error> {
        let mut faults = log.faults.clone();
        faults.extend(of_shape(log, layout, expected, &log.faults)?);
        let places = layout.channels.iter().filter_map(|c| c.at.as_ref().map(|at| at.value));
        let free = |x: &Length| expected.free.is_some_and(|free| free(*x));
        let mut own = Self {
            given: (log, layout),
            log: Cow::Borrowed(log),
            layout: Cow::Borrowed(layout),
            faults,
            notes: Vec::new(),
            free: places.filter(free).collect(),
        };
        own.turns_alone();
        own.press(expected.area)?;
        if decisions.is_empty() {
            own.scattered();
            return Ok(own);
        }
        let mut issues = Vec::new();
        for (i, decision) in decisions.iter().enumerate() {
            if let Err(issue) = own.carry_out(decision, &format!("record.decisions[{i}]")) {
                issues.push(issue);
            }
        }
        Error::check(issues)?;
        own.leave_empty_out();
        own.look_again(decisions, expected)?;
        own.scattered();
        Ok(own)
    }

    /// Whether a place is on a cantilever or an overhang.
    pub(crate) fn is_free(&self, x: Length) -> bool {
        self.free.contains(&x)
    }

    /// A reading scatters by what it does: where a channel states far less, the scatter of its quiet windows
    /// stands in place of that, and that is said.
    fn scattered(&mut self) {
        let moments = &self.layout.moments;
        let windows = [Some(&moments.zero), Some(&moments.peak), moments.residual.as_ref()];
        let windows: Vec<&Window> = windows.into_iter().flatten().collect();
        let of = |id: &str| self.log.scatter_in(self.log.channel(id)?, &windows);
        let judged = [Role::Force, Role::Deflection, Role::Settlement, Role::Level, Role::Rotation];
        let own = self.layout.channels.iter().enumerate();
        let own = own.filter(|(_, c)| judged.contains(&c.role));
        let larger = own.filter_map(|(i, c)| {
            let (row, u, scatter) = (c.row()?, c.u?, of(&c.id)?);
            let scatter = scatter / row.factor;
            (scatter > FAR_BELOW * u).then_some((i, u, scatter))
        });
        for (i, u, scatter) in larger.collect::<Vec<_>>() {
            let Some(own) = self.layout.to_mut().channels.get_mut(i) else { continue };
            own.u = Some(scatter);
            let message = Message::new(
                "`{}` states {} {} and scatters by {} {} while nothing moves: the scatter is used",
                [
                    (&own.id).into(),
                    u.into(),
                    (&own.unit).into(),
                    ((scatter / u).round() * u).into(),
                    (&own.unit).into(),
                ],
            );
            let path = format!("columns.channels[{i}].u");
            self.notes.push(Note::new(slug::READINGS_SCATTER, path, message));
        }
    }

    /// A turn that is taken off no gauge moves no verdict.
    fn turns_alone(&mut self) {
        let (layout, free) = (&self.layout, &self.free);
        let turns = |id: &str| {
            layout.channels.iter().any(|c| c.id == id && c.role == Role::Rotation)
                && !enters(layout, id, &|x| free.contains(&x))
        };
        for fault in self.faults.iter_mut().filter(|f| f.is_open() && turns(&f.channel)) {
            fault.effect = FaultEffect::Remark;
        }
    }

    fn carry_out(&mut self, decision: &Decision, path: &str) -> Result<(), Issue> {
        let about: Vec<usize> = (0..self.faults.len())
            .filter(|i| self.faults.get(*i).is_some_and(|f| decision.is_about(f)))
            .collect();
        if about.is_empty() {
            return Err(self.not_there(decision, path));
        }
        for i in about {
            let Some(fault) = self.faults.get(i).cloned() else { continue };
            self.act(decision, &fault, path)?;
            if let Some(fault) = self.faults.get_mut(i) {
                fault.effect = FaultEffect::Decided;
            }
            let message = format!(
                "{} of `{}`: {} by {}, because {}",
                fault.kind, fault.channel, decision.treatment, decision.by, decision.reason
            );
            self.notes.push(Note::new(slug::CRITERIA_FAULT_DECIDED, path.to_owned(), message));
        }
        Ok(())
    }

    fn act(&mut self, decision: &Decision, fault: &Fault, path: &str) -> Result<(), Issue> {
        match decision.treatment {
            Treatment::Accept => {}
            Treatment::LeaveOut => {
                let gone = self.gone_with(decision, fault);
                let log = self.log.to_mut();
                let to = if fault.kind == FaultKind::Jump { log.span() } else { fault.to };
                gone.iter().for_each(|id| log.change(id, (fault.from, to), |_| f64::NAN));
            }
            Treatment::Correct => self.correct(decision, fault, path)?,
        }
        Ok(())
    }

    /// The channels whose samples are left out with those of a fault.
    fn gone_with(&self, decision: &Decision, fault: &Fault) -> Vec<String> {
        let those = |is: &dyn Fn(Role) -> bool| {
            let own = self.log.channels().iter().filter(|c| is(c.role));
            own.map(|c| c.id.clone()).collect()
        };
        match &fault.with {
            _ if fault.kind == FaultKind::Jump => those(&|role| role == Role::Deflection),
            None if several(fault) => those(&|_| true),
            // of two witnesses of one thing the other stays
            Some(_) if matches!(fault.kind, FaultKind::Copied | FaultKind::Contradicted) => {
                vec![decision.channel.clone()]
            }
            with => core::iter::once(&fault.channel).chain(with).cloned().collect(),
        }
    }

    fn correct(&mut self, decision: &Decision, fault: &Fault, path: &str) -> Result<(), Issue> {
        let (id, times) = (fault.channel.as_str(), (fault.from, fault.to));
        let unit = self.layout.channels.iter().find(|c| c.id == id);
        let factor_of_unit =
            unit.and_then(|c| c.role.kind().unit(&c.unit).map(|row| row.factor)).unwrap_or(1.0);
        let added = decision.value.map(|v| v * factor_of_unit);
        let log = self.log.to_mut();
        match fault.kind {
            FaultKind::Swapped => {
                let Some(with) = &fault.with else {
                    return Err(cannot(decision, path, "leave it out, or accept it as what it is"));
                };
                log.exchange(id, with, times);
            }
            FaultKind::SignFlip | FaultKind::Unit | FaultKind::UnitChange => {
                let Some(factor) = decision.value.or(fault.factor) else {
                    return Err(cannot(decision, path, "say the factor in `value`"));
                };
                log.change(id, times, |v| v * factor);
            }
            FaultKind::Step | FaultKind::Tare => {
                let Some(offset) = added.or(fault.offset.map(|o| o.si)) else {
                    return Err(cannot(decision, path, "say in `value` what is to be added"));
                };
                log.change(id, times, |v| v + offset);
            }
            FaultKind::Shift => {
                let Some(offset) = added.or(fault.offset.map(|o| o.si)) else {
                    return Err(cannot(decision, path, "say in `value` what is to be added"));
                };
                log.change(id, (fault.to, log.span().max(fault.to)), |v| v + offset);
                // it came little by little: what lies between is no reading of anything
                log.change(id, (fault.from, fault.to - Duration::from_si(1e-6)), |_| f64::NAN);
            }
            _ => {
                return Err(cannot(decision, path, "leave its samples out, or accept them"));
            }
        }
        Ok(())
    }

    fn not_there(&self, decision: &Decision, path: &str) -> Issue {
        let there: Vec<String> =
            self.faults.iter().map(|f| format!("{} of {}", f.kind, f.channel)).collect();
        let wanted = format!("{} of {}", decision.fault, decision.channel);
        let near = nearest(&wanted, there.iter().map(String::as_str)).map(str::to_owned);
        let issue = Issue::new(slug::CRITERIA_DECISION, path, "the log has no such fault")
            .value(wanted)
            .limit(if there.is_empty() { "none".to_owned() } else { there.join(", ") });
        match near {
            Some(near) => issue.remedy(format!("take the decision away; is {near} meant?")),
            None => issue.remedy("take the decision away"),
        }
    }

    /// A channel without a sample at zero or peak after the decisions is left out altogether.
    fn leave_empty_out(&mut self) {
        let moments = &self.layout.moments;
        let empty: Vec<String> = self
            .log
            .channels()
            .iter()
            .filter(|c| {
                [&moments.zero, &moments.peak].iter().any(|w| self.log.in_window(c, w).is_none())
            })
            .filter(|c| {
                self.faults.iter().any(|f| {
                    f.effect == FaultEffect::Decided
                        && (f.channel == c.id || f.with.as_ref() == Some(&c.id) || several(f))
                })
            })
            .map(|c| c.id.clone())
            .collect();
        for id in empty {
            self.log.to_mut().drop_channel(self.layout.to_mut(), &id);
            let message = format!("channel `{id}` is left out of the judgement altogether");
            self.notes.push(Note::new(
                slug::CRITERIA_FAULT_DECIDED,
                format!("readings.{id}"),
                message,
            ));
        }
    }

    /// What the log shows after the corrections, besides what was known.
    fn look_again(&mut self, decisions: &[Decision], expected: &Expected<'_>) -> Result<(), Error> {
        let layout = self.layout.clone().into_owned();
        let mut found = self.log.to_mut().look_again(&layout)?;
        let shape = of_shape(&self.log, &layout, expected, &found)?;
        found.extend(shape);
        for fault in found {
            let decided = decisions.iter().any(|d| d.is_about(&fault));
            if !decided && !self.faults.iter().any(|known| same(known, &fault)) {
                self.faults.push(fault);
            }
        }
        self.turns_alone();
        Ok(())
    }

    /// A refusal of what follows, with every open fault beside it.
    pub(crate) fn beside(&self, mut error: Error) -> Error {
        error.issues.extend(self.faults.iter().filter(|f| f.is_open()).map(Fault::issue));
        error
    }
}

impl Judging {
    /// A fault that can move a verdict leaves open what was measured, until somebody decides about
    /// it. A failure on a gauge that has no fault of its own stands, and what was read before a
    /// channel was lost stands too: `late` says which rows look at anything after the peak.
    pub(crate) fn require_faults(&mut self, witness: &Witness<'_>, late: &dyn Fn(&Judged) -> bool) {
        self.notes.extend(witness.notes.iter().cloned());
        let open: Vec<&Fault> = witness.faults.iter().filter(|f| f.is_open()).collect();
        for fault in &open {
            let message = Message::new(
                "{} of `{}` from {} to {}: {}",
                [
                    fault.kind.word().into(),
                    (&fault.channel).into(),
                    fault.from.into(),
                    fault.to.into(),
                    fault.note.clone().into(),
                ],
            );
            let path = format!("readings.{}", fault.channel);
            self.notes.push(Note::new(slug::CRITERIA_FAULT_OPEN, path, message));
        }
        let names = |f: &Fault| [Some(f.channel.clone()), f.with.clone()];
        let peak = witness.layout.moments.peak.to.value;
        let gone = |f: &Fault| matches!(f.kind, FaultKind::Lost | FaultKind::Missing);
        let lost_after = |f: &Fault| gone(f) && f.from > peak;
        let gauge = |id: &str| {
            witness.layout.channels.iter().any(|c| c.id == id && c.role == Role::Deflection)
        };
        for judged in &mut self.criteria {
            let Some(own) = judged.gauge.clone() else { continue };
            let sees_all = late(judged);
            let open = open.iter().filter(|f| sees_all || !lost_after(f));
            let Some(first) = open.clone().next() else { continue };
            let touched: Vec<String> = open.flat_map(|f| names(f)).flatten().collect();
            let beyond = touched.iter().any(|t| !gauge(t));
            for gauge in judged.gauges.iter_mut().filter(|g| beyond || touched.contains(&g.gauge)) {
                for verdict in [&mut gauge.code, &mut gauge.guarded] {
                    *verdict = verdict.with_state(State::Inconclusive);
                }
            }
            // what a gauge without a fault fails, fails
            let fails = |code: bool| {
                let of = |g: &&OfGauge| if code { g.code } else { g.guarded };
                let failed = |g: &&OfGauge| of(g).state == State::Fail;
                judged.gauges.iter().find(failed).map(|g| of(&g))
            };
            let failing = [fails(true), fails(false)];
            let outcome = &mut judged.outcome;
            for (outcome, failing) in
                [&mut outcome.code, &mut outcome.guarded].into_iter().zip(failing)
            {
                let stands = outcome.state == State::Fail && !beyond && !touched.contains(&own);
                match failing {
                    _ if stands || outcome.state == State::NotApplicable => {}
                    Some(failing) => *outcome = failing,
                    None => *outcome = outcome.with_state(State::Inconclusive),
                }
            }
            if judged.outcome.guarded.state == State::Inconclusive {
                judged.reason = Message::new(
                    "{} of `{}` can move it, and nobody has decided about that; else {}",
                    [
                        first.kind.word().into(),
                        (&first.channel).into(),
                        judged.reason.clone().into(),
                    ],
                );
            }
        }
        self.combine();
    }
}

/// Whether a fault is one of several channels at once.
fn several(fault: &Fault) -> bool {
    match fault.kind {
        FaultKind::Jump | FaultKind::Drawn => true,
        FaultKind::Copied => fault.with.is_none(),
        _ => false,
    }
}

fn same(a: &Fault, b: &Fault) -> bool {
    a.kind == b.kind && a.channel == b.channel && (a.from - b.from).si().abs() <= SAME_TIME
}

fn cannot(decision: &Decision, path: &str, remedy: &'static str) -> Issue {
    let message = format!("a fault {} cannot be corrected like this", decision.fault);
    Issue::new(slug::CRITERIA_DECISION, path, message).value(decision.treatment).remedy(remedy)
}
