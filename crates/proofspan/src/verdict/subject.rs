//! Of which bar, floor or level a check is.

use core::fmt;

/// What a check is of, where a design may have several of its code: a thing by its number, and what of
/// it. The same check of the same document has the same subject at every end of a range.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub struct Subject {
    /// The thing in a word, `level`; empty where there is but one.
    pub thing: &'static str,
    /// Its number among those of its kind, from 0.
    pub number: u16,
    /// What of it, `shear`; empty where that is plain.
    pub part: &'static str,
}

impl Subject {
    /// Nothing is named: there is but one.
    pub const NONE: Self = Self { thing: "", number: 0, part: "" };

    /// A thing by its number, from 0.
    #[must_use]
    pub fn of(thing: &'static str, number: usize) -> Self {
        Self { thing, number: u16::try_from(number).unwrap_or(u16::MAX), part: "" }
    }

    /// Whether nothing is named.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.thing.is_empty() && self.part.is_empty()
    }
}

impl fmt::Display for Subject {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if !self.thing.is_empty() {
            write!(f, "{} {}", self.thing, u32::from(self.number) + 1)?;
        }
        let apart = if self.thing.is_empty() || self.part.is_empty() { "" } else { ", " };
        write!(f, "{apart}{}", self.part)
    }
}
