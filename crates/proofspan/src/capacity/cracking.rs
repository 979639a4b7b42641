//! The moment at which a section cracks, at either face.
//!
//! Gross or transformed sections only: an effective second moment has no meaning for a cracking
//! stress. All moments are total, with what is in place.

use super::flexure::FlexureCode;
use super::material::{Concrete, StrengthSet};
use super::outline::Properties;
use super::section::{Cut, Face};
use crate::error::{Error, Issue, slug};
use crate::formula::Recorder;
use crate::source::Given;
use crate::source::rule::NotNegative;
use crate::units::{Force, Length, MPA, Moment, PSI, Ratio, SectionModulus, Stress};

crate::laws! {
    /// Flexural tensile strength, in psi from psi.
    pub fn rupture_psi(lambda: f64 as "lambda", fc: f64 as "f'c [psi]") -> f64 as "f_r [psi]" = 7.5 * lambda * sqrt(fc);
    source "ACI 318, modulus of rupture, US units";
    /// Flexural tensile strength, in MPa from MPa.
    pub fn rupture_mpa(lambda: f64 as "lambda", fc: f64 as "f'c [MPa]") -> f64 as "f_r [MPa]" = 0.62 * lambda * sqrt(fc);
    source "ACI 318, modulus of rupture, SI units: 0.4 % below the US form";
    /// Mean axial tensile strength, in MPa from MPa, up to C50.
    pub fn mean_tension(fck: f64 as "f_ck [MPa]") -> f64 as "f_ctm [MPa]" = 0.30 * pow(fck, 2.0 / 3.0);
    source "EN 1992-1-1:2004, mean tensile strength up to C50/60";
    /// Mean flexural tensile strength from the axial one; the depth in mm.
    pub fn mean_flexural_tension(fctm: f64 as "f_ctm [MPa]", h: f64 as "h [mm]") -> f64 as "f_ctm,fl [MPa]" = max(1.6 - h / 1000.0, 1.0) * fctm;
    source "EN 1992-1-1:2004, mean flexural tensile strength";
    /// Total moment at which a face comes to zero stress.
    pub fn decompression(s: SectionModulus as "S", mean: Stress as "f_pc", p: Force as "P_e", e: Length as "e") -> Moment as "M_dec" = s * mean + p * e;
    source "M_dec = S P_e/A + P_e e; e towards the face in tension, f_pc = P_e/A";
    /// Total moment at which a face cracks.
    pub fn cracking_moment(dec: Moment as "M_dec", s: SectionModulus as "S", fr: Stress as "f_r") -> Moment as "M_cr" = dec + s * fr;
    source "M_cr = S (f_r + P_e/A + P_e e/S)";
    /// Moment on the whole section at which the lower face cracks that had its share before the topping acted.
    pub fn staged_cracking(before: Moment as "M_1", s: SectionModulus as "S_c", free: Stress as "f_r - f_1") -> Moment as "M_cr" = before + s * free;
    source "stresses stage by stage: what is free at the face when the topping begins to act, on the whole section";
}

crate::choice! {
    /// By which formula the flexural tensile strength follows from the compressive one.
    pub enum CrackingRule ("rule of cracking", source::SOURCE_CHOICE) {
        /// The form for psi.
        AciPsi = "ACI 318-19, psi",
        /// The form for MPa.
        AciMpa = "ACI 318-19, MPa",
        /// The mean flexural strength; of both sets, because it is a mean of its specified strength.
        En = "EN 1992-1-1:2004",
    }
}

crate::record! {
    /// How sure the tensile strength and the prestress are, as standard uncertainties relative to them.
    pub struct Scatter {
        /// Of the flexural tensile strength.
        tension: Given<Ratio, NotNegative>,
        /// Of the effective prestress.
        prestress: Given<Ratio, NotNegative> = Given::known(Ratio::ZERO),
    }
}

/// A flexural tensile strength and where it comes from.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct TensileStrength {
    /// The strength, zero of a section that is cracked.
    pub strength: Stress,
    /// Where it comes from.
    pub source: &'static str,
}

crate::answer! {
    /// When one face cracks: total moments, positive sagging.
    pub struct Cracking {
        /// The face in tension.
        face: Face,
        /// The set of strengths.
        set: StrengthSet,
        /// Flexural tensile strength; zero of a section that is cracked.
        strength: Stress,
        /// Where that comes from: formula of an edition, measured, or the reason why it is zero.
        by: String,
        /// Total moment at which the face comes to zero stress.
        decompression: Moment,
        /// Total moment at which it cracks.
        moment: Moment,
        /// Standard uncertainty of that moment, where the scatter is given.
        uncertainty: Option<Moment>,
    }
}

impl CrackingRule {
    /// The largest strength as specified that the formula covers; nothing where it has no end here.
    pub(super) const fn most(self) -> Option<Stress> {
        match self {
            Self::AciPsi | Self::AciMpa => None,
            Self::En => Some(Stress::from_si(50e6)),
        }
    }

    /// The mean axial tensile strength by EN 1992-1-1:2004; nothing beyond C50/60.
    pub(super) fn axial<R: Recorder>(recorder: &mut R, concrete: &Concrete) -> Option<Stress> {
        let fck = concrete.strength.of(StrengthSet::Design);
        let covered = Self::En.most().is_none_or(|most| fck <= most);
        covered.then(|| mean_tension(recorder, fck.to(MPA)) * MPA)
    }

    /// The edition of flexure that goes with the formula, where none is asked for.
    pub(super) const fn flexure(self) -> FlexureCode {
        match self {
            Self::AciPsi | Self::AciMpa => FlexureCode::Aci,
            Self::En => FlexureCode::En,
        }
    }

    /// The flexural tensile strength of a concrete in a section of this depth: measured where it was.
    ///
    /// # Errors
    /// `capacity.out-of-range` for a strength beyond the formula.
    pub fn strength<R: Recorder>(
        self,
        recorder: &mut R,
        concrete: &Concrete,
        set: StrengthSet,
        depth: Length,
    ) -> Result<TensileStrength, Error> {
        if let Some(measured) = &concrete.tension {
            return Ok(TensileStrength { strength: measured.value, source: "measured" });
        }
        let lambda = concrete.lightweight.value.value();
        let strength = match self {
            Self::AciPsi => rupture_psi(recorder, lambda, concrete.strength.of(set).to(PSI)) * PSI,
            Self::AciMpa => rupture_mpa(recorder, lambda, concrete.strength.of(set).to(MPA)) * MPA,
            Self::En => {
                let fck = concrete.strength.of(StrengthSet::Design);
                if self.most().is_some_and(|most| fck > most) {
                    let message = "the formula of the mean tensile strength ends at C50/60";
                    let issue =
                        Issue::new(slug::CAPACITY_OUT_OF_RANGE, "concrete.strength", message);
                    return Err(issue.value(fck).limit("up to 50 MPa").into());
                }
                let axial = mean_tension(recorder, fck.to(MPA));
                mean_flexural_tension(recorder, axial, depth.si() * 1000.0) * MPA
            }
        };
        let source = self.word();
        Ok(TensileStrength { strength, source })
    }
}

/// What the cracking of a section is asked by.
#[derive(Clone, Copy, Debug)]
pub struct CrackingQuestion<'a> {
    /// The formula of the tensile strength.
    pub rule: CrackingRule,
    /// The set of strengths.
    pub set: StrengthSet,
    /// Why the section is taken as cracked already; direct evidence, it goes before the formula.
    pub cracked: Option<&'a str>,
    /// How sure strength and prestress are.
    pub scatter: Option<&'a Scatter>,
    /// Total moment that acted before the topping did.
    pub before: Moment,
}

impl CrackingQuestion<'_> {
    /// By a rule and a set of strengths, on a section that is not known to be cracked.
    #[must_use]
    pub const fn of(rule: CrackingRule, set: StrengthSet) -> Self {
        Self { rule, set, cracked: None, scatter: None, before: Moment::ZERO }
    }
}

impl Cut {
    /// When a face of the section cracks, on its gross section; of a section with a topping the lower
    /// face, stage by stage, and the upper face of the topping.
    ///
    /// # Errors
    /// `capacity.cracked-reason` without a reason, `capacity.out-of-range`, `capacity.modulus`.
    pub fn cracking<R: Recorder>(
        &self,
        recorder: &mut R,
        face: Face,
        asked: CrackingQuestion<'_>,
    ) -> Result<Cracking, Error> {
        let alone = self.before_topping();
        let own = alone.gross()?;
        let whole = self.gross()?;
        let upper = self.topping.as_ref().filter(|_| face == Face::Top).map(|l| &l.concrete);
        let concrete = upper.unwrap_or(&self.concrete);
        let (strength, by) = match asked.cracked {
            Some(reason) if reason.trim().is_empty() => {
                let message = "a section is taken as cracked for a reason";
                return Err(Issue::new(slug::CAPACITY_CRACKED_REASON, "cracked", message).into());
            }
            Some(reason) => (Stress::ZERO, format!("already cracked: {reason}")),
            None => {
                let found = asked.rule.strength(recorder, concrete, asked.set, self.height())?;
                (found.strength, found.source.to_owned())
            }
        };
        let force = alone.prestress_force();
        let down = alone.prestress_depth().map_or(Length::ZERO, |d| d - own.centroid);
        // the section in units of what carries the face
        let (modulus, towards): (fn(&Properties) -> SectionModulus, f64) = match face {
            Face::Bottom => (|p| p.bottom, 1.0),
            Face::Top => (|p| p.top, -1.0),
        };
        let mean = Stress::over(force, own.area);
        let e = down * towards;
        let (dec, moment, sensitivity) = if self.topping.is_none() {
            let s = modulus(&own);
            let dec = decompression(recorder, s, mean, force, e);
            (dec, cracking_moment(recorder, dec, s, strength), (s, dec))
        } else if face == Face::Bottom {
            let s = modulus(&whole);
            // tension positive; what the first stage left at the face
            let first = self.stresses(asked.before, Moment::ZERO)?.bottom;
            let dec = staged_cracking(recorder, asked.before, s, -first);
            let squeezed = self.stresses(Moment::ZERO, Moment::ZERO)?.bottom;
            let part = s * -squeezed;
            (dec, staged_cracking(recorder, asked.before, s, strength - first), (s, part))
        } else {
            // the topping knows nothing of the prestress nor of what acted before it
            let s = modulus(&whole) / self.ratio()?;
            let none = Force::ZERO;
            let dec = decompression(recorder, s, Stress::ZERO, none, Length::ZERO);
            let dec = dec - asked.before;
            (dec, cracking_moment(recorder, dec, s, strength), (s, Moment::ZERO))
        };
        let uncertainty = asked.scatter.map(|scatter| {
            let tension = (sensitivity.0 * strength).si() * scatter.tension.value.value();
            let prestress = sensitivity.1.si() * scatter.prestress.value.value();
            Moment::from_si(tension.hypot(prestress))
        });
        Ok(Cracking {
            face,
            set: asked.set,
            strength,
            by,
            decompression: dec * towards,
            moment: moment * towards,
            uncertainty,
        })
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;
    use crate::capacity::{ConcreteStrength, Section, Shape};
    use crate::formula::NoRecord;
    use crate::units::{IN, KIP, KSI, M};

    fn plain(width: Length, height: Length, fc: Stress, rule: CrackingRule) -> Cracking {
        let concrete = Concrete::of(ConcreteStrength::specified(fc));
        let section = Section::of(Shape::rectangle(width, height), concrete);
        let asked = CrackingQuestion::of(rule, StrengthSet::Design);
        section
            .cut(Length::ZERO, 1.0 * M)
            .unwrap()
            .cracking(&mut NoRecord, Face::Bottom, asked)
            .unwrap()
    }

    fn near(moment: Moment, want: f64, unit: f64) {
        assert!(
            (moment.si() / unit - want).abs() <= 5e-9 * want.abs() + 5e-7,
            "{} {want}",
            moment.si() / unit
        );
    }

    /// Rectangles of plain concrete, worked twice with a pencil.
    #[test]
    fn rectangles_crack_where_the_formulas_say() {
        let kip_ft = 4448.2216152605 * 0.3048;
        near(
            plain(12.0 * IN, 24.0 * IN, 4000.0 * PSI, CrackingRule::AciPsi).moment,
            45.536798,
            kip_ft,
        );
        near(plain(0.3 * M, 0.6 * M, 30.0 * MPA, CrackingRule::AciMpa).moment, 61.125838, 1e3);
        near(plain(0.3 * M, 0.6 * M, 30.0 * MPA, CrackingRule::En).moment, 52.136427, 1e3);
        let slab = plain(1.0 * M, 0.2 * M, 30.0 * MPA, CrackingRule::En);
        near(slab.moment, 27.033703, 1e3);
        assert!((slab.strength.to(MPA) - 4.055055).abs() < 5e-7);
        // the two forms of one formula: 7.5 sqrt(psi) against 0.62 sqrt(MPa)
        let us = plain(0.3 * M, 0.6 * M, 30.0 * MPA, CrackingRule::AciPsi).moment;
        let si = plain(0.3 * M, 0.6 * M, 30.0 * MPA, CrackingRule::AciMpa).moment;
        let metric = 7.5 * 0.006_894_757_293_f64.sqrt() / 0.62;
        assert!((us / si - metric).abs() < 1e-9, "{} {metric}", us / si);
    }

    /// A strip with a draped tendon: S 5360/3 in³, A 584 in², 230 kip at 1282/225 in, f'c 3000 psi:
    /// 229.008 kip·ft; with S 1080 in³ 181.624, and zero stress at 144.653 kip·ft.
    #[test]
    fn a_prestressed_strip_cracks_where_it_was_worked_out() {
        let kip_ft = 4448.2216152605 * 0.3048;
        let p = 230.0 * KIP;
        let mean = (230.0 / 584.0) * KSI;
        let e = (1282.0 / 225.0) * IN;
        let fr = rupture_psi(&mut NoRecord, 1.0, 3000.0) * PSI;
        let inch3 = 0.0254_f64.powi(3);
        let of = |s: f64| {
            let s = SectionModulus::from_si(s * inch3);
            let dec = decompression(&mut NoRecord, s, mean, p, e);
            (dec.si() / kip_ft, cracking_moment(&mut NoRecord, dec, s, fr).si() / kip_ft)
        };
        assert!((of(5360.0 / 3.0).1 - 229.008).abs() < 5e-4);
        assert!((of(1080.0).1 - 181.624).abs() < 5e-4);
        assert!((of(1080.0).0 - 144.653).abs() < 5e-4);
    }
}
