//! One row of load factors, linear by construction.

use crate::error::{Issue, slug};
use crate::loads::Symbol;
use crate::source::{Node, Read, Reader, Shapes, Value, Write};

/// A column of the table of factors.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[non_exhaustive]
pub enum Column {
    /// One action.
    One(Symbol),
    /// Roof live load, snow and rain, each in turn.
    RoofSnowRain,
}

impl Column {
    fn of(key: &str) -> Option<Self> {
        if key == "Lr|S|R" { Some(Self::RoofSnowRain) } else { Symbol::of(key).map(Self::One) }
    }
    /// Its name in a file: "L", or "Lr|S|R".
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::One(symbol) => symbol.symbol(),
            Self::RoofSnowRain => "Lr|S|R",
        }
    }
    /// Whether the column holds this action.
    #[must_use]
    pub fn holds(self, symbol: Symbol) -> bool {
        match self {
            Self::One(own) => own == symbol,
            Self::RoofSnowRain => matches!(symbol, Symbol::RoofLive | Symbol::Snow | Symbol::Rain),
        }
    }
}

/// The factors of one combination.
#[derive(Clone, PartialEq, Debug)]
pub struct Factors(pub Vec<(Column, f64)>);

const KEYS: &[&str] = &["Dw", "Ds", "L", "Lr", "S", "R", "Lr|S|R", "Q", "F", "H"];

impl Read for Factors {
    fn read(node: &Node, reader: &mut Reader) -> Option<Self> {
        let entries = reader.map(node, "a row of factors", KEYS)?;
        let mut factors = Vec::with_capacity(entries.len());
        for entry in entries {
            let factor = reader.field(&entry.key, |r| factor(&entry.node, r));
            if let (Some(column), Some(factor)) = (Column::of(&entry.key), factor) {
                factors.push((column, factor));
            }
        }
        Some(Self(factors))
    }
    fn shape(_: &mut Shapes) -> serde_json::Value {
        serde_json::json!({ "type": "object", "propertyNames": { "enum": KEYS }, "additionalProperties": { "type": "number", "exclusiveMinimum": 0 } })
    }
    fn sample() -> Node {
        Node::map(vec![("Dw", Node::number(1.0))])
    }
}

/// The largest factor; none comes near it.
pub(super) const MOST: f64 = 100.0;

/// What a factor may be, in words.
pub(super) const LIMIT: &str = "> 0, at most 100";

/// Whether a load can have this factor; not-a-number and what is beyond every number cannot be.
pub(super) fn possible(factor: f64) -> bool {
    (0.0..=MOST).contains(&factor)
}

/// A factor above zero, or zero with its reason: `{ factor = 0.0, reason = "…" }`.
fn factor(node: &Node, reader: &mut Reader) -> Option<f64> {
    let (number, reason) = match &node.value {
        Value::Number(n) => (*n, false),
        Value::Map(_) => {
            let entries = reader.map(node, "a factor", &["factor", "reason"])?;
            let number: f64 = reader.entry(entries, "factor", None)?;
            let reason: String = reader.entry(entries, "reason", None)?;
            (number, !reason.trim().is_empty())
        }
        _ => {
            reader.refuse(
                slug::SOURCE_TYPE,
                format!("a factor is a number; here is {}", node.type_word()),
                node,
            );
            return None;
        }
    };
    if possible(number) && (number > 0.0 || reason) {
        return Some(number);
    }
    let line = node.place.map_or_else(String::new, |p| format!(" (line {})", p.line));
    let path = reader.path().to_owned();
    reader.push(
        Issue::new(
            slug::EDITIONS_FACTOR,
            path,
            format!(
                "a factor that is not above zero and gives no reason, or is beyond measure{line}"
            ),
        )
        .value(number)
        .limit(LIMIT),
    );
    None
}

impl Write for Factors {
    fn write(&self) -> Node {
        Node::map(self.0.iter().map(|(c, f)| (c.word(), Node::number(*f))).collect())
    }
}
