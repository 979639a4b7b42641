//! A log whose columns are in memory: arrays and tables of other libraries, without a text between.

use std::borrow::Cow;

use jiff::tz::TimeZone;

use super::cell::Cell;
use super::clock::{Clock, Moment, NoTime, agree, of_wall, wall};
use super::csv::VALUES;
use super::gather::{Gathered, Part, Plan, RowName, not_a_number};
use super::log::Log;
use super::spec::LogSpec;
use super::zone::zone;
use crate::error::{Error, Issue, slug};
use crate::source::validate;

/// What a column of date and time counts.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub enum TimeEntries {
    /// Moments, from the beginning of 1970 UTC; shown in this zone.
    Zoned(String),
    /// What a clock on a wall showed; the layout must say where.
    Wall,
    /// Time since some start.
    Elapsed,
}

/// The entries of a column.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub enum Entries<'a> {
    /// Numbers in the unit of the layout; not-a-number is a missing sample.
    Numbers(Cow<'a, [f64]>),
    /// Nanoseconds; the least one is a missing time.
    Times(Cow<'a, [i64]>, TimeEntries),
    /// Texts, each read as a cell of a CSV; nothing is a missing sample.
    Texts(Vec<Option<Cow<'a, str>>>),
    /// No numbers at all: the first entry that is none, and what it is.
    Other(usize, String),
}

impl Entries<'_> {
    fn len(&self) -> usize {
        match self {
            Self::Numbers(all) => all.len(),
            Self::Times(all, _) => all.len(),
            Self::Texts(all) => all.len(),
            Self::Other(..) => 0,
        }
    }
}

/// Named columns, in order.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Table<'a>(Vec<(String, Entries<'a>)>);

impl<'a> Table<'a> {
    /// Nothing yet.
    #[must_use]
    pub const fn new() -> Self {
        Self(Vec::new())
    }

    /// The same with a column of numbers.
    #[must_use]
    pub fn numbers(self, name: impl Into<String>, values: impl Into<Cow<'a, [f64]>>) -> Self {
        self.with(name, Entries::Numbers(values.into()))
    }

    /// The same with a column of times in nanoseconds.
    #[must_use]
    pub fn times(
        self,
        name: impl Into<String>,
        nanoseconds: impl Into<Cow<'a, [i64]>>,
        of: TimeEntries,
    ) -> Self {
        self.with(name, Entries::Times(nanoseconds.into(), of))
    }

    /// The same with a column.
    #[must_use]
    pub fn with(mut self, name: impl Into<String>, entries: Entries<'a>) -> Self {
        self.0.push((name.into(), entries));
        self
    }
}

/// Reads a log from columns: only those that the layout maps are looked at. Rows are called by
/// their number from nought.
///
/// # Errors
/// As [`read_csv`](super::read_csv); `readings.length` for columns of different length,
/// `readings.column-type` for one that holds no numbers.
pub fn read_table(table: &Table<'_>, spec: &LogSpec) -> Result<Log, Error> {
    validate(spec)?;
    let plan = Plan::of(spec, RowName::Entry);
    let names: Vec<String> = table.0.iter().map(|(name, _)| name.trim().to_owned()).collect();
    let places = plan.places(&names)?;
    let column = |i: usize| table.0.get(i).map(|(name, entries)| (name.as_str(), entries));
    let wanted: Vec<(&str, &Entries<'_>)> = core::iter::once(places.time)
        .chain(places.channels.iter().copied())
        .filter_map(column)
        .collect();
    let Some(((time_name, time), channels)) = wanted.split_first() else {
        return Err(Error::data(Vec::new()));
    };
    let mut issues: Vec<Issue> = Vec::new();
    for (place, (name, entries)) in wanted.iter().enumerate() {
        let issue = match entries {
            Entries::Times(..) if place > 0 => {
                not_a_number(RowName::Entry.path(0, name), "date and time")
            }
            Entries::Other(row, what) => not_a_number(RowName::Entry.path(*row as u64, name), what),
            _ if entries.len() != time.len() && !matches!(time, Entries::Other(..)) => {
                let message = format!(
                    "the column has {} entries, `{time_name}` has {}",
                    entries.len(),
                    time.len()
                );
                Issue::new(slug::READINGS_LENGTH, format!("log, {name}"), message)
                    .value(entries.len())
                    .limit(time.len())
            }
            _ => continue,
        };
        // channels that share a column share its problem
        if !issues.contains(&issue) {
            issues.push(issue);
        }
    }
    if !issues.is_empty() {
        return Err(Error::data(issues));
    }
    let mut part = Part::of(&plan);
    let rows = times(&mut part, &plan, time);
    for (channel, (_, entries)) in channels.iter().enumerate() {
        values(&mut part, &plan, channel, entries, rows.as_deref());
    }
    let mut log = Gathered::new(plan, VALUES);
    log.join(part);
    log.finish()
}

/// No time, as pandas, NumPy and Arrow write it in whole numbers.
const NO_TIME: i64 = i64::MIN;

/// Takes the times; gives the rows that have one, where not all do.
fn times(part: &mut Part, plan: &Plan<'_>, entries: &Entries<'_>) -> Option<Vec<usize>> {
    let count = entries.len();
    let mut kept = Vec::new();
    let (all, of) = match (entries, &plan.clock) {
        // whole numbers of nanoseconds are the same under every clock
        (Entries::Times(all, of @ TimeEntries::Elapsed), _)
        | (Entries::Times(all, of), Clock::Stamps(_)) => (all, of),
        _ => {
            for row in 0..count {
                if part.time(plan, row as u64, &cell(entries, row).as_cell()) {
                    kept.push(row);
                }
            }
            return (kept.len() < count).then_some(kept);
        }
    };
    let own = match &plan.clock {
        Clock::Stamps(own) => own.as_ref(),
        Clock::Unit(..) => None,
    };
    let seconds = matches!(plan.clock, Clock::Unit(..));
    let shown = match of {
        TimeEntries::Zoned(name) => zone(name).unwrap_or(TimeZone::UTC),
        _ => TimeZone::UTC,
    };
    let read = |t: i64| match of {
        _ if t == NO_TIME => Err(NoTime::Unreadable),
        TimeEntries::Elapsed if seconds => Ok(Moment::Seconds(t as f64 / 1e9)),
        TimeEntries::Elapsed => Ok(Moment::Stamp(t, true)),
        TimeEntries::Wall => {
            own.ok_or(NoTime::NoZone).and_then(|own| Ok(Moment::Stamp(of_wall(t, own)?, false)))
        }
        TimeEntries::Zoned(_) if own.is_some_and(|own| !agree(t, own, &shown)) => {
            Err(NoTime::OtherZone)
        }
        TimeEntries::Zoned(_) => Ok(Moment::Stamp(t, true)),
    };
    for (row, t) in all.iter().enumerate() {
        if part.at(plan, row as u64, read(*t), || cell(entries, row).shown()) {
            kept.push(row);
        }
    }
    if *of != TimeEntries::Elapsed {
        let last = all.iter().copied().rfind(|t| *t != NO_TIME);
        part.last_day(last.and_then(|t| wall(t, &shown)));
    }
    (kept.len() < count).then_some(kept)
}

/// One entry of a column, held as text where it is a time.
enum One<'a> {
    Cell(Cell<'a>),
    Stamp(String),
}

impl One<'_> {
    fn as_cell(&self) -> Cell<'_> {
        match self {
            Self::Cell(cell) => *cell,
            Self::Stamp(text) => Cell::Text(text.as_bytes()),
        }
    }

    fn shown(&self) -> String {
        self.as_cell().shown()
    }
}

fn cell<'a>(entries: &'a Entries<'_>, row: usize) -> One<'a> {
    match entries {
        Entries::Numbers(all) => One::Cell(
            all.get(row).copied().filter(|n| !n.is_nan()).map_or(Cell::Nothing, Cell::Number),
        ),
        Entries::Texts(all) => {
            let text = all.get(row).and_then(Option::as_deref);
            One::Cell(text.map_or(Cell::Nothing, |t| Cell::Text(t.as_bytes())))
        }
        Entries::Times(all, TimeEntries::Elapsed) => {
            One::Stamp(format!("{} ns", all.get(row).copied().unwrap_or_default()))
        }
        Entries::Times(all, _) => {
            let at = all.get(row).copied().filter(|t| *t != NO_TIME);
            One::Stamp(
                at.and_then(|t| wall(t, &TimeZone::UTC)).unwrap_or_else(|| "no time".to_owned()),
            )
        }
        Entries::Other(..) => One::Cell(Cell::Nothing),
    }
}

/// Takes the values of a channel at the rows that have a time.
fn values(
    part: &mut Part,
    plan: &Plan<'_>,
    channel: usize,
    entries: &Entries<'_>,
    rows: Option<&[usize]>,
) {
    match (entries, rows) {
        (Entries::Numbers(all), None) if all.iter().all(|n| !n.is_infinite()) => {
            part.numbers(plan, channel, all);
        }
        (_, None) => {
            for row in 0..entries.len() {
                part.value(plan, channel, row as u64, &cell(entries, row).as_cell());
            }
        }
        (_, Some(rows)) => {
            for row in rows {
                part.value(plan, channel, *row as u64, &cell(entries, *row).as_cell());
            }
        }
    }
}
