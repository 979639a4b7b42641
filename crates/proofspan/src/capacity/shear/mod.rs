//! How much shear does a section carry, and what gives way first?
//!
//! ACI 318-19 in pounds and inches, its metric form ACI 318M-19, EN 1992-1-1:2004 and, without stirrups,
//! EN 1992-1-1:2023. Every formula takes its numbers in the unit it was published in: a strength is
//! converted into that unit, the answer is never scaled. The two forms of ACI 318-19 so differ by the
//! rounding of their constants alone, up to about 2 %.
//!
//! A prediction, never an approval. Formulas of codes are lower bounds of tests: measured over calculated
//! is about 1.1 to 1.5 with a scatter of 15 to 30 % (common practice).
//!
//! ```
//! use proofspan::capacity::shear::*;
//! use proofspan::formula::NoRecord;
//! use proofspan::units::*;
//! let web = AciWeb {
//!     fc: 4000.0 * PSI, lambda: 1.0, b: 12.0 * IN, d: 20.0 * IN, rho: 0.01, axial: 0.0 * LBF, gross: 264.0 * IN2,
//!     av: 0.0 * IN2, spacing: f64::INFINITY * IN, fyt: 60.0 * KSI, minimum: true,
//! };
//! let rec = &mut NoRecord;
//! // 2 √4000 psi · 240 in²
//! let plain = reinforced(rec, &AciForm::US, &web);
//! assert!((plain.concrete.to(LBF) - 2.0 * 4000_f64.sqrt() * 240.0).abs() < 1e-6);
//! let near = prestressed(rec, &AciForm::US, &web, (40.0 * KIP, 100.0 * KIP_FT, 20.0 * IN));
//! assert!(near.concrete > plain.concrete);
//! let prestress = AciPrestress {
//!     dp: 20.0 * IN, h: 24.0 * IN, modulus: SectionModulus::per(13_824.0 * IN4, 12.0 * IN),
//!     fpe: 1000.0 * PSI, fpc: 400.0 * PSI, fd: 300.0 * PSI,
//!     vp: 0.0 * LBF, vd: 5.0 * KIP, vi: 20.0 * KIP, most: 100.0 * KIP_FT, mostly: true,
//! };
//! let (found, cracks) = detailed(rec, &AciForm::US, &web, &prestress);
//! assert_eq!(cracks, cracking(rec, &AciForm::US, &web, &prestress));
//! assert!(found.concrete <= cracks.web_shear.max(cracks.flexure_shear));
//! let web = EnWeb {
//!     fck: 30.0 * MPA, gamma_c: 1.5, fcd: 20.0 * MPA, b: 300.0 * MM, d: 450.0 * MM, z: 405.0 * MM,
//!     tension: 1350.0 * MM2, axial: 0.0 * N, gross: 0.15 * M2, asw: 0.0 * MM2, spacing: 200.0 * MM,
//!     fywd: 435.0 * MPA, alpha_cw: 1.0, cot: None,
//! };
//! // 0.18/1.5 (1 + √(200/450)) (100 · 0.01 · 30)^⅓ · 300 · 450 N
//! let v = 0.12 * (1.0 + (200.0_f64 / 450.0).sqrt()) * 30_f64.cbrt() * 135_000.0;
//! assert!((en_2004(rec, &web).concrete.to(N) - v).abs() < 1e-3);
//! // I b/S · f_ctd of a rectangle of 300 by 500 mm without axial force
//! let (i, s) = (SecondMoment::rectangle(300.0 * MM, 500.0 * MM), Volume::of(0.075 * M2, 125.0 * MM));
//! let uncracked = en_2004_uncracked(rec, (i, s, 300.0 * MM), 1.5 * MPA, 1.0, 0.0 * MPA);
//! assert!((uncracked.to(N) - 2.0 / 3.0 * 150_000.0 * 1.5).abs() < 1e-3);
//! assert!(en_2023_plain(rec, &web, (1.4, 435.0 * MPA, 16.0 * MM)).0 > 0.0 * N);
//! ```

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
