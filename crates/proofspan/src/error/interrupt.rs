//! May a long calculation go on?

use std::cell::Cell;
use std::time::{Duration, Instant};

use super::{Error, Issue, slug};

/// So often the question is put: rarely enough to cost nothing, often enough for a person.
const EVERY: Duration = Duration::from_millis(20);

struct Watch {
    go_on: Box<dyn FnMut() -> bool>,
    last: Instant,
    ended: bool,
}

thread_local! {
    static WATCH: Cell<Option<Box<Watch>>> = const { Cell::new(None) };
}

/// Runs `work`; searches, refinements and the reading of logs inside it ask `go_on` about every 20 ms, on
/// this thread, and end as soon as it says no.
///
/// ```
/// use proofspan::error::watched;
/// let found = watched(|| true, || proofspan::editions::Edition::shipped("ACI 318-19"));
/// assert!(found.is_ok());
/// ```
///
/// # Errors
/// Those of `work`; `source.interrupted`, of cause `Solver`, where `go_on` said no.
pub fn watched<T>(
    go_on: impl FnMut() -> bool + 'static,
    work: impl FnOnce() -> Result<T, Error>,
) -> Result<T, Error> {
    let watch = Watch { go_on: Box::new(go_on), last: Instant::now(), ended: false };
    let outer = WATCH.replace(Some(Box::new(watch)));
    let result = work();
    let ended = WATCH.replace(outer).is_some_and(|w| w.ended);
    if ended { Err(interrupted()) } else { result }
}

fn interrupted() -> Error {
    Error::solver(Issue::new(slug::SOURCE_INTERRUPTED, "", "interrupted before it came to an end"))
}

/// Whether somebody wants an end of it; asked inside every loop that can take long.
pub(crate) fn ended() -> bool {
    // taken out while it is asked: what answers may calculate too
    let Some(mut watch) = WATCH.take() else { return false };
    if !watch.ended && watch.last.elapsed() >= EVERY {
        watch.ended = !(watch.go_on)();
        watch.last = Instant::now();
    }
    let ended = watch.ended;
    WATCH.set(Some(watch));
    ended
}

/// Refuses to go on where somebody wants an end of it.
pub(crate) fn go_on() -> Result<(), Error> {
    if ended() { Err(interrupted()) } else { Ok(()) }
}
