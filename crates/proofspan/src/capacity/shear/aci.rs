//! One-way shear by ACI 318-19, in the units of pounds and inches and in its metric form.
//!
//! The constants stand as they were published, in psi or in MPa: strengths are converted into the unit of
//! the formula, the answer is a stress again. The two forms differ by the rounding of those constants
//! alone, up to about 2 %.

use super::governs::Governs;
use crate::formula::Recorder;
use crate::units::{Area, Force, Length, Moment, SectionModulus, Stress};

/// The published constants of one form of the formulas.
#[derive(Clone, Copy, PartialEq, Debug)]
#[non_exhaustive]
pub struct AciForm {
    /// The stress that is one in these formulas.
    pub unit: Stress,
    /// Largest √f'c in that unit.
    pub root_most: f64,
    /// The depth at which the size effect is √2 of its largest divisor: 10 in, or 1/0.004 mm.
    pub size: Length,
    /// Constant of expression (a), and floor of prestressed members.
    pub plain: f64,
    /// Constant of expressions (b) and (c).
    pub by_ratio: f64,
    /// Most of V_c.
    pub concrete_most: f64,
    /// Most of V_s.
    pub steel_most: f64,
    /// First constant of prestressed members, approximate.
    pub prestressed: f64,
    /// Its second, beside V_u d_p/M_u.
    pub prestressed_moment: f64,
    /// First constant of flexure-shear cracking.
    pub flexure_shear: f64,
    /// Floor of flexure-shear cracking.
    pub flexure_shear_least: f64,
    /// Constant of web-shear cracking.
    pub web_shear: f64,
    /// Constant of the moment that cracks the section.
    pub cracking: f64,
}

impl AciForm {
    /// Pounds and inches.
    pub const US: Self = Self {
        unit: Stress::from_si(4.448_221_615_260_5 / 0.000_645_16),
        root_most: 100.0,
        size: Length::from_si(0.254),
        plain: 2.0,
        by_ratio: 8.0,
        concrete_most: 5.0,
        steel_most: 8.0,
        prestressed: 0.6,
        prestressed_moment: 700.0,
        flexure_shear: 0.6,
        flexure_shear_least: 1.7,
        web_shear: 3.5,
        cracking: 6.0,
    };
    /// Newtons and millimetres.
    pub const METRIC: Self = Self {
        unit: Stress::from_si(1e6),
        root_most: 8.3,
        size: Length::from_si(0.25),
        plain: 0.17,
        by_ratio: 0.66,
        concrete_most: 0.42,
        steel_most: 0.66,
        prestressed: 0.05,
        prestressed_moment: 4.8,
        flexure_shear: 0.05,
        flexure_shear_least: 0.14,
        web_shear: 0.29,
        cracking: 0.5,
    };
}

crate::laws! {
    /// Root of the concrete strength in the unit of the formula, not above its cap.
    pub fn root(fc: Stress as "f'c", unit: Stress as "u", most: f64 as "most") -> f64 as "r" = min(sqrt(fc / unit), most);
    source "ACI 318-19 22.5.3.1";
    /// Size effect of members without enough stirrups.
    pub fn size_effect(d: Length as "d", size: Length as "d_0") -> f64 as "lambda_s" = min(1.0, sqrt(2.0 / (1.0 + d / size)));
    source "ACI 318-19 22.5.5.1.3";
    /// What an axial force adds, compression positive.
    pub fn axial_part(n: Force as "N_u", ag: Area as "A_g", fc: Stress as "f'c") -> Stress as "v_N" = min(Stress::over(n, ag) / 6.0, 0.05 * fc);
    source "ACI 318-19 22.5.5.1";
    /// Shear stress of the concrete, expression (a): at least minimum stirrups.
    pub fn stress_a(unit: Stress as "u", c: f64 as "c", lambda: f64 as "lambda", root: f64 as "r", axial: Stress as "v_N") -> Stress as "v_a" = unit * (c * lambda * root) + axial;
    source "ACI 318-19 Table 22.5.5.1 (a)";
    /// Shear stress of the concrete, expression (b): at least minimum stirrups.
    pub fn stress_b(unit: Stress as "u", c: f64 as "c", lambda: f64 as "lambda", rho: f64 as "rho_w", root: f64 as "r", axial: Stress as "v_N") -> Stress as "v_b" = unit * (c * lambda * pow(rho, 1.0 / 3.0) * root) + axial;
    source "ACI 318-19 Table 22.5.5.1 (b)";
    /// Shear stress of the concrete, expression (c): less than minimum stirrups.
    pub fn stress_c(unit: Stress as "u", c: f64 as "c", size: f64 as "lambda_s", lambda: f64 as "lambda", rho: f64 as "rho_w", root: f64 as "r", axial: Stress as "v_N") -> Stress as "v_c" = unit * (c * size * lambda * pow(rho, 1.0 / 3.0) * root) + axial;
    source "ACI 318-19 Table 22.5.5.1 (c)";
    /// A stress that is a constant times the root.
    pub fn of_root(unit: Stress as "u", c: f64 as "c", lambda: f64 as "lambda", root: f64 as "r") -> Stress as "v" = unit * (c * lambda * root);
    source "ACI 318-19 22.5";
    /// Shear that the concrete carries, up to its cap and never below zero.
    pub fn concrete(v: Stress as "v", most: Stress as "v_most", b: Length as "b_w", d: Length as "d") -> Force as "V_c" = Force::of_stress(max(min(v, most), 0.0 * most), b * d);
    source "ACI 318-19 22.5.5.1.1";
    /// Shear that vertical stirrups carry.
    pub fn stirrups(av: Area as "A_v", s: Length as "s", fyt: Stress as "f_yt", d: Length as "d") -> Force as "V_s,0" = Force::of_stress(fyt, av * (d / s));
    source "ACI 318-19 22.5.8.5.3";
    /// The same up to what the section can use.
    pub fn stirrups_used(v: Force as "V_s,0", most: Stress as "v_most", b: Length as "b_w", d: Length as "d") -> Force as "V_s" = min(v, Force::of_stress(most, b * d));
    source "ACI 318-19 22.5.1.2";
    /// Nominal shear strength.
    pub fn nominal(vc: Force as "V_c", vs: Force as "V_s") -> Force as "V_n" = vc + vs;
    source "ACI 318-19 22.5.1.1";
    /// Shear strength reduced.
    pub fn reduced(vn: Force as "V_n", phi: f64 as "phi") -> Force as "phi V_n" = phi * vn;
    source "ACI 318-19 21.2, φ as given";
    /// V_u d_p/M_u, not above one.
    pub fn shear_span_part(v: Force as "V_u", d: Length as "d_p", m: Moment as "M_u") -> f64 as "ratio" = min(1.0, v * d / m);
    source "ACI 318-19 22.5.6.2";
    /// Shear stress of a prestressed member, approximate.
    pub fn stress_prestressed(unit: Stress as "u", c: f64 as "c", lambda: f64 as "lambda", root: f64 as "r", m: f64 as "c_m", part: f64 as "ratio", least: f64 as "c_least") -> Stress as "v_c" = unit * max(c * lambda * root + m * part, least * lambda * root);
    source "ACI 318-19 Table 22.5.6.2";
    /// Part of the tension that the prestress carries.
    pub fn prestressed_part(aps: Area as "A_ps", fse: Stress as "f_se", fpu: Stress as "f_pu", a_s: Area as "A_s", fy: Stress as "f_y") -> f64 as "share" = Force::of_stress(fse, aps) / (Force::of_stress(fpu, aps) + Force::of_stress(fy, a_s));
    source "ACI 318-19 22.5.6.2, asks for 0.4";
    /// Depth that is used, not below 0.8 h.
    pub fn prestressed_depth(d: Length as "d_p,0", h: Length as "h") -> Length as "d_p" = max(d, 0.8 * h);
    source "ACI 318-19 22.5.2.1";
    /// Moment beside the dead load that cracks the section.
    pub fn cracking_moment(s: SectionModulus as "S", unit: Stress as "u", c: f64 as "c", lambda: f64 as "lambda", root: f64 as "r", fpe: Stress as "f_pe", fd: Stress as "f_d") -> Moment as "M_cre" = s * (unit * (c * lambda * root) + fpe - fd);
    source "ACI 318-19 22.5.6.3.1";
    /// Flexure-shear cracking.
    pub fn flexure_shear(unit: Stress as "u", c: f64 as "c", lambda: f64 as "lambda", root: f64 as "r", b: Length as "b_w", dp: Length as "d_p", vd: Force as "V_d", vi: Force as "V_i", cre: Moment as "M_cre", most: Moment as "M_max") -> Force as "V_ci,0" = Force::of_stress(unit * (c * lambda * root), b * dp) + vd + vi * (cre / most);
    source "ACI 318-19 22.5.6.3.1";
    /// Flexure-shear cracking, not below its floor.
    pub fn flexure_shear_floor(v: Force as "V_ci,0", least: Stress as "v_least", b: Length as "b_w", dp: Length as "d_p") -> Force as "V_ci" = max(v, Force::of_stress(least, b * dp));
    source "ACI 318-19 22.5.6.3.1";
    /// Web-shear cracking.
    pub fn web_shear(unit: Stress as "u", c: f64 as "c", lambda: f64 as "lambda", root: f64 as "r", fpc: Stress as "f_pc", b: Length as "b_w", dp: Length as "d_p", vp: Force as "V_p") -> Force as "V_cw" = Force::of_stress(unit * (c * lambda * root) + 0.3 * fpc, b * dp) + vp;
    source "ACI 318-19 22.5.6.3.2";
    /// The lower of both, never below zero.
    pub fn cracking_shear(ci: Force as "V_ci", cw: Force as "V_cw") -> Force as "V_c" = max(min(ci, cw), 0.0 * cw);
    source "ACI 318-19 22.5.6.3";
}

/// A web in one-way shear, in plain values.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct AciWeb {
    /// Concrete strength f'c.
    pub fc: Stress,
    /// Factor of lightweight concrete λ.
    pub lambda: f64,
    /// Web width.
    pub b: Length,
    /// Effective depth.
    pub d: Length,
    /// A_s/(b_w d) of the tension steel.
    pub rho: f64,
    /// Axial force N_u, compression positive.
    pub axial: Force,
    /// Gross area.
    pub gross: Area,
    /// Area of all legs of the stirrups at one place.
    pub av: Area,
    /// Their spacing; infinite where there are none.
    pub spacing: Length,
    /// Their yield strength.
    pub fyt: Stress,
    /// Whether they are at least the minimum that the code asks for.
    pub minimum: bool,
}

/// The parts of a shear strength.
#[derive(Clone, Copy, PartialEq, Debug)]
#[non_exhaustive]
pub struct AciShear {
    /// V_c.
    pub concrete: Force,
    /// V_s, as far as it is used.
    pub steel: Force,
    /// V_n.
    pub nominal: Force,
    /// What decided V_c.
    pub governs: Governs,
    /// √f'c at its cap.
    pub root_capped: bool,
    /// V_c at its cap.
    pub concrete_capped: bool,
    /// V_s at its cap.
    pub steel_capped: bool,
}

/// What the stirrups add to a V_c.
fn with_steel<R: Recorder>(
    rec: &mut R,
    form: &AciForm,
    web: &AciWeb,
    root: f64,
    mut parts: AciShear,
) -> AciShear {
    if web.av > Area::ZERO && web.spacing.is_finite() {
        let most = of_root(rec, form.unit, form.steel_most, 1.0, root);
        let all = stirrups(rec, web.av, web.spacing, web.fyt, web.d);
        parts.steel = stirrups_used(rec, all, most, web.b, web.d);
        parts.steel_capped = parts.steel < all;
    }
    parts.nominal = nominal(rec, parts.concrete, parts.steel);
    parts
}

/// Whether the root of this strength is above its cap.
fn capped(form: &AciForm, fc: Stress) -> bool {
    (fc / form.unit).sqrt() > form.root_most
}

/// A member that is not prestressed: with minimum stirrups the larger of (a) and (b), either of which
/// the code allows; without them (c).
pub fn reinforced<R: Recorder>(rec: &mut R, form: &AciForm, web: &AciWeb) -> AciShear {
    let root_ = root(rec, web.fc, form.unit, form.root_most);
    let axial = axial_part(rec, web.axial, web.gross, web.fc);
    let most = of_root(rec, form.unit, form.concrete_most, web.lambda, root_);
    let (v, governs) = if web.minimum {
        let a = stress_a(rec, form.unit, form.plain, web.lambda, root_, axial);
        let b = stress_b(rec, form.unit, form.by_ratio, web.lambda, web.rho, root_, axial);
        if a >= b { (a, Governs::ExpressionA) } else { (b, Governs::ExpressionB) }
    } else {
        let size = size_effect(rec, web.d, form.size);
        let c = stress_c(rec, form.unit, form.by_ratio, size, web.lambda, web.rho, root_, axial);
        (c, Governs::ExpressionC)
    };
    let parts = AciShear {
        concrete: concrete(rec, v, most, web.b, web.d),
        steel: Force::ZERO,
        nominal: Force::ZERO,
        governs,
        root_capped: capped(form, web.fc),
        concrete_capped: v > most,
        steel_capped: false,
    };
    with_steel(rec, form, web, root_, parts)
}

/// A prestressed member by the approximate expression; `v`, `m` act at the section, `dp` is the depth
/// of the tendons. Holds only where the prestress carries at least 0.4 of the tension, see
/// [`prestressed_part()`].
pub fn prestressed<R: Recorder>(
    rec: &mut R,
    form: &AciForm,
    web: &AciWeb,
    (v, m, dp): (Force, Moment, Length),
) -> AciShear {
    let root_ = root(rec, web.fc, form.unit, form.root_most);
    let part = shear_span_part(rec, v, dp, m);
    let (c, cm) = (form.prestressed, form.prestressed_moment);
    let stress = stress_prestressed(rec, form.unit, c, web.lambda, root_, cm, part, form.plain);
    let most = of_root(rec, form.unit, form.concrete_most, web.lambda, root_);
    let parts = AciShear {
        concrete: concrete(rec, stress, most, web.b, web.d),
        steel: Force::ZERO,
        nominal: Force::ZERO,
        governs: Governs::Prestressed,
        root_capped: capped(form, web.fc),
        concrete_capped: stress > most,
        steel_capped: false,
    };
    with_steel(rec, form, web, root_, parts)
}

/// What the detailed method asks about a prestressed section: stresses and actions at one place.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct AciPrestress {
    /// Depth of the tendons; 0.8 h is used where that is more.
    pub dp: Length,
    /// Overall depth.
    pub h: Length,
    /// Section modulus of the face in tension, I/y_t, gross.
    pub modulus: SectionModulus,
    /// Compression from the effective prestress alone at that face.
    pub fpe: Stress,
    /// Compression from the effective prestress at the centroid, or at the joint of web and flange.
    pub fpc: Stress,
    /// Tension from the dead load in place at that face.
    pub fd: Stress,
    /// Vertical part of the effective prestress.
    pub vp: Force,
    /// Shear of the dead load in place.
    pub vd: Force,
    /// Shear of what is added, that goes with `most`.
    pub vi: Force,
    /// Moment of what is added.
    pub most: Moment,
    /// Whether the prestress carries at least 0.4 of the tension.
    pub mostly: bool,
}

/// Flexure-shear and web-shear cracking of a prestressed section.
#[derive(Clone, Copy, PartialEq, Debug)]
#[non_exhaustive]
pub struct AciCracking {
    /// V_ci.
    pub flexure_shear: Force,
    /// V_cw.
    pub web_shear: Force,
    /// M_cre.
    pub moment: Moment,
    /// Whether V_ci stands at its floor.
    pub floored: bool,
}

/// Flexure-shear and web-shear cracking.
pub fn cracking<R: Recorder>(
    rec: &mut R,
    form: &AciForm,
    web: &AciWeb,
    p: &AciPrestress,
) -> AciCracking {
    let root_ = root(rec, web.fc, form.unit, form.root_most);
    let (unit, lambda, b) = (form.unit, web.lambda, web.b);
    let dp = prestressed_depth(rec, p.dp, p.h);
    let moment = cracking_moment(rec, p.modulus, unit, form.cracking, lambda, root_, p.fpe, p.fd);
    let all = flexure_shear(
        rec,
        unit,
        form.flexure_shear,
        lambda,
        root_,
        b,
        dp,
        p.vd,
        p.vi,
        moment,
        p.most,
    );
    let least = if p.mostly { form.plain } else { form.flexure_shear_least };
    let least = of_root(rec, unit, least, lambda, root_);
    let ci = flexure_shear_floor(rec, all, least, b, dp);
    let cw = web_shear(rec, unit, form.web_shear, lambda, root_, p.fpc, b, dp, p.vp);
    AciCracking { flexure_shear: ci, web_shear: cw, moment, floored: ci > all }
}

/// A prestressed member by the detailed method: V_c is the lower of both crackings. The stirrups work
/// over the depth that is used for the concrete.
pub fn detailed<R: Recorder>(
    rec: &mut R,
    form: &AciForm,
    web: &AciWeb,
    p: &AciPrestress,
) -> (AciShear, AciCracking) {
    let found = cracking(rec, form, web, p);
    let web_first = found.web_shear < found.flexure_shear;
    let parts = AciShear {
        concrete: cracking_shear(rec, found.flexure_shear, found.web_shear),
        steel: Force::ZERO,
        nominal: Force::ZERO,
        governs: if web_first { Governs::WebShear } else { Governs::FlexureShear },
        root_capped: capped(form, web.fc),
        concrete_capped: false,
        steel_capped: false,
    };
    let root_ = (web.fc / form.unit).sqrt().min(form.root_most);
    (with_steel(rec, form, web, root_, parts), found)
}
