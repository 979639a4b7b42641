//! The schema says what is read: on shipped documents and on changes of them, schema and reader agree.

use proofspan::TestSpec;
use proofspan::criteria::RunRecord;
use proofspan::editions::EditionFile;
use proofspan::readings::LogSpec;
use proofspan::source::{Read, parse_toml, read_json, write_json};
use serde_json::{Value, json};

const ROOT: &str = env!("CARGO_MANIFEST_DIR");

fn words(list: &Value) -> Vec<&str> {
    list.as_array().unwrap().iter().map(|w| w.as_str().unwrap()).collect()
}

/// Whether a schema accepts a value. A keyword that is not known here fails the test.
fn accepts(schema: &Value, value: &Value) -> bool {
    let no_rules = serde_json::Map::new();
    let properties = schema.get("properties").and_then(Value::as_object).unwrap_or(&no_rules);
    let kind = |word: &str| match word {
        "object" => value.is_object(),
        "array" => value.is_array(),
        "string" => value.is_string(),
        "boolean" => value.is_boolean(),
        "number" => value.is_number(),
        "integer" => value.as_f64().is_some_and(|n| n.fract() == 0.0),
        other => panic!("{other}"),
    };
    schema.as_object().unwrap().iter().all(|(keyword, rule)| match keyword.as_str() {
        "description" | "title" | "properties" | "default" | "$schema" => true,
        "type" => rule.as_str().map_or_else(|| words(rule).into_iter().any(kind), kind),
        "enum" => rule.as_array().unwrap().contains(value),
        "const" => rule == value,
        "oneOf" => rule.as_array().unwrap().iter().filter(|s| accepts(s, value)).count() == 1,
        "anyOf" => rule.as_array().unwrap().iter().any(|s| accepts(s, value)),
        "items" => value.as_array().is_none_or(|all| all.iter().all(|v| accepts(rule, v))),
        "minItems" => value.as_array().is_none_or(|all| all.len() as u64 >= rule.as_u64().unwrap()),
        "minimum" => value.as_f64().is_none_or(|n| n >= rule.as_f64().unwrap()),
        "exclusiveMinimum" => value.as_f64().is_none_or(|n| n > rule.as_f64().unwrap()),
        "required" => {
            value.as_object().is_none_or(|o| words(rule).iter().all(|w| o.contains_key(*w)))
        }
        "propertyNames" => {
            value.as_object().is_none_or(|o| o.keys().all(|k| accepts(rule, &json!(k))))
        }
        "additionalProperties" => value.as_object().is_none_or(|o| {
            o.iter()
                .filter(|(k, _)| !properties.contains_key(*k))
                .all(|(_, v)| rule.as_bool().unwrap_or_else(|| accepts(rule, v)))
        }),
        other => panic!("{other}"),
    }) && value
        .as_object()
        .is_none_or(|o| o.iter().all(|(k, v)| properties.get(k).is_none_or(|s| accepts(s, v))))
}

/// Every place of a document, as a JSON pointer.
fn places(value: &Value, here: &str, all: &mut Vec<String>) {
    all.push(here.to_owned());
    match value {
        Value::Object(o) => o.iter().for_each(|(k, v)| places(v, &format!("{here}/{k}"), all)),
        Value::Array(a) => {
            a.iter().enumerate().for_each(|(i, v)| places(v, &format!("{here}/{i}"), all));
        }
        _ => {}
    }
}

/// The document with something else at each of its places, with a field more, with a field less.
fn changed(document: &Value) -> Vec<(String, Value)> {
    let mut all = Vec::new();
    places(document, "", &mut all);
    let mut changes = Vec::new();
    for place in all {
        let mut change = |what: &str, with: &dyn Fn(&mut Value)| {
            let mut own = document.clone();
            with(own.pointer_mut(&place).unwrap());
            changes.push((format!("{place} {what}"), own));
        };
        for other in [json!(true), json!([]), json!({}), json!([[1]])] {
            change(&other.to_string(), &|v| *v = other.clone());
        }
        if let Some(fields) = document.pointer(&place).unwrap().as_object() {
            change("one more", &|v| v["zzz"] = json!(1));
            for field in fields.keys() {
                change(&format!("without {field}"), &|v| {
                    v.as_object_mut().unwrap().remove(field);
                });
            }
        }
    }
    changes
}

/// Codes of what a schema can say: the shape of a document, not its engineering.
const SHAPE: &[&str] =
    &["source.type", "source.choice", "source.field-missing", "source.field-unknown"];

/// `between` are fields that a rule between fields asks for, which no schema says.
fn agree<T: Read>(name: &str, document: &Value, between: &[&str]) {
    let schema = T::schema();
    let codes = |d: &Value| read_json::<T>(&d.to_string()).map_or_else(|e| e.codes(), |_| vec![]);
    assert_eq!(codes(document), Vec::<&str>::new(), "{name}");
    assert!(accepts(&schema, document), "{name}");
    let mut refused = 0;
    for (change, document) in changed(document) {
        let (by_schema, codes) = (!accepts(&schema, &document), codes(&document));
        if by_schema {
            refused += 1;
            assert!(!codes.is_empty(), "{name}: {change}: the schema alone refuses");
        } else if !between.iter().any(|field| change.ends_with(&format!("without {field}"))) {
            let shape: Vec<_> = codes.iter().filter(|c| SHAPE.contains(c)).collect();
            assert!(shape.is_empty(), "{name}: {change}: the reader alone refuses: {shape:?}");
        }
    }
    assert!(refused > 20, "{name}: {refused}");
}

fn scenario(name: &str) -> Value {
    let path = format!("{ROOT}/examples/scenarios/{name}.json");
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

#[test]
fn of_a_test() {
    agree::<TestSpec>("terrace", &scenario("terrace_strip.test"), &[]);
    agree::<TestSpec>("gallery", &scenario("gallery_beam.test"), &[]);
}

#[test]
fn of_a_log_and_a_record() {
    for name in ["terrace_strip", "gallery_beam"] {
        agree::<LogSpec>(name, &scenario(&format!("{name}.log")), &["at"]);
        agree::<RunRecord>(name, &scenario(&format!("{name}.record")), &[]);
    }
}

#[test]
fn of_an_edition() {
    let folder = format!("{ROOT}/crates/proofspan/editions");
    let mut count = 0;
    for file in std::fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()) {
        let text = std::fs::read_to_string(&file).unwrap();
        let tree: Value = serde_json::from_str(&write_json(&parse_toml(&text).unwrap())).unwrap();
        assert!(accepts(&EditionFile::schema(), &tree), "{}", file.display());
        if text.len() < 6000 {
            agree::<EditionFile>(&file.display().to_string(), &tree, &[]);
            count += 1;
        }
    }
    assert!(count > 0);
}
