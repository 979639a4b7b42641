//! Is a circuit safe beside its rating: margins, hoses, valves, release, pump and hold?

use super::hydraulics::Hydraulics;
use super::locked::Locked;
use super::oil::{Fittings, Pump};
use super::spec::Jacks;
use crate::error::slug;
use crate::units::{Force, Kind, Message, Pressure, Quantity};
use crate::verdict::{
    Basis, Clause, Collect, DESIGN_SLACK, Limit, MemberUnit, Note, Stop, Verdict, collects, words,
};

/// So much may cell and pressure differ before the test stops (common practice, no source).
const APART: f64 = 0.05;
/// Burst pressure of a hose over the pressure it works at (hose standards, from memory).
const HOSE: f64 = 4.0;
/// Relief valve over the largest pressure planned (common practice, no source).
const RELIEF: f64 = 1.1;
/// Part of rated pressure and of stroke that is planned with (common practice, no source).
const PLANNED: f64 = 0.8;

/// Whether a relief valve that opens here caps the force of jacks planned with this pressure.
pub(super) fn caps(opens: Pressure, planned: Pressure) -> bool {
    opens <= planned * (RELIEF * (1.0 + DESIGN_SLACK))
}

/// The checks of one circuit beside pressure and stroke.
pub(super) struct Checked {
    pub(super) verdicts: Vec<Verdict>,
    pub(super) stops: Vec<Stop>,
    pub(super) notes: Vec<Note>,
}

collects!(Checked);

impl Checked {
    pub(super) fn of(found: &Hydraulics, jacks: &Jacks, path: &str, unit: MemberUnit) -> Self {
        let mut all = Self { verdicts: Vec::new(), stops: Vec::new(), notes: Vec::new() };
        let at = |field: &str| format!("{path}.{field}");
        all.margins(found, jacks, &at);
        all.plausible(jacks, &at);
        all.uneven(found, jacks, &at);
        if let Some(gauge) = &jacks.gauge
            && gauge.full_scale.value < found.pressure
        {
            let said = [found.pressure.into(), gauge.full_scale.value.into()];
            let message = Message::new("{} is asked of a gauge that ends at {}", said);
            all.stops.push(Stop::new(slug::RIG_GAUGE_SHORT, at("gauge.full_scale"), message));
        }
        // what is left out counts as what is not so
        match &jacks.fittings {
            Some(fittings) => all.fittings(found, jacks, fittings, &at),
            None => {
                let message = "hoses and valves are not described: a burst hose counts as one that drops the load";
                all.stops.push(Stop::new(slug::RIG_HOSE_HOLDS, at("fittings"), message));
            }
        }
        let released = |p: &Pump| p.dead_man && p.remote_release;
        if !jacks.pump.as_ref().is_some_and(released) {
            let message = match &jacks.pump {
                Some(_) => {
                    "the pump has no release that opens when the hand leaves it, or cannot be unloaded from outside the zone"
                }
                None => {
                    "the pump is not described: it counts as one that the hand cannot release, and not from outside the zone"
                }
            };
            all.stops.push(Stop::new(slug::RIG_RELEASE, at("pump"), message));
        }
        if let Some(locked) = &found.locked {
            all.held(locked, jacks, unit, &at);
            all.warmed(found, locked, jacks, &at);
        }
        all
    }

    /// Rated pressure and stroke are not planned to the last (a note, the stop is the rating).
    fn margins(&mut self, found: &Hydraulics, jacks: &Jacks, at: &dyn Fn(&str) -> String) {
        let used = [
            (found.pressure / jacks.rated_pressure.value, "rated_pressure", "pressure"),
            (found.travel / jacks.stroke.value, "stroke", "stroke"),
        ];
        for (part, field, what) in used {
            if part > PLANNED && part <= 1.0 {
                let message = Message::new(
                    "{} of the {} is used; common practice plans with {}",
                    [part.into(), what.into(), PLANNED.into()],
                );
                self.notes.push(Note::new(slug::RIG_MARGIN_SMALL, at(field), message));
            }
        }
    }

    /// Jacks that differ against the shares that a layout counts.
    fn uneven(&mut self, found: &Hydraulics, jacks: &Jacks, at: &dyn Fn(&str) -> String) {
        let Some(uneven) = found.uneven.filter(|u| *u > DESIGN_SLACK) else { return };
        let said = || {
            let [least, most, force] = [found.jack_least, found.jack_most, found.force_per_jack];
            let text = "on one pressure a jack gives {} to {} where {} is counted: {} of it";
            Message::new(text, [least.into(), most.into(), force.into(), uneven.into()])
        };
        let Some(limit) = &jacks.uneven else {
            self.notes.push(Note::new(slug::RIG_JACKS_UNEVEN_UNSAID, at("uneven"), said()));
            return;
        };
        let verdict = Verdict::design(
            slug::RIG_JACKS_UNEVEN,
            Quantity::new(Kind::Ratio, uneven),
            Limit::AtMost(limit.value.si()),
            Basis::net(MemberUnit::Jack),
            Clause::Named("equal shares, as far off as is given"),
        );
        self.check(verdict, || words(at("uneven"), said()));
    }

    /// Pressure of a fluid and stress have one dimension: a value of the one in place of the other
    /// shows by its size (library rule: oil works between 1 and 150 MPa, its bulk modulus lies
    /// between 0.2 and 5 GPa).
    fn plausible(&mut self, jacks: &Jacks, at: &dyn Fn(&str) -> String) {
        let bulk = jacks.oil_bulk_modulus.as_ref().map(|k| k.value);
        let asked = [
            (Some(jacks.rated_pressure.value), "rated_pressure", (1e6, 150e6)),
            (bulk, "oil_bulk_modulus", (0.2e9, 5e9)),
        ];
        for (value, field, (low, high)) in asked {
            let Some(value) = value.filter(|v| !(v.si() >= low && v.si() <= high)) else {
                continue;
            };
            let [low, high] = [low, high].map(Pressure::from_si);
            let message = Message::new(
                "{} is no pressure that oil has here, {} to {}: a stress, or a wrong unit?",
                [value.into(), low.into(), high.into()],
            );
            self.notes.push(Note::new(slug::RIG_PRESSURE_MAGNITUDE, at(field), message));
        }
    }

    fn fittings(
        &mut self,
        found: &Hydraulics,
        jacks: &Jacks,
        fittings: &Fittings,
        at: &dyn Fn(&str) -> String,
    ) {
        let basis = Basis::net(MemberUnit::Jack);
        if let Some(burst) = &fittings.hose_burst {
            let verdict = Verdict::design(
                slug::RIG_HOSE_MARGIN,
                (found.pressure * HOSE).into(),
                Limit::AtMost(burst.value.si()),
                basis,
                Clause::Named("burst at four times the pressure (hose standards, from memory)"),
            );
            self.check(verdict, || {
                let said = [found.pressure.into(), HOSE.into(), burst.value.into()];
                let message = Message::new(
                    "hoses work at {}; {} times that is over their burst pressure {}",
                    said,
                );
                words(at("fittings.hose_burst"), message)
            });
        } else {
            let message =
                "the pressure at which the weakest hose bursts is not given: it holds nothing";
            self.stops.push(Stop::new(slug::RIG_HOSE_MARGIN, at("fittings.hose_burst"), message));
        }
        if fittings.relief.is_none() {
            let message = "no relief valve is described: nothing but the pump ends the pressure";
            self.notes.push(Note::new(slug::RIG_NO_RELIEF, at("fittings.relief"), message));
        }
        if let Some(relief) = &fittings.relief {
            let over = relief.value > jacks.rated_pressure.value;
            if over {
                let message = Message::new(
                    "the relief valve opens at {}, above the rating of {}: it protects nothing",
                    [relief.value.into(), jacks.rated_pressure.value.into()],
                );
                let stop =
                    Stop::new(slug::RIG_PRESSURE_OVER_RATING, at("fittings.relief"), message);
                self.stops.push(stop);
            }
            let clause = Clause::Named(
                "relief valve at 1.0 to 1.1 of the largest pressure planned (common practice)",
            );
            let below = Limit::AtLeast(found.pressure.si());
            let above = Limit::AtMost(found.pressure.si() * RELIEF);
            for (limit, end) in [(below, "least"), (above, "most")] {
                self.verdicts.push(
                    Verdict::design(slug::RIG_RELIEF, relief.value.into(), limit, basis, clause)
                        .part(end),
                );
            }
        }
        if !fittings.held_at_jack {
            let message = "no check valve or lock nut at every jack: a burst hose drops the load";
            self.stops.push(Stop::new(slug::RIG_HOSE_HOLDS, at("fittings.held_at_jack"), message));
        }
    }

    /// What was pumped to its full pressure and is locked off takes more of it when it warms.
    fn warmed(
        &mut self,
        found: &Hydraulics,
        locked: &Locked,
        jacks: &Jacks,
        at: &dyn Fn(&str) -> String,
    ) {
        let Some(warming) = locked.warming else { return };
        let gains = warming + locked.bars.unwrap_or(Force::ZERO);
        let pressure = found.pressure * (1.0 + gains / locked.force);
        let rated = jacks.rated_pressure.value;
        // over its rating cold is said already
        if found.pressure <= rated && pressure > rated * (1.0 + DESIGN_SLACK) {
            let message = Message::new(
                "locked off, the warm circuit comes to {}, over its rating of {}",
                [pressure.into(), rated.into()],
            );
            let path = at("hold.warming");
            self.stops.push(Stop::new(slug::RIG_PRESSURE_OVER_RATING, path, message));
        }
    }

    fn held(
        &mut self,
        locked: &Locked,
        jacks: &Jacks,
        unit: MemberUnit,
        at: &dyn Fn(&str) -> String,
    ) {
        let basis = Basis::net(unit);
        let clause = Clause::Named("band asked for by the engineer");
        if let Some(band) = locked.band {
            let limit = Limit::AtMost(band.si());
            let bars = locked.bars.unwrap_or(Force::ZERO);
            let cold = locked.cooling.map(|c| c + locked.creep.unwrap_or(Force::ZERO));
            for (change, way) in [(cold, "cooling"), (locked.warming, "warming")] {
                let Some(change) = change else { continue };
                // oil and bars need not change together: the worse of both ways counts
                let demand = (change + bars).into();
                self.verdicts.push(
                    Verdict::design(slug::RIG_HOLD_DRIFT, demand, limit, basis, clause).part(way),
                );
            }
            if let Some(step) = locked.per_stroke {
                self.verdicts.push(Verdict::design(
                    slug::RIG_PUMP_COARSE,
                    step.into(),
                    limit,
                    basis,
                    clause,
                ));
            }
        }
        if let Some(hold) = &jacks.hold {
            if hold.leak.is_none() {
                let message = "no leak was measured: how long the circuit keeps its band is not known; every reading of the hold is one of the load as well";
                self.notes.push(Note::new(slug::RIG_LEAK_UNKNOWN, at("hold.leak"), message));
            }
            if hold.bars_change.is_none() {
                let message = "the temperature of the bars is not counted: sun or frost on them moves the force as well";
                self.notes.push(Note::new(slug::RIG_BARS_WARM, at("hold.bars_change"), message));
            }
        }
        let coarse = locked.gauge_class.filter(|f| *f > locked.force * APART);
        if let Some(class) = coarse {
            let message = Message::new(
                "the class of the gauge stands for {} of {}: it cannot tell that cell and pressure differ by {}",
                [class.into(), locked.force.into(), APART.into()],
            );
            self.notes.push(Note::new(slug::RIG_GAUGE_COARSE, at("gauge"), message));
        }
    }
}
