//! How much water stands on a member that gives way under it?
//!
//! Static depth is what slope, camber and outlet leave; ponding is what the deflection adds.
//! `α = γ b L⁴/(π⁴ EI)` of a simple span tells how near the member is to collecting without end:
//! `1/(1 − α)` is a bound good to a tenth of a percent below 0.25 and is refused above (library
//! rule); the coupled solution then says what really stands there, or that nothing holds.

use crate::beam::{Beam, Load, Response};
use crate::error::{Error, Issue, slug};
use crate::units::{FlexuralRigidity, Force, Length, LineLoad, Message, UnitWeight};

crate::laws! {
    /// Amplification of deflection and load by ponding, first term.
    pub fn ponding_amplification(alpha: f64 as "alpha") -> f64 as "amplification" = 1.0 / (1.0 - alpha);
    source "first term of the series of a simple span";
}

/// How near a simple span under water is to collecting without end: `α = γ b L⁴/(π⁴ EI)`, first
/// term of the series; at 1 it collects without end.
#[must_use]
pub fn ponding_parameter(
    gamma: UnitWeight,
    width: Length,
    span: Length,
    rigidity: FlexuralRigidity,
) -> f64 {
    let pi4 = core::f64::consts::PI.powi(4);
    gamma.si() * width.si() * span.si().powi(4) / (pi4 * rigidity.si())
}

/// The largest parameter for which the amplification stands in for the coupled solution.
pub const PONDING_LIMIT: f64 = 0.25;

/// The amplification, refused where only a coupled solution is near enough.
///
/// # Errors
/// `loads.ponding-coupled` above [`PONDING_LIMIT`].
pub fn amplified(alpha: f64) -> Result<f64, Error> {
    if (0.0..=PONDING_LIMIT).contains(&alpha) {
        return Ok(ponding_amplification(&mut crate::formula::NoRecord, alpha));
    }
    Err(Issue::new(
        slug::LOADS_PONDING_COUPLED,
        "alpha",
        "the amplification 1/(1 - alpha) is not near enough here",
    )
    .value(alpha)
    .limit(format!("0 to {PONDING_LIMIT}"))
    .into())
}

/// Water on a member, static and ponded.
#[derive(Clone, PartialEq, Debug)]
pub struct Ponding {
    /// The water as it stands: static depth and what the deflection adds.
    pub loads: Vec<Load>,
    /// The actions under it.
    pub response: Response,
    /// Weight of the water at its static depth, per member unit.
    pub static_weight: Force,
    /// Weight of all the water.
    pub weight: Force,
    /// Largest deflection over that under the static water alone.
    pub amplification: f64,
    /// What each round adds over what the round before added, at the end: it tends to α.
    pub growth: f64,
    /// How far the weight moves when the pieces are halved, relative.
    pub error: f64,
}

/// So many pieces of all stretches together are looked at; the error is found with twice as many.
pub const MOST_PIECES: usize = 8192;

/// Rounds until a deflection is taken for settled.
const ROUNDS: usize = 2000;

/// Deepest water, or bed above it, in metres.
const DEEPEST: f64 = 10.0;

/// The water that stands on `beam`: static depths at places (linear between them, below zero where
/// the bed stands above the water), tributary width of one member unit. The deflection makes more
/// room, and water comes to fill it. `pieces` per stretch between two places, 2 or more.
///
/// # Errors
/// `loads.ponding-pieces` for fewer than two pieces, or more than [`MOST_PIECES`] in all;
/// `loads.ponding-bed` where the places do not rise along the beam, `loads.ponding-unstable` where
/// every round brings more than the one before, and what the beam refuses.
pub fn ponding(
    beam: &Beam,
    bed: &[(Length, Length)],
    width: Length,
    gamma: UnitWeight,
    pieces: usize,
) -> Result<Ponding, Error> {
    let rising = bed.windows(2).all(|w| matches!(w, [a, b] if a.0 < b.0));
    let inside = bed
        .iter()
        .all(|p| p.0 >= Length::ZERO && p.0 <= beam.length() * (1.0 + 1e-12) && p.1.is_finite());
    let mut issues = Vec::new();
    if bed.len() < 2 || !rising || !inside {
        let message = "places must rise along the beam, with a depth each";
        let issue = Issue::new(slug::LOADS_PONDING_BED, "at", message);
        issues.push(issue.value(format!("{} places", bed.len())));
    }
    let deepest = bed.iter().fold(0.0_f64, |most, p| most.max(p.1.abs().si()));
    if deepest > DEEPEST {
        let issue =
            Issue::new(slug::LOADS_PONDING_BED, "depth", "deeper than water stands on a roof");
        let issue = issue
            .value(Length::from_si(deepest))
            .limit(Message::new("up to {} (library rule)", [Length::from_si(DEEPEST).into()]));
        issues.push(issue.remedy("look at the unit: mm, not m"));
    }
    for (path, si) in [("width", width.si()), ("gamma", gamma.si())] {
        if !(si.is_finite() && si > 0.0) {
            let issue = Issue::new(slug::LOADS_PONDING_BED, path, "above zero is wanted").value(si);
            issues.push(issue.limit("above zero").remedy("look at the sign and the unit"));
        }
    }
    Error::check(issues)?;
    let all = bed.len().saturating_sub(1).saturating_mul(pieces);
    if pieces < 2 || all > MOST_PIECES {
        return Err(Issue::new(slug::LOADS_PONDING_PIECES, "pieces", "too few or too many pieces")
            .value(format!("{pieces} on each of {} stretches", bed.len().saturating_sub(1)))
            .limit(format!("at least 2 a stretch, up to {MOST_PIECES} in all"))
            .into());
    }
    let coarse = settled(beam, bed, width, gamma, pieces)?;
    let fine = settled(beam, bed, width, gamma, 2 * pieces)?;
    let error = (fine.weight / coarse.weight - 1.0).abs();
    Ok(Ponding { error, ..fine })
}

fn settled(
    beam: &Beam,
    bed: &[(Length, Length)],
    width: Length,
    gamma: UnitWeight,
    pieces: usize,
) -> Result<Ponding, Error> {
    let mut places: Vec<(Length, Length)> = Vec::new();
    for (a, b) in bed.iter().zip(bed.iter().skip(1)) {
        for i in 0..pieces {
            let part = i as f64 / pieces as f64;
            places.push((a.0 + (b.0 - a.0) * part, a.1 + (b.1 - a.1) * part));
        }
    }
    places.extend(bed.last().copied());
    let water = |sink: &dyn Fn(Length) -> Length| -> Vec<Load> {
        let line = |p: &(Length, Length)| {
            let depth = (p.1 + sink(p.0)).max(Length::ZERO);
            (gamma * (width * depth), depth)
        };
        let depths: Vec<(LineLoad, Length)> = places.iter().map(line).collect();
        places
            .windows(2)
            .zip(depths.windows(2))
            .filter_map(|(x, q)| match (x, q) {
                ([a, b], [qa, qb]) if qa.1 > Length::ZERO || qb.1 > Length::ZERO => {
                    Some(Load::line(a.0, b.0, qa.0, qb.0))
                }
                _ => None,
            })
            .collect()
    };
    let weight = |loads: &[Load]| -> Force { loads.iter().map(|l| l.resultant()).sum() };
    let start = water(&|_| Length::ZERO);
    let first = beam.response(&start)?;
    let deepest =
        |a: &Response| a.inside().deflection_extremes(Length::ZERO, beam.length()).max.value;
    let (mut loads, mut response) = (start.clone(), first.clone());
    let (mut last, mut growth) = (0.0, 0.0);
    for round in 0..ROUNDS {
        let next = water(&|x| response.inside().deflection(x));
        let added = (weight(&next) - weight(&loads)).si();
        // near the end rounding is all that is left to compare
        if last > 1e-8 * weight(&next).si() {
            growth = added / last;
        }
        loads = next;
        response = beam.response(&loads)?;
        if round > 3 && growth >= 1.0 {
            break;
        }
        if added.abs() <= 1e-13 * weight(&loads).si().max(f64::MIN_POSITIVE) {
            let base = deepest(&first);
            return Ok(Ponding {
                static_weight: weight(&start),
                weight: weight(&loads),
                amplification: if base > Length::ZERO { deepest(&response) / base } else { 1.0 },
                growth,
                error: 0.0,
                loads,
                response,
            });
        }
        last = added;
    }
    Err(Error::solver(
        Issue::new(
            slug::LOADS_PONDING_UNSTABLE,
            "beam",
            "every round of deflection brings more water than the one before",
        )
        .value(format!("growth {growth:.4} a round"))
        .limit("below 1"),
    ))
}
