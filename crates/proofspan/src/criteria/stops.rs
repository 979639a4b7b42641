//! The stop rules of an edition, on the log.

use crate::editions::{Edition, STOP_NAMES};
use crate::formula::Formula;
use crate::readings::{Deflection, Exceeded, Log, LogSpec, Rising, StopSeen};
use crate::units::{Duration, Force, Length, Ratio};

/// The slots of largest and residual deflection among the names of stop rules.
fn slots() -> (Option<usize>, Option<usize>) {
    let of = |name| STOP_NAMES.iter().position(|n| n.0 == name);
    (of("d_max"), of("d_r"))
}

/// Every stop rule of the edition as the log answers it: of deflections, with the worst gauge.
pub(crate) fn stop_rules(
    edition: &Edition,
    log: &Log,
    layout: &LogSpec,
    deflections: &[Deflection],
    target: Option<Force>,
) -> Vec<StopSeen> {
    let (d_max, d_r) = slots();
    let values = |max: Option<f64>, residual: Option<f64>| {
        let mut values = vec![None; STOP_NAMES.len()];
        for (slot, value) in [(d_max, max), (d_r, residual)] {
            if let Some(place) = slot.and_then(|s| values.get_mut(s)) {
                *place = value;
            }
        }
        values
    };
    let unknown = |formula: &Formula| -> Vec<String> {
        let slots = formula.slots();
        let open = slots.iter().filter(|s| Some(**s) != d_max && Some(**s) != d_r);
        open.map(|s| STOP_NAMES.get(*s).map_or("a stated fact", |n| n.0).to_owned()).collect()
    };
    let mut out = Vec::new();
    for rule in edition.stop_rules() {
        let seen = |gauge, largest: Option<(Ratio, Duration)>, exceeded, unknown| StopSeen {
            rule: rule.id.clone(),
            gauge,
            largest: largest.map(|l| l.0),
            at: largest.map(|l| l.1),
            exceeded,
            unknown,
        };
        if let Some(formula) = &rule.limit {
            let open = unknown(formula);
            if !open.is_empty() || target.is_none() {
                out.push(seen(None, None, None, open));
            } else {
                // of a comparison of the deflection with a fixed length
                let sides = formula.sides(&values(Some(0.0), None));
                let allowed = sides.filter(|s| s.at_most).map(|s| Length::from_si(s.limit));
                let rows = deflections.iter().map(|d| {
                    let sign = if d.d_max < Length::ZERO { -1.0 } else { 1.0 };
                    let target = target.unwrap_or(Force::ZERO);
                    let rising = Rising::of(log, layout, d, target, sign);
                    rising.against(&rule.id, &d.gauge, &|_| allowed)
                });
                out.extend(worst(rows.collect()));
            }
        }
        if let Some(formula) = &rule.residual {
            let open = unknown(formula);
            if !open.is_empty() {
                out.push(seen(None, None, None, open));
                continue;
            }
            let rows = deflections.iter().filter_map(|d| {
                let sign = if d.d_max < Length::ZERO { -1.0 } else { 1.0 };
                let sides =
                    formula.sides(&values(Some(d.d_max.si() * sign), Some(d.d_r?.si() * sign)))?;
                let share = Ratio::from(sides.demand / sides.limit);
                let window = layout.moments.residual.as_ref()?;
                let broken = sides.at_most && sides.demand > sides.limit * (1.0 + 1e-12);
                let exceeded = broken.then(|| Exceeded {
                    at: window.from.value,
                    force: layout.moments.at_zero.value,
                    measured: Length::from_si(sides.demand),
                    limit: Length::from_si(sides.limit),
                    carried_on: None,
                });
                Some(seen(
                    Some(d.gauge.clone()),
                    Some((share, window.from.value)),
                    exceeded,
                    Vec::new(),
                ))
            });
            out.extend(worst(rows.collect()));
        }
    }
    out
}

/// The gauge that is nearest to the limit, or farthest beyond it.
fn worst(rows: Vec<StopSeen>) -> Option<StopSeen> {
    let share = |s: &StopSeen| s.largest.map_or(f64::NEG_INFINITY, Ratio::value);
    let key = |s: &StopSeen| (s.exceeded.is_some(), share(s));
    rows.into_iter().max_by(|a, b| {
        let (a, b) = (key(a), key(b));
        a.0.cmp(&b.0).then(a.1.total_cmp(&b.1))
    })
}
