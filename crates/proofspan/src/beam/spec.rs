//! The beam as a document describes it.

use super::model::{Beam, Support};
use crate::error::{Error, Issue, slug};
use crate::source::{Given, Input, Reader};
use crate::units::{FlexuralRigidity, Length, SecondMoment, Stress};

crate::choice! {
    /// How the member is held.
    pub enum BeamKind ("kind of beam", source::SOURCE_CHOICE) {
        /// Two bearings at its ends.
        Simple = "simple",
        /// Held at its left end, free at the right.
        Cantilever = "cantilever",
        /// Two bearings, one or both ends overhanging.
        Overhanging = "overhanging",
    }
}

crate::rule! {
    /// A span or a part of one: up to a kilometre (library rule).
    pub Span { above 0.0 BEAM_LENGTH_NONPOSITIVE, least 0.1 SOURCE_MAGNITUDE, most 1000.0 SOURCE_MAGNITUDE }
    /// An overhang or a clear distance: up to a kilometre (library rule).
    pub Part { above 0.0 BEAM_LENGTH_NONPOSITIVE, most 1000.0 SOURCE_MAGNITUDE }
    /// A depth of a section: one centimetre to a hundred metres (library rule).
    pub Depth { above 0.0 BEAM_LENGTH_NONPOSITIVE, least 0.01 SOURCE_MAGNITUDE, most 100.0 SOURCE_MAGNITUDE }
    /// A modulus that a concrete can have; outside, the unit is wrong: psi for ksi, MPa for GPa
    /// (5 GPa to 100 GPa, 725 ksi to 14 500 ksi, library rule).
    pub ConcreteModulus { above 0.0 BEAM_RIGIDITY_NONPOSITIVE, least 5e9 BEAM_MAGNITUDE_MODULUS, most 100e9 BEAM_MAGNITUDE_MODULUS }
    /// A second moment of area.
    pub Inertia { above 0.0 BEAM_RIGIDITY_NONPOSITIVE }
    /// A coefficient of thermal expansion, per kelvin: up to a thousandth (library rule).
    pub Expansion { above 0.0 SOURCE_SIGN, most 0.001 SOURCE_MAGNITUDE }
    /// A movement of a support, down or up: up to ten metres (library rule).
    pub Settled { least -10.0 SOURCE_MAGNITUDE, most 10.0 SOURCE_MAGNITUDE }
}

crate::record! {
    /// A stiffness: modulus of elasticity and second moment of area.
    pub struct Rigidity {
        /// Modulus of elasticity.
        modulus: Given<Stress, ConcreteModulus>,
        /// Second moment of area.
        second_moment: Given<SecondMoment, Inertia>,
    }
}

crate::record! {
    /// The member as a line of spans, per member unit.
    pub struct BeamSpec {
        /// How it is held.
        kind: BeamKind,
        /// Centre to centre of bearings; of a cantilever, from the face of its support to its end.
        span: Given<Length, Span>,
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
        clear_inside[span, clear_span];
        steel_inside[depth, effective_depth];
        overhangs_fit[kind, left_overhang, right_overhang];
        stiff_is_stiffer[soft, stiff];
    }
}

/// Between half the span (library rule: bearings as wide as that are a unit that slipped) and the span.
fn clear_inside(reader: &mut Reader, span: &Input<Length>, clear: &Option<Given<Length, Part>>) {
    if let Some(clear) = clear.as_ref().filter(|c| c.value < span.value / 2.0) {
        let path = reader.path_of("clear_span");
        let message = "the clear span is less than half the span";
        reader.push(
            Issue::new(slug::BEAM_CLEAR_SPAN, path, message)
                .value(clear.shown())
                .limit(format!("from half of {} to the whole", span.shown())),
        );
    }
    if let Some(clear) = clear.as_ref().filter(|c| c.value > span.value) {
        let path = reader.path_of("clear_span");
        reader.push(
            Issue::new(slug::BEAM_CLEAR_SPAN, path, "the clear span is longer than the span")
                .value(clear.shown())
                .limit(format!("at most {}", span.shown())),
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
                .value(effective.shown())
                .limit(format!("at most {}", depth.shown())),
        );
    }
}

fn overhangs_fit(
    reader: &mut Reader,
    kind: &BeamKind,
    left: &Option<Given<Length, Part>>,
    right: &Option<Given<Length, Part>>,
) {
    for (field, overhang) in [("left_overhang", left), ("right_overhang", right)] {
        if overhang.is_some() && *kind != BeamKind::Overhanging {
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
            .limit(format!("at least {a}")),
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

impl BeamSpec {
    /// Where the first bearing stands, from the left end of the beam.
    #[must_use]
    pub fn first_bearing(&self) -> Length {
        self.left_overhang.as_ref().map_or(Length::ZERO, |o| o.value)
    }

    /// The whole length, overhangs included.
    #[must_use]
    pub fn length(&self) -> Length {
        let right = self.right_overhang.as_ref().map_or(Length::ZERO, |o| o.value);
        self.first_bearing() + self.span.value + right
    }

    /// The beam with the given EI throughout.
    ///
    /// # Errors
    /// A length or EI that is not above zero.
    pub fn beam(&self, rigidity: FlexuralRigidity) -> Result<Beam, Error> {
        let first = self.first_bearing();
        let supports = match self.kind {
            BeamKind::Cantilever => vec![Support::fixed(Length::ZERO)],
            BeamKind::Simple | BeamKind::Overhanging => {
                vec![Support::bearing(first), Support::bearing(first + self.span.value)]
            }
        };
        Beam::new(self.length(), supports, vec![(Length::ZERO, rigidity)])
    }
}
