//! What a document says and no rule looks at.

use super::tree::{Node, Value};
use crate::error::{Issue, slug};

/// The letters and digits of a name, in lower case: what makes it the name of a person. Spaces of any kind,
/// points and what has no width make nobody another.
pub(crate) fn letters(name: &str) -> String {
    name.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

/// Inputs of a written record with ends, or an uncertainty, that nothing uses. `used` knows the places where
/// it does: of the uncertainty where it is told so, else of the ends.
pub(crate) fn unused_ranges(
    name: &str,
    record: &Node,
    used: &dyn Fn(&str, bool) -> bool,
) -> Vec<Issue> {
    let mut issues = Vec::new();
    walk(name, record, used, &mut issues);
    issues
}

fn walk(path: &str, node: &Node, used: &dyn Fn(&str, bool) -> bool, issues: &mut Vec<Issue>) {
    match &node.value {
        Value::Map(entries) => {
            let has = |key: &str| node.get(key).is_some_and(|n| !matches!(n.value, Value::Null));
            let ends = has("low") || has("high");
            if has("value") && (ends || has("u")) {
                if !used(path, !ends) {
                    let what = if ends { "low and high" } else { "u" };
                    let message = format!("nothing uses the {what} of this value");
                    issues.push(Issue::new(slug::SOURCE_RANGE_UNUSED, path, message));
                }
                return;
            }
            for entry in entries {
                walk(&format!("{path}.{}", entry.key), &entry.node, used, issues);
            }
        }
        Value::List(all) => {
            for (i, node) in all.iter().enumerate() {
                walk(&format!("{path}[{i}]"), node, used, issues);
            }
        }
        _ => {}
    }
}
