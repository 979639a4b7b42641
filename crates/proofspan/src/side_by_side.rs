//! One record under the criteria of every edition, side by side.

use crate::beam::Span;
use crate::criteria::{ByEdition, Facts, NotAsked, RunRecord, SideBySide};
use crate::design::TestDesign;
use crate::editions::Edition;
use crate::error::Error;
use crate::judge::{Judgement, judge_by, judge_record};
use crate::readings::{Log, LogSpec};
use crate::source::rule::Positive;
use crate::source::{Given, validate};
use crate::units::{Force, Length, Net};
use crate::verdict::MemberUnit;

crate::record! {
    /// A member as the limits of editions speak of it.
    pub struct MemberOfLimits {
        /// Effective span, centre to centre; of a cantilever, its length.
        span: Given<Length, Span>,
        /// Clear span, where an edition limits the span by it.
        clear_span: Option<Given<Length, Positive>>,
        /// Overall depth.
        depth: Given<Length, Positive>,
        /// Whether the member is a cantilever.
        cantilever: bool = false,
        /// What one value is counted for.
        unit: MemberUnit = MemberUnit::Beam,
    }
}

impl MemberOfLimits {
    /// What the limits of an edition speak of.
    #[must_use]
    pub fn facts(&self, edition: &Edition) -> Facts {
        let clear = self.clear_span.as_ref().map(|c| c.value);
        let (l, h) = (self.span.value, self.depth.value);
        let lt = Facts::span(edition.span_rule(), l, clear, h, self.cantilever);
        Facts { lt, l, h, unit: self.unit }
    }
}

/// Judges a record of readings by every edition that has criteria for a test method. Factors and limits
/// of one edition say nothing of another: the load was chosen by one of them at most, so that each
/// outcome speaks of its criteria at this load only.
///
/// # Errors
/// What every edition refuses alike: problems of the log, its layout, the record; what the rules of
/// [`MemberOfLimits`] refuse.
pub fn side_by_side(
    editions: &[&Edition],
    method: &str,
    member: &MemberOfLimits,
    (log, layout): (&Log, &LogSpec),
    record: &RunRecord,
    target: Option<Net<Force>>,
) -> Result<SideBySide, Error> {
    validate(member)?;
    gathered(editions, method, |edition| {
        judge_record(edition, method, member.facts(edition), log, layout, record, target)
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
