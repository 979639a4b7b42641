//! What a small change of the sources once left unnoticed: definitions, statics and clauses, each written
//! beside its test.

use proofspan::beam::{Beam, Support};
use proofspan::editions::{Edition, EditionChoice, Facts};
use proofspan::formula::Item;
use proofspan::loads::{Loads, Symbol, drift_asce_7_22, ponding, ponding_parameter};
use proofspan::scope::Doubt;
use proofspan::source::rule::{NotNegative, Positive};
use proofspan::source::{
    End, Given, MAX_ITEMS, MAX_VALUES, Node, Read, Value, Write, leaves, parse_toml, read_json,
    read_node, write_json,
};
use proofspan::target::{Target, compare, reference};
use proofspan::units::*;
use proofspan::verdict::MemberUnit;

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-12 * b.abs()
}

/// 600 N on 0.2 m by 0.3 m and the like: each quotient and product by its definition.
#[test]
fn named_quotients_and_products() {
    let (f, m) = (600.0 * N, 90.0 * N_M);
    let (b, h) = (0.2 * M, 0.3 * M);
    let area = b * h;
    let found = [
        (SpringStiffness::per(f, b).si(), 600.0 / 0.2),
        (RotationalStiffness::per(m, Rotation::from_si(0.02)).si(), 90.0 / 0.02),
        (LineLoad::spread(f, b).si(), 600.0 / 0.2),
        (AreaLoad::spread(f, area).si(), 600.0 / 0.06),
        (Stress::over(f, area).si(), 600.0 / 0.06),
        (Pressure::over(f, area).si(), 600.0 / 0.06),
        (Force::of_stress(Stress::from_si(5e3), area).si(), 5e3 * 0.06),
        (Force::weight(Mass::from_si(3.0)).si(), 3.0 * 9.806_65),
        (Energy::of(f, b).si(), 120.0),
        (SecondMoment::rectangle(b, h).si(), 0.2 * 0.027 / 12.0),
        (SectionModulus::per(SecondMoment::rectangle(b, h), h / 2.0).si(), 0.2 * 0.09 / 6.0),
        (SectionModulus::needed(m, Stress::from_si(3e4)).si(), 90.0 / 3e4),
        (Volume::of(area, 2.0 * M).si(), 0.12),
        (AxialRigidity::of(Stress::from_si(2e11), area).si(), 1.2e10),
        (Area::circle(b).si(), core::f64::consts::PI * 0.01),
    ];
    for (i, (found, expected)) in found.into_iter().enumerate() {
        assert!(near(found, expected), "{i}: {found} {expected}");
    }
}

/// Noise is what is below 1e-12 of the largest; a plain number is measured against 1.
#[test]
fn at_the_edge_of_noise_a_number_stands() {
    let page = Page::default();
    assert!(page.settled(Quantity::new(Kind::Ratio, 1e-12)) > 0.0);
    assert!(page.settled(Quantity::new(Kind::Ratio, 0.9e-12)) == 0.0);
}

/// 20 °C and 15 K more are 35 °C; 35 °C less 20 °C are 15 K.
#[test]
fn a_temperature_and_a_change() {
    let (warm, change) = (Temperature::parse("20 °C").unwrap(), TemperatureChange::from_si(15.0));
    assert!(near((warm + change).si(), 35.0 + 273.15));
    let hot = Temperature::parse("35 °C").unwrap();
    assert!((hot - warm - change).si().abs() < 1e-12);
}

/// All the digits needed to read a value back, down to the smallest.
#[test]
fn the_smallest_number_is_shown() {
    let least = Length::from_si(f64::MIN_POSITIVE);
    assert_eq!(Length::parse(&least.show(M).to_string()).unwrap(), least);
}

#[test]
fn words_of_a_measure_and_a_basis() {
    assert_eq!(Measure::of(Kind::Force).words(), Kind::Force.words());
    for basis in [LoadBasis::Net, LoadBasis::Total, LoadBasis::InPlace] {
        assert_eq!(basis.to_string(), basis.word());
    }
}

/// A tree is settled through lists and maps: 3e-9 N beside 8 kN is noise, below 1e-12 of it.
#[test]
fn noise_is_settled_in_every_item_of_a_list() {
    let force = |n: f64| Node::quantity(Quantity::new(Kind::Force, n));
    let answer = |small: f64, number: f64| {
        let list = Node::new(Value::List(vec![force(8e3), force(small)]));
        Node::map(vec![("list", list), ("more", Node::number(number))])
    };
    assert_eq!(answer(3e-9, 1e-13).settled(), answer(0.0, 0.0));
    assert_eq!(answer(9e-9, 1e-11).settled(), answer(9e-9, 1e-11));
}

/// JSON of a whole number has no point, of a negative one neither; a negative zero keeps its sign.
#[test]
fn whole_numbers_are_written_whole() {
    for (number, text) in [(2.0, "2"), (-2.0, "-2"), (-0.5, "-0.5"), (-0.0, "-0.0"), (0.0, "0")] {
        assert_eq!(write_json(&Node::number(number)), text);
    }
}

proofspan::rule! {
    /// Below one: the example cannot be one.
    pub Slope { above 0.0 SOURCE_SIGN, most 0.2 SOURCE_MAGNITUDE }
}

/// The example of a field keeps its rule, and the schema says what the docs say.
#[test]
fn a_field_has_an_example_and_words() {
    fn example<T: Read>() -> Result<T, proofspan::Error> {
        read_node(&T::sample())
    }
    assert_eq!(example::<Given<Length, Positive>>().unwrap().value, 1.0 * M);
    assert_eq!(example::<Given<Length, NotNegative>>().unwrap().value, 1.0 * M);
    let slope = example::<Given<Ratio, Slope>>().unwrap().value.value();
    assert!((slope - 0.1).abs() < 1e-6, "the middle: {slope}");
    let schema = EditionChoice::schema();
    assert_eq!(schema["description"], "Which edition, and which of its sets.");
    assert_eq!(schema["properties"]["set"]["description"], "A lighter set, asked for by name.");
    let all = leaves::<Loads>();
    let width = all.iter().find(|l| l.door.field == "width").unwrap();
    assert_eq!(format!("{:?}", width.door), "Loads.width");
}

/// Lines and columns are counted in characters from 1; a long line is counted in blocks of bytes.
#[test]
fn a_place_in_toml_is_where_an_editor_shows_it() {
    let long = "é".repeat(300);
    let text = format!("x = \"éé\"\ny = [1, \"é\", 2]\nz = [\"{long}\", 7, \"é\", 8]\n");
    let tree = parse_toml(&text).unwrap();
    let place = |name: &str, i: usize| match &tree.get(name).unwrap().value {
        Value::List(items) => items[i].place.map(|p| (p.line, p.column)),
        _ => None,
    };
    // z = [" are 6 characters, then 300, then ", and a blank
    assert_eq!(place("y", 2), Some((2, 14)));
    assert_eq!((place("z", 0), place("z", 1)), (Some((3, 6)), Some((3, 310))));
    assert_eq!(place("z", 3), Some((3, 318)));
}

/// Too many values are said once, not once for each.
#[test]
fn too_many_values_of_toml_are_one_problem() {
    let text = format!("x = [{}]", "1,".repeat(MAX_VALUES + 10));
    assert_eq!(parse_toml(&text).unwrap_err().codes(), ["source.size"]);
}

const OWN: &str = r#"
id = "own"
name = "Own rule"
title = "A rule of one's own, invented"
year = 2026
status = "current"
clause = "1"
default_set = "a"

[[sets]]
id = "a"
about = "the only set"
confidence = "user"
rows = [ { id = "r", factors = { Dw = 1.0, Ds = 1.0, L = 1.5, S = 1.0 } } ]

[[protocols]]
method = "monotonic"
full_hold = "24 h"
confidence = "user"
"#;

fn with(old: &str, new: &str) -> String {
    assert!(OWN.contains(old));
    OWN.replacen(old, new, 1)
}

fn refused(text: &str) -> Vec<(String, String)> {
    let error = Edition::from_toml(text).unwrap_err();
    error.issues.iter().map(|i| (i.slug.code().to_owned(), i.path.clone())).collect()
}

fn at(code: &str, path: &str) -> Vec<(String, String)> {
    vec![(code.to_owned(), path.to_owned())]
}

/// A factor of zero stands with its reason and not without; what is no number is named.
#[test]
fn a_factor_of_zero_has_a_reason() {
    let ds = "sets[0].rows[0].factors.Ds";
    let set =
        Edition::from_toml(&with("Ds = 1.0", r#"Ds = { factor = 0.0, reason = "clause 2" }"#))
            .map(std::sync::Arc::new)
            .unwrap()
            .load_set(
                &EditionChoice::of("own"),
                &[Symbol::SelfWeight, Symbol::SuperimposedDead, Symbol::Live],
                &Facts::default(),
            )
            .unwrap();
    assert_eq!(set.rows[0].factor(Symbol::SuperimposedDead), 0.0);
    assert_eq!(set.rows[0].factor(Symbol::Live), 1.5);
    for given in ["0.0", r#"{ factor = 0.0, reason = " " }"#, "101.0"] {
        let found = refused(&with("Ds = 1.0", &format!("Ds = {given}")));
        assert_eq!(found, at("editions.factor", ds), "{given}");
    }
    assert_eq!(refused(&with("Ds = 1.0", "Ds = true")), at("source.type", ds));
}

/// A formula that cannot be read is told at the field that holds it.
#[test]
fn a_formula_is_told_where_it_stands() {
    let stop = "[[stop_rules]]\nid = \"s\"\nconfidence = \"user\"\n";
    let criterion = "[[criteria]]\nmethod = \"monotonic\"\nid = \"c\"\nabout = \"a\"\nclause = \"1\"\nconfidence = \"user\"\n";
    for (part, path, fields) in [
        (stop, "stop_rules[0]", &["limit", "residual"][..]),
        (criterion, "criteria[0]", &["limit", "waive_if", "applies_if"]),
    ] {
        for field in fields {
            let found = refused(&format!("{OWN}\n{part}{field} = \"w <= \""));
            let here = format!("{path}.{field}");
            assert!(found.iter().any(|f| f.1 == here), "{found:?}");
            assert!(found.iter().all(|f| f.1.starts_with(path)), "{found:?}");
        }
    }
}

fn loads(actions: &str) -> Loads {
    read_json(&format!(r#"{{"width":"2 m","actions":[{actions}]}}"#)).unwrap()
}

/// An action of size zero is not there, in whatever shape it is given.
#[test]
fn an_action_of_nothing_is_not_present() {
    for (shape, there) in [
        (r#""area":"0 kPa""#, false),
        (r#""area":"1 Pa""#, true),
        (r#""line":"0 kN/m""#, false),
        (r#""line":"1 N/m""#, true),
        (r#""taper":{"peak":"0 kPa","at":"0 m","zero_at":"2 m"}"#, false),
        (r#""taper":{"peak":"1 Pa","at":"0 m","zero_at":"2 m"}"#, true),
        (r#""point":{"force":"0 kN","at":"1 m"}"#, false),
        (r#""point":{"force":"1 N","at":"1 m"}"#, true),
    ] {
        let found = loads(&format!(r#"{{"action":"snow",{shape}}}"#)).present();
        assert_eq!(found, if there { vec![Symbol::Snow] } else { vec![] }, "{shape}");
    }
}

/// The table of editions asks every shipped edition, whatever file, set or project the choice names.
#[test]
fn the_table_of_editions_looks_at_facts_only() {
    let beam = Beam::simple(8.0 * M, 1e5 * KN_M2).unwrap();
    let floor = loads(
        r#"{"action":"self_weight","area":"4 kPa","in_place":1},{"action":"live","area":"4 kPa"}"#,
    );
    let region: Doubt = read_json(r#"{"mode":"flexure","from":"0 m","to":"8 m"}"#).unwrap();
    let table = |choice: &EditionChoice| {
        compare(&beam, &floor, choice, &region, MemberUnit::Strip, Some(true)).unwrap()
    };
    let plain = table(&EditionChoice::of("any"));
    let named = EditionChoice {
        file: Some(OWN.to_owned()),
        set: Some("a".to_owned()),
        ..EditionChoice::of("own")
    };
    assert_eq!(table(&named), plain);
    assert!(plain.iter().filter(|c| c.outcome.is_ok()).count() >= 10);
}

/// One action has one factor in a row: Q is every imposed load, Lr|S|R each of the three.
#[test]
fn an_action_has_one_factor_in_a_row() {
    let row = |factors: &str| with("Dw = 1.0, Ds = 1.0, L = 1.5, S = 1.0", factors);
    for good in ["Dw = 1.0, Q = 1.5", "Q = 1.5", r#"Dw = 1.0, L = 1.5, "Lr|S|R" = 1.0"#] {
        assert!(Edition::from_toml(&row(good)).is_ok(), "{good}");
    }
    for twice in ["Q = 1.5, L = 1.0", "Dw = 1.0, Q = 1.5, S = 1.0", r#"S = 1.0, "Lr|S|R" = 1.0"#] {
        let found = refused(&row(twice));
        assert_eq!(found, at("editions.file", "sets[0].rows[0].factors"), "{twice}");
    }
}

/// A taper has a length, by either way it falls.
#[test]
fn a_taper_of_no_length_is_refused() {
    let taper = |at: &str, zero: &str| {
        let text = format!(
            r#"{{"width":"2 m","actions":[{{"action":"snow","taper":{{"peak":"1 kPa","at":"{at}","zero_at":"{zero}"}}}}]}}"#
        );
        read_json::<Loads>(&text).map_or_else(|e| e.codes(), |_| Vec::new())
    };
    assert_eq!(taper("2 m", "2 m"), ["loads.taper-end-unknown"]);
    assert!(taper("2 m", "3 m").is_empty() && taper("3 m", "2 m").is_empty());
}

/// An action by its name stands beside a list of others, not beside a list that has it too.
#[test]
fn an_action_is_named_or_listed() {
    let both = |name: &str| {
        let text = format!(
            r#"{{"width":"2 m","{name}":"1 kPa","in_place":["{name}"],"actions":[{{"action":"live","area":"1 kPa"}}]}}"#
        );
        read_json::<Loads>(&text)
    };
    let loads = both("self_weight").unwrap();
    assert_eq!(loads.present(), [Symbol::SelfWeight, Symbol::Live]);
    assert!(both("live").unwrap_err().codes().contains(&"source.field-duplicate"));
}

/// The longest list that is read, and one more.
#[test]
fn a_list_has_a_longest_length() {
    let list = |n: usize| Node::new(Value::List(vec![Node::number(1.0); n]));
    assert_eq!(read_node::<Vec<f64>>(&list(MAX_ITEMS)).unwrap().len(), MAX_ITEMS);
    let error = read_node::<Vec<f64>>(&list(MAX_ITEMS + 1)).unwrap_err();
    assert_eq!(error.codes(), ["source.size"]);
}

/// A value that is not zero is never said to be zero.
#[test]
fn the_least_number_is_not_zero_in_words() {
    assert_eq!(digits(f64::MIN_POSITIVE, 3), "2.23e-308");
}

fn asked(beam: &Beam, actions: &str, from: &str, to: &str) -> Target {
    doubted(beam, actions, "flexure", (from, to))
}

fn doubted(beam: &Beam, actions: &str, mode: &str, (from, to): (&str, &str)) -> Target {
    let region = format!(r#"{{"mode":"{mode}","from":"{from}","to":"{to}"}}"#);
    let doubt: Doubt = read_json(&region).unwrap();
    let choice = EditionChoice::of("ACI 437.2-13");
    reference(beam, &loads(actions), &choice, std::slice::from_ref(&doubt), MemberUnit::Strip, None)
        .unwrap()
        .1
}

const FLOOR: &str =
    r#"{"action":"self_weight","line":"18 kN/m","in_place":1},{"action":"live","line":"20 kN/m"}"#;

/// What equilibrium alone does not settle balances all the same: V at the far end is the reaction there.
#[test]
fn a_beam_on_three_bearings_balances() {
    let supports = [0.0, 8.0, 14.0].map(|x| Support::bearing(x * M)).to_vec();
    let beam = Beam::new(14.0 * M, supports, vec![(0.0 * M, 2e4 * KN_M2)]).unwrap();
    let working = asked(&beam, FLOOR, "2 m", "4 m").working();
    let residuals: Vec<f64> = working
        .items
        .iter()
        .filter_map(|i| if let Item::Solved { residual, .. } = i { Some(*residual) } else { None })
        .collect();
    assert!(!residuals.is_empty() && residuals.iter().all(|r| r.abs() < 1e-9), "{residuals:?}");
}

/// Right of the last bearing the left part holds both reactions: V = w (L - x), M = -w (L - x)²/2.
#[test]
fn the_working_of_an_overhang_is_statics() {
    let beam = Beam::overhanging(0.0 * M, 6.0 * M, 2.0 * M, 2e4 * KN_M2).unwrap();
    let working = doubted(&beam, FLOOR, "hogging", ("6.5 m", "8 m")).working();
    assert!(working.recheck().is_empty(), "{:?}", working.recheck());
}

/// A combination in which every factor is zero loads nothing.
#[test]
fn a_combination_of_zeros_is_refused() {
    let zero = r#"Dw = { factor = 0.0, reason = "clause 2" }"#;
    let found = refused(&with("Dw = 1.0, Ds = 1.0, L = 1.5, S = 1.0", zero));
    assert_eq!(found, at("editions.file", "sets[0].rows[0].factors"));
}

#[test]
fn loads_without_an_action_are_refused() {
    let error = read_json::<Loads>(r#"{"width":"2 m","actions":[]}"#).unwrap_err();
    assert_eq!(error.codes(), ["loads.shape"]);
}

/// A drift higher than the step is cut at its top and runs out to 4 h²/h_c, at most 8 h_c (ASCE 7-16 7.7.1).
#[test]
fn a_drift_that_does_not_fit_is_wide() {
    let drift =
        |step: f64| drift_asce_7_22(40.0 * PSF, 19.2 * PSF, 100.0 * FT, step * FT, 0.45).unwrap();
    // balanced: 19.2 psf over 0.13 × 40 + 14 = 19.2 pcf is 1 ft
    let free = drift(100.0);
    let h = free.drift_height.to(FT);
    assert!(near(free.height.to(FT), h) && near(free.width.to(FT), 4.0 * h));
    for (part, wide) in [(1.1, 4.0 * 1.1 * 1.1), (1.5, 8.0)] {
        let clear = h / part;
        let cut = drift(1.0 + clear);
        assert!((cut.height.to(FT) - clear).abs() < 1e-9);
        assert!((cut.width.to(FT) - wide * clear).abs() < 1e-9, "{part}: {}", cut.width.to(FT));
        assert!((cut.peak.to(PSF) - 19.2 * (clear + 1.0)).abs() < 1e-9);
    }
}

/// The value less and plus 2u, cut where the rule ends; only then it is said to be cut.
#[test]
fn a_cut_of_an_uncertain_value_is_told() {
    for (u, ends, cut) in [(1.0, (3.0, 7.0), false), (3.0, (0.0, 11.0), true)] {
        let given = Given::<Length, NotNegative>::new(5.0 * M).unwrap().uncertain(u * M).unwrap();
        assert_eq!(given.bounds(), Some((ends.0 * M, ends.1 * M)));
        let mut told = Vec::new();
        let mut own = given;
        own.ranges("x", &mut |path, cut| {
            told.push((path.to_owned(), cut));
            End::Low
        });
        assert_eq!(told, [("x".to_owned(), cut)]);
        assert_eq!(own.value, ends.0 * M);
    }
}

/// A point action: each factor less what is in place of it, by hand and in the answer.
#[test]
fn the_working_of_a_point_action_is_statics() {
    let beam = Beam::simple(8.0 * M, 2e4 * KN_M2).unwrap();
    let actions = r#"{"action":"self_weight","line":"18 kN/m","in_place":1},
        {"action":"superimposed_dead","point":{"force":"12 kN","at":"2 m"},"in_place":0.5},
        {"action":"live","point":{"force":"30 kN","at":"3 m"}}"#;
    let target = asked(&beam, actions, "3.5 m", "5 m");
    let working = target.working();
    assert!(working.recheck().is_empty(), "{:?}", working.recheck());
    // a2: 1.1 Ds + 1.6 L: (1.1 - 0.5) 12 = 7.2 and 48 kN; M = Σ P a (8 - x)/8 right of both
    let m = (7.2 * 2.0 + 48.0 * 3.0) * (8.0 - 4.0) / 8.0;
    assert!(near(target.moment(4.0 * M).unwrap().value.0.to(KN_M), m));
}

/// The growth of a wet simple span tends to alpha, which is exact for its sine; pieces of L/256 give it to
/// (π/256)²/12.
#[test]
fn the_growth_of_ponding_is_alpha() {
    let (span, width, ei) = (10.0 * M, 2.0 * M, 4e3 * KN_M2);
    let gamma = UnitWeight::from_si(9806.65);
    let beam = Beam::simple(span, ei).unwrap();
    let bed = [(0.0 * M, 0.1 * M), (span, 0.1 * M)];
    let found = ponding(&beam, &bed, width, gamma, 128).unwrap();
    let alpha = ponding_parameter(gamma, width, span, ei);
    assert!((found.growth / alpha - 1.0).abs() < 2e-5, "{} {alpha}", found.growth);
}

#[test]
fn symbols_and_words_are_what_they_name() {
    assert_eq!((M.symbol(), KN_M.symbol(), PSF.symbol()), ("m", "kN·m", "psf"));
    let force = Quantity::new(Kind::Force, 1.0);
    for (value, word) in [
        (Value::Null, "nothing"),
        (Value::Bool(true), "true or false"),
        (Value::Number(1.0), "a bare number"),
        (Value::Count(1), "a bare number"),
        (Value::Text(String::new()), "text"),
        (Node::quantity(force).value, "a quantity"),
        (Value::List(Vec::new()), "a list"),
        (Value::Map(Vec::new()), "an object"),
    ] {
        assert_eq!(Node::new(value).type_word(), word);
    }
}

/// So many decimals, as long as there are nine digits at the most.
#[test]
fn nine_digits_keep_their_decimals() {
    let page = Page::default();
    assert_eq!(page.number(123_456.5, 3), "123456.500");
    assert_eq!(page.number(1_234_567.5, 3), "1234567.5");
}

#[test]
fn a_column_is_in_the_unit_it_names() {
    let column = Column::<Length>::new("mm", &[1.0, 250.0]).unwrap();
    let si: Vec<f64> = column.magnitudes().collect();
    assert!(si.len() == 2 && near(si[0], 0.001) && near(si[1], 0.25), "{si:?}");
    assert!(Column::<Length>::new("kN", &[1.0]).is_err());
    assert_eq!(Column::<Length>::new("m", &[f64::NAN]).unwrap_err().code(), "units.nonfinite");
}

/// A criterion is evaluated on its names, then its facts.
#[test]
fn a_criterion_has_a_slot_for_each_name_and_fact() {
    use proofspan::editions::{CRITERION_FACTS, CRITERION_NAMES, CRITERION_SLOTS};
    assert_eq!(CRITERION_SLOTS, CRITERION_NAMES.len() + CRITERION_FACTS.len());
}

/// What is accepted is said with the side of the edge and its unit.
#[test]
fn a_refusal_says_what_is_accepted() {
    use proofspan::loads::Width;
    use proofspan::source::rule::Share;
    let limit = |error: proofspan::Error| error.issues[0].limit.clone().unwrap();
    let width = |m: f64| limit(Given::<Length, Width>::new(m * M).unwrap_err());
    assert_eq!(
        (width(-1.0), width(0.001), width(101.0)),
        ("> 0".into(), ">= 0.01 m".into(), "<= 100 m".into())
    );
    let gap = limit(Given::<Length, NotNegative>::new(-1.0 * M).unwrap_err());
    assert_eq!(gap, ">= 0");
    let share = limit(Given::<Ratio, Share>::new(Ratio::from_si(1.5)).unwrap_err());
    assert_eq!(share, "<= 1");
}

/// Digits on one side of the point are enough.
#[test]
fn a_point_needs_digits_on_one_side() {
    for (text, metres) in [("5. m", 5.0), (".5 m", 0.5), ("-5.e1 m", -50.0), ("+.25 m", 0.25)] {
        assert!(near(Length::parse(text).unwrap().si(), metres), "{text}");
    }
    assert_eq!(Length::parse(". m").unwrap_err().code(), "units.text-number");
}
