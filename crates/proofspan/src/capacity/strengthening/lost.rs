//! What the member must carry without its strengthening, and in fire, found along the member.

use super::reduced::{
    Case, ReducedCheck, ReducedFound, ReducedMoment, ReducedRule, ReducedShear, Row,
};
use crate::beam::{Beam, Load, Response, Side, on_spans};
use crate::capacity::steel::AlongMember;
use crate::error::{Error, Issue, go_on, slug};
use crate::formula::{Recorder as _, Working};
use crate::loads::{Nominal, Symbol};
use crate::source::rule::{NotNegative, Share};
use crate::source::{Given, Several};
use crate::units::{Force, Length, Message, Moment, Ratio};
use crate::verdict::MemberUnit;

crate::choice! {
    /// Which effect is checked.
    pub enum LostEffect ("effect", source::SOURCE_CHOICE) {
        /// Shear.
        Shear = "shear",
        /// Moment.
        Moment = "moment",
    }
}

macro_rules! lost {
    ($name:ident, $kind:ident, $reduced:ident, $what:literal) => {
        crate::record! {
            #[doc = $what]
            pub struct $name {
                /// The rules to check.
                rules: Several<ReducedRule>,
                /// Effect of the accidental action, ACI 562-13.
                accidental: Option<Given<$kind, NotNegative>>,
                /// Whether the live load is likely sustained.
                sustained: bool = false,
                /// Factor of the live load in fire, EN 1991-1-2: ψ1 or ψ2 of the national annex.
                psi: Option<Given<Ratio, Share>>,
                /// Design strength without the strengthening, reduced; predicted along the member where it is left out.
                strength: Option<Given<$kind, NotNegative>>,
                /// Strength without the strengthening when it is hot, not reduced.
                hot_strength: Option<Given<$kind, NotNegative>>,
                /// Left end of the stretch that is looked at; that of the member where it is left out.
                from: Option<Given<Length, AlongMember>>,
                /// Right end of the stretch that is looked at; that of the member where it is left out.
                to: Option<Given<Length, AlongMember>>,
            }
        }

        impl $name {
            /// One rule with effects and strengths as sizes.
            fn question(
                &self,
                rule: ReducedRule,
                [dead, live, snow]: [f64; 3],
                strength: Option<$kind>,
                unit: MemberUnit,
            ) -> $reduced {
                let known = |si: f64| Given::known($kind::from_si(si));
                let mut asked = $reduced::of(&[rule], $kind::from_si(dead), $kind::from_si(live));
                asked.snow = known(snow);
                asked.accidental.clone_from(&self.accidental);
                asked.sustained = self.sustained;
                asked.psi = self.psi.clone();
                asked.strength = strength.map(Given::known);
                asked.hot_strength.clone_from(&self.hot_strength);
                asked.unit = unit;
                asked
            }
        }
    };
}

lost!(
    LostShear,
    Force,
    ReducedShear,
    "Shear that the member must carry without its strengthening, by the loads of the document."
);
lost!(
    LostMoment,
    Moment,
    ReducedMoment,
    "Moment that the member must carry without its strengthening, by the loads of the document."
);

crate::variant! {
    /// What the member must carry without its strengthening, along it.
    pub enum LostSpec ("effect") {
        /// Shear.
        Shear(LostShear) = "shear",
        /// Moment.
        Moment(LostMoment) = "moment",
    }
}

crate::answer! {
    /// One rule that the member must keep without its strengthening, where it is nearest to breaking it.
    pub struct LostCheck {
        /// Shear or moment.
        effect: LostEffect,
        /// Its place from the left end of the member.
        at: Length,
        /// Whether the strength is predicted here; the engineer's where not.
        predicted: bool,
        /// The check.
        check: ReducedCheck,
    }
}

/// A place with the strength of one sign of the effect there, as sizes; nothing where none is known.
pub(in crate::capacity) struct Held {
    pub(in crate::capacity) at: Length,
    pub(in crate::capacity) strength: f64,
}

/// The loads of the document one by one on the member: dead, live by spans where it varies, snow.
pub(in crate::capacity) struct Effects {
    pub(in crate::capacity) dead: Response,
    pub(in crate::capacity) live: Vec<Response>,
    pub(in crate::capacity) snow: Response,
    /// Of a member that may lift off its bearings, under factored dead load, snow and the live load on some of
    /// its spans: the factors, and the three as they add up on the bearings that it then stands on.
    contact: Vec<(Row, [Response; 3])>,
}

/// Live loads that are tried in every combination; of more, each alone, all but each, and all.
const COMBINED: usize = 6;

/// Which of so many live loads stand on the member.
fn patterns(number: usize) -> Vec<Vec<usize>> {
    let all: Vec<usize> = (0..number).collect();
    if number <= COMBINED {
        let of = |mask: u32| all.iter().copied().filter(|i| mask >> i & 1 == 1).collect();
        return (0..1_u32 << number).map(of).collect();
    }
    let but = |i: &usize| all.iter().copied().filter(|k| k != i).collect();
    let alone = all.iter().map(|i| vec![*i]);
    [Vec::new(), all.clone()].into_iter().chain(alone).chain(all.iter().map(but)).collect()
}

impl Effects {
    /// The actions of each load alone.
    ///
    /// # Errors
    /// A load that does not fit the beam.
    pub(in crate::capacity) fn of(
        beam: &Beam,
        nominal: &[Nominal],
        asked: &[LostSpec],
    ) -> Result<Self, Error> {
        let seated = beam.level();
        let level = seated.anchored();
        let of = |wanted: &[Symbol]| -> Vec<Load> {
            let own = nominal.iter().filter(|n| wanted.contains(&n.symbol));
            own.map(|n| n.load).collect()
        };
        let spans = if beam.has_several_spans() { beam.spans() } else { Vec::new() };
        let mut parts: Vec<Load> = Vec::new();
        let variable = [Symbol::Live, Symbol::RoofLive, Symbol::Imposed];
        for n in nominal.iter().filter(|n| variable.contains(&n.symbol)) {
            if n.varies && !spans.is_empty() {
                parts.extend(on_spans(n.load, &spans).into_iter().flatten());
            } else {
                parts.push(n.load);
            }
        }
        let dead = of(&[Symbol::SelfWeight, Symbol::SuperimposedDead]);
        let snow = of(&[Symbol::Snow]);
        let mut contact = Vec::new();
        if seated.may_lift() {
            let mut rows: Vec<Row> = asked.iter().flat_map(LostSpec::rows).collect();
            rows.sort_by(|a, b| a.partial_cmp(b).unwrap_or(core::cmp::Ordering::Equal));
            rows.dedup();
            for row in rows {
                for pattern in patterns(parts.len()) {
                    go_on()?;
                    let live: Vec<Load> =
                        pattern.iter().filter_map(|i| parts.get(*i)).copied().collect();
                    let [d, l, s, _] = row;
                    let factored = [(d, &dead), (l, &live), (s, &snow)];
                    let all =
                        factored.iter().flat_map(|(f, loads)| loads.iter().map(|x| x.scaled(*f)));
                    let total = seated.response(&all.collect::<Vec<Load>>())?;
                    let stands = seated.standing(&total);
                    let on = |loads: &[Load]| stands.response(loads);
                    contact.push((row, [on(&dead)?, on(&live)?, on(&snow)?]));
                }
            }
        }
        let live = parts.iter().map(|l| level.response(&[*l])).collect::<Result<_, _>>()?;
        Ok(Self { dead: level.response(&dead)?, live, snow: level.response(&snow)?, contact })
    }

    /// Dead, live and snow at a place in one sign, as sizes: of the live load what adds to it; what of the
    /// others relieves is left out.
    fn at(
        &self,
        effect: LostEffect,
        (x, side): (Length, Side),
        (sign, rows): (f64, &[Row]),
    ) -> Vec<[f64; 3]> {
        let one = |r: &Response| match effect {
            LostEffect::Shear => r.inside().shear(x, side).si() * sign,
            LostEffect::Moment => r.inside().moment(x, side).si() * sign,
        };
        if !self.contact.is_empty() {
            let own = self.contact.iter().filter(|c| rows.contains(&c.0));
            return own.map(|(_, all)| all.each_ref().map(|r| one(r).max(0.0))).collect();
        }
        let live = self.live.iter().map(|r| one(r).max(0.0)).sum();
        vec![[one(&self.dead).max(0.0), live, one(&self.snow).max(0.0)]]
    }
}

impl LostSpec {
    const fn rules(&self) -> &Several<ReducedRule> {
        match self {
            Self::Shear(s) => &s.rules,
            Self::Moment(m) => &m.rules,
        }
    }

    /// The factors of one rule.
    fn rows_of(&self, rule: ReducedRule) -> Vec<Row> {
        let (sustained, psi) = match self {
            Self::Shear(s) => (s.sustained, &s.psi),
            Self::Moment(m) => (m.sustained, &m.psi),
        };
        rule.rows(sustained, psi.as_ref().map_or(1.0, |p| p.value.value()))
    }

    /// The factors of all its rules.
    fn rows(&self) -> Vec<Row> {
        self.rules().iter().flat_map(|r| self.rows_of(*r)).collect()
    }

    pub(in crate::capacity) const fn effect(&self) -> LostEffect {
        match self {
            Self::Shear(_) => LostEffect::Shear,
            Self::Moment(_) => LostEffect::Moment,
        }
    }

    /// Whether a strength along the member is asked for: a rule of the lost strengthening without one given.
    pub(in crate::capacity) fn asks_strength(&self) -> bool {
        let given = match self {
            Self::Shear(s) => s.strength.is_some(),
            Self::Moment(m) => m.strength.is_some(),
        };
        !given && self.rules().iter().any(|r| r.case() == Case::Lost)
    }

    /// The stretch that is looked at.
    pub(in crate::capacity) fn stretch(&self, length: Length) -> (Length, Length) {
        let (from, to) = match self {
            Self::Shear(s) => (&s.from, &s.to),
            Self::Moment(m) => (&m.from, &m.to),
        };
        let or = |g: &Option<Given<Length, AlongMember>>, x| g.as_ref().map_or(x, |g| g.value);
        (or(from, Length::ZERO), or(to, length))
    }

    fn check(
        &self,
        rule: ReducedRule,
        effects: [f64; 3],
        strength: Option<f64>,
        unit: MemberUnit,
    ) -> Result<ReducedFound, Error> {
        match self {
            Self::Shear(s) => {
                let given = s.strength.as_ref().map(|g| g.value);
                let strength = given.or(strength.map(Force::from_si));
                s.question(rule, effects, strength, unit).check()
            }
            Self::Moment(m) => {
                let given = m.strength.as_ref().map(|g| g.value);
                let strength = given.or(strength.map(Moment::from_si));
                m.question(rule, effects, strength, unit).check()
            }
        }
    }

    /// Every rule where it is nearest to being broken. `places` are looked at where one strength stands for
    /// the whole stretch; `sagging` and `hogging` are the
    /// places with a strength of their own in each sign.
    ///
    /// # Errors
    /// `capacity.place` for a stretch that holds no place; what [`ReducedShear::check`] refuses.
    pub(in crate::capacity) fn along(
        &self,
        working: &mut Working,
        effects: &Effects,
        places: &[Length],
        [sagging, hogging]: [&[Held]; 2],
        unit: MemberUnit,
    ) -> Result<Vec<LostCheck>, Error> {
        let (from, to) = self.stretch(effects.dead.length());
        let inside = |x: &Length| *x >= from && *x <= to;
        let mut found = Vec::new();
        for rule in self.rules().iter().copied() {
            let own = rule.case() == Case::Lost && self.asks_strength();
            let rows = self.rows_of(rule);
            let mut worst: Option<(f64, Length, ReducedFound)> = None;
            for (sign, held) in [(1.0, sagging), (-1.0, hogging)] {
                let all: Vec<(Length, Option<f64>)> = if own {
                    held.iter().map(|h| (h.at, Some(h.strength))).collect()
                } else {
                    places.iter().map(|x| (*x, None)).collect()
                };
                for (x, strength) in all.into_iter().filter(|(x, _)| inside(x)) {
                    for side in [Side::Left, Side::Right] {
                        for acting in effects.at(self.effect(), (x, side), (sign, &rows)) {
                            let one = self.check(rule, acting, strength, unit)?;
                            let used = one.checks.first().and_then(|c| c.verdict.utilisation);
                            // no strength and something to carry: nothing is worse
                            let used = used.unwrap_or(f64::INFINITY);
                            let asked = acting.iter().sum::<f64>() > 0.0;
                            if asked && worst.as_ref().is_none_or(|w| used > w.0) {
                                worst = Some((used, x, one));
                            }
                        }
                    }
                }
            }
            let Some((_, at, one)) = worst else {
                let message = "no place of this stretch carries anything that the rule asks about";
                let limit = Message::new("inside {} to {}", [from.into(), to.into()]);
                let issue = Issue::new(slug::CAPACITY_PLACE, "from", message);
                return Err(issue.value(rule.word()).limit(limit).into());
            };
            let effect = self.effect();
            working.about(|| {
                let text = "Without its strengthening: {} at {}, {}";
                Message::new(text, [effect.into(), at.into(), rule.word().into()])
            });
            working.append(one.working().clone());
            let checks = one.checks.iter().copied();
            found.extend(checks.map(|check| LostCheck { effect, at, predicted: own, check }));
        }
        Ok(found)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;
    use crate::beam::Support;
    use crate::units::{KN_M2, KN_PER_M, M};

    fn two_spans(far: Support) -> Beam {
        let supports = vec![Support::bearing(0.0 * M), Support::bearing(10.0 * M), far];
        Beam::new(20.0 * M, supports, vec![(0.0 * M, 1e5 * KN_M2)]).unwrap()
    }

    fn nominal(dead: f64, live: f64) -> Vec<Nominal> {
        let load = |w: f64| Load::uniform(0.0 * M, 20.0 * M, w * KN_PER_M);
        let of = |symbol, w, varies| Nominal { symbol, load: load(w), in_place: 1.0, varies };
        vec![of(Symbol::SelfWeight, dead, false), of(Symbol::Live, live, true)]
    }

    /// The largest 1.1 D + 0.75 L that sags, at a place.
    fn demand(beam: &Beam, (dead, live): (f64, f64), x: f64) -> f64 {
        let asked: LostSpec =
            crate::source::read_json(r#"{"kind": "moment", "rules": "ACI 440.2R (9.2)"}"#).unwrap();
        let effects =
            Effects::of(beam, &nominal(dead, live), std::slice::from_ref(&asked)).unwrap();
        let rows = asked.rows();
        let all = effects.at(LostEffect::Moment, (x * M, Side::Right), (1.0, &rows));
        let one = |[d, l, s]: [f64; 3]| (1.1 * d + 0.75 * l + 0.0 * s) / 1e3;
        all.into_iter().map(one).fold(0.0, f64::max)
    }

    /// Two spans of 10 m. Dead load of 5 kN/m holds the far end down against 30 kN/m of live load on the
    /// other span: 1.1 · 3/8 · 50 − 0.75 · 300/16 = 6.6 kN. All three bearings then count for all loads.
    #[test]
    fn a_bearing_that_is_held_down_holds_for_every_load() {
        let r0 = 1.1 * 3.0 / 8.0 * 50.0 + 0.75 * 7.0 / 16.0 * 300.0;
        let want = |x: f64| r0 * x - 28.0 * x * x / 2.0;
        for far in [Support::seat(20.0 * M), Support::bearing(20.0 * M)] {
            for x in [2.0, 4.0, 5.0] {
                let found = demand(&two_spans(far), (5.0, 30.0), x);
                assert!((found - want(x)).abs() < 1e-6 * want(x), "{x} {found} {}", want(x));
            }
        }
    }

    /// 1 kN/m does not: 1.1 · 3/8 · 10 − 14.06 would pull. The far span hangs over the middle bearing with
    /// 1.1 kN/m, 55 kN·m; the near one is simple with 1.1 + 22.5 kN/m.
    #[test]
    fn a_bearing_that_lifts_holds_for_none() {
        let w = 1.1 + 22.5;
        let want = |x: f64| w * x * (10.0 - x) / 2.0 - 55.0 * x / 10.0;
        for x in [2.0, 4.0, 5.0] {
            let found = demand(&two_spans(Support::seat(20.0 * M)), (1.0, 30.0), x);
            // the part of the dead load that hogs there relieves, and what relieves is left out
            assert!(found >= want(x) - 1e-6 && found <= want(x) + 55.0, "{x} {found} {}", want(x));
        }
        let found = demand(&two_spans(Support::seat(20.0 * M)), (1.0, 30.0), 5.0);
        let dead = (1.1 * 12.5 - 27.5_f64).max(0.0);
        assert!((found - (dead + 22.5 * 12.5)).abs() < 1e-6, "{found}");
    }
}
