//! Whether the load cycles were those of the edition.

use super::judging::Judging;
use super::witness::Row;
use crate::editions::Rule;
use crate::error::slug;
use crate::readings::Cycles;
use crate::units::{Force, Kind, Message, Quantity};
use crate::verdict::{Limit, MemberUnit, Note, State};

impl Judging {
    /// Adds whether the load cycles were those of the edition.
    pub(crate) fn cycled(
        &mut self,
        cycles: &Cycles,
        rule: &Rule,
        (full, band): (Force, Force),
        unit: MemberUnit,
    ) {
        let last = cycles.seen.len().saturating_sub(1);
        let beside = cycles.seen.iter().enumerate();
        let mut beside = beside.filter_map(|(i, c)| c.beside(rule, full, band, i == last));
        let fewer = cycles.seen.len() < rule.cycles.len();
        let (state, reason) = match (beside.next(), fewer) {
            (Some(said), _) => {
                (State::Inconclusive, beside.fold(said, |a, b| a.and("; ".into()).and(b)))
            }
            (None, true) => {
                let said =
                    format!("{} of the {} of the edition", cycles.seen.len(), rule.cycles.len());
                (State::Inconclusive, said.into())
            }
            (None, false) => {
                let said: Vec<String> = cycles.seen.iter().map(|c| c.name.clone()).collect();
                (State::Pass, Message::from(said.join(", ")))
            }
        };
        self.row(
            Row {
                id: "cycles",
                about: "whether the load cycles were those of the edition",
                formula: "peaks, holds and least loads of the protocol".to_owned(),
                clause: "protocol of the edition",
                slug: slug::CRITERIA_LOAD,
                demand: Quantity::new(Kind::Ratio, f64::NAN),
                limit: Limit::None,
                u: None,
                states: (state, state),
                reason,
            },
            unit,
        );
        for cycle in &cycles.seen {
            let Some(dip) = cycle.dip else { continue };
            let message = Message::new(
                "in cycle {} the load went down to {} and rose again, not below {}: counted as one cycle",
                [(&cycle.name).into(), dip.into(), cycle.ends_below.into()],
            );
            self.notes.push(Note::new(slug::CRITERIA_LOAD, "cycles", message));
        }
        for gauge in &cycles.gauges {
            for cycle in &gauge.cycles {
                let stiffer = cycle
                    .linearity
                    .as_ref()
                    .filter(|i| i.value.value() < -i.u.map_or(0.0, |u| 2.0 * u.value()));
                let Some(index) = stiffer else { continue };
                let message = Message::new(
                    "in cycle {} it was stiffer than in the first, by {}: look at seating and at what the rig touches",
                    [(&cycle.cycle).into(), (-index.value.value()).into()],
                );
                let path = format!("readings.{}", gauge.gauge);
                self.notes.push(Note::new(slug::CRITERIA_STIFFER, path, message));
            }
        }
        self.combine();
    }
}
