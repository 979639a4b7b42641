//! The least counterweight, and its best place.
//!
//! The trap: a counterweight at the bearing gives the best factor against lift-off and does
//! nothing against moment reversal under the jacks, however heavy. So both are asked.

use crate::formula::{NoRecord, Recorder};
use crate::source::{Node, Write};
use crate::units::{Force, Length, Moment};
use crate::verdict::DESIGN_SLACK;

crate::laws! {
    /// Counterweight that gives a factor against lift-off of the left bearing.
    pub fn for_factor(sf: f64 as "SF", uplift: Force as "U", weight: Force as "G", l: Length as "L", z: Length as "z") -> Force as "C" = (sf * uplift - weight) * (l / (l - z));
    source "moments about the far bearing";
    /// Counterweight right of a section that keeps its net moment at the hogging that is allowed.
    pub fn against_reversal_right(jacks: Moment as "M_jacks", own: Moment as "M_own", allowed: Moment as "M_hog", l: Length as "L", z: Length as "z", x: Length as "x") -> Force as "C" = (jacks - own - allowed) / (x * ((l - z) / l));
    source "statics of a simple span, section at or left of the counterweight";
    /// Counterweight left of a section that keeps its net moment at the hogging that is allowed.
    pub fn against_reversal_left(jacks: Moment as "M_jacks", own: Moment as "M_own", allowed: Moment as "M_hog", l: Length as "L", z: Length as "z", x: Length as "x") -> Force as "C" = (jacks - own - allowed) / (z * ((l - x) / l));
    source "statics of a simple span, section right of the counterweight";
    /// Uplift of a bearing by one jack line: z from that bearing.
    pub fn line_uplift(p: Force as "P", l: Length as "L", z: Length as "z") -> Force as "U_line" = p * ((l - z) / l);
    source "moments about the far bearing";
    /// Uplift of a bearing by one jack line more.
    pub fn uplift_more(sum: Force as "U", one: Force as "U_line") -> Force as "U" = sum + one;
    source "superposition";
    /// Half of own weight, at either bearing.
    pub fn half_weight(w: crate::units::LineLoad as "w", l: Length as "L") -> Force as "G" = w * l / 2.0;
    source "statics of a simple span";
    /// Moment of one jack line at a section: a from the left bearing to the nearer of line and section, b from the farther to the right one.
    pub fn line_at_section(p: Force as "P", a: Length as "a", b: Length as "b", l: Length as "L") -> Moment as "M_line" = p * a * (b / l);
    source "statics of a simple span";
    /// Moment of the jacks with one line more.
    pub fn moment_more(sum: Moment as "M_jacks", one: Moment as "M_line") -> Moment as "M_jacks" = sum + one;
    source "superposition";
    /// Moment of own weight at a section.
    pub fn own_at_section(w: crate::units::LineLoad as "w", x: Length as "x", l: Length as "L") -> Moment as "M_own" = w * x * (l - x) / 2.0;
    source "statics of a simple span";
    /// What the counterweight must bring at a bearing, were it there.
    pub fn lack_at_bearing(sf: f64 as "SF", uplift: Force as "U", weight: Force as "G") -> Force as "lack" = sf * uplift - weight;
    source "moments about the far bearing, lever L";
    /// What it must bring for a section, as a force of lever one at its end.
    pub fn lack_at_section(jacks: Moment as "M_jacks", own: Moment as "M_own", allowed: Moment as "M_hog", arm: Length as "arm") -> Force as "lack" = (jacks - own - allowed) / arm;
    source "statics of a simple span";
    /// The place where a demand that rises with the place and one that falls are equal.
    pub fn balanced(l: Length as "L", falls: Force as "lack_right", rises: Force as "lack_left") -> Length as "z" = l * (falls / (rises + falls));
    source "lack_left L/(L - z) = lack_right L/z: the least of the larger of both";
    /// The larger of two demands.
    pub fn larger(a: Force as "C_1", b: Force as "C_2") -> Force as "C" = max(a, b);
    source "both are asked";
}

/// What is asked of a single counterweight.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub enum Advice {
    /// Own weight and the hogging allowed are enough: no counterweight is asked for.
    NothingLifts,
    /// The least one, and its best place.
    Place(LeastCounterweight),
    /// No weight at any place is enough.
    NoSuchWeight,
    /// No place is sought: the member is no single span between bearings.
    NotSought,
}

impl Advice {
    /// The word used in Python.
    #[must_use]
    pub const fn word(&self) -> &'static str {
        match self {
            Self::NothingLifts => "nothing lifts",
            Self::Place(_) => "a weight",
            Self::NoSuchWeight => "no such weight",
            Self::NotSought => "not sought",
        }
    }

    /// The same in places that count from where the left bearing stands at `origin`.
    pub(super) fn moved(self, origin: Length) -> Self {
        match self {
            Self::Place(least) => {
                Self::Place(LeastCounterweight { at: origin + least.at, ..least })
            }
            other => other,
        }
    }

    /// The least counterweight, where there is one to place.
    #[must_use]
    pub const fn placed(&self) -> Option<&LeastCounterweight> {
        match self {
            Self::Place(least) => Some(least),
            Self::NothingLifts | Self::NoSuchWeight | Self::NotSought => None,
        }
    }
}

impl Write for Advice {
    fn write(&self) -> Node {
        match self {
            Self::NothingLifts => Node::text(NOTHING_LIFTS),
            Self::Place(least) => least.write(),
            Self::NoSuchWeight => Node::text(NO_SUCH_WEIGHT),
            Self::NotSought => Node::text(NOT_SOUGHT),
        }
    }
}

/// The weight that is asked at a given place. Closed: none is needed, one is, or none would do.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum WeightAsked {
    /// None: nothing lifts.
    Nothing,
    /// So much.
    Weight(Force),
    /// However heavy, it would not do there.
    NoSuchWeight,
}

impl WeightAsked {
    /// The weight: zero for nothing; nothing where no weight does it.
    #[must_use]
    pub const fn force(self) -> Option<Force> {
        match self {
            Self::Nothing => Some(Force::ZERO),
            Self::Weight(force) => Some(force),
            Self::NoSuchWeight => None,
        }
    }
}

impl From<Force> for WeightAsked {
    fn from(force: Force) -> Self {
        if !force.is_finite() {
            Self::NoSuchWeight
        } else if force > Force::ZERO {
            Self::Weight(force)
        } else {
            Self::Nothing
        }
    }
}

impl Write for WeightAsked {
    fn write(&self) -> Node {
        match self {
            Self::Nothing => Node::text(NOTHING_LIFTS),
            Self::Weight(force) => force.write(),
            Self::NoSuchWeight => Node::text(NO_SUCH_WEIGHT),
        }
    }
}

const NOTHING_LIFTS: &str = "nothing lifts";
const NO_SUCH_WEIGHT: &str = "no such weight";
const NOT_SOUGHT: &str = "not sought: no single span";

crate::answer! {
    /// The least single counterweight that keeps both bearings down and the hogging allowed.
    pub struct LeastCounterweight {
        /// The factor of lift-off it is for.
        factor: f64,
        /// Its best place; in a rig from the left end of the member under test, else from the left bearing.
        at: Length,
        /// Its weight there.
        force: Force,
        /// What lift-off alone asks at that place.
        for_lift_off: Force,
        /// What moment reversal alone asks at that place.
        for_reversal: Force,
        /// The weight at the near bearing that lift-off alone would ask: useless against reversal.
        at_bearing: WeightAsked,
    }
}

/// What the search needs of the reaction member.
#[derive(Clone, Copy, Debug)]
pub(super) struct Statics<'a> {
    pub(super) span: Length,
    pub(super) weight: crate::units::LineLoad,
    pub(super) lines: &'a [(Length, Force)],
    pub(super) hogging: Moment,
}

impl Statics<'_> {
    /// Uplift of the left and right bearing by the jacks.
    pub(super) fn uplift(&self) -> (Force, Force) {
        let l = self.span;
        self.lines.iter().fold((Force::ZERO, Force::ZERO), |(a, b), (x, p)| {
            (a + *p * ((l - *x) / l), b + *p * (*x / l))
        })
    }

    /// The weight that both bearings ask for lift-off with one counterweight at `z`.
    fn lift_off<R: Recorder>(&self, rec: &mut R, sf: f64, z: Length) -> Force {
        let l = self.span;
        let weight = self.weight * l / 2.0;
        let (left, right) = self.uplift();
        let mut ask = |uplift: Force, z: Length| {
            // a bearing that stays down without help asks for nothing; no weight over the other helps it
            if sf * uplift <= weight {
                Force::ZERO
            } else if l - z <= l * DESIGN_SLACK {
                Force::from_si(f64::INFINITY)
            } else {
                for_factor(rec, sf, uplift, weight, l, z).max(Force::ZERO)
            }
        };
        ask(left, z).max(ask(right, l - z))
    }

    /// The moments of the jacks and of own weight at a section, as sizes.
    pub(super) fn at_section(&self, x: Length) -> (Moment, Moment) {
        let l = self.span;
        let jacks =
            self.lines.iter().map(|(p, force)| *force * x.min(*p) * ((l - x.max(*p)) / l)).sum();
        (jacks, self.weight * x * (l - x) / 2.0)
    }

    /// What own weight and the hogging allowed leave of the jacks' moment at a section.
    fn lack(&self, x: Length) -> Moment {
        let (jacks, own) = self.at_section(x);
        (jacks - own - self.hogging).max(Moment::ZERO)
    }

    /// The weight that the net moment under every jack asks with one counterweight at `z`.
    fn reversal<R: Recorder>(&self, rec: &mut R, z: Length) -> Force {
        let l = self.span;
        let mut most = Force::ZERO;
        for (x, _) in self.lines {
            let (jacks, own) = self.at_section(*x);
            if jacks <= own + self.hogging {
                continue;
            }
            let c = if z >= *x {
                against_reversal_right(rec, jacks, own, self.hogging, l, z, *x)
            } else {
                against_reversal_left(rec, jacks, own, self.hogging, l, z, *x)
            };
            let c = if c.is_finite() { c } else { Force::from_si(f64::INFINITY) };
            most = most.max(c);
        }
        most
    }

    /// The best place and the weight there. What each bearing and each section asks is a curve
    /// `a/(L − z)` that rises or `b/z` that falls, so their largest has its lowest point where
    /// one of each kind cross, at a jack line (there a section changes its curve) or at an end.
    pub(super) fn advice(&self, sf: f64) -> Advice {
        let (l, span) = (self.span.si(), self.span);
        let cost = |z: f64| {
            let z = Length::from_si(z);
            self.lift_off(&mut NoRecord, sf, z).max(self.reversal(&mut NoRecord, z)).si()
        };
        let weight = self.weight * span / 2.0;
        let (left, right) = self.uplift();
        // a and b in parts of the span: the weight asked at the far end of the lever
        let lack = |uplift: Force| (sf * uplift - weight).max(Force::ZERO).si();
        let sections = || self.lines.iter().map(|(x, _)| (x.si(), self.lack(*x).si()));
        let rising = || core::iter::once(lack(left)).chain(sections().map(|(x, m)| m / x));
        let falling = || core::iter::once(lack(right)).chain(sections().map(|(x, m)| m / (l - x)));
        let crossings = rising().flat_map(|a| falling().map(move |b| l * (b / (a + b))));
        let fixed = [0.0, l].into_iter().chain(self.lines.iter().map(|(x, _)| x.si()));
        let best = fixed
            .chain(crossings)
            .filter(|z| z.is_finite())
            .map(|z| (z, cost(z)))
            .min_by(|p, q| p.1.total_cmp(&q.1))
            .map_or(0.0, |(z, _)| z);
        let at = Length::from_si(best);
        let end = if left >= right { Length::ZERO } else { self.span };
        let force = match WeightAsked::from(Force::from_si(cost(best))) {
            WeightAsked::Nothing => return Advice::NothingLifts,
            WeightAsked::NoSuchWeight => return Advice::NoSuchWeight,
            // rounding of own weight against uplift asks for nothing
            WeightAsked::Weight(force) if force <= (left + right) * DESIGN_SLACK => {
                return Advice::NothingLifts;
            }
            WeightAsked::Weight(force) => force,
        };
        Advice::Place(LeastCounterweight {
            factor: sf,
            at,
            force,
            for_lift_off: self.lift_off(&mut NoRecord, sf, at),
            for_reversal: self.reversal(&mut NoRecord, at),
            at_bearing: self.lift_off(&mut NoRecord, sf, end).into(),
        })
    }
}

impl Statics<'_> {
    /// The advice redone with a pencil: what lifts, what bends the other way, the best place, the weight.
    pub(super) fn work<R: Recorder>(&self, recorder: &mut R, advice: &Advice) {
        let Advice::Place(found) = advice else { return };
        let (l, sf) = (self.span, found.factor);
        recorder.about(|| "The least counterweight; places from the left bearing of its span");
        half_weight(recorder, self.weight, l);
        let mut ends: [Option<Force>; 2] = [None; 2];
        for (end, sum) in [Length::ZERO, l].into_iter().zip(&mut ends) {
            for (x, p) in self.lines {
                let one = line_uplift(recorder, *p, l, (*x - end).abs());
                *sum = Some(sum.map_or(one, |sum| uplift_more(recorder, sum, one)));
            }
        }
        let (mut rising, mut falling) = (Vec::new(), Vec::new());
        let (weight, (left, right)) = (self.weight * l / 2.0, self.uplift());
        for (uplift, list) in [(left, &mut rising), (right, &mut falling)] {
            if sf * uplift > weight {
                list.push(lack_at_bearing(recorder, sf, uplift, weight));
            }
        }
        for (x, _) in self.lines {
            let mut sum: Option<Moment> = None;
            for (p, force) in self.lines {
                let one = line_at_section(recorder, *force, x.min(*p), l - x.max(*p), l);
                sum = Some(sum.map_or(one, |sum| moment_more(recorder, sum, one)));
            }
            let (jacks, own) = (sum.unwrap_or(Moment::ZERO), self.at_section(*x).1);
            own_at_section(recorder, self.weight, *x, l);
            if jacks > own + self.hogging {
                for (arm, list) in [(*x, &mut rising), (l - *x, &mut falling)] {
                    list.push(lack_at_section(recorder, jacks, own, self.hogging, arm));
                }
            }
        }
        let near = |a: Force, b: Force| (l * (b / (a + b)) - found.at).abs() <= l * 1e-9;
        let pair = rising
            .iter()
            .flat_map(|a| falling.iter().map(move |b| (*a, *b)))
            .find(|(a, b)| near(*a, *b));
        if let Some((rises, falls)) = pair {
            balanced(recorder, l, falls, rises);
        } else {
            recorder.about(|| "The best place is at a bearing or under a jack line");
        }
        let lifts = self.lift_off(recorder, sf, found.at);
        let turns = self.reversal(recorder, found.at);
        larger(recorder, lifts, turns);
    }
}

/// The least single counterweight for a factor against lift-off, and its best place: per member
/// unit, on a reaction member of this span and own weight under these jack lines, with this
/// hogging allowed (a size; zero for none).
#[must_use]
pub fn least_counterweight(
    span: Length,
    weight: crate::units::LineLoad,
    lines: &[(Length, Force)],
    hogging: Moment,
    factor: f64,
) -> Advice {
    Statics { span, weight, lines, hogging }.advice(factor)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{KN, KN_M, LineLoad, M};
    use proptest::prelude::*;

    proptest! {
        /// No place of a fine scan asks for less than the place that was found.
        #[test]
        fn the_best_place_is_the_best_of_all(
            w in 0.0..20.0f64, a in 0.05..0.95f64, b in 0.05..0.95f64,
            p in 1.0..500.0f64, q in 1.0..500.0f64, hog in 0.0..50.0f64, sf in 1.0..2.0f64,
        ) {
            let span = 10.0 * M;
            let lines = [(a * span, p * KN), (b * span, q * KN)];
            let weight = LineLoad::from_si(w * 1e3);
            let advice = least_counterweight(span, weight, &lines, hog * KN_M, sf);
            let statics = Statics { span, weight, lines: &lines, hogging: hog * KN_M };
            for i in 0..=2000 {
                let z = span * (f64::from(i) / 2000.0);
                let rec = &mut NoRecord;
                let there = statics.lift_off(rec, sf, z).max(statics.reversal(rec, z));
                let least = advice.placed().map_or(Force::ZERO, |a| a.force);
                prop_assert!(there >= least * (1.0 - 1e-9), "{z}: {there} {least}");
            }
        }
    }
}
