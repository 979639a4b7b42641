//! The acceptance criteria of an edition, compiled once.

use crate::error::{Issue, slug};
use crate::formula::{Formula, Vocabulary};
use crate::units::{Duration, Kind};

use super::file::{Confidence, CriterionFile, RetestFile};

/// The names a criterion may use, in the order of its values: largest and residual
/// deflection, span by the rule of the clause, effective span, overall depth under its two
/// usual symbols, recovery ratio; the same of a retest; then what a record states: indices of a
/// cyclic test (deviation from linearity, permanency ratio, permanency, repeatability), recovery
/// of two applications, deflection at design load and the code's limit for it, deflection that
/// was calculated, deflections at the beginning and at the end of the hold.
pub const CRITERION_NAMES: &[(&str, Kind)] = &[
    ("d_max", Kind::Length),
    ("d_r", Kind::Length),
    ("lt", Kind::Length),
    ("l", Kind::Length),
    ("h", Kind::Length),
    ("D", Kind::Length),
    ("rec", Kind::Ratio),
    ("d_max2", Kind::Length),
    ("d_r2", Kind::Length),
    ("rec2", Kind::Ratio),
    ("IDL", Kind::Ratio),
    ("Ipr", Kind::Ratio),
    ("Ip", Kind::Ratio),
    ("IR", Kind::Ratio),
    ("rec_cycle1", Kind::Ratio),
    ("rec_cycle2", Kind::Ratio),
    ("d_at_design_load", Kind::Length),
    ("code_limit", Kind::Length),
    ("d_calculated", Kind::Length),
    ("d_start_hold", Kind::Length),
    ("d_end_hold", Kind::Length),
];

/// The facts a criterion may use, after the names.
pub const CRITERION_FACTS: &[&str] =
    &["prestressed", "prestressed_class_1_or_2", "deflection_significant"];

/// How many values a criterion is evaluated on.
pub const CRITERION_SLOTS: usize = CRITERION_NAMES.len() + CRITERION_FACTS.len();

/// What a criterion asks: a comparison, or a person.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub enum Asks {
    /// A comparison of what was measured.
    Limit(Formula),
    /// A question that a person answers and signs.
    Person(String),
}

/// A criterion of the edition.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct Criterion {
    /// Its name inside the edition.
    pub id: String,
    /// What it compares, in words.
    pub about: String,
    /// The test method it belongs to.
    pub method: String,
    /// The comparison, or the question.
    pub asks: Asks,
    /// The edition's own waiver, judged with the largest deflection of the member.
    pub waive_if: Option<Formula>,
    /// When it applies at all.
    pub applies_if: Option<Formula>,
    /// What to know about it.
    pub note: Option<String>,
    /// Criteria with the same number suffice one for all.
    pub any_of: Option<u8>,
    /// The clause.
    pub clause: String,
    /// How well its figures are known.
    pub confidence: Confidence,
}

/// What the edition allows after a failed test.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct Retest {
    /// The test method it belongs to.
    pub method: String,
    /// Only these criteria may have failed.
    pub after_failed: Vec<String>,
    /// The condition under which it is allowed.
    pub allowed_if: Option<Formula>,
    /// The comparison of the retest, on its own values.
    pub limit: Formula,
    /// The criteria it replaces.
    pub replaces: Vec<String>,
    /// The shortest time between the tests.
    pub gap: Option<Duration>,
}

fn compiled(text: &str, path: &str, issues: &mut Vec<Issue>) -> Option<Formula> {
    let vocabulary = Vocabulary::of(CRITERION_NAMES).with_facts(CRITERION_FACTS);
    match Formula::condition(text, &vocabulary) {
        Ok(formula) => Some(formula),
        Err(error) => {
            issues.extend(error.issues.into_iter().map(|i| Issue { path: path.to_owned(), ..i }));
            None
        }
    }
}

pub(super) fn criterion(
    file: &CriterionFile,
    path: &str,
    issues: &mut Vec<Issue>,
) -> Option<Criterion> {
    let mut optional = |text: &Option<String>, field: &str| match text {
        Some(text) => compiled(text, &format!("{path}.{field}"), issues).map(Some),
        None => Some(None),
    };
    let waive_if = optional(&file.waive_if, "waive_if");
    let applies_if = optional(&file.applies_if, "applies_if");
    let limit = optional(&file.limit, "limit")?;
    let asks = match (limit, &file.ask) {
        (Some(limit), None) => Asks::Limit(limit),
        (None, Some(question)) => Asks::Person(question.clone()),
        _ => {
            let message = format!("criterion `{}` has a limit or a question, not both", file.id);
            issues.push(Issue::new(slug::EDITIONS_FILE, path, message).limit("`limit` or `ask`"));
            return None;
        }
    };
    Some(Criterion {
        id: file.id.clone(),
        about: file.about.clone(),
        method: file.method.clone(),
        asks,
        waive_if: waive_if?,
        applies_if: applies_if?,
        note: file.note.clone(),
        any_of: file.any_of.and_then(|g| u8::try_from(g).ok()),
        clause: file.clause.clone(),
        confidence: file.confidence,
    })
}

pub(super) fn retest(file: &RetestFile, issues: &mut Vec<Issue>) -> Option<Retest> {
    let limit = compiled(&file.limit, "retest.limit", issues);
    let allowed_if = match &file.allowed_if {
        Some(text) => compiled(text, "retest.allowed_if", issues).map(Some),
        None => Some(None),
    };
    Some(Retest {
        method: file.method.clone(),
        after_failed: file.after_failed.clone(),
        allowed_if: allowed_if?,
        limit: limit?,
        replaces: file.replaces.clone(),
        gap: file.gap,
    })
}
