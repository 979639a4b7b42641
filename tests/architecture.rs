//! A module imports only from those named before it. The tokens of the sources are scanned, macro
//! bodies included; a planted violation turns the test red.

use proc_macro2::{TokenStream, TokenTree};
use std::path::{Path, PathBuf};

/// The order of the modules. `error` makes issues of unit errors, so `units` comes first.
const ORDER: &[&str] = &[
    "units",
    "error",
    "verdict",
    "source",
    "formula",
    "uncertainty",
    "scope",
    "beam",
    "loads",
    "editions",
    "target",
    "equivalent",
    "rig",
    "shoring",
    "protocol",
    "readings",
    "criteria",
    "spec",
    "design",
    "judge",
    "report",
    "laws",
];

/// Names that follow `crate ::` in a stream of tokens.
fn uses(tokens: TokenStream, found: &mut Vec<String>) {
    let list: Vec<TokenTree> = tokens.into_iter().collect();
    for (i, token) in list.iter().enumerate() {
        if let TokenTree::Group(group) = token {
            uses(group.stream(), found);
        }
        let word = |k: usize| list.get(k).map(ToString::to_string).unwrap_or_default();
        let root = word(i) == "crate" || (word(i) == "proofspan" && i >= 2 && word(i - 1) == ":");
        if root && word(i + 1) == ":" && word(i + 2) == ":" {
            match list.get(i + 3) {
                // a macro of this name is not the module
                Some(TokenTree::Ident(name)) if word(i + 4) != "!" => found.push(name.to_string()),
                // crate::{a::…, b::…}
                Some(TokenTree::Group(group)) => {
                    let inner: Vec<TokenTree> = group.stream().into_iter().collect();
                    for (k, t) in inner.iter().enumerate() {
                        let first = k == 0 || inner[k - 1].to_string() == ",";
                        if let (true, TokenTree::Ident(name)) = (first, t) {
                            found.push(name.to_string());
                        }
                    }
                }
                _ => {}
            }
        }
    }
}

/// Imports that go back, of a source text that belongs to `module`.
fn violations(module: &str, text: &str) -> Vec<String> {
    let own = ORDER
        .iter()
        .position(|m| *m == module)
        .unwrap_or_else(|| panic!("{module} has no place in the order"));
    // test code may look anywhere
    let text = text.split("#[cfg(test)]").next().unwrap_or("");
    let mut found = Vec::new();
    uses(text.parse().unwrap(), &mut found);
    found
        .into_iter()
        .filter(|name| ORDER.iter().position(|m| m == name).is_some_and(|place| place > own))
        .map(|name| format!("{module} imports {name}"))
        .collect()
}

fn files(folder: &Path, out: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files(&path, out);
        } else if path.extension().is_some_and(|e| e == "rs") {
            out.push(path);
        }
    }
}

#[test]
fn no_module_reaches_back() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("crates/proofspan/src");
    let mut all = Vec::new();
    files(&root, &mut all);
    let mut broken = Vec::new();
    for path in &all {
        let relative = path.strip_prefix(&root).unwrap();
        let module =
            relative.components().next().unwrap().as_os_str().to_string_lossy().replace(".rs", "");
        // beside the table of modules
        if module == "lib" || path.ends_with("formula/tests.rs") {
            continue;
        }
        broken.extend(violations(&module, &std::fs::read_to_string(path).unwrap()));
    }
    assert!(all.len() > 60, "{}", all.len());
    assert_eq!(broken, Vec::<String>::new());
}

#[test]
fn planted_violations_are_seen() {
    let back = [
        "use crate::report::html;",
        "fn f() { crate::judge::judge(); }",
        "use crate::{units::M, design::design};",
        "m! { crate::rig::check() }",
    ];
    for text in back {
        assert_eq!(violations("loads", text).len(), 1, "{text}");
    }
    assert!(violations("report", "use crate::units::M;").is_empty());
}

/// The core knows nothing of Python.
#[test]
fn the_core_does_not_depend_on_python() {
    let manifest = include_str!("../crates/proofspan/Cargo.toml");
    assert!(!manifest.contains("pyo3"));
    assert!(
        manifest.contains("include = ["),
        "what goes into the crate is listed, so no scenario or open data does"
    );
}
