//! What brings the load on, as a document describes it, and the candidate that it is for the search.

use super::candidate::{Candidate, MOST_PILES, SET_OUT};
use super::jack::ShareOfForce;
use super::jack::{Contact, JackLineSpec, SpreaderSpec};
use crate::beam::Beam;
use crate::error::{Error, Issue, slug};
use crate::source::rule::Positive;
use crate::source::{Given, Name, Reader, Several};
use crate::units::{Force, Length, LineLoad, Message, Net, System, UnitWeight};

crate::rule! {
    /// A clear gap between piles: it may not be zero, since piles that touch arch and unload the
    /// middle of the member (common practice, no source); up to ten metres (library rule).
    pub PileGap { above 0.0 EQUIVALENT_PILES, most 10.0 SOURCE_MAGNITUDE }
    /// Layers: one to a thousand (library rule).
    pub Layers { least 1.0 SOURCE_SIGN, most 1000.0 SOURCE_MAGNITUDE }
    /// A place of an axle behind the first.
    pub Axle { least 0.0 EQUIVALENT_JACK_OUTSIDE, most 100.0 SOURCE_MAGNITUDE }
    /// A clear height that is left above the water.
    pub Freeboard { least 0.0 EQUIVALENT_FREEBOARD, most 10.0 SOURCE_MAGNITUDE }
}

crate::record! {
    /// A long pad or patch under one jack: uniform over its length.
    pub struct PadSpec {
        /// Left edge from the left end of the member.
        from: Given<Length, Contact>,
        /// Right edge.
        to: Given<Length, Contact>,
        /// The force on one member unit, net, where it is settled; found where it is left out.
        force: Option<Given<Force, Positive>>,
        /// The largest force that it may bring.
        capacity: Option<Given<Force, Positive>>,
        /// The circuit of hydraulics that drives it.
        circuit: Option<String>,
    }
    rules { rises[from, to]; }
}

crate::record! {
    /// Bags or blocks in piles, each pile with gaps to its neighbours; all piles of the stack rise together.
    pub struct BagsSpec {
        /// Left edge of the first pile from the left end of the member.
        from: Given<Length, Contact>,
        /// Right edge of the last pile at the most.
        to: Given<Length, Contact>,
        /// Length of a pile along the member: its footprint.
        pile: Given<Length, Positive>,
        /// Clear gap between two piles.
        gap: Given<Length, PileGap> => EQUIVALENT_PILES "piles that touch arch and unload the middle",
        /// Width of the piles on one member unit.
        width: Given<Length, Positive>,
        /// Unit weight of what is stacked, voids included: weighed.
        unit_weight: Given<UnitWeight, Positive>,
        /// Height of one layer.
        layer: Given<Length, Positive>,
        /// How many layers may be stacked.
        most_layers: u32 where Layers,
        /// The layers, where they are settled; found where they are left out.
        layers: Option<u32> where Layers,
    }
    rules { rises[from, to]; layers_fit[most_layers, layers]; }
}

crate::record! {
    /// A basin of water on the member.
    pub struct WaterSpec {
        /// Left edge from the left end of the member.
        from: Given<Length, Contact>,
        /// Right edge.
        to: Given<Length, Contact>,
        /// Width of the basin on one member unit.
        width: Given<Length, Positive>,
        /// Height of the rim above the member.
        rim: Given<Length, Positive>,
        /// Clear height that is kept below the rim.
        freeboard: Given<Length, Freeboard>,
        /// Unit weight of the fluid.
        unit_weight: Given<UnitWeight, Positive> = Given::known(UnitWeight::from_si(9810.0)),
        /// The depth, where it is settled; found where it is left out.
        depth: Option<Given<Length, Positive>>,
    }
    rules { rises[from, to]; depth_fits[rim, freeboard, depth]; }
}

crate::record! {
    /// Wheels: axles that roll on together.
    pub struct WheelsSpec {
        /// Place of the first axle from the left end of the member.
        at: Given<Length, Contact>,
        /// Places of the other axles behind the first.
        behind: Vec<Given<Length, Axle>> = Vec::new(),
        /// Share of the force of each axle, the first included; equal where it is left out.
        shares: Option<Vec<f64>> where ShareOfForce,
        /// The force of all axles on one member unit, where it is settled; found where it is left out.
        force: Option<Given<Force, Positive>>,
        /// The largest force.
        capacity: Option<Given<Force, Positive>>,
    }
}

crate::variant! {
    /// What brings the load on.
    pub enum Carrier ("carrier") {
        /// One line of jacks.
        JackLine(JackLineSpec) = "jack_line",
        /// One jack on a spreader with two or more contact points.
        Spreader(SpreaderSpec) = "spreader",
        /// A pad or patch under one jack.
        Pad(PadSpec) = "pad",
        /// Bags or blocks in piles.
        Bags(BagsSpec) = "bags",
        /// A basin of water.
        Water(WaterSpec) = "water",
        /// Wheels.
        Wheels(WheelsSpec) = "wheels",
    }
}

crate::choice! {
    /// What a carrier is.
    pub enum CarrierKind ("kind of carrier", source::SOURCE_CHOICE) {
        /// A jack: it pushes against something.
        Jack = "jack",
        /// Bags, blocks or wheels: weight.
        Weight = "weight",
        /// Water: weight that moves.
        Water = "water",
    }
}

crate::answer! {
    /// A carrier with its force.
    pub struct Carried {
        /// Its place in the list of carriers.
        carrier: usize,
        /// What it is called.
        name: Name,
        /// What it is.
        kind: CarrierKind,
        /// Where its resultant acts: the place of the jack.
        at: Length,
        /// Left edge of what it covers.
        from: Length,
        /// Right edge of what it covers.
        to: Length,
        /// Its force on one member unit, net.
        force: Net<Force>,
        /// How many layers that is, of bags or blocks.
        layers: Option<f64>,
        /// How deep that is, of water, before it follows the deflection.
        depth: Option<Length>,
        /// The circuit that drives it.
        circuit: Option<String>,
    }
}

fn rises<A: crate::source::rule::Rule, B: crate::source::rule::Rule>(
    reader: &mut Reader,
    from: &Given<Length, A>,
    to: &Given<Length, B>,
) {
    if from.value >= to.value {
        let path = reader.path_of("to");
        let message = "the carrier ends before it begins";
        let issue = Issue::new(slug::EQUIVALENT_STRETCH, path, message);
        reader.push(issue.value(to.said()).limit(Message::new("beyond {}", [from.said()])));
    }
}

fn layers_fit(reader: &mut Reader, most: &u32, layers: &Option<u32>) {
    if let Some(layers) = layers.filter(|l| l > most) {
        let path = reader.path_of("layers");
        let message = "stacked higher than allowed";
        let issue = Issue::new(slug::EQUIVALENT_PILES, path, message);
        reader.push(issue.value(layers).limit(Message::new("up to {}", [most.into()])));
    }
}

fn depth_fits(
    reader: &mut Reader,
    rim: &Given<Length, Positive>,
    freeboard: &Given<Length, Freeboard>,
    depth: &Option<Given<Length, Positive>>,
) {
    let most = rim.value - freeboard.value;
    if most <= Length::ZERO {
        let path = reader.path_of("freeboard");
        let message = "the freeboard leaves no depth under the rim";
        let issue = Issue::new(slug::EQUIVALENT_FREEBOARD, path, message);
        reader.push(issue.value(freeboard.said()).limit(Message::new("below {}", [rim.said()])));
    } else if let Some(depth) = depth.as_ref().filter(|d| d.value > most) {
        let path = reader.path_of("depth");
        let message = "deeper than the rim less the freeboard";
        let issue = Issue::new(slug::EQUIVALENT_FREEBOARD, path, message);
        reader.push(issue.value(depth.said()).limit(Message::new("up to {}", [most.into()])));
    }
}

impl BagsSpec {
    /// The middle of each pile: as many as fit, the first at the left edge.
    #[must_use]
    pub fn piles(&self) -> Vec<Length> {
        let (pile, gap) = (self.pile.value, self.gap.value);
        let room = self.to.value - self.from.value;
        let fits = ((room + gap) / (pile + gap) * (1.0 + 1e-12)).floor();
        let first = self.from.value + pile / 2.0;
        let mut piles = Vec::new();
        let mut i = 0.0;
        while i < fits && piles.len() < MOST_PILES {
            piles.push(first + (pile + gap) * i);
            i += 1.0;
        }
        piles
    }

    /// The line load of one layer under a pile.
    #[must_use]
    pub fn of_layer(&self) -> LineLoad {
        self.unit_weight.value * self.layer.value * self.width.value
    }

    /// The weight of one layer on all piles.
    #[must_use]
    pub fn layer_weight(&self) -> Force {
        let count = f64::from(u32::try_from(self.piles().len()).unwrap_or(u32::MAX));
        self.of_layer() * self.pile.value * count
    }
}

impl WaterSpec {
    /// The largest depth.
    #[must_use]
    pub fn most(&self) -> Length {
        self.rim.value - self.freeboard.value
    }

    /// The weight of a depth.
    #[must_use]
    pub fn weight(&self, depth: Length) -> Force {
        self.unit_weight.value * depth * self.width.value * (self.to.value - self.from.value)
    }
}

impl Carrier {
    /// The words of the kinds that press without a jack: they react on nothing.
    pub(crate) const UNPRESSED: [&'static str; 3] = ["bags", "water", "wheels"];

    /// What it is.
    #[must_use]
    pub const fn kind(&self) -> CarrierKind {
        match self {
            Self::JackLine(_) | Self::Spreader(_) | Self::Pad(_) => CarrierKind::Jack,
            Self::Bags(_) | Self::Wheels(_) => CarrierKind::Weight,
            Self::Water(_) => CarrierKind::Water,
        }
    }

    /// The circuit that drives it.
    #[must_use]
    pub fn circuit(&self) -> Option<&String> {
        match self {
            Self::JackLine(line) => line.circuit.as_ref(),
            Self::Spreader(spreader) => spreader.circuit.as_ref(),
            Self::Pad(pad) => pad.circuit.as_ref(),
            _ => None,
        }
    }

    /// The force, where it is settled.
    #[must_use]
    pub fn settled(&self) -> Option<Force> {
        let value = |f: &Option<Given<Force, Positive>>| f.as_ref().map(|f| f.value);
        match self {
            Self::JackLine(line) => value(&line.force),
            Self::Spreader(spreader) => value(&spreader.force),
            Self::Pad(pad) => value(&pad.force),
            Self::Wheels(wheels) => value(&wheels.force),
            Self::Bags(bags) => bags.layers.map(|l| bags.layer_weight() * f64::from(l)),
            Self::Water(water) => water.depth.as_ref().map(|d| water.weight(d.value)),
        }
    }

    /// The part in which its force grows, where it has one: a layer, a step of the jack.
    #[must_use]
    pub fn step(&self) -> Option<Force> {
        match self {
            Self::JackLine(line) => line.step.as_ref().map(|s| s.value),
            Self::Spreader(spreader) => spreader.step.as_ref().map(|s| s.value),
            Self::Bags(bags) => Some(bags.layer_weight()),
            _ => None,
        }
    }

    /// What is filled in or stacked in parts: the weight of one layer, or of a metre of water.
    pub(in crate::equivalent) fn part(&self) -> Option<Force> {
        match self {
            Self::Bags(bags) => Some(bags.layer_weight()),
            Self::Water(water) => Some(water.weight(Length::from_si(1.0))),
            _ => None,
        }
    }

    /// The largest force that it may bring, where one is stated.
    pub(in crate::equivalent) fn capacity(&self) -> Option<Force> {
        let value = |f: &Option<Given<Force, Positive>>| f.as_ref().map(|f| f.value);
        match self {
            Self::JackLine(line) => value(&line.capacity),
            Self::Spreader(spreader) => value(&spreader.capacity),
            Self::Pad(pad) => value(&pad.capacity),
            Self::Wheels(wheels) => value(&wheels.capacity),
            Self::Bags(_) | Self::Water(_) => None,
        }
    }

    /// Whether its place is settled.
    #[must_use]
    pub fn placed(&self) -> bool {
        match self {
            Self::JackLine(line) => line.at.is_some(),
            Self::Spreader(spreader) => !spreader.contacts.is_empty(),
            _ => true,
        }
    }

    /// The places where it may stand, first contact, where they are not settled: a range and the
    /// distance of its last contact from the first.
    pub(in crate::equivalent) fn range(&self, length: Length) -> Option<(Length, Length, Length)> {
        type End = Option<Given<Length, Contact>>;
        let ends = |from: &End, to: &End, spacing: Length| {
            let low = from.as_ref().map_or(Length::ZERO, |x| x.value);
            (low, to.as_ref().map_or(length, |x| x.value) - spacing, spacing)
        };
        match self {
            Self::JackLine(l) if l.at.is_none() => {
                Some(ends(&l.search_from, &l.search_to, Length::ZERO))
            }
            Self::Spreader(s) if s.contacts.is_empty() => {
                let spacing = s.spacing.as_ref().map_or(Length::ZERO, |s| s.value);
                Some(ends(&s.search_from, &s.search_to, spacing))
            }
            _ => None,
        }
    }

    /// Where its resultant acts; nothing where its place is searched.
    pub(crate) fn stands(&self) -> Option<Length> {
        let settled = self.range(Length::ZERO).is_none();
        settled.then(|| self.candidate(Length::ZERO, None).resultant())
    }

    /// The candidate under the name of its kind; one whose place is searched with its first contact at
    /// `first`.
    pub(in crate::equivalent) fn candidate(
        &self,
        plate: Length,
        first: Option<Length>,
    ) -> Candidate {
        let value = |f: &Option<Given<Force, Positive>>| f.as_ref().map(|f| f.value);
        let set_out = |what: &str| Some(format!("{what}{SET_OUT}"));
        let bare = match self {
            Self::JackLine(line) => {
                let at = line.at.as_ref().map(|x| x.value).or(first).unwrap_or(Length::ZERO);
                Candidate { capacity: value(&line.capacity), plate, ..Candidate::jack(at) }
            }
            Self::Spreader(s) => {
                let contacts = match (s.spacing.as_ref(), first) {
                    (Some(spacing), Some(x)) if s.contacts.is_empty() => {
                        vec![x, x + spacing.value]
                    }
                    _ => s.contacts.iter().map(|c| c.value).collect(),
                };
                let shares = s.shares.clone();
                Candidate { capacity: value(&s.capacity), plate, shares, ..Candidate::at(contacts) }
            }
            Self::Pad(pad) => {
                let patch = Candidate::patch(pad.from.value, pad.to.value);
                Candidate { capacity: value(&pad.capacity), name: set_out("pad"), ..patch }
            }
            Self::Bags(bags) => Candidate {
                name: set_out("bags"),
                plate: bags.pile.value,
                edges: true,
                capacity: Some(bags.layer_weight() * f64::from(bags.most_layers)),
                at_least: Some(bags.layer_weight()),
                ..Candidate::at(bags.piles())
            },
            Self::Water(water) => {
                let patch = Candidate::patch(water.from.value, water.to.value);
                let capacity = Some(water.weight(water.most()));
                Candidate { capacity, name: set_out("basin of water"), ..patch }
            }
            Self::Wheels(wheels) => {
                let mut axles = vec![wheels.at.value];
                axles.extend(wheels.behind.iter().map(|b| wheels.at.value + b.value));
                let shares = wheels.shares.clone();
                Candidate {
                    name: set_out("wheels"),
                    capacity: value(&wheels.capacity),
                    plate,
                    shares,
                    ..Candidate::at(axles)
                }
            }
        };
        match self.settled() {
            Some(force) => {
                Candidate { capacity: Some(force), at_least: Some(force), always: true, ..bare }
            }
            None => bare,
        }
    }

    /// How many layers, or which depth, a force is.
    pub(in crate::equivalent) fn amount(&self, force: Force) -> (Option<f64>, Option<Length>) {
        match self {
            Self::Bags(bags) => (Some(force / bags.layer_weight()), None),
            Self::Water(w) => (None, Some(w.most() * (force / w.weight(w.most())))),
            _ => (None, None),
        }
    }
}

/// Every problem of a list of carriers on a member of this length.
///
/// # Errors
/// Places beyond the member, a pile longer than its room, shares that do not fit the axles: all at once.
pub(in crate::equivalent) fn refused(
    carriers: &[Carrier],
    length: Length,
    plate: Length,
) -> Result<(), Error> {
    let mut issues = Vec::new();
    let slack = length * 1e-12;
    for (i, carrier) in carriers.iter().enumerate() {
        let path = if carriers.len() == 1 {
            "layout.carrier".to_owned()
        } else {
            format!("layout.carrier[{i}]")
        };
        if let Carrier::Bags(bags) = carrier
            && bags.piles().is_empty()
        {
            let message = "no pile fits between the edges";
            let issue = Issue::new(slug::EQUIVALENT_PILES, format!("{path}.pile"), message);
            issues.push(issue.value(bags.pile.said()));
            continue;
        }
        if !carrier.placed() {
            continue;
        }
        let candidate = carrier.candidate(plate, None);
        let ends = candidate
            .covers()
            .fold((length, Length::ZERO), |(a, b), (from, to)| (a.min(from), b.max(to)));
        let of_plate = matches!(carrier, Carrier::JackLine(_) | Carrier::Spreader(_));
        let half = if of_plate { plate / 2.0 } else { Length::ZERO };
        if ends.0 + half < -slack || ends.1 - half > length + slack {
            let message = "a contact point stands beyond the member";
            let issue = Issue::new(slug::EQUIVALENT_JACK_OUTSIDE, path, message);
            let issue = issue
                .value(Message::new("{} to {}", [(ends.0 + half).into(), (ends.1 - half).into()]));
            issues.push(issue.limit(Message::new("0 to {}", [length.into()])));
        }
    }
    Error::check(issues)
}

/// Carriers that stand on one stretch, and contacts over a support beside others: what they bring goes
/// elsewhere than into the member as it is computed.
///
/// # Errors
/// Every one of them under its path.
pub(in crate::equivalent) fn clashing(
    carriers: &Several<Carrier>,
    beam: &Beam,
    plate: Length,
    system: System,
) -> Result<(), Error> {
    let slack = beam.length() * 1e-9;
    let mut issues = Vec::new();
    let stand: Vec<(usize, &Carrier, Candidate)> = carriers
        .iter()
        .enumerate()
        .filter(|(_, c)| c.placed())
        .map(|(i, c)| (i, c, c.candidate(plate, None)))
        .collect();
    for (k, (i, carrier, one)) in stand.iter().enumerate() {
        let path = carriers.path("layout.carrier", *i);
        let beside = carriers.len() > 1 || one.contacts.len() > 1;
        let over = |x: &&Length| beam.supports().iter().any(|s| (s.at - **x).abs() <= slack);
        if beside
            && matches!(carrier, Carrier::JackLine(_) | Carrier::Spreader(_))
            && let Some(at) = one.contacts.iter().find(over)
        {
            let message = "a contact over a support loads the support, not the member";
            let issue = Issue::new(slug::EQUIVALENT_JACK_NEAR_SUPPORT, path.clone(), message);
            issues.push(issue.value(*at));
        }
        let meets = |other: &Candidate| {
            one.covers().any(|(a, b)| other.covers().any(|(c, d)| a < d - slack && c < b - slack))
        };
        if let Some((_, _, other)) = stand.iter().take(k).find(|(_, _, o)| meets(o)) {
            let (this, that) = (one.label_in(system), other.label_in(system));
            let message = format!("{this} and {that} stand on one stretch");
            issues.push(Issue::new(slug::EQUIVALENT_SPACING, path, message));
        }
    }
    Error::check(issues)
}
