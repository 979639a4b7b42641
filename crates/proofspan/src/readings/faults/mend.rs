//! What a decision does to a log. Nothing of this happens unless a record says so.

use super::of_log;
use crate::error::Error;
use crate::readings::fault::Fault;
use crate::readings::log::Log;
use crate::readings::spec::LogSpec;
use crate::units::Duration;

impl Log {
    /// Changes the samples of a channel between two times.
    pub(crate) fn change(
        &mut self,
        id: &str,
        (from, to): (Duration, Duration),
        change: impl Fn(f64) -> f64,
    ) {
        let first = self.time.partition_point(|t| *t < from.si() - 1e-9);
        let last = self.time.partition_point(|t| *t <= to.si() + 1e-9);
        let channel = self.channels.iter_mut().find(|c| c.id == id);
        if let Some(samples) = channel.and_then(|c| c.values_mut().get_mut(first..last)) {
            samples.iter_mut().for_each(|v| *v = change(*v));
        }
    }

    /// Gives each of two channels the samples of the other.
    pub(crate) fn exchange(&mut self, a: &str, b: &str) {
        let place = |id: &str| self.channels.iter().position(|c| c.id == id);
        let (Some(a), Some(b)) = (place(a), place(b)) else { return };
        let (a, b) = (a.min(b), a.max(b));
        let (head, tail) = self.channels.split_at_mut(b);
        if let (Some(a), Some(b)) = (head.get_mut(a), tail.first_mut()) {
            core::mem::swap(a.values_mut(), b.values_mut());
        }
    }

    /// Leaves a whole channel out of the log and of its layout.
    pub(crate) fn drop_channel(&mut self, spec: &mut LogSpec, id: &str) {
        self.channels.retain(|c| c.id != id);
        spec.channels.retain(|c| c.id != id);
        if spec.drift.as_ref().is_some_and(|d| d.channel == id) {
            spec.drift = None;
        }
        if let Some(thermal) = &mut spec.thermal {
            thermal.channels = thermal.channels.iter().filter(|c| *c != id).cloned().collect();
            if thermal.channels.is_empty() {
                spec.thermal = None;
            }
        }
        for channel in &mut spec.channels {
            if channel.level.as_deref() == Some(id) {
                channel.level = None;
                channel.on_moving_level = false;
            }
        }
    }

    /// Looks for faults again, after a correction.
    ///
    /// # Errors
    /// Where somebody wants an end of it.
    pub(crate) fn look_again(&mut self, spec: &LogSpec) -> Result<Vec<Fault>, Error> {
        of_log(self, spec)
    }
}
