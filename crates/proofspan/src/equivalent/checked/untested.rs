//! What does this layout not test? Shear on either side of each support, hogging at each support,
//! sagging in each span: the test against the largest reference, where that is.

use crate::beam::{Beam, Response, Restraint, Side};
use crate::equivalent::asked::effect::Effect;
use crate::equivalent::asked::reference::Reference;
use crate::equivalent::asked::words::name;
use crate::units::{Kind, Length, Quantity};
use crate::verdict::State;

crate::answer! {
    /// One action at a place that a test may reach.
    pub struct Reached {
        /// What it is, in words: "shear at A+", "hogging at B", "sagging in A-B".
        what: String,
        /// Shear or moment.
        effect: Effect,
        /// The largest reference, net, with its sign.
        reference: Quantity,
        /// The test, net, with its sign.
        test: Quantity,
        /// Test over reference, net.
        net: f64,
        /// The same with what is in place.
        total: f64,
        /// Pass where the reference is reached; NotApplicable where it is not: the test says nothing
        /// about it. NotMeaningful where the reference is about zero.
        state: State,
    }
}

/// A reference below this part of the largest of its kind is about zero.
const ABOUT_ZERO: f64 = 1e-6;

/// The actions that the usual failure modes go by, and whether the test reaches them.
#[must_use]
pub fn reached(beam: &Beam, reference: &Reference, test: &Response) -> Vec<Reached> {
    let end = beam.length();
    let slack = end * 1e-9;
    let mut found = Vec::new();
    let scale = |effect: Effect| {
        let sizes = reference.terms.iter().map(|t| effect.largest(&t.1, (Length::ZERO, end)));
        sizes.fold(0.0, f64::max)
    };
    let scales = [scale(Effect::Shear), scale(Effect::Moment)];
    let mut push = |what: String, effect: Effect, asked: f64, got: f64, there: f64| {
        let (kind, scale) = match effect {
            Effect::Shear => (Kind::Force, scales[0]),
            Effect::Moment => (Kind::Moment, scales[1]),
        };
        let nothing = asked.abs() <= ABOUT_ZERO * scale;
        let net = got / asked;
        let state = if nothing {
            State::NotMeaningful
        } else if net >= 1.0 - 1e-9 {
            State::Pass
        } else {
            State::NotApplicable
        };
        found.push(Reached {
            what,
            effect,
            reference: Quantity::new(kind, asked),
            test: Quantity::new(kind, got),
            net,
            total: (got + there) / (asked + there),
            state,
        });
    };
    let largest = |values: &mut dyn Iterator<Item = f64>| {
        values.fold(0.0, |m: f64, v| if v.abs() > m.abs() { v } else { m })
    };
    for (i, support) in beam.supports().iter().enumerate() {
        if support.vertical == Restraint::Free {
            continue;
        }
        let x = support.at;
        for (side, there) in [(Side::Left, x > slack), (Side::Right, x < end - slack)] {
            if there {
                let asked =
                    largest(&mut reference.terms.iter().map(|t| Effect::Shear.at(&t.1, x, side)));
                let (got, own) = (
                    Effect::Shear.at(test, x, side),
                    Effect::Shear.at(&reference.in_place, x, side),
                );
                push(
                    format!("shear at {}{}", name(i), side.sign()),
                    Effect::Shear,
                    asked,
                    got,
                    own,
                );
            }
        }
        let inner = x > slack && x < end - slack;
        if inner || support.rotation != Restraint::Free {
            let side = if x < end - slack { Side::Right } else { Side::Left };
            let at = |a: &Response| Effect::Moment.at(a, x, side);
            let asked = reference.terms.iter().map(|t| at(&t.1)).fold(0.0, f64::min);
            push(
                format!("hogging at {}", name(i)),
                Effect::Moment,
                asked,
                at(test),
                at(&reference.in_place),
            );
        }
    }
    for (from, to) in beam.spans() {
        let asked = reference
            .terms
            .iter()
            .map(|t| t.1.inside().moment_extremes(from, to).max)
            .max_by(|a, b| a.value.si().total_cmp(&b.value.si()));
        let Some(asked) = asked.filter(|a| a.value.si() > 0.0) else { continue };
        let got = test.inside().moment(asked.at, asked.side).si();
        let there = reference.in_place.inside().moment(asked.at, asked.side).si();
        push(
            format!("sagging in {}", span(beam, from, to)),
            Effect::Moment,
            asked.value.si(),
            got,
            there,
        );
    }
    found
}

/// A span by the letters of its supports; an overhang by the one it has.
fn span(beam: &Beam, from: Length, to: Length) -> String {
    let slack = beam.length() * 1e-9;
    let letter = |x: Length| {
        let i = beam.supports().iter().position(|s| (s.at - x).abs() <= slack);
        i.map_or_else(|| "end".to_owned(), name)
    };
    format!("{}-{}", letter(from), letter(to))
}
