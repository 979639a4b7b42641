//! The shear strength of one section, in both sets of strengths: no document.

use super::aci::{
    AciCracking, AciForm, AciPrestress, AciShear, AciWeb, detailed, prestressed, prestressed_part,
    reduced, reinforced,
};
use super::en::{EnWeb, MPA_UNIT, en_2004, en_2004_uncracked, en_2023_plain, en_axial};
use super::governs::Governs;
use super::spec::{
    Prestressed, STRAIGHT_INTO_BEARING, STRUT_CARRIES, STRUT_NOTED, ShearEdition, ShearStrength,
};
use crate::capacity::material::StrengthSet;
use crate::error::{Error, Issue, slug};
use crate::formula::{Recorder, Working};
use crate::source::rule::AtLeastOne;
use crate::source::{Given, Node, Write, validate_single};
use crate::units::{Area, Force, Kind, Length, Message, Quantity, Ratio, Said, Stress};
use crate::verdict::{Basis, Clause, Limit, Note, State, Verdict};

crate::answer! {
    /// The parts of a shear strength in one set.
    pub struct ShearParts {
        /// What the concrete carries.
        concrete: Force,
        /// What the stirrups carry, as far as it counts.
        stirrups: Force,
        /// The struts, EN 1992-1-1 with stirrups.
        struts: Option<Force>,
        /// cot θ of the struts.
        strut_slope: Option<f64>,
        /// The strength, reduced in the design set.
        strength: Force,
        /// What decides.
        governs: Governs,
    }
}

/// A shear strength in both sets.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct ShearFound {
    /// The edition.
    pub edition: ShearEdition,
    /// The clause.
    pub clause: &'static str,
    /// Mean strengths, no reduction: to predict a test.
    pub expected: ShearParts,
    /// Specified strengths, reduced; nothing where the factors are not given.
    pub design: Option<ShearParts>,
    /// Shear at which flexure-shear cracks are expected, where the method says it.
    pub flexure_shear: Option<Force>,
    /// Shear at which web-shear cracks are expected, where the method says it.
    pub web_shear: Option<Force>,
    /// Shear of the test over the expected strength.
    pub test_ratio: Option<f64>,
    /// The clear distance to the bearing, where it is given: not meaningful below the limit of the edition.
    pub near_support: Option<Verdict>,
    /// What to know.
    pub notes: Vec<Note>,
    /// What the prediction leaves out.
    pub left_out: Vec<&'static str>,
    working: Working,
}

/// The expected set, the shears at which cracks are expected where the method says them, the design set.
type ShearSets = (ShearParts, Option<AciCracking>, Option<ShearParts>);

/// What no prediction here holds.
const LEFT_OUT: &[&str] = &[
    "cracks, corrosion and other damage that is already there",
    "anchorage of the tension steel beyond the section",
    "which section along the member decides: the shear asked about is that of the section given",
    "torsion, inclined stirrups, openings in the web",
    "limits on the yield strength and on the spacing of stirrups: the values are used as given",
];

/// The most steel, over width times depth (library rule).
pub(super) const MOST_STEEL: f64 = 0.2;

impl ShearStrength {
    const fn aci(&self) -> Option<AciForm> {
        match self.code {
            ShearEdition::Aci => Some(AciForm::US),
            ShearEdition::AciMetric => Some(AciForm::METRIC),
            ShearEdition::En2004 | ShearEdition::En2023 => None,
        }
    }

    /// What the edition has no formula for, and what its formulas lack.
    fn refusals(&self) -> Vec<Issue> {
        let mut issues = Vec::new();
        let aci = self.aci().is_some();
        let unknown = |field: &str, message: &'static str| {
            Issue::new(slug::CAPACITY_NOT_KNOWN, field, message).source(self.code.word())
        };
        let missing = |field: &str, message: &'static str| {
            Issue::new(slug::SOURCE_FIELD_MISSING, field, message)
        };
        if self.axial.value != Force::ZERO && self.gross_area.is_none() {
            issues.push(missing("gross_area", "an axial force acts on an area that is not given"));
        }
        for (field, given) in [
            ("gamma_c", self.gamma_c.is_some()),
            ("gamma_s", self.gamma_s.is_some()),
            ("design_strength", self.design_strength.is_some()),
            ("lever_arm", self.lever_arm.is_some()),
            ("strut_slope", self.strut_slope.is_some()),
            ("chord_factor", self.chord_factor.is_some()),
        ] {
            if aci && given {
                issues.push(unknown(field, "no formula of this edition has it"));
            }
        }
        if !aci && self.lightweight.value != Ratio::from_si(1.0) {
            issues
                .push(unknown("lightweight", "what light aggregate does in it is not known here"));
        }
        if !aci && self.phi.is_some() {
            issues.push(unknown("phi", "this edition reduces by partial factors"));
        }
        if self.code != ShearEdition::En2023
            && (self.aggregate.is_some() || self.steel_yield.is_some())
        {
            let field = if self.aggregate.is_some() { "aggregate" } else { "steel_yield" };
            issues.push(unknown(field, "no formula of this edition has it"));
        }
        match (&self.prestress, self.code) {
            (None, _) => {}
            (Some(Prestressed::Uncracked(_)), ShearEdition::En2004) => {}
            (Some(Prestressed::Approximate(_) | Prestressed::Detailed(_)), _) if aci => {}
            (Some(_), _) => {
                issues.push(unknown("prestress", "this kind of prestress is of another edition"));
            }
        }
        match (&self.stirrups, self.code) {
            (Some(_), ShearEdition::En2023) => {
                issues.push(unknown("stirrups", "its formulas for stirrups are not known here"));
            }
            (Some(_), ShearEdition::En2004) => {
                if self.axial.value > Force::ZERO && self.chord_factor.is_none() {
                    issues.push(missing("chord_factor", "α_cw of a chord in compression"));
                }
                if matches!(self.prestress, Some(Prestressed::Uncracked(_))) {
                    let message = "the end region without bending cracks counts without them";
                    issues.push(unknown("stirrups", message));
                }
            }
            (Some(stirrups), _) if stirrups.minimum.is_none() && self.plain() => {
                let message = "whether they are at least the minimum decides the formula";
                issues.push(Issue::new(
                    slug::CAPACITY_MINIMUM_STIRRUPS,
                    "stirrups.minimum",
                    message,
                ));
            }
            _ => {}
        }
        if self.code == ShearEdition::En2023 {
            if self.axial.value != Force::ZERO {
                issues.push(unknown("axial", "what an axial force does is not known here"));
            }
            if self.aggregate.is_none() {
                issues.push(missing("aggregate", "the size of the aggregate enters the formula"));
            }
            if self.steel_yield.is_none() {
                issues.push(missing("steel_yield", "it enters the least value"));
            }
        }
        issues.extend(self.sizes());
        if let Some(clear) = &self.clear
            && clear.value < self.depth.value * STRAIGHT_INTO_BEARING
        {
            let message =
                "the load goes straight into the bearing: not a test of the beam in shear";
            issues.push(
                Issue::new(slug::CAPACITY_NEAR_SUPPORT, "clear", message)
                    .value(clear.said())
                    .limit(Message::new(
                        "at least 0.5 d, {}; 2 d for a test of the beam in shear",
                        [(self.depth.value * STRAIGHT_INTO_BEARING).into()],
                    ))
                    .source("library rule"),
            );
        }
        issues
    }

    /// Sizes that do not fit each other: steel that leaves no room for concrete, a gross area below width times
    /// depth, a height below the depth of the steel.
    fn sizes(&self) -> Vec<Issue> {
        let web = self.width.value * self.depth.value;
        let most = web * MOST_STEEL;
        let mut issues = Vec::new();
        let mut refuse = |field: &str, said: Said, message: &'static str, limit: Message| {
            let issue = Issue::new(slug::CAPACITY_SHAPE, field, message).value(said);
            issues.push(issue.limit(limit).source("library rule"));
        };
        if self.tension_steel.value > most {
            let message = "more steel than a section of this width and depth holds";
            let limit = Message::new("at most {}, a fifth of width times depth", [most.into()]);
            refuse("tension_steel", self.tension_steel.said(), message, limit);
        }
        if let Some(gross) = self.gross_area.as_ref().filter(|a| a.value < web) {
            let limit = Message::new("at least {}, width times depth", [web.into()]);
            refuse("gross_area", gross.said(), "less than the web alone has", limit);
        }
        if let Some(height) = self.height.as_ref().filter(|h| h.value < self.depth.value) {
            let limit = Message::new("at least {}", [self.depth.said()]);
            refuse("height", height.said(), "the steel lies outside the section", limit);
        }
        issues
    }

    /// Whether no prestress acts: none is given, or all of it is lost.
    fn plain(&self) -> bool {
        match &self.prestress {
            None => true,
            Some(Prestressed::Approximate(p)) => p.effective.value == Stress::ZERO,
            Some(Prestressed::Detailed(p)) => {
                p.at_face.value == Stress::ZERO
                    && p.at_centroid.value == Stress::ZERO
                    && p.vertical.value == Force::ZERO
            }
            Some(Prestressed::Uncracked(_)) => false,
        }
    }

    fn concrete(&self, set: StrengthSet) -> Stress {
        match (set, &self.mean_strength) {
            (StrengthSet::Expected, Some(mean)) => mean.value,
            _ => self.strength.value,
        }
    }

    fn stirrup_yield(&self, set: StrengthSet) -> Stress {
        self.stirrups.as_ref().map_or(Stress::ZERO, |s| match (set, &s.mean_yield) {
            (StrengthSet::Expected, Some(mean)) => mean.value,
            _ => s.yields.value,
        })
    }

    /// Area and spacing of the stirrups; an infinite spacing where there are none.
    fn legs(&self) -> (Area, Length) {
        let none = (Area::ZERO, Length::from_si(f64::INFINITY));
        self.stirrups.as_ref().map_or(none, |s| (s.area.value, s.spacing.value))
    }

    fn gross(&self) -> Area {
        let whole = self.width.value * self.depth.value;
        self.gross_area.as_ref().map_or(whole, |a| a.value)
    }

    fn aci_web(&self, set: StrengthSet) -> AciWeb {
        let (av, spacing) = self.legs();
        AciWeb {
            fc: self.concrete(set),
            lambda: self.lightweight.value.value(),
            b: self.width.value,
            d: self.depth.value,
            rho: self.tension_steel.value / (self.width.value * self.depth.value),
            axial: self.axial.value,
            gross: self.gross(),
            av,
            spacing,
            fyt: self.stirrup_yield(set),
            minimum: self.stirrups.as_ref().is_some_and(|s| s.minimum == Some(true)),
        }
    }

    fn by_aci<R: Recorder>(
        &self,
        rec: &mut R,
        form: &AciForm,
        set: StrengthSet,
    ) -> Result<(AciShear, Option<AciCracking>), Error> {
        let web = self.aci_web(set);
        if self.plain() {
            return Ok((reinforced(rec, form, &web), None));
        }
        match &self.prestress {
            Some(Prestressed::Approximate(p)) => {
                let steel = p.steel_yield.as_ref().map_or(Stress::ZERO, |y| y.value);
                let share = prestressed_part(
                    rec,
                    p.area.value,
                    p.effective.value,
                    p.breaks.value,
                    self.tension_steel.value,
                    steel,
                );
                let mut issues = Vec::new();
                if self.tension_steel.value > Area::ZERO && p.steel_yield.is_none() {
                    let message = "the yield strength of the tension steel beside the tendons";
                    let field = "prestress.steel_yield";
                    issues.push(Issue::new(slug::SOURCE_FIELD_MISSING, field, message));
                } else if share < 0.4 {
                    let message = "the approximate expression asks for a prestress that carries at least 0.4 of the tension";
                    issues.push(
                        Issue::new(slug::CAPACITY_NOT_KNOWN, "prestress", message)
                            .value(share)
                            .limit("at least 0.4")
                            .remedy("take the detailed method")
                            .source("ACI 318-19 22.5.6.2"),
                    );
                }
                Error::check(issues)?;
                let actions = (p.shear.value, p.moment.value, p.depth.value);
                Ok((prestressed(rec, form, &web, actions), None))
            }
            Some(Prestressed::Detailed(p)) => {
                let given = AciPrestress {
                    dp: p.depth.value,
                    h: p.height.value,
                    modulus: p.modulus.value,
                    fpe: p.at_face.value,
                    fpc: p.at_centroid.value,
                    fd: p.dead_stress.value,
                    vp: p.vertical.value,
                    vd: p.dead_shear.value,
                    vi: p.added_shear.value,
                    most: p.added_moment.value,
                    mostly: p.mostly_prestressed,
                };
                let (found, cracks) = detailed(rec, form, &web, &given);
                Ok((found, Some(cracks)))
            }
            _ => Ok((reinforced(rec, form, &web), None)),
        }
    }

    fn en_web(&self, set: StrengthSet) -> EnWeb {
        let factor = |given: &Option<Given<Ratio, AtLeastOne>>| match set {
            StrengthSet::Expected => 1.0,
            StrengthSet::Design => given.as_ref().map_or(1.0, |g| g.value.value()),
        };
        let (fck, gamma_c) = (self.concrete(set), factor(&self.gamma_c));
        let given = self.design_strength.as_ref().filter(|_| set == StrengthSet::Design);
        let (asw, spacing) = self.legs();
        EnWeb {
            fck,
            gamma_c,
            fcd: given.map_or(fck / gamma_c, |f| f.value),
            b: self.width.value,
            d: self.depth.value,
            z: self.lever_arm.as_ref().map_or(self.depth.value * 0.9, |z| z.value),
            tension: self.tension_steel.value,
            axial: self.axial.value,
            gross: self.gross(),
            asw,
            spacing,
            fywd: self.stirrup_yield(set) / factor(&self.gamma_s),
            alpha_cw: self.chord_factor.as_ref().map_or(1.0, |a| a.value.value()),
            cot: self.strut_slope.as_ref().map(|c| c.value.value()),
        }
    }

    fn by_en<R: Recorder>(
        &self,
        rec: &mut R,
        set: StrengthSet,
        notes: &mut Vec<Note>,
    ) -> ShearParts {
        let web = self.en_web(set);
        let parts = |strength, governs| ShearParts {
            concrete: strength,
            stirrups: Force::ZERO,
            struts: None,
            strut_slope: None,
            strength,
            governs,
        };
        if let Some(Prestressed::Uncracked(u)) = &self.prestress {
            let tension = match (set, &u.mean_tension) {
                (StrengthSet::Expected, Some(mean)) => mean.value,
                _ => u.tension.value / web.gamma_c,
            };
            let sigma = en_axial(rec, web.axial, web.gross);
            let section = (u.second_moment.value, u.first_moment.value, web.b);
            let entered = u.entered.value.value();
            let strength = en_2004_uncracked(rec, section, tension, entered, sigma);
            return parts(strength, Governs::Uncracked);
        }
        if self.code == ShearEdition::En2023 {
            let size = self.aggregate.as_ref().map_or(Length::ZERO, |a| a.value);
            let fy = self.steel_yield.as_ref().map_or(MPA_UNIT, |f| f.value);
            let gamma_s = match set {
                StrengthSet::Expected => 1.0,
                StrengthSet::Design => self.gamma_s.as_ref().map_or(1.0, |g| g.value.value()),
            };
            let (strength, governs) = en_2023_plain(rec, &web, (web.gamma_c, fy / gamma_s, size));
            return parts(strength, governs);
        }
        let found = en_2004(rec, &web);
        if set == StrengthSet::Expected {
            let mut capped = |field: &'static str, message: &'static str| {
                notes.push(Note::new(slug::CAPACITY_CAPPED, field, message));
            };
            if found.ratio_capped {
                capped("tension_steel", "the ratio of tension steel counts up to 0.02");
            }
            if found.compression_capped {
                capped("axial", "the compression counts up to 0.2 of the design strength");
            }
        }
        ShearParts {
            concrete: found.concrete,
            stirrups: found.stirrups,
            struts: found.cot.map(|_| found.struts),
            strut_slope: found.cot,
            strength: found.strength,
            governs: found.governs,
        }
    }

    /// Whether the factors of the design set are given.
    fn factored(&self) -> bool {
        if self.aci().is_some() {
            return self.phi.is_some();
        }
        let steel = self.stirrups.is_some() || self.code == ShearEdition::En2023;
        self.gamma_c.is_some() && (self.gamma_s.is_some() || !steel)
    }

    pub(super) fn parts<R: Recorder>(
        &self,
        working: &mut R,
        set: StrengthSet,
        notes: &mut Vec<Note>,
    ) -> Result<(ShearParts, Option<AciCracking>), Error> {
        working.about(|| match set {
            StrengthSet::Expected => "Expected: mean strengths, no reduction",
            StrengthSet::Design => "Design: specified strengths, reduced",
        });
        let Some(form) = self.aci() else { return Ok((self.by_en(working, set, notes), None)) };
        let (found, cracks) = self.by_aci(working, &form, set)?;
        if set == StrengthSet::Expected {
            let mut capped = |yes: bool, field: &'static str, message: &'static str| {
                if yes {
                    notes.push(Note::new(slug::CAPACITY_CAPPED, field, message));
                }
            };
            capped(
                found.root_capped,
                "strength",
                "the root of the concrete strength is at its cap, 100 psi or 8.3 MPa",
            );
            capped(found.concrete_capped, "strength", "what the concrete carries is at its cap");
            capped(found.steel_capped, "stirrups", "what the stirrups carry is at its cap");
        }
        let strength = match (set, &self.phi) {
            (StrengthSet::Design, Some(phi)) => reduced(working, found.nominal, phi.value.value()),
            _ => found.nominal,
        };
        let parts = ShearParts {
            concrete: found.concrete,
            stirrups: found.steel,
            struts: None,
            strut_slope: None,
            strength,
            governs: found.governs,
        };
        Ok((parts, cracks))
    }

    /// The strengths of both sets alone, of a record that holds.
    ///
    /// # Errors
    /// As [`ShearStrength::check`].
    pub(super) fn sets<R: Recorder>(&self, rec: &mut R) -> Result<ShearSets, Error> {
        Error::check(self.refusals())?;
        let mut notes = Vec::new();
        let (expected, cracks) = self.parts(rec, StrengthSet::Expected, &mut notes)?;
        let design = if self.factored() {
            Some(self.parts(rec, StrengthSet::Design, &mut notes)?.0)
        } else {
            None
        };
        Ok((expected, cracks, design))
    }

    fn near_support(&self, notes: &mut Vec<Note>) -> Option<Verdict> {
        let clear = self.clear.as_ref()?;
        let d = self.depth.value;
        let over = clear.value / d;
        // ACI 318 counts by twice the overall depth
        let limit = match (&self.height, self.aci()) {
            (Some(h), Some(_)) => STRUT_CARRIES * (h.value / d),
            _ => STRUT_CARRIES,
        };
        if over < STRUT_NOTED.max(limit) {
            let part = (100.0 * (1.0 - over / limit)).max(0.0).round();
            let said =
                "the clear distance to the bearing is {} d; a strut carries about {} % of the load";
            let message = Message::new(said, [over.into(), part.into()]);
            notes.push(Note::new(slug::CAPACITY_STRUT, "clear", message));
        }
        let verdict = Verdict::design(
            slug::CAPACITY_STRUT,
            Quantity::new(Kind::Ratio, over),
            Limit::AtLeast(limit),
            Basis::absolute(self.unit),
            Clause::Named("clear distance to the bearing over the effective depth (library rule)"),
        );
        Some(if verdict.state == State::Fail {
            verdict.with_state(State::NotMeaningful)
        } else {
            verdict
        })
    }

    /// What is known of the strength in both sets.
    ///
    /// # Errors
    /// All at once: a value that its rule refuses; `capacity.not-known` for what the edition has no
    /// formula for, `capacity.minimum-stirrups`, `capacity.near-support`, `source.field-missing`.
    pub fn check(&self) -> Result<ShearFound, Error> {
        validate_single(self)?;
        Error::check(self.refusals())?;
        let (mut working, mut notes) = (Working::default(), Vec::new());
        let (expected, cracks) = self.parts(&mut working, StrengthSet::Expected, &mut notes)?;
        let design = if self.factored() {
            Some(self.parts(&mut working, StrengthSet::Design, &mut notes)?.0)
        } else {
            let message = "no design strength: its factors are not given";
            notes.push(Note::new(slug::CAPACITY_FACTORS, "", message));
            None
        };
        if self.mean_strength.is_none() {
            let message =
                "the mean strength of the concrete is not given: the specified one stands for it";
            notes.push(Note::new(slug::CAPACITY_MEAN, "strength", message));
        }
        if self.code == ShearEdition::En2023 {
            let message = "the formulas of this edition are known with moderate confidence";
            notes.push(Note::new(slug::CAPACITY_UNCONFIRMED, "code", message));
        }
        if self.plain() && self.prestress.is_some() {
            let message = "no prestress is left: the formulas of a reinforced member apply";
            notes.push(Note::new(slug::CAPACITY_CAPPED, "prestress", message));
        }
        let test_ratio = self.test.as_ref().map(|t| t.value / expected.strength);
        if let (Some(test), Some(ratio)) = (&self.test, test_ratio)
            && ratio * 1.25 > 1.0
        {
            let said = "the test brings {} against an expected shear strength of {}: less than 1.25 of it (library rule)";
            let message = Message::new(said, [test.value.into(), expected.strength.into()]);
            notes.push(Note::new(slug::CAPACITY_CLOSE, "test", message));
        }
        let mut found = ShearFound {
            edition: self.code,
            clause: match self.code {
                ShearEdition::Aci | ShearEdition::AciMetric => "22.5",
                ShearEdition::En2004 => "6.2",
                ShearEdition::En2023 => "8.2",
            },
            expected,
            design,
            flexure_shear: cracks.map(|c| c.flexure_shear),
            web_shear: cracks.map(|c| c.web_shear),
            test_ratio,
            near_support: self.near_support(&mut notes),
            notes,
            left_out: LEFT_OUT.to_vec(),
            working: Working::default(),
        };
        let answer = found.write();
        working.claim_all("", 0, &answer, &answer);
        found.working = working;
        Ok(found)
    }
}

impl ShearFound {
    /// Both sets redone with a pencil.
    #[must_use]
    pub const fn working(&self) -> &Working {
        &self.working
    }
}

impl Write for ShearFound {
    fn write(&self) -> Node {
        Node::map(vec![
            ("edition", self.edition.write()),
            ("clause", Node::text(self.clause)),
            ("mode", Node::text("one-way shear, brittle")),
            ("expected", self.expected.write()),
            ("design", self.design.write()),
            ("flexure_shear", self.flexure_shear.write()),
            ("web_shear", self.web_shear.write()),
            ("test_ratio", self.test_ratio.write()),
            ("near_support", self.near_support.write()),
            ("notes", self.notes.write()),
            ("left_out", said(&self.left_out)),
        ])
    }
}

/// Sentences of an answer.
pub(in crate::capacity) fn said(sentences: &[&'static str]) -> Node {
    Node::new(crate::source::Value::List(sentences.iter().map(|s| Node::text(*s)).collect()))
}
