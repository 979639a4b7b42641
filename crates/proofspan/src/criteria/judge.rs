//! The criteria of the edition on the readings.

use super::record::{Distress, Reply, RunRecord, Stated};
use crate::editions::{
    Asks, CRITERION_FACTS, CRITERION_NAMES, CRITERION_SLOTS, Criterion as EditionCriterion,
    Edition, Rule, SpanRule,
};
use crate::error::{Error, Issue, slug};
use crate::formula::Formula;
use crate::readings::Deflection;
use crate::source::validate_named;
use crate::uncertainty::{COVERAGE, combined, decide};
use crate::units::{Duration, Force, Kind, Length, Message, Net, Quantity, Ratio, Said};
use crate::verdict::{
    Basis, Clause, Combined, Criterion, Limit, MemberUnit, Note, Outcome, State, Verdict, combine,
};

/// What the limits speak of.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Facts {
    /// Span by the edition's rule.
    pub lt: Length,
    /// Effective span, centre to centre.
    pub l: Length,
    /// Overall depth.
    pub h: Length,
    /// What one value is counted for.
    pub unit: MemberUnit,
}

impl Facts {
    /// Span of the limits: the lesser of centre to centre and clear span plus depth, or twice
    /// a cantilever; the effective span where the edition speaks of that.
    #[must_use]
    pub fn span(
        rule: SpanRule,
        centres: Length,
        clear: Option<Length>,
        depth: Length,
        cantilever: bool,
    ) -> Length {
        if cantilever {
            return centres * 2.0;
        }
        match (rule, clear) {
            (SpanRule::Lt, Some(clear)) => centres.min(clear + depth),
            _ => centres,
        }
    }
}

/// What was predicted, so that a small test deflection is not taken for a stiff member.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
pub struct Predicted {
    /// Largest deflection of the member under the jacks, soft prediction.
    pub jacks: Option<Length>,
    /// Largest deflection of the member under the distributed load the jacks stand for, soft prediction.
    pub reference: Option<Length>,
}

/// A judged criterion.
#[derive(Clone, PartialEq, Debug)]
pub struct Judged {
    /// Its name inside the edition, or `distress`.
    pub id: String,
    /// What it compares, in words.
    pub about: String,
    /// The comparison as the edition writes it.
    pub formula: String,
    /// The clause.
    pub clause: String,
    /// The gauge it was judged on.
    pub gauge: Option<String>,
    /// Both outcomes.
    pub outcome: Outcome,
    /// Why, in one sentence.
    pub reason: String,
    any_of: Option<u8>,
}

/// The judged criteria and what they come to.
#[derive(Clone, PartialEq, Debug)]
pub struct Judging {
    /// Every criterion, the observation last.
    pub criteria: Vec<Judged>,
    /// Combined on the code outcomes.
    pub code: Combined,
    /// Combined on the guarded outcomes: the headline.
    pub guarded: Combined,
    /// What to know.
    pub notes: Vec<Note>,
    reached: Option<bool>,
}

/// Whether the target load was reached: the force of record, its expanded uncertainty added,
/// against the target. Nothing where no force is on record.
#[must_use]
pub fn reached(
    force: Option<(Force, Option<Force>)>,
    target: Option<Net<Force>>,
    record: &RunRecord,
) -> Option<bool> {
    if let (Some((force, u)), Some(target)) = (force, target) {
        let allowance = u.map_or(Force::ZERO, |u| u * COVERAGE);
        return Some(force + allowance >= target.0 * (1.0 - crate::verdict::DESIGN_SLACK));
    }
    record.reached.as_ref().map(|r| r.value.value() >= 1.0 - crate::verdict::DESIGN_SLACK)
}

/// Whether the full load was held as long as the edition asks. Nothing where the record does not
/// say how long it was held.
#[must_use]
pub fn held(record: &RunRecord, rule: &Rule) -> Option<bool> {
    let Some(asked) = rule.full_hold else { return Some(true) };
    record.held.as_ref().map(|h| h.value >= asked * (1.0 - crate::verdict::DESIGN_SLACK))
}

/// Judges the criteria of a test method on the gauge with the largest deflection.
///
/// # Errors
/// `criteria.no-gauge`, `criteria.residual-above-max`, `editions.values-unknown`, and what
/// the rules of [`RunRecord`] refuse.
pub fn judge_criteria(
    edition: &Edition,
    method: &str,
    facts: Facts,
    deflections: &[Deflection],
    predicted: Predicted,
    record: &RunRecord,
    reached: Option<bool>,
) -> Result<Judging, Error> {
    if let Some(what) = edition.unknown().filter(|_| edition.criteria(method).next().is_none()) {
        return Err(Issue::new(
            slug::EDITIONS_VALUES_UNKNOWN,
            "edition.id",
            format!("the limits of {} are not known here", edition.name()),
        )
        .remedy(format!("enter {what} in an edition file of your own"))
        .into());
    }
    validate_named("record", record)?;
    let largest = deflections.iter().max_by(|a, b| a.d_max.si().total_cmp(&b.d_max.si()));
    let Some(gauge) = largest else {
        return Err(Issue::new(
            slug::CRITERIA_NO_GAUGE,
            "readings",
            "no channel of role deflection was read",
        )
        .into());
    };
    let mut issues = Vec::new();
    for d in deflections {
        if let Some(d_r) = d.d_r.filter(|r| *r > d.d_max && d.d_max > Length::ZERO) {
            issues.push(
                Issue::new(
                    slug::CRITERIA_RESIDUAL_ABOVE_MAX,
                    format!("readings.{}", d.gauge),
                    "the residual is larger than the largest deflection: the reference is lost",
                )
                .value(Message::new("{} of {}", [Said::small(d_r), Said::small(d.d_max)])),
            );
        }
    }
    Error::check(issues)?;
    let mut judging = Judging {
        criteria: Vec::new(),
        code: combine(&[], true),
        guarded: combine(&[], true),
        notes: Vec::new(),
        reached,
    };
    for (index, criterion) in edition.criteria(method).enumerate() {
        if let Some(note) = &criterion.note {
            let path = format!("edition.criteria.{}", criterion.id);
            judging.notes.push(Note::new(slug::EDITIONS_REMARK, path, note.clone()));
        }
        let judged = match &criterion.asks {
            Asks::Person(question) => asked(criterion, index, question, record, facts.unit),
            Asks::Limit(limit) => {
                let judge = Judge {
                    criterion,
                    limit,
                    index,
                    facts,
                    gauge,
                    predicted,
                    stated: &record.stated,
                };
                judge.run(&mut judging.notes)
            }
        };
        judging.criteria.push(judged);
    }
    judging.observe(record, facts.unit);
    let hold = held(record, &edition.protocol(method).unwrap_or_default());
    if reached.is_none() {
        judging.notes.push(Note::new(
            slug::CRITERIA_FORCE_UNKNOWN,
            "record.reached",
            "no force of record says that the target load was reached",
        ));
    }
    if hold.is_none() {
        judging.notes.push(Note::new(
            slug::CRITERIA_HOLD_UNKNOWN,
            "record.held",
            "the record does not say how long the full load was held",
        ));
    }
    // a load or hold that fell short ends the matter; one that nobody recorded leaves it open
    let reached = match (reached, hold) {
        (Some(false), _) | (_, Some(false)) => Some(false),
        (Some(true), Some(true)) => Some(true),
        _ => None,
    };
    judging.reached = reached;
    judging.combine();
    judging.retest(edition, method);
    if edition.imposed_only() {
        judging.notes.push(Note::new(slug::CRITERIA_IMPOSED_ONLY, "edition.id", format!("{} counts deflections under the imposed test load only: bring on missing dead load before the zero reading", edition.name())));
    }
    Ok(judging)
}

impl Judging {
    /// Combines the criteria, once on the code outcomes and once on the guarded ones.
    pub(super) fn combine(&mut self) {
        let gather = |pick: fn(&Outcome) -> State| {
            let mut all: Vec<Criterion> = self
                .criteria
                .iter()
                .map(|j| Criterion { state: pick(&j.outcome), any_of: j.any_of, replaced: false })
                .collect();
            if self.reached.is_none() {
                all.push(Criterion::alone(State::Inconclusive));
            }
            combine(&all, self.reached.unwrap_or(true))
        };
        (self.code, self.guarded) = (gather(|o| o.code.state), gather(|o| o.guarded.state));
    }

    /// Adds what the layout could show: a member whose ends may be held against rotation, or whose
    /// jack stood near a bearing, was not tested as the edition's load would.
    pub(crate) fn require_layout(&mut self, verdicts: &[Verdict], unit: MemberUnit) {
        let counted = |v: &&Verdict| {
            [
                slug::EQUIVALENT_SHORT,
                slug::EQUIVALENT_SUPPORT_BOUNDS,
                slug::EQUIVALENT_NEAR_BEARING,
                slug::SCOPE_NEIGHBOURS,
            ]
            .contains(&v.slug)
        };
        let states: Vec<Criterion> =
            verdicts.iter().filter(counted).map(|v| Criterion::alone(v.state)).collect();
        let combined = combine(&states, true);
        let worst = verdicts.iter().filter(counted).find(|v| v.state != State::Pass).copied();
        let bare = Verdict::bare(
            State::Pass,
            slug::EQUIVALENT_SHORT,
            Quantity::new(Kind::Ratio, 1.0),
            Basis::net(unit),
            Clause::Named("library rule"),
        );
        let verdict = worst.unwrap_or(bare).with_state(combined.state);
        let reason = worst.map_or("every x of the region reached the reference", |v| v.slug.gist());
        self.criteria.push(Judged {
            id: "reproduction".to_owned(),
            about: "whether the load reproduced what was asked in the region in doubt".to_owned(),
            formula: "fidelity >= 1 within the bounds of support".to_owned(),
            clause: "library rule".to_owned(),
            gauge: None,
            outcome: Outcome { code: verdict, guarded: verdict },
            reason: reason.to_owned(),
            any_of: None,
        });
        self.combine();
    }

    /// Widens the outcomes by those of another member within the ranges of the inputs: where
    /// they differ, the guarded one is Inconclusive. The code's own comparison stays at the
    /// values given.
    pub(crate) fn across(&mut self, other: &Self) {
        for (own, other) in self.criteria.iter_mut().zip(&other.criteria) {
            let before = own.outcome.guarded;
            own.outcome.guarded = before.across(&[other.outcome.guarded]);
            if own.outcome.guarded.state != before.state {
                "span or depth are ranges, and the limit hangs on them".clone_into(&mut own.reason);
            }
        }
        self.combine();
    }

    /// Adds whether the residual was read at the edition's time after unloading.
    pub(crate) fn require_time(&mut self, rule: &Rule, taken: Option<Duration>, unit: MemberUnit) {
        let (Some(named), Some(kind)) = (rule.residual_after, rule.residual_time) else { return };
        let hours = |d: Duration| Message::new("{}", [d.into()]);
        let (state, reason) = match taken {
            Some(taken) if kind.keeps(taken, named) => {
                (State::Pass, format!("read {} after unloading", hours(taken)))
            }
            Some(taken) => (State::Inconclusive, format!("read {} after unloading", hours(taken))),
            None => (State::Inconclusive, "it is not said when the load was off".to_owned()),
        };
        if state != State::Pass {
            self.notes.push(Note::new(
                slug::CRITERIA_RESIDUAL_TIME,
                "moments.residual",
                Message::new(
                    "the residual belongs {} {} after unloading; {}",
                    [kind.to_string().into(), named.into(), (&reason).into()],
                ),
            ));
        }
        let demand = Quantity::new(Kind::Duration, taken.map_or(f64::NAN, Duration::si));
        let verdict = Verdict::bare(
            state,
            slug::CRITERIA_RESIDUAL_TIME,
            demand,
            Basis::measured(unit),
            Clause::Named("protocol of the edition"),
        );
        self.criteria.push(Judged {
            id: "residual time".to_owned(),
            about: "when the residual was read".to_owned(),
            formula: format!("{kind} {} after unloading", hours(named)),
            clause: "protocol of the edition".to_owned(),
            gauge: None,
            outcome: Outcome { code: verdict, guarded: verdict },
            reason,
            any_of: None,
        });
        self.combine();
    }

    fn observe(&mut self, record: &RunRecord, unit: MemberUnit) {
        let o = &record.observation;
        let (state, reason) = match o.distress {
            Distress::None => (State::Pass, "looked for and not seen".to_owned()),
            Distress::Seen => {
                (State::Fail, format!("seen: {}", o.note.as_deref().unwrap_or("no description")))
            }
            Distress::NotInspected => {
                self.notes.push(Note::new(
                    slug::CRITERIA_NOT_INSPECTED,
                    "record.observation",
                    "nobody looked for distress: the test cannot be passed",
                ));
                (State::Inconclusive, "not looked for".to_owned())
            }
        };
        let verdict = Verdict::bare(
            state,
            slug::CRITERIA_DISTRESS,
            Quantity::new(Kind::Ratio, 0.0),
            Basis::measured(unit),
            Clause::Named("library rule, for every edition"),
        );
        self.criteria.push(Judged {
            id: "distress".to_owned(),
            about: "visible distress, a signed observation".to_owned(),
            formula: "none seen".to_owned(),
            clause: "library rule, for every edition".to_owned(),
            gauge: None,
            outcome: Outcome { code: verdict, guarded: verdict },
            reason: format!("{reason}; {} ({})", o.by, o.date),
            any_of: None,
        });
    }

    /// Whether the edition allows a retest after these outcomes.
    fn retest(&mut self, edition: &Edition, method: &str) {
        let Some(retest) = edition.retest(method) else { return };
        let failed: Vec<&str> = self
            .criteria
            .iter()
            .filter(|c| c.outcome.code.state == State::Fail)
            .map(|c| c.id.as_str())
            .collect();
        if !failed.is_empty() && failed.iter().all(|f| retest.after_failed.iter().any(|a| a == f)) {
            let gap = retest.gap.map_or_else(String::new, |g: Duration| {
                format!(", not before {}", Message::new("{}", [g.into()]))
            });
            let when = retest
                .allowed_if
                .as_ref()
                .map_or_else(String::new, |f| format!(" if {}", f.text()));
            self.notes.push(Note::new(
                slug::CRITERIA_RETEST,
                "edition.retest",
                format!("a retest is allowed{when}{gap}; it must show {}", retest.limit.text()),
            ));
        }
    }
}

/// A criterion that asks a person: yes is met, no is not, nobody looked is open.
fn asked(
    criterion: &EditionCriterion,
    index: usize,
    question: &str,
    record: &RunRecord,
    unit: MemberUnit,
) -> Judged {
    let answer = record.answers.iter().find(|a| a.criterion == criterion.id);
    let (state, reason) = match answer.map(|a| (a.answer, a)) {
        Some((Reply::Yes, a)) => (State::Pass, format!("yes, by the {} ({})", a.by, a.date)),
        Some((Reply::No, a)) => (State::Fail, format!("no, by the {} ({})", a.by, a.date)),
        _ => (State::Inconclusive, "nobody answered".to_owned()),
    };
    let verdict = Verdict::bare(
        state,
        slug::CRITERIA_NOT_MET,
        Quantity::new(Kind::Ratio, 0.0),
        Basis::measured(unit),
        Clause::Edition(u16::try_from(index).unwrap_or(u16::MAX)),
    );
    Judged {
        id: criterion.id.clone(),
        about: criterion.about.clone(),
        formula: question.to_owned(),
        clause: criterion.clause.clone(),
        gauge: None,
        outcome: Outcome { code: verdict, guarded: verdict },
        reason,
        any_of: criterion.any_of,
    }
}

/// Values from here on are stated by the record.
const OPEN: usize = 10;

/// The name of a slot.
fn name_of(slot: usize) -> Option<&'static str> {
    let facts = CRITERION_FACTS.get(slot.wrapping_sub(CRITERION_NAMES.len())).copied();
    CRITERION_NAMES.get(slot).map(|n| n.0).or(facts)
}

struct Judge<'a> {
    criterion: &'a EditionCriterion,
    limit: &'a Formula,
    stated: &'a [Stated],
    index: usize,
    facts: Facts,
    gauge: &'a Deflection,
    predicted: Predicted,
}

/// Slots of the vocabulary of criteria that speak of the residual.
const D_R: usize = 1;
const REC: usize = 6;
/// Slots that a deflection of the log fills, and that of the calculated deflection.
const READ: [usize; 3] = [0, D_R, REC];
const CALCULATED: usize = 18;

impl Judge<'_> {
    fn values(&self, d_max: f64, d_r: Option<f64>) -> [Option<f64>; CRITERION_SLOTS] {
        let f = &self.facts;
        let rec = d_r.filter(|_| d_max > 0.0).map(|r| 1.0 - r / d_max);
        let depth = Some(f.h.si());
        let own = [Some(d_max), d_r, Some(f.lt.si()), Some(f.l.si()), depth, depth, rec];
        let mut values = [None; CRITERION_SLOTS];
        values.iter_mut().zip(own).for_each(|(place, value)| *place = value);
        if let Some(place) = values.get_mut(CALCULATED) {
            *place = self.predicted.jacks.map(Length::si);
        }
        for (slot, value, _) in self.stated.iter().filter_map(Stated::slot) {
            if let Some(place) = values.get_mut(slot) {
                *place = Some(value);
            }
        }
        values
    }

    /// Margin of a comparison, positive inside.
    fn margin(formula: &Formula, values: &[Option<f64>]) -> Option<f64> {
        let sides = formula.sides(values)?;
        Some(if sides.at_most { sides.limit - sides.demand } else { sides.demand - sides.limit })
    }

    /// Standard uncertainty of the margin; the zero reading is shared, the drift too. Values that
    /// the record states add theirs; nothing where one that counts does not say it.
    fn u_margin(&self, scale: f64, d_r: Option<f64>) -> Option<f64> {
        let slots = self.limit.slots();
        let d_max = self.gauge.d_max.si();
        let measured = slots.iter().any(|s| READ.contains(s));
        let from_readings = if measured {
            let u = self.gauge.u_reading?.si();
            let (drift_max, drift_r) = self.gauge.u_drift;
            combined(&[0.0; 4], &[u, u, u, 1.0], |e| {
                let [e0, e1, e2, b] = *e else { return None };
                let largest = (d_max + e1 - e0 - b * drift_max) * scale;
                let residual = d_r.map(|r| r + e2 - e0 - b * drift_r);
                Self::margin(self.limit, &self.values(largest, residual))
            })?
        } else {
            0.0
        };
        let mut square = from_readings * from_readings;
        for (slot, value, u) in self.stated.iter().filter_map(Stated::slot) {
            if !slots.contains(&slot) {
                continue;
            }
            let u = u?;
            let at = |v: f64| {
                let mut values = self.values(d_max * scale, d_r);
                if let Some(place) = values.get_mut(slot) {
                    *place = Some(v);
                }
                Self::margin(self.limit, &values)
            };
            if u > 0.0 {
                square += ((at(value + u)? - at(value - u)?) / 2.0).powi(2);
            }
        }
        (square > 0.0).then(|| square.sqrt())
    }

    fn run(&self, notes: &mut Vec<Note>) -> Judged {
        let c = self.criterion;
        let slots = self.limit.slots();
        let of_residual = slots.contains(&D_R) || slots.contains(&REC);
        let (d_max, d_r) = (self.gauge.d_max.si(), self.gauge.d_r.map(Length::si));
        let values = self.values(d_max, d_r);
        let ratio = |s: &usize| CRITERION_NAMES.get(*s).is_some_and(|n| n.1 == Kind::Ratio);
        let kind = if slots.iter().any(ratio) { Kind::Ratio } else { Kind::Length };
        let basis = Basis::measured(self.facts.unit);
        let clause = Clause::Edition(u16::try_from(self.index).unwrap_or(u16::MAX));
        // value, limit and U of one row stand on one scale of the measured deflection
        let verdict = |state: State, scale: f64, u: Option<f64>| {
            let sides = self.limit.sides(&self.values(d_max * scale, d_r));
            let limit = sides.map_or(Limit::None, |s| {
                if s.at_most { Limit::AtMost(s.limit) } else { Limit::AtLeast(s.limit) }
            });
            let demand = sides.map_or(f64::NAN, |s| s.demand);
            let base = Verdict::design(
                slug::CRITERIA_NOT_MET,
                Quantity::new(kind, demand),
                limit,
                basis,
                clause,
            );
            Verdict { state, uncertainty: u.map(|u| COVERAGE * u), ..base }
        };
        let judged = |code: State, guarded: State, u: Option<f64>, reason: String| Judged {
            id: c.id.clone(),
            about: c.about.clone(),
            formula: c.waive_if.as_ref().map_or_else(
                || self.limit.text().to_owned(),
                |w| format!("{}; waived if {}", self.limit.text(), w.text()),
            ),
            clause: c.clause.clone(),
            gauge: Some(self.gauge.gauge.clone()),
            outcome: Outcome { code: verdict(code, 1.0, u), guarded: verdict(guarded, 1.0, u) },
            reason,
            any_of: c.any_of,
        };
        match c.applies_if.as_ref().map(|f| f.holds(&values)) {
            Some(Some(false)) => {
                let text = c.applies_if.as_ref().map_or("", Formula::text);
                let reason = format!("it applies only if {text}, which is stated not to hold");
                return judged(State::NotApplicable, State::NotApplicable, None, reason);
            }
            Some(None) => {
                let text = c.applies_if.as_ref().map_or("", Formula::text);
                let reason = format!("whether it applies is not stated: {text}");
                return judged(State::Inconclusive, State::Inconclusive, None, reason);
            }
            _ => {}
        }
        let open: Vec<&str> = slots
            .iter()
            .filter(|s| **s >= OPEN && values.get(**s).copied().flatten().is_none())
            .filter_map(|s| name_of(*s))
            .collect();
        if !open.is_empty() {
            let reason = format!("the record does not state {}", open.join(", "));
            return judged(State::Inconclusive, State::Inconclusive, None, reason);
        }
        let waived = self.waived();
        if of_residual && d_r.is_none() && waived.is_none() {
            notes.push(Note::new(
                slug::CRITERIA_RESIDUAL_MISSING,
                "moments.residual",
                format!("criterion {} needs the residual reading, which is missing", c.id),
            ));
            return judged(
                State::Inconclusive,
                State::Inconclusive,
                None,
                "the residual was not read".to_owned(),
            );
        }
        let code = match (waived, self.limit.holds(&values)) {
            (Some((true, _)), _) => State::Waived,
            (_, Some(true)) => State::Pass,
            (_, Some(false)) => State::Fail,
            (_, None) => State::Inconclusive,
        };
        if let Some((true, small_by_layout)) = waived {
            let (state, reason) = if small_by_layout {
                (State::NotMeaningful, "the largest deflection is below the waiver only because the jacks bend the member less than the load they stand for".to_owned())
            } else if self.waived_with_guard() {
                (
                    State::Waived,
                    "waived by the edition's own clause for small deflections".to_owned(),
                )
            } else {
                (
                    State::Inconclusive,
                    "inside the waiver, but not by more than the uncertainty".to_owned(),
                )
            };
            return judged(code, state, self.u_margin(1.0, d_r), reason);
        }
        let Some(u) = self.u_margin(1.0, d_r) else {
            notes.push(Note::new(
                slug::UNCERTAINTY_MISSING,
                format!("readings.{}", self.gauge.gauge),
                "no uncertainty is stated: the guarded outcome is inconclusive",
            ));
            return judged(
                code,
                State::Inconclusive,
                None,
                "the uncertainty of the readings is not stated".to_owned(),
            );
        };
        if of_residual {
            if let Some(r) = d_r.filter(|r| {
                *r < -COVERAGE
                    * self.gauge.u_reading.map_or(0.0, |u| u.si() * core::f64::consts::SQRT_2)
            }) {
                notes.push(Note::new(slug::CRITERIA_RESIDUAL_NEGATIVE, format!("readings.{}", self.gauge.gauge), Message::new("the residual is {}, below zero by more than its uncertainty: drift or a wrong sign", [Said::small(Length::from_si(r))])));
                return judged(
                    code,
                    State::Inconclusive,
                    Some(u),
                    "the residual is below zero by more than its uncertainty".to_owned(),
                );
            }
            // even a perfectly elastic member must be able to pass guarded
            let elastic = Self::margin(self.limit, &self.values(d_max, Some(0.0)));
            let guard = self.u_margin(1.0, Some(0.0)).map(|u| COVERAGE * u);
            if elastic.zip(guard).is_none_or(|(m, g)| m < g) {
                notes.push(Note::new(slug::CRITERIA_NOT_MEANINGFUL, format!("readings.{}", self.gauge.gauge), "the largest deflection is too small against its uncertainty: even a perfectly elastic member could not pass"));
                return judged(
                    code,
                    State::NotMeaningful,
                    Some(u),
                    "too small against its uncertainty to discriminate".to_owned(),
                );
            }
        }
        let scale = if of_residual { 1.0 } else { self.layout_scale(notes) };
        let margin = Self::margin(self.limit, &self.values(d_max * scale, d_r));
        let u_scaled = self.u_margin(scale, d_r);
        let guard = u_scaled.map(|u| COVERAGE * u);
        let decided = margin.zip(guard).and_then(|(m, g)| decide(m, g));
        let (guarded, reason) = match decided {
            Some(true) => (State::Pass, "inside the limit by more than the guard"),
            Some(false) => (State::Fail, "outside the limit by more than the guard"),
            None => (State::Inconclusive, "the limit lies inside the guard band"),
        };
        let scaled = if scale > 1.0 {
            format!("{reason}; value and U are {scale:.4} times those measured")
        } else {
            reason.to_owned()
        };
        let mut judged = judged(code, guarded, Some(u), scaled);
        judged.outcome.guarded = verdict(guarded, scale, u_scaled);
        judged
    }

    /// The largest deflection of the member, measured or predicted.
    fn largest(&self) -> f64 {
        self.gauge.d_max.si().max(self.predicted.jacks.map_or(0.0, Length::si))
    }

    /// Whether the waiver holds, and whether it holds only because of the layout.
    fn waived(&self) -> Option<(bool, bool)> {
        let waiver = self.criterion.waive_if.as_ref()?;
        let holds = waiver.holds(&self.values(self.largest(), None))?;
        let reference =
            self.predicted.reference.map_or(self.largest(), |r| r.si().max(self.largest()));
        let holds_for_reference = waiver.holds(&self.values(reference, None)).unwrap_or(false);
        holds.then_some((true, !holds_for_reference))
    }

    fn waived_with_guard(&self) -> bool {
        let Some(u) = self.gauge.u_reading else { return false };
        let guard = COVERAGE * u.si() * core::f64::consts::SQRT_2;
        self.criterion
            .waive_if
            .as_ref()
            .and_then(|w| w.holds(&self.values(self.largest() + guard, None)))
            == Some(true)
    }

    /// A limit on the largest deflection is easily met by a few jacks: it is compared with what
    /// the distributed load would have given, in proportion of the predictions.
    fn layout_scale(&self, notes: &mut Vec<Note>) -> f64 {
        let (Some(jacks), Some(reference)) = (self.predicted.jacks, self.predicted.reference)
        else {
            return 1.0;
        };
        let scale = reference / jacks;
        if !scale.is_finite() || scale <= 1.0 {
            return 1.0;
        }
        notes.push(Note::new(
            slug::CRITERIA_SCALED,
            format!("criteria.{}", self.criterion.id),
            Message::new("the jacks bend the member {} of what the distributed load would; the guarded outcome compares {} times the measured deflection", [scale.recip().into(), scale.into()]),
        ));
        scale
    }
}

impl Judged {
    /// The residual over the largest deflection with its standard uncertainty, where both were read.
    #[must_use]
    pub fn ratio(deflection: &Deflection) -> Option<(Ratio, Option<Ratio>)> {
        let (d_max, d_r) = (deflection.d_max.si(), deflection.d_r?.si());
        let (drift_max, drift_r) = deflection.u_drift;
        let u = deflection.u_reading.and_then(|u| {
            combined(&[0.0; 4], &[u.si(), u.si(), u.si(), 1.0], |e| {
                let [e0, e1, e2, b] = *e else { return None };
                Some((d_r + e2 - e0 - b * drift_r) / (d_max + e1 - e0 - b * drift_max))
            })
        });
        (d_max > 0.0).then(|| (Ratio::from(d_r / d_max), u.map(Ratio::from)))
    }
}

impl crate::source::Write for Judged {
    fn write(&self) -> crate::source::Node {
        use crate::source::Node;
        Node::map(vec![
            ("id", Node::text(self.id.clone())),
            ("about", Node::text(self.about.clone())),
            ("formula", Node::text(self.formula.clone())),
            ("clause", Node::text(self.clause.clone())),
            ("gauge", self.gauge.write()),
            ("code", self.outcome.code.write()),
            ("guarded", self.outcome.guarded.write()),
            ("reason", Node::text(self.reason.clone())),
        ])
    }
}
