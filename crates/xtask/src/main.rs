//! Every task of the repository, as `cargo xtask TASK`: one file per task, and Rust throughout, so that a checkout needs
//! nothing but a Rust toolchain to be built, served and tested.

#![expect(clippy::print_stdout, clippy::print_stderr, reason = "a task talks to the person who started it")]

mod bench;
mod bless;
mod build;
mod counts;
mod declarations;
mod fixtures;
mod fuzz;
mod install;
mod pictures;
mod precache;
mod process;
mod serve;
mod server;
mod shots;
mod side_by_side;
mod size;
mod test;
mod thin;
mod third_party;
mod tidy;
mod toolchain;
mod wasm_test_runner;
mod words;
mod workspace;

use std::process::ExitCode;

use clap::{Parser, Subcommand};

/// The tasks of the Tapemark repository.
#[derive(Debug, Parser)]
#[command(name = "cargo xtask", bin_name = "cargo xtask")]
struct Tasks {
    #[command(subcommand)]
    task: Task,
}

#[derive(Debug, Subcommand)]
enum Task {
    /// Build the page and serve it on this machine.
    Serve(serve::Options),
    /// Build the page into dist/page and the ES module into dist/core.
    Build(build::Options),
    /// Build, then fail if the page or the module is larger than its budget.
    Size,
    /// Run every check, installing what they need: what CI runs.
    Test,
    /// Check the rules that no compiler checks: layers, sources, file lengths, names.
    Tidy,
    /// Check the licences of what is not ours, and look it up in the database of advisories.
    ThirdParty,
    /// Run the benchmarks and print what they measure.
    Bench(bench::Options),
    /// Try every way in from outside with inputs that learn from what they reach, twenty minutes each.
    Fuzz(fuzz::Options),
    /// Measure our pictures beside those of two general-purpose programs, and print both tables.
    SideBySide(side_by_side::Options),
    /// Write the checked-in generated files anew.
    Bless,
    /// Write the catalogues of what people read anew, with an empty text for each that is missing.
    Words,
    /// Save pictures of the page at three widths into target/screenshots.
    Shots(shots::Options),
    /// Draw the pictures of the README from the page.
    Pictures(pictures::Options),
    /// List a folder's files in the service worker that lies in it; journeys make a next version so.
    #[command(hide = true)]
    Precache(precache::Options),
    /// Put compressed files beside those of a folder, which the server then sends; the measurement of a first visit does so.
    #[command(hide = true)]
    Compress(size::Folder),
    /// Run wasm tests in a browser; cargo calls this by way of .cargo/config.toml.
    #[command(hide = true)]
    WasmTestRunner(wasm_test_runner::Options),
}

fn main() -> ExitCode {
    let outcome = match Tasks::parse().task {
        Task::Serve(options) => serve::run(&options),
        Task::Build(options) => build::run(options.profile).and_then(|()| size::print_report()),
        Task::Size => size::run(),
        Task::Test => test::run(),
        Task::Tidy => tidy::run(),
        Task::ThirdParty => third_party::run(),
        Task::Bench(options) => bench::run(&options),
        Task::Fuzz(options) => fuzz::run(&options),
        Task::SideBySide(options) => side_by_side::run(&options),
        Task::Bless => bless::run(),
        Task::Words => words::run(),
        Task::Shots(options) => shots::run(&options),
        Task::Pictures(options) => pictures::run(&options),
        Task::Precache(options) => precache::run(&options),
        Task::Compress(folder) => size::compress(&folder),
        Task::WasmTestRunner(options) => wasm_test_runner::run(options),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("error: {error:#}");
            ExitCode::FAILURE
        }
    }
}
