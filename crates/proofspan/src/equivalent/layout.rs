//! The layout: places, force, overshoot, verification, bounds.

use super::bounds::{Bound, bounds};
use super::distance::{Stands, near_bearing};
use super::overshoot::{Effect, Overshoot, PlaceRatios, at, worst};
use super::scale::{Scale, least};
use super::spec::{Carrier, Ends, LayoutSpec};
use super::verify::{Verification, verify_actions};
use crate::beam::{Actions, Depth, Load, Side, on_member};
use crate::error::{Error, Issue, slug};
use crate::formula::{Recorder, Working};
use crate::scope::Mode;
use crate::source::rule::broken;
use crate::source::{Node, Write, validate_named};
use crate::target::Target;
use crate::units::{
    Force, Kind, Length, LoadBasis, Message, Moment, Net, Quantified, Quantity, Ratio,
};
use crate::verdict::{Basis, Clause, Limit, Note, State, Verdict};

crate::laws! {
    /// Force of one jack line that gives the end shear of the reference up to its place.
    pub fn line_force(v: Force as "V_ref", l: Length as "L", p: Length as "p") -> Force as "P" = v * l / (l - p);
    source "statics of a simple span; the shear left of the line is constant";
    /// Moment under one jack line on a simple span.
    pub fn line_moment(force: Force as "P", p: Length as "p", l: Length as "L") -> Moment as "M(p)" = force * p * ((l - p) / l);
    source "statics of a simple span";
    /// Test over reference, net.
    pub fn net_overshoot(test: Moment as "M_jacks", reference: Moment as "M_ref") -> f64 as "o_net" = test / reference;
    source "definition";
    /// Test over reference, total.
    pub fn total_overshoot(test: Moment as "M_jacks", reference: Moment as "M_ref", there: Moment as "M_in_place") -> f64 as "o_total" = (test + there) / (reference + there);
    source "definition";
    /// Test over reference in shear, net.
    pub fn net_shear_overshoot(test: Force as "V_jacks", reference: Force as "V_ref") -> f64 as "o_net" = test / reference;
    source "definition";
    /// Test over reference in shear, total.
    pub fn total_shear_overshoot(test: Force as "V_jacks", reference: Force as "V_ref", there: Force as "V_in_place") -> f64 as "o_total" = (test + there) / (reference + there);
    source "definition";
}

crate::answer! {
    /// A line of contact across one member unit.
    pub struct JackLine {
        /// Place from the left end.
        at: Length,
        /// Force on one member unit, net: what the rig adds.
        force: Net<Force>,
    }
}

/// A layout with what it reaches. Every force is per member unit and net.
#[derive(Clone, PartialEq, Debug)]
pub struct Layout {
    /// The lines of contact from left to right.
    pub lines: Vec<JackLine>,
    /// The sum of the forces: that of the jacks on one member unit.
    pub force: Net<Force>,
    /// Shear, moment and deflection of the jacks alone, soft prediction.
    pub actions: Actions,
    /// What set the force: effect, place, term.
    pub governed_by: (Effect, Length, usize),
    /// Largest overshoot against the envelope inside the region: shear and moment, net and total.
    pub overshoots: Vec<Overshoot>,
    /// What the separate verifier found.
    pub verification: Verification,
    /// The layout under bounds of end fixity; empty where the ends are shown free to turn.
    pub bounds: Vec<Bound>,
    /// The limits asked for, fidelity, supports, distance to the bearing.
    pub verdicts: Vec<Verdict>,
    /// What to know.
    pub notes: Vec<Note>,
    loads: Vec<Load>,
}

/// Finds the least force, and the place where it is searched.
///
/// # Errors
/// `equivalent.jack-outside`, `equivalent.jack-near-support`, `equivalent.uncovered` with the
/// part of the region that no force of this carrier reaches, `target.net-nonpositive` where
/// there is nothing to reproduce.
pub fn layout(
    target: &Target,
    spec: &LayoutSpec,
    mode: Mode,
    effective_depth: Option<Length>,
) -> Result<Layout, Error> {
    validate_named("layout", spec)?;
    let effects = asked(spec, mode);
    let contacts = places(target, spec, effects)?;
    let found = tried(target, spec, effects, &contacts)?;
    let Scale::Found { factor, effect, at: place, term } = found.scale else {
        return Err(refusal(target, &found.scale, &contacts));
    };
    let shares = 1.0 / f64::from(u32::try_from(contacts.len()).unwrap_or(1));
    let lines: Vec<JackLine> = contacts
        .iter()
        .map(|at| JackLine { at: *at, force: Net(Force::from_si(factor * shares)) })
        .collect();
    let loads: Vec<Load> = found.loads.iter().map(|l| l.scaled(factor)).collect();
    let actions = found.unit.scaled(factor);
    let governed_by = (effect, Length::from_si(place), term);
    let found = Found { lines, force: Net(Force::from_si(factor)), actions, loads, governed_by };
    found.judged(target, spec, mode, effective_depth)
}

/// The effects that are asked: those named, else moment, and shear where shear is in doubt.
fn asked(spec: &LayoutSpec, mode: Mode) -> &[Effect] {
    let default: &[Effect] =
        if mode == Mode::Shear { &[Effect::Shear, Effect::Moment] } else { &[Effect::Moment] };
    spec.reproduce.as_deref().unwrap_or(default)
}

/// Places and forces that are settled, before they are compared with the target.
struct Found {
    lines: Vec<JackLine>,
    force: Net<Force>,
    actions: Actions,
    loads: Vec<Load>,
    governed_by: (Effect, Length, usize),
}

impl Found {
    fn judged(
        self,
        target: &Target,
        spec: &LayoutSpec,
        mode: Mode,
        effective_depth: Option<Length>,
    ) -> Result<Layout, Error> {
        let effects = asked(spec, mode);
        let Self { lines, force, actions, loads, governed_by } = self;
        let verification = verify_actions(&target.beam.actions(&loads)?, target, effects);
        let mut overshoots = Vec::with_capacity(4);
        for effect in [Effect::Shear, Effect::Moment] {
            overshoots.extend(worst(target, &actions, effect).into_iter().flatten());
        }
        let bounds = match spec.ends {
            Ends::Seated => Vec::new(),
            Ends::CastInPlace if target.beam.supports().len() < 2 => Vec::new(),
            Ends::CastInPlace => bounds(target, &loads, effects)?,
        };
        let mut layout = Layout {
            lines,
            force,
            actions,
            governed_by,
            overshoots,
            verification,
            bounds,
            verdicts: Vec::new(),
            notes: Vec::new(),
            loads,
        };
        layout.judge(target, spec, mode, effective_depth)?;
        Ok(layout)
    }
}

/// One try: the unit pattern and its scale.
struct Try {
    loads: Vec<Load>,
    unit: Actions,
    scale: Scale,
}

fn tried(
    target: &Target,
    spec: &LayoutSpec,
    effects: &[Effect],
    contacts: &[Length],
) -> Result<Try, Error> {
    let share = Force::from_si(1.0 / f64::from(u32::try_from(contacts.len()).unwrap_or(1)));
    let plate = spec.plate_length.value;
    let loads: Vec<Load> = contacts
        .iter()
        .map(|at| {
            if plate > Length::ZERO {
                let (from, to) = (
                    (*at - plate / 2.0).max(Length::ZERO),
                    (*at + plate / 2.0).min(target.beam.length()),
                );
                Load::uniform(from, to, crate::units::LineLoad::spread(share, to - from))
            } else {
                Load::point(*at, share)
            }
        })
        .collect();
    let unit = target.beam.actions(&loads).map_err(|_| outside(target, contacts))?;
    let scale = least(target, &unit, effects, (target.from, target.to));
    Ok(Try { loads, unit, scale })
}

fn outside(target: &Target, contacts: &[Length]) -> Error {
    let shown: Vec<String> = contacts.iter().map(ToString::to_string).collect();
    Issue::new(
        slug::EQUIVALENT_JACK_OUTSIDE,
        "layout.carrier",
        "a contact point stands beyond the member",
    )
    .value(shown.join(", "))
    .limit(format!("0 to {}", target.beam.length()))
    .into()
}

fn refusal(target: &Target, scale: &Scale, contacts: &[Length]) -> Error {
    match scale {
        Scale::Uncovered { effect, at, term } => {
            let shown: Vec<String> = contacts.iter().map(Length::to_string).collect();
            Issue::new(
                slug::EQUIVALENT_UNCOVERED,
                "layout.carrier",
                format!(
                    "no force at {} gives the {effect} of term {} at x = {}: the carrier has none of that sign there",
                    shown.join(", "),
                    target.term_name(*term),
                    Length::from_si(*at)
                ),
            )
            .limit("shear: every contact at or beyond the far edge of the region")
            .into()
        }
        _ => Issue::new(
            slug::TARGET_NET_NONPOSITIVE,
            "loads",
            "what is in place is not less than what the edition asks: nothing to apply",
        )
        .into(),
    }
}

/// The places of the contact points: given, or searched for the least worst moment overshoot.
fn places(target: &Target, spec: &LayoutSpec, effects: &[Effect]) -> Result<Vec<Length>, Error> {
    let length = target.beam.length();
    let half = spec.plate_length.value / 2.0;
    let (from, to, spacing) = match &spec.carrier {
        Carrier::JackLine(line) => match &line.at {
            Some(at) => return inside(target, vec![at.value]),
            None => (&line.search_from, &line.search_to, Length::ZERO),
        },
        Carrier::Spreader(spreader) => match spreader.contacts.as_slice() {
            [a, b] => return inside(target, vec![a.value, b.value]),
            _ => (
                &spreader.search_from,
                &spreader.search_to,
                spreader.spacing.as_ref().map_or(Length::ZERO, |s| s.value),
            ),
        },
    };
    let low = from.as_ref().map_or(Length::ZERO, |x| x.value);
    let high = to.as_ref().map_or(length, |x| x.value) - spacing;
    if low < Length::ZERO || high > length || low > high {
        return Err(outside(target, &[low, high]));
    }
    let contacts = |x: Length| if spacing > Length::ZERO { vec![x, x + spacing] } else { vec![x] };
    // what a place costs: nothing where it does not reach the region
    let cost = |x: Length| -> Option<(f64, f64)> {
        let found = tried(target, spec, effects, &contacts(x)).ok()?;
        let Scale::Found { factor, .. } = found.scale else { return None };
        let actions = found.unit.scaled(factor);
        let [net, _] = worst(target, &actions, Effect::Moment);
        let overshoot = net?;
        Some((overshoot.ratio.value(), factor))
    };
    // the least overshoot; of places that are equal in that, the least force
    let better = |a: (f64, f64), b: (f64, f64)| {
        let near = (a.0 - b.0).abs() <= 1e-9 * b.0.abs();
        if near { a.1 < b.1 * (1.0 - 1e-12) } else { a.0 < b.0 }
    };
    // the edges of the region are the exact optimum of one line for shear; the rest is a scan
    // with refinement, so its optimum is a found one, not a proven one
    let mut candidates: Vec<f64> = [
        target.from + half,
        target.to + half,
        target.from - half,
        target.to - half - spacing,
        target.to - half,
    ]
    .iter()
    .map(|x| x.si())
    .filter(|x| *x >= low.si() && *x <= high.si())
    .collect();
    let step = (high - low).si() / 48.0;
    candidates.extend((0..=48).map(|i| f64::from(i) * step + low.si()));
    let mut best: Option<((f64, f64), f64)> = None;
    for x in candidates {
        if let Some(c) = cost(Length::from_si(x))
            && best.is_none_or(|(b, _)| better(c, b))
        {
            best = Some((c, x));
        }
    }
    let Some((mut least_cost, mut place)) = best else {
        let found = tried(target, spec, effects, &contacts(low))?;
        return Err(refusal(target, &found.scale, &contacts(low)));
    };
    let mut width = step;
    for _ in 0..40 {
        width *= 0.6;
        for x in [place - width, place + width] {
            if x >= low.si()
                && x <= high.si()
                && let Some(c) = cost(Length::from_si(x))
                && better(c, least_cost)
            {
                (least_cost, place) = (c, x);
            }
        }
    }
    Ok(contacts(Length::from_si(place)))
}

fn inside(target: &Target, contacts: Vec<Length>) -> Result<Vec<Length>, Error> {
    let length = target.beam.length();
    let fits = contacts.iter().all(|x| *x >= Length::ZERO && *x <= length * (1.0 + 1e-12));
    if fits { Ok(contacts) } else { Err(outside(target, &contacts)) }
}

impl Layout {
    fn judge(
        &mut self,
        target: &Target,
        spec: &LayoutSpec,
        mode: Mode,
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
        for limit in &spec.limits {
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
                self.verdicts.push(verdict);
            }
        }
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
        match depth {
            Some(depth) if mode == Mode::Shear => self.distance(target, spec, depth)?,
            None if mode == Mode::Shear => self.notes.push(Note::new(
                slug::EQUIVALENT_DISTANCE_UNCHECKED,
                "beam.effective_depth",
                "without the effective depth it is not known whether the jack loads the beam or a strut into the bearing",
            )),
            _ => {}
        }
        Ok(())
    }

    fn distance(&mut self, target: &Target, spec: &LayoutSpec, depth: Length) -> Result<(), Error> {
        let half = spec.plate_length.value / 2.0;
        let stands = |line: &JackLine| Stands {
            from: line.at - half,
            to: line.at + half,
            spread: false,
            what: Message::new("the jack line at {}", [line.at.into()]),
        };
        let stands: Vec<Stands> = self.lines.iter().map(stands).collect();
        let lengths = (spec.bearing_length.value, depth);
        let region = (target.from, target.to);
        let found = near_bearing(&target.beam, region, &stands, lengths, target.unit)?;
        let Some((verdict, note)) = found else { return Ok(()) };
        self.notes.extend(note);
        self.verdicts.push(verdict);
        Ok(())
    }

    /// The same places and forces against another target, for example one with other inputs.
    ///
    /// # Errors
    /// A load that the beam cannot carry; a jack too near a bearing.
    pub fn against(
        &self,
        target: &Target,
        spec: &LayoutSpec,
        mode: Mode,
        effective_depth: Option<Length>,
    ) -> Result<Self, Error> {
        let found = Found {
            lines: self.lines.clone(),
            force: self.force,
            actions: target.beam.actions(&self.loads)?,
            loads: self.loads.clone(),
            governed_by: self.governed_by,
        };
        found.judged(target, spec, mode, effective_depth)
    }

    /// The places and forces of the lines.
    #[must_use]
    pub fn forces(&self) -> Vec<(Length, Net<Force>)> {
        self.lines.iter().map(|l| (l.at, l.force)).collect()
    }

    /// The contact loads as they stand on the beam, plates included.
    #[must_use]
    pub fn loads(&self) -> &[Load] {
        &self.loads
    }

    /// Test over each term at a place, and over the envelope with its term.
    ///
    /// # Errors
    /// `beam.place-outside` beyond the member.
    pub fn ratios(
        &self,
        target: &Target,
        effect: Effect,
        basis: LoadBasis,
        x: Length,
        side: Side,
    ) -> Result<PlaceRatios, Error> {
        on_member(target.beam.length(), x)?;
        Ok(self.ratios_inside(target, effect, basis, x, side))
    }

    /// The same at a place that is known to be on the member.
    pub(crate) fn ratios_inside(
        &self,
        target: &Target,
        effect: Effect,
        basis: LoadBasis,
        x: Length,
        side: Side,
    ) -> PlaceRatios {
        at(target, &self.actions, effect, basis, x, side)
    }

    /// The overshoot of one effect on one basis inside the region.
    #[must_use]
    pub fn overshoot(&self, effect: Effect, basis: LoadBasis) -> Option<Ratio> {
        self.overshoots.iter().find(|o| o.effect == effect && o.basis == basis).map(|o| o.ratio)
    }

    /// The force and the overshoots by hand where a closed form exists (one point on a simple
    /// span), else with the residual of the search.
    #[must_use]
    pub fn working(&self, target: &Target) -> Working {
        let mut working = Working::default();
        let (effect, x, term) = self.governed_by;
        working.about(|| {
            Message::new(
                "Force of the layout, set by the {} of term {} at x = {}",
                [effect.word().into(), target.term_name(term).into(), x.into()],
            )
        });
        let since = working.items.len();
        let supports = target.beam.supports();
        let simple = supports.len() == 2
            && supports.first().is_some_and(|s| s.at <= Length::ZERO)
            && supports.last().is_some_and(|s| s.at >= target.beam.length());
        if let ([Load::Point { at: p, .. }], true, Effect::Shear) =
            (self.loads.as_slice(), simple, effect)
        {
            let l = target.beam.length();
            let v = target
                .terms
                .get(term)
                .map_or(Force::ZERO, |t| t.net.inside().shear(x, Side::Right));
            let force = line_force(&mut working, v, l, *p);
            let moment = line_moment(&mut working, force, *p, l);
            let reference = target.inside().moment(*p).value.0;
            net_overshoot(&mut working, moment, reference);
            total_overshoot(
                &mut working,
                moment,
                reference,
                target.in_place.inside().moment(*p, Side::Left),
            );
            let shear = target.inside().shear(*p, Side::Left).value.0;
            net_shear_overshoot(&mut working, v, shear);
            total_shear_overshoot(
                &mut working,
                v,
                shear,
                target.in_place.inside().shear(*p, Side::Left),
            );
        } else {
            working.residual(
                "Least force that reaches the reference for every x of the region",
                Quantity::new(Kind::Force, self.force.0.si()),
                self.verification.violation.abs(),
            );
        }
        self.held(&mut working, since, target);
        working
    }

    /// Holds the answer to its working: the sum of the lines, what the loads bring again, the force
    /// where a step gives it.
    fn held(&self, working: &mut Working, since: usize, target: &Target) {
        let sum: Force = self.lines.iter().map(|l| l.force.0).sum();
        let force =
            working.steps().find(|s| s.result.0 == "P").map_or(sum.quantity(), |s| s.result.1);
        working.claim("layout.force", since, force, self.force.0.si(), sum.abs().si());
        for (i, (line, load)) in self.lines.iter().zip(&self.loads).enumerate() {
            let on = load.resultant();
            let what = format!("layout.lines[{i}].force");
            working.claim(what, since, on.quantity(), line.force.0.si(), on.abs().si());
        }
        let Ok(actions) = target.beam.actions(&self.loads) else { return };
        for (i, o) in self.overshoots.iter().enumerate() {
            let (_, again) = at(target, &actions, o.effect, o.basis, o.at, o.side);
            let (what, ratio) = (format!("layout.overshoots[{i}].ratio"), o.ratio.value());
            let again = Quantity::new(Kind::Ratio, again.map_or(f64::NAN, |r| r.0));
            working.claim(what, since, again, ratio, ratio.abs().max(1.0));
        }
        let effects: Vec<Effect> = self.verification.least.iter().map(|l| l.effect).collect();
        let again = verify_actions(&actions, target, &effects);
        working.claim_all("layout.verification", since, &again.write(), &self.verification.write());
    }
}

impl Write for Layout {
    fn write(&self) -> Node {
        Node::map(vec![
            ("lines", self.lines.write()),
            ("force", self.force.write()),
            ("governing_effect", self.governed_by.0.write()),
            ("governing_place", self.governed_by.1.write()),
            ("governing_term", self.governed_by.2.write()),
            ("overshoots", self.overshoots.write()),
            ("verification", self.verification.write()),
            ("bounds", self.bounds.write()),
            ("verdicts", self.verdicts.write()),
            ("notes", self.notes.write()),
        ])
    }
}
