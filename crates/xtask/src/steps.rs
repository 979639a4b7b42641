//! What each command does, cheapest first.

use std::fs;
use std::path::{Path, PathBuf};

use crate::run::{cargo, root, run, target};
use crate::system;
use crate::venv::Venv;

/// Lets the glue crate compile without a Python library to link with.
const NO_LINK: (&str, &str) = ("PYO3_BUILD_EXTENSION_MODULE", "1");

/// Everything that must hold before a change is handed in.
pub(crate) fn verify() -> Result<(), String> {
    system::ready()?;
    cargo(&["fmt", "--all", "--check"], &[])?;
    cargo(
        &["clippy", "--workspace", "--all-targets", "--locked", "--quiet", "--", "-D", "warnings"],
        &[NO_LINK],
    )?;
    cargo(&["test", "--workspace", "--locked", "--quiet"], &[])?;
    cargo(
        &["doc", "--package", "proofspan", "--no-deps", "--locked", "--quiet"],
        &[("RUSTDOCFLAGS", "-D warnings")],
    )?;
    python_tests()
}

/// The tests of the installed wheel: stubs, types, tests, notebooks.
fn python_tests() -> Result<(), String> {
    let venv = Venv::ready("venv", "requirements-dev.txt")?;
    venv.install("release")?;
    for (_, arguments) in python_checks() {
        let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
        venv.python(&arguments, &root())?;
    }
    Ok(())
}

/// What is asked of the installed wheel: a name, and the arguments of its interpreter.
pub(crate) fn python_checks() -> [(&'static str, Vec<String>); 3] {
    let cache = target().join("mypy").to_string_lossy().into_owned();
    let words = |all: &[&str]| all.iter().map(|w| (*w).to_owned()).collect::<Vec<String>>();
    [
        ("stubs", words(&["-m", "mypy.stubtest", "proofspan._core"])),
        (
            "types",
            words(&[
                "-m",
                "mypy",
                "--strict",
                "--no-error-summary",
                "--cache-dir",
                &cache,
                "python/tests",
                "python/examples",
            ]),
        ),
        (
            "Python tests",
            words(&[
                "-m",
                "pytest",
                "-q",
                "-p",
                "no:cacheprovider",
                "-c",
                "python/pyproject.toml",
                "--rootdir",
                ".",
                "python/tests",
            ]),
        ),
    ]
}

/// The main job end to end, in Rust and in Python, into the folder `demo` of the target folder. Both
/// halves are built with one profile and one set of features, so that the library is compiled once.
pub(crate) fn demo() -> Result<(), String> {
    let out = target().join("demo");
    fs::create_dir_all(&out).map_err(|e| format!("{}: {e}", out.display()))?;
    let place = out.to_string_lossy().into_owned();
    // Python packages come while the library is compiled; a machine without Python still sees the
    // Rust half
    let packages = std::thread::spawn(|| {
        system::ready()?;
        Venv::ready("venv-demo", "requirements-demo.txt")
    });
    // both packages are named, so that what they share has the features of both
    let rust = cargo(
        &[
            "build",
            "--profile",
            "quick",
            "--locked",
            "--quiet",
            "--package",
            "proofspan",
            "--package",
            "proofspan-py",
            "--features",
            "proofspan/cone",
            "--lib",
            "--example",
            "demo",
        ],
        &[NO_LINK],
    )
    .and_then(|()| {
        let program = format!("demo{}", std::env::consts::EXE_SUFFIX);
        run(&target().join("quick").join("examples").join(program), &[&place], &root(), &[])
    });
    let packages = packages.join().unwrap_or_else(|_| Err("the packages failed".to_owned()));
    rust.map_err(|e| format!("the Rust half: {e}"))?;
    let python = || -> Result<(), String> {
        let path = beside_the_extension()?.to_string_lossy().into_owned();
        let arguments = ["python/examples/demo.py", &place];
        packages?.python_with(&arguments, &root(), &[("PYTHONPATH", &path)])
    };
    python().map_err(|e| format!("the Python half: {e}"))?;
    println!("written:");
    let mut files: Vec<_> = fs::read_dir(&out)
        .map_err(|e| e.to_string())?
        .filter_map(Result::ok)
        .map(|e| e.path())
        .collect();
    files.sort();
    for file in files {
        println!("  {}", file.display());
    }
    Ok(())
}

/// The Python package with the extension that cargo has just built, as a folder to import from: the demo
/// needs no wheel.
fn beside_the_extension() -> Result<PathBuf, String> {
    use std::env::consts::{DLL_PREFIX, DLL_SUFFIX};
    let built = target().join("quick");
    let folder = built.join("python");
    let package = folder.join("proofspan");
    let told = |path: &Path| path.display().to_string();
    fs::create_dir_all(&package).map_err(|e| format!("{}: {e}", told(&package)))?;
    let sources = root().join("python").join("src").join("proofspan");
    let copy = |from: PathBuf, name: &str| {
        fs::copy(&from, package.join(name)).map(|_| ()).map_err(|e| format!("{}: {e}", told(&from)))
    };
    for entry in fs::read_dir(&sources).map_err(|e| format!("{}: {e}", told(&sources)))? {
        let file = entry.map_err(|e| format!("{}: {e}", told(&sources)))?.path();
        if file.extension().is_some_and(|e| e == "py") {
            let name = file.file_name().unwrap_or_default().to_string_lossy().into_owned();
            copy(file, &name)?;
        }
    }
    copy(built.join(format!("{DLL_PREFIX}_core{DLL_SUFFIX}")), "_core.abi3.so")?;
    Ok(folder)
}

/// The benches, and their Python peers in the same run.
pub(crate) fn bench() -> Result<(), String> {
    cargo(&["bench", "--locked", "--package", "workbench"], &[])?;
    let venv = Venv::ready("venv", "requirements-dev.txt")?;
    venv.install("release")?;
    venv.python(&["benches/peers/run.py"], &root())?;
    venv.python(&["benches/peers/logs.py"], &root())
}
