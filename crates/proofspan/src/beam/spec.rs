//! The beam as a document describes it.

use super::model::{Beam, Support};
use crate::error::{Error, Issue, slug};
use crate::source::{Given, Reader};
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

crate::record! {
    /// A stiffness: modulus of elasticity and second moment of area.
    pub struct Rigidity {
        /// Modulus of elasticity.
        modulus: Given<Stress>,
        /// Second moment of area.
        second_moment: Given<SecondMoment>,
    }
    rules { plausible[modulus, second_moment]; }
}

crate::record! {
    /// The member as a line of spans, per member unit.
    pub struct BeamSpec {
        /// How it is held.
        kind: BeamKind,
        /// Centre to centre of bearings; of a cantilever, from the face of its support to its end.
        span: Given<Length>,
        /// Overhang left of the first bearing.
        left_overhang: Option<Given<Length>>,
        /// Overhang right of the last bearing.
        right_overhang: Option<Given<Length>>,
        /// Clear distance between the faces of the supports.
        clear_span: Option<Given<Length>>,
        /// Overall depth of the section.
        depth: Given<Length>,
        /// Distance of the tension steel from the compressed face.
        effective_depth: Option<Given<Length>>,
        /// Soft prediction: cracked or effective section, low modulus. For gap, stroke and range.
        soft: Rigidity,
        /// Stiff prediction: gross or transformed section, expected modulus. For stop limits.
        stiff: Rigidity,
    }
    rules {
        long_enough[span];
        deep_enough[depth];
        clear_inside[span, clear_span];
        overhangs_fit[kind, left_overhang, right_overhang];
        stiff_is_stiffer[soft, stiff];
    }
}

fn plausible(reader: &mut Reader, modulus: &Given<Stress>, second_moment: &Given<SecondMoment>) {
    reader.positive("modulus", modulus.value.into(), slug::BEAM_RIGIDITY_NONPOSITIVE);
    reader.positive("second_moment", second_moment.value.into(), slug::BEAM_RIGIDITY_NONPOSITIVE);
    let e = modulus.value.si();
    // 5 to 100 GPa holds every concrete; outside, the unit is wrong (psi for ksi, MPa for GPa)
    if e > 0.0 && !(5e9..=100e9).contains(&e) {
        let path = reader.path_of("modulus");
        reader.push(
            Issue::new(slug::BEAM_MAGNITUDE_MODULUS, path, "a modulus that no concrete has")
                .value(modulus.shown())
                .limit("5 GPa to 100 GPa (725 ksi to 14 500 ksi)"),
        );
    }
}

fn long_enough(reader: &mut Reader, span: &Given<Length>) {
    reader.positive("span", span.value.into(), slug::BEAM_LENGTH_NONPOSITIVE);
}

fn deep_enough(reader: &mut Reader, depth: &Given<Length>) {
    reader.positive("depth", depth.value.into(), slug::BEAM_LENGTH_NONPOSITIVE);
}

fn clear_inside(reader: &mut Reader, span: &Given<Length>, clear: &Option<Given<Length>>) {
    if let Some(clear) = clear {
        reader.positive("clear_span", clear.value.into(), slug::BEAM_LENGTH_NONPOSITIVE);
        if clear.value > span.value {
            let path = reader.path_of("clear_span");
            reader.push(
                Issue::new(slug::BEAM_CLEAR_SPAN, path, "the clear span is longer than the span")
                    .value(clear.shown())
                    .limit(format!("at most {}", span.shown())),
            );
        }
    }
}

fn overhangs_fit(
    reader: &mut Reader,
    kind: &BeamKind,
    left: &Option<Given<Length>>,
    right: &Option<Given<Length>>,
) {
    for (field, overhang) in [("left_overhang", left), ("right_overhang", right)] {
        if let Some(overhang) = overhang {
            reader.positive(field, overhang.value.into(), slug::BEAM_LENGTH_NONPOSITIVE);
            if *kind != BeamKind::Overhanging {
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
