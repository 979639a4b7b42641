//! In which order weights are stacked and bays are filled: what stands before all stands can ask more of
//! the member than the whole test does.
//!
//! Every partial sum of the carriers, each with all of its load, is compared with what the terms ask: the
//! largest sagging, hogging and shear anywhere on the member, what is in place included, and the limits of
//! the layout. What the full test asks is allowed on the way. A step that raises all carriers by a part,
//! one after the other, stands between nothing, a partial sum and the full load, so it asks no more than
//! the largest of these.

use smallvec::SmallVec;

use super::overshoot::worst;
use crate::beam::{Beam, Load, Response, Segment, walk};
use crate::equivalent::asked::effect::Effect;
use crate::equivalent::asked::spec::OvershootLimit;
use crate::error::Error;
use crate::target::Target;
use crate::units::Length;

/// More carriers than that are put in order one after the other, each the best that is left.
const ALL_ORDERS: usize = 6;

/// What a partial sum of the carriers asks of the member.
#[derive(Clone, PartialEq, Debug)]
pub struct Partly {
    /// Which carriers stand, by their place among those in use, in the order in which they came.
    pub on: Vec<usize>,
    /// Its largest part of what is allowed on the way: above one is more than the terms and the full
    /// test ask, or than a limit of the layout allows.
    pub part: f64,
    /// Of what: sagging, hogging, shear, or a limit of the layout.
    pub what: &'static str,
    /// Where.
    pub at: Length,
    /// With what is in place, over the largest that the terms ask of it; of a limit test over reference.
    pub ratio: f64,
}

/// The order in which carriers that are stacked or filled are brought on.
#[derive(Clone, PartialEq, Debug)]
pub struct Filling {
    /// The best order, by their place among the carriers in use.
    pub order: Vec<usize>,
    /// After each of that order but the last: what stands then.
    pub states: Vec<Partly>,
    /// The partial sum that asks most, of any order.
    pub worst: Partly,
}

/// Largest sagging, hogging and shear on the way, as sizes, each with its place.
type Sizes = [(f64, f64); 3];

const WORDS: [&str; 3] = ["sagging moment", "hogging moment", "shear"];

/// The sizes of a state with what is in place, anywhere on the member: at the ends and turning points of
/// every piece.
fn sizes(state: Option<&Response>, there: &Response) -> Sizes {
    let mut found: Sizes = [(0.0, 0.0); 3];
    let end = there.length().si();
    let cases: SmallVec<[&Response; 2]> = state.into_iter().chain([there]).collect();
    walk(&cases, 0.0, end, |piece| {
        for effect in [Effect::Shear, Effect::Moment] {
            let part = |s: &Segment| effect.poly(&piece.part(s));
            let polys = cases.iter().enumerate().filter_map(|(i, r)| piece.segment(i, r).map(part));
            let Some(sum) = polys.reduce(|a, b| a.plus(1.0, &b)) else { continue };
            let turns = sum.derivative().roots(piece.length);
            for s in [0.0, piece.length].into_iter().chain(turns.as_slice().iter().copied()) {
                let (value, x) = (sum.at(s), piece.start + s);
                let mut keep = |i: usize, size: f64| {
                    if let Some(slot) = found.get_mut(i).filter(|slot| size > slot.0) {
                        *slot = (size, x);
                    }
                };
                match effect {
                    Effect::Shear => keep(2, value.abs()),
                    Effect::Moment => {
                        keep(0, value);
                        keep(1, -value);
                    }
                }
            }
        }
    });
    found
}

/// What every subset is compared with.
struct Search<'a> {
    target: &'a Target,
    limits: &'a [OvershootLimit],
    each: Vec<(usize, Response)>,
    asked: Sizes,
    full: Sizes,
    /// The full test over each limit, by region.
    kept: Vec<f64>,
}

impl Search<'_> {
    /// What a subset asks, as parts of what is allowed; the heaviest.
    fn of(&self, on: &[usize]) -> Option<Partly> {
        let mut state: Option<Response> = None;
        for i in on {
            let (_, one) = self.each.get(*i)?;
            state = Some(match state {
                None => one.clone(),
                Some(sum) => {
                    let mut next = sum.clone();
                    next.set_sum(&sum, 1.0, one);
                    next
                }
            });
        }
        let state = state?;
        let names = || on.iter().filter_map(|i| self.each.get(*i).map(|e| e.0)).collect();
        let mut heaviest: Option<Partly> = None;
        let mut keep = |part: f64, what: &'static str, at: f64, ratio: f64| {
            if part.is_finite() && heaviest.as_ref().is_none_or(|h| part > h.part) {
                let (on, at) = (names(), Length::from_si(at));
                heaviest = Some(Partly { on, part, what, at, ratio });
            }
        };
        let found = sizes(Some(&state), &self.target.in_place);
        // of moments in both signs one scale: a little hogging where none is asked is little
        let moment = |s: &Sizes| s.iter().take(2).map(|m| m.0).fold(0.0, f64::max);
        let floor = [FLOOR * moment(&self.asked), FLOOR * moment(&self.asked), 0.0];
        let allowed = self.asked.iter().zip(&self.full).zip(floor);
        for ((here, ((asked, full), floor)), what) in found.iter().zip(allowed).zip(WORDS) {
            let most = asked.0.max(floor);
            keep(here.0 / most.max(full.0), what, here.1, here.0 / most);
        }
        let of = self.limits.iter().flat_map(|l| self.target.regions.iter().map(move |r| (l, r)));
        for ((limit, region), full) in of.zip(&self.kept) {
            let found = worst(&self.target.looking_at(*region), &state, limit.effect);
            let basis = limit.basis.basis();
            if let Some(o) = found.into_iter().flatten().find(|o| o.basis == basis) {
                let ratio = o.ratio.value();
                keep(ratio / limit.at_most.max(*full), "limit of the layout", o.at.si(), ratio);
            }
        }
        heaviest
    }
}

/// A sense in which less than this part of the largest moment is asked counts as asked by that part
/// (library rule).
const FLOOR: f64 = 0.02;

/// The orders of carriers by their loads, each with its place among those in use; nothing of fewer than
/// two.
///
/// # Errors
/// What the beam refuses.
pub(in crate::equivalent) fn filling(
    target: &Target,
    beam: &Beam,
    limits: &[OvershootLimit],
    carriers: &[(usize, SmallVec<[Load; 1]>)],
) -> Result<Option<Filling>, Error> {
    if carriers.len() < 2 {
        return Ok(None);
    }
    let cases: Vec<&[Load]> = carriers.iter().map(|c| c.1.as_slice()).collect();
    let each: Vec<(usize, Response)> =
        carriers.iter().map(|c| c.0).zip(beam.cases(&cases)?).collect();
    let mut asked: Sizes = [(0.0, 0.0); 3];
    for term in &target.terms {
        for (slot, found) in asked.iter_mut().zip(sizes(None, &term.total)) {
            if found.0 > slot.0 {
                *slot = found;
            }
        }
    }
    // the full test is judged as it is: what it asks is allowed on the way
    let all: Vec<usize> = (0..carriers.len()).collect();
    let together: Vec<Load> = carriers.iter().flat_map(|c| c.1.iter().copied()).collect();
    let response = beam.response(&together)?;
    let full = sizes(Some(&response), &target.in_place);
    let mut search = Search { target, limits, each, asked, full, kept: Vec::new() };
    for limit in limits {
        for region in &target.regions {
            let found = worst(&target.looking_at(*region), &response, limit.effect);
            let here = found.into_iter().flatten().find(|o| o.basis == limit.basis.basis());
            search.kept.push(here.map_or(1.0, |o| o.ratio.value()));
        }
    }
    let order =
        if carriers.len() <= ALL_ORDERS { best(&search, &all) } else { greedy(&search, &all) };
    let states: Vec<Partly> = (1..order.len()).filter_map(|n| search.of(order.get(..n)?)).collect();
    let Some(worst) = heaviest(&search, &all, &states) else { return Ok(None) };
    let order = order.iter().filter_map(|i| search.each.get(*i).map(|e| e.0)).collect();
    Ok(Some(Filling { order, states, worst }))
}

/// The members of a subset that is a number.
fn members(all: &[usize], subset: usize) -> Vec<usize> {
    all.iter().copied().filter(|i| subset & (1 << i) != 0).collect()
}

/// The order whose heaviest partial sum is least: over all subsets, each reached from one with a carrier
/// less.
fn best(search: &Search<'_>, all: &[usize]) -> Vec<usize> {
    let full = (1_usize << all.len()) - 1;
    let part = |subset: usize| {
        if subset == full { 0.0 } else { search.of(&members(all, subset)).map_or(0.0, |p| p.part) }
    };
    // the heaviest on the best way to a subset, and the carrier that came last
    let mut ways: Vec<(f64, Option<usize>)> = vec![(0.0, None)];
    for subset in 1..=full {
        let own = part(subset);
        let from = all.iter().copied().filter(|i| subset & (1 << i) != 0);
        let reached = from.map(|i| (ways.get(subset & !(1 << i)).map_or(0.0, |w| w.0), i));
        let least = reached.min_by(|a, b| a.0.total_cmp(&b.0));
        ways.push(least.map_or((own, None), |(before, i)| (before.max(own), Some(i))));
    }
    let mut order = Vec::new();
    let mut subset = full;
    while let Some((_, Some(last))) = ways.get(subset) {
        order.push(*last);
        subset &= !(1 << last);
    }
    order.reverse();
    order
}

/// Each time the carrier after which least is asked.
fn greedy(search: &Search<'_>, all: &[usize]) -> Vec<usize> {
    let mut order: Vec<usize> = Vec::new();
    while order.len() < all.len() {
        let left = all.iter().copied().filter(|i| !order.contains(i));
        let with = |i: usize| {
            let on: Vec<usize> = order.iter().copied().chain([i]).collect();
            (i, search.of(&on).map_or(0.0, |p| p.part))
        };
        let Some((next, _)) = left.map(with).min_by(|a, b| a.1.total_cmp(&b.1)) else { break };
        order.push(next);
    }
    order
}

/// The partial sum that asks most; of many carriers each alone, all but each, and those of the order.
fn heaviest(search: &Search<'_>, all: &[usize], states: &[Partly]) -> Option<Partly> {
    let subsets: Vec<Vec<usize>> = if all.len() <= ALL_ORDERS {
        (1..(1_usize << all.len()) - 1).map(|s| members(all, s)).collect()
    } else {
        let but = |i: &usize| all.iter().copied().filter(|j| j != i).collect();
        all.iter().map(|i| vec![*i]).chain(all.iter().map(but)).collect()
    };
    let found = subsets.iter().filter_map(|on| search.of(on));
    found.chain(states.iter().cloned()).max_by(|a, b| a.part.total_cmp(&b.part))
}
