//! The schema says what is read: on shipped documents and on changes of them, schema and reader agree.

use proofspan::TestSpec;
use proofspan::criteria::RunRecord;
use proofspan::editions::EditionFile;
use proofspan::readings::LogSpec;
use proofspan::source::{Read, parse_toml, read_json, write_json};
use serde_json::{Value, json};

const SCENARIOS: [&str; 5] =
    ["terrace_strip", "gallery_beam", "archive_floor", "classroom_strip", "station_canopy"];
const ROOT: &str = env!("CARGO_MANIFEST_DIR");

fn words(list: &Value) -> Vec<&str> {
    list.as_array().unwrap().iter().map(|w| w.as_str().unwrap()).collect()
}

/// Whether a schema accepts a value. A keyword that is not known here fails the test.
fn accepts(schema: &Value, value: &Value, root: &Value) -> bool {
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
        "description" | "title" | "properties" | "default" | "$schema" | "$defs" => true,
        "$ref" => {
            let to = rule.as_str().unwrap().strip_prefix('#').unwrap();
            accepts(root.pointer(to).unwrap(), value, root)
        }
        "type" => rule.as_str().map_or_else(|| words(rule).into_iter().any(kind), kind),
        "enum" => rule.as_array().unwrap().contains(value),
        "const" => rule == value,
        "oneOf" => rule.as_array().unwrap().iter().filter(|s| accepts(s, value, root)).count() == 1,
        "anyOf" => rule.as_array().unwrap().iter().any(|s| accepts(s, value, root)),
        "items" => value.as_array().is_none_or(|all| all.iter().all(|v| accepts(rule, v, root))),
        "minItems" => value.as_array().is_none_or(|all| all.len() as u64 >= rule.as_u64().unwrap()),
        "minimum" => value.as_f64().is_none_or(|n| n >= rule.as_f64().unwrap()),
        "exclusiveMinimum" => value.as_f64().is_none_or(|n| n > rule.as_f64().unwrap()),
        "required" => {
            value.as_object().is_none_or(|o| words(rule).iter().all(|w| o.contains_key(*w)))
        }
        "propertyNames" => {
            value.as_object().is_none_or(|o| o.keys().all(|k| accepts(rule, &json!(k), root)))
        }
        "additionalProperties" => value.as_object().is_none_or(|o| {
            o.iter()
                .filter(|(k, _)| !properties.contains_key(*k))
                .all(|(_, v)| rule.as_bool().unwrap_or_else(|| accepts(rule, v, root)))
        }),
        other => panic!("{other}"),
    }) && value.as_object().is_none_or(|o| {
        o.iter().all(|(k, v)| properties.get(k).is_none_or(|s| accepts(s, v, root)))
    })
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
    assert!(accepts(&schema, document, &schema), "{name}");
    let mut refused = 0;
    for (change, document) in changed(document) {
        let (by_schema, codes) = (!accepts(&schema, &document, &schema), codes(&document));
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
    for name in SCENARIOS {
        agree::<TestSpec>(name, &scenario(&format!("{name}.test")), &[]);
    }
}

#[test]
fn of_a_log_and_a_record() {
    for name in SCENARIOS {
        agree::<LogSpec>(name, &scenario(&format!("{name}.log")), &["at"]);
        agree::<RunRecord>(name, &scenario(&format!("{name}.record")), &[]);
    }
}

#[test]
fn of_an_edition() {
    let folder = format!("{ROOT}/crates/proofspan/editions");
    let schema = EditionFile::schema();
    let mut count = 0;
    for file in std::fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()) {
        let text = std::fs::read_to_string(&file).unwrap();
        let tree: Value = serde_json::from_str(&write_json(&parse_toml(&text).unwrap())).unwrap();
        assert!(accepts(&schema, &tree, &schema), "{}", file.display());
        if text.len() < 6000 {
            agree::<EditionFile>(&file.display().to_string(), &tree, &[]);
            count += 1;
        }
    }
    assert!(count > 0);
}

/// Counts the references of a schema and the shapes that it names.
fn counts(schema: &Value, root: &Value) -> (usize, usize) {
    let named = schema.get("$defs").and_then(Value::as_object).map_or(0, serde_json::Map::len);
    let own = schema.get("$ref").map(|to| {
        let to = to.as_str().unwrap().strip_prefix('#').unwrap();
        assert!(root.pointer(to).is_some_and(Value::is_object), "{to}");
    });
    let inner: Vec<&Value> = match schema {
        Value::Object(o) => o.values().collect(),
        Value::Array(a) => a.iter().collect(),
        _ => Vec::new(),
    };
    let inner: Vec<_> = inner.into_iter().map(|v| counts(v, root)).collect();
    let sum = |of: fn(&(usize, usize)) -> usize| inner.iter().map(of).sum::<usize>();
    (sum(|c| c.0) + usize::from(own.is_some()), sum(|c| c.1) + named)
}

/// A shape is written once and every reference leads to one; types that share a name are told apart.
#[test]
fn a_shape_is_written_once() {
    let schema = TestSpec::schema();
    let (references, named) = counts(&schema, &schema);
    assert!(named > 100 && references > 3 * named, "{references} references to {named} shapes");
    let text = schema.to_string();
    let units = text.matches("length as text with its unit: ").count();
    assert_eq!(units, 1, "the units of a length");

    mod other {
        proofspan::record! {
            /// Another record of this name.
            pub struct Jack {
                /// A count.
                number: u32,
            }
        }
    }
    proofspan::record! {
        /// A jack.
        pub struct Jack {
            /// How many.
            count: f64,
        }
    }
    proofspan::record! {
        /// Two kinds of jacks.
        pub struct Both {
            /// One kind.
            a: Jack,
            /// The other.
            b: other::Jack,
            /// And the first again.
            c: Option<Jack>,
        }
    }
    let schema = Both::schema();
    let to = |field: &str| schema["properties"][field]["$ref"].as_str().unwrap().to_owned();
    assert_eq!(
        (to("a"), to("b"), to("c")),
        ("#/$defs/Jack".into(), "#/$defs/Jack2".into(), "#/$defs/Jack".into())
    );
    assert!(schema["$defs"]["Jack"]["properties"]["count"].is_object());
    assert!(schema["$defs"]["Jack2"]["properties"]["number"].is_object());
    let good = json!({ "a": { "count": 1.5 }, "b": { "number": 2 } });
    let bad = json!({ "a": { "count": 1.5 }, "b": { "count": 2 } });
    assert!(accepts(&schema, &good, &schema) && !accepts(&schema, &bad, &schema));
    let alone = proofspan::source::Shapes::field(Both::shape, "b").unwrap();
    assert_eq!(alone["$defs"].as_object().unwrap().len(), 1);
}
