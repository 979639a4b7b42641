//! One cell of a log: a number, none, or a problem. Never a guess.

use super::spec::{Decimal, LogSpec};
use crate::error::{Issue, slug};
use crate::units::Row;

/// A cell as its source gives it.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) enum Cell<'a> {
    Text(&'a [u8]),
    Number(f64),
    /// The source says that there is none.
    Nothing,
    /// What is no cell: this.
    Other(&'static str),
}

/// The text of a cell may be so long.
pub(super) const LONGEST: usize = 1 << 12;

impl Cell<'_> {
    /// How it looks in a message.
    pub(super) fn shown(&self) -> String {
        match self {
            Self::Text(text) => quoted(text),
            Self::Number(n) => n.to_string(),
            Self::Nothing => String::new(),
            Self::Other(what) => (*what).to_owned(),
        }
    }
}

/// The head of a cell.
pub(super) fn quoted(cell: &[u8]) -> String {
    String::from_utf8_lossy(cell.get(..160).unwrap_or(cell)).trim().chars().take(40).collect()
}

/// Powers of ten that a double holds exactly.
const TENS: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16,
    1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
];

/// Digits with at most one mark: where the digits and the power of ten are exact in a double, so
/// is the rounding of their quotient, the same that the standard library comes to.
fn short(cell: &[u8], mark: u8) -> Option<f64> {
    let (negative, digits) = match cell.split_first()? {
        (b'-', rest) => (true, rest),
        _ => (false, cell),
    };
    if digits.len() > 16 {
        return None;
    }
    let mut whole = 0_u64;
    let mut after: Option<usize> = None;
    for (i, byte) in digits.iter().enumerate() {
        let digit = byte.wrapping_sub(b'0');
        if digit < 10 {
            whole = whole * 10 + u64::from(digit);
        } else if *byte == mark && after.is_none() {
            after = Some(digits.len() - 1 - i);
        } else {
            return None;
        }
    }
    let marks = usize::from(after.is_some());
    if digits.len() == marks || digits.first() == Some(&mark) || whole > 1 << 53 {
        return None;
    }
    let value = whole as f64 / TENS.get(after.unwrap_or(0))?;
    Some(if negative { -value } else { value })
}

/// A plain number. Quick path: what the standard library reads, finite.
pub(super) fn number(cell: &[u8], decimal: Decimal) -> Option<f64> {
    let mark = if decimal == Decimal::Point { b'.' } else { b',' };
    if let Some(value) = short(cell, mark) {
        return Some(value);
    }
    let text = core::str::from_utf8(cell).ok()?.trim();
    let first = text.bytes().next()?;
    if !(first.is_ascii_digit() || matches!(first, b'-' | b'+' | b'.')) {
        return None;
    }
    let value: f64 = match decimal {
        Decimal::Point => text.parse().ok()?,
        // where the comma is the decimal mark a point could only group thousands
        Decimal::Comma if text.contains('.') => return None,
        Decimal::Comma => text.replace(',', ".").parse().ok()?,
    };
    value.is_finite().then_some(value)
}

/// A text that is not a plain number: missing, a number with its unit, or a problem at `path`.
pub(super) fn odd(
    cell: &[u8],
    spec: &LogSpec,
    row: Row,
    path: impl Fn() -> String,
) -> Result<Option<f64>, Issue> {
    if cell.len() > LONGEST {
        return Err(Issue::new(slug::READINGS_TOO_LONG, path(), "the cell is too long")
            .value(quoted(cell))
            .limit(format!("a cell of {LONGEST} bytes")));
    }
    let Ok(text) = core::str::from_utf8(cell).map(str::trim) else {
        return Err(Issue::new(slug::READINGS_ENCODING, path(), "the cell is not UTF-8 text")
            .value(quoted(cell)));
    };
    if spec.missing.iter().any(|m| m == text) {
        return Ok(None);
    }
    let lower = text.to_ascii_lowercase();
    if matches!(
        lower.as_str(),
        "nan" | "inf" | "-inf" | "+inf" | "infinity" | "ol" | "#n/a" | "n/a"
    ) || lower.starts_with("#")
    {
        return Err(Issue::new(slug::UNITS_NONFINITE, path(), "the cell holds no finite number")
            .value(quoted(cell))
            .remedy("correct it, or list the text under `missing`"));
    }
    // a number with a unit behind it
    let split = text
        .find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '-' | '+' | 'e' | 'E')))
        .unwrap_or(text.len());
    if let Some((head, unit)) = text.split_at_checked(split) {
        let unit = unit.trim();
        if let (Ok(n), false) =
            (head.trim().parse::<f64>(), unit.is_empty() || unit.starts_with(','))
        {
            if unit == row.symbol || row.aliases.contains(&unit) {
                return Ok(Some(n));
            }
            let message = format!("the column is in {}", row.symbol);
            return Err(Issue::new(slug::UNITS_MIXED_COLUMN, path(), message)
                .value(quoted(cell))
                .limit(row.symbol));
        }
    }
    let message = "the cell cannot be read as a number without guessing";
    Err(Issue::new(slug::UNITS_TEXT_NUMBER, path(), message).value(quoted(cell)).remedy(match spec
        .decimal
    {
        Decimal::Point => "write a decimal point and no grouping, or declare `decimal`: \"comma\"",
        Decimal::Comma => "write a decimal comma and no grouping: a point could be either",
    }))
}
