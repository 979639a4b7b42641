//! The terms on the beam.

use smallvec::{SmallVec, smallvec};

use crate::beam::{Beam, Load, Pattern, Response, on_spans};
use crate::editions::{LoadSet, Row};
use crate::error::{Error, Issue, slug};
use crate::loads::Nominal;
use crate::scope::{Doubt, Mode};
use crate::source::Name;
use crate::units::{Length, Message};
use crate::verdict::{MemberUnit, Note};

/// One combination on the beam.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct Term {
    /// Its name in the edition, with the pattern of the live load where there is one.
    pub id: Name,
    /// Its combination, by its place among the rows.
    pub row: usize,
    /// Where the live load stands; nothing where it stands everywhere or there is one span only.
    pub pattern: Option<Pattern>,
    /// Everything that acts in this combination.
    pub total: Response,
    /// What the rig must add: total less what is in place.
    pub net: Response,
}

/// A region in doubt and its failure mode.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Region {
    /// The failure mode in doubt.
    pub mode: Mode,
    /// Left end, from the left end of the member.
    pub from: Length,
    /// Right end.
    pub to: Length,
}

/// What the test must reproduce, per member unit.
#[derive(Clone, PartialEq, Debug)]
pub struct Target {
    /// What every value is counted for.
    pub unit: MemberUnit,
    /// The beam, with the stiffness of the soft prediction.
    pub beam: Beam,
    /// What acts before the test.
    pub in_place: Response,
    /// The combinations, in the order of the edition.
    pub terms: Vec<Term>,
    /// Left end of the region in doubt, the first where there are several.
    pub from: Length,
    /// Right end of that region.
    pub to: Length,
    /// The failure mode in doubt there: it says which sense of the moment governs.
    pub mode: Mode,
    /// Every region in doubt that this test answers for, the first included.
    pub regions: Vec<Region>,
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
    doubt: &[Doubt],
    unit: MemberUnit,
) -> Result<Target, Error> {
    let regions = regions(doubt);
    let Some(first) = regions.first().copied() else {
        let message = "no region is in doubt";
        return Err(Issue::new(slug::SCOPE_REGION_EMPTY, "scope.doubt", message).into());
    };
    let (in_place, terms) = terms(beam, &nominal, &set.rows)?;
    Error::check(regions.iter().filter_map(|r| absent(r, &terms)).collect())?;
    Ok(Target {
        unit,
        beam: beam.clone(),
        in_place,
        terms,
        from: first.from,
        to: first.to,
        mode: first.mode,
        regions,
        nominal,
        rows: set.rows.clone(),
    })
}

/// A region in doubt for a sense of the moment that no term brings there.
fn absent(region: &Region, terms: &[Term]) -> Option<Issue> {
    if region.mode == Mode::Shear {
        return None;
    }
    let (from, to) = (region.from, region.to);
    let hogs = region.mode == Mode::Hogging;
    let brings = |term: &Term| {
        let noise = term.total.size_of(crate::beam::Segment::moment) * 1e-9;
        let found = term.total.inside().moment_extremes(from, to);
        if hogs { found.min.value.si() < -noise } else { found.max.value.si() > noise }
    };
    if terms.iter().any(brings) {
        return None;
    }
    let sense = if hogs { "hogs" } else { "sags" };
    let message =
        Message::new("no combination {} from {} to {}", [sense.into(), from.into(), to.into()]);
    Some(Issue::new(slug::SCOPE_MODE_ABSENT, "scope.doubt", message).value(region.mode.to_string()))
}

fn regions(doubt: &[Doubt]) -> Vec<Region> {
    let region = |d: &Doubt| Region { mode: d.mode, from: d.from.value, to: d.to.value };
    doubt.iter().map(region).collect()
}

fn terms(beam: &Beam, nominal: &[Nominal], rows: &[Row]) -> Result<(Response, Vec<Term>), Error> {
    let several = nominal.iter().any(|n| n.varies) && beam.has_several_spans();
    let spans = if several { beam.spans() } else { Vec::new() };
    let patterns: SmallVec<[Option<Pattern>; 1]> = if several {
        beam.patterns()?.all.into_iter().map(Some).collect()
    } else {
        smallvec![None]
    };
    let mut loads: SmallVec<[(usize, Option<usize>, Load); 8]> = SmallVec::new();
    for (i, n) in nominal.iter().enumerate() {
        if several && n.varies {
            let parts = on_spans(n.load, &spans).into_iter().enumerate();
            loads.extend(parts.filter_map(|(span, load)| Some((i, Some(span), load?))));
        } else {
            loads.push((i, None, n.load));
        }
    }
    let plain: SmallVec<[Load; 8]> = loads.iter().map(|l| l.2).collect();
    let cases: SmallVec<[&[Load]; 8]> = plain.chunks(1).collect();
    // what settled before the test is there once, in every total, and in no load
    let settled = beam.supports().iter().any(|s| s.settlement.abs() > Length::ZERO);
    let settlement = if settled { Some(beam.response(&[])?) } else { None };
    let cases = if settled { beam.level().cases(&cases)? } else { beam.cases(&cases)? };
    let combined = |factor: &dyn Fn(&Nominal, bool) -> f64, pattern: Option<&Pattern>, state| {
        let on = |span: Option<usize>| {
            let marks = pattern.zip(span).and_then(|(p, s)| p.loaded.get(s));
            marks.is_none_or(|on| *on)
        };
        let mut parts: SmallVec<[(f64, &Response); 8]> = loads
            .iter()
            .zip(&cases)
            .filter_map(|((i, span, _), case)| Some((factor(nominal.get(*i)?, on(*span)), case)))
            .collect();
        if state {
            parts.extend(settlement.iter().map(|s| (1.0, s)));
        }
        Response::sum(&parts)
    };
    let in_place = combined(&|n, _| n.in_place, None, true);
    let mut terms = Vec::with_capacity(rows.len() * patterns.len());
    for (i, row) in rows.iter().enumerate() {
        let live = nominal.iter().any(|n| n.varies && row.factor(n.symbol) > 0.0);
        for pattern in patterns.iter().take(if live { patterns.len() } else { 1 }) {
            let all = pattern.as_ref().is_none_or(|p| p.loaded.iter().all(|on| *on));
            let gamma = |n: &Nominal, on: bool| if on { row.factor(n.symbol) } else { 0.0 };
            terms.push(Term {
                id: match pattern {
                    Some(p) if !all => format!("{}, live on {}", row.id, p.words()).into(),
                    _ => row.id.clone(),
                },
                row: i,
                pattern: pattern.clone().filter(|_| !all),
                total: combined(&gamma, pattern.as_ref(), true),
                net: combined(&|n, on| gamma(n, on) - n.in_place, pattern.as_ref(), false),
            });
        }
    }
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

    /// The same target with this region alone in doubt.
    #[must_use]
    pub fn looking_at(&self, region: Region) -> Self {
        let regions = vec![region];
        Self { from: region.from, to: region.to, mode: region.mode, regions, ..self.clone() }
    }

    /// The same actions for other regions in doubt; nothing where they are of another beam, other loads
    /// or another load set.
    pub(crate) fn asked_again(
        &self,
        beam: &Beam,
        nominal: &[Nominal],
        set: &LoadSet,
        doubt: &[Doubt],
    ) -> Option<Self> {
        let same = self.beam == *beam && self.nominal == nominal && self.rows == set.rows;
        let regions = regions(doubt);
        let first = regions.first().copied().filter(|_| same)?;
        Some(Self { from: first.from, to: first.to, mode: first.mode, regions, ..self.clone() })
    }

    /// What it is made of, without actions: they come where it is put on a beam again.
    pub(crate) fn unmade(&self) -> Self {
        let (regions, nominal, rows) =
            (self.regions.clone(), self.nominal.clone(), self.rows.clone());
        let (beam, in_place, terms) = (self.beam.clone(), Response::sum(&[]), Vec::new());
        Self { beam, in_place, terms, regions, nominal, rows, ..*self }
    }

    /// The same target, its loads and its region at other places; its actions are of the old ones until
    /// it is put on a beam.
    pub(crate) fn mapped(&self, place: impl Fn(Length) -> Length) -> Self {
        let mut own = self.clone();
        own.nominal.iter_mut().for_each(|n| n.load = n.load.mapped(&place));
        (own.from, own.to) = (place(own.from), place(own.to));
        own.regions.iter_mut().for_each(|r| (r.from, r.to) = (place(r.from), place(r.to)));
        own
    }

    /// That patterns of the live load were left out which may govern, where that is so.
    pub(super) fn patterns_note(&self) -> Result<Option<Note>, Error> {
        let patterned = self.terms.iter().any(|t| t.pattern.is_some());
        Ok((patterned && !self.beam.patterns()?.worst).then(|| {
            let message = format!(
                "{} spans with hinges, springs or bearings that lift: the usual patterns of live load were tried, not all",
                self.beam.spans().len()
            );
            Note::new(slug::TARGET_PATTERNS, "loads.actions", message)
        }))
    }

    /// The combinations with their factors.
    #[must_use]
    pub fn rows(&self) -> &[Row] {
        &self.rows
    }
}
