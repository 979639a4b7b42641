//! Which spans must be loaded at once?

use super::load::Load;
use super::model::Beam;
use crate::units::Length;

/// Which spans carry the variable load.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Pattern {
    /// One mark a span, from the left.
    pub loaded: Vec<bool>,
}

impl Pattern {
    /// In words: `spans 1, 3`, `all spans`, `no span`.
    #[must_use]
    pub fn words(&self) -> String {
        let on: Vec<String> = self
            .loaded
            .iter()
            .enumerate()
            .filter(|(_, on)| **on)
            .map(|(i, _)| (i + 1).to_string())
            .collect();
        match on.len() {
            0 => "no span".to_owned(),
            n if n == self.loaded.len() => "all spans".to_owned(),
            1 => format!("span {}", on.join("")),
            _ => format!("spans {}", on.join(", ")),
        }
    }
}

/// The usual patterns of so many spans: all; every second one, both ways; and for each inner
/// support the two spans beside it with every second one beyond, and the others (common
/// practice, no source; for the moments of continuous spans without hinges these hold the worst
/// of all patterns).
#[must_use]
pub fn usual_patterns(spans: usize) -> Vec<Pattern> {
    let mut all: Vec<Pattern> = Vec::new();
    let mut add = |loaded: Vec<bool>| {
        let pattern = Pattern { loaded };
        if !all.contains(&pattern) {
            all.push(pattern);
        }
    };
    add(vec![true; spans]);
    add((0..spans).map(|i| i % 2 == 0).collect());
    if spans > 1 {
        add((0..spans).map(|i| i % 2 == 1).collect());
    }
    for inner in 1..spans {
        // spans inner−1 and inner, then every second one outward; and all the others
        let pair: Vec<bool> = (0..spans)
            .map(|i| if i < inner { (inner - 1 - i) % 2 == 0 } else { (i - inner) % 2 == 0 })
            .collect();
        let others: Vec<bool> = pair.iter().map(|on| !on).collect();
        add(pair);
        if others.contains(&true) {
            add(others);
        }
    }
    all
}

/// The largest and the smallest sum over all subsets of spans: each span counts where it helps.
/// Exact over all 2ⁿ patterns, because an effect is the sum of what each span gives.
#[must_use]
pub fn worst_patterns(by_span: &[f64]) -> ((f64, Pattern), (f64, Pattern)) {
    let pick = |sign: f64| {
        let loaded: Vec<bool> = by_span.iter().map(|v| sign * v > 0.0).collect();
        let sum = by_span.iter().zip(&loaded).filter(|(_, on)| **on).map(|(v, _)| v).sum();
        (sum, Pattern { loaded })
    };
    (pick(1.0), pick(-1.0))
}

/// The part of a load on each of the spans; what stands on a support belongs to the span left of it.
#[must_use]
pub fn on_spans(load: Load, spans: &[(Length, Length)]) -> Vec<Option<Load>> {
    let within =
        |x: Length, i: usize, (a, b): (Length, Length)| x <= b && (x > a || (i == 0 && x >= a));
    spans
        .iter()
        .enumerate()
        .map(|(i, (a, b))| match load {
            Load::Line { from, to, w_from, w_to } if to > from => {
                let (left, right) = (from.max(*a), to.min(*b));
                let at = |x: Length| w_from + (w_to - w_from) * ((x - from) / (to - from));
                (right > left).then(|| Load::line(left, right, at(left), at(right)))
            }
            Load::Point { at, .. } | Load::Moment { at, .. } => {
                within(at, i, (*a, *b)).then_some(load)
            }
            _ => None,
        })
        .collect()
}

impl Beam {
    /// Loads with those that may vary cut to the loaded spans of a pattern.
    #[must_use]
    pub fn patterned(&self, pattern: &Pattern, variable: &[Load]) -> Vec<Load> {
        let spans = self.spans();
        variable
            .iter()
            .flat_map(|load| {
                on_spans(*load, &spans)
                    .into_iter()
                    .zip(&pattern.loaded)
                    .filter(|(_, on)| **on)
                    .filter_map(|(part, _)| part)
                    .collect::<Vec<_>>()
            })
            .collect()
    }
}
