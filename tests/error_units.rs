//! A refusal speaks the units of the document that is refused; what a user typed stays as it was typed.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::error::Error;
use proofspan::source::{read_json, read_toml};
use proofspan::{TestSpec, design};
use serde_json::{Value, json};

fn shipped(name: &str) -> Value {
    let path = format!("{}/examples/scenarios/{name}.test.json", env!("CARGO_MANIFEST_DIR"));
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

/// The words behind a number that are units of the metric system.
fn metric(text: &str) -> Vec<String> {
    let units =
        ["m", "mm", "N", "kN", "kN·m", "N·m", "kN/m", "N/m", "Pa", "kPa", "MPa", "m^2", "mm^2"];
    let words: Vec<&str> = text.split_whitespace().collect();
    words
        .windows(2)
        .filter(|w| {
            let number = w[0].trim_start_matches(['(', '[', '`']);
            number.parse::<f64>().is_ok()
                && units.contains(&w[1].trim_end_matches(['.', ',', ';', ':', ')', '`']))
        })
        .map(|w| format!("{} {}", w[0], w[1]))
        .collect()
}

fn refusal(document: &Value) -> Error {
    TestSpec::from_json(&document.to_string()).and_then(design).unwrap_err()
}

/// Several wrong fields of a document in US units, found by the reader: edges of rules are in ft and in.
/// Ten metres are 32.8083990 ft (0.3048 m a foot).
#[test]
fn what_the_reader_refuses() {
    let mut document = shipped("terrace_strip");
    document["beam"]["depth"] = json!("-22 in");
    document["rig"]["jacks"]["stroke"] = json!("40 ft");
    document["shoring"]["clearance"] = json!("50 ft");
    document["scope"]["doubt"]["to"] = json!("-1 ft");
    document["loads"]["actions"][0]["area"] = json!("1e30 psf");
    let error = refusal(&document);
    let text = error.to_string();
    assert!(error.issues.len() >= 4, "{text}");
    assert_eq!(metric(&text), Vec::<String>::new(), "{text}");
    assert!(text.contains("32.8083"), "{text}");
    assert!(text.contains("given: 40 ft") && text.contains("given: -22 in"), "{text}");
    // the same in SI
    document["display"] = json!("SI");
    let text = refusal(&document).to_string();
    assert!(text.contains("10 m") && text.contains("given: 40 ft"), "{text}");
}

/// What only the design finds: places beyond a member of 45 ft.
#[test]
fn what_the_design_refuses() {
    let mut document = shipped("terrace_strip");
    document["scope"]["doubt"]["to"] = json!("50 ft");
    document["layout"]["carrier"]["at"] = json!("47 ft");
    document["protocol"]["gauges"][0]["at"] = json!("60 ft");
    let error = refusal(&document);
    let text = error.to_string();
    assert_eq!(metric(&text), Vec::<String>::new(), "{text}");
    assert!(text.contains("0 to 45 ft"), "{text}");
    document["scope"]["doubt"]["to"] = json!("6 ft");
    document["layout"]["carrier"]["at"] = json!("6 ft");
    let text = refusal(&document).to_string();
    assert!(text.contains("45 ft") && metric(&text).is_empty(), "{text}");
}

/// A length typed in metres stays, the limit beside it is in feet.
#[test]
fn what_was_typed_stays() {
    let mut document = shipped("terrace_strip");
    document["scope"]["doubt"]["to"] = json!("20 m");
    let text = refusal(&document).to_string();
    assert!(text.contains("20 m") && text.contains("0 to 45 ft"), "{text}");
    assert_eq!(metric(&text), ["20 m;"], "{text}");
}

/// The same through TOML, where the units stand at the end of the document.
#[test]
fn toml_as_well() {
    let text =
        "schema_version = 1\ntitle = \"x\"\ndisplay = \"US\"\n[rig.jacks]\nstroke = \"40 ft\"\n";
    let error = read_toml::<TestSpec>(text).unwrap_err();
    let said = error.to_string();
    assert!(said.contains("32.8083") && metric(&said).is_empty(), "{said}");
    let error =
        read_json::<TestSpec>("{\"rig\":{\"jacks\":{\"stroke\":\"40 ft\"}},\"display\":\"US\"}");
    let said = error.unwrap_err().to_string();
    assert!(said.contains("32.8083") && metric(&said).is_empty(), "{said}");
}
