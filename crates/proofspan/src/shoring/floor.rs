//! The floor below when the member falls on it.

use smallvec::SmallVec;

use super::check::{FloorCheck, Shoring, carried};
use super::drive::Landing;
use super::spec::{Catch, ShoringSpec};
use crate::beam::{Beam, Load};
use crate::error::{Error, Issue, slug};
use crate::formula::NoRecord;
use crate::units::{Force, Length, Message, Moment, Quantity};
use crate::verdict::{Basis, Clause, Collect, Limit, MemberUnit, Note, Subject, Verdict, words};

/// The floor that catches stand on, in the places of the member under test, per member unit.
#[derive(Clone, Copy, Debug)]
pub struct Floor<'a> {
    /// How the drawings call it.
    pub id: &'a str,
    /// What one value is counted for.
    pub unit: MemberUnit,
    /// The member; its left end lies at `from`.
    pub beam: &'a Beam,
    /// Where its left end lies, from the left end of the member under test.
    pub from: Length,
    /// Its own weight, counterweights, rig: what stays on it when the uplift is gone. Places on the floor.
    pub placed: &'a [Load],
    /// Left and right edges of the counterweights on the floor.
    pub weights: &'a [(Length, Length)],
    /// Design shear strength.
    pub shear: Option<Force>,
    /// Design strength in sagging.
    pub sagging: Option<Moment>,
    /// Design strength in hogging, as a size.
    pub hogging: Option<Moment>,
}

/// The floor under own weight, counterweights, rig and the catch forces of a failure together, the
/// uplift gone: the largest of all failures, and its checks. Places of `landings` are those of the
/// member under test, each force that of the catch less what goes further down.
///
/// # Errors
/// `shoring.catch-outside` for a catch beyond the floor, and what a beam refuses.
pub fn floor_check(
    floor: &Floor<'_>,
    landings: &[Vec<(Length, Force)>],
) -> Result<(FloorCheck, Vec<Verdict>), Error> {
    let landings = landings.iter().map(|l| l.iter().copied());
    let (check, verdicts) = checked(floor, landings)?;
    Ok((check, verdicts.to_vec()))
}

type Verdicts = SmallVec<[Verdict; 3]>;

fn checked(
    floor: &Floor<'_>,
    landings: impl ExactSizeIterator<Item = impl Iterator<Item = (Length, Force)>>,
) -> Result<(FloorCheck, Verdicts), Error> {
    let end = floor.beam.length();
    let (mut shear, mut sagging, mut hogging) = (Force::ZERO, Moment::ZERO, Moment::ZERO);
    let bare = if landings.len() == 0 { Some(None) } else { None };
    for landing in landings.map(Some).chain(bare) {
        let mut loads: SmallVec<[Load; 6]> = floor.placed.into();
        for (at, force) in landing.into_iter().flatten() {
            let x = at - floor.from;
            if x < Length::ZERO || x > end {
                return Err(Issue::new(
                    slug::SHORING_CATCH_OUTSIDE,
                    "shoring.catch",
                    format!("a catch beyond `{}`, on which it stands", floor.id),
                )
                .value(at)
                .limit(Message::new("{} to {}", [floor.from.into(), (floor.from + end).into()]))
                .into());
            }
            loads.push(Load::point(x, force));
        }
        let response = floor.beam.response(&loads)?;
        let v = response.inside().shear_extremes(Length::ZERO, end);
        let m = response.inside().moment_extremes(Length::ZERO, end);
        shear = shear.max(v.max.value.abs()).max(v.min.value.abs());
        sagging = sagging.max(m.max.value);
        hogging = hogging.max(-m.min.value);
    }
    // what statics leaves beside the largest moment is rounding
    if hogging <= sagging * 1e-12 {
        hogging = Moment::ZERO;
    }
    let given = Clause::Named("strength given by the engineer");
    let (basis, code) = (Basis::total(floor.unit), slug::SHORING_FLOOR_OVER_CAPACITY);
    let demands: [(Quantity, f64, Option<f64>, &str); 3] = [
        (shear.into(), shear.si(), floor.shear.map(Force::si), "shear"),
        (sagging.into(), sagging.si(), floor.sagging.map(Moment::si), "sagging"),
        (hogging.into(), sagging.si(), floor.hogging.map(Moment::si), "hogging"),
    ];
    let verdicts = demands
        .into_iter()
        .filter_map(|(demand, size, limit, part)| {
            let limit = Limit::AtMost(limit?);
            Some(Verdict::design_of_size(code, demand, size, limit, basis, given).part(part))
        })
        .collect();
    Ok((FloorCheck { id: floor.id.to_owned(), shear, sagging, hogging }, verdicts))
}

/// Whether a catch stands on the floor of this name.
fn stands(catch: &Catch, id: &str) -> bool {
    catch.on.as_deref() == Some(id)
}

impl Shoring {
    /// Checks the floor under the catches that stand on the reaction member; says where none is
    /// checked.
    ///
    /// # Errors
    /// `shoring.floor-unknown`, `shoring.catch-on-weight`, and those of [`floor_check`].
    pub(crate) fn land(
        &mut self,
        spec: &ShoringSpec,
        floors: &[Floor<'_>],
        landings: &[Landing],
    ) -> Result<(), Error> {
        let mut issues = Vec::new();
        for (i, catch) in spec.catch.iter().enumerate() {
            let path = spec.catch.path("shoring.catch", i);
            let Some(id) = &catch.on else {
                let message = Message::new(
                    "the floor under the catch at {} is not checked",
                    [catch.at.value.into()],
                );
                self.notes.push(Note::new(slug::SHORING_FLOOR_UNCHECKED, path, message));
                continue;
            };
            let Some(floor) = floors.iter().find(|f| f.id == id) else {
                let message = "the catch stands on a floor that the rig does not name";
                issues.push(
                    Issue::new(slug::SHORING_FLOOR_UNKNOWN, format!("{path}.on"), message)
                        .value(id),
                );
                continue;
            };
            let (half, slack) = (catch.width.value / 2.0, floor.beam.length() * 1e-9);
            let at = catch.at.value - floor.from;
            // what has edges may touch the foot, what is a point may not stand at its rim
            let hits = |(a, b): &(Length, Length)| {
                let half = if b > a { half - slack } else { half + slack };
                *a - half <= at && at <= *b + half
            };
            if floor.weights.iter().any(hits) {
                let message = "the catch and a counterweight stand on one spot";
                issues.push(
                    Issue::new(slug::SHORING_CATCH_ON_WEIGHT, format!("{path}.at"), message)
                        .value(catch.at.said()),
                );
            }
        }
        Error::check(issues)?;
        let under = floors.iter().filter(|f| spec.catch.iter().any(|c| stands(c, f.id)));
        for floor in under {
            self.land_on(spec, floor, landings)?;
        }
        Ok(())
    }

    fn land_on(
        &mut self,
        spec: &ShoringSpec,
        floor: &Floor<'_>,
        landings: &[Landing],
    ) -> Result<(), Error> {
        // the floor it stands on is the top level: what it takes hangs on how much comes, for gaps close
        let share = |landing: &Landing| {
            let all: Force = landing.iter().map(|c| c.2).sum();
            let top = carried(&mut NoRecord, spec, all).first().map(|c| c.force);
            let top = top.filter(|_| !spec.levels.is_empty());
            top.filter(|_| all > Force::ZERO).map_or(1.0, |top| top / all)
        };
        let here = |landing: &Landing| {
            let on = |c: &&(usize, Length, Force)| {
                spec.catch.get(c.0).is_some_and(|catch| stands(catch, floor.id))
            };
            let share = share(landing);
            let here = landing.iter().filter(on).map(|c| (c.1, c.2 * share));
            here.collect::<SmallVec<[(Length, Force); 3]>>()
        };
        let (check, verdicts) = checked(floor, landings.iter().map(|l| here(l).into_iter()))?;
        let of = Subject::of("floor", self.floors.len());
        for verdict in verdicts.into_iter().map(|v| v.of(of)) {
            self.check(verdict, || {
                let used =
                    verdict.utilisation.map_or_else(|| "more than nothing".into(), Into::into);
                let message = Message::new(
                    "the floor {} under own weight, counterweights and what falls, the uplift gone: {} of its strength",
                    [floor.id.into(), used],
                );
                words("shoring.catch", message)
            });
        }
        self.floors.push(check);
        Ok(())
    }
}
