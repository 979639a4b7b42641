//! Strips and sheets bonded to a face, which carry tension in flexure.
//!
//! The strain at which one comes off is the engineer's, or that of the guide; towards its ends it carries as
//! much as its bond has taken up. Where the rest of the section carries more without it than with it, it
//! comes off first and the rest is what counts.

use super::face::Face;
use super::material::StrengthSet;
use super::shape::Size;
use super::shear::Reduction;
use super::steel::{AlongMember, in_order};
use super::strengthening::{FibreModulus, FibreStrain, Ply};
use crate::formula::Recorder;
use crate::source::Given;
use crate::source::rule::{Count, Positive};
use crate::units::{Area, Length, Ratio, Strain, Stress};

crate::laws! {
    /// Strain at which a strip in flexure comes off between its ends; thickness in the unit of length of the metric form.
    pub fn comes_off(fc: Stress as "f'c", e: Stress as "E_f", n: f64 as "n", t: Length as "t_f", unit: Length as "1 mm", efu: f64 as "eps_fu") -> f64 as "eps_fd" = min(0.41 * sqrt(fc / e * (unit / (n * t))), 0.9 * efu);
    source "ACI 440.2R-08, flexure, metric form as a published study of its reliability programs it";
    /// Strain up to which the bond on one side of a place has taken up its force.
    pub fn bonded_here(efd: f64 as "eps_fd", part: f64 as "part") -> f64 as "eps_here" = part * efd;
    source "Hooke: a bond of even stress takes up the force in proportion to its length";
}

/// What a prediction of strips does not hold.
pub(super) const STRIPS_LEFT_OUT: &str = "strips in flexure: peeling of their ends and of the cover there; the block of the edition stands also where they come off before the concrete crushes";

crate::rule! {
    /// Tension strain of a face when a strip was bonded to it: up to 1 %, compression negative (library rule).
    pub Installed { least -0.01 SOURCE_MAGNITUDE, most 0.01 SOURCE_MAGNITUDE }
}

crate::record! {
    /// Strips or a sheet of fibres bonded to a face along the member, on one member unit.
    pub struct Strip {
        /// The face they are bonded to.
        face: Face = Face::Bottom,
        /// Width of all strips side by side.
        width: Given<Length, Size>,
        /// Thickness of one ply.
        thickness: Given<Length, Ply>,
        /// Plies.
        plies: u32 where Count = 1,
        /// Modulus of elasticity along the member.
        modulus: Given<Stress, FibreModulus>,
        /// Ultimate strain for design, the environment counted.
        ultimate_strain: Given<Strain, FibreStrain>,
        /// Strain at which they come off, of tests or of an edition; that of ACI 440.2R-08 where it is left out.
        debonding_strain: Option<Given<Strain, FibreStrain>>,
        /// Tension strain of the face when they were bonded, under what was in place then; compression negative.
        installed_strain: Given<Strain, Installed>,
        /// Length of bond at each end over which they take up their force.
        development: Given<Length, Positive>,
        /// Where they begin, from the left end of the member; there where it is left out.
        from: Option<Given<Length, AlongMember>>,
        /// Where they end; at the right end of the member where it is left out.
        to: Option<Given<Length, AlongMember>>,
        /// Factor of the design set on the moment they bring, from a copy of the edition; without it the design set does not count them.
        factor: Option<Given<Ratio, Reduction>>,
    }
    rules { in_order[from, to]; }
}

/// Strips on a section at one place.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct BondedHere {
    /// Where they stand in the section: `strips[0]`.
    pub path: String,
    /// The face they are bonded to.
    pub face: Face,
    /// Area on one member unit.
    pub area: Area,
    /// Modulus of elasticity.
    pub modulus: Stress,
    /// Tension strain of the face when they were bonded.
    pub installed: Strain,
    /// The part of their force that the bond has taken up here.
    pub anchored: f64,
    /// Factor of the design set on what they bring.
    pub factor: Option<f64>,
    plies: f64,
    thickness: Length,
    ultimate: Strain,
    given: Option<Strain>,
}

impl BondedHere {
    /// The strain they reach in one set, and whether they break there: they come off where not.
    pub(super) fn reaches<R: Recorder>(&self, rec: &mut R, fc: Stress) -> (f64, bool) {
        let ultimate = self.ultimate.si();
        let all = match self.given {
            Some(given) => given.si().min(ultimate),
            None => {
                let mm = Length::from_si(0.001);
                comes_off(rec, fc, self.modulus, self.plies, self.thickness, mm, ultimate)
            }
        };
        let breaks = self.anchored >= 1.0 && self.given.map_or(0.9 * ultimate, |_| ultimate) <= all;
        if self.anchored < 1.0 {
            return (bonded_here(rec, all, self.anchored), false);
        }
        (all, breaks)
    }

    /// Whether they count in a set: in the design set with their factor.
    pub(super) fn counts(&self, set: StrengthSet) -> bool {
        set == StrengthSet::Expected || self.factor.is_some()
    }
}

impl Strip {
    /// Strips at a place; nothing where there are none.
    pub(super) fn at(&self, path: String, x: Length, length: Length) -> Option<BondedHere> {
        let from = self.from.as_ref().map_or(Length::ZERO, |f| f.value);
        let to = self.to.as_ref().map_or(length, |t| t.value);
        let near = (x - from).min(to - x);
        (near > Length::ZERO).then(|| BondedHere {
            path,
            face: self.face,
            area: self.width.value * self.thickness.value * f64::from(self.plies),
            modulus: self.modulus.value,
            installed: self.installed_strain.value,
            anchored: (near / self.development.value).min(1.0),
            factor: self.factor.as_ref().map(|f| f.value.value()),
            plies: f64::from(self.plies),
            thickness: self.thickness.value,
            ultimate: self.ultimate_strain.value,
            given: self.debonding_strain.as_ref().map(|d| d.value),
        })
    }
}
