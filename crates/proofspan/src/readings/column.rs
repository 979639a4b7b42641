//! A column of numbers in blocks. A log has so much memory for all its columns; blocks beyond it stand
//! in a file without a name, so that memory does not grow with the rows. No number changes by that.

use core::cell::Cell;
use core::ops::Range;
use std::borrow::Cow;
use std::sync::Arc;

use super::store::{Slot, Store};

/// So many bytes of memory have the columns of a log, with all that is worked out row by row of them
/// (library rule).
const MEMORY: usize = 192 << 20;

thread_local! {
    static LENT: Cell<usize> = const { Cell::new(MEMORY) };
}

/// Reads logs with so much memory (bytes) for their columns, and for all that is worked out of them
/// row by row; without it a log has 192 MiB. What does not fit stands in a file without a name in the
/// folder for such files (`TMPDIR`), which goes with the log; where none can be written it stays in
/// memory. No result depends on it.
///
/// ```
/// use proofspan::readings::{LogSpec, read_csv_text, with_memory};
/// use proofspan::source::read_json;
/// let layout: LogSpec = read_json(r#"{
///     "time": {"column": "t", "unit": "h"},
///     "channels": [{"id": "middle", "column": "d", "unit": "mm", "role": "deflection", "at": "3 m"}],
///     "moments": {"zero": {"from": "0 h", "to": "0.5 h"}, "peak": {"from": "24 h", "to": "25 h"}}}"#)?;
/// let read = || read_csv_text("t,d\n0,0.0\n24,12.0\n", &layout);
/// assert_eq!(with_memory(0, read)?.fingerprint(), read()?.fingerprint());
/// # Ok::<(), proofspan::error::Error>(())
/// ```
pub fn with_memory<R>(bytes: usize, work: impl FnOnce() -> R) -> R {
    struct Back(usize);
    impl Drop for Back {
        fn drop(&mut self) {
            LENT.set(self.0);
        }
    }
    let _back = Back(LENT.replace(bytes));
    work()
}

/// A store with the memory that the reader of a log has.
pub(super) fn room() -> Arc<Store> {
    Arc::new(Store::new(LENT.get()))
}

/// A whole block.
#[derive(Clone)]
enum Block {
    Here(Arc<Here>),
    /// On the disk, with its first number.
    There(Arc<Slot>, f64),
}

/// A block in memory, counted.
struct Here {
    values: Vec<f64>,
    store: Arc<Store>,
}

impl Drop for Here {
    fn drop(&mut self) {
        self.store.give_back();
    }
}

impl Block {
    fn of(values: Vec<f64>, store: &Arc<Store>) -> Self {
        if !store.take()
            && let Some(slot) = Store::put(store, &values)
        {
            let first = values.first().copied().unwrap_or(f64::NAN);
            return Self::There(Arc::new(slot), first);
        }
        Self::Here(Arc::new(Here { values, store: Arc::clone(store) }))
    }

    fn first(&self) -> f64 {
        match self {
            Self::Here(here) => here.values.first().copied().unwrap_or(f64::NAN),
            Self::There(_, first) => *first,
        }
    }

    fn values(&self) -> Cow<'_, [f64]> {
        match self {
            Self::Here(here) => Cow::Borrowed(&here.values),
            Self::There(slot, _) => Cow::Owned(slot.read()),
        }
    }
}

/// Numbers in order.
#[derive(Clone)]
pub(super) struct Column {
    blocks: Vec<Block>,
    /// What is no whole block yet.
    open: Vec<f64>,
    store: Arc<Store>,
}

impl Column {
    /// None yet.
    pub(super) fn new(store: &Arc<Store>) -> Self {
        Self { blocks: Vec::new(), open: Vec::new(), store: Arc::clone(store) }
    }

    /// These.
    pub(super) fn of(store: &Arc<Store>, values: impl Iterator<Item = f64>) -> Self {
        let mut own = Self::new(store);
        values.for_each(|v| own.push(v));
        own
    }

    pub(super) const fn store(&self) -> &Arc<Store> {
        &self.store
    }

    pub(super) fn len(&self) -> usize {
        self.blocks.len() * self.store.block() + self.open.len()
    }

    pub(super) fn push(&mut self, value: f64) {
        self.reserve(1);
        self.open.push(value);
        self.close();
    }

    /// Makes room for more numbers: of a column of some length for a whole block and not more.
    fn reserve(&mut self, more: usize) {
        let length = self.open.len() + more;
        let block = self.store.block();
        if length > self.open.capacity() && (length > block / 4 || !self.blocks.is_empty()) {
            self.open.reserve_exact(block - self.open.len());
        }
    }

    pub(super) fn extend(&mut self, mut values: &[f64]) {
        while !values.is_empty() {
            let room = self.store.block() - self.open.len();
            let (now, rest) = values.split_at(room.min(values.len()));
            self.reserve(now.len());
            self.open.extend_from_slice(now);
            self.close();
            values = rest;
        }
    }

    fn close(&mut self) {
        if self.open.len() >= self.store.block() {
            let full = core::mem::take(&mut self.open);
            self.blocks.push(Block::of(full, &self.store));
        }
    }

    fn block(&self, block: usize) -> Cow<'_, [f64]> {
        match self.blocks.get(block) {
            Some(block) => block.values(),
            None if block == self.blocks.len() => Cow::Borrowed(&self.open),
            None => Cow::Borrowed(&[]),
        }
    }

    pub(super) fn get(&self, row: usize) -> Option<f64> {
        self.cursor().get(row)
    }

    pub(super) fn first(&self) -> Option<f64> {
        self.get(0)
    }

    pub(super) fn last(&self) -> Option<f64> {
        self.len().checked_sub(1).and_then(|last| self.get(last))
    }

    pub(super) const fn cursor(&self) -> Cursor<'_> {
        Cursor { column: self, base: 0, values: Cow::Borrowed(&[]) }
    }

    /// Some rows one after the other, from both ends; rows that are not there give none.
    pub(super) fn range(&self, rows: Range<usize>) -> Values<'_> {
        let end = rows.end.min(self.len());
        let rows = rows.start.min(end)..end;
        Values { front: self.cursor(), back: self.cursor(), rows }
    }

    pub(super) fn iter(&self) -> Values<'_> {
        self.range(0..self.len())
    }

    /// Some rows in pieces, each with the number of its first row.
    pub(super) fn pieces(
        &self,
        rows: Range<usize>,
    ) -> impl Iterator<Item = (usize, Cow<'_, [f64]>)> {
        let end = rows.end.min(self.len());
        let rows = rows.start.min(end)..end;
        let size = self.store.block();
        let blocks = if rows.is_empty() { 0..0 } else { rows.start / size..end.div_ceil(size) };
        blocks.map(move |block| {
            let base = block * size;
            let from = rows.start.max(base);
            let part = from - base..rows.end.min(base + size) - base;
            let cut = match self.block(block) {
                Cow::Borrowed(all) => Cow::Borrowed(all.get(part).unwrap_or_default()),
                Cow::Owned(mut all) => {
                    all.truncate(part.end);
                    all.drain(..part.start.min(all.len()));
                    Cow::Owned(all)
                }
            };
            (from, cut)
        })
    }

    /// How many rows stand before the first of which this is not true, in a column in order.
    pub(super) fn partition_point(&self, before: impl Fn(f64) -> bool) -> usize {
        let whole = self.blocks.partition_point(|b| before(b.first()));
        let open = whole == self.blocks.len() && self.open.first().is_some_and(|v| before(*v));
        let Some(block) = (if open { Some(whole) } else { whole.checked_sub(1) }) else { return 0 };
        block * self.store.block() + self.block(block).partition_point(|v| before(*v))
    }

    /// Changes some rows piece by piece, each with the number of its first row.
    pub(super) fn change(&mut self, rows: Range<usize>, mut change: impl FnMut(usize, &mut [f64])) {
        let end = rows.end.min(self.len());
        if rows.start >= end {
            return;
        }
        let size = self.store.block();
        for block in rows.start / size..end.div_ceil(size) {
            let base = block * size;
            let from = rows.start.max(base);
            let part = from - base..end.min(base + size) - base;
            let Some(own) = self.blocks.get_mut(block) else {
                if let Some(values) = self.open.get_mut(part) {
                    change(from, values);
                }
                return;
            };
            if let Block::Here(here) = own
                && let Some(here) = Arc::get_mut(here)
            {
                if let Some(values) = here.values.get_mut(part) {
                    change(from, values);
                }
                continue;
            }
            let was = own.values();
            let mut now = was.to_vec();
            if let Some(values) = now.get_mut(part) {
                change(from, values);
            }
            let same = was.iter().zip(&now).all(|(a, b)| a.to_bits() == b.to_bits());
            if !same {
                *own = Block::of(now, &self.store);
            }
        }
    }

    /// Makes not-a-number of rows, which another column lists in order.
    pub(super) fn blank(&mut self, rows: &Self) {
        let mut rows = rows.iter().peekable();
        let size = self.store.block();
        while let Some(row) = rows.peek() {
            // a number of a row is whole and small
            let base = *row as usize / size * size;
            self.change(base..base + size, |first, values| {
                let end = (first + values.len()) as f64;
                while let Some(row) = rows.next_if(|row| *row < end) {
                    if let Some(value) = values.get_mut(row as usize - first) {
                        *value = f64::NAN;
                    }
                }
            });
            // rows that are not there
            while rows.next_if(|row| *row < (base + size) as f64).is_some() {}
        }
    }
}

impl PartialEq for Column {
    fn eq(&self, other: &Self) -> bool {
        self.len() == other.len() && self.iter().eq(other.iter())
    }
}

impl core::fmt::Debug for Column {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(f, "Column({} rows)", self.len())
    }
}

/// A place in a column, near which looking is quick.
pub(super) struct Cursor<'a> {
    column: &'a Column,
    base: usize,
    values: Cow<'a, [f64]>,
}

impl Cursor<'_> {
    pub(super) fn get(&mut self, row: usize) -> Option<f64> {
        if let Some(value) = self.values.get(row.wrapping_sub(self.base)) {
            return Some(*value);
        }
        self.load(row)
    }

    #[cold]
    fn load(&mut self, row: usize) -> Option<f64> {
        if row >= self.column.len() {
            return None;
        }
        let size = self.column.store.block();
        self.base = row / size * size;
        self.values = self.column.block(row / size);
        self.values.get(row - self.base).copied()
    }
}

/// Some rows of a column.
pub(super) struct Values<'a> {
    front: Cursor<'a>,
    back: Cursor<'a>,
    rows: Range<usize>,
}

impl Iterator for Values<'_> {
    type Item = f64;

    fn next(&mut self) -> Option<f64> {
        let row = self.rows.next()?;
        self.front.get(row)
    }

    fn size_hint(&self) -> (usize, Option<usize>) {
        self.rows.size_hint()
    }

    fn nth(&mut self, n: usize) -> Option<f64> {
        let row = self.rows.nth(n)?;
        self.front.get(row)
    }
}

impl DoubleEndedIterator for Values<'_> {
    fn next_back(&mut self) -> Option<f64> {
        let row = self.rows.next_back()?;
        self.back.get(row)
    }
}

impl ExactSizeIterator for Values<'_> {}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::float_cmp, reason = "tests")]
mod tests {
    use super::*;

    /// A column of three blocks and a part, in memory and on the disk, beside a plain vector.
    #[test]
    fn a_column_is_its_numbers_wherever_they_stand() {
        const BLOCK: usize = 16;
        let rows = 3 * BLOCK + 5;
        let plain: Vec<f64> = (0..rows).map(|i| i as f64 * 0.5).collect();
        for blocks in [0, 1, 63] {
            let store = Arc::new(Store::new(blocks * BLOCK * 8));
            assert_eq!(store.block(), BLOCK);
            let mut own = Column::new(&store);
            own.extend(plain.get(..5).unwrap_or_default());
            own.extend(plain.get(5..).unwrap_or_default());
            assert_eq!(own, Column::of(&store, plain.iter().copied()));
            assert_eq!((own.len(), own.first(), own.get(rows)), (rows, Some(0.0), None));
            assert_eq!(own.last(), plain.last().copied());
            let middle = BLOCK - 3..2 * BLOCK + 5;
            let part = plain.get(middle.clone()).unwrap_or_default();
            assert!(own.range(middle.clone()).eq(part.iter().copied()));
            assert!(own.range(middle.clone()).rev().eq(part.iter().rev().copied()));
            let pieces: Vec<(usize, Vec<f64>)> =
                own.pieces(middle.clone()).map(|(i, p)| (i, p.into_owned())).collect();
            assert_eq!(
                pieces.iter().map(|p| p.0).collect::<Vec<_>>(),
                [BLOCK - 3, BLOCK, 2 * BLOCK]
            );
            assert_eq!(pieces.into_iter().flat_map(|p| p.1).collect::<Vec<_>>(), part);
            for edge in [-1.0, 0.0, 7.3, 8.0, 24.0, 25.7, 1e9] {
                let before = plain.partition_point(|v| *v < edge);
                assert_eq!(own.partition_point(|v| v < edge), before, "{edge}");
            }
            // a copy is not changed with it
            let copy = own.clone();
            own.change(middle.clone(), |first, values| {
                for (i, value) in values.iter_mut().enumerate() {
                    assert_eq!(*value, (first + i) as f64 * 0.5);
                    *value = -1.0;
                }
            });
            assert!(
                own.range(middle.clone()).all(|v| v == -1.0)
                    && own.iter().filter(|v| *v < 0.0).count() == middle.len()
            );
            assert!(copy.iter().eq(plain.iter().copied()));
            let listed = [0, 4, BLOCK - 1, 3 * BLOCK + 2, rows + 9];
            own.blank(&Column::of(&store, listed.iter().map(|i| *i as f64)));
            let out: Vec<usize> =
                own.iter().enumerate().filter(|v| v.1.is_nan()).map(|v| v.0).collect();
            assert_eq!(out, [0, 4, BLOCK - 1, 3 * BLOCK + 2]);
            // what is given back is taken again
            drop((own, copy));
            assert_eq!(store.taken(), 0);
            let again = Column::of(&store, plain.iter().copied());
            assert_eq!(store.taken(), blocks.min(3));
            assert!(again.iter().eq(plain.iter().copied()));
        }
    }

    /// Where no file can be made everything stays in memory; where one loses what stands in it that is
    /// said, and nobody takes what is missing for a number.
    #[test]
    fn a_disk_that_fails_is_said() {
        let rows = || (0..100).map(f64::from);
        let store = Arc::new(Store::without_file());
        let own = Column::of(&store, rows());
        assert!(own.iter().eq(rows()) && store.taken() == 6);
        assert!(store.sound().is_ok());
        let store = Arc::new(Store::new(0));
        let own = Column::of(&store, rows());
        store.lose();
        assert_eq!(own.iter().filter(|v| v.is_nan()).count(), 96);
        assert_eq!(store.sound().unwrap_err().codes(), ["readings.file"]);
    }
}
