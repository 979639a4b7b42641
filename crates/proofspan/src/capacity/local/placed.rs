//! Local checks of a document: the action of the test and of the catch is that of its design.

use super::acts::LocalFound;
use super::strength::LocalStrength;
use crate::capacity::steel::AlongMember;
use crate::error::{Error, Issue, slug};
use crate::formula::{Recorder as _, Working};
use crate::source::Given;
use crate::source::rule::Positive;
use crate::units::{Force, Length, Message, Ratio};
use crate::verdict::{Stop, Verdict};

crate::choice! {
    /// What presses, whose force a local check takes.
    pub enum PressedBy ("what presses", source::SOURCE_CHOICE) {
        /// A carrier of the test: one of its jacks, else all of it.
        Carrier = "carrier",
        /// A catch: one of its posts, when the member falls.
        Catch = "catch",
        /// A bearing of the member.
        Bearing = "bearing",
        /// Something else: its forces stand with the strength.
        Other = "other",
    }
}

crate::record! {
    /// A local check under what presses in this test. A force that stands with the strength is taken as it
    /// is given; one that does not is that of the design.
    pub struct LocalSpec {
        /// What it is called.
        name: String,
        /// The stage that it is about, by its name; every stage where it is left out.
        stage: Option<String>,
        /// What presses.
        under: PressedBy,
        /// The name of the carrier, where there are several.
        of: Option<String>,
        /// Its place from the left end of the member, where there are several.
        at: Option<Given<Length, AlongMember>>,
        /// The part of the force that goes through here; of a carrier that of one jack, of a catch that of one post, where it is left out.
        share: Option<Given<Ratio, Positive>>,
        /// What gives way.
        strength: LocalStrength,
    }
}

/// A force at a place, and the part of it that goes through one foot of it.
pub(crate) struct Presses {
    pub(crate) name: String,
    pub(crate) at: Length,
    pub(crate) force: Force,
    /// What of it is there before the test.
    pub(crate) before: Force,
    pub(crate) part: f64,
    /// The force while the member falls and is caught, where it is known apart from that of the test.
    pub(crate) caught: Option<Force>,
}

/// What presses in a design.
pub(crate) struct Pressing {
    pub(crate) carriers: Vec<Presses>,
    pub(crate) catches: Vec<Presses>,
    pub(crate) bearings: Vec<Presses>,
}

/// A local check of a document with its answer.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct LocalPlaced {
    /// What it is called.
    pub name: String,
    /// What presses.
    pub under: PressedBy,
    /// Where that stands, from the left end of the member; nothing of something else.
    pub at: Option<Length>,
    /// Share of the test load at which its expected strength is reached, its design strength where only that is known; nothing where no action of the test is.
    pub fails_at: Option<f64>,
    /// The strength, and each action against it.
    pub found: LocalFound,
}

impl crate::source::Write for LocalPlaced {
    fn write(&self) -> crate::source::Node {
        crate::source::Node::map(vec![
            ("name", crate::source::Node::text(self.name.clone())),
            ("under", self.under.write()),
            ("at", self.at.write()),
            ("fails_at", self.fails_at.write()),
            ("found", self.found.write()),
        ])
    }
}

impl LocalPlaced {
    /// The checks, to be widened by ranges.
    pub(crate) fn verdicts_mut(&mut self) -> impl Iterator<Item = &mut Verdict> {
        self.found.checks.iter_mut().map(|c| &mut c.verdict)
    }

    /// The checks.
    pub(crate) fn verdicts(&self) -> impl Iterator<Item = &Verdict> {
        self.found.checks.iter().map(|c| &c.verdict)
    }

    /// What gives way under the action of the test or of the catch.
    pub(crate) fn stops(&self) -> impl Iterator<Item = Stop> {
        let broken =
            self.found.checks.iter().filter(|c| c.verdict.state == crate::verdict::State::Fail);
        broken.map(move |c| {
            let limit = c.verdict.limit.value().unwrap_or_default();
            let message = Message::new(
                "{}, {}: {} under the {}, the design strength is {}",
                [
                    (&self.name).into(),
                    self.found.mode.into(),
                    c.verdict.demand.into(),
                    c.action.into(),
                    crate::units::Quantity::new(c.verdict.demand.kind, limit).into(),
                ],
            );
            let path = format!("capacity.local.{}", self.name);
            Stop::new(slug::CAPACITY_LOCAL_OVER, path, message).with(c.verdict)
        })
    }
}

impl LocalSpec {
    /// What presses here; nothing where it is something else.
    fn pressing<'a>(&self, all: &'a Pressing) -> Result<Option<&'a Presses>, Error> {
        let list = match self.under {
            PressedBy::Carrier => &all.carriers,
            PressedBy::Catch => &all.catches,
            PressedBy::Bearing => &all.bearings,
            PressedBy::Other => return Ok(None),
        };
        let named = |p: &&Presses| self.of.as_ref().is_none_or(|n| *n == p.name);
        let near = |p: &&Presses| {
            self.at.as_ref().is_none_or(|at| (at.value - p.at).abs() <= Length::from_si(0.001))
        };
        let mut found = list.iter().filter(named).filter(near);
        match (found.next(), found.next()) {
            (Some(one), None) => Ok(Some(one)),
            (first, _) => {
                let message = if first.is_none() {
                    format!("no {} stands there", self.under)
                } else {
                    format!("several could be meant by this {}", self.under)
                };
                let values =
                    list.iter().map(|p| Message::new("{} at {}", [(&p.name).into(), p.at.into()]));
                let limit = values.fold(None, |all: Option<Message>, one| {
                    Some(all.map_or_else(
                        || one.clone(),
                        |a| a.and(Message::from(", ")).and(one.clone()),
                    ))
                });
                let issue = Issue::new(slug::CAPACITY_PLACE, "at", message);
                Err(issue.limit(limit.unwrap_or_else(|| "none in this design".into())).into())
            }
        }
    }

    /// The check under the actions of a design.
    ///
    /// # Errors
    /// `capacity.place` where nothing presses there, or several things do; what the check itself refuses.
    pub(crate) fn placed(
        &self,
        working: &mut Working,
        all: &Pressing,
    ) -> Result<LocalPlaced, Error> {
        let presses = self.pressing(all)?;
        let through = |of: fn(&Presses) -> Option<Force>| {
            let part = |p: &Presses| self.share.as_ref().map_or(p.part, |s| s.value.value());
            let force = presses.and_then(|p| of(p).map(|f| f * part(p)));
            force.filter(|f| *f > Force::ZERO)
        };
        let force = through(|p| Some(p.force));
        let given = self.strength.test().is_some();
        let before = through(|p| Some(p.before)).filter(|_| !given).unwrap_or(Force::ZERO);
        let strength = match self.under {
            PressedBy::Catch => self.strength.clone().under((None, force)),
            _ => self.strength.clone().under((force, through(|p| p.caught))),
        };
        let under = |mut error: Error| {
            error.issues.iter_mut().for_each(|i| i.path = format!("strength.{}", i.path));
            error
        };
        let found = strength.check().map_err(under)?;
        if found.checks.is_empty() {
            let message = "no action of the test or of the catch is known here";
            let issue = Issue::new(slug::SOURCE_FIELD_MISSING, "strength.test", message);
            return Err(issue.remedy("give the force of the test, or of the catch").into());
        }
        let carries = found.expected.or(found.design);
        let fails_at = carries.zip(strength.test()).and_then(|(carries, test)| {
            let more = test - before;
            (more > Force::ZERO).then(|| (carries - before).si() / more.si())
        });
        working.about(|| Message::new("Local check: {}", [(&self.name).into()]));
        working.append(found.working().clone());
        Ok(LocalPlaced {
            name: self.name.clone(),
            under: self.under,
            at: presses.map(|p| p.at),
            fails_at,
            found,
        })
    }
}
