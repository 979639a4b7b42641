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
    let candidates = grid(&Candidate::jack(0.5 * FT), 0.5 * FT, 20.0 * FT, 0.5 * FT).unwrap();
    assert_eq!(candidates.len(), 40);
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
