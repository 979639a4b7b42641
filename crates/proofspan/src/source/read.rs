//! The collecting reader: it goes on after a problem and reports all of them.

use core::fmt::Write as _;

use super::json::parse_json;
use super::toml::parse_toml;
use super::tree::{Entry, MAX_DEPTH, Node, Value};
use crate::error::{Error, Issue, Slug, slug};
use crate::units::{Quantified, Quantity, misspelt, nearest, parse_quantity};

/// A type that can be read from a tree.
pub trait Read: Sized {
    /// Reads the value; where it cannot, problems are in `reader` and the answer is `None`.
    fn read(node: &Node, reader: &mut Reader) -> Option<Self>;

    /// The value of a field that is absent, for optional types.
    fn absent() -> Option<Self> {
        None
    }

    /// The JSON schema of the type.
    fn schema() -> serde_json::Value;
}

/// A type that can be written to a tree.
pub trait Write {
    /// The tree of the value; `Null` where there is nothing to write.
    fn write(&self) -> Node;

    /// Whether an input in it is a range, or has an uncertainty.
    fn ranged(&self) -> bool {
        false
    }

    /// Sets every ranged input to the end that `choose` names for its path.
    fn ranges(&mut self, path: &str, choose: &mut dyn FnMut(&str) -> End) {
        let _ = (path, choose);
    }
}

/// An end of a range.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum End {
    /// The lower end.
    Low,
    /// The value as given.
    Given,
    /// The upper end.
    High,
}

/// Reads JSON text.
///
/// # Errors
/// Every problem of the document, each with its path.
pub fn read_json<T: Read>(text: &str) -> Result<T, Error> {
    read_node(&parse_json(text)?)
}

/// Reads TOML text.
///
/// # Errors
/// Every problem of the document, each with its path, line and column.
pub fn read_toml<T: Read>(text: &str) -> Result<T, Error> {
    read_node(&parse_toml(text)?)
}

/// Reads a tree.
///
/// # Errors
/// Every problem of the tree, each with its path.
pub fn read_node<T: Read>(node: &Node) -> Result<T, Error> {
    read_named("", node)
}

/// Reads a tree that stands under a name: paths of problems begin with it.
///
/// # Errors
/// As [`read_node`].
pub fn read_named<T: Read>(name: &str, node: &Node) -> Result<T, Error> {
    let mut reader = Reader::default();
    let value = reader.field(name, |r| T::read(node, r));
    match value {
        Some(value) if reader.issues.is_empty() => Ok(value),
        _ => Err(Error::input(reader.finish())),
    }
}

/// Collects problems while a tree is read, and knows where it is.
#[derive(Default, Debug)]
pub struct Reader {
    issues: Vec<Issue>,
    path: String,
    depth: usize,
}

impl Reader {
    /// The path of the value that is being read, for example `loads.actions[2]`.
    #[must_use]
    pub fn path(&self) -> &str {
        &self.path
    }

    /// The path of a field of the value that is being read.
    #[must_use]
    pub fn path_of(&self, field: &str) -> String {
        if self.path.is_empty() { field.to_owned() } else { format!("{}.{field}", self.path) }
    }

    /// Adds a problem.
    pub fn push(&mut self, issue: Issue) {
        self.issues.push(issue);
    }

    /// Adds a problem of the value that is being read.
    pub fn refuse(&mut self, slug: Slug, message: impl Into<String>, node: &Node) {
        let mut message = message.into();
        if let Some(place) = node.place {
            let _ = write!(message, " (line {}, column {})", place.line, place.column);
        }
        self.issues.push(Issue::new(slug, self.path.clone(), message).value(node.brief()));
    }

    /// Whether no problem was found since there were `count` of them.
    #[must_use]
    pub fn count(&self) -> usize {
        self.issues.len()
    }

    /// The problems found.
    #[must_use]
    pub fn finish(self) -> Vec<Issue> {
        self.issues
    }

    /// Reads inside the field `name`.
    pub fn field<T>(&mut self, name: &str, inside: impl FnOnce(&mut Self) -> T) -> T {
        let length = self.path.len();
        if length > 0 {
            self.path.push('.');
        }
        self.path.push_str(name);
        let value = inside(self);
        self.path.truncate(length);
        value
    }

    /// Reads inside the item `index` of a list.
    pub fn item<T>(&mut self, index: usize, inside: impl FnOnce(&mut Self) -> T) -> T {
        let length = self.path.len();
        let _ = write!(self.path, "[{index}]");
        let value = inside(self);
        self.path.truncate(length);
        value
    }

    /// The entries of a map, after unknown and duplicate names were reported.
    pub fn map<'n>(&mut self, node: &'n Node, what: &str, fields: &[&str]) -> Option<&'n [Entry]> {
        let Value::Map(entries) = &node.value else {
            self.refuse(
                slug::SOURCE_TYPE,
                format!(
                    "{what} is an object with the fields {}; here is {}",
                    fields.join(", "),
                    node.type_word()
                ),
                node,
            );
            return None;
        };
        for (i, entry) in entries.iter().enumerate() {
            if !fields.contains(&entry.key.as_str()) {
                let near = nearest(&entry.key, fields.iter().copied()).unwrap_or_default();
                let place =
                    entry.node.place.map_or_else(String::new, |p| format!(" (line {})", p.line));
                self.issues.push(
                    Issue::new(
                        slug::SOURCE_FIELD_UNKNOWN,
                        self.path_of(&entry.key),
                        format!("{what} has no field `{}`{place}", entry.key),
                    )
                    .limit(fields.join(", "))
                    .remedy(format!("did you mean `{near}`?")),
                );
            } else if entries.iter().take(i).any(|e| e.key == entry.key) {
                self.issues.push(Issue::new(
                    slug::SOURCE_FIELD_DUPLICATE,
                    self.path_of(&entry.key),
                    format!("`{}` is given more than once", entry.key),
                ));
            }
        }
        Some(entries)
    }

    /// Reads the field `name` of a map; an absent field takes the type's or the given default.
    pub fn entry<T: Read>(
        &mut self,
        entries: &[Entry],
        name: &str,
        default: Option<fn() -> T>,
    ) -> Option<T> {
        match entries.iter().find(|e| e.key == name) {
            Some(entry) if entry.node.value != Value::Null => {
                self.field(name, |r| r.value(&entry.node))
            }
            _ => default.map(|make| make()).or_else(T::absent).or_else(|| {
                let path = self.path_of(name);
                self.issues.push(Issue::new(
                    slug::SOURCE_FIELD_MISSING,
                    path,
                    format!("the field `{name}` is missing"),
                ));
                None
            }),
        }
    }

    /// Reads a value, one level deeper.
    pub fn value<T: Read>(&mut self, node: &Node) -> Option<T> {
        if self.depth >= MAX_DEPTH {
            self.refuse(slug::SOURCE_DEPTH, format!("nested deeper than {MAX_DEPTH}"), node);
            return None;
        }
        self.depth += 1;
        let value = T::read(node, self);
        self.depth -= 1;
        value
    }

    /// Reads one of the accepted words.
    pub fn word(&mut self, node: &Node, what: &str, words: &[&str], slug: Slug) -> Option<usize> {
        let Value::Text(text) = &node.value else {
            self.refuse(
                slug::SOURCE_TYPE,
                format!("{what} is one of: {}; here is {}", words.join(", "), node.type_word()),
                node,
            );
            return None;
        };
        let found = words.iter().position(|w| w == text);
        if found.is_none() {
            let issue = Issue::new(
                slug,
                self.path.clone(),
                format!("`{text}` is not a known {what}{}", on_line(node)),
            );
            let issue = issue.value(text).limit(words.join(", "));
            // a word that is another one altogether is not guessed at
            self.issues.push(match misspelt(text, words.iter().copied()) {
                Some(near) => issue.remedy(format!("did you mean `{near}`?")),
                None => issue.remedy("take one of the accepted words"),
            });
        }
        found
    }

    /// Refuses a value that is not above zero, with the code of the module that asks.
    pub fn positive(&mut self, field: &str, quantity: Quantity, slug: Slug) {
        if quantity.si <= 0.0 {
            let path = self.path_of(field);
            self.issues.push(
                Issue::new(slug, path, format!("{} must be above zero", quantity.kind.words()))
                    .value(format!("{} {}", quantity.si, quantity.kind.si_symbol()))
                    .limit("> 0"),
            );
        }
    }
}

/// ` (line 6)`, where the place is known.
fn on_line(node: &Node) -> String {
    node.place.map_or_else(String::new, |p| format!(" (line {})", p.line))
}

/// Reads a quantity of type `Q`: text with its unit.
pub(super) fn read_quantity<Q: Quantified>(node: &Node, reader: &mut Reader) -> Option<Q> {
    match &node.value {
        Value::Text(text) => match parse_quantity(text, Q::KIND) {
            Ok(si) => Some(Q::from_si(si)),
            Err(error) => {
                let issue = Issue::unit(reader.path(), &error);
                reader.push(issue);
                None
            }
        },
        Value::Quantity { kind, dimension, si } => {
            let fits = kind.map_or(*dimension == Q::KIND.dimension(), |k| k == Q::KIND);
            if fits && si.is_finite() {
                return Some(Q::from_si(*si));
            }
            let slug = if fits { slug::UNITS_NONFINITE } else { slug::UNITS_DIMENSION };
            let here = kind.map_or_else(|| dimension.to_string(), |k| k.words().to_owned());
            reader.refuse(slug, format!("{} is wanted; here is {here}", Q::KIND.words()), node);
            None
        }
        Value::Number(n) if Q::KIND == crate::units::Kind::Ratio && n.is_finite() => {
            Some(Q::from_si(*n))
        }
        Value::Number(n) if !n.is_finite() => {
            reader.refuse(slug::UNITS_NONFINITE, "a finite number is wanted", node);
            None
        }
        Value::Number(n) => {
            // a time without its unit is the slip that costs a night: it has a code of its own
            let hold = Q::KIND == crate::units::Kind::Duration;
            let slug = if hold { slug::PROTOCOL_HOLD_UNIT_MISSING } else { slug::UNITS_MISSING };
            let units: Vec<&str> = Q::KIND.units().iter().map(|u| u.symbol).collect();
            reader.push(
                Issue::new(
                    slug,
                    reader.path(),
                    format!("`{n}` has no unit; {} is wanted", Q::KIND.words()),
                )
                .value(n)
                .limit(units.join(", ")),
            );
            None
        }
        Value::Bool(_) => {
            reader.refuse(
                slug::UNITS_BOOL_AS_NUMBER,
                format!("{} is wanted", Q::KIND.words()),
                node,
            );
            None
        }
        _ => {
            reader.refuse(
                slug::SOURCE_TYPE,
                format!("{} is text with its unit; here is {}", Q::KIND.words(), node.type_word()),
                node,
            );
            None
        }
    }
}

impl<Q: Quantified> Read for Q {
    fn read(node: &Node, reader: &mut Reader) -> Option<Self> {
        read_quantity(node, reader)
    }
    fn schema() -> serde_json::Value {
        let units: Vec<&str> = Q::KIND.units().iter().map(|u| u.symbol).collect();
        serde_json::json!({
            "type": "string",
            "description": format!("{} as text with its unit: {}", Q::KIND.words(), units.join(", ")),
        })
    }
}
impl<Q: Quantified> Write for Q {
    fn write(&self) -> Node {
        Node::quantity(self.quantity())
    }
}

macro_rules! plain {
    ($ty:ty, $what:literal, $schema:tt, |$value:ident, $reader:ident, $node:ident| $read:expr, |$own:ident| $write:expr) => {
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
            fn schema() -> serde_json::Value {
                serde_json::json!($schema)
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

plain!(String, "text", { "type": "string" }, |v, reader, node| match v { Value::Text(t) => Some(t.clone()), _ => None }, |own| Value::Text(own.clone()));
plain!(bool, "true or false", { "type": "boolean" }, |v, reader, node| match v { Value::Bool(b) => Some(*b), _ => None }, |own| Value::Bool(*own));
plain!(f64, "a finite number", { "type": "number" }, |v, reader, node| match v { Value::Number(n) if n.is_finite() => Some(*n), _ => None }, |own| Node::number(*own).value);
plain!(u32, "a whole number of zero or more", { "type": "integer", "minimum": 0 }, |v, reader, node| match v { Value::Number(n) => as_count(*n), Value::Count(n) => u32::try_from(*n).ok(), _ => None }, |own| Value::Count(u64::from(*own)));

/// A number as a count, where it is one.
fn as_count(n: f64) -> Option<u32> {
    let fits = n >= 0.0 && n <= f64::from(u32::MAX) && n.fract() <= 0.0;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "checked")]
    fits.then_some(n as u32)
}

impl<T: Read> Read for Option<T> {
    fn read(node: &Node, reader: &mut Reader) -> Option<Self> {
        if node.value == Value::Null { Some(None) } else { T::read(node, reader).map(Some) }
    }
    fn absent() -> Option<Self> {
        Some(None)
    }
    fn schema() -> serde_json::Value {
        T::schema()
    }
}
impl<T: Write> Write for Option<T> {
    fn write(&self) -> Node {
        self.as_ref().map_or(Node::new(Value::Null), Write::write)
    }
    fn ranged(&self) -> bool {
        self.as_ref().is_some_and(Write::ranged)
    }
    fn ranges(&mut self, path: &str, choose: &mut dyn FnMut(&str) -> End) {
        if let Some(inner) = self {
            inner.ranges(path, choose);
        }
    }
}

impl<T: Read> Read for Vec<T> {
    fn read(node: &Node, reader: &mut Reader) -> Option<Self> {
        let Value::List(items) = &node.value else {
            reader.refuse(
                slug::SOURCE_TYPE,
                format!("a list is wanted; here is {}", node.type_word()),
                node,
            );
            return None;
        };
        let read: Vec<Option<T>> =
            items.iter().enumerate().map(|(i, item)| reader.item(i, |r| r.value(item))).collect();
        read.into_iter().collect()
    }
    fn schema() -> serde_json::Value {
        serde_json::json!({ "type": "array", "items": T::schema() })
    }
}
impl<T: Write> Write for Vec<T> {
    fn write(&self) -> Node {
        Node::new(Value::List(self.iter().map(Write::write).collect()))
    }
    fn ranged(&self) -> bool {
        self.iter().any(Write::ranged)
    }
    fn ranges(&mut self, path: &str, choose: &mut dyn FnMut(&str) -> End) {
        for (i, inner) in self.iter_mut().enumerate() {
            inner.ranges(&format!("{path}[{i}]"), choose);
        }
    }
}
