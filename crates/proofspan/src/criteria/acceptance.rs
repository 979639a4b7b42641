//! The criteria of an edition on one deflection and its residual: no document, no log.
//!
//! Loading, holding and what people saw are no part of it, so there is no headline: a test is
//! judged by [`judge`](crate::judge) or [`judge_record`](crate::judge_record).

use super::facts::{Facts, Predicted};
use super::judge::{Beside, measured};
use super::judging::Judging;
use super::pencil::{guard, margin, moved};
use super::record::Stated;
use super::worst::Judged;
use crate::beam::clear_within;
use crate::editions::{Asks, CRITERION_NAMES, Criterion, Edition, EditionChoice};
use crate::error::{Error, Issue, slug};
use crate::formula::{Formula, Recorder, Step, Working};
use crate::readings::{Chain, Deflection};
use crate::source::rule::{Movement, Positive, Uncertainty};
use crate::source::{Given, Input, Node, Reader, Write, validate, validate_single};
use crate::units::{Kind, Length, Message};
use crate::verdict::{MemberUnit, Note, State, Verdict};

/// A record of what the limits of an edition speak of, with fields of its own: the lengths of the member,
/// the test method and the member unit, how they are set and how they are read.
macro_rules! under_limits {
    (
        $(#[doc = $about:expr])*
        pub struct $name:ident { $($own:tt)* }
    ) => {
        $crate::record! {
            $(#[doc = $about])*
            pub struct $name {
                $($own)*
                /// Effective span, centre to centre; of a cantilever, its length.
                span: $crate::source::Given<$crate::units::Length, $crate::beam::Span>,
                /// Clear span, where the edition limits the span by it.
                clear_span: Option<$crate::source::Given<$crate::units::Length, $crate::source::rule::Positive>>,
                /// Overall depth, where a limit speaks of it.
                depth: Option<$crate::source::Given<$crate::units::Length, $crate::source::rule::Positive>>,
                /// Whether the member is a cantilever.
                cantilever: bool = false,
                /// The test method, by its name in the edition.
                method: String = "monotonic".to_owned(),
                /// What one value is counted for.
                unit: $crate::verdict::MemberUnit = $crate::verdict::MemberUnit::Beam,
            }
            rules { clear_inside[span, clear_span]; }
        }

        impl $name {
            /// With the overall depth.
            #[must_use]
            pub fn depth(self, depth: $crate::units::Length) -> Self {
                Self { depth: Some($crate::source::Given::known(depth)), ..self }
            }

            /// With the clear span.
            #[must_use]
            pub fn clear_span(self, clear: $crate::units::Length) -> Self {
                Self { clear_span: Some($crate::source::Given::known(clear)), ..self }
            }

            /// What the limits of the edition speak of.
            ///
            /// # Errors
            /// A depth that a limit speaks of and that is not given; a method without criteria.
            pub fn limits(
                &self,
                edition: &$crate::editions::Edition,
            ) -> Result<$crate::criteria::Facts, $crate::error::Error> {
                let asked = $crate::criteria::Asked {
                    method: &self.method,
                    span: self.span.value,
                    clear_span: self.clear_span.as_ref().map(|c| c.value),
                    depth: self.depth.as_ref().map(|d| d.value),
                    cantilever: self.cantilever,
                    unit: self.unit,
                };
                asked.of(edition)
            }
        }
    };
}
pub(crate) use under_limits;

/// The clear span of a member outside any document keeps the rule of one inside.
pub(crate) fn clear_inside(
    reader: &mut Reader,
    span: &Input<Length>,
    clear: &Option<Given<Length, Positive>>,
) {
    if let Some(clear) = clear {
        clear_within(reader, span, clear);
    }
}

under_limits! {
    /// A deflection under the full test load and its residual, to be held against the criteria of
    /// an edition.
    ///
    /// ```
    /// use proofspan::criteria::Acceptance;
    /// use proofspan::units::*;
    /// use proofspan::verdict::State;
    ///
    /// let found = Acceptance::of("ACI 318-19", 6.0 * MM, 6.0 * M).residual(1.4 * MM).u(0.1 * MM).judge()?;
    /// let row = found.criterion("residual").ok_or("the edition has it")?;
    /// assert_eq!(row.outcome.code.state, State::Pass); // 1.4 mm is less than 6/4 mm
    /// assert_eq!(row.outcome.guarded.state, State::Inconclusive); // but not by U = 0.25 mm
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub struct Acceptance {
        /// The edition, and the text of one's own file where it is none of those shipped.
        edition: EditionChoice,
        /// Largest deflection under the full test load, as a size.
        deflection: Given<Length, Movement>,
        /// Residual deflection after unloading; below zero where the member came back too far.
        residual: Option<Given<Length>>,
        /// Standard uncertainty of one corrected reading; the guarded outcome is open without it.
        u: Option<Given<Length, Uncertainty>>,
        /// What a criterion needs and no reading gives.
        stated: Vec<Stated> = Vec::new(),
    }
}

/// Every criterion on one deflection.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct Accepted {
    /// The name of the edition.
    pub edition: String,
    /// The span the limits speak of.
    pub lt: Length,
    /// Every criterion of the method, each with its `code` and its `guarded` outcome.
    pub criteria: Vec<Judged>,
    /// Whether the edition allows a retest after what failed, and under which conditions; nothing
    /// where nothing failed, or none is allowed.
    pub retest: Option<String>,
    /// What to know.
    pub notes: Vec<Note>,
    asked: Vec<(Criterion, Vec<Option<f64>>)>,
    u: Option<Length>,
}

impl Acceptance {
    /// A largest deflection on a member of this effective span, by the edition's usual name.
    #[must_use]
    pub fn of(edition: &str, deflection: Length, span: Length) -> Self {
        Self {
            edition: EditionChoice::of(edition),
            deflection: Given::known(deflection),
            residual: None,
            span: Given::known(span),
            clear_span: None,
            depth: None,
            cantilever: false,
            u: None,
            method: "monotonic".to_owned(),
            stated: Vec::new(),
            unit: MemberUnit::Beam,
        }
    }

    /// With the residual deflection after unloading.
    #[must_use]
    pub fn residual(self, residual: Length) -> Self {
        Self { residual: Some(Given::known(residual)), ..self }
    }

    /// With the standard uncertainty of one corrected reading.
    #[must_use]
    pub fn u(self, u: Length) -> Self {
        Self { u: Some(Given::known(u)), ..self }
    }

    /// Judges every criterion of the method, by the same rule as the readings of a log.
    ///
    /// # Errors
    /// All at once: an edition that is not known or whose limits are not; a value that its rule
    /// refuses; `source.field-missing` for a depth that a limit speaks of;
    /// `source.choice` for a method that the edition has no criteria for;
    /// `criteria.residual-above-max`.
    pub fn judge(&self) -> Result<Accepted, Error> {
        if self.stated.is_empty() {
            validate_single(self)?;
        } else {
            // the uncertainty of what somebody states counts
            validate(self)?;
            validate_single(&Self { stated: Vec::new(), ..self.clone() })?;
        }
        let edition = self.edition.edition()?;
        let facts = self.limits(&edition)?;
        let (d_max, d_r) = (self.deflection.value, self.residual.as_ref().map(|r| r.value));
        let gauge = Deflection {
            gauge: GAUGE.to_owned(),
            at: Length::ZERO,
            moments: Vec::new(),
            d_max,
            d_r,
            raw: (d_max, d_r),
            u_reading: self.u.as_ref().map(|u| u.value),
            chain: Chain::default(),
        };
        let beside = Beside { stated: &self.stated, ..Beside::default() };
        let judged = measured(
            &edition,
            &self.method,
            facts,
            core::slice::from_ref(&gauge),
            Predicted::default(),
            beside,
        );
        let mut judging = judged.map_err(|mut e| {
            for issue in &mut e.issues {
                let lost = issue.slug == slug::CRITERIA_RESIDUAL_ABOVE_MAX;
                issue.path = if lost { "residual".to_owned() } else { own(&issue.path) };
            }
            e
        })?;
        judging.after(&edition, &self.method);
        Ok(self.answer(&edition, facts, &gauge, judging))
    }

    fn answer(
        &self,
        edition: &Edition,
        facts: Facts,
        gauge: &Deflection,
        judging: Judging,
    ) -> Accepted {
        let values = |c: &Criterion| Judging::values_of(c, facts, gauge, &self.stated);
        let asked = edition.criteria(&self.method).map(|c| (c.clone(), values(c))).collect();
        let of_retest = |n: &&Note| n.slug == slug::CRITERIA_RETEST;
        let retest = judging.notes.iter().find(of_retest).map(|n| n.message.to_string());
        let mut notes = judging.notes;
        notes.retain(|n| n.slug != slug::CRITERIA_RETEST);
        notes.iter_mut().for_each(|n| n.path = own(&n.path).into());
        Accepted {
            edition: edition.name().to_owned(),
            lt: facts.lt,
            criteria: judging.criteria,
            retest,
            notes,
            asked,
            u: gauge.u_reading,
        }
    }
}

/// A member by the lengths that limits speak of, and a method, outside any document.
pub(crate) struct Asked<'a> {
    pub(crate) method: &'a str,
    pub(crate) span: Length,
    pub(crate) clear_span: Option<Length>,
    pub(crate) depth: Option<Length>,
    pub(crate) cantilever: bool,
    pub(crate) unit: MemberUnit,
}

impl Asked<'_> {
    /// What the limits of an edition speak of.
    ///
    /// # Errors
    /// `source.choice` for a method that the edition has no criteria for, and
    /// `source.field-missing` for a depth that a limit or the span speaks of.
    pub(crate) fn of(&self, edition: &Edition) -> Result<Facts, Error> {
        let mut issues = Vec::new();
        let known = edition.unknown().is_none();
        if known && edition.criteria(self.method).next().is_none() {
            let message = format!("{} has no criteria for this method", edition.name());
            issues.push(
                Issue::new(slug::SOURCE_CHOICE, "method", message)
                    .value(self.method)
                    .limit(edition.methods().join(", ")),
            );
        }
        let wants = edition.criteria(self.method).any(speaks_of_depth);
        let by_clear = self.clear_span.is_some() && !self.cantilever;
        if self.depth.is_none() && (wants || by_clear) {
            let message = format!("a limit of {} speaks of the depth", edition.name());
            let message = if wants { message } else { "clear span plus depth is asked".to_owned() };
            issues.push(Issue::new(slug::SOURCE_FIELD_MISSING, "depth", message));
        }
        Error::check(issues)?;
        let (l, h) = (self.span, self.depth.unwrap_or(Length::ZERO));
        let lt = Facts::span(edition.span_rule(), l, self.clear_span, h, self.cantilever);
        Ok(Facts { lt, l, h, unit: self.unit })
    }
}

/// How the one deflection is called among readings.
const GAUGE: &str = "deflection";
/// Where the largest deflection and the residual stand among the values of a criterion.
const D_MAX: usize = 0;
const D_R: usize = 1;

/// A path among readings, as the arguments are called here.
fn own(path: &str) -> String {
    match path {
        "readings.deflection" | "columns.channels" => GAUGE.to_owned(),
        "moments.residual" => "residual".to_owned(),
        other => other.to_owned(),
    }
}

/// Whether a criterion speaks of the overall depth, under either of its symbols.
fn speaks_of_depth(criterion: &Criterion) -> bool {
    const DEPTH: [usize; 2] = [4, 5];
    let limit = match &criterion.asks {
        Asks::Limit(limit) => Some(limit),
        Asks::Person(_) => None,
    };
    [limit, criterion.waive_if.as_ref(), criterion.applies_if.as_ref()]
        .into_iter()
        .flatten()
        .any(|f| f.slots().iter().any(|s| DEPTH.contains(s)))
}

impl Accepted {
    /// One criterion, by its name in the edition.
    #[must_use]
    pub fn criterion(&self, id: &str) -> Option<&Judged> {
        self.criteria.iter().find(|c| c.id == id)
    }

    /// The guarded verdict of every criterion.
    pub fn verdicts(&self) -> impl Iterator<Item = Verdict> + '_ {
        self.criteria.iter().map(|c| c.outcome.guarded)
    }

    /// u and U of the margin of a criterion, from the uncertainty of one reading: zero, largest and
    /// residual reading each have it, and the zero is shared.
    fn guard(
        &self,
        working: &mut Working,
        limit: &Formula,
        values: &[Option<f64>],
        (kind, expanded): (Kind, f64),
    ) {
        let Some(u) = self.u.map(Length::si) else { return };
        let effect = |d_max: f64, d_r: f64| {
            let at = |sign: f64| {
                let own = |slot: usize| values.get(slot).copied().flatten();
                let residual = own(D_R).map(|r| r + sign * d_r);
                margin(limit, &moved(values, own(D_MAX)? + sign * d_max, residual))
            };
            Some((at(1.0)? - at(-1.0)?) / 2.0)
        };
        // the zero is shared by both
        let effects = [effect(-u, -u), effect(u, 0.0), effect(0.0, u)];
        guard(working, (kind, expanded), effects.into_iter().flatten());
    }

    /// Every comparison with its two sides, redone with a pencil, with what it came to.
    #[must_use]
    pub fn working(&self) -> Working {
        let mut working = Working::default();
        for ((criterion, values), judged) in self.asked.iter().zip(&self.criteria) {
            let Asks::Limit(limit) = &criterion.asks else { continue };
            let (code, guarded) = (judged.outcome.code, judged.outcome.guarded);
            working.about(|| {
                Message::new(
                    "{}: {}; code {}, guarded {}",
                    [
                        (&criterion.id).into(),
                        limit.text().into(),
                        code.state.word().into(),
                        guarded.state.word().into(),
                    ],
                )
            });
            for step in limit.compared(values, CRITERION_NAMES) {
                working.edition_step(Step { source: criterion.clause.clone().into(), ..step });
            }
            if let Some(expanded) = code.uncertainty {
                self.guard(&mut working, limit, values, (code.demand.kind, expanded));
            }
            if code.state == State::Waived
                && let Some(waiver) = &criterion.waive_if
            {
                working.about(|| Message::new("waived: {}", [waiver.text().into()]));
                for step in waiver.compared(values, CRITERION_NAMES) {
                    working.edition_step(Step { source: criterion.clause.clone().into(), ..step });
                }
            }
        }
        working
    }
}

impl Write for Accepted {
    fn write(&self) -> Node {
        Node::map(vec![
            ("edition", self.edition.write()),
            ("lt", self.lt.write()),
            ("criteria", self.criteria.write()),
            ("retest", self.retest.write()),
            ("notes", self.notes.write()),
        ])
    }
}
