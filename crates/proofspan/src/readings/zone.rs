//! The zone of a clock.

use jiff::fmt::temporal::DateTimeParser;
use jiff::tz::TimeZone;

/// An offset from UTC as `+01:00`, or the name of a zone.
pub(super) fn zone(text: &str) -> Option<TimeZone> {
    match text {
        "Z" => Some(TimeZone::UTC),
        // as Python writes a fixed offset
        text if text.len() > 3 && text.starts_with("UTC") => {
            DateTimeParser::new().parse_time_zone(text.trim_start_matches("UTC")).ok()
        }
        text => DateTimeParser::new().parse_time_zone(text).ok(),
    }
}
