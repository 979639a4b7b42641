//! Laws of whole documents: units change no result, JSON loses no bit, mirror and scale hold.

use proofspan::units::*;
use proofspan::{TestDesign, TestSpec, design};
use proptest::prelude::*;
use serde_json::{Value, json};

/// A member and its test by plain numbers: m, kPa, kN, GPa, m^4.
#[derive(Clone, Debug)]
struct Numbers {
    span: f64,
    width: f64,
    dead: f64,
    live: f64,
    taper: f64,
    taper_to: f64,
    region: f64,
    modulus: f64,
    inertia: f64,
    weight: f64,
    bore: f64,
}

fn numbers() -> impl Strategy<Value = Numbers> {
    (
        (4.0..20.0f64, 0.5..4.0f64, 2.0..8.0f64, 3.0..10.0f64, 0.5..3.0f64, 0.1..0.9f64),
        (0.15..0.3f64, 20.0..40.0f64, 1e-4..1e-2f64, 10.0..200.0f64, 60.0..150.0f64),
    )
        .prop_map(
            |((span, width, dead, live, taper, to), (region, modulus, inertia, weight, bore))| {
                let taper_to = to * span;
                Numbers {
                    span,
                    width,
                    dead,
                    live,
                    taper,
                    taper_to,
                    region: region * span,
                    modulus,
                    inertia,
                    weight,
                    bore,
                }
            },
        )
}

/// Text of an SI value in one of the units of its kind.
fn text(kind: Kind, si: f64, us: bool) -> String {
    let system = if us { System::Us } else { System::Si };
    let row = kind.usual(system);
    format!("{:?} {}", row.from_si(si), row.symbol)
}

/// The document, in SI or US units, from the left or mirrored, with every load times `k`.
fn document(n: &Numbers, us: bool, mirrored: bool, k: f64) -> Value {
    let q = |kind, si: f64| Value::from(text(kind, si, us));
    let length = |x: f64| q(Kind::Length, x);
    let place = |x: f64| length(if mirrored { n.span - x } else { x });
    let (from, to) = if mirrored { (n.span - n.region, n.span) } else { (0.0, n.region) };
    let area = |v: f64| q(Kind::AreaLoad, v * 1e3 * k);
    json!({
        "schema_version": 1,
        "title": "Law",
        "about": "Invented numbers.",
        "scope": {
            "member": { "id": "B1", "kind": "beam", "unit": "beam" },
            "doubt": { "mode": "shear", "from": length(from), "to": length(to) },
        },
        "beam": {
            "kind": "simple", "span": length(n.span), "depth": length(n.span / 20.0),
            "soft": { "modulus": q(Kind::Stress, n.modulus * 1e9), "second_moment": q(Kind::SecondMoment, n.inertia) },
            "stiff": { "modulus": q(Kind::Stress, n.modulus * 1e9), "second_moment": q(Kind::SecondMoment, 2.0 * n.inertia) },
        },
        "loads": {
            "width": length(n.width),
            "actions": [
                { "action": "self_weight", "area": area(n.dead), "in_place": 1 },
                { "action": "live", "area": area(n.live), "occupancy": "other" },
                { "action": "snow", "taper": { "peak": area(n.taper), "at": place(0.0), "zero_at": place(n.taper_to) } },
            ],
        },
        "edition": { "id": "ACI 437.2-13" },
        "layout": { "carrier": { "kind": "jack_line", "at": place(n.region) }, "ends": "seated" },
        "rig": {
            "reaction": {
                "id": "B2", "span": length(n.span), "self_weight": q(Kind::LineLoad, n.dead * n.width * 1e3), "seat": "seated",
                "rigidity": { "modulus": q(Kind::Stress, n.modulus * 1e9), "second_moment": q(Kind::SecondMoment, n.inertia) },
            },
            "counterweights": [ { "force": q(Kind::Force, n.weight * 1e3), "at": place(n.region) } ],
            "jacks": { "number": 1, "piston": { "bore": length(n.bore / 1e3) }, "friction": "2 %", "rated_pressure": q(Kind::Pressure, 7e7), "stroke": length(0.15) },
        },
        "shoring": {
            "drive": "locked_off_jacks", "to_ground": true, "reading_uncertainty": length(1e-3),
            "catch": { "at": place(n.span * 0.6), "stiffness": q(Kind::SpringStiffness, 3e7), "gap": length(0.02),
                "resistance": { "posts": 4, "characteristic": q(Kind::Force, 1e5), "rated": q(Kind::Force, 8e4) } },
        },
        "protocol": { "gauges": [ { "id": "mid", "at": place(n.span / 2.0), "range": length(0.05) } ] },
    })
}

fn designed(document: &Value) -> TestDesign {
    design(TestSpec::from_json(&document.to_string()).unwrap()).unwrap()
}

/// The numbers of a design that must not depend on units: SI.
fn results(d: &TestDesign) -> Vec<f64> {
    let mut all = vec![d.force().0.si(), d.shoring.force.si(), d.rig.hydraulics[0].pressure.si()];
    all.extend(d.layout.overshoots.iter().map(|o| o.ratio.value()));
    all.extend(d.rig.bearings.iter().filter_map(|b| b.factor));
    all.extend(d.shoring.catches.iter().filter_map(|c| c.gap_high).map(|g| g.si()));
    // what a gauge shows at full load, stopped or not
    all.extend(
        d.spec
            .protocol
            .gauges
            .iter()
            .map(|g| d.layout.response.deflection(g.at.value).unwrap().si()),
    );
    all.extend(d.schedule().into_iter().flat_map(|s| s.steps.iter().map(|s| s.force.0.si())));
    all
}

fn close(a: &[f64], b: &[f64], tolerance: f64) -> bool {
    a.len() == b.len()
        && a.iter().zip(b).all(|(a, b)| (a - b).abs() <= tolerance * a.abs().max(b.abs()).max(1e-9))
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// The same member in metres and kilopascals, in feet and psf.
    #[test]
    fn units_change_no_result(n in numbers()) {
        let (si, us) = (designed(&document(&n, false, false, 1.0)), designed(&document(&n, true, false, 1.0)));
        prop_assert!(close(&results(&si), &results(&us), 1e-9), "{:?} {:?}", results(&si), results(&us));
        let states = |d: &TestDesign| d.verdicts().map(|v| v.1.slug.code()).collect::<Vec<_>>();
        prop_assert_eq!(states(&si), states(&us));
    }

    /// What is written reads back to the same bits, and designs the same test.
    #[test]
    fn json_loses_no_bit(n in numbers(), us in any::<bool>()) {
        let first = TestSpec::from_json(&document(&n, us, false, 1.0).to_string()).unwrap();
        let written = first.to_json();
        let second = TestSpec::from_json(&written).unwrap();
        prop_assert_eq!(&second, &first);
        prop_assert_eq!(second.to_json(), written);
        prop_assert_eq!(second.fingerprint(), first.fingerprint());
        let (a, b) = (design(first).unwrap(), design(second).unwrap());
        prop_assert_eq!(results(&a).iter().map(|v| v.to_bits()).collect::<Vec<_>>(), results(&b).iter().map(|v| v.to_bits()).collect::<Vec<_>>());
    }

    /// Looked at from the other side, the same force; the bearings change places.
    #[test]
    fn mirrored(n in numbers()) {
        let (a, b) = (designed(&document(&n, false, false, 1.0)), designed(&document(&n, false, true, 1.0)));
        prop_assert!((a.force().0 / b.force().0 - 1.0).abs() < 1e-9);
        let factors = |d: &TestDesign| d.rig.bearings.iter().filter_map(|x| x.factor).collect::<Vec<_>>();
        let mut other = factors(&b);
        other.reverse();
        prop_assert!(close(&factors(&a), &other, 1e-9));
        prop_assert!((a.shoring.force / b.shoring.force - 1.0).abs() < 1e-9, "{} {}", a.shoring.force, b.shoring.force);
    }

    /// Every load times k: the force times k, the overshoots as they were.
    #[test]
    fn scaled(n in numbers(), k in 0.2..5.0f64) {
        let (a, b) = (designed(&document(&n, false, false, 1.0)), designed(&document(&n, false, false, k)));
        prop_assert!((b.force().0 / a.force().0 / k - 1.0).abs() < 1e-9);
        let over = |d: &TestDesign| d.layout.overshoots.iter().map(|o| o.ratio.value()).collect::<Vec<_>>();
        prop_assert!(close(&over(&a), &over(&b), 1e-9));
    }
}
