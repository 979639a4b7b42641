//! The criteria of the edition on the readings.

use super::cyclic::{Case, Known, cases, speaks_of_cycles, stated_index};
use super::pencil::{self, Compared, margin};
use super::record::{Answer, Distress, Permanency, Reply, RunRecord, Stated};
use super::worst::{BELOW, Judged, LITTLE, NOTHING, worst};
use crate::editions::{
    Asks, CRITERION_FACTS, CRITERION_NAMES, CRITERION_SLOTS, Criterion as EditionCriterion,
    Edition, Rule, SpanRule,
};
use crate::error::{Error, Issue, slug};
use crate::formula::{Formula, Working};
use crate::readings::{Cycles, Deflection};
use crate::source::validate_named;
use crate::uncertainty::{COVERAGE, combined, decide};
use crate::units::{Duration, Kind, Length, Message, Quantity, Ratio, Said};
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
    /// Whether the limits are those of a cantilever or an overhang, whose span counts twice.
    pub(crate) fn cantilever(&self) -> bool {
        self.lt > self.l * 1.5
    }

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
    pub(super) compared: Vec<Compared>,
}

/// Whether the target load was reached as the record states it. Nothing where it does not.
#[must_use]
pub fn reached(record: &RunRecord) -> Option<bool> {
    record.reached.as_ref().map(|r| r.value.value() >= 1.0 - crate::verdict::DESIGN_SLACK)
}

/// Whether the full load was held as long as the edition asks. Nothing where the record does not
/// say how long it was held.
#[must_use]
pub fn held(record: &RunRecord, rule: &Rule) -> Option<bool> {
    let Some(asked) = rule.full_hold else { return Some(true) };
    record.held.as_ref().map(|h| h.value >= asked * (1.0 - crate::verdict::DESIGN_SLACK))
}

/// What the log says before any criterion is looked at.
#[derive(Clone, Copy, Default)]
pub(crate) struct Seen<'a> {
    /// Gauges without a usable sample at zero or peak, and where it is missing.
    pub(crate) dead: &'a [(String, &'static str)],
    /// The load cycles, where it has any.
    pub(crate) cycles: Option<&'a Cycles>,
    /// The soft and the stiff prediction at a place, where there is a design.
    pub(crate) calculated: Option<Calculated<'a>>,
    /// Whether the target load was reached, and whether it was held; nothing where nobody says so.
    pub(crate) reached: Option<bool>,
    pub(crate) held: Option<bool>,
}

/// The soft and the stiff prediction at a place.
pub(crate) type Calculated<'a> = &'a dyn Fn(Length) -> (Length, Length);

/// Judges the criteria of a test method on every gauge: of each criterion the worst gauge decides.
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
    let held = held(record, &edition.protocol(method).unwrap_or_default());
    let seen = Seen { reached, held, ..Seen::default() };
    judge_seen(edition, method, facts, deflections, predicted, record, seen)
}

/// The same with what else the log says.
pub(crate) fn judge_seen(
    edition: &Edition,
    method: &str,
    facts: Facts,
    deflections: &[Deflection],
    predicted: Predicted,
    record: &RunRecord,
    seen: Seen<'_>,
) -> Result<Judging, Error> {
    validate_named("record", record)?;
    let beside = Beside {
        stated: &record.stated,
        answers: &record.answers,
        permanency: record.permanency,
        dead: seen.dead,
        cycles: seen.cycles,
        calculated: seen.calculated,
    };
    let mut judging = measured(edition, method, facts, deflections, predicted, beside)?;
    judging.reached = seen.reached;
    judging.observe(record, facts.unit);
    if seen.reached.is_none() {
        judging.notes.push(Note::new(
            slug::CRITERIA_FORCE_UNKNOWN,
            "record.reached",
            "no force of record says that the target load was reached",
        ));
    }
    if seen.held.is_none() {
        judging.notes.push(Note::new(
            slug::CRITERIA_HOLD_UNKNOWN,
            "record.held",
            "the record does not say how long the full load was held",
        ));
    }
    // a load or hold that fell short ends the matter; one that nobody recorded leaves it open
    judging.reached = match (seen.reached, seen.held) {
        (Some(false), _) | (_, Some(false)) => Some(false),
        (Some(true), Some(true)) => Some(true),
        _ => None,
    };
    judging.combine();
    judging.after(edition, method);
    Ok(judging)
}

/// What counts besides the largest and residual deflections.
#[derive(Clone, Copy, Default)]
pub(super) struct Beside<'a> {
    /// What people stated and answered.
    pub(super) stated: &'a [Stated],
    pub(super) answers: &'a [Answer],
    pub(super) permanency: Option<Permanency>,
    /// What the log says besides.
    pub(super) dead: &'a [(String, &'static str)],
    pub(super) cycles: Option<&'a Cycles>,
    pub(super) calculated: Option<Calculated<'a>>,
}

/// The criteria of the edition alone, of each the worst gauge; nothing is combined.
pub(super) fn measured(
    edition: &Edition,
    method: &str,
    facts: Facts,
    deflections: &[Deflection],
    predicted: Predicted,
    beside: Beside<'_>,
) -> Result<Judging, Error> {
    let dead = beside.dead;
    let none = edition.criteria(method).next().is_none();
    if let Some(what) = edition.unknown().filter(|_| none && edition.stop_rules().is_empty()) {
        return Err(Issue::new(
            slug::EDITIONS_VALUES_UNKNOWN,
            "edition.id",
            format!("the limits of {} are not known here", edition.name()),
        )
        .remedy(format!("enter {what} in an edition file of your own"))
        .into());
    }
    if deflections.is_empty() {
        return Err(Issue::new(
            slug::CRITERIA_NO_GAUGE,
            "columns.channels",
            "no channel of role deflection was read",
        )
        .into());
    }
    let largest = deflections.iter().map(|d| d.d_max.abs()).fold(Length::ZERO, Length::max);
    let mut issues = Vec::new();
    for d in deflections {
        let (d_max, d_r) = sized(d);
        let shows = !little(d, largest) && !nothing(d, largest);
        if let Some(r) = d_r.filter(|r| *r > d_max && d_max > 0.0 && shows) {
            issues.push(
                Issue::new(
                    slug::CRITERIA_RESIDUAL_ABOVE_MAX,
                    format!("readings.{}", d.gauge),
                    "the residual is larger than the largest deflection: the reference is lost",
                )
                .value(Message::new(
                    "{} of {}",
                    [Said::small(Length::from_si(r)), Said::small(Length::from_si(d_max))],
                )),
            );
        }
    }
    Error::check(issues)?;
    let mut judging = Judging {
        criteria: Vec::new(),
        code: combine(&[], true),
        guarded: combine(&[], true),
        notes: Vec::new(),
        reached: None,
        compared: Vec::new(),
    };
    if let Some(what) = edition.unknown().filter(|_| none) {
        judging.criteria.push(limits_unknown(what, facts.unit));
    }
    for (gauge, at) in dead {
        judging.notes.push(Note::new(
            slug::CRITERIA_GAUGE_DEAD,
            format!("readings.{gauge}"),
            format!("it has no usable sample at {at}: what it would have shown is open"),
        ));
    }
    let stated: Vec<Known> = beside.stated.iter().filter_map(Stated::slot).collect();
    for (index, criterion) in edition.criteria(method).enumerate() {
        if let Some(note) = &criterion.note {
            let path = format!("edition.criteria.{}", criterion.id);
            judging.notes.push(Note::new(slug::EDITIONS_REMARK, path, note.clone()));
        }
        let judged = match &criterion.asks {
            Asks::Person(question) => {
                Some(asked(criterion, index, question, beside.answers, facts.unit))
            }
            Asks::Limit(limit) => {
                let judge = |gauge| Judge {
                    criterion,
                    limit,
                    index,
                    facts,
                    gauge,
                    largest,
                    predicted,
                    given: stated.clone(),
                    calculated: calculated(beside.calculated, &stated, gauge),
                    case: None,
                };
                let cycles = beside.cycles.filter(|_| speaks_of_cycles(criterion));
                let measured = cycles.is_some()
                    || limit.slots().iter().any(|s| READ.contains(s) || *s == CALCULATED);
                let gauges = deflections.iter().take(if measured { usize::MAX } else { 1 });
                let mut rows: Vec<Judged> = Vec::new();
                for gauge in gauges {
                    let own = judge(gauge);
                    let (d_max, d_r) = sized(gauge);
                    judging.compared.push(Compared {
                        id: criterion.id.clone(),
                        gauge: gauge.gauge.clone(),
                        values: own.values(d_max, d_r),
                    });
                    let read = cycles.map(|c| c.gauges.iter().find(|g| g.gauge == gauge.gauge));
                    rows.extend(match read {
                        None => Some(own.run(&mut judging.notes)),
                        Some(read) => {
                            let all = read.map(|r| cases(limit, r, beside.permanency));
                            let all = all.unwrap_or_default();
                            judging.notes.extend(stated_index(criterion, &stated, &all));
                            of_cases(&own, all, &mut judging.notes)
                        }
                    });
                }
                let missing: Vec<Judged> = deflections
                    .first()
                    .filter(|_| measured)
                    .map(|any| dead.iter().map(|d| judge(any).dead(&d.0, d.1)).collect())
                    .unwrap_or_default();
                rows.extend(missing);
                let names: Vec<&str> = dead.iter().map(|d| d.0.as_str()).collect();
                let size = |name: &str| {
                    let of = deflections.iter().find(|d| d.gauge == name);
                    of.map_or(0.0, |d| d.d_max.abs() / largest)
                };
                worst(rows, &names, &size)
            }
        };
        judging.criteria.extend(judged);
    }
    Ok(judging)
}

/// Whether a criterion looks at anything that is read after the peak.
pub(crate) fn looks_late(criterion: &EditionCriterion) -> bool {
    let of_residual = match &criterion.asks {
        Asks::Limit(limit) => limit.slots().iter().any(|s| *s == D_R || *s == REC),
        Asks::Person(_) => false,
    };
    of_residual || speaks_of_cycles(criterion)
}

/// Largest and residual deflection of a gauge as sizes: where the member rises, both change their
/// sign.
fn sized(d: &Deflection) -> (f64, Option<f64>) {
    let sign = if d.d_max < Length::ZERO { -1.0 } else { 1.0 };
    (d.d_max.si() * sign, d.d_r.map(|r| r.si() * sign))
}

/// The guard of a difference of two readings.
fn guard(d: &Deflection) -> Option<f64> {
    d.u_reading.map(|u| COVERAGE * u.si() * core::f64::consts::SQRT_2)
}

/// Whether a gauge shows next to nothing: less than the guard of a difference of two readings or,
/// where no uncertainty is stated, than a twentieth of the largest (library rule).
fn little(d: &Deflection, largest: Length) -> bool {
    d.d_max.si().abs() < guard(d).unwrap_or(largest.si() * LITTLE)
}

/// Whether a gauge shows nothing of the member, however fine it is.
fn nothing(d: &Deflection, largest: Length) -> bool {
    d.d_max.abs() < largest * NOTHING
}

impl Judging {
    /// Every criterion that compares numbers, redone with a pencil on the gauge that governs it.
    pub(crate) fn work(&self, working: &mut Working, deflections: &[Deflection]) {
        pencil::work(working, &self.criteria, &self.compared, deflections);
    }

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
            reason: reason.into(),
            gauges: Vec::new(),
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
                own.reason = "span or depth are ranges, and the limit hangs on them".into();
            }
        }
        self.combine();
    }

    /// The values on which a criterion compares the gauge that shows most.
    pub(super) fn values_of(
        criterion: &EditionCriterion,
        facts: Facts,
        gauge: &Deflection,
        stated: &[Stated],
    ) -> Vec<Option<f64>> {
        let Asks::Limit(limit) = &criterion.asks else { return Vec::new() };
        let (d_max, d_r) = sized(gauge);
        let (largest, predicted) = (gauge.d_max.abs(), Predicted::default());
        let given = stated.iter().filter_map(Stated::slot).collect();
        Judge {
            criterion,
            limit,
            given,
            calculated: None,
            case: None,
            index: 0,
            facts,
            gauge,
            largest,
            predicted,
        }
        .values(d_max, d_r)
        .to_vec()
    }

    /// What the edition says of these outcomes: a retest, what its deflections count.
    pub(super) fn after(&mut self, edition: &Edition, method: &str) {
        self.retest(edition, method);
        if edition.imposed_only() {
            self.notes.push(Note::new(slug::CRITERIA_IMPOSED_ONLY, "edition.id", format!("{} counts deflections under the imposed test load only: bring on missing dead load before the zero reading", edition.name())));
        }
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
            reason: format!("{reason}; {} ({})", o.by, o.date).into(),
            gauges: Vec::new(),
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

/// The row of an edition whose limits of acceptance are not known: its stop rules alone pass nothing.
fn limits_unknown(to_enter: &str, unit: MemberUnit) -> Judged {
    let verdict = Verdict::bare(
        State::Inconclusive,
        slug::EDITIONS_VALUES_UNKNOWN,
        Quantity::new(Kind::Ratio, f64::NAN),
        Basis::measured(unit),
        Clause::Named("library rule"),
    );
    Judged {
        id: "limits".to_owned(),
        about: "whether the edition accepts what was measured".to_owned(),
        formula: "limits of acceptance".to_owned(),
        clause: "library rule".to_owned(),
        gauge: None,
        outcome: Outcome { code: verdict, guarded: verdict },
        reason: format!("not known here; enter {to_enter}").into(),
        gauges: Vec::new(),
        any_of: None,
    }
}

/// A criterion that asks a person: yes is met, no is not, nobody looked is open.
fn asked(
    criterion: &EditionCriterion,
    index: usize,
    question: &str,
    answers: &[Answer],
    unit: MemberUnit,
) -> Judged {
    let answer = answers.iter().find(|a| a.criterion == criterion.id);
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
        reason: reason.into(),
        gauges: Vec::new(),
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

/// Stiff and soft calculation of what a gauge shows, in the way it moves; nothing where a person
/// states what was calculated.
fn calculated(
    at: Option<Calculated<'_>>,
    stated: &[Known],
    gauge: &Deflection,
) -> Option<(f64, f64)> {
    if stated.iter().any(|k| k.0 == CALCULATED) {
        return None;
    }
    let (soft, stiff) = at?(gauge.at);
    let sign = if gauge.d_max < Length::ZERO { -1.0 } else { 1.0 };
    Some((stiff.si() * sign, soft.si() * sign))
}

/// The row of one gauge from those of its cycles or pairs, of which the worst decides.
fn of_cases(own: &Judge<'_>, all: Vec<Case>, notes: &mut Vec<Note>) -> Option<Judged> {
    let rows: Vec<Judged> = all
        .into_iter()
        .map(|case| {
            let mut given = own.given.clone();
            given.retain(|k| case.values.iter().all(|v| v.0 != k.0));
            given.extend(&case.values);
            let label = case.label.clone();
            let row = Judge { given, case: Some(case), ..own.clone() }.run(notes);
            Judged { gauge: Some(label), ..row }
        })
        .collect();
    // every cycle counts: one that cannot discriminate is not hidden by one that can
    let labels: Vec<String> = rows.iter().filter_map(|r| r.gauge.clone()).collect();
    let labels: Vec<&str> = labels.iter().map(String::as_str).collect();
    let mut row = worst(rows, &labels, &|_| 1.0)?;
    let label = row.gauge.replace(own.gauge.gauge.clone()).unwrap_or_default();
    row.reason = Message::from(format!("{label}: ")).and(row.reason);
    Some(row)
}

#[derive(Clone)]
struct Judge<'a> {
    criterion: &'a EditionCriterion,
    limit: &'a Formula,
    /// What people stated and what the load cycles show.
    given: Vec<Known>,
    /// Stiff and soft calculation.
    calculated: Option<(f64, f64)>,
    /// The cycle or pair that is judged.
    case: Option<Case>,
    index: usize,
    facts: Facts,
    gauge: &'a Deflection,
    largest: Length,
    predicted: Predicted,
}

/// Slots of the vocabulary of criteria: the largest deflection, and those that speak of the residual.
const D_MAX: usize = 0;
const D_R: usize = 1;
const REC: usize = 6;
/// Slots that a deflection of the log fills, and that of the calculated deflection.
const READ: [usize; 3] = [D_MAX, D_R, REC];
const CALCULATED: usize = 18;

impl Judge<'_> {
    fn values(&self, d_max: f64, d_r: Option<f64>) -> [Option<f64>; CRITERION_SLOTS] {
        let f = &self.facts;
        let rec = d_r.filter(|_| d_max > 0.0).map(|r| 1.0 - r / d_max);
        let depth = Some(f.h.si());
        let own = [Some(d_max), d_r, Some(f.lt.si()), Some(f.l.si()), depth, depth, rec];
        let mut values = [None; CRITERION_SLOTS];
        values.iter_mut().zip(own).for_each(|(place, value)| *place = value);
        // the edition's calculation is the stiff one
        if let Some(place) = values.get_mut(CALCULATED) {
            *place = self.calculated.map(|c| c.0);
        }
        for (slot, value, _) in &self.given {
            if let Some(place) = values.get_mut(*slot) {
                *place = Some(*value);
            }
        }
        values
    }

    /// Whether the limit speaks of what was calculated, and the same calculated softly.
    fn softly(&self) -> Option<Self> {
        let (_, soft) = self.calculated.filter(|_| self.limit.slots().contains(&CALCULATED))?;
        Some(Self { calculated: Some((soft, soft)), ..self.clone() })
    }

    fn margin(formula: &Formula, values: &[Option<f64>]) -> Option<f64> {
        margin(formula, values)
    }

    /// Standard uncertainty of the margin; the zero reading is shared, the drift too. Values that
    /// the record states add theirs; nothing where one that counts does not say it.
    fn u_margin(&self, scale: f64, d_r: Option<f64>) -> Option<f64> {
        let slots = self.limit.slots();
        let d_max = sized(self.gauge).0;
        let measured = slots.iter().any(|s| READ.contains(s));
        let from_readings = if measured {
            let errors = self.gauge.errors()?;
            combined(&vec![0.0; errors.len()], &errors, |e| {
                let (max, rest) = self.gauge.moved(e)?;
                let residual = d_r.map(|r| r + rest);
                Self::margin(self.limit, &self.values((d_max + max) * scale, residual))
            })?
        } else {
            0.0
        };
        let mut square = from_readings * from_readings;
        for (slot, value, u) in &self.given {
            if !slots.contains(slot) {
                continue;
            }
            let u = (*u)?;
            let at = |v: f64| {
                let mut values = self.values(d_max * scale, d_r);
                if let Some(place) = values.get_mut(*slot) {
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

    /// The row of a gauge that read nothing.
    fn dead(&self, gauge: &str, at: &str) -> Judged {
        let reason = Message::from(format!("no usable sample at {at}"));
        let nothing = self.verdict(State::Inconclusive, None, None, None);
        Judged { gauge: Some(gauge.to_owned()), ..self.row(nothing, nothing, reason) }
    }

    /// A verdict on this deflection and residual; with none there is nothing to show.
    fn verdict(
        &self,
        state: State,
        d_max: Option<f64>,
        d_r: Option<f64>,
        u: Option<f64>,
    ) -> Verdict {
        let slots = self.limit.slots();
        let ratio = |s: &usize| CRITERION_NAMES.get(*s).is_some_and(|n| n.1 == Kind::Ratio);
        let kind = if slots.iter().any(ratio) { Kind::Ratio } else { Kind::Length };
        let sides = d_max.and_then(|d| self.limit.sides(&self.values(d, d_r)));
        let limit = sides.map_or(Limit::None, |s| {
            if s.at_most { Limit::AtMost(s.limit) } else { Limit::AtLeast(s.limit) }
        });
        let base = Verdict::design(
            slug::CRITERIA_NOT_MET,
            Quantity::new(kind, sides.map_or(f64::NAN, |s| s.demand)),
            limit,
            Basis::measured(self.facts.unit),
            Clause::Edition(u16::try_from(self.index).unwrap_or(u16::MAX)),
        );
        Verdict { state, uncertainty: u.map(|u| COVERAGE * u), ..base }
    }

    fn row(&self, code: Verdict, guarded: Verdict, reason: Message) -> Judged {
        let c = self.criterion;
        Judged {
            id: c.id.clone(),
            about: c.about.clone(),
            formula: c.waive_if.as_ref().map_or_else(
                || self.limit.text().to_owned(),
                |w| format!("{}; waived if {}", self.limit.text(), w.text()),
            ),
            clause: c.clause.clone(),
            gauge: Some(self.gauge.gauge.clone()),
            outcome: Outcome { code, guarded },
            reason,
            gauges: Vec::new(),
            any_of: c.any_of,
        }
    }

    fn run(&self, notes: &mut Vec<Note>) -> Judged {
        let c = self.criterion;
        let slots = self.limit.slots();
        let of_residual = slots.contains(&D_R) || slots.contains(&REC);
        let calculates = slots.contains(&CALCULATED);
        let (d_max, d_r) = sized(self.gauge);
        let values = self.values(d_max, d_r);
        // value, limit and U of one row stand on one scale of the measured deflection
        let verdict = |state: State, scale: f64, u: Option<f64>| {
            self.verdict(state, Some(d_max * scale), d_r, u)
        };
        let judged = |code: State, guarded: State, u: Option<f64>, reason: String| {
            self.row(verdict(code, 1.0, u), verdict(guarded, 1.0, u), reason.into())
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
        if let Some(open) = self.case.as_ref().and_then(|c| c.open.clone()) {
            return judged(State::Inconclusive, State::Inconclusive, None, open);
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
        let path = || format!("readings.{}", self.gauge.gauge);
        if of_residual && let Some(r) = d_r.filter(|r| *r < -guard(self.gauge).unwrap_or(0.0)) {
            let below = if self.gauge.u_reading.is_some() {
                "the residual is {}, below zero by more than its uncertainty: drift or a wrong sign"
            } else {
                "the residual is {}, below zero, and its uncertainty is not stated: drift or a wrong sign"
            };
            let said = Message::new(below, [Said::small(Length::from_si(r))]);
            notes.push(Note::new(slug::CRITERIA_RESIDUAL_NEGATIVE, path(), said));
        }
        // the edition's own waiver looks at what was measured, the guarded one at what was
        // predicted besides
        let waived = self.waived();
        let literally = self.waives(self.largest.si()) == Some(true);
        let softly = self.softly();
        let below_soft =
            softly.as_ref().is_some_and(|s| s.limit.holds(&s.values(d_max, d_r)) == Some(true));
        let code = match self.limit.holds(&values) {
            _ if literally => State::Waived,
            Some(true) => State::Pass,
            // between the stiff and the soft calculation nobody knows which is meant
            Some(false) if below_soft => State::Inconclusive,
            Some(false) => State::Fail,
            None => State::Inconclusive,
        };
        if of_residual && d_r.is_none() && waived.is_none() {
            notes.push(Note::new(
                slug::CRITERIA_RESIDUAL_MISSING,
                "columns.moments.residual",
                format!("criterion {} needs the residual reading, which is missing", c.id),
            ));
            let reason = "the residual was not read".to_owned();
            return judged(code, State::Inconclusive, None, reason);
        }
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
        if of_residual && nothing(self.gauge, self.largest) {
            let reason = "it moved less than a hundredth of the largest deflection and shows nothing of the member".to_owned();
            return judged(code, State::NotMeaningful, self.u_margin(1.0, d_r), reason);
        }
        let Some(u) = self.u_margin(1.0, d_r) else {
            notes.push(Note::new(
                slug::UNCERTAINTY_MISSING,
                path(),
                "no uncertainty is stated: the guarded outcome is inconclusive",
            ));
            if of_residual && little(self.gauge, self.largest) {
                let reason = "next to nothing beside the largest deflection".to_owned();
                return judged(code, State::NotMeaningful, None, reason);
            }
            return judged(
                code,
                State::Inconclusive,
                None,
                "the uncertainty of the readings is not stated".to_owned(),
            );
        };
        if of_residual {
            if d_r.is_some_and(|r| r < -BELOW * d_max.abs()) {
                let reason = "the residual is below zero by more than a fiftieth of the largest deflection: drift or a wrong sign".to_owned();
                return judged(code, State::Inconclusive, Some(u), reason);
            }
            // even a perfectly elastic member must be able to pass guarded
            let elastic = Self::margin(self.limit, &self.values(d_max, Some(0.0)));
            let guard = self.u_margin(1.0, Some(0.0)).map(|u| COVERAGE * u);
            if elastic.zip(guard).is_none_or(|(m, g)| m < g) {
                notes.push(Note::new(slug::CRITERIA_NOT_MEANINGFUL, path(), "the largest deflection is too small against its uncertainty: even a perfectly elastic member could not pass"));
                return judged(
                    code,
                    State::NotMeaningful,
                    Some(u),
                    "too small against its uncertainty to discriminate".to_owned(),
                );
            }
        }
        if self.case.as_ref().is_some_and(|c| c.blunt) {
            let reason = "what it divides by is within its uncertainty: it cannot be resolved";
            notes.push(Note::new(slug::CRITERIA_NOT_MEANINGFUL, path(), reason));
            return judged(code, State::NotMeaningful, Some(u), reason.to_owned());
        }
        if self.case.as_ref().is_some_and(|c| c.below) {
            let reason = "less than nothing is left, by more than a fiftieth of the largest deflection: drift or a lost reference";
            notes.push(Note::new(slug::CRITERIA_RESIDUAL_NEGATIVE, path(), reason));
            return judged(code, State::Inconclusive, Some(u), reason.to_owned());
        }
        // what was calculated is that of the same layout: neither side is scaled
        let scaled = slots.contains(&D_MAX) && !of_residual && softly.is_none();
        let scale = if scaled { self.layout_scale(notes) } else { 1.0 };
        let margin = Self::margin(self.limit, &self.values(d_max * scale, d_r));
        let u_scaled = self.u_margin(scale, d_r);
        let guard = u_scaled.map(|u| COVERAGE * u);
        let mut decided = margin.zip(guard).and_then(|(m, g)| decide(m, g));
        if let Some(soft) = softly.filter(|_| decided != Some(true)) {
            let margin = Self::margin(self.limit, &soft.values(d_max, d_r));
            let against_soft = margin.zip(guard).and_then(|(m, g)| decide(m, g));
            decided = against_soft.filter(|met| !met);
        }
        let (guarded, reason) = match decided {
            Some(true) => (State::Pass, "inside the limit by more than the guard"),
            Some(false) => (State::Fail, "outside the limit by more than the guard"),
            None => (State::Inconclusive, "the limit lies inside the guard band"),
        };
        let scaled = if let Some((stiff, soft)) = self.calculated.filter(|_| calculates) {
            format!(
                "{reason}; the limit is the stiff calculation, {:.4} mm, the soft one is {:.4} mm, neither is scaled",
                stiff * 1e3,
                soft * 1e3
            )
        } else if scale > 1.0 {
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
        self.largest.si().max(self.predicted.jacks.map_or(0.0, Length::si))
    }

    /// Whether the edition waives the criterion for this largest deflection.
    fn waives(&self, largest: f64) -> Option<bool> {
        self.criterion.waive_if.as_ref()?.holds(&self.values(largest, None))
    }

    /// Whether the waiver holds, and whether it holds only because of the layout.
    fn waived(&self) -> Option<(bool, bool)> {
        let holds = self.waives(self.largest())?;
        let reference =
            self.predicted.reference.map_or(self.largest(), |r| r.si().max(self.largest()));
        let holds_for_reference = self.waives(reference).unwrap_or(false);
        holds.then_some((true, !holds_for_reference))
    }

    fn waived_with_guard(&self) -> bool {
        let Some(guard) = guard(self.gauge) else { return false };
        self.waives(self.largest() + guard) == Some(true)
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
        let path = format!("criteria.{}", self.criterion.id);
        if notes.iter().any(|n| n.slug == slug::CRITERIA_SCALED && n.path == path) {
            return scale;
        }
        notes.push(Note::new(
            slug::CRITERIA_SCALED,
            path,
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
        let u = deflection.errors().and_then(|errors| {
            combined(&vec![0.0; errors.len()], &errors, |e| {
                let (max, rest) = deflection.moved(e)?;
                Some((d_r + rest) / (d_max + max))
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
            ("conformity", self.conformity().write()),
            ("reason", self.reason.write()),
            ("gauges", self.gauges.write()),
        ])
    }
}
