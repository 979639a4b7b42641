//! The same work on many things at once, answered in their order: what comes out does not hang on
//! how many threads there are.

use std::num::NonZero;
use std::sync::Mutex;
use std::thread;

use crate::error::{Error, go_on};

/// More threads than this wait for the disk, or for one another.
const THREADS: usize = 8;
/// Below so many samples in all a thread costs more than it saves.
const WORTH: usize = 1 << 17;

/// How many threads take a part.
pub(super) fn threads() -> usize {
    thread::available_parallelism().map_or(1, NonZero::get).min(THREADS)
}

/// Runs the work on every thing, side by side where `samples` are worth it.
///
/// # Errors
/// Where somebody wants an end of it.
pub(crate) fn each<T: Send, R: Send>(
    samples: usize,
    things: impl Iterator<Item = T> + Send,
    work: impl Fn(T) -> R + Sync,
) -> Result<Vec<R>, Error> {
    let beside = if samples < WORTH { 0 } else { threads() - 1 };
    let queue = Mutex::new(things.enumerate());
    let next = || queue.lock().unwrap_or_else(std::sync::PoisonError::into_inner).next();
    let mut found: Vec<(usize, R)> = Vec::new();
    let mut ended = Ok(());
    thread::scope(|scope| {
        let rest = || {
            let mut own = Vec::new();
            while let Some((i, thing)) = next() {
                own.push((i, work(thing)));
            }
            own
        };
        // where no thread is to be had, this one does it all
        let started: Vec<_> = (0..beside)
            .map_while(|_| thread::Builder::new().spawn_scoped(scope, rest).ok())
            .collect();
        loop {
            ended = go_on();
            if ended.is_err() {
                // the others find nothing more to do
                while next().is_some() {}
                break;
            }
            let Some((i, thing)) = next() else { break };
            found.push((i, work(thing)));
        }
        for thread in started {
            match thread.join() {
                Ok(own) => found.extend(own),
                Err(panic) => std::panic::resume_unwind(panic),
            }
        }
    });
    ended?;
    found.sort_unstable_by_key(|f| f.0);
    Ok(found.into_iter().map(|f| f.1).collect())
}

/// Does one thing on a thread of its own while this one does another, where `samples` are worth it.
pub(crate) fn beside<S: Send, R>(
    samples: usize,
    side: impl Fn() -> S + Sync,
    own: impl FnOnce() -> R,
) -> (S, R) {
    if samples < WORTH {
        let found = own();
        return (side(), found);
    }
    thread::scope(|scope| {
        let started = thread::Builder::new().spawn_scoped(scope, &side);
        let found = own();
        let side = match started.map(thread::ScopedJoinHandle::join) {
            Ok(Ok(done)) => done,
            Ok(Err(panic)) => std::panic::resume_unwind(panic),
            Err(_) => side(),
        };
        (side, found)
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::{WORTH, each};
    use crate::error::watched;

    #[test]
    fn answers_stand_in_order_and_an_end_is_one() {
        for samples in [0, WORTH] {
            let squares = each(samples, 0..100_usize, |i| i * i).unwrap();
            assert_eq!(squares, (0..100).map(|i| i * i).collect::<Vec<_>>());
            let slow = |i: u32| std::thread::sleep(std::time::Duration::from_millis(i.into()));
            let ended = watched(|| false, || each(samples, (0..1000).map(|_| 30), slow));
            assert_eq!(ended.unwrap_err().codes(), ["source.interrupted"]);
        }
    }
}
