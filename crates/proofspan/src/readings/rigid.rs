//! How the supports carry a gauge with them: the line through two bearings, or a root that settles
//! and turns.

use super::spec::{LogSpec, Role};
use crate::units::Length;

/// Channels whose places differ by less than this stand at one place.
const ONE_PLACE: Length = Length::from_si(1e-6);

/// A place with its channels.
type Group<'a> = (Length, Vec<&'a str>);

/// What the supports do to a gauge.
#[derive(Clone, PartialEq, Debug)]
pub(super) enum How {
    /// Nobody knows.
    Unknown,
    /// It stands at a bearing.
    At(Length),
    /// It stands between two bearings.
    Between(Length, Length),
    /// It stands on a free end, beyond two bearings.
    Beyond(Length, Length),
    /// It stands on a free end, so far from its root, to the right positive.
    Root(Length, Length),
}

/// The movement of a gauge with its supports: `Σ part · settlement + lever · turn`.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Rigid {
    pub(super) how: How,
    /// Settlement channels, each with its part.
    pub(super) settles: Vec<(String, f64)>,
    /// Rotation channels, each with its part: positive where the right end goes down.
    pub(super) turns: Vec<(String, f64)>,
}

impl Rigid {
    /// The lever arm of the turn.
    pub(super) fn lever(&self) -> Option<Length> {
        match self.how {
            How::Root(_, lever) if !self.turns.is_empty() => Some(lever),
            _ => None,
        }
    }
}

/// The channels of a role by their places from left to right, those of one place by name.
fn groups(spec: &LogSpec, role: Role) -> Vec<Group<'_>> {
    let mut all: Vec<(Length, &str)> = spec
        .channels
        .iter()
        .filter(|c| c.role == role)
        .filter_map(|c| c.at.as_ref().map(|at| (at.value, c.id.as_str())))
        .collect();
    all.sort_by(|a, b| a.0.si().total_cmp(&b.0.si()).then(a.1.cmp(b.1)));
    let mut out: Vec<Group<'_>> = Vec::new();
    for (at, id) in all {
        match out.last_mut().filter(|last| at - last.0 < ONE_PLACE) {
            Some(last) => last.1.push(id),
            None => out.push((at, vec![id])),
        }
    }
    out
}

/// The mean of the channels of a place, times a part.
fn mean(group: &Group<'_>, part: f64) -> Vec<(String, f64)> {
    let share = part / group.1.len() as f64;
    group.1.iter().map(|id| ((*id).to_owned(), share)).collect()
}

/// What carries a gauge at a place; `free` where that is beyond the supports of the member, on a
/// cantilever or an overhang.
pub(super) fn rigid(spec: &LogSpec, at: Length, free: bool) -> Rigid {
    let bearings = groups(spec, Role::Settlement);
    let left = bearings.iter().rfind(|b| b.0 <= at + ONE_PLACE);
    let right = bearings.iter().find(|b| b.0 >= at - ONE_PLACE);
    let line = |a: &Group<'_>, b: &Group<'_>| {
        let part = (at - a.0) / (b.0 - a.0);
        [mean(a, 1.0 - part), mean(b, part)].concat()
    };
    let nothing = Rigid { how: How::Unknown, settles: Vec::new(), turns: Vec::new() };
    match (left, right) {
        (Some(a), Some(b)) if a.0 < b.0 => {
            Rigid { how: How::Between(a.0, b.0), settles: line(a, b), ..nothing }
        }
        (Some(a), Some(_)) => Rigid { how: How::At(a.0), settles: mean(a, 1.0), ..nothing },
        _ if !free => nothing,
        _ => {
            let mut near: Vec<&Group<'_>> = bearings.iter().collect();
            let away = |g: &Group<'_>| (g.0 - at).abs();
            near.sort_by(|a, b| away(a).si().total_cmp(&away(b).si()));
            if let [a, b, ..] = near.as_slice() {
                let (a, b) = if a.0 < b.0 { (a, b) } else { (b, a) };
                return Rigid { how: How::Beyond(a.0, b.0), settles: line(a, b), ..nothing };
            }
            let turns = groups(spec, Role::Rotation);
            let bearing = near.first();
            let turn = match bearing {
                Some(b) => turns.iter().find(|t| (t.0 - b.0).abs() < ONE_PLACE),
                None => turns.iter().min_by(|a, b| away(a).si().total_cmp(&away(b).si())),
            };
            let Some(root) = bearing.map(|b| b.0).or(turn.map(|t| t.0)) else { return nothing };
            Rigid {
                how: How::Root(root, at - root),
                settles: bearing.map(|b| mean(b, 1.0)).unwrap_or_default(),
                turns: turn.map(|t| mean(t, 1.0)).unwrap_or_default(),
            }
        }
    }
}

/// Whether a settlement or a turn is taken off a gauge; `free` as in [`rigid`].
pub(crate) fn enters(spec: &LogSpec, id: &str, free: &dyn Fn(Length) -> bool) -> bool {
    let gauges = spec.channels.iter().filter(|c| c.role == Role::Deflection);
    gauges.filter_map(|c| c.at.as_ref()).any(|at| {
        let own = rigid(spec, at.value, free(at.value));
        own.settles.iter().chain(&own.turns).any(|(channel, _)| channel == id)
    })
}
