//! Punching of a slab by a column, post, prop, jack or wheel.
//!
//! ACI 318-19 in the units of pounds and inches: of its metric form one constant of three is known here,
//! so it is refused. EN 1992-1-1:2004 at its perimeter 2 d from the face.

use super::acts::{LocalFound, checks, factors, notes, reduced};
use crate::capacity::material::{ConcreteStress, Lightweight};
use crate::capacity::shape::Size;
use crate::capacity::shear::{AciForm, Reduction, ShearEdition};
use crate::error::{Error, Issue, slug};
use crate::formula::{NoRecord, Recorder, Working};
use crate::source::rule::{AtLeastOne, NotNegative, Positive};
use crate::source::{Given, validate_single};
use crate::units::{
    Force, Length, Message, Moment, Quantified, Ratio, SecondMoment, SectionModulus, Stress,
};

crate::laws! {
    /// Size effect.
    pub fn punching_size(d: Length as "d", size: Length as "d_0") -> f64 as "lambda_s" = min(1.0, sqrt(2.0 / (1.0 + d / size)));
    source "ACI 318-19 22.5.5.1.3";
    /// Punching strength as a stress: long sides and a long perimeter reduce it.
    pub fn punching_stress(unit: Stress as "u", beta: f64 as "beta", alpha: f64 as "alpha_s", d: Length as "d", bo: Length as "b_o", size: f64 as "lambda_s", lambda: f64 as "lambda", fc: Stress as "f'c") -> Stress as "v_c" = unit * (min(4.0, min(2.0 + 4.0 / beta, 2.0 + alpha * (d / bo))) * size * lambda * sqrt(fc / unit));
    source "ACI 318-19 22.6.5, from memory";
    /// Force that punches.
    pub fn punching_force(v: Stress as "v_c", bo: Length as "b_o", d: Length as "d") -> Force as "V_c" = Force::of_stress(v, bo * d);
    source "ACI 318-19 22.6, from memory";
    /// Part of the unbalanced moment that goes by shear.
    pub fn moment_part(b1: Length as "b_1", b2: Length as "b_2") -> f64 as "gamma_v" = 1.0 - 1.0 / (1.0 + 2.0 / 3.0 * sqrt(b1 / b2));
    source "ACI 318-19 8.4.4.2, from memory";
    /// Property of the perimeter inside a slab.
    pub fn interior_property(d: Length as "d", b1: Length as "b_1", b2: Length as "b_2") -> SecondMoment as "J" = d * b1 * (b1 * b1) / 6.0 + b1 * d * (d * d) / 6.0 + d * b2 * (b1 * b1) / 2.0;
    source "ACI 318-19 R8.4.4.2.3, from memory";
    /// Centroid of the perimeter at an edge, from the inner face.
    pub fn edge_centroid(b1: Length as "b_1", b2: Length as "b_2") -> Length as "c_AB" = b1 * b1 / (2.0 * b1 + b2);
    source "statics";
    /// Property of the perimeter at an edge.
    pub fn edge_property(d: Length as "d", b1: Length as "b_1", b2: Length as "b_2", c: Length as "c_AB") -> SecondMoment as "J" = 2.0 * (d * b1 * (b1 * b1) / 12.0 + b1 * d * (d * d) / 12.0 + b1 * d * ((b1 / 2.0 - c) * (b1 / 2.0 - c))) + b2 * d * (c * c);
    source "ACI 318-19 R8.4.4.2.3, from memory";
    /// Shear stress of a force and an unbalanced moment about the centroid of the perimeter.
    pub fn punching_demand(v: Force as "V", bo: Length as "b_o", d: Length as "d", gamma: f64 as "gamma_v", m: Moment as "M", c: Length as "c", j: SecondMoment as "J") -> Stress as "v" = Stress::over(v, bo * d) + gamma * (m / SectionModulus::per(j, c));
    source "ACI 318-19 8.4.4.2.3, from memory";
    /// Perimeter 2 d from the face of a rectangle inside a slab.
    pub fn en_perimeter(a: Length as "c_1", b: Length as "c_2", d: Length as "d", pi: f64 as "pi") -> Length as "u_1" = 2.0 * (a + b) + 4.0 * pi * d;
    source "EN 1992-1-1:2004 6.4.2, from memory";
    /// Size effect.
    pub fn en_punching_size(d: Length as "d", size: Length as "d_0") -> f64 as "k" = min(2.0, 1.0 + sqrt(size / d));
    source "EN 1992-1-1:2004 6.4.4, from memory";
    /// Punching strength as a stress.
    pub fn en_punching_stress(unit: Stress as "u", gamma: f64 as "γ_c", k: f64 as "k", rho: f64 as "rho_l", fck: Stress as "f_ck") -> Stress as "v_Rd,c" = unit * max(0.18 / gamma * k * pow(100.0 * rho * (fck / unit), 1.0 / 3.0), 0.035 * pow(k, 1.5) * sqrt(fck / unit));
    source "EN 1992-1-1:2004 (6.47), from memory";
    /// Force that punches, where it acts evenly.
    pub fn en_punching_force(v: Stress as "v_Rd,c", u: Length as "u_1", d: Length as "d") -> Force as "V_Rd,c" = Force::of_stress(v, u * d);
    source "EN 1992-1-1:2004 6.4, from memory";
    /// Force with its eccentricity.
    pub fn en_punching_demand(v: Force as "V", beta: f64 as "beta") -> Force as "beta V" = beta * v;
    source "EN 1992-1-1:2004 6.4.3, from memory";
}

crate::choice! {
    /// Where on the slab it stands.
    pub enum Place ("place", source::SOURCE_CHOICE) {
        /// Inside.
        Interior = "interior",
        /// At an edge.
        Edge = "edge",
        /// At a corner.
        Corner = "corner",
    }
}

crate::record! {
    /// Punching by a rectangle on a slab.
    ///
    /// ```
    /// use proofspan::capacity::local::Punching;
    /// use proofspan::capacity::shear::ShearEdition;
    /// use proofspan::units::*;
    ///
    /// // f'c 4000 psi, d 6.5 in, a column of 16 by 16 in: 4 √4000 on 90 in
    /// let side = 16.0 * IN;
    /// let found = Punching::of(ShearEdition::Aci, 4000.0 * PSI, 6.5 * IN, (side, side)).check()?;
    /// assert_eq!(found.expected.map(|p| p.to(LBF).round()), Some(147_995.0));
    /// # Ok::<(), proofspan::error::Error>(())
    /// ```
    pub struct Punching {
        /// By which formulas: ACI 318-19 or EN 1992-1-1:2004.
        code: ShearEdition,
        /// Concrete strength, specified.
        strength: Given<Stress, ConcreteStress>,
        /// Its mean; the specified one where it is left out, and a note says so.
        mean_strength: Option<Given<Stress, ConcreteStress>>,
        /// Factor of lightweight concrete, λ of ACI 318.
        lightweight: Given<Ratio, Lightweight> = Given::known(Ratio::from_si(1.0)),
        /// Mean effective depth of the slab.
        depth: Given<Length, Size>,
        /// Side of the loaded rectangle along which a moment turns; at an edge, at right angles to the edge.
        along: Given<Length, Size>,
        /// Its other side.
        across: Given<Length, Size>,
        /// Where it stands.
        place: Place = Place::Interior,
        /// The perimeter where it is not that of a whole rectangle: corners, openings, edges nearby.
        perimeter: Option<Given<Length, Size>>,
        /// Moment about the centroid of the perimeter, that goes with the test; at an edge it presses on the inner face.
        moment: Given<Moment, NotNegative> = Given::known(Moment::ZERO),
        /// Ratio of the bonded tension steel, EN 1992-1-1: the root of both directions multiplied.
        steel_ratio: Option<Given<Ratio, Positive>>,
        /// Factor of the eccentricity, EN 1992-1-1; 1.15, 1.4 or 1.5 by the place where it is left out.
        eccentricity: Option<Given<Ratio, AtLeastOne>>,
        /// Strength reduction factor, ACI 318.
        phi: Option<Given<Ratio, Reduction>>,
        /// Partial factor of the concrete, EN 1992-1-1.
        gamma_c: Option<Given<Ratio, AtLeastOne>>,
        /// Force of the test.
        test: Option<Given<Force, Positive>>,
        /// Force of the catch.
        catch: Option<Given<Force, Positive>>,
    }
}

const ACI: &str = "ACI 318-19 22.6, punching at d/2";
const EN: &str = "EN 1992-1-1:2004 6.4, punching at 2 d";
const MODE: &str = "punching, brittle";
const LEFT_OUT: &[&str] = &[
    "shear reinforcement, drops, openings that are not in the perimeter given",
    "crushing of the concrete at the face",
    "what a punched slab still hangs on: bottom bars through the column",
];

impl Punching {
    /// A rectangle inside a slab: its sides.
    #[must_use]
    pub const fn of(
        code: ShearEdition,
        strength: Stress,
        depth: Length,
        (along, across): (Length, Length),
    ) -> Self {
        Self {
            code,
            strength: Given::known(strength),
            mean_strength: None,
            lightweight: Given::known(Ratio::from_si(1.0)),
            depth: Given::known(depth),
            along: Given::known(along),
            across: Given::known(across),
            place: Place::Interior,
            perimeter: None,
            moment: Given::known(Moment::ZERO),
            steel_ratio: None,
            eccentricity: None,
            phi: None,
            gamma_c: None,
            test: None,
            catch: None,
        }
    }

    /// Sides of the perimeter at d/2.
    fn sides(&self) -> (Length, Length) {
        let (c1, c2, d) = (self.along.value, self.across.value, self.depth.value);
        let half = if self.place == Place::Interior { d } else { d / 2.0 };
        (c1 + half, c2 + d)
    }

    fn refusals(&self) -> Vec<Issue> {
        let mut issues = Vec::new();
        let aci = self.code == ShearEdition::Aci;
        let unknown = |field: &str, message: &'static str| {
            Issue::new(slug::CAPACITY_NOT_KNOWN, field, message).source(self.code.word())
        };
        let missing = |field: &str, message: &'static str| {
            Issue::new(slug::SOURCE_FIELD_MISSING, field, message)
        };
        if !aci && self.lightweight.value != Ratio::from_si(1.0) {
            issues
                .push(unknown("lightweight", "what light aggregate does in it is not known here"));
        }
        match self.code {
            ShearEdition::Aci => {
                let most = AciForm::US.unit * (AciForm::US.root_most * AciForm::US.root_most);
                let mean = self.mean_strength.as_ref().unwrap_or(&self.strength);
                for (field, given) in [("strength", &self.strength), ("mean_strength", mean)] {
                    if given.value > most && (field == "strength" || self.mean_strength.is_some()) {
                        let message = "whether the root of the concrete strength is capped for punching is not known here";
                        issues.push(
                            unknown(field, message)
                                .value(given.said())
                                .limit(Message::new("at most {}", [most.into()])),
                        );
                    }
                }
                if self.place == Place::Corner && self.perimeter.is_none() {
                    issues.push(missing("perimeter", "the perimeter at a corner"));
                }
            }
            ShearEdition::En2004 => {
                if self.steel_ratio.is_none() {
                    issues.push(missing("steel_ratio", "the ratio of tension steel"));
                }
                if let Some(ratio) = &self.steel_ratio
                    && ratio.value.value() > 0.02
                {
                    issues.push(
                        unknown("steel_ratio", "a ratio beyond what is known of the formula")
                            .value(ratio.said())
                            .limit("at most 0.02"),
                    );
                }
                if self.place != Place::Interior && self.perimeter.is_none() {
                    issues.push(missing("perimeter", "the perimeter at an edge or corner"));
                }
                if self.moment.value > Moment::ZERO && self.eccentricity.is_none() {
                    issues.push(missing("eccentricity", "the factor of a moment that is known"));
                }
            }
            ShearEdition::AciMetric | ShearEdition::En2023 => {
                issues.push(unknown("code", "its formulas of punching are not known here"));
            }
        }
        if aci && self.moment.value > Moment::ZERO {
            if self.perimeter.is_some() || self.place == Place::Corner {
                let message = "a moment on a perimeter that is not that of a whole rectangle";
                issues.push(unknown("moment", message));
            }
            if self.test.is_none() {
                issues.push(missing("test", "the force that goes with the moment"));
            }
        }
        for (field, given, own) in [
            ("gamma_c", self.gamma_c.is_some(), !aci),
            ("eccentricity", self.eccentricity.is_some(), !aci),
            ("steel_ratio", self.steel_ratio.is_some(), !aci),
            ("phi", self.phi.is_some(), aci),
        ] {
            if given && !own {
                issues.push(unknown(field, "no formula of this edition has it"));
            }
        }
        let factor = if aci { "phi" } else { "gamma_c" };
        let given = if aci { self.phi.is_some() } else { self.gamma_c.is_some() };
        factors((factor, given), (&self.test, &self.catch), &mut issues);
        issues
    }

    /// The force that punches, and each action against it.
    ///
    /// # Errors
    /// All at once: a value that its rule refuses; `capacity.not-known` for what the edition has no
    /// formula for, `source.field-missing`.
    pub fn check(&self) -> Result<LocalFound, Error> {
        validate_single(self)?;
        Error::check(self.refusals())?;
        let mut working = Working::default();
        let found = if self.code == ShearEdition::Aci {
            self.aci(&mut working)
        } else {
            self.en(&mut working)
        };
        Ok(found.worked(working))
    }

    fn mean(&self) -> Stress {
        self.mean_strength.as_ref().unwrap_or(&self.strength).value
    }

    fn aci(&self, working: &mut Working) -> LocalFound {
        let (unit, d) = (AciForm::US.unit, self.depth.value);
        let (b1, b2) = self.sides();
        let whole = match self.place {
            Place::Interior => (b1 + b2) * 2.0,
            Place::Edge | Place::Corner => b1 * 2.0 + b2,
        };
        let bo = self.perimeter.as_ref().map_or(whole, |p| p.value);
        let (c1, c2) = (self.along.value, self.across.value);
        let beta = c1.max(c2) / c1.min(c2);
        let alpha = match self.place {
            Place::Interior => 40.0,
            Place::Edge => 30.0,
            Place::Corner => 20.0,
        };
        let size = punching_size(working, d, AciForm::US.size);
        let lambda = self.lightweight.value.value();
        let carried = |working: &mut Working, fc| {
            let v = punching_stress(working, unit, beta, alpha, d, bo, size, lambda, fc);
            (v, punching_force(working, v, bo, d))
        };
        working.about(|| "Expected: mean strength, no reduction");
        let (_, expected) = carried(working, self.mean());
        let design = self.phi.as_ref().map(|phi| {
            working.about(|| "Design: specified strength, reduced");
            let (v, force) = carried(working, self.strength.value);
            (v * phi.value.value(), reduced(working, force, phi.value.value()))
        });
        let code = (slug::CAPACITY_PUNCHING, ACI);
        let actions = (&self.test, &self.catch);
        let moment = self.moment.value;
        let checked = if moment > Moment::ZERO {
            // stresses: the moment goes with the test alone
            let gamma = moment_part(working, b1, b2);
            let (j, near) = if self.place == Place::Interior {
                (interior_property(working, d, b1, b2), b1 / 2.0)
            } else {
                let c = edge_centroid(working, b1, b2);
                (edge_property(working, d, b1, b2, c), c)
            };
            let limit = design.map_or(0.0, |(v, _)| v.si());
            let mut first = self.test.is_some();
            checks(code, limit, actions, |force| {
                let with = if core::mem::take(&mut first) { moment } else { Moment::ZERO };
                let pressed = punching_demand(working, force, bo, d, gamma, with, near, j);
                let other = punching_demand(working, force, bo, d, gamma, -with, b1 - near, j);
                pressed.max(other.abs()).quantity()
            })
        } else {
            let limit = design.map_or(0.0, |(_, v)| v.si());
            checks(code, limit, actions, Quantified::quantity)
        };
        LocalFound {
            clause: ACI,
            mode: MODE,
            expected: Some(expected),
            design: design.map(|(_, v)| v),
            checks: checked,
            notes: notes(self.mean_strength.is_some(), design.is_some()),
            left_out: LEFT_OUT.to_vec(),
            working: Working::default(),
        }
    }

    fn en(&self, working: &mut Working) -> LocalFound {
        let (unit, d) = (AciForm::METRIC.unit, self.depth.value);
        let pi = core::f64::consts::PI;
        let u1 = match &self.perimeter {
            Some(given) => given.value,
            None => en_perimeter(working, self.along.value, self.across.value, d, pi),
        };
        let k = en_punching_size(working, d, Length::from_si(0.2));
        let rho = self.steel_ratio.as_ref().map_or(0.0, |r| r.value.value());
        let carried = |working: &mut Working, fck, gamma| {
            let v = en_punching_stress(working, unit, gamma, k, rho, fck);
            en_punching_force(working, v, u1, d)
        };
        working.about(|| "Expected: mean strength, no reduction");
        let expected = carried(working, self.mean(), 1.0);
        let design = self.gamma_c.as_ref().map(|gamma| {
            working.about(|| "Design: specified strength, reduced");
            carried(working, self.strength.value, gamma.value.value())
        });
        let usual = match self.place {
            Place::Interior => 1.15,
            Place::Edge => 1.4,
            Place::Corner => 1.5,
        };
        let beta = self.eccentricity.as_ref().map_or(usual, |e| e.value.value());
        let limit = design.unwrap_or(Force::ZERO).si();
        let code = (slug::CAPACITY_PUNCHING, EN);
        let checked = checks(code, limit, (&self.test, &self.catch), |force| {
            en_punching_demand(working, force, beta).quantity()
        });
        LocalFound {
            clause: EN,
            mode: MODE,
            expected: Some(expected),
            design,
            checks: checked,
            notes: notes(self.mean_strength.is_some(), design.is_some()),
            left_out: LEFT_OUT.to_vec(),
            working: Working::default(),
        }
    }

    /// Shear stresses of the test and its moment at both faces of the perimeter, of ACI 318-19: the face the
    /// moment presses on, and the other one. Nothing without a moment and a force of the test, or where
    /// the question is refused.
    #[must_use]
    pub fn stresses(&self) -> Option<(Stress, Stress)> {
        let force = self.test.as_ref()?.value;
        if self.code != ShearEdition::Aci || !self.refusals().is_empty() {
            return None;
        }
        let none = &mut NoRecord;
        let (b1, b2) = self.sides();
        let d = self.depth.value;
        let gamma = moment_part(none, b1, b2);
        let (bo, j, near) = if self.place == Place::Interior {
            ((b1 + b2) * 2.0, interior_property(none, d, b1, b2), b1 / 2.0)
        } else {
            let c = edge_centroid(none, b1, b2);
            (b1 * 2.0 + b2, edge_property(none, d, b1, b2, c), c)
        };
        let at =
            |c: Length, m: Moment| punching_demand(&mut NoRecord, force, bo, d, gamma, m, c, j);
        let moment = self.moment.value;
        Some((at(near, moment), at(b1 - near, -moment)))
    }
}
