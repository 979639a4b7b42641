//! One reaction member under what pulls on it, and one press of jacks: no document.

use std::borrow::Cow;

use super::check::Rig;
use super::counterweight::Advice;
use super::holding::Holding;
use super::hydraulics::{Hydraulics, Pressed as Press, bar_stretch, hydraulics};
use super::lift_off::{BearingCheck, Held};
use super::locked::Circuit;
use super::oil::{Band, Fittings, LockedOff, PressureGauge, Pump};
use super::press::{ForcePath, Press as Pressing, Served, Tested};
use super::reaction::{ReactionKind, ReactionMember, RigPlace, Seat};
use super::spec::{
    Acts, AskedFactor, Bars, Conditions, Friction, Jacks, Number, Piston, Ram, RodSize,
};
use super::stages::Stage;
use crate::beam::{Part, Rigidity, Span};
use crate::error::{Error, Issue, slug};
use crate::formula::{NoRecord, Recorder, Working};
use crate::source::rule::{Movement, NotNegative, Positive};
use crate::source::{Given, Node, Several, Write, validate_single};
use crate::units::{
    Area, Force, Length, LineLoad, Message, Moment, Net, Pressure, Ratio, SecondMoment, Stress,
    Volume,
};
use crate::verdict::{MemberUnit, Note, Stop, Verdict};

crate::record! {
    /// A force at a place, per member unit.
    pub struct Pulling {
        /// Its place from the first bearing of the reaction member.
        at: Given<Length, RigPlace>,
        /// How much; up for what pulls, down for a weight.
        force: Given<Force, Positive>,
    }
}

/// So many pulls act on one reaction member at the most (library rule).
const MOST_PULLS: usize = 200;

crate::record! {
    /// A reaction member on bearings, with what pulls it up and what stands on it.
    ///
    /// ```
    /// use proofspan::rig::Reaction;
    /// use proofspan::units::*;
    ///
    /// // 10 m, 12 kN/m: 60 kN at each bearing; a pull of 60 kN at mid-span lifts each by 30
    /// let found = Reaction::of(10.0 * M, 12.0 * KN_PER_M).pull(5.0 * M, 60.0 * KN).check()?;
    /// assert_eq!(found.bearings.len(), 2);
    /// assert_eq!(found.bearings[0].factor, Some(2.0));
    /// # Ok::<(), proofspan::error::Error>(())
    /// ```
    pub struct Reaction {
        /// Centre to centre of its bearings, from left to right.
        span: Several<Given<Length, Span>>,
        /// Its own weight, per member unit.
        self_weight: Given<LineLoad, Positive>,
        /// What pulls it up at full test load.
        pulls: Several<Pulling>,
        /// What stands on it.
        weights: Several<Pulling> = Several::none(),
        /// Its stiffness: of a single member on bearings no force hangs on it.
        rigidity: Option<Rigidity>,
        /// How it sits on its bearings.
        seat: Seat = Seat::Seated,
        /// Overhang left of its first bearing.
        left_overhang: Option<Given<Length, Part>>,
        /// Overhang right of its last bearing.
        right_overhang: Option<Given<Length, Part>>,
        /// Design shear strength, per member unit.
        shear_capacity: Option<Given<Force, Positive>>,
        /// Design strength in sagging, per member unit.
        sagging_capacity: Option<Given<Moment, NotNegative>>,
        /// Design strength in hogging, per member unit, as a size.
        hogging_capacity: Option<Given<Moment, NotNegative>>,
        /// Design strength against uplift of what holds a bearing that cannot lift.
        uplift_capacity: Several<Given<Force, NotNegative>> = Several::none(),
        /// Beam, top steel and column that hold such a bearing: one for all, or one for each.
        holds: Several<Holding> = Several::none(),
        /// Hogging at which its top face cracks, as a size.
        cracks_at: Option<Given<Moment, NotNegative>>,
        /// The conditions of the lower floor of lift-off.
        conditions: Conditions = Conditions::none(),
        /// A factor asked for beyond the floor.
        factor: Option<AskedFactor>,
        /// What one value is counted for.
        unit: MemberUnit = MemberUnit::Beam,
    }
}

/// A reaction member checked: every bearing, every stage, the least counterweight.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct Reacted {
    /// The floor of lift-off that applies.
    pub floor: f64,
    /// Every bearing, from left to right; places count from the first bearing.
    pub bearings: Vec<BearingCheck>,
    /// Weights placed, each quarter of the load, unloaded, the load lost at once.
    pub stages: Vec<Stage>,
    /// The least single counterweight for the floor, and its best place; nothing of a member that
    /// cannot lift.
    pub least: Option<Advice>,
    /// The factor asked for beyond the floor, at every bearing.
    pub asked: Vec<Verdict>,
    /// States that endanger people.
    pub stops: Vec<Stop>,
    /// What was asked, so that the working is made where somebody wants it.
    reaction: Reaction,
}

impl Reaction {
    /// A member on two bearings that lies on them and can lift; pulls and weights follow.
    #[must_use]
    pub fn of(span: Length, self_weight: LineLoad) -> Self {
        Self {
            span: core::iter::once(Given::known(span)).collect(),
            self_weight: Given::known(self_weight),
            pulls: Several::none(),
            weights: Several::none(),
            rigidity: None,
            seat: Seat::Seated,
            left_overhang: None,
            right_overhang: None,
            shear_capacity: None,
            sagging_capacity: None,
            hogging_capacity: None,
            uplift_capacity: Several::none(),
            holds: Several::none(),
            cracks_at: None,
            conditions: Conditions::none(),
            factor: None,
            unit: MemberUnit::Beam,
        }
    }

    /// With a pull, up.
    #[must_use]
    pub fn pull(mut self, at: Length, force: Force) -> Self {
        self.pulls = self.pulls.iter().cloned().chain([pulling(at, force)]).collect();
        self
    }

    /// With a weight on it.
    #[must_use]
    pub fn weight(mut self, at: Length, force: Force) -> Self {
        self.weights = self.weights.iter().cloned().chain([pulling(at, force)]).collect();
        self
    }

    fn member(&self) -> ReactionMember {
        // forces of one member of one stiffness do not hang on how large it is
        let rigidity = self.rigidity.clone().unwrap_or_else(|| Rigidity {
            modulus: Given::known(Stress::from_si(3e10)),
            second_moment: Given::known(SecondMoment::from_si(1e-2)),
        });
        ReactionMember {
            id: NAME.to_owned(),
            kind: ReactionKind::Member,
            at: None,
            span: self.span.clone(),
            supports: Vec::new(),
            left_overhang: self.left_overhang.clone(),
            right_overhang: self.right_overhang.clone(),
            self_weight: Some(self.self_weight.clone()),
            rigidity: Some(rigidity),
            seat: Some(self.seat),
            shear_capacity: self.shear_capacity.clone(),
            sagging_capacity: self.sagging_capacity.clone(),
            hogging_capacity: self.hogging_capacity.clone(),
            uplift_capacity: self.uplift_capacity.clone(),
            holds: self.holds.clone(),
            anchors: Vec::new(),
            axles: Vec::new(),
            hold: None,
            stiffness: None,
            cracks_at: self.cracks_at.clone(),
            sister: false,
            survey: None,
        }
    }

    /// Checks bearings and stages by the same rules as the rig of a design.
    ///
    /// # Errors
    /// All at once: a value that its rule refuses; `rig.reaction-short` for a pull and
    /// `rig.counterweight-outside` for a weight beyond the member.
    pub fn check(&self) -> Result<Reacted, Error> {
        validate_single(self)?;
        self.react(&mut NoRecord)
    }

    fn react<R: Recorder>(&self, recorder: &mut R) -> Result<Reacted, Error> {
        let member = self.member();
        let mut issues = Vec::new();
        let reach = member.reach(Length::ZERO).unwrap_or_default();
        let inside = |one: &Pulling| {
            let slack = (reach.1 - reach.0).abs() * 1e-12 + Length::from_si(1e-9);
            one.at.value >= reach.0 - slack && one.at.value <= reach.1 + slack
        };
        if self.pulls.len() > MOST_PULLS {
            let message = format!("{} pulls on one member", self.pulls.len());
            let issue = Issue::new(slug::SOURCE_SIZE, "pulls", message);
            issues.push(issue.limit(format!("at most {MOST_PULLS}")));
        }
        for (list, field, code) in [
            (&self.pulls, "pulls", slug::RIG_REACTION_SHORT),
            (&self.weights, "weights", slug::RIG_COUNTERWEIGHT_OUTSIDE),
        ] {
            for (i, one) in list.iter().enumerate().filter(|(_, one)| !inside(one)) {
                let path = format!("{}.at", list.path(field, i));
                let message = "the reaction member does not reach there";
                issues.push(
                    Issue::new(code, path, message)
                        .value(one.at.said())
                        .limit(Message::new("{} to {}", [reach.0.into(), reach.1.into()])),
                );
            }
        }
        Error::check(issues)?;
        let Some(beam) = member.beam()? else {
            return Err(Issue::new(slug::RIG_REACTION_MISSING, "span", "no member").into());
        };
        let own = |one: &Pulling| (one.at.value - reach.0).max(Length::ZERO).min(reach.1 - reach.0);
        let held = Held {
            member: &member,
            path: "".into(),
            name: (&*member.id).into(),
            from: reach.0,
            beam,
            weights: self.weights.iter().map(|w| (own(w), w.force.value)).collect(),
            uncertain: Vec::new(),
            pulls: self.pulls.iter().map(|p| (own(p), p.force.value, None)).collect(),
        };
        let mut rig = Rig::empty(self.conditions.all());
        let tested = Tested::from("");
        let (advice, ..) = rig.member(recorder, self.factor.as_ref(), &held, self.unit, &tested)?;
        rig.stops.iter_mut().for_each(|stop| {
            let path = stop.path.trim_start_matches('.');
            let own = if path == "rig.counterweights" { "weights" } else { path };
            stop.path = own.to_owned().into();
        });
        Ok(Reacted {
            floor: rig.floor,
            bearings: rig.bearings,
            stages: rig.stages,
            least: advice,
            asked: rig.verdicts,
            stops: rig.stops,
            reaction: self.clone(),
        })
    }
}

/// How the reaction member is called here.
const NAME: &str = "reaction";

fn pulling(at: Length, force: Force) -> Pulling {
    Pulling { at: Given::known(at), force: Given::known(force) }
}

impl Reacted {
    /// Every check: bearings, the factor asked for, strengths at every stage.
    pub fn verdicts(&self) -> impl Iterator<Item = Verdict> + '_ {
        let bearings = self.bearings.iter().map(|b| b.verdict);
        let stages = self.stages.iter().flat_map(|s| s.verdicts.iter().copied());
        bearings.chain(self.asked.iter().copied()).chain(stages)
    }

    /// Lift-off at every bearing, redone with a pencil.
    #[must_use]
    pub fn working(&self) -> Working {
        let mut working = Working::default();
        // what was answered once is answered again
        if let Ok(again) = self.reaction.react(&mut working) {
            working.claim_all("", 0, &again.write(), &self.write());
        }
        working
    }
}

impl Write for Reacted {
    fn write(&self) -> Node {
        Node::map(vec![
            ("floor", self.floor.write()),
            ("bearings", self.bearings.write()),
            ("stages", self.stages.write()),
            ("least_counterweight", self.least.write()),
            ("asked", self.asked.write()),
            ("stops", self.stops.write()),
        ])
    }
}

crate::record! {
    /// One press of equal jacks on one pump.
    ///
    /// ```
    /// use proofspan::rig::Hydraulic;
    /// use proofspan::units::*;
    ///
    /// // 100 kN on two pistons of 5000 mm² each: 10 MPa
    /// let found = Hydraulic::of(100.0 * KN, 2, 5000.0 * MM2, 70.0 * MPA_FLUID, 150.0 * MM)
    ///     .moves(12.0 * MM, 3.0 * MM)
    ///     .check()?;
    /// assert!((found.hydraulics.pressure.to(MPA_FLUID) - 10.0).abs() < 1e-12);
    /// assert!((found.hydraulics.travel.to(MM) - 15.0).abs() < 1e-12);
    /// # Ok::<(), proofspan::error::Error>(())
    /// ```
    pub struct Hydraulic {
        /// Force of the press at full test load, net.
        force: Given<Force, Positive>,
        /// How many jacks.
        number: u32 where Number = 1,
        /// The acting area of one.
        area: Option<Given<Area, Acts>>,
        /// The bore of one, a diameter, in place of the area.
        bore: Option<Given<Length, Acts>>,
        /// The diameter of the rod in that bore, where the jack pulls.
        rod: Option<Given<Length, RodSize>>,
        /// Part of the pump force lost in the jack, 0 to 0.2.
        friction: Given<Ratio, Friction> = Given::known(Ratio::ZERO),
        /// The pressure the jacks and hoses are rated for.
        rated_pressure: Given<Pressure, Positive>,
        /// The stroke that is left when the jacks touch.
        stroke: Given<Length, Movement>,
        /// Deflection of the member under test below the jacks, soft prediction.
        deflection: Given<Length, Movement> = Given::known(Length::ZERO),
        /// Rise of what they pull on.
        rise: Given<Length, Movement> = Given::known(Length::ZERO),
        /// The bars between jack and reaction.
        bars: Option<Bars>,
        /// Slack of seats and nuts.
        slack: Given<Length, Movement> = Given::known(Length::ZERO),
        /// Oil locked off with all jacks.
        oil_volume: Option<Given<Volume, Positive>>,
        /// Bulk modulus of the oil.
        oil_bulk_modulus: Option<Given<Pressure, Positive>>,
        /// Whether an accumulator, a pump that runs on, or air keeps the pressure up.
        accumulator: bool = false,
        /// The pump.
        pump: Option<Pump>,
        /// How the circuit is locked off for the hold at full load.
        hold: Option<LockedOff>,
        /// Its pressure gauge.
        gauge: Option<PressureGauge>,
        /// Hoses and valves.
        fittings: Option<Fittings>,
        /// The jacks one by one, where they differ.
        rams: Vec<Ram> = Vec::new(),
        /// How far the share of one of them may lie from that of equal jacks, as a part of it.
        uneven: Option<Given<Ratio, Band>>,
    }
}

/// A press checked.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct Pressed {
    /// Pressure, travel and what of the stroke is used.
    pub hydraulics: Hydraulics,
    /// Pressure against its rating, travel against the stroke, hoses, valves, pump and hold.
    pub verdicts: Vec<Verdict>,
    /// States that endanger people.
    pub stops: Vec<Stop>,
    /// What to know.
    pub notes: Vec<Note>,
    working: Working,
}

impl Hydraulic {
    /// So many equal jacks of this acting area each.
    #[must_use]
    pub fn of(
        force: Force,
        number: u32,
        area: Area,
        rated_pressure: Pressure,
        stroke: Length,
    ) -> Self {
        Self {
            force: Given::known(force),
            number,
            area: Some(Given::known(area)),
            bore: None,
            rod: None,
            friction: Given::known(Ratio::ZERO),
            rated_pressure: Given::known(rated_pressure),
            stroke: Given::known(stroke),
            deflection: Given::known(Length::ZERO),
            rise: Given::known(Length::ZERO),
            bars: None,
            slack: Given::known(Length::ZERO),
            oil_volume: None,
            oil_bulk_modulus: None,
            accumulator: false,
            pump: None,
            hold: None,
            gauge: None,
            fittings: None,
            rams: Vec::new(),
            uneven: None,
        }
    }

    /// With the deflection of the member under test and the rise of what the jacks pull on.
    #[must_use]
    pub fn moves(self, deflection: Length, rise: Length) -> Self {
        Self { deflection: Given::known(deflection), rise: Given::known(rise), ..self }
    }

    /// With this part of the pump force lost in the jack.
    #[must_use]
    pub fn friction(self, part: Ratio) -> Self {
        Self { friction: Given::known(part), ..self }
    }

    /// Checks pressure and stroke by the same rules as the rig of a design.
    ///
    /// # Errors
    /// All at once: a value that its rule refuses; `rig.piston` where the acting area is not
    /// settled.
    pub fn check(&self) -> Result<Pressed, Error> {
        validate_single(self)?;
        let jacks = Jacks {
            circuit: None,
            number: self.number,
            piston: Piston {
                area: self.area.clone(),
                bore: self.bore.clone(),
                rod: self.rod.clone(),
            },
            friction: self.friction.clone(),
            rated_pressure: self.rated_pressure.clone(),
            stroke: self.stroke.clone(),
            oil_volume: self.oil_volume.clone(),
            oil_bulk_modulus: self.oil_bulk_modulus.clone(),
            accumulator: self.accumulator,
            pump: self.pump.clone(),
            hold: self.hold.clone(),
            gauge: self.gauge.clone(),
            fittings: self.fittings.clone(),
            rams: self.rams.clone(),
            uneven: self.uneven.clone(),
        };
        validate_single(&jacks).map_err(|mut e| {
            e.issues.iter_mut().for_each(|i| i.path = i.path.replace("piston", "area"));
            e
        })?;
        let mut working = Working::default();
        let force = self.force.value;
        let stretch = self.bars.as_ref().map_or(Length::ZERO, |b| {
            let n = f64::from(b.number);
            bar_stretch(&mut NoRecord, force, n, b.length.value, b.modulus.value, b.area.value)
        });
        let circuit_moves = Circuit {
            force,
            area: jacks.acting(),
            way: jacks.goes(force).unwrap_or(self.deflection.value + self.rise.value + stretch),
            bars: self.bars.as_ref().map_or(Length::ZERO, |b| b.length.value),
        };
        let found = hydraulics(
            &mut working,
            &Press {
                circuit: None,
                force,
                on_bars: force,
                jacks: &jacks,
                bars: self.bars.as_ref(),
                slack: self.slack.value,
                test: self.deflection.value,
                rise: self.rise.value,
                gives: true,
                circuit_moves,
            },
        );
        let mut rig = Rig::empty(false);
        rig.rated(&found, &jacks, "");
        rig.circuit_checked(&found, &jacks, "", MemberUnit::Jack);
        let answer = found.write();
        working.claim_all("hydraulics", 0, &answer, &answer);
        // where the bars hold is not known here: every place of them takes as much
        let press = Pressing::jack(Length::ZERO, Net(force));
        let places = self.bars.as_ref().map_or(1, |b| b.places.len().max(1));
        let each = force / f64::from(u32::try_from(places).unwrap_or(u32::MAX));
        let path = ForcePath {
            served: vec![Served {
                press: &press,
                jacks: &jacks,
                jacks_path: "".into(),
                bars: self.bars.as_ref(),
                bars_path: "bars".into(),
                shares: vec![(Length::ZERO, each); places],
                pulls: Vec::new(),
                each: self
                    .bars
                    .as_ref()
                    .map_or(0, |b| b.number / u32::try_from(places).unwrap_or(1).max(1)),
                worst: 1.0,
            }],
        };
        rig.bars(&mut working, &path);
        rig.bar_limits(&mut working, &path);
        let own = |path: &mut Cow<'static, str>| {
            *path = path.trim_start_matches('.').to_owned().into();
        };
        rig.stops.iter_mut().for_each(|stop| own(&mut stop.path));
        rig.notes.iter_mut().for_each(|note| own(&mut note.path));
        let (verdicts, stops, notes) = (rig.verdicts, rig.stops, rig.notes);
        Ok(Pressed { hydraulics: found, verdicts, stops, notes, working })
    }
}

impl Pressed {
    /// Pressure and travel redone with a pencil.
    #[must_use]
    pub const fn working(&self) -> &Working {
        &self.working
    }
}

impl Write for Pressed {
    fn write(&self) -> Node {
        Node::map(vec![
            ("hydraulics", self.hydraulics.write()),
            ("verdicts", self.verdicts.write()),
            ("stops", self.stops.write()),
            ("notes", self.notes.write()),
        ])
    }
}
