//! Force to pressure, pressure to force, stroke.

use super::locked::{Circuit, Locked, jack_least, jack_most, locked};
use super::manifold::{RamForce, shared};
use super::spec::{Bars, Jacks};
use crate::formula::Recorder;
use crate::units::{
    Area, AxialRigidity, Energy, Force, Length, Pressure, Ratio, SpringStiffness, Stress, Volume,
};

crate::laws! {
    /// Pump pressure that gives a force on so many equal jacks, friction against it.
    pub fn pressure_for(p: Force as "P", n: f64 as "n", a: Area as "A", friction: f64 as "friction") -> Pressure as "p" = Pressure::over(p / (1.0 - friction), n * a);
    source "F = p A (1 - friction), extending";
    /// Force of so many equal jacks at a pump pressure, friction against it.
    pub fn force_at(p: Pressure as "p", n: f64 as "n", a: Area as "A", friction: f64 as "friction") -> Force as "P" = p * (n * a) * (1.0 - friction);
    source "F = p A (1 - friction), extending";
    /// Stretch of the bars under their share of the force.
    pub fn bar_stretch(p: Force as "P", n: f64 as "n", l: Length as "l", e: Stress as "E", a: Area as "A") -> Length as "s_bars" = (p / n) / AxialRigidity::of(e, a) * l;
    source "Hooke";
    /// Force of one of so many equal jacks.
    pub fn one_jack(p: Force as "P", n: f64 as "n") -> Force as "P_jack" = p / n;
    source "equal jacks share alike";
    /// Share of the stroke that is used.
    pub fn stroke_used(travel: Length as "travel", stroke: Length as "stroke") -> f64 as "used" = travel / stroke;
    source "definition";
    /// How far everything but the member under test springs back.
    pub fn springs_back(rise: Length as "v_rise", bars: Length as "s_bars", oil: Length as "s_oil") -> Length as "s_back" = rise + bars + oil;
    source "sum of movements along the force path";
    /// By how much the force falls with the way of the member that gives way.
    pub fn falls_by(p: Force as "P", back: Length as "s_back") -> SpringStiffness as "k_back" = SpringStiffness::per(p, back);
    source "definition";
    /// Movement of the jacks: test member, reaction member, bars, slack.
    pub fn travel(test: Length as "v_test", rise: Length as "v_rise", bars: Length as "s_bars", slack: Length as "slack") -> Length as "travel" = test + rise + bars + slack;
    source "sum of movements along the force path";
    /// Stiffness of the whole rig: force over elastic travel.
    pub fn rig_stiffness(p: Force as "P", s: Length as "travel") -> SpringStiffness as "k_rig" = SpringStiffness::per(p, s);
    source "definition";
    /// What the locked-off oil would push if the member dropped.
    pub fn oil_travel(p: Pressure as "p", k: Pressure as "K", v: Volume as "V_0", n: f64 as "n", a: Area as "A") -> Length as "s_oil" = (p / k) * v / (n * a);
    source "compressibility of the oil";
}

crate::answer! {
    /// Pressure and movement of one circuit at full test load: of its presses, the one that asks most.
    pub struct Hydraulics {
        /// The circuit, where it is named.
        circuit: Option<String>,
        /// Force of one jack at full load, net.
        force_per_jack: Force,
        /// Pump pressure at full load, friction included.
        pressure: Pressure,
        /// The same without friction: what a load cell would make of it.
        pressure_without_friction: Pressure,
        /// Stretch of the bars.
        bar_stretch: Length,
        /// Stroke that is needed, soft prediction and slack included.
        travel: Length,
        /// Force over elastic travel; nothing where nothing moves.
        stiffness: Option<SpringStiffness>,
        /// What the locked-off oil would still push, where the oil is described.
        oil_travel: Option<Length>,
        /// Share of the stroke that is used; nothing where no stroke is left.
        stroke_used: Option<Ratio>,
        /// The most that one of the jacks of the press gives at this pressure: their friction differs.
        jack_most: Force,
        /// The least that one of them gives.
        jack_least: Force,
        /// Its jacks one by one, where they are described so.
        rams: Vec<RamForce>,
        /// How far the resultant of the press stands across from where equal jacks would have it; nothing
        /// where places across are not given.
        off_middle: Option<Length>,
        /// How far the share of one of them lies from that of equal jacks at most, as a part of it, friction
        /// at its worst; nothing where they are not described one by one.
        uneven: Option<f64>,
        /// How far everything but the member under test springs back when it gives way: reaction,
        /// bars, oil; nothing where a part of it is not known or keeps the pressure up.
        springs_back: Option<Length>,
        /// The energy that this gives back, of the whole circuit: half of force times way.
        energy: Option<Energy>,
        /// By how much the force of the circuit falls with the way of the member that gives way.
        falls_by: Option<SpringStiffness>,
        /// What the circuit does when it is locked off, where pump, hold or gauge is described.
        locked: Option<Locked>,
    }
}

/// One press: its force, its jacks and bars, the movement of the member above it and of what it
/// pulls on.
pub(super) struct Pressed<'a> {
    pub(super) circuit: Option<&'a str>,
    pub(super) force: Force,
    /// The force that stretches evenly loaded bars as much as these are stretched.
    pub(super) on_bars: Force,
    pub(super) jacks: &'a Jacks,
    pub(super) bars: Option<&'a Bars>,
    pub(super) slack: Length,
    pub(super) test: Length,
    pub(super) rise: Length,
    /// Whether it is known how what it pulls on gives way.
    pub(super) gives: bool,
    /// All jacks of its circuit, and how they move.
    pub(super) circuit_moves: Circuit,
}

pub(super) fn hydraulics<R: Recorder>(recorder: &mut R, press: &Pressed<'_>) -> Hydraulics {
    let (jacks, force) = (press.jacks, press.force);
    let (n, friction) = (f64::from(jacks.number), jacks.loses());
    let a = jacks.acting() / n;
    recorder.about(|| match press.circuit {
        Some(name) => format!("Pressure and stroke at full test load, circuit {name}"),
        None => "Pressure and stroke at full test load".to_owned(),
    });
    let pressure_without_friction = pressure_for(recorder, force, n, a, 0.0);
    let stretch = press.bars.map_or(Length::ZERO, |b| {
        bar_stretch(
            recorder,
            press.on_bars,
            f64::from(b.number),
            b.length.value,
            b.modulus.value,
            b.area.value,
        )
    });
    let elastic = travel(recorder, press.test, press.rise, stretch, Length::ZERO);
    let whole = travel(recorder, press.test, press.rise, stretch, press.slack);
    let differ = shared(recorder, jacks, (force, elastic, press.slack), &press.circuit_moves);
    let pressure = match &differ {
        Some(found) => found.pressure,
        None => pressure_for(recorder, force, n, a, friction),
    };
    let rams = differ.as_ref().map_or_else(Vec::new, |d| d.rams.clone());
    let whole = rams.iter().map(|r| r.way).reduce(Length::max).unwrap_or(whole);
    let stiffness = (elastic > Length::ZERO).then(|| rig_stiffness(recorder, force, elastic));
    // jacks of one circuit may differ: all of their areas, counted in this one
    let all = press.circuit_moves.area / a;
    let oil =
        jacks.oil().map(|(v, k)| oil_travel(recorder, pressure_without_friction, k, v, all, a));
    let friction_differs = friction > 0.0 && n > 1.0;
    let one = one_jack(recorder, force, n);
    let ends = rams.iter().map(|r| r.most).reduce(Force::max);
    let ends = ends.zip(rams.iter().map(|r| r.least).reduce(Force::min));
    let (most, least) = if let Some(ends) = ends {
        ends
    } else if friction_differs {
        (jack_most(recorder, force, n, friction), jack_least(recorder, force, n, friction))
    } else {
        (one, one)
    };
    let known = press.gives && press.bars.is_some() && !jacks.accumulator;
    let springs_back =
        oil.filter(|_| known).map(|oil| springs_back(recorder, press.rise, stretch, oil));
    let falls = press.circuit_moves.force;
    Hydraulics {
        circuit: press.circuit.map(str::to_owned),
        force_per_jack: one,
        pressure,
        pressure_without_friction,
        bar_stretch: stretch,
        travel: whole,
        stiffness,
        oil_travel: oil,
        stroke_used: (jacks.stroke.value > Length::ZERO)
            .then(|| Ratio::from(stroke_used(recorder, whole, jacks.stroke.value))),
        jack_most: most,
        jack_least: least,
        rams,
        off_middle: differ.as_ref().and_then(|d| d.off_middle),
        uneven: differ.map(|d| d.uneven),
        springs_back,
        energy: springs_back.map(|s| Energy::of(falls, s) / 2.0),
        falls_by: springs_back.filter(|s| *s > Length::ZERO).map(|s| falls_by(recorder, falls, s)),
        locked: locked(recorder, jacks, &press.circuit_moves),
    }
}
