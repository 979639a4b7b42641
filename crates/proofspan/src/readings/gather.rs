//! Rows of any source become columns: parts of a log, read one by one or side by side, and joined
//! in order.

use super::cell::{Cell, LONGEST, Short, number, odd};
use super::channel::Channel;
use super::clock::{Clock, Moment, NoTime};
use super::column::{Column, room};
use super::fault::{Fault, FaultKind};
use super::log::Log;
use super::spec::{ChannelSpec, LogSpec};
use super::suspect::decimals;
use crate::error::{Error, Issue, Slug, slug};
use crate::units::{Duration, Message, Row, nearest};

/// How many problems of one kind are listed; the rest is counted.
pub(super) const LISTED: usize = 20;

/// Problems, the first of each kind in full.
#[derive(Default)]
pub(super) struct Problems {
    pub(super) issues: Vec<Issue>,
    counts: Vec<(Slug, usize)>,
}

impl Problems {
    pub(super) fn push(&mut self, slug: Slug, make: impl FnOnce() -> Issue) {
        if self.count(slug, 1) <= LISTED {
            self.issues.push(make());
        }
    }

    fn count(&mut self, slug: Slug, more: usize) -> usize {
        match self.counts.iter_mut().find(|(s, _)| *s == slug) {
            Some((_, count)) => {
                *count += more;
                *count
            }
            None => {
                self.counts.push((slug, more));
                more
            }
        }
    }

    fn join(&mut self, other: Self) {
        for (slug, count) in other.counts {
            let before = self.count(slug, count) - count;
            let own = other.issues.iter().filter(|i| i.slug == slug);
            self.issues.extend(own.take(LISTED.saturating_sub(before)).cloned());
        }
    }

    pub(super) fn finish(mut self) -> Result<(), Error> {
        for (slug, count) in &self.counts {
            if *count > LISTED {
                let message = format!("{} more of these, {count} in all", count - LISTED);
                let first = self.issues.iter().find(|i| i.slug == *slug);
                let remedy = first.map(|i| i.remedy.clone());
                let issue = Issue::new(*slug, "log", message);
                self.issues.push(match remedy {
                    Some(remedy) => issue.remedy(remedy),
                    None => issue,
                });
            }
        }
        if self.issues.is_empty() { Ok(()) } else { Err(Error::data(self.issues)) }
    }
}

/// How a source calls its rows.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum RowName {
    /// Lines of a text, the heading is the first.
    Line,
    /// Entries of a table, from nought.
    Entry,
}

impl RowName {
    pub(super) fn path(self, row: u64, column: &str) -> String {
        match self {
            Self::Line => format!("log row {row}, {column}"),
            Self::Entry => format!("log[{row}], {column}"),
        }
    }
}

/// What is wanted of every row.
pub(super) struct Plan<'s> {
    pub(super) spec: &'s LogSpec,
    pub(super) clock: Clock,
    rows: Vec<Wanted>,
    pub(super) named: RowName,
}

#[derive(Clone, Copy)]
struct Wanted {
    row: Row,
    sign: f64,
    /// Decimals that mean something.
    decimals: Option<usize>,
}

impl<'s> Plan<'s> {
    /// Of a layout that has been validated.
    pub(super) fn of(spec: &'s LogSpec, named: RowName) -> Self {
        let wanted = |c: &ChannelSpec| {
            c.row().map(|row| Wanted { row, sign: c.sign, decimals: c.u.map(decimals) })
        };
        Self {
            spec,
            clock: Clock::of(&spec.time, spec.decimal),
            rows: spec.channels.iter().filter_map(wanted).collect(),
            named,
        }
    }

    /// The place of the time and of every channel among the names of columns.
    ///
    /// # Errors
    /// `readings.column-missing` with the nearest name, `readings.heading-twice`; all at once.
    pub(super) fn places(&self, names: &[String]) -> Result<Places, Error> {
        let mut problems = Problems::default();
        let time = find(names, &self.spec.time.column, "time.column", &mut problems);
        let mut channels = Vec::with_capacity(self.rows.len());
        for (i, channel) in self.spec.channels.iter().enumerate() {
            let path = format!("channels[{i}].column");
            channels.extend(find(names, &channel.column, &path, &mut problems));
        }
        problems.finish()?;
        Ok(Places { time: time.unwrap_or(usize::MAX), channels })
    }
}

/// The places of the wanted columns.
pub(super) struct Places {
    pub(super) time: usize,
    pub(super) channels: Vec<usize>,
}

fn find(names: &[String], wanted: &str, path: &str, problems: &mut Problems) -> Option<usize> {
    let found = names.iter().position(|n| n == wanted);
    if names.iter().filter(|n| *n == wanted).count() > 1 {
        problems.push(slug::READINGS_HEADING_TWICE, || {
            Issue::new(
                slug::READINGS_HEADING_TWICE,
                path,
                format!("the log has the heading `{wanted}` twice: which column is meant?"),
            )
            .value(wanted)
        });
    }
    if found.is_none() {
        problems.push(slug::READINGS_COLUMN_MISSING, || missing(names, wanted, path));
    }
    found
}

/// A column that is not there, with those that are.
pub(super) fn missing(names: &[String], wanted: &str, path: &str) -> Issue {
    let near = nearest(wanted, names.iter().map(String::as_str));
    let message = format!("the log has no column `{wanted}`");
    Issue::new(slug::READINGS_COLUMN_MISSING, path, message)
        .value(wanted)
        .limit(some_of(names))
        .meant(near)
}

/// The names, the first of them where they are many, each by its head.
fn some_of(names: &[String]) -> String {
    let quoted = |n: &String| super::cell::quoted(n.as_bytes());
    let mut shown: Vec<String> = names.iter().take(LISTED).map(quoted).collect();
    if names.len() > LISTED {
        shown.push(format!("and {} more", names.len() - LISTED));
    }
    shown.join(", ")
}

/// Samples of one kind: how many, the first and the last row.
#[derive(Clone, Copy, Default)]
struct Tally {
    count: usize,
    first: usize,
    last: usize,
}

impl Tally {
    fn add(&mut self, row: usize) {
        if self.count == 0 {
            self.first = row;
        }
        self.count += 1;
        self.last = row;
    }

    fn join(&mut self, other: Self, after: usize) {
        if other.count > 0 {
            if self.count == 0 {
                self.first = other.first + after;
            }
            self.count += other.count;
            self.last = other.last + after;
        }
    }
}

#[derive(Default)]
struct Samples {
    values: Vec<f64>,
    missing: Tally,
    precise: Tally,
}

/// The first row of a kind, with its cell.
type Seen = Option<(u64, String)>;

/// What the time cells of a log are like.
#[derive(Default)]
struct Times {
    with_offset: Seen,
    without: Seen,
    other_clock: Seen,
    other_zone: Seen,
}

fn keep(seen: &mut Seen, row: u64, cell: impl FnOnce() -> String) {
    if seen.is_none() {
        *seen = Some((row, cell()));
    }
}

/// Some rows of a log, one after the other.
pub(super) struct Part {
    moments: Moments,
    rows: Vec<u64>,
    columns: Vec<Samples>,
    pub(super) problems: Problems,
    times: Times,
    /// The time cell of the last row, where it is text.
    last_cell: Vec<u8>,
    /// A row in which the source ended before its end.
    pub(super) ended: bool,
}

enum Moments {
    Seconds(Vec<f64>),
    Stamps(Vec<i64>),
}

impl Part {
    pub(super) fn of(plan: &Plan<'_>) -> Self {
        Self {
            moments: match plan.clock {
                Clock::Unit(..) => Moments::Seconds(Vec::new()),
                Clock::Stamps(_) => Moments::Stamps(Vec::new()),
            },
            rows: Vec::new(),
            columns: plan.rows.iter().map(|_| Samples::default()).collect(),
            problems: Problems::default(),
            times: Times::default(),
            last_cell: Vec::new(),
            ended: false,
        }
    }

    /// Makes room for so many rows.
    pub(super) fn reserve(&mut self, rows: u64) {
        let rows = usize::try_from(rows).unwrap_or(0);
        match &mut self.moments {
            Moments::Seconds(all) => all.reserve(rows),
            Moments::Stamps(all) => all.reserve(rows),
        }
        self.rows.reserve(rows);
        self.columns.iter_mut().for_each(|c| c.values.reserve(rows));
    }

    /// Takes the next value of a channel, a plain number.
    pub(super) fn plain(&mut self, plan: &Plan<'_>, channel: usize, number: Short) {
        if let Some((column, wanted)) = self.columns.get_mut(channel).zip(plan.rows.get(channel)) {
            if wanted.decimals.is_some_and(|most| number.decimals() > most) {
                column.precise.add(column.values.len());
            }
            column.values.push(wanted.row.to_si(number.value) * wanted.sign);
        }
    }

    pub(super) fn len(&self) -> usize {
        self.rows.len()
    }

    /// Takes the time of a row; `false` where the row is to be left out.
    pub(super) fn time(&mut self, plan: &Plan<'_>, row: u64, cell: &Cell<'_>) -> bool {
        let taken = self.at(plan, row, plan.clock.read(cell), || cell.shown());
        if let (true, Cell::Text(text), Moments::Stamps(_)) = (taken, cell, &self.moments) {
            self.last_cell.clear();
            self.last_cell.extend_from_slice(text);
        }
        taken
    }

    /// The same of a time that has been read.
    pub(super) fn at(
        &mut self,
        plan: &Plan<'_>,
        row: u64,
        found: Result<Moment, NoTime>,
        shown: impl Fn() -> String,
    ) -> bool {
        match (found, &mut self.moments) {
            (Ok(Moment::Seconds(t)), Moments::Seconds(all)) => all.push(t),
            (Ok(Moment::Stamp(t, own)), Moments::Stamps(all)) => {
                let times = &mut self.times;
                let seen = if own { &mut times.with_offset } else { &mut times.without };
                keep(seen, row, shown);
                all.push(t);
            }
            (found, _) => {
                let odd = found.err().unwrap_or(NoTime::Unreadable);
                self.no_time(plan, row, shown, odd);
                return false;
            }
        }
        self.rows.push(row);
        true
    }

    /// What a clock showed at the last row.
    pub(super) fn last_day(&mut self, shown: Option<String>) {
        self.last_cell = shown.unwrap_or_default().into_bytes();
    }

    /// Takes every value of a channel, none of them infinite.
    pub(super) fn numbers(&mut self, plan: &Plan<'_>, channel: usize, values: &[f64]) {
        let Some((column, wanted)) = self.columns.get_mut(channel).zip(plan.rows.get(channel))
        else {
            return;
        };
        column.values = values.iter().map(|n| wanted.row.to_si(*n) * wanted.sign).collect();
        for (place, _) in column.values.iter().enumerate().filter(|v| v.1.is_nan()) {
            column.missing.add(place);
        }
    }

    fn no_time(&mut self, plan: &Plan<'_>, row: u64, shown: impl Fn() -> String, odd: NoTime) {
        let (slug, message, remedy) = match odd {
            NoTime::OtherClock => return keep(&mut self.times.other_clock, row, shown),
            NoTime::NoZone => return keep(&mut self.times.without, row, shown),
            NoTime::OtherZone => return keep(&mut self.times.other_zone, row, shown),
            NoTime::Unreadable => {
                let remedy = match plan.clock {
                    Clock::Unit(..) => "write a number in the unit of `time.unit`",
                    Clock::Stamps(_) => {
                        "write date and time as 2026-06-11T08:30:00+02:00, or give `time.unit` where it counts"
                    }
                };
                (slug::UNITS_TEXT_NUMBER, "the time cannot be read", Some(remedy))
            }
            NoTime::ClockChange => (
                slug::READINGS_ZONE,
                "the clock of this zone was changed: it shows this time twice, or never",
                Some("give each time its offset, or the one offset of the logger as `time.zone`"),
            ),
        };
        let path = plan.named.path(row, &plan.spec.time.column);
        self.problems.push(slug, || {
            let issue = Issue::new(slug, path, message).value(shown());
            match remedy {
                Some(remedy) => issue.remedy(remedy),
                None => issue,
            }
        });
    }

    /// Takes the next value of a channel, by its number.
    pub(super) fn value(&mut self, plan: &Plan<'_>, channel: usize, row: u64, cell: &Cell<'_>) {
        let Some((column, wanted)) = self.columns.get_mut(channel).zip(plan.rows.get(channel))
        else {
            return;
        };
        let place = column.values.len();
        let name = || plan.spec.channels.get(channel).map_or("", |c| c.column.as_str());
        let found = match cell {
            Cell::Text(text) => match number(text, plan.spec.decimal) {
                Some(n) if text.len() <= LONGEST => {
                    if wanted.decimals.is_some_and(|most| finer(text, most)) {
                        column.precise.add(place);
                    }
                    Ok(Some(n))
                }
                _ => {
                    let path = || plan.named.path(row, name());
                    odd(text, plan.spec, wanted.row, path)
                }
            },
            Cell::Number(n) if n.is_finite() => Ok(Some(*n)),
            Cell::Number(n) if n.is_nan() => Ok(None),
            Cell::Nothing => Ok(None),
            Cell::Number(_) => Err(Issue::new(
                slug::UNITS_NONFINITE,
                plan.named.path(row, name()),
                "the cell holds no finite number",
            )
            .value(cell.shown())),
            Cell::Other(what) => Err(not_a_number(plan.named.path(row, name()), what)),
        };
        let value = match found {
            Ok(Some(n)) => wanted.row.to_si(n) * wanted.sign,
            Ok(None) => f64::NAN,
            Err(issue) => {
                self.problems.push(issue.slug, || issue);
                f64::NAN
            }
        };
        if value.is_nan() {
            column.missing.add(place);
        }
        column.values.push(value);
    }
}

/// What stands where a number is wanted.
pub(super) fn not_a_number(path: String, what: &str) -> Issue {
    Issue::new(slug::READINGS_COLUMN_TYPE, path, format!("a number is wanted; here is `{what}`"))
        .value(what)
}

/// Whether a cell has more decimals than this.
fn finer(cell: &[u8], most: usize) -> bool {
    cell.len() > most + 2
        && cell
            .iter()
            .rposition(|b| matches!(b, b'.' | b','))
            .is_some_and(|dot| cell.len() - dot - 1 > most)
}

/// A channel as its parts come in.
struct Joined {
    values: Column,
    missing: Tally,
    precise: Tally,
}

/// A log as its parts come in.
pub(super) struct Gathered<'s> {
    pub(super) plan: Plan<'s>,
    time: Column,
    /// The last time.
    last: f64,
    start: Option<Moment>,
    duplicates: Tally,
    columns: Vec<Joined>,
    pub(super) problems: Problems,
    times: Times,
    last_cell: Vec<u8>,
    most_rows: usize,
}

impl<'s> Gathered<'s> {
    /// At most so many values, time included.
    pub(super) fn new(plan: Plan<'s>, values: usize) -> Self {
        let store = room();
        let column = || Joined {
            values: Column::new(&store),
            missing: Tally::default(),
            precise: Tally::default(),
        };
        Self {
            time: Column::new(&store),
            last: f64::NEG_INFINITY,
            start: None,
            duplicates: Tally::default(),
            columns: plan.rows.iter().map(|_| column()).collect(),
            problems: Problems::default(),
            times: Times::default(),
            last_cell: Vec::new(),
            most_rows: values / (plan.rows.len() + 1),
            plan,
        }
    }

    /// Joins the next part; `false` where nothing more is wanted.
    pub(super) fn join(&mut self, part: Part) -> bool {
        let Part { moments, rows, columns, problems, times, last_cell, ended } = part;
        self.problems.join(problems);
        for (own, seen) in [
            (&mut self.times.with_offset, times.with_offset),
            (&mut self.times.without, times.without),
            (&mut self.times.other_clock, times.other_clock),
            (&mut self.times.other_zone, times.other_zone),
        ] {
            if own.is_none() {
                *own = seen;
            }
        }
        if !last_cell.is_empty() {
            self.last_cell = last_cell;
        }
        let before = self.time.len();
        let since: Vec<f64> = match (&moments, self.start) {
            (Moments::Seconds(all), start) => {
                let start = match start {
                    Some(Moment::Seconds(start)) => start,
                    _ => all.first().copied().unwrap_or(0.0),
                };
                self.start = (!all.is_empty()).then_some(Moment::Seconds(start)).or(self.start);
                all.iter().map(|t| t - start).collect()
            }
            (Moments::Stamps(all), start) => {
                let start = match start {
                    Some(Moment::Stamp(start, _)) => start,
                    _ => all.first().copied().unwrap_or(0),
                };
                self.start = (!all.is_empty()).then_some(Moment::Stamp(start, true)).or(self.start);
                all.iter().map(|t| t.saturating_sub(start) as f64 / 1e9).collect()
            }
        };
        let mut last = self.last;
        let mut back = Vec::new();
        for (i, (t, row)) in since.iter().zip(&rows).enumerate() {
            if *t < last {
                back.push(i);
                let path = self.plan.named.path(*row, &self.plan.spec.time.column);
                self.problems.push(slug::READINGS_TIME_BACKWARDS, || {
                    Issue::new(slug::READINGS_TIME_BACKWARDS, path, "the time goes back").value(
                        Message::new(
                            "{} after {}",
                            [Duration::from_si(*t).into(), Duration::from_si(last).into()],
                        ),
                    )
                });
                continue;
            }
            if *t <= last {
                self.duplicates.add(before + i - back.len());
            }
            last = *t;
        }
        let kept = |values: Vec<f64>| {
            if back.is_empty() {
                return values;
            }
            let stays = |(i, v): (usize, f64)| back.binary_search(&i).is_err().then_some(v);
            values.into_iter().enumerate().filter_map(stays).collect()
        };
        self.last = last;
        self.time.extend(&kept(since));
        for (own, column) in self.columns.iter_mut().zip(columns) {
            own.missing.join(column.missing, before);
            own.precise.join(column.precise, before);
            own.values.extend(&kept(column.values));
        }
        if self.time.len() > self.most_rows {
            self.problems.push(slug::READINGS_TOO_LONG, || {
                let row = rows.last().copied().unwrap_or(0);
                let path = self.plan.named.path(row, &self.plan.spec.time.column);
                Issue::new(slug::READINGS_TOO_LONG, path, "the log has too many rows")
                    .limit(format!("{} rows of these columns", self.most_rows))
            });
            return false;
        }
        !ended
    }

    /// The refusal of a log for these problems of its columns, with those that its rows have.
    pub(super) fn refused(mut self, columns: Vec<Issue>) -> Error {
        self.tell_times();
        let mut error = Error::data(columns);
        error.issues.extend(self.problems.finish().err().into_iter().flat_map(|e| e.issues));
        error
    }

    /// The log, cleaned and searched.
    ///
    /// # Errors
    /// Every problem that was met, and the open faults of the channels that are not refused.
    pub(super) fn finish(mut self) -> Result<Log, Error> {
        self.tell_times();
        let rows = self.time.len();
        if rows < 2 && self.problems.issues.is_empty() {
            let message = match rows {
                0 => "there is no row below the heading",
                _ => "one row only: a deflection needs zero, peak and residual",
            };
            self.problems
                .push(slug::READINGS_EMPTY, || Issue::new(slug::READINGS_EMPTY, "log", message));
        }
        let faults = self.faults();
        let Self {
            plan: Plan { spec, named, .. },
            time,
            columns,
            mut problems,
            last_cell,
            start,
            ..
        } = self;
        let channels: Vec<Channel> = spec
            .channels
            .iter()
            .zip(columns)
            .map(|(c, column)| Channel::new(c.id.clone(), c.role, column.values))
            .collect();
        for (own, channel) in spec.channels.iter().zip(&channels) {
            saturated(own, channel, named, &mut problems);
        }
        // the date as written, not that of another place on earth
        let day = core::str::from_utf8(&last_cell).ok().map(str::trim).filter(|t| t.len() >= 10);
        let refused = problems.finish().err();
        let mut log = Log::new(time, channels, faults, day.map(str::to_owned), spec)?;
        log.begins = match start {
            Some(Moment::Seconds(t)) => t,
            _ => 0.0,
        };
        match refused {
            None => Ok(log),
            Some(error) => Err(beside(error, &log, spec)),
        }
    }

    /// What is wrong with the times of the whole log, each asked for once.
    fn tell_times(&mut self) {
        let (plan, times) = (&self.plan, &self.times);
        let path = |row: u64| plan.named.path(row, &plan.spec.time.column);
        let zoned = matches!(&plan.clock, Clock::Stamps(Some(_)));
        match (&times.with_offset, &times.without) {
            (Some((with, _)), Some((row, cell))) => {
                let message = format!(
                    "times with an offset (first: row {with}) and times without one in one column"
                );
                self.problems.push(slug::READINGS_ZONE, || {
                    Issue::new(slug::READINGS_ZONE, path(*row), message)
                        .value(cell)
                        .remedy("give every time its offset, or none of them and `time.zone`")
                });
            }
            (None, Some((row, cell))) if !zoned => {
                self.problems.push(slug::READINGS_ZONE, || {
                    Issue::new(
                        slug::READINGS_ZONE,
                        path(*row),
                        "date and time without an offset: in which zone was the log written?",
                    )
                    .value(cell)
                });
            }
            _ => {}
        }
        if let Some((row, cell)) = &times.other_zone {
            let message = "the time has another offset than the zone of the layout";
            self.problems.push(slug::READINGS_ZONE, || {
                Issue::new(slug::READINGS_ZONE, path(*row), message)
                    .value(cell)
                    .limit(plan.spec.time.zone.as_deref().unwrap_or_default())
                    .remedy("leave `time.zone` out: these times say their offset")
            });
        }
        if let Some((row, cell)) = &times.other_clock {
            let (message, remedy) = match &plan.spec.time.unit {
                Some(unit) => (
                    format!(
                        "the layout says that the time counts in {unit}; here is date and time"
                    ),
                    "leave `time.unit` out",
                ),
                None => (
                    "the time is a number, and the layout does not say of what".to_owned(),
                    "give `time.unit`: s, min, h or d",
                ),
            };
            self.problems.push(slug::READINGS_TIME_UNIT, || {
                Issue::new(slug::READINGS_TIME_UNIT, path(*row), message).value(cell).remedy(remedy)
            });
        }
    }

    fn faults(&self) -> Vec<Fault> {
        let at = |row: usize| self.time.get(row).unwrap_or(0.0);
        let fault = |kind, channel: &str, some: Tally, note: &str| {
            let times = (at(some.first), at(some.last));
            (some.count > 0).then(|| Fault::new(kind, channel, times, some.count, note.to_owned()))
        };
        let mut faults = Vec::new();
        for (channel, column) in self.plan.spec.channels.iter().zip(&self.columns) {
            let finer =
                "the last digit is finer than a hundredth of the standard uncertainty; kept";
            faults.extend(fault(FaultKind::Missing, &channel.id, column.missing, "left out"));
            faults.extend(fault(FaultKind::OverPrecision, &channel.id, column.precise, finer));
        }
        let column = &self.plan.spec.time.column;
        let kept = "kept, all of them";
        faults.extend(fault(FaultKind::DuplicateTime, column, self.duplicates, kept));
        faults
    }
}

/// A refusal with the faults of the channels that it does not name: all in one answer.
fn beside(mut error: Error, log: &Log, spec: &LogSpec) -> Error {
    let column = |id: &str| spec.channels.iter().find(|c| c.id == id).map(|c| c.column.as_str());
    let known = |id: &str| {
        column(id).is_none_or(|column| {
            error.issues.iter().any(|i| i.path.rsplit(", ").next() == Some(column))
        })
    };
    let faults: Vec<Issue> =
        log.faults.iter().filter(|f| f.is_open() && !known(&f.channel)).map(Fault::issue).collect();
    error.issues.extend(faults);
    error
}

/// Five equal readings at the end of the range.
fn saturated(spec: &ChannelSpec, channel: &Channel, named: RowName, problems: &mut Problems) {
    let Some((range, row)) = spec.range.zip(spec.row()) else { return };
    let end = row.factor * range;
    let mut run = 0;
    for (i, value) in channel.values().iter().enumerate() {
        run = if (value.abs() - end).abs() <= 1e-9 * end { run + 1 } else { 0 };
        if run == 5 {
            let first = if named == RowName::Line { 2 } else { 0 };
            let path = named.path(i as u64 + first, &spec.column);
            problems.push(slug::READINGS_SATURATED, || {
                Issue::new(
                    slug::READINGS_SATURATED,
                    path,
                    "five equal readings at the end of the range",
                )
                .value(format!("{range} {}", spec.unit))
            });
            return;
        }
    }
}
