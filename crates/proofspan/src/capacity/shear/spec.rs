//! What is asked about a section in one-way shear.

use crate::capacity::material::{ConcreteStress, Lightweight, SteelStress};
use crate::capacity::shape::Size;
use crate::source::Given;
use crate::source::rule::{AtLeastOne, NotNegative, Positive, Share};
use crate::units::{
    Area, Force, Length, Moment, Ratio, SecondMoment, SectionModulus, Stress, Volume,
};
use crate::verdict::MemberUnit;

/// Below this clear distance over the effective depth a load goes into the bearing (library rule).
pub(crate) const STRAIGHT_INTO_BEARING: f64 = 0.5;
/// Below this one a strut carries part of it.
pub(crate) const STRUT_CARRIES: f64 = 2.0;
/// Below this one a note says so.
pub(crate) const STRUT_NOTED: f64 = 2.5;

crate::choice! {
    /// By which formulas a shear strength is predicted.
    pub enum ShearEdition ("edition", source::SOURCE_CHOICE) {
        /// ACI 318-19, constants of pounds and inches.
        Aci = "ACI 318-19",
        /// ACI 318M-19, constants of newtons and millimetres.
        AciMetric = "ACI 318M-19",
        /// EN 1992-1-1:2004, recommended values.
        En2004 = "EN 1992-1-1:2004",
        /// EN 1992-1-1:2023, without stirrups; known with moderate confidence.
        En2023 = "EN 1992-1-1:2023",
    }
}

crate::rule! {
    /// cot θ of the struts of EN 1992-1-1:2004.
    pub StrutSlope { least 1.0 SOURCE_MAGNITUDE, most 2.5 SOURCE_MAGNITUDE }
    /// A strength reduction factor: above zero, up to one.
    pub Reduction { above 0.0 SOURCE_SHARE, most 1.0 SOURCE_SHARE }
}

crate::record! {
    /// Vertical stirrups.
    pub struct Stirrups {
        /// Area of all legs at one place, per member unit.
        area: Given<Area, Positive>,
        /// Spacing along the member.
        spacing: Given<Length, Size>,
        /// Yield strength, specified.
        yields: Given<Stress, SteelStress>,
        /// Its mean; the specified one where it is left out, and a note says so.
        mean_yield: Option<Given<Stress, SteelStress>>,
        /// Whether they are at least the minimum of the edition; ACI 318 asks.
        minimum: Option<bool>,
    }
}

crate::record! {
    /// A prestressed member of ACI 318 by the approximate expression.
    pub struct Approximate {
        /// Area of the tendons.
        area: Given<Area, Positive>,
        /// Their stress after losses; zero for a member whose prestress is lost.
        effective: Given<Stress, NotNegative>,
        /// Their breaking strength.
        breaks: Given<Stress, SteelStress>,
        /// Yield strength of the tension steel beside them.
        steel_yield: Option<Given<Stress, SteelStress>>,
        /// Depth of the tendons.
        depth: Given<Length, Size>,
        /// Shear at the section, total.
        shear: Given<Force, NotNegative>,
        /// Moment that goes with it, total.
        moment: Given<Moment, Positive>,
    }
}

crate::record! {
    /// A prestressed section of ACI 318 by flexure-shear and web-shear cracking.
    pub struct Detailed {
        /// Depth of the tendons; 0.8 of the overall depth is used where that is more.
        depth: Given<Length, Size>,
        /// Overall depth.
        height: Given<Length, Size>,
        /// Section modulus of the face in tension, of the gross section.
        modulus: Given<SectionModulus, Positive>,
        /// Compression from the prestress after losses at that face, alone.
        at_face: Given<Stress, NotNegative>,
        /// Compression from the prestress after losses at the centroid, or at the joint of web and flange.
        at_centroid: Given<Stress, NotNegative>,
        /// Tension from the load in place at that face.
        dead_stress: Given<Stress, NotNegative>,
        /// Vertical part of the prestress after losses.
        vertical: Given<Force, NotNegative> = Given::known(Force::ZERO),
        /// Shear of the load in place.
        dead_shear: Given<Force, NotNegative>,
        /// Shear of what is added.
        added_shear: Given<Force, NotNegative>,
        /// Moment of what is added, that goes with it.
        added_moment: Given<Moment, Positive>,
        /// Whether the prestress carries at least 0.4 of the tension: A_ps f_se >= 0.4 (A_ps f_pu + A_s f_y).
        mostly_prestressed: bool,
    }
}

crate::record! {
    /// An end region without bending cracks, of EN 1992-1-1:2004 (6.4).
    pub struct Uncracked {
        /// Second moment of area of the gross section.
        second_moment: Given<SecondMoment, Positive>,
        /// First moment of what lies above the centroid, about it.
        first_moment: Given<Volume, Positive>,
        /// Tensile strength of the concrete, its lower fractile.
        tension: Given<Stress, Positive>,
        /// Its mean; the lower fractile where it is left out.
        mean_tension: Option<Given<Stress, Positive>>,
        /// Part of the prestress that has entered there, zero to one.
        entered: Given<Ratio, Share>,
    }
}

crate::variant! {
    /// How prestress enters a shear strength.
    pub enum Prestressed ("prestress") {
        /// ACI 318, approximate.
        Approximate(Approximate) = "approximate",
        /// ACI 318, flexure-shear and web-shear cracking.
        Detailed(Detailed) = "detailed",
        /// EN 1992-1-1:2004, end region without bending cracks.
        Uncracked(Uncracked) = "uncracked",
    }
}

crate::record! {
    /// One-way shear of one section, per member unit.
    ///
    /// ```
    /// use proofspan::capacity::shear::{ShearEdition, ShearStrength};
    /// use proofspan::units::*;
    ///
    /// // 12 in by 20 in, f'c 4000 psi, 1 % of steel, no stirrups: 8 λ_s ρ^(1/3) √f'c b d
    /// let found = ShearStrength::of(ShearEdition::Aci, 4000.0 * PSI, 12.0 * IN, 20.0 * IN, 2.4 * IN2).check()?;
    /// assert_eq!(found.expected.strength.to(LBF).round(), 21361.0);
    /// # Ok::<(), proofspan::error::Error>(())
    /// ```
    pub struct ShearStrength {
        /// By which formulas.
        code: ShearEdition,
        /// Concrete strength, specified.
        strength: Given<Stress, ConcreteStress>,
        /// Its mean; the specified one where it is left out, and a note says so.
        mean_strength: Option<Given<Stress, ConcreteStress>>,
        /// Width of all webs.
        width: Given<Length, Size>,
        /// Effective depth.
        depth: Given<Length, Size>,
        /// Area of the anchored tension steel.
        tension_steel: Given<Area, NotNegative>,
        /// Factor of lightweight concrete, λ of ACI 318.
        lightweight: Given<Ratio, Lightweight> = Given::known(Ratio::from_si(1.0)),
        /// Axial force, compression positive; of EN 1992-1-1 with the prestress, of ACI 318 without it.
        axial: Given<Force> = Given::known(Force::ZERO),
        /// Gross area, where there is an axial force.
        gross_area: Option<Given<Area, Positive>>,
        /// The stirrups.
        stirrups: Option<Stirrups>,
        /// Prestress.
        prestress: Option<Prestressed>,
        /// Strength reduction factor of shear, ACI 318: with it there is a design strength.
        phi: Option<Given<Ratio, Reduction>>,
        /// Partial factor of the concrete, EN 1992-1-1 (of shear in the edition of 2023): with it there is a design strength.
        gamma_c: Option<Given<Ratio, AtLeastOne>>,
        /// Partial factor of the steel, EN 1992-1-1.
        gamma_s: Option<Given<Ratio, AtLeastOne>>,
        /// Design strength of the concrete f_cd, where it is not the strength over its partial factor.
        design_strength: Option<Given<Stress, ConcreteStress>>,
        /// Lever arm; 0.9 of the effective depth where it is left out.
        lever_arm: Option<Given<Length, Size>>,
        /// cot θ of the struts; the one of the largest strength where it is left out.
        strut_slope: Option<Given<Ratio, StrutSlope>>,
        /// Factor of the compressed chord α_cw; asked of a member with stirrups in compression.
        chord_factor: Option<Given<Ratio, Positive>>,
        /// Least size of the coarsest aggregate, EN 1992-1-1:2023.
        aggregate: Option<Given<Length, Size>>,
        /// Yield strength of the tension steel, EN 1992-1-1:2023.
        steel_yield: Option<Given<Stress, SteelStress>>,
        /// Shear of the test at this section, total.
        test: Option<Given<Force, NotNegative>>,
        /// Clear distance from the edge of the bearing to the edge of the nearest load.
        clear: Option<Given<Length, NotNegative>>,
        /// Overall depth: ACI 318 counts what is near a bearing by twice of it.
        height: Option<Given<Length, Size>>,
        /// What one value is counted for.
        unit: MemberUnit = MemberUnit::Beam,
    }
}

impl ShearStrength {
    /// A section without stirrups and prestress.
    #[must_use]
    pub const fn of(
        code: ShearEdition,
        strength: Stress,
        width: Length,
        depth: Length,
        tension_steel: Area,
    ) -> Self {
        Self {
            code,
            strength: Given::known(strength),
            mean_strength: None,
            width: Given::known(width),
            depth: Given::known(depth),
            tension_steel: Given::known(tension_steel),
            lightweight: Given::known(Ratio::from_si(1.0)),
            axial: Given::known(Force::ZERO),
            gross_area: None,
            stirrups: None,
            prestress: None,
            phi: None,
            gamma_c: None,
            gamma_s: None,
            design_strength: None,
            lever_arm: None,
            strut_slope: None,
            chord_factor: None,
            aggregate: None,
            steel_yield: None,
            test: None,
            clear: None,
            height: None,
            unit: MemberUnit::Beam,
        }
    }

    /// The same with stirrups, at least the minimum of the edition or less.
    #[must_use]
    pub fn stirrups(self, area: Area, spacing: Length, yields: Stress, minimum: bool) -> Self {
        let stirrups = Stirrups {
            area: Given::known(area),
            spacing: Given::known(spacing),
            yields: Given::known(yields),
            mean_yield: None,
            minimum: Some(minimum),
        };
        Self { stirrups: Some(stirrups), ..self }
    }
}
