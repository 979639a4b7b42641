//! A reaction member at every stage: weights placed, each step, full, unloaded, the test load lost.

use std::borrow::Cow;

use smallvec::SmallVec;

use super::lift_off::{Cases, Held};
use super::reaction::{ReactionMember, Seat};
use crate::beam::{Load, Response, Side, at_place, reactions_at};
use crate::error::{Error, Slug, slug};
use crate::formula::Recorder;
use crate::source::Name;
use crate::units::{Force, Length, Message, Moment, Quantity, Ratio, digits};
use crate::verdict::{
    Basis, Clause, DESIGN_SLACK, Limit, MemberUnit, State, Stop, Subject, Verdict,
};

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

crate::laws! {
    /// Shear at a stage: what is placed, and a part of what the jacks lift.
    pub fn stage_shear(placed: Force as "V_placed", part: f64 as "part", jacks: Force as "V_jacks") -> Force as "V" = abs(placed + part * jacks);
    source "superposition";
    /// Moment at a stage: what is placed, and a part of what the jacks lift.
    pub fn stage_moment(placed: Moment as "M_placed", part: f64 as "part", jacks: Moment as "M_jacks") -> Moment as "M" = placed + part * jacks;
    source "superposition";
    /// Reaction at a stage: what is placed, and a part of what the jacks lift.
    pub fn stage_reaction(placed: Force as "R_placed", part: f64 as "part", jacks: Force as "R_jacks") -> Force as "R" = placed + part * jacks;
    source "superposition";
}

/// Shear and moment at a cut under what is placed, and under the jacks.
type Cuts = [(Force, Moment); 2];

impl Held<'_> {
    /// Every stage redone with a pencil: shear and moment where they are largest, by a cut through the
    /// member under what is placed and under the jacks; of a member that equilibrium alone does not
    /// solve, what the solver leaves unmet.
    pub(super) fn work_stages<R: Recorder>(
        &self,
        recorder: &mut R,
        cases: &Cases,
        stages: &[Stage],
    ) {
        if !recorder.keeps() {
            return;
        }
        let own = self.own().into_iter();
        let weights = self.weights.iter().map(|(x, c)| Load::point(*x, *c));
        let placed: Vec<Load> = own.chain(weights).collect();
        let pulled: Vec<Load> = self.pulls.iter().map(|(x, p, _)| Load::point(*x, -*p)).collect();
        let both = |stage: &&Stage| {
            stage.reaction == self.name
                && !["placing", "tanks"].iter().any(|n| stage.name.starts_with(n))
        };
        for (what, loads) in [("what is placed", &placed), ("the jacks", &pulled)] {
            let heading = || {
                let said = [self.name.as_str().into(), what.into()];
                Message::new("Reaction member {}, its supports: {}", said)
            };
            let _ = reactions_at(recorder, &self.beam, loads, heading);
        }
        let mut known: Vec<(Length, Side, Cuts)> = Vec::new();
        for stage in stages.iter().filter(both) {
            let side = self.side_of(cases, stage);
            let places = [
                (stage.shear_at - self.from, side),
                (stage.sagging_at - self.from, Side::Left),
                (stage.least_moment_at - self.from, Side::Left),
            ];
            let mut found: SmallVec<[Cuts; 3]> = SmallVec::new();
            for (x, side) in places {
                let before = known.iter().find(|k| k.0 == x && k.1 == side).map(|k| k.2);
                let cut = before.or_else(|| {
                    recorder.about(|| {
                        Message::new(
                            "Reaction member {}, at {} from its left end: what is placed, then the jacks",
                            [self.name.as_str().into(), x.into()],
                        )
                    });
                    let a = at_place(recorder, &self.beam, &placed, (x, side))?;
                    Some([a, at_place(recorder, &self.beam, &pulled, (x, side))?])
                });
                let Some(cut) = cut else { break };
                if before.is_none() {
                    known.push((x, side, cut));
                }
                found.push(cut);
            }
            recorder.about(|| {
                Message::new(
                    "Reaction member {}: {}",
                    [self.name.as_str().into(), stage.name.as_ref().into()],
                )
            });
            let [[v, v_p], [m, m_p], [least, least_p]] = found.as_slice() else {
                let left = cases.placed.residual().max(cases.pulled.residual());
                recorder.solved(|| "Largest shear", stage.shear.into(), left);
                recorder.solved(|| "Largest sagging moment", stage.sagging.into(), left);
                recorder.solved(|| "Smallest moment", stage.least_moment.into(), left);
                continue;
            };
            stage_shear(recorder, v.0, stage.fraction, v_p.0);
            stage_moment(recorder, m.1, stage.fraction, m_p.1);
            stage_moment(recorder, least.1, stage.fraction, least_p.1);
            for (a, b) in cases.placed.reactions().iter().zip(cases.pulled.reactions()) {
                stage_reaction(recorder, a.force, stage.fraction, b.force);
            }
        }
    }

    /// The side of its place on which the largest shear of a stage acts.
    fn side_of(&self, cases: &Cases, stage: &Stage) -> Side {
        let x = stage.shear_at - self.from;
        let at = |side| {
            let (a, b) = (cases.placed.inside(), cases.pulled.inside());
            (a.shear(x, side) + b.shear(x, side) * stage.fraction).abs()
        };
        if at(Side::Left) > at(Side::Right) { Side::Left } else { Side::Right }
    }

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
        self.filled(&mut found, terms, unit)?;
        if !self.member.axles.is_empty() {
            return Ok(found);
        }
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

    /// What may stand on it beside what certainly does: tanks that have lost nothing. Without the
    /// test load, and where that is lost at once.
    fn filled(&self, found: &mut Stages, terms: Sizes, unit: MemberUnit) -> Result<(), Error> {
        if self.uncertain.is_empty() {
            return Ok(());
        }
        let mut down: Vec<Load> = self.own().into_iter().collect();
        let all = self.weights.iter().chain(&self.uncertain);
        down.extend(all.map(|(x, c)| Load::point(*x, *c)));
        let up: Vec<Load> = self.pulls.iter().map(|(x, p, _)| Load::point(*x, -*p)).collect();
        let mut solved = self.beam.cases(&[&*down, &*up])?.into_iter();
        let (Some(placed), Some(jacks)) = (solved.next(), solved.next()) else { return Ok(()) };
        let mut state = placed.clone();
        let (staging, loaded) = (slug::RIG_STAGING_OVER_CAPACITY, slug::RIG_REACTION_OVER_CAPACITY);
        for (name, fraction, code) in
            [("tanks full, P = 0", 0.0, staging), ("tanks full, P lost at once", -1.0, loaded)]
        {
            state.set_sum(&placed, fraction, &jacks);
            let stage = self.stage(name.into(), fraction, &state, terms, unit, code);
            self.stop(&stage, code, &mut found.stops);
            found.stages.push(stage);
        }
        Ok(())
    }

    /// The wheels of a vehicle on what carries them, over all stages, and its chassis where it is held.
    pub(super) fn wheels(
        &self,
        stages: &[Stage],
        (unit, first): (MemberUnit, usize),
        (verdicts, stops): (&mut Vec<Verdict>, &mut Vec<Stop>),
    ) {
        if self.member.axles.is_empty() {
            return;
        }
        let given = Clause::Named("strength given by the engineer");
        for (i, axle) in self.member.axles.iter().enumerate() {
            let of = |s: &Stage| s.reactions.get(i).map_or(Force::ZERO, |r| r.force);
            let most = stages.iter().map(of).fold(Force::ZERO, Force::max);
            let limit = Limit::AtMost(axle.carries.value.si());
            let code = slug::RIG_AXLE_OVER_GROUND;
            let verdict = Verdict::design(code, most.into(), limit, Basis::total(unit), given);
            let verdict = verdict.of(Subject::of("bearing", first + i));
            if verdict.state != State::Pass {
                let text = "the axle at {} brings {} to what carries {}";
                let said = [axle.at.value.into(), most.into(), axle.carries.value.into()];
                let path = format!("{}.axles[{i}]", self.path);
                stops.push(Stop::new(code, path, Message::new(text, said)).with(verdict));
            }
            verdicts.push(verdict);
        }
        let pull = self.pulls.iter().map(|p| p.1).fold(Force::ZERO, Force::max);
        let path = format!("{}.hold", self.path);
        let Some(hold) = &self.member.hold else {
            let message = "what the chassis takes where it is held is not given";
            stops.push(Stop::new(slug::RIG_REACTION_MISSING, path, message));
            return;
        };
        let (code, limit) = (slug::RIG_HOLD_OVER_LOAD, Limit::AtMost(hold.value.si()));
        let verdict = Verdict::design(code, pull.into(), limit, Basis::net(unit), given);
        let verdict = verdict.of(Subject::of("bearing", first));
        if verdict.state != State::Pass {
            let said = [pull.into(), hold.value.into()];
            let message = Message::new("the vehicle is held by {} at one place and takes {}", said);
            stops.push(Stop::new(code, path, message).with(verdict));
        }
        verdicts.push(verdict);
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
    let [v, m, h] = [
        member.shear_capacity.as_ref().map(|c| c.value.si()),
        member.sagging_capacity.as_ref().map(|c| c.value.si()),
        member.hogging_capacity.as_ref().map(|c| c.value.si()),
    ];
    let checks: [(Quantity, f64, Option<f64>, &str); 3] = [
        (shear.into(), terms.shear.si(), v, "shear"),
        (sagging.into(), terms.moment.si(), m, "sagging"),
        (hogging.into(), terms.moment.si(), h, "hogging"),
    ];
    let basis = Basis::total(unit);
    checks
        .into_iter()
        .filter_map(|(demand, size, limit, part)| {
            let limit = limit.map(Limit::AtMost)?;
            Some(Verdict::design_of_size(code, demand, size, limit, basis, given).part(part))
        })
        .chain(member.cracks_at.as_ref().map(|limit| {
            let (code, limit) = (slug::RIG_TOP_CRACKS, Limit::AtMost(limit.value.si()));
            Verdict::design_of_size(code, hogging.into(), terms.moment.si(), limit, basis, given)
        }))
        .collect()
}
