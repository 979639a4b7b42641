//! What is wrong with a channel, by name.

use crate::units::{Duration, Message};

crate::choice! {
    /// The name of a fault.
    pub enum FaultKind ("fault", source::SOURCE_CHOICE) {
        /// Cells that are empty or say that there is no value.
        Missing = "missing",
        /// A number with which the instrument says that it has none, or one beyond its range.
        Sentinel = "sentinel",
        /// Samples far from the running median: the beam of a sensor was blocked.
        Blocked = "blocked",
        /// No usable sample up to the end of the log.
        Lost = "lost",
        /// The first readings are not zero: tared under load, or not tared again.
        UnequalZero = "unequal_zero",
        /// All gauges moved at once while the force stayed: the reference was touched.
        Jump = "jump",
        /// A gauge that rose while the others went down: swapped wires or a wrong sign.
        SignFlip = "sign_flip",
        /// Cells with more digits than the instrument can mean.
        OverPrecision = "over_precision",
        /// Two rows with the same time.
        DuplicateTime = "duplicate_time",
    }
}

crate::answer! {
    /// A named fault of a channel.
    pub struct Fault {
        /// Its name.
        kind: FaultKind,
        /// The channel.
        channel: String,
        /// From when, since the start of the log.
        from: Duration,
        /// Until when.
        to: Duration,
        /// How many samples.
        count: usize,
        /// What was done, or how large it is.
        note: Message,
    }
}
