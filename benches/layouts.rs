//! How long does a certified layout take, and how does it grow with the candidates?

use divan::Bencher;
use proofspan::beam::{Beam, Load, Support};
use proofspan::equivalent::*;
use proofspan::units::*;

fn main() {
    divan::main();
}

/// A simple span of 8 m (invented) under 10 kN/m, sagging in doubt over its middle half.
fn simple() -> (Beam, Reference) {
    let beam = Beam::simple(8.0 * M, 2e4 * KN_M2).unwrap();
    let load = [Load::uniform(0.0 * M, 8.0 * M, 10.0 * KN_PER_M)];
    let [term, none] = beam.cases(&[&load, &[]]).unwrap().try_into().unwrap();
    let region = Some((2.0 * M, 6.0 * M));
    (beam, Reference::new(vec![("load".to_owned(), term)], none, region).unwrap())
}

/// Two spans (invented), live load in three patterns.
fn two_spans() -> (Beam, Reference) {
    let supports = [0.0, 8.0, 14.0].map(|x| Support::bearing(x * M)).to_vec();
    let beam = Beam::new(14.0 * M, supports, vec![(0.0 * M, 162_000.0 * KN_M2)]).unwrap();
    let on = |a: f64, b: f64| {
        let (first, second) = (a * KN_PER_M, b * KN_PER_M);
        vec![Load::uniform(0.0 * M, 8.0 * M, first), Load::uniform(8.0 * M, 14.0 * M, second)]
    };
    let loads = [on(34.6, 2.6), on(2.6, 34.6), on(34.6, 34.6), on(22.0, 22.0)];
    let cases: Vec<&[Load]> = loads.iter().map(Vec::as_slice).collect();
    let mut cases = beam.cases(&cases).unwrap();
    let in_place = cases.pop().unwrap();
    let names = ["A-B", "B-C", "both"].map(str::to_owned);
    let terms = names.into_iter().zip(cases).collect();
    (beam, Reference::new(terms, in_place, Some((2.5 * M, 4.5 * M))).unwrap())
}

fn candidates(n: u32, from: f64, to: f64) -> Vec<Candidate> {
    let step = (to - from) / f64::from(n + 1);
    (1..=n).map(|i| Candidate::jack((from + step * f64::from(i)) * M)).collect()
}

/// Least total force, one simple span: set up, solved, certified and confirmed.
#[divan::bench(args = [1, 2, 4, 10, 20, 40])]
fn simple_least_total(bencher: Bencher<'_, '_>, n: u32) {
    let (beam, reference) = simple();
    let jacks = candidates(n, 0.0, 8.0);
    let asked = [Requirement::reach(Effect::Moment, 2.0 * M, 6.0 * M)];
    let objectives = [Objective::total()];
    bencher.bench_local(|| optimise(&beam, &reference, &jacks, &asked, &objectives).unwrap());
}

/// Least peak force, two spans, three patterns.
#[divan::bench(args = [1, 2, 4, 10, 20, 40])]
fn two_spans_least_peak(bencher: Bencher<'_, '_>, n: u32) {
    let (beam, reference) = two_spans();
    let jacks = candidates(n, 0.0, 8.0);
    let asked = [Requirement::reach(Effect::Moment, 2.5 * M, 4.5 * M).in_sense(Sense::Positive)];
    let objectives = [Objective::peak()];
    bencher.bench_local(|| optimise(&beam, &reference, &jacks, &asked, &objectives).unwrap());
}

/// Least overshoot, two spans, three patterns.
#[divan::bench(args = [2, 4, 10, 20, 40])]
fn two_spans_least_overshoot(bencher: Bencher<'_, '_>, n: u32) {
    let (beam, reference) = two_spans();
    let jacks = candidates(n, 0.0, 8.0);
    let asked = [Requirement::reach(Effect::Moment, 2.5 * M, 4.5 * M).in_sense(Sense::Positive)];
    let objectives = [Objective::overshoot(Effect::Moment, BasisWord::Net)];
    bencher.bench_local(|| optimise(&beam, &reference, &jacks, &asked, &objectives).unwrap());
}

/// Every choice of up to so many of 40 places (10 700 choices at three), the best of each number
/// certified.
#[divan::bench(args = [1, 2, 3], sample_count = 10)]
fn search_40_places(bencher: Bencher<'_, '_>, most: usize) {
    let (beam, reference) = two_spans();
    let jacks = candidates(40, 0.0, 8.0);
    let asked = [Requirement::reach(Effect::Moment, 2.5 * M, 4.5 * M).in_sense(Sense::Positive)];
    let stage = Stage { name: "sagging", reference: &reference, requirements: &asked };
    let objectives = [Objective::overshoot(Effect::Moment, BasisWord::Net)];
    bencher.bench_local(|| search(&beam, &[stage], &jacks, most, None, &objectives).unwrap());
}
