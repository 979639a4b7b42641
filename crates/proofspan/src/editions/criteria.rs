//! The acceptance criteria of an edition, compiled once.

use crate::error::Issue;
use crate::formula::{Formula, Vocabulary};
use crate::units::{Duration, Kind};

use super::edition::{Confidence, CriterionFile, RetestFile};

/// The names a criterion may use, in the order of its values: largest and residual
/// deflection, span by the rule of the clause, effective span, overall depth under its two
/// usual symbols, recovery ratio; then the same of a retest.
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
];

/// A criterion of the edition.
#[derive(Clone, PartialEq, Debug)]
pub struct Criterion {
    /// Its name inside the edition.
    pub id: String,
    /// What it compares, in words.
    pub about: String,
    /// The test method it belongs to.
    pub method: String,
    /// The comparison.
    pub limit: Formula,
    /// The edition's own waiver, judged with the largest deflection of the member.
    pub waive_if: Option<Formula>,
    /// Criteria with the same number suffice one for all.
    pub any_of: Option<u8>,
    /// The clause.
    pub clause: String,
    /// How well its figures are known.
    pub confidence: Confidence,
}

/// What the edition allows after a failed test.
#[derive(Clone, PartialEq, Debug)]
pub struct Retest {
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
    match Formula::condition(text, &Vocabulary::of(CRITERION_NAMES)) {
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
    let limit = compiled(&file.limit, &format!("{path}.limit"), issues);
    let waive_if = match &file.waive_if {
        Some(text) => compiled(text, &format!("{path}.waive_if"), issues).map(Some),
        None => Some(None),
    };
    Some(Criterion {
        id: file.id.clone(),
        about: file.about.clone(),
        method: file.method.clone(),
        limit: limit?,
        waive_if: waive_if?,
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
        after_failed: file.after_failed.clone(),
        allowed_if: allowed_if?,
        limit: limit?,
        replaces: file.replaces.clone(),
        gap: file.gap,
    })
}
