//! Zero, load, hold and unloading as criteria of their own: measured in the log, compared with
//! what was stated.

use super::decide::Witness;
use super::facts::Facts;
use super::judging::Judging;
use super::record::RunRecord;
use super::worst::Judged;
use crate::editions::Rule;
use crate::error::{Slug, slug};
use crate::readings::{
    CorrectionKind, Deflection, LOAD_BAND, Larger, LogFacts, LogSpec, Role, UnloadingSeen,
    ZERO_BAND, ZeroSeen, as_units, enters,
};
use crate::uncertainty::COVERAGE;
use crate::units::{Duration, Force, Kind, Length, Message, Quantity, Ratio, Rotation, Said};
use crate::verdict::{
    Basis, Clause, DESIGN_SLACK, Limit, MemberUnit, Note, Outcome, State, Verdict,
};

/// A hold that is stated to be shorter than what the log shows by more than this part contradicts it.
const STATED_BELOW: f64 = 0.1;
/// A hold in which the force was not looked at for longer than this part of the time asked for
/// is open (library rule).
const UNSEEN: f64 = 0.25;
/// A time that a person states may be so far from that of the log (library rule).
const STATED: Duration = Duration::from_si(360.0);
/// A turn of a root and a settlement by which the size of what is unknown is told (library rule).
const TURN: f64 = 1e-3;
const SETTLED: Length = Length::from_si(1e-3);
/// What a temperature that was read and not corrected may do belongs beside the headline from this part of
/// the largest deflection on (library rule).
const UNCORRECTED: f64 = 0.05;
/// About equal increments are not larger than so many times the whole over their number (library rule).
const UNEQUAL: f64 = 1.5;
/// An increment in which nobody saw the force for longer than this says nothing on steps (library rule).
pub(crate) const UNTOLD: Duration = Duration::from_si(1800.0);
/// Thermal expansion of concrete per kelvin where the size of what is unknown is told (library rule).
const EXPANSION: f64 = 1e-5;

/// A row about the run of the test.
pub(super) struct Row {
    pub(super) id: &'static str,
    pub(super) about: &'static str,
    pub(super) formula: String,
    pub(super) clause: &'static str,
    pub(super) slug: Slug,
    pub(super) demand: Quantity,
    pub(super) limit: Limit,
    pub(super) u: Option<f64>,
    pub(super) states: (State, State),
    pub(super) reason: Message,
}

impl Judging {
    /// Adds what the force of record says: zero, load, hold, unloading.
    pub(crate) fn witnessed(
        &mut self,
        seen: &LogFacts,
        (record, layout): (&RunRecord, &LogSpec),
        rule: &Rule,
        unit: MemberUnit,
    ) {
        self.zero(seen, rule, unit);
        self.load(seen, record, layout, unit);
        self.steps(seen, rule, unit);
        self.held(seen, record, rule, unit);
        if let Some(unloading) = &seen.unloading {
            self.unloading(unloading, &seen.zero, rule, unit);
        }
        self.combine();
    }

    pub(super) fn row(&mut self, row: Row, unit: MemberUnit) {
        let base = Verdict::design(
            row.slug,
            row.demand,
            row.limit,
            Basis::measured(unit),
            Clause::Named(row.clause),
        );
        let of = |state| Verdict { state, uncertainty: row.u, ..base };
        if row.states != (State::Pass, State::Pass) {
            self.notes.push(Note::new(row.slug, row.id, row.reason.clone()));
        }
        self.criteria.push(Judged {
            id: row.id.to_owned(),
            about: row.about.to_owned(),
            formula: row.formula,
            clause: row.clause.to_owned(),
            gauge: None,
            outcome: Outcome { code: of(row.states.0), guarded: of(row.states.1) },
            reason: row.reason,
            gauges: Vec::new(),
            any_of: None,
        });
    }

    fn zero(&mut self, seen: &LogFacts, rule: &Rule, unit: MemberUnit) {
        let z = &seen.zero;
        let (state, reason) = match zero_problem(seen, rule) {
            Some(problem) => (State::Inconclusive, problem.and(counted_from(seen.begins))),
            None => (
                State::Pass,
                Message::new(
                    "{} on from {} to {}, the first increment seen at {}",
                    [
                        z.force.unwrap_or(Force::ZERO).into(),
                        z.from.into(),
                        z.to.into(),
                        z.first_step.unwrap_or(z.to).into(),
                    ],
                ),
            ),
        };
        let off = z.force.map_or(f64::NAN, |f| (f - z.stated).abs().si());
        self.row(
            Row {
                id: "zero",
                about: "whether the zero was taken before the first increment, with nothing on but what is stated",
                formula: "|force - what is stated at zero| <= band".to_owned(),
                clause: "library rule",
                slug: slug::CRITERIA_ZERO,
                demand: Quantity::new(Kind::Force, off),
                limit: Limit::AtMost(z.band.si()),
                u: None,
                states: (state, state),
                reason,
            },
            unit,
        );
    }

    fn load(&mut self, seen: &LogFacts, record: &RunRecord, layout: &LogSpec, unit: MemberUnit) {
        let load = &seen.load;
        let Some(target) = load.target else { return self.load_stated(record, layout, unit) };
        let (least, most) = (target - load.band, target + load.band);
        let slack = target * 1e-12;
        let Some(force) = load.force else {
            let reason = "a cell has no usable sample in the peak window: the load is not known";
            return self.row(
                Row {
                    demand: Quantity::new(Kind::Force, f64::NAN),
                    states: (State::Inconclusive, State::Inconclusive),
                    reason: reason.into(),
                    ..Self::load_row(least)
                },
                unit,
            );
        };
        let part = Ratio::from(force / target);
        let code = if force < least - slack {
            State::Aborted
        } else if force > most + slack
            || !load.later.is_empty()
            || load.larger.iter().any(Larger::came_back)
            || load.over.is_some()
        {
            State::Inconclusive
        } else {
            State::Pass
        };
        let guarded = match load.u.map(|u| u * COVERAGE) {
            _ if code == State::Inconclusive => code,
            Some(u) if force + u < least - slack => State::Aborted,
            Some(u) if force - u >= least - slack => State::Pass,
            _ => State::Inconclusive,
        };
        let values = || [force.into(), part.into(), target.into()];
        let mut reason = match (code, guarded) {
            (State::Inconclusive, _) if force <= most + slack => {
                let mut reason = Message::new("{}, {} of the target {}", values());
                if let Some(over) = &load.over {
                    let values = [over.force.into(), over.from.into(), over.to.into()];
                    reason = reason.and(Message::new(
                        "; {} was on from {} to {}: the member saw more than the target, and what it kept is not that of the target",
                        values,
                    ));
                }
                if !load.later.is_empty() {
                    reason = reason.and("; the peak was read too early".into());
                }
                for gauge in &load.later {
                    let values = [(&gauge.gauge).into(), Said::small(gauge.moved)];
                    let more = "; `{}` moved on by {} after the peak window under the same load";
                    reason = reason.and(Message::new(more, values));
                }
                reason
            }
            (State::Inconclusive, _) => Message::new(
                "{}, {} of the target {}: the other outcomes are those at this load, not at the target",
                values(),
            ),
            (State::Aborted, _) => Message::new("only {}, {} of the target {}", values()),
            (_, State::Pass) => Message::new("{}, {} of the target {}", values()),
            _ if load.u.is_none() => Message::new(
                "{}, {} of the target {}, by cells whose uncertainty is not stated",
                values(),
            ),
            _ => Message::new(
                "{}, {} of the target {}, but not by more than its uncertainty",
                values(),
            ),
        };
        if code == State::Aborted && as_units(Kind::Force, part.value()) {
            let asks = "; that is the ratio of two units of force: is the unit of the cell the one of its column?";
            reason = reason.and(asks.into());
        }
        let of_later = |gauge: &String| load.later.iter().any(|l| l.gauge == *gauge);
        for gauge in load.larger.iter().filter(|l| l.came_back() && !of_later(&l.gauge)) {
            let values = [(&gauge.gauge).into(), Said::small(gauge.more), gauge.at.into()];
            let more = "; `{}` showed {} more at {} than in the peak window: the largest is not what was read there";
            reason = reason.and(Message::new(more, values));
        }
        if let Some(stated) = &record.reached
            && (stated.value.value() - part.value()).abs() > (load.band / target)
        {
            let values = [stated.value.into(), part.into()];
            self.differs(
                "record.reached",
                Message::new(
                    "{} of the target is stated to have been reached; the log shows {}",
                    values,
                ),
            );
        }
        self.row(
            Row {
                demand: Quantity::new(Kind::Force, force.si()),
                u: load.u.map(|u| COVERAGE * u.si()),
                states: (code, guarded),
                reason,
                ..Self::load_row(least)
            },
            unit,
        );
    }

    /// How the load came on, where the edition asks for increments and nobody asks for cycles.
    fn steps(&mut self, seen: &LogFacts, rule: &Rule, unit: MemberUnit) {
        let Some(last) = seen.steps.last().filter(|_| rule.cycles.is_empty() && seen.came_on())
        else {
            return;
        };
        let least = rule.min_increments.map_or(0.0, f64::from);
        let (count, whole) = (seen.steps.len() as f64, seen.load.target.unwrap_or(last.force));
        // what came on while nobody looked may have come in steps
        let told = seen.steps.iter().filter(|s| s.unseen <= UNTOLD);
        let largest = told.map(|s| s.increment).fold(Force::ZERO, Force::max);
        let watched = seen.steps.iter().all(|s| s.unseen <= UNTOLD);
        let equal =
            least <= 0.0 || (largest <= whole * (UNEQUAL / least) && (count >= least || !watched));
        let held = seen.steps.iter().rev().skip(1);
        let short = rule
            .step_hold
            .and_then(|asked| held.rev().find(|s| s.at_most < asked).zip(Some(asked)));
        if equal && short.is_none() {
            return;
        }
        let mut reason = Message::new("{} increments up to {}", [count.into(), last.force.into()]);
        if !equal {
            let values = [largest.into(), Ratio::from(largest / whole).into(), least.into()];
            let more = "; the largest of {} is {} of the load, where at least {} about equal ones are asked for";
            reason = reason.and(Message::new(more, values));
        }
        if let Some((step, asked)) = short {
            let values = [step.force.into(), step.at_most.into(), step.from.into(), asked.into()];
            let more = "; {} was on for {} at most from {}, where {} are asked for";
            reason = reason.and(Message::new(more, values));
        }
        self.row(
            Row {
                id: "steps",
                about: "whether the load came on in the increments that are asked for",
                formula: format!("at least {least} increments"),
                clause: "protocol of the edition",
                slug: slug::CRITERIA_STEPS,
                demand: Quantity::new(Kind::Ratio, count),
                limit: Limit::AtLeast(least),
                u: None,
                states: (State::Inconclusive, State::Inconclusive),
                reason,
            },
            unit,
        );
    }

    fn load_row(least: Force) -> Row {
        Row {
            id: "load",
            about: "whether the load was that of the target",
            formula: "target - band <= force <= target + band".to_owned(),
            clause: "library rule",
            slug: slug::CRITERIA_LOAD,
            demand: Quantity::new(Kind::Force, f64::NAN),
            limit: Limit::AtLeast(least.si()),
            u: None,
            states: (State::Pass, State::Pass),
            reason: Message::from(""),
        }
    }

    fn differs(&mut self, path: &str, message: Message) {
        self.notes.push(Note::new(slug::CRITERIA_STATED_DIFFERS, path.to_owned(), message));
    }

    fn held(&mut self, seen: &LogFacts, record: &RunRecord, rule: &Rule, unit: MemberUnit) {
        let stated = record.held.as_ref().map(|h| h.value);
        let unread = unread(seen);
        let longest = match &seen.hold {
            Some(hold) => hold.at_most,
            None => unread.is_none().then_some(Duration::ZERO),
        };
        if let Some((stated, longest)) = stated.zip(longest)
            && stated > longest * (1.0 + DESIGN_SLACK)
        {
            let length = seen.hold.as_ref().map_or(Duration::ZERO, |h| h.length);
            let values = [stated.into(), length.into(), longest.into()];
            self.differs(
                "record.held",
                Message::new("{} is stated for the hold; the log shows {}, {} at most", values),
            );
        }
        if let Some((stated, hold)) = stated.zip(seen.hold.as_ref())
            && stated < hold.length * (1.0 - STATED_BELOW)
        {
            let values = [stated.into(), hold.length.into()];
            let message = "{} is stated for the hold; the log shows {}";
            self.differs("record.held", Message::new(message, values));
        }
        let Some(asked) = rule.full_hold else { return };
        let enough = |d: Duration| d >= asked * (1.0 - DESIGN_SLACK);
        let (state, reason) = match &seen.hold {
            None => match unread {
                Some(unread) => (State::Inconclusive, unread),
                None => (State::Aborted, Message::from("the full load was never on")),
            },
            Some(h) => {
                let state = if enough(h.length) && (h.unseen > asked * UNSEEN || h.gaps_in_all > 0)
                {
                    State::Inconclusive
                } else if enough(h.length) {
                    State::Pass
                } else if h.at_most.is_none_or(enough) || enough(h.whole) {
                    State::Inconclusive
                } else {
                    State::Aborted
                };
                let held = [h.length.into(), h.from.into(), h.to.into()];
                let mut reason = Message::new("{} from {} to {}", held);
                for gone in h.interruptions.iter().take(3) {
                    let values = [gone.force.into(), gone.from.into(), gone.to.into()];
                    reason = reason.and(Message::new("; down to {} from {} to {}", values));
                }
                if h.interruptions_in_all > 3 {
                    let more = format!("; {} interruptions in all", h.interruptions_in_all);
                    reason = reason.and(more.into());
                }
                for gap in h.gaps.iter().take(3) {
                    let values = [gap.from.into(), gap.to.into()];
                    let said = Message::new("; nobody saw the force from {} to {}", values);
                    reason = reason.and(said);
                }
                if h.gaps_in_all > 3 {
                    reason = reason.and(format!("; {} such times in all", h.gaps_in_all).into());
                }
                if enough(h.length) && state != State::Pass && h.gaps.is_empty() {
                    let values = [h.unseen.into()];
                    reason = reason.and(Message::new("; for {} nobody saw the force", values));
                } else if h.at_most.is_none() && !enough(h.length) {
                    reason = reason.and("; the force is not known beyond it".into());
                }
                (state, reason)
            }
        };
        let length = seen.hold.as_ref().map_or(Duration::ZERO, |h| h.length);
        self.row(Row { reason, ..Self::hold_row(length, asked, state) }, unit);
    }

    fn unloading(&mut self, seen: &UnloadingSeen, zero: &ZeroSeen, rule: &Rule, unit: MemberUnit) {
        if let (Some(stated), Some(loaded)) = (seen.stated, seen.loaded) {
            let late = seen.off.is_some_and(|off| stated > off + STATED);
            if stated < loaded - STATED || late {
                let values = [stated.into(), loaded.into()];
                self.differs(
                    "columns.moments.unloaded",
                    Message::new(
                        "the load is stated to have been off at {}; the log shows it last at {}",
                        values,
                    ),
                );
            }
        }
        for gauge in &seen.moving {
            let values = [Said::small(gauge.per_hour)];
            self.notes.push(Note::new(
                slug::CRITERIA_STILL_MOVING,
                format!("readings.{}", gauge.gauge),
                Message::new("it still moved by {} an hour while the residual was read", values),
            ));
        }
        if let Some(force) = seen.force.filter(|f| (*f - zero.stated).abs() > zero.band) {
            let values = [force.into(), zero.stated.into()];
            let reason = Message::new("{} was on while the residual was read, at zero {}", values);
            return self.residual_time(rule, None, State::Inconclusive, reason, unit);
        }
        // between the last sample under load and the first without
        let stated = seen.stated.filter(|s| {
            seen.loaded.is_none_or(|l| *s >= l - STATED)
                && seen.off.is_none_or(|off| *s <= off + STATED)
        });
        let (early, late, how) = match (seen.loaded, seen.off, stated) {
            (Some(loaded), Some(off), stated) => {
                let narrow = stated.filter(|_| off - loaded > STATED);
                (narrow.unwrap_or(loaded), narrow.unwrap_or(off), "measured")
            }
            (_, _, Some(stated)) => (stated, stated, "as stated: the log does not tell"),
            _ => return self.require_time(rule, None, None, unit),
        };
        let Some((named, kind)) = rule.residual_after.zip(rule.residual_time) else { return };
        let keeps = kind.keeps(seen.read - early, named) && kind.keeps(seen.read - late, named);
        let state = if keeps { State::Pass } else { State::Inconclusive };
        let taken = seen.read - late;
        let mut reason = Message::new("read {} after unloading, {}", [taken.into(), how.into()]);
        if state != State::Pass && early < late {
            let values = [early.into(), late.into(), (seen.read - early).into()];
            let between =
                "; the load went off between the rows at {} and {}, so that it may have been {}";
            reason = reason.and(Message::new(between, values));
        }
        self.residual_time(rule, Some(taken), state, reason, unit);
    }

    /// Adds load, hold and the time of the residual as they are stated, with who states them: nothing in the log tells.
    pub(crate) fn stated(
        &mut self,
        record: &RunRecord,
        rule: &Rule,
        layout: &LogSpec,
        unit: MemberUnit,
    ) {
        let moments = &layout.moments;
        let by = record.signer().unwrap_or("nobody");
        self.load_stated(record, layout, unit);
        if let Some((held, asked)) = record.held_at_least().zip(rule.full_hold) {
            let met = held >= asked * (1.0 - DESIGN_SLACK);
            let state = if met { State::Pass } else { State::Aborted };
            let reason = "{}, as stated by the {}: no force, count or depth in the log tells";
            self.row(
                Row {
                    reason: Message::new(reason, [held.into(), by.into()]),
                    ..Self::hold_row(held, asked, state)
                },
                unit,
            );
        }
        if let Some(residual) = &moments.residual {
            let middle = (residual.from.value + residual.to.value) / 2.0;
            let taken = moments.unloaded.as_ref().map(|off| middle - off.value);
            self.require_time(rule, taken, Some(by), unit);
        }
        self.combine();
    }

    /// The load as it is stated, at its unfavourable ends: too little ends the matter, too much opens it as a
    /// measured one does.
    fn load_stated(&mut self, record: &RunRecord, layout: &LogSpec, unit: MemberUnit) {
        let Some((low, high)) = record.reached_ends() else { return };
        let by = record.signer().unwrap_or("record");
        let (state, part, more) = if low.value() < 1.0 - DESIGN_SLACK {
            (State::Aborted, low, "")
        } else if high.value() > 1.0 + layout.load_band.value() + DESIGN_SLACK {
            let more =
                "; the member saw more than the target, and what it kept is not that of the target";
            (State::Inconclusive, high, more)
        } else {
            (State::Pass, low, "")
        };
        let reason =
            "{} of the target, as stated by the {}: no force, count or depth in the log tells";
        self.row(
            Row {
                id: "load",
                about: "whether the load was that of the target",
                formula: "1 <= the part of the target <= 1 + band".to_owned(),
                clause: "library rule",
                slug: slug::CRITERIA_LOAD,
                demand: Quantity::new(Kind::Ratio, part.value()),
                limit: Limit::AtLeast(1.0),
                u: None,
                states: (state, state),
                reason: Message::new(reason, [part.into(), by.into()]).and(more.into()),
            },
            unit,
        );
    }

    fn hold_row(length: Duration, asked: Duration, state: State) -> Row {
        Row {
            id: "hold",
            about: "how long the full load was on without a break",
            formula: Message::new("at least {}", [asked.into()]).to_string(),
            clause: "protocol of the edition",
            slug: slug::CRITERIA_HOLD,
            demand: Quantity::new(Kind::Duration, length.si()),
            limit: Limit::AtLeast(asked.si()),
            u: None,
            states: (state, state),
            reason: Message::from(""),
        }
    }

    /// Adds whether the residual was read at the edition's time after unloading, where no force
    /// tells when the load was off.
    fn require_time(
        &mut self,
        rule: &Rule,
        taken: Option<Duration>,
        by: Option<&str>,
        unit: MemberUnit,
    ) {
        let Some((named, kind)) = rule.residual_after.zip(rule.residual_time) else { return };
        let (state, reason) = match taken {
            Some(taken) => {
                let keeps = kind.keeps(taken, named);
                let state = if keeps { State::Pass } else { State::Inconclusive };
                let by = by.map_or_else(String::new, |by| format!(" by the {by}"));
                let values = [taken.into(), by.into()];
                (state, Message::new("read {} after unloading, as stated{}", values))
            }
            None => (State::Inconclusive, "it is not said when the load was off".into()),
        };
        self.residual_time(rule, taken, state, reason, unit);
    }

    fn residual_time(
        &mut self,
        rule: &Rule,
        taken: Option<Duration>,
        state: State,
        reason: Message,
        unit: MemberUnit,
    ) {
        let formula = match rule.residual_after.zip(rule.residual_time) {
            Some((named, kind)) => {
                Message::new("{} {} after unloading", [kind.to_string().into(), named.into()])
            }
            None => Message::from("with the load off"),
        };
        self.row(
            Row {
                id: "residual time",
                about: "when the residual was read",
                formula: formula.to_string(),
                clause: "protocol of the edition",
                slug: slug::CRITERIA_RESIDUAL_TIME,
                demand: Quantity::new(Kind::Duration, taken.map_or(f64::NAN, Duration::si)),
                limit: Limit::None,
                u: None,
                states: (state, state),
                reason,
            },
            unit,
        );
    }

    /// Says what channels that are missing, or there and not used, leave undecided.
    pub(crate) fn unmeasured(
        &mut self,
        told: &Witness<'_>,
        deflections: &[Deflection],
        facts: Facts,
    ) {
        let largest = deflections.iter().map(|d| d.d_max.abs()).fold(Length::ZERO, Length::max);
        self.temperature(told, deflections, facts, largest);
        self.supports(told, deflections, facts, largest);
        self.unused(told);
    }

    fn temperature(
        &mut self,
        told: &Witness<'_>,
        deflections: &[Deflection],
        facts: Facts,
        largest: Length,
    ) {
        let (log, layout) = (&*told.log, &*told.layout);
        // curvature EXPANSION/h over the span, or from a root that stays
        let root = if facts.cantilever() { 2.0 } else { 8.0 };
        let kelvin = facts.l * (facts.l / facts.h) * (EXPANSION / root);
        if layout.drift.as_ref().is_some_and(|d| d.u.is_none()) {
            let drifts = deflections.iter().flat_map(|d| &d.chain.corrections);
            let drifts = drifts.filter(|c| c.what == CorrectionKind::Drift);
            let most = drifts
                .flat_map(|c| [c.at_peak, c.at_residual.unwrap_or(Length::ZERO)])
                .fold(Length::ZERO, |most, l| most.max(l.abs()));
            let values = [Said::small(most), Ratio::from(most / largest).into()];
            let message = Message::new(
                "the uncertainty of the drift is not stated: it takes off up to {}, {} of the largest deflection, and adds nothing to U",
                values,
            );
            let slug = slug::CRITERIA_TEMPERATURE_UNKNOWN;
            self.notes.push(Note::new(slug, "columns.drift.u", message));
        }
        let corrected = layout.drift.is_some() || layout.thermal.is_some();
        if corrected || !kelvin.si().is_finite() {
            return;
        }
        let of = |l: Length| [Said::small(l), Ratio::from(l / largest).into()];
        let [by, part] = of(kelvin);
        let size = Message::new(
            "{} between top and bottom moves the member by {}, {} of the largest deflection; that is not in U",
            [crate::units::TemperatureChange::from_si(1.0).into(), by, part],
        );
        let said = match layout.channels.iter().find(|c| c.role == Role::Temperature) {
            None => Message::from("no temperature was logged: ").and(size),
            Some(own) => {
                let change = log.channel(&own.id).and_then(|c| {
                    let at = |w| log.in_window(c, w).map(|m| m.0);
                    let zero = at(&layout.moments.zero)?;
                    let then = at(layout.moments.residual.as_ref()?)?;
                    Some(crate::units::TemperatureChange::from_si(then - zero))
                });
                match change {
                    Some(change) => {
                        let most = kelvin * change.si().abs();
                        let [by, part] = of(most);
                        let read = Message::new(
                            "{} went by {} from zero to residual and no drift of the gauges is stated, so that nothing is corrected: so much more on one face than on the other would move the member by {}, {} of the largest deflection; ",
                            [(&own.id).into(), change.into(), by, part],
                        );
                        if most > largest * UNCORRECTED {
                            self.undecided.push(read.clone().and("that is not in U".into()));
                        }
                        read.and(size)
                    }
                    None => {
                        Message::new("{} is logged and not used: ", [(&own.id).into()]).and(size)
                    }
                }
            }
        };
        self.notes.push(Note::new(slug::CRITERIA_TEMPERATURE_UNKNOWN, "columns.drift", said));
    }

    /// What settlements and turns that nobody logged leave open, and how large that can be.
    fn supports(
        &mut self,
        told: &Witness<'_>,
        deflections: &[Deflection],
        facts: Facts,
        largest: Length,
    ) {
        let names = |free: bool, settles: bool, turns: bool| {
            let open = deflections.iter().filter(|d| {
                let has = |kind| d.chain.has(kind);
                told.is_free(d.at) == free
                    && has(CorrectionKind::Settlement) == settles
                    && (!free || has(CorrectionKind::Rotation) == turns)
                    && d.chain.line().is_none()
            });
            open.map(|d| d.gauge.as_str()).collect::<Vec<_>>().join(", ")
        };
        let of = |l: Length| [Said::small(l), Ratio::from(l / largest).into()];
        let arm = if facts.cantilever() { facts.l } else { Length::from_si(1.0) };
        let turn = || {
            let [by, part] = of(arm * TURN);
            let turn = Rotation::from_si(TURN);
            Message::new(
                "a turn of {} moves what is {} from the root by {}, {} of the largest deflection; that is not in U",
                [turn.into(), arm.into(), by, part],
            )
        };
        let settled = told.layout.channels.iter().any(|c| c.role == Role::Settlement);
        let half = || {
            let [by, part] = of(SETTLED / 2.0);
            Message::new(
                "at mid-span half of what one bearing settles counts as deflection, of {} that is {}, {} of the largest; that is not in U",
                [Said::small(SETTLED), by, part],
            )
        };
        let in_full = || {
            let [by, part] = of(SETTLED);
            Message::new(
                "a settlement counts in full as deflection, {} is {} of the largest; ",
                [by, part],
            )
        };
        let said = [
            (
                names(false, false, false),
                Message::from(if settled {
                    "not between two bearings whose movement is logged, so that none is taken off: "
                } else {
                    "no movement of the bearings was logged: "
                })
                .and(half()),
            ),
            (
                names(true, false, false),
                Message::from("of a cantilever the root settles and turns; neither is taken off: ")
                    .and(in_full())
                    .and(turn()),
            ),
            (
                names(true, true, false),
                Message::from(
                    "of a cantilever the root settles and turns; no turn was logged there: ",
                )
                .and(turn()),
            ),
            (
                names(true, false, true),
                Message::from(
                    "of a cantilever the root settles and turns; no settlement was logged there: ",
                )
                .and(in_full())
                .and("that is not in U".into()),
            ),
        ];
        for (gauges, message) in said.into_iter().filter(|(gauges, _)| !gauges.is_empty()) {
            let message = Message::new("{}: ", [gauges.into()]).and(message);
            let slug = slug::CRITERIA_SETTLEMENT_UNKNOWN;
            self.notes.push(Note::new(slug, "columns.channels", message));
        }
    }

    /// What of the map of the log can decide, with its values: where its times begin, bands that are not those
    /// of the library, factors without a certificate.
    pub(crate) fn mapped(&mut self, told: &Witness<'_>) {
        let (log, layout) = told.given;
        let begins = log.begins();
        if begins.si().abs() > 0.0 {
            let message = Message::new(
                "the column of time begins at {}: times of the map and of this answer count from its first row, so that they are that much less than in the column",
                [begins.into()],
            );
            self.notes.push(Note::new(slug::READINGS_TIME_BEGINS, "columns.time", message));
        }
        let mut say = |path: String, message: Message| {
            self.notes.push(Note::new(slug::CRITERIA_MAP_SETTING, path, message));
        };
        for (name, band, own) in
            [("zero_band", layout.zero_band, ZERO_BAND), ("load_band", layout.load_band, LOAD_BAND)]
        {
            if (band.value() - own.value()).abs() > 0.0 {
                let message = Message::new(
                    "{} of the target, where the library takes {}",
                    [band.into(), own.into()],
                );
                say(format!("columns.{name}"), message);
            }
        }
        for (i, channel) in layout.channels.iter().enumerate() {
            let Some(found) = channel.calibration.as_ref().filter(|c| c.source.is_none()) else {
                continue;
            };
            let message = Message::new(
                "the readings of `{}` are multiplied by {} and {} {} are added, and no certificate is named",
                [
                    (&channel.id).into(),
                    Ratio::from(found.factor).into(),
                    found.offset.into(),
                    (&channel.unit).into(),
                ],
            );
            say(format!("columns.channels[{i}].calibration"), message);
        }
        if let Some(drift) = &layout.drift {
            let values =
                [Said::small(drift.moves.value), drift.per.value.into(), (&drift.channel).into()];
            let message = Message::new(
                "a drift of {} per {} of `{}` is stated and taken off; nothing in the log shows it",
                values,
            );
            say("columns.drift".to_owned(), message);
        }
    }

    /// Channels that could have corrected a gauge and do not.
    fn unused(&mut self, told: &Witness<'_>) {
        let (log, layout) = (&*told.log, &*told.layout);
        let warm = |id: &str| {
            let stated = layout.drift.iter().map(|d| &d.channel);
            let fitted = layout.thermal.iter().flat_map(|t| t.channels.iter());
            stated.chain(fitted).any(|c| c == id)
        };
        let corrected = layout.drift.is_some() || layout.thermal.is_some();
        let mut thermometers = 0;
        for (i, own) in layout.channels.iter().enumerate() {
            // cells and gauges have rows of their own
            let judged = matches!(own.role, Role::Force | Role::Deflection);
            if !judged && log.channel(&own.id).is_some_and(|c| log.samples(c).next().is_none()) {
                let values = [own.role.to_string().into(), (&own.id).into()];
                let message = Message::new("the channel of {} `{}` has no usable sample", values);
                let path = format!("columns.channels[{i}]");
                self.notes.push(Note::new(slug::CRITERIA_CHANNEL_UNUSED, path, message));
                continue;
            }
            let supports = || enters(layout, &own.id, &|x| told.is_free(x));
            let why = match own.role {
                Role::Settlement if !supports() => {
                    "no gauge stands between it and another bearing that is logged"
                }
                Role::Rotation if !supports() => {
                    "a turn is taken off at the root of a free end only, where no line through two bearings is logged"
                }
                Role::Level
                    if layout.channels.iter().all(|c| c.level.as_ref() != Some(&own.id)) =>
                {
                    "no gauge names it as its level"
                }
                Role::Temperature => {
                    thermometers += 1;
                    // the first is spoken of where nothing is corrected
                    if warm(&own.id) || (!corrected && thermometers == 1) {
                        continue;
                    }
                    "no drift of the gauges is taken from it"
                }
                _ => continue,
            };
            let moved = log.channel(&own.id).and_then(|c| {
                let at = |w| log.in_window(c, w).map(|m| m.0);
                Some(at(&layout.moments.peak)? - at(&layout.moments.zero)?)
            });
            let moved = moved.map_or_else(
                || Message::from("it was not read at zero and peak"),
                |si| {
                    let change = match own.role.kind() {
                        Kind::Length => Said::small(Length::from_si(si)),
                        Kind::Temperature => Quantity::new(Kind::TemperatureChange, si).into(),
                        kind => Quantity::new(kind, si).into(),
                    };
                    Message::new("it went by {} from zero to peak", [change])
                },
            );
            let values = [(&own.id).into(), why.into(), moved.into()];
            let message = Message::new("`{}` is logged and corrects nothing: {}; {}", values);
            let path = format!("columns.channels[{i}]");
            self.notes.push(Note::new(slug::CRITERIA_CHANNEL_UNUSED, path, message));
        }
    }
}

/// Why the force at the peak is not known, where it is not: then nobody knows what was held either.
fn unread(seen: &LogFacts) -> Option<Message> {
    if seen.load.force.is_some() {
        return None;
    }
    let empty = seen.cells.iter().filter(|c| c.samples == 0);
    let empty: Vec<&str> = empty.map(|c| c.channel.as_str()).collect();
    Some(match () {
        () if empty.len() == seen.cells.len() => {
            "no cell has a usable sample: whether the full load was on is not known".into()
        }
        () if !empty.is_empty() => {
            let values = [empty.join(", ").into()];
            Message::new("{} has no usable sample: the force is not known", values)
        }
        () => "a cell has no usable sample in the peak window: whether the full load was on then is not known".into(),
    })
}

/// What else may be wrong where the column of time does not begin at nought.
fn counted_from(begins: Duration) -> Message {
    if begins.si().abs() <= 0.0 {
        return Message::from("");
    }
    Message::new(
        "; times of the map count from the first row, {} in the column of time: are they given in the numbers of the column?",
        [begins.into()],
    )
}

/// Why the zero is none.
fn zero_problem(seen: &LogFacts, rule: &Rule) -> Option<Message> {
    let z = &seen.zero;
    let window = || [z.from.into(), z.to.into()];
    let Some(force) = z.force else {
        return Some(Message::new("no cell was read from {} to {}", window()));
    };
    if (force - z.stated).abs() > z.band {
        let values = [force.into(), z.from.into(), z.to.into(), z.stated.into()];
        return Some(Message::new(
            "{} on from {} to {} where {} should be: taken under load, or a cell that was never zeroed",
            values,
        ));
    }
    // cells that cancel one another, where each should show nothing
    let alone = |f: Force| z.stated <= Force::ZERO && f.abs() > z.band;
    if let Some(cell) = seen.cells.iter().find(|c| c.zero.is_some_and(alone)) {
        let values = [cell.zero.unwrap_or(Force::ZERO).into(), (&cell.channel).into()];
        return Some(Message::new("{} on cell {}, which another cell cancels", values));
    }
    if let Some((at, force)) = z.first_step.zip(z.first_force)
        && at <= z.to
    {
        let values = [force.into(), at.into(), z.to.into()];
        return Some(Message::new(
            "{} was on at {}, before the window ended at {}: it is not before the first increment",
            values,
        ));
    }
    if let Some((asked, age)) = rule.zero_before.zip(z.age)
        && age > asked * (1.0 + DESIGN_SLACK)
    {
        let values = [age.into(), asked.into()];
        return Some(Message::new("{} old at the first increment; the edition allows {}", values));
    }
    let touched = z.touched.first()?;
    let values = [(&touched.gauge).into(), Said::small(touched.moved)];
    Some(Message::new("gauge {} moved by {} between its zero and the first increment", values))
}
