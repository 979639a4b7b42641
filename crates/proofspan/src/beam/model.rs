//! The beam: supports and stiffness.

use smallvec::SmallVec;

use crate::error::{Error, Issue, slug};
use crate::units::{
    FlexuralRigidity, Force, Length, Message, RotationalStiffness, SpringStiffness,
};

/// How a support holds one movement. Stiffness in SI; settlement down positive.
#[derive(Clone, Copy, PartialEq, Debug)]
#[non_exhaustive]
pub enum Restraint<K> {
    /// Not held.
    Free,
    /// Held rigidly.
    Rigid,
    /// Held by a spring of this stiffness.
    Spring(K),
}

/// A support.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Support {
    /// Place from the left end.
    pub at: Length,
    /// How it holds vertical movement.
    pub vertical: Restraint<SpringStiffness>,
    /// How it holds rotation.
    pub rotation: Restraint<RotationalStiffness>,
    /// How far it has gone down.
    pub settlement: Length,
    /// A bearing that only pushes: the member lifts off where it would have to pull.
    pub lifts: bool,
}

impl Support {
    /// A bearing: vertical held, free to turn.
    #[must_use]
    pub const fn bearing(at: Length) -> Self {
        Self {
            at,
            vertical: Restraint::Rigid,
            rotation: Restraint::Free,
            settlement: Length::ZERO,
            lifts: false,
        }
    }
    /// A bearing without an anchor: it pushes and never pulls.
    #[must_use]
    pub const fn seat(at: Length) -> Self {
        Self { lifts: true, ..Self::bearing(at) }
    }
    /// A support that holds both.
    #[must_use]
    pub const fn fixed(at: Length) -> Self {
        Self {
            at,
            vertical: Restraint::Rigid,
            rotation: Restraint::Rigid,
            settlement: Length::ZERO,
            lifts: false,
        }
    }
}

/// Most members have two supports and one section: they are copied without a trip to the heap.
pub(super) type Supports = SmallVec<[Support; 3]>;
type Rigidities = SmallVec<[(Length, FlexuralRigidity); 1]>;

/// A line of spans.
#[derive(Clone, PartialEq, Debug)]
pub struct Beam {
    length: Length,
    supports: Supports,
    /// Start of each stretch of constant stiffness and its EI.
    rigidity: Rigidities,
    /// Hinges from left to right.
    hinges: Vec<Length>,
    /// Start of each stretch of constant shear rigidity G A_s; empty where shear does not deform.
    shear: Vec<(Length, Force)>,
}

/// Whether more is held than statics alone solves: every support holds one way, and its end where that is
/// held from turning; every hinge lets go of one.
pub(crate) fn redundant(supports: &[Support], hinges: usize) -> bool {
    let holds = |s: &Support| {
        usize::from(s.vertical != Restraint::Free) + usize::from(s.rotation != Restraint::Free)
    };
    supports.iter().map(holds).sum::<usize>() > 2 + hinges
}

impl Beam {
    /// A beam of `length` on `supports`; `rigidity` lists where each stretch of constant EI
    /// begins, the first at zero.
    ///
    /// # Errors
    /// All at once: `beam.length-nonpositive`, `beam.rigidity-nonpositive`,
    /// `beam.spring-nonpositive`, `beam.support-outside`, `beam.supports-coincide`,
    /// `beam.mechanism`.
    pub fn new(
        length: Length,
        supports: Vec<Support>,
        rigidity: Vec<(Length, FlexuralRigidity)>,
    ) -> Result<Self, Error> {
        Self::sound(length, supports.into(), rigidity.into())
    }

    /// The same of what is counted one after the other: nothing goes to the heap for a usual member.
    pub(crate) fn of(
        length: Length,
        supports: impl IntoIterator<Item = Support>,
        rigidity: impl IntoIterator<Item = (Length, FlexuralRigidity)>,
    ) -> Result<Self, Error> {
        Self::sound(length, supports.into_iter().collect(), rigidity.into_iter().collect())
    }

    fn sound(length: Length, mut supports: Supports, rigidity: Rigidities) -> Result<Self, Error> {
        let mut issues = Vec::new();
        let mut refuse = |slug, message: Message| issues.push(Issue::new(slug, "beam", message));
        if !(length.is_finite() && length > Length::ZERO) {
            refuse(
                slug::BEAM_LENGTH_NONPOSITIVE,
                Message::new("the length is {}", [length.into()]),
            );
        }
        let mut last: Option<Length> = None;
        for (at, ei) in &rigidity {
            if !(ei.is_finite() && ei.si() > 0.0) {
                refuse(
                    slug::BEAM_RIGIDITY_NONPOSITIVE,
                    Message::new("EI from {} is {}", [(*at).into(), (*ei).into()]),
                );
            }
            if last.is_some_and(|l| *at <= l)
                || *at < Length::ZERO
                || *at >= length
                || !at.is_finite()
            {
                refuse(
                    slug::BEAM_RIGIDITY_NONPOSITIVE,
                    Message::new(
                        "a stretch of EI begins at {}; the stretches must rise from 0",
                        [(*at).into()],
                    ),
                );
            }
            last = Some(*at);
        }
        if rigidity.first().is_none_or(|(at, _)| at.abs() > Length::ZERO) {
            refuse(slug::BEAM_RIGIDITY_NONPOSITIVE, "no EI is given at the left end".into());
        }
        for (i, support) in supports.iter().enumerate() {
            let at = support.at;
            if !(at >= Length::ZERO && at <= length) {
                refuse(
                    slug::BEAM_SUPPORT_OUTSIDE,
                    Message::new("a support at {} on a beam of {}", [at.into(), length.into()]),
                );
            }
            if supports.iter().take(i).any(|s| (s.at - at).abs() <= length * 1e-9) {
                refuse(
                    slug::BEAM_SUPPORTS_COINCIDE,
                    Message::new("two supports at {}", [at.into()]),
                );
            }
            let moves = support.settlement;
            if !moves.is_finite()
                || (moves.abs() > Length::ZERO && support.vertical == Restraint::Free)
            {
                refuse(
                    slug::BEAM_SETTLEMENT,
                    Message::new(
                        "the support at {} does not hold the beam and settles by {}",
                        [at.into(), moves.into()],
                    ),
                );
            }
            let bad = |k: f64| !(k.is_finite() && k > 0.0);
            let vertical = matches!(support.vertical, Restraint::Spring(k) if bad(k.si()));
            let rotation = matches!(support.rotation, Restraint::Spring(k) if bad(k.si()));
            if vertical || rotation {
                refuse(
                    slug::BEAM_SPRING_NONPOSITIVE,
                    Message::new("the spring at {} is not above zero", [at.into()]),
                );
            }
        }
        let held = supports.iter().filter(|s| s.vertical != Restraint::Free).count();
        let turned = supports.iter().any(|s| s.rotation != Restraint::Free);
        match (held, turned) {
            (0, _) => {
                refuse(slug::BEAM_MECHANISM, "no support holds the beam: it falls".into());
            }
            (1, false) => refuse(
                slug::BEAM_MECHANISM,
                Message::new(
                    "one bearing at {} and nothing that holds rotation: the beam turns about it",
                    [supports.first().map_or(length, |s| s.at).into()],
                ),
            ),
            _ => {}
        }
        Error::check(issues)?;
        supports.sort_by(|a, b| a.at.si().total_cmp(&b.at.si()));
        Ok(Self { length, supports, rigidity, hinges: Vec::new(), shear: Vec::new() })
    }

    /// A simple span between two bearings.
    ///
    /// # Errors
    /// A span or EI that is not above zero.
    pub fn simple(span: Length, rigidity: FlexuralRigidity) -> Result<Self, Error> {
        let supports = [Support::bearing(Length::ZERO), Support::bearing(span)];
        Self::of(span, supports, [(Length::ZERO, rigidity)])
    }

    /// A cantilever held at its left end.
    ///
    /// # Errors
    /// A length or EI that is not above zero.
    pub fn cantilever(length: Length, rigidity: FlexuralRigidity) -> Result<Self, Error> {
        Self::of(length, [Support::fixed(Length::ZERO)], [(Length::ZERO, rigidity)])
    }

    /// A span between two bearings with overhangs, either of which may be zero.
    ///
    /// # Errors
    /// A span or EI that is not above zero, an overhang below zero.
    pub fn overhanging(
        left: Length,
        span: Length,
        right: Length,
        rigidity: FlexuralRigidity,
    ) -> Result<Self, Error> {
        let supports = [Support::bearing(left), Support::bearing(left + span)];
        Self::of(left + span + right, supports, [(Length::ZERO, rigidity)])
    }

    /// The whole length.
    #[must_use]
    pub const fn length(&self) -> Length {
        self.length
    }

    /// The supports from left to right.
    #[must_use]
    pub fn supports(&self) -> &[Support] {
        &self.supports
    }

    /// The stretches of constant EI.
    #[must_use]
    pub fn rigidity(&self) -> &[(Length, FlexuralRigidity)] {
        &self.rigidity
    }

    /// The same beam with its first and last support held against rotation or not.
    ///
    /// # Errors
    /// A beam that would fall.
    pub fn with_ends(&self, left_fixed: bool, right_fixed: bool) -> Result<Self, Error> {
        let mut supports = self.supports.clone();
        let end = |fixed| if fixed { Restraint::Rigid } else { Restraint::Free };
        if let Some(first) = supports.first_mut() {
            first.rotation = end(left_fixed);
        }
        if let Some(last) = supports.last_mut() {
            last.rotation = end(right_fixed);
        }
        let beam = Self::sound(self.length, supports, self.rigidity.clone())?;
        let beam = Self { shear: self.shear.clone(), ..beam };
        beam.with_hinges(self.hinges.clone())
    }

    /// The same beam, its first and last support held against rotation besides what holds them already.
    pub(crate) fn ends_held(&self, left: bool, right: bool) -> Result<Self, Error> {
        let mut beam = self.clone();
        let supports = &mut beam.supports;
        if let Some(first) = supports.first_mut().filter(|_| left) {
            first.rotation = Restraint::Rigid;
        }
        if let Some(last) = supports.last_mut().filter(|_| right) {
            last.rotation = Restraint::Rigid;
        }
        let hinges = core::mem::take(&mut beam.hinges);
        beam.with_hinges(hinges)
    }

    /// The same beam with every EI times `k`.
    #[must_use]
    pub fn stiffer(&self, k: f64) -> Self {
        let rigidity = self.rigidity.iter().map(|(at, ei)| (*at, *ei * k)).collect();
        Self { rigidity, ..self.clone() }
    }

    /// The same beam with hinges.
    ///
    /// # Errors
    /// `beam.hinge` for a hinge at an end, beyond it, twice at one place, or at a support that
    /// holds rotation.
    pub fn with_hinges(mut self, mut hinges: Vec<Length>) -> Result<Self, Error> {
        let mut issues = Vec::new();
        let near = |a: Length, b: Length| (a - b).abs() <= self.length * 1e-9;
        hinges.sort_by(|a, b| a.si().total_cmp(&b.si()));
        for (i, at) in hinges.iter().enumerate() {
            let held = |s: &Support| s.rotation != Restraint::Free && near(s.at, *at);
            let why = if !(*at > Length::ZERO && *at < self.length) {
                "at an end of the beam or beyond it"
            } else if hinges.iter().take(i).any(|h| near(*h, *at)) {
                "where another one is"
            } else if self.supports.iter().any(held) {
                "at a support that holds rotation"
            } else {
                continue;
            };
            issues.push(Issue::new(
                slug::BEAM_HINGE,
                "beam",
                Message::new("a hinge at {}: {}", [(*at).into(), why.into()]),
            ));
        }
        Error::check(issues)?;
        self.hinges = hinges;
        Ok(self)
    }

    /// The same beam with shear deformation: where each stretch of constant G A_s begins.
    ///
    /// # Errors
    /// A stretch that does not rise from 0, or a shear rigidity that is not above zero.
    pub fn with_shear(mut self, shear: Vec<(Length, Force)>) -> Result<Self, Error> {
        let mut issues = Vec::new();
        let mut last: Option<Length> = None;
        for (at, ga) in &shear {
            let rises = last.map_or(at.abs() <= Length::ZERO, |l| *at > l) && *at < self.length;
            if !(rises && ga.is_finite() && ga.si() > 0.0) {
                let message =
                    Message::new("shear rigidity {} from {}", [(*ga).into(), (*at).into()]);
                issues.push(
                    Issue::new(slug::BEAM_RIGIDITY_NONPOSITIVE, "beam", message)
                        .limit("above zero, stretches rising from 0"),
                );
            }
            last = Some(*at);
        }
        Error::check(issues)?;
        self.shear = shear;
        Ok(self)
    }

    /// The hinges from left to right.
    #[must_use]
    pub fn hinges(&self) -> &[Length] {
        &self.hinges
    }

    /// The stretches of constant shear rigidity; empty where shear does not deform.
    #[must_use]
    pub fn shear_rigidity(&self) -> &[(Length, Force)] {
        &self.shear
    }

    /// The stretches between neighbouring supports, overhangs included.
    #[must_use]
    pub fn spans(&self) -> Vec<(Length, Length)> {
        self.each_span().collect()
    }

    /// The same, one after the other.
    fn each_span(&self) -> impl Iterator<Item = (Length, Length)> {
        let held = self.supports.iter().filter(|s| s.vertical != Restraint::Free).map(|s| s.at);
        let slight = self.length * 1e-12;
        held.chain([self.length])
            .scan(Length::ZERO, move |last, at| {
                let from = *last;
                let apart = (at - from).abs() > slight;
                if apart {
                    *last = at;
                }
                Some(apart.then_some((from, at)))
            })
            .flatten()
    }

    /// Whether there is more than one stretch between neighbouring supports, overhangs included.
    pub(crate) fn has_several_spans(&self) -> bool {
        self.each_span().nth(1).is_some()
    }

    /// The same beam, every bearing holding both ways.
    pub(crate) fn anchored(&self) -> Self {
        let mut held = self.clone();
        held.supports.iter_mut().for_each(|s| s.lifts = false);
        held
    }

    /// Whether it may lift off a bearing.
    pub(crate) fn may_lift(&self) -> bool {
        self.supports.iter().any(|s| s.lifts)
    }

    /// The same beam without the bearings that it has lifted off in a response, every other one holding both
    /// ways: near that state its actions add up.
    pub(crate) fn standing(&self, response: &super::response::Response) -> Self {
        let all: Force = response.reactions().iter().map(|r| r.force.abs()).sum();
        let lifted = |s: &Support| {
            let here = response.reactions().iter().find(|r| r.at == s.at);
            s.lifts && here.is_none_or(|r| r.force.abs() <= all * 1e-12)
        };
        let mut held = self.anchored();
        held.supports = self.supports.iter().filter(|s| !lifted(s)).copied().collect();
        held.supports.iter_mut().for_each(|s| s.lifts = false);
        held
    }

    /// The same beam without settlement.
    pub(crate) fn level(&self) -> Self {
        let mut level = self.clone();
        level.supports.iter_mut().for_each(|s| s.settlement = Length::ZERO);
        level
    }

    pub(crate) fn move_support(&self, index: usize, by: Length) -> Self {
        let mut moved = self.clone();
        for (i, support) in moved.supports.iter_mut().enumerate() {
            support.settlement = if i == index { by } else { Length::ZERO };
        }
        moved
    }
}
