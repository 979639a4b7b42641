//! What was decided, in one sentence.

use super::cell::{DIGITS, checked};
use super::label::{criterion, words};
use super::predicted::foreseen;
use crate::criteria::{INSIDE, Judged, OUTSIDE};
use crate::design::TestDesign;
use crate::equivalent::{Carried, Carrier, CarrierKind, JackLine};
use crate::judge::Judgement;
use crate::units::{Force, Page, Quantity};
use crate::verdict::{Limit, State};

/// A carrier and where it stands: of a spreader its contacts, of weights and water what they cover.
fn stands(design: &TestDesign, c: &Carried, page: &Page) -> String {
    let kind = match design.spec.layout.carrier.get(c.carrier) {
        Some(Carrier::JackLine(_)) | None => "jack line",
        Some(Carrier::Spreader(_)) => "jack on a spreader",
        Some(Carrier::Pad(_)) => "jack on a pad",
        Some(Carrier::Bags(_)) => "bags",
        Some(Carrier::Water(_)) => "water",
        Some(Carrier::Wheels(_)) => "wheels",
    };
    let own: Vec<&JackLine> =
        design.layout.lines.iter().filter(|l| l.carrier == c.carrier).collect();
    let presses = c.kind == CarrierKind::Jack;
    if presses && own.len() > 1 {
        let places: Vec<String> = own.iter().map(|l| page.place(l.at)).collect();
        return format!("{kind} with contacts at {}", places.join(" and "));
    }
    if c.to > c.from {
        return format!("{kind} from {} to {}", page.place(c.from), page.place(c.to));
    }
    format!("{kind} at {}", page.place(c.at))
}

/// The load that was on where the log shows it, beside what was asked.
fn load(design: &TestDesign, judgement: Option<&Judgement>, page: &Page) -> String {
    let asked = format!("{} net", page.value(design.layout.force.0, DIGITS));
    match judgement.map(|j| j.force) {
        None => asked,
        Some(Some((read, _))) => {
            format!("{} read at the end of the hold, {asked} asked", page.value(read, DIGITS))
        }
        Some(None) => format!("{asked} asked, no force read"),
    }
}

/// Which regions and modes, under which load.
fn asked(design: &TestDesign, judgement: Option<&Judgement>, page: &Page) -> String {
    let t = &design.target;
    let regions = t
        .regions
        .iter()
        .map(|r| format!("{} from {} to {}", r.mode, page.place(r.from), page.place(r.to)));
    let carriers = design
        .layout
        .carriers
        .iter()
        .filter(|c| c.force.0 > Force::ZERO)
        .map(|c| stands(design, c, page));
    format!(
        "in doubt for {}, under {} {} ({})",
        regions.collect::<Vec<_>>().join(" and "),
        load(design, judgement, page),
        t.unit,
        carriers.collect::<Vec<_>>().join(", "),
    )
}

/// Which member, region, mode and load of every stage, under which edition.
fn about(design: &TestDesign, judgement: Option<&Judgement>, page: &Page) -> String {
    let member = &design.spec.scope.member;
    let later = design.later().iter().enumerate().map(|(i, (name, own))| {
        let read = judgement.and_then(|j| j.later.get(i)).and_then(|(_, j)| j.as_ref());
        format!(", and in stage {name} {}", asked(own, read, page))
    });
    format!(
        "{} {}, {}{}, under {}",
        words(member.kind.word()),
        member.id,
        asked(design, judgement, page),
        later.collect::<String>(),
        design.set.edition.name(),
    )
}

/// What a test is planned for, where nobody has judged it.
pub(super) fn planned(design: &TestDesign, page: &Page) -> String {
    let stops = design.holding().count();
    let held = match stops {
        0 => String::new(),
        1 => ", and one stop holds".to_owned(),
        n => format!(", and {n} stops hold"),
    };
    let foreseen = foreseen(design, page).map_or_else(String::new, |text| format!("; {text}"));
    format!(
        "Nothing is decided yet{held}: this is the plan of a test: {}{foreseen}.",
        about(design, None, page)
    )
}

/// Every stage that was read, with the design of it and its name.
pub(super) fn stages<'a>(
    design: &'a TestDesign,
    judgement: &'a Judgement,
) -> Vec<(Option<&'a str>, &'a TestDesign, &'a Judgement)> {
    let later = design.later().iter().zip(&judgement.later);
    let later = later.filter_map(|((name, stage), (_, judged))| {
        judged.as_ref().map(|judged| (Some(name.as_str()), stage, judged))
    });
    core::iter::once((None, design, judgement)).chain(later).collect()
}

/// The stage and the criterion that decide: of what came to the state of the whole the one with the
/// largest utilisation; a criterion met counts where it was read on a gauge.
fn deciding<'a>(
    all: &[(Option<&'a str>, &'a TestDesign, &'a Judgement)],
    state: State,
) -> Option<(usize, &'a Judged)> {
    let rows = || {
        let each = all.iter().enumerate();
        each.flat_map(|(i, s)| s.2.judging.criteria.iter().map(move |c| (i, c)))
    };
    let wanted = |c: &Judged| {
        let own = c.outcome.guarded.state;
        match state {
            State::Pass => own == State::Pass && c.gauge.is_some(),
            State::Inconclusive => matches!(own, State::Inconclusive | State::NotMeaningful),
            other => own == other,
        }
    };
    let used = |c: &Judged| match c.outcome.guarded.limit {
        Limit::None => -1.0,
        _ => c.outcome.guarded.utilisation.unwrap_or(0.0),
    };
    rows()
        .filter(|(_, c)| wanted(c))
        .max_by(|a, b| used(a.1).total_cmp(&used(b.1)).then(b.0.cmp(&a.0)))
}

/// The number beside its limit, or why there is none.
fn beside(c: &Judged, page: &Page) -> String {
    let v = c.outcome.guarded;
    let of = |si, digits| checked(page, Quantity::new(v.demand.kind, si), digits);
    let limit = match v.limit {
        Limit::AtMost(l) if v.demand.si.is_finite() => format!("at most {}", of(l, DIGITS)),
        Limit::AtLeast(l) if v.demand.si.is_finite() => format!("at least {}", of(l, DIGITS)),
        _ => return c.reason.to_string(),
    };
    let gauge = c.gauge.as_ref().map_or_else(String::new, |g| format!(" at gauge {g}"));
    let u = v.uncertainty.map_or_else(
        || ", uncertainty not stated".to_owned(),
        |u| format!(", U of the margin {}", of(u, 3)),
    );
    // a force, a time and a count have no gauge and no guard
    let u = if c.gauge.is_some() || v.uncertainty.is_some() { u } else { String::new() };
    // what leaves it open, or scales what was read, stands beside the number
    let reason = c.reason.to_string();
    let said = reason == INSIDE || reason == OUTSIDE;
    let why = if said { String::new() } else { format!(": {reason}") };
    format!("{}{gauge} beside {limit}{u}{why}", of(v.demand.si, DIGITS))
}

/// What the test leaves open, in words.
fn open(
    all: &[(Option<&str>, &TestDesign, &Judgement)],
    judgement: &Judgement,
    decides: Option<&Judged>,
) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    let mut add = |text: String| {
        if !out.contains(&text) {
            out.push(text);
        }
    };
    for (_, _, judged) in all {
        for c in &judged.judging.criteria {
            let state = c.outcome.guarded.state;
            let open = matches!(state, State::Inconclusive | State::NotMeaningful | State::Aborted);
            if open && decides.is_none_or(|d| !core::ptr::eq(d, c)) {
                add(format!("{} ({state})", criterion(&c.about, &c.id)));
            }
        }
    }
    // what no stage of the log shows
    let unshown = |design: &TestDesign| -> Vec<String> {
        let all = design.layout.reached(&design.target).into_iter();
        all.filter(|r| r.state == State::NotApplicable).map(|r| r.what).collect()
    };
    let by_stage: Vec<Vec<String>> = all.iter().map(|(_, design, _)| unshown(design)).collect();
    if let Some((first, later)) = by_stage.split_first() {
        let nowhere = |what: &&String| later.iter().all(|stage| stage.contains(what));
        first.iter().filter(nowhere).for_each(|what| add(what.clone()));
    }
    for (name, judged) in &judgement.later {
        if judged.is_none() {
            add(format!("stage {name}, which is not in the log"));
        }
    }
    judgement.not_judged.iter().for_each(|text| add((*text).to_owned()));
    add("durability, fire and fatigue".to_owned());
    add("other regions, modes and members".to_owned());
    out
}

/// What was decided: state and sentence.
pub(super) fn headline(design: &TestDesign, judgement: &Judgement, page: &Page) -> (State, String) {
    let (guarded, code) = judgement.overall();
    let all = stages(design, judgement);
    let found = deciding(&all, guarded.state);
    let stage = found.and_then(|(i, _)| all.get(i)).and_then(|s| s.0);
    let stage = stage.map_or_else(String::new, |name| format!(" in stage {name}"));
    let what = match found {
        Some((_, c)) => {
            format!("{}, {}", criterion(&c.about, &c.id), beside(c, page))
        }
        None => guarded.because.to_owned(),
    };
    let alone = if code.state == guarded.state {
        "without a guard the same".to_owned()
    } else {
        format!("without a guard {}", code.state)
    };
    let text = format!(
        "{}; what decides{stage}: {what} ({}; {alone}); not shown: {}.",
        about(design, Some(judgement), page),
        guarded.because,
        open(&all, judgement, found.map(|f| f.1)).join("; ")
    );
    (guarded.state, text)
}
