//! Which spans must be loaded at once?

use super::load::Load;
use super::model::{Beam, Restraint, Support};
use super::solve::refused;
use crate::error::{Error, Issue, slug};
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

/// So many spans are looked at in patterns; the usual patterns are about twice as many.
pub const MOST_SPANS: usize = 64;
/// Up to so many spans every pattern is tried where the usual ones may miss the worst.
pub const PATTERNED_SPANS: usize = 6;

/// Refuses lines of too many spans before anything is made for them.
fn few(spans: usize) -> Result<(), Error> {
    if spans <= MOST_SPANS {
        return Ok(());
    }
    Err(Issue::new(slug::BEAM_PATTERN, "spans", "too many spans for patterns")
        .value(spans)
        .limit(format!("up to {MOST_SPANS}"))
        .into())
}

/// The usual patterns of so many spans: all; every second one, both ways; for each inner support the
/// two spans beside it with every second one beyond, and all the others; none.
///
/// Of whole spans loaded or not, under a load that acts down, these hold the largest and the smallest
/// moment, shear and reaction of every line on supports that do not give way, without hinges: there a
/// load on one span makes moments at the supports that alternate in sign away from it. Where hinges,
/// springs or bearings that lift let a span act on others in another order, only all `2ⁿ` patterns do
/// ([`Beam::patterns`]). A load that may stop inside a span can do more still, for shear above all:
/// [`super::InfluenceLine::worst`] finds that.
///
/// # Errors
/// `beam.pattern` for more than [`MOST_SPANS`] spans.
pub fn usual_patterns(spans: usize) -> Result<Vec<Pattern>, Error> {
    few(spans)?;
    let mut all: Vec<Pattern> = Vec::new();
    let mut add = |loaded: Vec<bool>| {
        let pattern = Pattern { loaded };
        if !all.contains(&pattern) {
            all.push(pattern);
        }
    };
    add(vec![true; spans]);
    add((0..spans).map(|i| i % 2 == 0).collect());
    add((0..spans).map(|i| i % 2 == 1).collect());
    for inner in 1..spans {
        // spans inner−1 and inner, then every second one outward; and all the others
        let pair: Vec<bool> = (0..spans)
            .map(|i| if i < inner { (inner - 1 - i) % 2 == 0 } else { (i - inner) % 2 == 0 })
            .collect();
        let others: Vec<bool> = pair.iter().map(|on| !on).collect();
        add(pair);
        add(others);
    }
    add(vec![false; spans]);
    Ok(all)
}

/// The patterns that a line of spans is looked at under.
#[derive(Clone, PartialEq, Eq, Debug)]
#[non_exhaustive]
pub struct Patterns {
    /// The patterns, the one with every span loaded first.
    pub all: Vec<Pattern>,
    /// Whether these hold the worst of all `2ⁿ` patterns of whole spans.
    pub worst: bool,
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
    let part = |i: usize, (a, b): (Length, Length)| match load {
        Load::Line { from, to, w_from, w_to } if to > from => {
            let (left, right) = (from.max(a), to.min(b));
            let at = |x: Length| w_from + (w_to - w_from) * ((x - from) / (to - from));
            (right > left).then(|| Load::line(left, right, at(left), at(right)))
        }
        Load::Curvature { from, to, kappa_from, kappa_to } if to > from => {
            let (left, right) = (from.max(a), to.min(b));
            let at = |x: Length| kappa_from + (kappa_to - kappa_from) * ((x - from) / (to - from));
            (right > left).then(|| Load::Curvature {
                from: left,
                to: right,
                kappa_from: at(left),
                kappa_to: at(right),
            })
        }
        Load::Point { at, .. }
        | Load::Moment { at, .. }
        | Load::Kink { at, .. }
        | Load::Step { at, .. } => within(at, i, (a, b)).then_some(load),
        _ => None,
    };
    spans.iter().enumerate().map(|(i, span)| part(i, *span)).collect()
}

impl Beam {
    /// The patterns that hold the worst for this beam: the usual ones where those do, else all of up to
    /// [`PATTERNED_SPANS`] spans; beyond that the usual ones, which may then miss the worst.
    ///
    /// # Errors
    /// `beam.pattern` for more than [`MOST_SPANS`] spans.
    pub fn patterns(&self) -> Result<Patterns, Error> {
        let spans = self.spans().len();
        few(spans)?;
        let gives = |s: &Support| {
            s.lifts
                || matches!(s.vertical, Restraint::Spring(_))
                || matches!(s.rotation, Restraint::Spring(_))
        };
        let usual = self.hinges().is_empty() && !self.supports().iter().any(gives);
        if usual || spans > PATTERNED_SPANS {
            return Ok(Patterns { all: usual_patterns(spans)?, worst: usual });
        }
        let of = |mask: u32| Pattern { loaded: (0..spans).map(|i| mask >> i & 1 == 1).collect() };
        Ok(Patterns { all: (0..1_u32 << spans).rev().map(of).collect(), worst: true })
    }

    /// Loads with those that may vary cut to the loaded spans of a pattern.
    ///
    /// # Errors
    /// `beam.pattern` for a pattern without one mark a span; `beam.load-outside` and `units.nonfinite`
    /// as [`Beam::response`].
    pub fn patterned(&self, pattern: &Pattern, variable: &[Load]) -> Result<Vec<Load>, Error> {
        let spans = self.spans();
        let mut issues = refused(self.length(), &[variable]);
        if pattern.loaded.len() != spans.len() {
            let message = "a pattern has one mark a span";
            let issue = Issue::new(slug::BEAM_PATTERN, "pattern", message);
            issues.push(issue.value(pattern.loaded.len()).limit(spans.len()));
        }
        Error::check(issues)?;
        let marked = |load: &Load| {
            let parts = on_spans(*load, &spans).into_iter().zip(&pattern.loaded);
            parts.filter(|(_, on)| **on).filter_map(|(part, _)| part).collect::<Vec<_>>()
        };
        Ok(variable.iter().flat_map(marked).collect())
    }
}
