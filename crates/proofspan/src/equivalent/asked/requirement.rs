//! What must hold for every x?

use super::effect::BasisWord;
use super::effect::Effect;
use super::reference::Reference;
use super::words::{index, name};
use crate::beam::Beam;
use crate::error::{Issue, slug};
use crate::scope::Mode;
use crate::units::{Force, Kind, Length, Moment};

crate::choice! {
    /// The sign of an effect that is asked.
    pub enum Sense ("sense", source::SOURCE_CHOICE) {
        /// Sagging; shear that pushes the left part up.
        Positive = "positive",
        /// Hogging; shear that pushes the left part down.
        Negative = "negative",
        /// Positive moment.
        Sagging = "sagging",
        /// Negative moment.
        Hogging = "hogging",
    }
}

crate::record! {
    /// The test reaches the reference in its sign, net, at every x of a stretch. Where a term
    /// changes its sign inside and both signs are asked, its part below 2 % of the largest there
    /// asks for nothing.
    pub struct Reach {
        /// Shear or moment.
        effect: Effect,
        /// Left end; that of the region in doubt where it is left out.
        from: Option<Length>,
        /// Right end; that of the region in doubt where it is left out.
        to: Option<Length>,
        /// Single places in place of a stretch, each from both sides.
        at: Vec<Length> = Vec::new(),
        /// One case, so that shear and moment of that case act together; every term where it is left out.
        case: Option<String>,
        /// One sign only, for example sagging where patterns also give hogging; both where it is left out.
        sense: Option<Sense>,
    }
}

crate::record! {
    /// The test stays within so many times the reference in each sign, the largest of the terms;
    /// below a floor the reference counts as the floor.
    pub struct Within {
        /// Shear or moment.
        effect: Effect,
        /// Net, or total with what is in place; a limit without it means nothing.
        basis: BasisWord,
        /// Test over reference, at least 1.
        at_most: f64,
        /// Left end; that of the member where it is left out.
        from: Option<Length>,
        /// Right end; that of the member where it is left out.
        to: Option<Length>,
        /// Single places in place of a stretch, each from both sides.
        at: Vec<Length> = Vec::new(),
        /// One case; every term where it is left out.
        case: Option<String>,
        /// The floor as a part of the largest reference of the stretch.
        floor: f64 = 0.02,
    }
}

crate::record! {
    /// The total moment, in place included, stays below a share of a strength: cracking on either
    /// face, flexure.
    pub struct MomentLimit {
        /// What is not to be passed, for example "cracking".
        of: String = "strength".to_owned(),
        /// Its sagging value, above zero.
        sagging: Option<Moment>,
        /// Its hogging value, above zero.
        hogging: Option<Moment>,
        /// The share that is allowed.
        share: f64 = 1.0,
        /// Left end; that of the member where it is left out.
        from: Option<Length>,
        /// Right end; that of the member where it is left out.
        to: Option<Length>,
    }
}

crate::record! {
    /// The total shear, in place included, stays below a share of the shear strength.
    pub struct ShearLimit {
        /// The strength, for either sign, above zero.
        strength: Force,
        /// The share that is allowed.
        share: f64 = 1.0,
        /// Left end; that of the member where it is left out.
        from: Option<Length>,
        /// Right end; that of the member where it is left out.
        to: Option<Length>,
    }
}

crate::record! {
    /// The deflection under the test, without what is in place, stays within limits.
    pub struct DeflectionLimit {
        /// The largest down, above zero.
        down: Option<Length>,
        /// The largest up, above zero.
        up: Option<Length>,
        /// Left end; that of the member where it is left out.
        from: Option<Length>,
        /// Right end; that of the member where it is left out.
        to: Option<Length>,
    }
}

crate::record! {
    /// The total reaction of a support, in place included, up positive, stays within limits.
    pub struct ReactionLimit {
        /// The support, by its place in the list, the first is 0.
        support: u32,
        /// The least; zero means no uplift.
        at_least: Option<Force>,
        /// The largest.
        at_most: Option<Force>,
    }
}

crate::record! {
    /// The ratio of moment to shear, in size, stays in a window, so that the mechanism in doubt is
    /// the one that is loaded. It holds where all terms that are not about zero agree in the signs of shear and
    /// moment.
    pub struct ShearSpan {
        /// The least M/V.
        at_least: Option<Length>,
        /// The largest M/V.
        at_most: Option<Length>,
        /// Net, or total with what is in place.
        basis: BasisWord,
        /// Left end; that of the region in doubt where it is left out.
        from: Option<Length>,
        /// Right end; that of the region in doubt where it is left out.
        to: Option<Length>,
    }
}

crate::variant! {
    /// What must hold.
    pub enum Requirement ("requirement") {
        /// The reference is reached.
        Reach(Reach) = "reach",
        /// The reference is not exceeded by more than a ratio.
        Within(Within) = "within",
        /// A share of a moment is not passed.
        MomentLimit(MomentLimit) = "moment_limit",
        /// A share of the shear strength is not passed.
        ShearLimit(ShearLimit) = "shear_limit",
        /// A deflection is not passed.
        DeflectionLimit(DeflectionLimit) = "deflection_limit",
        /// A reaction stays within limits.
        ReactionLimit(ReactionLimit) = "reaction_limit",
        /// Moment over shear stays in a window.
        ShearSpan(ShearSpan) = "shear_span",
    }
}

impl Sense {
    /// Whether positive and whether negative values are asked.
    pub(in crate::equivalent) const fn signs(sense: Option<Self>) -> (bool, bool) {
        match sense {
            None => (true, true),
            Some(Self::Positive | Self::Sagging) => (true, false),
            Some(Self::Negative | Self::Hogging) => (false, true),
        }
    }

    /// Whether a value is of the sign that is asked.
    pub(in crate::equivalent) fn takes(sense: Option<Self>, value: f64) -> bool {
        let (up, down) = Self::signs(sense);
        if value > 0.0 { up } else { down && (value < 0.0 || up) }
    }
}

impl Requirement {
    /// What a failure mode in doubt asks to be reached over the region in doubt: shear with the moment
    /// for shear, sagging for flexure, hogging for hogging.
    #[must_use]
    pub fn of_mode(mode: Mode) -> Vec<Self> {
        let reach = |effect, sense| {
            Self::Reach(Reach { effect, from: None, to: None, at: Vec::new(), case: None, sense })
        };
        match mode {
            Mode::Shear => vec![reach(Effect::Shear, None), reach(Effect::Moment, None)],
            Mode::Flexure => vec![reach(Effect::Moment, Some(Sense::Positive))],
            Mode::Hogging => vec![reach(Effect::Moment, Some(Sense::Negative))],
        }
    }

    /// Every term is reached on a stretch.
    #[must_use]
    pub const fn reach(effect: Effect, from: Length, to: Length) -> Self {
        let (from, to) = (Some(from), Some(to));
        Self::Reach(Reach { effect, from, to, at: Vec::new(), case: None, sense: None })
    }

    /// Every term is reached at single places, from both sides.
    #[must_use]
    pub const fn reach_at(effect: Effect, at: Vec<Length>) -> Self {
        Self::Reach(Reach { effect, from: None, to: None, at, case: None, sense: None })
    }

    /// The same in one sign only; nothing changes where nothing is to be reached.
    #[must_use]
    pub fn in_sense(self, sense: Sense) -> Self {
        match self {
            Self::Reach(reach) => Self::Reach(Reach { sense: Some(sense), ..reach }),
            other => other,
        }
    }

    /// The test stays within a ratio on a stretch.
    #[must_use]
    pub const fn within(
        effect: Effect,
        basis: BasisWord,
        at_most: f64,
        from: Length,
        to: Length,
    ) -> Self {
        let (from, to) = (Some(from), Some(to));
        Self::Within(Within {
            effect,
            basis,
            at_most,
            from,
            to,
            at: Vec::new(),
            case: None,
            floor: 0.02,
        })
    }

    /// The same about other places.
    pub(in crate::equivalent) fn mapped(&self, place: impl Fn(Length) -> Length) -> Self {
        let mut own = self.clone();
        let (from, to, at): (&mut Option<Length>, &mut Option<Length>, &mut [Length]) =
            match &mut own {
                Self::Reach(r) => (&mut r.from, &mut r.to, &mut r.at),
                Self::Within(r) => (&mut r.from, &mut r.to, &mut r.at),
                Self::ShearSpan(r) => (&mut r.from, &mut r.to, &mut []),
                Self::MomentLimit(r) => (&mut r.from, &mut r.to, &mut []),
                Self::ShearLimit(r) => (&mut r.from, &mut r.to, &mut []),
                Self::DeflectionLimit(r) => (&mut r.from, &mut r.to, &mut []),
                Self::ReactionLimit(_) => return own,
            };
        from.iter_mut().chain(to).chain(at).for_each(|x| *x = place(*x));
        own
    }

    /// The stretches it is about: one, or each place alone.
    pub(in crate::equivalent) fn regions(&self, reference: &Reference) -> Vec<(Length, Length)> {
        match self.places() {
            [] => vec![self.stretch(reference)],
            places => places.iter().map(|x| (*x, *x)).collect(),
        }
    }

    /// The stretch, with its defaults.
    pub(in crate::equivalent) fn stretch(&self, reference: &Reference) -> (Length, Length) {
        let region = reference.region();
        let member = (Length::ZERO, reference.in_place.length());
        let (from, to, default) = match self {
            Self::Reach(r) => (r.from, r.to, region),
            Self::ShearSpan(r) => (r.from, r.to, region),
            Self::Within(r) => (r.from, r.to, member),
            Self::MomentLimit(r) => (r.from, r.to, member),
            Self::ShearLimit(r) => (r.from, r.to, member),
            Self::DeflectionLimit(r) => (r.from, r.to, member),
            Self::ReactionLimit(_) => (None, None, member),
        };
        (from.unwrap_or(default.0), to.unwrap_or(default.1))
    }

    /// The kind of what is compared.
    pub(in crate::equivalent) const fn kind(&self) -> Kind {
        match self {
            Self::Reach(Reach { effect: Effect::Shear, .. })
            | Self::Within(Within { effect: Effect::Shear, .. })
            | Self::ShearLimit(_)
            | Self::ReactionLimit(_) => Kind::Force,
            Self::DeflectionLimit(_) => Kind::Length,
            _ => Kind::Moment,
        }
    }

    pub(in crate::equivalent) fn places(&self) -> &[Length] {
        match self {
            Self::Reach(r) => &r.at,
            Self::Within(r) => &r.at,
            _ => &[],
        }
    }

    /// Whether a stretch is given by one of its ends.
    fn has_ends(&self) -> bool {
        match self {
            Self::Reach(Reach { from, to, .. }) | Self::Within(Within { from, to, .. }) => {
                from.is_some() || to.is_some()
            }
            _ => false,
        }
    }

    fn named_case(&self) -> Option<&str> {
        match self {
            Self::Reach(r) => r.case.as_deref(),
            Self::Within(r) => r.case.as_deref(),
            _ => None,
        }
    }

    /// The requirement in words, with its numbers.
    #[must_use]
    pub fn words(&self, reference: &Reference) -> String {
        let (from, to) = self.stretch(reference);
        let places = self.places();
        let where_ = if places.is_empty() {
            format!("from {} to {}", reference.show(from), reference.show(to))
        } else {
            let shown: Vec<String> = places.iter().map(|x| reference.show(*x)).collect();
            format!("at {}", shown.join(", "))
        };
        let case = self.named_case().map_or("every term".to_owned(), |c| format!("term {c}"));
        match self {
            Self::Reach(r) => {
                let sense = r.sense.map_or(String::new(), |s| format!("{s} "));
                format!("{sense}{} of {case} reached {where_}", r.effect)
            }
            Self::Within(r) => format!(
                "{}, {}, at most {} times {case} {where_}",
                r.effect,
                r.basis.word(),
                r.at_most
            ),
            Self::MomentLimit(r) => {
                let both =
                    reference.each([(r.sagging, "sagging {}"), (r.hogging, "hogging {}")], r.share);
                format!("total moment within {} of {} ({both}) {where_}", r.share, r.of)
            }
            Self::ShearLimit(r) => {
                format!("total shear within {} of {} {where_}", r.share, reference.show(r.strength))
            }
            Self::DeflectionLimit(r) => {
                let both = reference.each([(r.down, "{} down"), (r.up, "{} up")], 1.0);
                format!("deflection within {both} {where_}")
            }
            Self::ReactionLimit(r) => {
                let both = [(r.at_least, "at least {}"), (r.at_most, "at most {}")];
                let both = reference.each(both, 1.0);
                format!("total reaction of support {} {both}", name(index(r.support)))
            }
            Self::ShearSpan(r) => {
                let both =
                    reference.each([(r.at_least, "at least {}"), (r.at_most, "at most {}")], 1.0);
                format!("moment over shear {both} {where_}")
            }
        }
    }

    fn refused(&self, path: &str, reference: &Reference, beam: &Beam, issues: &mut Vec<Issue>) {
        let end = beam.length();
        let slack = end * 1e-12;
        let inside = |x: Length| x >= -slack && x <= end + slack;
        let mut bad = |slug, field: &str, message: String, limit: &str| {
            let issue = Issue::new(slug, format!("{path}.{field}"), message);
            issues.push(issue.value(self.words(reference)).limit(limit));
        };
        let (from, to) = self.stretch(reference);
        let shown = |x: Length| reference.show(x);
        let span = format!("{} to {}", shown(from), shown(to));
        if !(inside(from) && inside(to)) {
            let message = format!("{span} reaches beyond the member");
            bad(slug::EQUIVALENT_STRETCH, "to", message, &format!("0 to {}", shown(end)));
        } else if from >= to && self.places().is_empty() {
            let why = if from > to { "runs backwards" } else { "is empty" };
            bad(
                slug::EQUIVALENT_STRETCH,
                "to",
                format!("{span} {why}"),
                "rising from left to right",
            );
        }
        if !self.places().iter().all(|x| inside(*x)) {
            bad(
                slug::EQUIVALENT_STRETCH,
                "at",
                "a place beyond the member".to_owned(),
                &format!("0 to {}", shown(end)),
            );
        }
        if let Some(case) = self.named_case()
            && reference.case(case).is_none()
        {
            let names: Vec<&str> = reference.terms.iter().map(|t| t.0.as_str()).collect();
            bad(
                slug::EQUIVALENT_REQUIREMENT,
                "case",
                format!("there is no term `{case}`"),
                &names.join(", "),
            );
        }
        let positive = |v: Option<f64>| v.is_none_or(|v| v.is_finite() && v > 0.0);
        let none = || "no limit, or one that is not above zero".to_owned();
        let share = |s: f64| s > 0.0 && s <= 1.0;
        let no_share = || "a share of a strength that is none".to_owned();
        if !self.places().is_empty() && self.has_ends() {
            let message = "single places beside a stretch".to_owned();
            bad(slug::EQUIVALENT_REQUIREMENT, "at", message, "at, or from and to");
        }
        match self {
            Self::Reach(r) => {
                let moment = matches!(r.sense, Some(Sense::Sagging | Sense::Hogging));
                if moment && r.effect == Effect::Shear {
                    let message = "shear neither sags nor hogs".to_owned();
                    bad(slug::EQUIVALENT_REQUIREMENT, "sense", message, "positive, negative");
                }
            }
            Self::Within(r) => {
                if !(r.at_most >= 1.0 && r.at_most.is_finite()) {
                    let message = "no layout reaches the reference and stays below it".to_owned();
                    bad(slug::EQUIVALENT_CAP_BELOW_ONE, "at_most", message, "at least 1");
                }
                if !(r.floor > 0.0 && r.floor <= 1.0) {
                    bad(
                        slug::EQUIVALENT_REQUIREMENT,
                        "floor",
                        format!("floor {}", r.floor),
                        "above 0, up to 1",
                    );
                }
            }
            Self::MomentLimit(r) => {
                let (s, h) = (r.sagging.map(Moment::si), r.hogging.map(Moment::si));
                if (s.is_none() && h.is_none()) || !positive(s) || !positive(h) {
                    let field = if positive(s) && h.is_some() { "hogging" } else { "sagging" };
                    bad(
                        slug::EQUIVALENT_REQUIREMENT,
                        field,
                        none(),
                        "sagging or hogging, above zero",
                    );
                }
                if !share(r.share) {
                    bad(slug::EQUIVALENT_REQUIREMENT, "share", no_share(), "above 0, up to 1");
                }
            }
            Self::ShearLimit(r) => {
                if !positive(Some(r.strength.si())) {
                    bad(slug::EQUIVALENT_REQUIREMENT, "strength", none(), "above zero");
                }
                if !share(r.share) {
                    bad(slug::EQUIVALENT_REQUIREMENT, "share", no_share(), "above 0, up to 1");
                }
            }
            Self::DeflectionLimit(r) => {
                let (d, u) = (r.down.map(Length::si), r.up.map(Length::si));
                if (d.is_none() && u.is_none()) || !positive(d) || !positive(u) {
                    bad(slug::EQUIVALENT_REQUIREMENT, "down", none(), "down or up, above zero");
                }
            }
            Self::ReactionLimit(r) => {
                if index(r.support) >= beam.supports().len() {
                    let message = format!("there is no support {}", r.support);
                    let limit = format!("0 to {}", beam.supports().len().saturating_sub(1));
                    bad(slug::EQUIVALENT_REQUIREMENT, "support", message, &limit);
                }
                let crossed = matches!((r.at_least, r.at_most), (Some(a), Some(b)) if a > b);
                if (r.at_least.is_none() && r.at_most.is_none()) || crossed {
                    let message = "no limit, or a least above the largest".to_owned();
                    bad(
                        slug::EQUIVALENT_REQUIREMENT,
                        "at_least",
                        message,
                        "at_least up to at_most",
                    );
                }
            }
            Self::ShearSpan(r) => {
                let (a, b) = (r.at_least.map(Length::si), r.at_most.map(Length::si));
                let crossed = matches!((a, b), (Some(a), Some(b)) if a > b);
                if (a.is_none() && b.is_none()) || !positive(a) || !positive(b) || crossed {
                    let message = "no limit, or a least above the largest".to_owned();
                    bad(
                        slug::EQUIVALENT_REQUIREMENT,
                        "at_least",
                        message,
                        "above zero, least up to most",
                    );
                }
            }
        }
    }
}

/// Every problem of the requirements.
pub(in crate::equivalent) fn refused(
    requirements: &[Requirement],
    reference: &Reference,
    beam: &Beam,
    issues: &mut Vec<Issue>,
) {
    if (reference.in_place.length() - beam.length()).abs() > beam.length() * 1e-9 {
        issues.push(
            Issue::new(
                slug::EQUIVALENT_REFERENCE,
                "reference",
                "it is of a beam of another length",
            )
            .value(reference.in_place.length())
            .limit(beam.length()),
        );
        return;
    }
    if !requirements.iter().any(|r| matches!(r, Requirement::Reach(_))) {
        let issue = Issue::new(
            slug::EQUIVALENT_REQUIREMENT,
            "requirements",
            "nothing is asked to be reached, so no load would be needed",
        );
        issues.push(issue.remedy("ask for shear or moment to be reached in a region"));
    }
    for (i, requirement) in requirements.iter().enumerate() {
        requirement.refused(&format!("requirements[{i}]"), reference, beam, issues);
    }
}
