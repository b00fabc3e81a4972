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
    // Those of the checks compare with programs that have to be installed: `side_by_side` does.
    for package in metadata.packages.iter().filter(|package| package.name != "checks") {
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
    if options.filter.is_none() { page() } else { Ok(()) }
}

/// Measures a first visit, drags, films, lessons in a frame and pictures in the page as people get it.
fn page() -> Result<()> {
    build::run(Profile::Page)?;
    install::browser()?;
    for binary in ["first_load_speed", "drag_speed", "film_speed", "frame_speed", "picture_speed"] {
        let mut measure = workspace::cargo();
        measure.args(["run", "--quiet", "--package", "checks", "--features", "browser", "--bin", binary]);
        process::run(&mut measure)?;
    }
    Ok(())
}
