//! What a layout is held against: what is asked, limits, requirements, its distance from the bearings, how bays
//! are filled, jacks that differ on one pressure.

use super::layout::{Layout, Uneven};
use smallvec::SmallVec;

use super::solve::{Used, besides, times};
use crate::beam::{Depth, Load};
use crate::equivalent::asked::candidate::held;
use crate::equivalent::asked::carrier::{Carried, Carrier, CarrierKind};
use crate::equivalent::asked::spec::LayoutSpec;
use crate::equivalent::checked::as_built::Deviation;
use crate::equivalent::checked::distance::{Stands, near_bearing};
use crate::equivalent::checked::filling::{Partly, filling};
use crate::error::{Error, slug};
use crate::scope::Mode;
use crate::source::rule::broken;
use crate::target::Target;
use crate::units::{Force, Kind, Length, LoadBasis, Message, Quantified, Quantity, Said};
use crate::verdict::{
    Basis, Clause, DESIGN_SLACK, Limit, MemberUnit, Note, State, Subject, Verdict,
};

impl Layout {
    pub(super) fn judge(
        &mut self,
        target: &Target,
        spec: &LayoutSpec,
        depth: Option<Length>,
    ) -> Result<(), Error> {
        let unit = target.unit;
        let ratio = |r: f64| Quantity::new(Kind::Ratio, r);
        let rule = Clause::Named("every x of the region in doubt (library rule)");
        // rounding of the root search, nothing else
        let fidelity = 1.0 - self.verification.violation;
        self.verdicts.push(Verdict::design(
            slug::EQUIVALENT_SHORT,
            ratio(fidelity),
            Limit::AtLeast(1.0),
            Basis::net(unit),
            rule,
        ));
        for (i, limit) in spec.limits.iter().enumerate() {
            let basis = limit.basis.basis();
            let here =
                self.overshoots.iter().find(|o| o.effect == limit.effect && o.basis == basis);
            let tags =
                if basis == LoadBasis::Total { Basis::total(unit) } else { Basis::net(unit) };
            if let Some(o) = here {
                let verdict = Verdict::design(
                    slug::EQUIVALENT_LIMIT_CONFLICT,
                    ratio(o.ratio.value()),
                    Limit::AtMost(limit.at_most),
                    tags,
                    Clause::Named("limit asked for"),
                );
                if verdict.state == State::Fail {
                    let (effect, at, term) = self.governed_by;
                    self.notes.push(Note::new(
                        slug::EQUIVALENT_LIMIT_CONFLICT,
                        "layout.limits",
                        Message::new(
                            "the {} of term {} at x = {} asks for {}; with it the {} {} is {} times the reference at x = {}, more than {}. Allow {}, or another place or a further contact.",
                            [effect.word().into(), target.term_name(term).into(), at.into(), self.force.0.into(), basis.word().into(), limit.effect.word().into(), o.ratio.into(), o.at.into(), limit.at_most.into(), o.ratio.into()],
                        ),
                    ));
                }
                self.verdicts.push(verdict.of(Subject::of("limit", i)));
            }
        }
        self.requirements(target, spec)?;
        for one in &self.used {
            let Some(capacity) = spec.carrier.get(one.carrier).and_then(Carrier::capacity) else {
                continue;
            };
            self.verdicts.push(
                Verdict::design(
                    slug::EQUIVALENT_OVER_CAPACITY,
                    one.force.0.quantity(),
                    Limit::AtMost(capacity.si()),
                    Basis::net(unit),
                    Clause::Named("capacity stated for the carrier"),
                )
                .of(Subject::of("carrier", one.carrier)),
            );
        }
        self.water_level(spec, unit);
        let least = self
            .bounds
            .iter()
            .flat_map(|b| &b.least)
            .map(|s| s.fidelity.value())
            .fold(f64::INFINITY, f64::min);
        if least.is_finite() {
            let verdict = Verdict::design(
                slug::EQUIVALENT_SUPPORT_BOUNDS,
                ratio(least),
                Limit::AtLeast(1.0),
                Basis::net(unit),
                Clause::Named("bounds of end fixity (library rule)"),
            );
            if verdict.state == State::Fail {
                self.notes.push(Note::new(
                    slug::EQUIVALENT_SUPPORT_BOUNDS,
                    "layout.ends",
                    "with an end held against rotation the jacks fall short of the reference on that beam; show that the ends turn, or measure end rotation in the test",
                ));
            }
            let state =
                if verdict.state == State::Fail { State::Inconclusive } else { verdict.state };
            self.verdicts.push(verdict.with_state(state));
        }
        if let Some((depth, broken)) =
            depth.and_then(|d| Some((d, broken::<Depth>(Kind::Length, d.si())?)))
        {
            return Err(broken.issue("effective_depth", depth).into());
        }
        if let Some(built) = &self.built {
            self.verdicts.extend([built.fidelity, built.limits]);
        }
        let shear = target.regions.iter().any(|r| r.mode == Mode::Shear);
        match depth {
            Some(depth) if shear => self.distance(target, spec, depth)?,
            None if shear => self.notes.push(Note::new(
                slug::EQUIVALENT_DISTANCE_UNCHECKED,
                "beam.effective_depth",
                "without the effective depth it is not known whether the jack loads the beam or a strut into the bearing",
            )),
            _ => {}
        }
        Ok(())
    }

    /// The order in which weights come and bays are filled.
    /// The water of a basin is level: where the member gives way it stands deeper than it was set out.
    fn water_level(&mut self, spec: &LayoutSpec, unit: MemberUnit) {
        for carried in &self.carriers {
            let Some(Carrier::Water(water)) = spec.carrier.get(carried.carrier) else { continue };
            let Some(depth) = carried.depth else { continue };
            let inside = self.response.inside();
            let given = inside.deflection_extremes(carried.from, carried.to).max;
            let verdict = Verdict::design(
                slug::EQUIVALENT_WATER_LEVEL,
                (depth + given.value).quantity(),
                Limit::AtMost(water.rim.value.si()),
                Basis::net(unit),
                Clause::Named("rim, where the member gives way most (soft prediction)"),
            );
            self.verdicts.push(verdict.of(Subject::of("carrier", carried.carrier)));
        }
    }

    pub(super) fn fill(&mut self, target: &Target, spec: &LayoutSpec) -> Result<(), Error> {
        let jack = |c: &Carried| c.kind == CarrierKind::Jack || c.force.0 <= Force::ZERO;
        let by_hand: Vec<usize> = (0..self.carriers.len())
            .filter(|i| self.carriers.get(*i).is_some_and(|c| !jack(c)))
            .collect();
        if by_hand.len() < 2 {
            return Ok(());
        }
        let slack = Length::from_si(1e-9);
        let of = |i: usize| {
            let within = |l: &&Load| {
                let (from, to) =
                    (self.carriers.get(i)?.from - slack, self.carriers.get(i)?.to + slack);
                match **l {
                    Load::Point { at, .. } => Some(at >= from && at <= to),
                    Load::Line { from: a, to: b, .. } => Some(a >= from && b <= to),
                    _ => None,
                }
            };
            let loads = self.loads.iter().filter(|l| within(l) == Some(true)).copied().collect();
            (i, loads)
        };
        let each: Vec<(usize, SmallVec<[Load; 1]>)> = by_hand.into_iter().map(of).collect();
        let beam = held(&target.beam);
        let Some(found) = filling(target, &beam, &spec.limits, &each)? else { return Ok(()) };
        let name =
            |i: &usize| self.carriers.get(*i).map_or_else(String::new, |c| c.name.to_string());
        let named = |on: &[usize]| on.iter().map(name).collect::<Vec<_>>().join(", then ");
        let largest = found.states.iter().max_by(|a, b| a.part.total_cmp(&b.part));
        let most = largest.map_or(0.0, |s| s.part);
        let verdict = Verdict::design(
            slug::EQUIVALENT_FILLING,
            Quantity::new(Kind::Ratio, most),
            Limit::AtMost(1.0),
            Basis::total(target.unit),
            Clause::Named(
                "every partial sum in the best order, anywhere on the member (library rule)",
            ),
        );
        let told = |s: &Partly| -> [Said; 4] {
            let on = s.on.iter().map(name).collect::<Vec<_>>().join(" and ");
            [on.into(), s.what.into(), s.ratio.into(), s.at.into()]
        };
        let order = named(&found.order);
        if let Some(state) = largest.filter(|_| verdict.state == State::Fail) {
            let [on, what, ratio, at] = told(state);
            let message = Message::new(
                "even in the best order, {}: with {} alone the {} with what is in place is {} times the largest that the terms ask, at x = {}, and more than under the full test",
                [order.clone().into(), on, what, ratio, at],
            );
            self.notes.push(Note::new(slug::EQUIVALENT_FILLING, "layout.carrier", message));
        } else if found.worst.part > 1.0 + DESIGN_SLACK {
            let [on, what, ratio, at] = told(&found.worst);
            let message = Message::new(
                "at every step bring on {}, and take away in reverse: with {} alone the {} with what is in place is {} times the largest that the terms ask, at x = {}, and more than under the full test",
                [order.clone().into(), on, what, ratio, at],
            );
            self.notes.push(Note::new(slug::EQUIVALENT_FILLING_ORDER, "layout.carrier", message));
        }
        self.verdicts.push(verdict);
        self.filling = Some(found);
        Ok(())
    }

    /// What the engineer asks besides, of the forces as they are: given, rounded, or at an end of a range.
    fn requirements(&mut self, target: &Target, spec: &LayoutSpec) -> Result<(), Error> {
        if spec.requirements.is_empty() {
            return Ok(());
        }
        let test = held(&target.beam).response(&self.loads)?;
        for one in besides(target, spec, &self.asks, &test, self.system)? {
            let verdict = Verdict::design(
                slug::EQUIVALENT_REQUIREMENT_BROKEN,
                Quantity::new(Kind::Ratio, 1.0 + one.violation),
                Limit::AtMost(1.0),
                Basis::net(target.unit),
                Clause::Named("requirement of the layout"),
            );
            if verdict.state == State::Fail {
                let path = format!("layout.requirements[{}]", one.requirement);
                let message = match one.at {
                    Some(at) => Message::new(
                        "{}: passed by {} at x = {}",
                        [one.what.into(), one.amount.into(), at.into()],
                    ),
                    None => Message::new("{}: passed by {}", [one.what.into(), one.amount.into()]),
                };
                self.notes.push(Note::new(slug::EQUIVALENT_REQUIREMENT_BROKEN, path, message));
            }
            self.verdicts.push(verdict.of(Subject::of("requirement", one.requirement)));
        }
        Ok(())
    }

    fn distance(&mut self, target: &Target, spec: &LayoutSpec, depth: Length) -> Result<(), Error> {
        let half = spec.plate_length.value / 2.0;
        let stands = |one: &Used| -> SmallVec<[Stands; 2]> {
            let patch = one.candidate.edges;
            let of = |at: &Length| Stands {
                from: *at - if patch { one.candidate.plate / 2.0 } else { half },
                to: *at + if patch { one.candidate.plate / 2.0 } else { half },
                spread: patch,
                what: Message::new("the load at {}", [(*at).into()]),
            };
            one.candidate.contacts.iter().map(of).collect()
        };
        let pressing = self.used.iter().filter(|u| u.force.0 > Force::ZERO);
        let stands: SmallVec<[Stands; 2]> = pressing.flat_map(stands).collect();
        let lengths = (spec.bearing_length.value, depth);
        for (i, region) in target.regions.iter().enumerate().filter(|r| r.1.mode == Mode::Shear) {
            let found = near_bearing(
                &target.beam,
                (region.from, region.to),
                &stands,
                lengths,
                target.unit,
            )?;
            let Some((verdict, note)) = found else { continue };
            self.notes.extend(note);
            self.verdicts.push(verdict.of(Subject::of("region", i)));
        }
        Ok(())
    }

    /// Judges the layout with what its presses give where jacks differ on one pressure: of every carrier in
    /// use, in their order, times what is counted. Short or over in one case it is open; in every case of
    /// the member unit or of one joist it fails.
    pub(crate) fn on_one_pressure(
        &mut self,
        target: &Target,
        spec: &LayoutSpec,
        cases: &[Uneven],
    ) -> Result<(), Error> {
        if cases.is_empty() {
            return Ok(());
        }
        let factors = |case: &Uneven| -> Vec<f64> {
            let mut own = case.factors.iter();
            let one = |u: &Used| if u.force.0 > Force::ZERO { own.next().copied() } else { None };
            self.used.iter().map(one).map(|k| k.unwrap_or(1.0)).collect()
        };
        let factors: Vec<Vec<f64>> = cases.iter().map(factors).collect();
        let asks = (&self.asks, self.system);
        let (found, limited) = times(target, spec, asks.0, &self.used, (&factors, asks.1))?;
        let each = || cases.iter().zip(&found);
        let mut joists: Vec<Option<usize>> = cases.iter().map(|c| c.joist).collect();
        joists.dedup();
        // whether it is so in every case of the member unit or of one joist
        let always = |so: fn(&Deviation) -> bool| {
            let of = |j: &Option<usize>| each().filter(|c| c.0.joist == *j).all(|c| so(c.1));
            joists.iter().any(of)
        };
        let clause =
            Clause::Named("friction of every jack between none and its own (library rule)");
        let ratio = |r: f64| Quantity::new(Kind::Ratio, r);
        let open = |verdict: Verdict, never: bool| {
            let state = if verdict.state == State::Fail && !never {
                State::Inconclusive
            } else {
                verdict.state
            };
            verdict.with_state(state)
        };
        // the ratio is settled to the tolerance of an optimum, not better
        let settled = |r: f64| if (r - 1.0).abs() <= 1e-8 { 1.0 } else { r };
        let least = |a: &&(&Uneven, &Deviation), b: &&(&Uneven, &Deviation)| {
            a.1.fidelity.value().total_cmp(&b.1.fidelity.value())
        };
        let all: Vec<(&Uneven, &Deviation)> = each().collect();
        if let Some((case, worst)) = all.iter().min_by(least) {
            let never = always(|d| d.fidelity.value() < 1.0 - 1e-8);
            let verdict = Verdict::design(
                slug::EQUIVALENT_UNEVEN_JACKS,
                ratio(settled(worst.fidelity.value())),
                Limit::AtLeast(1.0),
                Basis::net(target.unit),
                clause,
            );
            if let (State::Fail, Some(effect), Some(at)) = (verdict.state, worst.effect, worst.at) {
                let said = [
                    case.what.clone().into(),
                    effect.word().into(),
                    at.into(),
                    worst.fidelity.into(),
                ];
                let text = "{}: the {} at x = {} is {} of what is asked";
                self.notes.push(Note::new(
                    slug::EQUIVALENT_UNEVEN_JACKS,
                    "rig.jacks",
                    Message::new(text, said),
                ));
            }
            self.verdicts.push(open(verdict, never));
        }
        let over = |a: &&(&Uneven, &Deviation), b: &&(&Uneven, &Deviation)| {
            a.1.excess.total_cmp(&b.1.excess)
        };
        if let Some((case, worst)) = all.iter().max_by(over).filter(|_| limited) {
            let never = always(|d| d.excess > 0.0);
            let verdict = Verdict::design(
                slug::EQUIVALENT_UNEVEN_OVER,
                ratio(1.0 + worst.excess),
                Limit::AtMost(1.0),
                Basis::net(target.unit),
                clause,
            );
            if let (State::Fail, Some(what)) = (verdict.state, &worst.exceeded) {
                let said = [case.what.clone().into(), what.clone().into(), worst.excess.into()];
                let message = Message::new("{}: {} is passed by {} of it", said);
                self.notes.push(Note::new(slug::EQUIVALENT_UNEVEN_OVER, "rig.jacks", message));
            }
            self.verdicts.push(open(verdict, never));
        }
        Ok(())
    }
}
