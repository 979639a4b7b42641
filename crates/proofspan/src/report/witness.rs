//! What the log shows: zero, load, hold, unloading, stop rules, every gauge.

use super::block::Block;
use super::cell::{DIGITS, NONE, checked, share};
use super::label::{criterion, words};
use crate::judge::Judgement;
use crate::readings::{CycleSeen, Index, LogFacts};
use crate::units::{Duration, Force, Kind, Length, Page, Quantity, Ratio};

/// What the force of record says, beside what was stated.
pub(super) fn measured(out: &mut Vec<Block>, j: &Judgement, seen: &LogFacts, page: &Page) {
    let time = |t: Duration| page.value(t, DIGITS);
    let force = |f: Force| page.value(f, DIGITS);
    let or_none = |text: Option<String>| text.unwrap_or_else(|| NONE.to_owned());
    let state = |id: &str| {
        let row = j.judging.criteria.iter().find(|c| c.id == id);
        or_none(row.map(|c| c.outcome.guarded.state.word().to_owned()))
    };
    let z = &seen.zero;
    let window = |from, to| format!("{} to {}", time(from), time(to));
    let mut rows = vec![
        vec![
            "zero".to_owned(),
            window(z.from, z.to),
            or_none(z.force.map(force)),
            format!("{} at zero", force(z.stated)),
            state("zero"),
        ],
        vec![
            "first increment".to_owned(),
            or_none(z.first_step.map(time)),
            or_none(z.first_force.map(force)),
            NONE.to_owned(),
            NONE.to_owned(),
        ],
        vec![
            "load".to_owned(),
            "peak window".to_owned(),
            or_none(seen.load.force.map(force)),
            or_none(seen.load.target.map(|t| {
                format!(
                    "{} (target; {} to {} is the band)",
                    force(t),
                    force(t - seen.load.band),
                    force(t + seen.load.band)
                )
            })),
            state("load"),
        ],
        vec![
            "largest force".to_owned(),
            or_none(seen.load.largest_at.map(time)),
            or_none(seen.load.largest.map(force)),
            NONE.to_owned(),
            NONE.to_owned(),
        ],
    ];
    if let Some(h) = &seen.hold {
        rows.push(vec![
            "hold".to_owned(),
            format!("{}: {}", window(h.from, h.to), time(h.length)),
            format!("{} or more", force(h.lowest)),
            or_none(seen.held_stated.map(time)),
            state("hold"),
        ]);
        for gone in &h.interruptions {
            rows.push(vec![
                "interruption".to_owned(),
                window(gone.from, gone.to),
                force(gone.force),
                NONE.to_owned(),
                NONE.to_owned(),
            ]);
        }
        if h.interruptions_in_all > h.interruptions.len() {
            let more = format!("{} interruptions in all", h.interruptions_in_all);
            let rest = [NONE, NONE, NONE].map(str::to_owned);
            rows.push(["interruption".to_owned(), more].into_iter().chain(rest).collect());
        }
    }
    if let Some(u) = &seen.unloading {
        rows.push(vec![
            "load off".to_owned(),
            or_none(u.off.map(time)),
            NONE.to_owned(),
            or_none(u.stated.map(time)),
            NONE.to_owned(),
        ]);
        rows.push(vec![
            "residual".to_owned(),
            time(u.read),
            or_none(u.force.map(force)),
            format!("{} at zero", force(z.stated)),
            state("residual time"),
        ]);
    }
    out.push(Block::Table(vec!["measured", "when", "force", "stated", "guarded"], rows));
    let rows = seen
        .cells
        .iter()
        .map(|c| {
            let of = |f: Option<Force>| or_none(f.map(force));
            vec![c.channel.clone(), of(c.zero), of(c.peak), of(c.residual)]
        })
        .collect();
    out.push(Block::Table(vec!["force read by", "at zero", "at peak", "at the residual"], rows));
}

/// The load cycles with their indices.
pub(super) fn cycles(out: &mut Vec<Block>, j: &Judgement, page: &Page) {
    let Some(cycles) = &j.cycles else { return };
    let row = |c: &CycleSeen| {
        let force = |f: Force| page.value(f, DIGITS);
        let asked = c.asked.map_or_else(|| NONE.to_owned(), force);
        vec![
            c.name.clone(),
            force(c.start),
            force(c.peak),
            asked,
            page.value(c.held, DIGITS),
            force(c.left),
        ]
    };
    let heads = vec!["cycle", "from", "peak", "asked", "peak on for", "left on"];
    out.push(Block::Table(heads, cycles.seen.iter().map(row).collect()));
    let index = |i: &Option<Index>| match i {
        None => NONE.to_owned(),
        Some(i) => {
            let u =
                i.u.map_or_else(String::new, |u| format!(" ± {}", page.number(2.0 * u.value(), 4)));
            format!("{}{u}", page.number(i.value.value(), 4))
        }
    };
    let mut rows = Vec::new();
    for gauge in &cycles.gauges {
        rows.extend(gauge.cycles.iter().map(|c| {
            let mut row = vec![gauge.gauge.clone(), c.cycle.clone()];
            row.extend([c.start, c.peak, c.left].map(|v| page.small(v)));
            let indices = [
                &c.linearity,
                &c.rezeroed,
                &c.absolute,
                &c.ratio_rezeroed,
                &c.ratio_absolute,
                &c.repeatability,
            ];
            row.extend(indices.map(index));
            row
        }));
    }
    let heads = vec![
        "gauge",
        "cycle",
        "start",
        "peak",
        "left",
        "off linear",
        "permanency, rezeroed",
        "absolute",
        "ratio, rezeroed",
        "absolute",
        "repeatability",
    ];
    out.push(Block::Table(heads, rows));
}

/// The rules that stop or pause a test, and every gauge under every criterion.
pub(super) fn along(out: &mut Vec<Block>, j: &Judgement, page: &Page) {
    let rows: Vec<Vec<String>> = j
        .stops
        .iter()
        .map(|s| {
            let said = match &s.exceeded {
                _ if !s.unknown.is_empty() => {
                    format!("not looked at, nothing gives {}", s.unknown.join(", "))
                }
                None => "kept".to_owned(),
                Some(x) => {
                    let then = match x.carried_on {
                        Some(f) => format!("the load went on to {}", page.value(f, DIGITS)),
                        None => "the load did not rise after it".to_owned(),
                    };
                    format!(
                        "broken at {} under {}: {} of {}; {then}",
                        page.value(x.at, DIGITS),
                        page.value(x.force, DIGITS),
                        rule_value(x.measured, page),
                        rule_value(x.limit, page)
                    )
                }
            };
            let gauge = s.gauge.clone().unwrap_or_else(|| NONE.to_owned());
            vec![words(&s.rule), gauge, share(page, s.largest.map(Ratio::value)), said]
        })
        .collect();
    if !rows.is_empty() {
        out.push(Block::Table(vec!["stop rule", "gauge", "largest share of it", "outcome"], rows));
    }
}

fn rule_value(value: Quantity, page: &Page) -> String {
    match value.kind {
        Kind::Length => page.small(Length::from_si(value.si)),
        _ => checked(page, value, DIGITS),
    }
}

/// Every gauge under every criterion, where there is more than the one that governs.
pub(super) fn every_gauge(out: &mut Vec<Block>, j: &Judgement, page: &Page) {
    let mut rows = Vec::new();
    for c in j.judging.criteria.iter().filter(|c| c.gauges.len() > 1) {
        for g in &c.gauges {
            let of = |si: Option<f64>| {
                let q = |si| checked(page, Quantity::new(g.guarded.demand.kind, si), DIGITS);
                si.map_or_else(|| NONE.to_owned(), q)
            };
            let limit = g.guarded.limit.value();
            rows.push(vec![
                criterion(&c.about, &c.id),
                g.gauge.clone(),
                of(limit.map(|_| g.guarded.demand.si)),
                of(limit),
                g.code.state.word().to_owned(),
                g.guarded.state.word().to_owned(),
                g.reason.to_string(),
            ]);
        }
    }
    if !rows.is_empty() {
        let heads = vec!["criterion", "gauge", "value", "limit", "code", "guarded", "reason"];
        out.push(Block::Table(heads, rows));
    }
}
