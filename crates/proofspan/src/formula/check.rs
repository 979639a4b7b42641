//! Does the formula mix kinds?

use super::parse::{Expr, Function, Operator, RESERVED, units};
use crate::error::{Issue, slug};
use crate::units::{Dimension, Kind, Measure, Message, SHOWN, head, nearest};

/// What an expression gives.
#[derive(Clone, Copy, PartialEq, Debug)]
#[non_exhaustive]
pub enum Type {
    /// A truth value.
    Bool,
    /// A quantity.
    Quantity(Measure),
}

impl Type {
    /// A quantity of a known kind.
    #[must_use]
    pub const fn of(kind: Kind) -> Self {
        Self::Quantity(Measure::of(kind))
    }

    fn words(self) -> String {
        match self {
            Self::Bool => "true or false".to_owned(),
            Self::Quantity(measure) => measure.words(),
        }
    }
}

/// The names a formula may use, each with what it is; their order is that of the values.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Vocabulary {
    names: Vec<(String, Type)>,
}

impl Vocabulary {
    /// Names of quantities.
    #[must_use]
    pub fn of(names: &[(&str, Kind)]) -> Self {
        Self { names: names.iter().map(|(n, k)| ((*n).to_owned(), Type::of(*k))).collect() }
    }

    /// The same with names of facts that are true, false or unknown.
    #[must_use]
    pub fn with_facts(mut self, facts: &[&str]) -> Self {
        self.names.extend(facts.iter().map(|f| ((*f).to_owned(), Type::Bool)));
        self
    }

    /// The names in order.
    pub fn names(&self) -> impl Iterator<Item = (&str, Type)> {
        self.names.iter().map(|(n, t)| (n.as_str(), *t))
    }

    /// The place of a name.
    #[must_use]
    pub fn slot(&self, name: &str) -> Option<usize> {
        self.names.iter().position(|(n, _)| n == name)
    }
}

/// Checks `expr` and fills in the slots of its names.
pub(super) fn check(
    expr: &mut Expr,
    vocabulary: &Vocabulary,
    issues: &mut Vec<Issue>,
) -> Option<Type> {
    let number = Type::Quantity(Measure::NUMBER);
    match expr {
        Expr::Number(_) => Some(number),
        Expr::Literal(_, row) => {
            if vocabulary.slot(row.symbol).is_some() {
                let message = format!("`{}` is a unit and a name", row.symbol);
                issues.push(
                    Issue::new(slug::FORMULA_NAME, "", message)
                        .remedy("give the name another spelling"),
                );
            }
            let single = units(row.symbol).nth(1).is_none();
            Some(Type::Quantity(Measure {
                kind: single.then_some(row.kind),
                ..Measure::of(row.kind)
            }))
        }
        Expr::Bool(_) => Some(Type::Bool),
        Expr::Name(name, slot) => match vocabulary.slot(name) {
            Some(found) if !RESERVED.contains(&name.as_str()) => {
                *slot = found;
                vocabulary.names.get(found).map(|(_, t)| *t)
            }
            _ => {
                let names = vocabulary.names().map(|(n, _)| n);
                let near = nearest(name, names);
                let list: Vec<&str> = vocabulary.names().map(|(n, _)| n).collect();
                issues.push(
                    Issue::new(
                        slug::FORMULA_NAME,
                        "",
                        format!("`{}` is not a name of the vocabulary", head(name, SHOWN)),
                    )
                    .value(&*name)
                    .limit(list.join(", "))
                    .meant(near),
                );
                None
            }
        },
        Expr::Strip(inside, row) => {
            let dimension = quantity(check(inside, vocabulary, issues)?, issues)?.dimension;
            if dimension == row.kind.dimension() {
                return Some(number);
            }
            mixed(format!("[{}] strips {}, not {dimension}", row.symbol, row.kind.words()), issues)
        }
        Expr::Negate(inside) => {
            quantity(check(inside, vocabulary, issues)?, issues).map(Type::Quantity)
        }
        Expr::Not(inside) => truth(check(inside, vocabulary, issues)?, issues),
        Expr::And(a, b) | Expr::Or(a, b) => {
            let (a, b) = (check(a, vocabulary, issues), check(b, vocabulary, issues));
            truth(a?, issues).and(truth(b?, issues))
        }
        Expr::Compare(_, a, b) => {
            let (a, b) = (check(a, vocabulary, issues), check(b, vocabulary, issues));
            same(a?, b?, "compares", issues).map(|_| Type::Bool)
        }
        Expr::Power(base, n) => {
            let base = quantity(check(base, vocabulary, issues)?, issues)?;
            possible(base.power(*n), issues)
        }
        Expr::Binary(operator, a, b) => {
            let (a, b) = (check(a, vocabulary, issues), check(b, vocabulary, issues));
            let (a, b) = (a?, b?);
            match operator {
                Operator::Add | Operator::Sub => same(a, b, "adds", issues),
                Operator::Mul => possible(quantity(a, issues)?.times(quantity(b, issues)?), issues),
                Operator::Div => possible(quantity(a, issues)?.over(quantity(b, issues)?), issues),
            }
        }
        Expr::Call(function, arguments) => {
            let types: Vec<Option<Type>> =
                arguments.iter_mut().map(|a| check(a, vocabulary, issues)).collect();
            let mut types = types.into_iter();
            let first = types.next()??;
            match function {
                Function::Min | Function::Max => {
                    types.try_fold(first, |all, next| same(all, next?, "compares", issues))
                }
                Function::Abs => quantity(first, issues).map(Type::Quantity),
                Function::Pow => {
                    let plain = |t: Type| quantity(t, &mut Vec::new()).is_some_and(Measure::plain);
                    match types.next()?? {
                        power if plain(first) && plain(power) => Some(number),
                        power => {
                            let of = format!("{} to the power of {}", first.words(), power.words());
                            mixed(format!("{of}: both must be plain numbers"), issues)
                        }
                    }
                }
                Function::Sqrt => {
                    let inside = quantity(first, issues)?;
                    match inside.root() {
                        Some(root) => Some(Type::Quantity(root)),
                        None => mixed(format!("{} has no square root", inside.dimension), issues),
                    }
                }
            }
        }
        Expr::If(condition, a, b) => {
            let condition = check(condition, vocabulary, issues);
            let (a, b) = (check(a, vocabulary, issues), check(b, vocabulary, issues));
            truth(condition?, issues)?;
            match (a?, b?) {
                (Type::Bool, Type::Bool) => Some(Type::Bool),
                (a, b) => same(a, b, "chooses between", issues),
            }
        }
    }
}

/// Refuses a result that is not what is wanted.
pub(super) fn expect(found: Type, wanted: Type, issues: &mut Vec<Issue>) {
    let fits = match (found, wanted) {
        (Type::Bool, Type::Bool) => true,
        (Type::Quantity(a), Type::Quantity(b)) => {
            a.dimension == b.dimension && (a.kind.is_none() || b.kind.is_none() || a.kind == b.kind)
        }
        _ => false,
    };
    if !fits {
        mixed(format!("the formula gives {}; {} is wanted", found.words(), wanted.words()), issues);
    }
}

fn mixed(message: impl Into<Message>, issues: &mut Vec<Issue>) -> Option<Type> {
    issues.push(Issue::new(slug::FORMULA_KIND, "", message));
    None
}

/// Refuses a power of a dimension that no quantity has.
fn possible(measure: Measure, issues: &mut Vec<Issue>) -> Option<Type> {
    if measure.dimension.within() {
        return Some(Type::Quantity(measure));
    }
    let message = format!("the formula gives {}", measure.dimension);
    let limit = format!("exponents of -{0} to {0}", Dimension::MOST);
    issues.push(Issue::new(slug::FORMULA_POWER, "", message).limit(limit));
    None
}

fn quantity(found: Type, issues: &mut Vec<Issue>) -> Option<Measure> {
    match found {
        Type::Quantity(measure) => Some(measure),
        Type::Bool => {
            mixed("true or false stands where a quantity is wanted", issues);
            None
        }
    }
}

fn truth(found: Type, issues: &mut Vec<Issue>) -> Option<Type> {
    match found {
        Type::Bool => Some(Type::Bool),
        other => mixed(format!("{} stands where true or false is wanted", other.words()), issues),
    }
}

fn same(a: Type, b: Type, verb: &str, issues: &mut Vec<Issue>) -> Option<Type> {
    let (x, y) = (quantity(a, issues)?, quantity(b, issues)?);
    let Some(both) = x.with(y) else {
        return mixed(format!("the formula {verb} {} and {}", a.words(), b.words()), issues);
    };
    Some(Type::Quantity(both))
}
