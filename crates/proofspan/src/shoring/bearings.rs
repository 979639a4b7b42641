//! What a bearing carries while a piece falls and its catches take it.
//!
//! A piece with one bearing left turns about it as a rigid body: the bearing pulls its masses around, a
//! quarter of the weight of a uniform one as it begins to fall. A catch within the centre of percussion
//! relieves the bearing, one beyond it pries on it. What stands on a piece counts with it and without it,
//! jacks without a mass; the force of the catch is the one at the gap given, or any below it. A piece that its
//! bearings hold acts on them by statics, or as if it were hinged over the nearest where a catch takes the
//! part beyond. One with hinges that they do not hold moves as rigid bodies that hang on each other.

use super::around::Surroundings;
use super::body::{Held, Piece, Rest, Scene, Share};
use super::chain::Chain;
use super::check::{refuse, regions, scene};
use super::drive::Rig;
use super::falls::{Region, SCANNED, Search, Under, largest};
use super::spec::ShoringSpec;
use crate::beam::{Beam, Load, Support};
use crate::error::{Error, go_on};
use crate::formula::{NoRecord, Recorder};
use crate::source::validate_named;
use crate::units::{FlexuralRigidity, Force, Length, Message, Moment};

crate::laws! {
    /// Where a push on a piece that turns about a bearing does not act on the bearing: weights at their distances from it.
    pub fn centre_of_percussion(s2: FlexuralRigidity as "S_2", s1: Moment as "S_1") -> Length as "l_p" = s2 / s1;
    source "rigid body about a bearing: S_1 = sum of W r, S_2 = sum of W r^2";
    /// Reaction of the bearing: what stands on the piece, less its catches, and what its masses take of the moment that is left.
    pub fn bearing_caught(g: Force as "G", f: Force as "F_catch", mc: Moment as "M_catch", m: Moment as "M_G", l: Length as "l_p") -> Force as "R" = g - f + (mc - m) / l;
    source "Newton: turning about the bearing, and up and down";
    /// Reaction of a bearing that what stands on a piece presses on, with nothing that falls.
    pub fn bearing_standing(g: Force as "G", part: f64 as "part") -> Force as "R" = part * g;
    source "statics of the piece";
    /// Reaction of a bearing of a piece with hinges: as it begins to move, and what its catches add.
    pub fn bearing_linked(r0: Force as "R_0", c: f64 as "c", f: Force as "F_catch") -> Force as "R" = r0 + c * f;
    source "Newton on rigid bodies that hang on each other by hinges";
}

crate::answer! {
    /// What a bearing carries while the member falls and is caught, per member unit.
    pub struct BearingCaught {
        /// Its place from the left end of the member.
        at: Length,
        /// The crack or hinge that loads it most; nothing where no piece acts on it.
        crack: Option<Length>,
        /// The most it carries, up positive; nothing where a piece acts on it that nothing holds in equilibrium, or one with hinges of which a part that moves hangs on more than two bearings: not computed.
        force: Option<Force>,
    }
}

/// How one piece acts on one bearing.
#[derive(Clone, Copy, Debug)]
struct Acts {
    force: f64,
    /// What stands on it.
    all: f64,
    how: How,
}

/// How a piece moves.
#[derive(Clone, Copy, Debug)]
enum How {
    /// It stands.
    Stands,
    /// About the bearing: force and moment of the catches, moment of what stands on it, first and second
    /// moment of its weights.
    Turns([f64; 5]),
    /// In parts that hang on each other: what the bearing carries as they begin to move, and the forces of
    /// the catches that add to it.
    Linked { free: f64, pushes: f64 },
}

/// Everything the search needs.
struct Bearings<'a> {
    spec: &'a ShoringSpec,
    beam: &'a Beam,
    scene: &'a Scene,
    search: Search<'a>,
    rig: Rig,
}

/// What every bearing carries while a piece falls and is caught, the crack that loads it most; empty without
/// a catch.
///
/// ```
/// use proofspan::beam::{Beam, Load};
/// use proofspan::formula::NoRecord;
/// use proofspan::scope::Mode;
/// use proofspan::shoring::{ShoringSpec, Surroundings, caught_bearings};
/// use proofspan::source::read_json;
/// use proofspan::units::*;
/// use proofspan::verdict::MemberUnit;
/// let spec: ShoringSpec = read_json(
///     r#"{"to_ground": true, "drive": "weights", "catch": [{"at": "4 m", "stiffness": "10 kN/mm",
///         "gap": "10 mm", "resistance": {"posts": 4, "rated": "500 kN"}}]}"#,
/// )?;
/// let beam = Beam::simple(10.0 * M, 1e5 * KN_M2)?;
/// let own = [Load::uniform(0.0 * M, 10.0 * M, 10.0 * KN_PER_M)];
/// let around = Surroundings {
///     unit: MemberUnit::Beam,
///     beam: &beam,
///     regions: &[(Mode::Shear, 0.0 * M, 1.0 * M)],
///     depth: 0.6 * M,
///     in_place: &own,
///     on_it: &[],
///     rig_weight: &[],
///     spring_back: 0.0 * MM,
///     fractions: &[Ratio::from_si(1.0)],
///     reading: &|_| 4.0 * MM,
/// };
/// let found = caught_bearings(&mut NoRecord, &spec, &around)?;
/// // a piece of 9 m or more turns about the right bearing, which carries a quarter of it as it begins to fall
/// assert!(found[1].force.is_some_and(|f| f >= 22.5 * KN));
/// # Ok::<(), proofspan::Error>(())
/// ```
///
/// # Errors
/// What [`check`](super::check()) refuses.
pub fn caught_bearings<R: Recorder>(
    recorder: &mut R,
    spec: &ShoringSpec,
    around: &Surroundings<'_>,
) -> Result<Vec<BearingCaught>, Error> {
    validate_named("shoring", spec)?;
    if spec.catch.is_empty() {
        return Ok(Vec::new());
    }
    refuse(spec, around.beam)?;
    let scene = scene(spec, around);
    let regions = regions(around);
    let all = Bearings {
        spec,
        beam: around.beam,
        scene: &scene,
        search: Search::new(&scene, &regions, None),
        rig: Rig::of(spec, around),
    };
    scene.supports.iter().map(|s| all.worst(recorder, s.at, &regions)).collect()
}

impl Bearings<'_> {
    /// The crack that loads a bearing most.
    fn worst<R: Recorder>(
        &self,
        recorder: &mut R,
        bearing: f64,
        regions: &[Region],
    ) -> Result<BearingCaught, Error> {
        let mut best: Option<(f64, Acts)> = None;
        let mut known = true;
        for (i, region) in regions.iter().enumerate() {
            let released = self.search.released(i);
            let cuts: &[&[f64]] = if released.is_empty() { &[&[]] } else { &[&[], &released] };
            for cuts in cuts {
                for (x, under) in self.cracks(region, bearing, cuts) {
                    go_on()?;
                    match self.at(bearing, x, under, cuts) {
                        Some(Ok(acts)) if best.is_none_or(|b| acts.force > b.1.force) => {
                            best = Some((x, acts));
                        }
                        Some(Err(())) => known = false,
                        _ => {}
                    }
                }
            }
        }
        let at = Length::from_si(bearing);
        let force = match best.filter(|_| known) {
            None => Some(Force::ZERO).filter(|_| known),
            Some((x, acts)) => {
                recorder.about(|| {
                    let places = [at.into(), Length::from_si(x).into()];
                    Message::new(
                        "The bearing at x = {} when a crack at x = {} drops a piece",
                        places,
                    )
                });
                Some(acts.worked(recorder))
            }
        };
        let crack = best.map(|b| Length::from_si(b.0));
        Ok(BearingCaught { at, crack: crack.filter(|_| known), force })
    }

    /// The cracks of a region among which is the worst for a bearing.
    fn cracks(&self, region: &Region, bearing: f64, cuts: &[f64]) -> Vec<(f64, Under)> {
        let same = self.scene.same();
        let places = self.search.places(region);
        let mut all = Vec::new();
        if region.to - region.from <= same {
            all.push((region.from, Under::Both));
        }
        for x in &places {
            if *x > region.from + same {
                all.push((*x, Under::Right));
            }
            if *x < region.to - same {
                all.push((*x, Under::Left));
            }
        }
        for (a, b) in places.iter().zip(places.iter().skip(1)) {
            let of = |x: f64| match self.at(bearing, x, Under::Both, cuts) {
                Some(Ok(acts)) => acts.force,
                _ => f64::NEG_INFINITY,
            };
            let place = |i: u32| a + (b - a) * f64::from(i) / f64::from(SCANNED);
            let scanned = (1..SCANNED).map(place).map(|x| (x, of(x)));
            let Some((x, _)) = scanned.max_by(|p, q| p.1.total_cmp(&q.1)) else { continue };
            let step = (b - a) / f64::from(SCANNED);
            // the ends are those of above, with what stands there on one side
            let ends = ((x - step).max(a + 4.0 * same), (x + step).min(b - 4.0 * same));
            all.push((largest(ends, of), Under::Both));
        }
        all
    }

    /// How the piece that a crack leaves on a bearing acts on it; nothing where none does.
    fn at(&self, bearing: f64, x: f64, under: Under, cuts: &[f64]) -> Option<Result<Acts, ()>> {
        let same = self.scene.same();
        let pieces = self.search.pieces(x, under, cuts);
        let on = |p: &&Piece| {
            p.to - p.from > same && p.supports.iter().any(|s| (s.at - bearing).abs() <= same)
        };
        // a crack over a bearing leaves both pieces on it
        let each = pieces.iter().filter(on).map(|piece| self.acts(piece, bearing, x));
        each.reduce(|a, b| match (a, b) {
            (Ok(a), Ok(b)) => Ok(if a.force >= b.force { a } else { b }),
            _ => Err(()),
        })
    }

    fn acts(&self, piece: &Piece, bearing: f64, crack: f64) -> Result<Acts, ()> {
        let same = self.scene.same();
        let linked = self.hinges(piece).next().is_some();
        if let [pivot] = piece.supports.as_slice()
            && !pivot.turn
            && !linked
        {
            return Ok(self.turns(piece, *pivot));
        }
        let mut acts = match self.stands(piece, bearing) {
            Err(()) if linked => return self.linked(piece, bearing),
            found => found?,
        };
        // what hangs beyond the nearest bearing may hinge over it and come down on a catch
        if let Some(hinged) = self.search.hinged(piece, crack)
            && let [pivot] = hinged.supports.as_slice()
            && (pivot.at - bearing).abs() <= same
        {
            let falls = self.turns(&hinged, *pivot);
            let (from, to) = if hinged.to <= pivot.at + same {
                (pivot.at, piece.to)
            } else {
                (piece.from, pivot.at)
            };
            let rest = Piece { from, to, catches: smallvec::SmallVec::new(), ..piece.clone() };
            let kept = if to - from > same { self.stands(&rest, bearing)?.force } else { 0.0 };
            let force = falls.force + kept;
            if force > acts.force {
                acts = Acts { force, all: acts.all, how: How::Stands };
            }
        }
        Ok(acts)
    }

    /// The hinges of the member within a piece.
    fn hinges<'p>(&'p self, piece: &'p Piece) -> impl Iterator<Item = f64> + 'p {
        let same = self.scene.same();
        let inside = move |h: &f64| *h > piece.from + same && *h < piece.to - same;
        self.scene.hinges.iter().copied().filter(inside)
    }

    /// The catches that a piece comes down on, each with its part of the test load.
    fn shares(&self, piece: &Piece) -> Option<Vec<(usize, Share)>> {
        match self.scene.rest(piece) {
            Rest::Lever { catch, share, .. } => Some(vec![(catch, share)]),
            Rest::Springs(list) | Rest::Tips(list) => Some(list.to_vec()),
            Rest::Supports => Some(Vec::new()),
            Rest::Falls => None,
        }
    }

    /// Places and forces of catches with these parts of weights and jacks.
    fn pushes(&self, shares: &[(usize, Share)], (w, j): (f64, f64)) -> Vec<(f64, f64)> {
        let each = shares.iter().filter_map(|(i, share)| {
            let (catch, post) = (self.spec.catch.get(*i)?, self.scene.posts.get(*i)?);
            let share =
                Share { own: share.own, weights: w * share.weights, jacks: j * share.jacks };
            let force = self.rig.force(&mut NoRecord, catch, share, catch.gap.value).0;
            Some((post.at, force.si()))
        });
        each.collect()
    }

    /// A piece of rigid bodies that hang on each other and do not stand.
    fn linked(&self, piece: &Piece, bearing: f64) -> Result<Acts, ()> {
        let same = self.scene.same();
        let seat = piece.supports.iter().position(|s| (s.at - bearing).abs() <= same).ok_or(())?;
        let shares = self.shares(piece).ok_or(())?;
        let chain = Chain::new(self.scene, piece);
        let mut best: Option<Acts> = None;
        for parts in [(0.0, 0.0), (0.0, 1.0), (1.0, 0.0), (1.0, 1.0)] {
            let carries = |pushes: &[(f64, f64)]| {
                let all = chain.moving(parts, pushes).ok_or(())?;
                Ok((all.get(seat).copied().ok_or(())?, all.iter().sum::<f64>()))
            };
            let (free, all) = carries(&[])?;
            let mut prying = Vec::new();
            for push in self.pushes(&shares, parts) {
                if carries(&[push])?.0 > free {
                    prying.push(push);
                }
            }
            let caught = carries(&prying)?.0;
            let force = caught.max(free);
            let pushes = if force > free { prying.iter().map(|p| p.1).sum() } else { 0.0 };
            if best.is_none_or(|b| force > b.force) {
                best = Some(Acts { force, all, how: How::Linked { free, pushes } });
            }
        }
        best.ok_or(())
    }

    /// A piece that turns about its only bearing.
    fn turns(&self, piece: &Piece, pivot: Held) -> Acts {
        let scene = self.scene;
        let shares = self.shares(piece).unwrap_or_default();
        // the catches with a part of the test load: force and lever
        let pushes = |w: f64, j: f64| {
            let each = self.pushes(&shares, (w, j)).into_iter();
            each.map(|(at, force)| (force, at - pivot.at)).collect::<Vec<(f64, f64)>>()
        };
        let [own, weights, jacks] = scene.sums(piece, pivot.at);
        let mass = |part| {
            let each = scene.on(piece).filter(|l| l.part == part);
            each.map(|l| l.mass(piece.from, piece.to, pivot.at))
                .fold([0.0; 3], |a, b| [a[0] + b[0], a[1] + b[1], a[2] + b[2]])
        };
        let (of_own, mut of_weights) =
            (mass(super::body::Part::Own), mass(super::body::Part::Weights));
        // loose load stands where it does: what slides away from the bearing relieves it
        let mut stacked = weights;
        for loose in scene.reach(piece) {
            let [force, first, second] = loose.standing(piece).mass(piece.from, piece.to, pivot.at);
            stacked = (stacked.0 + force, stacked.1 + first);
            of_weights = [of_weights[0] + force, of_weights[1] + first, of_weights[2] + second];
        }
        let mut best: Option<Acts> = None;
        for w in [0.0, 1.0] {
            for j in [0.0, 1.0] {
                let g = own.0 + w * stacked.0 + j * jacks.0;
                let m = own.1 + w * stacked.1 + j * jacks.1;
                let (s1, s2) = (of_own[1] + w * of_weights[1], of_own[2] + w * of_weights[2]);
                let pushes = pushes(w, j);
                let acts = if pushes.is_empty() || s2 <= 0.0 || s1 == 0.0 {
                    Acts { force: g, all: g, how: How::Stands }
                } else {
                    let pries = |(_, arm): &&(f64, f64)| arm * s1 / s2 > 1.0;
                    let caught = pushes.iter().filter(pries);
                    let (f, mc) = caught.fold((0.0, 0.0), |(f, m), p| (f + p.0, m + p.0 * p.1));
                    let force = g - f + (mc - m) * (s1 / s2);
                    Acts { force, all: g, how: How::Turns([f, mc, m, s1, s2]) }
                };
                if best.is_none_or(|b| acts.force > b.force) {
                    best = Some(acts);
                }
            }
        }
        best.unwrap_or(Acts { force: 0.0, all: 0.0, how: How::Stands })
    }

    /// A piece that its supports hold, by statics, with the test load and without.
    fn stands(&self, piece: &Piece, bearing: f64) -> Result<Acts, ()> {
        let (scene, si) = (self.scene, Length::from_si);
        let same = scene.same();
        let own = self
            .beam
            .supports()
            .iter()
            .filter(|s| piece.supports.iter().any(|h| (h.at - s.at.si()).abs() <= same));
        let supports: Vec<Support> = own
            .map(|s| {
                let at = si((s.at.si() - piece.from).clamp(0.0, piece.to - piece.from));
                Support { at, settlement: Length::ZERO, ..*s }
            })
            .collect();
        let before = |x: &f64| *x <= piece.from + same;
        let stretches = self.beam.rigidity();
        let first = stretches.iter().rfind(|r| before(&r.0.si())).map(|r| (Length::ZERO, r.1));
        let inside = |x: f64| x > piece.from + same && x < piece.to - same;
        let others = stretches.iter().filter(|r| inside(r.0.si()));
        let rigidity =
            first.into_iter().chain(others.map(|r| (si(r.0.si() - piece.from), r.1))).collect();
        let hinges = self.hinges(piece).map(|h| si(h - piece.from)).collect();
        let beam = Beam::new(si(piece.to - piece.from), supports, rigidity)
            .and_then(|beam| beam.with_hinges(hinges))
            .map_err(|_| ())?;
        let mut best: Option<Acts> = None;
        for test in [false, true] {
            let acting = scene.on(piece).filter(|l| test || l.part == super::body::Part::Own);
            let mut loads: Vec<Load> =
                acting.filter_map(|l| l.load(piece.from, piece.to)).collect();
            if test {
                let loose = scene.reach(piece).map(|l| l.standing(piece));
                loads.extend(loose.filter_map(|l| l.load(piece.from, piece.to)));
            }
            let response = beam.response(&loads).map_err(|_| ())?;
            let here = |x: f64| (x + piece.from - bearing).abs() <= same;
            let found = response.reactions().iter().find(|r| here(r.at.si())).ok_or(())?;
            let all = response.reactions().iter().map(|r| r.force.si()).sum();
            let acts = Acts { force: found.force.si(), all, how: How::Stands };
            if best.is_none_or(|b| acts.force > b.force) {
                best = Some(acts);
            }
        }
        best.ok_or(())
    }
}

impl Acts {
    /// The same redone law by law.
    fn worked<R: Recorder>(&self, recorder: &mut R) -> Force {
        let all = Force::from_si(self.all);
        match self.how {
            How::Turns([f, mc, m, s1, s2]) => {
                let s2 = FlexuralRigidity::from_si(s2);
                let l = centre_of_percussion(recorder, s2, Moment::from_si(s1));
                let [mc, m] = [mc, m].map(Moment::from_si);
                bearing_caught(recorder, all, Force::from_si(f), mc, m, l)
            }
            How::Linked { free, pushes } => {
                let c = if pushes > 0.0 { (self.force - free) / pushes } else { 0.0 };
                bearing_linked(recorder, Force::from_si(free), c, Force::from_si(pushes))
            }
            How::Stands if self.all.abs() > 0.0 => {
                bearing_standing(recorder, all, self.force / self.all)
            }
            How::Stands => Force::from_si(self.force),
        }
    }
}
