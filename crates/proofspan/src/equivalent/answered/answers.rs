//! Answers as trees, and so as JSON and Python.

use super::conflict::Conflict;
use super::optimise::{Answer, Optimum};
use super::search::{Choice, Searched};
use crate::equivalent::checked::as_built::AsBuilt;
use crate::equivalent::checked::warnings::Warnings;
use crate::source::{Node, Write};

impl Write for Optimum {
    fn write(&self) -> Node {
        Node::map(vec![
            ("forces", self.forces.write()),
            ("objectives", self.objectives.write()),
            ("unique", self.unique.write()),
            ("freedom", self.freedom.write()),
            ("certificates", self.certificates.write()),
            ("confirmation", self.confirmation.write()),
        ])
    }
}

impl Write for Conflict {
    fn write(&self) -> Node {
        Node::map(vec![
            ("requirements", self.requirements.write()),
            ("bounds", self.bounds.write()),
            ("certificate", self.certificate.write()),
            ("relaxations", self.relaxations.write()),
            ("words", self.words().write()),
        ])
    }
}

impl Write for Answer {
    fn write(&self) -> Node {
        match self {
            Self::Found(found) => Node::map(vec![("found", found.write())]),
            Self::Conflict(conflict) => Node::map(vec![("conflict", conflict.write())]),
        }
    }
}

impl Write for Choice {
    fn write(&self) -> Node {
        Node::map(vec![
            ("number", self.number.write()),
            ("candidates", self.candidates.write()),
            ("objectives", self.objectives.write()),
            ("stages", self.stages.write()),
            ("exact", self.exact.write()),
        ])
    }
}

impl Write for Searched {
    fn write(&self) -> Node {
        Node::map(vec![
            ("best", self.best.write()),
            ("by_number", self.by_number.write()),
            ("bound", self.bound.write()),
            (
                "conflict",
                self.conflict.as_deref().map(Write::write).unwrap_or_else(|| None::<f64>.write()),
            ),
            ("about", self.about.write()),
        ])
    }
}

impl Write for AsBuilt {
    fn write(&self) -> Node {
        Node::map(vec![
            ("each", self.each.write()),
            ("state", self.state.write()),
            ("fidelity", self.fidelity.write()),
            ("limits", self.limits.write()),
            ("raise", self.raise.write()),
            ("raise_exceeds", self.raise_exceeds.write()),
        ])
    }
}

impl Write for Warnings {
    fn write(&self) -> Node {
        Node::map(vec![("notes", self.notes.write()), ("distance", self.distance.write())])
    }
}
