//! The long runs: every test whatever fails, the seed that repeats them, and a summary at the end.

use std::io::{BufRead, BufReader, Read};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{SystemTime, UNIX_EPOCH};

use crate::run::{cargo_program, root};
use crate::steps::python_checks;
use crate::system;
use crate::venv::Venv;

/// Cases of each law.
const CASES: &str = "20000";

/// Runs everything and fails at the end, with the names of what failed. `PROOFSPAN_SEED` repeats a run.
pub(crate) fn soak() -> Result<(), String> {
    system::ready()?;
    let seed = match std::env::var("PROOFSPAN_SEED") {
        Ok(given) => given.trim().parse::<u64>().map_err(|e| format!("PROOFSPAN_SEED: {e}"))?,
        Err(_) => SystemTime::now()
            .duration_since(UNIX_EPOCH)
            .map_or(0, |t| t.as_secs() ^ u64::from(t.subsec_nanos())),
    };
    let seed = seed.to_string();
    let again = format!("PROOFSPAN_SEED={seed} cargo xtask soak");
    println!("seed {seed}; the same run again: {again}");
    let mut failed = rust_tests(&seed);
    match Venv::ready("venv", "requirements-dev.txt").and_then(|v| v.install("release").map(|()| v))
    {
        Ok(venv) => {
            for (name, arguments) in python_checks() {
                let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
                let variables = [("PROOFSPAN_SOAK", "1"), ("PROOFSPAN_SEED", seed.as_str())];
                if let Err(error) = venv.python_with(&arguments, &root(), &variables) {
                    failed.push(format!("{name}: {error}"));
                }
            }
        }
        Err(error) => failed.push(format!("the wheel: {error}")),
    }
    if failed.is_empty() {
        println!("soak: everything passed, seed {seed}");
        return Ok(());
    }
    let list = failed.join("\n  ");
    Err(format!("{} failed:\n  {list}\nthe same run again: {again}", failed.len()))
}

/// All Rust tests to the end; the names of those that failed.
fn rust_tests(seed: &str) -> Vec<String> {
    let arguments = ["test", "--workspace", "--locked", "--release", "--no-fail-fast"];
    let program = cargo_program();
    println!("$ {} {}", program.display(), arguments.join(" "));
    let variables = [
        ("PROOFSPAN_SOAK", "1"),
        ("PROPTEST_CASES", CASES),
        ("PROPTEST_RNG_SEED", seed),
        ("PROOFSPAN_SEED", seed),
    ];
    watched(&program, &arguments, &variables)
}

/// Runs a command that prints as `cargo test` does, shows what it prints, and picks out what failed.
fn watched(program: &Path, arguments: &[&str], variables: &[(&str, &str)]) -> Vec<String> {
    let mut command = Command::new(program);
    command.args(arguments).current_dir(root()).envs(variables.iter().copied());
    let child = command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn();
    let mut child = match child {
        Ok(child) => child,
        Err(error) => return vec![format!("`{}`: {error}", program.display())],
    };
    let errors = child.stderr.take();
    let beside = std::thread::spawn(move || errors.map_or_else(Vec::new, |e| read(e, true)));
    let mut failed = child.stdout.take().map_or_else(Vec::new, |o| read(o, false));
    failed.extend(beside.join().unwrap_or_default());
    let passed = child.wait().is_ok_and(|status| status.success());
    if !passed && failed.is_empty() {
        failed.push(format!("`{}`", arguments.join(" ")));
    }
    failed
}

/// Shows lines as they come and keeps those that name a failure.
fn read(from: impl Read, error: bool) -> Vec<String> {
    let mut failed = Vec::new();
    let mut lines = BufReader::new(from);
    let mut line = Vec::new();
    // a line may hold bytes that are no text
    while lines.read_until(b'\n', &mut line).is_ok_and(|n| n > 0) {
        let text = String::from_utf8_lossy(&line).trim_end().to_owned();
        if error {
            eprintln!("{text}");
        } else {
            println!("{text}");
        }
        failed.extend(failure(&text));
        line.clear();
    }
    failed
}

/// What a line of `cargo test` says has failed: a test by its name, or a whole target.
fn failure(line: &str) -> Option<String> {
    let line = line.trim();
    if let Some(name) = line.strip_prefix("test ").and_then(|l| l.strip_suffix(" ... FAILED")) {
        return Some(name.to_owned());
    }
    let target = line.strip_prefix('`')?.strip_suffix('`')?;
    target.starts_with("-p ").then(|| format!("target {target}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn failures_are_picked_out() {
        let of = |line: &str| failure(line);
        assert_eq!(of("test laws::a_cap ... FAILED"), Some("laws::a_cap".to_owned()));
        let target = Some("target -p workbench --test certified_laws".to_owned());
        assert_eq!(of("    `-p workbench --test certified_laws`"), target);
        for quiet in ["test a ... ok", "failures:", "    a", "test result: FAILED. 1 passed", ""] {
            assert_eq!(of(quiet), None, "{quiet}");
        }
    }

    /// A target that fails does not hide the next one, and one that says nothing is named by its command.
    #[cfg(unix)]
    #[test]
    fn a_run_goes_to_its_end() {
        let script = "echo 'test one ... FAILED'; echo '    `-p a --test b`' >&2; echo 'test two ... ok'; echo 'test three ... FAILED'; exit 101";
        let shell = Path::new("sh");
        let mut failed = watched(shell, &["-c", script], &[]);
        failed.sort();
        assert_eq!(failed, ["one", "target -p a --test b", "three"]);
        assert_eq!(watched(shell, &["-c", "exit 3"], &[]), ["`-c exit 3`"]);
        assert!(watched(shell, &["-c", "echo 'test one ... ok'"], &[]).is_empty());
        assert!(!watched(Path::new("no-such-program"), &[], &[]).is_empty());
        let seed = watched(
            shell,
            &["-c", "echo \"test seed $SEED ... FAILED\"; exit 1"],
            &[("SEED", "7")],
        );
        assert_eq!(seed, ["seed 7"]);
    }
}
