//! Where did this number come from, and what is wrong with the document it stood in?
//!
//! Every document (JSON, TOML, Python objects) becomes one tree ([`Node`]) that
//! keeps duplicate keys and places. One macro, [`record!`](crate::record), makes
//! from one field list a struct, its collecting reader, its writer and its JSON
//! schema; the reader reports *all* problems with their paths.
//!
//! ```
//! use proofspan::source::{read_json, Given};
//! use proofspan::units::Length;
//! proofspan::record! {
//!     /// A span and its name.
//!     pub struct Span {
//!         /// Centre to centre of the bearings.
//!         length: Given<Length>,
//!         /// How the drawing calls it.
//!         name: Option<String>,
//!     }
//! }
//! let span: Span = read_json(r#"{ "length": "45 ft" }"#)?;
//! assert_eq!(span.length.value, Length::parse("45 ft")?);
//!
//! let error = read_json::<Span>(r#"{ "lenght": 45, "name": 3 }"#).unwrap_err();
//! assert_eq!(error.codes(), ["source.field-unknown", "source.field-missing", "source.type"]);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! ```
//! use proofspan::source::*;
//! proofspan::record! {
//!     /// A bar.
//!     pub struct Bar {
//!         /// Its length.
//!         length: Given<proofspan::units::Length, rule::Positive>,
//!     }
//! }
//! let node = parse_json(r#"{ "length": "2 m" }"#)?;
//! let bar: Bar = read_node(&node)?;
//! assert_eq!(read_named::<Bar>("bar", &node)?, bar);
//! assert_eq!(read_toml::<Bar>("length = \"2 m\"")?, bar);
//! assert_eq!(read_node::<Bar>(&parse_toml("length = \"2 m\"")?)?, bar);
//! assert_eq!(read_json::<Bar>(&write_json(&bar.write()))?, bar);
//! assert_eq!(fingerprint(&node), fingerprint(&parse_json(r#"{"length":"2 m"}"#)?));
//! validate(&bar)?;
//! validate_named("bar", &bar)?;
//! // a refusal tells the path under the name of the argument
//! let short = parse_json(r#"{ "length": "-2 m" }"#)?;
//! assert_eq!(read_named::<Bar>("bar", &short).unwrap_err().issues[0].path, "bar.length");
//! assert_eq!(leaves::<Bar>().len(), 1);
//! // text of a user inside HTML and Markdown
//! assert_eq!((html("a<b"), markdown("a*b"), code("x")), ("a&lt;b".into(), "a\\*b".into(), "`x`".into()));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod answers;
mod date;
mod escape;
mod given;
mod json;
mod leaves;
mod name;
mod plain;
mod read;
mod record;
pub mod rule;
mod several;
mod shapes;
mod toml;
mod tree;
mod unused;

pub(crate) use date::{date, unread};
pub use escape::{code, html, markdown};
pub use given::{Given, Input, Origin};
pub(crate) use json::Digested;
pub use json::{fingerprint, parse_json, write_json};
pub use leaves::{Door, Leaf, Numbers, Sort};
pub use name::Name;
#[doc(hidden)]
pub use read::ranges_of;
pub use read::{
    End, Read, Reader, Unfolded, Write, leaves, read_json, read_named, read_node, read_toml,
    validate, validate_named,
};
pub(crate) use read::{validate_single, validate_single_named};
pub(crate) use record::{answer, variant};
#[doc(hidden)]
pub use record::{join_kind, split_kind};
pub use several::Several;
pub use shapes::{Shape, Shapes};
#[doc(hidden)]
pub use shapes::{Shaped, shape_of_words};
pub use toml::parse_toml;
pub use tree::{Entry, MAX_DEPTH, MAX_ITEMS, MAX_TEXT, MAX_TOML, MAX_VALUES, Node, Place, Value};
pub(crate) use unused::{letters, unused_ranges};
