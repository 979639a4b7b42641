//! Whether a fault can move a verdict.

use crate::readings::channel::Channel;
use crate::readings::clean::DECLARED;
use crate::readings::fault::{Fault, FaultEffect, FaultKind};
use crate::readings::log::Log;
use crate::readings::rigid::enters;
use crate::readings::spec::{LogSpec, Role, Window};

/// Whether the judgement uses this channel.
fn used(spec: &LogSpec, id: &str) -> bool {
    spec.channels.iter().find(|c| c.id == id).is_none_or(|c| match c.role {
        Role::Temperature => {
            spec.drift.as_ref().is_some_and(|d| d.channel == id)
                || spec.thermal.as_ref().is_some_and(|t| t.channels.iter().any(|c| c == id))
        }
        // where a gauge may stand on a free end: who knows the member takes it back
        Role::Rotation => enters(spec, id, &|_| true),
        Role::Level => spec.channels.iter().any(|g| g.level.as_deref() == Some(id)),
        Role::Force | Role::Pressure | Role::Deflection | Role::Settlement => true,
        // nothing is judged from the others yet: their faults are named
        _ => false,
    })
}

fn windows(spec: &LogSpec) -> impl Iterator<Item = &Window> {
    let m = &spec.moments;
    [Some(&m.zero), Some(&m.peak), m.residual.as_ref()].into_iter().flatten()
}

/// A fault whose samples are kept is open where it begins before the last window ends and does
/// not end before the first window it could touch.
pub(super) fn weigh(fault: &mut Fault, spec: &LogSpec) {
    let lasting = !matches!(fault.kind, FaultKind::Stuck | FaultKind::Saturated);
    let touches = |w: &Window| {
        if lasting {
            fault.from <= w.to.value
        } else {
            fault.from <= w.to.value && fault.to >= w.from.value
        }
    };
    if used(spec, &fault.channel) && windows(spec).any(touches) {
        fault.effect = FaultEffect::Open;
    }
}

/// Samples that are left out decide nothing where more than half of every window remains; they
/// are open where a window lost more, or where nobody `declared` them and they stand in a window.
pub(in crate::readings) fn left_out(
    log: &Log,
    channel: &Channel,
    fault: Fault,
    spec: &LogSpec,
    declared: bool,
) -> Fault {
    let lost = |w: &Window| {
        let rows = log.rows_of(w);
        if rows == 0 || fault.from > w.to.value || fault.to < w.from.value {
            return false;
        }
        let kept = log.in_window(channel, w).map_or(0, |m| m.1);
        kept * 2 < rows || (!declared && kept < rows)
    };
    let open = used(spec, &fault.channel) && windows(spec).any(lost);
    fault.with_effect(if open { FaultEffect::Open } else { FaultEffect::LeftOut })
}

/// What reading and cleaning found, with its effect: digits and rows of one time are remarks.
pub(in crate::readings) fn weighed(
    log: &Log,
    channel: &Channel,
    mut fault: Fault,
    spec: &LogSpec,
) -> Fault {
    match fault.kind {
        FaultKind::Missing | FaultKind::Blocked => left_out(log, channel, fault, spec, true),
        FaultKind::Sentinel => {
            let declared = *fault.note == *DECLARED;
            left_out(log, channel, fault, spec, declared)
        }
        FaultKind::Lost => {
            weigh(&mut fault, spec);
            fault
        }
        _ => fault,
    }
}
