//! What the report says, in order.

use super::block::Block;
use super::diagram::{curve, diagram, rig_sketch};
use crate::beam::Side;
use crate::design::TestDesign;
use crate::equivalent::Effect;
use crate::error::Error;
use crate::formula::Working;
use crate::judge::Judgement;
use crate::rig::{Advice, WeightAsked};
use crate::source::Write;
use crate::target::Asked;
use crate::units::{Kind, Length, LoadBasis, Page, Quantity, trimmed};
use crate::verdict::{Limit, State, Verdict};

const DIGITS: usize = 6;

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

/// What a check compares: lengths that are checked are deflections, gaps and strokes.
fn checked(page: &Page, q: Quantity, digits: usize) -> String {
    match q.kind {
        Kind::Length => page.small_value(Length::from_si(q.si), digits),
        _ => page.value(q, digits),
    }
}

/// A share or a utilisation.
fn share(page: &Page, number: Option<f64>) -> String {
    number.map_or_else(|| NONE.to_owned(), |n| page.number(n, 4))
}

/// What stands where there is no value.
const NONE: &str = "–";

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
        out.push(Block::State(
            j.state(),
            format!(
                "{} (guarded). By the edition's own comparison: {}, {}.",
                j.judging.guarded.because, j.judging.code.state, j.judging.code.because
            ),
        ));
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
            "Stop {} ({}): {} [{}]",
            stop.slug, state, stop.message, stop.path
        )));
    }
    target(&mut out, design, &page);
    layout(&mut out, design, &page);
    rig(&mut out, design, &page);
    shoring(&mut out, design, &page);
    schedule(&mut out, design, &page);
    if let Some(j) = judgement {
        judged(&mut out, j, &page);
    }
    notes(&mut out, design, judgement);
    inputs(&mut out, design);
    out.push(Block::Heading(2, "Working".to_owned()));
    out.push(Block::Text("Every line can be redone with a pencil: what is computed, the formula, the numbers put in, the result, the source.".to_owned()));
    out.push(Block::Working(working.lines(page.system())));
    Ok(out)
}

fn target(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
    let t = &design.target;
    out.push(Block::Heading(2, "What the test must reproduce".to_owned()));
    out.push(Block::Text(format!(
        "{}, {}. Region in doubt: {} to {}, {}. Every value {}.",
        design.set.edition.name(),
        design.set.why,
        page.place(t.from),
        page.place(t.to),
        design.spec.scope.doubt.mode,
        t.unit
    )));
    let rows = t
        .rows()
        .iter()
        .map(|r| {
            vec![
                r.id.clone(),
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
    for asked in [Asked::Shear, Asked::Moment] {
        for c in [LoadBasis::Net, LoadBasis::Total].into_iter().flat_map(|b| t.crossings(asked, b))
        {
            out.push(Block::Text(format!(
                "The {} {} changes its governing term from {} to {} at {}.",
                c.basis,
                if asked == Asked::Shear { "shear" } else { "moment" },
                t.term_name(c.left),
                t.term_name(c.right),
                page.place(c.at)
            )));
        }
    }
}

fn layout(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
    let l = &design.layout;
    let t = &design.target;
    out.push(Block::Heading(2, "The jacks that reproduce it".to_owned()));
    let jacks = f64::from(design.spec.rig.jacks.number.max(1));
    let rows =
        l.lines.iter().map(|x| vec![page.place(x.at), page.value(x.force.0, DIGITS)]).collect();
    out.push(Block::Table(vec!["contact at", "net force per member unit"], rows));
    out.push(Block::Text(format!(
        "Sum {} net {}; each of {jacks} jacks {}. Set by the {} of term {} at {}.",
        page.value(l.force.0, DIGITS),
        t.unit,
        page.value(l.force.0 / jacks, DIGITS),
        l.governed_by.0,
        t.term_name(l.governed_by.2),
        page.place(l.governed_by.1)
    )));
    let rows = l
        .overshoots
        .iter()
        .map(|o| {
            let (terms, _) = l.ratios_inside(t, o.effect, o.basis, o.at, o.side);
            let per: Vec<String> = t
                .terms
                .iter()
                .zip(terms)
                .map(|(term, r)| format!("{} {}", term.id, share(page, r)))
                .collect();
            vec![
                o.effect.to_string(),
                o.basis.to_string(),
                page.number(o.ratio.value(), 6),
                format!("{}{}", page.place(o.at), o.side.sign()),
                per.join(", "),
            ]
        })
        .collect();
    out.push(Block::Table(
        vec!["largest overshoot of", "basis", "over the envelope", "at", "over each term there"],
        rows,
    ));
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
    verdicts(out, &l.verdicts, page);
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

fn verdicts(out: &mut Vec<Block>, list: &[Verdict], page: &Page) {
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
                v.slug.code().to_owned(),
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
    out.push(Block::Heading(2, "What they push against".to_owned()));
    out.push(Block::Picture("The force path".to_owned(), rig_sketch(design, page)));
    let ratio =
        |f: Option<f64>| f.map_or_else(|| "nothing lifts".to_owned(), |f| page.number(f, 6));
    let rows = r
        .bearings
        .iter()
        .map(|b| {
            vec![
                page.place(b.at),
                page.value(b.stabilising, DIGITS),
                page.value(b.uplift, DIGITS),
                ratio(b.factor),
                ratio(b.factor_without_counterweight),
                share(page, Some(r.floor)),
                b.verdict.state.word().to_owned(),
            ]
        })
        .collect();
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
    if let Some(p) = r.lift_off_without_counterweight {
        out.push(Block::Text(format!(
            "Without counterweight a bearing lifts at a jack force of {}.",
            page.value(p, DIGITS)
        )));
    }
    match &r.advice {
        Some(Advice::Place(a)) => {
            let at_bearing = match a.at_bearing {
                WeightAsked::Weight(force) => {
                    format!("{} would do for lift-off and nothing against reversal", page.value(force, DIGITS))
                }
                WeightAsked::Nothing => "lift-off asks for none".to_owned(),
                WeightAsked::NoSuchWeight => "no weight would do: the other bearing lifts too".to_owned(),
            };
            out.push(Block::Text(format!("Least single counterweight for the floor and the hogging allowed: {} at {} (lift-off asks {}, moment reversal {}). At the bearing {at_bearing}.", page.value(a.force, DIGITS), page.place(a.at), page.value(a.for_lift_off, DIGITS), page.value(a.for_reversal, DIGITS))));
        }
        Some(Advice::NothingLifts) => out.push(Block::Text("Own weight is enough: no counterweight is asked for by the floor and the hogging allowed.".to_owned())),
        Some(Advice::NoSuchWeight) => out.push(Block::Text("No single counterweight keeps the floor and the hogging allowed.".to_owned())),
        None => {}
    }
    let rows = r
        .stages
        .iter()
        .map(|s| {
            vec![
                s.name.clone(),
                page.value(s.left_reaction, DIGITS),
                page.value(s.right_reaction, DIGITS),
                page.value(s.shear, DIGITS),
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
                        format!("{} {used} {}", v.demand.kind.words(), v.state)
                    })
                    .collect::<Vec<_>>()
                    .join("; "),
            ]
        })
        .collect();
    out.push(Block::Table(
        vec![
            "stage of the reaction member",
            "left reaction",
            "right reaction",
            "shear",
            "largest sagging",
            "least moment",
            "strength used: shear, sagging, hogging",
        ],
        rows,
    ));
    let h = &r.hydraulics;
    out.push(Block::Text(format!("Pressure at full load {} ({} without friction); stroke needed {} (soft), stretch of the bars {}; stiffness of the rig {}.", page.value(h.pressure, DIGITS), page.value(h.pressure_without_friction, DIGITS), page.small(h.travel), page.small(h.bar_stretch), h.stiffness.map_or_else(|| "without limit: nothing moves".to_owned(), |k| page.value(k, DIGITS)))));
    verdicts(out, &r.verdicts, page);
}

fn shoring(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
    let s = &design.shoring;
    out.push(Block::Heading(2, "What catches it".to_owned()));
    out.push(Block::Text(format!("On the catch stand {} of what is in place and, were the test load weights, {} more. With the gap given the catch takes {} ({} without a gap); the posts carry {}.", page.value(s.own, DIGITS), page.value(s.test, DIGITS), page.value(s.force, DIGITS), page.value(s.contact_force, DIGITS), page.value(s.resistance, DIGITS))));
    let high = s.gap_high.map_or_else(|| "no drop at all".to_owned(), |h| page.small(h));
    out.push(Block::Text(format!("Gap window at full load: {} (reading expected + U), {} with the clearance of the library rule, up to {high} (what the catch can stop). Lower the heads at each held step, after the reading.", page.small(s.gap_low), page.small(s.gap_recommended))));
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
    out.push(Block::Table(vec!["level, the top first", "share", "force"], rows));
    if let Some(n) = s.levels_needed {
        out.push(Block::Text(format!("Levels needed: {n}.")));
    }
    verdicts(out, &s.verdicts, page);
}

fn schedule(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
    out.push(Block::Heading(2, "Steps".to_owned()));
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
                format!("{} min", trimmed(&page.number(s.hold.si() / 60.0, 2))),
                readings.join("; "),
            ]
        })
        .collect();
    out.push(Block::Table(
        vec![
            "step",
            "net force per unit",
            "per jack",
            "pressure",
            "hold at least",
            "reading expected, stiff to soft",
        ],
        rows,
    ));
    out.push(Block::Text("Unload in the same steps. The test director authorises each step; anyone may stop. Pause above 1.25 times the stiff prediction (common practice, no source).".to_owned()));
}

fn judged(out: &mut Vec<Block>, j: &Judgement, page: &Page) {
    out.push(Block::Heading(2, "What it did".to_owned()));
    if let Some((force, target)) = j.force {
        out.push(Block::Text(format!(
            "Force of record at the end of the full hold {}, target {}.",
            page.value(force, DIGITS),
            page.value(target.0, DIGITS)
        )));
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
    for f in &j.faults {
        out.push(Block::Text(format!(
            "Fault {} on {}: {} samples from {} s to {} s; {} (effect: {}).",
            f.kind,
            f.channel,
            f.count,
            page.number(f.from.si(), 1),
            page.number(f.to.si(), 1),
            f.note,
            f.effect
        )));
    }
    out.push(Block::Heading(2, "Criteria".to_owned()));
    out.push(Block::Text("Two outcomes of each: the edition's own comparison without a guard (code), and with a guard band of twice the standard uncertainty (guarded, JCGM 106); the headline is guarded.".to_owned()));
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
                c.id.clone(),
                c.formula.clone(),
                demand,
                limit,
                u,
                c.outcome.code.state.word().to_owned(),
                v.state.word().to_owned(),
                c.reason.clone(),
                c.clause.clone(),
            ]
        })
        .collect();
    out.push(Block::Table(
        vec![
            "criterion",
            "formula",
            "value",
            "limit",
            "U of the margin",
            "code",
            "guarded",
            "reason",
            "clause",
        ],
        rows,
    ));
    for text in &j.not_judged {
        out.push(Block::Text(format!("Not judged: {text}.")));
    }
    if j.state() != State::Pass {
        out.push(Block::Caution("Nothing is shown beyond what each line above says. Leave the shores until the verdict is signed.".to_owned()));
    }
}

fn notes(out: &mut Vec<Block>, design: &TestDesign, judgement: Option<&Judgement>) {
    out.push(Block::Heading(2, "Notes and limits".to_owned()));
    let judged = judgement.map(|j| j.judging.notes.as_slice()).unwrap_or_default();
    let rows = design
        .notes
        .iter()
        .chain(judged)
        .map(|n| vec![n.slug.code().to_owned(), n.path.clone(), n.message.to_string()])
        .collect();
    out.push(Block::Table(vec!["note", "on", "says"], rows));
    out.push(Block::Text("Not covered by any load test: durability, fire, fatigue, accidental loads, other regions, modes and members, and later changes.".to_owned()));
}

fn inputs(out: &mut Vec<Block>, design: &TestDesign) {
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
