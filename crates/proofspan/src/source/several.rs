//! One thing, or a list of them.

use core::ops::{Deref, DerefMut};
use std::borrow::Cow;

use super::leaves::{Door, Leaf};
use super::read::{End, Read, Reader, Write};
use super::rule::Rule;
use super::shapes::Shapes;
use super::tree::{Node, Value};
use crate::error::slug;

/// One or more of a kind: a document may give one without brackets. One alone is written without,
/// and has the path of the field itself.
///
/// ```
/// use proofspan::source::{read_json, Several};
/// use proofspan::source::Given;
/// use proofspan::units::Length;
/// proofspan::record! {
///     /// A line of spans.
///     pub struct Line {
///         /// Centre to centre of the bearings, from left to right.
///         span: Several<Given<Length>>,
///     }
/// }
/// let one: Line = read_json(r#"{ "span": "6 m" }"#)?;
/// let two: Line = read_json(r#"{ "span": ["6 m", "8 m"] }"#)?;
/// assert_eq!((one.span.len(), two.span.len()), (1, 2));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Several<T>(Vec<T>);

impl<T> Several<T> {
    /// None of them: for a field that may be left out. No document says so with an empty list.
    #[must_use]
    pub const fn none() -> Self {
        Self(Vec::new())
    }

    /// The path of one of them, where the field has this path.
    #[must_use]
    pub fn path<'a>(&self, field: &'a str, index: usize) -> Cow<'a, str> {
        if self.0.len() == 1 { field.into() } else { format!("{field}[{index}]").into() }
    }
}

impl<T> From<T> for Several<T> {
    fn from(one: T) -> Self {
        Self(vec![one])
    }
}

impl<T> From<Vec<T>> for Several<T> {
    fn from(list: Vec<T>) -> Self {
        Self(list)
    }
}

impl<T> FromIterator<T> for Several<T> {
    fn from_iter<I: IntoIterator<Item = T>>(items: I) -> Self {
        Self(items.into_iter().collect())
    }
}

impl<T> Deref for Several<T> {
    type Target = [T];
    fn deref(&self) -> &[T] {
        &self.0
    }
}

impl<T> DerefMut for Several<T> {
    fn deref_mut(&mut self) -> &mut [T] {
        &mut self.0
    }
}

impl<'a, T> IntoIterator for &'a Several<T> {
    type Item = &'a T;
    type IntoIter = core::slice::Iter<'a, T>;
    fn into_iter(self) -> Self::IntoIter {
        self.0.iter()
    }
}

impl<T: Read> Read for Several<T> {
    fn read(node: &Node, reader: &mut Reader) -> Option<Self> {
        match &node.value {
            Value::List(items) if items.is_empty() => {
                reader.refuse(slug::SOURCE_SIZE, "an empty list; one or more are wanted", node);
                None
            }
            Value::List(items) if items.len() == 1 => {
                let item = items.first()?;
                reader.item(0, |r| r.value(item)).map(|one| Self(vec![one]))
            }
            Value::List(_) => Vec::read(node, reader).map(Self),
            _ => reader.value(node).map(|one| Self(vec![one])),
        }
    }
    fn shape(shapes: &mut Shapes) -> serde_json::Value {
        let one = T::refer(shapes);
        serde_json::json!({ "anyOf": [one, { "type": "array", "minItems": 1, "items": one }] })
    }
    fn validate(&self, reader: &mut Reader) {
        if let [one] = self.0.as_slice() {
            one.validate(reader);
        } else {
            self.0.validate(reader);
        }
    }
    fn sample() -> Node {
        T::sample()
    }
    fn leaves<R: Rule>(door: &Door, visit: &mut dyn FnMut(Leaf)) {
        T::leaves::<R>(door, visit);
    }
}

impl<T: Write> Write for Several<T> {
    fn write(&self) -> Node {
        match self.0.as_slice() {
            [] => Node::new(Value::Null),
            [one] => one.write(),
            _ => self.0.write(),
        }
    }
    fn ranged(&self) -> bool {
        self.0.ranged()
    }
    fn ranges(&mut self, path: &str, choose: &mut dyn FnMut(&str, bool) -> End) {
        if let [one] = self.0.as_mut_slice() {
            one.ranges(path, choose);
        } else {
            self.0.ranges(path, choose);
        }
    }
}
