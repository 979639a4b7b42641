//! Several carriers in one document, through the certified solver: values by hand.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::beam::{Beam, Side};
use proofspan::editions::EditionChoice;
use proofspan::equivalent::{CarrierKind, Effect, Layout, LayoutSpec, layout};
use proofspan::error::Error;
use proofspan::loads::Loads;
use proofspan::scope::Doubt;
use proofspan::source::{Several, read_json};
use proofspan::target::{Target, reference};
use proofspan::units::{FlexuralRigidity, Force, KN, KN_M, LoadBasis, M};
use proofspan::verdict::{MemberUnit, State};

const EI: f64 = 5e7;

/// A member under 10 kN/m of dead load, of which nothing is in place: the net reference is the
/// edition's factor on it. The edition asks for 1.3 D (ACI 437.2-13, all of a member suspect).
fn target(beam: &Beam, doubt: &str) -> Target {
    let loads: Loads = read_json(
        r#"{"width":"2 m","actions":[{"action":"self_weight","area":"5 kPa","in_place":1},
            {"action":"live","area":"4 kPa","occupancy":"other"}]}"#,
    )
    .unwrap();
    let doubt: Several<Doubt> =
        read_json::<Wrapped>(&format!(r#"{{"doubt":{doubt}}}"#)).unwrap().doubt;
    let choice = EditionChoice::of("ACI 318-19");
    reference(beam, &loads, &choice, &doubt, MemberUnit::Beam, None).unwrap().1
}

proofspan::record! {
    /// Doubts by their field.
    pub struct Wrapped {
        /// Doubts.
        doubt: Several<Doubt>,
    }
}

fn simple(doubt: &str) -> Target {
    target(&Beam::simple(8.0 * M, FlexuralRigidity::from_si(EI)).unwrap(), doubt)
}

fn laid(target: &Target, spec: &str) -> Result<Layout, Error> {
    let spec: LayoutSpec = read_json(spec)?;
    layout(target, &spec, None)
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * b.abs().max(1.0)
}

/// The largest net uniform load of the terms, N/m: shear at the left end over half the span.
fn intensity(target: &Target) -> f64 {
    let shear = |t: &proofspan::target::Term| t.net.shear(0.0 * M, Side::Right).unwrap().si();
    target.terms.iter().map(shear).fold(0.0, f64::max) / 4.0
}

const SAGGING: &str = r#"{"mode":"flexure","from":"2 m","to":"6 m"}"#;

/// Two jacks at 3 m and 5 m. The moment of q at 2 m is q 2 6 / 2 = 6 q; under both jacks together it is
/// 2 R with R = P/2 for equal jacks, so the sum is 6 q. At 4 m 8 q are asked and the jacks bring 3 R = 9 q.
#[test]
fn two_jacks_with_their_certificate() {
    let target = simple(SAGGING);
    let q = intensity(&target);
    let two = r#"{"carrier":[{"kind":"jack_line","at":"3 m"},{"kind":"jack_line","at":"5 m"}],"ends":"seated"}"#;
    let plan = laid(&target, two).unwrap();
    assert!(near(plan.force.0.si(), 6.0 * q), "{} {}", plan.force.0.si(), 6.0 * q);
    assert_eq!(plan.carriers.len(), 2);
    assert!(plan.verification.violation <= 1e-9);
    let spec: LayoutSpec = read_json(two).unwrap();
    let proof = &plan.certificates(&target, &spec)[0];
    assert!(near(proof.bound, 6.0 * q) && proof.gap.unwrap() < 1e-9);
    assert!(plan.verdicts.iter().all(|v| v.state == State::Pass));
    // what the test says nothing about is listed
    assert!(plan.reached(&target).iter().any(|r| r.state == State::NotApplicable));
}

/// One jack keeps its closed form and has a certificate all the same: at 4 m, M(2 m) = P/2 2 = P, and 6 q
/// is asked there.
#[test]
fn one_jack_has_a_certificate() {
    let target = simple(SAGGING);
    let q = intensity(&target);
    let one = r#"{"carrier":{"kind":"jack_line","at":"4 m"},"ends":"seated"}"#;
    let plan = laid(&target, one).unwrap();
    let proof = &plan.certificates(&target, &read_json(one).unwrap())[0];
    assert!(near(plan.force.0.si(), 6.0 * q) && near(proof.bound, 6.0 * q), "{proof:?}");
    assert!(near(proof.rows[0].a[0], 1.0), "one newton brings one newton metre");
}

/// Two regions in one stage: sagging in the middle and shear at the left end. V of q at 0 is 4 q, which a
/// jack at 2 m brings by 3/4 P1, and one at 4 m by 1/2 P2.
#[test]
fn two_regions_in_one_stage() {
    let doubts = format!(r#"[{SAGGING},{{"mode":"shear","from":"0 m","to":"1 m"}}]"#);
    let target = simple(&doubts);
    assert_eq!(target.regions.len(), 2);
    let q = intensity(&target);
    let plan = laid(&target, r#"{"carrier":[{"kind":"jack_line","at":"2 m"},{"kind":"jack_line","at":"4 m"}],"ends":"seated"}"#).unwrap();
    let shear = plan.response.shear(0.0 * M, Side::Right).unwrap().si();
    assert!(shear >= 4.0 * q * (1.0 - 1e-9) && plan.verification.violation <= 1e-9);
    assert_eq!(plan.verification.least.len(), 3, "moment, shear with moment");
}

/// Forces that are given and do not reach: a verdict with its place, not an error. 2 q at each third:
/// M(4 m) = 2 q 8/3 = 16/3 q, of 8 q asked.
#[test]
fn given_forces_that_fall_short() {
    let target = simple(SAGGING);
    let q = intensity(&target);
    let f = Force::from_si(2.0 * q);
    let spec = format!(
        r#"{{"carrier":[{{"kind":"jack_line","at":"{a} m","force":"{f} kN"}},{{"kind":"jack_line","at":"{b} m","force":"{f} kN"}}],"ends":"seated"}}"#,
        a = 8.0 / 3.0,
        b = 16.0 / 3.0,
        f = f.to(KN)
    );
    let plan = laid(&target, &spec).unwrap();
    let short = plan.verdicts.iter().find(|v| v.slug.code() == "equivalent.short").unwrap();
    assert_eq!(short.state, State::Fail);
    assert!((short.demand.si - 2.0 / 3.0).abs() < 1e-6, "{}", short.demand.si);
    // at 2 m it is 4 q of 6 q: as far short as in the middle, and at 6 m
    assert!([2.0, 4.0, 6.0].iter().any(|x| (plan.governed_by.1.si() - x).abs() < 1e-6));
}

/// A limit that the layout cannot keep: forces, a Fail, and the conflict in words.
#[test]
fn a_limit_that_cannot_be_kept() {
    let target = simple(SAGGING);
    let plan = laid(
        &target,
        r#"{"carrier":[{"kind":"jack_line","at":"4 m"},{"kind":"jack_line","at":"4.5 m"}],
        "limits":[{"effect":"moment","basis":"net","at_most":1.01}],"ends":"seated"}"#,
    )
    .unwrap();
    assert!(plan.verdicts.iter().any(|v| v.state == State::Fail));
    let words = plan.notes.iter().find(|n| n.slug.code() == "equivalent.limit-conflict").unwrap();
    assert!(words.message.to_string().contains("meet these together"), "{}", words.message);
}

/// Bags: piles of 0.9 m with gaps of 0.1 m from 1 m to 7 m are six piles; one layer of 0.2 m at 15 kN/m3 and
/// 2 m width is 6 kN/m. Whole layers: the force is a multiple of 6 0.9 6 = 32.4 kN.
#[test]
fn bags_in_piles() {
    let target = simple(SAGGING);
    let bags = r#"{"kind":"bags","from":"1 m","to":"7 m","pile":"0.9 m","gap":"0.1 m","width":"2 m",
        "unit_weight":"15 kN/m^3","layer":"0.2 m","most_layers":12}"#;
    let plan = laid(&target, &format!(r#"{{"carrier":{bags},"ends":"seated"}}"#)).unwrap();
    let layers = plan.force.0.to(KN) / 32.4;
    assert!(near(layers, layers.round()) && layers >= 1.0, "{layers}");
    assert_eq!((plan.lines.len(), plan.carriers[0].kind), (6, CarrierKind::Weight));
    assert!(plan.verification.violation <= 1e-9);
    assert!(plan.notes.iter().any(|n| n.slug.code() == "equivalent.rounded"));
    // one layer less does not reach
    let fewer = bags.replace(
        r#""most_layers":12"#,
        &format!(r#""most_layers":12,"layers":{}"#, layers.round() - 1.0),
    );
    let short = laid(&target, &format!(r#"{{"carrier":{fewer},"ends":"seated"}}"#)).unwrap();
    assert!(short.verification.violation > 0.0);
    // piles that touch arch
    let touching = bags.replace(r#""gap":"0.1 m""#, r#""gap":"0 m""#);
    let error = laid(&target, &format!(r#"{{"carrier":{touching}}}"#)).unwrap_err();
    assert_eq!(error.codes(), ["equivalent.piles"]);
}

/// Water: 0.4 m deep on 2 m is 7.848 kN/m; it follows the deflection, so more stands there than was filled.
#[test]
fn water_follows_the_deflection() {
    let target = simple(SAGGING);
    let basin = |more: &str| {
        format!(
            r#"{{"carrier":{{"kind":"water","from":"0 m","to":"8 m","width":"2 m","rim":"2.5 m","freeboard":"0.1 m"{more}}},"ends":"seated"}}"#
        )
    };
    let plan = laid(&target, &basin(r#","depth":"0.4 m""#)).unwrap();
    let filled = 9.81 * 0.4 * 2.0 * 8.0;
    // first term of the ponding series: alpha = gamma b L^4 / (pi^4 EI)
    let alpha = 9810.0 * 2.0 * 8.0_f64.powi(4) / (std::f64::consts::PI.powi(4) * EI);
    let more = plan.force.0.to(KN) / filled - 1.0;
    assert!(more > 0.3 * alpha && more < 1.5 * alpha, "{more} {alpha}");
    let found = laid(&target, &basin("")).unwrap();
    assert!(found.verification.violation <= 0.0, "{}", found.verification.violation);
    let error = laid(&target, &basin(r#","depth":"2.45 m""#)).unwrap_err();
    assert_eq!(error.codes(), ["equivalent.freeboard"]);
}

/// A jack on three contacts by levers 1/4, 1/2, 1/4 acts where they balance.
#[test]
fn a_spreader_of_three() {
    let target = simple(SAGGING);
    let spec = r#"{"carrier":{"kind":"spreader","contacts":["2.5 m","4 m","5.5 m"],"shares":[0.25,0.5,0.25]},"ends":"seated"}"#;
    let plan = laid(&target, spec).unwrap();
    assert!(near(plan.carriers[0].at.si(), 4.0));
    assert!(near(plan.lines[1].force.0.si(), plan.force.0.si() / 2.0));
    let error = laid(&target, &spec.replace(r#","shares":[0.25,0.5,0.25]"#, "")).unwrap_err();
    assert_eq!(error.codes(), ["equivalent.contacts"]);
}

/// Two of many places: no worse than any pair tried by hand, and it says what was tried.
#[test]
fn places_are_searched() {
    let target = simple(SAGGING);
    let plan = laid(
        &target,
        r#"{"carrier":{"kind":"jack_line"},"search":{"at_most":2,"step":"0.5 m"},
        "objectives":[{"of":"overshoot","effect":"moment","basis":"net"}],"ends":"seated"}"#,
    )
    .unwrap();
    let over = |p: &Layout| p.overshoot(Effect::Moment, LoadBasis::Net).unwrap().value();
    for (a, b) in [(2.0, 6.0), (2.5, 5.5), (3.0, 5.0), (2.0, 5.5)] {
        let pair = laid(&target, &format!(r#"{{"carrier":[{{"kind":"jack_line","at":"{a} m"}},{{"kind":"jack_line","at":"{b} m"}}],"objectives":[{{"of":"overshoot","effect":"moment","basis":"net"}}],"ends":"seated"}}"#)).unwrap();
        assert!(over(&plan) <= over(&pair) + 1e-9, "{} {} at {a} {b}", over(&plan), over(&pair));
    }
    assert!(plan.notes.iter().any(|n| n.slug.code() == "equivalent.searched"));
}

/// Hogging over the inner support of two spans: patterns turn the sign elsewhere, which asks for nothing.
#[test]
fn hogging_over_an_inner_support() {
    let doubt = r#"{"mode":"hogging","from":"5.4 m","to":"6.6 m"}"#;
    let spec = r#"{"kind":"continuous","span":["6 m","6 m"],"depth":"500 mm",
        "soft":{"modulus":"25 GPa","second_moment":"0.002 m^4"},"stiff":{"modulus":"25 GPa","second_moment":"0.004 m^4"}}"#;
    let beam = read_json::<proofspan::beam::BeamSpec>(spec).unwrap();
    let beam = beam.beam(proofspan::beam::Stiffness::Soft).unwrap();
    let target = target(&beam, doubt);
    let plan = laid(&target, r#"{"carrier":[{"kind":"jack_line","at":"3 m"},{"kind":"jack_line","at":"9 m"}],"ends":"seated"}"#).unwrap();
    assert!(plan.verification.violation <= 1e-9);
    let asked = target
        .terms
        .iter()
        .map(|t| t.net.moment(6.0 * M, Side::Left).unwrap().si())
        .fold(0.0, f64::min);
    let got = plan.response.moment(6.0 * M, Side::Left).unwrap();
    assert!(got.si() <= asked * (1.0 - 1e-9), "{} {asked}", got.to(KN_M));
}

/// Everything at once, under the paths of the document.
#[test]
fn problems_under_their_paths() {
    let target = simple(SAGGING);
    let error =
        laid(&target, r#"{"carrier":[{"kind":"jack_line","at":"9 m"},{"kind":"jack_line"}]}"#)
            .unwrap_err();
    assert_eq!(error.issues[0].path, "layout.carrier[0]");
    let error =
        laid(&target, r#"{"carrier":[{"kind":"jack_line","at":"3 m"},{"kind":"jack_line"}]}"#)
            .unwrap_err();
    assert_eq!(
        (error.issues[0].path.as_str(), error.codes()),
        ("layout.carrier[1]", vec!["equivalent.candidate"])
    );
    let error = laid(
        &target,
        r#"{"carrier":[{"kind":"jack_line","at":"3 m"},{"kind":"jack_line","at":"3 m"}]}"#,
    )
    .unwrap_err();
    assert_eq!(error.codes(), ["equivalent.jack-duplicate"]);
    let error = laid(&target, r#"{"carrier":{"kind":"jack_line","at":"3 m"},"requirements":[{"kind":"reach","effect":"moment","from":"6 m","to":"2 m"}]}"#).unwrap_err();
    assert_eq!(error.issues[0].path, "layout.requirements[0].to");
    let overlap =
        format!(r#"{{"doubt":[{SAGGING},{{"mode":"flexure","from":"5 m","to":"7 m"}}]}}"#);
    let scope = |doubt: &str| {
        format!(
            r#"{{"member":{{"id":"a","kind":"beam","unit":"beam"}},{}"#,
            doubt.trim_start_matches('{')
        )
    };
    let error = read_json::<proofspan::scope::Scope>(&scope(&overlap)).unwrap_err();
    assert_eq!(error.codes(), ["scope.region-overlap"]);
}
