//! Measures what a person downloads, compressed as a host would compress it, and holds it to a budget.

use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};

use anyhow::{Context as _, Result, bail};

use crate::build::{self, Profile};
use crate::workspace;

/// A sum that must stay small, and how small: a first visit on a phone outdoors should take a second or two.
struct Budget {
    name: &'static str,
    bytes: usize,
    limit: usize,
}

/// Bytes per kilobyte, in the decimal sense that budgets are stated in.
const KILOBYTE: usize = 1000;

/// Builds as people get it, prints the sizes, and fails over budget.
pub(crate) fn run() -> Result<()> {
    build::run(Profile::Page)?;
    check()
}

/// Prints the sizes of what was built last, and fails over budget.
pub(crate) fn check() -> Result<()> {
    let over: Vec<String> = report()?.iter().filter_map(Budget::excess).collect();
    if !over.is_empty() {
        bail!("{}", over.join("; "));
    }
    Ok(())
}

/// Prints the sizes of what was built last.
pub(crate) fn print_report() -> Result<()> {
    report().map(drop)
}

/// Prints every file and the sums, and hands back the sums.
fn report() -> Result<[Budget; 2]> {
    println!("{:>12} {:>12}", "brotli", "bytes");
    let page = compressed_files(&workspace::page_folder())?;
    let core = compressed_files(&workspace::core_folder())?;
    // What opens on a tap, and the Kit screen, comes after the first picture, and what is printed after that; the reader of
    // photos and clips with the first of them, and the sun with the first place that asks for it.
    // What the page needs to be installed on a phone, and to work without a network, is fetched after the later module.
    let installing = ["service_worker.js", "manifest.webmanifest", "icons"];
    let later = [
        "kit",
        "story",
        "light",
        "day",
        "print",
        "recce",
        "marks",
        "learn",
        "frame.html",
        "frame.js",
        "later",
        "files",
        "sun",
    ]
    .into_iter()
    .chain(installing)
    .map(|name| workspace::page_folder().join(name))
    .collect::<Vec<_>>();
    let is_first = |path: &Path| !later.iter().any(|folder| path.starts_with(folder));
    let first_load = page.iter().filter(|(path, _)| is_first(path)).map(|(_, bytes)| bytes).sum();
    let module = core.iter().filter(|(path, _)| is_loaded(path)).map(|(_, bytes)| bytes).sum();
    let budgets = [
        // Of this, what draws the picture takes 80: it is what a person comes for, so it is there at first.
        // Numbers of films are read to the last bit, and that reader is part of it.
        Budget { name: "first load of the page", bytes: first_load, limit: 390 * KILOBYTE },
        Budget { name: "the core as a module", bytes: module, limit: 150 * KILOBYTE },
    ];
    for budget in &budgets {
        println!("{:>12} of at most {} for {}", budget.bytes, budget.limit, budget.name);
    }
    Ok(budgets)
}

impl Budget {
    /// How far over the limit, in words, if it is.
    fn excess(&self) -> Option<String> {
        let over = self.bytes.checked_sub(self.limit).filter(|over| *over > 0)?;
        Some(format!("{} is {over} bytes over its budget of {}", self.name, self.limit))
    }
}

/// Whether a browser loads the file; declarations are for editors.
fn is_loaded(path: &Path) -> bool {
    path.extension().is_some_and(|extension| extension == "wasm" || extension == "js")
}

/// Prints and hands back the compressed size of every file under a folder, in order of name.
pub(crate) fn compressed_files(folder: &Path) -> Result<Vec<(PathBuf, usize)>> {
    let mut sizes = Vec::new();
    for path in files_under(folder)? {
        let bytes = fs::read(&path)?;
        let compressed = compressed_size(&bytes)?;
        let name = path.strip_prefix(workspace::root()).unwrap_or(&path);
        println!("{compressed:>12} {:>12}  {}", bytes.len(), name.display());
        sizes.push((path, compressed));
    }
    Ok(sizes)
}

/// Every file under a folder, in order of name.
pub(crate) fn files_under(folder: &Path) -> Result<Vec<PathBuf>> {
    let mut files = Vec::new();
    let entries = fs::read_dir(folder).with_context(|| format!("{} was not built", folder.display()))?;
    for entry in entries {
        let path = entry?.path();
        if path.is_dir() {
            files.extend(files_under(&path)?);
        } else {
            files.push(path);
        }
    }
    files.sort();
    Ok(files)
}

/// The size at brotli's highest quality, with the window that browsers accept.
pub(crate) fn compressed_size(bytes: &[u8]) -> Result<usize> {
    let mut compressed = Vec::new();
    let mut writer = brotli::CompressorWriter::new(&mut compressed, 1 << 16, 11, 22);
    writer.write_all(bytes)?;
    drop(writer);
    Ok(compressed.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn repetition_compresses_to_almost_nothing() {
        let size = compressed_size(&[b'a'; 10_000]).unwrap();
        assert!((1..100).contains(&size), "{size} bytes");
    }

    #[test]
    fn a_budget_is_met_to_the_byte() {
        let met = Budget { name: "page", bytes: 10, limit: 10 };
        assert_eq!(met.excess(), None);
        let missed = Budget { name: "page", bytes: 11, limit: 10 };
        assert_eq!(missed.excess().as_deref(), Some("page is 1 bytes over its budget of 10"));
    }
}
