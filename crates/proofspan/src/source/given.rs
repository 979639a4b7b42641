//! An input with its origin, its range and the text the user wrote.

use core::marker::PhantomData;
use core::ops::Deref;

use super::leaves::{Door, Leaf, Sort, sample_of};
use super::plain::{Plain, read_si};
use super::read::{End, Read, Reader, Write, present};
use super::rule::{Any, Edge, Rule, Uncertainty, beyond, bounds, broken};
use super::shapes::{Shape, Shapes};
use super::tree::{Node, Value};
use crate::error::{Error, Issue, slug};
use crate::units::{Kind, Message, Quantified, Quantity, Said, parse_quantity, si_text};

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

/// What an input says, to be read: see [`Given`], which holds it to its rule.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct Input<Q> {
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

impl<Q: Quantified> Input<Q> {
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

    /// The text as written; without one the value, in the units of whoever reads it.
    #[must_use]
    pub fn said(&self) -> Said {
        self.text.as_ref().map_or_else(|| self.value.into(), Said::from)
    }

    /// The text as written, or the SI text.
    #[must_use]
    pub fn shown(&self) -> String {
        self.text.clone().unwrap_or_else(|| si_text(Q::KIND, self.value.magnitude()))
    }
}

/// An engineering input: `"45 ft"`, or
/// `{ "value": "45 ft", "low": "44.9 ft", "high": "45.1 ft", "origin": "measured", "note": "…" }`,
/// or with `"u"` (standard uncertainty) in place of the range.
///
/// Value and both ends of the range keep the rule `R`, whoever builds it: what it says can be read
/// (`given.value`), not changed in place.
///
/// ```
/// use proofspan::source::{Given, rule::NotNegative};
/// use proofspan::units::{Length, MM};
/// let gap = Given::<Length, NotNegative>::new(12.0 * MM)?;
/// assert!(gap.clone().between(-1.0 * MM, 15.0 * MM).unwrap_err().codes() == ["source.negative"]);
/// assert_eq!(gap.between(10.0 * MM, 15.0 * MM)?.low(), 10.0 * MM);
/// # Ok::<(), proofspan::Error>(())
/// ```
#[derive(Clone, PartialEq, Debug)]
pub struct Given<Q, R = Any> {
    input: Input<Q>,
    rule: PhantomData<R>,
}

impl<Q, R> Deref for Given<Q, R> {
    type Target = Input<Q>;
    fn deref(&self) -> &Input<Q> {
        &self.input
    }
}

impl<Q: Quantified, R: Rule> Given<Q, R> {
    /// A value without text, range and origin.
    ///
    /// # Errors
    /// A value that is not finite, that the rule refuses, or that is beyond the largest size of
    /// its kind.
    pub fn new(value: Q) -> Result<Self, Error> {
        Self::known(value).kept(&[("", value)])
    }

    /// A default of this library, which keeps its rule: a test walks them all.
    pub(crate) const fn known(value: Q) -> Self {
        let origin = Origin::Unstated;
        Self {
            input: Input { value, text: None, range: None, u: None, origin, note: None },
            rule: PhantomData,
        }
    }

    /// The input that a text means.
    ///
    /// # Errors
    /// A text that is no quantity of the kind, and as [`Given::new`].
    pub fn parse(text: &str) -> Result<Self, Error> {
        super::read::read_node(&Node::text(text))
    }

    /// The same with its range.
    ///
    /// # Errors
    /// Ends that do not hold the value between them, or that the rule refuses.
    pub fn between(mut self, low: Q, high: Q) -> Result<Self, Error> {
        self.input.range = Some((low, high));
        let ordered = self.ordered("");
        self.kept(&[("low", low), ("high", high)])
            .and_then(|kept| ordered.map_or(Ok(kept), |issue| Err(issue.into())))
    }

    /// The same with its standard uncertainty.
    ///
    /// # Errors
    /// An uncertainty that is not finite, not above zero, or of a size that no input has.
    pub fn uncertain(mut self, u: Q) -> Result<Self, Error> {
        self.input.u = Some(u);
        match broken::<Uncertainty>(Q::KIND, u.magnitude()) {
            None => Ok(self),
            Some(broken) => Err(broken.issue("u", u.quantity()).into()),
        }
    }

    /// The same with its origin.
    #[must_use]
    pub fn from_origin(mut self, origin: Origin) -> Self {
        self.input.origin = origin;
        self
    }

    /// The same with a remark.
    #[must_use]
    pub fn remarked(mut self, note: impl Into<String>) -> Self {
        self.input.note = Some(note.into());
        self
    }

    fn kept(self, values: &[(&str, Q)]) -> Result<Self, Error> {
        let issues = values.iter().filter_map(|(field, value)| {
            let si = value.magnitude();
            broken::<R>(Q::KIND, si).map(|b| b.issue(*field, value.quantity()))
        });
        let issues: Vec<Issue> = issues.collect();
        if issues.is_empty() { Ok(self) } else { Err(Error::input(issues)) }
    }

    fn ordered(&self, path: &str) -> Option<Issue> {
        let (low, high) = self.input.range?;
        disordered(Q::KIND, [low, self.input.value, high].map(Quantified::magnitude), path)
    }
}

/// The user's text, where it is not the SI text that this library writes itself.
fn own_text(text: &str, kind: Kind, si: f64) -> Option<String> {
    let own = text.trim();
    (own != si_text(kind, si)).then(|| own.to_owned())
}

const FIELDS: &[&str] = &["value", "low", "high", "u", "origin", "note"];

/// Reads what an input of a kind says, in SI, and holds its values to the edges of its rule.
fn read_input(node: &Node, reader: &mut Reader, kind: Kind, edges: &[Edge]) -> Option<Input<f64>> {
    let hold = |si: f64, edges: &[Edge], node: &Node, reader: &mut Reader| {
        let broken = beyond(edges, kind, si);
        let fits = broken.is_none();
        if let Some(broken) = broken {
            let shown = match &node.value {
                Value::Text(text) => text.trim().into(),
                _ => node.said(),
            };
            reader.push(broken.issue(reader.path(), shown));
        }
        fits
    };
    let known = |value: f64, node: &Node| Input {
        value,
        text: match &node.value {
            Value::Text(text) => own_text(text, kind, value),
            _ => None,
        },
        range: None,
        u: None,
        origin: Origin::Unstated,
        note: None,
    };
    if !matches!(node.value, Value::Map(_)) {
        let value = read_si(node, reader, kind)?;
        return hold(value, edges, node, reader).then(|| known(value, node));
    }
    let entries = reader.map(node, "an input", FIELDS)?;
    let before = reader.count();
    let given = present(entries, "value");
    if given.is_none() {
        reader.missing("value", (slug::SOURCE_FIELD_MISSING, ""), || serde_json::Value::Null);
    }
    let [value, low, high, u] = ["value", "low", "high", "u"].map(|name| {
        let node = present(entries, name)?;
        reader.field(name, |r| read_si(node, r, kind)).map(|si| (name, node, si))
    });
    let origin: Option<Origin> = reader.entry(entries, "origin", Some(|| Origin::Unstated));
    let note: Option<Option<String>> = reader.entry(entries, "note", None);
    for (name, node, si) in [value, low, high].into_iter().flatten() {
        reader.field(name, |r| hold(si, edges, node, r));
    }
    if let Some((name, node, si)) = u {
        reader.field(name, |r| hold(si, Uncertainty::EDGES, node, r));
    }
    let (_, node, value) = value?;
    let mut input = known(value, node);
    if low.is_some() || high.is_some() {
        input.range = Some((low.map_or(value, |l| l.2), high.map_or(value, |h| h.2)));
    }
    input.u = u.map(|u| u.2);
    input.origin = origin?;
    input.note = note?;
    if let Some((low, high)) = input.range
        && let Some(issue) = disordered(kind, [low, value, high], reader.path())
    {
        reader.push(issue);
    }
    (reader.count() == before).then_some(input)
}

/// What is wrong with the order of low, value and high; an end that is no number is refused by the
/// rule.
fn disordered(kind: Kind, [low, value, high]: [f64; 3], path: &str) -> Option<Issue> {
    let said = |si: f64| Quantity::new(kind, si);
    (low > value || high < value).then(|| {
        Issue::new(slug::SOURCE_RANGE, path, "low, value and high are not in order")
            .value(said(value))
            .limit(Message::new("{} to {}", [said(low).into(), said(high).into()]))
    })
}

/// The shape of an input of which `quantity` is the shape of its value.
fn input_shape(shapes: &mut Shapes, kind: Kind, quantity: &serde_json::Value) -> serde_json::Value {
    serde_json::json!({
        "oneOf": [
            quantity,
            {
                "type": "object",
                "properties": {
                    "value": quantity, "low": quantity, "high": quantity, "u": quantity,
                    "origin": Origin::refer(shapes), "note": { "type": "string" },
                },
                "required": ["value"],
                "additionalProperties": false,
            },
        ],
        "description": format!("{} with its unit, or with range and origin", kind.words()),
    })
}

/// What stands where an input of a kind is used.
fn input_refer(shapes: &mut Shapes, kind: Kind, shape: Shape) -> serde_json::Value {
    let name = format!("{}Input", kind.name());
    shapes.refer_to(
        &name,
        &name,
        &[kind.words(), " with its unit, or with range and origin"],
        shape,
    )
}

impl<Q: Quantified, R: Rule> Read for Given<Q, R> {
    fn read(node: &Node, reader: &mut Reader) -> Option<Self> {
        let read = read_input(node, reader, Q::KIND, R::EDGES)?;
        Some(Self {
            input: Input {
                value: Q::from_si(read.value),
                text: read.text,
                range: read.range.map(|(low, high)| (Q::from_si(low), Q::from_si(high))),
                u: read.u.map(Q::from_si),
                origin: read.origin,
                note: read.note,
            },
            rule: PhantomData,
        })
    }

    fn validate(&self, reader: &mut Reader) {
        // what was built from its parts holds; what a constructor of a step took as it came may not
        Plain::hold::<R>(&self.input.value, reader);
        if self.input.range.is_some() || self.input.u.is_some() {
            reader.ranged();
        }
    }
    fn shape(shapes: &mut Shapes) -> serde_json::Value {
        let quantity = Q::refer(shapes);
        input_shape(shapes, Q::KIND, &quantity)
    }
    // the rule is not in the schema, so inputs of one kind share a shape
    fn refer(shapes: &mut Shapes) -> serde_json::Value {
        input_refer(shapes, Q::KIND, Self::shape)
    }

    fn sample() -> Node {
        sample_of::<R>(Q::KIND)
    }

    fn leaves<P: Rule>(door: &Door, visit: &mut dyn FnMut(Leaf)) {
        visit(Leaf {
            door: door.clone(),
            sort: Sort::Given(Q::KIND),
            edges: R::EDGES,
            typed: |numbers| {
                let given = Self::new(Q::from_si(numbers.value))?;
                let given = match numbers.range {
                    Some((low, high)) => given.between(Q::from_si(low), Q::from_si(high))?,
                    None => given,
                };
                numbers.u.map_or(Ok(()), |u| given.uncertain(Q::from_si(u)).map(|_| ()))
            },
        });
    }
}

impl<Q: Quantified, R: Rule> Given<Q, R> {
    /// The ends of the range; without one, the value less and plus twice its standard
    /// uncertainty, cut where the rule ends; nothing where neither is given.
    #[must_use]
    pub fn bounds(&self) -> Option<(Q, Q)> {
        self.range.or_else(|| self.around().map(|(low, high, _)| (low, high)))
    }

    /// The value less and plus twice its uncertainty, and whether the rule cut one of them.
    fn around(&self) -> Option<(Q, Q, bool)> {
        let (value, u) = (self.value.magnitude(), 2.0 * self.u?.magnitude());
        let (least, most) = bounds::<R>(Q::KIND);
        // the value itself keeps the rule, so that the order holds
        let (low, high) = ((value - u).max(least), (value + u).min(most));
        let cut = low > value - u || high < value + u;
        Some((Q::from_si(low.min(value)), Q::from_si(high.max(value)), cut))
    }
}

impl<Q: Quantified, R: Rule> Write for Given<Q, R> {
    fn ranged(&self) -> bool {
        self.range.is_some() || self.u.is_some()
    }
    fn ranges(&mut self, path: &str, choose: &mut dyn FnMut(&str, bool) -> End) {
        let Some((low, high)) = self.bounds() else { return };
        let cut = self.range.is_none() && self.around().is_some_and(|a| a.2);
        let value = match choose(path, cut) {
            End::Low => low,
            End::Given => self.value,
            End::High => high,
        };
        let input = &mut self.input;
        (input.value, input.text, input.range, input.u) = (value, None, None, None);
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
