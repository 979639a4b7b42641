//! How the joists of one unit share the load, and how much of it the neighbours take.

use crate::error::{Issue, slug};
use crate::source::{Given, Reader};
use crate::units::{Kind, Length, Quantity, Ratio};
use crate::verdict::{Basis, Clause, Limit, MemberUnit, State, Verdict};

/// Least share of its full-width moment reached at the centre of a strip of width `width` loaded
/// over the whole `span` of a wide, whole one-way slab, by plate theory without Poisson's ratio:
/// `1 − 32/π³ Σ (−1)^k (1 + nx/2) e^(−nx) / n³` with `n = 2k + 1`, `x = πb/(2a)`. Deflection, shear
/// and a moment with Poisson's ratio reach more. A concrete-joist strip shares less than a plate, so
/// the truth lies between this and 1.
#[must_use]
pub fn narrow_patch(width: Length, span: Length) -> f64 {
    let ratio = width / span;
    if ratio < 1e-5 {
        // a line load: 8 G/π² of width over span, G the constant of Catalan; the sum would cancel
        return ratio * (8.0 * CATALAN / core::f64::consts::PI.powi(2));
    }
    let x = core::f64::consts::FRAC_PI_2 * ratio;
    let left = alternating(|n| (1.0 + n * x / 2.0) * (-n * x).exp() / n.powi(3));
    (1.0 - left * (32.0 / core::f64::consts::PI.powi(3))).max(0.0)
}

const CATALAN: f64 = 0.915_965_594_177_219;

/// The sum of `term(1) − term(3) + term(5) − …`. The terms are moments of a positive measure, so
/// Chebyshev weights on the first 24 leave less than 2 · 5.8⁻²⁴ of the sum (Cohen, Rodriguez
/// Villegas, Zagier, algorithm 1).
fn alternating(term: impl Fn(f64) -> f64) -> f64 {
    const TERMS: f64 = 24.0;
    let power = (3.0 + 8.0_f64.sqrt()).powf(TERMS);
    let whole = f64::midpoint(power, power.recip());
    let (mut b, mut c, mut sum, mut k) = (-1.0, -whole, 0.0, 0.0);
    while k < TERMS {
        c = b - c;
        sum += c * term(2.0 * k + 1.0);
        b *= (k + TERMS) * (k - TERMS) / ((k + 0.5) * (k + 1.0));
        k += 1.0;
    }
    sum / whole
}

crate::choice! {
    /// How the joists of one unit share.
    pub enum SharingRule ("sharing rule", source::SOURCE_CHOICE) {
        /// The unit is cut free or its neighbours are loaded alike: it carries its own load.
        Isolated = "isolated",
        /// The slab across is stiff: shares follow the stiffness of the joists.
        StiffAcross = "stiff_across",
        /// The slab across is limp: every joist carries what stands on it.
        Limp = "limp",
        /// The shares are given.
        Given = "given",
        /// A narrow strip of a whole slab whose neighbours are not loaded.
        Plate = "plate",
    }
}

crate::rule! {
    /// A stiffness against the others.
    pub RelativeStiffness { above 0.0 SCOPE_SHARING }
    /// A share of one joist.
    pub JoistShare { least 0.0 SCOPE_SHARING, most 1.0 SCOPE_SHARING }
    /// A width of a loaded strip: one centimetre to a kilometre (library rule).
    pub LoadedWidth { above 0.0 SCOPE_SHARING, least 0.01 SOURCE_MAGNITUDE, most 1000.0 SOURCE_MAGNITUDE }
}

crate::record! {
    /// How the joists of one unit and the neighbours share.
    pub struct Sharing {
        /// The rule.
        rule: SharingRule,
        /// Relative stiffness of each joist, for `stiff_across`.
        stiffness: Vec<f64> where RelativeStiffness = Vec::new(),
        /// Share of each joist, for `given`; they add up to 1.
        shares: Vec<f64> where JoistShare = Vec::new(),
        /// Width of the loaded strip, for `plate`.
        loaded_width: Option<Given<Length, LoadedWidth>>,
    }
    rules { complete[rule, stiffness, shares, loaded_width]; }
}

fn complete(
    reader: &mut Reader,
    rule: &SharingRule,
    stiffness: &Vec<f64>,
    shares: &Vec<f64>,
    width: &Option<Given<Length, LoadedWidth>>,
) {
    let mut refuse = |field: &str, message: &str| {
        let path = reader.path_of(field);
        reader.push(Issue::new(slug::SCOPE_SHARING, path, message.to_owned()));
    };
    match rule {
        SharingRule::StiffAcross if stiffness.is_empty() => {
            refuse("stiffness", "stiff_across wants the relative stiffness of every joist");
        }
        SharingRule::Given
            if shares.is_empty() || (shares.iter().sum::<f64>() - 1.0).abs() > 1e-9 =>
        {
            refuse("shares", "given wants the share of every joist; they add up to 1");
        }
        SharingRule::Plate if width.is_none() => {
            refuse("loaded_width", "plate wants the width of the loaded strip");
        }
        _ => {}
    }
}

crate::answer! {
    /// How the load of one unit is shared.
    pub struct SharesIn {
        /// Share of each joist if the slab across is stiff.
        stiff: Vec<f64>,
        /// Share of each joist if it is limp: equal.
        limp: Vec<f64>,
        /// Least part of the unit's own load that the unit itself carries.
        own_low: Ratio,
        /// Largest part of the unit's own load that the unit itself carries.
        own_high: Ratio,
    }
}

impl SharesIn {
    /// Whether a test that reaches the reference `fidelity` times still does when neighbours that
    /// are not loaded take their share. The truth lies between the bounds, so a shortfall at the
    /// lower one is Inconclusive, not Fail.
    #[must_use]
    pub fn verdict(&self, fidelity: f64, unit: MemberUnit) -> Verdict {
        let verdict = Verdict::design(
            slug::SCOPE_NEIGHBOURS,
            Quantity::new(Kind::Ratio, fidelity * self.own_low.value()),
            Limit::AtLeast(1.0),
            Basis::net(unit),
            Clause::Named("narrow patch on a whole slab, series of plate theory"),
        );
        let short = verdict.state == State::Fail;
        if short { verdict.with_state(State::Inconclusive) } else { verdict }
    }
}

impl Sharing {
    /// The shares of a unit of `joists` joists on this span; the truth lies between `stiff` and `limp`.
    #[must_use]
    pub fn shares(&self, joists: u32, span: Length) -> SharesIn {
        let n = joists.max(1);
        let equal = vec![1.0 / f64::from(n); n as usize];
        let stiff = match self.rule {
            SharingRule::StiffAcross => {
                let sum: f64 = self.stiffness.iter().sum();
                self.stiffness.iter().map(|k| k / sum).collect()
            }
            SharingRule::Given => self.shares.clone(),
            _ => equal.clone(),
        };
        let limp = if self.rule == SharingRule::Given { self.shares.clone() } else { equal };
        let own_low = match (&self.rule, &self.loaded_width) {
            (SharingRule::Plate, Some(width)) => narrow_patch(width.value, span),
            _ => 1.0,
        };
        SharesIn { stiff, limp, own_low: Ratio::from(own_low), own_high: Ratio::from(1.0) }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]
mod tests {
    use super::*;
    use crate::source::read_json;
    use crate::units::M;

    /// The series as it is written, with its bound: the terms alternate and fall, so the rest is
    /// smaller than the first term left out.
    fn plainly(ratio: f64) -> (f64, f64) {
        let term = |k: u32| {
            let n = f64::from(2 * k + 1);
            let x = n * core::f64::consts::FRAC_PI_2 * ratio;
            (1.0 - (1.0 + x / 2.0) * (-x).exp()) / n.powi(3)
        };
        let whole = core::f64::consts::PI.powi(3) / 32.0;
        let terms = 20_000;
        let sum: f64 = (0..terms).map(|k| if k % 2 == 0 { term(k) } else { -term(k) }).sum();
        (sum / whole, term(terms) / whole)
    }

    #[test]
    fn the_least_share_is_the_sum_of_the_series() {
        for ratio in [1e-3, 0.01, 0.1, 8.0 / 45.0, 0.5, 1.0, 2.0, 3.0, 7.0] {
            let (sum, bound) = plainly(ratio);
            let share = narrow_patch(ratio * M, 1.0 * M);
            assert!((share - sum).abs() <= bound + 1e-12, "{ratio}: {share} {sum} {bound}");
            // the first term lies above it wherever it matters
            let x = core::f64::consts::FRAC_PI_2 * ratio;
            let first = 1.0 - (1.0 + x / 2.0) * (-x).exp();
            assert!(share < first, "{ratio}: {share} {first}");
        }
        // moment at the centre for nu = 0, six digits (summed elsewhere)
        for (b, exact) in [
            (0.5, 0.352_115),
            (1.0, 0.618_094),
            (2.0, 0.885_363),
            (3.0, 0.968_884),
            (4.0, 0.992_018),
        ] {
            assert!((narrow_patch(b * M, 1.0 * M) - exact).abs() < 5e-7, "{b}");
        }
    }

    /// Of a line load along the span the harmonics give moments at the centre as 1 − 1/9 + 1/25 − … =
    /// G, the constant of Catalan, of a load all over as 1 − 1/27 + … = π³/32: per width it begins at
    /// (π/4) G/(π³/32) = 8 G/π². And a strip as wide as it likes carries all that stands on it.
    #[test]
    fn the_share_of_a_line_and_of_a_wide_floor() {
        let line = 8.0 * 0.915_965_594_177_219 / core::f64::consts::PI.powi(2);
        for ratio in [1e-300, 1e-9, 1e-6, 0.99e-5, 1.01e-5, 1e-4] {
            let share = narrow_patch(ratio * M, 1.0 * M);
            assert!((share / (line * ratio) - 1.0).abs() < 1e-7, "{ratio}: {share}");
        }
        assert!(narrow_patch(0.0 * M, 1.0 * M).abs() < 1e-300);
        assert!((narrow_patch(1e3 * M, 1.0 * M) - 1.0).abs() < 1e-15);
        let mut last = 0.0;
        for i in 1..2000 {
            let share = narrow_patch(f64::from(i) * 0.005 * M, 1.0 * M);
            assert!(share >= last - 1e-15 && share <= 1.0, "{i}");
            last = share;
        }
    }

    #[test]
    fn a_stiffer_inner_joist_takes_more() {
        // inner joist 20 % stiffer: 5/16, 3/8, 5/16 (closed form)
        let sharing: Sharing =
            read_json(r#"{"rule":"stiff_across","stiffness":[1,1.2,1]}"#).unwrap();
        let shares = sharing.shares(3, 10.0 * M);
        assert!(
            (shares.stiff[0] - 0.3125).abs() < 1e-15 && (shares.stiff[1] - 0.375).abs() < 1e-15
        );
        assert!((shares.limp[1] - 1.0 / 3.0).abs() < 1e-15);
    }

    #[test]
    fn a_rule_without_its_data_is_refused() {
        for text in [
            r#"{"rule":"stiff_across"}"#,
            r#"{"rule":"given","shares":[0.5,0.4]}"#,
            r#"{"rule":"plate"}"#,
        ] {
            assert_eq!(read_json::<Sharing>(text).unwrap_err().codes(), ["scope.sharing"]);
        }
    }
}
