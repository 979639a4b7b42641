//! Every line redone with a pencil: formula, numbers put in, result, source.

use core::fmt::Write as _;
use std::borrow::Cow;

use super::check::Vocabulary;
use super::eval::Formula;
use super::law::{Law, Recorder};
use super::number::{Exact, Noisy, Number};
use super::print::print;
use crate::source::{Node, Write};
use crate::units::{Kind, Quantity, System};

/// One evaluated formula.
#[derive(Clone, PartialEq, Debug)]
pub struct Step {
    /// What is computed.
    pub what: Cow<'static, str>,
    /// The formula in the grammar of this module.
    pub formula: Cow<'static, str>,
    /// Name in the formula, printed symbol, value.
    pub inputs: Vec<(Cow<'static, str>, Cow<'static, str>, Quantity)>,
    /// Printed symbol and value of the result.
    pub result: (Cow<'static, str>, Quantity),
    /// Clause, book or rule.
    pub source: Cow<'static, str>,
}

/// A heading, a step, or a value that a solver found with the residual that checks it.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub enum Item {
    /// What the next steps are about.
    About(String),
    /// An evaluated formula.
    Step(Step),
    /// A value found by root search or optimisation, with the size of what it leaves unmet.
    Residual {
        /// What was found.
        what: String,
        /// Its value.
        value: Quantity,
        /// What remains of the equation or limit it had to meet, relative.
        residual: f64,
    },
}

/// A step whose recorded result is not what its formula gives.
#[derive(Clone, PartialEq, Debug)]
pub struct Mismatch {
    /// What the step computes.
    pub what: String,
    /// The result as recorded, SI.
    pub recorded: f64,
    /// The result of the formula, SI; nothing where it has none.
    pub computed: Option<f64>,
}

/// The steps of a calculation.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Working {
    /// Headings and steps in order.
    pub items: Vec<Item>,
}

impl Recorder for Working {
    fn step(&mut self, law: &'static Law, inputs: &[f64], result: f64) {
        self.items.push(Item::Step(Step {
            what: law.doc.trim().into(),
            formula: law.formula.into(),
            inputs: law
                .symbols
                .iter()
                .zip(inputs)
                .map(|((name, symbol, kind), si)| {
                    ((*name).into(), (*symbol).into(), Quantity::new(*kind, *si))
                })
                .collect(),
            result: (law.result.0.into(), Quantity::new(law.result.1, result)),
            source: law.source.into(),
        }));
    }
    fn about(&mut self, heading: impl FnOnce() -> String) {
        self.items.push(Item::About(heading()));
    }
}

/// Significant digits of printed working.
const DIGITS: usize = 8;
/// How far a recorded result may be from its formula, relative.
const TOLERANCE: f64 = 1e-12;

impl Step {
    fn expression(&self) -> Option<Formula> {
        let names: Vec<(&str, Kind)> =
            self.inputs.iter().map(|(n, _, q)| (n.as_ref(), q.kind)).collect();
        Formula::quantity(&self.formula, &Vocabulary::of(&names), self.result.1.kind).ok()
    }

    /// `V(0) = w * L / 2 = 704 plf * 45 ft / 2 = 15840 lbf`
    #[must_use]
    pub fn line(&self, system: System) -> String {
        let (symbol, result) = &self.result;
        let value = shown(*result, system);
        let Some(formula) = self.expression() else {
            return format!("{symbol} = {} = {value}", self.formula);
        };
        let symbols = print(formula.expr(), &|n, slot| {
            self.inputs.get(slot).map_or_else(|| n.to_owned(), |i| i.1.to_string())
        });
        let numbers = print(formula.expr(), &|n, slot| {
            self.inputs.get(slot).map_or_else(
                || n.to_owned(),
                |i| {
                    let text = shown(i.2, system);
                    if i.2.si < 0.0 { format!("({text})") } else { text }
                },
            )
        });
        if symbols == numbers {
            format!("{symbol} = {symbols} = {value}")
        } else {
            format!("{symbol} = {symbols} = {numbers} = {value}")
        }
    }

    fn mismatch(&self) -> Option<Mismatch> {
        let recorded = self.result.1.si;
        let values: Vec<f64> = self.inputs.iter().map(|i| i.2.si).collect();
        let formula = self.expression();
        let double = formula.as_ref().and_then(|f| {
            let values: Vec<Option<Noisy>> =
                values.iter().map(|v| Some(Noisy::from_f64(*v))).collect();
            f.value(&values).map(|n| n.to_f64())
        });
        // exact where the formula has no root; a formula with a root is checked in doubles
        let exact = formula.as_ref().and_then(|f| {
            let values: Vec<Option<Exact>> =
                values.iter().map(|v| Some(Exact::from_f64(*v))).collect();
            f.value(&values).map(|n| n.to_f64())
        });
        let largest = values
            .iter()
            .fold(recorded.abs(), |m, v| if f64_kind(self, *v) { m.max(v.abs()) } else { m });
        let close = |computed: f64| {
            (computed - recorded).abs() <= TOLERANCE * largest.max(f64::MIN_POSITIVE)
        };
        match exact.or(double) {
            Some(computed) if close(computed) => None,
            computed => Some(Mismatch { what: self.what.to_string(), recorded, computed }),
        }
    }
}

/// Whether an input of this value is of the kind of the result, so that its size bounds cancellation.
fn f64_kind(step: &Step, value: f64) -> bool {
    step.inputs.iter().any(|i| i.2.kind == step.result.1.kind && (i.2.si - value).abs() <= 0.0)
}

/// A value with so many digits that the next line can be reworked from it.
fn shown(quantity: Quantity, system: System) -> String {
    let text = quantity.rounded(system, DIGITS);
    let (number, unit) = text.split_once(' ').unwrap_or((&text, ""));
    let number = if number.contains('.') && !number.contains('e') {
        number.trim_end_matches('0').trim_end_matches('.')
    } else {
        number
    };
    if unit.is_empty() { number.to_owned() } else { format!("{number} {unit}") }
}

impl Working {
    /// A step whose formula stands in an edition file.
    pub fn edition_step(&mut self, step: Step) {
        self.items.push(Item::Step(step));
    }

    /// A value that a solver found.
    pub fn residual(&mut self, what: impl Into<String>, value: Quantity, residual: f64) {
        self.items.push(Item::Residual { what: what.into(), value, residual });
    }

    /// The steps, without headings.
    pub fn steps(&self) -> impl Iterator<Item = &Step> {
        self.items.iter().filter_map(|i| match i {
            Item::Step(step) => Some(step),
            _ => None,
        })
    }

    /// Evaluates every formula again from its recorded inputs, exactly where it has no root,
    /// and lists the steps whose recorded result differs by more than 1e-12.
    #[must_use]
    pub fn recheck(&self) -> Vec<Mismatch> {
        self.steps().filter_map(Step::mismatch).collect()
    }

    /// Plain text.
    #[must_use]
    pub fn text(&self, system: System) -> String {
        let mut out = String::new();
        for item in &self.items {
            let _ = match item {
                Item::About(heading) => writeln!(out, "\n{heading}"),
                Item::Step(step) => {
                    writeln!(out, "  {}\n    {}    [{}]", step.what, step.line(system), step.source)
                }
                Item::Residual { what, value, residual } => {
                    writeln!(
                        out,
                        "  {what}\n    {} (found by search; residual {residual:.1e})",
                        shown(*value, system)
                    )
                }
            };
        }
        out
    }

    /// Markdown.
    #[must_use]
    pub fn markdown(&self, system: System) -> String {
        let mut out = String::new();
        for item in &self.items {
            let _ = match item {
                Item::About(heading) => writeln!(out, "\n**{heading}**\n"),
                Item::Step(step) => writeln!(
                    out,
                    "- {}  \n  `{}`  \n  _{}_",
                    step.what,
                    step.line(system),
                    step.source
                ),
                Item::Residual { what, value, residual } => {
                    writeln!(
                        out,
                        "- {what}  \n  {} _(found by search; residual {residual:.1e})_",
                        shown(*value, system)
                    )
                }
            };
        }
        out
    }
}

impl Write for Working {
    fn write(&self) -> Node {
        let step = |s: &Step| {
            Node::map(vec![
                ("what", Node::text(s.what.clone())),
                ("formula", Node::text(s.formula.clone())),
                (
                    "inputs",
                    Node::map(
                        s.inputs.iter().map(|i| (i.0.as_ref(), Node::quantity(i.2))).collect(),
                    ),
                ),
                ("symbol", Node::text(s.result.0.clone())),
                ("result", Node::quantity(s.result.1)),
                ("source", Node::text(s.source.clone())),
            ])
        };
        Node::new(crate::source::Value::List(self.steps().map(step).collect()))
    }
}
