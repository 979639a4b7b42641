//! What may grow is `#[non_exhaustive]`, so that a new variant or field breaks nobody's build; what is closed
//! by nature says so in its documentation.

use std::path::Path;

/// The declarations of public enums in a text that neither may grow nor say that they are closed. The
/// words of `choice!` and the kinds of `variant!` are declared once, in the macros.
fn fixed(text: &str) -> Vec<String> {
    let lines: Vec<&str> = text.lines().collect();
    let mut found = Vec::new();
    for (i, line) in lines.iter().enumerate() {
        let Some(rest) = line.trim().strip_prefix("pub enum ") else { continue };
        // a pattern of a macro, one of its words, a type without values
        if rest.contains('(') || rest.contains(":ident") || rest.ends_with("{}") {
            continue;
        }
        let above = lines[..i].iter().rev().map(|l| l.trim());
        let above: Vec<&str> =
            above.take_while(|l| l.starts_with("///") || l.starts_with(['#', '$'])).collect();
        let grows = above.contains(&"#[non_exhaustive]");
        let closed = above.iter().any(|l| l.starts_with("///") && l.contains("Closed"));
        if !grows && !closed {
            found.push(rest.to_owned());
        }
    }
    found
}

fn read(folder: &Path, found: &mut Vec<String>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            read(&path, found);
        } else if path.extension().is_some_and(|e| e == "rs") {
            let own = fixed(&std::fs::read_to_string(&path).unwrap());
            found.extend(own.into_iter().map(|e| format!("{}: {e}", path.display())));
        }
    }
}

#[test]
fn every_public_enum_may_grow_or_says_that_it_is_closed() {
    let mut found = Vec::new();
    read(&Path::new(env!("CARGO_MANIFEST_DIR")).join("crates/proofspan/src"), &mut found);
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn one_that_does_not_is_seen() {
    assert_eq!(fixed("/// A.\n#[derive(Debug)]\npub enum A {\n"), ["A {"]);
    assert!(fixed("/// A.\n#[non_exhaustive]\npub enum A {\n").is_empty());
    assert!(fixed("/// A. Closed: two.\npub enum A {\n").is_empty());
}
