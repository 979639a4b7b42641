//! The rig checked: force path, reaction, lift-off, stages, jacks and bars.

use super::blocks::{Placement, Wanted, loads, placed};
use super::conditions::borne_out;
use super::counterweight::{Advice, Statics};
use super::gear::{BeamCheck, TrainCheck};
use super::hydraulics::Hydraulics;
use super::lift_off::{BearingCheck, Held};
use super::press::{
    ForcePath, Means, Press, Pull, Tested, force_path, holder, same_place, spread, turned_over,
};
use super::reaction::{ReactionKind, ReactionMember, Seat};
use super::spec::{AskedFactor, FactorBasis, RigSpec};
use super::stages::Stage;
use super::uneven::{Joists, OnPressure, cases};
use crate::beam::Response;
use crate::equivalent::Uneven;
use crate::error::{Error, Issue, slug};
use crate::formula::{NoRecord, Recorder};
use crate::source::validate_named;
use crate::units::{Force, Length, Message, Moment, Net, Said, SpringStiffness};
use crate::verdict::{
    Basis, Clause, Collect, Limit, MemberUnit, Note, Stop, Subject, Verdict, collects, words,
};

crate::answer! {
    /// One anchor under the full test load.
    pub struct AnchorCheck {
        /// Its place from the left end of the member under test.
        at: Length,
        /// What pulls on it.
        force: Force,
        /// The check against its strength.
        verdict: Verdict,
    }
}

/// One thing that the jacks pull against, per member unit.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct Reacting {
    /// How the drawings call it.
    pub id: String,
    /// What it is.
    pub kind: ReactionKind,
    /// How far it reaches, from the left end of the member under test; nothing of a frame.
    pub reach: Option<(Length, Length)>,
    /// Where its supports stand, from the left end of the member under test.
    pub supports: Vec<Length>,
    /// The least counterweight for the floor, and its best place; nothing of what cannot lift.
    pub advice: Option<Advice>,
    /// The anchors.
    pub anchors: Vec<AnchorCheck>,
    /// Of anchors or a frame: what pulls at one place over how far it gives there, where it is known.
    pub stiffness: Option<SpringStiffness>,
    /// The member under the jacks alone, in places from its own left end: it rises, so its
    /// deflection is negative.
    pub response: Option<Response>,
}

impl Reacting {
    /// How far it rises at a place, counted from the left end of the member under test; nothing
    /// where it does not reach, zero where its movement is not known.
    #[must_use]
    pub fn rise(&self, at: Length) -> Option<Length> {
        let (from, to) = self.reach?;
        let slack = (to - from).abs() * 1e-9 + Length::from_si(1e-9);
        let there = at >= from - slack && at <= to + slack;
        let inside =
            |a: &Response| -a.inside().deflection((at - from).max(Length::ZERO).min(to - from));
        there.then(|| self.response.as_ref().map_or(Length::ZERO, inside))
    }
}

/// The rig, per member unit. Every place counts from the left end of the member under test.
#[derive(Clone, PartialEq, Debug)]
pub struct Rig {
    /// The presses, as they were given.
    pub presses: Vec<Press>,
    /// What pulls on the reaction, and where.
    pub pulls: Vec<Pull>,
    /// What the jacks pull against, in the order of the document.
    pub reactions: Vec<Reacting>,
    /// Every bearing of every reaction member.
    pub bearings: Vec<BearingCheck>,
    /// The floor of lift-off that applies.
    pub floor: f64,
    /// Force of all jacks at which the first bearing lifts if no counterweight is placed.
    pub lift_off_without_counterweight: Option<Force>,
    /// The blocks that were chosen, where there is a choice and all at hand are enough.
    pub placement: Option<Placement>,
    /// Every stage of every reaction member.
    pub stages: Vec<Stage>,
    /// Pressure and stroke of every circuit; empty where no jack presses.
    pub hydraulics: Vec<Hydraulics>,
    /// Spreaders and reaction beams.
    pub beams: Vec<BeamCheck>,
    /// The jack train, where it is described.
    pub train: Option<TrainCheck>,
    /// Bars, beams, jack train, pressure, stroke, circuit.
    pub verdicts: Vec<Verdict>,
    /// States that endanger people.
    pub stops: Vec<Stop>,
    /// What to know.
    pub notes: Vec<Note>,
    /// The presses of every circuit, with their jacks.
    pub(super) shared: Vec<Vec<OnPressure>>,
}

collects!(Rig);

/// Checks the rig under these presses. `test_deflection` is that of the test member under the
/// jacks, soft prediction. A member's name alone is one whose left end is its first bearing, loaded
/// in quarter steps.
///
/// # Errors
/// `rig.reaction-is-test`, `rig.reaction-short`, `rig.reaction-ambiguous`,
/// `rig.counterweight-outside`, `rig.bars-unstable`, `rig.circuit`, `rig.jacks-missing` and what a
/// beam refuses, all at once.
pub fn check<'a>(
    spec: &RigSpec,
    test_member: impl Into<Tested<'a>>,
    unit: MemberUnit,
    presses: &[Press],
    test_deflection: Length,
) -> Result<Rig, Error> {
    validate_named("rig", spec)?;
    check_recorded(&mut NoRecord, spec, &test_member.into(), unit, presses, test_deflection)
}

pub(crate) fn check_recorded<R: Recorder>(
    recorder: &mut R,
    spec: &RigSpec,
    tested: &Tested<'_>,
    unit: MemberUnit,
    presses: &[Press],
    test_deflection: Length,
) -> Result<Rig, Error> {
    let mut issues = Vec::new();
    let path = force_path(recorder, spec, tested, presses, &mut issues);
    let mut held = held(spec, tested, &path, &mut issues);
    let (borne_out, unshown) = borne_out(spec, &path);
    let mut rig = Rig::empty(borne_out);
    rig.notes.extend(unshown);
    rig.blocks(spec, &mut held, &mut issues)?;
    rig.presses = presses.to_vec();
    rig.pulls = path.served.iter().flat_map(|s| s.pulls.iter().cloned()).collect();
    let mut least: Option<f64> = None;
    for (i, (reaction, held)) in spec.reaction.iter().zip(held).enumerate() {
        let name = spec.reaction.path("rig.reaction", i);
        let anchors = rig.anchors(recorder, reaction, (&name, i), unit, &path, &mut issues);
        let lifted = match held {
            Some(held) => {
                let lifted = rig.member(recorder, spec.factor.as_ref(), &held, unit, tested);
                lifted.and_then(|l| rig.carried_over(spec, &held, unit).map(|()| Some(l)))
            }
            None => Ok(None),
        };
        match lifted {
            Ok(lifted) => {
                let (advice, response, supports, factor) = lifted.unwrap_or_default();
                if let Some(factor) = factor {
                    least = Some(least.map_or(factor, |l| l.min(factor)));
                }
                rig.reactions.push(Reacting {
                    id: reaction.id.clone(),
                    kind: reaction.kind,
                    reach: reaction.reach(tested.first_bearing),
                    supports,
                    advice,
                    anchors,
                    // a vehicle gives by its springs, not by its chassis
                    response: response.filter(|_| reaction.kind.beam()),
                    stiffness: reaction.stiffness.as_ref().map(|k| k.value),
                });
            }
            Err(error) => issues.extend(error.issues),
        }
        rig.say(reaction, &name, i);
        if reaction.kind == ReactionKind::Frame && spec.beams.is_empty() {
            let message = "the strength of the frame is not given: its beams are not described";
            rig.stops.push(Stop::new(slug::RIG_REACTION_MISSING, "rig.beams", message));
        }
    }
    Error::check(issues)?;
    let force: Force = path.served.iter().map(|s| s.press.force.0).sum();
    rig.lift_off_without_counterweight = least.map(|l| force * l);
    if spec.reaction.is_empty() && presses.iter().any(|p| p.by == Means::Jack) {
        rig.stops.push(Stop::new(
            slug::RIG_REACTION_MISSING,
            "rig.reaction",
            "nothing is named that the jacks push against",
        ));
    }
    rig.jacks(recorder, spec, &path, (test_deflection, tested, unit));
    rig.bars(recorder, &path);
    rig.geared(recorder, spec, &path, tested);
    Ok(rig)
}

/// The reaction members that are beams, each with what stands on it and pulls on it.
fn held<'a>(
    spec: &'a RigSpec,
    tested: &Tested<'_>,
    path: &ForcePath<'_>,
    issues: &mut Vec<Issue>,
) -> Vec<Option<Held<'a>>> {
    let mut members: Vec<Option<Held<'a>>> = Vec::with_capacity(spec.reaction.len());
    for (i, reaction) in spec.reaction.iter().enumerate() {
        let name = spec.reaction.path("rig.reaction", i);
        let folded = |id: &str| id.trim().to_lowercase();
        if folded(&reaction.id) == folded(tested.member) && reaction.kind != ReactionKind::Frame {
            issues.push(
                Issue::new(
                    slug::RIG_REACTION_IS_TEST,
                    format!("{name}.id"),
                    "the reaction member is the member under test: the force path closes on itself",
                )
                .value(&reaction.id),
            );
        }
        let beam = match reaction.beam() {
            Ok(beam) => beam,
            Err(error) => {
                issues.extend(error.issues.into_iter().map(|mut issue| {
                    issue.path = name.to_string();
                    issue
                }));
                None
            }
        };
        let from = reaction.reach(tested.first_bearing).map_or(Length::ZERO, |r| r.0);
        members.push(beam.map(|beam| {
            let own = |x: Length| (x - from).max(Length::ZERO).min(beam.length());
            let pulls = path.on(i).map(|(s, p)| (own(p.at), p.force, s.press.circuit.clone()));
            let (pulls, uncertain) = (pulls.collect(), Vec::new());
            let id = (&*reaction.id).into();
            let weights = Vec::new();
            Held { member: reaction, path: name, name: id, from, beam, weights, uncertain, pulls }
        }));
    }
    for (i, weight) in spec.counterweights.iter().enumerate() {
        let path = || (slug::RIG_COUNTERWEIGHT_OUTSIDE, format!("rig.counterweights[{i}].at"));
        let (at, named) = (weight.at.value, weight.reaction.as_deref());
        let found = holder(spec, tested, at, named, path, "a counterweight", issues);
        match found.and_then(|r| members.get_mut(r)) {
            Some(Some(on)) => {
                let own = (at - on.from).max(Length::ZERO).min(on.beam.length());
                on.weights.push((own, weight.certain()));
                if weight.weight() > weight.certain() {
                    on.uncertain.push((own, weight.weight() - weight.certain()));
                }
            }
            Some(None) => issues.push(
                Issue::new(
                    slug::RIG_COUNTERWEIGHT_OUTSIDE,
                    path().1,
                    "a counterweight where nothing carries it: anchors and frames take none",
                )
                .value(weight.at.said()),
            ),
            None => {}
        }
    }
    members
}

/// What the check of one member leaves for its answer: advice, actions under the jacks, places of
/// its supports, the least factor without counterweight.
pub(super) type Lifted = (Option<Advice>, Option<Response>, Vec<Length>, Option<f64>);

impl Rig {
    /// Nothing checked yet, with the floor of lift-off that applies.
    pub(super) fn empty(conditions: bool) -> Self {
        Self {
            presses: Vec::new(),
            pulls: Vec::new(),
            reactions: Vec::new(),
            bearings: Vec::new(),
            floor: if conditions { 0.9_f64.recip() * 1.25 } else { 0.9_f64.recip() * 1.5 },
            lift_off_without_counterweight: None,
            placement: None,
            stages: Vec::new(),
            hydraulics: Vec::new(),
            beams: Vec::new(),
            train: None,
            verdicts: Vec::new(),
            stops: Vec::new(),
            notes: Vec::new(),
            shared: Vec::new(),
        }
    }

    /// What the presses may give where jacks on one pressure differ; empty where all are alike.
    pub(crate) fn uneven(&self, joists: Option<Joists>) -> Vec<Uneven> {
        cases(&self.shared, &self.presses, joists)
    }

    /// Chooses the blocks and stands them on their reaction member.
    fn blocks(
        &mut self,
        spec: &RigSpec,
        held: &mut [Option<Held<'_>>],
        issues: &mut Vec<Issue>,
    ) -> Result<(), Error> {
        let Some(blocks) = &spec.blocks else { return Ok(()) };
        let on = |h: &Held<'_>| {
            let (from, to) = (h.from, h.from + h.beam.length());
            let slack = h.beam.length() * 1e-9;
            blocks.places.iter().all(|p| p.from.value >= from - slack && p.to.value <= to + slack)
        };
        let mut found = held.iter_mut().flatten().filter(|h| on(h));
        let (Some(held), None) = (found.next(), found.next()) else {
            let message =
                "the places of the blocks do not all lie on one reaction member, and one alone";
            issues.push(Issue::new(slug::RIG_BLOCKS, "rig.blocks.places", message));
            return Ok(());
        };
        let Some(span) = held.single_span() else {
            let message = "blocks are chosen for a single span between two bearings only";
            issues.push(Issue::new(slug::RIG_BLOCKS, "rig.blocks", message));
            return Ok(());
        };
        let lines: Vec<(Length, Force)> = held.pulls.iter().map(|p| (p.0, p.1)).collect();
        let asked = spec.factor.as_ref().filter(|f| f.basis == FactorBasis::TotalWeight);
        let wanted = Wanted {
            span,
            own: held.member.self_weight.as_ref().map_or_else(Default::default, |w| w.value),
            lines: &lines,
            weights: &held.weights,
            hogging: held.member.hogging_capacity.as_ref().map_or(Moment::ZERO, |m| m.value),
            factor: asked.map_or(self.floor, |f| f.at_least.max(self.floor)),
            origin: held.from,
        };
        self.placement = placed(blocks, &wanted)?;
        match self.placement.as_ref().and_then(|p| p.layouts.first()) {
            Some(layout) => held.weights.extend(loads(blocks, layout, held.from)),
            None => {
                let message = "all blocks at hand, wherever they may stand, do not hold the reaction member down";
                self.stops.push(Stop::new(slug::RIG_BLOCKS_SHORT, "rig.blocks", message));
            }
        }
        Ok(())
    }

    pub(super) fn member<R: Recorder>(
        &mut self,
        recorder: &mut R,
        asked: Option<&AskedFactor>,
        held: &Held<'_>,
        unit: MemberUnit,
        tested: &Tested<'_>,
    ) -> Result<Lifted, Error> {
        let cases = held.cases()?;
        let stages = held.stages(&cases, unit, tested.steps)?;
        let found = held.lift_off(recorder, self.floor, asked, unit, (&cases, &stages.least));
        let before = self.bearings.len();
        let name = |i: usize| Subject::of("bearing", before + i);
        let asked = found.asked.into_iter().enumerate().map(|(i, v)| v.of(name(i)));
        self.verdicts.extend(asked);
        self.verdicts.extend(found.holding.into_iter().map(|(i, v)| v.of(name(i))));
        self.bearings.extend(found.bearings);
        self.bearings.iter_mut().enumerate().skip(before).for_each(|(i, b)| {
            b.verdict = b.verdict.of(Subject::of("bearing", i));
        });
        self.stops.extend(found.stops);
        held.wheels(&stages.stages, (unit, before), (&mut self.verdicts, &mut self.stops));
        if self.stages.is_empty() {
            self.stages = stages.stages;
        } else {
            self.stages.extend(stages.stages);
        }
        self.stops.extend(stages.stops);
        let supports = held.beam.supports().iter().map(|s| held.from + s.at).collect();
        let advice = self.advised(recorder, held);
        held.work_stages(recorder, &cases, &self.stages);
        Ok((advice, Some(cases.pulled), supports, found.own_factor))
    }

    /// The least counterweight, where its member is seated; only for a single span.
    fn advised<R: Recorder>(&self, recorder: &mut R, held: &Held<'_>) -> Option<Advice> {
        let some = |seat: Seat| held.member.seats().any(|s| s == seat);
        if !some(Seat::Seated) {
            return None;
        }
        let single = held.single_span().filter(|_| !some(Seat::Monolithic));
        let Some(span) = single else { return Some(Advice::NotSought) };
        let hogging = held.member.hogging_capacity.as_ref().map_or(Moment::ZERO, |m| m.value);
        let lines: Vec<(Length, Force)> = held.pulls.iter().map(|p| (p.0, p.1)).collect();
        let weight = held.member.self_weight.as_ref().map_or_else(Default::default, |w| w.value);
        let statics = Statics { span, weight, lines: &lines, hogging };
        let advice = statics.advice(self.floor);
        if recorder.keeps() {
            statics.work(recorder, &advice);
        }
        Some(advice.moved(held.from))
    }

    fn anchors<R: Recorder>(
        &mut self,
        recorder: &mut R,
        reaction: &ReactionMember,
        (name, index): (&str, usize),
        unit: MemberUnit,
        path: &ForcePath<'_>,
        issues: &mut Vec<Issue>,
    ) -> Vec<AnchorCheck> {
        let places: Vec<Length> = reaction.anchors.iter().map(|a| a.at.value).collect();
        let mut forces = vec![Force::ZERO; places.len()];
        let mut all = Force::ZERO;
        let there = format!("{name}.anchors");
        for (_, pull) in path.on(index).filter(|_| !places.is_empty()) {
            all += pull.force;
            // a bar over an anchor hangs on it; others on all of them, by a crosshead
            let over = places.iter().position(|at| same_place(*at, pull.at));
            match over.and_then(|i| forces.get_mut(i)) {
                Some(own) => *own += pull.force,
                None if places.len() < 2 => issues.push(turned_over(pull.at, &places, &there)),
                None => {
                    let found = spread(recorder, pull.at, pull.force, &places);
                    for (sum, (_, f)) in forces.iter_mut().zip(found) {
                        *sum += f;
                    }
                }
            }
        }
        if let Some((_, pull)) = path.on(index).next()
            && forces.iter().any(|f| *f < all * -1e-9)
        {
            issues.push(turned_over(pull.at, &places, &there));
        }
        let mut checks = Vec::with_capacity(places.len());
        for (i, (anchor, force)) in reaction.anchors.iter().zip(forces).enumerate() {
            let verdict = Verdict::design(
                slug::RIG_ANCHOR_OVER_CAPACITY,
                force.into(),
                Limit::AtMost(anchor.capacity.value.si()),
                Basis::net(unit),
                Clause::Named("strength shown by a test of the anchor"),
            );
            let all = self.reactions.iter().map(|r| r.anchors.len()).sum::<usize>();
            let verdict = verdict.of(Subject::of("anchor", all + i));
            self.check(verdict, || {
                let said = [anchor.at.value.into(), used(&verdict)];
                let message = Message::new("force of the anchor at {} over its strength: {}", said);
                words(format!("{name}.anchors[{i}]"), message)
            });
            checks.push(AnchorCheck { at: anchor.at.value, force, verdict });
        }
        checks
    }

    /// What to know of one reaction.
    fn say(&mut self, reaction: &ReactionMember, name: &str, index: usize) {
        if reaction.kind.beam() && reaction.at.is_none() {
            let message = format!(
                "`{}`: no place is given, its first bearing is taken to stand under the first bearing of the member under test",
                reaction.id
            );
            self.notes.push(Note::new(slug::RIG_REACTION_PLACE, format!("{name}.at"), message));
        }
        let surveyed = reaction.survey.as_deref().is_some_and(|s| !s.trim().is_empty());
        if reaction.sister && !surveyed {
            let message = "the reaction member is a sister of the member in doubt and was not surveyed like it: its end carries the shear of the rig";
            let path = format!("{name}.survey");
            self.stops.push(Stop::new(slug::RIG_SISTER_UNSURVEYED, path, message));
        }
        match reaction.kind {
            ReactionKind::Anchors | ReactionKind::Vehicle if reaction.stiffness.is_none() => {
                let message = "how far the anchors or the springs of the vehicle give under their pull is not known: the stroke counts none of it, and the spring-back has no bound";
                let path = format!("{name}.stiffness");
                self.notes.push(Note::new(slug::RIG_ANCHOR_MOVEMENT, path, message));
            }
            ReactionKind::Frame => {
                let force: Force =
                    self.pulls.iter().filter(|p| p.reaction == index).map(|p| p.force).sum();
                let message = Message::new(
                    "{}: the force path closes on the member under test, nothing lifts and nothing below it carries the test load; the frame pulls that member up with {} where it holds, which the layout of a document counts: nothing of the test load is left beyond those places",
                    [reaction.id.clone().into(), force.into()],
                );
                self.notes.push(Note::new(slug::RIG_FRAME, name.to_owned(), message));
            }
            _ if reaction.seats().any(|s| s == Seat::Monolithic) && reaction.holds.is_empty() => {
                let message = if reaction.kind == ReactionKind::Cantilever {
                    "it is held at its end and does not lift: what the jacks pull goes into what holds it"
                } else {
                    "the ends are cast in place and do not lift: check the uplift in column and top steel of beam and slab"
                };
                let path = format!("{name}.seat");
                self.notes.push(Note::new(slug::RIG_MONOLITHIC, path, message));
            }
            _ => {}
        }
    }

    /// How far the reaction rises at a place, from the left end of the member under test: of several
    /// that reach there, the most; nothing where none reaches.
    #[must_use]
    pub fn rise(&self, at: Length) -> Option<Length> {
        self.reactions.iter().filter_map(|r| r.rise(at)).reduce(Length::max)
    }

    /// The largest rise of what pulls on the reaction.
    #[must_use]
    pub fn largest_rise(&self) -> Length {
        self.pulls.iter().map(|p| self.way_of(p)).fold(Length::ZERO, Length::max)
    }

    /// How far the beams of the rig give, at most.
    fn beams_give(&self) -> Length {
        self.beams.iter().map(|b| b.deflection).sum()
    }

    /// From where to where there is a reaction member, from the left end of the member under test.
    #[must_use]
    pub fn reach(&self) -> Option<(Length, Length)> {
        let members = self.reactions.iter().filter(|r| r.response.is_some());
        members.filter_map(|r| r.reach).reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))
    }

    /// Places and weights of the blocks that were chosen, from the left end of the member under test.
    #[must_use]
    pub fn standing(&self, spec: &RigSpec) -> Vec<(Length, Force)> {
        let layout = self.placement.as_ref().and_then(|p| p.layouts.first());
        spec.blocks
            .as_ref()
            .zip(layout)
            .map_or_else(Vec::new, |(blocks, layout)| loads(blocks, layout, Length::ZERO))
    }

    /// The largest pump pressure at full load; nothing where no jack presses.
    #[must_use]
    pub fn pressure(&self) -> Option<crate::units::Pressure> {
        self.hydraulics.iter().map(|h| h.pressure).reduce(crate::units::Pressure::max)
    }

    /// The largest force of one jack at full load, net; nothing where no jack presses.
    #[must_use]
    pub fn force_per_jack(&self) -> Option<Net<Force>> {
        self.hydraulics.iter().map(|h| h.force_per_jack).reduce(Force::max).map(Net)
    }

    /// What the rig springs back when the member falls: rise of the reaction, bars, locked-off oil,
    /// of each the largest; infinite where a part of it is not known or keeps the pressure up.
    #[must_use]
    pub fn spring_back(&self) -> Length {
        if self.hydraulics.iter().any(|h| h.springs_back.is_none()) {
            return Length::from_si(f64::INFINITY);
        }
        let most = |f: &dyn Fn(&Hydraulics) -> Length| {
            self.hydraulics.iter().map(f).fold(Length::ZERO, Length::max)
        };
        self.largest_rise()
            + self.beams_give()
            + most(&|h| h.bar_stretch)
            + most(&|h| h.oil_travel.unwrap_or(Length::ZERO))
    }
}

impl crate::source::Write for Reacting {
    fn write(&self) -> crate::source::Node {
        let reach = self.reach.map(|(from, to)| vec![from, to]);
        crate::source::Node::map(vec![
            ("id", self.id.write()),
            ("kind", self.kind.write()),
            ("reach", reach.write()),
            ("supports", self.supports.write()),
            ("least_counterweight", self.advice.write()),
            ("anchors", self.anchors.write()),
        ])
    }
}

impl crate::source::Write for Rig {
    fn write(&self) -> crate::source::Node {
        crate::source::Node::map(vec![
            ("presses", self.presses.write()),
            ("pulls", self.pulls.write()),
            ("reactions", self.reactions.write()),
            ("bearings", self.bearings.write()),
            ("floor", self.floor.write()),
            ("lift_off_without_counterweight", self.lift_off_without_counterweight.write()),
            ("placement", self.placement.write()),
            ("stages", self.stages.write()),
            ("hydraulics", self.hydraulics.write()),
            ("beams", self.beams.write()),
            ("train", self.train.write()),
            ("verdicts", self.verdicts.write()),
            ("stops", self.stops.write()),
            ("notes", self.notes.write()),
        ])
    }
}

/// Demand over limit in words, where the limit is nothing.
pub(super) fn used(verdict: &Verdict) -> Said {
    verdict.utilisation.map_or_else(|| "more than nothing".into(), Said::from)
}
