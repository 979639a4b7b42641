//! The catches, their gaps and the levels below.

use super::around::Surroundings;
use super::body::{Acting, Loose, Part, Post, Scene, Share};
use super::catch::{largest_gap_rig, largest_gap_weights};
use super::drive::{Landing, Rig, at_rest};
use super::falls::{Fall, Falls, Region, Search, StubHeld};
use super::levels::{LevelShare, shares};
use super::spec::{
    Catch, PostResistance, Resistance, ShoringSpec, StubHold, accidental_resistance,
    rated_resistance,
};
use crate::beam::Load;
use crate::error::{Error, Issue, slug};
use crate::formula::{NoRecord, Recorder};
use crate::scope::Mode;
use crate::source::{Given, validate_named};
use crate::units::{Force, Length, LineLoad, Message, Moment, Ratio, Said, SpringStiffness};
use crate::verdict::{Basis, Clause, Limit, MemberUnit, Note, State, Stop, Verdict};

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
        /// Whether the locked-off rig is slack before the catch stops the drop.
        slack: bool,
        /// What the posts carry.
        resistance: Force,
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
        /// Shares of the levels, the top first, the ground last.
        levels: Vec<LevelShare>,
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
    refuse(spec, around)?;
    let scene = scene(spec, around);
    let regions: Vec<Region> = around
        .regions
        .iter()
        .map(|(mode, from, to)| Region { mode: *mode, from: from.si(), to: to.si() })
        .collect();
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
            .map(|(f, share)| (f, rig.force(&mut NoRecord, catch, share, catch.gap.value).0))
            .max_by(|a, b| a.1.si().total_cmp(&b.1.si()))
            .map(|(f, _)| f);
        if let Some(fall) = worst {
            landings.push(rig.landing(spec, fall));
        }
        let path = spec.catch.path("shoring.catch", i);
        shoring.caught(recorder, (&path, catch, i), (&scene, worst), &rig, around);
        shoring.gap(spec, (&path, catch), around);
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
    shoring.force = together.iter().map(|c| c.2).sum();
    landings.push(together);
    shoring.levels(spec, around.unit);
    shoring.pieces(&falls, around, stub);
    Ok((shoring, landings))
}

fn refuse(spec: &ShoringSpec, around: &Surroundings<'_>) -> Result<(), Error> {
    let mut issues = Vec::new();
    let length = around.beam.length();
    for (i, catch) in spec.catch.iter().enumerate() {
        let at = catch.at.value;
        let same = |x: Length| (x - at).abs() <= length * 1e-9;
        let on_bearing = around.beam.supports().iter().any(|s| same(s.at));
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
        if spec.catch.iter().take(i).any(|c| same(c.at.value)) {
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
    if spec.levels.len() + usize::from(spec.to_ground) > 1
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

fn scene(spec: &ShoringSpec, around: &Surroundings<'_>) -> Scene {
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
        (path, catch, number): (&str, &Catch, usize),
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
            self.notes.push(Note::new(slug::SHORING_CATCH_IDLE, path, message));
        }
        let contact_force = rig.force(recorder, catch, share, Length::ZERO).0;
        let (force, slack) = rig.force(recorder, catch, share, catch.gap.value);
        let capacity = resistance(recorder, &catch.resistance);
        let k = catch.stiffness.value;
        let largest = match rig.drives(share) {
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
        if verdict.state != State::Pass {
            let message = Message::new(
                "catch force {} on posts that carry {}",
                [force.into(), capacity.into()],
            );
            self.stops
                .push(Stop::new(slug::SHORING_CATCH_OVER_CAPACITY, path, message).with(verdict));
        }
        self.verdicts.push(verdict);
        self.catches.push(Caught {
            at,
            crack: worst.map(|f| Length::from_si(f.crack)),
            own: Force::from_si(share.own),
            test: Force::from_si(share.weights + share.jacks),
            contact_force,
            force,
            slack,
            resistance: capacity,
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

    fn gap(
        &mut self,
        spec: &ShoringSpec,
        (path, catch): (&str, &Catch),
        around: &Surroundings<'_>,
    ) {
        let gap = catch.gap.value;
        let Some(caught) = self.catches.last_mut() else { return };
        let reading = (around.reading)(catch.at.value);
        let (sure, clear) = (spec.reading_uncertainty.value, spec.clearance.value);
        // where the member rises, a head that touches it is never in its way
        caught.gap_low = (reading + sure).max(Length::ZERO);
        caught.gap_recommended = caught.gap_low + clear;
        let at_step = |fraction: &Ratio| {
            let low = (reading * fraction.value() + sure).max(Length::ZERO);
            GapStep { fraction: *fraction, low, recommended: low + clear }
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
        if gap > wide * (1.0 + crate::verdict::DESIGN_SLACK) {
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
        self.verdicts.push(verdict);
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
            if verdict.state != State::Pass {
                let message = Message::new(
                    "a stub brings {} to a support that carries {}",
                    [moment.into(), Moment::from_si(strength).into()],
                );
                self.stops.push(
                    Stop::new(slug::SHORING_STUB_OVER_CAPACITY, "shoring.stub", message)
                        .with(verdict),
                );
            }
            self.verdicts.push(verdict);
        }
    }

    fn levels(&mut self, spec: &ShoringSpec, unit: MemberUnit) {
        let post =
            spec.post_stiffness.as_ref().map_or(SpringStiffness::from_si(f64::MAX), |k| k.value);
        let stiffness: Vec<SpringStiffness> =
            spec.levels.iter().map(|l| l.stiffness.value).collect();
        let fits = |n: usize, ground: bool| {
            let part = stiffness.get(..n).unwrap_or(&[]);
            shares(part, post, ground).iter().zip(&spec.levels).take(n).all(|(s, level)| {
                self.force * s.share.value()
                    <= level.spare.value * (1.0 + crate::verdict::DESIGN_SLACK)
            })
        };
        let n = stiffness.len();
        self.levels_needed = (1..=n).find(|k| fits(*k, spec.to_ground && *k == n));
        self.levels = shares(&stiffness, post, spec.to_ground);
        let clause = Clause::Named("spare strength given by the engineer");
        for (i, (level, share)) in spec.levels.iter().zip(&self.levels).enumerate() {
            let demand = self.force * share.share.value();
            let verdict = Verdict::design(
                slug::SHORING_LEVEL_OVER_CAPACITY,
                demand.into(),
                Limit::AtMost(level.spare.value.si()),
                Basis::total(unit),
                clause,
            );
            if level.spare_after.is_none() {
                let path = format!("shoring.levels[{i}].spare_after");
                let message = "the spare strength does not say after which loads it is spare";
                self.notes.push(Note::new(slug::SHORING_SPARE_UNSTATED, path, message));
            }
            if verdict.state != State::Pass {
                let message = Message::new(
                    "level {} takes {} of the catch force and has {} to spare",
                    [(&level.id).into(), demand.into(), level.spare.value.into()],
                );
                self.stops.push(
                    Stop::new(
                        slug::SHORING_LEVEL_OVER_CAPACITY,
                        format!("shoring.levels[{i}]"),
                        message,
                    )
                    .with(verdict),
                );
            }
            self.verdicts.push(verdict);
        }
    }
}

/// The stricter of the two resistances.
fn resistance<R: Recorder>(recorder: &mut R, given: &Resistance) -> Force {
    let n = f64::from(given.posts);
    let value = |f: &Option<Given<Force, PostResistance>>| f.as_ref().map(|f| f.value);
    let design = value(&given.characteristic)
        .map(|rk| accidental_resistance(recorder, n, rk, given.material_factor));
    let rated = value(&given.rated).map(|r| rated_resistance(recorder, n, r));
    match (design, rated) {
        (Some(a), Some(b)) => a.min(b),
        (a, b) => a.or(b).unwrap_or(Force::ZERO),
    }
}
