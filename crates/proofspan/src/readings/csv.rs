//! A log as text, read in blocks of whole rows: only the mapped columns are kept.

use std::io::{self, Read};

use ::csv::{ByteRecord, ReaderBuilder};

use super::blocks::{Block, Blocks, ROW, count, endless};
use super::cell::{Cell, Short, quoted, short};
use super::clock::Moment;
use super::gather::{Gathered, Part, Places, Plan, RowName};
use super::json_lines;
use super::log::Log;
use super::spec::{Decimal, LogSpec};
use crate::error::{Error, Issue, go_on, slug};
use crate::source::validate;

/// Reads a log from text: CSV, or JSON lines where it begins with a brace.
///
/// # Errors
/// `readings.file` for one line of text, which is a path rather than a log; else as [`read_csv`].
pub fn read_csv_text(text: &str, spec: &LogSpec) -> Result<Log, Error> {
    let line = text.trim();
    let own = |cell: &str| {
        let cell = cell.trim().trim_matches('"');
        cell == spec.time.column || spec.channels.iter().any(|c| cell == c.column)
    };
    // a heading without rows ends, and has more than one column
    let ended = text.contains(['\n', '\r']) && line.contains(&*spec.delimiter);
    let rows = line.contains(['\n', '\r']) || line.starts_with('{');
    let log = line.is_empty() || rows || ended || line.split(&*spec.delimiter).any(own);
    if !log {
        let message = "one line of text is no log: is it a path?";
        return Err(Error::data(vec![
            Issue::new(slug::READINGS_FILE, "log", message)
                .value(quoted(line.as_bytes()))
                .remedy("give a path as a path (`pathlib.Path` in Python, `read_csv_file` in Rust), a log as its text"),
        ]));
    }
    read_csv(text.as_bytes(), spec)
}

/// Reads a log from a file: CSV, or JSON lines where it begins with a brace.
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
    read_csv(file, spec)
}

/// How many values a log may have, time included.
pub(super) const VALUES: usize = 1_000_000_000;

/// Reads a log row by row; only the mapped columns are kept, above 192 MiB of them in a file without a
/// name ([`with_memory`](super::with_memory)). A row may have 1 MiB, a
/// mapped cell 4 KiB, the log a thousand million values of time and mapped columns. A log that
/// begins with a brace is JSON lines: one object a row.
///
/// # Errors
/// What the rules of [`LogSpec`] refuse; `readings.too-long`; every problem, each with row, column and the cell quoted (the first twenty of a kind, then
/// their number): `readings.column-missing`, `readings.heading-twice`, `readings.ragged`,
/// `readings.quote`, `readings.empty`, `units.text-number`,
/// `units.mixed-column`, `units.nonfinite`, `readings.time-backwards`, `readings.encoding`,
/// `readings.saturated`, `readings.zone`, `readings.time-unit`, `readings.column-type`. Open
/// faults of the channels that are not refused stand beside them, as `readings.fault`.
pub fn read_csv(source: impl Read, spec: &LogSpec) -> Result<Log, Error> {
    read_within(source, spec, VALUES)
}

fn read_within(source: impl Read, spec: &LogSpec, values: usize) -> Result<Log, Error> {
    validate(spec)?;
    let refuse = |issue| Err(Error::data(vec![issue]));
    let mut blocks = Blocks::new(source);
    let mut first = match blocks.next() {
        Ok(first) => first.unwrap_or_default(),
        Err(issue) => return refuse(issue),
    };
    if let Some(issue) = no_text(&first.bytes) {
        return refuse(issue);
    }
    if first.bytes.starts_with(MARK) {
        first.bytes.drain(..MARK.len());
    }
    let plan = Plan::of(spec, RowName::Line);
    if first.bytes.trim_ascii_start().first() == Some(&b'{') {
        return json_lines::read(Gathered::new(plan, values), first, blocks);
    }
    let delimiter = spec.delimiter.bytes().next().unwrap_or(b',');
    let (names, body, readable) = heading(&first.bytes, delimiter)?;
    let places = plan.places(&names).map_err(|mut error| {
        if !readable {
            let message = "the heading is not UTF-8 text";
            error.issues.insert(0, Issue::new(slug::READINGS_ENCODING, "log row 1", message));
        }
        error
    })?;
    let columns = names.len();
    let is_wanted = |i: usize| places.time == i || places.channels.contains(&i);
    let wanted = (0..columns).map(is_wanted).collect();
    let shape = Shape { places, wanted, columns, delimiter };
    let mut log = Gathered::new(plan, values);
    let body = first.bytes.split_off(body);
    first.row += count(&first.bytes, first.line_end());
    first.bytes = body;
    let plain = |block: &Block| !block.bytes.contains(&b'"');
    let quotes = blocks.join(&mut log, first, plain, |plan, block| shape.part(plan, block))?;
    if let Some(quotes) = quotes {
        shape.with_quotes(&mut log, &quotes, blocks)?;
    }
    log.finish()
}

/// The mark by which some programs say that a text is UTF-8.
const MARK: &[u8] = b"\xef\xbb\xbf";

/// How files begin that are no text.
const BEGIN: [(&[u8], &str); 6] = [
    (b"\xff\xfe", "UTF-16 text"),
    (b"\xfe\xff", "UTF-16 text"),
    (b"PK\x03\x04", "a workbook or another packed file"),
    (b"\xd0\xcf\x11\xe0", "an old workbook"),
    (b"\x1f\x8b", "a compressed file"),
    (b"PAR1", "a file of columns, for `pyarrow` or `polars`"),
];

/// Why a source cannot be a log at all: it is no text of single bytes.
fn no_text(bytes: &[u8]) -> Option<Issue> {
    let head = bytes.get(..4096).unwrap_or(bytes);
    let begins = BEGIN.iter().find(|(begin, _)| head.starts_with(begin)).map(|b| b.1);
    let zeros = head.iter().filter(|b| **b == 0).count();
    let controls = head.iter().filter(|b| **b < 9 || (14..27).contains(*b)).count();
    let what = match begins {
        Some(what) => what,
        None if zeros * 3 > head.len() && zeros * 3 < head.len() * 2 => "UTF-16 text",
        None if zeros > 0 || controls * 20 > head.len() => "no text",
        None => return None,
    };
    let message = format!("the log is {what}");
    let remedy = "save the log as text in UTF-8, or give its columns as arrays or a table";
    Some(Issue::new(slug::READINGS_ENCODING, "log", message).remedy(remedy))
}

/// The names of the columns, where the rows begin, and whether all of it is text.
fn heading(bytes: &[u8], delimiter: u8) -> Result<(Vec<String>, usize, bool), Error> {
    let empty =
        |message: String| Error::data(vec![Issue::new(slug::READINGS_EMPTY, "log", message)]);
    let mut reader = ReaderBuilder::new().delimiter(delimiter).flexible(true).from_reader(bytes);
    let headers = match reader.byte_headers() {
        Ok(headers) => headers.clone(),
        Err(error) => return Err(empty(format!("the heading cannot be read: {error}"))),
    };
    let name = |h: &[u8]| String::from_utf8_lossy(h).trim().to_owned();
    let names: Vec<String> = headers.iter().map(name).collect();
    if names.iter().all(String::is_empty) {
        return Err(empty("the file is empty".to_owned()));
    }
    let readable = headers.iter().all(|h| core::str::from_utf8(h).is_ok());
    let body = usize::try_from(reader.position().byte()).unwrap_or(bytes.len());
    Ok((names, body.min(bytes.len()), readable))
}

/// Where the wanted cells of a row are.
struct Shape {
    places: Places,
    /// Whether the cell at each place is.
    wanted: Vec<bool>,
    columns: usize,
    delimiter: u8,
}

/// The cells of a row.
trait Cells {
    fn count(&self) -> usize;
    fn cell(&self, i: usize) -> &[u8];
}

impl Cells for ByteRecord {
    fn count(&self) -> usize {
        self.len()
    }
    fn cell(&self, i: usize) -> &[u8] {
        self.get(i).unwrap_or(b"")
    }
}

/// A line without quotation marks and where its cells end.
struct Line<'a> {
    bytes: &'a [u8],
    ends: &'a [usize],
}

impl Cells for Line<'_> {
    fn count(&self) -> usize {
        self.ends.len()
    }
    fn cell(&self, i: usize) -> &[u8] {
        let from = i.checked_sub(1).and_then(|before| self.ends.get(before)).map_or(0, |e| e + 1);
        let to = self.ends.get(i).copied().unwrap_or(0);
        self.bytes.get(from..to).unwrap_or(b"")
    }
}

impl Shape {
    /// A block without quotation marks.
    fn part(&self, plan: &Plan<'_>, block: &Block) -> Part {
        let mut part = Part::of(plan);
        part.reserve(block.lines());
        let mark = if plan.spec.decimal == Decimal::Point { b'.' } else { b',' };
        let mut ends: Vec<usize> = Vec::with_capacity(self.columns);
        let mut plain: Vec<Option<Short>> = Vec::with_capacity(self.columns);
        let whole = block.each(|row, bytes| {
            ends.clear();
            plain.clear();
            let mut from = 0;
            while let Some(rest) = bytes.get(from..) {
                let wanted = self.wanted.get(ends.len()).is_some_and(|w| *w);
                let found = if wanted { short(rest, mark, self.delimiter) } else { None };
                let length = found.map_or_else(|| length_of(rest, self.delimiter), |f| f.length());
                plain.push(found);
                ends.push(from + length);
                if length == rest.len() {
                    break;
                }
                from += length + 1;
            }
            self.line(&mut part, plan, row, &Line { bytes, ends: &ends }, &plain);
        });
        if !whole {
            part.problems.push(slug::READINGS_TOO_LONG, || endless(block.row));
            part.ended = true;
        }
        part
    }

    /// A row whose plain numbers have been read on the way.
    fn line(
        &self,
        part: &mut Part,
        plan: &Plan<'_>,
        row: u64,
        line: &Line<'_>,
        plain: &[Option<Short>],
    ) {
        let of = |place: usize| plain.get(place).copied().flatten();
        let time = of(self.places.time).zip(plan.clock.unit());
        let Some((time, unit)) = time.filter(|_| line.count() == self.columns) else {
            return self.row(part, plan, row, line);
        };
        let moment = Moment::Seconds(unit.to_si(time.value));
        part.at(plan, row, Ok(moment), String::new);
        for (channel, place) in self.places.channels.iter().enumerate() {
            match of(*place) {
                Some(found) => part.plain(plan, channel, found),
                None => part.value(plan, channel, row, &Cell::Text(line.cell(*place))),
            }
        }
    }

    fn row(&self, part: &mut Part, plan: &Plan<'_>, row: u64, cells: &impl Cells) {
        if let Some(issue) = misshapen(cells, self.columns, self.delimiter, row) {
            if !blank(cells) {
                part.problems.push(issue.slug, || issue);
            }
            return;
        }
        let time = cells.cell(self.places.time);
        if time.is_empty() && blank(cells) {
            return;
        }
        if !part.time(plan, row, &Cell::Text(time)) {
            return;
        }
        for (channel, place) in self.places.channels.iter().enumerate() {
            part.value(plan, channel, row, &Cell::Text(cells.cell(*place)));
        }
    }

    /// The rest of a log in which quotation marks hold cells together: one row after the other.
    fn with_quotes(
        &self,
        log: &mut Gathered<'_>,
        block: &Block,
        rest: Blocks<impl Read>,
    ) -> Result<(), Error> {
        let taken = core::cell::Cell::new(0);
        let source = Bounded { source: rest.after(block), taken: &taken };
        let mut reader = ReaderBuilder::new()
            .delimiter(self.delimiter)
            .flexible(true)
            .has_headers(false)
            .from_reader(source);
        let mut record = ByteRecord::new();
        let mut part = Part::of(&log.plan);
        loop {
            taken.set(0);
            let row = block.row + reader.position().line() - 1;
            match reader.read_byte_record(&mut record) {
                Ok(true) => {}
                Ok(false) => break,
                Err(error) => {
                    let issue = if taken.get() > ROW {
                        endless(row)
                    } else {
                        let path = format!("log row {row}");
                        Issue::new(slug::READINGS_ENCODING, path, error.to_string())
                    };
                    part.problems.push(issue.slug, || issue);
                    break;
                }
            }
            let row = record.position().map_or(row, |p| block.row + p.line() - 1);
            self.row(&mut part, &log.plan, row, &record);
            if part.len() >= TOGETHER {
                go_on()?;
                let full = core::mem::replace(&mut part, Part::of(&log.plan));
                if !log.join(full) {
                    return Ok(());
                }
            }
        }
        log.join(part);
        Ok(())
    }
}

/// How long a cell is that ends with a delimiter, or with the line.
fn length_of(cell: &[u8], delimiter: u8) -> usize {
    cell.iter().position(|b| *b == delimiter).unwrap_or(cell.len())
}

/// So many rows are joined at once.
const TOGETHER: usize = 8192;

/// A source that ends in an error where it gives more than a row without one.
struct Bounded<'a, S> {
    source: S,
    taken: &'a core::cell::Cell<usize>,
}

impl<S: Read> Read for Bounded<'_, S> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        if self.taken.get() > ROW {
            return Err(io::Error::other("the row does not end"));
        }
        let n = self.source.read(buffer)?;
        self.taken.set(self.taken.get() + n);
        Ok(n)
    }
}

fn blank(cells: &impl Cells) -> bool {
    (0..cells.count()).all(|i| cells.cell(i).is_empty())
}

/// A row whose cells cannot be those of the heading: more or fewer of them, or a cell that holds
/// rows of its own because a quotation mark was opened and not closed. Empty cells at the end,
/// which a spreadsheet writes or leaves off, are none.
fn misshapen(record: &impl Cells, columns: usize, delimiter: u8, row: u64) -> Option<Issue> {
    let path = || format!("log row {row}");
    let count = record.count();
    let swallows = |cell: &&[u8]| {
        let lines = cell.split(|b| *b == b'\n').skip(1);
        let marks = |l: &[u8]| l.iter().filter(|b| **b == delimiter).count();
        lines.map(marks).any(|n| n > 0 && n + 1 >= columns)
    };
    if let Some(cell) = (0..count).map(|i| record.cell(i)).find(swallows) {
        let rows = cell.iter().filter(|b| **b == b'\n').count();
        let message = format!("a quotation mark opened in this row swallows {rows} more lines");
        return Some(Issue::new(slug::READINGS_QUOTE, path(), message).value(quoted(cell)));
    }
    if count == columns {
        return None;
    }
    let filled = |i: &usize| !record.cell(*i).trim_ascii().is_empty();
    let cells = (0..count).rev().find(filled).map_or(0, |i| i + 1);
    if count > columns && cells <= columns {
        return None;
    }
    let remedy = if count > columns {
        "is a decimal comma taken for a column? declare `delimiter` and `decimal`, or quote texts"
    } else {
        "give every row a cell for each heading, an empty one where there is no value"
    };
    let message = format!("the row has {count} cells, the heading {columns}");
    let issue = Issue::new(slug::READINGS_RAGGED, path(), message).remedy(remedy);
    Some(issue.value(count).limit(columns))
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
                {"id":"b","column":"b","unit":"kN","role":"force"}],
                "moments":{"zero":{"from":"0 h","to":"0 h"},"peak":{"from":"1 h","to":"1 h"}}}"#,
        )
        .unwrap();
        let read = |text: &str| read_within(text.as_bytes(), &spec, 9);
        let three = "t,a,b\n0,0,0\n1,1,2\n2,0,0\n";
        assert_eq!(read(three).unwrap().rows(), 3);
        let four = format!("{three}3,0,0\n");
        assert_eq!(read(&four).unwrap_err().codes(), ["readings.too-long"]);
    }
}
