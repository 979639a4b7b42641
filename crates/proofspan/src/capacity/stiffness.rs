//! Second moments of a section: gross, transformed, cracked, and what lies between.
//!
//! Two predictions always: the stiff one is the section without a crack, the soft one the smallest
//! of the interaction formulas. They differ most just above the cracking moment.

use super::section::{Cut, Face};
use crate::error::{Error, Issue, slug};
use crate::formula::Recorder;
use crate::units::{Length, Moment, SecondMoment};

crate::laws! {
    /// Effective second moment, from two thirds of the cracking moment on; gross below.
    pub fn effective_two_thirds(mcr: Moment as "M_cr", ma: Moment as "M_a", ig: SecondMoment as "I_g", icr: SecondMoment as "I_cr") -> SecondMoment as "I_e" = icr / (1.0 - min(2.0 / 3.0 * (mcr / ma), 1.0) * min(2.0 / 3.0 * (mcr / ma), 1.0) * (1.0 - icr / ig));
    source "ACI 318-19, 24.2.3.5";
    /// Effective second moment by the cube of the ratio of moments; gross up to the cracking moment.
    pub fn effective_cube(mcr: Moment as "M_cr", ma: Moment as "M_a", ig: SecondMoment as "I_g", icr: SecondMoment as "I_cr") -> SecondMoment as "I_e" = icr + (ig - icr) * (min(mcr / ma, 1.0) * min(mcr / ma, 1.0) * min(mcr / ma, 1.0));
    source "ACI 318 before 2019";
    /// Share of the cracked state, of a section that is cracked; the factor of load is an input.
    pub fn distribution(beta: f64 as "beta", mcr: Moment as "M_cr", ma: Moment as "M_a") -> f64 as "zeta" = 1.0 - beta * min(mcr / ma, 1.0) * min(mcr / ma, 1.0);
    source "EN 1992-1-1:2004, distribution coefficient of tension stiffening, from memory";
    /// Second moment whose curvature lies between uncracked and cracked.
    pub fn effective_between(zeta: f64 as "zeta", ig: SecondMoment as "I_g", icr: SecondMoment as "I_cr") -> SecondMoment as "I_e" = icr / (zeta + (1.0 - zeta) * (icr / ig));
    source "curvature = zeta of the cracked state and the rest of the uncracked one";
}

crate::choice! {
    /// How a cracked stretch works together with the concrete between the cracks.
    pub enum Interaction ("interaction", source::SOURCE_CHOICE) {
        /// From two thirds of the cracking moment on.
        TwoThirds = "ACI 318-19",
        /// By the cube of the ratio of moments.
        Cube = "ACI 318 before 2019",
        /// Tension stiffening; wants the factor of the load.
        Stiffening = "EN 1992-1-1:2004",
    }
}

crate::rule! {
    /// The factor of tension stiffening for the kind of load, from a copy of the edition.
    pub LoadFactor { above 0.0 SOURCE_SIGN, most 1.0 SOURCE_SHARE }
}

crate::answer! {
    /// An effective second moment.
    pub struct EffectiveMoment {
        /// By which formula.
        by: Interaction,
        /// The second moment.
        second_moment: SecondMoment,
    }
}

crate::answer! {
    /// Second moments of a section in units of its concrete, one face in tension.
    pub struct SecondMoments {
        /// The face in tension.
        face: Face,
        /// Without steel.
        gross: SecondMoment,
        /// With steel.
        transformed: SecondMoment,
        /// Cracked: concrete in compression and steel; of tendons the steel alone, not their force.
        cracked: SecondMoment,
        /// Depth of the neutral axis of the cracked section from the compressed face.
        neutral_axis: Length,
        /// Under the moment asked about, by each formula.
        effective: Vec<EffectiveMoment>,
    }
}

impl Interaction {
    /// The effective second moment under a total moment; sizes of moments. `load` is the factor of
    /// tension stiffening, which the others do not ask for.
    ///
    /// # Errors
    /// `source.field-missing` for tension stiffening without its factor.
    pub fn effective<R: Recorder>(
        self,
        recorder: &mut R,
        (mcr, ma): (Moment, Moment),
        (ig, icr): (SecondMoment, SecondMoment),
        load: Option<f64>,
    ) -> Result<SecondMoment, Error> {
        let least = match self {
            Self::TwoThirds => mcr * (2.0 / 3.0),
            Self::Cube | Self::Stiffening => mcr,
        };
        if ma <= least {
            return Ok(ig);
        }
        Ok(match self {
            Self::TwoThirds => effective_two_thirds(recorder, mcr, ma, ig, icr),
            Self::Cube => effective_cube(recorder, mcr, ma, ig, icr),
            Self::Stiffening => {
                let Some(beta) = load else {
                    let message = "tension stiffening asks for the factor of the kind of load";
                    let issue = Issue::new(slug::SOURCE_FIELD_MISSING, "load_factor", message);
                    return Err(issue.into());
                };
                let zeta = distribution(recorder, beta, mcr, ma);
                effective_between(recorder, zeta, ig, icr)
            }
        })
    }
}

impl Cut {
    /// Neutral axis from the compressed face and second moment of the cracked section: concrete in
    /// compression, bonded steel by its modulus, less the concrete it takes the place of.
    ///
    /// # Errors
    /// `capacity.modulus`; `capacity.equilibrium` without bonded steel in tension.
    pub fn cracked(&self, face: Face) -> Result<(Length, SecondMoment), Error> {
        let modulus = self.modulus()?;
        let ratio = self.ratio()?;
        let height = self.height().si();
        let turned = face == Face::Top;
        let down = |z: f64| if turned { height - z } else { z };
        let outline = if turned { self.outline.turned() } else { self.outline.clone() };
        let (change, near, far) = match (&self.topping, turned) {
            (None, _) => (height, 1.0, 1.0),
            (Some(l), false) => (l.depth.si(), ratio, 1.0),
            (Some(l), true) => (height - l.depth.si(), 1.0, ratio),
        };
        let steels: Vec<(f64, f64, f64)> = self
            .steel
            .iter()
            .filter(|s| s.bonded)
            .map(|s| (s.area.si(), down(s.depth.si()), s.modulus / modulus))
            // strips pull on the face that opens
            .chain(
                self.strips
                    .iter()
                    .filter(|s| s.face == face)
                    .map(|s| (s.area.si(), height, s.modulus / modulus)),
            )
            .collect();
        // ∫ weight (c − z)ᵏ for k = 1, 2: first and second moment about the neutral axis
        let about = |c: f64| {
            let a = outline.moments(0.0, c.min(change));
            let b = outline.moments(change, c.max(change));
            let sum = |i: usize| {
                near * a.get(i).copied().unwrap_or(0.0) + far * b.get(i).copied().unwrap_or(0.0)
            };
            let (area, first, second) = (sum(0), sum(1), sum(2));
            let mut found = (c * area - first, c * c * area - 2.0 * c * first + second);
            for (area, d, n) in &steels {
                let n = if *d < c { n - if *d < change { near } else { far } } else { *n };
                found.0 -= n * area * (d - c);
                found.1 += n * area * (d - c) * (d - c);
            }
            found
        };
        let (mut low, mut high) = (0.0, height);
        if !(about(low).0 < 0.0 && about(high).0 > 0.0) {
            let message = "no bonded steel in tension: a cracked section has no stiffness";
            return Err(Issue::new(slug::CAPACITY_EQUILIBRIUM, "section", message).into());
        }
        while high - low > 2.0 * f64::EPSILON * height {
            let middle = f64::midpoint(low, high);
            if middle <= low || middle >= high {
                break;
            }
            if about(middle).0 < 0.0 { low = middle } else { high = middle }
        }
        let c = f64::midpoint(low, high);
        Ok((Length::from_si(c), SecondMoment::from_si(about(c).1)))
    }
}
