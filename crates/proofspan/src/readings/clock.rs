//! The time of a row: a number in a unit, or date and time that a zone makes one moment.

use jiff::civil::{Date, DateTime};
use jiff::fmt::temporal::DateTimeParser;
use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp};

use super::cell::{Cell, number};
use super::spec::{Decimal, TimeSpec};
use super::zone::zone;
use crate::units::{Kind, Row};

static PARSER: DateTimeParser = DateTimeParser::new();

/// How the rows of a log say when they were taken.
pub(super) enum Clock {
    /// Numbers in a unit.
    Unit(Row, Decimal),
    /// Date and time; without an offset of their own they are those of this zone.
    Stamps(Option<TimeZone>),
}

/// Why a cell is no time.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum NoTime {
    /// Neither a number nor date and time.
    Unreadable,
    /// Date and time where the layout says a unit, or a number where it says none.
    OtherClock,
    /// Date and time without an offset, and the layout names no zone.
    NoZone,
    /// The clock of this zone shows it twice or never: it was changed then.
    ClockChange,
    /// The offset is not that of the zone which the layout names.
    OtherZone,
}

/// When a row was taken.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) enum Moment {
    /// Seconds from wherever the log counts.
    Seconds(f64),
    /// Nanoseconds since 1970 began, UTC, and whether the cell has its own offset.
    Stamp(i64, bool),
}

impl Clock {
    pub(super) fn of(spec: &TimeSpec, decimal: Decimal) -> Self {
        match spec.unit.as_ref().and_then(|u| Kind::Duration.unit(u)) {
            Some(row) => Self::Unit(row, decimal),
            None => Self::Stamps(spec.zone.as_deref().and_then(zone)),
        }
    }

    /// The unit in which it counts.
    pub(super) const fn unit(&self) -> Option<Row> {
        match self {
            Self::Unit(row, _) => Some(*row),
            Self::Stamps(_) => None,
        }
    }

    pub(super) fn read(&self, cell: &Cell<'_>) -> Result<Moment, NoTime> {
        match (self, cell) {
            (Self::Unit(row, _), Cell::Number(n)) if n.is_finite() => {
                Ok(Moment::Seconds(row.to_si(*n)))
            }
            (Self::Unit(row, decimal), Cell::Text(text)) => match number(text, *decimal) {
                Some(n) => Ok(Moment::Seconds(row.to_si(n))),
                None if is_stamp(text) => Err(NoTime::OtherClock),
                None => Err(NoTime::Unreadable),
            },
            (Self::Stamps(zone), Cell::Text(text)) => stamp(text, zone.as_ref()),
            (Self::Stamps(_), Cell::Number(_)) => Err(NoTime::OtherClock),
            _ => Err(NoTime::Unreadable),
        }
    }
}

fn nanoseconds(stamp: Timestamp) -> Result<i64, NoTime> {
    i64::try_from(stamp.as_nanosecond()).map_err(|_| NoTime::Unreadable)
}

fn stamp(text: &[u8], zone: Option<&TimeZone>) -> Result<Moment, NoTime> {
    let text = text.trim_ascii();
    if let Ok(stamp) = PARSER.parse_timestamp(text) {
        let own = PARSER.parse_pieces(text).ok().and_then(|p| p.to_numeric_offset());
        let other = zone.zip(own).is_some_and(|(zone, own)| zone.to_offset(stamp) != own);
        return if other {
            Err(NoTime::OtherZone)
        } else {
            Ok(Moment::Stamp(nanoseconds(stamp)?, true))
        };
    }
    match PARSER.parse_datetime(text) {
        Ok(local) => Ok(Moment::Stamp(at(local, zone.ok_or(NoTime::NoZone)?)?, false)),
        Err(_) if core::str::from_utf8(text).is_ok_and(|t| t.parse::<f64>().is_ok()) => {
            Err(NoTime::OtherClock)
        }
        Err(_) => Err(NoTime::Unreadable),
    }
}

/// What a clock on the wall showed so many seconds before it showed this date and time.
pub(super) fn day_before(text: &str, seconds: f64) -> Option<Date> {
    let pieces = PARSER.parse_pieces(text.trim()).ok()?;
    let last = pieces.date().to_datetime(pieces.time().unwrap_or_default());
    // a log is shorter than the years of this calendar
    let back = SignedDuration::try_from_secs_f64(seconds).ok()?;
    last.checked_sub(back).ok().map(DateTime::date)
}

fn is_stamp(text: &[u8]) -> bool {
    let text = text.trim_ascii();
    PARSER.parse_timestamp(text).is_ok() || PARSER.parse_datetime(text).is_ok()
}

fn at(local: DateTime, zone: &TimeZone) -> Result<i64, NoTime> {
    let stamp = zone.to_ambiguous_timestamp(local).unambiguous();
    nanoseconds(stamp.map_err(|_| NoTime::ClockChange)?)
}

/// Nanoseconds since 1970 began as a clock on the wall shows them, in a zone.
pub(super) fn of_wall(nanoseconds: i64, zone: &TimeZone) -> Result<i64, NoTime> {
    let stamp = Timestamp::from_nanosecond(i128::from(nanoseconds));
    at(TimeZone::UTC.to_datetime(stamp.map_err(|_| NoTime::Unreadable)?), zone)
}

/// What a clock in this zone shows at a moment.
pub(super) fn wall(nanoseconds: i64, zone: &TimeZone) -> Option<String> {
    let stamp = Timestamp::from_nanosecond(i128::from(nanoseconds)).ok()?;
    Some(zone.to_datetime(stamp).to_string())
}

/// Whether the clocks of two zones show the same at a moment.
pub(super) fn agree(nanoseconds: i64, a: &TimeZone, b: &TimeZone) -> bool {
    Timestamp::from_nanosecond(i128::from(nanoseconds))
        .is_ok_and(|stamp| a.to_offset(stamp) == b.to_offset(stamp))
}
