//! What will the member do, and how will it fail first? Predictions to plan a test by, never an
//! approval: no answer of this module is a verdict on the member.
//!
//! Two sets of strengths throughout, [`StrengthSet`]: *expected* (mean strengths, no reduction) for
//! what will be read and for limits that stop a test, *design* (specified strengths, reduced as its
//! edition says) for everything the safety of people hangs on. A figure of an edition that nobody could confirm is
//! an input; every answer names the clause, the mode, and what it left out.
//!
//! A [`Section`] is what stands along a stretch of the member; a [`Cut`] is that section at one
//! place, with every bar and tendon at its depth there and what its anchorage lets it carry. Depths
//! count downwards from the top face.

mod alone;
mod along;
mod apart;
mod bends;
mod cracking;
mod deflection;
mod elastic;
mod face;
mod fibres;
mod flexure;
pub mod local;
mod material;
mod notes;
mod outline;
mod predicted;
mod ready;
mod section;
mod shape;
pub mod shear;
mod steel;
mod stiffness;
pub mod strengthening;
mod strips;
mod without;
mod worked;

pub use alone::{Deflecting, Deflections, SectionFound, SectionStrength};
pub use along::{CapacitySpec, SectionStretch};
pub(crate) use cracking::LAWS as CRACKING_LAWS;
pub use cracking::{Cracking, CrackingQuestion, CrackingRule, Scatter, TensileStrength};
pub use deflection::{DeflectionStep, Fails, FailsByCracking, PointForce};
pub(crate) use elastic::LAWS as ELASTIC_LAWS;
pub use elastic::StagedStresses;
pub use face::Face;
pub use fibres::{ConcreteLaw, FlexureMode};
pub(crate) use flexure::LAWS as FLEXURE_LAWS;
pub use flexure::{
    Block, CrushingStrain, Exponent, Flexure, FlexureCode, FlexureQuestion, ParabolaRectangle,
    PeakStrain, RectangularBlock, Reductions, SteelState, StressFactor,
};
pub use material::{
    Concrete, ConcreteStrength, ConcreteStress, Lightweight, SteelModulus, SteelStrength,
    SteelStress, StrengthSet,
};
pub use outline::{Outline, OutlineCorner, Properties};
pub use predicted::{
    Predicted, PredictedKind, PredictedMode, PredictedSection, PredictedStiffness, StiffnessFrom,
    StrengtheningExercised,
};
pub use ready::{BondTest, CuredWork, Curing};
pub use section::{Cut, Layer, Section, Topping};
pub use shape::{
    Corner, Hollow, OnSection, Polygon, Rectangle, Ribbed, RoundVoids, Shape, Size, Tee, Web,
};
pub use steel::{
    AlongMember, Bars, Bond, Breaks, CurveConstant, Debonded, Draped, InSection, Parabolic,
    Profile, Steel, Straight, StrandCurve, Tendon, ULTIMATE_STRAIN,
};
pub(crate) use stiffness::LAWS as STIFFNESS_LAWS;
pub use stiffness::{EffectiveMoment, Interaction, LoadFactor, SecondMoments};
pub(crate) use strips::LAWS as STRIP_LAWS;
pub use strips::{BondedHere, Installed, Strip};
