//! Runs every check in order, and stops at the first that fails: what CI runs, and what a person runs before a commit.

use std::path::PathBuf;
use std::process::Command;
use std::time::Instant;

use anyhow::{Context as _, Result};

use crate::build::{self, Profile};
use crate::counts::{Counts, Kind};
use crate::{declarations, fixtures, install, process, size, third_party, tidy, toolchain, workspace};

/// The packages that run in a browser.
const WASM_PACKAGES: [&str; 5] = ["web", "files-reader", "picture-worker", "sun-almanac", "tapemark-core"];

/// One check: its heading, and what it does. A check may count tests.
type Check = (&'static str, fn(&mut Counts) -> Result<()>);

/// In this order what is quick and fails often comes first, and each reuses what the one before it compiled.
const CHECKS: [Check; 13] = [
    ("what the checks need", |_| prepare()),
    ("formatting", |_| process::run(workspace::cargo().args(["fmt", "--all", "--check"]))),
    ("tidy", |_| tidy::run()),
    ("licences and advisories", |_| third_party::run()),
    ("lints", |_| lint()),
    ("documentation", |_| document()),
    ("native tests", native_tests),
    ("examples in the documentation", doc_tests),
    ("wasm tests in the browser", wasm_tests),
    ("page, module and their sizes", |_| build::run(Profile::Page).and_then(|()| size::check())),
    ("journeys through the page", journeys),
    ("declarations of the module", |_| declarations::check()),
    ("nothing generated has changed", |_| unchanged()),
];

/// Runs all checks and closes with the counts.
pub(crate) fn run() -> Result<()> {
    let start = Instant::now();
    let mut counts = Counts::default();
    for (heading, check) in CHECKS {
        println!("\n== {heading}");
        let check_start = Instant::now();
        check(&mut counts).with_context(|| format!("{counts}; stopped at \"{heading}\""))?;
        println!("== {heading}: {:.1} s", check_start.elapsed().as_secs_f64());
    }
    println!("\n{counts} ({:.0} s)", start.elapsed().as_secs_f64());
    Ok(())
}

fn prepare() -> Result<()> {
    toolchain::ensure_wasm_target()?;
    toolchain::ensure_linters()?;
    install::browser()?;
    install::node_packages()?;
    install::export_readers()?;
    fixtures::fetch_photo_fixtures(&fixture_folder())
}

/// Where files lie that tests read and that are not ours to keep in the repository.
fn fixture_folder() -> PathBuf {
    workspace::root().join("target/fixtures")
}

/// Natively alone: but for a few tests all code is the same for the browser, and to lint it there compiles everything once
/// more.
fn lint() -> Result<()> {
    let mut clippy = workspace::cargo();
    clippy.args([
        "clippy",
        "--workspace",
        "--all-targets",
        "--features",
        "checks/browser",
        "--",
        "-D",
        "warnings",
    ]);
    process::run(&mut clippy)
}

fn document() -> Result<()> {
    let mut doc = workspace::cargo();
    doc.args(["doc", "--workspace", "--no-deps", "--document-private-items", "--features", "checks/browser"]);
    process::run(doc.env("RUSTDOCFLAGS", "-D warnings"))
}

fn native_tests(counts: &mut Counts) -> Result<()> {
    let mut tests = workspace::cargo();
    tests.args(["test", "--workspace", "--lib", "--bins", "--tests"]);
    // With this set, a test that misses its files fails instead of saying that it was skipped.
    tests.env("TAPEMARK_FIXTURES", fixture_folder());
    tests.env("TAPEMARK_READERS_PYTHON", install::export_readers()?);
    process::watch(&mut tests, |line| counts.read(Kind::Native, line))
}

fn doc_tests(counts: &mut Counts) -> Result<()> {
    let mut tests = workspace::cargo();
    tests.args(["test", "--workspace", "--doc"]);
    process::watch(&mut tests, |line| counts.read(Kind::Doc, line))
}

fn wasm_tests(counts: &mut Counts) -> Result<()> {
    let mut tests = workspace::cargo();
    tests.args(["test", "--target", toolchain::WASM, "--lib", "--tests"]);
    for package in WASM_PACKAGES {
        tests.args(["--package", package]);
    }
    // The runner's own 20 seconds are short for a browser's first start on a busy machine.
    tests.env("WASM_BINDGEN_TEST_TIMEOUT", "120");
    process::watch(&mut tests, |line| counts.read(Kind::Wasm, line))
}

fn journeys(counts: &mut Counts) -> Result<()> {
    let mut tests = workspace::cargo();
    tests.args([
        "test",
        "--package",
        "checks",
        "--features",
        "browser",
        "--test",
        "sheets",
        "--test",
        "journeys",
    ]);
    // Each journey has a browser of its own. On 2 cores one more than those fills the time in which others wait; more of
    // them would only make each other time out.
    tests.args(["--", "--test-threads", "3"]);
    // A journey says what it missed; where in the harness it did is noise.
    tests.env("RUST_LIB_BACKTRACE", "0");
    process::watch(&mut tests, |line| counts.read(Kind::Journey, line))
}

/// On CI, where the checkout was clean, whatever a check wrote anew must be what was committed.
fn unchanged() -> Result<()> {
    if std::env::var("CI").is_ok_and(|value| value == "true") {
        process::run(Command::new("git").current_dir(workspace::root()).args(["diff", "--exit-code"]))?;
    }
    Ok(())
}
