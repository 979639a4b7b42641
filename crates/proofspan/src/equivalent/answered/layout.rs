//! The layout: places, force, overshoot, verification, bounds.

use smallvec::SmallVec;

use super::certificate::{Certificate, CertificateRow};
use super::solve::{Used, again, deviating, loads, round_up, solved};
use crate::beam::{Load, Response, Side, on_member};
use crate::equivalent::asked::ask::{Ask, asks, two_signs};
use crate::equivalent::asked::candidate::held;
use crate::equivalent::asked::carrier::{self, Carried, Carrier, CarrierKind};
use crate::equivalent::asked::deviations::Ends;
use crate::equivalent::asked::effect::Effect;
use crate::equivalent::asked::reference::Reference;
use crate::equivalent::asked::requirement::Sense;
use crate::equivalent::asked::spec::LayoutSpec;
use crate::equivalent::checked::as_built::AsBuilt;
use crate::equivalent::checked::bounds::{Bound, bounds};
use crate::equivalent::checked::filling::Filling;
use crate::equivalent::checked::overshoot::{Overshoot, PlaceRatios, at, worst};
use crate::equivalent::checked::untested::{Reached, reached};
use crate::equivalent::checked::verify::{Verification, verify_asks};
use crate::equivalent::solved::scale::{Scale, least};
use crate::error::{Error, Issue, slug};
use crate::formula::{Recorder, Working};
use crate::source::{Node, Value, Write, validate_single_named};
use crate::target::Target;
use crate::units::{
    Force, Kind, Length, LoadBasis, Message, Moment, Net, Quantified, Quantity, Ratio, System,
};
use crate::verdict::{DESIGN_SLACK, Note, Verdict};

crate::laws! {
    /// Force of one jack line that gives the end shear of the reference up to its place.
    pub fn line_force(v: Force as "V_ref", l: Length as "L", p: Length as "p") -> Force as "P" = v * l / (l - p);
    source "statics of a simple span; the shear left of the line is constant";
    /// Force of one jack line that gives the shear of the reference from its place to the right end.
    pub fn line_force_right(v: Force as "V_ref", l: Length as "L", p: Length as "p") -> Force as "P" = v * l / p;
    source "statics of a simple span; the shear right of the line is constant";
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
        /// Its carrier, by its place in the list of the document.
        carrier: usize,
        /// Place from the left end.
        at: Length,
        /// Force on one member unit, net: what the rig adds.
        force: Net<Force>,
    }
}

/// A layout with what it reaches. Every force is per member unit and net.
#[derive(Clone, PartialEq, Debug)]
pub struct Layout {
    /// The carriers in use, with their forces.
    pub carriers: Vec<Carried>,
    /// The lines of contact from left to right.
    pub lines: Vec<JackLine>,
    /// The sum of the forces on one member unit.
    pub force: Net<Force>,
    /// Shear, moment and deflection of the test load alone, soft prediction.
    pub response: Response,
    /// What set the force, or is nearest to falling short: effect, place, term.
    pub governed_by: (Effect, Length, usize),
    /// Largest overshoot against the envelope inside the regions: shear and moment, net and total.
    pub overshoots: Vec<Overshoot>,
    /// What the separate verifier found.
    pub verification: Verification,
    /// The layout under bounds of end fixity; empty where the ends are shown free to turn.
    pub bounds: Vec<Bound>,
    /// The layout under what may be built otherwise; nothing where no deviation is stated.
    pub built: Option<AsBuilt>,
    /// The limits asked for, fidelity, supports, distance to the bearing.
    pub verdicts: Vec<Verdict>,
    /// What to know.
    pub notes: Vec<Note>,
    /// The order in which carriers that are stacked or filled come; nothing of fewer than two.
    pub filling: Option<Filling>,
    pub(super) loads: Vec<Load>,
    pub(super) used: Vec<Used>,
    pub(super) certificates: Vec<Certificate>,
    pub(super) asks: Vec<Ask>,
    pub(super) system: System,
}

/// What the presses of a layout give in one case, jacks on one pressure not being alike.
#[derive(Clone, Debug)]
pub(crate) struct Uneven {
    /// The case, in words.
    pub(crate) what: Message,
    /// The joist that it is looked at for; nothing of the whole member unit.
    pub(crate) joist: Option<usize>,
    /// Of each press in use, what it gives over what is counted; of a joist over its share of that.
    pub(crate) factors: Vec<f64>,
}

/// Finds the forces, and the places where they are searched, by the certified solver; one line of jacks or
/// one spreader on one span keeps its closed form.
///
/// # Errors
/// `equivalent.jack-outside`, `equivalent.jack-near-support`, `equivalent.uncovered` with the
/// part of the region that no force of this carrier reaches, or the conflict in words;
/// `target.net-nonpositive` where there is nothing to reproduce; what carriers, requirements and
/// objectives refuse.
pub fn layout(
    target: &Target,
    spec: &LayoutSpec,
    effective_depth: Option<Length>,
) -> Result<Layout, Error> {
    validate_single_named("layout", spec)?;
    if spec.stay_uncracked {
        let message = "to stay uncracked asks for the sections of the member, which a document has";
        let issue = Issue::new(slug::SOURCE_FIELD_MISSING, "layout.stay_uncracked", message);
        return Err(issue
            .remedy("design the test, or give `moment_limit` among the requirements")
            .into());
    }
    laid_out(target, spec, &[], (effective_depth, System::Si))
}

/// The same for a document that was held to its rules, its words in these units. `frames` are, for every
/// carrier, the places where a frame that its jack pushes against holds on the member itself.
pub(crate) fn laid_out(
    target: &Target,
    spec: &LayoutSpec,
    frames: &[Vec<Length>],
    (depth, system): (Option<Length>, System),
) -> Result<Layout, Error> {
    carrier::refused(&spec.carrier, target.beam.length(), spec.plate_length.value)?;
    carrier::clashing(&spec.carrier, &target.beam, spec.plate_length.value, system)?;
    let asks = asks(target, spec);
    let framed = frames.iter().any(|places| !places.is_empty());
    if let Some(carrier) = single(target, spec).filter(|_| !framed) {
        return one_force(target, spec, carrier, &asks)?.judged(
            target,
            spec,
            &asks,
            (depth, system),
        );
    }
    if !asks.iter().any(|a| asked_at_all(target, a)) {
        return Err(nothing_asked());
    }
    let mut solved = solved(target, spec, frames, &asks, system)?;
    let mut notes = Vec::new();
    if let Some(words) = solved.conflict {
        notes.push(Note::new(slug::EQUIVALENT_LIMIT_CONFLICT, "layout.limits", words));
    }
    if let Some(words) = solved.searched {
        notes.push(Note::new(slug::EQUIVALENT_SEARCHED, "layout.search", words));
    }
    if round_up(&mut solved.used, spec) {
        let message =
            "forces are raised to whole layers or steps; the certificates are of those before";
        notes.push(Note::new(slug::EQUIVALENT_ROUNDED, "layout.carrier", message));
    }
    let found = Found::of(target, spec, solved.used, solved.certificates, None, notes)?;
    found.judged(target, spec, &asks, (depth, system))
}

/// Whether a term asks for anything of an effect in its sign.
fn asked_at_all(target: &Target, ask: &Ask) -> bool {
    let (up, down) = Sense::signs(ask.sense);
    let all = |t: &crate::target::Term| ask.effect.extremes(&t.net, (ask.from, ask.to));
    let extremes: SmallVec<[_; 8]> = target.terms.iter().map(all).collect();
    let largest =
        extremes.iter().map(|e| e.max.value.abs().max(e.min.value.abs())).fold(0.0, f64::max);
    extremes.iter().any(|e| {
        (up && e.max.value > 1e-9 * largest && e.max.value > 0.0)
            || (down && e.min.value < -1e-9 * largest && e.min.value < 0.0)
    })
}

/// The one carrier whose force has a closed form: one line or a spreader of equal shares on one span,
/// one region, nothing else asked.
fn single<'a>(target: &Target, spec: &'a LayoutSpec) -> Option<&'a Carrier> {
    let [carrier] = &*spec.carrier else { return None };
    let plain = match carrier {
        Carrier::JackLine(l) => l.capacity.is_none() && l.step.is_none(),
        Carrier::Spreader(s) => {
            s.capacity.is_none() && s.step.is_none() && s.shares.is_none() && s.contacts.len() < 3
        }
        _ => false,
    };
    let alone = spec.search.is_none()
        && spec.requirements.is_empty()
        && spec.objectives.is_empty()
        && target.regions.len() == 1
        && carrier.settled().is_none();
    (plain && alone && !two_signs(target)).then_some(carrier)
}

fn one_force(
    target: &Target,
    spec: &LayoutSpec,
    carrier: &Carrier,
    asks: &[Ask],
) -> Result<Found, Error> {
    let effects: SmallVec<[Effect; 4]> = asks.iter().map(|a| a.effect).collect();
    let contacts = places(target, spec, carrier, &effects)?;
    let found = tried(target, spec, &effects, &contacts)?;
    let Scale::Found { factor, effect, at: place, term } = found.scale else {
        return Err(refusal(target, &found.scale, &contacts));
    };
    let first = contacts.first().copied();
    let candidate = carrier.candidate(spec.plate_length.value, first);
    let used = vec![Used::new(0, candidate, Net(Force::from_si(factor)))];
    let loads: Vec<Load> = found.loads.iter().map(|l| l.scaled(factor)).collect();
    Ok(Found {
        used,
        force: Net(Force::from_si(factor)),
        response: found.unit.scaled(factor),
        loads,
        governed_by: Some((effect, Length::from_si(place), term)),
        certificates: Vec::new(),
        notes: Vec::new(),
    })
}

/// Places and forces that are settled, before they are compared with the target.
struct Found {
    pub(super) used: Vec<Used>,
    force: Net<Force>,
    response: Response,
    loads: Vec<Load>,
    governed_by: Option<(Effect, Length, usize)>,
    certificates: Vec<Certificate>,
    notes: Vec<Note>,
}

impl Found {
    fn of(
        target: &Target,
        spec: &LayoutSpec,
        mut used: Vec<Used>,
        certificates: Vec<Certificate>,
        governed_by: Option<(Effect, Length, usize)>,
        notes: Vec<Note>,
    ) -> Result<Self, Error> {
        let loads = loads(&target.beam, spec, &mut used)?;
        let response = held(&target.beam).response(&loads)?;
        let force = Net(used.iter().map(|u| u.force.0).sum());
        Ok(Self { used, force, response, loads, governed_by, certificates, notes })
    }

    fn judged(
        self,
        target: &Target,
        spec: &LayoutSpec,
        asks: &[Ask],
        (depth, system): (Option<Length>, System),
    ) -> Result<Layout, Error> {
        let Self { used, force, response, loads, governed_by, certificates, notes } = self;
        let verification = verify_asks(&held(&target.beam).response(&loads)?, target, asks);
        let mut overshoots: Vec<Overshoot> = Vec::with_capacity(4);
        for effect in [Effect::Shear, Effect::Moment] {
            overshoots.extend(worst_of_regions(target, &response, effect).into_iter().flatten());
        }
        let bounds = match spec.ends {
            Ends::Seated => Vec::new(),
            Ends::CastInPlace if target.beam.supports().len() < 2 => Vec::new(),
            Ends::CastInPlace => bounds(target, &loads, asks)?,
        };
        let nearest = verification
            .least
            .iter()
            .min_by(|a, b| a.fidelity.value().total_cmp(&b.fidelity.value()))
            .map(|s| (s.effect, s.at, s.term));
        let built = deviating(target, spec, asks, &used, system)?;
        let mut layout = Layout {
            carriers: used.iter().map(|u| u.carried(spec, system)).collect(),
            lines: contacts(&used),
            force,
            response,
            governed_by: governed_by.or(nearest).unwrap_or((Effect::Moment, target.from, 0)),
            overshoots,
            verification,
            bounds,
            built,
            verdicts: Vec::new(),
            notes,
            filling: None,
            loads,
            used: used.into_iter().map(|u| u.in_parts_of(spec)).collect(),
            certificates,
            asks: asks.to_vec(),
            system,
        };
        layout.judge(target, spec, depth)?;
        layout.fill(target, spec)?;
        Ok(layout)
    }
}

/// The contacts from left to right with their forces.
fn contacts(used: &[Used]) -> Vec<JackLine> {
    let mut lines: Vec<JackLine> = Vec::with_capacity(used.len());
    for one in used.iter().filter(|u| u.force.0 > Force::ZERO) {
        let of = one.candidate.contacts.iter().enumerate();
        lines.extend(of.map(|(i, at)| JackLine {
            carrier: one.carrier,
            at: *at,
            force: Net(one.force.0 * one.candidate.share(i)),
        }));
    }
    lines.sort_by(|a, b| a.at.si().total_cmp(&b.at.si()));
    lines
}

/// The largest overshoot of all regions.
fn worst_of_regions(target: &Target, jacks: &Response, effect: Effect) -> [Option<Overshoot>; 2] {
    if target.regions.len() == 1 {
        return worst(target, jacks, effect);
    }
    let mut all: [Option<Overshoot>; 2] = [None, None];
    for region in &target.regions {
        let here = worst(&target.looking_at(*region), jacks, effect);
        for (slot, found) in all.iter_mut().zip(here) {
            let larger =
                |f: &Overshoot| slot.as_ref().is_none_or(|s| f.ratio.value() > s.ratio.value());
            if let Some(found) = found.filter(larger) {
                *slot = Some(found);
            }
        }
    }
    all
}

/// One try: the unit pattern and its scale.
struct Try {
    loads: Vec<Load>,
    unit: Response,
    scale: Scale,
}

/// One newton on contacts in equal shares, each under its plate.
fn pattern(target: &Target, spec: &LayoutSpec, contacts: &[Length]) -> Vec<Load> {
    let share = Force::from_si(1.0 / f64::from(u32::try_from(contacts.len()).unwrap_or(1)));
    let plate = spec.plate_length.value;
    contacts
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
        .collect()
}

fn tried(
    target: &Target,
    spec: &LayoutSpec,
    effects: &[Effect],
    contacts: &[Length],
) -> Result<Try, Error> {
    let loads = pattern(target, spec, contacts);
    let unit = target.beam.response(&loads).map_err(|_| outside(target, contacts))?;
    let scale = least(target, &unit, effects, (target.from, target.to));
    Ok(Try { loads, unit, scale })
}

fn outside(target: &Target, contacts: &[Length]) -> Error {
    let shown = contacts.iter().map(|at| Message::new("{}", [(*at).into()]));
    Issue::new(
        slug::EQUIVALENT_JACK_OUTSIDE,
        "layout.carrier",
        "a contact point stands beyond the member",
    )
    .value(Message::joined(shown, ", "))
    .limit(Message::new("0 to {}", [target.beam.length().into()]))
    .into()
}

fn nothing_asked() -> Error {
    let message = "what is in place is not less than what the edition asks: nothing to apply";
    Issue::new(slug::TARGET_NET_NONPOSITIVE, "loads", message).into()
}

fn refusal(target: &Target, scale: &Scale, contacts: &[Length]) -> Error {
    match scale {
        Scale::Uncovered { effect, at, term } => {
            let shown = contacts.iter().map(|at| Message::new("{}", [(*at).into()]));
            Issue::new(
                slug::EQUIVALENT_UNCOVERED,
                "layout.carrier",
                Message::new(
                    "no force at {} gives the {} of term {} at x = {}: the carrier has none of that sign there",
                    [
                        Message::joined(shown, ", ").into(),
                        effect.word().into(),
                        target.term_name(*term).into(),
                        Length::from_si(*at).into(),
                    ],
                ),
            )
            .limit("shear: every contact at or beyond the far edge of the region")
            .into()
        }
        _ => nothing_asked(),
    }
}

/// The places of the contact points: given, or searched for the least worst moment overshoot.
fn places(
    target: &Target,
    spec: &LayoutSpec,
    carrier: &Carrier,
    effects: &[Effect],
) -> Result<Vec<Length>, Error> {
    let length = target.beam.length();
    let half = spec.plate_length.value / 2.0;
    let Some((low, high, spacing)) = carrier.range(length) else {
        return inside(target, carrier.candidate(Length::ZERO, None).contacts);
    };
    if low < Length::ZERO || high > length || low > high {
        return Err(outside(target, &[low, high]));
    }
    let contacts = |x: Length| if spacing > Length::ZERO { vec![x, x + spacing] } else { vec![x] };
    // what a place costs: nothing where it does not reach the region
    let cost = |x: Length| -> Option<(f64, f64)> {
        let found = tried(target, spec, effects, &contacts(x)).ok()?;
        let Scale::Found { factor, .. } = found.scale else { return None };
        let response = found.unit.scaled(factor);
        let [net, _] = worst(target, &response, Effect::Moment);
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
    /// The same layout against another target, for example one with other inputs. Places and forces that
    /// the document gives are those of `spec`; what was found stays: the places searched, the force of a
    /// jack, the layers of a stack, the depth of a basin.
    ///
    /// # Errors
    /// A carrier or load that the beam cannot carry; a jack too near a bearing; water above its freeboard.
    pub fn against(
        &self,
        target: &Target,
        spec: &LayoutSpec,
        effective_depth: Option<Length>,
    ) -> Result<Self, Error> {
        let asks = asks(target, spec);
        let used = again(&self.used, &target.beam, spec)?;
        carrier::clashing(&spec.carrier, &target.beam, spec.plate_length.value, self.system)?;
        let certificates = self.certificates.clone();
        // one force in closed form keeps the pattern it was found with
        let alone =
            used.first().filter(|_| self.certificates.is_empty() && single(target, spec).is_some());
        let found = if let Some(one) = alone {
            let loads = pattern(target, spec, &one.candidate.contacts);
            let loads: Vec<Load> = loads.iter().map(|l| l.scaled(self.force.0.si())).collect();
            Found {
                force: self.force,
                response: target.beam.response(&loads)?,
                loads,
                used,
                governed_by: Some(self.governed_by),
                certificates,
                notes: Vec::new(),
            }
        } else {
            let governed = Some(self.governed_by);
            Found::of(target, spec, used, certificates, governed, Vec::new())?
        };
        found.judged(target, spec, &asks, (effective_depth, self.system))
    }

    /// What proves that no forces are better: one certificate an objective. Empty where every force was
    /// given.
    #[must_use]
    pub fn certificates(&self, target: &Target, spec: &LayoutSpec) -> Vec<Certificate> {
        match (self.certificates.is_empty(), single(target, spec)) {
            (true, Some(_)) => self.own_certificate(target).into_iter().collect(),
            _ => self.certificates.clone(),
        }
    }

    /// The proof of one force: the row that asks for it, its multiplier the inverse of what one newton
    /// brings there.
    fn own_certificate(&self, target: &Target) -> Option<Certificate> {
        let (effect, at, term) = self.governed_by;
        let force = self.force.0.si();
        let asked = target.terms.get(term)?;
        let side = if at < target.to { Side::Right } else { Side::Left };
        let (test, reference) =
            (effect.at(&self.response, at, side), effect.at(&asked.net, at, side));
        // where both vanish the slopes are compared, and the row is of those
        let (a, b, unit) = if reference.abs() > 0.0 && test.abs() > 0.0 {
            (test / force, reference, if effect == Effect::Shear { "N" } else { "N m" })
        } else {
            (force.recip(), 1.0, "1")
        };
        let row = CertificateRow {
            what: format!("{effect} of the reference is reached"),
            at: Some(at),
            side: Some(side),
            term: Some(asked.id.to_string()),
            unit: unit.to_owned(),
            a: vec![a.abs()],
            b: b.abs(),
            multiplier: a.abs().recip(),
        };
        let names = self.carriers.iter().map(|c| c.name.to_string()).collect();
        let about = "least sum of the forces, every given carrier used".to_owned();
        Some(Certificate::of(about, names, vec![force], vec![1.0], vec![row]))
    }

    /// What the test reaches and what it does not, at every support and in every span.
    #[must_use]
    pub fn reached(&self, target: &Target) -> Vec<Reached> {
        reached(&target.beam, &Reference::from(target).shown_in(self.system), &self.response)
    }

    /// The places and forces of the lines.
    #[must_use]
    pub fn forces(&self) -> Vec<(Length, Net<Force>)> {
        self.lines.iter().map(|l| (l.at, l.force)).collect()
    }

    /// The lines in which jacks press, each where it stands; weights, water and wheels have none.
    pub(crate) fn contacts(&self) -> impl Iterator<Item = &JackLine> {
        let pressed = |of: usize| {
            self.carriers.iter().any(|c| c.carrier == of && c.kind == CarrierKind::Jack)
        };
        self.lines.iter().filter(move |l| pressed(l.carrier))
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
        at(target, &self.response, effect, basis, x, side)
    }

    /// The overshoot of one effect on one basis inside the region.
    #[must_use]
    pub fn overshoot(&self, effect: Effect, basis: LoadBasis) -> Option<Ratio> {
        self.overshoots.iter().find(|o| o.effect == effect && o.basis == basis).map(|o| o.ratio)
    }

    /// The force and the overshoots by hand where a closed form exists (one point on a simple
    /// span), else carrier by carrier, and what they bring where the layout governs.
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
            // left of the line the shear is that of the left end, right of it that of the right end
            let right = x > *p;
            let side = if right { Side::Left } else { Side::Right };
            let v = target.terms.get(term).map_or(Force::ZERO, |t| t.net.inside().shear(x, side));
            let force = if right {
                line_force_right(&mut working, -v, l, *p)
            } else {
                line_force(&mut working, v, l, *p)
            };
            let moment = line_moment(&mut working, force, *p, l);
            let reference = target.inside().moment(*p).value.0;
            net_overshoot(&mut working, moment, reference);
            total_overshoot(
                &mut working,
                moment,
                reference,
                target.in_place.inside().moment(*p, Side::Left),
            );
            let beside = if right { Side::Right } else { Side::Left };
            let shear = target.inside().shear(*p, beside).value.0;
            let there = target.in_place.inside().shear(*p, beside);
            net_shear_overshoot(&mut working, v, shear);
            total_shear_overshoot(&mut working, v, shear, there);
        } else {
            self.redone(&mut working, target);
        }
        self.held(&mut working, since, target);
        working
    }

    /// How far down a frame goes that holds on the member itself and that the jack of a carrier pushes
    /// against: it goes with the places where it holds.
    pub(crate) fn frame_goes(&self, carrier: usize) -> Length {
        let deflection = |x: Length| self.response.inside().deflection(x);
        let own = self.used.iter().find(|u| u.carrier == carrier && u.force.0 > Force::ZERO);
        own.map_or(Length::ZERO, |u| u.candidate.frame_goes(deflection))
    }

    /// A carrier in use.
    pub(super) fn used(&self, i: usize) -> Option<&Used> {
        self.used.get(i)
    }

    /// Holds the answer to its working: the sum of the lines, what the loads bring again, the force
    /// where a step gives it.
    fn held(&self, working: &mut Working, since: usize, target: &Target) {
        let sum: Force = self.lines.iter().map(|l| l.force.0).sum();
        let force =
            working.steps().find(|s| s.result.0 == "P").map_or(sum.quantity(), |s| s.result.1);
        working.claim("layout.force", since, force, self.force.0.si(), sum.abs().si());
        let singly = self.lines.len() == self.loads.len();
        for (i, (line, load)) in self.lines.iter().zip(&self.loads).enumerate().filter(|_| singly) {
            let on = load.resultant();
            let what = format!("layout.lines[{i}].force");
            working.claim(what, since, on.quantity(), line.force.0.si(), on.abs().si());
        }
        let Ok(response) = held(&target.beam).response(&self.loads) else { return };
        // a reference that counts as the floor is not what acts there
        for (i, o) in self.overshoots.iter().enumerate().filter(|(_, o)| !o.floored) {
            let (each, again) = at(target, &response, o.effect, o.basis, o.at, o.side);
            let (what, ratio) = (format!("layout.overshoots[{i}].ratio"), o.ratio.value());
            // where the test is zero but for rounding it has no sense of its own
            let nothing = || each.iter().flatten().any(|r| r.abs() <= DESIGN_SLACK).then_some(0.0);
            let again = again.map(|r| r.0).or_else(nothing);
            let again = Quantity::new(Kind::Ratio, again.unwrap_or(f64::NAN));
            working.claim(what, since, again, ratio, ratio.abs().max(1.0));
        }
        let again = verify_asks(&response, target, &self.asks);
        working.claim_all("layout.verification", since, &again.write(), &self.verification.write());
    }
}

/// The layout under what may be built otherwise, as a tree.
fn built(found: &AsBuilt) -> Node {
    Node::map(vec![
        ("each", found.each.write()),
        ("fidelity", found.fidelity.write()),
        ("limits", found.limits.write()),
        ("raise", found.raise.write()),
    ])
}

impl Write for Layout {
    fn write(&self) -> Node {
        Node::map(vec![
            ("carriers", self.carriers.write()),
            ("lines", self.lines.write()),
            ("force", self.force.write()),
            ("governing_effect", self.governed_by.0.write()),
            ("governing_place", self.governed_by.1.write()),
            ("governing_term", self.governed_by.2.write()),
            ("overshoots", self.overshoots.write()),
            ("verification", self.verification.write()),
            ("bounds", self.bounds.write()),
            ("built", self.built.as_ref().map_or_else(|| Node::new(Value::Null), built)),
            ("verdicts", self.verdicts.write()),
            ("notes", self.notes.write()),
        ])
    }
}
