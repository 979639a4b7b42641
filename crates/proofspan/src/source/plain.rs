//! Quantities, numbers, words, optional values and lists: how they are read, written and held to the
//! rule of their field.

use super::leaves::{Door, Leaf, Numbers, Sort, sample_of};
use super::read::{End, Read, Reader, Write};
use super::rule::{Any, Rule, broken};
use super::shapes::Shapes;
use super::tree::{MAX_ITEMS, Node, Value};
use crate::error::{Error, Issue, slug};
use crate::units::{Kind, Quantified, parse_quantity};

/// A plain field that its record holds to a rule: a number, a quantity, or a list of them.
pub trait Plain {
    /// Pushes what the rule has against the value.
    fn hold<R: Rule>(&self, reader: &mut Reader);

    /// The value of a number in SI units; nothing where there is none.
    fn made(si: f64) -> Option<Self>
    where
        Self: Sized;
}

impl Plain for f64 {
    fn hold<R: Rule>(&self, reader: &mut Reader) {
        if let Some(broken) = broken::<R>(Kind::Ratio, *self) {
            reader.push(broken.issue(reader.path(), self));
        }
    }
    fn made(si: f64) -> Option<Self> {
        Some(si)
    }
}
impl Plain for u32 {
    fn hold<R: Rule>(&self, reader: &mut Reader) {
        f64::from(*self).hold::<R>(reader);
    }
    fn made(si: f64) -> Option<Self> {
        let whole = si >= 0.0 && si <= f64::from(Self::MAX) && si.fract() == 0.0;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "checked")]
        whole.then_some(si as Self)
    }
}
impl<Q: Quantified> Plain for Q {
    fn hold<R: Rule>(&self, reader: &mut Reader) {
        if let Some(broken) = broken::<R>(Q::KIND, self.magnitude()) {
            reader.push(broken.issue(reader.path(), self.quantity()));
        }
    }
    fn made(si: f64) -> Option<Self> {
        Some(Q::from_si(si))
    }
}
impl<T: Plain> Plain for Option<T> {
    fn hold<R: Rule>(&self, reader: &mut Reader) {
        if let Some(inner) = self {
            inner.hold::<R>(reader);
        }
    }
    fn made(si: f64) -> Option<Self> {
        T::made(si).map(Some)
    }
}
impl<T: Plain> Plain for Vec<T> {
    fn hold<R: Rule>(&self, reader: &mut Reader) {
        for (i, item) in self.iter().enumerate() {
            reader.item(i, |r| item.hold::<R>(r));
        }
    }
    fn made(si: f64) -> Option<Self> {
        T::made(si).map(|item| vec![item])
    }
}

/// Reads a quantity, text with its unit, in SI.
pub(super) fn read_si(node: &Node, reader: &mut Reader, wanted: Kind) -> Option<f64> {
    match &node.value {
        Value::Text(text) => match parse_quantity(text, wanted) {
            Ok(si) => Some(si),
            Err(error) => {
                let issue = Issue::unit(reader.path(), &error);
                reader.push(issue);
                None
            }
        },
        Value::Quantity { kind, dimension, si } => {
            let fits = kind.map_or(*dimension == wanted.dimension(), |k| k == wanted);
            if fits && si.is_finite() {
                return Some(*si);
            }
            let slug = if fits { slug::UNITS_NONFINITE } else { slug::UNITS_DIMENSION };
            let here = kind.map_or_else(|| dimension.to_string(), |k| k.words().to_owned());
            reader.refuse(slug, format!("{} is wanted; here is {here}", wanted.words()), node);
            None
        }
        Value::Number(n) if wanted == Kind::Ratio && n.is_finite() => Some(*n),
        Value::Number(n) if !n.is_finite() => {
            reader.refuse(slug::UNITS_NONFINITE, "a finite number is wanted", node);
            None
        }
        Value::Number(n) => {
            // a time without its unit is the slip that costs a night: it has a code of its own
            let hold = wanted == Kind::Duration;
            let slug = if hold { slug::PROTOCOL_HOLD_UNIT_MISSING } else { slug::UNITS_MISSING };
            let units: Vec<&str> = wanted.units().iter().map(|u| u.symbol).collect();
            reader.push(
                Issue::new(
                    slug,
                    reader.path(),
                    format!("`{n}` has no unit; {} is wanted", wanted.words()),
                )
                .value(n)
                .limit(units.join(", ")),
            );
            None
        }
        Value::Bool(_) => {
            reader.refuse(
                slug::UNITS_BOOL_AS_NUMBER,
                format!("{} is wanted", wanted.words()),
                node,
            );
            None
        }
        _ => {
            reader.refuse(
                slug::SOURCE_TYPE,
                format!("{} is text with its unit; here is {}", wanted.words(), node.type_word()),
                node,
            );
            None
        }
    }
}

/// The shape of a quantity.
fn quantity_shape(kind: Kind) -> serde_json::Value {
    let units: Vec<&str> = kind.units().iter().map(|u| u.symbol).collect();
    // a plain ratio is a number
    let plain = kind == Kind::Ratio;
    let types = if plain { serde_json::json!(["string", "number"]) } else { "string".into() };
    serde_json::json!({
        "type": types,
        "description": format!("{} as text with its unit: {}", kind.words(), units.join(", ")),
    })
}

impl<Q: Quantified> Read for Q {
    fn read(node: &Node, reader: &mut Reader) -> Option<Self> {
        read_si(node, reader, Q::KIND).map(Q::from_si)
    }
    fn sized(&self, reader: &mut Reader) {
        self.hold::<Any>(reader);
    }
    fn shape(_: &mut Shapes) -> serde_json::Value {
        quantity_shape(Q::KIND)
    }
    fn refer(shapes: &mut Shapes) -> serde_json::Value {
        shapes.refer_to(
            Q::KIND.name(),
            Q::KIND.name(),
            &[Q::KIND.words(), " as text with its unit"],
            Self::shape,
        )
    }
    fn sample() -> Node {
        sample_of::<Any>(Q::KIND)
    }
    fn leaves<R: Rule>(door: &Door, visit: &mut dyn FnMut(Leaf)) {
        visit(plain_leaf::<Self, R>(door, Sort::Quantity(Q::KIND)));
    }
}
impl<Q: Quantified> Write for Q {
    fn write(&self) -> Node {
        Node::quantity(self.quantity())
    }
}

/// The leaf of a plain field under the rule `R`.
fn plain_leaf<T: Plain, R: Rule>(door: &Door, sort: Sort) -> Leaf {
    Leaf { door: door.clone(), sort, edges: R::EDGES, typed: typed::<T, R> }
}

/// Holds a number to the rule `R` as [`validate`] does.
fn typed<T: Plain, R: Rule>(numbers: Numbers) -> Result<(), Error> {
    let mut reader = Reader::default();
    if let Some(value) = T::made(numbers.value) {
        value.hold::<R>(&mut reader);
    }
    Error::check(reader.finish())
}

macro_rules! plain {
    ($ty:ty, $sort:expr, $leaf:expr, $sample:expr, $what:literal, $schema:tt, |$value:ident, $reader:ident, $node:ident| $read:expr, |$own:ident| $write:expr) => {
        impl Read for $ty {
            fn read($node: &Node, $reader: &mut Reader) -> Option<Self> {
                let $value = &$node.value;
                $read.or_else(|| {
                    $reader.refuse(
                        slug::SOURCE_TYPE,
                        format!(concat!($what, " is wanted; here is {}"), $node.type_word()),
                        $node,
                    );
                    None
                })
            }
            fn shape(_: &mut Shapes) -> serde_json::Value {
                serde_json::json!($schema)
            }
            fn sample() -> Node {
                Node::new($sample)
            }
            fn leaves<R: Rule>(door: &Door, visit: &mut dyn FnMut(Leaf)) {
                let leaf: fn(&Door, Sort) -> Leaf = $leaf;
                visit(leaf(door, $sort));
            }
        }
        impl Write for $ty {
            fn write(&self) -> Node {
                let $own = self;
                Node::new($write)
            }
        }
    };
}

plain!(String, Sort::Text, unruled, Value::Text("x".to_owned()), "text", { "type": "string" }, |v, reader, node| match v { Value::Text(t) => Some(t.clone()), _ => None }, |own| Value::Text(own.clone()));
plain!(bool, Sort::Flag, unruled, Value::Bool(true), "true or false", { "type": "boolean" }, |v, reader, node| match v { Value::Bool(b) => Some(*b), _ => None }, |own| Value::Bool(*own));
plain!(f64, Sort::Number, plain_leaf::<Self, R>, Value::Number(1.0), "a finite number", { "type": "number" }, |v, reader, node| match v { Value::Number(n) if n.is_finite() => Some(*n), _ => None }, |own| Node::number(*own).value);
plain!(u32, Sort::Count, plain_leaf::<Self, R>, Value::Number(1.0), "a whole number of zero or more", { "type": "integer", "minimum": 0 }, |v, reader, node| match v { Value::Number(n) => Self::made(*n), Value::Count(n) => Self::try_from(*n).ok(), _ => None }, |own| Value::Count(u64::from(*own)));

/// The leaf of a field that holds no number.
fn unruled(door: &Door, sort: Sort) -> Leaf {
    Leaf { door: door.clone(), sort, edges: &[], typed: |_| Ok(()) }
}

impl<T: Read> Read for Option<T> {
    fn read(node: &Node, reader: &mut Reader) -> Option<Self> {
        if node.value == Value::Null { Some(None) } else { T::read(node, reader).map(Some) }
    }
    fn absent() -> Option<Self> {
        Some(None)
    }
    fn sized(&self, reader: &mut Reader) {
        if let Some(inner) = self {
            inner.sized(reader);
        }
    }
    fn shape(shapes: &mut Shapes) -> serde_json::Value {
        T::shape(shapes)
    }
    fn refer(shapes: &mut Shapes) -> serde_json::Value {
        T::refer(shapes)
    }
    fn validate(&self, reader: &mut Reader) {
        if let Some(inner) = self {
            inner.validate(reader);
        }
    }
    fn sample() -> Node {
        T::sample()
    }
    fn leaves<R: Rule>(door: &Door, visit: &mut dyn FnMut(Leaf)) {
        T::leaves::<R>(door, visit);
    }
}
impl<T: Write> Write for Option<T> {
    fn write(&self) -> Node {
        self.as_ref().map_or(Node::new(Value::Null), Write::write)
    }
    fn ranged(&self) -> bool {
        self.as_ref().is_some_and(Write::ranged)
    }
    fn ranges(&mut self, path: &str, choose: &mut dyn FnMut(&str, bool) -> End) {
        if let Some(inner) = self {
            inner.ranges(path, choose);
        }
    }
}

impl<T: Read> Read for Vec<T> {
    fn sized(&self, reader: &mut Reader) {
        for (i, inner) in self.iter().enumerate() {
            reader.item(i, |r| inner.sized(r));
        }
    }
    fn read(node: &Node, reader: &mut Reader) -> Option<Self> {
        let Value::List(items) = &node.value else {
            reader.refuse(
                slug::SOURCE_TYPE,
                format!("a list is wanted; here is {}", node.type_word()),
                node,
            );
            return None;
        };
        if items.len() > MAX_ITEMS {
            reader.refuse(slug::SOURCE_SIZE, format!("more than {MAX_ITEMS} items"), node);
            return None;
        }
        let read: Vec<Option<T>> =
            items.iter().enumerate().map(|(i, item)| reader.item(i, |r| r.value(item))).collect();
        read.into_iter().collect()
    }
    fn shape(shapes: &mut Shapes) -> serde_json::Value {
        serde_json::json!({ "type": "array", "items": T::refer(shapes) })
    }
    fn validate(&self, reader: &mut Reader) {
        for (i, inner) in self.iter().enumerate() {
            reader.item(i, |r| inner.validate(r));
        }
    }
    fn sample() -> Node {
        Node::new(Value::List(vec![T::sample()]))
    }
    fn leaves<R: Rule>(door: &Door, visit: &mut dyn FnMut(Leaf)) {
        T::leaves::<R>(&Door { listed: door.listed + 1, ..door.clone() }, visit);
    }
}
impl<T: Write> Write for Vec<T> {
    fn write(&self) -> Node {
        Node::new(Value::List(self.iter().map(Write::write).collect()))
    }
    fn ranged(&self) -> bool {
        self.iter().any(Write::ranged)
    }
    fn ranges(&mut self, path: &str, choose: &mut dyn FnMut(&str, bool) -> End) {
        for (i, inner) in self.iter_mut().enumerate() {
            inner.ranges(&format!("{path}[{i}]"), choose);
        }
    }
}
