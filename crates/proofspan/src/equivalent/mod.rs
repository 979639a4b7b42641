//! Which few loads reproduce that, and who can check it?
//!
//! **One carrier.** [`layout`] finds the least force of one line of jacks or one spreader: the
//! supremum, over every x of the region in doubt and every term, of reference over unit effect.
//!
//! **Several carriers.** [`optimise`] finds the forces of given [`Candidate`]s that meet every
//! [`Requirement`] at every x and make the [`Objective`]s small, the first before the second. A
//! requirement is a continuum of rows; rows come where they are violated most, found exactly among
//! ends, each from its own side, and roots of a slope; a dual simplex takes them up warm. The
//! multipliers of the last basis are the [`Certificate`]: with it anybody proves with a dozen
//! multiplications that no forces are better. Where none will do, the [`Conflict`] is the smallest set
//! of requirements that contradict each other, with the same kind of proof, what each would have to
//! give, and what a further jack would change ([`Problem::further`]). A verifier that shares nothing
//! with the search, neither superposition nor roots, bounds every requirement once more
//! ([`confirm`], for forces of any origin).
//!
//! **How many, and where.** [`search`] tries every choice of few of many candidates, or says that it
//! did not, with a bound; [`refine`] moves them in ranges. [`buildable`] rounds places and forces, the
//! places the same for every [`Stage`].
//!
//! **Numbers.** What is below 1e-12 of its largest on the member is rounding, and zero: a load on one
//! side of a hinge has no effect on the other. No force is above a thousand times the reference (library
//! rule); where one would be needed, the carriers hardly reach what is asked, and the conflict says so.
//! Forces that the verifier does not accept are an error with the problem attached, never an answer.
//!
//! **What it does not say.** A layout holds for the supports, stiffness, places and forces stated:
//! [`as_built`] tries what may deviate, and below 1 the test is Inconclusive. [`reached`] lists what
//! the layout does not test, [`warnings`] what else to know: a load near a bearing tests the strut.
//!
//! ```
//! use proofspan::beam::{Beam, Load};
//! use proofspan::equivalent::*;
//! use proofspan::units::*;
//! // 10 kN/m on 8 m: sagging is in doubt from 2 m to 6 m; two jacks are to reproduce it
//! let beam = Beam::simple(8.0 * M, 2e4 * KN_M2)?;
//! let load = vec![Load::uniform(0.0 * M, 8.0 * M, 10.0 * KN_PER_M)];
//! let region = Some((2.0 * M, 6.0 * M));
//! let reference = Reference::of_loads(&beam, vec![("load".to_owned(), load)], vec![], region)?;
//! let jacks = [3.0, 5.0].map(|x| Candidate::jack(x * M));
//! let asked = [Requirement::reach(Effect::Moment, 2.0 * M, 6.0 * M)];
//! let answer = optimise(&beam, &reference, &jacks, &asked, &[Objective::total()])?;
//! let best = answer.optimum().ok_or("a conflict")?;
//! // M(2 m) asks for 60 kN·m, so the reactions for 30 kN
//! let sum: f64 = best.forces.iter().map(|f| f.0.to(KN)).sum();
//! assert!((sum - 60.0).abs() < 1e-9 && best.confirmation.violation <= 0.0);
//! assert!((best.certificates[0].bound / 60e3 - 1.0).abs() < 1e-9);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod answered;
mod asked;
mod checked;
mod solved;

pub use answered::buildable::{Buildable, BuiltStage, buildable};
pub use answered::certificate::{Certificate, CertificateRow};
#[cfg(feature = "cone")]
pub use answered::cone::{Assured, assured};
pub use answered::conflict::{Conflict, OwnBound, Relaxation};
pub use answered::further::{Elsewhere, Further};
pub use answered::layout::{JackLine, Layout, layout};
pub use answered::optimise::{Answer, Freedom, Optimum, optimise};
pub use answered::places::{MOST_MOVED, MOST_PLACES, Placed, Room, grid, refine};
pub use answered::problem::Problem;
pub use answered::ratio::largest_ratio;
pub use answered::search::{Choice, MOST_CARRIERS, Searched, Stage, search};
pub use asked::candidate::{Candidate, MOST_CANDIDATES, MOST_PILES};
pub use asked::carrier::{
    Axle, BagsSpec, Carried, Carrier, CarrierKind, Freeboard, Layers, PadSpec, PileGap, WaterSpec,
    WheelsSpec,
};
pub use asked::deviations::{Deviations, EndFixity, Ends};
pub use asked::effect::{BasisWord, Effect};
pub use asked::jack::{Contact, JackLineSpec, Plate, ShareOfForce, SpreaderSpec};
pub use asked::objective::{Goal, Objective};
pub use asked::reference::Reference;
pub use asked::requirement::{
    DeflectionLimit, MomentLimit, Reach, ReactionLimit, Requirement, Sense, ShearLimit, ShearSpan,
    Within,
};
pub use asked::spec::{Cap, Count12, LayoutSpec, OvershootLimit, SearchSpec};
pub use checked::as_built::{AsBuilt, Deviation, as_built};
pub use checked::bounds::Bound;
pub use checked::overshoot::{Overshoot, PlaceRatios};
pub use checked::reached::Shortfall;
pub use checked::untested::{Reached, reached};
pub use checked::verify::{Confirmation, Confirmed, Verification, confirm, verify};
pub use checked::warnings::{Warnings, warnings};

pub(crate) use answered::layout::{LAWS, laid_out};
