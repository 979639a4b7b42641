//! What is wrong with a channel, by name.

use crate::error::{Issue, slug};
use crate::units::{Duration, Message, Quantity};

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
        /// A reading that stays the same to the last digit while the member moves.
        Stuck = "stuck",
        /// Readings cut off at one value at which the channel ends.
        Saturated = "saturated",
        /// A few samples that leave and come back while nothing else moves.
        Spike = "spike",
        /// One channel moves at once and stays there while nothing else moves.
        Step = "step",
        /// One channel is set to zero again in the middle of the test.
        Tare = "tare",
        /// One gauge moves slowly where its neighbours do not.
        Shift = "shift",
        /// Two channels that read what the other should.
        Swapped = "swapped",
        /// The unit of a channel changes in the middle.
        UnitChange = "unit_change",
        /// A whole channel in another unit than is declared.
        Unit = "unit",
        /// Readings that stand digit for digit somewhere else too: in another channel, or in the same
        /// channels at another time.
        Copied = "copied",
        /// Hours in which every channel runs along a straight line: drawn, not read.
        Drawn = "drawn",
        /// Two witnesses of one thing that say something else.
        Contradicted = "contradicted",
    }
}

crate::choice! {
    /// What a fault does to the judgement.
    pub enum FaultEffect ("effect of a fault", source::SOURCE_CHOICE) {
        /// Nothing: it is said, and kept.
        Remark = "remark",
        /// Its samples are left out; what is left decides as well.
        LeftOut = "left_out",
        /// It can move a verdict, and nobody has decided what to do about it.
        Open = "open",
        /// A listed decision says what was done about it.
        Decided = "decided",
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
        /// The evidence: how large it is, and against what.
        note: Message,
        /// What it does to the judgement.
        effect: FaultEffect,
        /// The channel it was taken for, where two are swapped.
        with: Option<String>,
        /// What the readings would have to be multiplied by.
        factor: Option<f64>,
        /// What would have to be added to the readings.
        offset: Option<Quantity>,
    }
}

impl Fault {
    /// A remark on a channel from one time (seconds) to another.
    pub(super) fn new(
        kind: FaultKind,
        channel: &str,
        (from, to): (f64, f64),
        count: usize,
        note: impl Into<Message>,
    ) -> Self {
        Self {
            kind,
            channel: channel.to_owned(),
            from: Duration::from_si(from),
            to: Duration::from_si(to),
            count,
            note: note.into(),
            effect: FaultEffect::Remark,
            with: None,
            factor: None,
            offset: None,
        }
    }

    /// The same with this effect.
    pub(super) const fn with_effect(mut self, effect: FaultEffect) -> Self {
        self.effect = effect;
        self
    }

    /// The fault as a problem, for a log or a judgement that is refused for another reason too.
    pub(crate) fn issue(&self) -> Issue {
        let values = [self.from.into(), self.to.into(), self.note.clone().into()];
        let message = Message::new("{} to {}: {}", values);
        Issue::new(slug::READINGS_FAULT, format!("log, {}", self.channel), message).value(self.kind)
    }

    /// Whether it can move a verdict and nobody has decided about it.
    #[must_use]
    pub fn is_open(&self) -> bool {
        self.effect == FaultEffect::Open
    }
}
