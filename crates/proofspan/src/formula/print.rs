//! Expression to text, with the names as another sees fit.

use core::fmt::Write as _;

use super::parse::{Compare, Expr, Function, Operator};

/// How tightly an expression binds; a looser one inside a tighter one is bracketed.
pub(super) fn binding(expr: &Expr) -> u8 {
    match expr {
        Expr::Or(..) => 1,
        Expr::And(..) => 2,
        Expr::Not(_) => 3,
        Expr::Compare(..) => 4,
        Expr::Binary(Operator::Add | Operator::Sub, ..) => 5,
        Expr::Binary(..) => 6,
        Expr::Negate(_) => 7,
        Expr::Power(..) => 8,
        _ => 9,
    }
}

/// Prints `expr`; `name` prints a fact.
pub(super) fn print(expr: &Expr, name: &dyn Fn(&str, usize) -> String) -> String {
    let inside = |e: &Expr, least: u8| {
        let text = print(e, name);
        if binding(e) < least { format!("({text})") } else { text }
    };
    match expr {
        Expr::Number(x) => format!("{x}"),
        Expr::Literal(x, row) => format!("{x} {}", row.symbol),
        Expr::Bool(b) => b.to_string(),
        Expr::Name(n, slot) => name(n, *slot),
        Expr::Strip(a, row) => format!("{}[{}]", inside(a, 9), row.symbol),
        Expr::Negate(a) => format!("-{}", inside(a, 7)),
        Expr::Not(a) => format!("not {}", inside(a, 3)),
        Expr::And(a, b) => format!("{} and {}", inside(a, 2), inside(b, 3)),
        Expr::Or(a, b) => format!("{} or {}", inside(a, 1), inside(b, 2)),
        Expr::Compare(compare, a, b) => {
            let sign = match compare {
                Compare::Less => "<",
                Compare::AtMost => "<=",
                Compare::More => ">",
                Compare::AtLeast => ">=",
                Compare::Equal => "==",
                Compare::Unequal => "!=",
            };
            format!("{} {sign} {}", inside(a, 5), inside(b, 5))
        }
        Expr::Binary(operator, a, b) => match operator {
            Operator::Add => format!("{} + {}", inside(a, 5), inside(b, 6)),
            Operator::Sub => format!("{} - {}", inside(a, 5), inside(b, 6)),
            Operator::Mul => format!("{} * {}", inside(a, 6), inside(b, 7)),
            Operator::Div => format!("{} / {}", inside(a, 6), inside(b, 7)),
        },
        Expr::Power(a, n) => format!("{}^{n}", inside(a, 9)),
        Expr::Call(function, list) => {
            let word = match function {
                Function::Min => "min",
                Function::Max => "max",
                Function::Sqrt => "sqrt",
                Function::Abs => "abs",
            };
            let mut text = format!("{word}(");
            for (i, a) in list.iter().enumerate() {
                let _ = write!(text, "{}{}", if i > 0 { ", " } else { "" }, print(a, name));
            }
            text.push(')');
            text
        }
        Expr::If(c, a, b) => {
            format!("if({}, {}, {})", print(c, name), print(a, name), print(b, name))
        }
    }
}
