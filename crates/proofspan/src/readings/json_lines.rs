//! A log as JSON lines: one object a row, a name for each value.

use core::fmt;
use core::sync::atomic::{AtomicBool, Ordering};
use std::io::Read;

use serde::de::{DeserializeSeed, Deserializer, IgnoredAny, MapAccess, SeqAccess, Visitor};

use super::blocks::{Block, Blocks, endless};
use super::cell::{Cell, quoted};
use super::gather::{Gathered, LISTED, Part, Plan, missing};
use super::log::Log;
use crate::error::{Error, Issue, slug};

/// Reads the rows. A name that a row does not have is a missing value.
///
/// # Errors
/// As [`read_csv`](super::read_csv), and `readings.json-line`.
pub(super) fn read(
    mut log: Gathered<'_>,
    first: Block,
    mut blocks: Blocks<impl Read>,
) -> Result<Log, Error> {
    let mut names = Names(Vec::new());
    let head = first.bytes.split(|b| *b == b'\n').find(|l| !l.trim_ascii().is_empty());
    let mut reader = serde_json::Deserializer::from_slice(head.unwrap_or_default());
    // a head that cannot be read is refused with its row below
    let _ = (&mut reader).deserialize_map(&mut names);
    let wanted = Wanted::of(&log.plan, &names);
    blocks.join(&mut log, first, |_| true, |plan, block| wanted.part(plan, block))?;
    let unseen: Vec<Issue> = wanted
        .unseen(&log.plan)
        .into_iter()
        .map(|(name, path)| missing(&names.0, name, &path))
        .collect();
    if !unseen.is_empty() {
        // what such a channel lacks is not told again sample by sample
        return Err(log.refused(unseen));
    }
    if !wanted.timed && wanted.has_time() {
        let path = format!("log row 1, {}", log.plan.spec.time.column);
        log.problems.push(slug::UNITS_TEXT_NUMBER, || {
            Issue::new(slug::UNITS_TEXT_NUMBER, path, "the row has no time, later rows have")
        });
    }
    log.finish()
}

/// The wanted names, the time first; and whether a row had them.
struct Wanted {
    names: Vec<String>,
    seen: Vec<AtomicBool>,
    /// Whether the first row has a time.
    timed: bool,
}

/// A value of a row.
#[derive(Clone)]
enum Held {
    Nothing,
    Number(f64),
    Text(String),
    Other(&'static str),
}

impl Held {
    fn cell(&self) -> Cell<'_> {
        match self {
            Self::Nothing => Cell::Nothing,
            Self::Number(n) => Cell::Number(*n),
            Self::Text(text) => Cell::Text(text.as_bytes()),
            Self::Other(what) => Cell::Other(what),
        }
    }
}

impl Wanted {
    fn of(plan: &Plan<'_>, head: &Names) -> Self {
        let names: Vec<String> = core::iter::once(&plan.spec.time.column)
            .chain(plan.spec.channels.iter().map(|c| &c.column))
            .cloned()
            .collect();
        let seen = names.iter().map(|_| AtomicBool::new(false)).collect();
        Self { names, seen, timed: head.0.contains(&plan.spec.time.column) }
    }

    fn unseen(&self, plan: &Plan<'_>) -> Vec<(&str, String)> {
        let paths = core::iter::once("time.column".to_owned())
            .chain((0..plan.spec.channels.len()).map(|i| format!("channels[{i}].column")));
        let all = self.names.iter().zip(paths).zip(&self.seen);
        all.filter(|(_, seen)| !seen.load(Ordering::Relaxed))
            .map(|((name, path), _)| (name.as_str(), path))
            .collect()
    }

    fn part(&self, plan: &Plan<'_>, block: &Block) -> Part {
        let mut part = Part::of(plan);
        let mut held = vec![Held::Nothing; self.names.len()];
        let mut has = vec![false; self.names.len()];
        let whole = block.each(|row, line| {
            if line.trim_ascii().is_empty() {
                return;
            }
            held.fill(Held::Nothing);
            has.fill(false);
            let mut reader = serde_json::Deserializer::from_slice(line);
            let read =
                (&mut reader).deserialize_map(Row { wanted: self, held: &mut held, has: &mut has });
            let twice = match read.and_then(|twice| reader.end().map(|()| twice)) {
                Ok(twice) => twice,
                Err(error) => {
                    part.problems.push(slug::READINGS_JSON_LINE, || {
                        let message = format!("the line is no JSON object: {error}");
                        Issue::new(slug::READINGS_JSON_LINE, format!("log row {row}"), message)
                            .value(quoted(line))
                    });
                    return;
                }
            };
            if let Some(name) = twice {
                part.problems.push(slug::READINGS_HEADING_TWICE, || {
                    let message = format!("the row has `{name}` twice: which value is meant?");
                    Issue::new(slug::READINGS_HEADING_TWICE, format!("log row {row}"), message)
                        .value(name)
                });
                return;
            }
            for (seen, _) in self.seen.iter().zip(&has).filter(|s| *s.1) {
                seen.store(true, Ordering::Relaxed);
            }
            let Some((time, values)) = held.split_first() else { return };
            // where the first row has no time, its name is asked for instead
            if has.first() == Some(&false) && !self.timed {
                return;
            }
            if part.time(plan, row, &time.cell()) {
                for (channel, value) in values.iter().enumerate() {
                    part.value(plan, channel, row, &value.cell());
                }
            }
        });
        if !whole {
            part.problems.push(slug::READINGS_TOO_LONG, || endless(block.row));
            part.ended = true;
        }
        part
    }

    fn has_time(&self) -> bool {
        self.seen.first().is_some_and(|seen| seen.load(Ordering::Relaxed))
    }
}

/// The names of an object, the first of them.
struct Names(Vec<String>);

impl<'de> Visitor<'de> for &mut Names {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("an object")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<(), A::Error> {
        while let Some(name) = map.next_key::<String>()? {
            map.next_value::<IgnoredAny>()?;
            if self.0.len() <= LISTED * LISTED {
                self.0.push(name);
            }
        }
        Ok(())
    }
}

/// Takes the wanted values of an object; gives a wanted name that it has twice.
struct Row<'a> {
    wanted: &'a Wanted,
    held: &'a mut [Held],
    has: &'a mut [bool],
}

impl<'de> Visitor<'de> for Row<'_> {
    type Value = Option<String>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("an object")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
        let mut twice = None;
        while let Some(name) = map.next_key::<std::borrow::Cow<'de, str>>()? {
            let wanted = || self.wanted.names.iter().enumerate().filter(|w| *w.1 == name);
            if wanted().next().is_none() {
                map.next_value::<IgnoredAny>()?;
                continue;
            }
            let value = map.next_value_seed(Value)?;
            for (i, _) in wanted() {
                if let Some((held, has)) = self.held.get_mut(i).zip(self.has.get_mut(i)) {
                    if *has {
                        twice = Some(name.to_string());
                    }
                    *has = true;
                    held.clone_from(&value);
                }
            }
        }
        Ok(twice)
    }
}

struct Value;

impl<'de> DeserializeSeed<'de> for Value {
    type Value = Held;

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<Held, D::Error> {
        deserializer.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Value {
    type Value = Held;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a value")
    }

    fn visit_bool<E>(self, _: bool) -> Result<Held, E> {
        Ok(Held::Other("true or false"))
    }

    fn visit_i64<E>(self, n: i64) -> Result<Held, E> {
        Ok(Held::Number(n as f64))
    }

    fn visit_u64<E>(self, n: u64) -> Result<Held, E> {
        Ok(Held::Number(n as f64))
    }

    fn visit_f64<E>(self, n: f64) -> Result<Held, E> {
        Ok(Held::Number(n))
    }

    fn visit_str<E>(self, text: &str) -> Result<Held, E> {
        Ok(Held::Text(text.to_owned()))
    }

    fn visit_unit<E>(self) -> Result<Held, E> {
        Ok(Held::Nothing)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Held, A::Error> {
        while list.next_element::<IgnoredAny>()?.is_some() {}
        Ok(Held::Other("a list"))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Held, A::Error> {
        while map.next_entry::<IgnoredAny, IgnoredAny>()?.is_some() {}
        Ok(Held::Other("an object"))
    }
}
