//! Bonded wraps in shear by ACI 440.2R, in pounds and inches and in newtons and millimetres.

use crate::formula::Recorder;
use crate::units::{Area, Force, Length, Ratio, Strain, Stress};

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
    pub fn bond_reduction(k1: f64 as "k_1", k2: f64 as "k_2", l: Length as "L_e", length: Length as "u_l", c: f64 as "c", efu: Strain as "eps_fu") -> f64 as "kappa_v" = min(0.75, k1 * k2 * (l / length) / c / (efu / Strain::ONE));
    source "ACI 440.2R";
    /// Strain that a bonded wrap reaches.
    pub fn effective_strain(k: f64 as "kappa_v", efu: Strain as "eps_fu", most: Strain as "eps_most") -> Strain as "eps_fe" = min(k * efu, most);
    source "ACI 440.2R";
    /// Shear that the wraps carry.
    pub fn wrap_shear(a: Area as "A_fv", e: Stress as "E_f", eps: Ratio as "eps_fe", angle: f64 as "sin + cos", d: Length as "d_fv", s: Length as "s_f") -> Force as "V_f" = Force::of_stress(e * eps, a * (d / s) * angle);
    source "ACI 440.2R";
}
