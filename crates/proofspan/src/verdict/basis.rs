//! Per what, net or total, relative to what: the three tags of every force,
//! shear, moment and deflection.

use core::fmt;

use crate::units::LoadBasis;

/// What one value is counted for.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
#[non_exhaustive]
pub enum MemberUnit {
    /// A strip of slab or of several joists.
    Strip,
    /// One joist of a floor.
    Joist,
    /// One stem of a double tee or of a ribbed slab.
    Stem,
    /// One beam.
    Beam,
    /// One metre of width.
    Metre,
    /// One jack.
    Jack,
    /// One bar of the rig.
    Bar,
}

impl MemberUnit {
    /// The word used in reports, JSON and Python.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Strip => "strip",
            Self::Joist => "joist",
            Self::Stem => "stem",
            Self::Beam => "beam",
            Self::Metre => "metre",
            Self::Jack => "jack",
            Self::Bar => "bar",
        }
    }
}

impl fmt::Display for MemberUnit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "per {}", self.word())
    }
}

/// From where a value is counted.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
#[non_exhaustive]
pub enum Reference {
    /// Against something that does not move.
    Absolute,
    /// Against another level, which moves too.
    RelativeToLevel,
    /// The change since the last reading before the first increment.
    SinceZero,
}

impl Reference {
    /// The words used in reports, JSON and Python.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Absolute => "absolute",
            Self::RelativeToLevel => "relative to another level",
            Self::SinceZero => "since zero",
        }
    }
}

/// The tags of a value.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
#[non_exhaustive]
pub struct Basis {
    /// What the value is counted for.
    pub unit: MemberUnit,
    /// Net, total or in place, where the value is an effect of load.
    pub load: Option<LoadBasis>,
    /// From where it is counted.
    pub reference: Reference,
}

impl Basis {
    /// A value that does not depend on the load.
    #[must_use]
    pub const fn absolute(unit: MemberUnit) -> Self {
        Self { unit, load: None, reference: Reference::Absolute }
    }

    /// An effect of what the rig adds.
    #[must_use]
    pub const fn net(unit: MemberUnit) -> Self {
        Self { unit, load: Some(LoadBasis::Net), reference: Reference::Absolute }
    }

    /// An effect of everything that acts.
    #[must_use]
    pub const fn total(unit: MemberUnit) -> Self {
        Self { unit, load: Some(LoadBasis::Total), reference: Reference::Absolute }
    }

    /// An effect of what was there before the test.
    #[must_use]
    pub const fn in_place(unit: MemberUnit) -> Self {
        Self { unit, load: Some(LoadBasis::InPlace), reference: Reference::Absolute }
    }

    /// A measured change since the zero reading, under what the rig adds.
    #[must_use]
    pub const fn measured(unit: MemberUnit) -> Self {
        Self { unit, load: Some(LoadBasis::Net), reference: Reference::SinceZero }
    }
}

impl fmt::Display for Basis {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.unit)?;
        if let Some(load) = self.load {
            write!(f, ", {}", if load == LoadBasis::InPlace { "in place" } else { load.word() })?;
        }
        if self.reference != Reference::Absolute {
            write!(f, ", {}", self.reference.word())?;
        }
        Ok(())
    }
}
