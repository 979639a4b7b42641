//! The tree that every document becomes.

use crate::units::{Dimension, Kind, Quantity, Said, Shown, System, head};

/// The deepest nesting that is read, at every door.
pub const MAX_DEPTH: usize = 128;

/// The longest JSON text that is read, in bytes: 64 MiB.
pub const MAX_TEXT: usize = 64 << 20;

/// The longest TOML text that is read, in bytes: 4 MiB; every value of it keeps its place.
pub const MAX_TOML: usize = 4 << 20;

/// The most values a document may hold, those inside lists and objects included.
pub const MAX_VALUES: usize = 1_000_000;

/// The longest list that is read into a record.
pub const MAX_ITEMS: usize = 10_000;

/// Line and column in the text of a document, both from 1.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Place {
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
}

/// A value of a document with its place, where that is known.
#[derive(Clone, PartialEq, Debug)]
pub struct Node {
    /// The value.
    pub value: Value,
    /// Where it stood.
    pub place: Option<Place>,
}

/// What a document can hold. Closed: it is the form of every document.
#[derive(Clone, PartialEq, Debug)]
pub enum Value {
    /// Nothing.
    Null,
    /// True or false.
    Bool(bool),
    /// A number without a unit.
    Number(f64),
    /// A whole number that counts something.
    Count(u64),
    /// Text; in a document, a quantity is text with its unit.
    Text(String),
    /// A quantity that did not come from text (a result, or a Python object). JSON writes
    /// it as SI text.
    Quantity {
        /// What it measures, where that is known.
        kind: Option<Kind>,
        /// Its SI dimension.
        dimension: Dimension,
        /// Its SI value.
        si: f64,
    },
    /// Values in order.
    List(Vec<Node>),
    /// Named values in the order of the document, duplicates kept.
    Map(Vec<Entry>),
}

/// A named value.
#[derive(Clone, PartialEq, Debug)]
pub struct Entry {
    /// The name.
    pub key: String,
    /// The value.
    pub node: Node,
}

impl Node {
    /// A value without a place.
    #[must_use]
    pub const fn new(value: Value) -> Self {
        Self { value, place: None }
    }

    /// Text.
    #[must_use]
    pub fn text(text: impl Into<String>) -> Self {
        Self::new(Value::Text(text.into()))
    }

    /// A number without a unit; nothing where it is not finite.
    #[must_use]
    pub const fn number(number: f64) -> Self {
        Self::new(if number.is_finite() { Value::Number(number) } else { Value::Null })
    }

    /// A quantity; nothing where it is not finite.
    #[must_use]
    pub const fn quantity(quantity: Quantity) -> Self {
        if !quantity.si.is_finite() {
            return Self::new(Value::Null);
        }
        Self::new(Value::Quantity {
            kind: Some(quantity.kind),
            dimension: quantity.kind.dimension(),
            si: quantity.si,
        })
    }

    /// A map of the entries that are not `Null`.
    #[must_use]
    pub fn map(entries: Vec<(&str, Self)>) -> Self {
        Self::new(Value::Map(
            entries
                .into_iter()
                .filter(|(_, node)| node.value != Value::Null)
                .map(|(key, node)| Entry { key: key.to_owned(), node })
                .collect(),
        ))
    }

    /// The same without the entries of these names, at every depth.
    #[must_use]
    pub(crate) fn without(mut self, names: &[&str]) -> Self {
        match &mut self.value {
            Value::Map(entries) => {
                entries.retain(|e| !names.contains(&e.key.as_str()));
                for e in entries {
                    e.node = core::mem::replace(&mut e.node, Self::new(Value::Null)).without(names);
                }
            }
            Value::List(items) => {
                for item in items {
                    *item = core::mem::replace(item, Self::new(Value::Null)).without(names);
                }
            }
            _ => {}
        }
        self
    }

    /// The first value of this name in a map.
    #[must_use]
    pub fn get(&self, key: &str) -> Option<&Self> {
        match &self.value {
            Value::Map(entries) => entries.iter().find(|e| e.key == key).map(|e| &e.node),
            _ => None,
        }
    }

    /// What the value is, in words for messages.
    #[must_use]
    pub const fn type_word(&self) -> &'static str {
        match self.value {
            Value::Null => "nothing",
            Value::Bool(_) => "true or false",
            Value::Number(_) | Value::Count(_) => "a bare number",
            Value::Text(_) => "text",
            Value::Quantity { .. } => "a quantity",
            Value::List(_) => "a list",
            Value::Map(_) => "an object",
        }
    }

    /// The same with every quantity as text in the usual unit of a system, with all its digits, so that it
    /// reads back; a plain ratio is a number. Lengths below 0.25 m are in mm or inches.
    #[must_use]
    pub fn in_units(self, system: System) -> Self {
        let value = match self.value {
            Value::Quantity { kind: Some(Kind::Ratio), si, .. } => Value::Number(si),
            Value::Quantity { kind: Some(kind), si, .. } => {
                let small = kind == Kind::Length && si.abs() < 0.25;
                let row = if small { kind.small(system) } else { kind.usual(system) };
                Value::Text(Shown::new(si, row).to_string())
            }
            Value::Quantity { kind: None, .. } => Value::Text(self.brief()),
            Value::List(items) => {
                Value::List(items.into_iter().map(|n| n.in_units(system)).collect())
            }
            Value::Map(entries) => Value::Map(
                entries.into_iter().map(|e| Entry { node: e.node.in_units(system), ..e }).collect(),
            ),
            value => value,
        };
        Self { value, place: self.place }
    }

    /// The same as [`brief`](Self::brief), where a quantity is read in the units of whoever reads it.
    #[must_use]
    pub fn said(&self) -> Said {
        match &self.value {
            Value::Quantity { kind: Some(kind), si, .. } => Quantity::new(*kind, *si).into(),
            Value::Number(n) => Said::from(*n),
            _ => self.brief().into(),
        }
    }

    /// The value as written, shortened for messages.
    #[must_use]
    pub fn brief(&self) -> String {
        match &self.value {
            Value::Null => "null".to_owned(),
            Value::Bool(b) => b.to_string(),
            Value::Number(n) => format!("{n}"),
            Value::Count(n) => n.to_string(),
            Value::Text(t) => {
                format!("\"{}\"", head(t, 60))
            }
            Value::Quantity { kind, dimension, si } => match kind {
                Some(kind) => crate::units::si_text(*kind, *si),
                None => format!("{si:?} {dimension}"),
            },
            Value::List(items) => format!("a list of {}", items.len()),
            Value::Map(entries) => format!("an object of {} fields", entries.len()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_taken_out_at_every_depth() {
        let one = |rest: &[&str]| {
            Node::map(rest.iter().map(|name| (*name, Node::number(1.0))).collect::<Vec<_>>())
        };
        let whole = |inner: Node| Node::map(vec![("a", Node::new(Value::List(vec![inner])))]);
        assert_eq!(whole(one(&["b", "c"])).without(&["c", "d"]), whole(one(&["b"])));
    }
}
