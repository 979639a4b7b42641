//! A JSON schema in which each record, each list of words and each kind of quantity is written once.

use std::collections::BTreeMap;

use serde_json::{Value, json};

/// Makes a shape; what it refers to goes to the shapes.
pub type Shape = fn(&mut Shapes) -> Value;

/// The shapes that a schema names under `$defs`.
#[derive(Default, Debug)]
pub struct Shapes {
    /// By name: the type, or the words that stand for it, and its shape.
    named: BTreeMap<String, (String, Value)>,
    /// Only the outermost shape is wanted: what it refers to is not looked at.
    outermost: bool,
}

impl Shapes {
    /// A schema (JSON Schema 2020-12) with what it refers to under `$defs`.
    #[must_use]
    pub fn whole(shape: Shape) -> Value {
        let mut shapes = Self::default();
        let mut schema = shape(&mut shapes);
        if let Some(object) = schema.as_object_mut().filter(|_| !shapes.named.is_empty()) {
            let named = shapes.named.into_iter().map(|(name, (_, shape))| (name, shape));
            object.insert("$defs".to_owned(), Value::Object(named.collect()));
        }
        schema
    }

    /// A shape alone: its fields with their descriptions, its words. What it refers to is missing.
    #[must_use]
    pub fn outermost(shape: Shape) -> Value {
        shape(&mut Self { outermost: true, ..Self::default() })
    }

    /// What the field `name` of a record accepts: a schema with what it refers to, and nothing else.
    #[must_use]
    pub fn field(record: Shape, name: &str) -> Option<Value> {
        let mut shapes = Self::default();
        let mut schema = record(&mut shapes);
        let mut own = schema.get_mut("properties")?.get_mut(name)?.take();
        let mut named = serde_json::Map::new();
        let mut open = references(&own);
        while let Some(name) = open.pop() {
            if let Some((name, (_, shape))) = shapes.named.remove_entry(&name) {
                open.extend(references(&shape));
                named.insert(name, shape);
            }
        }
        if let Some(object) = own.as_object_mut().filter(|_| !named.is_empty()) {
            object.insert("$defs".to_owned(), Value::Object(named));
        }
        Some(own)
    }

    /// What stands where a shape is used: a reference to it, with a description. `key` tells apart shapes
    /// of one name: they get a number behind it.
    #[must_use]
    pub fn refer(&mut self, name: &str, key: &str, about: &str, shape: Shape) -> Value {
        let mut name = name.to_owned();
        let mut number = 1;
        while self.named.get(&name).is_some_and(|(of, _)| of != key) {
            number += 1;
            name = format!("{}{number}", name.trim_end_matches(|c: char| c.is_ascii_digit()));
        }
        if !self.outermost && !self.named.contains_key(&name) {
            // the name is taken before the shape is made: a shape may refer to itself
            self.named.insert(name.clone(), (key.to_owned(), Value::Null));
            let made = shape(self);
            self.named.insert(name.clone(), (key.to_owned(), made));
        }
        json!({ "$ref": format!("#/$defs/{name}"), "description": about })
    }
}

/// A field of a record, as its shape tells it.
#[doc(hidden)]
#[derive(Debug)]
pub struct Shaped<'a> {
    /// Its name.
    pub name: &'static str,
    /// Its documentation, by lines.
    pub about: &'a [&'static str],
    /// What stands where its type is used.
    pub refer: Shape,
    /// Whether it may be left out.
    pub may_be_absent: fn() -> bool,
}

/// The shapes that the macros make of their tables.
#[doc(hidden)]
impl Shapes {
    /// [`Shapes::refer`] with the documentation by lines.
    #[must_use]
    pub fn refer_to(&mut self, name: &str, key: &str, about: &[&str], shape: Shape) -> Value {
        self.refer(name, key, &lines(about), shape)
    }

    /// The shape of a record.
    #[must_use]
    pub fn record(&mut self, about: &[&str], fields: &[Shaped<'_>]) -> Value {
        let mut properties = serde_json::Map::new();
        let mut required: Vec<&str> = Vec::new();
        for field in fields {
            let mut schema = (field.refer)(self);
            let about = lines(field.about);
            if let Some(object) = schema.as_object_mut() {
                let text = match object.get("description").and_then(|d| d.as_str()) {
                    Some(kind) => format!("{about} ({kind})"),
                    None => about,
                };
                object.insert("description".to_owned(), text.into());
            }
            properties.insert(field.name.to_owned(), schema);
            if !(field.may_be_absent)() {
                required.push(field.name);
            }
        }
        json!({
            "type": "object",
            "description": lines(about),
            "properties": properties,
            "required": required,
            "additionalProperties": false,
        })
    }

    /// The shape of records that are told apart by the field `kind`.
    #[must_use]
    pub fn kinds(&mut self, about: &[&str], kinds: &[(&str, Shape)]) -> Value {
        let kinds = kinds.iter().map(|(word, shape)| with_kind(shape(self), word));
        let kinds: Vec<Value> = kinds.collect();
        json!({ "description": lines(about), "oneOf": kinds })
    }
}

/// The shape of one of some words.
#[doc(hidden)]
#[must_use]
pub fn shape_of_words(about: &[&str], words: &[&str]) -> Value {
    json!({ "type": "string", "enum": words, "description": lines(about) })
}

/// The schema of a record with `kind` in front.
fn with_kind(mut schema: Value, word: &str) -> Value {
    if let Some(properties) = schema.get_mut("properties").and_then(|p| p.as_object_mut()) {
        properties.insert("kind".to_owned(), json!({ "const": word }));
    }
    if let Some(required) = schema.get_mut("required").and_then(|r| r.as_array_mut()) {
        required.insert(0, "kind".into());
    }
    schema
}

/// Doc lines as one text.
fn lines(lines: &[&str]) -> String {
    lines.concat().trim().to_owned()
}

/// The names that a shape refers to.
fn references(shape: &Value) -> Vec<String> {
    match shape {
        Value::Object(entries) => {
            let own = entries.get("$ref").and_then(|r| r.as_str()?.strip_prefix("#/$defs/"));
            own.map(str::to_owned)
                .into_iter()
                .chain(entries.values().flat_map(references))
                .collect()
        }
        Value::Array(items) => items.iter().flat_map(references).collect(),
        _ => Vec::new(),
    }
}
