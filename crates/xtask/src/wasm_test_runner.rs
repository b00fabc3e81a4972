//! Runs wasm tests: cargo hands each test file to this task, as `.cargo/config.toml` tells it to.

use std::ffi::OsString;

use anyhow::Result;

/// What cargo passes on: the test file, then the person's own arguments.
#[derive(Debug, clap::Args)]
pub(crate) struct Options {
    #[arg(trailing_var_arg = true, allow_hyphen_values = true)]
    arguments: Vec<OsString>,
}

/// Runs the tests of one file in a headless browser, or in Node where they ask for it.
pub(crate) fn run(options: Options) -> Result<()> {
    let program = OsString::from("wasm-bindgen-test-runner");
    wasm_bindgen_cli::wasm_bindgen_test_runner::run_cli_with_args(
        [program].into_iter().chain(options.arguments),
    )
}
