//! What a layout does not show, where it endangers people, and what may be built otherwise: against
//! values by hand. Invented members.

use proofspan::beam::{Beam, Load, Response, Support};
use proofspan::equivalent::*;
use proofspan::units::*;
use proofspan::verdict::State;

fn near(value: f64, exact: f64) -> bool {
    (value - exact).abs() <= 1e-9 * exact.abs().max(1e-9)
}

fn uniform(from: f64, to: f64, w: f64) -> Load {
    Load::uniform(from * M, to * M, w * KN_PER_M)
}

/// A simple span of 8 m under 10 kN/m, nothing in place.
fn simple() -> (Beam, Reference) {
    let beam = Beam::simple(8.0 * M, 2e4 * KN_M2).unwrap();
    let terms = vec![("load".to_owned(), vec![uniform(0.0, 8.0, 10.0)])];
    let reference = Reference::of_loads(&beam, terms, vec![], Some((0.0 * M, 2.0 * M))).unwrap();
    (beam, reference)
}

/// Two spans, 8 m and 6 m, with loads on each for every term and in place.
fn two(terms: &[(f64, f64)], there: (f64, f64), region: (f64, f64)) -> (Beam, Reference) {
    let supports = [0.0, 8.0, 14.0].map(|x| Support::bearing(x * M)).to_vec();
    let beam = Beam::new(14.0 * M, supports, vec![(0.0 * M, 2e4 * KN_M2)]).unwrap();
    let on = |(a, b): (f64, f64)| vec![uniform(0.0, 8.0, a), uniform(8.0, 14.0, b)];
    let terms = terms.iter().enumerate().map(|(i, t)| (format!("t{i}"), on(*t))).collect();
    let region = Some((region.0 * M, region.1 * M));
    let reference = Reference::of_loads(&beam, terms, on(there), region).unwrap();
    (beam, reference)
}

fn optimum(
    beam: &Beam,
    reference: &Reference,
    jacks: &[Candidate],
    asked: &[Requirement],
) -> Optimum {
    let answer = optimise(beam, reference, jacks, asked, &[Objective::total()]).unwrap();
    answer.optimum().unwrap().clone()
}

/// Sagging is positive and hogging negative, for the verifier too: other signs are not asked, and what
/// is asked is asked in full, below 2 % of the largest as well.
#[test]
fn senses_by_either_name_are_one() {
    let pairs = [(Sense::Sagging, Sense::Positive), (Sense::Hogging, Sense::Negative)];
    let regions = [(6.34, 8.0), (2.0, 4.0), (7.0, 9.0)];
    let places = [3.0, 4.5, 11.0];
    let mut violated = 0;
    for loads in [&[(10.0, 10.0)][..], &[(10.0, 0.0), (0.0, 30.0)], &[(5.0, 40.0)]] {
        for (from, to) in regions {
            let (beam, reference) = two(loads, (0.0, 0.0), (from, to));
            for x in places {
                let jacks = [Candidate::jack(x * M)];
                for force in [1.0, 60.0, 400.0] {
                    for (a, b) in pairs {
                        let check = |sense: Sense| {
                            let reach = Requirement::reach(Effect::Moment, from * M, to * M);
                            let asked = [reach.in_sense(sense)];
                            let forces = [Net(force * KN)];
                            confirm(&beam, &reference, &asked, &jacks, &forces).map(|c| c.violation)
                        };
                        let (Ok(one), Ok(other)) = (check(a), check(b)) else { continue };
                        assert!(near(one, other), "{a:?} {one} {other}");
                        violated += usize::from(one > 0.0);
                    }
                }
            }
        }
    }
    assert!(violated > 10, "{violated}");
    // sagging next to the inner support, where the load in the far span makes none: M at 6.34 m is
    // 10·8·6.34/2 − 10·6.34²/2 − R·6.34 with R = 10·(8³ + 6³)/(8·14·8) from three moments
    let (beam, reference) = two(&[(10.0, 10.0)], (0.0, 0.0), (6.0, 8.0));
    let hogging_b = 10.0 * (512.0 + 216.0) / (8.0 * 14.0);
    let at = |x: f64| 10.0 * x * (8.0 - x) / 2.0 - hogging_b * x / 8.0;
    let asked = [Requirement::reach(Effect::Moment, 6.0 * M, 8.0 * M).in_sense(Sense::Sagging)];
    let far = [Candidate::jack(11.0 * M)];
    let found = confirm(&beam, &reference, &asked, &far, &[Net(400.0 * KN)]).unwrap();
    // a jack in the far span hogs: M_B = 400·3·3·(6 + 3)/(2·6·14) by three moments
    let own = -400.0 * 3.0 * 3.0 * 9.0 / (2.0 * 6.0 * 14.0) / 8.0;
    assert!(near(found.each[0].amount.si, (at(6.0) - own * 6.0) * 1e3), "{found:?}");
}

/// A jack near either bearing of a region in doubt, whatever the order of the requirements.
#[test]
fn every_bearing_of_every_region_is_looked_at() {
    let (beam, reference) = simple();
    let reach = |a: f64, b: f64| Requirement::reach(Effect::Shear, a * M, b * M);
    let look = |asked: &[Requirement], jacks: &[Candidate], depth: f64, bearing: f64| {
        let forces = vec![Net(60.0 * KN); jacks.len()];
        let loads: Vec<Load> = jacks.iter().flat_map(|j| j.loads(60.0 * KN)).collect();
        let test: Response = beam.response(&loads).unwrap();
        let depth = Some((depth * M, bearing * M));
        warnings(&beam, &reference, asked, (jacks, &forces), &test, depth)
    };
    let jacks = [Candidate::jack(2.0 * M), Candidate::jack(7.95 * M)];
    let (left, right) = (reach(0.0, 1.9), reach(7.96, 8.0));
    for asked in [[left.clone(), right.clone()], [right.clone(), left.clone()]] {
        let error = look(&asked, &jacks, 0.5, 0.0).unwrap_err();
        assert_eq!(error.codes(), ["equivalent.jack-near-support"]);
        assert!(error.to_string().contains("bearing B: not a test"), "{error}");
    }
    // the same jack is nothing to the left bearing
    let only = look(&[left], &jacks, 0.5, 0.2).unwrap().distance.unwrap();
    assert!(near(only.demand.si, (2.0 - 0.1) / 0.5) && only.state == State::Pass, "{only:?}");
    let ends = Requirement::reach_at(Effect::Shear, vec![0.0 * M, 8.0 * M]);
    let late = [Candidate::jack(2.0 * M), Candidate::jack(7.4 * M)];
    let found = look(&[ends], &late, 0.5, 0.0).unwrap();
    let distance = found.distance.unwrap();
    assert!(near(distance.demand.si, 1.2) && distance.state == State::NotMeaningful);
    let strut = found.notes.iter().find(|n| n.slug.code() == "equivalent.near-bearing").unwrap();
    assert!(strut.message.contains("40 % of the load"), "{}", strut.message);
    // water on the whole span is the load itself: it counts from its middle
    let basin = [Candidate::patch(0.0 * M, 8.0 * M)];
    let whole = look(&[reach(0.0, 8.0)], &basin, 0.5, 0.0).unwrap().distance.unwrap();
    assert!(near(whole.demand.si, 8.0), "{whole:?}");
    // an inner support: loads of the other span are not looked at
    let (beam, reference) = two(&[(10.0, 10.0)], (0.0, 0.0), (6.0, 8.0));
    let jacks = [Candidate::jack(6.5 * M), Candidate::jack(8.1 * M)];
    let forces = [Net(60.0 * KN); 2];
    let loads: Vec<Load> = jacks.iter().flat_map(|j| j.loads(60.0 * KN)).collect();
    let test = beam.response(&loads).unwrap();
    let (asked, depth) = ([reach(6.0, 8.0)], Some((0.5 * M, 0.0 * M)));
    let found = warnings(&beam, &reference, &asked, (&jacks, &forces), &test, depth).unwrap();
    assert!(near(found.distance.unwrap().demand.si, 3.0));
    let both = [reach(6.0, 10.0)];
    let error = warnings(&beam, &reference, &both, (&jacks, &forces), &test, depth).unwrap_err();
    assert_eq!(error.codes(), ["equivalent.jack-near-support"]);
    // depths that cannot be, both at once
    let (beam, reference) = simple();
    let depth = Some((0.0 * M, -3.0 * M));
    let error = warnings(&beam, &reference, &asked, (&jacks, &forces), &test, depth).unwrap_err();
    assert_eq!(error.codes(), ["equivalent.depth", "equivalent.depth"]);
}

/// A support that the test pulls up is said, with the amount; carriers on each other too.
#[test]
fn uplift_and_overlaps_are_said() {
    let (beam, reference) = two(&[(20.0, 0.0)], (1.0, 1.0), (2.0, 4.0));
    let jacks = [Candidate::jack(4.0 * M)];
    let notes = |jacks: &[Candidate], forces: &[Net<Force>]| {
        let loads: Vec<Load> = jacks.iter().zip(forces).flat_map(|(j, f)| j.loads(f.0)).collect();
        let test = beam.response(&loads).unwrap();
        let asked = [Requirement::reach(Effect::Moment, 2.0 * M, 4.0 * M)];
        warnings(&beam, &reference, &asked, (jacks, forces), &test, None).unwrap().notes
    };
    // M_B = −100·4·4·(8 + 4)/(2·8·14); R_C is that over 6 m. In place by three moments.
    let pulled = 100.0 * 16.0 * 12.0 / (2.0 * 8.0 * 14.0) / 6.0;
    let there = 3.0 - (512.0 + 216.0) / (8.0 * 14.0) / 6.0;
    let found = notes(&jacks, &[Net(100.0 * KN)]);
    let note = found.iter().find(|n| n.slug.code() == "equivalent.uplift").unwrap();
    let said = format!("pulls support C up by {:.3} kN", pulled - there);
    assert!(note.message.contains(&said), "{} {said}", note.message);
    let less = notes(&jacks, &[Net(100.0 * KN * (there / pulled) * 0.999)]);
    assert!(!less.iter().any(|n| n.slug.code() == "equivalent.uplift"));
    let plates = [4.0, 4.2].map(|x| Candidate::jack(x * M).on_plate(0.3 * M));
    let found = notes(&plates, &[Net(1.0 * KN); 2]);
    assert!(found.iter().any(|n| n.slug.code() == "equivalent.overlap"));
    let apart = [4.0, 4.3].map(|x| Candidate::jack(x * M).on_plate(0.3 * M));
    let found = notes(&apart, &[Net(1.0 * KN); 2]);
    assert!(!found.iter().any(|n| n.slug.code() == "equivalent.overlap"));
}

/// Sagging of a span is tested where the reference is largest, not where the test is.
#[test]
fn sagging_counts_where_it_is_asked_most() {
    let (beam, reference) = simple();
    let test = beam.response(&[Load::point(2.0 * M, 60.0 * KN)]).unwrap();
    let found = reached(&beam, &reference, &test);
    let sagging = found.iter().find(|r| r.what == "sagging in A-B").unwrap();
    // 60 of 80 kN·m in the middle, 90 under the jack
    assert!(near(sagging.net, 0.75) && sagging.state == State::NotApplicable, "{sagging:?}");
}

/// A support off its place takes the end of its span along: shear at A of P = 40·8/5.5 at 2.5 m.
#[test]
fn a_support_off_its_place() {
    let (beam, reference) = simple();
    let jack = [Candidate::jack(2.5 * M)];
    let asked = [Requirement::reach(Effect::Shear, 0.0 * M, 2.0 * M)];
    let forces = optimum(&beam, &reference, &jack, &asked).forces;
    assert!(near(forces[0].0.to(KN), 320.0 / 5.5));
    let d = 0.02;
    let deviations = Deviations { support: d * M, ..Deviations::none() };
    let found = as_built(&beam, &reference, &asked, &jack, &forces, &deviations).unwrap();
    assert_eq!(found.each.len(), 5);
    let one = |what: &str| {
        let own = found.each.iter().find(|e| e.what == what);
        own.unwrap_or_else(|| panic!("{what}: {:?}", found.each)).fidelity.value()
    };
    let p = 320.0 / 5.5;
    // V = P·(distance to B)/span against 10·span/2
    let ratio = |span: f64, to_b: f64| p * to_b / span / (5.0 * span);
    assert!(near(one("support A off by 20 mm"), ratio(8.0 - d, 5.5)));
    assert!(near(one("support A off by -20 mm"), ratio(8.0 + d, 5.5)));
    assert!(near(one("support B off by 20 mm"), ratio(8.0 + d, 5.5 + d)));
    assert!(near(one("support B off by -20 mm"), ratio(8.0 - d, 5.5 - d)));
    assert!(found.state == State::Inconclusive);
    assert!(near(found.raise.unwrap(), 1.0 / ratio(8.0 + d, 5.5)));
    // a basin on the whole span goes along and misses nothing but the length
    let basin = [Candidate::patch(0.0 * M, 8.0 * M)];
    let found =
        as_built(&beam, &reference, &asked, &basin, &[Net(80.0 * KN)], &deviations).unwrap();
    let worst = found.worst().unwrap().fidelity.value();
    assert!(near(worst, 8.0 / (8.0 + d)), "{worst}");
    // an inner support: a region up to it stays up to it
    let (beam, reference) = two(&[(10.0, 10.0)], (0.0, 0.0), (7.0, 8.0));
    let jacks = [Candidate::jack(4.0 * M), Candidate::jack(11.0 * M)];
    let asked = [Requirement::reach(Effect::Moment, 7.0 * M, 8.0 * M).in_sense(Sense::Hogging)];
    let forces = optimum(&beam, &reference, &jacks, &asked).forces;
    let found = as_built(&beam, &reference, &asked, &jacks, &forces, &deviations).unwrap();
    let inner: Vec<&Deviation> =
        found.each.iter().filter(|e| e.what.starts_with("support B")).collect();
    assert!(inner.len() == 2 && inner.iter().all(|e| (e.fidelity.value() - 1.0).abs() < 0.05));
}
