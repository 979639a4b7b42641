//! Is what was repaired or bonded ready on the day of the test, and who has tried its bond?

use jiff::civil::Date;

use crate::error::{Issue, slug};
use crate::source::rule::Positive;
use crate::source::{Given, Reader, date, unread};
use crate::units::{Message, Stress};
use crate::verdict::Stop;

crate::choice! {
    /// What must cure.
    pub enum CuredWork ("work that cures", source::SOURCE_CHOICE) {
        /// A repair of the concrete.
        Repair = "repair",
        /// Adhesive of bars, anchors or strips.
        Adhesive = "adhesive",
        /// Grout of tendons, bars or bearings.
        Grout = "grout",
        /// A wrap.
        Wrap = "wrap",
    }
}

crate::record! {
    /// A test of the bond: pull-off, pull-out, or what stands for it.
    pub struct BondTest {
        /// The day on which it was made.
        date: String,
        /// The least result.
        least: Given<Stress, Positive>,
        /// The least result that is asked for.
        asked: Given<Stress, Positive>,
        /// Where the record is kept.
        record: Option<String>,
    }
    rules { tested[date]; }
}

fn tested(reader: &mut Reader, text: &String) {
    if date(text).is_none() {
        unread(reader, "date", text);
    }
}

crate::record! {
    /// Work that must be at strength before the test.
    pub struct Curing {
        /// What it is.
        work: CuredWork,
        /// Where it is.
        place: Option<String>,
        /// The day on which it was placed.
        placed: String,
        /// The day from which it is at strength, by its data sheet at the temperature on site.
        ready: String,
        /// The test of its bond.
        bond_test: Option<BondTest>,
    }
    rules { in_order[placed, ready, bond_test]; }
}

fn in_order(reader: &mut Reader, placed: &String, ready: &String, bond: &Option<BondTest>) {
    let fields = [("placed", placed), ("ready", ready)];
    for (field, text) in fields.into_iter().filter(|(_, text)| date(text).is_none()) {
        unread(reader, field, text);
    }
    let Some(placed) = date(placed) else { return };
    let bond = bond.as_ref().map(|b| &b.date);
    let later = [("ready", Some(ready)), ("bond_test.date", bond)];
    for (field, text) in later {
        if let Some(day) = text.and_then(|t| date(t)).filter(|day| *day < placed) {
            let path = reader.path_of(field);
            let issue = Issue::new(slug::CRITERIA_DATE, path, "before the work was placed");
            reader.push(issue.value(day.to_string()).limit(format!("{placed} or later")));
        }
    }
}

/// The stops of work that is not ready on the day of the test, or whose bond nobody has tried; whether sections
/// are wrapped, and whether strips are bonded to them.
pub(super) fn stops(all: &[Curing], (wraps, strips): (bool, bool), day: Option<Date>) -> Vec<Stop> {
    let mut stops = Vec::new();
    let mut stop =
        |code, path: String, message: Message| stops.push(Stop::new(code, path, message));
    if day.is_none() && !all.is_empty() {
        let message = "work that cures is listed, and the day of the test is not given";
        stop(slug::CAPACITY_NOT_READY, "records.test_day".to_owned(), message.into());
    }
    if wraps && !all.iter().any(|c| c.work == CuredWork::Wrap) {
        let message = "sections are wrapped, and nothing is said of the cure and bond of the wraps";
        stop(slug::CAPACITY_NOT_READY, "capacity.curing".to_owned(), message.into());
    }
    if strips && !all.iter().any(|c| c.work == CuredWork::Adhesive) {
        let message =
            "strips are bonded, and nothing is said of the cure and bond of their adhesive";
        stop(slug::CAPACITY_NOT_READY, "capacity.curing".to_owned(), message.into());
    }
    for (i, one) in all.iter().enumerate() {
        let path = format!("capacity.curing[{i}]");
        let what = one.place.as_ref().map_or_else(
            || one.work.word().to_owned(),
            |place| format!("{}, {place}", one.work.word()),
        );
        if let (Some(day), Some(ready)) = (day, date(&one.ready))
            && day < ready
        {
            let message = format!("{what}: at strength from {ready}, the test is on {day}");
            stop(slug::CAPACITY_NOT_READY, format!("{path}.ready"), message.into());
        }
        let Some(bond) = &one.bond_test else {
            let message = format!("{what}: no test of the bond");
            stop(slug::CAPACITY_BOND_TEST, format!("{path}.bond_test"), message.into());
            continue;
        };
        if bond.least.low() < bond.asked.value {
            let values = [what.clone().into(), bond.least.said(), bond.asked.said()];
            let message = Message::new("{}: the bond test gave {}, asked are {}", values);
            stop(slug::CAPACITY_BOND_TEST, format!("{path}.bond_test.least"), message);
        }
        if let (Some(day), Some(tested)) = (day, date(&bond.date))
            && day < tested
        {
            let message = format!("{what}: the bond is tried on {tested}, the test is on {day}");
            stop(slug::CAPACITY_BOND_TEST, format!("{path}.bond_test.date"), message.into());
        }
    }
    stops
}

/// What was not at strength on the last day of a test that was made.
pub(super) fn too_early(all: &[Curing], day: Date) -> Vec<Issue> {
    let early = all.iter().enumerate().filter_map(|(i, one)| {
        let ready = date(&one.ready).filter(|ready| day < *ready)?;
        let message = "the test was made before this was at strength";
        let issue = Issue::new(slug::CRITERIA_DATE, format!("capacity.curing[{i}].ready"), message);
        Some(
            issue
                .value(ready.to_string())
                .limit(format!("{day} or before"))
                .remedy("look at both dates"),
        )
    });
    early.collect()
}
