//! The criteria of the edition on the readings.

use super::cyclic::{Known, cases, speaks_of_cycles, stated_index};
use super::facts::{Facts, Predicted};
use super::gauge::{
    CALCULATED, Calculated, D_R, Judge, READ, REC, calculated, little, nothing, of_cases, sized,
};
use super::judging::{Judging, asked, limits_unknown};
use super::pencil::Compared;
use super::record::{Answer, Permanency, RunRecord, Stated};
use super::worst::{Judged, worst};
use crate::editions::{Asks, Criterion as EditionCriterion, Edition, Rule};
use crate::error::{Error, Issue, slug};
use crate::readings::{Cycles, Deflection, Larger};
use crate::source::validate_named;
use crate::units::{Length, Message, Said};
use crate::verdict::{Note, combine};

/// Whether the target load was reached as the record states it, at the low end of what it states. Nothing
/// where it does not.
#[must_use]
pub fn reached(record: &RunRecord) -> Option<bool> {
    record.reached_ends().map(|r| r.0.value() >= 1.0 - crate::verdict::DESIGN_SLACK)
}

/// Whether the full load was held as long as the edition asks, at the low end of what the record states.
/// Nothing where it does not say how long it was held.
#[must_use]
pub fn held(record: &RunRecord, rule: &Rule) -> Option<bool> {
    let Some(asked) = rule.full_hold else { return Some(true) };
    record.held_at_least().map(|h| h >= asked * (1.0 - crate::verdict::DESIGN_SLACK))
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
    /// Gauges that showed more at another time of the load stage than in the peak window.
    pub(crate) larger: &'a [Larger],
}

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
    Error::check(record.unused_ranges())?;
    let beside = Beside {
        stated: &record.stated,
        answers: &record.answers,
        permanency: record.permanency,
        dead: seen.dead,
        cycles: seen.cycles,
        calculated: seen.calculated,
        larger: seen.larger,
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
    pub(super) larger: &'a [Larger],
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
        undecided: Vec::new(),
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
            format!("`{gauge}` has no usable sample at {at}: what it would have shown is open"),
        ));
    }
    for l in beside.larger {
        let values =
            [(&l.gauge).into(), Said::small(l.deflection), l.at.into(), Said::small(l.more)];
        let message = "`{}` showed {} at {}, {} more than in the peak window: of each criterion the less favourable of both counts";
        let path = format!("readings.{}", l.gauge);
        judging.notes.push(Note::new(slug::CRITERIA_LARGEST, path, Message::new(message, values)));
    }
    // the same gauges with the largest that they showed at any time of the load stage
    let most: Vec<Option<(Deflection, &Larger)>> = deflections
        .iter()
        .map(|d| {
            let more = beside.larger.iter().find(|l| l.gauge == d.gauge)?;
            Some((Deflection { d_max: more.deflection, ..d.clone() }, more))
        })
        .collect();
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
                let gauges = deflections.iter().zip(&most);
                let gauges = gauges.take(if measured { usize::MAX } else { 1 });
                let mut rows: Vec<Judged> = Vec::new();
                for (gauge, most) in gauges {
                    let own = judge(gauge);
                    let compared = |own: &Judge<'_>, gauge: &Deflection| {
                        let (d_max, d_r) = sized(gauge);
                        Compared {
                            id: criterion.id.clone(),
                            gauge: gauge.gauge.clone(),
                            values: own.values(d_max, d_r),
                        }
                    };
                    if let Some((most, larger)) = most.as_ref().filter(|_| cycles.is_none()) {
                        let mut notes = Vec::new();
                        let with_most = judge(most);
                        let (row, other) = (own.run(&mut notes), with_most.run(&mut Vec::new()));
                        let takes = row.favours(&other);
                        judging.compared.push(if takes {
                            compared(&with_most, most)
                        } else {
                            compared(&own, gauge)
                        });
                        rows.push(if takes { other.at_its_largest(larger) } else { row });
                        judging.notes.append(&mut notes);
                        continue;
                    }
                    judging.compared.push(compared(&own, gauge));
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
