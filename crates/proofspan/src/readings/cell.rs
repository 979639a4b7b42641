//! One cell of a log: a number, none, or a problem. Never a guess.

use core::num::NonZeroU32;

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

/// A number of plain digits.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct Short {
    pub(super) value: f64,
    /// How many digits stand behind the mark.
    decimals: u32,
    /// How many bytes it takes.
    length: NonZeroU32,
}

// a cell is handed on in two registers
const _: () = assert!(size_of::<Option<Short>>() == 16);

impl Short {
    pub(super) const fn decimals(&self) -> usize {
        self.decimals as usize
    }

    pub(super) const fn length(&self) -> usize {
        self.length.get() as usize
    }
}

/// Digits with at most one mark, up to `end` or the end: where the digits and the power of ten are
/// exact in a double, so is the rounding of their quotient, the same that the standard library
/// comes to.
pub(super) fn short(bytes: &[u8], mark: u8, end: u8) -> Option<Short> {
    let negative = bytes.first() == Some(&b'-');
    let sign = usize::from(negative);
    let digits = bytes.get(sign..)?;
    let of = |whole: u64, decimals: usize, count: usize| {
        let value = whole as f64 / TENS.get(decimals)?;
        let value = if negative { -value } else { value };
        let length = NonZeroU32::new(u32::try_from(sign + count).ok()?)?;
        Some(Short { value, decimals: u32::try_from(decimals).ok()?, length })
    };
    if let Some((whole, decimals, count)) = eight(digits, mark, end) {
        return of(whole, decimals, count);
    }
    let mut whole = 0_u64;
    let mut marked: Option<usize> = None;
    let mut count = digits.len();
    for (i, byte) in digits.iter().enumerate() {
        let digit = byte.wrapping_sub(b'0');
        if digit < 10 {
            if i == MOST {
                return None;
            }
            whole = whole * 10 + u64::from(digit);
        } else if *byte == end {
            count = i;
            break;
        } else if *byte == mark && marked.is_none() && i > 0 && i < MOST {
            marked = Some(i);
        } else {
            return None;
        }
    }
    if count == 0 || whole > 1 << 53 {
        return None;
    }
    of(whole, marked.map_or(0, |at| count - 1 - at), count)
}

/// The same of a number that ends within eight bytes, all of them looked at together: its digits as a whole
/// number, how many of them stand behind the mark, and how many bytes it takes. Nothing where it is longer
/// or no plain number.
fn eight(digits: &[u8], mark: u8, end: u8) -> Option<(u64, usize, usize)> {
    const EACH: u64 = 0x0101_0101_0101_0101;
    let bytes = digits.first_chunk::<8>()?;
    // a digit is its value, all else ten or more, which sets the highest bit of its byte
    let values = u64::from_le_bytes(*bytes) ^ (0x30 * EACH);
    let odd = (((values & (0x7f * EACH)) + 0x76 * EACH) | values) & (0x80 * EACH);
    let place = |odd: u64| (odd.trailing_zeros() / 8) as usize;
    let first = place(odd);
    let at = *bytes.get(first)?;
    if first == 0 {
        return None;
    }
    let (values, decimals, count) = if at == end {
        (values, 0, first)
    } else if at == mark {
        let second = place(odd & (odd - 1));
        if bytes.get(second) != Some(&end) {
            return None;
        }
        // without the mark
        let before = (1_u64 << (8 * first)) - 1;
        ((values & before) | ((values >> 8) & !before), second - 1 - first, second)
    } else {
        return None;
    };
    let length = if at == mark { count - 1 } else { count };
    // eight digits, the first of them nought, pair by pair
    let pairs = values << (8 * (8 - length));
    let pairs = (pairs & (0x0f * EACH)).wrapping_mul(2561) >> 8;
    let fours = (pairs & 0x00ff_00ff_00ff_00ff).wrapping_mul(6_553_601) >> 16;
    let whole = (fours & 0x0000_ffff_0000_ffff).wrapping_mul(42_949_672_960_001) >> 32;
    Some((whole, decimals, count))
}

/// So many digits and mark at most.
const MOST: usize = 16;

/// A plain number. Quick path: what the standard library reads, finite.
pub(super) fn number(cell: &[u8], decimal: Decimal) -> Option<f64> {
    let mark = if decimal == Decimal::Point { b'.' } else { b',' };
    if let Some(short) = short(cell, mark, b'\n').filter(|s| s.length() == cell.len()) {
        return Some(short.value);
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

#[cfg(test)]
mod tests {
    use super::{Decimal, number, short};
    use proptest::prelude::*;

    proptest! {
        /// The quick path is the standard library, bit for bit, and ends where the cell does.
        #[test]
        fn plain_digits_are_read_as_the_standard_library_does(
            sign in "-?", whole in "[0-9]{1,14}", part in "(\\.[0-9]{0,8})?", rest in "(,[0-9.]*)?",
        ) {
            let cell = format!("{sign}{whole}{part}");
            let read: f64 = cell.parse().unwrap_or(f64::NAN);
            prop_assert_eq!(number(cell.as_bytes(), Decimal::Point).map(f64::to_bits), Some(read.to_bits()));
            let line = format!("{cell}{rest}");
            if let Some(found) = short(line.as_bytes(), b'.', b',') {
                prop_assert_eq!((found.value.to_bits(), found.length()), (read.to_bits(), cell.len()));
                prop_assert_eq!(found.decimals(), part.len().saturating_sub(1));
            } else {
                prop_assert!(cell.len() > 16);
            }
        }

        #[test]
        fn what_is_no_plain_number_takes_the_long_way(text in "[-0-9.,+e ]{0,6}") {
            let whole = short(text.as_bytes(), b'.', b'\n');
            if let Some(found) = whole {
                prop_assert_eq!(text.parse::<f64>().ok().map(f64::to_bits), Some(found.value.to_bits()));
            }
        }
    }
}
