//! Text to expression.

use crate::error::{Issue, slug};
use crate::units::{Kind, Row};

/// An arithmetic operator. Closed.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Operator {
    /// `+`
    Add,
    /// `-`
    Sub,
    /// `*`
    Mul,
    /// `/`
    Div,
}

/// A comparison. Closed.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Compare {
    /// `<`
    Less,
    /// `<=`
    AtMost,
    /// `>`
    More,
    /// `>=`
    AtLeast,
    /// `==`
    Equal,
    /// `!=`
    Unequal,
}

/// A function of the grammar.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[non_exhaustive]
pub enum Function {
    /// The smallest argument.
    Min,
    /// The largest argument.
    Max,
    /// The square root.
    Sqrt,
    /// The magnitude.
    Abs,
    /// A plain number to the power of a plain number.
    Pow,
}

/// An expression. Names carry their place in the vocabulary once checked.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub enum Expr {
    /// A plain number.
    Number(f64),
    /// A number with a unit: the number as written and the unit.
    Literal(f64, Row),
    /// `true` or `false`.
    Bool(bool),
    /// A named fact and its slot.
    Name(String, usize),
    /// `l[m]`: the plain number of a quantity in a unit.
    Strip(Box<Expr>, Row),
    /// `-a`
    Negate(Box<Expr>),
    /// `not a`
    Not(Box<Expr>),
    /// `a + b` and its like.
    Binary(Operator, Box<Expr>, Box<Expr>),
    /// `a ^ n`
    Power(Box<Expr>, i8),
    /// `a <= b` and its like.
    Compare(Compare, Box<Expr>, Box<Expr>),
    /// `a and b`
    And(Box<Expr>, Box<Expr>),
    /// `a or b`
    Or(Box<Expr>, Box<Expr>),
    /// `min(a, b)` and its like.
    Call(Function, Vec<Expr>),
    /// `if(c, a, b)`
    If(Box<Expr>, Box<Expr>, Box<Expr>),
}

/// The words that no fact may be called.
pub(super) const RESERVED: &[&str] =
    &["and", "or", "not", "if", "min", "max", "sqrt", "abs", "pow", "true", "false"];

/// The deepest nesting: an unoptimised build parses it within a stack of 2 MiB.
const DEPTH: usize = 64;

/// The longest text of a formula, in bytes.
const LENGTH: usize = 4096;

/// The most numbers, names and brackets in a formula. A flat sum of them is a tree as deep.
const TERMS: usize = 256;

/// Reads `text` as an expression.
///
/// # Errors
/// `formula.syntax` with the column, `formula.depth`, `formula.size`, `formula.power`.
pub(super) fn parse(text: &str) -> Result<Expr, Issue> {
    if text.len() > LENGTH {
        let issue =
            Issue::new(slug::FORMULA_SIZE, "", format!("a formula of {} bytes", text.len()));
        return Err(issue.value(text).limit(format!("at most {LENGTH} bytes")));
    }
    let mut parser = Parser { text, at: 0, depth: 0, terms: 0 };
    let expr = parser.or()?;
    parser.space();
    if parser.at < text.len() { Err(parser.fail("something is left over")) } else { Ok(expr) }
}

struct Parser<'a> {
    text: &'a str,
    at: usize,
    depth: usize,
    terms: usize,
}

impl Parser<'_> {
    fn rest(&self) -> &str {
        self.text.get(self.at..).unwrap_or("")
    }
    fn space(&mut self) {
        self.at += self.rest().len() - self.rest().trim_start().len();
    }
    fn fail(&self, what: &str) -> Issue {
        let column = self.text.get(..self.at).map_or(0, |t| t.chars().count()) + 1;
        Issue::new(slug::FORMULA_SYNTAX, "", format!("column {column}: {what}")).value(self.text)
    }
    fn take(&mut self, symbol: &str) -> bool {
        self.space();
        let found = self.rest().starts_with(symbol);
        if found {
            self.at += symbol.len();
        }
        found
    }
    fn word(&mut self) -> Option<String> {
        self.space();
        let rest = self.rest();
        if !rest.starts_with(|c: char| c.is_alphabetic() || c == '_') {
            return None;
        }
        let end = rest.find(|c: char| !(c.is_alphanumeric() || c == '_')).unwrap_or(rest.len());
        rest.get(..end).map(str::to_owned)
    }
    fn take_word(&mut self, word: &str) -> bool {
        let found = self.word().is_some_and(|w| w == word);
        if found {
            self.at += word.len();
        }
        found
    }
    fn deeper<T>(
        &mut self,
        inside: impl FnOnce(&mut Self) -> Result<T, Issue>,
    ) -> Result<T, Issue> {
        self.depth += 1;
        if self.depth > DEPTH {
            return Err(Issue::new(slug::FORMULA_DEPTH, "", format!("nested deeper than {DEPTH}")));
        }
        let value = inside(self);
        self.depth -= 1;
        value
    }

    fn or(&mut self) -> Result<Expr, Issue> {
        self.deeper(|p| {
            let mut left = p.and()?;
            while p.take_word("or") {
                left = Expr::Or(Box::new(left), Box::new(p.and()?));
            }
            Ok(left)
        })
    }
    fn and(&mut self) -> Result<Expr, Issue> {
        let mut left = self.not()?;
        while self.take_word("and") {
            left = Expr::And(Box::new(left), Box::new(self.not()?));
        }
        Ok(left)
    }
    fn not(&mut self) -> Result<Expr, Issue> {
        if self.take_word("not") {
            return self.deeper(|p| Ok(Expr::Not(Box::new(p.not()?))));
        }
        self.comparison()
    }
    fn comparison(&mut self) -> Result<Expr, Issue> {
        let left = self.sum()?;
        let signs = [
            ("<=", Compare::AtMost),
            (">=", Compare::AtLeast),
            ("==", Compare::Equal),
            ("!=", Compare::Unequal),
            ("<", Compare::Less),
            (">", Compare::More),
        ];
        for (sign, compare) in signs {
            if self.take(sign) {
                let right = self.sum()?;
                return Ok(Expr::Compare(compare, Box::new(left), Box::new(right)));
            }
        }
        Ok(left)
    }
    fn sum(&mut self) -> Result<Expr, Issue> {
        let mut left = self.product()?;
        loop {
            let operator = if self.take("+") {
                Operator::Add
            } else if self.take("-") {
                Operator::Sub
            } else {
                return Ok(left);
            };
            left = Expr::Binary(operator, Box::new(left), Box::new(self.product()?));
        }
    }
    fn product(&mut self) -> Result<Expr, Issue> {
        let mut left = self.negation()?;
        loop {
            let operator = if self.take("*") {
                Operator::Mul
            } else if self.take("/") {
                Operator::Div
            } else {
                return Ok(left);
            };
            left = Expr::Binary(operator, Box::new(left), Box::new(self.negation()?));
        }
    }
    fn negation(&mut self) -> Result<Expr, Issue> {
        if self.take("-") {
            return self.deeper(|p| Ok(Expr::Negate(Box::new(p.negation()?))));
        }
        self.power()
    }
    fn power(&mut self) -> Result<Expr, Issue> {
        let base = self.postfix()?;
        if !self.take("^") {
            return Ok(base);
        }
        self.space();
        let sign = if self.take("-") { -1 } else { 1 };
        let digits: String = self.rest().chars().take_while(char::is_ascii_digit).collect();
        if digits.is_empty() {
            return Err(self.fail("a whole number is wanted after ^"));
        }
        let power: i8 = digits.parse().map_err(|_| {
            let issue = Issue::new(slug::FORMULA_POWER, "", format!("the power {digits}"));
            issue.value(self.text).limit(format!("at most {}", i8::MAX))
        })?;
        self.at += digits.len();
        Ok(Expr::Power(Box::new(base), sign * power))
    }
    fn postfix(&mut self) -> Result<Expr, Issue> {
        let atom = self.atom()?;
        if !self.take("[") {
            return Ok(atom);
        }
        let end = self.rest().find(']').ok_or_else(|| self.fail("a unit in [ ] is not closed"))?;
        let symbol = self.rest().get(..end).unwrap_or("").trim().to_owned();
        let row =
            units(&symbol).next().ok_or_else(|| self.fail(&format!("`{symbol}` is not a unit")))?;
        self.at += end + 1;
        Ok(Expr::Strip(Box::new(atom), row))
    }
    fn atom(&mut self) -> Result<Expr, Issue> {
        self.terms += 1;
        if self.terms > TERMS {
            let message = format!("a formula of more than {TERMS} numbers, names and brackets");
            return Err(Issue::new(slug::FORMULA_SIZE, "", message).value(self.text));
        }
        if self.take("(") {
            let inside = self.or()?;
            return if self.take(")") {
                Ok(inside)
            } else {
                Err(self.fail("a bracket is not closed"))
            };
        }
        self.space();
        if self.rest().starts_with(|c: char| c.is_ascii_digit() || c == '.') {
            return self.number();
        }
        let Some(word) = self.word() else {
            return Err(self.fail("a number, a name or a bracket is wanted"));
        };
        self.at += word.len();
        match word.as_str() {
            "true" => Ok(Expr::Bool(true)),
            "false" => Ok(Expr::Bool(false)),
            "min" => Ok(Expr::Call(Function::Min, self.arguments(2, 8)?)),
            "max" => Ok(Expr::Call(Function::Max, self.arguments(2, 8)?)),
            "sqrt" => Ok(Expr::Call(Function::Sqrt, self.arguments(1, 1)?)),
            "abs" => Ok(Expr::Call(Function::Abs, self.arguments(1, 1)?)),
            "pow" => Ok(Expr::Call(Function::Pow, self.arguments(2, 2)?)),
            "if" => {
                let mut arguments = self.arguments(3, 3)?.into_iter();
                match (arguments.next(), arguments.next(), arguments.next()) {
                    (Some(c), Some(a), Some(b)) => {
                        Ok(Expr::If(Box::new(c), Box::new(a), Box::new(b)))
                    }
                    _ => Err(self.fail("if(c, a, b) takes three arguments")),
                }
            }
            kind if Kind::ALL.iter().any(|k| k.name() == kind) && self.take("::") => {
                self.named_quotient()
            }
            "and" | "or" | "not" => {
                Err(self.fail(&format!("`{word}` stands where a value is wanted")))
            }
            _ => Ok(Expr::Name(word, usize::MAX)),
        }
    }
    /// `SpringStiffness::per(a, b)`, `Energy::of(a, b)`: a quotient or product that native code
    /// asks for by name, because more than one kind fits its dimension.
    fn named_quotient(&mut self) -> Result<Expr, Issue> {
        let word = self.word().unwrap_or_default();
        self.at += word.len();
        let operator = match word.as_str() {
            "per" | "over" | "spread" | "needed" => Operator::Div,
            "of" | "of_stress" => Operator::Mul,
            _ => return Err(self.fail("this named quotient is not known")),
        };
        let mut arguments = self.arguments(2, 2)?.into_iter();
        match (arguments.next(), arguments.next()) {
            (Some(a), Some(b)) => Ok(Expr::Binary(operator, Box::new(a), Box::new(b))),
            _ => Err(self.fail("a named quotient takes two arguments")),
        }
    }
    fn arguments(&mut self, least: usize, most: usize) -> Result<Vec<Expr>, Issue> {
        if !self.take("(") {
            return Err(self.fail("a bracket is wanted after the function"));
        }
        let mut list = vec![self.or()?];
        while self.take(",") {
            list.push(self.or()?);
        }
        if !self.take(")") {
            return Err(self.fail("the list of arguments is not closed"));
        }
        if (least..=most).contains(&list.len()) {
            Ok(list)
        } else {
            Err(self.fail(&format!("{least} to {most} arguments are wanted")))
        }
    }
    fn number(&mut self) -> Result<Expr, Issue> {
        let bytes = self.rest().as_bytes();
        let at = |i: usize| bytes.get(i).copied().unwrap_or(b' ');
        let mut end = 0;
        while at(end).is_ascii_digit() || at(end) == b'_' || at(end) == b'.' {
            end += 1;
        }
        if matches!(at(end), b'e' | b'E') {
            let sign = usize::from(matches!(at(end + 1), b'+' | b'-'));
            if at(end + 1 + sign).is_ascii_digit() {
                end += 2 + sign;
                while at(end).is_ascii_digit() {
                    end += 1;
                }
            }
        }
        let digits = self.rest().get(..end).unwrap_or("").replace('_', "");
        let number: f64 = digits.parse().map_err(|_| self.fail("this is not a number"))?;
        if !number.is_finite() {
            return Err(self.fail("this number is not finite"));
        }
        self.at += end;
        Ok(self.unit().map_or(Expr::Number(number), |row| Expr::Literal(number, row)))
    }
    /// The longest unit symbol that follows a number; `100 psf`, `2 kN/m`, but not `2 L` of a name.
    fn unit(&mut self) -> Option<Row> {
        let start = self.at;
        self.space();
        let rest = self.rest().to_owned();
        let plain = |c: char| c.is_alphanumeric() || matches!(c, '%' | '°' | 'µ' | 'Δ');
        let first = rest.find(|c: char| !plain(c)).unwrap_or(rest.len());
        let longest =
            rest.find(|c: char| !(plain(c) || matches!(c, '/' | '·' | '^'))).unwrap_or(rest.len());
        for end in [longest, first] {
            let symbol = rest.get(..end).unwrap_or("");
            if symbol.is_empty() || RESERVED.contains(&symbol) {
                continue;
            }
            let row = units(symbol).next();
            if let Some(row) = row {
                self.at += end;
                return Some(row);
            }
        }
        self.at = start;
        None
    }
}

/// Every unit with this symbol, one a kind.
pub(super) fn units(symbol: &str) -> impl Iterator<Item = Row> + '_ {
    Kind::ALL.iter().filter_map(move |kind| kind.unit(symbol))
}
