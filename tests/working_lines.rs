//! The working goes on where equilibrium alone ends: on lines of spans every shear, moment and deflection
//! is coefficient times load, bags are layers times their weight, water is depth and deflection. Expected
//! values by the three-moment equation and by weights, worked beside them.

use proofspan::formula::{Item, Working};
use proofspan::units::{KN, System};
use proofspan::{TestDesign, TestSpec, design};
use serde_json::Value;

fn made(name: &str, change: impl FnOnce(&mut Value)) -> TestDesign {
    let path = format!("examples/scenarios/{name}.test.json");
    let mut doc = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    change(&mut doc);
    design(TestSpec::from_json(&doc.to_string()).unwrap()).unwrap()
}

/// Values that the equations of the member give, by the beginning of their words.
fn solved(working: &Working, begins: &str) -> Vec<f64> {
    let of = |item: &Item| match item {
        Item::Solved { what, value, .. } if what.to_string().starts_with(begins) => Some(value.si),
        _ => None,
    };
    working.items.iter().filter_map(of).collect()
}

/// The results under a symbol.
fn results(working: &Working, symbol: &str) -> Vec<f64> {
    working.steps().filter(|s| s.result.0 == symbol).map(|s| s.result.1.si).collect()
}

fn has(all: &[f64], value: f64) {
    let near = |x: &f64| (x - value).abs() <= 1e-7 * value.abs();
    assert!(all.iter().any(near), "{value} not in {all:?}");
}

/// Nothing is called found by search but the forces that the certificate proves.
fn searched(text: &str) {
    let lines: Vec<&str> = text.lines().collect();
    for (i, line) in lines.iter().enumerate().filter(|(_, l)| l.contains("found by search")) {
        let before = lines.get(i.saturating_sub(2)..i).unwrap().concat();
        assert!(before.contains("which the certificate of the layout proves"), "{before} {line}");
    }
}

/// Two spans of 6 and 5 m, one EI. Three moments: a uniform load of 1 N/m gives at the inner support
/// −(6³ + 5³)/(8 · 11) = −3.875 N·m, over W l = 11 · 11. One newton at 3 m gives
/// −3 (6² − 3²)/(2 · 6 · 11) N·m there, and under itself 3² 3²/(3 · 6) less that moment times
/// 3 (6² − 3²)/(6 · 6), over EI.
#[test]
fn a_line_of_two_spans_is_followed_by_coefficients() {
    let archive = made("archive_floor", |_| {});
    let working = archive.working().unwrap();
    assert_eq!(working.recheck(), []);
    searched(&working.text(System::Si));
    let moments = solved(&working, "Coefficient of the moment at x = 6 m");
    has(&moments, -(216.0 + 125.0) / 88.0 / 121.0);
    let by_jack = -3.0 * 27.0 / (2.0 * 6.0 * 11.0);
    has(&moments, by_jack / 11.0);
    let under = 81.0 / 18.0 + by_jack * 3.0 * 27.0 / 36.0;
    has(&solved(&working, "Coefficient of the deflection at x = 3 m"), under / 1331.0);
    // the reactions of the two-span floor below are lines too, and go into those of the stages
    assert!(!solved(&working, "Coefficient of the reaction at x = ").is_empty());
    assert!(!results(&working, "R_sum").is_empty());
    // what the jacks bring over what is asked
    let (_, at, _) = archive.layout.governed_by;
    assert_eq!(at.si(), 6.0);
    has(&results(&working, "reached"), 1.0);
    for (_, stage) in archive.later() {
        let working = stage.working().unwrap();
        assert_eq!(working.recheck(), []);
        searched(&working.text(System::Si));
    }
}

/// 14 kN/m³ · 85 mm · 0.9 m · 0.6 m = 0.6426 kN a layer of a pile, six piles 3.8556 kN; four layers
/// 15.4224 kN. The least force before that is not the force that is applied.
#[test]
fn bags_are_layers_times_their_weight() {
    let d = made("classroom_strip", |_| {});
    let working = d.working().unwrap();
    assert_eq!(working.recheck(), []);
    searched(&working.text(System::Si));
    has(&results(&working, "G_pile"), 642.6);
    has(&results(&working, "G_layer"), 3855.6);
    has(&results(&working, "F_pile"), 2570.4);
    has(&results(&working, "F"), 15422.4);
    let [n] = results(&working, "n_least")[..] else { panic!() };
    assert!(n > 3.0 && n < 4.0);
    assert!((d.force().0.to(KN) - 15.4224).abs() < 1e-9);
    // given layers are not searched
    let given = made("classroom_strip", |d| d["layout"]["carrier"]["layers"] = 5.into());
    let working = given.working().unwrap();
    assert_eq!(working.recheck(), []);
    has(&results(&working, "F"), 5.0 * 3855.6);
    assert!(results(&working, "n_least").is_empty());
}

/// Force of every basin from its depth and the mean deflection under it; their sum is the force of the
/// layout.
#[test]
fn water_is_depth_and_deflection() {
    let d = made("station_canopy", |_| {});
    let working = d.working().unwrap();
    assert_eq!(working.recheck(), []);
    searched(&working.text(System::Si));
    let means = solved(&working, "Mean deflection of the member under the basin");
    assert_eq!(means.len(), 3);
    let forces = results(&working, "F");
    for (carried, mean) in d.layout.carriers.iter().zip(&means) {
        // Simpson over the deflection of the answer, every metre in a hundred parts
        let (a, b) = (carried.from.si(), carried.to.si());
        let at = |i: usize| {
            let x = proofspan::units::Length::from_si(a + (b - a) * i as f64 / 200.0);
            d.layout.response.deflection(x).unwrap().si()
        };
        let sum: f64 = (0..=200)
            .map(|i| {
                at(i)
                    * if i == 0 || i == 200 {
                        1.0
                    } else if i % 2 == 1 {
                        4.0
                    } else {
                        2.0
                    }
            })
            .sum();
        // the water stands in thirty-two pieces, each level in itself
        assert!((sum / 600.0 - mean).abs() < 1e-2 * mean.abs(), "{} {mean}", sum / 600.0);
        has(&forces, carried.force.0.si());
    }
    has(&results(&working, "F_sum"), d.force().0.si());
}
