//! Every line redone with a pencil: formula, numbers put in, result, source.

use core::fmt::Write as _;
use std::borrow::Cow;
use std::collections::BTreeMap;

use super::check::Vocabulary;
use super::eval::Formula;
use super::latex;
use super::law::{Law, Recorder};
use super::number::{Exact, Noisy, Number};
use super::print::print;
use super::step::Step;
use crate::source::{Node, Value, Write, code, html, markdown};
use crate::units::{Kind, Length, Message, Page, Quantity, System, trimmed};

/// A heading, a step, or a value that a solver found with the residual that checks it.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub enum Item {
    /// What the next steps are about.
    About(Message),
    /// An evaluated formula.
    Step(Step),
    /// A value found by root search or optimisation, with the size of what it leaves unmet.
    Residual {
        /// What was found.
        what: Message,
        /// Its value.
        value: Quantity,
        /// What remains of the equation or limit it had to meet, relative.
        residual: f64,
    },
    /// A value from the linear equations of a member, with how far they are from balance.
    Solved {
        /// What it is.
        what: Message,
        /// Its value.
        value: Quantity,
        /// How far moments and forces are from balance, relative.
        residual: f64,
    },
}

/// A step whose recorded result is not what its formula gives, or a number of the answer that is not
/// what its working comes to.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct Mismatch {
    /// What the step computes, or which number of the answer it is.
    pub what: String,
    /// The result as recorded, or as the answer says it, SI.
    pub recorded: f64,
    /// The result of the formula or of the working, SI; nothing where it has none.
    pub computed: Option<f64>,
}

/// A number of the answer beside what the working comes to.
#[derive(Clone, PartialEq, Debug)]
struct Claim {
    /// Which number of the answer.
    what: String,
    /// The item that gives it, where one does.
    item: Option<usize>,
    /// What was computed again, SI.
    computed: f64,
    /// What the answer says, SI.
    answer: f64,
    /// How far they may be apart, SI.
    tolerance: f64,
}

/// Where the result of one computed line went.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
#[non_exhaustive]
pub struct Went {
    /// The later lines that have it among their numbers, counted from 0 without headings.
    pub next: Vec<usize>,
    /// The numbers of the answer that it is, as the answer calls them: `rig.bearings[0].factor`.
    pub answers: Vec<String>,
}

/// The steps of a calculation, and the numbers of the answer they must come to.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Working {
    /// Headings and steps in order.
    pub items: Vec<Item>,
    claims: Vec<Claim>,
}

impl Recorder for Working {
    fn step(&mut self, law: &'static Law, inputs: &[f64], result: f64) {
        self.items.push(Item::Step(Step {
            what: law.doc.trim().into(),
            formula: one_line(law.formula),
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
    fn about<M: Into<Message>>(&mut self, heading: impl FnOnce() -> M) {
        self.items.push(Item::About(heading().into()));
    }
    fn searched<M: Into<Message>>(
        &mut self,
        what: impl FnOnce() -> M,
        value: Quantity,
        residual: f64,
    ) {
        self.residual(what(), value, residual);
    }
    fn solved<M: Into<Message>>(
        &mut self,
        what: impl FnOnce() -> M,
        value: Quantity,
        residual: f64,
    ) {
        self.items.push(Item::Solved { what: what().into(), value, residual });
    }
    fn keeps(&self) -> bool {
        true
    }
}

/// A formula on one line: a long one is broken where it is written.
fn one_line(formula: &'static str) -> Cow<'static, str> {
    if !formula.contains('\n') {
        return formula.into();
    }
    formula.split_whitespace().collect::<Vec<_>>().join(" ").into()
}

/// Significant digits of printed working.
const DIGITS: usize = 8;
/// How far a recorded result may be from its formula, relative.
const TOLERANCE: f64 = 1e-12;
/// How far a number of the answer may be from its working, relative to the size of what it is a
/// difference of.
const AGREES: f64 = 1e-9;

impl Step {
    fn expression(&self) -> Option<Formula> {
        let names: Vec<(&str, Kind)> =
            self.inputs.iter().map(|(n, _, q)| (n.as_ref(), q.kind)).collect();
        Formula::quantity(&self.formula, &Vocabulary::of(&names), self.result.1.kind).ok()
    }

    /// `V(0) = w * L / 2 = 704 plf * 45 ft / 2 = 15840 lbf`
    #[must_use]
    pub fn line(&self, system: System) -> String {
        let mut sheet = Sheet::new(system);
        sheet.see(self);
        sheet.line(self)
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

/// Below this a length of a working is a deflection, gap or stroke: mm or inches.
const SMALL: f64 = 0.25;

/// The page a working is written on. What is small among lengths is settled symbol by symbol, by
/// the largest value a symbol takes, so that one quantity has one unit from the first line to the last.
struct Sheet<'a> {
    page: Page,
    lengths: BTreeMap<&'a str, f64>,
}

impl<'a> Sheet<'a> {
    fn new(system: System) -> Self {
        Self { page: Page::new(system), lengths: BTreeMap::new() }
    }

    fn of(items: &'a [Item], system: System) -> Self {
        let mut sheet = Self::new(system);
        for item in items {
            match item {
                Item::About(_) => {}
                Item::Step(step) => sheet.see(step),
                Item::Residual { value, .. } | Item::Solved { value, .. } => {
                    sheet.page.see(*value);
                }
            }
        }
        sheet
    }

    fn see(&mut self, step: &'a Step) {
        let (symbol, result) = &step.result;
        let inputs = step.inputs.iter().map(|i| (i.1.as_ref(), i.2));
        for (symbol, q) in inputs.chain([(symbol.as_ref(), *result)]) {
            self.page.see(q);
            if q.kind == Kind::Length {
                let largest = self.lengths.entry(symbol).or_default();
                *largest = largest.max(q.si.abs());
            }
        }
    }

    /// A value with so many digits that the next line can be reworked from it.
    fn value(&self, symbol: &str, q: Quantity) -> String {
        let largest = self.lengths.get(symbol).copied().unwrap_or(q.si.abs());
        let text = if q.kind == Kind::Length && largest > 0.0 && largest < SMALL {
            self.page.small_value(Length::from_si(q.si), DIGITS)
        } else {
            self.page.value(q, DIGITS)
        };
        let (number, unit) = text.split_once(' ').unwrap_or((&text, ""));
        if unit.is_empty() {
            trimmed(number).to_owned()
        } else {
            format!("{} {unit}", trimmed(number))
        }
    }

    fn line(&self, step: &Step) -> String {
        let (symbol, result) = &step.result;
        let value = self.value(symbol, *result);
        let Some(formula) = step.expression() else {
            return format!("{symbol} = {} = {value}", step.formula);
        };
        let symbols = print(formula.expr(), &|n, slot| {
            step.inputs.get(slot).map_or_else(|| n.to_owned(), |i| i.1.to_string())
        });
        let numbers = print(formula.expr(), &|n, slot| {
            step.inputs.get(slot).map_or_else(
                || n.to_owned(),
                |i| {
                    let text = self.value(&i.1, i.2);
                    if text.starts_with('-') { format!("({text})") } else { text }
                },
            )
        });
        if symbols == numbers {
            format!("{symbol} = {symbols} = {value}")
        } else {
            format!("{symbol} = {symbols} = {numbers} = {value}")
        }
    }

    /// The same as aligned equations of LaTeX.
    fn latex(&self, step: &Step) -> String {
        let (symbol, result) = &step.result;
        let value = latex::value(&self.value(symbol, *result));
        let symbol = latex::symbol(symbol);
        let Some(formula) = step.expression() else {
            let formula = latex::words(&step.formula);
            return format!("{symbol} &= \\text{{{formula}}} \\\\\n&= {value}");
        };
        let symbols = latex::latex(formula.expr(), &|n, slot| {
            let symbol = step.inputs.get(slot).map_or(n, |i| i.1.as_ref());
            latex::symbol(symbol)
        });
        let numbers = latex::latex(formula.expr(), &|n, slot| {
            step.inputs.get(slot).map_or_else(
                || latex::symbol(n),
                |i| {
                    let text = latex::value(&self.value(&i.1, i.2));
                    if text.starts_with('-') { format!("({text})") } else { text }
                },
            )
        });
        if symbols == numbers {
            format!("{symbol} &= {symbols} \\\\\n&= {value}")
        } else {
            format!("{symbol} &= {symbols} \\\\\n&= {numbers} \\\\\n&= {value}")
        }
    }
}

impl Item {
    /// Where a value without formula is from and what it leaves unmet, in words.
    fn left(&self, residual: f64) -> String {
        let (from, open) = match self {
            Self::Solved { .. } => ("equations of the member, solved", "out of balance by"),
            _ => ("found by search", "residual"),
        };
        if residual.is_finite() && residual.abs() >= 1e-9 {
            format!("{from}; {open} {residual:.1e}")
        } else if residual.is_finite() {
            format!("{from}; {open} less than 1e-9")
        } else {
            format!("{from}; {open}: not known")
        }
    }
}

/// A line of a working as it is read.
pub(crate) enum Line {
    /// What the next lines are about.
    About(String),
    /// What is computed, the line, its source.
    Step(String, String, String),
}

impl Line {
    /// The line in Markdown.
    pub(crate) fn markdown(&self) -> String {
        match self {
            Self::About(heading) => format!("\n**{}**\n\n", markdown(heading)),
            Self::Step(what, line, source) => {
                let (what, line, source) = (markdown(what), code(line), markdown(source));
                format!("- {what}  \n  {line}  \n  _{source}_\n")
            }
        }
    }
}

impl Working {
    /// Every line, in the units of a reader.
    pub(crate) fn lines(&self, system: System) -> Vec<Line> {
        let sheet = Sheet::of(&self.items, system);
        let line = |item: &Item| match item {
            Item::About(heading) => Line::About(heading.clone().on(&sheet.page).to_string()),
            Item::Step(step) => {
                Line::Step(step.what.to_string(), sheet.line(step), step.source.to_string())
            }
            Item::Residual { what, value, residual } | Item::Solved { what, value, residual } => {
                Line::Step(
                    what.clone().on(&sheet.page).to_string(),
                    sheet.value("", *value),
                    item.left(*residual),
                )
            }
        };
        self.items.iter().map(line).collect()
    }

    /// What is computed, one line after the other: steps, and values found by search.
    fn computed(&self) -> impl Iterator<Item = (usize, &Item)> {
        self.items.iter().enumerate().filter(|(_, item)| !matches!(item, Item::About(_)))
    }

    /// Of every computed line, in order, where its result went. A result goes into a later line that has
    /// it among its numbers, bit for bit and of its kind, unless a line between them computes the same.
    #[must_use]
    pub fn went(&self) -> Vec<Went> {
        let mut went: Vec<Went> = Vec::new();
        let mut last: BTreeMap<(Kind, u64), usize> = BTreeMap::new();
        let mut place: BTreeMap<usize, usize> = BTreeMap::new();
        for (number, (item, line)) in self.computed().enumerate() {
            place.insert(item, number);
            let result = match line {
                Item::Step(step) => {
                    for (_, _, q) in &step.inputs {
                        let from = last.get(&(q.kind, q.si.to_bits())).copied();
                        if let Some(went) = from.and_then(|from| went.get_mut(from))
                            && went.next.last() != Some(&number)
                        {
                            went.next.push(number);
                        }
                    }
                    step.result.1
                }
                Item::Residual { value, .. } | Item::Solved { value, .. } => *value,
                Item::About(_) => continue,
            };
            went.push(Went::default());
            // a zero is the result of too many lines to tell whose it is
            if result.si.abs() > 0.0 {
                last.insert((result.kind, result.si.to_bits()), number);
            }
        }
        for claim in &self.claims {
            let line = claim.item.and_then(|item| place.get(&item));
            if let Some(went) = line.and_then(|line| went.get_mut(*line)) {
                went.answers.push(claim.what.clone());
            }
        }
        went
    }

    /// Every item as it is read: what, line, source; of a heading only the first.
    #[must_use]
    pub fn texts(&self, system: System) -> Vec<[String; 3]> {
        let parts = |line| match line {
            Line::About(heading) => [heading, String::new(), String::new()],
            Line::Step(what, line, source) => [what, line, source],
        };
        self.lines(system).into_iter().map(parts).collect()
    }

    /// A step whose formula stands in an edition file.
    pub fn edition_step(&mut self, step: Step) {
        self.items.push(Item::Step(step));
    }

    /// A value that a solver found.
    pub fn residual(&mut self, what: impl Into<Message>, value: Quantity, residual: f64) {
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
    /// and lists the steps whose recorded result differs by more than 1e-12, and the numbers of
    /// the answer that are not what the working comes to.
    #[must_use]
    pub fn recheck(&self) -> Vec<Mismatch> {
        let claims = self.claims.iter().filter_map(|c| self.broken(c));
        self.steps().filter_map(Step::mismatch).chain(claims).collect()
    }

    fn broken(&self, claim: &Claim) -> Option<Mismatch> {
        let computed = match claim.item.map(|i| self.items.get(i)) {
            Some(Some(Item::Step(step))) => Some(step.result.1.si),
            Some(_) => None,
            None => Some(claim.computed),
        };
        let close = computed.is_some_and(|c| (c - claim.answer).abs() <= claim.tolerance);
        (!close).then(|| Mismatch { what: claim.what.clone(), recorded: claim.answer, computed })
    }

    /// Holds that `answer` is what was computed again, within `size` times 1e-9. Where a step from
    /// `since` on has exactly that result, the step is held to it.
    pub(crate) fn claim(
        &mut self,
        what: impl Into<String>,
        since: usize,
        computed: Quantity,
        answer: f64,
        size: f64,
    ) {
        let gives = |item: &Item| match item {
            Item::Step(s) => {
                s.result.1.kind == computed.kind && s.result.1.si.to_bits() == computed.si.to_bits()
            }
            _ => false,
        };
        let item = self.items.iter().skip(since).position(gives).map(|i| i + since);
        self.claims.push(Claim {
            what: what.into(),
            item,
            computed: computed.si,
            answer,
            tolerance: AGREES * size,
        });
    }

    /// Holds every number of the answer to what was computed again; both as trees of one shape.
    pub(crate) fn claim_all(&mut self, path: &str, since: usize, computed: &Node, answer: &Node) {
        let number = |node: &Node| match node.value {
            Value::Quantity { kind: Some(kind), si, .. } => Some(Quantity::new(kind, si)),
            Value::Number(n) => Some(Quantity::new(Kind::Ratio, n)),
            #[expect(clippy::cast_precision_loss, reason = "counts are small")]
            Value::Count(n) => Some(Quantity::new(Kind::Ratio, n as f64)),
            _ => None,
        };
        match (&computed.value, &answer.value) {
            (Value::Map(_), Value::Map(entries)) => {
                for e in entries {
                    let nothing = Node::new(Value::Null);
                    let there = computed.get(&e.key).unwrap_or(&nothing);
                    let dot = if path.is_empty() { "" } else { "." };
                    self.claim_all(&format!("{path}{dot}{}", e.key), since, there, &e.node);
                }
            }
            (Value::List(a), Value::List(b)) => {
                let nothing = Node::new(Value::Null);
                for (i, answer) in b.iter().enumerate() {
                    let there = a.get(i).unwrap_or(&nothing);
                    self.claim_all(&format!("{path}[{i}]"), since, there, answer);
                }
            }
            _ => match (number(computed), number(answer)) {
                (Some(a), Some(b)) => {
                    let least = if a.kind == Kind::Ratio { 1.0 } else { 0.0 };
                    let size = a.si.abs().max(b.si.abs()).max(least);
                    self.claim(path, since, a, b.si, size);
                }
                (None, Some(b)) => {
                    self.claim(path, usize::MAX, Quantity::new(b.kind, f64::NAN), b.si, 0.0);
                }
                _ => {}
            },
        }
    }

    /// The lines and claims of another working behind these.
    pub(crate) fn append(&mut self, other: Self) {
        let before = self.items.len();
        self.items.extend(other.items);
        self.claims.extend(
            other.claims.into_iter().map(|c| Claim { item: c.item.map(|i| i + before), ..c }),
        );
    }

    /// Plain text.
    #[must_use]
    pub fn text(&self, system: System) -> String {
        let mut out = String::new();
        for line in self.lines(system) {
            let _ = match line {
                Line::About(heading) => writeln!(out, "\n{heading}"),
                Line::Step(what, line, source) => {
                    writeln!(out, "  {what}\n    {line}    [{source}]")
                }
            };
        }
        out
    }

    /// Markdown.
    #[must_use]
    pub fn markdown(&self, system: System) -> String {
        self.lines(system).iter().map(Line::markdown).collect()
    }

    /// HTML: a list of the lines under their headings.
    #[must_use]
    pub fn html(&self, system: System) -> String {
        let mut out = String::new();
        for line in self.lines(system) {
            let _ = match line {
                Line::About(heading) => writeln!(out, "<h4>{}</h4>", html(&heading)),
                Line::Step(what, line, source) => writeln!(
                    out,
                    "<p>{}<br><code>{}</code><br><small>{}</small></p>",
                    html(&what),
                    html(&line),
                    html(&source)
                ),
            };
        }
        out
    }

    /// LaTeX, for the body of a document with the package `amsmath`.
    #[must_use]
    pub fn latex(&self, system: System) -> String {
        let sheet = Sheet::of(&self.items, system);
        let mut out = String::new();
        for item in &self.items {
            let (what, formula, source) = match item {
                Item::About(heading) => {
                    let heading = heading.clone().on(&sheet.page).to_string();
                    let _ = writeln!(out, "\\paragraph{{{}}}", latex::words(&heading));
                    continue;
                }
                Item::Step(step) => {
                    (step.what.to_string(), sheet.latex(step), step.source.to_string())
                }
                Item::Residual { what, value, residual }
                | Item::Solved { what, value, residual } => (
                    what.clone().on(&sheet.page).to_string(),
                    format!("&= {}", latex::value(&sheet.value("", *value))),
                    item.left(*residual),
                ),
            };
            let (what, source) = (latex::words(&what), latex::words(&source));
            let _ = writeln!(
                out,
                "\\noindent {what} \\emph{{({source})}}\n\\begin{{align*}}\n{formula}\n\\end{{align*}}"
            );
        }
        out
    }
}

impl Write for Working {
    fn write(&self) -> Node {
        let went = self.went();
        let mut about = None;
        let mut lines = Vec::new();
        for item in &self.items {
            let (mut entries, source) = match item {
                Item::About(heading) => {
                    about = Some(heading.to_string());
                    continue;
                }
                Item::Step(s) => (
                    vec![
                        ("what", Node::text(s.what.clone())),
                        ("formula", Node::text(s.formula.clone())),
                        (
                            "inputs",
                            Node::map(
                                s.inputs
                                    .iter()
                                    .map(|i| (i.0.as_ref(), Node::quantity(i.2)))
                                    .collect(),
                            ),
                        ),
                        ("symbol", Node::text(s.result.0.clone())),
                        ("result", Node::quantity(s.result.1)),
                    ],
                    s.source.to_string(),
                ),
                Item::Residual { what, value, residual }
                | Item::Solved { what, value, residual } => (
                    vec![
                        ("what", Node::text(what.to_string())),
                        ("result", Node::quantity(*value)),
                        ("residual", Node::number(*residual)),
                    ],
                    item.left(*residual),
                ),
            };
            entries.push(("source", Node::text(source)));
            entries.push(("about", about.write()));
            let went = went.get(lines.len()).cloned().unwrap_or_default();
            entries.push(("next", went.next.write()));
            entries.push(("answers", went.answers.write()));
            lines.push(Node::map(entries));
        }
        Node::new(Value::List(lines))
    }
}
