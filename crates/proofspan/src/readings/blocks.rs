//! A text in blocks of whole lines, read one after the other, taken apart side by side.

use std::io::{BufRead as _, Read};

use super::gather::{Gathered, Part, Plan};
use super::threads::{each, threads};
use crate::error::{Error, Issue, go_on, slug};

/// A row may have so many bytes, with the blank ones before it.
pub(super) const ROW: usize = 1 << 20;
/// So many bytes are taken apart at once by one thread.
const BLOCK: usize = 1 << 20;
/// So many bytes are read at once.
const STEP: usize = 1 << 16;

/// Some whole lines.
#[derive(Default)]
pub(super) struct Block {
    pub(super) bytes: Vec<u8>,
    /// The number of its first line, from 1.
    pub(super) row: u64,
}

/// The blocks of a source.
pub(super) struct Blocks<S> {
    source: S,
    rest: Vec<u8>,
    row: u64,
    ended: bool,
    /// Memory of blocks that have been taken apart.
    spare: Vec<Vec<u8>>,
}

impl<S: Read> Blocks<S> {
    pub(super) fn new(source: S) -> Self {
        Self { source, rest: Vec::new(), row: 1, ended: false, spare: Vec::new() }
    }

    /// The next block; nothing at the end.
    ///
    /// # Errors
    /// `readings.too-long` where a row does not end, `readings.file` where the source fails.
    pub(super) fn next(&mut self) -> Result<Option<Block>, Issue> {
        let mut bytes = self.spare.pop().unwrap_or_default();
        bytes.clear();
        bytes.append(&mut self.rest);
        let mut cut = None;
        while !self.ended {
            if bytes.len() >= BLOCK {
                cut = end_of_lines(&bytes);
                if cut.is_some() {
                    break;
                }
                if bytes.len() > ROW {
                    return Err(endless(self.row));
                }
            }
            let step = BLOCK.saturating_sub(bytes.len()).max(STEP);
            bytes.reserve(step + 1);
            let read = self.source.by_ref().take(step as u64).read_to_end(&mut bytes);
            match read {
                Ok(0) => self.ended = true,
                Ok(_) => {}
                Err(error) => {
                    self.ended = true;
                    let message = format!("the log cannot be read to its end: {error}");
                    let path = format!("log row {}", self.row);
                    return Err(Issue::new(slug::READINGS_FILE, path, message));
                }
            }
        }
        if let Some(cut) = cut {
            self.rest.extend_from_slice(bytes.get(cut..).unwrap_or_default());
            bytes.truncate(cut);
        }
        if bytes.is_empty() {
            return Ok(None);
        }
        let block = Block { row: self.row, bytes };
        self.row += block.lines();
        Ok(Some(block))
    }

    /// The block and all that comes after it.
    pub(super) fn after(self, block: &Block) -> impl Read {
        let rest = std::io::Cursor::new(self.rest);
        block.bytes.as_slice().chain(rest).chain(self.source)
    }

    /// Takes the blocks from `first` on apart by `part` and joins them in order; returns the first
    /// that is not `plain`.
    ///
    /// # Errors
    /// Where somebody wants an end of it.
    pub(super) fn join(
        &mut self,
        log: &mut Gathered<'_>,
        first: Block,
        plain: impl Fn(&Block) -> bool,
        part: impl Fn(&Plan<'_>, &Block) -> Part + Sync,
    ) -> Result<Option<Block>, Error> {
        let threads = threads();
        let mut next = Some(first);
        let mut broken = None;
        loop {
            go_on()?;
            let mut batch: Vec<Block> = Vec::new();
            let mut odd = None;
            while batch.len() < threads && broken.is_none() {
                match next.take().map_or_else(|| self.next(), |block| Ok(Some(block))) {
                    Ok(Some(block)) if plain(&block) => batch.push(block),
                    Ok(other) => {
                        odd = other;
                        break;
                    }
                    Err(issue) => broken = Some(issue),
                }
            }
            let last = batch.len() < threads;
            let parts = each(usize::MAX, batch.iter(), |block| part(&log.plan, block))?;
            for part in parts {
                if !log.join(part) {
                    return Ok(None);
                }
            }
            self.spare.extend(batch.into_iter().map(|block| block.bytes));
            if let Some(issue) = broken {
                log.problems.push(issue.slug, || issue);
                return Ok(None);
            }
            if last {
                return Ok(odd);
            }
        }
    }
}

impl Block {
    /// What ends its lines: where there is no line feed, carriage returns do.
    pub(super) fn line_end(&self) -> u8 {
        if self.bytes.contains(&b'\n') { b'\n' } else { b'\r' }
    }

    pub(super) fn lines(&self) -> u64 {
        count(&self.bytes, self.line_end())
    }

    /// Its lines with their numbers, blank ones left out. `false` at the end: too many blank bytes
    /// one after the other.
    pub(super) fn each<'b>(&'b self, mut visit: impl FnMut(u64, &'b [u8])) -> bool {
        let end = self.line_end();
        let returns = self.bytes.contains(&b'\r');
        let mut blank = 0;
        let mut see = |row: u64, line: &'b [u8]| {
            if line.is_empty() {
                blank += 1;
            } else {
                blank = 0;
                visit(row, line);
            }
            blank <= ROW
        };
        let mut rest = self.bytes.as_slice();
        let mut row = self.row;
        while !rest.is_empty() {
            let line = until(&mut rest, end);
            let all = if returns {
                line.split(|b| *b == b'\r').all(|line| see(row, line))
            } else {
                see(row, line)
            };
            if !all {
                return false;
            }
            row += 1;
        }
        true
    }
}

/// Takes the next line from some lines, what ends it apart.
fn until<'b>(rest: &mut &'b [u8], end: u8) -> &'b [u8] {
    let all = *rest;
    // a slice has no errors
    let length = rest.skip_until(end).unwrap_or(all.len());
    let line = all.get(..length).unwrap_or(all);
    line.strip_suffix(&[end]).unwrap_or(line)
}

fn end_of_lines(bytes: &[u8]) -> Option<usize> {
    let last = |end: u8| bytes.iter().rposition(|b| *b == end).map(|i| i + 1);
    last(b'\n').or_else(|| last(b'\r').filter(|cut| *cut < bytes.len()))
}

pub(super) fn count(bytes: &[u8], end: u8) -> u64 {
    bytes.iter().map(|b| u64::from(*b == end)).sum()
}

/// A row, or the heading, that does not end.
pub(super) fn endless(row: u64) -> Issue {
    let what = if row == 1 { "heading" } else { "row" };
    Issue::new(
        slug::READINGS_TOO_LONG,
        format!("log row {row}"),
        format!("the {what} does not end"),
    )
    .limit(format!("a row of {ROW} bytes, blank ones before it included"))
}
