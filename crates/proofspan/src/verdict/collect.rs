//! Where the checks of one answer gather: verdicts, stops, notes.

use std::borrow::Cow;

use super::{Note, State, Stop, Verdict};
use crate::units::Message;

/// The path of a stop and its sentence.
pub(crate) type Words = (Cow<'static, str>, Message);

/// The words of a stop: what it concerns, what it says.
pub(crate) fn words(path: impl Into<Cow<'static, str>>, message: impl Into<Message>) -> Words {
    (path.into(), message.into())
}

impl Verdict {
    /// The stop of a check that fails or cannot be told, with its words.
    pub(crate) fn stop(self, words: impl FnOnce() -> Words) -> Option<Stop> {
        matches!(self.state, State::Fail | State::Inconclusive).then(|| {
            let (path, message) = words();
            Stop::new(self.slug, path, message).with(self)
        })
    }
}

/// An answer that gathers checks. Every check of a demand against a strength goes through
/// [`check`](Self::check), so that none can fail without its stop, and no stop be without its verdict.
pub(crate) trait Collect {
    /// The lists of the answer.
    fn lists(&mut self) -> (&mut Vec<Verdict>, &mut Vec<Stop>, &mut Vec<Note>);

    /// Keeps a verdict; one that fails or cannot be told is a stop with its words.
    fn check(&mut self, verdict: Verdict, words: impl FnOnce() -> Words) {
        let (verdicts, stops, _) = self.lists();
        stops.extend(verdict.stop(words));
        verdicts.push(verdict);
    }

    /// Takes over what another answer gathered.
    fn gather(&mut self, other: &mut impl Collect) {
        let (verdicts, stops, notes) = self.lists();
        let (more, held, said) = other.lists();
        verdicts.append(more);
        stops.append(held);
        notes.append(said);
    }
}

/// The lists are the fields `verdicts`, `stops` and `notes`.
macro_rules! collects {
    ($($name:ty),+) => {$(
        impl $crate::verdict::Collect for $name {
            fn lists(
                &mut self,
            ) -> (
                &mut Vec<$crate::verdict::Verdict>,
                &mut Vec<$crate::verdict::Stop>,
                &mut Vec<$crate::verdict::Note>,
            ) {
                (&mut self.verdicts, &mut self.stops, &mut self.notes)
            }
        }
    )+};
}
pub(crate) use collects;

#[cfg(test)]
#[allow(clippy::indexing_slicing, reason = "tests")]
mod tests {
    use super::*;
    use crate::error::slug;
    use crate::units::{Kind, Quantity};
    use crate::verdict::{Basis, Clause, Limit, MemberUnit};

    #[derive(Default)]
    struct Answer {
        verdicts: Vec<Verdict>,
        stops: Vec<Stop>,
        notes: Vec<Note>,
    }
    collects!(Answer);

    fn of(demand: f64) -> Verdict {
        Verdict::design(
            slug::RIG_BAR_OVER_LOAD,
            Quantity::new(Kind::Force, demand),
            Limit::AtMost(1.0),
            Basis::net(MemberUnit::Bar),
            Clause::Named("test"),
        )
    }

    /// A check that passes or does not apply is no stop; one that fails, or whose demand is no number, is.
    #[test]
    fn no_check_fails_without_its_stop() {
        let mut all = Answer::default();
        for demand in [0.5, 2.0, f64::NAN] {
            all.check(of(demand), || words("rig.bars", "over"));
        }
        all.check(of(2.0).with_state(State::NotApplicable), || words("rig.bars", "over"));
        assert_eq!((all.verdicts.len(), all.stops.len(), all.notes.len()), (4, 2, 0));
        let with = |s: &Stop| (s.slug, s.verdict.map(|v| v.state));
        let fails = (slug::RIG_BAR_OVER_LOAD, Some(State::Fail));
        assert_eq!(with(&all.stops[0]), fails);
        assert_eq!(with(&all.stops[1]), (slug::RIG_BAR_OVER_LOAD, Some(State::Inconclusive)));
        let mut other = Answer::default();
        other.gather(&mut all);
        assert_eq!((other.verdicts.len(), other.stops.len()), (4, 2));
        assert!(all.verdicts.is_empty() && all.stops.is_empty());
    }
}
