//! The catches, their gaps and the levels below.

use std::borrow::Cow;

use smallvec::SmallVec;

use super::around::Surroundings;
use super::body::{Acting, Loose, Part, Post, Scene, Share};
use super::catch::{
    clear_gap, largest_gap_padded, largest_gap_rig, largest_gap_weights, least_gap, one_catch_more,
    reading_part, times_static,
};
use super::drive::{Landing, Rig, at_rest};
use super::falls::{Fall, Falls, Region, Search, StubHeld};
use super::levels::{
    Carried, GROUND, LevelShare, Stacked, left_over, pushed_sideways, stack, stack_recorded,
};
use super::posts::{PostResistance, one_post, posts_resistance};
use super::spec::{
    Catch, Level, Resistance, ShoringSpec, StubHold, accidental_resistance, rated_resistance,
};
use crate::beam::{Beam, Load};
use crate::error::{Error, Issue, slug};
use crate::formula::{NoRecord, Recorder};
use crate::scope::Mode;
use crate::source::{Given, validate_named};
use crate::units::{Force, Length, LineLoad, Message, Moment, Ratio, Said, SpringStiffness};
use crate::verdict::{
    Basis, Clause, Collect, DESIGN_SLACK, Limit, MemberUnit, Note, State, Stop, Subject, Verdict,
    collects, words,
};

crate::answer! {
    /// The gap at one step.
    pub struct GapStep {
        /// Fraction of the full load.
        fraction: Ratio,
        /// Least gap: reading expected there and its uncertainty.
        low: Length,
        /// Least gap with the clearance of the library rule.
        recommended: Length,
    }
}

crate::answer! {
    /// One catch.
    pub struct Caught {
        /// Its place from the left end of the member.
        at: Length,
        /// The crack that loads it most; nothing where it holds no piece that falls.
        crack: Option<Length>,
        /// Static force of what is in place and of the rig that rests on the member.
        own: Force,
        /// Static force of the test load, were it weights.
        test: Force,
        /// Force without a drop in height, as a check: twice the static one for weights.
        contact_force: Force,
        /// Dynamic force with the gap that is given.
        force: Force,
        /// The same were all of the test load a weight and the catch without a pad: the bound.
        bound: Force,
        /// The dynamic force over the static one; nothing where nothing falls.
        dynamic: Option<f64>,
        /// The bound over the static force.
        dynamic_bound: Option<f64>,
        /// How far the pad is crushed, where there is one.
        crushed: Option<Length>,
        /// Whether the locked-off rig is slack before the catch stops the drop.
        slack: bool,
        /// What the posts carry.
        resistance: Force,
        /// What the bracing of the posts holds sideways.
        sideways: Force,
        /// Least gap at full load: reading expected and its uncertainty.
        gap_low: Length,
        /// Least gap with the clearance of the library rule.
        gap_recommended: Length,
        /// Largest gap whose drop the catch can stop; nothing where it stops none.
        gap_high: Option<Length>,
        /// The gap at every step.
        gap_steps: Vec<GapStep>,
    }
}

crate::answer! {
    /// What one level does when the catch comes, the top first, the ground last.
    pub struct LevelLoad {
        /// How the drawings call it.
        id: String,
        /// What it carries of the catch.
        force: Force,
        /// What is left of its strength then; nothing of ground whose strength is not given.
        left: Option<Force>,
        /// How far it comes down.
        moves: Length,
        /// What goes down through the posts below it.
        posts: Force,
        /// What those posts carry, where they are described with the level.
        posts_carry: Option<Force>,
        /// What their bracing holds sideways.
        sideways: Force,
    }
}

crate::answer! {
    /// The floor under the catches, everything on it and no uplift.
    pub struct FloorCheck {
        /// How the drawings call it.
        id: String,
        /// Largest shear, as a size.
        shear: Force,
        /// Largest sagging moment.
        sagging: Moment,
        /// Largest hogging moment, as a size.
        hogging: Moment,
    }
}

crate::answer! {
    /// The shoring, per member unit.
    pub struct Shoring {
        /// Every catch, in the order of the document.
        catches: Vec<Caught>,
        /// The largest sum of the catch forces of one failure, or a little more: what the levels carry.
        force: Force,
        /// Shares of the levels, the top first, the ground last. Where it is not known how far the ground
        /// gives, each is its largest, and they come to more than 1.
        levels: Vec<LevelShare>,
        /// What every level does, the top first, the ground last.
        stack: Vec<LevelLoad>,
        /// Least number of levels from the top that carry the catch forces; nothing where all do not.
        levels_needed: Option<usize>,
        /// The floors that catches stand on, where they are reaction members.
        floors: Vec<FloorCheck>,
        /// The checks.
        verdicts: Vec<Verdict>,
        /// States that endanger people.
        stops: Vec<Stop>,
        /// What to know.
        notes: Vec<Note>,
    }
}

collects!(Shoring);

/// Checks the shoring.
///
/// # Errors
/// `shoring.catch-outside`, `shoring.levels-zero`, `shoring.post-stiffness-missing`, and what the
/// rules of the fields refuse.
pub fn check(spec: &ShoringSpec, around: &Surroundings<'_>) -> Result<Shoring, Error> {
    validate_named("shoring", spec)?;
    Ok(check_recorded(&mut NoRecord, spec, around)?.0)
}

/// The shoring, and for every catch the failure that loads it most, all catches together.
pub(crate) fn check_recorded<R: Recorder>(
    recorder: &mut R,
    spec: &ShoringSpec,
    around: &Surroundings<'_>,
) -> Result<(Shoring, Vec<Landing>), Error> {
    let mut shoring = Shoring {
        catches: Vec::new(),
        force: Force::ZERO,
        levels: Vec::new(),
        stack: Vec::new(),
        levels_needed: None,
        floors: Vec::new(),
        verdicts: Vec::new(),
        stops: Vec::new(),
        notes: Vec::new(),
    };
    if spec.catch.is_empty() {
        shoring.stops.push(Stop::new(
            slug::SHORING_CATCH_MISSING,
            "shoring.catch",
            "no catch is described; full catch always, whatever mode is predicted",
        ));
        return Ok((shoring, Vec::new()));
    }
    refuse(spec, around.beam)?;
    let scene = scene(spec, around);
    let regions = regions(around);
    let stub = spec.stub.as_ref().and_then(|s| match s.held {
        StubHold::CastIn => s.moment.as_ref().map(|m| StubHeld::CastIn(m.value.si())),
        StubHold::ResultantOnBearing => {
            s.bearing.as_ref().map(|b| StubHeld::OnBearing(b.value.si()))
        }
    });
    let falls = Search::new(&scene, &regions, stub).run();
    let rig = Rig::of(spec, around);
    if rig.unbounded() {
        let message = "how far the rig follows the member when it gives way has no bound that is known (oil, air or an accumulator, bars, what the reaction gives): the test load is taken to fall like a weight";
        shoring.notes.push(Note::new(slug::SHORING_DRIVE_UNBOUNDED, "shoring.drive", message));
    }
    let mut landings: Vec<Landing> = Vec::new();
    for (i, catch) in spec.catch.iter().enumerate() {
        let worst = falls
            .all
            .iter()
            .map(|f| (f, f.shares.get(i).copied().unwrap_or_default()))
            .filter(|(_, share)| share.total() > 0.0)
            .map(|(f, share)| {
                let force = rig.force(&mut NoRecord, catch, share, catch.gap.value).0;
                // a pad gives one force for many failures: the heaviest of them crushes it most
                (f, force.si(), share.total())
            })
            .max_by(|a, b| a.1.total_cmp(&b.1).then(a.2.total_cmp(&b.2)))
            .map(|(f, ..)| f);
        if let Some(fall) = worst {
            landings.push(rig.landing(spec, fall).collect());
        }
        let path = spec.catch.path("shoring.catch", i);
        shoring.caught(recorder, (&path, catch, i), (&scene, worst), &rig, around);
        shoring.gap(recorder, spec, (&path, catch), around);
        shoring.near(&path, catch, around);
        if !catch.posts_on_joist_lines {
            shoring.stops.push(Stop::new(
                slug::SHORING_POST_OFF_JOIST,
                format!("{path}.posts_on_joist_lines"),
                "a post stands on the slab between joists: check punching, or move it",
            ));
        }
    }
    let together = rig.together(spec, &falls);
    if let Some((first, rest)) = together.split_first() {
        shoring.force = rest.iter().fold(first.2, |sum, c| one_catch_more(recorder, sum, c.2));
    }
    // one catch at its worst is all of them together
    if landings.last() != Some(&together) {
        landings.push(together);
    }
    shoring.levels(recorder, spec, around.unit);
    shoring.pieces(&falls, around, stub);
    Ok((shoring, landings))
}

/// The regions in doubt, SI.
pub(super) fn regions(around: &Surroundings<'_>) -> SmallVec<[Region; 2]> {
    let one = |(mode, from, to): &(Mode, Length, Length)| Region {
        mode: *mode,
        from: from.si(),
        to: to.si(),
    };
    around.regions.iter().map(one).collect()
}

pub(crate) fn refuse(spec: &ShoringSpec, beam: &Beam) -> Result<(), Error> {
    let mut issues = Vec::new();
    let length = beam.length();
    for (i, catch) in spec.catch.iter().enumerate() {
        let at = catch.at.value;
        let same = |x: Length| (x - at).abs() <= length * 1e-9;
        let on_bearing = beam.supports().iter().any(|s| same(s.at));
        if !(at >= Length::ZERO && at <= length) || on_bearing {
            issues.push(
                Issue::new(
                    slug::SHORING_CATCH_OUTSIDE,
                    format!("{}.at", spec.catch.path("shoring.catch", i)),
                    "the catch stands beyond the member or at a bearing",
                )
                .value(catch.at.said()),
            );
        }
        let apart = |c: &&Catch| (c.at.value - at).abs();
        let feet = |c: &&Catch| (c.width.value + catch.width.value) / 2.0;
        let before = || spec.catch.iter().take(i);
        if before().any(|c| !same(c.at.value) && apart(&c) < feet(&c) - length * 1e-9) {
            let path = format!("{}.width", spec.catch.path("shoring.catch", i));
            let message = "it stands where another catch stands";
            let issue = Issue::new(slug::SHORING_CATCH_OUTSIDE, path, message);
            issues.push(issue.value(catch.width.said()));
        }
        if before().any(|c| same(c.at.value)) {
            issues.push(
                Issue::new(
                    slug::SHORING_CATCH_OUTSIDE,
                    format!("{}.at", spec.catch.path("shoring.catch", i)),
                    "two catches at one place",
                )
                .value(catch.at.said()),
            );
        }
    }
    if spec.levels.is_empty() && !spec.to_ground {
        issues.push(Issue::new(
            slug::SHORING_LEVELS_ZERO,
            "shoring.levels",
            "no level and no ground carries the catch",
        ));
    }
    let below = spec.levels.len() + usize::from(spec.to_ground);
    let without = |l: &&Level| l.posts.is_none();
    if spec.levels.iter().take(below.saturating_sub(1)).any(|l| without(&l))
        && spec.post_stiffness.as_ref().is_none_or(|k| k.value <= SpringStiffness::ZERO)
    {
        issues.push(Issue::new(
            slug::SHORING_POST_STIFFNESS,
            "shoring.post_stiffness",
            "several levels, and no stiffness of the posts between them",
        ));
    }
    Error::check(issues)
}

pub(super) fn scene(spec: &ShoringSpec, around: &Surroundings<'_>) -> Scene {
    let dragged = spec.dragged_along.value();
    let own = around.in_place.iter().map(|l| l.scaled(dragged));
    let own = own.chain(around.rig_weight.iter().copied());
    let mut acting: Vec<Acting> = own.filter_map(|l| Acting::of(Part::Own, &l)).collect();
    let mut loose = Vec::new();
    for load in around.on_it {
        let part = if load.jack { Part::Jacks } else { Part::Weights };
        if load.loose && !load.jack {
            let (from, to) = (load.from.si(), load.to.si());
            loose.push(Loose { from, to, force: load.force.si() });
        } else if load.to > load.from {
            let w = LineLoad::from_si(load.force.si() / (load.to - load.from).si());
            acting.extend(Acting::of(part, &Load::uniform(load.from, load.to, w)));
        } else {
            acting.push(Acting::point(part, load.from.si(), load.force.si()));
        }
    }
    Scene {
        length: around.beam.length().si(),
        supports: Scene::held(around.beam),
        hinges: around.beam.hinges().iter().map(|h| h.si()).collect(),
        posts: spec
            .catch
            .iter()
            .map(|c| Post {
                at: c.at.value.si(),
                stiffness: c.stiffness.value.si(),
                gap: c.gap.value.si(),
            })
            .collect(),
        acting,
        loose,
    }
}

impl Shoring {
    fn caught<R: Recorder>(
        &mut self,
        recorder: &mut R,
        (path, catch, number): (&Cow<'static, str>, &Catch, usize),
        (scene, worst): (&Scene, Option<&Fall>),
        rig: &Rig,
        around: &Surroundings<'_>,
    ) {
        let at = catch.at.value;
        recorder.about(|| Message::new("What falls on the catch at x = {}", [at.into()]));
        let share = worst
            .map_or_else(Share::default, |fall| at_rest(recorder, (number, catch), scene, fall));
        if worst.is_none() {
            let message =
                Message::new("no piece that can fall rests on the catch at {}", [at.into()]);
            self.notes.push(Note::new(slug::SHORING_CATCH_IDLE, path.clone(), message));
        }
        let contact_force = rig.force(recorder, catch, share, Length::ZERO).0;
        let (force, slack) = rig.force(recorder, catch, share, catch.gap.value);
        let capacity = resistance(recorder, &catch.resistance);
        let k = catch.stiffness.value;
        let bound = rig.bound(recorder, catch, share, catch.gap.value);
        let pad = catch.pad.as_ref().filter(|p| p.crush.value < capacity);
        let largest = match rig.drives(share) {
            (falls, pulls) if pad.is_some() => {
                let spring = pulls.map_or((Force::ZERO, Length::ZERO), |r| (r.0, r.1));
                let pad = pad.map_or((capacity, Length::ZERO), |p| (p.crush.value, p.travel.value));
                largest_gap_padded(recorder, (falls, k, capacity), spring, pad)
            }
            (own, Some(pulls)) => largest_gap_rig(recorder, own, k, capacity, pulls),
            (falls, None) => largest_gap_weights(recorder, falls, k, capacity),
        };
        // where any drop is stopped, none is longer than the member
        let largest = largest.unwrap_or(around.beam.length());
        // the parabola has a second branch below the force of contact: no drop belongs to it
        let stops_some = contact_force <= capacity && largest >= Length::ZERO;
        let verdict = Verdict::design(
            slug::SHORING_CATCH_OVER_CAPACITY,
            force.into(),
            Limit::AtMost(capacity.si()),
            Basis::total(around.unit),
            Clause::Named("accidental action (library rule)"),
        );
        let verdict = verdict.of(Subject::of("catch", number));
        self.check(verdict, || {
            let message = Message::new(
                "catch force {} on posts that carry {}",
                [force.into(), capacity.into()],
            );
            words(path.clone(), message)
        });
        self.leaning(&format!("{path}.resistance"), &catch.resistance, force);
        let at_rest = Force::from_si(share.total());
        let mut over =
            |force: Force| (at_rest > Force::ZERO).then(|| times_static(recorder, force, at_rest));
        self.catches.push(Caught {
            at,
            crack: worst.map(|f| Length::from_si(f.crack)),
            own: Force::from_si(share.own),
            test: Force::from_si(share.weights + share.jacks),
            contact_force,
            force,
            bound,
            dynamic: over(force),
            dynamic_bound: over(bound),
            crushed: rig.crushes(catch, share, catch.gap.value),
            slack,
            resistance: capacity,
            sideways: pushed_sideways(recorder, force, leans(&catch.resistance)),
            gap_low: Length::ZERO,
            gap_recommended: Length::ZERO,
            gap_high: stops_some.then_some(largest),
            gap_steps: Vec::new(),
        });
    }

    /// Beyond the edge of the region plus the run of a flat crack, two depths.
    fn near(&mut self, path: &str, catch: &Catch, around: &Surroundings<'_>) {
        let run = around.depth * 2.0;
        let at = catch.at.value;
        let near = |(mode, from, to): &(Mode, Length, Length)| {
            let beside = (at >= *to && at < *to + run) || (at <= *from && at > *from - run);
            *mode == Mode::Shear && beside
        };
        if around.regions.iter().any(near) {
            let message = Message::new(
                "a flat crack from the edge of the region runs {}; nearer than that the catch may hold only the stub",
                [run.into()],
            );
            self.notes.push(Note::new(slug::SHORING_CATCH_NEAR, format!("{path}.at"), message));
        }
    }

    fn gap<R: Recorder>(
        &mut self,
        recorder: &mut R,
        spec: &ShoringSpec,
        (path, catch): (&str, &Catch),
        around: &Surroundings<'_>,
    ) {
        let gap = catch.gap.value;
        let Some(caught) = self.catches.last_mut() else { return };
        let reading = (around.reading)(catch.at.value);
        let (sure, clear) = (spec.reading_uncertainty.value, spec.clearance.value);
        // where the member rises, a head that touches it is never in its way
        recorder.about(|| Message::new("The gap of the catch at x = {}", [catch.at.value.into()]));
        caught.gap_low = least_gap(recorder, reading, sure);
        caught.gap_recommended = clear_gap(recorder, caught.gap_low, clear);
        let at_step = |fraction: &Ratio| {
            let part = reading_part(recorder, fraction.value(), reading);
            let low = least_gap(recorder, part, sure);
            GapStep { fraction: *fraction, low, recommended: clear_gap(recorder, low, clear) }
        };
        caught.gap_steps = around.fractions.iter().map(at_step).collect();
        let (low, high) = (caught.gap_low, caught.gap_high);
        let verdict = Verdict::design(
            slug::SHORING_GAP_NOT_ABOVE_READING,
            gap.into(),
            Limit::AtLeast(low.si()),
            Basis::net(around.unit),
            Clause::Named("gap above the reading expected (library rule)"),
        );
        let empty = high.is_none_or(|high| high < low);
        if verdict.state != State::Pass || empty {
            let high = high.map_or_else(|| "no drop at all".into(), Said::small);
            let message = Message::new(
                "gap {}; window {} (reading expected + U) to {} (what the catch can stop)",
                [Said::small(gap), Said::small(low), high],
            );
            self.stops.push(
                Stop::new(slug::SHORING_GAP_NOT_ABOVE_READING, format!("{path}.gap"), message)
                    .with(verdict),
            );
        }
        let wide = low + clear * 3.0;
        if gap > wide * (1.0 + DESIGN_SLACK) {
            let message = Message::new(
                "gap {}, expected at full load {}: the member may drop {} before the catch takes it; library rule: at most reading + U + 3 clearances, {}",
                [
                    Said::small(gap),
                    Said::small(reading),
                    Said::small(gap - reading),
                    Said::small(wide),
                ],
            );
            self.notes.push(Note::new(slug::SHORING_GAP_WIDE, format!("{path}.gap"), message));
        }
        let number = self.catches.len().saturating_sub(1);
        self.verdicts.push(verdict.of(Subject::of("catch", number)));
    }

    /// What nothing holds, what hangs, what a stub carries.
    fn pieces(&mut self, falls: &Falls, around: &Surroundings<'_>, stub: Option<StubHeld>) {
        let place = |x: f64| Said::from(Length::from_si(x));
        for piece in &falls.uncaught {
            let (from, to) = piece.common;
            let what = [place(piece.crack), place(piece.from), place(piece.to)];
            let message = Message::new(
                if piece.tips {
                    "a crack at {} leaves the piece from {} to {}, and weights that slide to its end tip it off its catches; "
                } else {
                    "a crack at {} leaves the piece from {} to {} and nothing holds it; "
                },
                what,
            );
            let (pieces, wants) = (to - from > around.beam.length().si() * 1e-9, piece.supports);
            let remedy = match (pieces, wants) {
                _ if piece.tips => "a catch has to stand nearer to that end, or less weight may reach it".into(),
                (true, 0) => Message::new(
                    "two catches have to stand under it between {} and {}",
                    [place(from), place(to)],
                ),
                (true, _) => Message::new(
                    "a catch has to stand under it between {} and {}, on the side that drops",
                    [place(from), place(to)],
                ),
                (false, _) => "a catch has to stand under it, and the stub that is too short for one is to be shown held".into(),
            };
            let stop =
                Stop::new(slug::SHORING_PIECE_UNCAUGHT, "shoring.catch", message.and(remedy));
            self.stops.push(stop);
        }
        for hangs in &falls.hangs {
            let message = Message::new(
                "a crack at {} leaves a piece that hangs on its supports alone, with {} over that at {}: not checked. Show that the member carries it in hogging there, or give a catch of `shoring.catch` between {} and {}",
                [
                    place(hangs.crack),
                    Moment::from_si(hangs.moment).into(),
                    place(hangs.support),
                    place(hangs.crack.min(hangs.support)),
                    place(hangs.crack.max(hangs.support)),
                ],
            );
            self.notes.push(Note::new(slug::SHORING_PIECE_HANGS, "shoring.catch", message));
        }
        if let (Some(StubHeld::CastIn(strength)), Some(moment)) = (stub, falls.stub) {
            let moment = Moment::from_si(moment);
            let verdict = Verdict::design(
                slug::SHORING_STUB_OVER_CAPACITY,
                moment.into(),
                Limit::AtMost(strength),
                Basis::total(around.unit),
                Clause::Named("strength given by the engineer"),
            );
            self.check(verdict, || {
                let message = Message::new(
                    "a stub brings {} to a support that carries {}",
                    [moment.into(), Moment::from_si(strength).into()],
                );
                words("shoring.stub", message)
            });
        }
    }

    fn levels<R: Recorder>(&mut self, recorder: &mut R, spec: &ShoringSpec, unit: MemberUnit) {
        let (n, all) = (spec.levels.len(), stacked(spec));
        if n > 0 && ground_unknown(spec) {
            let message = "how far the ground gives under the posts is not known: the levels count as if it gave way, ground and posts as if it did not give at all";
            let path = "shoring.ground.stiffness";
            self.notes.push(Note::new(slug::SHORING_GROUND_STIFFNESS, path, message));
        }
        let fits = |k: usize| {
            let carried = if k < n {
                let mut part = all.clone();
                part.truncate(k);
                part.iter_mut().skip(k.saturating_sub(1)).for_each(|l| l.posts = None);
                stack(&part, self.force)
            } else {
                carried(&mut NoRecord, spec, self.force)
            };
            let holds = |force: Force, by: Force| force <= by * (1.0 + DESIGN_SLACK);
            let ground = spec.ground.as_ref().map(|g| g.carries.value);
            let on_ground = carried.get(n).zip(ground).is_none_or(|(c, by)| holds(c.force, by));
            on_ground
                && carried.iter().zip(&spec.levels).all(|(c, level)| {
                    let posts = level.posts.as_ref();
                    holds(c.force, level.spare())
                        && posts.is_none_or(|p| {
                            holds(c.posts, resistance(&mut NoRecord, &p.resistance))
                        })
                })
        };
        self.levels_needed = (1..=n).find(|k| fits(*k));
        if self.force > Force::ZERO {
            let heading = "How the force of the catches spreads over the levels, the top first";
            recorder.about(|| heading);
        }
        let carried = carried(recorder, spec, self.force);
        self.levels = if self.force > Force::ZERO {
            carried.iter().map(|c| c.share_of(recorder, self.force)).collect()
        } else {
            let one = Force::from_si(1.0);
            let of_one = self::carried(&mut NoRecord, spec, one);
            of_one.iter().map(|c| c.share_of(&mut NoRecord, one)).collect()
        };
        let clause = Clause::Named("spare strength given by the engineer");
        for (i, (level, carried)) in spec.levels.iter().zip(&carried).enumerate() {
            let demand = carried.force;
            let verdict = Verdict::design(
                slug::SHORING_LEVEL_OVER_CAPACITY,
                demand.into(),
                Limit::AtMost(level.spare().si()),
                Basis::total(unit),
                clause,
            );
            let onward = all.get(i).is_some_and(|l| l.posts.is_some());
            if onward && level.posts.is_none() {
                let said = [(&level.id).into(), carried.posts.into()];
                let message = Message::new(
                    "the posts below {} take {}; what they carry is not given, and they carry nothing",
                    said,
                );
                let path = format!("shoring.levels[{i}].posts");
                self.stops.push(Stop::new(slug::SHORING_POSTS_UNCHECKED, path, message));
            }
            if level.spare_after.is_none() && level.spare.is_some() {
                let path = format!("shoring.levels[{i}].spare_after");
                let message = "the spare strength does not say after which loads it is spare";
                self.notes.push(Note::new(slug::SHORING_SPARE_UNSTATED, path, message));
            }
            let verdict = verdict.of(Subject::of("level", i));
            self.check(verdict, || {
                let message = Message::new(
                    "level {} takes {} of the catch force and has {} to spare",
                    [(&level.id).into(), demand.into(), level.spare().into()],
                );
                words(format!("shoring.levels[{i}]"), message)
            });
            let posts = level.posts.as_ref().map(|posts| {
                recorder.about(|| Message::new("The posts below {}", [(&level.id).into()]));
                let capacity = resistance(recorder, &posts.resistance);
                self.posts(&level.id, i, carried.posts, capacity, unit);
                let path = format!("shoring.levels[{i}].posts.resistance");
                self.leaning(&path, &posts.resistance, carried.posts);
                capacity
            });
            let lean = level.posts.as_ref().map_or(SIDEWAYS, |p| leans(&p.resistance));
            self.stack.push(LevelLoad {
                id: level.id.clone(),
                force: demand,
                left: Some(left_over(recorder, level.spare(), demand)),
                moves: carried.moves,
                posts: carried.posts,
                posts_carry: posts,
                sideways: pushed_sideways(recorder, carried.posts, lean),
            });
        }
        if let Some(carried) = carried.get(n).filter(|_| spec.to_ground) {
            self.ground(recorder, spec, carried, unit);
        }
    }

    /// A rated load, a table and a characteristic resistance are those of plumb posts.
    fn leaning(&mut self, path: &str, posts: &Resistance, force: Force) {
        let lean = posts.lean.value();
        if lean > 0.0 && posts.column.is_none() {
            let message = Message::new(
                "the posts may lean by {}, and what they carry is given for plumb ones: the lean counts in the {} that their bracing holds sideways, not in their strength",
                [lean.into(), (force * leans(posts)).into()],
            );
            self.notes.push(Note::new(slug::SHORING_POST_LEAN, format!("{path}.lean"), message));
        }
    }

    /// The posts below a level.
    fn posts(&mut self, id: &str, i: usize, force: Force, capacity: Force, unit: MemberUnit) {
        let verdict = Verdict::design(
            slug::SHORING_POSTS_OVER_CAPACITY,
            force.into(),
            Limit::AtMost(capacity.si()),
            Basis::total(unit),
            Clause::Named("accidental action (library rule)"),
        );
        let verdict = verdict.of(Subject::of("level", i));
        self.check(verdict, || {
            let said = [id.to_owned().into(), force.into(), capacity.into()];
            let message = Message::new("the posts below {} take {} and carry {}", said);
            words(format!("shoring.levels[{i}].posts"), message)
        });
    }

    fn ground<R: Recorder>(
        &mut self,
        recorder: &mut R,
        spec: &ShoringSpec,
        carried: &Carried,
        unit: MemberUnit,
    ) {
        let carries = spec.ground.as_ref().map(|g| g.carries.value);
        self.stack.push(LevelLoad {
            id: "ground".to_owned(),
            force: carried.force,
            left: carries.map(|c| left_over(recorder, c, carried.force)),
            moves: carried.moves,
            posts: Force::ZERO,
            posts_carry: None,
            sideways: Force::ZERO,
        });
        let Some(carries) = carries else {
            let message = Message::new(
                "the ground takes {} of the catch force; what it carries is not given, and it carries nothing",
                [carried.force.into()],
            );
            self.stops.push(Stop::new(slug::SHORING_GROUND_UNCHECKED, "shoring.ground", message));
            return;
        };
        let verdict = Verdict::design(
            slug::SHORING_GROUND_OVER_CAPACITY,
            carried.force.into(),
            Limit::AtMost(carries.si()),
            Basis::total(unit),
            Clause::Named("strength given by the engineer"),
        );
        self.check(verdict, || {
            let said = [carried.force.into(), carries.into()];
            let message =
                Message::new("the ground takes {} of the catch force and carries {}", said);
            words("shoring.ground", message)
        });
    }
}

/// Sideways force of posts over their load, at least (common practice, no source).
const SIDEWAYS: f64 = 0.025;

/// The lean that counts: what is given, at least 2.5 %.
fn leans(posts: &Resistance) -> f64 {
    posts.lean.value().max(SIDEWAYS)
}

/// The levels and the ground as springs, the top first.
pub(super) fn stacked(spec: &ShoringSpec) -> Vec<Stacked> {
    let n = spec.levels.len();
    let same = spec.post_stiffness.as_ref().map(|k| k.value);
    let posts = |level: &Level| match &level.posts {
        Some(p) => Some((p.stiffness.value * f64::from(p.resistance.posts), p.gap.value)),
        None => same.map(|k| (k, Length::ZERO)),
    };
    let mut all: Vec<Stacked> = spec
        .levels
        .iter()
        .enumerate()
        .map(|(i, level)| Stacked {
            level: level.stiffness.value,
            posts: posts(level).filter(|_| i + 1 < n || spec.to_ground),
        })
        .collect();
    if spec.to_ground {
        let gives = spec.ground.as_ref().and_then(|g| g.stiffness.as_ref());
        all.push(gives.map_or(GROUND, |k| Stacked { level: k.value, posts: None }));
    }
    all
}

/// Whether levels stand on ground of which it is not known how far it gives.
fn ground_unknown(spec: &ShoringSpec) -> bool {
    spec.to_ground && spec.ground.as_ref().is_none_or(|g| g.stiffness.is_none())
}

/// What levels and ground carry of a force on the top one. Of ground that is not known to give or to
/// hold, each takes the larger of both: the levels what comes where it gives way, it and the posts what
/// comes where it does not give.
pub(super) fn carried<R: Recorder>(
    recorder: &mut R,
    spec: &ShoringSpec,
    force: Force,
) -> Vec<Carried> {
    let all = stacked(spec);
    let mut found = stack_recorded(recorder, &all, force);
    if ground_unknown(spec) {
        let mut alone = all;
        alone.truncate(spec.levels.len());
        alone.iter_mut().skip(spec.levels.len().saturating_sub(1)).for_each(|l| l.posts = None);
        for (one, other) in found.iter_mut().zip(stack_recorded(recorder, &alone, force)) {
            one.force = one.force.max(other.force);
            one.posts = one.posts.max(other.posts);
            one.moves = one.moves.max(other.moves);
        }
    }
    found
}

/// The strictest of the resistances that are given.
pub(super) fn resistance<R: Recorder>(recorder: &mut R, given: &Resistance) -> Force {
    let n = f64::from(given.posts);
    let value = |f: &Option<Given<Force, PostResistance>>| f.as_ref().map(|f| f.value);
    let design = value(&given.characteristic)
        .map(|rk| accidental_resistance(recorder, n, rk, given.material_factor));
    let rated = value(&given.rated).map(|r| rated_resistance(recorder, n, r));
    let height = given.height.as_ref().map(|h| h.value);
    let (row, column) = one_post(recorder, height, &given.table, given.column.as_ref(), given.lean);
    let tabled = row.map(|one| rated_resistance(recorder, n, one));
    let gamma = given.column.as_ref().map_or(1.0, |c| c.factor(given.material_factor));
    let column = column.map(|one| posts_resistance(recorder, n, one, gamma));
    let prop = given.prop.as_ref().zip(height).map(|(prop, height)| {
        let one = prop.resistance(recorder, height);
        accidental_resistance(recorder, n, one, given.material_factor)
    });
    let all = [design, rated, tabled, column, prop];
    all.into_iter().flatten().reduce(Force::min).unwrap_or(Force::ZERO)
}
