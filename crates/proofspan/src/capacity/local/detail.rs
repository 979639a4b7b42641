//! Ledges, corbels, dapped ends, pads, anchorages at a bearing: what carries them is the engineer's.

use super::acts::{LocalFound, checks};
use crate::error::{Error, Issue, slug};
use crate::formula::Working;
use crate::source::rule::Positive;
use crate::source::{Given, validate_single};
use crate::units::{Force, Quantified};

crate::choice! {
    /// What stands between the member and its bearing.
    pub enum DetailKind ("detail", source::SOURCE_CHOICE) {
        /// A ledge along a beam.
        Ledge = "ledge",
        /// A corbel or bracket.
        Corbel = "corbel",
        /// A dapped end.
        DappedEnd = "dapped_end",
        /// A bearing pad.
        Pad = "pad",
        /// The anchorage of the bottom bars at the bearing.
        Anchorage = "anchorage",
    }
}

crate::record! {
    /// A detail at a bearing. No formula for it is known here: without its strength it is refused.
    pub struct Detail {
        /// What it is.
        detail: DetailKind,
        /// Its design strength, reduced, as a force at the bearing.
        strength: Option<Given<Force, Positive>>,
        /// Where that strength comes from: calculation, drawing, clause.
        source: Option<String>,
        /// Force of the test.
        test: Option<Given<Force, Positive>>,
        /// Force of the catch.
        catch: Option<Given<Force, Positive>>,
    }
}

const CLAUSE: &str = "detail at the bearing, strength as given";

impl Detail {
    /// A detail with its design strength and where that comes from.
    #[must_use]
    pub fn of(kind: DetailKind, strength: Force, source: &str) -> Self {
        Self {
            detail: kind,
            strength: Some(Given::known(strength)),
            source: Some(source.to_owned()),
            test: None,
            catch: None,
        }
    }

    /// Each action against the strength.
    ///
    /// # Errors
    /// All at once: a value that its rule refuses; `capacity.not-known` without a strength,
    /// `source.field-missing` without its source.
    pub fn check(&self) -> Result<LocalFound, Error> {
        validate_single(self)?;
        let mut issues = Vec::new();
        if self.strength.is_none() {
            let message = format!("no formula for a {} is known here", self.detail.word());
            issues.push(Issue::new(slug::CAPACITY_NOT_KNOWN, "strength", message));
        }
        if self.source.as_ref().is_none_or(|s| s.trim().is_empty()) {
            let message = "a strength without a word on where it comes from";
            issues.push(Issue::new(slug::SOURCE_FIELD_MISSING, "source", message));
        }
        Error::check(issues)?;
        let strength = self.strength.as_ref().map_or(Force::ZERO, |s| s.value);
        let actions = (&self.test, &self.catch);
        let code = (slug::CAPACITY_DETAIL, CLAUSE);
        Ok(LocalFound {
            clause: CLAUSE,
            mode: "detail at the bearing, brittle",
            expected: None,
            design: Some(strength),
            checks: checks(code, strength.si(), actions, Quantified::quantity),
            notes: Vec::new(),
            left_out: vec!["how the strength was found: the value is the engineer's"],
            working: Working::default(),
        })
    }
}
