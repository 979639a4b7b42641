//! What the jacks push against, and what catches the member.

use super::block::Block;
use super::catching;
use super::cell::{DIGITS, share};
use super::checklist::checklist;
use super::load_path::{circuits, gear};
use super::sketch;
use super::subject::verdicts;
use crate::design::TestDesign;
use crate::error::slug;
use crate::rig::{Advice, Pull, WeightAsked};
use crate::units::{Kind, Page, Quantified};

pub(super) fn rig(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
    let r = &design.rig;
    let title = "The force path, one scale in both directions; jacks, spreaders, wheels and counterweights without sides are symbols";
    out.push(Block::Picture(title.to_owned(), sketch::elevation(design, page)));
    let head = vec!["mark", "what", "where, from the left end of the member under test", "says"];
    out.push(Block::Table(head, sketch::marks(design, page)));
    if let Some(section) = sketch::section(design, page) {
        let joists = design.spec.scope.member.joists.is_some();
        let title = if joists { "Section across the joists" } else { "Section across the member" };
        out.push(Block::Picture(title.to_owned(), section));
    }
    checklist(out, design, page);
    let ratio =
        |f: Option<f64>| f.map_or_else(|| "nothing lifts".to_owned(), |f| page.number(f, 6));
    let several = r.reactions.len() > 1;
    let named = |id: &str, text: String| if several { format!("{id}: {text}") } else { text };
    pulls(out, design, page);
    let rows: Vec<Vec<String>> = r
        .bearings
        .iter()
        .map(|b| {
            vec![
                named(&b.reaction, page.place(b.at)),
                page.value(b.stabilising, DIGITS),
                page.value(b.uplift, DIGITS),
                ratio(b.factor),
                ratio(b.factor_without_counterweight),
                if b.verdict.slug == slug::RIG_LIFTOFF_BELOW_FLOOR {
                    share(page, Some(r.floor))
                } else {
                    "cannot lift".to_owned()
                },
                b.verdict.state.word().to_owned(),
            ]
        })
        .collect();
    if !rows.is_empty() {
        out.push(Block::Table(
            vec![
                "bearing at",
                "stabilising",
                "uplift",
                "factor (total weight)",
                "without counterweight",
                "floor",
                "state",
            ],
            rows,
        ));
    }
    if let Some(p) = r.lift_off_without_counterweight {
        out.push(Block::Text(format!(
            "Without counterweight a bearing lifts at a jack force of {}.",
            page.value(p, DIGITS)
        )));
    }
    for reaction in &r.reactions {
        if let Some(text) = reaction.advice.as_ref().map(|a| advice(a, page)) {
            out.push(Block::Text(named(&reaction.id, text)));
        }
    }
    let rows: Vec<Vec<String>> = r
        .stages
        .iter()
        .map(|s| {
            let reactions = s.reactions.iter().map(|x| {
                let force = page.value(x.force, DIGITS);
                let moment = page.value(x.moment, DIGITS);
                if page.settled(x.moment.quantity()).abs() > 0.0 {
                    format!("{force} and {moment}")
                } else {
                    force
                }
            });
            vec![
                named(&s.reaction, s.name.to_string()),
                reactions.collect::<Vec<_>>().join("; "),
                format!("{} at {}", page.value(s.shear, DIGITS), page.place(s.shear_at)),
                format!("{} at {}", page.value(s.sagging, DIGITS), page.place(s.sagging_at)),
                format!(
                    "{} at {}",
                    page.value(s.least_moment, DIGITS),
                    page.place(s.least_moment_at)
                ),
                s.verdicts
                    .iter()
                    .map(|v| {
                        let used = share(page, v.utilisation);
                        let kind = if v.demand.kind == Kind::Force { "shear" } else { "moment" };
                        // the three stay on one line
                        format!("{kind}\u{a0}{used}\u{a0}{}", v.state)
                    })
                    .collect::<Vec<_>>()
                    .join("\n"),
            ]
        })
        .collect();
    if !rows.is_empty() {
        out.push(Block::Table(
            vec![
                "stage of the reaction member",
                "reactions from left to right",
                "shear",
                "largest sagging",
                "least moment",
                "strength used: shear, sagging, hogging",
            ],
            rows,
        ));
    }
    for h in &r.hydraulics {
        let circuit = h.circuit.as_ref().map_or_else(String::new, |c| format!("Circuit {c}: "));
        out.push(Block::Text(format!("{circuit}Pressure at full load {} ({} without friction); stroke needed {} (soft), stretch of the bars {}; stiffness of the rig {}.", page.value(h.pressure, DIGITS), page.value(h.pressure_without_friction, DIGITS), page.small(h.travel), page.small(h.bar_stretch), h.stiffness.map_or_else(|| "without limit: nothing moves".to_owned(), |k| page.value(k, DIGITS)))));
    }
    gear(out, design, page);
    circuits(out, design, page);
    verdicts(out, &r.verdicts, design, page);
}

/// What pulls on the reaction, where that is not at the one jack alone; the anchors.
fn pulls(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
    let r = &design.rig;
    let beside = |p: &Pull| r.presses.get(p.press).is_none_or(|j| (j.at - p.at).si().abs() > 1e-9);
    if r.pulls.len() > 1 || r.pulls.iter().any(beside) {
        let name = |i: usize| r.reactions.get(i).map_or("", |x| x.id.as_str());
        let rows = r.pulls.iter().map(|p| {
            let jack = r.presses.get(p.press).map_or_else(String::new, |j| page.place(j.at));
            vec![page.place(p.at), page.value(p.force, DIGITS), jack, name(p.reaction).to_owned()]
        });
        out.push(Block::Table(
            vec!["bars hold at", "force", "of the jack at", "on"],
            rows.collect(),
        ));
    }
    for anchors in r.reactions.iter().map(|x| &x.anchors).filter(|a| !a.is_empty()) {
        let rows = anchors.iter().map(|a| {
            vec![
                page.place(a.at),
                page.value(a.force, DIGITS),
                share(page, a.verdict.utilisation),
                a.verdict.state.word().to_owned(),
            ]
        });
        out.push(Block::Table(
            vec!["anchor at", "force", "strength used", "state"],
            rows.collect(),
        ));
    }
}

fn advice(advice: &Advice, page: &Page) -> String {
    match advice {
        Advice::Place(a) => {
            let at_bearing = match a.at_bearing {
                WeightAsked::Weight(force) => {
                    format!("{} would do for lift-off and nothing against reversal", page.value(force, DIGITS))
                }
                WeightAsked::Nothing => "lift-off asks for none".to_owned(),
                WeightAsked::NoSuchWeight => "no weight would do: the other bearing lifts too".to_owned(),
            };
            format!("Least single counterweight for the floor and the hogging allowed: {} at {} (lift-off asks {}, moment reversal {}). At the bearing {at_bearing}.", page.value(a.force, DIGITS), page.place(a.at), page.value(a.for_lift_off, DIGITS), page.value(a.for_reversal, DIGITS))
        }
        Advice::NothingLifts => "Own weight is enough: no counterweight is asked for by the floor and the hogging allowed.".to_owned(),
        Advice::NoSuchWeight => "No single counterweight keeps the floor and the hogging allowed.".to_owned(),
        Advice::NotSought => "The least counterweight is sought for a single span between two bearings only.".to_owned(),
    }
}

pub(super) fn shoring(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
    let s = &design.shoring;
    out.push(Block::Text("A crack or open hinge anywhere in a region in doubt passes no shear and no moment; both pieces are caught. Every catch below stands under the crack that loads it most.".to_owned()));
    let rows = s
        .catches
        .iter()
        .map(|c| {
            vec![
                page.place(c.at),
                c.crack.map_or_else(|| "nothing falls on it".to_owned(), |x| page.place(x)),
                page.value(c.own, DIGITS),
                page.value(c.test, DIGITS),
                page.value(c.contact_force, DIGITS),
                page.value(c.force, DIGITS),
                page.value(c.resistance, DIGITS),
            ]
        })
        .collect();
    out.push(Block::Table(
        vec![
            "catch at",
            "crack at",
            "static, in place",
            "static, test load as weights",
            "force without a gap",
            "force with the gap given",
            "posts carry",
        ],
        rows,
    ));
    catching::dynamics(out, design, page);
    let rows = s
        .catches
        .iter()
        .flat_map(|c| {
            let last = c.gap_steps.len();
            c.gap_steps.iter().enumerate().map(move |(i, step)| {
                let high = if i + 1 == last {
                    c.gap_high.map_or_else(|| "no drop at all".to_owned(), |h| page.small(h))
                } else {
                    String::new()
                };
                vec![
                    page.place(c.at),
                    share(page, Some(step.fraction.value())),
                    page.small(step.low),
                    page.small(step.recommended),
                    high,
                ]
            })
        })
        .collect();
    out.push(Block::Table(
        vec![
            "catch at",
            "step",
            "least gap: reading expected + U",
            "with the clearance of the library rule",
            "most that the catch can stop",
        ],
        rows,
    ));
    out.push(Block::Text("Lower the heads at each held step, after the reading.".to_owned()));
    for floor in &s.floors {
        out.push(Block::Text(format!("The floor {} under own weight, counterweights and what falls, the uplift gone: shear {}, sagging {}, hogging {}.", floor.id, page.value(floor.shear, DIGITS), page.value(floor.sagging, DIGITS), page.value(floor.hogging, DIGITS))));
    }
    let levels: Vec<String> = design
        .spec
        .shoring
        .levels
        .iter()
        .map(|l| l.id.clone())
        .chain(design.spec.shoring.to_ground.then(|| "ground".to_owned()))
        .collect();
    let rows = levels
        .into_iter()
        .zip(&s.levels)
        .map(|(id, share)| {
            vec![
                id,
                self::share(page, Some(share.share.value())),
                page.value(s.force * share.share.value(), DIGITS),
            ]
        })
        .collect();
    let on: Vec<&str> = s.floors.iter().map(|f| f.id.as_str()).collect();
    if !on.is_empty() && !design.spec.shoring.levels.is_empty() {
        out.push(Block::Text(format!("The top level is the floor that the catches stand on ({}): its check above counts the share of that level, the posts below it take the rest further down.", on.join(", "))));
    }
    out.push(Block::Table(vec!["level, the top first", "share", "force"], rows));
    catching::stack(out, design, page);
    if let Some(n) = s.levels_needed {
        out.push(Block::Text(format!("Levels needed: {n}.")));
    }
    verdicts(out, &s.verdicts, design, page);
}
