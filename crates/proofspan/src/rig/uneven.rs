//! What do jacks that differ on one pressure bring to every press, and to every joist under it?
//!
//! The friction of each lies between none and its own; all of a circuit together bring what the layout
//! counts. What a press or a joist is given is a quotient of two sums that are linear in every friction, so
//! it is extreme where each is none or all. Between the joists of one member unit the truth lies between a
//! slab that shares nothing across and one that is stiff across: both are tried.

use super::manifold::{One, on_one_pressure};
use super::press::{Press, Served};
use super::spec::Jacks;
use crate::equivalent::Uneven;
use crate::formula::NoRecord;
use crate::units::{Force, Length, Message, Said};

/// A press with its jacks, on a circuit.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct OnPressure {
    press: usize,
    circuit: Option<String>,
    force: Force,
    jacks: Vec<One>,
    /// Whether its jacks are described one by one.
    apart: bool,
    /// Their places across, where all are given.
    across: Option<Vec<Length>>,
}

impl OnPressure {
    pub(super) fn of(press: usize, served: &Served<'_>, (way, slack): (Length, Length)) -> Self {
        let jacks: &Jacks = served.jacks;
        let force = served.press.force.0;
        let across = jacks.rams.iter().map(|r| r.across.as_ref().map(|y| y.value));
        Self {
            press,
            circuit: served.press.circuit.clone(),
            force,
            jacks: jacks.ones((force, way, slack)),
            apart: !jacks.rams.is_empty(),
            across: across.collect::<Option<Vec<Length>>>().filter(|a| !a.is_empty()),
        }
    }

    pub(super) fn shares(&self, other: &Self) -> bool {
        self.circuit == other.circuit
    }

    /// The joist that each of its jacks stands over: by its place across, or in their order, as many over
    /// each; nothing where that is not told.
    fn joists(&self, joists: &Joists) -> Option<Vec<usize>> {
        let n = joists.number;
        match (&self.across, joists.spacing) {
            (Some(across), Some(s)) if s > Length::ZERO => {
                let last = f64::from(n) - 1.0;
                let line = |y: &Length| (*y / s + last / 2.0).round().clamp(0.0, last);
                #[expect(
                    clippy::cast_possible_truncation,
                    clippy::cast_sign_loss,
                    reason = "clamped"
                )]
                Some(across.iter().map(|y| line(y) as usize).collect())
            }
            _ => {
                let each = self.jacks.len() / n as usize;
                let even = each > 0 && each * n as usize == self.jacks.len();
                even.then(|| (0..self.jacks.len()).map(|i| i / each).collect())
            }
        }
    }
}

/// The joists of one member unit.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Joists {
    pub(crate) number: u32,
    /// Centre to centre.
    pub(crate) spacing: Option<Length>,
}

/// A friction of a group of jacks: none or all.
type Held = Vec<bool>;

/// What the presses may give where jacks on one pressure differ; empty where all are alike.
pub(super) fn cases(
    shared: &[Vec<OnPressure>],
    presses: &[Press],
    joists: Option<Joists>,
) -> Vec<Uneven> {
    let differs = |circuit: &&Vec<OnPressure>| {
        let friction = circuit.iter().flat_map(|p| &p.jacks).any(|j| j.friction() > 0.0);
        circuit.iter().any(|p| p.apart) || (circuit.len() > 1 && friction)
    };
    let circuits: Vec<&Vec<OnPressure>> = shared.iter().filter(differs).collect();
    let joists = joists.filter(|j| j.number > 1);
    let looked: Vec<Option<usize>> = match joists {
        Some(j) if circuits.iter().flat_map(|c| c.iter()).any(|p| p.joists(&j).is_some()) => {
            (0..j.number as usize).map(Some).collect()
        }
        _ => vec![None],
    };
    let mut all = Vec::new();
    for joist in looked {
        let lists: Vec<Vec<Uneven>> =
            circuits.iter().map(|c| cases_of(c, presses, joists.as_ref(), joist)).collect();
        all.extend(combined(&lists, presses.len(), joist));
    }
    let differ = |c: &Uneven| c.factors.iter().any(|f| (f - 1.0).abs() > ALIKE);
    if all.iter().any(differ) { all } else { Vec::new() }
}

/// The cases of several circuits, each with each; beyond so many one circuit at a time.
fn combined(lists: &[Vec<Uneven>], presses: usize, joist: Option<usize>) -> Vec<Uneven> {
    let number: usize = lists.iter().map(Vec::len).fold(1, usize::saturating_mul);
    let none = Uneven { what: Message::from(""), joist, factors: vec![1.0; presses] };
    if number > CASES {
        return lists.iter().flatten().cloned().collect();
    }
    lists.iter().fold(if lists.is_empty() { Vec::new() } else { vec![none] }, |made, list| {
        let both = |a: &Uneven| {
            let of = |b: &Uneven| {
                let factors = a.factors.iter().zip(&b.factors).map(|(x, y)| x * y).collect();
                let first = a.what.to_string().is_empty();
                let what = if first {
                    b.what.clone()
                } else {
                    Message::new("{}; {}", [a.what.clone().into(), b.what.clone().into()])
                };
                Uneven { what, joist, factors }
            };
            list.iter().map(of).collect::<Vec<_>>()
        };
        made.iter().flat_map(both).collect()
    })
}

/// The cases of one circuit.
fn cases_of(
    circuit: &[OnPressure],
    presses: &[Press],
    joists: Option<&Joists>,
    joist: Option<usize>,
) -> Vec<Uneven> {
    let over: Vec<Option<Vec<usize>>> =
        circuit.iter().map(|p| joists.and_then(|j| p.joists(j))).collect();
    // jacks that stand alike for what is looked at: of each press those over the joist and the others
    let group = |p: usize, i: usize| match (joist, over.get(p).and_then(Option::as_ref)) {
        (Some(joist), Some(over)) => 2 * p + usize::from(over.get(i) != Some(&joist)),
        _ => 2 * p,
    };
    let mut groups: Vec<usize> = (0..circuit.len())
        .flat_map(|p| (0..circuit.get(p).map_or(0, |o| o.jacks.len())).map(move |i| (p, i)))
        .map(|(p, i)| group(p, i))
        .collect();
    groups.sort_unstable();
    groups.dedup();
    let total: Force = circuit.iter().map(|p| p.force).sum();
    let all: Vec<One> = circuit.iter().flat_map(|p| p.jacks.iter().copied()).collect();
    let mut found = Vec::new();
    for held in ends(groups.len()) {
        let full = |p: usize, i: usize| {
            let at = groups.iter().position(|g| *g == group(p, i));
            at.and_then(|at| held.get(at)).copied().unwrap_or(true)
        };
        let frictions: Vec<f64> = circuit
            .iter()
            .enumerate()
            .flat_map(|(p, o)| o.jacks.iter().enumerate().map(move |(i, j)| (p, i, j.friction())))
            .map(|(p, i, f)| if full(p, i) { f } else { 0.0 })
            .collect();
        let forces = on_one_pressure(&mut NoRecord, total, &all, &frictions).1;
        let mut forces = forces.into_iter().map(|f| f.0);
        let each: Vec<Vec<Force>> =
            circuit.iter().map(|p| forces.by_ref().take(p.jacks.len()).collect()).collect();
        for stiff in [false, true] {
            if stiff && joist.is_none() {
                continue;
            }
            let mut factors = vec![1.0; presses.len()];
            for ((p, own), over) in circuit.iter().zip(&each).zip(&over) {
                let sum: Force = own.iter().copied().sum();
                let factor = match (joist, joists, over) {
                    (Some(joist), Some(joists), Some(over)) => {
                        let number = f64::from(joists.number);
                        if stiff {
                            stiff_share(own, over, number, joist) * (sum / p.force)
                        } else {
                            let here = own.iter().zip(over).filter(|(_, o)| **o == joist);
                            number * (here.map(|(f, _)| *f).sum::<Force>() / p.force)
                        }
                    }
                    _ => sum / p.force,
                };
                if let Some(slot) = factors.get_mut(p.press) {
                    *slot = factor;
                }
            }
            found.push(Uneven {
                what: told(circuit, presses, &factors, joist, stiff),
                joist,
                factors,
            });
        }
    }
    found
}

/// A case in words.
fn told(
    circuit: &[OnPressure],
    presses: &[Press],
    factors: &[f64],
    joist: Option<usize>,
    stiff: bool,
) -> Message {
    let one = |p: &OnPressure| {
        let at = presses.get(p.press).map_or(Length::ZERO, |press| press.at);
        let factor = factors.get(p.press).copied().unwrap_or(1.0);
        let said: [Said; 2] = [at.into(), factor.into()];
        Message::new("the press at {} gives {} of what is counted", said)
    };
    let all = Message::joined(circuit.iter().map(one), ", ");
    let Some(joist) = joist else { return all };
    let slab = if stiff { "stiff across" } else { "sharing nothing across" };
    Message::new("joist {}, the slab {}: {}", [(joist + 1).into(), slab.into(), all.into()])
}

/// What a joist is given over an equal share, the slab stiff across: by moments about the middle.
fn stiff_share(own: &[Force], over: &[usize], number: f64, joist: usize) -> f64 {
    let place = |i: usize| i as f64 - (number - 1.0) / 2.0;
    let sum: Force = own.iter().copied().sum();
    if sum <= Force::ZERO {
        return 0.0;
    }
    let off: f64 = own.iter().zip(over).map(|(f, o)| (*f / sum) * place(*o)).sum();
    let mut squares = 0.0;
    let mut i = 0.0;
    while i < number {
        squares += (i - (number - 1.0) / 2.0).powi(2);
        i += 1.0;
    }
    1.0 + number * off * place(joist) / squares
}

/// Every choice of none or all for so many groups; beyond so many, each alone either way.
fn ends(groups: usize) -> Vec<Held> {
    if groups <= GROUPS {
        return (0_usize..1 << groups)
            .map(|m| (0..groups).map(|i| m >> i & 1 == 1).collect())
            .collect();
    }
    let alone = (0..groups)
        .flat_map(|i| [true, false].map(|own| (0..groups).map(|j| (i == j) == own).collect()));
    let mut all: Vec<Held> = alone.collect();
    all.extend([vec![true; groups], vec![false; groups]]);
    all
}

/// Up to so many groups of jacks every combination is tried.
const GROUPS: usize = 6;
/// Up to so many cases those of several circuits are combined.
const CASES: usize = 256;
/// Factors nearer to one than this are one.
const ALIKE: f64 = 1e-12;
