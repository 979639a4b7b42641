//! An input with its origin, its range and the text the user wrote.

use super::read::{End, Read, Reader, Write, read_quantity};
use super::tree::{Node, Value};
use crate::error::{Issue, slug};
use crate::units::{Quantified, parse_quantity};

crate::choice! {
    /// Where an input comes from.
    pub enum Origin ("origin", source::SOURCE_CHOICE) {
        /// Measured on the member.
        Measured = "measured",
        /// Read from a drawing.
        Drawing = "drawing",
        /// Calculated elsewhere.
        Calculated = "calculated",
        /// Assumed; named as an assumption in the report.
        Assumed = "assumed",
        /// Not stated.
        Unstated = "unstated",
    }
}

/// An engineering input: `"45 ft"`, or
/// `{ "value": "45 ft", "low": "44.9 ft", "high": "45.1 ft", "origin": "measured", "note": "…" }`,
/// or with `"u"` (standard uncertainty) in place of the range.
#[derive(Clone, PartialEq, Debug)]
pub struct Given<Q> {
    /// The value in SI.
    pub value: Q,
    /// The text as written, for the report.
    pub text: Option<String>,
    /// Lower and upper end of what the value may be.
    pub range: Option<(Q, Q)>,
    /// The standard uncertainty, above zero.
    pub u: Option<Q>,
    /// Where it comes from.
    pub origin: Origin,
    /// A remark.
    pub note: Option<String>,
}

impl<Q: Quantified> Given<Q> {
    /// A value without text, range and origin.
    #[must_use]
    pub const fn new(value: Q) -> Self {
        Self { value, text: None, range: None, u: None, origin: Origin::Unstated, note: None }
    }

    /// The same with its range.
    #[must_use]
    pub fn between(mut self, low: Q, high: Q) -> Self {
        self.range = Some((low, high));
        self
    }

    /// The lower end of what the value may be.
    #[must_use]
    pub fn low(&self) -> Q {
        self.range.map_or(self.value, |r| r.0)
    }

    /// The upper end of what the value may be.
    #[must_use]
    pub fn high(&self) -> Q {
        self.range.map_or(self.value, |r| r.1)
    }

    /// The text as written, or the SI text.
    #[must_use]
    pub fn shown(&self) -> String {
        self.text.clone().unwrap_or_else(|| crate::units::si_text(Q::KIND, self.value.magnitude()))
    }
}

impl<Q: Quantified> From<Q> for Given<Q> {
    fn from(value: Q) -> Self {
        Self::new(value)
    }
}

/// The user's text, where it is not the SI text that this library writes itself.
fn own_text<Q: Quantified>(text: &str, value: Q) -> Option<String> {
    let own = text.trim();
    (own != crate::units::si_text(Q::KIND, value.magnitude())).then(|| own.to_owned())
}

const FIELDS: &[&str] = &["value", "low", "high", "u", "origin", "note"];

impl<Q: Quantified> Read for Given<Q> {
    fn read(node: &Node, reader: &mut Reader) -> Option<Self> {
        if !matches!(node.value, Value::Map(_)) {
            let value: Q = read_quantity(node, reader)?;
            let text = match &node.value {
                Value::Text(text) => own_text(text, value),
                _ => None,
            };
            return Some(Self { text, ..Self::new(value) });
        }
        let entries = reader.map(node, "an input", FIELDS)?;
        let value: Option<Q> = reader.entry(entries, "value", None);
        let low: Option<Option<Q>> = reader.entry(entries, "low", None);
        let high: Option<Option<Q>> = reader.entry(entries, "high", None);
        let u: Option<Option<Q>> = reader.entry(entries, "u", None);
        let origin: Option<Origin> = reader.entry(entries, "origin", Some(|| Origin::Unstated));
        let note: Option<Option<String>> = reader.entry(entries, "note", None);
        let (value, low, high, u) = (value?, low?, high?, u?);
        let text = match node.get("value").map(|n| &n.value) {
            Some(Value::Text(text)) => own_text(text, value),
            _ => None,
        };
        let range = match (low, high) {
            (None, None) => None,
            (low, high) => Some((low.unwrap_or(value), high.unwrap_or(value))),
        };
        if let Some((low, high)) = range
            && !(low <= value && value <= high)
        {
            let path = reader.path().to_owned();
            let text = |q: Q| crate::units::si_text(Q::KIND, q.magnitude());
            reader.push(
                Issue::new(slug::SOURCE_RANGE, path, "low, value and high are not in order")
                    .value(text(value))
                    .limit(format!("{} to {}", text(low), text(high))),
            );
            return None;
        }
        if let Some(u) = u
            && u.magnitude() <= 0.0
        {
            let path = reader.path_of("u");
            reader.push(
                Issue::new(slug::UNCERTAINTY_ZERO, path, "a standard uncertainty of zero or less")
                    .value(u.magnitude())
                    .limit("> 0"),
            );
            return None;
        }
        Some(Self { value, text, range, u, origin: origin?, note: note? })
    }

    fn schema() -> serde_json::Value {
        let quantity = Q::schema();
        serde_json::json!({
            "oneOf": [
                quantity,
                {
                    "type": "object",
                    "properties": {
                        "value": quantity, "low": quantity, "high": quantity, "u": quantity,
                        "origin": Origin::schema(), "note": { "type": "string" },
                    },
                    "required": ["value"],
                    "additionalProperties": false,
                },
            ],
            "description": format!("{} with its unit, or with range and origin", Q::KIND.words()),
        })
    }
}

impl<Q: Quantified> Given<Q> {
    /// The ends of the range; without one, the value less and plus twice its standard
    /// uncertainty; nothing where neither is given.
    #[must_use]
    pub fn bounds(&self) -> Option<(Q, Q)> {
        let around = |u: Q| {
            let (value, u) = (self.value.magnitude(), 2.0 * u.magnitude());
            (Q::from_si(value - u), Q::from_si(value + u))
        };
        self.range.or(self.u.map(around))
    }
}

impl<Q: Quantified> Write for Given<Q> {
    fn ranged(&self) -> bool {
        self.range.is_some() || self.u.is_some()
    }
    fn ranges(&mut self, path: &str, choose: &mut dyn FnMut(&str) -> End) {
        let Some((low, high)) = self.bounds() else { return };
        let value = match choose(path) {
            End::Low => low,
            End::Given => self.value,
            End::High => high,
        };
        *self = Self { text: None, range: None, u: None, value, ..self.clone() };
    }

    /// The user's own text where it reads back to equal bits, else SI.
    fn write(&self) -> Node {
        let own = self.text.as_ref().filter(|t| {
            parse_quantity(t, Q::KIND)
                .is_ok_and(|si| si.to_bits() == self.value.magnitude().to_bits())
        });
        let value = own.map_or_else(|| self.value.write(), |t| Node::text(t.clone()));
        if self.range.is_none()
            && self.u.is_none()
            && self.origin == Origin::Unstated
            && self.note.is_none()
        {
            return value;
        }
        let origin = match self.origin {
            Origin::Unstated => Node::new(Value::Null),
            origin => origin.write(),
        };
        Node::map(vec![
            ("value", value),
            ("low", self.range.map(|r| r.0).write()),
            ("high", self.range.map(|r| r.1).write()),
            ("u", self.u.write()),
            ("origin", origin),
            ("note", self.note.write()),
        ])
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::super::{read_json, write_json};
    use super::*;
    use crate::units::Length;

    #[test]
    fn text_origin_and_range_survive_the_round_trip() {
        let text = r#"{"value":"0.1 ft","low":"0.03 m","high":"0.04 m","origin":"measured","note":"tape"}"#;
        let given: Given<Length> = read_json(text).unwrap();
        assert_eq!(given.shown(), "0.1 ft");
        let again: Given<Length> = read_json(&write_json(&given.write())).unwrap();
        assert_eq!(given, again);
        let plain: Given<Length> = read_json("\"45 ft\"").unwrap();
        assert_eq!(write_json(&plain.write()), "\"45 ft\"");
    }

    #[test]
    fn a_range_must_hold_its_value_and_u_is_not_zero() {
        let bad = read_json::<Given<Length>>(r#"{"value":"1 m","low":"2 m"}"#).unwrap_err();
        assert_eq!(bad.codes(), ["source.range"]);
        let bad = read_json::<Given<Length>>(r#"{"value":"1 m","u":"0 m"}"#).unwrap_err();
        assert_eq!(bad.codes(), ["uncertainty.zero"]);
        let bad = read_json::<Given<Length>>(r#"{"value":true,"u":"0 psf","hihg":1}"#).unwrap_err();
        assert_eq!(
            bad.codes(),
            ["source.field-unknown", "units.bool-as-number", "units.dimension"]
        );
    }
}
