//! Lines of many spans: influence lines, patterns, contact, mechanisms, accuracy, laws of work.

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::{FromPrimitive, ToPrimitive, Zero};
use proofspan::beam::*;
use proofspan::units::*;
use proptest::prelude::*;
use serde_json::Value;

fn published(name: &str) -> Value {
    let path = format!("{}/tests/published/{name}.json", env!("CARGO_MANIFEST_DIR"));
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

fn number(value: &Value) -> f64 {
    let text = value.as_str().unwrap();
    match text.split_once('/') {
        Some((a, b)) => a.parse::<f64>().unwrap() / b.parse::<f64>().unwrap(),
        None => text.parse().unwrap(),
    }
}

fn spans(lengths: &[f64], ei: f64) -> Beam {
    let mut x = 0.0;
    let mut supports = vec![Support::bearing(0.0 * M)];
    for l in lengths {
        x += l;
        supports.push(Support::bearing(x * M));
    }
    Beam::new(x * M, supports, vec![(0.0 * M, ei * KN_M2)]).unwrap()
}

#[test]
fn influence_lines_of_the_table() {
    let mut checked = 0;
    for case in published("influence")["cases"].as_array().unwrap() {
        let model = &case["model"];
        let supports = model["supports"].as_array().unwrap().iter().map(|s| {
            let at = number(&s["x"]) * M;
            if s["type"] == "fixed" { Support::fixed(at) } else { Support::bearing(at) }
        });
        let length = number(&model["length"]) * M;
        let beam = Beam::new(length, supports.collect(), vec![(0.0 * M, 2e4 * KN_M2)]).unwrap();
        let effect = &case["effect"];
        let at = || number(&effect["x"]) * M;
        let response = match effect["kind"].as_str().unwrap() {
            "moment" => InfluenceOf::Moment(at()),
            "shear" => InfluenceOf::Shear(at()),
            "reaction" => InfluenceOf::Reaction(effect["support"].as_u64().unwrap() as usize),
            other => panic!("{other}"),
        };
        let line = beam.influence(response).unwrap();
        for ordinate in case["ordinates"].as_array().unwrap() {
            let x = number(&ordinate["load_x"]) * M;
            let (got, exact) =
                (line.at(x, Side::Left).unwrap(), ordinate["value"].as_f64().unwrap());
            assert!((got - exact).abs() < 1e-12, "{} at {x}: {got} {exact}", case["id"]);
            checked += 1;
        }
    }
    assert!(checked > 45);
}

/// The influence line and the direct solution are two ways to one number.
#[test]
fn influence_times_load_is_the_effect() {
    let beam = spans(&[5.0, 7.0, 4.0], 3e4).with_shear(vec![(0.0 * M, 5e5 * KN)]).unwrap();
    let loads = [
        Load::line(1.0 * M, 9.0 * M, 4.0 * KN_PER_M, 11.0 * KN_PER_M),
        Load::point(13.0 * M, 30.0 * KN),
        Load::moment(6.0 * M, 8.0 * KN_M),
    ];
    let direct = beam.response(&loads).unwrap();
    for x in [0.7, 2.5, 8.0, 11.0, 15.0] {
        let x = x * M;
        let pairs = [
            (InfluenceOf::Moment(x), direct.moment(x, Side::Left).unwrap().si()),
            (InfluenceOf::Shear(x), direct.shear(x, Side::Left).unwrap().si()),
            (InfluenceOf::Deflection(x), direct.deflection(x).unwrap().si()),
        ];
        for (response, value) in pairs {
            let found = beam.influence(response).unwrap().response(&loads).unwrap().si;
            assert!(
                (found - value).abs() < 1e-9 * value.abs().max(1e-3),
                "{response:?}: {found} {value}"
            );
        }
    }
    for (i, reaction) in direct.reactions().iter().enumerate() {
        let found = beam.influence(InfluenceOf::Reaction(i)).unwrap().response(&loads).unwrap().si;
        assert!(
            (found - reaction.force.si()).abs() < 1e-9 * 1e5,
            "{i}: {found} {}",
            reaction.force
        );
    }
    assert_eq!(
        beam.influence(InfluenceOf::Reaction(9)).unwrap_err().codes(),
        ["beam.support-outside"]
    );
    assert_eq!(
        beam.influence(InfluenceOf::Moment(99.0 * M)).unwrap_err().codes(),
        ["beam.place-outside"]
    );
}

#[test]
fn patterns_of_the_table() {
    for case in published("patterns")["cases"].as_array().unwrap() {
        let lengths: Vec<f64> = case["spans"].as_array().unwrap().iter().map(number).collect();
        let beam = spans(&lengths, 2e4);
        let (g, q) = (number(&case["dead"]) * KN_PER_M, number(&case["live"]) * KN_PER_M);
        let dead = beam.response(&[Load::uniform(0.0 * M, beam.length(), g)]).unwrap();
        let live: Vec<Response> = beam
            .spans()
            .iter()
            .map(|(a, b)| beam.response(&[Load::uniform(*a, *b, q)]).unwrap())
            .collect();
        for result in case["results"].as_array().unwrap() {
            let effect = result["effect"].as_str().unwrap();
            let x = match effect.split_once("x = ") {
                Some((_, x)) => number(&Value::from(x.split(' ').next().unwrap())),
                None => lengths[0],
            } * M;
            let of = |response: &Response| match effect.chars().next().unwrap() {
                'M' => actions.moment(x, Side::Left).unwrap().to(KN_M),
                'V' if effect.contains("left") => actions.shear(x, Side::Left).unwrap().to(KN),
                'V' => actions.shear(x, Side::Right).unwrap().to(KN),
                _ => actions
                    .reactions()
                    .iter()
                    .find(|r| (r.at - x).abs() < 1e-9 * M)
                    .unwrap()
                    .force
                    .to(KN),
            };
            let parts: Vec<f64> = live.iter().map(&of).collect();
            let (max, min) = worst_patterns(&parts);
            let (sum, pattern) = if result["extreme"] == "max" { max } else { min };
            let exact = result["value"].as_f64().unwrap();
            assert!(
                (of(&dead) + sum - exact).abs() < 1e-10 * exact.abs().max(1.0),
                "{} {effect}",
                case["id"]
            );
            let digits: String =
                pattern.loaded.iter().map(|on| if *on { '1' } else { '0' }).collect();
            assert_eq!(digits, result["pattern"].as_str().unwrap(), "{} {effect}", case["id"]);
        }
    }
}

#[test]
fn usual_patterns_hold_the_worst_of_all() {
    let lengths = [5.0, 7.0, 6.0, 4.0, 6.5];
    let beam = spans(&lengths, 2e4);
    let q = Load::uniform(0.0 * M, beam.length(), 9.0 * KN_PER_M);
    let case = |pattern: &Pattern| beam.response(&beam.patterned(pattern, &[q]).unwrap()).unwrap();
    let usual = Envelope::of(usual_patterns(5).unwrap().iter().map(case).collect()).unwrap();
    let every: Vec<Response> = (0..32_u32)
        .map(|mask| case(&Pattern { loaded: (0..5).map(|i| mask >> i & 1 == 1).collect() }))
        .collect();
    let every = Envelope::of(every).unwrap();
    let middles = beam.spans().into_iter().map(|(a, b)| (a + b) / 2.0);
    for x in middles.chain(beam.supports().iter().map(|s| s.at)) {
        let (usual, every) = (
            usual.at(By::Moment, x, Side::Left).unwrap(),
            every.at(By::Moment, x, Side::Left).unwrap(),
        );
        assert!((usual.max.value - every.max.value).abs() < 1e-6, "largest at {x}");
        assert!((usual.min.value - every.min.value).abs() < 1e-6, "smallest at {x}");
    }
    let words: Vec<String> = usual_patterns(3).unwrap().iter().map(Pattern::words).collect();
    assert_eq!(
        words,
        [
            "all spans",
            "spans 1, 3",
            "span 2",
            "spans 1, 2",
            "span 3",
            "spans 2, 3",
            "span 1",
            "no span"
        ]
    );
}

/// Part-span loading beats whole spans for a shear inside a span, and nothing on a fine grid beats it.
#[test]
fn worst_partial_loading() {
    let beam = spans(&[6.0, 8.0], 2e4);
    let line = beam.influence(InfluenceOf::Shear(2.0 * M)).unwrap();
    let q = 10.0 * KN_PER_M;
    let worst = line.worst(q);
    let load = |on: &[(Length, Length)]| -> Vec<Load> {
        on.iter().map(|(a, b)| Load::uniform(*a, *b, q)).collect()
    };
    for (value, on) in [(worst.max, &worst.max_on), (worst.min, &worst.min_on)] {
        let direct = beam.response(&load(on)).unwrap().shear(2.0 * M, Side::Left).unwrap().si();
        assert!((direct - value.si).abs() < 1e-8 * value.si.abs(), "{direct} {}", value.si);
    }
    let (mut high, mut low) = (0.0, 0.0);
    for i in 0..1400 {
        let x = 0.01 * f64::from(i);
        let part = line.response(&[Load::uniform(x * M, (x + 0.01) * M, q)]).unwrap().si;
        if part > 0.0 { high += part } else { low += part }
    }
    assert!(high <= worst.max.si * (1.0 + 1e-9) && high > worst.max.si * 0.9999);
    assert!(low >= worst.min.si * (1.0 + 1e-9) && low < worst.min.si * 0.9999);
    let whole = beam
        .spans()
        .iter()
        .map(|(a, b)| line.response(&[Load::uniform(*a, *b, q)]).unwrap().si)
        .filter(|v| *v > 0.0)
        .sum::<f64>();
    assert!(worst.max.si > whole * 1.01, "part of a span is worse than whole spans");
}

/// Coexisting pairs: the moment beside the largest shear is not the largest moment.
#[test]
fn pairs_act_together() {
    let beam = spans(&[6.0, 6.0], 2e4);
    let case = |a: f64, b: f64| {
        beam.response(&[
            Load::uniform(0.0 * M, 6.0 * M, a * KN_PER_M),
            Load::uniform(6.0 * M, 12.0 * M, b * KN_PER_M),
        ])
        .unwrap()
    };
    let envelope = Envelope::of(vec![case(15.0, 5.0), case(5.0, 15.0), case(15.0, 15.0)]).unwrap();
    let x = 5.0 * M;
    let (_, low) = envelope.pairs(By::Shear, x, Side::Left).unwrap();
    assert_eq!(low.case, 2, "both spans give the largest shear at the inner support");
    assert_eq!(low.moment, envelope.cases()[2].moment(x, Side::Left).unwrap());
    let largest = envelope.at(By::Moment, x, Side::Left).unwrap().max;
    assert!(largest.value > low.moment.si(), "another case has the larger moment");
    let high = envelope.extremes(By::Moment, 0.0 * M, 6.0 * M).unwrap().max;
    assert_eq!(high.case, 0);
    assert!(
        (high.value.value
            - envelope.cases()[0].moment_extremes(0.0 * M, 6.0 * M).unwrap().max.value.si())
        .abs()
            < 1e-9
    );
}

/// Support moments of a hundred unequal spans by the three-moment equation in rational arithmetic.
#[test]
fn a_hundred_spans_to_ten_digits() {
    let lengths: Vec<i64> = (0..100).map(|i| 4 + (i * 7) % 5).collect();
    let loads: Vec<i64> = (0..100).map(|i| 3 + (i * 11) % 9).collect();
    let q = |v: i64| BigRational::from_integer(BigInt::from(v));
    // M_(i−1) l_i + 2 M_i (l_i + l_(i+1)) + M_(i+1) l_(i+1) = −(w_i l_i³ + w_(i+1) l_(i+1)³)/4
    let n = 99;
    let (mut diagonal, mut right) = (Vec::new(), Vec::new());
    for i in 0..n {
        let (a, b) = (q(lengths[i]), q(lengths[i + 1]));
        let cube = |w: i64, l: &BigRational| q(w) * l * l * l;
        diagonal.push(q(2) * (&a + &b));
        right.push(-(cube(loads[i], &a) + cube(loads[i + 1], &b)) / q(4));
    }
    for i in 1..n {
        let off = q(lengths[i]);
        let factor = &off / &diagonal[i - 1];
        diagonal[i] = &diagonal[i] - &factor * &off;
        right[i] = &right[i] - &factor * &right[i - 1];
    }
    let mut moments = vec![BigRational::zero(); n + 2];
    for i in (0..n).rev() {
        moments[i + 1] = (&right[i] - q(lengths[i + 1]) * &moments[i + 2]) / &diagonal[i];
    }
    let exact: Vec<f64> = moments.iter().map(|m| m.to_f64().unwrap()).collect();
    let _ = BigRational::from_f64(1.0);
    let plain: Vec<f64> = lengths.iter().map(|l| *l as f64).collect();
    let beam = spans(&plain, 2e4);
    let cases: Vec<Load> = beam
        .spans()
        .iter()
        .zip(&loads)
        .map(|((a, b), w)| Load::uniform(*a, *b, *w as f64 * KN_PER_M))
        .collect();
    let actions = beam.response(&cases).unwrap();
    for (support, exact) in beam.supports().iter().zip(&exact) {
        let found = actions.moment(support.at, Side::Left).unwrap().to(KN_M);
        assert!(
            (found - exact).abs() <= 1e-10 * exact.abs().max(1.0),
            "{}: {found} {exact}",
            support.at
        );
    }
    assert!((actions.deflection(beam.length()).unwrap().si()).abs() < 1e-12);
}

#[test]
fn shear_deformation_of_handbook_cases() {
    // w = 5 q L^4 / 384 EI + q L^2 / 8 GA; P L^3 / 48 EI + P L / 4 GA (any handbook of statics)
    let (l, ei, ga, q, p) = (8.0, 2e4, 4e4, 10.0, 24.0);
    let beam =
        Beam::simple(l * M, ei * KN_M2).unwrap().with_shear(vec![(0.0 * M, ga * KN)]).unwrap();
    let uniform = beam.response(&[Load::uniform(0.0 * M, l * M, q * KN_PER_M)]).unwrap();
    let exact = 5.0 * q * l.powi(4) / (384.0 * ei) + q * l * l / (8.0 * ga);
    assert!((uniform.deflection(4.0 * M).unwrap().si() / exact - 1.0).abs() < 1e-12);
    let point = beam.response(&[Load::point(4.0 * M, p * KN)]).unwrap();
    let exact = p * l.powi(3) / (48.0 * ei) + p * l / (4.0 * ga);
    assert!((point.deflection(4.0 * M).unwrap().si() / exact - 1.0).abs() < 1e-12);
    // propped cantilever: prop = (3/8 + 3 EI/(2 GA L²))/(1 + 3 EI/(GA L²)) q L, by superposition
    let propped = Beam::new(
        l * M,
        vec![Support::fixed(0.0 * M), Support::bearing(l * M)],
        vec![(0.0 * M, ei * KN_M2)],
    )
    .unwrap();
    let propped = propped.with_shear(vec![(0.0 * M, ga * KN)]).unwrap();
    let k = 3.0 * ei / (ga * l * l);
    let exact = (0.375 + k / 2.0) / (1.0 + k) * q * l;
    let found = propped.response(&[Load::uniform(0.0 * M, l * M, q * KN_PER_M)]).unwrap();
    assert!((found.reactions()[1].force.to(KN) / exact - 1.0).abs() < 1e-12);
    assert_eq!(
        propped.with_shear(vec![(1.0 * M, ga * KN)]).unwrap_err().codes(),
        ["beam.rigidity-nonpositive"]
    );
}

/// Equal rotational springs at both ends: M_end = −q L²/12 / (1 + 2 EI/(k L)) (slope deflection).
#[test]
fn ends_between_pinned_and_fixed() {
    let (l, ei, q) = (6.0, 2e4, 12.0);
    for k in [1e2, 1e4, 1e6] {
        let spring = |x: f64| Support {
            rotation: Restraint::Spring(k * KN_M_PER_RAD),
            ..Support::bearing(x * M)
        };
        let beam =
            Beam::new(l * M, vec![spring(0.0), spring(l)], vec![(0.0 * M, ei * KN_M2)]).unwrap();
        let actions = beam.response(&[Load::uniform(0.0 * M, l * M, q * KN_PER_M)]).unwrap();
        let exact = -q * l * l / 12.0 / (1.0 + 2.0 * ei / (k * l));
        assert!(
            (actions.moment(0.0 * M, Side::Right).unwrap().to(KN_M) / exact - 1.0).abs() < 1e-10,
            "{k}"
        );
        assert!((actions.reactions()[0].moment.to(KN_M) / exact - 1.0).abs() < 1e-10);
    }
    let zero = Load::uniform(3.0 * M, 3.0 * M, 1.0 * KN_PER_M);
    let error = Beam::simple(6.0 * M, ei * KN_M2).unwrap().response(&[zero]).unwrap_err();
    assert_eq!(error.codes(), ["beam.load-outside"]);
}

#[test]
fn a_temperature_gradient_bends_down_where_the_bottom_is_warm() {
    // free camber of a simple span: alpha ΔT L² / (8 h) = 1.6875 mm (closed form)
    let beam = Beam::simple(9.0 * M, 1e5 * KN_M2).unwrap();
    let warm = Load::temperature(0.0 * M, 9.0 * M, 10.0 * DK, 10e-6 * PER_K, 0.6 * M).unwrap();
    let actions = beam.response(&[warm]).unwrap();
    assert!((actions.deflection(4.5 * M).unwrap().to(MM) - 1.6875).abs() < 1e-12);
    assert!(
        actions.moment(4.5 * M, Side::Left).unwrap().abs().si() < 1e-9,
        "a determinate beam takes no force from it"
    );
}

#[test]
fn bearings_that_only_push() {
    // 4, 8, 4 m, the middle span loaded: end reactions g − ... = −10.25 kN if anchored (patterns, P04)
    let seats = |lift: bool| {
        let make = |x: f64| if lift { Support::seat(x * M) } else { Support::bearing(x * M) };
        Beam::new(16.0 * M, [0.0, 4.0, 12.0, 16.0].map(make).to_vec(), vec![(0.0 * M, 2e4 * KN_M2)])
            .unwrap()
    };
    let loads = [
        Load::uniform(0.0 * M, 16.0 * M, 2.0 * KN_PER_M),
        Load::uniform(4.0 * M, 12.0 * M, 12.0 * KN_PER_M),
    ];
    let held = seats(false).response(&loads).unwrap();
    assert!((held.reactions()[0].force.to(KN) + 10.25).abs() < 1e-10);
    let free = seats(true).response(&loads).unwrap();
    assert!(
        free.reactions()[0].force.si().abs() < 1e-9 && free.reactions()[3].force.si().abs() < 1e-9
    );
    assert!(free.deflection(0.0 * M).unwrap().si() < 0.0, "the end has lifted off");
    // what is left is a beam on two supports with overhangs: statics
    assert!((free.reactions()[1].force.to(KN) - (2.0 * 16.0 + 12.0 * 8.0) / 2.0).abs() < 1e-10);
    let down = seats(true).response(&[Load::uniform(0.0 * M, 16.0 * M, 2.0 * KN_PER_M)]).unwrap();
    let same = seats(false).response(&[Load::uniform(0.0 * M, 16.0 * M, 2.0 * KN_PER_M)]).unwrap();
    assert_eq!(down.reactions(), same.reactions(), "where nothing pulls nothing changes");
    // pulled up as a whole: no bearing holds it
    let up = [Load::uniform(0.0 * M, 16.0 * M, -2.0 * KN_PER_M)];
    assert_eq!(seats(true).response(&up).unwrap_err().codes(), ["beam.contact"]);
}

#[test]
fn mechanisms_are_named() {
    let pinned = spans(&[6.0, 6.0], 2e4);
    let ok = pinned.clone().with_hinges(vec![7.5 * M]).unwrap();
    assert!(ok.response(&[Load::point(3.0 * M, 1.0 * KN)]).is_ok());
    let two = pinned.clone().with_hinges(vec![7.5 * M, 9.0 * M]).unwrap();
    let error = two.response(&[Load::point(3.0 * M, 1.0 * KN)]).unwrap_err();
    assert_eq!(error.codes(), ["beam.mechanism"]);
    let message = &error.issues[0].message;
    assert!(
        message.contains("the hinge at x = 9 m (span 2)") && !message.contains("7.5"),
        "{error}"
    );
    // an end on a hinge alone falls
    let ends = vec![Support::bearing(0.0 * M), Support::bearing(6.0 * M)];
    let loose = Beam::new(12.0 * M, ends, vec![(0.0 * M, 2e4 * KN_M2)]).unwrap();
    let error = loose.with_hinges(vec![8.0 * M]).unwrap().response(&[]).unwrap_err();
    assert!(error.issues[0].message.contains("x = 12 m (span 2)"), "{error}");
    for (hinges, why) in [
        (vec![0.0 * M], "at an end"),
        (vec![3.0 * M, 3.0 * M], "another one"),
        (vec![f64::NAN * M], "at an end"),
    ] {
        let error = pinned.clone().with_hinges(hinges).unwrap_err();
        assert_eq!(error.codes(), ["beam.hinge"]);
        assert!(error.to_string().contains(why), "{error}");
    }
    let fixed =
        Beam::new(6.0 * M, vec![Support::fixed(3.0 * M)], vec![(0.0 * M, 1e4 * KN_M2)]).unwrap();
    assert_eq!(fixed.with_hinges(vec![3.0 * M]).unwrap_err().codes(), ["beam.hinge"]);
}

#[test]
fn settlement_needs_a_support_that_holds() {
    let free =
        Support { vertical: Restraint::Free, settlement: 0.01 * M, ..Support::bearing(3.0 * M) };
    let nan = Support { settlement: f64::NAN * M, ..Support::bearing(9.0 * M) };
    let all = vec![Support::bearing(0.0 * M), free, nan];
    let error = Beam::new(9.0 * M, all, vec![(0.0 * M, 2e4 * KN_M2)]).unwrap_err();
    assert_eq!(error.codes(), ["beam.settlement", "beam.settlement"]);
}

/// The residual of a solution by displacements is reported, and tiny for ordinary spans.
#[test]
fn the_residual_is_an_error_bound() {
    let beam = spans(&[6.0, 8.0, 5.0], 2e4);
    let actions = beam.response(&[Load::uniform(0.0 * M, 19.0 * M, 10.0 * KN_PER_M)]).unwrap();
    assert!(actions.residual() < 1e-13, "{}", actions.residual());
    let uneven = spans(&[1e-4, 10.0], 2e4);
    let hard = uneven.response(&[Load::uniform(0.0 * M, uneven.length(), 10.0 * KN_PER_M)]);
    match hard {
        Ok(hard) => {
            // the short span holds the end: −q L²/8 (closed form)
            let m = hard.moment(1e-4 * M, Side::Right).unwrap().to(KN_M);
            assert!(
                (m / -125.0 - 1.0).abs() < 1e-3 && hard.residual() < 1e-8,
                "{m} {}",
                hard.residual()
            );
        }
        Err(error) => assert_eq!(error.codes(), ["beam.ill-conditioned"]),
    }
    let xs: Vec<Length> = (0..=19).map(|i| f64::from(i) * M).collect();
    let sampled = actions.sample(&xs, Side::Left, Segment::moment).unwrap();
    assert!(
        sampled
            .iter()
            .zip(&xs)
            .all(|(v, x)| (v - actions.moment(*x, Side::Left).unwrap().si()).abs() < 1e-9)
    );
}

/// Spans that differ by 10⁹, and a million segments: an answer within its tolerance or a refusal, no panic.
#[test]
fn extreme_lines() {
    let places = [0.0, 1e-6, 1e3, 1e3 + 1e-6].map(|x| Support::bearing(x * M));
    let uneven = Beam::new((1e3 + 1e-6) * M, places.to_vec(), vec![(0.0 * M, 2e4 * KN_M2)]);
    assert_eq!(uneven.unwrap_err().codes(), ["beam.supports-coincide"; 2]);
    let uneven = spans(&[1e-5, 1e3, 1e-5], 2e4);
    match uneven.response(&[Load::uniform(0.0 * M, uneven.length(), 1.0 * KN_PER_M)]) {
        Ok(actions) => {
            // short ends fix the long span almost: −q L² / 12
            let found = actions.moment(500.0 * M, Side::Left).unwrap().to(KN_M);
            assert!((found / (1e6 / 24.0) - 1.0).abs() < 1e-3, "{found}");
        }
        Err(error) => assert!(
            error.codes().iter().all(|c| [
                "beam.ill-conditioned",
                "beam.supports-coincide",
                "beam.mechanism"
            ]
            .contains(c)),
            "{error}"
        ),
    }
    let beam = Beam::simple(100.0 * M, 1e6 * KN_M2).unwrap();
    let step = 100.0 / 500_000.0;
    let many: Vec<Load> = (0..500_000)
        .map(|i| {
            Load::uniform(
                f64::from(i) * step * M,
                (f64::from(i) * step + step / 2.0) * M,
                2.0 * KN_PER_M,
            )
        })
        .collect();
    let actions = beam.response(&many).unwrap();
    assert!(actions.segments().len() >= 999_999);
    assert!((actions.moment(50.0 * M, Side::Left).unwrap().to(KN_M) / 1250.0 - 1.0).abs() < 1e-5);
}

/// A line of spans made by numbers: lengths, springs, hinge, settlement.
fn line() -> impl Strategy<Value = (Beam, Vec<f64>)> {
    (prop::collection::vec(3.0..9.0f64, 2..6), 0usize..4, 0.0..0.02f64, any::<bool>()).prop_map(
        |(lengths, kind, settle, stepped)| {
            let mut x = 0.0;
            let mut supports =
                vec![if kind == 1 { Support::fixed(0.0 * M) } else { Support::bearing(0.0 * M) }];
            for (i, l) in lengths.iter().enumerate() {
                x += l;
                let mut support = Support::bearing(x * M);
                if kind == 2 && i == 0 {
                    support.vertical = Restraint::Spring(3e3 * KN_PER_M_SPRING);
                }
                if i == 1 {
                    support.settlement = settle * M;
                }
                supports.push(support);
            }
            let mut rigidity = vec![(0.0 * M, 2e4 * KN_M2)];
            if stepped {
                rigidity.push((lengths[0] * 0.6 * M, 5e4 * KN_M2));
            }
            let mut beam = Beam::new(x * M, supports, rigidity).unwrap();
            if kind == 3 {
                beam = beam.with_hinges(vec![(lengths[0] + 0.3 * lengths[1]) * M]).unwrap();
            }
            (beam, lengths)
        },
    )
}

fn level(beam: &Beam) -> Beam {
    let supports = beam.supports().iter().map(|s| Support { settlement: 0.0 * M, ..*s }).collect();
    Beam::new(beam.length(), supports, beam.rigidity().to_vec())
        .unwrap()
        .with_hinges(beam.hinges().to_vec())
        .unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// Equilibrium as a whole and at every joint; V = dM/dx; hinges carry no moment; supports move as told.
    #[test]
    fn a_line_balances((beam, _) in line(), a in 0.05..0.95f64, p in 1.0..50.0f64, w in 1.0..20.0f64) {
        let end = beam.length();
        let loads = [Load::point(end * a, p * KN), Load::uniform(end * 0.2, end * 0.9, w * KN_PER_M)];
        let actions = beam.response(&loads).unwrap();
        let total: Force = loads.iter().map(|l| l.resultant()).sum();
        let up: Force = actions.reactions().iter().map(|r| r.force).sum();
        let size = actions.reactions().iter().map(|r| r.force.abs().si()).fold(total.si(), f64::max);
        prop_assert!((total - up).abs().si() < 1e-9 * size);
        // moment about the left end: forces, loads, end moment
        let about: f64 = actions.reactions().iter().map(|r| r.force.si() * r.at.si() - r.moment.si()).sum();
        let asked = p * 1e3 * (end * a).si() + w * 1e3 * 0.7 * end.si() * 0.55 * end.si();
        prop_assert!((about - asked).abs() < 1e-9 * size * end.si(), "{} {}", about, asked);
        // every joint: deflection and, away from hinges, rotation and moment go on; shear jumps by force
        let stands = |at: Length| -> f64 {
            let near = |x: Length| (x - at).abs().si() < 1e-9;
            let up: f64 = actions.reactions().iter().filter(|r| near(r.at)).map(|r| r.force.si()).sum();
            let down: f64 = loads.iter().map(|l| match l { Load::Point { at, force } if near(*at) => force.si(), _ => 0.0 }).sum();
            up - down
        };
        for pair in actions.segments().windows(2) {
            let (a, b) = (pair[0], pair[1]);
            let h = a.length;
            let at = b.start * M;
            prop_assert!((a.deflection().at(h) - b.deflection().at(0.0)).abs() < 1e-10);
            prop_assert!((a.moment().at(h) - b.moment().at(0.0)).abs() < 1e-9 * size * end.si());
            prop_assert!((b.shear().at(0.0) - a.shear().at(h) - stands(at)).abs() < 1e-9 * size);
            if beam.hinges().iter().all(|x| (*x - at).abs().si() > 1e-9) {
                prop_assert!((a.rotation().at(h) - b.rotation().at(0.0)).abs() < 1e-9);
            }
        }
        for hinge in beam.hinges() {
            let m = actions.moment_extremes(0.0 * M, end).unwrap();
            let scale = m.max.value.abs().max(m.min.value.abs()).si();
            prop_assert!(actions.moment(*hinge, Side::Left).unwrap().abs().si() < 1e-9 * scale);
        }
        for (s, r) in beam.supports().iter().zip(actions.reactions()) {
            let wanted = s.settlement.si() + match s.vertical { Restraint::Spring(k) => r.force.si() / k.si(), _ => 0.0 };
            prop_assert!((actions.deflection(s.at).unwrap().si() - wanted).abs() < 1e-9, "{} {}", actions.deflection(s.at).unwrap(), wanted);
        }
    }

    /// Seen from the other side: the same moments, the shears with the other sign.
    #[test]
    fn a_line_mirrored((beam, _) in line(), a in 0.05..0.95f64, p in 1.0..50.0f64, w in 1.0..20.0f64) {
        let end = beam.length();
        let turned = |s: &Support| Support { at: end - s.at, ..*s };
        let mut rigidity: Vec<(Length, FlexuralRigidity)> = Vec::new();
        for (i, (_, ei)) in beam.rigidity().iter().enumerate().rev() {
            let next = beam.rigidity().get(i + 1).map_or(end, |r| r.0);
            rigidity.push((end - next, *ei));
        }
        let mirror = Beam::new(end, beam.supports().iter().map(turned).collect(), rigidity).unwrap()
            .with_hinges(beam.hinges().iter().map(|h| end - *h).collect()).unwrap();
        let one = beam.response(&[Load::point(end * a, p * KN), Load::line(end * 0.1, end * 0.7, w * KN_PER_M, 2.0 * w * KN_PER_M)]).unwrap();
        let two = mirror.response(&[Load::point(end * (1.0 - a), p * KN), Load::line(end * 0.3, end * 0.9, 2.0 * w * KN_PER_M, w * KN_PER_M)]).unwrap();
        let size = one.moment_extremes(0.0 * M, end).unwrap();
        let size = size.max.value.abs().max(size.min.value.abs()).si();
        for i in 1..20 {
            let x = end * (f64::from(i) / 20.0 + 0.003);
            if x >= end { continue; }
            let (m, n) = (one.moment(x, Side::Left).unwrap().si(), two.moment(end - x, Side::Right).unwrap().si());
            prop_assert!((m - n).abs() < 1e-9 * size, "{} {}", m, n);
            let (d, e) = (one.deflection(x).unwrap().si(), two.deflection(end - x).unwrap().si());
            prop_assert!((d - e).abs() < 1e-9 * d.abs().max(1e-3), "{} {}", d, e);
            let (v, u) = (one.shear(x, Side::Left).unwrap().si(), two.shear(end - x, Side::Right).unwrap().si());
            prop_assert!((v + u).abs() < 1e-9 * size, "{} {}", v, u);
        }
    }

    /// Betti and Maxwell: the deflection at a under a load at b is that at b under the load at a.
    #[test]
    fn reciprocity((beam, _) in line(), a in 0.03..0.97f64, b in 0.03..0.97f64) {
        let beam = level(&beam);
        let end = beam.length();
        let under = |at: Length, read: Length| beam.response(&[Load::point(at, 10.0 * KN)]).unwrap().deflection(read).unwrap().si();
        let (one, other) = (under(end * a, end * b), under(end * b, end * a));
        prop_assert!((one - other).abs() < 1e-10 * one.abs().max(other.abs()).max(1e-4), "{} {}", one, other);
    }

    /// Clapeyron: the loads work twice the energy of bending and of the springs.
    #[test]
    fn work_is_energy((beam, _) in line(), a in 0.05..0.95f64, p in 1.0..50.0f64) {
        let beam = level(&beam);
        let at = beam.length() * a;
        let actions = beam.response(&[Load::point(at, p * KN)]).unwrap();
        let work = p * 1e3 * actions.deflection(at).unwrap().si() / 2.0;
        let bending: f64 = actions.segments().iter().map(|s| {
            let m = s.moment();
            let square = m.times(&m);
            let [c0, c1, c2, ..] = square.c;
            let h = s.length;
            (c0 * h + c1 * h * h / 2.0 + c2 * h.powi(3) / 3.0) / (2.0 * s.ei)
        }).sum();
        let springs: f64 = beam.supports().iter().zip(actions.reactions()).map(|(s, r)| match s.vertical {
            Restraint::Spring(k) => r.force.si().powi(2) / (2.0 * k.si()),
            _ => 0.0,
        }).sum();
        prop_assert!((work - bending - springs).abs() < 1e-9 * work.abs().max(1e-9), "{} {} {}", work, bending, springs);
    }

    /// A stiffer support never lets the loads do more work (no settlement).
    #[test]
    fn stiffer_is_less_work((beam, _) in line(), a in 0.05..0.95f64, k in 1e2..1e5f64) {
        let beam = level(&beam);
        let spring = |k: f64| {
            let mut supports = beam.supports().to_vec();
            supports[1].vertical = Restraint::Spring(k * KN_PER_M_SPRING);
            Beam::new(beam.length(), supports, beam.rigidity().to_vec()).unwrap().with_hinges(beam.hinges().to_vec()).unwrap()
        };
        let at = beam.length() * a;
        let work = |b: &Beam| b.response(&[Load::point(at, 10.0 * KN)]).unwrap().deflection(at).unwrap().si();
        let (soft, stiff, rigid) = (work(&spring(k)), work(&spring(2.0 * k)), work(&level(&beam)));
        prop_assert!(stiff <= soft * (1.0 + 1e-9) + 1e-12 && (beam.supports()[1].vertical != Restraint::Rigid || rigid <= stiff * (1.0 + 1e-9) + 1e-12));
    }

    /// Twice the stiffness everywhere, springs too: half the deflection, the same forces.
    #[test]
    fn stiffness_scales((beam, _) in line(), a in 0.05..0.95f64) {
        let beam = level(&beam);
        let supports = beam.supports().iter().map(|s| Support {
            vertical: match s.vertical { Restraint::Spring(k) => Restraint::Spring(k * 2.0), other => other },
            ..*s
        }).collect();
        let rigidity = beam.rigidity().iter().map(|(x, ei)| (*x, *ei * 2.0)).collect();
        let twice = Beam::new(beam.length(), supports, rigidity).unwrap().with_hinges(beam.hinges().to_vec()).unwrap();
        let at = beam.length() * a;
        let load = [Load::point(at, 10.0 * KN)];
        let (one, two) = (beam.response(&load).unwrap(), twice.response(&load).unwrap());
        prop_assert!((one.deflection(at).unwrap().si() - 2.0 * two.deflection(at).unwrap().si()).abs() < 1e-10 * one.deflection(at).unwrap().si().abs().max(1e-5));
        for (a, b) in one.reactions().iter().zip(two.reactions()) {
            prop_assert!((a.force - b.force).abs().si() < 1e-9 * 1e4);
        }
    }

    /// Contact against all states tried one by one: exactly one of them holds, and it is the one found.
    #[test]
    fn contact_is_the_state_that_holds(lengths in prop::collection::vec(3.0..9.0f64, 2..5), w in prop::collection::vec(-6.0..12.0f64, 4)) {
        let mut x = 0.0;
        let mut places = vec![0.0];
        for l in &lengths { x += l; places.push(x); }
        let n = places.len();
        let ei = vec![(0.0 * M, 2e4 * KN_M2)];
        let seats = Beam::new(x * M, places.iter().map(|p| Support::seat(*p * M)).collect(), ei.clone()).unwrap();
        let mut loads = vec![Load::uniform(0.0 * M, x * M, 4.0 * KN_PER_M)];
        loads.extend(places.windows(2).zip(&w).map(|(p, w)| Load::uniform(p[0] * M, p[1] * M, *w * KN_PER_M)));
        let mut holds = Vec::new();
        for mask in 0..1_u32 << n {
            let kept: Vec<f64> = (0..n).filter(|i| mask >> i & 1 == 1).map(|i| places[i]).collect();
            let Ok(beam) = Beam::new(x * M, kept.iter().map(|p| Support::bearing(*p * M)).collect(), ei.clone()) else { continue };
            let Ok(actions) = beam.response(&loads) else { continue };
            let pushes = actions.reactions().iter().all(|r| r.force.si() >= -1e-7);
            let above = places.iter().all(|p| actions.deflection(*p * M).unwrap().si() <= 1e-10);
            if pushes && above { holds.push(actions); }
        }
        match (seats.response(&loads), holds.first()) {
            (Ok(found), Some(one)) => {
                for p in &places {
                    let (a, b) = (found.deflection(*p * M).unwrap().si(), one.deflection(*p * M).unwrap().si());
                    prop_assert!((a - b).abs() < 1e-8, "{} {}", a, b);
                }
            }
            (Err(_), None) => {}
            (found, one) => prop_assert!(false, "{:?} {}", found.map(|f| f.reactions().to_vec()), one.is_some()),
        }
    }
}
