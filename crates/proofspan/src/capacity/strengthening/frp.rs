//! Bonded wraps in shear by ACI 440.2R, in pounds and inches and in newtons and millimetres.

use crate::formula::Recorder;
use crate::units::{Area, AxialRigidity, Force, Length, Strain, Stress};

/// The published constants of one form of the formulas.
#[derive(Clone, Copy, PartialEq, Debug)]
#[non_exhaustive]
pub struct FrpForm {
    /// The stress that is one in these formulas.
    pub unit: Stress,
    /// The length that is one in these formulas.
    pub length: Length,
    /// Constant of the length that bonds.
    pub bond: f64,
    /// Concrete strength that the first factor counts by.
    pub concrete: f64,
    /// Divisor of the bond-reduction factor.
    pub reduction: f64,
    /// Most that stirrups and wraps together count for, times the root of the concrete strength.
    pub most: f64,
    /// Largest root of the concrete strength.
    pub root_most: f64,
}

impl FrpForm {
    /// Pounds and inches.
    pub const US: Self = Self {
        unit: Stress::from_si(4.448_221_615_260_5 / 0.000_645_16),
        length: Length::from_si(0.0254),
        bond: 2500.0,
        concrete: 4000.0,
        reduction: 468.0,
        most: 8.0,
        root_most: 100.0,
    };
    /// Newtons and millimetres.
    pub const METRIC: Self = Self {
        unit: Stress::from_si(1e6),
        length: Length::from_si(0.001),
        bond: 23300.0,
        concrete: 27.0,
        reduction: 11900.0,
        most: 0.66,
        root_most: 8.3,
    };
}

crate::laws! {
    /// Area of the wraps on both sides.
    pub fn wrap_area(n: f64 as "n", t: Length as "t_f", w: Length as "w_f") -> Area as "A_fv" = 2.0 * n * (t * w);
    source "ACI 440.2R";
    /// Length over which a wrap bonds.
    pub fn bond_length(length: Length as "u_l", c: f64 as "c", n: f64 as "n", t: Length as "t_f", e: Stress as "E_f", unit: Stress as "u") -> Length as "L_e" = length * (c / pow(n * (t / length) * (e / unit), 0.58));
    source "ACI 440.2R";
    /// Factor of the concrete strength.
    pub fn concrete_factor(fc: Stress as "f'c", unit: Stress as "u", c: f64 as "c") -> f64 as "k_1" = pow(fc / unit / c, 2.0 / 3.0);
    source "ACI 440.2R";
    /// Factor of the way the wrap is laid: one length of bond is lost of a U, two of two sides.
    pub fn scheme_factor(d: Length as "d_fv", lost: f64 as "ends", l: Length as "L_e") -> f64 as "k_2" = (d - lost * l) / d;
    source "ACI 440.2R";
    /// Bond-reduction factor.
    pub fn bond_reduction(k1: f64 as "k_1", k2: f64 as "k_2", l: Length as "L_e", length: Length as "u_l", c: f64 as "c", efu: f64 as "eps_fu") -> f64 as "kappa_v" = min(0.75, k1 * k2 * (l / length) / (c * efu));
    source "ACI 440.2R";
    /// Strain that a bonded wrap reaches.
    pub fn effective_strain(k: f64 as "kappa_v", efu: Strain as "eps_fu", most: Strain as "eps_most") -> Strain as "eps_fe" = min(k * efu, most);
    source "ACI 440.2R";
    /// Shear that the wraps carry.
    pub fn wrap_shear(a: Area as "A_fv", e: Stress as "E_f", eps: Strain as "eps_fe", angle: f64 as "sin + cos", d: Length as "d_fv", s: Length as "s_f") -> Force as "V_f" = AxialRigidity::of(e, a * (d / s) * angle) * eps;
    source "ACI 440.2R";
    /// Strain that a complete wrap reaches.
    pub fn complete_strain(efu: Strain as "eps_fu", most: Strain as "eps_most") -> Strain as "eps_fe" = min(0.75 * efu, most);
    source "ACI 440.2R";
    /// Most that stirrups and wraps count for together.
    pub fn steel_and_wraps_most(unit: Stress as "u", c: f64 as "c", fc: Stress as "f'c", most: f64 as "most", b: Length as "b_w", d: Length as "d") -> Force as "V_most" = Force::of_stress(unit * (c * min(sqrt(fc / unit), most)), b * d);
    source "ACI 440.2R";
    /// The wraps up to what is left beside the stirrups.
    pub fn wraps_used(v: Force as "V_f,0", most: Force as "V_most", vs: Force as "V_s") -> Force as "V_f" = max(min(v, most - vs), 0.0 * v);
    source "ACI 440.2R";
    /// Shear strength with the wraps, before the strength reduction.
    pub fn with_wraps(vc: Force as "V_c", vs: Force as "V_s", psi: f64 as "psi_f", vf: Force as "V_f") -> Force as "V_n" = vc + vs + psi * vf;
    source "ACI 440.2R";
    /// The same reduced.
    pub fn with_wraps_reduced(vn: Force as "V_n", phi: f64 as "phi") -> Force as "phi V_n" = phi * vn;
    source "ACI 440.2R, phi as given";
}

/// What is wrapped.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Wrap {
    /// Lengths of bond that are lost at ends of the strip: one of a U, two of two sides, none of a
    /// complete wrap.
    pub ends: u8,
    /// Concrete strength f'c.
    pub fc: Stress,
    /// Plies.
    pub plies: f64,
    /// Thickness of one ply.
    pub thickness: Length,
    /// Modulus of elasticity of the fibres.
    pub modulus: Stress,
    /// Ultimate strain for design.
    pub ultimate: Strain,
    /// Depth of the wrap beside the tension steel.
    pub depth: Length,
    /// Width of a strip.
    pub width: Length,
    /// Spacing of the strips; the width for a sheet.
    pub spacing: Length,
    /// sin α + cos α of the fibres against the axis of the member.
    pub across: f64,
    /// A strain that tests of the anchored wrap have shown, in place of the bond-reduction factor.
    pub shown: Option<Strain>,
}

/// What wraps carry.
#[derive(Clone, Copy, PartialEq, Debug)]
#[non_exhaustive]
pub struct Wrapped {
    /// V_f of one web.
    pub shear: Force,
    /// Strain that is reached.
    pub strain: Strain,
    /// Bond-reduction factor, where it applies.
    pub reduction: Option<f64>,
    /// Length that bonds, where it applies.
    pub bond: Option<Length>,
    /// k_2, where it applies: at or below zero no wrap of that depth bonds.
    pub scheme: Option<f64>,
}

/// The largest strain of a wrap beside aggregate that must interlock.
pub const MOST_STRAIN: Strain = Strain::from_si(0.004);

/// What the wraps on one web carry.
pub fn wrapped<R: Recorder>(rec: &mut R, form: &FrpForm, wrap: &Wrap) -> Wrapped {
    let area = wrap_area(rec, wrap.plies, wrap.thickness, wrap.width);
    let mut found = Wrapped {
        shear: Force::ZERO,
        strain: MOST_STRAIN,
        reduction: None,
        bond: None,
        scheme: None,
    };
    found.strain = if let Some(shown) = wrap.shown {
        effective_strain(rec, 1.0, shown, MOST_STRAIN)
    } else if wrap.ends == 0 {
        complete_strain(rec, wrap.ultimate, MOST_STRAIN)
    } else {
        let (n, t, e) = (wrap.plies, wrap.thickness, wrap.modulus);
        let bond = bond_length(rec, form.length, form.bond, n, t, e, form.unit);
        let k1 = concrete_factor(rec, wrap.fc, form.unit, form.concrete);
        let k2 = scheme_factor(rec, wrap.depth, f64::from(wrap.ends), bond);
        let efu = wrap.ultimate.si();
        let kappa = bond_reduction(rec, k1, k2, bond, form.length, form.reduction, efu);
        (found.reduction, found.bond, found.scheme) = (Some(kappa), Some(bond), Some(k2));
        effective_strain(rec, kappa, wrap.ultimate, MOST_STRAIN)
    };
    let (e, s) = (wrap.modulus, wrap.spacing);
    found.shear = wrap_shear(rec, area, e, found.strain, wrap.across, wrap.depth, s);
    found
}
