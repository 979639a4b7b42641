//! Elastic sections: gross and transformed, of one concrete or of two, and stresses stage by stage.

use super::outline::Properties;
use super::section::Cut;
use crate::error::{Error, Issue, slug};
use crate::units::{Moment, Stress};

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
        let first = self.before_topping();
        let alone = first.gross()?;
        let whole = self.gross()?;
        let (p, e) = (
            first.prestress_force(),
            first.prestress_depth().map_or(0.0, |d| d.si() - alone.centroid.si()),
        );
        let own = before.si() - p.si() * e;
        let mean = -Stress::over(p, alone.area).si();
        let at = |z: f64| {
            // tension positive; z from the upper face of all
            let over = self.topping.as_ref().map_or(0.0, |l| l.depth.si());
            let alone_part = own * (z - over - alone.centroid.si()) / alone.second_moment.si();
            let whole_part = after.si() * (z - whole.centroid.si()) / whole.second_moment.si();
            (mean + alone_part, whole_part)
        };
        let sum = |z: f64| {
            let (a, b) = at(z);
            Stress::from_si(a + b)
        };
        let over = self.topping.as_ref().map(|l| l.depth.si());
        let ratio = self.ratio()?;
        let in_topping = |z: f64| over.map(|_| Stress::from_si(ratio * at(z).1));
        Ok(StagedStresses {
            topping_top: in_topping(0.0),
            topping_bottom: in_topping(over.unwrap_or(0.0)),
            top: sum(over.unwrap_or(0.0)),
            bottom: sum(self.height().si()),
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
