//! What people saw and signed.

use jiff::civil::Date;

use crate::editions::{CRITERION_FACTS, CRITERION_NAMES, STOP_FACTS, STOP_NAMES, STOP_STATED};
use crate::error::{Issue, slug};
use crate::readings::{FaultKind, Moments};
use crate::source::rule::{NotNegative, Positive, SCHEMA_VERSION, Version, Wait};
use crate::source::{Given, Reader, Write as _, date, letters, unread, unused_ranges};
use crate::units::{Duration, Kind, Length, Ratio, Strain, Stress, nearest};

crate::choice! {
    /// Visible distress: cracks, crushing, spalling, slip, loose wraps, sounds.
    pub enum Distress ("distress", source::SOURCE_CHOICE) {
        /// Looked for and not seen.
        None = "none",
        /// Seen.
        Seen = "seen",
        /// Not looked for.
        NotInspected = "not_inspected",
    }
}

crate::rule! {
    /// A part of the target load that was reached: up to ten times (library rule).
    pub Reached { least 0.0 SOURCE_NEGATIVE, most 10.0 SOURCE_MAGNITUDE }
}

crate::record! {
    /// A signed observation.
    pub struct Observation {
        /// What was seen.
        distress: Distress,
        /// The role of the person who looked.
        by: String,
        /// When.
        date: String,
        /// Where and what.
        note: Option<String>,
    }
}

crate::choice! {
    /// The answer to a question of the edition.
    pub enum Reply ("answer", source::SOURCE_CHOICE) {
        /// It is so.
        Yes = "yes",
        /// It is not so.
        No = "no",
        /// Nobody looked.
        NotInspected = "not_inspected",
    }
}

crate::record! {
    /// A signed answer to a criterion that asks a person.
    pub struct Answer {
        /// The criterion, by its name in the edition.
        criterion: String,
        /// The answer.
        answer: Reply,
        /// The role of the person.
        by: String,
        /// When.
        date: String,
        /// Why.
        note: Option<String>,
    }
}

crate::record! {
    /// A value or fact that a criterion or stop rule needs and no log gives: exactly one of `length`,
    /// `ratio`, `strain`, `stress` and `holds`.
    pub struct Stated {
        /// Its name in the edition's criteria or stop rules.
        name: String,
        /// A length.
        length: Option<Given<Length>>,
        /// A plain ratio.
        ratio: Option<Given<Ratio>>,
        /// A strain, as a size.
        strain: Option<Given<Strain, NotNegative>>,
        /// A stress, strength or modulus.
        stress: Option<Given<Stress, Positive>>,
        /// A fact.
        holds: Option<bool>,
        /// Who states it: the role.
        by: String,
    }
    rules { usable[name, length, ratio, strain, stress, holds]; }
}

fn usable(
    reader: &mut Reader,
    name: &String,
    length: &Option<Given<Length>>,
    ratio: &Option<Given<Ratio>>,
    strain: &Option<Given<Strain, NotNegative>>,
    stress: &Option<Given<Stress, Positive>>,
    holds: &Option<bool>,
) {
    let of_rules = STOP_NAMES.iter().filter(|n| STOP_STATED.contains(&n.0));
    let names = || CRITERION_NAMES.iter().skip(MEASURED).chain(of_rules.clone());
    let facts = || CRITERION_FACTS.iter().chain(STOP_FACTS).copied();
    let kind = names().find(|n| n.0 == name).map(|n| n.1);
    let fact = facts().any(|f| f == name);
    let given =
        [length.is_some(), ratio.is_some(), strain.is_some(), stress.is_some(), holds.is_some()];
    let is = |k: Kind| kind == Some(k);
    let wanted = [is(Kind::Length), is(Kind::Ratio), is(Kind::Strain), is(Kind::Stress), fact];
    if given == wanted && (kind.is_some() || fact) {
        return;
    }
    let path = reader.path().to_owned();
    let stated = names().map(|n| n.0).chain(facts());
    let near = nearest(name, stated.clone())
        .map_or_else(String::new, |near| format!("; did you mean `{near}`?"));
    let message = match (kind, fact) {
        (Some(kind), _) => format!("`{name}` is a {}", kind.words()),
        (_, true) => format!("`{name}` is a fact: say `holds`"),
        _ => format!("`{name}` is not a name that can be stated{near}"),
    };
    reader.push(
        Issue::new(slug::CRITERIA_STATED, path, message)
            .value(name)
            .limit(stated.collect::<Vec<_>>().join(", ")),
    );
}

/// The names before these are measured or follow from the member.
const MEASURED: usize = 10;

impl Stated {
    /// Its place among the values of a criterion, its value, its standard uncertainty.
    pub(super) fn slot(&self) -> Option<(usize, f64, Option<f64>)> {
        if let Some(holds) = self.holds {
            let fact = CRITERION_FACTS.iter().position(|f| *f == self.name)?;
            return Some((CRITERION_NAMES.len() + fact, f64::from(u8::from(holds)), Some(0.0)));
        }
        let slot = CRITERION_NAMES.iter().position(|n| n.0 == self.name)?;
        match (&self.length, &self.ratio) {
            (Some(l), _) => Some((slot, l.value.si(), l.u.map(Length::si))),
            (_, Some(r)) => Some((slot, r.value.value(), r.u.map(Ratio::value))),
            _ => None,
        }
    }
}

impl Stated {
    /// Its place among the values of a stop rule, and its value.
    pub(super) fn rule_slot(&self) -> Option<(usize, f64)> {
        if let Some(holds) = self.holds {
            let fact = STOP_FACTS.iter().position(|f| *f == self.name)?;
            return Some((STOP_NAMES.len() + fact, f64::from(u8::from(holds))));
        }
        let slot = STOP_NAMES.iter().position(|n| n.0 == self.name)?;
        let strain = self.strain.as_ref().map(|s| s.value.si());
        let stress = self.stress.as_ref().map(|s| s.value.si());
        Some((slot, strain.or(stress)?))
    }
}

crate::choice! {
    /// What is done about a fault of the log.
    pub enum Treatment ("treatment", source::SOURCE_CHOICE) {
        /// The samples that the fault names are left out; a channel that then has no zero or no
        /// peak is left out altogether.
        LeaveOut = "leave_out",
        /// The readings are corrected as the fault says, or by `value`.
        Correct = "correct",
        /// The readings are used as they are.
        Accept = "accept",
    }
}

crate::record! {
    /// A signed decision about a fault of the log.
    pub struct Decision {
        /// The channel, as the fault names it.
        channel: String,
        /// The fault.
        fault: FaultKind,
        /// When it begins, where a channel has several of one kind.
        from: Option<Given<Duration, Wait>>,
        /// What is done.
        treatment: Treatment,
        /// What a correction multiplies the readings by (sign, unit) or adds to them (step, tare,
        /// shift; in the unit of the channel), where that is not what the fault itself says.
        value: Option<f64>,
        /// The role of the person.
        by: String,
        /// Why.
        reason: String,
    }
    rules { decided_by[by, reason]; }
}

fn decided_by(reader: &mut Reader, by: &String, reason: &String) {
    for (field, text) in [("by", by), ("reason", reason)] {
        if text.trim().is_empty() {
            let path = reader.path_of(field);
            let message = "a decision about a fault is signed and has its reason";
            reader.push(Issue::new(slug::CRITERIA_DECISION, path, message));
        }
    }
}

crate::record! {
    /// One gauge as two people read it at one moment.
    pub struct ReadTwice {
        /// The gauge, by the name of its channel.
        gauge: String,
        /// When, on the clock of the log.
        at: Option<Given<Duration, Wait>>,
        /// What the one read.
        first: Given<Length>,
        /// What the other read.
        second: Given<Length>,
        /// The role of the one.
        first_by: String,
        /// The role of the other.
        second_by: String,
    }
    rules { two_people[first_by, second_by]; }
}

fn two_people(reader: &mut Reader, first_by: &String, second_by: &String) {
    let (one, other) = (letters(first_by), letters(second_by));
    if one.is_empty() || other.is_empty() || one == other {
        let path = reader.path_of("second_by");
        let message = "two readings of one gauge are those of two people";
        let issue = Issue::new(slug::CRITERIA_READERS, path, message);
        reader.push(issue.value(second_by).limit(format!("another than `{first_by}`")));
    }
}

crate::choice! {
    /// From where the permanency index of a load cycle counts. The editions are read both ways, so
    /// that the engineer states it.
    pub enum Permanency ("permanency", source::SOURCE_CHOICE) {
        /// Peak and residual from the start of the cycle.
        Rezeroed = "rezeroed",
        /// Peak and residual from the start of the first cycle.
        Absolute = "absolute",
    }
}

crate::record! {
    /// The record of the test as it was run.
    pub struct RunRecord {
        /// Visible distress.
        observation: Observation,
        /// Part of the target load that was reached, where no force of record is in the log.
        reached: Option<Given<Ratio, Reached>>,
        /// What a criterion needs and no log gives.
        stated: Vec<Stated> = Vec::new(),
        /// Answers to criteria that ask a person.
        answers: Vec<Answer> = Vec::new(),
        /// What is done about the faults of the log.
        decisions: Vec<Decision> = Vec::new(),
        /// Gauges that two people read at one moment.
        read_twice: Vec<ReadTwice> = Vec::new(),
        /// How long the full load was held.
        held: Option<Given<Duration, Wait>>,
        /// Who states what nothing in the log tells, by the role: that the load was reached, how long it was
        /// held, when it was off. Asked for where a verdict uses it.
        stated_by: Option<String>,
        /// From where the permanency of load cycles counts, in a cyclic test.
        permanency: Option<Permanency>,
        /// The date until which the verdict may be relied on.
        expiry: String => CRITERIA_EXPIRY_MISSING "a verdict without a date until which it holds is refused",
        /// After how long the member is to be looked at again.
        reinspection: Option<Given<Duration, Wait>>,
        /// The version of the document.
        schema_version: u32 where Version = SCHEMA_VERSION,
    }
    rules {
        expires[expiry];
        dates_stand[observation, answers, expiry];
    }
}

fn expires(reader: &mut Reader, expiry: &String) {
    if expiry.trim().is_empty() {
        let path = reader.path_of("expiry");
        reader.push(Issue::new(
            slug::CRITERIA_EXPIRY_MISSING,
            path,
            "a verdict without a date until which it holds is refused",
        ));
    }
}

/// Every date can be read, and the expiry is not before the last day on which somebody signed.
fn dates_stand(
    reader: &mut Reader,
    observation: &Observation,
    answers: &[Answer],
    expiry: &String,
) {
    let signed = [("observation.date".to_owned(), &observation.date)]
        .into_iter()
        .chain(answers.iter().enumerate().map(|(i, a)| (format!("answers[{i}].date"), &a.date)));
    if observation.by.trim().is_empty() {
        let path = reader.path_of("observation.by");
        let message = "an observation that nobody signed";
        let issue = Issue::new(slug::SOURCE_FIELD_MISSING, path, message);
        reader.push(issue.remedy("give the role of the person who looked"));
    }
    let mut day = None;
    for (field, text) in signed {
        match date(text) {
            Some(signed) => day = day.max(Some(signed)),
            None => unread(reader, &field, text),
        }
    }
    match (date(expiry), day) {
        (None, _) if !expiry.trim().is_empty() => unread(reader, "expiry", expiry),
        (Some(expiry), Some(day)) if expiry < day => {
            let path = reader.path_of("expiry");
            reader.push(expired(path, expiry, day));
        }
        _ => {}
    }
}

impl RunRecord {
    /// The part of the target that was reached, at the unfavourable ends of what is stated: low and high.
    pub(crate) fn reached_ends(&self) -> Option<(Ratio, Ratio)> {
        self.reached.as_ref().map(|r| r.bounds().unwrap_or((r.value, r.value)))
    }

    /// How long the full load was held at least.
    pub(crate) fn held_at_least(&self) -> Option<Duration> {
        self.held.as_ref().map(|h| h.bounds().map_or(h.value, |ends| ends.0))
    }

    /// What of the record has ends or an uncertainty that nothing uses.
    pub(crate) fn unused_ranges(&self) -> Vec<Issue> {
        const ENDS: [&str; 2] = ["record.reached", "record.held"];
        const SURE: [&str; 2] = ["].length", "].ratio"];
        unused_ranges("record", &self.write(), &|path, of_u| {
            ENDS.contains(&path)
                || (of_u
                    && path.starts_with("record.stated[")
                    && SURE.iter().any(|s| path.ends_with(s)))
        })
    }

    /// Who states what nothing in the log tells.
    pub(crate) fn signer(&self) -> Option<&str> {
        self.stated_by.as_deref().map(str::trim).filter(|by| !by.is_empty())
    }

    /// What of the run is stated and signed by nobody, for a log that does not tell it.
    pub(crate) fn unsigned(&self, moments: &Moments) -> Vec<Issue> {
        if self.signer().is_some() {
            return Vec::new();
        }
        let stated = [
            (self.reached.is_some(), "record.reached", "that the load was reached"),
            (self.held.is_some(), "record.held", "how long the load was held"),
            (moments.unloaded.is_some(), "columns.moments.unloaded", "when the load was off"),
        ];
        let stated = stated.into_iter().filter(|s| s.0);
        let issue = |(_, path, what)| {
            let message = format!(
                "nothing in the log tells {what}, and the record does not say who states it"
            );
            Issue::new(slug::CRITERIA_UNSIGNED, path, message)
        };
        stated.map(issue).collect()
    }

    /// What was signed before the day on which the full load was on, as the log has it: nobody saw then
    /// what the load does.
    pub(crate) fn observed_early(&self, day: Option<Date>) -> Vec<Issue> {
        let Some(day) = day else { return Vec::new() };
        let looked = self.observation.distress != Distress::NotInspected;
        let own = looked.then(|| ("record.observation.date".to_owned(), &self.observation.date));
        let answers = self.answers.iter().enumerate();
        let answers = answers.filter(|(_, a)| a.answer != Reply::NotInspected);
        let answers = answers.map(|(i, a)| (format!("record.answers[{i}].date"), &a.date));
        let early = own.into_iter().chain(answers);
        let early = early.filter(|(_, text)| date(text).is_some_and(|signed| signed < day));
        let issue = |(path, text): (String, &String)| {
            let message = "it was signed before the full load was on";
            Issue::new(slug::CRITERIA_OBSERVED_EARLY, path, message)
                .value(text)
                .limit(format!("{day} or later"))
        };
        early.map(issue).collect()
    }

    /// The last day that the log or the observation knows.
    pub(crate) fn last_day(&self, of_log: Option<&str>) -> Option<Date> {
        date(&self.observation.date).max(of_log.and_then(date))
    }

    /// What is wrong with the expiry against the last day on which the log has readings
    /// (year-month-day).
    #[must_use]
    pub fn expired(&self, last_day: Option<&str>) -> Option<Issue> {
        let (expiry, day) = (date(&self.expiry)?, last_day.and_then(date)?);
        (expiry < day).then(|| expired("record.expiry".to_owned(), expiry, day))
    }
}

fn expired(path: String, expiry: Date, day: Date) -> Issue {
    let message = "the verdict would expire before the last day of the test";
    Issue::new(slug::CRITERIA_EXPIRY_PAST, path, message)
        .value(expiry.to_string())
        .limit(format!("{day} or later"))
}
