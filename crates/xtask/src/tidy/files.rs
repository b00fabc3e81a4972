//! What files may be called, where they may lie, how long they may be and how they begin.

use std::collections::BTreeSet;
use std::path::Path;

use anyhow::Result;

use crate::workspace::{self, Files};

/// The names that may stand at the top, beside those that begin with a dot or `LICENSE-`.
const TOP_LEVEL: [&str; 9] = [
    "Cargo.lock",
    "Cargo.toml",
    "DEVELOPERS.md",
    "README.md",
    "crates",
    "presets",
    "rust-toolchain.toml",
    "tests",
    "web",
];

/// Longer than this, a file holds more than one concept.
const MOST_LINES: usize = 600;

pub(super) fn breaches() -> Result<Vec<String>> {
    let mut breaches = top_level_breaches(&workspace::files(Files::Tracked)?);
    for file in workspace::files(Files::TrackedAndNew)? {
        if file.extension().is_some_and(|extension| extension == "rs") {
            breaches.extend(rust_breaches(&file, &workspace::read(&file)?));
        }
    }
    Ok(breaches)
}

fn top_level_breaches(files: &[impl AsRef<Path>]) -> Vec<String> {
    let names: BTreeSet<_> = files.iter().filter_map(|file| file.as_ref().iter().next()?.to_str()).collect();
    let strange = names
        .into_iter()
        .filter(|name| !(name.starts_with('.') || name.starts_with("LICENSE-") || TOP_LEVEL.contains(name)));
    strange.map(|name| format!("{name} does not belong at the top of the repository")).collect()
}

fn rust_breaches(file: &Path, code: &str) -> Vec<String> {
    let mut breaches = Vec::new();
    let name = file.display();
    let lines = code.lines().count();
    if lines > MOST_LINES {
        breaches.push(format!("{name} has {lines} lines: split it by concept at {MOST_LINES}"));
    }
    if !code.starts_with("//!") {
        breaches.push(format!("{name} must begin with //! and what the file is for"));
    }
    if file.ends_with("mod.rs") {
        breaches.push(format!("{name} must be named after its module and lie beside the module's folder"));
    }
    breaches
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strange_names_at_the_top_are_found_once() {
        let files = ["README.md", ".ci/run", "LICENSE-MIT", "crates/a/b.rs", "notes/a.md", "notes/b.md"];
        assert_eq!(top_level_breaches(&files), ["notes does not belong at the top of the repository"]);
    }

    #[test]
    fn files_begin_with_docs_and_stay_short() {
        assert_eq!(rust_breaches(Path::new("a.rs"), "//! Docs.\n"), Vec::<String>::new());
        assert_eq!(rust_breaches(Path::new("a.rs"), "use b;\n").len(), 1);
        assert_eq!(rust_breaches(Path::new("a.rs"), &format!("//! Docs.\n{}", "\n".repeat(600))).len(), 1);
        assert_eq!(rust_breaches(Path::new("a/mod.rs"), "//! Docs.\n").len(), 1);
    }
}
