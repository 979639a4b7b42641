//! Expression, symbol and value to LaTeX.

use core::fmt::Write as _;

use super::parse::{Compare, Expr, Function, Operator};
use super::print::binding;

/// Words in a formula or between formulas, with what LaTeX reads as a command escaped.
pub(super) fn words(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' | '%' | '$' | '#' | '_' | '{' | '}' => {
                out.push('\\');
                out.push(c);
            }
            '\\' => out.push_str(r"\textbackslash{}"),
            '^' => out.push_str(r"\textasciicircum{}"),
            '~' => out.push_str(r"\textasciitilde{}"),
            '<' => out.push_str(r"\ensuremath{<}"),
            '>' => out.push_str(r"\ensuremath{>}"),
            '\n' => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

/// A symbol: `w_net` is `w_{\mathrm{net}}`, and what stands in brackets behind it stays there.
pub(super) fn symbol(text: &str) -> String {
    let (name, tail) = text.find(['(', ' ']).map_or((text, ""), |at| text.split_at(at));
    let (base, below) = name.split_once('_').unwrap_or((name, ""));
    let base =
        if base.chars().count() > 1 { format!(r"\mathrm{{{}}}", words(base)) } else { words(base) };
    let below =
        if below.is_empty() { String::new() } else { format!(r"_{{\mathrm{{{}}}}}", words(below)) };
    let tail = if tail.is_empty() { String::new() } else { format!(r"\text{{{}}}", words(tail)) };
    format!("{base}{below}{tail}")
}

/// A value with its unit: `704 plf` is `704\,\mathrm{plf}`.
pub(super) fn value(text: &str) -> String {
    let (number, unit) = text.split_once(' ').unwrap_or((text, ""));
    let number = match number.split_once(['e', 'E']) {
        Some((digits, power)) => {
            format!(r"{digits} \cdot 10^{{{}}}", power.trim_start_matches('+'))
        }
        None => number.replace('%', r"\%"),
    };
    if unit.is_empty() { number } else { format!(r"{number}\,{}", self::unit(unit)) }
}

/// A unit: `kN·m` is `\mathrm{kN{\cdot}m}`.
fn unit(text: &str) -> String {
    let mut out = String::from(r"\mathrm{");
    let mut chars = text.chars().peekable();
    while let Some(c) = chars.next() {
        match c {
            '·' => out.push_str(r"{\cdot}"),
            '°' => out.push_str(r"{}^{\circ}"),
            '²' => out.push_str("^{2}"),
            '³' => out.push_str("^{3}"),
            '⁴' => out.push_str("^{4}"),
            'µ' | 'μ' => out.push_str(r"\text{\textmu}"),
            '^' => {
                out.push_str("^{");
                while let Some(c) = chars.next_if(|c| c.is_ascii_digit() || *c == '-') {
                    out.push(c);
                }
                out.push('}');
            }
            '%' => out.push_str(r"\%"),
            c => out.push(c),
        }
    }
    out.push('}');
    out
}

/// `expr` as a formula of LaTeX; `name` prints a fact.
pub(super) fn latex(expr: &Expr, name: &dyn Fn(&str, usize) -> String) -> String {
    let inside = |e: &Expr, least: u8| {
        let text = latex(e, name);
        if binding(e) < least { format!(r"\left({text}\right)") } else { text }
    };
    match expr {
        Expr::Number(x) => value(&format!("{x}")),
        Expr::Literal(x, row) => value(&format!("{x} {}", row.symbol)),
        Expr::Bool(b) => format!(r"\text{{{b}}}"),
        Expr::Name(n, slot) => name(n, *slot),
        Expr::Strip(a, row) => format!(r"\frac{{{}}}{{{}}}", latex(a, name), unit(row.symbol)),
        Expr::Negate(a) => format!("-{}", inside(a, 7)),
        Expr::Not(a) => format!(r"\lnot {}", inside(a, 3)),
        Expr::And(a, b) => format!(r"{} \land {}", inside(a, 2), inside(b, 3)),
        Expr::Or(a, b) => format!(r"{} \lor {}", inside(a, 1), inside(b, 2)),
        Expr::Compare(compare, a, b) => {
            let sign = match compare {
                Compare::Less => "<",
                Compare::AtMost => r"\le",
                Compare::More => ">",
                Compare::AtLeast => r"\ge",
                Compare::Equal => "=",
                Compare::Unequal => r"\ne",
            };
            format!("{} {sign} {}", inside(a, 5), inside(b, 5))
        }
        Expr::Binary(operator, a, b) => match operator {
            Operator::Add => format!("{} + {}", inside(a, 5), inside(b, 6)),
            Operator::Sub => format!("{} - {}", inside(a, 5), inside(b, 6)),
            Operator::Mul => format!(r"{} \cdot {}", inside(a, 6), inside(b, 7)),
            Operator::Div => format!(r"\frac{{{}}}{{{}}}", latex(a, name), latex(b, name)),
        },
        Expr::Power(a, n) => {
            let base = match &**a {
                // a value with a unit is one thing under its power
                Expr::Name(..) => format!(r"\left({}\right)", latex(a, name)),
                _ => inside(a, 9),
            };
            format!("{base}^{{{n}}}")
        }
        Expr::Call(function, list) => {
            let (open, close) = match function {
                Function::Min => (r"\min\left(", r"\right)"),
                Function::Max => (r"\max\left(", r"\right)"),
                Function::Sqrt => (r"\sqrt{", "}"),
                Function::Abs => (r"\left|", r"\right|"),
            };
            let mut text = String::from(open);
            for (i, a) in list.iter().enumerate() {
                let _ = write!(text, "{}{}", if i > 0 { ", " } else { "" }, latex(a, name));
            }
            text.push_str(close);
            text
        }
        Expr::If(c, a, b) => format!(
            r"\begin{{cases}} {} & \text{{if }} {} \\ {} & \text{{else}} \end{{cases}}",
            latex(a, name),
            latex(c, name),
            latex(b, name)
        ),
    }
}
