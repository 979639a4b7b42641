//! What is asked, of which member, region and failure mode, per what unit, and how do
//! neighbours share?
//!
//! Covered: beams, joists, strips, tee stems and cantilevers that carry one way. Columns,
//! walls, footings, torsion and stairs with landings are refused by name; two-way floors
//! need an influence matrix, which this version does not read.

mod doubt;
mod member;
mod sharing;

pub use doubt::{Doubt, Finding, FindingKind, Mode, RegionPlace, Scope};
pub use member::{Joists, Member, MemberKind};
pub use sharing::{
    JoistShare, LoadedWidth, RelativeStiffness, SharesIn, Sharing, SharingRule, narrow_patch,
};
