//! The indices of load cycles among the values of a criterion.

use super::record::Permanency;
use super::worst::BELOW;
use crate::editions::{Asks, CRITERION_NAMES, Criterion};
use crate::error::slug;
use crate::formula::Formula;
use crate::readings::{CycleRead, GaugeCycles, Index};
use crate::verdict::Note;

/// A value with its slot among those of a criterion and its standard uncertainty, where it is stated.
pub(super) type Known = (usize, f64, Option<f64>);

/// The slots of the indices: deviation from linearity, ratio of permanencies, permanency,
/// repeatability.
const INDICES: [usize; 4] = [IDL, IDL + 1, IDL + 2, IDL + 3];
const IDL: usize = 10;

/// Whether a criterion speaks of an index of load cycles.
pub(crate) fn speaks_of_cycles(criterion: &Criterion) -> bool {
    matches!(&criterion.asks, Asks::Limit(limit) if limit.slots().iter().any(|s| INDICES.contains(s)))
}

/// One cycle, or pair, under a criterion.
#[derive(Clone, PartialEq, Debug, Default)]
pub(super) struct Case {
    /// Which.
    pub(super) label: String,
    /// Its indices.
    pub(super) values: Vec<Known>,
    /// Whether an index divides by what cannot be told from nothing.
    pub(super) blunt: bool,
    /// Whether a cycle left less than nothing, by more than a fiftieth of its largest deflection.
    pub(super) below: bool,
    /// Why there is no index.
    pub(super) open: Option<String>,
}

/// The cycles or pairs of one gauge that a criterion compares.
pub(super) fn cases(
    limit: &Formula,
    read: &GaugeCycles,
    permanency: Option<Permanency>,
) -> Vec<Case> {
    let asked: Vec<usize> = limit.slots().iter().copied().filter(|s| INDICES.contains(s)).collect();
    if read.cycles.is_empty() {
        let open = "it has no usable sample at a start, peak or end of a cycle".to_owned();
        return vec![Case { label: "all".to_owned(), open: Some(open), ..Case::default() }];
    }
    let of_pairs = asked.iter().any(|s| *s != IDL);
    let alone = |c: &&CycleRead| read.cycles.iter().filter(|o| o.pair == c.pair).count() < 2;
    let mut all = Vec::new();
    let back = |c: &CycleRead| {
        let of_twin = |o: &&CycleRead| Some(&o.cycle) == c.twin.as_ref();
        c.back && read.cycles.iter().find(of_twin).is_none_or(|twin| twin.back)
    };
    for cycle in read.cycles.iter().skip(1).filter(|c| !of_pairs || c.twin.is_some()) {
        let mut case = Case { label: label(cycle, of_pairs), ..Case::default() };
        for slot in &asked {
            let index = match (*slot - IDL, permanency) {
                (0, _) => cycle.linearity.as_ref(),
                (1, Some(Permanency::Rezeroed)) => cycle.ratio_rezeroed.as_ref(),
                (1, Some(Permanency::Absolute)) => cycle.ratio_absolute.as_ref(),
                (2, Some(Permanency::Rezeroed)) => cycle.rezeroed.as_ref(),
                (2, Some(Permanency::Absolute)) => cycle.absolute.as_ref(),
                (3, _) => cycle.repeatability.as_ref(),
                (which, _) => {
                    case.open = Some(undefined(cycle, which));
                    None
                }
            };
            let own = match permanency.filter(|_| (1..=2).contains(&(*slot - IDL))) {
                Some(Permanency::Rezeroed) => cycle.rezeroed.as_ref(),
                Some(Permanency::Absolute) => cycle.absolute.as_ref(),
                None => None,
            };
            case.below |= own.is_some_and(|i| i.value.value() < -BELOW);
            match index {
                Some(i) => {
                    case.blunt |= !i.resolved;
                    case.values.push((*slot, i.value.value(), i.u.map(|u| u.value())));
                }
                None if case.open.is_none() && !back(cycle) => {
                    let open = "after it the load was not the one it began from: what is left is not told from what that bends";
                    case.open = Some(open.to_owned());
                }
                None if case.open.is_none() => {
                    case.open = Some("it divides by nothing that was read".to_owned());
                }
                None => {}
            }
        }
        all.push(case);
    }
    if of_pairs {
        all.extend(read.cycles.iter().filter(alone).map(|c| Case {
            label: label(c, false),
            open: Some("it has no twin in the log".to_owned()),
            ..Case::default()
        }));
    }
    all
}

fn label(cycle: &CycleRead, of_pair: bool) -> String {
    match &cycle.twin {
        Some(twin) if of_pair => format!("cycles {twin} and {}", cycle.cycle),
        _ => format!("cycle {}", cycle.cycle),
    }
}

fn undefined(cycle: &CycleRead, which: usize) -> String {
    let (rezeroed, absolute) = match which {
        1 => (&cycle.ratio_rezeroed, &cycle.ratio_absolute),
        _ => (&cycle.rezeroed, &cycle.absolute),
    };
    let of = |i: &Option<Index>| {
        i.as_ref().map_or("nothing".to_owned(), |i| format!("{:.4}", i.value.value()))
    };
    format!(
        "the record does not say from where `permanency` counts: rezeroed it is {}, absolute {}",
        of(rezeroed),
        of(absolute)
    )
}

/// Where the record states an index that the log shows to be another.
pub(super) fn stated_index(criterion: &Criterion, stated: &[Known], cases: &[Case]) -> Vec<Note> {
    let mut notes = Vec::new();
    for (slot, said, _) in stated.iter().filter(|k| INDICES.contains(&k.0)) {
        let values = cases.iter().flat_map(|c| &c.values).filter(|k| k.0 == *slot);
        let near = values.clone().any(|k| (k.1 - said).abs() <= 0.005);
        if values.clone().count() == 0 || near {
            continue;
        }
        let name = CRITERION_NAMES.get(*slot).map_or("", |n| n.0);
        let shown: Vec<String> = values.map(|k| format!("{:.4}", k.1)).collect();
        let message = format!("{name} is stated as {said}; the log shows {}", shown.join(", "));
        let path = format!("edition.criteria.{}", criterion.id);
        notes.push(Note::new(slug::CRITERIA_STATED_DIFFERS, path, message));
    }
    notes
}
