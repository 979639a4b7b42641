//! The member, and what one value is counted for.

use crate::error::{Issue, slug};
use crate::source::rule::{Positive, Rule};
use crate::source::{Door, Given, Leaf, Node, Read, Reader, Shapes, Value, Write};
use crate::units::Length;
use crate::verdict::MemberUnit;

/// A kind of member that is covered.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
#[non_exhaustive]
pub enum MemberKind {
    /// A beam.
    Beam,
    /// A single joist.
    Joist,
    /// A strip of several joists with their slab.
    JoistStrip,
    /// A strip of a one-way slab.
    OneWayStrip,
    /// A stem of a double tee or ribbed slab.
    TeeStem,
    /// A cantilever beam or slab strip.
    Cantilever,
}

const COVERED: &[(&str, MemberKind)] = &[
    ("beam", MemberKind::Beam),
    ("joist", MemberKind::Joist),
    ("joist_strip", MemberKind::JoistStrip),
    ("one_way_strip", MemberKind::OneWayStrip),
    ("tee_stem", MemberKind::TeeStem),
    ("cantilever", MemberKind::Cantilever),
];

/// What is refused, and why.
const REFUSED: &[(&str, &str)] = &[
    ("column", "its failure is sudden and axial, and nothing catches what stands on it"),
    ("wall", "its failure is sudden and axial, and nothing catches what stands on it"),
    ("footing", "the ground decides, over months"),
    ("torsion", "no line of jacks reproduces a torque along a member"),
    ("stair_with_landing", "it carries two ways and its joints decide"),
    ("two_way_floor", "it needs an influence matrix, which this version does not read"),
    ("flat_plate", "it needs an influence matrix, which this version does not read"),
    ("waffle", "it carries two ways; section effects would have to be imported"),
    ("bracket", "a bracket, ledge or dapped end is a test of its own with its own catch"),
    ("ledge", "a bracket, ledge or dapped end is a test of its own with its own catch"),
    ("dapped_end", "a bracket, ledge or dapped end is a test of its own with its own catch"),
];

impl MemberKind {
    /// Whether a member of this kind commonly hangs together with others beside it.
    #[must_use]
    pub const fn has_neighbours(self) -> bool {
        matches!(self, Self::Joist | Self::JoistStrip | Self::OneWayStrip | Self::TeeStem)
    }

    /// The word used in reports, JSON and Python.
    #[must_use]
    pub fn word(self) -> &'static str {
        COVERED.iter().find(|(_, k)| *k == self).map_or("member", |(w, _)| w)
    }
}

impl Read for MemberKind {
    fn read(node: &Node, reader: &mut Reader) -> Option<Self> {
        let covered: Vec<&str> = COVERED.iter().map(|(w, _)| *w).collect();
        if let Value::Text(text) = &node.value
            && let Some((word, why)) = REFUSED.iter().find(|(w, _)| w == text)
        {
            let path = reader.path().to_owned();
            reader.push(
                Issue::new(
                    slug::SCOPE_MEMBER_KIND,
                    path,
                    format!("a {word} is not covered: {why}"),
                )
                .value(word)
                .limit(covered.join(", ")),
            );
            return None;
        }
        let index = reader.word(node, "member kind", &covered, slug::SCOPE_MEMBER_KIND)?;
        COVERED.get(index).map(|(_, k)| *k)
    }
    fn shape(_: &mut Shapes) -> serde_json::Value {
        let words: Vec<&str> = COVERED.iter().map(|(w, _)| *w).collect();
        serde_json::json!({ "type": "string", "enum": words })
    }
    fn sample() -> Node {
        Node::text("beam")
    }
    fn leaves<R: Rule>(door: &Door, visit: &mut dyn FnMut(Leaf)) {
        visit(Leaf::word(
            door,
            &["beam", "joist", "joist_strip", "one_way_strip", "tee_stem", "cantilever"],
        ));
    }
}
impl Write for MemberKind {
    fn write(&self) -> Node {
        Node::text(self.word())
    }
}

const UNITS: &[(&str, MemberUnit)] = &[
    ("strip", MemberUnit::Strip),
    ("joist", MemberUnit::Joist),
    ("stem", MemberUnit::Stem),
    ("beam", MemberUnit::Beam),
    ("metre", MemberUnit::Metre),
];

impl Read for MemberUnit {
    fn read(node: &Node, reader: &mut Reader) -> Option<Self> {
        let words: Vec<&str> = UNITS.iter().map(|(w, _)| *w).collect();
        let index = reader.word(node, "member unit", &words, slug::SOURCE_CHOICE)?;
        UNITS.get(index).map(|(_, u)| *u)
    }
    fn shape(_: &mut Shapes) -> serde_json::Value {
        let words: Vec<&str> = UNITS.iter().map(|(w, _)| *w).collect();
        serde_json::json!({ "type": "string", "enum": words })
    }
    fn sample() -> Node {
        Node::text("beam")
    }
    fn leaves<R: Rule>(door: &Door, visit: &mut dyn FnMut(Leaf)) {
        visit(Leaf::word(door, &["strip", "joist", "stem", "beam", "metre"]));
    }
}
impl Write for MemberUnit {
    fn write(&self) -> Node {
        Node::text(self.word())
    }
}

crate::rule! {
    /// Joists in one unit: one to a thousand (library rule).
    pub Joists { least 1.0 SOURCE_SIGN, most 1000.0 SOURCE_MAGNITUDE }
}

crate::record! {
    /// The member under test. Every value of the design is per `unit` unless it says otherwise.
    pub struct Member {
        /// How the drawings call it.
        id: String,
        /// What it is.
        kind: MemberKind,
        /// What one value is counted for.
        unit: MemberUnit => SCOPE_MEMBER_UNIT_MISSING "no value can be read without knowing per what it is counted",
        /// Joists in one unit, where the unit is a strip.
        joists: Option<u32> where Joists,
        /// Centre to centre of the joists.
        joist_spacing: Option<Given<Length, Positive>>,
    }
}

impl Member {
    /// What one value is counted for.
    #[must_use]
    pub const fn unit(&self) -> MemberUnit {
        self.unit
    }
}
