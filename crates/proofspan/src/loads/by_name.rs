//! All that acts: a list of actions, or in short form each by its name, and beside them what of it is
//! in place.
//!
//! `{ "width": "8 ft", "self_weight": "76 psf", "live": "40 psf", "in_place": ["self_weight"] }`
//! becomes the list `actions` before the record is read. Problems are told under the names of the
//! short form.

use super::action::{Action, Occupancy, Symbol, Width};
use super::snow::SnowLevel;
use crate::error::{Issue, slug};
use crate::source::{Entry, Given, Node, Reader, Unfolded, Value};
use crate::units::{AreaLoad, Dimension, Kind, Length, Measure, Message, nearest};
use crate::verdict::Note;

crate::record! {
    /// The nominal actions on the member. In place of the list, each action may be given by its
    /// name, and `in_place` beside them: `"in_place": { "self_weight": 1, "superimposed_dead": 0.5 }`.
    pub struct Loads {
        /// Tributary width of one member unit.
        width: Given<Length, Width>,
        /// Whether live load may stand on some spans only: the worst pattern is looked for.
        patterns: bool = true,
        /// The actions.
        actions: Vec<Action>,
    }
    rules {
        something_acts[actions];
    }
    unfold { unfold, schema }
}

fn something_acts(reader: &mut Reader, actions: &[Action]) {
    if actions.is_empty() {
        let path = reader.path_of("actions");
        reader.push(Issue::new(slug::LOADS_SHAPE, path, "no action is given"));
    }
}

impl Loads {
    /// The actions that are given and above zero, each once, in the order of the table.
    #[must_use]
    pub fn present(&self) -> Vec<Symbol> {
        let given = |s: &Symbol| self.actions.iter().any(|a| a.action == *s && a.is_above_zero());
        Symbol::ALL.iter().copied().filter(given).collect()
    }

    /// Whether the floor is used for this: true where a live load says so, false where every live
    /// load says another use, else unknown.
    #[must_use]
    pub fn occupied_by(&self, use_: Occupancy) -> Option<bool> {
        let said = || self.actions.iter().filter(|a| a.action == Symbol::Live).map(|a| a.occupancy);
        let mut all = said().peekable();
        all.peek()?;
        if said().any(|o| o == Some(use_)) {
            return Some(true);
        }
        all.all(|o| o.is_some()).then_some(false)
    }

    /// What the reader must know: dead load taken off before the test.
    #[must_use]
    pub fn notes(&self) -> Vec<Note> {
        let off = self.actions.iter().enumerate().filter(|(_, a)| a.taken_off);
        off.map(|(i, a)| {
            let message = format!(
                "{} is taken off before the test: a stage of its own (camber, top cracking of an unloaded prestressed member); state the prestress there",
                a.action
            );
            Note::new(slug::LOADS_TAKEN_OFF, format!("loads.actions[{i}]"), message)
        })
        .collect()
    }

    /// The snow level that is stated: strength where any snow is; nothing where there is snow and
    /// none says it.
    #[must_use]
    pub fn snow_level(&self) -> Option<SnowLevel> {
        let mut snow = self.actions.iter().filter(|a| a.action == Symbol::Snow).peekable();
        snow.peek()?;
        let levels: Vec<Option<SnowLevel>> = snow.map(|a| a.snow_level).collect();
        if levels.contains(&Some(SnowLevel::Strength)) {
            return Some(SnowLevel::Strength);
        }
        levels.iter().all(|l| l.is_some()).then_some(SnowLevel::Nominal)
    }

    /// The most live load over an area that all live loads together bring on one place: a load along the
    /// member over the width of the member unit, one that tapers with its peak, points not counted.
    #[must_use]
    pub fn live(&self) -> Option<AreaLoad> {
        let live = self.actions.iter().filter(|a| a.action == Symbol::Live);
        let spread = |a: &Action| {
            let line =
                a.line.as_ref().map(|w| AreaLoad::from_si((w.value / self.width.value).si()));
            let over = a.area.as_ref().map(|q| q.value).or(line);
            let from = a.from.as_ref().map_or(Length::ZERO, |x| x.value);
            let to = a.to.as_ref().map_or(Length::from_si(f64::INFINITY), |x| x.value);
            match (over, &a.taper) {
                (Some(q), _) => Some((q, from, to)),
                (None, Some(t)) => {
                    let (a, b) = (t.at.value, t.zero_at.value);
                    Some((t.peak.value, a.min(b), a.max(b)))
                }
                (None, None) => None,
            }
        };
        let all: Vec<(AreaLoad, Length, Length)> = live.filter_map(spread).collect();
        let at = |x: Length| {
            let here = all.iter().filter(|(_, from, to)| x >= *from && x < *to);
            here.map(|(q, ..)| *q).sum::<AreaLoad>()
        };
        all.iter().map(|(_, from, _)| at(*from)).reduce(AreaLoad::max)
    }
}

/// The field that says what is in place, beside actions by their names.
const IN_PLACE: &str = "in_place";

/// An action by its name; a list under one name makes several.
struct Named<'n> {
    word: &'n str,
    node: &'n Node,
    path: String,
}

/// What is said to be in place of an action.
struct Share<'n> {
    word: &'n str,
    node: Node,
    path: String,
}

/// The long form of loads in short form; nothing where they are in long form already.
fn unfold(node: &Node, reader: &mut Reader) -> Option<Unfolded> {
    let Value::Map(given) = &node.value else { return None };
    if given.iter().all(|e| Loads::FIELDS.contains(&e.key.as_str())) {
        return None;
    }
    let names: Vec<&str> =
        [Loads::FIELDS, Symbol::WORDS, &[IN_PLACE]].into_iter().flatten().copied().collect();
    // unknown and repeated names are told here; the first value of a name is the one that is read
    let given = reader.map(node, "Loads", &names)?;
    let first =
        |name: &str| given.iter().find(|e| e.key == name).filter(|e| e.node.value != Value::Null);
    let mut fields: Vec<Entry> =
        Loads::FIELDS.iter().filter_map(|name| first(name).cloned()).collect();
    let mut paths = Vec::new();
    let listed = first("actions").map_or(&Value::Null, |e| &e.node.value);
    // a list of another type is refused by the record
    if matches!(listed, Value::Null | Value::List(_)) {
        let mut actions = if let Value::List(items) = listed { items.clone() } else { Vec::new() };
        let here = |e: &&Entry| first(&e.key).is_some_and(|f| core::ptr::eq(f, *e));
        let by_name = given.iter().filter(|e| Symbol::WORDS.contains(&e.key.as_str())).filter(here);
        let named: Vec<Named<'_>> = by_name.flat_map(|e| under(e, &actions, reader)).collect();
        let shares = first(IN_PLACE).map(|e| shares(&e.node, &named, &actions, reader));
        for one in named {
            let path = format!("actions[{}]", actions.len());
            actions.push(long(&one, shares.as_deref(), &path, &mut paths, reader));
            paths.push((path, one.path));
        }
        fields.retain(|e| e.key != "actions");
        fields.push(Entry { key: "actions".to_owned(), node: Node::new(Value::List(actions)) });
    }
    let node = Node { value: Value::Map(fields), place: node.place };
    Some(Unfolded { node, names: paths })
}

/// What stands under the name of an action.
fn under<'n>(entry: &'n Entry, listed: &[Node], reader: &mut Reader) -> Vec<Named<'n>> {
    let word = entry.key.as_str();
    let refused = |slug, message: Message, remedy: &'static str, reader: &mut Reader| {
        reader.push(Issue::new(slug, reader.path_of(word), message).remedy(remedy));
    };
    if listed.iter().any(|action| is(action, word)) {
        let message = format!("`{word}` stands in the list `actions` too");
        let remedy = "give it by its name or in the list, not in both";
        refused(slug::SOURCE_FIELD_DUPLICATE, message.into(), remedy, reader);
        return Vec::new();
    }
    match &entry.node.value {
        Value::List(items) if items.is_empty() => {
            refused(
                slug::LOADS_SHAPE,
                "an empty list".into(),
                "give the load, or leave it out",
                reader,
            );
            Vec::new()
        }
        Value::List(items) => {
            let path = |i| format!("{word}[{i}]");
            items.iter().enumerate().map(|(i, node)| Named { word, node, path: path(i) }).collect()
        }
        _ => vec![Named { word, node: &entry.node, path: word.to_owned() }],
    }
}

/// Whether an entry of the list `actions` is this action.
fn is(action: &Node, word: &str) -> bool {
    matches!(action.get("action").map(|n| &n.value), Some(Value::Text(own)) if own == word)
}

/// What `in_place` says: one name, names, or names with shares. Each must be that of an action.
fn shares<'n>(
    node: &'n Node,
    named: &[Named<'_>],
    listed: &[Node],
    reader: &mut Reader,
) -> Vec<Share<'n>> {
    let all = || Node::number(1.0);
    let mut found: Vec<Share<'n>> = Vec::new();
    let mut take = |path: String, name: &'n Node, word: &'n str, share: Node, r: &mut Reader| {
        if found.iter().any(|s| s.word == word) {
            let message = format!("`{word}` is named more than once");
            r.push(Issue::new(slug::SOURCE_FIELD_DUPLICATE, r.path_of(&path), message));
        } else if named.iter().any(|n| n.word == word) {
            found.push(Share { word, node: share, path });
        } else {
            let own = listed.iter().any(|action| is(action, word));
            let issue = unknown(r.path_of(&path), word, named, own);
            r.push(if let Some(place) = name.place {
                let line = format!(" (line {})", place.line);
                let message = issue.message.clone().and(line.into());
                Issue { message, ..issue }
            } else {
                issue
            });
        }
    };
    match &node.value {
        Value::Text(word) => take(IN_PLACE.to_owned(), node, word, all(), reader),
        Value::List(items) => {
            for (i, item) in items.iter().enumerate() {
                let path = format!("{IN_PLACE}[{i}]");
                match &item.value {
                    Value::Text(word) => take(path, item, word, all(), reader),
                    _ => reader.field(&path, |r| {
                        let message =
                            format!("the name of an action is wanted; here is {}", item.type_word());
                        r.refuse(slug::SOURCE_TYPE, message, item);
                    }),
                }
            }
        }
        Value::Map(entries) => {
            for e in entries {
                let path = format!("{IN_PLACE}.{}", e.key);
                take(path, &e.node, &e.key, e.node.clone(), reader);
            }
        }
        _ => reader.field(IN_PLACE, |r| {
            let message = format!(
                "beside actions by their names, in_place is a list of those names, or names with shares; here is {}",
                node.type_word()
            );
            r.refuse(slug::SOURCE_TYPE, message, node);
        }),
    }
    found
}

/// A name in `in_place` that no action beside it has.
fn unknown(path: String, word: &str, named: &[Named<'_>], listed: bool) -> Issue {
    let mut names: Vec<&str> = named.iter().map(|n| n.word).collect();
    names.dedup();
    let message = format!("no action by the name `{word}` is given beside it");
    let issue = Issue::new(slug::LOADS_IN_PLACE_UNKNOWN, path, message).value(word);
    let issue = if names.is_empty() { issue } else { issue.limit(names.join(", ")) };
    match nearest(word, names.iter().copied()) {
        _ if listed => issue.remedy("an action of the list `actions` says in_place itself"),
        Some(near) => issue.remedy(format!("did you mean `{near}`?")),
        None => issue,
    }
}

/// An action by its name as an entry of the list `actions`.
fn long(
    one: &Named<'_>,
    shares: Option<&[Share<'_>]>,
    path: &str,
    paths: &mut Vec<(String, String)>,
    reader: &mut Reader,
) -> Node {
    let mut fields = vec![Entry { key: "action".to_owned(), node: Node::text(one.word) }];
    match (shape(one.node), &one.node.value) {
        (Some(shape), _) => {
            paths.push((format!("{path}.{shape}"), one.path.clone()));
            fields.push(Entry { key: shape.to_owned(), node: one.node.clone() });
        }
        (None, Value::Map(own)) => fields.extend(own.iter().cloned()),
        (None, _) => {}
    }
    let own = fields.iter().any(|f| f.key == IN_PLACE);
    let share = shares.map(|all| all.iter().find(|s| s.word == one.word));
    if let (true, Some(Some(share))) = (own, share) {
        let message = format!("`{}` says itself what is in place", one.path);
        reader.push(Issue::new(slug::SOURCE_FIELD_DUPLICATE, reader.path_of(&share.path), message));
    }
    if !own {
        let said = share.flatten().map_or(IN_PLACE, |s| &s.path);
        paths.push((format!("{path}.{IN_PLACE}"), said.to_owned()));
        if let Some(share) = share {
            let node = share.map_or(Node::number(0.0), |s| s.node.clone());
            fields.push(Entry { key: IN_PLACE.to_owned(), node });
        }
    }
    Node { value: Value::Map(fields), place: one.node.place }
}

/// The field of an action whose value stands beside its name; nothing where its fields do.
fn shape(node: &Node) -> Option<&'static str> {
    if let Value::Map(entries) = &node.value {
        let has = |key: &str| entries.iter().any(|e| e.key == key);
        return match node.get("value") {
            Some(value) => shape(value),
            None if has("peak") => Some("taper"),
            None if has("force") => Some("point"),
            None => None,
        };
    }
    let dimension: Option<Dimension> = match &node.value {
        Value::Quantity { dimension, .. } => Some(*dimension),
        Value::Text(text) => Measure::parse(text).ok().map(|m| m.0.dimension),
        _ => None,
    };
    Some(if dimension == Some(Kind::LineLoad.dimension()) { "line" } else { "area" })
}

/// The schema of the loads with the short form beside the long one.
fn schema(mut schema: serde_json::Value) -> serde_json::Value {
    let mut ways = vec![serde_json::json!({ "required": ["actions"] })];
    if let Some(properties) = schema.get_mut("properties").and_then(|p| p.as_object_mut()) {
        for (symbol, word) in Symbol::ALL.iter().zip(Symbol::WORDS) {
            if *symbol != Symbol::Wind {
                let text = format!(
                    "{word} by its name: an area load or a line load, a taper, a point action, the fields of an action, or a list of these"
                );
                properties.insert((*word).to_owned(), serde_json::json!({ "description": text }));
                ways.push(serde_json::json!({ "required": [word] }));
            }
        }
        properties.insert(
            IN_PLACE.to_owned(),
            serde_json::json!({
                "description": "which of the actions by their names are in place: a name, names, or names with shares; the others are not",
                "oneOf": [
                    { "type": "string" },
                    { "type": "array", "items": { "enum": Symbol::WORDS } },
                    { "type": "object" },
                ],
            }),
        );
    }
    if let Some(required) = schema.get_mut("required").and_then(|r| r.as_array_mut()) {
        required.retain(|field| field != "actions");
    }
    if let Some(object) = schema.as_object_mut() {
        object.insert("anyOf".to_owned(), ways.into());
    }
    schema
}
