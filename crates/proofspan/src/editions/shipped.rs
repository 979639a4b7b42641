//! The editions that come with the library, read when one is first asked for, and those of one's own
//! beside them.

use std::fs::File;
use std::io::Read as _;
use std::path::Path;
use std::sync::{Arc, OnceLock};

use super::edition::Edition;
use super::file::EditionFile;
use crate::error::{Error, Issue, slug};
use crate::source::{MAX_TOML, read_json, read_toml};
use crate::units::{SHOWN, head, nearest};

const FILES: &[(&str, &str)] = include!(concat!(env!("OUT_DIR"), "/editions.rs"));

static EDITIONS: OnceLock<Result<Vec<Arc<Edition>>, Error>> = OnceLock::new();

fn all() -> Result<&'static [Arc<Edition>], Error> {
    let read = || {
        let mut editions = Vec::with_capacity(FILES.len());
        let mut issues = Vec::new();
        for (name, text) in FILES {
            match shipped(text) {
                Ok(edition) => editions.push(Arc::new(edition)),
                Err(error) => issues.extend(
                    error
                        .issues
                        .into_iter()
                        .map(|i| Issue { path: format!("{name}: {}", i.path), ..i }),
                ),
            }
        }
        issues.extend(circles(&editions));
        Error::check(issues).map(|()| editions)
    };
    EDITIONS.get_or_init(read).as_deref().map_err(Clone::clone)
}

fn shipped(text: &str) -> Result<Edition, Error> {
    Edition::compiled(read_toml(text)?, None)
}

/// A name as it is compared: letters and digits, so that no blank, dash or capital makes another.
fn bare(name: &str) -> String {
    name.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

/// That an edition of one's own has the id or the name of a shipped one whose figures are known.
fn taken(file: &EditionFile) -> Result<Vec<Issue>, Error> {
    let known: Vec<_> = all()?.iter().filter(|e| e.unknown().is_none()).collect();
    let mut issues = Vec::new();
    for (path, name) in [("id", &file.id), ("name", &file.name)] {
        let bare_name = bare(name);
        let other = known.iter().find(|e| [e.id(), e.name()].map(bare).contains(&bare_name));
        issues.extend(other.map(|e| {
            let message = format!("`{}` is a shipped edition", e.name());
            Issue::new(slug::EDITIONS_SHIPPED_NAME, path, message).value(name)
        }));
    }
    Ok(issues)
}

/// Editions whose chain of `superseded_by` comes back to itself or leaves the list.
fn circles(editions: &[Arc<Edition>]) -> Vec<Issue> {
    let mut issues = Vec::new();
    for edition in editions {
        let mut at = edition;
        for step in 0..=editions.len() {
            let Some(next) = at.superseded_by() else { break };
            let Some(found) = editions.iter().find(|e| e.id() == next) else {
                issues.push(Issue::new(
                    slug::EDITIONS_FILE,
                    "superseded_by",
                    format!("{} names `{next}`, which is not here", at.id()),
                ));
                break;
            };
            at = found;
            if step == editions.len() {
                issues.push(Issue::new(
                    slug::EDITIONS_FILE,
                    "superseded_by",
                    format!("the chain from {} comes back to itself", edition.id()),
                ));
            }
        }
    }
    issues
}

impl Edition {
    /// Reads an edition file of one's own, TOML or the same as JSON. Its printed name carries its
    /// fingerprint.
    ///
    /// # Errors
    /// Every problem with path, line and column: fields, units, formulas, factors without
    /// a reason, a condition that is missing; `editions.shipped-name` for the id or the name of a
    /// shipped edition, unless that one's figures are unknown and this file completes it.
    pub fn from_toml(text: &str) -> Result<Self, Error> {
        // no TOML begins so
        Self::of(if text.trim_start().starts_with('{') {
            read_json(text)
        } else {
            read_toml(text)
        }?)
    }

    /// Reads an edition file of one's own from its path, by the rules of [`Self::from_toml`].
    ///
    /// ```
    /// use proofspan::editions::Edition;
    /// let refused = Edition::from_file("no/such/file.toml".as_ref()).unwrap_err();
    /// assert_eq!(refused.codes(), ["editions.file"]);
    /// ```
    ///
    /// # Errors
    /// `editions.file` where the file is none or cannot be read; as [`Self::from_toml`].
    pub fn from_file(path: &Path) -> Result<Self, Error> {
        let refused = |why: String| {
            let issue = Issue::new(slug::EDITIONS_FILE, "edition", why);
            Error::from(issue.value(path.display().to_string()))
        };
        let failed = |e: std::io::Error| refused(format!("the file cannot be read: {e}"));
        // a device or a pipe has no end
        if !std::fs::metadata(path).map_err(failed)?.is_file() {
            return Err(refused("this is no file".to_owned()));
        }
        let mut text = String::new();
        let most = u64::try_from(MAX_TOML).unwrap_or(u64::MAX).saturating_add(1);
        File::open(path)
            .and_then(|file| file.take(most).read_to_string(&mut text))
            .map_err(failed)?;
        Self::from_toml(&text)
    }

    /// An edition of one's own from its parts, by the rules of [`Self::from_toml`].
    ///
    /// # Errors
    /// As [`Self::from_toml`].
    pub fn of(file: EditionFile) -> Result<Self, Error> {
        let taken = taken(&file)?;
        Self::compiled(file, Some(taken))
    }

    /// The shipped edition of this stable name or name that people use.
    ///
    /// # Errors
    /// `editions.edition-unknown`, with the nearest name.
    pub fn shipped(name: &str) -> Result<Arc<Self>, Error> {
        let editions = all()?;
        let wanted = name.trim();
        editions.iter().find(|e| e.called(wanted)).cloned().ok_or_else(|| {
            let names = || editions.iter().flat_map(|e| [e.id(), e.name()]);
            let near = nearest(wanted, names())
                .map_or_else(String::new, |near| format!("did you mean `{near}`? "));
            let list: Vec<&str> = editions.iter().map(|e| e.name()).collect();
            Issue::new(
                slug::EDITIONS_EDITION_UNKNOWN,
                "edition.id",
                format!("no edition is called `{}`", head(wanted, SHOWN)),
            )
            .value(wanted)
            .limit(list.join(", "))
            .remedy(format!("{near}a file of your own is read by Edition::from_toml"))
            .into()
        })
    }

    /// The shipped editions.
    ///
    /// # Errors
    /// Never with the files that are shipped; a test reads them all.
    pub fn list() -> Result<Vec<Arc<Self>>, Error> {
        all().map(<[_]>::to_vec)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;

    fn stub(id: &str, by: &str) -> Arc<Edition> {
        let text = format!(
            "id = \"{id}\"\nname = \"{id}\"\ntitle = \"t\"\nyear = 2000\nstatus = \"superseded\"\nsuperseded_by = \"{by}\"\nclause = \"1\"\nfactors = \"unknown\"\n"
        );
        Arc::new(shipped(&text).unwrap())
    }

    #[test]
    fn circles_and_loose_ends_are_found() {
        let circle = circles(&[stub("a", "b"), stub("b", "c"), stub("c", "a")]);
        assert_eq!(circle.len(), 3);
        assert!(circle.iter().all(|i| i.message.contains("comes back to itself")));
        let loose = circles(&[stub("a", "z")]);
        assert!(loose.len() == 1 && loose.iter().all(|i| i.message.contains("`z`")));
    }

    #[test]
    fn every_shipped_file_reads_and_is_embedded_once() {
        let all = Edition::list().unwrap();
        assert_eq!(all.len(), FILES.len());
        let mut ids: Vec<&str> = all.iter().map(|e| e.id()).collect();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), all.len());
    }
}
