//! In which unit is this number, and may these two be added?
//!
//! A physical quantity is a newtype over `f64` that holds the SI value: metre,
//! newton, pascal, kelvin, second. Other units exist only at the edges, when
//! text is read and when a number is shown.
//!
//! ```
//! use proofspan::units::*;
//! let width = 8.0 * FT;
//! let line = 76.0 * PSF * width;          // AreaLoad × Length is a LineLoad
//! let span = 45.0 * FT;
//! let moment = line * span * span / 8.0;  // LineLoad × Length × Length is a Moment
//! assert!((moment.to(LBF_FT) - 153_900.0).abs() < 1e-6);
//! ```
//!
//! Adding a load to a moment does not compile:
//!
//! ```compile_fail,E0308
//! use proofspan::units::*;
//! let line = 1.0 * KN_PER_M;
//! let moment = 1.0 * KN_M;
//! let nonsense = line + moment;
//! ```
//!
//! Force over length fits a line load and a spring alike, so that quotient has
//! no operator; it is asked for by name:
//!
//! ```compile_fail,E0277
//! use proofspan::units::*;
//! let nonsense = (1.0 * KN) / (1.0 * M);
//! ```
//!
//! ```
//! use proofspan::units::*;
//! let spring = SpringStiffness::per(400.0 * KIP, 1.0 * IN);
//! let line = LineLoad::spread(400.0 * KIP, 10.0 * FT);
//! # assert!(spring.si() > 0.0 && line.si() > 0.0);
//! ```
//!
//! Exact factors: 1 in = 0.0254 m and 1 lb = 0.453 592 37 kg (international yard
//! and pound agreement, 1959), standard gravity 9.806 65 m/s² (3rd CGPM, 1901),
//! hence 1 lbf = 4.448 221 615 260 5 N exactly.
//!
//! ```
//! use proofspan::units::*;
//! assert!((parse_quantity("45 ft", Kind::Length)? - 13.716).abs() < 1e-12);
//! assert_eq!(parse_number("17.9").ok(), Some(17.9));
//! assert_eq!(digits(1.25, 4), "1.25");
//! assert_eq!(nearest("shaer", ["shear", "moment"]), Some("shear"));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod basis;
mod column;
mod kind;
mod measure;
mod message;
mod page;
mod parse;
mod products;
mod quantity;
mod show;
mod unit;

pub use basis::{InPlace, LoadBasis, Net, Total};
pub use column::Column;
pub use kind::{Dimension, Kind, Quantity};
pub use measure::Measure;
pub use message::{Message, Said, written_in};
pub use page::{NOISE, Page};
pub use parse::{Fault, UnitError, nearest, parse_number, parse_quantity};
pub(crate) use parse::{SHOWN, head};
pub use quantity::*;
pub use show::{Shown, System, digits};
pub(crate) use show::{grouped, si_text, trimmed};
pub use unit::*;
