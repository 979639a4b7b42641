//! From the press of a jack to the bars that pull on the reaction: who holds what, and where.

use std::borrow::Cow;

use super::reaction::ReactionMember;
use super::spec::{Bars, Jacks, RigSpec};
use crate::error::{Issue, Slug, slug};
use crate::formula::Recorder;
use crate::units::{Force, Length, Message, Net, Pressure, Ratio};

crate::laws! {
    /// Share of a place in a press that two places hold: the lever rule about the jack.
    pub fn lever(p: Force as "P", far: Length as "z_other", between: Length as "distance") -> Force as "pull" = p * (far / between);
    source "moments about the other place, which stands at z_other from the jack";
    /// Share of one of several places in a press, on equal bars under a stiff crosshead.
    pub fn crosshead(p: Force as "P", n: f64 as "n", own: Length as "x_i", jack: Length as "x_jack", spread: Length as "r") -> Force as "pull" = p * (1.0 / n + (own / spread) * (jack / spread));
    source "equilibrium of a stiff crosshead on equal bars; x from their middle, r the root of the sum of x_i squared";
}

crate::choice! {
    /// By what a press is made.
    pub enum Means ("means", source::SOURCE_CHOICE) {
        /// A jack: it presses the member down and pulls the reaction up.
        Jack = "jack",
        /// A weight: it reacts on nothing.
        Weight = "weight",
    }
}

crate::answer! {
    /// A force on the member under test, per member unit: of a spreader, at the place of its jack.
    pub struct Press {
        /// Its place from the left end of the member under test.
        at: Length,
        /// How much, net.
        force: Net<Force>,
        /// The circuit of its jacks, where it is named.
        circuit: Option<String>,
        /// By what it is made.
        by: Means
    }
}

impl Press {
    /// A jack, or several that act as one, on the one circuit there is.
    #[must_use]
    pub const fn jack(at: Length, force: Net<Force>) -> Self {
        Self { at, force, circuit: None, by: Means::Jack }
    }

    /// A weight.
    #[must_use]
    pub const fn weight(at: Length, force: Net<Force>) -> Self {
        Self { at, force, circuit: None, by: Means::Weight }
    }

    /// The same on a circuit.
    #[must_use]
    pub fn on(self, circuit: impl Into<String>) -> Self {
        Self { circuit: Some(circuit.into()), ..self }
    }
}

/// What the rig must know of the member under test.
#[derive(Clone, Copy, Debug)]
pub struct Tested<'a> {
    /// How the drawings call it.
    pub member: &'a str,
    /// Its first bearing from its left end: a reaction member without a place stands under it.
    pub first_bearing: Length,
    /// The steps as fractions of the full test load, rising, the last one 1.
    pub steps: &'a [Ratio],
    /// Its stiff EI over its soft one; what is locked off changes its force most on stiff members.
    pub stiffer: f64,
    /// Place of a press and the soft deflection of the member there; of one that is not listed the
    /// largest counts.
    pub ways: &'a [(Length, Length)],
    /// Place of a press that a spreader brings on, and how far that tilts by the soft deflections under its
    /// outer contacts, rise over length.
    pub tilts: &'a [(Length, f64)],
}

impl Tested<'_> {
    /// The soft deflection under a press, where it is listed.
    pub(super) fn way(&self, at: Length) -> Option<Length> {
        self.ways.iter().find(|w| (w.0 - at).abs() <= Length::ZERO).map(|w| w.1)
    }
}

/// A member whose first bearing is its left end, loaded in quarter steps.
impl<'a> From<&'a str> for Tested<'a> {
    fn from(member: &'a str) -> Self {
        const QUARTERS: &[Ratio] =
            &[Ratio::from_si(0.25), Ratio::from_si(0.5), Ratio::from_si(0.75), Ratio::from_si(1.0)];
        Self {
            member,
            first_bearing: Length::ZERO,
            steps: QUARTERS,
            stiffer: 1.0,
            ways: &[],
            tilts: &[],
        }
    }
}

crate::answer! {
    /// What pulls on the reaction at one place, per member unit.
    pub struct Pull {
        /// The press it holds, by its number from the left.
        press: usize,
        /// Its place from the left end of the member under test.
        at: Length,
        /// How much, up.
        force: Force,
        /// The reaction it pulls on, by its number in the document.
        reaction: usize,
    }
}

/// A press with what serves it.
pub(super) struct Served<'a> {
    pub(super) press: &'a Press,
    pub(super) jacks: &'a Jacks,
    /// The jacks, as the document calls them.
    pub(super) jacks_path: Cow<'static, str>,
    pub(super) bars: Option<&'a Bars>,
    /// The bars, as the document calls them.
    pub(super) bars_path: Cow<'static, str>,
    /// Where the bars hold, and how much of the press each place takes.
    pub(super) shares: Vec<(Length, Force)>,
    pub(super) pulls: Vec<Pull>,
    /// How many bars hold at one place.
    pub(super) each: u32,
    /// What the worst bar of a place takes over an even share.
    pub(super) worst: f64,
}

/// The force path of every jack.
pub(super) struct ForcePath<'a> {
    pub(super) served: Vec<Served<'a>>,
}

/// How far the only place of the bars may stand from the jack: a thousandth of a millimetre.
const SAME_PLACE: f64 = 1e-6;

/// Jacks, bars and reaction of every press. Problems go to `issues`.
pub(super) fn force_path<'a, R: Recorder>(
    recorder: &mut R,
    spec: &'a RigSpec,
    tested: &Tested<'_>,
    presses: &'a [Press],
    issues: &mut Vec<Issue>,
) -> ForcePath<'a> {
    let mut order: Vec<(usize, &Press)> =
        presses.iter().enumerate().filter(|(_, p)| p.by == Means::Jack).collect();
    order.sort_by(|a, b| a.1.at.si().total_cmp(&b.1.at.si()));
    if !order.is_empty() && spec.jacks.is_empty() {
        issues.push(Issue::new(
            slug::RIG_JACKS_MISSING,
            "rig.jacks",
            "a jack presses and no jacks are given",
        ));
    }
    if spec.bars.len() > 1 && spec.bars.len() != order.len() {
        let message = "neither one record of bars for all presses nor one for each";
        issues.push(
            Issue::new(slug::RIG_BARS_UNSTABLE, "rig.bars", message)
                .value(spec.bars.len())
                .limit(format!("1 or {}", order.len())),
        );
    }
    let mut served = Vec::with_capacity(order.len());
    for (rank, (index, press)) in order.iter().enumerate() {
        let Some(jacks) = jacks_of(spec, &order, rank, issues) else { continue };
        let bars = if spec.bars.len() == 1 { 0 } else { rank };
        let bars_path = spec.bars.path("rig.bars", bars);
        let bars = spec.bars.get(bars);
        let shares = match bars {
            Some(b) if !b.places.is_empty() => {
                let places: Vec<Length> = b.places.iter().map(|p| p.value).collect();
                let path = format!("{bars_path}.places");
                shares(recorder, press.at, press.force.0, &places, &path, issues)
            }
            _ => vec![(press.at, press.force.0)],
        };
        let named = bars.and_then(|b| b.reaction.as_deref());
        let mut pulls = Vec::with_capacity(shares.len());
        for (at, force) in shares.iter().copied() {
            let path = || {
                let path = match bars {
                    Some(b) if b.reaction.is_some() => format!("{bars_path}.reaction"),
                    Some(b) if !b.places.is_empty() => format!("{bars_path}.places"),
                    _ => "rig.reaction".to_owned(),
                };
                (slug::RIG_REACTION_SHORT, path)
            };
            match holder(spec, tested, at, named, path, "what pulls on the reaction", issues) {
                Some(reaction) => pulls.push(Pull { press: *index, at, force, reaction }),
                None => continue,
            }
        }
        let jacks_path = spec.jacks.path("rig.jacks", jacks);
        if let Some(jacks) = spec.jacks.get(jacks) {
            let places = u32::try_from(shares.len()).unwrap_or(1).max(1);
            let each = bars.map_or(0, |b| b.number / places);
            let worst = spec.worst_bar(each);
            served.push(Served {
                press,
                jacks,
                jacks_path,
                bars,
                bars_path,
                shares,
                pulls,
                each,
                worst,
            });
        }
    }
    one_pressure(&served, issues);
    ForcePath { served }
}

/// The record of jacks that serves a press, by its number.
fn jacks_of(
    spec: &RigSpec,
    order: &[(usize, &Press)],
    rank: usize,
    issues: &mut Vec<Issue>,
) -> Option<usize> {
    let (index, press) = order.get(rank)?;
    let same = |a: &Option<String>, b: &Option<String>| a == b;
    let on: Vec<usize> = match &*spec.jacks {
        [] => return None,
        [one] if one.circuit.is_none() || press.circuit.is_none() => vec![0],
        list => (0..list.len())
            .filter(|i| list.get(*i).is_some_and(|j| same(&j.circuit, &press.circuit)))
            .collect(),
    };
    let with: Vec<usize> = (0..order.len())
        .filter(|r| order.get(*r).is_some_and(|o| same(&o.1.circuit, &press.circuit)))
        .collect();
    match on.as_slice() {
        [one] => Some(*one),
        list if !list.is_empty() && list.len() == with.len() => {
            with.iter().position(|r| *r == rank).and_then(|i| list.get(i).copied())
        }
        list => {
            let circuit = press.circuit.as_deref().unwrap_or("none named");
            let message = format!(
                "press {} on circuit `{circuit}`: no jacks that are certainly its own",
                index + 1
            );
            let issue = Issue::new(slug::RIG_CIRCUIT, "rig.jacks", message).value(format!(
                "{} records for {} presses",
                list.len(),
                with.len()
            ));
            issues.push(issue.limit("one record for the circuit, or one for each of its presses"));
            None
        }
    }
}

/// Presses on one circuit share one pressure: force over piston area may not differ.
fn one_pressure(served: &[Served<'_>], issues: &mut Vec<Issue>) {
    let per_area = |s: &Served<'_>| s.press.force.0.si() / s.jacks.acting().si();
    for (i, b) in served.iter().enumerate() {
        let before = served.iter().take(i).find(|a| a.press.circuit == b.press.circuit);
        let Some(a) = before else { continue };
        let (p, q) = (per_area(a), per_area(b));
        if (p - q).abs() > 1e-6 * p.abs().max(q.abs()) {
            let circuit =
                b.press.circuit.as_ref().map_or_else(String::new, |c| format!(", circuit `{c}`"));
            let message = Message::new(
                "the presses at {} and at {}{} ask for different pressures",
                [a.press.at.into(), b.press.at.into(), circuit.into()],
            );
            issues.push(
                Issue::new(slug::RIG_CIRCUIT, b.jacks_path.clone(), message)
                    .value(Pressure::from_si(q))
                    .limit(Message::new(
                        "{}: one pump gives one pressure",
                        [Pressure::from_si(p).into()],
                    )),
            );
        }
    }
}

/// The shares of places in a press by the statics of the crosshead. A place that would have to push
/// is refused.
pub(super) fn shares<R: Recorder>(
    recorder: &mut R,
    jack: Length,
    force: Force,
    places: &[Length],
    path: &str,
    issues: &mut Vec<Issue>,
) -> Vec<(Length, Force)> {
    let pulls = spread(recorder, jack, force, places);
    let astray = match places {
        [one] => !same_place(*one, jack),
        _ => pulls.iter().any(|(_, f)| *f < -force.abs() * 1e-9),
    };
    if astray {
        issues.push(turned_over(jack, places, path));
    }
    pulls
}

/// Whether a pull stands over a place.
pub(super) fn same_place(a: Length, b: Length) -> bool {
    (a - b).si().abs() <= SAME_PLACE
}

/// A crosshead that is pulled beside its places.
pub(super) fn turned_over(jack: Length, places: &[Length], path: &str) -> Issue {
    let shown = places.iter().map(|at| Message::new("{}", [(*at).into()]));
    let message = Message::new("the jack at {} would turn the crosshead over", [jack.into()]);
    Issue::new(slug::RIG_BARS_UNSTABLE, path, message)
        .value(Message::joined(shown, ", "))
        .limit("places on both sides of the jack, none of which pushes")
}

/// The shares of places in a pull, of whatever sign.
pub(super) fn spread<R: Recorder>(
    recorder: &mut R,
    jack: Length,
    force: Force,
    places: &[Length],
) -> Vec<(Length, Force)> {
    recorder.about(|| Message::new("What pulls on the reaction, jack at {}", [jack.into()]));
    match places {
        [] => vec![(jack, force)],
        [one] => vec![(*one, force)],
        [a, b] => {
            let between = *b - *a;
            vec![
                (*a, lever(recorder, force, *b - jack, between)),
                (*b, lever(recorder, force, jack - *a, between)),
            ]
        }
        _ => {
            #[expect(clippy::cast_precision_loss, reason = "places are few")]
            let n = places.len() as f64;
            let middle = places.iter().copied().sum::<Length>() / n;
            let squares: f64 = places.iter().map(|x| (*x - middle).si().powi(2)).sum();
            let spread = Length::from_si(squares.sqrt());
            let pull = |x: &Length, recorder: &mut R| {
                crosshead(recorder, force, n, *x - middle, jack - middle, spread)
            };
            places.iter().map(|x| (*x, pull(x, recorder))).collect()
        }
    }
}

/// The reaction that a place belongs to: the one that is named, else the only one that reaches it.
pub(super) fn holder(
    spec: &RigSpec,
    tested: &Tested<'_>,
    at: Length,
    named: Option<&str>,
    path: impl Fn() -> (Slug, String),
    what: &str,
    issues: &mut Vec<Issue>,
) -> Option<usize> {
    if spec.reaction.is_empty() {
        return None;
    }
    let reaches = |r: &ReactionMember| {
        r.reach(tested.first_bearing).is_none_or(|(from, to)| {
            let slack = (to - from).abs() * 1e-12 + Length::from_si(1e-9);
            at >= from - slack && at <= to + slack
        })
    };
    let mut found = spec
        .reaction
        .iter()
        .enumerate()
        .filter(|(_, r)| named.is_none_or(|n| n == r.id) && reaches(r))
        .map(|(i, _)| i);
    let (first, second) = (found.next(), found.next());
    let (short, path) = path();
    let issue = match (first, second, named) {
        (Some(one), None, _) => return Some(one),
        (Some(_), Some(_), _) => {
            let said = "{} at {}: several reaction members reach there";
            let message = Message::new(said, [what.into(), at.into()]);
            Issue::new(slug::RIG_REACTION_AMBIGUOUS, path, message)
        }
        (None, _, Some(name)) => {
            let said = "{} at {}: `{}` does not reach there";
            let message = Message::new(said, [what.into(), at.into(), name.into()]);
            Issue::new(short, path, message)
        }
        (None, _, None) => {
            let said = "{} at {}: no reaction member reaches there";
            let message = Message::new(said, [what.into(), at.into()]);
            Issue::new(short, path, message)
        }
    };
    let limits = spec.reaction.iter().filter_map(|r| {
        let (a, b) = r.reach(tested.first_bearing)?;
        Some(Message::new("`{}` {} to {}", [(&r.id).into(), a.into(), b.into()]))
    });
    issues.push(issue.value(at).limit(Message::joined(limits, ", ")));
    None
}

impl ForcePath<'_> {
    /// Every pull on one reaction.
    pub(super) fn on(&self, reaction: usize) -> impl Iterator<Item = (&Served<'_>, &Pull)> {
        self.served.iter().flat_map(move |s| {
            s.pulls.iter().filter(move |p| p.reaction == reaction).map(move |p| (s, p))
        })
    }
}
