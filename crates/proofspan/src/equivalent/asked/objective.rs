//! What is made small, the first before the second.

use super::effect::BasisWord;
use super::effect::Effect;
use super::reference::Reference;
use super::requirement::{Requirement, Within};
use crate::beam::Beam;
use crate::error::{Issue, slug};
use crate::units::{Force, Kind, Length, Quantity};

crate::choice! {
    /// What is made small.
    pub enum Goal ("objective", equivalent::EQUIVALENT_OBJECTIVE) {
        /// The number of carriers; only a search over places can choose it.
        Carriers = "carriers",
        /// The largest ratio of test to reference.
        Overshoot = "overshoot",
        /// The largest force of one carrier.
        Peak = "peak",
        /// The sum of the forces, each times its cost.
        Total = "total",
        /// The largest uplift of a support, with what is in place.
        Uplift = "uplift",
    }
}

crate::record! {
    /// An objective.
    pub struct Objective {
        /// What is made small.
        of: Goal,
        /// For an overshoot, shear or moment; the larger of both where it is left out.
        effect: Option<Effect>,
        /// For an overshoot, net or total.
        basis: Option<BasisWord>,
        /// Left end; that of the region in doubt where it is left out.
        from: Option<Length>,
        /// Right end; that of the region in doubt where it is left out.
        to: Option<Length>,
        /// Single places in place of a stretch.
        at: Vec<Length> = Vec::new(),
    }
}

impl Objective {
    const fn of(of: Goal) -> Self {
        Self { of, effect: None, basis: None, from: None, to: None, at: Vec::new() }
    }
    /// The number of carriers.
    #[must_use]
    pub const fn carriers() -> Self {
        Self::of(Goal::Carriers)
    }
    /// The sum of the forces.
    #[must_use]
    pub const fn total() -> Self {
        Self::of(Goal::Total)
    }
    /// The largest force of one carrier.
    #[must_use]
    pub const fn peak() -> Self {
        Self::of(Goal::Peak)
    }
    /// The largest uplift of a support.
    #[must_use]
    pub const fn uplift() -> Self {
        Self::of(Goal::Uplift)
    }
    /// The largest overshoot in the region in doubt.
    #[must_use]
    pub fn overshoot(effect: Effect, basis: BasisWord) -> Self {
        Self { effect: Some(effect), basis: Some(basis), ..Self::of(Goal::Overshoot) }
    }

    /// The objective in words.
    #[must_use]
    pub fn words(&self) -> String {
        match self.of {
            Goal::Carriers => "number of carriers".to_owned(),
            Goal::Overshoot => format!(
                "largest overshoot in {}, {}",
                self.effect.map_or("shear and moment", Effect::word),
                self.basis.map_or("?", |b| b.word())
            ),
            Goal::Peak => "largest force of a carrier".to_owned(),
            Goal::Total => "sum of the forces".to_owned(),
            Goal::Uplift => "largest uplift of a support".to_owned(),
        }
    }

    /// The caps whose factor an overshoot makes small.
    pub(in crate::equivalent) fn caps(&self, reference: &Reference) -> Vec<Requirement> {
        let Some(basis) = self.basis else { return Vec::new() };
        let region = reference.region();
        let (from, to) = (self.from.unwrap_or(region.0), self.to.unwrap_or(region.1));
        let cap = |effect: &Effect| {
            Requirement::Within(Within {
                effect: *effect,
                basis,
                at_most: 0.0,
                from: Some(from),
                to: Some(to),
                at: self.at.clone(),
                case: None,
                floor: 0.02,
            })
        };
        match &self.effect {
            Some(effect) => vec![cap(effect)],
            None => Effect::ALL.iter().map(cap).collect(),
        }
    }
}

/// Every problem of the objectives.
pub(in crate::equivalent) fn refused(
    objectives: &[Objective],
    reference: &Reference,
    beam: &Beam,
    searched: bool,
    issues: &mut Vec<Issue>,
) {
    if objectives.is_empty() {
        issues.push(Issue::new(
            slug::EQUIVALENT_OBJECTIVE,
            "objectives",
            "nothing is to be made small",
        ));
    }
    let (end, region) = (beam.length(), reference.region());
    let slack = end * 1e-12;
    for (i, objective) in objectives.iter().enumerate() {
        let mut bad = |message: &'static str, limit: &str| {
            let issue = Issue::new(slug::EQUIVALENT_OBJECTIVE, format!("objectives[{i}]"), message);
            issues.push(issue.value(objective.words()).limit(limit));
        };
        if objective.of == Goal::Carriers && !searched {
            bad("the number of given carriers is given", "search over candidates");
        }
        if objective.of != Goal::Overshoot {
            continue;
        }
        if objective.basis.is_none() {
            bad("an overshoot on which basis?", "effect: shear, moment; basis: net, total");
        }
        let (from, to) = (objective.from.unwrap_or(region.0), objective.to.unwrap_or(region.1));
        let inside = |x: Length| x >= -slack && x <= end + slack;
        let stretch = inside(from) && inside(to) && (from < to || !objective.at.is_empty());
        if !stretch || !objective.at.iter().all(|x| inside(*x)) {
            bad(
                "a stretch that does not rise inside the member",
                "from below to, inside the member",
            );
        }
    }
}

impl Objective {
    /// What it reached as a quantity: a force, or a ratio for an overshoot.
    #[must_use]
    pub fn amount(&self, value: f64) -> Quantity {
        let kind = if self.of == Goal::Overshoot { Kind::Ratio } else { Kind::Force };
        Quantity::new(kind, value)
    }

    /// The objective in words with what it reached and its unit.
    #[must_use]
    pub fn reached(&self, value: f64, reference: &Reference) -> String {
        match self.of {
            Goal::Overshoot => format!("{} {value:.6}", self.words()),
            _ => format!("{} {}", self.words(), reference.show(Force::from_si(value))),
        }
    }
}
