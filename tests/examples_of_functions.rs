//! Every public function of the library is called by an example that runs: a doctest of its own, or one of
//! its module.

#![allow(clippy::unwrap_used, reason = "tests")]

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

fn files(folder: &Path, out: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files(&path, out);
        } else if path.extension().is_some_and(|e| e == "rs" || e == "md") {
            out.push(path);
        }
    }
}

/// The code of the examples in the documentation of a file.
fn examples(text: &str, markdown: bool) -> String {
    let mut code = String::new();
    let mut inside = false;
    for line in text.lines() {
        let line = line.trim_start();
        let doc = match (markdown, line.strip_prefix("///").or_else(|| line.strip_prefix("//!"))) {
            (true, _) => line,
            (false, Some(doc)) => doc.trim_start(),
            (false, None) => continue,
        };
        if let Some(mark) = doc.strip_prefix("```") {
            // what is not run is no example
            inside =
                !inside && !["text", "json", "toml", "ignore", "no_run"].contains(&mark.trim());
        } else if inside {
            code.push_str(doc);
            code.push('\n');
        }
    }
    code
}

/// Names of the functions a file defines at its top level.
fn functions(text: &str) -> Vec<String> {
    let text = text.split("#[cfg(test)]").next().unwrap_or("");
    let of = |line: &str| {
        let rest = line.strip_prefix("pub fn ").or_else(|| line.strip_prefix("pub const fn "))?;
        Some(rest.split(['(', '<']).next()?.to_owned())
    };
    let hidden = |above: &&str| above.trim() == "#[doc(hidden)]" || above.starts_with("#[must_use");
    let lines: Vec<&str> = text.lines().collect();
    let shown = |i: usize| {
        let above = lines.iter().take(i).rev().take_while(|l| hidden(l));
        above.into_iter().all(|l| l.trim() != "#[doc(hidden)]")
    };
    let all = lines.iter().enumerate().filter(|(i, _)| shown(*i));
    all.filter_map(|(_, line)| of(line)).collect()
}

/// Names that the modules hand out.
fn handed_out(text: &str) -> BTreeSet<String> {
    let uses = text.split("pub use ").skip(1).filter_map(|u| u.split(';').next());
    let word = |c: char| !(c.is_alphanumeric() || c == '_');
    uses.flat_map(|u| u.split(word)).map(str::to_owned).collect()
}

#[test]
fn every_public_function_is_called_by_an_example() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("crates/proofspan/src");
    let mut all = Vec::new();
    files(&root, &mut all);
    let (mut code, mut out, mut functions_of) = (String::new(), BTreeSet::new(), Vec::new());
    for path in &all {
        let text = std::fs::read_to_string(path).unwrap();
        code.push_str(&examples(&text, path.extension().is_some_and(|e| e == "md")));
        let name = path.file_name().unwrap();
        if name == "mod.rs" || name == "lib.rs" {
            out.extend(handed_out(&text));
        }
        for function in functions(&text) {
            functions_of.push((path.strip_prefix(&root).unwrap().display().to_string(), function));
        }
    }
    let called = |name: &str| {
        code.match_indices(name).any(|(i, _)| {
            let before = code.get(..i).and_then(|t| t.chars().next_back());
            let after = code.get(i + name.len()..).unwrap_or("");
            let whole = before.is_none_or(|c| !(c.is_alphanumeric() || c == '_' || c == '.'));
            whole && (after.starts_with('(') || after.starts_with("::<"))
        })
    };
    let public: Vec<_> = functions_of.iter().filter(|(_, name)| out.contains(name)).collect();
    assert!(public.len() > 80, "{}", public.len());
    let without: Vec<String> = public
        .iter()
        .filter(|(_, name)| !called(name))
        .map(|(path, name)| format!("{path}: {name}"))
        .collect();
    assert!(without.is_empty(), "no example that runs:\n{}", without.join("\n"));
}

#[test]
fn a_function_without_an_example_is_seen() {
    let text = "/// ```\n/// let a = one(1);\n/// ```\npub fn one(a: u8) {}\npub fn two() {}\n";
    assert_eq!(functions(text), ["one", "two"]);
    let code = examples(text, false);
    assert!(code.contains("one(1)") && !code.contains("two"));
    assert!(examples("/// ```text\n/// two()\n/// ```", false).is_empty());
}
