//! By how much is a test above what was asked, anywhere on a stretch?

use crate::beam::{Response, on_stretch};
use crate::equivalent::asked::effect::BasisWord;
use crate::equivalent::asked::effect::Effect;
use crate::equivalent::asked::objective::Objective;
use crate::equivalent::asked::reference::Reference;
use crate::equivalent::checked::overshoot::Overshoot;
use crate::equivalent::solved::rows::{Field, Ground, Source};
use crate::error::{Error, Issue, slug};
use crate::units::{Length, Ratio};

/// The largest ratio of test to reference on a stretch, in each sign against the largest term, a
/// reference below 2 % of its largest counted as that. Exact: the ratio rises to that of the place
/// where the last one is passed most, until none is passed (Dinkelbach).
/// Nothing where the test is nowhere in the sign of the reference.
///
/// # Errors
/// `beam.place-outside` for a stretch beyond the member or reversed; `beam.cases` for a test of another
/// length.
pub fn largest_ratio(
    reference: &Reference,
    test: &Response,
    effect: Effect,
    basis: BasisWord,
    (from, to): (Length, Length),
) -> Result<Option<Overshoot>, Error> {
    let length = reference.in_place.length();
    on_stretch(length, from, to)?;
    if (test.length() - length).abs() > length * 1e-9 {
        let issue = Issue::new(slug::BEAM_CASES, "test", "a test on a beam of another length");
        return Err(issue.value(test.length()).limit(length).into());
    }
    Ok(largest(reference, test, effect, basis, (from, to)))
}

fn largest(
    reference: &Reference,
    test: &Response,
    effect: Effect,
    basis: BasisWord,
    (from, to): (Length, Length),
) -> Option<Overshoot> {
    let objective =
        Objective { from: Some(from), to: Some(to), ..Objective::overshoot(effect, basis) };
    let units = [test.clone()];
    let mut field = Field::empty(1);
    let ground = Ground { units: &units, reference };
    for cap in objective.caps(reference) {
        field.require(ground, Source::Objective(0), &cap);
    }
    field.stretches.iter_mut().for_each(|s| s.relaxed = true);
    let mut ratio = 0.0_f64;
    let mut found: Option<Overshoot> = None;
    for _ in 0..60 {
        let mut worst: Option<(f64, usize, f64)> = None;
        for (i, stretch) in field.stretches.iter().enumerate() {
            if let Some((s, slack)) = field.least(stretch, &[1.0], ratio, 1e-12)
                && worst.is_none_or(|(v, _, _)| slack < v)
            {
                worst = Some((slack, i, s));
            }
        }
        let Some((_, i, s)) = worst else { break };
        let stretch = field.stretches.get(i)?;
        let mut a = Vec::new();
        let (b, e) = field.row(stretch, s, &mut a);
        let higher = (b - a.first()?) / e;
        if higher <= ratio * (1.0 + 1e-14) {
            break;
        }
        ratio = higher;
        let (at, side) = stretch.place(s)?;
        found = Some(Overshoot {
            effect,
            basis: basis.basis(),
            ratio: Ratio::from(ratio),
            at,
            side,
            term: stretch.term.unwrap_or(0),
            floored: stretch.term.is_none(),
        });
    }
    found
}
