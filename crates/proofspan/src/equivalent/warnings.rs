//! What should the engineer know about a layout, besides that it meets what was asked?

use super::candidate::Candidate;
use super::distance::near_bearing;
use super::overshoot::Effect;
use super::require::{Reference, Requirement};
use super::untested::reached;
use crate::beam::{Actions, Beam};
use crate::error::{Error, slug};
use crate::units::{Force, Length, Net};
use crate::verdict::{Note, State, Verdict};

/// Notes on a layout, and the verdict on its distance to the bearing where shear is in doubt.
#[derive(Clone, PartialEq, Debug)]
pub struct Warnings {
    /// Regions where the reference is about zero, actions that are not tested, struts.
    pub notes: Vec<Note>,
    /// Clear distance from bearing to plate; nothing where no shear is to be reached or the depth
    /// is not known.
    pub distance: Option<Verdict>,
}

/// Looks at a layout. `depth` is the effective depth and the length of the bearing along the
/// member, where they are known.
///
/// # Errors
/// `equivalent.jack-near-support` where shear is to be reached and a load stands nearer to the bearing
/// than half the effective depth.
pub fn warnings(
    beam: &Beam,
    reference: &Reference,
    requirements: &[Requirement],
    layout: (&[Candidate], &[Net<Force>]),
    test: &Actions,
    depth: Option<(Length, Length)>,
) -> Result<Warnings, Error> {
    let mut notes = Vec::new();
    let mut distance = None;
    for (i, requirement) in requirements.iter().enumerate() {
        let Requirement::Reach(reach) = requirement else { continue };
        if reach.at.is_empty() {
            notes.extend(about_zero(reference, requirement, reach.effect, i));
        }
        if reach.effect != Effect::Shear || distance.is_some() {
            continue;
        }
        let Some((depth, bearing)) = depth else {
            notes.push(Note::new(
                slug::EQUIVALENT_DISTANCE_UNCHECKED,
                "depth",
                "without the effective depth it is not known whether the load reaches the beam or a strut into the bearing",
            ));
            continue;
        };
        let used = layout.0.iter().zip(layout.1).filter(|(_, f)| f.0 > Force::ZERO);
        let covers = used.flat_map(|(c, _)| c.covers());
        let region = requirement.stretch(reference);
        let (verdict, note) = near_bearing(beam, region, covers, (bearing, depth), reference.unit)?;
        notes.extend(note);
        distance = Some(verdict);
    }
    for action in reached(beam, reference, test) {
        if action.state == State::NotApplicable {
            notes.push(Note::new(
                slug::EQUIVALENT_UNTESTED,
                "layout",
                format!(
                    "{} is not tested: {:.6} of its reference net, {:.6} total",
                    action.what, action.net, action.total
                ),
            ));
        }
    }
    Ok(Warnings { notes, distance })
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
        let e = term.extremes_of(from, to, |s| effect.poly(s));
        if e.min.value < 0.0 && e.max.value > 0.0 {
            names.push(name.as_str());
        }
    }
    (!names.is_empty()).then(|| {
        Note::new(
            slug::EQUIVALENT_ABOUT_ZERO,
            format!("requirements[{index}]"),
            format!("the {effect} of {} changes its sign between {from} and {to}: where it is below 2 % of its largest nothing is asked", names.join(", ")),
        )
    })
}
