//! The proof test of a bridge: one factor, adjusted by what is known, on the rating load with impact.

use super::file::BridgeProofFile;
use crate::error::{Error, Issue, slug};
use crate::units::nearest;

crate::laws! {
    /// Target live load of a bridge proof test, impact in it once.
    pub fn proof_target(x: f64 as "X_pA", rating: f64 as "L_R", impact: f64 as "IM") -> f64 as "L_T" = x * rating * (1.0 + impact);
    source "bridge proof load test, target load (manual for bridge evaluation, section 8, from memory)";
    /// Operating capacity proved by the largest load.
    pub fn operating_capacity(k: f64 as "k_0", reached: f64 as "L_p", x: f64 as "X_pA") -> f64 as "OP" = k * reached / x;
    source "bridge proof load test, operating capacity (manual for bridge evaluation, section 8, from memory)";
    /// Rating factor at the operating level.
    pub fn operating_rating(op: f64 as "OP", rating: f64 as "L_R", impact: f64 as "IM") -> f64 as "RF_O" = op / (rating * (1.0 + impact));
    source "bridge proof load test, rating (manual for bridge evaluation, section 8, from memory)";
}

/// The adjusted factor.
#[derive(Clone, PartialEq, Debug)]
pub struct BridgeProof {
    file: BridgeProofFile,
}

impl BridgeProof {
    pub(super) fn new(file: &BridgeProofFile, issues: &mut Vec<Issue>) -> Self {
        let known = |id: &String| file.adjust_percent.iter().any(|a| a.id == *id);
        for id in file.exclusive.iter().flatten().filter(|id| !known(id)) {
            issues.push(
                Issue::new(
                    slug::EDITIONS_FILE,
                    "bridge_proof.exclusive",
                    "an adjustment that is not there",
                )
                .value(id),
            );
        }
        Self { file: file.clone() }
    }

    /// The names of the adjustments with their percent.
    pub fn adjustments(&self) -> impl Iterator<Item = (&str, f64)> {
        self.file.adjust_percent.iter().map(|a| (a.id.as_str(), a.percent))
    }

    /// The factor with these adjustments, kept inside its limits.
    ///
    /// # Errors
    /// `editions.adjustment` for an unknown name, one given twice, or two that exclude each other.
    pub fn factor(&self, applies: &[&str]) -> Result<f64, Error> {
        let mut issues = Vec::new();
        let mut refuse = |value: &str, message: String, remedy: String| {
            issues.push(
                Issue::new(slug::EDITIONS_ADJUSTMENT, "edition.adjustments", message)
                    .value(value)
                    .remedy(remedy),
            );
        };
        let mut percent = 0.0;
        for (i, id) in applies.iter().enumerate() {
            match self.adjustments().find(|a| a.0 == *id) {
                None => {
                    let near = nearest(id, self.adjustments().map(|a| a.0));
                    refuse(
                        id,
                        format!("no adjustment is called `{id}`"),
                        near.map_or_else(
                            || "take one of those listed".to_owned(),
                            |near| format!("did you mean `{near}`?"),
                        ),
                    );
                }
                Some(_) if applies.iter().take(i).any(|other| other == id) => {
                    refuse(id, format!("`{id}` is given twice"), "give it once".to_owned());
                }
                Some((_, own)) => percent += own,
            }
        }
        for pair in &self.file.exclusive {
            if pair.iter().filter(|p| applies.contains(&p.as_str())).count() > 1 {
                let both = pair.join(" and ");
                refuse(&both, format!("{both} exclude each other"), "keep one".to_owned());
            }
        }
        Error::check(issues)?;
        let factor = self.file.base * (1.0 + percent / 100.0);
        Ok(factor.max(self.file.at_least).min(self.file.at_most))
    }

    /// What of the proved capacity counts: all of it, or less where distress stopped the test.
    #[must_use]
    pub const fn counts(&self, stopped_by_distress: bool) -> f64 {
        if stopped_by_distress { self.file.stopped_by_distress } else { 1.0 }
    }
}
