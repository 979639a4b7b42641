//! What the report says, in order.

use super::block::Block;
use super::diagram::{curve, diagram, rig_sketch};
use crate::beam::Side;
use crate::design::TestDesign;
use crate::equivalent::Effect;
use crate::error::Error;
use crate::judge::Judgement;
use crate::rig::{Advice, WeightAsked};
use crate::source::Write;
use crate::target::Asked;
use crate::units::{Kind, Length, LoadBasis, Quantity, System};
use crate::verdict::{Limit, State, Verdict};

const DIGITS: usize = 6;

fn shown(q: impl Into<Quantity>, system: System) -> String {
    q.into().rounded(system, DIGITS)
}

/// Millimetres or inches.
fn small(length: Length, system: System) -> String {
    let row = Kind::Length.small(system);
    format!("{} {}", crate::units::grouped(row.from_si(length.si()), 5), row.symbol)
}

fn place(x: Length, system: System) -> String {
    match system {
        System::Si => format!("{:.3} m", x.si()),
        System::Us => format!("{:.3} ft", x.si() / 0.3048),
    }
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
    let system = design.spec.display.system();
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
    target(&mut out, design, system);
    layout(&mut out, design, system);
    rig(&mut out, design, system);
    shoring(&mut out, design, system);
    schedule(&mut out, design, system);
    if let Some(j) = judgement {
        judged(&mut out, j, system);
    }
    notes(&mut out, design, judgement);
    inputs(&mut out, design);
    out.push(Block::Heading(2, "Working".to_owned()));
    out.push(Block::Text("Every line can be redone with a pencil: what is computed, the formula, the numbers put in, the result, the source.".to_owned()));
    out.push(Block::Working(Box::new(design.working()?)));
    Ok(out)
}

fn target(out: &mut Vec<Block>, design: &TestDesign, system: System) {
    let t = &design.target;
    out.push(Block::Heading(2, "What the test must reproduce".to_owned()));
    out.push(Block::Text(format!(
        "{}, {}. Region in doubt: {} to {}, {}. Every value {}.",
        design.set.edition.name(),
        design.set.why,
        place(t.from, system),
        place(t.to, system),
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
                    .map(|(s, f)| format!("{f} {}", s.symbol()))
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
            format!("shear at {}{}", place(x, system), side.sign()),
            shown(v.value.0, system),
            governs(&v, t),
            shown(tv.value.0, system),
            governs(&tv, t),
        ]);
        let (m, tm) = (t.inside().moment(x), t.inside().total_moment(x));
        rows.push(vec![
            format!("moment at {}", place(x, system)),
            shown(m.value.0, system),
            governs(&m, t),
            shown(tm.value.0, system),
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
                place(c.at, system)
            )));
        }
    }
}

fn layout(out: &mut Vec<Block>, design: &TestDesign, system: System) {
    let l = &design.layout;
    let t = &design.target;
    out.push(Block::Heading(2, "The jacks that reproduce it".to_owned()));
    let jacks = f64::from(design.spec.rig.jacks.number.max(1));
    let rows =
        l.lines.iter().map(|x| vec![place(x.at, system), shown(x.force.0, system)]).collect();
    out.push(Block::Table(vec!["contact at", "net force per member unit"], rows));
    out.push(Block::Text(format!(
        "Sum {} net {}; each of {jacks} jacks {}. Set by the {} of term {} at {}.",
        shown(l.force.0, system),
        t.unit,
        shown(l.force.0 / jacks, system),
        l.governed_by.0,
        t.term_name(l.governed_by.2),
        place(l.governed_by.1, system)
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
                .map(|(term, r)| {
                    format!(
                        "{} {}",
                        term.id,
                        r.map_or_else(|| "–".to_owned(), |r| format!("{r:.4}"))
                    )
                })
                .collect();
            vec![
                o.effect.to_string(),
                o.basis.to_string(),
                format!("{:.6}", o.ratio.value()),
                format!("{}{}", place(o.at, system), o.side.sign()),
                per.join(", "),
            ]
        })
        .collect();
    out.push(Block::Table(
        vec!["largest overshoot of", "basis", "over the envelope", "at", "over each term there"],
        rows,
    ));
    out.push(Block::Text(format!("A separate verifier found the least ratio of test to reference, over every x of the region and every term, to be {:.12}.", 1.0 - l.verification.violation)));
    if !l.bounds.is_empty() {
        let rows = l
            .bounds
            .iter()
            .map(|b| {
                let of = |e: Effect| {
                    b.least.iter().find(|s| s.effect == e).map_or_else(
                        || "–".to_owned(),
                        |s| format!("{:.6} at {}", s.fidelity.value(), place(s.at, system)),
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
    verdicts(out, &l.verdicts, system);
    out.push(Block::Picture(
        "Shear, net: reference (envelope of terms) and test".to_owned(),
        diagram(design, Effect::Shear, system),
    ));
    out.push(Block::Picture(
        "Moment, net: reference (envelope of terms) and test".to_owned(),
        diagram(design, Effect::Moment, system),
    ));
    let (jack, reference) = design.largest_deflections();
    out.push(Block::Text(format!("Largest deflection under the jacks {} soft, {} stiff; the load they stand for would give {} soft ({:.3} of it is reached).", small(jack, system), small(jack / design.stiffness_ratio, system), small(reference, system), jack / reference)));
    sharing(out, design, system);
}

/// The shares of the joists of one unit, between a slab that is stiff across and a limp one.
fn sharing(out: &mut Vec<Block>, design: &TestDesign, system: System) {
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
                format!("{stiff:.6}: {}", shown(force * *stiff, system)),
                format!("{limp:.6}: {}", shown(force * *limp, system)),
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
        "Of what stands on it the unit itself carries {:.4} to {:.4} (sharing rule {}).",
        shares.own_low.value(),
        shares.own_high.value(),
        design.spec.scope.sharing.as_ref().map_or("not stated", |s| s.rule.word())
    )));
}

fn verdicts(out: &mut Vec<Block>, list: &[Verdict], system: System) {
    let rows = list
        .iter()
        .map(|v| {
            let limit = match v.limit {
                Limit::AtMost(l) => {
                    format!("at most {}", Quantity::new(v.demand.kind, l).rounded(system, DIGITS))
                }
                Limit::AtLeast(l) => {
                    format!("at least {}", Quantity::new(v.demand.kind, l).rounded(system, DIGITS))
                }
                Limit::None => "–".to_owned(),
            };
            vec![
                v.slug.code().to_owned(),
                v.state.word().to_owned(),
                v.demand.rounded(system, DIGITS),
                limit,
                v.utilisation.map_or_else(|| "–".to_owned(), |u| format!("{u:.4}")),
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

fn rig(out: &mut Vec<Block>, design: &TestDesign, system: System) {
    let r = &design.rig;
    out.push(Block::Heading(2, "What they push against".to_owned()));
    out.push(Block::Picture("The force path".to_owned(), rig_sketch(design, system)));
    let ratio =
        |f: Option<f64>| f.map_or_else(|| "nothing lifts".to_owned(), |f| format!("{f:.6}"));
    let rows = r
        .bearings
        .iter()
        .map(|b| {
            vec![
                place(b.at, system),
                shown(b.stabilising, system),
                shown(b.uplift, system),
                ratio(b.factor),
                ratio(b.factor_without_counterweight),
                format!("{:.4}", r.floor),
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
            shown(p, system)
        )));
    }
    match &r.advice {
        Some(Advice::Place(a)) => {
            let at_bearing = match a.at_bearing {
                WeightAsked::Weight(force) => {
                    format!("{} would do for lift-off and nothing against reversal", shown(force, system))
                }
                WeightAsked::Nothing => "lift-off asks for none".to_owned(),
                WeightAsked::NoSuchWeight => "no weight would do: the other bearing lifts too".to_owned(),
            };
            out.push(Block::Text(format!("Least single counterweight for the floor and the hogging allowed: {} at {} (lift-off asks {}, moment reversal {}). At the bearing {at_bearing}.", shown(a.force, system), place(a.at, system), shown(a.for_lift_off, system), shown(a.for_reversal, system))));
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
                shown(s.left_reaction, system),
                shown(s.right_reaction, system),
                shown(s.shear, system),
                format!("{} at {}", shown(s.sagging, system), place(s.sagging_at, system)),
                format!(
                    "{} at {}",
                    shown(s.least_moment, system),
                    place(s.least_moment_at, system)
                ),
                s.verdicts
                    .iter()
                    .map(|v| {
                        let used =
                            v.utilisation.map_or_else(|| "–".to_owned(), |u| format!("{u:.4}"));
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
    out.push(Block::Text(format!("Pressure at full load {} ({} without friction); stroke needed {} (soft), stretch of the bars {}; stiffness of the rig {}.", shown(h.pressure, system), shown(h.pressure_without_friction, system), small(h.travel, system), small(h.bar_stretch, system), h.stiffness.map_or_else(|| "without limit: nothing moves".to_owned(), |k| shown(k, system)))));
    verdicts(out, &r.verdicts, system);
}

fn shoring(out: &mut Vec<Block>, design: &TestDesign, system: System) {
    let s = &design.shoring;
    out.push(Block::Heading(2, "What catches it".to_owned()));
    out.push(Block::Text(format!("On the catch stand {} of what is in place and, were the test load weights, {} more. With the gap given the catch takes {} ({} without a gap); the posts carry {}.", shown(s.own, system), shown(s.test, system), shown(s.force, system), shown(s.contact_force, system), shown(s.resistance, system))));
    let high = s.gap_high.map_or_else(|| "no drop at all".to_owned(), |h| small(h, system));
    out.push(Block::Text(format!("Gap window at full load: {} (reading expected + U), {} with the clearance of the library rule, up to {high} (what the catch can stop). Lower the heads at each held step, after the reading.", small(s.gap_low, system), small(s.gap_recommended, system))));
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
                format!("{:.4}", share.share.value()),
                shown(s.force * share.share.value(), system),
            ]
        })
        .collect();
    out.push(Block::Table(vec!["level, the top first", "share", "force"], rows));
    if let Some(n) = s.levels_needed {
        out.push(Block::Text(format!("Levels needed: {n}.")));
    }
    verdicts(out, &s.verdicts, system);
}

fn schedule(out: &mut Vec<Block>, design: &TestDesign, system: System) {
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
                        small(r.stiff, system),
                        small(r.soft, system)
                    )
                })
                .collect();
            vec![
                format!("{:.0} %", s.fraction.value() * 100.0),
                shown(s.force.0, system),
                shown(s.force_per_jack.0, system),
                s.pressure.map_or_else(|| "–".to_owned(), |p| shown(p, system)),
                format!("{} min", s.hold.si() / 60.0),
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

fn judged(out: &mut Vec<Block>, j: &Judgement, system: System) {
    out.push(Block::Heading(2, "What it did".to_owned()));
    if let Some((force, target)) = j.force {
        out.push(Block::Text(format!(
            "Force of record at the end of the full hold {}, target {}.",
            shown(force, system),
            shown(target.0, system)
        )));
    }
    let rows = j
        .deflections
        .iter()
        .map(|d| {
            vec![
                d.gauge.clone(),
                place(d.at, system),
                small(d.raw.0, system),
                small(d.d_max, system),
                d.raw.1.map_or_else(|| "–".to_owned(), |r| small(r, system)),
                d.d_r.map_or_else(|| "not read".to_owned(), |r| small(r, system)),
                d.u_reading.map_or_else(|| "not stated".to_owned(), |u| small(u, system)),
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
                small(c.measured, system),
                small(c.stiff, system),
                small(c.soft, system),
                c.over_stiff.map_or_else(|| "–".to_owned(), |r| format!("{:.3}", r.value())),
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
            curve(&j.curve, system),
        ));
    }
    for f in &j.faults {
        out.push(Block::Text(format!(
            "Fault {} on {}: {} samples from {:.1} s to {:.1} s; {}.",
            f.kind,
            f.channel,
            f.count,
            f.from.si(),
            f.to.si(),
            f.note
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
            let limit = v.limit.value().map_or_else(
                || "–".to_owned(),
                |l| Quantity::new(v.demand.kind, l).rounded(system, DIGITS),
            );
            let demand = if v.limit.value().is_some() {
                v.demand.rounded(system, DIGITS)
            } else {
                "–".to_owned()
            };
            let u = v.uncertainty.map_or_else(
                || "–".to_owned(),
                |u| Quantity::new(v.demand.kind, u).rounded(system, 3),
            );
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
        .map(|n| vec![n.slug.code().to_owned(), n.path.clone(), n.message.clone()])
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
