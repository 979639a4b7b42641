//! What the limits of a criterion speak of, and what was predicted.

use crate::editions::SpanRule;
use crate::units::Length;
use crate::verdict::MemberUnit;

/// What the limits speak of.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Facts {
    /// Span by the edition's rule.
    pub lt: Length,
    /// Effective span, centre to centre.
    pub l: Length,
    /// Overall depth.
    pub h: Length,
    /// What one value is counted for.
    pub unit: MemberUnit,
}

impl Facts {
    /// Whether the limits are those of a cantilever or an overhang, whose span counts twice.
    pub(crate) fn cantilever(&self) -> bool {
        self.lt > self.l * 1.5
    }

    /// Span of the limits: the lesser of centre to centre and clear span plus depth, or twice
    /// a cantilever; the effective span where the edition speaks of that.
    #[must_use]
    pub fn span(
        rule: SpanRule,
        centres: Length,
        clear: Option<Length>,
        depth: Length,
        cantilever: bool,
    ) -> Length {
        if cantilever {
            return centres * 2.0;
        }
        match (rule, clear) {
            (SpanRule::Lt, Some(clear)) => centres.min(clear + depth),
            _ => centres,
        }
    }
}

/// What was predicted, so that a small test deflection is not taken for a stiff member.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
pub struct Predicted {
    /// Largest deflection of the member under the jacks, soft prediction.
    pub jacks: Option<Length>,
    /// Largest deflection of the member under the distributed load the jacks stand for, soft prediction.
    pub reference: Option<Length>,
}
