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

/// How packages are installed: by root, or by sudo where the caller allows it.
fn installer(root: bool, sudo_allowed: bool) -> Option<&'static [&'static str]> {
    match (root, sudo_allowed) {
        (true, _) => Some(&["apt-get"]),
        (false, true) => Some(&["sudo", "-n", "apt-get"]),
        (false, false) => None,
    }
}

/// Installs what is missing as root, or with sudo where `PROOFSPAN_SUDO` is 1; else stops with the
/// one command to run.
pub(crate) fn ready() -> Result<(), String> {
    let packages = missing()?;
    if packages.is_empty() {
        return Ok(());
    }
    let list = packages.join(" ");
    let as_root = output(Path::new("id"), &["-u"]).is_some_and(|user| user.trim() == "0");
    let allowed = std::env::var_os("PROOFSPAN_SUDO").is_some_and(|word| word == "1");
    let Some([program, before @ ..]) = installer(as_root, allowed) else {
        return Err(format!(
            "system packages are missing; run: sudo apt-get install --no-install-recommends -y {list}\n\
             (PROOFSPAN_SUDO=1 lets this command do so itself)"
        ));
    };
    let with = |words: &[&'static str]| [before, words].concat();
    run(Path::new(program), &with(&["update"]), &root(), &[])?;
    let mut words = with(&["install", "--no-install-recommends", "-y"]);
    words.extend(packages);
    run(Path::new(program), &words, &root(), &[("DEBIAN_FRONTEND", "noninteractive")])
}

#[cfg(test)]
mod tests {
    use super::{installer, version};

    #[test]
    fn sudo_is_used_only_where_it_is_allowed() {
        assert_eq!(installer(false, false), None);
        assert_eq!(installer(false, true), Some(&["sudo", "-n", "apt-get"][..]));
        assert_eq!(installer(true, false), Some(&["apt-get"][..]));
    }

    #[test]
    fn versions_are_read() {
        assert_eq!(version("Python 3.11.7\n"), Some((3, 11)));
        assert_eq!(version("Python 3.9.2"), Some((3, 9)));
        assert_eq!(version("pypy"), None);
        assert!(Some((3, 9)) < Some((3, 11)));
    }
}
