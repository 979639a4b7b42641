//! What a sketch is made of: shapes with a kind, a mark and a place.

use crate::units::{Force, Length};

crate::choice! {
    /// What a shape of the sketch is.
    pub enum ShapeKind ("kind of a shape", source::SOURCE_CHOICE) {
        /// The member under test.
        Test = "test",
        /// A reaction member.
        Reaction = "reaction",
        /// A level below, or the ground.
        Level = "level",
        /// A support of one of them.
        Support = "support",
        /// A jack: alone it presses the member under test, else its spreader or its pad.
        Jack = "jack",
        /// A spreader: a beam under one jack.
        Spreader = "spreader",
        /// A contact of a spreader on the member under test.
        Contact = "contact",
        /// A pad or patch under one jack.
        Pad = "pad",
        /// A pile of bags or blocks.
        Pile = "pile",
        /// The top of a layer inside a pile.
        Layer = "layer",
        /// A basin up to its rim.
        Basin = "basin",
        /// The water in a basin.
        Water = "water",
        /// The wheels of one axle.
        Wheel = "wheel",
        /// A crosshead.
        Crosshead = "crosshead",
        /// A bar.
        Bar = "bar",
        /// An anchor.
        Anchor = "anchor",
        /// Counterweights.
        Weight = "weight",
        /// Posts of a catch, with their gap above.
        Catch = "catch",
        /// Posts below a level.
        Post = "post",
        /// A column that holds a bearing of the reaction which cannot lift.
        Column = "column",
        /// The beam that such a bearing is cast into, seen from its end.
        Holding = "holding",
    }
}

crate::answer! {
    /// One shape of the elevation: places from the left end of the member under test, heights down
    /// from its top.
    pub struct Shape {
        /// What it is.
        kind: ShapeKind,
        /// Its mark, where it has one.
        mark: String,
        /// Its numbers, as the mark says them.
        says: String,
        /// The force that its arrow shows, down positive; all arrows are to one scale.
        force: Option<Force>,
        /// Left edge.
        left: Length,
        /// Right edge.
        right: Length,
        /// Upper edge.
        top: Length,
        /// Lower edge.
        bottom: Length,
    }
}

/// A jack, a crosshead, a weight without sides: symbols of this size.
pub(super) const SYMBOL: f64 = 0.25;

impl Shape {
    /// Its middle along the member.
    pub(super) fn middle(&self) -> Length {
        (self.left + self.right) / 2.0
    }
}

impl ShapeKind {
    /// Whether it is told by where it begins and ends.
    pub(super) const fn spread(self) -> bool {
        matches!(
            self,
            Self::Test
                | Self::Reaction
                | Self::Level
                | Self::Spreader
                | Self::Pad
                | Self::Pile
                | Self::Basin
                | Self::Water
        )
    }

    /// Whether it brings load on the member under test.
    pub(super) const fn brings(self) -> bool {
        matches!(
            self,
            Self::Jack
                | Self::Spreader
                | Self::Contact
                | Self::Pad
                | Self::Pile
                | Self::Basin
                | Self::Water
                | Self::Wheel
        )
    }

    /// What the table of marks calls it.
    pub(super) const fn words(self) -> &'static str {
        match self {
            Self::Test => "member under test",
            Self::Reaction => "reaction member",
            Self::Level => "level",
            Self::Support => "support",
            Self::Jack => "jack, presses down",
            Self::Spreader => "spreader under the jack",
            Self::Contact => "contact of a spreader, presses down",
            Self::Pad => "pad under the jack, presses down over its length",
            Self::Pile => "pile of bags or blocks",
            Self::Layer => "layer",
            Self::Basin => "basin",
            Self::Water => "water in a basin",
            Self::Wheel => "axle on wheels",
            Self::Crosshead => "crosshead",
            Self::Bar => "bars, pull up",
            Self::Anchor => "anchor",
            Self::Weight => "counterweight",
            Self::Catch => "catch",
            Self::Post => "posts below a level",
            Self::Column => "column that holds the bearing down, pulled up",
            Self::Holding => "beam that the bearing is cast into",
        }
    }

    /// How it is filled.
    pub(super) const fn fill(self) -> &'static str {
        match self {
            Self::Test | Self::Reaction | Self::Level => "#d5d8dc",
            Self::Column | Self::Holding => "#aeb6bf",
            Self::Support | Self::Layer => "#555",
            Self::Jack => "#b03a2e",
            Self::Contact | Self::Pad => "#cb6d51",
            Self::Pile => "#d7bd91",
            Self::Basin => "none",
            Self::Water => "#85c1e9",
            Self::Wheel => "#424949",
            Self::Spreader | Self::Crosshead | Self::Bar | Self::Anchor => "#7d6608",
            Self::Weight => "#7f8c8d",
            Self::Catch | Self::Post => "#1e8449",
        }
    }
}
