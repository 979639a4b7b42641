//! Does the formula mix kinds?

use super::parse::{Expr, Function, Operator, RESERVED, units};
use crate::error::{Issue, slug};
use crate::units::{Dimension, Kind, PRODUCTS, QUOTIENTS, nearest};

/// What an expression gives.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Type {
    /// A truth value.
    Bool,
    /// A quantity: its dimension, and its kind where only one fits.
    Quantity(Dimension, Option<Kind>),
}

impl Type {
    /// A quantity of a known kind.
    #[must_use]
    pub const fn of(kind: Kind) -> Self {
        Self::Quantity(kind.dimension(), Some(kind))
    }

    fn words(self) -> String {
        match self {
            Self::Bool => "true or false".to_owned(),
            Self::Quantity(_, Some(kind)) => kind.words().to_owned(),
            Self::Quantity(dimension, None) => dimension.to_string(),
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
    let number = Type::Quantity(Dimension::NONE, None);
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
            Some(Type::Quantity(row.kind.dimension(), single.then_some(row.kind)))
        }
        Expr::Bool(_) => Some(Type::Bool),
        Expr::Name(name, slot) => match vocabulary.slot(name) {
            Some(found) if !RESERVED.contains(&name.as_str()) => {
                *slot = found;
                vocabulary.names.get(found).map(|(_, t)| *t)
            }
            _ => {
                let names = vocabulary.names().map(|(n, _)| n);
                let near = nearest(name, names).unwrap_or_default();
                let list: Vec<&str> = vocabulary.names().map(|(n, _)| n).collect();
                issues.push(
                    Issue::new(
                        slug::FORMULA_NAME,
                        "",
                        format!("`{name}` is not a name of the vocabulary"),
                    )
                    .value(&*name)
                    .limit(list.join(", "))
                    .remedy(format!("did you mean `{near}`?")),
                );
                None
            }
        },
        Expr::Strip(inside, row) => {
            let dimension = quantity(check(inside, vocabulary, issues)?, issues)?.0;
            if dimension == row.kind.dimension() {
                return Some(number);
            }
            mixed(&format!("[{}] strips {}, not {dimension}", row.symbol, row.kind.words()), issues)
        }
        Expr::Negate(inside) => {
            let (dimension, kind) = quantity(check(inside, vocabulary, issues)?, issues)?;
            Some(Type::Quantity(dimension, kind))
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
            let (dimension, kind) = quantity(check(base, vocabulary, issues)?, issues)?;
            let dimension = dimension.power(*n);
            let kind = if *n == 1 { kind } else { only(dimension) };
            Some(Type::Quantity(dimension, kind))
        }
        Expr::Binary(operator, a, b) => {
            let (a, b) = (check(a, vocabulary, issues), check(b, vocabulary, issues));
            let (a, b) = (a?, b?);
            match operator {
                Operator::Add | Operator::Sub => same(a, b, "adds", issues),
                Operator::Mul => product(quantity(a, issues)?, quantity(b, issues)?),
                Operator::Div => quotient(quantity(a, issues)?, quantity(b, issues)?),
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
                Function::Abs => quantity(first, issues).map(|(d, k)| Type::Quantity(d, k)),
                Function::Sqrt => {
                    let (dimension, _) = quantity(first, issues)?;
                    match dimension.root() {
                        Some(root) => Some(Type::Quantity(root, only(root))),
                        None => mixed(&format!("{dimension} has no square root"), issues),
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
        (Type::Quantity(a, ka), Type::Quantity(b, kb)) => {
            a == b && (ka.is_none() || kb.is_none() || ka == kb)
        }
        _ => false,
    };
    if !fits {
        mixed(
            &format!("the formula gives {}; {} is wanted", found.words(), wanted.words()),
            issues,
        );
    }
}

fn mixed(message: &str, issues: &mut Vec<Issue>) -> Option<Type> {
    issues.push(Issue::new(slug::FORMULA_KIND, "", message));
    None
}

fn quantity(found: Type, issues: &mut Vec<Issue>) -> Option<(Dimension, Option<Kind>)> {
    match found {
        Type::Quantity(dimension, kind) => Some((dimension, kind)),
        Type::Bool => {
            mixed("true or false stands where a quantity is wanted", issues);
            None
        }
    }
}

fn truth(found: Type, issues: &mut Vec<Issue>) -> Option<Type> {
    match found {
        Type::Bool => Some(Type::Bool),
        other => mixed(&format!("{} stands where true or false is wanted", other.words()), issues),
    }
}

fn same(a: Type, b: Type, verb: &str, issues: &mut Vec<Issue>) -> Option<Type> {
    let (da, ka) = quantity(a, issues)?;
    let (db, kb) = quantity(b, issues)?;
    let clash =
        matches!((ka, kb), (Some(x), Some(y)) if x != y && !(x.dimension() == Dimension::NONE));
    if da != db || clash {
        return mixed(&format!("the formula {verb} {} and {}", a.words(), b.words()), issues);
    }
    Some(Type::Quantity(da, ka.or(kb)))
}

/// The kind of a dimension, where only one kind has it.
fn only(dimension: Dimension) -> Option<Kind> {
    let mut kinds = Kind::ALL.iter().filter(|k| k.dimension() == dimension);
    let first = kinds.next()?;
    kinds.next().is_none().then_some(*first)
}

const fn plain(side: (Dimension, Option<Kind>)) -> bool {
    matches!(side.1, None | Some(Kind::Ratio))
        && side.0.length == 0
        && side.0.mass == 0
        && side.0.time == 0
        && side.0.temperature == 0
}

fn product(a: (Dimension, Option<Kind>), b: (Dimension, Option<Kind>)) -> Option<Type> {
    let dimension = a.0.times(b.0);
    if plain(a) {
        return Some(Type::Quantity(dimension, b.1));
    }
    if plain(b) {
        return Some(Type::Quantity(dimension, a.1));
    }
    let row = PRODUCTS.iter().find(|(x, y, _)| (Some(*x), Some(*y)) == (a.1, b.1));
    Some(Type::Quantity(dimension, row.map(|r| r.2).or_else(|| only(dimension))))
}

fn quotient(a: (Dimension, Option<Kind>), b: (Dimension, Option<Kind>)) -> Option<Type> {
    let dimension = a.0.over(b.0);
    if plain(b) {
        return Some(Type::Quantity(dimension, a.1));
    }
    let row = QUOTIENTS.iter().find(|(x, y, _)| (Some(*x), Some(*y)) == (a.1, b.1));
    Some(Type::Quantity(dimension, row.map(|r| r.2).or_else(|| only(dimension))))
}
