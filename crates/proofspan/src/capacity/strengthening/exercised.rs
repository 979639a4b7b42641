//! Does the planned test strain the strengthening at all?

use crate::error::slug;
use crate::units::{Force, Message, Ratio};
use crate::verdict::Note;

crate::choice! {
    /// How likely it is; a test that was not made is never sure to.
    pub enum Likely ("likelihood", source::SOURCE_CHOICE) {
        /// Below what is expected to crack the web, by more than the scatter.
        Unlikely = "unlikely, not excluded",
        /// Within the scatter of what is expected to crack the web.
        Open = "open",
        /// Above it, by more than the scatter.
        Likely = "likely",
    }
}

crate::answer! {
    /// Whether a test exercises wraps and stirrups: before the web cracks they are nearly unstrained.
    pub struct Exercised {
        /// How likely.
        likely: Likely,
        /// Shear of the test, total.
        test: Force,
        /// The lower of flexure-shear and web-shear cracking.
        cracking: Force,
        /// The one over the other.
        ratio: f64,
        /// Scatter of the cracking strength, as a part of it.
        scatter: Ratio,
    }
}

/// The shear of a test against the lowest shear that is expected to crack the web; nothing where none
/// is known.
#[must_use]
pub fn exercised(
    test: Force,
    cracks: impl IntoIterator<Item = Force>,
    scatter: Ratio,
) -> Option<Exercised> {
    let cracking = cracks.into_iter().reduce(Force::min)?;
    let ratio = test / cracking;
    let likely = Likely::of(ratio, scatter);
    Some(Exercised { likely, test, cracking, ratio, scatter })
}

impl Likely {
    /// By what the test brings over what is expected to crack the section, and the scatter of that.
    pub(in crate::capacity) fn of(ratio: f64, scatter: Ratio) -> Self {
        if ratio < 1.0 - scatter.value() {
            Self::Unlikely
        } else if ratio > 1.0 + scatter.value() {
            Self::Likely
        } else {
            Self::Open
        }
    }
}

impl Exercised {
    /// Says that the test hardly strains what it is to show.
    pub(in crate::capacity) fn noted(&self, notes: &mut Vec<Note>, path: &str) {
        if self.likely != Likely::Likely {
            let said = "the test brings a shear of {}, the web is expected to crack at {}: before that wraps and stirrups are nearly idle; exercised: {}";
            let message =
                Message::new(said, [self.test.into(), self.cracking.into(), self.likely.into()]);
            notes.push(Note::new(slug::CAPACITY_WRAPS_IDLE, path.to_owned(), message));
        }
    }
}
