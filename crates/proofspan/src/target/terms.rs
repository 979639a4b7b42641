//! The terms on the beam.

use crate::beam::{Actions, Beam, Load};
use crate::editions::{LoadSet, Row};
use crate::error::Error;
use crate::loads::Nominal;
use crate::scope::Doubt;
use crate::units::Length;
use crate::verdict::MemberUnit;

/// One combination on the beam.
#[derive(Clone, PartialEq, Debug)]
pub struct Term {
    /// Its name in the edition.
    pub id: String,
    /// Everything that acts in this combination.
    pub total: Actions,
    /// What the rig must add: total less what is in place.
    pub net: Actions,
}

/// What the test must reproduce, per member unit.
#[derive(Clone, PartialEq, Debug)]
pub struct Target {
    /// What every value is counted for.
    pub unit: MemberUnit,
    /// The beam, with the stiffness of the soft prediction.
    pub beam: Beam,
    /// What acts before the test.
    pub in_place: Actions,
    /// The combinations, in the order of the edition.
    pub terms: Vec<Term>,
    /// Left end of the region in doubt.
    pub from: Length,
    /// Right end of the region in doubt.
    pub to: Length,
    /// The nominal actions it was made of.
    pub nominal: Vec<Nominal>,
    pub(super) rows: Vec<Row>,
}

/// Puts the load set on the beam.
///
/// # Errors
/// A load that the beam cannot carry; see [`Beam::cases`].
pub fn target(
    beam: &Beam,
    nominal: Vec<Nominal>,
    set: &LoadSet,
    doubt: &Doubt,
    unit: MemberUnit,
) -> Result<Target, Error> {
    let (in_place, terms) = terms(beam, &nominal, &set.rows)?;
    Ok(Target {
        unit,
        beam: beam.clone(),
        in_place,
        terms,
        from: doubt.from.value,
        to: doubt.to.value,
        nominal,
        rows: set.rows.clone(),
    })
}

fn terms(beam: &Beam, nominal: &[Nominal], rows: &[Row]) -> Result<(Actions, Vec<Term>), Error> {
    let loads: Vec<Load> = nominal.iter().map(|n| n.load).collect();
    let cases: Vec<&[Load]> = loads.chunks(1).collect();
    let cases = beam.cases(&cases)?;
    let combined = |factor: &dyn Fn(&Nominal) -> f64| {
        let parts: Vec<(f64, &Actions)> =
            nominal.iter().zip(&cases).map(|(n, c)| (factor(n), c)).collect();
        Actions::combined(&parts)
    };
    let in_place = combined(&|n| n.in_place);
    let terms = rows
        .iter()
        .map(|row| Term {
            id: row.id.clone(),
            total: combined(&|n| row.factor(n.symbol)),
            net: combined(&|n| row.factor(n.symbol) - n.in_place),
        })
        .collect();
    Ok((in_place, terms))
}

impl Target {
    /// The same target on another beam, for example one with its ends held.
    ///
    /// # Errors
    /// A beam of another length, on which the loads do not fit.
    pub fn on(&self, beam: &Beam) -> Result<Self, Error> {
        let (in_place, terms) = terms(beam, &self.nominal, &self.rows)?;
        Ok(Self { beam: beam.clone(), in_place, terms, ..self.clone() })
    }

    /// The combinations with their factors.
    #[must_use]
    pub fn rows(&self) -> &[Row] {
        &self.rows
    }

    /// The largest net moment of any term anywhere, as a scale for ratios.
    #[must_use]
    pub fn has_something_to_apply(&self) -> bool {
        let end = self.beam.length();
        self.terms.iter().any(|t| {
            let moment = t.net.moment_extremes(Length::ZERO, end);
            let shear = t.net.shear_extremes(Length::ZERO, end);
            let in_place = self.in_place.shear_extremes(Length::ZERO, end).max.value.abs();
            let tiny = in_place * 1e-12;
            // net load in the sense of the permanent one: it sags where the member sags
            moment.max.value.si() > 0.0 && shear.max.value > tiny
        })
    }
}
