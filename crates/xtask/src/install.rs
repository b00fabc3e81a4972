//! Installs what the checks need beside Rust, where it may, and otherwise says in one line what to install.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context as _, Result, bail};

use crate::{process, workspace};

/// Programs from npm, by exact version so that a check means the same every time.
const NODE_PACKAGES: [&str; 2] = ["typescript@5.9.3", "axe-core@4.11.0"];

/// Makes sure that Chromium and its driver are there.
pub(crate) fn browser() -> Result<()> {
    ensure_programs(&["chromium", "chromedriver"], &["chromium", "chromium-driver"])
}

/// Makes sure that the programs from npm are there, and hands back the folder that they lie in.
pub(crate) fn node_packages() -> Result<PathBuf> {
    // The browser harness looks for it here, wherever cargo has been told to build.
    let folder = workspace::root().join("target/tools/node");
    // Written last, so that an installation that was cut off is done again.
    let installed = folder.join("installed.txt");
    let wanted = NODE_PACKAGES.join("\n");
    if fs::read_to_string(&installed).is_ok_and(|found| found == wanted) {
        return Ok(folder);
    }
    ensure_programs(&["node", "npm"], &["nodejs", "npm"])?;
    fs::create_dir_all(&folder)?;
    let mut npm = Command::new("npm");
    npm.args(["install", "--no-audit", "--no-fund", "--no-save", "--ignore-scripts", "--prefix"]);
    npm.arg(&folder).args(NODE_PACKAGES);
    process::run(&mut npm).context("typescript and axe-core cannot be fetched from npm")?;
    fs::write(installed, wanted)?;
    Ok(folder)
}

/// Makes sure that programs can be started, by way of Debian's packages if we may install them.
pub(crate) fn ensure_programs(programs: &[&str], packages: &[&str]) -> Result<()> {
    let missing: Vec<&str> = programs.iter().copied().filter(|program| !process::exists(program)).collect();
    if missing.is_empty() {
        return Ok(());
    }
    if !may_install() {
        bail!(
            "missing {}: install it (on Debian: apt-get install {})",
            missing.join(" and "),
            packages.join(" ")
        );
    }
    println!("Installing {}", packages.join(" and "));
    process::run(apt_get().arg("update"))?;
    process::run(apt_get().args(["install", "--yes", "--no-install-recommends"]).args(packages))
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
