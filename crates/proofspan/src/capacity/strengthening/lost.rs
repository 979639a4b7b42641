//! What the member must carry without its strengthening, and in fire, found along the member.

use super::reduced::{Case, ReducedCheck, ReducedFound, ReducedMoment, ReducedRule, ReducedShear};
use crate::beam::{Beam, Load, Response, Side, on_spans};
use crate::capacity::steel::AlongMember;
use crate::error::{Error, Issue, slug};
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
}

impl Effects {
    /// The actions of each load alone.
    ///
    /// # Errors
    /// A load that does not fit the beam.
    pub(in crate::capacity) fn of(beam: &Beam, nominal: &[Nominal]) -> Result<Self, Error> {
        let level = beam.level();
        let of = |wanted: &[Symbol]| -> Vec<Load> {
            let own = nominal.iter().filter(|n| wanted.contains(&n.symbol));
            own.map(|n| n.load).collect()
        };
        let spans = if beam.has_several_spans() { beam.spans() } else { Vec::new() };
        let mut live = Vec::new();
        let variable = [Symbol::Live, Symbol::RoofLive, Symbol::Imposed];
        for n in nominal.iter().filter(|n| variable.contains(&n.symbol)) {
            if n.varies && !spans.is_empty() {
                for part in on_spans(n.load, &spans).into_iter().flatten() {
                    live.push(level.response(&[part])?);
                }
            } else {
                live.push(level.response(&[n.load])?);
            }
        }
        Ok(Self {
            dead: level.response(&of(&[Symbol::SelfWeight, Symbol::SuperimposedDead]))?,
            live,
            snow: level.response(&of(&[Symbol::Snow]))?,
        })
    }

    /// Dead, live and snow at a place in one sign, as sizes: of the live load what adds to it; what of the
    /// others relieves is left out.
    fn at(&self, effect: LostEffect, (x, side): (Length, Side), sign: f64) -> [f64; 3] {
        let one = |r: &Response| match effect {
            LostEffect::Shear => r.inside().shear(x, side).si() * sign,
            LostEffect::Moment => r.inside().moment(x, side).si() * sign,
        };
        let live = self.live.iter().map(|r| one(r).max(0.0)).sum();
        [one(&self.dead).max(0.0), live, one(&self.snow).max(0.0)]
    }
}

impl LostSpec {
    const fn rules(&self) -> &Several<ReducedRule> {
        match self {
            Self::Shear(s) => &s.rules,
            Self::Moment(m) => &m.rules,
        }
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
            let mut worst: Option<(f64, Length, ReducedFound)> = None;
            for (sign, held) in [(1.0, sagging), (-1.0, hogging)] {
                let all: Vec<(Length, Option<f64>)> = if own {
                    held.iter().map(|h| (h.at, Some(h.strength))).collect()
                } else {
                    places.iter().map(|x| (*x, None)).collect()
                };
                for (x, strength) in all.into_iter().filter(|(x, _)| inside(x)) {
                    for side in [Side::Left, Side::Right] {
                        let acting = effects.at(self.effect(), (x, side), sign);
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
