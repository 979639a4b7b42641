//! Embeds every file of `editions/`, so that no edition is named in the sources.

use std::fmt::Write as _;
use std::path::PathBuf;
use std::{env, fs};

fn main() {
    println!("cargo::rerun-if-changed=editions");
    let root = PathBuf::from(env::var_os("CARGO_MANIFEST_DIR").unwrap_or_default());
    let mut files: Vec<PathBuf> = fs::read_dir(root.join("editions"))
        .map(|entries| entries.filter_map(|e| e.ok().map(|e| e.path())).collect())
        .unwrap_or_default();
    files.retain(|f| f.extension().is_some_and(|e| e == "toml"));
    files.sort();
    let mut list = String::from("&[\n");
    for file in files {
        let name = file.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
        let path = file.to_string_lossy().into_owned();
        let _ = writeln!(list, "    ({name:?}, include_str!({path:?})),");
    }
    list.push(']');
    let out = PathBuf::from(env::var_os("OUT_DIR").unwrap_or_default()).join("editions.rs");
    if let Err(error) = fs::write(&out, list) {
        println!("cargo::error=could not write {}: {error}", out.display());
    }
}
