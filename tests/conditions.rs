//! Conditions that could be flipped unnoticed: each side of each, from the clauses of the edition
//! files and from statics.

use proofspan::beam::{Beam, Side};
use proofspan::editions::{Edition, EditionChoice, Facts, LoadSet, ResidualTime};
use proofspan::loads::Symbol::{self, *};
use proofspan::loads::{Loads, SnowLevel};
use proofspan::source::read_json;
use proofspan::units::*;

fn facts(json: &str) -> Facts {
    read_json(json).unwrap()
}

fn set(edition: &str, choice: &str, present: &[Symbol]) -> LoadSet {
    let choice: EditionChoice = read_json(choice).unwrap();
    Edition::shipped(edition).unwrap().load_set(&choice, present, &Facts::UNKNOWN).unwrap()
}

#[test]
fn own_facts_come_first_and_each_on_its_own() {
    let all = |b: bool, live: &str| {
        facts(&format!(
            r#"{{"partial_of_suspect_tested":{b},"all_suspect_tested":{b},"indeterminate":{b},"flexural_tension_governs":{b},"brittle_suspected":{b},"parking":{b},"public_assembly":{b},"live":"{live}"}}"#
        ))
    };
    let (own, other) = (all(true, "1 kPa"), all(false, "2 kPa"));
    assert_eq!(own.or(&other), own);
    assert_eq!(Facts::UNKNOWN.or(&other), other);
    assert_eq!(own.or(&Facts::UNKNOWN), own);
    for name in Facts::FIELDS.iter().filter(|f| **f != "live") {
        let one = facts(&format!(r#"{{"{name}":true}}"#));
        let both = one.or(&other);
        assert_eq!(both.or(&own), both, "{name}: nothing is left open");
        assert_ne!(both, other, "{name}");
        assert_eq!(other.or(&one), other, "{name}");
        let why = {
            let choice = EditionChoice { facts: one, ..EditionChoice::of("x") };
            let edition = Edition::shipped("ACI 318-19").unwrap();
            edition.load_set(&choice, &[SelfWeight], &Facts::UNKNOWN).unwrap().why
        };
        assert!(why.ends_with(&format!("; known: {name} true")), "{why}");
    }
    let why =
        set("ACI 318-19", r#"{"id":"x","facts":{"parking":false,"live":"2 kPa"}}"#, &[Live]).why;
    assert!(why.ends_with("; known: parking false, live load 2 kPa"), "{why}");
    assert!(!set("ACI 318-19", r#"{"id":"x"}"#, &[Live]).why.contains("known"));
}

#[test]
fn the_default_set_asked_by_name_is_no_lighter_set() {
    let named = set("ACI 437.2-13", r#"{"id":"x","set":"a"}"#, &[SelfWeight]);
    assert_eq!((named.set.as_str(), named.rows.len()), ("a", 3));
    // a confirmation of another set confirms nothing
    let choice: EditionChoice = read_json(
        r#"{"id":"x","set":"b","facts":{"all_suspect_tested":true,"partial_of_suspect_tested":false,"indeterminate":false,"brittle_suspected":false},
            "confirmations":[{"set":"a","role":"engineer","document":"copy","page":"1"}]}"#,
    )
    .unwrap();
    let edition = Edition::shipped("ACI 437.2-13").unwrap();
    let error = edition.load_set(&choice, &[SelfWeight], &Facts::UNKNOWN).unwrap_err();
    assert_eq!(error.codes(), ["editions.set-refused"]);
}

/// ACI 318-19, rows a, b: L 1.6, 1.0 (0.5 where reduced); one roof action keeps the row's name.
#[test]
fn a_reduction_is_asked_for_and_stays_in_its_row() {
    let known = r#""facts":{"parking":false,"public_assembly":false,"live":"2 kPa"}"#;
    let live = |choice: String| {
        let set = set("ACI 318-19", &choice, &[SelfWeight, Live, Snow]);
        let factor = |id: &str| set.rows.iter().find(|r| r.id == id).unwrap().factor(Live);
        let notes: Vec<&str> = set.notes.iter().map(|n| n.slug.code()).collect();
        (factor("a"), factor("b"), notes.contains(&"editions.no-reduction"))
    };
    assert_eq!(live(format!(r#"{{"id":"x",{known}}}"#)), (1.6, 1.0, false));
    assert_eq!(live(format!(r#"{{"id":"x","reduce_live":true,{known}}}"#)), (1.6, 0.5, false));
    let assembly = known.replace("\"public_assembly\":false", "\"public_assembly\":true");
    assert_eq!(live(format!(r#"{{"id":"x","reduce_live":true,{assembly}}}"#)), (1.6, 1.0, false));
    let none = set("ACI 437.2-13", r#"{"id":"x","reduce_live":true}"#, &[SelfWeight, Live]);
    assert!(none.notes.iter().any(|n| n.slug.code() == "editions.no-reduction"));
    // CSA A23.3: 0.9 (1.25 D + 1.5 L + 1.0 S): the scale multiplies every factor of the row
    let csa = set("csa-a23.3", r#"{"id":"x"}"#, &[SelfWeight, Live, Snow]);
    let row = csa.rows.iter().find(|r| r.id == "b").unwrap();
    for (symbol, factor) in [(SelfWeight, 0.9 * 1.25), (Live, 0.9 * 1.5), (Snow, 0.9), (Rain, 0.0)]
    {
        assert!((row.factor(symbol) - factor).abs() < 1e-15, "{symbol}");
    }
    // factors() leaves out what is zero
    assert_eq!(row.factors().filter(|(s, _)| *s == Rain).count(), 0);
    assert!(row.factors().all(|(_, f)| f > 0.0));
}

#[test]
fn the_residual_is_read_on_both_sides_of_its_time() {
    let h = |hours: f64| hours * H;
    let day = h(24.0);
    for (rule, taken, keeps) in [
        (ResidualTime::At, 22.0, true),
        (ResidualTime::At, 26.0, true),
        (ResidualTime::At, 21.99, false),
        (ResidualTime::At, 26.01, false),
        (ResidualTime::Within, 24.0, true),
        (ResidualTime::Within, 0.0, true),
        (ResidualTime::Within, 24.01, false),
        (ResidualTime::AtLeast, 24.0, true),
        (ResidualTime::AtLeast, 100.0, true),
        (ResidualTime::AtLeast, 23.99, false),
    ] {
        assert_eq!(rule.keeps(h(taken), day), keeps, "{rule} {taken} h");
    }
}

/// IS 456:2000 is current and every figure of it was seen; it counts the imposed load only.
#[test]
fn what_is_confirmed_has_no_note() {
    let is = set("IS 456:2000", r#"{"id":"x"}"#, &[SelfWeight, Live]);
    assert_eq!(is.notes, []);
    assert!(is.edition.imposed_only() && is.edition.cycles("monotonic").is_none());
    let aci = Edition::shipped("ACI 437.2-13").unwrap();
    assert!(!aci.imposed_only() && aci.visible_failure_clause() && is.edition.unknown().is_none());
    assert_eq!(aci.methods(), ["monotonic", "cyclic"], "each once");
    let (cycles, least) = aci.cycles("cyclic").unwrap();
    assert_eq!((cycles.len(), least), (6, Some(0.10)));
    assert!(aci.cycles("repeated").is_none() && aci.retest("repeated").is_none());
}

fn loads(actions: &str) -> Loads {
    read_json(&format!(r#"{{"width":"2 m","actions":[{actions}]}}"#)).unwrap()
}

/// Statics of the places: reactions of a simple span of 6 m.
#[test]
fn actions_stand_where_they_are_said_to_stand() {
    let span = 6.0 * M;
    let beam = Beam::simple(span, 1e4 * KN_M2).unwrap();
    let left = |actions: &str| {
        let mut issues = Vec::new();
        let nominal = loads(actions).nominal(span, &mut issues);
        assert!(issues.is_empty(), "{issues:?}");
        let all: Vec<_> = nominal.iter().map(|n| n.load).collect();
        beam.response(&all).unwrap().shear(Length::ZERO, Side::Right).unwrap().to(KN)
    };
    let close = |a: f64, b: f64| assert!((a - b).abs() < 1e-9, "{a} {b}");
    // 3 kPa on 2 m: 6 kN/m · 6/2; on a width of its own of 1 m the half
    close(left(r#"{"action":"live","area":"3 kPa"}"#), 18.0);
    close(left(r#"{"action":"live","area":"3 kPa","width":"1 m"}"#), 9.0);
    close(left(r#"{"action":"live","line":"6 kN/m"}"#), 18.0);
    // 6 kN/m from 0 to 3 m: 18 · 4.5/6; from 3 m to 6 m: 18 · 1.5/6
    close(left(r#"{"action":"live","line":"6 kN/m","to":"3 m"}"#), 13.5);
    close(left(r#"{"action":"live","line":"6 kN/m","from":"3 m"}"#), 4.5);
    // 6 kN/m falling from the left end to 3 m: 9 kN at 1 m, and mirrored at 5 m
    close(left(r#"{"action":"snow","taper":{"peak":"3 kPa","at":"0 m","zero_at":"3 m"}}"#), 7.5);
    close(left(r#"{"action":"snow","taper":{"peak":"3 kPa","at":"6 m","zero_at":"3 m"}}"#), 1.5);
    close(left(r#"{"action":"live","point":{"force":"6 kN","at":"2 m"}}"#), 4.0);
    // both ends belong to the member
    close(left(r#"{"action":"live","point":{"force":"6 kN","at":"6 m"}}"#), 0.0);
    close(left(r#"{"action":"live","line":"6 kN/m","from":"0 m","to":"6 m"}"#), 18.0);
    for outside in [
        r#"{"action":"live","line":"6 kN/m","to":"6.001 m"}"#,
        r#"{"action":"live","line":"6 kN/m","from":"3 m","to":"3 m"}"#,
        r#"{"action":"live","line":"6 kN/m","from":"4 m","to":"3 m"}"#,
        r#"{"action":"live","point":{"force":"6 kN","at":"6.001 m"}}"#,
        r#"{"action":"snow","taper":{"peak":"3 kPa","at":"0 m","zero_at":"6.001 m"}}"#,
    ] {
        let mut issues = Vec::new();
        let found = loads(outside).nominal(span, &mut issues);
        assert!(found.is_empty() && issues.len() == 1, "{outside}");
    }
}

#[test]
fn what_is_present_and_what_varies() {
    let some = loads(
        r#"{"action":"live","area":"0 kPa"},{"action":"snow","area":"1 kPa"},{"action":"self_weight","area":"4 kPa","in_place":1},{"action":"live","area":"3 kPa","in_place":0.25},{"action":"live","area":"2 kPa"},{"action":"rain","point":{"force":"1 kN","at":"1 m"}}"#,
    );
    assert_eq!(some.present(), [SelfWeight, Live, Snow, Rain]);
    assert_eq!(some.live(), Some(AreaLoad::from_si(5000.0)), "3 and 2 kPa on one place");
    assert!(loads(r#"{"action":"live","area":"0 kPa"}"#).present().is_empty());
    let nominal = some.nominal(6.0 * M, &mut Vec::new());
    let varies: Vec<bool> = nominal.iter().map(|n| n.varies).collect();
    assert_eq!(varies, [true, false, false, true, true, false]);
    assert_eq!(
        nominal.iter().map(|n| n.in_place).collect::<Vec<_>>(),
        [0.0, 0.0, 1.0, 0.25, 0.0, 0.0]
    );
    let still = Loads { patterns: false, ..some };
    assert!(still.nominal(6.0 * M, &mut Vec::new()).iter().all(|n| !n.varies));
    for symbol in Symbol::ALL {
        assert_eq!(Symbol::of(symbol.symbol()), Some(*symbol));
        assert_eq!(symbol.permanent(), matches!(symbol, SelfWeight | SuperimposedDead));
    }
    // the level of snow: at strength where any says so, open where one is silent
    let snow = |levels: &[&str]| {
        let all: Vec<String> =
            levels.iter().map(|l| format!(r#"{{"action":"snow","area":"1 kPa"{l}}}"#)).collect();
        loads(&all.join(",")).snow_level()
    };
    let (nominal, strength) = (r#","snow_level":"nominal""#, r#","snow_level":"strength""#);
    assert_eq!(snow(&[nominal, nominal]), Some(SnowLevel::Nominal));
    assert_eq!(snow(&[nominal, ""]), None);
    assert_eq!(snow(&["", strength]), Some(SnowLevel::Strength));
    assert_eq!(loads(r#"{"action":"rain","area":"1 kPa"}"#).snow_level(), None);
}

/// Exact factors: 1 ft = 12 in = 0.3048 m; a fraction is added to the whole before it.
#[test]
fn feet_inches_and_fractions() {
    let metres = |text: &str| Length::parse(text).map(Length::si);
    let close = |text: &str, si: f64| {
        assert!((metres(text).unwrap() - si).abs() < 1e-15 * si.abs().max(1.0), "{text}");
    };
    for (text, inches) in [
        ("1'-6\"", 18.0),
        ("1' 6\"", 18.0),
        ("1'6 1/2\"", 18.5),
        ("1'-1/2\"", 12.5),
        ("-1'-6\"", -18.0),
        ("5'", 60.0),
        ("6 ft 3 in", 75.0),
        ("6 1/2 in", 6.5),
        ("1.5 ft", 18.0),
    ] {
        close(text, inches * 0.0254);
    }
    for bad in [
        "6 1/0 in",
        "6.5 1/2 in",
        "1'-6",
        "1'-x\"",
        "'6\"",
        "6 1/2",
        "1/2",
        "1,5 ft",
        "1 500 ft",
        "- 5 ft",
    ] {
        assert!(metres(bad).is_err(), "{bad}");
    }
    assert_eq!(Measure::parse("2 1/m").unwrap().0.dimension, Dimension::new(-1, 0, 0, 0));
}

#[test]
fn measures_of_products_quotients_and_sums() {
    let of = Measure::of;
    let (force, length, ratio) = (of(Kind::Force), of(Kind::Length), of(Kind::Ratio));
    assert_eq!(force.times(ratio), force);
    assert_eq!(Measure::NUMBER.times(force), force);
    assert_eq!(force.over(ratio), force);
    assert_eq!(force.power(1), force);
    assert_eq!(length.power(2).root(), Some(length));
    assert_eq!(length.root(), None);
    assert!(
        force.fits(Kind::Force) && !force.fits(Kind::AxialRigidity) && !force.fits(Kind::Length)
    );
    let open = Measure { kind: None, ..force };
    assert!(
        open.fits(Kind::Force) && open.fits(Kind::AxialRigidity) && open.with(force) == Some(force)
    );
    assert_eq!(force.with(length), None);
    assert!(
        ratio.plain() && Measure::NUMBER.plain() && !length.plain() && !of(Kind::Strain).plain()
    );
    assert_eq!(Dimension::new(1, 1, -2, 0).to_string(), "m·kg·s^-2");
    assert_eq!(Dimension::NONE.to_string(), "1");
    for (edge, within) in [(32, true), (-32, true), (33, false), (-33, false)] {
        for d in [
            Dimension::new(edge, 0, 0, 0),
            Dimension::new(0, edge, 0, 0),
            Dimension::new(0, 0, edge, 0),
            Dimension::new(0, 0, 0, edge),
        ] {
            assert_eq!(d.within(), within, "{d}");
        }
    }
}
