//! Elastic sections: gross and transformed, of one concrete or of two, and stresses stage by stage.

use super::outline::Properties;
use super::section::Cut;
use crate::error::{Error, Issue, slug};
use crate::formula::{NoRecord, Recorder};
use crate::units::{Force, Length, Moment, SecondMoment, Stress};

crate::laws! {
    /// Stress at a depth, tension positive: prestress and what acts first on the section alone, the rest on the whole.
    pub fn stress_by_stages(mean: Stress as "f_pc", m1: Moment as "M_1", p: Force as "P_e", e: Length as "e", z1: Length as "z_1", i1: SecondMoment as "I_1", m2: Moment as "M_2", z2: Length as "z_2", i2: SecondMoment as "I_2") -> Stress as "f" = (m1 - p * e) * z1 / i1 + m2 * z2 / i2 - mean;
    source "f = M_1 z_1/I_1 + M_2 z_2/I_2 − P/A − P e z_1/I_1, plane sections";
    /// Stress in a topping, which knows what acts on the whole section only.
    pub fn stress_in_topping(n: f64 as "n", m2: Moment as "M_2", z2: Length as "z_2", i2: SecondMoment as "I_2") -> Stress as "f_top" = n * (m2 * z2 / i2);
    source "f = n M_2 z_2/I_2, plane sections";
}

/// What is said of a prestress beyond the core.
pub(super) const BEYOND_CORE: &str =
    "the prestress lies beyond the core: alone it pulls on the other face";

impl Cut {
    /// Gross properties, without steel: of a section with a topping in units of the concrete below
    /// it, so that a stress in the topping is the ratio of the moduli times what the section modulus
    /// gives.
    ///
    /// # Errors
    /// `capacity.modulus` where two concretes act together and a modulus is not given.
    pub fn gross(&self) -> Result<Properties, Error> {
        let height = self.height().si();
        Ok(Properties::of_moments(self.concrete_moments()?, height))
    }

    /// Whether the prestress alone pulls on the face away from it: it lies beyond the core.
    pub(super) fn beyond_core(&self) -> bool {
        let alone = self.before_topping();
        let (Ok(own), Some(depth)) = (alone.gross(), alone.prestress_depth()) else { return false };
        let e = (depth - own.centroid).abs().si();
        let core = if depth > own.centroid { own.top } else { own.bottom };
        e > core.si() / own.area.si()
    }

    /// Properties with every bonded steel counted by its modulus, less the concrete it takes the place of.
    ///
    /// # Errors
    /// `capacity.modulus` where the modulus of a concrete is not given.
    pub fn transformed(&self) -> Result<Properties, Error> {
        let modulus = self.modulus()?;
        let mut sums = self.concrete_moments()?;
        for steel in self.steel.iter().filter(|s| s.bonded) {
            let area = (steel.modulus / modulus - 1.0) * steel.area.si();
            let z = steel.depth.si();
            let more = [area, area * z, area * z * z];
            sums.iter_mut().zip(more).for_each(|(sum, part)| *sum += part);
        }
        Ok(Properties::of_moments(sums, self.height().si()))
    }

    /// The modulus of the concrete, below the topping.
    pub(crate) fn modulus(&self) -> Result<Stress, Error> {
        let given = self.concrete.modulus.as_ref().map(|m| m.value);
        given.ok_or_else(|| missing("concrete.modulus"))
    }

    /// The ratio of the moduli, topping over section; one without a topping.
    pub(crate) fn ratio(&self) -> Result<f64, Error> {
        let Some(layer) = &self.topping else { return Ok(1.0) };
        let given = layer.concrete.modulus.as_ref();
        let modulus = given.ok_or_else(|| missing("topping.concrete.modulus"))?.value;
        Ok(modulus / self.modulus()?)
    }

    /// ∫b, ∫b z, ∫b z², the topping by the ratio of its modulus.
    fn concrete_moments(&self) -> Result<[f64; 3], Error> {
        let height = self.height().si();
        let Some(layer) = &self.topping else { return Ok(self.outline.moments(0.0, height)) };
        let ratio = self.ratio()?;
        let above = self.outline.moments(0.0, layer.depth.si());
        let mut sums = self.outline.moments(layer.depth.si(), height);
        sums.iter_mut().zip(above).for_each(|(sum, part)| *sum += ratio * part);
        Ok(sums)
    }

    /// Stresses of a section that was loaded before its topping acted and after; without a topping
    /// all of it acts on the one section. The prestress acts on the section alone.
    ///
    /// # Errors
    /// `capacity.modulus` where two concretes act together and a modulus is not given.
    pub fn stresses(&self, before: Moment, after: Moment) -> Result<StagedStresses, Error> {
        self.staged(&mut NoRecord, before, after)
    }

    /// The same, law by law.
    pub(crate) fn staged<R: Recorder>(
        &self,
        rec: &mut R,
        before: Moment,
        after: Moment,
    ) -> Result<StagedStresses, Error> {
        let first = self.before_topping();
        let alone = first.gross()?;
        let whole = self.gross()?;
        let (p, e) = (
            first.prestress_force(),
            first.prestress_depth().map_or(Length::ZERO, |d| d - alone.centroid),
        );
        let mean = Stress::over(p, alone.area);
        let over = self.topping.as_ref().map(|l| l.depth);
        // depths from the upper face of all
        let mut sum = |z: Length| {
            let own = z - over.unwrap_or(Length::ZERO) - alone.centroid;
            let (i, all) = (alone.second_moment, whole.second_moment);
            stress_by_stages(rec, mean, before, p, e, own, i, after, z - whole.centroid, all)
        };
        let top = sum(over.unwrap_or(Length::ZERO));
        let bottom = sum(self.height());
        let ratio = self.ratio()?;
        let mut in_topping = |z: Length| {
            let z = z - whole.centroid;
            over.map(|_| stress_in_topping(rec, ratio, after, z, whole.second_moment))
        };
        Ok(StagedStresses {
            topping_top: in_topping(Length::ZERO),
            topping_bottom: in_topping(over.unwrap_or(Length::ZERO)),
            top,
            bottom,
        })
    }
}

fn missing(path: &str) -> Error {
    Issue::new(slug::CAPACITY_MODULUS, path, "the modulus of a concrete is not given").into()
}

crate::answer! {
    /// Stresses of the concrete at its faces, tension positive.
    pub struct StagedStresses {
        /// Upper face of the topping.
        topping_top: Option<Stress>,
        /// Lower face of the topping.
        topping_bottom: Option<Stress>,
        /// Upper face of the section itself.
        top: Stress,
        /// Lower face.
        bottom: Stress,
    }
}
