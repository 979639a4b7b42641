//! What must the test reproduce, and which term governs each quantity?
//!
//! A term is one combination of the load set: total = Σ factor × nominal action; net = total
//! less what is already in place, at its actual value (factor 1.0). No single term is "the"
//! test load: intensity, shear and moment have each their own governing term, which changes
//! along the member. Crossings are roots of polynomials, never read from a grid.
//!
//! ```
//! use proofspan::target::{compare, reference, target};
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
//! let (set, found) = reference(&beam, &loads, &edition, &[doubt.clone()], MemberUnit::Strip, None)?;
//! // the same from its parts
//! let again = target(&beam, found.nominal.clone(), &set, &[doubt.clone()], MemberUnit::Strip)?;
//! assert_eq!(again.terms.len(), found.terms.len());
//! let all = compare(&beam, &loads, &EditionChoice::of("any"), &doubt, MemberUnit::Strip, None)?;
//! let asks = all.iter().find(|c| c.name == "ACI 437.2-13").and_then(|c| c.outcome.as_ref().ok());
//! assert!((asks.ok_or("it asks")?.net_moment.0.to(KN_M) - 1.6 * 6.0 * 1.0 * 7.0 / 2.0).abs() < 1e-9);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod compare;
mod governing;
mod reference;
mod terms;
mod test_load;
mod working;

pub use compare::{Asks, Compared, compare};
pub use governing::{Asked, Crossing, Governing};
pub use reference::reference;
pub use terms::{Region, Target, Term, target};
pub use test_load::{CombinedLoad, TestLoad, TestLoads};

pub(crate) use reference::Question;
pub(crate) use test_load::LAWS as TEST_LOAD_LAWS;
pub(crate) use working::LAWS;
