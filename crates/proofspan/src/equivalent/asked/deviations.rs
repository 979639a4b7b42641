//! What may be built otherwise than drawn?

use crate::units::Length;

crate::record! {
    /// How far what is built may be from what is drawn.
    pub struct Deviations {
        /// Each carrier off its place by up to this, either way.
        place: Length = Length::ZERO,
        /// Each force off by up to this part, either way.
        force: f64 = 0.0,
        /// Each support off its place by up to this, either way; an end of the member goes with its
        /// support, and so does a region that begins or ends there.
        support: Length = Length::ZERO,
        /// How the ends are held; cast in place counts as unknown between pinned and fixed.
        ends: Ends = Ends::CastInPlace,
        /// The EI of a span against the others, up to this times larger or smaller; at least 1.
        stiffness: f64 = 1.0,
        /// Each support gone down by up to this before the test.
        settlement: Length = Length::ZERO,
    }
}

impl Deviations {
    /// No deviation, ends free to turn as drawn.
    #[must_use]
    pub const fn none() -> Self {
        Self {
            place: Length::ZERO,
            force: 0.0,
            support: Length::ZERO,
            ends: Ends::Seated,
            stiffness: 1.0,
            settlement: Length::ZERO,
        }
    }
}

crate::choice! {
    /// How the ends of the member are held.
    pub enum Ends ("end condition", source::SOURCE_CHOICE) {
        /// Seated on bearings, shown free to turn.
        Seated = "seated",
        /// Cast in place: unknown between pinned and fixed.
        CastInPlace = "cast_in_place",
    }
}

crate::choice! {
    /// A bound of how the ends are held.
    pub enum EndFixity ("end fixity", source::SOURCE_CHOICE) {
        /// Left end held against rotation.
        LeftFixed = "left_fixed",
        /// Right end held against rotation.
        RightFixed = "right_fixed",
        /// Both ends held.
        BothFixed = "both_fixed",
    }
}

/// A support off its place. An end of the member goes with its support: the span there is longer or
/// shorter, and a load or a region that begins or ends there does so too.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(in crate::equivalent) struct Moved {
    which: Which,
    /// The place as drawn.
    at: Length,
    by: Length,
    slack: Length,
}

#[derive(Clone, Copy, PartialEq, Debug)]
enum Which {
    None,
    Left,
    Right,
    Inner,
}

impl Moved {
    /// Every support where it is drawn.
    pub(in crate::equivalent) const fn none() -> Self {
        Self { which: Which::None, at: Length::ZERO, by: Length::ZERO, slack: Length::ZERO }
    }

    /// One support off its place, and the length of the other beam.
    pub(in crate::equivalent) fn support(end: Length, at: Length, by: Length) -> (Self, Length) {
        let slack = end * 1e-9;
        let (which, length) = if at <= slack {
            (Which::Left, end - by)
        } else if at >= end - slack {
            (Which::Right, end + by)
        } else {
            (Which::Inner, end)
        };
        (Self { which, at, by, slack }, length)
    }

    /// Where a load begins or ends; places count from the left end of the other beam.
    pub(in crate::equivalent) fn load(self, x: Length) -> Length {
        match self.which {
            Which::None | Which::Inner => x,
            Which::Left if x <= self.slack => x,
            Which::Left => (x - self.by).max(Length::ZERO),
            Which::Right if x >= self.at - self.slack => self.at + self.by,
            Which::Right => x.min(self.at + self.by),
        }
    }

    /// Where a region begins or ends.
    pub(in crate::equivalent) fn region(self, x: Length) -> Length {
        match self.which {
            Which::Inner if (x - self.at).abs() <= self.slack => x + self.by,
            _ => self.load(x),
        }
    }

    /// By how much a carrier is elsewhere, counted from the left end.
    pub(in crate::equivalent) fn by(self) -> Length {
        if self.which == Which::Left { self.by * -1.0 } else { Length::ZERO }
    }

    /// A place of the other beam as the drawing counts it.
    pub(in crate::equivalent) fn drawn(self, x: Length) -> Length {
        x - self.by()
    }
}
