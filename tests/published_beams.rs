//! Beam response against published closed forms: `tests/published/beams.json` names the source of
//! each case. Values are exact rationals there.

use proofspan::beam::{Beam, Load, Response, Restraint, Side, Support};
use proofspan::units::*;
use serde_json::Value;

fn number(value: &Value) -> f64 {
    let text = value.as_str().map_or_else(|| value.to_string(), str::to_owned);
    match text.split_once('/') {
        Some((a, b)) => a.parse::<f64>().unwrap() / b.parse::<f64>().unwrap(),
        None => text.parse().unwrap(),
    }
}

fn metres(value: &Value) -> Length {
    number(value) * M
}

fn response(model: &Value) -> Response {
    let supports = model["supports"].as_array().unwrap().iter().map(|s| Support {
        at: metres(&s["x"]),
        vertical: s
            .get("k")
            .map_or(Restraint::Rigid, |k| Restraint::Spring(number(k) * KN_PER_M_SPRING)),
        rotation: if s["type"] == "fixed" { Restraint::Rigid } else { Restraint::Free },
        settlement: s.get("settlement").map_or(Length::ZERO, metres),
        lifts: false,
    });
    let rigidity = model["stiffness"].as_array().unwrap();
    let rigidity =
        rigidity.iter().map(|r| (metres(&r["from"]), number(&r["EI"]) * KN_M2)).collect();
    let loads: Vec<Load> = model["loads"].as_array().unwrap().iter().map(load).collect();
    Beam::new(metres(&model["length"]), supports.collect(), rigidity)
        .unwrap()
        .with_hinges(model["hinges"].as_array().unwrap().iter().map(metres).collect())
        .unwrap()
        .response(&loads)
        .unwrap()
}

fn load(l: &Value) -> Load {
    match l["kind"].as_str().unwrap() {
        "point" => Load::point(metres(&l["x"]), number(&l["P"]) * KN),
        "moment" => Load::moment(metres(&l["x"]), number(&l["M"]) * KN_M),
        "distributed" => Load::line(
            metres(&l["from"]),
            metres(&l["to"]),
            number(&l["w_from"]) * KN_PER_M,
            number(&l["w_to"]) * KN_PER_M,
        ),
        "curvature" => {
            Load::curvature(metres(&l["from"]), metres(&l["to"]), number(&l["kappa"]) * PER_M)
        }
        other => panic!("load {other}"),
    }
}

/// The value of a quantity of a case in kN, m.
fn found(response: &Response, e: &Value) -> f64 {
    let x = e.get("x").map_or(Length::ZERO, metres);
    let side = if e["side"] == "right" { Side::Right } else { Side::Left };
    let end = response.length();
    let reaction = || response.reactions().iter().find(|r| (r.at - x).abs() < 1e-9 * M).unwrap();
    match e["quantity"].as_str().unwrap() {
        "reaction" => reaction().force.to(KN),
        "moment_reaction_clockwise_on_beam" => reaction().moment.to(KN_M),
        "shear" => response.shear(x, side).unwrap().to(KN),
        "moment" => response.moment(x, side).unwrap().to(KN_M),
        "deflection" => response.deflection(x).unwrap().si(),
        "rotation" => response.rotation(x).unwrap().si(),
        "max_shear" => response.shear_extremes(Length::ZERO, end).unwrap().max.value.to(KN),
        "min_shear" => response.shear_extremes(Length::ZERO, end).unwrap().min.value.to(KN),
        "max_moment" => response.moment_extremes(Length::ZERO, end).unwrap().max.value.to(KN_M),
        "min_moment" => response.moment_extremes(Length::ZERO, end).unwrap().min.value.to(KN_M),
        "max_deflection" => response.deflection_extremes(Length::ZERO, end).unwrap().max.value.si(),
        "min_deflection" => response.deflection_extremes(Length::ZERO, end).unwrap().min.value.si(),
        other => panic!("quantity {other}"),
    }
}

#[test]
fn every_case_agrees_to_ten_digits() {
    let document: Value = serde_json::from_str(include_str!("published/beams.json")).unwrap();
    let mut checked = 0;
    for case in document["cases"].as_array().unwrap() {
        let id = case["id"].as_str().unwrap();
        let response = response(&case["model"]);
        let expected = case["expected"].as_array().unwrap();
        for e in expected {
            let quantity = e["quantity"].as_str().unwrap();
            let value = e["value"].as_f64().unwrap();
            // the largest value of the same family in this case sets the scale
            let family = quantity.rsplit('_').next().unwrap();
            let scale = expected
                .iter()
                .filter(|o| o["quantity"].as_str().unwrap().ends_with(family))
                .map(|o| o["value"].as_f64().unwrap().abs())
                .fold(1e-6, f64::max);
            // forces that vanish are compared with the moments of the case
            let forces = matches!(family, "reaction" | "shear");
            let moments = expected
                .iter()
                .filter(|o| o["unit"] == "kN*m")
                .map(|o| o["value"].as_f64().unwrap().abs());
            let scale = if forces { moments.fold(scale, |a, m| a.max(1e-2 * m)) } else { scale };
            let got = found(&response, e);
            assert!(
                (got - value).abs() <= 1e-10 * scale,
                "{id} {quantity} at {}: {got} against {value}",
                e["x"]
            );
            checked += 1;
        }
    }
    assert!(checked > 500, "only {checked} values were checked");
}

#[test]
fn places_of_unique_extremes_agree() {
    let document: Value = serde_json::from_str(include_str!("published/beams.json")).unwrap();
    for case in document["cases"].as_array().unwrap() {
        let id = case["id"].as_str().unwrap();
        let response = response(&case["model"]);
        let end = response.length();
        for e in case["expected"].as_array().unwrap() {
            if e["where_unique"] != true {
                continue;
            }
            let at = match e["quantity"].as_str().unwrap() {
                "max_moment" => response.moment_extremes(Length::ZERO, end).unwrap().max.at,
                "min_moment" => response.moment_extremes(Length::ZERO, end).unwrap().min.at,
                "max_deflection" => response.deflection_extremes(Length::ZERO, end).unwrap().max.at,
                _ => continue,
            };
            let expected = e["x"].as_f64().unwrap();
            assert!(
                (at.si() - expected).abs() < 1e-7,
                "{id} {}: {at} against {expected}",
                e["quantity"]
            );
        }
    }
}
