//! The commands of this workspace: `demo`, `verify`, `soak`, `bench`.
//!
//! Each does all its set-up itself: a virtual environment of its own under the target folder,
//! nothing global but the system packages it names.

mod run;
mod soak;
mod steps;
mod system;
mod venv;

use std::process::ExitCode;

fn main() -> ExitCode {
    let word = std::env::args().nth(1).unwrap_or_default();
    let result = match word.as_str() {
        "demo" => steps::demo(),
        "verify" => steps::verify(),
        "soak" => soak::soak(),
        "bench" => steps::bench(),
        _ => Err("usage: cargo xtask demo | verify | soak | bench".to_owned()),
    };
    match result {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            eprintln!("xtask {word}: {message}");
            ExitCode::FAILURE
        }
    }
}
