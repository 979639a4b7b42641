//! The steps of the schedule.

use super::block::Block;
use super::carriers_drawn::{jacked, order};
use super::cell::{DIGITS, NONE, amount};
use super::load_path::time;
use crate::design::TestDesign;
use crate::protocol::{PlannedCycle, Step};
use crate::units::{Duration, Force, Net, Page};

/// What the holds do to the force of the locked-off circuits.
fn held(out: &mut Vec<Block>, steps: &[Step], page: &Page) {
    let force = |f: Force| page.value(f, DIGITS);
    let after = |t: Option<Duration>| t.map_or_else(|| NONE.to_owned(), |t| time(t, page));
    let each = |s: &Step| s.held.iter().map(|h| (s.fraction, h.clone())).collect::<Vec<_>>();
    let rows: Vec<Vec<String>> = steps
        .iter()
        .flat_map(each)
        .map(|(fraction, h)| {
            vec![
                format!("{} %", page.number(fraction.value() * 100.0, 0)),
                h.circuit.unwrap_or_else(|| NONE.to_owned()),
                force(h.least),
                force(h.most),
                force(h.band),
                if h.leaves_band {
                    "temperature and creep alone leave the band: top up as the cell says".to_owned()
                } else {
                    after(h.top_up_after)
                },
                after(h.then_every),
            ]
        })
        .collect();
    if !rows.is_empty() {
        let head = vec![
            "hold of step",
            "circuit",
            "least force at its end if nobody tops up, cold night",
            "largest, hot night",
            "band, either way",
            "top up after",
            "then every",
        ];
        out.push(Block::Table(head, rows));
    }
}

/// How far the readings of two people may be apart.
fn readers(out: &mut Vec<Block>, design: &TestDesign, steps: &[Step], page: &Page) {
    let Some(last) = steps.last() else { return };
    let gauges = &design.spec.protocol.gauges;
    let rows: Vec<Vec<String>> = last
        .readings
        .iter()
        .filter_map(|r| {
            let name = gauges.get(r.gauge).map(|g| g.id.clone())?;
            Some(vec![name, page.small(r.readers_apart?)])
        })
        .collect();
    if !rows.is_empty() {
        let head = vec![
            "gauge, read by two people at every hold",
            "their readings may be apart by; beyond it both read again",
        ];
        out.push(Block::Table(head, rows));
    }
}

pub(super) fn schedule(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
    let steps = match design.schedule() {
        Ok(schedule) => &schedule.steps,
        Err(held) => {
            let codes = held.codes().join(", ");
            out.push(Block::Stop(format!("The steps are withheld while a stop holds: {codes}.")));
            return;
        }
    };
    let gauges = &design.spec.protocol.gauges;
    // weights and water have no jack and no pressure
    let jacks = jacked(design);
    let rows = steps
        .iter()
        .map(|s| {
            let carriers: Vec<String> = s
                .carriers
                .iter()
                .filter(|_| {
                    s.carriers.len() > 1 || s.force_per_jack.0.si() <= 0.0 || s.pressure.is_none()
                })
                .map(|c| {
                    let mut parts = vec![c.name.to_string(), page.value(c.force.0, DIGITS)];
                    parts.extend(
                        c.force_per_jack.map(|f| format!("jack {}", page.value(f.0, DIGITS))),
                    );
                    parts.extend(c.pressure.map(|p| page.value(p, DIGITS)));
                    parts.extend(amount(c.layers, c.depth, page));
                    parts.join(", ")
                })
                .collect();
            let readings: Vec<String> = s
                .readings
                .iter()
                .map(|r| {
                    format!(
                        "{}: {} to {}",
                        gauges.get(r.gauge).map_or("", |g| g.id.as_str()),
                        page.small(r.stiff),
                        page.small(r.soft)
                    )
                })
                .collect();
            let mut row = vec![
                format!("{} %", page.number(s.fraction.value() * 100.0, 0)),
                page.value(s.force.0, DIGITS),
            ];
            if jacks {
                row.push(page.value(s.force_per_jack.0, DIGITS));
                row.push(s.pressure.map_or_else(|| NONE.to_owned(), |p| page.value(p, DIGITS)));
            }
            row.extend([
                if carriers.is_empty() { NONE.to_owned() } else { carriers.join("\n") },
                time(s.hold, page),
                readings.join("\n"),
            ]);
            row
        })
        .collect();
    let mut head = vec!["step", "net force per unit"];
    if jacks {
        head.extend(["per jack, most", "pressure, most"]);
    }
    head.extend(["each carrier", "hold at least", "reading expected, stiff to soft"]);
    out.push(Block::Table(head, rows));
    if let Some(order) = order(design) {
        out.push(Block::Text(format!(
            "Order within every step: {order}; while unloading the reverse."
        )));
    }
    held(out, steps, page);
    readers(out, design, steps, page);
    if let Ok(schedule) = design.schedule()
        && !schedule.cycles.is_empty()
    {
        let cycle = |c: &PlannedCycle| {
            let force = |f: Net<Force>| page.value(f.0, DIGITS);
            let steps: Vec<String> = c.steps.iter().map(|s| force(s.force)).collect();
            vec![c.name.clone(), c.pair.to_string(), steps.join(", "), force(c.least)]
        };
        let rows = schedule.cycles.iter().map(cycle).collect();
        out.push(Block::Table(
            vec!["cycle", "pair", "net force of its steps, the peak last", "back to"],
            rows,
        ));
        out.push(Block::Text("The steps above are those of the last cycle. Hold the least load before the first cycle and between all, and read at every peak and every least load; after the last cycle go to nothing.".to_owned()));
    }
    let pause = match &design.spec.protocol.cracked {
        Some(survey) => format!("soft prediction, because the member was found cracked ({survey})"),
        None => "stiff prediction".to_owned(),
    };
    out.push(Block::Text(format!("Unload in the same steps. The test director authorises each step; anyone may stop. Pause above 1.25 times the {pause}, or 1.25 times what the first steps showed in proportion (common practice, no source).")));
}
