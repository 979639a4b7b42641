//! Bars and tendons: where they lie, what they are made of, what their anchorage lets them carry.

use super::material::{SteelModulus, SteelStrength, StrengthSet};
use super::shape::Size;
use crate::error::{Issue, slug};
use crate::source::rule::{NotNegative, Positive, Share};
use crate::source::{Given, Reader, Several};
use crate::units::{Area, Force, Length, Message, Ratio, Strain, Stress};

crate::rule! {
    /// A depth below the top face of a section; whether it lies inside, the section says.
    pub InSection { above 0.0 CAPACITY_STEEL_OUTSIDE, most 100.0 SOURCE_MAGNITUDE }
    /// A strain at which a steel breaks: 0.2 % to 30 % (library rule).
    pub Breaks { above 0.0 SOURCE_SIGN, least 0.002 SOURCE_MAGNITUDE, most 0.3 SOURCE_MAGNITUDE }
    /// A place along the member, from its left end.
    pub AlongMember { least 0.0 CAPACITY_PLACE, most 10000.0 SOURCE_MAGNITUDE }
    /// A constant of the power formula of strands: up to a hundred (library rule).
    pub CurveConstant { above 0.0 SOURCE_SIGN, most 100.0 SOURCE_MAGNITUDE }
}

/// The strain up to which a steel is followed where its own breaking strain is not given. No strand
/// or bar of structural concrete reaches it before the concrete crushes (library rule).
pub const ULTIMATE_STRAIN: f64 = 0.1;

crate::record! {
    /// One layer of bars, on one member unit.
    pub struct Bars {
        /// Area of all bars of the layer.
        area: Given<Area, Positive>,
        /// Depth of their centres below the top face.
        depth: Given<Length, InSection>,
        /// Yield strength.
        yields: SteelStrength,
        /// Modulus of elasticity; 200 GPa where it is left out (common practice).
        modulus: Given<Stress, SteelModulus> = Given::known(Stress::from_si(200e9)),
        /// Breaking strength, where hardening counts: it is reached at the breaking strain.
        breaks: Option<SteelStrength>,
        /// Strain at which they break.
        breaking_strain: Option<Given<Strain, Breaks>>,
        /// Diameter of one, where cover and layers that overlap are to be looked at.
        diameter: Option<Given<Length, Size>>,
        /// Where they begin, from the left end of the member; there where it is left out.
        from: Option<Given<Length, AlongMember>>,
        /// Where they end; at the right end of the member where it is left out.
        to: Option<Given<Length, AlongMember>>,
        /// Length over which their yield strength is anchored: nearer to an end they carry a part of it. Fully anchored everywhere where it is left out, and a note says so.
        development: Option<Given<Length, Positive>>,
    }
    rules { in_order[from, to]; hardens[breaks, breaking_strain]; }
}

crate::record! {
    /// A tendon at one depth.
    pub struct Straight {
        /// Depth of its centre below the top face.
        depth: Given<Length, InSection>,
    }
}

crate::record! {
    /// A tendon in straight lines between the ends and one or two points that hold it down.
    pub struct Draped {
        /// Depth at the left end.
        left: Given<Length, InSection>,
        /// Depth at the right end; as at the left where it is left out.
        right: Option<Given<Length, InSection>>,
        /// Depth where it is held down.
        low: Given<Length, InSection>,
        /// Where it is held down, from the left end of the member: one place or two.
        at: Several<Given<Length, AlongMember>>,
    }
    rules { held_in_order[at]; }
}

fn held_in_order(reader: &mut Reader, at: &Several<Given<Length, AlongMember>>) {
    for (i, (a, b)) in at.iter().zip(at.iter().skip(1)).enumerate() {
        if a.value >= b.value {
            let path = reader.path_of(&at.path("at", i + 1));
            let message = "places that do not rise from left to right";
            let issue = Issue::new(slug::CAPACITY_PLACE, path, message).value(b.said());
            reader.push(issue.limit(Message::new("beyond {}", [a.said()])));
        }
    }
}

crate::record! {
    /// A tendon along a parabola through its depths at both ends and in the middle of the member.
    pub struct Parabolic {
        /// Depth at the left end.
        left: Given<Length, InSection>,
        /// Depth at the right end; as at the left where it is left out.
        right: Option<Given<Length, InSection>>,
        /// Depth in the middle.
        middle: Given<Length, InSection>,
    }
}

crate::variant! {
    /// How a tendon runs along the member.
    pub enum Profile ("profile") {
        /// At one depth.
        Straight(Straight) = "straight",
        /// In straight lines.
        Draped(Draped) = "draped",
        /// Along a parabola.
        Parabolic(Parabolic) = "parabolic",
    }
}

crate::choice! {
    /// What holds a tendon to the concrete.
    pub enum Bond ("bond", source::SOURCE_CHOICE) {
        /// Stressed before casting: its force enters over the transfer length.
        Pretensioned = "pretensioned",
        /// Stressed in a duct that was grouted; its force is there from the anchorage on.
        Grouted = "grouted",
        /// Without bond; its force is there from the anchorage on.
        Unbonded = "unbonded",
    }
}

crate::record! {
    /// The stretches of a pretensioned tendon that were kept from bonding.
    pub struct Debonded {
        /// Length at the left end.
        left: Given<Length, NotNegative> = Given::known(Length::ZERO),
        /// Length at the right end.
        right: Given<Length, NotNegative> = Given::known(Length::ZERO),
    }
}

crate::record! {
    /// The constants of the power formula of a strand,
    /// f = E ε (Q + (1 − Q)/(1 + (E ε/(K f_py))^R)^(1/R)): of the strand at hand, from its maker or
    /// a published fit.
    pub struct StrandCurve {
        /// Q, the slope at large strain over the modulus.
        q: f64 where Share,
        /// K.
        k: f64 where CurveConstant,
        /// R.
        r: f64 where CurveConstant,
    }
}

crate::record! {
    /// One tendon, or several that lie and are stressed alike, on one member unit.
    pub struct Tendon {
        /// Area of all.
        area: Given<Area, Positive>,
        /// How it runs.
        profile: Profile,
        /// What holds it to the concrete.
        bond: Bond,
        /// Diameter of its duct, or of the strand, where cover and what overlaps are to be looked at.
        diameter: Option<Given<Length, Size>>,
        /// Breaking strength.
        breaks: SteelStrength,
        /// Yield strength: stress at 1 % strain, or as its standard defines it.
        yields: SteelStrength,
        /// Modulus of elasticity.
        modulus: Given<Stress, SteelModulus>,
        /// Strain at which it breaks.
        breaking_strain: Option<Given<Strain, Breaks>>,
        /// The power formula of the strand; elastic up to yield and then flat where it is left out.
        curve: Option<StrandCurve>,
        /// Stress after all losses.
        effective: Option<Given<Stress, Positive>>,
        /// Stress when it was stressed, where the losses are given.
        jacking: Option<Given<Stress, Positive>>,
        /// All losses together, as a part of the stress when it was stressed.
        losses: Option<Given<Ratio, Share>>,
        /// Length over which the effective prestress enters, of a pretensioned tendon.
        transfer: Option<Given<Length, Positive>>,
        /// Length over which the breaking strength is anchored, of a pretensioned tendon.
        development: Option<Given<Length, Positive>>,
        /// Stretches kept from bonding.
        debonded: Option<Debonded>,
    }
    rules {
        stressed_once[effective, jacking, losses];
        below_breaking[effective, jacking, breaks];
        enters[bond, transfer, development, debonded];
    }
}

pub(super) fn in_order(
    reader: &mut Reader,
    from: &Option<Given<Length, AlongMember>>,
    to: &Option<Given<Length, AlongMember>>,
) {
    if let (Some(from), Some(to)) = (from, to)
        && from.value >= to.value
    {
        let path = reader.path_of("to");
        let issue = Issue::new(slug::CAPACITY_PLACE, path, "bars that end before they begin");
        reader.push(issue.value(to.said()).limit(Message::new("beyond {}", [from.said()])));
    }
}

fn hardens(
    reader: &mut Reader,
    breaks: &Option<SteelStrength>,
    strain: &Option<Given<Strain, Breaks>>,
) {
    if breaks.is_some() && strain.is_none() {
        let path = reader.path_of("breaking_strain");
        let message = "a breaking strength without the strain at which it is reached";
        reader.push(Issue::new(slug::CAPACITY_STEEL, path, message));
    }
}

fn stressed_once(
    reader: &mut Reader,
    effective: &Option<Given<Stress, Positive>>,
    jacking: &Option<Given<Stress, Positive>>,
    losses: &Option<Given<Ratio, Share>>,
) {
    let message = match (effective, jacking, losses) {
        (Some(_), None, None) | (None, Some(_), Some(_)) => return,
        (Some(_), ..) => "the prestress is given twice: after losses, and before them",
        (None, Some(_), None) => "the stress at stressing without its losses",
        _ => "the prestress is not given",
    };
    let path = reader.path_of("effective");
    let issue = Issue::new(slug::CAPACITY_PRESTRESS, path, message);
    reader.push(issue.remedy("give `effective`, or `jacking` with `losses`"));
}

fn below_breaking(
    reader: &mut Reader,
    effective: &Option<Given<Stress, Positive>>,
    jacking: &Option<Given<Stress, Positive>>,
    breaks: &SteelStrength,
) {
    for (field, stress) in [("effective", effective), ("jacking", jacking)] {
        if let Some(stress) = stress.as_ref().filter(|s| s.value >= breaks.specified.value) {
            let path = reader.path_of(field);
            let message = "a prestress at or above the breaking strength";
            let issue = Issue::new(slug::CAPACITY_PRESTRESS, path, message);
            let limit = Message::new("below {}", [breaks.specified.said()]);
            reader.push(issue.value(stress.said()).limit(limit));
        }
    }
}

fn enters(
    reader: &mut Reader,
    bond: &Bond,
    transfer: &Option<Given<Length, Positive>>,
    development: &Option<Given<Length, Positive>>,
    debonded: &Option<Debonded>,
) {
    let pretensioned = *bond == Bond::Pretensioned;
    for (field, given) in [("transfer", transfer.is_some()), ("development", development.is_some())]
    {
        if given != pretensioned {
            let path = reader.path_of(field);
            let message = if pretensioned {
                "a pretensioned tendon needs its transfer and its development length"
            } else {
                "a tendon with anchorages has no transfer and no development length"
            };
            reader.push(Issue::new(slug::CAPACITY_ANCHORAGE, path, message));
        }
    }
    if debonded.is_some() && !pretensioned {
        let path = reader.path_of("debonded");
        let message = "a stretch kept from bonding on a tendon with anchorages";
        reader.push(Issue::new(slug::CAPACITY_ANCHORAGE, path, message));
    }
    if let (Some(transfer), Some(development)) = (transfer, development)
        && development.value < transfer.value
    {
        let path = reader.path_of("development");
        let message = "a development length shorter than the transfer length";
        let issue = Issue::new(slug::CAPACITY_ANCHORAGE, path, message);
        let limit = Message::new("at least {}", [transfer.said()]);
        reader.push(issue.value(development.said()).limit(limit));
    }
}

impl Bars {
    /// A layer of fully anchored bars along the whole member.
    #[must_use]
    pub const fn of(area: Area, depth: Length, yields: SteelStrength) -> Self {
        Self {
            area: Given::known(area),
            depth: Given::known(depth),
            yields,
            modulus: Given::known(Stress::from_si(200e9)),
            breaks: None,
            breaking_strain: None,
            diameter: None,
            from: None,
            to: None,
            development: None,
        }
    }
}

impl Tendon {
    /// A tendon in a grouted duct, with its stress after all losses.
    #[must_use]
    pub fn grouted(
        area: Area,
        profile: Profile,
        (yields, breaks): (SteelStrength, SteelStrength),
        modulus: Stress,
        effective: Stress,
    ) -> Self {
        Self {
            area: Given::known(area),
            profile,
            bond: Bond::Grouted,
            diameter: None,
            breaks,
            yields,
            modulus: Given::known(modulus),
            breaking_strain: None,
            curve: None,
            effective: Some(Given::known(effective)),
            jacking: None,
            losses: None,
            transfer: None,
            development: None,
            debonded: None,
        }
    }

    /// Stress after all losses, away from the ends.
    #[must_use]
    pub fn after_losses(&self) -> Stress {
        match (&self.effective, &self.jacking, &self.losses) {
            (Some(effective), ..) => effective.value,
            (None, Some(jacking), Some(losses)) => jacking.value * (1.0 - losses.value.value()),
            _ => Stress::ZERO,
        }
    }
}

impl Profile {
    /// At one depth.
    #[must_use]
    pub const fn straight(depth: Length) -> Self {
        Self::Straight(Straight { depth: Given::known(depth) })
    }

    /// Along a parabola, alike at both ends.
    #[must_use]
    pub const fn parabolic(ends: Length, middle: Length) -> Self {
        Self::Parabolic(Parabolic {
            left: Given::known(ends),
            right: None,
            middle: Given::known(middle),
        })
    }

    /// Depth and slope at a place of a member of this length; the slope is positive where the
    /// tendon goes down to the right.
    #[must_use]
    pub fn at(&self, x: Length, length: Length) -> (Length, f64) {
        let (x, l) = (x.si(), length.si());
        let right = |r: &Option<Given<Length, InSection>>, left: f64| {
            r.as_ref().map_or(left, |r| r.value.si())
        };
        let (depth, slope) = match self {
            Self::Straight(s) => (s.depth.value.si(), 0.0),
            Self::Draped(d) => {
                let left = d.left.value.si();
                let mut points = vec![(0.0, left)];
                points.extend(d.at.iter().map(|at| (at.value.si(), d.low.value.si())));
                points.push((l, right(&d.right, left)));
                let piece = points.iter().zip(points.iter().skip(1)).find(|(_, b)| x <= b.0);
                match piece {
                    Some((a, b)) if b.0 > a.0 => {
                        let slope = (b.1 - a.1) / (b.0 - a.0);
                        (a.1 + slope * (x - a.0), slope)
                    }
                    _ => (right(&d.right, left), 0.0),
                }
            }
            Self::Parabolic(p) => {
                let left = p.left.value.si();
                let (right, middle) = (right(&p.right, left), p.middle.value.si());
                let t = x / l;
                // z = left + b t + c t²
                let c = 2.0 * (left + right) - 4.0 * middle;
                let b = right - left - c;
                (left + t * (b + c * t), (b + 2.0 * c * t) / l)
            }
        };
        (Length::from_si(depth), slope)
    }

    /// Every depth that is given, with its field.
    pub(crate) fn depths(&self) -> Vec<(&'static str, Length)> {
        match self {
            Self::Straight(s) => vec![("depth", s.depth.value)],
            Self::Draped(d) => core::iter::once(("left", d.left.value))
                .chain(d.right.as_ref().map(|r| ("right", r.value)))
                .chain([("low", d.low.value)])
                .collect(),
            Self::Parabolic(p) => core::iter::once(("left", p.left.value))
                .chain(p.right.as_ref().map(|r| ("right", r.value)))
                .chain([("middle", p.middle.value)])
                .collect(),
        }
    }
}

/// A layer of bars or a tendon in a section at one place.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct Steel {
    /// Where it stands in the section: `bars[1]`, `tendons[0]`.
    pub path: String,
    /// Whether it is a tendon.
    pub tendon: bool,
    /// Area on one member unit.
    pub area: Area,
    /// Depth below the top face.
    pub depth: Length,
    /// Slope of a tendon, positive where it goes down to the right: what relieves a positive shear is
    /// force times slope.
    pub slope: f64,
    /// Modulus of elasticity.
    pub modulus: Stress,
    /// Yield strength.
    pub yields: SteelStrength,
    /// Breaking strength, where it is given.
    pub breaks: Option<SteelStrength>,
    /// Strain at which it breaks, where it is given.
    pub breaking_strain: Option<Strain>,
    /// The power formula of a strand.
    pub curve: Option<StrandCurve>,
    /// Prestress after losses, what has entered the concrete at this place; zero of bars.
    pub prestress: Stress,
    /// Whether it strains with the concrete around it.
    pub bonded: bool,
    /// The part of its strength that is anchored here: of bars a part of yield; of a pretensioned
    /// tendon a part of what breaking has above the effective prestress. One where it is fully anchored.
    pub anchored: f64,
}

impl Steel {
    /// The effective force after losses: zero of bars.
    #[must_use]
    pub fn prestress_force(&self) -> Force {
        Force::of_stress(self.prestress, self.area)
    }

    /// The largest stress that its anchorage holds at this place.
    #[must_use]
    pub fn holds(&self, set: StrengthSet) -> Stress {
        let most = self.breaks.as_ref().unwrap_or(&self.yields).of(set);
        if self.tendon {
            self.prestress + (most - self.prestress) * self.anchored
        } else {
            most * self.anchored
        }
    }
}

pub(crate) use self::anchored_at::{of_bars, of_tendon};

/// How much of a steel is anchored at a place.
mod anchored_at {
    use super::{Bars, Bond, Tendon};
    use crate::units::{Length, Stress};

    /// The part of yield that bars carry; nothing where there are none.
    pub(crate) fn of_bars(bars: &Bars, x: Length, length: Length) -> Option<f64> {
        let from = bars.from.as_ref().map_or(Length::ZERO, |f| f.value);
        let to = bars.to.as_ref().map_or(length, |t| t.value);
        if x < from || x > to {
            return None;
        }
        let near = (x - from).min(to - x);
        Some(bars.development.as_ref().map_or(1.0, |d| (near / d.value).min(1.0)))
    }

    /// The prestress that has entered, and the part of what lies above it that is anchored.
    pub(crate) fn of_tendon(tendon: &Tendon, x: Length, length: Length) -> (Stress, f64) {
        let full = tendon.after_losses();
        let (Bond::Pretensioned, Some(transfer), Some(development)) =
            (tendon.bond, &tendon.transfer, &tendon.development)
        else {
            return (full, 1.0);
        };
        let kept = tendon.debonded.as_ref();
        let left = kept.map_or(Length::ZERO, |d| d.left.value);
        let right = kept.map_or(Length::ZERO, |d| d.right.value);
        let near = (x - left).min(length - right - x).max(Length::ZERO);
        let entered = (near / transfer.value).min(1.0);
        let beyond = near - transfer.value;
        let more = development.value - transfer.value;
        let part = if beyond <= Length::ZERO {
            0.0
        } else if more <= Length::ZERO {
            1.0
        } else {
            (beyond / more).min(1.0)
        };
        (full * entered, part)
    }
}
