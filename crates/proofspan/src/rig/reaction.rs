//! What the jacks pull against, as a document describes it.

use super::holding::Holding;
use crate::beam::{
    Beam, Line, Part, Restraint, Rigidity, Span, Spring, Support, SupportSpec, line_fits,
    supports_in_order,
};
use crate::error::{Error, Issue, slug};
use crate::source::rule::{NotNegative, Positive};
use crate::source::{Given, Reader, Several, Unfolded};
use crate::units::{FlexuralRigidity, Force, Length, LineLoad, Message, Moment, SpringStiffness};

crate::choice! {
    /// How the reaction member sits on its supports.
    pub enum Seat ("seat", source::SOURCE_CHOICE) {
        /// It lies on bearings and can lift.
        Seated = "seated",
        /// It is cast with its supports: uplift goes into column and top steel.
        Monolithic = "monolithic",
    }
}

crate::choice! {
    /// What the jacks pull against.
    pub enum ReactionKind ("kind of reaction", source::SOURCE_CHOICE) {
        /// A member on bearings: one span or a line of spans, overhangs.
        Member = "member",
        /// A member held at its left end, free at the right.
        Cantilever = "cantilever",
        /// Dead weight on a frame or platform with bearings of its own.
        Platform = "platform",
        /// Anchors in the ground or in a mass below.
        Anchors = "anchors",
        /// A vehicle on its own wheels: the loads of its axles hold it down. Where it has more than two,
        /// they share a pull as springs that are as stiff as they are loaded (library rule).
        Vehicle = "vehicle",
        /// A frame that holds on the member under test itself: the force path closes on it.
        Frame = "frame",
    }
}

/// A chassis beside its springs, Nm².
const RIGID: f64 = 1e15;

crate::rule! {
    /// A place in the coordinates of the member under test, from its left end; below zero left of
    /// it, up to ten kilometres either way (library rule).
    pub RigPlace { least -10000.0 SOURCE_MAGNITUDE, most 10000.0 SOURCE_MAGNITUDE }
    /// A length of a beam or a height of a train: up to thirty metres (library rule).
    pub GearLength { above 0.0 SOURCE_SIGN, most 30.0 SOURCE_MAGNITUDE }
}

crate::record! {
    /// One anchor, per member unit.
    pub struct Anchor {
        /// Its place from the left end of the member under test.
        at: Given<Length, RigPlace>,
        /// Its design strength in tension, from a test of the anchor.
        capacity: Given<Force, Positive> => RIG_ANCHOR_CAPACITY_MISSING "an anchor of unknown strength holds nothing",
    }
}

crate::record! {
    /// One axle of a vehicle that reacts, per member unit.
    pub struct Axle {
        /// Its place from the left end of the member under test.
        at: Given<Length, RigPlace>,
        /// What it weighs there, as the vehicle stands.
        load: Given<Force, Positive>,
        /// What the ground or floor carries under its wheels.
        carries: Given<Force, Positive> => RIG_AXLE_GROUND_MISSING "ground of unknown strength carries no wheel",
    }
}

crate::record! {
    /// What the jacks pull against, per member unit: by default a member on bearings.
    pub struct ReactionMember {
        /// How the drawings call it; never the member under test.
        id: String,
        /// What it is.
        kind: ReactionKind = ReactionKind::Member,
        /// Place of its first bearing from the left end of the member under test; where it is left
        /// out, under the first bearing of that member.
        at: Option<Given<Length, RigPlace>>,
        /// Centre to centre of its bearings, from left to right; of a cantilever, its length.
        span: Several<Given<Length, Span>> = Several::none(),
        /// Its supports from its own left end, where they are more than bearings.
        supports: Vec<SupportSpec> = Vec::new(),
        /// Overhang left of its first bearing.
        left_overhang: Option<Given<Length, Part>>,
        /// Overhang right of its last bearing.
        right_overhang: Option<Given<Length, Part>>,
        /// Its own weight, per member unit; a platform may leave it out.
        self_weight: Option<Given<LineLoad, Positive>>,
        /// Its soft stiffness, per member unit.
        rigidity: Option<Rigidity>,
        /// How it sits; a platform lies on its bearings where nothing is said.
        seat: Option<Seat>,
        /// Design shear strength, per member unit.
        shear_capacity: Option<Given<Force, Positive>>,
        /// Design strength in sagging, per member unit.
        sagging_capacity: Option<Given<Moment, NotNegative>>,
        /// Design strength in hogging, per member unit, as a size; zero where it has no top steel.
        hogging_capacity: Option<Given<Moment, NotNegative>>,
        /// Design strength against uplift of what holds a bearing that cannot lift, above and below
        /// it: one for all bearings, or one for each from left to right.
        uplift_capacity: Several<Given<Force, NotNegative>> = Several::none(),
        /// In place of one strength, beam, top steel and column that hold such a bearing, each checked: one
        /// for all bearings, or one for each from left to right.
        holds: Several<Holding> = Several::none(),
        /// The anchors, from left to right.
        anchors: Vec<Anchor> = Vec::new(),
        /// The axles of a vehicle, from left to right.
        axles: Vec<Axle> = Vec::new(),
        /// Of a vehicle: what its chassis takes at one place where it is held.
        hold: Option<Given<Force, Positive>>,
        /// Of anchors, a vehicle or a frame: what pulls at one place over how far it gives there. Not known, what
        /// it springs back has no bound.
        stiffness: Option<Given<SpringStiffness, Spring>>,
        /// Hogging at which its top face cracks, per member unit, as a size: prestress pulls it already.
        cracks_at: Option<Given<Moment, NotNegative>>,
        /// Whether it is a sister of the member in doubt: then it is as doubtful.
        sister: bool = false,
        /// The record of its own survey.
        survey: Option<String>,
    }
    rules {
        gives_itself[kind, stiffness];
        kind_fits[kind, span, supports, anchors];
        axles_fit[kind, axles, hold];
        kind_known[kind, self_weight, rigidity, seat];
        line_only[kind, left_overhang, right_overhang];
        anchors_rise[anchors];
        uplift_each[kind, span, supports, uplift_capacity, holds];
    }
    unfold { Unfolded::nothing, asked_by_kind }
}

/// What a reaction is asked for by its kind.
fn asked_by_kind(mut schema: serde_json::Value) -> serde_json::Value {
    let of = |kinds: &[ReactionKind]| {
        let words: Vec<&str> = kinds.iter().map(|k| k.word()).collect();
        serde_json::json!({ "kind": { "enum": words } })
    };
    let line = serde_json::json!([{ "required": ["span"] }, { "required": ["supports"] }]);
    let all = serde_json::json!([
        { "required": ["self_weight", "rigidity", "seat"], "anyOf": line },
        { "required": ["kind", "self_weight", "rigidity"], "anyOf": line, "properties": of(&[ReactionKind::Cantilever]) },
        { "required": ["kind", "rigidity"], "anyOf": line, "properties": of(&[ReactionKind::Platform]) },
        { "required": ["kind"], "properties": of(&[ReactionKind::Anchors, ReactionKind::Vehicle, ReactionKind::Frame]) },
    ]);
    if let Some(object) = schema.as_object_mut() {
        object.insert("anyOf".to_owned(), all);
    }
    schema
}

impl ReactionKind {
    /// Whether it is a beam on supports of its own.
    #[must_use]
    pub const fn beam(self) -> bool {
        matches!(self, Self::Member | Self::Cantilever | Self::Platform)
    }
}

fn misfit(reader: &mut Reader, kind: ReactionKind, field: &str) {
    let path = reader.path_of(field);
    let message = format!("`{field}` of a reaction of kind `{kind}`");
    reader.push(Issue::new(slug::RIG_REACTION_KIND, path, message));
}

fn kind_fits(
    reader: &mut Reader,
    kind: &ReactionKind,
    span: &Several<Given<Length, Span>>,
    supports: &Vec<SupportSpec>,
    anchors: &Vec<Anchor>,
) {
    if kind.beam() {
        let line = *kind != ReactionKind::Cantilever;
        let other = ReactionKind::Member.word();
        line_fits(reader, (kind.word(), line, other), span, supports);
        supports_in_order(reader, supports);
    } else {
        for (field, there) in [("span", !span.is_empty()), ("supports", !supports.is_empty())] {
            if there {
                misfit(reader, *kind, field);
            }
        }
    }
    if (*kind == ReactionKind::Anchors) == anchors.is_empty() {
        if anchors.is_empty() {
            let path = reader.path_of("anchors");
            let message = "the field `anchors` is missing";
            reader.push(
                Issue::new(slug::SOURCE_FIELD_MISSING, path, message)
                    .limit("place and capacity of each"),
            );
        } else {
            misfit(reader, *kind, "anchors");
        }
    }
}

fn axles_fit(
    reader: &mut Reader,
    kind: &ReactionKind,
    axles: &Vec<Axle>,
    hold: &Option<Given<Force, Positive>>,
) {
    let vehicle = *kind == ReactionKind::Vehicle;
    for (field, there) in [("axles", !axles.is_empty()), ("hold", hold.is_some())] {
        if there && !vehicle {
            misfit(reader, *kind, field);
        }
    }
    if vehicle && axles.len() < 2 {
        let path = reader.path_of("axles");
        let message = "a vehicle stands on two axles or more";
        let issue = Issue::new(slug::RIG_REACTION_KIND, path, message).value(axles.len());
        reader.push(issue.limit("place, load and ground of each"));
    }
    rising(reader, "axles", axles.iter().map(|a| &a.at));
}

fn kind_known(
    reader: &mut Reader,
    kind: &ReactionKind,
    self_weight: &Option<Given<LineLoad, Positive>>,
    rigidity: &Option<Rigidity>,
    seat: &Option<Seat>,
) {
    let asked = [
        ("self_weight", self_weight.is_some(), *kind != ReactionKind::Platform),
        ("rigidity", rigidity.is_some(), true),
        ("seat", seat.is_some(), *kind == ReactionKind::Member),
    ];
    for (field, there, asked) in asked {
        if kind.beam() && asked && !there {
            let path = reader.path_of(field);
            let message = format!("the field `{field}` is missing");
            reader.push(Issue::new(slug::SOURCE_FIELD_MISSING, path, message));
        } else if !kind.beam() && there {
            misfit(reader, *kind, field);
        }
    }
}

/// A member gives by its rigidity, anchors and frames by a stiffness.
fn gives_itself(
    reader: &mut Reader,
    kind: &ReactionKind,
    stiffness: &Option<Given<SpringStiffness, Spring>>,
) {
    if kind.beam() && stiffness.is_some() {
        misfit(reader, *kind, "stiffness");
    }
}

fn line_only(
    reader: &mut Reader,
    kind: &ReactionKind,
    left: &Option<Given<Length, Part>>,
    right: &Option<Given<Length, Part>>,
) {
    if !matches!(kind, ReactionKind::Member | ReactionKind::Platform | ReactionKind::Vehicle) {
        for (field, there) in
            [("left_overhang", left.is_some()), ("right_overhang", right.is_some())]
        {
            if there {
                misfit(reader, *kind, field);
            }
        }
    }
}

fn anchors_rise(reader: &mut Reader, anchors: &Vec<Anchor>) {
    rising(reader, "anchors", anchors.iter().map(|a| &a.at));
}

fn rising<'a>(
    reader: &mut Reader,
    field: &str,
    places: impl Iterator<Item = &'a Given<Length, RigPlace>> + Clone,
) {
    for (i, (a, b)) in places.clone().zip(places.skip(1)).enumerate() {
        if a.value >= b.value {
            let path = reader.path_of(&format!("{field}[{}]", i + 1));
            let message = format!("{field} do not rise from left to right");
            reader.push(
                Issue::new(slug::BEAM_ORDER, path, message)
                    .value(b.said())
                    .limit(Message::new("beyond {}", [a.said()])),
            );
        }
    }
}

fn uplift_each(
    reader: &mut Reader,
    kind: &ReactionKind,
    span: &Several<Given<Length, Span>>,
    supports: &Vec<SupportSpec>,
    uplift: &Several<Given<Force, NotNegative>>,
    holds: &Several<Holding>,
) {
    let bearings = match kind {
        ReactionKind::Cantilever => 1,
        _ if supports.is_empty() => span.len() + 1,
        _ => supports.len(),
    };
    for (field, given) in [("uplift_capacity", uplift.len()), ("holds", holds.len())] {
        if given > 0 && !kind.beam() {
            misfit(reader, *kind, field);
        } else if given > 1 && given != bearings {
            let path = reader.path_of(field);
            let message = format!("neither one of `{field}` for all bearings nor one for each");
            reader.push(
                Issue::new(slug::RIG_REACTION_KIND, path, message)
                    .value(given)
                    .limit(format!("1 or {bearings}")),
            );
        }
    }
}

impl ReactionMember {
    fn line(&self) -> Line<'_> {
        Line {
            fixed_end: self.kind == ReactionKind::Cantilever,
            span: &self.span,
            supports: &self.supports,
            left: self.left_overhang.as_ref(),
            right: self.right_overhang.as_ref(),
        }
    }

    /// How far it reaches, from the left end of the member under test, whose first bearing stands
    /// at `first`; nothing of a frame, which reaches wherever that member does.
    #[must_use]
    pub fn reach(&self, first: Length) -> Option<(Length, Length)> {
        match self.kind {
            ReactionKind::Frame => None,
            ReactionKind::Anchors => {
                let at = |a: Option<&Anchor>| a.map(|a| a.at.value);
                at(self.anchors.first()).zip(at(self.anchors.last()))
            }
            ReactionKind::Vehicle => {
                let part =
                    |p: &Option<Given<Length, Part>>| p.as_ref().map_or(Length::ZERO, |p| p.value);
                let (first, last) = self.axles.first().zip(self.axles.last())?;
                let from = first.at.value - part(&self.left_overhang);
                Some((from, last.at.value + part(&self.right_overhang)))
            }
            _ => {
                let line = self.line();
                let from = self.at.as_ref().map_or(first, |a| a.value) - line.first_bearing();
                Some((from, from + line.length()))
            }
        }
    }

    /// The beam that it is, every support holding both ways; nothing of anchors and frames.
    ///
    /// # Errors
    /// Supports beyond it, or too few.
    pub fn beam(&self) -> Result<Option<Beam>, Error> {
        if let (ReactionKind::Vehicle, Some((from, to))) = (self.kind, self.reach(Length::ZERO)) {
            let supports = self.axles.iter().map(|axle| {
                let bearing = Support::bearing(axle.at.value - from);
                // two axles share by their levers, whatever gives
                if self.axles.len() == 2 {
                    return bearing;
                }
                let stiff = SpringStiffness::per(axle.load.value, Length::from_si(0.05));
                Support { vertical: Restraint::Spring(stiff), ..bearing }
            });
            let stiff = vec![(Length::ZERO, FlexuralRigidity::from_si(RIGID))];
            return Beam::new(to - from, supports.collect(), stiff).map(Some);
        }
        match &self.rigidity {
            Some(rigidity) if self.kind.beam() => {
                let line = self.line();
                let stiff = [(Length::ZERO, rigidity.value())];
                let beam = Beam::of(line.length(), line.held(), stiff)?;
                Ok(Some(beam.anchored().level()))
            }
            _ => Ok(None),
        }
    }

    /// How it sits on each support, from left to right. A seat lifts and what is held against
    /// rotation does not, whatever is said of the rest.
    pub fn seats(&self) -> impl Iterator<Item = Seat> + use<> {
        let wheels = std::iter::repeat_n(Seat::Seated, self.axles.len());
        let rest = self.seat.unwrap_or(Seat::Seated);
        let each = move |s: Support| match (s.lifts, s.rotation) {
            (true, _) => Seat::Seated,
            (false, Restraint::Free) => rest,
            (false, _) => Seat::Monolithic,
        };
        let line = self.axles.is_empty().then(|| self.line().held());
        wheels.chain(line.into_iter().flatten().map(each))
    }

    /// What holds one bearing, by its number from the left.
    pub(crate) fn holding_at(&self, bearing: usize) -> Option<&Holding> {
        self.holds.first().filter(|_| self.holds.len() == 1).or_else(|| self.holds.get(bearing))
    }

    /// The strength against uplift at one bearing, by its number from the left.
    #[must_use]
    pub fn uplift_at(&self, bearing: usize) -> Option<Force> {
        let one = self.uplift_capacity.first().filter(|_| self.uplift_capacity.len() == 1);
        one.or_else(|| self.uplift_capacity.get(bearing)).map(|c| c.value)
    }
}
