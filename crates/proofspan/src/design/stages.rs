//! A test in several stages: each a design of its own on the same member, one after the other.

use std::sync::Arc;

use super::{TestDesign, staged};
use crate::error::{Error, Issue};
use crate::source::{Node, Value, Write};
use crate::spec::TestSpec;
use crate::units::Message;

/// Where a path of the document of one stage stands in the document: in the part that the stage gives
/// itself, else where it is.
fn home(spec: &TestSpec, index: usize, path: &str) -> String {
    let Some(stage) = index.checked_sub(1).and_then(|i| spec.stages.get(i)) else {
        return path.to_owned();
    };
    let own = [
        ("scope.doubt", true),
        ("layout", stage.layout.is_some()),
        ("rig", stage.rig.is_some()),
        ("shoring", stage.shoring.is_some()),
        ("protocol", stage.protocol.is_some()),
    ];
    let under = |part: &str| {
        path.strip_prefix(part).is_some_and(|r| r.is_empty() || r.starts_with(['.', '[']))
    };
    match own.iter().find(|(part, own)| *own && under(part)) {
        Some(_) => {
            let path = path.strip_prefix("scope.").unwrap_or(path);
            format!("stages[{}].{path}", index - 1)
        }
        None => path.to_owned(),
    }
}

/// Every stage of a document.
///
/// # Errors
/// The problems of every stage at once, each under its path in the document; one that several stages
/// share is told once.
pub(super) fn all(spec: &Arc<TestSpec>) -> Result<TestDesign, Error> {
    let mut found: Vec<TestDesign> = Vec::with_capacity(spec.stages.len() + 1);
    let mut issues: Vec<Issue> = Vec::new();
    let mut cause = None;
    for index in 0..=spec.stages.len() {
        let Some(one) = spec.stage(index) else { continue };
        match staged(Arc::new(one)) {
            Ok(design) => found.push(design),
            Err(error) => {
                cause.get_or_insert(error.cause);
                for mut issue in error.issues {
                    issue.path = home(spec, index, &issue.path);
                    if !issues.contains(&issue) {
                        if let Some(stage) = index.checked_sub(1).and_then(|i| spec.stages.get(i)) {
                            issue.message =
                                issue.message.clone().after(&format!("stage {}: ", stage.name));
                        }
                        issues.push(issue);
                    }
                }
            }
        }
    }
    if let Some(cause) = cause {
        return Err(Error { cause, issues });
    }
    let mut stages = found.into_iter();
    let Some(mut first) = stages.next() else { return staged(Arc::clone(spec)) };
    first.spec = Arc::clone(spec);
    for (i, (mut stage, own)) in stages.zip(&spec.stages).enumerate() {
        let said = |message: &Message| message.clone().after(&format!("stage {}: ", own.name));
        for stop in &mut stage.stops {
            stop.path = home(spec, i + 1, &stop.path);
            let same = |s: &&mut crate::verdict::Stop| s.slug == stop.slug && s.path == stop.path;
            if !first.stops.iter_mut().any(|s| same(&s)) {
                first
                    .stops
                    .push(crate::verdict::Stop { message: said(&stop.message), ..stop.clone() });
            }
        }
        for note in &mut stage.notes {
            note.path = home(spec, i + 1, &note.path);
            if !first.notes.iter().any(|n| n.slug == note.slug && n.path == note.path) {
                first
                    .notes
                    .push(crate::verdict::Note { message: said(&note.message), ..note.clone() });
            }
        }
        first.later.push((own.name.clone(), stage));
    }
    Ok(first)
}

/// The later stages as a tree, each with its name.
pub(super) fn write(later: &[(String, TestDesign)]) -> Node {
    if later.is_empty() {
        return Node::new(Value::Null);
    }
    let one = |(name, stage): &(String, TestDesign)| {
        let mut node = stage.write();
        if let Value::Map(entries) = &mut node.value {
            entries
                .retain(|e| !["title", "fingerprint", "stops", "stages"].contains(&e.key.as_str()));
            let name =
                crate::source::Entry { key: "name".to_owned(), node: Node::text(name.clone()) };
            entries.insert(0, name);
        }
        node
    };
    Node::new(Value::List(later.iter().map(one).collect()))
}
