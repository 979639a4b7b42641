//! The force of record where no cell is: what is known of basins and stacks, and how full they were.

use super::decide::Witness;
use crate::error::slug;
use crate::readings::Role;
use crate::units::{Force, Message};
use crate::verdict::Note;

/// A basin or a stack under the full load, in the order of the document.
pub(crate) struct Filled {
    /// Depth or count; nothing for what is neither poured nor piled.
    pub(crate) role: Option<Role>,
    /// The depth (metres) or the number of layers.
    pub(crate) full: f64,
    /// What it brings, net.
    pub(crate) force: Force,
}

impl Witness<'_> {
    /// Turns depths and counts into forces: each channel is that of the basin or stack of its place in the
    /// order, in proportion of the full load. Nothing where cells were read; where it is not known which
    /// channel is of which carrier, that is said and the load stays what the record states.
    pub(crate) fn weigh(&mut self, filled: &[Filled]) {
        let of = |role: Role| {
            let own = self.layout.channels.iter().enumerate().filter(move |(_, c)| c.role == role);
            own.map(|(i, c)| (i, c.id.clone())).collect::<Vec<_>>()
        };
        let roles = [Role::Depth, Role::Count];
        let read: Vec<(usize, String)> = roles.iter().flat_map(|r| of(*r)).collect();
        if !of(Role::Force).is_empty() || read.is_empty() {
            return;
        }
        let asked = |role: Role| filled.iter().filter(move |f| f.role == Some(role));
        let whole = filled.iter().all(|f| f.role.is_some() && f.full > 0.0);
        let (path, channels) = ("columns.channels", read.len());
        if !whole || roles.iter().any(|r| of(*r).len() != asked(*r).count()) {
            let message = Message::new(
                "{} channels of depth or count for {} carriers: which is of which is not known, and the load is the one that is stated",
                [channels.into(), filled.len().into()],
            );
            self.notes.push(Note::new(slug::CRITERIA_CHANNEL_UNUSED, path, message));
            return;
        }
        let all: Vec<(usize, String, f64)> = roles
            .iter()
            .flat_map(|r| of(*r).into_iter().zip(asked(*r)))
            .map(|((i, id), f)| (i, id, f.force.si() / f.full))
            .collect();
        for (i, id, factor) in all {
            self.log.to_mut().as_force(&id, factor);
            if let Some(own) = self.layout.to_mut().channels.get_mut(i) {
                own.become_force(factor);
            }
        }
    }
}
