//! What values an input may take: edges with the code that refuses what lies beyond them.
//!
//! A rule is a type, so that an input carries it: [`Given<Length, Positive>`](super::Given) cannot
//! be built with a length of zero, whoever builds it. A plain field of a record names its rule
//! after `where`; reading a document and [`validate`](super::validate) apply the same one.
//!
//! ```
//! use proofspan::source::{Given, rule::Positive};
//! use proofspan::units::{FT, Length};
//! let span: Given<Length, Positive> = Given::new(45.0 * FT)?;
//! assert_eq!(span.value, 45.0 * FT);
//! let refused = Given::<Length, Positive>::new(-45.0 * FT).unwrap_err();
//! assert_eq!(refused.codes(), ["source.sign"]);
//! assert!(Given::<Length, Positive>::new(f64::NAN * FT).is_err());
//! # Ok::<(), proofspan::Error>(())
//! ```

use core::fmt;

pub use super::plain::Plain;
use crate::error::{Issue, Slug, slug};
use crate::units::{Kind, Message, Quantity, Said};

/// On which side of an edge values are accepted.
/// Closed: beyond the edge, or with it, from either side.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Side {
    /// Above it, itself refused.
    Above,
    /// From it upwards.
    Least,
    /// Up to it.
    Most,
}

/// One edge of what a value may be, in SI units of its kind.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Edge {
    /// On which side values are accepted.
    pub side: Side,
    /// Where the edge is.
    pub at: f64,
    /// The code of what lies beyond it.
    pub slug: Slug,
}

impl Edge {
    /// Whether a value keeps it.
    #[must_use]
    pub fn keeps(&self, si: f64) -> bool {
        match self.side {
            Side::Above => si > self.at,
            Side::Least => si >= self.at,
            Side::Most => si <= self.at,
        }
    }
}

/// What values an input may take. The first edge that is broken names the refusal.
pub trait Rule: Copy + fmt::Debug + PartialEq + Send + Sync + 'static {
    /// The edges, in the order in which they are looked at.
    const EDGES: &'static [Edge];
}

/// Makes rules: each a type with its edges and the codes of what lies beyond them.
///
/// ```
/// proofspan::rule! {
///     /// A slope of a ramp.
///     pub Slope { least 0.0 SOURCE_SIGN, most 0.2 SOURCE_MAGNITUDE }
/// }
/// use proofspan::source::rule::Rule;
/// assert_eq!(Slope::EDGES.len(), 2);
/// ```
#[macro_export]
macro_rules! rule {
    ($( $(#[doc = $doc:expr])* pub $name:ident { $( $side:ident $at:literal $slug:ident ),* $(,)? } )*) => {$(
        $(#[doc = $doc])*
        #[derive(Clone, Copy, PartialEq, Eq, Debug)]
        pub enum $name {}
        impl $crate::source::rule::Rule for $name {
            const EDGES: &'static [$crate::source::rule::Edge] = &[$(
                $crate::source::rule::Edge {
                    side: $crate::rule!(@side $side),
                    at: $at,
                    slug: $crate::error::slug::$slug,
                }
            ),*];
        }
    )*};
    (@side above) => { $crate::source::rule::Side::Above };
    (@side least) => { $crate::source::rule::Side::Least };
    (@side most) => { $crate::source::rule::Side::Most };
}

crate::rule! {
    /// Any finite value of a size that a member, its rig or a log can have.
    pub Any {}
    /// Above zero.
    pub Positive { above 0.0 SOURCE_SIGN }
    /// Zero or more.
    pub NotNegative { least 0.0 SOURCE_NEGATIVE }
    /// A part of a whole, zero to one.
    pub Share { least 0.0 SOURCE_SHARE, most 1.0 SOURCE_SHARE }
    /// A factor that only ever raises: one or more, up to a hundred (library rule).
    pub AtLeastOne { least 1.0 SOURCE_BELOW_ONE, most 100.0 SOURCE_MAGNITUDE }
    /// How many: one to ten thousand (library rule).
    pub Count { least 1.0 SOURCE_SIGN, most 10_000.0 SOURCE_MAGNITUDE }
    /// A movement, gap or stroke of zero to ten metres (library rule).
    pub Movement { least 0.0 SOURCE_NEGATIVE, most 10.0 SOURCE_MAGNITUDE }
    /// A standard uncertainty.
    pub Uncertainty { above 0.0 UNCERTAINTY_ZERO }
    /// A stretch of time: zero to a hundred years (library rule).
    pub Wait { least 0.0 SOURCE_NEGATIVE, most 3_155_760_000.0 SOURCE_MAGNITUDE }
    /// The version of a document: that of [`SCHEMA_VERSION`] alone.
    pub Version { least 1.0 SOURCE_VERSION, most 1.0 SOURCE_VERSION }
}

/// The version of documents, column maps and records that this library reads and writes.
pub const SCHEMA_VERSION: u32 = 1;

/// A value that its rule refuses.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Broken {
    slug: Slug,
    message: Message,
    limit: Message,
}

impl Broken {
    /// The issue, at a path, with the value as it was given.
    pub(crate) fn issue(self, path: impl Into<String>, value: impl Into<Said>) -> Issue {
        Issue::new(self.slug, path, self.message).value(value).limit(self.limit)
    }
}

/// What the rule `R` has against a value; nothing where it keeps it.
#[inline]
pub(crate) fn broken<R: Rule>(kind: Kind, si: f64) -> Option<Broken> {
    beyond(R::EDGES, kind, si)
}

/// What the edges have against a value; nothing where it keeps them.
pub(super) fn beyond(edges: &[Edge], kind: Kind, si: f64) -> Option<Broken> {
    let fits = si.is_finite()
        && edges.iter().all(|e| e.keeps(si))
        && si.abs() <= kind.largest()
        && (si.abs() >= kind.smallest() || !above_zero(edges));
    if fits { None } else { Some(refusal(edges, kind, si)) }
}

/// Whether a value above zero is asked for; such a value is divided by somewhere.
fn above_zero(edges: &[Edge]) -> bool {
    edges.iter().any(|e| e.side == Side::Above && e.at >= 0.0)
}

#[cold]
fn refusal(edges: &[Edge], kind: Kind, si: f64) -> Broken {
    // a plain number and a count are held as ratios
    let words = if kind == Kind::Ratio { "the number" } else { kind.words() };
    if !si.is_finite() {
        let (message, limit) = ("a finite number is wanted".into(), "finite".into());
        return Broken { slug: slug::UNITS_NONFINITE, message, limit };
    }
    if let Some(edge) = edges.iter().find(|e| !e.keeps(si)) {
        let at = || edge_said(kind, edge.at);
        let of = |template| Message::new(template, [words.into(), at()]);
        let (sign, message) = match edge.side {
            Side::Above if edge.at == 0.0 => ("> {}", of("{} must be above zero")),
            Side::Above => ("> {}", of("{} must be above {}")),
            Side::Least if edge.at == 0.0 => (">= {}", of("{} must be zero or more")),
            Side::Least => (">= {}", of("{} must be at least {}")),
            Side::Most => ("<= {}", of("{} must be at most {}")),
        };
        return Broken { slug: edge.slug, message, limit: Message::new(sign, [at()]) };
    }
    let (sign, at) = if si.abs() > kind.largest() {
        ("<= {}", kind.largest())
    } else {
        (">= {}", kind.smallest())
    };
    let message = Message::new("{} of a size that nothing in a test has", [words.into()]);
    Broken {
        slug: slug::SOURCE_MAGNITUDE,
        message,
        limit: Message::new(sign, [edge_said(kind, at)]),
    }
}

/// An edge, in the units of whoever reads it; zero needs none, but of a temperature.
fn edge_said(kind: Kind, at: f64) -> Said {
    let kind = if at == 0.0 && kind != Kind::Temperature { Kind::Ratio } else { kind };
    Quantity::new(kind, at).into()
}

/// The least and the largest value that a rule accepts.
pub(crate) fn bounds<R: Rule>(kind: Kind) -> (f64, f64) {
    let (mut low, mut high) = (-kind.largest(), kind.largest());
    for edge in R::EDGES {
        match edge.side {
            Side::Above if edge.at == 0.0 => low = low.max(kind.smallest()),
            Side::Above | Side::Least => low = low.max(edge.at),
            Side::Most => high = high.min(edge.at),
        }
    }
    (low, high)
}

#[cfg(test)]
#[allow(clippy::float_cmp, reason = "edges are compared as written")]
mod tests {
    use super::*;

    #[test]
    fn an_edge_refuses_on_its_own_side() {
        let code = |b: Option<Broken>| b.map(|b| b.slug.code());
        assert_eq!(code(broken::<Positive>(Kind::Length, 0.0)), Some("source.sign"));
        assert_eq!(code(broken::<Positive>(Kind::Length, 1e-12)), Some("source.magnitude"));
        assert_eq!(code(broken::<Positive>(Kind::Length, 1.0)), None);
        assert_eq!(code(broken::<NotNegative>(Kind::Length, 0.0)), None);
        assert_eq!(code(broken::<NotNegative>(Kind::Length, -1e-300)), Some("source.negative"));
        assert_eq!(code(broken::<Share>(Kind::Ratio, 1.0 + 1e-15)), Some("source.share"));
        assert_eq!(code(broken::<Any>(Kind::Length, f64::NAN)), Some("units.nonfinite"));
        assert_eq!(code(broken::<Any>(Kind::Length, -1e200)), Some("source.magnitude"));
        assert_eq!(bounds::<Share>(Kind::Ratio), (0.0, 1.0));
        assert_eq!(bounds::<Positive>(Kind::Length).0, Kind::Length.smallest());
    }
}
