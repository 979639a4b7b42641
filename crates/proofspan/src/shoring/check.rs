//! The catch, its gap and the levels below.

use super::catch::{
    Drive, catch_force_rig, dropped, following_share, largest_gap_rig, largest_gap_weights,
    static_catch,
};
use super::levels::{LevelShare, shares};
use super::spec::{
    Catch, PostResistance, Resistance, ShoringSpec, accidental_resistance, rated_resistance,
};
use crate::beam::Load;
use crate::error::{Error, Issue, slug};
use crate::formula::{NoRecord, Recorder};
use crate::scope::Mode;
use crate::source::{Given, validate_named};
use crate::units::{Force, Length, Message, Moment, Net, Said, SpringStiffness};
use crate::verdict::{Basis, Clause, Limit, MemberUnit, Note, State, Stop, Verdict};

/// What the catch stands among.
#[derive(Clone, Copy, Debug)]
pub struct Surroundings<'a> {
    /// What one value is counted for.
    pub unit: MemberUnit,
    /// The failure mode in doubt.
    pub mode: Mode,
    /// The region in doubt.
    pub region: (Length, Length),
    /// Places of the bearings; one for a cantilever.
    pub bearings: &'a [Length],
    /// Length of the member.
    pub length: Length,
    /// Overall depth, for the run of a flat crack.
    pub depth: Length,
    /// What is in place on the member, per member unit.
    pub in_place: &'a [Load],
    /// The jack lines.
    pub lines: &'a [(Length, Net<Force>)],
    /// What the rig springs back if the member falls: uplift of the reaction member, bars, oil.
    pub spring_back: Length,
    /// Reading expected at the catch at full load, soft prediction.
    pub reading: Length,
}

/// The shoring, per member unit.
#[derive(Clone, PartialEq, Debug)]
pub struct Shoring {
    /// Static force on the catch of what is in place, moments about the sound bearing.
    pub own: Force,
    /// Static force on the catch of the test load, were it weights.
    pub test: Force,
    /// Force on the catch without a drop in height, as a check: twice the static one for weights.
    pub contact_force: Force,
    /// Dynamic force on the catch with the gap that is given.
    pub force: Force,
    /// Whether the locked-off rig is slack before the catch stops the drop.
    pub slack: bool,
    /// What the posts carry.
    pub resistance: Force,
    /// Least gap: reading expected and its uncertainty.
    pub gap_low: Length,
    /// Least gap with the clearance of the library rule.
    pub gap_recommended: Length,
    /// Largest gap whose drop the catch can stop; nothing where it stops none.
    pub gap_high: Option<Length>,
    /// Shares of the levels, the top first, the ground last.
    pub levels: Vec<LevelShare>,
    /// Least number of levels from the top that carry the catch force; nothing where all do not.
    pub levels_needed: Option<usize>,
    /// The checks.
    pub verdicts: Vec<Verdict>,
    /// States that endanger people.
    pub stops: Vec<Stop>,
    /// What to know.
    pub notes: Vec<Note>,
}

/// Checks the shoring.
///
/// # Errors
/// `shoring.catch-outside`, `shoring.levels-zero`, `shoring.post-stiffness-missing`, and what the
/// rules of the fields refuse.
pub fn check(spec: &ShoringSpec, around: &Surroundings<'_>) -> Result<Shoring, Error> {
    validate_named("shoring", spec)?;
    check_recorded(&mut NoRecord, spec, around)
}

pub(crate) fn check_recorded<R: Recorder>(
    recorder: &mut R,
    spec: &ShoringSpec,
    around: &Surroundings<'_>,
) -> Result<Shoring, Error> {
    let mut shoring = Shoring {
        own: Force::ZERO,
        test: Force::ZERO,
        contact_force: Force::ZERO,
        force: Force::ZERO,
        slack: false,
        resistance: Force::ZERO,
        gap_low: Length::ZERO,
        gap_recommended: Length::ZERO,
        gap_high: None,
        levels: Vec::new(),
        levels_needed: None,
        verdicts: Vec::new(),
        stops: Vec::new(),
        notes: Vec::new(),
    };
    let Some(catch) = &spec.catch else {
        shoring.stops.push(Stop::new(
            slug::SHORING_CATCH_MISSING,
            "shoring.catch",
            "no catch is described; full catch always, whatever mode is predicted",
        ));
        return Ok(shoring);
    };
    refuse(spec, catch, around)?;
    shoring.falling(recorder, spec, catch, around);
    shoring.gap(spec, catch, around);
    shoring.levels(spec, around.unit);
    if !catch.posts_on_joist_lines {
        shoring.stops.push(Stop::new(
            slug::SHORING_POST_OFF_JOIST,
            "shoring.catch.posts_on_joist_lines",
            "a post stands on the slab between joists: check punching, or move it",
        ));
    }
    Ok(shoring)
}

fn refuse(spec: &ShoringSpec, catch: &Catch, around: &Surroundings<'_>) -> Result<(), Error> {
    let mut issues = Vec::new();
    let at = catch.at.value;
    let on_bearing = around.bearings.iter().any(|b| (*b - at).abs() <= around.length * 1e-9);
    if !(at >= Length::ZERO && at <= around.length) || on_bearing {
        issues.push(
            Issue::new(
                slug::SHORING_CATCH_OUTSIDE,
                "shoring.catch.at",
                "the catch stands beyond the member or at a bearing",
            )
            .value(catch.at.shown()),
        );
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

/// The piece that falls: its sound bearing, and the stretch of load that hangs on it.
struct Piece {
    pivot: Length,
    from: Length,
    to: Length,
}

fn pieces(catch: Length, around: &Surroundings<'_>) -> Vec<Piece> {
    let (first, last) = (
        around.bearings.first().copied().unwrap_or(Length::ZERO),
        around.bearings.last().copied().unwrap_or(around.length),
    );
    if around.bearings.len() < 2 {
        return vec![Piece { pivot: first, from: first, to: around.length }];
    }
    let middle = (around.region.0 + around.region.1) / 2.0;
    match around.mode {
        Mode::Shear if middle <= (first + last) / 2.0 => {
            vec![Piece { pivot: last, from: Length::ZERO, to: last }]
        }
        Mode::Shear => vec![Piece { pivot: first, from: first, to: around.length }],
        // a hinge: both parts come down on the catch
        Mode::Flexure | Mode::Hogging => {
            vec![
                Piece { pivot: first, from: first, to: catch },
                Piece { pivot: last, from: catch, to: last },
            ]
        }
    }
}

/// Moment of the part of `load` inside `[from, to]` about `pivot`, as a size.
fn moment_about(load: &Load, piece: &Piece) -> Moment {
    match *load {
        Load::Point { at, force } if at >= piece.from && at <= piece.to => {
            force * (at - piece.pivot).abs()
        }
        Load::Line { from, to, w_from, w_to } => {
            let (a, b) = (from.max(piece.from), to.min(piece.to));
            if a >= b {
                return Moment::ZERO;
            }
            let at = |x: Length| w_from + (w_to - w_from) * ((x - from) / (to - from));
            let (wa, wb, c) = (at(a), at(b), b - a);
            let left = (wa * 2.0 + wb) * c * c / 6.0;
            let resultant = (wa + wb) * c / 2.0;
            // about the right end of the part, then moved to the pivot
            let about_right = left;
            if piece.pivot >= b {
                about_right + resultant * (piece.pivot - b)
            } else {
                (wa + wb * 2.0) * c * c / 6.0 + resultant * (a - piece.pivot)
            }
        }
        _ => Moment::ZERO,
    }
}

impl Shoring {
    fn falling<R: Recorder>(
        &mut self,
        recorder: &mut R,
        spec: &ShoringSpec,
        catch: &Catch,
        around: &Surroundings<'_>,
    ) {
        let at = catch.at.value;
        recorder.about(|| Message::new("What falls on the catch at x = {}", [at.into()]));
        let mut jack_energy_lever = 0.0;
        let mut counted: Vec<Length> = Vec::new();
        for piece in pieces(at, around) {
            let lever = (piece.pivot - at).abs();
            let moment: Moment = around.in_place.iter().map(|l| moment_about(l, &piece)).sum();
            self.own += static_catch(recorder, moment * spec.dragged_along.value(), lever);
            for (x, p) in around.lines {
                let inside = *x >= piece.from && *x <= piece.to && !counted.contains(x);
                if inside {
                    counted.push(*x);
                    let arm = (*x - piece.pivot).abs();
                    self.test += following_share(recorder, p.0, arm, lever);
                    jack_energy_lever += p.0.si() * (arm / lever);
                }
            }
        }
        let p: Force = around.lines.iter().map(|l| l.1.0).sum();
        let r = if p > Force::ZERO { jack_energy_lever / p.si() } else { 0.0 };
        let (k, h) = (catch.stiffness.value, catch.gap.value);
        let force = |recorder: &mut R, h: Length, own: Force, test: Force| match spec.drive {
            Drive::LockedOffJacks if around.spring_back > Length::ZERO && r > 0.0 => {
                catch_force_rig(recorder, own, k, h, (p, around.spring_back, r))
            }
            Drive::LockedOffJacks => (dropped(recorder, own, k, h), true),
            Drive::Weights => (dropped(recorder, own + test, k, h), true),
        };
        let (own, test) = (self.own, self.test);
        self.contact_force = force(recorder, Length::ZERO, own, test).0;
        (self.force, self.slack) = force(recorder, h, own, test);
        self.resistance = resistance(recorder, &catch.resistance);
        let capacity = self.resistance;
        let largest = match spec.drive {
            Drive::LockedOffJacks if around.spring_back > Length::ZERO && r > 0.0 => {
                largest_gap_rig(recorder, own, k, capacity, (p, around.spring_back, r))
            }
            Drive::LockedOffJacks => largest_gap_weights(recorder, own, k, capacity),
            Drive::Weights => largest_gap_weights(recorder, own + test, k, capacity),
        };
        // where any drop is stopped, none is longer than the member
        let largest = largest.unwrap_or(around.length);
        // the parabola has a second branch below the force of contact: no drop belongs to it
        let stops_some = self.contact_force <= capacity && largest >= Length::ZERO;
        self.gap_high = stops_some.then_some(largest);
        let verdict = Verdict::design(
            slug::SHORING_CATCH_OVER_CAPACITY,
            self.force.into(),
            Limit::AtMost(capacity.si()),
            Basis::total(around.unit),
            Clause::Named("accidental action (library rule)"),
        );
        if verdict.state != State::Pass {
            let message = Message::new(
                "catch force {} on posts that carry {}",
                [self.force.into(), capacity.into()],
            );
            self.stops.push(
                Stop::new(slug::SHORING_CATCH_OVER_CAPACITY, "shoring.catch", message)
                    .with(verdict),
            );
        }
        self.verdicts.push(verdict);
        self.place(catch, around);
    }

    /// Beyond the far edge of the region plus the run of a flat crack, two depths.
    fn place(&mut self, catch: &Catch, around: &Surroundings<'_>) {
        if around.mode != Mode::Shear || around.bearings.len() < 2 {
            return;
        }
        let run = around.depth * 2.0;
        let at = catch.at.value;
        let middle = around.length / 2.0;
        let left = (around.region.0 + around.region.1) / 2.0 <= middle;
        let beyond = if left { at >= around.region.1 + run } else { at <= around.region.0 - run };
        if !beyond {
            let message = Message::new(
                "a flat crack from the edge of the region runs {}; nearer than that the catch may hold only the stub",
                [run.into()],
            );
            self.notes.push(Note::new(slug::SHORING_CATCH_NEAR, "shoring.catch.at", message));
        }
    }

    fn gap(&mut self, spec: &ShoringSpec, catch: &Catch, around: &Surroundings<'_>) {
        let gap = catch.gap.value;
        self.gap_low = around.reading + spec.reading_uncertainty.value;
        self.gap_recommended = self.gap_low + spec.clearance.value;
        let rule = Clause::Named("gap above the reading expected (library rule)");
        let verdict = Verdict::design(
            slug::SHORING_GAP_NOT_ABOVE_READING,
            gap.into(),
            Limit::AtLeast(self.gap_low.si()),
            Basis::net(around.unit),
            rule,
        );
        let empty = self.gap_high.is_none_or(|high| high < self.gap_low);
        if verdict.state != State::Pass || empty {
            let high = self.gap_high.map_or_else(|| "no drop at all".into(), Said::small);
            let message = Message::new(
                "gap {}; window {} (reading expected + U) to {} (what the catch can stop)",
                [Said::small(gap), Said::small(self.gap_low), high],
            );
            self.stops.push(
                Stop::new(slug::SHORING_GAP_NOT_ABOVE_READING, "shoring.catch.gap", message)
                    .with(verdict),
            );
        }
        self.verdicts.push(verdict);
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

impl crate::source::Write for Shoring {
    fn write(&self) -> crate::source::Node {
        crate::source::Node::map(vec![
            ("own", self.own.write()),
            ("test", self.test.write()),
            ("contact_force", self.contact_force.write()),
            ("force", self.force.write()),
            ("slack", self.slack.write()),
            ("resistance", self.resistance.write()),
            ("gap_low", self.gap_low.write()),
            ("gap_recommended", self.gap_recommended.write()),
            ("gap_high", self.gap_high.write()),
            ("levels", self.levels.write()),
            ("levels_needed", self.levels_needed.write()),
            ("verdicts", self.verdicts.write()),
            ("stops", self.stops.write()),
            ("notes", self.notes.write()),
        ])
    }
}
