//! What is wrong with the input, where, and how is it mended?
//!
//! One mechanism for the whole library: an [`Error`] holds every [`Issue`] that
//! was found, each with its stable code, the path of the field, the value that
//! was given, the limit it broke and the remedy.

mod interrupt;
mod slugs;

pub use interrupt::watched;
pub(crate) use interrupt::{ended, go_on};
pub use slugs::{Class, Row, Slug, slug};

use core::fmt;
use std::sync::Arc;

use crate::units::{Message, Page, SHOWN, Said, UnitError, head};

/// What kind of failure an [`Error`] reports; Python maps each to an exception class.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
#[non_exhaustive]
pub enum Cause {
    /// The description of the test cannot be used as it is.
    Input,
    /// A log of readings cannot be used as it is.
    Data,
    /// A solver could not finish; the problem it was given is in the message.
    Solver,
    /// A stop holds: a result exists, but the next step is refused.
    Stop,
}

/// The longest path that is shown, in characters.
const PATH: usize = 160;

/// Digits of a value: a value and the limit that it breaks differ in them.
const DIGITS: u8 = 9;

/// The longest message, limit and remedy, in characters: room for a list of names.
const SENTENCE: usize = 1000;

/// One problem of an input. What was given is shown by its head where it is long.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Issue {
    /// The stable code of the problem.
    pub slug: Slug,
    /// Where it is, for example `loads.actions[2].load`; empty for the whole document.
    pub path: String,
    /// One sentence with names and numbers.
    pub message: Message,
    /// The value that was given, as written.
    pub value: Option<Message>,
    /// What is accepted.
    pub limit: Option<Message>,
    /// How to mend it.
    pub remedy: Message,
    /// The clause, book or rule that asks for it.
    pub source: Option<String>,
}

impl Issue {
    /// A problem at `path`; the remedy is that of the code until another is given.
    #[must_use]
    pub fn new(slug: Slug, path: impl Into<String>, message: impl Into<Message>) -> Self {
        Self {
            slug,
            path: shortened(path.into(), PATH),
            message: message.into().shortened(DIGITS, SENTENCE),
            value: None,
            limit: None,
            remedy: slug.remedy().into(),
            source: None,
        }
    }

    /// The same with the value that was given.
    #[must_use]
    pub fn value(mut self, value: impl Into<Said>) -> Self {
        self.value = Some(Message::from(value.into()).shortened(DIGITS, SHOWN));
        self
    }

    /// The same with what is accepted.
    #[must_use]
    pub fn limit(mut self, limit: impl Into<Said>) -> Self {
        self.limit = Some(Message::from(limit.into()).shortened(DIGITS, SENTENCE));
        self
    }

    /// The same with a remedy of its own.
    #[must_use]
    pub fn remedy(mut self, remedy: impl Into<Message>) -> Self {
        self.remedy = remedy.into().shortened(DIGITS, SENTENCE);
        self
    }

    /// The same with the word that may be meant, where one is near.
    #[must_use]
    pub fn meant(self, near: Option<&str>) -> Self {
        match near {
            Some(near) => self.remedy(format!("did you mean `{near}`?")),
            None => self,
        }
    }

    /// The same with the clause, book or rule that asks for it.
    #[must_use]
    pub fn source(mut self, source: impl Into<String>) -> Self {
        self.source = Some(source.into());
        self
    }

    /// Sets every value of it on a page: in the units of whoever reads it.
    fn settle(&mut self, page: &Arc<Page>) {
        self.message.settle(page);
        self.remedy.settle(page);
        self.value.iter_mut().chain(&mut self.limit).for_each(|said| said.settle(page));
    }

    /// A text that is not the wanted quantity, at `path`.
    #[must_use]
    pub fn unit(path: impl Into<String>, error: &UnitError) -> Self {
        let slug = Slug::of(error.code()).unwrap_or(slug::UNITS_MISSING);
        Self::new(slug, path, error.to_string()).value(&error.text).remedy(error.remedy())
    }
}

/// The text, or its head where it is longer than `most` characters.
fn shortened(text: String, most: usize) -> String {
    if text.len() <= most { text } else { head(&text, most) }
}

impl fmt::Display for Issue {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "[{}]", self.slug.code())?;
        if !self.path.is_empty() {
            write!(f, " {}:", self.path)?;
        }
        write!(f, " {}", self.message)?;
        if let Some(value) = &self.value {
            write!(f, "; given: {value}")?;
        }
        if let Some(limit) = &self.limit {
            write!(f, "; accepted: {limit}")?;
        }
        write!(f, "; remedy: {}", self.remedy)?;
        if let Some(source) = &self.source {
            write!(f, " ({source})")?;
        }
        Ok(())
    }
}

/// So many problems are listed; the others are counted.
pub(crate) const MAX_ISSUES: usize = 1000;

/// Every problem of an input, at once.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
#[error("{}", listed(.issues))]
#[non_exhaustive]
pub struct Error {
    /// What kind of failure this is.
    pub cause: Cause,
    /// The problems, in the order of the document.
    pub issues: Vec<Issue>,
}

fn listed(issues: &[Issue]) -> String {
    let mut text = match issues {
        [one] => return one.to_string(),
        many => format!("{} problems", many.len()),
    };
    for issue in issues {
        text.push_str("\n  ");
        text.push_str(&issue.to_string());
    }
    text
}

impl Error {
    /// An input with these problems.
    #[must_use]
    pub const fn input(issues: Vec<Issue>) -> Self {
        Self { cause: Cause::Input, issues }
    }

    /// A log of readings with these problems.
    #[must_use]
    pub const fn data(issues: Vec<Issue>) -> Self {
        Self { cause: Cause::Data, issues }
    }

    /// A solver that could not finish.
    #[must_use]
    pub fn solver(issue: Issue) -> Self {
        Self { cause: Cause::Solver, issues: vec![issue] }
    }

    /// A stop that holds.
    #[must_use]
    pub const fn stop(issues: Vec<Issue>) -> Self {
        Self { cause: Cause::Stop, issues }
    }

    /// The same on a page: values in its units. What a user typed stays as it was typed.
    #[must_use]
    pub fn on(mut self, page: &Page) -> Self {
        let page = Arc::new(page.clone());
        self.issues.iter_mut().for_each(|issue| issue.settle(&page));
        self
    }

    /// Whether a problem has this code.
    #[must_use]
    pub fn has(&self, slug: Slug) -> bool {
        self.issues.iter().any(|i| i.slug == slug)
    }

    /// The codes of the problems in order.
    #[must_use]
    pub fn codes(&self) -> Vec<&'static str> {
        self.issues.iter().map(|i| i.slug.code()).collect()
    }

    /// Fails with the collected problems, where there are any: the first thousand, and how many more.
    ///
    /// # Errors
    /// If `issues` is not empty.
    pub fn check(mut issues: Vec<Issue>) -> Result<(), Self> {
        if issues.is_empty() {
            return Ok(());
        }
        // one more is the line of a reader that already counted the others
        let more = issues.len().saturating_sub(MAX_ISSUES);
        if more > 1 {
            issues.truncate(MAX_ISSUES);
            let message = format!("{more} more problems than are listed");
            issues.push(Issue::new(slug::SOURCE_MANY, "", message));
        }
        Err(Self::input(issues))
    }
}

impl From<Issue> for Error {
    fn from(issue: Issue) -> Self {
        Self::input(vec![issue])
    }
}
