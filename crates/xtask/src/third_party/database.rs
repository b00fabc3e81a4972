//! Where the advisories come from: the `RustSec` database, as git has it.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use anyhow::{Context as _, Result};

use crate::process;

/// Where the database is kept.
pub(super) const ADDRESS: &str = "https://github.com/RustSec/advisory-db";

/// How long a host may take before it counts as out of reach: chosen because the whole database is a few megabytes.
const PATIENCE: Duration = Duration::from_mins(1);

/// The database as it lies here.
#[derive(Debug)]
pub(super) struct Database {
    pub(super) folder: PathBuf,
    /// Of which day it is, in words.
    pub(super) age: String,
}

/// The newest database that can be had: fetched now, else as it was fetched before, else none.
pub(super) fn fetched(folder: &Path, address: &str) -> Result<Option<Database>> {
    fs::create_dir_all(folder)?;
    let new = update(folder, address)?;
    // Without a folder of crates it was never fetched to its end.
    if !folder.join("crates").is_dir() {
        return Ok(None);
    }
    let day = process::capture(git(folder).args(["log", "-1", "--format=%cs"]))?;
    let reached = if new { "" } else { " (a newer one could not be reached)" };
    Ok(Some(Database { folder: folder.to_owned(), age: format!("of {}{reached}", day.trim()) }))
}

/// Fetches without history, and says whether that could be done.
fn update(folder: &Path, address: &str) -> Result<bool> {
    if !folder.join(".git").is_dir() {
        process::run(git(folder).args(["init", "--quiet"]))?;
    }
    let mut fetch = git(folder);
    fetch.args(["fetch", "--quiet", "--depth", "1", address, "HEAD"]);
    if !ends_well(fetch.stderr(Stdio::null()).spawn().context("git could not be started")?, PATIENCE)? {
        return Ok(false);
    }
    process::run(git(folder).args(["checkout", "--quiet", "--force", "--detach", "FETCH_HEAD"]))?;
    Ok(true)
}

fn git(folder: &Path) -> Command {
    let mut git = Command::new("git");
    // A host that asks who we are is out of reach.
    git.arg("-C").arg(folder).env("GIT_TERMINAL_PROMPT", "0").stdin(Stdio::null());
    git
}

/// Whether a program ends well within that time; one that does not is ended.
fn ends_well(mut child: Child, patience: Duration) -> Result<bool> {
    let start = Instant::now();
    while start.elapsed() < patience {
        if let Some(status) = child.try_wait()? {
            return Ok(status.success());
        }
        std::thread::sleep(Duration::from_millis(50));
    }
    child.kill()?;
    child.wait()?;
    Ok(false)
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;

    /// A database of advisories that are all invented, in a folder that goes with it.
    pub(in crate::third_party) struct Invented(PathBuf);

    /// Each file with its text.
    const INVENTED: [(&str, &str); 5] = [
        (
            "walls/INVENTED-0001.md",
            "```toml\n[advisory]\nid = \"INVENTED-0001\"\npackage = \"walls\"\ndate = \"2000-01-01\"\n\
             [affected]\nfunctions = { \"walls::lean\" = [\"< 2.0.1\"] }\n\
             [versions]\npatched = [\">= 1.2.3, < 2.0.0\", \">= 2.0.1\"]\nunaffected = [\"< 1.0.0\"]\n```\n\n\
             # Invented: a wall falls over\n\nOnly for tests.\n",
        ),
        (
            "doors/INVENTED-0002.md",
            "```toml\n[advisory]\nid = \"INVENTED-0002\"\npackage = \"doors\"\ndate = \"2000-01-01\"\n\
             informational = \"unmaintained\"\n[versions]\npatched = []\n```\n\n# Invented: nobody oils it\n",
        ),
        (
            "doors/INVENTED-0003.md",
            "```toml\n[advisory]\nid = \"INVENTED-0003\"\npackage = \"doors\"\ndate = \"2000-01-01\"\n\
             informational = \"unsound\"\n```\n\n# Invented: it opens both ways\n",
        ),
        (
            "roof/INVENTED-0004.md",
            "```toml\n[advisory]\nid = \"INVENTED-0004\"\npackage = \"roof\"\ndate = \"2000-01-01\"\n\
             withdrawn = \"2000-01-02\"\n[versions]\npatched = []\n```\n\n# Invented: it was dry after all\n",
        ),
        ("broken/INVENTED-0005.md", "# Invented: an advisory without its head\n"),
    ];

    impl Invented {
        pub(in crate::third_party) fn new(name: &str) -> Self {
            let folder = std::env::temp_dir().join(format!("tapemark-{name}-{}", std::process::id()));
            for (file, text) in INVENTED {
                let file = folder.join("crates").join(file);
                fs::create_dir_all(file.parent().unwrap()).unwrap();
                fs::write(file, text).unwrap();
            }
            Self(folder)
        }

        pub(in crate::third_party) fn folder(&self) -> &Path {
            &self.0
        }

        /// Makes a repository of it, as the host has one.
        fn commit(&self) {
            process::run(git(&self.0).args(["init", "--quiet"])).unwrap();
            process::run(git(&self.0).args(["add", "crates"])).unwrap();
            let who = ["-c", "user.name=Nobody", "-c", "user.email=nobody@example.org"];
            let commit = ["commit", "--quiet", "--message", "Invented", "--date", "2000-01-01T00:00:00Z"];
            let mut git = git(&self.0);
            process::run(git.env("GIT_COMMITTER_DATE", "2000-01-01T12:00:00Z").args(who).args(commit))
                .unwrap();
        }
    }

    impl Drop for Invented {
        fn drop(&mut self) {
            fs::remove_dir_all(&self.0).unwrap();
        }
    }

    #[test]
    fn the_database_is_fetched_kept_and_none_if_it_was_never_reached() {
        let host = Invented::new("host");
        host.commit();
        let here = std::env::temp_dir().join(format!("tapemark-fetched-{}", std::process::id()));
        let nowhere = here.join("nowhere");
        let never = fetched(&here, &nowhere.display().to_string()).unwrap();
        assert!(never.is_none(), "{never:?}");
        let first = fetched(&here, &host.folder().display().to_string()).unwrap().unwrap();
        let kept = fetched(&here, &nowhere.display().to_string()).unwrap().unwrap();
        let has_advisory = kept.folder.join("crates/walls/INVENTED-0001.md").is_file();
        fs::remove_dir_all(&here).unwrap();
        assert_eq!(first.age, "of 2000-01-01");
        assert_eq!(kept.age, "of 2000-01-01 (a newer one could not be reached)");
        assert!(has_advisory, "{kept:?}");
    }

    #[test]
    fn a_host_that_never_answers_is_given_up() {
        let waiting = Command::new("sleep").arg("600").spawn().unwrap();
        assert!(!ends_well(waiting, Duration::from_millis(100)).unwrap());
        assert!(ends_well(Command::new("true").spawn().unwrap(), PATIENCE).unwrap());
    }
}
