//! Several circuits: each is held to its own force, or nobody knows where the sum stood.

use super::judging::Judging;
use crate::uncertainty::COVERAGE;
use crate::units::{Force, Message};
use crate::verdict::State;

/// Forces differ if by more than this part of the larger.
const APART: f64 = 1e-6;

/// A circuit at the end of the hold.
pub(crate) struct OfCircuit {
    pub(crate) name: String,
    /// What the schedule asks of it.
    pub(crate) asked: Force,
    /// Whether a cell is tied to it.
    pub(crate) tied: bool,
    /// The sum of the cells that are tied to it, and its standard uncertainty, where each of them says it.
    pub(crate) measured: Option<Force>,
    pub(crate) u: Option<Force>,
}

impl OfCircuit {
    /// The states, code and guarded, and what is wrong, where a tied circuit has not its force.
    fn off(&self, band: Force) -> Option<((State, State), Message)> {
        let (least, most) = (self.asked - band, self.asked + band);
        let slack = self.asked.abs() * 1e-12;
        let Some(force) = self.measured else {
            let values = [(&self.name).into()];
            let message = "; the force of circuit {} is not known in the peak window";
            let open = (State::Inconclusive, State::Inconclusive);
            return Some((open, Message::new(message, values)));
        };
        let code = match () {
            () if force < least - slack => State::Aborted,
            () if force > most + slack => State::Inconclusive,
            () => State::Pass,
        };
        let guarded = match self.u.map(|u| u * COVERAGE) {
            _ if code == State::Inconclusive => code,
            Some(u) if force + u < least - slack => State::Aborted,
            Some(u) if force - u >= least - slack => State::Pass,
            _ => State::Inconclusive,
        };
        let limit = if force > most { most } else { least };
        let bound = if force > most { "at most" } else { "at least" };
        let values =
            [(&self.name).into(), force.into(), self.asked.into(), bound.into(), limit.into()];
        let message = "; circuit {} has {} where {} are asked of it, {} {} by the band of the sum";
        ((code, guarded) != (State::Pass, State::Pass))
            .then(|| ((code, guarded), Message::new(message, values)))
    }
}

impl Judging {
    /// Opens or ends the row of the load where a circuit has not its own force, and opens that of the
    /// reproduction where no cell is tied to circuits whose forces differ.
    pub(crate) fn circuits(&mut self, all: &[OfCircuit], band: Force) {
        for (states, said) in all.iter().filter(|c| c.tied).filter_map(|c| c.off(band)) {
            self.row_is("load", states, said);
        }
        let largest = all.iter().map(|c| c.asked).fold(Force::ZERO, Force::max);
        let differ = all.iter().any(|c| largest - c.asked > largest * APART);
        let loose: Vec<&str> = all.iter().filter(|c| !c.tied).map(|c| c.name.as_str()).collect();
        if differ && !loose.is_empty() {
            let message = "; no cell is tied to circuit {}, and what is asked of the circuits differs: the sum does not tell where it stood";
            let said = Message::new(message, [loose.join(", ").into()]);
            self.row_is("reproduction", (State::Inconclusive, State::Inconclusive), said);
        }
        self.combine();
    }

    /// Gives a row the graver of its own states and these, and adds why.
    fn row_is(&mut self, id: &str, states: (State, State), said: Message) {
        let grave = |own: State, other: State| match (own, other) {
            (State::Fail, _) | (_, State::Fail) => State::Fail,
            (State::Aborted, _) | (_, State::Aborted) => State::Aborted,
            (State::Inconclusive, _) | (_, State::Inconclusive) => State::Inconclusive,
            _ => own,
        };
        let Some(row) = self.criteria.iter_mut().find(|c| c.id == id) else { return };
        let (code, guarded) = (row.outcome.code, row.outcome.guarded);
        row.outcome.code = code.with_state(grave(code.state, states.0));
        row.outcome.guarded = guarded.with_state(grave(guarded.state, states.1));
        row.reason = row.reason.clone().and(said);
    }
}
