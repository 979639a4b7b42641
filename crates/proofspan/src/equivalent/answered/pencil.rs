//! The forces of the carriers redone with a pencil: layers by their weight, water by its depth and by how
//! far the member gives way, and what they bring where the layout is nearest to falling short.

use super::layout::Layout;
use super::solve::Used;
use crate::beam::{Beam, Side, Sought, by_coefficients, grouped};
use crate::equivalent::asked::carrier::{BagsSpec, Carried, Carrier, WaterSpec};
use crate::equivalent::asked::effect::Effect;
use crate::formula::{Recorder as _, Working};
use crate::target::Target;
use crate::units::{
    Force, Kind, Length, LineLoad, Message, Moment, Quantified, Quantity, UnitWeight,
};

crate::laws! {
    /// Line load of one layer under a pile.
    pub fn layer_load(gamma: UnitWeight as "gamma", t: Length as "t", b: Length as "b") -> LineLoad as "q_layer" = gamma * t * b;
    source "unit weight times height of a layer times width";
    /// Weight of one layer of one pile.
    pub fn pile_layer(q: LineLoad as "q_layer", pile: Length as "l_pile") -> Force as "G_pile" = q * pile;
    source "its line load times the length of the footprint";
    /// Weight of one layer on all piles.
    pub fn stack_layer(piles: f64 as "n_piles", g: Force as "G_pile") -> Force as "G_layer" = piles * g;
    source "all piles of a stack rise together";
    /// How many layers a force is.
    pub fn layers_asked(f: Force as "F_least", g: Force as "G_layer") -> f64 as "n_least" = f / g;
    source "raised to the next whole number of layers";
    /// Force of a stack of whole layers.
    pub fn stack_force(layers: f64 as "n_layers", g: Force as "G_layer") -> Force as "F" = layers * g;
    source "layers times the weight of one";
    /// Weight of one pile.
    pub fn pile_force(layers: f64 as "n_layers", g: Force as "G_pile") -> Force as "F_pile" = layers * g;
    source "layers times the weight of one";
    /// Depth of water of a weight on a member that stays level.
    pub fn level_depth(f: Force as "F_level", gamma: UnitWeight as "gamma", b: Length as "b", l: Length as "l") -> Length as "d" = f / (gamma * b * l);
    source "weight over unit weight, width and length";
    /// Weight of the water with what the member gives way under it.
    pub fn water_force(gamma: UnitWeight as "gamma", b: Length as "b", d: Length as "d", w: Length as "w_mean", l: Length as "l") -> Force as "F" = gamma * b * (d + w) * l;
    source "unit weight times width times mean depth times length";
    /// Steps of a jack that a force is.
    pub fn steps_asked(f: Force as "F_least", step: Force as "F_step") -> f64 as "n_least" = f / step;
    source "raised to the next whole number of steps";
    /// Force of whole steps of a jack.
    pub fn steps_force(n: f64 as "n_steps", step: Force as "F_step") -> Force as "F" = n * step;
    source "whole steps";
    /// Force of the layout with one carrier more.
    pub fn carrier_more(sum: Force as "F_sum", f: Force as "F") -> Force as "F_sum" = sum + f;
    source "sum of the carriers";
    /// Force of one carrier that brings a shear.
    pub fn force_of_shear(v: Force as "V_ref", c: f64 as "c_V") -> Force as "P" = v / c;
    source "the member is linear: load that gives what is asked";
    /// Force of one carrier that brings a moment.
    pub fn force_of_moment(m: Moment as "M_ref", c: f64 as "c_M", l: Length as "l") -> Force as "P" = m / (c * l);
    source "the member is linear: load that gives what is asked";
    /// Shear of the test over what is asked there.
    pub fn shear_reached(test: Force as "V_test", reference: Force as "V_ref") -> f64 as "reached" = test / reference;
    source "definition";
    /// Moment of the test over what is asked there.
    pub fn moment_reached(test: Moment as "M_test", reference: Moment as "M_ref") -> f64 as "reached" = test / reference;
    source "definition";
}

impl Layout {
    /// Every carrier, and what they bring at the place that governs.
    pub(super) fn redone(&self, working: &mut Working, target: &Target) {
        let mut sum: Option<Force> = None;
        for (i, carried) in self.carriers.iter().enumerate() {
            let force = carried.force.0;
            if force <= Force::ZERO {
                continue;
            }
            working.about(|| {
                let said = [(i + 1).into(), carried.kind.word().into(), carried.at.into()];
                Message::new("Carrier {}: {} at {}", said)
            });
            let since = working.items.len();
            let Some(used) = self.used(i) else { continue };
            let found = match used.of.as_deref() {
                Some(Carrier::Bags(bags)) => self.bags(working, i, bags, carried.layers),
                Some(Carrier::Water(water)) => self.water(working, i, water, carried.depth, force),
                _ => self.pressed(working, i, used, force),
            };
            if let Some(found) = found {
                let what = format!("layout.carriers[{i}].force");
                working.claim(what, since, found.quantity(), force.si(), force.si());
            }
            if self.carriers.len() > 1 {
                sum = Some(sum.map_or(force, |sum| carrier_more(working, sum, force)));
            }
        }
        self.governs(working, target);
    }

    /// The force that the certificate of the last objective has for a carrier, with its gap.
    fn proved(&self, i: usize) -> Option<(Force, f64)> {
        let last = self.certificates.last()?;
        let name = self.carriers.get(i)?.name.to_string();
        let at = last.unknowns.iter().position(|unknown| *unknown == name)?;
        Some((Force::from_si(*last.values.get(at)?), last.gap.unwrap_or(f64::NAN)))
    }

    /// The force before it is raised, followed or kept as it is, with what proves it.
    fn least(&self, working: &mut Working, i: usize) -> Option<Force> {
        let (force, gap) = self.proved(i)?;
        let what = "Least force of the carrier, which the certificate of the layout proves";
        working.residual(what, force.quantity(), gap);
        Some(force)
    }

    fn bags(
        &self,
        working: &mut Working,
        i: usize,
        bags: &BagsSpec,
        layers: Option<f64>,
    ) -> Option<Force> {
        let layers = layers?;
        let piles = f64::from(u32::try_from(bags.piles().len()).unwrap_or(u32::MAX));
        let q = layer_load(working, bags.unit_weight.value, bags.layer.value, bags.width.value);
        let one = pile_layer(working, q, bags.pile.value);
        let all = stack_layer(working, piles, one);
        if bags.layers.is_none()
            && let Some(least) = self.least(working, i)
        {
            layers_asked(working, least, all);
        }
        // layers are counted, what is computed of them is whole but for rounding
        let layers = layers.round();
        pile_force(working, layers, one);
        Some(stack_force(working, layers, all))
    }

    fn water(
        &self,
        working: &mut Working,
        i: usize,
        water: &WaterSpec,
        depth: Option<Length>,
        force: Force,
    ) -> Option<Force> {
        let (gamma, b) = (water.unit_weight.value, water.width.value);
        let l = water.to.value - water.from.value;
        let found = if water.depth.is_none() { self.least(working, i) } else { None };
        let depth = match found {
            Some(least) => level_depth(working, least, gamma, b, l),
            None => depth?,
        };
        let mean = force / (gamma * b * l) - depth;
        let what = "Mean deflection of the member under the basin, under all loads of the test";
        working.solved(|| what, mean.quantity(), self.response.residual());
        Some(water_force(working, gamma, b, depth, mean, l))
    }

    /// A jack or wheels: the force given, or found and raised to whole steps.
    fn pressed(&self, working: &mut Working, i: usize, used: &Used, force: Force) -> Option<Force> {
        if used.given {
            working.about(|| Message::new("its force is given: {}", [force.into()]));
        } else if let Some(least) = self.least(working, i)
            && let Some(step) = used.step
        {
            let n = (force / step).round();
            steps_asked(working, least, step);
            return Some(steps_force(working, n, step));
        }
        None
    }

    /// What is sought carrier by carrier, each by its coefficient: by how many; nothing where coefficients
    /// do not say it.
    pub(crate) fn by_carriers(
        &self,
        working: &mut Working,
        beam: &Beam,
        of: &Message,
        sought: (Sought, f64),
    ) -> Option<usize> {
        let named = |c: &Carried| {
            let carrier = Message::new("Carrier, {} at {}: ", [c.kind.word().into(), c.at.into()]);
            (carrier.and(of.clone()), c.from, c.to)
        };
        let named: Vec<(Message, Length, Length)> = self.carriers.iter().map(named).collect();
        let patterns = grouped(&self.loads, &named)?;
        by_coefficients(working, beam, &patterns, &[sought])?;
        Some(patterns.len())
    }

    /// What the carriers bring at the place that set the force, or where they are nearest to falling short.
    fn governs(&self, working: &mut Working, target: &Target) {
        let (effect, x, term) = self.governed_by;
        let Some(asked) = target.terms.get(term) else { return };
        let ratio =
            |side: Side| effect.at(&self.response, x, side) / effect.at(&asked.net, x, side);
        let away = |side: &Side| {
            let r = ratio(*side);
            if r.is_finite() { (r - 1.0).abs() } else { f64::INFINITY }
        };
        let sides = [Side::Left, Side::Right].into_iter();
        let Some(side) = sides.min_by(|a, b| away(a).total_cmp(&away(b))) else { return };
        let reference = effect.at(&asked.net, x, side);
        let test = effect.at(&self.response, x, side);
        if !ratio(side).is_finite() || test.abs() <= 0.0 {
            return;
        }
        let sought = match effect {
            Effect::Shear => Sought::Shear(x, side),
            Effect::Moment => Sought::Moment(x, side),
        };
        let since = working.items.len();
        if target.record_at(working, term, x, side).is_none() {
            working.items.truncate(since);
        }
        let since = working.items.len();
        let of = Message::new("{} at x = {}", [effect.word().into(), x.into()]);
        let lines = self.by_carriers(working, &target.beam, &of, (sought, test));
        if lines.is_none() {
            working.items.truncate(since);
            let kind = if effect == Effect::Shear { Kind::Force } else { Kind::Moment };
            let what = Message::new("{} of the test at x = {}", [effect.word().into(), x.into()]);
            working.solved(|| what, Quantity::new(kind, test), self.response.residual());
        }
        // one force that sets itself: what is asked over what one newton of the loads brings
        let whole: Force = self.loads.iter().map(|l| l.resultant()).sum();
        let l = target.beam.length();
        let given = (0..self.carriers.len()).any(|i| self.used(i).is_some_and(|u| u.given));
        let alone = lines == Some(1) && !given;
        let sets = (test / reference - 1.0).abs() <= 1e-9 && alone;
        match effect {
            Effect::Shear => {
                if sets {
                    let c = test / whole.si();
                    force_of_shear(working, Force::from_si(reference), c);
                }
                shear_reached(working, Force::from_si(test), Force::from_si(reference));
            }
            Effect::Moment => {
                if sets {
                    let c = test / whole.si() / l.si();
                    force_of_moment(working, Moment::from_si(reference), c, l);
                }
                moment_reached(working, Moment::from_si(test), Moment::from_si(reference));
            }
        }
    }
}
