//! A module imports only from those named before it, and no files use each other in a circle. The
//! tokens of the sources are scanned, macro bodies included; a planted violation turns the test red.

use proc_macro2::{Delimiter, Spacing, TokenStream, TokenTree};
use std::collections::{BTreeMap, BTreeSet};
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
    "capacity",
    "equivalent",
    "rig",
    "shoring",
    "protocol",
    "readings",
    "criteria",
    "spec",
    "design",
    "judge",
    "side_by_side",
    "recorded",
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

/// A source file by its path of modules, without what is tested.
type Sources = BTreeMap<String, Vec<String>>;

/// Words of a text, `::` as one; strings, comments and what follows `#[cfg(test)]` left out.
fn words(text: &str) -> Vec<String> {
    fn flat(tokens: TokenStream, out: &mut Vec<String>) {
        let list: Vec<TokenTree> = tokens.into_iter().collect();
        let mut i = 0;
        while let Some(token) = list.get(i) {
            match token {
                TokenTree::Group(group) => {
                    let (open, close) = match group.delimiter() {
                        Delimiter::Brace => ("{", "}"),
                        Delimiter::Bracket => ("[", "]"),
                        _ => ("(", ")"),
                    };
                    out.push(open.to_owned());
                    flat(group.stream(), out);
                    out.push(close.to_owned());
                }
                TokenTree::Punct(p) if p.as_char() == ':' && p.spacing() == Spacing::Joint => {
                    out.push("::".to_owned());
                    i += 1;
                }
                TokenTree::Literal(_) => out.push("\"".to_owned()),
                other => out.push(other.to_string()),
            }
            i += 1;
        }
    }
    let mut out = Vec::new();
    let text = text.split("#[cfg(test)]").next().unwrap_or("");
    flat(text.parse().unwrap(), &mut out);
    out
}

/// Reads the paths that begin at `words[i]`, groups unfolded, and returns where they end. A macro is
/// no path.
fn tree(words: &[String], mut i: usize, before: &[String], out: &mut Vec<Vec<String>>) -> usize {
    let word = |k: usize| words.get(k).map_or("", String::as_str);
    if word(i) == "{" {
        i += 1;
        while i < words.len() && word(i) != "}" {
            let next = tree(words, i, before, out);
            i = if word(next) == "as" { next + 2 } else { next };
            if word(i) != "," && word(i) != "}" {
                return i;
            }
            i += usize::from(word(i) == ",");
        }
        return i + 1;
    }
    let mut path = before.to_vec();
    if word(i).starts_with(|c: char| c.is_alphabetic() || c == '_') {
        path.push(word(i).to_owned());
        i += 1;
    } else if word(i) == "*" {
        i += 1;
    }
    match word(i) {
        "::" => tree(words, i + 1, &path, out),
        "!" => i,
        _ => {
            out.push(path);
            i
        }
    }
}

/// All paths of a text that begin with one of these words.
fn paths(words: &[String], first: &[&str]) -> Vec<Vec<String>> {
    let mut found = Vec::new();
    for (i, word) in words.iter().enumerate() {
        let begins = i == 0 || !["::", "$", "."].contains(&words[i - 1].as_str());
        if begins && first.contains(&word.as_str()) && words.get(i + 1).is_some_and(|w| w == "::") {
            tree(words, i, &[], &mut found);
        }
    }
    found
}

/// The names that a table of contents hands on, with the files they stand in.
fn handed_on(own: &[String]) -> BTreeMap<String, Vec<String>> {
    let mut found = BTreeMap::new();
    for (i, word) in own.iter().enumerate() {
        let public = i >= 1 && (own[i - 1] == "pub" || own[i - 1] == ")");
        if word == "use" && public {
            let mut all = Vec::new();
            tree(own, i + 1, &[], &mut all);
            for mut path in all {
                if let (Some(name), false) = (path.pop(), path.is_empty()) {
                    found.insert(name, path);
                }
            }
        }
    }
    found
}

/// Without `mod x;` and without what is handed on: the rest of a table of contents is code.
fn without_contents(own: &[String]) -> Vec<String> {
    let mut rest = Vec::new();
    let mut i = 0;
    while i < own.len() {
        let statement = own[i] == "mod"
            || (own[i] == "use" && i >= 1 && (own[i - 1] == "pub" || own[i - 1] == ")"));
        if statement {
            while i < own.len() && own[i] != ";" {
                i += 1;
            }
        } else {
            rest.push(own[i].clone());
        }
        i += 1;
    }
    rest
}

/// Which file uses which.
fn arrows(sources: &Sources) -> BTreeMap<String, BTreeSet<String>> {
    let tables: BTreeMap<&String, _> = sources.iter().map(|(k, w)| (k, handed_on(w))).collect();
    let children = |of: &str| -> Vec<&str> {
        let direct = |k: &'_ &String| {
            k.rsplit_once("::").map_or("", |(parent, _)| parent) == of && !k.is_empty()
        };
        sources.keys().filter(direct).map(|k| k.rsplit("::").next().unwrap()).collect()
    };
    let resolve = |own: &str, path: &[String]| -> String {
        let mut at: Vec<String> =
            own.split("::").filter(|s| !s.is_empty()).map(str::to_owned).collect();
        let mut rest: Vec<String> = path.iter().rev().cloned().collect();
        if rest.last().is_some_and(|w| w == "crate") {
            at.clear();
            rest.pop();
        }
        while rest.last().is_some_and(|w| w == "super" || w == "self") {
            if rest.pop().as_deref() == Some("super") {
                at.pop();
            }
        }
        for _ in 0..20 {
            let Some(next) = rest.last() else { break };
            let mut longer = at.clone();
            longer.push(next.clone());
            if sources.contains_key(&longer.join("::")) {
                at = longer;
                rest.pop();
            } else if let Some(there) = tables.get(&at.join("::")).and_then(|t| t.get(next)) {
                rest.extend(there.iter().rev().cloned());
                // a name handed on from elsewhere in the crate
                if rest.last().is_some_and(|w| w == "crate") {
                    at.clear();
                    rest.pop();
                }
            } else {
                break;
            }
        }
        at.join("::")
    };
    let mut found: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for (own, all) in sources {
        let mut first = vec!["crate", "super", "self"];
        first.extend(children(own));
        for path in paths(&without_contents(all), &first) {
            let there = resolve(own, &path);
            if there != *own && !there.is_empty() {
                found.entry(own.clone()).or_default().insert(there);
            }
        }
    }
    found
}

/// Files that reach each other, in every circle, the names in order.
fn circles(arrows: &BTreeMap<String, BTreeSet<String>>) -> BTreeSet<String> {
    let reach = |from: &String| -> BTreeSet<String> {
        let mut seen = BTreeSet::new();
        let mut open = vec![from.clone()];
        while let Some(at) = open.pop() {
            for next in arrows.get(&at).into_iter().flatten() {
                if seen.insert(next.clone()) {
                    open.push(next.clone());
                }
            }
        }
        seen
    };
    let all: BTreeMap<&String, _> = arrows.keys().map(|k| (k, reach(k))).collect();
    let mut found = BTreeSet::new();
    for (own, there) in &all {
        let back = |k: &&String| all.get(k).is_some_and(|r| r.contains(*own));
        let circle: Vec<&str> = there.iter().filter(back).map(String::as_str).collect();
        if circle.len() > 1 {
            found.insert(circle.join(" "));
        }
    }
    found
}

fn sources() -> Sources {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("crates/proofspan/src");
    let mut all = Vec::new();
    files(&root, &mut all);
    let mut found = Sources::new();
    for path in &all {
        let relative = path.strip_prefix(&root).unwrap().with_extension("");
        let parts: Vec<_> = relative
            .iter()
            .map(|p| p.to_string_lossy().into_owned())
            .filter(|p| p != "mod")
            .collect();
        let name = if parts == ["lib"] { String::new() } else { parts.join("::") };
        if name != "formula::tests" {
            found.insert(name, words(&std::fs::read_to_string(path).unwrap()));
        }
    }
    found
}

#[test]
fn no_circle_of_files() {
    assert_eq!(circles(&arrows(&sources())), BTreeSet::new());
}

#[test]
fn planted_circles_are_seen() {
    let of = |files: &[(&str, &str)]| -> BTreeSet<String> {
        let one = |(name, text): &(&str, &str)| ((*name).to_owned(), words(text));
        circles(&arrows(&files.iter().map(one).collect()))
    };
    let both = BTreeSet::from(["m::a m::b".to_owned()]);
    let table = ("m", "mod a; mod b; pub use a::A; pub(crate) use b::{B, c as d};");
    for (a, b) in [
        ("use super::b::B;", "use super::a::A;"),
        ("use super::B;", "fn f(x: crate::m::A) {}"),
        ("use crate::{m::{b::B, x}, n::C};", "thing! { x: super::a::A }"),
    ] {
        assert_eq!(of(&[table, ("m::a", a), ("m::b", b)]), both, "{a} {b}");
    }
    // a macro is not an arrow, nor is a test, a word or a comment
    let quiet =
        "// super::a::A\ncrate::m!{ \"super::a::A\" } #[cfg(test)] mod t { use super::a::A; }";
    assert!(of(&[table, ("m::a", "use super::b::B;"), ("m::b", quiet)]).is_empty());
    // code in a table of contents counts
    let code = ("m", "mod a; pub use a::A; pub fn f() { a::g() } pub const N: usize = 1;");
    assert_eq!(of(&[code, ("m::a", "use super::N;")]), BTreeSet::from(["m m::a".to_owned()]));
    // three in a row back to the first
    let three = [("a", "crate::b::f()"), ("b", "crate::c::f()"), ("c", "crate::a::f()")];
    assert_eq!(of(&three), BTreeSet::from(["a b c".to_owned()]));
}

/// What is asked, how it is solved and who checks it, what is answered: a room uses those before it,
/// and who checks uses nothing of what solves.
#[test]
fn rooms_of_layouts_stand_in_order() {
    const MAY: &[(&str, &[&str])] = &[
        ("asked", &["asked"]),
        ("solved", &["asked", "solved"]),
        ("checked", &["asked", "checked"]),
        ("answered", &["asked", "solved", "checked", "answered"]),
    ];
    let room = |file: &str| -> Option<String> {
        let rest = file.strip_prefix("equivalent::")?;
        rest.split("::").next().map(str::to_owned)
    };
    let mut seen = 0;
    for (own, there) in arrows(&sources()) {
        let Some(own_room) = room(&own) else { continue };
        let may = MAY.iter().find(|m| m.0 == own_room).unwrap_or_else(|| panic!("{own}")).1;
        for there in there.iter().filter_map(|t| room(t)) {
            seen += 1;
            assert!(may.contains(&there.as_str()), "{own} uses {there}");
        }
    }
    assert!(seen > 60, "{seen}");
}
