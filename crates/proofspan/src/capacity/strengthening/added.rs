//! External stirrups, post-installed bars in shear, and bonded strips in flexure: what they add by statics,
//! from stresses and strains that the engineer gives.
//!
//! No edition known here has formulas for their anchorage or for debonding: the stress that an anchorage lets
//! a bar reach, and the strain at which a strip comes off, are inputs.

use super::wraps::{FibreModulus, FibreStrain};
use crate::capacity::material::SteelStress;
use crate::capacity::shape::Size;
use crate::error::{Error, Issue, slug};
use crate::formula::Working;
use crate::source::rule::Positive;
use crate::source::{Given, Node, Write, validate_single};
use crate::units::{Area, AxialRigidity, Force, Length, Message, Moment, Strain, Stress};

crate::laws! {
    /// Shear of vertical bars over a crack at 45°.
    pub fn added_shear(a: Area as "A", s: Length as "s", f: Stress as "f_reached", d: Length as "d") -> Force as "V_added" = Force::of_stress(f, a * (d / s));
    source "equilibrium over a crack at 45°; the stress as given";
    /// Strain of a strip when the concrete crushes, less what was there when it was bonded.
    pub fn strip_strain(ecu: Strain as "eps_cu", df: Length as "d_f", c: Length as "c", ebi: Strain as "eps_bi") -> Strain as "eps_f" = ecu * ((df - c) / c) - ebi;
    source "plane sections";
    /// Strain that counts: up to debonding, never below zero.
    pub fn strip_reached(ef: Strain as "eps_f", efd: Strain as "eps_fd") -> Strain as "eps_fe" = max(min(ef, efd), 0.0 * efd);
    source "plane sections; the debonding strain as given";
    /// Force of a strip.
    pub fn strip_force(a: Area as "A_f", e: Stress as "E_f", eps: Strain as "eps_fe") -> Force as "T_f" = AxialRigidity::of(e, a) * eps;
    source "Hooke";
    /// Its moment about the resultant of the compressed concrete.
    pub fn strip_moment(t: Force as "T_f", df: Length as "d_f", k: Length as "z_c") -> Moment as "M_f" = t * (df - k);
    source "equilibrium";
}

crate::record! {
    /// External stirrups or bars that were drilled in, per member unit.
    pub struct AddedStirrups {
        /// Area of all legs at one place.
        area: Given<Area, Positive>,
        /// Spacing along the member.
        spacing: Given<Length, Size>,
        /// Stress that their anchorage lets them reach; the engineer's, from tests or from what they were installed by.
        reached: Given<Stress, SteelStress>,
        /// Depth between their anchorages, not more than the effective depth.
        depth: Given<Length, Size>,
    }
}

/// What added stirrups carry.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct AddedShear {
    /// The shear, without reduction.
    pub shear: Force,
    working: Working,
}

impl AddedStirrups {
    /// Bars of this area at this spacing.
    #[must_use]
    pub const fn of(area: Area, spacing: Length, reached: Stress, depth: Length) -> Self {
        Self {
            area: Given::known(area),
            spacing: Given::known(spacing),
            reached: Given::known(reached),
            depth: Given::known(depth),
        }
    }

    /// What they carry over a crack at 45°.
    ///
    /// # Errors
    /// A value that its rule refuses.
    pub fn check(&self) -> Result<AddedShear, Error> {
        validate_single(self)?;
        let mut working = Working::default();
        let (a, s) = (self.area.value, self.spacing.value);
        let shear = added_shear(&mut working, a, s, self.reached.value, self.depth.value);
        Ok(AddedShear { shear, working })
    }
}

impl AddedShear {
    /// The one line redone with a pencil.
    #[must_use]
    pub const fn working(&self) -> &Working {
        &self.working
    }
}

impl Write for AddedShear {
    fn write(&self) -> Node {
        Node::map(vec![("shear", self.shear.write())])
    }
}

crate::record! {
    /// A bonded strip in flexure at a neutral axis that is known.
    pub struct BondedStrip {
        /// Area of the strip.
        area: Given<Area, Positive>,
        /// Its modulus of elasticity.
        modulus: Given<Stress, FibreModulus>,
        /// Its depth below the compressed face.
        depth: Given<Length, Size>,
        /// Strain at which it comes off; the engineer's.
        debonding_strain: Given<Strain, FibreStrain>,
        /// Tension strain of the face it was bonded to, at that time, under what was in place.
        installed_strain: Given<Strain>,
        /// Strain at which the concrete crushes.
        crushing_strain: Given<Strain, Positive>,
        /// Depth of the neutral axis.
        neutral_axis: Given<Length, Size>,
        /// Depth of the resultant of the compressed concrete.
        compression: Given<Length, Size>,
    }
}

/// What a strip adds.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct StripFound {
    /// Strain that counts.
    pub strain: Strain,
    /// Whether it comes off before the concrete crushes.
    pub debonds: bool,
    /// Its force.
    pub force: Force,
    /// Its moment about the compressed concrete, without reduction.
    pub moment: Moment,
    working: Working,
}

impl BondedStrip {
    /// What it adds.
    ///
    /// # Errors
    /// A value that its rule refuses; `capacity.shape` where neutral axis, compression and strip do not
    /// lie below each other.
    pub fn check(&self) -> Result<StripFound, Error> {
        validate_single(self)?;
        let (c, k, df) = (self.neutral_axis.value, self.compression.value, self.depth.value);
        if !(k < c && c < df) {
            let message = "the resultant of the compression, the neutral axis and the strip lie below each other";
            let limit = Message::new("compression < neutral axis < {}", [self.depth.said()]);
            let issue = Issue::new(slug::CAPACITY_SHAPE, "neutral_axis", message);
            return Err(issue.value(self.neutral_axis.said()).limit(limit).into());
        }
        let mut working = Working::default();
        let rec = &mut working;
        let (ecu, ebi) = (self.crushing_strain.value, self.installed_strain.value);
        let strain = strip_strain(rec, ecu, df, c, ebi);
        let reached = strip_reached(rec, strain, self.debonding_strain.value);
        let force = strip_force(rec, self.area.value, self.modulus.value, reached);
        let moment = strip_moment(rec, force, df, k);
        let debonds = strain > self.debonding_strain.value;
        Ok(StripFound { strain: reached, debonds, force, moment, working })
    }
}

impl StripFound {
    /// Every line redone with a pencil.
    #[must_use]
    pub const fn working(&self) -> &Working {
        &self.working
    }
}

impl Write for StripFound {
    fn write(&self) -> Node {
        Node::map(vec![
            ("strain", self.strain.write()),
            ("debonds", self.debonds.write()),
            ("force", self.force.write()),
            ("moment", self.moment.write()),
        ])
    }
}
