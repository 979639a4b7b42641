//! How far do the editions disagree on one member?

use super::governing::Asked;
use super::reference::reference;
use super::terms::Target;
use crate::beam::Beam;
use crate::editions::{Edition, EditionChoice, Status};
use crate::error::{Error, Issue};
use crate::loads::Loads;
use crate::scope::Doubt;
use crate::units::{Force, LoadBasis, Moment, Net, Total};
use crate::verdict::MemberUnit;

/// The largest shear and moment that one edition asks for in the region in doubt.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct Asks {
    /// The load set that applies.
    pub set: String,
    /// Largest shear by size, total, with its sign.
    pub shear: Total<Force>,
    /// The same, net.
    pub net_shear: Net<Force>,
    /// The term that gives it.
    pub shear_term: String,
    /// Largest sagging moment, total.
    pub moment: Total<Moment>,
    /// The same, net.
    pub net_moment: Net<Moment>,
    /// The term that gives it.
    pub moment_term: String,
    /// Smallest moment, total: below zero it hogs.
    pub hogging: Total<Moment>,
}

/// One edition on the member.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct Compared {
    /// The stable name of the edition.
    pub edition: String,
    /// The name people use.
    pub name: String,
    /// Whether it is in force.
    pub status: Status,
    /// What it asks, or why it does not say.
    pub outcome: Result<Asks, Vec<Issue>>,
}

/// Every shipped edition on one member, in the order of their names: what each asks in the region,
/// or its refusal. `choice` holds the facts; its edition and set are not looked at, and a set that is
/// asked for by name is left to the edition that has it.
///
/// # Errors
/// Only what has nothing to do with an edition: a region beyond the member, an action that cannot be.
pub fn compare(
    beam: &Beam,
    loads: &Loads,
    choice: &EditionChoice,
    doubt: &Doubt,
    unit: MemberUnit,
    determinate: Option<bool>,
) -> Result<Vec<Compared>, Error> {
    let mut issues = doubt.on("scope.doubt", beam.length());
    let _ = loads.nominal(beam.length(), &mut issues);
    Error::check(issues)?;
    let mut all = Vec::new();
    for edition in Edition::list()? {
        let own = EditionChoice {
            id: edition.id().to_owned(),
            set: None,
            project: None,
            file: None,
            adjustments: edition
                .bridge_proof()
                .map_or_else(Vec::new, |_| choice.adjustments.clone()),
            impact: edition.bridge_proof().and(choice.impact),
            ..choice.clone()
        };
        let outcome = reference(beam, loads, &own, core::slice::from_ref(doubt), unit, determinate)
            .map(|(set, target)| asks(&set.set, &target))
            .map_err(|e| e.issues);
        all.push(Compared {
            edition: edition.id().to_owned(),
            name: edition.name().to_owned(),
            status: edition.status(),
            outcome,
        });
    }
    Ok(all)
}

fn asks(set: &str, target: &Target) -> Asks {
    let (from, to) = (target.from, target.to);
    let largest = |asked: Asked, basis: LoadBasis| {
        let found = target.inside().largest(asked, basis, from, to);
        found.map_or((0.0, String::new()), |(e, term)| (e.value, target.term_name(term).to_owned()))
    };
    let (shear, shear_term) = largest(Asked::Shear, LoadBasis::Total);
    let (moment, moment_term) = largest(Asked::Sagging, LoadBasis::Total);
    let force = |si: f64| Force::from_si(si);
    let bending = |si: f64| Moment::from_si(si);
    Asks {
        set: set.to_owned(),
        shear: Total(force(shear)),
        net_shear: Net(force(largest(Asked::Shear, LoadBasis::Net).0)),
        shear_term,
        moment: Total(bending(moment)),
        net_moment: Net(bending(largest(Asked::Sagging, LoadBasis::Net).0)),
        moment_term,
        hogging: Total(bending(largest(Asked::Hogging, LoadBasis::Total).0)),
    }
}

impl Compared {
    /// The largest moment asked over the smallest, of those that say it; nothing where fewer than
    /// two do.
    #[must_use]
    pub fn spread(all: &[Self]) -> Option<f64> {
        let moments = all.iter().filter_map(|c| c.outcome.as_ref().ok()).map(|a| a.moment.0.si());
        let (low, high, count) =
            moments.fold((f64::INFINITY, 0.0_f64, 0), |(l, h, n), m| (l.min(m), h.max(m), n + 1));
        (count > 1 && low > 0.0).then_some(high / low)
    }
}

impl crate::source::Write for Compared {
    fn write(&self) -> crate::source::Node {
        use crate::source::Node;
        let mut fields = vec![
            ("edition", Node::text(self.edition.clone())),
            ("name", Node::text(self.name.clone())),
            ("status", self.status.write()),
        ];
        match &self.outcome {
            Ok(asks) => fields.extend([
                ("set", Node::text(asks.set.clone())),
                ("shear", asks.shear.write()),
                ("net_shear", asks.net_shear.write()),
                ("shear_term", Node::text(asks.shear_term.clone())),
                ("moment", asks.moment.write()),
                ("net_moment", asks.net_moment.write()),
                ("moment_term", Node::text(asks.moment_term.clone())),
                ("hogging", asks.hogging.write()),
            ]),
            Err(issues) => fields.push(("refused", issues.write())),
        }
        Node::map(fields)
    }
}
