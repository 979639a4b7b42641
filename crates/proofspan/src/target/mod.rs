//! What must the test reproduce, and which term governs each quantity?
//!
//! A term is one combination of the load set: total = Σ factor × nominal action; net = total
//! less what is already in place, at its actual value (factor 1.0). No single term is "the"
//! test load: intensity, shear and moment have each their own governing term, which changes
//! along the member. Crossings are roots of polynomials, never read from a grid.

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
