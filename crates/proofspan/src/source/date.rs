//! Dates as records and logs write them.

use jiff::civil::Date;

use super::read::Reader;
use crate::error::{Issue, slug};

/// A date as records and logs write it.
pub(crate) fn date(text: &str) -> Option<Date> {
    let text = text.trim();
    usual(text).or_else(|| text.parse().ok())
}

/// The date of the usual ten characters.
fn usual(text: &str) -> Option<Date> {
    let [a, b, c, d, b'-', e, f, b'-', g, h] = *text.as_bytes() else { return None };
    let digits = |all: &[u8]| {
        all.iter()
            .try_fold(0_i16, |sum, d| d.is_ascii_digit().then(|| sum * 10 + i16::from(*d - b'0')))
    };
    let day = |all: &[u8]| i8::try_from(digits(all)?).ok();
    Date::new(digits(&[a, b, c, d])?, day(&[e, f])?, day(&[g, h])?).ok()
}

/// Tells a date that cannot be read.
pub(crate) fn unread(reader: &mut Reader, field: &str, text: &str) {
    let path = reader.path_of(field);
    let head: String = text.chars().take(40).collect();
    reader.push(
        Issue::new(slug::CRITERIA_DATE, path, "a date that cannot be read")
            .value(head)
            .limit("year-month-day, for example 2036-06-11"),
    );
}
