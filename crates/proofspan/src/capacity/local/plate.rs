//! Bending of a plate between what presses and what bears.

use super::acts::{LocalFound, checks, factors, reduced};
use crate::capacity::material::SteelStress;
use crate::capacity::shape::Size;
use crate::capacity::shear::Reduction;
use crate::error::{Error, Issue, slug};
use crate::formula::{Recorder, Working};
use crate::source::rule::Positive;
use crate::source::{Given, validate_single};
use crate::units::{Force, Length, Message, Quantified, Ratio, Stress};
use crate::verdict::Note;

crate::laws! {
    /// Reach of the plate beyond what presses on it.
    pub fn overhang(b: Length as "B", c: Length as "c") -> Length as "m" = (b - c) / 2.0;
    source "geometry";
    /// Force at which the overhang of a plate under even pressure begins to yield: F/(B W) W m²/2 = f_y W t²/6.
    pub fn plate_force(fy: Stress as "f_y", w: Length as "W", t: Length as "t", b: Length as "B", m: Length as "m") -> Force as "F" = Force::of_stress(fy, w * t) * ((t / m) * (b / m) / 3.0);
    source "cantilever under even pressure, elastic section modulus (library rule)";
}

crate::record! {
    /// A plate that spreads a force: even pressure below, bending beyond what presses on it.
    pub struct Plate {
        /// Thickness.
        thickness: Given<Length, Size>,
        /// Yield strength, specified.
        yields: Given<Stress, SteelStress>,
        /// Its mean; the specified one where it is left out.
        mean_yield: Option<Given<Stress, SteelStress>>,
        /// Side of the plate along which it bends.
        side: Given<Length, Size>,
        /// The other side.
        width: Given<Length, Size>,
        /// What presses on it, along the first side: the ram, the post.
        pressed: Given<Length, Size>,
        /// Reduction of the yield strength.
        phi: Option<Given<Ratio, Reduction>>,
        /// Force of the test.
        test: Option<Given<Force, Positive>>,
        /// Force of the catch.
        catch: Option<Given<Force, Positive>>,
    }
}

const CLAUSE: &str = "bending of a plate, first yield (library rule)";

impl Plate {
    /// A plate under a ram or post.
    #[must_use]
    pub const fn of(
        thickness: Length,
        yields: Stress,
        (side, width): (Length, Length),
        pressed: Length,
    ) -> Self {
        Self {
            thickness: Given::known(thickness),
            yields: Given::known(yields),
            mean_yield: None,
            side: Given::known(side),
            width: Given::known(width),
            pressed: Given::known(pressed),
            phi: None,
            test: None,
            catch: None,
        }
    }

    /// The force it spreads, and each action against it.
    ///
    /// # Errors
    /// All at once: a value that its rule refuses; `capacity.shape` where the plate does not reach beyond
    /// what presses on it; `source.field-missing` for the factor where an action is to be checked.
    pub fn check(&self) -> Result<LocalFound, Error> {
        validate_single(self)?;
        let mut issues = Vec::new();
        if self.pressed.value >= self.side.value {
            let message = "the plate does not reach beyond what presses on it: it spreads nothing";
            issues.push(
                Issue::new(slug::CAPACITY_SHAPE, "pressed", message)
                    .value(self.pressed.said())
                    .limit(Message::new("less than {}", [self.side.said()])),
            );
        }
        let actions = (&self.test, &self.catch);
        factors(("phi", self.phi.is_some()), actions, &mut issues);
        Error::check(issues)?;
        let mut working = Working::default();
        let m = overhang(&mut working, self.side.value, self.pressed.value);
        let (t, b, w) = (self.thickness.value, self.side.value, self.width.value);
        working.about(|| "Expected: mean strength, no reduction");
        let mean = self.mean_yield.as_ref().unwrap_or(&self.yields).value;
        let expected = plate_force(&mut working, mean, w, t, b, m);
        let design = self.phi.as_ref().map(|phi| {
            working.about(|| "Design: specified strength, reduced");
            let force = plate_force(&mut working, self.yields.value, w, t, b, m);
            reduced(&mut working, force, phi.value.value())
        });
        let mut noted = Vec::new();
        if design.is_none() {
            let message = "no design strength: its factors are not given";
            noted.push(Note::new(slug::CAPACITY_FACTORS, "", message));
        }
        let limit = design.unwrap_or(Force::ZERO).si();
        let code = (slug::CAPACITY_PLATE, CLAUSE);
        let found = LocalFound {
            clause: CLAUSE,
            mode: "yield of the plate, ductile",
            expected: Some(expected),
            design,
            checks: checks(code, limit, actions, Quantified::quantity),
            notes: noted,
            left_out: vec![
                "bending of the plate the other way",
                "pressure that is not even: a plate that is not bedded",
            ],
            working: Working::default(),
        };
        Ok(found.worked(working))
    }
}
