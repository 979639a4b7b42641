//! How much shear does a section carry, and what gives way first?
//!
//! ACI 318-19 in pounds and inches, its metric form ACI 318M-19, EN 1992-1-1:2004 and, without stirrups,
//! EN 1992-1-1:2023. Every formula takes its numbers in the unit it was published in: a strength is
//! converted into that unit, the answer is never scaled. The two forms of ACI 318-19 so differ by the
//! rounding of their constants alone, up to about 2 %.
//!
//! A prediction, never an approval. Formulas of codes are lower bounds of tests: measured over calculated
//! is about 1.1 to 1.5 with a scatter of 15 to 30 % (common practice).

mod aci;
mod alone;
mod along;
mod columns;
mod en;
mod governs;
mod spec;

pub use aci::{
    AciCracking, AciForm, AciPrestress, AciShear, AciWeb, cracking, detailed, prestressed,
    prestressed_part, reinforced,
};
pub use alone::{ShearFound, ShearParts};
pub use along::PredictedShear;
pub use columns::{ShearColumns, StirrupColumns};
pub use en::{EnShear, EnWeb, en_2004, en_2004_uncracked, en_2023_plain};
pub use governs::Governs;
pub use spec::{
    Approximate, Detailed, Prestressed, Reduction, ShearEdition, ShearStrength, Stirrups,
    StrutSlope, Uncracked,
};

pub(crate) use aci::LAWS as ACI_LAWS;
pub(in crate::capacity) use alone::said;
pub(in crate::capacity) use along::{Acting, ShearQuestion};
pub(crate) use en::LAWS as EN_LAWS;
pub(crate) use spec::{STRAIGHT_INTO_BEARING, STRUT_CARRIES, STRUT_NOTED};
