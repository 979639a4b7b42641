//! Unequal jacks on one pressure: what does each give, how far does it go, what does a hold do to it?
//!
//! One pressure `p` brings `p A (1 − f)` at a jack of area `A` that loses the part `f`, until its ram is
//! at the end of its stroke: from then on it gives what its own load path brings it to there, and the
//! others take the rest. The friction of each lies between none and what is given for it. In a hold one
//! open manifold lets oil flow from jack to jack: all lose in proportion of their areas. Behind shut
//! valves every jack keeps its own oil, and a stiff path or a leaking valve loses alone.

use super::locked::{Circuit, force_of_way};
use super::spec::{Jacks, Ram};
use crate::formula::{NoRecord, Recorder};
use crate::units::{Area, Force, Length, Moment, Pressure, SpringStiffness, Volume};

crate::laws! {
    /// Force of a jack at a pressure, friction against it.
    pub fn ram_gives(p: Pressure as "p", a: Area as "A_i", f: f64 as "f_i") -> Force as "F_i" = p * a * (1.0 - f);
    source "F = p A (1 - f), extending";
    /// Force of a jack at the end of its stroke.
    pub fn ram_ends(k: SpringStiffness as "k_i", stroke: Length as "stroke", slack: Length as "slack") -> Force as "F_i,end" = k * (stroke - slack);
    source "Hooke; its load path takes no more of it";
    /// Way of a jack.
    pub fn ram_way(f: Force as "F_i", k: SpringStiffness as "k_i", slack: Length as "slack") -> Length as "s_i" = f / k + slack;
    source "Hooke";
    /// Pressure of jacks of which some are at the end of their stroke.
    pub fn manifold_pressure(p: Force as "P", ended: Force as "P_end", s: Area as "sum of A_i (1 - f_i)") -> Pressure as "p" = Pressure::over(p - ended, s);
    source "equilibrium on one pressure";
    /// Share of a jack in its press.
    pub fn ram_share(f: Force as "F_i", p: Force as "P") -> f64 as "share" = f / p;
    source "definition";
    /// How far the resultant of a press stands from where equal jacks would have it.
    pub fn off_middle(m: Moment as "sum of (F_i - P/n) y_i", p: Force as "P") -> Length as "e" = m / p;
    source "moments";
    /// Largest difference of the share of a jack, as a part of an equal one.
    pub fn uneven(f: Force as "F_i", p: Force as "P", n: f64 as "n") -> f64 as "uneven" = abs(n * (f / p) - 1.0);
    source "definition";
    /// What a hold takes from a jack on one open manifold: in proportion of its area.
    pub fn open_loses(lost: Force as "dF", a: Area as "A_i", all: Area as "A") -> Force as "dF_i" = lost * (a / all);
    source "one pressure";
}

crate::answer! {
    /// One jack of a press whose jacks differ, at full test load.
    pub struct RamForce {
        /// What it gives, net, at the friction that is given for each.
        force: Force,
        /// Its share of the press.
        share: f64,
        /// The least it gives: it has all its friction, the others none.
        least: Force,
        /// The most: it has none, the others have all of theirs.
        most: Force,
        /// The stroke that this force needs, slack included.
        way: Length,
        /// The stroke that it has left.
        stroke: Length,
        /// Whether its ram is at the end of its stroke: the others take what it does not.
        at_end: bool,
        /// What it gives at the end of the hold if nobody tops up; nothing where no hold is described.
        held: Option<Force>,
    }
}

/// A press whose jacks differ.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Shared {
    pub(super) rams: Vec<RamForce>,
    pub(super) pressure: Pressure,
    pub(super) off_middle: Option<Length>,
    pub(super) uneven: f64,
}

/// What one jack is to the solver.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct One {
    area: Area,
    friction: f64,
    stiffness: Option<SpringStiffness>,
    stroke: Length,
    slack: Length,
}

impl One {
    /// Part of the pump force that it loses at most.
    pub(super) const fn friction(&self) -> f64 {
        self.friction
    }

    fn end(&self, recorder: &mut impl Recorder) -> Option<Force> {
        let stroke = self.stroke.max(self.slack);
        self.stiffness.map(|k| ram_ends(recorder, k, stroke, self.slack))
    }
}

impl Jacks {
    /// The acting area of all jacks of one press.
    #[must_use]
    pub fn acting(&self) -> Area {
        if self.rams.is_empty() {
            return self.piston.acting() * f64::from(self.number);
        }
        self.rams.iter().map(|r| self.area_of(r)).sum()
    }

    fn area_of(&self, ram: &Ram) -> Area {
        ram.piston.as_ref().unwrap_or(&self.piston).acting()
    }

    /// Part of the pump force that all jacks of one press lose together.
    pub(super) fn loses(&self) -> f64 {
        if self.rams.is_empty() {
            return self.friction.value.value();
        }
        let lost: Area = self.rams.iter().map(|r| self.area_of(r) * self.friction_of(r)).sum();
        lost / self.acting()
    }

    fn friction_of(&self, ram: &Ram) -> f64 {
        ram.friction.as_ref().unwrap_or(&self.friction).value.value()
    }

    /// Its jacks as they are described: one by one, or one that stands for all where they are alike.
    pub(super) fn ones(&self, (force, way, slack): (Force, Length, Length)) -> Vec<One> {
        if self.rams.is_empty() {
            return vec![One {
                area: self.acting(),
                friction: self.loses(),
                stiffness: None,
                stroke: self.stroke.value,
                slack,
            }];
        }
        let n = f64::from(self.number);
        let path = (way > Length::ZERO).then(|| SpringStiffness::per(force / n, way));
        let one = |ram: &Ram| One {
            area: self.area_of(ram),
            friction: self.friction_of(ram),
            stiffness: ram.stiffness.as_ref().map(|k| k.value).or(path),
            stroke: ram.stroke.as_ref().unwrap_or(&self.stroke).value,
            slack: slack + ram.slack.value,
        };
        self.rams.iter().map(one).collect()
    }

    /// How far the press goes where load paths of its jacks are given: their ways weighed by area.
    pub(super) fn goes(&self, force: Force) -> Option<Length> {
        if self.rams.is_empty() {
            return None;
        }
        let p = Pressure::over(force, self.acting());
        let mut swept = 0.0;
        for ram in &self.rams {
            let (a, k) = (self.area_of(ram), ram.stiffness.as_ref()?.value);
            swept += a.si() * (p * a / k).si();
        }
        Some(Length::from_si(swept / self.acting().si()))
    }
}

/// What every jack of a press gives. `way` is the elastic way of the press by its soft prediction,
/// `circuit` by its stiff one.
pub(super) fn shared<R: Recorder>(
    recorder: &mut R,
    jacks: &Jacks,
    (force, way, slack): (Force, Length, Length),
    circuit: &Circuit,
) -> Option<Shared> {
    if jacks.rams.is_empty() || force <= Force::ZERO {
        return None;
    }
    recorder.about(|| "What every jack gives on one pressure");
    let n = f64::from(jacks.number);
    let path = |s: Length| (s > Length::ZERO).then(|| SpringStiffness::per(force / n, s));
    let all = jacks.ones((force, way, slack));
    let as_given: Vec<f64> = all.iter().map(|one| one.friction).collect();
    let (pressure, forces) = on_one_pressure(recorder, force, &all, &as_given);
    let apart = |i: usize, own: f64, others: f64| {
        let part = |(j, f): (usize, &f64)| f * if i == j { own } else { others };
        let frictions: Vec<f64> = as_given.iter().enumerate().map(part).collect();
        let found = on_one_pressure(&mut NoRecord, force, &all, &frictions).1;
        found.get(i).map_or(Force::ZERO, |f| f.0)
    };
    let (mut rams, mut uneven_most) = (Vec::with_capacity(all.len()), 0.0_f64);
    for (i, (one, (given, at_end))) in all.iter().zip(&forces).enumerate() {
        let (least, most) = (apart(i, 1.0, 0.0), apart(i, 0.0, 1.0));
        for f in [*given, least, most] {
            uneven_most = uneven_most.max(uneven(recorder, f, force, n));
        }
        let asked = ram_gives(&mut NoRecord, pressure, one.area, one.friction);
        let way = match one.stiffness {
            Some(k) => ram_way(recorder, if *at_end { asked } else { *given }, k, one.slack),
            None => one.slack,
        };
        rams.push(RamForce {
            force: *given,
            share: ram_share(recorder, *given, force),
            least,
            most,
            way,
            stroke: one.stroke,
            at_end: *at_end,
            held: None,
        });
    }
    let stiff = path(circuit.way);
    for ((ram, one), given) in rams.iter_mut().zip(&all).zip(&jacks.rams) {
        let k = given.stiffness.as_ref().map(|k| k.value).or(stiff);
        ram.held = held(recorder, jacks, circuit, (one, k)).map(|lost| {
            let left: Force = ram.force - lost;
            left.max(Force::ZERO)
        });
    }
    let placed: Option<Vec<Length>> =
        jacks.rams.iter().map(|r| r.across.as_ref().map(|y| y.value)).collect();
    let off_middle = placed.map(|places| {
        let about = |(y, f): (&Length, &(Force, bool))| (f.0 - force / n) * *y;
        let moment: Moment = places.iter().zip(&forces).map(about).sum();
        off_middle(recorder, moment, force)
    });
    Some(Shared { rams, pressure, off_middle, uneven: uneven_most })
}

/// The pressure that brings a force, what every jack gives then and whether it is at its end. Where all
/// are, the pressure is that of rams that never come to one.
pub(super) fn on_one_pressure<R: Recorder>(
    recorder: &mut R,
    force: Force,
    all: &[One],
    frictions: &[f64],
) -> (Pressure, Vec<(Force, bool)>) {
    let mut ended: Vec<Option<Force>> = vec![None; all.len()];
    // the pressure only rises while rams come to their end: each round ends one or is the last
    loop {
        let gone: Force = ended.iter().flatten().copied().sum();
        let free = || all.iter().zip(frictions).zip(&ended).filter(|(_, e)| e.is_none());
        let acting: Area = free().map(|((one, f), _)| one.area * (1.0 - f)).sum();
        if acting <= Area::ZERO {
            let whole: Area = all.iter().zip(frictions).map(|(o, f)| o.area * (1.0 - f)).sum();
            let forces = ended.iter().map(|e| (e.unwrap_or(Force::ZERO), true)).collect();
            return (Pressure::over(force, whole), forces);
        }
        let pressure = manifold_pressure(&mut NoRecord, force, gone, acting);
        let mut more = false;
        for ((one, f), end) in all.iter().zip(frictions).zip(ended.iter_mut()) {
            let asked = ram_gives(&mut NoRecord, pressure, one.area, *f);
            if let (None, Some(most)) = (*end, one.end(&mut NoRecord))
                && asked > most * (1.0 + 1e-12)
            {
                *end = Some(most);
                more = true;
            }
        }
        if more {
            continue;
        }
        let pressure = manifold_pressure(recorder, force, gone, acting);
        let each = all.iter().zip(frictions).zip(&ended).map(|((one, f), end)| match end {
            Some(_) => (one.end(recorder).unwrap_or(Force::ZERO), true),
            None => (ram_gives(recorder, pressure, one.area, *f), false),
        });
        return (pressure, each.collect());
    }
}

/// What the hold takes from one jack: the oil cools, the member creeps, a leak.
fn held<R: Recorder>(
    recorder: &mut R,
    jacks: &Jacks,
    circuit: &Circuit,
    (one, stiffness): (&One, Option<SpringStiffness>),
) -> Option<Force> {
    let (hold, k) = (jacks.hold.as_ref()?, stiffness?);
    let (oil, bulk) = jacks.oil()?;
    let warm = oil / circuit.area * (hold.expansion.value * hold.cooling.value);
    let way = warm + hold.creep.as_ref().map_or(Length::ZERO, |c| c.value);
    let leak = hold.leak.as_ref().map_or(Volume::ZERO, |l| l.volume.value);
    if hold.isolated {
        // its own oil, and all of the leak at its valve
        let own = oil * (one.area / circuit.area);
        return Some(force_of_way(recorder, k, way + leak / one.area, own, one.area, bulk));
    }
    let way = way + leak / circuit.area;
    let k = if circuit.way > Length::ZERO {
        SpringStiffness::per(circuit.force, circuit.way)
    } else {
        k
    };
    let lost = force_of_way(recorder, k, way, oil, circuit.area, bulk);
    Some(open_loses(recorder, lost, one.area, circuit.area))
}
