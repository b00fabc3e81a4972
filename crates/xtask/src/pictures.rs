//! Draws the pictures that the README shows.

use anyhow::Result;

use crate::{build, install, process, workspace};

/// Of which page.
#[derive(Debug, clap::Args)]
pub(crate) struct Options {
    /// Draw what was built last.
    #[arg(long)]
    no_build: bool,
}

/// Builds the page as people get it, and has the browser harness draw it into `tests/e2e/pictures`: beside what draws it, and
/// not below `web`, whose files people load.
pub(crate) fn run(options: &Options) -> Result<()> {
    if !options.no_build {
        build::run(build::Profile::Page)?;
    }
    install::browser()?;
    let mut pictures = workspace::cargo();
    pictures.args(["run", "--quiet", "--package", "checks", "--features", "browser", "--bin", "pictures"]);
    process::run(&mut pictures)
}
