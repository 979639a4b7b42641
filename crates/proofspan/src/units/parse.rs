//! Text to quantity: `"12.5 kN/m"`, `"30'-6 1/2\""`, `"6 1/2 in"`.

use core::fmt;
use std::collections::HashMap;
use std::sync::OnceLock;

use super::kind::Kind;
use super::unit::{Row, TABLE};

/// Why a text is not a quantity of the wanted kind.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub enum Fault {
    /// A number without a unit.
    Missing,
    /// No unit has this symbol; the nearest of the wanted kind is named.
    Unknown {
        /// The symbol as written, its head where it is long.
        symbol: String,
        /// The symbol of the wanted kind that may be meant; empty where none is near.
        nearest: &'static str,
    },
    /// A unit of another kind.
    Kind {
        /// The kinds that this unit can measure.
        found: Vec<Kind>,
    },
    /// Infinite or not a number.
    NonFinite,
    /// The number cannot be read without guessing, for example a decimal comma.
    Number,
    /// A temperature below absolute zero.
    Cold,
}

/// A text that is not a quantity of the wanted kind.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct UnitError {
    /// The text as given, its head where it is long.
    pub text: String,
    /// The kind that was wanted.
    pub wanted: Kind,
    /// What is wrong with it.
    pub fault: Fault,
}

impl UnitError {
    /// The stable code of the fault.
    #[must_use]
    pub const fn code(&self) -> &'static str {
        match self.fault {
            Fault::Missing => "units.missing",
            Fault::Unknown { .. } => "units.unknown",
            Fault::Kind { .. } => "units.dimension",
            Fault::NonFinite => "units.nonfinite",
            Fault::Number => "units.text-number",
            Fault::Cold => "units.absolute-zero",
        }
    }

    /// What to write instead.
    #[must_use]
    pub fn remedy(&self) -> String {
        let symbols: Vec<&str> = self.wanted.units().iter().map(|u| u.symbol).collect();
        match &self.fault {
            Fault::Unknown { nearest, .. } => {
                let units = format!("units of {}: {}", self.wanted.words(), symbols.join(", "));
                if nearest.is_empty() { units } else { format!("did you mean {nearest}? {units}") }
            }
            Fault::NonFinite => "give a finite number".to_owned(),
            Fault::Cold => "give a temperature above -273.15 °C".to_owned(),
            Fault::Number => {
                "write digits with a decimal point and no grouping, like 17.9".to_owned()
            }
            Fault::Missing | Fault::Kind { .. } => {
                format!(
                    "give a {} with one of its units: {}",
                    self.wanted.words(),
                    symbols.join(", ")
                )
            }
        }
    }
}

impl fmt::Display for UnitError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let wanted = self.wanted.words();
        match &self.fault {
            Fault::Missing => write!(f, "`{}` has no unit; {wanted} is wanted", self.text),
            Fault::Unknown { symbol, .. } => {
                write!(f, "`{}`: `{symbol}` is not a unit of {wanted}", self.text)
            }
            Fault::Kind { found } => {
                let found: Vec<&str> = found.iter().map(|k| k.words()).collect();
                write!(f, "`{}` is {}; {wanted} is wanted", self.text, found.join(" or "))
            }
            Fault::NonFinite => write!(f, "`{}` is not a finite number", self.text),
            Fault::Cold => write!(f, "`{}` is below absolute zero", self.text),
            Fault::Number => {
                write!(f, "the number in `{}` cannot be read without guessing", self.text)
            }
        }
    }
}

impl core::error::Error for UnitError {}

/// Reads `text` as a quantity of the wanted kind and gives its SI value.
///
/// # Errors
/// See [`Fault`].
pub fn parse_quantity(text: &str, wanted: Kind) -> Result<f64, UnitError> {
    let fail = |fault| UnitError { text: head(text.trim(), SHOWN), wanted, fault };
    let trimmed = text.trim();
    if wanted == Kind::Length
        && let Some(metres) = feet_and_inches(trimmed)
    {
        return if metres.is_finite() { Ok(metres) } else { Err(fail(Fault::NonFinite)) };
    }
    let (number, symbol) = split_number(trimmed).map_err(&fail)?;
    if !number.is_finite() {
        return Err(fail(Fault::NonFinite));
    }
    if symbol.is_empty() {
        return if wanted == Kind::Ratio { Ok(number) } else { Err(fail(Fault::Missing)) };
    }
    let row = find(symbol, wanted).map_err(&fail)?;
    let si = row.to_si(number);
    match si.is_finite() {
        true if wanted == Kind::Temperature && si < 0.0 => Err(fail(Fault::Cold)),
        true => Ok(si),
        false => Err(fail(Fault::NonFinite)),
    }
}

/// Reads the leading number of `text`; the rest is the unit symbol, trimmed.
fn split_number(text: &str) -> Result<(f64, &str), Fault> {
    let lower = text.to_ascii_lowercase();
    let bare = lower.trim_start_matches(['+', '-']);
    if bare.starts_with("nan") || bare.starts_with("inf") || bare.starts_with("#n/a") {
        return Err(Fault::NonFinite);
    }
    let end = number_end(text);
    let (head, rest) = text.split_at_checked(end).ok_or(Fault::Number)?;
    if rest.starts_with([',', '.']) || (head.is_empty() && !rest.is_empty()) || head.is_empty() {
        return Err(Fault::Number);
    }
    let whole: f64 = head.parse().map_err(|_| Fault::Number)?;
    let rest = rest.trim_start();
    // "6 1/2 in": a whole number followed by a fraction
    if let Some((fraction, after)) = leading_fraction(rest) {
        if head.bytes().all(|b| b.is_ascii_digit()) {
            return Ok((whole + fraction, after.trim()));
        }
        return Err(Fault::Number);
    }
    if rest.starts_with(|c: char| c.is_ascii_digit()) && rest != "1" && !rest.starts_with("1/") {
        return Err(Fault::Number);
    }
    Ok((whole, rest.trim()))
}

/// Where the number at the start of `text` ends, in bytes.
fn number_end(text: &str) -> usize {
    let bytes = text.as_bytes();
    let at = |i: usize| bytes.get(i).copied().unwrap_or(b' ');
    let mut i = usize::from(matches!(at(0), b'+' | b'-'));
    while at(i).is_ascii_digit() {
        i += 1;
    }
    if at(i) == b'.' && (at(i + 1).is_ascii_digit() || i > 0) {
        i += 1;
        while at(i).is_ascii_digit() {
            i += 1;
        }
    }
    if matches!(at(i), b'e' | b'E') {
        let sign = usize::from(matches!(at(i + 1), b'+' | b'-'));
        if at(i + 1 + sign).is_ascii_digit() {
            i += 1 + sign;
            while at(i).is_ascii_digit() {
                i += 1;
            }
        }
    }
    i
}

/// `1/2` and what follows it; the unit `1/m` is not a fraction.
fn leading_fraction(text: &str) -> Option<(f64, &str)> {
    let slash = text.find('/')?;
    let (above, rest) = text.split_at_checked(slash)?;
    let rest = rest.strip_prefix('/')?;
    let end = rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len());
    let (below, after) = rest.split_at_checked(end)?;
    if above.is_empty() || !above.bytes().all(|b| b.is_ascii_digit()) || below.is_empty() {
        return None;
    }
    let (above, below): (f64, f64) = (above.parse().ok()?, below.parse().ok()?);
    (below > 0.0).then_some((above / below, after))
}

/// `30'-6 1/2"`, `5'`, `6 ft 3 in`: metres, or nothing where the text is not of that form.
/// Feet and inches are added in inches first, so that `1'-6"` equals `18 in`.
fn feet_and_inches(text: &str) -> Option<f64> {
    let (sign, text) = match text.strip_prefix('-') {
        Some(rest) => (-1.0, rest),
        None => (1.0, text),
    };
    let text = text.replace(['’', '′'], "'").replace(['”', '″'], "\"");
    let (feet, rest) = match text.split_once('\'').or_else(|| text.split_once("ft")) {
        Some((feet, rest)) => (feet.trim(), rest.trim().trim_start_matches('-').trim()),
        None => return None,
    };
    let feet: f64 = plain(feet)?;
    if rest.is_empty() {
        return text.contains('\'').then_some(sign * feet * 0.3048);
    }
    let inches = rest.strip_suffix('"').or_else(|| rest.strip_suffix("in"))?.trim();
    let inches = match inches.split_once(' ') {
        Some((whole, fraction)) => plain(whole)? + leading_fraction(fraction.trim())?.0,
        None => match leading_fraction(inches) {
            Some((fraction, "")) => fraction,
            _ => plain(inches)?,
        },
    };
    Some(sign * (feet * 12.0 + inches) * 0.0254)
}

/// A number without sign and exponent.
fn plain(text: &str) -> Option<f64> {
    let fine = !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    if fine { text.parse().ok() } else { None }
}

/// The spelling under which symbols are compared: one product dot, no carets.
fn normal(symbol: &str) -> String {
    let mut out = String::with_capacity(symbol.len());
    for c in symbol.chars() {
        match c {
            '·' | '⋅' | '*' | '-' | ' ' => {
                if !out.ends_with('.') {
                    out.push('.');
                }
            }
            '^' => {}
            '²' => out.push('2'),
            '³' => out.push('3'),
            '⁴' => out.push('4'),
            _ => out.push(c),
        }
    }
    out
}

/// Whether `written` is a spelling of this unit.
fn is_spelling(row: &Row, written: &str) -> bool {
    normal(row.symbol) == written || row.aliases.iter().any(|a| normal(a) == written)
}

/// The unit of the wanted kind with this symbol.
fn find(symbol: &str, wanted: Kind) -> Result<Row, Fault> {
    if let Some(row) = wanted.units().iter().find(|r| r.symbol == symbol) {
        return Ok(*row);
    }
    let written = normal(symbol);
    if let Some(row) = wanted.units().iter().find(|r| is_spelling(r, &written)) {
        return Ok(*row);
    }
    let mut found: Vec<Kind> =
        TABLE.iter().filter(|r| is_spelling(r, &written)).map(|r| r.kind).collect();
    found.dedup();
    if !found.is_empty() {
        return Err(Fault::Kind { found });
    }
    let symbols = wanted.units().iter().map(|r| r.symbol);
    Err(Fault::Unknown {
        symbol: head(symbol, SHOWN),
        nearest: nearest(symbol, symbols).unwrap_or(""),
    })
}

/// A text that is a number and a unit: the number, and the rows of that unit, one for each kind it can
/// measure. Nothing for any other text.
pub(super) fn number_and_rows(text: &str) -> Option<(f64, &'static [Row])> {
    static SPELLINGS: OnceLock<HashMap<String, Vec<Row>>> = OnceLock::new();
    let (number, symbol) = split_number(text.trim()).ok()?;
    let spellings = SPELLINGS.get_or_init(|| {
        let mut rows: HashMap<String, Vec<Row>> = HashMap::new();
        for row in TABLE {
            let mut own: Vec<String> = row.aliases.iter().map(|a| normal(a)).collect();
            own.push(normal(row.symbol));
            own.sort_unstable();
            own.dedup();
            own.into_iter().for_each(|spelling| rows.entry(spelling).or_default().push(*row));
        }
        rows
    });
    spellings.get(&normal(symbol)).map(|rows| (number, rows.as_slice()))
}

/// Reads a plain finite number such as `17.9`.
///
/// # Errors
/// [`Fault::Number`] for a decimal comma, grouping or other text,
/// [`Fault::NonFinite`] for an infinite value or not-a-number.
pub fn parse_number(text: &str) -> Result<f64, Fault> {
    match split_number(text.trim())? {
        (number, "") if number.is_finite() => Ok(number),
        (_, "") => Err(Fault::NonFinite),
        _ => Err(Fault::Number),
    }
}

/// So many characters of a value that was given are shown in a message.
pub(crate) const SHOWN: usize = 80;

/// The first `most` characters of a text, with `…` where it is longer.
pub(crate) fn head(text: &str, most: usize) -> String {
    match text.char_indices().nth(most) {
        Some((end, _)) => format!("{}…", text.get(..end).unwrap_or_default()),
        None => text.to_owned(),
    }
}

/// So many letters of two words are compared: no name is longer.
const LETTERS: usize = 64;

/// The letters of a word that are compared.
fn letters(word: &str) -> Vec<char> {
    word.chars().take(LETTERS).flat_map(char::to_lowercase).collect()
}

/// The candidate that `word` may be misspelt: up to one slip, and one more for every four letters, but
/// never as many as it has letters (library rule); ties keep the first. Distance counts inserted, lost,
/// changed and swapped letters, of the first 64 of each word.
pub fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let word = letters(word);
    let slips = (1 + word.len() / 4).min(word.len().saturating_sub(1));
    candidates
        .into_iter()
        .map(|c| (distance(&word, &letters(c)), c))
        .min_by_key(|(d, _)| *d)
        .filter(|(d, _)| *d <= slips)
        .map(|(_, c)| c)
}

/// Optimal string alignment distance.
fn distance(a: &[char], b: &[char]) -> usize {
    let mut before_last: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=b.len()).collect();
    let mut previous: Option<char> = None;
    for (i, &x) in a.iter().enumerate() {
        let mut row = Vec::with_capacity(b.len() + 1);
        row.push(i + 1);
        let mut left: Option<char> = None;
        for (j, &y) in b.iter().enumerate() {
            let get = |v: &[usize], k: usize| v.get(k).copied().unwrap_or(usize::MAX / 2);
            let mut best = (get(&last, j) + usize::from(x != y)).min(get(&last, j + 1) + 1);
            best = best.min(get(&row, j) + 1);
            if left == Some(x) && previous == Some(y) && j > 0 {
                best = best.min(get(&before_last, j - 1) + 1);
            }
            row.push(best);
            left = Some(y);
        }
        previous = Some(x);
        before_last = core::mem::replace(&mut last, row);
    }
    last.last().copied().unwrap_or(a.len())
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::float_cmp, reason = "tests")]
mod tests {
    use super::super::*;
    use super::*;

    #[test]
    fn text_and_product_give_equal_bits() {
        assert_eq!(Length::parse("45 ft").unwrap().si().to_bits(), (45.0 * FT).si().to_bits());
        assert_eq!(LineLoad::parse("12.5 kN/m").unwrap(), 12.5 * KN_PER_M);
        assert_eq!(SecondMoment::parse("16200 in4").unwrap(), 16200.0 * IN4);
        assert_eq!(Moment::parse("3 kN m").unwrap(), Moment::parse("3 kN*m").unwrap());
        assert_eq!(AreaLoad::parse("2 kN/m²").unwrap(), 2.0 * KPA_LOAD);
        assert_eq!(Temperature::parse("20 °C").unwrap().si(), 293.15);
        assert_eq!(Ratio::parse("15 %").unwrap().value(), 0.15);
        assert_eq!(Curvature::parse("2 1/m").unwrap().si(), 2.0);
    }

    #[test]
    fn feet_and_inches_are_read() {
        let inches = |t: &str| Length::parse(t).unwrap().to(IN);
        assert_eq!(inches("30'-6 1/2\""), 366.5);
        assert_eq!(inches("5'"), 60.0);
        assert_eq!(inches("6 ft 3 in"), 75.0);
        assert_eq!(inches("6 1/2 in"), 6.5);
        assert_eq!(inches("-1'-6\""), -18.0);
        assert!((inches("5'-3/4\"") - 60.75).abs() < 1e-12);
    }

    #[test]
    fn refusals_name_what_is_wrong() {
        let code = |t: &str| Length::parse(t).unwrap_err().code();
        assert_eq!(code("45"), "units.missing");
        assert_eq!(code("45 fet"), "units.unknown");
        assert_eq!(code("45 psf"), "units.dimension");
        assert_eq!(code("NaN m"), "units.nonfinite");
        assert_eq!(code("1e400 m"), "units.nonfinite");
        assert_eq!(Temperature::parse("-300 °C").unwrap_err().code(), "units.absolute-zero");
        assert_eq!(Temperature::parse("-460 °F").unwrap_err().code(), "units.absolute-zero");
        assert_eq!(Temperature::parse("0 K").unwrap().si(), 0.0);
        assert_eq!(code("17,9 m"), "units.text-number");
        assert_eq!(code("1.2.3 m"), "units.text-number");
        assert_eq!(code("1 000 m"), "units.text-number");
        assert_eq!(code(""), "units.text-number");
        assert_eq!(code("m"), "units.text-number");
        let error = Length::parse("45 fet").unwrap_err();
        assert!(error.remedy().starts_with("did you mean ft?"), "{}", error.remedy());
        let error = LineLoad::parse("40 psf").unwrap_err();
        assert_eq!(error.to_string(), "`40 psf` is area load; line load is wanted");
    }

    #[test]
    fn a_symbol_shared_by_kinds_is_read_with_the_wanted_kind() {
        assert_eq!(Stress::parse("1 kPa").unwrap().si(), 1000.0);
        assert_eq!(Pressure::parse("1 kPa").unwrap().si(), 1000.0);
        assert_eq!(AreaLoad::parse("1 kPa").unwrap().si(), 1000.0);
        assert_eq!(SpringStiffness::parse("1 kN/m").unwrap().si(), 1000.0);
        assert_eq!(LineLoad::parse("1 kN/m").unwrap().si(), 1000.0);
    }

    #[test]
    fn nearest_counts_a_swap_as_one() {
        assert_eq!(nearest("tf", ["ft", "m", "in"]), Some("ft"));
        assert_eq!(nearest("rigdity", ["rigidity", "span"]), Some("rigidity"));
        assert_eq!(nearest("x", []), None);
        // another word altogether is not guessed at
        assert_eq!(nearest("q", ["m", "ft"]), None);
        assert_eq!(nearest("colour", ["span", "rigidity"]), None);
        assert_eq!(nearest("widht", ["width", "weight"]), Some("width"));
    }

    #[test]
    fn no_two_units_of_a_kind_share_a_spelling() {
        for kind in Kind::ALL {
            let mut seen: Vec<String> = Vec::new();
            for row in kind.units() {
                assert_eq!(row.kind, *kind);
                let mut own: Vec<String> = core::iter::once(row.symbol)
                    .chain(row.aliases.iter().copied())
                    .map(normal)
                    .collect();
                own.dedup();
                for spelling in own {
                    assert!(!seen.contains(&spelling), "{kind:?}: {spelling} twice");
                    seen.push(spelling);
                }
            }
            assert_eq!(
                kind.units().first().map(|r| r.factor),
                Some(1.0),
                "{kind:?} starts with SI"
            );
        }
    }
}
