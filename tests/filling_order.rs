//! The order in which bays are filled: each partial sum against what the terms ask anywhere. Expected
//! moments by statics of a beam on two bearings with an overhang, worked here.

use proofspan::units::{KN, KN_M, M};
use proofspan::verdict::State;
use proofspan::{TestDesign, TestSpec, design};
use serde_json::{Value, json};

fn canopy(change: impl FnOnce(&mut Value)) -> TestDesign {
    let text = std::fs::read_to_string("examples/scenarios/station_canopy.test.json").unwrap();
    let mut doc: Value = serde_json::from_str(&text).unwrap();
    change(&mut doc);
    design(TestSpec::from_json(&doc.to_string()).unwrap()).unwrap()
}

fn state(d: &TestDesign) -> State {
    let found = |v: &&proofspan::verdict::Verdict| v.slug.code() == "equivalent.filling";
    d.layout.verdicts.iter().find(found).unwrap().state
}

/// A long bay inside the span and one on the overhang, 0.5 m each. The inner one alone sags the span more
/// than any term or the full test: with 16 kN/m in place on 10 m, R = 16 · 10 (7 − 5)/7 + F (7 − 4.4)/7,
/// M(x) = R x − 8 x² − F/4.8 (x − 2)²/2.
#[test]
fn the_inner_bay_first_is_told() {
    let bay = |from: &str, to: &str| {
        json!({ "kind": "water", "from": from, "to": to, "width": "3.6 m", "rim": "0.60 m",
            "freeboard": "0.05 m", "depth": "0.5 m" })
    };
    let d = canopy(|d| {
        d["layout"]["carrier"] = json!([bay("2.0 m", "6.8 m"), bay("7.2 m", "9.9 m")]);
    });
    let filling = d.layout.filling.as_ref().unwrap();
    assert_eq!(filling.order, [1, 0]);
    assert_eq!(filling.worst.on, [0]);
    assert_eq!(filling.worst.what, "sagging moment");
    let (f, x) = (d.layout.carriers[0].force.0.to(KN), filling.worst.at.to(M));
    let reaction = 16.0 * 10.0 * 2.0 / 7.0 + f * 2.6 / 7.0;
    let moment = |x: f64| reaction * x - 8.0 * x * x - f / 4.8 * (x - 2.0).powi(2) / 2.0;
    // no place beside it sags more
    assert!(moment(x) > moment(x - 0.05) && moment(x) > moment(x + 0.05));
    let asked = |t: &proofspan::target::Term| {
        t.total.moment_extremes(0.0 * M, 10.0 * M).unwrap().max.value.to(KN_M)
    };
    let asked = d.target.terms.iter().map(asked).fold(0.0, f64::max);
    // the water stands in pieces, so a little apart from uniform
    assert!((filling.worst.ratio * asked / moment(x) - 1.0).abs() < 2e-3);
    assert!(filling.worst.part > 1.2);
    let note = d.notes.iter().find(|n| n.slug.code() == "equivalent.filling-order").unwrap();
    assert!(note.message.to_string().contains("then basin of water, set out at 2 m"));
    assert_eq!(state(&d), State::Pass);
    let page = proofspan::report::markdown(&d, None).unwrap();
    for words in ["Order of filling and stacking, at every step", "the worst of any order"] {
        assert!(page.contains(words), "{words}");
    }
}

/// The shipped canopy keeps in every order what the terms and the full test ask; one carrier has no order.
#[test]
fn an_order_that_does_not_matter_is_no_note() {
    let d = canopy(|_| {});
    let filling = d.layout.filling.as_ref().unwrap();
    assert!(filling.worst.part <= 1.0 + 1e-9 && filling.states.len() == 2);
    assert_eq!(state(&d), State::Pass);
    assert!(d.notes.iter().all(|n| n.slug.code() != "equivalent.filling-order"));
}
