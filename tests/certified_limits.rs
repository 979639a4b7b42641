//! Every kind of requirement, carrier and objective against a value by hand. Invented members.

use proofspan::beam::{Beam, Load, Support};
use proofspan::equivalent::*;
use proofspan::units::*;

fn near(value: f64, exact: f64) -> bool {
    (value - exact).abs() <= 1e-9 * exact.abs().max(1e-9)
}

/// A simple span of 8 m: 10 kN/m to be reached at mid-span (80 kN·m), 5 kN/m in place.
fn simple() -> (Beam, Reference) {
    let beam = Beam::simple(8.0 * M, 2e4 * KN_M2).unwrap();
    let on = |w: f64| vec![Load::uniform(0.0 * M, 8.0 * M, w * KN_PER_M)];
    let terms = vec![("load".to_owned(), on(10.0))];
    let reference = Reference::of_loads(&beam, terms, on(5.0), Some((2.0 * M, 6.0 * M))).unwrap();
    (beam, reference)
}

fn middle() -> Requirement {
    Requirement::reach_at(Effect::Moment, vec![4.0 * M])
}

/// The answer with one jack at mid-span: P = 40 kN where nothing else is asked.
fn with(limit: Requirement) -> Answer {
    let (beam, reference) = simple();
    let jack = [Candidate::jack(4.0 * M)];
    optimise(&beam, &reference, &jack, &[middle(), limit], &[Objective::total()]).unwrap()
}

fn met(limit: Requirement) {
    let answer = with(limit);
    let found = answer.optimum().unwrap();
    assert!(near(found.forces[0].0.to(KN), 40.0), "{:?}", found.forces);
    assert!(found.confirmation.violation <= 0.0);
}

/// The limit cannot be met; the answer is by how much it would have to give.
fn gives(limit: Requirement) -> f64 {
    let Answer::Conflict(conflict) = with(limit) else { panic!("the limit can be met") };
    assert_eq!(conflict.requirements.len(), 2, "{}", conflict.words());
    assert!(conflict.certificate.bound > 0.0);
    conflict.relaxations.iter().find(|r| !r.what.contains("reached")).unwrap().by.unwrap()
}

fn moment(sagging: f64, share: f64) -> Requirement {
    Requirement::MomentLimit(MomentLimit {
        of: "cracking".to_owned(),
        sagging: Some(sagging * KN_M),
        hogging: Some(10.0 * KN_M),
        share,
        from: None,
        to: None,
    })
}

#[test]
fn a_share_of_cracking_counts_what_is_in_place() {
    // in place 5 · 8²/8 = 40, the jack 40 · 8/4 = 80: 120 kN·m in all
    met(moment(130.0, 0.93));
    assert!(near(gives(moment(130.0, 0.9)), 120.0 / 117.0 - 1.0));
    // hogging nowhere: that face does not matter
    met(moment(200.0, 0.7));
}

#[test]
fn shear_strength_deflection_and_reactions() {
    let shear = |strength: f64, share: f64| {
        let strength = strength * KN;
        Requirement::ShearLimit(ShearLimit { strength, share, from: None, to: None })
    };
    // at the support 5 · 4 + 40/2 = 40 kN
    met(shear(50.0, 0.81));
    assert!(near(gives(shear(45.0, 0.8)), 40.0 / 36.0 - 1.0));
    let deflection = |mm: f64| {
        let down = Some(mm * MM);
        Requirement::DeflectionLimit(DeflectionLimit { down, up: None, from: None, to: None })
    };
    // P L³/(48 EI) = 40 · 512/(48 · 20000) m, without what is in place
    let exact = 40.0 * 512.0 / (48.0 * 20_000.0) * 1e3;
    met(deflection(exact * 1.001));
    assert!(near(gives(deflection(20.0)), exact / 20.0 - 1.0));
    let reaction = |most: f64| {
        let at_most = Some(most * KN);
        Requirement::ReactionLimit(ReactionLimit { support: 1, at_least: None, at_most })
    };
    met(reaction(40.1));
    // N by which the limit gives
    assert!(near(gives(reaction(38.0)), 2000.0));
}

#[test]
fn moment_over_shear_in_a_window() {
    let span = |least: Option<f64>, most: Option<f64>, basis| {
        Requirement::ShearSpan(ShearSpan {
            at_least: least.map(|v| v * M),
            at_most: most.map(|v| v * M),
            basis,
            from: Some(1.0 * M),
            to: Some(2.0 * M),
        })
    };
    // net, left of the jack: M/V = x, so from 1 to 2 m whatever the force
    met(span(Some(0.99), Some(2.01), BasisWord::Net));
    assert!(gives(span(None, Some(1.5), BasisWord::Net)) > 0.0);
    assert!(gives(span(Some(1.2), None, BasisWord::Net)) > 0.0);
    // total at 2 m: M = 20 · 2 − 2.5 · 4 + 20 · 2 = 70, V = 20 − 10 + 20 = 30: 7/3 m
    met(span(None, Some(7.0 / 3.0 + 1e-6), BasisWord::Total));
    // (30 + P)/(10 + P/2) falls to 2 m as P grows: a little less than 7/3 asks for a larger force
    let answer = with(span(None, Some(2.3), BasisWord::Total));
    let found = answer.optimum().unwrap();
    assert!(
        near(found.forces[0].0.to(KN), (30.0 - 23.0) / (2.3 / 2.0 - 1.0)),
        "{:?}",
        found.forces
    );
    assert!(found.confirmation.violation <= 0.0);
    // below 2 m no force helps: the window alone contradicts what is in place
    let Answer::Conflict(conflict) = with(span(None, Some(1.99), BasisWord::Total)) else {
        panic!()
    };
    assert_eq!(conflict.requirements.len(), 1, "{}", conflict.words());
}

#[test]
fn uplift_is_made_small() {
    // spans of 8 and 6 m, nothing in place; jack at 4 m: M_B = −4 · 48/224 P, R_C = M_B/6
    let supports = [0.0, 8.0, 14.0].map(|x| Support::bearing(x * M)).to_vec();
    let beam = Beam::new(14.0 * M, supports, vec![(0.0 * M, 2e4 * KN_M2)]).unwrap();
    let load = vec![Load::uniform(0.0 * M, 8.0 * M, 10.0 * KN_PER_M)];
    let reference =
        Reference::of_loads(&beam, vec![("load".to_owned(), load)], vec![], None).unwrap();
    let asked = [Requirement::reach_at(Effect::Moment, vec![4.0 * M])];
    let asks =
        reference.terms()[0].1.moment(4.0 * M, proofspan::beam::Side::Left).unwrap().to(KN_M);
    let one = [Candidate::jack(4.0 * M)];
    let answer = optimise(&beam, &reference, &one, &asked, &[Objective::uplift()]).unwrap();
    let found = answer.optimum().unwrap();
    let m_b = 4.0 * 48.0 / 224.0;
    let force = asks / (2.0 - m_b / 2.0);
    assert!(near(found.forces[0].0.to(KN), force), "{:?} {force}", found.forces);
    assert!(near(found.objectives[0], force * 1e3 * m_b / 6.0), "{:?}", found.objectives);
    // a second jack over the other span holds it down
    let two = [Candidate::jack(4.0 * M), Candidate::jack(11.0 * M)];
    let objectives = [Objective::uplift(), Objective::total()];
    let answer = optimise(&beam, &reference, &two, &asked, &objectives).unwrap();
    let found = answer.optimum().unwrap();
    assert!(found.objectives[0].abs() < 1e-3, "{:?}", found.objectives);
    assert!(found.response.reactions()[2].force.to(KN) > -1e-6);
}

#[test]
fn given_loads_stacks_and_basins() {
    let (beam, reference) = simple();
    // 2 kN/m are there in any case: 16 of the 80 kN·m
    let carriers = [Candidate::given(0.0 * M, 8.0 * M, 2.0 * KN_PER_M), Candidate::jack(4.0 * M)];
    let answer =
        optimise(&beam, &reference, &carriers, &[middle()], &[Objective::total()]).unwrap();
    let found = answer.optimum().unwrap();
    assert!(near(found.forces[0].0.to(KN), 16.0) && near(found.forces[1].0.to(KN), 32.0));
    // in a search it is there in any case and not counted
    let requirements = [middle()];
    let stage = Stage { name: "test", reference: &reference, requirements: &requirements };
    let carriers = [carriers.to_vec(), vec![Candidate::jack(2.0 * M)]].concat();
    let searched =
        search(&beam, &[stage], &carriers, 2, None, &[Objective::carriers(), Objective::total()])
            .unwrap();
    let best = searched.best.unwrap();
    assert_eq!((best.number, best.candidates.clone()), (1, vec![0, 1]));
    // water: 9.81 kN/m³ on 2 m of width, at most 0.3 m deep
    let weight = 9810.0 * N_PER_M3;
    let basin = Candidate::filled(0.0 * M, 8.0 * M, 2.0 * M, weight, (0.05 * M, 0.3 * M)).unwrap();
    assert!(near(basin.capacity.unwrap().to(KN), 9.81 * 0.3 * 16.0));
    assert!(near(basin.at_least.unwrap().to(KN), 9.81 * 0.05 * 16.0));
    // 5.886 kN/m at most: not enough for 10 kN/m
    let answer = optimise(&beam, &reference, &[basin], &[middle()], &[Objective::total()]).unwrap();
    assert!(answer.optimum().is_none());
    // blocks on 2 m of width, from 3 m to 5 m
    let stack =
        Candidate::stacked(3.0 * M, 5.0 * M, 2.0 * M, 1.0 * KPA_LOAD, 30.0 * KPA_LOAD).unwrap();
    let answer = optimise(&beam, &reference, &[stack], &[middle()], &[Objective::total()]).unwrap();
    let found = answer.optimum().unwrap();
    // F on 2 m about the middle: M = F/2 · 4 − F/2 · 0.5 = 1.75 F
    assert!(near(found.forces[0].0.to(KN), 80.0 / 1.75), "{:?}", found.forces);
}

#[test]
fn one_case_alone_is_said() {
    let beam = Beam::simple(8.0 * M, 2e4 * KN_M2).unwrap();
    let on = |w: f64| vec![Load::uniform(0.0 * M, 8.0 * M, w * KN_PER_M)];
    let terms = vec![("light".to_owned(), on(5.0)), ("heavy".to_owned(), on(10.0))];
    let reference = Reference::of_loads(&beam, terms, vec![], None).unwrap();
    let alone = |case: &str| {
        Requirement::Reach(Reach {
            effect: Effect::Moment,
            from: None,
            to: None,
            at: vec![4.0 * M],
            case: Some(case.to_owned()),
            sense: None,
        })
    };
    let jack = [Candidate::jack(4.0 * M)];
    for (case, force) in [("light", 20.0), ("heavy", 40.0)] {
        let answer =
            optimise(&beam, &reference, &jack, &[alone(case)], &[Objective::total()]).unwrap();
        let found = answer.optimum().unwrap();
        assert!(near(found.forces[0].0.to(KN), force));
        assert!(found.certificates[0].rows[0].what.contains(&format!("term {case}")));
    }
    let error =
        optimise(&beam, &reference, &jack, &[alone("none")], &[Objective::total()]).unwrap_err();
    assert_eq!(error.issues[0].slug.code(), "equivalent.requirement");
}

#[test]
fn shear_falls_at_the_edge_of_the_plate() {
    // shear asked up to 2 m; the jack at 2 m on a plate of 0.4 m begins to fall at 1.8 m
    let (beam, reference) = simple();
    let asked = [Requirement::reach(Effect::Shear, 0.0 * M, 2.0 * M)];
    let point = [Candidate::jack(2.0 * M)];
    let answer = optimise(&beam, &reference, &point, &asked, &[Objective::total()]).unwrap();
    assert!(answer.optimum().is_some());
    // under the plate the shear falls by P over 0.4 m: at 2 m half of it is gone, 1.5 P/2 − …
    let plate = [Candidate::jack(2.0 * M).on_plate(0.4 * M)];
    let answer = optimise(&beam, &reference, &plate, &asked, &[Objective::total()]).unwrap();
    let found = answer.optimum().unwrap();
    // V(2) = 0.75 P − P/2 = 0.25 P must be 20 kN: 80 kN in place of 53.333 kN
    assert!(near(found.forces[0].0.to(KN), 80.0), "{:?}", found.forces);
    let beyond = [Candidate::jack(2.2 * M).on_plate(0.4 * M)];
    let answer = optimise(&beam, &reference, &beyond, &asked, &[Objective::total()]).unwrap();
    assert!(near(answer.optimum().unwrap().forces[0].0.to(KN), 40.0 / (5.8 / 8.0)));
}

/// Forces whose moment touches the reference at one place, wherever that is, are no violation; a
/// hundred-millionth less is.
#[test]
fn a_test_moment_that_touches_the_reference_is_met() {
    let (beam, reference) = simple();
    let jacks = [Candidate::jack(3.0 * M), Candidate::jack(5.0 * M)];
    let asked = [Requirement::reach(Effect::Moment, 3.0 * M, 5.0 * M)];
    for i in 0..400 {
        // the tangent at x of 5 x (8 − x) kN·m: M(s) = (R − P₁) s + 3 P₁ between the jacks
        let x = 3.3 + 0.003_5 * f64::from(i);
        let slope = 40.0 - 10.0 * x;
        let one = (5.0 * x * (8.0 - x) - slope * x) / 3.0;
        let two = one + slope * 8.0 / 3.0;
        let violation = |k: f64| {
            let forces = [one, two].map(|f| Net(f * k * KN));
            confirm(&beam, &reference, &asked, &jacks, &forces).unwrap().violation
        };
        assert!(violation(1.0) <= 0.0, "{x}: {}", violation(1.0));
        assert!(violation(1.0 - 5e-10) <= 0.0, "{x}: {}", violation(1.0 - 5e-10));
        assert!(violation(1.0 - 1e-8) > 0.9e-8, "{x}: {}", violation(1.0 - 1e-8));
    }
}

/// The verifier finds what is wrong with forces of any origin, where, and by how much.
#[test]
fn wrong_forces_are_found_out() {
    let (beam, reference) = simple();
    let jacks = [Candidate::jack(3.0 * M), Candidate::jack(5.0 * M).up_to(20.0 * KN)];
    let check = |requirement: Requirement, forces: [f64; 2]| {
        let forces = forces.map(|f| Net(f * KN));
        confirm(
            &beam,
            &reference,
            &[Requirement::reach_at(Effect::Moment, vec![0.5 * M]), requirement],
            &jacks,
            &forces,
        )
        .unwrap()
        .each
        .swap_remove(1)
    };
    // equal forces of P: 3 P at mid-span for 80 kN·m; between the jacks level, so mid-span is worst
    let whole = || Requirement::reach(Effect::Moment, 2.9 * M, 5.1 * M);
    let short = check(whole(), [26.0, 26.0]);
    assert!(near(short.amount.si, 2e3) && near(short.violation, 2.0 / 80.0), "{short:?}");
    assert!((short.at.unwrap().to(M) - 4.0).abs() < 1e-3, "{short:?}");
    // at the left jack the reference is 75 kN·m, and 3 · 26 = 78: only the middle is short
    assert!(
        check(Requirement::reach(Effect::Moment, 2.9 * M, 3.2 * M), [26.0, 26.0]).violation <= 0.0
    );
    // the same where one sign only is asked
    let sagging = check(whole().in_sense(Sense::Sagging), [26.0, 26.0]);
    assert!(near(sagging.amount.si, 2e3), "{sagging:?}");
    let shear = check(Requirement::reach(Effect::Shear, 0.0 * M, 3.0 * M), [30.0, 30.0]);
    // V(0) is 40 kN
    assert!(near(shear.amount.si, 10e3) && shear.at.unwrap().to(M) < 1e-6, "{shear:?}");
    // a cap in either sign: the test sags 90 where 80 are asked; right of the jacks −30 against −40
    let over = check(
        Requirement::within(Effect::Moment, BasisWord::Net, 1.1, 3.0 * M, 5.0 * M),
        [30.0, 30.0],
    );
    // the reference is 75 at the jacks: 90 − 82.5
    assert!(near(over.amount.si, 7.5e3), "{over:?}");
    let total = check(
        Requirement::within(Effect::Moment, BasisWord::Total, 1.1, 3.0 * M, 5.0 * M),
        [30.0, 30.0],
    );
    // in place 37.5 there: 127.5 − 1.1 · 112.5
    assert!(near(total.amount.si, 3.75e3), "{total:?}");
    let negative = check(
        Requirement::within(Effect::Shear, BasisWord::Net, 1.0, 5.5 * M, 8.0 * M),
        [50.0, 50.0],
    );
    // −50 kN right of the jacks, −15 asked at 5.5 m
    assert!(near(negative.amount.si, 35e3), "{negative:?}");
    let cracked = check(moment(120.0, 1.0), [30.0, 30.0]);
    // 40 in place and 90 at mid-span
    assert!(near(cracked.amount.si, 10e3), "{cracked:?}");
    let deflection = DeflectionLimit { down: Some(1.0 * MM), up: None, from: None, to: None };
    let deflected = check(Requirement::DeflectionLimit(deflection), [30.0, 30.0]);
    // P a (3 L² − 4 a²)/(24 EI) for two forces
    let exact = 30.0 * 3.0 * (3.0 * 64.0 - 36.0) / (24.0 * 20_000.0);
    assert!(near(deflected.amount.si, exact - 1e-3), "{deflected:?} {exact}");
    let most = ReactionLimit { support: 0, at_least: None, at_most: Some(45.0 * KN) };
    let pressed = check(Requirement::ReactionLimit(most), [30.0, 30.0]);
    assert!(near(pressed.amount.si, 5e3), "{pressed:?}");
    let window = ShearSpan {
        at_least: None,
        at_most: Some(2.5 * M),
        basis: BasisWord::Net,
        from: Some(1.0 * M),
        to: Some(2.9 * M),
    };
    let span = check(Requirement::ShearSpan(window), [30.0, 30.0]);
    // M − 2.5 V = 30 (x − 2.5) at 2.9 m
    assert!(near(span.amount.si, 12e3), "{span:?}");
    // capacities come after the requirements; forces that are none are refused
    let forces = [Net(30.0 * KN), Net(30.0 * KN)];
    let asked = [whole()];
    let all = confirm(&beam, &reference, &asked, &jacks, &forces).unwrap();
    let last = all.each.last().unwrap();
    assert!(last.requirement == 2 && near(last.violation, 0.5) && near(last.amount.si, 10e3));
    assert!(near(all.violation, 0.5));
    let error = confirm(&beam, &reference, &asked, &jacks, &[Net(-1.0 * KN)]).unwrap_err();
    assert_eq!(error.codes(), ["equivalent.candidate", "equivalent.force-negative"]);
}
