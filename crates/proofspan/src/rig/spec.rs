//! The rig as a document describes it, per member unit.

use crate::beam::Rigidity;
use crate::error::{Issue, slug};
use crate::source::{Given, Reader};
use crate::units::{Area, Force, Length, LineLoad, Moment, Pressure, Ratio, Stress, Volume};

crate::choice! {
    /// How the reaction member sits on its supports.
    pub enum Seat ("seat", source::SOURCE_CHOICE) {
        /// It lies on bearings and can lift.
        Seated = "seated",
        /// It is cast with its supports: uplift goes into column and top steel.
        Monolithic = "monolithic",
    }
}

crate::record! {
    /// The member below that the jacks pull against: a simple span between its bearings.
    pub struct ReactionMember {
        /// How the drawings call it; never the member under test.
        id: String,
        /// Centre to centre of its bearings, which stand under those of the test member.
        span: Given<Length>,
        /// Its own weight, per member unit.
        self_weight: Given<LineLoad>,
        /// Its soft stiffness, per member unit.
        rigidity: Rigidity,
        /// How it sits.
        seat: Seat,
        /// Design shear strength, per member unit.
        shear_capacity: Option<Given<Force>>,
        /// Design strength in sagging, per member unit.
        sagging_capacity: Option<Given<Moment>>,
        /// Design strength in hogging, per member unit, as a size; zero where it has no top steel.
        hogging_capacity: Option<Given<Moment>>,
    }
    rules { weighs_something[span, self_weight]; }
}

fn weighs_something(reader: &mut Reader, span: &Given<Length>, weight: &Given<LineLoad>) {
    reader.positive("span", span.value.into(), slug::BEAM_LENGTH_NONPOSITIVE);
    reader.positive("self_weight", weight.value.into(), slug::SOURCE_SIGN);
}

crate::record! {
    /// A counterweight on the reaction member, per member unit.
    pub struct Counterweight {
        /// Its weight.
        force: Given<Force>,
        /// Its place from the left bearing.
        at: Given<Length>,
    }
    rules { pushes_down[force]; }
}

fn pushes_down(reader: &mut Reader, force: &Given<Force>) {
    reader.positive("force", force.value.into(), slug::SOURCE_SIGN);
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
        at_least: f64,
        /// What it is counted on.
        basis: Option<FactorBasis>,
    }
    rules { basis_said[basis]; }
}

fn basis_said(reader: &mut Reader, basis: &Option<FactorBasis>) {
    if basis.is_none() {
        let path = reader.path_of("basis");
        reader.push(
            Issue::new(
                slug::RIG_FACTOR_BASIS_MISSING,
                path,
                "a factor against lift-off without its basis",
            )
            .limit(FactorBasis::WORDS.join(", ")),
        );
    }
}

crate::record! {
    /// The acting area of one jack: given, or from its bore (a diameter) and rod.
    pub struct Piston {
        /// The acting area.
        area: Option<Given<Area>>,
        /// The bore: a diameter.
        bore: Option<Given<Length>>,
        /// The diameter of the rod, where the jack pulls.
        rod: Option<Given<Length>>,
    }
    rules { one_way[area, bore, rod]; }
}

fn one_way(
    reader: &mut Reader,
    area: &Option<Given<Area>>,
    bore: &Option<Given<Length>>,
    rod: &Option<Given<Length>>,
) {
    let positive = area.as_ref().is_none_or(|a| a.value > Area::ZERO)
        && bore.as_ref().is_none_or(|b| b.value > Length::ZERO);
    let rod_fits = rod
        .as_ref()
        .zip(bore.as_ref())
        .is_none_or(|(r, b)| r.value >= Length::ZERO && r.value < b.value);
    if area.is_some() == bore.is_some() || !positive || !rod_fits {
        let path = reader.path().to_owned();
        reader.push(
            Issue::new(slug::RIG_PISTON, path, "the acting area is not settled")
                .limit("area, or bore with rod < bore; above zero"),
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
    /// The jacks, all on one pressure source with equal areas.
    pub struct Jacks {
        /// How many press on one member unit.
        number: u32,
        /// The acting area of one.
        piston: Piston,
        /// Part of the pump force lost in the jack, 0 to 0.2.
        friction: Given<Ratio> = Given::new(Ratio::ZERO),
        /// The pressure the jacks and hoses are rated for.
        rated_pressure: Given<Pressure>,
        /// The stroke that is left when the jacks touch.
        stroke: Given<Length>,
        /// Oil locked off with all jacks of the unit.
        oil_volume: Option<Given<Volume>>,
        /// Bulk modulus of the oil.
        oil_bulk_modulus: Option<Given<Pressure>>,
    }
    rules {
        some_jacks[number];
        friction_range[friction];
    }
}

fn some_jacks(reader: &mut Reader, number: &u32) {
    if *number == 0 {
        let path = reader.path_of("number");
        reader.push(Issue::new(slug::SOURCE_SIGN, path, "no jacks").value(0).limit(">= 1"));
    }
}

fn friction_range(reader: &mut Reader, friction: &Given<Ratio>) {
    let value = friction.value.value();
    if !(0.0..=0.2).contains(&value) {
        let path = reader.path_of("friction");
        reader.push(
            Issue::new(slug::RIG_FRICTION_RANGE, path, "a friction no sound jack has")
                .value(friction.shown())
                .limit("0 to 20 %"),
        );
    }
}

crate::record! {
    /// The bars between the two members, per member unit.
    pub struct Bars {
        /// How many.
        number: u32,
        /// The area of one.
        area: Given<Area>,
        /// The free length.
        length: Given<Length>,
        /// Their modulus of elasticity.
        modulus: Given<Stress>,
        /// The working load of one, from its supplier.
        working_load: Option<Given<Force>>,
    }
    rules { bars_hold[number, area, length, modulus]; }
}

fn bars_hold(
    reader: &mut Reader,
    number: &u32,
    area: &Given<Area>,
    length: &Given<Length>,
    modulus: &Given<Stress>,
) {
    if *number == 0 {
        let path = reader.path_of("number");
        reader.push(Issue::new(slug::SOURCE_SIGN, path, "no bars").value(0).limit(">= 1"));
    }
    reader.positive("area", area.value.into(), slug::SOURCE_SIGN);
    reader.positive("length", length.value.into(), slug::SOURCE_SIGN);
    reader.positive("modulus", modulus.value.into(), slug::SOURCE_SIGN);
}

crate::record! {
    /// The rig.
    pub struct RigSpec {
        /// What the jacks pull against. Left out is a stop.
        reaction: Option<ReactionMember>,
        /// The counterweights on it.
        counterweights: Vec<Counterweight> = Vec::new(),
        /// The conditions of the lower floor of lift-off.
        conditions: Conditions = Conditions::none(),
        /// A factor asked for beyond the floor.
        factor: Option<AskedFactor>,
        /// The jacks.
        jacks: Jacks,
        /// The bars.
        bars: Option<Bars>,
        /// Slack of seats and nuts that the stroke must take up.
        slack: Given<Length> = Given::new(Length::ZERO),
    }
}
