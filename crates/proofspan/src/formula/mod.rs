//! How is this number computed, and can someone else do it again?
//!
//! One grammar serves the conditions, criteria and limits of edition files, the
//! working of every result and its recheck: arithmetic, `^` with a whole number,
//! `min`, `max`, `sqrt`, `abs`, comparisons, `and`, `or`, `not`, `if(c, a, b)`,
//! named facts, quantities such as `0.05 in`, and `l[m]`, which strips a unit.
//! Every formula is checked for kinds before it is used. Logic has three values:
//! what is unknown stays unknown.
//!
//! ```
//! use proofspan::formula::{Formula, Vocabulary};
//! use proofspan::units::{Kind, Length};
//! let names = [("d_max", Kind::Length), ("l", Kind::Length), ("D", Kind::Length)];
//! let waiver = Formula::condition("d_max < 40*l[m]^2/D[mm] * 1 mm", &Vocabulary::of(&names))?;
//! let mm = |x: f64| Some(x / 1000.0);
//! assert_eq!(waiver.holds(&[mm(3.5), mm(6000.0), mm(400.0)]), Some(true)); // limit 3.6 mm
//! assert_eq!(waiver.holds(&[mm(3.6), mm(6000.0), mm(400.0)]), Some(false));
//! assert_eq!(waiver.holds(&[None, mm(6000.0), mm(400.0)]), None);
//! # Ok::<(), proofspan::error::Error>(())
//! ```
//!
//! A rule of engineering is native Rust whose own tokens are its formula: the
//! macro [`laws!`](crate::laws) makes the typed function and the [`Law`] from one text.

mod check;
mod eval;
mod latex;
mod law;
mod number;
mod parse;
mod print;
mod step;
mod working;

pub use check::{Type, Vocabulary};
pub use eval::{Formula, Sides};
pub use law::{Law, NoRecord, Recorder, Term, native};
pub use number::{Exact, Interval, Noisy, Number};
pub use parse::{Compare, Expr, Function, Operator};
pub use step::Step;
pub(crate) use working::Line;
pub use working::{Item, Mismatch, Went, Working};

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic, clippy::float_cmp, reason = "tests")]
mod tests;
