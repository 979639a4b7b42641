//! What the system must bring, all of it named at once.

use std::path::{Path, PathBuf};

use crate::run::{output, root, run};

/// The Python to use: `PYTHON`, or `python3`.
pub(crate) fn python() -> PathBuf {
    std::env::var_os("PYTHON").map_or_else(|| PathBuf::from("python3"), PathBuf::from)
}

/// Major and minor number in the answer of `python --version`.
fn version(text: &str) -> Option<(u32, u32)> {
    let mut parts = text.trim().strip_prefix("Python ")?.split('.');
    Some((parts.next()?.parse().ok()?, parts.next()?.parse().ok()?))
}

/// The system packages that are missing.
fn missing() -> Result<Vec<&'static str>, String> {
    let python = python();
    let mut packages = Vec::new();
    match output(&python, &["--version"]).as_deref().and_then(version) {
        None => packages.extend(["python3", "python3-venv"]),
        Some(found) if found < (3, 11) => {
            return Err(format!(
                "`{}` is older than Python 3.11; set PYTHON to a newer one",
                python.display()
            ));
        }
        // the module venv may be there without ensurepip, which makes the difference
        Some(_)
            if output(&python, &["-c", "import ensurepip, venv; ensurepip.version()"])
                .is_none() =>
        {
            packages.push("python3-venv");
        }
        Some(_) => {}
    }
    if output(Path::new("cc"), &["--version"]).is_none() {
        packages.push("gcc");
    }
    Ok(packages)
}

/// Installs what is missing where that is possible without asking; else names it all.
pub(crate) fn ready() -> Result<(), String> {
    let packages = missing()?;
    if packages.is_empty() {
        return Ok(());
    }
    let list = packages.join(" ");
    let command = format!("apt-get install --no-install-recommends -y {list}");
    let user = output(Path::new("id"), &["-u"]).unwrap_or_default();
    let as_root = user.trim() == "0";
    if !as_root && output(Path::new("sudo"), &["-n", "true"]).is_none() {
        return Err(format!("system packages are missing; run: sudo {command}"));
    }
    let mut words: Vec<&str> = if as_root { Vec::new() } else { vec!["-n"] };
    let program = if as_root { "apt-get" } else { "sudo" };
    if !as_root {
        words.push("apt-get");
    }
    let mut update = words.clone();
    update.push("update");
    run(Path::new(program), &update, &root(), &[])?;
    words.extend(["install", "--no-install-recommends", "-y"]);
    words.extend(packages);
    run(Path::new(program), &words, &root(), &[("DEBIAN_FRONTEND", "noninteractive")])
}

#[cfg(test)]
mod tests {
    use super::version;

    #[test]
    fn versions_are_read() {
        assert_eq!(version("Python 3.11.7\n"), Some((3, 11)));
        assert_eq!(version("Python 3.9.2"), Some((3, 9)));
        assert_eq!(version("pypy"), None);
        assert!(Some((3, 9)) < Some((3, 11)));
    }
}
