//! Wraps on a web in shear, in both sets of strengths, and whether a test exercises them: no document.

use super::exercised::{Exercised, exercised};
use super::frp::{
    FrpForm, Wrap, Wrapped, bond_length, scheme_factor, steel_and_wraps_most, with_wraps,
    with_wraps_reduced, wrapped, wraps_used,
};
use crate::capacity::material::{ConcreteStress, StrengthSet};
use crate::capacity::shape::Size;
use crate::capacity::shear::Reduction;
use crate::error::{Error, Issue, slug};
use crate::formula::{NoRecord, Recorder, Working};
use crate::source::rule::{Count, NotNegative, Positive, Share};
use crate::source::{Given, Node, Write, validate_single};
use crate::units::{Force, Length, Message, Ratio, Rotation, Strain, Stress};
use crate::verdict::Note;

crate::choice! {
    /// Which constants of the guide are used.
    pub enum Form ("form of the constants", source::SOURCE_CHOICE) {
        /// Those of pounds and inches.
        Us = "US",
        /// Those of newtons and millimetres.
        Si = "SI",
    }
}

crate::choice! {
    /// How a wrap lies around a web.
    pub enum WrapScheme ("scheme of a wrap", source::SOURCE_CHOICE) {
        /// Two sides and the bottom.
        U = "u_wrap",
        /// Two sides.
        TwoSided = "two_sided",
        /// All around.
        Complete = "complete",
    }
}

impl Form {
    const fn constants(self) -> FrpForm {
        match self {
            Self::Us => FrpForm::US,
            Self::Si => FrpForm::METRIC,
        }
    }
}

impl WrapScheme {
    /// The guide's own reduction of what the wrap carries.
    #[must_use]
    pub const fn factor(self) -> f64 {
        match self {
            Self::U | Self::TwoSided => 0.85,
            Self::Complete => 0.95,
        }
    }

    const fn ends(self) -> u8 {
        match self {
            Self::U => 1,
            Self::TwoSided => 2,
            Self::Complete => 0,
        }
    }
}

crate::rule! {
    /// A modulus of elasticity of fibres: 5 GPa to 1000 GPa (library rule).
    pub FibreModulus { above 0.0 SOURCE_SIGN, least 5e9 SOURCE_MAGNITUDE, most 1e12 SOURCE_MAGNITUDE }
    /// A strain at which fibres break: 0.1 % to 10 % (library rule).
    pub FibreStrain { above 0.0 SOURCE_SIGN, least 0.001 SOURCE_MAGNITUDE, most 0.1 SOURCE_MAGNITUDE }
    /// Thickness of a ply: 0.01 mm to 10 mm (library rule).
    pub Ply { above 0.0 SOURCE_SIGN, least 1e-5 SOURCE_MAGNITUDE, most 0.01 SOURCE_MAGNITUDE }
    /// An angle against the axis of the member: 0 to 180 degrees.
    pub Angle { least 0.0 SOURCE_NEGATIVE, most 3.15 SOURCE_MAGNITUDE }
}

crate::record! {
    /// Wraps on the webs of one member unit.
    ///
    /// ```
    /// use proofspan::capacity::strengthening::{WrapScheme, WrapShear};
    /// use proofspan::units::*;
    ///
    /// // one ply of 0.0065 in, 33 000 ksi, 10 in every 12 in, 16 in deep, on concrete of 3000 psi
    /// let wraps = WrapShear::of(WrapScheme::U, 3000.0 * PSI, 16.0 * IN, (0.0065 * IN, 33e6 * PSI, 0.015865));
    /// let found = wraps.strips(10.0 * IN, 12.0 * IN).check()?;
    /// assert_eq!((found.expected.to(KIP) * 100.0).round(), 1782.0);
    /// # Ok::<(), proofspan::error::Error>(())
    /// ```
    pub struct WrapShear {
        /// How it lies around the web.
        scheme: WrapScheme,
        /// Which constants.
        form: Form = Form::Us,
        /// Concrete strength, specified.
        strength: Given<Stress, ConcreteStress>,
        /// Its mean; the specified one where it is left out, and a note says so.
        mean_strength: Option<Given<Stress, ConcreteStress>>,
        /// Depth of the wrap, from its upper end to the tension steel.
        depth: Given<Length, Size>,
        /// Plies.
        plies: u32 where Count = 1,
        /// Thickness of one ply.
        thickness: Given<Length, Ply>,
        /// Modulus of elasticity.
        modulus: Given<Stress, FibreModulus>,
        /// Ultimate strain for design, the environment counted.
        ultimate_strain: Given<Strain, FibreStrain>,
        /// Width of a strip.
        width: Given<Length, Size>,
        /// Spacing of the strips, from middle to middle; the width for a continuous sheet.
        spacing: Given<Length, Size>,
        /// Angle of the fibres against the axis of the member; cracks are taken at 45°.
        angle: Given<Rotation, Angle> = Given::known(Rotation::from_si(core::f64::consts::FRAC_PI_2)),
        /// Webs that are wrapped alike: each has two legs.
        webs: u32 where Count = 1,
        /// A strain that tests of the anchored wrap have shown; the guide, as far as it is known here, has no formula for anchors.
        anchored_strain: Option<Given<Strain, FibreStrain>>,
        /// Shear strength of the concrete.
        concrete: Option<Given<Force, NotNegative>>,
        /// Shear strength of the stirrups.
        stirrups: Given<Force, NotNegative> = Given::known(Force::ZERO),
        /// Width of all webs, for what stirrups and wraps count for together.
        web_width: Option<Given<Length, Size>>,
        /// Effective depth of the member.
        member_depth: Option<Given<Length, Size>>,
        /// Strength reduction factor of shear: with it and the concrete there is a design strength.
        phi: Option<Given<Ratio, Reduction>>,
        /// Shear of the planned test, total.
        test: Option<Given<Force, NotNegative>>,
        /// Shear at which flexure-shear cracks are expected.
        flexure_shear: Option<Given<Force, Positive>>,
        /// Shear at which web-shear cracks are expected.
        web_shear: Option<Given<Force, Positive>>,
        /// Scatter of the cracking strength, as a part of it.
        scatter: Given<Ratio, Share> = Given::known(Ratio::from_si(0.15)),
    }
}

/// What wraps carry, in both sets.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct WrapFound {
    /// V_f of all webs with the mean strength of the concrete, no reduction.
    pub expected: Force,
    /// V_f of all webs with the specified strength, before ψ_f and φ.
    pub specified: Force,
    /// Strain that the wraps reach, specified set.
    pub strain: Strain,
    /// Bond-reduction factor, specified set; nothing of a complete or anchored wrap.
    pub bond_reduction: Option<f64>,
    /// Length that bonds.
    pub bond_length: Option<Length>,
    /// ψ_f.
    pub factor: f64,
    /// V_c + V_s + V_f without reduction, where the concrete is given.
    pub strength: Option<Force>,
    /// φ(V_c + V_s + ψ_f V_f), where the concrete and φ are given.
    pub design: Option<Force>,
    /// Whether the planned test exercises the wraps, where test and cracking are given.
    pub exercised: Option<Exercised>,
    /// What to know.
    pub notes: Vec<Note>,
    /// What the prediction leaves out.
    pub left_out: Vec<&'static str>,
    working: Working,
}

/// Cracks are taken at 45°: strips within this of them hardly cross them (library rule).
const LEAST_CROSSING: f64 = 15.0;

pub(in crate::capacity) const LEFT_OUT: &[&str] = &[
    "anchors of the wraps, fan anchors and near-surface bars: no formula is known here",
    "limits on the clear spacing of strips",
    "damage, voids and cure of the bond: tap test and pull-off test are of the survey",
    "the member without its wraps, and in fire: checks of their own that no test cures",
];

/// Fibres rise at least so steeply against the axis, degrees (library rule).
const LEAST_RISE: f64 = 45.0;

/// What is wrong with strips of this width, spacing and angle.
pub(super) fn strips_wrong(
    width: &Given<Length, Size>,
    spacing: &Given<Length, Size>,
    angle: &Given<Rotation, Angle>,
) -> Vec<Issue> {
    let mut issues = Vec::new();
    if spacing.value < width.value * (1.0 - 1e-9) {
        let message = "strips that lie over each other";
        let issue = Issue::new(slug::CAPACITY_WRAP_OVERLAP, "spacing", message);
        let limit = Message::new("at least {}", [width.said()]);
        issues.push(issue.value(spacing.said()).limit(limit).source("geometry"));
    }
    if angle.value.si().to_degrees() < LEAST_RISE - 1e-9 {
        let message = "the fibres run along the member: nothing holds them above and below a crack";
        let issue = Issue::new(slug::CAPACITY_WRAP_ANGLE, "angle", message).value(angle.said());
        issues.push(issue.limit("at least 45°").source("library rule"));
    }
    // fibres that lean as the cracks do carry nothing; beyond them they are pressed
    let crossing = 135.0 - angle.value.si().to_degrees();
    if crossing < LEAST_CROSSING {
        let message = "the fibres run along the diagonal cracks";
        let issue = Issue::new(slug::CAPACITY_WRAP_ANGLE, "angle", message).value(angle.said());
        let limit = "up to 120°: at least 15° across cracks at 45°";
        issues.push(issue.limit(limit).source("library rule"));
    }
    issues
}

/// What is wrong with a bonded wrap of this depth, of so many plies of this thickness and modulus.
pub(super) fn too_shallow(
    scheme: WrapScheme,
    form: Form,
    depth: &Given<Length, Size>,
    (plies, thickness, modulus): (u32, Length, Stress),
) -> Option<Issue> {
    let (ends, rec) = (f64::from(scheme.ends()), &mut NoRecord);
    let c = form.constants();
    let bond = bond_length(rec, c.length, c.bond, f64::from(plies), thickness, modulus, c.unit);
    if scheme.ends() == 0 || scheme_factor(rec, depth.value, ends, bond) > 0.0 {
        return None;
    }
    let message = "the wrap is not deeper than what it needs to bond: the formula gives nothing";
    let issue = Issue::new(slug::CAPACITY_WRAP_DEPTH, "depth", message).value(depth.said());
    let limit = Message::new("more than {}", [(bond * ends).into()]);
    Some(issue.limit(limit).source("ACI 440.2R"))
}

impl WrapShear {
    /// One continuous ply, of thickness, modulus and ultimate strain; at right angles to the axis.
    #[must_use]
    pub const fn of(
        scheme: WrapScheme,
        strength: Stress,
        depth: Length,
        (thickness, modulus, ultimate): (Length, Stress, f64),
    ) -> Self {
        Self {
            scheme,
            form: Form::Us,
            strength: Given::known(strength),
            mean_strength: None,
            depth: Given::known(depth),
            plies: 1,
            thickness: Given::known(thickness),
            modulus: Given::known(modulus),
            ultimate_strain: Given::known(Strain::from_si(ultimate)),
            width: Given::known(Length::from_si(1.0)),
            spacing: Given::known(Length::from_si(1.0)),
            angle: Given::known(Rotation::from_si(core::f64::consts::FRAC_PI_2)),
            webs: 1,
            anchored_strain: None,
            concrete: None,
            stirrups: Given::known(Force::ZERO),
            web_width: None,
            member_depth: None,
            phi: None,
            test: None,
            flexure_shear: None,
            web_shear: None,
            scatter: Given::known(Ratio::from_si(0.15)),
        }
    }

    /// The same in strips.
    #[must_use]
    pub fn strips(mut self, width: Length, spacing: Length) -> Self {
        self.width = Given::known(width);
        self.spacing = Given::known(spacing);
        self
    }

    fn wrap(&self, set: StrengthSet) -> Wrap {
        let angle = self.angle.value.si();
        let fc = match (set, &self.mean_strength) {
            (StrengthSet::Expected, Some(mean)) => mean.value,
            _ => self.strength.value,
        };
        Wrap {
            ends: self.scheme.ends(),
            fc,
            plies: f64::from(self.plies),
            thickness: self.thickness.value,
            modulus: self.modulus.value,
            ultimate: self.ultimate_strain.value,
            depth: self.depth.value,
            width: self.width.value,
            spacing: self.spacing.value,
            across: angle.sin() + angle.cos(),
            shown: self.anchored_strain.as_ref().map(|s| s.value),
        }
    }

    pub(super) fn refusals(&self) -> Vec<Issue> {
        let mut issues = strips_wrong(&self.width, &self.spacing, &self.angle);
        let ply = (self.plies, self.thickness.value, self.modulus.value);
        if self.anchored_strain.is_none() {
            issues.extend(too_shallow(self.scheme, self.form, &self.depth, ply));
        }
        let test = self.test.is_some();
        if test && self.flexure_shear.is_none() && self.web_shear.is_none() {
            let message = "whether a test exercises the wraps hangs on the shear at which cracks are expected";
            issues.push(Issue::new(slug::SOURCE_FIELD_MISSING, "flexure_shear", message));
        }
        if self.stirrups.value > Force::ZERO
            && (self.web_width.is_none() || self.member_depth.is_none())
        {
            let message = "stirrups and wraps together count up to a limit of the section";
            let field = if self.web_width.is_none() { "web_width" } else { "member_depth" };
            issues.push(Issue::new(slug::SOURCE_FIELD_MISSING, field, message));
        }
        issues
    }

    /// V_f of all webs in one set beside stirrups that carry so much, and whether the limit of the section
    /// on both together cuts it.
    pub(super) fn beside<R: Recorder>(
        &self,
        rec: &mut R,
        set: StrengthSet,
        stirrups: Force,
    ) -> (Force, bool, Wrapped) {
        let (form, wrap) = (self.form.constants(), self.wrap(set));
        let found = wrapped(rec, &form, &wrap);
        let all = found.shear * f64::from(self.webs);
        let (Some(b), Some(d)) = (&self.web_width, &self.member_depth) else {
            return (all, false, found);
        };
        let most = steel_and_wraps_most(
            rec,
            form.unit,
            form.most,
            wrap.fc,
            form.root_most,
            b.value,
            d.value,
        );
        let used = wraps_used(rec, all, most, stirrups);
        (used, used < all, found)
    }

    fn carried(
        &self,
        working: &mut Working,
        set: StrengthSet,
        notes: &mut Vec<Note>,
    ) -> (Force, Wrapped) {
        let (used, cut, found) = self.beside(working, set, self.stirrups.value);
        if cut && set == StrengthSet::Design {
            let message = "stirrups and wraps together are at the limit of the section";
            notes.push(Note::new(slug::CAPACITY_CAPPED, "stirrups", message));
        }
        (used, found)
    }

    /// What the wraps carry, and whether the planned test exercises them.
    ///
    /// # Errors
    /// All at once: a value that its rule refuses; `capacity.wrap-depth`, `capacity.wrap-angle`,
    /// `capacity.wrap-overlap`, `source.field-missing`.
    pub fn check(&self) -> Result<WrapFound, Error> {
        validate_single(self)?;
        Error::check(self.refusals())?;
        let (mut working, mut notes) = (Working::default(), Vec::new());
        working.about(|| "Expected: mean strength of the concrete, no reduction");
        let (expected, _) = self.carried(&mut working, StrengthSet::Expected, &mut notes);
        let concrete = self.concrete.as_ref().map(|c| c.value);
        let steel = self.stirrups.value;
        let strength = concrete.map(|c| with_wraps(&mut working, c, steel, 1.0, expected));
        working.about(|| "Design: specified strength of the concrete, reduced");
        let (specified, found) = self.carried(&mut working, StrengthSet::Design, &mut notes);
        let factor = self.scheme.factor();
        let design = concrete.zip(self.phi.as_ref()).map(|(c, phi)| {
            let nominal = with_wraps(&mut working, c, steel, factor, specified);
            with_wraps_reduced(&mut working, nominal, phi.value.value())
        });
        if self.mean_strength.is_none() {
            let message =
                "the mean strength of the concrete is not given: the specified one stands for it";
            notes.push(Note::new(slug::CAPACITY_MEAN, "strength", message));
        }
        let exercised = self.test.as_ref().and_then(|test| {
            let cracks = [&self.flexure_shear, &self.web_shear];
            let cracks = cracks.into_iter().flatten().map(|c| c.value);
            let found = exercised(test.value, cracks, self.scatter.value)?;
            found.noted(&mut notes, "test");
            Some(found)
        });
        let mut answer = WrapFound {
            expected,
            specified,
            strain: found.strain,
            bond_reduction: found.reduction,
            bond_length: found.bond,
            factor,
            strength,
            design,
            exercised,
            notes,
            left_out: LEFT_OUT.to_vec(),
            working: Working::default(),
        };
        let written = answer.write();
        working.claim_all("", 0, &written, &written);
        answer.working = working;
        Ok(answer)
    }
}

impl WrapFound {
    /// Both sets redone with a pencil.
    #[must_use]
    pub const fn working(&self) -> &Working {
        &self.working
    }
}

impl Write for WrapFound {
    fn write(&self) -> Node {
        Node::map(vec![
            ("edition", Node::text("ACI 440.2R")),
            ("mode", Node::text("one-way shear, brittle")),
            ("expected", self.expected.write()),
            ("specified", self.specified.write()),
            ("strain", self.strain.write()),
            ("bond_reduction", self.bond_reduction.write()),
            ("bond_length", self.bond_length.write()),
            ("factor", self.factor.write()),
            ("strength", self.strength.write()),
            ("design", self.design.write()),
            ("exercised", self.exercised.write()),
            ("notes", self.notes.write()),
            ("left_out", crate::capacity::shear::said(&self.left_out)),
        ])
    }
}
