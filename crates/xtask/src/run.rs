//! Runs a command, after printing it, and prints how long it took.

use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Instant;

/// The root of the workspace.
pub(crate) fn root() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.ancestors().nth(2).unwrap_or(here).to_owned()
}

/// The target folder: `CARGO_TARGET_DIR`, seen from where cargo was called, or `target` in the root.
pub(crate) fn target() -> PathBuf {
    placed(std::env::var_os("CARGO_TARGET_DIR"))
}

fn placed(named: Option<OsString>) -> PathBuf {
    let named = named.filter(|name| !name.is_empty()).map(PathBuf::from);
    let whole = named.map(|name| std::path::absolute(&name).unwrap_or(name));
    whole.unwrap_or_else(|| root().join("target"))
}

/// Runs `program` with `arguments` in `folder`, with these variables set.
pub(crate) fn run(
    program: &Path,
    arguments: &[&str],
    folder: &Path,
    variables: &[(&str, &str)],
) -> Result<(), String> {
    println!("$ {} {}", program.display(), arguments.join(" "));
    let start = Instant::now();
    let mut command = Command::new(program);
    // whole, since the command runs in another folder than the one where cargo was called
    command.args(arguments).current_dir(folder).env("CARGO_TARGET_DIR", target());
    command.envs(variables.iter().copied());
    let status = command
        .status()
        .map_err(|e| format!("`{}` could not be started: {e}", program.display()))?;
    println!("  {:.1} s", start.elapsed().as_secs_f64());
    if status.success() {
        Ok(())
    } else {
        Err(format!("`{} {}` failed", program.display(), arguments.join(" ")))
    }
}

/// The cargo that runs this, or the one on the path.
pub(crate) fn cargo_program() -> PathBuf {
    std::env::var_os("CARGO").map_or_else(|| PathBuf::from("cargo"), PathBuf::from)
}

/// Runs cargo in the root of the workspace.
pub(crate) fn cargo(arguments: &[&str], variables: &[(&str, &str)]) -> Result<(), String> {
    run(&cargo_program(), arguments, &root(), variables)
}

/// What a command prints, where it succeeds.
pub(crate) fn output(program: &Path, arguments: &[&str]) -> Option<String> {
    let output = Command::new(program).args(arguments).output().ok()?;
    output.status.success().then(|| String::from_utf8_lossy(&output.stdout).into_owned())
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::{placed, root};

    #[test]
    fn the_target_folder_is_seen_from_where_cargo_was_called() {
        let here = std::env::current_dir().unwrap();
        assert_eq!(placed(Some("elsewhere/built".into())), here.join("elsewhere/built"));
        assert_eq!(placed(Some("/built".into())), std::path::Path::new("/built"));
        assert_eq!(placed(None), root().join("target"));
        assert_eq!(placed(Some("".into())), root().join("target"));
    }
}
