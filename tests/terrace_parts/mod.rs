//! Targets shared by the tests: the terrace strip, and a simple span under a uniform load.

use proofspan::beam::Beam;
use proofspan::editions::{Edition, EditionChoice, Facts};
use proofspan::loads::Loads;
use proofspan::scope::Doubt;
use proofspan::source::read_json;
use proofspan::target::{Target, target};
use proofspan::units::*;
use proofspan::verdict::MemberUnit;

/// The loads of the terrace strip (invented).
pub const LOADS: &str = r#"{
    "width": "8 ft",
    "actions": [
        { "action": "self_weight", "area": "76 psf", "in_place": 1 },
        { "action": "superimposed_dead", "area": "12 psf", "in_place": 1 },
        { "action": "live", "area": "40 psf" },
        { "action": "rain", "area": "20 psf" },
        { "action": "rain", "taper": { "peak": "40 psf", "at": "0 ft", "zero_at": "10 ft" } }
    ]
}"#;

/// The terrace strip with the heavier (`a`) or the lighter (`b`) load set.
pub fn strip(set: &str) -> Target {
    let beam = Beam::simple(45.0 * FT, 4.5e8 * LBF_FT2).unwrap();
    let loads: Loads = read_json(LOADS).unwrap();
    let choice: EditionChoice = read_json(&format!(
        r#"{{"id":"ACI 437.2-13","set":"{set}",
            "facts":{{"all_suspect_tested":true,"partial_of_suspect_tested":false,"indeterminate":false,"brittle_suspected":false}},
            "confirmations":[{{"set":"b","role":"engineer","document":"copy","page":"1"}}]}}"#
    ))
    .unwrap();
    let set = Edition::shipped("ACI 437.2-13")
        .unwrap()
        .load_set(&choice, &loads.present(), &Facts::default())
        .unwrap();
    let doubt: Doubt = read_json(r#"{"mode":"shear","from":"0 ft","to":"6 ft"}"#).unwrap();
    let mut issues = Vec::new();
    let nominal = loads.nominal(45.0 * FT, &mut issues);
    assert!(issues.is_empty());
    target(&beam, nominal, &set, std::slice::from_ref(&doubt), MemberUnit::Strip).unwrap()
}

/// A simple span of `l` m with a net uniform reference of `w` kN/m and nothing in place: the
/// imposed load of IS 456:2000 with its factor of 1.25 taken out.
#[allow(dead_code, reason = "not every test file uses it")]
pub fn simple(l: f64, w: f64, region: (f64, f64)) -> Target {
    let beam = Beam::simple(l * M, 1e5 * KN_M2).unwrap();
    let loads: Loads = read_json(&format!(
        r#"{{"width":"1 m","actions":[{{"action":"live","line":"{:?} kN/m"}}]}}"#,
        w / 1.25
    ))
    .unwrap();
    let choice = EditionChoice::of("IS 456:2000");
    let set = Edition::shipped("IS 456:2000")
        .unwrap()
        .load_set(&choice, &loads.present(), &Facts::default())
        .unwrap();
    let doubt: Doubt = read_json(&format!(
        r#"{{"mode":"shear","from":"{:?} m","to":"{:?} m"}}"#,
        region.0, region.1
    ))
    .unwrap();
    let nominal = loads.nominal(l * M, &mut Vec::new());
    target(&beam, nominal, &set, std::slice::from_ref(&doubt), MemberUnit::Beam).unwrap()
}
