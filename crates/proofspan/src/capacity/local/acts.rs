//! The actions of a local check, and its answer.

use crate::error::{Issue, Slug, slug};
use crate::formula::Working;
use crate::source::rule::Positive;
use crate::source::{Given, Node, Write};
use crate::units::{Force, Quantity};
use crate::verdict::{Basis, Clause, Limit, MemberUnit, Note, Verdict};

crate::laws! {
    /// Design strength of bearing, punching or a plate from the nominal one.
    pub fn reduced(f: Force as "F_n", phi: f64 as "phi") -> Force as "phi F_n" = phi * f;
    source "ACI 318, phi as given";
}

/// A local strength under one action.
#[derive(Clone, Copy, PartialEq, Debug)]
#[non_exhaustive]
pub struct LocalCheck {
    /// "test" or "catch".
    pub action: &'static str,
    /// Against the design strength.
    pub verdict: Verdict,
}

impl Write for LocalCheck {
    fn write(&self) -> Node {
        Node::map(vec![("action", Node::text(self.action)), ("verdict", self.verdict.write())])
    }
}

/// A local strength with its checks.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct LocalFound {
    /// Edition and clause.
    pub clause: &'static str,
    /// How it gives way, brittle or ductile.
    pub mode: &'static str,
    /// The force it carries with mean strengths, no reduction; nothing where only a design strength is known.
    pub expected: Option<Force>,
    /// The force it carries with specified strengths, reduced; nothing where the factors are not given.
    pub design: Option<Force>,
    /// The action of the test and of the catch, each on its own.
    pub checks: Vec<LocalCheck>,
    /// What to know.
    pub notes: Vec<Note>,
    /// What the check leaves out.
    pub left_out: Vec<&'static str>,
    pub(super) working: Working,
}

impl LocalFound {
    /// Every line redone with a pencil.
    #[must_use]
    pub const fn working(&self) -> &Working {
        &self.working
    }

    /// The numbers of the answer stand beside those of the working.
    pub(super) fn worked(mut self, mut working: Working) -> Self {
        let answer = self.write();
        working.claim_all("", 0, &answer, &answer);
        self.working = working;
        self
    }
}

impl Write for LocalFound {
    fn write(&self) -> Node {
        Node::map(vec![
            ("clause", Node::text(self.clause)),
            ("mode", Node::text(self.mode)),
            ("expected", self.expected.write()),
            ("design", self.design.write()),
            ("checks", self.checks.write()),
            ("notes", self.notes.write()),
            ("left_out", crate::capacity::shear::said(&self.left_out)),
        ])
    }
}

type Action = Option<Given<Force, Positive>>;

/// Every action that is given against a design strength; `demand` turns a force into what is compared.
pub(super) fn checks(
    (slug, clause): (Slug, &'static str),
    limit: f64,
    (test, catch): (&Action, &Action),
    mut demand: impl FnMut(Force) -> Quantity,
) -> Vec<LocalCheck> {
    let actions = [("test", test), ("catch", catch)];
    let given = actions.into_iter().filter_map(|(a, f)| f.as_ref().map(|f| (a, f.value)));
    given
        .map(|(action, force)| LocalCheck {
            action,
            verdict: Verdict::design(
                slug,
                demand(force),
                Limit::AtMost(limit),
                Basis::absolute(MemberUnit::Beam),
                Clause::Named(clause),
            ),
        })
        .collect()
}

/// An action without the factors of the design strength it must be held against is refused.
pub(super) fn factors(
    factor: (&str, bool),
    (test, catch): (&Action, &Action),
    issues: &mut Vec<Issue>,
) {
    if !factor.1 && (test.is_some() || catch.is_some()) {
        let message = "people stand on this check: it is made with the design strength, reduced";
        issues.push(Issue::new(slug::SOURCE_FIELD_MISSING, factor.0, message));
    }
}

/// The notes on what is not given.
pub(super) fn notes(mean: bool, factor: bool) -> Vec<Note> {
    let mut notes = Vec::new();
    if !factor {
        let message = "no design strength: its factors are not given";
        notes.push(Note::new(slug::CAPACITY_FACTORS, "", message));
    }
    if !mean {
        let message =
            "the mean strength of the concrete is not given: the specified one stands for it";
        notes.push(Note::new(slug::CAPACITY_MEAN, "strength", message));
    }
    notes
}
