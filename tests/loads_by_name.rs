//! Loads in their short form: each action by its name, `in_place` beside them.

use proofspan::loads::Loads;
use proofspan::source::{Read, Write, parse_json, read_json, read_named, write_json};

fn read(text: &str) -> Result<Loads, proofspan::Error> {
    read_named("loads", &parse_json(text)?)
}

/// Code and path of every problem.
fn problems(text: &str) -> Vec<(&'static str, String)> {
    let error = read(text).unwrap_err();
    error.issues.iter().map(|i| (i.slug.code(), i.path.clone())).collect()
}

fn one(code: &'static str, path: &str) -> Vec<(&'static str, String)> {
    vec![(code, path.to_owned())]
}

#[test]
fn the_short_form_says_what_the_long_form_says() {
    let short = read(
        r#"{ "width": "8 ft", "self_weight": "76 psf", "superimposed_dead": "12 psf",
             "live": { "area": "40 psf", "occupancy": "other" },
             "rain": ["20 psf", { "peak": "40 psf", "at": "0 ft", "zero_at": "10 ft" }],
             "fluid": "1 kN/m", "imposed": { "force": "5 kN", "at": "2 m" },
             "snow": { "value": "20 psf", "low": "18 psf", "high": "25 psf" },
             "in_place": { "self_weight": 1, "superimposed_dead": 0.5 } }"#,
    );
    let long = read(
        r#"{ "width": "8 ft", "actions": [
             { "action": "self_weight", "area": "76 psf", "in_place": 1 },
             { "action": "superimposed_dead", "area": "12 psf", "in_place": 0.5 },
             { "action": "live", "area": "40 psf", "occupancy": "other", "in_place": 0 },
             { "action": "rain", "area": "20 psf", "in_place": 0 },
             { "action": "rain", "taper": { "peak": "40 psf", "at": "0 ft", "zero_at": "10 ft" }, "in_place": 0 },
             { "action": "fluid", "line": "1 kN/m", "in_place": 0 },
             { "action": "imposed", "point": { "force": "5 kN", "at": "2 m" }, "in_place": 0 },
             { "action": "snow", "area": { "value": "20 psf", "low": "18 psf", "high": "25 psf" }, "in_place": 0 } ] }"#,
    );
    assert_eq!(short, long);
    let short = short.unwrap();
    assert_eq!(read_json::<Loads>(&write_json(&short.write())).unwrap(), short);
    let one = read(r#"{ "width": "1 m", "self_weight": "1 kPa", "in_place": "self_weight" }"#);
    assert!((one.unwrap().actions[0].share_in_place() - 1.0).abs() < 1e-15);
}

#[test]
fn a_name_in_place_that_no_action_has_is_refused() {
    let text = r#"{ "width": "8 ft", "self_weight": "76 psf", "live": "40 psf", "in_place": ["live", "self_wieght"] }"#;
    let error = read(text).unwrap_err();
    assert_eq!(problems(text)[0], ("loads.in-place-unknown", "loads.in_place[1]".to_owned()));
    assert_eq!(error.issues[0].remedy, "did you mean `self_weight`?");
    assert_eq!(error.issues[0].limit.as_deref(), Some("self_weight, live"));
    // a known word, but no such action is given
    assert_eq!(
        problems(r#"{ "width": "8 ft", "live": "40 psf", "in_place": { "snow": 0.5 } }"#),
        one("loads.in-place-unknown", "loads.in_place.snow")
    );
    assert_eq!(
        problems(r#"{ "width": "8 ft", "live": "40 psf", "in_place": "dead" }"#),
        one("loads.in-place-unknown", "loads.in_place")
    );
    // an action of the list says it itself
    let listed = r#"{ "width": "8 ft", "actions": [{ "action": "live", "area": "40 psf" }], "in_place": ["live"] }"#;
    assert_eq!(problems(listed), one("loads.in-place-unknown", "loads.in_place[0]"));
    assert!(read(listed).unwrap_err().issues[0].remedy.contains("itself"));
}

#[test]
fn problems_are_told_under_the_names_of_the_short_form() {
    let with = |rest: &str| problems(&format!(r#"{{ "width": "8 ft", {rest} }}"#));
    assert_eq!(with(r#""self_weight": "76 psf""#), one("loads.in-place-missing", "loads.in_place"));
    assert_eq!(with(r#""live": "40 ft""#), one("units.dimension", "loads.live"));
    assert_eq!(with(r#""live": 40"#), one("units.missing", "loads.live"));
    assert_eq!(with(r#""live": ["1 psf", 40]"#), one("units.missing", "loads.live[1]"));
    assert_eq!(
        with(r#""rain": [{ "peak": "40 psf", "at": 0, "zero_at": "3 ft" }]"#),
        one("units.missing", "loads.rain[0].at")
    );
    assert_eq!(
        with(r#""imposed": { "force": "5 kN" }"#),
        one("source.field-missing", "loads.imposed.at")
    );
    assert_eq!(
        with(r#""self_weight": "1 psf", "in_place": { "self_weight": 1.5 }"#),
        one("loads.deduction-too-big", "loads.in_place.self_weight")
    );
    assert_eq!(
        with(r#""self_weight": { "area": "1 psf", "in_place": -1 }"#),
        one("loads.in-place-missing", "loads.self_weight.in_place")
    );
    assert_eq!(with(r#""live": "-1 psf""#), one("loads.negative", "loads.live"));
    assert_eq!(with(r#""live": "1 psf", "in_place": 1"#), one("source.type", "loads.in_place"));
    assert_eq!(
        with(r#""live": "1 psf", "in_place": [["live"]]"#),
        one("source.type", "loads.in_place[0]")
    );
}

#[test]
fn a_name_that_is_none_or_said_twice_is_refused() {
    let with = |rest: &str| problems(&format!(r#"{{ "width": "8 ft", {rest} }}"#));
    let text = r#"{ "width": "8 ft", "live": "1 psf", "self_wieght": "40 psf" }"#;
    assert_eq!(problems(text), one("source.field-unknown", "loads.self_wieght"));
    assert!(read(text).unwrap_err().issues[0].remedy.contains("`self_weight`"));
    assert_eq!(
        with(r#""live": "1 psf", "live": "2 psf""#),
        one("source.field-duplicate", "loads.live")
    );
    assert_eq!(
        with(r#""live": "1 psf", "in_place": ["live", "live"]"#),
        one("source.field-duplicate", "loads.in_place[1]")
    );
    assert_eq!(
        with(r#""live": { "area": "1 psf", "in_place": 0 }, "in_place": ["live"]"#),
        one("source.field-duplicate", "loads.in_place[0]")
    );
    assert_eq!(
        with(r#""live": "1 psf", "actions": [{ "action": "live", "area": "40 psf" }]"#),
        one("source.field-duplicate", "loads.live")
    );
    assert_eq!(with(r#""live": "1 psf", "rain": []"#), one("loads.shape", "loads.rain"));
}

#[test]
fn the_schema_knows_the_short_form() {
    let schema = Loads::schema();
    assert!(
        schema["properties"]["self_weight"].is_object()
            && schema["properties"]["in_place"].is_object()
    );
    assert_eq!(schema["required"], serde_json::json!(["width"]));
}
