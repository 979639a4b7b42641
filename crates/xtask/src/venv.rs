//! The virtual environment under the target folder, and the wheel in it.

use std::fs;
use std::path::{Path, PathBuf};

use crate::run::{root, run, target};
use crate::system::python;

/// A virtual environment with the packages of one requirements file.
pub(crate) struct Venv {
    folder: PathBuf,
}

impl Venv {
    /// Makes or reuses the environment. Its stamp is the text of the requirements and the name of
    /// the interpreter; a half-made folder has no stamp and is made anew.
    pub(crate) fn ready(name: &str, requirements: &str) -> Result<Self, String> {
        let folder = target().join(name);
        let list = root().join("python").join(requirements);
        let text = fs::read_to_string(&list).map_err(|e| format!("{}: {e}", list.display()))?;
        let wanted = format!("{}\n{text}", python().display());
        let stamp = folder.join("proofspan-stamp");
        let venv = Self { folder };
        if fs::read_to_string(&stamp).is_ok_and(|found| found == wanted) {
            return Ok(venv);
        }
        if venv.folder.exists() {
            fs::remove_dir_all(&venv.folder)
                .map_err(|e| format!("{}: {e}", venv.folder.display()))?;
        }
        let place = venv.folder.to_string_lossy().into_owned();
        run(&python(), &["-m", "venv", &place], &root(), &[])?;
        let list = list.to_string_lossy().into_owned();
        venv.python(
            &[
                "-m",
                "pip",
                "install",
                "--quiet",
                "--disable-pip-version-check",
                "--only-binary",
                ":all:",
                "-r",
                &list,
            ],
            &root(),
        )
        .map_err(|e| format!("{e}: are the Python packages reachable?"))?;
        fs::write(&stamp, wanted).map_err(|e| format!("{}: {e}", stamp.display()))?;
        Ok(venv)
    }

    /// The interpreter.
    fn interpreter(&self) -> PathBuf {
        self.folder.join("bin").join("python")
    }

    /// Runs the interpreter.
    pub(crate) fn python(&self, arguments: &[&str], folder: &Path) -> Result<(), String> {
        self.python_with(arguments, folder, &[])
    }

    /// Runs the interpreter with more variables set.
    pub(crate) fn python_with(
        &self,
        arguments: &[&str],
        folder: &Path,
        variables: &[(&str, &str)],
    ) -> Result<(), String> {
        let mut all = vec![("PYTHONDONTWRITEBYTECODE", "1"), ("MPLBACKEND", "Agg")];
        all.extend(variables);
        run(&self.interpreter(), arguments, folder, &all)
    }

    /// Builds the wheel with a profile of cargo and installs it.
    pub(crate) fn install(&self, profile: &str) -> Result<(), String> {
        let out = target().join("wheels");
        if out.exists() {
            fs::remove_dir_all(&out).map_err(|e| format!("{}: {e}", out.display()))?;
        }
        let place = out.to_string_lossy().into_owned();
        let interpreter = self.interpreter().to_string_lossy().into_owned();
        let arguments = [
            "-m",
            "maturin",
            "build",
            "--profile",
            profile,
            "--locked",
            "--quiet",
            "-i",
            &interpreter,
            "--out",
            &place,
        ];
        // maturin reads pyproject.toml only where it is started
        self.python(&arguments, &root().join("python"))?;
        let wheels: Vec<PathBuf> = fs::read_dir(&out)
            .map_err(|e| format!("{}: {e}", out.display()))?
            .filter_map(|entry| entry.ok().map(|e| e.path()))
            .filter(|p| {
                p.file_name().is_some_and(|n| n.to_string_lossy().starts_with("proofspan-"))
            })
            .collect();
        let [wheel] = wheels.as_slice() else {
            return Err(format!(
                "one wheel named proofspan-… was expected, {} are there",
                wheels.len()
            ));
        };
        let wheel = wheel.to_string_lossy().into_owned();
        // the version does not change between two builds: without force nothing would be installed
        self.python(
            &[
                "-m",
                "pip",
                "install",
                "--quiet",
                "--disable-pip-version-check",
                "--no-deps",
                "--force-reinstall",
                &wheel,
            ],
            &root(),
        )
    }
}
