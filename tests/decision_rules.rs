//! Conformity, risks, ratios with one zero and degrees of freedom against tests/published/uncertainty.json
//! (own arithmetic with 30 digits; published figures in its notes) and closed forms.

use proofspan::uncertainty::*;
use serde_json::Value;

fn case(id: &str) -> (Value, Value) {
    let text = include_str!("published/uncertainty.json");
    let all: Value = serde_json::from_str(text).unwrap();
    let cases = all["cases"].as_array().unwrap();
    let found = cases.iter().find(|c| c["id"] == id).unwrap_or_else(|| panic!("no {id}"));
    (found["inputs"].clone(), found["expected"].clone())
}

fn near(found: f64, expected: &Value, tolerance: f64) {
    let expected = expected.as_f64().unwrap();
    assert!((found - expected).abs() <= tolerance * expected.abs(), "{found} {expected}");
}

#[test]
fn the_probability_that_a_value_keeps_its_limits() {
    for id in ["U01", "U02", "U03", "U04", "U05"] {
        let (given, expected) = case(id);
        let limits = Tolerance { lower: given["TL"].as_f64(), upper: given["TU"].as_f64() };
        let p = limits.conformity(given["y"].as_f64().unwrap(), given["u"].as_f64().unwrap());
        near(p.unwrap(), &expected["conformance_probability"], 1e-11);
    }
    // the mirror image of a limit above is one below
    let above = Tolerance::at_most(12.0).conformity(11.6, 0.25).unwrap();
    let below = Tolerance::at_least(-12.0).conformity(-11.6, 0.25).unwrap();
    assert!((above - below).abs() < 1e-15);
    // far outside, the probability keeps its digits: half of erfc(8/√2) - erfc(9/√2)
    let far = Tolerance::between(8.0, 9.0).conformity(0.0, 1.0).unwrap();
    assert!((far / 6.219_831_985_865_866e-16 - 1.0).abs() < 1e-9, "{far:e}");
}

/// JCGM 106 by hand: T = 10, u = 0.5 (probabilities of the table of the normal distribution).
#[test]
fn stated_risks_of_one_value() {
    for (value, conforms) in
        [(8.9, 0.986_096_552), (9.0, 0.977_249_868), (10.2, 0.344_578_258), (11.1, 0.013_903_447_5)]
    {
        let risks = Tolerance::at_most(10.0).risks(value, 0.5).unwrap();
        assert!((risks.false_acceptance - (1.0 - conforms)).abs() < 1e-9, "{value}");
        assert!((risks.false_rejection - conforms).abs() < 1e-9, "{value}");
    }
}

#[test]
fn guard_bands_and_decisions() {
    for id in ["U06", "U07", "U08", "U09"] {
        let (given, expected) = case(id);
        let get = |key: &str| given[key].as_f64().unwrap();
        let guard = get("r") * get("U_k2");
        near(guard, &expected["guard_band"], 1e-12);
        let acceptance = Tolerance::at_most(get("TU")).guarded(guard);
        near(acceptance.upper.unwrap(), &expected["acceptance_limit"], 1e-12);
        assert_eq!(acceptance.accepts(get("y")), expected["decision"] == "accept", "{id}");
    }
    let (given, expected) = case("U10");
    let guard =
        guard_for_risk(given["u"].as_f64().unwrap(), given["max_risk"].as_f64().unwrap()).unwrap();
    near(guard, &expected["guard_band"], 1e-10);
    near(quantile(0.95).unwrap(), &expected["z"], 1e-11);
    // two sides, 48 to 52 with a guard of 1
    let both = Tolerance::between(48.0, 52.0);
    let at = |y: f64| both.decides(y, 1.0);
    assert_eq!(
        [at(46.9), at(47.1), at(48.9), at(49.0), at(51.0), at(51.1), at(53.0), at(53.1)],
        [Some(false), None, None, Some(true), Some(true), None, None, Some(false)]
    );
    assert_eq!(both.decides(f64::NAN, 1.0), None);
}

#[test]
fn risks_over_all_items() {
    for id in ["U11", "U12"] {
        let (given, expected) = case(id);
        let get = |key: &str| given[key].as_f64().unwrap();
        let acceptance = Tolerance::at_most(get("AU"));
        let risks = Tolerance::at_most(get("TU"))
            .global_risks((get("y0"), get("u0")), get("um"), acceptance)
            .unwrap();
        // the file holds its integrals to 1e-9 absolute
        let within = |found: f64, key: &str| (found - expected[key].as_f64().unwrap()).abs() < 1e-9;
        assert!(within(risks.false_acceptance, "consumer_risk"), "{risks:?}");
        assert!(within(risks.false_rejection, "producer_risk"), "{risks:?}");
    }
    // accepted and conforming with the two risks are all items: symmetric limits give symmetric risks
    let both = Tolerance::between(-1.0, 1.0);
    let up = Tolerance::between(-1.0, 50.0)
        .global_risks((0.0, 1.0), 0.2, Tolerance::between(-0.8, 50.0))
        .unwrap();
    let all = both.global_risks((0.0, 1.0), 0.2, both.guarded(0.2)).unwrap();
    assert!(
        all.false_acceptance > up.false_acceptance
            && all.false_acceptance < 2.1 * up.false_acceptance
    );
}

#[test]
fn degrees_of_freedom() {
    let (given, expected) = case("U13");
    let numbers = |v: &Value| -> Vec<f64> {
        v.as_array().unwrap().iter().map(|x| x.as_f64().unwrap()).collect()
    };
    let found = effective(&numbers(&given["rel_u_percent"]), &numbers(&given["dof"])).unwrap();
    near(found.u, &expected["uc_percent"], 1e-12);
    near(found.freedom, &expected["nu_eff"], 1e-12);
    assert!((found.freedom.floor() - 18.0).abs() < 1e-12);
    let (given, expected) = case("U14");
    let found = effective(&numbers(&given["u_nm"]), &numbers(&given["dof"])).unwrap();
    near(found.u, &expected["uc_nm"], 1e-12);
    near(found.freedom, &expected["nu_eff"], 1e-12);
    // what is known leaves the freedom of the other: u1 = u2, nu1 = 4: 4 u^4/(u^4/4) = 16
    let found = effective(&[3.0, 3.0], &[4.0, f64::INFINITY]).unwrap();
    assert!((found.freedom - 16.0).abs() < 1e-12);
    assert!(effective(&[3.0], &[f64::INFINITY]).unwrap().freedom.is_infinite());
}

/// Fieller by its quadratic (a - xb)² = k² (Va - 2x Vab + x² Vb), solved by hand with more digits.
#[test]
fn a_ratio_from_one_zero() {
    let near = |a: f64, b: f64| assert!((a - b).abs() < 5e-9, "{a} {b}");
    for (k, low, high) in [
        (2.0, 0.178_224_125, 0.221_442_356),
        (1.959_963_985, 0.178_663_568, 0.221_016_140),
        (1.644_853_627, 0.182_117_080, 0.217_657_373),
    ] {
        let r = ratio_of(1.2, 6.0, (0.005, 0.005, 0.0025), k).unwrap();
        let (lo, hi) = r.interval.unwrap();
        near(lo, low);
        near(hi, high);
        near(r.u, 0.010_801_234_5);
    }
    let shared = ratio_from_one_zero(1.2, 6.0, 0.05).unwrap();
    near(shared.value, 0.2);
    near(shared.interval.unwrap().0, 0.178_224_125);
    near(shared.expanded, 2.0 * shared.u);
    // independent readings, U18: 2.4/10 with 0.1 each
    let (given, expected) = case("U18");
    let get = |key: &str| given[key].as_f64().unwrap();
    let u2 = get("u_res").powi(2);
    let r = ratio_of(get("res"), get("max"), (u2, get("u_max").powi(2), 0.0), 2.0).unwrap();
    super_near(r.u, &expected["u_ratio"]);
    let p = Tolerance::at_most(get("limit")).conformity(r.value, r.u).unwrap();
    super_near(p, &expected["p_conform_linearised"]);
    // a divisor that cannot be told from zero allows every ratio
    assert_eq!(ratio_of(0.03, 0.15, (0.01, 0.01, 0.0), 2.0).unwrap().interval, None);
}

fn super_near(a: f64, b: &Value) {
    near(a, b, 1e-10);
}

#[test]
fn what_is_refused() {
    let codes = |e: proofspan::Error| e.codes();
    let limits = Tolerance::at_most(1.0);
    assert_eq!(codes(limits.conformity(1.0, 0.0).unwrap_err()), ["uncertainty.zero"]);
    assert_eq!(codes(limits.conformity(1.0, -1.0).unwrap_err()), ["uncertainty.number"]);
    assert_eq!(codes(limits.conformity(f64::NAN, 1.0).unwrap_err()), ["uncertainty.number"]);
    assert_eq!(
        codes(Tolerance::default().conformity(1.0, 1.0).unwrap_err()),
        ["uncertainty.limits"]
    );
    let crossed = Tolerance::between(2.0, 1.0);
    assert_eq!(codes(crossed.conformity(1.0, 1.0).unwrap_err()), ["uncertainty.limits"]);
    assert_eq!(codes(guard_for_risk(1.0, 1.5).unwrap_err()), ["uncertainty.number"]);
    assert_eq!(codes(effective(&[1.0], &[]).unwrap_err()), ["uncertainty.number"]);
    assert_eq!(codes(effective(&[], &[]).unwrap_err()), ["uncertainty.zero"]);
    assert_eq!(
        codes(effective(&[1.0, f64::NAN], &[0.0, 1.0]).unwrap_err()),
        ["uncertainty.number"; 2]
    );
    assert_eq!(codes(ratio_from_one_zero(1.0, 0.0, 0.1).unwrap_err()), ["uncertainty.number"]);
    assert_eq!(codes(ratio_from_one_zero(1.0, 2.0, 0.0).unwrap_err()), ["uncertainty.zero"]);
    assert_eq!(
        codes(ratio_of(1.0, 2.0, (1.0, 1.0, 1.5), 2.0).unwrap_err()),
        ["uncertainty.number"]
    );
}

/// A criterion states its own: 1.4 mm of 6 mm against a quarter, each deflection with u = 0.1 mm, one
/// zero: the margin is 0.1 mm with u = 0.1 sqrt(1.625) mm, p = normal(0.1/0.127475).
#[test]
fn a_criterion_states_the_probability_that_it_is_kept() {
    use proofspan::criteria::Acceptance;
    use proofspan::units::*;
    let judged = |residual: f64| {
        let of = Acceptance::of("ACI 318-19", 6.0 * MM, 6.0 * M).residual(residual * MM);
        of.u(0.1 * MM).judge().unwrap().criterion("residual").unwrap().conformity()
    };
    let expected = normal(0.1 / (0.1 * 1.625_f64.sqrt()));
    assert!((judged(1.4).unwrap() - expected).abs() < 1e-9);
    assert!((judged(1.5).unwrap() - 0.5).abs() < 1e-9);
    let unstated =
        Acceptance::of("ACI 318-19", 6.0 * MM, 6.0 * M).residual(1.4 * MM).judge().unwrap();
    assert_eq!(unstated.criterion("residual").unwrap().conformity(), None);
}

/// The problem is told of the argument that has it, not of what is calculated from it.
#[test]
fn a_ratio_of_readings_without_a_usable_uncertainty() {
    for u in [1e308, 1e-300] {
        let error = proofspan::uncertainty::ratio_from_one_zero(1.0, 6.0, u).unwrap_err();
        assert_eq!(error.codes(), ["uncertainty.number"], "{u}");
        assert_eq!(error.issues[0].path, "u");
    }
}
