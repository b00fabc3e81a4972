//! Installs what the checks need beside Rust, where it may, and otherwise says in one line what to install.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context as _, Result, bail};

use crate::{process, workspace};

/// Programs from npm, by exact version so that a check means the same every time.
const NODE_PACKAGES: [&str; 2] = ["typescript@5.9.3", "axe-core@4.11.0"];
/// A general-purpose 3D library, and what makes one small file of it.
const SIDE_BY_SIDE_PACKAGES: [&str; 2] = ["three@0.187.0", "esbuild@0.28.2"];
/// The renderer of `tests/reference/scripts/picture.py`, as its head says.
const PYTHON_PACKAGES: [&str; 3] = ["mitsuba==3.9.1", "numpy==2.4.6", "pillow==13.0.0"];

/// Makes sure that Chromium and its driver are there.
pub(crate) fn browser() -> Result<()> {
    ensure_programs(&[("chromium", &["chromium"]), ("chromedriver", &["chromium-driver"])])
}

/// Makes sure that the programs from npm are there, and hands back the folder that they lie in.
pub(crate) fn node_packages() -> Result<PathBuf> {
    // The browser harness looks for it here, wherever cargo has been told to build.
    from_npm("node", &NODE_PACKAGES)
}

/// The same for what pictures are measured beside.
pub(crate) fn side_by_side_packages() -> Result<PathBuf> {
    from_npm("side-by-side", &SIDE_BY_SIDE_PACKAGES)
}

fn from_npm(name: &str, packages: &[&str]) -> Result<PathBuf> {
    let folder = workspace::root().join("target/tools").join(name);
    // Written last, so that an installation that was cut off is done again.
    let installed = folder.join("installed.txt");
    let wanted = packages.join("\n");
    if fs::read_to_string(&installed).is_ok_and(|found| found == wanted) {
        return Ok(folder);
    }
    ensure_programs(&[("node", &["nodejs"]), ("npm", &["npm"])])?;
    fs::create_dir_all(&folder)?;
    let mut npm = Command::new("npm");
    npm.args(["install", "--no-audit", "--no-fund", "--no-save", "--ignore-scripts", "--prefix"]);
    npm.arg(&folder).args(packages);
    process::run(&mut npm)
        .with_context(|| format!("{} cannot be fetched from npm", packages.join(" and ")))?;
    fs::write(installed, wanted)?;
    Ok(folder)
}

/// What reads handed-over files: the libraries of `tests/reference/scripts/exports.py`, as its head says.
const READER_PACKAGES: [&str; 3] = ["opentimelineio==0.18.1", "icalendar==7.3.2", "asc-fdl==1.0.2"];

/// The outside renderer's Python, and the library that it compiles with.
#[derive(Debug)]
pub(crate) struct OutsideRenderer {
    pub(crate) python: PathBuf,
    /// None if the person has named one.
    pub(crate) llvm: Option<PathBuf>,
}

/// The variable that names the library that the renderer compiles with.
pub(crate) const LLVM_VARIABLE: &str = "DRJIT_LIBLLVM_PATH";

/// Makes sure that the outside renderer can be run.
pub(crate) fn outside_renderer() -> Result<OutsideRenderer> {
    let python = from_pypi("renderer", &PYTHON_PACKAGES)?;
    Ok(OutsideRenderer { python, llvm: llvm()? })
}

/// Makes sure that the Python that reads handed-over files is there.
pub(crate) fn export_readers() -> Result<PathBuf> {
    // The checks look for it here, wherever cargo has been told to build.
    from_pypi("readers", &READER_PACKAGES)
}

/// The Python of a folder that has these packages.
fn from_pypi(name: &str, packages: &[&str]) -> Result<PathBuf> {
    let folder = workspace::root().join("target/tools").join(name);
    let python = folder.join("bin/python");
    // Written last, so that an installation that was cut off is done again.
    let installed = folder.join("installed.txt");
    let wanted = packages.join("\n");
    if fs::read_to_string(&installed).is_ok_and(|found| found == wanted) {
        return Ok(python);
    }
    ensure_programs(&[("python3", &["python3", "python3-venv"])])?;
    process::run(Command::new("python3").args(["-m", "venv", "--clear"]).arg(&folder))
        .context("Python has no venv: install it (on Debian: apt-get install python3-venv)")?;
    let mut pip = Command::new(&python);
    pip.args(["-m", "pip", "install", "--quiet", "--disable-pip-version-check"]).args(packages);
    process::run(&mut pip)
        .with_context(|| format!("{} cannot be fetched from PyPI", packages.join(" and ")))?;
    fs::write(installed, wanted)?;
    Ok(python)
}

/// The library that the renderer compiles with, newer than the one that Debian 12 calls usual.
fn llvm() -> Result<Option<PathBuf>> {
    if std::env::var_os(LLVM_VARIABLE).is_some() {
        return Ok(None);
    }
    if let Some(library) = find_llvm() {
        return Ok(Some(library));
    }
    if !may_install() {
        bail!(
            "missing LLVM 19: install it (on Debian: apt-get install libllvm19), or name its library in {LLVM_VARIABLE}"
        );
    }
    println!("Installing libllvm19");
    process::run(apt_get().arg("update"))?;
    process::run(apt_get().args(["install", "--yes", "--no-install-recommends", "libllvm19"]))?;
    find_llvm().context("libllvm19 was installed, but its library is not in /usr/lib").map(Some)
}

fn find_llvm() -> Option<PathBuf> {
    let folders = fs::read_dir("/usr/lib").ok()?.filter_map(|entry| Some(entry.ok()?.path()));
    folders.map(|folder| folder.join("libLLVM.so.19.1")).find(|library| library.is_file())
}

/// Makes sure that programs can be started, by way of Debian's packages if we may install them.
///
/// Only the packages of what is missing: those of a program that came from elsewhere may not go beside it.
pub(crate) fn ensure_programs(programs: &[(&str, &[&str])]) -> Result<()> {
    let missing = || programs.iter().filter(|(program, _)| !process::exists(program));
    let packages: Vec<&str> = missing().flat_map(|(_, packages)| packages.iter().copied()).collect();
    if packages.is_empty() {
        return Ok(());
    }
    let missing: Vec<&str> = missing().map(|(program, _)| *program).collect();
    if !may_install() {
        bail!(
            "missing {}: install it (on Debian: apt-get install {})",
            missing.join(" and "),
            packages.join(" ")
        );
    }
    println!("Installing {}", packages.join(" and "));
    process::run(apt_get().arg("update"))?;
    process::run(apt_get().args(["install", "--yes", "--no-install-recommends"]).args(&packages))
}

fn apt_get() -> Command {
    let mut command = Command::new("apt-get");
    command.env("DEBIAN_FRONTEND", "noninteractive").arg("--quiet");
    command
}

/// Whether this is a Debian and we are its root.
fn may_install() -> bool {
    let debian = Path::new("/etc/debian_version").exists();
    debian && process::capture(Command::new("id").arg("-u")).is_ok_and(|user| user.trim() == "0")
}
