//! The rules of an edition that stop a test while it runs.

use super::file::StopRuleFile;
use crate::error::Issue;
use crate::formula::{Formula, Vocabulary};
use crate::units::Kind;

/// The names a stop rule may use: strain of concrete and steel with what was there before, new and
/// old cracks and what is left of them, deflections, strut and stirrup strain, strengths.
pub const STOP_NAMES: &[(&str, Kind)] = &[
    ("eps_c", Kind::Strain),
    ("eps_c0", Kind::Strain),
    ("eps_s", Kind::Strain),
    ("eps_s0", Kind::Strain),
    ("eps_strut", Kind::Strain),
    ("eps_w", Kind::Strain),
    ("w", Kind::Length),
    ("w_r", Kind::Length),
    ("dw", Kind::Length),
    ("dw_r", Kind::Length),
    ("d_max", Kind::Length),
    ("d_r", Kind::Length),
    ("f_c", Kind::Stress),
    ("f_ym", Kind::Stress),
    ("f_001m", Kind::Stress),
    ("E_s", Kind::Stress),
];

/// Of these a record states what no channel of a log measures.
pub const STOP_STATED: &[&str] = &["eps_c0", "eps_s0", "f_c", "f_ym", "f_001m", "E_s"];

/// The facts a stop rule may use, after the names.
pub const STOP_FACTS: &[&str] = &["stress_strain_known"];

/// A rule that must hold; what is unknown means hold.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct StopRule {
    /// Its name.
    pub id: String,
    /// What must hold while the load is on.
    pub limit: Option<Formula>,
    /// What must hold after unloading.
    pub residual: Option<Formula>,
    /// What a person is asked.
    pub ask: Option<String>,
}

pub(super) fn stop_rules(files: &[StopRuleFile], issues: &mut Vec<Issue>) -> Vec<StopRule> {
    let vocabulary = Vocabulary::of(STOP_NAMES).with_facts(STOP_FACTS);
    let mut compiled = |text: &Option<String>, path: String| {
        let text = text.as_ref()?;
        match Formula::condition(text, &vocabulary) {
            Ok(formula) => Some(formula),
            Err(error) => {
                issues.extend(error.issues.into_iter().map(|i| Issue { path: path.clone(), ..i }));
                None
            }
        }
    };
    files
        .iter()
        .enumerate()
        .map(|(i, f)| StopRule {
            id: f.id.clone(),
            limit: compiled(&f.limit, format!("stop_rules[{i}].limit")),
            residual: compiled(&f.residual, format!("stop_rules[{i}].residual")),
            ask: f.ask.clone(),
        })
        .collect()
}
