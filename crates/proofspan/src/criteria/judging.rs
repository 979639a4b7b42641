//! What the criteria come to, with the rows about how the test was run.

use super::facts::{Facts, Predicted};
use super::gauge::{Judge, sized};
use super::pencil::{self, Compared};
use super::record::{Answer, Distress, Reply, RunRecord, Stated};
use super::worst::Judged;
use crate::editions::{Asks, Criterion as EditionCriterion, Edition};
use crate::error::slug;
use crate::formula::Working;
use crate::readings::Deflection;
use crate::units::{Duration, Kind, Message, Quantity};
use crate::verdict::{
    Basis, Clause, Combined, Criterion, MemberUnit, Note, Outcome, State, Verdict, combine,
};

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
    /// What stays undecided and belongs beside the headline.
    pub(crate) undecided: Vec<Message>,
    pub(super) reached: Option<bool>,
    pub(super) compared: Vec<Compared>,
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
                slug::EQUIVALENT_UNEVEN_JACKS,
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
        let reason = worst.map_or(
            "as planned every x of the region reaches the reference under the full load",
            |v| v.slug.gist(),
        );
        self.criteria.push(Judged {
            id: "reproduction".to_owned(),
            about: "whether the layout as planned reproduces what was asked in the region in doubt"
                .to_owned(),
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

    pub(super) fn observe(&mut self, record: &RunRecord, unit: MemberUnit) {
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
        // of criteria of which one suffices one may fail
        if matches!(self.code.state, State::Pass | State::Waived) {
            return;
        }
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
pub(super) fn limits_unknown(to_enter: &str, unit: MemberUnit) -> Judged {
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
pub(super) fn asked(
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
