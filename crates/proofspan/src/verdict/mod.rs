//! Is it met, by how much, on which basis, and who says so?
//!
//! No check answers with a bare bool. A [`Verdict`] holds state, demand, limit,
//! utilisation, uncertainty, basis and clause; a measured criterion has two of
//! them ([`Outcome`]): the edition's own comparison, and the guarded one.
//!
//! A [`Stop`] is a verdict on a state that endangers people; a [`Note`] is an
//! assumption or a thing to know.
//!
//! ```
//! use proofspan::verdict::{Criterion, State, combine};
//! let all = [State::Pass, State::Waived, State::Fail].map(Criterion::alone);
//! assert_eq!(combine(&all[..2], true).state, State::Pass);
//! assert_eq!(combine(&all[..2], false).state, State::Aborted);
//! assert_eq!(combine(&all, true).state, State::Fail);
//! ```

mod basis;
mod collect;
mod combine;
mod note;
mod stop;
mod subject;

pub use basis::{Basis, MemberUnit, Reference};
pub(crate) use collect::{Collect, collects, words};
pub use combine::{Combined, Criterion, combine};
pub use note::Note;
pub use stop::{Override, Stop};
pub use subject::Subject;

use core::fmt;

use crate::error::Slug;
use crate::units::Quantity;

/// The state of an answered question.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
#[non_exhaustive]
pub enum State {
    /// Evaluated, and met (for a guarded outcome: by more than the guard).
    Pass,
    /// Evaluated, and broken (for a guarded outcome: by more than the guard).
    Fail,
    /// The uncertainty or an input range contains the limit, or data are missing.
    Inconclusive,
    /// The edition's own clause takes the criterion away; counts as met.
    Waived,
    /// The criterion does not address this member, protocol or mode.
    NotApplicable,
    /// The quantity is too small against its uncertainty for the criterion to discriminate.
    NotMeaningful,
    /// The test ended before its target load or hold.
    Aborted,
}

impl State {
    /// The word used in reports, JSON and Python.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Pass => "pass",
            Self::Fail => "fail",
            Self::Inconclusive => "inconclusive",
            Self::Waived => "waived",
            Self::NotApplicable => "not applicable",
            Self::NotMeaningful => "not meaningful",
            Self::Aborted => "aborted",
        }
    }

    /// Whether the state counts as met when criteria are combined.
    #[must_use]
    pub const fn counts_as_met(self) -> bool {
        matches!(self, Self::Pass | Self::Waived)
    }
}

impl fmt::Display for State {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

/// The side on which a limit lies, in the SI unit of the demand.
/// Closed: a limit bounds from above or from below.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Limit {
    /// The demand must not exceed this.
    AtMost(f64),
    /// The demand must reach this.
    AtLeast(f64),
    /// There is no limit to compare with.
    None,
}

impl Limit {
    /// The number, where there is one.
    #[must_use]
    pub const fn value(self) -> Option<f64> {
        match self {
            Self::AtMost(v) | Self::AtLeast(v) => Some(v),
            Self::None => None,
        }
    }
}

/// Who asks for a limit. Texts are looked up when a report is made.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
#[non_exhaustive]
pub enum Clause {
    /// A criterion of the edition, by its place in the edition's list.
    Edition(u16),
    /// A book, standard or rule of this library, named.
    Named(&'static str),
}

/// The slack of a computed design check, in parts of the limit, or of what the demand is the
/// difference of: utilisation up to 1 + 1e-9 is met. Readings have none.
pub const DESIGN_SLACK: f64 = 1e-9;

/// An answered question.
#[derive(Clone, Copy, PartialEq, Debug)]
#[non_exhaustive]
pub struct Verdict {
    /// The answer.
    pub state: State,
    /// The code of the message that explains the answer.
    pub slug: Slug,
    /// Of which of several things of one kind.
    pub of: Subject,
    /// What was compared; not a number where nothing could be, and then nothing is written.
    pub demand: Quantity,
    /// What it was compared with.
    pub limit: Limit,
    /// Demand over limit, so that up to 1 is inside whichever side the limit is on;
    /// nothing where the limit is zero or absent.
    pub utilisation: Option<f64>,
    /// The expanded uncertainty of the demand in its SI unit, where it is known.
    pub uncertainty: Option<f64>,
    /// Per what, net or total, relative to what.
    pub basis: Basis,
    /// Who asks.
    pub clause: Clause,
}

impl Verdict {
    /// A computed design check with the relative slack of [`DESIGN_SLACK`].
    /// A value that is not finite is Inconclusive, never met.
    #[must_use]
    pub fn design(
        slug: Slug,
        demand: Quantity,
        limit: Limit,
        basis: Basis,
        clause: Clause,
    ) -> Self {
        Self::design_of_size(slug, demand, 0.0, limit, basis, clause)
    }

    /// The same for a demand that is a difference of terms: `size` is the largest of those terms in
    /// the SI unit of the demand. The slack is [`DESIGN_SLACK`] of the limit or of `size`, whichever
    /// is larger, so that against a limit of zero rounding of the terms does not decide.
    #[must_use]
    pub fn design_of_size(
        slug: Slug,
        demand: Quantity,
        size: f64,
        limit: Limit,
        basis: Basis,
        clause: Clause,
    ) -> Self {
        let (demand_si, inside) = (demand.si, inside(demand.si, size, limit));
        let state = match (demand_si.is_finite(), inside) {
            (true, Some(true)) => State::Pass,
            (true, Some(false)) => State::Fail,
            _ => State::Inconclusive,
        };
        Self {
            state,
            slug,
            of: Subject::NONE,
            demand,
            limit,
            utilisation: utilisation(demand_si, limit),
            uncertainty: None,
            basis,
            clause,
        }
    }

    /// The same check where inputs are ranges: the worst of this one and of the others, and
    /// Inconclusive where one of them passes and another does not. Where it does not apply at one
    /// end and is met at another it is met.
    #[must_use]
    pub fn across(self, others: &[Self]) -> Self {
        let mut worst = self;
        for other in others {
            let worse = match (other.utilisation, worst.utilisation) {
                (Some(a), Some(b)) => a > b,
                _ if worst.state == State::NotApplicable => other.state != State::NotApplicable,
                _ => {
                    worst.state == State::Pass
                        && !matches!(other.state, State::Pass | State::NotApplicable)
                }
            };
            if worse {
                worst = *other;
            }
        }
        let met = |v: &Self| v.state.counts_as_met();
        let calm = |v: &Self| met(v) || v.state == State::NotApplicable;
        let state = if others.iter().all(|o| o.state == self.state)
            || met(&self) && others.iter().all(calm)
        {
            self.state
        } else if calm(&self) && others.iter().all(calm) {
            State::Pass
        } else {
            State::Inconclusive
        };
        Self { state, ..worst }
    }

    /// The same verdict of one thing among several.
    #[must_use]
    pub const fn of(self, of: Subject) -> Self {
        Self { of: Subject { part: self.of.part, ..of }, ..self }
    }

    /// The same verdict of one part of its thing.
    #[must_use]
    pub const fn part(self, part: &'static str) -> Self {
        Self { of: Subject { part, ..self.of }, ..self }
    }

    /// The same verdict with another state.
    #[must_use]
    pub const fn with_state(self, state: State) -> Self {
        Self { state, ..self }
    }

    /// An answer without a comparison, for example not applicable.
    #[must_use]
    pub const fn bare(
        state: State,
        slug: Slug,
        demand: Quantity,
        basis: Basis,
        clause: Clause,
    ) -> Self {
        Self {
            state,
            slug,
            of: Subject::NONE,
            demand,
            limit: Limit::None,
            utilisation: None,
            uncertainty: None,
            basis,
            clause,
        }
    }
}

/// Whether `demand`, a difference of terms up to `size`, keeps the limit with the design slack.
fn inside(demand: f64, size: f64, limit: Limit) -> Option<bool> {
    let slack = |l: f64| DESIGN_SLACK * l.abs().max(size);
    match limit {
        Limit::AtMost(l) => l.is_finite().then(|| demand <= l + slack(l)),
        Limit::AtLeast(l) => l.is_finite().then(|| demand >= l - slack(l)),
        Limit::None => None,
    }
}

/// Demand over limit, or limit over demand for a lower limit; up to 1 is inside.
fn utilisation(demand: f64, limit: Limit) -> Option<f64> {
    let ratio = match limit {
        Limit::AtMost(l) if l.abs() > 0.0 => demand / l,
        Limit::AtLeast(l) if demand > 0.0 && l > 0.0 => l / demand,
        _ => return None,
    };
    ratio.is_finite().then_some(ratio)
}

/// The two answers of a measured criterion. The headline is the guarded one.
#[derive(Clone, Copy, PartialEq, Debug)]
#[non_exhaustive]
pub struct Outcome {
    /// The edition's own comparison, exact, without a guard.
    pub code: Verdict,
    /// The comparison with a guard band (JCGM 106:2012); policy and U are printed with it.
    pub guarded: Verdict,
}

#[cfg(test)]
#[allow(clippy::float_cmp, reason = "tests")]
mod tests {
    use super::*;
    use crate::error::slug;
    use crate::units::Kind;

    fn check(demand: f64, limit: Limit) -> Verdict {
        let basis = Basis::absolute(MemberUnit::Beam);
        Verdict::design(
            slug::SOURCE_RANGE,
            Quantity::new(Kind::Force, demand),
            limit,
            basis,
            Clause::Named("test"),
        )
    }

    #[test]
    fn a_design_check_has_a_relative_slack() {
        assert_eq!(check(100.0, Limit::AtMost(100.0)).state, State::Pass);
        assert_eq!(check(100.0 * (1.0 + 0.9e-9), Limit::AtMost(100.0)).state, State::Pass);
        assert_eq!(check(100.0 * (1.0 + 1.1e-9), Limit::AtMost(100.0)).state, State::Fail);
        assert_eq!(check(99.0, Limit::AtLeast(100.0)).state, State::Fail);
        assert_eq!(check(50.0, Limit::AtMost(100.0)).utilisation, Some(0.5));
        assert_eq!(check(200.0, Limit::AtLeast(100.0)).utilisation, Some(0.5));
        assert_eq!(check(1.0, Limit::AtMost(0.0)).utilisation, None);
        assert_eq!(check(1.0, Limit::AtMost(0.0)).state, State::Fail);
    }

    #[test]
    fn not_a_number_is_never_met() {
        assert_eq!(check(f64::NAN, Limit::AtMost(1.0)).state, State::Inconclusive);
        assert_eq!(check(1.0, Limit::AtMost(f64::NAN)).state, State::Inconclusive);
        assert_eq!(check(f64::NEG_INFINITY, Limit::AtMost(1.0)).state, State::Inconclusive);
    }

    /// The difference of two terms of 1000 and a limit of zero: 1e-9 of the terms is slack.
    #[test]
    fn a_difference_is_compared_by_the_size_of_its_terms() {
        let state = |demand: f64, limit| {
            Verdict::design_of_size(
                slug::SOURCE_RANGE,
                Quantity::new(Kind::Force, demand),
                1000.0,
                limit,
                Basis::absolute(MemberUnit::Beam),
                Clause::Named("test"),
            )
            .state
        };
        assert_eq!(state(0.9e-6, Limit::AtMost(0.0)), State::Pass);
        assert_eq!(state(1.1e-6, Limit::AtMost(0.0)), State::Fail);
        assert_eq!(state(-0.9e-6, Limit::AtLeast(0.0)), State::Pass);
        assert_eq!(state(-1.1e-6, Limit::AtLeast(0.0)), State::Fail);
        assert_eq!(state(f64::NAN, Limit::AtMost(0.0)), State::Inconclusive);
        assert_eq!(state(1.0, Limit::AtMost(f64::INFINITY)), State::Inconclusive);
    }

    #[test]
    fn a_check_that_does_not_apply_at_one_end_is_met_where_it_is_met() {
        let at = |demand| check(demand, Limit::AtMost(10.0));
        let none = at(0.0).with_state(State::NotApplicable);
        let none = Verdict { limit: Limit::None, utilisation: None, ..none };
        assert_eq!(at(9.0).across(&[none]).state, State::Pass);
        let met = none.across(&[at(9.0), none]);
        assert_eq!((met.state, met.utilisation), (State::Pass, Some(0.9)));
        assert_eq!(none.across(&[at(11.0)]).state, State::Inconclusive);
        assert_eq!(at(11.0).across(&[none]).state, State::Inconclusive);
        assert_eq!(none.across(&[none]).state, State::NotApplicable);
    }

    #[test]
    fn a_range_that_straddles_the_limit_is_inconclusive() {
        let at = |demand| check(demand, Limit::AtMost(10.0));
        assert_eq!(at(8.5).across(&[at(8.0), at(9.0)]).state, State::Pass);
        assert_eq!(at(9.0).across(&[at(8.0), at(12.0)]).state, State::Inconclusive);
        assert_eq!(at(11.5).across(&[at(11.0), at(12.0)]).state, State::Fail);
        assert_eq!(at(11.5).across(&[at(9.0)]).state, State::Inconclusive);
        let wide = at(9.0).across(&[at(8.0), at(12.0)]);
        assert_eq!((wide.demand.si, wide.utilisation), (12.0, Some(1.2)));
    }
}
