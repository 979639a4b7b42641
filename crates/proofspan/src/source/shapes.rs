//! A JSON schema in which each record, each list of words and each kind of quantity is written once.

use std::collections::BTreeMap;

use serde_json::{Value, json};

use super::read::Read;

/// The shapes that a schema names under `$defs`.
#[derive(Default, Debug)]
pub struct Shapes {
    /// By name: the type, or the words that stand for it, and its shape.
    named: BTreeMap<String, (String, Value)>,
    /// Only the outermost shape is wanted: what it refers to is not looked at.
    outermost: bool,
}

impl Shapes {
    /// The schema of `T` (JSON Schema 2020-12) with what it refers to under `$defs`.
    #[must_use]
    pub fn whole<T: Read>() -> Value {
        let mut shapes = Self::default();
        let mut schema = T::shape(&mut shapes);
        if let Some(object) = schema.as_object_mut().filter(|_| !shapes.named.is_empty()) {
            let named = shapes.named.into_iter().map(|(name, (_, shape))| (name, shape));
            object.insert("$defs".to_owned(), Value::Object(named.collect()));
        }
        schema
    }

    /// The shape of `T` alone: its fields with their descriptions, its words. What it refers to is
    /// missing.
    #[must_use]
    pub fn outermost<T: Read>() -> Value {
        T::shape(&mut Self { outermost: true, ..Self::default() })
    }

    /// What the field `name` of the record `T` accepts: a schema with what it refers to, and nothing else.
    #[must_use]
    pub fn field<T: Read>(name: &str) -> Option<Value> {
        let mut shapes = Self::default();
        let mut schema = T::shape(&mut shapes);
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

    /// What stands where a `T` is used: a reference to its shape, with its description. Types that
    /// share a name get a number behind it.
    #[must_use]
    pub fn refer<T: Read>(&mut self, name: &str, about: &str) -> Value {
        self.once(name, core::any::type_name::<T>(), about, T::shape)
    }

    /// The same for what types share; `key` tells apart what has the same name.
    pub(super) fn once(
        &mut self,
        name: &str,
        key: &str,
        about: &str,
        shape: fn(&mut Self) -> Value,
    ) -> Value {
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
