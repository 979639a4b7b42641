//! Can someone else follow every number?
//!
//! One content, two renderings: a self-contained HTML file (no script, no outside file) and
//! Markdown. Values are rounded on a page ([`Page`](crate::units::Page)); the user's own text stands beside the
//! values that were read. The same design and judgement give equal bytes.
//!
//! ```
//! use proofspan::units::{Page, System};
//! use proofspan::{TestSpec, design, report};
//! let text = std::fs::read_to_string("../../examples/scenarios/terrace_strip.test.json")?;
//! let design = design(TestSpec::from_json(&text)?)?;
//! assert!(report::html(&design, None)?.contains("17938.1 lbf"));
//! assert!(report::markdown(&design, None)?.contains("17938.1 lbf"));
//! assert!(report::shapes(&design, &Page::new(System::Us)).len() > 5);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod block;
mod carriers_drawn;
mod catching;
mod cell;
mod checklist;
mod content;
mod corrections;
mod diagram;
mod headline;
mod held;
mod history;
mod html;
mod judged;
mod label;
mod load_path;
mod markdown;
mod predicted;
mod rams_drawn;
mod reproduced;
mod shape;
mod signing;
mod sketch;
mod steps;
mod subject;
mod witness;

pub use html::html;
pub use markdown::markdown;
pub use shape::{Shape, ShapeKind};
pub use sketch::shapes;
