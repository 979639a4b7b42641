//! The beam as a document describes it.

use smallvec::smallvec;

use super::load::Depth;
use super::model::{Beam, Restraint, Support, Supports, redundant};
use super::patterns::MOST_SPANS;
use crate::error::{Error, Issue, slug};
use crate::source::{Given, Input, Reader, Several, Unfolded};
use crate::units::{
    FlexuralRigidity, Length, Message, RotationalStiffness, SecondMoment, SpringStiffness, Stress,
};

crate::choice! {
    /// How the member is held.
    pub enum BeamKind ("kind of beam", source::SOURCE_CHOICE) {
        /// Two bearings at its ends.
        Simple = "simple",
        /// Held at its left end, free at the right.
        Cantilever = "cantilever",
        /// Two bearings, one or both ends overhanging.
        Overhanging = "overhanging",
        /// A line of spans: several spans on bearings, or the supports one by one.
        Continuous = "continuous",
    }
}

crate::choice! {
    /// What a support of a line holds.
    pub enum Hold ("kind of support", source::SOURCE_CHOICE) {
        /// Down and up; free to turn.
        Bearing = "bearing",
        /// Down only: the member lifts where it would have to pull.
        Seat = "seat",
        /// Down, up and rotation.
        Fixed = "fixed",
    }
}

crate::rule! {
    /// A span or a part of one: up to a kilometre (library rule).
    pub Span { above 0.0 BEAM_LENGTH_NONPOSITIVE, least 0.1 SOURCE_MAGNITUDE, most 1000.0 SOURCE_MAGNITUDE }
    /// An overhang or a clear distance: up to a kilometre (library rule).
    pub Part { above 0.0 BEAM_LENGTH_NONPOSITIVE, most 1000.0 SOURCE_MAGNITUDE }
    /// A modulus that a concrete can have; outside, the unit is wrong: psi for ksi, MPa for GPa
    /// (5 GPa to 100 GPa, 725 ksi to 14 500 ksi, library rule).
    pub ConcreteModulus { above 0.0 BEAM_RIGIDITY_NONPOSITIVE, least 5e9 BEAM_MAGNITUDE_MODULUS, most 100e9 BEAM_MAGNITUDE_MODULUS }
    /// A modulus of concrete or steel; outside, the unit is wrong (5 GPa to 250 GPa, library rule).
    pub MemberModulus { above 0.0 BEAM_RIGIDITY_NONPOSITIVE, least 5e9 BEAM_MAGNITUDE_MODULUS, most 250e9 BEAM_MAGNITUDE_MODULUS }
    /// A second moment of area.
    pub Inertia { above 0.0 BEAM_RIGIDITY_NONPOSITIVE }
    /// A stiffness that something rests on.
    pub Spring { above 0.0 BEAM_SPRING_NONPOSITIVE }
    /// A place on a line of spans, from the left end of the member.
    pub LinePlace { least 0.0 BEAM_SUPPORT_OUTSIDE, most 10000.0 SOURCE_MAGNITUDE }
    /// A movement of a support, down or up: up to ten metres (library rule).
    pub Settled { least -10.0 SOURCE_MAGNITUDE, most 10.0 SOURCE_MAGNITUDE }
}

crate::record! {
    /// A stiffness: modulus of elasticity and second moment of area; of a member under test the modulus is
    /// that of concrete, of what it is pushed against steel too.
    pub struct Rigidity {
        /// Modulus of elasticity.
        modulus: Given<Stress, MemberModulus>,
        /// Second moment of area.
        second_moment: Given<SecondMoment, Inertia>,
    }
}

crate::record! {
    /// One support of a line of spans.
    pub struct SupportSpec {
        /// Its place from the left end of the member.
        at: Given<Length, LinePlace>,
        /// What it holds.
        kind: Hold = Hold::Bearing,
        /// Stiffness that it rests on, per member unit; rigid where it is left out.
        stiffness: Option<Given<SpringStiffness, Spring>>,
        /// Stiffness against rotation, per member unit, of a support that holds it: rigid where it is left out.
        rotational: Option<Given<RotationalStiffness, Spring>>,
        /// How far it has gone down before the test, down positive: part of the state in place.
        settlement: Option<Given<Length, Settled>>,
    }
}

crate::record! {
    /// A stretch of the member with a section of its own, up to where the next begins.
    pub struct StretchSpec {
        /// Where it begins, from the left end of the member.
        from: Given<Length, LinePlace>,
        /// Soft prediction.
        soft: Rigidity,
        /// Stiff prediction.
        stiff: Rigidity,
        /// Overall depth, where it differs.
        depth: Option<Given<Length, Depth>>,
        /// Distance of the tension steel from the compressed face, where it differs.
        effective_depth: Option<Given<Length, Depth>>,
    }
    rules {
        stiff_is_stiffer[soft, stiff];
        of_concrete[soft, stiff];
    }
}

crate::record! {
    /// The member as a line of spans, per member unit.
    pub struct BeamSpec {
        /// How it is held.
        kind: BeamKind,
        /// Centre to centre of bearings; of a cantilever, from the face of its support to its end. Several, from left to right, of a continuous member; left out where its supports are listed.
        span: Several<Given<Length, Span>> = Several::none(),
        /// The supports of a continuous member, where they are more than bearings.
        supports: Vec<SupportSpec> = Vec::new(),
        /// Hinges, from the left end of the member.
        hinges: Vec<Given<Length, LinePlace>> = Vec::new(),
        /// Stretches with another section than that at the left end.
        stretches: Vec<StretchSpec> = Vec::new(),
        /// Overhang left of the first bearing.
        left_overhang: Option<Given<Length, Part>>,
        /// Overhang right of the last bearing.
        right_overhang: Option<Given<Length, Part>>,
        /// Clear distance between the faces of the supports.
        clear_span: Option<Given<Length, Part>>,
        /// Overall depth of the section.
        depth: Given<Length, Depth>,
        /// Distance of the tension steel from the compressed face.
        effective_depth: Option<Given<Length, Depth>>,
        /// Soft prediction: cracked or effective section, low modulus. For gap, stroke and range.
        soft: Rigidity,
        /// Stiff prediction: gross or transformed section, expected modulus. For stop limits.
        stiff: Rigidity,
    }
    rules {
        spans_fit[kind, span, supports];
        line_in_order[supports, hinges, stretches];
        clear_inside[span, clear_span];
        steel_inside[depth, effective_depth];
        steel_inside_throughout[depth, effective_depth, stretches];
        overhangs_fit[kind, left_overhang, right_overhang];
        stiff_is_stiffer[soft, stiff];
        of_concrete[soft, stiff];
    }
    unfold { Unfolded::nothing, spans_or_supports }
}

/// The member under test is of concrete.
fn of_concrete(reader: &mut Reader, soft: &Rigidity, stiff: &Rigidity) {
    const MOST: Stress = Stress::from_si(100e9);
    for (name, rigidity) in [("soft", soft), ("stiff", stiff)] {
        let modulus = &rigidity.modulus;
        if modulus.high() > MOST {
            let path = reader.path_of(&format!("{name}.modulus"));
            let message = "above what concrete can have";
            let issue = Issue::new(slug::BEAM_MAGNITUDE_MODULUS, path, message);
            reader.push(issue.value(modulus.said()).limit(Message::new("up to {}", [MOST.into()])));
        }
    }
}

/// A member has spans, or supports one by one.
fn spans_or_supports(mut schema: serde_json::Value) -> serde_json::Value {
    if let Some(object) = schema.as_object_mut() {
        let either = serde_json::json!([{ "required": ["span"] }, { "required": ["supports"] }]);
        object.insert("anyOf".to_owned(), either);
    }
    schema
}

fn spans_fit(
    reader: &mut Reader,
    kind: &BeamKind,
    span: &Several<Given<Length, Span>>,
    supports: &Vec<SupportSpec>,
) {
    let line = *kind == BeamKind::Continuous;
    line_fits(reader, (kind.word(), line, BeamKind::Continuous.word()), span, supports);
}

/// Spans or supports, one of the two: several only where the kind is a `line`; `other` is the kind
/// that may have them.
pub(crate) fn line_fits(
    reader: &mut Reader,
    (kind, line, other): (&str, bool, &str),
    span: &Several<Given<Length, Span>>,
    supports: &Vec<SupportSpec>,
) {
    let path = reader.path_of("span");
    if span.is_empty() && supports.is_empty() {
        let message = "the field `span` is missing";
        reader.push(
            Issue::new(slug::SOURCE_FIELD_MISSING, path, message).limit("one length each span"),
        );
    } else if !line && span.len() > 1 {
        let message = format!("{} spans of a beam of kind `{kind}`", span.len());
        let issue = Issue::new(slug::BEAM_SPANS, path, message);
        reader.push(issue.remedy(format!("take the kind `{other}`, or give one span")));
    } else if !line && !supports.is_empty() {
        let path = reader.path_of("supports");
        let message = format!("supports one by one of a beam of kind `{kind}`");
        let issue = Issue::new(slug::BEAM_SPANS, path, message);
        reader.push(issue.remedy(format!("take the kind `{other}`, or leave the supports out")));
    } else if !span.is_empty() && !supports.is_empty() {
        let message = "spans and supports: two descriptions of one line";
        let issue = Issue::new(slug::BEAM_SPANS, path, message);
        reader.push(issue.remedy("leave one of them out"));
    }
    if span.len().max(supports.len()) > MOST_SPANS {
        let path = reader.path_of(if supports.is_empty() { "span" } else { "supports" });
        let issue = Issue::new(slug::BEAM_SPANS, path, "too many spans or supports");
        reader
            .push(issue.value(span.len().max(supports.len())).limit(format!("up to {MOST_SPANS}")));
    }
}

fn rising(reader: &mut Reader, field: &str, list: Vec<&Given<Length, LinePlace>>) {
    for (i, (a, b)) in list.iter().zip(list.iter().skip(1)).enumerate() {
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

/// The supports stand from left to right, each at its own place.
pub(crate) fn supports_in_order(reader: &mut Reader, supports: &[SupportSpec]) {
    rising(reader, "supports", supports.iter().map(|s| &s.at).collect());
}

/// What is listed from left to right stands so, each at its own place.
fn line_in_order(
    reader: &mut Reader,
    supports: &Vec<SupportSpec>,
    hinges: &Vec<Given<Length, LinePlace>>,
    stretches: &Vec<StretchSpec>,
) {
    supports_in_order(reader, supports);
    rising(reader, "hinges", hinges.iter().collect());
    rising(reader, "stretches", stretches.iter().map(|s| &s.from).collect());
    if let Some(first) = stretches.first().filter(|s| s.from.value <= Length::ZERO) {
        let path = reader.path_of("stretches[0].from");
        let message = "a stretch at the left end: that section is the one of the member";
        let issue = Issue::new(slug::BEAM_ORDER, path, message).value(first.from.said());
        reader.push(issue.limit("above zero"));
    }
}

/// Between half the span (library rule: bearings as wide as that are a unit that slipped) and the span.
fn clear_inside(
    reader: &mut Reader,
    span: &Several<Given<Length, Span>>,
    clear: &Option<Given<Length, Part>>,
) {
    // of several spans it is that of the shortest
    let shortest = span.iter().min_by(|a, b| a.value.si().total_cmp(&b.value.si()));
    if let Some((span, clear)) = shortest.zip(clear.as_ref()) {
        clear_within(reader, span, clear);
    }
}

/// The same for one span.
pub(crate) fn clear_within(reader: &mut Reader, span: &Input<Length>, clear: &Input<Length>) {
    if clear.value < span.value / 2.0 {
        let path = reader.path_of("clear_span");
        let message = "the clear span is less than half the span";
        reader.push(
            Issue::new(slug::BEAM_CLEAR_SPAN, path, message)
                .value(clear.said())
                .limit(Message::new("from half of {} to the whole", [span.said()])),
        );
    }
    if clear.value > span.value {
        let path = reader.path_of("clear_span");
        reader.push(
            Issue::new(slug::BEAM_CLEAR_SPAN, path, "the clear span is longer than the span")
                .value(clear.said())
                .limit(Message::new("at most {}", [span.said()])),
        );
    }
}

fn steel_inside(
    reader: &mut Reader,
    depth: &Input<Length>,
    effective: &Option<Given<Length, Depth>>,
) {
    if let Some(effective) = effective.as_ref().filter(|d| d.value > depth.value) {
        let path = reader.path_of("effective_depth");
        reader.push(
            Issue::new(slug::BEAM_EFFECTIVE_DEPTH, path, "the steel lies outside the section")
                .value(effective.said())
                .limit(Message::new("at most {}", [depth.said()])),
        );
    }
}

/// The same of every stretch, with what it takes over from the whole member.
fn steel_inside_throughout(
    reader: &mut Reader,
    depth: &Input<Length>,
    effective: &Option<Given<Length, Depth>>,
    stretches: &[StretchSpec],
) {
    for (i, own) in stretches.iter().enumerate() {
        let deep = own.depth.as_ref().map_or(depth.value, |d| d.value);
        let Some(d) = own.effective_depth.as_ref().or(effective.as_ref()) else { continue };
        // without any of its own it is the section of the whole member
        let differs = own.depth.is_some() || own.effective_depth.is_some();
        if differs && d.value > deep {
            let path = reader.path_of(&format!("stretches[{i}].effective_depth"));
            let message = "the steel lies outside the section of this stretch";
            let issue = Issue::new(slug::BEAM_EFFECTIVE_DEPTH, path, message).value(d.said());
            reader.push(issue.limit(Message::new("at most {}", [deep.into()])));
        }
    }
}

fn overhangs_fit(
    reader: &mut Reader,
    kind: &BeamKind,
    left: &Option<Given<Length, Part>>,
    right: &Option<Given<Length, Part>>,
) {
    for (field, overhang) in [("left_overhang", left), ("right_overhang", right)] {
        if overhang.is_some() && !matches!(kind, BeamKind::Overhanging | BeamKind::Continuous) {
            let path = reader.path_of(field);
            reader.push(
                Issue::new(
                    slug::BEAM_OVERHANG,
                    path,
                    format!("an overhang on a beam of kind `{kind}`"),
                )
                .remedy("take the kind `overhanging`, or leave the overhang out"),
            );
        }
    }
    if *kind == BeamKind::Overhanging && left.is_none() && right.is_none() {
        let path = reader.path_of("kind");
        reader.push(
            Issue::new(slug::BEAM_OVERHANG, path, "an overhanging beam without an overhang")
                .remedy("give left_overhang or right_overhang"),
        );
    }
}

fn stiff_is_stiffer(reader: &mut Reader, soft: &Rigidity, stiff: &Rigidity) {
    let (a, b) = (soft.value(), stiff.value());
    if a > b {
        let path = reader.path_of("stiff");
        reader.push(
            Issue::new(
                slug::BEAM_STIFF_SOFTER,
                path,
                "the stiff prediction is softer than the soft one",
            )
            .value(b)
            .limit(Message::new("at least {}", [a.into()])),
        );
    }
}

impl Rigidity {
    /// E I.
    #[must_use]
    pub fn value(&self) -> FlexuralRigidity {
        self.modulus.value * self.second_moment.value
    }
}

/// Which of the two predictions. Closed: there are always two.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Stiffness {
    /// Cracked or effective section, low modulus.
    Soft,
    /// Gross or transformed section, expected modulus.
    Stiff,
}

impl SupportSpec {
    /// The support on a beam.
    #[must_use]
    pub fn support(&self) -> Support {
        let rigid = |k: &Option<Given<SpringStiffness, Spring>>| {
            k.as_ref().map_or(Restraint::Rigid, |k| Restraint::Spring(k.value))
        };
        let turn = self.rotational.as_ref().map(|k| Restraint::Spring(k.value));
        Support {
            at: self.at.value,
            vertical: rigid(&self.stiffness),
            rotation: match (self.kind, turn) {
                (_, Some(spring)) => spring,
                (Hold::Fixed, None) => Restraint::Rigid,
                _ => Restraint::Free,
            },
            settlement: self.settlement.as_ref().map_or(Length::ZERO, |s| s.value),
            lifts: self.kind == Hold::Seat,
        }
    }
}

/// A line of spans as a document describes it: spans from the first bearing on, or the supports
/// one by one; overhangs.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Line<'a> {
    /// Held at its left end alone: a cantilever.
    pub(crate) fixed_end: bool,
    /// Centre to centre of bearings.
    pub(crate) span: &'a [Given<Length, Span>],
    /// The supports, where they are listed.
    pub(crate) supports: &'a [SupportSpec],
    /// Overhang left of the first bearing.
    pub(crate) left: Option<&'a Given<Length, Part>>,
    /// Overhang right of the last bearing.
    pub(crate) right: Option<&'a Given<Length, Part>>,
}

impl Line<'_> {
    /// Where the first support stands, from the left end.
    pub(crate) fn first_bearing(&self) -> Length {
        let overhang = || self.left.map_or(Length::ZERO, |o| o.value);
        self.supports.first().map_or_else(overhang, |s| s.at.value)
    }

    /// Where the last support stands; of a cantilever, its free end.
    fn last_bearing(&self) -> Length {
        let spans = || self.span.iter().map(|s| s.value).sum::<Length>();
        self.supports.last().map_or_else(|| self.first_bearing() + spans(), |s| s.at.value)
    }

    /// The whole length, overhangs included.
    pub(crate) fn length(&self) -> Length {
        self.last_bearing() + self.right.map_or(Length::ZERO, |o| o.value)
    }

    /// The supports from left to right.
    pub(crate) fn held(&self) -> Supports {
        if self.fixed_end {
            return smallvec![Support::fixed(Length::ZERO)];
        }
        if !self.supports.is_empty() {
            return self.supports.iter().map(SupportSpec::support).collect();
        }
        let mut at = self.first_bearing();
        let mut supports: Supports = smallvec![Support::bearing(at)];
        for span in self.span {
            at += span.value;
            supports.push(Support::bearing(at));
        }
        supports
    }
}

impl BeamSpec {
    /// The line of its spans.
    fn line(&self) -> Line<'_> {
        Line {
            fixed_end: self.kind == BeamKind::Cantilever,
            span: &self.span,
            supports: &self.supports,
            left: self.left_overhang.as_ref(),
            right: self.right_overhang.as_ref(),
        }
    }

    /// Where the first support stands, from the left end of the beam.
    #[must_use]
    pub fn first_bearing(&self) -> Length {
        self.line().first_bearing()
    }

    /// The whole length, overhangs included.
    #[must_use]
    pub fn length(&self) -> Length {
        self.line().length()
    }

    /// The longest distance between neighbouring supports; of a cantilever, its length.
    #[must_use]
    pub fn longest_span(&self) -> Length {
        let places = self.supports.iter().zip(self.supports.iter().skip(1));
        let listed = places.map(|(a, b)| b.at.value - a.at.value);
        let longest =
            self.span.iter().map(|s| s.value).chain(listed).fold(Length::ZERO, Length::max);
        if longest > Length::ZERO { longest } else { self.length() }
    }

    /// Whether a place is on a cantilever or an overhang.
    #[must_use]
    pub fn is_free(&self, x: Length) -> bool {
        self.span_at(x).1
    }

    /// The span that holds a place, or the overhang, as a cantilever.
    #[must_use]
    pub fn span_at(&self, x: Length) -> (Length, bool) {
        let supports = self.line().held();
        let left = supports.iter().map(|s| s.at).rfind(|at| *at <= x);
        let right = supports.iter().map(|s| s.at).find(|at| *at > x);
        match (left, right) {
            (Some(a), Some(b)) => (b - a, false),
            // at the last support of a member that ends there: the span before it
            (Some(a), None) if a >= self.length() && supports.len() > 1 => {
                let before = supports.iter().rev().nth(1).map_or(Length::ZERO, |s| s.at);
                (a - before, false)
            }
            (Some(a), None) => (self.length() - a, true),
            (None, b) => (b.unwrap_or_else(|| self.length()), true),
        }
    }

    /// The supports from left to right.
    #[must_use]
    pub fn held(&self) -> Vec<Support> {
        self.line().held().into_vec()
    }

    /// Whether equilibrium alone gives the reactions: known of a cantilever, and of others where
    /// their ends are shown free to turn.
    #[must_use]
    pub fn determinate(&self, ends_turn: bool) -> Option<bool> {
        if self.kind == BeamKind::Cantilever {
            return Some(true);
        }
        let more = redundant(&self.line().held(), self.hinges.len());
        if more { Some(false) } else { ends_turn.then_some(true) }
    }

    /// Whether both predictions differ by one factor throughout: one section, nothing that gives way.
    #[must_use]
    pub fn proportional(&self) -> bool {
        let gives = |s: &SupportSpec| s.stiffness.is_some() || s.rotational.is_some();
        self.stretches.is_empty() && !self.supports.iter().any(gives)
    }

    /// The depth of the section at a place.
    #[must_use]
    pub fn depth_at(&self, x: Length) -> Length {
        let here = self.stretches.iter().filter(|s| s.from.value <= x);
        let own = here.filter_map(|s| s.depth.as_ref()).next_back();
        own.unwrap_or(&self.depth).value
    }

    /// The effective depth of the section at a place, where it is known.
    #[must_use]
    pub fn effective_depth_at(&self, x: Length) -> Option<Length> {
        let here = self.stretches.iter().filter(|s| s.from.value <= x);
        let own = here.filter_map(|s| s.effective_depth.as_ref()).next_back();
        own.or(self.effective_depth.as_ref()).map(|d| d.value)
    }

    /// The beam of one of the two predictions.
    ///
    /// # Errors
    /// A length or EI that is not above zero, a support, hinge or stretch beyond the member, a
    /// member that would fall: all at once.
    pub fn beam(&self, stiffness: Stiffness) -> Result<Beam, Error> {
        let of = |soft: &Rigidity, stiff: &Rigidity| match stiffness {
            Stiffness::Soft => soft.value(),
            Stiffness::Stiff => stiff.value(),
        };
        let stretches = self.stretches.iter().map(|s| (s.from.value, of(&s.soft, &s.stiff)));
        let rigidity = [(Length::ZERO, of(&self.soft, &self.stiff))].into_iter().chain(stretches);
        let beam = Beam::of(self.length(), self.line().held(), rigidity)?;
        if self.hinges.is_empty() {
            return Ok(beam);
        }
        beam.with_hinges(self.hinges.iter().map(|h| h.value).collect())
    }
}
