//! Does a spreader or reaction beam buckle sideways? The elastic critical moment of a beam of constant
//! doubly symmetric section whose ends cannot move sideways or roll, then what the chosen formula makes of it.
//!
//! `M_cr = C_1 (π² E I_z/L) (√((h_0/2L)² + G I_t/(π² E I_z) + (C_2 z_g/L)²) − C_2 z_g/L)`, warping by the
//! distance of the flanges, `I_w = I_z h_0²/4`, G = E/2.6. Between its ends under a force in its middle
//! C_1 = 1.35 and C_2 = 0.59; between places where it is held C_1 is 1, as under uniform moment, or as
//! given. The larger counts, for holding a beam at further places never weakens it. A fact that is left out
//! takes the unfavourable side: no warping, the force on the upper face, no plastic reserve, no length within
//! which it yields before it buckles.

use super::reaction::GearLength;
use crate::beam::{Inertia, MemberModulus};
use crate::error::{Issue, slug};
use crate::formula::Recorder;
use crate::source::rule::{AtLeastOne, Movement, Positive};
use crate::source::{Given, Reader};
use crate::units::{
    Curvature, FlexuralRigidity, Length, Message, Moment, Ratio, SecondMoment, SectionModulus,
    Stress,
};

crate::rule! {
    /// A factor for the shape of a moment diagram between places where a beam is held: from 1, a uniform
    /// one, to 3 (library rule).
    pub MomentShape { least 1.0 SOURCE_BELOW_ONE, most 3.0 SOURCE_MAGNITUDE }
    /// A yield stress of steel; outside, the unit is wrong (100 MPa to 1500 MPa, library rule).
    pub SteelYields { above 0.0 SOURCE_SIGN, least 1e8 SOURCE_MAGNITUDE, most 1.5e9 SOURCE_MAGNITUDE }
}

crate::choice! {
    /// By which formula a beam buckles sideways. That of AISC 360, section F2, is the same in the three
    /// editions named.
    pub enum LateralFormula ("formula of lateral buckling", source::SOURCE_CHOICE) {
        /// AISC 360-10, F2, with its resistance factor 0.90 at least.
        Aisc10 = "AISC 360-10",
        /// AISC 360-16, F2.
        Aisc16 = "AISC 360-16",
        /// AISC 360-22, F2.
        Aisc22 = "AISC 360-22",
        /// EN 1993-1-1:2005, 6.3.2.2, by one of its curves.
        En = "EN 1993-1-1:2005",
    }
}

crate::choice! {
    /// A curve of lateral buckling, EN 1993-1-1, table 6.3.
    pub enum LateralCurve ("curve of lateral buckling", source::SOURCE_CHOICE) {
        /// Imperfection factor 0.21: rolled, height up to twice the width.
        A = "a",
        /// 0.34: rolled, higher.
        B = "b",
        /// 0.49: welded, height up to twice the width.
        C = "c",
        /// 0.76: all others.
        D = "d",
    }
}

impl LateralCurve {
    /// Its imperfection factor (EN 1993-1-1:2005, table 6.3, as public articles print it).
    #[must_use]
    pub const fn imperfection(self) -> f64 {
        match self {
            Self::A => 0.21,
            Self::B => 0.34,
            Self::C => 0.49,
            Self::D => 0.76,
        }
    }
}

crate::record! {
    /// What is known of a beam of the rig that may buckle sideways.
    pub struct Sideways {
        /// The formula.
        formula: LateralFormula,
        /// The curve of EN 1993-1-1 that section and make have.
        curve: Option<LateralCurve>,
        /// Whether its ends cannot move sideways and cannot roll over: without it nothing is computed.
        ends_held: bool = false,
        /// Longest distance of places between which it is held sideways and against rolling; its span where
        /// it is left out.
        unbraced: Option<Given<Length, GearLength>>,
        /// Factor for the shape of the moment between these places; 1 is uniform.
        shape: f64 where MomentShape = 1.0,
        /// Modulus of elasticity.
        modulus: Given<Stress, MemberModulus>,
        /// Yield stress.
        yields: Given<Stress, SteelYields>,
        /// Second moment of area about the weak axis.
        weak: Given<SecondMoment, Inertia>,
        /// Torsion constant.
        torsion: Given<SecondMoment, Inertia>,
        /// Elastic section modulus.
        elastic: Given<SectionModulus, Positive>,
        /// Plastic section modulus, of a section that is compact (class 1 or 2); the elastic one counts where
        /// it is left out.
        plastic: Option<Given<SectionModulus, Positive>>,
        /// Its height.
        depth: Given<Length, GearLength>,
        /// Between the middles of its flanges; without it no warping is counted.
        flanges: Option<Given<Length, GearLength>>,
        /// Radius of gyration about the weak axis; AISC 360 only.
        radius: Option<Given<Length, GearLength>>,
        /// How far the force stands above the middle of the section; its upper face where it is left out.
        above: Option<Given<Length, Movement>>,
        /// Material factor.
        material_factor: Ratio where AtLeastOne = Ratio::from_si(1.0),
    }
    rules {
        curve_fits[formula, curve];
        flanges_within[depth, flanges];
        plastic_is_more[elastic, plastic];
    }
}

fn curve_fits(reader: &mut Reader, formula: &LateralFormula, curve: &Option<LateralCurve>) {
    if (*formula == LateralFormula::En) != curve.is_some() {
        let path = reader.path_of("curve");
        let message =
            "a curve without the formula that has curves, or that formula without its curve";
        let issue = Issue::new(slug::RIG_BEAM_SECTION, path, message).value(formula.word());
        reader.push(issue.limit("a curve with EN 1993-1-1:2005, and with it alone"));
    }
}

fn flanges_within(
    reader: &mut Reader,
    depth: &Given<Length, GearLength>,
    flanges: &Option<Given<Length, GearLength>>,
) {
    if let Some(flanges) = flanges.as_ref().filter(|f| f.value >= depth.value) {
        let path = reader.path_of("flanges");
        let message = "the middles of the flanges lie farther apart than the beam is high";
        let issue = Issue::new(slug::RIG_BEAM_SECTION, path, message).value(flanges.said());
        reader.push(issue.limit(Message::new("below {}", [depth.said()])));
    }
}

fn plastic_is_more(
    reader: &mut Reader,
    elastic: &Given<SectionModulus, Positive>,
    plastic: &Option<Given<SectionModulus, Positive>>,
) {
    let most = elastic.value * 2.0;
    let fits = |p: &&Given<SectionModulus, Positive>| p.value < elastic.value || p.value > most;
    if let Some(plastic) = plastic.as_ref().filter(fits) {
        let path = reader.path_of("plastic");
        let message = "a plastic section modulus that does not fit the elastic one";
        let issue = Issue::new(slug::RIG_BEAM_SECTION, path, message).value(plastic.said());
        reader.push(issue.limit(Message::new("1 to 2 times {}", [elastic.said()])));
    }
}

crate::laws! {
    /// Elastic critical moment of a beam that buckles sideways.
    pub fn critical_moment(c1: f64 as "C_1", ei: FlexuralRigidity as "E I_z", bow: Curvature as "pi^2/L", warp: f64 as "h_0/2L", twist: f64 as "G I_t/(pi^2 E I_z)", lift: f64 as "C_2 z_g/L") -> Moment as "M_cr" = c1 * (ei * bow) * (sqrt(warp * warp + twist + lift * lift) - lift);
    source "SN003 (NCCI to EN 1993-1-1), k = k_w = 1; C_1 1.35, C_2 0.59 for a force in the middle: Steel Buildings in Europe, part 10, table 5.1";
    /// Moment at which a section yields: in its extreme fibre, or all of it.
    pub fn section_yields(fy: Stress as "f_y", w: SectionModulus as "W") -> Moment as "M_y" = fy * w;
    source "definition";
    /// Slenderness of a beam that may buckle sideways.
    pub fn lateral_slenderness(my: Moment as "M_y", mcr: Moment as "M_cr") -> f64 as "lambda" = sqrt(my / mcr);
    source "EN 1993-1-1 6.3.2.2";
    /// Help value of a curve of lateral buckling.
    pub fn lateral_phi(alpha: f64 as "alpha", lambda: f64 as "lambda") -> f64 as "Phi" = 0.5 * (1.0 + alpha * (lambda - 0.2) + lambda * lambda);
    source "EN 1993-1-1 6.3.2.2";
    /// Characteristic moment at which a beam buckles sideways.
    pub fn lateral_moment(my: Moment as "M_y", phi: f64 as "Phi", lambda: f64 as "lambda") -> Moment as "M_b" = my * min(1.0, 1.0 / (phi + sqrt(phi * phi - lambda * lambda)));
    source "EN 1993-1-1 6.3.2.1 and 6.3.2.2";
    /// Length up to which a beam yields before it buckles sideways.
    pub fn plastic_length(ry: Length as "r_y", e: Stress as "E", fy: Stress as "f_y") -> Length as "L_p" = 1.76 * ry * sqrt(e / fy);
    source "AISC 360 F2-5";
    /// Length from which a beam buckles sideways while it is elastic: there its critical moment is 0.7 f_y S.
    pub fn elastic_length(s: Length as "s", m: f64 as "0.7 f_y S/(pi^2 E I_z/s)", warp: f64 as "h_0/2s", twist: f64 as "G I_t/(pi^2 E I_z)") -> Length as "L_r" = s / sqrt(2.0 * m * m / (twist + sqrt(twist * twist + 4.0 * warp * warp * m * m)));
    source "AISC 360 F2-6, of a doubly symmetric section";
    /// Factor for the shape of the moment: critical moment over that under uniform moment.
    pub fn moment_factor(mcr: Moment as "M_cr", uniform: Moment as "M_cr,0") -> f64 as "C_b" = mcr / uniform;
    source "definition, AISC 360 F1; where the force stands above the middle below its table";
    /// Nominal moment between these lengths.
    pub fn inelastic_moment(cb: f64 as "C_b", mp: Moment as "M_p", my: Moment as "f_y S", l: Length as "L_b", lp: Length as "L_p", lr: Length as "L_r") -> Moment as "M_n" = min(mp, cb * (mp - (mp - 0.7 * my) * ((l - lp) / (lr - lp))));
    source "AISC 360 F2-2";
    /// Nominal moment of a beam that is longer, or that yields before it buckles.
    pub fn capped_moment(m: Moment as "M_cr", mp: Moment as "M_p") -> Moment as "M_n" = min(mp, m);
    source "AISC 360 F2-1 and F2-3";
    /// Design moment.
    pub fn held_moment(m: Moment as "M_n", gamma: f64 as "gamma_M") -> Moment as "M_Rd" = m / gamma;
    source "definition";
}

/// Factors of a force in the middle of a beam (Steel Buildings in Europe, part 10, table 5.1).
const MIDDLE: f64 = 1.35;
/// By how much its height counts.
const HEIGHT: f64 = 0.59;
/// E over G of steel.
const SHEAR: f64 = 2.6;
/// Resistance factor in bending, AISC 360 F1.
const AISC_PHI: f64 = 0.90;
const PI: f64 = core::f64::consts::PI;

impl Sideways {
    /// The moment that the beam takes before it buckles sideways, material factor included: between its
    /// ends, or between the places where it is held, whichever is more.
    pub(super) fn takes<R: Recorder>(&self, recorder: &mut R, span: Length) -> Moment {
        let whole = self.over(recorder, span, self.shape.max(MIDDLE));
        let held = self.unbraced.as_ref().map(|l| l.value).filter(|l| *l < span);
        let most = match held {
            Some(held) => whole.max(self.over(recorder, held, self.shape)),
            None => whole,
        };
        let factor = self.material_factor.value();
        let factor = match self.formula {
            LateralFormula::En => factor,
            _ => factor.max(AISC_PHI.recip()),
        };
        held_moment(recorder, most, factor)
    }

    /// The same over one length, without a factor.
    fn over<R: Recorder>(&self, recorder: &mut R, l: Length, c1: f64) -> Moment {
        let (e, fy) = (self.modulus.value, self.yields.value);
        let ei = e * self.weak.value;
        let twist = self.torsion.value / self.weak.value / SHEAR / (PI * PI);
        let h0 = self.flanges.as_ref().map_or(Length::ZERO, |f| f.value);
        let above = self.above.as_ref().map_or(self.depth.value / 2.0, |a| a.value);
        let bow = |l: Length| Curvature::from_si(PI * PI / l.si());
        let (warp, lift) = (h0 / (l * 2.0), above / l * HEIGHT);
        let critical = critical_moment(recorder, c1, ei, bow(l), warp, twist, lift);
        let plastic = self.plastic.as_ref().unwrap_or(&self.elastic).value;
        let full = section_yields(recorder, fy, plastic);
        if let (LateralFormula::En, Some(curve)) = (self.formula, self.curve) {
            let lambda = lateral_slenderness(recorder, full, critical);
            let phi = lateral_phi(recorder, curve.imperfection(), lambda);
            return lateral_moment(recorder, full, phi, lambda);
        }
        let first = section_yields(recorder, fy, self.elastic.value);
        let radius = self.radius.as_ref().map_or(Length::ZERO, |r| r.value);
        let lp = plastic_length(recorder, radius, e, fy);
        let m = first * 0.7 / (ei * bow(l));
        let lr = elastic_length(recorder, l, m, warp, twist).max(lp);
        if l >= lr {
            return capped_moment(recorder, critical, full);
        }
        let uniform = critical_moment(recorder, 1.0, ei, bow(l), warp, twist, 0.0);
        let cb = moment_factor(recorder, critical, uniform);
        inelastic_moment(recorder, cb, full, first, l.max(lp), lp, lr)
    }
}
