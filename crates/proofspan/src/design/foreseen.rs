//! What is predicted of the member, and what of it feeds the design.

use super::around::in_place;
use super::pressing::pressing;
use crate::beam::{Beam, Response, Stiffness};
use crate::capacity::{Predicted, PredictedStiffness, StiffnessFrom};
use crate::equivalent::{Layout, LayoutSpec, MomentLimit, Requirement};
use crate::error::{Error, Issue, slug};
use crate::formula::Working;
use crate::rig::Rig;
use crate::shoring::Shoring;
use crate::spec::TestSpec;
use crate::target::Target;

/// The paths of issues of the part `capacity`.
fn under(mut error: Error) -> Error {
    error.issues.iter_mut().for_each(|i| {
        if !i.path.starts_with("layout.") {
            i.path = format!("capacity.{}", i.path);
        }
    });
    error
}

/// The layout that is asked for with the limits that keep the member uncracked; nothing where the wish is
/// not there.
pub(super) fn wished(spec: &TestSpec, target: &Target) -> Result<Option<LayoutSpec>, Error> {
    if !spec.layout.stay_uncracked {
        return Ok(None);
    }
    let Some(capacity) = &spec.capacity else {
        let message = "to stay uncracked asks for the sections of the member, and the part `capacity` is missing";
        return Err(Issue::new(slug::SOURCE_FIELD_MISSING, "capacity", message).into());
    };
    capacity.per(&spec.scope.member)?;
    let limits = capacity.uncracked(&target.in_place).map_err(under)?;
    let mut layout = spec.layout.clone();
    let limited = limits.into_iter().filter(|l| l.sagging.is_some() || l.hogging.is_some());
    layout.requirements.extend(limited.map(|l| {
        Requirement::MomentLimit(MomentLimit {
            of: "cracking".to_owned(),
            sagging: l.sagging,
            hogging: l.hogging,
            share: 1.0,
            from: Some(l.from),
            to: Some(l.to),
        })
    }));
    Ok(Some(layout))
}

/// The soft and the stiff beam by which the deflections of the test are predicted, where they are those of
/// the sections.
pub(super) fn beams(
    spec: &TestSpec,
    target: &Target,
    layout: &Layout,
) -> Result<Option<(Beam, Beam)>, Error> {
    let Some(capacity) = &spec.capacity else { return Ok(None) };
    if capacity.stiffness == StiffnessFrom::Document {
        return Ok(None);
    }
    capacity.per(&spec.scope.member)?;
    capacity.beams(&target.beam, &in_place(target), layout.loads()).map(Some).map_err(under)
}

/// The deflection of the test by the sections beside that by the beam of the document.
pub(super) fn stiffness(
    spec: &TestSpec,
    target: &Target,
    layout: &Layout,
) -> Result<Option<PredictedStiffness>, Error> {
    let Some(capacity) = &spec.capacity else { return Ok(None) };
    let of = |which| -> Result<Response, Error> {
        spec.beam.beam(which)?.anchored().level().response(layout.loads())
    };
    let both = (&of(Stiffness::Stiff)?, &of(Stiffness::Soft)?);
    let shares: Vec<f64> = spec.protocol.steps.iter().map(|s| s.value()).collect();
    let loads = (&*in_place(target), layout.loads());
    capacity.stiffness(&target.beam, loads, both, &shares).map_err(under)
}

/// What is predicted of the sections along the member under the test, and what is checked of them.
pub(super) fn predicted(
    working: &mut Working,
    spec: &TestSpec,
    (target, layout): (&Target, &Layout),
    (rig, shoring): (&Rig, &Shoring),
) -> Result<Option<Predicted>, Error> {
    let Some(capacity) = &spec.capacity else { return Ok(None) };
    capacity.per(&spec.scope.member)?;
    let mut found = capacity.along(&target.in_place, &layout.response).map_err(under)?;
    capacity.work(working, (&target.in_place, &layout.response), &found).map_err(under)?;
    let beam = &target.beam;
    found.without = capacity.lost(working, beam, &target.nominal, target.unit).map_err(under)?;
    if !found.without.is_empty() {
        found.left_out.push("without the strengthening: self-weight and superimposed dead load, live loads and snow of the document count, no rain, ponding, wind or earthquake".to_owned());
    }
    let pressing = pressing(working, spec, (target, layout), (rig, shoring))?;
    let mut issues = Vec::new();
    for local in &capacity.local {
        match local.placed(working, &pressing) {
            Ok(placed) => found.local.push(placed),
            Err(error) => issues.extend(error.issues.into_iter().map(|mut issue| {
                issue.path = format!("capacity.local.{}.{}", local.name, issue.path);
                issue
            })),
        }
    }
    Error::check(issues)?;
    Ok(Some(found))
}
