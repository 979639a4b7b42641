//! What the people on site hold in their hands: the zone, who goes in and when, and the numbers.

use super::block::Block;
use super::carriers_drawn::{all_of, order};
use super::cell::DIGITS;
use crate::design::TestDesign;
use crate::units::{Force, Length, Page};

/// The checklist for people, with the numbers that matter.
pub(super) fn checklist(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
    let force = |f: Force| page.value(f, DIGITS);
    let mut rows: Vec<Vec<String>> = Vec::new();
    let mut row = |what: &str, number: String| rows.push(vec![what.to_owned(), number]);
    let spec = &design.spec;
    let beams = design.rig.reactions.iter().filter_map(|r| r.reach);
    let length = design.target.beam.length();
    let (from, to) = beams.fold((Length::ZERO, length), |(a, b), r| (a.min(r.0), b.max(r.1)));
    row(
        "Zone: nobody under, on or beside it",
        format!(
            "from {} to {} along the member and on every side as far as the member stands above the floor; on every level that carries the catch too; never in line with bars or hoses",
            page.place(from),
            page.place(to)
        ),
    );
    row("Who goes in", "the one named person, at a held step, after the stable reading, to read, to look and to lower the heads; head count before every step".to_owned());
    row(&format!("Load of the member, {}", all_of(design)), force(design.force().0));
    if let Some(order) = order(design) {
        row(
            "Order of filling and stacking, at every step",
            format!("{order}; taken away in the reverse order"),
        );
    }
    if let (Some(one), Some(p)) = (design.rig.force_per_jack(), design.rig.pressure()) {
        row(
            "One jack at full load, and its pressure",
            format!("{}, {}", force(one.0), page.value(p, DIGITS)),
        );
    }
    for jacks in &spec.rig.jacks {
        let name = jacks.circuit.as_ref().map_or_else(String::new, |c| format!("Circuit {c}: "));
        let rated = page.value(jacks.rated_pressure.value, DIGITS);
        let of =
            |h: &&crate::rig::Hydraulics| h.circuit == jacks.circuit || spec.rig.jacks.len() == 1;
        let planned = design.rig.hydraulics.iter().find(of).map(|h| h.pressure);
        row(
            &format!("{name}pressure never above"),
            match planned {
                Some(p) => {
                    format!("{} (full load; the jacks are rated {rated})", page.value(p, DIGITS))
                }
                None => format!("what the full load takes (the jacks are rated {rated})"),
            },
        );
        let relief = jacks.fittings.as_ref().and_then(|f| f.relief.as_ref());
        row(
            &format!("{name}relief valve opens at"),
            relief.map_or_else(
                || "not stated: set and try it before the first step".to_owned(),
                |p| page.value(p.value, DIGITS),
            ),
        );
        row(&format!("{name}pump"), jacks.pump.as_ref().map_or_else(|| "not described: its least stroke, dead-man and remote release are not known; try them with the members apart".to_owned(), |_| "dead-man and remote release tried today".to_owned()));
        row(&format!("{name}hold"), jacks.hold.as_ref().map_or_else(|| "not described: what a cold night or a leak takes from the locked-off force is not predicted; read the cell at every reading, top up without overshoot, log every stroke".to_owned(), |_| "see the table of the locked-off circuit".to_owned()));
    }
    for (catch, found) in spec.shoring.catch.iter().zip(&design.shoring.catches) {
        let steps: Vec<String> =
            found.gap_steps.iter().map(|s| page.small(s.recommended)).collect();
        row(
            &format!(
                "Catch at {}: clear gap after each step's reading",
                page.place(catch.at.value)
            ),
            format!("{}; never opened to a limit", steps.join(", ")),
        );
    }
    if !design.rig.bearings.is_empty() {
        row("Weights", "weighed, named and placed as the sketch shows, in the order of their marks, before any jack moves; taken away in the reverse order, after the jacks are off".to_owned());
    }
    let gear = [
        (
            spec.rig.train.is_some(),
            "Jack trains",
            "braced both ways, one rocking seat at each end, every loose part retained",
            "not described: at most one rocking seat at each end, 2.5 % sideways, braced both ways, loose parts retained",
        ),
        (
            !spec.rig.beams.is_empty(),
            "Beams of the rig",
            "held sideways, contacts level",
            "not described: bending, shear, web and stability of spreaders and reaction beams are not checked here",
        ),
        (
            !spec.rig.holes.is_empty(),
            "Holes and cuts",
            "scan and recheck on record, see the stops",
            "none is described: nothing is drilled or cut",
        ),
    ];
    for (there, what, said, missing) in gear {
        if !design.rig.presses.is_empty() {
            row(what, if there { said } else { missing }.to_owned());
        }
    }
    row("When something gives way", "release from outside the zone; leave the catch loaded; close the zone; make safe before any reading; no unloading by hand".to_owned());
    out.push(Block::Table(vec!["checklist for people", "number or rule"], rows));
}
