//! The collecting reader: it goes on after a problem and reports all of them.

use core::fmt::Write as _;

use super::json::parse_json;
use super::leaves::{Door, Leaf};
use super::rule::{Any, Rule};
use super::shapes::Shapes;
use super::toml::parse_toml;
use super::tree::{Entry, MAX_DEPTH, Node, Value};
use crate::error::{Error, Issue, Slug, slug};
use crate::units::{Message, Page, SHOWN, System, head, nearest};

/// A type that can be read from a tree.
pub trait Read: Sized {
    /// Reads the value; where it cannot, problems are in `reader` and the answer is `None`.
    fn read(node: &Node, reader: &mut Reader) -> Option<Self>;

    /// The value of a field that is absent, for optional types.
    fn absent() -> Option<Self> {
        None
    }

    /// The JSON schema of the type, whole: what it refers to stands under `$defs`.
    #[must_use]
    fn schema() -> serde_json::Value {
        Shapes::whole(Self::shape)
    }

    /// The shape of the type; what it refers to goes to `shapes`.
    fn shape(shapes: &mut Shapes) -> serde_json::Value;

    /// What stands in a schema where the type is used: its shape, or a reference to it.
    fn refer(shapes: &mut Shapes) -> serde_json::Value {
        Self::shape(shapes)
    }

    /// Pushes what the rules of the value and of all that stands in it have against it: rules of
    /// plain fields and rules between fields. A value that was read keeps them; one that was built
    /// or changed by hand may not.
    fn validate(&self, reader: &mut Reader) {
        let _ = reader;
    }

    /// Holds a field that has no rule of its own to a size that its kind can have.
    fn sized(&self, reader: &mut Reader) {
        let _ = reader;
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
    validated(name, value, false)
}

/// The same of a step on its own, which counts one value of each input: a range or an uncertainty, whose
/// ends it would pass over, is refused.
///
/// # Errors
/// As [`validate`]; `source.range-alone`.
pub(crate) fn validate_single<T: Read>(value: &T) -> Result<(), Error> {
    validated("", value, true)
}

/// The same, where the record is called `name` in what it is part of.
///
/// # Errors
/// As [`validate_single`].
pub(crate) fn validate_single_named<T: Read>(name: &str, value: &T) -> Result<(), Error> {
    validated(name, value, true)
}

fn validated<T: Read>(name: &str, value: &T, single: bool) -> Result<(), Error> {
    let mut reader = Reader { quiet: true, single, ..Reader::default() };
    value.validate(&mut reader);
    if reader.issues.is_empty() {
        return Ok(());
    }
    let mut reader = Reader { single, ..Reader::default() };
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

/// [`Write::ranges`] of the fields of a record.
#[doc(hidden)]
pub fn ranges_of(
    path: &str,
    fields: &mut [(&str, &mut dyn Write)],
    choose: &mut dyn FnMut(&str, bool) -> End,
) {
    let dot = if path.is_empty() { "" } else { "." };
    for (name, field) in fields {
        field.ranges(&format!("{path}{dot}{name}"), choose);
    }
}

impl Node {
    /// A map of the fields that write more than `Null`.
    #[doc(hidden)]
    #[must_use]
    pub fn written(fields: &[(&str, &dyn Write)]) -> Self {
        Self::map(fields.iter().map(|(name, field)| (*name, field.write())).collect())
    }
}

/// An end of a range. Closed: a range has two.
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
    // paths are made only where something is wrong
    let mut reader = Reader { quiet: true, ..Reader::default() };
    if let Some(value) = T::read(node, &mut reader)
        && reader.issues.is_empty()
    {
        return Ok(value);
    }
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

/// The value of a field that is there.
pub(super) fn present<'a>(entries: &'a [Entry], name: &str) -> Option<&'a Node> {
    let entry = entries.iter().find(|e| e.key == name)?;
    (entry.node.value != Value::Null).then_some(&entry.node)
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
    /// Ranges and uncertainties are refused: nobody would look at their ends.
    single: bool,
}

impl Reader {
    /// The path of the value that is being read, for example `loads.actions[2]`.
    #[must_use]
    pub fn path(&self) -> &str {
        &self.path
    }

    /// A range or an uncertainty, where it is: refused where nobody looks at its ends.
    pub(super) fn ranged(&mut self) {
        if self.single {
            let message =
                "a range or an uncertainty, of which a step on its own would count the value alone";
            self.add(|r| Issue::new(slug::SOURCE_RANGE_ALONE, r.path.clone(), message));
        }
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
    #[inline]
    pub fn field<T>(&mut self, name: &str, inside: impl FnOnce(&mut Self) -> T) -> T {
        let length = if self.quiet { 0 } else { self.enter(name) };
        let value = inside(self);
        self.leave(length);
        value
    }

    /// Goes into a field; the answer is how long the path was.
    fn enter(&mut self, name: &str) -> usize {
        let length = self.path.len();
        if length > 0 && !name.is_empty() {
            self.path.push('.');
        }
        self.path.push_str(name);
        length
    }

    #[inline]
    fn leave(&mut self, length: usize) {
        if !self.quiet {
            self.path.truncate(length);
        }
    }

    /// Reads inside the item `index` of a list.
    #[inline]
    pub fn item<T>(&mut self, index: usize, inside: impl FnOnce(&mut Self) -> T) -> T {
        let length = self.path.len();
        if !self.quiet {
            let _ = write!(self.path, "[{index}]");
        }
        let value = inside(self);
        self.leave(length);
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
                    let near = nearest(&entry.key, fields.iter().copied());
                    let key = head(&entry.key, SHOWN);
                    let place = on_line(&entry.node);
                    let message = format!("{what} has no field `{key}`{place}");
                    Issue::new(slug::SOURCE_FIELD_UNKNOWN, reader.path_of(&key), message)
                        .limit(fields.join(", "))
                        .meant(near)
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
        if let Some(node) = present(entries, name) {
            return self.field(name, |r| r.value(node));
        }
        if let Some(make) = default {
            return Some(make());
        }
        let absent = T::absent();
        if absent.is_none() {
            self.missing(name, missing, || Shapes::outermost(T::shape));
        }
        absent
    }

    /// [`Reader::entry_or`], held to the rule of the field.
    #[doc(hidden)]
    #[inline(never)]
    pub fn taken<T: Read>(
        &mut self,
        entries: &[Entry],
        name: &str,
        default: Option<fn() -> T>,
        missing: (Slug, &str),
        hold: fn(&T, &mut Self),
    ) -> Option<T> {
        let value = self.entry_or(entries, name, default, missing)?;
        self.field(name, |r| hold(&value, r));
        Some(value)
    }

    /// Holds a field to its rule, and what stands in it to its own.
    #[doc(hidden)]
    #[inline(never)]
    pub fn held<T: Read>(&mut self, name: &str, value: &T, hold: fn(&T, &mut Self)) {
        self.field(name, |r| {
            hold(value, r);
            value.validate(r);
        });
    }

    /// Pushes that a field is missing; one of words says which there are.
    pub(super) fn missing(
        &mut self,
        name: &str,
        (slug, why): (Slug, &str),
        shape: fn() -> serde_json::Value,
    ) {
        let colon = if why.is_empty() { "" } else { ": " };
        let message = format!("the field `{name}` is missing{colon}{why}");
        let issue = Issue::new(slug, self.path_of(name), message);
        let issue = match shape().get("enum").and_then(|e| e.as_array()) {
            Some(words) => {
                let words: Vec<&str> = words.iter().filter_map(|w| w.as_str()).collect();
                issue.limit(words.join(", "))
            }
            None => issue,
        };
        self.push(issue);
    }

    /// Reads a value, one level deeper.
    pub fn value<T: Read>(&mut self, node: &Node) -> Option<T> {
        if !self.deeper(node) {
            return None;
        }
        let value = T::read(node, self);
        self.depth -= 1;
        value
    }

    /// One level deeper, unless that is too deep.
    fn deeper(&mut self, node: &Node) -> bool {
        let fits = self.depth < MAX_DEPTH;
        if fits {
            self.depth += 1;
        } else {
            self.refuse(slug::SOURCE_DEPTH, format!("nested deeper than {MAX_DEPTH}"), node);
        }
        fits
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
            self.push(match nearest(text, words.iter().copied()) {
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
