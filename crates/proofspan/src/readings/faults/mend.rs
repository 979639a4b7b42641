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
        let rows = self.rows_between(from.si() - 1e-9, to.si() + 1e-9);
        if let Some(channel) = self.channels.iter_mut().find(|c| c.id == id) {
            channel.change(rows, change);
        }
    }

    /// Gives each of two channels the samples of the other between two times.
    pub(crate) fn exchange(&mut self, a: &str, b: &str, (from, to): (Duration, Duration)) {
        let rows = self.rows_between(from.si() - 1e-9, to.si() + 1e-9);
        let values = |id: &str| self.channel(id).map(|c| c.values().clone());
        let (Some(of_a), Some(of_b)) = (values(a), values(b)) else { return };
        for (id, other) in [(a, &of_b), (b, &of_a)] {
            let Some(own) = self.channels.iter_mut().find(|c| c.id == id) else { continue };
            let mut others = other.range(rows.clone());
            own.values_mut().change(rows.clone(), |_, values| {
                values.iter_mut().zip(&mut others).for_each(|(v, other)| *v = other);
            });
        }
    }

    /// Makes a channel one of force, so many newtons for each of its units.
    pub(crate) fn as_force(&mut self, id: &str, factor: f64) {
        if let Some(own) = self.channels.iter_mut().find(|c| c.id == id) {
            own.role = Role::Force;
            own.change(0..own.values().len(), |v| v * factor);
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
