//! What is asked, of which member, region and failure mode, per what unit, and how do
//! neighbours share?
//!
//! Covered: beams, joists, strips, tee stems and cantilevers that carry one way. Columns,
//! walls, footings, torsion and stairs with landings are refused by name; two-way floors
//! need an influence matrix, which this version does not read.
//!
//! ```
//! use proofspan::scope::narrow_patch;
//! use proofspan::units::*;
//! // a strip as wide as the span nearly reaches the moment of the whole width, a narrow one less
//! let (wide, narrow) = (narrow_patch(6.0 * M, 6.0 * M), narrow_patch(1.0 * M, 6.0 * M));
//! assert!(narrow < wide && wide < 1.0);
//! ```

mod doubt;
mod member;
mod sharing;

pub use doubt::{Doubt, Finding, FindingKind, Mode, RegionPlace, Scope};
pub use member::{Joists, Member, MemberKind};
pub use sharing::{
    JoistShare, LoadedWidth, RelativeStiffness, SharesIn, Sharing, SharingRule, narrow_patch,
};
