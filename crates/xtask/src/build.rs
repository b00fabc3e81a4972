//! Builds what people get: the page into `dist/page`, the core as an ES module into `dist/core`.

use std::ffi::OsString;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};

use anyhow::{Context as _, Result, bail};

use crate::{precache, process, size, thin, toolchain, words, workspace};

/// How to build.
#[derive(Debug, clap::Args)]
pub(crate) struct Options {
    /// How to build the page.
    #[arg(long, default_value = "page")]
    pub(crate) profile: Profile,
}

/// How to compile the page and its modules.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(crate) enum Profile {
    /// Small and fast, as people get it.
    Page,
    /// Compiled quickly, for trying a change.
    Dev,
}

impl Profile {
    fn name(self) -> &'static str {
        match self {
            Self::Page => "page",
            Self::Dev => "dev",
        }
    }

    /// The folder under cargo's target folder, which for `dev` has another name than the profile.
    fn folder(self) -> &'static str {
        match self {
            Self::Page => "page",
            Self::Dev => "debug",
        }
    }
}

/// A wasm module and where its bindings go.
struct Module {
    package: &'static str,
    /// The name of the file that cargo makes.
    file: &'static str,
    folder: PathBuf,
    /// Whether other people's programs call it, and so need its types.
    declarations: bool,
}

fn modules() -> [Module; 7] {
    let page = workspace::page_folder();
    [
        Module { package: "web", file: "web.wasm", folder: page.clone(), declarations: false },
        Module { package: "web", file: "later.wasm", folder: page.join("later"), declarations: false },
        Module { package: "web", file: "lesson.wasm", folder: page.join("lesson"), declarations: false },
        Module {
            package: "files-reader",
            file: "files_reader.wasm",
            folder: page.join("files"),
            declarations: false,
        },
        Module {
            package: "picture-worker",
            file: "picture_worker.wasm",
            folder: page.join("picture"),
            declarations: false,
        },
        Module {
            package: "sun-almanac",
            file: "sun_almanac.wasm",
            folder: page.join("sun"),
            declarations: false,
        },
        Module {
            package: "tapemark-core",
            file: "tapemark_core.wasm",
            folder: workspace::core_folder(),
            declarations: true,
        },
    ]
}

/// Begins to compile what [`run`] builds, beside what else there is to do. It says nothing: `run` still has to be asked, finds
/// most of it done, and tells what went wrong.
pub(crate) fn begin(profile: Profile) -> Result<Child> {
    toolchain::ensure_wasm_target()?;
    let mut cargo = compilation(&modules(), profile)?;
    cargo.stdout(Stdio::null()).stderr(Stdio::null()).spawn().context("cargo cannot be started")
}

/// Builds everything from scratch, as far as cargo finds it necessary.
pub(crate) fn run(profile: Profile) -> Result<()> {
    toolchain::ensure_wasm_target()?;
    let modules = modules();
    process::run(&mut compilation(&modules, profile)?)?;
    // What an earlier build left and this one does not make would be served and counted.
    for folder in [workspace::page_folder(), workspace::core_folder()] {
        if folder.exists() {
            fs::remove_dir_all(&folder)?;
        }
    }
    let compiled = workspace::target_folder()?.join(toolchain::WASM).join(profile.folder());
    for module in &modules {
        bind(module, &compiled)?;
    }
    copy_page_files()?;
    precache::write_list(&workspace::page_folder())
}

/// How cargo compiles all modules in one go, so that they share what they have in common and both cores are busy.
fn compilation(modules: &[Module], profile: Profile) -> Result<Command> {
    let mut cargo = workspace::cargo();
    cargo.args(["build", "--target", toolchain::WASM, "--profile", profile.name()]);
    for module in modules {
        cargo.args(["--package", module.package]);
    }
    if profile == Profile::Page {
        // The places of panics would carry the builder's own folders into every page.
        let flag = format!("--remap-path-prefix={}=crates", workspace::crate_sources()?.display());
        cargo.args(["--config", &format!("target.{}.rustflags=[{flag:?}]", toolchain::WASM)]);
    }
    Ok(cargo)
}

/// Writes the JavaScript that loads a module, and the module without what only a debugger reads.
fn bind(module: &Module, compiled: &Path) -> Result<()> {
    let input = compiled.join(module.file);
    if !input.is_file() {
        bail!(
            "package {} made no {}: it needs a main.rs, or a library of crate-type cdylib",
            module.package,
            module.file
        );
    }
    write_bindings(&input, &module.folder, module.declarations)
        .with_context(|| format!("the bindings of package {} cannot be made", module.package))?;
    let bindings = module.folder.join(module.file).with_extension("js");
    drop_snippets(&module.folder.join("snippets"), &fs::read_to_string(&bindings)?)?;
    // Other people read the bindings of what they call.
    if !module.declarations {
        thin::bindings(&bindings)?;
    }
    Ok(())
}

/// Removes the snippets that a module does not import: bindings come with those of its whole library.
fn drop_snippets(folder: &Path, bindings: &str) -> Result<()> {
    if !folder.is_dir() {
        return Ok(());
    }
    for file in size::files_under(folder)? {
        let name = file.file_name().map(|name| name.to_string_lossy()).unwrap_or_default();
        if !['\'', '"'].iter().any(|quote| bindings.contains(&format!("/{name}{quote}"))) {
            fs::remove_file(&file)?;
        }
    }
    Ok(())
}

/// The same for a module wherever it lies.
pub(crate) fn write_bindings(input: &Path, folder: &Path, declarations: bool) -> Result<()> {
    let mut arguments: Vec<OsString> = vec!["wasm-bindgen".into(), input.into()];
    arguments
        .extend(["--target", "web", "--remove-name-section", "--remove-producers-section"].map(Into::into));
    if !declarations {
        arguments.push("--no-typescript".into());
    }
    arguments.push("--out-dir".into());
    arguments.push(folder.into());
    wasm_bindgen_cli::wasm_bindgen::run_cli_with_args(arguments)
}

/// Puts the hand-written files beside the modules: those that lie in `web/` and `web/files/`, and whole folders of style
/// sheets and icons.
fn copy_page_files() -> Result<()> {
    let source = workspace::root().join("web");
    let page = workspace::page_folder();
    copy_folder(&source, &page, is_page_file)?;
    copy_folder(&source.join("files"), &page.join("files"), is_page_file)?;
    for folder in ["style", "icons", "kit", "story", "light", "day", "print", "recce", "marks", "learn"] {
        copy_folder(&source.join(folder), &page.join(folder), |_| true)?;
        thin::styles(&page.join(folder))?;
    }
    // Each language's texts are fetched by those who read it.
    copy_folder(&workspace::root().join(words::CATALOGUES), &page.join("words"), |_| true)?;
    // The page's policy allows no script inside its HTML, so the one line that starts the module is a file.
    fs::write(page.join("boot.js"), "import init from './web.js';\ninit();\n")?;
    // So it is with a lesson in a frame of somebody's own page.
    fs::write(page.join("frame.js"), "import init from './lesson/lesson.js';\ninit();\n")?;
    // What shows the core as an ES module lies beside it, as it would in somebody's own page.
    copy_folder(&source.join("core"), &workspace::core_folder(), |_| true)?;
    // A worker begins with a script too; what it sends if its module cannot be had is no answer to anything.
    fs::write(
        page.join("picture/worker.js"),
        "import init, { start } from './picture_worker.js';\ninit().then(start).catch(() => postMessage(null));\n",
    )?;
    Ok(())
}

/// Whether a file beside `Cargo.toml` belongs to the page rather than to cargo or to a reader.
fn is_page_file(file: &Path) -> bool {
    file.extension()
        .is_some_and(|extension| ["html", "js", "webmanifest"].iter().any(|known| extension == *known))
}

/// Copies the files of one folder, leaving out its subfolders; a folder that is not there has no files.
pub(crate) fn copy_folder(from: &Path, to: &Path, wanted: impl Fn(&Path) -> bool) -> Result<()> {
    if !from.is_dir() {
        return Ok(());
    }
    fs::create_dir_all(to)?;
    for entry in fs::read_dir(from)? {
        let entry = entry?;
        if entry.file_type()?.is_file() && wanted(&entry.path()) {
            fs::copy(entry.path(), to.join(entry.file_name()))?;
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn page_files_are_what_a_browser_loads() {
        assert!(is_page_file(Path::new("index.html")));
        assert!(is_page_file(Path::new("service_worker.js")));
        assert!(!is_page_file(Path::new("Cargo.toml")));
        assert!(!is_page_file(Path::new("CHANGELOG.md")));
    }
}
