//! The stop rules of an edition, on the log.

use super::record::Stated;
use crate::editions::{Edition, STOP_FACTS, STOP_NAMES, StopRule};
use crate::formula::Formula;
use crate::readings::{Deflection, Exceeded, Log, LogSpec, Rising, StandsFor, StopSeen};
use crate::units::{Duration, Force, Length, Quantity, Ratio};

/// How the names of stop rules call what a channel reads: under load, and what is left of it.
const fn names(of: StandsFor) -> (&'static str, Option<&'static str>) {
    match of {
        StandsFor::Concrete => ("eps_c", None),
        StandsFor::Steel => ("eps_s", None),
        StandsFor::Strut => ("eps_strut", None),
        StandsFor::Stirrup => ("eps_w", None),
        StandsFor::NewCrack => ("w", Some("w_r")),
        StandsFor::OldCrack => ("dw", Some("dw_r")),
    }
}

fn slot(name: &str) -> Option<usize> {
    STOP_NAMES.iter().position(|n| n.0 == name)
}

/// One gauge or channel as a rule sees it.
struct Source {
    name: String,
    /// The slots of what it reads under load, and of what is left.
    slots: (Option<usize>, Option<usize>),
    rising: Option<Rising>,
    /// At the peak, and after unloading: since zero, in the way it moves.
    read: (Option<f64>, Option<f64>),
}

/// What a log and its record give to the rules.
struct Rules<'a> {
    layout: &'a LogSpec,
    sources: Vec<Source>,
    stated: Vec<Option<f64>>,
}

/// Every stop rule of the edition as the log answers it, of each the worst gauge or channel; and how every
/// gauge rose, in their order, where that was looked at.
pub(crate) fn stop_rules(
    edition: &Edition,
    log: &Log,
    layout: &LogSpec,
    deflections: &[Deflection],
    stated: &[Stated],
    target: Option<Force>,
) -> (Vec<StopSeen>, Vec<Rising>) {
    // most editions have none: the log is not walked for nothing
    if edition.stop_rules().is_empty() {
        return (Vec::new(), Vec::new());
    }
    let mut known = vec![None; STOP_NAMES.len() + STOP_FACTS.len()];
    for (slot, value) in stated.iter().filter_map(Stated::rule_slot) {
        if let Some(place) = known.get_mut(slot) {
            *place = Some(value);
        }
    }
    let gauges = deflections.iter().map(|d| {
        let sign = if d.d_max < Length::ZERO { -1.0 } else { 1.0 };
        Source {
            name: d.gauge.clone(),
            slots: (slot("d_max"), slot("d_r")),
            rising: target.map(|t| Rising::of(log, layout, d, t, sign)),
            read: (Some(d.d_max.si() * sign), d.d_r.map(|r| r.si() * sign)),
        }
    });
    let channels = layout.channels.iter().filter_map(|c| {
        let (under, left) = names(c.stands_for?);
        let channel = log.channel(&c.id)?;
        let at = |w| log.in_window(channel, w).map(|m| m.0);
        let zero = at(&layout.moments.zero);
        let peak = at(&layout.moments.peak).zip(zero).map(|(v, z)| v - z);
        let sign = peak.map_or(1.0, f64::signum);
        let residual = layout.moments.residual.as_ref().and_then(at);
        Some(Source {
            name: c.id.clone(),
            slots: (slot(under), left.and_then(slot)),
            rising: target.and_then(|t| Rising::of_channel(log, layout, channel, t)),
            read: (peak.map(|p| p * sign), residual.zip(zero).map(|(r, z)| (r - z) * sign)),
        })
    });
    let rules = Rules { layout, sources: gauges.chain(channels).collect(), stated: known };
    let seen = edition.stop_rules().iter().flat_map(|rule| rules.seen(rule)).collect();
    let rising = rules.sources.into_iter().take(deflections.len()).filter_map(|s| s.rising);
    (seen, rising.collect())
}

impl Rules<'_> {
    fn seen(&self, rule: &StopRule) -> Vec<StopSeen> {
        let limit = rule.limit.as_ref().map(|f| self.along(&rule.id, f));
        let residual = rule.residual.as_ref().map(|f| self.left(&rule.id, f));
        limit.into_iter().chain(residual).flatten().collect()
    }

    /// What is given to a formula, with the readings of one source.
    fn values(&self, source: &Source, read: (Option<f64>, Option<f64>)) -> Vec<Option<f64>> {
        let mut values = self.stated.clone();
        for (slot, value) in [(source.slots.0, read.0), (source.slots.1, read.1)] {
            if let Some(place) = slot.and_then(|s| values.get_mut(s)) {
                *place = value;
            }
        }
        values
    }

    /// The sources of which a formula speaks; of what nothing gives, the names.
    fn sources(&self, formula: &Formula) -> Result<Vec<&Source>, Vec<String>> {
        let slots = formula.wants(&self.stated);
        let stated = |s: &usize| self.stated.get(*s).copied().flatten().is_some();
        let measured = |s: &usize| {
            let own = |x: &&Source| x.slots.0 == Some(*s) || x.slots.1 == Some(*s);
            self.sources.iter().any(|x| own(&x))
        };
        let open = slots.iter().filter(|s| !stated(s) && !measured(s));
        let name = |s: usize| {
            let fact = STOP_FACTS.get(s.wrapping_sub(STOP_NAMES.len())).copied();
            STOP_NAMES.get(s).map(|n| n.0).or(fact).unwrap_or("a stated fact").to_owned()
        };
        let open: Vec<String> = open.map(|s| name(*s)).collect();
        if !open.is_empty() {
            return Err(open);
        }
        let speaks =
            |x: &&Source| slots.iter().any(|s| x.slots.0 == Some(*s) || x.slots.1 == Some(*s));
        Ok(self.sources.iter().filter(speaks).collect())
    }

    /// While the load rises and is held: a comparison of what is read with what is stated.
    fn along(&self, rule: &str, formula: &Formula) -> Option<StopSeen> {
        let sources = match self.sources(formula) {
            Ok(sources) => sources,
            Err(open) => return Some(unseen(rule, open)),
        };
        let rows: Vec<StopSeen> = sources
            .iter()
            .filter_map(|source| {
                let rising = source.rising.as_ref()?;
                let sides = formula.sides(&self.values(source, (Some(0.0), Some(0.0))));
                let allowed = sides.filter(|s| s.at_most).map(|s| s.limit);
                Some(rising.against(rule, &source.name, &|_| allowed))
            })
            .collect();
        worst(rows).or_else(|| Some(unseen(rule, Vec::new())))
    }

    /// After unloading.
    fn left(&self, rule: &str, formula: &Formula) -> Option<StopSeen> {
        let sources = match self.sources(formula) {
            Ok(sources) => sources,
            Err(open) => return Some(unseen(rule, open)),
        };
        let window = self.layout.moments.residual.as_ref()?;
        let rows = sources.iter().filter_map(|source| {
            let kind = STOP_NAMES.get(source.slots.0?)?.1;
            source.read.1?;
            let sides = formula.sides(&self.values(source, source.read))?;
            let broken = sides.at_most && sides.demand > sides.limit * (1.0 + 1e-12);
            Some(StopSeen {
                rule: rule.to_owned(),
                gauge: Some(source.name.clone()),
                largest: Some(Ratio::from(sides.demand / sides.limit)),
                at: Some(window.from.value),
                exceeded: broken.then(|| Exceeded {
                    at: window.from.value,
                    force: self.layout.moments.at_zero.value,
                    measured: Quantity::new(kind, sides.demand),
                    limit: Quantity::new(kind, sides.limit),
                    carried_on: None,
                }),
                unknown: Vec::new(),
            })
        });
        worst(rows.collect())
    }
}

/// A rule that could not be looked at.
fn unseen(rule: &str, unknown: Vec<String>) -> StopSeen {
    let at: Option<Duration> = None;
    StopSeen { rule: rule.to_owned(), gauge: None, largest: None, at, exceeded: None, unknown }
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
