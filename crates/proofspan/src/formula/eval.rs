//! A checked formula, and its value.

use super::check::{Type, Vocabulary, check, expect};
use super::number::{Interval, Noisy, Number};
use super::parse::{Compare, Expr, Function, Operator, parse};
use super::print::print;
use super::step::Step;
use crate::error::{Error, Issue, slug};
use crate::units::{Dimension, Kind, Quantity};

/// A formula whose names and kinds were checked. Values are given as SI magnitudes in the
/// order of the vocabulary; facts as 1 (true) and 0 (false); `None` is unknown.
#[derive(Clone, PartialEq, Debug)]
pub struct Formula {
    text: String,
    expr: Expr,
    kind: Type,
}

/// The two sides of a comparison: `demand` is to be kept on the right side of `limit`.
#[derive(Clone, Copy, PartialEq, Debug)]
#[non_exhaustive]
pub struct Sides {
    /// The left side.
    pub demand: f64,
    /// The right side.
    pub limit: f64,
    /// Whether the demand is to stay below the limit (else above).
    pub at_most: bool,
    /// The kind both sides are of, where only one fits.
    pub kind: Option<Kind>,
}

impl Formula {
    /// A condition.
    ///
    /// # Errors
    /// All problems: syntax, names, kinds.
    pub fn condition(text: &str, vocabulary: &Vocabulary) -> Result<Self, Error> {
        Self::new(text, vocabulary, Type::Bool)
    }

    /// A quantity of the given kind.
    ///
    /// # Errors
    /// All problems: syntax, names, kinds.
    pub fn quantity(text: &str, vocabulary: &Vocabulary, kind: Kind) -> Result<Self, Error> {
        Self::new(text, vocabulary, Type::of(kind))
    }

    fn new(text: &str, vocabulary: &Vocabulary, wanted: Type) -> Result<Self, Error> {
        let mut expr = parse(text)?;
        let mut issues = Vec::new();
        if let Some(found) = check(&mut expr, vocabulary, &mut issues) {
            expect(found, wanted, &mut issues);
        }
        if issues.is_empty() && endless(&expr) {
            let message = "a part of it has no finite number";
            issues.push(Issue::new(slug::FORMULA_NO_NUMBER, "", message));
        }
        let issues: Vec<Issue> =
            issues.into_iter().map(|i| if i.value.is_none() { i.value(text) } else { i }).collect();
        Error::check(issues)?;
        Ok(Self { text: text.to_owned(), expr, kind: wanted })
    }

    /// The text as written.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The expression.
    #[must_use]
    pub const fn expr(&self) -> &Expr {
        &self.expr
    }

    /// The slots of the names used, each once.
    #[must_use]
    pub fn slots(&self) -> Vec<usize> {
        let mut slots = Vec::new();
        collect(&self.expr, &|_| None, &mut slots);
        slots
    }

    /// The slots on which the answer hangs while `values` are what is known: a branch that is not
    /// taken needs nothing.
    pub(crate) fn wants(&self, values: &[Option<f64>]) -> Vec<usize> {
        let known = |slot: usize| values.get(slot).copied().flatten().map(Noisy::from_f64);
        let mut slots = Vec::new();
        collect(&self.expr, &|e| truth::<Noisy>(e, &known), &mut slots);
        slots
    }

    /// Whether the condition holds; `None` where it hangs on something unknown.
    #[must_use]
    pub fn holds(&self, values: &[Option<f64>]) -> Option<bool> {
        truth::<Noisy>(&self.expr, &|slot| values.get(slot).copied().flatten().map(Noisy::from_f64))
    }

    /// Whether the condition holds for every value inside the intervals; `None` where
    /// that differs or hangs on something unknown.
    #[must_use]
    pub fn holds_within(&self, values: &[Option<Interval>]) -> Option<bool> {
        truth::<Interval>(&self.expr, &|slot| values.get(slot).copied().flatten())
    }

    /// The value of the quantity; `None` where it hangs on something unknown or does not exist.
    #[must_use]
    pub fn value<N: Number>(&self, values: &[Option<N>]) -> Option<N> {
        number(&self.expr, &|slot| values.get(slot).cloned().flatten())
    }

    /// The two sides of a condition that is one comparison.
    #[must_use]
    pub fn sides(&self, values: &[Option<f64>]) -> Option<Sides> {
        let Expr::Compare(compare, left, right) = &self.expr else { return None };
        let at_most = match compare {
            Compare::Less | Compare::AtMost => true,
            Compare::More | Compare::AtLeast => false,
            Compare::Equal | Compare::Unequal => return None,
        };
        let get = |slot: usize| values.get(slot).copied().flatten().map(Noisy::from_f64);
        let (demand, limit) =
            (number::<Noisy>(left, &get)?.value, number::<Noisy>(right, &get)?.value);
        Some(Sides { demand, limit, at_most, kind: None })
    }

    /// Each side of a condition that is one comparison, as a step of a working: a limit that is
    /// calculated, a demand that is more than a reading.
    pub(crate) fn compared(&self, values: &[Option<f64>], names: &[(&str, Kind)]) -> Vec<Step> {
        let (Expr::Compare(_, left, right), Some(sides)) = (&self.expr, self.sides(values)) else {
            return Vec::new();
        };
        let vocabulary = Vocabulary::of(names);
        let side = |symbol: &'static str, expr: &Expr, value: f64| {
            if matches!(expr, Expr::Name(..)) {
                return None;
            }
            let text = print(expr, &|name, _| name.to_owned());
            let fits = |kind: &Kind| Self::quantity(&text, &vocabulary, *kind).is_ok();
            let kind = [Kind::Length, Kind::Ratio].into_iter().find(fits)?;
            let mut slots = Vec::new();
            collect(expr, &|_| None, &mut slots);
            let input = |slot: &usize| {
                let (name, kind) = names.get(*slot)?;
                let si = values.get(*slot).copied().flatten()?;
                let name = (*name).to_owned();
                Some((name.clone().into(), name.into(), Quantity::new(*kind, si)))
            };
            Some(Step {
                what: symbol.into(),
                inputs: slots.iter().map(input).collect::<Option<_>>()?,
                result: (symbol.into(), Quantity::new(kind, value)),
                formula: text.into(),
                source: "".into(),
            })
        };
        let sides = [side("demand", left, sides.demand), side("limit", right, sides.limit)];
        sides.into_iter().flatten().collect()
    }

    /// The dimension of the result.
    #[must_use]
    pub const fn dimension(&self) -> Dimension {
        match self.kind {
            Type::Bool => Dimension::NONE,
            Type::Quantity(measure) => measure.dimension,
        }
    }
}

/// The slots an expression uses, each once; of an `if` whose condition `holds` answers, the branch
/// taken and the condition.
fn collect(expr: &Expr, holds: &dyn Fn(&Expr) -> Option<bool>, slots: &mut Vec<usize>) {
    match expr {
        Expr::Number(_) | Expr::Literal(..) | Expr::Bool(_) => {}
        Expr::Name(_, slot) => {
            if !slots.contains(slot) {
                slots.push(*slot);
            }
        }
        Expr::Strip(a, _) | Expr::Negate(a) | Expr::Not(a) | Expr::Power(a, _) => {
            collect(a, holds, slots);
        }
        Expr::Binary(_, a, b) | Expr::Compare(_, a, b) | Expr::And(a, b) | Expr::Or(a, b) => {
            collect(a, holds, slots);
            collect(b, holds, slots);
        }
        Expr::Call(_, list) => list.iter().for_each(|a| collect(a, holds, slots)),
        Expr::If(c, a, b) => {
            collect(c, holds, slots);
            let taken = holds(c);
            if taken != Some(false) {
                collect(a, holds, slots);
            }
            if taken != Some(true) {
                collect(b, holds, slots);
            }
        }
    }
}

/// Three-valued logic (Kleene): what is unknown stays unknown.
/// Whether a part that hangs on no name has no finite number.
fn endless(expr: &Expr) -> bool {
    let mut names = Vec::new();
    collect(expr, &|_| None, &mut names);
    match expr {
        Expr::Bool(_) | Expr::Name(..) => false,
        Expr::Compare(_, a, b) | Expr::And(a, b) | Expr::Or(a, b) => endless(a) || endless(b),
        Expr::Not(a) => endless(a),
        Expr::If(c, a, b) => endless(c) || endless(a) || endless(b),
        _ if names.is_empty() => {
            !number::<Noisy>(expr, &|_| None).is_some_and(|n| n.value.is_finite())
        }
        Expr::Binary(_, a, b) => endless(a) || endless(b),
        Expr::Strip(a, _) | Expr::Negate(a) | Expr::Power(a, _) => endless(a),
        Expr::Call(_, list) => list.iter().any(endless),
        Expr::Number(_) | Expr::Literal(..) => false,
    }
}

fn truth<N: Number>(expr: &Expr, get: &dyn Fn(usize) -> Option<N>) -> Option<bool> {
    match expr {
        Expr::Bool(b) => Some(*b),
        Expr::Name(_, slot) => get(*slot).map(|n| n.to_f64() > 0.5),
        Expr::Not(a) => truth(a, get).map(|b| !b),
        Expr::And(a, b) => match (truth(a, get), truth(b, get)) {
            (Some(false), _) | (_, Some(false)) => Some(false),
            (Some(true), Some(true)) => Some(true),
            _ => None,
        },
        Expr::Or(a, b) => match (truth(a, get), truth(b, get)) {
            (Some(true), _) | (_, Some(true)) => Some(true),
            (Some(false), Some(false)) => Some(false),
            _ => None,
        },
        Expr::If(c, a, b) => match truth(c, get) {
            Some(true) => truth(a, get),
            Some(false) => truth(b, get),
            None => {
                let (a, b) = (truth(a, get), truth(b, get));
                if a == b { a } else { None }
            }
        },
        Expr::Compare(compare, a, b) => {
            let (a, b) = (number(a, get)?, number(b, get)?);
            match compare {
                Compare::Less => a.below(&b),
                Compare::AtMost => b.below(&a).map(|x| !x),
                Compare::More => b.below(&a),
                Compare::AtLeast => a.below(&b).map(|x| !x),
                Compare::Equal => a.equal(&b),
                Compare::Unequal => a.equal(&b).map(|x| !x),
            }
        }
        _ => None,
    }
}

fn number<N: Number>(expr: &Expr, get: &dyn Fn(usize) -> Option<N>) -> Option<N> {
    match expr {
        Expr::Number(x) => Some(N::from_f64(*x)),
        Expr::Literal(x, row) => Some(N::from_f64(row.to_si(*x))),
        Expr::Name(_, slot) => get(*slot),
        Expr::Strip(a, row) => number(a, get)?.div(&N::from_f64(row.factor)),
        Expr::Negate(a) => Some(N::from_f64(0.0).sub(&number(a, get)?)),
        Expr::Binary(operator, a, b) => {
            let (a, b) = (number(a, get)?, number(b, get)?);
            match operator {
                Operator::Add => Some(a.add(&b)),
                Operator::Sub => Some(a.sub(&b)),
                Operator::Mul => Some(a.mul(&b)),
                Operator::Div => a.div(&b),
            }
        }
        Expr::Power(base, n) => {
            let base = number(base, get)?;
            let mut result = N::from_f64(1.0);
            for _ in 0..n.unsigned_abs() {
                result = result.mul(&base);
            }
            if *n < 0 { N::from_f64(1.0).div(&result) } else { Some(result) }
        }
        Expr::Call(function, list) => {
            let mut values = list.iter().map(|a| number(a, get));
            let first = values.next()??;
            match function {
                Function::Abs => Some(first.abs()),
                Function::Sqrt => first.sqrt(),
                Function::Pow => first.pow(&values.next()??),
                Function::Min => values.try_fold(first, |m, v| Some(m.min(&v?))),
                Function::Max => values.try_fold(first, |m, v| Some(m.max(&v?))),
            }
        }
        Expr::If(c, a, b) => match truth(c, get)? {
            true => number(a, get),
            false => number(b, get),
        },
        _ => None,
    }
}
