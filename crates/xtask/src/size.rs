//! Measures what a person downloads, compressed as a host would compress it, and holds it to a budget.

mod crates;

use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};

use anyhow::{Context as _, Result, bail};

use crate::build::{self, Profile};
use crate::workspace;

/// A sum that must stay small, and how small: a first visit on a phone outdoors should take a second or two.
#[derive(Debug)]
struct Budget {
    name: &'static str,
    bytes: usize,
    limit: usize,
}

/// Bytes per kilobyte, in the decimal sense that budgets are stated in.
const KILOBYTE: usize = 1000;

/// What of the page comes after its first picture: what opens on a tap, what is printed, the reader of photos and clips, the
/// sun, a lesson in a frame, and what is needed to install the page and to work without a network.
const LATER: [&str; 18] = [
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
    "lesson",
    "later",
    "files",
    "sun",
    "service_worker.js",
    "manifest.webmanifest",
    "icons",
    "words",
];

/// Each part of the page by what its paths begin with, and its most kilobytes.
const PARTS: [(&str, &[&str], usize); 9] = [
    ("  the page's own code", &["web", "snippets", "boot.js", "index.html"], 268),
    // What draws the picture is what a person comes for, so it is there at first.
    ("  what draws pictures", &["picture"], 80),
    ("  styles of the first screen", &["style"], 5),
    ("screens and sheets", &["later"], 1520),
    ("a lesson in a frame", &["lesson", "frame.html", "frame.js"], 290),
    ("the reader of photos and clips", &["files"], 110),
    ("the sun", &["sun"], 180),
    ("the words of another language", &["words"], 150),
    ("styles of later screens", &["kit", "story", "light", "day", "print", "recce", "marks", "learn"], 20),
];

/// Builds as people get it, prints the sizes, and fails over budget.
pub(crate) fn run() -> Result<()> {
    build::run(Profile::Page)?;
    check()?;
    crates::print()
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
fn report() -> Result<Vec<Budget>> {
    println!("{:>12} {:>12}", "brotli", "bytes");
    let page = workspace::page_folder();
    let files = compressed_files(&page)?;
    let core = compressed_files(&workspace::core_folder())?;
    let sum = |wanted: &dyn Fn(&Path) -> bool| {
        files.iter().filter(|(path, _)| wanted(path)).map(|(_, bytes)| bytes).sum::<usize>()
    };
    let begins = |path: &Path, names: &[&str]| names.iter().any(|name| is_of(path, &page, name));
    let module = core.iter().filter(|(path, _)| is_loaded(path)).map(|(_, bytes)| bytes).sum();
    let mut budgets = vec![
        Budget {
            name: "first load of the page",
            bytes: sum(&|path| !begins(path, &LATER)),
            limit: 350 * KILOBYTE,
        },
        Budget { name: "the core as a module", bytes: module, limit: 150 * KILOBYTE },
    ];
    budgets.extend(PARTS.iter().map(|(name, names, limit)| Budget {
        name,
        bytes: sum(&|path| begins(path, names)),
        limit: limit * KILOBYTE,
    }));
    for budget in &budgets {
        println!("{:>12} of at most {:>7} for {}", budget.bytes, budget.limit, budget.name);
    }
    Ok(budgets)
}

/// Whether a file of the page is that one, lies in that folder, or is one of the bindings of that name.
fn is_of(file: &Path, page: &Path, name: &str) -> bool {
    let bindings = [format!("{name}.js"), format!("{name}_bg.wasm")];
    file.starts_with(page.join(name)) || bindings.iter().any(|one| file == page.join(one))
}

impl Budget {
    /// How far over the limit, in words, if it is.
    fn excess(&self) -> Option<String> {
        let over = self.bytes.checked_sub(self.limit).filter(|over| *over > 0)?;
        Some(format!("{} is {over} bytes over its budget of {}", self.name.trim(), self.limit))
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
    compressed(bytes).map(|compressed| compressed.len())
}

fn compressed(bytes: &[u8]) -> Result<Vec<u8>> {
    let mut compressed = Vec::new();
    let mut writer = brotli::CompressorWriter::new(&mut compressed, 1 << 16, 11, 22);
    writer.write_all(bytes)?;
    drop(writer);
    Ok(compressed)
}

/// Which folder's files to compress.
#[derive(Debug, clap::Args)]
pub(crate) struct Folder {
    /// A folder with a built page.
    folder: PathBuf,
}

/// Puts beside each file of a folder what a host would send of it.
pub(crate) fn compress(Folder { folder }: &Folder) -> Result<()> {
    for file in files_under(folder)? {
        let mut name = file.clone().into_os_string();
        name.push(".br");
        fs::write(name, compressed(&fs::read(&file)?)?)?;
    }
    Ok(())
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
    fn a_part_has_its_folder_and_its_bindings() {
        let page = Path::new("dist/page");
        let is = |file: &str, name: &str| is_of(&page.join(file), page, name);
        assert!(is("web_bg.wasm", "web") && is("web.js", "web") && is("later/later.js", "later"));
        assert!(!is("website.js", "web") && !is("later/later.js", "web") && !is("learn.js", "lea"));
    }

    #[test]
    fn a_budget_is_met_to_the_byte() {
        let met = Budget { name: "page", bytes: 10, limit: 10 };
        assert_eq!(met.excess(), None);
        let missed = Budget { name: "page", bytes: 11, limit: 10 };
        assert_eq!(missed.excess().as_deref(), Some("page is 1 bytes over its budget of 10"));
    }
}
