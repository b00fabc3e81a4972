//! Runs the benchmarks, which say how fast the core is on this machine; none of them can fail for being slow.

use anyhow::{Result, bail};

use crate::build::{self, Profile};
use crate::{install, process, workspace};

/// How to run the benchmarks.
#[derive(Debug, clap::Args)]
pub(crate) struct Options {
    /// Only those whose name contains this.
    filter: Option<String>,
}

/// Runs every benchmark target of the workspace.
pub(crate) fn run(options: &Options) -> Result<()> {
    let metadata = workspace::metadata()?;
    let mut command = workspace::cargo();
    command.arg("bench");
    let mut found = false;
    for package in &metadata.packages {
        // By name, because plain `cargo bench` would also start the unit tests of every library in bench mode.
        for target in package.targets.iter().filter(|target| target.kind.iter().any(|kind| kind == "bench")) {
            command.args(["--package", &package.name, "--bench", &target.name]);
            found = true;
        }
    }
    if !found {
        bail!("no package has a benchmark");
    }
    if let Some(filter) = &options.filter {
        command.args(["--", filter]);
    }
    process::run(&mut command)?;
    if options.filter.is_none() { drag() } else { Ok(()) }
}

/// Measures a drag in the page as people get it.
fn drag() -> Result<()> {
    build::run(Profile::Page)?;
    install::browser()?;
    let mut drag = workspace::cargo();
    drag.args(["run", "--quiet", "--package", "checks", "--features", "browser", "--bin", "drag_speed"]);
    process::run(&mut drag)
}
