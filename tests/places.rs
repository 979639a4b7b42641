//! The search over numbers and places: against brute force, and against the closed form of the best
//! inner line. Invented members.

mod terrace_parts;

use proofspan::beam::{Beam, Load};
use proofspan::equivalent::*;
use proofspan::units::*;
use terrace_parts::strip;

fn near(value: f64, exact: f64, tolerance: f64) -> bool {
    (value - exact).abs() <= tolerance * exact.abs()
}

fn asked() -> Vec<Requirement> {
    [Effect::Shear, Effect::Moment].map(|e| Requirement::reach(e, 0.0 * FT, 6.0 * FT)).to_vec()
}

fn least() -> Vec<Objective> {
    vec![Objective::overshoot(Effect::Moment, BasisWord::Net), Objective::total()]
}

/// Every set of so many, each solved by itself.
fn brute(
    beam: &Beam,
    reference: &Reference,
    candidates: &[Candidate],
    number: usize,
    asked: &[Requirement],
) -> Option<f64> {
    let mut best: Option<f64> = None;
    let n = candidates.len();
    for mask in 0_u32..(1 << n) {
        if mask.count_ones() as usize != number {
            continue;
        }
        let set: Vec<Candidate> =
            (0..n).filter(|i| mask & (1 << i) != 0).map(|i| candidates[i].clone()).collect();
        let answer = optimise(beam, reference, &set, asked, &least()).unwrap();
        if let Some(found) = answer.optimum() {
            let value = found.objectives[0];
            best = Some(best.map_or(value, |b: f64| b.min(value)));
        }
    }
    best
}

#[test]
fn every_number_is_the_best_of_all_choices() {
    let target = strip("a");
    let reference = Reference::from(&target);
    let mut candidates = grid(&Candidate::jack(1.5 * FT), 1.5 * FT, 12.0 * FT, 1.5 * FT).unwrap();
    candidates.push(Candidate::jack(20.0 * FT));
    assert_eq!(candidates.len(), 9);
    let stage = Stage { name: "shear", reference: &reference, requirements: &asked() };
    let found = search(&target.beam, &[stage], &candidates, 3, None, &least()).unwrap();
    assert_eq!(found.by_number.len(), 3);
    for choice in &found.by_number {
        let exact = brute(&target.beam, &reference, &candidates, choice.number, &asked()).unwrap();
        assert!(
            choice.exact && near(choice.objectives[0], exact, 1e-8),
            "{} {exact}",
            choice.objectives[0]
        );
        let confirmation = &choice.stages[0].confirmation;
        assert!(confirmation.violation <= 0.0, "{confirmation:?}");
        assert!(choice.objectives[0] >= found.bound.unwrap() * (1.0 - 1e-9));
    }
    // one line stands at the edge of the region, where the overshoot is 262345/211963
    assert!(near(found.by_number[0].objectives[0], 262_345.0 / 211_963.0, 1e-9));
    assert_eq!(found.best.unwrap().number, 3);
    // the fewest carriers first: one is enough, and no further number is looked at
    let fewest: Vec<Objective> = [vec![Objective::carriers()], least()].concat();
    let found = search(&target.beam, &[stage], &candidates, 3, None, &fewest).unwrap();
    assert_eq!(found.by_number.len(), 1);
    assert_eq!(found.best.unwrap().number, 1);
    // with a cap of 1.2 one is not enough
    let capped: Vec<Requirement> = [
        asked(),
        vec![Requirement::within(Effect::Moment, BasisWord::Net, 1.2, 0.0 * FT, 6.0 * FT)],
    ]
    .concat();
    let stage = Stage { name: "shear", reference: &reference, requirements: &capped };
    let found = search(&target.beam, &[stage], &candidates, 3, None, &fewest).unwrap();
    assert_eq!(found.best.unwrap().number, 2);
}

#[test]
fn clear_spacing_and_least_forces_count() {
    let target = strip("a");
    let reference = Reference::from(&target);
    let candidates = grid(&Candidate::jack(1.5 * FT), 1.5 * FT, 9.0 * FT, 1.5 * FT).unwrap();
    let requirements = asked();
    let stage = Stage { name: "shear", reference: &reference, requirements: &requirements };
    let free = search(&target.beam, &[stage], &candidates, 2, None, &least()).unwrap();
    let wide = search(&target.beam, &[stage], &candidates, 2, Some(4.0 * FT), &least()).unwrap();
    let places = |s: &Searched| -> Vec<f64> {
        let choice = s.by_number.iter().find(|c| c.number == 2).unwrap();
        choice.candidates.iter().map(|i| candidates[*i].contacts[0].to(FT)).collect()
    };
    assert!(places(&free)[1] - places(&free)[0] < 4.0, "{:?}", places(&free));
    assert!(places(&wide)[1] - places(&wide)[0] >= 4.0, "{:?}", places(&wide));
    // further out the overshoot in the region is the same, so the sum of the forces decides
    let value = |s: &Searched| s.by_number[1].objectives[0];
    let sum = |s: &Searched| s.by_number[1].objectives[1];
    assert!(near(value(&wide), value(&free), 1e-9) && sum(&wide) > sum(&free) * 1.001);
    // a least force beyond what the inner line needs makes it worse, never better
    let heavy: Vec<Candidate> =
        candidates.iter().map(|c| c.clone().at_least(8000.0 * LBF)).collect();
    let forced = search(&target.beam, &[stage], &heavy, 2, None, &least()).unwrap();
    let two = forced.by_number.iter().find(|c| c.number == 2).unwrap();
    assert!(two.objectives[0] > value(&free));
    assert!(two.stages[0].forces.iter().all(|f| f.0 >= 7999.9 * LBF));
}

#[test]
fn two_stages_share_the_places() {
    // an invented span; first the left end in doubt, then the right one
    let beam = Beam::simple(8.0 * M, 2e4 * KN_M2).unwrap();
    let load = [Load::uniform(0.0 * M, 8.0 * M, 10.0 * KN_PER_M)];
    let [term, none] = beam.cases(&[&load, &[]]).unwrap().try_into().unwrap();
    let reference = Reference::new(vec![("load".to_owned(), term)], none, None).unwrap();
    let left = [Requirement::reach(Effect::Shear, 0.0 * M, 2.0 * M)];
    let right = [Requirement::reach(Effect::Shear, 6.0 * M, 8.0 * M)];
    let stages = [
        Stage { name: "left", reference: &reference, requirements: &left },
        Stage { name: "right", reference: &reference, requirements: &right },
    ];
    let candidates = grid(&Candidate::jack(1.0 * M), 1.0 * M, 7.0 * M, 1.0 * M).unwrap();
    let objectives = [Objective::carriers(), Objective::total()];
    let found = search(&beam, &stages, &candidates, 2, None, &objectives).unwrap();
    let best = found.best.unwrap();
    // one jack at 2..6 m serves both ends, in turn; the middle asks least: 80 kN for 40 kN of shear
    assert_eq!(best.number, 1);
    assert_eq!(best.candidates, [3]);
    assert!(near(best.objectives[0], 80e3, 1e-9));
    assert_eq!(best.stages.len(), 2);
}

#[test]
fn the_best_inner_line_is_found_between_the_candidates() {
    let target = strip("a");
    let reference = Reference::from(&target);
    let requirements = asked();
    let stage = Stage { name: "shear", reference: &reference, requirements: &requirements };
    let start = [Candidate::jack(2.0 * FT), Candidate::jack(6.0 * FT)];
    let ranges = [Room::between(0.5 * FT, 6.0 * FT), Room::between(6.0 * FT, 9.0 * FT)];
    let placed = refine(&target.beam, &[stage], &start, &ranges, &least()).unwrap();
    let inner = placed.candidates[0].contacts[0].to(FT);
    let exact = (391.0 - 103_489.0_f64.sqrt()) / 24.0;
    assert!((inner - exact).abs() < 1e-3, "{inner} {exact}");
    assert!(near(placed.candidates[1].contacts[0].to(FT), 6.0, 1e-9));
    let found = placed.stages[0].optimum().unwrap();
    assert!(near(found.objectives[0], 1.115_617, 1e-6), "{:?}", found.objectives);
    // from a start that reaches nothing
    let start = [Candidate::jack(2.0 * FT), Candidate::jack(4.0 * FT)];
    let ranges = [Room::between(0.5 * FT, 6.0 * FT), Room::between(3.0 * FT, 9.0 * FT)];
    let placed = refine(&target.beam, &[stage], &start, &ranges, &least()).unwrap();
    let found = placed.stages[0].optimum().unwrap();
    assert!(found.objectives[0] < 1.12, "{:?}", found.objectives);
}

#[test]
fn more_than_can_be_tried_is_said_and_bounded() {
    let target = strip("a");
    let reference = Reference::from(&target);
    let requirements = asked();
    let stage = Stage { name: "shear", reference: &reference, requirements: &requirements };
    let candidates = grid(&Candidate::jack(0.4 * FT), 0.4 * FT, 20.0 * FT, 0.4 * FT).unwrap();
    assert_eq!(candidates.len(), 50);
    let found = search(&target.beam, &[stage], &candidates, 4, None, &least()).unwrap();
    let exact: Vec<bool> = found.by_number.iter().map(|c| c.exact).collect();
    assert_eq!(exact, [true, true, true, false], "{}", found.about);
    let values: Vec<f64> = found.by_number.iter().map(|c| c.objectives[0]).collect();
    for pair in values.windows(2) {
        assert!(pair[1] <= pair[0] * (1.0 + 1e-9), "{values:?}");
    }
    let bound = found.bound.unwrap();
    assert!(values.iter().all(|v| *v >= bound * (1.0 - 1e-9)), "{values:?} {bound}");
    assert!(found.about.contains("not all tried"));
}

#[test]
fn what_no_candidate_reaches_is_a_conflict() {
    let target = strip("a");
    let reference = Reference::from(&target);
    let requirements = asked();
    let stage = Stage { name: "shear", reference: &reference, requirements: &requirements };
    // inside the region the shear right of every jack is negative
    let candidates = [Candidate::jack(2.0 * FT), Candidate::jack(4.0 * FT)];
    let found = search(&target.beam, &[stage], &candidates, 2, None, &least()).unwrap();
    assert!(found.best.is_none() && found.by_number.is_empty());
    let conflict = found.conflict.unwrap();
    assert!(conflict.words().contains("shear of every term reached"), "{}", conflict.words());
}

#[test]
fn a_spreader_finds_its_spacing() {
    // an invented span of 9 m under 10 kN/m, sagging in doubt from 3 m to 6 m. By hand, contacts at a and
    // 9 − a: the line from the support must reach 90 kN m at 3 m, so P/2 = 30 kN; between the contacts
    // 30 a must reach 101.25, so a = 27/8 m; the overshoot there is 101.25/94.921875 = 16/15, and a
    // contact further out or in makes it more
    let beam = Beam::simple(9.0 * M, 2e4 * KN_M2).unwrap();
    let load = vec![Load::uniform(0.0 * M, 9.0 * M, 10.0 * KN_PER_M)];
    let region = Some((3.0 * M, 6.0 * M));
    let reference =
        Reference::of_loads(&beam, vec![("load".to_owned(), load)], vec![], region).unwrap();
    let asked = [Requirement::reach(Effect::Moment, 3.0 * M, 6.0 * M)];
    let stage = Stage { name: "sagging", reference: &reference, requirements: &asked };
    let start = [Candidate::at(vec![3.5 * M, 4.5 * M])];
    let room = Room {
        spacing_from: Some(0.2 * M),
        spacing_to: Some(6.0 * M),
        ..Room::between(0.5 * M, 8.0 * M)
    };
    let objectives = [Objective::overshoot(Effect::Moment, BasisWord::Net)];
    let placed = refine(&beam, &[stage], &start, &[room], &objectives).unwrap();
    let found = placed.stages[0].optimum().unwrap();
    let contacts = &placed.candidates[0].contacts;
    assert!(near(found.objectives[0], 16.0 / 15.0, 1e-5), "{:?} {contacts:?}", found.objectives);
    assert!(near(contacts[0].to(M), 27.0 / 8.0, 1e-3), "{contacts:?}");
    assert!(near(contacts[1].to(M), 45.0 / 8.0, 1e-3), "{contacts:?}");
    let wrong = refine(&beam, &[stage], &start, &[], &objectives).unwrap_err();
    assert_eq!(wrong.issues[0].slug.code(), "equivalent.stretch");
}

/// A span of 8 m (invented) under 10 kN/m, all of it in place but the jacks.
fn plain() -> (Beam, Reference) {
    let beam = Beam::simple(8.0 * M, 2e4 * KN_M2).unwrap();
    let loads = vec![("load".to_owned(), vec![Load::uniform(0.0 * M, 8.0 * M, 10.0 * KN_PER_M)])];
    let reference = Reference::of_loads(&beam, loads, vec![], Some((2.0 * M, 6.0 * M))).unwrap();
    (beam, reference)
}

/// Each carrier may ask for a clear distance of its own; the search keeps it, a layout that breaks it is
/// refused, and the verifier says what lacks.
#[test]
fn each_carrier_keeps_its_clear_distance() {
    let (beam, reference) = plain();
    let asked = [Requirement::reach(Effect::Moment, 2.0 * M, 6.0 * M)];
    let stage = [Stage { name: "test", reference: &reference, requirements: &asked }];
    let jack = |x: f64, clear: f64| Candidate::jack(x * M).on_plate(0.2 * M).clear_of(clear * M);
    let places = [2.0, 2.5, 3.5, 5.5, 6.0];
    for clear in [0.0, 1.0, 3.0] {
        let candidates: Vec<Candidate> = places
            .iter()
            .enumerate()
            .map(|(i, x)| jack(*x, if i == 1 { clear } else { 0.0 }))
            .collect();
        let found = search(&beam, &stage, &candidates, 3, None, &[Objective::peak()]).unwrap();
        for choice in &found.by_number {
            let at: Vec<f64> = choice.candidates.iter().map(|i| places[*i]).collect();
            let fits = |x: &f64| (x - 2.5).abs() < 1e-9 || (x - 2.5).abs() - 0.2 >= clear - 1e-9;
            assert!(!at.contains(&2.5) || at.iter().all(fits), "{clear} {at:?}");
        }
        let both = [jack(2.0, 0.0), jack(2.5, clear)];
        let answer = optimise(&beam, &reference, &both, &asked, &[Objective::total()]);
        // 0.3 m between the plates
        assert_eq!(answer.is_ok(), clear < 0.3);
        if let Err(error) = answer {
            assert_eq!(error.codes(), ["equivalent.spacing"]);
        }
        let forces = [Net(60.0 * KN), Net(60.0 * KN)];
        let seen = confirm(&beam, &reference, &asked, &both, &forces).unwrap();
        let lacks = seen.each.iter().find(|c| c.what.starts_with("clear distance"));
        assert_eq!(lacks.is_some(), clear > 0.3);
        assert!(lacks.is_none_or(|c| near(c.amount.si, clear - 0.3, 1e-9)), "{lacks:?}");
    }
}

/// Beyond what can be tried one by one: four of 49. All 211 876 choices, tried once for this test, have
/// nothing below 1.0294597137.
#[test]
fn exchanges_of_two_find_what_one_does_not() {
    let (beam, reference) = plain();
    let asked = [Requirement::reach(Effect::Moment, 2.0 * M, 6.0 * M)];
    let stage = [Stage { name: "test", reference: &reference, requirements: &asked }];
    let overshoot = [Objective::overshoot(Effect::Moment, BasisWord::Net)];
    let all = grid(&Candidate::jack(0.16 * M), 0.16 * M, 7.84 * M, 0.16 * M).unwrap();
    assert_eq!(all.len(), 49);
    let found = search(&beam, &stage, &all, 4, None, &overshoot).unwrap();
    let value = |s: &Searched, n: usize| s.by_number[n].objectives[0];
    assert!(!found.by_number[3].exact && found.by_number[2].exact);
    assert!(near(value(&found, 3), 1.029_459_713_7, 1e-9), "{}", value(&found, 3));
    assert!(value(&found, 3) >= found.bound.unwrap() * (1.0 - 1e-9));
}

/// Where all together would do and no choice does, the nearest choice says why.
#[test]
fn the_nearest_choice_says_why() {
    let (beam, reference) = plain();
    let asked = [
        Requirement::reach(Effect::Moment, 2.0 * M, 6.0 * M),
        Requirement::within(Effect::Moment, BasisWord::Net, 1.2, 0.0 * M, 8.0 * M),
    ];
    let stage = [Stage { name: "test", reference: &reference, requirements: &asked }];
    let jacks = grid(&Candidate::jack(1.0 * M), 1.0 * M, 7.0 * M, 1.0 * M).unwrap();
    let found = search(&beam, &stage, &jacks, 1, None, &[Objective::total()]).unwrap();
    let conflict = found.conflict.unwrap();
    assert!(found.best.is_none() && conflict.requirements.len() == 2, "{}", conflict.words());
    // the one in the middle: P·x/2 below 1.2·80 there gives 48·2 m of 60 kN·m at the quarter
    assert!(found.about.contains("the nearest, jack at 4 m, reaches 0.8"), "{}", found.about);
    assert!(near(conflict.relaxations[0].by.unwrap(), 0.2, 1e-9), "{}", conflict.words());
    // which carrier, moved where, would help
    let two = [Candidate::jack(2.5 * M), Candidate::jack(7.0 * M)];
    let problem = Problem::new(&beam, &reference, &two, &asked).unwrap();
    let Answer::Conflict(_) = problem.optimum(&[Objective::total()]).unwrap() else { panic!() };
    let moved = problem.elsewhere(&[2.5 * M, 5.5 * M, 7.0 * M], &[Objective::total()]).unwrap();
    // each stays where it is once, and may not stand on the other
    assert_eq!(moved.len(), 4);
    let best = &moved[0];
    assert!(
        best.answer.optimum().is_some() && best.candidate == 1 && best.at == 5.5 * M,
        "{best:?}"
    );
    assert!(moved[1..].iter().all(|m| m.answer.optimum().is_none()));
    // a limit that is to blame is not answered with another carrier
    let limit = ReactionLimit { support: 0, at_least: None, at_most: Some(0.0 * KN) };
    let asked = [asked[0].clone(), Requirement::ReactionLimit(limit)];
    let answer = optimise(&beam, &reference, &two, &asked, &[Objective::total()]).unwrap();
    let Answer::Conflict(conflict) = answer else { panic!() };
    assert!(conflict.words().contains("no part of it can be reached while the rest is kept"));
}

/// Several stages keep one set of rounded places.
#[test]
fn stages_are_rounded_to_the_same_places() {
    let supports = [0.0, 8.0, 14.0].map(|x| proofspan::beam::Support::bearing(x * M)).to_vec();
    let beam = Beam::new(14.0 * M, supports, vec![(0.0 * M, 2e4 * KN_M2)]).unwrap();
    let on = |a: f64, b: f64| {
        let second = Load::uniform(8.0 * M, 14.0 * M, b * KN_PER_M);
        vec![Load::uniform(0.0 * M, 8.0 * M, a * KN_PER_M), second]
    };
    let of = |a, b, from: f64, to: f64| {
        let region = Some((from * M, to * M));
        Reference::of_loads(&beam, vec![("live".to_owned(), on(a, b))], vec![], region).unwrap()
    };
    let (sags, hogs) = (of(20.0, 0.0, 2.0, 5.0), of(20.0, 20.0, 7.6, 8.4));
    let reach = |from: f64, to: f64, sense| {
        vec![Requirement::reach(Effect::Moment, from * M, to * M).in_sense(sense)]
    };
    let (one, two) = (reach(2.0, 5.0, Sense::Sagging), reach(7.6, 8.4, Sense::Hogging));
    let stages = [
        Stage { name: "sagging", reference: &sags, requirements: &one },
        Stage { name: "hogging", reference: &hogs, requirements: &two },
    ];
    let jacks = [2.51, 4.52, 10.97].map(|x| Candidate::jack(x * M));
    let least = [Objective::total()];
    let found = search(&beam, &stages, &jacks, 3, None, &least).unwrap();
    let choice = found.by_number.last().unwrap();
    let set: Vec<Candidate> = choice.candidates.iter().map(|i| jacks[*i].clone()).collect();
    let forces: Vec<Vec<Net<Force>>> = choice.stages.iter().map(|s| s.forces.clone()).collect();
    let steps = (25.0 * MM, 1.0 * KN);
    let built = buildable(&beam, &stages, &set, &forces, &least, steps).unwrap().unwrap();
    assert_eq!(built.stages.len(), 2);
    for candidate in &built.candidates {
        let steps = candidate.contacts[0].to(MM) / 25.0;
        assert!((steps - steps.round()).abs() < 1e-6, "{candidate:?}");
    }
    for (stage, own) in stages.iter().zip(&built.stages) {
        let (candidates, forces) = (&built.candidates, &own.forces);
        let seen = confirm(&beam, stage.reference, stage.requirements, candidates, forces).unwrap();
        assert!(seen.violation <= 0.0 && own.growth >= 0.99 && own.growth < 1.1, "{own:?}");
        let whole = |f: &Net<Force>| (f.0.to(KN) - f.0.to(KN).round()).abs() < 1e-6;
        assert!(own.forces.iter().all(whole), "{:?}", own.forces);
    }
}
