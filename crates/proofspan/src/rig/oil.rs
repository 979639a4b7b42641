//! What does a locked-off circuit do? Pump strokes, drift with temperature, leak, and what is stored.
//!
//! All of it follows from the stiffness of the whole load path: members, bars, beams and oil. On one
//! pressure every jack moves by its own way, so the circuit takes the sum of areas times ways:
//! `dF = k e / (1 + k V_0 / (K A²))` for a movement `e` of the pistons that nobody pumped, with the
//! area `A` of all jacks, the oil `V_0` locked off with them and its bulk modulus `K`. Where the oil
//! is not described it counts as stiff: the force then changes most. The stiffness is that of the
//! stiff prediction, for the same reason; what is stored is that of the soft one.

use super::hydraulics::Hydraulics;
use super::spec::Jacks;
use crate::error::{Issue, slug};
use crate::formula::Recorder;
use crate::source::rule::{NotNegative, Positive, Wait};
use crate::source::{Given, Reader};
use crate::units::{
    Area, Duration, Force, Length, Message, Pressure, Ratio, SpringStiffness, TemperatureChange,
    ThermalExpansion, Volume,
};
use crate::verdict::{Basis, Clause, Limit, MemberUnit, Note, State, Stop, Verdict};

crate::rule! {
    /// A band about the full force, as a part of it: above zero, up to a half (library rule).
    pub Band { above 0.0 SOURCE_SIGN, most 0.5 SOURCE_MAGNITUDE }
    /// Class or division of a gauge, as a part of its full scale: up to a tenth (library rule).
    pub GaugeClass { above 0.0 SOURCE_SIGN, most 0.1 SOURCE_MAGNITUDE }
    /// Expansion of oil by volume, less that of the steel: up to 0.01 1/K (library rule).
    pub Expands { above 0.0 SOURCE_SIGN, most 0.01 SOURCE_MAGNITUDE }
    /// A change of temperature as a size: up to 100 K (library rule).
    pub ChangeSize { least 0.0 SOURCE_NEGATIVE, most 100.0 SOURCE_MAGNITUDE }
}

crate::record! {
    /// The pump of a circuit.
    pub struct Pump {
        /// The least oil that one controlled stroke brings.
        stroke: Given<Volume, Positive>,
        /// Whether the release opens when the hand leaves it.
        dead_man: bool = false,
        /// Whether the circuit can be unloaded from outside the zone.
        remote_release: bool = false,
    }
}

crate::record! {
    /// Oil that leaks past a locked-off circuit.
    pub struct Leak {
        /// How much.
        volume: Given<Volume, NotNegative>,
        /// In what time, as it was measured.
        over: Given<Duration, Wait>,
    }
    rules { timed[volume, over]; }
}

fn timed(reader: &mut Reader, _: &Given<Volume, NotNegative>, over: &Given<Duration, Wait>) {
    if over.value <= Duration::ZERO {
        let path = reader.path_of("over");
        let issue = Issue::new(slug::SOURCE_SIGN, path, "a leak in no time");
        reader.push(issue.value(over.said()).limit("> 0 s"));
    }
}

crate::record! {
    /// A circuit that is locked off for the hold at full load.
    pub struct LockedOff {
        /// The band in which the force is kept, as a part of the full force, either way.
        band: Given<Ratio, Band>,
        /// Expansion of the oil by volume, less that of jacks and hoses.
        expansion: Given<ThermalExpansion, Expands>,
        /// By how much the oil can cool in the hold: a frosty night.
        cooling: Given<TemperatureChange, ChangeSize>,
        /// By how much it can warm.
        warming: Given<TemperatureChange, ChangeSize>,
        /// Expansion of the bars by length.
        bars_expansion: Option<Given<ThermalExpansion, Expands>>,
        /// By how much the bars can warm or cool against both members.
        bars_change: Option<Given<TemperatureChange, ChangeSize>>,
        /// The leak that a trial showed.
        leak: Option<Leak>,
    }
    rules { bars_both[bars_expansion, bars_change]; }
}

fn bars_both(
    reader: &mut Reader,
    expansion: &Option<Given<ThermalExpansion, Expands>>,
    change: &Option<Given<TemperatureChange, ChangeSize>>,
) {
    let missing = match (expansion, change) {
        (Some(_), None) => "bars_change",
        (None, Some(_)) => "bars_expansion",
        _ => return,
    };
    let path = reader.path_of(missing);
    let message = "of the bars either expansion and change of temperature are given, or neither";
    reader.push(Issue::new(slug::SOURCE_FIELD_MISSING, path, message));
}

crate::record! {
    /// The pressure gauge of a circuit.
    pub struct PressureGauge {
        /// Its full scale.
        full_scale: Given<Pressure, Positive>,
        /// Its class: the largest error, as a part of full scale.
        class: Given<Ratio, GaugeClass>,
        /// The least that can be read from it.
        division: Given<Pressure, Positive>,
    }
}

crate::record! {
    /// What keeps the pressure in, and what lets it out.
    pub struct Fittings {
        /// The pressure at which the weakest hose or coupling bursts.
        hose_burst: Option<Given<Pressure, Positive>>,
        /// The pressure at which the relief valve opens.
        relief: Option<Given<Pressure, Positive>>,
        /// Whether a check valve or lock nut sits at every jack, so that a burst hose drops nothing.
        held_at_jack: bool = false,
    }
}

crate::laws! {
    /// Way of the pistons that the oil makes by its temperature.
    pub fn oil_expands(v: Volume as "V_0", a: Area as "A", alpha: ThermalExpansion as "alpha", dt: TemperatureChange as "dT") -> Length as "e" = v / a * (alpha * dt);
    source "definition of expansion by volume";
    /// Way of the pistons that a volume of oil makes.
    pub fn oil_way(v: Volume as "V", a: Area as "A") -> Length as "e" = v / a;
    source "definition";
    /// Way that the bars make by their temperature.
    pub fn bars_expand(l: Length as "l", alpha: ThermalExpansion as "alpha", dt: TemperatureChange as "dT") -> Length as "e" = l * (alpha * dt);
    source "definition of expansion by length";
    /// Change of force of a locked-off circuit by a movement that nobody pumped.
    pub fn force_of_way(k: SpringStiffness as "k", e: Length as "e", v: Volume as "V_0", a: Area as "A", bulk: Pressure as "K") -> Force as "dF" = k * e / (1.0 + k * (v / a) / bulk / a);
    source "springs in series: load path k and oil K A^2/V_0";
    /// The same where the oil is not described: it counts as stiff.
    pub fn force_of_way_stiff(k: SpringStiffness as "k", e: Length as "e") -> Force as "dF" = k * e;
    source "Hooke; oil that is not described counts as stiff (library rule)";
    /// The same where nothing but the oil gives.
    pub fn force_of_way_oil(e: Length as "e", v: Volume as "V_0", a: Area as "A", bulk: Pressure as "K") -> Force as "dF" = bulk * a * (e / (v / a));
    source "compressibility of the oil";
    /// After what time a leak has used up what temperature leaves of the band.
    pub fn top_up_after(spare: Force as "spare", lost: Force as "lost", over: Duration as "over") -> Duration as "t" = over * (spare / lost);
    source "proportion";
    /// The most that one of several jacks on one pressure gives: it has no friction, the others have all.
    pub fn jack_most(p: Force as "P", n: f64 as "n", friction: f64 as "friction") -> Force as "P_1" = p / (n - (n - 1.0) * friction);
    source "equal pressure, friction between zero and all";
    /// The least that one of them gives: it has all the friction, the others none.
    pub fn jack_least(p: Force as "P", n: f64 as "n", friction: f64 as "friction") -> Force as "P_1" = p * ((1.0 - friction) / (n - friction));
    source "equal pressure, friction between zero and all";
    /// Force that a pressure of a gauge stands for.
    pub fn gauge_force(p: Pressure as "p", a: Area as "A") -> Force as "F" = p * a;
    source "F = p A";
}

crate::answer! {
    /// What a locked-off circuit does at full test load; forces are of all its jacks together.
    pub struct Locked {
        /// Force of the circuit, net.
        force: Force,
        /// Stiffness of the load path without the oil, stiff prediction; nothing where nothing moves.
        stiffness: Option<SpringStiffness>,
        /// Whether the oil is described; if not, it counts as stiff.
        oil_known: bool,
        /// Force that the least stroke of the pump brings.
        per_stroke: Option<Force>,
        /// Force that is lost when the oil cools.
        cooling: Option<Force>,
        /// Force that is gained when it warms.
        warming: Option<Force>,
        /// Force that the bars take or give by their temperature, either way.
        bars: Option<Force>,
        /// Force that the leak takes in its time.
        leak: Option<Force>,
        /// That time.
        leak_over: Option<Duration>,
        /// How far the force may go from the full force.
        band: Option<Force>,
        /// After what time it has to be topped up at the latest, once it is cold; nothing where
        /// no leak is known or none of the band is left.
        top_up_after: Option<Duration>,
        /// Force that the class of the gauge stands for.
        gauge_class: Option<Force>,
        /// Force that one division of the gauge stands for.
        gauge_division: Option<Force>,
    }
}

/// A circuit as its jacks move: the area of all, their way by stiff prediction weighed by area.
#[derive(Clone, Copy)]
pub(super) struct Circuit {
    pub(super) force: Force,
    pub(super) area: Area,
    pub(super) way: Length,
    /// The longest bars of its presses.
    pub(super) bars: Length,
}

/// What the circuit does; nothing where neither pump nor hold nor gauge is described.
pub(super) fn locked<R: Recorder>(
    recorder: &mut R,
    jacks: &Jacks,
    circuit: &Circuit,
) -> Option<Locked> {
    if jacks.pump.is_none() && jacks.hold.is_none() && jacks.gauge.is_none() {
        return None;
    }
    recorder.about(|| match &jacks.circuit {
        Some(name) => format!("The locked-off circuit {name}"),
        None => "The locked-off circuit".to_owned(),
    });
    let oil = jacks.oil();
    let k = (circuit.way > Length::ZERO)
        .then(|| super::hydraulics::rig_stiffness(recorder, circuit.force, circuit.way));
    let force_of = |e: Length, recorder: &mut R| match (k, oil) {
        (Some(k), Some((v, bulk))) => Some(force_of_way(recorder, k, e, v, circuit.area, bulk)),
        (Some(k), None) => Some(force_of_way_stiff(recorder, k, e)),
        (None, Some((v, bulk))) => Some(force_of_way_oil(recorder, e, v, circuit.area, bulk)),
        (None, None) => None,
    };
    let per_stroke = jacks.pump.as_ref().and_then(|p| {
        let e = oil_way(recorder, p.stroke.value, circuit.area);
        force_of(e, recorder)
    });
    let hold = jacks.hold.as_ref();
    let thermal = |change: TemperatureChange, recorder: &mut R| {
        let (hold, (v, _)) = (hold?, oil?);
        let e = oil_expands(recorder, v, circuit.area, hold.expansion.value, change);
        force_of(e, recorder)
    };
    let cooling = hold.and_then(|h| thermal(h.cooling.value, recorder));
    let warming = hold.and_then(|h| thermal(h.warming.value, recorder));
    let bars = hold.and_then(|h| {
        let (alpha, change) = (h.bars_expansion.as_ref()?, h.bars_change.as_ref()?);
        let e = bars_expand(recorder, circuit.bars, alpha.value, change.value);
        force_of(e, recorder)
    });
    let leaks = hold.and_then(|h| h.leak.as_ref());
    let leak = leaks.and_then(|l| {
        let e = oil_way(recorder, l.volume.value, circuit.area);
        force_of(e, recorder)
    });
    let band = hold.map(|h| circuit.force * h.band.value.value());
    let spare = band.zip(cooling).map(|(b, c)| b - c - bars.unwrap_or(Force::ZERO));
    let top_up_after = spare.zip(leak).zip(leaks).and_then(|((spare, lost), leak)| {
        (spare > Force::ZERO && lost > Force::ZERO)
            .then(|| top_up_after(recorder, spare, lost, leak.over.value))
    });
    let gauge = jacks.gauge.as_ref();
    Some(Locked {
        force: circuit.force,
        stiffness: k,
        oil_known: oil.is_some(),
        per_stroke,
        cooling,
        warming,
        bars,
        leak,
        leak_over: leaks.map(|l| l.over.value),
        band,
        top_up_after,
        gauge_class: gauge
            .map(|g| gauge_force(recorder, g.full_scale.value * g.class.value, circuit.area)),
        gauge_division: gauge.map(|g| gauge_force(recorder, g.division.value, circuit.area)),
    })
}

/// So much may cell and pressure differ before the test stops (common practice, no source).
const APART: f64 = 0.05;
/// Burst pressure of a hose over the pressure it works at (hose standards, from memory).
const HOSE: f64 = 4.0;
/// Relief valve over the largest pressure planned (common practice, no source).
const RELIEF: f64 = 1.1;
/// Part of rated pressure and of stroke that is planned with (common practice, no source).
const PLANNED: f64 = 0.8;

/// The checks of one circuit beside pressure and stroke.
pub(super) struct Checked {
    pub(super) verdicts: Vec<Verdict>,
    pub(super) stops: Vec<Stop>,
    pub(super) notes: Vec<Note>,
}

impl Checked {
    pub(super) fn of(found: &Hydraulics, jacks: &Jacks, path: &str, unit: MemberUnit) -> Self {
        let mut all = Self { verdicts: Vec::new(), stops: Vec::new(), notes: Vec::new() };
        let at = |field: &str| format!("{path}.{field}");
        all.margins(found, jacks, &at);
        all.plausible(jacks, &at);
        if let Some(fittings) = &jacks.fittings {
            all.fittings(found, jacks, fittings, &at);
        }
        if let Some(pump) = &jacks.pump
            && !(pump.dead_man && pump.remote_release)
        {
            let message = "the pump has no release that opens when the hand leaves it, or cannot be unloaded from outside the zone";
            all.stops.push(Stop::new(slug::RIG_RELEASE, at("pump"), message));
        }
        if let Some(locked) = &found.locked {
            all.held(locked, jacks, unit, &at);
        }
        all
    }

    /// Rated pressure and stroke are not planned to the last (a note, the stop is the rating).
    fn margins(&mut self, found: &Hydraulics, jacks: &Jacks, at: &dyn Fn(&str) -> String) {
        let used = [
            (f64::from(found.pressure / jacks.rated_pressure.value), "rated_pressure", "pressure"),
            (f64::from(found.travel / jacks.stroke.value), "stroke", "stroke"),
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
            if verdict.state != State::Pass {
                let said = [found.pressure.into(), HOSE.into(), burst.value.into()];
                let message = Message::new(
                    "hoses work at {}; {} times that is over their burst pressure {}",
                    said,
                );
                let stop = Stop::new(verdict.slug, at("fittings.hose_burst"), message);
                self.stops.push(stop.with(verdict));
            }
            self.verdicts.push(verdict);
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
            for limit in [below, above] {
                self.verdicts.push(Verdict::design(
                    slug::RIG_RELIEF,
                    relief.value.into(),
                    limit,
                    basis,
                    clause,
                ));
            }
        }
        if !fittings.held_at_jack {
            let message = "no check valve or lock nut at every jack: a burst hose drops the load";
            self.stops.push(Stop::new(slug::RIG_HOSE_HOLDS, at("fittings.held_at_jack"), message));
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
            for change in [locked.cooling, locked.warming].into_iter().flatten() {
                // oil and bars need not change together: the worse of both ways counts
                let demand = (change + bars).into();
                self.verdicts.push(Verdict::design(
                    slug::RIG_HOLD_DRIFT,
                    demand,
                    limit,
                    basis,
                    clause,
                ));
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
