//! What acts here, and what of it is already there?
//!
//! Actions are nominal (unfactored), downward positive. A load over an area becomes a line
//! load per member unit through the tributary width: `w = q b`. What is already in place is
//! deducted at its actual value, factor 1.0. Snow drift and water that ponds have helpers of
//! their own; impact is in the live load of a code that puts it there, and nowhere twice.
//!
//! ```
//! use proofspan::beam::Beam;
//! use proofspan::loads::*;
//! use proofspan::units::*;
//! // 0.13 · 30 psf + 14 pcf
//! assert!((snow_weight(30.0 * PSF).to(PCF) - 17.9).abs() < 1e-9);
//! let old = drift_asce_7_16(30.0 * PSF, 21.0 * PSF, 100.0 * FT, 50.0 * FT, 10.0 * FT, 1.0)?;
//! let new = drift_asce_7_22(30.0 * PSF, 21.0 * PSF, 100.0 * FT, 10.0 * FT, 0.35)?;
//! assert!(old.height > 0.0 * FT && new.height > 0.0 * FT);
//! // γ b L⁴/(π⁴ EI) of 2 m of water surface on 8 m, and 1/(1 − α)
//! let (beam, gamma) = (Beam::simple(8.0 * M, 3e4 * KN_M2)?, 9.81 * KN_PER_M3);
//! let alpha = ponding_parameter(gamma, 2.0 * M, 8.0 * M, 3e4 * KN_M2);
//! assert!((alpha - 9.81 * 2.0 * 4096.0 / (std::f64::consts::PI.powi(4) * 3e4)).abs() < 1e-12);
//! assert!((amplified(0.2)? - 1.25).abs() < 1e-12);
//! let bed = [(0.0 * M, 50.0 * MM), (8.0 * M, 50.0 * MM)];
//! let water = ponding(&beam, &bed, 2.0 * M, gamma, 32)?;
//! assert!(water.weight > water.static_weight);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod action;
mod by_name;
mod nominal;
mod ponding;
mod snow;

pub use action::{
    Acting, Action, InPlaceShare, LoadPlace, Occupancy, PointAction, Symbol, Taper, Width,
};
pub use by_name::Loads;
pub(crate) use nominal::LAWS;
pub use nominal::{Nominal, line_of_area};
pub(crate) use ponding::LAWS as PONDING_LAWS;
pub use ponding::{
    MOST_PIECES, PONDING_LIMIT, Ponding, amplified, ponding, ponding_amplification,
    ponding_parameter,
};
pub use snow::{Drift, DriftSide, SnowLevel, drift_asce_7_16, drift_asce_7_22, snow_weight};
