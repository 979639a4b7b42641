//! The choices: which unknowns may stand together, every choice one by one, or exchanged for better ones.

use super::pool::Pool;
use super::problem::{EQUAL, Problem};
use crate::beam::Beam;
use crate::error::Error;
use crate::units::Length;

/// So many choices that tie in the first objective are kept.
pub(super) const TIES: usize = 5_000;
/// So many exchanges of two for two are tried in one round.
const PAIRS: usize = 10_000;

/// The unknowns that may be chosen.
pub(super) struct Hunt {
    /// Unknowns to choose from.
    pub(super) free: Vec<usize>,
    /// Unknowns of any case.
    pub(super) always: Vec<usize>,
    /// Whether two unknowns stand too close.
    close: Vec<Vec<bool>>,
    /// Carriers of each unknown.
    weight: Vec<usize>,
}

pub(super) type Tied = (Option<f64>, Vec<Vec<usize>>);

impl Hunt {
    pub(super) fn new(beam: &Beam, problems: &[Problem<'_>], spacing: Option<Length>) -> Self {
        let unknowns = problems.first().map_or(&[][..], |p| p.unknowns.as_slice());
        let candidates = problems.first().map_or(&[][..], |p| p.candidates);
        let slack = beam.length() * 1e-9;
        let spacing = spacing.unwrap_or(Length::ZERO);
        let members = |j: usize| {
            let members = unknowns.get(j).map_or(&[][..], |u| u.members.as_slice());
            members.iter().filter_map(|(i, _)| candidates.get(*i))
        };
        let always = |j: usize| unknowns.get(j).is_some_and(|u| u.always);
        let near = |a: usize, b: usize| {
            let stays = always(a) || always(b);
            members(a).any(|a| {
                members(b).any(|b| {
                    // what is there in any case stands where it was put
                    let spacing = (!stays).then_some(spacing);
                    let own = a.clear.max(b.clear);
                    let own = (own > Length::ZERO).then_some(own);
                    let clear = a.clear_to(b);
                    if a.one_of.is_some() && a.one_of == b.one_of {
                        return true;
                    }
                    [spacing, own].into_iter().flatten().any(|asked| clear < asked - slack)
                })
            })
        };
        let all = 0..unknowns.len();
        let (always, free): (Vec<usize>, Vec<usize>) = all.clone().partition(|j| always(*j));
        let close =
            all.clone().map(|a| all.clone().map(|b| a != b && near(a, b)).collect()).collect();
        let weight = unknowns.iter().map(|u| u.members.len()).collect();
        Self { free, always, close, weight }
    }

    /// How many carriers there are to choose from.
    pub(super) fn carriers(&self) -> usize {
        self.size(&self.free)
    }

    /// How many choices of so many there are.
    pub(super) fn choices(&self, number: usize) -> u64 {
        let n = u64::try_from(self.free.len()).unwrap_or(u64::MAX);
        let k = u64::try_from(number).unwrap_or(u64::MAX);
        let mut count = 1_u64;
        for i in 0..k {
            count = count.saturating_mul(n.saturating_sub(i)) / (i + 1);
        }
        count
    }

    pub(super) fn fits(&self, set: &[usize], next: usize) -> bool {
        let close = self.close.get(next);
        let apart = |j: &usize| close.and_then(|c| c.get(*j)).is_none_or(|c| !c);
        set.iter().chain(&self.always).all(apart)
    }

    /// The set with those of any case, in order.
    pub(super) fn whole(&self, set: &[usize]) -> Vec<usize> {
        let mut all: Vec<usize> = set.iter().chain(&self.always).copied().collect();
        all.sort_unstable();
        all
    }

    /// The candidates of a set of unknowns.
    pub(super) fn members(&self, set: &[usize], problems: &[Problem<'_>]) -> Vec<usize> {
        let unknowns = problems.first().map_or(&[][..], |p| p.unknowns.as_slice());
        let mut all: Vec<usize> = self
            .whole(set)
            .iter()
            .filter_map(|j| unknowns.get(*j))
            .flat_map(|u| u.members.iter().map(|m| m.0))
            .collect();
        all.sort_unstable();
        all
    }

    /// The value of a set over all stages: that of the stage that asks most.
    pub(super) fn value(
        &self,
        set: &[usize],
        under: f64,
        pools: &mut [Pool<'_>],
    ) -> Result<Option<f64>, Error> {
        let whole = self.whole(set);
        let mut worst = f64::NEG_INFINITY;
        for pool in pools {
            let value = pool.value(&whole, under).map_err(|t| pool.problem.trouble(t))?;
            let Some(value) = value else { return Ok(None) };
            worst = worst.max(value);
        }
        Ok(Some(worst))
    }

    /// Tries every choice of so many carriers; the answer is the best value and every choice that has it.
    pub(super) fn every(&self, number: usize, pools: &mut [Pool<'_>]) -> Result<Tied, Error> {
        let mut best = f64::INFINITY;
        let mut tied: Vec<Vec<usize>> = Vec::new();
        let mut set: Vec<usize> = Vec::new();
        self.deeper(number, 0, &mut set, &mut |set| {
            if let Some(value) = self.value(set, best, pools)? {
                if best.is_infinite() || best - value > EQUAL * best.abs().max(value.abs()) {
                    tied.clear();
                    best = value;
                }
                best = best.min(value);
                if tied.len() < TIES {
                    tied.push(set.to_vec());
                }
            }
            Ok(())
        })?;
        Ok((best.is_finite().then_some(best), tied))
    }

    pub(super) fn deeper(
        &self,
        left: usize,
        from: usize,
        set: &mut Vec<usize>,
        visit: &mut impl FnMut(&[usize]) -> Result<(), Error>,
    ) -> Result<(), Error> {
        if left == 0 {
            return visit(set);
        }
        for (i, j) in self.free.iter().enumerate().skip(from) {
            let weight = self.weight.get(*j).copied().unwrap_or(1);
            if weight <= left && self.fits(set, *j) {
                set.push(*j);
                self.deeper(left - weight, i + 1, set, visit)?;
                set.pop();
            }
        }
        Ok(())
    }

    /// The best exchange of two for two, where that is better and there are not too many.
    pub(super) fn paired(
        &self,
        set: &[usize],
        best: &mut f64,
        pools: &mut [Pool<'_>],
    ) -> Result<Option<Vec<usize>>, Error> {
        let others: Vec<usize> = self.free.iter().copied().filter(|j| !set.contains(j)).collect();
        let pairs = |n: usize| n * n.saturating_sub(1) / 2;
        let weight = |j: &usize| self.weight.get(*j).copied().unwrap_or(1);
        if pairs(set.len()).saturating_mul(pairs(others.len())) > PAIRS {
            return Ok(None);
        }
        let mut better = None;
        for (i, a) in set.iter().enumerate() {
            for b in set.iter().skip(i + 1) {
                let kept: Vec<usize> = set.iter().copied().filter(|j| j != a && j != b).collect();
                for (k, c) in others.iter().enumerate() {
                    if !self.fits(&kept, *c) {
                        continue;
                    }
                    let mut one = kept.clone();
                    one.push(*c);
                    for d in others.iter().skip(k + 1) {
                        if weight(c) + weight(d) > weight(a) + weight(b) || !self.fits(&one, *d) {
                            continue;
                        }
                        let mut other = one.clone();
                        other.push(*d);
                        if let Some(value) = self.value(&other, *best, pools)?
                            && value < *best * (1.0 - EQUAL)
                        {
                            *best = value;
                            better = Some(other);
                        }
                    }
                }
            }
        }
        Ok(better)
    }

    /// From several starts: exchanges one or two as long as that helps; the best of all.
    pub(super) fn exchanged(
        &self,
        number: usize,
        last: &[usize],
        pools: &mut [Pool<'_>],
    ) -> Result<Tied, Error> {
        let mut best = f64::INFINITY;
        let mut found: Vec<Vec<usize>> = Vec::new();
        // the best of one fewer and the best to add; then sets spread over all, or over the middle
        let mut starts = vec![last.to_vec()];
        let n = self.free.len();
        for (from, to) in [(0, n), (n / 6, n - n / 6), (n / 3, n), (0, n - n / 3)] {
            let mut set: Vec<usize> = Vec::new();
            for i in 0..number {
                let place = from + ((2 * i + 1) * (to - from)) / (2 * number);
                let own = self.free.get(place).copied();
                let fits = |j: &usize| !set.contains(j) && self.fits(&set, *j);
                if let Some(j) = own.filter(fits)
                    && self.size(&set) + self.weight.get(j).copied().unwrap_or(1) <= number
                {
                    set.push(j);
                }
            }
            starts.push(set);
        }
        for start in starts {
            let Some((value, mut set)) = self.improved(number, start, pools)? else { continue };
            set.sort_unstable();
            if found.is_empty() || best - value > EQUAL * best.abs().max(value.abs()) {
                best = value;
                found = vec![set];
            } else if (value - best).abs() <= EQUAL * best.abs().max(value.abs())
                && !found.contains(&set)
            {
                found.push(set);
            }
        }
        Ok((best.is_finite().then_some(best), found))
    }

    /// The carriers of a set.
    pub(super) fn size(&self, set: &[usize]) -> usize {
        set.iter().map(|j| self.weight.get(*j).copied().unwrap_or(1)).sum()
    }

    /// Fills a set up with the best to add, then exchanges one or two as long as that helps.
    pub(super) fn improved(
        &self,
        number: usize,
        mut set: Vec<usize>,
        pools: &mut [Pool<'_>],
    ) -> Result<Option<(f64, Vec<usize>)>, Error> {
        let mut best = self.value(&set, f64::INFINITY, pools)?.unwrap_or(f64::MAX);
        while self.size(&set) < number {
            let mut found: Option<(f64, usize)> = None;
            for j in &self.free {
                let weight = self.weight.get(*j).copied().unwrap_or(1);
                if set.contains(j) || self.size(&set) + weight > number || !self.fits(&set, *j) {
                    continue;
                }
                let mut more = set.clone();
                more.push(*j);
                let value = self.value(&more, f64::INFINITY, pools)?.unwrap_or(f64::MAX);
                if found.is_none_or(|(v, _)| value < v) {
                    found = Some((value, *j));
                }
            }
            let Some((value, j)) = found else { break };
            set.push(j);
            best = value;
        }
        loop {
            let mut better: Option<Vec<usize>> = None;
            for i in 0..set.len() {
                for j in &self.free {
                    let mut other = set.clone();
                    other.remove(i);
                    if other.contains(j) || !self.fits(&other, *j) {
                        continue;
                    }
                    other.push(*j);
                    if self.size(&other) <= number
                        && let Some(value) = self.value(&other, best, pools)?
                        && value < best * (1.0 - EQUAL)
                    {
                        best = value;
                        better = Some(other);
                    }
                }
            }
            if better.is_none() {
                better = self.paired(&set, &mut best, pools)?;
            }
            match better {
                Some(other) => set = other,
                None => break,
            }
        }
        Ok((best < f64::MAX).then_some((best, set)))
    }
}
