//! Which few jacks reproduce that?
//!
//! A carrier is a pattern of contact points with fixed shares of one force P. The least P is
//! the supremum, over every x of the region in doubt and every term, of reference over unit
//! effect; on each polynomial piece it is found among the ends and the roots of the
//! derivative of that ratio. A separate verifier, which uses nothing of that search, then
//! checks the finished layout: no x of the region may fall short.
//!
//! A layout holds for the supports and stiffness stated. It is also run for the bounds of
//! end fixity the engineer gives; what falls short there is Inconclusive.

mod answers;
mod as_built;
mod bernstein;
mod bounds;
mod buildable;
mod candidate;
mod certificate;
#[cfg(feature = "cone")]
mod cone;
mod confirm;
mod conflict;
mod distance;
mod exchange;
mod layout;
mod objective;
mod optimise;
mod overshoot;
mod pieces;
mod places;
mod ratio;
mod require;
mod rows;
mod scale;
mod search;
mod simplex;
mod spec;
mod untested;
mod verify;
mod warnings;

pub use as_built::{AsBuilt, Deviation, Deviations, as_built};
pub use bounds::{Bound, EndFixity};
pub use buildable::{Buildable, buildable};
pub use candidate::Candidate;
pub use certificate::{Certificate, CertificateRow};
#[cfg(feature = "cone")]
pub use cone::{Assured, assured};
pub use confirm::{Confirmation, Confirmed};
pub use conflict::{Conflict, Further, Relaxation};
pub use layout::{JackLine, Layout, layout};
pub use objective::{Goal, Objective};
pub use optimise::{Answer, Freedom, Optimum, Problem, optimise};
pub use overshoot::{Effect, Overshoot};
pub use places::{Placed, Room, grid, refine};
pub use ratio::largest_ratio;
pub use require::{
    DeflectionLimit, MomentLimit, Reach, ReactionLimit, Reference, Requirement, Sense, ShearLimit,
    ShearSpan, Within,
};
pub use search::{Choice, Searched, Stage, search};
pub use spec::{BasisWord, Carrier, Ends, JackLineSpec, LayoutSpec, OvershootLimit, SpreaderSpec};
pub use untested::{Reached, reached};
pub use verify::{Shortfall, Verification, verify};
pub use warnings::{Warnings, warnings};

pub(crate) use layout::LAWS;
