//! The least counterweight, and its best place.
//!
//! The trap: a counterweight at the bearing gives the best factor against lift-off and does
//! nothing against moment reversal under the jacks, however heavy. So both are asked.

use crate::units::{Force, Length, Moment};

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
}

crate::answer! {
    /// The least single counterweight that keeps both bearings down and the hogging allowed.
    pub struct Advice {
        /// The factor of lift-off it is for.
        factor: f64,
        /// Its best place from the left bearing.
        at: Length,
        /// Its weight there.
        force: Force,
        /// What lift-off alone asks at that place.
        for_lift_off: Force,
        /// What moment reversal alone asks at that place.
        for_reversal: Force,
        /// The weight at the near bearing that lift-off alone would ask: useless against reversal.
        at_bearing: Force,
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
    fn lift_off(&self, sf: f64, z: Length) -> Force {
        let l = self.span;
        let weight = self.weight * l / 2.0;
        let (left, right) = self.uplift();
        let rec = &mut crate::formula::NoRecord;
        let near = for_factor(rec, sf, left, weight, l, z);
        let far = for_factor(rec, sf, right, weight, l, l - z);
        let ask = |c: Force| {
            if c.is_finite() { c.max(Force::ZERO) } else { Force::from_si(f64::INFINITY) }
        };
        // a bearing that stays down without help asks for nothing
        let near = if sf * left <= weight { Force::ZERO } else { ask(near) };
        let far = if sf * right <= weight { Force::ZERO } else { ask(far) };
        near.max(far)
    }

    /// The weight that the net moment under every jack asks with one counterweight at `z`.
    fn reversal(&self, z: Length) -> Force {
        let (l, rec) = (self.span, &mut crate::formula::NoRecord);
        let mut most = Force::ZERO;
        for (x, _) in self.lines {
            let own = self.weight * *x * (l - *x) / 2.0;
            let jacks: Moment = self
                .lines
                .iter()
                .map(|(p, force)| *force * x.min(*p) * ((l - x.max(*p)) / l))
                .sum();
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

    /// The best place and the weight there. Lift-off and reversal pull the place apart; the
    /// larger of the two has one lowest point, found by halving.
    pub(super) fn advice(&self, sf: f64) -> Advice {
        let cost = |z: f64| {
            let z = Length::from_si(z);
            self.lift_off(sf, z).max(self.reversal(z)).si()
        };
        // each of the two falls, then rises (or the other way of an end): their maximum has one
        // lowest stretch, which golden sections find
        const GOLDEN: f64 = 0.618_033_988_749_895;
        let (mut a, mut b) = (0.0, self.span.si());
        let (mut p, mut q) = (b - GOLDEN * (b - a), a + GOLDEN * (b - a));
        let (mut at_p, mut at_q) = (cost(p), cost(q));
        for _ in 0..64 {
            if at_p <= at_q {
                (b, q, at_q) = (q, p, at_p);
                p = b - GOLDEN * (b - a);
                at_p = cost(p);
            } else {
                (a, p, at_p) = (p, q, at_q);
                q = a + GOLDEN * (b - a);
                at_q = cost(q);
            }
        }
        let ends = [0.0, self.span.si(), f64::midpoint(a, b)];
        let best = ends.into_iter().min_by(|p, q| cost(*p).total_cmp(&cost(*q))).unwrap_or(0.0);
        let at = Length::from_si(best);
        let (left, right) = self.uplift();
        let end = if left >= right { Length::ZERO } else { self.span };
        Advice {
            factor: sf,
            at,
            force: Force::from_si(cost(best)),
            for_lift_off: self.lift_off(sf, at),
            for_reversal: self.reversal(at),
            at_bearing: self.lift_off(sf, end),
        }
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
