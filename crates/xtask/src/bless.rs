//! Writes the checked-in generated files anew, by running the tests that compare them.
//!
//! A test that finds `BLESS` in its environment writes what it would otherwise compare, so that the one who makes a file
//! and the one who checks it cannot differ.

use std::process::Command;

use anyhow::Result;

use crate::{process, workspace};

/// Blesses, then shows what changed, to be read before it is committed.
pub(crate) fn run() -> Result<()> {
    let mut tests = workspace::cargo();
    tests.args(["test", "--workspace", "--lib", "--bins", "--tests"]).env("BLESS", "1");
    process::run(&mut tests)?;
    println!("Files that differ from the last commit:");
    process::run(Command::new("git").current_dir(workspace::root()).args(["status", "--short"]))
}
