//! JSON text to tree and back. Numbers keep their bits in both directions.

use core::fmt;

use core::cell::Cell;

use serde::de::{
    Deserialize, DeserializeSeed, Deserializer, Error as _, MapAccess, SeqAccess, Visitor,
};
use serde::ser::{Serialize, SerializeMap, SerializeSeq, Serializer};
use sha2::{Digest, Sha256};

use super::tree::{Entry, MAX_TEXT, MAX_VALUES, Node, Value};
use crate::error::{Error, Issue, slug};
use crate::units::Kind;

/// Reads JSON text into a tree; duplicate keys are kept.
///
/// # Errors
/// `source.syntax` with line and column; `source.depth` for more than 128 levels;
/// `source.size` for more than [`MAX_TEXT`] bytes or [`MAX_VALUES`] values.
pub fn parse_json(text: &str) -> Result<Node, Error> {
    within(text, MAX_TEXT)?;
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let left = Cell::new(MAX_VALUES);
    let mut json = serde_json::Deserializer::from_str(text);
    let node = Values(&left).deserialize(&mut json).and_then(|n| json.end().map(|()| n));
    node.map_err(|e| {
        let deep = e.to_string().contains("recursion limit");
        let slug = match (deep, left.get()) {
            (true, _) => slug::SOURCE_DEPTH,
            (false, 0) => slug::SOURCE_SIZE,
            (false, _) => slug::SOURCE_SYNTAX,
        };
        Issue::new(slug, "", format!("line {}, column {}: {e}", e.line(), e.column())).into()
    })
}

/// Refuses a text that is longer than `most` bytes.
pub(super) fn within(text: &str, most: usize) -> Result<(), Error> {
    if text.len() <= most {
        return Ok(());
    }
    let message = format!("a text of {} bytes", text.len());
    Err(Issue::new(slug::SOURCE_SIZE, "", message).limit(format!("at most {most} bytes")).into())
}

/// Writes a tree as indented JSON text that reads back to equal bits. Non-finite
/// numbers cannot occur in a tree that was read or written by this library.
#[must_use]
pub fn write_json(node: &Node) -> String {
    serde_json::to_string_pretty(node).unwrap_or_default()
}

/// SHA-256 of the tree as JSON text: 64 hexadecimal digits.
#[must_use]
pub fn fingerprint(node: &Node) -> String {
    let mut digest = Digested::default();
    digest.0.update(write_json(node).as_bytes());
    digest.hex()
}

/// The SHA-256 of texts and numbers one after the other.
#[derive(Default)]
pub(crate) struct Digested(Sha256);

impl Digested {
    /// A text and its length.
    pub(crate) fn text(&mut self, text: &str) {
        self.0.update(text.len().to_le_bytes());
        self.0.update(text.as_bytes());
    }

    /// So many numbers, bit for bit, in pieces; what is no number is one thing.
    pub(crate) fn numbers<P: AsRef<[f64]>>(
        &mut self,
        count: usize,
        pieces: impl Iterator<Item = P>,
    ) {
        self.0.update(count.to_le_bytes());
        let mut bytes = Vec::with_capacity(8 * 512);
        for piece in pieces {
            for some in piece.as_ref().chunks(512) {
                bytes.clear();
                for n in some {
                    let n = if n.is_nan() { f64::NAN } else { *n };
                    bytes.extend_from_slice(&n.to_le_bytes());
                }
                self.0.update(&bytes);
            }
        }
    }

    /// 64 hexadecimal digits.
    pub(crate) fn hex(self) -> String {
        self.0.finalize().iter().map(|b| format!("{b:02x}")).collect()
    }
}

impl Serialize for Node {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        match &self.value {
            Value::Null => s.serialize_unit(),
            Value::Bool(b) => s.serialize_bool(*b),
            Value::Count(n) => s.serialize_u64(*n),
            Value::Number(n) if whole(*n) => {
                #[expect(clippy::cast_possible_truncation, reason = "checked whole and small")]
                let n = *n as i64;
                s.serialize_i64(n)
            }
            Value::Number(n) => s.serialize_f64(*n),
            Value::Text(t) => s.serialize_str(t),
            // a plain ratio is a number
            Value::Quantity { kind: Some(Kind::Ratio), si, .. } => Self::number(*si).serialize(s),
            Value::Quantity { .. } => s.serialize_str(&self.brief()),
            Value::List(items) => {
                let mut list = s.serialize_seq(Some(items.len()))?;
                for item in items {
                    list.serialize_element(item)?;
                }
                list.end()
            }
            Value::Map(entries) => {
                let mut map = s.serialize_map(Some(entries.len()))?;
                for entry in entries {
                    map.serialize_entry(&entry.key, &entry.node)?;
                }
                map.end()
            }
        }
    }
}

/// Whether a number prints as an integer without loss (and is not a negative zero).
fn whole(n: f64) -> bool {
    n.abs() < 9e15
        && n.fract().abs() < f64::MIN_POSITIVE
        && !(n.is_sign_negative() && n.abs() < 1.0)
}

impl<'de> Deserialize<'de> for Node {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        Values(&Cell::new(MAX_VALUES)).deserialize(d)
    }
}

/// Reads a value, as long as there are values left to read.
#[derive(Clone, Copy)]
struct Values<'a>(&'a Cell<usize>);

impl<'de> DeserializeSeed<'de> for Values<'_> {
    type Value = Node;

    fn deserialize<D: Deserializer<'de>>(self, d: D) -> Result<Node, D::Error> {
        let left = self.0.get().checked_sub(1);
        self.0.set(left.ok_or_else(|| D::Error::custom(format!("more than {MAX_VALUES} values")))?);
        d.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Values<'_> {
    type Value = Node;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a JSON value")
    }
    fn visit_unit<E>(self) -> Result<Node, E> {
        Ok(Node::new(Value::Null))
    }
    fn visit_bool<E>(self, b: bool) -> Result<Node, E> {
        Ok(Node::new(Value::Bool(b)))
    }
    fn visit_i64<E>(self, n: i64) -> Result<Node, E> {
        #[expect(clippy::cast_precision_loss, reason = "a number of a document is a double")]
        Ok(Node::number(n as f64))
    }
    fn visit_u64<E>(self, n: u64) -> Result<Node, E> {
        #[expect(clippy::cast_precision_loss, reason = "a number of a document is a double")]
        Ok(Node::number(n as f64))
    }
    fn visit_f64<E>(self, n: f64) -> Result<Node, E> {
        Ok(Node::number(n))
    }
    fn visit_str<E>(self, t: &str) -> Result<Node, E> {
        Ok(Node::text(t))
    }
    fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<Node, A::Error> {
        let mut items = Vec::new();
        while let Some(item) = seq.next_element_seed(self)? {
            items.push(item);
        }
        Ok(Node::new(Value::List(items)))
    }
    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Node, A::Error> {
        let mut entries = Vec::new();
        while let Some(key) = map.next_key()? {
            entries.push(Entry { key, node: map.next_value_seed(self)? });
        }
        Ok(Node::new(Value::Map(entries)))
    }
}
