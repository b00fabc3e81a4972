//! Saves pictures of the page, to look at.

use std::path::PathBuf;

use anyhow::Result;

use crate::{build, install, process, workspace};

/// What to show before the picture is taken.
#[derive(Debug, clap::Args)]
pub(crate) struct Options {
    /// A fragment to open, such as '#story'.
    #[arg(long, default_value = "", allow_hyphen_values = true)]
    hash: String,
    /// JavaScript to run in the page before the picture is taken.
    #[arg(long)]
    script: Option<PathBuf>,
    /// What the pictures' names begin with.
    #[arg(long, default_value = "page")]
    name: String,
    /// Show what was built last.
    #[arg(long)]
    no_build: bool,
    /// How to build the page.
    #[arg(long, default_value = "page")]
    profile: build::Profile,
}

/// Builds the page and has the browser harness save it at the width of a phone, a tablet and a laptop.
pub(crate) fn run(options: &Options) -> Result<()> {
    if !options.no_build {
        build::run(options.profile)?;
    }
    install::browser()?;
    let mut shots = workspace::cargo();
    shots.args(["run", "--quiet", "--package", "checks", "--features", "browser", "--bin", "shots", "--"]);
    shots.args(["--name", &options.name, "--hash", &options.hash]);
    if let Some(script) = &options.script {
        // The harness runs at the top of the repository, the person may be elsewhere.
        shots.arg("--script").arg(std::path::absolute(script)?);
    }
    process::run(&mut shots)
}
