//! Does the reaction member carry the counterweights on their way?

use super::check::Rig;
use super::lift_off::Held;
use super::reaction::Seat;
use super::spec::RigSpec;
use super::stages::{Sizes, Stage};
use crate::beam::Load;
use crate::error::{Error, slug};
use crate::units::{Force, Length, Message};
use crate::verdict::{DESIGN_SLACK, MemberUnit, Stop};

impl Rig {
    /// The heaviest piece on its way over a reaction member: alone, and with all counterweights but the
    /// lightest there.
    pub(super) fn carried_over(
        &mut self,
        spec: &RigSpec,
        held: &Held<'_>,
        unit: MemberUnit,
    ) -> Result<(), Error> {
        let Some(transport) = spec.transport.as_ref().filter(|_| held.member.kind.beam()) else {
            return Ok(());
        };
        let code = slug::RIG_STAGING_OVER_CAPACITY;
        let (length, spans) = (held.beam.length(), held.beam.spans());
        let weights = held.weights.iter().map(|w| w.0);
        let places = transport.places(held.from, length, &spans, weights);
        let lightest =
            held.weights.iter().enumerate().min_by(|a, b| a.1.1.si().total_cmp(&b.1.1.si()));
        let lightest = lightest.map(|(i, _)| i);
        let placed = held.weights.iter().enumerate().filter(|(i, _)| Some(*i) != lightest);
        let placed: Vec<Load> = placed.map(|(_, (x, c))| Load::point(*x, *c)).collect();
        let own: Vec<Load> = held.own().into_iter().collect();
        let mut states = vec![("heaviest piece carried over it, nothing placed", own.clone())];
        if !placed.is_empty() {
            let all = own.into_iter().chain(placed).collect();
            states.push(("heaviest piece carried over it, the others placed", all));
        }
        for (name, standing) in states {
            let mut worst: Option<Stage> = None;
            let mut lifts: Option<(Length, Force)> = None;
            for at in &places {
                let mut loads = standing.clone();
                loads.push(Load::point(*at, transport.force.value));
                let response = held.beam.response(&loads)?;
                let terms = Sizes::of(&response);
                let stage = held.stage(name.into(), 0.0, &response, terms, unit, code);
                for (r, seat) in stage.reactions.iter().zip(held.member.seats()) {
                    let least = lifts.map_or(-terms.shear * DESIGN_SLACK, |l| l.1);
                    if seat == Seat::Seated && r.force < least {
                        lifts = Some((r.at, r.force));
                    }
                }
                worst = Some(match worst {
                    Some(worst) => worst.and(stage),
                    None => stage,
                });
            }
            if let Some((at, force)) = lifts {
                let text = "{}: the bearing at {} of the reaction member lifts by {}";
                let message = Message::new(text, [name.into(), at.into(), (-force).into()]);
                let stop = Stop::new(slug::RIG_LIFTOFF_BELOW_FLOOR, "rig.transport", message);
                self.stops.push(stop);
            }
            let Some(stage) = worst else { continue };
            let mut stops = Vec::new();
            held.stop(&stage, code, &mut stops);
            self.stops.append(&mut stops);
            self.stages.push(stage);
        }
        Ok(())
    }
}
