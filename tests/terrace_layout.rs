//! The layout of the terrace strip, number by number, and the laws any layout obeys. Expected
//! values are exact fractions from closed forms of statics (own derivation).

mod terrace_parts;

use proofspan::beam::Side;
use proofspan::equivalent::{Effect, EndFixity, Layout, LayoutSpec, layout, verify};
use proofspan::error::Error;
use proofspan::scope::Mode;
use proofspan::source::read_json;
use proofspan::target::{Region, Target};
use proofspan::units::*;
use proofspan::verdict::State;
use proptest::prelude::*;
use terrace_parts::{simple, strip};

const AT_SIX: &str = r#"{"carrier":{"kind":"jack_line","at":"6 ft"}}"#;

fn plan(target: &Target, spec: &str) -> Result<Layout, Error> {
    let spec: LayoutSpec = read_json(spec)?;
    layout(target, &spec, Some(17.6 * IN))
}

fn near(value: f64, exact: f64) -> bool {
    (value - exact).abs() <= 1e-11 * exact.abs()
}

#[test]
fn the_force_is_the_exact_fraction() {
    let plan = plan(&strip("a"), AT_SIX).unwrap();
    let force = plan.force.0.to(LBF);
    assert!(near(force, 2_098_760.0 / 117.0), "{force}");
    assert!(near(force / 3.0, 2_098_760.0 / 351.0));
    assert_eq!(plan.governed_by.0, Effect::Shear);
    assert!(plan.governed_by.1.abs() < 1e-9 * M && plan.governed_by.2 == 2);
    assert!(plan.verification.violation.abs() < 1e-12, "{:?}", plan.verification);
    let reached = plan.verdicts.iter().find(|v| v.slug.code() == "equivalent.short").unwrap();
    assert_eq!(reached.state, State::Pass);
}

#[test]
fn overshoot_in_shear_and_moment_net_and_total() {
    let target = strip("a");
    let plan = plan(&target, AT_SIX).unwrap();
    let o = |effect, basis| {
        plan.overshoots.iter().find(|o| o.effect == effect && o.basis == basis).unwrap()
    };
    let expected = [
        (Effect::Moment, LoadBasis::Net, 262_345.0 / 211_963.0, 2),
        (Effect::Moment, LoadBasis::Total, 494_005.0 / 443_623.0, 2),
        (Effect::Shear, LoadBasis::Net, 262_345.0 / 168_668.0, 1),
        (Effect::Shear, LoadBasis::Total, 458_365.0 / 364_688.0, 1),
    ];
    for (effect, basis, ratio, term) in expected {
        let o = o(effect, basis);
        assert!(near(o.ratio.value(), ratio) && o.term == term, "{effect} {basis}: {:?}", o);
        assert!((o.at.to(FT) - 6.0).abs() < 1e-9 && o.side == Side::Left);
    }
}

/// The table of ratios at five places, against each term and the envelope (printed digits).
#[test]
fn the_table_of_ratios() {
    let target = strip("a");
    let plan = plan(&target, AT_SIX).unwrap();
    // x, M net envelope, M net a2, M total envelope, M total a2, V net envelope, V net a2, V total envelope, V total a2
    let table: [(f64, [f64; 8]); 4] = [
        (1.5, [1.05454, 1.13382, 1.02675, 1.06322, 1.11383, 1.18202, 1.05528, 1.08570]),
        (3.0, [1.11230, 1.18148, 1.05457, 1.08546, 1.24531, 1.28866, 1.11683, 1.13502]),
        (4.5, [1.17335, 1.23216, 1.08350, 1.10900, 1.39735, 1.41183, 1.18577, 1.19148]),
        (6.0, [1.23769, 1.28611, 1.11357, 1.13396, 1.55539, 1.55539, 1.25687, 1.25687]),
    ];
    for (x, expected) in table {
        let mut got = Vec::new();
        for effect in [Effect::Moment, Effect::Shear] {
            for basis in [LoadBasis::Net, LoadBasis::Total] {
                let (terms, envelope) =
                    plan.ratios(&target, effect, basis, x * FT, Side::Left).unwrap();
                got.extend([envelope.unwrap().0, terms[1].unwrap()]);
            }
        }
        for (g, e) in got.iter().zip(expected) {
            assert!((g - e).abs() < 6e-6, "x = {x}: {got:?}");
        }
    }
    // against dead load only, at 0+ and at 6 ft
    let (v, _) =
        plan.ratios(&target, Effect::Shear, LoadBasis::Net, 0.0 * FT, Side::Right).unwrap();
    assert!((v[0].unwrap() - 3.27154).abs() < 6e-6 && (v[1].unwrap() - 1.08893).abs() < 6e-6);
    let (m, _) =
        plan.ratios(&target, Effect::Moment, LoadBasis::Net, 6.0 * FT, Side::Left).unwrap();
    assert!((m[0].unwrap() - 3.77486).abs() < 6e-6);
}

#[test]
fn deflections_of_the_jacks() {
    let plan = plan(&strip("a"), AT_SIX).unwrap();
    let v = |x: f64| plan.response.deflection(x * FT).unwrap().to(IN);
    assert!(near(v(6.0), 682_097.0 / 3_515_625.0));
    assert!(near(v(22.5), 34_577_071.0 / 97_500_000.0));
    let largest = plan.response.deflection_extremes(0.0 * FT, 45.0 * FT).unwrap().max;
    assert!(near(largest.value.to(IN), 891_973.0 / 63_281_250.0 * 663.0_f64.sqrt()));
    assert!((largest.at.to(FT) - (45.0 - 663.0_f64.sqrt())).abs() < 1e-9, "not at midspan");
    for (x, printed) in [(1.5, 0.052_003), (3.0, 0.102_606), (11.25, 0.304_926)] {
        assert!((v(x) - printed).abs() < 6e-7);
    }
}

/// One term for everything is a trap: live-led only reaches 0.918333 of the end shear.
#[test]
fn one_term_for_everything_falls_short() {
    let target = strip("a");
    let mut only = target.clone();
    only.terms.retain(|t| t.id == "a2");
    let plan = plan(&only, AT_SIX).unwrap();
    assert!(near(plan.force.0.to(LBF), 1_927_360.0 / 117.0));
    let found = verify(&target.beam, &target, &plan.forces(), &[Effect::Shear]).unwrap();
    assert!((found.least[0].fidelity.value() - 0.918_333).abs() < 6e-7);
    let mut rain = target.clone();
    rain.terms.retain(|t| t.id == "a3");
    let p = layout(&rain, &read_json(AT_SIX).unwrap(), None).unwrap();
    assert!(
        near(p.force.0.to(LBF), 2_098_760.0 / 117.0),
        "rain-led alone sets the force of one line"
    );
}

#[test]
fn a_limit_that_cannot_be_kept_says_what_breaks_it() {
    let target = strip("a");
    let with = |basis: &str, cap: f64| {
        let text = format!(
            r#"{{"carrier":{{"kind":"jack_line","at":"6 ft"}},"limits":[{{"effect":"moment","basis":"{basis}","at_most":{cap}}}]}}"#
        );
        plan(&target, &text).unwrap()
    };
    let broken = with("net", 1.20);
    let verdict =
        broken.verdicts.iter().find(|v| v.slug.code() == "equivalent.limit-conflict").unwrap();
    assert_eq!(verdict.state, State::Fail);
    let note = broken.notes.iter().find(|n| n.slug.code() == "equivalent.limit-conflict").unwrap();
    assert!(note.message.contains("1.237692") && note.message.contains("a3"), "{}", note.message);
    let state = |plan: Layout| {
        plan.verdicts.iter().find(|v| v.slug.code() == "equivalent.limit-conflict").unwrap().state
    };
    assert_eq!(state(with("total", 1.10)), State::Fail);
    assert_eq!(state(with("total", 1.12)), State::Pass);
    assert_eq!(state(with("net", 1.25)), State::Pass);
}

#[test]
fn ends_held_against_rotation() {
    let plan = plan(&strip("a"), AT_SIX).unwrap();
    let bound = plan.bounds.iter().find(|b| b.ends == EndFixity::LeftFixed).unwrap();
    let shear = bound.least.iter().find(|l| l.effect == Effect::Shear).unwrap();
    assert!((shear.fidelity.value() - 0.920_064).abs() < 6e-7, "{shear:?}");
    assert!((bound.total_shear.value() - 0.960_856).abs() < 6e-7);
    let verdict =
        plan.verdicts.iter().find(|v| v.slug.code() == "equivalent.support-bounds").unwrap();
    assert_eq!(verdict.state, State::Inconclusive);
    let seated = r#"{"carrier":{"kind":"jack_line","at":"6 ft"},"ends":"seated"}"#;
    assert!(self::plan(&strip("a"), seated).unwrap().bounds.is_empty());
}

/// A line placed 1 in too far out loses shear e/(L-p): 467/468 at 1 in (closed form). The verifier
/// sees it, and a force that is one part in a thousand short.
#[test]
fn the_verifier_catches_seeded_faults() {
    let target = strip("a");
    let force = Net(2_098_760.0 / 117.0 * LBF);
    let least = |at: Length, force| {
        verify(&target.beam, &target, &[(at, force)], &[Effect::Shear]).unwrap().least[0]
            .fidelity
            .value()
    };
    assert!((least(6.0 * FT, force) - 1.0).abs() < 1e-12);
    assert!((least(6.0 * FT + 1.0 * IN, force) - 467.0 / 468.0).abs() < 1e-12);
    assert!((least(6.0 * FT, force * 0.999) - 0.999).abs() < 1e-12);
    assert!(
        least(5.0 * FT, force) < 0.0,
        "a line inside the region leaves negative shear right of it"
    );
}

#[test]
fn refusals() {
    let target = strip("a");
    let codes = |spec: &str| plan(&target, spec).unwrap_err().codes();
    assert_eq!(
        codes(r#"{"carrier":{"kind":"jack_line","at":"46 ft"}}"#),
        ["equivalent.jack-outside"]
    );
    assert_eq!(codes(r#"{"carrier":{"kind":"jack_line","at":"5 ft"}}"#), ["equivalent.uncovered"]);
    assert_eq!(
        codes(r#"{"carrier":{"kind":"spreader","contacts":["6 ft","6 ft"]}}"#),
        ["equivalent.jack-duplicate"]
    );
    assert_eq!(codes(r#"{"carrier":{"kind":"spreader"}}"#), ["equivalent.contacts"]);
    assert_eq!(
        codes(
            r#"{"carrier":{"kind":"jack_line","at":"6 ft"},"limits":[{"effect":"moment","at_most":0.9}]}"#
        ),
        ["loads.basis-missing", "equivalent.cap-below-one"]
    );
    let near = layout(
        &strip_region("0 ft", "0.5 ft"),
        &read_json(r#"{"carrier":{"kind":"jack_line","at":"0.5 ft"}}"#).unwrap(),
        Some(17.6 * IN),
    );
    assert_eq!(near.unwrap_err().codes(), ["equivalent.jack-near-support"]);
}

fn strip_region(from: &str, to: &str) -> Target {
    let mut target = strip("a");
    (target.from, target.to) = (Length::parse(from).unwrap(), Length::parse(to).unwrap());
    target
}

/// Between 0.5 d and 2 d the verdict is not meaningful, up to 2.5 d a note (library rule).
#[test]
fn a_jack_near_the_bearing() {
    let at = |x: &str, to: &str| {
        let spec = format!(r#"{{"carrier":{{"kind":"jack_line","at":"{x}"}}}}"#);
        plan(&strip_region("0 ft", to), &spec).unwrap()
    };
    let state = |p: &Layout| {
        p.verdicts.iter().find(|v| v.slug.code() == "equivalent.near-bearing").unwrap().state
    };
    let close = at("2 ft", "2 ft");
    assert_eq!(state(&close), State::NotMeaningful);
    assert_eq!(
        close.notes.iter().filter(|n| n.slug.code() == "equivalent.near-bearing").count(),
        1
    );
    let middle = at("40 in", "3 ft");
    assert_eq!(
        (state(&middle), middle.notes.iter().any(|n| n.slug.code() == "equivalent.near-bearing")),
        (State::Pass, true)
    );
    let far = at("6 ft", "6 ft");
    assert_eq!(
        (state(&far), far.notes.iter().any(|n| n.slug.code() == "equivalent.near-bearing")),
        (State::Pass, false)
    );
}

/// The exact optimum of one line for a shear region [0, a] is p = a (closed form).
#[test]
fn the_search_finds_the_edge_of_the_region() {
    let plan = plan(
        &strip("a"),
        r#"{"carrier":{"kind":"jack_line","search_from":"1 ft","search_to":"44 ft"}}"#,
    )
    .unwrap();
    assert!((plan.lines[0].at.to(FT) - 6.0).abs() < 1e-6, "{}", plan.lines[0].at.to(FT));
}

/// Two contacts at thirds under a uniform reference: M(L/3) = PL/6 must reach wL²/8 at midspan,
/// so P = 3wL/4 in all (closed form).
#[test]
fn a_spreader_at_the_thirds() {
    let target = simple(9.0, 10.0, (4.0, 5.0));
    let flexure = Region { mode: Mode::Flexure, from: target.from, to: target.to };
    let target = target.looking_at(flexure);
    let spec: LayoutSpec =
        read_json(r#"{"carrier":{"kind":"spreader","contacts":["3 m","6 m"]},"ends":"seated"}"#)
            .unwrap();
    let plan = layout(&target, &spec, None).unwrap();
    assert!(near(plan.force.0.to(KN), 0.75 * 10.0 * 9.0), "{}", plan.force.0.to(KN));
    assert!((plan.governed_by.1.si() - 4.5).abs() < 1e-9);
    assert!(plan.lines.iter().all(|l| near(l.force.0.to(KN), 33.75)));
    let searched: LayoutSpec =
        read_json(r#"{"carrier":{"kind":"spreader","spacing":"3 m","search_from":"1 m","search_to":"8 m"},"ends":"seated"}"#).unwrap();
    let found = layout(&target, &searched, None).unwrap();
    let cost = |p: &Layout| p.overshoot(Effect::Moment, LoadBasis::Net).unwrap().value();
    assert!(cost(&found) <= cost(&plan) + 1e-9, "{} {}", cost(&found), cost(&plan));
}

/// A plate of length b: shear falls at its near edge, so the line belongs at a + b/2.
#[test]
fn shear_falls_at_the_edge_of_the_plate() {
    let target = strip("a");
    let spec = |at: &str| {
        format!(r#"{{"carrier":{{"kind":"jack_line","at":"{at}"}},"plate_length":"8 in"}}"#)
    };
    let edge = plan(&target, &spec("76 in")).unwrap();
    assert!(near(edge.force.0.to(LBF), 419_752.0 / 27.0 * 540.0 / (540.0 - 76.0)));
    // half of the plate stands left of the end of the region: P (468/540 − 1/2) is left of its shear,
    // and a2 asks for 601.6 plf (22.5 − 6) ft and of its taper, 160 plf to nothing over 10 ft, for
    // 800 lbf (1 − 10/135) less the 672 lbf that stand left of it
    let asked = 601.6 * 16.5 + 800.0 * (125.0 / 135.0) - 672.0;
    let centre = plan(&target, &spec("72 in")).unwrap();
    let force = asked / (468.0 / 540.0 - 0.5);
    assert!(near(centre.force.0.to(LBF), force), "{} {force}", centre.force.0.to(LBF));
}

#[test]
fn nothing_to_apply_is_never_met() {
    let mut target = strip("a");
    target.terms.retain(|t| t.id == "none");
    let error = layout(&target, &read_json(AT_SIX).unwrap(), None).unwrap_err();
    assert_eq!(error.codes(), ["target.net-nonpositive"]);
}

#[test]
fn the_working_is_exact() {
    let target = strip("a");
    let plan = plan(&target, AT_SIX).unwrap();
    let working = plan.working(&target);
    assert!(working.recheck().is_empty(), "{:?}", working.recheck());
    let text = working.text(System::Us);
    assert!(
        text.contains(
            "P = V_ref * L / (L - p) = 15546.37 lbf * 45 ft / (45 ft - 6 ft) = 17938.12 lbf"
        ),
        "{text}"
    );
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// No x of a fine grid falls short, wherever the region and whatever the loads.
    #[test]
    fn no_place_of_a_fine_grid_falls_short(w in 1.0..50.0f64, l in 4.0..20.0f64, a in 0.1..0.45f64) {
        let target = simple(l, w, (0.0, a * l));
        let spec: LayoutSpec = read_json(&format!(r#"{{"carrier":{{"kind":"jack_line","at":"{} m"}},"ends":"seated"}}"#, a * l)).unwrap();
        let plan = layout(&target, &spec, None).unwrap();
        for i in 1..200 {
            let x = a * l * f64::from(i) / 200.0 * M;
            let v = plan.response.shear(x, Side::Left).unwrap() / target.shear(x, Side::Left).unwrap().value.0;
            let m = plan.response.moment(x, Side::Left).unwrap() / target.moment(x).unwrap().value.0;
            prop_assert!(v >= 1.0 - 1e-9 && m >= 1.0 - 1e-9, "{} {}", v, m);
        }
    }

    /// Twice the load, twice the force; the mirrored member, the same force.
    #[test]
    fn scaling_and_mirror(w in 1.0..50.0f64, l in 4.0..20.0f64, a in 0.1..0.45f64) {
        let force = |w: f64, region: (f64, f64), at: f64| {
            let spec: LayoutSpec = read_json(&format!(r#"{{"carrier":{{"kind":"jack_line","at":"{at} m"}},"ends":"seated"}}"#)).unwrap();
            layout(&simple(l, w, region), &spec, None).unwrap().force.0.si()
        };
        let one = force(w, (0.0, a * l), a * l);
        prop_assert!((force(2.0 * w, (0.0, a * l), a * l) / one - 2.0).abs() < 1e-11);
        prop_assert!((force(w, (l - a * l, l), l - a * l) / one - 1.0).abs() < 1e-9);
    }
}

/// Found by a review: near a zero of the reference a limit must still bind. Region 0 to 22 ft, jack at
/// 22 ft: the net shear reference falls to a few per cent of its largest there, and is counted as 2 %.
#[test]
fn a_limit_binds_near_a_zero_of_the_reference() {
    let target = strip_region("0 ft", "22 ft");
    let spec: LayoutSpec = read_json(
        r#"{"carrier":{"kind":"jack_line","at":"22 ft"},"ends":"seated","limits":[{"effect":"shear","basis":"net","at_most":8}]}"#,
    )
    .unwrap();
    let plan = layout(&target, &spec, None).unwrap();
    let worst = plan
        .overshoots
        .iter()
        .find(|o| o.effect == Effect::Shear && o.basis == LoadBasis::Net)
        .unwrap();
    assert!(worst.floored && worst.ratio.value() > 45.0, "{worst:?}");
    let verdict =
        plan.verdicts.iter().find(|v| v.slug.code() == "equivalent.limit-conflict").unwrap();
    assert_eq!(verdict.state, State::Fail);
}

/// Found by a review: of places that overshoot alike the least force is taken.
#[test]
fn of_equal_places_the_least_force_is_taken() {
    let target = simple(13.716, 8.0, (12.0, 13.716));
    let spec: LayoutSpec =
        read_json(r#"{"carrier":{"kind":"jack_line","search_from":"0.3 m","search_to":"9 m"},"ends":"seated"}"#).unwrap();
    let plan = layout(&target, &spec, None).unwrap();
    assert!((plan.lines[0].at.si() - 9.0).abs() < 1e-6, "{}", plan.lines[0].at);
}

/// Found by a review: 6 ft and 1.8288 m differ by one unit in the last place, and are one place.
#[test]
fn one_place_in_two_units_is_one_place() {
    let target = strip("a");
    let found = verify(
        &target.beam,
        &target,
        &[(1.8288 * M, Net(2_098_760.0 / 117.0 * LBF))],
        &[Effect::Shear],
    )
    .unwrap();
    assert!(found.violation.abs() < 1e-9, "{found:?}");
    let error = verify(&target.beam, &target, &[(6.0 * FT, Net(-1.0 * KN))], &[]).unwrap_err();
    assert_eq!(error.codes(), ["equivalent.force-negative", "equivalent.effects-none"]);
    let none = r#"{"carrier":{"kind":"jack_line","at":"6 ft"},"reproduce":[]}"#;
    assert_eq!(plan(&target, none).unwrap_err().codes(), ["equivalent.effects-none"]);
}

/// Only the bearing that the shear in doubt goes to counts for the distance; without the depth it is said.
#[test]
fn distance_to_the_bearing_of_the_region() {
    let target = strip("a");
    let far = r#"{"carrier":{"kind":"spreader","contacts":["6 ft","44.6 ft"]},"ends":"seated"}"#;
    let at = |text: &str, depth: Option<Length>| {
        layout(&target, &read_json(text).unwrap(), depth).map(|l| {
            let distance = l.verdicts.iter().find(|v| v.slug.code() == "equivalent.near-bearing");
            let unchecked =
                l.notes.iter().any(|n| n.slug.code() == "equivalent.distance-unchecked");
            (distance.map(|v| v.demand.si), unchecked)
        })
    };
    // 72 in over d = 17.6 in
    assert_eq!(
        at(far, Some(17.6 * IN)).unwrap().0.map(|d| (d * 1e9).round()),
        Some((72.0 / 17.6 * 1e9_f64).round())
    );
    assert_eq!(at(far, None).unwrap(), (None, true));
    let near = r#"{"carrier":{"kind":"spreader","contacts":["0.4 ft","44 ft"]},"ends":"seated"}"#;
    let codes = layout(&target, &read_json(near).unwrap(), Some(17.6 * IN)).unwrap_err().codes();
    assert!(
        codes == ["equivalent.jack-near-support"] || codes == ["equivalent.uncovered"],
        "{codes:?}"
    );
}
