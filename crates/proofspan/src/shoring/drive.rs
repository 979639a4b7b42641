//! How what falls comes down on the catches: at rest, and after the drop.

use smallvec::{SmallVec, smallvec};

use super::around::Surroundings;
use super::body::{Part, Scene, Share};
use super::catch::{
    Drive, catch_force_rig, dropped, elastic_force, following_share, padded, static_catch,
};
use super::falls::{Fall, Falls};
use super::spec::{Catch, ShoringSpec};
use crate::formula::{NoRecord, Recorder};
use crate::units::{Force, Length, Moment};

/// The forces of the catches at their places in one failure.
pub(crate) type Landing = SmallVec<[(usize, Length, Force); 3]>;

/// How the test load follows a drop.
pub(super) struct Rig {
    drive: Drive,
    jacks: Force,
    spring_back: Length,
}

impl Rig {
    pub(super) fn of(spec: &ShoringSpec, around: &Surroundings<'_>) -> Self {
        let jacks = around.on_it.iter().filter(|l| l.jack).map(|l| l.force).sum();
        Self { drive: spec.drive, jacks, spring_back: around.spring_back }
    }

    /// Whether jacks follow the drop without a bound that is known.
    pub(super) fn unbounded(&self) -> bool {
        self.drive == Drive::LockedOffJacks
            && self.jacks > Force::ZERO
            && !self.spring_back.si().is_finite()
    }

    /// The weight that falls, and the rig where its energy is what drives.
    pub(super) fn drives(&self, share: Share) -> (Force, Option<(Force, Length, f64)>) {
        let falls = Force::from_si(share.own + share.weights);
        if self.drive == Drive::Weights || self.unbounded() {
            return (Force::from_si(share.total()), None);
        }
        let r = if self.jacks > Force::ZERO { share.jacks / self.jacks.si() } else { 0.0 };
        let pulls = self.spring_back > Length::ZERO && r > 0.0;
        (falls, pulls.then_some((self.jacks, self.spring_back, r)))
    }

    /// The force of one catch after a drop `h`, and whether the rig is slack then.
    pub(super) fn force<R: Recorder>(
        &self,
        recorder: &mut R,
        catch: &Catch,
        share: Share,
        h: Length,
    ) -> (Force, bool) {
        let k = catch.stiffness.value;
        let (falls, rig) = self.drives(share);
        let (force, slack) = match rig {
            Some(rig) => catch_force_rig(recorder, falls, k, h, rig),
            None => (dropped(recorder, falls, k, h), true),
        };
        match &catch.pad {
            Some(pad) if force > pad.crush.value => {
                let spring = rig.map_or((Force::ZERO, Length::ZERO), |r| (r.0, r.1));
                let pad = (pad.crush.value, pad.travel.value);
                (padded(recorder, (falls, h, k), spring, pad).0, true)
            }
            _ => (force, slack),
        }
    }

    /// How far the pad of a catch is crushed by a drop `h`.
    pub(super) fn crushes(&self, catch: &Catch, share: Share, h: Length) -> Option<Length> {
        let pad = catch.pad.as_ref()?;
        let (falls, rig) = self.drives(share);
        let bare = Catch { pad: None, ..catch.clone() };
        if self.force(&mut NoRecord, &bare, share, h).0 <= pad.crush.value {
            return Some(Length::ZERO);
        }
        let spring = rig.map_or((Force::ZERO, Length::ZERO), |r| (r.0, r.1));
        let k = catch.stiffness.value;
        let pad = (pad.crush.value, pad.travel.value);
        Some(padded(&mut NoRecord, (falls, h, k), spring, pad).1)
    }

    /// The force were all of the test load a weight and the catch without its pad: the bound.
    pub(super) fn bound<R: Recorder>(
        &self,
        recorder: &mut R,
        catch: &Catch,
        share: Share,
        h: Length,
    ) -> Force {
        dropped(recorder, Force::from_si(share.total()), catch.stiffness.value, h)
    }

    /// The forces of all catches in one failure.
    pub(super) fn landing(
        &self,
        spec: &ShoringSpec,
        fall: &Fall,
    ) -> impl Iterator<Item = (usize, Length, Force)> {
        let loaded = spec.catch.iter().zip(&fall.shares).enumerate();
        loaded.filter(|(_, (_, share))| share.total() > 0.0).map(|(i, (c, share))| {
            (i, c.at.value, self.force(&mut NoRecord, c, *share, c.gap.value).0)
        })
    }
}

impl Rig {
    /// The largest sum of all catch forces. Between two cracks looked at every catch is taken at the
    /// larger of the two, for left pieces grow and right ones shrink: a bound from above.
    pub(super) fn together(&self, spec: &ShoringSpec, falls: &Falls) -> Landing {
        type Forces = SmallVec<[Force; 4]>;
        let forces: SmallVec<[(usize, Forces); 4]> = falls
            .all
            .iter()
            .map(|f| {
                let mut all: Forces = smallvec![Force::ZERO; spec.catch.len()];
                for (i, _, force) in self.landing(spec, f) {
                    if let Some(slot) = all.get_mut(i) {
                        *slot = force;
                    }
                }
                (f.group, all)
            })
            .collect();
        let sum = |all: &[Force]| all.iter().copied().sum::<Force>();
        let most = forces.iter().max_by(|a, b| sum(&a.1).si().total_cmp(&sum(&b.1).si()));
        let mut most = most.map(|f| f.1.clone()).unwrap_or_default();
        for ((g, a), (h, b)) in forces.iter().zip(forces.iter().skip(1)) {
            let both: Forces = a.iter().zip(b).map(|(x, y)| x.max(*y)).collect();
            if g == h && sum(&both) > sum(&most) {
                most = both;
            }
        }
        let places = spec.catch.iter().map(|c| c.at.value).zip(most).enumerate();
        places.map(|(i, (at, force))| (i, at, force)).collect()
    }
}

/// The static force of one catch in a failure, every line recorded: levers where one support and
/// the catch hold a piece, the spring of the catch where several do.
pub(super) fn at_rest<R: Recorder>(
    recorder: &mut R,
    catch: (usize, &Catch),
    scene: &Scene,
    fall: &Fall,
) -> Share {
    let (number, catch) = catch;
    let share = fall.shares.get(number).copied().unwrap_or_default();
    let si = Length::from_si;
    let mut levered = Share::default();
    for (piece, pivot, _) in fall.levers.iter().filter(|l| l.2 == number) {
        let lever = (catch.at.value - si(*pivot)).abs();
        let side = (catch.at.value.si() - pivot).signum();
        let [own, ..] = scene.sums(piece, *pivot);
        levered.own += static_catch(recorder, Moment::from_si(side * own.1), lever).si();
        let mut test = [0.0_f64; 2];
        for load in scene.on(piece).filter(|l| l.part != Part::Own) {
            let (force, moment) = Scene::about(load, piece, *pivot);
            if force == 0.0 {
                continue;
            }
            let arm = si(side * moment / force);
            let p = following_share(recorder, Force::from_si(force), arm, lever).si();
            let [weights, jacks] = &mut test;
            *(if load.part == Part::Jacks { jacks } else { weights }) += p;
        }
        let arm = si(Scene::farthest(piece, *pivot, side));
        let [weights, jacks] = test.map(|t| t.max(0.0));
        levered.jacks += jacks;
        levered.weights += weights;
        for load in scene.reach(piece) {
            levered.weights +=
                following_share(recorder, Force::from_si(load.force), arm, lever).si();
        }
    }
    // what is left rests on springs
    let k = catch.stiffness.value;
    let slight = 1e-9 * share.total();
    let mut spring = |all: f64, levered: f64| {
        let rest = all - levered;
        if rest.abs() <= slight {
            return levered;
        }
        levered + elastic_force(recorder, k, Force::from_si(rest) / k).si()
    };
    Share {
        own: spring(share.own, levered.own.max(0.0)),
        weights: spring(share.weights, levered.weights),
        jacks: spring(share.jacks, levered.jacks),
    }
}
