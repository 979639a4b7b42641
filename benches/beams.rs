//! How long are the exact actions of a beam, and how do they grow with the spans?

use divan::Bencher;
use proofspan::beam::{Beam, InfluenceOf, Load, Support};
use proofspan::units::*;

fn main() {
    divan::main();
}

/// Three segments: two point loads on a simple span; actions and extremes.
#[divan::bench]
fn beam_three_segments(bencher: Bencher<'_, '_>) {
    let beam = Beam::simple(9.0 * M, 1.2e5 * KN_M2).unwrap();
    let loads = [Load::point(3.5 * M, 50.0 * KN), Load::point(5.5 * M, 50.0 * KN)];
    bencher.bench_local(|| beam.response(&loads).unwrap());
}

#[divan::bench]
fn beam_three_segments_with_extremes(bencher: Bencher<'_, '_>) {
    let beam = Beam::simple(9.0 * M, 1.2e5 * KN_M2).unwrap();
    let loads = [Load::point(3.5 * M, 50.0 * KN), Load::point(5.5 * M, 50.0 * KN)];
    bencher.bench_local(|| {
        let actions = beam.response(&loads).unwrap();
        let end = beam.length();
        (
            actions.shear_extremes(0.0 * M, end),
            actions.moment_extremes(0.0 * M, end),
            actions.deflection_extremes(0.0 * M, end),
        )
    });
}

fn spans(n: u32) -> (Beam, Vec<Load>) {
    let length = |i: u32| f64::from(4 + (i * 7) % 5);
    let mut x = 0.0;
    let mut supports = vec![Support::bearing(0.0 * M)];
    let mut loads = Vec::new();
    for i in 0..n {
        loads.push(Load::uniform(
            x * M,
            (x + length(i)) * M,
            f64::from(3 + (i * 11) % 9) * KN_PER_M,
        ));
        x += length(i);
        supports.push(Support::bearing(x * M));
    }
    (Beam::new(x * M, supports, vec![(0.0 * M, 2e4 * KN_M2)]).unwrap(), loads)
}

/// Continuous spans: actions and the extremes of shear, moment and deflection.
#[divan::bench(args = [3, 10, 30, 100, 300])]
fn continuous_with_extremes(bencher: Bencher<'_, '_>, n: u32) {
    let (beam, loads) = spans(n);
    bencher.bench_local(|| {
        let actions = beam.response(&loads).unwrap();
        let end = beam.length();
        (
            actions.shear_extremes(0.0 * M, end),
            actions.moment_extremes(0.0 * M, end),
            actions.deflection_extremes(0.0 * M, end),
        )
    });
}

/// The same without the search for extremes.
#[divan::bench(args = [3, 100])]
fn continuous(bencher: Bencher<'_, '_>, n: u32) {
    let (beam, loads) = spans(n);
    bencher.bench_local(|| beam.response(&loads).unwrap());
}

/// One influence line and its worst partial loading, three spans.
#[divan::bench]
fn influence_three_spans(bencher: Bencher<'_, '_>) {
    let (beam, _) = spans(3);
    bencher.bench_local(|| {
        beam.influence(InfluenceOf::Shear(2.0 * M)).unwrap().worst(10.0 * KN_PER_M)
    });
}
