//! What must be on record before the field sheet is printed. What is missing stops
//! the sheet, not the calculation (library rule).

use jiff::civil::Date;

use crate::error::{Issue, Slug, slug};
use crate::source::{Reader, date, unread};

use crate::verdict::Stop;

crate::choice! {
    /// The state of a duty.
    pub enum Confirmed ("state of a duty", source::SOURCE_CHOICE) {
        /// Done and signed.
        Done = "done",
        /// Not done.
        NotDone = "not_done",
        /// Not needed here; the note says why.
        NotNeeded = "not_needed",
    }
}

crate::record! {
    /// A signed statement on one duty.
    pub struct Confirmation {
        /// Done, not done, or not needed.
        state: Confirmed,
        /// The role of the person who signs.
        by: String,
        /// The date of the signature.
        date: String,
        /// Where the record is kept, or why it is not needed.
        note: Option<String>,
    }
    rules { dated[state, date]; }
}

/// What is signed has a date; what is not done may be without one.
fn dated(reader: &mut Reader, state: &Confirmed, text: &String) {
    let blank = *state == Confirmed::NotDone && text.trim().is_empty();
    if !blank && date(text).is_none() {
        unread(reader, "date", text);
    }
}

crate::record! {
    /// The records asked for before a test. A field that is left out counts as not done.
    pub struct SiteRecords {
        /// Condition survey of the member, the reaction member and the floors that carry weights.
        survey: Option<Confirmation>,
        /// Consent of owner, authority, engineer of record and insurer; method statement; rescue plan.
        consent: Option<Confirmation>,
        /// Two persons for every hour of the hold, relieved at most every eight hours.
        watch: Option<Confirmation>,
        /// Nobody under, on or in line with the rig; head count before each step.
        zone_clear: Option<Confirmation>,
        /// Tendons, bars and services located by scan before any hole, anchor or cut.
        tendons_located: Option<Confirmation>,
        /// Repairs, adhesive, grout and wraps at strength before the test date.
        strength_ready: Option<Confirmation>,
        /// The day of the test, as planned; asked for where something must cure.
        test_day: Option<String>,
    }
    rules { planned[test_day]; }
}

fn planned(reader: &mut Reader, day: &Option<String>) {
    if let Some(text) = day.as_ref().filter(|text| date(text).is_none()) {
        unread(reader, "test_day", text);
    }
}

impl SiteRecords {
    /// A set of records in which nothing is confirmed.
    #[must_use]
    pub const fn none() -> Self {
        Self {
            survey: None,
            consent: None,
            watch: None,
            zone_clear: None,
            tendons_located: None,
            strength_ready: None,
            test_day: None,
        }
    }

    /// The day of the test, as planned.
    pub(crate) fn test_day(&self) -> Option<Date> {
        date(self.test_day.as_ref()?)
    }

    /// The duties that were signed after a day (year-month-day), by the names of their fields.
    pub(crate) fn after(&self, day: Date) -> Vec<Issue> {
        let duties = [
            ("survey", &self.survey),
            ("consent", &self.consent),
            ("watch", &self.watch),
            ("zone_clear", &self.zone_clear),
            ("tendons_located", &self.tendons_located),
            ("strength_ready", &self.strength_ready),
        ];
        let late = duties.into_iter().filter_map(|(field, record)| {
            let record = record.as_ref().filter(|r| r.state == Confirmed::Done)?;
            let signed = date(&record.date).filter(|signed| *signed > day)?;
            let message = "signed after the last day of the test";
            let issue = Issue::new(slug::CRITERIA_DATE, format!("records.{field}.date"), message);
            Some(
                issue
                    .value(signed.to_string())
                    .limit(format!("{day} or before"))
                    .remedy("look at both dates"),
            )
        });
        late.collect()
    }

    /// The stops of what is not confirmed.
    #[must_use]
    pub fn stops(&self) -> Vec<Stop> {
        let duties: [(&str, &Option<Confirmation>, Slug, bool); 6] = [
            ("survey", &self.survey, slug::SCOPE_SURVEY_MISSING, false),
            ("consent", &self.consent, slug::PROTOCOL_CONSENT_MISSING, false),
            ("watch", &self.watch, slug::PROTOCOL_WATCH_NOT_STAFFED, false),
            ("zone_clear", &self.zone_clear, slug::PROTOCOL_PEOPLE_IN_ZONE, false),
            ("tendons_located", &self.tendons_located, slug::PROTOCOL_TENDONS_NOT_LOCATED, true),
            ("strength_ready", &self.strength_ready, slug::PROTOCOL_STRENGTH_NOT_READY, true),
        ];
        duties
            .into_iter()
            .filter(|(_, record, _, may_be_unneeded)| match record {
                None => true,
                // what nobody signed counts as not done
                Some(record) if record.by.trim().is_empty() => true,
                Some(record) => match record.state {
                    Confirmed::Done => false,
                    Confirmed::NotDone => true,
                    // "not needed" without a reason counts as not done
                    Confirmed::NotNeeded => {
                        let why = record.note.as_deref().unwrap_or_default();
                        !may_be_unneeded || why.trim().is_empty()
                    }
                },
            })
            .map(|(field, record, slug, _)| {
                let state = record.as_ref().map_or("left out", |r| match r.by.trim() {
                    "" => "not signed",
                    _ => r.state.word(),
                });
                Stop::new(
                    slug,
                    format!("records.{field}"),
                    format!("{}; the record says: {state}", slug.gist()),
                )
            })
            .collect()
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;
    use crate::source::read_json;

    fn codes(text: &str) -> Vec<&'static str> {
        let records: SiteRecords = read_json(text).unwrap();
        records.stops().iter().map(|s| s.slug.code()).collect()
    }

    #[test]
    fn what_is_left_out_stops_the_field_sheet() {
        assert_eq!(
            codes("{}"),
            [
                "scope.survey-missing",
                "protocol.consent-missing",
                "protocol.watch-not-staffed",
                "protocol.people-in-zone",
                "protocol.tendons-not-located",
                "protocol.strength-not-ready"
            ]
        );
        assert_eq!(SiteRecords::none().stops().len(), 6);
    }

    #[test]
    fn not_needed_wants_a_reason_and_some_duties_are_always_needed() {
        let say = |field: &str, rest: &str| {
            codes(&format!(r#"{{"{field}":{{"by":"director","date":"2026-05-04",{rest}}}}}"#))
        };
        assert!(
            !say("strength_ready", r#""state":"done""#).contains(&"protocol.strength-not-ready")
        );
        assert!(
            !say("strength_ready", r#""state":"not_needed","note":"no repair""#)
                .contains(&"protocol.strength-not-ready")
        );
        assert!(
            say("strength_ready", r#""state":"not_needed""#)
                .contains(&"protocol.strength-not-ready")
        );
        assert!(
            say("strength_ready", r#""state":"not_done""#).contains(&"protocol.strength-not-ready")
        );
        assert!(
            say("zone_clear", r#""state":"not_needed","note":"x""#)
                .contains(&"protocol.people-in-zone")
        );
    }
}
