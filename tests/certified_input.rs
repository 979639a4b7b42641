//! Bad input of certified layouts: every problem at once, with path, value, limit and remedy.

mod terrace_parts;

use proofspan::beam::{Beam, Load, Support};
use proofspan::equivalent::*;
use proofspan::error::Error;
use proofspan::units::*;
use terrace_parts::strip;

fn codes(error: &Error) -> Vec<&'static str> {
    error.issues.iter().map(|i| i.slug.code()).collect()
}

/// A simple span of 8 m (invented) under 10 kN/m.
fn simple() -> (Beam, Reference) {
    let beam = Beam::simple(8.0 * M, 2e4 * KN_M2).unwrap();
    let load = vec![Load::uniform(0.0 * M, 8.0 * M, 10.0 * KN_PER_M)];
    let region = Some((2.0 * M, 6.0 * M));
    let reference =
        Reference::of_loads(&beam, vec![("load".to_owned(), load)], vec![], region).unwrap();
    (beam, reference)
}

fn reach() -> Vec<Requirement> {
    vec![Requirement::reach(Effect::Moment, 2.0 * M, 6.0 * M)]
}

fn refused(
    candidates: &[Candidate],
    requirements: &[Requirement],
    objectives: &[Objective],
) -> Error {
    let (beam, reference) = simple();
    optimise(&beam, &reference, candidates, requirements, objectives).unwrap_err()
}

#[test]
fn every_problem_at_once() {
    let candidates = [
        Candidate::jack(9.0 * M),
        Candidate::jack(4.0 * M).up_to(0.0 * KN),
        Candidate::jack(4.0 * M),
        Candidate { shares: Some(vec![0.3, 0.3]), ..Candidate::at(vec![3.0 * M, 5.0 * M]) },
        Candidate::at(vec![3.5 * M, 3.5 * M]),
        Candidate::patch(-1.0 * M, 9.5 * M),
        Candidate { cost: -1.0, ..Candidate::jack(2.5 * M) },
        Candidate::jack(2.6 * M).at_least(5.0 * KN).up_to(4.0 * KN),
        // more contacts than a carrier has
        Candidate::at((1..=201).map(|i| f64::from(i) * 0.03 * M).collect()),
    ];
    let requirements = [
        Requirement::reach(Effect::Moment, 6.0 * M, 2.0 * M),
        Requirement::reach(Effect::Moment, 2.0 * M, 2.0 * M),
        Requirement::within(Effect::Moment, BasisWord::Net, 0.9, 0.0 * M, 8.0 * M),
        Requirement::ReactionLimit(ReactionLimit { support: 7, at_least: None, at_most: None }),
        Requirement::reach_at(Effect::Shear, vec![12.0 * M]),
    ];
    let error = refused(&candidates, &requirements, &[Objective::carriers()]);
    let found = codes(&error);
    for code in [
        "equivalent.jack-outside",
        "equivalent.candidate",
        "equivalent.jack-duplicate",
        "equivalent.stretch",
        "equivalent.cap-below-one",
        "equivalent.requirement",
        "equivalent.objective",
    ] {
        assert!(found.contains(&code), "{code}: {found:?}");
    }
    assert!(error.issues.len() >= 14, "{error}");
    let paths: Vec<&str> = error.issues.iter().map(|i| i.path.as_str()).collect();
    for path in [
        "candidates[0].contacts",
        "candidates[1].capacity",
        "candidates[2]",
        "candidates[3].shares",
        "candidates[5].contacts",
        "candidates[6].cost",
        "candidates[7].at_least",
        "candidates[8].contacts",
        "requirements[0].to",
        "requirements[1].to",
        "requirements[2].at_most",
        "requirements[3].support",
        "requirements[4].at",
        "objectives[0]",
    ] {
        assert!(paths.contains(&path), "{path}: {paths:?}");
    }
    let text = error.to_string();
    assert!(text.contains("runs backwards") && text.contains("is empty"), "{text}");
    // nothing at all
    let error = refused(&[], &[], &[]);
    assert_eq!(
        codes(&error),
        ["equivalent.objective", "equivalent.candidate", "equivalent.requirement"]
    );
}

#[test]
fn pistons_of_one_source() {
    let (beam, reference) = simple();
    let area = |cm2: f64| cm2 * 100.0 * MM2;
    let jacks = |a: f64, b: f64| {
        [
            Candidate::jack(3.0 * M).on_source("pump 1", area(a)),
            Candidate::jack(5.0 * M).on_source("pump 1", area(b)),
        ]
    };
    let error = refused(&jacks(20.0, 30.0), &reach(), &[Objective::total()]);
    assert_eq!(codes(&error), ["equivalent.pistons"]);
    assert!(error.to_string().contains("pump 1"), "{error}");
    // equal areas push equally
    let answer =
        optimise(&beam, &reference, &jacks(20.0, 20.0), &reach(), &[Objective::total()]).unwrap();
    let found = answer.optimum().unwrap();
    assert!((found.forces[0].0 / found.forces[1].0 - 1.0).abs() < 1e-12);
    // unequal areas that are meant: forces stand as the areas
    let mut meant = jacks(20.0, 30.0);
    meant[1].unequal_pistons = true;
    let answer = optimise(&beam, &reference, &meant, &reach(), &[Objective::total()]).unwrap();
    let found = answer.optimum().unwrap();
    assert!((found.forces[1].0 / found.forces[0].0 - 1.5).abs() < 1e-12);
    // sagging at every x: V(x) of the reference is 10 (4 − x), so the least force is settled there
    assert!(found.confirmation.violation <= 0.0);
}

#[test]
fn no_carrier_reaches_the_region_and_contradictory_limits() {
    let target = strip("a");
    let reference = Reference::from(&target);
    let asked = [Requirement::reach(Effect::Shear, 0.0 * FT, 6.0 * FT)];
    // shear right of the only jack is negative: no force of it reaches the rest of the region
    let inside = [Candidate::jack(3.0 * FT)];
    let answer =
        optimise(&target.beam, &reference, &inside, &asked, &[Objective::total()]).unwrap();
    let Answer::Conflict(conflict) = answer else { panic!() };
    assert_eq!(conflict.requirements.len(), 1);
    assert!(conflict.words().contains("shear of every term reached"), "{}", conflict.words());
    // nothing of the reference can be reached there, and giving way says how little
    assert!(conflict.relaxations[0].by.unwrap() > 0.9, "{:?}", conflict.relaxations);
    // a capacity below what is needed
    let (beam, reference) = simple();
    let weak = [Candidate::jack(4.0 * M).up_to(10.0 * KN)];
    let answer = optimise(&beam, &reference, &weak, &reach(), &[Objective::total()]).unwrap();
    let Answer::Conflict(conflict) = answer else { panic!() };
    assert_eq!(conflict.requirements.len(), 2, "{}", conflict.words());
    assert!(conflict.words().contains("capacity of jack at 4 m"), "{}", conflict.words());
    // no uplift and uplift
    let limits = [
        reach().remove(0),
        Requirement::ReactionLimit(ReactionLimit {
            support: 0,
            at_least: Some(90.0 * KN),
            at_most: None,
        }),
        Requirement::ReactionLimit(ReactionLimit {
            support: 0,
            at_least: None,
            at_most: Some(20.0 * KN),
        }),
    ];
    let strong = [Candidate::jack(4.0 * M)];
    let answer = optimise(&beam, &reference, &strong, &limits, &[Objective::total()]).unwrap();
    let Answer::Conflict(conflict) = answer else { panic!() };
    assert_eq!(conflict.requirements.len(), 2, "{}", conflict.words());
}

#[test]
fn references_and_seats() {
    let (beam, reference) = simple();
    let none = Reference::new(vec![], beam.response(&[]).unwrap(), None).unwrap_err();
    assert_eq!(codes(&none), ["equivalent.reference"]);
    let longer = Beam::simple(9.0 * M, 2e4 * KN_M2).unwrap();
    let jack = [Candidate::jack(4.0 * M)];
    let error = optimise(&longer, &reference, &jack, &reach(), &[Objective::total()]).unwrap_err();
    assert_eq!(codes(&error), ["equivalent.reference"]);
    // a bearing that only pushes: its reaction must be asked to stay down
    let supports =
        vec![Support::bearing(0.0 * M), Support::bearing(8.0 * M), Support::seat(14.0 * M)];
    let beam = Beam::new(14.0 * M, supports, vec![(0.0 * M, 2e4 * KN_M2)]).unwrap();
    let load = vec![Load::uniform(0.0 * M, 14.0 * M, 10.0 * KN_PER_M)];
    let reference = Reference::of_loads(
        &beam,
        vec![("load".to_owned(), load.clone())],
        load,
        Some((2.0 * M, 4.0 * M)),
    )
    .unwrap();
    let asked = vec![Requirement::reach(Effect::Moment, 2.0 * M, 4.0 * M)];
    let error = optimise(&beam, &reference, &jack, &asked, &[Objective::total()]).unwrap_err();
    assert_eq!(codes(&error), ["equivalent.requirement"]);
    let pressed = ReactionLimit { support: 2, at_least: Some(0.0 * KN), at_most: None };
    let asked = [asked, vec![Requirement::ReactionLimit(pressed)]].concat();
    let answer = optimise(&beam, &reference, &jack, &asked, &[Objective::total()]).unwrap();
    assert!(answer.optimum().is_some());
    // a sign that the reference does not have there
    let hogging = [
        asked.clone(),
        vec![Requirement::reach(Effect::Moment, 2.0 * M, 4.0 * M).in_sense(Sense::Negative)],
    ]
    .concat();
    let error = optimise(&beam, &reference, &jack, &hogging, &[Objective::total()]).unwrap_err();
    assert_eq!(codes(&error), ["equivalent.nothing-asked"]);
    assert_eq!(error.issues[0].path, "requirements[2]");
    // nothing to apply
    let nothing =
        Reference::of_loads(&beam, vec![("none".to_owned(), vec![])], vec![], None).unwrap();
    let error = optimise(&beam, &nothing, &jack, &asked, &[Objective::total()]).unwrap_err();
    assert_eq!(codes(&error), ["equivalent.nothing-asked"]);
    let lone = Requirement::reach_at(Effect::Moment, vec![3.0 * M]);
    let error = optimise(&beam, &nothing, &jack, &[lone, asked[1].clone()], &[Objective::total()])
        .unwrap_err();
    assert_eq!(codes(&error), ["equivalent.nothing-asked"]);
}

#[test]
fn deviations_and_steps() {
    let (beam, reference) = simple();
    let jack = [Candidate::jack(4.0 * M)];
    let forces = [Net(80.0 * KN)];
    let bad = Deviations {
        place: -1.0 * MM,
        force: 1.5,
        support: Length::ZERO,
        ends: Ends::Seated,
        stiffness: 0.5,
        settlement: -1.0 * MM,
    };
    let error = as_built(&beam, &reference, &reach(), &jack, &[Net(-1.0 * KN)], &bad).unwrap_err();
    assert_eq!(codes(&error).iter().filter(|c| **c == "equivalent.deviation").count(), 4);
    assert!(codes(&error).contains(&"equivalent.force-negative"));
    let fixed = Deviations { force: 0.01, ends: Ends::CastInPlace, ..Deviations::none() };
    let found = as_built(&beam, &reference, &reach(), &jack, &forces, &fixed).unwrap();
    assert_eq!(found.fidelity.slug.code(), "equivalent.as-built");
    // actions alone cannot be made again on another beam
    let plain =
        Reference::new(reference.terms().to_vec(), reference.in_place().clone(), None).unwrap();
    let error = as_built(&beam, &plain, &reach(), &jack, &forces, &fixed).unwrap_err();
    assert_eq!(codes(&error), ["equivalent.reference"]);
    let objectives = [Objective::total()];
    let asked = reach();
    let stage = [Stage { name: "test", reference: &reference, requirements: &asked }];
    let built = |forces: &[Vec<Net<Force>>], steps: (Length, Force)| {
        buildable(&beam, &stage, &jack, forces, &objectives, steps).unwrap_err()
    };
    let given = vec![forces.to_vec()];
    let error = built(&given, (0.0 * MM, -1.0 * KN));
    assert_eq!(codes(&error), ["equivalent.step", "equivalent.step"]);
    // a step larger than every force would multiply the load
    let error = built(&given, (25.0 * MM, 1000.0 * KN));
    assert_eq!(codes(&error), ["equivalent.step"]);
    assert_eq!(codes(&built(&[], (25.0 * MM, 1.0 * KN))), ["equivalent.candidate"]);
    let error = grid(&Candidate::jack(1.0 * M), 4.0 * M, 1.0 * M, 0.5 * M).unwrap_err();
    assert_eq!(codes(&error), ["equivalent.stretch"]);
}

#[test]
fn a_search_that_fails_is_an_error_with_the_problem() {
    // a load that no arithmetic in double precision can hold
    let beam = Beam::simple(8.0 * M, 2e4 * KN_M2).unwrap();
    let load = vec![Load::uniform(0.0 * M, 8.0 * M, 1e305 * KN_PER_M)];
    let made = Reference::of_loads(&beam, vec![("load".to_owned(), load)], vec![], None);
    let reference = made.unwrap();
    let jack = [Candidate::jack(3.0 * M)];
    let error = optimise(&beam, &reference, &jack, &reach(), &[Objective::total()]).unwrap_err();
    assert_eq!(codes(&error), ["equivalent.solver"]);
    assert!(error.to_string().contains("term load"), "{error}");
    // costs that differ by six hundred decades are no trouble
    let candidates = [
        Candidate { cost: 1e300, ..Candidate::jack(3.0 * M) },
        Candidate { cost: 1e-300, ..Candidate::jack(5.0 * M) },
        Candidate { cost: f64::MAX, ..Candidate::jack(4.0 * M) },
    ];
    let (beam, reference) = simple();
    let answer = optimise(&beam, &reference, &candidates, &reach(), &[Objective::total()]).unwrap();
    let found = answer.optimum().unwrap();
    assert!(
        (found.forces[1].0 / (80.0 * KN) - 1.0).abs() < 1e-9 && found.confirmation.violation <= 0.0
    );
}
