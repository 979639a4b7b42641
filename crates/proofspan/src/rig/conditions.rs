//! Are the conditions of the lower floor of lift-off borne out by what the rest of the rig says?

use super::fittings::caps;
use super::press::ForcePath;
use super::spec::RigSpec;
use crate::error::slug;
use crate::source::Origin;
use crate::units::{Message, Pressure};
use crate::verdict::Note;

/// Whether all five conditions hold, and a note for each that is claimed and not borne out. A relief
/// valve caps the force where every circuit that presses describes one that opens at 1.1 of its
/// pressure at most; weights were weighed where none of them says otherwise.
pub(super) fn borne_out(spec: &RigSpec, path: &ForcePath<'_>) -> (bool, Vec<Note>) {
    let mut notes: Vec<Note> = Vec::new();
    let mut say = |at: String, message: Message| {
        let same = notes.iter().any(|n: &Note| n.path == at);
        if !same {
            notes.push(Note::new(slug::RIG_CONDITION_UNSHOWN, at, message));
        }
    };
    for served in path.served.iter().filter(|_| spec.conditions.relief_valve) {
        let jacks = served.jacks;
        let pressure = Pressure::over(served.press.force.0, jacks.acting()) / (1.0 - jacks.loses());
        let relief = jacks.fittings.as_ref().and_then(|f| f.relief.as_ref());
        let at = || format!("{}.fittings.relief", served.jacks_path);
        match relief.map(|r| r.value) {
            None => say(
                at(),
                "a relief valve is said to cap the jack force, and this circuit describes none: the floor of lift-off stays the higher one".into(),
            ),
            Some(opens) if !caps(opens, pressure) => say(
                at(),
                Message::new(
                    "a relief valve is said to cap the jack force; it opens at {} where {} is planned: the floor of lift-off stays the higher one",
                    [opens.into(), pressure.into()],
                ),
            ),
            Some(_) => {}
        }
    }
    let other = |o: Origin| !matches!(o, Origin::Measured | Origin::Unstated);
    let weights = spec.counterweights.iter().enumerate();
    let weights = weights.map(|(i, w)| match (&w.force, &w.water) {
        (Some(force), _) => (force.origin, format!("rig.counterweights[{i}].force")),
        // water is weighed by its depth
        (None, Some(t)) => (t.depth.origin, format!("rig.counterweights[{i}].water.depth")),
        (None, None) => (Origin::Unstated, String::new()),
    });
    let kinds = spec.blocks.iter().flat_map(|b| b.kinds.iter().enumerate());
    let kinds = kinds.map(|(i, k)| (k.weight.origin, format!("rig.blocks.kinds[{i}].weight")));
    for (origin, at) in weights.chain(kinds).filter(|_| spec.conditions.weights_weighed) {
        if other(origin) {
            say(
                at,
                Message::new(
                    "the weights are said to be weighed, and this one is {}: the floor of lift-off stays the higher one",
                    [origin.word().into()],
                ),
            );
        }
    }
    (spec.conditions.all() && notes.is_empty(), notes)
}
