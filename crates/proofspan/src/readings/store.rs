//! Where blocks of columns stand: so many in memory, the others in a file without a name.

use std::fs::{File, OpenOptions};
use std::io::{self, Write as _};
use std::path::PathBuf;
use std::sync::atomic::{AtomicU64, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError};

use crate::error::{Error, Issue, slug};

/// So many rows are a block where there is memory for
const BLOCK: usize = 1 << 14;
/// so many of them; in little memory blocks are smaller, down to so many rows.
const MANY: usize = 64;
const LEAST: usize = 16;

/// The memory and the file of one log.
pub(super) struct Store {
    /// So many rows are a block: a whole number of halvings of the largest.
    block: usize,
    /// So many blocks may stand in memory, and so many do.
    most: usize,
    taken: AtomicUsize,
    /// Nothing where none can be made.
    file: OnceLock<Option<Unnamed>>,
    places: Mutex<Places>,
    /// Why a block cannot be read back, or no more be written.
    broken: OnceLock<String>,
    full: OnceLock<()>,
}

/// Places of the file, in bytes.
#[derive(Default)]
struct Places {
    free: Vec<u64>,
    end: u64,
}

/// A block in the file.
pub(super) struct Slot {
    store: Arc<Store>,
    place: u64,
    count: usize,
}

impl Drop for Slot {
    fn drop(&mut self) {
        self.store.places().free.push(self.place);
    }
}

impl Slot {
    /// Its numbers; not-a-number, and the store is broken, where the file does not give them.
    pub(super) fn read(&self) -> Vec<f64> {
        let mut bytes = vec![0; self.count * 8];
        let read = match self.store.file() {
            Some(file) => file.read(self.place, &mut bytes, &self.store.places),
            None => Err(io::Error::other("there is no file")),
        };
        if let Err(error) = read {
            let _ = self.store.broken.set(error.to_string());
            return vec![f64::NAN; self.count];
        }
        let (numbers, _) = bytes.as_chunks::<8>();
        numbers.iter().map(|n| f64::from_le_bytes(*n)).collect()
    }
}

impl Store {
    /// With so many bytes of memory.
    pub(super) fn new(bytes: usize) -> Self {
        let mut block = BLOCK;
        while block > LEAST && block * 8 * MANY > bytes {
            block /= 2;
        }
        Self {
            block,
            most: bytes / (8 * block),
            taken: AtomicUsize::new(0),
            file: OnceLock::new(),
            places: Mutex::new(Places { free: Vec::new(), end: 0 }),
            broken: OnceLock::new(),
            full: OnceLock::new(),
        }
    }

    /// So many rows are a block.
    pub(super) const fn block(&self) -> usize {
        self.block
    }

    /// Takes memory for a block: `false` where that is more than there should be.
    pub(super) fn take(&self) -> bool {
        self.taken.fetch_add(1, Ordering::Relaxed) < self.most
    }

    pub(super) fn give_back(&self) {
        self.taken.fetch_sub(1, Ordering::Relaxed);
    }

    /// Puts a block for which memory was taken into the file and gives the memory back; nothing where
    /// the file takes no more.
    pub(super) fn put(store: &Arc<Self>, values: &[f64]) -> Option<Slot> {
        if store.full.get().is_some() {
            return None;
        }
        let bytes: Vec<u8> = values.iter().flat_map(|v| v.to_le_bytes()).collect();
        let file = store.file()?;
        let mut places = store.places();
        let size = bytes.len() as u64;
        let place = places.free.pop().unwrap_or(places.end);
        if file.write(place, &bytes).is_err() {
            let _ = store.full.set(());
            return None;
        }
        places.end = places.end.max(place + size);
        drop(places);
        store.give_back();
        Some(Slot { store: Arc::clone(store), place, count: values.len() })
    }

    /// # Errors
    /// `readings.file` where a part of the log could not be read back.
    pub(super) fn sound(&self) -> Result<(), Error> {
        let Some(why) = self.broken.get() else { return Ok(()) };
        let message =
            format!("a part of the log that was put aside on the disk cannot be read: {why}");
        let remedy =
            "see to the disk of the folder for temporary files, or name another as `TMPDIR`";
        Err(Error::data(vec![Issue::new(slug::READINGS_FILE, "log", message).remedy(remedy)]))
    }

    fn file(&self) -> Option<&Unnamed> {
        self.file.get_or_init(|| Unnamed::new().ok()).as_ref()
    }

    fn places(&self) -> MutexGuard<'_, Places> {
        self.places.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// A file that nobody else finds and that goes with its owner.
struct Unnamed {
    file: File,
    /// Its name, where it could not be taken away while it is open.
    named: Option<PathBuf>,
}

impl Drop for Unnamed {
    fn drop(&mut self) {
        if let Some(path) = &self.named {
            let _ = std::fs::remove_file(path);
        }
    }
}

impl Unnamed {
    fn new() -> io::Result<Self> {
        static COUNT: AtomicU64 = AtomicU64::new(0);
        let mut last = io::Error::other("no name is free");
        for _ in 0..64 {
            let count = COUNT.fetch_add(1, Ordering::Relaxed);
            let name = format!("proofspan-{}-{count}.columns", std::process::id());
            let path = std::env::temp_dir().join(name);
            let mut options = OpenOptions::new();
            // a name that is there already is somebody else's
            options.read(true).write(true).create_new(true);
            #[cfg(unix)]
            std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
            match options.open(&path) {
                Ok(file) => {
                    let gone = std::fs::remove_file(&path).is_ok();
                    return Ok(Self { file, named: (!gone).then_some(path) });
                }
                Err(error) if error.kind() == io::ErrorKind::AlreadyExists => last = error,
                Err(error) => return Err(error),
            }
        }
        Err(last)
    }

    /// Writes at a place; whoever calls holds the places.
    fn write(&self, place: u64, bytes: &[u8]) -> io::Result<()> {
        use std::io::{Seek as _, SeekFrom};
        let mut file = &self.file;
        file.seek(SeekFrom::Start(place))?;
        file.write_all(bytes)
    }

    #[cfg(unix)]
    fn read(&self, place: u64, bytes: &mut [u8], _: &Mutex<Places>) -> io::Result<()> {
        std::os::unix::fs::FileExt::read_exact_at(&self.file, bytes, place)
    }

    #[cfg(not(unix))]
    fn read(&self, place: u64, bytes: &mut [u8], places: &Mutex<Places>) -> io::Result<()> {
        use std::io::{Read as _, Seek as _, SeekFrom};
        let _held = places.lock().unwrap_or_else(PoisonError::into_inner);
        let mut file = &self.file;
        file.seek(SeekFrom::Start(place))?;
        file.read_exact(bytes)
    }
}

#[cfg(test)]
impl Store {
    pub(super) fn taken(&self) -> usize {
        self.taken.load(Ordering::Relaxed)
    }

    /// No memory, and no file either.
    pub(super) fn without_file() -> Self {
        let own = Self::new(0);
        let _ = own.file.set(None);
        own
    }

    /// Loses what stands in the file.
    pub(super) fn lose(&self) {
        let _ = self.file().map(|own| own.file.set_len(0));
    }
}
