//! The collecting reader: it goes on after a problem and reports all of them.

use core::fmt::Write as _;

use super::json::parse_json;
use super::leaves::{Door, Leaf, Numbers, Sort, sample_of};
use super::rule::{Any, Plain, Rule, broken};
use super::toml::parse_toml;
use super::tree::{Entry, MAX_DEPTH, MAX_ITEMS, Node, Value};
use crate::error::{Error, Issue, Slug, slug};
use crate::units::{
    Message, Page, Quantified, SHOWN, System, head, misspelt, nearest, parse_quantity,
};

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

    /// Pushes what the rules of the value and of all that stands in it have against it: rules of
    /// plain fields and rules between fields. A value that was read keeps them; one that was built
    /// or changed by hand may not.
    fn validate(&self, reader: &mut Reader) {
        let _ = reader;
    }

    /// Holds a field that has no rule of its own to a size that its kind can have.
    fn sized(&self, reader: &mut Reader, field: &str) {
        let _ = (reader, field);
    }

    /// A value that keeps its own rules, as it is written; for tests and documentation.
    fn sample() -> Node;

    /// Visits every field that holds one value; a plain value stands behind `door` under the rule
    /// `R`.
    fn leaves<R: Rule>(door: &Door, visit: &mut dyn FnMut(Leaf)) {
        let _ = (door, visit);
    }
}

/// Checks a record that was built by hand by the rules that a document is read by.
///
/// # Errors
/// Everything that is wrong, each with its path.
pub fn validate<T: Read>(value: &T) -> Result<(), Error> {
    validate_named("", value)
}

/// The same, where the record is called `name` in what it is part of.
///
/// # Errors
/// As [`validate`].
pub fn validate_named<T: Read>(name: &str, value: &T) -> Result<(), Error> {
    // paths are made only where something is wrong
    let mut reader = Reader { quiet: true, ..Reader::default() };
    value.validate(&mut reader);
    if reader.issues.is_empty() {
        return Ok(());
    }
    let mut reader = Reader::default();
    reader.field(name, |r| value.validate(r));
    Err(Error::input(reader.finish()))
}

/// Every field that holds one value, of a record and of all that stand in it.
#[must_use]
pub fn leaves<T: Read>() -> Vec<Leaf> {
    let mut all = Vec::new();
    let root = Door {
        record: "",
        field: "",
        listed: 0,
        sample: T::sample,
        read: |node| read_node::<T>(node).map(|_| ()),
    };
    T::leaves::<Any>(&root, &mut |leaf| all.push(leaf));
    all
}

/// A type that can be written to a tree.
pub trait Write {
    /// The tree of the value; `Null` where there is nothing to write.
    fn write(&self) -> Node;

    /// Whether an input in it is a range, or has an uncertainty.
    fn ranged(&self) -> bool {
        false
    }

    /// Sets every ranged input to the end that `choose` names for its path; it is told too whether
    /// an end of `value ± 2u` was cut where the rule of the input ends.
    fn ranges(&mut self, path: &str, choose: &mut dyn FnMut(&str, bool) -> End) {
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
        _ => Err(Error::input(reader.finish()).on(&Page::new(displayed(node)))),
    }
}

/// The units in which a document asks to be read, whatever else is wrong with it; SI where it does
/// not say so.
fn displayed(node: &Node) -> System {
    match node.get("display").map(|n| &n.value) {
        Some(Value::Text(text)) if text == System::Us.word() => System::Us,
        _ => System::Si,
    }
}

pub(super) use crate::error::MAX_ISSUES;

/// The long form of a record that was written in its short form. The first function of the clause
/// `unfold { long_form, schema }` makes it, or nothing where the long form was written; the second
/// adds the short form to the schema.
#[derive(Clone, PartialEq, Debug)]
pub struct Unfolded {
    /// The long form.
    pub node: Node,
    /// Paths of the long form within the record, each with what the short form calls it.
    pub names: Vec<(String, String)>,
}

impl Unfolded {
    /// For a record without a short form, whose schema says more than its fields do.
    pub(crate) const fn nothing(_: &Node, _: &mut Reader) -> Option<Self> {
        None
    }
}

/// Collects problems while a tree is read, and knows where it is.
#[derive(Default, Debug)]
pub struct Reader {
    issues: Vec<Issue>,
    /// Problems beyond those listed.
    more: usize,
    path: String,
    depth: usize,
    /// Paths are left out.
    quiet: bool,
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

    /// Adds a problem; beyond the first thousand they are counted only.
    pub fn push(&mut self, issue: Issue) {
        self.add(|_| issue);
    }

    /// Adds a problem that is put in words only where there is room for it.
    fn add(&mut self, issue: impl FnOnce(&Self) -> Issue) {
        if self.issues.len() < MAX_ISSUES {
            let issue = issue(self);
            self.issues.push(issue);
        } else {
            self.more += 1;
        }
    }

    /// Adds a problem of the value that is being read.
    pub fn refuse(&mut self, slug: Slug, message: impl Into<Message>, node: &Node) {
        let mut message = message.into();
        if let Some(place) = node.place {
            let at = format!(" (line {}, column {})", place.line, place.column);
            message = message.and(at.into());
        }
        self.push(Issue::new(slug, self.path.clone(), message).value(node.said()));
    }

    /// Whether no problem was found since there were `count` of them.
    #[must_use]
    pub fn count(&self) -> usize {
        self.issues.len() + self.more
    }

    /// Tells the problems found since there were `count` of them under other names: each pair is a path
    /// within the value that is being read, and what its writer calls it. The longest path that
    /// fits is taken.
    pub fn rename(&mut self, count: usize, names: &[(String, String)]) {
        let prefix = self.path_of("");
        for issue in self.issues.iter_mut().skip(count) {
            let Some(inside) = issue.path.strip_prefix(&prefix) else { continue };
            let rest = |from: &str| {
                inside.strip_prefix(from).filter(|r| r.is_empty() || r.starts_with(['.', '[']))
            };
            let fits = names.iter().filter_map(|(from, to)| Some((from.len(), to, rest(from)?)));
            if let Some((_, to, rest)) = fits.max_by_key(|f| f.0) {
                issue.path = format!("{prefix}{to}{rest}");
            }
        }
    }

    /// The problems found, the last one saying how many more there are than are listed.
    #[must_use]
    pub fn finish(mut self) -> Vec<Issue> {
        if self.more > 0 {
            let message = format!("{} more problems than are listed", self.more);
            self.issues.push(Issue::new(slug::SOURCE_MANY, "", message));
        }
        self.issues
    }

    /// Reads inside the field `name`.
    pub fn field<T>(&mut self, name: &str, inside: impl FnOnce(&mut Self) -> T) -> T {
        if self.quiet {
            return inside(self);
        }
        let length = self.path.len();
        if length > 0 && !name.is_empty() {
            self.path.push('.');
        }
        self.path.push_str(name);
        let value = inside(self);
        self.path.truncate(length);
        value
    }

    /// Reads inside the item `index` of a list.
    pub fn item<T>(&mut self, index: usize, inside: impl FnOnce(&mut Self) -> T) -> T {
        if self.quiet {
            return inside(self);
        }
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
        let mut given = vec![false; fields.len()];
        for entry in entries {
            let known = fields.iter().position(|f| *f == entry.key);
            match known.and_then(|i| given.get_mut(i)) {
                None => self.add(|reader| {
                    let near = nearest(&entry.key, fields.iter().copied()).unwrap_or_default();
                    let key = head(&entry.key, SHOWN);
                    let place = on_line(&entry.node);
                    let message = format!("{what} has no field `{key}`{place}");
                    Issue::new(slug::SOURCE_FIELD_UNKNOWN, reader.path_of(&key), message)
                        .limit(fields.join(", "))
                        .remedy(format!("did you mean `{near}`?"))
                }),
                Some(twice @ false) => *twice = true,
                Some(_) => self.add(|reader| {
                    let message = format!("`{}` is given more than once", entry.key);
                    Issue::new(slug::SOURCE_FIELD_DUPLICATE, reader.path_of(&entry.key), message)
                }),
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
        let missing = (slug::SOURCE_FIELD_MISSING, "");
        self.entry_or(entries, name, default, missing)
    }

    /// The same with the code and the reason that say what it means that the field is absent.
    pub fn entry_or<T: Read>(
        &mut self,
        entries: &[Entry],
        name: &str,
        default: Option<fn() -> T>,
        missing: (Slug, &str),
    ) -> Option<T> {
        match entries.iter().find(|e| e.key == name) {
            Some(entry) if entry.node.value != Value::Null => {
                self.field(name, |r| r.value(&entry.node))
            }
            _ => default.map(|make| make()).or_else(T::absent).or_else(|| {
                let path = self.path_of(name);
                let (slug, why) = missing;
                let colon = if why.is_empty() { "" } else { ": " };
                let issue =
                    Issue::new(slug, path, format!("the field `{name}` is missing{colon}{why}"));
                let issue = match T::schema().get("enum").and_then(|e| e.as_array()) {
                    Some(words) => {
                        let words: Vec<&str> = words.iter().filter_map(|w| w.as_str()).collect();
                        issue.limit(words.join(", "))
                    }
                    None => issue,
                };
                self.push(issue);
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
                format!("`{}` is not a known {what}{}", head(text, SHOWN), on_line(node)),
            );
            let issue = issue.value(text).limit(words.join(", "));
            // a word that is another one altogether is not guessed at
            self.push(match misspelt(text, words.iter().copied()) {
                Some(near) => issue.remedy(format!("did you mean `{near}`?")),
                None => issue.remedy("take one of the accepted words"),
            });
        }
        found
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
    fn sized(&self, reader: &mut Reader, field: &str) {
        if broken::<Any>(Q::KIND, self.magnitude()).is_some() {
            reader.field(field, |r| self.hold::<Any>(r));
        }
    }
    fn schema() -> serde_json::Value {
        let units: Vec<&str> = Q::KIND.units().iter().map(|u| u.symbol).collect();
        // a plain ratio is a number
        let plain = Q::KIND == crate::units::Kind::Ratio;
        let types = if plain { serde_json::json!(["string", "number"]) } else { "string".into() };
        serde_json::json!({
            "type": types,
            "description": format!("{} as text with its unit: {}", Q::KIND.words(), units.join(", ")),
        })
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
            fn schema() -> serde_json::Value {
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
    fn sized(&self, reader: &mut Reader, field: &str) {
        if let Some(inner) = self {
            inner.sized(reader, field);
        }
    }
    fn schema() -> serde_json::Value {
        T::schema()
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
    fn sized(&self, reader: &mut Reader, field: &str) {
        for (i, inner) in self.iter().enumerate() {
            inner.sized(reader, &format!("{field}[{i}]"));
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
    fn schema() -> serde_json::Value {
        serde_json::json!({ "type": "array", "items": T::schema() })
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
