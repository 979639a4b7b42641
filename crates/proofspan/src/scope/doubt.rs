//! Which region and which failure mode are in doubt.

use super::member::Member;
use super::sharing::Sharing;
use crate::error::{Issue, slug};
use crate::source::{Given, Input, Reader, Several};
use crate::units::{Length, Message, Quantified, Quantity};
use crate::verdict::{Basis, Clause, MemberUnit, Note, State, Verdict};

crate::choice! {
    /// The failure mode in doubt.
    pub enum Mode ("failure mode", source::SOURCE_CHOICE) {
        /// Shear, diagonal cracking, stirrups or wraps.
        Shear = "shear",
        /// Flexure with tension below.
        Flexure = "flexure",
        /// Flexure with tension above.
        Hogging = "hogging",
    }
}

impl Mode {
    /// Whether the mode fails without warning, so that the heavier load set applies.
    #[must_use]
    pub const fn brittle(self) -> bool {
        matches!(self, Self::Shear)
    }
}

crate::rule! {
    /// A place on the member, from its left end.
    pub RegionPlace { least 0.0 SCOPE_REGION_OUTSIDE }
}

crate::record! {
    /// The region in doubt, from the left end of the member, and the mode.
    pub struct Doubt {
        /// The failure mode.
        mode: Mode,
        /// Left end of the region.
        from: Given<Length, RegionPlace>,
        /// Right end of the region.
        to: Given<Length, RegionPlace>,
    }
    rules { in_order[from, to]; }
}

impl Doubt {
    /// The problems of the region on a member of this length, under this path.
    #[must_use]
    pub fn on(&self, path: &str, length: Length) -> Vec<Issue> {
        let (from, to) = (&self.from, &self.to);
        if from.value >= Length::ZERO && to.value <= length * (1.0 + 1e-12) {
            return Vec::new();
        }
        vec![
            Issue::new(slug::SCOPE_REGION_OUTSIDE, path, "the region reaches beyond the member")
                .value(Message::new("{} to {}", [from.said(), to.said()]))
                .limit(Message::new("0 to {}", [length.into()])),
        ]
    }
}

fn in_order(reader: &mut Reader, from: &Input<Length>, to: &Input<Length>) {
    let (a, b) = (from.value, to.value);
    if a < b {
        return;
    }
    let path = reader.path().to_owned();
    let (slug, message) = if a > b {
        (slug::SCOPE_REGION_REVERSED, "the region ends before it begins")
    } else {
        (slug::SCOPE_REGION_EMPTY, "the region has no length")
    };
    reader.push(
        Issue::new(slug, path, message)
            .value(Message::new("{} to {}", [from.said(), to.said()]))
            .limit("from < to"),
    );
}

crate::choice! {
    /// A finding of the condition survey that bears on the test.
    pub enum FindingKind ("finding", source::SOURCE_CHOICE) {
        /// A bearing that has failed or slipped.
        FailedBearing = "failed_bearing",
        /// Strengthening that is loose or debonded.
        LooseStrengthening = "loose_strengthening",
        /// A member cut free of its neighbours, or to be cut.
        SawCut = "saw_cut",
        /// Anything else worth a line in the report.
        Other = "other",
    }
}

crate::record! {
    /// What the survey found.
    pub struct Finding {
        /// What it is.
        kind: FindingKind,
        /// Where and how much.
        note: String,
    }
}

crate::record! {
    /// The question: which member, region and failure mode.
    pub struct Scope {
        /// The question in one sentence.
        question: Option<String>,
        /// The member under test.
        member: Member,
        /// The region and mode in doubt; several where one stage is to answer for several.
        doubt: Several<Doubt>,
        /// How the joists of one unit and the neighbours share.
        sharing: Option<Sharing>,
        /// What the survey found.
        findings: Vec<Finding> = Vec::new(),
    }
    rules { one_number_each[member, sharing]; doubts_apart[doubt]; }
}

/// Regions of one mode do not overlap: what is in doubt is said once.
fn doubts_apart(reader: &mut Reader, doubt: &Several<Doubt>) {
    for (i, a) in doubt.iter().enumerate() {
        let over =
            |b: &&Doubt| b.mode == a.mode && b.from.value < a.to.value && a.from.value < b.to.value;
        if let Some(b) = doubt.iter().take(i).find(over) {
            let path = reader.path_of(&doubt.path("doubt", i));
            let message = format!("two regions in doubt for {} overlap", a.mode);
            reader.push(
                Issue::new(slug::SCOPE_REGION_OVERLAP, path, message)
                    .value(Message::new("{} to {}", [a.from.said(), a.to.said()]))
                    .limit(Message::new("beyond {} to {}", [b.from.said(), b.to.said()])),
            );
        }
    }
}

/// A list of joists has as many entries as the unit has joists.
fn one_number_each(reader: &mut Reader, member: &Member, sharing: &Option<Sharing>) {
    let Some(sharing) = sharing else { return };
    for (field, list) in [("stiffness", &sharing.stiffness), ("shares", &sharing.shares)] {
        if let Some(joists) =
            member.joists.filter(|n| *n as usize != list.len() && !list.is_empty())
        {
            let path = reader.path_of(&format!("sharing.{field}"));
            let message = format!("{} numbers for a unit of {joists} joists", list.len());
            reader.push(
                Issue::new(slug::SCOPE_SHARING, path, message).value(list.len()).limit(joists),
            );
        }
    }
}

impl Scope {
    /// Whether the condition found makes the test pointless, before any load is computed.
    #[must_use]
    pub fn pointless(&self) -> Option<Verdict> {
        let pointless = |f: &&Finding| {
            matches!(f.kind, FindingKind::FailedBearing | FindingKind::LooseStrengthening)
        };
        self.findings.iter().find(pointless).map(|_| {
            let demand = Quantity::new(
                <Length as Quantified>::KIND,
                self.doubt.iter().map(|d| d.to.value.si() - d.from.value.si()).sum(),
            );
            Verdict::bare(
                State::NotMeaningful,
                slug::SCOPE_POINTLESS,
                demand,
                Basis::absolute(self.unit()),
                Clause::Named("library rule"),
            )
        })
    }

    /// What the report must say about the scope.
    #[must_use]
    pub fn notes(&self) -> Vec<Note> {
        let mut notes = Vec::new();
        if self.sharing.is_none() && self.member.kind.has_neighbours() {
            notes.push(Note::new(
                slug::SCOPE_SHARING_UNSTATED,
                "scope.sharing",
                "the unit is taken as isolated: all of the test load goes into it",
            ));
        }
        for (i, finding) in self.findings.iter().enumerate() {
            let slug = match finding.kind {
                FindingKind::SawCut => slug::SCOPE_SAW_CUT,
                FindingKind::FailedBearing | FindingKind::LooseStrengthening => {
                    slug::SCOPE_POINTLESS
                }
                FindingKind::Other => slug::SCOPE_FINDING,
            };
            notes.push(Note::new(slug, format!("scope.findings[{i}]"), finding.note.clone()));
        }
        notes
    }

    /// What one value is counted for.
    #[must_use]
    pub fn unit(&self) -> MemberUnit {
        self.member.unit()
    }
}
