//! From actions and an edition to the target, in one step.

use super::terms::{Target, target};
use crate::beam::{Beam, redundant};
use crate::editions::{EditionChoice, Facts, LoadSet, SnowBasis};
use crate::error::{Error, Issue, slug};
use crate::loads::{Loads, Nominal, Occupancy, SnowLevel, Symbol};
use crate::scope::Doubt;
use crate::source::{validate_named, validate_single_named};
use crate::units::Length;
use crate::verdict::{MemberUnit, Note};

/// What decides the load set: actions, edition, doubt.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Question<'a> {
    pub(crate) loads: &'a Loads,
    pub(crate) edition: &'a EditionChoice,
    pub(crate) doubt: &'a [Doubt],
    /// Whether the member is known to be statically determinate; `None` where nobody showed it.
    pub(crate) determinate: Option<bool>,
}

/// Where a region in doubt stands in a document.
fn doubt_path(count: usize, i: usize) -> String {
    if count == 1 { "scope.doubt".to_owned() } else { format!("scope.doubt[{i}]") }
}

impl Question<'_> {
    /// Holds the parts to their rules, for callers that have no document that was held to them.
    fn sound(&self) -> Vec<Issue> {
        let doubts = self.doubt.iter().enumerate();
        let doubts =
            doubts.map(|(i, d)| validate_single_named(&doubt_path(self.doubt.len(), i), d));
        [validate_single_named("loads", self.loads), validate_named("edition", self.edition)]
            .into_iter()
            .chain(doubts)
            .filter_map(Result::err)
            .flat_map(|e| e.issues)
            .collect()
    }

    /// The nominal actions on a member of this length, and the load set that applies; every
    /// problem of either goes to `issues`.
    pub(crate) fn answer(
        &self,
        length: Length,
        issues: &mut Vec<Issue>,
    ) -> Option<(Vec<Nominal>, LoadSet)> {
        for (i, doubt) in self.doubt.iter().enumerate() {
            issues.extend(doubt.on(&doubt_path(self.doubt.len(), i), length));
        }
        let nominal = self.loads.nominal(length, issues);
        let facts = self.facts(issues);
        let edition = self.edition.edition();
        let set = edition.and_then(|e| e.load_set(self.edition, &self.loads.present(), &facts));
        match set {
            Ok(mut set) => {
                self.snow(&mut set, issues);
                set.notes.extend(self.loads.notes());
                Some((nominal, set))
            }
            Err(error) => {
                issues.extend(error.issues);
                None
            }
        }
    }

    /// Factors that carry 1.6 expect nominal snow.
    fn snow(&self, set: &mut LoadSet, issues: &mut Vec<Issue>) {
        if set.edition.snow_basis() != SnowBasis::Nominal
            || !self.loads.present().contains(&Symbol::Snow)
        {
            return;
        }
        match self.loads.snow_level() {
            Some(SnowLevel::Nominal) => {}
            Some(SnowLevel::Strength) => issues.push(
                Issue::new(
                    slug::LOADS_SNOW_LEVEL,
                    "loads.actions",
                    format!("the factors of {} expect a nominal snow load: at strength level it would count 1.6 times too much", set.edition.name()),
                ),
            ),
            None => set.notes.push(Note::new(
                slug::LOADS_SNOW_LEVEL_UNSTATED,
                "loads.actions",
                "the snow load is taken as nominal",
            )),
        }
    }

    /// The facts that follow from the description; the engineer's own come first.
    fn facts(&self, issues: &mut Vec<Issue>) -> Facts {
        let brittle = self.doubt.iter().any(|d| d.mode.brittle());
        if brittle && self.edition.facts.brittle_suspected == Some(false) {
            issues.push(
                Issue::new(
                    slug::EDITIONS_SET_REFUSED,
                    "edition.facts.brittle_suspected",
                    "a doubt in shear is a doubt in a brittle mode",
                )
                .remedy("leave the fact out"),
            );
        }
        let facts = Facts {
            brittle_suspected: brittle.then_some(true),
            indeterminate: self.determinate.map(|d| !d),
            parking: self.loads.occupied_by(Occupancy::Parking),
            public_assembly: self.loads.occupied_by(Occupancy::PublicAssembly),
            live: self.loads.live(),
            ..Facts::default()
        };
        self.contradictions(&facts, issues);
        facts
    }

    /// What the engineer says of the floor against what the actions say.
    fn contradictions(&self, described: &Facts, issues: &mut Vec<Issue>) {
        let said = &self.edition.facts;
        for (word, fact, described) in [
            ("parking", said.parking, described.parking),
            ("public_assembly", said.public_assembly, described.public_assembly),
            // that a member which statics alone solves is said to be more is on the heavier side
            (
                "indeterminate",
                said.indeterminate.filter(|more| !more),
                described.indeterminate.filter(|more| *more),
            ),
        ] {
            if let (Some(fact), Some(described)) = (fact, described)
                && fact != described
            {
                let by = match word {
                    "indeterminate" => "by supports and hinges",
                    _ => "by the occupancy in loads.actions",
                };
                let message = format!("{word} is {fact} here; {by} it is {described}");
                let path = format!("edition.facts.{word}");
                issues.push(Issue::new(slug::EDITIONS_FACTS_CONTRADICT, path, message).value(fact));
            }
        }
        if let (Some(fact), Some(acts)) = (said.live, described.live)
            && fact < acts * (1.0 - 1e-12)
        {
            let message = format!("conditions speak of {fact}; in loads.actions {acts} acts");
            issues.push(
                Issue::new(slug::EDITIONS_FACTS_CONTRADICT, "edition.facts.live", message)
                    .value(fact),
            );
        }
    }
}

/// The load set that applies and what the test must reproduce: actions per member unit on a
/// beam, the edition, the region in doubt. `determinate` says whether the member is known to be
/// statically determinate.
///
/// # Errors
/// Every problem of the actions, the edition and the region at once.
pub fn reference(
    beam: &Beam,
    loads: &Loads,
    edition: &EditionChoice,
    doubt: &[Doubt],
    unit: MemberUnit,
    determinate: Option<bool>,
) -> Result<(LoadSet, Target), Error> {
    let more = redundant(beam.supports(), beam.hinges().len());
    let question = Question {
        loads,
        edition,
        doubt,
        determinate: if more { Some(false) } else { determinate },
    };
    let mut issues = question.sound();
    if more && determinate == Some(true) {
        let message = "more is held than statics alone solves";
        issues
            .push(Issue::new(slug::EDITIONS_FACTS_CONTRADICT, "determinate", message).value(true));
    }
    Error::check(core::mem::take(&mut issues))?;
    let answer = question.answer(beam.length(), &mut issues);
    Error::check(issues)?;
    let (nominal, set) =
        answer.ok_or_else(|| Issue::new(slug::EDITIONS_FILE, "edition", "no load set applies"))?;
    let target = target(beam, nominal, &set, doubt, unit)?;
    let mut set = set;
    set.notes.extend(target.patterns_note()?);
    Ok((set, target))
}
