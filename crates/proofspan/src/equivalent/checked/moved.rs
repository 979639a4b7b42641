//! Which other beams may be built, and where does what stands on the member stand on them?

use crate::beam::{Beam, Support};
use crate::equivalent::asked::deviations::Deviations;
use crate::equivalent::asked::deviations::EndFixity;
use crate::equivalent::asked::deviations::Ends;
use crate::equivalent::asked::deviations::Moved;
use crate::equivalent::asked::reference::Reference;
use crate::equivalent::asked::words::name;
use crate::error::Error;
use crate::units::{FlexuralRigidity, Length};

/// Another beam.
pub(in crate::equivalent) struct Other {
    pub(in crate::equivalent) what: String,
    pub(in crate::equivalent) beam: Beam,
    pub(in crate::equivalent) moved: Moved,
}

/// The other beams, with words.
pub(in crate::equivalent) fn beams(
    beam: &Beam,
    deviations: &Deviations,
    reference: &Reference,
) -> Result<Vec<Other>, Error> {
    let mut found = Vec::new();
    let held = match deviations.ends {
        Ends::CastInPlace if beam.supports().len() > 1 => EndFixity::ALL,
        _ => &[],
    };
    let moved = Moved::none();
    for ends in held {
        let left = matches!(ends, EndFixity::LeftFixed | EndFixity::BothFixed);
        let right = matches!(ends, EndFixity::RightFixed | EndFixity::BothFixed);
        let what = match ends {
            EndFixity::LeftFixed => "left end held against rotation",
            EndFixity::RightFixed => "right end held against rotation",
            _ if left && right => "both ends held against rotation",
            _ => "ends free to turn",
        };
        let beam = beam.ends_held(left, right)?;
        found.push(Other { what: what.to_owned(), beam, moved });
    }
    if deviations.support > Length::ZERO {
        for (i, support) in beam.supports().iter().enumerate() {
            for sign in [1.0, -1.0] {
                let by = deviations.support * sign;
                let (beam, moved) = shifted(beam, support.at, by)?;
                let what = format!("support {} off by {}", name(i), reference.show(by));
                found.push(Other { what, beam, moved });
            }
        }
    }
    if deviations.stiffness > 1.0 {
        for (i, (from, to)) in beam.spans().into_iter().enumerate() {
            for factor in [deviations.stiffness, 1.0 / deviations.stiffness] {
                let what = format!(
                    "EI of stretch {} from {} to {} times {}",
                    i + 1,
                    reference.show(from),
                    reference.show(to),
                    (factor * 1e6).round() / 1e6
                );
                let stretches = stiffer(beam, from, to, factor);
                let beam = remade(beam, beam.length(), |x| x, beam.supports(), stretches)?;
                found.push(Other { what, beam, moved });
            }
        }
    }
    Ok(found)
}

/// The beam with one support elsewhere.
fn shifted(beam: &Beam, at: Length, by: Length) -> Result<(Beam, Moved), Error> {
    let (moved, length) = Moved::support(beam.length(), at, by);
    let supports: Vec<Support> =
        beam.supports().iter().map(|s| Support { at: moved.region(s.at), ..*s }).collect();
    let rigidity = beam.rigidity().iter().map(|(x, ei)| (moved.load(*x), *ei)).collect();
    let other = remade(beam, length, |x| moved.load(x), &supports, rigidity)?;
    Ok((other, moved))
}

fn remade(
    beam: &Beam,
    length: Length,
    place: impl Fn(Length) -> Length,
    supports: &[Support],
    rigidity: Vec<(Length, FlexuralRigidity)>,
) -> Result<Beam, Error> {
    Beam::new(length, supports.to_vec(), rigidity)?
        .with_shear(beam.shear_rigidity().iter().map(|(x, k)| (place(*x), *k)).collect())?
        .with_hinges(beam.hinges().iter().map(|x| place(*x)).collect())
}

/// The stretches of EI with a factor on one part.
fn stiffer(beam: &Beam, from: Length, to: Length, factor: f64) -> Vec<(Length, FlexuralRigidity)> {
    let at = |x: Length| {
        let own = beam.rigidity().iter().rev().find(|(start, _)| *start <= x);
        own.or_else(|| beam.rigidity().first()).map(|r| r.1)
    };
    let mut starts: Vec<Length> = beam.rigidity().iter().map(|r| r.0).chain([from, to]).collect();
    starts.retain(|x| *x < beam.length());
    starts.sort_by(|a, b| a.si().total_cmp(&b.si()));
    starts.dedup_by(|b, a| (*b - *a).abs() <= beam.length() * 1e-12);
    let one = |x: Length| {
        let k = if x >= from && x < to { factor } else { 1.0 };
        at(x).map(|ei| (x, ei * k))
    };
    starts.into_iter().filter_map(one).collect()
}
