//! A section, and a simple span of one section, on their own: no document.

use super::cracking::{Cracking, CrackingQuestion, CrackingRule, Scatter};
use super::deflection::{Course, DeflectionStep, FailsByCracking, PointForce, Sliced};
use super::elastic::{BEYOND_CORE, StagedStresses};
use super::flexure::{Block, Flexure, FlexureCode, FlexureQuestion, Reductions};
use super::material::StrengthSet;
use super::outline::{OutlineCorner, Properties};
use super::section::{Cut, Face, Section};
use super::steel::AlongMember;
use super::stiffness::{EffectiveMoment, Interaction, LoadFactor, SecondMoments};
use super::strips::STRIPS_LEFT_OUT;
use crate::beam::{Beam, Load, Span};
use crate::error::{Error, Issue, slug};
use crate::formula::{Recorder, Working};
use crate::source::rule::{Any, NotNegative, Share};
use crate::source::{Given, Node, Reader, Several, Write, validate_single};
use crate::units::{Area, FlexuralRigidity, Force, Length, LineLoad, Message, Moment, Ratio};
use crate::verdict::{Note, State};

/// What every prediction of this module is.
const PREDICTION: &str = "a prediction to plan a test by, not an approval of the member";

crate::record! {
    /// What a section does: when it cracks, when it fails in flexure and how, how stiff it is.
    ///
    /// ```
    /// use proofspan::capacity::*;
    /// use proofspan::units::*;
    ///
    /// let concrete = Concrete::of(ConcreteStrength::specified(30.0 * MPA)).modulus(25.0 * GPA);
    /// let bars = Bars::of(1500.0 * MM2, 540.0 * MM, SteelStrength::specified(420.0 * MPA));
    /// let section = Section::of(Shape::rectangle(300.0 * MM, 600.0 * MM), concrete).bars(bars);
    /// let found = SectionStrength::of(section, FlexureCode::Aci, CrackingRule::AciMpa).predict()?;
    /// // A_s f_y (d − a/2) with a = 1500 × 420/(0.85 × 30 × 300)
    /// let a = 1500.0 * 420.0 / (0.85 * 30.0 * 300.0);
    /// let hand = 1500.0 * 420.0 * (540.0 - a / 2.0) * 1e-6;
    /// assert!((found.flexure[0].moment.to(KN_M) - hand).abs() < 1e-9 * hand);
    /// assert!(found.flexure[0].ductile);
    /// # Ok::<(), proofspan::error::Error>(())
    /// ```
    pub struct SectionStrength {
        /// The section.
        section: Section,
        /// Edition of the law of compressed concrete in flexure.
        code: FlexureCode,
        /// The law, where the code is one's own.
        block: Option<Block>,
        /// Formula of the flexural tensile strength.
        cracking: CrackingRule,
        /// Place along the member; far from its ends where it is left out.
        at: Option<Given<Length, AlongMember>>,
        /// Length of the member, where profiles and anchorage ask for it.
        length: Option<Given<Length, Span>>,
        /// Axial force at the centroid of the gross section, compression positive.
        axial: Given<Force, Any> = Given::known(Force::ZERO),
        /// The reductions of the design set.
        reductions: Option<Reductions>,
        /// Why the section is taken as cracked already: direct evidence goes before the formula.
        cracked: Option<String>,
        /// How sure tensile strength and prestress are.
        scatter: Option<Scatter>,
        /// Total moment that acted before the topping did.
        before: Given<Moment, Any> = Given::known(Moment::ZERO),
        /// Total moment under the test, with what is in place; sagging positive.
        moment: Option<Given<Moment, Any>>,
        /// Factor of tension stiffening for the kind of load, from a copy of the edition.
        load_factor: Option<Given<Ratio, LoadFactor>>,
    }
    rules { place_known[section, at, length]; }
}

fn place_known(
    reader: &mut Reader,
    section: &Section,
    at: &Option<Given<Length, AlongMember>>,
    length: &Option<Given<Length, Span>>,
) {
    if at.is_some() != length.is_some() || (at.is_none() && section.varies()) {
        let path = reader.path_of(if at.is_none() { "at" } else { "length" });
        let message =
            "a section that changes along the member wants its place and the length of the member";
        reader.push(Issue::new(slug::CAPACITY_PLACE, path, message));
    } else if let (Some(at), Some(length)) = (at, length)
        && at.value > length.value
    {
        let path = reader.path_of("at");
        let issue = Issue::new(slug::CAPACITY_PLACE, path, "a place beyond the member");
        reader.push(issue.value(at.said()).limit(Message::new("up to {}", [length.said()])));
    }
}

crate::answer! {
    /// Where a layer of bars or a tendon lies in a section.
    pub struct SteelPlace {
        /// Which one.
        steel: String,
        /// Its depth below the top face, of a topping where there is one.
        depth: Length,
        /// Its area.
        area: Area,
        /// Whether it is a tendon.
        tendon: bool,
    }
}

/// What a section does, predicted.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct SectionFound {
    /// The outline from the top face down, its topping with it.
    pub outline: Vec<OutlineCorner>,
    /// Where its steel lies.
    pub steel: Vec<SteelPlace>,
    /// Gross properties, without steel.
    pub gross: Properties,
    /// Stresses of the uncracked concrete at its faces under the moment asked about, stage by stage: what acted before the topping on the section alone; nothing without that moment.
    pub stresses: Option<StagedStresses>,
    /// With steel; nothing where the modulus of the concrete is not given.
    pub transformed: Option<Properties>,
    /// When it cracks: lower and upper face in the expected set, then in the design set.
    pub cracking: Vec<Cracking>,
    /// Strengths in flexure, of each face with steel in both sets; the design set where its reductions are given.
    pub flexure: Vec<Flexure>,
    /// Second moments, of each face with steel, where the modulus of the concrete is given.
    pub stiffness: Vec<SecondMoments>,
    /// Whether it stays uncracked under the moment asked about, with the scatter as given: Inconclusive
    /// where it is not, or where the margin is smaller than twice it.
    pub stays_uncracked: Option<State>,
    /// What to know.
    pub notes: Vec<Note>,
    /// What the predictions leave out.
    pub left_out: Vec<&'static str>,
    working: Working,
}

/// What no prediction here holds.
const LEFT_OUT: &[&str] = &[
    "shear, torsion, bond, bearing and punching: other modes may come first",
    "cracks, corrosion and other damage that is not described",
    "bending about the vertical axis, buckling",
    "tension of the concrete in the strength in flexure",
    "the shape of the compressed concrete where a steel breaks first: the block of crushing is used",
    "creep and shrinkage since the prestress was measured or calculated",
    "stress that an unbonded tendon gains until failure",
];

/// A place far from both ends of a long member.
const FAR: (Length, Length) = (Length::from_si(500.0), Length::from_si(1000.0));

impl Section {
    /// Whether it changes along the member.
    pub(crate) fn varies(&self) -> bool {
        let straight =
            |t: &super::steel::Tendon| matches!(t.profile, super::steel::Profile::Straight(_));
        self.tendons.iter().any(|t| !straight(t))
            || self.bars.iter().any(|b| b.from.is_some() || b.to.is_some())
    }
}

/// What a cut finds missing is a field of the section.
fn of_section(mut error: Error) -> Error {
    let own = ["shape", "web", "concrete", "topping", "bars", "tendons"];
    let head = |path: &str| path.split(['.', '[']).next().is_some_and(|h| own.contains(&h));
    for issue in error.issues.iter_mut().filter(|i| head(&i.path)) {
        issue.path = format!("section.{}", issue.path);
    }
    error
}

impl SectionStrength {
    /// A section under flexure alone.
    #[must_use]
    pub fn of(section: Section, code: FlexureCode, cracking: CrackingRule) -> Self {
        Self {
            section,
            code,
            block: None,
            cracking,
            at: None,
            length: None,
            axial: Given::known(Force::ZERO),
            reductions: None,
            cracked: None,
            scatter: None,
            before: Given::known(Moment::ZERO),
            moment: None,
            load_factor: None,
        }
    }

    /// The predictions.
    ///
    /// # Errors
    /// All at once what the record refuses; then what [`Cut::flexure`] and [`Cut::cracking`] refuse.
    pub fn predict(&self) -> Result<SectionFound, Error> {
        validate_single(self)?;
        let (at, length) = match (&self.at, &self.length) {
            (Some(at), Some(length)) => (at.value, length.value),
            _ => FAR,
        };
        Error::check(self.section.beyond(length, "section"))?;
        self.predicted(at, length).map_err(of_section)
    }

    fn predicted(&self, at: Length, length: Length) -> Result<SectionFound, Error> {
        let cut = self.section.at(at, length);
        let mut working = Working::default();
        let gross = cut.gross()?;
        let sets = [StrengthSet::Expected, StrengthSet::Design];
        let faces = [Face::Bottom, Face::Top];
        let mut cracking = Vec::new();
        let mut flexure = Vec::new();
        let reduced = self.reductions.is_some();
        for set in sets {
            for face in faces {
                working.about(|| format!("Cracking, {face} face, {set} strengths"));
                let asked = CrackingQuestion {
                    rule: self.cracking,
                    set,
                    cracked: self.cracked.as_deref(),
                    scatter: self.scatter.as_ref(),
                    before: self.before.value,
                };
                cracking.push(cut.cracking(&mut working, face, asked)?);
                if !cut.holds_crack(face) || set == StrengthSet::Design && !reduced {
                    continue;
                }
                working.about(|| format!("Flexure, {face} face in tension, {set} strengths"));
                let asked = FlexureQuestion {
                    code: self.code,
                    block: self.block.as_ref(),
                    axial: self.axial.value,
                    reductions: self.reductions.as_ref(),
                };
                flexure.push(cut.flexure(&mut working, face, set, &asked)?);
            }
        }
        let moduli = cut.modulus().and_then(|_| cut.ratio()).is_ok();
        let transformed = if moduli { Some(cut.transformed()?) } else { None };
        let mut stiffness = Vec::new();
        for face in faces.into_iter().filter(|_| moduli) {
            let strips = cut.strips.iter().any(|s| s.face == face);
            if cut.holds_crack(face) && (strips || cut.steel.iter().any(|s| s.bonded)) {
                working.about(|| format!("Stiffness, {face} face in tension, expected strengths"));
                let at = cracking.iter().find(|c| c.face == face && c.set == StrengthSet::Expected);
                stiffness.push(self.stiffness(&mut working, &cut, face, at)?);
            }
        }
        let stays_uncracked = self.moment.as_ref().map(|m| uncracked(&cracking, m.value));
        let stresses = match &self.moment {
            Some(moment) => {
                working.about(|| "Stresses of the uncracked concrete, stage by stage");
                let before = if cut.topping.is_some() { self.before.value } else { Moment::ZERO };
                Some(cut.staged(&mut working, before, moment.value - before)?)
            }
            None => None,
        };
        let notes = self.notes(&cut, moduli);
        let mut left_out = LEFT_OUT.to_vec();
        if !cut.strips.is_empty() {
            left_out.push(STRIPS_LEFT_OUT);
        }
        let steel = cut.steel.iter().map(|s| SteelPlace {
            steel: s.path.clone(),
            depth: s.depth,
            area: s.area,
            tendon: s.tendon,
        });
        let strips = cut.strips.iter().map(|s| SteelPlace {
            steel: s.path.clone(),
            depth: if s.face == Face::Bottom { cut.height() } else { Length::ZERO },
            area: s.area,
            tendon: false,
        });
        Ok(SectionFound {
            outline: cut.outline.corners(),
            steel: steel.chain(strips).collect(),
            gross,
            stresses,
            transformed,
            cracking,
            flexure,
            stiffness,
            stays_uncracked,
            notes,
            left_out,
            working,
        })
    }

    fn stiffness<R: Recorder>(
        &self,
        recorder: &mut R,
        cut: &Cut,
        face: Face,
        cracking: Option<&Cracking>,
    ) -> Result<SecondMoments, Error> {
        let gross = cut.gross()?.second_moment;
        let transformed = cut.transformed()?.second_moment;
        let (neutral_axis, cracked) = cut.cracked(face)?;
        let towards = if face == Face::Bottom { 1.0 } else { -1.0 };
        let load = self.load_factor.as_ref().map(|f| f.value.value());
        let mut effective = Vec::new();
        let moment = self.moment.as_ref().map(|m| m.value * towards).filter(|m| *m > Moment::ZERO);
        if let (Some(ma), Some(at)) = (moment, cracking) {
            let mcr = (at.moment * towards).max(Moment::ZERO);
            for by in Interaction::ALL.iter().copied() {
                if by == Interaction::Stiffening && load.is_none() {
                    continue;
                }
                let both = (gross, cracked);
                let second_moment = by.effective(recorder, (mcr, ma), both, load)?;
                effective.push(EffectiveMoment { by, second_moment });
            }
        }
        Ok(SecondMoments { face, gross, transformed, cracked, neutral_axis, effective })
    }

    fn notes(&self, cut: &Cut, moduli: bool) -> Vec<Note> {
        let mut notes = vec![Note::new(slug::CAPACITY_ASSUMED, "", PREDICTION)];
        let mut note =
            |slug, path: String, message: Message| notes.push(Note::new(slug, path, message));
        let stands_in = |path: &str| {
            Message::from(format!(
                "{path} has no mean: the expected set takes the specified strength"
            ))
        };
        let mut mean = |missing: bool, path: String| {
            if missing {
                let message = stands_in(&path);
                note(slug::CAPACITY_MEAN_UNSTATED, path, message);
            }
        };
        mean(
            self.section.concrete.strength.expected.is_none(),
            "section.concrete.strength".to_owned(),
        );
        for s in &cut.steel {
            mean(s.yields.expected.is_none(), format!("section.{}.yields", s.path));
        }
        for s in cut.steel.iter().filter(|s| s.anchored < 1.0) {
            let message = Message::new("anchored to {} here", [Ratio::from(s.anchored).into()]);
            note(slug::CAPACITY_ANCHORED_IN_PART, format!("section.{}", s.path), message);
        }
        if self.reductions.is_none() {
            let message = "no reductions are given: there is no design set of flexure";
            note(slug::CAPACITY_DESIGN_MISSING, "reductions".to_owned(), message.into());
        }
        let mut assume = |path: &str, message: &'static str| {
            note(slug::CAPACITY_ASSUMED, path.to_owned(), message.into());
        };
        if self.at.is_none() {
            assume("at", "the place is taken far from the ends: everything is anchored");
        }
        for (i, b) in self.section.bars.iter().enumerate() {
            if b.development.is_none() {
                let path = format!("section.{}", self.section.bars.path("bars", i));
                assume(
                    &path,
                    "taken as anchored wherever they are: no development length is given",
                );
            }
        }
        for s in cut.steel.iter().filter(|s| !s.bonded) {
            let message = "without bond: it keeps its effective stress, what it gains is left out";
            assume(&format!("section.{}", s.path), message);
        }
        if moduli && cut.steel.iter().any(|s| s.tendon) {
            let message =
                "the cracked stiffness leaves out the force of the tendons: it is a lower bound";
            assume("section.tendons", message);
        }
        if !moduli {
            let message = "no modulus of the concrete: no stiffness, and tendons strain from their effective stress alone";
            assume("section.concrete.modulus", message);
        }
        if self.code != FlexureCode::Own {
            note(
                slug::EDITIONS_VALUE_UNCONFIRMED,
                "code".to_owned(),
                self.code.unconfirmed().into(),
            );
        }
        if cut.beyond_core() {
            note(slug::CAPACITY_BEYOND_CORE, "section.tendons".to_owned(), BEYOND_CORE.into());
        }
        notes
    }
}

/// Whether the face that a moment pulls on stays uncracked, expected set.
fn uncracked(cracking: &[Cracking], moment: Moment) -> State {
    let (face, towards) =
        if moment >= Moment::ZERO { (Face::Bottom, 1.0) } else { (Face::Top, -1.0) };
    let found = cracking.iter().find(|c| c.face == face && c.set == StrengthSet::Expected);
    let Some(found) = found else { return State::Inconclusive };
    let margin = (found.moment - moment) * towards;
    match found.uncertainty {
        Some(u) if margin >= u * 2.0 => State::Pass,
        _ if margin < found.uncertainty.unwrap_or(Moment::ZERO) * -2.0 => State::Fail,
        _ => State::Inconclusive,
    }
}

impl SectionFound {
    /// Cracking, flexure and stiffness redone with a pencil.
    #[must_use]
    pub const fn working(&self) -> &Working {
        &self.working
    }
}

impl Write for SectionFound {
    fn write(&self) -> Node {
        let left_out: Vec<String> = self.left_out.iter().map(|s| (*s).to_owned()).collect();
        Node::map(vec![
            ("outline", self.outline.write()),
            ("steel", self.steel.write()),
            ("gross", self.gross.write()),
            ("stresses", self.stresses.write()),
            ("transformed", self.transformed.write()),
            ("cracking", self.cracking.write()),
            ("flexure", self.flexure.write()),
            ("stiffness", self.stiffness.write()),
            ("stays_uncracked", self.stays_uncracked.write()),
            ("notes", self.notes.write()),
            ("left_out", left_out.write()),
        ])
    }
}

crate::record! {
    /// A simple span of one section under point forces: deflection over load, stiff and soft.
    pub struct Deflecting {
        /// Centre to centre of its bearings.
        span: Given<Length, Span>,
        /// The section along it.
        section: Section,
        /// Formula of the flexural tensile strength.
        cracking: CrackingRule,
        /// What is in place, on one member unit.
        in_place: Given<LineLoad, NotNegative>,
        /// The forces of the test at full load, on one member unit.
        forces: Several<PointForce>,
        /// Shares of the full load.
        steps: Vec<f64> where Share = vec![0.25, 0.5, 0.75, 1.0],
        /// Where the deflection is asked for; the middle where it is left out.
        at: Option<Given<Length, AlongMember>>,
        /// Why the member is taken as cracked already.
        cracked: Option<String>,
        /// Factor of tension stiffening for the kind of load, from a copy of the edition.
        load_factor: Option<Given<Ratio, LoadFactor>>,
    }
    rules { on_the_span[span, forces, at]; }
}

fn on_the_span(
    reader: &mut Reader,
    span: &Given<Length, Span>,
    forces: &Several<PointForce>,
    at: &Option<Given<Length, AlongMember>>,
) {
    let mut beyond = |path: String, place: Length| {
        if place > span.value {
            let path = reader.path_of(&path);
            let issue = Issue::new(slug::CAPACITY_PLACE, path, "a place beyond the member");
            reader.push(issue.value(place).limit(Message::new("up to {}", [span.said()])));
        }
    };
    for (i, force) in forces.iter().enumerate() {
        beyond(format!("{}.at", forces.path("forces", i)), force.at.value);
    }
    if let Some(at) = at {
        beyond("at".to_owned(), at.value);
    }
}

crate::answer! {
    /// Deflection over load, what is added to that in place, down positive.
    pub struct Deflections {
        /// Where.
        at: Length,
        /// Step by step up to where it fails by cracking: the stiff one for limits that stop a test, the soft one for gap, stroke and range.
        steps: Vec<DeflectionStep>,
        /// Where and when it fails by cracking, where its steel does not carry what the concrete did; nothing where it does not.
        breaks: Option<FailsByCracking>,
        /// Stiffness of the uncracked section in the middle.
        gross: FlexuralRigidity,
        /// Stiffness of the cracked section in the middle; nothing without bonded steel in tension.
        cracked: Option<FlexuralRigidity>,
        /// What to know.
        notes: Vec<Note>,
    }
}

impl Deflecting {
    /// Deflection over load.
    ///
    /// # Errors
    /// All at once what the record refuses; then `capacity.modulus` and what [`Cut::cracking`] refuses.
    pub fn predict(&self) -> Result<Deflections, Error> {
        validate_single(self)?;
        let length = self.span.value;
        Error::check(self.section.beyond(length, "section"))?;
        self.predicted(length).map_err(of_section)
    }

    fn predicted(&self, length: Length) -> Result<Deflections, Error> {
        let asked = Course {
            rule: self.cracking,
            stretches: &[(Length::ZERO, &self.section, self.cracked.as_deref())],
            load_factor: self.load_factor.as_ref().map(|f| f.value.value()),
            strength: FlexureQuestion::of(self.cracking.flexure()),
        };
        let sliced = Sliced::new(length, asked)?;
        let middle = self.section.at(length / 2.0, length);
        let modulus = middle.modulus()?;
        let gross = modulus * middle.gross()?.second_moment;
        let cracked = middle.cracked(Face::Bottom).ok().map(|(_, i)| modulus * i);
        let beam = Beam::simple(length, gross)?;
        let w = self.in_place.value;
        let in_place = [Load::Line { from: Length::ZERO, to: length, w_from: w, w_to: w }];
        let test: Vec<Load> = self
            .forces
            .iter()
            .map(|f| Load::Point { at: f.at.value, force: f.force.value })
            .collect();
        let at = self.at.as_ref().map_or(length / 2.0, |a| a.value);
        let (steps, breaks) = sliced.course(&beam, &in_place, &test, &self.steps, at)?;
        let mut notes = vec![Note::new(slug::CAPACITY_ASSUMED, "", PREDICTION)];
        notes.extend(breaks.as_ref().map(|b| b.note("section")));
        Ok(Deflections { at, steps, breaks, gross, cracked, notes })
    }
}
