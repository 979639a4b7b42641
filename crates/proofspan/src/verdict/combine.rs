//! Many criteria, one state. Library rule, in this order: any-of groups are
//! reduced first; any Fail is Fail; a test short of its target is Aborted; any
//! Inconclusive is Inconclusive; a NotMeaningful that no other required
//! criterion replaces is Inconclusive; nothing met at all is NotMeaningful;
//! else Pass.

use super::State;

/// One criterion as seen by the combination.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[non_exhaustive]
pub struct Criterion {
    /// Its state.
    pub state: State,
    /// Criteria with the same group number suffice one for all; `None` stands alone.
    pub any_of: Option<u8>,
    /// Whether it is not required, or another required criterion replaces it, where it is
    /// NotMeaningful.
    pub replaced: bool,
}

impl Criterion {
    /// A required criterion that stands alone.
    #[must_use]
    pub const fn alone(state: State) -> Self {
        Self { state, any_of: None, replaced: false }
    }
}

/// The combined state with what led to it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[non_exhaustive]
pub struct Combined {
    /// The overall state.
    pub state: State,
    /// Why, in a few words.
    pub because: &'static str,
}

/// Combines criteria. `reached` says whether the target load and hold were reached.
#[must_use]
pub fn combine(criteria: &[Criterion], reached: bool) -> Combined {
    let mut states: Vec<(State, bool)> = Vec::with_capacity(criteria.len());
    let mut groups: Vec<u8> = Vec::new();
    for criterion in criteria {
        match criterion.any_of {
            None => states.push((criterion.state, criterion.replaced)),
            Some(group) if !groups.contains(&group) => {
                groups.push(group);
                states.push((reduce(criteria, group), false));
            }
            Some(_) => {}
        }
    }
    let any = |s: State| states.iter().any(|(state, _)| *state == s);
    let (state, because) = if any(State::Fail) {
        (State::Fail, "a criterion is not met")
    } else if !reached || any(State::Aborted) {
        (State::Aborted, "the test ended below its target load or hold")
    } else if any(State::Inconclusive) {
        (State::Inconclusive, "a criterion could not be decided")
    } else if states.iter().any(|(s, replaced)| *s == State::NotMeaningful && !replaced) {
        (State::Inconclusive, "a required criterion could not discriminate")
    } else if !states.iter().any(|(s, _)| s.counts_as_met()) {
        (State::NotMeaningful, "nothing was shown")
    } else {
        (State::Pass, "every required criterion is met or waived by its clause")
    };
    Combined { state, because }
}

/// An any-of group: met if one is met, failed if all fail, else Inconclusive.
fn reduce(criteria: &[Criterion], group: u8) -> State {
    let members = || criteria.iter().filter(|c| c.any_of == Some(group)).map(|c| c.state);
    let asked = || members().filter(|s| *s != State::NotApplicable);
    if members().any(|s| s == State::Pass) {
        State::Pass
    } else if members().any(|s| s == State::Waived) {
        State::Waived
    } else if asked().next().is_none() {
        State::NotApplicable
    } else if asked().all(|s| s == State::Fail) {
        State::Fail
    } else {
        State::Inconclusive
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use State::*;

    fn of(states: &[State]) -> State {
        let criteria: Vec<_> = states.iter().map(|s| Criterion::alone(*s)).collect();
        combine(&criteria, true).state
    }
    fn any_of(states: &[State]) -> State {
        let criteria: Vec<_> = states
            .iter()
            .map(|s| Criterion { state: *s, any_of: Some(1), replaced: false })
            .collect();
        combine(&criteria, true).state
    }

    #[test]
    fn the_order_of_precedence() {
        assert_eq!(of(&[Pass, Waived, NotApplicable]), Pass);
        assert_eq!(of(&[Pass, Fail, Inconclusive]), Fail);
        assert_eq!(of(&[Pass, Inconclusive, NotMeaningful]), Inconclusive);
        assert_eq!(of(&[Pass, NotMeaningful]), Inconclusive);
        assert_eq!(of(&[NotMeaningful, NotApplicable]), Inconclusive);
        assert_eq!(of(&[NotApplicable]), NotMeaningful);
        assert_eq!(of(&[]), NotMeaningful);
    }

    #[test]
    fn fail_comes_before_aborted() {
        assert_eq!(combine(&[Criterion::alone(Fail)], false).state, Fail);
        assert_eq!(combine(&[Criterion::alone(Pass)], false).state, Aborted);
        assert_eq!(combine(&[Criterion::alone(Inconclusive)], false).state, Aborted);
    }

    #[test]
    fn one_of_a_group_suffices() {
        assert_eq!(any_of(&[Fail, Pass]), Pass);
        assert_eq!(any_of(&[Fail, Fail]), Fail);
        assert_eq!(any_of(&[Fail, Inconclusive]), Inconclusive);
        assert_eq!(any_of(&[Fail, NotMeaningful]), Inconclusive);
        assert_eq!(any_of(&[Fail, Waived]), Pass);
    }

    #[test]
    fn a_replaced_criterion_that_cannot_discriminate_does_not_count() {
        let replaced = Criterion { state: NotMeaningful, any_of: None, replaced: true };
        assert_eq!(combine(&[replaced, Criterion::alone(Pass)], true).state, Pass);
        assert_eq!(
            combine(&[replaced, Criterion::alone(NotApplicable)], true).state,
            NotMeaningful
        );
    }
}
