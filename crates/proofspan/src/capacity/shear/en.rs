//! One-way shear by EN 1992-1-1, in MPa and mm.

use super::governs::Governs;
use crate::formula::Recorder;
use crate::units::{Area, Force, Length, Moment, SecondMoment, Stress, Volume};

/// The stress that is one in the formulas.
pub(super) const MPA_UNIT: Stress = Stress::from_si(1e6);
/// The depth that the size effect is measured by.
const SIZE: Length = Length::from_si(0.2);

crate::laws! {
    /// Size effect.
    pub fn en_size(d: Length as "d", size: Length as "d_0") -> f64 as "k" = min(2.0, 1.0 + sqrt(size / d));
    source "EN 1992-1-1:2004 6.2.2(1)";
    /// Ratio of the anchored tension steel, up to its cap.
    pub fn en_ratio(a: Area as "A_sl", b: Length as "b_w", d: Length as "d") -> f64 as "rho_l" = min(0.02, a / (b * d));
    source "EN 1992-1-1:2004 6.2.2(1)";
    /// Compression by axial force and prestress, up to its cap; tension is negative.
    pub fn en_compression(n: Force as "N_Ed", a: Area as "A_c", fcd: Stress as "f_cd") -> Stress as "sigma_cp" = min(Stress::over(n, a), 0.2 * fcd);
    source "EN 1992-1-1:2004 6.2.2(1)";
    /// Compression by axial force and prestress.
    pub fn en_axial(n: Force as "N_Ed", a: Area as "A_c") -> Stress as "sigma_cp" = Stress::over(n, a);
    source "definition";
    /// Shear stress without stirrups.
    pub fn en_stress(unit: Stress as "u", gamma: f64 as "gamma_c", k: f64 as "k", rho: f64 as "rho_l", fck: Stress as "f_ck", sigma: Stress as "sigma_cp") -> Stress as "v" = unit * (0.18 / gamma * k * pow(100.0 * rho * (fck / unit), 1.0 / 3.0)) + 0.15 * sigma;
    source "EN 1992-1-1:2004 (6.2.a), recommended values";
    /// Its least value.
    pub fn en_least(unit: Stress as "u", k: f64 as "k", fck: Stress as "f_ck", sigma: Stress as "sigma_cp") -> Stress as "v_min" = unit * (0.035 * pow(k, 1.5) * sqrt(fck / unit)) + 0.15 * sigma;
    source "EN 1992-1-1:2004 (6.2.b), recommended values";
    /// Shear strength without stirrups, never below zero.
    pub fn en_concrete(v: Stress as "v", least: Stress as "v_min", b: Length as "b_w", d: Length as "d") -> Force as "V_Rd,c" = Force::of_stress(max(max(v, least), 0.0 * least), b * d);
    source "EN 1992-1-1:2004 6.2.2(1)";
    /// Shear strength of an end region without bending cracks.
    pub fn en_uncracked(i: SecondMoment as "I", b: Length as "b_w", s: Volume as "S", fctd: Stress as "f_ctd", alpha: f64 as "alpha_l", sigma: Stress as "sigma_cp") -> Force as "V_Rd,c" = Force::of_stress(fctd, b * (i / s)) * sqrt(1.0 + alpha * (sigma / fctd));
    source "EN 1992-1-1:2004 (6.4), the root divided by f_ctd";
    /// Lower fractile of the axial tensile strength.
    pub fn en_fractile(fctm: Stress as "f_ctm") -> Stress as "f_ctk,0.05" = 0.7 * fctm;
    source "EN 1992-1-1:2004 Table 3.1, from memory";
    /// Shear at which bending cracks the face, where the web holds until then.
    pub fn en_opens(v0: Force as "V_0", v: Force as "V_test", m: Moment as "M_open", m0: Moment as "M_0", mt: Moment as "M_test") -> Force as "V_open" = v0 + v * ((m - m0) / mt);
    source "statics: shear and moment of the test rise alike";
    /// Factor of cracked concrete in struts.
    pub fn en_nu(fck: Stress as "f_ck", unit: Stress as "u") -> f64 as "nu_1" = 0.6 * (1.0 - fck / unit / 250.0);
    source "EN 1992-1-1:2004 (6.6N)";
    /// Slope of the struts at which stirrups and struts carry the same, as flat as the code allows.
    pub fn en_cot(alpha: f64 as "alpha_cw", b: Length as "b_w", nu: f64 as "nu_1", fcd: Stress as "f_cd", a: Area as "A_sw", s: Length as "s", fywd: Stress as "f_ywd") -> f64 as "cot" = min(2.5, sqrt(max(1.0, alpha * nu * (b * s / a) * (fcd / fywd) - 1.0)));
    source "EN 1992-1-1:2004 6.2.3, V_Rd,s = V_Rd,max solved, 1 ≤ cot θ ≤ 2.5";
    /// Shear strength of vertical stirrups.
    pub fn en_stirrups(a: Area as "A_sw", s: Length as "s", z: Length as "z", fywd: Stress as "f_ywd", cot: f64 as "cot") -> Force as "V_Rd,s" = Force::of_stress(fywd, a * (z / s)) * cot;
    source "EN 1992-1-1:2004 (6.8)";
    /// Shear strength of the struts.
    pub fn en_struts(alpha: f64 as "alpha_cw", b: Length as "b_w", z: Length as "z", nu: f64 as "nu_1", fcd: Stress as "f_cd", cot: f64 as "cot") -> Force as "V_Rd,max" = Force::of_stress(fcd, b * z) * (alpha * nu / (cot + 1.0 / cot));
    source "EN 1992-1-1:2004 (6.9)";
    /// The lower of stirrups and struts, and what the concrete carries alone where that is more.
    pub fn en_strength(c: Force as "V_Rd,c", s: Force as "V_Rd,s", most: Force as "V_Rd,max") -> Force as "V_Rd" = max(c, min(s, most));
    source "EN 1992-1-1:2004 6.2.1 and 6.2.3";
    /// Size of the aggregate that counts.
    pub fn en_aggregate(size: Length as "D_lower", base: Length as "16 mm", most: Length as "40 mm") -> Length as "d_dg" = min(base + size, most);
    source "EN 1992-1-1:2023 8.2, from memory, moderate";
    /// Shear stress without stirrups.
    pub fn en_2023(unit: Stress as "u", gamma: f64 as "gamma_v", rho: f64 as "rho_l", fck: Stress as "f_ck", ddg: Length as "d_dg", d: Length as "d") -> Stress as "tau_Rd,c" = unit * (0.66 / gamma * pow(100.0 * rho * (fck / unit) * (ddg / d), 1.0 / 3.0));
    source "EN 1992-1-1:2023 8.2, from memory, moderate";
    /// Its least value.
    pub fn en_2023_least(unit: Stress as "u", gamma: f64 as "gamma_v", fck: Stress as "f_ck", fyd: Stress as "f_yd", ddg: Length as "d_dg", d: Length as "d") -> Stress as "tau_min" = unit * (11.0 / gamma * sqrt(fck / fyd * (ddg / d)));
    source "EN 1992-1-1:2023 8.2, from memory, moderate";
    /// Shear strength over the lever arm.
    pub fn en_2023_strength(t: Stress as "tau_Rd,c", least: Stress as "tau_min", b: Length as "b_w", z: Length as "z") -> Force as "V_Rd,c" = Force::of_stress(max(t, least), b * z);
    source "EN 1992-1-1:2023 8.2, z = 0.9 d";
}

/// A web in one-way shear, in plain values.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct EnWeb {
    /// Concrete strength f_ck, or its mean where a test is predicted.
    pub fck: Stress,
    /// Partial factor of the concrete; 1 where a test is predicted.
    pub gamma_c: f64,
    /// Design strength of the concrete.
    pub fcd: Stress,
    /// Web width.
    pub b: Length,
    /// Effective depth.
    pub d: Length,
    /// Lever arm.
    pub z: Length,
    /// Area of the anchored tension steel.
    pub tension: Area,
    /// Axial force with the prestress, compression positive.
    pub axial: Force,
    /// Area of the concrete section.
    pub gross: Area,
    /// Area of all legs of the stirrups at one place.
    pub asw: Area,
    /// Their spacing; infinite where there are none.
    pub spacing: Length,
    /// Their design yield strength.
    pub fywd: Stress,
    /// Factor of the stress in the compressed chord.
    pub alpha_cw: f64,
    /// cot θ, 1 to 2.5; the one of the largest strength where it is left out.
    pub cot: Option<f64>,
}

/// The parts of a shear strength.
#[derive(Clone, Copy, PartialEq, Debug)]
#[non_exhaustive]
pub struct EnShear {
    /// V_Rd,c.
    pub concrete: Force,
    /// V_Rd,s; zero without stirrups.
    pub stirrups: Force,
    /// V_Rd,max; zero without stirrups.
    pub struts: Force,
    /// The strength.
    pub strength: Force,
    /// cot θ of the struts, where there are stirrups.
    pub cot: Option<f64>,
    /// What decides.
    pub governs: Governs,
    /// The ratio of tension steel at its cap.
    pub ratio_capped: bool,
    /// The compression at its cap.
    pub compression_capped: bool,
}

/// EN 1992-1-1:2004 without and with vertical stirrups.
pub fn en_2004<R: Recorder>(rec: &mut R, web: &EnWeb) -> EnShear {
    let (unit, b, d) = (MPA_UNIT, web.b, web.d);
    let k = en_size(rec, d, SIZE);
    let rho = en_ratio(rec, web.tension, b, d);
    let sigma = en_compression(rec, web.axial, web.gross, web.fcd);
    let v = en_stress(rec, unit, web.gamma_c, k, rho, web.fck, sigma);
    let least = en_least(rec, unit, k, web.fck, sigma);
    let concrete = en_concrete(rec, v, least, b, d);
    let plain = if v >= least { Governs::Concrete } else { Governs::Least };
    let mut found = EnShear {
        concrete,
        stirrups: Force::ZERO,
        struts: Force::ZERO,
        strength: concrete,
        cot: None,
        governs: plain,
        ratio_capped: web.tension / (b * d) > 0.02,
        compression_capped: Stress::over(web.axial, web.gross) > 0.2 * web.fcd,
    };
    if web.asw > Area::ZERO && web.spacing.is_finite() {
        let nu = en_nu(rec, web.fck, unit);
        let cot = web.cot.unwrap_or_else(|| {
            en_cot(rec, web.alpha_cw, b, nu, web.fcd, web.asw, web.spacing, web.fywd)
        });
        found.stirrups = en_stirrups(rec, web.asw, web.spacing, web.z, web.fywd, cot);
        found.struts = en_struts(rec, web.alpha_cw, b, web.z, nu, web.fcd, cot);
        found.strength = en_strength(rec, concrete, found.stirrups, found.struts);
        found.cot = Some(cot);
        found.governs = if concrete >= found.stirrups.min(found.struts) {
            plain
        } else if found.stirrups <= found.struts {
            Governs::Stirrups
        } else {
            Governs::Struts
        };
    }
    found
}

/// An end region without bending cracks: S is the first moment of what lies beyond the centroid.
pub fn en_2004_uncracked<R: Recorder>(
    rec: &mut R,
    (second_moment, first_moment, b): (SecondMoment, Volume, Length),
    fctd: Stress,
    alpha: f64,
    sigma: Stress,
) -> Force {
    en_uncracked(rec, second_moment, b, first_moment, fctd, alpha, sigma)
}

/// EN 1992-1-1:2023 without stirrups and without axial force: `fyd` of the tension steel, `aggregate`
/// is D_lower. The answer is the strength, and whether the least value decides.
pub fn en_2023_plain<R: Recorder>(
    rec: &mut R,
    web: &EnWeb,
    (gamma_v, fyd, aggregate): (f64, Stress, Length),
) -> (Force, Governs) {
    let rho = web.tension / (web.b * web.d);
    let ddg = en_aggregate(rec, aggregate, Length::from_si(0.016), Length::from_si(0.04));
    let v = en_2023(rec, MPA_UNIT, gamma_v, rho, web.fck, ddg, web.d);
    let least = en_2023_least(rec, MPA_UNIT, gamma_v, web.fck, fyd, ddg, web.d);
    let strength = en_2023_strength(rec, v, least, web.b, web.z);
    (strength, if v >= least { Governs::Concrete } else { Governs::Least })
}
