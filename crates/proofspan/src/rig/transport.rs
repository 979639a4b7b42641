//! How the counterweights come to their places: over the reaction member, or beside it.

use super::reaction::RigPlace;
use crate::error::{Issue, slug};
use crate::source::rule::Positive;
use crate::source::{Given, Reader};
use crate::units::{Force, Length, Message};

crate::record! {
    /// The heaviest piece with what carries it, on its way over the reaction member. It counts as one
    /// force: on wheels apart from each other it would bend less.
    pub struct Transport {
        /// The piece with its carrier, on one member unit.
        force: Given<Force, Positive>,
        /// Where its way begins, from the left end of the member under test.
        from: Given<Length, RigPlace>,
        /// Where it ends.
        to: Given<Length, RigPlace>,
    }
    rules { way_in_order[from, to]; }
}

fn way_in_order(reader: &mut Reader, from: &Given<Length, RigPlace>, to: &Given<Length, RigPlace>) {
    if from.value >= to.value {
        let path = reader.path_of("to");
        let issue = Issue::new(slug::RIG_TRANSPORT, path, "a way that ends before it begins");
        reader.push(issue.value(to.said()).limit(Message::new("beyond {}", [from.said()])));
    }
}

impl Transport {
    /// Places to look at on a member of this length whose left end lies at `origin`, in its own places:
    /// the middle of every span, just inside its ends, beside every weight that stands there, and even steps
    /// between the ends of the way.
    pub(super) fn places(
        &self,
        origin: Length,
        length: Length,
        spans: &[(Length, Length)],
        weights: impl Iterator<Item = Length>,
    ) -> Vec<Length> {
        const STEPS: u32 = 48;
        let (from, to) = (self.from.value - origin, self.to.value - origin);
        let (from, to) = (from.max(Length::ZERO), to.min(length));
        if from > to {
            return Vec::new();
        }
        let step = |i: u32| from + (to - from) * (f64::from(i) / f64::from(STEPS));
        let mut all: Vec<Length> = (0..=STEPS).map(step).collect();
        // just beside a bearing the shear is largest; on it the force goes straight down
        let beside = length * 1e-6;
        let own = spans.iter().flat_map(|(a, b)| [*a + beside, (*a + *b) / 2.0, *b - beside]);
        all.extend(own.chain(weights).filter(|x| *x >= from && *x <= to));
        all
    }
}
