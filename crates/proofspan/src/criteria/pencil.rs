//! Criteria redone with a pencil: both sides of the comparison, u and U of its margin.

use super::worst::Judged;
use crate::editions::{CRITERION_FACTS, CRITERION_NAMES, CRITERION_SLOTS};
use crate::formula::{Formula, Recorder as _, Step, Vocabulary, Working};
use crate::readings::Deflection;
use crate::units::{Kind, Message, Quantity};

/// What a criterion was compared with on one gauge.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Compared {
    pub(super) id: String,
    pub(super) gauge: String,
    pub(super) values: [Option<f64>; CRITERION_SLOTS],
}

/// Slots of the largest deflection, the residual, and the part that came back.
const D_MAX: usize = 0;
const D_R: usize = 1;
const REC: usize = 6;

/// Margin of a comparison, positive inside.
pub(super) fn margin(formula: &Formula, values: &[Option<f64>]) -> Option<f64> {
    let sides = formula.sides(values)?;
    Some(if sides.at_most { sides.limit - sides.demand } else { sides.demand - sides.limit })
}

/// u and U of a margin, from what every error does to it. Where those are not all, U as it was found.
pub(super) fn guard(
    working: &mut Working,
    (kind, expanded): (Kind, f64),
    effects: impl Iterator<Item = f64>,
) {
    let mut all: Vec<f64> = effects.map(f64::abs).filter(|e| *e > 0.0).collect();
    all.sort_by(|a, b| b.total_cmp(a));
    let sum: f64 = all.iter().map(|e| e * e).sum::<f64>().sqrt();
    let first = all.first().copied().unwrap_or(0.0);
    if (2.0 * sum - expanded).abs() > 1e-9 * expanded.abs() || first <= 0.0 {
        let what = "Expanded uncertainty U = 2 u of the margin, by its slopes in every error";
        working.residual(what, Quantity::new(kind, expanded), f64::NAN);
        return;
    }
    let mut formula = "e_1".to_owned();
    let mut inputs = vec![("e_1".into(), "e_1".into(), Quantity::new(kind, first))];
    if all.len() > 1 {
        let mut squares = String::new();
        for (i, effect) in all.iter().enumerate().skip(1) {
            let name = format!("c_{}", i + 1);
            squares.push_str(&format!(" + {name}^2"));
            let part = Quantity::new(Kind::Ratio, effect / first);
            inputs.push((name.clone().into(), name.into(), part));
        }
        formula = format!("e_1 * sqrt(1{squares})");
    }
    working.edition_step(Step {
        what: "Standard uncertainty of the margin".into(),
        formula: formula.into(),
        inputs,
        result: ("u_margin".into(), Quantity::new(kind, expanded / 2.0)),
        source: "JCGM 100: e_1 is what the error that moves the margin most does to it, c what the others do beside it".into(),
    });
    working.edition_step(Step {
        what: "Expanded uncertainty of the margin".into(),
        formula: "2 * u".into(),
        inputs: vec![("u".into(), "u_margin".into(), Quantity::new(kind, expanded / 2.0))],
        result: ("U".into(), Quantity::new(kind, expanded)),
        source: "JCGM 106: a guard band of U = 2 u".into(),
    });
}

/// The values with another largest deflection and residual.
pub(super) fn moved(values: &[Option<f64>], d_max: f64, d_r: Option<f64>) -> Vec<Option<f64>> {
    let mut values = values.to_vec();
    let back = d_r.filter(|_| d_max > 0.0).map(|r| 1.0 - r / d_max);
    for (slot, value) in [(D_MAX, Some(d_max)), (D_R, d_r), (REC, back)] {
        if let Some(place) = values.get_mut(slot) {
            *place = value;
        }
    }
    values
}

/// Every criterion that compares numbers, on the gauge that governs it.
pub(super) fn work(
    working: &mut Working,
    criteria: &[Judged],
    compared: &[Compared],
    deflections: &[Deflection],
) {
    let vocabulary = Vocabulary::of(CRITERION_NAMES).with_facts(CRITERION_FACTS);
    for row in criteria.iter().filter(|c| c.of_edition()) {
        let (code, guarded) = (row.outcome.code, row.outcome.guarded);
        let text = row.formula.split("; waived if ").next().unwrap_or(&row.formula);
        let Ok(limit) = Formula::condition(text, &vocabulary) else { continue };
        let of = |c: &&Compared| c.id == row.id && Some(&c.gauge) == row.gauge.as_ref();
        working.about(|| {
            Message::new(
                "{}, gauge {}: {}; code {}, guarded {}",
                [
                    (&row.id).into(),
                    row.gauge.as_deref().unwrap_or("none").into(),
                    (&row.formula).into(),
                    code.state.word().into(),
                    guarded.state.word().into(),
                ],
            )
        });
        let own = compared.iter().find(of);
        if let Some(compared) = own {
            for step in limit.compared(&compared.values, CRITERION_NAMES) {
                working.edition_step(Step { source: row.clause.clone().into(), ..step });
            }
        }
        let Some(expanded) = guarded.uncertainty else { continue };
        let gauge = deflections.iter().find(|d| Some(&d.gauge) == row.gauge.as_ref());
        let effects = own.zip(gauge).map(|(compared, gauge)| {
            let scale = limit.sides(&compared.values).map_or(1.0, |sides| {
                let scale = guarded.demand.si / sides.demand;
                if scale.is_finite() && scale > 0.0 { scale } else { 1.0 }
            });
            effects(&limit, &compared.values, gauge, scale)
        });
        let effects = effects.unwrap_or_default().into_iter();
        guard(working, (guarded.demand.kind, expanded), effects);
    }
}

/// What every error of a gauge does to a margin.
fn effects(
    limit: &Formula,
    values: &[Option<f64>; CRITERION_SLOTS],
    gauge: &Deflection,
    scale: f64,
) -> Vec<f64> {
    let own = |slot: usize| values.get(slot).copied().flatten();
    let (Some(d_max), d_r) = (own(D_MAX), own(D_R)) else { return Vec::new() };
    let errors = gauge.errors().unwrap_or_default();
    let one = |(j, error): (usize, &f64)| {
        let at = |sign: f64| {
            let mut single = vec![0.0; errors.len()];
            *single.get_mut(j)? = sign * error;
            let (max, rest) = gauge.moved(&single)?;
            margin(limit, &moved(values, (d_max + max) * scale, d_r.map(|r| r + rest)))
        };
        Some((at(1.0)? - at(-1.0)?) / 2.0)
    };
    errors.iter().enumerate().filter_map(one).collect()
}
