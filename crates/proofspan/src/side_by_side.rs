//! One record under the criteria of every edition, side by side.

use crate::criteria::{ByEdition, NotAsked, RunRecord, SideBySide, clear_inside, under_limits};
use crate::design::TestDesign;
use crate::editions::Edition;
use crate::error::Error;
use crate::judge::{Judgement, judge_by, judge_record};
use crate::readings::{Log, LogSpec};
use crate::source::rule::Positive;
use crate::source::{Given, validate};
use crate::units::{Force, Net};

under_limits! {
    /// A test as the limits of every edition speak of it.
    pub struct MemberOfLimits {
        /// The full test load, net of what was in place before.
        target: Option<Given<Force, Positive>>,
    }
}

/// Judges a record of readings by every edition that has criteria for a test method. Factors and limits
/// of one edition say nothing of another: the load was chosen by one of them at most, so that each
/// outcome speaks of its criteria at this load only.
///
/// # Errors
/// What every edition refuses alike: problems of the log, its layout, the record; what the rules of
/// [`MemberOfLimits`] refuse, or a depth that the limits of all of them need. An edition that alone
/// refuses is listed with its codes.
pub fn side_by_side(
    editions: &[&Edition],
    member: &MemberOfLimits,
    (log, layout): (&Log, &LogSpec),
    record: &RunRecord,
) -> Result<SideBySide, Error> {
    validate(member)?;
    let (method, target) = (&member.method, member.target.as_ref().map(|t| Net(t.value)));
    gathered(editions, method, |edition| {
        judge_record(edition, method, member.limits(edition)?, log, layout, record, target)
    })
}

/// The same for a designed test: the predictions of the design count under every edition.
///
/// # Errors
/// As of [`judge`](crate::judge).
pub fn side_by_side_of(
    editions: &[&Edition],
    design: &TestDesign,
    (log, layout): (&Log, &LogSpec),
    record: &RunRecord,
) -> Result<SideBySide, Error> {
    let method = design.spec.protocol.method.word();
    gathered(editions, method, |edition| judge_by(design, edition, log, layout, record))
}

fn gathered(
    editions: &[&Edition],
    method: &str,
    judged: impl Fn(&Edition) -> Result<Judgement, Error>,
) -> Result<SideBySide, Error> {
    let mut all =
        SideBySide { method: method.to_owned(), editions: Vec::new(), refused: Vec::new() };
    let mut first = None;
    for edition in editions.iter().filter(|e| e.criteria(method).next().is_some()) {
        match judged(edition) {
            Ok(j) => {
                let (guarded, code) = j.overall();
                all.editions.push(ByEdition {
                    edition: edition.name().to_owned(),
                    code: code.state,
                    guarded: guarded.state,
                    because: guarded.because.to_owned(),
                    criteria: j.judging.criteria,
                });
            }
            Err(error) => {
                let codes = error.codes().into_iter().map(str::to_owned).collect();
                all.refused.push(NotAsked { edition: edition.name().to_owned(), codes });
                first = first.or(Some(error));
            }
        }
    }
    match first {
        Some(error) if all.editions.is_empty() => Err(error),
        _ => Ok(all),
    }
}
