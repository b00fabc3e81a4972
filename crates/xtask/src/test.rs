//! Runs every check in order, and stops at the first that fails: what CI runs, and what a person runs before a commit.

use std::panic;
use std::path::PathBuf;
use std::process::{Child, Command};
use std::thread::{self, JoinHandle};
use std::time::Instant;

use anyhow::{Context as _, Result};

use crate::build::{self, Profile};
use crate::counts::{Counts, Kind};
use crate::{declarations, fixtures, install, process, size, third_party, tidy, toolchain, workspace};

/// The packages that run in a browser.
const WASM_PACKAGES: [&str; 5] = ["web", "files-reader", "picture-worker", "sun-almanac", "tapemark-core"];

/// All that the program is made of. The tasks are tested by themselves: together, what both stand on would have the features
/// that either asks for, which neither has otherwise, so that it would be compiled once more.
const PROGRAM: [&str; 3] = ["--workspace", "--exclude", "xtask"];

/// Where the property tests begin to draw their cases, so that the same program passes or fails in every run. Who wants other
/// cases sets another one.
const DRAWN_FROM: (&str, &str) = ("PROPTEST_RNG_SEED", "1");

/// One check: its heading, and what it does.
type Check = (&'static str, fn(&mut Run) -> Result<()>);

/// What the checks share.
#[derive(Default)]
struct Run {
    counts: Counts,
    /// What fetches files for the native tests while earlier checks run.
    fetching: Option<JoinHandle<Result<()>>>,
    /// What compiles the page while other checks leave a core idle: its own last minutes are one core's work too.
    compiling: Option<Child>,
}

impl Drop for Run {
    /// A check that failed ends the run, and nobody is to wait for what goes on beside it.
    fn drop(&mut self) {
        if let Some(compiling) = &mut self.compiling {
            // Nothing is left to do about a process that has ended by itself.
            drop(compiling.kill().and_then(|()| compiling.wait()));
        }
    }
}

/// In this order what is quick and fails often comes first, and each reuses what the one before it compiled.
const CHECKS: [Check; 13] = [
    ("what the checks need", prepare),
    ("formatting", |_| process::run(workspace::cargo().args(["fmt", "--all", "--check"]))),
    ("tidy", |_| tidy::run()),
    ("licences and advisories", |_| third_party::run()),
    ("lints", |_| lint()),
    ("documentation", document),
    ("native tests", native_tests),
    ("examples in the documentation", doc_tests),
    ("wasm tests in the browser", wasm_tests),
    ("page, module and their sizes", page),
    ("journeys through the page", journeys),
    ("declarations of the module", |_| declarations::check()),
    ("nothing generated has changed", |_| unchanged()),
];

/// Runs all checks and closes with the counts.
pub(crate) fn run() -> Result<()> {
    let start = Instant::now();
    let mut run = Run::default();
    for (heading, check) in CHECKS {
        println!("\n== {heading}");
        let check_start = Instant::now();
        check(&mut run).with_context(|| format!("{}; stopped at \"{heading}\"", run.counts))?;
        println!("== {heading}: {:.1} s", check_start.elapsed().as_secs_f64());
    }
    println!("\n{} ({:.0} s)", run.counts, start.elapsed().as_secs_f64());
    Ok(())
}

fn prepare(run: &mut Run) -> Result<()> {
    toolchain::ensure_wasm_target()?;
    toolchain::ensure_linters()?;
    install::browser()?;
    install::node_packages()?;
    // It mostly waits for registries, and nothing before the native tests asks for it.
    run.fetching = Some(thread::spawn(|| {
        install::export_readers()?;
        fixtures::fetch_photo_fixtures(&fixture_folder())
    }));
    Ok(())
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
        "checks/browser,checks/journeys",
        "--",
        "-D",
        "warnings",
    ]);
    process::run(&mut clippy)
}

fn document(run: &mut Run) -> Result<()> {
    run.compiling = Some(build::begin(Profile::Page)?);
    let mut doc = workspace::cargo();
    doc.args(["doc", "--workspace", "--no-deps", "--document-private-items", "--features", "checks/browser"]);
    process::run(doc.env("RUSTDOCFLAGS", "-D warnings"))
}

fn native_tests(run: &mut Run) -> Result<()> {
    if let Some(fetching) = run.fetching.take() {
        match fetching.join() {
            Ok(fetched) => fetched?,
            Err(panicked) => panic::resume_unwind(panicked),
        }
    }
    let python = install::export_readers()?;
    for packages in [PROGRAM.as_slice(), &["--package", "xtask"]] {
        let mut tests = workspace::cargo();
        // `--bins` beside it would link programs whose manifests say that they have no tests.
        tests.arg("test").args(packages).arg("--tests");
        // With this set, a test that misses its files fails instead of saying that it was skipped.
        tests.env("TAPEMARK_FIXTURES", fixture_folder());
        tests.env("TAPEMARK_READERS_PYTHON", &python);
        if std::env::var_os(DRAWN_FROM.0).is_none() {
            tests.env(DRAWN_FROM.0, DRAWN_FROM.1);
        }
        process::watch(&mut tests, |line| run.counts.read(Kind::Native, line))?;
    }
    Ok(())
}

fn doc_tests(run: &mut Run) -> Result<()> {
    let mut tests = workspace::cargo();
    tests.arg("test").args(PROGRAM).arg("--doc");
    process::watch(&mut tests, |line| run.counts.read(Kind::Doc, line))
}

fn wasm_tests(run: &mut Run) -> Result<()> {
    let mut tests = workspace::cargo();
    tests.args(["test", "--target", toolchain::WASM, "--lib", "--tests"]);
    for package in WASM_PACKAGES {
        tests.args(["--package", package]);
    }
    // The runner's own 20 seconds are short for a browser's first start on a busy machine.
    tests.env("WASM_BINDGEN_TEST_TIMEOUT", "120");
    process::watch(&mut tests, |line| run.counts.read(Kind::Wasm, line))
}

fn page(run: &mut Run) -> Result<()> {
    if let Some(mut compiling) = run.compiling.take() {
        compiling.wait()?;
    }
    build::run(Profile::Page)?;
    size::check()
}

fn journeys(run: &mut Run) -> Result<()> {
    let mut tests = workspace::cargo();
    // Of the whole program, so that most of what the native tests have compiled serves here too.
    tests.arg("test").args(PROGRAM);
    tests.args(["--features", "checks/journeys", "--test", "sheets", "--test", "journeys"]);
    // Each journey has a browser of its own. On 2 cores one more than those fills the time in which others wait; more of
    // them would only make each other time out.
    tests.args(["--", "--test-threads", "3"]);
    // A journey says what it missed; where in the harness it did is noise.
    tests.env("RUST_LIB_BACKTRACE", "0");
    // Each journey starts a server, and cargo would first look through the whole workspace for what has changed.
    tests.env("TAPEMARK_XTASK", std::env::current_exe()?);
    process::watch(&mut tests, |line| run.counts.read(Kind::Journey, line))
}

/// On CI, where the checkout was clean, whatever a check wrote anew must be what was committed.
fn unchanged() -> Result<()> {
    if std::env::var("CI").is_ok_and(|value| value == "true") {
        process::run(Command::new("git").current_dir(workspace::root()).args(["diff", "--exit-code"]))?;
    }
    Ok(())
}
