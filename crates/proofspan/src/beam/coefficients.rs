//! What loads do at a place of any member, load by load: a coefficient of the place times the load.
//!
//! Where equilibrium alone does not give the reactions, the coefficient is what the equations of the
//! member give for the load alone, scaled to one; tables of lines of spans and any frame program have
//! the same number.

use smallvec::SmallVec;

use super::by_hand::{
    deflection_by, moment_by, moment_more, one_more, reaction_by, reaction_more, resultant,
    shear_by, shear_more,
};
use super::load::Load;
use super::model::Beam;
use super::response::{Response, Side};
use crate::formula::Recorder;
use crate::units::{FlexuralRigidity, Force, Kind, Length, Message, Moment, Quantity};

/// Loads that rise together, with what they are called.
pub(crate) struct Together {
    pub(crate) name: Message,
    pub(crate) loads: SmallVec<[Load; 1]>,
}

/// What is sought.
#[derive(Clone, Copy)]
pub(crate) enum Sought {
    /// Shear on a side of a place.
    Shear(Length, Side),
    /// Moment on a side of a place.
    Moment(Length, Side),
    /// Reaction of a support, by its place in the list.
    Reaction(usize),
    /// Deflection at a place.
    Deflection(Length),
}

impl Together {
    /// One load that says what it is itself.
    pub(crate) fn of(load: Load) -> Option<Self> {
        let name = match load {
            Load::Point { at, force } => Message::new("Load: {} at {}", [force.into(), at.into()]),
            Load::Line { from, to, w_from, w_to } => Message::new(
                "Load: {} to {} from {} to {}",
                [w_from.into(), w_to.into(), from.into(), to.into()],
            ),
            _ => return None,
        };
        Some(Self { name, loads: SmallVec::from_iter([load]) })
    }

    fn resultant(&self) -> Force {
        self.loads.iter().map(|l| l.resultant()).sum()
    }
}

impl Sought {
    /// What it is in a solution.
    fn of(self, response: &Response) -> f64 {
        match self {
            Self::Shear(x, side) => response.inside().shear(x, side).si(),
            Self::Moment(x, side) => response.inside().moment(x, side).si(),
            Self::Reaction(i) => response.reactions().get(i).map_or(0.0, |r| r.force.si()),
            Self::Deflection(x) => response.inside().deflection(x).si(),
        }
    }

    fn words(self, beam: &Beam) -> Message {
        let side = |s: Side| if s == Side::Left { "left" } else { "right" };
        match self {
            Self::Shear(x, s) => Message::new(
                "Coefficient of the shear at x = {} ({} side) for this load alone",
                [x.into(), side(s).into()],
            ),
            Self::Moment(x, s) => Message::new(
                "Coefficient of the moment at x = {} ({} side) for this load alone",
                [x.into(), side(s).into()],
            ),
            Self::Reaction(i) => Message::new(
                "Coefficient of the reaction at x = {} for this load alone",
                [beam.supports().get(i).map_or(Length::ZERO, |s| s.at).into()],
            ),
            Self::Deflection(x) => Message::new(
                "Coefficient of the deflection at x = {} for this load alone",
                [x.into()],
            ),
        }
    }

    /// What one newton of a load does, without unit: shear and reaction over the load, moment over load
    /// times length, deflection over load times length cubed over EI.
    fn coefficient(self, unit: f64, (l, ei): (Length, FlexuralRigidity)) -> f64 {
        match self {
            Self::Shear(..) | Self::Reaction(_) => unit,
            Self::Moment(..) => unit / l.si(),
            Self::Deflection(_) => unit / (l.si() / ei.si() * l.si() * l.si()),
        }
    }

    fn part<R: Recorder>(
        self,
        r: &mut R,
        c: f64,
        w: Force,
        (l, ei): (Length, FlexuralRigidity),
    ) -> f64 {
        match self {
            Self::Shear(..) => shear_by(r, c, w).si(),
            Self::Moment(..) => moment_by(r, c, w, l).si(),
            Self::Reaction(_) => reaction_by(r, c, w).si(),
            Self::Deflection(_) => deflection_by(r, c, w, l, ei).si(),
        }
    }

    fn more<R: Recorder>(self, r: &mut R, sum: f64, part: f64) -> f64 {
        let (force, moment) = (Force::from_si, Moment::from_si);
        match self {
            Self::Shear(..) => shear_more(r, force(sum), force(part)).si(),
            Self::Moment(..) => moment_more(r, moment(sum), moment(part)).si(),
            Self::Reaction(_) => reaction_more(r, force(sum), force(part)).si(),
            Self::Deflection(_) => one_more(r, Length::from_si(sum), Length::from_si(part)).si(),
        }
    }
}

/// What is sought under loads, in SI, each line written; nothing under loads that are no forces, and
/// where `expected` is not what the loads one by one come to: a bearing that lifts, a settlement.
pub(crate) fn by_coefficients<R: Recorder>(
    recorder: &mut R,
    beam: &Beam,
    patterns: &[Together],
    sought: &[(Sought, f64)],
) -> Option<()> {
    if !recorder.keeps() {
        return None;
    }
    let acting: Vec<(&Together, Force)> = patterns
        .iter()
        .map(|p| (p, p.resultant()))
        .filter(|(_, w)| w.abs() > Force::ZERO)
        .collect();
    let plain = |l: &Load| matches!(l, Load::Point { .. } | Load::Line { .. });
    let all_plain = patterns.iter().all(|p| p.loads.iter().all(plain));
    // loads that cancel each other have no resultant to count by
    if !all_plain || acting.len() < patterns.len() || acting.is_empty() {
        return None;
    }
    let beam = beam.anchored().level();
    let size = (beam.length(), beam.rigidity().first()?.1);
    let units: Vec<Vec<Load>> = acting
        .iter()
        .map(|(p, w)| p.loads.iter().map(|l| l.scaled(w.si().recip())).collect())
        .collect();
    let cases: Vec<&[Load]> = units.iter().map(Vec::as_slice).collect();
    let solved = beam.cases(&cases).ok()?;
    for (one, expected) in sought {
        let parts = || acting.iter().zip(&solved).map(|((_, w), s)| one.of(s) * w.si());
        let (sum, scale) = (parts().sum::<f64>(), parts().map(f64::abs).sum::<f64>());
        if (sum - expected).abs() > 1e-9 * scale.max(expected.abs()) {
            return None;
        }
    }
    let mut sums: SmallVec<[Option<f64>; 4]> = SmallVec::from_elem(None, sought.len());
    for ((pattern, w), solved) in acting.iter().zip(&solved) {
        recorder.about(|| pattern.name.clone());
        let mut w = *w;
        if let [Load::Line { from, to, w_from, w_to }] = pattern.loads.as_slice() {
            w = resultant(recorder, *w_from, *w_to, *to - *from);
        }
        for ((one, _), sum) in sought.iter().zip(&mut sums) {
            let c = one.coefficient(one.of(solved), size);
            let value = Quantity::new(Kind::Ratio, c);
            recorder.solved(|| one.words(&beam), value, solved.residual());
            let part = one.part(recorder, c, w, size);
            *sum = Some(sum.map_or(part, |sum| one.more(recorder, sum, part)));
        }
    }
    Some(())
}

/// Shear and moment at a place under loads, by equilibrium where that is enough, else load by load.
pub(crate) fn at_place<R: Recorder>(
    recorder: &mut R,
    beam: &Beam,
    loads: &[Load],
    (x, side): (Length, Side),
) -> Option<(Force, Moment)> {
    if let Some(found) = super::by_hand::at_cut(recorder, beam, loads, (x, side)) {
        return Some(found);
    }
    let acting = loads.iter().filter(|l| l.resultant().abs() > Force::ZERO);
    let patterns: Vec<Together> = acting.map(|l| Together::of(*l)).collect::<Option<_>>()?;
    let solved = beam.response(loads).ok()?;
    let (v, m) = (Sought::Shear(x, side), Sought::Moment(x, side));
    let (shear, moment) = (v.of(&solved), m.of(&solved));
    by_coefficients(recorder, beam, &patterns, &[(v, shear), (m, moment)])?;
    Some((Force::from_si(shear), Moment::from_si(moment)))
}

/// The reactions to loads under their heading, each line written; nothing where equilibrium is enough, which
/// a cut shows on its way, or where the member lifts.
pub(crate) fn reactions_at<R: Recorder>(
    recorder: &mut R,
    beam: &Beam,
    loads: &[Load],
    heading: impl FnOnce() -> Message,
) -> Option<()> {
    if super::by_hand::Cut::new(beam, Length::ZERO, Side::Left).is_some() {
        return None;
    }
    let acting = loads.iter().filter(|l| l.resultant().abs() > Force::ZERO);
    let patterns: Vec<Together> = acting.map(|l| Together::of(*l)).collect::<Option<_>>()?;
    let solved = beam.response(loads).ok()?;
    let sought: Vec<(Sought, f64)> = (0..solved.reactions().len())
        .map(|i| (Sought::Reaction(i), Sought::Reaction(i).of(&solved)))
        .collect();
    recorder.about(heading);
    by_coefficients(recorder, beam, &patterns, &sought)
}

/// The patterns of loads that belong together by where they stand, each under its name; the others singly.
pub(crate) fn grouped(loads: &[Load], of: &[(Message, Length, Length)]) -> Option<Vec<Together>> {
    let slack = Length::from_si(1e-9);
    let mut groups: Vec<Together> = of
        .iter()
        .map(|(name, ..)| Together { name: name.clone(), loads: SmallVec::new() })
        .collect();
    let mut others = Vec::new();
    for load in loads.iter().filter(|l| l.resultant().abs() > Force::ZERO) {
        let (a, b) = match *load {
            Load::Point { at, .. } => (at, at),
            Load::Line { from, to, .. } => (from, to),
            _ => return None,
        };
        let home = of.iter().position(|(_, from, to)| a >= *from - slack && b <= *to + slack);
        match home.and_then(|i| groups.get_mut(i)) {
            Some(group) => group.loads.push(*load),
            None => others.push(Together::of(*load)?),
        }
    }
    groups.retain(|g| !g.loads.is_empty());
    groups.extend(others);
    Some(groups)
}
