//! Does the reaction stay down? Every bearing of a reaction member: all that holds it down over all
//! that lifts it.

use std::borrow::Cow;

use smallvec::{SmallVec, smallvec};

use super::reaction::{Axle, ReactionMember, Seat};
use super::spec::{AskedFactor, FactorBasis};
use crate::beam::{Beam, Load, Response, Restraint};
use crate::error::{Error, Issue, slug};
use crate::formula::Recorder;
use crate::source::Name;
use crate::units::{Force, Kind, Length, LineLoad, Message, Quantity};
use crate::verdict::{Basis, Clause, DESIGN_SLACK, Limit, MemberUnit, State, Stop, Verdict, words};

crate::laws! {
    /// Reaction of own weight at either bearing.
    pub fn own_reaction(w: LineLoad as "w", l: Length as "L") -> Force as "G" = w * l / 2.0;
    source "statics of a simple span";
    /// Share of a force at the bearing at distance L from the other.
    pub fn bearing_share(c: Force as "C", l: Length as "L", z: Length as "distance") -> Force as "share" = c * ((l - z) / l);
    source "moments about the other bearing";
    /// What holds a bearing down: own weight and what stands on the member.
    pub fn held_down(own: Force as "own weight", weights: Force as "weights") -> Force as "stabilising" = own + weights;
    source "sum of what presses the bearing down";
    /// What lifts a bearing: the jacks, and weights beyond another bearing.
    pub fn lifted(jacks: Force as "jacks", others: Force as "others") -> Force as "uplift" = jacks + others;
    source "sum of what lifts the bearing";
    /// Factor against lift-off: all that stabilises over all that lifts.
    pub fn lift_off_factor(down: Force as "stabilising", up: Force as "uplift") -> f64 as "factor" = down / up;
    source "static equilibrium; floor 1.667 or 1.389 (library rule after EN 1990)";
    /// Factor of own weight alone.
    pub fn own_factor(own: Force as "own weight", up: Force as "uplift") -> f64 as "factor without weights" = own / up;
    source "static equilibrium";
    /// Factor on the other basis: counterweights over the uplift own weight does not balance.
    pub fn unbalanced_factor(c: Force as "counterweights", up: Force as "uplift", own: Force as "own weight") -> f64 as "factor on unbalanced uplift" = c / (up - own);
    source "definition";
    /// Jack force at which the bearing lifts, in parts of the full force.
    pub fn force_at_lift_off(p: Force as "P", down: Force as "stabilising", up: Force as "uplift") -> Force as "P_lift" = p * (down / up);
    source "proportion";
}

crate::answer! {
    /// One bearing of a reaction member.
    pub struct BearingCheck {
        /// The reaction member.
        reaction: Name,
        /// Its place from the left end of the member under test.
        at: Length,
        /// What holds it down: own weight and counterweights.
        stabilising: Force,
        /// What lifts it: the pulls of each circuit, and a weight on an overhang beyond another bearing.
        uplift: Force,
        /// Stabilising over uplift; nothing where nothing lifts.
        factor: Option<f64>,
        /// Counterweights over unbalanced uplift: the other basis, never to be mixed up with the
        /// first; nothing where own weight balances the uplift.
        factor_on_unbalanced_uplift: Option<f64>,
        /// Own weight over uplift: the factor without any counterweight.
        factor_without_counterweight: Option<f64>,
        /// The check against the floor that applies, or of a bearing that cannot lift against the
        /// uplift strength of what holds it.
        verdict: Verdict,
    }
}

const RULE: Clause = Clause::Named("library rule after EN 1990, static equilibrium");

/// A reaction member that is a beam, with what stands on it and pulls on it, in its own places.
pub(super) struct Held<'a> {
    pub(super) member: &'a ReactionMember,
    /// How the document calls it.
    pub(super) path: Cow<'static, str>,
    /// How the drawings call it.
    pub(super) name: Name,
    /// Its left end, from the left end of the member under test.
    pub(super) from: Length,
    pub(super) beam: Beam,
    /// What certainly stands on it.
    pub(super) weights: Vec<(Length, Force)>,
    /// What may stand on it beside: water that may have run out.
    pub(super) uncertain: Vec<(Length, Force)>,
    /// Place, size and circuit of what pulls.
    pub(super) pulls: Vec<(Length, Force, Option<String>)>,
}

/// What a bearing takes of every kind of load, up on the member positive.
struct Shares {
    own: Force,
    weights: Forces,
    /// Uplift of each circuit: what is on one pump comes and goes together.
    circuits: Forces,
}

pub(super) type Forces = SmallVec<[Force; 4]>;
type Loads = SmallVec<[Load; 4]>;

/// A reaction member solved once for all that stands on it and pulls on it, every case with the
/// breakpoints of all: the stages are sums of them.
pub(super) struct Cases {
    /// Own weight and counterweights.
    pub(super) placed: Response,
    /// All that pulls, at full test load.
    pub(super) pulled: Response,
    /// Own weight, each counterweight, each circuit pressing down; empty of a single span, whose bearings
    /// have their laws.
    each: Vec<Response>,
}

/// What the checks of the bearings found.
#[derive(Default)]
pub(super) struct LiftOff {
    pub(super) bearings: Vec<BearingCheck>,
    pub(super) asked: Vec<Verdict>,
    /// Checks of what holds a bearing that cannot lift, with the number of the bearing.
    pub(super) holding: Vec<(usize, Verdict)>,
    pub(super) stops: Vec<Stop>,
    /// The least factor without counterweight.
    pub(super) own_factor: Option<f64>,
}

impl Held<'_> {
    /// Its length, where it is a member of a single span between two bearings at its ends.
    pub(super) fn single_span(&self) -> Option<Length> {
        self.spans_once().filter(|_| self.member.axles.is_empty())
    }

    /// The same of what stands on axles too.
    fn spans_once(&self) -> Option<Length> {
        let free = |s: &crate::beam::Support| {
            s.vertical == Restraint::Rigid && s.rotation == Restraint::Free
        };
        let l = self.beam.length();
        match self.beam.supports() {
            [a, b] if free(a) && free(b) && a.at <= Length::ZERO && b.at >= l => Some(l),
            _ => None,
        }
    }

    /// Solves the member.
    ///
    /// # Errors
    /// What the beam refuses.
    pub(super) fn cases(&self) -> Result<Cases, Error> {
        let own = || self.own();
        let weights = || self.weights.iter().map(|(x, c)| Load::point(*x, *c));
        let up = self.pulls.iter().map(|(x, p, _)| Load::point(*x, -*p));
        let mut all: SmallVec<[Loads; 2]> =
            smallvec![own().into_iter().chain(weights()).collect(), up.collect()];
        if self.spans_once().is_none() {
            all.push(own());
            all.extend(weights().map(|w| smallvec![w]));
            all.extend(self.circuits().into_iter().map(|name| {
                let pulls = self.pulls.iter().filter(|p| &p.2 == name);
                pulls.map(|(x, p, _)| Load::point(*x, *p)).collect::<Loads>()
            }));
        }
        let cases: SmallVec<[&[Load]; 2]> = all.iter().map(|l| &**l).collect();
        let mut solved = self.beam.cases(&cases)?.into_iter();
        match (solved.next(), solved.next()) {
            (Some(placed), Some(pulled)) => Ok(Cases { placed, pulled, each: solved.collect() }),
            _ => Err(Issue::new(slug::BEAM_CASES, "beam", "no case").into()),
        }
    }

    /// Its own weight as loads: of a vehicle that of each axle.
    pub(super) fn own(&self) -> SmallVec<[Load; 4]> {
        let weight = self.member.self_weight.as_ref();
        let line = weight.map(|w| Load::uniform(Length::ZERO, self.beam.length(), w.value));
        let axle = |a: &Axle| Load::point(a.at.value - self.from, a.load.value);
        line.into_iter().chain(self.member.axles.iter().map(axle)).collect()
    }

    fn circuits(&self) -> SmallVec<[&Option<String>; 2]> {
        let mut names = SmallVec::<[&Option<String>; 2]>::new();
        for (_, _, circuit) in &self.pulls {
            if !names.contains(&circuit) {
                names.push(circuit);
            }
        }
        names
    }

    /// The shares of every bearing: of a single span by its laws, else by the beam solver.
    fn shares<R: Recorder>(
        &self,
        recorder: &mut R,
        cases: &Cases,
    ) -> SmallVec<[(Length, Shares); 2]> {
        let places = self.beam.supports().iter().map(|s| s.at);
        let mut all = SmallVec::new();
        if let Some(l) = self.spans_once() {
            for (i, at) in places.enumerate() {
                let side = if i == 0 { "left" } else { "right" };
                recorder.about(|| {
                    format!(
                        "Lift-off at the {side} bearing of the reaction member {}",
                        self.member.id
                    )
                });
                let weight = self.member.self_weight.as_ref();
                let own = weight.map_or(Force::ZERO, |w| own_reaction(recorder, w.value, l));
                let own = self.member.axles.get(i).map_or(own, |axle| axle.load.value);
                let mut share = |c: Force, x: Length| bearing_share(recorder, c, l, (x - at).abs());
                let weights = self.weights.iter().map(|(x, c)| share(*c, *x)).collect();
                let names = self.circuits();
                let mut circuits: Forces = smallvec![Force::ZERO; names.len()];
                for (sum, name) in circuits.iter_mut().zip(names) {
                    for (x, p, _) in self.pulls.iter().filter(|p| &p.2 == name) {
                        *sum += share(*p, *x);
                    }
                }
                all.push((at, Shares { own, weights, circuits }));
            }
            return all;
        }
        let weights = self.weights.len();
        for (i, place) in places.enumerate() {
            let of = |a: &Response| a.reactions().get(i).map_or(Force::ZERO, |r| r.force);
            let mut each = cases.each.iter().map(of);
            let own = each.next().unwrap_or(Force::ZERO);
            let weights = each.by_ref().take(weights).collect();
            all.push((place, Shares { own, weights, circuits: each.collect() }));
        }
        all
    }

    /// Checks every bearing, of a member solved. `least` is the least reaction of each over all stages.
    pub(super) fn lift_off<R: Recorder>(
        &self,
        recorder: &mut R,
        floor: f64,
        asked: Option<&AskedFactor>,
        unit: MemberUnit,
        (cases, least): (&Cases, &[Force]),
    ) -> LiftOff {
        let mut found = LiftOff::default();
        let force: Force = self.pulls.iter().map(|p| p.1).sum();
        let single = self.spans_once().is_some();
        let shares = self.shares(recorder, cases);
        let ends = shares.len();
        let mut unknown = false;
        for (i, ((at, share), seat)) in shares.into_iter().zip(self.member.seats()).enumerate() {
            let at = self.from + at;
            let side = match i {
                0 => "left",
                _ if i + 1 == ends => "right",
                _ => "inner",
            };
            if !single {
                recorder.about(|| {
                    let text = "Lift-off at the bearing at {} of the reaction member {}";
                    Message::new(text, [at.into(), self.member.id.clone().into()])
                });
            }
            let positive = |f: Force| f.max(Force::ZERO);
            let weights: Force = share.weights.iter().copied().map(positive).sum();
            let own = positive(share.own);
            let down = held_down(recorder, own, weights);
            let tips: Force = share.weights.iter().map(|f| positive(-*f)).sum();
            let jacks: Force = share.circuits.iter().copied().map(positive).sum();
            let uplift = lifted(recorder, jacks, tips + positive(-share.own));
            // a difference that rounding leaves is neither lift nor unbalanced lift
            let size = force.max(down);
            let lifts = uplift > size * DESIGN_SLACK;
            let factor = lifts.then(|| lift_off_factor(recorder, down, uplift));
            let unbalanced = (uplift > own * (1.0 + DESIGN_SLACK))
                .then(|| unbalanced_factor(recorder, weights, uplift, own))
                .filter(|_| lifts);
            // without counterweights none of them lifts either
            let bare = jacks + positive(-share.own);
            if jacks > size * DESIGN_SLACK {
                force_at_lift_off(recorder, force, own, bare);
                let factor = own / bare;
                found.own_factor = Some(found.own_factor.map_or(factor, |f| f.min(factor)));
            }
            let basis = Basis::total(unit);
            let net: Quantity = (uplift - down).into();
            let verdict = match (seat, factor) {
                (Seat::Monolithic, None) => {
                    Verdict::bare(State::NotApplicable, slug::RIG_MONOLITHIC, net, basis, RULE)
                }
                (Seat::Monolithic, Some(_)) => {
                    let pulled = positive(-least.get(i).copied().unwrap_or(down - uplift));
                    let holding = self.member.holding_at(i);
                    let checks = holding.map(|h| h.checks(recorder, pulled, unit));
                    for check in checks.into_iter().flatten() {
                        found.stops.extend(check.verdict.stop(|| {
                            let text = "{} bearing at {}: uplift of {} brings {} to the {}";
                            let demand = check.verdict.demand.into();
                            let said =
                                [side.into(), at.into(), pulled.into(), demand, check.what.into()];
                            let field =
                                self.member.holds.path("holds", i.min(self.member.holds.len() - 1));
                            let path = format!("{}.{field}.{}", self.path, check.field);
                            words(path, Message::new(text, said))
                        }));
                        found.holding.push((i, check.verdict));
                    }
                    match self.member.uplift_at(i) {
                        Some(limit) => {
                            let verdict = Verdict::design_of_size(
                                slug::RIG_UPLIFT_OVER_CAPACITY,
                                pulled.into(),
                                down.max(uplift).si(),
                                Limit::AtMost(limit.si()),
                                basis,
                                Clause::Named("strength given by the engineer"),
                            );
                            found.stops.extend(verdict.stop(|| {
                                let text =
                                    "{} bearing at {}: uplift of {} where what holds it carries {}";
                                let said = [side.into(), at.into(), pulled.into(), limit.into()];
                                let path = format!("{}.uplift_capacity", self.path);
                                words(path, Message::new(text, said))
                            }));
                            verdict
                        }
                        None => {
                            unknown |= holding.is_none();
                            Verdict::bare(
                                State::NotApplicable,
                                slug::RIG_MONOLITHIC,
                                net,
                                basis,
                                RULE,
                            )
                        }
                    }
                }
                (Seat::Seated, None) => Verdict::bare(
                    State::NotApplicable,
                    slug::RIG_LIFTOFF_BELOW_FLOOR,
                    Quantity::new(Kind::Force, 0.0),
                    basis,
                    RULE,
                ),
                (Seat::Seated, Some(factor)) => {
                    let verdict = Verdict::design(
                        slug::RIG_LIFTOFF_BELOW_FLOOR,
                        Quantity::new(Kind::Ratio, factor),
                        Limit::AtLeast(floor),
                        basis,
                        RULE,
                    );
                    found.stops.extend(verdict.stop(|| {
                        let message = Message::new(
                            "{} bearing: stabilising {} over uplift {} is {}, below the floor of {}",
                            [side.into(), down.into(), uplift.into(), factor.into(), floor.into()],
                        );
                        words("rig.counterweights", message)
                    }));
                    verdict
                }
            };
            if let Some(asked) = asked {
                let by = asked.basis == FactorBasis::UnbalancedUplift;
                let (code, clause) = (slug::RIG_FACTOR_ASKED, Clause::Named("factor asked for"));
                found.asked.push(match if by { unbalanced } else { factor } {
                    Some(value) => Verdict::design(
                        code,
                        Quantity::new(Kind::Ratio, value),
                        Limit::AtLeast(asked.at_least),
                        basis,
                        clause,
                    ),
                    // nothing lifts here, or nothing beyond own weight
                    None => Verdict::bare(State::NotApplicable, code, uplift.into(), basis, clause),
                });
            }
            found.bearings.push(BearingCheck {
                reaction: self.name.clone(),
                at,
                stabilising: down,
                uplift,
                factor,
                factor_on_unbalanced_uplift: unbalanced,
                factor_without_counterweight: (bare > size * DESIGN_SLACK)
                    .then(|| own_factor(recorder, own, bare)),
                verdict,
            });
        }
        if unknown {
            let message = "bearings that cannot lift are pulled up, and the strength of what is above and below them is not given";
            let path = format!("{}.uplift_capacity", self.path);
            found.stops.push(Stop::new(slug::RIG_UPLIFT_UNKNOWN, path, message));
        }
        found
    }
}
