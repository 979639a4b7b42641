//! An assumption taken, a criterion that cannot discriminate, a value of an
//! edition that nobody confirmed: it travels into the report.

use std::borrow::Cow;

use crate::error::Slug;
use crate::units::Message;

/// A thing the reader of the report must know.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Note {
    /// The code of the note.
    pub slug: Slug,
    /// What it concerns, as a path of the input or a place of the result.
    pub path: Cow<'static, str>,
    /// One or two sentences with numbers.
    pub message: Message,
}

impl Note {
    /// A note on `path`.
    #[must_use]
    pub fn new(
        slug: Slug,
        path: impl Into<Cow<'static, str>>,
        message: impl Into<Message>,
    ) -> Self {
        Self { slug, path: path.into(), message: message.into() }
    }
}
