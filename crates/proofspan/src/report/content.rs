//! What the report says, in order.

use super::block::Block;
use super::catching;
use super::cell::{DIGITS, NONE, checked, share};
use super::checklist::checklist;
use super::corrections::corrections;
use super::diagram::{curve, diagram};
use super::headline::{headline, planned, stages};
use super::history::Along;
use super::label;
use super::load_path::{circuits, gear, time};
use super::predicted::predicted;
use super::signing::{people, signed, windows};
use super::sketch;
use super::subject::called;
use super::witness::{along, cycles, every_gauge, measured};
use crate::beam::Side;
use crate::design::TestDesign;
use crate::equivalent::Effect;
use crate::error::{Error, slug};
use crate::formula::Working;
use crate::judge::Judgement;
use crate::protocol::{PlannedCycle, Step};
use crate::rig::{Advice, Pull, WeightAsked};
use crate::source::Write;
use crate::target::Asked;
use crate::units::{
    Duration, Force, Kind, Length, LoadBasis, Net, Page, Quantified, Quantity, trimmed,
};
use crate::verdict::{Limit, State, Verdict};

/// The page of the report: every value of the answer, and of its working, counts.
fn page(design: &TestDesign, judgement: Option<&Judgement>, working: &Working) -> Page {
    let mut page = design.page();
    design.write().seen(&mut page);
    if let Some(j) = judgement {
        j.write().seen(&mut page);
    }
    for step in working.steps() {
        page.see(step.result.1);
    }
    page
}

/// The governing term, or that several tie.
fn governs<Q>(g: &crate::target::Governing<Q>, t: &crate::target::Target) -> String {
    let name = t.term_name(g.term);
    match (g.tied, g.near) {
        (true, _) => format!("{name} (tie)"),
        (false, Some(near)) => format!("{name} (within 1 %: {})", t.term_name(near)),
        _ => name.to_owned(),
    }
}

/// Every block of the report.
pub(super) fn content(
    design: &TestDesign,
    judgement: Option<&Judgement>,
) -> Result<Vec<Block>, Error> {
    let working = design.working()?;
    let page = page(design, judgement, &working);
    let mut out = vec![Block::Heading(1, design.spec.title.clone())];
    out.extend(design.spec.about.iter().map(|t| Block::Text(t.clone())));
    out.extend(design.spec.scope.question.iter().map(|q| Block::Text(format!("Question: {q}"))));
    if let Some(j) = judgement {
        let (state, sentence) = headline(design, j, &page);
        out.push(Block::State(state, sentence));
        for finding in &j.findings {
            out.push(Block::Caution(format!("Carried on: {finding}.")));
        }
    } else {
        out.push(Block::Text(planned(design, &page)));
    }
    out.push(Block::Caution("A failed test can hurt people. Clear the zone and keep it clear; nobody under, on, or in line with bars or hoses while the load rises; catch the member; load in steps; brittle modes give no warning. The code adopted at the place and licensed practice come first. This report never calls a member safe.".to_owned()));
    for stop in design.stops() {
        let state = match &stop.lifted {
            None => "holds".to_owned(),
            Some(o) => format!(
                "lifted by {} ({}), {}: {}; measure: {}; second signature: {}",
                o.name, o.role, o.date, o.reason, o.measure, o.second_signature
            ),
        };
        out.push(Block::Stop(format!(
            "Stop, {} ({state}): {} [{}; code {}]",
            stop.slug.gist(),
            stop.message,
            stop.path,
            stop.slug
        )));
    }
    parts(&mut out, design, None, &page);
    let mut workings = vec![(None, working)];
    for (name, stage) in design.later() {
        let own = stage.working()?;
        let page = self::page(stage, None, &own);
        out.push(Block::Heading(1, format!("Stage {name}")));
        out.push(Block::Text(
            "The member is unloaded and zero is read anew before this stage.".to_owned(),
        ));
        parts(&mut out, stage, Some(name), &page);
        workings.push((Some(name), own));
    }
    if let Some(j) = judgement {
        if let Some(whole) = Along::whole(j) {
            out.push(Block::Heading(2, "All stages".to_owned()));
            let pictures = whole.pictures(&page).into_iter();
            out.extend(pictures.map(|(title, svg)| Block::Picture(title, svg)));
        }
        judged(&mut out, j, None, &page);
        for (name, later) in &j.later {
            out.push(Block::Heading(1, format!("Stage {name}: what it did")));
            match later {
                Some(later) => {
                    out.push(Block::State(
                        later.judging.guarded.state,
                        format!("{} (guarded), stage {name}.", later.judging.guarded.because),
                    ));
                    judged(&mut out, later, Some(name), &page);
                }
                None => out.push(Block::Text(
                    "The log does not hold this stage: nothing is said of it.".to_owned(),
                )),
            }
        }
    }
    if let Some(j) = judgement {
        by_edition(&mut out, j);
        people(&mut out, design, j, &page);
    }
    notes(&mut out, design, judgement);
    signed(&mut out, design, judgement, &page);
    inputs(&mut out, design);
    out.push(Block::Heading(2, "Working".to_owned()));
    out.push(Block::Text("Every line can be redone with a pencil: what is computed, the formula, the numbers put in, the result, the source.".to_owned()));
    for (stage, working) in workings {
        out.extend(stage.map(|name| Block::Heading(3, format!("Stage {name}"))));
        out.push(Block::Working(working.lines(page.system())));
    }
    Ok(out)
}

/// What every edition says of the same record, where that was asked for.
fn by_edition(out: &mut Vec<Block>, j: &Judgement) {
    let Some(all) = &j.by_edition else { return };
    out.push(Block::Heading(2, "The same record by every edition".to_owned()));
    let stage = if j.later.is_empty() { "" } else { " It is the first stage." };
    out.push(Block::Text(format!("The load was chosen by one edition at most: each outcome speaks of the criteria of its edition at the load that was on, and none of them is the headline.{stage}")));
    let head = vec!["edition", "criterion", "comparison", "code", "guarded"];
    let or_none = |cell: String| if cell.is_empty() { NONE.to_owned() } else { cell };
    let rows = all.rows().into_iter().map(|row| row.into_iter().map(or_none).collect());
    out.push(Block::Table(head, rows.collect()));
}

/// A heading that says to which later stage it belongs.
fn heading(text: &str, stage: Option<&str>) -> Block {
    let of = stage.map_or_else(String::new, |name| format!(" (stage {name})"));
    Block::Heading(2, format!("{text}{of}"))
}

/// What is tested, by what, and how: the parts of one stage.
fn parts(out: &mut Vec<Block>, design: &TestDesign, stage: Option<&str>, page: &Page) {
    let titles = [
        "What the test must reproduce",
        "What reproduces it",
        "What is predicted of the member",
        "What they push against",
        "What catches it",
        "Steps",
    ];
    let each: [fn(&mut Vec<Block>, &TestDesign, &Page); 6] =
        [target, layout, predicted, rig, shoring, schedule];
    for (title, part) in titles.into_iter().zip(each) {
        out.push(heading(title, stage));
        part(out, design, page);
    }
}

fn target(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
    let t = &design.target;
    out.push(Block::Text(format!(
        "{}, {}. In doubt: {}. Every value {}.",
        design.set.edition.name(),
        design.set.why,
        t.regions
            .iter()
            .map(|r| format!("{} from {} to {}", r.mode, page.place(r.from), page.place(r.to)))
            .collect::<Vec<_>>()
            .join("; "),
        t.unit
    )));
    let rows = t
        .rows()
        .iter()
        .map(|r| {
            vec![
                r.id.to_string(),
                r.factors()
                    .map(|(s, f)| format!("{} {}", trimmed(&page.number(f, 6)), s.symbol()))
                    .collect::<Vec<_>>()
                    .join(" + "),
            ]
        })
        .collect();
    out.push(Block::Table(vec!["term", "total = factors × nominal actions"], rows));
    let mid = t.beam.length() / 2.0;
    let mut rows = Vec::new();
    for (x, side) in [(t.from, Side::Right), (t.to, Side::Left), (mid, Side::Left)] {
        let (v, tv) = (t.inside().shear(x, side), t.inside().total_shear(x, side));
        rows.push(vec![
            format!("shear at {}{}", page.place(x), side.sign()),
            page.value(v.value.0, DIGITS),
            governs(&v, t),
            page.value(tv.value.0, DIGITS),
            governs(&tv, t),
        ]);
        let (m, tm) = (t.inside().moment(x), t.inside().total_moment(x));
        rows.push(vec![
            format!("moment at {}", page.place(x)),
            page.value(m.value.0, DIGITS),
            governs(&m, t),
            page.value(tm.value.0, DIGITS),
            governs(&tm, t),
        ]);
    }
    out.push(Block::Table(vec!["quantity", "net", "governed by", "total", "governed by"], rows));
    let mut rows = Vec::new();
    for asked in [Asked::Shear, Asked::Moment] {
        for c in [LoadBasis::Net, LoadBasis::Total].into_iter().flat_map(|b| t.crossings(asked, b))
        {
            let asked = if asked == Asked::Shear { "shear" } else { "moment" };
            rows.push(vec![
                format!("{asked}, {}", c.basis),
                page.place(c.at),
                t.term_name(c.left).to_owned(),
                t.term_name(c.right).to_owned(),
            ]);
        }
    }
    if !rows.is_empty() {
        let head = vec!["where the governing term changes", "at", "left of it", "right of it"];
        out.push(Block::Table(head, rows));
    }
}

fn layout(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
    let l = &design.layout;
    let t = &design.target;
    let rows = l.carriers.iter().map(|c| {
        let (jack, pressure) = design.driven(c);
        vec![
            c.kind.to_string(),
            page.place(c.at),
            format!("{} to {}", page.place(c.from), page.place(c.to)),
            page.value(c.force.0, DIGITS),
            jack.map_or_else(|| NONE.to_owned(), |f| page.value(f.0, DIGITS)),
            pressure.map_or_else(|| NONE.to_owned(), |p| page.value(p, 4)),
            amount(c.layers, c.depth, page)
                .or_else(|| c.circuit.clone())
                .unwrap_or_else(|| NONE.to_owned()),
        ]
    });
    let head = vec![
        "carrier",
        "acts at",
        "covers",
        "net force per member unit",
        "each jack",
        "pressure",
        "layers, depth or circuit",
    ];
    out.push(Block::Table(head, rows.collect()));
    let rows =
        l.lines.iter().map(|x| vec![page.place(x.at), page.value(x.force.0, DIGITS)]).collect();
    out.push(Block::Table(vec!["contact at", "net force per member unit"], rows));
    out.push(Block::Text(format!(
        "Sum {} net {}. Set by the {} of term {} at {}.",
        page.value(l.force.0, DIGITS),
        t.unit,
        l.governed_by.0,
        t.term_name(l.governed_by.2),
        page.place(l.governed_by.1)
    )));
    proof(out, design, page);
    overshoots(out, design, page);
    out.push(Block::Text(format!("A separate verifier found the least ratio of test to reference, over every x of the region and every term, to be {}.", page.number(1.0 - l.verification.violation, 8))));
    if !l.bounds.is_empty() {
        let rows = l
            .bounds
            .iter()
            .map(|b| {
                let of = |e: Effect| {
                    b.least.iter().find(|s| s.effect == e).map_or_else(
                        || NONE.to_owned(),
                        |s| {
                            format!(
                                "{} at {}",
                                page.number(s.fidelity.value(), 6),
                                page.place(s.at)
                            )
                        },
                    )
                };
                vec![b.ends.word().replace('_', " "), of(Effect::Shear), of(Effect::Moment)]
            })
            .collect();
        out.push(Block::Table(
            vec![
                "if the ends were",
                "least shear ratio",
                "least moment ratio (below 0: other sign)",
            ],
            rows,
        ));
    }
    verdicts(out, &l.verdicts, design, page);
    out.push(Block::Picture(
        "Shear, net: reference (envelope of terms) and test".to_owned(),
        diagram(design, Effect::Shear, page),
    ));
    out.push(Block::Picture(
        "Moment, net: reference (envelope of terms) and test".to_owned(),
        diagram(design, Effect::Moment, page),
    ));
    let (jack, reference) = design.largest_deflections();
    out.push(Block::Text(format!("Largest deflection under the jacks {} soft, {} stiff; the load they stand for would give {} soft ({} of it is reached).", page.small(jack), page.small(design.largest_stiff()), page.small(reference), page.number(jack / reference, 3))));
    sharing(out, design, page);
}

/// Where the test is most above the reference, and by how much above each term there.
fn overshoots(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
    let (l, t) = (&design.layout, &design.target);
    let rows = l.overshoots.iter().map(|o| {
        vec![
            o.effect.to_string(),
            o.basis.to_string(),
            page.number(o.ratio.value(), 6),
            format!("{}{}", page.place(o.at), o.side.sign()),
        ]
    });
    let head = vec!["largest overshoot of", "basis", "over the envelope", "at"];
    out.push(Block::Table(head, rows.collect()));
    let name = |effect, basis| match (effect, basis) {
        (Effect::Shear, LoadBasis::Net) => "shear, net",
        (Effect::Shear, _) => "shear, total",
        (Effect::Moment, LoadBasis::Net) => "moment, net",
        (Effect::Moment, _) => "moment, total",
    };
    let mut head = vec!["over the term, at that place"];
    head.extend(l.overshoots.iter().map(|o| name(o.effect, o.basis)));
    let each: Vec<Vec<Option<f64>>> = l
        .overshoots
        .iter()
        .map(|o| l.ratios_inside(t, o.effect, o.basis, o.at, o.side).0)
        .collect();
    let rows = t.terms.iter().enumerate().map(|(i, term)| {
        let of = each.iter().map(|column| share(page, column.get(i).copied().flatten()));
        core::iter::once(term.id.to_string()).chain(of).collect()
    });
    out.push(Block::Table(head, rows.collect()));
}

/// Layers or depth of a carrier, where it has them.
fn amount(layers: Option<f64>, depth: Option<Length>, page: &Page) -> Option<String> {
    let layers = layers.map(|l| format!("{} layers", trimmed(&page.number(l, 4))));
    layers.or_else(|| depth.map(|d| format!("depth {}", page.place(d))))
}

/// Why no forces are better, and what the test does not say.
fn proof(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
    for certificate in design.layout.certificates(&design.target, design.asked_layout()) {
        let rows = certificate.rows.iter().map(|r| {
            vec![
                r.what.clone(),
                r.at.map_or_else(|| NONE.to_owned(), |at| page.place(at)),
                r.term.clone().unwrap_or_else(|| NONE.to_owned()),
                r.a.iter().map(|a| page.number(*a, 6)).collect::<Vec<_>>().join(", "),
                page.number(r.b, 8),
                page.number(r.multiplier, 8),
            ]
        });
        let head = vec!["row", "at", "term", "coefficients a (SI)", "b (SI)", "multiplier y"];
        out.push(Block::Text(format!(
            "Certificate, {}: rows a·p ≥ b with multipliers y; no forces cost less than Σ y b = {}.",
            certificate.about,
            page.number(certificate.bound, 8)
        )));
        out.push(Block::Table(head, rows.collect()));
    }
    let rows: Vec<Vec<String>> = design
        .layout
        .reached(&design.target)
        .iter()
        .filter(|r| r.state == State::NotApplicable)
        .map(|r| vec![r.what.clone(), page.number(r.net, 4)])
        .collect();
    if !rows.is_empty() {
        out.push(Block::Text(
            "What this layout does not test: a passed test says nothing about it.".to_owned(),
        ));
        out.push(Block::Table(vec!["not reached", "test over reference, net"], rows));
    }
}

/// The shares of the joists of one unit, between a slab that is stiff across and a limp one.
fn sharing(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
    let Some(shares) = &design.shares else { return };
    let force = design.layout.force.0;
    let rows: Vec<Vec<String>> = shares
        .stiff
        .iter()
        .zip(&shares.limp)
        .enumerate()
        .map(|(i, (stiff, limp))| {
            vec![
                (i + 1).to_string(),
                format!("{}: {}", page.number(*stiff, 6), page.value(force * *stiff, DIGITS)),
                format!("{}: {}", page.number(*limp, 6), page.value(force * *limp, DIGITS)),
            ]
        })
        .collect();
    if rows.len() > 1 {
        out.push(Block::Table(
            vec!["joist", "share if the slab is stiff across", "share if it is limp"],
            rows,
        ));
    }
    out.push(Block::Text(format!(
        "Of what stands on it the unit itself carries {} to {} (sharing rule {}).",
        share(page, Some(shares.own_low.value())),
        share(page, Some(shares.own_high.value())),
        design.spec.scope.sharing.as_ref().map_or("not stated", |s| s.rule.word())
    )));
}

fn verdicts(out: &mut Vec<Block>, list: &[Verdict], design: &TestDesign, page: &Page) {
    let rows = list
        .iter()
        .map(|v| {
            let of = |si| checked(page, Quantity::new(v.demand.kind, si), DIGITS);
            let limit = match v.limit {
                Limit::AtMost(l) => format!("at most {}", of(l)),
                Limit::AtLeast(l) => format!("at least {}", of(l)),
                Limit::None => NONE.to_owned(),
            };
            vec![
                called(design, v, page),
                v.state.word().to_owned(),
                of(v.demand.si),
                limit,
                share(page, v.utilisation),
                v.basis.to_string(),
            ]
        })
        .collect::<Vec<_>>();
    if !rows.is_empty() {
        out.push(Block::Table(
            vec!["check", "state", "demand", "limit", "utilisation", "basis"],
            rows,
        ));
    }
}

fn rig(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
    let r = &design.rig;
    let title =
        "The force path, one scale in both directions; jacks and weights without sides are symbols";
    out.push(Block::Picture(title.to_owned(), sketch::elevation(design, page)));
    let head = vec!["mark", "what", "where, from the left end of the member under test", "says"];
    out.push(Block::Table(head, sketch::marks(design, page)));
    if let Some(section) = sketch::section(design, page) {
        out.push(Block::Picture("Section across the joists".to_owned(), section));
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

fn shoring(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
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

fn schedule(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
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

fn judged(out: &mut Vec<Block>, j: &Judgement, stage: Option<&str>, page: &Page) {
    out.push(heading("What it did", stage));
    windows(out, &j.evidence.layout, page);
    if let Some(seen) = &j.facts {
        measured(out, j, seen, page);
    }
    let rows = j
        .deflections
        .iter()
        .map(|d| {
            vec![
                d.gauge.clone(),
                page.place(d.at),
                page.small(d.raw.0),
                page.small(d.d_max),
                d.raw.1.map_or_else(|| NONE.to_owned(), |r| page.small(r)),
                d.d_r.map_or_else(|| "not read".to_owned(), |r| page.small(r)),
                d.u_reading.map_or_else(|| "not stated".to_owned(), |u| page.small(u)),
            ]
        })
        .collect();
    out.push(Block::Table(
        vec![
            "gauge",
            "at",
            "largest, raw",
            "largest, corrected",
            "residual, raw",
            "residual, corrected",
            "u of one reading",
        ],
        rows,
    ));
    corrections(out, j, page);
    let rows = j
        .comparisons
        .iter()
        .map(|c| {
            vec![
                c.gauge.clone(),
                page.small(c.measured),
                page.small(c.stiff),
                page.small(c.soft),
                c.over_stiff.map_or_else(|| "–".to_owned(), |r| page.number(r.value(), 3)),
            ]
        })
        .collect();
    out.push(Block::Table(
        vec!["gauge", "measured", "stiff prediction", "soft prediction", "measured over stiff"],
        rows,
    ));
    if !j.curve.is_empty() {
        out.push(Block::Picture(
            "Force and deflection of the leading gauge (as read, from its first reading)"
                .to_owned(),
            curve(&j.curve, page.system()),
        ));
    }
    along(out, j, page);
    cycles(out, j, page);
    faults(out, j, page);
    out.push(heading("Criteria", stage));
    out.push(Block::Text("Two outcomes of each: the edition's own comparison without a guard (code), and with a guard band of twice the standard uncertainty (guarded, JCGM 106); the headline is guarded.".to_owned()));
    let name = |c: &crate::criteria::Judged| label::criterion(&c.about, &c.id);
    let rows = j
        .judging
        .criteria
        .iter()
        .map(|c| {
            let v = c.outcome.guarded;
            let of = |si, digits| checked(page, Quantity::new(v.demand.kind, si), digits);
            let or_none = |si: Option<f64>, digits| si.map_or(NONE.to_owned(), |si| of(si, digits));
            let limit = or_none(v.limit.value(), DIGITS);
            let demand = or_none(v.limit.value().map(|_| v.demand.si), DIGITS);
            let u = or_none(v.uncertainty, 3);
            vec![
                name(c),
                c.gauge.clone().unwrap_or_else(|| NONE.to_owned()),
                demand,
                limit,
                u,
                c.outcome.code.state.word().to_owned(),
                v.state.word().to_owned(),
            ]
        })
        .collect();
    let head = vec!["criterion", "gauge", "value", "limit", "U of the margin", "code", "guarded"];
    out.push(Block::Table(head, rows));
    let rows = j.judging.criteria.iter();
    let rows =
        rows.map(|c| vec![name(c), c.formula.clone(), c.reason.to_string(), c.clause.clone()]);
    out.push(Block::Table(vec!["criterion", "comparison", "why", "clause"], rows.collect()));
    every_gauge(out, j, page);
    for text in &j.not_judged {
        out.push(Block::Text(format!("Not judged: {text}.")));
    }
    if j.state() != State::Pass {
        out.push(Block::Caution("Nothing is shown beyond what each line above says. Leave the shores until the verdict is signed.".to_owned()));
    }
}

/// Every fault with its number in the pictures, and what was done about it.
fn faults(out: &mut Vec<Block>, j: &Judgement, page: &Page) {
    for (title, svg) in Along::one(j).pictures(page) {
        out.push(Block::Picture(title, svg));
    }
    let rows: Vec<Vec<String>> = j
        .faults
        .iter()
        .enumerate()
        .map(|(i, f)| {
            let with = f.with.as_ref().map_or_else(String::new, |w| format!(" and {w}"));
            vec![
                (i + 1).to_string(),
                label::words(f.kind.word()),
                format!("{}{with}", f.channel),
                page.value(f.from, DIGITS),
                page.value(f.to, DIGITS),
                f.count.to_string(),
                f.note.to_string(),
                label::words(f.effect.word()),
            ]
        })
        .collect();
    if rows.is_empty() {
        out.push(Block::Text("No fault was found in the log.".to_owned()));
    } else {
        let head = vec!["no.", "fault", "channel", "from", "to", "samples", "evidence", "effect"];
        out.push(Block::Table(head, rows));
    }
}

fn notes(out: &mut Vec<Block>, design: &TestDesign, judgement: Option<&Judgement>) {
    out.push(Block::Heading(2, "Notes and limits".to_owned()));
    let mut rows: Vec<Vec<String>> = Vec::new();
    let mut add = |n: &crate::verdict::Note, stage: Option<&str>| {
        let of = stage.map_or_else(String::new, |name| format!("stage {name}: "));
        rows.push(vec![n.slug.gist().to_owned(), n.path.to_string(), format!("{of}{}", n.message)]);
    };
    design.notes.iter().for_each(|n| add(n, None));
    for (stage, _, j) in judgement.map(|j| stages(design, j)).unwrap_or_default() {
        j.judging.notes.iter().for_each(|n| add(n, stage));
    }
    out.push(Block::Table(vec!["note", "on", "says"], rows));
    out.push(Block::Text("Not covered by any load test: durability, fire, fatigue, accidental loads, other regions, modes and members, and later changes.".to_owned()));
}

fn inputs(out: &mut Vec<Block>, design: &TestDesign) {
    out.push(Block::Sheet);
    out.push(Block::Heading(2, "Inputs as given".to_owned()));
    let mut rows = Vec::new();
    flatten("", &design.spec.write(), &mut rows);
    out.push(Block::Table(vec!["field", "value"], rows));
    out.push(Block::Text(format!(
        "Fingerprint of these inputs (SHA-256): {}",
        design.spec.fingerprint()
    )));
}

fn flatten(path: &str, node: &crate::source::Node, rows: &mut Vec<Vec<String>>) {
    use crate::source::Value;
    match &node.value {
        Value::Map(entries) => {
            for e in entries {
                let inner =
                    if path.is_empty() { e.key.clone() } else { format!("{path}.{}", e.key) };
                flatten(&inner, &e.node, rows);
            }
        }
        Value::List(items) => {
            for (i, item) in items.iter().enumerate() {
                flatten(&format!("{path}[{i}]"), item, rows);
            }
        }
        Value::Text(text) => rows.push(vec![path.to_owned(), text.clone()]),
        _ => rows.push(vec![path.to_owned(), node.brief()]),
    }
}
