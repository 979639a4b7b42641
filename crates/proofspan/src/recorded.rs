//! A test that was designed elsewhere: its log and its record against an edition, without a document.

use crate::criteria::{RunRecord, clear_inside, under_limits};
use crate::editions::EditionChoice;
use crate::error::Error;
use crate::judge::{Judgement, judge_record};
use crate::readings::{Log, LogSpec};
use crate::source::rule::Positive;
use crate::source::{Given, validate_single};
use crate::units::{Force, Length, Net};
use crate::verdict::MemberUnit;

under_limits! {
    /// A test that was designed elsewhere: the edition, and the lengths its limits speak of.
    ///
    /// ```
    /// use proofspan::criteria::RunRecord;
    /// use proofspan::readings::{LogSpec, read_csv_text};
    /// use proofspan::source::read_json;
    /// use proofspan::units::*;
    /// use proofspan::{RecordedTest, verdict::State};
    ///
    /// let layout: LogSpec = read_json(r#"{
    ///     "time": {"column": "t", "unit": "h"},
    ///     "channels": [{"id": "middle", "column": "d", "unit": "mm", "role": "deflection",
    ///                   "at": "3 m", "u": 0.1}],
    ///     "moments": {"zero": {"from": "0 h", "to": "0.5 h"}, "peak": {"from": "24 h", "to": "25 h"},
    ///                 "unloaded": "26 h", "residual": {"from": "50 h", "to": "51 h"}}}"#)?;
    /// let log = read_csv_text("t,d\n0,0.0\n0.5,0.0\n24,12.0\n25,12.0\n50,1.0\n51,1.0\n", &layout)?;
    /// let record: RunRecord = read_json(r#"{"reached": "100 %", "held": "24 h", "stated_by": "site engineer", "expiry": "2031-10-05",
    ///     "observation": {"distress": "none", "by": "inspector", "date": "2026-10-05"}}"#)?;
    /// let test = RecordedTest::of("ACI 437.2-13", 6.0 * M).depth(400.0 * MM);
    /// let judged = test.judge(&log, &layout, &record)?;
    /// let residual = judged.judging.criteria.iter().find(|c| c.id == "residual").ok_or("it is there")?;
    /// assert_eq!(residual.outcome.code.state, State::Pass); // 1 mm is less than 12/4 mm
    /// assert!(!judged.not_judged.is_empty()); // the load, the layout, the rig: nobody can tell here
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub struct RecordedTest {
        /// The edition, and the text of one's own file where it is none of those shipped.
        edition: EditionChoice,
        /// The full test load, net of what was in place before: load and hold are then read from the
        /// force of record, where the log has one.
        force: Option<Given<Force, Positive>>,
    }
}

impl RecordedTest {
    /// A test by an edition's usual name on a member of this effective span.
    #[must_use]
    pub fn of(edition: &str, span: Length) -> Self {
        Self {
            edition: EditionChoice::of(edition),
            span: Given::known(span),
            clear_span: None,
            depth: None,
            cantilever: false,
            method: "monotonic".to_owned(),
            force: None,
            unit: MemberUnit::Beam,
        }
    }

    /// With the full test load, net of what was in place before.
    #[must_use]
    pub fn force(self, force: Force) -> Self {
        Self { force: Some(Given::known(force)), ..self }
    }

    /// Judges the readings by the rules of [`judge`](crate::judge()). What nobody can tell without the
    /// design is listed in [`Judgement::not_judged`].
    ///
    /// # Errors
    /// All at once: an edition that is not known or whose limits are not; a value that its rule
    /// refuses; `source.field-missing` for a depth that a limit speaks of; `source.choice` for a
    /// method that the edition has no criteria for. Then the problems of the log and the record.
    pub fn judge(
        &self,
        log: &Log,
        layout: &LogSpec,
        record: &RunRecord,
    ) -> Result<Judgement, Error> {
        validate_single(self)?;
        let edition = self.edition.edition()?;
        let facts = self.limits(&edition)?;
        let force = self.force.as_ref().map(|f| Net(f.value));
        judge_record(&edition, &self.method, facts, log, layout, record, force)
    }
}
