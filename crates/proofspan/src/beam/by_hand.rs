//! Shear, moment and deflection at a place of a member, redone with a pencil.

use super::load::Load;
use super::model::{Beam, Restraint};
use super::response::Side;
use crate::formula::Recorder;
use crate::units::{FlexuralRigidity, Force, Length, LineLoad, Moment};

crate::laws! {
    /// Resultant of a load that changes linearly.
    pub fn resultant(wa: LineLoad as "w_a", wb: LineLoad as "w_b", c: Length as "length") -> Force as "W" = (wa + wb) * c / 2.0;
    source "statics";
    /// Place of that resultant.
    pub fn centroid(a: Length as "a", c: Length as "length", wa: LineLoad as "w_a", wb: LineLoad as "w_b") -> Length as "x_W" = a + c * ((wa + 2.0 * wb) / (3.0 * (wa + wb)));
    source "statics";
    /// Reaction of the left bearing to a force between or beyond two bearings.
    pub fn left_reaction(w: Force as "W", xb: Length as "x_B", x: Length as "x_W", span: Length as "L") -> Force as "R_A" = w * (xb - x) / span;
    source "moments about the right bearing";
    /// Reaction of the right bearing to the same force.
    pub fn right_reaction(w: Force as "W", x: Length as "x_W", xa: Length as "x_A", span: Length as "L") -> Force as "R_B" = w * (x - xa) / span;
    source "moments about the left bearing";
    /// Shear: reactions left of the place less loads left of it.
    pub fn shear_left(up: Force as "R_left", down: Force as "W_left") -> Force as "V(x)" = up - down;
    source "vertical equilibrium of the left part";
    /// Moment: that of the reactions less that of the loads left of the place.
    pub fn moment_left(up: Moment as "M_R", down: Moment as "M_W") -> Moment as "M(x)" = up - down;
    source "moments of the left part about the place";
    /// Moment of a force left of the place.
    pub fn moment_of(w: Force as "W", x: Length as "x", at: Length as "x_W") -> Moment as "M_W" = w * (x - at);
    source "statics";
    /// Deflection of a simple span under a force: b from the force to the far bearing, x from the near one.
    pub fn point_deflection(p: Force as "P", b: Length as "b", x: Length as "x", l: Length as "L", ei: FlexuralRigidity as "EI") -> Length as "w" = p * l / ei * l * l * (b / l * (x / l) * (1.0 - b / l * (b / l) - x / l * (x / l)) / 6.0);
    source "EI w'' = -M of a simple span, the place not beyond the force";
    /// Deflection under one force more.
    pub fn one_more(sum: Length as "w_sum", w: Length as "w") -> Length as "w_sum" = sum + w;
    source "superposition";
    /// Shear at a place under a load, by the coefficient of the place for loads that stand so.
    pub fn shear_by(c: f64 as "c_V", w: Force as "W") -> Force as "V_W" = c * w;
    source "the member is linear: coefficient times load";
    /// Moment at a place under a load, by its coefficient.
    pub fn moment_by(c: f64 as "c_M", w: Force as "W", l: Length as "l") -> Moment as "M_W" = c * w * l;
    source "the member is linear: coefficient times load times the length of the member";
    /// Reaction of a support to a load, by its coefficient.
    pub fn reaction_by(c: f64 as "c_R", w: Force as "W") -> Force as "R_W" = c * w;
    source "the member is linear: coefficient times load";
    /// Deflection at a place under a load, by its coefficient.
    pub fn deflection_by(c: f64 as "c_w", w: Force as "W", l: Length as "l", ei: FlexuralRigidity as "EI") -> Length as "w_W" = c * (w * l / ei * l * l);
    source "the member is linear: coefficient times W l^3 / EI, EI that of its left end";
    /// Shear under one load more.
    pub fn shear_more(sum: Force as "V_sum", v: Force as "V_W") -> Force as "V_sum" = sum + v;
    source "superposition";
    /// Moment under one load more.
    pub fn moment_more(sum: Moment as "M_sum", m: Moment as "M_W") -> Moment as "M_sum" = sum + m;
    source "superposition";
    /// Reaction to one load more.
    pub fn reaction_more(sum: Force as "R_sum", r: Force as "R_W") -> Force as "R_sum" = sum + r;
    source "superposition";
}

/// A cut through a member whose reactions follow from equilibrium, with what stands left of it.
pub(crate) struct Cut {
    x: Length,
    side: Side,
    first: Length,
    last: Length,
    cantilever: bool,
    up: Force,
    down: Force,
    up_moment: Moment,
    down_moment: Moment,
    fixed: (Force, Moment),
}

impl Cut {
    /// A cut at a place; nothing where equilibrium is not enough: more than two supports, or hinges.
    pub(crate) fn new(beam: &Beam, x: Length, side: Side) -> Option<Self> {
        let supports = beam.supports();
        let turns = |s: &super::model::Support| s.rotation == Restraint::Free;
        let enough = match supports {
            [_] => true,
            [a, b] => turns(a) && turns(b),
            _ => false,
        };
        if !enough || !beam.hinges().is_empty() {
            return None;
        }
        Some(Self {
            x,
            side,
            first: supports.first()?.at,
            last: supports.last()?.at,
            cantilever: supports.len() == 1,
            up: Force::ZERO,
            down: Force::ZERO,
            up_moment: Moment::ZERO,
            down_moment: Moment::ZERO,
            fixed: (Force::ZERO, Moment::ZERO),
        })
    }

    /// Adds a force or a line load; nothing for a load of another kind.
    pub(crate) fn load<R: Recorder>(&mut self, recorder: &mut R, load: Load) -> Option<()> {
        let (x, side) = (self.x, self.side);
        let (force, at, left) = match load {
            Load::Line { from, to, w_from: wa, w_to: wb } => {
                let whole = resultant(recorder, wa, wb, to - from);
                let place = centroid(recorder, from, to - from, wa, wb);
                let edge = x.min(to);
                let left = (edge > from).then(|| {
                    let wx = wa + (wb - wa) * ((edge - from) / (to - from));
                    let part = resultant(recorder, wa, wx, edge - from);
                    let at = centroid(recorder, from, edge - from, wa, wx);
                    (part, at)
                });
                (whole, place, left)
            }
            Load::Point { at, force } => {
                let counted = at < x || (at <= x && side == Side::Right);
                (force, at, counted.then_some((force, at)))
            }
            _ => return None,
        };
        if self.cantilever {
            self.fixed.0 += force;
            self.fixed.1 += moment_of(recorder, force, at, self.first);
        } else {
            let (first, last) = (self.first, self.last);
            let span = last - first;
            let ra = left_reaction(recorder, force, last, at, span);
            if first < x || (first <= x && side == Side::Right) {
                self.up += ra;
                self.up_moment += moment_of(recorder, ra, x, first);
            }
            let rb = right_reaction(recorder, force, at, first, span);
            if last < x || (last <= x && side == Side::Right) {
                self.up += rb;
                self.up_moment += moment_of(recorder, rb, x, last);
            }
        }
        if let Some((part, at)) = left {
            self.down += part;
            self.down_moment += moment_of(recorder, part, x, at);
        }
        Some(())
    }

    /// Shear and moment there.
    pub(crate) fn found<R: Recorder>(mut self, recorder: &mut R) -> (Force, Moment) {
        if self.cantilever {
            self.up = self.fixed.0;
            // the root moment, hogging
            self.up_moment = moment_of(recorder, self.fixed.0, self.x, self.first) - self.fixed.1;
        }
        let shear = shear_left(recorder, self.up, self.down);
        let moment = moment_left(recorder, self.up_moment, self.down_moment);
        (shear, moment)
    }
}

/// Shear and moment at a place under loads; nothing where equilibrium is not enough.
pub(crate) fn at_cut<R: Recorder>(
    recorder: &mut R,
    beam: &Beam,
    loads: &[Load],
    (x, side): (Length, Side),
) -> Option<(Force, Moment)> {
    let mut cut = Cut::new(beam, x, side)?;
    for load in loads {
        cut.load(recorder, *load)?;
    }
    Some(cut.found(recorder))
}

/// The deflection at a place of a simple span of one EI under forces; nothing of another member or
/// under other loads.
pub(crate) fn deflection<R: Recorder>(
    recorder: &mut R,
    beam: &Beam,
    loads: &[Load],
    x: Length,
) -> Option<Length> {
    let l = beam.length();
    let rigid = |s: &super::model::Support| {
        s.vertical == Restraint::Rigid
            && s.rotation == Restraint::Free
            && s.settlement.abs() <= Length::ZERO
    };
    let (ei, simple) = match (beam.supports(), beam.rigidity()) {
        ([a, b], [(_, ei)]) => (*ei, rigid(a) && rigid(b) && a.at <= Length::ZERO && b.at >= l),
        _ => return None,
    };
    if !simple || !beam.hinges().is_empty() || !beam.shear_rigidity().is_empty() {
        return None;
    }
    let mut forces = Vec::with_capacity(loads.len());
    for load in loads {
        let Load::Point { at, force } = *load else { return None };
        forces.push((at, force));
    }
    let mut sum: Option<Length> = None;
    for (at, force) in forces {
        // of the far part the same from the other end
        let (b, x) = if x <= at { (l - at, x) } else { (at, l - x) };
        let w = point_deflection(recorder, force, b, x, l, ei);
        sum = Some(sum.map_or(w, |sum| one_more(recorder, sum, w)));
    }
    sum
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;
    use crate::formula::{NoRecord, Working};
    use crate::units::{KN, KN_M2, M, MM};

    /// P L^3 / (48 EI) in the middle: 48 kN, 10 m, 10^5 kN·m^2 give 10 mm; three such forces at one
    /// place three times as much.
    #[test]
    fn the_middle_of_a_simple_span() {
        let beam = Beam::simple(10.0 * M, 1e5 * KN_M2).unwrap();
        let load = Load::point(5.0 * M, 48.0 * KN);
        let mut working = Working::default();
        let one = deflection(&mut working, &beam, &[load], 5.0 * M).unwrap();
        assert!((one.to(MM) - 10.0).abs() < 1e-12, "{one}");
        let three = deflection(&mut working, &beam, &[load; 3], 5.0 * M).unwrap();
        assert!((three.to(MM) - 30.0).abs() < 1e-12, "{three}");
        assert!(working.recheck().is_empty(), "{:?}", working.recheck());
    }

    /// By hand what the solver finds, left and right of the forces, and nothing of a cantilever.
    #[test]
    fn anywhere_on_a_simple_span() {
        let beam = Beam::simple(9.0 * M, 2e5 * KN_M2).unwrap();
        let loads = [Load::point(2.0 * M, 30.0 * KN), Load::point(7.5 * M, 50.0 * KN)];
        let solved = beam.response(&loads).unwrap();
        for i in 0..=18 {
            let x = 9.0 * M * (f64::from(i) / 18.0);
            let by_hand = deflection(&mut NoRecord, &beam, &loads, x).unwrap();
            let exact = solved.deflection(x).unwrap();
            assert!((by_hand - exact).abs() < 1e-9 * MM, "{x}: {by_hand} {exact}");
        }
        let free = Beam::cantilever(9.0 * M, 2e5 * KN_M2).unwrap();
        assert_eq!(deflection(&mut NoRecord, &free, &loads, 1.0 * M), None);
    }
}
