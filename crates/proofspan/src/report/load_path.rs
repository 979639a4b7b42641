//! The load path of the rig in words and tables: circuits, beams, jack trains, blocks.

use super::block::Block;
use super::cell::DIGITS;
use crate::design::TestDesign;
use crate::rig::{Hydraulics, Locked, Placement};
use crate::units::{Duration, Force, Length, Page, trimmed};

/// Jacks, oil and pump of every circuit.
pub(super) fn circuits(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
    for h in &design.rig.hydraulics {
        let name = h.circuit.as_ref().map_or_else(String::new, |c| format!("Circuit {c}: "));
        out.push(Block::Text(format!("{name}{}", released(h, page))));
        if let Some(locked) = &h.locked {
            held(out, &name, locked, design, page);
        }
    }
}

/// Beams and jack train, the blocks that were chosen, and how far the reaction rises.
pub(super) fn gear(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
    let rig = &design.rig;
    let rows: Vec<Vec<String>> = rig
        .beams
        .iter()
        .map(|b| {
            vec![
                b.id.clone(),
                page.value(b.force, DIGITS),
                page.value(b.moment, DIGITS),
                page.value(b.shear, DIGITS),
                page.small(b.deflection),
                b.sideways.map_or_else(String::new, |m| page.value(m, DIGITS)),
            ]
        })
        .collect();
    if !rows.is_empty() {
        let columns =
            vec!["beam of the rig", "force", "bending", "shear", "gives", "buckles sideways at"];
        out.push(Block::Table(columns, rows));
    }
    for h in rig.hydraulics.iter().filter(|h| !h.rams.is_empty()) {
        rams(out, h, page);
    }
    if let Some(t) = &rig.train {
        out.push(Block::Text(format!(
            "Jack train under {}: {} sideways, {} off its line, {} of bending.",
            page.value(t.force, DIGITS),
            page.value(t.sideways, DIGITS),
            page.small(t.eccentricity),
            page.value(t.moment, DIGITS)
        )));
    }
    for reaction in &rig.reactions {
        if let Some(response) = &reaction.response {
            let end = response.length();
            let least = response.inside().deflection_extremes(Length::ZERO, end).min;
            if let Some((from, _)) = reaction.reach.filter(|_| least.value < Length::ZERO) {
                out.push(Block::Text(format!("{} rises by up to {} at {} under the full jack force (soft, uncracked); a gauge that stands on it reads that much more.", reaction.id, page.small(-least.value), page.place(from + least.at))));
            }
        }
    }
    if let Some(p) = &rig.placement {
        blocks(out, p, page);
    }
}

/// Jacks that differ, one by one.
fn rams(out: &mut Vec<Block>, h: &Hydraulics, page: &Page) {
    let rows = h.rams.iter().enumerate().map(|(i, r)| {
        let end = if r.at_end { "at the end of its stroke" } else { "" };
        vec![
            (i + 1).to_string(),
            page.value(r.force, DIGITS),
            format!("{} to {}", page.value(r.least, DIGITS), page.value(r.most, DIGITS)),
            format!("{} of {}", page.small(r.way), page.small(r.stroke)),
            r.held.map_or_else(String::new, |f| page.value(f, DIGITS)),
            end.to_owned(),
        ]
    });
    let columns = vec![
        "jack",
        "force",
        "friction lets it give",
        "way",
        "at the end of the hold, not topped up",
        "",
    ];
    out.push(Block::Table(columns, rows.collect()));
    if let Some(e) = h.off_middle {
        out.push(Block::Text(format!(
            "On one pressure the resultant of these jacks stands {} from where equal jacks would have it, across the member.",
            page.small(e)
        )));
    }
}

fn blocks(out: &mut Vec<Block>, p: &Placement, page: &Page) {
    out.push(Block::Text(format!("Blocks: {} lifts, {} in all; no layout at hand has fewer lifts, nor as few and less weight. {} such, of which the first is built and checked. Placed in the order of the rows, taken away in the reverse order with the jacks off.", p.lifts, page.value(p.weight, DIGITS), p.ties)));
    let rows = p.layouts.iter().enumerate().flat_map(|(i, layout)| {
        layout.groups.iter().map(move |g| {
            vec![
                (i + 1).to_string(),
                format!("{} x {}", g.number, g.kind),
                format!("{} to {}", page.place(g.from), page.place(g.to)),
                format!("{} columns of up to {}", g.columns, g.layers),
                page.value(g.force, DIGITS),
            ]
        })
    });
    out.push(Block::Table(
        vec!["layout", "blocks", "from and to", "stacked", "weight"],
        rows.collect(),
    ));
}

/// What is stored, and how fast the load falls when the member gives way.
fn released(h: &Hydraulics, page: &Page) -> String {
    let force = |f: Force| page.value(f, DIGITS);
    let differ = (h.jack_most > h.jack_least).then(|| {
        format!(
            "Friction lets one jack give {} to {} of {}. ",
            force(h.jack_least),
            force(h.jack_most),
            force(h.force_per_jack)
        )
    });
    let stored = match (h.springs_back, h.energy, h.falls_by) {
        (Some(s), Some(energy), Some(k)) => format!("When the member gives way the locked-off force falls by {} and is gone after {}; reaction, bars and oil give back {}.", page.value(k, DIGITS), page.small(s), page.value(energy, DIGITS)),
        (Some(_), ..) => "When the member gives way the locked-off force is gone at once.".to_owned(),
        _ => "How far the load follows the member when it gives way is not known (oil, bars, what the reaction gives, air or an accumulator): it counts like a weight.".to_owned(),
    };
    differ.unwrap_or_default() + &stored
}

/// A stretch of time in minutes or hours.
pub(super) fn time(t: Duration, page: &Page) -> String {
    let (value, unit) =
        if t.si() < 7200.0 { (t.si() / 60.0, "min") } else { (t.si() / 3600.0, "h") };
    format!("{} {unit}", trimmed(&page.number(value, 1)))
}

/// The hold of a locked-off circuit: every number that a crew needs to keep the load.
fn held(out: &mut Vec<Block>, name: &str, l: &Locked, design: &TestDesign, page: &Page) {
    let force = |f: Force| page.value(f, DIGITS);
    let mut rows: Vec<Vec<String>> = Vec::new();
    let mut row = |what: &str, value: Option<String>| {
        rows.extend(value.map(|v| vec![format!("{name}{what}"), v]));
    };
    row("stiffness of the load path, stiff prediction", l.stiffness.map(|k| page.value(k, DIGITS)));
    row("one stroke of the pump brings", l.per_stroke.map(force));
    row("the oil cools: the force falls by", l.cooling.map(force));
    row("the oil warms: the force rises by", l.warming.map(force));
    row("the bars warm or cool: either way", l.bars.map(force));
    let over = l.leak_over.map_or_else(String::new, |t| time(t, page));
    row(&format!("the leak takes in {over}"), l.leak.map(force));
    row("the creep of the member takes", l.creep.map(force));
    row("band, either way", l.band.map(force));
    row("top up at the latest every", l.top_up_after.map(|t| time(t, page)));
    let hold = design.schedule().ok().and_then(|s| s.steps.last()).map(|s| s.hold);
    let lost = hold.zip(l.leak).zip(l.leak_over).map(|((hold, lost), over)| {
        let all = lost * (hold / over);
        format!(
            "{} in {} if nobody tops up, besides temperature",
            force(all.min(l.force)),
            time(hold, page)
        )
    });
    row("the leak takes in the hold at full load", lost);
    row("class of the gauge", l.gauge_class.map(force));
    row("one division of the gauge", l.gauge_division.map(force));
    if !l.oil_known {
        row("oil", Some("not described: it counts as stiff".to_owned()));
    }
    out.push(Block::Table(
        vec!["locked-off circuit at full load, all its jacks together", "number"],
        rows,
    ));
}
