//! Bearing pressure under a jack, post, wheel or weight.

use super::acts::{LocalFound, checks, factors, notes, reduced};
use crate::capacity::material::ConcreteStress;
use crate::capacity::shear::Reduction;
use crate::error::{Error, Issue, slug};
use crate::formula::{Recorder, Working};
use crate::source::rule::Positive;
use crate::source::{Given, validate_single};
use crate::units::{Area, Force, Message, Quantified, Ratio, Stress};

crate::laws! {
    /// Force that the concrete under a plate carries.
    pub fn bearing(fc: Stress as "f'c", a1: Area as "A_1", a2: Area as "A_2") -> Force as "P_n" = Force::of_stress(0.85 * fc, a1) * min(2.0, sqrt(a2 / a1));
    source "ACI 318, A_2/A_1 up to 4, from memory";
}

crate::record! {
    /// Bearing pressure on concrete.
    ///
    /// ```
    /// use proofspan::capacity::local::Bearing;
    /// use proofspan::units::*;
    ///
    /// // 0.85 · 3000 psi on 6 by 6 in, spread to four times that area
    /// let found = Bearing::of(3000.0 * PSI, 36.0 * IN2, 144.0 * IN2).check()?;
    /// assert_eq!(found.expected.map(|p| p.to(LBF).round()), Some(183_600.0));
    /// # Ok::<(), proofspan::error::Error>(())
    /// ```
    pub struct Bearing {
        /// Concrete strength, specified.
        strength: Given<Stress, ConcreteStress>,
        /// Its mean; the specified one where it is left out, and a note says so.
        mean_strength: Option<Given<Stress, ConcreteStress>>,
        /// The loaded area A_1.
        area: Given<Area, Positive>,
        /// The area A_2 it spreads to, alike in shape and around the same middle.
        spread: Given<Area, Positive>,
        /// Strength reduction factor of bearing.
        phi: Option<Given<Ratio, Reduction>>,
        /// Force of the test.
        test: Option<Given<Force, Positive>>,
        /// Force of the catch.
        catch: Option<Given<Force, Positive>>,
    }
}

const CLAUSE: &str = "ACI 318, bearing, φ 0.85 f'c √(A_2/A_1)";

impl Bearing {
    /// A plate on concrete.
    #[must_use]
    pub const fn of(strength: Stress, area: Area, spread: Area) -> Self {
        Self {
            strength: Given::known(strength),
            mean_strength: None,
            area: Given::known(area),
            spread: Given::known(spread),
            phi: None,
            test: None,
            catch: None,
        }
    }

    /// The strength, and each action against it.
    ///
    /// # Errors
    /// All at once: a value that its rule refuses; `capacity.shape` where it spreads to less than the
    /// loaded area; `source.field-missing` for the factor where an action is to be checked.
    pub fn check(&self) -> Result<LocalFound, Error> {
        validate_single(self)?;
        let mut issues = Vec::new();
        let (a1, a2) = (self.area.value, self.spread.value);
        if a2 < a1 {
            let message = "the area that the pressure spreads to is smaller than the loaded one";
            issues.push(
                Issue::new(slug::CAPACITY_SHAPE, "spread", message)
                    .value(self.spread.said())
                    .limit(Message::new("at least {}", [self.area.said()])),
            );
        }
        let actions = (&self.test, &self.catch);
        factors(("phi", self.phi.is_some()), actions, &mut issues);
        Error::check(issues)?;
        let mut working = Working::default();
        working.about(|| "Expected: mean strength, no reduction");
        let mean = self.mean_strength.as_ref().unwrap_or(&self.strength).value;
        let expected = bearing(&mut working, mean, a1, a2);
        let design = self.phi.as_ref().map(|phi| {
            working.about(|| "Design: specified strength, reduced");
            let nominal = bearing(&mut working, self.strength.value, a1, a2);
            reduced(&mut working, nominal, phi.value.value())
        });
        let mut noted = notes(self.mean_strength.is_some(), design.is_some());
        if a2 / a1 > 4.0 {
            let message =
                "the area that the pressure spreads to counts up to four times the loaded one";
            noted.push(crate::verdict::Note::new(slug::CAPACITY_CAPPED, "spread", message));
        }
        let limit = design.unwrap_or(Force::ZERO).si();
        let code = (slug::CAPACITY_BEARING, CLAUSE);
        let found = LocalFound {
            clause: CLAUSE,
            mode: "crushing under the plate, brittle",
            expected: Some(expected),
            design,
            checks: checks(code, limit, actions, Quantified::quantity),
            notes: noted,
            left_out: vec!["splitting, and the edge of the member beside the plate"],
            working: Working::default(),
        };
        Ok(found.worked(working))
    }
}
