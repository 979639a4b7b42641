//! How does the member respond?
//!
//! Lines of spans: simple, cantilever, overhang, continuous, with hinges, springs, settlement,
//! bearings that only push, stepped stiffness, free curvature and, where it is asked for, shear
//! deformation. `V = dM/dx`, `dV/dx = −q`, `EI ψ′ = −M − EI κ`, `w′ = ψ + V/(G A_s)`. No
//! mesh: every segment holds the exact solution as polynomials in its own local
//! coordinate, and extremes are found as roots, not by sampling.
//!
//! Signs: x from the left end; loads and deflections down positive; sagging
//! moment positive; reactions up positive; rotation = dw/dx; applied moments
//! clockwise positive (M jumps by +M₀ going right). At a jump the caller says
//! which side.
//!
//! ```
//! use proofspan::beam::{Beam, Load, Side};
//! use proofspan::units::*;
//! let beam = Beam::simple(45.0 * FT, 4.5e8 * LBF_FT2)?;
//! let jacks = beam.response(&[Load::point(6.0 * FT, 2_098_760.0 / 117.0 * LBF)])?;
//! let under = jacks.deflection(6.0 * FT)?;
//! assert!((under.to(IN) - 682_097.0 / 3_515_625.0).abs() < 1e-12);
//! let end = jacks.shear(0.0 * FT, Side::Right)?;
//! assert!((end.to(LBF) - 419_752.0 / 27.0).abs() < 1e-8);
//! # Ok::<(), proofspan::error::Error>(())
//! ```
//!
//! ```
//! use proofspan::beam::{Load, on_spans, usual_patterns, worst_patterns};
//! use proofspan::units::*;
//! assert_eq!(usual_patterns(2)?.len(), 4);
//! // of three spans that give 3, −1 and 2 the first and the last make the largest sum
//! let ((most, pattern), (least, _)) = worst_patterns(&[3.0, -1.0, 2.0]);
//! assert_eq!((most, least, pattern.loaded), (5.0, -1.0, vec![true, false, true]));
//! let load = Load::uniform(0.0 * M, 8.0 * M, 5.0 * KN_PER_M);
//! let parts = on_spans(load, &[(0.0 * M, 5.0 * M), (5.0 * M, 8.0 * M)]);
//! assert_eq!(parts[1].map(|p| p.resultant()), Some(15.0 * KN));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod banded;
mod bernstein;
mod by_hand;
mod coefficients;
mod envelope;
mod influence;
mod load;
mod model;
mod patterns;
mod pieces;
mod poly;
mod response;
mod segment;
mod solve;
mod spec;
mod state;
mod stiffness;

pub(crate) use bernstein::{Shape, bernstein_least, peak};
pub(crate) use by_hand::{Cut, LAWS, deflection as deflection_by_hand};
pub(crate) use coefficients::{Sought, Together, at_place, by_coefficients, grouped, reactions_at};
pub use envelope::{By, Ends, Envelope, Of, Pair};
pub use influence::{InfluenceLine, InfluenceOf, Worst};
pub use load::{Depth, Expansion, Load};
pub(crate) use model::redundant;
pub use model::{Beam, Restraint, Support};
pub use patterns::{
    MOST_SPANS, PATTERNED_SPANS, Pattern, Patterns, on_spans, usual_patterns, worst_patterns,
};
pub(crate) use pieces::{Piece, monotone, turning, walk};
pub use poly::{Poly, Roots};
pub use response::{Extreme, Extremes, Reaction, Response, Side};
pub(crate) use response::{Inside, on_member, on_member_at, on_stretch};
pub use segment::Segment;
pub use solve::MOST_SEGMENTS;
pub use spec::{
    BeamKind, BeamSpec, ConcreteModulus, Hold, Inertia, LinePlace, MemberModulus, Part, Rigidity,
    Settled, Span, Spring, Stiffness, StretchSpec, SupportSpec,
};
pub(crate) use spec::{Line, clear_within, line_fits, supports_in_order};
