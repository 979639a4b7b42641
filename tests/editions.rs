//! Combinations of the shipped editions against hand-computed cases, and the choice of set.

use proofspan::editions::{Edition, EditionChoice, Facts};
use proofspan::loads::Symbol::{self, *};
use proofspan::source::read_json;

/// Total intensity of every row for these nominal actions, in kPa or psf as given.
fn totals(edition: &str, actions: &[(Symbol, f64)], choice: &str) -> Vec<(String, f64)> {
    let choice: EditionChoice = read_json(choice).unwrap();
    let present: Vec<Symbol> = actions.iter().filter(|a| a.1 > 0.0).map(|a| a.0).collect();
    let set =
        Edition::shipped(edition).unwrap().load_set(&choice, &present, &Facts::default()).unwrap();
    set.rows
        .iter()
        .map(|r| (r.id.to_string(), actions.iter().map(|(s, q)| r.factor(*s) * q).sum()))
        .collect()
}

fn largest(edition: &str, actions: &[(Symbol, f64)], choice: &str) -> f64 {
    totals(edition, actions, choice).iter().map(|t| t.1).fold(0.0, f64::max)
}

fn codes(edition: &str, present: &[Symbol], choice: &str) -> Vec<&'static str> {
    let choice: EditionChoice = read_json(choice).unwrap();
    match Edition::shipped(edition) {
        Ok(edition) => edition.load_set(&choice, present, &Facts::default()).unwrap_err().codes(),
        Err(error) => error.codes(),
    }
}

const FLOOR: [(Symbol, f64); 4] =
    [(SelfWeight, 4.8), (SuperimposedDead, 1.2), (Live, 4.0), (Snow, 1.5)];

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9
}

/// Hand-computed from the factor rows: Dw 4.8, Ds 1.2, L 4.0, S 1.5 kPa.
#[test]
fn one_floor_in_every_edition() {
    let of = |edition: &str, choice: &str| {
        totals(edition, &FLOOR, choice).iter().map(|t| t.1).collect::<Vec<_>>()
    };
    let a = of("ACI 437.2-13", r#"{"id":"ACI 437.2-13"}"#);
    assert!(close(a[0], 7.80) && close(a[1], 13.27) && close(a[2], 12.52), "{a:?}");
    let b = of(
        "aci-437.2-13",
        r#"{"id":"x","set":"b","facts":{"all_suspect_tested":true,"partial_of_suspect_tested":false,"indeterminate":false,"brittle_suspected":false},
            "confirmations":[{"set":"b","role":"engineer of record","document":"bought copy","page":"p. 5"}]}"#,
    );
    assert!(close(b[0], 7.20) && close(b[1], 12.32) && close(b[2], 11.82), "{b:?}");
    let c = of("ACI 318-19", r#"{"id":"x"}"#);
    assert!(close(c[0], 13.27) && close(c[1], 12.52) && close(c[2], 7.80), "{c:?}");
    let reduced = of(
        "ACI 318-19",
        r#"{"id":"x","reduce_live":true,"facts":{"parking":false,"public_assembly":false,"live":"4 kPa"}}"#,
    );
    assert!(
        close(reduced[0], 13.27) && close(reduced[1], 10.52),
        "the live-led row is never reduced: {reduced:?}"
    );
    assert!(close(largest("IS 456:2000", &FLOOR, r#"{"id":"x","companion":"sum"}"#), 12.875));
    let no_snow = [FLOOR[0], FLOOR[1], FLOOR[2]];
    assert!(close(largest("IS 456:2000", &no_snow, r#"{"id":"x"}"#), 11.00));
}

/// A roof with snow or rain only must not come out with the dead load alone.
#[test]
fn a_roof_with_snow_only_is_loaded() {
    for variable in [Snow, Rain, RoofLive] {
        let roof = [(SelfWeight, 4.8), (SuperimposedDead, 1.2), (variable, 1.5)];
        assert!(close(largest("ACI 437.2-13", &roof, r#"{"id":"x"}"#), 4.8 + 1.32 + 2.4));
        assert!(close(largest("ACI 318-19", &roof, r#"{"id":"x"}"#), 4.8 + 1.32 + 2.4));
        // 63/8 kPa, hand-computed
        assert!(close(largest("IS 456:2000", &roof, r#"{"id":"x"}"#), 7.875));
    }
}

/// Rain and snow stand in turn, never both in one row and never as one scalar maximum.
#[test]
fn roof_actions_stand_in_turn() {
    let roof = [(SelfWeight, 3.0), (Snow, 1.0), (Rain, 2.0)];
    let rows = totals("ACI 437.2-13", &roof, r#"{"id":"x"}"#);
    let ids: Vec<&str> = rows.iter().map(|r| r.0.as_str()).collect();
    assert_eq!(ids, ["a1", "a2 with snow", "a2 with rain", "a3 with snow", "a3 with rain"]);
    assert!(close(rows[3].1, 3.0 + 1.6) && close(rows[4].1, 3.0 + 3.2));
}

/// The test-load magnitudes of tests/published/test_load.json (own rational arithmetic, factors from memory).
#[test]
fn published_magnitudes() {
    let document: serde_json::Value =
        serde_json::from_str(include_str!("published/test_load.json")).unwrap();
    let number = |v: &serde_json::Value| match v.as_str().unwrap().split_once('/') {
        Some((a, b)) => a.parse::<f64>().unwrap() / b.parse::<f64>().unwrap(),
        None => v.as_str().unwrap().parse::<f64>().unwrap(),
    };
    let cases = document["cases"].as_array().unwrap();
    assert_eq!(cases.len(), 13);
    for case in cases {
        if let Some(edition) = case["inputs"]["edition"].as_str() {
            one_imposed_load(case, edition, &number);
            continue;
        }
        let input = |key: &str| number(&case["inputs"][key]);
        let actions = [
            (SelfWeight, input("Dw")),
            (SuperimposedDead, input("Ds")),
            (Live, input("L")),
            (Snow, input("S")),
        ];
        let rows = totals("ACI 437.2-13", &actions, r#"{"id":"x"}"#);
        let expected = number(&case["expected"]["TLM"]);
        let most = rows.iter().map(|r| r.1).fold(0.0, f64::max);
        assert!(close(most, expected), "{}: {most} against {expected}", case["id"]);
    }
}

/// Cases of editions that speak of one imposed load, and refusals.
fn one_imposed_load(
    case: &serde_json::Value,
    edition: &str,
    number: &dyn Fn(&serde_json::Value) -> f64,
) {
    let input = |key: &str| case["inputs"].get(key).map_or(0.0, number);
    let actions = [
        (SelfWeight, input("Dw")),
        (SuperimposedDead, input("Ds")),
        (Live, input("L")),
        (Snow, input("S")),
        (Wind, input("W")),
    ];
    let present: Vec<Symbol> = actions.iter().filter(|a| a.1 > 0.0).map(|a| a.0).collect();
    if let Some(code) = case["expected"]["error"].as_str() {
        assert_eq!(codes(edition, &present, r#"{"id":"x"}"#), [code], "{}", case["id"]);
        return;
    }
    let rows = totals(edition, &actions, r#"{"id":"x"}"#);
    let expected = case["expected"]["rows"].as_array().unwrap();
    assert_eq!(rows.len(), expected.len(), "{}", case["id"]);
    for (row, exact) in rows.iter().zip(expected) {
        assert!(close(row.1, number(exact)), "{} {}: {}", case["id"], row.0, row.1);
    }
}

#[test]
fn what_an_edition_does_not_cover_is_an_error_never_a_zero() {
    assert_eq!(
        codes("ACI 437.2-13", &[SelfWeight, Fluid], r#"{"id":"x"}"#),
        ["editions.action-not-covered"]
    );
    assert_eq!(
        codes("IS 456:2000", &[SelfWeight, Live, Snow], r#"{"id":"x"}"#),
        ["editions.companion-unknown"]
    );
    assert_eq!(
        codes("ACI CODE-437.2-22", &[SelfWeight, Live], r#"{"id":"x"}"#),
        ["editions.values-unknown"]
    );
    assert_eq!(codes("ACI 437.2-31", &[SelfWeight], r#"{"id":"x"}"#), ["editions.edition-unknown"]);
    let error = Edition::shipped("ACI 437.2-31").unwrap_err();
    assert!(error.to_string().contains("did you mean `ACI 437.2-13`?"), "{error}");
    assert_eq!(
        codes("ACI 437.2-13", &[SelfWeight], r#"{"id":"x","set":"c"}"#),
        ["editions.set-unknown"]
    );
}

#[test]
fn a_lighter_set_is_earned_or_refused() {
    let ask = |facts: &str, confirmed: bool| {
        let confirmations = if confirmed {
            r#"[{"set":"b","role":"engineer","document":"copy","page":"1"}]"#
        } else {
            "[]"
        };
        let text =
            format!(r#"{{"id":"x","set":"b","facts":{facts},"confirmations":{confirmations}}}"#);
        let choice: EditionChoice = read_json(&text).unwrap();
        Edition::shipped("ACI 437.2-13").unwrap().load_set(
            &choice,
            &[SelfWeight, Live],
            &Facts::default(),
        )
    };
    let earned = r#"{"all_suspect_tested":true,"partial_of_suspect_tested":false,"indeterminate":false,"brittle_suspected":false}"#;
    assert_eq!(ask(earned, true).unwrap().set, "b");
    let refused = |facts: &str, confirmed: bool, word: &str| {
        let error = ask(facts, confirmed).unwrap_err();
        assert_eq!(error.codes(), ["editions.set-refused"]);
        assert!(error.to_string().contains(word), "{error}");
    };
    refused(earned, false, "bought copy");
    refused("{}", true, "not known");
    refused(r#"{"all_suspect_tested":true,"brittle_suspected":true}"#, true, "is false");
    refused(
        r#"{"all_suspect_tested":true,"brittle_suspected":false}"#,
        true,
        "whether set `a` applies",
    );
    refused(
        r#"{"all_suspect_tested":true,"brittle_suspected":false,"partial_of_suspect_tested":true}"#,
        true,
        "is true as well",
    );
    // the default set needs no facts
    let choice = EditionChoice::of("x");
    let set = Edition::shipped("ACI 437.2-13")
        .unwrap()
        .load_set(&choice, &[SelfWeight], &Facts::default())
        .unwrap();
    assert_eq!(set.set, "a");
    let notes: Vec<&str> = set.notes.iter().map(|n| n.slug.code()).collect();
    assert_eq!(notes, ["editions.superseded", "editions.value-unconfirmed"]);
}

/// Exactly 100 psf may still be reduced, a little more may not; parking never (strict comparison).
#[test]
fn the_reduction_of_live_load_is_strict() {
    let factor = |live: &str, parking: bool| {
        let text = format!(
            r#"{{"id":"x","reduce_live":true,"facts":{{"parking":{parking},"public_assembly":false,"live":"{live}"}}}}"#
        );
        let choice: EditionChoice = read_json(&text).unwrap();
        let edition = Edition::shipped("ACI 318-19").unwrap();
        edition.load_set(&choice, &[SelfWeight, Live, Snow], &Facts::default()).unwrap().rows[1]
            .factor(Live)
    };
    assert_eq!(factor("100 psf", false), 0.5);
    assert_eq!(factor("100.001 psf", false), 1.0);
    assert_eq!(factor("40 psf", true), 1.0);
    let unknown: EditionChoice =
        read_json(r#"{"id":"x","reduce_live":true,"facts":{"live":"40 psf"}}"#).unwrap();
    let edition = Edition::shipped("ACI 318-19").unwrap();
    let set = edition.load_set(&unknown, &[SelfWeight, Live], &Facts::default()).unwrap();
    assert_eq!(set.rows[1].factor(Live), 1.0, "unknown occupancy keeps the full factor");
}

#[test]
fn a_bad_edition_file_lists_every_problem_with_its_line() {
    let text = r#"
id = "own"
name = "Own"
title = "t"
year = 2026
status = "curent"
clause = "1"
default_set = "z"

[[sets]]
id = "a"
about = "x"
confidence = "user"
rows = [ { id = "r", factors = { Dw = 0.0, X = 1.0 } } ]

[[criteria]]
method = "monotonic"
id = "c"
about = "x"
limit = "d_max <= lt/180"
clause = "1"
confidence = "user"
"#;
    let error = Edition::from_toml(text).unwrap_err();
    assert_eq!(
        error.codes(),
        ["source.choice", "source.field-unknown", "editions.factor", "editions.file"],
        "{error}"
    );
    assert!(
        error.to_string().contains("(line 14)")
            && error.to_string().contains("(line 6)")
            && error.to_string().contains("(line 6)"),
        "{error}"
    );
    let text = text
        .replace("curent", "current")
        .replace("Dw = 0.0, X = 1.0", "Dw = 1.0")
        .replace("lt/180", "lt*2 psf");
    let text = text.replace("\"z\"", "\"a\"");
    assert_eq!(Edition::from_toml(&text).unwrap_err().codes(), ["formula.kind"]);
    assert!(Edition::from_toml(&text.replace("lt*2 psf", "lt/180")).is_ok());
    assert_eq!(Edition::from_toml("id = [").unwrap_err().codes()[0], "source.syntax");
}

/// No edition is named in Rust sources of the library.
#[test]
fn no_edition_is_named_in_the_sources() {
    let ids: Vec<String> = Edition::list().unwrap().iter().map(|e| e.id().to_owned()).collect();
    assert!(ids.len() >= 5);
    let mut folders = vec![std::path::PathBuf::from(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/crates/proofspan/src"
    ))];
    let mut files = 0;
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
                continue;
            }
            files += 1;
            let text = std::fs::read_to_string(&path).unwrap();
            let code: String = text.lines().filter(|l| !l.trim_start().starts_with("//")).collect();
            for id in &ids {
                assert!(!code.contains(id.as_str()), "{} names {id}", path.display());
            }
        }
    }
    assert!(files > 30);
}
