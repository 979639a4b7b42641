//! What the test must reproduce, and what reproduces it.

use super::block::Block;
use super::carriers_drawn::filled;
use super::cell::{DIGITS, NONE, amount, share};
use super::diagram::diagram;
use super::label::words;
use super::subject::verdicts;
use crate::beam::Side;
use crate::design::TestDesign;
use crate::equivalent::Effect;
use crate::loads::Symbol;
use crate::target::Asked;
use crate::units::{LoadBasis, Page, trimmed};
use crate::verdict::State;

/// The governing term, or that several tie.
fn governs<Q>(g: &crate::target::Governing<Q>, t: &crate::target::Target) -> String {
    let name = t.term_name(g.term);
    match (g.tied, g.near) {
        (true, _) => format!("{name} (tie)"),
        (false, Some(near)) => format!("{name} (within 1 %: {})", t.term_name(near)),
        _ => name.to_owned(),
    }
}

pub(super) fn target(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
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
    let mut symbols: Vec<Symbol> =
        t.rows().iter().flat_map(|r| r.factors().map(|f| f.0).collect::<Vec<_>>()).collect();
    symbols.sort_by_key(|s| s.symbol());
    symbols.dedup();
    let meaning: Vec<String> =
        symbols.iter().map(|s| format!("{} {}", s.symbol(), words(s.word()))).collect();
    out.push(Block::Text(format!(
        "{}. Behind a place + is just right of it, - just left.",
        meaning.join(", ")
    )));
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

pub(super) fn layout(out: &mut Vec<Block>, design: &TestDesign, page: &Page) {
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
    filled(out, design, page);
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
    out.push(Block::Text(format!("Largest deflection under the test load {} soft, {} stiff; the load they stand for would give {} soft ({} of it is reached).", page.small(jack), page.small(design.largest_stiff()), page.small(reference), page.number(jack / reference, 3))));
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
