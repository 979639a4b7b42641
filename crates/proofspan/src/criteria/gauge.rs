//! One gauge under one criterion: the edition's own comparison, and the guarded one.

use super::cyclic::{Case, Known};
use super::facts::{Facts, Predicted};
use super::pencil;
use super::worst::{BELOW, Judged, LITTLE, NOTHING, worst};
use crate::editions::{
    CRITERION_FACTS, CRITERION_NAMES, CRITERION_SLOTS, Criterion as EditionCriterion,
};
use crate::error::slug;
use crate::formula::Formula;
use crate::readings::Deflection;
use crate::uncertainty::{COVERAGE, combined, decide};
use crate::units::{Kind, Length, Message, Quantity, Said};
use crate::verdict::{Basis, Clause, Limit, Note, Outcome, State, Verdict};

/// Why a comparison with a guard is met.
pub(crate) const INSIDE: &str = "inside the limit by more than the guard";
/// Why a comparison with a guard is not met.
pub(crate) const OUTSIDE: &str = "outside the limit by more than the guard";

/// The soft and the stiff prediction at a place.
pub(crate) type Calculated<'a> = &'a dyn Fn(Length) -> (Length, Length);

/// Largest and residual deflection of a gauge as sizes: where the member rises, both change their
/// sign.
pub(super) fn sized(d: &Deflection) -> (f64, Option<f64>) {
    let sign = if d.d_max < Length::ZERO { -1.0 } else { 1.0 };
    (d.d_max.si() * sign, d.d_r.map(|r| r.si() * sign))
}

/// The guard of a difference of two readings.
fn guard(d: &Deflection) -> Option<f64> {
    d.u_reading.map(|u| COVERAGE * u.si() * core::f64::consts::SQRT_2)
}

/// Whether a gauge shows next to nothing: less than the guard of a difference of two readings or,
/// where no uncertainty is stated, than a twentieth of the largest (library rule).
pub(super) fn little(d: &Deflection, largest: Length) -> bool {
    d.d_max.si().abs() < guard(d).unwrap_or(largest.si() * LITTLE)
}

/// Whether a gauge shows nothing of the member, however fine it is.
pub(super) fn nothing(d: &Deflection, largest: Length) -> bool {
    d.d_max.abs() < largest * NOTHING
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
pub(super) fn calculated(
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
pub(super) fn of_cases(own: &Judge<'_>, all: Vec<Case>, notes: &mut Vec<Note>) -> Option<Judged> {
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
pub(super) struct Judge<'a> {
    pub(super) criterion: &'a EditionCriterion,
    pub(super) limit: &'a Formula,
    /// What people stated and what the load cycles show.
    pub(super) given: Vec<Known>,
    /// Stiff and soft calculation.
    pub(super) calculated: Option<(f64, f64)>,
    /// The cycle or pair that is judged.
    pub(super) case: Option<Case>,
    pub(super) index: usize,
    pub(super) facts: Facts,
    pub(super) gauge: &'a Deflection,
    pub(super) largest: Length,
    pub(super) predicted: Predicted,
}

/// Slots of the vocabulary of criteria: the largest deflection, and those that speak of the residual.
const D_MAX: usize = 0;
pub(super) const D_R: usize = 1;
pub(super) const REC: usize = 6;
/// Slots that a deflection of the log fills, and that of the calculated deflection.
pub(super) const READ: [usize; 3] = [D_MAX, D_R, REC];
pub(super) const CALCULATED: usize = 18;

impl Judge<'_> {
    pub(super) fn values(&self, d_max: f64, d_r: Option<f64>) -> [Option<f64>; CRITERION_SLOTS] {
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
                pencil::margin(self.limit, &self.values((d_max + max) * scale, residual))
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
                pencil::margin(self.limit, &values)
            };
            if u > 0.0 {
                square += ((at(value + u)? - at(value - u)?) / 2.0).powi(2);
            }
        }
        (square > 0.0).then(|| square.sqrt())
    }

    /// The row of a gauge that read nothing.
    pub(super) fn dead(&self, gauge: &str, at: &str) -> Judged {
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

    pub(super) fn run(&self, notes: &mut Vec<Note>) -> Judged {
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
            if self.limit.sides(&values).is_some() {
                let message = "no uncertainty is stated: the guarded outcome is inconclusive";
                notes.push(Note::new(slug::UNCERTAINTY_MISSING, path(), message));
            }
            if of_residual && little(self.gauge, self.largest) {
                let reason = "next to nothing beside the largest deflection".to_owned();
                return judged(code, State::NotMeaningful, None, reason);
            }
            let reason = match self.limit.sides(&values) {
                Some(_) => "the uncertainty of the readings is not stated",
                None => {
                    "the edition compares several things at once: how far inside it is has no number"
                }
            };
            return judged(code, State::Inconclusive, None, reason.to_owned());
        };
        if of_residual {
            if d_r.is_some_and(|r| r < -BELOW * d_max.abs()) {
                let reason = "the residual is below zero by more than a fiftieth of the largest deflection: drift or a wrong sign".to_owned();
                return judged(code, State::Inconclusive, Some(u), reason);
            }
            // even a perfectly elastic member must be able to pass guarded
            let elastic = pencil::margin(self.limit, &self.values(d_max, Some(0.0)));
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
        let of_case = |reason: &str| {
            let label = self.case.as_ref().map_or("", |c| &c.label);
            format!("{}, {label}: {reason}", self.criterion.id)
        };
        if self.case.as_ref().is_some_and(|c| c.blunt) {
            let reason = "what it divides by is within its uncertainty: it cannot be resolved";
            notes.push(Note::new(slug::CRITERIA_NOT_MEANINGFUL, path(), of_case(reason)));
            return judged(code, State::NotMeaningful, Some(u), reason.to_owned());
        }
        if self.case.as_ref().is_some_and(|c| c.below) {
            let reason = "less than nothing is left, by more than a fiftieth of the largest deflection: drift or a lost reference";
            notes.push(Note::new(slug::CRITERIA_RESIDUAL_NEGATIVE, path(), of_case(reason)));
            return judged(code, State::Inconclusive, Some(u), reason.to_owned());
        }
        // what was calculated is that of the same layout: neither side is scaled
        let scaled = slots.contains(&D_MAX) && !of_residual && softly.is_none();
        let scale = if scaled { self.layout_scale(notes) } else { 1.0 };
        let margin = pencil::margin(self.limit, &self.values(d_max * scale, d_r));
        let u_scaled = self.u_margin(scale, d_r);
        let guard = u_scaled.map(|u| COVERAGE * u);
        let mut decided = margin.zip(guard).and_then(|(m, g)| decide(m, g));
        if let Some(soft) = softly.filter(|_| decided != Some(true)) {
            let margin = pencil::margin(self.limit, &soft.values(d_max, d_r));
            let against_soft = margin.zip(guard).and_then(|(m, g)| decide(m, g));
            decided = against_soft.filter(|met| !met);
        }
        let (guarded, reason) = match decided {
            Some(true) => (State::Pass, INSIDE),
            Some(false) => (State::Fail, OUTSIDE),
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
