//! Where things lie in the repository, and what cargo and git know about it.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context as _, Result};
use serde::Deserialize;

use crate::process;

/// The top of the repository.
pub(crate) fn root() -> &'static Path {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.ancestors().nth(2).unwrap_or(here)
}

/// Where cargo puts what it builds, wherever the person has moved it.
pub(crate) fn target_folder() -> Result<PathBuf> {
    Ok(metadata()?.target_directory)
}

/// Where cargo keeps the sources of other people's crates.
pub(crate) fn crate_sources() -> Result<PathBuf> {
    let home = std::env::var_os("CARGO_HOME").map(PathBuf::from);
    let home = home.or_else(|| Some(std::env::home_dir()?.join(".cargo")));
    Ok(home.context("this user has no home folder, so cargo has none")?.join("registry/src"))
}

/// What `cargo xtask build` makes: the page.
pub(crate) fn page_folder() -> PathBuf {
    root().join("dist/page")
}

/// What `cargo xtask build` makes: the ES module for other people's pages.
pub(crate) fn core_folder() -> PathBuf {
    root().join("dist/core")
}

/// The cargo that started this task, run at the top of the repository.
pub(crate) fn cargo() -> Command {
    let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    let mut command = Command::new(cargo);
    command.current_dir(root());
    command
}

/// The part of `cargo metadata` that the tasks read.
#[derive(Debug, Deserialize)]
pub(crate) struct Metadata {
    pub(crate) packages: Vec<Package>,
    pub(crate) target_directory: PathBuf,
}

/// A package of this workspace.
#[derive(Debug, Deserialize)]
pub(crate) struct Package {
    pub(crate) name: String,
    pub(crate) dependencies: Vec<Dependency>,
    pub(crate) targets: Vec<Target>,
}

/// One line of a package's dependency tables.
#[derive(Debug, Deserialize)]
pub(crate) struct Dependency {
    pub(crate) name: String,
    /// Nothing for an ordinary dependency, else `dev` or `build`.
    pub(crate) kind: Option<String>,
    /// Present where the dependency is a package of this workspace.
    pub(crate) path: Option<PathBuf>,
}

/// A thing that cargo builds from a package: a library, a program, a test, a benchmark.
#[derive(Debug, Deserialize)]
pub(crate) struct Target {
    pub(crate) name: String,
    pub(crate) kind: Vec<String>,
    /// The features of its package without which it is not built.
    #[serde(default, rename = "required-features")]
    pub(crate) required_features: Vec<String>,
}

/// What cargo knows about the packages of this workspace.
pub(crate) fn metadata() -> Result<Metadata> {
    let mut command = cargo();
    command.args(["metadata", "--no-deps", "--format-version", "1"]);
    let json = process::capture(&mut command)?;
    serde_json::from_str(&json).context("cargo metadata answered in a form that this task does not know")
}

/// Which files to list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Files {
    /// Those that git tracks.
    Tracked,
    /// Those, and new ones that git does not ignore: what the next commit may hold.
    TrackedAndNew,
}

/// The repository's files, relative to its top, without those that were deleted and not yet committed.
pub(crate) fn files(which: Files) -> Result<Vec<PathBuf>> {
    let mut command = Command::new("git");
    command.current_dir(root()).args(["ls-files", "-z", "--cached"]);
    if which == Files::TrackedAndNew {
        command.args(["--others", "--exclude-standard"]);
    }
    let names = process::capture(&mut command)?;
    let listed = names.split('\0').filter(|name| !name.is_empty()).map(PathBuf::from);
    Ok(listed.filter(|file| root().join(file).is_file()).collect())
}

/// The text of a file given relative to the top.
pub(crate) fn read(file: &Path) -> Result<String> {
    fs::read_to_string(root().join(file)).with_context(|| format!("cannot read {}", file.display()))
}
