//! What is predicted of the member: the answer, and what comes first in it.

use super::cracking::CrackingRule;
use super::deflection::{DeflectionStep, FailsByCracking};
use super::fibres::FlexureMode;
use super::flexure::FlexureCode;
use super::local::LocalPlaced;
use super::section::Face;
use super::shear::{PredictedShear, ShearEdition};
use super::strengthening::{Exercised, Likely, LostCheck, ReducedCheck};
use crate::units::{Length, Moment};
use crate::verdict::{State, Verdict};

crate::answer! {
    /// One place: total moments, sagging positive, on the face that the test pulls on.
    pub struct PredictedSection {
        /// Its place from the left end of the member.
        at: Length,
        /// The face that the test pulls on.
        face: Face,
        /// Moment in place before the test.
        in_place: Moment,
        /// Moment at full test load, with what is in place.
        total: Moment,
        /// Moment at which it cracks, expected set.
        cracking: Moment,
        /// Standard uncertainty of that, where the scatter is given.
        uncertainty: Option<Moment>,
        /// Share of the test load at which it cracks; zero or less where it has before the test.
        cracks_at: f64,
        /// Expected strength in flexure; nothing where no steel is in tension.
        expected: Option<Moment>,
        /// Design strength, where its reductions are given.
        design: Option<Moment>,
        /// Share of the test load at which the expected strength is reached; of a section whose steel does not carry its cracking moment, at which it cracks.
        fails_at: f64,
        /// How it fails; nothing where it breaks as it cracks.
        mode: Option<FlexureMode>,
        /// Whether that gives warning.
        ductile: bool,
        /// The part to which the steel that is anchored least is anchored; one where all is.
        anchored: f64,
    }
}

crate::choice! {
    /// A mode that is predicted along the member.
    pub enum PredictedKind ("mode", source::SOURCE_CHOICE) {
        /// A face cracks.
        Cracking = "cracking",
        /// Strength in flexure.
        Flexure = "flexure",
        /// Strength in one-way shear.
        Shear = "shear",
    }
}

crate::answer! {
    /// A mode that comes first, where, and how sure that is.
    pub struct PredictedMode {
        /// Which one.
        mode: PredictedKind,
        /// Its place from the left end of the member.
        at: Length,
        /// Share of the test load at which it is reached.
        share: f64,
        /// Standard uncertainty of that share, by the scatter of the tension of the concrete (and of the prestress, of a section in bending) there; nothing where it is not given.
        uncertainty: Option<f64>,
        /// What is total at full test load over the expected strength there; nothing where there is none.
        used: Option<f64>,
        /// Whether it comes without warning.
        brittle: bool,
        /// Whether it stays away at full test load: Inconclusive where the margin is smaller than twice the uncertainty, or none is given.
        stays_away: State,
    }
}

crate::choice! {
    /// Whose stiffness the design counts with: stop limits by the stiff one, gap, stroke and ranges by the
    /// soft one.
    pub enum StiffnessFrom ("stiffness", source::SOURCE_CHOICE) {
        /// That of the beam as the document describes it.
        Document = "document",
        /// That of the sections, as cracked as the test makes them.
        Sections = "sections",
    }
}

crate::answer! {
    /// The deflection that the test adds, by the sections and by the beam of the document.
    pub struct PredictedStiffness {
        /// Where it is largest, from the left end of the member.
        at: Length,
        /// Which of the two the design counts with.
        used: StiffnessFrom,
        /// At full test load by the beam of the document, stiff.
        beam_stiff: Length,
        /// At full test load by the beam of the document, soft.
        beam_soft: Length,
        /// The course by the sections at the steps of the test, stiff and soft, up to where the member fails by cracking.
        steps: Vec<DeflectionStep>,
        /// Where and when it does, at a place whose steel does not carry what the concrete did; nothing where it does not.
        breaks: Option<FailsByCracking>,
    }
}

crate::answer! {
    /// Whether the planned test exercises what strengthens in shear, where it is most likely to.
    pub struct StrengtheningExercised {
        /// The place from the left end of the member.
        at: Length,
        /// How likely, and by which shears.
        exercised: Exercised,
    }
}

crate::answer! {
    /// What is predicted of the member: to plan the test by, never an approval.
    pub struct Predicted {
        /// Edition of the strength in flexure.
        code: FlexureCode,
        /// Formula of the tensile strength.
        rule: CrackingRule,
        /// The place that cracks first as the load of the test grows.
        cracks_first: Option<PredictedSection>,
        /// The place whose expected strength in flexure is reached first.
        fails_first: Option<PredictedSection>,
        /// Whether it stays uncracked at full test load: Inconclusive where the margin is smaller than twice the scatter, or the scatter is not given.
        stays_uncracked: State,
        /// Edition of the strength in shear; nothing where the law of flexure is one's own and none is named.
        shear_code: Option<ShearEdition>,
        /// Whether the test exercises wraps and added stirrups; nothing where there are none, or where no shear is predicted at them.
        exercised: Option<StrengtheningExercised>,
        /// The place whose expected strength in shear is reached first, with what strengthens it; nothing where none is predicted.
        shear_first: Option<PredictedShear>,
        /// The first mode as the load of the test grows, as every first here over the ranges of the inputs: cracking of what is not cracked before, flexure or shear.
        first: Option<PredictedMode>,
        /// The first of flexure and shear, and of what breaks as it cracks.
        first_failure: Option<PredictedMode>,
        /// Place by place.
        sections: Vec<PredictedSection>,
        /// Shear, place by place, where the edition asks for it.
        shear: Vec<PredictedShear>,
        /// The deflection of the test by the sections beside that by the beam of the document; nothing where a modulus is not given.
        stiffness: Option<PredictedStiffness>,
        /// What the member must carry without its strengthening, and in fire: no test makes a check good that fails.
        without: Vec<LostCheck>,
        /// What gives way under what presses, and at the bearings.
        local: Vec<LocalPlaced>,
        /// Failures that are not predicted here.
        left_out: Vec<String>,
    }
}

/// The one that is reached sooner, kept.
fn sooner<T: Clone>(own: &mut Option<T>, other: Option<&T>, share: fn(&T) -> f64) {
    if let Some(other) = other
        && own.as_ref().is_none_or(|o| share(other) < share(o))
    {
        *own = Some(other.clone());
    }
}

impl Predicted {
    /// Every check of the member without its strengthening, and every local one, with a word on it.
    pub(crate) fn verdicts(&self) -> impl Iterator<Item = (&'static str, &Verdict)> {
        let without = self.without.iter().map(|c| (c.check.case.word(), &c.check.verdict));
        without.chain(self.local.iter().flat_map(LocalPlaced::verdicts).map(|v| ("local", v)))
    }

    /// The same in the same order, to be changed.
    pub(crate) fn verdicts_mut(&mut self) -> impl Iterator<Item = &mut Verdict> {
        let without = self.without.iter_mut().map(|c| &mut c.check.verdict);
        without.chain(self.local.iter_mut().flat_map(LocalPlaced::verdicts_mut))
    }

    /// What gives way first, as the load of the test grows, of all that is checked locally.
    #[must_use]
    pub fn local_first(&self) -> Option<(&LocalPlaced, f64)> {
        let each = self.local.iter().filter_map(|l| Some((l, l.fails_at?)));
        each.min_by(|a, b| a.1.total_cmp(&b.1))
    }

    /// The checks of the member without its strengthening.
    #[must_use]
    pub fn lost(&self) -> Vec<ReducedCheck> {
        self.without.iter().map(|c| c.check).collect()
    }

    /// What comes first anywhere in the ranges of the inputs, with the prediction at another end of them;
    /// whether an answer changes. Place by place the values given stand.
    pub(crate) fn across(&mut self, other: &Self) -> bool {
        sooner(&mut self.cracks_first, other.cracks_first.as_ref(), |s| s.cracks_at);
        sooner(&mut self.fails_first, other.fails_first.as_ref(), |s| s.fails_at);
        sooner(&mut self.shear_first, other.shear_first.as_ref(), |s| s.fails_at);
        let either = |a: State, b: State| if a == b { a } else { State::Inconclusive };
        let mut changes = false;
        for (own, other) in
            [(&mut self.first, &other.first), (&mut self.first_failure, &other.first_failure)]
        {
            let both = own.as_ref().zip(other.as_ref());
            let state = both.map(|(a, b)| either(a.stays_away, b.stays_away));
            changes |= own.as_ref().map(|o| o.stays_away) != other.as_ref().map(|o| o.stays_away);
            sooner(own, other.as_ref(), |m| m.share);
            if let (Some(own), Some(state)) = (own.as_mut(), state) {
                own.stays_away = state;
            }
        }
        let likely = |p: &Self| p.exercised.as_ref().map(|e| e.exercised.likely);
        if likely(self) != likely(other) {
            changes = true;
            if let Some(own) = &mut self.exercised {
                own.exercised.likely = Likely::Open;
            }
        }
        changes |= self.stays_uncracked != other.stays_uncracked;
        self.stays_uncracked = either(self.stays_uncracked, other.stays_uncracked);
        changes
    }
}

/// Whether a margin holds against its uncertainty: Inconclusive where that is not known.
pub(super) fn holds(margin: f64, uncertainty: Option<f64>) -> State {
    match uncertainty {
        Some(u) if margin >= u * 2.0 => State::Pass,
        _ if margin < uncertainty.unwrap_or(0.0) * -2.0 => State::Fail,
        _ => State::Inconclusive,
    }
}

/// The first mode of all, and the first failure.
pub(super) fn first_modes(
    sections: &[PredictedSection],
    shear: &[PredictedShear],
) -> (Option<PredictedMode>, Option<PredictedMode>) {
    let of = |mode, at, (share, uncertainty): (f64, Option<f64>), used: f64, brittle| {
        let stays_away = holds(share - 1.0, uncertainty);
        let used = Some(used).filter(|u: &f64| u.is_finite());
        PredictedMode { mode, at, share, uncertainty, used, brittle, stays_away }
    };
    let bent = |s: &PredictedSection, mode, share, strength: Moment, brittle| {
        let u = s.uncertainty.map(|u| (u / (s.total - s.in_place)).abs());
        of(mode, s.at, (share, u), s.total / strength, brittle)
    };
    let cracking = sections
        .iter()
        .filter(|s| s.cracks_at > 0.0)
        .map(|s| bent(s, PredictedKind::Cracking, s.cracks_at, s.cracking, s.mode.is_none()));
    let failing = sections.iter().map(|s| {
        let strength = s.expected.filter(|_| s.mode.is_some()).unwrap_or(s.cracking);
        bent(s, PredictedKind::Flexure, s.fails_at, strength, !s.ductile)
    });
    let sheared = shear.iter().map(|s| {
        let test = (s.total - s.in_place).abs();
        let share = (s.fails_at, s.uncertainty.map(|u| u / test));
        of(PredictedKind::Shear, s.at, share, s.total.abs() / s.expected, true)
    });
    let failures: Vec<PredictedMode> = failing.chain(sheared).collect();
    let least = |a: &&PredictedMode, b: &&PredictedMode| a.share.total_cmp(&b.share);
    let failure = failures.iter().min_by(least).cloned();
    let cracks: Vec<PredictedMode> = cracking.collect();
    (cracks.iter().chain(&failures).min_by(least).cloned(), failure)
}

pub(super) fn uncracked(sections: &[PredictedSection]) -> State {
    let one = |s: &PredictedSection| {
        let towards = if s.face == Face::Bottom { 1.0 } else { -1.0 };
        let margin = (s.cracking - s.total) * towards;
        holds(margin.si(), s.uncertainty.map(Moment::si))
    };
    let all = || sections.iter().map(one);
    if all().any(|s| s == State::Fail) {
        State::Fail
    } else if sections.is_empty() || all().any(|s| s == State::Inconclusive) {
        State::Inconclusive
    } else {
        State::Pass
    }
}
