//! What should the engineer know about a layout, besides that it meets what was asked?

use super::distance::{Stands, near_bearing};
use super::untested::reached;
use crate::beam::{Beam, Response, Restraint};
use crate::equivalent::asked::candidate::Candidate;
use crate::equivalent::asked::effect::Effect;
use crate::equivalent::asked::reference::Reference;
use crate::equivalent::asked::requirement::Requirement;
use crate::equivalent::asked::words::name;
use crate::error::{Error, Issue, slug};
use crate::units::{Force, Length, Message, Net};
use crate::verdict::{Note, State, Verdict};

/// Notes on a layout, and the verdict on its distance to the bearing where shear is in doubt.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct Warnings {
    /// Regions where the reference is about zero, actions that are not tested, struts.
    pub notes: Vec<Note>,
    /// Clear distance from bearing to plate; nothing where no shear is to be reached or the depth
    /// is not known.
    pub distance: Option<Verdict>,
}

/// Looks at a layout. `depth` is the effective depth and the length of the bearing along the
/// member, where they are known. Where several regions are in doubt in shear, the verdict is that of
/// the least distance.
///
/// # Errors
/// A depth that is not above zero or a bearing below zero; `equivalent.jack-near-support` where shear is
/// to be reached and a load stands nearer to a bearing of that region than half the effective depth.
pub fn warnings(
    beam: &Beam,
    reference: &Reference,
    requirements: &[Requirement],
    layout: (&[Candidate], &[Net<Force>]),
    test: &Response,
    depth: Option<(Length, Length)>,
) -> Result<Warnings, Error> {
    if let Some((depth, bearing)) = depth {
        let mut issues = Vec::new();
        let mut above = |field: &str, value: Length, fits: bool, limit: &str| {
            if !fits {
                issues.push(
                    Issue::new(slug::EQUIVALENT_DEPTH, field, "a length that cannot be")
                        .value(value)
                        .limit(limit),
                );
            }
        };
        let fits = depth.is_finite() && depth > Length::ZERO;
        above("effective_depth", depth, fits, "above zero");
        let fits = bearing.is_finite() && bearing >= Length::ZERO;
        above("bearing_length", bearing, fits, "zero or more");
        Error::check(issues)?;
    }
    let mut notes = Vec::new();
    let mut distance: Option<Verdict> = None;
    let mut unchecked = false;
    let used = || layout.0.iter().zip(layout.1).filter(|(_, f)| f.0 > Force::ZERO).map(|(c, _)| c);
    let stands: Vec<Stands> = used()
        .flat_map(|c| {
            c.covers().map(|(from, to)| Stands {
                from,
                to,
                spread: c.edges,
                what: c.label_in(reference.system).into(),
            })
        })
        .collect();
    for (i, requirement) in requirements.iter().enumerate() {
        let Requirement::Reach(reach) = requirement else { continue };
        if reach.at.is_empty() {
            notes.extend(about_zero(reference, requirement, reach.effect, i));
        }
        if reach.effect != Effect::Shear {
            continue;
        }
        let Some((depth, bearing)) = depth else {
            unchecked = true;
            continue;
        };
        for region in requirement.regions(reference) {
            let lengths = (bearing, depth);
            let found = near_bearing(beam, region, &stands, lengths, reference.unit)?;
            let Some((verdict, note)) = found else { continue };
            notes.extend(note);
            let nearer = |d: &Verdict| verdict.demand.si < d.demand.si;
            if distance.as_ref().is_none_or(nearer) {
                distance = Some(verdict);
            }
        }
    }
    if unchecked {
        notes.push(Note::new(
            slug::EQUIVALENT_DISTANCE_UNCHECKED,
            "effective_depth",
            "without the effective depth it is not known whether the load reaches the beam or a strut into the bearing",
        ));
    }
    notes.extend(uplift(beam, reference, test));
    notes.extend(overlaps(&used().collect::<Vec<_>>(), reference));
    for action in reached(beam, reference, test) {
        if action.state == State::NotApplicable {
            notes.push(Note::new(
                slug::EQUIVALENT_UNTESTED,
                "layout",
                Message::new(
                    "{} is not tested: {} of its reference net, {} total",
                    [action.what.into(), plain(action.net).into(), plain(action.total).into()],
                ),
            ));
        }
    }
    Ok(Warnings { notes, distance })
}

/// Without the sign of a zero.
fn plain(ratio: f64) -> f64 {
    if ratio.abs() < 5e-7 { 0.0 } else { ratio }
}

/// Supports that the test pulls up, with what is in place.
fn uplift(beam: &Beam, reference: &Reference, test: &Response) -> Vec<Note> {
    let (there, own) = (reference.in_place.reactions(), test.reactions());
    let largest = own.iter().fold(0.0_f64, |m, r| m.max(r.force.si().abs()));
    let pulled = beam.supports().iter().zip(own).zip(there).enumerate();
    pulled
        .filter(|(_, ((s, own), there))| {
            let total = own.force + there.force;
            s.vertical != Restraint::Free && total.si() < -1e-9 * largest
        })
        .map(|(i, ((_, own), there))| {
            Note::new(
                slug::EQUIVALENT_UPLIFT,
                "layout",
                format!(
                    "the test pulls support {} up by {} with what is in place: it must be held down, or a reaction limit asked",
                    name(i),
                    reference.show((own.force + there.force) * -1.0)
                ),
            )
        })
        .collect()
}

/// Carriers that stand on each other.
fn overlaps(used: &[&Candidate], reference: &Reference) -> Vec<Note> {
    let mut notes = Vec::new();
    for (i, a) in used.iter().enumerate() {
        for b in used.iter().skip(i + 1) {
            if a.clear_to(b) < Length::from_si(-1e-9) {
                notes.push(Note::new(
                    slug::EQUIVALENT_OVERLAP,
                    "layout",
                    format!(
                        "{} and {} stand on the same stretch",
                        a.label_in(reference.system),
                        b.label_in(reference.system)
                    ),
                ));
            }
        }
    }
    notes
}

/// A stretch on which a term is about zero somewhere: nearly nothing is asked there.
fn about_zero(
    reference: &Reference,
    requirement: &Requirement,
    effect: Effect,
    index: usize,
) -> Option<Note> {
    let (from, to) = requirement.stretch(reference);
    let mut names = Vec::new();
    for (name, term) in &reference.terms {
        let e = term.inside().extremes_of(from, to, |s| effect.poly(s));
        if e.min.value < 0.0 && e.max.value > 0.0 {
            names.push(name.as_str());
        }
    }
    (!names.is_empty()).then(|| {
        Note::new(
            slug::EQUIVALENT_ABOUT_ZERO,
            format!("requirements[{index}]"),
            format!("the {effect} of {} changes its sign between {} and {}: where it is below 2 % of its largest nothing is asked", names.join(", "), reference.show(from), reference.show(to)),
        )
    })
}
