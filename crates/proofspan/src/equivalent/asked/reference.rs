//! What must the test reproduce?

use super::candidate::Candidate;
use super::deviations::Moved;
use super::effect::Effect;
use super::words::brief;
use crate::beam::{Beam, Load, Response};
use crate::error::{Error, Issue, slug};
use crate::target::Target;
use crate::units::{Force, Length, Message, Net, Quantity, System};
use crate::verdict::MemberUnit;

/// What the test must reproduce: net actions of every term or pattern, what is in place, and the
/// region in doubt. All cases are of one beam and per one member unit.
#[derive(Clone, PartialEq, Debug)]
pub struct Reference {
    pub(in crate::equivalent) terms: Vec<(String, Response)>,
    pub(in crate::equivalent) in_place: Response,
    pub(in crate::equivalent) region: Option<(Length, Length)>,
    pub(in crate::equivalent) unit: MemberUnit,
    /// The units of words.
    pub(in crate::equivalent) system: System,
    /// Below these, shear and moment are rounding.
    noise: (f64, f64),
    /// What it was made of, so that it can be made again on another beam.
    again: Option<Again>,
}

#[derive(Clone, PartialEq, Debug)]
enum Again {
    Target(Box<Target>),
    Loads { terms: Vec<(String, Vec<Load>)>, in_place: Vec<Load> },
}

impl Reference {
    /// Net actions of every term under its name, and the actions in place, per beam.
    ///
    /// # Errors
    /// `equivalent.reference` for no term, or cases of beams of different length.
    pub fn new(
        terms: Vec<(String, Response)>,
        in_place: Response,
        region: Option<(Length, Length)>,
    ) -> Result<Self, Error> {
        let length = in_place.length().si();
        let fits = |a: &Response| (a.length().si() - length).abs() <= 1e-9 * length;
        if terms.is_empty() || !terms.iter().all(|t| fits(&t.1)) {
            return Err(Issue::new(
                slug::EQUIVALENT_REFERENCE,
                "reference.terms",
                "no term, or cases of beams of different length",
            )
            .into());
        }
        let slack = length * 1e-9;
        let rises =
            |(a, b): (Length, Length)| a < b && a.si() >= -slack && b.si() <= length + slack;
        if let Some((a, b)) = region.filter(|r| !rises(*r)) {
            return Err(Issue::new(
                slug::EQUIVALENT_STRETCH,
                "reference.region",
                "the region in doubt does not rise inside the member",
            )
            .value(Message::new("{} to {}", [a.into(), b.into()]))
            .limit(Message::new("from below to, 0 to {}", [Length::from_si(length).into()]))
            .into());
        }
        let (unit, system) = (MemberUnit::Beam, System::Si);
        let own = Self { terms, in_place, region, unit, system, noise: (0.0, 0.0), again: None };
        Ok(own.on_one_grid())
    }

    /// Net loads of every term under its name, and the loads in place, on a beam. Such a reference
    /// can be made again where supports or stiffness are not as drawn.
    ///
    /// # Errors
    /// As [`Self::new`]; loads that the beam cannot carry.
    pub fn of_loads(
        beam: &Beam,
        terms: Vec<(String, Vec<Load>)>,
        in_place: Vec<Load>,
        region: Option<(Length, Length)>,
    ) -> Result<Self, Error> {
        let mut cases: Vec<&[Load]> = terms.iter().map(|t| t.1.as_slice()).collect();
        cases.push(&in_place);
        let mut cases = beam.cases(&cases)?.into_iter();
        let named = terms.iter().map(|t| t.0.clone()).zip(cases.by_ref()).collect();
        let there = match cases.next() {
            Some(there) => there,
            None => beam.response(&in_place)?,
        };
        let own = Self::new(named, there, region)?;
        Ok(Self { again: Some(Again::Loads { terms, in_place }), ..own })
    }

    /// The same, counted for another unit.
    #[must_use]
    pub fn per(self, unit: MemberUnit) -> Self {
        Self { unit, ..self }
    }

    /// The same, its words in these units.
    #[must_use]
    pub fn shown_in(self, system: System) -> Self {
        Self { system, ..self }
    }

    /// A value as words show it.
    pub(in crate::equivalent) fn show(&self, value: impl Into<Quantity>) -> String {
        brief(value.into(), self.system)
    }

    /// A carrier by its name, else by its places in the units of words.
    #[must_use]
    pub fn label_of(&self, candidate: &Candidate) -> String {
        candidate.label_in(self.system)
    }

    /// The units of words.
    #[must_use]
    pub const fn system(&self) -> System {
        self.system
    }

    /// What is given of two values times a factor, each in its words, where `{}` stands for it.
    pub(in crate::equivalent) fn each<Q>(&self, given: [(Option<Q>, &str); 2], k: f64) -> String
    where
        Q: core::ops::Mul<f64, Output = Q> + Into<Quantity>,
    {
        let one =
            |(value, words): (Option<Q>, &str)| Some(words.replace("{}", &self.show(value? * k)));
        given.into_iter().filter_map(one).collect::<Vec<_>>().join(", ")
    }

    /// A carrier with its force, in words.
    #[must_use]
    pub fn force_of(&self, candidate: &Candidate, force: Net<Force>) -> String {
        format!("{}: {}", candidate.label_in(self.system), self.show(force.0))
    }

    /// What every value is counted for.
    #[must_use]
    pub const fn unit(&self) -> MemberUnit {
        self.unit
    }

    /// All cases without rounding and on one grid, so that pieces line up.
    fn on_one_grid(mut self) -> Self {
        self.terms = self.terms.into_iter().map(|(n, a)| (n, a.cleaned())).collect();
        self.in_place = self.in_place.cleaned();
        let largest = |effect: Effect| {
            let cases = self.terms.iter().map(|t| &t.1).chain([&self.in_place]);
            let sizes = cases.map(|a| effect.largest(a, (Length::ZERO, a.length())));
            sizes.fold(0.0, f64::max)
        };
        self.noise = (ROUNDING * largest(Effect::Shear), ROUNDING * largest(Effect::Moment));
        let cases: Vec<&Response> =
            self.terms.iter().map(|t| &t.1).chain([&self.in_place]).collect();
        let alike = cases.iter().all(|c| {
            c.segments().len() == self.in_place.segments().len()
                && c.breakpoints().zip(self.in_place.breakpoints()).all(|(a, b)| a == b)
        });
        if alike {
            return self;
        }
        let on_all = |own: &Response| {
            let mut parts: Vec<(f64, &Response)> = vec![(1.0, own)];
            parts.extend(cases.iter().map(|c| (0.0, *c)));
            Response::sum(&parts)
        };
        let terms = self.terms.iter().map(|t| (t.0.clone(), on_all(&t.1))).collect();
        let in_place = on_all(&self.in_place);
        Self { terms, in_place, ..self }
    }

    /// The same loads on another beam; nothing where only actions are known.
    ///
    /// # Errors
    /// Loads that the other beam cannot carry.
    pub fn on(&self, beam: &Beam) -> Result<Option<Self>, Error> {
        self.on_moved(beam, Moved::none())
    }

    /// The same on a beam with a support elsewhere.
    pub(in crate::equivalent) fn on_moved(
        &self,
        beam: &Beam,
        moved: Moved,
    ) -> Result<Option<Self>, Error> {
        let region = self.region.map(|(a, b)| (moved.region(a), moved.region(b)));
        let there = |loads: &[Load]| -> Vec<Load> {
            loads.iter().map(|l| l.mapped(|x| moved.load(x))).collect()
        };
        let made = match &self.again {
            None => return Ok(None),
            Some(Again::Target(target)) => Self::from(&target.mapped(|x| moved.load(x)).on(beam)?),
            Some(Again::Loads { terms, in_place }) => {
                let terms = terms.iter().map(|t| (t.0.clone(), there(&t.1))).collect();
                Self::of_loads(beam, terms, there(in_place), region)?
            }
        };
        Ok(Some(Self { region, unit: self.unit, system: self.system, ..made }))
    }

    /// The same with something more in place, for example the actions of a settlement.
    pub(in crate::equivalent) fn with_in_place(&self, more: &Response) -> Self {
        let in_place = Response::sum(&[(1.0, &self.in_place), (1.0, more)]);
        Self { in_place, ..self.clone() }.on_one_grid()
    }

    /// The terms with their net actions.
    #[must_use]
    pub fn terms(&self) -> &[(String, Response)] {
        &self.terms
    }

    /// What acts before the test.
    #[must_use]
    pub const fn in_place(&self) -> &Response {
        &self.in_place
    }

    /// The region in doubt; the whole member where none is said.
    #[must_use]
    pub fn region(&self) -> (Length, Length) {
        self.region.unwrap_or((Length::ZERO, self.in_place.length()))
    }

    /// Below this, in SI, an effect anywhere is rounding.
    pub(in crate::equivalent) const fn noise(&self, effect: Effect) -> f64 {
        match effect {
            Effect::Shear => self.noise.0,
            Effect::Moment => self.noise.1,
        }
    }

    /// The largest reaction of any case, N: what a reaction is compared with.
    pub(in crate::equivalent) fn pressed(&self) -> f64 {
        let cases = self.terms.iter().map(|t| &t.1).chain([&self.in_place]);
        let all = cases.flat_map(Response::reactions).map(|r| r.force.si().abs());
        all.fold(0.0, f64::max).max(f64::MIN_POSITIVE)
    }

    pub(in crate::equivalent) fn case(&self, name: &str) -> Option<usize> {
        self.terms.iter().position(|t| t.0 == name)
    }
}

impl From<&Target> for Reference {
    fn from(target: &Target) -> Self {
        let terms = target.terms.iter().map(|t| (t.id.to_string(), t.net.clone())).collect();
        Self {
            terms,
            in_place: target.in_place.clone(),
            region: Some((target.from, target.to)),
            unit: target.unit,
            system: System::Si,
            noise: (0.0, 0.0),
            again: Some(Again::Target(Box::new(target.unmade()))),
        }
        .on_one_grid()
    }
}

/// Below this part of the largest on the member an effect is rounding.
const ROUNDING: f64 = 1e-12;

/// Below this part of the largest on a stretch a reference asks for nothing.
pub(in crate::equivalent) const NOTHING: f64 = 1e-9;

/// Below this part of their largest on a stretch test and reference both vanish, and their quotient
/// would be noise.
pub(in crate::equivalent) const VANISHING: f64 = 1e-5;

/// Where a term changes its sign, its part below this of the largest asks for nothing (library rule).
pub(in crate::equivalent) const CROSSING: f64 = 0.02;
