use proptest::prelude::*;

use super::*;
use crate::units::{Kind, System};

fn vocabulary() -> Vocabulary {
    Vocabulary::of(&[
        ("d_max", Kind::Length),
        ("d_r", Kind::Length),
        ("lt", Kind::Length),
        ("h", Kind::Length),
        ("L", Kind::AreaLoad),
        ("M", Kind::Moment),
        ("W", Kind::Energy),
    ])
    .with_facts(&["parking", "public_assembly"])
}

fn holds(text: &str, values: [Option<f64>; 9]) -> Option<bool> {
    Formula::condition(text, &vocabulary()).unwrap().holds(&values)
}

fn codes(text: &str) -> Vec<&'static str> {
    Formula::condition(text, &vocabulary()).unwrap_err().codes()
}

const NONE: [Option<f64>; 9] = [None; 9];

#[test]
fn binary_noise_does_not_decide_and_nothing_else_is_forgiven() {
    let at = |d_max: f64, d_r: f64| {
        holds("d_r <= d_max/4", [Some(d_max), Some(d_r), None, None, None, None, None, None, None])
    };
    assert_eq!(at(1.2, 0.4 - 0.1), Some(true), "0.4 - 0.1 is a quarter of 1.2 on the decimals");
    assert_eq!(at(1.2, 0.3000001), Some(false));
    assert_eq!(at(1.2, 0.3 * (1.0 + 1e-11)), Some(false));
}

#[test]
fn a_strict_comparison_is_not_met_at_the_limit() {
    let psf = 4.448_221_615_260_5 / 0.092_903_04;
    let at = |load: f64| {
        holds(
            "parking or public_assembly or L > 100 psf",
            [None, None, None, None, Some(load * psf), None, None, Some(0.0), Some(0.0)],
        )
    };
    assert_eq!(at(100.0), Some(false));
    assert_eq!(at(100.001), Some(true));
}

#[test]
fn the_unknown_stays_unknown() {
    let facts = |p: Option<f64>, a: Option<f64>| [None, None, None, None, None, None, None, p, a];
    assert_eq!(holds("parking or public_assembly", facts(Some(1.0), None)), Some(true));
    assert_eq!(holds("parking or public_assembly", facts(Some(0.0), None)), None);
    assert_eq!(holds("parking and public_assembly", facts(Some(0.0), None)), Some(false));
    assert_eq!(holds("not parking", facts(None, None)), None);
    assert_eq!(holds("d_r <= d_max/4", NONE), None);
    assert_eq!(holds("if(parking, true, public_assembly)", facts(None, Some(1.0))), Some(true));
}

#[test]
fn an_interval_that_straddles_the_limit_is_not_settled() {
    let formula = Formula::condition("d_r <= d_max/4", &vocabulary()).unwrap();
    let at = |low, high| {
        formula.holds_within(&[Some(Interval::new(4.0, 4.0)), Some(Interval::new(low, high))])
    };
    assert_eq!(at(0.5, 0.9), Some(true));
    assert_eq!(at(0.9, 1.1), None);
    assert_eq!(at(1.1, 1.2), Some(false));
}

#[test]
fn kinds_are_checked() {
    assert_eq!(codes("d_max <= L"), ["formula.kind"]);
    assert_eq!(codes("M + W > M"), ["formula.kind"], "a moment is not an energy");
    assert_eq!(codes("d_max"), ["formula.kind"]);
    assert_eq!(codes("d_max <= lt/180 and d_mx <= h"), ["formula.name"]);
    assert_eq!(codes("d_max <= 3"), ["formula.kind"], "3 what?");
    assert_eq!(codes("d_max <= lt^2/(20000*h"), ["formula.syntax"]);
    assert_eq!(codes("d_max <= sqrt(h)"), ["formula.kind"]);
    assert_eq!(codes("d_max[psf] < 1"), ["formula.kind"]);
    assert_eq!(
        codes(&format!("{}d_max{} > h", "(".repeat(200), ")".repeat(200))),
        ["formula.depth"]
    );
    assert!(Formula::condition("d_max <= lt^2/(20000*h)", &vocabulary()).is_ok());
    assert!(Formula::condition("d_max <= max(0.05 in, lt/2000)", &vocabulary()).is_ok());
    let clash = Vocabulary::of(&[("in", Kind::Length), ("d", Kind::Length)]);
    assert!(
        Formula::condition("d <= 0.05 in", &clash)
            .unwrap_err()
            .has(crate::error::slug::FORMULA_NAME)
    );
}

/// 8^(2/3) = 4; what is no plain number has no such power, and a recorded one rechecks.
#[test]
fn a_broken_power_is_of_plain_numbers() {
    let value = |text: &str| {
        Formula::quantity(text, &vocabulary(), Kind::Ratio)
            .unwrap()
            .value(&NONE.map(|n| n.map(Noisy::from_f64)))
            .map(|n| n.value)
    };
    assert!((value("pow(8, 2/3)").unwrap() - 4.0).abs() < 1e-15);
    let of = Vocabulary::of(&[("x", Kind::Ratio)]);
    let open = Formula::quantity("pow(x, 2/3)", &of, Kind::Ratio).unwrap();
    assert_eq!(open.value(&[Some(Noisy::from_f64(-8.0))]), None);
    assert_eq!(codes("pow(h, 2) <= h"), ["formula.kind"]);
    assert_eq!(codes("pow(2, h) <= h"), ["formula.kind"]);
    assert_eq!(codes("pow(2) <= 3"), ["formula.syntax"]);
    let mut working = Working::default();
    let psi = crate::units::PSI;
    assert!((broken_power(&mut working, 8.0 * psi, 1.0 * psi) - 4.0).abs() < 1e-14);
    assert_eq!(working.recheck(), []);
    assert!(working.text(System::Us).contains("pow(f / u, 2 / 3)"), "{}", working.text(System::Us));
    assert!(working.latex(System::Us).contains(r"^{\frac{2}{3}}"), "{}", working.latex(System::Us));
}

#[test]
fn sides_of_a_comparison() {
    let formula = Formula::condition("d_max <= lt/180", &vocabulary()).unwrap();
    let sides = formula.sides(&[Some(1.2), None, Some(240.0)]).unwrap();
    assert!(
        (sides.limit - 240.0 / 180.0).abs() < 1e-15
            && (sides.demand - 1.2).abs() < 1e-15
            && sides.at_most
    );
}

crate::laws! {
    /// Force of one jack line from the end shear it must give.
    pub fn line_force(v: crate::units::Force as "V_ref(0)", l: crate::units::Length as "L", a: crate::units::Length as "a") -> crate::units::Force as "P" = v * l / (l - a);
    source "statics of a simple span";
    /// A root of plain numbers.
    pub fn impact(h: crate::units::Length as "h", d: crate::units::Length as "d_st") -> f64 as "psi" = 1.0 + sqrt(1.0 + 2.0 * (h / d));
    source "energy balance";
    /// A factor of size with a broken power.
    pub fn broken_power(f: crate::units::Stress as "f", unit: crate::units::Stress as "u") -> f64 as "k" = pow(f / unit, 2.0 / 3.0);
    source "test";
}

#[test]
fn a_recorded_chain_rechecks_and_an_edited_result_is_caught() {
    let mut working = Working::default();
    let (ft, lbf) = (crate::units::FT, crate::units::LBF);
    let p = line_force(&mut working, 419_752.0 / 27.0 * lbf, 45.0 * ft, 6.0 * ft);
    impact(&mut working, 0.25 * ft, 0.1 * ft);
    assert!((p.to(lbf) - 2_098_760.0 / 117.0).abs() < 1e-9);
    assert_eq!(working.recheck(), []);
    assert!(
        working.text(System::Us).contains(
            "P = V_ref(0) * L / (L - a) = 15546.37 lbf * 45 ft / (45 ft - 6 ft) = 17938.12 lbf"
        ),
        "{}",
        working.text(System::Us)
    );
    let Some(Item::Step(step)) = working.items.first_mut() else { panic!("a step") };
    step.result.1.si *= 1.0 + 1e-9;
    assert_eq!(working.recheck().len(), 1);
}

#[test]
fn the_laws_of_this_file_check() {
    for law in LAWS {
        let names: Vec<(&str, Kind)> = law.symbols.iter().map(|s| (s.0, s.2)).collect();
        assert!(
            Formula::quantity(law.formula, &Vocabulary::of(&names), law.result.1).is_ok(),
            "{}",
            law.name
        );
    }
}

proptest! {
    #[test]
    fn no_text_makes_it_panic(text in "\\PC{0,40}") {
        let _ = Formula::condition(&text, &vocabulary());
    }

    #[test]
    fn words_of_the_grammar_make_it_panic_neither(words in prop::collection::vec(prop::sample::select(vec!["d_max", "(", ")", "+", "-", "*", "/", "^", "2", "1.5 mm", "[m]", "if(", ",", "min(", "sqrt(", "<=", "and", "not", "parking", "or"]), 0..20)) {
        let text = words.join(" ");
        if let Ok(formula) = Formula::condition(&text, &vocabulary()) {
            let again = Formula::condition(&print::print(formula.expr(), &|n, _| n.to_owned()), &vocabulary()).unwrap();
            let values = [Some(0.01), Some(0.002), Some(6.0), Some(0.4), Some(4e3), Some(1.0), Some(1.0), Some(1.0), None];
            prop_assert_eq!(formula.holds(&values), again.holds(&values));
        }
    }
}

/// Beyond the largest double and over zero there is no number to compare with; a name in the part leaves it
/// to the values, and then an infinite side settles nothing.
#[test]
fn a_part_without_a_number_is_refused() {
    let names = Vocabulary::of(&[("rec", Kind::Ratio)]);
    for text in ["rec >= 1e308*10", "rec >= 2/(1-1)", "not rec <= sqrt(0-1)", "rec*1 >= 1 + 1/0"] {
        let error = Formula::condition(text, &names).unwrap_err();
        assert_eq!(error.codes(), ["formula.no-number"], "{text}");
    }
    let fine = Formula::condition("rec*1e308*1e10 >= 0.75", &names).unwrap();
    assert_eq!(fine.holds(&[Some(1.0)]), None);
    assert_eq!(fine.holds(&[Some(1e-300)]), Some(true));
}
