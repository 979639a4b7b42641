//! The rig as a document describes it, per member unit.

use super::blocks::Blocks;
use super::gear::{BeamUse, Hole, RigBeam, Tilt, Train};
use super::oil::{Band, Fittings, LockedOff, PressureGauge, Pump};
use super::reaction::{GearLength, ReactionMember, RigPlace};
use super::transport::Transport;
use crate::beam::{MemberModulus, Spring};
use crate::error::{Issue, slug};
use crate::source::rule::{Movement, NotNegative, Positive};
use crate::source::{Given, Reader, Several};
use crate::units::{
    Area, Force, Length, Message, Pressure, Ratio, SpringStiffness, Stress, UnitWeight, Volume,
};

crate::rule! {
    /// A factor asked for: up to a thousand (library rule).
    pub Asked { above 0.0 SOURCE_SIGN, most 1000.0 SOURCE_MAGNITUDE }
    /// Part of the pump force that a sound jack loses.
    pub Friction { least 0.0 RIG_FRICTION_RANGE, most 0.2 RIG_FRICTION_RANGE }
    /// A bore or an area of a piston.
    pub Acts { above 0.0 RIG_PISTON }
    /// A rod in the bore; zero where there is none.
    pub RodSize { least 0.0 RIG_PISTON }
    /// How many jacks, bars or posts serve one member unit: one to a thousand (library rule).
    pub Number { least 1.0 SOURCE_SIGN, most 1000.0 SOURCE_MAGNITUDE }
}

crate::record! {
    /// Water in a tank, as a counterweight.
    pub struct Tank {
        /// Its area in plan, on one member unit.
        area: Given<Area, Positive>,
        /// How deep the water stands when it is filled.
        depth: Given<Length, GearLength>,
        /// By how much the water may fall before somebody fills it up: leaks, slopping, frost that bursts
        /// it. Lift-off counts the water that is left, strength all of it.
        falls: Given<Length, Movement>,
        /// Weight of the tank itself.
        empty: Option<Given<Force, NotNegative>>,
    }
    rules { falls_within[depth, falls]; }
}

fn falls_within(
    reader: &mut Reader,
    depth: &Given<Length, GearLength>,
    falls: &Given<Length, Movement>,
) {
    if falls.value > depth.value {
        let path = reader.path_of("falls");
        let issue =
            Issue::new(slug::RIG_WEIGHT_UNSETTLED, path, "the water falls by more than it is deep");
        reader.push(issue.value(falls.said()).limit(Message::new("at most {}", [depth.said()])));
    }
}

crate::record! {
    /// A counterweight on the reaction member, per member unit: its weight, or the water that it is.
    pub struct Counterweight {
        /// Its weight.
        force: Option<Given<Force, Positive>>,
        /// In place of the weight, water in a tank.
        water: Option<Tank>,
        /// Its place from the left end of the member under test.
        at: Given<Length, RigPlace>,
        /// The reaction member it stands on, where several reach its place.
        reaction: Option<String>,
    }
    rules { one_weight[force, water]; }
}

fn one_weight(reader: &mut Reader, force: &Option<Given<Force, Positive>>, water: &Option<Tank>) {
    if force.is_some() == water.is_some() {
        let path = reader.path().to_owned();
        let message = "the weight is not settled";
        let issue = Issue::new(slug::RIG_WEIGHT_UNSETTLED, path, message);
        reader.push(issue.limit("force, or water"));
    }
}

/// Fresh water, the lighter of what may be filled in.
const WATER: UnitWeight = UnitWeight::from_si(9810.0);

impl Counterweight {
    fn holding(&self, lost: impl Fn(&Tank) -> Length) -> Force {
        match (&self.force, &self.water) {
            (Some(force), _) => force.value,
            (None, Some(tank)) => {
                let water = WATER * (tank.depth.value - lost(tank)) * tank.area.value;
                water + tank.empty.as_ref().map_or(Force::ZERO, |w| w.value)
            }
            (None, None) => Force::ZERO,
        }
    }

    /// Its weight, a tank filled.
    #[must_use]
    pub fn weight(&self) -> Force {
        self.holding(|_| Length::ZERO)
    }

    /// The weight that is certainly there: of a tank what is left in it.
    ///
    /// ```
    /// use proofspan::rig::Counterweight;
    /// use proofspan::source::read_json;
    /// use proofspan::units::*;
    ///
    /// // 2 m² of water, 1 m deep, that may fall by half
    /// let tank: Counterweight = read_json(
    ///     r#"{ "at": "3 m", "water": { "area": "2 m^2", "depth": "1 m", "falls": "0.5 m" } }"#,
    /// )?;
    /// assert!((tank.weight().to(KN) - 19.62).abs() < 1e-12);
    /// assert!((tank.certain().to(KN) - 9.81).abs() < 1e-12);
    /// # Ok::<(), proofspan::Error>(())
    /// ```
    #[must_use]
    pub fn certain(&self) -> Force {
        self.holding(|tank| tank.falls.value)
    }
}

crate::record! {
    /// The five conditions under which the lower floor of lift-off may be used.
    pub struct Conditions {
        /// A relief valve caps the jack force.
        relief_valve: bool = false,
        /// The cut-off was tested on the day.
        cutoff_tested: bool = false,
        /// A load cell is the force of record.
        load_cell_of_record: bool = false,
        /// The counterweights were weighed.
        weights_weighed: bool = false,
        /// A hold-down stop exists.
        hold_down_stop: bool = false,
    }
}

impl Conditions {
    /// None of them.
    #[must_use]
    pub const fn none() -> Self {
        Self {
            relief_valve: false,
            cutoff_tested: false,
            load_cell_of_record: false,
            weights_weighed: false,
            hold_down_stop: false,
        }
    }

    /// Whether all five hold.
    #[must_use]
    pub const fn all(&self) -> bool {
        self.relief_valve
            && self.cutoff_tested
            && self.load_cell_of_record
            && self.weights_weighed
            && self.hold_down_stop
    }
}

crate::choice! {
    /// What a factor against lift-off is counted on: the two differ by nearly three.
    pub enum FactorBasis ("factor basis", rig::RIG_FACTOR_BASIS_MISSING) {
        /// (Own weight + counterweights) over uplift.
        TotalWeight = "total_weight",
        /// Counterweights over the part of the uplift that own weight does not balance.
        UnbalancedUplift = "unbalanced_uplift",
    }
}

crate::record! {
    /// A factor against lift-off that the engineer asks for beyond the floor.
    pub struct AskedFactor {
        /// The factor.
        at_least: f64 where Asked,
        /// What it is counted on.
        basis: FactorBasis => RIG_FACTOR_BASIS_MISSING "the two factors differ by nearly three",
    }
}

crate::record! {
    /// The acting area of one jack: given, or from its bore (a diameter) and rod.
    pub struct Piston {
        /// The acting area.
        area: Option<Given<Area, Acts>>,
        /// The bore: a diameter.
        bore: Option<Given<Length, Acts>>,
        /// The diameter of the rod, where the jack pulls.
        rod: Option<Given<Length, RodSize>>,
    }
    rules { one_way[area, bore, rod]; }
}

fn one_way(
    reader: &mut Reader,
    area: &Option<Given<Area, Acts>>,
    bore: &Option<Given<Length, Acts>>,
    rod: &Option<Given<Length, RodSize>>,
) {
    let rod_fits = rod.as_ref().zip(bore.as_ref()).is_none_or(|(r, b)| r.value < b.value);
    let rod_alone = rod.is_some() && bore.is_none();
    if area.is_some() == bore.is_some() || !rod_fits || rod_alone {
        let path = reader.path().to_owned();
        reader.push(
            Issue::new(slug::RIG_PISTON, path, "the acting area is not settled")
                .limit("area alone, or bore with rod < bore; above zero"),
        );
    }
}

impl Piston {
    /// The acting area of one jack.
    #[must_use]
    pub fn acting(&self) -> Area {
        match (&self.area, &self.bore) {
            (Some(area), _) => area.value,
            (None, Some(bore)) => {
                Area::circle(bore.value)
                    - self.rod.as_ref().map_or(Area::ZERO, |r| Area::circle(r.value))
            }
            (None, None) => Area::ZERO,
        }
    }
}

crate::record! {
    /// One jack of a press where its jacks differ; what is left out is as the press has it.
    pub struct Ram {
        /// Its acting area.
        piston: Option<Piston>,
        /// Part of the pump force that it loses at most.
        friction: Option<Given<Ratio, Friction>>,
        /// The stroke that is left when it touches.
        stroke: Option<Given<Length, Movement>>,
        /// Slack that it takes up first, beside that of the rig.
        slack: Given<Length, Movement> = Given::known(Length::ZERO),
        /// Its force over its way: member, reaction, bars.
        stiffness: Option<Given<SpringStiffness, Spring>>,
        /// Its place across the member unit, from the middle of it.
        across: Option<Given<Length, RigPlace>>,
    }
}

crate::record! {
    /// The jacks of one press or of all, on one pressure source.
    pub struct Jacks {
        /// The circuit they are on; several records are told apart by it. Those that share one serve
        /// its presses from left to right.
        circuit: Option<String>,
        /// How many make one press on one member unit.
        number: u32 where Number,
        /// The acting area of one.
        piston: Piston,
        /// Part of the pump force lost in the jack, 0 to 0.2.
        friction: Given<Ratio, Friction> = Given::known(Ratio::ZERO),
        /// The pressure the jacks and hoses are rated for.
        rated_pressure: Given<Pressure, Positive>,
        /// The stroke that is left when the jacks touch.
        stroke: Given<Length, Movement>,
        /// Oil locked off with all jacks of the circuit.
        oil_volume: Option<Given<Volume, Positive>>,
        /// Bulk modulus of the oil.
        oil_bulk_modulus: Option<Given<Pressure, Positive>>,
        /// Whether an accumulator, a pump that runs on, or air keeps the pressure up when the member
        /// gives way: the load then follows like a weight.
        accumulator: bool = false,
        /// The pump.
        pump: Option<Pump>,
        /// How the circuit is locked off for the hold at full load.
        hold: Option<LockedOff>,
        /// Its pressure gauge.
        gauge: Option<PressureGauge>,
        /// Hoses and valves.
        fittings: Option<Fittings>,
        /// The jacks of one press one by one, where they differ.
        rams: Vec<Ram> = Vec::new(),
        /// How far the share of one of them may lie from that of equal jacks, as a part of it.
        uneven: Option<Given<Ratio, Band>>,
    }
    rules {
        oil_known[oil_volume, oil_bulk_modulus, hold];
        rams_fit[number, rams];
    }
}

/// Jacks that differ are described one by one.
fn rams_fit(reader: &mut Reader, number: &u32, rams: &[Ram]) {
    if !rams.is_empty() && rams.len() != *number as usize {
        let path = reader.path_of("rams");
        let message = "the jacks differ, and not each of them is described";
        reader.push(Issue::new(slug::RIG_RAMS, path, message).value(rams.len()).limit(*number));
    }
}

/// What a hold of locked-off oil does follows from the oil.
fn oil_known(
    reader: &mut Reader,
    volume: &Option<Given<Volume, Positive>>,
    bulk: &Option<Given<Pressure, Positive>>,
    hold: &Option<LockedOff>,
) {
    for (field, there) in [("oil_volume", volume.is_some()), ("oil_bulk_modulus", bulk.is_some())] {
        if hold.is_some() && !there {
            let path = reader.path_of(field);
            let message = format!("a locked-off circuit, and `{field}` is missing");
            reader.push(Issue::new(slug::SOURCE_FIELD_MISSING, path, message));
        }
    }
}

impl Jacks {
    /// The oil locked off with the circuit and its bulk modulus, where both are known.
    #[must_use]
    pub fn oil(&self) -> Option<(Volume, Pressure)> {
        let both = self.oil_volume.as_ref().zip(self.oil_bulk_modulus.as_ref());
        both.map(|(v, k)| (v.value, k.value))
    }
}

crate::record! {
    /// The bars between the two members, per member unit.
    pub struct Bars {
        /// How many hold one press, at all its places together.
        number: u32 where Number,
        /// Where they hold the reaction member, from the left end of the member under test; at the
        /// jack where nothing is said. Each place has the same number of bars.
        places: Several<Given<Length, RigPlace>> = Several::none(),
        /// The reaction member they hold, where several reach their place.
        reaction: Option<String>,
        /// The area of one.
        area: Given<Area, Positive>,
        /// The free length.
        length: Given<Length, Positive>,
        /// Their modulus of elasticity.
        modulus: Given<Stress, MemberModulus>,
        /// The working load of one, from its supplier.
        working_load: Option<Given<Force, Positive>>,
        /// Their tensile strength: the stress is held to a part of it.
        strength: Option<Given<Stress, Positive>>,
        /// Whether they were used before.
        reused: bool = true,
        /// What the weakest of coupler, nut and plate of one takes.
        fixings: Option<Given<Force, Positive>>,
        /// How far they stand beside the axis of the rib they hold.
        beside: Option<Given<Length, Movement>>,
        /// How far nuts and seats let the crosshead tilt, rise over length, where its places give unequally.
        tilts: Option<Given<Ratio, Tilt>>,
    }
}

crate::record! {
    /// The rig. Every place counts from the left end of the member under test.
    pub struct RigSpec {
        /// What the jacks pull against. Left out is a stop where a jack presses.
        reaction: Several<ReactionMember> = Several::none(),
        /// The counterweights on it.
        counterweights: Vec<Counterweight> = Vec::new(),
        /// The conditions of the lower floor of lift-off.
        conditions: Conditions = Conditions::none(),
        /// A factor asked for beyond the floor.
        factor: Option<AskedFactor>,
        /// The jacks, one record for each circuit; weights and water need none.
        jacks: Several<Jacks> = Several::none(),
        /// The bars: one record for every press, or one for each press from left to right.
        bars: Several<Bars> = Several::none(),
        /// Slack of seats and nuts that the stroke must take up.
        slack: Given<Length, Movement> = Given::known(Length::ZERO),
        /// Spreaders and reaction beams.
        beams: Several<RigBeam> = Several::none(),
        /// The jack with what stands on and under it.
        train: Option<Train>,
        /// Holes and cuts that the rig needs.
        holes: Vec<Hole> = Vec::new(),
        /// Whole blocks to choose further counterweights from: with the fewest lifts.
        blocks: Option<Blocks>,
        /// What carries the counterweights to their places.
        transport: Option<Transport>,
    }
    rules {
        names_differ[reaction];
        circuits_named[jacks];
        bars_even[bars];
    }
}

impl RigSpec {
    /// How much more than an even share the worst of so many bars at a place takes: of the beams that hold
    /// there, the end that the force stands nearer to, with the fewer bars where they do not divide evenly.
    pub(super) fn worst_bar(&self, each: u32) -> f64 {
        let beams = self.beams.iter().filter(|b| b.carries == BeamUse::Bars && each > 1);
        let near = |b: &RigBeam| 0.5 + b.off.value / b.span.value;
        let even = each.is_multiple_of(2);
        let over = |b: &RigBeam| near(b) * f64::from(each) / f64::from(each / 2);
        let uneven = beams.filter(|b| !even || b.off.value > Length::ZERO);
        uneven.map(over).fold(1.0, f64::max)
    }

    /// No rig: weights and water react on nothing.
    #[must_use]
    pub fn none() -> Self {
        Self {
            reaction: Several::none(),
            counterweights: Vec::new(),
            blocks: None,
            transport: None,
            conditions: Conditions::none(),
            factor: None,
            jacks: Several::none(),
            bars: Several::none(),
            slack: Given::known(Length::ZERO),
            beams: Several::none(),
            train: None,
            holes: Vec::new(),
        }
    }
}

fn names_differ(reader: &mut Reader, reaction: &Several<ReactionMember>) {
    for (i, one) in reaction.iter().enumerate() {
        if reaction.iter().take(i).any(|r| r.id == one.id) {
            let path = format!("{}[{i}].id", reader.path_of("reaction"));
            let message = format!("two reaction members are called `{}`", one.id);
            reader.push(Issue::new(slug::RIG_REACTION_AMBIGUOUS, path, message));
        }
    }
}

fn circuits_named(reader: &mut Reader, jacks: &Several<Jacks>) {
    if jacks.len() > 1 {
        for (i, _) in jacks.iter().enumerate().filter(|(_, j)| j.circuit.is_none()) {
            let path = format!("{}[{i}].circuit", reader.path_of("jacks"));
            let message = "several records of jacks, and one without its circuit";
            reader.push(Issue::new(slug::RIG_CIRCUIT, path, message));
        }
    }
}

fn bars_even(reader: &mut Reader, bars: &Several<Bars>) {
    let field = reader.path_of("bars");
    for (i, one) in bars.iter().enumerate().filter(|(_, b)| !b.places.is_empty()) {
        let path = bars.path(&field, i);
        if !(one.number as usize).is_multiple_of(one.places.len()) {
            let message = "the bars do not divide evenly over their places";
            reader.push(
                Issue::new(slug::RIG_BARS_UNSTABLE, format!("{path}.number"), message)
                    .value(one.number)
                    .limit(format!("a multiple of {}", one.places.len())),
            );
        }
        let pairs = one.places.iter().zip(one.places.iter().skip(1));
        for (j, _) in pairs.enumerate().filter(|(_, (a, b))| a.value >= b.value) {
            let path = format!("{path}.places[{}]", j + 1);
            let message = "the places of the bars do not rise from left to right";
            reader.push(Issue::new(slug::RIG_BARS_UNSTABLE, path, message));
        }
    }
}
