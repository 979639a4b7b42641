//! What a decision does to a log. Nothing of this happens unless a record says so.

use super::of_log;
use crate::error::Error;
use crate::readings::fault::Fault;
use crate::readings::log::Log;
use crate::readings::spec::{LogSpec, Role};
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

    /// Gives each of two channels the samples of the other between two times.
    pub(crate) fn exchange(&mut self, a: &str, b: &str, (from, to): (Duration, Duration)) {
        let rows = self.rows_between(from.si() - 1e-9, to.si() + 1e-9);
        let place = |id: &str| self.channels.iter().position(|c| c.id == id);
        let (Some(a), Some(b)) = (place(a), place(b)) else { return };
        let (a, b) = (a.min(b), a.max(b));
        let (head, tail) = self.channels.split_at_mut(b);
        let (Some(a), Some(b)) = (head.get_mut(a), tail.first_mut()) else { return };
        let (a, b) = (a.values_mut().get_mut(rows.clone()), b.values_mut().get_mut(rows));
        if let (Some(a), Some(b)) = (a, b) {
            a.swap_with_slice(b);
        }
    }

    /// Makes a channel one of force, so many newtons for each of its units.
    pub(crate) fn as_force(&mut self, id: &str, factor: f64) {
        if let Some(own) = self.channels.iter_mut().find(|c| c.id == id) {
            own.role = Role::Force;
            own.values_mut().iter_mut().for_each(|v| *v *= factor);
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
