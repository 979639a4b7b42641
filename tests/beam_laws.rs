//! Laws that every beam obeys.

use proofspan::beam::{Beam, Load, Response, Side};
use proofspan::units::*;
use proptest::prelude::*;

fn loads() -> impl Strategy<Value = Vec<(f64, f64, f64, f64)>> {
    prop::collection::vec((0.0..1.0f64, 0.0..1.0f64, -30.0..60.0f64, -30.0..60.0f64), 1..5)
}

/// Parts of the length as line loads (kN/m), the first as a point load (kN) too.
fn on(length: f64, parts: &[(f64, f64, f64, f64)], mirrored: bool) -> Vec<Load> {
    let mut out = Vec::new();
    for (i, (a, b, p, q)) in parts.iter().enumerate() {
        let (from, to) = (a.min(*b) * length, a.max(*b) * length);
        let place = |x: f64| if mirrored { length - x } else { x };
        if i == 0 {
            out.push(Load::point(place(from) * M, *p * KN));
        }
        let (p, q) = (*p * KN_PER_M, *q * KN_PER_M);
        out.push(if mirrored {
            Load::line(place(to) * M, place(from) * M, q, p)
        } else {
            Load::line(from * M, to * M, p, q)
        });
    }
    out
}

fn beam(length: f64, kind: u8, ei: f64) -> Beam {
    let (l, ei) = (length * M, ei * KN_M2);
    match kind {
        0 => Beam::simple(l, ei),
        1 => Beam::overhanging(l * 0.2, l * 0.6, l * 0.2, ei),
        2 => Beam::simple(l, ei).and_then(|b| b.with_ends(true, true)),
        _ => Beam::simple(l, ei).and_then(|b| b.with_ends(true, false)),
    }
    .unwrap()
}

fn size(response: &Response) -> f64 {
    let m = response.moment_extremes(0.0 * M, response.length()).unwrap();
    m.max.value.abs().max(m.min.value.abs()).si().max(1.0)
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// Reactions balance the loads; dM/dx = V and dV/dx = -q on every segment; the deflection fits the curvature.
    #[test]
    fn equilibrium(length in 2.0..30.0f64, kind in 0u8..4, parts in loads()) {
        let loads = on(length, &parts, false);
        let actions = beam(length, kind, 1e5).response(&loads).unwrap();
        let total: Force = loads.iter().map(|l| l.resultant()).sum();
        let up: Force = actions.reactions().iter().map(|r| r.force).sum();
        let scale = size(&actions);
        prop_assert!((total - up).abs().si() <= 1e-9 * scale);
        let end = actions.shear(length * M, Side::Left).unwrap() + actions.reactions().last().map_or(0.0 * N, |r| if r.at >= length * M { r.force } else { 0.0 * N });
        prop_assert!(end.abs().si() <= 1e-9 * scale + 1e-9 * total.abs().si(), "the far end carries nothing: {}", end);
        for s in actions.segments() {
            for part in [0.0, 0.3, 1.0] {
                let x = part * s.length;
                let near = |a: f64, b: f64, tolerance: f64| (a - b).abs() <= tolerance;
                prop_assert!(near(s.moment().derivative().at(x), s.shear().at(x), 1e-9 * scale));
                prop_assert!(near(s.shear().derivative().at(x), -s.load().at(x), 1e-9 * scale));
                prop_assert!(near(s.deflection().derivative().derivative().at(x) * s.ei, -s.moment().at(x), 1e-6 * scale));
            }
        }
    }

    /// The mirrored beam has the mirrored moment and deflection, and the opposite shear.
    #[test]
    fn mirror(length in 2.0..30.0f64, kind in 0u8..3, parts in loads(), x in 0.0..1.0f64) {
        let one = beam(length, kind, 1e5).response(&on(length, &parts, false)).unwrap();
        let other = beam(length, kind, 1e5).response(&on(length, &parts, true)).unwrap();
        let (a, b) = (x * length * M, (length - x * length) * M);
        let scale = size(&one);
        prop_assert!((one.moment(a, Side::Left).unwrap() - other.moment(b, Side::Right).unwrap()).abs().si() <= 1e-8 * scale);
        prop_assert!((one.shear(a, Side::Left).unwrap() + other.shear(b, Side::Right).unwrap()).abs().si() <= 1e-8 * scale);
        prop_assert!((one.deflection(a).unwrap() - other.deflection(b).unwrap()).abs().si() <= 1e-8 * scale * length * length / 1e8);
    }

    /// Two cases together are the sum of the two; twice the stiffness, half the deflection.
    #[test]
    fn superposition_and_stiffness(length in 2.0..30.0f64, kind in 0u8..4, p in loads(), q in loads(), x in 0.0..1.0f64) {
        let b = beam(length, kind, 1e5);
        let (lp, lq) = (on(length, &p, false), on(length, &q, false));
        let (ap, aq) = (b.response(&lp).unwrap(), b.response(&lq).unwrap());
        let both = b.response(&[lp.clone(), lq].concat()).unwrap();
        let sum = Response::combined(&[(1.0, &ap), (1.0, &aq)]).unwrap();
        let (at, scale) = (x * length * M, size(&ap) + size(&aq));
        prop_assert!((both.moment(at, Side::Left).unwrap() - sum.moment(at, Side::Left).unwrap()).abs().si() <= 1e-9 * scale);
        prop_assert!((both.shear(at, Side::Left).unwrap() - sum.shear(at, Side::Left).unwrap()).abs().si() <= 1e-8 * scale);
        let stiff = beam(length, kind, 2e5).response(&lp).unwrap();
        prop_assert!((stiff.deflection(at).unwrap() * 2.0 - ap.deflection(at).unwrap()).abs() <= 1e-9 * ap.deflection_extremes(0.0 * M, length * M).unwrap().max.value.abs().max(1e-9 * M) + 1e-12 * M * length);
    }

    /// No place of a fine grid is beyond the exact extremes.
    #[test]
    fn extremes_bound_a_fine_grid(length in 2.0..30.0f64, kind in 0u8..4, parts in loads()) {
        let actions = beam(length, kind, 1e5).response(&on(length, &parts, false)).unwrap();
        let (m, v) = (actions.moment_extremes(0.0 * M, length * M).unwrap(), actions.deflection_extremes(0.0 * M, length * M).unwrap());
        let scale = size(&actions);
        for i in 0..=400 {
            let x = length * f64::from(i) / 400.0 * M;
            let here = actions.moment(x, Side::Left).unwrap().si();
            prop_assert!(here <= m.max.value.si() + 1e-9 * scale && here >= m.min.value.si() - 1e-9 * scale);
            let w = actions.deflection(x).unwrap().si();
            prop_assert!(w <= v.max.value.si() + 1e-12 && w >= v.min.value.si() - 1e-12);
        }
    }
}

#[test]
fn what_cannot_be_a_beam_is_refused_all_at_once() {
    use proofspan::beam::{Restraint, Support};
    let codes = |length: f64, supports: Vec<Support>, ei: f64| {
        Beam::new(length * M, supports, vec![(0.0 * M, ei * KN_M2)]).unwrap_err().codes()
    };
    let at = |x: f64| Support::bearing(x * M);
    assert_eq!(
        codes(-1.0, vec![], 0.0),
        [
            "beam.length-nonpositive",
            "beam.rigidity-nonpositive",
            "beam.rigidity-nonpositive",
            "beam.mechanism"
        ]
    );
    assert_eq!(codes(6.0, vec![at(3.0)], 1.0), ["beam.mechanism"]);
    assert_eq!(codes(6.0, vec![at(3.0), at(3.0)], 1.0), ["beam.supports-coincide"]);
    assert_eq!(codes(6.0, vec![at(0.0), at(7.0)], 1.0), ["beam.support-outside"]);
    let spring = Support { vertical: Restraint::Spring(SpringStiffness::ZERO), ..at(6.0) };
    assert_eq!(codes(6.0, vec![at(0.0), spring], 1.0), ["beam.spring-nonpositive"]);
    let beam = Beam::simple(6.0 * M, 1.0 * KN_M2).unwrap();
    let loads = [
        Load::point(7.0 * M, 1.0 * KN),
        Load::point(1.0 * M, f64::NAN * KN),
        Load::uniform(3.0 * M, 2.0 * M, 1.0 * KN_PER_M),
    ];
    assert_eq!(
        beam.response(&loads).unwrap_err().codes(),
        ["beam.load-outside", "units.nonfinite", "beam.load-outside"]
    );
}
