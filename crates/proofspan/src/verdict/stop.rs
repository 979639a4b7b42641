//! A state that endangers people: the number is there, the work is refused.

use std::borrow::Cow;

use super::Verdict;
use crate::error::{Class, Issue, Slug};
use crate::units::Message;

/// A decision of named people to go on in spite of a stop that may be lifted. It never
/// makes a verdict pass, it holds the stop's numbers and the fingerprint of the design,
/// and it lapses when that fingerprint changes.
#[derive(Clone, PartialEq, Debug)]
pub struct Override {
    /// The stop that is lifted.
    pub slug: Slug,
    /// The role of the person who decides.
    pub role: String,
    /// The name of that person.
    pub name: String,
    /// Why the work may go on.
    pub reason: String,
    /// What is done instead to protect people.
    pub measure: String,
    /// The date of the decision.
    pub date: String,
    /// The second person who signs.
    pub second_signature: String,
    /// The fingerprint of the design the decision was made on.
    pub design: String,
}

/// A stop with its number.
#[derive(Clone, PartialEq, Debug)]
pub struct Stop {
    /// The code; its class says whether the stop may be lifted.
    pub slug: Slug,
    /// The computed check, where there is one.
    pub verdict: Option<Verdict>,
    /// What it concerns.
    pub path: Cow<'static, str>,
    /// One sentence with numbers.
    pub message: Message,
    /// The override that lifts it, where one was accepted.
    pub lifted: Option<Override>,
}

impl Stop {
    /// A stop on `path`.
    #[must_use]
    pub fn new(
        slug: Slug,
        path: impl Into<Cow<'static, str>>,
        message: impl Into<Message>,
    ) -> Self {
        Self { slug, verdict: None, path: path.into(), message: message.into(), lifted: None }
    }

    /// The same with the computed check.
    #[must_use]
    pub fn with(mut self, verdict: Verdict) -> Self {
        self.verdict = Some(verdict);
        self
    }

    /// Whether named people may lift it.
    #[must_use]
    pub const fn liftable(&self) -> bool {
        matches!(self.slug.class(), Class::Stop { liftable: true })
    }

    /// Whether it still holds.
    #[must_use]
    pub const fn holds(&self) -> bool {
        self.lifted.is_none()
    }

    /// The stop as a refusal.
    #[must_use]
    pub fn issue(&self) -> Issue {
        Issue::new(self.slug, self.path.clone(), self.message.clone())
    }
}
