//! Which fields does every record have, and what may stand in them?
//!
//! The walk follows the records themselves, so that a new field is in it without anybody thinking
//! of it: tests lie to every field at every door, documentation lists them.

use core::fmt;

use super::rule::{Edge, Rule, bounds};
use super::tree::{Entry, Node, Value};
use crate::error::Error;
use crate::units::{Kind, si_text};

/// The record and field that a value stands in.
#[derive(Clone)]
pub struct Door {
    /// The name of the record.
    pub record: &'static str,
    /// The name of the field.
    pub field: &'static str,
    /// In how many lists, one in the other, the value stands.
    pub listed: usize,
    /// The required fields of the record with values that keep their rules.
    pub sample: fn() -> Node,
    /// Reads the record from a tree.
    pub read: fn(&Node) -> Result<(), Error>,
}

impl fmt::Debug for Door {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}.{}{}", self.record, self.field, "[0]".repeat(self.listed))
    }
}

impl Door {
    /// The sample of the record with this value in the field.
    #[must_use]
    pub fn with(&self, value: Node) -> Node {
        let value = (0..self.listed).fold(value, |v, _| Node::new(Value::List(vec![v])));
        let mut entries = match (self.sample)().value {
            Value::Map(entries) => entries,
            _ => Vec::new(),
        };
        entries.retain(|e| e.key != self.field);
        entries.push(Entry { key: self.field.to_owned(), node: value });
        Node::new(Value::Map(entries))
    }

    /// The path of the value in the record.
    #[must_use]
    pub fn path(&self) -> String {
        format!("{}{}", self.field, "[0]".repeat(self.listed))
    }
}

/// What a field holds.
#[derive(Clone, Copy, PartialEq, Debug)]
#[non_exhaustive]
pub enum Sort {
    /// An input with value, range and uncertainty.
    Given(Kind),
    /// A quantity.
    Quantity(Kind),
    /// A plain number.
    Number,
    /// A whole number.
    Count,
    /// True or false.
    Flag,
    /// Text.
    Text,
    /// One of these words.
    Word(&'static [&'static str]),
}

/// Numbers for a field, in SI units of its kind.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Numbers {
    /// The value.
    pub value: f64,
    /// The ends of its range.
    pub range: Option<(f64, f64)>,
    /// Its standard uncertainty.
    pub u: Option<f64>,
}

/// A field of a record that holds one value.
#[derive(Clone, Debug)]
pub struct Leaf {
    /// Where it stands.
    pub door: Door,
    /// What it holds.
    pub sort: Sort,
    /// What values are accepted.
    pub edges: &'static [Edge],
    /// Builds the value as typed Rust does.
    pub typed: fn(Numbers) -> Result<(), Error>,
}

impl Leaf {
    /// The leaf of a field that holds one of these words.
    #[must_use]
    pub fn word(door: &Door, words: &'static [&'static str]) -> Self {
        Self { door: door.clone(), sort: Sort::Word(words), edges: &[], typed: |_| Ok(()) }
    }
}

/// A value in the middle of what a rule accepts.
pub(super) fn sample_of<R: Rule>(kind: Kind) -> Node {
    Node::text(si_text(kind, middle::<R>(kind)))
}

/// A number in the middle of what a rule accepts: one where it can be.
fn middle<R: Rule>(kind: Kind) -> f64 {
    let (low, high) = bounds::<R>(kind);
    if (low..=high).contains(&1.0) { 1.0 } else { (low + high) / 2.0 }
}
