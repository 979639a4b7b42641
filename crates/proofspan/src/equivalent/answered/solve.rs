//! The forces of several carriers, given, found or searched, by the certified solver.

use super::certificate::Certificate;
use super::optimise::{Answer, optimise};
use super::places::grid;
use super::search::{Stage, search};
use crate::beam::{Beam, Load, Response};
use crate::equivalent::asked::ask::Ask;
use crate::equivalent::asked::candidate::{self, Candidate};
use crate::equivalent::asked::carrier::{self, Carried, Carrier, CarrierKind, WaterSpec};
use crate::equivalent::asked::objective::Objective;
use crate::equivalent::asked::reference::Reference;
use crate::equivalent::asked::requirement::{Reach, Requirement, Within, refused};
use crate::equivalent::asked::spec::LayoutSpec;
use crate::equivalent::checked::as_built::{AsBuilt, Deviation, as_built, under_forces};
use crate::equivalent::checked::verify::{Confirmed, confirm_response};
use crate::error::{Error, Issue, slug};
use crate::loads::ponding;
use crate::target::Target;
use crate::units::{Force, Length, Message, Net, System};

/// A carrier in use: which of the document, where it stands, its force.
#[derive(Clone, PartialEq, Debug)]
pub(in crate::equivalent) struct Used {
    pub(in crate::equivalent) carrier: usize,
    pub(in crate::equivalent) candidate: Candidate,
    pub(in crate::equivalent) force: Net<Force>,
    /// What is filled in or stacked; of water, before it follows the deflection.
    filled: Force,
    /// The weight of one layer, or of a metre of water, with which it was found.
    part: Option<Force>,
    /// What is stacked or filled in, as the document describes it.
    pub(in crate::equivalent) of: Option<Box<Carrier>>,
    /// Whether its force is given.
    pub(in crate::equivalent) given: bool,
    /// The step of a jack.
    pub(in crate::equivalent) step: Option<Force>,
}

/// Forces of several carriers with what proves them.
pub(in crate::equivalent) struct Solved {
    pub(in crate::equivalent) used: Vec<Used>,
    pub(in crate::equivalent) certificates: Vec<Certificate>,
    /// Why the limits cannot be kept, in words.
    pub(in crate::equivalent) conflict: Option<String>,
    /// What was tried, in words; nothing where nothing was searched.
    pub(in crate::equivalent) searched: Option<String>,
}

/// What must hold: what is asked, the limits inside each region, and what the engineer adds.
fn requirements(
    target: &Target,
    spec: &LayoutSpec,
    asks: &[Ask],
    limits: bool,
) -> Vec<Requirement> {
    let reach = |a: &Ask| {
        Requirement::Reach(Reach {
            effect: a.effect,
            from: Some(a.from),
            to: Some(a.to),
            at: Vec::new(),
            case: None,
            sense: a.sense,
        })
    };
    let mut all: Vec<Requirement> = asks.iter().map(reach).collect();
    for limit in spec.limits.iter().filter(|_| limits) {
        all.extend(target.regions.iter().map(|region| {
            Requirement::Within(Within {
                effect: limit.effect,
                basis: limit.basis,
                at_most: limit.at_most,
                from: Some(region.from),
                to: Some(region.to),
                at: Vec::new(),
                case: None,
                floor: 0.02,
            })
        }));
    }
    all.extend(spec.requirements.iter().cloned());
    all
}

/// Candidates with the carriers they are of; `frames` are the places where a frame of each carrier holds
/// on the member.
fn candidates(
    target: &Target,
    spec: &LayoutSpec,
    frames: &[Vec<Length>],
) -> Result<Vec<(usize, Candidate)>, Error> {
    let plate = spec.plate_length.value;
    let end = target.beam.length();
    // one pump gives one pressure: lines that share a circuit push with one force
    let shared = |circuit: &&String| {
        spec.carrier.iter().filter(|c| c.circuit() == Some(circuit)).count() > 1
    };
    let mut all = Vec::new();
    let mut issues = Vec::new();
    for (i, carrier) in spec.carrier.iter().enumerate() {
        let frame = frames.get(i).cloned().unwrap_or_default();
        let Some((low, high, _)) = carrier.range(end) else {
            let source = carrier.circuit().filter(|c| spec.search.is_none() && shared(c)).cloned();
            all.push((i, Candidate { source, frame, ..carrier.candidate(plate, None) }));
            continue;
        };
        let path = spec.carrier.path("layout.carrier", i);
        let Some(wanted) = &spec.search else {
            let message = "a place that is not settled beside others";
            let issue = Issue::new(slug::EQUIVALENT_CANDIDATE, path, message);
            issues.push(issue.remedy("give its place, or say how to search under `search`"));
            continue;
        };
        // a plate stays on the member
        let half = plate / 2.0;
        let (low, high) = (low.max(half), high.min(end - half));
        if low > high {
            let issue = Issue::new(slug::EQUIVALENT_JACK_OUTSIDE, path, "no place is allowed");
            issues.push({
                let issue = issue.value(Message::new("{} to {}", [low.into(), high.into()]));
                issue.limit(Message::new("0 to {}", [end.into()]))
            });
            continue;
        }
        let clear = wanted.clear.as_ref().map_or(Length::ZERO, |c| c.value);
        let one_of = wanted.once.then(|| path.to_string());
        let one = Candidate { clear, frame, one_of, ..carrier.candidate(plate, Some(low)) };
        let places = if high > low { grid(&one, low, high, wanted.step.value)? } else { vec![one] };
        // a support carries a jack that stands on it
        let held = |c: &Candidate| {
            let on =
                |x: &Length| target.beam.supports().iter().any(|s| (s.at - *x).abs() < end * 1e-9);
            c.contacts.iter().all(on)
        };
        all.extend(places.into_iter().filter(|c| !held(c)).map(|c| (i, c)));
    }
    Error::check(issues)?;
    Ok(all)
}

/// Issues of the solver under the paths of the document.
fn at_home(error: Error, own: usize, of: &[usize], spec: &LayoutSpec) -> Error {
    let issues = error.issues.into_iter().map(|mut issue| {
        let index = |path: &str, name: &str| -> Option<(usize, String)> {
            let rest = path.strip_prefix(name)?.strip_prefix('[')?;
            let (number, rest) = rest.split_once(']')?;
            Some((number.parse().ok()?, rest.to_owned()))
        };
        if let Some((i, rest)) = index(&issue.path, "requirements") {
            issue.path = match i.checked_sub(own) {
                Some(i) => format!("layout.requirements[{i}]{rest}"),
                None => "layout.reproduce".to_owned(),
            };
        } else if let Some((i, rest)) = index(&issue.path, "candidates") {
            let carrier = of.get(i).copied().unwrap_or(0);
            issue.path = format!("{}{rest}", spec.carrier.path("layout.carrier", carrier));
        } else if issue.path == "candidates" {
            // a grid of places is too fine, or leaves none
            let part = if spec.search.is_some() { "search.step" } else { "carrier" };
            issue.path = format!("layout.{part}");
        } else {
            issue.path = format!("layout.{}", issue.path);
        }
        issue
    });
    Error { cause: error.cause, issues: issues.collect() }
}

/// Finds the forces.
///
/// # Errors
/// Every problem of carriers, requirements and objectives under the paths of the document;
/// `equivalent.uncovered` with the conflict in words where no forces reach what is asked.
pub(in crate::equivalent) fn solved(
    target: &Target,
    spec: &LayoutSpec,
    frames: &[Vec<Length>],
    asks: &[Ask],
    system: System,
) -> Result<Solved, Error> {
    let (of, candidates): (Vec<usize>, Vec<Candidate>) =
        candidates(target, spec, frames)?.into_iter().unzip();
    let every = |forces: Vec<Net<Force>>| {
        let used = of.iter().zip(&candidates).zip(forces);
        used.map(|((carrier, c), force)| Used::new(*carrier, c.clone(), force)).collect()
    };
    if spec.search.is_none() && spec.carrier.iter().all(|c| c.settled().is_some()) {
        let mut issues = Vec::new();
        candidate::refused(&candidates, &target.beam, &mut issues);
        candidate::crowded(&candidates, &target.beam, &mut issues);
        let sound = Error::check(issues);
        sound.map_err(|e| at_home(e, 0, &of, spec))?;
        let forces = spec.carrier.iter().filter_map(Carrier::settled).map(Net).collect();
        return Ok(Solved {
            used: every(forces),
            certificates: Vec::new(),
            conflict: None,
            searched: None,
        });
    }
    let reference = Reference::from(target).shown_in(system);
    let total = [Objective::total()];
    let objectives = if spec.objectives.is_empty() { &total[..] } else { &spec.objectives };
    let with = |limits: bool| -> Result<Result<Solved, String>, Error> {
        let asked = requirements(target, spec, asks, limits);
        let own = asked.len() - spec.requirements.len();
        let home = |e: Error| at_home(e, own, &of, spec);
        if let Some(wanted) = &spec.search {
            let settled = spec.carrier.iter().filter(|c| c.settled().is_some()).count();
            let most = wanted.at_most as usize + settled;
            let clear = wanted.clear.as_ref().map(|c| c.value);
            let stages = [Stage { name: "", reference: &reference, requirements: &asked }];
            let found = search(&target.beam, &stages, &candidates, most, clear, objectives);
            let found = found.map_err(home)?;
            let Some(best) = found.best else {
                let words = found.conflict.map_or_else(|| found.about.clone(), |c| c.words());
                return Ok(Err(words));
            };
            let Some(optimum) = best.stages.into_iter().next() else {
                return Ok(Err(found.about));
            };
            let used = best.candidates.iter().zip(&optimum.forces).filter_map(|(i, force)| {
                let candidate = candidates.get(*i)?.clone();
                Some(Used::new(*of.get(*i)?, candidate, *force))
            });
            return Ok(Ok(Solved {
                used: used.collect(),
                certificates: optimum.certificates,
                conflict: None,
                searched: Some(found.about),
            }));
        }
        Ok(
            match optimise(&target.beam, &reference, &candidates, &asked, objectives)
                .map_err(home)?
            {
                Answer::Found(optimum) => Ok(Solved {
                    used: every(optimum.forces),
                    certificates: optimum.certificates,
                    conflict: None,
                    searched: None,
                }),
                Answer::Conflict(conflict) => Err(conflict.words()),
            },
        )
    };
    let words = match with(true)? {
        Ok(solved) => return Ok(solved),
        Err(words) => words,
    };
    // limits that cannot be kept are a verdict, with the forces that reach what is asked
    if !spec.limits.is_empty()
        && let Ok(solved) = with(false)?
    {
        return Ok(Solved { conflict: Some(words), ..solved });
    }
    let issue = Issue::new(slug::EQUIVALENT_UNCOVERED, "layout.carrier", words);
    Err(issue.remedy("give a further carrier, another place, or more capacity").into())
}

/// Raises forces to whole layers and to the steps of a jack; whether any was raised.
pub(in crate::equivalent) fn round_up(used: &mut [Used], spec: &LayoutSpec) -> bool {
    let mut raised = false;
    for one in used {
        let Some(step) = spec.carrier.get(one.carrier).and_then(Carrier::step) else { continue };
        if one.force.0 <= Force::ZERO {
            continue;
        }
        let whole = whole(one.force.0, step);
        raised |= (whole - one.force.0).abs() > step * 1e-9;
        (one.force, one.filled) = (Net(whole), whole);
    }
    raised
}

/// The carriers in use as another document of the same layout describes them, for example one at an end
/// of its ranges. Places and forces that it gives are its own; what was found stays as it was built: the
/// force of a jack, the layers of a stack, the depth of a basin.
///
/// # Errors
/// A carrier beyond the member; a basin whose depth is above what rim and freeboard leave.
pub(in crate::equivalent) fn again(
    used: &[Used],
    beam: &Beam,
    spec: &LayoutSpec,
) -> Result<Vec<Used>, Error> {
    let plate = spec.plate_length.value;
    carrier::refused(&spec.carrier, beam.length(), plate)?;
    let mut issues = Vec::new();
    let mut described = |one: &Used| -> Used {
        let Some(carrier) = spec.carrier.get(one.carrier) else { return one.clone() };
        let first = one.candidate.contacts.first().copied();
        let clear = one.candidate.clear;
        let frame = one.candidate.frame.clone();
        let candidate = Candidate { clear, frame, ..carrier.candidate(plate, first) };
        let filled = match (carrier.settled(), carrier.part(), one.part) {
            (Some(force), ..) => carrier.step().map_or(force, |step| whole(force, step)),
            (None, Some(now), Some(then)) => now * (one.filled / then),
            _ => one.filled,
        };
        if let Carrier::Water(water) = carrier {
            let depth = water.most() * (filled / water.weight(water.most()));
            if depth > water.most() * (1.0 + 1e-9) {
                let path = format!("{}.rim", spec.carrier.path("layout.carrier", one.carrier));
                let message = "the depth found is above what rim and freeboard leave";
                let issue = Issue::new(slug::EQUIVALENT_FREEBOARD, path, message);
                issues.push(
                    issue.value(depth).limit(Message::new("up to {}", [water.most().into()])),
                );
            }
        }
        Used { part: carrier.part(), ..Used::new(one.carrier, candidate, Net(filled)) }
    };
    let all = used.iter().map(&mut described).collect();
    Error::check(issues)?;
    Ok(all)
}

/// What the engineer asks besides, of these actions of the test.
///
/// # Errors
/// A requirement that cannot be, under its path in the document.
pub(in crate::equivalent) fn besides(
    target: &Target,
    spec: &LayoutSpec,
    asks: &[Ask],
    test: &Response,
    system: System,
) -> Result<Vec<Confirmed>, Error> {
    let reference = Reference::from(target).shown_in(system);
    let asked = requirements(target, spec, asks, false);
    let own = asked.len() - spec.requirements.len();
    let mut issues = Vec::new();
    refused(&asked, &reference, &target.beam, &mut issues);
    Error::check(issues).map_err(|e| at_home(e, own, &[], spec))?;
    Ok(confirm_response(test, &reference, &spec.requirements, &[], &[]).each)
}

/// A force raised to whole steps.
fn whole(force: Force, step: Force) -> Force {
    step * (force / step * (1.0 - 1e-9)).ceil().max(1.0)
}

/// The loads on the beam. Water follows the deflection: its weight, and with it the force of the
/// carrier, is that of the coupled solution. Several basins stand on one member: each follows what the
/// others make too.
pub(in crate::equivalent) fn loads(
    beam: &Beam,
    spec: &LayoutSpec,
    used: &mut [Used],
) -> Result<Vec<Load>, Error> {
    let mut each: Vec<Vec<Load>> = used.iter().map(Used::dry).collect();
    let basins: Vec<(usize, &WaterSpec)> = used
        .iter()
        .enumerate()
        .filter(|(_, one)| one.force.0 > Force::ZERO)
        .filter_map(|(i, one)| match spec.carrier.get(one.carrier) {
            Some(Carrier::Water(water)) => Some((i, water)),
            _ => None,
        })
        .collect();
    if basins.is_empty() {
        return Ok(each.into_iter().flatten().collect());
    }
    let bare = candidate::held(beam);
    for (i, _) in &basins {
        each.get_mut(*i).into_iter().for_each(Vec::clear);
    }
    for _ in 0..ROUNDS {
        let mut moved = 0.0_f64;
        for (i, water) in &basins {
            let others = basins.iter().filter(|(j, _)| j != i).filter_map(|(j, _)| each.get(*j));
            let others: Vec<Load> = others.flatten().copied().collect();
            let (Some(one), Some(own)) = (used.get_mut(*i), each.get_mut(*i)) else { continue };
            let depth = water.most() * (one.filled / water.weight(water.most()));
            let (bed, pieces) = bed(&bare, water, depth, &others)?;
            let (width, weight) = (water.width.value, water.unit_weight.value);
            let ponded = ponding(&bare, &bed, width, weight, pieces)?;
            moved = moved.max((ponded.weight / one.force.0 - 1.0).abs());
            (one.force, *own) = (Net(ponded.weight), ponded.loads);
        }
        if basins.len() < 2 || moved <= 1e-12 {
            return Ok(each.into_iter().flatten().collect());
        }
    }
    let message = "every basin brings more water to the others, round after round";
    Err(Error::solver(Issue::new(slug::LOADS_PONDING_UNSTABLE, "layout.carrier", message)))
}

/// Rounds until several basins on one member are settled.
const ROUNDS: usize = 200;

/// The bed of a basin with pieces a stretch: level where it stands alone, else with what the others
/// deflect.
fn bed(
    bare: &Beam,
    water: &WaterSpec,
    depth: Length,
    others: &[Load],
) -> Result<(Vec<(Length, Length)>, usize), Error> {
    let (from, to) = (water.from.value, water.to.value);
    if others.is_empty() {
        return Ok((vec![(from, depth), (to, depth)], PIECES));
    }
    let response = bare.response(others)?;
    let place = |i: usize| from + (to - from) * (i as f64 / PIECES as f64);
    let sunk = |x: Length| (x, depth + response.inside().deflection(x));
    Ok(((0..=PIECES).map(|i| sunk(place(i))).collect(), 2))
}

/// Pieces of a basin whose water follows the deflection.
const PIECES: usize = 32;

impl Used {
    pub(in crate::equivalent) const fn new(
        carrier: usize,
        candidate: Candidate,
        force: Net<Force>,
    ) -> Self {
        Self {
            carrier,
            candidate,
            force,
            filled: force.0,
            part: None,
            of: None,
            given: false,
            step: None,
        }
    }

    /// The same, with the part in which it is filled or stacked.
    pub(in crate::equivalent) fn in_parts_of(mut self, spec: &LayoutSpec) -> Self {
        let carrier = spec.carrier.get(self.carrier);
        self.part = carrier.and_then(Carrier::part);
        let stacked = |c: &&Carrier| matches!(c, Carrier::Bags(_) | Carrier::Water(_));
        self.of = carrier.filter(stacked).cloned().map(Box::new);
        self.given = carrier.is_some_and(|c| c.settled().is_some());
        self.step = carrier.and_then(Carrier::step);
        self
    }

    /// Its loads where nothing follows the deflection.
    fn dry(&self) -> Vec<Load> {
        if self.force.0 <= Force::ZERO {
            return Vec::new();
        }
        self.candidate.loads(self.force.0)
    }

    /// What the report says of it.
    pub(in crate::equivalent) fn carried(&self, spec: &LayoutSpec, system: System) -> Carried {
        let carrier = spec.carrier.get(self.carrier);
        let end = Length::from_si(f64::INFINITY);
        let covers = self.candidate.covers();
        let (from, to) = covers.fold((end, Length::ZERO), |(a, b), (f, t)| (a.min(f), b.max(t)));
        let (layers, depth) = carrier.map_or((None, None), |c| c.amount(self.filled));
        Carried {
            carrier: self.carrier,
            name: self.candidate.label_in(system).into(),
            kind: carrier.map_or(CarrierKind::Jack, Carrier::kind),
            at: self.candidate.resultant(),
            from,
            to,
            force: self.force,
            layers,
            depth,
            circuit: carrier.and_then(Carrier::circuit).cloned(),
        }
    }
}

/// The layout under what may be built otherwise.
pub(in crate::equivalent) fn deviating(
    target: &Target,
    spec: &LayoutSpec,
    asks: &[Ask],
    used: &[Used],
    system: System,
) -> Result<Option<AsBuilt>, Error> {
    let Some(deviations) = &spec.deviations else { return Ok(None) };
    let reference = Reference::from(target).shown_in(system);
    let asked = requirements(target, spec, asks, true);
    let candidates: Vec<Candidate> = used.iter().map(|u| u.candidate.clone()).collect();
    let forces: Vec<Net<Force>> = used.iter().map(|u| u.force).collect();
    let own = asked.len() - spec.requirements.len();
    let of: Vec<usize> = used.iter().map(|u| u.carrier).collect();
    as_built(&target.beam, &reference, &asked, &candidates, &forces, deviations)
        .map(Some)
        .map_err(|e| at_home(e, own, &of, spec))
}

/// The layout where its carriers bring these times what it counts.
pub(in crate::equivalent) fn times(
    target: &Target,
    spec: &LayoutSpec,
    asks: &[Ask],
    used: &[Used],
    (cases, system): (&[Vec<f64>], System),
) -> Result<(Vec<Deviation>, bool), Error> {
    let reference = Reference::from(target).shown_in(system);
    let asked = requirements(target, spec, asks, true);
    let candidates: Vec<Candidate> = used.iter().map(|u| u.candidate.clone()).collect();
    let scaled = |case: &Vec<f64>| {
        let forces = used.iter().zip(case).map(|(u, k)| Net(u.force.0 * *k));
        (String::new(), forces.collect())
    };
    let forces: Vec<(String, Vec<Net<Force>>)> = cases.iter().map(scaled).collect();
    let limited = asked.iter().any(|r| !matches!(r, Requirement::Reach(_)))
        || candidates.iter().any(|c| c.capacity.is_some() || c.at_least.is_some());
    Ok((under_forces((&target.beam, &reference), &asked, &candidates, forces)?, limited))
}
