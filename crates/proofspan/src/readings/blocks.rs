//! A text in blocks of whole lines, read one after the other, taken apart side by side.

use std::io::Read;
use std::num::NonZero;
use std::thread;

use super::gather::{Gathered, Part, Plan};
use crate::error::{Error, Issue, go_on, slug};

/// A row may have so many bytes, with the blank ones before it.
pub(super) const ROW: usize = 1 << 20;
/// So many bytes are taken apart at once by one thread.
const BLOCK: usize = 1 << 20;
/// So many bytes are read at once.
const STEP: usize = 1 << 16;
/// More threads than this wait for the disk.
const THREADS: usize = 8;

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
}

impl<S: Read> Blocks<S> {
    pub(super) fn new(source: S) -> Self {
        Self { source, rest: Vec::new(), row: 1, ended: false }
    }

    /// The next block; nothing at the end.
    ///
    /// # Errors
    /// `readings.too-long` where a row does not end, `readings.file` where the source fails.
    pub(super) fn next(&mut self) -> Result<Option<Block>, Issue> {
        let mut bytes = core::mem::take(&mut self.rest);
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
            let read = self.source.by_ref().take(STEP as u64).read_to_end(&mut bytes);
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
            self.rest = bytes.split_off(cut);
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
        let threads = thread::available_parallelism().map_or(1, NonZero::get).min(THREADS);
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
            for part in side_by_side(&log.plan, &batch, &part) {
                if !log.join(part) {
                    return Ok(None);
                }
            }
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

/// One thread a block; the last one here.
fn side_by_side(
    plan: &Plan<'_>,
    batch: &[Block],
    part: &(impl Fn(&Plan<'_>, &Block) -> Part + Sync),
) -> Vec<Part> {
    let Some((last, others)) = batch.split_last() else { return Vec::new() };
    thread::scope(|scope| {
        let started: Vec<_> = others
            .iter()
            .map(|block| {
                let run = move || part(plan, block);
                (block, thread::Builder::new().spawn_scoped(scope, run))
            })
            .collect();
        let last = part(plan, last);
        let mut parts = Vec::with_capacity(batch.len());
        for (block, thread) in started {
            parts.push(match thread.map(thread::ScopedJoinHandle::join) {
                Ok(Ok(part)) => part,
                Ok(Err(panic)) => std::panic::resume_unwind(panic),
                // no thread to be had
                Err(_) => part(plan, block),
            });
        }
        parts.push(last);
        parts
    })
}

impl Block {
    /// What ends its lines: where there is no line feed, carriage returns do.
    pub(super) fn line_end(&self) -> u8 {
        if self.bytes.contains(&b'\n') { b'\n' } else { b'\r' }
    }

    fn lines(&self) -> u64 {
        count(&self.bytes, self.line_end())
    }

    /// Its lines with their numbers, blank ones left out. `false` at the end: too many blank bytes
    /// one after the other.
    pub(super) fn each<'b>(&'b self, mut visit: impl FnMut(u64, &'b [u8])) -> bool {
        let end = self.line_end();
        let mut blank = 0;
        for (row, line) in (self.row..).zip(self.bytes.split(|b| *b == end)) {
            for line in line.split(|b| *b == b'\r') {
                if line.is_empty() {
                    blank += 1;
                    if blank > ROW {
                        return false;
                    }
                } else {
                    blank = 0;
                    visit(row, line);
                }
            }
        }
        true
    }
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
