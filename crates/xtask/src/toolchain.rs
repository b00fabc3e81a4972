//! Fetches the parts of the Rust toolchain that a checkout needs.
//!
//! rustup reads `rust-toolchain.toml` and fetches them by itself, except where its automatic installation is turned off
//! or the toolchain was already there without them.

use std::path::Path;
use std::process::Command;

use anyhow::{Context as _, Result};

use crate::process;

/// The target that the page and its modules are built for.
pub(crate) const WASM: &str = "wasm32-unknown-unknown";

/// Makes sure that Rust can compile for the browser.
pub(crate) fn ensure_wasm_target() -> Result<()> {
    let mut rustc = Command::new("rustc");
    rustc.current_dir(crate::workspace::root()).args(["--print", "target-libdir", "--target", WASM]);
    let libraries = process::capture(&mut rustc)?;
    if Path::new(libraries.trim()).is_dir() {
        return Ok(());
    }
    println!("Fetching Rust's libraries for {WASM}");
    rustup(&["target", "add", WASM])
        .with_context(|| format!("Rust cannot compile for {WASM} on this machine"))
}

/// Makes sure that the formatter and the linter are there.
pub(crate) fn ensure_linters() -> Result<()> {
    if process::exists("cargo-clippy") && process::exists("cargo-fmt") {
        return Ok(());
    }
    println!("Fetching clippy and rustfmt");
    rustup(&["component", "add", "clippy", "rustfmt"]).context("clippy and rustfmt are missing")
}

fn rustup(arguments: &[&str]) -> Result<()> {
    process::run(Command::new("rustup").current_dir(crate::workspace::root()).args(arguments))
}
