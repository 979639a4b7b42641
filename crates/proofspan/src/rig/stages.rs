//! A reaction member at every stage: weights placed, each step, full, unloaded, the test load lost.

use std::borrow::Cow;

use smallvec::SmallVec;

use super::lift_off::{Cases, Held};
use super::reaction::{ReactionMember, Seat};
use crate::beam::{Load, Response};
use crate::error::{Error, Slug, slug};
use crate::source::Name;
use crate::units::{Force, Length, Message, Moment, Quantity, Ratio, digits};
use crate::verdict::{Basis, Clause, DESIGN_SLACK, Limit, MemberUnit, State, Stop, Verdict};

crate::answer! {
    /// What one support gives a reaction member at one stage.
    pub struct SupportForce {
        /// Its place from the left end of the member under test.
        at: Length,
        /// Up positive.
        force: Force,
        /// Clockwise on the member positive; zero at a bearing.
        moment: Moment,
    }
}

crate::answer! {
    /// One stage of a reaction member. Places count from the left end of the member under test.
    pub struct Stage {
        /// The reaction member.
        reaction: Name,
        /// What acts.
        name: Cow<'static, str>,
        /// The test load that acts, in parts of the full one; −1 for the load that is lost at once,
        /// as the undamped bound: what is placed and the jack force reversed.
        fraction: f64,
        /// What every support gives, from left to right.
        reactions: SmallVec<[SupportForce; 2]>,
        /// Largest shear, as a size.
        shear: Force,
        /// Where.
        shear_at: Length,
        /// Largest sagging moment.
        sagging: Moment,
        /// Where.
        sagging_at: Length,
        /// Smallest moment; below zero it hogs.
        least_moment: Moment,
        /// Where.
        least_moment_at: Length,
        /// The checks against the strengths that are given.
        verdicts: SmallVec<[Verdict; 3]>,
    }
}

/// What the stages of one member found.
pub(super) struct Stages {
    pub(super) stages: Vec<Stage>,
    pub(super) stops: Vec<Stop>,
    /// The least reaction of each support over all stages.
    pub(super) least: SmallVec<[Force; 4]>,
}

/// The largest shear and moment of a state, as sizes: what a difference of states is compared by.
#[derive(Clone, Copy)]
pub(super) struct Sizes {
    pub(super) shear: Force,
    moment: Moment,
}

impl Sizes {
    pub(super) fn of(response: &Response) -> Self {
        let l = response.length();
        let shear = response.inside().shear_extremes(Length::ZERO, l);
        let moment = response.inside().moment_extremes(Length::ZERO, l);
        Self {
            shear: shear.max.value.abs().max(shear.min.value.abs()),
            moment: moment.max.value.abs().max(moment.min.value.abs()),
        }
    }
}

impl Held<'_> {
    pub(super) fn stages(
        &self,
        cases: &Cases,
        unit: MemberUnit,
        steps: &[Ratio],
    ) -> Result<Stages, Error> {
        let (placed, jacks) = (&cases.placed, &cases.pulled);
        let mut state = placed.clone();
        let (staging, loaded) = (slug::RIG_STAGING_OVER_CAPACITY, slug::RIG_REACTION_OVER_CAPACITY);
        let below = steps.iter().map(|s| s.value()).filter(|s| *s < 1.0).map(|step| {
            let percent = digits((step * 1e6).round() / 1e4, 7);
            (format!("step of {percent} % of the test load").into(), step, loaded)
        });
        let all = [("counterweights placed, P = 0".into(), 0.0, staging)].into_iter();
        let all = all.chain(below).chain([
            ("full test load".into(), 1.0, loaded),
            ("unloaded".into(), 0.0, staging),
            ("P lost at once".into(), -1.0, loaded),
        ]);
        // everything is what was placed and a part of what the jacks lift
        let (own, lifted) = (Sizes::of(placed), Sizes::of(jacks));
        let terms =
            Sizes { shear: own.shear.max(lifted.shear), moment: own.moment.max(lifted.moment) };
        let mut found = Stages {
            stages: Vec::with_capacity(steps.len() + 4),
            stops: Vec::new(),
            least: placed.reactions().iter().map(|r| r.force).collect(),
        };
        for (name, fraction, code) in all {
            // the member unloaded is the member with its weights placed: one stop is enough
            if let Some(first) = found.stages.first().filter(|_| fraction.abs() <= 0.0) {
                let stage = Stage { name, ..first.clone() };
                found.stages.push(stage);
                continue;
            }
            state.set_sum(placed, fraction, jacks);
            let stage = self.stage(name, fraction, &state, terms, unit, code);
            for (least, r) in found.least.iter_mut().zip(&stage.reactions) {
                *least = least.min(r.force);
            }
            self.stop(&stage, code, &mut found.stops);
            found.stages.push(stage);
        }
        self.placing(&mut found, terms, unit)?;
        self.rebound(&mut found);
        for (field, given) in [
            ("shear_capacity", self.member.shear_capacity.is_some()),
            ("sagging_capacity", self.member.sagging_capacity.is_some()),
            ("hogging_capacity", self.member.hogging_capacity.is_some()),
        ] {
            if !given {
                found.stops.push(Stop::new(
                    slug::RIG_REACTION_MISSING,
                    format!("{}.{field}", self.path),
                    "the strength of the reaction member is not given",
                ));
            }
        }
        Ok(found)
    }

    /// The weights as they come, one after the other. On a single span every one bends it the same way,
    /// so that all of them are the worst; elsewhere a part of them may be.
    fn placing(&self, found: &mut Stages, terms: Sizes, unit: MemberUnit) -> Result<(), Error> {
        if self.weights.len() < 2 || self.single_span().is_some() {
            return Ok(());
        }
        let code = slug::RIG_STAGING_OVER_CAPACITY;
        let n = self.weights.len();
        for k in 1..n {
            let mut down: Vec<Load> = self.own().into_iter().collect();
            down.extend(self.weights.iter().take(k).map(|(x, c)| Load::point(*x, *c)));
            let response = self.beam.response(&down)?;
            let name = format!("placing: {k} of {n} counterweights on, P = 0");
            let stage = self.stage(name.into(), 0.0, &response, terms, unit, code);
            for (least, r) in found.least.iter_mut().zip(&stage.reactions) {
                *least = least.min(r.force);
            }
            for (r, seat) in stage.reactions.iter().zip(self.member.seats()) {
                if seat == Seat::Seated && r.force < -terms.shear * DESIGN_SLACK {
                    let text = "{}: the bearing at {} of the reaction member lifts by {}";
                    let said = [stage.name.clone().into(), r.at.into(), (-r.force).into()];
                    let stop = Stop::new(
                        slug::RIG_LIFTOFF_BELOW_FLOOR,
                        "rig.counterweights",
                        Message::new(text, said),
                    );
                    found.stops.push(stop);
                }
            }
            self.stop(&stage, code, &mut found.stops);
            found.stages.insert(k, stage);
        }
        Ok(())
    }

    pub(super) fn stop(&self, stage: &Stage, code: Slug, stops: &mut Vec<Stop>) {
        let name = || stage.name.clone().into();
        for verdict in
            stage.verdicts.iter().filter(|v| v.state != State::Pass && v.limit.value().is_some())
        {
            // cracks in the top face make it softer, not weaker than its strength says
            if verdict.slug == slug::RIG_TOP_CRACKS {
                continue;
            }
            let message = match verdict.utilisation {
                Some(used) => {
                    Message::new("reaction member, {}: {} of its strength", [name(), used.into()])
                }
                None => Message::new(
                    "reaction member, {}: {} where it has no strength",
                    [name(), verdict.demand.into()],
                ),
            };
            stops.push(Stop::new(code, self.path.clone(), message).with(*verdict));
        }
    }

    /// A bearing that the jacks press down can lift when their force is lost.
    fn rebound(&self, found: &mut Stages) {
        let Some(lost) = found.stages.last().filter(|s| s.fraction < 0.0) else { return };
        let Some(placed) = found.stages.first() else { return };
        let bearings = lost.reactions.iter().zip(&placed.reactions).zip(self.member.seats());
        for ((r, before), seat) in bearings {
            let size = before.force.abs().max(r.force.abs());
            if seat == Seat::Seated && r.force < size * -DESIGN_SLACK && r.force < before.force {
                let text = "P lost at once: the bearing at {} of the reaction member lifts by {} more than holds it";
                let message = Message::new(text, [r.at.into(), (-r.force).into()]);
                found.stops.push(Stop::new(
                    slug::RIG_LIFTOFF_BELOW_FLOOR,
                    "rig.counterweights",
                    message,
                ));
            }
        }
    }

    pub(super) fn stage(
        &self,
        name: Cow<'static, str>,
        fraction: f64,
        response: &Response,
        terms: Sizes,
        unit: MemberUnit,
        code: Slug,
    ) -> Stage {
        let l = response.length();
        let shear = response.inside().shear_extremes(Length::ZERO, l);
        let most =
            if shear.min.value.abs() > shear.max.value.abs() { shear.min } else { shear.max };
        let moment = response.inside().moment_extremes(Length::ZERO, l);
        let hogging = (-moment.min.value).max(Moment::ZERO);
        let verdicts = strengths(
            self.member,
            (most.value.abs(), moment.max.value, hogging),
            terms,
            unit,
            code,
        );
        let place = |x: Length| self.from + x;
        Stage {
            reaction: self.name.clone(),
            name,
            fraction,
            reactions: response
                .reactions()
                .iter()
                .map(|r| SupportForce { at: place(r.at), force: r.force, moment: r.moment })
                .collect(),
            shear: most.value.abs(),
            shear_at: place(most.at),
            sagging: moment.max.value,
            sagging_at: place(moment.max.at),
            least_moment: moment.min.value,
            least_moment_at: place(moment.min.at),
            verdicts,
        }
    }
}

impl Stage {
    /// The worse of two places of one moving load, each value for itself.
    pub(super) fn and(self, other: Self) -> Self {
        let mut worst = self;
        if other.shear > worst.shear {
            (worst.shear, worst.shear_at) = (other.shear, other.shear_at);
        }
        if other.sagging > worst.sagging {
            (worst.sagging, worst.sagging_at) = (other.sagging, other.sagging_at);
        }
        if other.least_moment < worst.least_moment {
            worst.least_moment = other.least_moment;
            worst.least_moment_at = other.least_moment_at;
        }
        for (a, b) in worst.reactions.iter_mut().zip(&other.reactions) {
            a.force = a.force.max(b.force);
        }
        for (a, b) in worst.verdicts.iter_mut().zip(other.verdicts) {
            if b.demand.si > a.demand.si {
                *a = b;
            }
        }
        worst
    }
}

fn strengths(
    member: &ReactionMember,
    (shear, sagging, hogging): (Force, Moment, Moment),
    terms: Sizes,
    unit: MemberUnit,
    code: Slug,
) -> SmallVec<[Verdict; 3]> {
    let given = Clause::Named("strength given by the engineer");
    let checks: [(Quantity, f64, Option<f64>); 3] = [
        (shear.into(), terms.shear.si(), member.shear_capacity.as_ref().map(|c| c.value.si())),
        (sagging.into(), terms.moment.si(), member.sagging_capacity.as_ref().map(|c| c.value.si())),
        (hogging.into(), terms.moment.si(), member.hogging_capacity.as_ref().map(|c| c.value.si())),
    ];
    let basis = Basis::total(unit);
    checks
        .into_iter()
        .filter_map(|(demand, size, limit)| {
            let limit = limit.map(Limit::AtMost)?;
            Some(Verdict::design_of_size(code, demand, size, limit, basis, given))
        })
        .chain(member.cracks_at.as_ref().map(|limit| {
            let (code, limit) = (slug::RIG_TOP_CRACKS, Limit::AtMost(limit.value.si()));
            Verdict::design_of_size(code, hogging.into(), terms.moment.si(), limit, basis, given)
        }))
        .collect()
}
