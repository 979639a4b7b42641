//! The rig checked at every stage.

use super::counterweight::{Advice, Statics};
use super::hydraulics::{Hydraulics, hydraulics};
use super::spec::{FactorBasis, ReactionMember, RigSpec, Seat};
use crate::beam::{Actions, Beam, Load};
use crate::error::{Error, Issue, Slug, slug};
use crate::formula::{NoRecord, Recorder};
use crate::source::validate_named;
use crate::units::{Force, Kind, Length, LineLoad, Message, Moment, Net, Quantity, Said};
use crate::verdict::{Basis, Clause, DESIGN_SLACK, Limit, MemberUnit, Note, State, Stop, Verdict};

crate::laws! {
    /// Reaction of own weight at either bearing.
    pub fn own_reaction(w: LineLoad as "w", l: Length as "L") -> Force as "G" = w * l / 2.0;
    source "statics of a simple span";
    /// Share of a force at the bearing at distance L from the other.
    pub fn bearing_share(c: Force as "C", l: Length as "L", z: Length as "distance") -> Force as "share" = c * ((l - z) / l);
    source "moments about the other bearing";
    /// Factor against lift-off: all that stabilises over all that lifts.
    pub fn lift_off_factor(down: Force as "stabilising", up: Force as "uplift") -> f64 as "factor" = down / up;
    source "static equilibrium; floor 1.667 or 1.389 (library rule after EN 1990)";
    /// Factor on the other basis: counterweights over the uplift own weight does not balance.
    pub fn unbalanced_factor(c: Force as "counterweights", up: Force as "uplift", own: Force as "own weight") -> f64 as "factor on unbalanced uplift" = c / (up - own);
    source "definition";
    /// Jack force at which the bearing lifts, in parts of the full force.
    pub fn force_at_lift_off(p: Force as "P", down: Force as "stabilising", up: Force as "uplift") -> Force as "P_lift" = p * (down / up);
    source "proportion";
    /// Force of one bar.
    pub fn bar_force(p: Force as "P", n: f64 as "n") -> Force as "P_bar" = p / n;
    source "equal shares";
}

crate::answer! {
    /// One bearing of the reaction member.
    pub struct BearingCheck {
        /// Its place from the left bearing.
        at: Length,
        /// What holds it down: own weight and counterweights.
        stabilising: Force,
        /// What the jacks lift.
        uplift: Force,
        /// Stabilising over uplift; nothing where nothing lifts.
        factor: Option<f64>,
        /// Counterweights over unbalanced uplift: the other basis, never to be mixed up with the
        /// first; nothing where own weight balances the uplift.
        factor_on_unbalanced_uplift: Option<f64>,
        /// Own weight over uplift: the factor without any counterweight.
        factor_without_counterweight: Option<f64>,
        /// The check against the floor that applies.
        verdict: Verdict,
    }
}

crate::answer! {
    /// One stage of the rig on the reaction member.
    pub struct Stage {
        /// What acts.
        name: String,
        /// Reaction of the left bearing, up positive.
        left_reaction: Force,
        /// Reaction of the right bearing, up positive.
        right_reaction: Force,
        /// Largest shear, as a size.
        shear: Force,
        /// Largest sagging moment.
        sagging: Moment,
        /// Where.
        sagging_at: Length,
        /// Smallest moment; below zero it hogs.
        least_moment: Moment,
        /// Where.
        least_moment_at: Length,
        /// The checks against the strengths that are given.
        verdicts: Vec<Verdict>,
    }
}

/// The rig, per member unit.
#[derive(Clone, PartialEq, Debug)]
pub struct Rig {
    /// Both bearings of the reaction member; empty where there is none.
    pub bearings: Vec<BearingCheck>,
    /// The floor of lift-off that applies.
    pub floor: f64,
    /// Jack force at which the first bearing lifts if no counterweight is placed.
    pub lift_off_without_counterweight: Option<Force>,
    /// The least counterweight for the floor, and its best place.
    pub advice: Option<Advice>,
    /// Every stage.
    pub stages: Vec<Stage>,
    /// Pressure and stroke.
    pub hydraulics: Hydraulics,
    /// The reaction member under the jacks alone: it rises, so its deflection is negative.
    pub reaction: Option<Actions>,
    /// Bars, pressure, stroke.
    pub verdicts: Vec<Verdict>,
    /// States that endanger people.
    pub stops: Vec<Stop>,
    /// What to know.
    pub notes: Vec<Note>,
}

const RULE: Clause = Clause::Named("library rule after EN 1990, static equilibrium");

/// Checks the rig under these jack lines, whose places count from the left bearing of the reaction
/// member. `test_deflection` is that of the test member under
/// the jacks, soft prediction.
///
/// # Errors
/// `rig.reaction-is-test`, `rig.counterweight-outside`, and what a beam refuses, all at once.
pub fn check(
    spec: &RigSpec,
    test_member: &str,
    unit: MemberUnit,
    lines: &[(Length, Net<Force>)],
    test_deflection: Length,
) -> Result<Rig, Error> {
    validate_named("rig", spec)?;
    check_recorded(&mut NoRecord, spec, test_member, unit, lines, test_deflection)
}

pub(crate) fn check_recorded<R: Recorder>(
    recorder: &mut R,
    spec: &RigSpec,
    test_member: &str,
    unit: MemberUnit,
    lines: &[(Length, Net<Force>)],
    test_deflection: Length,
) -> Result<Rig, Error> {
    refuse(spec, test_member, lines)?;
    let plain: Vec<(Length, Force)> = lines.iter().map(|(x, p)| (*x, p.0)).collect();
    let force: Force = plain.iter().map(|l| l.1).sum();
    let floor = if spec.conditions.all() { 0.9_f64.recip() * 1.25 } else { 0.9_f64.recip() * 1.5 };
    let risen = match &spec.reaction {
        Some(reaction) => Some(risen(reaction, &plain)?),
        None => None,
    };
    let rise = risen.as_ref().map_or(Length::ZERO, |(_, up)| {
        plain.iter().map(|(x, _)| -up.inside().deflection(*x)).fold(Length::ZERO, Length::max)
    });
    let mut rig = Rig {
        bearings: Vec::new(),
        floor,
        lift_off_without_counterweight: None,
        advice: None,
        stages: Vec::new(),
        hydraulics: hydraulics(
            recorder,
            &spec.jacks,
            spec.bars.as_ref(),
            spec.slack.value,
            force,
            (test_deflection, rise),
        ),
        reaction: None,
        verdicts: Vec::new(),
        stops: Vec::new(),
        notes: Vec::new(),
    };
    if let (Some(reaction), Some((beam, risen))) = (&spec.reaction, risen) {
        rig.bearings(recorder, spec, reaction, unit, &plain);
        rig.stages(spec, reaction, unit, &beam, &risen)?;
        rig.reaction = Some(risen);
    } else {
        rig.stops.push(Stop::new(
            slug::RIG_REACTION_MISSING,
            "rig.reaction",
            "nothing is named that the jacks push against",
        ));
    }
    rig.hydraulic_checks(recorder, spec, force);
    Ok(rig)
}

/// The reaction member and its actions under the jacks alone.
fn risen(reaction: &ReactionMember, lines: &[(Length, Force)]) -> Result<(Beam, Actions), Error> {
    let beam = Beam::simple(reaction.span.value, reaction.rigidity.value())?;
    let up: Vec<Load> = lines.iter().map(|(x, p)| Load::point(*x, -*p)).collect();
    let actions = beam.actions(&up)?;
    Ok((beam, actions))
}

fn refuse(spec: &RigSpec, test_member: &str, lines: &[(Length, Net<Force>)]) -> Result<(), Error> {
    let mut issues = Vec::new();
    if let Some(reaction) = &spec.reaction {
        if reaction.id == test_member {
            issues.push(
                Issue::new(
                    slug::RIG_REACTION_IS_TEST,
                    "rig.reaction.id",
                    "the reaction member is the member under test: the force path closes on itself",
                )
                .value(&reaction.id),
            );
        }
        let span = reaction.span.value;
        for (i, weight) in spec.counterweights.iter().enumerate() {
            if weight.at.value < Length::ZERO || weight.at.value > span {
                issues.push(
                    Issue::new(
                        slug::RIG_COUNTERWEIGHT_OUTSIDE,
                        format!("rig.counterweights[{i}].at"),
                        "a counterweight beyond the reaction member",
                    )
                    .value(weight.at.shown())
                    .limit(format!("0 to {}", reaction.span.shown())),
                );
            }
        }
        if lines.iter().any(|(x, _)| *x < Length::ZERO || *x > span * (1.0 + 1e-12)) {
            issues.push(
                Issue::new(
                    slug::RIG_REACTION_SHORT,
                    "rig.reaction.span",
                    "a jack line stands beyond the reaction member",
                )
                .value(reaction.span.shown()),
            );
        }
    }
    Error::check(issues)
}

impl Rig {
    fn bearings<R: Recorder>(
        &mut self,
        recorder: &mut R,
        spec: &RigSpec,
        reaction: &ReactionMember,
        unit: MemberUnit,
        lines: &[(Length, Force)],
    ) {
        let l = reaction.span.value;
        let force: Force = lines.iter().map(|x| x.1).sum();
        let mut lowest: Option<Force> = None;
        for (side, at) in [("left", Length::ZERO), ("right", l)] {
            recorder.about(|| format!("Lift-off at the {side} bearing of the reaction member"));
            let own = own_reaction(recorder, reaction.self_weight.value, l);
            let share = |recorder: &mut R, c: Force, x: Length| {
                bearing_share(recorder, c, l, (x - at).abs())
            };
            let weights: Force = spec
                .counterweights
                .iter()
                .map(|w| share(recorder, w.force.value, w.at.value))
                .sum();
            let uplift: Force = lines.iter().map(|(x, p)| share(recorder, *p, *x)).sum();
            let down = own + weights;
            // a difference that rounding leaves is neither lift nor unbalanced lift
            let lifts = uplift > force * DESIGN_SLACK;
            let factor = lifts.then(|| lift_off_factor(recorder, down, uplift));
            let unbalanced = (uplift > own * (1.0 + DESIGN_SLACK))
                .then(|| unbalanced_factor(recorder, weights, uplift, own));
            if lifts {
                let p = force_at_lift_off(recorder, force, own, uplift);
                lowest = Some(lowest.map_or(p, |q| q.min(p)));
            }
            let basis = Basis::total(unit);
            let verdict = match (reaction.seat, factor) {
                (Seat::Monolithic, _) => Verdict::bare(
                    State::NotApplicable,
                    slug::RIG_MONOLITHIC,
                    Quantity::new(Kind::Force, uplift.si() - down.si()),
                    basis,
                    RULE,
                ),
                (Seat::Seated, None) => Verdict::bare(
                    State::NotApplicable,
                    slug::RIG_LIFTOFF_BELOW_FLOOR,
                    Quantity::new(Kind::Force, 0.0),
                    basis,
                    RULE,
                ),
                (Seat::Seated, Some(factor)) => Verdict::design(
                    slug::RIG_LIFTOFF_BELOW_FLOOR,
                    Quantity::new(Kind::Ratio, factor),
                    Limit::AtLeast(self.floor),
                    basis,
                    RULE,
                ),
            };
            if let (State::Fail | State::Inconclusive, Some(factor)) = (verdict.state, factor) {
                let message = Message::new(
                    "{} bearing: stabilising {} over uplift {} is {}, below the floor of {}",
                    [side.into(), down.into(), uplift.into(), factor.into(), self.floor.into()],
                );
                self.stops.push(
                    Stop::new(slug::RIG_LIFTOFF_BELOW_FLOOR, "rig.counterweights", message)
                        .with(verdict),
                );
            }
            if let Some(asked) = &spec.factor {
                let unbalanced_asked = asked.basis == FactorBasis::UnbalancedUplift;
                let (code, clause) = (slug::RIG_FACTOR_ASKED, Clause::Named("factor asked for"));
                self.verdicts.push(match if unbalanced_asked { unbalanced } else { factor } {
                    Some(value) => Verdict::design(
                        code,
                        Quantity::new(Kind::Ratio, value),
                        Limit::AtLeast(asked.at_least),
                        basis,
                        clause,
                    ),
                    // nothing lifts here, or nothing beyond own weight
                    None => {
                        let up: Quantity = uplift.into();
                        Verdict::bare(State::NotApplicable, code, up, basis, clause)
                    }
                });
            }
            self.bearings.push(BearingCheck {
                at,
                stabilising: down,
                uplift,
                factor,
                factor_on_unbalanced_uplift: unbalanced,
                factor_without_counterweight: lifts.then(|| own / uplift),
                verdict,
            });
        }
        self.lift_off_without_counterweight = lowest;
        if reaction.seat == Seat::Seated {
            let hogging = reaction.hogging_capacity.as_ref().map_or(Moment::ZERO, |m| m.value);
            self.advice = Some(
                Statics { span: l, weight: reaction.self_weight.value, lines, hogging }
                    .advice(self.floor),
            );
        } else {
            self.notes.push(Note::new(slug::RIG_MONOLITHIC, "rig.reaction.seat", "the ends are cast in place and do not lift: check the uplift in column and top steel of beam and slab"));
        }
    }

    fn stages(
        &mut self,
        spec: &RigSpec,
        reaction: &ReactionMember,
        unit: MemberUnit,
        beam: &Beam,
        jacks: &Actions,
    ) -> Result<(), Error> {
        let l = reaction.span.value;
        let mut own = vec![Load::uniform(Length::ZERO, l, reaction.self_weight.value)];
        own.extend(spec.counterweights.iter().map(|w| Load::point(w.at.value, w.force.value)));
        let placed = beam.actions(&own)?;
        let full = Actions::sum(&[(1.0, &placed), (1.0, jacks)]);
        let stages = [
            ("counterweights placed, P = 0", &placed, slug::RIG_STAGING_OVER_CAPACITY),
            ("full test load", &full, slug::RIG_REACTION_OVER_CAPACITY),
            ("P lost at once", &placed, slug::RIG_STAGING_OVER_CAPACITY),
        ];
        // at full load everything is what was placed less what the jacks lift
        let (own, up) = (Sizes::of(&placed, l), Sizes::of(jacks, l));
        let terms = Sizes { shear: own.shear.max(up.shear), moment: own.moment.max(up.moment) };
        for (name, actions, code) in stages {
            let stage = stage(name, actions, &terms, reaction, unit, code);
            for verdict in stage
                .verdicts
                .iter()
                .filter(|v| v.state != State::Pass && v.limit.value().is_some())
            {
                let message = match verdict.utilisation {
                    Some(used) => Message::new(
                        "reaction member, {}: {} of its strength",
                        [name.into(), used.into()],
                    ),
                    None => Message::new(
                        "reaction member, {}: {} where it has no strength",
                        [name.into(), verdict.demand.into()],
                    ),
                };
                self.stops.push(Stop::new(code, "rig.reaction", message).with(*verdict));
            }
            self.stages.push(stage);
        }
        for (field, given) in [
            ("shear_capacity", reaction.shear_capacity.is_some()),
            ("sagging_capacity", reaction.sagging_capacity.is_some()),
            ("hogging_capacity", reaction.hogging_capacity.is_some()),
        ] {
            if !given {
                self.stops.push(Stop::new(
                    slug::RIG_REACTION_MISSING,
                    format!("rig.reaction.{field}"),
                    "the strength of the reaction member is not given",
                ));
            }
        }
        Ok(())
    }

    fn hydraulic_checks<R: Recorder>(&mut self, recorder: &mut R, spec: &RigSpec, force: Force) {
        let jacks = &spec.jacks;
        let named = Clause::Named("rating of the supplier");
        let pressure = Verdict::design(
            slug::RIG_PRESSURE_OVER_RATING,
            self.hydraulics.pressure.into(),
            Limit::AtMost(jacks.rated_pressure.value.si()),
            Basis::net(MemberUnit::Jack),
            named,
        );
        let stroke = Verdict::design(
            slug::RIG_STROKE_SHORT,
            self.hydraulics.travel.into(),
            Limit::AtMost(jacks.stroke.value.si()),
            Basis::net(MemberUnit::Jack),
            Clause::Named("library rule"),
        );
        for (verdict, path, word) in [
            (pressure, "rig.jacks.rated_pressure", "pressure over rating"),
            (stroke, "rig.jacks.stroke", "stroke needed over stroke left"),
        ] {
            if verdict.state != State::Pass {
                let message = Message::new("{}: {}", [word.into(), used(&verdict)]);
                self.stops.push(Stop::new(verdict.slug, path, message).with(verdict));
            }
            self.verdicts.push(verdict);
        }
        if let Some(bars) = &spec.bars {
            let one = bar_force(recorder, force, f64::from(bars.number));
            match &bars.working_load {
                Some(limit) => {
                    let verdict = Verdict::design(slug::RIG_BAR_OVER_LOAD, one.into(), Limit::AtMost(limit.value.si()), Basis::net(MemberUnit::Bar), named);
                    if verdict.state != State::Pass {
                        let message = Message::new("force of a bar over its working load: {}", [used(&verdict)]);
                        self.stops.push(Stop::new(slug::RIG_BAR_OVER_LOAD, "rig.bars", message).with(verdict));
                    }
                    self.verdicts.push(verdict);
                }
                None => self.notes.push(Note::new(slug::RIG_BAR_UNCHECKED, "rig.bars.working_load", "no working load is given: the bars are not checked; a failing bar is a projectile")),
            }
        }
    }
}

/// The largest shear and moment of a state, as sizes: what a difference of states is compared by.
struct Sizes {
    shear: Force,
    moment: Moment,
}

impl Sizes {
    fn of(actions: &Actions, l: Length) -> Self {
        let shear = actions.inside().shear_extremes(Length::ZERO, l);
        let moment = actions.inside().moment_extremes(Length::ZERO, l);
        Self {
            shear: shear.max.value.abs().max(shear.min.value.abs()),
            moment: moment.max.value.abs().max(moment.min.value.abs()),
        }
    }
}

/// Demand over limit in words, where the limit is nothing.
fn used(verdict: &Verdict) -> Said {
    verdict.utilisation.map_or_else(|| "more than nothing".into(), Said::from)
}

fn stage(
    name: &str,
    actions: &Actions,
    terms: &Sizes,
    reaction: &ReactionMember,
    unit: MemberUnit,
    code: Slug,
) -> Stage {
    let l = reaction.span.value;
    let shear = Sizes::of(actions, l).shear;
    let moment = actions.inside().moment_extremes(Length::ZERO, l);
    let reactions = actions.reactions();
    let basis = Basis::total(unit);
    let given = Clause::Named("strength given by the engineer");
    let hogging = (-moment.min.value).max(Moment::ZERO);
    let strength = |si: Option<f64>| si.map(Limit::AtMost);
    let checks: [(Quantity, f64, Option<Limit>); 3] = [
        (
            shear.into(),
            terms.shear.si(),
            strength(reaction.shear_capacity.as_ref().map(|c| c.value.si())),
        ),
        (
            moment.max.value.into(),
            terms.moment.si(),
            strength(reaction.sagging_capacity.as_ref().map(|c| c.value.si())),
        ),
        (
            hogging.into(),
            terms.moment.si(),
            strength(reaction.hogging_capacity.as_ref().map(|c| c.value.si())),
        ),
    ];
    let verdicts = checks
        .into_iter()
        .filter_map(|(demand, size, limit)| {
            limit.map(|limit| Verdict::design_of_size(code, demand, size, limit, basis, given))
        })
        .collect();
    Stage {
        name: name.to_owned(),
        left_reaction: reactions.first().map_or(Force::ZERO, |r| r.force),
        right_reaction: reactions.last().map_or(Force::ZERO, |r| r.force),
        shear,
        sagging: moment.max.value,
        sagging_at: moment.max.at,
        least_moment: moment.min.value,
        least_moment_at: moment.min.at,
        verdicts,
    }
}

impl crate::source::Write for Rig {
    fn write(&self) -> crate::source::Node {
        crate::source::Node::map(vec![
            ("bearings", self.bearings.write()),
            ("floor", self.floor.write()),
            ("lift_off_without_counterweight", self.lift_off_without_counterweight.write()),
            ("least_counterweight", self.advice.write()),
            ("stages", self.stages.write()),
            ("hydraulics", self.hydraulics.write()),
            ("verdicts", self.verdicts.write()),
            ("stops", self.stops.write()),
            ("notes", self.notes.write()),
        ])
    }
}
