//! What was added along a stretch of the member to carry shear: wraps, stirrups outside or drilled in.

use super::added::{AddedStirrups, added_shear};
use super::wraps::{
    Angle, FibreModulus, FibreStrain, Form, Ply, WrapScheme, WrapShear, strips_wrong, too_shallow,
};
use crate::capacity::material::{Concrete, StrengthSet};
use crate::capacity::shape::Size;
use crate::error::{Error, Issue, slug};
use crate::formula::{NoRecord, Recorder};
use crate::source::rule::Count;
use crate::source::{Given, Reader};
use crate::units::{Force, Length, Message, Rotation, Strain, Stress};

crate::record! {
    /// Wraps on the webs along a stretch of the member, per member unit, by ACI 440.2R: concrete, webs,
    /// stirrups and effective depth are those of the section.
    pub struct Wraps {
        /// How they lie around the web.
        scheme: WrapScheme,
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
        /// A strain that tests of the anchored wrap have shown.
        anchored_strain: Option<Given<Strain, FibreStrain>>,
    }
    rules {
        strips_lie[width, spacing, angle];
        bonds[scheme, depth, plies, thickness, modulus, anchored_strain];
    }
}

/// What is wrong with strips by themselves.
fn strips_lie(
    reader: &mut Reader,
    width: &Given<Length, Size>,
    spacing: &Given<Length, Size>,
    angle: &Given<Rotation, Angle>,
) {
    for issue in strips_wrong(width, spacing, angle) {
        let path = reader.path_of(&issue.path);
        reader.push(Issue { path, ..issue });
    }
}

/// A wrap is deeper than what it needs to bond. Of the two forms of the guide that of pounds and inches asks
/// for less; the one that counts is asked with the formulas of the edition.
fn bonds(
    reader: &mut Reader,
    scheme: &WrapScheme,
    depth: &Given<Length, Size>,
    plies: &u32,
    thickness: &Given<Length, Ply>,
    modulus: &Given<Stress, FibreModulus>,
    shown: &Option<Given<Strain, FibreStrain>>,
) {
    let ply = (*plies, thickness.value, modulus.value);
    if shown.is_none()
        && let Some(issue) = too_shallow(*scheme, Form::Us, depth, ply)
    {
        let path = reader.path_of(&issue.path);
        reader.push(Issue { path, ..issue });
    }
}

/// What was added for shear, on a section of this concrete, web width and effective depth.
pub(in crate::capacity) struct Strengthening<'a> {
    pub(in crate::capacity) wraps: Option<&'a Wraps>,
    pub(in crate::capacity) added: Option<&'a AddedStirrups>,
    pub(in crate::capacity) form: Form,
    pub(in crate::capacity) concrete: &'a Concrete,
    pub(in crate::capacity) web: (Length, Length),
}

impl Strengthening<'_> {
    fn wrap(&self, wraps: &Wraps) -> WrapShear {
        let (strength, depth) = (&self.concrete.strength, wraps.depth.value);
        let ply = (wraps.thickness.value, wraps.modulus.value, wraps.ultimate_strain.value.si());
        let mut asked = WrapShear::of(wraps.scheme, strength.specified.value, depth, ply)
            .strips(wraps.width.value, wraps.spacing.value);
        asked.form = self.form;
        asked.mean_strength.clone_from(&strength.expected);
        asked.plies = wraps.plies;
        asked.angle = wraps.angle.clone();
        asked.webs = wraps.webs;
        asked.anchored_strain.clone_from(&wraps.anchored_strain);
        asked.web_width = Some(Given::known(self.web.0));
        asked.member_depth = Some(Given::known(self.web.1));
        asked
    }

    /// What reaches over more than the effective depth of the member.
    fn too_deep(&self) -> Vec<Issue> {
        let depths = [
            ("wraps.depth", self.wraps.map(|w| &w.depth)),
            ("added.depth", self.added.map(|a| &a.depth)),
        ];
        let d = self.web.1;
        let deeper = depths.into_iter().filter_map(|(path, depth)| {
            let depth = depth.filter(|depth| depth.value > d * (1.0 + 1e-9))?;
            let message = "what strengthens reaches over more than the effective depth";
            let issue = Issue::new(slug::CAPACITY_WRAP_DEPTH, path, message);
            Some(issue.value(depth.said()).limit(Message::new("up to {}", [d.into()])))
        });
        deeper.collect()
    }

    /// Whether stirrups that carry so much and the wraps together are at the limit of the section.
    pub(in crate::capacity) fn at_limit(&self, stirrups: Force) -> bool {
        let rec = &mut NoRecord;
        let added = self.added.map_or(Force::ZERO, |a| {
            added_shear(rec, a.area.value, a.spacing.value, a.reached.value, a.depth.value)
        });
        let beside = |w| self.wrap(w).beside(rec, StrengthSet::Expected, stirrups + added).1;
        self.wraps.is_some_and(beside)
    }

    /// What all of it carries in one set beside stirrups that carry so much, and the guide's own factor of
    /// the wraps counted in the design set.
    ///
    /// # Errors
    /// `capacity.wrap-depth`, `capacity.wrap-angle`, `capacity.wrap-overlap`.
    pub(in crate::capacity) fn carries<R: Recorder>(
        &self,
        rec: &mut R,
        set: StrengthSet,
        stirrups: Force,
    ) -> Result<Force, Error> {
        Error::check(self.too_deep())?;
        let added = self.added.map_or(Force::ZERO, |a| {
            added_shear(rec, a.area.value, a.spacing.value, a.reached.value, a.depth.value)
        });
        let Some(wraps) = self.wraps else { return Ok(added) };
        let asked = self.wrap(wraps);
        let mut issues = asked.refusals();
        issues.iter_mut().for_each(|i| i.path = format!("wraps.{}", i.path));
        Error::check(issues)?;
        let (carried, _, _) = asked.beside(rec, set, stirrups + added);
        let factor = if set == StrengthSet::Design { wraps.scheme.factor() } else { 1.0 };
        Ok(added + carried * factor)
    }
}
