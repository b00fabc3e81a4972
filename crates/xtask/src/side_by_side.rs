//! Measures our pictures beside those of two general-purpose programs on the same scenes: natively a physically based
//! renderer, in the browser a 3D library with its depth-of-field pass. Nothing of either goes into what people get, and
//! nothing here can fail for being slow.

use std::fs;
use std::path::PathBuf;
use std::process::Command;

use anyhow::{Context as _, Result};

use crate::build::{self, Profile};
use crate::{bench, install, process, size, toolchain, workspace};

/// What to measure.
#[derive(Debug, clap::Args)]
pub(crate) struct Options {
    /// Only scenes whose name contains one of these words.
    words: Vec<String>,
    /// Only this table.
    #[arg(long)]
    table: Option<Table>,
    /// Count the bytes of the page that was built last.
    #[arg(long)]
    no_build: bool,
}

/// One of the two tables.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum Table {
    /// Time to equal error beside the physically based renderer.
    Native,
    /// Likeness, time and bytes beside the 3D library.
    Browser,
}

/// Where the helper page and its scripts are written.
const HELPERS: &str = "tests/side_by_side/page";

/// Installs what is compared with, and prints both tables.
pub(crate) fn run(options: &Options) -> Result<()> {
    let renderer = install::outside_renderer()?;
    let measure = |name: &str, how: &[&str]| {
        println!("\n{}", bench::load());
        let mut command = workspace::cargo();
        command.args(["bench", "--quiet", "--package", "checks", "--bench", name]).args(how);
        command.arg("--").args(&options.words);
        command.env("TAPEMARK_RENDERER_PYTHON", &renderer.python);
        if let Some(library) = &renderer.llvm {
            command.env(install::LLVM_VARIABLE, library);
        }
        process::run(&mut command)
    };
    if options.table != Some(Table::Browser) {
        measure("native_side_by_side", &[])?;
    }
    if options.table != Some(Table::Native) {
        install::browser()?;
        if !options.no_build {
            build::run(Profile::Page)?;
        }
        make_page()?;
        // Its own speed does not matter, and a release build of all that drives a browser takes minutes.
        measure("browser_side_by_side", &["--features", "browser", "--profile", "dev"])?;
        print_bytes()?;
    }
    Ok(())
}

/// Where the page lies on which both draw; the measuring program looks for it here.
fn page_folder() -> PathBuf {
    workspace::root().join("target/side-by-side/page")
}

/// Makes the page on which both draw.
fn make_page() -> Result<()> {
    let page = page_folder();
    if page.exists() {
        fs::remove_dir_all(&page)?;
    }
    fs::create_dir_all(&page)?;
    let helpers = workspace::root().join(HELPERS);
    build::copy_folder(&helpers, &page, |file| !file.ends_with("theirs.js"))?;
    let mut cargo = workspace::cargo();
    cargo.args(["build", "--package", "picture-worker", "--example", "scene_drawer"]);
    process::run(cargo.args(["--target", toolchain::WASM, "--profile", "page"]))?;
    let drawer = workspace::target_folder()?.join(toolchain::WASM).join("page/examples/scene_drawer.wasm");
    build::write_bindings(&drawer, &page.join("drawer"), false)
        .context("the bindings of what draws scenes cannot be made")?;
    let node = install::side_by_side_packages()?;
    // One file without what is not used: the fewest bytes that a page could load.
    let mut bundle = Command::new(node.join("node_modules/.bin/esbuild"));
    bundle.arg(helpers.join("theirs.js")).args([
        "--bundle",
        "--format=esm",
        "--minify",
        "--log-level=warning",
    ]);
    bundle.arg(format!("--outfile={}", page.join("theirs.js").display()));
    process::run(bundle.env("NODE_PATH", node.join("node_modules")))
}

/// Prints what a page has to load for each.
fn print_bytes() -> Result<()> {
    let ours = size::compressed_files(&workspace::page_folder().join("picture"))?;
    let theirs = size::compressed_size(&fs::read(page_folder().join("theirs.js"))?)?;
    let ours: usize = ours.iter().map(|(_, bytes)| bytes).sum();
    println!(
        "Bytes to load, brotli 11: ours {ours} (dist/page/picture); theirs {theirs} (the parts of the library that are used and the \
         script of the scene, one file)"
    );
    Ok(())
}
