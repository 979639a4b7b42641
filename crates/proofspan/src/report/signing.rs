//! Who saw, stated and decided what, what it rests on, and where it is signed.

use super::block::Block;
use super::cell::{DIGITS, NONE};
use super::headline::{headline, stages};
use super::label::words;
use crate::design::TestDesign;
use crate::judge::Judgement;
use crate::protocol::SiteRecords;
use crate::readings::{LogSpec, Moments};
use crate::units::{Duration, Page};

/// The people of the run record: what each saw, answered, stated and decided.
pub(super) fn people(out: &mut Vec<Block>, design: &TestDesign, j: &Judgement, page: &Page) {
    let record = &j.evidence.record;
    out.push(Block::Heading(2, "Who saw, stated and decided what".to_owned()));
    let none = || NONE.to_owned();
    let mut rows = Vec::new();
    let seen = &record.observation;
    rows.push(vec![
        "visible distress".to_owned(),
        words(seen.distress.word()),
        seen.note.clone().unwrap_or_else(none),
        seen.by.clone(),
        seen.date.clone(),
    ]);
    for a in &record.answers {
        rows.push(vec![
            format!("answer on {}", words(&a.criterion)),
            words(a.answer.word()),
            a.note.clone().unwrap_or_else(none),
            a.by.clone(),
            a.date.clone(),
        ]);
    }
    for s in &record.stated {
        let said = match (&s.length, &s.ratio, s.holds) {
            (Some(l), _, _) => page.small(l.value),
            (_, Some(r), _) => page.number(r.value.value(), 4),
            (_, _, Some(true)) => "yes".to_owned(),
            _ => "no".to_owned(),
        };
        rows.push(vec![format!("stated: {}", words(&s.name)), said, none(), s.by.clone(), none()]);
    }
    let by = record.stated_by.clone().unwrap_or_else(none);
    let told = j.facts.is_some();
    let weight = |what: &str| {
        let said = if told { "beside what the log shows, which decides" } else { what };
        said.to_owned()
    };
    if let Some(held) = &record.held {
        rows.push(vec![
            "stated: full load held".to_owned(),
            page.value(held.value, DIGITS),
            weight("nothing in the log tells: this decides"),
            by.clone(),
            none(),
        ]);
    }
    if let Some(reached) = &record.reached {
        let part = page.number(reached.value.value() * 100.0, 2);
        rows.push(vec![
            "stated: part of the target load".to_owned(),
            format!("{} %", crate::units::trimmed(&part)),
            weight("nothing in the log tells: this decides"),
            by.clone(),
            none(),
        ]);
    }
    if let Some(off) = &j.evidence.layout.moments.unloaded {
        rows.push(vec![
            "stated: load off".to_owned(),
            page.value(off.value, DIGITS),
            weight("nothing in the log tells: this decides when the residual was due"),
            by,
            none(),
        ]);
    }
    for d in &record.decisions {
        rows.push(vec![
            format!("fault: {} of {}", words(d.fault.word()), d.channel),
            words(d.treatment.word()),
            d.reason.clone(),
            d.by.clone(),
            none(),
        ]);
    }
    rows.extend(duties(&design.spec.records));
    out.push(Block::Table(vec!["about", "says", "where and why", "role", "date"], rows));
    let again = record.reinspection.as_ref().map_or_else(
        || "no interval for looking at the member again is stated".to_owned(),
        |d| {
            let days = d.value.si() / 86_400.0;
            let days = page.number(days, 1);
            format!(
                "the member is looked at again {} days after the test",
                crate::units::trimmed(&days)
            )
        },
    );
    out.push(Block::Text(format!(
        "The verdict may be relied on until {}; {again}. It lapses when the member, its use or its surroundings change.",
        record.expiry
    )));
}

/// The duties before the test, as signed.
fn duties(records: &SiteRecords) -> Vec<Vec<String>> {
    let all = [
        ("survey", &records.survey),
        ("consent", &records.consent),
        ("watch of the hold", &records.watch),
        ("zone clear", &records.zone_clear),
        ("tendons located", &records.tendons_located),
        ("strength of repairs", &records.strength_ready),
    ];
    let rows = all.into_iter().filter_map(|(name, duty)| {
        let duty = duty.as_ref()?;
        Some(vec![
            format!("before the test: {name}"),
            words(duty.state.word()),
            duty.note.clone().unwrap_or_else(|| NONE.to_owned()),
            duty.by.clone(),
            duty.date.clone(),
        ])
    });
    rows.collect()
}

/// The windows in which medians were taken.
pub(super) fn windows(out: &mut Vec<Block>, layout: &LogSpec, page: &Page) {
    let m: &Moments = &layout.moments;
    let time = |t: Duration| page.value(t, DIGITS);
    let mut rows = Vec::new();
    let mut row = |name: &str, from: Duration, to: Duration| {
        rows.push(vec![name.to_owned(), time(from), time(to)]);
    };
    row("zero", m.zero.from.value, m.zero.to.value);
    row("full load", m.peak.from.value, m.peak.to.value);
    if let Some(off) = &m.unloaded {
        row("load off, as stated", off.value, off.value);
    }
    if let Some(r) = &m.residual {
        row("residual", r.from.value, r.to.value);
    }
    out.push(Block::Table(vec!["window of the log", "from", "to"], rows));
}

/// Fingerprints, version and the lines to sign on.
pub(super) fn signed(
    out: &mut Vec<Block>,
    design: &TestDesign,
    judgement: Option<&Judgement>,
    page: &Page,
) {
    out.push(Block::Sheet);
    out.push(Block::Heading(2, "What is signed".to_owned()));
    if let Some(j) = judgement {
        let (state, sentence) = headline(design, j, page);
        out.push(Block::State(state, sentence));
    }
    out.push(Block::Text(
        "SHA-256 of what this report was made from, as this library writes it: the same design, readings, layout and record give the same digits."
            .to_owned(),
    ));
    let mut prints = vec![("design".to_owned(), design.spec.fingerprint())];
    if let Some(j) = judgement {
        prints.push(("readings".to_owned(), j.evidence.log.clone()));
        for (name, _, stage) in stages(design, j).into_iter().take(1) {
            let of = name.map_or_else(String::new, |n| format!(", stage {n}"));
            prints.push((format!("columns of the log{of}"), stage.evidence.of_layout()));
        }
        prints.push(("run record".to_owned(), j.evidence.of_record()));
    }
    out.push(Block::Fingerprints(prints));
    let day = judgement.map_or_else(String::new, |j| {
        let last = |j: &Judgement| {
            let times = j.evidence.histories.iter().filter_map(|h| h.points.last());
            times.fold(0.0_f64, |most, (t, _)| most.max(*t))
        };
        let later = j.later.iter().filter_map(|(_, j)| j.as_ref());
        let runs = later.map(last).fold(last(j), f64::max);
        let runs = page.value(Duration::from_si(runs), DIGITS);
        let ended = match &j.evidence.last_day {
            Some(day) => format!("ends on {day}"),
            None => "has no date of its own".to_owned(),
        };
        format!(
            " Observed on {}; the log {ended} and runs over {runs} from its first row, from which every time here counts.",
            j.evidence.record.observation.date
        )
    });
    out.push(Block::Text(format!(
        "Made by proofspan {}, edition {}.{day} The date of the signature is that of the report.",
        env!("CARGO_PKG_VERSION"),
        design.set.edition.name(),
    )));
    let roles: &[&'static str] = match judgement {
        Some(_) => &["test director", "observed by", "judged by", "checked by"],
        None => &["designed by", "checked by", "released for the field by"],
    };
    out.push(Block::Signatures(roles.to_vec()));
}
