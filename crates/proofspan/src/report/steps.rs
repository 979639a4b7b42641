//! The steps of the schedule.

use super::block::Block;
use super::cell::{DIGITS, NONE, amount};
use crate::design::TestDesign;
use crate::protocol::PlannedCycle;
use crate::units::{Force, Net, Page, trimmed};

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
            vec![
                format!("{} %", page.number(s.fraction.value() * 100.0, 0)),
                page.value(s.force.0, DIGITS),
                page.value(s.force_per_jack.0, DIGITS),
                s.pressure.map_or_else(|| NONE.to_owned(), |p| page.value(p, DIGITS)),
                if carriers.is_empty() { NONE.to_owned() } else { carriers.join("\n") },
                format!("{} min", trimmed(&page.number(s.hold.si() / 60.0, 2))),
                readings.join("\n"),
            ]
        })
        .collect();
    out.push(Block::Table(
        vec![
            "step",
            "net force per unit",
            "per jack, most",
            "pressure, most",
            "each carrier",
            "hold at least",
            "reading expected, stiff to soft",
        ],
        rows,
    ));
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
