//! How the joists of one unit share the load, and how much of it the neighbours take.

use crate::error::{Issue, slug};
use crate::source::{Given, Reader};
use crate::units::{Kind, Length, Quantity, Ratio};
use crate::verdict::{Basis, Clause, Limit, MemberUnit, State, Verdict};

/// Share of its full-width deflection reached at the centre of a strip of width `width`
/// loaded over the whole `span` of a wide, whole one-way slab:
/// `1 − (1 + πb/(4a)) e^(−πb/(2a))`, the first term of the series of plate theory.
/// A concrete-joist strip shares less than a plate, so the truth lies between this and 1.
#[must_use]
pub fn narrow_patch(width: Length, span: Length) -> f64 {
    let x = core::f64::consts::FRAC_PI_2 * (width / span);
    1.0 - (1.0 + x / 2.0) * (-x).exp()
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
            Clause::Named("narrow patch on a whole slab, first term of the series of plate theory"),
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

    /// Series of plate theory for nu = 0 at b/a = 0.5, 1, 2 (own summation): the first term is at
    /// most 0.0016 above at 0.5 and closer beyond.
    #[test]
    fn the_first_term_is_near_the_series() {
        for (b, exact, tolerance) in
            [(0.5, 0.352_115, 0.013), (1.0, 0.618_094, 0.013), (2.0, 0.885_363, 0.01)]
        {
            let share = narrow_patch(b * M, 1.0 * M);
            assert!((share - exact).abs() < tolerance, "{b}: {share} {exact}");
        }
        assert!(narrow_patch(4.0 * M, 1.0 * M) > 0.99);
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
