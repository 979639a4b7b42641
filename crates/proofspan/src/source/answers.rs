//! How verdicts, stops, notes and bases are written to a tree.

use std::borrow::Cow;

use smallvec::SmallVec;

use super::read::Write;
use super::tree::{Node, Value};
use crate::error::Issue;
use crate::units::{InPlace, Kind, LoadBasis, Message, Net, Page, Quantity, Total};
use crate::verdict::{Basis, Clause, Limit, Note, Outcome, Override, State, Stop, Verdict};

impl Write for Quantity {
    fn write(&self) -> Node {
        Node::quantity(*self)
    }
}

impl Node {
    /// An answer as people read it: what is rounding noise beside the largest of its kind is 0
    /// (see [`Page`]). Machine JSON keeps its digits.
    #[must_use]
    pub fn settled(mut self) -> Self {
        let mut page = Page::default();
        self.seen(&mut page);
        self.settle(&page);
        self
    }

    fn settle(&mut self, page: &Page) {
        match &mut self.value {
            Value::Quantity { kind: Some(kind), si, .. } => {
                *si = page.settled(Quantity::new(*kind, *si));
            }
            Value::Number(n) => *n = page.settled(Quantity::new(Kind::Ratio, *n)),
            Value::List(items) => items.iter_mut().for_each(|i| i.settle(page)),
            Value::Map(entries) => entries.iter_mut().for_each(|e| e.node.settle(page)),
            _ => {}
        }
    }

    /// Counts every quantity of an answer on the page it is read on.
    pub(crate) fn seen(&self, page: &mut Page) {
        match &self.value {
            Value::Quantity { kind: Some(kind), si, .. } => page.see(Quantity::new(*kind, *si)),
            Value::List(items) => items.iter().for_each(|i| i.seen(page)),
            Value::Map(entries) => entries.iter().for_each(|e| e.node.seen(page)),
            _ => {}
        }
    }
}

macro_rules! through {
    ($($name:ident),*) => {$(
        impl<Q: Write> Write for $name<Q> {
            fn write(&self) -> Node { self.0.write() }
        }
    )*};
}
through!(Net, Total, InPlace);

impl<A: Write, B: Write> Write for (A, B) {
    fn write(&self) -> Node {
        Node::new(Value::List(vec![self.0.write(), self.1.write()]))
    }
}

impl<A: smallvec::Array> Write for SmallVec<A>
where
    A::Item: Write,
{
    fn write(&self) -> Node {
        Node::new(Value::List(self.iter().map(Write::write).collect()))
    }
}

impl Write for Cow<'_, str> {
    fn write(&self) -> Node {
        Node::text(&**self)
    }
}

impl Write for LoadBasis {
    fn write(&self) -> Node {
        Node::text(self.word())
    }
}

impl Write for usize {
    fn write(&self) -> Node {
        Node::new(Value::Count(u64::try_from(*self).unwrap_or(u64::MAX)))
    }
}

impl Write for State {
    fn write(&self) -> Node {
        Node::text(self.word())
    }
}

impl Write for Basis {
    fn write(&self) -> Node {
        Node::text(self.to_string())
    }
}

impl Write for Limit {
    fn write(&self) -> Node {
        let side = match self {
            Self::AtMost(_) => "at_most",
            Self::AtLeast(_) => "at_least",
            Self::None => return Node::new(Value::Null),
        };
        Node::text(side)
    }
}

impl Write for Clause {
    fn write(&self) -> Node {
        match self {
            Self::Edition(index) => Node::text(format!("criterion {index} of the edition")),
            Self::Named(name) => Node::text(*name),
        }
    }
}

impl Write for Verdict {
    fn write(&self) -> Node {
        let kind = self.demand.kind;
        let finite = |si: f64| si.is_finite().then(|| Quantity::new(kind, si));
        Node::map(vec![
            ("state", self.state.write()),
            ("code", Node::text(self.slug.code())),
            ("of", (!self.of.is_empty()).then(|| self.of.to_string()).write()),
            // where nothing could be compared there is no number
            ("demand", finite(self.demand.si).write()),
            ("limit", self.limit.value().and_then(finite).write()),
            ("limit_side", self.limit.write()),
            ("utilisation", self.utilisation.write()),
            ("expanded_uncertainty", self.uncertainty.and_then(finite).write()),
            ("basis", self.basis.write()),
            ("clause", self.clause.write()),
        ])
    }
}

impl Write for Outcome {
    fn write(&self) -> Node {
        Node::map(vec![("code", self.code.write()), ("guarded", self.guarded.write())])
    }
}

impl Write for Message {
    fn write(&self) -> Node {
        Node::text(self.written())
    }
}

impl Write for Note {
    fn write(&self) -> Node {
        Node::map(vec![
            ("code", Node::text(self.slug.code())),
            ("path", Node::text(self.path.clone())),
            ("message", self.message.write()),
        ])
    }
}

impl Write for Override {
    fn write(&self) -> Node {
        let text = |t: &str| Node::text(t);
        Node::map(vec![
            ("code", text(self.slug.code())),
            ("role", text(&self.role)),
            ("name", text(&self.name)),
            ("reason", text(&self.reason)),
            ("measure", text(&self.measure)),
            ("date", text(&self.date)),
            ("second_signature", text(&self.second_signature)),
            ("design", text(&self.design)),
        ])
    }
}

impl Write for Stop {
    fn write(&self) -> Node {
        Node::map(vec![
            ("code", Node::text(self.slug.code())),
            ("path", Node::text(self.path.clone())),
            ("message", self.message.write()),
            ("liftable", self.liftable().write()),
            ("holds", self.holds().write()),
            ("verdict", self.verdict.write()),
            ("lifted_by", self.lifted.write()),
        ])
    }
}

impl Write for Issue {
    fn write(&self) -> Node {
        Node::map(vec![
            ("code", Node::text(self.slug.code())),
            ("path", Node::text(self.path.clone())),
            ("message", self.message.write()),
            ("value", self.value.write()),
            ("limit", self.limit.write()),
            ("remedy", self.remedy.write()),
            ("source", self.source.write()),
        ])
    }
}
