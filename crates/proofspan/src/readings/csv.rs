//! A CSV log, streamed: only the mapped columns are kept.

use std::cell::Cell;
use std::io;

use ::csv::{ByteRecord, ReaderBuilder};

use super::fault::{Fault, FaultKind};
use super::log::{Channel, Log};
use super::spec::{Decimal, LogSpec};
use super::suspect::decimals;
use crate::error::{Error, Issue, Slug, slug};
use crate::source::validate;
use crate::units::{Duration, Kind, Message, Row, nearest};

/// Reads a log from text.
///
/// # Errors
/// As [`read_csv`].
pub fn read_csv_text(text: &str, spec: &LogSpec) -> Result<Log, Error> {
    read_csv(text.as_bytes(), spec)
}

/// Reads a log from a file.
///
/// # Errors
/// `readings.file` where it cannot be opened; else as [`read_csv`].
pub fn read_csv_file(path: &std::path::Path, spec: &LogSpec) -> Result<Log, Error> {
    let file = std::fs::File::open(path).map_err(|e| {
        let message = format!("the log cannot be opened: {e}");
        Error::data(vec![
            Issue::new(slug::READINGS_FILE, "log", message).value(path.display().to_string()),
        ])
    })?;
    read_csv(io::BufReader::new(file), spec)
}

/// How many problems of one kind are listed; the rest is counted.
const LISTED: usize = 20;

/// How large a log may be. A row is counted in bytes with what the reader takes ahead of it, so
/// that blank rows one after the other count too.
#[derive(Clone, Copy)]
struct Limits {
    row: usize,
    cell: usize,
    values: usize,
}

const LIMITS: Limits = Limits { row: 1 << 20, cell: 1 << 12, values: 100_000_000 };

impl Limits {
    fn issue(self, path: String, message: &str) -> Issue {
        Issue::new(slug::READINGS_TOO_LONG, path, message).limit(format!(
            "a cell of {} bytes, a row of {} bytes, {} values",
            self.cell, self.row, self.values
        ))
    }
}

/// A source that ends in an error where it gives more than `most` bytes without a row.
struct Bounded<'a, S> {
    source: S,
    taken: &'a Cell<usize>,
    most: usize,
}

impl<S: io::Read> io::Read for Bounded<'_, S> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        if self.taken.get() > self.most {
            return Err(io::Error::other("the row does not end"));
        }
        let n = self.source.read(buffer)?;
        self.taken.set(self.taken.get() + n);
        Ok(n)
    }
}

/// Problems of cells, the first of each kind in full.
#[derive(Default)]
struct Problems {
    issues: Vec<Issue>,
    counts: Vec<(Slug, usize)>,
}

impl Problems {
    fn push(&mut self, slug: Slug, make: impl FnOnce() -> Issue) {
        let count = match self.counts.iter_mut().find(|(s, _)| *s == slug) {
            Some((_, count)) => {
                *count += 1;
                *count
            }
            None => {
                self.counts.push((slug, 1));
                1
            }
        };
        if count <= LISTED {
            self.issues.push(make());
        }
    }

    fn finish(mut self) -> Result<(), Error> {
        for (slug, count) in &self.counts {
            if *count > LISTED {
                let message = format!("{} more of these, {count} in all", count - LISTED);
                self.issues.push(Issue::new(*slug, "log", message));
            }
        }
        if self.issues.is_empty() { Ok(()) } else { Err(Error::data(self.issues)) }
    }
}

struct Column {
    index: usize,
    row: Row,
    sign: f64,
    missing: (usize, f64, f64),
    /// Decimals that mean something, and the cells that have more: how many, first and last time.
    decimals: Option<usize>,
    precise: (usize, f64, f64),
    values: Vec<f64>,
}

/// Reads a log row by row; memory grows with the mapped columns only. A row may have 1 MiB, a
/// mapped cell 4 KiB, the log a hundred million values of time and mapped columns.
///
/// # Errors
/// What the rules of [`LogSpec`] refuse; `readings.too-long`; every problem, each with row, column and the cell quoted (the first twenty of a kind, then
/// their number): `readings.column-missing`, `readings.heading-twice`, `readings.ragged`,
/// `readings.quote`, `readings.empty`, `units.text-number`,
/// `units.mixed-column`, `units.nonfinite`, `readings.time-backwards`, `readings.encoding`,
/// `readings.saturated`. Open faults of the channels that are not refused stand beside them, as
/// `readings.fault`.
pub fn read_csv(source: impl io::Read, spec: &LogSpec) -> Result<Log, Error> {
    read_within(source, spec, LIMITS)
}

fn read_within(source: impl io::Read, spec: &LogSpec, limits: Limits) -> Result<Log, Error> {
    validate(spec)?;
    let taken = Cell::new(0);
    let source = Bounded { source, taken: &taken, most: limits.row };
    let delimiter = spec.delimiter.bytes().next().unwrap_or(b',');
    let mut reader = ReaderBuilder::new()
        .delimiter(delimiter)
        .flexible(true)
        .has_headers(true)
        .from_reader(source);
    let headers = match reader.byte_headers() {
        Ok(headers) => headers.clone(),
        Err(_) if taken.get() > limits.row => {
            let issue = limits.issue("log row 1".to_owned(), "the heading does not end");
            return Err(Error::data(vec![issue]));
        }
        Err(error) => {
            return Err(Error::data(vec![Issue::new(
                slug::READINGS_EMPTY,
                "log",
                format!("the heading cannot be read: {error}"),
            )]));
        }
    };
    let names: Vec<String> = headers
        .iter()
        .map(|h| String::from_utf8_lossy(h).trim_start_matches('\u{feff}').trim().to_owned())
        .collect();
    if names.iter().all(String::is_empty) {
        return Err(Error::data(vec![Issue::new(
            slug::READINGS_EMPTY,
            "log",
            "the file is empty",
        )]));
    }
    let mut problems = Problems::default();
    let time_index = find(&names, &spec.time.column, "time.column", &mut problems);
    let mut columns = Vec::with_capacity(spec.channels.len());
    for (i, channel) in spec.channels.iter().enumerate() {
        let index = find(&names, &channel.column, &format!("channels[{i}].column"), &mut problems);
        if let (Some(index), Some(row)) = (index, channel.row()) {
            columns.push(Column {
                index,
                row,
                sign: channel.sign,
                missing: (0, 0.0, 0.0),
                decimals: channel.u.map(decimals),
                precise: (0, 0.0, 0.0),
                values: Vec::new(),
            });
        }
    }
    let Some(time_index) = time_index.filter(|_| problems.issues.is_empty()) else {
        problems.finish()?;
        return Err(Error::data(Vec::new()));
    };
    let clock = spec.time.unit.as_ref().and_then(|u| Kind::Duration.unit(u));
    let mut time: Vec<f64> = Vec::new();
    let mut duplicates = (0_usize, 0.0, 0.0);
    let mut start: Option<f64> = None;
    let mut last_stamp: Vec<u8> = Vec::new();
    let mut record = ByteRecord::new();
    let mut line = 1_u64;
    let most_rows = limits.values / (columns.len() + 1);
    loop {
        line += 1;
        taken.set(0);
        match reader.read_byte_record(&mut record) {
            Ok(true) => {}
            Ok(false) => break,
            Err(_) if taken.get() > limits.row => {
                problems.push(slug::READINGS_TOO_LONG, || {
                    limits.issue(format!("log row {line}"), "the row does not end")
                });
                break;
            }
            Err(error) => {
                problems.push(slug::READINGS_ENCODING, || {
                    Issue::new(
                        slug::READINGS_ENCODING,
                        format!("log row {line}"),
                        error.to_string(),
                    )
                });
                break;
            }
        }
        if record.iter().all(<[u8]>::is_empty) {
            continue;
        }
        if let Some(issue) = misshapen(&record, names.len(), delimiter, line) {
            problems.push(issue.slug, || issue);
            continue;
        }
        let at = record.get(time_index).and_then(|cell| clock_time(cell, clock, spec.decimal));
        let Some(at) = at else {
            let cell = quoted(record.get(time_index).unwrap_or(b""));
            problems.push(slug::UNITS_TEXT_NUMBER, || {
                Issue::new(
                    slug::UNITS_TEXT_NUMBER,
                    format!("log row {line}, {}", spec.time.column),
                    "the time cannot be read",
                )
                .value(cell)
            });
            continue;
        };
        if time.len() >= most_rows {
            problems.push(slug::READINGS_TOO_LONG, || {
                limits.issue(format!("log row {line}"), "the log has too many rows")
            });
            break;
        }
        let since = at - *start.get_or_insert(at);
        if let Some(last) = time.last().copied() {
            if since < last {
                problems.push(slug::READINGS_TIME_BACKWARDS, || {
                    Issue::new(
                        slug::READINGS_TIME_BACKWARDS,
                        format!("log row {line}, {}", spec.time.column),
                        "the time goes back",
                    )
                    .value(Message::new(
                        "{} after {}",
                        [Duration::from_si(since).into(), Duration::from_si(last).into()],
                    ))
                });
                continue;
            }
            if since <= last {
                duplicates =
                    (duplicates.0 + 1, if duplicates.0 == 0 { since } else { duplicates.1 }, since);
            }
        }
        time.push(since);
        if clock.is_none() {
            last_stamp.clear();
            last_stamp.extend_from_slice(record.get(time_index).unwrap_or(b""));
        }
        for (column, channel) in columns.iter_mut().zip(&spec.channels) {
            let cell = record.get(column.index).unwrap_or(b"");
            if cell.len() > limits.cell {
                problems.push(slug::READINGS_TOO_LONG, || {
                    limits
                        .issue(
                            format!("log row {line}, {}", channel.column),
                            "the cell is too long",
                        )
                        .value(quoted(cell))
                });
                column.values.push(f64::NAN);
                continue;
            }
            let value = match number(cell, spec.decimal) {
                Some(n) => column.row.to_si(n) * column.sign,
                None => odd_cell(cell, spec, column.row, &mut problems, line, &channel.column)
                    .map_or(f64::NAN, |n| column.row.to_si(n) * column.sign),
            };
            if let Some(most) = column.decimals
                && cell.len() > most + 2
                && cell
                    .iter()
                    .rposition(|b| matches!(b, b'.' | b','))
                    .is_some_and(|dot| cell.len() - dot - 1 > most)
            {
                let (count, from, _) = column.precise;
                column.precise = (count + 1, if count == 0 { since } else { from }, since);
            }
            if value.is_nan() {
                let (count, from, _) = column.missing;
                column.missing = (count + 1, if count == 0 { since } else { from }, since);
            }
            column.values.push(value);
        }
    }
    if time.is_empty() && problems.issues.is_empty() {
        problems.push(slug::READINGS_EMPTY, || {
            Issue::new(slug::READINGS_EMPTY, "log", "there is no row below the heading")
        });
    }
    if time.len() == 1 && problems.issues.is_empty() {
        problems.push(slug::READINGS_EMPTY, || {
            Issue::new(
                slug::READINGS_EMPTY,
                "log",
                "one row only: a deflection needs zero, peak and residual",
            )
        });
    }
    let faults = faults(spec, &columns, duplicates);
    let channels: Vec<Channel> = spec
        .channels
        .iter()
        .zip(columns)
        .map(|(c, column)| Channel { id: c.id.clone(), role: c.role, values: column.values })
        .collect();
    for (spec, channel) in spec.channels.iter().zip(&channels) {
        saturated(spec.range, spec, channel, &mut problems);
    }
    // the date as written, not that of another place on earth
    let day = core::str::from_utf8(&last_stamp).ok().and_then(|t| t.trim().get(..10));
    let refused = problems.finish().err();
    let log = Log::new(time, channels, faults, day.map(str::to_owned), spec);
    match refused {
        None => Ok(log),
        Some(error) => Err(beside(error, &log, spec)),
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

/// A row whose cells cannot be those of the heading: more or fewer of them, or a cell that holds
/// rows of its own because a quotation mark was opened and not closed. Empty cells at the end,
/// which a spreadsheet writes or leaves off, are none.
fn misshapen(record: &ByteRecord, columns: usize, delimiter: u8, line: u64) -> Option<Issue> {
    let path = || format!("log row {line}");
    let swallowed = record.iter().find(|cell| {
        let lines = cell.split(|b| *b == b'\n').skip(1);
        let marks = |l: &[u8]| l.iter().filter(|b| **b == delimiter).count();
        lines.map(marks).any(|n| n > 0 && n + 1 >= columns)
    });
    if let Some(cell) = swallowed {
        let rows = cell.iter().filter(|b| **b == b'\n').count();
        let message = format!("a quotation mark opened in this row swallows {rows} more lines");
        return Some(Issue::new(slug::READINGS_QUOTE, path(), message).value(quoted(cell)));
    }
    if record.len() == columns {
        return None;
    }
    let cells = record.iter().rposition(|c| !c.trim_ascii().is_empty()).map_or(0, |i| i + 1);
    if record.len() > columns && cells <= columns {
        return None;
    }
    let remedy = if record.len() > columns {
        "is a decimal comma taken for a column? declare `delimiter` and `decimal`, or quote texts"
    } else {
        "give every row a cell for each heading, an empty one where there is no value"
    };
    let message = format!("the row has {} cells, the heading {columns}", record.len());
    let issue = Issue::new(slug::READINGS_RAGGED, path(), message).remedy(remedy);
    Some(issue.value(record.len()).limit(columns))
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
        let near = nearest(wanted, names.iter().map(String::as_str)).unwrap_or_default().to_owned();
        problems.push(slug::READINGS_COLUMN_MISSING, || {
            Issue::new(
                slug::READINGS_COLUMN_MISSING,
                path,
                format!("the log has no column `{wanted}`"),
            )
            .value(wanted)
            .limit(some_of(names))
            .remedy(format!("did you mean `{near}`?"))
        });
    }
    found
}

/// The names, the first of them where they are many, each by its head.
fn some_of(names: &[String]) -> String {
    let mut shown: Vec<String> = names.iter().take(LISTED).map(|n| quoted(n.as_bytes())).collect();
    if names.len() > LISTED {
        shown.push(format!("and {} more", names.len() - LISTED));
    }
    shown.join(", ")
}

/// A plain number. Quick path: what the standard library reads, finite.
fn number(cell: &[u8], decimal: Decimal) -> Option<f64> {
    let text = core::str::from_utf8(cell).ok()?.trim();
    let first = text.bytes().next()?;
    if !(first.is_ascii_digit() || matches!(first, b'-' | b'+' | b'.')) {
        return None;
    }
    let value: f64 = match decimal {
        Decimal::Point => text.parse().ok()?,
        // where the comma is the decimal mark a point could only group thousands
        Decimal::Comma if text.contains('.') => return None,
        Decimal::Comma => text.replace(',', ".").parse().ok()?,
    };
    value.is_finite().then_some(value)
}

/// A cell that is not a plain number: missing, a number with its unit, or a problem.
fn odd_cell(
    cell: &[u8],
    spec: &LogSpec,
    row: Row,
    problems: &mut Problems,
    line: u64,
    column: &str,
) -> Option<f64> {
    let path = || format!("log row {line}, {column}");
    let Ok(text) = core::str::from_utf8(cell).map(str::trim) else {
        problems.push(slug::READINGS_ENCODING, || {
            Issue::new(slug::READINGS_ENCODING, path(), "the cell is not UTF-8 text")
                .value(quoted(cell))
        });
        return None;
    };
    if spec.missing.iter().any(|m| m == text) {
        return None;
    }
    let lower = text.to_ascii_lowercase();
    if matches!(
        lower.as_str(),
        "nan" | "inf" | "-inf" | "+inf" | "infinity" | "ol" | "#n/a" | "n/a"
    ) || lower.starts_with("#")
    {
        problems.push(slug::UNITS_NONFINITE, || {
            Issue::new(slug::UNITS_NONFINITE, path(), "the cell holds no finite number")
                .value(quoted(cell))
                .remedy("correct it, or list the text under `missing`")
        });
        return None;
    }
    // a number with a unit behind it
    let split = text
        .find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '-' | '+' | 'e' | 'E')))
        .unwrap_or(text.len());
    if let Some((head, unit)) = text.split_at_checked(split) {
        let unit = unit.trim();
        if let (Ok(n), false) =
            (head.trim().parse::<f64>(), unit.is_empty() || unit.starts_with(','))
        {
            if unit == row.symbol || row.aliases.contains(&unit) {
                return Some(n);
            }
            problems.push(slug::UNITS_MIXED_COLUMN, || {
                Issue::new(
                    slug::UNITS_MIXED_COLUMN,
                    path(),
                    format!("the column is in {}", row.symbol),
                )
                .value(quoted(cell))
                .limit(row.symbol)
            });
            return None;
        }
    }
    problems.push(slug::UNITS_TEXT_NUMBER, || {
        Issue::new(
            slug::UNITS_TEXT_NUMBER,
            path(),
            "the cell cannot be read as a number without guessing",
        )
        .value(quoted(cell))
        .remedy(match spec.decimal {
            Decimal::Point => {
                "write a decimal point and no grouping, or declare `decimal`: \"comma\""
            }
            Decimal::Comma => "write a decimal comma and no grouping: a point could be either",
        })
    });
    None
}

/// The head of a cell.
fn quoted(cell: &[u8]) -> String {
    String::from_utf8_lossy(cell.get(..160).unwrap_or(cell)).trim().chars().take(40).collect()
}

/// Seconds of a time cell: a number in a unit, or date and time with offset.
fn clock_time(cell: &[u8], unit: Option<Row>, decimal: Decimal) -> Option<f64> {
    match unit {
        Some(row) => number(cell, decimal).map(|n| row.to_si(n)),
        None => {
            let stamp: jiff::Timestamp = core::str::from_utf8(cell).ok()?.trim().parse().ok()?;
            Some(stamp.as_duration().as_secs_f64())
        }
    }
}

fn faults(spec: &LogSpec, columns: &[Column], duplicates: (usize, f64, f64)) -> Vec<Fault> {
    let mut faults = Vec::new();
    for (channel, column) in spec.channels.iter().zip(columns) {
        let finer = "the last digit is finer than a hundredth of the standard uncertainty; kept";
        for (kind, (count, from, to), note) in [
            (FaultKind::Missing, column.missing, "left out"),
            (FaultKind::OverPrecision, column.precise, finer),
        ] {
            if count > 0 {
                faults.push(Fault::new(kind, &channel.id, (from, to), count, note));
            }
        }
    }
    if duplicates.0 > 0 {
        let (count, from, to) = duplicates;
        let column = &spec.time.column;
        let note = "kept, all of them";
        faults.push(Fault::new(FaultKind::DuplicateTime, column, (from, to), count, note));
    }
    faults
}

/// Five equal readings at the end of the range.
fn saturated(
    range: Option<f64>,
    spec: &super::spec::ChannelSpec,
    channel: &Channel,
    problems: &mut Problems,
) {
    let Some((range, row)) = range.zip(channel.role.kind().unit(&spec.unit)) else { return };
    let end = row.factor * range;
    let mut run = 0;
    for (i, value) in channel.values.iter().enumerate() {
        run = if (value.abs() - end).abs() <= 1e-9 * end { run + 1 } else { 0 };
        if run == 5 {
            let row = i + 2;
            problems.push(slug::READINGS_SATURATED, || {
                Issue::new(
                    slug::READINGS_SATURATED,
                    format!("log row {row}, {}", spec.column),
                    "five equal readings at the end of the range",
                )
                .value(format!("{range} {}", spec.unit))
            });
            return;
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;
    use crate::source::read_json;

    /// Two mapped columns and the time: nine values are three rows.
    #[test]
    fn the_number_of_values_is_limited() {
        let spec: LogSpec = read_json(
            r#"{"time":{"column":"t","unit":"h"},"channels":[
                {"id":"a","column":"a","unit":"kN","role":"force"},
                {"id":"b","column":"a","unit":"kN","role":"force"}],
                "moments":{"zero":{"from":"0 h","to":"0 h"},"peak":{"from":"1 h","to":"1 h"}}}"#,
        )
        .unwrap();
        let limits = Limits { values: 9, ..LIMITS };
        let read = |text: &str| read_within(text.as_bytes(), &spec, limits);
        assert_eq!(read("t,a\n0,0\n1,1\n2,0\n").unwrap().rows(), 3);
        assert_eq!(read("t,a\n0,0\n1,1\n2,0\n3,0\n").unwrap_err().codes(), ["readings.too-long"]);
    }
}
