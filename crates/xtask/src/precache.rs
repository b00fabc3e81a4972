//! Tells the page's service worker which files the build consists of, so that it keeps exactly those.
//!
//! The list stands inside the worker's own file: a browser finds a new version by that file alone, and any other change of
//! the build changes it too.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context as _, Result, bail};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest as _, Sha256};

use crate::size;

/// Which folder's files to list.
#[derive(Debug, clap::Args)]
pub(crate) struct Options {
    /// A folder with a built page.
    folder: PathBuf,
}

/// The worker's file, which is not of the list: a browser asks for it by itself.
const WORKER: &str = "service_worker.js";
/// How the worker's line begins that is written anew.
const LINE: &str = "const [BUILD, FILES] = ";

/// Lists the files of a folder in the worker that lies in it.
pub(crate) fn run(options: &Options) -> Result<()> {
    write_list(&options.folder)
}

/// Writes the list of a page's files into its worker.
pub(crate) fn write_list(page: &Path) -> Result<()> {
    let worker = page.join(WORKER);
    let script = fs::read_to_string(&worker).with_context(|| format!("cannot read {}", worker.display()))?;
    Ok(fs::write(&worker, with_list(&script, &list(page)?)?)?)
}

/// The path of every file of the page as its address has it, with the hash of its content as browsers write it.
fn list(page: &Path) -> Result<BTreeMap<String, String>> {
    let mut list = BTreeMap::new();
    for file in size::files_under(page)? {
        let path = file.strip_prefix(page)?;
        let names: Option<Vec<&str>> = path.iter().map(|name| name.to_str()).collect();
        let path = names.with_context(|| format!("{} has no name for an address", file.display()))?.join("/");
        if path != WORKER {
            list.insert(path, hash(&fs::read(&file)?));
        }
    }
    Ok(list)
}

/// A hash as `fetch` checks it (Subresource Integrity).
fn hash(bytes: &[u8]) -> String {
    format!("sha256-{}", STANDARD.encode(Sha256::digest(bytes)))
}

/// The worker with that list in the place of the one before. A build's name is made from its list, so the same files are the
/// same build.
fn with_list(script: &str, list: &BTreeMap<String, String>) -> Result<String> {
    let pairs: Vec<_> = list.iter().collect();
    let files = serde_json::to_string(&pairs)?;
    let build = serde_json::to_string(&hash(files.as_bytes()))?;
    let mut has_line = false;
    let mut lines: Vec<String> = Vec::new();
    for line in script.lines() {
        if line.starts_with(LINE) {
            has_line = true;
            lines.push(format!("{LINE}[{build}, new Map({files})];"));
        } else {
            lines.push(line.to_owned());
        }
    }
    if !has_line {
        bail!("{WORKER} has no line that begins with {LINE}");
    }
    Ok(lines.join("\n") + "\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    const SCRIPT: &str = "// why\nconst [BUILD, FILES] = [\"\", new Map()];\ngo();\n";

    fn listed(files: &[(&str, &str)]) -> BTreeMap<String, String> {
        files.iter().map(|(path, content)| ((*path).to_owned(), hash(content.as_bytes()))).collect()
    }

    #[test]
    fn a_hash_is_written_as_browsers_check_it() {
        // Of "abc" from FIPS 180-2, B.1: ba7816bf 8f01cfea 414140de 5dae2223 b00361a3 96177a9c b410ff61 f20015ad.
        assert_eq!(hash(b"abc"), "sha256-ungWv48Bz+pBQUDeXa4iI7ADYaOWF3qctBD/YfIAFa0=");
    }

    #[test]
    fn only_the_marked_line_is_written_anew() {
        let written = with_list(SCRIPT, &listed(&[("index.html", "page")])).unwrap();
        let lines: Vec<&str> = written.lines().collect();
        assert_eq!([lines[0], lines[2]], ["// why", "go();"]);
        assert!(
            lines[1].contains(&format!(r#"new Map([["index.html","{}"]])"#, hash(b"page"))),
            "{}",
            lines[1]
        );
    }

    #[test]
    fn the_same_files_give_the_same_worker_and_another_content_another() {
        let once = with_list(SCRIPT, &listed(&[("a.js", "1"), ("b.js", "2")])).unwrap();
        let again = with_list(&once, &listed(&[("b.js", "2"), ("a.js", "1")])).unwrap();
        assert_eq!(once, again);
        assert_ne!(once, with_list(SCRIPT, &listed(&[("a.js", "1"), ("b.js", "3")])).unwrap());
    }

    #[test]
    fn a_worker_without_the_line_is_refused() {
        let refused = with_list("go();\n", &BTreeMap::new()).unwrap_err();
        assert!(refused.to_string().contains("no line"), "{refused}");
    }

    #[test]
    fn every_file_but_the_worker_is_listed() {
        let page = std::env::temp_dir().join(format!("tapemark-precache-{}", std::process::id()));
        fs::create_dir_all(page.join("later/deep")).unwrap();
        for path in ["index.html", "later/deep/a.js", WORKER] {
            fs::write(page.join(path), SCRIPT).unwrap();
        }
        write_list(&page).unwrap();
        let worker = fs::read_to_string(page.join(WORKER)).unwrap();
        let paths: Vec<String> = list(&page).unwrap().into_keys().collect();
        fs::remove_dir_all(&page).unwrap();
        assert_eq!(paths, ["index.html", "later/deep/a.js"]);
        assert!(paths.iter().all(|path| worker.contains(&format!("[\"{path}\",\"sha256-"))), "{worker}");
    }

    #[test]
    fn the_page_s_own_worker_has_the_line() {
        let script = crate::workspace::read(&Path::new("web").join(WORKER)).unwrap();
        with_list(&script, &BTreeMap::new()).unwrap();
    }
}
