//! What may bring load on, and where it may stand.
//!
//! A candidate is a pattern of contacts driven by one force, down, on one member unit. Jacks on
//! one pressure source push by the area of their pistons, so they are one unknown.

use super::words::brief;
use crate::beam::{Beam, Load};
use crate::error::{Error, Issue, slug};
use crate::units::{
    Area, AreaLoad, Force, Length, LineLoad, Message, Net, Quantity, Said, System, UnitWeight,
};

crate::record! {
    /// Something that may bring load on: a jack, a jack on a spreader, a patch of bags, blocks or
    /// water, a given line load. Forces are per member unit, net, down positive.
    pub struct Candidate {
        /// What it is called; its places where it is left out.
        name: Option<String>,
        /// The middle of each contact from the left end, up to two hundred.
        contacts: Vec<Length>,
        /// Share of the force of each contact; equal where it is left out.
        shares: Option<Vec<f64>>,
        /// Length of the plate under each contact, along the member; for a patch its whole length.
        plate: Length = Length::ZERO,
        /// Whether it is set out by its left edge (bags, blocks, a basin) and not by its contacts.
        edges: bool = false,
        /// The largest force of the carrier as a whole, net, down, per member unit.
        capacity: Option<Force>,
        /// The least force of the carrier as a whole where it is used at all: a layer of bags, a least depth
        /// of water.
        at_least: Option<Force>,
        /// Whether it is there in any case.
        always: bool = false,
        /// What one newton of it counts in the sum of forces.
        cost: f64 = 1.0,
        /// The pressure source it hangs on; candidates on one source push together.
        source: Option<String>,
        /// Piston area; on one source the forces stand as the areas.
        piston: Option<Area>,
        /// Said where pistons of unequal area on one source are meant.
        unequal_pistons: bool = false,
        /// The least clear distance along the member to every other carrier in use.
        clear: Length = Length::ZERO,
        /// Where a frame that holds on the member itself pulls it up with all of the force, by the statics
        /// of a stiff crosshead; empty where the jack pushes against something else.
        frame: Vec<Length> = Vec::new(),
        /// Of candidates with the same word a search uses one at the most.
        one_of: Option<String>,
    }
}

/// Ends the name of a carrier that was moved; its place follows where the name is shown.
pub(in crate::equivalent) const SET_OUT: &str = ", set out at";

/// Tells a least below zero or above the most, and a most that is not above zero.
fn amounts(at_most: Quantity, at_least: Quantity, issues: &mut Vec<Issue>) {
    if !(at_least.si >= 0.0 && at_most.si > 0.0 && at_least.si <= at_most.si) {
        let issue =
            Issue::new(slug::EQUIVALENT_CANDIDATE, "at_least", "a least and a most that cannot be");
        issues.push(
            issue
                .value(Message::new("at least {}, at most {}", [at_least.into(), at_most.into()]))
                .limit("at_least of zero or more, up to at_most, at_most above zero")
                .remedy("both down positive, the least not above the most"),
        );
    }
}

impl Candidate {
    /// A candidate with these contacts in equal shares.
    #[must_use]
    pub fn at(contacts: Vec<Length>) -> Self {
        Self {
            name: None,
            contacts,
            shares: None,
            plate: Length::ZERO,
            edges: false,
            capacity: None,
            at_least: None,
            always: false,
            cost: 1.0,
            source: None,
            piston: None,
            unequal_pistons: false,
            clear: Length::ZERO,
            frame: Vec::new(),
            one_of: None,
        }
    }

    /// One jack, a point on the member.
    #[must_use]
    pub fn jack(at: Length) -> Self {
        Self::at(vec![at])
    }

    /// A patch of bags or blocks between two places, uniform.
    #[must_use]
    pub fn patch(from: Length, to: Length) -> Self {
        Self { plate: to - from, edges: true, ..Self::at(vec![(from + to) / 2.0]) }
    }

    /// A patch by its area load, over a width of the member unit: a least where it is used at all (one
    /// layer), a largest (what the stack or the floor of the stack takes).
    ///
    /// # Errors
    /// `equivalent.candidate` for edges that run backwards, a width that is not above zero, a least below
    /// zero or above the most, a most that is not above zero: all problems at once.
    pub fn stacked(
        from: Length,
        to: Length,
        width: Length,
        at_most: AreaLoad,
        at_least: AreaLoad,
    ) -> Result<Self, Error> {
        let mut issues = Vec::new();
        let mut above = |path: &str, fits: bool, value: Quantity| {
            if !fits {
                let issue = Issue::new(slug::EQUIVALENT_CANDIDATE, path, "a size that cannot be");
                let issue = issue.value(value).limit("above zero");
                issues.push(issue.remedy("look at the sign and the order of the edges"));
            }
        };
        above("to", from < to, (to - from).into());
        above("width", width > Length::ZERO, width.into());
        amounts(at_most.into(), at_least.into(), &mut issues);
        Error::check(issues)?;
        let area = (to - from) * width;
        let at_least = (at_least.si() > 0.0).then(|| at_least * area);
        Ok(Self { at_least, capacity: Some(at_most * area), ..Self::patch(from, to) })
    }

    /// A basin: depth of a fluid between a least and a largest, over a width of the member unit. On a
    /// member that gives way the depth differs along it: see ponding.
    ///
    /// # Errors
    /// As [`stacked`](Self::stacked), of depths; `equivalent.candidate` for a unit weight that is not
    /// above zero.
    pub fn filled(
        from: Length,
        to: Length,
        width: Length,
        (at_most, at_least): (Length, Length),
        weight: UnitWeight,
    ) -> Result<Self, Error> {
        let mut issues = Vec::new();
        if weight.si() <= 0.0 || weight.si().is_nan() {
            let message = "a fluid without weight";
            let issue = Issue::new(slug::EQUIVALENT_CANDIDATE, "weight", message).value(weight);
            issues.push(issue.limit("above zero").remedy("give the unit weight of the fluid"));
        }
        amounts(at_most.into(), at_least.into(), &mut issues);
        // the depths are told as depths; the loads are looked at only where these can be
        if issues.is_empty() {
            return Self::stacked(from, to, width, weight * at_most, weight * at_least);
        }
        let rest = Self::stacked(from, to, width, AreaLoad::from_si(1.0), AreaLoad::ZERO);
        issues.extend(rest.err().into_iter().flat_map(|error| error.issues));
        Err(Error::input(issues))
    }

    /// A uniform load that is there in any case: its force is not searched.
    #[must_use]
    pub fn given(from: Length, to: Length, q: LineLoad) -> Self {
        let force = q * (to - from);
        Self { capacity: Some(force), at_least: Some(force), always: true, ..Self::patch(from, to) }
    }

    /// The same under a name.
    #[must_use]
    pub fn named(self, name: &str) -> Self {
        Self { name: Some(name.to_owned()), ..self }
    }

    /// The same with a plate of this length under each contact.
    #[must_use]
    pub fn on_plate(self, plate: Length) -> Self {
        Self { plate, ..self }
    }

    /// The same with a largest force.
    #[must_use]
    pub fn up_to(self, capacity: Force) -> Self {
        Self { capacity: Some(capacity), ..self }
    }

    /// The same with a least force where it is used at all.
    #[must_use]
    pub fn at_least(self, least: Force) -> Self {
        Self { at_least: Some(least), ..self }
    }

    /// The same on a pressure source.
    #[must_use]
    pub fn on_source(self, source: &str, piston: Area) -> Self {
        Self { source: Some(source.to_owned()), piston: Some(piston), ..self }
    }

    /// The same with a least clear distance to every other carrier in use.
    #[must_use]
    pub fn clear_of(self, clear: Length) -> Self {
        Self { clear, ..self }
    }

    /// Its name, else its places in SI.
    #[must_use]
    pub fn label(&self) -> String {
        self.label_in(System::Si)
    }

    /// Its name, else its places.
    pub(in crate::equivalent) fn label_in(&self, system: System) -> String {
        let show = |x: Length| brief(x.into(), system);
        let places = || match self.contacts.as_slice() {
            [at] if self.edges => {
                let half = self.plate / 2.0;
                format!("patch {} to {}", show(*at - half), show(*at + half))
            }
            [at] => format!("jack at {}", show(*at)),
            many => {
                let shown: Vec<String> = many.iter().map(|x| show(*x)).collect();
                format!("spreader on {}", shown.join(", "))
            }
        };
        match &self.name {
            // one that was moved tells where it stands
            Some(name) if name.ends_with(SET_OUT) => format!("{name} {}", show(self.set_out())),
            Some(name) => name.clone(),
            None => places(),
        }
    }

    /// The place it is set out by: its first contact, or its left edge.
    pub(in crate::equivalent) fn set_out(&self) -> Length {
        let first = self.contacts.iter().copied().fold(Length::from_si(f64::INFINITY), Length::min);
        if self.edges { first - self.plate / 2.0 } else { first }
    }

    pub(in crate::equivalent) fn share(&self, i: usize) -> f64 {
        let equal = || 1.0 / f64::from(u32::try_from(self.contacts.len()).unwrap_or(1));
        self.shares.as_ref().map_or_else(equal, |s| s.get(i).copied().unwrap_or(0.0))
    }

    /// Its loads under this force: points, or uniform loads where it stands on plates; and the pull of
    /// a frame that holds on the member.
    #[must_use]
    pub fn loads(&self, force: Force) -> Vec<Load> {
        let one = |(i, at): (usize, &Length)| {
            let part = force * self.share(i);
            if self.plate > Length::ZERO {
                let (from, to) = (*at - self.plate / 2.0, *at + self.plate / 2.0);
                Load::uniform(from, to, LineLoad::spread(part, to - from))
            } else {
                Load::point(*at, part)
            }
        };
        self.contacts.iter().enumerate().map(one).chain(self.pull(force)).collect()
    }

    /// Where the resultant acts.
    pub(in crate::equivalent) fn resultant(&self) -> Length {
        self.contacts.iter().enumerate().map(|(i, x)| *x * self.share(i)).sum()
    }

    /// What its frame pulls up under this force: equilibrium of a stiff crosshead on equal bars about
    /// the jack, the lever rule where they are two.
    fn pull(&self, force: Force) -> impl Iterator<Item = Load> + '_ {
        let n = f64::from(u32::try_from(self.frame.len()).unwrap_or(1)).max(1.0);
        let middle = self.frame.iter().copied().sum::<Length>() / n;
        let squares: f64 = self.frame.iter().map(|x| (*x - middle).si().powi(2)).sum();
        let jack = (self.resultant() - middle).si();
        let share = move |x: &Length| {
            let turned = if squares > 0.0 { (*x - middle).si() * jack / squares } else { 0.0 };
            Load::point(*x, force * -(n.recip() + turned))
        };
        self.frame.iter().map(share)
    }

    /// How far the places go down, each by its share, where its frame holds the member; nothing without one.
    pub(in crate::equivalent) fn frame_goes(
        &self,
        deflection: impl Fn(Length) -> Length,
    ) -> Length {
        let one = Force::from_si(1.0);
        let places = self.frame.iter().zip(self.pull(one));
        places.map(|(at, pull)| deflection(*at) * -(pull.resultant() / one)).sum()
    }

    /// The same moved along the member; a name of its own tells the new place.
    #[must_use]
    pub fn moved(&self, by: Length) -> Self {
        let contacts = self.contacts.iter().map(|at| *at + by).collect();
        let mut moved = Self { contacts, ..self.clone() };
        if by.abs() > Length::from_si(1e-9)
            && let Some(name) = &self.name
        {
            let base = name.strip_suffix(SET_OUT).unwrap_or(name);
            moved.name = Some(format!("{base}{SET_OUT}"));
        }
        moved
    }

    /// The same with its first contact, or the left edge of a patch, at this place.
    #[must_use]
    pub fn standing(&self, at: Length) -> Self {
        self.moved(at - self.set_out())
    }

    /// The same with its contacts this far apart, about the same middle.
    #[must_use]
    pub fn spaced(&self, spacing: Length) -> Self {
        let sum: f64 = self.contacts.iter().map(|at| at.si()).sum();
        let count = f64::from(u32::try_from(self.contacts.len()).unwrap_or(1));
        let middle = Length::from_si(sum / count);
        let at = |i: u32| middle + spacing * (f64::from(i) - (count - 1.0) / 2.0);
        let contacts = (0_u32..).map(at).take(self.contacts.len()).collect();
        Self { contacts, ..self.clone() }
    }

    /// The stretches that it covers.
    pub(in crate::equivalent) fn covers(&self) -> impl Iterator<Item = (Length, Length)> + '_ {
        let half = self.plate / 2.0;
        self.contacts.iter().map(move |at| (*at - half, *at + half))
    }

    /// What lacks of the clear distance that one of two carriers asks for, and that distance; nothing
    /// where none asks or it is there.
    pub(in crate::equivalent) fn crowds(
        &self,
        other: &Self,
        slack: Length,
    ) -> Option<(Length, Length)> {
        let asked = self.clear.max(other.clear);
        let lacks = asked - self.clear_to(other);
        (asked > Length::ZERO && lacks > slack).then_some((lacks, asked))
    }

    /// The least clear distance to another carrier; below zero where they overlap.
    pub(in crate::equivalent) fn clear_to(&self, other: &Self) -> Length {
        let mut least = Length::from_si(f64::INFINITY);
        for (from, to) in self.covers() {
            for (f, t) in other.covers() {
                least = least.min((from - t).max(f - to));
            }
        }
        least
    }

    fn refused(&self, path: &str, beam: &Beam, issues: &mut Vec<Issue>) {
        let end = beam.length();
        let mut bad = |field: &str, slug, message: String, limit: Said| {
            let issue = Issue::new(slug, format!("{path}.{field}"), message);
            issues.push(issue.value(self.label()).limit(limit));
        };
        let slack = end * 1e-12;
        // one that cannot be says so once
        if self.edges && !(self.plate.is_finite() && self.plate > slack) {
            let (from, to) = self.covers().next().unwrap_or((Length::ZERO, Length::ZERO));
            let show = |x: Length| brief(x.into(), System::Si);
            let message = format!("a patch from {} to {}", show(from), show(to));
            let limit = "from below to".into();
            bad("plate", slug::EQUIVALENT_STRETCH, message, limit);
            return;
        }
        let outside = |(a, b): (Length, Length)| !(a >= -slack && b <= end + slack);
        if self.contacts.is_empty() || self.contacts.len() > MOST_PILES {
            let message = format!("{} contacts", self.contacts.len());
            bad(
                "contacts",
                slug::EQUIVALENT_CANDIDATE,
                message,
                format!("1 to {MOST_PILES}").into(),
            );
        }
        if self.covers().any(outside) {
            let message = "it reaches beyond the member".to_owned();
            bad(
                "contacts",
                slug::EQUIVALENT_JACK_OUTSIDE,
                message,
                Message::new("0 to {}", [end.into()]).into(),
            );
        }
        let doubled = |(i, at): (usize, &Length)| {
            self.contacts.iter().take(i).any(|o| (*o - *at).abs() <= slack)
        };
        if self.contacts.iter().enumerate().any(doubled) {
            let message = "two contacts at one place".to_owned();
            bad("contacts", slug::EQUIVALENT_JACK_DUPLICATE, message, "each once".into());
        }
        if let Some(shares) = &self.shares {
            let sum: f64 = shares.iter().sum();
            let fits = shares.len() == self.contacts.len()
                && shares.iter().all(|s| *s > 0.0)
                && (sum - 1.0).abs() <= 1e-9;
            if !fits {
                let message = format!("shares {shares:?}");
                let limit = "one above zero for each contact, adding up to 1".to_owned();
                bad("shares", slug::EQUIVALENT_CANDIDATE, message, limit.into());
            }
        }
        if !(self.clear.is_finite() && self.clear >= Length::ZERO) {
            let message = format!("a clear distance of {}", self.clear);
            bad("clear", slug::EQUIVALENT_CANDIDATE, message, "zero or more".into());
        }
        let above = |force: Option<Force>| force.is_none_or(|f| f.is_finite() && f > Force::ZERO);
        if self.always && !above(self.capacity) {
            let message = "a given load that does not press down".to_owned();
            bad("capacity", slug::EQUIVALENT_CANDIDATE, message, "above zero, down".into());
            return;
        }
        if !above(self.capacity) {
            let message = format!("a carrier that takes {}", self.capacity.unwrap_or(Force::ZERO));
            bad("capacity", slug::EQUIVALENT_CANDIDATE, message, "above zero".into());
        }
        let over = |least: Force| self.capacity.is_some_and(|c| least > c);
        if !above(self.at_least) || self.at_least.is_some_and(over) {
            let message = "a least force that is none, or above the capacity".to_owned();
            bad(
                "at_least",
                slug::EQUIVALENT_CANDIDATE,
                message,
                "above zero, up to the capacity".into(),
            );
        }
        if !(self.cost.is_finite() && self.cost > 0.0) {
            let message = format!("cost {}", self.cost);
            bad("cost", slug::EQUIVALENT_CANDIDATE, message, "above zero".into());
        }
        if self.plate < Length::ZERO || !self.plate.is_finite() {
            let message = format!("plate {}", self.plate);
            bad("plate", slug::EQUIVALENT_CANDIDATE, message, "zero or more".into());
        }
        if self.piston.is_some_and(|a| !(a.is_finite() && a.si() > 0.0)) {
            let message = "a piston without area".to_owned();
            bad("piston", slug::EQUIVALENT_CANDIDATE, message, "above zero".into());
        }
    }
}

/// So many piles are in one stack, and so many contacts in one carrier.
pub const MOST_PILES: usize = 200;

/// So many candidates are looked at; work and memory grow with the square of their number.
pub const MOST_CANDIDATES: usize = 400;

/// Every problem of the candidates.
pub(in crate::equivalent) fn refused(
    candidates: &[Candidate],
    beam: &Beam,
    issues: &mut Vec<Issue>,
) {
    if candidates.is_empty() {
        let issue = Issue::new(slug::EQUIVALENT_CANDIDATE, "candidates", "nothing brings load on");
        issues.push(issue.remedy("give at least one carrier"));
    }
    if candidates.len() > MOST_CANDIDATES {
        let issue = Issue::new(slug::EQUIVALENT_CANDIDATE, "candidates", "too many carriers");
        let issue = issue.value(candidates.len()).limit(format!("up to {MOST_CANDIDATES}"));
        issues.push(issue.remedy("take a coarser grid of places"));
        return;
    }
    for (i, candidate) in candidates.iter().enumerate() {
        let path = format!("candidates[{i}]");
        candidate.refused(&path, beam, issues);
        let slack = beam.length() * 1e-9;
        let one = |(a, b): (&Length, &Length)| (*a - *b).abs() <= slack;
        let same = |o: &Candidate| {
            o.contacts.len() == candidate.contacts.len()
                && o.contacts.iter().zip(&candidate.contacts).all(one)
                && (o.plate - candidate.plate).abs() <= slack
        };
        if let Some(j) = candidates.iter().take(i).position(same) {
            let message = format!("`{}` stands where candidate {j} does", candidate.label());
            issues.push(Issue::new(slug::EQUIVALENT_JACK_DUPLICATE, path.clone(), message));
        }
        let Some(source) = &candidate.source else { continue };
        let first = candidates.iter().find(|o| o.source.as_ref() == Some(source));
        let Some(first) = first.filter(|f| !core::ptr::eq(*f, candidate)) else { continue };
        let (a, b) = (first.piston.map(Area::si), candidate.piston.map(Area::si));
        let equal = match (a, b) {
            (Some(a), Some(b)) => (a - b).abs() <= 1e-9 * a.abs().max(b.abs()),
            (None, None) => true,
            _ => false,
        };
        let meant = a.is_some() && b.is_some() && candidate.unequal_pistons;
        if !equal && !meant {
            let shown = |a: Option<f64>| a.map_or("no area".into(), |a| Area::from_si(a).into());
            issues.push(Issue::new(
                slug::EQUIVALENT_PISTONS,
                format!("{path}.piston"),
                Message::new(
                    "on source {} one piston has {} and another {}: their forces are not equal",
                    [source.into(), shown(a), shown(b)],
                ),
            ));
        }
    }
}

/// Candidates that are all to be used and stand closer than one of them allows.
pub(in crate::equivalent) fn crowded(
    candidates: &[Candidate],
    beam: &Beam,
    issues: &mut Vec<Issue>,
) {
    if candidates.len() > MOST_CANDIDATES {
        return;
    }
    let slack = beam.length() * 1e-9;
    for (i, a) in candidates.iter().enumerate() {
        for b in candidates.iter().take(i) {
            if let Some((lacks, asked)) = a.crowds(b, slack) {
                issues.push(
                    Issue::new(
                        slug::EQUIVALENT_SPACING,
                        format!("candidates[{i}].clear"),
                        format!("{} stands too close to {}", a.label(), b.label()),
                    )
                    .value(asked - lacks)
                    .limit(asked),
                );
            }
        }
    }
}

/// The loads of forces, those of zero left out.
pub(in crate::equivalent) fn loads(candidates: &[Candidate], forces: &[Net<Force>]) -> Vec<Load> {
    let used = candidates.iter().zip(forces).filter(|(_, f)| f.0 > Force::ZERO);
    used.flat_map(|(c, f)| c.loads(f.0)).collect()
}

/// The beam as carriers find it: bearings neither lift nor have gone down, since what is in place counts
/// for that.
pub(in crate::equivalent) fn held(beam: &Beam) -> Beam {
    beam.anchored().level()
}

/// Forces that are not one a candidate, or that pull.
pub(in crate::equivalent) fn forces_refused(
    candidates: &[Candidate],
    forces: &[Net<Force>],
    issues: &mut Vec<Issue>,
) {
    if forces.len() != candidates.len() {
        let message = format!("{} forces for {} candidates", forces.len(), candidates.len());
        issues.push(
            Issue::new(slug::EQUIVALENT_CANDIDATE, "forces", message)
                .limit("one a candidate")
                .remedy("give one force for each candidate, zero for one that is not used"),
        );
    }
    for (i, force) in forces.iter().enumerate() {
        if !(force.0.is_finite() && force.0 >= Force::ZERO) {
            let path = format!("forces[{i}]");
            issues.push(
                Issue::new(slug::EQUIVALENT_FORCE_NEGATIVE, path, "a carrier cannot pull upward")
                    .value(force.0)
                    .limit(">= 0, down positive"),
            );
        }
    }
}

/// One unknown: a candidate, or all candidates on one pressure source.
#[derive(Clone, Debug)]
pub(in crate::equivalent) struct Unknown {
    /// Candidates with their part of the unknown; the parts add up to 1.
    pub(in crate::equivalent) members: Vec<(usize, f64)>,
    pub(in crate::equivalent) loads: Vec<Load>,
    pub(in crate::equivalent) cost: f64,
    /// N.
    pub(in crate::equivalent) capacity: Option<f64>,
    /// N.
    pub(in crate::equivalent) least: Option<f64>,
    pub(in crate::equivalent) always: bool,
}

/// The unknowns, in the order of the candidates.
pub(in crate::equivalent) fn unknowns(candidates: &[Candidate]) -> Vec<Unknown> {
    let mut found: Vec<Unknown> = Vec::with_capacity(candidates.len());
    for (i, candidate) in candidates.iter().enumerate() {
        let grouped = |o: &Candidate| candidate.source.is_some() && o.source == candidate.source;
        if candidates.iter().take(i).any(grouped) {
            continue;
        }
        let mut members: Vec<(usize, f64)> = vec![(i, 1.0)];
        if candidate.source.is_some() {
            let area = |c: &Candidate| c.piston.map_or(1.0, Area::si);
            let all = || candidates.iter().enumerate().filter(|(_, c)| grouped(c));
            let sum: f64 = all().map(|(_, c)| area(c)).sum();
            members = all().map(|(j, c)| (j, area(c) / sum)).collect();
        }
        let mut unknown = Unknown {
            members: Vec::new(),
            loads: Vec::new(),
            cost: 0.0,
            capacity: None,
            least: None,
            always: false,
        };
        for (j, part) in &members {
            let Some(c) = candidates.get(*j) else { continue };
            unknown.loads.extend(c.loads(Force::from_si(*part)));
            unknown.cost += part * c.cost;
            let of = |f: Option<Force>| f.map(|f| f.si() / part);
            unknown.capacity = match (unknown.capacity, of(c.capacity)) {
                (Some(a), Some(b)) => Some(a.min(b)),
                (a, b) => a.or(b),
            };
            unknown.least = match (unknown.least, of(c.at_least)) {
                (Some(a), Some(b)) => Some(a.max(b)),
                (a, b) => a.or(b),
            };
            unknown.always |= c.always;
        }
        unknown.members = members;
        found.push(unknown);
    }
    found
}
