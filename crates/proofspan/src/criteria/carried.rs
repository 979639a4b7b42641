//! The force of record where no cell is: what is known of basins and stacks, and how full they were.

use super::decide::Witness;
use crate::error::{Error, slug};
use crate::readings::{Role, of_oil};
use crate::units::{Area, Force, Message};
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

    /// Takes the pressure of the oil for what it is: a second witness of the force beside cells, and the force
    /// of record without them. `acting` is the area of one pressure that makes the whole load. A pressure
    /// whose area nobody gives decides nothing, which is said.
    ///
    /// # Errors
    /// Where somebody wants an end of it.
    pub(crate) fn press(&mut self, acting: Option<Area>) -> Result<(), Error> {
        let own = self.layout.channels.iter().enumerate();
        let oil: Vec<usize> = own.filter(|c| c.1.role == Role::Pressure).map(|c| c.0).collect();
        if oil.is_empty() {
            return Ok(());
        }
        let alone = acting.filter(|_| oil.len() == 1);
        let area = |i: usize| {
            let own = self.layout.channels.get(i).and_then(|c| c.area.as_ref());
            own.map(|a| (a.value, a.u.unwrap_or(Area::ZERO))).or(alone.map(|a| (a, Area::ZERO)))
        };
        let areas: Option<Vec<(Area, Area)>> = oil.iter().map(|i| area(*i)).collect();
        let loads = [Role::Force, Role::Depth, Role::Count];
        let weighed = self.layout.channels.iter().any(|c| loads.contains(&c.role));
        if weighed {
            let plain = areas.as_ref().map(|all| all.iter().map(|a| a.0).collect::<Vec<_>>());
            let found = of_oil(&self.log, &self.layout, plain.as_deref())?;
            self.faults.extend(found);
        }
        match areas {
            Some(areas) if !weighed => {
                for (i, (area, u)) in oil.iter().zip(areas) {
                    self.oil_as_force(*i, area, u);
                }
            }
            Some(_) => {}
            None => {
                for i in oil {
                    let Some(own) = self.layout.channels.get(i) else { continue };
                    let beside = if weighed {
                        "it is compared with the force in proportion only, and decides nothing"
                    } else {
                        "it is no force of record, and decides nothing"
                    };
                    let message = Message::new(
                        "`{}` is a pressure whose acting area is not given: {}",
                        [(&own.id).into(), beside.into()],
                    );
                    let path = format!("columns.channels[{i}].area");
                    self.notes.push(Note::new(slug::CRITERIA_CHANNEL_UNUSED, path, message));
                }
            }
        }
        Ok(())
    }

    /// Makes a channel of pressure the force on its area, with the uncertainty of both.
    fn oil_as_force(&mut self, i: usize, area: Area, u: Area) {
        let Some(own) = self.layout.channels.get(i) else { return };
        let id = own.id.clone();
        let peak =
            self.log.channel(&id).and_then(|c| self.log.in_window(c, &self.layout.moments.peak));
        self.log.to_mut().as_force(&id, area.si());
        if let Some(own) = self.layout.to_mut().channels.get_mut(i) {
            own.become_force(area.si());
            own.u = own.u.map(|of_oil| of_oil.hypot(peak.map_or(0.0, |p| p.0 * u.si())));
        }
        let message = Message::new(
            "the force of record is `{}` times {}: what friction and seals take more or less is not in its uncertainty",
            [id.into(), area.into()],
        );
        let path = format!("columns.channels[{i}]");
        self.notes.push(Note::new(slug::CRITERIA_MAP_SETTING, path, message));
    }
}
