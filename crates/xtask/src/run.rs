//! Runs a command, after printing it, and prints how long it took.

use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Instant;

/// The root of the workspace.
pub(crate) fn root() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.ancestors().nth(2).unwrap_or(here).to_owned()
}

/// The target folder: `CARGO_TARGET_DIR`, or `target` in the root.
pub(crate) fn target() -> PathBuf {
    std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| root().join("target"), PathBuf::from)
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
    command.args(arguments).current_dir(folder).envs(variables.iter().copied());
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
