//! What the database of advisories has against a crate: one Markdown file an advisory, headed by what a program reads.

use std::fs;
use std::path::Path;

use anyhow::{Context as _, Result};
use semver::{Version, VersionReq};
use serde::Deserialize;

use super::Package;

/// Advisories that do not touch us, by their numbers, each with why. One that is no longer about any version of ours is
/// to be taken out again.
const NOT_OURS: &[(&str, &str)] = &[];

/// What an advisory means for us.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Verdict {
    /// To be mended before anything is handed over.
    Breach,
    /// Good to know: nobody maintains it any longer.
    Note,
}

/// The head of an advisory.
#[derive(Debug, Deserialize)]
struct Head {
    advisory: Advisory,
    #[serde(default)]
    versions: Versions,
}

#[derive(Debug, Deserialize)]
struct Advisory {
    id: String,
    /// What it is if it is no weakness by itself.
    informational: Option<String>,
    /// When it was taken back.
    withdrawn: Option<String>,
}

/// The versions that it is not about.
#[derive(Debug, Default, Deserialize)]
struct Versions {
    #[serde(default)]
    patched: Vec<VersionReq>,
    #[serde(default)]
    unaffected: Vec<VersionReq>,
}

/// What the database says of these crates, a line each.
pub(super) fn said(crates: &[Package], database: &Path) -> Result<Vec<(String, Verdict)>> {
    said_but(NOT_OURS, crates, database)
}

fn said_but(
    not_ours: &[(&str, &str)],
    crates: &[Package],
    database: &Path,
) -> Result<Vec<(String, Verdict)>> {
    let mut said = Vec::new();
    let mut unused: Vec<&str> = not_ours.iter().map(|(id, _)| *id).collect();
    for package in crates {
        let version: Version = package.version.parse().context("cargo has a version that is none")?;
        for advisory in about(&package.name, database)? {
            if !advisory.is_about(&version) {
                continue;
            }
            if not_ours.iter().any(|(id, _)| *id == advisory.id) {
                unused.retain(|id| *id != advisory.id);
                continue;
            }
            said.push((advisory.words(package), advisory.verdict));
        }
    }
    let unused = unused.into_iter();
    said.extend(unused.map(|id| (format!("{id} is no longer about any crate of ours"), Verdict::Note)));
    Ok(said)
}

/// An advisory as it is needed here.
#[derive(Debug)]
struct Read {
    id: String,
    title: String,
    verdict: Verdict,
    withdrawn: bool,
    versions: Versions,
}

/// All that the database has about a crate, in the order of their numbers.
fn about(name: &str, database: &Path) -> Result<Vec<Read>> {
    let Ok(entries) = fs::read_dir(database.join("crates").join(name)) else {
        return Ok(Vec::new());
    };
    let mut files = entries.map(|entry| Ok(entry?.path())).collect::<Result<Vec<_>>>()?;
    files.retain(|file| file.extension().is_some_and(|extension| extension == "md"));
    files.sort();
    let read = |file: &std::path::PathBuf| {
        let text = fs::read_to_string(file)?;
        read(&text).with_context(|| format!("the advisory {} does not read", file.display()))
    };
    files.iter().map(read).collect()
}

/// Reads an advisory: TOML between fences, then a title and words.
fn read(text: &str) -> Result<Read> {
    let (head, words) = text
        .trim_start()
        .strip_prefix("```toml")
        .and_then(|rest| rest.split_once("\n```"))
        .context("it does not begin with its head")?;
    let head: Head = toml::from_str(head)?;
    let title = words.lines().find_map(|line| line.strip_prefix("# ")).unwrap_or("without a title");
    let verdict = match head.advisory.informational.as_deref() {
        Some("unmaintained" | "notice") => Verdict::Note,
        // A weakness, what is unsound, and what this reader does not know yet.
        Some(_) | None => Verdict::Breach,
    };
    Ok(Read {
        id: head.advisory.id,
        title: title.trim().to_owned(),
        verdict,
        withdrawn: head.advisory.withdrawn.is_some(),
        versions: head.versions,
    })
}

impl Read {
    /// Whether it counts for that version.
    ///
    /// An early version (`1.0.0-alpha.1`) is met by no range that does not name one, so such a version may be said to
    /// be weak and not be: the safe side.
    fn is_about(&self, version: &Version) -> bool {
        let mut fine = self.versions.patched.iter().chain(&self.versions.unaffected);
        !self.withdrawn && !fine.any(|range| range.matches(version))
    }

    fn words(&self, package: &Package) -> String {
        let patched: Vec<_> = self.versions.patched.iter().map(VersionReq::to_string).collect();
        let mended = match patched.as_slice() {
            [] => "no version mends it".to_owned(),
            ranges => format!("mended in {}", ranges.join(" or ")),
        };
        format!("{} {}: {} ({}; {mended})", package.name, package.version, self.title, self.id)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::third_party::database::tests::Invented;

    fn package(name: &str, version: &str) -> Package {
        Package { name: name.to_owned(), version: version.to_owned(), licence: None }
    }

    fn verdicts(name: &str, version: &str) -> Vec<(String, Verdict)> {
        let database = Invented::new(&format!("verdict-{name}-{version}"));
        said_but(&[], &[package(name, version)], database.folder()).unwrap()
    }

    #[test]
    fn a_version_before_the_mended_one_is_a_breach_and_the_mended_one_is_not() {
        let weak =
            "walls 1.2.2: Invented: a wall falls over (INVENTED-0001; mended in >=1.2.3, <2.0.0 or >=2.0.1)";
        assert_eq!(verdicts("walls", "1.2.2"), [(weak.to_owned(), Verdict::Breach)]);
        assert_eq!(verdicts("walls", "2.0.0").len(), 1);
        for fine in ["1.2.3", "2.0.1", "0.9.0"] {
            assert_eq!(verdicts("walls", fine), [], "{fine}");
        }
    }

    #[test]
    fn an_early_version_is_held_to_be_weak() {
        assert_eq!(verdicts("walls", "3.0.0-alpha.1").len(), 1);
    }

    #[test]
    fn what_nobody_maintains_is_a_note_and_what_is_unsound_a_breach() {
        let [note, breach] = &verdicts("doors", "1.0.0")[..] else { panic!("two are about it") };
        assert_eq!(note.1, Verdict::Note);
        assert!(note.0.ends_with("(INVENTED-0002; no version mends it)"), "{note:?}");
        assert_eq!(breach.1, Verdict::Breach);
    }

    #[test]
    fn what_was_taken_back_and_what_is_of_another_crate_does_not_count() {
        assert_eq!(verdicts("roof", "1.0.0"), []);
        assert_eq!(verdicts("wall", "1.2.2"), []);
    }

    #[test]
    fn one_that_does_not_touch_us_is_left_out_until_it_is_about_nothing() {
        let database = Invented::new("not-ours");
        let not_ours = [("INVENTED-0001", "we have no walls that stand alone")];
        let crates = [package("walls", "1.2.2"), package("walls", "1.1.0")];
        assert_eq!(said_but(&not_ours, &crates, database.folder()).unwrap(), []);
        let said = said_but(&not_ours, &[package("walls", "1.2.3")], database.folder()).unwrap();
        assert_eq!(said, [("INVENTED-0001 is no longer about any crate of ours".to_owned(), Verdict::Note)]);
    }

    #[test]
    fn an_advisory_about_a_crate_of_ours_that_does_not_read_is_an_error() {
        let database = Invented::new("unreadable");
        let error = said_but(&[], &[package("broken", "1.0.0")], database.folder()).unwrap_err();
        assert!(error.to_string().contains("INVENTED-0005.md does not read"), "{error}");
    }
}
