//! Builds the page and serves it on this machine.

use std::path::PathBuf;
use std::process::{Command, Stdio};

use anyhow::{Result, bail};

use crate::server::{Mount, Server};
use crate::{build, workspace};

/// How to serve.
#[derive(Debug, clap::Args)]
pub(crate) struct Options {
    /// The port to listen on; the next free one if it is taken, any if 0.
    #[arg(long, default_value_t = 8600)]
    port: u16,
    /// Do not open a browser.
    #[arg(long)]
    no_open: bool,
    /// Serve what was built last.
    #[arg(long)]
    no_build: bool,
    /// How to build the page.
    #[arg(long, default_value = "page")]
    profile: build::Profile,
    /// Serve what lies in a folder instead of the page; for measurements.
    #[arg(long, hide = true)]
    folder: Option<PathBuf>,
}

/// Builds, serves, prints the address and opens it, until stopped.
pub(crate) fn run(options: &Options) -> Result<()> {
    if !options.no_build {
        build::run(options.profile)?;
    }
    let page = options.folder.clone().unwrap_or_else(workspace::page_folder);
    if !page.is_dir() {
        bail!("there is no page in {}: run cargo xtask build first", page.display());
    }
    let mounts =
        vec![Mount { prefix: "", folder: page }, Mount { prefix: "core/", folder: workspace::core_folder() }];
    let server = Server::listen(options.port, mounts)?;
    let address = server.address()?;
    // The browser harness reads the address from the end of this line.
    println!("Tapemark is at {address}");
    if !options.no_open {
        open(&address);
    }
    server.run()
}

/// Opens the address in the person's browser, where there is a screen to show it on.
fn open(address: &str) {
    let opener = if cfg!(target_os = "macos") {
        "open"
    } else if cfg!(windows) {
        "explorer"
    } else if ["DISPLAY", "WAYLAND_DISPLAY"].iter().any(|name| std::env::var_os(name).is_some()) {
        "xdg-open"
    } else {
        return;
    };
    let started = Command::new(opener).arg(address).stdout(Stdio::null()).stderr(Stdio::null()).spawn();
    if started.is_err() {
        println!("Open it in a browser; {opener} is not there to do it");
    }
}
