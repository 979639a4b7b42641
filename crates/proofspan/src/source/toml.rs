//! TOML text to tree, with line and column of every value.

use ::toml::Spanned;
use ::toml::de::{DeTable, DeValue};

use super::tree::{Entry, MAX_DEPTH, Node, Place, Value};
use crate::error::{Error, Issue, slug};

/// Reads TOML text into a tree.
///
/// # Errors
/// `source.syntax` for every place that is not TOML, with line and column;
/// `source.depth` for more than 128 levels.
pub fn parse_toml(text: &str) -> Result<Node, Error> {
    let (table, errors) = DeTable::parse_recoverable(text);
    let lines = Lines::of(text);
    let mut issues: Vec<Issue> = errors
        .iter()
        .map(|e| {
            let place = lines.place(e.span().map_or(0, |s| s.start));
            let message = format!("line {}, column {}: {}", place.line, place.column, e.message());
            Issue::new(slug::SOURCE_SYNTAX, "", message)
        })
        .collect();
    let node = map(table.get_ref(), table.span().start, &lines, 0, &mut issues);
    if issues.is_empty() { Ok(node) } else { Err(Error::input(issues)) }
}

fn map(
    table: &DeTable<'_>,
    start: usize,
    lines: &Lines,
    depth: usize,
    issues: &mut Vec<Issue>,
) -> Node {
    let mut entries: Vec<(usize, Entry)> = table
        .iter()
        .map(|(key, value)| {
            let entry = Entry {
                key: key.get_ref().to_string(),
                node: node(value, lines, depth + 1, issues),
            };
            (key.span().start, entry)
        })
        .collect();
    entries.sort_by_key(|(start, _)| *start);
    Node {
        value: Value::Map(entries.into_iter().map(|(_, e)| e).collect()),
        place: Some(lines.place(start)),
    }
}

fn node(
    value: &Spanned<DeValue<'_>>,
    lines: &Lines,
    depth: usize,
    issues: &mut Vec<Issue>,
) -> Node {
    let start = value.span().start;
    let place = lines.place(start);
    if depth > MAX_DEPTH {
        issues.push(Issue::new(
            slug::SOURCE_DEPTH,
            "",
            format!("line {}: nested deeper than {MAX_DEPTH}", place.line),
        ));
        return Node { value: Value::Null, place: Some(place) };
    }
    let mut number = |text: &str| match text.replace('_', "").parse::<f64>() {
        Ok(n) if n.is_finite() => Value::Number(n),
        _ => {
            let message = format!("line {}: `{text}` is not a finite number", place.line);
            issues.push(Issue::new(slug::UNITS_NONFINITE, "", message).value(text));
            Value::Null
        }
    };
    let value = match value.get_ref() {
        DeValue::String(text) => Value::Text(text.to_string()),
        DeValue::Integer(n) => number(n.as_str()),
        DeValue::Float(n) => number(n.as_str()),
        DeValue::Boolean(b) => Value::Bool(*b),
        DeValue::Datetime(date) => Value::Text(date.to_string()),
        DeValue::Array(items) => {
            Value::List(items.iter().map(|item| node(item, lines, depth + 1, issues)).collect())
        }
        DeValue::Table(table) => return map(table, start, lines, depth, issues),
    };
    Node { value, place: Some(place) }
}

/// The starts of the lines of a text.
struct Lines<'a> {
    text: &'a str,
    starts: Vec<usize>,
}

impl<'a> Lines<'a> {
    fn of(text: &'a str) -> Self {
        let starts =
            core::iter::once(0).chain(text.match_indices('\n').map(|(i, _)| i + 1)).collect();
        Self { text, starts }
    }

    fn place(&self, offset: usize) -> Place {
        let line = self.starts.partition_point(|s| *s <= offset);
        let start = self.starts.get(line.saturating_sub(1)).copied().unwrap_or(0);
        let column = self.text.get(start..offset).map_or(0, |t| t.chars().count()) + 1;
        Place { line, column }
    }
}
