//! TOML text to tree, with line and column of every value.

use ::toml::Spanned;
use ::toml::de::{DeTable, DeValue};

use super::json::within;
use super::tree::{Entry, MAX_DEPTH, MAX_TOML, MAX_VALUES, Node, Place, Value};
use crate::error::MAX_ISSUES;
use crate::error::{Error, Issue, slug};
use crate::units::{SHOWN, head};

/// Reads TOML text into a tree.
///
/// # Errors
/// `source.syntax` for every place that is not TOML, with line and column;
/// `source.depth` for more than 128 levels; `source.size` for more than [`MAX_TOML`] bytes or
/// [`MAX_VALUES`] values.
pub fn parse_toml(text: &str) -> Result<Node, Error> {
    within(text, MAX_TOML)?;
    let (table, errors) = DeTable::parse_recoverable(text);
    let lines = Lines::of(text);
    let mut issues: Vec<Issue> = errors
        .iter()
        .take(MAX_ISSUES)
        .map(|e| {
            let place = lines.place(e.span().map_or(0, |s| s.start));
            let message = format!("line {}, column {}: {}", place.line, place.column, e.message());
            Issue::new(slug::SOURCE_SYNTAX, "", message)
        })
        .collect();
    let mut reading = Reading { lines, left: MAX_VALUES, issues: &mut issues };
    let node = reading.map(table.get_ref(), table.span().start, 0);
    if issues.is_empty() { Ok(node) } else { Err(Error::input(issues)) }
}

/// A text on its way to a tree.
struct Reading<'a> {
    lines: Lines<'a>,
    /// How many values may still come.
    left: usize,
    issues: &'a mut Vec<Issue>,
}

impl Reading<'_> {
    fn map(&mut self, table: &DeTable<'_>, start: usize, depth: usize) -> Node {
        let mut entries: Vec<(usize, Entry)> = table
            .iter()
            .map(|(key, value)| {
                let node = self.node(value, depth + 1);
                (key.span().start, Entry { key: key.get_ref().to_string(), node })
            })
            .collect();
        entries.sort_by_key(|(start, _)| *start);
        Node {
            value: Value::Map(entries.into_iter().map(|(_, e)| e).collect()),
            place: Some(self.lines.place(start)),
        }
    }

    fn node(&mut self, value: &Spanned<DeValue<'_>>, depth: usize) -> Node {
        let start = value.span().start;
        let place = self.lines.place(start);
        let nothing = Node { value: Value::Null, place: Some(place) };
        if depth > MAX_DEPTH {
            let message = format!("line {}: nested deeper than {MAX_DEPTH}", place.line);
            self.push(Issue::new(slug::SOURCE_DEPTH, "", message));
            return nothing;
        }
        match self.left.checked_sub(1) {
            Some(left) => self.left = left,
            None => {
                if !self.issues.iter().any(|i| i.slug == slug::SOURCE_SIZE) {
                    let message = format!("line {}: more than {MAX_VALUES} values", place.line);
                    self.push(Issue::new(slug::SOURCE_SIZE, "", message));
                }
                return nothing;
            }
        }
        let value = match value.get_ref() {
            DeValue::String(text) => Value::Text(text.to_string()),
            DeValue::Integer(n) => self.number(n.as_str(), place),
            DeValue::Float(n) => self.number(n.as_str(), place),
            DeValue::Boolean(b) => Value::Bool(*b),
            DeValue::Datetime(date) => Value::Text(date.to_string()),
            DeValue::Array(items) => {
                Value::List(items.iter().map(|item| self.node(item, depth + 1)).collect())
            }
            DeValue::Table(table) => return self.map(table, start, depth),
        };
        Node { value, place: Some(place) }
    }

    fn number(&mut self, text: &str, place: Place) -> Value {
        match text.replace('_', "").parse::<f64>() {
            Ok(n) if n.is_finite() => Value::Number(n),
            _ => {
                let shown = head(text, SHOWN);
                let message = format!("line {}: `{shown}` is not a finite number", place.line);
                self.push(Issue::new(slug::UNITS_NONFINITE, "", message).value(text));
                Value::Null
            }
        }
    }

    fn push(&mut self, issue: Issue) {
        if self.issues.len() < MAX_ISSUES {
            self.issues.push(issue);
        }
    }
}

/// So many bytes are counted at once.
const BLOCK: usize = 256;

/// The starts of the lines of a text, and how many characters stand before each block of it: a
/// column is found without counting a long line from its start.
struct Lines<'a> {
    text: &'a str,
    starts: Vec<usize>,
    before: Vec<usize>,
}

impl<'a> Lines<'a> {
    fn of(text: &'a str) -> Self {
        let starts =
            core::iter::once(0).chain(text.match_indices('\n').map(|(i, _)| i + 1)).collect();
        let mut sum = 0;
        let before = text
            .as_bytes()
            .chunks(BLOCK)
            .map(|block| {
                sum += characters(block);
                sum - characters(block)
            })
            .collect();
        Self { text, starts, before }
    }

    /// How many characters stand before this byte.
    fn before(&self, offset: usize) -> usize {
        let block = offset / BLOCK;
        let rest = self.text.as_bytes().get(block * BLOCK..offset).map_or(0, characters);
        self.before.get(block).or(self.before.last()).map_or(0, |n| n + rest)
    }

    fn place(&self, offset: usize) -> Place {
        let line = self.starts.partition_point(|s| *s <= offset);
        let start = self.starts.get(line.saturating_sub(1)).copied().unwrap_or(0);
        Place { line, column: self.before(offset).saturating_sub(self.before(start)) + 1 }
    }
}

/// How many characters begin in these bytes of a text.
fn characters(bytes: &[u8]) -> usize {
    bytes.iter().filter(|b| **b & 0xC0 != 0x80).count()
}
