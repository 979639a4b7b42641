//! Catches under a simple span: no document.

use super::around::{Resting, Surroundings};
use super::catch::Drive;
use super::check::{Shoring, check_recorded};
use super::spec::{Catch, CatchPlace, Ground, Level, Resistance, ShoringSpec, Stub};
use crate::beam::{Beam, Load, Span, Spring};
use crate::error::{Error, Issue, slug};
use crate::formula::Working;
use crate::scope::Mode;
use crate::source::rule::{AtLeastOne, Movement, NotNegative, Positive};
use crate::source::{Given, Node, Reader, Several, Write, validate_single};
use crate::units::{
    FlexuralRigidity, Force, Length, LineLoad, Message, Ratio, Said, SpringStiffness,
};
use crate::verdict::MemberUnit;

crate::record! {
    /// A force that the test brings on, down, per member unit.
    pub struct TestForce {
        /// Its place from the left end of the member.
        at: Given<Length, CatchPlace>,
        /// How much at full test load.
        force: Given<Force, Positive>,
    }
}

crate::record! {
    /// Catches under a simple span, with what falls on them if the region in doubt fails.
    ///
    /// ```
    /// use proofspan::scope::Mode;
    /// use proofspan::shoring::Catching;
    /// use proofspan::units::*;
    ///
    /// // 10 m with 10 kN/m that shears through at its left bearing and turns about the right one:
    /// // 10 · 10 · 5 kNm on the lever of 5 m, 100 kN on the catch at mid-span
    /// let posts = SpringStiffness::per(10.0 * KN, 1.0 * MM);
    /// let found = Catching::of(10.0 * M, 10.0 * KN_PER_M, Mode::Shear, 0.0 * M, 2.0 * M)
    ///     .catch(5.0 * M, 20.0 * MM, 400.0 * KN, posts)
    ///     .to_the_ground()
    ///     .check()?;
    /// assert_eq!(found.shoring.catches[0].own.to(KN).round(), 100.0);
    /// # Ok::<(), proofspan::error::Error>(())
    /// ```
    pub struct Catching {
        /// Centre to centre of the bearings.
        span: Given<Length, Span>,
        /// What is in place over the whole span, per member unit: one or several loads.
        in_place: Several<Given<LineLoad, NotNegative>>,
        /// What the test brings on.
        forces: Several<TestForce> = Several::none(),
        /// The failure mode in doubt.
        mode: Mode,
        /// Left end of the region in doubt.
        from: Given<Length, CatchPlace>,
        /// Right end of that region.
        to: Given<Length, CatchPlace>,
        /// The catches, each with its place, clear gap, stiffness and posts.
        catches: Several<Catch>,
        /// What applies the test load.
        drive: Drive = Drive::Weights,
        /// What the rig springs back if the member falls; not given, locked-off jacks count like weights.
        spring_back: Option<Given<Length, Movement>>,
        /// Overall depth, for the run of a flat crack.
        depth: Given<Length, Movement> = Given::known(Length::ZERO),
        /// Reading expected at full load, soft prediction: one for all catches, or one for each.
        reading: Several<Given<Length, Movement>> = Several::none(),
        /// Standard uncertainty times two of that reading.
        reading_uncertainty: Given<Length, Movement> = Given::known(Length::ZERO),
        /// Clearance to keep above it, 5 to 10 mm (library rule).
        clearance: Given<Length, Movement> = Given::known(Length::from_si(0.005)),
        /// The levels that carry it, the top first.
        levels: Vec<Level> = Vec::new(),
        /// Stiffness of the posts between levels.
        post_stiffness: Option<Given<SpringStiffness, Spring>>,
        /// Whether the posts go on to the ground below the last level.
        to_ground: bool = false,
        /// The ground they stand on.
        ground: Option<Ground>,
        /// How a stub at a bearing is held without a catch.
        stub: Option<Stub>,
        /// Part of the dead load in place that hangs on beyond what is listed.
        dragged_along: Ratio where AtLeastOne = Ratio::from_si(1.0),
        /// What one value is counted for.
        unit: MemberUnit = MemberUnit::Beam,
    }
    rules { reading_each[catches, reading]; }
}

fn reading_each(
    reader: &mut Reader,
    catches: &Several<Catch>,
    reading: &Several<Given<Length, Movement>>,
) {
    if reading.len() > 1 && reading.len() != catches.len() {
        let path = reader.path_of("reading");
        let message = "neither one reading for all catches nor one for each";
        reader.push(
            Issue::new(slug::SOURCE_SIZE, path, message)
                .value(reading.len())
                .limit(format!("1 or {}", catches.len())),
        );
    }
}

/// The catches checked.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct CatchCheck {
    /// Every catch with its forces and gap window, and the levels.
    pub shoring: Shoring,
    working: Working,
}

impl CatchCheck {
    /// What falls on the catches, redone with a pencil.
    #[must_use]
    pub const fn working(&self) -> &Working {
        &self.working
    }
}

impl Write for CatchCheck {
    fn write(&self) -> Node {
        self.shoring.write()
    }
}

impl Catching {
    /// A simple span that carries this load, in doubt in this mode between two places; catches follow.
    #[must_use]
    pub fn of(span: Length, in_place: LineLoad, mode: Mode, from: Length, to: Length) -> Self {
        Self {
            span: Given::known(span),
            in_place: core::iter::once(Given::known(in_place)).collect(),
            forces: Several::none(),
            mode,
            from: Given::known(from),
            to: Given::known(to),
            catches: Several::none(),
            drive: Drive::Weights,
            spring_back: None,
            depth: Given::known(Length::ZERO),
            reading: Several::none(),
            reading_uncertainty: Given::known(Length::ZERO),
            clearance: Given::known(Length::from_si(0.005)),
            levels: Vec::new(),
            post_stiffness: None,
            to_ground: false,
            ground: None,
            stub: None,
            dragged_along: Ratio::from_si(1.0),
            unit: MemberUnit::Beam,
        }
    }

    /// With a catch whose posts carry this together, and give way so.
    #[must_use]
    pub fn catch(
        mut self,
        at: Length,
        gap: Length,
        resistance: Force,
        stiffness: SpringStiffness,
    ) -> Self {
        let catch = Catch {
            at: Given::known(at),
            stiffness: Given::known(stiffness),
            gap: Given::known(gap),
            resistance: Resistance {
                posts: 1,
                characteristic: None,
                material_factor: 1.1,
                rated: Some(Given::known(resistance)),
                height: None,
                table: Vec::new(),
                column: None,
                prop: None,
                lean: Ratio::ZERO,
            },
            posts_on_joist_lines: true,
            on: None,
            width: Given::known(Length::ZERO),
            pad: None,
        };
        self.catches = self.catches.iter().cloned().chain([catch]).collect();
        self
    }

    /// With posts that go on to the ground below the last level.
    #[must_use]
    pub fn to_the_ground(self) -> Self {
        Self { to_ground: true, ..self }
    }

    /// With a force that the test brings on.
    #[must_use]
    pub fn force(mut self, at: Length, force: Force) -> Self {
        let one = TestForce { at: Given::known(at), force: Given::known(force) };
        self.forces = self.forces.iter().cloned().chain([one]).collect();
        self
    }

    /// With the reading expected at full load at every catch, one after the other.
    #[must_use]
    pub fn reading(mut self, reading: Length) -> Self {
        self.reading = self.reading.iter().cloned().chain([Given::known(reading)]).collect();
        self
    }

    /// The reading at a place: that of the catch which stands there.
    fn reading_at(&self, x: Length) -> Length {
        let number = self.catches.iter().position(|c| c.at.value == x).unwrap_or(0);
        let number = if self.reading.len() == 1 { 0 } else { number };
        self.reading.get(number).map_or(Length::ZERO, |r| r.value)
    }

    fn spec(&self) -> ShoringSpec {
        ShoringSpec {
            catch: self.catches.clone(),
            stub: self.stub.clone(),
            drive: self.drive,
            reading_uncertainty: self.reading_uncertainty.clone(),
            levels: self.levels.clone(),
            post_stiffness: self.post_stiffness.clone(),
            to_ground: self.to_ground,
            ground: self.ground.clone(),
            clearance: self.clearance.clone(),
            dragged_along: self.dragged_along,
        }
    }

    /// Forces and the region in doubt lie on the member.
    fn outside(&self) -> Vec<Issue> {
        let span = self.span.value;
        let beyond = |x: Length| x > span * (1.0 + 1e-12);
        let mut issues = Vec::new();
        let mut refuse = |slug, path: String, said: Said, message: &'static str, limit: Message| {
            issues.push(Issue::new(slug, path, message).value(said).limit(limit));
        };
        let upto = || Message::new("0 to {}", [span.into()]);
        for (i, force) in self.forces.iter().enumerate().filter(|(_, f)| beyond(f.at.value)) {
            let path = format!("{}.at", self.forces.path("forces", i));
            refuse(
                slug::SHORING_CATCH_OUTSIDE,
                path,
                force.at.said(),
                "a force beyond the member",
                upto(),
            );
        }
        for (name, end) in [("from", &self.from), ("to", &self.to)] {
            if beyond(end.value) {
                let message = "the region in doubt reaches beyond the member";
                refuse(slug::SCOPE_REGION_OUTSIDE, name.to_owned(), end.said(), message, upto());
            }
        }
        if self.from.value >= self.to.value {
            let limit = Message::new("beyond {}", [self.from.said()]);
            let message = "the region in doubt is empty or runs backwards";
            refuse(slug::SCOPE_REGION_EMPTY, "to".to_owned(), self.to.said(), message, limit);
        }
        issues
    }

    /// Checks every catch by the same rules as the shoring of a design.
    ///
    /// # Errors
    /// All at once: a value that its rule refuses; `shoring.catch-outside`, `shoring.levels-zero`,
    /// `shoring.post-stiffness-missing`.
    pub fn check(&self) -> Result<CatchCheck, Error> {
        validate_single(self)?;
        Error::check(self.outside())?;
        let (span, spec) = (self.span.value, self.spec());
        // no force of a catch hangs on the stiffness of the member
        let beam = Beam::simple(span, FlexuralRigidity::from_si(1e6))?;
        let uniform = |w: &Given<LineLoad, NotNegative>| Load::uniform(Length::ZERO, span, w.value);
        let in_place: Vec<Load> = self.in_place.iter().map(uniform).collect();
        let jack = |f: &TestForce| Resting::jack(f.at.value, f.force.value);
        let on_it: Vec<Resting> = self.forces.iter().map(jack).collect();
        let regions = [(self.mode, self.from.value, self.to.value)];
        let around = Surroundings {
            unit: self.unit,
            beam: &beam,
            regions: &regions,
            depth: self.depth.value,
            in_place: &in_place,
            on_it: &on_it,
            rig_weight: &[],
            spring_back: self
                .spring_back
                .as_ref()
                .map_or(Length::from_si(f64::INFINITY), |s| s.value),
            fractions: &[Ratio::from_si(1.0)],
            reading: &|x| self.reading_at(x),
        };
        let mut working = Working::default();
        let checked = check_recorded(&mut working, &spec, &around);
        let (mut shoring, _) = checked.map_err(|mut e| {
            e.issues.iter_mut().for_each(|i| i.path = own(&i.path));
            e
        })?;
        shoring.stops.iter_mut().for_each(|s| s.path = own(&s.path).into());
        shoring.notes.iter_mut().for_each(|n| n.path = own(&n.path).into());
        let answer = shoring.write();
        working.claim_all("", 0, &answer, &answer);
        Ok(CatchCheck { shoring, working })
    }
}

/// A path of the shoring, as the fields are called here.
fn own(path: &str) -> String {
    let path = path.strip_prefix("shoring.").unwrap_or(path);
    match path.strip_prefix("catch") {
        Some(rest) => format!("catches{rest}"),
        None => path.to_owned(),
    }
}
