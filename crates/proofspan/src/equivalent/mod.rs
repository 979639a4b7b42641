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
//!
//! ```
//! use proofspan::beam::{Beam, Load};
//! use proofspan::equivalent::*;
//! use proofspan::source::read_json;
//! use proofspan::units::*;
//! let beam = Beam::simple(8.0 * M, 2e4 * KN_M2)?;
//! let load = vec![Load::uniform(0.0 * M, 8.0 * M, 10.0 * KN_PER_M)];
//! let region = (2.0 * M, 6.0 * M);
//! let reference = Reference::of_loads(&beam, vec![("load".to_owned(), load)], vec![], Some(region))?;
//! let jacks = [3.0, 5.0].map(|x| Candidate::jack(x * M));
//! let asked = [Requirement::reach(Effect::Moment, 2.0 * M, 6.0 * M)];
//! let goals = [Objective::total()];
//! // 30 kN each bring 60 kN·m to 2 m, as the load does there, and 90 kN·m to the middle, where it brings 80
//! let forces = [30.0, 30.0].map(|p| Net(p * KN));
//! let loads: Vec<Load> = jacks.iter().zip(forces).flat_map(|(c, p)| c.loads(p.0)).collect();
//! let test = beam.response(&loads)?;
//! let confirmed = confirm(&beam, &reference, &asked, &jacks, &forces)?;
//! let most = largest_ratio(&reference, &test, Effect::Moment, BasisWord::Net, region)?;
//! assert!(confirmed.violation <= 1e-9 && most.is_some());
//! // what it does not test, and what may be built otherwise
//! assert!(!reached(&beam, &reference, &test).is_empty());
//! let said = warnings(&beam, &reference, &asked, (&jacks, &forces), &test, None)?;
//! let off: Deviations = read_json(r#"{"place": "50 mm", "force": 0.02}"#)?;
//! let built = as_built(&beam, &reference, &asked, &jacks, &forces, &off)?;
//! assert!(said.distance.is_none() && !built.each.is_empty());
//! // how many of seven places, where between, and on steps of 100 mm and 1 kN
//! let stage = [Stage { name: "test", reference: &reference, requirements: &asked }];
//! let places = grid(&Candidate::jack(1.0 * M), 1.0 * M, 7.0 * M, 1.0 * M)?;
//! let found = search(&beam, &stage, &places, 2, None, &goals)?;
//! assert!(places.len() == 7 && found.best.is_some());
//! let rooms: [Room; 2] = [read_json(r#"{"from": "2 m", "to": "3.5 m"}"#)?, read_json(r#"{"from": "4.5 m", "to": "6 m"}"#)?];
//! assert_eq!(refine(&beam, &stage, &jacks, &rooms, &goals)?.candidates.len(), 2);
//! let best = optimise(&beam, &reference, &jacks, &asked, &goals)?;
//! let best = best.optimum().ok_or("a conflict")?.forces.clone();
//! assert!(buildable(&beam, &stage, &jacks, &[best], &goals, (0.1 * M, 1.0 * KN))?.is_some());
//! # #[cfg(feature = "cone")]
//! assert!(assured(&beam, &reference, &jacks, &asked, &goals[0], (&[0.02, 0.02], 2.0))?.is_some());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! ```
//! use proofspan::equivalent::{Effect, LayoutSpec, layout, verify};
//! use proofspan::target::reference;
//! use proofspan::beam::Beam;
//! use proofspan::editions::EditionChoice;
//! use proofspan::loads::Loads;
//! use proofspan::scope::Doubt;
//! use proofspan::source::read_json;
//! use proofspan::units::*;
//! use proofspan::verdict::MemberUnit;
//! let beam = Beam::simple(8.0 * M, 3e4 * KN_M2)?;
//! let loads: Loads = read_json(r#"{"width": "2 m", "self_weight": "4 kPa", "live": "3 kPa", "in_place": ["self_weight"]}"#)?;
//! let doubt: Doubt = read_json(r#"{"mode": "shear", "from": "0 m", "to": "1 m"}"#)?;
//! let edition = EditionChoice::of("ACI 437.2-13");
//! let (_, target) = reference(&beam, &loads, &edition, &[doubt], MemberUnit::Strip, None)?;
//! let spec: LayoutSpec = read_json(r#"{"carrier": {"kind": "jack_line", "at": "1 m"}}"#)?;
//! let found = layout(&target, &spec, None)?;
//! // 1.6 · 6 kN/m · 8 m / 2 at the bearing, times 8/7
//! assert!((found.force.0.to(KN) - 38.4 * 8.0 / 7.0).abs() < 1e-9);
//! assert!(verify(&beam, &target, &[(1.0 * M, found.force)], &[Effect::Shear])?.violation < 1e-9);
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
pub(crate) use answered::pencil::LAWS as CARRIER_LAWS;
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
pub use checked::filling::{Filling, Partly};
pub use checked::overshoot::{Overshoot, PlaceRatios};
pub use checked::reached::Shortfall;
pub use checked::untested::{Reached, reached};
pub use checked::verify::{Confirmation, Confirmed, Verification, confirm, verify};
pub use checked::warnings::{Warnings, warnings};

pub(crate) use answered::certificate::LAWS as CERTIFICATE_LAWS;
pub(crate) use answered::layout::{LAWS, Uneven, laid_out};
